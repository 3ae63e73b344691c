package wording

import (
	"testing"

	"ringout/render"
)

// TestSmallSafetyIsFound: words of safety lower than 2.5 mm are found, and all
// cautions are marked as such.
func TestSmallSafetyIsFound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		height render.Len
		narrow int8
		safety bool
		want   int
	}{{2500, 0, true, 0}, {2499, 0, true, 1}, {2500, 70, true, 0}, {2500, 69, true, 0}, {1800, 45, false, 0}} {
		page := &render.Page{Head: render.Head{W: 100 * render.MM, H: 100 * render.MM}}
		page.Items = []render.Item{&render.Text{At: render.Point{X: 10000, Y: 50000}, Height: c.height, Narrow: c.narrow, S: "live", Width: 5000, Safety: c.safety}}
		n := 0
		for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
			if f.Kind == render.SmallSafety {
				n++
			}
		}
		if n != c.want {
			t.Errorf("%d µm, %d %%, safety %v: %d findings, not %d", c.height, c.narrow, c.safety, n, c.want)
		}
	}
}
