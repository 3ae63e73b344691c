package enclosure

import (
	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
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
	head   english.Text
	width  render.Len
	shared bool
}{
	tickColumn:   {"", 6 * render.MM, false},
	loopColumn:   {"Loop, sheet", 37 * render.MM, false},
	signColumn:   {"±", 5 * render.MM, false},
	colourColumn: {"Colour", 13 * render.MM, true},
	pairColumn:   {"Pair, core", 20 * render.MM, true},
	markerColumn: {"Marker", 24 * render.MM, true},
	farColumn:    {"Far end", 20 * render.MM, true},
	fanColumn:    {"", 5 * render.MM, false},
	tagColumn:    {"Cable", 28 * render.MM, true},
}

// placeGrid is where everything stands across a sheet of a place, or across half of one.
type placeGrid struct {
	reach   paper.ColumnSpan // across the page
	body    paper.Area       // of the strips, from the first terminal's left edge on; full height
	number  render.Len       // width of a terminal's number
	note    paper.ColumnSpan // across the page: words on a terminal
	channel paper.ColumnSpan // across the page: jumpers
	pitch   render.Len       // of the jumpers
	leg     render.Len       // from row to row
	columns [2][columnCount]paper.ColumnSpan
}

const (
	noteWidth   = 14 * render.MM
	linkWidth   = 7500 * render.UM
	leastNumber = 7500 * render.UM
	mostNumber  = 22 * render.MM
	jumperPitch = 2500 * render.UM
	mostChannel = 30 * render.MM
	mostShared  = 60 * render.MM // that a column can ask for
	mostLoop    = 48 * render.MM // that loops have without need
	widestNote  = 32 * render.MM
)

// gridOf shares out the width of an area to the columns that parts need, whose words are
// narrowed at the most; false where they stand on two lines.
func (v *PlaceView) gridOf(plant *model.Plant, area paper.Area, parts []*partView, has shown, narrowed func(fonts.Face, string) render.Len) (*placeGrid, bool) {
	g := &placeGrid{reach: paper.ColumnSpan{Min: area.Min.X, Max: area.Max.X}, number: leastNumber, pitch: jumperPitch, leg: symbol.Leg}
	legs := 0
	for _, p := range parts {
		legs = max(legs, p.legs)
		g.number = max(g.number, p.number)
	}
	channel := render.Len(0)
	if legs > 0 {
		g.pitch = min(jumperPitch, mostChannel/render.Len(legs))
		channel = g.pitch * render.Len(legs+1)
	}
	note := noteWide(plant, parts)
	wide := g.number + linkWidth + note + channel
	shares, ok := shareOut(area.W()-wide, v.needs(plant, parts, has, narrowed), has)
	if !ok {
		g.leg = tallLeg
		shares, _ = shareOut(area.W()-wide, v.needs(plant, parts, has, onTwoLines), has)
	}
	for side, widths := range shares {
		at := render.Len(0)
		for i, w := range widths {
			g.columns[side][i] = paper.ColumnSpan{Min: at, Max: at + w}
			at += w
		}
	}
	x := area.Min.X + g.columns[leftSide][tagColumn].Max
	g.body = paper.Area{Min: render.Point{X: x, Y: area.Min.Y}, Max: render.Point{X: x + wide, Y: area.Max.Y}}
	g.note = paper.ColumnSpan{Min: x + g.number + linkWidth, Max: x + g.number + linkWidth + note}
	g.channel = paper.ColumnSpan{Min: g.note.Max, Max: g.body.Max.X}
	return g, ok
}

// shown are the columns of a grid, by side.
type shown [2][columnCount]bool

// wholeWidth has all columns but the loops on the left.
func wholeWidth() (has shown) {
	for side := range has {
		for i := range has[side] {
			has[side][i] = i != loopColumn || side == rightSide
		}
	}
	return has
}

// columnNeed is what a column asks for: width for its words as they are, and
// for its words as narrow as they are ever set.
type columnNeed struct{ natural, least render.Len }

