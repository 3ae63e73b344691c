package model

import (
	"strings"

	"ringout/model/english"
)

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
	Bus    // of a segment that powers its devices
	Serial // of a serial link
	Displacement
	Multidrop   // of a HART line
	CommonCores // that other circuits share
)

var signalWords = [...]string{
	NoSignal: "", AnalogIn: "4-20 mA input", AnalogOut: "4-20 mA output", ContactIn: "contact input",
	SwitchedOut: "switched output", Resistance: "resistance sensor", Thermo: "thermocouple",
	PulseIn: "pulse input", Power: "supply", Proximity: "proximity switch input",
	PowerDC: "DC supply", Bus: "powered bus", Serial: "serial link", Displacement: "displacement probe input",
	Multidrop:   "HART multidrop",
	CommonCores: "common supply",
}

func (s Signal) String() string { return signalWords[s] }

// PowerRole is whether a part drives current round its circuit or takes it.
type PowerRole uint8

// Power roles. A contact or a resistance sensor is neither.
const (
	Neither PowerRole = iota
	Source
	Load
)

// Element is what a device has between its terminals, as its diagram shows it.
type Element uint8

// Elements. Electronics have none that a diagram shows.
const (
	NoElement Element = iota
	ContactElement
	CoilElement
	ResistorElement // of a resistance thermometer
	JunctionElement // of a thermocouple
	ProximityElement
	ChangeoverElement
	OutputElement // a source inside that drives the signal
)

// Connection is how a device meets the process that it measures.
type Connection uint8

// Connections.
const (
	PrimaryElement Connection = iota // the one that the first letter of its tag names
	Unconnected                      // it does not meet the process itself
	Tapping                          // unless it is mounted on another device
	Thermowell
)

// Actuator is what moves a valve.
type Actuator uint8

// Actuators. What is no valve has none.
const (
	NoActuator Actuator = iota
	Diaphragm
	Piston
)

// Kind is what is known of every part of one kind: all that other code asks of it.
// What a kind can do is told here, and no code asks for its name.
type Kind struct {
	Name   string
	Words  english.Text // for a heading on paper
	Groups []Terminals
	Signal Signal // of the first group of terminals

	// Of devices.
	Letters     string     // that their tags have after the first (ISA-5.1-2009 table 4.1)
	Element     Element    // between the terminals
	Process     Connection // how they meet it
	Actuator    Actuator   // of a valve
	Indicator   bool       // shows the current of any circuit that it is in
	Annunciator bool       // lights or sounds, and moves nothing
	Armature    bool       // a coil that pulls in, holds and lets go
	ByOthers    bool       // its coil is often wired by others, on drawings of their own
	TwoWire     bool       // electronics in series with its input (IEC 60947-5-2): drops volts while it is on, leaks while it is off

	// Of devices with several groups of terminals, each for a circuit of its own: what they
	// have unless the plant says, as the keys coils and contacts of a device are written.
	Coils    string    // "" of a kind without
	Contacts string    // likewise
	Worked   [2]string // how people work its contacts, and let them go; nothing of a coil's or of the process

	LimitSwitches bool // its contacts are worked by the valve that it is on

	// Of instruments of several circuits, whose inputs and outputs the plant gives.
	Ports bool         // they have inputs and outputs, each a part that a circuit lands on as on a card
	Feed  string       // their supply unless the plant says, as the key supply is written; "" of other kinds
	Does  FunctionKind // what they do with what they read; zero of one that only passes it on

	// Of cards.
	MayPower bool // drives its circuit or does not, as the plant says of each card
	MayHold  bool // drives its circuit, unless the plant says that a card only holds the current

	// Of what stands in a place.
	Passes   bool // legs go through it: in 1, out 3 and so on
	Shunts   bool // safe by the earth that it shunts to, as a shunt-diode barrier is
	Isolates bool // parts its two sides: a source of its own to the field
	Diverts  bool // leads surges to its earth, and is no barrier
	Bar      bool // an earth bar
	Guards   bool // a coupler whose spurs are intrinsically safe
}

// Drives reports whether it drives its signal, as a transmitter with its own supply does.
func (k *Kind) Drives() bool {
	return len(k.Groups) > 0 && k.Groups[0].Signal == AnalogIn && k.Groups[0].Nature == Source
}

