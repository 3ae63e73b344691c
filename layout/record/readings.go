package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// mostStates are the columns of expected readings that one table has room for.
const mostStates = 7

// readAt is the current in mA that readings are written in for.
const readAt = "12 mA"

// readingForms are the expected readings along a circuit with room for those
// taken: one table, or more where the practice computes many currents; none
// for circuits without such readings. Where values are missing the table names
// them, and computed is false.
func readingForms(plant *model.Plant, c *model.Circuit) (all []*paper.Table, computed bool) {
	r, ok := compute.ReadingsOf(plant, c)
	if !ok || c.Later(plant) {
		return nil, false
	}
	if len(r.Missing) > 0 {
		return []*paper.Table{{
			Columns: []paper.Column{{Head: c.Name + ": readings, margins and fault finding cannot be calculated", Width: 170 * render.MM}},
			Rows:    []paper.Row{{Print: true, Cells: []paper.Cell{{S: paper.NotGiven + ": " + strings.Join(missing(plant, c, r.Missing), ", ")}}}},
		}}, false
	}
	for from := 0; from < len(r.States); from += mostStates {
		all = append(all, readingForm(r, from, min(from+mostStates, len(r.States)), len(all)))
	}
	if n := len(all); n > 0 { // no states, no table
		all[n-1].Rows = append(all[n-1].Rows, wording.MarginRows(plant, c)...)
	}
	return all, true
}

// missing are the values that readings, margins and faults of a circuit lack.
func missing(plant *model.Plant, c *model.Circuit, names []string) []string {
	_, more := compute.FaultGuide(plant, c)
	for _, m := range compute.Margins(plant, c) {
		more = append(more, m.Missing...)
	}
	names = slices.Clone(names)
	for _, name := range more {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// readingForm is the table of some of the states; number tells it from the
// others of the circuit.
func readingForm(r compute.Readings, from, to, number int) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: r.Circuit.Name + ": test point", Width: 40 * render.MM, Face: fonts.MonoBold}}}
	for _, s := range r.States[from:to] {
		t.Columns = append(t.Columns, paper.Column{Head: s, Width: 15500, Align: render.Right})
	}
	blank, of := written(r, from, to)
	for _, head := range blank {
		t.Columns = append(t.Columns, paper.Column{Head: head, Width: 15 * render.MM, Hand: paper.Reading})
	}
	t.Rows = append(t.Rows, paper.Row{Print: true, Group: wording.Joined("Expected "+r.Unit+": "+r.Condition, r.Method)})
	for i, row := range r.Rows {
		cells := []paper.Cell{{S: row.Where()}}
		for _, v := range row.Values[from:to] {
			cells = append(cells, paper.Cell{S: v.Words(r.Unit)})
		}
		for k := range blank {
			cell := paper.Cell{}
			if of >= 0 && math.IsNaN(row.Values[of+k].Value) {
				cell.Kind = paper.NA
			}
			cells = append(cells, cell)
		}
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("reading-%s-%d-%d", sheet.PlainName(r.Circuit.Name), number, i+1), Cells: cells})
	}
	return t
}

// written are the heads of the columns to write in, of the states from one on;
// of is below zero where they are of no state: a sensor is read as it stands,
// its temperature beside.
func written(r compute.Readings, from, to int) (heads []string, of int) {
	switch r.Circuit.Signal {
	case model.Resistance, model.Thermo:
		if from > 0 {
			return nil, -1
		}
		return []string{"Read:\n" + r.Unit, "Read:\nat " + degrees(r.Circuit.Device().Device)}, -1
	case model.AnalogIn, model.AnalogOut:
		of = slices.Index(r.States, readAt)
		if of < 0 {
			of = len(r.States) / 2
		}
		if of < from || of >= to {
			return nil, -1
		}
		return []string{"Read at\n" + r.States[of]}, of
	}
	for _, s := range r.States[from:to] {
		heads = append(heads, "Read:\n"+s)
	}
	return heads, from
}

// faults tells how the usual wiring faults of each circuit show, where its loop diagram
// had no room for that.
func (r *recordBuilder) faults() *paper.Table {
	t := wording.FaultTable()
	for _, c := range r.loop.Circuits {
		if !r.diagramShows(sheet.FaultsOf{Circuit: c}) {
			wording.AddFaults(t, r.plant, c)
		}
	}
	return t
}

// diagramShows reports whether the loop diagram of the set shows a thing.
func (r *recordBuilder) diagramShows(what any) bool {
	if r.pl == nil {
		return false
	}
	_, ok := r.pl.Ref(sheet.Loop, what)
	return ok
}
