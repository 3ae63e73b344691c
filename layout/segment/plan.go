// Package segment draws segments: the trunk of a powered bus or serial link as one line
// from end to end, what hangs on it, and the sums of the whole.
package segment

import (
	"slices"

	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/trunk"
	"ringout/render"
)

// Every is the segments of a plant.
func Every(p *model.Plant) []sheet.Subject {
	return slices.DeleteFunc(sheet.EveryLoop(p), func(x sheet.Subject) bool { return x.Loop.Segment == nil })
}

// The measures of a diagram.
const (
	cellWide = 44 * render.MM // of one spur
	gapWide  = 36 * render.MM // of a section of the trunk
	sideWide = 3 * render.MM  // left and right of a tier
	headTall = 17 * render.MM // above the trunk: terminators
	jointMid = 9 * render.MM  // half of a joint
	dropTall = 18 * render.MM // of a spur, with the words beside it
	dropAt   = 8 * render.MM  // of a spur, from the left of its cell
	lineTall = 4 * render.MM  // of words in a box
	tierGap  = 6 * render.MM
)

// cell is one column of a diagram: a joint of the trunk, and a spur that hangs there,
// if any.
type cell struct {
	joint int // of the trunk, from 0
	spur  *trunk.Spur
}

// tier is a row of cells, side by side.
type tier struct {
	cells []cell
	top   render.Len
	tall  render.Len
}

// segmentSheet is what is planned for one sheet.
type segmentSheet struct {
	pair   *trunk.Pair
	tiers  []tier
	before *tier // the last one of the sheet before; nil for none
	after  bool  // the trunk goes on, on the next sheet
	pieces []paper.Piece
	at     render.Len // of the tables, from the top
}

// Plan plans the sheets of a segment; none of one that lands on no supply and no port.
func Plan(pl *sheet.Plan, d *sheet.Drawing) (sheets []*sheet.Sheet) {
	pair := trunk.Of(pl.Plant, d.Of.Loop)
	if pair.Source == nil && !d.Of.Loop.Plugged() {
		return nil
	}
	in := d.Inner(pl)
	var plan *segmentSheet
	turn := func() {
		s := d.Sheet(pl)
		plan = &segmentSheet{pair: pair}
		s.Planned = plan
		sheets = append(sheets, s)
	}
	turn()
	y := render.Len(0)
	var all []tier
	if pair.Source != nil {
		all = tiers(pl, pair, in)
	}
	for i := range all {
		t := &all[i]
		if y > 0 && y+t.tall > in.H() {
			plan.after = true
			turn()
			plan.before, y = &all[i-1], 0
		}
		t.top = y
		plan.tiers = append(plan.tiers, *t)
		y += t.tall + tierGap
	}
	sections, _ := tables(pl, d.Of.Loop, in.W())
	first, rest := d.Heights(pl)
	if d.Of.Loop.Plugged() {
		y = linkTall
	}
	pages, left := paper.Flow(sections, first, rest, 0)
	if tall := in.H() - left; len(pages) == 1 && y+tall <= in.H() {
		plan.pieces, plan.at = pages[0], in.H()-tall
		pages = nil
	}
	for _, pieces := range pages {
		turn()
		plan.pieces = pieces
	}
	for _, s := range sheets {
		d.Refer(s, d.Of.Loop, s.Inner.Min)
	}
	return sheets
}

// tiers parts the cells of a pair into rows that fit an area.
func tiers(pl *sheet.Plan, pair *trunk.Pair, in paper.Area) (all []tier) {
	var t tier
	x := 2 * sideWide
	last := -1
	every := cells(pair)
	for i, c := range every {
		wide := cellWide
		if c.joint != last && last >= 0 {
			wide += gapWide
		}
		after := gapWide // for the words that say what comes next, and those of a terminator
		if i+1 == len(every) && c.joint == last {
			after = 0
		}
		if len(t.cells) > 0 && x+wide+after > in.W() {
			all = append(all, t)
			t, x = tier{}, 2*sideWide
			wide = cellWide + gapWide
		}
		t.cells = append(t.cells, c)
		x += wide
		last = c.joint
	}
	all = append(all, t)
	for i := range all {
		all[i].tall = tallOf(pl, pair, all[i].cells, mostLines(in.H()))
	}
	return all
}

// cells are the joints of a trunk with what hangs on each.
func cells(pair *trunk.Pair) (all []cell) {
	for i, j := range pair.Trunk {
		n := len(all)
		for _, s := range pair.Spurs {
			if s.At == j {
				all = append(all, cell{i, s})
			}
		}
		if len(all) == n {
			all = append(all, cell{i, nil})
		}
	}
	return all
}

// tallOf is how high a row of cells is, of which no spur has more than so many lines.
func tallOf(pl *sheet.Plan, pair *trunk.Pair, cells []cell, most int) render.Len {
	lines := 0
	for _, c := range cells {
		if c.spur != nil {
			lines = max(lines, len(spurLines(pl.Plant, pair, c.spur, most)))
		}
	}
	if lines == 0 {
		return headTall + 2*jointMid
	}
	return spurTall + render.Len(lines)*lineTall
}

// spurTall is how high a row with spurs is without the lines of what hangs on them.
const spurTall = headTall + 2*jointMid + dropTall + 2*render.MM

// mostLines is how many lines the box of a spur has room for on a sheet of a height.
func mostLines(height render.Len) int { return int((height - spurTall) / lineTall) }
