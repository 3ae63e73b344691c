package compute

import (
	"math"
	"strings"

	"ringout/model"
	"ringout/model/copper"
)

// This file holds what instruments should read: sums over the model that the
// sheets print beside the boxes to write in.

// CoreOhms is the resistance in Ω of one core of the cable from end to end, at
// a temperature in °C, and the source of its figure: the data sheet's Ω/km
// before the tables of copper.Size.OhmsPerKm. It is false when the length, the type
// or the figure is not given; the tables are of copper and say nothing of
// thermocouple alloys.
func CoreOhms(c *model.Cable, celsius float64) (ohms float64, source string, ok bool) {
	if c.Type == nil || c.Length <= 0 {
		return 0, "", false
	}
	perKm, source := c.Type.Ohms, "cable data"
	if perKm <= 0 {
		if alloy := c.Type.Code != nil && c.Type.Code.Positive() > 0; alloy {
			return 0, "", false
		}
		if perKm, source, ok = c.Type.Copper.OhmsPerKm(); !ok {
			return 0, "", false
		}
	}
	return copper.OhmsAt(perKm, celsius) * c.Length / 1000, source, true
}

// ohmsOr is CoreOhms, or the name of what it lacks.
func ohmsOr(c *model.Cable, celsius float64) (ohms float64, lacks string) {
	ohms, _, ok := CoreOhms(c, celsius)
	switch {
	case ok:
		return ohms, ""
	case c.Length <= 0:
		return 0, "length of cable " + c.Tag
	}
	return 0, "ohms of cable type " + c.Type.Name
}

// OhmsAreMost reports whether the figure of CoreOhms is the largest that a standard
// allows, so that good copper reads less.
func OhmsAreMost(c *model.Cable) bool {
	_, source, ok := CoreOhms(c, 20)
	return ok && strings.HasPrefix(source, "IEC 60228")
}

// Ohms is what an ohmmeter reads in Ω between two cores of the run with their
// far ends linked, 2·L·r, at a temperature in °C; of a run of one core, that
// core alone. It is false for wires and jumpers, and when CoreOhms is.
func Ohms(r *model.Run, celsius float64) (float64, bool) {
	if r.Kind != model.CableRun || r.Cable == nil {
		return 0, false
	}
	ohms, _, ok := CoreOhms(r.Cable, celsius)
	if len(r.Cores) > 1 {
		ohms *= 2
	}
	return ohms, ok
}

// InsulationTest is the voltage in V DC that the insulation of the cable is
// tested at by the practice, and the least resistance in MΩ that it is accepted
// with: the practice's flat limit for that voltage or what its data sheet gives
// for its length, MΩ·km over km, whichever is more. Both are 0 where the
// practice asks for no insulation test.
func InsulationTest(p *model.Plant, c *model.Cable) (volts, megohm float64, byLength bool) {
	if volts, megohm = p.Practice.TestVolts, p.Practice.TestMegohm; c.Mains(p) {
		volts, megohm = p.Practice.MainsVolts, p.Practice.MainsMegohm
	}
	if volts <= 0 {
		return 0, 0, false
	}
	if byType := Insulation(c); byType > megohm {
		return volts, byType, true
	}
	return volts, megohm, false
}

// InsulationLimit is the least resistance of InsulationTest in MΩ.
func InsulationLimit(p *model.Plant, c *model.Cable) (megohm float64, byLength bool) {
	_, megohm, byLength = InsulationTest(p, c)
	return megohm, byLength
}

// Insulation is the insulation resistance in MΩ of the data sheet for the
// length of the cable, MΩ·km over km; 0 where one of them is not given.
func Insulation(c *model.Cable) float64 {
	if c.Type == nil || c.Length <= 0 {
		return 0
	}
	return c.Type.InsulationMOhmKm / (c.Length / 1000)
}

// Output is the signal of the device: 4..20 mA unless it says otherwise.
func Output(d *model.Device) model.Range {
	if d.Signal.Given() {
		return d.Signal
	}
	return model.Range{Low: 4, High: 20, Unit: "mA", Text: "4..20 mA"}
}

// Span is the signal of a circuit: that of its device, and of an output that several
// take from the lowest to the highest of theirs, in the unit of the first.
func Span(c *model.Circuit) model.Range {
	span := Output(c.Device().Device)
	for i, d := range c.Takers() {
		r := Output(d.Device)
		if low, high := min(r.Low, r.High), max(r.Low, r.High); i > 0 && r.Unit == span.Unit {
			span.Low, span.High = min(span.Low, span.High, low), max(span.Low, span.High, high)
			span.Text = model.Plain(span.Low) + ".." + model.Plain(span.High) + " " + span.Unit
		}
	}
	return span
}

// DisplayedPercent is the percentage of its range that the system shows for a percentage
// of the device's signal. Where the system takes the square root of a flow
// signal, that is ten times the root; below zero it shows zero.
func DisplayedPercent(d *model.Device, percent float64) float64 {
	if d.SquareRootIn == model.SystemRoot {
		return 10 * math.Sqrt(max(0, percent))
	}
	return percent
}

// SignalFor is the percentage of the device's signal that makes the system
// show a percentage of the range: DisplayedPercent the other way round.
func SignalFor(d *model.Device, percent float64) float64 {
	if d.SquareRootIn == model.SystemRoot {
		return percent * percent / 100
	}
	return percent
}

// AC reports whether AC feeds the circuit.
func AC(c *model.Circuit) bool {
	_, ac, _ := c.Feeding()
	return ac
}

// voltUnit is the unit of the volts of the circuit.
func voltUnit(c *model.Circuit) string {
	if AC(c) {
		return "V AC"
	}
	return "V"
}

// MayBeAC reports whether what the circuit serves works on AC: contacts, coils and
// lamps, and devices with a mains supply. Signals do not, nor do three-wire
// switches.
func MayBeAC(c *model.Circuit) bool {
	d := c.Device()
	switch c.Signal {
	case model.SwitchedOut, model.Power:
		return true
	case model.ContactIn:
		return d == nil || !d.Kind.ThreeWire()
	}
	return false
}

// MostOhms is the largest resistance in Ω that is accepted where so many are
// computed: the practice's per cent of it, or its allowance in Ω above it if that
// is more, for no meter judges a few hundredths of an ohm.
func MostOhms(pr *model.Practice, computed float64) float64 {
	return max(computed*pr.OhmsLimit/100, computed+pr.OhmsRoom)
}
