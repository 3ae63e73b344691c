package loop

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// The tables of expected readings stand in two columns over the table of the
// devices. Those that find no room are left to the record.

// reading is such a table.
type reading struct {
	*paper.Table
	shows any // of a circuit, as the record asks for it; nil for the front of a panel
}

const (
	readingGap = 6 * render.MM // between two tables
	pointWide  = 50 * render.MM
)

// readingTable is what the meter should read along one circuit; nil for
// circuits without such readings.
func readingTable(plant *model.Plant, c *model.Circuit, width render.Len) *paper.Table {
	r, ok := compute.ReadingsOf(plant, c)
	if !ok {
		return nil
	}
	t := &paper.Table{Columns: []paper.Column{{Head: c.Name + ": test point", Width: pointWide, Face: fonts.Mono}}}
	for _, s := range r.States {
		t.Columns = append(t.Columns, paper.Column{Head: s, Width: 15 * render.MM, Align: render.Right, Face: fonts.Mono})
	}
	if len(r.States) == 0 {
		t.Columns = append(t.Columns, paper.Column{Head: "", Width: 60 * render.MM})
	}
	t.Rows = append(t.Rows, paper.Row{Print: true, Group: fmt.Sprintf("Expected %s: %s", r.Unit, wording.Joined(r.Condition, r.Method))})
	if len(r.Missing) > 0 {
		t.Columns = []paper.Column{{Head: c.Name, Width: width}}
		for _, m := range r.Missing {
			t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: paper.NotGiven + ": " + m}}})
		}
		t.Stretch(width)
		return t
	}
	for _, row := range r.Rows {
		cells := []paper.Cell{{S: row.Where()}}
		for _, v := range row.Values {
			cells = append(cells, paper.Cell{S: v.Words(r.Unit)})
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: cells})
	}
	t.Rows = append(t.Rows, wording.MarginRows(plant, c)...)
	t.Stretch(width)
	t.Measure()
	return t
}

// guides sets the fault guide of each circuit among the readings of the sheet on which
// it ends, or of another with room under its drawing. The others are left to the record.
func (g *loopPager) guides() {
	for i, lp := range g.plans {
		for _, c := range lp.ends() {
			guide := wording.FaultTable()
			wording.AddFaults(guide, g.pl.Plant, c)
			if len(guide.Rows) == 0 {
				continue
			}
			guide.Stretch((g.in.W() - readingGap) / 2)
			guide.Measure()
			for n := range g.plans { // its own first
				at := (i + n) % len(g.plans)
				if g.settle(at, reading{guide, sheet.FaultsOf{Circuit: c}}) {
					break
				}
			}
		}
	}
}

// ends are the circuits that end on a sheet.
func (lp *loopPlan) ends() (all []*model.Circuit) {
	for _, t := range lp.tiers {
		for _, b := range t.blocks {
			if b.segment.next == nil && !slices.Contains(all, b.circuit) {
				all = append(all, b.circuit)
			}
		}
	}
	return all
}

// settle sets a table among the readings of a sheet, if it has room for it.
func (g *loopPager) settle(sheet int, t reading) bool {
	lp := g.plans[sheet]
	more := append(slices.Clone(lp.readings), t)
	if readingsHeight(more) > lp.foot-markUp-tableHeight(lp.devices)-g.reach(sheet) {
		return false
	}
	lp.readings = more
	return true
}

// reach is how far down what is drawn on a sheet reaches.
func (g *loopPager) reach(sheet int) render.Len {
	reach := g.sheets[sheet].Inner.Min.Y
	for _, t := range g.plans[sheet].tiers {
		for _, b := range t.blocks {
			reach = max(reach, b.top+b.height)
		}
		reach = max(reach, g.plans[sheet].functionsReach(g.pl, g.sheets[sheet], t))
	}
	return reach
}

// tablesTop is where the tables at the foot of a sheet begin.
func (lp *loopPlan) tablesTop() render.Len {
	return lp.foot - tableHeight(lp.devices) - readingsHeight(lp.readings)
}

// readingsHeight is the height of tables set in two columns.
func readingsHeight(tables []reading) render.Len {
	var h render.Len
	for i := 0; i < len(tables); i += 2 {
		h += pairHeight(tables[i:min(i+2, len(tables))]) + 2*render.MM
	}
	return h
}

func pairHeight(pair []reading) render.Len {
	var h render.Len
	for _, t := range pair {
		h = max(h, t.Height(paper.Span{From: 0, To: len(t.Rows)}))
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
			items, unfit := t.Draw(render.Point{X: x, Y: y}, paper.Span{From: 0, To: len(t.Rows)})
			d.Add(items...)
			for _, u := range unfit {
				d.problems = append(d.problems, d.pl.TextTooLong(d.s, u))
			}
			x += t.Width() + readingGap
		}
		y += pairHeight(pair) + 2*render.MM
	}
}
