package finding

// All kinds of findings, in the order of their codes.
var (
	AddressTwice = define(Kind{
		Code: "address-twice", Severity: Error,
		Means:  "two devices of a segment have one address",
		When:   "Two devices of one segment have the same address. Only one of them can be reached.",
		In:     "bus",
		Before: "LT-602: {kind: bus device, range: 0..4 m, draws: 14 mA, address: 21}",
		After:  "LT-602: {kind: bus device, range: 0..4 m, draws: 14 mA, address: 22}",
	})

	AgainstKind = define(Kind{
		Code: "against-kind", Severity: Error,
		Means:  "a part is said to be what none of its kind is",
		When:   "A key of a card or device says otherwise than its kind: that a proximity card does not drive its circuits, or that a channel has more terminals than its kind has. Or channels have a - of their own and a common one.",
		In:     "common",
		Before: "DI-1: {kind: DI, power: loop, channels: 16, common: M, minus: own, ohms: 3.3 kohm, input type: 1, address: node 7 slot 1}",
		After:  "DI-1: {kind: DI, power: loop, channels: 16, common: M, ohms: 3.3 kohm, input type: 1, address: node 7 slot 1}",
	})

	AliasUsed = define(Kind{
		Code: "alias-used", Severity: Error,
		Means:  "an anchor, alias or merge key of YAML",
		When:   "A value is shared by an anchor (&), an alias (*) or a merge key (<<). Write each value in its place, so that a line can be read alone.",
		In:     "signal",
		Before: "area: &inlet Inlet works",
		After:  "area: Inlet works",
	})

	AmbiguousCircuit = define(Kind{
		Code: "ambiguous-circuit", Severity: Error,
		Means:  "a function names a circuit that several other loops have",
		When:   "A function reads a circuit by name, and circuits of several other loops have that name.",
		In:     "signal",
		Before: "LI-103: {kind: indicator, reads: signal}",
		After:  "LI-103: {kind: indicator, reads: LT-103}",
	})

	BadCell = define(Kind{
		Code: "bad-cell", Severity: Error,
		Means:  "a cell of a list cannot be read",
		When:   "A list that is imported has a word in a cell that means nothing there: a tag with a blank, a channel that is no number. The row is not placed.",
		In:     Lists,
		Before: "W-1,six-pair,JB 1,MC-1,160",
		After:  "W-1,six-pair,JB-1,MC-1,160",
	})

	BadConductor = define(Kind{
		Code: "bad-conductor", Severity: Error,
		Means:  "the size of a conductor cannot be read",
		When:   "The value of a conductor is neither a cross section nor a gauge, or lacks its unit.",
		In:     "signal",
		Before: "two-pair: {pairs: 2, conductor: 1.0, colours: [BK WH, RD BU], screen: none}",
		After:  "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
	})

	BadContact = define(Kind{
		Code: "bad-contact", Severity: Error,
		Means:  "a coil or contact is not given by its terminals",
		When:   "The terminals of a contact are numbered as none of EN 50005: the last digits 1 and 2 are of a break contact, 3 and 4 of a make contact, 1, 2 and 4 of a changeover contact. Or a coil does not have two.",
		In:     "switch",
		Before: "contacts: [11-12-14, 21-24]",
		After:  "contacts: [11-12-14, 21-22-24]",
	})

	BadDate = define(Kind{
		Code: "bad-date", Severity: Error,
		Means:  "not a valid date",
		When:   "A date does not exist, or is not written as year, month and day.",
		In:     "signal",
		Before: "- {mark: A, date: 2026-02-30, by: J. Moor}",
		After:  "- {mark: A, date: 2026-03-14, by: J. Moor}",
	})

	BadFeed = define(Kind{
		Code: "bad-feed", Severity: Error,
		Means:  "a feed does not name the two terminals that it joins",
		When:   `An item of "feeds" does not name a supply and its terminal, then a strip and its terminal.`,
		In:     "switch",
		Before: "- PS-1 + X5 F1",
		After:  "- PS-1 + to X5 F1",
	})

	BadGrid = define(Kind{
		Code: "bad-grid", Severity: Error,
		Means:  "rows and columns cannot be read",
		When:   "A grid is not written as ROWS x COLUMNS, such as 6 x 4 or 6 x 4 by columns, or is larger than a sheet shows.",
		In:     "signal",
		Before: "X1: {terminals: 1A..3D, grid: 3 by 4}",
		After:  "X1: {terminals: 1A..3D, grid: 3 x 4}",
	})

	BadNumber = define(Kind{
		Code: "bad-number", Severity: Error,
		Means:  "a number cannot be read, or is not in plain digits",
		When:   "A number has a decimal comma, thousands separated by commas, an exponent, or letters in it.",
		In:     "signal",
		Before: "insulation limit: 1,5 Mohm",
		After:  "insulation limit: 5 Mohm",
	})

	BadOrder = define(Kind{
		Code: "bad-order", Severity: Error,
		Means:  "values do not increase",
		When:   "Check points, test currents or limits do not go from the smallest to the largest.",
		In:     "signal",
		Before: "check points: [0 %, 100 %, 50 %]",
		After:  "check points: [0 %, 50 %, 100 %]",
	})

	BadPart = define(Kind{
		Code: "bad-part", Severity: Error,
		Means:  "a part of the output of a function cannot be",
		When:   "A part names no circuit that the function drives, or one that has a part already, or is not two different outputs from 0 to 100 %.",
		In:     "split",
		Before: "parts: [TV-111A 50..0 %, TV-111B 50..120 %]",
		After:  "parts: [TV-111A 50..0 %, TV-111B 50..100 %]",
	})

	BadRange = define(Kind{
		Code: "bad-range", Severity: Error,
		Means:  "a range cannot be read",
		When:   "A range is not two numbers with two points between them, and a unit.",
		In:     "signal",
		Before: "FT-102: {kind: transmitter, range: 0 to 450, square root: transmitter, lift-off: 10.5 V}",
		After:  "FT-102: {kind: transmitter, range: 0..450 m3/h, square root: transmitter, lift-off: 10.5 V}",
	})

	BadSyntax = define(Kind{
		Code: "bad-syntax", Severity: Error,
		Means:  "the text is not YAML",
		When:   "The text breaks the rules of YAML: a quote or a bracket is open, an indent fits no line above, a value holds a colon and a blank.",
		In:     "signal",
		Before: "service: Outlet: flow",
		After:  "service: Outlet flow",
	})

	BadTable = define(Kind{
		Code: "bad-table", Severity: Error, Milder: "where it is read all the same: not in UTF-8, rows that are hidden, dates",
		Means: "a table of rows cannot be read",
		When:  "The rows of a pattern stand in a table that is not there or is no CSV file or workbook, or that has a cell without a head: then all cells of the row may be in the wrong column.",
		Before: `-- plant.yaml --
plant: Larch Sound Pumping Station
cable types: {plain: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets:
  MC-1: {at: Instrument room, cards: {AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}}}
patterns:
  level:
    cables: {W-<n>: {type: plain, from: LT-<n>, to: MC-1, length: <length>}}
    loops:
      L-<n>:
        service: <service>
        devices: {LT-<n>: {kind: transmitter, range: 0..4 m, lift-off: 10.5 V}}
        circuits: {LT-<n>: [LT-<n> + -, W-<n>, AI-1 channel <channel>]}
like loops:
  - {pattern: level, rows: levels.csv}
-- levels.csv --
n,service,length,channel
101,Inlet level,18 m,1
102,Sump level, north,25 m,2`,
		After: `-- plant.yaml --
plant: Larch Sound Pumping Station
cable types: {plain: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets:
  MC-1: {at: Instrument room, cards: {AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}}}
patterns:
  level:
    cables: {W-<n>: {type: plain, from: LT-<n>, to: MC-1, length: <length>}}
    loops:
      L-<n>:
        service: <service>
        devices: {LT-<n>: {kind: transmitter, range: 0..4 m, lift-off: 10.5 V}}
        circuits: {LT-<n>: [LT-<n> + -, W-<n>, AI-1 channel <channel>]}
like loops:
  - {pattern: level, rows: levels.csv}
-- levels.csv --
n,service,length,channel
101,Inlet level,18 m,1
102,"Sump level, north",25 m,2`,
	})

	BadTag = define(Kind{
		Code: "bad-tag", Severity: Error,
		Means: "a tag holds a sign that separates words",
		When:  "A tag holds a blank, a comma, a colon or >. These separate the words of a path.",
		In:    "signal",
		Before: `JB 3:
  at: Inlet works`,
		After: `JB-2:
  at: Inlet works`,
	})

	BadTerminals = define(Kind{
		Code: "bad-terminals", Severity: Error,
		Means:  "a span of terminals cannot be counted",
		When:   "A span runs backwards, or does not fit the form first..last, first..last step n.",
		In:     "signal",
		Before: "X2: {terminals: 6..1}",
		After:  "X2: {terminals: 1..6}",
	})

	BiasAway = define(Kind{
		Code: "bias-away", Severity: Error,
		Means:  "a bias is not on the pair of its segment",
		When:   "The bias of a serial link is said to be at a part that no circuit of the segment lands on.",
		In:     "bus",
		Before: "bias at: JB-61/X1",
		After:  "bias at: SL-1",
	})

	BrokenLeg = define(Kind{
		Code: "broken-leg", Severity: Error,
		Means: "a leg goes on after it was cut back",
		When:  "A leg is cut back with x at one station and is landed at a later one.",
		In:    "signal",
		Before: `- MC-1/X2 3 x
- wires`,
		After: `- MC-1/X2 3 4
- wires`,
	})

	BypassedBarrier = define(Kind{
		Code: "bypassed-barrier", Severity: Error,
		Means: "a leg of an intrinsically safe circuit bypasses its barrier",
		When:  "One leg of an intrinsically safe circuit goes to its card through the barrier, another goes past it.",
		In:    "safe",
		Before: `- +: [wires, Z-501 1, wires, AI-5 channel 1 +]
  -: [wires, AI-5 channel 1 -]`,
		After: `- wires
- Z-501 1 2
- wires
- AI-5 channel 1`,
	})

	ByteOrderMark = define(Kind{
		Code: "byte-order-mark", Severity: Error,
		Means:  "an invisible byte order mark inside a file",
		When:   "The mark U+FEFF is in the middle of a file. It is left there when files are joined. At the start of a file it does no harm.",
		In:     "signal",
		Before: "owner: \ufeffLarch Sound Water",
		After:  "owner: Larch Sound Water",
	})

	CellMadeDate = define(Kind{
		Code: "cell-made-date", Severity: Error,
		Means:  "a spreadsheet made a date of a tag or a terminal",
		When:   "A cell of a list that is imported holds a date where a tag or a terminal belongs: spreadsheets make dates of texts such as 1-2. What was written cannot be told from it. The row is not placed.",
		In:     Lists,
		Before: "W-1,2b,white,2-Jan,MC-1/X1:4",
		After:  "W-1,2b,white,JB-1/X1:4,MC-1/X1:4",
	})

	CellMissing = define(Kind{
		Code: "cell-missing", Severity: Error,
		Means:  "a row of a list lacks what it cannot be placed without",
		When:   "A row of a list that is imported has nothing in a cell that names it or what it is part of. The row is not placed.",
		In:     Lists,
		Before: "W-2,,FT-1,JB-1,12",
		After:  "W-2,one-pair,FT-1,JB-1,12",
	})

	ChainedEarth = define(Kind{
		Code: "chained-earth", Severity: Warning,
		Means:  "the protective earth of an instrument comes by way of another",
		When:   "Instruments carry their supply on from one to the next, and the protective earth with it: whoever takes one out takes the earth off those behind it. IEC 60364-5-54 wants each on the protective conductor by itself (from memory).",
		In:     "panel",
		Before: "mains: {from: X7 L2 N2 PE2, members: 1A..1B, wires: BN BU GNYE}",
		After:  "mains: {from: X7 L2 N2 PE2..PE3, members: 1A..1B, wires: BN BU GNYE}",
	})

	ChangedAlloy = define(Kind{
		Code: "changed-alloy", Severity: Error,
		Means: "a run between a thermocouple and its card is of another metal",
		When:  "A cable or wires on the way from a thermocouple to its card are copper, or of another type. The temperature where the metals meet then adds to the reading.",
		In:    "heat",
		Before: `- wires BU
- TC-1 channel 1`,
		After: `- wires GN WH
- TC-1 channel 1`,
	})

	ChangedColours = define(Kind{
		Code: "changed-colours", Severity: Warning,
		Means:  "runs of one thermocouple have the colours of two standards",
		When:   "Two runs of one thermocouple circuit have colours of two standards. Red is the negative core in one of them and the positive core in another.",
		In:     "heat",
		Before: "K: {pairs: 1, conductor: 1.0 mm2, code: ANSI K, screen: none}",
		After:  "K: {pairs: 1, conductor: 1.0 mm2, code: IEC 60584-3 K, screen: none}",
	})

	ChannelMissing = define(Kind{
		Code: "channel-missing", Severity: Error,
		Means:  "a path names a card and no channel",
		When:   "A station is a card and no channel follows.",
		In:     "signal",
		Before: "- AI-1",
		After:  "- AI-1 channel 5",
	})

	ChannelUsedTwice = define(Kind{
		Code: "channel-used-twice", Severity: Error,
		Means:  "two circuits land on one channel",
		When:   "Two circuits name the same channel of one card.",
		In:     "signal",
		Before: "- AI-1 channel 2",
		After:  "- AI-1 channel 5",
	})

	ClassLost = define(Kind{
		Code: "class-lost", Severity: Warning,
		Means:  "a sensor has too few wires for its class of accuracy",
		When:   "A sensor of class A or better has two wires. The resistance of its leads adds to that of the element. IEC 60751 gives these classes for three and four wires only.",
		In:     "heat",
		Before: "TE-204: {kind: RTD 2-wire, sensor: Pt100, class: A, range: 0..50 °C, lead ohms: 0.07 ohm}",
		After:  "TE-204: {kind: RTD 2-wire, sensor: Pt100, class: B, range: 0..50 °C, lead ohms: 0.07 ohm}",
	})

	CodeShort = define(Kind{
		Code: "code-short", Severity: Warning,
		Means:  "a colour code has fewer groups than the cable",
		When:   "A colour code ends before the last pair, triad, quad or core of the cable type. The colours of those behind it are NOT GIVEN.",
		In:     "signal",
		Before: "twin: {pairs: 60, conductor: 1.0 mm2, code: BS 5308-1, screen: overall}",
		After:  "twin: {pairs: 2, conductor: 1.0 mm2, code: black/white numbered, screen: overall}",
	})

	ColoursMismatch = define(Kind{
		Code: "colours-mismatch", Severity: Error,
		Means:  "the numbers of colours and cores differ",
		When:   "A list of colours has more or fewer items than the pair, the cable or the wires have cores.",
		In:     "signal",
		Before: "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU GN], screen: none}",
		After:  "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
	})

	ColumnSkipped = define(Kind{
		Code: "column-skipped", Severity: Warning,
		Means:  "columns of a list are not read",
		When:   "A list that is imported has columns that no key of a plant is for, or that have no head. A map names columns that have another name.",
		In:     Lists,
		Before: "type,groups,group,conductor,screen,drum",
		After:  "type,groups,group,conductor,screen,sheath",
	})

	ComplexKey = define(Kind{
		Code: "complex-key", Severity: Error,
		Means: "a key is a list or a block",
		When:  "A list or a block is in the place of a key.",
		In:    "signal",
		Before: `[F, 104]:
  service: Outlet valve`,
		After: `F-104:
  service: Outlet valve`,
	})

	ConductorTooBig = define(Kind{
		Code: "conductor-too-big", Severity: Error,
		Means:  "a terminal does not take the conductor that lands on it",
		When:   "The cores of a cable are larger than the largest conductor of the strip on which they land.",
		In:     "signal",
		Before: "X1: {terminals: 1..30, marks: + - S, largest: 0.5 mm2}",
		After:  "X1: {terminals: 1..30, marks: + - S, largest: 2.5 mm2}",
	})

	ConfusableTags = define(Kind{
		Code: "confusable-tags", Severity: Warning,
		Means:  "two tags differ only in I and 1, or O and 0",
		When:   "Two names in one list differ only in I and 1, or in O and 0. On a marker they look the same.",
		In:     "signal",
		Before: "XI: {terminals: 1..12}",
		After:  "X2: {terminals: 1..12}",
	})

	ContactUsedTwice = define(Kind{
		Code: "contact-used-twice", Severity: Error,
		Means:  "two circuits land on one contact",
		When:   "Two circuits land on the same contact of a device. Two may share the common of a changeover contact, one on each side.",
		In:     "switch",
		Before: "- K-313 11 14",
		After:  "- K-313 21 24",
	})

	ControlCharacter = define(Kind{
		Code: "control-character", Severity: Error,
		Means:  "an invisible character",
		When:   "A value or a key holds a character that cannot be seen, such as a bell or, in a tag, a tab.",
		In:     "signal",
		Before: "owner: Larch\u0007Sound Water",
		After:  "owner: Larch Sound Water",
	})

	CoreCount = define(Kind{
		Code: "core-count", Severity: Error,
		Means:  "a cable type does not give its cores, or gives them in two ways that differ",
		When:   "A cable type has none of cores, pairs, triads and quads, or two of them that do not agree. Beside its pairs, triads or quads it may have as many cores as these have together.",
		In:     "signal",
		Before: "two-pair: {pairs: 2, cores: 5, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
		After:  "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
	})

	CoreNotLanded = define(Kind{
		Code: "core-not-landed", Severity: Error,
		Means: "a core of a cable passes by a station",
		When:  "A station has a point for a core of a cable. Only a wire inside an enclosure can pass by a station.",
		In:    "signal",
		Before: `- W-103
- MC-1/X2 1 .`,
		After: `- W-103
- MC-1/X2 1 2`,
	})

	CoreUnclear = define(Kind{
		Code: "core-unclear", Severity: Error,
		Means:  "a core of a list has no number, and its colour leaves a choice",
		When:   "A row of a list that is imported tells a core by its colour alone, and by the colour code of the cable several cores or none have it. The row is not placed.",
		In:     Lists,
		Before: "W-1,,white,JB-1/X1:4,MC-1/X1:4",
		After:  "W-1,2b,white,JB-1/X1:4,MC-1/X1:4",
	})

	CoreUsedTwice = define(Kind{
		Code: "core-used-twice", Severity: Error,
		Means: "two circuits, or one and the spares, use one core",
		When:  `Two circuits name the same core or pair, or a circuit names one that is under "spares"; or two fibre links in one cable, between the same places, name the same fibre.`,
		In:    "signal",
		Before: `- W-1 pair 1
- MC-1/X1 4 5 6`,
		After: `- W-1 pair 2
- MC-1/X1 4 5 6`,
	})

	CoresOver = define(Kind{
		Code: "cores-over", Severity: Error,
		Means:  "a run names more cores than there are legs",
		When:   "A run names more pairs or cores of a cable than there are legs.",
		In:     "signal",
		Before: "- W-1 pair 1 2",
		After:  "- W-1 pair 1",
	})

	CoresShort = define(Kind{
		Code: "cores-short", Severity: Error,
		Means:  "a run has fewer cores than there are legs",
		When:   "A run names fewer cores of a cable than there are legs.",
		In:     "signal",
		Before: "- W-105 core 1",
		After:  "- W-105 pair 1",
	})

	CrossedLeads = define(Kind{
		Code: "crossed-leads", Severity: Error,
		Means:  "a lead of a supply or an output arrives at the terminal of another",
		When:   "A lead of a mains supply, an output or a temperature sensor arrives at a terminal that is marked for another lead.",
		In:     "switch",
		Before: "FT-308 mains: [FT-308 L N PE, W-309, MC-3/X7 N4 L4 PE4]",
		After:  "FT-308 mains: [FT-308 L N PE, W-309, MC-3/X7 L4 N4 PE4]",
	})

	CrossedPolarity = define(Kind{
		Code: "crossed-polarity", Severity: Warning,
		Means: "a leg is reversed, and reversed back further on",
		When:  "A leg changes from + to − and changes back before its end. The circuit works, but readings along it are reversed.",
		In:    "signal",
		Before: `- MC-1/X1 2 1 3
- wires`,
		After: `- MC-1/X1 1 2 3
- wires`,
	})

	DeepNesting = define(Kind{
		Code: "deep-nesting", Severity: Error,
		Means:  "lists and blocks nest deeper than any plant",
		When:   "Lists and blocks nest more than 60 levels deep. A plant needs about eight.",
		In:     "signal",
		Before: "- [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[keep]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
		After:  "- keep the purge on",
	})

	DeviceOffSegment = define(Kind{
		Code: "device-off-segment", Severity: Error,
		Means: "a device is not joined to the pair of its segment",
		When:  "Cores and jumpers do not lead from both poles of a device to the supply or port of its segment.",
		In:    "bus",
		Before: `LT-602: [LT-602, W-602, JB-61/X1 10 11 12]
…
X1: {terminals: 1..15, marks: + - S, jumpers: [1..15 step 3, 2 5 8, 3..15 step 3]}`,
		After: `LT-602: [LT-602, W-602, JB-61/X1 10 11 12]
…
X1: {terminals: 1..15, marks: + - S, jumpers: [1..15 step 3, 2..15 step 3, 3..15 step 3]}`,
	})

	DroppedScreen = define(Kind{
		Code: "dropped-screen", Severity: Error, Milder: "where the text lands or cuts back each side on purpose",
		Means:  "a screen is not carried through a box",
		When:   "A screen arrives at a box with one cable, another screen leaves it, and no terminal joins the two. It is a warning if the text lands or cuts back each side on purpose.",
		In:     "signal",
		Before: "- JB-1/X1 1 2",
		After:  "- JB-1/X1 1 2 3",
	})

	EarthedTwice = define(Kind{
		Code: "earthed-twice", Severity: Error, Milder: "where no intrinsically safe circuit is earthed in the field",
		Means:  "circuits that are joined by copper are earthed at two places",
		When:   "Circuits that are joined by copper are earthed at two places, such as a barrier and a device. A current flows between the two earths. It is a warning where no intrinsically safe circuit is earthed in the field.",
		In:     "safe",
		Before: "PT-501: {kind: transmitter, lift-off: 9 V, zone: 1, earthed: negative, entity: {Ui: 30 V, Ii: 120 mA, Pi: 0.8 W, Ci: 5 nF, Li: 10 uH}}",
		After:  "PT-501: {kind: transmitter, lift-off: 9 V, zone: 1, earthed: none, entity: {Ui: 30 V, Ii: 120 mA, Pi: 0.8 W, Ci: 5 nF, Li: 10 uH}}",
	})

	EmptyCircuit = define(Kind{
		Code: "empty-circuit", Severity: Error,
		Means:  "a path without a station",
		When:   "A circuit has a name and no steps.",
		In:     "signal",
		Before: "signal: []",
		After: `signal:
  - FV-104 + -
  - W-104
  - MC-1/X2 3 4
  - wires
  - AO-1 channel 1`,
	})

	EmptyFile = define(Kind{
		Code: "empty-file", Severity: Warning,
		Means: "a file without a key",
		When:  "A file holds no keys: it is empty, or all of it is comment.",
		Before: `-- loops.yaml --
# F-1 comes here`,
		After: `-- loops.yaml --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
	})

	EmptyKey = define(Kind{
		Code: "empty-key", Severity: Error,
		Means: "a key without a letter",
		When:  "A key is an empty text.",
		In:    "signal",
		Before: `"":
  service: Outlet valve`,
		After: `F-104:
  service: Outlet valve`,
	})

	EmptyLoop = define(Kind{
		Code: "empty-loop", Severity: Warning,
		Means: "a loop without devices and circuits",
		When:  "A loop has neither devices nor circuits. It would have no sheet.",
		Before: `-- plant.yaml --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow`,
		After: `-- plant.yaml --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
	})

	EmptyRange = define(Kind{
		Code: "empty-range", Severity: Error,
		Means:  "a range begins and ends at one value",
		When:   "A range or a signal has the same value at both ends.",
		In:     "signal",
		Before: "FT-102: {kind: transmitter, range: 450..450 m3/h, square root: transmitter, lift-off: 10.5 V}",
		After:  "FT-102: {kind: transmitter, range: 0..450 m3/h, square root: transmitter, lift-off: 10.5 V}",
	})

	EmptyStep = define(Kind{
		Code: "empty-step", Severity: Error,
		Means: "a step of a path without a word",
		When:  "The item of a path that separates the legs names no leg.",
		In:    "signal",
		Before: `- MC-1/X2 1 2
- {}`,
		After: `- MC-1/X2 1 2
- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 3 -]`,
	})

	ExceededEntity = define(Kind{
		Code: "exceeded-entity", Severity: Error,
		Means:  "the safety values of an intrinsically safe circuit do not fit each other",
		When:   "A value of the barrier is larger than the device, or the device with its cable, may get: Uo, Io, Po against Ui, Ii, Pi; Ci and Li with the cable against Co and Lo (IEC 60079-25).",
		In:     "safe",
		Before: "PT-501: {kind: transmitter, lift-off: 9 V, zone: 1, earthed: none, entity: {Ui: 24 V, Ii: 120 mA, Pi: 0.8 W, Ci: 5 nF, Li: 10 uH}}",
		After:  "PT-501: {kind: transmitter, lift-off: 9 V, zone: 1, earthed: none, entity: {Ui: 30 V, Ii: 120 mA, Pi: 0.8 W, Ci: 5 nF, Li: 10 uH}}",
	})

	FedTwice = define(Kind{
		Code: "fed-twice", Severity: Error,
		Means:  "common cores bring a supply to what has it already",
		When:   "A leg of common cores begins on a terminal that another leg, or a fixed wire, feeds from the same supply already: straight, or by a jumper. How the current parts between the two, no sum can tell.",
		In:     "common",
		Before: "Z-701 common: [JB-7/X1 11, W-7 core 11, MC-7/X1 11, wires, MC-7/X5 F2]\nZ-701 second: [JB-7/X1 14, W-7 core 10, MC-7/X1 10, wires, MC-7/X5 F3]",
		After:  "Z-701 common: [JB-7/X1 11, W-7 core 11, MC-7/X1 11, wires, MC-7/X5 F2]",
	})

	FewInputs = define(Kind{
		Code: "few-inputs", Severity: Warning,
		Means:  "a select has nothing to choose from, a sum nothing to add, or a ratio or root is of nothing",
		When:   "A high or low select or a sum gets fewer than two signals by reads and takes, a ratio none, or a square root not one.",
		In:     "signal",
		Before: "FY-104: {kind: high select, takes: [FIC-104], drives: signal}",
		After:  "FY-104: {kind: high select, takes: [FIC-104, LIC-104], drives: signal}",
	})

	FewSparePairs = define(Kind{
		Code: "few-spare-pairs", Severity: Warning,
		Means:  "a home run has fewer spare pairs than the practice requires",
		When:   `A cable between two enclosures has fewer spare pairs than "spare pairs" of the practice.`,
		In:     "signal",
		Before: "spare pairs: 90 %",
		After:  "spare pairs: 20 %",
	})

	FewSpareTerminals = define(Kind{
		Code: "few-spare-terminals", Severity: Warning,
		Means:  "a strip has fewer spare terminals than the practice requires",
		When:   `A strip has fewer spare terminals than "spare terminals" of the practice.`,
		In:     "signal",
		Before: "spare terminals: 90 %",
		After:  "spare terminals: 20 %",
	})

	ForeignEncoding = define(Kind{
		Code: "foreign-encoding", Severity: Error,
		Means:  "the file is not UTF-8",
		When:   "A file is written in another encoding than UTF-8, such as Latin 1 or UTF-16.",
		In:     "signal",
		Before: "owner: Soci\xe9t\xe9 Larch",
		After:  "owner: Larch Sound Water",
	})

	FunctionRing = define(Kind{
		Code: "function-ring", Severity: Error,
		Means:  "a function gets its own output back",
		When:   "A function takes the output of one that takes its own, at once or by way of others. In a cascade the master takes nothing of its slave.",
		In:     "signal",
		Before: "LIC-103: {kind: controller, reads: LT-103, takes: FIC-104, action: direct, set: 2 m}",
		After:  "LIC-103: {kind: controller, reads: LT-103, action: direct, set: 2 m}",
	})

	FuseInrush = define(Kind{
		Code: "fuse-inrush", Severity: Warning,
		Means:  "a fuse may blow by the inrush of the coils behind it",
		When:   "All coils behind one fuse can pull in at once. Their inrush is more than the fuse carries for that time, by its rating and speed.",
		In:     "switch",
		Before: "X7: {terminals: [L1..L4 fused 50 mA F, N1..N4, PE1..PE4 earth], jumpers: [L1..L4, N1..N4, PE1..PE4]}",
		After:  "X7: {terminals: [L1..L4 fused 2 A, N1..N4, PE1..PE4 earth], jumpers: [L1..L4, N1..N4, PE1..PE4]}",
	})

	GivenTwice = define(Kind{
		Code: "given-twice", Severity: Error,
		Means: "two files give different titles, numbers or owners",
		When:  "Two files of a plant give another title, number or owner.",
		Before: `-- places.yaml --
plant: Larch Sound
-- loops.yaml --
plant: Larch Sound Pumping
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
		After: `-- places.yaml --
plant: Larch Sound
-- loops.yaml --
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
	})

	GridNames = define(Kind{
		Code: "grid-names", Severity: Warning,
		Means:  "a terminal lies in another row or column than its name says",
		When:   "The terminals of a board are named by row and column, and one lies elsewhere in its grid: the grid is turned, counted the wrong way, or a name is left out before it.",
		In:     "signal",
		Before: "X1: {terminals: 1A..3D, grid: 4 x 3}",
		After:  "X1: {terminals: 1A..3D, grid: 3 x 4}",
	})

	GroupMismatch = define(Kind{
		Code: "group-mismatch", Severity: Error,
		Means:  "a run names pairs of a cable of triads, or the like",
		When:   "A run names a pair, triad or quad, and the cable has others.",
		In:     "signal",
		Before: "- W-1 triad 1",
		After:  "- W-1 pair 1",
	})

	HashEatsValue = define(Kind{
		Code: "hash-eats-value", Severity: Warning,
		Means:  "a # cuts a value short",
		When:   "A blank and # begin a comment, so the rest of the value is lost.",
		In:     "signal",
		Before: "area: Works #2",
		After:  "area: Inlet works",
	})

	HeldIn = define(Kind{
		Code: "held-in", Severity: Warning,
		Means:  "the capacitance of a cable may hold a coil in when its contact opens",
		When:   "The contact of an AC coil is far from the coil. The capacitance of the cable carries enough current past the open contact to hold the coil in.",
		In:     "switch",
		Before: "W-306: {type: control, from: MC-3, to: MC-4, length: 200 m}",
		After:  "W-306: {type: control, from: MC-3, to: MC-4, length: 100 m}",
	})

	HeldOn = define(Kind{
		Code: "held-on", Severity: Warning,
		Means:  "the capacitance of a cable may turn an input on whose contact is open",
		When:   "The contact of an AC input is far from the input. The capacitance of the cable carries enough current past the open contact to turn the input on.",
		In:     "switch",
		Before: "W-307: {type: control, from: ZS-307, to: MC-3, length: 200 m}",
		After:  "W-307: {type: control, from: ZS-307, to: MC-3, length: 5 m}",
	})

	HighVoltage = define(Kind{
		Code: "high-voltage", Severity: Error,
		Means:  "more voltage than devices stand",
		When:   "The supply of a powered bus may give more than its devices stand, 32 V (IEC 61158-2 type 1).",
		In:     "bus",
		Before: "PS-61: {volts: 28 V DC, least volts: 27 V, highest volts: 34 V, limit: 360 mA, earth: none}",
		After:  "PS-61: {volts: 28 V DC, least volts: 27 V, highest volts: 30 V, limit: 360 mA, earth: none}",
	})

	JoinedCircuits = define(Kind{
		Code: "joined-circuits", Severity: Error,
		Means:  "a jumper joins two circuits, or two legs of one",
		When:   "A jumper of a strip joins terminals on which two circuits land, or two legs of one circuit.",
		In:     "signal",
		Before: "X3: {terminals: 1..12, jumpers: [3 4]}",
		After:  "X3: {terminals: 1..12, jumpers: [1..2]}",
	})

	JoinedSupplies = define(Kind{
		Code: "joined-supplies", Severity: Error,
		Means:  "a terminal or a leg is on two supplies, or on both poles of one",
		When:   "A terminal is fed by two supplies or by both poles of one, or a leg runs from one supply to another.",
		In:     "switch",
		Before: "- PS-2 + to X5 F2",
		After:  "- PS-2 + to X6 F1",
	})

	KeptGone = define(Kind{
		Code: "kept-gone", Severity: Error,
		Means:  "a place that is kept for a loop is not there any more",
		When:   "A loop was given a place by counting, and the strip, cable or card has it no more, or has other marks there. The loop may be wired: its landing does not move by itself.",
		In:     "count",
		Before: "LT-101: {JB-1/X1: 31, W-1: 1, MC-1/X1: 1, AI-1: 1}",
		After:  "LT-101: {JB-1/X1: 1, W-1: 1, MC-1/X1: 1, AI-1: 1}",
	})

	KeptTaken = define(Kind{
		Code: "kept-taken", Severity: Error,
		Means:  "a place that is kept for a loop is taken by another",
		When:   "A loop was given a place by counting, and the text lands another loop there, or keeps it for two. The loop may be wired: its landing does not move by itself.",
		In:     "count",
		Before: "LT-102: {JB-1/X1: 4, W-1: 1, MC-1/X1: 4, AI-1: 2}",
		After:  "LT-102: {JB-1/X1: 4, W-1: 2, MC-1/X1: 4, AI-1: 2}",
	})

	KeptUnused = define(Kind{
		Code: "kept-unused", Severity: Warning,
		Means:  "a place is kept for a loop that does not count it",
		When:   "A loop that was given a place by counting is gone, or is landed by hand now. The place stays taken until its line is taken out, so that nothing lands there unseen.",
		In:     "count",
		Before: "L-102:\n  LT-102: {JB-1/X1: 4, W-1: 2, MC-1/X1: 4, AI-1: 2}\nL-99: {LT-99: {JB-1/X1: 28}}",
		After:  "L-102:\n  LT-102: {JB-1/X1: 4, W-1: 2, MC-1/X1: 4, AI-1: 2}",
	})

	KeyTwice = define(Kind{
		Code: "key-twice", Severity: Error,
		Means: "a block has a key twice",
		When:  "A block has the same key twice. YAML would take the last and drop the first.",
		In:    "signal",
		Before: `service: Outlet flow
service: Outlet flow, high range`,
		After: "service: Outlet flow",
	})

	LabelTooSmall = define(Kind{
		Code: "label-too-small", Severity: Error,
		Means:  "a label is too small for its text or code",
		When:   "The text or the code of a label does not fit the label stock of the practice.",
		In:     "wide",
		Before: `label stock: {cables: "10 x 5 mm, 2 x 3 on A4"}`,
		After:  `label stock: {cables: "60 x 20 mm, 3 x 12 on A4"}`,
	})

	LeadError = define(Kind{
		Code: "lead-error", Severity: Warning,
		Means:  "the leads of a sensor add more error than its class allows",
		When:   "The resistance of the leads adds more error than the class of the sensor allows, after the correction by the card.",
		In:     "heat",
		Before: "W-204: {type: two-core, from: TE-204, to: MC-2, length: 120 m}",
		After:  "W-204: {type: two-core, from: TE-204, to: MC-2, length: 2 m}",
	})

	LegTwice = define(Kind{
		Code: "leg-twice", Severity: Error,
		Means: "a leg has two paths",
		When:  "A leg has two paths after the legs separate: one by its mark, one by its number.",
		In:    "signal",
		Before: `- +: [wires, AI-1 channel 3 +]
  1: [wires, AI-1 channel 3 -]`,
		After: `- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 3 -]`,
	})

	ListUnknown = define(Kind{
		Code: "list-unknown", Severity: Error,
		Means: "a sheet is none of the lists that are read",
		When:  "A sheet of a workbook has no row of heads that has all columns which a list needs. None of its rows is placed.",
		In:    Lists,
		Before: `-- drums --
drum,metres`,
		After: `-- loops --
loop,service`,
	})

	ListedTwice = define(Kind{
		Code: "listed-twice", Severity: Error,
		Means: "lists describe one thing twice",
		When:  "Two rows of the lists that are imported describe the same cable, core, part or value. The first is placed.",
		In:    Lists,
		Before: `W-1,2a,black,JB-1/X1:3,MC-1/X1:3
W-1,2a,black,JB-1/X1:3,MC-1/X1:3`,
		After: "W-1,2a,black,JB-1/X1:3,MC-1/X1:3",
	})

	ListsDisagree = define(Kind{
		Code: "lists-disagree", Severity: Error,
		Means:  "rows of lists contradict each other",
		When:   "Two rows of the lists that are imported tell different things of one cable type or core. The later row is not placed.",
		In:     Lists,
		Before: "W-3,1a,red,FT-2:+,JB-1/X1:3",
		After:  "W-3,1a,black,FT-2:+,JB-1/X1:3",
	})

	LivePins = define(Kind{
		Code: "live-pins", Severity: Warning,
		Means:  "the half of a plug that stays live has the pins",
		When:   "A plug is parted, and what feeds a circuit lies behind the male half: its pins can be touched. Common practice puts the sockets on the live side.",
		In:     "joint",
		Before: "P1: {pins: 1..6, male: system}",
		After:  "P1: {pins: 1..6, male: field}",
	})

	LongLeads = define(Kind{
		Code: "long-leads", Severity: Error,
		Means:  "the leads of a sensor have more resistance than its card allows",
		When:   `The resistance of the leads of a temperature sensor is more than the "lead limit" of its card.`,
		In:     "heat",
		Before: "RT-3: {kind: RTD, wires: 3, channels: 4, lead limit: 1 ohm}",
		After:  "RT-3: {kind: RTD, wires: 3, channels: 4, lead limit: 40 ohm}",
	})

	LongLine = define(Kind{
		Code: "long-line", Severity: Error,
		Means:  "the line of a proximity switch has more resistance than its input allows",
		When:   `The resistance of the two cores to a proximity switch is more than "line ohms" of the practice. The levels of IEC 60947-5-6 hold up to 50 Ω.`,
		In:     "switch",
		Before: "W-303: {type: pair, from: ZS-303, to: MC-3, length: 1500 m}",
		After:  "W-303: {type: pair, from: ZS-303, to: MC-3, length: 50 m}",
	})

	LongName = define(Kind{
		Code: "long-name", Severity: Error,
		Means: "a name is too long for the name of a file",
		When:  "A name has more than 80 letters. It becomes part of the name of a file.",
		In:    "signal",
		Before: `Outlet valve of the pumping station at Larch Sound, as built in the second stage of works:
  service: Outlet valve`,
		After: `F-104:
  service: Outlet valve`,
	})

	LongSegment = define(Kind{
		Code: "long-segment", Severity: Warning,
		Means:  "trunk and spurs are longer than the cable allows",
		When:   "Trunk and spurs of a segment together are longer than its kind allows for the type of cable.",
		In:     "bus",
		Before: "W-61:  {type: bus-pair, from: MC-6, to: JB-61, length: 1820 m}",
		After:  "W-61:  {type: bus-pair, from: MC-6, to: JB-61, length: 320 m}",
	})

	LongSpur = define(Kind{
		Code: "long-spur", Severity: Warning,
		Means:  "a spur is longer than allowed",
		When:   "A spur is longer than allowed for so many devices on the segment and on the spur.",
		In:     "bus",
		Before: "W-602: {type: bus-pair, from: JB-61, to: LT-602, length: 125 m}",
		After:  "W-602: {type: bus-pair, from: JB-61, to: LT-602, length: 25 m}",
	})

	LowVoltage = define(Kind{
		Code: "low-voltage", Severity: Error,
		Means:  "a device gets less voltage than it needs",
		When:   "The voltage at a device or coil is less than it needs, after all drops on the way.",
		In:     "signal",
		Before: "LT-103: {kind: transmitter, lift-off: 20 V}",
		After:  "LT-103: {kind: transmitter, lift-off: 10.5 V}",
	})

	MisplacedNext = define(Kind{
		Code: "misplaced-next", Severity: Error,
		Means:  "what counts stands outside of a path",
		When:   "The blank <next> gives terminals, pairs and channels in the steps of a circuit. Tags and other texts are not counted: their blanks are filled by the rows.",
		In:     "count",
		Before: "service: <next>",
		After:  "service: <service>",
	})

	MisplacedTerminator = define(Kind{
		Code: "misplaced-terminator", Severity: Error,
		Means:  "a terminator is not at an end of the trunk",
		When:   "The pair goes on past a terminator to another box, or of a serial link to another device.",
		In:     "bus",
		Before: "terminators: [PS-61, JB-61/X1 13 14]",
		After:  "terminators: [PS-61, JB-62/X1 7 8]",
	})

	MisroutedCable = define(Kind{
		Code: "misrouted-cable", Severity: Error,
		Means:  "a cable does not end where the path lands it",
		When:   "The ends of a cable are not the places between which the path uses it.",
		In:     "signal",
		Before: "W-102: {type: one-pair, from: FT-102, to: JB-2, length: 25 m}",
		After:  "W-102: {type: one-pair, from: FT-102, to: JB-1, length: 25 m}",
	})

	MissingBarrier = define(Kind{
		Code: "missing-barrier", Severity: Warning,
		Means: "a device in a hazardous area has safety values and no barrier",
		When:  `A device in a zone or division has "entity" or "simple apparatus", and its circuit has no barrier or isolator.`,
		In:    "safe",
		Before: `- wires
- AI-5 channel 1`,
		After: `- wires
- Z-501 1 2
- wires
- AI-5 channel 1`,
	})

	MissingBarrierEarth = define(Kind{
		Code: "missing-barrier-earth", Severity: Warning,
		Means:  "a barrier is on no earth bar",
		When:   "A barrier does not name the earth bar on which it is earthed. A galvanic isolator needs none.",
		In:     "safe",
		Before: "Z-501: {ohms: 300 ohm, return ohms: 0.5 ohm, working volts: 26 V, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}}",
		After:  "Z-501: {earth: IE, ohms: 300 ohm, return ohms: 0.5 ohm, working volts: 26 V, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}}",
	})

	MissingCurrent = define(Kind{
		Code: "missing-current", Severity: Error,
		Means:  "a voltage has no current",
		When:   "Two lift-off voltages are given, and one of them without its current.",
		In:     "signal",
		Before: "LT-103: {kind: transmitter, lift-off: [18 V at 4 mA, 10.5 V]}",
		After:  "LT-103: {kind: transmitter, lift-off: 10.5 V}",
	})

	MissingEarth = define(Kind{
		Code: "missing-earth", Severity: Error,
		Means:  "bonded terminals have no earth bar",
		When:   `Terminals are under "bonded", and no earth bar is named with "to".`,
		In:     "signal",
		Before: "X1: {terminals: 1..30, marks: + - S, bonded: 3..30 step 3}",
		After:  "X1: {terminals: 1..30, marks: + - S, bonded: 3..30 step 3 to IE}",
	})

	MissingEntity = define(Kind{
		Code: "missing-entity", Severity: Warning,
		Means:  "safety values cannot be compared: one is not given",
		When:   "A circuit has a barrier, and a value of the comparison is not given: of the barrier, of the device, or the length and the capacitance of the cable.",
		In:     "safe",
		Before: "W-501: {type: blue, from: PT-501, to: JB-5}",
		After:  "W-501: {type: blue, from: PT-501, to: JB-5, length: 10 m}",
	})

	MissingJumper = define(Kind{
		Code: "missing-jumper", Severity: Error,
		Means: "a path uses a jumper that the strip does not have",
		When:  `A path goes from one terminal to another by a jumper, and the "jumpers" of the strip do not join them.`,
		In:    "signal",
		Before: `- MC-1/X2 3 4
- jumper
- MC-1/X2 5 6
- wires`,
		After: `- MC-1/X2 3 4
- wires`,
	})

	MissingKey = define(Kind{
		Code: "missing-key", Severity: Error,
		Means: "a required key is missing",
		When:  "A key is missing without which the thing cannot be drawn or checked.",
		In:    "signal",
		Before: `F-102:
  area: Outlet`,
		After: `F-102:
  service: Outlet flow`,
	})

	MissingPitch = define(Kind{
		Code: "missing-pitch", Severity: Warning,
		Means: "the distance between two terminals is unknown without a pitch",
		When:  `A strip carries intrinsically safe and other terminals, and has no "pitch".`,
		In:    "safe",
		Before: `- JB-5/X1 20 21
- W-6 pair 1
…
X1: {terminals: 1..24}
X2: {terminals: 1..12, pitch: 6.2 mm}`,
		After: `- JB-5/X2 1 2
- W-6 pair 1
…
X1: {terminals: 1..24, pitch: 6.2 mm}
X2: {terminals: 1..12, pitch: 6.2 mm}`,
	})

	MissingSensor = define(Kind{
		Code: "missing-sensor", Severity: Warning,
		Means:  "a temperature sensor has no type",
		When:   `A thermocouple or an RTD has no "sensor". Its range and its leads cannot be checked.`,
		In:     "heat",
		Before: "TE-202: {kind: thermocouple, range: 0..600 °C, earthed: negative}",
		After:  "TE-202: {kind: thermocouple, sensor: K, range: 0..600 °C, earthed: negative}",
	})

	MissingSurgeEarth = define(Kind{
		Code: "missing-surge-earth", Severity: Warning,
		Means:  "a surge protector is on no earth bar",
		When:   "A surge protector does not name the earth bar that it leads to: without one it protects nothing.",
		In:     "joint",
		Before: "SP-701: {ohms: 2.2 ohm}",
		After:  "SP-701: {ohms: 2.2 ohm, earth: PE}",
	})

	MissingUnit = define(Kind{
		Code: "missing-unit", Severity: Error,
		Means:  "a number has no unit",
		When:   "A number has no unit, and several units are possible.",
		In:     "signal",
		Before: "insulation volts: 250",
		After:  "insulation volts: 250 V",
	})

	MissingValue = define(Kind{
		Code: "missing-value", Severity: Error,
		Means: "a key has no value",
		When:  "A key has nothing after its colon.",
		In:    "signal",
		Before: `at: 
earths: {BE: box earth}`,
		After: `at: Pump hall
earths: {BE: box earth}`,
	})

	MisusedEarthColour = define(Kind{
		Code: "misused-earth-colour", Severity: Error,
		Means: "a green-and-yellow core is used for other than earth",
		When:  "A core of green-and-yellow carries a signal or a supply. IEC 60445 keeps this colour for the protective earth.",
		In:    "switch",
		Before: `- W-302 cores 2 3
…
W-302: {type: mains, from: ZS-302, to: MC-3, length: 50 m}`,
		After: `- W-302
…
W-302: {type: pair, from: ZS-302, to: MC-3, length: 50 m}`,
	})

	MixedCable = define(Kind{
		Code: "mixed-cable", Severity: Error,
		Means: "mains and signals share a cable",
		When:  "A cable carries mains in some cores and signals in others.",
		In:    "switch",
		Before: `FT-308 mains: [FT-308 L N, W-308 cores 1 2, MC-3/X7 L4 N4]
…
- W-308 cores 3 4
…
W-308: {type: quad, from: FT-308, to: MC-3, length: 20 m}
…
pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}
quad: {cores: 4, conductor: 1.5 mm2, colours: [BN, BU, BK, WH], screen: none}`,
		After: `FT-308 mains: [FT-308 L N PE, W-309, MC-3/X7 L4 N4 PE4]
…
- W-308
…
W-308: {type: pair, from: FT-308, to: MC-3, length: 20 m}
…
pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}`,
	})

	MixedLevels = define(Kind{
		Code: "mixed-levels", Severity: Warning,
		Means: "signals of different levels share a cable without screens",
		When:  `A cable without a screen round each pair carries low-level signals beside switched ones (levels 1 and 2 of IEEE 518-1982). "mixed signals: yes" of the practice permits it.`,
		In:    "switch",
		Before: `- JB-3/X2 1 2
- W-3 pair 2`,
		After: `- JB-3/X2 1 2
- W-4 pair 1`,
	})

	MixedStrip = define(Kind{
		Code: "mixed-strip", Severity: Warning,
		Means: "signals of different levels are on one strip",
		When:  "A strip has mains or signals above 50 V beside low-level or switched signals.",
		In:    "switch",
		Before: `- MC-3/X1 20 21
- 1: [wires BN, MC-3/X7 L3]`,
		After: `- MC-3/X2 4 5
- 1: [wires BN, MC-3/X7 L3]`,
	})

	NoLoops = define(Kind{
		Code: "no-loops", Severity: Error,
		Means: "a plant without a loop",
		When:  "The files together describe no loop, so there is nothing to draw.",
		Before: `-- plant.yaml --
plant: Larch Sound`,
		After: `-- plant.yaml --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
	})

	NoOverallScreen = define(Kind{
		Code: "no-overall-screen", Severity: Error,
		Means:  "a landing for an overall screen that the cable does not have",
		When:   `A cable has "overall" that lands somewhere, and its type has no overall screen.`,
		In:     "signal",
		Before: "W-103: {type: plain, from: LT-103, to: MC-1, length: 30 m, overall: {from: x, to: IE}}",
		After:  "W-103: {type: plain, from: LT-103, to: MC-1, length: 30 m}",
	})

	NoPlant = define(Kind{
		Code: "no-plant", Severity: Error,
		Means: "a folder has no plant file",
		When:  "The folder holds no file that ends in .yaml or .yml.",
		Before: `-- plant.txt --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
		After: `-- plant.yaml --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
	})

	NoGrid = define(Kind{
		Code: "no-grid", Severity: Warning,
		Means:  "terminals are named from corner to corner of a board that is none",
		When:   "A span such as F1..N8 takes in all letters and numbers between its corners: F1 to F8, G1 to G8 and so on. The strip has no grid, so that it is likely two spans that were meant.",
		In:     "panel",
		Before: "X5: {terminals: [F1..N2 fused 1 A], jumpers: [F1..F2, N1..N2]}",
		After:  "X5: {terminals: [F1..F2 fused 1 A, N1..N2], jumpers: [F1..F2, N1..N2]}",
	})

	NoMember = define(Kind{
		Code: "no-member", Severity: Error,
		Means:  "what is to share a supply is no instrument with a supply of its own",
		When:   "A member of shared power is not in the place, or has no terminals by which it is fed.",
		In:     "panel",
		Before: "24 V: {from: X5 F2 N2, members: [LC-101, LC-103]}",
		After:  "24 V: {from: X5 F2 N2, members: [LC-101, LC-102]}",
	})

	NoPlaceLeft = define(Kind{
		Code: "no-place-left", Severity: Error,
		Means:  "nothing is left to count on",
		When:   "A row counts on a strip, cable or card that has no free place left: each is named by the text, kept for another loop, or given to a row before. Terminals that are to be side by side need as many free ones in a row.",
		In:     "count",
		Before: "JB-1: {at: Pump hall, strips: {X1: {terminals: 1..6, marks: + - S}}}",
		After:  "JB-1: {at: Pump hall, strips: {X1: {terminals: 1..9, marks: + - S}}}",
	})

	NoPosition = define(Kind{
		Code: "no-position", Severity: Warning,
		Means:  "an instrument on a front has no position",
		When:   "The front of a panel has rows and columns, and an instrument in it is neither given a position nor said to be behind.",
		In:     "switch",
		Before: "XL-315: {kind: lamp, in: CP-3, ohms: 2.4 kohm}",
		After:  "XL-315: {kind: lamp, in: CP-3, ohms: 2.4 kohm, position: 1B}",
	})

	NoScreen = define(Kind{
		Code: "no-screen", Severity: Error,
		Means: "a terminal is named for a screen, and no screen arrives there",
		When:  "A station names a terminal for the screen, and neither of the cables at that station brings a screen there.",
		In:    "signal",
		Before: `- MC-1/X2 3 4 5
- wires`,
		After: `- MC-1/X2 3 4
- wires`,
	})

	NoSource = define(Kind{
		Code: "no-source", Severity: Error,
		Means:  "nothing drives the current of a circuit",
		When:   "A current loop has no source: the device does not drive it, the card does not power it, and no leg ends on a fed terminal.",
		In:     "signal",
		Before: "- AI-2 channel 5",
		After:  "- AI-1 channel 5",
	})

	NotInService = define(Kind{
		Code: "not-in-service", Severity: Warning,
		Means: "an existing circuit uses something that is not existing",
		When:  "A loop or a device is existing, and a cable, strip or card on its path is new or future.",
		In:    "signal",
		Before: `F-104:
  service: Outlet valve
  status: existing`,
		After: `F-104:
  service: Outlet valve`,
	})

	NotListed = define(Kind{
		Code: "not-listed", Severity: Error,
		Means:  "a row of a list names what no list describes",
		When:   "A row of a list that is imported names a cable, core, place or terminal that no other row describes. The row is not placed.",
		In:     Lists,
		Before: "W-9,2b,white,JB-1/X1:4,MC-1/X1:4",
		After:  "W-1,2b,white,JB-1/X1:4,MC-1/X1:4",
	})

	NullUsed = define(Kind{
		Code: "null-used", Severity: Error,
		Means:  "a word that YAML takes for no value",
		When:   "A value or a key is null, Null, NULL or ~, which YAML takes for none. In quotes it is text.",
		In:     "signal",
		Before: "area: null",
		After:  "area: Inlet works",
	})

	NumberOutOfRange = define(Kind{
		Code: "number-out-of-range", Severity: Error,
		Means:  "a number is outside the limits of its key",
		When:   "A number is below the minimum or above the maximum of its key.",
		In:     "signal",
		Before: "insulation volts: -250 V",
		After:  "insulation volts: 250 V",
	})

	OddList = define(Kind{
		Code: "odd-list", Severity: Warning,
		Means:  "a list is read in spite of something odd",
		When:   "A list that is imported has hidden rows or columns, is not in UTF-8, leaves cells empty that repeat the row above, or has words of other offices. It is read; what was made of it is told.",
		In:     Lists,
		Before: ",2b,white,JB-1/X1:4,MC-1/X1:4",
		After:  "W-1,2b,white,JB-1/X1:4,MC-1/X1:4",
	})

	OffFront = define(Kind{
		Code: "off-front", Severity: Error, Milder: "in the field, or where the front has no rows and columns",
		Means:  "an instrument has a position that its place does not have",
		When:   "A position is outside the rows and columns of the front, or the instrument is in the field or in a place whose front has none.",
		In:     "switch",
		Before: "XL-315: {kind: lamp, in: CP-3, ohms: 2.4 kohm, position: 2B}",
		After:  "XL-315: {kind: lamp, in: CP-3, ohms: 2.4 kohm, position: 1B}",
	})

	OffPaper = define(Kind{
		Code: "off-paper", Severity: Error,
		Means: "a sheet has marks outside its frame",
		When:  "A sheet has marks outside its frame. Drawing stops.",
		In:    "wide",
		Before: `- +: [W-2 core 1, CP-1/XA 1, wires, CP-1/XB 1, wires, CP-1/XC 1, wires, CP-1/XD 1, wires, CP-1/XE 1, wires, CP-1/XF 1, wires, CP-1/XG 1, wires, CP-1/XH 1, W-3-TO-SYSTEM core 1, AI-1 channel 1 +]
  -: [W-2 core 2, CP-1/XA 2, wires, CP-1/XB 2, wires, CP-1/XC 2, wires, CP-1/XD 2, wires, CP-1/XE 2, wires, CP-1/XF 2, wires, CP-1/XG 2, wires, CP-1/XH 2, W-3-TO-SYSTEM core 2, AI-1 channel 1 -]`,
		After: `- +: [W-2 core 1, CP-1/XA 1, W-3-TO-SYSTEM core 1, AI-1 channel 1 +]
  -: [W-2 core 2, CP-1/XA 2, W-3-TO-SYSTEM core 2, AI-1 channel 1 -]`,
	})

	OpenCircuit = define(Kind{
		Code: "open-circuit", Severity: Error,
		Means: "a circuit is not landed at its end",
		When:  "A path ends on a run, or has only its first station.",
		In:    "signal",
		Before: `signal:
  - FV-104 + -
  - W-104`,
		After: `signal:
  - FV-104 + -
  - W-104
  - MC-1/X2 3 4
  - wires
  - AO-1 channel 1`,
	})

	OpenLeg = define(Kind{
		Code: "open-leg", Severity: Error,
		Means:  "a leg has an open end",
		When:   "A leg ends on a terminal that is no input, no output and not fed, or is cut back at its end.",
		In:     "signal",
		Before: "- MC-1/X2 3 4",
		After: `- MC-1/X2 3 4
- wires
- AO-1 channel 1`,
	})

	OpenTerminal = define(Kind{
		Code: "open-terminal", Severity: Warning,
		Means:  "a terminal of a device or channel has nothing landed on it",
		When:   "A circuit lands on a device or a channel and leaves one of its terminals without a conductor.",
		In:     "signal",
		Before: "- AI-1 channel 5 + x",
		After:  "- AI-1 channel 5",
	})

	OutsideGrid = define(Kind{
		Code: "outside-grid", Severity: Error,
		Means:  "a board has more terminals than places",
		When:   "A board names more terminals than its rows and columns have places.",
		In:     "signal",
		Before: "X1: {terminals: 1A..3D, grid: 2 x 4}",
		After:  "X1: {terminals: 1A..3D, grid: 3 x 4}",
	})

	OutputParts = define(Kind{
		Code: "output-parts", Severity: Warning,
		Means:  "the parts of an output leave a gap or overlap, or valves that move against each other both fail open",
		When:   "A function drives several circuits, each by a part of its output (split range), and there is an output at which nothing moves, or one at which two move, without the word for it in \"between parts\". Or one valve opens as the other closes, and without air both are open.",
		In:     "split",
		Before: "parts: [TV-111A 45..0 %, TV-111B 50..100 %]",
		After:  "parts: [TV-111A 50..0 %, TV-111B 50..100 %]",
	})

	OverdrivenBarrier = define(Kind{
		Code: "overdriven-barrier", Severity: Error,
		Means:  "a barrier gets more than its working voltage",
		When:   `The maximum voltage of the supply or card is more than the "working volts" of the barrier.`,
		In:     "safe",
		Before: "Z-501: {earth: IE, ohms: 300 ohm, return ohms: 0.5 ohm, working volts: 20 V, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}}",
		After:  "Z-501: {earth: IE, ohms: 300 ohm, return ohms: 0.5 ohm, working volts: 26 V, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}}",
	})

	OverdrivenSurgeProtector = define(Kind{
		Code: "overdriven-surge-protector", Severity: Error,
		Means:  "a surge protector gets more than its working voltage",
		When:   `The maximum voltage of the supply or card is more than the "working volts" of the surge protector: it leads away the current of the circuit.`,
		In:     "joint",
		Before: "SP-711: {ohms: 2.2 ohm, working volts: 15 V, earth: SE}",
		After:  "SP-711: {ohms: 2.2 ohm, working volts: 33 V, earth: SE}",
	})

	OverloadedFuse = define(Kind{
		Code: "overloaded-fuse", Severity: Error,
		Means:  "a fuse carries more than its rating",
		When:   "The loads on a fuse together draw more than its rating.",
		In:     "switch",
		Before: "X6: {terminals: [F1..F4 fused 50 mA, N1..N4], jumpers: [F1..F4, N1..N4]}",
		After:  "X6: {terminals: [F1..F4 fused 1 A, N1..N4], jumpers: [F1..F4, N1..N4]}",
	})

	OverloadedOutput = define(Kind{
		Code: "overloaded-output", Severity: Error,
		Means:  "an output cannot drive its load",
		When:   `The load of an output needs more resistance, voltage or current than its "drive" or "limit".`,
		In:     "signal",
		Before: "AO-1: {kind: AO, channels: 4, drive: 300 ohm, least load: 100 ohm}",
		After:  "AO-1: {kind: AO, channels: 4, drive: 750 ohm, least load: 100 ohm}",
	})

	OverloadedSpur = define(Kind{
		Code: "overloaded-spur", Severity: Error,
		Means:  "the devices on a spur draw more than its coupler lets through",
		When:   `The devices on a spur together draw more than the "limit" of the coupler that it is on. The coupler switches the spur off.`,
		In:     "bus",
		Before: "X1: {kind: spur protector, terminals: 1..15, marks: + - S, conductors: 2, spurs: [4..6, 10..12, 13..15], limit: 14 mA, drop: 1 V, draws: 4 mA}",
		After:  "X1: {kind: spur protector, terminals: 1..15, marks: + - S, conductors: 2, spurs: [4..6, 10..12, 13..15], limit: 45 mA, drop: 1 V, draws: 4 mA}",
	})

	OverloadedSupply = define(Kind{
		Code: "overloaded-supply", Severity: Error,
		Means:  "a supply has more load than its limit",
		When:   `All circuits and cards on a supply together draw more than its "limit".`,
		In:     "switch",
		Before: "PS-2: {volts: 24 V DC, limit: 50 mA}",
		After:  "PS-2: {volts: 24 V DC, limit: 2 A}",
	})

	PairMissing = define(Kind{
		Code: "pair-missing", Severity: Error,
		Means:  "a run does not say which pair",
		When:   "A run names a cable of several pairs without the pair.",
		In:     "signal",
		Before: "- W-105",
		After:  "- W-105 pair 1",
	})

	ParallelLoads = define(Kind{
		Code: "parallel-loads", Severity: Error,
		Means:  "two devices lie in parallel on one current",
		When:   "Both legs of a 4-20 mA circuit land on two devices, one after the other. The current parts between them, as their resistances have it, so that neither gets all of it. In series both do; two coils in parallel on a switched output are sound.",
		In:     "signal",
		Before: "- FI-102 + -",
		After:  "- FI-102 . +>-",
	})

	PatternLoop = define(Kind{
		Code: "pattern-loop", Severity: Error,
		Means:  "a pattern has no loop, or more than one",
		When:   "A pattern has to describe one loop, whose tag has a blank: every row that fills it makes one loop, and is known by the tag of that.",
		In:     "like",
		Before: "L-101:\n  service: <service>",
		After:  "L-<n>:\n  service: <service>",
	})

	PinsDiffer = define(Kind{
		Code: "pins-differ", Severity: Error,
		Means:  "a core goes into a plug on one pin and out on another",
		When:   "A circuit comes to a plug on one pin, and leaves the receptacle on another.",
		In:     "joint",
		Before: "- SK-7/P1 1>4 2 3",
		After:  "- SK-7/P1 1 2 3",
	})

	PortTwice = define(Kind{
		Code: "port-twice", Severity: Error,
		Means:  "two links in one port",
		When:   "Two links by plugs end at the same port of the same place.",
		In:     "bus",
		Before: "ends: [RC-6 port 2, PCS-6 port 1]",
		After:  "ends: [RC-6 port 2, PCS-6 port 2]",
	})

	PositionTwice = define(Kind{
		Code: "position-twice", Severity: Error,
		Means:  "two instruments have one position on a front",
		When:   "Two instruments of one panel or cabinet have the same position on its front.",
		In:     "switch",
		Before: "XL-315: {kind: lamp, in: CP-3, ohms: 2.4 kohm, position: 1A}",
		After:  "XL-315: {kind: lamp, in: CP-3, ohms: 2.4 kohm, position: 1B}",
	})

	RangeExceeded = define(Kind{
		Code: "range-exceeded", Severity: Error,
		Means:  "a range goes beyond what the sensor measures",
		When:   "The range of a temperature sensor goes beyond what its type measures.",
		In:     "heat",
		Before: "TE-202: {kind: thermocouple, sensor: K, range: 0..1500 °C, earthed: negative}",
		After:  "TE-202: {kind: thermocouple, sensor: K, range: 0..600 °C, earthed: negative}",
	})

	RangeMismatch = define(Kind{
		Code: "range-mismatch", Severity: Error,
		Means:  "the ranges of a device and its channel differ",
		When:   "The range of a device and the range of its channel differ.",
		In:     "signal",
		Before: "AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm, ranges: {5: 0..10 bar}}",
		After:  "AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}",
	})

	ReversedGroup = define(Kind{
		Code: "reversed-group", Severity: Error,
		Means:  "the word reversed does not follow a pair",
		When:   "The word reversed follows a triad, a quad or single cores.",
		In:     "heat",
		Before: "TE-205: [TE-205, W-205 triad 1 reversed, MC-2/X2 6 7 8, wires, RT-3 channel 2]",
		After:  "TE-205: [TE-205, W-205 triad 1, MC-2/X2 6 7 8, wires, RT-3 channel 2]",
	})

	ReversedPolarity = define(Kind{
		Code: "reversed-polarity", Severity: Error,
		Means:  "a + leg lands on a − terminal",
		When:   "A leg that begins at + lands on −, at a device, a card, a barrier or a supply.",
		In:     "signal",
		Before: "- AI-1 channel 5 - +",
		After:  "- AI-1 channel 5",
	})

	RootTwice = define(Kind{
		Code: "root-twice", Severity: Warning,
		Means:  "the square root of a flow is taken twice",
		When:   "A function takes the square root of a transmitter that is said to take it itself.",
		In:     "signal",
		Before: "FQ-102: {kind: square root, reads: FT-102}",
		After:  "FQ-102: {kind: totaliser, reads: FT-102}",
	})

	RowAstray = define(Kind{
		Code: "row-astray", Severity: Error,
		Means:  "a core or wire is on no path of a circuit",
		When:   "A row of a list that is imported belongs to a circuit, and no terminal joins it to the path of that circuit. The row is not placed.",
		In:     Lists,
		Before: "W-1,1a,black,JB-1/X2:9,MC-1/X1:1,FT-1,1,2",
		After:  "W-1,1a,black,JB-1/X1:1,MC-1/X1:1,FT-1,1,2",
	})

	RowTwice = define(Kind{
		Code: "row-twice", Severity: Error,
		Means:  "two rows make the same loop",
		When:   "Two rows fill a pattern so that the tag of the loop is the same. A row is known by the tag of its loop, not by its place in the table.",
		In:     "like",
		Before: "- {n: 101, service: Sump level, length: 25 m, land: 4 5 6, pair: 2}",
		After:  "- {n: 102, service: Sump level, length: 25 m, land: 4 5 6, pair: 2}",
	})

	RowsSkipped = define(Kind{
		Code: "rows-skipped", Severity: Warning,
		Means: "rows of a list are not placed, as they say nothing of their own",
		When:  "A list that is imported has titles above its heads, blank rows, totals, heads that come again, or rows of a single cell.",
		In:    Lists,
		Before: `W-3,one-pair,FT-2,JB-1,14
Total,,,,186`,
		After: "W-3,one-pair,FT-2,JB-1,14",
	})

	RunMissing = define(Kind{
		Code: "run-missing", Severity: Error,
		Means: "two stations with no cable or wires between them",
		When:  "Two stations follow each other with no cable, wires or jumper between them.",
		In:    "signal",
		Before: `- MC-1/X2 3 4
- AO-1 channel 1`,
		After: `- MC-1/X2 3 4
- wires
- AO-1 channel 1`,
	})

	SameDevice = define(Kind{
		Code: "same-device", Severity: Error,
		Means:  "a device is mounted on itself, or drives itself",
		When:   `The "on" of a device names the device itself.`,
		In:     "signal",
		Before: "FV-104: {kind: positioner, ohms: 460 ohm, on: FV-104}",
		After:  "FV-104: {kind: positioner, ohms: 460 ohm}",
	})

	SameTerminal = define(Kind{
		Code: "same-terminal", Severity: Error,
		Means:  "a leg goes in and out by one terminal",
		When:   "A station with an instrument in series has the same terminal for the way in and the way out.",
		In:     "signal",
		Before: "- FI-102 . +>+",
		After:  "- FI-102 . +>-",
	})

	ScreenEarthEnd = define(Kind{
		Code: "screen-earth-end", Severity: Warning,
		Means:  "a screen is not earthed at the end that the practice gives",
		When:   `A screen is earthed in the box and "screen earth" of the practice is the cabinet, or the other way round.`,
		In:     "signal",
		Before: "screen earth: box",
		After:  "screen earth: cabinet",
	})

	ScreenEarthedTwice = define(Kind{
		Code: "screen-earthed-twice", Severity: Error,
		Means:  "a screen is earthed at two points",
		When:   "A screen is on earth at both of its ends, or at two points of one circuit. A current flows along it.",
		In:     "signal",
		Before: "- FT-102 + - screen earth",
		After:  "- FT-102 + -",
	})

	ScreenMismatch = define(Kind{
		Code: "screen-mismatch", Severity: Error,
		Means:  "a cable and a path, or two cables, land one screen differently",
		When:   `"overall" of a cable and the path of a circuit land the same screen on different terminals.`,
		In:     "signal",
		Before: "W-102: {type: one-pair, from: FT-102, to: JB-1, length: 25 m, overall: {from: x, to: BE}}",
		After:  "W-102: {type: one-pair, from: FT-102, to: JB-1, length: 25 m}",
	})

	ScreenUnclear = define(Kind{
		Code: "screen-unclear", Severity: Error,
		Means:  "the word screen has no terminal after it, or several",
		When:   "The word screen is the last of a station, or several words follow it.",
		In:     "signal",
		Before: "- MC-1/X1 1 2 screen",
		After:  "- MC-1/X1 1 2 3",
	})

	ScreenUsedTwice = define(Kind{
		Code: "screen-used-twice", Severity: Error,
		Means: "a screen is used twice",
		When:  "The screen of a pair is used by two circuits, or by a circuit and the spares.",
		In:    "signal",
		Before: `- W-1 pair 1
- MC-1/X1 4 5 6`,
		After: `- W-1 pair 2
- MC-1/X1 4 5 6`,
	})

	SecondDocument = define(Kind{
		Code: "second-document", Severity: Error,
		Means: "a file holds two documents of YAML",
		When:  "A file has a line --- after its first keys. All after that line is ignored.",
		In:    "signal",
		Before: `plant: Larch Sound Pumping Station
---
owner: Larch Sound Water`,
		After: `plant: Larch Sound Pumping Station
owner: Larch Sound Water`,
	})

	SegmentEarths = define(Kind{
		Code: "segment-earths", Severity: Warning,
		Means:  "the screens of a segment are on earth at several points",
		When:   "The screens of a powered bus or multidrop line are on earth at more than one point, each section at one of its own. One point, at the supply, is common practice; where all earths of the plant are one by design, both ends may be meant.",
		In:     "bus",
		Before: "LT-601: [LT-601 + - screen earth, W-601, JB-61/X1 7 8]",
		After:  "LT-601: [LT-601, W-601, JB-61/X1 7 8 9]",
	})

	SegmentRing = define(Kind{
		Code: "segment-ring", Severity: Error,
		Means: "the pair of a segment closes a ring",
		When:  "Cores lead back to a point of the segment that other cores lead to already. A segment is a trunk with two ends.",
		In:    "bus",
		Before: `LT-603: [LT-603, W-603, JB-62/X1 4 5 6]
west again: [JB-62/X1 7 8 screen 9, W-63, JB-61/X1 13 14 15]`,
		After: "LT-603: [LT-603, W-603, JB-62/X1 4 5 6]",
	})

	SetPointOutside = define(Kind{
		Code: "set-point-outside", Severity: Warning,
		Means:  "a set point is outside the range of what it is compared with",
		When:   "The set point of a controller, an alarm or a trip amplifier is outside the range of the device that it reads, so that it is never reached.",
		In:     "signal",
		Before: "FAH-101: {kind: alarm, reads: FT-101, alarms: [H 500 m3/h]}",
		After:  "FAH-101: {kind: alarm, reads: FT-101, alarms: [H 400 m3/h]}",
	})

	SheetTooNarrow = define(Kind{
		Code: "sheet-too-narrow", Severity: Warning,
		Means: "a loop has more stations in a row than fit its paper",
		When:  "A loop has more stations side by side than its paper is wide. The sheet is laid out all the same, and marks outside its frame are reported as off-paper.",
		In:    "wide",
		Before: `- +: [W-2 core 1, CP-1/XA 1, wires, CP-1/XB 1, wires, CP-1/XC 1, wires, CP-1/XD 1, wires, CP-1/XE 1, wires, CP-1/XF 1, wires, CP-1/XG 1, wires, CP-1/XH 1, W-3-TO-SYSTEM core 1, AI-1 channel 1 +]
  -: [W-2 core 2, CP-1/XA 2, wires, CP-1/XB 2, wires, CP-1/XC 2, wires, CP-1/XD 2, wires, CP-1/XE 2, wires, CP-1/XF 2, wires, CP-1/XG 2, wires, CP-1/XH 2, W-3-TO-SYSTEM core 2, AI-1 channel 1 -]`,
		After: `- +: [W-2 core 1, CP-1/XA 1, W-3-TO-SYSTEM core 1, AI-1 channel 1 +]
  -: [W-2 core 2, CP-1/XA 2, W-3-TO-SYSTEM core 2, AI-1 channel 1 -]`,
	})

	SharedWay = define(Kind{
		Code: "shared-way", Severity: Warning,
		Means: "two links of a rack go one way",
		When:  "Two links of remote I/O have one cable or one route. Each is there in case the other fails, and damage there takes both.",
		In:    "bus",
		Before: `route: duct D1
length: 85 m`,
		After: `route: tray T2
length: 85 m`,
	})

	ShortJumper = define(Kind{
		Code: "short-jumper", Severity: Error,
		Means:  "a jumper is on fewer than two terminals",
		When:   "A jumper names one terminal only.",
		In:     "signal",
		Before: "X3: {terminals: 1..12, jumpers: [1]}",
		After:  "X3: {terminals: 1..12, jumpers: [1..2]}",
	})

	ShortedSupply = define(Kind{
		Code: "shorted-supply", Severity: Error,
		Means: "a supply or an output is shorted",
		When:  "A contact lies straight across a supply, or an output ends on a supply: nothing limits the current. Or a converter or positioner does, and no output holds its current.",
		In:    "switch",
		Before: `- 1: [wires, MC-3/X5 F3]
  2: [wires, MC-3/X5 N3]`,
		After: `- 1: [wires, MC-3/X5 F3]
  2: [wires, DI-3 channel 1 +>-, wires, MC-3/X5 N3]`,
	})

	SlowHART = define(Kind{
		Code: "slow-hart", Severity: Warning,
		Means:  "resistance and capacitance of a loop are too much for HART",
		When:   "The resistance of a loop times the capacitance of its cables is more than 65 µs. HART signals are then too weak.",
		In:     "signal",
		Before: "W-1: {type: six-pair, from: JB-1, to: MC-1, length: 3 km, spares: {pair 6: {from: X1 28 29 30, to: X1 28 29 30}}}",
		After:  "W-1: {type: six-pair, from: JB-1, to: MC-1, length: 165 m, spares: {pair 6: {from: X1 28 29 30, to: X1 28 29 30}}}",
	})

	SplitChannel = define(Kind{
		Code: "split-channel", Severity: Error,
		Means: "the legs of a circuit land on two channels",
		When:  "The legs of a circuit land on terminals of two channels.",
		In:    "signal",
		Before: `- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 4 -]`,
		After: `- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 3 -]`,
	})

	SplitContact = define(Kind{
		Code: "split-contact", Severity: Error,
		Means:  "a circuit lands on terminals that no contact joins",
		When:   "The legs of a circuit land on terminals of two contacts, of a contact and the coil, or on both sides of a changeover contact without its common. Nothing ever joins these.",
		In:     "switch",
		Before: "- +: [wires, K-313 14>12, wires, MC-3/X6 F3]",
		After:  "- +: [wires, K-313 14>11, wires, MC-3/X6 F3]",
	})

	SplitPair = define(Kind{
		Code: "split-pair", Severity: Error,
		Means:  "two circuits share a pair, or one circuit is split over two pairs",
		When:   "The two legs of a circuit run in two pairs, or two circuits share a pair. The pairs then disturb each other.",
		In:     "signal",
		Before: "- W-105 cores 1 4",
		After:  "- W-105 pair 1",
	})

	SplitRange = define(Kind{
		Code: "split-range", Severity: Warning,
		Means:  "devices on one output take the same part of its signal, or leave a gap",
		When:   "Several devices take the signal of one output, wired in series, and two have the same range, so that they move together, or there is a part of the signal at which none moves.",
		In:     "signal",
		Before: "TY-106: {kind: positioner, ohms: 200 ohm, signal: 13..20 mA}",
		After:  "TY-106: {kind: positioner, ohms: 200 ohm, signal: 12..20 mA}",
	})

	SplitSupplies = define(Kind{
		Code: "split-supplies", Severity: Error,
		Means: "the current of a circuit does not come back to its supply",
		When:  "The current of a circuit leaves one supply and returns to another.",
		In:    "switch",
		Before: `- +: [wires, MC-3/X6 F2]
  -: [wires, MC-3/X5 N2]`,
		After: `- +: [wires, MC-3/X6 F2]
  -: [wires, MC-3/X6 N2]`,
	})

	SpurShort = define(Kind{
		Code: "spur-short", Severity: Warning,
		Means:  "a short on one spur takes the segment down",
		When:   "With one spur short, the coupler lets through more than the supply of the segment has left, or other devices get less voltage than they need.",
		In:     "bus",
		Before: "X1: {kind: spur protector, terminals: 1..15, marks: + - S, conductors: 2, spurs: [4..6, 10..12, 13..15], limit: 400 mA, drop: 1 V, draws: 4 mA}",
		After:  "X1: {kind: spur protector, terminals: 1..15, marks: + - S, conductors: 2, spurs: [4..6, 10..12, 13..15], limit: 45 mA, drop: 1 V, draws: 4 mA}",
	})

	SpurTwice = define(Kind{
		Code: "spur-twice", Severity: Warning,
		Means:  "two cables on one spur of a coupler",
		When:   "Two cables land on one spur of a coupler. A fault on one takes the devices of both down.",
		In:     "bus",
		Before: "LT-606: [LT-606, W-606, JB-62/X1 4 5 6]",
		After:  "LT-606: [LT-606, W-606, JB-62/X1 10 11 12]",
	})

	StarvedSwitch = define(Kind{
		Code: "starved-switch", Severity: Error,
		Means:  "a switch carries less current than it needs",
		When:   `An input draws less current than the "least current" of the switch.`,
		In:     "switch",
		Before: "ZS-301: {kind: two-wire switch, set: closes when shut, leakage: 0.4 mA, drop: 2 V, least current: 8 mA}",
		After:  "ZS-301: {kind: two-wire switch, set: closes when shut, leakage: 0.4 mA, drop: 2 V}",
	})

	StationMissing = define(Kind{
		Code: "station-missing", Severity: Error,
		Means: "two runs with no station between them",
		When:  "Two runs follow each other, or legs separate, and no station between them lands the cores.",
		In:    "signal",
		Before: `- W-104
- wires
- AO-1 channel 1`,
		After: `- W-104
- MC-1/X2 3 4
- wires
- AO-1 channel 1`,
	})

	StepAfterParting = define(Kind{
		Code: "step-after-parting", Severity: Error,
		Means: "a path goes on after its legs have separated",
		When:  "A path goes on after the item that separates its legs.",
		In:    "signal",
		Before: `- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 3 -]
