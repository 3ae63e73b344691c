package model

import (
	"cmp"

	"ringout/model/finding"
)

// Segment is what a loop has besides, of which all devices hang in parallel on one pair:
// a powered two-wire bus, or a serial link.
type Segment struct {
	Kind        *SegmentKind
	Terminators []Terminator // in the order of the text
	Bias        Bias
	LastAddress int // the highest that its devices may have; 0 for that of its kind
	Plug        PlugLink
}

// Draws is what a device takes from the pair, in mA: as given, else what its kind of
// segment fixes; 0 when not given.
func (s *Segment) Draws(d *Device) float64 { return cmp.Or(d.SupplyCurrent, s.Kind.Each) }

// Last is the highest address that a device may have; 0 for any.
func (s *Segment) Last() int { return cmp.Or(s.LastAddress, s.Kind.Addresses) }

// Bias are the two resistors that hold an idle serial link at a mark: one from + to the
// volts of the bias, one from - to their 0 V.
type Bias struct {
	At    *Terminal // of the part that has them, its first on the pair; nil for none
	Ohms  float64   // Ω of each; 0 when not given
	Volts float64   // V; 0 when not given
}

// Terminator is a terminator of a segment, and where it is fitted.
type Terminator struct {
	Pos finding.Pos
	At  *Terminal // one of the two that it lies across; of a part with one built in, its first on the pair
	To  *Terminal // the other one; nil where it is built into the part
}

// Tag is where the terminator is: the part that has it built in, or with two terminals.
func (t Terminator) Tag() string {
	if t.To == nil {
		return t.At.Part.Tag
	}
	return t.At.Part.Tag + " " + t.At.Name + " " + t.To.Name
}

// SegmentKind is what the standard of a kind of segment allows. Where the standard has
// no such limit, it is 0.
type SegmentKind struct {
	Name    string
	Words   string // for a heading on paper
	Signal  Signal
	Plugged bool    // its two ends are plugs: it is proved from end to end, not core by core
	Glass   bool    // it is light in fibres
	Chained bool    // devices lie on the trunk, one behind the other: none on a spur longer than a tap
	Powered bool    // the pair brings devices their supply
	Reserve bool    // the supply keeps the reserve of the practice
	Each    float64 // mA that every device is fixed at; 0 for as it says
	Ohmic   bool    // masters listen across ohms between source and pair (HART)
	Least   float64 // V that a device needs
	Most    float64 // V that a device stands
	Devices int     // most on one segment, what powers it apart
	// The highest address of a device unless the segment says so, which is then the most
	// devices too; 0 for any.
	Addresses int
	Ohms      float64 // Ω of a terminator; 0 of a kind that has none
	Idle      float64 // V that a receiver needs between the poles while nobody sends
	Load      float64 // Ω between the poles of one device, the least
	Farads    float64 // µF in series with the ohms; 0 without a capacitor
	Longest   float64 // m of trunk and spurs together, where the type of cable says nothing
	Cables    []SegmentCable
	Spurs     []SpurLimit // the fewest devices first
	After     string      // the standard
}

// Line is what a line of its diagram stands for.
func (k *SegmentKind) Line() string {
	if k.Plugged {
		return "link"
	}
	return "pair"
}

// SegmentCable is a type of cable that a standard names, and how long a segment of it may be.
type SegmentCable struct {
	Name    string
	Longest float64 // m of trunk and spurs together
}

// SpurLimit is how long spurs may be on a segment of up to so many devices: by the number
// of devices on the spur, from one on. Where there is no figure, that many are not allowed.
type SpurLimit struct {
	Devices int
	Longest []float64 // m
}

// segmentKinds are the kinds of segment.
//
// Of the powered bus the lengths of cable types A to D and of spurs are those that IEC
// 61158-2 has for type 1, 31.25 kbit/s (as three makers' guides print them; spurs of 25 to
// 32 devices, 1 m, from memory), 9 to 32 V and two terminators of 100 Ω and 1 µF likewise.
// Of the serial link 32 unit loads, 1200 m at up to 100 kbit/s and 120 Ω at both ends are
// TIA-485; a tap of 20 m is that of MODBUS over serial line V1.02.
//
// Of the multidrop line 15 addresses, 0 being that of a device alone on its pair, and 4 mA
// fixed a device are those of HART up to revision 5 (an encyclopaedia's article, a maker's
// application note); from revision 6 on 63 addresses. Its ohms and its time constant have
// the limits that one HART device has.
//
// Of a link by plugs 100 m of copper from port to port are those of a balanced channel after
// ISO/IEC 11801 (from memory). How far light in a fibre goes is for the makers of its ports
// to say.
var segmentKinds = []*SegmentKind{
	{Name: "powered bus", Words: "powered two-wire bus, 31.25 kbit/s", Signal: Bus, Powered: true, Reserve: true, Least: 9, Most: 32, Devices: 32,
		Ohms: 100, Farads: 1, After: "IEC 61158-2 type 1",
		Cables: []SegmentCable{{"A", 1900}, {"B", 1200}, {"C", 400}, {"D", 200}},
		Spurs: []SpurLimit{{12, []float64{120, 90, 60, 30}}, {14, []float64{90, 60, 30, 1}}, {18, []float64{60, 30, 1}},
			{24, []float64{30, 1}}, {32, []float64{1}}}},
	{Name: "serial link", Words: "serial link, two wires", Signal: Serial, Chained: true, Devices: 32,
		Ohms: 120, Idle: 0.2, Load: 12000, Longest: 1200, After: "TIA-485", Spurs: []SpurLimit{{32, []float64{20}}}},
	{Name: "multidrop line", Words: "HART multidrop line", Signal: Multidrop, Powered: true, Ohmic: true, Each: 4, Devices: 15, Addresses: 15, After: "HART"},
	{Name: "Ethernet link", Words: "Ethernet link, copper", Plugged: true, Longest: 100, After: "ISO/IEC 11801"},
	{Name: "fibre link", Words: "fibre link", Plugged: true, Glass: true, After: "makers of its ports"},
}

// UnknownSegment stands for a kind that was not understood: it is reported where it is
// written, and nowhere else.
var UnknownSegment = &SegmentKind{}

// SegmentKindNamed returns the kind of segment with a name; nil where there is none.
func SegmentKindNamed(name string) *SegmentKind {
	for _, k := range segmentKinds {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// SegmentKindNames are the names of all kinds.
func SegmentKindNames() []string {
	names := make([]string, len(segmentKinds))
	for i, k := range segmentKinds {
		names[i] = k.Name
	}
	return names
}

// Cable returns how long a segment of a type of cable may be, in m; 0 where nothing is
// known of the type.
func (k *SegmentKind) Cable(name string) float64 {
	for _, c := range k.Cables {
		if c.Name == name {
			return c.Longest
		}
	}
	return k.Longest
}

// Spur returns how long a spur with so many devices may be on a segment of so many, in m;
// 0 where so many are not allowed on one spur.
func (k *SegmentKind) Spur(onSpur, devices int) float64 {
	for i, s := range k.Spurs {
		if devices > s.Devices && i+1 < len(k.Spurs) { // too many devices are told as such
			continue
		}
		if onSpur > len(s.Longest) {
			return 0
		}
		return s.Longest[max(0, onSpur-1)]
	}
	return 0
}

// CableNames are the types of cable that any kind of segment tells apart.
func CableNames() (names []string) {
	for _, k := range segmentKinds {
		for _, c := range k.Cables {
			names = append(names, c.Name)
		}
	}
	return names
}
