package record

import (
	"fmt"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// variables is the check of what smart devices tell the system digitally: the same value
// on a communicator across the pair and under the tag of the system. What nothing reads has
// no row.
func (r *recordBuilder) variables() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Digital variable", Width: 30 * render.MM, Face: fonts.Bold},
		{Head: "What it is, range", Width: 46 * render.MM},
		{Head: "Tag in the system", Width: 28 * render.MM, Face: fonts.Mono},
		{Head: "Communicator reads", Width: 26 * render.MM, Hand: paper.Reading},
		{Head: "System shows", Width: 26 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}
	for _, d := range r.loop.Devices {
		if d.Unwired() || d.Status == model.Future {
			continue
		}
		for _, v := range d.Device.ReadVariables() {
			t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("variable-%d", len(t.Rows)+1), Cells: []paper.Cell{
				{S: d.Tag + " " + v.Name}, {S: wording.Given(v.Words) + ", " + wording.Given(v.Range.Text)}, {S: v.Tag},
			}})
		}
	}
	return t
}