- wires`,
		After: `- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 3 -]`,
	})

	SurgeOnOtherBar = define(Kind{
		Code: "surge-on-other-bar", Severity: Warning,
		Means:  "a surge protector is on another earth bar than the barrier behind it",
		When:   "In one place a circuit goes through a surge protector and a barrier, which are on different earth bars: a surge lifts one above the other (common practice).",
		In:     "joint",
		Before: "SP-702: {ohms: 1 ohm, earth: SE, entity: {Ui: 30 V, Ii: 500 mA, Pi: 1.3 W, Ci: 1 nF, Li: 0 uH}}",
		After:  "SP-702: {ohms: 1 ohm, earth: IE, entity: {Ui: 30 V, Ii: 500 mA, Pi: 1.3 W, Ci: 1 nF, Li: 0 uH}}",
	})

	TabIndent = define(Kind{
		Code: "tab-indent", Severity: Error,
		Means:  "an indent has a tab",
		When:   "A line is indented with a tab. YAML takes blanks only.",
		In:     "signal",
		Before: "F-104:\n\tservice: Outlet valve",
		After: `F-104:
  service: Outlet valve`,
	})

	TagTwice = define(Kind{
		Code: "tag-twice", Severity: Error,
		Means: "two things have one tag",
		When:  "Two things of one kind, or a device and a place, have the same tag, or the cable of a link by plugs has that of something else. It may be in two files.",
		In:    "signal",
		Before: `MC-1:
  at: Inlet works
