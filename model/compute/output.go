package compute

import (
	"fmt"
	"math"
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// This file holds transmitters with an output of their own beside their supply, on three
// cores. A sourcing one takes its signal from + beside what it draws, and the signal comes
// back at the panel: its + core carries both, its - core what it draws. Of a sinking one
// the - core carries both (Kirchhoff's law). Either core drops R·(Is + I) or R·Is.

// mostRounds is how often a network with a device of constant power is solved: each round
// takes its current at the volts of the one before, I = P/V. They come closer by R·P/V² a
// round, which is below 1 where the supply holds up.
const mostRounds = 400

// settled is the network with a device of constant power at the volts that it gets. Where
// there are none at which the supply holds up, the more it draws the less it gets: it has
// no result, and says so.
func (s *solver) settled() *solver {
	d := s.circuit.Device()
	a, b := TerminalsOf(s.circuit, d)
	for range mostRounds {
		v, ok := s.across(a, b)
		switch {
		case !ok || len(s.Missing) > 0:
			return s
		case math.Abs(v-s.eats) < 1e-6:
			return s
		case v <= 0:
			s.Solved = false
			s.ask("a supply that holds up: the less %s gets, the more it draws", d.Tag)
			return s
		}
		st := s.state
		st.held = v
		s = once(s.plant, s.circuit, st)
	}
	return s
}

// ownOutput adds the signal of a three-wire transmitter: out of + by its output, or from
// there to -.
func (s *solver) ownOutput(p *model.Part, st *model.Station, plus, minus post) {
	out := output(st)
	if out == nil {
		return
	}
	from, to := plus, at(out, model.FieldSide)
	if p.Device.Sinks() {
		from, to = to, minus
	}
	s.element('I', from, to, s.state.mA/1000)
}

// outputEnds are the terminals that the output of a three-wire device stands between, the
// one at the higher volts first; nil where the circuit does not come to both.
func outputEnds(c *model.Circuit, d *model.Part) (a, b *model.Terminal) {
	plus, minus := TerminalsOf(c, d)
	for _, st := range c.Visits() {
		if out := output(st); st.Part == d && out != nil && plus != nil {
			if d.Device.Sinks() {
				return out, minus
			}
			return plus, out
		}
	}
	return nil, nil
}

// outputRoom are the margins of a three-wire transmitter at the most that it signals, the
// supply at its least: the volts of its supply, a constant power drawn at no more than it
// needs, and those that are left for its output.
func outputRoom(p *model.Plant, c *model.Circuit, d *model.Part, high float64) (all []Margin) {
	needs, _ := d.Device.LiftOff.At(high)
	s := compute(p, c, state{mA: high, supply: model.Least, hot: true, held: needs})
	a, b := TerminalsOf(c, d)
	from, to := outputEnds(c, d)
	for _, x := range []struct {
		what, key string
		a, b      *model.Terminal
		needs     model.VoltageCurve
	}{
		{"minimum voltage at ", "lift-off", a, b, d.Device.LiftOff},
		{"minimum voltage left for the output of ", "drop", from, to, d.Device.Drop},
	} {
		if x.a == nil {
			continue
		}
		m := Margin{Circuit: c, What: x.what + d.Tag, At: atValue(high, "mA"), Unit: "V", Missing: s.Missing, Code: finding.LowVoltage}
		v, ok := s.across(x.a, x.b)
		limit, given := x.needs.At(high)
		if m.Actual, m.Limit = v, limit; !given {
			m.Missing = append(slices.Clone(m.Missing), x.key+" of "+d.Tag)
		}
		m.answered(ok)
		all = append(all, m)
	}
	return all
}

// Rise is how far the common of a three-wire transmitter stands off the pole that it comes
// to: what its supply current drops in that core, whatever the signal. A signal of volts
// is wrong by as much.
type Rise struct {
	High, Low *model.Terminal // the one at the higher volts first: the common at the device, and where its leg ends
	Volts     Band
	Missing   []string
}

// CommonRise is the rise of the common of a three-wire transmitter in the middle of its
// signal; false for circuits without one.
func CommonRise(p *model.Plant, c *model.Circuit) (r Rise, ok bool) {
	d := c.Device()
	if d == nil || c.Signal != model.AnalogIn {
		return r, false
	}
	r.High = d.Common()
	for _, l := range c.Legs {
		if l.Begin() == r.High {
			r.Low = l.End()
		}
	}
	if r.High == nil || r.Low == nil {
		return r, false
	}
	if d.Device.Sinks() {
		r.High, r.Low = r.Low, r.High
	}
	var solved bool
	e := endsOf(p, c, state{mA: 12})
	if r.Volts, solved = e.across(r.High, r.Low); !solved {
		r.Missing = noClosedPath
	}
	if len(e[0].Missing) > 0 {
		r.Missing = e[0].Missing
	}
	return r, true
}

// ownOutputFaults are those of a three-wire transmitter. What its electronics do with a
// core open is not in the model: what is sure is told.
func ownOutputFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	const mid = 12.0
	a, b := TerminalsOf(c, d)
	fed, s, ok := bandAt(p, c, state{mA: mid}, a, b)
	high, low := outputEnds(c, d)
	if !ok || high == nil {
		return nil, s.Missing
	}
	out, common := low, d.Common()
	if d.Device.Sinks() {
		out = high
	}
	lifted, _, missing := OpenVolts(p, c)
	if len(missing) > 0 {
		return nil, missing
	}
	other, name := a, "+"
	if other == common {
		other, name = b, "−"
	}
	held := p.Say("current returns through the signal core and the input")
	full := "full supply across the input; unprotected inputs are damaged"
	if ohms := inputOhms(c); ohms > 0 {
		full = fmt.Sprintf("up to %s, over-range; unprotected inputs are damaged", milliamps(lifted.Value/ohms*1000))
	}
	rows = []FaultRow{
		{"healthy, 12 mA", "12.00 mA", volts(fed) + " from " + a.Name + " to " + b.Name, fmt.Sprintf("supply gives %.0f mA in all", s.drawn)},
		{name + p.Say(" core of its supply open") + unlessFused(c, "", ", or %s blown"), "0 mA", "0 V from " + a.Name + " to " + b.Name, volts(lifted) + " across the break"},
		{p.Say("common core open"), "0 mA, or wrong: the supply " + held, "well below " + lifted.Least("V") + " V from " + a.Name + " to " + b.Name, p.Say("up to ") + volts(lifted) + " across the break in the common"},
		{p.Say("signal core open"), "0 mA", volts(fed) + " from " + a.Name + " to " + b.Name + ": its supply is sound", "0 V at the input, the output of the device at its limit"},
		{"supply reversed at the device", "0 mA where it blocks", volts(lifted.Reversed()) + " from " + a.Name + " to " + b.Name + " where it blocks", p.Say("negative, unlike an open core; not every device is protected")},
		{p.Say("signal and supply core changed over"), "0 mA, or over-range by way of its protection", "no sound supply from " + a.Name + " to " + b.Name + "; supply volts at " + out.Name, p.Say("ring out each core to ") + other.Name + " and " + out.Name},
		{"signal on the common", "0 mA", "0 V from " + out.Name + " to " + common.Name, "0 V at the input: current leaves the device, does not arrive"},
		{p.Say("signal on the supply core"), full, "0 V from " + out.Name + " to " + other.Name, "does not follow the process"},
	}
	return append(rows, commonFaults(d)...), nil
}

// inputOhms are those of the input of a circuit's card; 0 where they are not given.
func inputOhms(c *model.Circuit) float64 {
	for _, st := range c.Visits() {
		if card := st.Part.Card; card != nil && card.Ohms > 0 {
			return card.Ohms
		}
	}
	return 0
}
