package model

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strconv"
	"strings"
)

// Margin compares what is there with what is needed, at one current.
type Margin struct {
	Circuit *Circuit
	What    string // available voltage, load of the output, load of HART ...
	At      string // 4 mA, 22 mA, on; "" where it does not depend
	Unit    string
	Has     float64
	Needs   float64
	Most    bool // Needs is a most, not a least
	Missing []string
	Code    string // of the finding when it falls short
}

// Left is what is left over; less than nothing is a shortfall.
func (m Margin) Left() float64 {
	if m.Most {
		return m.Needs - m.Has
	}
	return m.Has - m.Needs
}

// OK tells whether it is computed and suffices. A margin of nothing does.
func (m Margin) OK() bool { return len(m.Missing) == 0 && m.Left() >= -1e-9 }

// Margins compares the voltages and loads of a circuit with what its parts
// need: the device's lift-off at both ends of the range with supplies and cards at
// their least, what an output can drive, the pull-in of a solenoid, the load that
// HART asks for, the working voltage of a barrier.
func (p *Plant) Margins(c *Circuit) []Margin {
	d := c.Device()
	if c.Broken || d == nil {
		return nil
	}
	switch c.Signal {
	case AnalogIn:
		return p.inputMargins(c, d)
	case AnalogOut:
		return p.outputMargins(c, d)
	case SwitchedOut:
		return p.switchMargins(c, d)
	case PowerDC:
		return p.supplyMargins(c, d)
	case Power:
		if len(d.Device.LiftOff) > 0 {
			return p.supplyMargins(c, d)
		}
	case ContactIn:
		if d.Kind.ThreeWire() && len(d.Device.LiftOff) > 0 {
			return p.supplyMargins(c, d)
		}
	}
	return nil
}

// terminalsOf are the terminals that a circuit lands on at a part.
func (c *Circuit) terminalsOf(part *Part) (a, b *Terminal) {
	for _, st := range c.Visits() {
		if st.Part == part {
			if a, b = c.pairAt(st); a != nil && b != nil {
				return a, b
			}
		}
	}
	return nil, nil
}

// extremes are the currents in mA that a transmitter has to drive: the low end of
// its signal, and its failure current or else the largest test current, and never
// less than the high end: a transmitter that fails low still has to signal that.
func (p *Plant) extremes(d *Part) (low, high float64) {
	out := d.Device.Output()
	low, high = min(out.Low, out.High), max(out.Low, out.High)
	if most := d.Device.Most; most > 0 {
		return low, max(high, most)
	}
	return low, max(high, slices.Max(append([]float64{0}, p.Practice.Currents...)))
}

func (p *Plant) inputMargins(c *Circuit, d *Part) []Margin {
	a, b := c.terminalsOf(d)
	if a == nil || a.nature() == Source { // a device with its own supply drives the loop itself
		return nil
	}
	var all []Margin
	low, high := p.extremes(d)
	for _, mA := range []float64{low, high} {
		s := p.compute(c, state{mA: mA, supply: least})
		v, ok := s.across(a, b)
		m := Margin{Circuit: c, What: "minimum voltage at " + d.Tag, At: number(mA) + " mA", Unit: "V", Has: v, Missing: s.missing, Code: "low-voltage"}
		needs, given := d.Device.LiftOff.At(mA)
		if !given {
			m.Missing = append(slices.Clone(m.Missing), "lift-off of "+d.Tag)
		}
		m.Needs = needs
		if len(m.Missing) == 0 && !ok {
			m.Missing = noClosedPath
		}
		all = append(all, m)
	}
	if d.Device.HART && len(all) > 1 {
		m := Margin{Circuit: c, What: "load that HART sees", Unit: "Ω", Missing: all[0].Missing, Needs: p.Practice.HARTLeast, Code: "wrong-hart-load"}
		if len(m.Missing) == 0 {
			atLow, _ := p.compute(c, state{mA: low}).across(a, b)
			atHigh, _ := p.compute(c, state{mA: high}).across(a, b)
			m.Has = (atLow - atHigh) / (high - low) * 1000
		}
		most := m
		most.Most, most.Needs = true, p.Practice.HARTMost
		all = append(all, m, most)
	}
	return append(all, p.barrierMargins(c)...)
}

