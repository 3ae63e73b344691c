package model

import (
	"testing"
)

// The limits of extra-low voltage are those of IEC 60364-4-41 (414.1.1): 50 V AC
// and 120 V DC may be touched.
func TestDangerousSources(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		volts float64
		ac    bool
		want  bool
	}{{24, false, false}, {50, true, false}, {120, false, false}, {125, false, true}, {115, true, true}, {230, true, true}} {
		if s := (&Supply{Volts: c.volts, AC: c.ac}); s.Dangerous() != c.want {
			t.Errorf("%v V, AC %v: dangerous is %v", c.volts, c.ac, s.Dangerous())
		}
	}
}
