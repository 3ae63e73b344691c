package model

import (
	"cmp"
	"slices"

	"ringout/model/copper"
	"ringout/model/finding"
	"ringout/model/grid"
)

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
	Of        *Part // the device that it is an input or output of; nil of all else

	Strip   *Strip   // what only a strip has
	Card    *Card    // what only a card has
	Device  *Device  // what only a device has
	Supply  *Supply  // what only a supply has
	Barrier *Barrier // what only a barrier, isolator or surge protector has
	Coupler *Coupler // what only a coupler has, which is a strip too

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
	return p.Whole().Tag
}

// Strip is what only a terminal strip has.
type Strip struct {
	Rail     string
	MaxSize  float64 // mm² of the largest conductor; 0 when not given
	MaxGauge int     // AWG that MaxSize was written in; 0 for mm²
	PerSide  int     // conductors allowed under one clamp
	Pitch    float64 // mm from terminal to terminal; 0 when not given
	HasSigns bool    // terminals carry + - marks

	Grid grid.Grid // rows and columns that its terminals lie in, in their order; zero on a rail
	Plug *Plug     // of a plug and its receptacle; nil for terminals
}

// Largest is the largest conductor in the unit that it was written in.
func (s *Strip) Largest() string {
	if s.MaxGauge > 0 {
		return copper.Size{AWG: s.MaxGauge}.String()
	}
	return copper.Size{Area: s.MaxSize}.String()
}

// FromFront are the terminals of a part as one reads them: those of a board along its rows.
func (p *Part) FromFront() []*Terminal {
	g := p.Strip.Grid
	if !g.ByColumns {
		return p.Terminals
	}
	all := slices.Clone(p.Terminals)
	slices.SortStableFunc(all, func(a, b *Terminal) int {
		x, y := g.At(a.Index), g.At(b.Index)
		return cmp.Or(x.Row-y.Row, x.Column-y.Column)
	})
	return all
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
	LiftOff    VoltageCurve // least volts across an output that only holds its current; nothing when not given
	Levels     Levels       // own ones of a switched input; of those not given, zero
	Leads      float64      // Ω of two leads that an input for temperature measures through at the most; 0 when not given
	Ranges     map[int]Range
	RangePos   map[int]finding.Pos
	Powers     bool      // the card feeds the loop, wets the contact or drives the load
	Terminals  int       // per channel, without the common
	Commons    []Common  // terminals that channels share for one pole; none where each has its own
	From       *Terminal // of a supply or fed by one: what feeds the card; nil when not given
	OnLoss     string    // what its outputs do when their rack loses its controller, in words; "" when not given
	Minus      Minus     // what the - of its channels is joined to; zero when not given
}

// SaysPower reports whether it has to be said of a card if it drives its circuits.
func (p *Part) SaysPower() bool { return p.Kind.MayPower || p.HoldsCurrent() }

// HoldsCurrent reports whether a card has outputs that hold a current which their circuits
// drive (passive outputs).
func (p *Part) HoldsCurrent() bool { return p.Card != nil && p.Kind.MayHold && !p.Card.Powers }

// Common is a terminal that a group of channels share for their -, or for their +.
type Common struct {
	*Terminal
	First, Last int // channels, from 1
}

// CommonOf is the terminal that channel n of a card shares with others; nil where it has its
// own.
func (p *Part) CommonOf(n int) *Terminal {
	if p.Card != nil {
		for _, c := range p.Card.Commons {
			if c.First <= n && n <= c.Last {
				return c.Terminal
			}
		}
	}
	return nil
}

// CommonAt is the common of a card that a terminal is; nil for any other.
func (t *Terminal) CommonAt() *Common {
	if t.Part.Card != nil {
		for i, c := range t.Part.Card.Commons {
			if c.Terminal == t {
				return &t.Part.Card.Commons[i]
			}
		}
	}
	return nil
}

