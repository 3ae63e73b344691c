package enclosure

import (
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/render"
)

// This file lays parts that are wired from one side, such as cards and supplies, on the two
// halves of a sheet, and tables in the corner that the shorter one leaves.

const halfGap = 8 * render.MM // between the halves

// oneSided reports whether all that lands on a part comes from the left, and will: one side
// of a strip or barrier may yet be wired.
func (p *partView) oneSided() bool {
	return p.part.Strip == nil && p.part.Barrier == nil && !slices.ContainsFunc(p.rows, func(r placeRow) bool { return r.earth || r.sides[rightSide] != nil })
}

// halvesOf are the grids of the two halves of an area, for parts that stand side by side;
// nil where there are none, or a half has no room for their words.
func (v *PlaceView) halvesOf(plant *model.Plant, area paper.Area) (both []*placeGrid) {
	parts := slices.DeleteFunc(slices.Clone(v.parts), func(p *partView) bool { return !p.oneSided() })
	if len(parts) < 2 {
		return nil
	}
	half := area
	half.Max.X -= (area.W() + halfGap) / 2
	for range 2 {
		g, ok := v.gridOf(plant, half, parts, halfWidth(parts), paper.Narrow)
		if !ok {
			return nil
		}
		both = append(both, g)
		half = paper.Area{Min: render.Point{X: area.Max.X - half.W(), Y: area.Min.Y}, Max: area.Max}
	}
	for _, p := range parts {
		_, named := paper.FitText(both[0].nameArea(0), fonts.MonoBold, paper.LargeHeight, render.Middle, p.part.Name())
		_, told := v.plateText(plant, p, v.plateArea(both[0], p, 0))
		p.half = named && told
	}
	return both
}

// halfWidth has what parts need on which conductors land on the left alone.
func halfWidth(parts []*partView) (has shown) {
	has[leftSide] = wholeWidth()[leftSide]
	cables := slices.ContainsFunc(parts, func(p *partView) bool {
		return slices.ContainsFunc(p.rows, func(r placeRow) bool { return r.sides[leftSide] != nil && r.sides[leftSide].c.Core != nil })
	})
	has[leftSide][tagColumn] = cables
	has[rightSide][loopColumn] = true
	return has
}

// sideBySide lays parts on the halves of a sheet, the left one first, both about as tall.
// It returns how many it laid; 0 for a single one, or one that is longer than a sheet.
func (g *placePager) sideBySide(parts []*partView) int {
	if len(parts) < 2 {
		return 0
	}
	grids := g.view.halves
	tall := func(parts []*partView) (high render.Len) {
		for _, p := range parts {
			high += plateHeight + render.Len(len(p.rows))*grids[0].leg + grids[0].leg/2 + partGap
		}
		return high
	}
	// fit is how many stand in a height, and how many of them on the left.
	fit := func(high render.Len) (all, left int) {
		for left < len(parts) && tall(parts[:left+1]) <= high {
			left++
		}
		for all = left; all < len(parts) && tall(parts[left:all+1]) <= high; {
			all++
		}
		return all, left
	}
	high := g.area.Max.Y - g.top(grids...)
	all, left := fit(high)
	if all < len(parts) && all < 2 && g.y > g.area.Min.Y {
		g.turn()
		high = g.area.H()
		all, left = fit(high)
	}
	if all == 0 {
		return 0
	}
	for n, l := all, left; n >= all; n, l = fit(high) { // no taller than it has to be
		high, left = high-symbol.Leg, l
	}
	g.begin(grids...)
	top, low := g.y, g.y
	for i, p := range parts[:all] {
		half := grids[0]
		if i >= left {
			half = grids[1]
		}
		if i == left {
			g.y = top
		}
		g.place(&stretch{p, paper.Span{From: 0, To: len(p.rows)}, g.y, half})
		low = max(low, g.y)
	}
	_, plan := g.sheet()
	g.corners = append(g.corners, corner{plan, paper.Area{
		Min: render.Point{X: grids[1].reach.Min, Y: g.y + tableGap}, Max: render.Point{X: grids[1].reach.Max, Y: low}}})
	g.y = low
	return all
}

// corner is what the right half of a sheet has free, beside a longer left one.
type corner struct {
	plan *placeSheet
	paper.Area
}

// notLanded lays the cores that are not landed: over the width of the sheet, else in a
// corner, else as any table.
func (g *placePager) notLanded() {
	t := g.view.notLanded
	if t == nil {
		return
	}
	all := paper.Span{From: 0, To: len(t.Rows)}
	wide := t.Filled(groupsColumn, g.area.W())
	if g.y+wide.Height(all) > g.area.Max.Y {
		for _, c := range g.corners {
			if half := t.Filled(groupsColumn, c.W()); half.Height(all) <= c.H() {
				c.plan.tables = append(c.plan.tables, placedTable{half, all, c.Min})
				return
			}
		}
	}
	g.table(wide)
}
