package compute

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestThreeTemperatures: each of the three temperatures of the practice moves
// its own figures and no others. The line drops 2.0803 V at 20 °C (by hand, see
// TestFourWireDC) and 0.393 % more for each kelvin (IEC 60028): 2.5300 V at 75 °C,
// 2.2029 V at 35 °C.
func TestThreeTemperatures(t *testing.T) {
	t.Parallel()
	const drop = 2.0803
	for _, c := range []struct {
		key              string
		reading, margins float64 // V lost
		ohms             float64 // of what is accepted, beside that at 20 °C
	}{
		{"hottest copper: 75 °C", drop, 2.5300, 1},
		{"hottest copper: 167 °F", drop, 2.5300, 1},
		{"copper on test: 35 °C", 2.2029, drop, 1.05895},
		{"copper on test: 95 F", 2.2029, drop, 1.05895},
		{"terminals on test: 35 °C", drop, drop, 1},
		{"terminals on test: 308.15 K", drop, drop, 1},
	} {
		p, _ := modeltest.Changed(t, "fourwire.yaml")
		q, _ := modeltest.Changed(t, "fourwire.yaml", "practice: {", "practice: {"+c.key+", ")
		if fmt.Sprint(q.Practice) == fmt.Sprint(p.Practice) {
			t.Fatalf("%s: not read", c.key)
		}
		supply := q.Loops[0].Circuits[1]
		r, _ := ReadingsOf(q, supply)
		modeltest.Within(t, c.key+": volts at the device", r.Rows[0].Values[0].Value, 24-c.reading, 0.001)
		modeltest.Within(t, c.key+": volts left", Margins(q, supply)[0].Headroom(), 22-c.margins-18, 0.001)
		was, _, _ := CoreOhms(p.Cables[0], p.Practice.TestCopper.Celsius)
		ohms, _, _ := CoreOhms(q.Cables[0], q.Practice.TestCopper.Celsius)
		modeltest.Within(t, c.key+": ohms", ohms/was, c.ohms, 1e-6)
	}
}

// TestTerminals: a thermocouple gives less for warmer terminals. Type K at 300 °F
// gives 6.0932 mV (see TestDegrees), less 1.000 mV at 25 °C, which are 77 °F
// (NIST table).
func TestTerminals(t *testing.T) {
	t.Parallel()
	for key, cold := range map[string]float64{
		"terminals on test: 77 °F": 1.000, "terminals on test: 25 °C": 1.000, "copper on test: 50 °C": 0.798, "hottest copper: 70 °C": 0.798,
	} {
		text := fmt.Sprintf(modeltest.SensorPlant, "IEC 60584-3 K", "TC", "thermocouple", "K", "range: 0..600 °F")
		text = strings.Replace(text, "practice: {", "practice: {"+key+", ", 1)
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		r, _ := ReadingsOf(p, p.Loops[0].Circuits[0])
		if mV := r.Rows[0].Values[1].Value; math.Abs(mV-(6.0932-cold)) > 0.002 {
			t.Errorf("%s: %.3f mV, %s", key, mV, r.Condition)
		}
		if key == "terminals on test: 77 °F" && !strings.Contains(r.Condition, "terminals at 77 °F") {
			t.Errorf("not as written: %s", r.Condition)
		}
	}
}

// TestRefusedTemperatures: no terminal is at 400 °C, and the key that stood for
// all three says what took its place.
func TestRefusedTemperatures(t *testing.T) {
	t.Parallel()
	for key, want := range map[string]string{
		"terminals on test: 400 °C": "must be from -40 to 85 °C", "terminals on test: 200 °F": "must be from -40 to 85 °C", "terminals on test: 20": "needs a unit",
		"copper on test: 100 °C": "must be from -50 to 90 °C", "hottest copper: 400 °F": "must be from -50 to 150 °C",
		"copper temperature: 35 °C": "hottest copper, copper on test or terminals on test",
	} {
		_, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte("plant: T\npractice: {" + key + "}\n")}}, "p.yaml")
		if len(problems) == 0 || !strings.Contains(problems[0].Text+problems[0].Hint.Text, want) {
			t.Errorf("%s: %v", key, problems)
		}
	}
}