…
JB-1:
  at: Pump hall`,
		After: `JB-2:
  at: Inlet works
…
JB-1:
  at: Pump hall`,
	})

	TagUsed = define(Kind{
		Code: "tag-used", Severity: Error,
		Means:  "a type tag of YAML, which this language does not have",
		When:   "A value begins with !, a type tag of YAML.",
		In:     "signal",
		Before: "area: !text Inlet works",
		After:  "area: Inlet works",
	})

	TakenTwice = define(Kind{
		Code: "taken-twice", Severity: Error,
		Means:  "a function takes the output of another twice",
		When:   "A function names another twice under takes.",
		In:     "signal",
		Before: "FY-104: {kind: high select, takes: [FIC-104, LIC-104, LIC-104], drives: signal}",
		After:  "FY-104: {kind: high select, takes: [FIC-104, LIC-104], drives: signal}",
	})

	TerminalCrowded = define(Kind{
		Code: "terminal-crowded", Severity: Error,
		Means: "one side of a terminal has more conductors than it takes",
		When:  `More conductors land on one side of a terminal than "conductors" of its strip, 1 by default.`,
		In:    "switch",
		Before: `- 1: [wires, MC-3/X5 F3]
  2: [wires, DI-3 channel 1 +>-, wires, MC-3/X5 N5]`,
		After: `- 1: [wires, MC-3/X5 F3]
  2: [wires, DI-3 channel 1 +>-, wires, MC-3/X5 N3]`,
	})

	TerminalTwice = define(Kind{
		Code: "terminal-twice", Severity: Error,
		Means:  "a part has two terminals of one name",
		When:   "A strip, card or barrier has two terminals of one name.",
		In:     "signal",
		Before: "X2: {terminals: [1..6, 6]}",
		After:  "X2: {terminals: 1..6}",
	})

	TerminalUsedTwice = define(Kind{
		Code: "terminal-used-twice", Severity: Error,
		Means: "a terminal carries two circuits, or a circuit and spares",
		When:  "Two circuits, or a circuit and the spares, land on one terminal that no supply feeds.",
		In:    "signal",
		Before: `- MC-1/X2 1 4