func (p *Plant) barrierMargins(c *Circuit) []Margin {
	var all []Margin
	for _, st := range c.Visits() {
		b := st.Part.Barrier
		if b == nil || st.Part.Kind.Name != "barrier" {
			continue
		}
		m := Margin{Circuit: c, What: "maximum voltage into " + st.Part.Tag, Unit: "V", Most: true, Needs: b.Works, Code: "overdriven-barrier"}
		if b.Works == 0 {
			m.Missing = []string{"working volts of " + st.Part.Tag}
		}
		s := p.compute(c, state{fault: OpenAtDevice, supply: highest}) // highest with no current
		var outs []*Terminal
		for _, slot := range st.Slots {
			if slot.Does == Lands && slot.Out != slot.In {
				outs = append(outs, slot.Out)
			}
		}
		m.Missing = append(m.Missing, s.missing...)
		if len(outs) > 1 && len(m.Missing) == 0 {
			v, ok := s.across(outs[0], outs[1])
			if m.Has = max(v, -v); !ok {
				m.Missing = noClosedPath
			}
		}
		all = append(all, m)
	}
	return all
}

func (p *Plant) outputMargins(c *Circuit, d *Part) []Margin {
	var card *Part
	var a, b *Terminal
	for _, st := range c.Visits() {
		if st.Part.Card != nil {
			card = st.Part
			ts := card.Poles(st.Channel)
			a, b = ts[0], ts[1]
		}
	}
	if card == nil {
		return nil
	}
	out := d.Device.Output()
	high := max(out.Low, out.High)
	if card.Card.Reach.MA > 0 {
		high = card.Card.Reach.MA
	}
	s := p.compute(c, state{mA: high, hot: true})
	v, ok := s.across(a, b)
	missing := s.missing
	if len(missing) == 0 && !ok {
		missing = noClosedPath
	}
	var all []Margin
	switch {
	case card.Card.Reach.Volts > 0:
		all = append(all, Margin{Circuit: c, What: "voltage that " + card.Tag + " has to drive", At: number(high) + " mA", Unit: "V",
			Has: v, Needs: card.Card.Reach.Volts, Most: true, Missing: missing, Code: "overloaded-output"})
	default:
		m := Margin{Circuit: c, What: "load of " + card.Tag, At: number(high) + " mA", Unit: "Ω", Has: v / high * 1000, Needs: card.Card.Drive, Most: true, Missing: missing, Code: "overloaded-output"}
		if card.Card.Drive == 0 {
			m.Missing = append(slices.Clone(missing), "drive of card "+card.Tag)
		}
		all = append(all, m)
	}
	if load := card.Card.LeastLoad; load > 0 {
		v, _ = p.compute(c, state{mA: high}).across(a, b) // not at its hottest
		all = append(all, Margin{Circuit: c, What: "load of " + card.Tag, At: number(high) + " mA", Unit: "Ω", Has: v / high * 1000, Needs: load, Missing: missing, Code: "underloaded-output"})
	}
	return all
}

// switchMargins are those of a solenoid, the supply at its least: it has to pull in,
// a coil on AC at its inrush, and to hold.
func (p *Plant) switchMargins(c *Circuit, d *Part) []Margin {
	a, b := c.terminalsOf(d)
	all := p.outputLimit(c)
	if a == nil || d.Kind.Name != "solenoid" {
		return all
	}
	volts := func(what string, st state, needs float64, key string) {
		s := p.compute(c, st)
		v, ok := s.across(a, b)
		m := Margin{Circuit: c, What: what + " at " + d.Tag, At: "on", Unit: c.voltUnit(), Has: v, Needs: needs, Missing: s.missing, Code: "low-voltage"}
		if needs == 0 {
			m.Missing = append(slices.Clone(m.Missing), key+" of "+d.Tag)
		}
		if len(m.Missing) == 0 && !ok {
			m.Missing = noClosedPath
		}
		all = append(all, m)
	}
	pullIn := "minimum voltage"
	if c.AC() {
		pullIn = "minimum inrush voltage"
	}
	volts(pullIn, state{closed: true, supply: least, inrush: true}, d.Device.PullIn, "pull-in")
	if d.Device.DropOut > 0 {
		volts("minimum holding voltage", state{closed: true, supply: least}, d.Device.DropOut, "drop-out")
	}
	return all
}

