package model

import "slices"

// This file tells what those who open a place or follow a circuit have to know
// before they touch it: power that can kill, and wiring whose safety others
// rely on.

// Safe tells whether a circuit is intrinsically safe on its field side: a
// barrier, or an isolator with entity values, limits its energy.
func (c *Circuit) Safe() bool { return !c.Broken && len(c.guards()) > 0 }

// Safe tells whether a conductor is on the field side of the guard of an
// intrinsically safe circuit. A screen counts with the cores it is round.
func (w *Conductor) Safe() bool {
	if w.Circuit == nil || !w.Circuit.Safe() {
		return false
	}
	guards := w.Circuit.guards()
	for _, l := range w.Circuit.Lanes {
		side := l.fieldSide(func(part *Part) bool { return slices.Contains(guards, part) })
		for _, x := range side.wires {
			if x == w || w.Screen && x != nil && x.Pos == w.Pos {
				return true
			}
		}
	}
	return false
}

// Dangerous tells whether a supply can kill: AC above 50 V or DC above 120 V,
// the limits of extra-low voltage in IEC 60364-4-41 (414.1.1).
func (s *Supply) Dangerous() bool {
	return s.AC && s.Value > 50 || s.Value > 120
}

// Feeders are the supplies that feed a terminal of a part, by fixed wires and
// jumpers, in the order of its terminals.
func (p *Part) Feeders() []*Part {
	var all []*Part
	for _, t := range p.Terminals {
		if t.Fed != nil && !slices.Contains(all, t.Fed.Supply.Part) {
			all = append(all, t.Fed.Supply.Part)
		}
	}
	return all
}

// Dangers are the dangerous supplies whose voltage is on a part: itself, those
// that feed a terminal of it, and those of the circuits that land on it. The
// protective earth brings none.
func (p *Part) Dangers() []*Part {
	if p.Supply != nil {
		return dangerous(nil, p)
	}
	var all []*Part
	for _, t := range p.Terminals {
		if t.Fed != nil && t.Fed.Supply.Role != 'E' {
			all = dangerous(all, t.Fed.Supply.Part)
		}
		for _, u := range t.Uses {
			all = u.Conductor.dangers(all)
		}
	}
	return all
}

// dangers adds the supply of the circuit of a conductor, if it is dangerous.
func (w *Conductor) dangers(all []*Part) []*Part {
	if w.Circuit == nil || w.Role == 'E' || w.Screen {
		return all
	}
	return dangerous(all, w.Circuit.Supply())
}

func dangerous(all []*Part, s *Part) []*Part {
	if s == nil || !s.Supply.Dangerous() || slices.Contains(all, s) {
		return all
	}
	return append(all, s)
}

// DangerousSupplies are the dangerous supplies that stand in a place, feed a
// terminal in it or a circuit that comes there, in the order of the text.
func (p *Plant) DangerousSupplies(pl *Place) []*Part {
	var all []*Part
	for _, part := range pl.Parts {
		for _, s := range part.Dangers() {
			all = dangerous(all, s)
		}
	}
	for _, w := range p.AtPlace(pl) {
		all = w.dangers(all)
	}
	return all
}

// Supplies are those that stand in a place or feed a terminal in it, in the order
// of the text.
func (p *Plant) Supplies(pl *Place) []*Part {
	var all []*Part
	for _, part := range pl.Parts {
		if part.Supply != nil && !slices.Contains(all, part) {
			all = append(all, part)
		}
		for _, s := range part.Feeders() {
			if !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return all
}
