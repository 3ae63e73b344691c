package model

import (
	"cmp"
	"slices"
)

// Earthing is one earth of a circuit: a conductor of it that is joined to earth.
// Screens are not meant: see ScreenEarth.
type Earthing struct {
	At    *Terminal // of the circuit, supply or card that is on earth; of a barrier and a card the first that a lane meets
	Part  *Part     // whose earth it is: device, barrier, card or supply, or the strip of At
	Bar   *Part     // the earth bar; nil where that is not given or there is none
	Words string    // such as TE-2310:− on its case

	circuit *Circuit
	pos     Pos
}

// inField tells an earth at a device that stands in no place.
func (e Earthing) inField() bool { return e.Part.Device != nil && e.Part.Place == nil }

// somewhere tells the earthed pole of a supply, of which no bar is given: the practice
// says that there is an earth, and not where.
func (e Earthing) somewhere() bool { return e.Part.Supply != nil && e.Bar == nil }

// apart reports whether two earths are sure to be at different places. Bars of one place
// are one earth, and devices mounted on each other one place.
func (e Earthing) apart(o Earthing) bool {
	switch {
	case e.inField() && o.inField():
		return e.Part.carrier() != o.Part.carrier()
	case e.inField() || o.inField():
		return true
	}
	return !e.somewhere() && !o.somewhere() && e.Part.Place != o.Part.Place
}

// carrier is the device that this one is mounted on in the end, itself for none.
func (p *Part) carrier() *Part {
	for seen := []*Part{p}; p.Device.On != nil && !slices.Contains(seen, p.Device.On); seen = append(seen, p) {
		p = p.Device.On
	}
	return p
}

// earthedTerminal is the terminal that a device has on its case or on earth; nil for
// none, or where that is not given.
func (p *Part) earthedTerminal() *Terminal {
	if p.Device == nil || p.Device.Earthed == "" || p.Device.Earthed == "none" {
		return nil
	}
	return p.terminals[p.Device.Earthed]
}

// Earths are the earths that the parts of one DC circuit give it, in walking order,
// and what is not given of them, naming its key. What other circuits on the same
// supply or card are earthed by is not among them: checkEarthedTwice looks for that.
func (p *Plant) Earths(c *Circuit) (all []Earthing, missing []string) {
	if c.Broken || c.AC() || c.Signal == Power {
		return nil, nil
	}
	add := func(e Earthing) {
		e.circuit = c
		same := func(o Earthing) bool { return o.Part == e.Part && (o.Bar == e.Bar || e.Part.Strip == nil) }
		if !slices.ContainsFunc(all, same) {
			all = append(all, e)
		}
	}
	ask := func(format string, part *Part) {
		if s := format + " of " + part.Tag; !slices.Contains(missing, s) {
			missing = append(missing, s)
		}
	}
	for _, st := range c.Stations() {
		part := st.Part
		for _, slot := range st.Slots {
			for _, t := range []*Terminal{slot.In, slot.Out} {
				if t == nil || slot.Does != Lands || t.Role == 'E' {
					continue
				}
				p.landedEarths(part, t, slot.Pos, add)
				if s := origin(t); s.Part.Supply != nil {
					p.supplyEarth(s.Part, slot.Pos, add, ask)
				}
				if part.Card == nil {
					continue
				}
				switch m := part.Card.Common; {
				case m != nil && m.Fed != nil:
					p.supplyEarth(m.Fed.Supply.Part, slot.Pos, add, ask)
				case m != nil:
				case part.Card.Minus == EarthMinus:
					add(Earthing{At: t, Part: part, Words: "channels of " + part.Tag + " on the earth of " + part.Place.Tag, pos: part.Pos})
				case part.Card.Minus == SupplyMinus && part.CardSupply() == nil:
					ask("supply", part)
				case part.Card.Minus == SupplyMinus:
					p.supplyEarth(part.CardSupply(), slot.Pos, add, ask)
				case part.Card.Minus == 0:
					ask("minus", part)
				}
			}
		}
		if part.Device != nil && !part.Kind.Bar && part.Device.Earthed == "" {
			ask("earthed", part)
		}
	}
	return all, missing
}

