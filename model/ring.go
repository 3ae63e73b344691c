package model

// This file looks at a cable as somebody does who rings it out: core by core,
// from one end to the other.

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
// cable first. The walk of a circuit may go the other way.
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