// ThreeWire reports whether it is a switch or transmitter that is fed by two terminals and has its output on a third.
func (k *Kind) ThreeWire() bool {
	return len(k.Groups) == 1 && strings.ContainsRune(k.Groups[0].Roles, 'Q')
}

// Grouped reports whether the plant says which coils and contacts a device has.
func (k *Kind) Grouped() bool { return k.Coils != "" || k.Contacts != "" || k.Ports }

// Receives reports whether a kind of card has inputs that a device of one circuit sends to.
func (k *Kind) Receives() bool {
	switch k.Signal {
	case AnalogIn, ContactIn, Resistance, Thermo, PulseIn, Proximity:
		return true
	}
	return false
}

// Powers reports whether a circuit of this family brings a device its supply.
func (s Signal) Powers() bool { return s == Power || s == PowerDC }

// Terminals is a group of terminals of a kind that serve one circuit.
type Terminals struct {
	Roles  string // one letter a terminal, see Role; . for none
	Nature PowerRole
	Signal Signal
}

// DeviceKinds are the kinds of field device and panel instrument, one line each.
var DeviceKinds = []*Kind{
	{Name: "transmitter", Words: "two-wire transmitter", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}, Letters: "TE"},
	{Name: "four-wire transmitter", Words: "four-wire transmitter", Signal: AnalogIn, Groups: []Terminals{{"+-", Source, AnalogIn}, {"LNE", Load, Power}}, Letters: "TE"},
	{Name: "four-wire transmitter DC", Words: "four-wire transmitter, DC supply", Signal: AnalogIn, Groups: []Terminals{{"+-", Source, AnalogIn}, {"+-", Load, PowerDC}}, Letters: "TE"},
	{Name: "three-wire transmitter", Words: "three-wire transmitter", Signal: AnalogIn, Groups: []Terminals{{"+-Q", Load, AnalogIn}}, Letters: "TE", Element: OutputElement},
	{Name: "pulse transmitter", Words: "pulse transmitter", Signal: PulseIn, Groups: []Terminals{{"+-", Load, PulseIn}}, Letters: "TEQS"},
	{Name: "I/P converter", Words: "current to pressure converter", Signal: AnalogOut, Groups: []Terminals{{"+-", Load, AnalogOut}}, Letters: "Y", Element: CoilElement},
	{Name: "positioner", Words: "valve positioner", Signal: AnalogOut, Groups: []Terminals{{"+-", Load, AnalogOut}}, Letters: "YZCV", Element: CoilElement},
	{Name: "control valve", Words: "control valve", Letters: "VZ", Actuator: Diaphragm},
	{Name: "on-off valve", Words: "on-off valve", Letters: "VZ", Actuator: Piston},
	{Name: "solenoid", Words: "solenoid valve", Signal: SwitchedOut, Groups: []Terminals{{"+-", Load, SwitchedOut}}, Letters: "YVZ", Element: CoilElement, Process: Unconnected, Armature: true},
	{Name: "contact", Words: "dry contact", Signal: ContactIn, Groups: []Terminals{{"..", Neither, ContactIn}}, Letters: "SALIYH", Element: ContactElement, Process: Tapping},
	{Name: "proximity switch", Words: "two-wire proximity switch", Signal: Proximity, Groups: []Terminals{{"+-", Load, Proximity}}, Letters: "STEIL", Element: ProximityElement, Process: Tapping},
	{Name: "two-wire switch", Words: "two-wire electronic switch", Signal: ContactIn, Groups: []Terminals{{"+-", Load, ContactIn}}, Letters: "STEIL", Element: ProximityElement, Process: Tapping, TwoWire: true},
	{Name: "proximity switch 3-wire", Words: "three-wire proximity switch", Signal: ContactIn, Groups: []Terminals{{"+-Q", Load, ContactIn}}, Letters: "STEIL", Element: ProximityElement, Process: Tapping},
	{Name: "RTD 2-wire", Words: "resistance thermometer, 2-wire", Signal: Resistance, Groups: []Terminals{{"AB", Neither, Resistance}}, Letters: "EW", Element: ResistorElement, Process: Thermowell},
	{Name: "RTD 3-wire", Words: "resistance thermometer, 3-wire", Signal: Resistance, Groups: []Terminals{{"ABB", Neither, Resistance}}, Letters: "EW", Element: ResistorElement, Process: Thermowell},
	{Name: "RTD 4-wire", Words: "resistance thermometer, 4-wire", Signal: Resistance, Groups: []Terminals{{"AABB", Neither, Resistance}}, Letters: "EW", Element: ResistorElement, Process: Thermowell},
	{Name: "thermocouple", Words: "thermocouple", Signal: Thermo, Groups: []Terminals{{"+-", Source, Thermo}}, Letters: "EW", Element: JunctionElement, Process: Thermowell},
	{Name: "indicator", Words: "panel indicator, loop powered", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}, Letters: "IRGQKACL", Process: Unconnected, Indicator: true},
	{Name: "bus device", Words: "device on a powered bus", Signal: Bus, Groups: []Terminals{{"+-", Load, Bus}, {"S", Neither, NoSignal}}, Letters: "TEISYVZCA"},
	{Name: "serial device", Words: "device on a serial link", Signal: Serial, Groups: []Terminals{{"+-", Neither, Serial}, {"S", Neither, NoSignal}}, Letters: "TEISYVZCAQRU"},
	{Name: "multidrop device", Words: "device on a multidrop line", Signal: Multidrop, Groups: []Terminals{{"+-", Load, Multidrop}}, Letters: "TEISYVZCA"},
	{Name: "displacement probe", Words: "displacement probe and driver", Signal: Displacement, Groups: []Terminals{{"+-Q", Load, Displacement}}, Letters: "TE", Element: OutputElement},
	{Name: "lamp", Words: "lamp or sounder", Signal: SwitchedOut, Groups: []Terminals{{"+-", Load, SwitchedOut}}, Letters: "LAI", Process: Unconnected, Annunciator: true},
	{Name: "relay", Words: "relay", Signal: SwitchedOut, Coils: "A1-A2", Contacts: "11-12-14", Letters: "Y", Process: Unconnected, Armature: true},
	{Name: "contactor", Words: "contactor", Signal: SwitchedOut, Coils: "A1-A2", Contacts: "13-14", Letters: "Y", Process: Unconnected, Armature: true, ByOthers: true},
	{Name: "motor starter", Words: "motor starter", Signal: SwitchedOut, Coils: "A1-A2", Contacts: "run 13-14, overload 95-96, tripped 97-98", Letters: "YZ", Process: Unconnected, Armature: true, ByOthers: true},
	{Name: "changeover contact", Words: "changeover contact", Signal: ContactIn, Contacts: "11-12-14", Letters: "SALIYH", Process: Tapping},
	{Name: "push-button", Words: "push-button", Worked: [2]string{"press and hold it", "let it go"}, Signal: ContactIn, Contacts: "13-14", Letters: "SH", Process: Unconnected},
	{Name: "selector switch", Words: "selector switch", Worked: [2]string{"turn it", "turn it back"}, Signal: ContactIn, Contacts: "13-14", Letters: "SH", Process: Unconnected},
	{Name: "controller", Words: "panel controller", Ports: true, Feed: "AC L-N-PE", Does: Controller, Letters: "C", Process: Unconnected},
	{Name: "recorder", Words: "panel recorder", Ports: true, Feed: "AC L-N-PE", Does: Recorder, Letters: "R", Process: Unconnected},
	{Name: "digital indicator", Words: "digital panel indicator", Ports: true, Feed: "AC L-N-PE", Does: Indicator, Letters: "IQ", Process: Unconnected},
	{Name: "trip amplifier", Words: "trip amplifier", Ports: true, Feed: "DC 21-22", Contacts: "11-12-14", Does: Switch, Letters: "SAYC", Process: Unconnected},
	{Name: "signal conditioner", Words: "signal conditioner", Ports: true, Feed: "DC 21-22", Letters: "YT", Process: Unconnected},
	{Name: "valve head", Words: "solenoid and limit switches", Signal: SwitchedOut, Coils: "A1-A2", Contacts: "open 13-14, shut 23-24", LimitSwitches: true, Letters: "YVZ", Process: Unconnected, Armature: true},
}