// landedEarths are those of a terminal that a lane lands on, and of its part: an earth
// bar, an earth foot or a bonded terminal; a device that has the terminal on its case;
// a shunt-diode barrier, which takes all lanes to its bar.
func (p *Plant) landedEarths(part *Part, t *Terminal, at Pos, add func(Earthing)) {
	linked := t.joined
	if linked == nil {
		linked = []*Terminal{t}
	}
	for _, j := range linked {
		switch {
		case j.Bond != nil:
			add(Earthing{At: j, Part: part, Bar: j.Bond, Words: j.Tag() + " on " + j.Bond.Tag, pos: at})
		case j.Kind == EarthFoot:
			add(Earthing{At: j, Part: part, Words: j.Tag() + " on an earth foot", pos: at})
		case j.alone():
			add(Earthing{At: j, Part: part, Bar: part, Words: part.Tag, pos: at})
		}
	}
	switch {
	case part.Device != nil && part.earthedTerminal() == t:
		add(Earthing{At: t, Part: part, Words: t.Tag() + " on its case", pos: part.Pos})
	case part.Barrier != nil && part.Barrier.Earth != nil && !part.Kind.Isolates:
		add(Earthing{At: t, Part: part, Bar: part.Barrier.Earth, Words: "barrier " + part.Tag + " on " + part.Barrier.Earth.Tag, pos: part.Pos})
	}
}

// supplyEarth is the earthed pole of a DC supply by the practice.
func (p *Plant) supplyEarth(supply *Part, at Pos, add func(Earthing), ask func(string, *Part)) {
	switch pole := p.Practice.earthed(supply); {
	case supply.Supply.AC:
	case pole != nil && supply.Supply.Earth != nil:
		add(Earthing{At: pole, Part: supply, Bar: supply.Supply.Earth, Words: pole.Tag() + " on " + supply.Supply.Earth.Tag, pos: supply.Pos})
	case pole != nil:
		add(Earthing{At: pole, Part: supply, Words: pole.Tag() + " on earth", pos: supply.Pos})
		ask("earth", supply)
	case p.Practice.earthedPole(supply) == 0:
		ask("earthed pole (practice)", supply)
	}
}

// checkEarthedTwice: is what is joined by copper, over all circuits that share a supply,
// a common or the minus of a card, on earth at more than one place? A circuit floats or
// is earthed at one point: else what drives the two earths apart drives a current
// through its minus, or the reading of an earthed thermocouple off. Of intrinsically
// safe circuits IEC 60079-14 asks it (clause on the earthing of intrinsically safe
// circuits, 16.2.3 of edition 5 from memory): isolated from earth, or on it at one
// point; 0.2 to 1 MΩ to earth against static counts as isolated there. Elsewhere it is
// common practice. An isolator parts what is joined, and so does a card whose channels
// each stand alone. What is not given joins nothing and earths nothing.
func checkEarthedTwice(p *Plant, found func(Problem)) {
	var all []Earthing
	p.circuits(func(c *Circuit) {
		earths, _ := p.Earths(c)
		all = append(all, earths...)
	})
	slices.SortStableFunc(all, func(a, b Earthing) int { return cmp.Compare(a.rank(), b.rank()) })
	if !slices.ContainsFunc(all, func(e Earthing) bool { return e.apart(all[0]) }) {
		return
	}
	nets := p.copper()
	byNet := map[any][]Earthing{}
	var order []any
	for _, e := range all {
		root := nets.root(e.At)
		if byNet[root] == nil {
			order = append(order, root)
		}
		byNet[root] = append(byNet[root], e)
	}
	for _, root := range order {
		twice(byNet[root], found)
	}
}

// rank puts the earths of bars first, and those of the field last: they are what can be
// changed.
func (e Earthing) rank() int {
	switch {
	case e.inField():
		return 2
	case e.somewhere():
		return 1
	}
	return 0
}