- wires`,
		After: `- MC-1/X2 3 4
- wires`,
	})

	TerminalsMismatch = define(Kind{
		Code: "terminals-mismatch", Severity: Error,
		Means:  "the number of terminals is wrong",
		When:   "A device, a card, a barrier or a spare pair has more or fewer terminals than it must have.",
		In:     "signal",
		Before: "Z-1: {terminals: 1 2 3, earth: IE}",
		After:  "Z-1: {terminals: 1 2 3 4, earth: IE}",
	})

	TerminalsMissing = define(Kind{
		Code: "terminals-missing", Severity: Error,
		Means: "a path begins without terminals",
		When:  "A path begins on a strip, and the terminals are not named.",
		In:    "signal",
		Before: `signal:
  - MC-1/X2
  - wires
  - AO-1 channel 1`,
		After: `signal:
  - FV-104 + -
  - W-104
  - MC-1/X2 3 4
  - wires
  - AO-1 channel 1`,
	})

	TerminalsOver = define(Kind{
		Code: "terminals-over", Severity: Error,
		Means:  "more terminals than cores",
		When:   "A station names more terminals than one for each core and one for the screen.",
		In:     "signal",
		Before: "- MC-1/X2 3 4 5 6",
		After:  "- MC-1/X2 3 4",
	})

	TerminalsShort = define(Kind{
		Code: "terminals-short", Severity: Error,
		Means:  "fewer terminals than cores",
		When:   "A station names fewer terminals than cores arrive.",
		In:     "signal",
		Before: "- MC-1/X2 3",
		After:  "- MC-1/X2 3 4",
	})

	TerminatorAway = define(Kind{
		Code: "terminator-away", Severity: Error,
		Means:  "a terminator where the pair does not come",
		When:   "A terminator is named at a part that no circuit of the segment lands on.",
		In:     "bus",
		Before: "terminators: [SL-1, LT-601]",
		After:  "terminators: [SL-1, AT-605]",
	})

	TerminatorCount = define(Kind{
		Code: "terminator-count", Severity: Error,
		Means:  "a segment does not have two terminators",
		When:   "A segment has more or fewer than two terminators. One is fitted at each end of its trunk.",
		In:     "bus",
		Before: "terminators: [SL-1]",
		After:  "terminators: [SL-1, AT-605]",
	})

	TextTooLong = define(Kind{
		Code: "text-too-long", Severity: Warning,
		Means:  "a text is cut on a sheet",
		When:   "A text does not fit its place on a sheet, not even narrowed, wrapped and set smaller. It is cut, and … marks the cut.",
		In:     "signal",
		Before: "AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm, address: node-of-the-remote-input-and-output-station-in-the-instrument-room-slot-3}",
		After:  "AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}",
	})

	TooMany = define(Kind{
		Code: "too-many", Severity: Error,
		Means:  "a plant has more of something than its limit",
		When:   "A strip, a card, a cable or the whole plant has more of something than the limits in the language reference.",
		In:     "signal",
		Before: "X2: {terminals: [1..1500, A1..A1500]}",
		After:  "X2: {terminals: 1..6}",
	})

	TooManyDevices = define(Kind{
		Code: "too-many-devices", Severity: Error,
		Means:  "more devices than a segment may have",
		When:   `More devices hang on a segment than its kind allows, or than "segment devices" of the practice.`,
		In:     "bus",
		Before: "practice: {earthed pole: none, segment devices: 2}",
		After:  "practice: {earthed pole: none}",
	})

	TrunkOnSpur = define(Kind{
		Code: "trunk-on-spur", Severity: Error,
		Means:  "the trunk goes on by a spur of a coupler",
		When:   "A section of the trunk of a segment lands on terminals of a coupler that are of a spur. All beyond it has the current of one spur.",
		In:     "bus",
		Before: "- JB-62/X1 13 14 screen 15",
		After:  "- JB-62/X1 1 2 screen 3",
	})

	TurnedBarrier = define(Kind{
		Code: "turned-barrier", Severity: Error,
		Means:  "the safe side of a barrier is towards the field",
		When:   "The field side of a circuit lands on the safe-side terminals of a barrier.",
		In:     "safe",
		Before: "- Z-501 3 4",
		After:  "- Z-501 1 2",
	})

	TurnedSurgeProtector = define(Kind{
		Code: "turned-surge-protector", Severity: Error,
		Means:  "the line is on the protected side of a surge protector",
		When:   "The cores from the line land on the terminals of a surge protector that go to what it protects.",
		In:     "joint",
		Before: "- SP-711 3 4",
		After:  "- SP-711 1 2",
	})

	TwoCodes = define(Kind{
		Code: "two-codes", Severity: Error,
		Means:  "the colours of a cable type are not those of its code",
		When:   `A cable type has both "colours" and "code", and a pair, triad, quad or core has other colours by one than by the other.`,
		In:     "signal",
		Before: "two-pair: {pairs: 2, conductor: 1.0 mm2, code: black/white numbered, colours: [BK WH, RD BU], screen: none}",
		After:  "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
	})

	TwoSources = define(Kind{
		Code: "two-sources", Severity: Error,
		Means:  "two things drive one current",
		When:   "Two sources drive one current: a device and a card, a card and a supply, or two supplies.",
		In:     "switch",
		Before: "- AI-2 channel 1",
		After:  "- AI-1 channel 1",
	})

	TwoWiresInOne = define(Kind{
		Code: "two-wires-in-one", Severity: Error,
		Means: "a wire changes its kind or colour on the way",
		When:  "A leg passes a station with a dot, and the wires before and after it have two colours or sizes. It is one wire.",
		In:    "signal",
		Before: `- wires BK