// Channels are those of a common in words: all ch, ch 1-8.
func (c *Common) Channels() string {
	if c.First == 1 && c.Last == c.Part.Card.Channels {
		return "all ch"
	}
	return "ch " + Itoa(c.First) + "-" + Itoa(c.Last)
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
	Ohms     float64 // Ω between it and a segment; 0 for none
	Circuit  string  // distribution circuit it is fed from
	Fuse     Fuse    // ahead of it
	Earth    *Part   // earth bar of its place that its earthed pole is on; nil when not given
	Floats   bool    // it is on no earth, whatever the practice says
}

// Barrier is what only a barrier, isolator or surge protector has.
type Barrier struct {
	Model           string
	Ohms            float64      // Ω end to end, one leg; 0 when not given
	ReturnOhms      float64      // Ω of the return leg; that of the other when not given
	Drop            float64      // V, fixed; 0 when none
	MaxWorkingVolts float64      // V, highest working voltage; 0 when not given
	Volts           VoltageCurve // of an isolator: what it gives the device
	MaxLoad         float64      // Ω, of an isolator: largest load on the system side
	Earth           *Part        // of what leads to earth: the earth bar of its place that it is earthed on; nil when not given
	Entity          Entity       // what a barrier or isolator gives, what a surge protector stands and adds
	Protects        Side         // of a surge protector: the side that it protects, the other is the line

	SaysEarth bool // rightly or not
}

// FacesField reports whether t is of the half of terminals of a part that faces the
// field: the first half, but of a surge protector that protects what lies there.
func (p *Part) FacesField(t *Terminal) bool {
	first := t.Index < len(p.Terminals)/2
	return first != (p.Kind.Diverts && p.Barrier.Protects == FieldSide)
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
	DrawsWatts      float64      // W that it takes from its own DC supply, whatever its volts; 0 when not given
	OutputKind      Output       // of a three-wire switch or transmitter; zero for PNP, sourcing
	Scale           Scale        // of a displacement probe; zero when not given
	Gap             Range        // V of a displacement probe between which its gap is set
	PullIn          float64      // V, the least that moves a solenoid
	DropOut         float64      // V, the least that holds a solenoid; 0 when not given
	Release         float64      // V, the most that a solenoid is sure to let go at; 0 when not given
	Groups          []*Group     // coils and contacts of a device that has several
	Rated           float64      // V that a coil is made for; 0 when not given
	RatedDC         bool         // they are DC
	Watts           float64      // W of a DC coil at its rated volts; 0 when not given
	Suppressor      Suppressor   // of its coil; zero when not given
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
	Variables       []Variable // that it tells besides the one of its current
	Capacitive      float64    // nF between its terminals, for HART; 0 when not given
	Class           string     // tolerance class of a resistance sensor
	Entity          Entity
	SimpleApparatus bool    // simple apparatus
	Ohms            float64 // Ω of a coil or a receiver
	SetPoint        SwitchPoint
	RestState       Position // of a contact; zero as Set says
	Fail            Position // of a valve; zero when not given
	Action          Action   // zero for direct
	Air             AirSupply
	Stroke          float64 // s that a valve may take from end to end, either way; 0 when not given
	Actuates        *Part   // the device that this one moves
	On              *Part   // the device that this one is mounted on
	Sensor          string  // Pt100, K ...
	Earthed         DeviceEarth
	Leads           float64   // Ω of the two leads of a resistance sensor that the card takes off; 0 for none
	Fuse            Fuse      // inside it
	Position        grid.Cell // on the front of its place; zero when not given
	Inside          bool      // behind the front of its place, whatever the place is
	Zone            string    // hazardous area
	Protection      string    // type of protection that it is installed by there, such as Ex db; "" when not given
	Address         int       // on its segment; 0 when not given

	// Of an instrument of several circuits.
	Ports    []*Part    // its inputs and outputs
	Function *Function  // what it does with them; nil of one that only passes signals on
	Alarms   []SetPoint // that its contacts act at
	OnAlarm  AlarmState // of its relays; zero when not given

	// Of an output that drives its signal.
	MaxLoad    float64 // Ω, the largest load; 0 when not given
	Compliance VoltsAt // volts that it can give at a current; zero when not given
}

// AirSupply is the compressed air of a pneumatic device.
type AirSupply struct {
	Text string // as written, such as 1.4 bar; "" when not given. It is printed only.
	Span Range  // of a span of pressure, such as 0.2..1.0 bar, for the stroke test; else not given
}

