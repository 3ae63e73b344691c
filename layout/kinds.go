// Package layout holds the kinds of sheet that a set is made of. Its packages plan the
// set, draw each kind, and hold what the kinds share.
package layout

import (
	"ringout/layout/enclosure"
	"ringout/layout/index"
	"ringout/layout/issue"
	"ringout/layout/loop"
	"ringout/layout/record"
	"ringout/layout/segment"
	"ringout/layout/sheet"
	"ringout/model"
)

// Set holds every kind of sheet. It is handed to what plans sheets.
var Set = sheet.Kinds{
	{Name: sheet.Index, Words: "Sheet index", Letter: "IX", Form: true, Lists: true, Of: sheet.ThePlant, Plan: index.Plan},
	{Name: sheet.Loop, Words: "Loop diagram", Letter: "LD", Of: sheet.EveryWired, Plan: loop.Plan},
	{Name: sheet.Segment, Words: "Segment diagram", Letter: "SD", Of: segment.Every, Plan: segment.Plan},
	{Name: sheet.Box, Words: "Box diagram", Letter: "JD", Of: sheet.EveryBox, Plan: enclosure.Plan},
	{Name: sheet.Cabinet, Words: "Cabinet diagram", Letter: "CD", Of: sheet.EveryCabinet, Plan: enclosure.Plan},
	{Name: sheet.RingOut, Words: "Cable ring-out sheet", Letter: "CR", Form: true, Of: sheet.EveryRungOut, Plan: record.PlanRingOut},
	{Name: sheet.Record, Words: "Loop test record", Letter: "TR", Form: true, Of: sheet.EveryLoop, Plan: record.PlanRecord},
}

// KindNames are the names of every kind of sheet in the order of the set.
func KindNames() []string {
	names := make([]string, len(Set))
	for i, k := range Set {
		names[i] = k.Name
	}
	return names
}

// New plans the sheets of a plant: those kinds for which keep is true; nil
// keeps all.
func New(p *model.Plant, draft bool, keep func(kind string) bool) *sheet.Plan {
	return Set.Plan(p, draft, nil, keep, nil)
}

// NewIssued plans like New. With a register, every sheet bears its own revision,
// date and status from it, and drawings have clouds round what changed; nil is
// a plant without one.
func NewIssued(p *model.Plant, draft bool, r *issue.Register) *sheet.Plan {
	return NewSince(p, draft, r, nil)
}

// NewSince plans like NewIssued, and keeps the drawings of an earlier run that show
// the same: those with the stamp that known gives for their kind and tag. A kept
// one is planned only when another refers to it. known must be of a plan with the
// same register and the same Common.
func NewSince(p *model.Plant, draft bool, r *issue.Register, known func(kind, tag string) sheet.CachedDrawing) *sheet.Plan {
	return Set.Since(p, draft, r, known)
}

// Common digests what bears on every sheet: the text that is of no loop, cable or
// place, and which of these there are, in their order.
func Common(p *model.Plant) string { return Set.Common(p) }

// Since lists how a plant differs from what a register has.
func Since(r *issue.Register, p *model.Plant) *sheet.Changes { return Set.Changes(r, p) }

// Raise returns a register after an issue of the plant, and what the issue changes. An
// issue that Accept refuses is an error.
func Raise(r *issue.Register, p *model.Plant, is issue.Issue) (*issue.Register, *sheet.Changes, error) {
	return Set.Issue(r, p, is)
}

// Compare lists how a plant differs from an older version of it.
func Compare(old, now *model.Plant) *sheet.Changes { return Set.Compare(old, now) }
