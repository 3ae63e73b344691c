package compute

import (
	"math"
	"slices"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/sensor"
)

// This file holds what the leads of a temperature sensor do to its reading: the ohms
// of copper that are taken for ohms of the element, and the most that an input
// measures through.

// leadMargins compares the error that the leads of a resistance sensor make with
// the class of the sensor (IEC 60751), the copper at its hottest, and the ohms of
// the leads of any temperature sensor with the most that its card takes.
//
// Of two wires both leads add to the element, less what the card takes off for them
// (`lead ohms`); of three the card takes one lead for another, so that the
// difference of two adds: what differs in the run, and `lead unbalance` of one of
// them. Of four wires nothing adds (textbook circuits). Ω become degrees by the slope
// of the sensor where the class has the least room: at the ends of the range, or
// at 0 °C inside it.
func leadMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	if d.Kind.Signal != c.Signal {
		return nil
	}
	var all []Margin
	leads, missing := leadOhms(p, c, p.Practice.HotCopper.Celsius)
	if n := len(leads); c.Signal == model.Resistance && (n == 2 || n == 3) {
		m := Margin{Circuit: c, What: "error by the leads of " + d.Tag, IsMax: true, Missing: missing, Code: finding.LeadError}
		ohms := 0.0
		switch cold, _ := leadOhms(p, c, p.Practice.TestCopper.Celsius); {
		case len(missing) > 0:
		case n == 2:
			off := d.Device.Leads
			ohms = max(math.Abs(leads[0]+leads[1]-off), math.Abs(cold[0]+cold[1]-off))
		case unlikeLegs(c) != nil:
			m.Missing = []string{"how alike the legs through the " + unlikeLegs(c).Kind.Name + " are (no key holds it)"}
		default:
			ohms = slices.Max(leads) - slices.Min(leads) + p.Practice.Unbalance/100*slices.Max(leads)
		}
		all = append(all, leadError(d.Device, m, d.Tag, ohms))
	}
	if card := measuredBy(c); card != nil && card.Card.Leads > 0 && len(leads) > 1 {
		slices.Sort(leads)
		all = append(all, Margin{Circuit: c, What: "loop of two leads of " + d.Tag + " to " + card.Tag, Unit: "Ω", IsMax: true,
			Actual: leads[len(leads)-1] + leads[len(leads)-2], Limit: card.Card.Leads, Missing: missing, Code: finding.LongLeads})
	}
	return all
}

// unlikeLegs is the first part in the leads of a sensor whose legs may have unlike ohms;
// nil for none.
func unlikeLegs(c *model.Circuit) *model.Part {
	for _, st := range c.Stations() {
		if st.Part.Barrier != nil && !st.Part.Kind.Isolates {
			return st.Part
		}
	}
	return nil
}

// measuredBy is the card that measures the sensor of a circuit itself; nil where an
// isolator does.
func measuredBy(c *model.Circuit) (card *model.Part) {
	for _, st := range c.Stations() {
		switch {
		case st.Part.Kind.Isolates:
			return nil
		case st.Part.Card != nil:
			card = st.Part
		}
	}
	return card
}

// leadOhms are the Ω of each lead of a sensor at a temperature in °C, up to the card
// or to an isolator, which measures itself.
func leadOhms(p *model.Plant, c *model.Circuit, celsius float64) (leads []float64, missing []string) {
	for _, l := range c.Leads() {
		x := lead(p, l, celsius, func(*model.Station) bool { return false })
		leads = append(leads, x.ohms)
		missing = append(missing, x.missing...)
	}
	return leads, model.Unique(missing)
}

// leadRun is what one leg has of ohms, from the device to one of its stations.
type leadRun struct {
	ohms    float64         // of its cores, and of the pins and barriers in it
	to      *model.Terminal // where it ends, seen from the field; nil where it does not come to the station
	missing []string
}

