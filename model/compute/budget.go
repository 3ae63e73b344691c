package compute

import (
	"math"
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// Margin compares what is there with what is needed, under one condition. Actual and
// Limit are in Unit; Actual has no meaning where Missing names what is not given.
type Margin struct {
	Circuit *model.Circuit
	What    string // available voltage, load of the output, load of HART ...
	At      Condition
	Unit    string
	Actual  float64
	Limit   float64
	IsMax   bool // Limit is a maximum, not a minimum
	Missing []string
	Code    *finding.Kind // of the finding when it fails; nil where that of another circuit reports it
	Cure    string        // what would mend that; "" where the words have it
}

// When is its condition as it follows What: " at 4 mA" or ", on"; "" under all.
func (m Margin) When() string {
	switch {
	case m.At == Condition{}:
		return ""
	case m.At.Switched():
		return ", " + m.At.String()
	}
	return " at " + m.At.String()
}

// Headroom is what is left to the limit, in Unit; below 0 the margin fails.
func (m Margin) Headroom() float64 {
	if m.IsMax {
		return m.Limit - m.Actual
	}
	return m.Actual - m.Limit
}

// OK reports whether it is calculated and does not fail. A headroom of 0 does not.
func (m Margin) OK() bool { return len(m.Missing) == 0 && m.Headroom() >= -1e-9 }

// answered notes what a sum lacks that has all its values and no answer.
func (m *Margin) answered(ok bool) {
	if len(m.Missing) == 0 && !ok {
		m.Missing = noClosedPath
	}
}

// Margins compares the voltages and loads of a circuit with what its parts
// need: the device's lift-off at both ends of the range with supplies and cards at
// their least, what an output can drive, the pull-in of a solenoid, the load that
// HART asks for, the working voltage of a barrier, the levels of a switched input, what
// the capacitance of cables leaves on.
func Margins(p *model.Plant, c *model.Circuit) []Margin {
	d := c.Device()
	if c.Broken || d == nil || c.Seals() != nil {
		return nil
	}
	return append(signalMargins(p, c, d), holdMargins(p, c)...)
}

// signalMargins are those of a circuit by its signal.
func signalMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	switch c.Signal {
	case model.Resistance, model.Thermo:
		return leadMargins(p, c, d)
	case model.AnalogIn:
		return inputMargins(p, c, d)
	case model.AnalogOut:
		return outputMargins(p, c, d)
	case model.SwitchedOut:
		all := switchMargins(p, c, d)
		for _, other := range c.Takers() { // in parallel with it
			if other != d {
				all = append(all, coilMargins(p, c, other)...)
			}
		}
		return append(all, Inrush(p, c)...)
	case model.PowerDC, model.Displacement:
		return supplyMargins(p, c, d)
	case model.Power:
		if len(d.Device.LiftOff) > 0 {
			return supplyMargins(p, c, d)
		}
	case model.ContactIn:
		all := append(levelMargins(p, c, d), lineMargin(p, c, d)...)
		if d.Kind.ThreeWire() && len(d.Device.LiftOff) > 0 {
			all = append(supplyMargins(p, c, d), all...)
		}
		return all
	case model.Proximity:
		return lineMargin(p, c, d)
	}
	return nil
}

// TerminalsOf are the terminals that a circuit lands on at a part.
func TerminalsOf(c *model.Circuit, part *model.Part) (a, b *model.Terminal) {
	for _, st := range c.Visits() {
		if st.Part == part {
			if a, b = pairAt(c, st); a != nil && b != nil {
				return a, b
			}
		}
	}
	return nil, nil
}

// extremes are the currents in mA that a transmitter has to drive: the low end of
// its signal, and its failure current or else the largest test current, and never
// less than the high end: a transmitter that fails low still has to signal that.
func extremes(p *model.Plant, d *model.Part) (low, high float64) {
	out := Output(d.Device)
	low, high = min(out.Low, out.High), max(out.Low, out.High)
	if most := d.Device.FailureCurrent; most > 0 {
		return low, max(high, most)
	}
	return low, max(high, slices.Max(append([]float64{0}, p.Practice.TestCurrents...)))
}

func inputMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	a, b := TerminalsOf(c, d)
	if a == nil {
		return nil
	}
	low, high := extremes(p, d)
	if d.Kind.ThreeWire() {
		return append(outputRoom(p, c, d, high), hartMargins(p, c, d, low, high)...)
	}
	if a.Nature() == model.Source { // a device with its own supply drives the loop itself
		all := hartMargins(p, c, d, low, high)
		if d.Of != nil {
			all = append(all, driveMargin(p, c, d.Tag, "drive of "+d.Tag, driven{d.Device.MaxLoad, d.Device.Compliance, high, a, b}))
		}
		return all
	}
	var all []Margin
	for _, mA := range []float64{low, high} {
		s := compute(p, c, state{mA: mA, supply: model.Least, hot: true})
		v, ok := s.across(a, b)
		m := Margin{Circuit: c, What: "minimum voltage at " + d.Tag, At: atValue(mA, "mA"), Unit: "V", Actual: v, Missing: s.Missing, Code: finding.LowVoltage}
		needs, given := d.Device.LiftOff.At(mA)
		if !given {
			m.Missing = append(slices.Clone(m.Missing), "lift-off of "+d.Tag)
		}
		m.Limit = needs
		m.answered(ok)
		all = append(all, m)
	}
	all = append(all, hartMargins(p, c, d, low, high)...)
	all = append(all, isolatorLoads(p, c, high)...)
	return append(all, barrierMargins(p, c)...)
}

func barrierMargins(p *model.Plant, c *model.Circuit) []Margin {
	var all []Margin
	for _, st := range c.Visits() {
		b := st.Part.Barrier
		if known := st.Part.Kind.Diverts && b.MaxWorkingVolts > 0; !st.Part.Kind.Shunts && !known {
			continue
		}
		m := Margin{Circuit: c, What: "maximum voltage into " + st.Part.Tag, Unit: "V", IsMax: true, Limit: b.MaxWorkingVolts, Code: finding.OverdrivenBarrier}
		if st.Part.Kind.Diverts {
			m.Code = finding.OverdrivenSurgeProtector
		}
		if b.MaxWorkingVolts == 0 {
			m.Missing = []string{"working volts of " + st.Part.Tag}
		}
		s := compute(p, c, state{fault: openAtDevice, supply: model.Highest}) // highest with no current
		var outs []*model.Terminal
		for _, termination := range st.Terminations {
			if termination.Does == model.Lands && termination.Out != termination.In {
				outs = append(outs, termination.Out)
			}
		}
		m.Missing = append(m.Missing, s.Missing...)
		if len(outs) > 1 && len(m.Missing) == 0 {
			v, ok := s.across(outs[0], outs[1])
			m.Actual = max(v, -v)
			m.answered(ok)
		}
		all = append(all, m)
	}
	return all
}

func outputMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	var card *model.Part
	var a, b *model.Terminal
	for _, st := range c.Visits() {
		if st.Part.Card != nil {
			card = st.Part
			ts := card.MeasureAt(st.Channel)
			a, b = ts[0], ts[1]
		}
	}
	if card == nil {
		return nil
	}
	out := Span(c)
	high := max(out.Low, out.High)
	if card.HoldsCurrent() {
		return holdingMargins(p, c, card, [2]*model.Terminal{a, b})
	}
	all := []Margin{driveMargin(p, c, card.Tag, "drive of card "+card.Tag, driven{card.Card.MaxLoad, card.Card.Compliance, high, a, b})}
	if load := card.Card.MinLoad; load > 0 {
		if at := card.Card.Compliance.MA; at > 0 {
			high = at
		}
		s := compute(p, c, state{mA: high}) // not at its hottest
		v, ok := s.across(a, b)
		m := Margin{Circuit: c, What: "load of " + card.Tag, At: atValue(high, "mA"), Unit: "Ω", Actual: v / high * 1000, Limit: load, Missing: s.Missing, Code: finding.UnderloadedOutput}
		m.answered(ok)
		all = append(all, m)
	}
	return append(all, isolatorLoads(p, c, max(out.Low, out.High))...)
}

// holdingMargins compare what is left across a passive output with what it needs, at both ends of
// its signal, the supply at its least.
func holdingMargins(p *model.Plant, c *model.Circuit, card *model.Part, ends [2]*model.Terminal) (all []Margin) {
	out := Span(c)
	for _, mA := range []float64{min(out.Low, out.High), max(out.Low, out.High)} {
		s := compute(p, c, state{mA: mA, supply: model.Least, hot: true})
		v, ok := s.across(ends[0], ends[1])
		needs, given := card.Card.LiftOff.At(mA)
		m := Margin{Circuit: c, What: "minimum voltage at " + card.Tag, At: atValue(mA, "mA"), Unit: "V", Actual: v, Limit: needs, Missing: s.Missing, Code: finding.LowVoltage}
		if !given {
			m.Missing = append(slices.Clone(m.Missing), "lift-off of "+card.Tag)
		}
		m.answered(ok)
		all = append(all, m)
	}
	return all
}

// driven is what an output can drive: a load in Ω or volts at a current, at the most current in
// mA that is asked of it, and its terminals.
type driven struct {
	load       float64
	compliance model.VoltsAt
	high       float64
	a, b       *model.Terminal
}

