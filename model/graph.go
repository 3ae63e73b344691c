package model

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

// EachTerminal calls f with every terminal of the parts that EachPart comes to.
func (p *Plant) EachTerminal(f func(*Terminal)) {
	p.EachPart(func(part *Part) {
		for _, t := range part.Terminals {
			f(t)
		}
	})
}

// ConductorOf returns the conductor that uses a core or screen first.
func (p *Plant) ConductorOf(c *Core) *Conductor { return p.ConductorByCore[c] }

// Conductors returns the conductors of the circuit in walking order, leg by
// leg, the screens last.
func (c *Circuit) Conductors(p *Plant) []*Conductor { return p.byCircuit[c] }

// Index files the conductors by circuit and by place, and the screens by their nets,
// once all conductors are made.
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
			for _, port := range d.Ports() {
				f(port)
			}
		}
	}
}

// Where is the place of an end; nil in the field.
func (e End) Where(p *Plant) *Place {
	if e.Terminal != nil {
		return e.Terminal.Part.Place
	}
	return p.PlaceByTag[e.At]
}

// AtPlace returns the conductors with an end in a place, in the order of the text.
func (p *Plant) AtPlace(pl *Place) []*Conductor { return p.byPlace[pl] }
