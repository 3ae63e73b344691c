package model

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// below is a transmitter on a supply of −24 V: its + on the common.
const below = `
plant: Below
practice: {earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
cabinets:
  MC:
    at: there
    strips: {X1: {terminals: 1..8}, X5: {terminals: 1..8}}
    supplies:
      PS-N: {volts: -24 V DC, least volts: 22 V}
      PS-P: {volts: 24 V DC}
    feeds: [PS-N 0V to X5 1, PS-N -24V to X5 2, PS-P + to X5 3, PS-P - to X5 4]
    cards: {AL: {kind: AI, power: loop, channels: 2, ohms: 250 ohm}}
cables: {W: {type: pair, from: FT-1, to: MC, length: 100 m}}
loops:
  F-1:
    service: below common
    devices: {FT-1: {kind: transmitter, lift-off: 10 V, failure current: 22 mA}}
    circuits:
      FT-1: [FT-1, W, MC/X1 1 2, {+: [wires, MC/X5 1], -: [wires, AL channel 1 +>-, wires, MC/X5 2]}]
`

func belowText(words ...string) fstest.MapFS {
	return fstest.MapFS{"p.yaml": {Data: []byte(strings.NewReplacer(words...).Replace(below))}}
}

func belowPlant(words ...string) *Plant {
	p, _, _ := Read(belowText(words...), ".")
	return p
}

// At 20 mA 250 Ω take 5 V and 200 m of 12.1 Ω/km (IEC 60228) 0.0484 V: 18.9516 V are
// left of 24 V, + on the common; with the least of 22 V and 22 mA, 22 − 5.5 − 0.05324.
func TestSupplyBelowCommon(t *testing.T) {
	t.Parallel()
	p, codes := belowPlant(), codesOf(belowText())
	if codes != "" {
		t.Fatal("found", codes)
	}
	c := p.Loops[0].Circuits[0]
	r, ok := p.Readings(c)
	if !ok || len(r.Missing) > 0 {
		t.Fatal(r.Missing)
	}
	i := slices.Index(r.States, "20 mA")
	within(t, r.Rows[0].Where(), r.Rows[0].Values[i].Value, 18.9516, 1e-4)
	if row := r.Rows[0]; row.A.Role != '+' || row.B.Role != '-' {
		t.Error("the meter is turned")
	}
	within(t, "least", p.Margins(c)[1].Has, 16.44676, 1e-4)
	s := c.Supply()
	if s.Supply.Volts != "−24 V DC" || s.Terminals[0].Name != "0V" || s.Terminals[1].Name != "-24V" {
		t.Error(s.Supply.Volts, s.Terminals[0].Name, s.Terminals[1].Name)
	}
}

func TestSupplyBelowCommonChecked(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		name  string
		words []string
		codes string
	}{
		{"turned", []string{"X5 1]", "X5 2]", "X5 2]", "X5 1]"}, "reversed-polarity"},
		{"named", []string{"least volts", "terminals: COM V-, least volts", "PS-N 0V", "PS-N COM", "PS-N -24V", "PS-N V-"}, ""},
		{"too little left", []string{"250 ohm", "600 ohm"}, "low-voltage"},
		{"far too little", []string{"250 ohm", "60 kohm"}, "low-voltage"},
		{"from +24 V, back on the common of −24 V", []string{"X5 1]", "X5 3]", "X5 2]", "X5 1]"}, ""},
		{"the same, nothing earthed", []string{"earthed pole: negative", "earthed pole: none", "X5 1]", "X5 3]", "X5 2]", "X5 1]"}, "split-supplies"},
		{"nothing but returns", []string{"X5 1]", "X5 4]", "X5 2]", "X5 1]"}, "no-source"},
		{"AC below nothing", []string{"-24 V DC", "-24 V AC"}, "number-out-of-range"},
		{"no sign in the least", []string{"22 V", "-22 V"}, "number-out-of-range"},
		{"strong", []string{"-24 V DC", "-200 V DC", "-24V", "-200V"}, ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			codes := codesOf(belowText(x.words...))
			if x.codes == "" && codes != "" || !strings.Contains(codes, x.codes) {
				t.Errorf("found %q, not %q", codes, x.codes)
			}
		})
	}
}

// From +24 V to −24 V there are 48 V, their commons joined by way of earth; less 5.0484 V
// at 20 mA. What can hurt goes by the magnitude: 120 V DC is the most of extra-low
// voltage (IEC 61140).
func TestSupplyBelowCommonEarthed(t *testing.T) {
	t.Parallel()
	p := belowPlant("X5 1]", "X5 3]")
	c := p.Loops[0].Circuits[0]
	a, b := c.terminalsOf(c.Device())
	v, ok := p.compute(c, state{mA: 20}).across(a, b)
	if !ok {
		t.Fatal("no answer")
	}
	within(t, "voltage", v, 42.9516, 1e-4)
	p = belowPlant("-24 V DC", "-200 V DC", "-24V", "-200V")
	if c := p.Loops[0].Circuits[0]; !c.Mains() || !c.Supply().Supply.Dangerous() {
		t.Error("−200 V is not dangerous")
	}
}
