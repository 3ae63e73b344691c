package check

import (
	"cmp"
	"fmt"
	"slices"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// checkParallel: does one current have one way? Two devices across a pair of mA part it between
// them, as their ohms have it. On a switched output they get the same volts.
func checkParallel(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	all := c.Parallel()
	if len(all) < 2 || c.Signal != model.AnalogOut && c.Signal != model.AnalogIn {
		return
	}
	a, b := all[0].Part, all[1].Part
	pr := finding.At(all[1].Pos, finding.ParallelLoads, "circuit %q: %s and %s lie in parallel: its current parts between them, and neither gets all of it", c.Name, a.Tag, b.Tag)
	pr.Also = []finding.Related{{Pos: all[0].Pos, Text: "the other is here"}}
	hint := fmt.Sprintf("put %s in series, as %s>%s in one leg", b.Tag, firstOf(all[1], '+'), firstOf(all[1], '-'))
	if c.Signal == model.AnalogOut {
		hint += "; or give each a channel of its own, or a splitter"
	}
	found(pr.WithHint(finding.Do("%s", hint)))
}

// firstOf is the name of the terminal of a role at a station.
func firstOf(st *model.Station, role model.Marking) string {
	for _, t := range st.Terminations {
		if t.In != nil && t.In.Role == role {
			return t.In.Name
		}
	}
	return string(role)
}

// checkSplit: where several devices take one output, has each a range of its own, and
// is there one for all of the signal between them? A gap is where nothing moves.
func checkSplit(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	all := c.Takers()
	if c.Signal != model.AnalogOut || len(all) < 2 || len(c.Parallel()) > 1 {
		return
	}
	ends := func(d *model.Part) (low, high float64, unit string) {
		r := compute.Output(d.Device)
		return min(r.Low, r.High), max(r.Low, r.High), r.Unit
	}
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b *model.Part) int {
		la, _, _ := ends(a)
		lb, _, _ := ends(b)
		return cmp.Compare(la, lb)
	})
	_, reached, _ := ends(all[0])
	for i, d := range all[1:] {
		before := all[i]
		low0, high0, _ := ends(before)
		low, high, unit := ends(d)
		report := func(hint, format string, args ...any) {
			pr := finding.At(d.Pos, finding.SplitRange, format, args...)
			pr.Also = []finding.Related{{Pos: before.Pos, Text: "the other device"}, {Pos: c.Pos, Text: "the output that they share"}}
			pr.Hint = finding.Do("%s", hint)
			found(pr)
		}
		switch {
		case low == low0 && high == high0:
			report("give each its own signal, such as 4..12 mA and 12..20 mA", "%s and %s share output %s, and both take %s to %s %s: they move together", before.Tag, d.Tag, c.Name, model.Plain(low), model.Plain(high), unit)
		case low > reached:
			report("let the one signal begin where the other ends", "%s and %s share output %s: nothing moves from %s to %s %s", before.Tag, d.Tag, c.Name, model.Plain(reached), model.Plain(low), unit)
		}
		reached = max(reached, high)
	}
}
