package compute

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// This file computes what the capacitance of cables does. That of a cable type is
// the one total figure of its data sheet: one core to all others of its group and to
// the screen. As capacitance between two cores it is on the high side.

// HARTMicroseconds is the largest time constant that HART works with: two makers'
// manuals (7ML19985GG03 p. 30, 7ML19985GE01 p. 24).
const HARTMicroseconds = 65

// bundle is a pair, triad or quad of a cable, or all its single cores together, for
// which a capacitance holds.
type bundle struct {
	cable *model.Cable
	group int // 0 for single cores
}

// bundles are those that cores of the conductors lie in, each once: a pair that goes
// out and another that comes back both count. Screens are in none.
func bundles(wires []*model.Conductor) (all []bundle) {
	for _, w := range wires {
		if w.Core == nil || w.Screen || w.Core.Cable.Type == nil {
			continue
		}
		b := bundle{w.Core.Cable, w.Core.Group}
		if b.cable.Type.Size == 1 {
			b.group = 0
		}
		if !slices.Contains(all, b) {
			all = append(all, b)
		}
	}
	return all
}

// capacitance is that of all bundles together in nF, with what is not given.
func capacitance(all []bundle) (nF float64, missing []string) {
	for _, b := range all {
		if b.cable.Length <= 0 {
			missing = append(missing, "length of cable "+b.cable.Tag)
		}
		if b.cable.Type.Capacitance == 0 {
			missing = append(missing, "capacitance of cable type "+b.cable.Type.Name)
		}
		nF += b.cable.Type.Capacitance * b.cable.Length / 1000
	}
	return nF, model.Unique(missing)
}

// hartMargins are those of a HART device whose signal goes from low to high mA. It sees the ohms of the loop, which have to be in the range of the
// practice, and on the hottest copper (R_sense + r·L)·(C_device + c·L) may be at most 65 µs
// (7ML19985GG03 p. 30). Beyond an isolator it sees nothing.
func hartMargins(p *model.Plant, c *model.Circuit, d *model.Part, low, high float64) []Margin {
	if !d.Device.HART || high <= low {
		return nil
	}
	a, b := TerminalsOf(c, d)
	load := func(what string, hot bool) Margin {
		m := Margin{Circuit: c, What: what, Unit: "Ω", Code: finding.WrongHARTLoad}
		atLow, atHigh := compute(p, c, state{mA: low, hot: hot}), compute(p, c, state{mA: high, hot: hot})
		v, ok := atLow.across(a, b)
		w, _ := atHigh.across(a, b)
		if m.Missing = atLow.Missing; len(m.Missing) == 0 && !ok {
			m.Missing = noClosedPath
		}
		m.Actual = math.Abs(w-v) / (high - low) * 1000
		return m
	}
	least := load("HART load", false)
	most := least
	least.Limit = p.Practice.HARTMin
	most.IsMax, most.Limit = true, p.Practice.HARTMax

	var wires []*model.Conductor
	for _, l := range c.Legs {
		wires = append(wires, l.FieldSide((*model.Part).Isolates).Wires...)
	}
	slow := load("HART time constant", true)
	slow.Unit, slow.IsMax, slow.Limit, slow.Code = "µs", true, HARTMicroseconds, finding.SlowHART
	nF, missing := capacitance(bundles(wires))
	if d.Device.Capacitive == 0 {
		missing = append(missing, "capacitance of "+d.Tag)
	}
	slow.Missing = model.Unique(slices.Concat(slow.Missing, missing))
	slow.Actual *= (d.Device.Capacitive + nF) / 1000 // Ω·nF are ns
	slow.Cure = "shorten the run, use a cable of less capacitance or an input of less resistance, or put a galvanic isolator near the device"
	return []Margin{least, most, slow}
}

