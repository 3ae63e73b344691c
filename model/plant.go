// Package model holds a plant: its loops, devices, cables and places, and the one
// graph that they make: cores join terminals. It knows nothing of the text that a
// plant comes from, nor of paper.
package model

import (
	"crypto/sha256"
	"maps"
	"math"
	"slices"
	"sync"

	"ringout/model/finding"
)

// Origin is the terminal that a leg on t comes to: that of the supply, where t
// is fed.
func Origin(t *Terminal) *Terminal {
	if t != nil && t.Fed != nil {
		return t.Fed.Supply
	}
	return t
}

// Unique returns the names in order, each once.
func Unique(names []string) []string {
	var all []string
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			all = append(all, n)
		}
	}
	return all
}

// Digest is a digest of text.
type Digest [sha256.Size]byte

// SourceDigest returns a digest of the text of a *Loop, a *Cable, a *Place or a card of a
// system, comments included; nil asks for all text that is of none of them. A
// system is digested without its cards: there may be thousands.
func (p *Plant) SourceDigest(of any) Digest {
	switch of := of.(type) {
	case *Loop:
		return p.Texts["loop "+of.Tag]
	case *Cable:
		return p.Texts["cable "+of.Tag]
	case *Place:
		return p.Texts["place "+of.Tag]
	case *Part:
		return p.Texts["part "+of.Tag]
	}
	return p.Texts[""]
}

// Once is what make finds of a plant, looked for when it is first asked for and kept
// under key, a value of a type of the caller's own. Several may ask at once. A copy of
// a plant shares what is kept.
func Once[T any](p *Plant, key any, make func(*Plant) T) T {
	found, ok := p.Memo.Load(key)
	if !ok {
		found, _ = p.Memo.LoadOrStore(key, sync.OnceValue(func() T { return make(p) }))
	}
	return found.(func() T)()
}

// Plant is everything read from the text, bound, in the order of the text.
type Plant struct {
	Pos      finding.Pos
	Name     string
	Owner    string // legal owner, for the title block
	Project  string
	Number   string // prefix of drawing numbers, such as TI-I
	Status   string // of the issue, in words
	Drawn    string
	Checked  string
	Approved string

	Revisions  []Revision // oldest first
	Practice   Practice
	CableTypes []*CableType
	Places     []*Place // boxes, cabinets, panels and systems
	Cables     []*Cable
	Loops      []*Loop

	Conductors []*Conductor // every resolved conductor, in the order of the text

	PlaceByTag      map[string]*Place
	PartByTag       map[string]*Part // by full tag: FT-2107, JB-21/X1, AI-2-03
	CableByTag      map[string]*Cable
	TypeByName      map[string]*CableType
	ConductorByCore map[*Core]*Conductor // the first that uses each
	byPlace         map[*Place][]*Conductor
	byCircuit       map[*Circuit][]*Conductor
	Screens         map[*Conductor]*ScreenNet
	Texts           map[string]Digest
	Memo            *sync.Map // see Once
}

// Status is what is already there.
type Status uint8

// Statuses. Existing and new wiring are both tested; they are drawn differently.
const (
	New      Status = iota // new
	Existing               // existing
	Future                 // future
)

func (s Status) String() string { return StatusWords[s] }

// StatusWords are the words of Status.
var StatusWords = [...]string{New: "new", Existing: "existing", Future: "future"}

// Statuses are the words for a status.
func Statuses() []string { return slices.Clone(StatusWords[:]) }

// CableType describes a kind of cable.
type CableType struct {
	Pos              finding.Pos
	Name             string
	Groups           int // pairs, triads, quads or single cores
	Size             int // cores in a group: 1, 2, 3 or 4
	Copper           ConductorSize
	Code             *Code // nil when not given
	Screen           Screens
	Ohms             float64 // Ω/km of one core at 20 °C from the data sheet; 0 when not given
	Sheath           string
	Gland            string
	Capacitance      float64 // pF/m, of one core to all others of its group and to the screen; 0 when not given
	Inductance       float64 // µH/m; 0 when not given
	LR               float64 // µH/Ω; 0 when not given
	InsulationMOhmKm float64 // MΩ·km of the data sheet; 0 when not given
	ByColour         bool    // colours and binders alone tell each group from all others
}