- FI-102 . +>-
- wires RD`,
		After: `- wires BK
- FI-102 . +>-
- wires BK`,
	})

	UnderloadedOutput = define(Kind{
		Code: "underloaded-output", Severity: Error,
		Means:  "an output has less load than it needs",
		When:   `An output has less load than the "least load" of its card.`,
		In:     "signal",
		Before: "FV-104: {kind: positioner, ohms: 20 ohm}",
		After:  "FV-104: {kind: positioner, ohms: 460 ohm}",
	})

	UndrawableText = define(Kind{
		Code: "undrawable-text", Severity: Error,
		Means:  "a letter that cannot be drawn",
		When:   "A text or a tag holds a letter that the fonts of the sheets do not have.",
		In:     "signal",
		Before: "area: Inlet 温度",
		After:  "area: Inlet works",
	})

	UnearthedScreen = define(Kind{
		Code: "unearthed-screen", Severity: Error, Milder: "for spares",
		Means:  "a screen is earthed nowhere",
		When:   "Neither end of a screen lands on an earth bar or a bonded terminal, or no end is given. It is a warning for the screens of spares.",
		In:     "signal",
		Before: "- MC-1/X1 1 2 x",
		After:  "- MC-1/X1 1 2 3",
	})

	UnfedCard = define(Kind{
		Code: "unfed-card", Severity: Error,
		Means:  "a card is fed by no DC supply",
		When:   `The "supply" of a card names a terminal that no DC supply feeds, or the return of one.`,
		In:     "switch",
		Before: "AI-1: {kind: AI, power: loop, channels: 4, ohms: 250 ohm, supply: X1 24}",
		After:  "AI-1: {kind: AI, power: loop, channels: 4, ohms: 250 ohm, supply: X5 F8}",
	})

	UnfilledBlank = define(Kind{
		Code: "unfilled-blank", Severity: Error,
		Means:  "a row gives nothing for a blank of its pattern",
		When:   "A blank of the pattern is filled neither by the row nor beside the name of the pattern, or its cell is empty. NOT GIVEN in the cell leaves out a key whose value is this blank alone.",
		In:     "like",
		Before: "- {n: 102, service: Sump level, land: 4 5 6, pair: 2}",
		After:  "- {n: 102, service: Sump level, length: 25 m, land: 4 5 6, pair: 2}",
	})

	UnknownAlloy = define(Kind{
		Code: "unknown-alloy", Severity: Warning,
		Means: "the alloy of a run in a thermocouple circuit is unknown",
		When:  "The alloy of a cable or of wires in a thermocouple circuit does not follow from their colours.",
		In:    "heat",
		Before: `- wires
