package model

import (
	"slices"
	"strings"
)

// ContactKind is what a contact does when it is worked.
type ContactKind uint8

// Kinds of contact. What is no contact has none.
const (
	Make       ContactKind = iota + 1 // open at rest
	Break                             // closed at rest
	Changeover                        // breaks one side and makes the other
)

// ContactWords are the words for ContactKind, in order.
var ContactWords = []string{"make", "break", "changeover"}

func (x ContactKind) String() string { return word(ContactWords, x) }

// Sign is the short name of the trade: NO, NC or CO.
func (x ContactKind) Sign() string { return [...]string{"", "NO", "NC", "CO"}[x] }

// Worker is what works a contact.
type Worker uint8

// Workers of contacts.
const (
	ByOwn       Worker = iota // the coil of its device; of a device without one a hand or the process
	ByOverload                // the overload relay of a motor starter: the coil does not
	ByValve                   // a valve at an end of its travel that is not told
	ByOpenValve               // a valve that is fully open
	ByShutValve               // a valve that is fully shut
)

// OfValve reports whether a valve works the contact, as it does a limit switch.
func (w Worker) OfValve() bool { return w >= ByValve }

// WorkerOf is what works a contact of a kind of device. A valve's own contacts are limit
// switches, and have the end at which they work in their name: open, shut or closed. Contacts
// numbered 95 to 98 are those of an overload relay (EN 50012, from memory).
func WorkerOf(k *Kind, g *Group) Worker {
	switch name := " " + g.Name + " "; {
	case g.Contact == 0:
	case k.LimitSwitches && strings.Contains(name, " open "):
		return ByOpenValve
	case k.LimitSwitches && (strings.Contains(name, " shut ") || strings.Contains(name, " closed ")):
		return ByShutValve
	case k.LimitSwitches:
		return ByValve
	case k.Coils != "" && !slices.ContainsFunc(g.Terminals, func(t *Terminal) bool { return len(t.Name) != 2 || t.Name < "95" || t.Name > "98" }):
		return ByOverload
	}
	return ByOwn
}

// Group is a coil or a contact of a device that has several, each for a circuit of its
// own.
type Group struct {
	Name      string      // what it is for, such as open or run; "" when not given
	Contact   ContactKind // zero of a coil
	Feeds     Signal      // Power or PowerDC of the supply of a device; NoSignal of coils and contacts
	Terminals []*Terminal // of a coil its + first; of a changeover contact common, break and make
	By        Worker      // what works a contact
}

// The terminals of a coil and of a contact.
var (
	coilTerminals    = Terminals{"+-", Load, SwitchedOut}
	contactTerminals = Terminals{"..", Neither, ContactIn}
	mainsTerminals   = Terminals{"LNE", Load, Power}
	feedTerminals    = Terminals{"+-", Load, PowerDC}
)

// Serves is what is known of the terminals of the group.
func (g *Group) Serves() Terminals {
	switch {
	case g.Feeds == Power:
		return mainsTerminals
	case g.Feeds == PowerDC:
		return feedTerminals
	case g.Contact == 0:
		return coilTerminals
	}
	return contactTerminals
}

// Coil reports whether the group is a coil.
func (g *Group) Coil() bool { return g.Contact == 0 && g.Feeds == NoSignal }

// Element is what the group has between its terminals.
func (g *Group) Element() Element {
	switch {
	case g.Feeds != NoSignal:
		return NoElement
	case g.Contact == 0:
		return CoilElement
	case g.Contact == Changeover:
		return ChangeoverElement
	}
	return ContactElement
}

// Numbers are the names of its terminals, such as 11-12-14.
func (g *Group) Numbers() string {
	var names []string
	for _, t := range g.Terminals {
		names = append(names, t.Name)
	}
	return strings.Join(names, "-")
}

// Words are its name, if it has one, and its numbers, such as run 13-14.
func (g *Group) Words() string { return strings.TrimLeft(g.Name+" "+g.Numbers(), " ") }

// Joins reports whether the group joins two of its terminals, at rest or worked: those
// of a coil or of a contact with two, or the common of a changeover contact and another.
func (g *Group) Joins(a, b *Terminal) bool {
	return a != b && slices.Contains(g.Terminals, a) && slices.Contains(g.Terminals, b) &&
		(g.Contact != Changeover || a == g.Terminals[0] || b == g.Terminals[0])
}

// ClosedAtRest reports whether the contact joins two of its terminals while nothing works
// it: those of a break contact, or the common and the break side of a changeover contact.
func (g *Group) ClosedAtRest(a, b *Terminal) bool {
	return g.Contact == Break || g.Contact == Changeover && g.Joins(a, b) && (a == g.Terminals[1] || b == g.Terminals[1])
}

