package compute

import (
	"slices"

	"ringout/model"
)

// This file holds galvanic isolators: two circuits that share a signal and no copper.

// sides are the terminals of an isolator that a circuit lands on, that of the + leg
// first, towards the field and towards the system; false where a leg is missing.
func sides(st *model.Station) (field, system [2]*model.Terminal, ok bool) {
	for _, termination := range st.Terminations {
		if termination.Does != model.Lands || termination.In == termination.Out {
			continue
		}
		near, far := termination.In, termination.Out
		if !st.Part.FacesField(near) {
			near, far = far, near
		}
		k := 0
		if near.Role == '-' {
			k = 1
		}
		field[k], system[k] = near, far
	}
	return field, system, field[0] != nil && field[1] != nil
}

// isolator adds an isolator. To a device that signals it is a source of its own, and
// behind it repeats the signal to the input: it takes the current of a card or supply
// that powers that side, and drives its own where none does. To an output it is a load,
// and drives the same current to the field. A contact or proximity switch it feeds
// through its ohms, and repeats as a contact.
func (s *solver) isolator(st *model.Station) {
	field, system, ok := sides(st)
	if !ok {
		return
	}
	p, amps := st.Part, s.state.mA/1000
	in, back := at(field[0], model.FieldSide), at(field[1], model.FieldSide)
	out, home := at(system[0], model.FieldSide), at(system[1], model.FieldSide)
	s.driven = true
	if s.circuit.Signal == model.AnalogOut {
		if p.Barrier.Ohms == 0 {
			s.askOhms("ohms of isolator %s", p.Tag)
		}
		s.element('R', out, home, p.Barrier.Ohms)
		s.element('I', back, in, amps)
		return
	}
	switched := s.circuit.Signal == model.ContactIn || s.circuit.Signal == model.Proximity
	if switched { // its volts lie behind ohms, as those of IEC 60947-5-6
		if p.Barrier.Ohms == 0 {
			s.askOhms("ohms of isolator %s", p.Tag)
		}
		inside := post{t: field[0], inside: 1}
		s.element('V', inside, back, s.isolatorVolts(p))
		s.element('R', inside, in, p.Barrier.Ohms)
	} else {
		s.element('V', in, back, s.isolatorVolts(p))
	}
	switch {
	case switched && s.state.closed:
		s.element('R', out, home, 0)
	case !switched && !poweredBehind(s.circuit):
		s.element('I', home, out, amps)
	default:
		s.element('I', out, home, amps)
	}
}

// isolatorVolts is what an isolator gives the device. A figure at one current alone says
// how much there is at the least at less current, where its Uo is the most; of more
// current it says nothing. At no current there is up to Uo in any case.
func (s *solver) isolatorVolts(p *model.Part) float64 {
	given, mA, most := p.Barrier.Volts, s.state.mA, p.Barrier.Entity.U
	v, ok := given.At(mA)
	if !ok {
		s.ask("volts of isolator %s", p.Tag)
	}
	if !ok || given[0].MA == 0 {
		return v
	}
	alone, less := len(given) == 1, mA < given[0].MA
	if alone && (mA > given[0].MA || less && most == 0 && s.state.supply != model.Least) {
		s.ask("volts of isolator %s at %g mA", p.Tag, mA)
	}
	if less && (alone || mA == 0) && s.state.supply == model.Highest {
		return max(v, most)
	}
	return v
}

// poweredBehind reports whether a card or a supply drives what an isolator repeats.
func poweredBehind(c *model.Circuit) bool {
	return c.Supply() != nil || slices.ContainsFunc(c.Stations(), func(st *model.Station) bool {
		return st.Part.Card != nil && st.Part.Card.Powers
	})
}

// isolatorLoads compares what isolators drive with the most that they can: of inputs
// what lies on the system side, where nothing else powers that; of outputs the field.
func isolatorLoads(p *model.Plant, c *model.Circuit, high float64) (all []Margin) {
	for _, st := range c.Visits() {
		field, system, ok := [2]*model.Terminal{}, [2]*model.Terminal{}, false
		if st.Part.Kind.Isolates {
			field, system, ok = sides(st)
		}
		ends := system
		if c.Signal == model.AnalogOut {
			ends = field
		}
		if ok && (c.Signal == model.AnalogOut || !poweredBehind(c)) {
			all = append(all, driveMargin(p, c, st.Part.Tag, "load of isolator "+st.Part.Tag, driven{st.Part.Barrier.MaxLoad, model.VoltsAt{}, high, ends[0], ends[1]}))
		}
	}
	return all
}
