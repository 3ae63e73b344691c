package wording

import (
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// FaultTable is the head of a fault guide: what the system and the meter show of each
// fault, and what tells it from others.
func FaultTable() *paper.Table {
	return &paper.Table{Columns: []paper.Column{
		{Head: "Fault", Width: 40 * render.MM, Face: fonts.Bold},
		{Head: "System shows", Width: 37 * render.MM},
		{Head: "Meter reads", Width: 38 * render.MM},
		{Head: "How to confirm", Width: 55 * render.MM},
	}}
}

// AddFaults adds how the usual wiring faults of a circuit show; nothing of one of a
// later stage, or of which no fault can be told.
func AddFaults(t *paper.Table, plant *model.Plant, c *model.Circuit) {
	if c.Later(plant) {
		return
	}
	rows, missing := compute.FaultGuide(plant, c)
	if len(rows) == 0 { // what is missing stands with the readings
		return
	}
	words := fmt.Sprintf("%s: %s", c.Name, c.Signal)
	if c.Mains() {
		words += plant.Say("; prove dead before you lift a core or measure ohms")
	}
	t.Rows = append(t.Rows, paper.Row{Group: words})
	for _, f := range rows {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: f.Fault}, {S: f.Shows}, {S: f.Meter}, {S: f.Remark}}})
	}
	if len(missing) > 0 {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: "others, not calculated"}, {S: paper.NotGiven + ":"}, {S: strings.Join(missing, ", ")}}})
	}
}
