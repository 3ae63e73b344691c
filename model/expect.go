package model

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// This file holds what instruments should read: sums over the model that the
// sheets print beside the boxes to write in.

// CoreOhms is the resistance in Ω of one core of the cable from end to end, at
// a temperature in °C, and the source of its figure: the data sheet's Ω/km
// before the tables of Copper.OhmsPerKm. It is false when the length, the type
// or the figure is not given; the tables are of copper and say nothing of
// thermocouple alloys.
func (c *Cable) CoreOhms(celsius float64) (ohms float64, source string, ok bool) {
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
	return OhmsAt(perKm, celsius) * c.Length / 1000, source, true
}

// ohmsOr is CoreOhms, or the name of what it lacks.
func (c *Cable) ohmsOr(celsius float64) (ohms float64, lacks string) {
	ohms, _, ok := c.CoreOhms(celsius)
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
func (c *Cable) OhmsAreMost() bool {
	_, source, ok := c.CoreOhms(20)
	return ok && strings.HasPrefix(source, "IEC 60228")
}

// Ohms is what an ohmmeter reads in Ω between two cores of the run with their
// far ends linked, 2·L·r, at a temperature in °C; of a run of one core, that
// core alone. It is false for wires and jumpers, and when CoreOhms is.
func (r *Run) Ohms(celsius float64) (float64, bool) {
	if r.Kind != CableRun || r.Cable == nil {
		return 0, false
	}
	ohms, _, ok := r.Cable.CoreOhms(celsius)
	if len(r.Cores) > 1 {
		ohms *= 2
	}
	return ohms, ok
}

// Mains reports whether a circuit is above extra-low voltage. One that brings power
// to a device from nowhere yet is taken for such.
func (c *Circuit) Mains() bool {
	volts, ac, known := c.Feeding()
	if !known {
		return c.Signal == Power
	}
	return aboveExtraLow(volts, ac)
}

// aboveExtraLow reports whether a voltage can kill: more than 50 V AC or 120 V DC, the
// limits of extra-low voltage in IEC 61140 and IEC 60364-4-41 (414.1.1).
func aboveExtraLow(volts float64, ac bool) bool { return ac && volts > 50 || volts > 120 }

// Later reports whether the circuit waits for something of a later stage: itself,
// its device or a part of its wiring. It is not checked before that is there.
func (c *Circuit) Later(p *Plant) bool {
	if d := c.Device(); c.Status == Later || d != nil && d.Status == Later {
		return true
	}
	return slices.ContainsFunc(c.Conductors(p), func(w *Conductor) bool { return w.Status == Later })
}

// Mains reports whether the cable carries a circuit above extra-low voltage. Its
// spare cores are then tested like the others.
func (c *Cable) Mains(p *Plant) bool {
	return slices.ContainsFunc(c.Circuits(p), (*Circuit).Mains)
}

// InsulationTest is the voltage in V DC that the insulation of the cable is
// tested at by the practice, and the least resistance in MΩ that it is accepted
// with: the practice's flat limit for that voltage or what its data sheet gives
// for its length, MΩ·km over km, whichever is more. Both are 0 where the
// practice asks for no insulation test.
func (p *Plant) InsulationTest(c *Cable) (volts, megohm float64, byLength bool) {
	if volts, megohm = p.Practice.TestVolts, p.Practice.TestMegohm; c.Mains(p) {
		volts, megohm = p.Practice.MainsVolts, p.Practice.MainsMegohm
	}
	if volts <= 0 {
		return 0, 0, false
	}
	if byType := c.Insulation(); byType > megohm {
		return volts, byType, true
	}
	return volts, megohm, false
}

// InsulationLimit is the least resistance of InsulationTest in MΩ.
func (p *Plant) InsulationLimit(c *Cable) (megohm float64, byLength bool) {
	_, megohm, byLength = p.InsulationTest(c)
	return megohm, byLength
}

// Insulation is the insulation resistance in MΩ of the data sheet for the
// length of the cable, MΩ·km over km; 0 where one of them is not given.
func (c *Cable) Insulation() float64 {
	if c.Type == nil || c.Length <= 0 {
		return 0
	}
	return c.Type.Insulated / (c.Length / 1000)
}

// At is the value at a percentage of the range.
func (r Range) At(percent float64) float64 { return r.Low + (r.High-r.Low)*percent/100 }

// Percent is where a value lies in the range, in per cent; false for an empty
// range.
func (r Range) Percent(value float64) (float64, bool) {
	if r.High == r.Low {
		return 0, false
	}
	return (value - r.Low) / (r.High - r.Low) * 100, true
}

// Output is the signal of the device: 4..20 mA unless it says otherwise.
func (d *Device) Output() Range {
	if d.Signal.Given() {
		return d.Signal
	}
	return Range{4, 20, "mA", "4..20 mA"}
}

// Shown is the percentage of its range that the system shows for a percentage
// of the device's signal. Where the system takes the square root of a flow
// signal, that is ten times the root; below zero it shows zero.
func (d *Device) Shown(percent float64) float64 {
	if d.Root == SystemRoot {
		return 10 * math.Sqrt(max(0, percent))
	}
	return percent
}

// SignalFor is the percentage of the device's signal that makes the system
// show a percentage of the range: Shown the other way round.
func (d *Device) SignalFor(percent float64) float64 {
	if d.Root == SystemRoot {
		return percent * percent / 100
	}
	return percent
}

// CableMark is what the tag on a cable reads at its from end, or else at its
// to end: the cable's own tag, and where the plant's practice is remote, what
// it goes to.
func (p *Plant) CableMark(c *Cable, from bool) string {
	if p.Practice.CableTag != RemoteTag {
		return c.Tag
	}
	if from {
		return c.Tag + " to " + c.To.Tag()
	}
	return c.Tag + " to " + c.From.Tag()
}

// Supply is the supply that feeds the circuit: one it lands on, or one that
// feeds a terminal it lands on. It is nil when the model shows none.
func (c *Circuit) Supply() *Part {
	for _, l := range c.Lanes {
		for _, s := range l.Steps {
			for _, t := range []*Terminal{s.Slot.In, s.Slot.Out} {
				switch {
				case t == nil:
				case t.Role == 'E': // protective earth feeds nothing
				case t.Part.Supply != nil:
					return t.Part
				case t.Fed != nil && t.Fed.Supply.Role != 'E':
					return t.Fed.Supply.Part
				}
			}
		}
	}
	return nil
}

// Feeding is what feeds the circuit: the volts of its supply, or else the most of a
// card that powers it; known is false when the model shows neither.
func (c *Circuit) Feeding() (volts float64, ac, known bool) {
	switch s := c.Feeder(); {
	case s == nil:
		return 0, false, false
	case s.Supply != nil:
		return s.Supply.Value, s.Supply.AC, true
	default:
		return s.Card.Volts.Most(), s.Card.Volts.AC(), true
	}
}

// Feeder is the supply of the circuit, or else the card that powers it with volts
// that are written; nil when the model shows neither.
func (c *Circuit) Feeder() *Part {
	if s := c.Supply(); s != nil {
		return s
	}
	for _, st := range c.Stations() {
		if card := st.Part.Card; card != nil && card.Powers && len(card.Volts) > 0 {
			return st.Part
		}
	}
	return nil
}

// AC reports whether AC feeds the circuit.
func (c *Circuit) AC() bool {
	_, ac, _ := c.Feeding()
	return ac
}

// voltUnit is the unit of the volts of the circuit.
func (c *Circuit) voltUnit() string {
	if c.AC() {
		return "V AC"
	}
	return "V"
}

// mayBeAC reports whether what the circuit serves works on AC: contacts, coils and
// lamps, and devices with a mains supply. Signals do not, nor do three-wire
// switches.
func (c *Circuit) mayBeAC() bool {
	d := c.Device()
	switch c.Signal {
	case SwitchedOut, Power:
		return true
	case ContactIn:
		return d == nil || !d.Kind.ThreeWire()
	}
	return false
}

// Device is the field device of the circuit: the first device that the walk
// lands on, an indicator only when there is no other; nil when there is none.
func (c *Circuit) Device() *Part {
	var found *Part
	for _, s := range c.Stations() {
		switch d := s.Part; {
		case d.Device == nil || d.Device.Loop == nil:
		case !d.Kind.Indicator:
			return d
		case found == nil:
			found = d
		}
	}
	return found
}

// ClosedAtRest reports whether the contact of a switch is closed with nothing
// measured, as on the shelf: where that is not said, one that opens above or
// closes below its set point is.
func (d *Device) ClosedAtRest() bool {
	return cmp.Or(d.Rest, d.Set.Rest) == Closed
}

// MostOhms is the largest resistance in Ω that is accepted where so many are
// computed: the practice's per cent of it, or its allowance in Ω above it if that
// is more, for no meter judges a few hundredths of an ohm.
func (pr *Practice) MostOhms(computed float64) float64 {
	return max(computed*pr.OhmsLimit/100, computed+pr.OhmsRoom)
}
