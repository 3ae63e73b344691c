// Package enclosure draws the diagrams of boxes, panels and cabinets.
package enclosure

import (
	"slices"

	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
)

// PlaceView is what all sheets of one box, cabinet, panel or system share.
type PlaceView struct {
	place     *model.Place
	parts     []*partView
	of        string         // the sheets that an extract is taken from, in words
	whole     []*partView    // all parts, where parts are those of an extract: its cautions are of all
	cables    []*model.Cable // that end here
	grid      *placeGrid     // over the width of a sheet
	halves    []*placeGrid   // for parts that stand side by side; nil where none do
	totals    []*paper.Table
	earths    *paper.Table // form of the earths of barriers, until it is laid
	notLanded *paper.Table // cores that land on no terminal here; nil when all do
	box       noteBox
	rest      *paper.Table // cautions that the box does not hold, until they are laid; nil for none
	More      *sheet.Sheet // which has that table
}

// placeSheet is what one sheet of a place shows: stretches of its parts, then
// tables.
type placeSheet struct {
	*PlaceView
	stretches []*stretch
	tables    []placedTable
	bands     []placedBand
	heads     []headRow
	from, to  *sheet.Sheet // the sheets before and after; nil at the ends
}

// stretch is the rows From up to, not including, To of a part. At is the top
// of its name plate.
type stretch struct {
	*partView
	paper.Span
	at   render.Len
	grid *placeGrid
}

// headRow is the heads of the columns of what stands below it: of one grid, or of two side
// by side.
type headRow struct {
	at    render.Len // the line below them
	grids []*placeGrid
}

// placedTable is a part of a table with its upper left corner.
type placedTable struct {
	*paper.Table
	paper.Span
	at render.Point
}

// The measures of a sheet of a place, down the page.
const (
	placeHead   = 14 * render.MM // title and column heads
	headsHeight = 10 * render.MM // column heads further down
	placeFoot   = 7 * render.MM  // key of the lines
	plateHeight = 6 * render.MM  // name plate on top of a strip
	partGap     = 4 * render.MM  // between two parts; holds where they go on
)

// Plan plans the sheets of a place. One with nothing to land on has none.
func Plan(pl *sheet.Plan, d *sheet.Drawing) []*sheet.Sheet {
	view, devices := planView(pl, d.Of.Place)
	if len(view.parts)+len(view.cables) == 0 {
		return nil
	}
	return planned(pl, d, view, devices)
}

// planned lays what a view has of a place, in which these instruments stand.
func planned(pl *sheet.Plan, d *sheet.Drawing, view *PlaceView, devices []*model.Part) []*sheet.Sheet {
	p := view.place
	g := &placePager{pl: pl, drawing: d, view: view}
	g.turn()
	g.parts()
	for _, t := range frontTables(pl.Plant, p, devices, g.area.W()) {
		g.wide(t)
	}
	g.chains()
	for _, t := range boardTables(pl.Plant, g.view, g.area.W()) {
		g.wide(t)
	}
	g.totals()
	if s := g.table(g.view.rest); s != nil {
		g.view.More = s
	}
	g.table(g.view.earths)
	if s := g.table(linkTable(pl.Plant, g.view.place)); s != nil {
		g.drawing.Refer(s, sheet.LinksAt{Place: g.view.place}, s.Inner.Min)
	}
	g.notLanded()
	for i, s := range g.sheets[1:] {
		g.plans[i].to, g.plans[i+1].from = s, g.sheets[i]
	}
	return g.sheets
}

// partRank puts the parts of a place in the order of the signal: strips, what
// the wires go on to, then what feeds and earths them.
func partRank(p *model.Part) int {
	switch {
	case p.Of != nil: // behind its instrument
		return 3
	case p.Strip != nil:
		return 0
	case p.Barrier != nil:
		return 1
	case p.Card != nil:
		return 2
	case p.Supply != nil:
		return 4
	case p.Kind.Bar:
		return 5
	}
	return 3
}

// placePager lays the parts of a place on sheets, one below the other.
type placePager struct {
	pl      *sheet.Plan
	drawing *sheet.Drawing
	view    *PlaceView
	sheets  []*sheet.Sheet
	plans   []*placeSheet // of the sheets
	area    paper.Area    // for the parts, the same on every sheet
	y       render.Len    // where the next part goes
	feet    []render.Len  // where what stands on each sheet before ends
	corners []corner      // that a table may fill
}

