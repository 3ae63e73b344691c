package layout

import (
	"testing"

	"ringout/render"
)

// TestFlowCloses: what closes a form stands on no page alone. It takes the last
// table along where that is whole, or else the last group of its rows, and no row
// is lost or shown twice.
func TestFlowCloses(t *testing.T) {
	t.Parallel()
	for rows := 1; rows < 60; rows++ {
		body := &Table{Columns: []Column{{Head: "A", Width: 50 * render.MM}}}
		for i := range rows {
			if i%3 == 0 {
				body.Rows = append(body.Rows, Row{Group: "three rows"})
			}
			body.Rows = append(body.Rows, Row{Cells: []Cell{{S: "row"}}})
		}
		head := &Table{Columns: body.Columns, Rows: make([]Row, 3)}
		sections := []section{{table: head}, {table: body}, {table: punchItems(leastPunch), whole: true, close: true}, {table: instrumentsUsed(), whole: true}, {table: signOff([]string{"One", "Two"}), whole: true}}
		for _, s := range sections {
			s.table.finish(170 * render.MM)
		}
		room := 200 * render.MM
		pages, left := flow(sections, room)
		next := Span{}
		for i, pieces := range pages {
			used := render.Len(0)
			for j, p := range pieces {
				if j > 0 {
					used += formGap
				}
				used += sections[p.section].table.Height(p.rows)
				if p.section == 1 {
					if p.rows.From != next.To || p.rows.To <= p.rows.From {
						t.Fatalf("%d rows: page %d has %v after %v", rows, i+1, p.rows, next)
					}
					next = p.rows
				}
			}
			if used > room {
				t.Errorf("%d rows: page %d is %d high", rows, i+1, used)
			}
		}
		if next.To != len(body.Rows) || left < 0 {
			t.Errorf("%d rows: the last shown is %d of %d, %d left", rows, next.To, len(body.Rows), left)
		}
		last := pages[len(pages)-1]
		if n := len(last); n < 4 || last[n-3].section != 2 {
			t.Errorf("%d rows: the last page has %v", rows, last)
		}
	}
}
