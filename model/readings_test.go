package model

import (
	"slices"
	"testing"
	"testing/fstest"
)

// openPlant has a circuit for every way in which the cores of a lifted device
// get their volts.
const openPlant = `plant: Open
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none, insulation: 25 Mohm km}}
cabinets:
  MC:
    strips: {Y: {terminals: 1..4}, X: {terminals: [F1..F4 fused 1 A, N1..N4], jumpers: [F1..F4, N1..N4]}}
    supplies: {PS: {volts: 24.5 V DC}}
    feeds: [PS + to X F1, PS - to X N1]
    cards:
      A: {kind: AI, power: card, channels: 2, volts: 26 V}
      B: {kind: AI, power: card, channels: 2}
      D: {kind: DI, power: loop, channels: 2}
      O: {kind: DO, power: card, channels: 2, volts: 23 V}
cables:
  W1: {type: pair, from: FT-1, to: MC}
  W2: {type: pair, from: FT-2, to: MC, length: 250 m}
  W3: {type: pair, from: ZS-3, to: MC, length: 100 km}
  W4: {type: pair, from: XY-4, to: MC, length: 10 m}
loops:
  L:
    service: open
    devices:
      FT-1: {kind: transmitter}
      FT-2: {kind: transmitter}
      ZS-3: {kind: contact}
      XY-4: {kind: solenoid}
    circuits:
      FT-1: [FT-1, W1, A channel 1]
      FT-2: [FT-2, W2, B channel 1]
      ZS-3: [ZS-3 1 2, W3, MC/Y 1 2, {1: [wires, MC/X F2], 2: [wires, D channel 1 +>-, wires, MC/X N2]}]
      XY-4: [XY-4, W4, O channel 1]
`

// TestOpenVolts: with no current nothing drops, so the lifted cores stand at
// the volts of the source, whatever lengths and ohms are not given (Ohm's law).
func TestOpenVolts(t *testing.T) {
	t.Parallel()
	p, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte(openPlant)}}, "p.yaml")
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
		volts, plus, missing := p.OpenVolts(c)
		within(t, c.Name, volts.Value, want.volts, 1e-6)
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
	p, _, _ := Read(fstest.MapFS{"p.yaml": {Data: []byte(openPlant)}}, "p.yaml")
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
		if got, by := p.InsulationLimit(p.Cables[1]); got != c.want || by != c.byLength {
			t.Errorf("%g m at %g V: %g MΩ, by length %v, not %g, %v", c.metres, c.volts, got, by, c.want, c.byLength)
		}
	}
}

// TestInputVolts: a card with 250 Ω takes 1 to 5 V of 4 to 20 mA (Ohm's law);
// one that powers the loop has that much less than its own volts.
func TestInputVolts(t *testing.T) {
	t.Parallel()
	p, c := oneLoop{card: poweredCard, device: "{kind: transmitter}", walk: "C channel 1"}.read(t)
	for mA, want := range map[float64]float64{0: 24, 4: 23, 20: 19} {
		got, ok := p.InputVolts(c, mA)
		within(t, "volts at the card", got.Value, want, 1e-6)
		if !ok {
			t.Errorf("%g mA: not computed", mA)
		}
	}
	p, c = oneLoop{card: "{kind: AI, power: card, channels: 2, volts: 24 V}", device: "{kind: transmitter}", walk: "C channel 1"}.read(t)
	if v, ok := p.InputVolts(c, 4); ok {
		t.Errorf("without the card's ohms: %v V", v)
	}
}
