// Package label lays labels out on their stock, and marker strips.
package label

import (
	"fmt"
	"slices"
	"strings"

	qr "github.com/skip2/go-qrcode"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
)

// The measures of label sheets.
const (
	labelInset = 1 * render.MM // from the edge of a label to its lettering
	footTall   = 2300 * render.UM
	cutGap     = 1 * render.MM // from the labels to a cut mark
	cutLong    = 2500 * render.UM
	cutEdge    = 1 * render.MM // from a cut mark to the edge of the paper, at the least
	headMargin = 6 * render.MM // of a top margin that holds the words of the sheet

	// A QR code has four modules of white around it (ISO/IEC 18004, from memory);
	// a module is no smaller than an office printer draws well.
	quiet       = 4
	leastModule = 250 * render.UM
)

// labelHeights are tried in turn: the largest that fits.
var labelHeights = []render.Len{7000, 5000, 3500, 2500, 1800}

// labelTitles name a sheet of each kind of label.
var labelTitles = map[model.LabelKind]english.Text{
	model.CableLabel: "Cable tags", model.CoreLabel: "Core markers", model.TerminalLabel: "Terminal markers",
}

// Sheets draws labels on the stock of the practice, each kind on sheets of
// its own, named name-1 and on. With code, each has a QR code of its
// LabelCode. The text of a label is set smaller, narrowed or wrapped to fit, never
// cut: one that still does not fit is a finding, an error, and its page must not be
// used.
func Sheets(pl *sheet.Plan, name string, labels []material.Label, code bool) (pages []*render.Page, problems finding.Findings) {
	for len(labels) > 0 {
		kind := labels[0].Kind
		n := slices.IndexFunc(labels, func(l material.Label) bool { return l.Kind != kind })
		if n < 0 {
			n = len(labels)
		}
		if kind == model.TerminalLabel && pl.Plant.Practice.LabelStock[kind].Across == 0 {
			sheets, unfit := markerStrips(pl, name, len(pages), labels[:n], code)
			pages, problems = append(pages, sheets...), append(problems, unfit...)
			labels = labels[n:]
			continue
		}
		s := newLabelSheet(pl, kind)
		s.measure(labels[:n], code)
		of := (n + s.each() - 1) / s.each()
		part := 0
		for some := range slices.Chunk(labels[:n], s.each()) {
			part++
			title := fmt.Sprintf("%s, %d of %d", pl.Plant.Say(labelTitles[kind]), part, of)
			page := &render.Page{Head: render.Head{
				Name: fmt.Sprintf("%s-%d", name, len(pages)+1), Title: title, W: s.paper.W, H: s.paper.H,
			}}
			page.Items = append(page.Items, s.cutMarks()...)
			page.Items = append(page.Items, s.heading(title)...)
			for i, l := range some {
				items, unfit := s.label(l, s.cell(i), code)
				page.Items = append(page.Items, &render.Group{
					ID: fmt.Sprintf("label-%d", i+1), Items: items,
					Data: []render.Datum{{Key: "label", Value: l.Text}, {Key: "at", Value: l.End}, {Key: "of", Value: l.Of}},
				})
				if unfit != "" {
					problems = append(problems, unfitLabel(pl.Plant, l, unfit))
				}
			}
			pages = append(pages, page)
		}
		labels = labels[n:]
	}
	return pages, problems
}

// unfitLabel is a label that cannot be used.
func unfitLabel(plant *model.Plant, l material.Label, why string) finding.Finding {
	return finding.At(plant.Pos, finding.LabelTooSmall, "%s of %s at %s: %s", strings.ToLower(plant.Say(labelTitles[l.Kind])), l.Of, l.End, why)
}

// Code is the content of the QR code of a label: what it names, then the number
// and the wiring code of the sheet that shows it: the ring-out sheet of a cable,
// the loop diagram of what is of one loop, else the diagram of its place.
func Code(pl *sheet.Plan, l material.Label) string {
	var ref sheet.Ref
	ok := false
	if len(l.Cables) == 1 && l.Cables[0].Tag == l.Of {
		ref, ok = pl.Ref(sheet.RingOut, l.Cables[0])
	}
	if !ok && len(l.Loops) == 1 {
		kind := sheet.Loop
		if l.Loops[0].Plugged() {
			kind = sheet.Segment
		}
		ref, ok = pl.Ref(kind, l.Loops[0])
	}
	if place := pl.Plant.Place(l.Where); !ok && place != nil {
		if ref, ok = pl.Ref(sheet.Box, place); !ok {
			ref, ok = pl.Ref(sheet.Cabinet, place)
		}
	}
	if !ok {
		return l.Of
	}
	return l.Of + "; " + ref.Sheet.Number + "; " + ref.Sheet.Code
}

// labelSheet is one sheet of a stock.
type labelSheet struct {
	pl    *sheet.Plan
	stock model.Stock
	paper paper.Paper
	block paper.Area // of all labels
	set   lettering
}