// turn begins the next sheet.
func (g *placePager) turn() {
	if len(g.sheets) > 0 {
		g.feet = append(g.feet, g.y)
	}
	s := g.drawing.Sheet(g.pl)
	p := &placeSheet{PlaceView: g.view}
	s.Planned = p
	g.area = s.Inner
	g.area.Min.Y += placeHead
	g.area.Max.Y -= placeFoot
	g.y = g.area.Min.Y
	g.sheets, g.plans = append(g.sheets, s), append(g.plans, p)
	if len(g.sheets) == 1 {
		v := g.view
		v.grid, _ = v.gridOf(g.pl.Plant, s.Inner, v.parts, wholeWidth(), paper.Narrowest)
		v.halves = v.halvesOf(g.pl.Plant, s.Inner)
		all := CautionsOf(g.pl.Plant, v)
		v.box = noteBoxOf(g.pl.Plant, g.pl.Frame(s).Notes, all)
		v.rest = v.cautionTable(v.totals[0].Width())
	}
	g.drawing.Refer(s, s.Place, s.Inner.Min)
}

func (g *placePager) sheet() (*sheet.Sheet, *placeSheet) {
	n := len(g.sheets) - 1
	return g.sheets[n], g.plans[n]
}

// Placed is what is planned for a sheet of a place.
func Placed(s *sheet.Sheet) *placeSheet { return s.Planned.(*placeSheet) }

// begin puts the heads of the columns of grids above what follows, unless they stand there.
func (g *placePager) begin(grids ...*placeGrid) {
	_, p := g.sheet()
	switch n := len(p.heads); {
	case n == 0:
		p.heads = []headRow{{g.area.Min.Y, grids}}
	case !slices.Equal(p.heads[n-1].grids, grids):
		g.y += headsHeight
		p.heads = append(p.heads, headRow{g.y, grids})
	}
}

// top is where parts on grids begin, below the heads of their columns.
func (g *placePager) top(grids ...*placeGrid) render.Len {
	_, p := g.sheet()
	if n := len(p.heads); n > 0 && !slices.Equal(p.heads[n-1].grids, grids) {
		return g.y + headsHeight
	}
	return g.y
}

// room is how many rows of a part fit below y.
func (g *placePager) room(y render.Len, grid *placeGrid) int {
	return int((g.area.Max.Y - y - plateHeight - partGap) / grid.leg)
}

// parts lays all parts: those on halves side by side, after others of their kind, and of
// strips over the whole width first what the rest of a sheet has room for.
func (g *placePager) parts() {
	rank := func(p *partView) int {
		if p.half {
			return 2*partRank(p.part) + 1
		}
		return 2 * partRank(p.part)
	}
	rest := slices.Clone(g.view.parts)
	slices.SortStableFunc(rest, func(a, b *partView) int { return rank(a) - rank(b) })
	for len(rest) > 0 {
		halves := 0
		for halves < len(rest) && rest[halves].half {
			halves++
		}
		if n := g.sideBySide(rest[:halves]); n > 0 {
			rest = rest[n:]
			continue
		}
		next := 0
		if room := g.room(g.top(g.view.grid), g.view.grid); len(rest[0].rows) > room && !g.begins(rest[0], room) && rest[0].part.Strip != nil {
			next = max(0, slices.IndexFunc(rest, func(p *partView) bool { return p.part.Strip != nil && len(p.rows) <= room }))
		}
		g.part(rest[next])
		rest = slices.Delete(rest, next, next+1)
	}
}

// begins reports whether a part is begun on a sheet that has not the room for all of it.
// A part that fits on a sheet is never split.
func (g *placePager) begins(p *partView, room int) bool {
	const worth = 12 // rows
	return len(p.rows) > g.room(g.area.Min.Y, g.view.grid) && room >= worth
}

// part lays one part over the whole width. One that is longer than a sheet is split where
// no circuit, pair or screen is torn apart.
func (g *placePager) part(p *partView) {
	grid := g.view.grid
	if room := g.room(g.top(grid), grid); len(p.rows) > room && !g.begins(p, room) && g.y > g.area.Min.Y {
		g.turn()
	}
	for from := 0; ; {
		g.begin(grid)
		to, room := len(p.rows), g.room(g.y, grid)
		if to-from > room {
			to = from + room
			for to > from && p.tied[to-1] {
				to--
			}
			if to == from { // one circuit fills more than a sheet
				to = from + max(room, 1)
			}
		}
		g.place(&stretch{p, paper.Span{From: from, To: to}, g.y, grid})
		if to == len(p.rows) {
			return
		}
		from = to
		g.turn()
	}
}

