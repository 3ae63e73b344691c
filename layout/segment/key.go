package segment

import (
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// This file fills the space beside the title block.

// The measures of that space.
const (
	keyStep = 3800 * render.UM // from line to line
	keySide = 2 * render.MM    // at its sides
	keyTop  = 4 * render.MM    // to the first baseline
	keyRows = 6                // of keys, the caution under them
)

// lineKey is the key of the lines that stand for the pair, or the cable of a link.
var lineKey = []struct {
	words string
	pen   render.Pen
}{{", new", render.New}, {", existing (E)", render.Existing}, {", future (F)", render.Future}}

// key draws the key of lines and signs, that of marks made by hand, and the caution.
func (d *drawing) key(a paper.Area) {
	if a.W() < 40*render.MM {
		return
	}
	half := (a.W() - 3*keySide) / 2
	x, y := a.Min.X+keySide, a.Min.Y+keyTop
	letters := paper.Letters(fonts.Sans, paper.PlainHeight, render.Left)
	for _, k := range lineKey {
		d.Line(k.pen, x, y-900*render.UM, x+10*render.MM, y-900*render.UM)
		d.text(x+12*render.MM, y, letters, d.s.Loop.Segment.Kind.Line()+k.words, half-12*render.MM)
		y += keyStep
	}
	if d.s.Loop.Segment.Kind.Ohms > 0 {
		y += keyStep
		d.resistor(x+5*render.MM, y+2*render.MM)
		d.text(x+12*render.MM, y, letters, "terminator", half-12*render.MM)
	}
	items, unfit := paper.MarkUpKey(paper.Rect(x+half+keySide, a.Min.Y+keyTop, half, (keyRows-1)*keyStep), keyStep, d.pl.Plant.Practice.MarkUp)
	d.Add(items...)
	for _, s := range unfit {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, s))
	}
	n := len(*d.Items)
	y = a.Min.Y + keyTop + (keyRows-1)*keyStep
	wide := a.W() - 2*keySide
	for _, s := range d.cautions() {
		for _, line := range paper.Wrap(fonts.Sans, paper.PlainHeight, s, wide*100/85) { // narrowed a little
			y += keyStep
			d.text(x, y, letters, line, wide)
		}
	}
	paper.Safety((*d.Items)[n:])
}

// cautions are those of the diagram; the loop diagrams of the segment have all.
func (d *drawing) cautions() []string {
	p, l := d.pl.Plant, d.s.Loop
	all := []string{p.Say(wording.DeadFirst)}
	if l.Segment.Kind.Glass {
		all = append(all, wording.LinkLight)
	}
	if len(p.Served(l)) > 0 {
		all = append(all, wording.LinkLoss)
	}
	var guards []string
	shunts := false
	for _, c := range l.Circuits {
		for _, b := range c.Barriers() {
			guards = append(guards, b.Tag)
			shunts = shunts || b.Kind.Shunts
		}
	}
	if guards = model.Unique(guards); len(guards) > 2 {
		guards = []string{fmt.Sprintf("%d field barriers", len(guards))}
	}
	if len(guards) > 0 {
		all = append(all, wording.SafeWords(p, "field side of "+strings.Join(guards, " and "), shunts))
	}
	return all
}
