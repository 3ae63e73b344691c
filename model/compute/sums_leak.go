package compute

import (
	"math/cmplx"

	"ringout/model"
)

// This file holds what a switch of electronics is to a network: off, it passes a
// little; on, it drops some volts.

// leak is the current of a switch that is off, from a to b.
type leak struct {
	a, b   int        // posts
	facing complex128 // 0 for none
}

// facing is which way the volts of its supply lie across a switch while it is lifted, all
// others in the circuit being closed: 1 where a is above b, -1 where it is below; of AC
// their phase. 0 where nothing is across it. volts is how many.
func (s *solver) facing(p *model.Part, a, b post) (facing complex128, volts float64) {
	st := state{supply: s.state.supply, alone: true, lifted: p}
	if p == s.circuit.Device() {
		st.fault = openAtDevice
	}
	open := compute(s.plant, s.circuit, st)
	va, okA := open.voltage(a)
	vb, okB := open.voltage(b)
	if volts = cmplx.Abs(va - vb); okA && okB && volts > 1e-9 {
		return (va - vb) / complex(volts, 0), volts
	}
	return 0, 0
}

// conduct adds what a switch that is on drops from a to b; with no more volts than
// that on it, it does not switch on.
func (s *solver) conduct(p *model.Part, a, b post) {
	drop, given := p.Device.Drop.At(0)
	if p.Kind.TwoWire && !given {
		s.ask("drop of %s", p.Tag)
	}
	facing, volts := complex128(0), 0.0
	if drop > 0 && s.state.lifted == nil {
		facing, volts = s.facing(p, a, b)
	}
	switch {
	case facing == 0:
		s.element('R', a, b, 0)
	case volts > drop:
		s.phasor('V', a, b, complex(drop, 0)*facing)
	}
}

// leakage adds what a switch that is off passes from a to b at the most.
func (s *solver) leakage(p *model.Part, a, b post) {
	switch mA := p.Device.Leakage; {
	case mA == 0 || !s.state.leaks:
	case s.state.passes:
		s.element('R', a, b, 0)
	default:
		facing, _ := s.facing(p, a, b)
		s.phasor('I', a, b, complex(mA/1000, 0)*facing)
		s.leak = leak{s.index(a), s.index(b), facing}
	}
}

// overleaks reports whether a leakage would have to be driven through its switch: it is as
// much as comes.
func (s *solver) overleaks() bool {
	return s.Solved && s.leak.facing != 0 && real((s.volts[s.leak.a]-s.volts[s.leak.b])*cmplx.Conj(s.leak.facing)) < 0
}
