package layout

import (
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// The columns beside a strip, from the terminals outward. Loops stand on the
// system side only: both sides of a terminal are of one circuit.
const (
	tickColumn = iota
	loopColumn
	signColumn
	colourColumn
	pairColumn
	markerColumn
	farColumn
	fanColumn
	tagColumn
	columnCount
)

// placeColumns holds heads and widths. Those that are shared have what is left
// over, by what their words need; width is then the least that counts.
var placeColumns = [columnCount]struct {
	head   string
	width  render.Len
	shared bool
}{
	tickColumn:   {"", 6 * render.MM, false},
	loopColumn:   {"Loop, its sheet", 37 * render.MM, false},
	signColumn:   {"±", 5 * render.MM, false},
	colourColumn: {"Colour", 13 * render.MM, true},
	pairColumn:   {"Pair, core", 20 * render.MM, true},
	markerColumn: {"Marker reads", 24 * render.MM, true},
	farColumn:    {"Far end", 20 * render.MM, true},
	fanColumn:    {"", 5 * render.MM, false},
	tagColumn:    {"Cable", 28 * render.MM, true},
}

// columnSpan is the reach of a column, counted outward from the strip.
type columnSpan struct{ Min, Max render.Len }

// placeGrid is where everything stands across a sheet of a place.
type placeGrid struct {
	body    Area       // of the strips, from the first terminal's left edge on; full height
	number  render.Len // width of a terminal's number
	note    columnSpan // across the page: words on a terminal
	channel columnSpan // across the page: jumpers
	pitch   render.Len // of the jumpers
	columns [2][columnCount]columnSpan
}

const (
	noteWidth   = 14 * render.MM
	linkWidth   = 7500 * render.UM
	leastNumber = 7500 * render.UM
	mostNumber  = 22 * render.MM
	jumperPitch = 2500 * render.UM
	mostChannel = 30 * render.MM
	mostShared  = 60 * render.MM // that a column can ask for
)

// placeGrid shares out the width of the sheets of a place.
func (pl *Plan) placeGrid(area Area, v *placeView) placeGrid {
	g := placeGrid{number: leastNumber, pitch: jumperPitch}
	lanes := 0
	for _, p := range v.parts {
		lanes = max(lanes, p.lanes)
		g.number = max(g.number, p.number)
	}
	channel := render.Len(0)
	if lanes > 0 {
		g.pitch = min(jumperPitch, mostChannel/render.Len(lanes))
		channel = g.pitch * render.Len(lanes+1)
	}
	wide := g.number + linkWidth + noteWidth + channel
	fixed := placeColumns[loopColumn].width
	for i, c := range placeColumns {
		if !c.shared && i != loopColumn {
			fixed += 2 * c.width
		}
	}
	half := int64(area.W()-wide-fixed) / 2
	for side, needs := range pl.needs(v) {
		sum := int64(0)
		for _, n := range needs {
			sum += int64(n)
		}
		at := render.Len(0)
		for i, c := range placeColumns {
			w := c.width
			switch {
			case i == loopColumn && side == leftSide:
				w = 0
			case c.shared:
				w = render.Len(int64(needs[i]) * half / sum)
			}
			g.columns[side][i] = columnSpan{at, at + w}
			at += w
		}
	}
	x := area.Min.X + g.columns[leftSide][tagColumn].Max
	g.body = Area{render.Point{X: x, Y: area.Min.Y}, render.Point{X: x + wide, Y: area.Max.Y}}
	g.note = columnSpan{x + g.number + linkWidth, x + g.number + linkWidth + noteWidth}
	g.channel = columnSpan{g.note.Max, g.body.Max.X}
	return g
}

// needs is the width that the words in each shared column need on each side.
func (pl *Plan) needs(v *placeView) (needs [2][columnCount]render.Len) {
	for side := range needs {
		for i, c := range placeColumns {
			if c.shared {
				needs[side][i] = c.width
			}
		}
	}
	need := func(side, column int, face fonts.Face, s string) {
		w := min(render.Measure(face, s, lettered)+2*rideSide, mostShared)
		needs[side][column] = max(needs[side][column], w)
	}
	tagged := map[*model.Cable]bool{}
	for _, p := range v.parts {
		for _, r := range p.rows {
			for side, l := range r.sides {
				if l == nil {
					continue
				}
				for column, s := range pl.landingWords(l) {
					if s != "" && placeColumns[column].shared {
						need(side, column, landingFaces[column], s)
					}
				}
				if l.c.Core != nil && !tagged[l.c.Core.Cable] {
					c := l.c.Core.Cable
					tagged[c] = true
					made, _, _ := strings.Cut(cableWords(c), ", ")
					need(side, tagColumn, fonts.Bold, c.Tag)
					need(side, tagColumn, fonts.Sans, "to "+v.farEnd(c).Tag()+"  888/A8")
					need(side, tagColumn, fonts.Sans, made+", "+c.Status.String())
				}
			}
		}
	}
	return needs
}

// The sides of a strip on paper.
const (
	leftSide  = 0
	rightSide = 1
)

func (g *placeGrid) span(side, column int) columnSpan { return g.columns[side][column] }

// edge is the place on the page that lies so far out from the strip.
func (g *placeGrid) edge(side int, out render.Len) render.Len {
	if side == leftSide {
		return g.body.Min.X - out
	}
	return g.body.Max.X + out
}

// cell is the reach of a column across the page.
func (g *placeGrid) cell(side, column int) columnSpan {
	c := g.span(side, column)
	a, b := g.edge(side, c.Min), g.edge(side, c.Max)
	return columnSpan{min(a, b), max(a, b)}
}
