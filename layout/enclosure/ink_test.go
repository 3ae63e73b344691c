package enclosure

import (
	"testing"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/symbol"
	"ringout/render"
	"ringout/samples"
)

// A word on a conductor in rows of 5 mm touches neither its own nor the one above,
// and has its baseline nearer to its own.
func TestWordsRideClear(t *testing.T) {
	t.Parallel()
	half := render.Pens[render.New].Width / 2
	for _, s := range append([]string{"BK", "screen", "pair 1"}, samples.Inky...) {
		for _, face := range []fonts.Face{fonts.Sans, fonts.Bold, fonts.Mono, fonts.MonoBold} {
			rise := aboveConductor(face, s)
			least, most, _ := render.Ink(&render.Text{At: render.Point{Y: -rise}, Face: face, Height: paper.Lettered, S: s, Width: 1})
			if most.Y >= -half || least.Y <= half-symbol.Leg {
				t.Errorf("%v: %q inks %d to %d above its conductor", face, s, -most.Y, -least.Y)
			}
			if over := symbol.Leg - rise - paper.Lettered; over < rise {
				t.Errorf("%v: the capitals of %q are %d from the conductor above, their baseline %d from its own", face, s, over, rise)
			}
		}
	}
}
