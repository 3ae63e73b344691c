package model

import (
	"slices"
)

// This file tells what those who open a place or follow a circuit have to know
// before they touch it: power that can kill, and wiring whose safety others
// rely on.

// IntrinsicallySafe reports whether a circuit is intrinsically safe on its field side: a
// barrier, or an isolator with entity values, limits its energy.
func (c *Circuit) IntrinsicallySafe() bool { return !c.Broken && len(c.Barriers()) > 0 }

// IntrinsicallySafe reports whether a conductor is on the field side of the barrier of an
// intrinsically safe circuit. A screen counts with the cores it is round.
func (w *Conductor) IntrinsicallySafe() bool {
	if w.Circuit == nil || !w.Circuit.IntrinsicallySafe() {
		return false
	}
	barriers := w.Circuit.Barriers()
	for _, l := range w.Circuit.Legs {
		side := l.FieldSide(func(part *Part) bool { return slices.Contains(barriers, part) })
		for _, x := range side.Wires {
			if x == w || w.Screen && x != nil && x.Pos == w.Pos {
				return true
			}
		}
	}
	return false
}

// Dangerous reports whether a supply can kill: it is above extra-low voltage.
func (s *Supply) Dangerous() bool { return aboveExtraLow(s.Volts, s.AC) }

// Dangerous reports whether a part gives what can kill: a supply, or a card that
// powers its channels.
func (p *Part) Dangerous() bool {
	switch {
	case p.Supply != nil:
		return p.Supply.Dangerous()
	case p.Card != nil && p.Card.Powers:
		return aboveExtraLow(p.Card.Volts.Most(), p.Card.Volts.AC())
	}
	return false
}

// Gives is the voltage of a supply, or of a card that powers its channels, in
// words: "230 V AC"; "" where none is written.
func (p *Part) Gives() string {
	switch {
	case p.Supply != nil:
		return p.Supply.Text
	case p.Card == nil || !p.Card.Powers || len(p.Card.Volts) == 0:
		return ""
	case p.Card.Volts.AC():
		return Plain(p.Card.Volts.Most()) + " V AC"
	}
	return Plain(p.Card.Volts.Most()) + " V DC"
}

// Feeders are the supplies and cards that feed a terminal of a part, by fixed wires,
// jumpers and common cores, in the order of its terminals.
func (p *Part) Feeders() []*Part {
	var all []*Part
	for _, t := range p.Terminals {
		if t.Fed != nil && !slices.Contains(all, t.Fed.Supply.Part) {
			all = append(all, t.Fed.Supply.Part)
		}
	}
	return all
}

// Dangers are the dangerous supplies and cards whose voltage is on a part: itself,
// those that feed a terminal of it, and those of the circuits that land on it. The
// protective earth brings none.
func (p *Part) Dangers() []*Part {
	all := dangerous(nil, p)
	if p.Supply != nil {
		return all
	}
	for _, t := range p.Terminals {
		if t.Fed != nil && t.Fed.Supply.Role != 'E' {
			all = dangerous(all, t.Fed.Supply.Part)
		}
		for _, u := range t.Ends {
			all = u.Conductor.dangers(all)
		}
	}
	return all
}

// Dangers are the dangerous supplies and cards that feed the circuit of a conductor.
func (c *Conductor) Dangers() []*Part { return c.dangers(nil) }

// dangers adds what feeds the circuit of a conductor, if it is dangerous.
func (w *Conductor) dangers(all []*Part) []*Part {
	if w.Circuit == nil || w.Role == 'E' || w.Screen {
		return all
	}
	return dangerous(all, w.Circuit.Feeder())
}

func dangerous(all []*Part, s *Part) []*Part {
	if s == nil || !s.Dangerous() || slices.Contains(all, s) {
		return all
	}
	return append(all, s)
}

// DangerousSources are the dangerous supplies and cards that stand in a place, feed
// a terminal in it or a circuit that comes there, in the order of the text.
func (p *Plant) DangerousSources(pl *Place) []*Part {
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
			if s.Supply != nil && !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return all
}

// Mains reports whether a circuit is above extra-low voltage. One that brings power
// to a device from nowhere yet is taken for such.
func (c *Circuit) Mains() bool {
	volts, ac, known := c.Feeding()
	if !known {
		return c.Signal == Power
	}
	return aboveExtraLow(volts, ac)
}

// aboveExtraLow reports whether a voltage can kill: more than 50 V AC or 120 V DC, the
// limits of extra-low voltage in IEC 61140 and IEC 60364-4-41 (414.1.1).
func aboveExtraLow(volts float64, ac bool) bool { return ac && volts > 50 || volts > 120 }

// Mains reports whether the cable carries a circuit above extra-low voltage. Its
// spare cores are then tested like the others.
func (c *Cable) Mains(p *Plant) bool {
	return slices.ContainsFunc(c.Circuits(p), (*Circuit).Mains)
}

// InService reports whether a conductor is one of a loop in service.
func (c *Conductor) InService() bool {
	return c.Circuit != nil && c.Circuit.Loop.Status == Existing && c.Status != Future
}

// InService holds the places that existing wiring or an existing loop comes to,
// and of each the existing loops there, in the order of the text. A loop in
// service counts on new copper too, but not on that of a later stage. Existing
// copper that a new loop takes over, or a fixed wire from a supply, adds no loop;
// spare cores do not count.
func (p *Plant) InService() map[*Place][]*Loop {
	all := map[*Place][]*Loop{}
	for _, w := range p.Conductors {
		there := w.InService()
		if !there && (w.Status != Existing || w.Core != nil && w.Circuit == nil) {
			continue
		}
		for _, e := range []End{w.From, w.To} {
			pl := e.Where(p)
			if pl == nil {
				continue
			}
			loops := all[pl]
			// The wiring of a loop stands together in the text.
			if n := len(loops); there && (n == 0 || loops[n-1] != w.Circuit.Loop) {
				loops = append(loops, w.Circuit.Loop)
			}
			all[pl] = loops
		}
	}
	return all
}
