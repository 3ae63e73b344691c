package compute

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
)

// loopVolts computes the voltage across the device at a current.
func loopVolts(o modeltest.OneLoop, t *testing.T, mA float64) float64 {
	t.Helper()
	p, c := o.Read(t)
	a, b := TerminalsOf(c, c.Device())
	s := compute(p, c, state{mA: mA})
	v, ok := s.across(a, b)
	if !ok {
		t.Fatal("no answer", s.Missing)
	}
	return v
}

// The node table of a plain loop: 24 V, 250 Ω in the return leg, home run
// 300 m and branch 20 m of 1.5 mm² (IEC 60228 class 2, 12.1 Ω/km), worked out
// by hand from Ohm's law to three places; and with 327 Ω of barrier, the
// largest end-to-end resistance that makers print for a 28 V barrier.
func TestNodeTable(t *testing.T) {
	t.Parallel()
	plain := modeltest.OneLoop{Card: modeltest.PoweredCard, Device: "{kind: transmitter, lift-off: 10 V}", Metres: 20, HomeMetres: 300, Walk: "C channel 1"}
	barrier := plain
	barrier.Parts = "    barriers: {B: {ohms: 327 ohm, return ohms: 0.000001 ohm}}"
	barrier.Walk = "B, wires, C channel 1"
	want := []struct{ mA, device, jb, mc, bDevice, bJB, bMC float64 }{
		{4, 22.969, 22.971, 23.000, 21.661, 21.663, 21.692},
		{8, 21.938, 21.942, 22.000, 19.322, 19.326, 19.384},
		{12, 20.907, 20.913, 21.000, 16.983, 16.989, 17.076},
		{16, 19.876, 19.884, 20.000, 14.644, 14.652, 14.768},
		{20, 18.845, 18.855, 19.000, 12.305, 12.315, 12.460},
		{22, 18.330, 18.340, 18.500, 11.136, 11.146, 11.306},
	}
	for _, o := range []struct {
		name string
		loop modeltest.OneLoop
		pick func(i int) [3]float64
	}{
		{"plain", plain, func(i int) [3]float64 { return [3]float64{want[i].device, want[i].jb, want[i].mc} }},
		{"barrier", barrier, func(i int) [3]float64 { return [3]float64{want[i].bDevice, want[i].bJB, want[i].bMC} }},
	} {
		p, c := o.loop.Read(t)
		p.Practice.TestCurrents = []float64{4, 8, 12, 16, 20, 22}
		r, ok := ReadingsOf(p, c)
		if !ok || len(r.Missing) > 0 {
			t.Fatal(o.name, r.Missing)
		}
		for i := range want {
			for k, w := range o.pick(i) {
				modeltest.Within(t, fmt.Sprintf("%s %s at %s", o.name, r.Rows[k].Where(), r.States[i]), r.Rows[k].Values[i].Value, w, 0.0006)
			}
		}
	}
}

// Voltages left for a device, as makers' manuals and a course work them out.
func TestVoltageExamples(t *testing.T) {
	t.Parallel()
	device := "{kind: transmitter}"
	for _, x := range []struct {
		source    string
		loop      modeltest.OneLoop
		mA        float64
		want      float64
		tolerance float64
	}{
		{"Badger Meter converter manual: 24 V, 150+100+50 ohm at 20 mA", modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1, volts: 24 V, ohms: 300 ohm}", Device: device, Walk: "C channel 1"}, 20, 18.000, 5e-6},
		{"UK instrumentation course, two 250 ohm receivers at 4 mA", modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1, volts: 24 V, ohms: 500 ohm}", Device: device, Walk: "C channel 1"}, 4, 22, 5e-6},
		{"the same at 12 mA", modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1, volts: 24 V, ohms: 500 ohm}", Device: device, Walk: "C channel 1"}, 12, 18, 5e-6},
		{"the same at 20 mA", modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1, volts: 24 V, ohms: 500 ohm}", Device: device, Walk: "C channel 1"}, 20, 14, 5e-6},
		{"the same course: 250 ohm, 300 m of 1.5 mm2, isolator 4 V (here a barrier with that drop)", modeltest.OneLoop{Card: modeltest.PoweredCard, Device: device, HomeMetres: 300,
			Parts: "    barriers: {B: {ohms: 0.000001 ohm, drop: 2 V}}", Walk: "B, wires, C channel 1"}, 20, 14.86, 0.006},
		{"control.com thread 48567: 24 V, 250 ohm, 23 mA; the wire taken as 8 ohm there", modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1, volts: 24 V, ohms: 258 ohm}", Device: device, Walk: "C channel 1"}, 23, 18.066, 0.0005},
	} {
		modeltest.Within(t, x.source, loopVolts(x.loop, t, x.mA), x.want, x.tolerance)
	}
}

