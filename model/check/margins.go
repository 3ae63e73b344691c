package check

import (
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/english"
	"ringout/model/finding"
)

// checkSolved: does a circuit of which every value is given have one answer?
func checkSolved(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if !driven[c.Signal] || c.Device() == nil || c.Seals() != nil {
		return
	}
	if s := compute.FullOn(p, c); s.Solved || len(s.Missing) > 0 || miswired(p, c, circuitChecks...) {
		return
	}
	pr := finding.At(c.Pos, finding.UnsolvedCircuit, "circuit %q cannot be calculated: path not closed, or no load across a source", c.Name)
	pr.Hint = finding.Do("follow the current from the source through the device and back")
	found(pr)
}

// circuitChecks are the questions about the wiring of one circuit.
var circuitChecks = []func(*model.Plant, *model.Circuit, func(finding.Finding)){checkEnds, checkJumperRuns, checkChannelParts, checkSupplies, checkPolarity, checkShorted}

// miswired reports whether one of the questions finds an error in a circuit.
func miswired(p *model.Plant, c *model.Circuit, questions ...func(*model.Plant, *model.Circuit, func(finding.Finding))) bool {
	wrong := false
	for _, ask := range questions {
		ask(p, c, func(pr finding.Finding) { wrong = wrong || pr.Severity == finding.Error })
	}
	return wrong
}

// checkMargins: does every device get the voltage, and every output the load,
// that it needs?
func checkMargins(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	for _, m := range compute.Margins(p, c) {
		if len(m.Missing) > 0 || m.OK() || m.Code == nil {
			continue
		}
		if miswired(p, c, checkPolarity) { // told as such, and the figures follow from it
			return
		}
		limit := "minimum"
		if m.IsMax {
			limit = "maximum"
		}
		at := m.When()
		if m.At.Switched() {
			at = ", switched " + m.At.String()
		}
		pr := finding.At(c.Pos, m.Code, "%s%s: %s %s; %s %s %s", m.What, at, model.Round(m.Actual), m.Unit, limit, model.Round(m.Limit), m.Unit)
		if d := c.Device(); d != nil {
			pr = pr.WithAlso(d.Pos, "the device is described here")
		}
		for _, s := range compute.Shares(p, c) {
			pr = pr.WithAlso(s.Feed.Pos, "%s", s.Words())
		}
		pr.Hint = finding.Do("%s", english.Text(m.Cure))
		found(pr)
	}
}
