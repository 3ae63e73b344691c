package check

import (
	"fmt"
	"math"
	"testing"
	"testing/fstest"

	"ringout/model/compute"
	"ringout/model/modeltest"
	"ringout/model/read"
)

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
		text := fmt.Sprintf(modeltest.SensorPlant, code, card, c.kind, c.sensor, c.keys)
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		r, _ := compute.ReadingsOf(p, p.Loops[0].Circuits[0])
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
		text := fmt.Sprintf(modeltest.SensorPlant, "IEC 60584-3 K", "TC", "thermocouple", "K", keys)
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		found := Check(p)
		if len(found) == 0 || found[0].Code != "wrong-unit" {
			t.Errorf("%s: found %v", keys, found)
		}
		if r, _ := compute.ReadingsOf(p, p.Loops[0].Circuits[0]); len(r.Rows) > 0 || len(r.Missing) == 0 {
			t.Errorf("%s: readings %v, missing %q", keys, r.Rows, r.Missing)
		}
	}
}
