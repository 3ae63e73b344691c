package model

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"
)

// TestShortMarginsFound: whatever the resistance of the card, the cable and a
// barrier, check reports a margin exactly where Margins has it short, however far;
// and what fails at one resistance fails at every larger one. The limit is worked
// out beside it by Ohm's law: 24 V less 22 mA through all ohms must leave 10.5 V.
func TestShortMarginsFound(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		barrier := 1 + random.Float64()*400
		metres := 1 + random.Float64()*3000
		failed := false
		for ohms := 10.0; ohms < 1e7; ohms *= 1.5 {
			o := oneLoop{card: fmt.Sprintf("{kind: AI, power: card, channels: 2, volts: 24 V, ohms: %f ohm}", ohms),
				device: "{kind: transmitter, lift-off: 10.5 V, failure current: 22 mA}",
				parts:  fmt.Sprintf("    barriers: {B: {ohms: %g ohm, working volts: 30 V}}", barrier),
				walk:   "B, wires, C channel 1", homeMetres: metres}
			p, c := o.read(t)
			short := false
			for _, m := range p.Margins(c) {
				short = short || !m.OK()
			}
			found := false
			for _, pr := range Check(p) {
				found = found || pr.Code == "low-voltage"
			}
			byHand := 24-0.022*(ohms+2*barrier+2*metres*0.0121) < 10.5
			if short != found || found != byHand {
				t.Fatalf("at %g Ω: a margin is short: %t, found: %t, by hand: %t", ohms, short, found, byHand)
			}
			if failed && !found {
				t.Fatalf("at %g Ω the finding is gone", ohms)
			}
			failed = found
		}
		if !failed {
			t.Error("nothing found at 10 MΩ")
		}
	}
}

// A transmitter that fails low still has to signal the top of its range: 24 V less
// 20 mA in 700 Ω is 10 V.
func TestFailLowStillSignals(t *testing.T) {
	o := oneLoop{card: "{kind: AI, power: card, channels: 2, volts: 24 V, ohms: 700 ohm}", walk: "C channel 1",
		device: "{kind: transmitter, lift-off: 12 V, failure current: 3.6 mA}"}
	p, c := o.read(t)
	within(t, "voltage", p.Margins(c)[1].Has, 10, 0.01)
	if p.Margins(c)[1].OK() {
		t.Error("10 V suffice for 12 V")
	}
}

// TestNothingIsNoValue: where 0 stands for what is not given, a written 0 is
// refused, and so is less.
func TestNothingIsNoValue(t *testing.T) {
	const plant = `
cabinets:
  MC:
    supplies: {PS: {volts: SUPPLY}}
    cards: {C: {kind: AI, power: card, channels: 2, volts: CARD, ohms: OHMS, limit: LIMIT}}
loops:
  L:
    service: nothing
    devices: {D: {kind: transmitter, lift-off: LIFT, failure current: FAILS, drop: DROP}}
`
	values := []string{"SUPPLY", "24 V DC", "CARD", "[25 V at 0 mA, 20 V at 20 mA]", "OHMS", "250 ohm", "LIMIT", "25 mA", "LIFT", "10 V", "FAILS", "22 mA", "DROP", "0 V"}
	read := func(values []string) int {
		_, _, ps := Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.NewReplacer(values...).Replace(plant))}}, ".")
		n := 0
		for _, pr := range ps {
			if pr.Code == "number-out-of-range" {
				n++
			}
		}
		return n
	}
	if n := read(values); n != 0 {
		t.Error("findings in what is right:", n)
	}
	for key, zero := range map[string]string{"SUPPLY": "0 V DC", "CARD": "0 V", "OHMS": "0 kohm", "LIMIT": "0 A", "LIFT": "[0 V at 4 mA, 10 V at 20 mA]", "FAILS": "0 mA"} {
		if n := read(append([]string{key, zero}, values...)); n != 1 {
			t.Errorf("%s %s: %d findings, not 1", key, zero, n)
		}
	}
}
