package check

import (
	"cmp"
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// checkFunctions: has a select what to choose from, a ratio what it is a ratio of, and
// does no function get its own output back?
func checkFunctions(p *model.Plant, found func(finding.Finding)) {
	for _, l := range p.Loops {
		for _, f := range l.Functions {
			switch n := len(f.Inputs()); {
			case f.Kind.Selects() && n < 2:
				pr := finding.At(f.Pos, finding.FewInputs, "%s: %s of %s", f.Tag, f.Kind, finding.Count(n, "signal"))
				pr.Hint = finding.Do("name two or more: circuits under reads, functions under takes")
				found(pr)
			case f.Kind == model.Sum && n < 2, f.Kind == model.SquareRoot && n != 1:
				pr := finding.At(f.Pos, finding.FewInputs, "%s: %s of %s", f.Tag, f.Kind, finding.Count(n, "signal"))
				pr.Hint = finding.Do("name %s: circuits under reads, functions under takes", map[bool]string{true: "two or more", false: "one"}[f.Kind == model.Sum])
				found(pr)
			case f.Kind == model.SquareRoot && rootTaken(f) != nil:
				d := rootTaken(f)
				found(finding.At(f.Pos, finding.RootTwice, "%s takes the square root of %s, which has taken it already", f.Tag, d.Tag).WithAlso(d.Pos, "its root is said here").
					WithHint(finding.Do("say square root: system of %s, or take %s out", d.Tag, f.Tag)))
			case f.Kind == model.Ratio && n == 0:
				pr := finding.At(f.Pos, finding.FewInputs, "%s: ratio of no signal", f.Tag)
				pr.Hint = finding.Do("name the wild flow: its circuit under reads")
				found(pr)
			}
			checkParts(f, found)
			if back := takesItself(f); back != nil {
				pr := finding.At(f.Pos, finding.FunctionRing, "%s gets its own output back by way of %s", f.Tag, back.Tag)
				pr.Also = []finding.Related{{Pos: back.Pos, Text: "takes it, and is taken"}}
				pr.Hint = finding.Do("leave one of them out of takes: a master takes nothing of its slave")
				found(pr)
			}
		}
	}
}

// rootTaken is the transmitter that a function reads and that takes the square root itself; nil
// without one.
func rootTaken(f *model.Function) *model.Part {
	for _, c := range f.Reads {
		if d := c.Device(); d != nil && d.Device.SquareRootIn == model.TransmitterRoot {
			return d
		}
	}
	return nil
}

// checkParts: do the parts of an output meet, or leave a gap or overlap as is meant, and
// does without air not everything open that moves against each other?
func checkParts(f *model.Function, found func(finding.Finding)) {
	if len(f.Parts) == 0 {
		return
	}
	all := slices.Clone(f.Outputs)
	ends := func(c *model.Circuit) (low, high float64) {
		r := f.PartOf(c)
		return min(r.Low, r.High), max(r.Low, r.High)
	}
	slices.SortStableFunc(all, func(a, b *model.Circuit) int {
		lowA, highA := ends(a)
		lowB, highB := ends(b)
		return cmp.Or(cmp.Compare(lowA, lowB), cmp.Compare(highA, highB))
	})
	report := func(meant string, format string, args ...any) {
		found(finding.At(f.Parts[0].Pos, finding.OutputParts, format, args...).WithHint(finding.Do("%s", meant)))
	}
	reached := 0.0
	gap := func(to float64) {
		if to > reached && f.Between != model.LeaveGap {
			report("let one part begin where the other ends; if a dead band is meant, write: between parts: gap", "nothing moves from %s to %s %% of the output of %s", model.Plain(reached), model.Plain(to), f.Tag)
		}
	}
	for i, c := range all {
		low, high := ends(c)
		gap(low)
		if i > 0 && low < reached && f.Between != model.Overlap {
			report("let one part begin where the other ends; if it is meant, write: between parts: overlap", "%s and another circuit both move from %s to %s %% of the output of %s", c.Name, model.Plain(low), model.Plain(min(reached, high)), f.Tag)
		}
		reached = max(reached, high)
	}
	gap(100)
	if a, b := bothOpen(f); a != nil {
		report("see which of them has to be open without air: they move against each other", "%s and %s, which %s opens one for the other, both fail open", a.Tag, b.Tag, f.Tag)
	}
}

// bothOpen are two valves of which one opens as the other closes, and that both are open
// without air; nil without such.
func bothOpen(f *model.Function) (a, b *model.Part) {
	opening := map[bool]*model.Part{}
	for _, c := range f.Outputs {
		d := c.Device()
		if d == nil || c.Signal != model.AnalogOut || d.FinalElement().Device.Fail != model.Open {
			continue
		}
		opens, _ := d.OpensBy()
		part := f.PartOf(c)
		opening[opens == (part.Low < part.High)] = d.FinalElement()
	}
	if opening[true] == nil || opening[false] == nil {
		return nil, nil
	}
	return opening[true], opening[false]
}

// takesItself is the function that a function takes and that gets the output of it, at
// once or by way of others; nil without one.
func takesItself(f *model.Function) *model.Function {
	seen := map[*model.Function]bool{}
	var reaches func(from *model.Function) bool
	reaches = func(from *model.Function) bool {
		if from == f {
			return true
		}
		if seen[from] {
			return false
		}
		seen[from] = true
		for _, x := range from.Takes {
			if reaches(x) {
				return true
			}
		}
		return false
	}
	for _, from := range f.Takes {
		if reaches(from) {
			return from
		}
	}
	return nil
}
