package loop

import (
	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// This file fills the space beside the title block of a loop diagram.

// The measures of that space.
const (
	keyStep = 3800 * render.UM // from line to line
	keySide = 2 * render.MM    // at its sides
	keyTop  = 4 * render.MM    // to the first baseline
)

// loopKey is the key of lines and marks.
var loopKey = []struct {
	words english.Text
	draw  func(d *loopSheet, x, y render.Len)
}{
	{"new", keyLine(render.New)},
	{"existing (E)", keyLine(render.Existing)},
	{"future (F)", keyLine(render.Future)},
	{"screen", keyLine(render.Screen)},
	{"screen cut back", func(d *loopSheet, x, y render.Len) {
		Cap(d.Brush, x, y, false)
		d.Line(render.Screen, x, y, x+10*render.MM, y)
	}},
	{"tick: landed, proved", func(d *loopSheet, x, y render.Len) { d.tick(x+4*render.MM, y-3200) }},
}

func keyLine(p render.Pen) func(d *loopSheet, x, y render.Len) {
	return func(d *loopSheet, x, y render.Len) { d.Line(p, x, y, x+10*render.MM, y) }
}

// key draws the key of lines and marks, the plant's mark-up key, and cautions
// and notes where they find room.
func (d *loopSheet) key(a paper.Area) {
	if a.W() < 40*render.MM {
		return
	}
	half := (a.W() - 3*keySide) / 2
	x := a.Min.X + keySide
	for i, k := range loopKey {
		y := a.Min.Y + keyTop + render.Len(i)*keyStep
		k.draw(d, x, y-900)
		d.text(x+12*render.MM, y, paper.Letters(fonts.Sans, paper.PlainHeight, render.Left), d.pl.Plant.Say(k.words), half-12*render.MM)
	}
	x += half + keySide
	items, unfit := paper.MarkUpKey(paper.Rect(x, a.Min.Y+keyTop, half, render.Len(len(loopKey)-1)*keyStep), keyStep, d.pl.Plant.Practice.MarkUp)
	d.Add(items...)
	for _, s := range unfit {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, s))
	}
	lines := noteLines(d.pl.Plant, d.s.Loop)
	if !notesFit(d.pl.Plant, lines, a) {
		lines = []paper.Cell{{S: "Cautions and notes: see table, first sheet of this loop.", Bold: true}}
	}
	rows, down := noteRows(d.pl.Plant, lines, a)
	for i, l := range rows {
		n := len(*d.Items)
		d.text(a.Min.X+keySide, a.Min.Y+keyTop+down[i], paper.Letters(l.Face, paper.PlainHeight, render.Left), l.S, a.W()-2*keySide)
		paper.Safety((*d.Items)[n:])
	}
}

// noteRows are the lines of cautions and notes, and how far below the first
// baseline of the keys each stands.
func noteRows(plant *model.Plant, lines []paper.Cell, a paper.Area) (rows []paper.InkLine, down []render.Len) {
	last := len(loopKey) - 1
	before, y := paper.InkLine{Face: fonts.Sans, Height: paper.PlainHeight, S: plant.Say(loopKey[last].words)}, render.Len(last)*keyStep
	for _, c := range lines {
		for _, s := range wrapNote(c, a) {
			line := paper.InkLine{Face: noteFace(c), Height: paper.PlainHeight, S: s}
			y += paper.Apart(keyStep, before, line)
			rows, down, before = append(rows, line), append(down, y), line
		}
	}
	return rows, down
}

// notesFit reports whether cautions and notes find room under the keys.
func notesFit(plant *model.Plant, lines []paper.Cell, a paper.Area) bool {
	_, down := noteRows(plant, lines, a)
	return len(down) == 0 || keyTop+down[len(down)-1]+render.MM <= a.H()
}

func wrapNote(c paper.Cell, a paper.Area) []string {
	return paper.Wrap(noteFace(c), paper.PlainHeight, c.S, (a.W()-2*keySide)*100/85) // narrowed a little
}

func noteFace(c paper.Cell) fonts.Face {
	if c.Bold {
		return fonts.Bold
	}
	return fonts.Sans
}
