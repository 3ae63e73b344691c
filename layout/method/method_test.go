package method

import (
	"math"
	"testing"
)

// TestPlugStep: with a step between plugs of at least twice what two cores may read,
// plug n with the most ohms of cores is nearer to n than to n + 1 of them, and the
// step is a round one of the series 1, 2, 5 that is not needlessly large.
func TestPlugStep(t *testing.T) {
	for most := 0.07; most < 400; most *= 1.1 {
		step := PlugStep(most)
		for n := 1.0; n <= 12; n++ {
			if got := math.Floor((n*step + most) / step); got != n {
				t.Errorf("limit %g Ω, step %g Ω: plug %g reads as %g", most, step, n, got)
			}
		}
		if step > 5*most && step > 1 {
			t.Errorf("limit %g Ω: step %g Ω", most, step)
		}
		if m := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9)); math.Abs(m-1) > 1e-9 && math.Abs(m-2) > 1e-9 && math.Abs(m-5) > 1e-9 {
			t.Errorf("step %g Ω", step)
		}
	}
}
