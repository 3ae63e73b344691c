package label

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
)

// This file draws the markers of terminals as strips of paper to be cut out: a
// head that bears the strip's tag, then a field for each terminal, as wide as
// the terminal, so that the strip goes into the marker rail as it is.

// The measures of marker strips.
const (
	stripTall   = 7 * render.MM
	stripCoded  = 12 * render.MM // with a QR code in its head
	stripHead   = 26 * render.MM
	stripGap    = 4 * render.MM // between two
	stripSide   = 12 * render.MM
	stripTop    = 22 * render.MM
	usualPitch  = 5200 * render.UM // of a terminal for 2.5 mm² (from memory)
	markerInset = 300 * render.UM  // from the edge of a field to its lettering
)

// markerHeights are the letters of terminal markers, the largest first.
var markerHeights = []render.Len{2500, 1800}

// markerRow is a strip, or as much of one as a row of paper holds.
type markerRow struct {
	labels []material.Label // of terminals
	head   *material.Label  // of the strip; nil where it is repeated
	words  string           // of the head
	pitch  render.Len
	set    lettering
	turned bool
}

// markerStrips draws the markers of terminals strip by strip, on the paper of
// forms, on pages named after the given number of them.
func markerStrips(pl *sheet.Plan, name string, before int, labels []material.Label, code bool) (pages []*render.Page, problems finding.Findings) {
	size, _ := paper.FindPaper(pl.Plant.Practice.RecordPaper, false)
	tall := stripTall
	if code {
		tall = stripCoded
	}
	var rows []markerRow
	for len(labels) > 0 {
		n := slices.IndexFunc(labels, func(l material.Label) bool { return l.End != labels[0].End })
		if n < 0 {
			n = len(labels)
		}
		some, unfit := markerRows(pl.Plant, labels[:n], size.W-2*stripSide-headWide(tall, code), tall)
		rows, problems = append(rows, some...), append(problems, unfit...)
		labels = labels[n:]
	}
	each := int((size.H - stripTop - stripSide + stripGap) / (tall + stripGap))
	of := (len(rows) + each - 1) / each
	for some := range slices.Chunk(rows, each) {
		title := fmt.Sprintf("%s, %d of %d", pl.Plant.Say(labelTitles[model.TerminalLabel]), len(pages)+1, of)
		page := &render.Page{Head: render.Head{Name: fmt.Sprintf("%s-%d", name, before+len(pages)+1), Title: title, W: size.W, H: size.H}}
		for _, words := range []string{labelHeading(pl, title) + " Cut along the lines.", "Cut along the lines."} {
			// What the sheet is only helps to sort the sheets.
			if text, ok := paper.TextLine(render.Point{X: stripSide, Y: stripTop - stripGap}, paper.Letters(fonts.Sans, paper.Heights[0], render.Left), words, size.W-2*stripSide); ok {
				page.Items = append(page.Items, text)
				break
			}
		}
		at, n := render.Point{X: stripSide, Y: stripTop}, 0
		for _, row := range some {
			items, unfit := row.draw(pl, at, tall, code, &n)
			page.Items, problems = append(page.Items, items...), append(problems, unfit...)
			at.Y += tall + stripGap
		}
		pages = append(pages, page)
	}
	return pages, problems
}

// headWide is the width of the head of a strip.
func headWide(tall render.Len, code bool) render.Len {
	if code {
		return stripHead + tall
	}
	return stripHead
}

// markerRows parts the labels of one strip into rows, with one lettering: upright
// where the names of its terminals are short enough, else turned.
func markerRows(plant *model.Plant, labels []material.Label, room, tall render.Len) (rows []markerRow, problems finding.Findings) {
	row := markerRow{words: labels[0].End, pitch: usualPitch}
	if p := labels[0].Pitch; p > 0 {
		row.pitch = render.Len(p*1000 + 0.5)
	}
	if labels[0].Of == labels[0].End {
		row.head, labels = &labels[0], labels[1:]
	}
	if !row.letter(labels, tall) {
		for _, l := range labels {
			problems = append(problems, unfitLabel(plant, l, fmt.Sprintf("%q does not fit a marker of %s mm", l.Text, wording.Plain(float64(row.pitch)/1000))))
		}
	}
	strip := row.words
	for _, line := range lines(labels) {
		if line[0].Row > 0 {
			row.words = fmt.Sprintf("%s row %d", strip, line[0].Row)
		}
		for some := range slices.Chunk(line, max(1, int(room/row.pitch))) {
			row.labels = some
			rows = append(rows, row)
			row.head = nil
		}
	}
	if len(rows) == 0 { // the head alone
		rows = append(rows, row)
	}
	return rows, problems
}

