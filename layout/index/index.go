// Package index makes the index of a set, with its legend.
package index

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
)

// indexPlan is what one sheet of the index holds: pieces of its sections. All
// but the register are the same for every sheet, and are made once: each looks
// through the whole plant.
type indexPlan struct {
	drawings []*sheet.Sheet // the first sheet of each drawing of the set
	widths   widths
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
	drawings := []*sheet.Sheet{first}
	for _, s := range pl.Sheets {
		if s.Part == 1 {
			drawings = append(drawings, s)
		}
	}
	// The numbers count the index, which is shorter than what it lists.
	widths := widths{numbersWidth(2*len(pl.Sheets) + 100), drawingsWidth(pl.Plant, drawings)}
	sections, cut := index(pl, drawings, widths, first.Inner.W())
	planned := slices.Clone(sections)
	if pl.Issues != nil { // every issue of a set has as many sheets
		planned[issueSection].Table = issueRoom(pl, first.Inner.W())
	}
	tall, rest := d.Heights(pl)
	pages, _ := paper.Flow(planned, tall, rest, 0)
	sections[registerSection].Table = nil // each sheet makes its own rows
	sheets := make([]*sheet.Sheet, len(pages))
	for i, pieces := range pages {
		s := first
		if i > 0 {
			s = d.Sheet(pl)
		}
		s.Planned = indexPlan{drawings, widths, sections, cut, pieces}
		sheets[i] = s
	}
	return sheets
}

// Draw draws one sheet of the index.
func (plan indexPlan) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	// Only the rows on this sheet are made: a large plant has many.
	pieces, sections := slices.Clone(plan.pieces), slices.Clone(plan.sections)
	var listed []*sheet.Sheet
	for i, p := range pieces {
		if p.Section == registerSection {
			listed = plan.drawings[p.Rows.From:p.Rows.To]
			pieces[i].Rows = paper.Span{From: 0, To: len(listed)}
		}
	}
	register := register(pl, listed, plan.widths)
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

// index builds the sections of the index, width wide, with the register of the drawings
// whose first sheets are listed.
func index(pl *sheet.Plan, listed []*sheet.Sheet, widths widths, width render.Len) (sections []paper.Section, cut []string) {
	sections = append([]paper.Section{{Table: issue(pl), Whole: true}, {Table: register(pl, listed, widths)}}, legend(pl)...)
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

// widths are the widths of the columns of the register that grow with what they list.
type widths struct{ sheets, drawing render.Len }

// mostDrawing is the room for the numbers of drawings; longer ones are narrowed, then set
// on two lines.
const mostDrawing = 38 * render.MM

// drawingsWidth is how wide the numbers of drawings are: titles get the rest.
func drawingsWidth(plant *model.Plant, drawings []*sheet.Sheet) render.Len {
	wide := render.Measure(fonts.Bold, drawingHead, paper.Lettered)
	for _, s := range drawings {
		wide = max(wide, render.Measure(fonts.Mono, s.NumberIn(plant), paper.Lettered))
	}
	return min(wide+2*paper.CellPad+pressed, mostDrawing)
}

const (
	drawingHead = "Drawing number"
	pressed     = 1 * render.MM // the columns are a little wider than the paper
)

// numbersWidth is how wide the numbers of the sheets of a drawing are, of a set of at most
// so many: rows are planned before sheets have numbers, and may not grow with them.
func numbersWidth(most int) render.Len {
	last := strconv.Itoa(most)
	return max(17*render.MM, paper.Narrow(fonts.MonoBold, last+"–"+last)+2*paper.CellPad+pressed)
}

// register lists drawings in the order of the set, by their first sheets: a row each,
// however many sheets there are.
func register(pl *sheet.Plan, drawings []*sheet.Sheet, widths widths) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Sheets", Width: widths.sheets, Align: render.Right, Face: fonts.MonoBold},
		{Head: drawingHead, Width: widths.drawing, Face: fonts.Mono},
		{Head: "Title", Width: 110*render.MM - widths.sheets - widths.drawing},
		{Head: "Document", Width: 31 * render.MM},
		{Head: "Rev", Width: revisionsWide, Align: render.Middle, Face: fonts.Mono},
		{Head: "Wiring code", Width: 21 * render.MM, Face: fonts.MonoBold},
	}}
	for i, s := range drawings {
		at := strconv.Itoa(s.No)
		if s.Of > 1 {
			at += "–" + strconv.Itoa(s.No+s.Of-1)
		}
		t.Rows = append(t.Rows, paper.Row{
			ID: fmt.Sprintf("sheet-%d", i+1), Print: true,
			Data: []render.Datum{{Key: "sheet", Value: s.Name}, {Key: "code", Value: s.Code}},
			Cells: []paper.Cell{
				{S: at}, {S: s.NumberIn(pl.Plant)}, {S: s.Words}, {S: s.Kind.Words}, {S: revisions(pl, s)}, {S: s.Code},
			},
		})
	}
	return t
}

const revisionsWide = 12 * render.MM

// revisions are the revisions of the sheets of a drawing, the newest first: each sheet has
// its own.
func revisions(pl *sheet.Plan, first *sheet.Sheet) string {
	if first.No <= 0 { // it has no number in a set
		return pl.Revision(first).Mark
	}
	var all []model.Revision
	for _, s := range pl.Sheets[first.No-1 : first.No-1+first.Of] {
		if r := pl.Revision(s); !slices.ContainsFunc(all, func(o model.Revision) bool { return o.Mark == r.Mark }) {
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b model.Revision) int { // what is not issued has no date, and comes first
		return cmp.Or(cmp.Compare(min(1, len(a.Date)), min(1, len(b.Date))), cmp.Compare(b.Date, a.Date))
	})
	var marks []string
	for _, r := range all {
		marks = append(marks, r.Mark)
	}
	return onOneLine(marks)
}

// onOneLine are marks on one line, for which a row is planned: those that find room, and
// at most three.
func onOneLine(marks []string) string {
	all := strings.Join(marks, "/")
	fits := func() bool { return paper.OneLine(fonts.Mono, paper.Lettered, all, revisionsWide-2*paper.CellPad) }
	if len(marks) <= 3 && fits() {
		return all
	}
	for n := min(2, len(marks)); n > 0; n-- {
		if all = strings.Join(marks[:n], "/") + "/…"; fits() {
			break
		}
	}
	return all
}

// registerLinks makes each row of a register that stands at a place a link to
// the first sheet of its drawing.
func registerLinks(t *paper.Table, at render.Point, drawings []*sheet.Sheet) (links []render.Item) {
	y := at.Y + t.HeadHeight()
	for i, s := range drawings {
		h := t.RowHeight(i)
		links = append(links, &render.Link{
			Min: render.Point{X: at.X, Y: y}, Max: render.Point{X: at.X + t.Width(), Y: y + h}, Page: s.Name,
		})
		y += h
	}
	return links
}
