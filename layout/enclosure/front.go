package enclosure

import (
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/grid"
	"ringout/render"
)

// This file draws the front of a panel as an operator sees it: every instrument in its
// row and column.

// The measures of a front.
const (
	frontRow   = 12 * render.MM // the numbers of the rows
	frontLeast = 36 * render.MM // an instrument
	frontMost  = 62 * render.MM
	frontTall  = 16 * render.MM // the least
)

// frontTables are the front of a place, in bands of as many columns as the width of a
// sheet has room for; none of a place whose front is not given.
func frontTables(plant *model.Plant, pl *model.Place, devices []*model.Part, width render.Len) (all []*paper.Table) {
	g := pl.Front
	if !g.Given() {
		return nil
	}
	at := map[grid.Cell]*model.Part{}
	for _, d := range devices {
		if d.Device == nil { // an input or an output of one
			continue
		}
		if c := d.Device.Position; g.Has(c) {
			at[c] = d
		}
	}
	band := max(1, min(g.Columns, int((width-frontRow)/frontLeast)))
	for from := 1; from <= g.Columns; from += band {
		to := min(from+band-1, g.Columns)
		t := &paper.Table{Columns: []paper.Column{{Head: "Front", Width: frontRow, Face: fonts.MonoBold, Align: render.Middle}}}
		for column := from; column <= to; column++ {
			t.Columns = append(t.Columns, paper.Column{Head: "Column " + string(rune('A'+column-1)), Width: min(frontMost, (width-frontRow)/render.Len(band))})
		}
		t.Rows = append(t.Rows, paper.Row{Group: frontHead(pl, from, to)})
		for row := 1; row <= g.Rows; row++ {
			r := paper.Row{ID: sheet.PlainName(fmt.Sprintf("front-%s-%d-%d", pl.Tag, row, from)), Data: []render.Datum{{Key: "front", Value: pl.Tag}},
				Cells: []paper.Cell{{S: fmt.Sprint(row)}}}
			for column := from; column <= to; column++ {
				r.Cells = append(r.Cells, paper.Cell{S: frontWords(at[grid.Cell{Row: row, Column: column}]), Bold: true})
			}
			t.Rows = append(t.Rows, r)
		}
		evenRows(t)
		all = append(all, t)
	}
	return all
}

// frontHead tells what front it is.
func frontHead(pl *model.Place, from, to int) string {
	s := fmt.Sprintf("%s as an operator sees it: %d rows, %d columns", pl.Tag, pl.Front.Rows, pl.Front.Columns)
	if from > 1 || to < pl.Front.Columns {
		s += fmt.Sprintf("; columns %c to %c", 'A'+from-1, 'A'+to-1)
	}
	return s
}

// evenRows gives all rows of instruments the height of the highest.
func evenRows(t *paper.Table) {
	high := frontTall
	for i := 1; i < len(t.Rows); i++ {
		high = max(high, t.RowHeight(i))
	}
	for i := 1; i < len(t.Rows); i++ {
		t.Rows[i].More = high - t.RowHeight(i)
	}
}

// frontWords are an instrument, the service of its loop, and its range.
func frontWords(d *model.Part) string {
	if d == nil {
		return ""
	}
	words := []string{d.Tag, d.Device.Loop.Service}
	if more := wording.Joined(d.Device.Range.Text, statusWord(d.Status)); more != "" {
		words = append(words, more)
	}
	return strings.Join(words, "\n")
}

// statusWord is a status that is not new.
func statusWord(s model.Status) string {
	if s == model.New {
		return ""
	}
	return s.String()
}
