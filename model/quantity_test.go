package model

import (
	"math"
	"testing"
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
