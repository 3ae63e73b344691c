package compute

import (
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestOpenVolts: with no current nothing drops, so the lifted cores stand at
// the volts of the source, whatever lengths and ohms are not given (Ohm's law).
func TestOpenVolts(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(modeltest.OpenPlant)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	for i, want := range []struct {
		volts   float64
		plus    string
		missing []string
	}{
		{26, "FT-1:+", nil},
		{0, "", []string{"volts of card B"}},
		{24.5, "ZS-3:1", nil},
		{23, "XY-4:+", nil},
	} {
		c := p.Loops[0].Circuits[i]
		volts, plus, missing := OpenVolts(p, c)
		modeltest.Within(t, c.Name, volts.Value, want.volts, 1e-6)
		tag := ""
		if plus != nil {
			tag = plus.Tag()
		}
		if tag != want.plus || !slices.Equal(missing, want.missing) {
			t.Errorf("%s: + on %q, missing %q, not %q, %q", c.Name, tag, missing, want.plus, want.missing)
		}
	}
}

// TestInsulationLimit: MΩ·km over km, where that is more than the practice's.
func TestInsulationLimit(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(modeltest.OpenPlant)}}, "p.yaml")
	for _, c := range []struct {
		volts, metres, want float64
		byLength            bool
	}{
		{250, 250, 100, true}, // 25 MΩ·km of PVC over 0.25 km, by hand
		{250, 100e3, 0.5, false},
		{250, 0, 0.5, false},
		{0, 250, 0, false},
	} {
		p.Practice.TestVolts, p.Cables[1].Length = c.volts, c.metres
		if got, by := InsulationLimit(p, p.Cables[1]); got != c.want || by != c.byLength {
			t.Errorf("%g m at %g V: %g MΩ, by length %v, not %g, %v", c.metres, c.volts, got, by, c.want, c.byLength)
		}
	}
}

// TestInputVolts: a card with 250 Ω takes 1 to 5 V of 4 to 20 mA (Ohm's law);
// one that powers the loop has that much less than its own volts.
func TestInputVolts(t *testing.T) {
	t.Parallel()
	p, c := modeltest.OneLoop{Card: modeltest.PoweredCard, Device: "{kind: transmitter}", Walk: "C channel 1"}.Read(t)
	for mA, want := range map[float64]float64{0: 24, 4: 23, 20: 19} {
		got, ok := InputVolts(p, c, mA)
		modeltest.Within(t, "volts at the card", got.Value, want, 1e-6)
		if !ok {
			t.Errorf("%g mA: not computed", mA)
		}
	}
	p, c = modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 2, volts: 24 V}", Device: "{kind: transmitter}", Walk: "C channel 1"}.Read(t)
	if v, ok := InputVolts(p, c, 4); ok {
		t.Errorf("without the card's ohms: %v V", v)
	}
}
