package compute

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestContactOnEarth: a core of a contact on earth blows a fuse, bridges the
// contact, takes the input's current away or does nothing, by where the input
// lies and which pole is earthed. Kirchhoff's laws by hand: the card has 3.3
// kohm, each core 1.21 kohm, the earthed pole is 0 V to earth, and F2 lies in
// the leg to +.
func TestContactOnEarth(t *testing.T) {
	t.Parallel()
	ahead := "{1: [wires, MC/X F2], 2: [wires, D channel 1 +>-, wires, MC/X N2]}"
	behind := "{1: [wires, D channel 1 ->+, wires, MC/X F2], 2: [wires, MC/X N2]}"
	const nothing = "no effect|as when healthy"
	for _, x := range []struct{ pole, walk, core1, core2 string }{
		{"negative", ahead, "stays open; fuse MC/X:F2 blows|0 V across the contact", "stays open; when it closes, fuse MC/X:F2 blows|23.3..25.7 V across the open contact"},
		{"positive", ahead, nothing, "stays closed|0 V across the contact"},
		{"negative", behind, "stays closed|0 V across the contact", nothing},
		{"positive", behind, "stays open; when it closes, the supply is shorted|23.3..25.7 V across the open contact", "stays open; the supply is shorted|0 V across the contact"},
		{"none", ahead, "", ""},
		{"", ahead, "", ""},
	} {
		text := strings.Replace(modeltest.OpenPlant, ahead, x.walk, 1)
		text = strings.Replace(text, "power: loop, channels: 2", "power: loop, channels: 2, ohms: 3.3 kohm", 1)
		if x.pole != "" {
			text += fmt.Sprintf("practice: {earthed pole: %s}\n", x.pole)
		}
		rows, missing := faultsOf(t, text, "ZS-3")
		if want := x.pole == ""; slices.Contains(missing, "earthed pole (practice)") != want {
			t.Errorf("pole %q: not given: %v", x.pole, missing)
		}
		var want, got []string
		for i, s := range []string{x.core1, x.core2} {
			if s != "" {
				want = append(want, fmt.Sprintf("core on ZS-3:%d on earth|%s", i+1, s))
			}
		}
		for _, r := range rows {
			if strings.HasSuffix(r.Fault, "on earth") {
				got = append(got, r.Fault+"|"+r.Shows+"|"+r.Meter)
			}
		}
		if len(rows) == 0 || !slices.Equal(got, want) {
			t.Errorf("pole %q, %s: %q, want %q", x.pole, x.walk, got, want)
		}
	}
}

// faultsOf reads a plant and returns the fault guide of a circuit of its first
// loop.
func faultsOf(t *testing.T, text, circuit string) ([]FaultRow, []string) {
	t.Helper()
	p, _, ps := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if ps.Errors() > 0 {
		t.Fatal(ps)
	}
	cs := p.Loops[0].Circuits
	return FaultGuide(p, cs[slices.IndexFunc(cs, func(c *model.Circuit) bool { return c.Name == circuit })])
}

// guidePlant has a transmitter on a powered card, one on a fused supply, one
// behind an isolator, and a proximity switch.
const guidePlant = `plant: Guide
practice: {earthed pole: negative, supply tolerance: 0 %}
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
cabinets:
  MC:
    strips: {Y: {terminals: 1..2}, X: {terminals: [F1..F2 fused 1 A, N1..N2], jumpers: [F1..F2, N1..N2]}}
    supplies: {PS: {volts: 24 V DC}}
    feeds: [PS + to X F1, PS - to X N1]
    isolators: {K: {volts: 16 V}}
    cards:
      A: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}
      B: {kind: AI, power: loop, channels: 2, ohms: 250 ohm}
      P: {kind: proximity, channels: 1, volts: 8.2 V, ohms: 1 kohm}
cables:
  W1: {type: pair, from: FT-1, to: MC, length: 1 km}
  W2: {type: pair, from: FT-2, to: MC, length: 1 km}
  W3: {type: pair, from: FT-3, to: MC, length: 1 km}
  W4: {type: pair, from: ZS-4, to: MC, length: 1 km}
loops:
  L:
    service: guide
    devices:
      FT-1: {kind: transmitter, lift-off: 10 V}
      FT-2: {kind: transmitter, lift-off: 10 V}
      FT-3: {kind: transmitter, lift-off: 10 V}
      ZS-4: {kind: proximity switch}
    circuits:
      FT-1: [FT-1, W1, A channel 1]
      FT-2: [FT-2, W2, MC/Y 1 2, {1: [wires, MC/X F2], 2: [wires, B channel 1 +>-, wires, MC/X N2]}]
      FT-3: [FT-3, W3, K, wires, B channel 2]
      ZS-4: [ZS-4, W4, P channel 1]
`

