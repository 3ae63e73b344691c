// Package wording puts a plant into the words that stand on sheets: cores, pairs, places,
// figures, and NOT GIVEN where a fact is missing.
package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/sensor"
)

// IssueOf is a revision with its date: B of 2031-06-01; NOT GIVEN without a mark.
func IssueOf(rev model.Revision) string {
	if rev.Date == "" {
		return Given(rev.Mark)
	}
	return Given(rev.Mark) + " of " + rev.Date
}

// Joined joins the texts that are not empty with commas.
func Joined(texts ...string) string {
	var all []string
	for _, t := range texts {
		if t != "" {
			all = append(all, t)
		}
	}
	return strings.Join(all, ", ")
}

// Given is a text, or NOT GIVEN where there is none.
func Given(s string) string {
	if s == "" {
		return paper.NotGiven
	}
	return s
}

// OutputKind is the kind of output of a three-wire switch or transmitter; "" of others.
func OutputKind(p *model.Part) string {
	words := p.Kind.Outputs()
	switch {
	case len(words) == 0:
		return ""
	case p.Device.Sinks():
		return words[1]
	}
	return words[0]
}

// AlarmSignal is the signal of the device that a function reads at a set
// point, and the unit if the set point leaves it out.
func AlarmSignal(f *model.Function, set model.SetPoint) (unit, signal string) {
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
		return unit, paper.NotGiven + ": range in " + Given(p.Device.Range.Unit)
	}
	switch f.Reads[0].Signal {
	case model.AnalogIn:
		return unit, Current(compute.Output(p.Device), compute.SignalFor(p.Device, percent))
	case model.Displacement:
		r := p.Device.Range
		mV, ok := compute.PeakToPeak(p.Device, r.At(percent), r.Unit)
		if !ok {
			return unit, paper.NotGiven + ": scale of " + p.Tag
		}
		return unit, fmt.Sprintf("%.0f mV p-p AC", mV)
	case model.Resistance, model.Thermo:
		switch v, u, ok := Element(p.Device, percent); {
		case ok && u == "mV": // what is injected depends on the terminals
			return unit, Millivolts(v)
		case ok:
			return unit, fmt.Sprintf("%.2f %s", v, u)
		}
	}
	return unit, ""
}

// Current is a percentage of a signal as a meter shows it, to 0.01 mA.
func Current(signal model.Range, percent float64) string {
	return fmt.Sprintf("%.2f %s", signal.At(percent), signal.Unit)
}

// StrokeLimit is the most seconds that a valve may take from end to end.
func StrokeLimit(valve *model.Part) string {
	if s := valve.Device.Stroke; s > 0 {
		return "stroke max " + Plain(s) + " s"
	}
	return paper.NotGiven + ": stroke time of " + valve.Tag
}

// Element is the signal of a device's temperature element where its range
// stands at a percentage; false where sensor, range or unit tell nothing.
func Element(d *model.Device, percent float64) (v float64, unit string, ok bool) {
	element, known := sensor.Named(d.Sensor)
	span := d.AtSensor()
	celsius, ok := span.Celsius(span.At(percent))
	if !known || !ok {
		return 0, "", false
	}
	v, ok = element.Value(celsius)
	return v, element.Unit(), ok
}

// Megohms is an insulation resistance in MΩ with its unit, to three digits: 5 MΩ, 2 GΩ.
func Megohms(v float64) string {
	if s := MegohmFigure(v); v >= 1000 {
		return s
	} else {
		return s + " MΩ"
	}
}

// MegohmFigure is the same under a head that has the unit MΩ: 5, 2 GΩ.
func MegohmFigure(v float64) string {
	if v >= 1000 {
		return fmt.Sprintf("%.3g GΩ", v/1000)
	}
	return fmt.Sprintf("%.3g", v)
}

// Plain is a number without needless digits.
func Plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Figure prints a value of a range to about a thousandth of its span.
func Figure(v, span float64) string {
	digits := 3
	if span = math.Abs(span); span > 0 {
		digits = min(6, max(0, 3-int(math.Floor(math.Log10(span)))))
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// OhmFigure prints ohms to three digits, as a good meter does.
func OhmFigure(v float64) string {
	switch {
	case v < 10:
		return strconv.FormatFloat(v, 'f', 2, 64)
	case v < 100:
		return strconv.FormatFloat(v, 'f', 1, 64)
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}

// Millivolts is what a thermocouple gives at a point, of which its terminals take
// off what they are warm: the meter or card there sees E(point) − E(terminals).
func Millivolts(v float64) string { return compute.Exactly(v).Words("mV") + " mV − terminals" }

// MarginWords tell what is there, what is needed and what is left.
func MarginWords(m compute.Margin) string {
	words := m.What + m.When()
	if len(m.Missing) > 0 {
		return words + ": " + paper.NotGiven + ": " + strings.Join(m.Missing, ", ")
	}
	limit, rest := "min", "margin"
	if m.IsMax {
		limit = "max"
	}
	if !m.OK() {
		rest = "FAILS by"
	}
	figure := func(v float64) string { return compute.Exactly(v).Words(m.Unit) + " " + m.Unit }
	switch m.Unit {
	case "":
		figure = model.Round
	case "m", "ft", "%":
		figure = func(v float64) string { return model.Round(v) + " " + m.Unit }
	}
	return fmt.Sprintf("%s: %s, %s %s; %s %s", words, figure(m.Actual), limit, strings.TrimSpace(model.Round(m.Limit)+" "+m.Unit), rest, figure(math.Abs(m.Headroom())))
}

// MarginRows tell in words what the parts of a circuit need and what is left.
func MarginRows(plant *model.Plant, c *model.Circuit) []paper.Row {
	var rows []paper.Row
	for _, m := range compute.Margins(plant, c) {
		rows = append(rows, paper.Row{Print: true, Group: MarginWords(m)})
	}
	for _, s := range compute.Shares(plant, c) {
		rows = append(rows, paper.Row{Print: true, Group: s.Words()})
	}
	return rows
}
