package record

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// alarms are the set points of the loop's functions.
func (r *recordBuilder) alarms() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Alarm or trip", Width: 28 * render.MM, Face: fonts.Bold},
		{Head: "Set", Width: 26 * render.MM, Face: fonts.Bold},
		{Head: "At signal", Width: 30 * render.MM},
		{Head: "Tripped at", Width: 19 * render.MM, Hand: paper.Reading},
		{Head: "Reset at", Width: 19 * render.MM, Hand: paper.Reading},
		{Head: "Proved by", Width: 36 * render.MM},
		paper.Initials,
	}}
	for _, f := range r.loop.Functions {
		if slices.ContainsFunc(f.Reads, func(c *model.Circuit) bool { return c.Later(r.plant) }) {
			continue
		}
		sets := f.Alarms
		if f.Set.Given() && (f.Kind == model.Switch || f.Kind == model.Alarm) {
			sets = append([]model.SetPoint{f.Set}, sets...)
		}
		for _, s := range sets {
			name, set := strings.TrimSpace(f.Tag+" "+s.Name), cmp.Or(s.At, "by contact")
			unit, there := wording.AlarmSignal(f, s)
			if back, ok := s.Resets(); ok {
				_, at := wording.AlarmSignal(f, back)
				set, there, unit = set+unit+", resets "+back.At, wording.Joined(there, at), ""
			}
			t.Rows = append(t.Rows, paper.Row{
				ID:    fmt.Sprintf("alarm-%d", len(t.Rows)+1),
				Cells: []paper.Cell{{S: name}, {S: strings.TrimSpace(set + unit)}, {S: there}, {}, {}, {Kind: paper.Tick, S: "action|display"}, {}},
			})
		}
	}
	return t
}
