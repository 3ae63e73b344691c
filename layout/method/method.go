// Package method says how cables are rung out and how wiring is tested: once for a set
// or a pack, so that each form has room for what is measured.
package method

import (
	"strconv"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/english"
	"ringout/model/material"
	"ringout/render"
)

// Sections are the order of test for the forms of a plant; none where no form asks
// for it. The orders are common practice.
func Sections(plant *model.Plant) []paper.Section {
	var rung, lone, grouped bool
	for _, c := range plant.Cables {
		if material.RungOut(c) {
			rung = true
			lone = lone || c.Type.Size == 1
			grouped = grouped || c.Type.Size > 1
		}
	}
	var all []paper.Section
	if rung {
		all = append(all, paper.Section{Title: "How to ring out a cable", Table: steps(plant, lone, grouped), Whole: true},
			paper.Section{Table: numbered(plant, "One person, pairs: resistor plugs at the far end", plugRows), Whole: true})
	}
	if len(plant.Loops) > 0 {
		all = append(all, paper.Section{Title: "How to test the wiring of a loop", Table: numbered(plant, plant.Say("Ω are of copper at ")+plant.Practice.TestCopper.String(), loopRows), Whole: true})
	}
	return all
}

// step is one step of the order, for one person and for two.
type step struct{ one, two english.Text }

// The steps, in their order.
var (
	first = step{"Null the test leads. Check tag, core count, colours at both ends with the sheet.",
		"A at end A notes, B at end B. Both check tag, count groups."}
	link = step{"Far end: link the cores of one group, rest open. Or use plugs as below.",
		"A calls group and core: number, colour. B repeats, then links that core to the rest of its group."}
	linkLone = step{"Single cores: link two at the far end, rest open; then one of them to the next.",
		"Single cores: A calls number, colour. B repeats, then links it to a proved core, first to what the sheet names for identity."}
	measure = step{"Near end: measure core to core, one reading for two. Then link each core alone to what the sheet names for identity: no other core shows continuity: tick Identity.",
		"A measures. B unlinks: open. A records, calls next. Then each core alone to what the sheet names: tick Identity."}
	apart = step{"Unlink: each core open to other cores, screens, earth. Insulation, where the sheet asks: each core to all else joined to earth; write the lowest.",
		"Unlinked: A measures. Insulation: A calls; B: “hands off, ends clear”, stands by; A tests, discharges, calls “clear”."}
	screens = step{"Screens, earth lifted: link each to a proved core at the far end, measure both in series; all alike. Unlink: open to cores and earth.",
		"Screens the same, earth lifted: with a proved core, then open to cores; free end open to earth."}
	last = step{"Discharge. Remove links, plugs. Restore screen earths. Land or cap as drawn; tick Landed; initial.",
		"Discharge. Both report links off. Restore screen earths. Land or cap as drawn; tick Landed at each end; initial."}
)

// steps is the order of test.
func steps(plant *model.Plant, lone, grouped bool) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "", Width: 6 * render.MM},
		{Head: "One person: link the far end", Width: 82 * render.MM},
		{Head: "Two people: call and answer", Width: 82 * render.MM},
	}}
	all := []step{first}
	if grouped {
		all = append(all, link)
	}
	if lone {
		all = append(all, linkLone)
	}
	for i, s := range append(all, measure, apart, screens, last) {
		t.Rows = append(t.Rows, stepRow(plant, i, s.one, s.two))
	}
	return t
}

// plugRows tell how one person finds the number of a pair, its cores and their ohms in
// one visit to the far end.
var plugRows = []english.Text{
	"Make 12 plugs with three clips. Plug n joins clip a to the screen clip by n times the step of the sheet, and clip b to it directly. Measure each plug; write the ohms on it.",
	"Far end, cable dead: plug n to core a, core b and the screen of pair n (no screen: a proved core). A box of more than 12 pairs is done by twelves.",
	"Near end: core b is the one that reads low to the screen. Between a and b: plug + both cores. The plug says which pair it is: tick Identity.",
	"Ω read is the reading less the ohms of the plug. A reading between two steps, or above the limit, is no pass. Take the plugs off before any other test.",
}

// loopRows tell how the wiring test of a loop is filled in.
var loopRows = []english.Text{
	"Continuity, leads nulled: link the cores at the far end; measure each to the next. Identity: link each core alone to its screen or a proved core; no other core shows continuity. Then unlink: each core open to other cores, screens, earth.",
	"Screens: lift the earth, link to a proved core at the far end, measure both in series. Unlink: open to all cores; free end open to earth.",
	"Cores with a ring-out sheet are not tested again. Tick “proved” once that sheet is filled in and signed.",
	"Test N (new) and E (existing), not F (future). Loop check: call the reading before hearing the expected value.",
}

// numbered is a table of steps, one below the other, under a head.
func numbered(plant *model.Plant, head string, rows []english.Text) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "", Width: 6 * render.MM},
		{Head: head, Width: 164 * render.MM},
	}}
	for i, s := range rows {
		t.Rows = append(t.Rows, stepRow(plant, i, s))
	}
	return t
}

// stepRow is the row of step i, from 0.
func stepRow(plant *model.Plant, i int, says ...english.Text) paper.Row {
	row := paper.Row{Print: true, Cells: []paper.Cell{{S: strconv.Itoa(i + 1), Bold: true}}}
	for _, s := range says {
		row.Cells = append(row.Cells, paper.Cell{S: plant.Say(s)})
	}
	return row
}

// PlugStep is the step between the resistors of plugs in ohms: the least round number
// of at least twice the most that two cores may read, so that a number cannot be
// taken for the next.
func PlugStep(most float64) float64 {
	for step := 1.0; ; step *= 10 {
		for _, round := range []float64{1, 2, 5} {
			if step*round >= 2*most {
				return step * round
			}
		}
	}
}
