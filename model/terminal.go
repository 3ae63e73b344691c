package model

import (
	"strconv"
	"strings"

	"ringout/model/english"
)

// Terminal is one point to land a core on.
type Terminal struct {
	Part  *Part
	Name  string
	Index int // in its part, from 0
	Kind  TerminalKind
	Fuse  Fuse // of a fused terminal
	Role  Marking
	Bond  *Part       // earth bar it is bonded to by a link or a jumper; nil
	Bar   bool        // an earth bar takes any number of cores
	Fed   *Feed       // the supply it is joined to, through jumpers or directly
	Ends  []LandedEnd // conductors landed here
	Cards []*Part     // that are said to be fed from here; the wire is not in the model
	Group *Group      // of a device that has several; nil else
	Ended *Loop       // the segment whose terminator lies here; nil for none
	Doubt string      // why it cannot be known whether something lands here; "" where it can

	Joined []*Terminal // all that jumpers join to this one, itself too; nil without
}

// Tag is the terminal's full name, such as JB-21/X1:7.
func (t *Terminal) Tag() string { return t.Part.Tag + ":" + t.Name }

// HasBreak reports whether the two sides are two points (fuse, knife, diode, plug between).
func (t *Terminal) HasBreak() bool {
	return t.Kind == Fused || t.Kind == Disconnect || t.Kind == Diode || t.Kind == Pin
}

// Spare reports whether nothing lands on a terminal or is fed from it, nor on the
// other where legs go through its part. It may be fed, jumpered or bonded all the same. Earth bars,
// which take any number, have no spares; one in doubt is none.
func (t *Terminal) Spare() bool {
	through := t.Part.Through[t]
	return !t.Bar && len(t.Ends)+len(t.Cards) == 0 && t.Ended == nil && t.Doubt == "" && (through == nil || len(through.Ends) == 0)
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
	Pin // of a plug, in its receptacle
)

func (k TerminalKind) String() string { return terminalWords[k] }

// Words are what sheets call it.
func (k TerminalKind) Words() english.Text { return english.Text(terminalWords[k]) }

var terminalWords = [...]string{
	FeedThrough: "feed-through", Disconnect: "disconnect", Fused: "fused", Diode: "diode", EarthFoot: "earth", Pin: "pin",
}

// Marking is the mark of a terminal or of what a leg carries: '+' and '-' for
// polarity, 'A' and 'B' for the two sides of a resistance sensor, 'Q' for the
// output of a three-wire switch, 'L', 'N' and 'E' for a mains supply, 0 for none.
type Marking byte

// Open reports whether a leg cannot end on t: current goes no further from there.
func (t *Terminal) Open() bool {
	return (t.Part.Strip != nil || t.Part.Barrier != nil || t.Part.Kind.Bar) && t.Fed == nil
}

// EarthScrews are the names of the earth screw of a device. It has the one by which
// the text first calls it.
var EarthScrews = []string{"earth", "ground"}

// EarthScrew is the earth screw of a device, made under a name where it has none yet.
func (p *Part) EarthScrew(name string) *Terminal {
	for _, s := range EarthScrews {
		if t := p.TerminalByName[s]; t != nil && t.Bar {
			return t
		}
	}
	p.AddTerminal(&Terminal{Name: name, Role: 'E', Bar: true})
	return p.TerminalByName[name]
}

// Landed reports whether a conductor lands on t.
func (t *Terminal) Landed() bool { return len(t.Ends) > 0 }

// earths reports whether what lands on t is earthed by it.
func (t *Terminal) earths() bool {
	return t.Bond != nil || t.Kind == EarthFoot || t.Alone()
}

// Alone reports whether screens that land on t stay apart: on a bar, each is
// earthed by itself.
func (t *Terminal) Alone() bool {
	return t.Bar && (t.Part.Kind.Bar || t.Part.Device != nil)
}

// Live reports whether t is the pole that a source drives the current with: its +,
// or the - of a supply below common. The other is its return.
func (t *Terminal) Live() bool {
	if t.Part.Supply != nil && t.Part.Supply.Below {
		return t.Role == '-'
	}
	return t.Role == '+'
}

// Jumpered reports whether jumpers join t and o.
func (t *Terminal) Jumpered(o *Terminal) bool {
	return t.Joined != nil && o.Joined != nil && t.Joined[0] == o.Joined[0]
}

// Nature returns whether the terminal drives its circuit.
func (t *Terminal) Nature() PowerRole {
	p, n := t.Part, t.group().Nature
	if p.Card == nil || p.Kind == nil || len(p.Kind.Groups) == 0 {
		return n
	}
	switch n = p.Kind.Groups[0].Nature; { // that of every channel
	case n == Load && p.Card.Powers:
		return Source
	case n == Source && !p.Card.Powers && p.Kind.Signal == SwitchedOut:
		return Neither // a dry relay contact
	case n == Source && !p.Card.Powers:
		return Load // a passive output
	}
	return n
}

// Signal returns the family of circuit that the terminal belongs to.
func (t *Terminal) Signal() Signal {
	if p := t.Part; p.Kind != nil && (p.Card != nil || p.Supply != nil) {
		return p.Kind.Signal
	}
	return t.group().Signal
}

// group returns the terminals of a kind of part that this one is among; a zero group
// where it is among none.
func (t *Terminal) group() Terminals {
	if t.Group != nil {
		return t.Group.Serves()
	}
	if t.Part.Kind == nil {
		return Terminals{}
	}
	i := t.Index
	for _, g := range t.Part.Kind.Groups {
		if i < len(g.Roles) {
			return g
		}
		i -= len(g.Roles)
	}
	return Terminals{}
}

// Origin is the terminal that a leg on t comes to: that of the supply, where t
// is fed.
func Origin(t *Terminal) *Terminal {
	if t != nil && t.Fed != nil {
		return t.Fed.Supply
	}
	return t
}

// Spans puts the names of terminals together: 1 2 3 5 is 1..3 and 5.
func Spans(ts []*Terminal) []string {
	var spans []string
	for i := 0; i < len(ts); {
		j := i + 1
		for j < len(ts) && follows(ts[j-1].Name, ts[j].Name) {
			j++
		}
		if j-i > 2 {
			spans = append(spans, ts[i].Name+".."+ts[j-1].Name)
		} else {
			j = i + 1
			spans = append(spans, ts[i].Name)
		}
		i = j
	}
	return spans
}

// follows reports whether b is a with the number at its end one higher.
func follows(a, b string) bool {
	head := strings.TrimRight(a, "0123456789")
	n, err := strconv.Atoi(a[len(head):])
	return err == nil && b == head+strconv.Itoa(n+1) && a == head+strconv.Itoa(n)
}