// outputLimit compares the current of a switched output with the most of its card,
// where that is given.
func (p *Plant) outputLimit(c *Circuit) []Margin {
	for _, st := range c.Visits() {
		if card := st.Part.Card; card != nil && card.Limit > 0 {
			s := p.compute(c, state{closed: true, supply: highest})
			m := Margin{Circuit: c, What: "current of " + st.Part.Tag, At: "on", Unit: "mA", Has: math.Abs(s.drawn), Needs: card.Limit, Most: true, Missing: s.missing, Code: "overloaded-output"}
			if len(m.Missing) == 0 && !s.solved {
				m.Missing = noClosedPath
			}
			return []Margin{m}
		}
	}
	return nil
}

// supplyMargins compares what arrives at a device with the least that it needs,
// the supply at its least.
func (p *Plant) supplyMargins(c *Circuit, d *Part) []Margin {
	a, b := c.terminalsOf(d)
	if a == nil {
		return nil
	}
	s := p.compute(c, state{supply: least})
	v, ok := s.across(a, b)
	m := Margin{Circuit: c, What: "minimum voltage at " + d.Tag, At: "on", Unit: c.voltUnit(), Has: v, Missing: s.missing, Code: "low-voltage"}
	needs, given := d.Device.LiftOff.At(d.Device.Draws)
	if m.Needs = needs; !given {
		m.Missing = append(slices.Clone(m.Missing), "lift-off of "+d.Tag)
	}
	if len(m.Missing) == 0 && !ok {
		m.Missing = noClosedPath
	}
	return []Margin{m}
}

// checkSolved: does a circuit of which every value is given have one answer?
func checkSolved(p *Plant, c *Circuit, found func(Problem)) {
	if !driven[c.Signal] || c.Device() == nil {
		return
	}
	if s := p.fullOn(c); s.solved || len(s.missing) > 0 || p.miswired(c, circuitChecks...) {
		return
	}
	pr := problemAt(c.Pos, "unsolved-circuit", "the sum of circuit %s has no answer: its path is not closed, or it lies straight across a source", c.Name)
	pr.Hint = "follow the current from the source through the device and back"
	found(pr)
}

// circuitChecks are the questions about the wiring of one circuit.
var circuitChecks = []func(*Plant, *Circuit, func(Problem)){checkEnds, checkJumperRuns, checkChannelParts, checkSupplies, checkPolarity, checkShorted}

// miswired tells whether one of the questions finds an error in a circuit.
func (p *Plant) miswired(c *Circuit, questions ...func(*Plant, *Circuit, func(Problem))) bool {
	wrong := false
	for _, ask := range questions {
		ask(p, c, func(pr Problem) { wrong = wrong || pr.Severity == Error })
	}
	return wrong
}

// checkMargins: does every device get the voltage, and every output the load,
// that it needs?
func checkMargins(p *Plant, c *Circuit, found func(Problem)) {
	for _, m := range p.Margins(c) {
		if len(m.Missing) > 0 || m.OK() {
			continue
		}
		if p.miswired(c, checkPolarity) { // told as such, and the figures follow from it
			return
		}
		than := "less than"
		if m.Most {
			than = "more than"
		}
		at := ""
		switch m.At {
		case "":
		case "on":
			at = ", switched on,"
		default:
			at = " at " + m.At
		}
		pr := problemAt(c.Pos, m.Code, "%s%s is %s %s, %s the %s %s it %s", m.What, at, round(m.Has), m.Unit, than, round(m.Needs), m.Unit,
			map[bool]string{true: "may be", false: "has to be"}[m.Most])
		if m.Code == "wrong-hart-load" {
			pr = pr.warning()
		}
		if d := c.Device(); d != nil {
			pr = pr.also(d.Pos, "the device is described here")
		}
		found(pr)
	}
}

