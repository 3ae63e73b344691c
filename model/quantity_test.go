package model

import (
	"fmt"
	"math"
	"testing"
	"testing/fstest"
)

// TestConvert: fixed points of the scales of temperature, by definition; the
// other factors as NIST SP 811 appendix B prints them, or exact by definition.
func TestConvert(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		v        float64
		from, to string
		want     float64
	}{
		{212, "°F", "°C", 100}, {32, "deg F", "C", 0}, {-40, "°F", "°C", -40}, {100, "°C", "°F", 212}, {-328, "°F", "°C", -200},
		{273.15, "K", "°C", 0}, {0, "K", "°F", -459.67}, {671.67, "°R", "°C", 100}, {491.67, "°R", "°F", 32},
		{1, "psi", "kPa", 6.894757}, {1, "bar", "psi", 14.50377}, {1, "inH2O", "Pa", 249.0889}, {1, "inHg", "kPa", 3.386389}, {100, "inWC", "mbar", 24.90889 * 10},
		{1, "kgf/cm²", "kPa", 98.0665}, {1, "psig", "barg", 0.06894757}, {1, "psia", "bara", 0.06894757},
		{1000, "ft", "m", 304.8}, {1, "in", "mm", 25.4}, {1, "gpm", "l/min", 3.785412}, {1, "m³/h", "l/min", 1000. / 60}, {1, "lb/h", "kg/h", 0.4535924}, {60, "pF/ft", "pF/m", 60 / 0.3048}, {1, "ohm/km", "Ω/m", 0.001},
	} {
		if got, ok := Convert(c.v, c.from, c.to); !ok || math.Abs(got-c.want) > 5e-7*max(1e-9, math.Abs(c.want)) {
			t.Errorf("%g %s are %.9g %s, %t; want %.9g", c.v, c.from, got, c.to, ok, c.want)
		}
	}
	if v, _ := Convert(30.48, "pF/ft", "pF/m"); v != 100 {
		t.Errorf("30.48 pF/ft are %g pF/m", v)
	}
	for _, c := range [][2]string{{"psia", "psig"}, {"°C", "bar"}, {"m3/h", "kg/h"}, {"mPa", "MPa"}, {"%", "°C"}, {"", "°C"}, {"°C/min", "°F/min"}} {
		if v, ok := Convert(1, c[0], c[1]); ok {
			t.Errorf("1 %s became %g %s", c[0], v, c[1])
		}
	}
}

// sensorPlant has one temperature sensor on a card.
const sensorPlant = `plant: Degrees
practice: {check points: [25, 50, 75]}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: %s, screen: none}}
cabinets: {MC: {cards: {T: {kind: %s, channels: 2}}}}
cables: {W1: {type: pair, from: TE-1, to: MC, length: 1 m}}
loops: {T: {service: t, devices: {TE-1: {kind: %s, sensor: %s, %s}}, circuits: {TE-1: [TE-1, W1, T channel 1]}}}
`

// TestDegrees: a sensor gives the same whatever unit its range is in. 300 °F
// are 148.889 °C, where type K gives 6.0932 mV, straight between 5.735 mV at
// 140 °C and 6.138 mV at 150 °C of the NIST table (to 0.002 mV), less 0.798 mV
// at 20 °C. 250 °F are 121.111 °C, where the equation of IEC 60751 gives 146.49 Ω.
func TestDegrees(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind, sensor, keys, state string
		want, within              float64
	}{
		{"thermocouple", "K", "range: 0..600 °F", "300 °F", 5.295, 0.002},
		{"thermocouple", "K", "range: 0..600 degF", "300 degF", 5.295, 0.002},
		{"thermocouple", "K", "range: 255.372..588.706 K", "422 K", 5.295, 0.002},
		{"thermocouple", "K", "range: 459.67..1059.67 °R", "759.7 °R", 5.295, 0.002},
		{"thermocouple", "K", "range: 0..100 %, calibrated: 0..600 °F", "300 °F", 5.295, 0.002},
		{"RTD 2-wire", "Pt100", "range: 0..500 °F", "250 °F", 146.49 + 0.036, 0.006}, // both cores of 1 m
		{"RTD 2-wire", "Pt100", "range: -20..262.222 °C", "121.1 °C", 146.483 + 0.036, 0.006},
	} {
		card, code := "TC", "IEC 60584-3 K"
		if c.sensor == "Pt100" {
			card, code = "RTD, wires: 2", "black/white"
		}
		text := fmt.Sprintf(sensorPlant, code, card, c.kind, c.sensor, c.keys)
		p, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		r, _ := p.Readings(p.Loops[0].Circuits[0])
		if len(r.Rows) == 0 {
			t.Errorf("%s: missing %q", c.keys, r.Missing)
			continue
		}
		last := r.Rows[len(r.Rows)-1].Values
		if r.States[1] != c.state || math.Abs(last[1].Value-c.want) > c.within {
			t.Errorf("%s: %.3f at %s; want %.3f at %s", c.keys, last[1].Value, r.States[1], c.want, c.state)
		}
	}
	for _, keys := range []string{"range: 0..6 bar", "range: 0..100", "range: 0..100 %", "range: 0..100 °X"} {
		text := fmt.Sprintf(sensorPlant, "IEC 60584-3 K", "TC", "thermocouple", "K", keys)
		p, _, _ := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		found := Check(p)
		if len(found) == 0 || found[0].Code != "wrong-unit" {
			t.Errorf("%s: found %v", keys, found)
		}
		if r, _ := p.Readings(p.Loops[0].Circuits[0]); len(r.Rows) > 0 || len(r.Missing) == 0 {
			t.Errorf("%s: readings %v, missing %q", keys, r.Rows, r.Missing)
		}
	}
}
