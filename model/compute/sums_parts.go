package compute

import (
	"cmp"
	"math"

	"ringout/model"
)

// This file holds what the parts of a circuit are to a network: devices,
// contacts, channels, barriers.

// station adds what a part has between the terminals that the circuit uses.
func (s *solver) station(st *model.Station) {
	p := st.Part
	switch {
	case p.Card != nil:
		s.channel(p, st.Channel)
	case p.Barrier != nil:
		s.barrier(st)
	case st.InSeries():
		s.series(st)
	case s.circuit.HangsOn(st): // what it draws is in its own circuit
	case p.Device != nil && !p.Kind.Bar:
		for _, termination := range st.Terminations {
			if termination.Does == model.Lands && termination.In != termination.Out { // in series
				s.load(p, at(termination.In, model.FieldSide), at(termination.Out, model.FieldSide))
				return
			}
		}
		s.device(p, st)
	}
}

// pairAt returns the first two terminals that the circuit lands on at a station,
// the output of a three-wire switch and protective earth left out.
func pairAt(c *model.Circuit, st *model.Station) (a, b *model.Terminal) {
	if g := st.Group(); g != nil && len(st.Terminations) > 2 && g.Contact == model.Changeover {
		return g.Terminals[0], g.Terminals[2]
	}
	out, earth := legAt(c, st, 'Q'), legAt(c, st, 'E')
	if len(st.Terminations) < 3 {
		out, earth = nil, nil
	}
	for _, termination := range st.Terminations {
		switch {
		case termination.Does != model.Lands || termination.In == out || termination.In == earth:
		case a == nil:
			a = termination.In
		case b == nil:
			b = termination.In
		}
	}
	if a != nil && b != nil && (a.Role == '-' || b.Role == '+' || a.Role == 'N' || b.Role == 'L') {
		a, b = b, a
	}
	return a, b
}

// device adds a field device by its kind.
func (s *solver) device(p *model.Part, st *model.Station) {
	ta, tb := pairAt(s.circuit, st)
	if ta == nil || tb == nil || tb.Role == 'Q' {
		return
	}
	a, b := at(ta, model.FieldSide), at(tb, model.FieldSide)
	i := s.state.mA / 1000
	switch s.state.fault {
	case earthOnPlus, earthOnMinus:
		zero, ok := s.zero()
		if !ok {
			break
		}
		if s.state.fault == earthOnMinus {
			s.element('R', b, zero, s.state.earth)
			break
		}
		if s.element('R', a, zero, s.state.earth); s.state.earth == 0 { // nothing is left to drive the device
			return
		}
	case openAtDevice:
		return
	case shortAtDevice:
		s.element('R', a, b, 0)
		return
	case reversedAtDevice: // the protection diode of the device blocks
		if ta.Signal() == model.AnalogIn || ta.Signal() == model.PowerDC {
			return
		}
	}
	switch ta.Signal() {
	case model.AnalogIn, model.PulseIn:
		if p.Kind.ThreeWire() {
			s.consumer(p, a, b)
			s.ownOutput(p, st, a, b)
			return
		}
		if ta.Nature() == model.Source {
			a, b, s.driven = b, a, true // it pushes the current out of its + terminal
		}
		s.element('I', a, b, i)
	case model.Power, model.PowerDC:
		s.consumer(p, a, b)
	case model.SwitchedOut:
		if s.ac {
			s.coil(p, a, b)
			return
		}
		s.load(p, a, b)
	case model.AnalogOut:
		s.load(p, a, b)
	case model.ContactIn:
		if p.Kind.ThreeWire() {
			s.threeWire(p, st, a, b)
			return
		}
		if sides := changeover(s.circuit); sides != nil && st == sides.at {
			s.element('R', a, at(sides.side(s.state.closed), model.FieldSide), 0)
			return
		}
		s.contact(p, a, b)
	case model.Displacement:
		s.consumer(p, a, b)
		if out := output(st); out != nil {
			s.element('V', at(out, model.FieldSide), a, s.state.gap)
		}
	case model.Proximity:
		// IEC 60947-5-6: at most 1.0 mA in one state, at least 2.2 mA in the other.
		s.element('I', a, b, map[bool]float64{false: 0.001, true: 0.0022}[s.state.closed])
	}
}

