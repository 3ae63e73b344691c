package compute

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"ringout/model/modeltest"
)

// acVolts are the volts at the device of a circuit of testdata/ac.yaml in a state.
func acVolts(t *testing.T, circuit int, st state, change ...string) float64 {
	t.Helper()
	p, _ := modeltest.Changed(t, "ac.yaml", change...)
	c := p.Loops[0].Circuits[circuit]
	a, b := TerminalsOf(c, c.Device())
	s := compute(p, c, st)
	v, ok := s.across(a, b)
	if !ok {
		t.Fatalf("%s has no answer: %q", c.Name, s.Missing)
	}
	return v
}

// TestControlRuns: the longest run for a drop of 5 % by published formulas. They are
// of the first order, so 5 % is the drop against what arrives, to 0.2.
func TestControlRuns(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		source            string
		volts, va, pf     float64
		ohmsPerKm, metres float64
	}{
		// l = 5·U²·u%/(R·P·cos φ), one way.
		{"SIRIUS 3RT manual A5E03656507120A p. 158", 110, 68, 0.82, 12.1, 448},
		{"SIRIUS 3RT manual A5E03656507120A p. 158", 230, 68, 0.82, 12.1, 1960},
		// l = u%·U²·κ·A/(100·S) out and back, κ = 57 m/(Ω·mm²): 1131 m of 1.5 mm².
		{"LVSAM-WP001A-EN-P (04/2009) 5.3.4", 230, 200, 1, 1000 / (57 * 1.5), 565},
		// l = U²/S·A·K: 213 m for 200 VA, K = 2.15. K is 1.38 for DC, so that it holds a
		// cos φ of 1.38/2.15, and 18.1 Ω·mm²/km.
		{"TeSys contactors, long distance remote control, p. 5/189", 115, 200, 1.38 / 2.15, 18.1 / 1.5, 213},
	} {
		volts := fmt.Sprintf("%g V AC", x.volts)
		v := acVolts(t, 0, state{closed: true, inrush: true}, modeltest.AcSupply, "AC-1: {volts: "+volts+"}",
			modeltest.CoilLine, fmt.Sprintf("rated volts: %s, inrush: %g VA, inrush power factor: %g", volts, x.va, x.pf),
			"ohms: 10 ohm/km", fmt.Sprintf("ohms: %g ohm/km", x.ohmsPerKm), "to: MC, length: 1000 m", fmt.Sprintf("to: MC, length: %g m", x.metres))
		modeltest.Within(t, x.source+": drop in %", (x.volts-v)/v*100, 5, 0.2)
	}
}

// TestSmallSolenoid: an irrigation solenoid wire chart lets a coil of 24 V AC, 350 mA at
// inrush and 190 mA holding, stand 290, 397 and 730 m off on 1.0, 1.5 and 2.5 mm². With 18.1,
// 12.1 and 7.41 Ω/km (IEC 60228) it then gets from 85 to 90 % at inrush: coils
// pull in at 85 % (LVSAM-WP001A-EN-P 5.3.4). Held, it has more.
func TestSmallSolenoid(t *testing.T) {
	t.Parallel()
	for metres, ohms := range map[float64]float64{290: 18.1, 397: 12.1, 730: 7.41} {
		change := []string{modeltest.AcSupply, "AC-1: {volts: 24 V AC}",
			modeltest.CoilLine, "rated volts: 24 V AC, inrush: 8.4 VA, inrush power factor: 1, holding: 4.56 VA, power factor: 1",
			"ohms: 10 ohm/km", fmt.Sprintf("ohms: %g ohm/km", ohms), "to: MC, length: 1000 m", fmt.Sprintf("to: MC, length: %g m", metres)}
		inrush := acVolts(t, 0, state{closed: true, inrush: true}, change...)
		if inrush < 0.85*24 || inrush > 0.9*24 {
			t.Errorf("%g m: %.2f V at inrush", metres, inrush)
		}
		if held := acVolts(t, 0, state{closed: true}, change...); held <= inrush {
			t.Errorf("%g m: %.2f V held, %.2f V at inrush", metres, held, inrush)
		}
	}
}

