package label

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/model/read"
	"ringout/render"
)

func labelPlant(t *testing.T, folder string) *model.Plant {
	t.Helper()
	p, _, problems := read.Read(os.DirFS("../../samples"), folder)
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	return p
}

// labelGroups are the labels of pages: what each has to read, and its marks.
func labelGroups(pages []*render.Page) (all []*render.Group) {
	for _, page := range pages {
		for _, item := range page.Items {
			if g, ok := item.(*render.Group); ok {
				all = append(all, g)
			}
		}
	}
	return all
}

// bold are the texts of a label without those of its foot.
func bold(g *render.Group) (all []string) {
	for _, item := range g.Items {
		if text, ok := item.(*render.Text); ok && text.Face.Weight() == 700 {
			all = append(all, text.S)
		}
	}
	return all
}

// TestKindsOfLabel: the sample has labels of every kind, and their sheets have a title.
func TestKindsOfLabel(t *testing.T) {
	t.Parallel()
	labels := material.Labels(labelPlant(t, "tern-island"))
	for i, word := range model.LabelKinds() {
		kind := model.LabelKind(i)
		if !slices.ContainsFunc(labels, func(l material.Label) bool { return l.Kind == kind }) {
			t.Errorf("the sample has no labels of %s", word)
		}
		if labelTitles[kind] == "" {
			t.Errorf("sheets of labels of %s have no title", word)
		}
	}
}

// TestLabelSheets prints all labels of the samples by every rule, on both papers,
// with and without codes: nothing lies on anything else, nothing leaves its
// paper, and each label reads all that it has to.
func TestLabelSheets(t *testing.T) {
	t.Parallel()
	for _, folder := range []string{"one-loop", "tern-island"} {
		for rule := model.OwnMarker; rule <= model.SignalMarker; rule++ {
			for _, paper := range []string{"A4", "letter"} {
				for _, code := range []bool{false, true} {
					if code && rule != model.BothMarker && rule != model.OwnMarker {
						continue // the longest and the shortest will do
					}
					t.Run(fmt.Sprint(folder, rule, paper, code), func(t *testing.T) {
						p := labelPlant(t, folder)
						p.Practice.Marker, p.Practice.RecordPaper, p.Practice.CableTag = rule, paper, model.RemoteTag
						labels := material.Labels(p)
						pages, problems := Sheets(layout.New(p, false, nil), "labels", labels, code)
						if len(problems) > 0 {
							t.Fatal(problems)
						}
						for _, page := range pages {
							if err := page.Check(); err != nil {
								t.Error(err)
							}
							for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
								t.Errorf("%s: %v", page.Title, f)
							}
						}
						groups := labelGroups(pages)
						if len(groups) != len(labels) || len(labels) == 0 {
							t.Fatalf("labels printed: %d of %d", len(groups), len(labels))
						}
						squeeze := strings.NewReplacer(" ", "", "/", "").Replace
						for i, g := range groups {
							if got := strings.Join(bold(g), ""); squeeze(got) != squeeze(labels[i].Text) {
								t.Errorf("label %d reads %q, not %q", i, got, labels[i].Text)
							}
						}
					})
				}
			}
		}
	}
}

// TestLabelsInTheirCells: no ink of a label is nearer to its edge than a cutter
// needs, and the labels fill the stock row by row.
func TestLabelsInTheirCells(t *testing.T) {
	t.Parallel()
	p := labelPlant(t, "one-loop")
	p.Practice.LabelStock[model.CoreLabel] = model.Stock{Width: 30000, Height: 20000, Across: 2, Down: 3, GapY: 10000, Paper: "letter"}
	cores := slices.DeleteFunc(material.Labels(p), func(l material.Label) bool { return l.Kind != model.CoreLabel })
	pages, problems := Sheets(layout.New(p, false, nil), "labels", cores, true)
	if len(problems) > 0 || len(pages) != (len(cores)+5)/6 {
		t.Fatalf("%d sheets for %d labels, %v", len(pages), len(cores), problems)
	}
	// Letter paper is 215.9 x 279.4 mm; the labels stand in its middle.
	left, top := render.Len(215900-60000)/2, render.Len(279400-80000)/2
	for _, page := range pages {
		for i, g := range labelGroups([]*render.Page{page}) {
			x, y := left+render.Len(i%2)*30000, top+render.Len(i/2)*30000
			for _, item := range g.Items {
				var a, b render.Point
				switch m := item.(type) {
				case *render.Text:
					a, b = render.Box(m)
				case *render.Line:
					a, b = m.Points[0], m.Points[2]
				}
				if a.X < x+500 || a.Y < y+500 || b.X > x+29500 || b.Y > y+19500 {
					t.Errorf("%s: label %d has %v to %v, outside its cell at %d, %d", page.Title, i, a, b, x, y)
				}
			}
		}
	}
}