// lines are the labels of one strip as they lie: those of a board by its rows, else all.
func lines(labels []material.Label) (all [][]material.Label) {
	for len(labels) > 0 {
		n := slices.IndexFunc(labels, func(l material.Label) bool { return l.Row != labels[0].Row })
		if n < 0 {
			n = len(labels)
		}
		all, labels = append(all, labels[:n]), labels[n:]
	}
	return all
}

// letter finds the largest lettering that fits all labels of the strip.
func (r *markerRow) letter(labels []material.Label, tall render.Len) bool {
	for _, h := range markerHeights {
		for _, turned := range []bool{false, true} {
			room := r.pitch - 2*markerInset
			if turned {
				room = tall - 2*markerInset
			}
			if turned && h+h/4 > r.pitch {
				continue
			}
			if slices.ContainsFunc(labels, func(l material.Label) bool { return !paper.OneLine(fonts.MonoBold, h, l.Text, room) }) {
				continue
			}
			r.set, r.turned = lettering{height: h}, turned
			for _, l := range labels {
				r.set.take(l.Text, room)
			}
			return true
		}
	}
	r.set = lettering{height: markerHeights[len(markerHeights)-1], narrow: paper.LeastNarrow}
	return false
}

// draw draws a row; n counts the labels of the page.
func (r markerRow) draw(pl *sheet.Plan, at render.Point, tall render.Len, code bool, n *int) (items []render.Item, problems finding.Findings) {
	wide := headWide(tall, code)
	all := paper.Rect(at.X, at.Y, wide+r.pitch*render.Len(len(r.labels)), tall)
	group := func(l *material.Label, marks []render.Item) {
		*n++
		items = append(items, &render.Group{
			ID: fmt.Sprintf("label-%d", *n), Items: marks,
			Data: []render.Datum{{Key: "label", Value: l.Text}, {Key: "at", Value: l.End}, {Key: "of", Value: l.Of}},
		})
	}
	head := paper.Rect(at.X, at.Y, wide, tall)
	var marks []render.Item
	if code {
		if r.head != nil {
			drawn, ok := drawCode(paper.Rect(at.X, at.Y, tall, tall), Code(pl, *r.head))
			if marks = drawn; !ok {
				problems = append(problems, unfitLabel(pl.Plant, *r.head, "strip head too small for QR code"))
			}
		}
		head.Min.X += tall
	}
	words, ok := paper.FitText(paper.Area{Min: render.Point{X: head.Min.X + labelInset, Y: head.Min.Y + markerInset}, Max: render.Point{X: head.Max.X - labelInset, Y: head.Max.Y - markerInset}},
		fonts.MonoBold, paper.PlainHeight, render.Middle, r.words)
	marks = append(marks, words...)
	if r.head == nil {
		items = append(items, marks...)
	} else {
		group(r.head, marks)
		if !ok {
			problems = append(problems, unfitLabel(pl.Plant, *r.head, fmt.Sprintf("%q does not fit its head", r.words)))
		}
	}
	for i := range r.labels {
		x := at.X + wide + r.pitch*render.Len(i)
		items = append(items, paper.Stroke(render.Thin, x, all.Min.Y, x, all.Max.Y))
		t := r.set.text(render.Point{X: x + r.pitch/2, Y: at.Y + (tall+r.set.height)/2}, r.labels[i].Text)
		if r.turned {
			t.At, t.Turned = render.Point{X: x + (r.pitch+r.set.height)/2, Y: at.Y + tall/2}, true
		}
		group(&r.labels[i], []render.Item{t})
	}
	return append(items, paper.Outline(render.Thin, render.Hollow, all)), problems
}
