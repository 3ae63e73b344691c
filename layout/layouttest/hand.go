package layouttest

import (
	"fmt"
	"slices"

	"ringout/layout/paper"
	"ringout/render"
)

// The least that a hand in a work glove fills in, and the side of a box to tick on a form
// (a rule of this project, beside none of others).
const (
	readingWide = 18 * render.MM
	initialWide = 12 * render.MM
	handTall    = 8 * render.MM
	tickSide    = 5 * render.MM
)

// printed are the heads of columns that may be blank in a row that is written in, where there
// is nothing to print.
var printed = []string{"Range", "Calibrated", "Signal", "Set/fail/action", "From", "To", "At signal"}

// TooSmall tells of the cells of a finished table of a form that are too small to be written
// in or ticked, and of blank ones in columns in which nothing is to be written.
func TooSmall(t *paper.Table) (faults []string) {
	for i := range t.Rows {
		if t.Rows[i].Group != "" {
			continue
		}
		for j, c := range t.Columns {
			cell := at(t, i, j)
			if cell.Kind == paper.Words && cell.S != "" && (c.Hand == paper.Nothing || t.Rows[i].Print) {
				continue
			}
			w, h := room(t, i, j)
			least, tall := readingWide, handTall
			switch {
			case cell.Kind == paper.Tick:
				least, tall = tickSide, tickSide
			case cell.Kind != paper.Words:
				continue
			case c.Hand == paper.Brief:
				least = initialWide
			case c.Hand == paper.Nothing:
				if !slices.Contains(printed, c.Head) && !t.Rows[i].Print {
					faults = append(faults, fmt.Sprintf("row %d: nothing is to be written under %q, which is blank", i+1, c.Head))
				}
				continue
			}
			if w < least || h < tall {
				faults = append(faults, fmt.Sprintf("row %d: the cell under %q is %.1f x %.1f mm", i+1, c.Head, float64(w)/float64(render.MM), float64(h)/float64(render.MM)))
			}
		}
	}
	return faults
}

// at is a cell of a table; blank where its row leaves it out.
func at(t *paper.Table, row, column int) paper.Cell {
	if cells := t.Rows[row].Cells; column < len(cells) {
		return cells[column]
	}
	return paper.Cell{}
}

// room is the room of a cell with those that are one with it.
func room(t *paper.Table, row, column int) (w, h render.Len) {
	w, h = t.Columns[column].Width, t.RowHeight(row)
	for j := column + 1; j < len(t.Columns) && at(t, row, j).Kind == paper.Before; j++ {
		w += t.Columns[j].Width
	}
	for i := row + 1; i < len(t.Rows) && at(t, i, column).Kind == paper.Above; i++ {
		h += t.RowHeight(i)
	}
	return w, h
}
