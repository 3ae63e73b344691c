package model

import (
	"math"
	"slices"

	"ringout/model/colour"
	"ringout/model/copper"
	"ringout/model/english"
	"ringout/model/finding"
)

// CableType describes a kind of cable.
type CableType struct {
	Pos              finding.Pos
	Name             string
	Groups           int // pairs, triads, quads or single cores
	Size             int // cores in a group: 1, 2, 3 or 4
	Copper           copper.Size
	Code             *colour.Code // nil when not given
	Screen           Screens
	Ohms             float64 // Ω/km of one core at 20 °C from the data sheet; 0 when not given
	Sheath           string
	Gland            string
	Bus              string  // type of cable that a segment is measured by: A, B, C or D; "" when not given
	Capacitance      float64 // pF/m, of one core to all others of its group and to the screen; 0 when not given
	Inductance       float64 // µH/m; 0 when not given
	LR               float64 // µH/Ω; 0 when not given
	InsulationMOhmKm float64 // MΩ·km of the data sheet; 0 when not given
	ByColour         bool    // colours and binders alone tell each group from all others
}

// GroupWord is what a group of cores is called: pair, triad, quad or core.
func (t *CableType) GroupWord() english.Text { return english.Text(GroupWords[t.Size]) }

// Colours are those of the cores of a group, from 1; nil where they are not given.
func (t *CableType) Colours(group int) []colour.Colour {
	if t.Code == nil {
		return nil
	}
	colours, _ := t.Code.Cores(group, t.Size, t.Groups)
	return colours
}

// Binder is the binder round a pair of a cable that is parted by binders: its number
// from 1 and its colours; false where there is none.
func (t *CableType) Binder(group int) (n int, binder colour.Colour, ok bool) {
	if t.Code == nil {
		return 0, colour.Colour{}, false
	}
	return t.Code.Binder(group, t.Size, t.Groups)
}

// ToldByColour reports whether the colours of every group, with those of its binder,
// are given and are no other group's of the cable.
func (t *CableType) ToldByColour() bool {
	seen := map[[5]colour.Colour]bool{}
	for g := 1; g <= t.Groups; g++ {
		var look [5]colour.Colour
		copy(look[:], t.Colours(g))
		if slices.Contains(look[:t.Size], colour.Colour{}) {
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

// GroupWords are what a group of so many cores is called.
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

// LengthUnit is the unit that the length was written in: m or ft.
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
	Colour colour.Colour
}

// IsScreen reports whether it is a screen or drain, not a core.
func (c *Core) IsScreen() bool { return c.N == 0 }

// Name is the core's own identity: cable, group and place in the group.
func (c *Core) Name() string {
	switch {
	case c.Group == 0:
		return c.Cable.Tag + " OS"
	case c.N == 0:
		return c.Cable.Tag + "-" + Itoa(c.Group) + "S"
	case c.Cable.Type.Size == 1:
		return c.Cable.Tag + "-" + Itoa(c.Number)
	}
	return c.Cable.Tag + "-" + Itoa(c.Group) + string(rune('a'+c.N-1))
}

// PositiveCore returns which core of a pair of this type carries +: what its
// colour code says, or else the plant's practice.
func (p *Plant) PositiveCore(t *CableType) int {
	if t.Code != nil && t.Code.Positive() > 0 {
		return t.Code.Positive()
	}
	return p.Practice.PositiveCore
}

// InUse counts the groups of a cable that circuits use, its spare groups and its
// spare cores; known is false where errors leave some of them open: then what is
// counted is the least in use, and the spares are those that are sure.
func (c *Cable) InUse(p *Plant) (used, spare, cores int, known bool) {
	if c.Type == nil {
		return 0, 0, 0, false
	}
	in, open := map[int]bool{}, map[int]bool{}
	for _, core := range c.Cores {
		switch w := p.ConductorOf(core); {
		case w != nil && w.Circuit != nil:
			in[core.Group] = true
		case w != nil && w.Doubt != "":
			open[core.Group] = true
		default:
			cores++
		}
	}
	used = len(in)
	for g := range open {
		in[g] = true
	}
	return used, c.Type.Groups - len(in), cores, len(open) == 0
}

// CoresAndScreens are the cores and screens of the cable in the order in which it is
// rung out: each group followed by its screen, the screen round all last.
func (c *Cable) CoresAndScreens() []*Core {
	var all []*Core
	for _, core := range c.Cores {
		all = append(all, core)
		if c.Type != nil && core.N == c.Type.Size && len(c.Screens) > 0 {
			all = append(all, c.Screens[core.Group-1])
		}
	}
	if c.Overall != nil {
		all = append(all, c.Overall)
	}
	return all
}

// Facts are the wiring facts of a cable: for every core and screen what carries
// it where, and for which circuit. What nothing is said of is a fact too.
func (c *Cable) Facts(p *Plant) []string {
	var facts []string
	for _, core := range c.CoresAndScreens() {
		w := p.ConductorOf(core)
		switch {
		case w == nil:
			facts = append(facts, "|"+core.Name()+"|"+core.Colour.Letters())
		case w.Circuit != nil:
			facts = append(facts, w.Circuit.Name+"|"+w.Fact())
		default:
			facts = append(facts, w.Spare+"|"+w.Fact())
		}
	}
	return facts
}

// Ends are the ends of a conductor of the cable: the one at the from end of the
// cable first. The path of a circuit may go the other way.
func (c *Cable) Ends(w *Conductor) (from, to End) {
	if !w.From.at(c.From) && (w.To.at(c.From) || w.From.at(c.To)) {
		return w.To, w.From
	}
	return w.From, w.To
}

// at reports whether the end is at that end of a cable.
func (e End) at(c CableEnd) bool {
	if e.Terminal == nil {
		return e.At == c.Tag()
	}
	return c.Serves(e.Terminal.Part)
}

// Serves reports whether the cable may land on a part at this end: one in its place,
// its device, or one that is mounted on that.
func (e CableEnd) Serves(p *Part) bool {
	if e.Place != nil {
		return p.Place == e.Place
	}
	for range mostMounted {
		if p == e.Part || p.Device == nil || p.Device.On == nil {
			break
		}
		p = p.Device.On
	}
	return p == e.Part
}

// mostMounted is how many devices may be mounted one on the other.
const mostMounted = 8

// Circuits are the circuits that the cable carries, in the order of its groups.
func (c *Cable) Circuits(p *Plant) []*Circuit {
	var all []*Circuit
	seen := map[*Circuit]bool{nil: true}
	for _, core := range c.Cores {
		if w := p.ConductorOf(core); w != nil && !seen[w.Circuit] {
			seen[w.Circuit] = true
			all = append(all, w.Circuit)
		}
	}
	return all
}