// shareOut gives every column its width. Shared columns have equal room on the sides that
// have some, by what their words need. Where that is too little for one of them,
// each has at the least what its words need when narrow; false if there is less.
func shareOut(width render.Len, needs [2][columnCount]columnNeed, has shown) (widths [2][columnCount]render.Len, ok bool) {
	var sums [2]int64
	var least, ask, sides int64
	room := width
	for side := range widths {
		for i, c := range placeColumns {
			switch {
			case !has[side][i]:
			case c.shared:
				sums[side] += int64(needs[side][i].natural)
			default:
				widths[side][i] = c.width
				if i == loopColumn {
					widths[side][i] = max(c.width, min(needs[side][i].natural, mostLoop))
				}
				room -= widths[side][i]
			}
		}
		sides += min(1, sums[side])
	}
	enough := needs[rightSide][loopColumn].least <= widths[rightSide][loopColumn]
	for side := range widths {
		for i, c := range placeColumns {
			if c.shared && has[side][i] {
				widths[side][i] = render.Len(int64(needs[side][i].natural) * int64(room) / sides / sums[side])
				enough = enough && needs[side][i].least <= widths[side][i]
			}
			least += int64(needs[side][i].least)
			ask += int64(needs[side][i].natural - needs[side][i].least)
		}
	}
	if enough {
		return widths, true
	}
	room += widths[rightSide][loopColumn]
	ok = int64(room) >= least
	for side := range widths {
		for i, c := range placeColumns {
			n := needs[side][i]
			switch spare := int64(room) - least; {
			case !has[side][i] || !c.shared && i != loopColumn:
			case spare < 0 || ask == 0:
				widths[side][i] = render.Len(int64(n.least) * int64(room) / least)
			default:
				widths[side][i] = n.least + render.Len(int64(n.natural-n.least)*spare/ask)
			}
		}
	}
	return widths, ok
}

// noteWide is what the words on the terminals need.
func noteWide(plant *model.Plant, parts []*partView) render.Len {
	w := noteWidth
	for _, p := range parts {
		for _, r := range p.rows {
			if r.in != nil && r.in == r.out {
				w = max(w, paper.Narrowest(fonts.Sans, noteOf(plant, r.in))+noteSides)
			}
		}
	}
	return min(w, widestNote)
}

// tallLeg is the height of rows whose words stand on two lines, for long tags.
const tallLeg = 3 * symbol.Module

// onTwoLines is the least width of a text that is broken into two lines, each as
// narrow as it is ever set.
func onTwoLines(face fonts.Face, s string) render.Len {
	one := paper.Narrowest(face, s)
	for w := one / 2; w < one; w += render.MM / 2 {
		if len(paper.TwoLines(face, s, w)) <= 2 {
			return w
		}
	}
	return one
}

// needs is what the words in each column ask for on each side; narrow is how wide
// words are at the least.
func (v *PlaceView) needs(plant *model.Plant, parts []*partView, has shown, narrow func(fonts.Face, string) render.Len) (needs [2][columnCount]columnNeed) {
	for side := range needs {
		for i, c := range placeColumns {
			if c.shared && has[side][i] {
				needs[side][i] = columnNeed{c.width, max(9*render.MM, narrow(fonts.Bold, plant.Say(c.head))+2*labelSide)}
			}
		}
	}
	need := func(side, column int, face fonts.Face, s string) {
		n := &needs[side][column]
		n.least = max(n.least, narrow(face, s)+2*labelSide)
		n.natural = max(n.natural, n.least, min(render.Measure(face, s, paper.Lettered)+2*labelSide, mostShared))
	}
	need(rightSide, loopColumn, fonts.Bold, plant.Say(placeColumns[loopColumn].head))
	tagged := [2]map[*model.Cable]bool{{}, {}} // by side
	for _, p := range parts {
		for _, r := range p.rows {
			if r.in != nil {
				need(rightSide, loopColumn, fonts.Bold, p.freeWords(r.in))
			}
			for side, l := range r.sides {
				if l == nil {
					continue
				}
				if c := l.c.Circuit; c != nil {
					need(rightSide, loopColumn, fonts.Bold, loopName(c)+"  888/A8")
				}
				for column, s := range landingWords(plant, l) {
					if s != "" && placeColumns[column].shared {
						need(side, column, landingFaces[column], s)
					}
				}
				if l.c.Core != nil && !tagged[side][l.c.Core.Cable] {
					c := l.c.Core.Cable
					tagged[side][c] = true
					n := &needs[side][tagColumn] // whose words stand on lines of their own
					n.least = max(n.least, max(paper.Narrowest(fonts.Bold, c.Tag)+SafeRoom, paper.Narrowest(fonts.Sans, "to "+v.farEnd(c).Tag()))+2*cellSide)
					need(side, tagColumn, fonts.Bold, c.Tag+"  "+SafeMark)
					need(side, tagColumn, fonts.Bold, plant.Say(placeColumns[tagColumn].head))
					need(side, tagColumn, fonts.Sans, "to "+v.farEnd(c).Tag()+"  888/A8")
					need(side, tagColumn, fonts.Sans, wording.CableMakeUp(c)+", "+c.Status.String())
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

func (g *placeGrid) span(side, column int) paper.ColumnSpan { return g.columns[side][column] }

// edge is the place on the page that lies so far out from the strip.
func (g *placeGrid) edge(side int, out render.Len) render.Len {
	if side == leftSide {
		return g.body.Min.X - out
	}
	return g.body.Max.X + out
}

// cell is the reach of a column across the page.
func (g *placeGrid) cell(side, column int) paper.ColumnSpan {
	c := g.span(side, column)
	a, b := g.edge(side, c.Min), g.edge(side, c.Max)
	return paper.ColumnSpan{Min: min(a, b), Max: max(a, b)}
}
