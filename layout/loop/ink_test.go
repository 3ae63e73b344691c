package loop

import (
	"testing"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/render"
)

// A label of a loop diagram is 1 mm clear of its conductor, descenders too.
func TestLoopLabelsAreClear(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"grey −", "yellow +", "jumper", "orange/grey"} {
		if _, below := (paper.InkLine{Face: fonts.Mono, Height: paper.PlainHeight, S: s}).Reach(); aboveLeg-below-render.Pens[render.New].Width/2 < render.MM {
			t.Errorf("%q hangs to %d over a line of %d", s, aboveLeg-below, render.Pens[render.New].Width)
		}
	}
}
