package layout

import (
	"ringout/fonts"
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
	words string
	draw  func(d *loopSheet, x, y render.Len)
}{
	{"to be installed", keyLine(render.New)},
	{"existing (E)", keyLine(render.Existing)},
	{"future (F)", keyLine(render.Future)},
	{"screen", keyLine(render.Screen)},
	{"screen cut back", func(d *loopSheet, x, y render.Len) {
		d.cap(x, y, false)
		d.line(render.Screen, x, y, x+10*render.MM, y)
	}},
	{"landed and proved: tick", func(d *loopSheet, x, y render.Len) { d.tick(x+4*render.MM, y-2500) }},
}

func keyLine(p render.Pen) func(d *loopSheet, x, y render.Len) {
	return func(d *loopSheet, x, y render.Len) { d.line(p, x, y, x+10*render.MM, y) }
}

// key draws the key of lines and marks, the plant's mark-up key, and cautions
// and notes where they find room.
func (d *loopSheet) key(a Area) {
	if a.W() < 40*render.MM {
		return
	}
	half := (a.W() - 3*keySide) / 2
	x := a.Min.X + keySide
	for i, k := range loopKey {
		y := a.Min.Y + keyTop + render.Len(i)*keyStep
		k.draw(d, x, y-900)
		d.text(x+12*render.MM, y, Letters(fonts.Sans, plainHeight, render.Left), k.words, half-12*render.MM)
	}
	x += half + keySide
	d.text(x, a.Min.Y+keyTop, Letters(fonts.Bold, plainHeight, render.Left), "Mark-up key", half)
	y, before := a.Min.Y+keyTop, inkLine{}
	for _, s := range d.pl.Plant.Practice.MarkUp {
		line := inkLine{fonts.Sans, plainHeight, s}
		y += apart(keyStep, before, line)
		if before = line; y > a.Min.Y+keyTop+render.Len(len(loopKey)-1)*keyStep {
			d.problems = append(d.problems, d.pl.unfit(d.s, s))
			break
		}
		d.text(x, y, Letters(fonts.Sans, plainHeight, render.Left), s, half)
	}
	lines := d.pl.noteLines(d.s.Loop)
	if !d.pl.notesFit(lines, a) {
		lines = []Cell{{S: "Cautions and notes: in the table above, first sheet of this loop.", Bold: true}}
	}
	rows, down := noteRows(lines, a)
	for i, l := range rows {
		n := len(*d.items)
		d.text(a.Min.X+keySide, a.Min.Y+keyTop+down[i], Letters(l.face, plainHeight, render.Left), l.s, a.W()-2*keySide)
		safety((*d.items)[n:])
	}
}

// noteRows are the lines of cautions and notes, and how far below the first
// baseline of the keys each stands.
func noteRows(lines []Cell, a Area) (rows []inkLine, down []render.Len) {
	last := len(loopKey) - 1
	before, y := inkLine{fonts.Sans, plainHeight, loopKey[last].words}, render.Len(last)*keyStep
	for _, c := range lines {
		for _, s := range wrapNote(c, a) {
			line := inkLine{noteFace(c), plainHeight, s}
			y += apart(keyStep, before, line)
			rows, down, before = append(rows, line), append(down, y), line
		}
	}
	return rows, down
}

// notesFit reports whether cautions and notes find room under the keys.
func (pl *Plan) notesFit(lines []Cell, a Area) bool {
	_, down := noteRows(lines, a)
	return len(down) == 0 || keyTop+down[len(down)-1]+render.MM <= a.H()
}

func wrapNote(c Cell, a Area) []string {
	return Wrap(noteFace(c), plainHeight, c.S, (a.W()-2*keySide)*100/85) // narrowed a little
}

func noteFace(c Cell) fonts.Face {
	if c.Bold {
		return fonts.Bold
	}
	return fonts.Sans
}
