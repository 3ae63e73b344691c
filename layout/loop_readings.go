package layout

import (
	"fmt"
	"math"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// The tables of expected readings stand in two columns over the table of the
// devices. Those that find no room go on to a sheet of their own.

const (
	readingGap = 6 * render.MM // between two tables
	pointWide  = 50 * render.MM
)

// readingTable is what the meter should read along one circuit; nil for
// circuits without such readings.
func (pl *Plan) readingTable(c *model.Circuit, width render.Len) *Table {
	r, ok := pl.Plant.Readings(c)
	if !ok {
		return nil
	}
	t := &Table{Columns: []Column{{Head: c.Name + ": test point", Width: pointWide, Face: fonts.Mono}}}
	for _, s := range r.States {
		t.Columns = append(t.Columns, Column{Head: s, Width: 15 * render.MM, Align: render.Right, Face: fonts.Mono})
	}
	if len(r.States) == 0 {
		t.Columns = append(t.Columns, Column{Head: "", Width: 60 * render.MM})
	}
	t.Rows = append(t.Rows, Row{Print: true, Group: fmt.Sprintf("Expected %s: %s", r.Unit, joined(r.Condition, r.Method))})
	if len(r.Missing) > 0 {
		t.Columns = []Column{{Head: c.Name, Width: width}}
		for _, m := range r.Missing {
			t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: notGiven + ": " + m}}})
		}
		t.Stretch(width)
		return t
	}
	for _, row := range r.Rows {
		cells := []Cell{{S: row.Where()}}
		for _, v := range row.Values {
			cells = append(cells, Cell{S: v.Words(r.Unit)})
		}
		t.Rows = append(t.Rows, Row{Print: true, Cells: cells})
	}
	t.Rows = append(t.Rows, pl.marginRows(c)...)
	t.Stretch(width)
	return t
}

// marginRows tell in words what the parts of a circuit need and what is left.
func (pl *Plan) marginRows(c *model.Circuit) []Row {
	var rows []Row
	for _, m := range pl.Plant.Margins(c) {
		words := m.What + m.When()
		switch {
		case len(m.Missing) > 0:
			words += ": " + notGiven + ": " + strings.Join(m.Missing, ", ")
		default:
			limit, rest := "at least", "left"
			if m.Most {
				limit = "at most"
			}
			if !m.OK() {
				rest = "SHORT"
			}
			words += fmt.Sprintf(": %s %s, %s %.4g %s; %s %s %s", model.Exactly(m.Has).Words(m.Unit), m.Unit, limit, m.Needs, m.Unit, model.Exactly(math.Abs(m.Left())).Words(m.Unit), m.Unit, rest)
		}
		rows = append(rows, Row{Print: true, Group: words})
	}
	for _, s := range pl.Plant.Shares(c) {
		rows = append(rows, Row{Print: true, Group: s.Words()})
	}
	return rows
}

// readingsHeight is the height of tables set in two columns.
func readingsHeight(tables []*Table) render.Len {
	var h render.Len
	for i := 0; i < len(tables); i += 2 {
		h += pairHeight(tables[i:min(i+2, len(tables))]) + 2*render.MM
	}
	return h
}

func pairHeight(pair []*Table) render.Len {
	var h render.Len
	for _, t := range pair {
		h = max(h, t.Height(Span{0, len(t.Rows)}))
	}
	return h
}

// readings draws the tables, the last pair ending at foot.
func (d *loopSheet) readings(foot render.Len) {
	tables := d.lp.readings
	y := foot - readingsHeight(tables)
	for i := 0; i < len(tables); i += 2 {
		pair := tables[i:min(i+2, len(tables))]
		x := d.s.Inner.Min.X
		for _, t := range pair {
			items, unfit := t.Draw(render.Point{X: x, Y: y}, Span{0, len(t.Rows)})
			d.add(items...)
			for _, u := range unfit {
				d.problems = append(d.problems, d.pl.unfit(d.s, u))
			}
			x += t.Width() + readingGap
		}
		y += pairHeight(pair) + 2*render.MM
	}
}
