package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// alarms are the set points of the loop's functions.
func (r *recorder) alarms() *Table {
	t := &Table{Columns: []Column{
		{Head: "Alarm or trip", Width: 30 * render.MM, Face: fonts.Bold},
		{Head: "Set at", Width: 26 * render.MM, Face: fonts.Bold},
		{Head: "Signal there", Width: 24 * render.MM},
		{Head: "Tripped at", Width: 20 * render.MM},
		{Head: "Reset at", Width: 20 * render.MM},
		{Head: "Proved by", Width: 38 * render.MM},
		{Head: "Initials", Width: 13 * render.MM},
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
			name, set := strings.TrimSpace(f.Tag+" "+s.Name), cmp.Or(s.At, "by its contact")
			unit, there := alarmSignal(f, s)
			t.Rows = append(t.Rows, Row{
				ID:    fmt.Sprintf("alarm-%d", len(t.Rows)+1),
				Cells: []Cell{{S: name}, {S: strings.TrimSpace(set + unit)}, {S: there}, {}, {}, {Kind: Tick, S: "action|display"}, {}},
			})
		}
	}
	return t
}

// alarmSignal is the signal of the device that a function reads at a set
// point, and the unit if the set point leaves it out.
func alarmSignal(f *model.Function, set model.SetPoint) (unit, signal string) {
	if len(f.Reads) == 0 || f.Reads[0].Broken {
		return "", ""
	}
	p := f.Reads[0].Device()
	if p == nil || !p.Device.Range.Given() {
		return "", ""
	}
	if !set.Valued {
		return "", ""
	}
	if set.Unit == "" {
		unit = " " + p.Device.Range.Unit
	}
	percent, ok := p.Device.Range.PercentOf(set.Value, set.Unit)
	if !ok {
		return unit, notGiven + ": range in " + given(p.Device.Range.Unit)
	}
	switch f.Reads[0].Signal {
	case model.AnalogIn:
		return unit, current(p.Device.Output(), p.Device.SignalFor(percent))
	case model.Resistance, model.Thermo:
		switch v, u, ok := element(p.Device, percent); {
		case ok && u == "mV": // what is injected depends on the terminals
			return unit, millivolts(v)
		case ok:
			return unit, fmt.Sprintf("%.2f %s", v, u)
		}
	}
	return unit, ""
}
