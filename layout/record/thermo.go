package record

import (
	"fmt"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/sensor"
	"ringout/render"
)

// terminalTemps are the temperatures, by unit, of the terminals that a thermocouple
// is stood in for at. Between two of them its voltage goes in proportion, within
// 0.001 mV of ITS-90.
var terminalTemps = map[string][]float64{
	"°C": {0, 10, 20, 30, 40, 50, 60, 70, 80},
	"°F": {32, 40, 60, 80, 100, 120, 140, 160, 180},
}

// degrees is the unit that temperatures are read in beside a device: °F where its
// range is in it, else °C.
func degrees(d *model.Device) string {
	if v, ok := d.AtSensor().FromCelsius(0); ok && v == 32 {
		return "°F"
	}
	return "°C"
}

// couple is the thermocouple of a device; false for other sensors, and where its
// type is not given.
func couple(d *model.Device) (sensor.Sensor, bool) {
	element, known := sensor.Named(d.Sensor)
	return element, known && element.Unit() == "mV"
}

// injectCouple are the rows of the two ways to stand in for a thermocouple, of
// which one is ticked, and of the terminals: those that the tester's copper is
// clipped to, where the alloy ends.
func (k *loopCheckBuilder) injectCouple(d *model.Device) {
	element, is := couple(d)
	if !is {
		return
	}
	t, unit := k.analogue, degrees(d)
	fill := func(cells ...paper.Cell) { // beside the words, which take the room of two columns
		all := t.Rows[len(t.Rows)-1].Cells
		all[1].S, all[2] = all[1].S+"; "+all[2].S, paper.Cell{Kind: paper.Before}
		copy(all[upSent:], cells)
	}
	used := paper.Cell{Kind: paper.Tick, S: "used"}
	row(t, "Either mV", "copper leads, calibrator compensation off", "mV of the point − mV of the terminals", upShown, downSent, downShown)
	fill(used)
	row(t, "or degrees", "leads of type "+element.Name+" wire, calibrator set to "+element.Name+", compensation on", unit+" of the point, nothing subtracted", upShown, downSent, downShown)
	fill(used)
	row(t, "Terminals", "for mV: measure temperature where the copper leads are clipped", "note "+unit+"; mV by the table below; again before down")
	fill(paper.Cell{S: unit}, paper.Cell{S: "mV"}, paper.Cell{S: unit}, paper.Cell{S: "mV"})
	k.terminalRow(element, unit)
}

// terminalRow is what terminals of each temperature take off, by ITS-90. One type
// has one row for each unit.
func (k *loopCheckBuilder) terminalRow(element sensor.Sensor, unit string) {
	head := "mV to subtract,\nterminals at " + unit
	var t *paper.Table
	for _, x := range k.terminals {
		if x.Columns[0].Head == head {
			t = x
		}
	}
	if t == nil {
		t = &paper.Table{Columns: []paper.Column{{Head: head, Width: 35 * render.MM, Face: fonts.Bold}}}
		for _, at := range terminalTemps[unit] {
			t.Columns = append(t.Columns, paper.Column{Head: wording.Plain(at), Width: 15 * render.MM, Align: render.Right})
		}
		k.terminals = append(k.terminals, t)
	}
	cells := []paper.Cell{{S: "type " + element.Name}}
	for _, row := range t.Rows {
		if row.Cells[0] == cells[0] {
			return
		}
	}
	for _, at := range terminalTemps[unit] {
		celsius, _ := model.Convert(at, unit, "°C")
		words := paper.NotGiven
		if v, ok := element.Value(celsius); ok {
			words = compute.Exactly(v).Words("mV")
		}
		cells = append(cells, paper.Cell{S: words})
	}
	t.Rows = append(t.Rows, paper.Row{Print: true, Cells: cells})
}

// lacks says why what a temperature element gives cannot be computed.
func lacks(d *model.Device) string {
	switch _, known := sensor.Named(d.Sensor); {
	case d.Sensor == "":
		return paper.NotGiven + ": sensor"
	case !known:
		return paper.NotGiven + ": no table of sensor " + d.Sensor
	}
	if _, ok := d.AtSensor().Celsius(d.AtSensor().Low); !ok {
		return paper.NotGiven + ": range in degrees"
	}
	return paper.NotGiven + ": outside the table of sensor " + d.Sensor
}

// atPoint is what stands in for a temperature element where its range is at a
// percentage: Ω, or of a thermocouple mV and the degrees for a tester that
// compensates.
func atPoint(d *model.Device, percent float64) string {
	v, unit, ok := wording.Element(d, percent)
	switch {
	case !ok:
		return lacks(d)
	case unit != "mV":
		return fmt.Sprintf("%.2f %s", v, unit)
	}
	there := func(at float64) string {
		v, _, _ := wording.Element(d, at)
		return wording.Millivolts(v)
	}
	degrees, _ := value(d.AtSensor(), percent, there)
	return wording.Millivolts(v) + ", or " + degrees
}
