package segment

import (
	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// This file draws a link by plugs: what stands at its two ends, and the cable between.

// The measures of such a diagram.
const (
	endWide  = 96 * render.MM // of the box at each end
	endTall  = 34 * render.MM
	linkTop  = 10 * render.MM // above the boxes
	linkTall = linkTop + endTall + 12*render.MM
	plugWide = 6 * render.MM
	plugTall = 5 * render.MM
)

// link draws both ends, their plugs and the cable.
func (d *drawing) link() {
	l, in := d.s.Loop, d.s.Inner
	ends := l.Segment.Plug.Ends
	y := in.Min.Y + linkTop + endTall/2
	left, right := in.Min.X+sideWide, in.Max.X-sideWide-endWide
	for i, x := range []render.Len{left, right} {
		if i < len(ends) {
			d.end(paper.Rect(x, y-endTall/2, endWide, endTall), ends[i])
		}
	}
	west, east := left+endWide, right
	d.Add(paper.Outline(render.Outline, render.Hollow, paper.Rect(west, y-plugTall/2, plugWide, plugTall)),
		paper.Outline(render.Outline, render.Hollow, paper.Rect(east-plugWide, y-plugTall/2, plugWide, plugTall)))
	d.group("link", l.Tag, func() {
		d.Line(sheet.StatusPen[l.Status], west+plugWide, y, east-plugWide, y)
	})
	mid, room := (west+east)/2, east-west-2*plugWide-4*render.MM
	for i, s := range d.over() {
		d.text(mid, y-1500*render.UM-render.Len(len(d.over())-1-i)*lineTall, paper.Letters(fonts.Mono, paper.Lettered, render.Middle), s, room)
	}
	for i, s := range d.under() {
		d.text(mid, y+4*render.MM+render.Len(i)*lineTall, paper.Letters(fonts.Sans, paper.Lettered, render.Middle), s, room)
	}
}

// over are the words over the line: what it is.
func (d *drawing) over() []string {
	return []string{d.s.Loop.Segment.Kind.Words, "cable " + wording.PlugCable(d.s.Loop)}
}

// under are those below it: how it goes.
func (d *drawing) under() []string {
	k := &d.s.Loop.Segment.Plug
	words := []string{"length " + wording.Given(k.LengthWords()), "route " + wording.Given(k.Route)}
	if d.s.Loop.Segment.Kind.Glass {
		words = append(words, "loss of each fibre max "+wording.LossLimit(k), "transmit of each end to receive of the other")
	}
	return words
}

// end draws the box at one end.
func (d *drawing) end(box paper.Area, e model.LinkEnd) {
	port := e.Port
	if port == "" {
		port = "port " + paper.NotGiven
	}
	lines := []line{{words: e.Place.Tag, bold: true, tag: true}, {words: port, bold: true}}
	if e.Place.Controller != nil {
		lines = append(lines, line{words: "remote I/O of " + e.Place.Controller.Tag})
	}
	for _, s := range locationLines(e.Place, box.W()-2*render.MM) {
		if s != e.Place.Tag {
			lines = append(lines, line{words: s})
		}
	}
	d.group("place", e.Place.Tag, func() { d.boxed(box, lines, false) })
}