// CardKinds are the kinds of I/O card; the roles are of one channel.
var CardKinds = []*Kind{
	{Name: "AI", Words: "analogue input 4-20 mA", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}, MayPower: true},
	{Name: "AO", Words: "analogue output 4-20 mA", Signal: AnalogOut, Groups: []Terminals{{"+-", Source, AnalogOut}}, MayHold: true},
	{Name: "DI", Words: "contact input", Signal: ContactIn, Groups: []Terminals{{"+-", Load, ContactIn}}, MayPower: true},
	{Name: "DO", Words: "switched output", Signal: SwitchedOut, Groups: []Terminals{{"+-", Source, SwitchedOut}}, MayPower: true},
	{Name: "RTD", Words: "resistance thermometer input", Signal: Resistance, Groups: []Terminals{{"ABB", Neither, Resistance}}},
	{Name: "TC", Words: "thermocouple input", Signal: Thermo, Groups: []Terminals{{"+-", Load, Thermo}}},
	{Name: "PI", Words: "pulse input", Signal: PulseIn, Groups: []Terminals{{"+-", Load, PulseIn}}, MayPower: true},
	{Name: "proximity", Words: "proximity switch input", Signal: Proximity, Groups: []Terminals{{"+-", Source, Proximity}}},
	{Name: "displacement", Words: "displacement monitor input", Signal: Displacement, Groups: []Terminals{{"+-Q", Load, Displacement}}, MayPower: true},
	{Name: "bus", Words: "port of a powered bus", Signal: Bus, Groups: []Terminals{{"+-", Neither, Bus}}, MayPower: true},
	{Name: "serial", Words: "port of a serial link", Signal: Serial, Groups: []Terminals{{"+-", Neither, Serial}}},
	{Name: "multidrop", Words: "port of a multidrop line", Signal: Multidrop, Groups: []Terminals{{"+-", Neither, Multidrop}}, MayPower: true},
}