- TC-1 channel 1`,
		After: `- wires GN WH
- TC-1 channel 1`,
	})

	UnknownChannel = define(Kind{
		Code: "unknown-channel", Severity: Error,
		Means:  "a channel that the card does not have",
		When:   `A station names a channel above the "channels" of the card.`,
		In:     "signal",
		Before: "- AI-1 channel 9",
		After:  "- AI-1 channel 5",
	})

	UnknownCircuit = define(Kind{
		Code: "unknown-circuit", Severity: Error,
		Means:  "a circuit that the plant does not have",
		When:   "A function reads or drives a circuit that no loop has.",
		In:     "signal",
		Before: "FAH-101: {kind: alarm, reads: FT-999, alarms: [H 400 m3/h]}",
		After:  "FAH-101: {kind: alarm, reads: FT-101, alarms: [H 400 m3/h]}",
	})

	UnknownFunction = define(Kind{
		Code: "unknown-function", Severity: Error,
		Means:  "a function that the plant does not have",
		When:   "A function takes the output of one that no loop has.",
		In:     "signal",
		Before: "FIC-104: {kind: controller, reads: FT-101, action: reverse, takes: LIC-109}",
		After:  "FIC-104: {kind: controller, reads: FT-101, action: reverse, takes: LIC-103}",
	})

	UnknownCode = define(Kind{
		Code: "unknown-code", Severity: Error,
		Means:  "a colour code that ringout does not have",
		When:   `The "code" of a cable type is none of the colour codes in the language reference.`,
		In:     "signal",
		Before: "twin: {pairs: 2, conductor: 1.0 mm2, code: 26-pair, screen: overall}",
		After:  "twin: {pairs: 2, conductor: 1.0 mm2, code: black/white numbered, screen: overall}",
	})

	UnknownColour = define(Kind{
		Code: "unknown-colour", Severity: Error,
		Means:  "a word is not a colour",
		When:   "A word in a list of colours or after wires is no colour by IEC 60757 and no colour in words.",
		In:     "signal",
		Before: "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD PUCE], screen: none}",
		After:  "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
	})

	UnknownCore = define(Kind{
		Code: "unknown-core", Severity: Error,
		Means:  "a core or group that the cable does not have",
		When:   "A run, or spares of a cable, names a pair or core beyond those of the cable type.",
		In:     "signal",
		Before: "- W-105 pair 3",
		After:  "- W-105 pair 1",
	})

	UnknownEarth = define(Kind{
		Code: "unknown-earth", Severity: Error,
		Means:  "an earth bar that the place does not have",
		When:   `An earth bar is named that is not under "earths" of the place.`,
		In:     "signal",
		Before: "X1: {terminals: 1..30, marks: + - S, bonded: 3..30 step 3 to PE}",
		After:  "X1: {terminals: 1..30, marks: + - S, bonded: 3..30 step 3 to IE}",
	})

	UnknownKey = define(Kind{
		Code: "unknown-key", Severity: Error,
		Means:  "a key that the block does not have",
		When:   "A key is misspelt, or is in a block that does not have it.",
		In:     "signal",
		Before: "LT-103: {kind: transmitter, lift-of: 10.5 V}",
		After:  "LT-103: {kind: transmitter, lift-off: 10.5 V}",
	})

	UnknownLeg = define(Kind{
		Code: "unknown-leg", Severity: Error,
		Means: "a leg that the circuit does not have",
		When:  "A key after the legs separate is neither the mark nor the number of a leg.",
		In:    "signal",
		Before: `- +: [wires, AI-1 channel 3 +]
  A: [wires, AI-1 channel 3 -]`,
		After: `- +: [wires, AI-1 channel 3 +]
  -: [wires, AI-1 channel 3 -]`,
	})

	UnknownPattern = define(Kind{
		Code: "unknown-pattern", Severity: Error,
		Means:  "no pattern has this name",
		When:   `An item of "like loops" names a pattern that no file of the plant describes.`,
		In:     "like",
		Before: "- pattern: levels",
		After:  "- pattern: level",
	})

	UnknownSensor = define(Kind{
		Code: "unknown-sensor", Severity: Error,
		Means:  "a sensor that ringout has no table for",
		When:   `The "sensor" is none of the types of which ringout has a table.`,
		In:     "heat",
		Before: "TE-202: {kind: thermocouple, sensor: Q, range: 0..600 °C, earthed: negative}",
		After:  "TE-202: {kind: thermocouple, sensor: K, range: 0..600 °C, earthed: negative}",
	})

	UnknownStrip = define(Kind{
		Code: "unknown-strip", Severity: Error,
		Means:  "a strip that the place does not have",
		When:   "A place has no strip, part or earth bar of the name that follows it.",
		In:     "signal",
		Before: "- MC-1/X9 3 4",
		After:  "- MC-1/X3 3 4",
	})

	UnknownTag = define(Kind{
		Code: "unknown-tag", Severity: Error,
		Means:  "a tag that nothing in the plant has",
		When:   "A path, a cable or a key names a tag that nothing in the plant has.",
		In:     "signal",
		Before: "W-102: {type: one-pair, from: FT-102, to: JB-9, length: 25 m}",
		After:  "W-102: {type: one-pair, from: FT-102, to: JB-1, length: 25 m}",
	})

	UnknownTerminal = define(Kind{
		Code: "unknown-terminal", Severity: Error,
		Means:  "a terminal that the part does not have",
		When:   "A strip, device, card or supply has no terminal of the name that is written.",
		In:     "signal",
		Before: "- MC-1/X3 3 40",
		After:  "- MC-1/X3 3 4",
	})

	UnknownType = define(Kind{
		Code: "unknown-type", Severity: Error,
		Means:  "a cable type that the plant does not have",
		When:   `The "type" of a cable is not under "cable types".`,
		In:     "signal",
		Before: "W-103: {type: plane, from: LT-103, to: MC-1, length: 30 m}",
		After:  "W-103: {type: plain, from: LT-103, to: MC-1, length: 30 m}",
	})

	UnknownUnit = define(Kind{
		Code: "unknown-unit", Severity: Error,
		Means:  "a unit that does not fit the key",
		When:   "A unit is misspelt, or is one of another quantity than the key.",
		In:     "signal",
		Before: "W-103: {type: plain, from: LT-103, to: MC-1, length: 30 Feet}",
		After:  "W-103: {type: plain, from: LT-103, to: MC-1, length: 30 m}",
	})

	UnknownWord = define(Kind{
		Code: "unknown-word", Severity: Error,
		Means:  "a word that the key does not take",
		When:   "A value is none of the words that the key takes.",
		In:     "signal",
		Before: "paper: A5",
		After:  "paper: A3",
	})

	UnlikeLeads = define(Kind{
		Code: "unlike-leads", Severity: Warning,
		Means: "leads that a card assumes equal have different resistances",
		When:  "The leads of a three-wire sensor differ in size or length, and the card assumes them equal.",
		In:    "heat",
		Before: `- 1: [W-206 core 1, MC-2/X2 1, wires, RT-3 channel 1 1A]
  2: [W-203 core 1, MC-2/X2 2, wires, RT-3 channel 1 1B1]
  3: [W-203 core 2, MC-2/X2 3, wires, RT-3 channel 1 1B2]
