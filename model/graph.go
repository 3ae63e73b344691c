package model

import (
	"slices"
)

// FedCards are the cards that power a circuit, of which what feeds them is given.
func (c *Circuit) FedCards() (all []*Part) {
	for _, st := range c.Stations() {
		if x := st.Part; x.Card != nil && x.Card.Powers && x.Card.From != nil && !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	return all
}

// EachCircuit calls f for each circuit that could be bound, in the order of the text.
func (p *Plant) EachCircuit(f func(*Circuit)) {
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if !c.Broken {
				f(c)
			}
		}
	}
}

// Open reports whether a leg cannot end on t: current goes no further from there.
func (t *Terminal) Open() bool {
	return (t.Part.Strip != nil || t.Part.Barrier != nil || t.Part.Kind.Bar) && t.Fed == nil
}

// Landed reports whether a conductor lands on a terminal.
func (t *Terminal) Landed() bool { return len(t.Uses) > 0 }

// EachTerminal calls f with every terminal, in the order of the text.
func (p *Plant) EachTerminal(f func(*Terminal)) {
	p.EachPart(func(part *Part) {
		for _, t := range part.Terminals {
			f(t)
		}
	})
}

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

func (s Side) String() string { return [...]string{"field", "system"}[s] }

// Later reports whether the circuit waits for something of a later stage: itself,
// its device or a part of its wiring. It is not checked before that is there.
func (c *Circuit) Later(p *Plant) bool {
	if d := c.Device(); c.Status == Future || d != nil && d.Status == Future {
		return true
	}
	return slices.ContainsFunc(c.Conductors(p), func(w *Conductor) bool { return w.Status == Future })
}

// CableMark is what the tag on a cable reads at its from end, or else at its
// to end: the cable's own tag, and where the plant's practice is remote, what
// it goes to.
func (p *Plant) CableMark(c *Cable, from bool) string {
	if p.Practice.CableTag != RemoteTag {
		return c.Tag
	}
	if from {
		return c.Tag + " to " + c.To.Tag()
	}
	return c.Tag + " to " + c.From.Tag()
}

// Supply is the supply that feeds the circuit: one it lands on, or one that
// feeds a terminal it lands on. It is nil when the model shows none.
func (c *Circuit) Supply() *Part {
	for _, l := range c.Legs {
		for _, s := range l.Steps {
			for _, t := range []*Terminal{s.Slot.In, s.Slot.Out} {
				switch {
				case t == nil:
				case t.Role == 'E': // protective earth feeds nothing
				case t.Part.Supply != nil:
					return t.Part
				case t.Fed != nil && t.Fed.Supply.Role != 'E':
					return t.Fed.Supply.Part
				}
			}
		}
	}
	return nil
}

// Feeding is what feeds the circuit: the volts of its supply, or else the most of a
// card that powers it; known is false when the model shows neither.
func (c *Circuit) Feeding() (volts float64, ac, known bool) {
	switch s := c.Feeder(); {
	case s == nil:
		return 0, false, false
	case s.Supply != nil:
		return s.Supply.Volts, s.Supply.AC, true
	default:
		return s.Card.Volts.Most(), s.Card.Volts.AC(), true
	}
}

// Feeder is the supply of the circuit, or else the card that powers it with volts
// that are written; nil when the model shows neither.
func (c *Circuit) Feeder() *Part {
	if s := c.Supply(); s != nil {
		return s
	}
	for _, st := range c.Stations() {
		if card := st.Part.Card; card != nil && card.Powers && len(card.Volts) > 0 {
			return st.Part
		}
	}
	return nil
}