// lead is that of a leg at a temperature in °C up to the first station that is
// asked for; else up to the end of the leg, or to an isolator, with which the
// lead ends.
func lead(p *model.Plant, l *model.Leg, celsius float64, asked func(*model.Station) bool) (x leadRun) {
	lacks := func(what string) { x.missing = append(x.missing, what) }
	run := l.FieldSideTo(func(st *model.Station) bool { return asked(st) || st.Part.Kind.Isolates })
	for _, w := range run.Wires {
		if w.Core == nil {
			continue
		}
		ohms, lack := ohmsOr(w.Core.Cable, celsius)
		if x.ohms += ohms; lack != "" {
			lacks(lack)
		}
	}
	for i := 0; i+1 < len(run.Terminals); i += 2 { // each that it goes on from
		x.ohms += p.Practice.ContactOhms(run.Terminals[i])
	}
	for _, st := range run.Stations {
		if b := st.Part.Barrier; b != nil {
			ohms := legOhms(b, l.Role == '-' || l.Role == 'B' || l.Role == 0 && l.N > 1)
			if x.ohms += ohms; ohms == 0 {
				lacks("ohms of " + st.Part.Kind.Name + " " + st.Part.Tag)
			}
		}
	}
	if run.At != nil && run.At.Does == model.Lands && asked(run.Where) {
		if x.to = run.Terminals[len(run.Terminals)-1]; x.to == nil {
			x.to = run.At.In
		}
	}
	return x
}

// leadError turns an error in Ω into one in the unit of the range of a device, and
// holds it against the class of its sensor where that has the least room.
func leadError(d *model.Device, m Margin, tag string, ohms float64) Margin {
	span := d.AtSensor()
	element, known := sensor.Named(d.Sensor)
	lack := func(what string) { m.Missing = append(slices.Clone(m.Missing), what) }
	if !known {
		lack("sensor of " + tag)
	}
	low, okLow := span.Celsius(span.Low)
	high, okHigh := span.Celsius(span.High)
	if !span.Given() {
		lack("range of " + tag)
	} else if !okLow || !okHigh {
		lack("range of " + tag + " in " + model.TemperatureUnits)
	}
	if len(m.Missing) > 0 {
		return m
	}
	m.Unit = span.Unit
	degrees := func(kelvin float64) float64 { // a difference, in the unit of the range
		one, _ := span.FromCelsius(1)
		none, _ := span.FromCelsius(0)
		return kelvin * (one - none)
	}
	low, high = min(low, high), max(low, high)
	room := math.Inf(1)
	for _, t := range [...]float64{low, high, min(max(0, low), high)} {
		slope, ok := slope(element, t)
		allowed, classed := element.Tolerance(d.Class, t)
		if !ok || !classed && m.Limit > 0 {
			continue
		}
		if left := allowed - ohms/slope; left < room || classed && m.Limit == 0 {
			room = left
			v, _ := span.FromCelsius(t)
			m.At, m.Actual, m.Limit = atValue(math.Round(v*1000)/1000, span.Unit), degrees(ohms/slope), degrees(allowed)
		}
	}
	switch {
	case math.IsInf(room, 1):
		lack("range of " + tag + " inside that of its sensor")
	case m.Limit > 0:
	case !element.IEC60751():
		lack("what the class of " + tag + " allows: IEC 60751 has none for " + element.Name + " (the leads add " + model.Figure(m.Actual) + " " + m.Unit + ")")
	case d.Class == "":
		lack("class of " + tag + " (the leads add " + model.Figure(m.Actual) + " " + m.Unit + ")")
	default:
		lack("what class " + d.Class + " allows there (the leads add " + model.Figure(m.Actual) + " " + m.Unit + ")")
	}
	return m
}

// slope is how many Ω or mV the sensor changes by for 1 °C at a temperature in °C;
// false outside its range.
func slope(s sensor.Sensor, celsius float64) (float64, bool) {
	low, high := s.Range()
	from, to := max(low, celsius-0.5), min(high, celsius+0.5)
	a, okA := s.Value(from)
	b, okB := s.Value(to)
	if !okA || !okB || celsius < low || celsius > high {
		return 0, false
	}
	return (b - a) / (to - from), true
}

// ohmsWithin is the span in Ω that a sensor of a class may have at a
// temperature in °C: its value that much lower and that much higher.
func ohmsWithin(s sensor.Sensor, class string, celsius float64) (low, high float64, ok bool) {
	t, ok := s.Tolerance(class, celsius)
	if !ok {
		return 0, 0, false
	}
	low, okLow := s.Value(celsius - t)
	high, okHigh := s.Value(celsius + t)
	return low, high, okLow && okHigh
}