// GroupWord is what a group of cores is called: pair, triad, quad or core.
func (t *CableType) GroupWord() string { return GroupWords[t.Size] }

// Colours are those of the cores of a group, from 1; nil where they are not given.
func (t *CableType) Colours(group int) []Colour {
	if t.Code == nil {
		return nil
	}
	colours, _ := t.Code.Cores(group, t.Size, t.Groups)
	return colours
}

// Binder is the binder round a pair of a cable that is parted by binders: its number
// from 1 and its colours; false where there is none.
func (t *CableType) Binder(group int) (n int, colour Colour, ok bool) {
	if t.Code == nil {
		return 0, Colour{}, false
	}
	return t.Code.Binder(group, t.Size, t.Groups)
}

// ToldByColour reports whether the colours of every group, with those of its binder,
// are given and are no other group's of the cable.
func (t *CableType) ToldByColour() bool {
	seen := map[[5]Colour]bool{}
	for g := 1; g <= t.Groups; g++ {
		var look [5]Colour
		copy(look[:], t.Colours(g))
		if slices.Contains(look[:t.Size], Colour{}) {
			return false
		}
		_, look[4], _ = t.Binder(g)
		if seen[look] {
			return false
		}
		seen[look] = true
	}
	return true
}

// GroupWords are what so many cores that are laid up together are called.
var GroupWords = [...]string{1: "core", 2: "pair", 3: "triad", 4: "quad"}

// Screens is which screens a cable type has.
type Screens uint8

// Screens of a cable: one round each group, one round all of them, or both.
const (
	EachScreen    Screens = 1 << iota // round each pair, triad or quad
	OverallScreen                     // round all
)

// Cable is one cable run between two ends.
type Cable struct {
	Pos      finding.Pos
	Tag      string
	Type     *CableType
	From, To CableEnd
	Length   float64 // metres; 0 when not given
	Status   Status
	Cores    []*Core // in order of groups
	Screens  []*Core // one a group, or none
	Overall  *Core   // the screen round all; nil when there is none
	Route    string
	InFeet   bool       // its length was written in feet
	Unread   bool       // not all of its spares could be read
	Landing  *Conductor // what `overall` says of the screen round all; nil where it says nothing
}

// LengthWords is the length in the unit that it was written in, metres or feet;
// "" where it is not given.
func (c *Cable) LengthWords() string { return TotalLength([]*Cable{c}) }

// TotalLength is the length of all cables together, in the unit of the first; ""
// where no length is given.
func TotalLength(cables []*Cable) string {
	total := 0.0
	for _, c := range cables {
		total += c.Length
	}
	if total <= 0 {
		return ""
	}
	unit := cables[0].LengthUnit()
	total, _ = Convert(total, "m", unit)
	return Plain(math.Round(total*100)/100) + " " + unit
}

// Feet is the length in feet, where it was written so; else 0.
func (c *Cable) Feet() float64 {
	if !c.InFeet {
		return 0
	}
	feet, _ := Convert(c.Length, "m", "ft")
	return math.Round(feet*1e4) / 1e4
}

// LengthUnit is the unit that the length of a cable is written in.
func (c *Cable) LengthUnit() string {
	if c.InFeet {
		return "ft"
	}
	return "m"
}

// CableEnd is where a cable goes in: a place, or a device in the field.
type CableEnd struct {
	Pos   finding.Pos
	Place *Place // nil when the end is a field device
	Part  *Part  // nil when the end is a place
	Gland string
}

// Tag is the tag of the place or device at this end.
func (e CableEnd) Tag() string {
	switch {
	case e.Place != nil:
		return e.Place.Tag
	case e.Part != nil:
		return e.Part.Tag
	}
	return ""
}

// Core is one core or screen of a cable.
type Core struct {
	Cable  *Cable
	Group  int // counts from 1; 0 for the overall screen
	N      int // place in the group, from 1; 0 for a screen
	Number int // through the whole cable, from 1; 0 for a screen
	Colour Colour
}

