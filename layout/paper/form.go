package paper

import (
	"sync"

	"ringout/fonts"
	"ringout/render"
)

// A form is a run of tables one below the other, as many pages as they take.

// The measures of forms.
const (
	FormGap    = 2 * render.MM    // between two tables
	TitleTall  = 6500 * render.UM // of the heading of a chapter, gap above it included
	mostLines  = 16               // of one cell: longer texts are cut, and reported
	looseGroup = 5                // a group of rows up to 1/looseGroup of a page is kept together
)

// Section is one table of a form, with the heading of a chapter above it if it
// opens one.
type Section struct {
	Title string
	Table *Table
	Whole bool // never parted, where one page can hold it
	Close bool // this and all that follow stay on one page, where it can hold them

	// Sample, if set, draws what stands in a cell beside its words.
	Sample func(row, column int, cell Area) []render.Item
}

// Piece is what one page holds of a section.
type Piece struct {
	Section int
	Rows    Span
}

// SharedTables are the tables of a form on several sheets. They are made for the
// first sheet that is drawn and given up with the last: a large plant has many
// forms, and one form may have many sheets.
type SharedTables struct {
	Sheets int

	lock     sync.Mutex
	drawn    int
	sections []Section
	cut      []string
}

// Take returns the finished tables for one sheet, which only reads them.
func (f *SharedTables) Take(build func() (sections []Section, cut []string)) (sections []Section, cut []string) {
	f.lock.Lock()
	defer f.lock.Unlock()
	if f.sections == nil {
		f.sections, f.cut = build()
	}
	sections, cut = f.sections, f.cut
	if f.drawn++; f.drawn == f.Sheets {
		f.drawn, f.sections, f.cut = 0, nil, nil
	}
	return sections, cut
}

// Flow parts the sections into pages. Groups of rows stay together as far as
// that does not leave much of a page empty and takes no page more. The first page has room
// for first, the others for rest, of which each but the last keeps foot free; left is what
// the last one has left.
func Flow(sections []Section, first, rest, foot render.Len) (pages [][]Piece, left render.Len) {
	pages, left = flow(sections, first, rest, foot, (rest-foot)/looseGroup)
	if parted, more := flow(sections, first, rest, foot, 0); len(parted) < len(pages) {
		return parted, more
	}
	return pages, left
}

// flow is Flow with groups up to a height kept together.
func flow(sections []Section, first, rest, foot, together render.Len) (pages [][]Piece, left render.Len) {
	room := rest - foot
	pages, left = [][]Piece{nil}, first-foot
	for i, s := range sections {
		top, alone := s.above(false), s.above(true)
		if s.Close { // no other page follows
			left, room, foot = left+foot, room+foot, 0
		}
		if h := tall(sections[i:]); (s.Whole || s.Close) && h+top > left && h+alone <= room {
			pages, left = append(pages, nil), room
			if s.Close {
				left -= company(sections, pages, room-h-top)
			}
		}
		if len(pages[len(pages)-1]) == 0 {
			top = alone
		}
		for j, span := range s.Table.keep(left-top, room-alone, together) {
			if j > 0 {
				pages, left, top = append(pages, nil), room, alone
			}
			if span.From == span.To {
				continue
			}
			last := len(pages) - 1
			pages[last] = append(pages[last], Piece{i, span})
			left -= s.Table.Height(span) + top
		}
	}
	return pages, left + foot
}

// above is what stands above a section: its heading, or a gap unless it is the first of
// its page.
func (s *Section) above(first bool) render.Len {
	switch {
	case s.Title != "":
		return TitleTall
	case first:
		return 0
	}
	return FormGap
}

// tall is the height of the first of the sections, and of all that follow one that
// closes a form, but for what stands above it.
func tall(sections []Section) render.Len {
	h := sections[0].Table.all()
	if sections[0].Close {
		for _, next := range sections[1:] {
			h += next.Table.all() + FormGap
		}
	}
	return h
}

// all is the height of all rows.
func (t *Table) all() render.Len { return t.Height(Span{0, len(t.Rows)}) }

// company moves the last table of the page before to the last page, or else its
// last group of rows, where both have room for that, and returns its height:
// what closes a form should not stand alone.
func company(sections []Section, pages [][]Piece, room render.Len) render.Len {
	n := len(pages) - 1
	last := len(pages[n-1]) - 1
	p := pages[n-1][last]
	t := sections[p.Section].Table
	if last > 0 && p.Rows == (Span{0, len(t.Rows)}) {
		if h := t.Height(p.Rows) + TitleTall; h <= room {
			pages[n-1], pages[n] = pages[n-1][:last], []Piece{p}
			return h
		}
	}
	for from := p.Rows.To - 1; from > p.Rows.From; from-- {
		group := t.Rows[from].Group != "" && t.Rows[from-1].Group == ""
		if !group {
			continue
		}
		h := t.Height(Span{from, p.Rows.To}) + FormGap
		if h > room {
			break
		}
		pages[n-1][last].Rows.To = from
		pages[n] = []Piece{{p.Section, Span{from, p.Rows.To}}}
		return h
	}
	return 0
}