…
W-203: {type: three-core, from: TE-203, to: MC-2, length: 30 m}
W-206: {type: thin, from: TE-203, to: MC-2, length: 30 m}`,
		After: `- W-203 cores 1 2 3
- MC-2/X2 1 2 3
- wires
- RT-3 channel 1
…
W-203: {type: three-core, from: TE-203, to: MC-2, length: 30 m}`,
	})

	UnlinkedRack = define(Kind{
		Code: "unlinked-rack", Severity: Warning,
		Means:  "no link leads from remote I/O to its controller",
		When:   "Circuits are on cards of a place that has a controller, and no link leads there, by way of others too: a serial link with a device or port in each place, or a link with ends in both.",
		In:     "bus",
		Before: "controller: PCS-7",
		After:  "controller: PCS-6",
	})

	UnlikelyTag = define(Kind{
		Code: "unlikely-tag", Severity: Warning,
		Means:  "the letters of a tag mean another kind of device",
		When:   "The letters of a tag mean another function than that of the device (ISA-5.1-2009 table 4.1).",
		In:     "signal",
		Before: "LT-103: {kind: contact}",
		After:  "LT-103: {kind: transmitter, lift-off: 10.5 V}",
	})

	UnprotectedSpur = define(Kind{
		Code: "unprotected-spur", Severity: Warning,
		Means:  "a spur lands on the trunk terminals of a coupler",
		When:   "The cable of a spur lands on terminals of a coupler that are of the trunk: a short on it takes the segment down, and of a field barrier it is not intrinsically safe.",
		In:     "bus",
		Before: "LT-606: [LT-606, W-606, JB-62/X1 7 8 9]",
		After:  "LT-606: [LT-606, W-606, JB-62/X1 10 11 12]",
	})

	UnreadValue = define(Kind{
		Code: "unread-value", Severity: Warning,
		Means:  "the rating of a fuse or the value of a set point cannot be read",
		When:   "A fuse does not begin with its rating in A or mA, nor is written as it is marked (C6), or a set point is no number in plain digits. It is printed as written, and nothing is calculated with it or checked against it.",
		In:     "signal",
		Before: "FAH-101: {kind: alarm, reads: FT-101, alarms: [\"H 400,0 m3/h\"]}",
		After:  "FAH-101: {kind: alarm, reads: FT-101, alarms: [H 400 m3/h]}",
	})

	UnreadableFile = define(Kind{
		Code: "unreadable-file", Severity: Error,
		Means:  "a file cannot be read",
		When:   "A file or folder does not exist, may not be read, or is larger than 64 MB.",
		Before: "-- plant.yaml -> ../old/plant.yaml --",
		After: `-- plant.yaml --
