package record

import (
	"ringout/layout/index"
	"ringout/layout/loop"
	"ringout/layout/place"
	"ringout/layout/sheet"
	"ringout/model"
)

// newSet plans a set of sheets for a test that stands in this package, and so cannot
// take the table of all kinds.
func newSet(p *model.Plant, draft bool, keep func(kind string) bool) *sheet.Plan {
	set := sheet.Kinds{
		{Name: sheet.Index, Form: true, Lists: true, Of: sheet.ThePlant, Plan: index.PlanIndex},
		{Name: sheet.Loop, Letter: "LD", Of: sheet.EveryLoop, Plan: loop.PlanLoop},
		{Name: sheet.Box, Letter: "JD", Of: sheet.EveryBox, Plan: place.PlanPlace},
		{Name: sheet.Cabinet, Letter: "CD", Of: sheet.EveryCabinet, Plan: place.PlanPlace},
		{Name: sheet.RingOut, Letter: "CR", Form: true, Of: sheet.EveryRungOut, Plan: PlanRingOut},
		{Name: sheet.Record, Letter: "TR", Form: true, Of: sheet.EveryLoop, Plan: PlanRecord},
	}
	return set.Plan(p, draft, nil, keep, nil)
}