// keep splits the rows into pages like Plan, but keeps small groups together.
// The first span is empty when nothing finds room on the first page.
func (t *Table) keep(first, rest, together render.Len) []Span {
	var spans []Span
	for from, room := 0, first; from < len(t.Rows); room = rest {
		to, used, group := from, t.topHeight(from), from
		for to < len(t.Rows) {
			if t.Rows[to].Group != "" && (to == 0 || t.Rows[to-1].Group == "") {
				group = to
			}
			if used += t.RowHeight(to); used > room {
				break
			}
			to++
		}
		if to < len(t.Rows) {
			fresh := len(spans) == 0 && first < rest
			if (group > from || fresh) && t.smallGroup(group, together) {
				to = group
			}
			to = t.parting(from, to)
			if to == from && !fresh {
				to++ // higher than a page
			}
		}
		spans = append(spans, Span{from, to})
		from = to
	}
	return spans
}

// smallGroup reports whether the rows from one on, to the next heading, are no
// higher than most.
func (t *Table) smallGroup(from int, most render.Len) bool {
	cells := false
	for i := from; i < len(t.Rows) && most >= 0; i++ {
		if t.Rows[i].Group == "" {
			cells = true
		} else if cells {
			break
		}
		most -= t.RowHeight(i)
	}
	return most >= 0
}

// Finish makes a table of a form width wide, cuts texts that are too long, which it
// returns, and measures the rows. The table is then only read.
func (t *Table) Finish(width render.Len) (cut []string) {
	t.form = true
	t.Stretch(width)
	cut = t.curb()
	t.Measure()
	return cut
}

// curb cuts texts of more than mostLines lines in a cell with a visible mark
// and returns them: no row may grow higher than a page.
func (t *Table) curb() (cut []string) {
	for i := range t.Rows {
		for j := range t.Rows[i].Cells {
			cell := &t.Rows[i].Cells[j]
			if len(cell.S) < 4*mostLines || cell.Kind != Words {
				continue
			}
			c := t.Columns[j]
			c.Width = t.cellWidth(&t.Rows[i], j)
			lines := cell.lines(c)
			if len(lines) <= mostLines {
				continue
			}
			cut = append(cut, cell.S)
			last := []rune(lines[mostLines-1])
			cell.S = ""
			for _, s := range lines[:mostLines-1] {
				cell.S += s + "\n"
			}
			cell.S += string(last[:max(0, len(last)-2)]) + "…"
		}
	}
	return cut
}

// DrawForm draws the pieces of one page into an area, and tells where each
// begins.
func DrawForm(a Area, sections []Section, pieces []Piece) (items []render.Item, at []render.Point, unfit []string) {
	y := a.Min.Y
	for _, p := range pieces {
		s := &sections[p.Section]
		switch {
		case s.Title != "" && p.Rows.From == 0:
			y += TitleTall
			text, ok := TextLine(render.Point{X: a.Min.X, Y: y - 1500*render.UM}, Letters(fonts.Bold, LargeHeight, render.Left), s.Title, a.W())
			items = append(items, text)
			if !ok {
				unfit = append(unfit, s.Title)
			}
		case y > a.Min.Y:
			y += FormGap
		}
		corner := render.Point{X: a.Min.X, Y: y}
		at = append(at, corner)
		drawn, tight := s.Table.Draw(corner, p.Rows)
		items = append(items, drawn...)
		unfit = append(unfit, tight...)
		if s.Sample != nil {
			items = append(items, s.drawSamples(corner, p.Rows)...)
		}
		y += s.Table.Height(p.Rows)
	}
	return items, at, unfit
}

// drawSamples draws the samples in the cells of the rows of a span whose table
// stands at a corner.
func (s *Section) drawSamples(corner render.Point, rows Span) (items []render.Item) {
	y := corner.Y + s.Table.topHeight(rows.From)
	for i := rows.From; i < rows.To; i++ {
		h, x := s.Table.RowHeight(i), corner.X
		for j, c := range s.Table.Columns {
			items = append(items, s.Sample(i, j, Rect(x, y, c.Width, h))...)
			x += c.Width
		}
		y += h
	}
	return items
}

// TwoFacts is a row of two names, each with its fact in bold.
func TwoFacts(a, b, c, d string) Row {
	return Row{Print: true, Cells: []Cell{{S: a}, {S: b, Bold: true}, {S: c}, {S: d, Bold: true}}}
}
