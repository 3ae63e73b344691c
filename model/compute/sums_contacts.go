package compute

import (
	"slices"

	"ringout/model"
)

// This file holds contacts that stand in the circuits of other devices, and changeover
// contacts with both sides in one circuit.

// series adds the contacts that legs go through at a station. A circuit is opened by one
// contact: the others are closed, so that each point of it has a voltage.
func (s *solver) series(st *model.Station) {
	closed := s.state.closed || st != Opener(s.circuit)
	for _, t := range st.Terminations {
		if !t.Through() {
			continue
		}
		was := s.state.closed
		s.state.closed = closed
		s.contact(st.Part, at(t.In, model.FieldSide), at(t.Out, model.FieldSide))
		s.state.closed = was
	}
}

// Opener is the contact in series that switches a circuit, which its "off" is computed
// with: the first one that is open at rest, else the first. It is nil where an output, or
// a contact that the circuit begins on, does that.
func Opener(c *model.Circuit) (first *model.Station) {
	for _, st := range c.Visits() {
		switch p := st.Part; {
		case p.Card != nil && p.Kind.Signal == model.SwitchedOut:
			return nil
		case p.Device == nil || p.Kind.Indicator:
		case !st.InSeries():
			if c.Signal != model.SwitchedOut {
				return nil
			}
		case first == nil, first.ClosedAtRest() && !st.ClosedAtRest():
			first = st
		}
	}
	return first
}

// throws is a changeover contact with both of its sides in one circuit.
type throws struct {
	at                    *model.Station
	common, breaks, makes *model.Terminal
}

// changeover is that of a circuit; nil where it has none.
func changeover(c *model.Circuit) *throws {
	for _, st := range c.Visits() {
		if g := st.Group(); g != nil && g.Contact == model.Changeover && !st.InSeries() && len(st.Terminations) == 3 {
			return &throws{st, g.Terminals[0], g.Terminals[1], g.Terminals[2]}
		}
	}
	return nil
}

// BothSides reports whether a circuit has both sides of a changeover contact.
func BothSides(c *model.Circuit) bool { return changeover(c) != nil }

// Across are the two terminals of a device that a circuit lands on at a station, or goes
// through it by; nil where there are none.
func Across(c *model.Circuit, st *model.Station) (a, b *model.Terminal) {
	for _, t := range st.Terminations {
		if t.Through() {
			return t.In, t.Out
		}
	}
	return pairAt(c, st)
}

// side is the terminal that the common is joined to, while the contact is worked or at
// rest.
func (t *throws) side(worked bool) *model.Terminal {
	if worked {
		return t.makes
	}
	return t.breaks
}

// makesAt reports whether the leg that comes to a station is that of the side that makes:
// what it lands on is on while the contact is worked, that of the other side while it is
// at rest.
func (t *throws) makesAt(c *model.Circuit, st *model.Station) bool {
	return slices.ContainsFunc(c.Legs, func(l *model.Leg) bool {
		return l.Begin() == t.makes && slices.ContainsFunc(l.Conductors, func(s model.LegConductor) bool { return s.Station.Same(st) })
	})
}

// pairs are the test points of such a contact at a station: from its common to each side,
// where all three legs come.
func (t *throws) pairs(c *model.Circuit, st *model.Station) (all []Reading) {
	var on [3]*model.Terminal // common, break and make
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			i := slices.Index([]*model.Terminal{t.common, t.breaks, t.makes}, l.Begin())
			if i >= 0 && s.Station.Same(st) && s.Termination.Does == model.Lands {
				on[i] = s.Termination.In
			}
		}
	}
	for _, side := range on[1:] {
		if on[0] != nil && side != nil {
			all = append(all, Reading{Station: st, A: on[0], B: side})
		}
	}
	return all
}