// IsScreen reports whether it is a screen or drain, not a core.
func (c *Core) IsScreen() bool { return c.N == 0 }

// PlaceKind is what sort of place a Place is.
type PlaceKind uint8

// Kinds of place, in the order of the columns on a loop diagram.
const (
	Field PlaceKind = iota
	Box
	Cabinet
	Panel
	System
)

func (k PlaceKind) String() string { return placeWords[k] }

var placeWords = [...]string{Field: "field", Box: "box", Cabinet: "cabinet", Panel: "panel", System: "system"}

// Place is a box, cabinet, panel or system: something that parts sit in.
type Place struct {
	Pos    finding.Pos
	Tag    string
	Kind   PlaceKind
	At     string // where it stands
	Status Status
	Parts  []*Part       // strips, cards, barriers, supplies, earth bars, in order
	Copper ConductorSize // of wires inside
	Colour Colour        // of wires inside, when one colour is used
}

// Part is anything with terminals: a field device, a strip, an I/O card, a
// barrier, a supply, an earth bar.
type Part struct {
	Pos       finding.Pos
	Tag       string // JB-21/X1 for a strip
	Kind      *Kind
	Place     *Place // nil in the field
	Terminals []*Terminal
	Through   map[*Terminal]*Terminal // for parts that legs go through: in to out, both ways
	Jumpers   [][]*Terminal
	Status    Status

	Strip   *Strip   // what only a strip has
	Card    *Card    // what only a card has
	Device  *Device  // what only a device has
	Supply  *Supply  // what only a supply has
	Barrier *Barrier // what only a barrier or isolator has

	TerminalByName map[string]*Terminal
	Unread         bool // not all of its terminals could be read
}

// Name is the part's own name, without its place.
func (p *Part) Name() string {
	if p.Place != nil && (p.Strip != nil || p.Kind.Bar) {
		return p.Tag[len(p.Place.Tag)+1:]
	}
	return p.Tag
}

// Where is the tag of the place a part sits in, or its own tag in the field.
func (p *Part) Where() string {
	if p.Place != nil {
		return p.Place.Tag
	}
	return p.Tag
}

// Strip is what only a terminal strip has.
type Strip struct {
	Rail     string
	MaxSize  float64 // mm² of the largest conductor; 0 when not given
	PerSide  int     // conductors allowed under one clamp
	Pitch    float64 // mm from terminal to terminal; 0 when not given
	HasSigns bool    // terminals carry + - marks
}

// Card is what only an I/O card has.
type Card struct {
	Channels   int
	Address    string
	Volts      VoltageCurve // at the terminals of a channel that powers its circuit
	Least      VoltageCurve // the least of these; nothing when not given
	Highest    VoltageCurve // the highest of these; nothing when not given
	Limit      float64      // mA, most current of a channel; 0 when not given
	Draws      float64      // mA that the card itself takes from its supply; 0 when not given
	Ohms       float64      // Ω of an input; 0 when not given
	MaxLoad    float64      // Ω, largest load of an output; 0 when not given
	Compliance VoltsAt      // volts that an output can give at a current; zero when not given
	MinLoad    float64      // Ω
	Type       int          // of a contact input, 1 to 3 after IEC 61131-2; 0 when not given
	Levels     Levels       // own ones of a switched input; of those not given, zero
	Leads      float64      // Ω of two leads that an input for temperature measures through at the most; 0 when not given
	Ranges     map[int]Range
	RangePos   map[int]finding.Pos
	Powers     bool      // the card feeds the loop, wets the contact or drives the load
	Terminals  int       // per channel, without the common
	Common     *Terminal // - of all channels; nil where each has its own
	From       *Terminal // of a supply or fed by one: what feeds the card; nil when not given
	Minus      Minus     // what the - of its channels is joined to; zero when not given
}

// Supply is what only a supply has.
type Supply struct {
	Text     string // in words, such as 24 V DC or −24 V DC
	AC       bool
	Below    bool    // its - lies below the common of the plant, which is its +
	Volts    float64 // volts between its poles, more than nothing
	MinVolts float64 // volts, the least; 0 when not given
	Highest  float64 // volts, the highest; 0 when not given
	Limit    float64 // mA
	Circuit  string  // distribution circuit it is fed from
	Fuse     Fuse    // ahead of it
	Earth    *Part   // earth bar of its place that its earthed pole is on; nil when not given
	Floats   bool    // it is on no earth, whatever the practice says
}

