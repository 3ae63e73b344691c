package model

import "strings"

// Signal is the family of a circuit: what kind of card it belongs on.
type Signal uint8

// Signals.
const (
	NoSignal Signal = iota
	AnalogIn
	AnalogOut
	ContactIn
	SwitchedOut
	Resistance
	Thermo
	PulseIn
	Power
	Proximity
	PowerDC
)

var signalWords = [...]string{
	NoSignal: "", AnalogIn: "4-20 mA input", AnalogOut: "4-20 mA output", ContactIn: "contact input",
	SwitchedOut: "switched output", Resistance: "resistance sensor", Thermo: "thermocouple",
	PulseIn: "pulse input", Power: "supply", Proximity: "proximity switch input",
	PowerDC: "DC supply",
}

func (s Signal) String() string { return signalWords[s] }

// Nature tells whether a part drives current round its circuit or takes it.
type Nature uint8

// Natures. A contact or a resistance sensor is neither.
const (
	Neither Nature = iota
	Source
	Load
)

// Kind is what is known of every part of one kind.
type Kind struct {
	Name   string
	Words  string // for a heading on paper
	Symbol string // names the drawing of it
	Groups []Terminals
	Signal Signal // of the first group of terminals
	Passes bool   // lanes go through it: in 1, out 3 and so on
}

// FourWire tells a transmitter that has a supply of its own and drives its signal.
func (k *Kind) FourWire() bool {
	return len(k.Groups) > 1 && k.Groups[0].Signal == AnalogIn && k.Groups[0].Nature == Source
}

// ThreeWire tells a switch that is fed by two terminals and answers on a third.
func (k *Kind) ThreeWire() bool {
	return len(k.Groups) == 1 && strings.ContainsRune(k.Groups[0].Roles, 'Q')
}

// TwoWire tells a switch of electronics in series with its input (IEC 60947-5-2): it
// drops some volts while it is on, and leaks while it is off.
func (k *Kind) TwoWire() bool { return k.Name == "two-wire switch" }

// Powers tells whether a circuit of this family brings a device its supply.
func (s Signal) Powers() bool { return s == Power || s == PowerDC }

// Terminals is a group of terminals of a kind that serve one circuit.
type Terminals struct {
	Roles  string // one letter a terminal, see Role; . for none
	Nature Nature
	Signal Signal
}

// kinds of field device and panel instrument: one line each.
var deviceKinds = []*Kind{
	{Name: "transmitter", Words: "two-wire transmitter", Symbol: "transmitter", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}},
	{Name: "four-wire transmitter", Words: "four-wire transmitter", Symbol: "transmitter", Signal: AnalogIn, Groups: []Terminals{{"+-", Source, AnalogIn}, {"LNE", Load, Power}}},
	{Name: "four-wire transmitter DC", Words: "four-wire transmitter, DC supply", Symbol: "transmitter", Signal: AnalogIn, Groups: []Terminals{{"+-", Source, AnalogIn}, {"+-", Load, PowerDC}}},
	{Name: "pulse transmitter", Words: "pulse transmitter", Symbol: "transmitter", Signal: PulseIn, Groups: []Terminals{{"+-", Load, PulseIn}}},
	{Name: "I/P converter", Words: "current to pressure converter", Symbol: "converter", Signal: AnalogOut, Groups: []Terminals{{"+-", Load, AnalogOut}}},
	{Name: "positioner", Words: "valve positioner", Symbol: "positioner", Signal: AnalogOut, Groups: []Terminals{{"+-", Load, AnalogOut}}},
	{Name: "control valve", Words: "control valve", Symbol: "valve"},
	{Name: "on-off valve", Words: "on-off valve", Symbol: "valve"},
	{Name: "solenoid", Words: "solenoid valve", Symbol: "solenoid", Signal: SwitchedOut, Groups: []Terminals{{"+-", Load, SwitchedOut}}},
	{Name: "contact", Words: "dry contact", Symbol: "contact", Signal: ContactIn, Groups: []Terminals{{"..", Neither, ContactIn}}},
	{Name: "proximity switch", Words: "two-wire proximity switch", Symbol: "proximity", Signal: Proximity, Groups: []Terminals{{"+-", Load, Proximity}}},
	{Name: "two-wire switch", Words: "two-wire electronic switch", Symbol: "proximity", Signal: ContactIn, Groups: []Terminals{{"+-", Load, ContactIn}}},
	{Name: "proximity switch 3-wire", Words: "three-wire proximity switch", Symbol: "proximity", Signal: ContactIn, Groups: []Terminals{{"+-Q", Load, ContactIn}}},
	{Name: "RTD 2-wire", Words: "resistance thermometer, 2-wire", Symbol: "rtd", Signal: Resistance, Groups: []Terminals{{"AB", Neither, Resistance}}},
	{Name: "RTD 3-wire", Words: "resistance thermometer, 3-wire", Symbol: "rtd", Signal: Resistance, Groups: []Terminals{{"ABB", Neither, Resistance}}},
	{Name: "RTD 4-wire", Words: "resistance thermometer, 4-wire", Symbol: "rtd", Signal: Resistance, Groups: []Terminals{{"AABB", Neither, Resistance}}},
	{Name: "thermocouple", Words: "thermocouple", Symbol: "thermocouple", Signal: Thermo, Groups: []Terminals{{"+-", Source, Thermo}}},
	{Name: "indicator", Words: "panel indicator, loop powered", Symbol: "indicator", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}},
	{Name: "lamp", Words: "lamp or sounder", Symbol: "indicator", Signal: SwitchedOut, Groups: []Terminals{{"+-", Load, SwitchedOut}}},
}