// leaves reports whether a supply over a load leaves a device its lift-off
// voltage, by the solver and not by the formula of the manual.
func leaves(t *testing.T, supply, load, liftOff, mA float64) bool {
	t.Helper()
	o := modeltest.OneLoop{Card: fmt.Sprintf("{kind: AI, power: card, channels: 1, volts: %.9f V, ohms: %.9f ohm}", supply, load), Device: "{kind: transmitter}", Walk: "C channel 1"}
	return loopVolts(o, t, mA) >= liftOff
}

// largest is the load at which the device is left with its lift-off voltage.
func largest(t *testing.T, supply, liftOff, mA float64) float64 {
	t.Helper()
	return modeltest.Halved(1, 5000, func(load float64) bool { return leaves(t, supply, load, liftOff, mA) })
}

// Largest loads printed in makers' manuals, to their last printed digit.
// Where a manual cuts digits off instead of rounding, the test says so.
func TestLargestLoads(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		source              string
		supply, liftOff, mA float64
		want, tolerance     float64
	}{
		{"Omega TX94A", 24, 8, 20, 800, 0.5},
		{"Omega TX91", 24, 11, 20, 650, 0.5},
		{"Sensorex TCSMA: 16 V insertion loss", 24, 16, 20, 400, 0.5},
		{"Rosemount 3051S: 43.5 (42.4 - 10.5) = 1387, digits cut off; 43.5 stands for 1/23 mA", 42.4, 10.5, 23, 1387, 0.99},
		{"Rosemount 3144P: 40.8 (42.4 - 12.0); 40.8 stands for 1/24.5 mA", 42.4, 12, 24.5, 1240, 0.99},
		{"Rosemount 8750W: 31.25 (30 - 10.8)", 30, 10.8, 32, 600, 0.5},
		{"GELEC LTR7000 at 15 V", 15, 4, 20, 550, 0.5},
		{"GELEC LTR7000 at 24 V", 24, 4, 20, 1000, 0.5},
		{"GELEC LTR7000 at 36 V", 36, 4, 20, 1600, 0.5},
		{"UK course 24/10.5 V", 24, 10.5, 20, 675, 0.5},
		{"UK course 24/12 V", 24, 12, 20, 600, 0.5},
		{"UK course 24/14 V", 24, 14, 20, 500, 0.5},
		{"UK course 30/12 V", 30, 12, 20, 900, 0.5},
		{"Duon ATT2100: (24 - 11.9)/0.022", 24, 11.9, 22, 550, 0.5},
	} {
		modeltest.Within(t, x.source, largest(t, x.supply, x.liftOff, x.mA), x.want, x.tolerance)
	}
}

// NIVELCO MicroTREK manual: 250 ohm, 10 V at 22 mA and 18 V at 4 mA, so that
// 15.5 V and 19 V are needed and 19 V is the supply to give. The margins have
// to be judged at both ends of the range.
func TestLiftOffAtBothEnds(t *testing.T) {
	t.Parallel()
	margins := func(supply float64) []Margin {
		o := modeltest.OneLoop{Card: fmt.Sprintf("{kind: AI, power: card, channels: 1, volts: %g V, ohms: 250 ohm}", supply),
			Device: "{kind: transmitter, lift-off: [18 V at 4 mA, 10 V at 22 mA], failure current: 22 mA}", Walk: "C channel 1"}
		p, c := o.Read(t)
		p.Practice.Tolerance = 0 // the manual means the least
		return Margins(p, c)
	}
	m := margins(19)
	modeltest.Within(t, "margin at 4 mA", m[0].Headroom(), 0, 1e-5)
	modeltest.Within(t, "margin at 22 mA", m[1].Headroom(), 3.5, 1e-5)
	if m = margins(15.5); m[0].OK() || math.Abs(m[1].Headroom()) > 1e-5 {
		t.Errorf("15.5 V: %+v", m)
	}
	if b := (model.VoltageCurve{{Volts: 18, MA: 4}, {Volts: 10, MA: 22}}); true {
		v, _ := b.At(13)
		modeltest.Within(t, "lift-off half-way", v, 14, 1e-9)
	}
}