// Circuits are those that land on the group, each once, in the order of the text.
func (g *Group) Circuits() (all []*Circuit) {
	for _, t := range g.Terminals {
		for _, e := range t.Ends {
			if c := e.Conductor.Circuit; c != nil && !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	return all
}

// functionDigits are the last digits of the terminals of a contact by what it does: 5 and
// 6, 7 and 8 of one that acts late or by overload (EN 50005, from memory).
var functionDigits = map[string]ContactKind{
	"12": Break, "34": Make, "124": Changeover, "56": Break, "78": Make, "568": Changeover,
}

// ContactByNumbers is what a contact does by the numbers of its terminals, such as 13 and
// 14; zero where they are no pair and no three of EN 50005.
func ContactByNumbers(numbers []string) ContactKind {
	place, digits := "", ""
	for i, n := range numbers {
		if n == "" || strings.Trim(n, "0123456789") != "" || i > 0 && n[:len(n)-1] != place {
			return 0
		}
		place = n[:len(n)-1]
		digits += n[len(n)-1:]
	}
	return functionDigits[digits]
}

// Coils are the coils of a part that has several groups of terminals.
func (p *Part) Coils() []*Group { return p.groups((*Group).Coil) }

// CoilUnknown reports whether its contacts are worked by a coil of which the plant says
// nothing: others wired it. One of which it gives data is forgotten.
func (p *Part) CoilUnknown() bool {
	d := p.Device
	return d != nil && p.Kind.ByOthers && d.Rated+d.Ohms+d.Watts+d.Inrush+d.Holding+d.PullIn+d.DropOut == 0 && !slices.ContainsFunc(p.Coils(), func(g *Group) bool {
		return slices.ContainsFunc(g.Terminals, (*Terminal).Landed)
	})
}

// Contacts are its contacts.
func (p *Part) Contacts() []*Group { return p.groups(func(g *Group) bool { return g.Contact != 0 }) }

func (p *Part) groups(is func(*Group) bool) (all []*Group) {
	if p.Device == nil {
		return nil
	}
	for _, g := range p.Device.Groups {
		if is(g) {
			all = append(all, g)
		}
	}
	return all
}

// Through reports whether a leg goes through a part here: in at one terminal and out at
// another.
func (t Termination) Through() bool { return t.Does == Lands && t.In != t.Out }

// Group is the group of terminals that the legs land on at a station of a device that has
// several; nil at others.
func (st *Station) Group() *Group {
	for _, t := range st.Terminations {
		if t.Does == Lands && t.In.Group != nil {
			return t.In.Group
		}
	}
	return nil
}

// InSeries reports whether legs only go through a contact of a device here, which opens
// and closes the circuit of another.
func (st *Station) InSeries() bool {
	g := st.Group()
	return g != nil && g.Contact != 0 && slices.ContainsFunc(st.Terminations, Termination.Through)
}

// Element is what lies between the terminals that legs land on at a station.
func (st *Station) Element() Element {
	if g := st.Group(); g != nil {
		if g.Contact == Changeover && len(st.landed()) < 3 {
			return ContactElement
		}
		return g.Element()
	}
	return st.Part.Kind.Element
}

// ClosedAtRest reports whether the contact at a station is closed while nothing works it,
// as on the shelf: by its numbers or, where it has none, as its device says.
func (st *Station) ClosedAtRest() bool {
	g := st.Group()
	if g == nil {
		return st.Part.Device.ClosedAtRest()
	}
	for _, t := range st.Terminations {
		if t.Through() {
			return g.ClosedAtRest(t.In, t.Out)
		}
	}
	on := st.landed()
	return g.ClosedAtRest(on[0], on[len(on)-1])
}

// landed are the terminals that legs land on at a station, of a group in its order.
func (st *Station) landed() (all []*Terminal) {
	for _, t := range st.Terminations {
		if t.Does == Lands {
			all = append(all, t.In)
		}
	}
	slices.SortStableFunc(all, func(a, b *Terminal) int { return a.Index - b.Index })
	return all
}

// Seals is the contact that a circuit joins another contact with side by side, as an auxiliary
// contact of a starter is with its START: the circuit leads from both ends of the one to both
// ends of the other, which is in a circuit that is fed. It is nil for other circuits.
func (c *Circuit) Seals() *Group {
	if c.Broken || len(c.Legs) != 2 {
		return nil
	}
	var from, to *Group
	for i, l := range c.Legs {
		a, b := l.Begin(), l.End()
		if a == nil || b == nil || a.Group == nil || b.Group == nil || a.Group == b.Group || a.Group.Contact == 0 || b.Group.Contact == 0 ||
			i > 0 && (a.Group != from || b.Group != to) {
			return nil
		}
		from, to = a.Group, b.Group
	}
	if c.sealed(to) == nil {
		return nil
	}
	return to
}

// sealed is the circuit that a contact is in besides c, which goes through it.
func (c *Circuit) sealed(g *Group) *Circuit {
	for _, other := range g.Circuits() {
		if other != c && slices.ContainsFunc(other.visits, func(st *Station) bool { return st.Group() == g && st.InSeries() }) {
			return other
		}
	}
	return nil
}

// Sealed is the circuit whose contact the circuit is side by side with; nil for others than
// those of Seals.
func (c *Circuit) Sealed() *Circuit {
	if g := c.Seals(); g != nil {
		return c.sealed(g)
	}
	return nil
}
