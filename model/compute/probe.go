package compute

import (
	"fmt"

	"ringout/model"
)

// This file holds displacement probes: their driver hangs on a supply below common, and
// its output stands below common by the scale times the gap.

// setGap is the middle of the volts between which the gap of a probe is set.
func setGap(d *model.Device) (volts float64, ok bool) {
	return d.Gap.At(50), d.Gap.Given()
}

// gapStates are the set gap of a probe and the ends of its linear range.
func gapStates(p *model.Plant, r *Readings) (states []state) {
	d := r.Circuit.Device()
	if d == nil {
		r.Missing = []string{"the device"}
		return nil
	}
	add := func(name string, volts float64) {
		r.States, states = append(r.States, name), append(states, state{gap: volts})
	}
	if v, ok := setGap(d.Device); ok {
		add("set gap", v)
	} else {
		r.Missing = append(r.Missing, "gap of "+d.Tag)
	}
	span := d.Device.Calibrated
	if !span.Given() {
		r.Missing = append(r.Missing, "calibrated of "+d.Tag)
	}
	if d.Device.Scale.MV == 0 {
		r.Missing = append(r.Missing, "scale of "+d.Tag)
	}
	if len(r.Missing) > 0 {
		return nil
	}
	for _, gap := range []float64{span.Low, span.High} {
		v, ok := d.Device.Scale.Volts(gap, span.Unit)
		if !ok {
			r.Missing = append(r.Missing, "calibrated of "+d.Tag+" as a length")
			return nil
		}
		add(span.Words(gap), v)
	}
	return states
}

// probeFaults are those of a displacement probe. What its driver gives with its probe open,
// shorted or far off is from memory: near nothing, and near its supply.
func probeFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	com, fed := TerminalsOf(c, d)
	var sig *model.Terminal
	for _, st := range c.Visits() {
		if st.Part == d {
			sig = output(st)
		}
	}
	gap, given := setGap(d.Device)
	if !given {
		return nil, []string{"gap of " + d.Tag}
	}
	v, s, ok := bandAt(p, c, state{gap: gap}, fed, com)
	lifted, _, lacks := OpenVolts(p, c)
	if !ok || sig == nil || len(lacks) > 0 {
		return nil, append(s.Missing, lacks...)
	}
	set := decimal(gap, 1) + " V"
	signal, supply := " from "+sig.Name+" to "+com.Name, " from "+fed.Name+" to "+com.Name
	return []FaultRow{
		{"healthy, at the set gap", "OK, its gap volts " + set, set + signal, volts(v) + supply + fmt.Sprintf(", %.0f mA", s.drawn)},
		{p.Say("supply core open") + unlessFused(c, "", ", or %s blown"), "not OK", "0 V" + supply, volts(lifted.Reversed()) + " across the break"},
		{p.Say("common core open"), "not OK, or noise", "no steady volts" + signal, "volts between the two commons"},
		{p.Say("signal core open"), "not OK, 0 V", set + signal + " at the driver", "0 V at the monitor: break between"},
		{"supply reversed at the driver", "not OK", "+" + volts(lifted) + supply, "positive where it has to be negative; the driver may be damaged"},
		{"signal on common", "not OK, 0 V", "0 V" + signal, p.Say("lift the signal core at the driver: its gap volts come back")},
		{"probe or extension cable open or shorted, or target too near", "not OK", "0 to −1 V" + signal, p.Say("supply sound; measure the probe in Ω, inner conductor to screen")},
		{"target too far, or out of the linear range", "not OK, or low", "near the supply" + signal, "gap volts follow the target when it is brought nearer"},
		{p.Say("common or screen on earth at the driver"), p.Say("mains frequency in the signal"), "volts correct", p.Say("monitor and supply off: COM to earth open at the driver")},
		{"on another pair or channel", "wrong channel moves", "voltages correct", "move one target at a time"},
	}, nil
}

// PeakToPeak is the AC signal in mV peak to peak that a vibration of some displacement,
// peak to peak too, gives; false without a scale, and for a unit that is no length.
func PeakToPeak(d *model.Device, displacement float64, unit string) (mV float64, ok bool) {
	v, ok := d.Scale.Volts(displacement, unit)
	return -v * 1000, ok
}
