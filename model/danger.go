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

// DangerousSupplies are the dangerous supplies that stand in a place or feed a
// terminal in it, in the order of the text.
func (p *Plant) DangerousSupplies(pl *Place) []*Part {
	var all []*Part
	add := func(s *Part) {
		if s.Supply.Dangerous() && !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	for _, part := range pl.Parts {
		if part.Supply != nil {
			add(part)
		}
		for _, t := range part.Terminals {
			if t.Fed != nil {
				add(t.Fed.Supply.Part)
			}
		}
	}
	return all
}
