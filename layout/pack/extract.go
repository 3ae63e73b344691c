package pack

import (
	"slices"

	"ringout/layout/enclosure"
	"ringout/layout/sheet"
	"ringout/model"
)

// extracts puts in the place of the sheets of a place that the work only passes through an
// extract with what the work touches there, where that takes fewer sheets. A place that the
// pack was asked for stays whole, and so does one whose sheets are of several issues, or
// changed since: an extract bears one revision.
func (p *Pack) extracts(places []*sheet.Sheet) (all []*sheet.Sheet) {
	job := map[*model.Conductor]bool{}
	for _, w := range p.wires() {
		job[w] = true
	}
	for i, n := 0, 0; i < len(places); i = n {
		for n = i; n < len(places) && places[n].Place == places[i].Place; n++ {
		}
		chosen := places[i:n]
		if x := places[i].Place; !slices.Contains(p.scope.Places, x) && p.oneIssue(x) {
			if few := enclosure.PlanExtract(p.plan, chosen, job); len(few) > 0 && len(few) < len(chosen) {
				chosen = few
			}
		}
		all = append(all, chosen...)
	}
	return all
}

// oneIssue reports whether all sheets of a place are of one revision, and issued.
func (p *Pack) oneIssue(x *model.Place) bool {
	marks := map[string]bool{}
	for _, s := range p.plan.Sheets {
		if s.Place == x {
			marks[p.plan.Revision(s).Mark] = true
		}
	}
	return len(marks) == 1 && !marks[sheet.PendingMark]
}