// holdMargins returns what an AC circuit does with its contact open: the capacitance
// between the cores on both sides of a contact that stands far from supply and load goes
// on carrying current past it. It may hold a coil in, or turn an input on.
func holdMargins(p *model.Plant, c *model.Circuit) (all []Margin) {
	if !AC(c) {
		return nil
	}
	for _, st := range c.Visits() {
		x, y := contactAt(c, st)
		if x == nil || y == nil {
			continue
		}
		here, there := bundles(copperFrom(p, c, x)), bundles(copperFrom(p, c, y))
		past := slices.DeleteFunc(here, func(b bundle) bool { return !slices.Contains(there, b) })
		if len(past) == 0 {
			continue // at the supply: all that it switches off lies behind it
		}
		nF, missing := capacitance(past)
		if p.Practice.Frequency == 0 {
			missing = append(missing, "mains frequency")
		}
		switch d := c.Device(); {
		case c.Signal == model.SwitchedOut && d.Kind.Armature:
			all = append(all, coilHeldIn(p, c, d, nF, missing))
		case c.Signal == model.ContactIn:
			all = append(all, inputsHeldOn(p, c, d, nF, missing)...)
		}
	}
	return all
}

// contactAt is the contact at a station, by its terminals: of a device, or of a
// switched output that does not power its circuit; nil where there is none.
func contactAt(c *model.Circuit, st *model.Station) (x, y *model.Terminal) {
	switch part := st.Part; {
	case st.InSeries():
		if st == Opener(c) {
			return Across(c, st)
		}
	case part.Card != nil && part.Kind.Signal == model.SwitchedOut && !part.Card.Powers:
		if ts := part.MeasureAt(st.Channel); len(ts) > 1 {
			return ts[0], ts[1]
		}
	case part.Device != nil && contactElement(st) && !part.Kind.ThreeWire():
		return pairAt(c, st)
	}
	return nil, nil
}

// contactElement reports whether a device has a contact, or what switches like one, where a
// circuit lands on it.
func contactElement(st *model.Station) bool {
	if g := st.Group(); g != nil {
		return g.Contact != 0
	}
	return st.Part.Kind.Signal == model.ContactIn
}

// copperFrom are the conductors of a circuit that a terminal is joined with by nothing
// but conductors, closed terminals and contacts in series that are closed while the circuit
// is off.
func copperFrom(p *model.Plant, c *model.Circuit, t *model.Terminal) (all []*model.Conductor) {
	joined, opener := []*model.Terminal{t}, Opener(c)
	for i := 0; i < len(joined); i++ {
		for _, st := range c.Visits() {
			for _, s := range st.Terminations {
				for _, ends := range [][2]*model.Terminal{{s.In, s.Out}, {s.Out, s.In}} {
					if s.Through() && st.InSeries() && st != opener && ends[0] == joined[i] && !slices.Contains(joined, ends[1]) {
						joined = append(joined, ends[1])
					}
				}
			}
		}
		for _, w := range c.Conductors(p) {
			a, b := w.From.Terminal, w.To.Terminal
			if w.Screen || a == nil || b == nil || a != joined[i] && b != joined[i] || slices.Contains(all, w) {
				continue
			}
			all = append(all, w)
			for _, end := range []*model.Terminal{a, b} {
				if !slices.Contains(joined, end) {
					joined = append(joined, end)
				}
			}
		}
	}
	return all
}

