package model

import "fmt"

// checkTwist: do both lanes of a circuit run in one pair? Lanes that part are
// looked at here; two pairs named in one run are a split pair.
func checkTwist(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		if len(c.Lanes) != 2 || c.Signal.Powers() {
			return
		}
		type group struct {
			cable *Cable
			n     int
		}
		used := map[group]int{}
		for _, w := range c.Conductors(p) {
			if w.Core != nil && !w.Screen {
				used[group{w.Core.Cable, w.Core.Group}]++
			}
		}
		var lonely [2][]*Conductor // cores without their mate in the circuit, by lane
		for _, w := range c.Conductors(p) {
			if w.Core == nil || w.Screen || w.Core.Cable.Type.Size < 2 || used[group{w.Core.Cable, w.Core.Group}] != 1 || p.shared(w) {
				continue
			}
			lonely[w.Lane-1] = append(lonely[w.Lane-1], w)
		}
		for _, a := range lonely[0] {
			for _, b := range lonely[1] {
				if a.Pos == b.Pos || !a.Core.Cable.beside(b.Core.Cable) {
					continue
				}
				pr := problemAt(b.Pos, UntwistedLanes, "the lanes of circuit %s run in %s and in %s, not twisted with each other", c.Name, a.Core.groupWords(), b.Core.groupWords())
				pr.Also = []Note{{a.Pos, "the other lane"}}
				pr.Hint = "both lanes in one " + a.Core.Cable.Type.GroupWord()
				found(pr)
				return
			}
		}
	})
}

// groupWords names the group of a core: pair 3 of W-21.
func (c *Core) groupWords() string {
	return fmt.Sprintf("%s %d of %s", c.Cable.Type.GroupWord(), c.Group, c.Cable.Tag)
}

// shared tells whether another circuit uses a core of the same group, which is
// reported as a split pair.
func (p *Plant) shared(w *Conductor) bool {
	cable := w.Core.Cable
	for i := range cable.Type.Size {
		mate := p.circuit[cable.Cores[(w.Core.Group-1)*cable.Type.Size+i]]
		if mate != nil && mate.Circuit != nil && mate.Circuit != w.Circuit {
			return true
		}
	}
	return false
}

// beside tells whether two cables have the same ends.
func (c *Cable) beside(o *Cable) bool {
	a, b, x, y := c.From.Tag(), c.To.Tag(), o.From.Tag(), o.To.Tag()
	return a == x && b == y || a == y && b == x
}

// checkShorted: does a contact, or any part that takes no current of its own,
// lie straight across a supply?
func checkShorted(_ *Plant, c *Circuit, found func(Problem)) {
	if len(c.Lanes) != 2 || len(c.Path.Stations) == 0 {
		return
	}
	first := c.Path.Stations[0].Part
	if first.Device == nil && first.Card == nil {
		return
	}
	var poles [2]*Terminal
	for i, l := range c.Lanes {
		for _, s := range l.Steps {
			if s.Slot.In == nil || s.Slot.In.nature() == Load || s.Slot.In.nature() == Source && s.Slot.In.Part.Supply == nil || s.Station.Part.Kind.Isolates {
				return
			}
		}
		if poles[i] = origin(l.End()); poles[i] == nil || poles[i].Part.Supply == nil {
			return
		}
	}
	a, b := poles[0], poles[1]
	if a.Part != b.Part || a == b || a.Role == 'E' || b.Role == 'E' {
		return
	}
	last := c.Lanes[1].Steps[len(c.Lanes[1].Steps)-1]
	pr := problemAt(last.Slot.Pos, ShortedSupply, "%s lies straight across %s in circuit %s: nothing limits the current", first.Tag, a.Part.Tag, c.Name)
	pr.Also = []Note{{a.Part.Pos, "the supply is described here"}}
	pr.Hint = "lead one lane through an input or a load"
	found(pr)
}

// checkEarthColour: is a green-and-yellow core or wire used for anything but
// protective earth (IEC 60445)?
func checkEarthColour(p *Plant, found func(Problem)) {
	told := map[Pos]bool{}
	for _, w := range p.Conductors {
		if w.Colour.Base != GreenYellow || w.Spare+w.Doubt != "" || w.Screen || told[w.Pos] || w.From.Terminal.protects() || w.To.Terminal.protects() {
			continue
		}
		told[w.Pos] = true
		what := "a wire"
		if w.Core != nil {
			what = w.Core.Words()
		}
		use := "a supply"
		if w.Circuit != nil {
			use = fmt.Sprintf("lane %s of circuit %s", w.laneMark(), w.Circuit.Name)
		}
		pr := problemAt(w.Pos, MisusedEarthColour, "%s, green-and-yellow, carries %s and no protective earth", what, use)
		pr.Hint = "another core: this colour is for protective earth only (IEC 60445)"
		found(pr)
	}
}

// protects tells whether the terminal is one of protective earth.
func (t *Terminal) protects() bool {
	return t != nil && (t.Role == 'E' || t.Kind == EarthFoot || t.Bond != nil || t.Part.Kind.Bar)
}

// checkSpares: are as many pairs of each home run and terminals of each strip
// spare as the plant's practice asks for? Fewer than four of them are let be.
func checkSpares(p *Plant, found func(Problem)) {
	if want := p.Practice.SparePairs; want > 0 {
		for _, c := range p.Cables {
			if c.Type == nil || c.Type.Groups < 4 || !c.homeRun() {
				continue
			}
			used, _, _, _ := c.InUse(p) // what is in doubt may be spare
			if spare := c.Type.Groups - used; float64(spare) < want/100*float64(c.Type.Groups) {
				found(problemAt(c.Pos, FewSparePairs, "%s has %d spare %ss of %d; the plant's practice is %s %%", c.Tag, spare, c.Type.GroupWord(), c.Type.Groups, figure(want)))
			}
		}
	}
	if want := p.Practice.SpareTerms; want > 0 {
		p.EachPart(func(part *Part) {
			if part.Strip == nil || len(part.Terminals) < 4 {
				return
			}
			spare := 0
			for _, t := range part.Terminals {
				if t.Spare() || t.Doubt != "" { // may be spare

					spare++
				}
			}
			if n := len(part.Terminals); float64(spare) < want/100*float64(n) {
				found(problemAt(part.Pos, FewSpareTerminals, "%s has %d spare terminals of %d; the plant's practice is %s %%", part.Tag, spare, n, figure(want)))
			}
		})
	}
}

// homeRun tells whether the cable joins a box to a cabinet or to another place.
func (c *Cable) homeRun() bool {
	a, b := c.From.Place, c.To.Place
	return a != nil && b != nil && (a.Kind == Box || b.Kind == Box)
}