// lettering is how the texts of labels of one kind are set, all alike.
type lettering struct {
	height render.Len
	broken bool // where they must, else only into their parts
	narrow int8 // per cent; 0 for the natural width
}

func newLabelSheet(pl *sheet.Plan, kind model.LabelKind) *labelSheet {
	stock := pl.Plant.Practice.Stock(kind)
	size, _ := paper.FindPaper(stock.Paper, false)
	w := render.Len(stock.Across*(stock.Width+stock.GapX) - stock.GapX)
	h := render.Len(stock.Down*(stock.Height+stock.GapY) - stock.GapY)
	return &labelSheet{pl: pl, stock: stock, paper: size, block: paper.Rect((size.W-w)/2, (size.H-h)/2, w, h)}
}

// each is how many labels a sheet has.
func (s *labelSheet) each() int { return s.stock.Across * s.stock.Down }

// cell is the area of label i, row by row.
func (s *labelSheet) cell(i int) paper.Area {
	x := render.Len(i % s.stock.Across * (s.stock.Width + s.stock.GapX))
	y := render.Len(i / s.stock.Across * (s.stock.Height + s.stock.GapY))
	return paper.Rect(s.block.Min.X+x, s.block.Min.Y+y, render.Len(s.stock.Width), render.Len(s.stock.Height))
}

// cutMarks are ticks in the margins in line with every edge of a label.
func (s *labelSheet) cutMarks() (items []render.Item) {
	var xs, ys []render.Len
	for i := range s.stock.Across {
		c := s.cell(i)
		xs = append(xs, c.Min.X, c.Max.X)
	}
	for i := range s.stock.Down {
		c := s.cell(i * s.stock.Across)
		ys = append(ys, c.Min.Y, c.Max.Y)
	}
	long := func(margin render.Len) render.Len { return min(cutLong, margin-cutGap-cutEdge) }
	b := s.block
	if d := long(b.Min.Y); d > 0 {
		for _, x := range slices.Compact(xs) {
			items = append(items, paper.Stroke(render.Thin, x, b.Min.Y-cutGap-d, x, b.Min.Y-cutGap),
				paper.Stroke(render.Thin, x, b.Max.Y+cutGap, x, b.Max.Y+cutGap+d))
		}
	}
	if d := long(b.Min.X); d > 0 {
		for _, y := range slices.Compact(ys) {
			items = append(items, paper.Stroke(render.Thin, b.Min.X-cutGap-d, y, b.Min.X-cutGap, y),
				paper.Stroke(render.Thin, b.Max.X+cutGap, y, b.Max.X+cutGap+d, y))
		}
	}
	return items
}

// heading says above the labels what the sheet is, where there is room.
func (s *labelSheet) heading(title string) []render.Item {
	if s.block.Min.Y < headMargin+cutLong {
		return nil
	}
	at := render.Point{X: s.block.Min.X, Y: s.block.Min.Y - cutGap - cutLong - render.MM}
	text, ok := paper.TextLine(at, paper.Letters(fonts.Sans, paper.Heights[0], render.Left), labelHeading(s.pl, title), s.block.W())
	if !ok {
		return nil // it only helps to sort the sheets
	}
	return []render.Item{text}
}

// labelHeading is the heading of a sheet of labels.
func labelHeading(pl *sheet.Plan, title string) string {
	words := title + ". " + pl.Plant.Name
	if rev := pl.Newest(); rev.Mark != "" {
		words += ", revision " + rev.Mark + " of " + rev.Date
		if pl.Issues != nil && pl.Issues.Altered {
			words += ", changed"
		}
	}
	return words + ". Print at 100 %."
}

// parts are the areas of a label for its code, its text and its foot; those
// that it has not are empty.
func (s *labelSheet) parts(cell paper.Area, code bool) (square, in, foot paper.Area) {
	in = cell.Inset(labelInset)
	if code {
		side := min(cell.H(), cell.W()*2/5)
		square = paper.Rect(cell.Min.X, cell.Min.Y+(cell.H()-side)/2, side, side)
		in.Min.X = cell.Min.X + side
	}
	if in.H() > 3*footTall {
		foot = paper.Area{Min: render.Point{X: in.Min.X, Y: in.Max.Y - footTall}, Max: in.Max}
		in.Max.Y = foot.Min.Y
	}
	return square, in, foot
}

// measure finds the largest lettering that fits all labels.
func (s *labelSheet) measure(labels []material.Label, code bool) {
	_, in, _ := s.parts(s.cell(0), code)
	for _, broken := range []bool{false, true} {
		for _, h := range labelHeights {
			s.set = lettering{height: h, broken: broken}
			if !slices.ContainsFunc(labels, func(l material.Label) bool { return !s.set.fits(in, l.Text) }) {
				for _, l := range labels {
					for _, line := range s.set.lines(in, l.Text) {
						s.set.take(line, in.W())
					}
				}
				return
			}
		}
	}
}