// Barrier is what only a barrier or isolator has.
type Barrier struct {
	Model           string
	Ohms            float64      // Ω end to end, one leg; 0 when not given
	ReturnOhms      float64      // Ω of the return leg; that of the other when not given
	Drop            float64      // V, fixed; 0 when none
	MaxWorkingVolts float64      // V, highest working voltage; 0 when not given
	Volts           VoltageCurve // of an isolator: what it gives the device
	MaxLoad         float64      // Ω, of an isolator: largest load on the system side
	Earth           *Part        // of a barrier: the earth bar of its place that it is earthed on; nil when not given
	Entity          Entity

	SaysEarth bool // rightly or not
}

// Device is what only a field device or panel instrument has.
type Device struct {
	Loop            *Loop
	At              string
	Model           string
	Process         string // what it is connected to, in words
	Range           Range
	Calibrated      Range        // at the sensor, where that differs from Range
	Signal          Range        // zero means 4..20 mA
	SquareRootIn    Root         // where the square root is taken; zero for nowhere
	LiftOff         VoltageCurve // least volts at its terminals
	Drop            VoltageCurve // volts across it, of a device that does not act as a resistor
	FailureCurrent  float64      // mA, the most it drives at failure; 0 when not given
	SupplyCurrent   float64      // mA that it takes from its own supply; 0 when not given
	DrawsVA         float64      // VA that it takes from its own AC supply; 0 when not given
	OutputKind      Output       // of a three-wire switch; zero for PNP
	PullIn          float64      // V, the least that moves a solenoid
	DropOut         float64      // V, the least that holds a solenoid; 0 when not given
	Release         float64      // V, the most that a solenoid is sure to let go at; 0 when not given
	Rated           float64      // V of an AC coil, that its VA holds at; 0 when not given
	Inrush          float64      // VA of an AC coil with its armature open; 0 when not given
	InrushPF        float64      // power factor then; 0 when not given
	Holding         float64      // VA of an AC coil with its armature shut; 0 when not given
	PF              float64      // power factor then, or of what Draws or DrawsVA; 0 when not given
	Series          float64      // Ω in series with a monitored contact
	Leakage         float64      // mA, the most that a switch passes while it is off; 0 when not given
	LeastMA         float64      // mA, the least that a switch has to carry while it is on; 0 when not given
	Bleeder         float64      // Ω across the input at the card; 0 for none
	Parallel        float64      // Ω across a monitored contact or an AC coil
	HART            bool
	Capacitive      float64 // nF between its terminals, for HART; 0 when not given
	Class           string  // tolerance class of a resistance sensor
	Entity          Entity
	SimpleApparatus bool    // simple apparatus
	Ohms            float64 // of a coil or a receiver
	SetPoint        SwitchPoint
	RestState       Position // of a contact; zero as Set says
	Fail            Position // of a valve; zero when not given
	Action          Action   // zero for direct
	Air             string   // supply of a pneumatic device, in words
	Stroke          float64  // s that a valve may take from end to end, either way; 0 when not given
	Actuates        *Part    // the device that this one moves
	On              *Part    // the device that this one is mounted on
	Sensor          string   // Pt100, K ...
	Earthed         string   // its terminal that is on its case or on earth; none; "" when not given
	Leads           float64  // Ω of the two leads of a resistance sensor that the card takes off; 0 for none
	Fuse            Fuse     // inside it
	Zone            string   // hazardous area
}

// NPN reports whether it is a three-wire switch that puts its output on -, not on +.
func (d *Device) NPN() bool { return d.OutputKind == npn }

// Range is a span of a value with its unit. Given is false for a zero Range.
type Range struct {
	Low, High float64
	Unit      string
	Text      string // as written
}

// Given reports whether the range was written.
func (r Range) Given() bool { return r.Text != "" }

