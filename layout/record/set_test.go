package record

import (
	"ringout/layout/enclosure"
	"ringout/layout/index"
	"ringout/layout/loop"
	"ringout/layout/sheet"
	"ringout/model"
)

// newSet plans a set of sheets for a test that stands in this package, and so cannot
// take the table of all kinds.
func newSet(p *model.Plant, draft bool, keep func(kind string) bool) *sheet.Plan {
	set := sheet.Kinds{
		{Name: sheet.Index, Form: true, Lists: true, Of: sheet.ThePlant, Plan: index.Plan},
		{Name: sheet.Loop, Letter: "LD", Of: sheet.EveryLoop, Plan: loop.Plan},
		{Name: sheet.Box, Letter: "JD", Of: sheet.EveryBox, Plan: enclosure.Plan},
		{Name: sheet.Cabinet, Letter: "CD", Of: sheet.EveryCabinet, Plan: enclosure.Plan},
		{Name: sheet.RingOut, Letter: "CR", Form: true, Of: sheet.EveryRungOut, Plan: PlanRingOut},
		{Name: sheet.Record, Letter: "TR", Form: true, Of: sheet.EveryLoop, Plan: PlanRecord},
	}
	return set.Plan(p, draft, nil, keep, nil)
}
