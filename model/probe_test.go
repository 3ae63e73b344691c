package model

import (
	"math"
	"slices"
	"testing"
)

// TestScale: 7.87 mV/µm is 200 mV/mil; an 8 mm probe is linear over 10 to 90 mil, -2 to -18
// V, with -9.99 V at its middle of 1.27 mm (a calculator of gap volts; MX2034 document
// 100576 p. 19 has the scale).
func TestScale(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		scale Scale
		gap   float64
		unit  string
		want  float64
	}{
		{Scale{200, "mil"}, 10, "mil", -2}, {Scale{200, "mil"}, 90, "mil", -18},
		{Scale{7.87, "µm"}, 1.27, "mm", -9.99}, {Scale{7.87, "µm"}, 250, "um", -1.97}, {Scale{7.87, "µm"}, 2.30, "mm", -18.1},
		{Scale{200, "mil"}, 1, "mil", -0.2},
	} {
		got, ok := x.scale.Volts(x.gap, x.unit)
		if !ok || math.Abs(got-x.want) > 0.006 {
			t.Errorf("%v at %g %s: %v V, not %v", x.scale, x.gap, x.unit, got, x.want)
		}
	}
	if _, ok := (Scale{200, "mil"}).Volts(10, "V"); ok {
		t.Error("a gap of volts")
	}
	if _, ok := (Scale{}).Volts(10, "mil"); ok {
		t.Error("no scale")
	}
}

func TestGapSteps(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		span Range
		want []float64
	}{
		{Range{Low: 10, High: 90, Unit: "mil"}, []float64{10, 20, 30, 40, 50, 60, 70, 80, 90}},
		{Range{Low: 0.25, High: 1.3, Unit: "mm"}, []float64{0.25, 0.5, 0.75, 1, 1.25}},
		{Range{Low: 0, High: 100, Unit: "m"}, nil},
		{Range{Low: 10, High: 90, Unit: "V"}, nil},
	} {
		if got := (&Device{Calibrated: x.span}).GapSteps(); !slices.Equal(got, x.want) {
			t.Errorf("%v: %v, not %v", x.span, got, x.want)
		}
	}
}
