package layout

import "ringout/model"

// set holds every kind of sheet. It is handed to what plans sheets.
var set = Kinds{
	{Name: Index, Words: "Sheet index", Letter: "IX", Form: true, Lists: true, Of: thePlant, Plan: planIndex},
	{Name: Loop, Words: "Loop diagram", Letter: "LD", Of: everyLoop, Plan: planLoop},
	{Name: Box, Words: "Box diagram", Letter: "JD", Of: everyBox, Plan: planPlace},
	{Name: Cabinet, Words: "Cabinet diagram", Letter: "CD", Of: everyCabinet, Plan: planPlace},
	{Name: RingOut, Words: "Cable ring-out sheet", Letter: "CR", Form: true, Of: everyRungOut, Plan: planRingOut},
	{Name: Record, Words: "Loop test record", Letter: "TR", Form: true, Of: everyLoop, Plan: planRecord},
}

// KindNames are the names of every kind of sheet in the order of the set.
func KindNames() []string {
	names := make([]string, len(set))
	for i, k := range set {
		names[i] = k.Name
	}
	return names
}

// New plans the sheets of a plant: those kinds for which keep is true; nil
// keeps all.
func New(p *model.Plant, draft bool, keep func(kind string) bool) *Plan {
	return set.plan(p, draft, nil, keep, nil)
}

// NewIssued plans like New. With a register, every sheet bears its own revision,
// date and status from it, and drawings have clouds round what changed; nil is
// a plant without one.
func NewIssued(p *model.Plant, draft bool, r *Issues) *Plan { return NewSince(p, draft, r, nil) }

// NewSince plans like NewIssued, and keeps the drawings of an earlier run that show
// the same: those with the stamp that known gives for their kind and tag. A kept
// one is planned only when another refers to it. known must be of a plan with the
// same register and the same Common.
func NewSince(p *model.Plant, draft bool, r *Issues, known func(kind, tag string) Known) *Plan {
	return set.since(p, draft, r, known)
}

// Common digests what bears on every sheet: the text that is of no loop, cable or
// place, and which of these there are, in their order.
func Common(p *model.Plant) string { return set.common(p) }

// Since lists how a plant differs from what a register has.
func Since(r *Issues, p *model.Plant) *Changes { return set.changes(r, p) }

// Raise returns a register after an issue of the plant, and what the issue changes. An
// issue that Accept refuses is an error.
func Raise(r *Issues, p *model.Plant, is Issue) (*Issues, *Changes, error) {
	return set.issue(r, p, is)
}

// Compare lists how a plant differs from an older version of it.
func Compare(old, now *model.Plant) *Changes { return set.compare(old, now) }
