package enclosure

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/grid"
	"ringout/render"
)

// This file draws a board, whose terminals lie in rows and columns, as it looks from
// the front: at each terminal its name, and on either side what lands there.

// The measures of a board.
const (
	boardName = 20 * render.MM // a terminal's name and what is written on it
	boardSide = 27 * render.MM // the least for what lands on one side of it
	boardMost = 44 * render.MM // the most
)

// boardTables are the picture of each board of a place, in bands of as many columns as
// the width of a sheet has room for.
func boardTables(plant *model.Plant, v *PlaceView, width render.Len) (all []*paper.Table) {
	for _, p := range v.parts {
		if p.part.Strip == nil || !p.part.Strip.Grid.Given() {
			continue
		}
		g := p.part.Strip.Grid
		band := max(1, min(g.Columns, int(width/(boardName+2*boardSide))))
		for from := 1; from <= g.Columns; from += band {
			all = append(all, boardTable(plant, p, from, min(from+band-1, g.Columns), width))
		}
	}
	return all
}

// boardTable is the picture of the columns from one to another of a board.
func boardTable(plant *model.Plant, v *partView, from, to int, width render.Len) *paper.Table {
	t := &paper.Table{}
	side := min(boardMost, width/render.Len(to-from+1)/2-boardName/2)
	for range to - from + 1 {
		t.Columns = append(t.Columns,
			paper.Column{Head: "Field side", Width: side, Face: fonts.Mono, Align: render.Right},
			paper.Column{Width: boardName, Face: fonts.MonoBold, Align: render.Middle},
			paper.Column{Head: "System side", Width: side, Face: fonts.Mono})
	}
	g := v.part.Strip.Grid
	t.Rows = append(t.Rows, paper.Row{Group: boardHead(v.part, from, to)})
	for row := 1; row <= g.Rows; row++ {
		r := paper.Row{Print: true, ID: sheet.PlainName(fmt.Sprintf("board-%s-%d-%d", v.part.Name(), row, from)),
			Data: []render.Datum{{Key: "board", Value: v.part.Tag}}}
		for column := from; column <= to; column++ {
			r.Cells = append(r.Cells, boardCells(plant, v.part, g.Index(grid.Cell{Row: row, Column: column}))...)
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// boardHead tells how a board is looked at and counted.
func boardHead(p *model.Part, from, to int) string {
	g := p.Strip.Grid
	way := "along the rows"
	if g.ByColumns {
		way = "down the columns"
	}
	s := fmt.Sprintf("%s from the front: %d rows, %d columns; terminals count %s from the top left", p.Name(), g.Rows, g.Columns, way)
	if from > 1 || to < g.Columns {
		s += fmt.Sprintf("; columns %d to %d", from, to)
	}
	return s
}

// boardCells are a terminal's name, and what lands on each side of it. A place that the
// board leaves out is crossed.
func boardCells(plant *model.Plant, p *model.Part, i int) []paper.Cell {
	if i >= len(p.Terminals) {
		return []paper.Cell{{Kind: paper.NA, S: "–"}, {Kind: paper.NA, S: "–"}, {Kind: paper.NA, S: "–"}}
	}
	t := p.Terminals[i]
	name := strings.Join(append([]string{t.Name}, notesOf(plant, t)...), " ")
	if len(t.Joined) > 1 {
		others := slices.DeleteFunc(slices.Clone(t.Joined), func(o *model.Terminal) bool { return o == t })
		name += "\njumper " + strings.Join(model.Spans(others), " ")
	}
	_, sides := landingsAt(t)
	words := func(all []landing) string {
		var lines []string
		for _, l := range all {
			lines = append(lines, boardWords(plant, l))
		}
		return strings.Join(lines, "\n")
	}
	left, right := words(sides[leftSide]), words(sides[rightSide])
	if left == "" && right == "" && t.Spare() {
		left = "spare"
	}
	return []paper.Cell{{S: left}, {S: name}, {S: right}}
}

// boardWords are the cable and pair of a landing and its colour, or of a wire where it
// goes.
func boardWords(plant *model.Plant, l landing) string {
	colour := wording.Colour(plant, l.c.Colour)
	switch {
	case l.c.Screen && l.c.Core != nil && l.c.Core.Group == 0:
		colour = "" // the words of the core say what it is
	case l.c.Screen:
		colour = plant.Say("screen")
	}
	what := "to " + l.far.Tag()
	if l.c.Core != nil {
		what = l.c.Core.Cable.Tag + " " + wording.PairWords(plant, l.c.Core)
	}
	return strings.TrimSpace(what + " " + colour)
}