// TestGuide: what a meter reads at a device with a core on earth follows from
// Kirchhoff's laws by hand (a core has 12.1 ohm), and a fuse is only spoken of
// where one feeds the circuit.
func TestGuide(t *testing.T) {
	t.Parallel()
	const unlike = "currents in the two cores differ; a damp earth is intermittent"
	for _, x := range []struct{ circuit, fault, shows, meter, remark string }{
		{"FT-1", "healthy, 12 mA", "12.00 mA", "20.71 V at the device", ""}, // 24 - 0.012 (250 + 24.2)
		// A bolted earth takes the current past the input, 24 - 0.012 x 12.1. 1 kΩ takes its
		// part: 12 x 1000 / 1262.1 mA are left, and 24 - 0.012 x (12.1 + 207.7). On the +
		// it draws 23.57 mA more: 24 - 12.1 x 0.03557 - 0.012 x 262.1.
		{"FT-1", "− core on earth at the device", "bolted 0.00 mA, by 1 kΩ 9.51 mA; 12.00 mA where the card measures in the +", "bolted 23.85 V, by 1 kΩ 21.36 V at the device", unlike},
		{"FT-1", "+ core on earth at the device", "bolted 0.00 mA, by 1 kΩ 12.00 mA; over-range where it measures in the +", "bolted 0.00 V, by 1 kΩ 20.42 V at the device", "loop supply shorted: its other loops may fail too"},
		{"FT-1", "pair shorted in the field", "87.5 mA", "0 V at the device", "over-range"}, // 24 / 274.2
		{"FT-2", "− core on earth at the device", "bolted 0.00 mA, by 1 kΩ 9.51 mA", "bolted 23.85 V, by 1 kΩ 21.36 V at the device", unlike},
		{"FT-2", "+ core on earth at the device", "bolted 0.00 mA, by 1 kΩ 12.00 mA", "bolted 0.00 V, by 1 kΩ 20.42 V at the device", "fuse MC/X:F2 may blow; its other loops fail too"},
		{"FT-2", "pair shorted in the field", "87.5 mA", "0 V at the device", "over-range; unprotected inputs are damaged"},
		{"FT-3", "one core on earth at the device", "12.00 mA: no effect", "15.71 V at the device", "the isolator floats: lift both cores; each open to earth"}, // 16 - 0.012 x 24.2
		{"ZS-4", "healthy, 1.0 mA", "below 1.2 mA", "7.18 V at the switch", ""},                                                                                 // 8.2 - 0.001 x 1024.2
		{"ZS-4", "healthy, 2.2 mA", "above 2.1 mA", "5.95 V at the switch", ""},                                                                                 // 8.2 - 0.0022 x 1024.2
		{"ZS-4", "pair open", "0 mA: line fault if monitored, else as below 1.2 mA", "8.20 V across the break", "does not change with the target"},
		{"ZS-4", "pair shorted", "8.0 mA: line fault if monitored, else as above 2.1 mA", "0 V at the switch", "does not change with the target"}, // 8.2 / 1024.2
		// 8.2 - 0.0022 x 12.1; by 1 kΩ 2.2 x 1000 / 2012.1, and 8.2 - 0.0022 x (12.1 + 503.0).
		{"ZS-4", "− core on earth at the switch", "bolted 0.00 mA, by 1 kΩ 1.09 mA; nothing new where the card measures in the +", "bolted 8.17 V, by 1 kΩ 7.07 V at the switch", unlike},
	} {
		rows, missing := faultsOf(t, guidePlant, x.circuit)
		if len(missing) > 0 {
			t.Errorf("%s: not given: %v", x.circuit, missing)
		}
		if want := (FaultRow{x.fault, x.shows, x.meter, x.remark}); !slices.Contains(rows, want) {
			t.Errorf("%s: no row %q in\n%q", x.circuit, want, rows)
		}
	}
}

