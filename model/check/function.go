package check

import (
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
			case f.Kind == model.Ratio && n == 0:
				pr := finding.At(f.Pos, finding.FewInputs, "%s: ratio of no signal", f.Tag)
				pr.Hint = finding.Do("name the wild flow: its circuit under reads")
				found(pr)
			}
			if back := takesItself(f); back != nil {
				pr := finding.At(f.Pos, finding.FunctionRing, "%s gets its own output back by way of %s", f.Tag, back.Tag)
				pr.Also = []finding.Related{{Pos: back.Pos, Text: "takes it, and is taken"}}
				pr.Hint = finding.Do("leave one of them out of takes: a master takes nothing of its slave")
				found(pr)
			}
		}
	}
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
