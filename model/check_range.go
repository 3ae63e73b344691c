package model

import (
	"math"
	"strings"
)

// checkRanges: is each channel set up for the range of its device, and does the
// range of a sensor lie within its table?
func checkRanges(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		d := c.Device()
		if d == nil || !d.Device.Range.Given() {
			return
		}
		told := map[channel]bool{} // both lanes may come on their own
		for _, st := range c.Stations() {
			ch := channel{st.Part, st.Channel}
			if st.Channel == 0 || st.Part.Card.Ranges == nil || told[ch] {
				continue
			}
			told[ch] = true
			set, ok := st.Part.Card.Ranges[st.Channel]
			if !ok || set.same(d.Device.Range) || d.Device.Calibrated.Given() && set.same(d.Device.Calibrated) {
				continue
			}
			pr := problemAt(st.Pos, "range-mismatch", "%s is ranged %s, and channel %d of %s %s", d.Tag, d.Device.Range.Text, st.Channel, st.Part.Tag, set.Text)
			pr.Also = []Note{{d.Pos, "the device is described here"}, {st.Part.Card.rangePos[st.Channel], "the channel is set up here"}}
			found(pr)
		}
	})
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			checkSensorRange(d, found)
		}
	}
}

// checkSensorRange compares the range of a sensor with what it can measure.
func checkSensorRange(d *Part, found func(Problem)) {
	r := d.Device.Range
	s, ok := FindSensor(d.Device.Sensor)
	if !ok || !r.Given() || r.Unit == "" {
		return
	}
	low, okL := celsius(r.Low, r.Unit)
	high, okH := celsius(r.High, r.Unit)
	if !okL || !okH {
		if d.Kind.Signal == Resistance || d.Kind.Signal == Thermo {
			pr := problemAt(d.Pos, "wrong-unit", "%s is a thermometer, and its range is in %s", d.Tag, r.Unit)
			pr.Hint = "range: 0..150 °C"
			found(pr)
		}
		return
	}
	if least, most := s.Range(); min(low, high) < least || max(low, high) > most {
		pr := problemAt(d.Pos, "range-exceeded", "%s is ranged %s, and sensor %s goes from %s to %s °C (%s)", d.Tag, r.Text, s.Name, figure(least), figure(most), s.Source)
		found(pr)
	}
}

// celsius turns a temperature into °C; false for a unit of another quantity.
func celsius(v float64, unit string) (float64, bool) {
	switch foldUnit(unit) {
	case "C", "Celsius":
		return v, true
	case "F", "Fahrenheit":
		return (v - 32) / 1.8, true
	case "K", "Kelvin":
		return v - 273.15, true
	}
	return 0, false
}

// same tells whether two ranges are one, whatever way the unit is written. A
// range without a unit goes with any.
func (r Range) same(o Range) bool {
	close := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }
	units := r.Unit == "" || o.Unit == "" || foldUnit(r.Unit) == foldUnit(o.Unit)
	return units && close(r.Low, o.Low) && close(r.High, o.High)
}

var unitFolder = strings.NewReplacer(" ", "", "°", "", "deg", "", "²", "2", "³", "3", "^", "", "·", "", "µ", "u", "μ", "u")

// foldUnit writes a unit so that spellings of one agree: m³/h and m3/h, °C and
// deg C. Letters keep their case: mPa is not MPa.
func foldUnit(unit string) string { return unitFolder.Replace(unit) }
