package record

import (
	"testing"

	"ringout/layout/paper"
	"ringout/render"
)

// TestFlowCloses: what closes a form stands on no page alone. It takes the last
// table along where that is whole, or else the last group of its rows, and no row
// is lost or shown twice.
func TestFlowCloses(t *testing.T) {
	t.Parallel()
	for rows := 1; rows < 60; rows++ {
		body := &paper.Table{Columns: []paper.Column{{Head: "A", Width: 50 * render.MM}}}
		for i := range rows {
			if i%3 == 0 {
				body.Rows = append(body.Rows, paper.Row{Group: "three rows"})
			}
			body.Rows = append(body.Rows, paper.Row{Cells: []paper.Cell{{S: "row"}}})
		}
		head := &paper.Table{Columns: body.Columns, Rows: make([]paper.Row, 3)}
		sections := []paper.Section{{Table: head}, {Table: body}, {Table: PunchItems(leastPunch), Whole: true, Close: true}, {Table: instrumentsUsed(), Whole: true}, {Table: SignOff([]string{"One", "Two"}), Whole: true}}
		for _, s := range sections {
			s.Table.Finish(170 * render.MM)
		}
		room := 200 * render.MM
		pages, left := paper.Flow(sections, room, room, 0)
		next := paper.Span{}
		for i, pieces := range pages {
			used := render.Len(0)
			for j, p := range pieces {
				if j > 0 {
					used += paper.FormGap
				}
				used += sections[p.Section].Table.Height(p.Rows)
				if p.Section == 1 {
					if p.Rows.From != next.To || p.Rows.To <= p.Rows.From {
						t.Fatalf("%d rows: page %d has %v after %v", rows, i+1, p.Rows, next)
					}
					next = p.Rows
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
		if n := len(last); n < 4 || last[n-3].Section != 2 {
			t.Errorf("%d rows: the last page has %v", rows, last)
		}
	}
}