// Fisher DVC6200 manual: output compliance 18.5 V at 21.05 mA, HART filter
// 2.3 V, 48 ohm of cable: 15.19 V left for the positioner. Spirax SP400 and
// airpower APV-350: positioners of 7 V and of 455 ohm.
func TestOutputExamples(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: AO, channels: 1, drive: 18.5 V at 21.05 mA}", Device: "{kind: positioner, drop: 0.000001 V}", Types: "1.5 mm2", HomeMetres: 1, Walk: "C channel 1"}
	p, c := o.Read(t)
	p.Cable("W2").Type.Ohms = 24 * 1000 // 24 ohm a core over 1 m
	p.Cable("W1").Length = 1e-9
	m := Margins(p, c)
	if len(m) != 1 || len(m[0].Missing) > 0 {
		t.Fatalf("%+v", m)
	}
	modeltest.Within(t, "cable drop", m[0].Actual, 1.0104, 1e-4)
	modeltest.Within(t, "left after the filter", m[0].Headroom()-2.3, 15.19, 0.005)

	o.Device, o.HomeMetres = "{kind: positioner, ohms: 455 ohm}", 0
	p, c = o.Read(t)
	r, _ := ReadingsOf(p, c)
	for i, s := range r.States {
		if s == "20 mA" {
			modeltest.Within(t, "APV-350 at 20 mA", r.Rows[0].Values[i].Value, 9.10, 1e-4)
		}
	}
}

// Rockwell 937C manual: 24 V, the output needs 5 to 16.5 V across it at
// 21.5 mA: between 350 and 880 ohm (published rounded; 348.8 and 883.7).
func TestLeastLoad(t *testing.T) {
	t.Parallel()
	modeltest.Within(t, "least load", largest(t, 24, 16.5, 21.5), 348.8, 0.05)
	modeltest.Within(t, "largest load", largest(t, 24, 5, 21.5), 883.7, 0.05)
	o := modeltest.OneLoop{Card: "{kind: AO, channels: 1, drive: 880 ohm, least load: 350 ohm}", Device: "{kind: positioner, ohms: 300 ohm}", Walk: "C channel 1"}
	p, c := o.Read(t)
	var codes []string
	for _, m := range Margins(p, c) {
		if !m.OK() {
			codes = append(codes, m.Code.Code)
		}
	}
	if fmt.Sprint(codes) != "[underloaded-output]" {
		t.Errorf("found %v", codes)
	}
}

// What is not given is asked for by name, and no sum is made.
func TestMissingIsAskedFor(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1}", Device: "{kind: transmitter}", Walk: "C channel 1"}
	p, c := o.Read(t)
	p.Cable("W2").Length = 0
	r, ok := ReadingsOf(p, c)
	want := "length of cable W2; volts of card C; ohms of card C"
	if got := strings.Join(r.Missing, "; "); !ok || got != want || len(r.Rows) != 0 {
		t.Errorf("asked for %q, not %q; rows %v", got, want, r.Rows)
	}
	for _, m := range Margins(p, c) {
		if m.OK() {
			t.Errorf("%s passes without its data", m.What)
		}
	}
}

// A transmitter with its own supply drives a passive input: 12 mA in 250 ohm
// is 3 V (Ohm's law), + on the + terminal.
func TestFourWire(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: AI, power: loop, channels: 1, ohms: 250 ohm}", Device: "{kind: four-wire transmitter}", Walk: "C channel 1"}
	p, c := o.Read(t)
	s := compute(p, c, state{mA: 12})
	ch := p.Part("C").Channel(1)
	v, ok := s.across(ch[0], ch[1])
	if !ok {
		t.Fatal(s.Missing)
	}
	modeltest.Within(t, "input", v, 3, 1e-4)
}

// leastSupply is the supply that leaves the device its lift-off voltage.
func leastSupply(t *testing.T, load, liftOff, mA float64) float64 {
	t.Helper()
	return modeltest.Halved(0.1, 100, func(supply float64) bool { return !leaves(t, supply, load, liftOff, mA) })
}