// TestACInput: 120 V through 1000 Ω of line into an input that takes 6 mA leaves 114 V
// (Field Wire Length, Momentum I/O instructions): an input of 19 kΩ.
func TestACInput(t *testing.T) {
	t.Parallel()
	p, _ := modeltest.Changed(t, "ac.yaml", "ohms: 10 ohm/km", "ohms: 500 ohm/km")
	r, ok := ReadingsOf(p, p.Loops[0].Circuits[1])
	if !ok || len(r.Missing) > 0 || r.Unit != "V AC" {
		t.Fatalf("readings %+v", r)
	}
	input := r.Rows[len(r.Rows)-1]
	modeltest.Within(t, "open", input.Values[0].Value, 0, 1e-9)
	modeltest.Within(t, "closed", input.Values[1].Value, 114, 1e-9)
}

// TestDrawnByAmperes: 4 A over 100 ft of AWG 16, 4.99 Ω/kft, lose 3.99 V of 24 V (NEC
// voltage-drop example page). 30 VA at 120 V are 250 mA.
func TestDrawnByAmperes(t *testing.T) {
	t.Parallel()
	v := acVolts(t, 2, state{}, modeltest.AcSupply, "AC-1: {volts: 24 V AC}", "draws: 30 VA, power factor: 0.6", "draws: 4 A, power factor: 1",
		"mains: {cores: 3, conductor: 1.5 mm2, ohms: 10 ohm/km", "mains: {cores: 3, conductor: 16 AWG, ohms: 16.371 ohm/km", "W-3: {type: mains, from: AT-1, to: MC, length: 1000 m", "W-3: {type: mains, from: AT-1, to: MC, length: 100 ft")
	modeltest.Within(t, "drop", 24-v, 3.99, 0.005)
	// 20 Ω · 0.25 A = 5 V at an angle of 53.13°: 3 V along and 4 V across.
	modeltest.Within(t, "30 VA", acVolts(t, 2, state{}), math.Hypot(120-3, 4), 1e-9)
	// Protective earth first in the walk changes nothing.
	modeltest.Within(t, "PE first", acVolts(t, 2, state{}, "AT-1 L N PE, W-3, MC/X7 L3 N3 PE3", "AT-1 PE L N, W-3 cores 3 1 2, MC/X7 PE3 L3 N3"), math.Hypot(120-3, 4), 1e-9)
}

// TestResistorOnAC: at a power factor of 1 a coil on AC is the resistor that it is on DC.
func TestResistorOnAC(t *testing.T) {
	t.Parallel()
	ac := acVolts(t, 0, state{closed: true}, modeltest.CoilLine, "rated volts: 120 V AC, holding: 20 VA, power factor: 1")
	modeltest.Within(t, "on AC", ac, 120*720.0/740, 1e-9)
	for _, pf := range []float64{0.9, 0.5, 0.1} { // the less in phase, the less is lost
		v := acVolts(t, 0, state{closed: true}, modeltest.CoilLine, fmt.Sprintf("rated volts: 120 V AC, holding: 20 VA, power factor: %g", pf))
		if v <= ac || v >= 120 {
			t.Errorf("power factor %g: %.3f V, more in phase %.3f V", pf, v, ac)
		}
		ac = v
	}
}

// TestNothingFeeds: a circuit that nothing feeds has no readings, rather than 0 V.
func TestNothingFeeds(t *testing.T) {
	t.Parallel()
	p, _ := modeltest.Changed(t, "ac.yaml", "AC-1 L to X7 L1, AC-1 N to X7 N1, ", "")
	for _, c := range p.Loops[0].Circuits {
		if r, _ := ReadingsOf(p, c); len(r.Rows) > 0 || !slices.Contains(r.Missing, "what supplies circuit "+c.Name) {
			t.Errorf("%s: %+v", c.Name, r)
		}
	}
}