// TestMarkerStrips measures the strips of terminal markers: a field as wide as the
// terminal for each, in the order of the strip, lettering of one height and width,
// and all of a row between its cut lines.
func TestMarkerStrips(t *testing.T) {
	t.Parallel()
	for _, code := range []bool{false, true} {
		p := labelPlant(t, "tern-island")
		markers := slices.DeleteFunc(material.Labels(p), func(l material.Label) bool { return l.Kind != model.TerminalLabel })
		pages, problems := Sheets(layout.New(p, false, nil), "labels", markers, code)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		groups := labelGroups(pages)
		if len(groups) != len(markers) {
			t.Fatalf("%d markers of %d", len(groups), len(markers))
		}
		last, wide := map[string]*render.Text{}, 0
		for i, g := range groups {
			l := markers[i]
			if l.Type == "strip" {
				continue
			}
			text := g.Items[0].(*render.Text)
			if text.Height < 1800 || text.Height > 3000 {
				t.Errorf("%s is lettered %d high", l.Of, text.Height)
			}
			if before := last[l.End]; before != nil {
				if text.Height != before.Height || text.Narrow != before.Narrow || text.Turned != before.Turned {
					t.Errorf("%s is lettered otherwise than its neighbours", l.Of)
				}
				want := render.Len(5200)
				if l.Pitch > 0 {
					want = render.Len(l.Pitch * 1000)
					wide++
				}
				if text.At.Y == before.At.Y && text.At.X-before.At.X != want {
					t.Errorf("%s stands %d after the one before it, not %d", l.Of, text.At.X-before.At.X, want)
				}
			}
			last[l.End] = text
		}
		if wide == 0 {
			t.Error("no strip has a pitch of its own: the test proves nothing")
		}
		// The head of JB-21/X1 and 30 or fewer of its 72 terminals stand on a row.
		rows := map[render.Len]int{}
		for i, g := range groups {
			if markers[i].End == "JB-21/X1" && markers[i].Type != "strip" {
				rows[g.Items[0].(*render.Text).At.Y]++
			}
		}
		if len(rows) != 3 {
			t.Errorf("JB-21/X1 is on %d rows", len(rows))
		}
	}
	// What is too long for a terminal is an error, turned or not.
	p := labelPlant(t, "one-loop")
	x := p.Part("JB-21/X1").Terminals
	x[3].Name = "LONG-NAME"
	if _, problems := Sheets(layout.New(p, false, nil), "labels", material.Labels(p), false); problems.Errors() == 0 || problems[0].Code != "label-too-small" {
		t.Errorf("no error, but %v", problems)
	}
	x[3].Name = "PE.14"
	pages, problems := Sheets(layout.New(p, false, nil), "labels", material.Labels(p), false)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	turned := 0
	for _, g := range labelGroups(pages) {
		if text, ok := g.Items[0].(*render.Text); ok && text.Turned {
			turned++
		}
	}
	if turned != 18 {
		t.Errorf("%d of the 18 markers of a strip are turned, for the sake of one", turned)
	}
}

// TestBoardMarkers: the markers of a board come row by row as the board looks, whichever way
// its terminals count. The rows here are written down from the grids, not computed.
func TestBoardMarkers(t *testing.T) {
	t.Parallel()
	const text = `
plant: Board Works
boxes:
  JB-1:
    strips:
      X1: {terminals: 1A..2C, grid: 2 x 3}
      X2: {terminals: 1..6, grid: 2 x 3 by columns}
loops: {L-1: {service: none yet}}
`
	p, _, _ := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
	markers := slices.DeleteFunc(material.Labels(p), func(l material.Label) bool { return l.Kind != model.TerminalLabel })
	pages, problems := Sheets(layout.New(p, false, nil), "labels", markers, false)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var rows []string
	var y render.Len
	for i, g := range labelGroups(pages) {
		if markers[i].Type == "strip" {
			continue
		}
		if at := g.Items[0].(*render.Text).At.Y; at != y {
			rows, y = append(rows, markers[i].End), at
		}
		rows[len(rows)-1] += " " + markers[i].Text
	}
	want := []string{"JB-1/X1 1A 1B 1C", "JB-1/X1 2A 2B 2C", "JB-1/X2 1 3 5", "JB-1/X2 2 4 6"}
	if !slices.Equal(rows, want) {
		t.Errorf("rows of markers are %q, not %q", rows, want)
	}
}