// load adds a coil, a positioner or an indicator.
func (s *solver) load(p *model.Part, a, b post) {
	d := p.Device
	if a.t.Role == '-' {
		a, b = b, a
	}
	volts, isDrop := d.Drop.At(s.state.mA)
	switch {
	case isDrop:
		if s.state.mA > 0 {
			s.element('V', a, b, volts)
		}
	case d.CoilOhms() > 0:
		s.element('R', a, b, d.CoilOhms())
	default:
		s.askOhms("ohms (or drop) of %s", p.Tag)
		s.element('R', a, b, 0)
	}
}

// coil adds what an AC supply feeds: a coil as the impedance that its VA has at
// its rated volts, Z = U²/S in Ω at the angle of its power factor (textbook
// formula), its armature open or shut; a lamp with ohms as a resistor.
func (s *solver) coil(p *model.Part, a, b post) {
	d := p.Device
	if p.Kind.Annunciator && d.Ohms > 0 {
		s.element('R', a, b, d.Ohms)
		return
	}
	va, pf, which, factor := d.Holding, d.PF, "holding", "power factor"
	if s.state.inrush {
		va, pf, which, factor = d.Inrush, d.InrushPF, "inrush", "inrush power factor"
	}
	if d.Rated == 0 {
		s.askOhms("rated volts of %s", p.Tag)
	}
	if va == 0 {
		s.askOhms("%s of %s", which, p.Tag)
	}
	if pf == 0 {
		s.askOhms("%s of %s", factor, p.Tag)
	}
	var z complex128
	if d.Rated > 0 && va > 0 && pf > 0 {
		z = complex(d.Rated*d.Rated/va, 0) * complex(pf, math.Sqrt(1-pf*pf))
	}
	s.phasor('R', a, b, z)
	if d.Parallel > 0 {
		s.element('R', a, b, d.Parallel)
	}
}

// consumer adds a device on a supply of its own, which takes its current whatever
// the volts; one in VA the current of those at the volts of the supply.
func (s *solver) consumer(p *model.Part, a, b post) {
	d, amps, pf := p.Device, p.Device.SupplyCurrent/1000, 1.0
	if d.SupplyCurrent == 0 && d.DrawsVA == 0 && d.DrawsWatts == 0 {
		s.askOhms("draws of %s", p.Tag)
	}
	if s.ac {
		if pf = d.PF; pf == 0 {
			s.askOhms("power factor of %s", p.Tag)
		}
	}
	if supply := s.circuit.Supply(); supply != nil {
		full := s.plant.Practice.Supplied(supply.Supply, s.state.supply)
		amps += d.DrawsVA / full
		if d.DrawsWatts > 0 && pf > 0 {
			s.eats = cmp.Or(s.state.held, full)
			amps += d.DrawsWatts / pf / s.eats
		}
	}
	s.phasor('I', a, b, complex(amps, 0)*complex(pf, -math.Sqrt(1-pf*pf)))
}

func (s *solver) contact(p *model.Part, a, b post) {
	if p == s.state.lifted {
		return
	}
	d := p.Device
	if hz := s.plant.Practice.Frequency; s.state.bridge > 0 && hz > 0 {
		s.phasor('R', a, b, complex(0, -1e9/(2*math.Pi*hz*s.state.bridge)))
	}
	if len(p.Coils()) > 0 { // what its coil has across it is not across its contacts
		d = &model.Device{}
	}
	mid := a
	if d.Series > 0 {
		mid = post{t: a.t, inside: 1}
		s.element('R', a, mid, d.Series)
	}
	if d.Parallel > 0 {
		s.element('R', mid, b, d.Parallel)
	}
	if s.state.closed {
		s.conduct(p, mid, b)
	} else {
		s.leakage(p, mid, b)
	}
}

// threeWire adds a three-wire switch: what it takes itself, and while it is on the
// drop across its output.
func (s *solver) threeWire(p *model.Part, st *model.Station, plus, minus post) {
	if p.Device.SupplyCurrent == 0 {
		s.askOhms("draws of %s", p.Tag)
	}
	s.element('I', plus, minus, p.Device.SupplyCurrent/1000)
	out := output(st)
	switch {
	case out == nil:
		return
	case !s.state.closed && p.Device.Sinks():
		s.leakage(p, at(out, model.FieldSide), minus)
		return
	case !s.state.closed:
		s.leakage(p, plus, at(out, model.FieldSide))
		return
	}
	drop, given := p.Device.Drop.At(0)
	if !given {
		s.ask("drop of %s", p.Tag)
	}
	if p.Device.Sinks() {
		s.element('V', at(out, model.FieldSide), minus, drop)
	} else {
		s.element('V', plus, at(out, model.FieldSide), drop)
	}
}

