// Package index makes the index of a set, with its legend.
package index

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model/finding"
	"ringout/render"
)

// indexPlan is what one sheet of the index holds: pieces of its sections. All
// but the register are the same for every sheet, and are made once: each looks
// through the whole plant.
type indexPlan struct {
	sections []paper.Section
	cut      []string
	pieces   []paper.Piece
}

// The sections of the index that come before the legend.
const (
	issueSection = iota
	registerSection
)

// Plan plans the index of a set: what is listed, then the legend.
func Plan(pl *sheet.Plan, d *sheet.Drawing) []*sheet.Sheet {
	first := d.Sheet(pl)
	all := append([]*sheet.Sheet{first}, pl.Sheets...)
	sections, cut := index(pl, all, first.Inner.W())
	planned := slices.Clone(sections)
	if pl.Issues != nil { // every issue of a set has as many sheets
		planned[issueSection].Table = issueRoom(pl, first.Inner.W())
	}
	pages, _ := paper.Flow(planned, first.Inner.H())
	sections[registerSection].Table = nil // each sheet makes its own rows
	sheets := make([]*sheet.Sheet, len(pages))
	for i, pieces := range pages {
		s := first
		if i > 0 {
			s = d.Sheet(pl)
		}
		s.Planned = indexPlan{sections, cut, pieces}
		sheets[i] = s
	}
	return sheets
}

// Draw draws one sheet of the index.
func (plan indexPlan) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	// The register lists the index once, as its first row. Only the rows on
	// this sheet are made: a large plant has many.
	pieces, sections := slices.Clone(plan.pieces), slices.Clone(plan.sections)
	var listed []*sheet.Sheet
	for i, p := range pieces {
		if p.Section == registerSection {
			more := pl.Sheets[0].Of - 1
			for j := p.Rows.From; j < p.Rows.To; j++ {
				if j == 0 {
					listed = append(listed, pl.Sheets[0])
					continue
				}
				listed = append(listed, pl.Sheets[j+more])
			}
			pieces[i].Rows = paper.Span{From: 0, To: len(listed)}
		}
	}
	register := register(pl, listed)
	register.Finish(s.Inner.W())
	sections[registerSection].Table = register
	items, at, unfit := paper.DrawForm(s.Inner, sections, pieces)
	page.Items = append(page.Items, items...)
	for i, p := range pieces {
		if p.Section == registerSection {
			page.Items = append(page.Items, registerLinks(sections[p.Section].Table, at[i], listed)...)
		}
	}
	if s.Part == 1 {
		unfit = append(unfit, plan.cut...)
	}
	for _, u := range unfit {
		problems = append(problems, pl.TextTooLong(s, u))
	}
	return page, problems
}

// index builds the sections of the index, width wide, with the register of the
// sheets listed.
func index(pl *sheet.Plan, listed []*sheet.Sheet, width render.Len) (sections []paper.Section, cut []string) {
	sections = append([]paper.Section{{Table: issue(pl), Whole: true}, {Table: register(pl, listed)}}, legend(pl)...)
	for _, s := range sections {
		cut = append(cut, s.Table.Finish(width)...)
	}
	return sections, cut
}

// issue says of what plant and issue the set is.
func issue(pl *sheet.Plan) *paper.Table {
	p := pl.Plant
	rev, status := pl.Newest(), pl.Status()
	if pl.Issues != nil && pl.Issues.Altered {
		status += ", changed since issue: sheets of revision " + sheet.PendingMark
	}
	return &paper.Table{
		Columns: []paper.Column{
			{Head: "Plant", Width: 22 * render.MM},
			{Head: p.Name, Width: 70 * render.MM},
			{Head: "Issue", Width: 22 * render.MM},
			{Head: wording.IssueOf(rev), Width: 56 * render.MM},
		},
		Rows: []paper.Row{
			paper.TwoFacts("Project", wording.Given(p.Project), "Status", wording.Given(status)),
			paper.TwoFacts("Owner", wording.Given(p.Owner), "Loops, cables", fmt.Sprintf("%d, %d", len(p.Loops), len(p.Cables))),
		},
	}
}

// statusLines hold any status of mostStatus letters, and that sheets are altered.
const statusLines = 4

// issueRoom is as high as issue may be, width wide, at any issue of a register.
func issueRoom(pl *sheet.Plan, width render.Len) *paper.Table {
	t := issue(pl)
	t.Rows[0].Cells[3].S = strings.Repeat("\n", statusLines-1)
	t.Finish(width)
	return t
}

// register lists sheets in the order of the set.
func register(pl *sheet.Plan, sheets []*sheet.Sheet) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Sheet", Width: 13 * render.MM, Align: render.Right, Face: fonts.MonoBold},
		{Head: "Drawing number", Width: 42 * render.MM, Face: fonts.Mono},
		{Head: "Title", Width: 58 * render.MM},
		{Head: "Document", Width: 28 * render.MM},
		{Head: "Rev", Width: 10 * render.MM, Align: render.Middle, Face: fonts.Mono},
		{Head: "Wiring code", Width: 21 * render.MM, Face: fonts.MonoBold},
	}}
	for i, s := range sheets {
		words := s.Words
		if s.Of > 1 && !s.Kind.Lists {
			words = fmt.Sprintf("%s (%d of %d)", words, s.Part, s.Of)
		}
		t.Rows = append(t.Rows, paper.Row{
			ID: fmt.Sprintf("sheet-%d", i+1), Print: true,
			Data: []render.Datum{{Key: "sheet", Value: s.Name}, {Key: "code", Value: s.Code}},
			Cells: []paper.Cell{
				{S: fmt.Sprint(s.No)}, {S: s.NumberIn(pl.Plant)}, {S: words}, {S: s.Kind.Words}, {S: pl.Revision(s).Mark}, {S: s.Code},
			},
		})
	}
	return t
}

// registerLinks makes each row of a register that stands at a place a link to
// its sheet.
func registerLinks(t *paper.Table, at render.Point, sheets []*sheet.Sheet) (links []render.Item) {
	y := at.Y + t.HeadHeight()
	for i, s := range sheets {
		h := t.RowHeight(i)
		links = append(links, &render.Link{
			Min: render.Point{X: at.X, Y: y}, Max: render.Point{X: at.X + t.Width(), Y: y + h}, Page: s.Name,
		})
		y += h
	}
	return links
}