// place puts a stretch on the sheet and files what stands on it.
func (g *placePager) place(st *stretch) {
	s, p := g.sheet()
	p.stretches = append(p.stretches, st)
	grid := st.grid
	for i := st.From; i < st.To; i++ {
		r := &st.rows[i]
		y := st.y(i)
		for _, t := range append([]*model.Terminal{r.in, r.out}, r.spare...) {
			if t != nil && r.leg == 0 {
				g.drawing.Refer(s, t, render.Point{X: grid.body.Min.X, Y: y})
			}
		}
	}
	for side := range grid.columns {
		cell := grid.cell(side, tagColumn)
		st.fans(side, func(f fan, _ paper.ColumnSpan) {
			at := render.Point{X: (cell.Min + cell.Max) / 2, Y: (st.y(f.first) + st.y(f.last)) / 2}
			g.drawing.Refer(s, f.cable, at)
			g.drawing.Refer(s, sheet.CableAt{Cable: f.cable, Place: s.Place}, at)
		})
	}
	g.y = st.y(st.To) + partGap
}

// y is the middle of row i of a stretch.
func (st *stretch) y(i int) render.Len {
	return st.at + plateHeight + st.grid.leg*render.Len(i-st.From) + st.grid.leg/2
}

const tableGap = 6 * render.MM // between two tables

// totals lays the totals behind the last part, side by side.
func (g *placePager) totals() {
	high := render.Len(0)
	for _, t := range g.view.totals {
		high = max(high, t.Height(paper.Span{From: 0, To: len(t.Rows)}))
	}
	if g.y > g.area.Min.Y && g.y+high > g.area.Max.Y {
		g.turn()
	}
	spans := make([][]paper.Span, len(g.view.totals))
	pages := 0
	for i, t := range g.view.totals {
		spans[i] = t.Plan(g.area.Max.Y-g.y, g.area.H())
		pages = max(pages, len(spans[i]))
	}
	for n := range pages {
		if n > 0 {
			g.turn()
		}
		_, p := g.sheet()
		x, low, foot := g.area.Min.X, g.y, g.y
		for i, t := range g.view.totals {
			if n < len(spans[i]) {
				p.tables = append(p.tables, placedTable{t, spans[i][n], render.Point{X: x, Y: g.y}})
				low = max(low, g.y+t.Height(spans[i][n]))
			}
			if i == 0 {
				foot = low
			}
			x += t.Width() + tableGap
		}
		if n == pages-1 {
			low = max(low, g.under(foot))
		}
		g.y = low + tableGap
	}
}

// under lays the form of barrier earths and the cautions that have no box below
// the cables, as far as they fit there, and returns where they end. What does not
// fit is left to be laid below all.
func (g *placePager) under(foot render.Len) render.Len {
	s, p := g.sheet()
	for _, t := range []**paper.Table{&g.view.earths, &g.view.rest} {
		if *t == nil || len((*t).Rows) == 0 {
			continue
		}
		all, top := paper.Span{From: 0, To: len((*t).Rows)}, foot+tableGap
		low := top + (*t).Height(all)
		if low > g.area.Max.Y {
			continue
		}
		p.tables = append(p.tables, placedTable{*t, all, render.Point{X: g.area.Min.X, Y: top}})
		if foot = low; *t == g.view.rest {
			g.view.More = s
		}
		*t = nil
	}
	return foot
}

// wide lays a table below what is there; first is the sheet where it begins.
func (g *placePager) wide(t *paper.Table) (first *sheet.Sheet) {
	if t == nil || len(t.Rows) == 0 { // nothing to lay
		return nil
	}
	if all := t.Height(paper.Span{From: 0, To: len(t.Rows)}); g.y+all > g.area.Max.Y && g.y > g.area.Min.Y {
		g.turn()
	}
	for i, span := range t.Plan(g.area.Max.Y-g.y, g.area.H()) {
		if i > 0 {
			g.turn()
		}
		s, p := g.sheet()
		if i == 0 {
			first = s
		}
		p.tables = append(p.tables, placedTable{t, span, render.Point{X: g.area.Min.X, Y: g.y}})
		g.y += t.Height(span) + tableGap
	}
	return first
}

// table lays a table where a sheet has room for all of it: this one, else one before, so
// that no sheet has but a table; else below what is there.
func (g *placePager) table(t *paper.Table) (first *sheet.Sheet) {
	if t == nil || len(t.Rows) == 0 {
		return nil
	}
	high := t.Height(paper.Span{From: 0, To: len(t.Rows)})
	if g.y+high > g.area.Max.Y {
		for i := len(g.feet) - 1; i >= 0; i-- {
			if g.feet[i]+high <= g.area.Max.Y {
				p := g.plans[i]
				p.tables = append(p.tables, placedTable{t, paper.Span{From: 0, To: len(t.Rows)}, render.Point{X: g.area.Min.X, Y: g.feet[i]}})
				g.feet[i] += high + tableGap
				return g.sheets[i]
			}
		}
	}
	return g.wide(t)
}