// TestGuideIsolatedChannel: a card whose channels each stand alone floats, so that one
// core on earth changes nothing: 24 - 0.012 x 274.2 is left at the device.
func TestGuideIsolatedChannel(t *testing.T) {
	t.Parallel()
	rows, _ := faultsOf(t, strings.Replace(guidePlant, "A: {kind: AI,", "A: {kind: AI, minus: own,", 1), "FT-1")
	want := FaultRow{"one core on earth at the device", "12.00 mA: no effect", "20.71 V at the device", "channel 1 of A floats: lift both cores; each open to earth"}
	if !slices.Contains(rows, want) {
		t.Errorf("no row %q in\n%q", want, rows)
	}
}

// TestThermoFaults: by the table of NIST for type K, E(500) is 20.644, E(60) 2.436 and
// E(40) 1.612 mV. Reversed once a card at 40 °C shows the temperature of
// 2 x 1.612 - 20.644 = -17.420 mV, which type K does not reach; reversed twice, with the
// head at 60 °C, that of 20.644 - 2 x (2.436 - 1.612) = 18.996 mV, 461.3 °C between 18.941
// at 460 and 19.366 at 470. The meter reads 20.644 - 2 x 2.436 + 1.612 mV.
func TestThermoFaults(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ scale, terminals, mid, twice, meter string }{
		{"0..1000 °C", "40 °C", "500 °C", "461.3 °C, with its head at 60 °C", "17.38"},
		{"0..1864 °F", "104 °F", "932 °F", "862.3 °F, with its head at 140 °F", "17.38"},
	} {
		text := fmt.Sprintf(`
plant: Hot
practice: {terminals on test: %s}
cable types: {k: {pairs: 1, conductor: 1.0 mm2, code: IEC 60584-3 K, screen: none}}
cables: {W-1: {type: k, from: TE-1, to: C-1, length: 10 m}}
cabinets: {C-1: {cards: {T: {kind: TC, channels: 2}}}}
loops: {L: {service: hot, devices: {TE-1: {kind: thermocouple, sensor: K, range: %s}}, circuits: {TE-1: [TE-1, W-1, T channel 1]}}}
`, x.terminals, x.scale)
		rows, missing := faultsOf(t, text, "TE-1")
		if len(missing) > 0 {
			t.Fatal(missing)
		}
		for _, want := range []FaultRow{
			{"healthy, " + x.mid, x.mid, "19.032 mV", "card terminals at " + x.terminals},
			{"reversed once", "outside the range of the sensor", "−19.032 mV", "falls when the process warms up"},
			{"reversed twice (both ends of a cable)", x.twice, x.meter, "error = about twice the temperature difference of the cable ends; none while they are equal"},
		} {
			i := slices.IndexFunc(rows, func(r FaultRow) bool { return r.Fault == want.Fault })
			if i < 0 || !strings.HasPrefix(rows[i].Meter, want.Meter) { // the table has three decimals
				t.Errorf("no row %q in\n%q", want, rows)
				continue
			}
			if want.Meter = rows[i].Meter; rows[i] != want {
				t.Errorf("%q, want %q", rows[i], want)
			}
		}
	}
}

// TestShortedSensor: at the card a short at the sensor reads its two leads, 2 x 100 m x
// 18.1 Ω/km (IEC 60228, 1 mm²), whatever the sensor.
func TestShortedSensor(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{"RTD 2-wire", "RTD 3-wire", "RTD 4-wire"} {
		n := kind[4:5]
		text := fmt.Sprintf(`
plant: Warm
cable types: {k: {cores: %s, conductor: 1.0 mm2, colours: [BK, WH, RD, BU], screen: none}}
cables: {W-1: {type: k, from: TE-1, to: C-1, length: 100 m}}
cabinets: {C-1: {cards: {T: {kind: RTD, wires: %s, channels: 2}}}}
loops: {L: {service: warm, devices: {TE-1: {kind: %s, sensor: Pt100, range: 32..212 °F}}, circuits: {TE-1: [TE-1, W-1, T channel 1]}}}
`, n, n, kind)
		if n != "4" {
			text = strings.Replace(text, "BK, WH, RD, BU", map[string]string{"2": "BK, WH", "3": "BK, WH, RD"}[n], 1)
		}
		rows, missing := faultsOf(t, text, "TE-1")
		i := slices.IndexFunc(rows, func(r FaultRow) bool { return r.Fault == "pair shorted" })
		if i < 0 || !strings.HasPrefix(rows[i].Meter, "3.62 Ω at T ") || !strings.HasSuffix(rows[0].Shows, "122 °F") {
			t.Errorf("%s: %q, missing %v", kind, rows, missing)
		}
	}
}
