package wording

import (
	"fmt"
	"math"
	"strings"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/compute"
)

// MarginRows tell in words what the parts of a circuit need and what is left.
func MarginRows(plant *model.Plant, c *model.Circuit) []paper.Row {
	var rows []paper.Row
	for _, m := range compute.Margins(plant, c) {
		words := m.What + m.When()
		switch {
		case len(m.Missing) > 0:
			words += ": " + paper.NotGiven + ": " + strings.Join(m.Missing, ", ")
		default:
			limit, rest := "at least", "left"
			if m.Most {
				limit = "at most"
			}
			if !m.OK() {
				rest = "SHORT"
			}
			words += fmt.Sprintf(": %s %s, %s %.4g %s; %s %s %s", compute.Exactly(m.Has).Words(m.Unit), m.Unit, limit, m.Needs, m.Unit, compute.Exactly(math.Abs(m.Left())).Words(m.Unit), m.Unit, rest)
		}
		rows = append(rows, paper.Row{Print: true, Group: words})
	}
	for _, s := range compute.Shares(plant, c) {
		rows = append(rows, paper.Row{Print: true, Group: s.Words()})
	}
	return rows
}