// Given reports whether the text has an air supply.
func (a AirSupply) Given() bool { return a.Text != "" }

// DeviceEarth is whether a device connects its circuit to earth.
type DeviceEarth struct {
	Given bool      // whether the text says so
	At    *Terminal // on its case, or on earth inside it; nil for none
}

// Sinks reports whether current comes into the output of a three-wire device: + is common
// to its supply and its signal. Else it goes out, and - is.
func (d *Device) Sinks() bool { return d.OutputKind == npn || d.OutputKind == sinking }

// Common is the terminal of a three-wire device that its supply and its output share; nil of
// others.
func (p *Part) Common() *Terminal {
	switch {
	case p.Device == nil || !p.Kind.ThreeWire():
		return nil
	case p.Device.Sinks() || p.Kind.Signal == Displacement:
		return p.TerminalOf('+')
	}
	return p.TerminalOf('-')
}

// OutputFits reports whether the kind of output that is given is one of such a device.
func (p *Part) OutputFits() bool {
	kind := p.Device.OutputKind
	return kind == 0 || slices.Contains(p.Kind.Outputs(), kind.String())
}

// Outputs are the kinds of output that such a device may have, the common one of them first;
// none of others.
func (k *Kind) Outputs() []string {
	switch {
	case k.ThreeWire() && k.Signal == ContactIn:
		return OutputWords[:npn]
	case k.ThreeWire() && k.Signal == AnalogIn:
		return OutputWords[npn:]
	}
	return nil
}

// ClosedAtRest reports whether the contact of a switch is closed with nothing
// measured, as on the shelf: where that is not said, one that opens above or
// closes below its set point is.
func (d *Device) ClosedAtRest() bool { return cmp.Or(d.RestState, d.SetPoint.Rest) == Closed }

// CoilOhms is the resistance in Ω of a DC coil: as given, else U²/W of its rated volts
// (textbook formula); 0 where neither is given.
func (d *Device) CoilOhms() float64 {
	if d.Ohms == 0 && d.RatedDC && d.Watts > 0 {
		return d.Rated * d.Rated / d.Watts
	}
	return d.Ohms
}

// Unwired reports whether the part has terminals and none of them is in any circuit.
func (p *Part) Unwired() bool {
	return len(p.Terminals) > 0 && !slices.ContainsFunc(p.Terminals, (*Terminal).Landed) && !slices.ContainsFunc(p.Ports(), func(port *Part) bool { return !port.Unwired() })
}

// AddTerminal appends a terminal to a part; false when it has that name already.
func (p *Part) AddTerminal(t *Terminal) bool {
	if p.TerminalByName[t.Name] != nil {
		return false
	}
	t.Part, t.Index = p, len(p.Terminals)
	p.Terminals = append(p.Terminals, t)
	p.TerminalByName[t.Name] = t
	return true
}

// TerminalOf returns the first terminal with a role, or nil.
func (p *Part) TerminalOf(r Marking) *Terminal {
	for _, t := range p.Terminals {
		if t.Role == r {
			return t
		}
	}
	return nil
}

// Channel returns the terminals of channel n of a card, from 1; nil for one that
// the card does not have. A common is not among them.
func (p *Part) Channel(n int) []*Terminal {
	if p.Card == nil || n < 1 || n > p.Card.Channels || n*p.Card.Terminals > len(p.Terminals) {
		return nil
	}
	k := p.Card.Terminals
	return p.Terminals[(n-1)*k : n*k]
}

// MeasureAt returns the terminals that a meter is put across at channel n of a card:
// those of Channel, and the common; of a pair the + first.
func (p *Part) MeasureAt(n int) []*Terminal {
	own, common := p.Channel(n), p.CommonOf(n)
	switch {
	case len(own) == 0 || common == nil:
		return own
	case common.Role == '+':
		return append([]*Terminal{common}, own...)
	}
	return append(slices.Clone(own), common)
}

// CardSupply is the supply that a card names; nil for other parts.
func (p *Part) CardSupply() *Part {
	if p.Card == nil || p.Card.From == nil {
		return nil
	}
	return Origin(p.Card.From).Part
}