// TestOneLettering: all labels of a kind have one height and width of letters.
func TestOneLettering(t *testing.T) {
	t.Parallel()
	p := labelPlant(t, "tern-island")
	for _, kind := range []model.LabelKind{model.CableLabel, model.CoreLabel} {
		labels := slices.DeleteFunc(material.Labels(p), func(l material.Label) bool { return l.Kind != kind })
		pages, problems := Sheets(layout.New(p, false, nil), "labels", labels, true)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		var first *render.Text
		for _, g := range labelGroups(pages) {
			for _, item := range g.Items {
				text, ok := item.(*render.Text)
				if !ok || text.Face.Weight() != 700 {
					continue
				}
				if first == nil {
					first = text
				}
				if text.Height != first.Height || text.Narrow != first.Narrow {
					t.Errorf("%q is %d high, %d %% wide; %q %d, %d", text.S, text.Height, text.Narrow, first.S, first.Height, first.Narrow)
				}
			}
		}
	}
}

// TestLabelTooSmall: a text that does not fit is an error, not cut.
func TestLabelTooSmall(t *testing.T) {
	t.Parallel()
	p := labelPlant(t, "one-loop")
	p.Practice.LabelStock[model.CoreLabel] = model.Stock{Width: 10000, Height: 5000, Across: 2, Down: 3, Paper: "A4"}
	_, problems := Sheets(layout.New(p, false, nil), "labels", material.Labels(p), false)
	if problems.Errors() == 0 || problems[0].Code != "label-too-small" {
		t.Errorf("no error, but %v", problems)
	}
	_, problems = Sheets(layout.New(p, false, nil), "labels", material.Labels(p), true)
	if !slices.ContainsFunc(problems, func(p finding.Finding) bool { return strings.Contains(p.Text, "QR code") }) {
		t.Errorf("no error of a code, but %v", problems)
	}
}

// TestCodesAreRead paints the marks of every label and has an independent reader
// (ZXing, github.com/makiuchi-d/gozxing) read the QR code of it.
func TestCodesAreRead(t *testing.T) {
	t.Parallel()
	p := labelPlant(t, "tern-island")
	plan := layout.New(p, false, nil)
	for _, paper := range []string{"A4", "letter"} {
		p.Practice.RecordPaper = paper
		labels := material.Labels(p)
		pages, problems := Sheets(plan, "labels", labels, true)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		for i, g := range labelGroups(pages) {
			strip := labels[i].Kind == model.TerminalLabel && labels[i].Type == "strip"
			if i%7 != 0 && !strip || labels[i].Kind == model.TerminalLabel && !strip {
				continue // some will do; a strip has one code
			}
			bits, err := gozxing.NewBinaryBitmapFromImage(painted(g))
			if err != nil {
				t.Fatal(err)
			}
			// The picture is clean and upright, so the reader need not search it.
			read, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
			if err != nil {
				t.Fatalf("%s: the code of %s is not read: %v", paper, labels[i].Of, err)
			}
			want := Code(plan, labels[i])
			if read.GetText() != want {
				t.Errorf("%s: the code of %s reads %q, not %q", paper, labels[i].Of, read.GetText(), want)
			}
			parts := strings.Split(want, "; ")
			if len(parts) != 3 || parts[0] != labels[i].Of || len(parts[2]) != 7 || !slices.ContainsFunc(plan.Sheets, func(s *sheet.Sheet) bool {
				return s.Number == parts[1] && s.Code == parts[2]
			}) {
				t.Errorf("%q names no sheet with that wiring code", want)
			}
		}
	}
}

// painted paints the filled outlines of a label at 20 points a millimetre.
func painted(g *render.Group) image.Image {
	const scale = 50 // micrometres a point
	var black []image.Rectangle
	for _, item := range g.Items {
		if m, ok := item.(*render.Line); ok && m.Fill == render.Solid {
			a, b := m.Points[0], m.Points[2]
			black = append(black, image.Rect(int(a.X/scale), int(a.Y/scale), int(b.X/scale), int(b.Y/scale)))
		}
	}
	area := black[0]
	for _, r := range black {
		area = area.Union(r)
	}
	img := image.NewGray(area.Inset(-40)) // white around it
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for _, r := range black {
		draw.Draw(img, r, image.NewUniform(color.Black), image.Point{}, draw.Src)
	}
	return img
}