// coilHeldIn compares the capacitance past the open contact of an AC coil with the most
// that lets the coil go: m/(1+m)·P/(2πf·U²), m the volts that it lets go at over those of
// the supply, P its holding VA at U, its rated volts (Estimation of cable length for
// control circuits, EBG/SDDC/KNG, 2007). So it is for a coil that is all inductance, which the
// capacitance is in series with: a real one has less. A resistor across the coil counts.
func coilHeldIn(p *model.Plant, c *model.Circuit, d *model.Part, nF float64, missing []string) Margin {
	m := Margin{Circuit: c, What: "capacitance that holds " + d.Tag + " in", Unit: "nF", Actual: nF, IsMax: true, Code: finding.HeldIn, Missing: missing}
	ask := func(v float64, key string) {
		if v == 0 {
			m.Missing = append(m.Missing, key+" of "+d.Tag)
		}
	}
	ask(d.Device.Rated, "rated volts")
	ask(d.Device.Holding, "holding")
	_, volts := p.Practice.SupplyBand(c.Feeder())
	most := func(release, across float64) float64 {
		coil := complex(0, d.Device.Rated*d.Device.Rated/d.Device.Holding)
		if ohms := complex(across, 0); ohms != 0 {
			coil = coil * ohms / (coil + ohms)
		}
		// |coil| / |coil - jX| is at most the share of the volts that lets it go.
		whole := cmplx.Abs(coil) / min(release/volts, 1)
		x := imag(coil) + math.Sqrt(whole*whole-real(coil)*real(coil))
		return 1e9 / (2 * math.Pi * p.Practice.Frequency * x)
	}
	release := d.Device.Release
	if below := cmp.Or(d.Device.DropOut, d.Device.PullIn); release == 0 && below > 0 && len(m.Missing) == 0 && nF > most(below, d.Device.Parallel) {
		release = below // it lets go at less than that still, which is too much already
	}
	if ask(release, "release"); len(m.Missing) > 0 {
		return m
	}
	m.Limit = most(release, d.Device.Parallel)
	ohms := 1e6 / nF // 1000/C Ω for C in µF (TeSys contactors, long distance remote control, p. 5/189)
	for nF > most(release, ohms) {
		ohms *= 0.9
	}
	ohms = lower(ohms)
	m.Cure = fmt.Sprintf("add parallel ohms: %s ohm or less, a resistor across the coil (heat up to %s W); or put the contact at the supply end, or use a coil of more VA, a lower voltage or DC", model.Plain(ohms), model.Round(volts*volts/ohms))
	return m
}

// lower is a number down to two figures.
func lower(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Floor(v/unit) * unit
}

// inputsHeldOn compares what an AC input gets while its contact is open, nF past it, with
// the level that it tells 0 by: of R it gets U·R/√(R² + Xc²) (textbook formula). 0 is
// held by few volts or by little current.
func inputsHeldOn(p *model.Plant, c *model.Circuit, d *model.Part, nF float64, missing []string) (all []Margin) {
	for _, st := range c.Visits() {
		card := st.Part
		if card.Card == nil || card.Kind.Signal != model.ContactIn {
			continue
		}
		l, _, _ := c.Levels(card)
		if l.Off == (model.VoltsAt{}) {
			missing = append(slices.Clone(missing), "off below of card "+card.Tag)
		}
		in := inputOf{p, c, d, card, st, true, l, nil}
		volts, mA, lacks := in.gets(state{supply: model.Highest, leaks: true, bridge: nF})
		m := Margin{Circuit: c, What: "current into " + card.Tag + " past the open contact", Unit: "mA", Actual: mA, Limit: l.Off.MA, IsMax: true,
			Missing: model.Unique(slices.Concat(missing, lacks)), Code: finding.HeldOn}
		if l.Off.Volts > 0 && mA > m.Limit {
			m.What, m.Unit, m.Actual, m.Limit = "voltage into "+card.Tag+" past the open contact", voltUnit(c), volts, l.Off.Volts
		}
		if len(m.Missing) == 0 && !m.OK() {
			m.Cure = in.drained(nF)
		}
		all = append(all, m)
	}
	return all
}

// drained is the resistor across the input beside which the capacitance past an open
// contact leaves no more volts than it reads as 0.
func (in inputOf) drained(nF float64) string {
	const besides = "put the supply beside the contact, or use DC or a cable of less capacitance"
	_, volts := in.plant.Practice.SupplyBand(in.circuit.Feeder())
	off := in.levels.Off.Volts
	if off == 0 || off >= volts || in.card.Card.Powers {
		return "use an input that withstands it; or " + besides
	}
	reactance := 1e9 / (2 * math.Pi * in.plant.Practice.Frequency * nF)
	both := reactance / math.Sqrt(volts*volts/off/off-1) // resistor and input together
	return in.resistor(1/(1/both-1/in.card.Card.Ohms)) + "; or " + besides
}
