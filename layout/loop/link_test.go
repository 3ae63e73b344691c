package loop_test

import (
	"testing"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/render"
)

// TestCablesLead: of every cable on a loop diagram that is rung out a live area leads
// to its ring-out sheet, whatever stands beside the tag, such as IS.
func TestCablesLead(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantFrom(t, layouttest.TernIsland(t))
	pl := layout.New(p, false, nil)
	lead, safe := 0, 0
	var loops []*sheet.Sheet
	for _, s := range pl.Sheets {
		if s.Kind.Name == sheet.Loop {
			loops = append(loops, s)
		}
	}
	for page := range pl.Draw(loops) {
		to := map[string]int{}
		for _, item := range page.Items {
			if l, ok := item.(*render.Link); ok {
				to[l.Page]++
			}
		}
		var walk func(items []render.Item)
		walk = func(items []render.Item) {
			for _, item := range items {
				g, ok := item.(*render.Group)
				if !ok {
					continue
				}
				walk(g.Items)
				if len(g.Data) == 0 || g.Data[0].Key != "cable" {
					continue
				}
				c := p.Cable(g.Data[0].Value)
				ref, rung := pl.Ref(sheet.RingOut, c)
				if !rung {
					continue
				}
				if to[ref.Sheet.Name]--; to[ref.Sheet.Name] < 0 {
					t.Errorf("%s: no area leads from %s to %s", page.Name, c.Tag, ref.Sheet.Name)
				}
				lead++
				if c.Tag == "W-26" {
					safe++
				}
			}
		}
		walk(page.Items)
	}
	if lead < 10 || safe == 0 {
		t.Errorf("%d cables, %d of them intrinsically safe: nothing was put to the test", lead, safe)
	}
}