// lines are those of a text in an area.
func (x *lettering) lines(a paper.Area, text string) []string {
	parts := strings.Split(text, " / ")
	if !x.broken {
		return parts
	}
	return paper.Wrap(fonts.MonoBold, x.height, strings.Join(parts, "\n"), a.W()*100/85)
}

func (x *lettering) tall(lines int) render.Len {
	return render.Len(lines-1)*paper.Pitch(x.height) + x.height + x.height/4 // room below for a comma or a Q
}

func (x *lettering) fits(a paper.Area, text string) bool {
	lines := x.lines(a, text)
	return x.tall(len(lines)) <= a.H() && !slices.ContainsFunc(lines, func(s string) bool { return !paper.OneLine(fonts.MonoBold, x.height, s, a.W()) })
}

// take narrows the letters as far as one more line needs.
func (x *lettering) take(line string, room render.Len) {
	if t, _ := render.Fit(render.Text{Face: fonts.MonoBold, Height: x.height, S: line}, room, paper.LeastNarrow); t.Narrow > 0 && (x.narrow == 0 || t.Narrow < x.narrow) {
		x.narrow = t.Narrow
	}
}

// text sets one line about a point on its baseline.
func (x *lettering) text(at render.Point, s string) *render.Text {
	t := &render.Text{At: at, Face: fonts.MonoBold, Height: x.height, Align: render.Middle, S: s, Narrow: x.narrow}
	if t.Width = render.Measure(t.Face, s, t.Height); x.narrow > 0 {
		t.Width = render.Len(int64(t.Width) * int64(x.narrow) / 100)
	}
	return t
}

// label draws one label. unfit says why it cannot be used.
func (s *labelSheet) label(l material.Label, cell paper.Area, code bool) (items []render.Item, unfit string) {
	square, in, foot := s.parts(cell, code)
	if code {
		marks, ok := drawCode(square, Code(s.pl, l))
		if !ok {
			return nil, "the label is too small for its QR code"
		}
		items = append(items, marks...)
	}
	if foot.H() > 0 {
		// It helps to find the place; what the label has to say is above.
		for _, words := range footWords(l) {
			if paper.OneLine(fonts.Sans, paper.Heights[0], words, foot.W()) {
				set, _ := paper.SetLines(foot, paper.Letters(fonts.Sans, paper.Heights[0], render.Middle), []string{words}, foot.Max.Y-paper.Heights[0]/4, 0)
				items = append(items, set...)
				break
			}
		}
	}
	if !s.set.fits(in, l.Text) {
		return nil, fmt.Sprintf("%q does not fit a label of %s x %s mm", l.Text,
			wording.Plain(float64(s.stock.Width)/1000), wording.Plain(float64(s.stock.Height)/1000))
	}
	lines := s.set.lines(in, l.Text)
	at := render.Point{X: (in.Min.X + in.Max.X) / 2, Y: in.Min.Y + (in.H()-s.set.tall(len(lines)))/2 + s.set.height}
	for _, line := range lines {
		items = append(items, s.set.text(at, line))
		at.Y += paper.Pitch(s.set.height)
	}
	return items, ""
}

// footWords are the small words below the text, the fullest first: where the label
// goes and what it names, as far as its text does not begin with that.
func footWords(l material.Label) []string {
	var at, of string
	if !strings.HasPrefix(l.Text, l.End) {
		at = "at " + l.End
	}
	join := func(words ...string) string {
		return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), ", ")
	}
	switch l.Kind {
	case model.CableLabel:
		return []string{join(at, "to "+l.Far), at}
	case model.TerminalLabel:
		return []string{at}
	}
	if !strings.HasPrefix(l.Text, l.Of) {
		of = l.Of
	}
	return []string{join(at, strings.TrimSpace(of+" "+l.Colour)), join(at, of), at}
}

// drawCode draws a QR code as large as a square holds with whole modules: a
// black bar for each run of modules. False if they would be too small.
func drawCode(a paper.Area, text string) (items []render.Item, ok bool) {
	code, err := qr.New(text, qr.Medium)
	if err != nil {
		return nil, false // longer than any code
	}
	code.DisableBorder = true
	black := code.Bitmap()
	n := render.Len(len(black))
	module := a.W() / (n + 2*quiet)
	if module < leastModule {
		return nil, false
	}
	corner := render.Point{X: a.Min.X + (a.W()-n*module)/2, Y: a.Min.Y + (a.H()-n*module)/2}
	for y, row := range black {
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] {
				x++
			}
			if x > from {
				items = append(items, paper.Outline(render.None, render.Solid,
					paper.Rect(corner.X+render.Len(from)*module, corner.Y+render.Len(y)*module, render.Len(x-from)*module, module)))
			}
		}
	}
	return items, true
}