// kinds of I/O card: the roles are of one channel.
var cardKinds = []*Kind{
	{Name: "AI", Words: "analogue input 4-20 mA", Symbol: "card", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}},
	{Name: "AO", Words: "analogue output 4-20 mA", Symbol: "card", Signal: AnalogOut, Groups: []Terminals{{"+-", Source, AnalogOut}}},
	{Name: "DI", Words: "contact input", Symbol: "card", Signal: ContactIn, Groups: []Terminals{{"+-", Load, ContactIn}}},
	{Name: "DO", Words: "switched output", Symbol: "card", Signal: SwitchedOut, Groups: []Terminals{{"+-", Source, SwitchedOut}}},
	{Name: "RTD", Words: "resistance thermometer input", Symbol: "card", Signal: Resistance, Groups: []Terminals{{"ABB", Neither, Resistance}}},
	{Name: "TC", Words: "thermocouple input", Symbol: "card", Signal: Thermo, Groups: []Terminals{{"+-", Load, Thermo}}},
	{Name: "PI", Words: "pulse input", Symbol: "card", Signal: PulseIn, Groups: []Terminals{{"+-", Load, PulseIn}}},
	{Name: "proximity", Words: "proximity switch input", Symbol: "card", Signal: Proximity, Groups: []Terminals{{"+-", Source, Proximity}}},
}

// kinds of part that stand between the strip and the card.
var barrierKinds = []*Kind{
	{Name: "barrier", Words: "shunt-diode safety barrier", Symbol: "barrier", Passes: true, Groups: []Terminals{{"+-+-", Neither, NoSignal}}},
	{Name: "isolator", Words: "galvanic isolator", Symbol: "isolator", Passes: true, Groups: []Terminals{{"+-+-", Neither, NoSignal}}},
}

var (
	stripKind = &Kind{Name: "strip", Words: "terminal strip", Symbol: "strip"}
	earthBar  = &Kind{Name: "earth bar", Words: "earth bar", Symbol: "earth bar"}
	supplyDC  = &Kind{Name: "supply", Words: "DC supply", Symbol: "supply", Signal: Power, Groups: []Terminals{{"+-", Source, Power}}}
	supplyAC  = &Kind{Name: "AC supply", Words: "AC supply", Symbol: "supply", Signal: Power, Groups: []Terminals{{"LNE", Source, Power}}}
	// unknownKind stands for a kind that was not understood: it is reported where
	// it is written, and nowhere else.
	unknownKind = &Kind{Name: "part", Words: "part"}
	functional  = []string{"controller", "indicator", "alarm", "switch", "recorder", "totaliser"}
)

// kindNamed finds a kind in a table.
func kindNamed(table []*Kind, name string) *Kind {
	for _, k := range table {
		if k.Name == name {
			return k
		}
	}
	return nil
}

func kindNames(table []*Kind) []string {
	names := make([]string, len(table))
	for i, k := range table {
		names[i] = k.Name
	}
	return names
}

// nature returns whether the terminal t of a part drives its circuit.
func (t *Terminal) nature() Nature {
	p := t.Part
	if p.Kind == nil || len(p.Kind.Groups) == 0 {
		return Neither
	}
	i := t.Index
	if p.Card != nil {
		n := p.Kind.Groups[0].Nature
		switch {
		case n == Load && p.Card.Powers:
			return Source
		case n == Source && !p.Card.Powers && p.Kind.Signal == SwitchedOut:
			return Neither // a dry relay contact
		}
		return n
	}
	for _, g := range p.Kind.Groups {
		if i < len(g.Roles) {
			return g.Nature
		}
		i -= len(g.Roles)
	}
	return Neither
}

// Signal returns the family of circuit that the terminal belongs to.
func (t *Terminal) Signal() Signal {
	p := t.Part
	if p.Kind == nil {
		return NoSignal
	}
	if p.Card != nil || p.Supply != nil {
		return p.Kind.Signal
	}
	i := t.Index
	for _, g := range p.Kind.Groups {
		if i < len(g.Roles) {
			return g.Signal
		}
		i -= len(g.Roles)
	}
	return NoSignal
}
