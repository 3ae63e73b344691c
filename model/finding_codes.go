package model

// All kinds of findings, by name.
var (
	AliasUsed = define(FindingKind{
		Code: "alias-used", Severity: Error,
		Means: "an anchor, alias or merge key of YAML, which this language has not",
	})

	AmbiguousCircuit = define(FindingKind{
		Code: "ambiguous-circuit", Severity: Error,
		Means: "a function names a circuit that several other loops have",
	})

	BadConductor = define(FindingKind{
		Code: "bad-conductor", Severity: Error,
		Means: "the size of a conductor cannot be read",
	})

	BadDate = define(FindingKind{
		Code: "bad-date", Severity: Error,
		Means: "no day of the calendar",
	})

	BadFeed = define(FindingKind{
		Code: "bad-feed", Severity: Error,
		Means: "a feed does not name the two terminals that it joins",
	})

	BadNumber = define(FindingKind{
		Code: "bad-number", Severity: Error,
		Means: "no number can be read, or not in plain digits",
	})

	BadOrder = define(FindingKind{
		Code: "bad-order", Severity: Error,
		Means: "values that have to rise do not",
	})

	BadRange = define(FindingKind{
		Code: "bad-range", Severity: Error,
		Means: "no range can be read",
	})

	BadSyntax = define(FindingKind{
		Code: "bad-syntax", Severity: Error,
		Means: "the text is not YAML",
	})

	BadTag = define(FindingKind{
		Code: "bad-tag", Severity: Error,
		Means: "a tag holds a sign that parts the words of a walk",
	})

	BadTerminals = define(FindingKind{
		Code: "bad-terminals", Severity: Error,
		Means: "a span of terminals cannot be counted",
	})

	BrokenLane = define(FindingKind{
		Code: "broken-lane", Severity: Error,
		Means: "a lane goes on after it was cut back",
	})

	BypassedBarrier = define(FindingKind{
		Code: "bypassed-barrier", Severity: Error,
		Means: "a lane of an intrinsically safe circuit passes its barrier",
	})

	ByteOrderMark = define(FindingKind{
		Code: "byte-order-mark", Severity: Error,
		Means: "an invisible mark inside a file; at its start it does no harm",
	})

	ChangedAlloy = define(FindingKind{
		Code: "changed-alloy", Severity: Error,
		Means: "a run between a thermocouple and its card is of another metal",
	})

	ChangedColours = define(FindingKind{
		Code: "changed-colours", Severity: Warning,
		Means: "runs of one thermocouple have the colours of two standards",
	})

	ChannelMissing = define(FindingKind{
		Code: "channel-missing", Severity: Error,
		Means: "a walk names a card and no channel",
	})

	ChannelUsedTwice = define(FindingKind{
		Code: "channel-used-twice", Severity: Error,
		Means: "two circuits land on one channel",
	})

	ClassLost = define(FindingKind{
		Code: "class-lost", Severity: Warning,
		Means: "a class of accuracy that the wires of a sensor do not keep",
	})

	CodeShort = define(FindingKind{
		Code: "code-short", Severity: Error,
		Means: "a colour code has fewer groups than the cable",
	})

	ColoursMismatch = define(FindingKind{
		Code: "colours-mismatch", Severity: Error,
		Means: "there are not as many colours as cores",
	})

	ComplexKey = define(FindingKind{
		Code: "complex-key", Severity: Error,
		Means: "a key is a list or a block",
	})

	ConductorTooBig = define(FindingKind{
		Code: "conductor-too-big", Severity: Error,
		Means: "a terminal does not take the conductor that lands on it",
	})

	ConfusableTags = define(FindingKind{
		Code: "confusable-tags", Severity: Warning,
		Means: "two tags are told apart by I and 1, or O and 0, alone",
	})

	ControlCharacter = define(FindingKind{
		Code: "control-character", Severity: Error,
		Means: "an invisible character",
	})

	CoreCount = define(FindingKind{
		Code: "core-count", Severity: Error,
		Means: "a cable type has to say once how many cores it has",
	})

	CoreNotLanded = define(FindingKind{
		Code: "core-not-landed", Severity: Error,
		Means: "a core of a cable passes by a station",
	})

	CoreUsedTwice = define(FindingKind{
		Code: "core-used-twice", Severity: Error,
		Means: "two circuits, or one and the spares, use one core",
	})

	CoresOver = define(FindingKind{
		Code: "cores-over", Severity: Error,
		Means: "a run names more cores than there are lanes",
	})

	CoresShort = define(FindingKind{
		Code: "cores-short", Severity: Error,
		Means: "a run has fewer cores than there are lanes",
	})

	CrossedLeads = define(FindingKind{
		Code: "crossed-leads", Severity: Error,
		Means: "a lead of a supply or an output arrives at the terminal of another",
	})

	CrossedPolarity = define(FindingKind{
		Code: "crossed-polarity", Severity: Warning,
		Means: "a lane is crossed, and crossed back further on",
	})

	DeepNesting = define(FindingKind{
		Code: "deep-nesting", Severity: Error,
		Means: "lists and blocks nest deeper than any plant",
	})

	DroppedScreen = define(FindingKind{
		Code: "dropped-screen", Severity: Error, Milder: "where the text lands or cuts back each side on purpose",
		Means: "a screen is not carried through a box",
	})

	EarthedTwice = define(FindingKind{
		Code: "earthed-twice", Severity: Error, Milder: "where no intrinsically safe circuit is earthed in the field",
		Means: "circuits that hang together by copper are on earth at two places",
	})

	EmptyCircuit = define(FindingKind{
		Code: "empty-circuit", Severity: Error,
		Means: "a walk without a station",
	})

	EmptyFile = define(FindingKind{
		Code: "empty-file", Severity: Warning,
		Means: "a file without a key",
	})

	EmptyKey = define(FindingKind{
		Code: "empty-key", Severity: Error,
		Means: "a key without a letter",
	})

	EmptyLoop = define(FindingKind{
		Code: "empty-loop", Severity: Warning,
		Means: "a loop without devices and circuits",
	})

	EmptyRange = define(FindingKind{
		Code: "empty-range", Severity: Error,
		Means: "a range begins and ends at one value",
	})

	EmptyStep = define(FindingKind{
		Code: "empty-step", Severity: Error,
		Means: "a step of a walk without a word",
	})

	ExceededEntity = define(FindingKind{
		Code: "exceeded-entity", Severity: Error,
		Means: "the safety values of an intrinsically safe circuit do not fit each other",
	})

	FewSparePairs = define(FindingKind{
		Code: "few-spare-pairs", Severity: Warning,
		Means: "a home run has fewer spare pairs than the practice asks",
	})

	FewSpareTerminals = define(FindingKind{
		Code: "few-spare-terminals", Severity: Warning,
		Means: "a strip has fewer spare terminals than the practice asks",
	})

	ForeignEncoding = define(FindingKind{
		Code: "foreign-encoding", Severity: Error,
		Means: "the file is not UTF-8",
	})

	FuseInrush = define(FindingKind{
		Code: "fuse-inrush", Severity: Warning,
		Means: "a fuse that may not stand the inrush of the coils behind it",
	})

	GivenTwice = define(FindingKind{
		Code: "given-twice", Severity: Error,
		Means: "two files give what only one may",
	})

	GroupMismatch = define(FindingKind{
		Code: "group-mismatch", Severity: Error,
		Means: "a run names pairs of a cable laid up in triads, or the like",
	})

	HashEatsValue = define(FindingKind{
		Code: "hash-eats-value", Severity: Warning,
		Means: "a # cuts a value short",
	})

	HeldIn = define(FindingKind{
		Code: "held-in", Severity: Warning,
		Means: "the capacitance of a cable may hold a coil in when its contact opens",
	})

	HeldOn = define(FindingKind{
		Code: "held-on", Severity: Warning,
		Means: "the capacitance of a cable may turn an input on whose contact is open",
	})

	JoinedCircuits = define(FindingKind{
		Code: "joined-circuits", Severity: Error,
		Means: "a jumper joins two circuits, or two lanes of one",
	})

	JoinedSupplies = define(FindingKind{
		Code: "joined-supplies", Severity: Error,
		Means: "a terminal or a lane is on two supplies, or on both poles of one",
	})

	KeyTwice = define(FindingKind{
		Code: "key-twice", Severity: Error,
		Means: "a block has a key twice",
	})

	LabelTooSmall = define(FindingKind{
		Code: "label-too-small", Severity: Error,
		Means: "a label that its text or code does not fit",
	})

	LaneTwice = define(FindingKind{
		Code: "lane-twice", Severity: Error,
		Means: "a lane has two walks of its own",
	})

	LeadError = define(FindingKind{
		Code: "lead-error", Severity: Warning,
		Means: "leads that add more to a sensor than its class allows",
	})

	LongLeads = define(FindingKind{
		Code: "long-leads", Severity: Error,
		Means: "leads of more ohms than the card measures through",
	})

	LongLine = define(FindingKind{
		Code: "long-line", Severity: Error,
		Means: "the line of a proximity switch has more ohms than its input allows",
	})

	LongName = define(FindingKind{
		Code: "long-name", Severity: Error,
		Means: "a name is too long for a file to be called by it",
	})

	LowVoltage = define(FindingKind{
		Code: "low-voltage", Severity: Error,
		Means: "a device gets less than it needs",
	})

	MisroutedCable = define(FindingKind{
		Code: "misrouted-cable", Severity: Error,
		Means: "a cable does not end where the walk lands it",
	})

	MissingBarrier = define(FindingKind{
		Code: "missing-barrier", Severity: Warning,
		Means: "a device in a hazardous area has safety values and no barrier",
	})

	MissingBarrierEarth = define(FindingKind{
		Code: "missing-barrier-earth", Severity: Warning,
		Means: "a barrier is on no earth bar",
	})

	MissingCurrent = define(FindingKind{
		Code: "missing-current", Severity: Error,
		Means: "a voltage that changes with current does not say at which it holds",
	})

	MissingEarth = define(FindingKind{
		Code: "missing-earth", Severity: Error,
		Means: "terminals are bonded, and it is not said to which bar",
	})

	MissingEntity = define(FindingKind{
		Code: "missing-entity", Severity: Warning,
		Means: "safety values that are not given keep others from being compared",
	})

	MissingJumper = define(FindingKind{
		Code: "missing-jumper", Severity: Error,
		Means: "a walk goes over a jumper that the strip has not",
	})

	MissingKey = define(FindingKind{
		Code: "missing-key", Severity: Error,
		Means: "a key that is asked is not there",
	})

	MissingPitch = define(FindingKind{
		Code: "missing-pitch", Severity: Warning,
		Means: "without a pitch the distance of two terminals cannot be told",
	})

	MissingSensor = define(FindingKind{
		Code: "missing-sensor", Severity: Warning,
		Means: "a temperature sensor without its type",
	})

	MissingUnit = define(FindingKind{
		Code: "missing-unit", Severity: Error,
		Means: "a number without its unit",
	})

	MissingValue = define(FindingKind{
		Code: "missing-value", Severity: Error,
		Means: "a key without a value",
	})

	MisusedEarthColour = define(FindingKind{
		Code: "misused-earth-colour", Severity: Error,
		Means: "a green-and-yellow core carries something else than earth",
	})

	MixedCable = define(FindingKind{
		Code: "mixed-cable", Severity: Error,
		Means: "mains and signals share a cable",
	})

	MixedLevels = define(FindingKind{
		Code: "mixed-levels", Severity: Warning,
		Means: "signals of unlike level share a cable without screens",
	})

	MixedStrip = define(FindingKind{
		Code: "mixed-strip", Severity: Warning,
		Means: "signals of unlike level stand on one strip",
	})

	NeedlessKey = define(FindingKind{
		Code: "needless-key", Severity: Error,
		Means: "a key that such a card has no use for",
	})

	NoLoops = define(FindingKind{
		Code: "no-loops", Severity: Error,
		Means: "a plant without a loop",
	})

	NoOverallScreen = define(FindingKind{
		Code: "no-overall-screen", Severity: Error,
		Means: "a landing for a screen that the cable has not",
	})

	NoPlant = define(FindingKind{
		Code: "no-plant", Severity: Error,
		Means: "a folder without a file of a plant",
	})

	NoScreen = define(FindingKind{
		Code: "no-screen", Severity: Error,
		Means: "a terminal for a screen that does not come there",
	})

	NoSource = define(FindingKind{
		Code: "no-source", Severity: Error,
		Means: "nothing drives the current of a circuit",
	})

	NotInService = define(FindingKind{
		Code: "not-in-service", Severity: Warning,
		Means: "an existing circuit runs over something that is not",
	})

	NullUsed = define(FindingKind{
		Code: "null-used", Severity: Error,
		Means: "a word that YAML takes for no value",
	})

	NumberOutOfRange = define(FindingKind{
		Code: "number-out-of-range", Severity: Error,
		Means: "a number that cannot be",
	})

	OffPaper = define(FindingKind{
		Code: "off-paper", Severity: Error,
		Means: "a sheet with marks past its frame",
	})

	OpenCircuit = define(FindingKind{
		Code: "open-circuit", Severity: Error,
		Means: "a walk that ends nowhere",
	})

	OpenLane = define(FindingKind{
		Code: "open-lane", Severity: Error,
		Means: "a lane that ends on nothing that takes its current",
	})

	OpenTerminal = define(FindingKind{
		Code: "open-terminal", Severity: Warning,
		Means: "a terminal of a device or channel with nothing on it",
	})

	OverdrivenBarrier = define(FindingKind{
		Code: "overdriven-barrier", Severity: Error,
		Means: "a barrier gets more volts than it works at",
	})

	OverloadedFuse = define(FindingKind{
		Code: "overloaded-fuse", Severity: Error,
		Means: "a fuse carries more than it is rated",
	})

	OverloadedOutput = define(FindingKind{
		Code: "overloaded-output", Severity: Error,
		Means: "an output has to give more than it can",
	})

	OverloadedSupply = define(FindingKind{
		Code: "overloaded-supply", Severity: Error,
		Means: "a supply has to give more than it can",
	})

	PairMissing = define(FindingKind{
		Code: "pair-missing", Severity: Error,
		Means: "a run does not say which pair",
	})

	RangeExceeded = define(FindingKind{
		Code: "range-exceeded", Severity: Error,
		Means: "a range beyond what the sensor measures",
	})

	RangeMismatch = define(FindingKind{
		Code: "range-mismatch", Severity: Error,
		Means: "device and channel are ranged unlike",
	})

	ReversedGroup = define(FindingKind{
		Code: "reversed-group", Severity: Error,
		Means: "what is reversed is no pair",
	})

	ReversedPolarity = define(FindingKind{
		Code: "reversed-polarity", Severity: Error,
		Means: "plus comes to minus",
	})

	RunMissing = define(FindingKind{
		Code: "run-missing", Severity: Error,
		Means: "two stations with no cable or wires between them",
	})

	SameDevice = define(FindingKind{
		Code: "same-device", Severity: Error,
		Means: "a device that is mounted on itself, or drives itself",
	})

	SameTerminal = define(FindingKind{
		Code: "same-terminal", Severity: Error,
		Means: "a lane goes in and out by one terminal",
	})

	ScreenEarthEnd = define(FindingKind{
		Code: "screen-earth-end", Severity: Warning,
		Means: "a screen is earthed at the other end than is the practice",
	})

	ScreenEarthedTwice = define(FindingKind{
		Code: "screen-earthed-twice", Severity: Error,
		Means: "a screen is earthed at two points",
	})

	ScreenMismatch = define(FindingKind{
		Code: "screen-mismatch", Severity: Error,
		Means: "a cable and a walk, or two cables, say unlike things of a screen",
	})

	ScreenUnclear = define(FindingKind{
		Code: "screen-unclear", Severity: Error,
		Means: "the word screen without one terminal after it",
	})

	ScreenUsedTwice = define(FindingKind{
		Code: "screen-used-twice", Severity: Error,
		Means: "a screen has two uses",
	})

	SecondDocument = define(FindingKind{
		Code: "second-document", Severity: Error,
		Means: "a file holds two documents of YAML",
	})

	SheetTooNarrow = define(FindingKind{
		Code: "sheet-too-narrow", Severity: Warning,
		Means: "a loop has more stations in a row than fit its paper",
	})

	ShortJumper = define(FindingKind{
		Code: "short-jumper", Severity: Error,
		Means: "a jumper on fewer than two terminals",
	})

	ShortedSupply = define(FindingKind{
		Code: "shorted-supply", Severity: Error,
		Means: "a supply or an output that nothing limits",
	})

	SlowHART = define(FindingKind{
		Code: "slow-hart", Severity: Warning,
		Means: "the ohms and the capacitance of a loop are too much for HART",
	})

	SplitChannel = define(FindingKind{
		Code: "split-channel", Severity: Error,
		Means: "the lanes of a circuit land on two channels",
	})

	SplitPair = define(FindingKind{
		Code: "split-pair", Severity: Error,
		Means: "two circuits in a pair, or one circuit in halves of two",
	})

	SplitSupplies = define(FindingKind{
		Code: "split-supplies", Severity: Error,
		Means: "the current of a circuit does not come back to its supply",
	})

	StarvedSwitch = define(FindingKind{
		Code: "starved-switch", Severity: Error,
		Means: "a switch carries less current than it needs",
	})

	StationMissing = define(FindingKind{
		Code: "station-missing", Severity: Error,
		Means: "two runs with no station between them",
	})

	StepAfterParting = define(FindingKind{
		Code: "step-after-parting", Severity: Error,
		Means: "a walk goes on after its lanes have parted",
	})

	TabIndent = define(FindingKind{
		Code: "tab-indent", Severity: Error,
		Means: "a tab in the indent",
	})

	TagTwice = define(FindingKind{
		Code: "tag-twice", Severity: Error,
		Means: "two things with one tag",
	})

	TagUsed = define(FindingKind{
		Code: "tag-used", Severity: Error,
		Means: "a type tag of YAML, which this language has not",
	})

	TerminalCrowded = define(FindingKind{
		Code: "terminal-crowded", Severity: Error,
		Means: "more conductors on one side of a terminal than it takes",
	})

	TerminalTwice = define(FindingKind{
		Code: "terminal-twice", Severity: Error,
		Means: "a part has two terminals of one name",
	})

	TerminalUsedTwice = define(FindingKind{
		Code: "terminal-used-twice", Severity: Error,
		Means: "a terminal carries two circuits, or a circuit and spares",
	})

	TerminalsMismatch = define(FindingKind{
		Code: "terminals-mismatch", Severity: Error,
		Means: "there are not as many terminals as there have to be",
	})

	TerminalsMissing = define(FindingKind{
		Code: "terminals-missing", Severity: Error,
		Means: "a walk begins without terminals",
	})

	TerminalsOver = define(FindingKind{
		Code: "terminals-over", Severity: Error,
		Means: "more terminals than cores",
	})

	TerminalsShort = define(FindingKind{
		Code: "terminals-short", Severity: Error,
		Means: "fewer terminals than cores",
	})

	TextTooLong = define(FindingKind{
		Code: "text-too-long", Severity: Warning,
		Means: "a text that is cut on a sheet",
	})

	TooMany = define(FindingKind{
		Code: "too-many", Severity: Error,
		Means: "more of something than a plant may hold",
	})

	TurnedBarrier = define(FindingKind{
		Code: "turned-barrier", Severity: Error,
		Means: "a barrier whose safe side is towards the field",
	})

	TwoCodes = define(FindingKind{
		Code: "two-codes", Severity: Error,
		Means: "a cable type with colours and with a code",
	})

	TwoSources = define(FindingKind{
		Code: "two-sources", Severity: Error,
		Means: "two things drive one current",
	})

	TwoWiresInOne = define(FindingKind{
		Code: "two-wires-in-one", Severity: Error,
		Means: "a wire that changes its kind or colour on the way",
	})

	UnderloadedOutput = define(FindingKind{
		Code: "underloaded-output", Severity: Error,
		Means: "an output with less load than it needs",
	})

	UndrawableText = define(FindingKind{
		Code: "undrawable-text", Severity: Error,
		Means: "a letter that cannot be drawn",
	})

	UnearthedScreen = define(FindingKind{
		Code: "unearthed-screen", Severity: Error, Milder: "for spares",
		Means: "a screen is earthed nowhere",
	})

	UnfedCard = define(FindingKind{
		Code: "unfed-card", Severity: Error,
		Means: "a card is fed by no DC supply",
	})

	UnknownAlloy = define(FindingKind{
		Code: "unknown-alloy", Severity: Warning,
		Means: "a run of a thermocouple circuit without its alloy",
	})

	UnknownChannel = define(FindingKind{
		Code: "unknown-channel", Severity: Error,
		Means: "a channel that the card has not",
	})

	UnknownCircuit = define(FindingKind{
		Code: "unknown-circuit", Severity: Error,
		Means: "a circuit that the plant has not",
	})

	UnknownCode = define(FindingKind{
		Code: "unknown-code", Severity: Error,
		Means: "a colour code that ringout has not",
	})

	UnknownColour = define(FindingKind{
		Code: "unknown-colour", Severity: Error,
		Means: "a word that is no colour",
	})

	UnknownCore = define(FindingKind{
		Code: "unknown-core", Severity: Error,
		Means: "a core or group that the cable has not",
	})

	UnknownEarth = define(FindingKind{
		Code: "unknown-earth", Severity: Error,
		Means: "an earth bar that the place has not",
	})

	UnknownKey = define(FindingKind{
		Code: "unknown-key", Severity: Error,
		Means: "a key that the block has not",
	})

	UnknownLane = define(FindingKind{
		Code: "unknown-lane", Severity: Error,
		Means: "a lane that the circuit has not",
	})

	UnknownSensor = define(FindingKind{
		Code: "unknown-sensor", Severity: Error,
		Means: "a sensor that ringout has no table for",
	})

	UnknownStrip = define(FindingKind{
		Code: "unknown-strip", Severity: Error,
		Means: "a strip that the place has not",
	})

	UnknownTag = define(FindingKind{
		Code: "unknown-tag", Severity: Error,
		Means: "a tag that nothing has",
	})

	UnknownTerminal = define(FindingKind{
		Code: "unknown-terminal", Severity: Error,
		Means: "a terminal that the part has not",
	})

	UnknownType = define(FindingKind{
		Code: "unknown-type", Severity: Error,
		Means: "a cable type that the plant has not",
	})

	UnknownUnit = define(FindingKind{
		Code: "unknown-unit", Severity: Error,
		Means: "a unit that does not belong there",
	})

	UnknownWord = define(FindingKind{
		Code: "unknown-word", Severity: Error,
		Means: "a word that is not one of those that can stand there",
	})

	UnlikeLeads = define(FindingKind{
		Code: "unlike-leads", Severity: Warning,
		Means: "leads that a card takes for alike have unlike ohms",
	})

	UnlikelyTag = define(FindingKind{
		Code: "unlikely-tag", Severity: Warning,
		Means: "the letters of a tag say another kind of device",
	})

	UnreadValue = define(FindingKind{
		Code: "unread-value", Severity: Warning,
		Means: "the rating of a fuse or the value of a set point cannot be read",
	})

	UnreadableFile = define(FindingKind{
		Code: "unreadable-file", Severity: Error,
		Means: "a file cannot be read",
	})

	UnsafeCable = define(FindingKind{
		Code: "unsafe-cable", Severity: Error,
		Means: "intrinsically safe and other circuits share a cable",
	})

	UnsafeDistance = define(FindingKind{
		Code: "unsafe-distance", Severity: Error,
		Means: "intrinsically safe and other terminals stand too close",
	})

	UnsolvedCircuit = define(FindingKind{
		Code: "unsolved-circuit", Severity: Error,
		Means: "a sum without an answer",
	})

	UnsureColours = define(FindingKind{
		Code: "unsure-colours", Severity: Warning,
		Means: "colours of a code that are from memory",
	})

	UnsureOff = define(FindingKind{
		Code: "unsure-off", Severity: Error,
		Means: "a switch that is off does not surely hold its input at 0",
	})

	UnsureOn = define(FindingKind{
		Code: "unsure-on", Severity: Error,
		Means: "a switch that is on does not surely bring its input to 1",
	})

	UntwistedLanes = define(FindingKind{
		Code: "untwisted-lanes", Severity: Warning,
		Means: "the lanes of a circuit are not twisted with each other",
	})

	UnwiredDevice = define(FindingKind{
		Code: "unwired-device", Severity: Error,
		Means: "a device in no circuit",
	})

	VoltsOrder = define(FindingKind{
		Code: "volts-order", Severity: Error,
		Means: "the least volts are above the volts, or the highest below; a coil lets go at more than holds it",
	})

	WiresBetweenPlaces = define(FindingKind{
		Code: "wires-between-places", Severity: Error,
		Means: "wires that leave their place",
	})

	WiresMismatch = define(FindingKind{
		Code: "wires-mismatch", Severity: Error,
		Means: "a sensor and its card for unlike numbers of wires",
	})

	WrongCard = define(FindingKind{
		Code: "wrong-card", Severity: Error, Milder: "for a two-wire switch, which may suit the card",
		Means: "a device on a card for another signal",
	})

	WrongHARTLoad = define(FindingKind{
		Code: "wrong-hart-load", Severity: Warning,
		Means: "the load that HART sees is outside the practice",
	})

	WrongMark = define(FindingKind{
		Code: "wrong-mark", Severity: Error,
		Means: "a conductor on a terminal marked for another",
	})

	WrongShape = define(FindingKind{
		Code: "wrong-shape", Severity: Error,
		Means: "a text, a list or a block in the place of another",
	})

	WrongSupply = define(FindingKind{
		Code: "wrong-supply", Severity: Error,
		Means: "a coil on other volts than it is rated",
	})

	WrongUnit = define(FindingKind{
		Code: "wrong-unit", Severity: Error, Milder: "for an alarm",
		Means: "a range or an alarm in a unit that does not fit",
	})
)