// output is the terminal for the output of a three-wire switch that a circuit lands
// on at a station of the switch; nil when it lands on none.
func output(st *model.Station) *model.Terminal {
	for _, termination := range st.Terminations {
		if termination.Does == model.Lands && termination.In.Role == 'Q' {
			return termination.In
		}
	}
	return nil
}

// inside is the point in a card between the source and the input of channel n.
func inside(p *model.Part, n int) post { return post{t: p.Channel(n)[0], inside: 1} }

// channel adds what a card has behind the terminals of a channel.
func (s *solver) channel(p *model.Part, n int) {
	ts := p.MeasureAt(n)
	if len(ts) < 2 {
		return
	}
	if s.feed(ts[1]); p.CommonOf(n) != nil {
		if s.feed(p.CommonOf(n)); p.CommonOf(n).Fed == nil && !p.CommonOf(n).GivesFeed() {
			s.ask("where terminal %s of card %s lands", p.CommonOf(n).Name, p.Tag)
		}
	}
	a, b := at(ts[0], model.FieldSide), at(ts[1], model.FieldSide)
	inside := inside(p, n)
	c := p.Card
	if d := s.circuit.Device(); d != nil && d.Device.Bleeder > 0 {
		s.element('R', a, b, d.Device.Bleeder)
	}
	ohms := func() float64 {
		if c.Ohms == 0 {
			s.askOhms("ohms of card %s", p.Tag)
		}
		return c.Ohms
	}
	volts := func() float64 {
		v, ok := s.plant.Practice.Powered(c, s.state.mA, s.state.supply)
		if !ok {
			s.ask("volts of card %s", p.Tag)
		}
		return v
	}
	switch p.Kind.Signal {
	case model.AnalogIn, model.PulseIn, model.ContactIn, model.Proximity:
		plus, minus := a, b
		if p.Card.Powers {
			s.source(p, a, inside, volts())
			plus, minus = b, inside
		} else if !ts[1].Landed() && ts[1].Fed == nil {
			s.ask("where terminal %s of card %s lands", ts[1].Name, p.Tag)
		}
		if c.Ohms > 0 || !s.state.unloaded {
			s.element('R', plus, minus, ohms())
		}
	case model.Displacement:
		if p.Card.Powers {
			s.source(p, a, b, volts())
		}
		if sig := at(ts[len(ts)-1], model.FieldSide); c.Ohms > 0 {
			s.element('R', sig, a, c.Ohms)
		}
	case model.AnalogOut:
		switch {
		case c.Powers:
			s.element('I', b, a, s.state.mA/1000)
			s.driven = true
		case s.state.fault == openAtDevice: // it has no current to hold, and lets go
			s.element('R', a, b, 0)
		default:
			s.element('I', a, b, s.state.mA/1000)
		}
	case model.SwitchedOut:
		s.driven = s.driven || p.Card.Powers
		switch {
		case p.Card.Powers && s.state.closed:
			s.source(p, a, b, volts())
		case !p.Card.Powers && s.state.closed:
			s.element('R', a, b, 0)
		}
	}
}

// legOhms are those of one leg through a barrier; back tells that it is the return.
func legOhms(b *model.Barrier, back bool) float64 {
	if back && b.ReturnOhms > 0 {
		return b.ReturnOhms
	}
	return b.Ohms
}

// barrier adds the resistance of each leg through a barrier, or an isolator.
func (s *solver) barrier(st *model.Station) {
	p := st.Part
	b := p.Barrier
	if p.Kind.Isolates {
		s.isolator(st)
		return
	}
	if b.Ohms == 0 {
		s.askOhms("ohms of %s %s", p.Kind.Name, p.Tag)
	}
	for k, termination := range st.Terminations {
		if termination.Does != model.Lands || termination.In == termination.Out {
			continue
		}
		in, out := at(termination.In, model.FieldSide), at(termination.Out, model.FieldSide)
		back := termination.In.Role == '-' || (termination.In.Role == 0 && k > 0)
		s.element('R', in, post{t: termination.Out, inside: 1}, legOhms(b, back))
		drop := b.Drop
		if s.state.mA == 0 && !s.state.closed {
			drop = 0
		}
		// The drop lies along the current: towards the field in the + leg.
		if back {
			s.element('V', post{t: termination.Out, inside: 1}, out, drop)
		} else {
			s.element('V', out, post{t: termination.Out, inside: 1}, drop)
		}
	}
}