// SenderKinds are the kinds of output by which an instrument sends its value on, as a
// transmitter does.
var SenderKinds = []*Kind{
	{Name: "active output", Words: "retransmission output, active", Signal: AnalogIn, Groups: []Terminals{{"+-", Source, AnalogIn}}, Process: Unconnected},
	{Name: "passive output", Words: "retransmission output, passive", Signal: AnalogIn, Groups: []Terminals{{"+-", Load, AnalogIn}}, Process: Unconnected},
}

// BarrierKinds are the kinds of part that legs go through on their way between strip and card.
var BarrierKinds = []*Kind{
	{Name: "barrier", Words: "shunt-diode safety barrier", Passes: true, Groups: []Terminals{{"+-+-", Neither, NoSignal}}, Shunts: true},
	{Name: "isolator", Words: "galvanic isolator", Passes: true, Groups: []Terminals{{"+-+-", Neither, NoSignal}}, Isolates: true},
	{Name: "surge protector", Words: "surge protector", Passes: true, Groups: []Terminals{{"+-+-", Neither, NoSignal}}, Diverts: true},
}

// Kinds of which there is no table.
var (
	StripKind = &Kind{Name: "strip", Words: "terminal strip"}
	PlugKind  = &Kind{Name: "plug", Words: "plug and receptacle"}
	EarthBar  = &Kind{Name: "earth bar", Words: "earth bar", Bar: true}
	SupplyDC  = &Kind{Name: "supply", Words: "DC supply", Signal: Power, Groups: []Terminals{{"+-", Source, Power}}}
	SupplyAC  = &Kind{Name: "AC supply", Words: "AC supply", Signal: Power, Groups: []Terminals{{"LNE", Source, Power}}}
	// UnknownKind stands for a kind that was not understood: it is reported where
	// it is written, and nowhere else.
	UnknownKind = &Kind{Name: "part", Words: "part"}
)

// Isolates reports whether a part is an isolator.
func (p *Part) Isolates() bool { return p.Kind.Isolates }

// Guards reports whether a part makes what lies on its field side intrinsically safe: a
// barrier or an isolator.
func (p *Part) Guards() bool { return p.Kind != nil && (p.Kind.Shunts || p.Kind.Isolates) }

// CardKind is the kind of card with a name; nil where there is none.
func CardKind(name string) *Kind { return KindNamed(CardKinds, name) }

// KindNamed returns the kind of a table with a name; nil where there is none.
func KindNamed(table []*Kind, name string) *Kind {
	for _, k := range table {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// KindNames returns the names of the kinds in a table.
func KindNames(table []*Kind) []string {
	names := make([]string, len(table))
	for i, k := range table {
		names[i] = k.Name
	}
	return names
}

// CardKindOf is the name of the kind of card for a signal; "" where there is none.
func CardKindOf(s Signal) string {
	for _, k := range CardKinds {
		if k.Signal == s {
			return k.Name
		}
	}
	return ""
}