// round writes a number to four figures.
func round(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// fullOn is a circuit at the most that it draws: its signal at its largest,
// contacts closed, outputs on.
func (p *Plant) fullOn(c *Circuit) *sum {
	st := state{closed: true}
	if d := c.Device(); d != nil && (c.Signal == AnalogIn || c.Signal == AnalogOut) {
		_, st.mA = p.extremes(d)
	}
	return p.compute(c, st)
}

// demand is the most current in mA that a circuit draws from its supply: of DC
// however it is poled, of AC with its phase, a coil once it has pulled in. It is
// false when it cannot be computed.
func (p *Plant) demand(c *Circuit) (complex128, bool) {
	if c.Device() == nil && (c.Signal == AnalogIn || c.Signal == AnalogOut) {
		return 0, false
	}
	s := p.fullOn(c)
	if s.ac {
		return s.current, s.solved
	}
	return complex(math.Abs(s.drawn), 0), s.solved
}

// load is what hangs on a fuse or a supply.
type load struct {
	sum     complex128 // mA, by phase
	count   int
	unknown int // of these, circuits that cannot be computed
}

func (l *load) total() float64 { return cmplx.Abs(l.sum) }

func (l *load) draw() string {
	if n := l.count - l.unknown; n != 1 {
		return fmt.Sprintf("%d circuits draw", n)
	}
	return "1 circuit draws"
}

// fuses are the fused terminals that the lanes of a circuit land on.
func (c *Circuit) fuses() (all []*Terminal) {
	for _, l := range c.Lanes {
		for _, s := range l.Steps {
			if t := s.Slot.In; t != nil && t.Fuse != "" && !slices.Contains(all, t) {
				all = append(all, t)
			}
		}
	}
	return all
}

// checkLoads: are fuses and supplies strong enough for all that hangs on them?
// What cannot be computed counts as nothing, and the finding says so.
func checkLoads(p *Plant, found func(Problem)) {
	loads := map[any]*load{}
	var order []any
	put := func(on any, mA complex128, ok bool) {
		l := loads[on]
		if l == nil {
			l = &load{}
			loads[on] = l
			order = append(order, on)
		}
		l.count++
		if !ok {
			l.unknown++
		} else {
			l.sum += mA
		}
	}
	p.circuits(func(c *Circuit) {
		supply, fuses := c.Supply(), c.fuses()
		if supply == nil && len(fuses) == 0 {
			return
		}
		mA, ok := p.demand(c)
		if supply != nil {
			put(supply, mA, ok)
		}
		for _, t := range fuses {
			put(t, mA, ok)
		}
	})
	for _, on := range order {
		l := loads[on]
		also := ""
		if l.unknown > 0 {
			also = fmt.Sprintf(", and %d more that cannot be computed", l.unknown)
		}
		switch on := on.(type) {
		case *Part:
			if limit := on.Supply.Limit; limit > 0 && l.total() > limit {
				found(problemAt(on.Pos, "overloaded-supply", "supply %s gives %s mA, and %s %s mA%s", on.Tag, round(limit), l.draw(), round(l.total()), also))
			}
		case *Terminal:
			if rating, ok := amperes(on.Fuse); ok && l.total() > rating*1000 {
				pr := problemAt(on.Part.Pos, "overloaded-fuse", "fuse %s is rated %s, and %s %s mA%s", on.Tag(), on.Fuse, l.draw(), round(l.total()), also)
				if len(on.Uses) > 0 {
					pr = pr.also(on.Uses[0].Conductor.Pos, "a circuit lands here")
				}
				found(pr)
			}
		}
	}
}

// amperes reads a fuse rating such as "0.5 A" or "500 mA", whatever follows.
func amperes(s string) (float64, bool) {
	v, rest, ok := splitNumber(s)
	unit, _, _ := strings.Cut(rest, " ")
	switch {
	case !ok:
		return 0, false
	case unit == "A":
		return v, true
	case unit == "mA":
		return v / 1000, true
	}
	return 0, false
}
