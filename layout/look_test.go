package layout

import (
	"fmt"
	"os"
	"testing"
	"time"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/symbol"
	"ringout/render"
	"ringout/render/pdf"
)

// TestLook writes frames of all papers and a contact sheet of all symbols into
// the PDF file that RINGOUT_LOOK names, to be looked at.
func TestLook(t *testing.T) {
	t.Parallel()
	file := os.Getenv("RINGOUT_LOOK")
	if file == "" {
		t.Skip("RINGOUT_LOOK names no file")
	}
	title := paper.Title{
		Owner: "Tern Island Water Board", Project: "Filter hall renewal", Plant: "Works 2, filter hall",
		Title: "Filter 4 backwash flow", Subtitle: "FT-1042 to controller, with flow control valve",
		Kind: "Loop diagram", Number: "TI-20-LD-1042", Revision: "C", Date: "2026-03-14", Status: "For construction",
		Drawn: "M. Okafor", Checked: "L. Brandt", Approved: "S. Ueda", Sheet: 3, Of: 12, Code: "K7M-4QD",
		DataRevision: "7", DataDate: "2026-03-12",
		Revisions: []paper.Revision{
			{Mark: "A", Text: "First issue for review", Date: "2025-11-02", By: "MO"},
			{Mark: "B", Text: "Positioner and limit switches added", Date: "2026-01-20", By: "MO"},
			{Mark: "C", Text: "Issued for construction", Date: "2026-03-14", By: "LB"},
		},
	}
	var pages []*render.Page
	for _, name := range []string{"A3", "A4", "11x17", "letter"} {
		for _, landscape := range []bool{true, false} {
			size, ok := paper.FindPaper(name, landscape)
			if !ok {
				continue
			}
			title.Draft = landscape && name == "A3"
			border := paper.Frame(size, title)
			page := &render.Page{Head: render.Head{
				Name: fmt.Sprintf("%s-%v", name, landscape), Title: name, W: size.W, H: size.H,
			}, Items: border.Items}
			switch {
			case name == "A3":
				page.Items = append(page.Items, contactSheet(t, border.Inner)...)
			case !landscape:
				page.Items = append(page.Items, form(t, border.Inner)...)
			}
			pages = append(pages, page)
		}
	}
	out, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	var heads []render.Head
	for _, p := range pages {
		heads = append(heads, p.Head)
	}
	w := pdf.New(out, "look", heads, time.Time{})
	for _, p := range pages {
		if err := w.Page(p); err != nil {
			t.Fatal(err)
		}
		edge, _ := paper.FindPaper(p.Title, p.W > p.H)
		for _, f := range render.Audit(p, edge.Edge().Min, edge.Edge().Max) {
			t.Errorf("%s: %s: %s at %v", p.Name, f.Kind, f.Text, f.At)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

// contactSheet draws every symbol with its name under it and its ports dotted.
func contactSheet(t *testing.T, a paper.Area) []render.Item {
	const across, cellW, cellH = 8, 47500, 36500
	var items []render.Item
	for i, s := range symbol.Symbols() {
		x, y := a.Min.X+render.Len(i%across)*cellW, a.Min.Y+render.Len(i/across)*cellH
		centre := render.Point{
			X: x + cellW/2 - (s.Min.X+s.Max.X)/2,
			Y: y + cellH/2 - (s.Min.Y+s.Max.Y)/2,
		}
		items = append(items, s.At(centre)...)
		for _, p := range s.Ports {
			to := render.Point{X: centre.X + p.At.X, Y: centre.Y + p.At.Y}
			from := to
			switch p.Side {
			case symbol.West:
				to.X -= 5 * render.MM
			case symbol.East:
				to.X += 5 * render.MM
			case symbol.North:
				to.Y -= 5 * render.MM
			case symbol.South:
				to.Y += 5 * render.MM
			}
			items = append(items, &render.Line{Pen: render.Thin, Points: []render.Point{from, to}})
		}
		name, ok := paper.TextLine(render.Point{X: x + cellW/2, Y: y + cellH - 3*render.MM}, paper.Letters(fonts.Sans, 2500, render.Middle), s.Name, cellW-4000)
		if !ok {
			t.Errorf("%s: name does not fit", s.Name)
		}
		items = append(items, name)
	}
	return items
}

// form draws a check sheet with every kind of cell.
func form(t *testing.T, a paper.Area) []render.Item {
	table := &paper.Table{Columns: []paper.Column{
		{Head: "Pair", Width: 11000, Align: render.Middle, Face: fonts.MonoBold},
		{Head: "Core", Width: 16000},
		{Head: "From", Width: 22000, Face: fonts.Mono},
		{Head: "To", Width: 22000, Face: fonts.Mono},
		{Head: "Expected\nohms", Width: 16000, Align: render.Right, Face: fonts.Mono},
		{Head: "Measured", Width: 18000},
		{Head: "Continuity", Turned: true, Width: 8000},
		{Head: "No short", Turned: true, Width: 8000},
		{Head: "No earth", Turned: true, Width: 8000},
		{Head: "Result", Width: 34000},
	}}
	for run := range 3 {
		table.Rows = append(table.Rows, paper.Row{Group: fmt.Sprintf("Run %d: JB-17 to cabinet C-%d, cable HR-2017", run+1, run+3)})
		for i := range 12 {
			cells := []paper.Cell{
				{S: fmt.Sprint(i/2 + 1)}, {S: "white +"}, {S: fmt.Sprintf("JB-17-X1:%d", i+1)}, {S: fmt.Sprintf("C3-X4:%d", i+41)},
				{S: "12.6"}, {}, {Kind: paper.Tick}, {Kind: paper.Tick}, {Kind: paper.Tick}, {Kind: paper.Tick, S: "pass|fail"},
			}
			if i%2 == 1 {
				cells[1].S = "black −"
			}
			if i == 11 {
				cells[1].S, cells[4], cells[5] = "screen, drain wire", paper.Cell{Kind: paper.NA}, paper.Cell{Kind: paper.NA}
			}
			table.Rows = append(table.Rows, paper.Row{ID: fmt.Sprintf("r%d-%d", run, i), Cells: cells})
		}
	}
	table.Stretch(a.W())
	items, unfit := table.Draw(a.Min, table.Plan(a.H(), a.H())[0])
	for _, u := range unfit {
		t.Error(u)
	}
	return items
}
