package check

import (
	"strings"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/sensor"
)

// checkRanges: is each channel set up for the range of its device, does the range
// of a sensor lie within its table, and are set points in its unit?
func checkRanges(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		d := c.Device()
		if d == nil || !d.Device.Range.Given() {
			return
		}
		told := map[channel]bool{} // both legs may come on their own
		for _, st := range c.Stations() {
			ch := channel{st.Part, st.Channel}
			if st.Channel == 0 || st.Part.Card.Ranges == nil || told[ch] {
				continue
			}
			told[ch] = true
			set, ok := st.Part.Card.Ranges[st.Channel]
			if !ok || set.Same(d.Device.Range) || d.Device.Calibrated.Given() && set.Same(d.Device.Calibrated) {
				continue
			}
			pr := finding.At(st.Pos, finding.RangeMismatch, "%s: range %s; channel %d of %s has %s", d.Tag, d.Device.Range.Text, st.Channel, st.Part.Tag, set.Text)
			pr.Also = []finding.Related{{Pos: d.Pos, Text: "the device is described here"}, {Pos: st.Part.Card.RangePos[st.Channel], Text: "the channel is set up here"}}
			found(pr)
		}
	})
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			checkSensorRange(d, found)
		}
		for _, f := range l.Functions {
			checkSetPoints(f, found)
		}
	}
}

// checkSetPoints: is each set point in a unit of what its function reads? A rate,
// such as bar/min, has no place in the range.
func checkSetPoints(f *model.Function, found func(finding.Finding)) {
	if len(f.Reads) == 0 || f.Reads[0].Broken {
		return
	}
	d := f.Reads[0].Device()
	if d == nil || d.Device.Range.Low == d.Device.Range.High {
		return
	}
	for _, s := range append([]model.SetPoint{f.Set}, f.Alarms...) {
		if at, ok := d.Device.Range.PercentOf(s.Value, s.Unit); s.Valued && ok && (at < -1e-9 || at > 100+1e-9) {
			pr := finding.At(f.Pos, finding.SetPointOutside, "%s: set point %s is outside the range %s of %s", f.Tag, s, d.Device.Range.Text, d.Tag)
			pr.Also = []finding.Related{{Pos: d.Pos, Text: "the device is described here"}}
			found(pr.WithHint(finding.Do("set it within the range: it is never reached outside")))
		}
	}
	for _, s := range f.Alarms {
		if !s.Valued {
			continue
		}
		over, _, rate := strings.Cut(s.Unit, "/")
		if _, is := d.Device.Range.PercentOf(s.Value, s.Unit); is {
			continue
		} else if _, is := d.Device.Range.PercentOf(s.Value, over); is && rate {
			continue
		}
		pr := finding.At(f.Pos, finding.WrongUnit, "%s: set point %s; range of %s is %s", f.Tag, s, d.Tag, d.Device.Range.Text).Warning()
		pr.Also = []finding.Related{{Pos: d.Pos, Text: "the device is described here"}}
		pr.Hint = finding.Do("give a value in a unit of that range, or in %%")
		found(pr)
	}
}

// checkSensorRange compares the range of a sensor with what it can measure. The
// sensor is no use without a unit of temperature: nothing is taken for °C.
func checkSensorRange(d *model.Part, found func(finding.Finding)) {
	r := d.Device.AtSensor()
	s, ok := sensor.Named(d.Device.Sensor)
	thermometer := d.Kind.Signal == model.Resistance || d.Kind.Signal == model.Thermo
	if !r.Given() || !ok && !thermometer {
		return
	}
	low, okL := r.Celsius(r.Low)
	high, okH := r.Celsius(r.High)
	if !okL || !okH {
		text := "%s: range %s is not a temperature"
		if r.Unit == "" {
			text = "%s: range %s has no unit"
		}
		pr := finding.At(d.Pos, finding.WrongUnit, text, d.Tag, r.Text)
		pr.Hint = finding.Do("give range, or calibrated, in %s", model.TemperatureUnits)
		if !thermometer { // it may measure something else, and correct it for temperature
			pr = pr.Warning()
		}
		found(pr)
		return
	}
	if !ok {
		return
	}
	if least, most := s.Range(); min(low, high) < least || max(low, high) > most {
		pr := finding.At(d.Pos, finding.RangeExceeded, "%s: range %s; sensor %s measures %s to %s °C (%s)", d.Tag, r.Text, s.Name, model.Figure(least), model.Figure(most), s.Source)
		found(pr)
	}
}
