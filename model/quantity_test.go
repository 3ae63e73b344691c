package model

import (
	"math"
	"strings"
	"testing"
)

// TestConvert: fixed points of the scales of temperature, by definition; the
// other factors as NIST SP 811 appendix B prints them, or exact by definition. Every unit
// is among them.
func TestConvert(t *testing.T) {
	t.Parallel()
	tried := map[string]bool{}
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
		{20, "Celsius", "Kelvin", 293.15}, {212, "Fahrenheit", "Rankine", 671.67},
		{1, "mil", "mm", 0.0254}, {1, "mil", "µm", 25.4}, {1, "mil", "um", 25.4}, {1, "kft", "km", 0.3048}, {2.54, "cm", "in", 1},
		{1, "atm", "hPa", 1013.25}, {1, "Torr", "Pa", 133.3224}, {1, "mmHg", "Pa", 133.3224}, {1, "kg/cm2", "MPa", 0.0980665},
		{1, "mmH2O", "Pa", 9.80665}, {1, "cmH2O", "Pa", 98.0665}, {1, "mH2O", "kPa", 9.80665}, {1, "ftH2O", "Pa", 2989.067},
		{1, "ft3", "m3", 0.02831685}, {1, "bbl", "L", 158.9873}, {1, "gal", "ml", 3785.412}, {1, "lb", "g", 453.5924}, {1, "t", "kg", 1000},
		{1, "d", "hr", 24}, {1, "h", "s", 3600}, {1, "min", "ms", 60000},
		{1, "kV", "mV", 1e6}, {1, "V", "mV", 1000}, {1, "A", "mA", 1000}, {1, "Gohm", "Mohm", 1000}, {1, "Mohm", "kohm", 1000}, {1, "kohm", "ohm", 1000},
		{1, "kW", "mW", 1e6}, {1, "W", "mW", 1000}, {1, "uF", "nF", 1000}, {1, "nF", "pF", 1000}, {1, "mH", "µH", 1000}, {1, "kHz", "Hz", 1000},
	} {
		for _, unit := range []string{c.from, c.to} {
			for _, part := range append(strings.Split(foldUnit(unit), "/"), foldUnit(unit)) {
				tried[part] = true
			}
		}
		if got, ok := Convert(c.v, c.from, c.to); !ok || math.Abs(got-c.want) > 5e-7*max(1e-9, math.Abs(c.want)) {
			t.Errorf("%g %s are %.9g %s, %t; want %.9g", c.v, c.from, got, c.to, ok, c.want)
		}
	}
	for unit := range measures {
		if !tried[unit] {
			t.Errorf("no value in %s is converted", unit)
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

// TestPlainDigits: a number that is printed has no exponent: a supply of 10 A gives
// 10000 mA, and the reader takes no 1e+04.
func TestPlainDigits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ got, want string }{
		{Round(10000), "10000"}, {Round(-54978), "-54980"}, {Round(2.5e6), "2500000"}, {Round(12.3456), "12.35"}, {Round(0.00001234567), "0.00001235"}, {Round(0), "0"},
		{Figure(2.5e6), "2500000"}, {Figure(0.0625), "0.063"}, {TotalLength([]*Cable{{Length: 1.2e6}}), "1200000 m"},
	} {
		if c.got != c.want {
			t.Errorf("%s is printed, not %s", c.got, c.want)
		}
	}
}
