package check

import (
	"cmp"
	"slices"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// checkSplit: where several devices take one output, has each a range of its own, and
// is there one for all of the signal between them? A gap is where nothing moves.
func checkSplit(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	all := c.Takers()
	if c.Signal != model.AnalogOut || len(all) < 2 {
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
