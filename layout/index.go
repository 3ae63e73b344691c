package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// indexPlan is what one sheet of the index holds: pieces of its sections. All
// but the register are the same for every sheet, and are made once: each looks
// through the whole plant.
type indexPlan struct {
	sections []section
	cut      []string
	pieces   []piece
}

// The sections of the index that come before the legend.
const (
	issueSection = iota
	registerSection
)

func planIndex(pl *Plan, d *drawing) []*Sheet {
	first := d.sheet(pl)
	all := append([]*Sheet{first}, pl.Sheets...)
	sections, cut := pl.index(all, first.Inner.W())
	planned := slices.Clone(sections)
	if pl.issues != nil { // every issue of a set has as many sheets
		planned[issueSection].table = pl.issueRoom(first.Inner.W())
	}
	pages, _ := flow(planned, first.Inner.H())
	sections[registerSection].table = nil // each sheet makes its own rows
	sheets := make([]*Sheet, len(pages))
	for i, pieces := range pages {
		s := first
		if i > 0 {
			s = d.sheet(pl)
		}
		s.plan = indexPlan{sections, cut, pieces}
		sheets[i] = s
	}
	return sheets
}

// Draw draws one sheet of the index.
func (plan indexPlan) Draw(pl *Plan, s *Sheet) (*render.Page, model.Problems) {
	page, _, problems := pl.page(s)
	// The register lists the index once, as its first row. Only the rows on
	// this sheet are made: a large plant has many.
	pieces, sections := slices.Clone(plan.pieces), slices.Clone(plan.sections)
	var listed []*Sheet
	for i, p := range pieces {
		if p.section == registerSection {
			more := pl.Sheets[0].Of - 1
			for j := p.rows.From; j < p.rows.To; j++ {
				if j == 0 {
					listed = append(listed, pl.Sheets[0])
					continue
				}
				listed = append(listed, pl.Sheets[j+more])
			}
			pieces[i].rows = Span{0, len(listed)}
		}
	}
	register := pl.register(listed)
	register.finish(s.Inner.W())
	sections[registerSection].table = register
	items, at, unfit := drawForm(s.Inner, sections, pieces)
	page.Items = append(page.Items, items...)
	for i, p := range pieces {
		if p.section == registerSection {
			page.Items = append(page.Items, registerLinks(sections[p.section].table, at[i], listed)...)
		}
	}
	if s.Part == 1 {
		unfit = append(unfit, plan.cut...)
	}
	for _, u := range unfit {
		problems = append(problems, pl.unfit(s, u))
	}
	return page, problems
}

// index builds the sections of the index, width wide, with the register of the
// sheets listed.
func (pl *Plan) index(listed []*Sheet, width render.Len) (sections []section, cut []string) {
	sections = append([]section{{table: pl.issue(), whole: true}, {table: pl.register(listed)}}, pl.legend()...)
	for _, s := range sections {
		cut = append(cut, s.table.finish(width)...)
	}
	return sections, cut
}

// issue says of what plant and issue the set is.
func (pl *Plan) issue() *Table {
	p := pl.Plant
	rev, status := pl.Newest(), pl.Status()
	if pl.issues != nil && pl.issues.altered {
		status += ", altered since: sheets of revision " + pendingMark
	}
	return &Table{
		Columns: []Column{
			{Head: "Plant", Width: 22 * render.MM},
			{Head: p.Name, Width: 70 * render.MM},
			{Head: "Issue", Width: 22 * render.MM},
			{Head: issueOf(rev), Width: 56 * render.MM},
		},
		Rows: []Row{
			twoFacts("Project", given(p.Project), "Status", given(status)),
			twoFacts("Owner", given(p.Owner), "Loops, cables", fmt.Sprintf("%d, %d", len(p.Loops), len(p.Cables))),
		},
	}
}

// statusLines hold any status of mostStatus letters, and that sheets are altered.
const statusLines = 4

// issueRoom is as high as issue may be, width wide, at any issue of a register.
func (pl *Plan) issueRoom(width render.Len) *Table {
	t := pl.issue()
	t.Rows[0].Cells[3].S = strings.Repeat("\n", statusLines-1)
	t.finish(width)
	return t
}

// register lists sheets in the order of the set.
func (pl *Plan) register(sheets []*Sheet) *Table {
	t := &Table{Columns: []Column{
		{Head: "Sheet", Width: 13 * render.MM, Align: render.Right, Face: fonts.MonoBold},
		{Head: "Drawing number", Width: 42 * render.MM, Face: fonts.Mono},
		{Head: "What it shows", Width: 58 * render.MM},
		{Head: "Kind", Width: 28 * render.MM},
		{Head: "Rev", Width: 10 * render.MM, Align: render.Middle, Face: fonts.Mono},
		{Head: "Wiring code", Width: 21 * render.MM, Face: fonts.MonoBold},
	}}
	for i, s := range sheets {
		words := s.Words
		if s.Of > 1 && !s.Kind.Lists {
			words = fmt.Sprintf("%s (%d of %d)", words, s.Part, s.Of)
		}
		t.Rows = append(t.Rows, Row{
			ID: fmt.Sprintf("sheet-%d", i+1), Print: true,
			Data: []render.Datum{{Key: "sheet", Value: s.Name}, {Key: "code", Value: s.Code}},
			Cells: []Cell{
				{S: fmt.Sprint(s.No)}, {S: s.number(pl.Plant)}, {S: words}, {S: s.Kind.Words}, {S: pl.revision(s).Mark}, {S: s.Code},
			},
		})
	}
	return t
}

// registerLinks makes each row of a register that stands at a place a link to
// its sheet.
func registerLinks(t *Table, at render.Point, sheets []*Sheet) (links []render.Item) {
	y := at.Y + t.headHeight()
	for i, s := range sheets {
		h := t.rowHeight(i)
		links = append(links, &render.Link{
			Min: render.Point{X: at.X, Y: y}, Max: render.Point{X: at.X + t.Width(), Y: y + h}, Page: s.Name,
		})
		y += h
	}
	return links
}