plant: Larch Sound
loops:
  F-1:
    service: Inlet flow
    devices: {FT-1: {kind: transmitter, status: future}}`,
	})

	UnsafeCable = define(Kind{
		Code: "unsafe-cable", Severity: Error,
		Means: "intrinsically safe and other circuits share a cable",
		When:  "A cable carries intrinsically safe circuits and others.",
		In:    "safe",
		Before: `- W-5 pair 2
- MC-5/X2 1 2`,
		After: `- W-6 pair 1
- MC-5/X2 1 2`,
	})

	UnsafeDistance = define(Kind{
		Code: "unsafe-distance", Severity: Error,
		Means: "intrinsically safe and other terminals are too close together",
		When:  `Intrinsically safe and other terminals of one strip are nearer to each other than "safe distance" of the practice, 50 mm by default.`,
		In:    "safe",
		Before: `- JB-5/X1 5 6
- W-6 pair 1`,
		After: `- JB-5/X2 1 2
- W-6 pair 1`,
	})

	UnsolvedCircuit = define(Kind{
		Code: "unsolved-circuit", Severity: Error,
		Means: "the currents of a circuit cannot be calculated",
		When:  "A circuit with sources has no closed path, or lies straight across one, so its currents cannot be calculated.",
		In:    "switch",
		Before: `- +: [wires, AI-2 channel 1 +]
  -: [wires, MC-3/X5 N4]`,
		After: `- +: [wires, MC-3/X5 F4]
  -: [wires, AI-1 channel 2 +>-, wires, MC-3/X5 N4]`,
	})

	UnsureColours = define(Kind{
		Code: "unsure-colours", Severity: Warning,
		Means:  "the colours of a code are unverified",
		When:   "The colours of a code for this size of cable are unverified: not compared with a published table.",
		In:     "signal",
		Before: "two-pair: {pairs: 2, conductor: 1.0 mm2, code: black/red numbered, screen: none}",
		After:  "two-pair: {pairs: 2, conductor: 1.0 mm2, colours: [BK WH, RD BU], screen: none}",
	})

	UnsureOff = define(Kind{
		Code: "unsure-off", Severity: Error,
		Means:  "a switch that is off may not hold its input at 0",
		When:   "A switch that is off still passes a current, by its leakage or its parallel resistor. The input may then read 1.",
		In:     "switch",
		Before: "ZS-301: {kind: two-wire switch, set: closes when shut, leakage: 1.7 mA, drop: 2 V}",
		After:  "ZS-301: {kind: two-wire switch, set: closes when shut, leakage: 0.4 mA, drop: 2 V}",
	})

	UnsureOn = define(Kind{
		Code: "unsure-on", Severity: Error,
		Means:  "a switch that is on may not bring its input to 1",
		When:   "A switch that is on leaves the input too little voltage or current. The input may then read 0.",
		In:     "switch",
		Before: "ZS-301: {kind: two-wire switch, set: closes when shut, leakage: 0.4 mA, drop: 12 V}",
		After:  "ZS-301: {kind: two-wire switch, set: closes when shut, leakage: 0.4 mA, drop: 2 V}",
	})

	UntwistedLegs = define(Kind{
		Code: "untwisted-legs", Severity: Warning,
		Means: "the legs of a circuit are not twisted with each other",
		When:  "The legs of a circuit run in cores that are not twisted with each other. The loop between them picks up disturbances.",
		In:    "signal",
		Before: `LT-103:
  - LT-103 + -
  - +: [W-103 core 1, MC-1/X2 1, wires, AI-1 channel 3 +]
    -: [W-103 core 4, MC-1/X2 2, wires, AI-1 channel 3 -]
…
W-103: {type: two-pair, from: LT-103, to: MC-1, length: 30 m}`,
		After: `LT-103:
  - LT-103 + -
  - W-103
  - MC-1/X2 1 2
  - +: [wires, AI-1 channel 3 +]
    -: [wires, AI-1 channel 3 -]
…
W-103: {type: plain, from: LT-103, to: MC-1, length: 30 m}`,
	})

	UnusedCell = define(Kind{
		Code: "unused-cell", Severity: Warning,
		Means:  "no blank of the pattern takes a cell or column",
		When:   "A row or a table has a cell under a name that is no blank of the pattern. Nothing is made of it.",
		In:     "like",
		Before: "- {n: 102, service: Sump level, length: 25 m, land: 4 5 6, pair: 2, lenght: 25 m}",
		After:  "- {n: 102, service: Sump level, length: 25 m, land: 4 5 6, pair: 2}",
	})

	UnusedCommon = define(Kind{
		Code: "unused-common", Severity: Warning,
		Means:  "common cores on which no circuit ends",
		When:   "A circuit that begins on a strip brings a supply there, and no leg of another circuit ends on that terminal or one that jumpers join to it.",
		In:     "common",
		Before: "Z-701 common: [JB-7/X1 11, W-7 core 11, MC-7/X1 11, wires, MC-7/X5 F2]\nZ-701 second: [JB-7/X1 19, W-7 core 10, MC-7/X1 10, wires, MC-7/X5 F3]",
		After:  "Z-701 common: [JB-7/X1 11, W-7 core 11, MC-7/X1 11, wires, MC-7/X5 F2]",
	})

	UnusedFact = define(Kind{
		Code: "unused-fact", Severity: Warning,
		Means:  "nothing uses what is said of a part of its kind",
		When:   "A part has a key that nothing uses for parts of its kind, such as switching levels of an output card. The value may be true and may stay; it changes nothing.",
		In:     "switch",
		Before: "AO-1: {kind: AO, channels: 4, drive: 500 ohm, input type: 1}",
		After:  "AO-1: {kind: AO, channels: 4, drive: 500 ohm}",
	})

	UnwiredDevice = define(Kind{
		Code: "unwired-device", Severity: Warning,
		Means: "a device is in no circuit",
		When:  "A device that is not future is in no circuit. Its loop is drawn without it, and its record has it in its list of devices alone.",
		In:    "signal",
		Before: `LT-103: {kind: transmitter, lift-off: 10.5 V}
LT-103A: {kind: transmitter, lift-off: 10.5 V}`,
		After: "LT-103: {kind: transmitter, lift-off: 10.5 V}",
	})

	ValueLeftOut = define(Kind{
		Code: "value-left-out", Severity: Error,
		Means:  "a value of a list cannot be read and is left out",
		When:   "A row of a list that is imported is placed, and one of its values is not: a length without a unit, a word that is no colour.",
		In:     Lists,
		Before: "W-3,one-pair,FT-2,JB-1,about 14",
		After:  "W-3,one-pair,FT-2,JB-1,14",
	})

	VoltsOrder = define(Kind{
		Code: "volts-order", Severity: Error,
		Means:  "minimum, rated and maximum voltage are out of order, or a coil releases at more than holds it",
		When:   "The minimum voltage is above the voltage, the maximum is below it, or a coil releases at more than holds it.",
		In:     "switch",
		Before: "AC-1: {volts: 240 V AC, highest volts: 200 V}",
		After:  "AC-1: {volts: 240 V AC, highest volts: 240 V}",
	})

	WeakBias = define(Kind{
		Code: "weak-bias", Severity: Warning,
		Means:  "the bias of a serial link is too weak for its terminators",
		When:   "While nobody sends, the bias leaves less voltage between the poles than a receiver needs, with both terminators on and one unit load a device.",
		In:     "bus",
		Before: "bias ohms: 1 kohm",
		After:  "bias ohms: 560 ohm",
	})

	WiredLink = define(Kind{
		Code: "wired-link", Severity: Error,
		Means: "a link by plugs has devices, functions or circuits",
		When:  "An Ethernet link or a fibre link is proved from plug to plug and has no cores to land: its sheets cannot show devices, functions or circuits.",
		In:    "bus",
		Before: `cable: N-62
devices: {UY-62: {kind: serial device}}`,
		After: "cable: N-62",
	})

	WiresBetweenPlaces = define(Kind{
		Code: "wires-between-places", Severity: Error,
		Means:  "wires leave their enclosure",
		When:   "Wires run from one cabinet, panel or system to another. Between these a cable is needed.",
		In:     "switch",
		Before: "XY-304: [XY-304, W-304, MC-3/X1 7 8, wires, DO-4 channel 2]",
		After:  "XY-304: [XY-304, W-304, MC-3/X1 7 8, wires, DO-1 channel 1]",
	})

	WiresMismatch = define(Kind{
		Code: "wires-mismatch", Severity: Error,
		Means:  "a sensor and its card have different numbers of wires",
		When:   "A sensor has more or fewer wires than its card measures with.",
		In:     "heat",
		Before: "TE-205: [TE-205, W-205 triad 1, MC-2/X2 6 7 8, wires, RT-2 channel 2 A B x]",
		After:  "TE-205: [TE-205, W-205 triad 1, MC-2/X2 6 7 8, wires, RT-3 channel 2]",
	})

	WrongCard = define(Kind{
		Code: "wrong-card", Severity: Error, Milder: "for a two-wire switch, which may suit the card",
		Means:  "a device lands on a card for another signal",
		When:   "A device lands on a card for another signal. It is a warning for a two-wire switch, which may suit the card.",
		In:     "signal",
		Before: "- AO-1 channel 2",
		After:  "- AI-1 channel 5",
	})

	WrongCommon = define(Kind{
		Code: "wrong-common", Severity: Error,
		Means:  "a circuit comes back to another common than that of its channel",
		When:   "The card drives the current of a channel and gives its common itself, and the circuit comes back to the common of other channels, or to a supply. Its path is not closed.",
		In:     "common",
		Before: "L-703 common: [JB-7/X1 15, W-7 core 12, MC-7/X1 12, wires, MC-7/X6 D2]",
		After:  "L-703 common: [JB-7/X1 15, W-7 core 12, MC-7/X1 12, wires, MC-7/X6 C2]",
	})

	WrongHARTLoad = define(Kind{
		Code: "wrong-hart-load", Severity: Warning,
		Means:  "the load that HART sees is outside the practice",
		When:   `The load of a HART device is outside "HART load" of the practice, 230 to 1100 Ω by default.`,
		In:     "signal",
		Before: "AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 100 ohm}",
		After:  "AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}",
	})

	WordTwice = define(Kind{
		Code: "word-twice", Severity: Error,
		Means:  "two words are chosen for one thing",
		When:   `"words" of the practice chooses both words of a pair, or names all words after one of them.`,
		In:     "signal",
		Before: "words: [British, core, conductor]",
		After:  "words: [British, core]",
	})

	WrongMark = define(Kind{
		Code: "wrong-mark", Severity: Error,
		Means:  "a conductor lands on a terminal that is marked for another",
		When:   `A core lands on a terminal that "marks" of its strip keep for screens, or a screen on one for a core.`,
		In:     "signal",
		Before: "- JB-1/X1 4 6 5",
		After:  "- JB-1/X1 4 5 6",
	})

	WrongShape = define(Kind{
		Code: "wrong-shape", Severity: Error,
		Means:  "a text, a list or a block in the place of another",
		When:   "A key has a text where a list or a block is expected, or the reverse.",
		In:     "signal",
		Before: "- Caution: keep the purge on",
		After:  "- keep the purge on",
	})

	WrongSuppressor = define(Kind{
		Code: "wrong-suppressor", Severity: Error,
		Means:  "a diode across a coil on AC",
		When:   "The suppressor of a coil that AC feeds has a diode. It shorts every other half wave.",
		In:     "switch",
		Before: "XY-305: {kind: solenoid, suppressor: diode, rated volts: 240 V AC, inrush: 20 VA, inrush power factor: 0.7, holding: 4.5 VA, power factor: 0.4, pull-in: 180 V, release: 60 V}",
		After:  "XY-305: {kind: solenoid, suppressor: RC, rated volts: 240 V AC, inrush: 20 VA, inrush power factor: 0.7, holding: 4.5 VA, power factor: 0.4, pull-in: 180 V, release: 60 V}",
	})

	WrongSupply = define(Kind{
		Code: "wrong-supply", Severity: Error,
		Means:  "a coil is fed with a voltage that is not its rated one",
		When:   `A coil is fed with another voltage than its "rated volts", or with DC in place of AC.`,
		In:     "switch",
		Before: "AC-1: {volts: 120 V AC, highest volts: 120 V}",
		After:  "AC-1: {volts: 240 V AC, highest volts: 240 V}",
	})

	WrongUnit = define(Kind{
		Code: "wrong-unit", Severity: Error, Milder: "for an alarm, and for a device that is no temperature sensor and has one",
		Means:  "the unit of a range or an alarm does not fit the device",
		When:   "A range or an alarm has a unit that does not fit the device. It is a warning for an alarm, and for a device that is no temperature sensor and has one.",
		In:     "heat",
		Before: "TE-203: {kind: RTD 3-wire, sensor: Pt100, class: B, range: 0..150 bar}",
		After:  "TE-203: {kind: RTD 3-wire, sensor: Pt100, class: B, range: 0..150 °C}",
	})
)
