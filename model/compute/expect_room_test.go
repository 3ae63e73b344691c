package compute

import (
	"math"
	"os"
	"testing"

	"ringout/model"
	"ringout/model/read"
)

// TestOhmsRoom: no limit is so near to what is computed that a meter cannot judge
// it, and none is below the per cent of the practice. The figures at the end are
// by hand: 120 % and 0.5 Ω part at 2.5 Ω.
func TestOhmsRoom(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	runs := 0
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			for _, run := range c.Runs() {
				ohms, ok := Ohms(run, p.Practice.TestCopper.Celsius)
				if !ok {
					continue
				}
				runs++
				most := MostOhms(&p.Practice, ohms)
				if most-ohms < p.Practice.OhmsRoom-1e-9 || most < ohms*p.Practice.OhmsLimit/100 {
					t.Errorf("%s: %v Ω, at most %v Ω", c.Name, ohms, most)
				}
			}
		}
	}
	if runs < 40 {
		t.Errorf("only %d runs", runs)
	}
	pr := model.Practice{OhmsLimit: 120, OhmsRoom: 0.5}
	for ohms, want := range map[float64]float64{0.2: 0.7, 2.5: 3, 8.09: 9.708} {
		if got := MostOhms(&pr, ohms); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v Ω: at most %v Ω, want %v", ohms, got, want)
		}
	}
}