// twice reports each earth of a net, by rank, that is apart from all before it.
func twice(earths []Earthing, found func(Problem)) {
	var kept []Earthing
	for _, e := range earths {
		if !slices.ContainsFunc(kept, func(k Earthing) bool { return !e.apart(k) }) {
			kept = append(kept, e)
		}
	}
	for i := 1; i < len(kept); i++ {
		home, e := kept[0], kept[i]
		by := ""
		if home.circuit != e.circuit && home.Part.Supply == nil {
			by = ", in circuit " + home.circuit.Name
		}
		pr := problemAt(e.pos, EarthedTwice, "circuit %s is earthed at two places: %s; and %s%s", e.circuit.Name, e.Words, home.Words, by)
		pr = pr.also(home.pos, "the other earth, %s", home.Words)
		pr.Hint = "lead it through an isolator, or say what is isolated: minus: own of a card, earthed: none of a device"
		if !e.circuit.Safe() || !e.inField() {
			pr = pr.warning()
		}
		found(pr)
	}
}

// coppers are the nets of all that hangs together by copper.
type coppers struct{ parent map[any]any }

func (n coppers) root(x any) any {
	for {
		up, ok := n.parent[x]
		if !ok || up == x {
			return x
		}
		if over, ok := n.parent[up]; ok {
			n.parent[x] = over
		}
		x = up
	}
}

func (n coppers) join(a, b any) {
	if a, b := n.root(a), n.root(b); a != b {
		n.parent[b] = a
	}
}

// copper joins what conducts in all DC circuits: cores, wires, jumpers, closed terminals,
// and all that lies between the terminals of a part that a circuit lands on. A supply
// is one, and so are the lanes on either side of an isolator.
func (p *Plant) copper() coppers {
	n := coppers{map[any]any{}}
	p.circuits(func(c *Circuit) {
		if c.AC() || c.Signal == Power {
			return
		}
		for _, w := range c.Conductors(p) {
			if !w.Screen && w.From.Terminal != nil && w.To.Terminal != nil {
				n.join(w.From.Terminal, w.To.Terminal)
			}
		}
		for _, st := range c.Stations() {
			n.station(st)
		}
	})
	return n
}

// station joins what a circuit lands on at a part.
func (n coppers) station(st *Station) {
	part := st.Part
	var in, out *Terminal
	for _, slot := range st.Slots {
		if slot.Does != Lands || slot.In == nil || slot.In.Role == 'E' {
			continue
		}
		for _, t := range []*Terminal{slot.In, slot.Out} {
			if t == nil {
				continue
			}
			if t.joined != nil {
				for _, j := range t.joined {
					n.join(t, j)
				}
			}
			if s := origin(t); s.Part.Supply != nil && !s.Part.Supply.AC {
				for _, pole := range s.Part.Terminals {
					n.join(pole, t)
				}
			}
		}
		if part.Strip != nil || part.Kind.Bar {
			n.join(slot.In, slot.Out)
			continue
		}
		if in == nil {
			in, out = slot.In, slot.Out
		}
		n.join(in, slot.In)
		n.join(out, slot.Out)
		if !part.Kind.Isolates {
			n.join(in, slot.Out)
		}
	}
	if part.Card != nil && in != nil {
		n.channel(st, in)
	}
}

// channel joins the poles of a channel, and by its minus what it shares with others.
func (n coppers) channel(st *Station, t *Terminal) {
	card := st.Part.Card
	poles := st.Part.Poles(st.Channel)
	for _, pole := range poles {
		n.join(pole, t)
	}
	switch m := card.Common; {
	case m != nil && m.Fed != nil && !m.Fed.Supply.Part.Supply.AC:
		for _, pole := range m.Fed.Supply.Part.Terminals {
			n.join(pole, t)
		}
	case m != nil:
	case card.Minus == SupplyMinus && st.Part.CardSupply() != nil && !st.Part.CardSupply().Supply.AC:
		for _, pole := range st.Part.CardSupply().Terminals {
			n.join(pole, t)
		}
	}
	if card.Minus == SharedMinus || card.Minus == SupplyMinus || card.Minus == EarthMinus {
		n.join(st.Part, t)
	}
}
