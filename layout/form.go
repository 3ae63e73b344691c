package layout

import (
	"sync"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// A form is a run of tables one below the other, as many pages as they take.

// The measures of forms.
const (
	formGap    = 2 * render.MM // between two tables
	titleTall  = 7 * render.MM // of the heading of a chapter, gap above it included
	mostLines  = 16            // of one cell: longer texts are cut, and reported
	looseGroup = 5             // a group of rows up to 1/looseGroup of a page is kept together
)

// section is one table of a form, with the heading of a chapter above it if it
// opens one.
type section struct {
	title string
	table *Table
	whole bool // never parted, where one page can hold it
	close bool // this and all that follow stay on one page, where it can hold them

	// sample, if set, draws what stands in a cell beside its words.
	sample func(row, column int, cell Area) []render.Item
}

// piece is what one page holds of a section.
type piece struct {
	section int
	rows    Span
}

// sharedTables are the tables of a form on several sheets. They are made for the
// first sheet that is drawn and given up with the last: a large plant has many
// forms, and one form may have many sheets.
type sharedTables struct {
	sheets int

	lock     sync.Mutex
	drawn    int
	sections []section
	cut      []string
}

// take returns the finished tables for one sheet, which only reads them.
func (f *sharedTables) take(build func() (sections []section, cut []string)) (sections []section, cut []string) {
	f.lock.Lock()
	defer f.lock.Unlock()
	if f.sections == nil {
		f.sections, f.cut = build()
	}
	sections, cut = f.sections, f.cut
	if f.drawn++; f.drawn == f.sheets {
		f.drawn, f.sections, f.cut = 0, nil, nil
	}
	return sections, cut
}

// flow parts the sections into pages. Groups of rows stay together as far as
// that does not leave much of a page empty. left is what the last page has
// left.
func flow(sections []section, room render.Len) (pages [][]piece, left render.Len) {
	pages, left = [][]piece{nil}, room
	for i, s := range sections {
		top := formGap
		if s.title != "" {
			top = titleTall
		}
		if s.whole || s.close {
			h := s.table.Height(Span{0, len(s.table.Rows)}) + top
			for _, next := range sections[i+1:] {
				if s.close {
					h += next.table.Height(Span{0, len(next.table.Rows)}) + formGap
				}
			}
			if h > left && h <= room {
				pages, left = append(pages, nil), room
				if s.close {
					left -= company(sections, pages, room-h)
				}
			}
		}
		for j, span := range s.table.keep(left-top, room-top) {
			if j > 0 {
				pages, left = append(pages, nil), room
			}
			if span.From == span.To {
				continue
			}
			last := len(pages) - 1
			pages[last] = append(pages[last], piece{i, span})
			left -= s.table.Height(span) + top
		}
	}
	return pages, left
}

// company moves the last table of the page before to the last page, or else its
// last group of rows, where both have room for that, and returns its height:
// what closes a form should not stand alone.
func company(sections []section, pages [][]piece, room render.Len) render.Len {
	n := len(pages) - 1
	last := len(pages[n-1]) - 1
	p := pages[n-1][last]
	t := sections[p.section].table
	if last > 0 && p.rows == (Span{0, len(t.Rows)}) {
		if h := t.Height(p.rows) + titleTall; h <= room {
			pages[n-1], pages[n] = pages[n-1][:last], []piece{p}
			return h
		}
	}
	for from := p.rows.To - 1; from > p.rows.From; from-- {
		group := t.Rows[from].Group != "" && t.Rows[from-1].Group == ""
		if !group {
			continue
		}
		h := t.Height(Span{from, p.rows.To}) + formGap
		if h > room {
			break
		}
		pages[n-1][last].rows.To = from
		pages[n] = []piece{{p.section, Span{from, p.rows.To}}}
		return h
	}
	return 0
}

// keep splits the rows into pages like Plan, but keeps small groups together.
// The first span is empty when nothing finds room on the first page.
func (t *Table) keep(first, rest render.Len) []Span {
	var spans []Span
	for from, room := 0, first; from < len(t.Rows); room = rest {
		to, used, group := from, t.topHeight(from), from
		for to < len(t.Rows) {
			if t.Rows[to].Group != "" && (to == 0 || t.Rows[to-1].Group == "") {
				group = to
			}
			if used += t.rowHeight(to); used > room {
				break
			}
			to++
		}
		if to < len(t.Rows) {
			fresh := len(spans) == 0 && first < rest
			if (group > from || fresh) && t.smallGroup(group, rest/looseGroup) {
				to = group
			}
			for to > from && t.Rows[to-1].Group != "" {
				to--
			}
			if to == from && !fresh {
				to++ // higher than a page
			}
		}
		spans = append(spans, Span{from, to})
		from = to
	}
	return spans
}

// smallGroup tells whether the rows from one on, to the next heading, are no
// higher than most.
func (t *Table) smallGroup(from int, most render.Len) bool {
	cells := false
	for i := from; i < len(t.Rows) && most >= 0; i++ {
		if t.Rows[i].Group == "" {
			cells = true
		} else if cells {
			break
		}
		most -= t.rowHeight(i)
	}
	return most >= 0
}

// finish makes a table width wide, cuts texts that are too long, which it
// returns, and measures the rows. The table is then only read.
func (t *Table) finish(width render.Len) (cut []string) {
	t.Stretch(width)
	cut = t.curb()
	t.measure()
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
			lines := cell.lines(t.Columns[j])
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

// drawForm draws the pieces of one page into an area, and tells where each
// begins.
func drawForm(a Area, sections []section, pieces []piece) (items []render.Item, at []render.Point, unfit []string) {
	y := a.Min.Y
	for _, p := range pieces {
		s := &sections[p.section]
		switch {
		case s.title != "" && p.rows.From == 0:
			y += titleTall
			text, ok := Put(render.Point{X: a.Min.X, Y: y - 1500*render.UM}, Letters(fonts.Bold, largeHeight, render.Left), s.title, a.W())
			items = append(items, text)
			if !ok {
				unfit = append(unfit, s.title)
			}
		case y > a.Min.Y:
			y += formGap
		}
		corner := render.Point{X: a.Min.X, Y: y}
		at = append(at, corner)
		drawn, tight := s.table.Draw(corner, p.rows)
		items = append(items, drawn...)
		unfit = append(unfit, tight...)
		if s.sample != nil {
			items = append(items, s.drawSamples(corner, p.rows)...)
		}
		y += s.table.Height(p.rows)
	}
	return items, at, unfit
}

// drawSamples draws the samples in the cells of the rows of a span whose table
// stands at a corner.
func (s *section) drawSamples(corner render.Point, rows Span) (items []render.Item) {
	y := corner.Y + s.table.topHeight(rows.From)
	for i := rows.From; i < rows.To; i++ {
		h, x := s.table.rowHeight(i), corner.X
		for j, c := range s.table.Columns {
			items = append(items, s.sample(i, j, rect(x, y, c.Width, h))...)
			x += c.Width
		}
		y += h
	}
	return items
}

// issueOf is a revision with its date, in words.
func issueOf(rev model.Revision) string {
	if rev.Date == "" {
		return given(rev.Mark)
	}
	return given(rev.Mark) + " of " + rev.Date
}

// twoFacts is a row of two names, each with its fact in bold.
func twoFacts(a, b, c, d string) Row {
	return Row{Print: true, Cells: []Cell{{S: a}, {S: b, Bold: true}, {S: c}, {S: d, Bold: true}}}
}
