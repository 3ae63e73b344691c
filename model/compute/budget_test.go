package compute

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/modeltest"
	"ringout/model/read"
)

// A transmitter that fails low still has to signal the top of its range: 22.8 V, the
// least of 24 V, less 20 mA in 700 Ω is 8.8 V.
func TestFailLowStillSignals(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 2, volts: 24 V, ohms: 700 ohm}", Walk: "C channel 1",
		Device: "{kind: transmitter, lift-off: 9 V, failure current: 3.6 mA}"}
	p, c := o.Read(t)
	modeltest.Within(t, "voltage", Margins(p, c)[1].Actual, 8.8, 0.01)
	if Margins(p, c)[1].OK() {
		t.Error("8.8 V suffice for 9 V")
	}
}

// TestNothingIsNoValue: where 0 stands for what is not given, a written 0 is
// refused, and so is less.
func TestNothingIsNoValue(t *testing.T) {
	t.Parallel()
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
		_, _, ps := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.NewReplacer(values...).Replace(plant))}}, ".")
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

// TestSpreadOfVolts: margins go by the least and the highest of a supply and of a card,
// by the tolerance where they are not given. By hand: 24 V less 5 % is 22.8 V, less 22 mA
// in 250 Ω and 300 m of 12.1 Ω/km (IEC 60228) there and back, 5.65972 V; readings stay
// with 24 V. Into a barrier go 25.2 V.
func TestSpreadOfVolts(t *testing.T) {
	t.Parallel()
	const lost = 0.022 * (250 + 2*300*0.0121)
	for _, x := range []struct {
		name, more     string
		tolerance      float64
		least, highest float64
		fed            bool // from a supply, the card powered by the loop
	}{
		{"card, by the tolerance", "", 5, 22.8, 25.2, false},
		{"card, no tolerance", "", 0, 24, 24, false},
		{"card, IEC 61131-2", "", 15, 20.4, 27.6, false},
		{"card, given", ", least volts: 21 V, highest volts: 28 V", 5, 21, 28, false},
		{"card, given by current", ", least volts: [24 V at 4 mA, 18 V at 22 mA]", 5, 18, 25.2, false},
		{"supply, by the tolerance", "", 5, 22.8, 25.2, true},
		{"supply, given", ", least volts: 23.5 V, highest volts: 24.5 V", 5, 23.5, 24.5, true},
	} {
		t.Run(x.name, func(t *testing.T) {
			o := modeltest.OneLoop{Card: "{kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm" + x.more + "}", HomeMetres: 300,
				Device: "{kind: transmitter, lift-off: 10 V, failure current: 22 mA}", Parts: "    barriers: {B: {ohms: 0.000001 ohm, working volts: 26 V}}", Walk: "B, wires, C channel 1"}
			if x.fed {
				o.Card = "{kind: AI, power: loop, channels: 2, ohms: 250 ohm}"
				o.Parts += "\n    supplies: {PS: {volts: 24 V DC" + x.more + "}}\n    feeds: [PS + to X 7, PS - to X 8]"
				o.Walk = "B, {+: [wires, MC/X 7], -: [wires, C channel 1 +>-, wires, MC/X 8]}"
			}
			p, c := o.Read(t)
			p.Practice.Tolerance = x.tolerance
			ms := Margins(p, c)
			modeltest.Within(t, "voltage at 22 mA", ms[1].Actual, x.least-lost, 1e-4)
			modeltest.Within(t, "voltage into the barrier", ms[2].Actual, x.highest, 1e-4)
			r, _ := ReadingsOf(p, c)
			modeltest.Within(t, "reading at 22 mA", r.Rows[0].Values[len(r.States)-1].Value, 24-lost, 1e-4)
		})
	}
}
