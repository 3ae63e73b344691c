package model

import "strings"

// checkSolved: does a circuit of which every value is given have one answer?
func checkSolved(p *Plant, c *Circuit, found func(Problem)) {
	if !driven[c.Signal] || c.Device() == nil {
		return
	}
	if s := p.fullOn(c); s.solved || len(s.missing) > 0 || p.miswired(c, circuitChecks...) {
		return
	}
	pr := problemAt(c.Pos, UnsolvedCircuit, "the sum of circuit %s has no answer: its path is not closed, or it lies straight across a source", c.Name)
	pr.Hint = "follow the current from the source through the device and back"
	found(pr)
}

// circuitChecks are the questions about the wiring of one circuit.
var circuitChecks = []func(*Plant, *Circuit, func(Problem)){checkEnds, checkJumperRuns, checkChannelParts, checkSupplies, checkPolarity, checkShorted}

// miswired reports whether one of the questions finds an error in a circuit.
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
		if len(m.Missing) > 0 || m.OK() || m.Code == nil {
			continue
		}
		if p.miswired(c, checkPolarity) { // told as such, and the figures follow from it
			return
		}
		than := "less than"
		if m.Most {
			than = "more than"
		}
		at := m.When()
		if strings.HasPrefix(at, ", ") {
			at = ", switched " + m.At + ","
		}
		pr := problemAt(c.Pos, m.Code, "%s%s is %s %s, %s the %s %s it %s", m.What, at, round(m.Has), m.Unit, than, round(m.Needs), m.Unit,
			map[bool]string{true: "may be", false: "has to be"}[m.Most])
		pr.Hint = m.Cure
		if d := c.Device(); d != nil {
			pr = pr.also(d.Pos, "the device is described here")
		}
		for _, s := range p.Shares(c) {
			pr = pr.also(s.Feed.Pos, "%s", s.Words())
		}
		pr.Hint = m.Cure
		found(pr)
	}
}