// Device is the field device of the circuit: the first device that the walk
// lands on, an indicator only when there is no other; nil when there is none.
func (c *Circuit) Device() *Part {
	var found *Part
	for _, s := range c.Stations() {
		switch d := s.Part; {
		case d.Device == nil || d.Device.Loop == nil:
		case !d.Kind.Indicator:
			return d
		case found == nil:
			found = d
		}
	}
	return found
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

// Jumpered reports whether jumpers join t and o.
func (t *Terminal) Jumpered(o *Terminal) bool {
	return t.Joined != nil && o.Joined != nil && t.Joined[0] == o.Joined[0]
}

// ArrivalSide is the side of a terminal that a walk arrives on. Most walks come from
// the field; those that begin on a card come from the system.
func (c *Circuit) ArrivalSide() Side {
	if c.FromCard() {
		return SystemSide
	}
	return FieldSide
}

// DepartureSide is the side of a terminal that a walk leaves from.
func (c *Circuit) DepartureSide() Side { return 1 - c.ArrivalSide() }

// FromCard reports whether a circuit is written from the card to the field.
func (c *Circuit) FromCard() bool {
	return len(c.Path.Stations) > 0 && c.Path.Stations[0].Part.Card != nil
}

// Landing is what the cable of a run says of the screen that the run carries: its
// overall screen; nil where it says nothing.
func (r *Run) Landing() *Conductor {
	if r.Kind != CableRun || r.Screen == nil || r.Screen != r.Cable.Overall {
		return nil
	}
	return r.Cable.Landing
}

// Mark is what a leg is called: its role, or its number.
func (l *Leg) Mark() string {
	if l.Role != 0 {
		return string(l.Role)
	}
	return Itoa(l.N)
}

// ConductorOf returns the conductor that uses a core or screen first.
func (p *Plant) ConductorOf(c *Core) *Conductor { return p.ConductorByCore[c] }

// Settle finds what follows from the stations of a circuit, once it is bound: its
// family, and in which order they are met.
func (c *Circuit) Settle() {
	c.Signal = c.signal()
	c.visits = c.meet()
}

// signal is the family of the circuit: that of its device, else of its card. A
// panel indicator goes with any current.
func (c *Circuit) signal() Signal {
	found := NoSignal
	for _, st := range c.Stations() {
		for _, s := range st.Slots {
			switch {
			case s.In == nil || s.In.Signal() == NoSignal || st.Part.Kind.Indicator:
			case st.Part.Device != nil:
				return s.In.Signal()
			case found == NoSignal:
				found = s.In.Signal()
			}
		}
	}
	return found
}

// End returns the terminal where the leg ends, or nil when it ends in the air.
func (l *Leg) End() *Terminal {
	if len(l.Steps) == 0 {
		return nil
	}
	s := l.Steps[len(l.Steps)-1].Slot
	if s.Does != Lands {
		return nil
	}
	return s.Out
}

// Begin returns the terminal where the leg begins.
func (l *Leg) Begin() *Terminal {
	if len(l.Steps) == 0 {
		return nil
	}
	return l.Steps[0].Slot.In
}

// Stations returns every station of the circuit, trunk first, then the tails.
func (c *Circuit) Stations() []*Station { return c.Path.stations(nil) }

func (p *Path) stations(all []*Station) []*Station {
	if p == nil {
		return all
	}
	all = append(all, p.Stations...)
	for _, t := range p.Tails {
		all = t.stations(all)
	}
	return all
}

// Visits returns what the circuit lands on, for sums: its stations, but each channel
// of a card, device and barrier once, with the slots of all legs that come to it,
// however the legs part on the way. Strips stay as Stations has them.
func (c *Circuit) Visits() []*Station { return c.visits }

// meet makes the visits.
func (c *Circuit) meet() (all []*Station) {
	for _, st := range c.Stations() {
		i := slices.IndexFunc(all, func(v *Station) bool { return v.Same(st) })
		switch {
		case i < 0:
			all = append(all, st)
		case all[i] != st:
			one := *all[i]
			one.Slots = slices.Concat(one.Slots, st.Slots)
			all[i] = &one
		}
	}
	return all
}

// Same reports whether two stations are one thing to the current: one station, or
// one channel, device or barrier.
func (st *Station) Same(o *Station) bool {
	return st == o || st.Part == o.Part && st.Channel == o.Channel && st.Part.Strip == nil
}

// Runs returns every run of the circuit, trunk first, then the tails.
func (c *Circuit) Runs() []*Run { return c.Path.runs(nil) }

func (p *Path) runs(all []*Run) []*Run {
	if p == nil {
		return all
	}
	all = append(all, p.Runs...)
	for _, t := range p.Tails {
		all = t.runs(all)
	}
	return all
}

// Conductors returns the conductors of the circuit in walking order, leg by
// leg, the screens last.
func (c *Circuit) Conductors(p *Plant) []*Conductor { return p.byCircuit[c] }

// Index files the conductors by circuit once all are made.
func (p *Plant) Index() {
	p.byPlace = map[*Place][]*Conductor{}
	p.Screens = map[*Conductor]*ScreenNet{}
	for _, n := range ScreenNets(p) {
		for _, w := range n.members {
			p.Screens[w] = n
		}
	}
	p.byCircuit = make(map[*Circuit][]*Conductor, len(p.Conductors)/4)
	for _, w := range p.Conductors {
		if w.Circuit != nil {
			p.byCircuit[w.Circuit] = append(p.byCircuit[w.Circuit], w)
		}
		a, b := w.From.Where(p), w.To.Where(p)
		if a != nil {
			p.byPlace[a] = append(p.byPlace[a], w)
		}
		if b != nil && b != a {
			p.byPlace[b] = append(p.byPlace[b], w)
		}
	}
}