// Loop is what one loop diagram shows.
type Loop struct {
	Pos       finding.Pos
	Tag       string
	Service   string
	Area      string
	Notes     []string
	Ref       string // P&ID number
	Devices   []*Part
	Functions []*Function
	Circuits  []*Circuit
	Status    Status
}

// Function is work done in the system: a controller, an indicator, an alarm.
type Function struct {
	Pos     finding.Pos
	Tag     string
	Kind    FunctionKind
	Reads   []*Circuit
	Outputs []*Circuit
	Action  Action // zero when not given
	Set     SetPoint
	Alarms  []SetPoint
}

// Terminal is one point to land a core on.
type Terminal struct {
	Part  *Part
	Name  string
	Index int // in its part, from 0
	Kind  TerminalKind
	Fuse  Fuse // of a fused terminal
	Role  Marking
	Bond  *Part   // earth bar it is bonded to by a link or a jumper; nil
	Bar   bool    // an earth bar takes any number of cores
	Fed   *Feed   // the supply it is joined to, through jumpers or directly
	Uses  []Use   // conductors landed here
	Cards []*Part // that are said to be fed from here; the wire is not in the model
	Doubt string  // why it cannot be known whether something lands here; "" where it can

	Joined []*Terminal // all that jumpers join to this one, itself too; nil without
}

// Tag is the terminal's full name, such as JB-21/X1:7.
func (t *Terminal) Tag() string { return t.Part.Tag + ":" + t.Name }

// HasBreak reports whether the two sides are two points (fuse, knife, diode between).
func (t *Terminal) HasBreak() bool { return t.Kind == Fused || t.Kind == Disconnect || t.Kind == Diode }

// Spare reports whether nothing lands on a terminal or is fed from it, nor on the
// other where legs go through its part. It may be fed, jumpered or bonded all the same. Earth bars,
// which take any number, have no spares; one in doubt is none.
func (t *Terminal) Spare() bool {
	through := t.Part.Through[t]
	return !t.Bar && len(t.Uses)+len(t.Cards) == 0 && t.Doubt == "" && (through == nil || len(through.Uses) == 0)
}

// TerminalKind is the make of a terminal.
type TerminalKind uint8

// Kinds of terminal.
const (
	FeedThrough TerminalKind = iota
	Disconnect
	Fused
	Diode
	EarthFoot
)

func (k TerminalKind) String() string { return terminalWords[k] }

var terminalWords = [...]string{
	FeedThrough: "feed-through", Disconnect: "disconnect", Fused: "fused", Diode: "diode", EarthFoot: "earth",
}

// Marking is the mark of a terminal or of what a leg carries: '+' and '-' for
// polarity, 'A' and 'B' for the two sides of a resistance sensor, 'Q' for the
// output of a three-wire switch, 'L', 'N' and 'E' for a mains supply, 0 for none.
type Marking byte

// Feed is a fixed wire from a supply to a strip.
type Feed struct {
	Pos    finding.Pos
	Supply *Terminal
	To     *Terminal
	Wire   *Conductor
	Over   string  // length and size of its wire, as written; "" where they do not count
	Length float64 // m
	Copper ConductorSize
}

// Place returns the place with this tag, or nil.
func (p *Plant) Place(tag string) *Place { return p.PlaceByTag[tag] }

// Part returns the part with this full tag, or nil.
func (p *Plant) Part(tag string) *Part { return p.PartByTag[tag] }

// Cable returns the cable with this tag, or nil.
func (p *Plant) Cable(tag string) *Cable { return p.CableByTag[tag] }

// EachPart calls f with every part of every place, then with every device of every loop,
// in the order of the text.
func (p *Plant) EachPart(f func(*Part)) {
	for _, pl := range p.Places {
		for _, part := range pl.Parts {
			f(part)
		}
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			f(d)
		}
	}
}

// SortedKeys returns the keys of a map in order: they reach messages.
func SortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// Revision is one line of the revision table.
type Revision struct{ Mark, Date, Text, By string }

// Revision returns the newest revision, or a zero one.
func (p *Plant) Revision() Revision {
	if len(p.Revisions) == 0 {
		return Revision{}
	}
	return p.Revisions[len(p.Revisions)-1]
}