// driveMargin compares what an output has to drive with what it can: its volts at a current,
// or the ohms of all that its current goes through. key is what is asked for where neither
// is given.
func driveMargin(p *model.Plant, c *model.Circuit, tag, key string, d driven) Margin {
	high := d.high
	if d.compliance.MA > 0 {
		high = d.compliance.MA
	}
	s := compute(p, c, state{mA: high, hot: true})
	v, ok := s.across(d.a, d.b)
	m := Margin{Circuit: c, At: atValue(high, "mA"), IsMax: true, Missing: s.Missing, Code: finding.OverloadedOutput}
	if d.compliance.Volts > 0 {
		m.What, m.Unit, m.Actual, m.Limit = "drive voltage of "+tag, "V", v, d.compliance.Volts
	} else {
		m.What, m.Unit, m.Actual, m.Limit = "load of "+tag, "Ω", v/high*1000, d.load
	}
	m.answered(ok)
	if d.compliance.Volts == 0 && d.load == 0 {
		m.Missing = append(slices.Clone(m.Missing), key)
	}
	return m
}

// switchMargins are those of a solenoid, the supply at its least: it has to pull in,
// a coil on AC at its inrush, and to hold.
func switchMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	return append(outputLimit(p, c), coilMargins(p, c, d)...)
}

// coilMargins are the volts at a coil against those that it needs.
func coilMargins(p *model.Plant, c *model.Circuit, d *model.Part) (all []Margin) {
	a, b := TerminalsOf(c, d)
	if a == nil || !d.Kind.Armature {
		return nil
	}
	volts := func(what string, st state, needs float64, key string) {
		s := compute(p, c, st)
		v, ok := s.across(a, b)
		m := Margin{Circuit: c, What: what + " at " + d.Tag, At: Condition{switched: switchedOn}, Unit: voltUnit(c), Actual: v, Limit: needs, Missing: s.Missing, Code: finding.LowVoltage}
		if needs == 0 {
			m.Missing = append(slices.Clone(m.Missing), key+" of "+d.Tag)
		}
		m.answered(ok)
		all = append(all, m)
	}
	pullIn := "minimum voltage"
	if AC(c) {
		pullIn = "minimum inrush voltage"
	}
	volts(pullIn, state{closed: true, supply: model.Least, hot: true, inrush: true}, d.Device.PullIn, "pull-in")
	if d.Device.DropOut > 0 {
		volts("minimum holding voltage", state{closed: true, supply: model.Least, hot: true}, d.Device.DropOut, "drop-out")
	}
	return all
}

// outputLimit compares the current of a switched output with the most of its card,
// where that is given.
func outputLimit(p *model.Plant, c *model.Circuit) []Margin {
	for _, st := range c.Visits() {
		if card := st.Part.Card; card != nil && card.Limit > 0 {
			s := compute(p, c, state{closed: true, supply: model.Highest})
			m := Margin{Circuit: c, What: "current of " + st.Part.Tag, At: Condition{switched: switchedOn}, Unit: "mA", Actual: math.Abs(s.drawn), Limit: card.Limit, IsMax: true, Missing: s.Missing, Code: finding.OverloadedOutput}
			m.answered(s.Solved)
			return []Margin{m}
		}
	}
	return nil
}

// supplyMargins compares what arrives at a device with the least that it needs,
// the supply at its least.
func supplyMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	a, b := TerminalsOf(c, d)
	if a == nil {
		return nil
	}
	needs, given := d.Device.LiftOff.At(d.Device.SupplyCurrent)
	s := compute(p, c, state{supply: model.Least, hot: true, held: needs})
	v, ok := s.across(a, b)
	m := Margin{Circuit: c, What: "minimum voltage at " + d.Tag, At: Condition{switched: switchedOn}, Unit: voltUnit(c), Actual: v, Missing: s.Missing, Code: finding.LowVoltage}
	if m.Limit = needs; !given {
		m.Missing = append(slices.Clone(m.Missing), "lift-off of "+d.Tag)
	}
	m.answered(ok)
	return []Margin{m}
}

// FullOn is a circuit at the most that it draws.
func FullOn(p *model.Plant, c *model.Circuit) *solver { return compute(p, c, fullest(p, c)) }

// fullest is the state of a circuit that draws the most: its signal at its largest,
// contacts closed, outputs on.
func fullest(p *model.Plant, c *model.Circuit) state {
	st := state{closed: true}
	switch d := c.Device(); {
	case d == nil:
	case c.Signal == model.AnalogIn:
		_, st.mA = extremes(p, d)
	case c.Signal == model.AnalogOut:
		out := Span(c)
		st.mA = max(out.Low, out.High)
	}
	return st
}

// fuses are those in the legs of a circuit, or in those that it borrows.
func fuses(c *model.Circuit) (all []*model.Terminal) {
	for _, l := range c.FeedLegs() {
		for _, t := range l.Links() {
			if t.Fuse.Given() && !slices.Contains(all, t) {
				all = append(all, t)
			}
		}
	}
	return all
}