// Supplies and loads printed in makers' manuals.
func TestSupplyExamples(t *testing.T) {
	t.Parallel()
	modeltest.Within(t, "Rosemount 3144P: 18.1 V for 250 ohm at 24.5 mA", leastSupply(t, 250, 12, 24.5), 18.1, 0.05)
	modeltest.Within(t, "Yokogawa YTA: 13.8 V for 250 ohm, read off a chart; (E - 8)/0.0236 gives 13.90", leastSupply(t, 250, 8, 23.6), 13.90, 0.005)
	modeltest.Within(t, "the same: 21.8 V for 600 ohm off the chart; the formula gives 22.16", leastSupply(t, 600, 8, 23.6), 22.16, 0.005)
	modeltest.Within(t, "Micro Motion 2700: 17.5 V for 250 ohm is rounded low; (Vs - 12)/0.023 gives 17.75", leastSupply(t, 250, 12, 23), 17.75, 0.005)
	modeltest.Within(t, "Spirax SP400: two positioners of 7 V in series", leastSupply(t, 1e-6, 14, 20), 14, 0.001)
	// Bopp & Reuther DIMF: (U-14)/0.004 below 15.2 V and (U-8.5)/0.022 from there.
	modeltest.Within(t, "DIMF at 24 V", largest(t, 24, 8.5, 22), 704.5, 0.06)
	modeltest.Within(t, "DIMF at 15.2 V, upper branch", largest(t, 15.2, 8.5, 22), 304.5, 0.06)
	modeltest.Within(t, "DIMF at 15.2 V, lower branch", largest(t, 15.2, 14, 4), 300, 0.06)
}

// Fisher 846: 40 to 200 mV on test pins of 10 ohm; airpower APV-350 with HART
// drops 11.50 V in 575 ohm. Both by the network.
func TestDropsOfLoads(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ ohms, mA, want float64 }{{10, 4, 0.040}, {10, 20, 0.200}, {575, 20, 11.50}} {
		o := modeltest.OneLoop{Card: "{kind: AO, channels: 1}", Device: fmt.Sprintf("{kind: positioner, ohms: %g ohm}", x.ohms), Walk: "C channel 1"}
		modeltest.Within(t, fmt.Sprintf("%g ohm at %g mA", x.ohms, x.mA), loopVolts(o, t, x.mA), x.want, 1e-6)
	}
}

// An isolator is a source of its own: 15.0 V at 20 mA to the transmitter (GM
// International's figure for one make), whatever the card gives, and the
// card's input carries the same current.
func TestIsolatorIsASource(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 1, volts: 24 V, ohms: 250 ohm}", Device: "{kind: transmitter, lift-off: 10 V}",
		Parts: "    isolators: {B: {volts: 15 V at 20 mA, load: 600 ohm}}", Walk: "B, wires, C channel 1"}
	p, c := o.Read(t)
	s := compute(p, c, state{mA: 20})
	a, b := TerminalsOf(c, c.Device())
	if v, ok := s.across(a, b); !ok {
		t.Fatal(s.Missing)
	} else {
		modeltest.Within(t, "at the transmitter", v, 15, 1e-4)
	}
	ch := p.Part("C").Channel(1)
	v, _ := s.across(ch[0], ch[1])
	modeltest.Within(t, "across the card", v, 24-0.020*250, 1e-6)
	if mA, ok := s.receiver(); !ok || math.Abs(mA-20) > 1e-6 {
		t.Errorf("the card sees %v mA", mA)
	}
}

// AutomationDirect F4-16AD-1 manual: 750 ohm of load are wanted at 36 V and the
// card has 250, so 500 ohm at the least have to be added.
func TestLoadToAdd(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: AO, channels: 1, drive: 2000 ohm, least load: 750 ohm}", Device: "{kind: positioner, ohms: 250 ohm}", Walk: "C channel 1"}
	p, c := o.Read(t)
	for _, m := range Margins(p, c) {
		if m.Code == finding.UnderloadedOutput {
			modeltest.Within(t, "what is to be added", -m.Headroom(), 500, 0.001)
			return
		}
	}
	t.Error("the load is not compared")
}
