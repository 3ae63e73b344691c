package record

import (
	"fmt"
	"math"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// entityAid says what the comparison is and is not.
const entityAid = "Calculation aid only: the descriptive system document governs."

// entity compares the safety values of source, devices and cables of an
// intrinsically safe circuit; nil for other circuits.
func (r *recordBuilder) entity(c *model.Circuit) *paper.Table {
	rows, method, ok := compute.EntityOf(r.plant, c)
	if !ok {
		return nil
	}
	figures := func(head string) paper.Column {
		return paper.Column{Head: head, Width: 15 * render.MM, Align: render.Right}
	}
	t := &paper.Table{Columns: []paper.Column{
		{Head: c.Name, Width: 32 * render.MM, Face: fonts.Bold},
		figures("Source"), figures("Devices"), figures("Cables"), figures("Sum"), figures("Limit"), figures("Margin"),
		{Head: "Result", Width: 48 * render.MM},
	}}
	for _, e := range rows {
		sum, limit, left, result := entityFigure(e.Sum), entityFigure(e.Limit), entityFigure(e.Margin), "within"
		switch {
		case e.Missing != "":
			sum, limit, left, result = "–", "–", "–", paper.NotGiven+": "+e.Missing
		case !e.OK:
			result = "EXCEEDED"
		}
		if e.Note != "" {
			result += "; " + e.Note
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{
			{S: e.Name + ", " + e.Unit}, {S: unlessZero(e.Source)}, {S: unlessZero(e.Device)}, {S: unlessZero(e.Cable)},
			{S: sum}, {S: limit}, {S: left}, {S: result, Bold: e.Missing == "" && !e.OK},
		}})
	}
	for _, m := range method {
		t.Rows = append(t.Rows, paper.Row{Print: true, Group: m})
	}
	t.Rows = append(t.Rows, paper.Row{Print: true, Group: entityAid})
	return t
}

// entityFigure writes a safety value with three decimals at most.
func entityFigure(v float64) string { return fmt.Sprint(math.Round(v*1000) / 1000) }

func unlessZero(v float64) string {
	if v == 0 {
		return "–"
	}
	return entityFigure(v)
}
