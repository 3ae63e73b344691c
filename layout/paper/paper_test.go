package paper

import (
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model/read"
	"ringout/render"
)

// Trimmed sizes: ISO 216 and ASME Y14.1. Drawing space of A3 (390 by 277) and
// A4 (180 by 277) and number of fields (8 by 6, 6 by 4): ISO 5457.
func TestPapers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		landscape bool
		w, h      render.Len // 1/10 mm
		iw, ih    render.Len // in the frame
		cols      int
		rows      int
	}{
		{"A3", true, 4200, 2970, 3900, 2770, 8, 6},
		{"A4", false, 2100, 2970, 1800, 2770, 4, 6},
		{"A4", true, 2970, 2100, 2670, 1900, 6, 4},
		{"11x17", true, 4318, 2794, 4003, 2600, 8, 4},
		{"letter", false, 2159, 2794, 1871, 2600, 4, 4},
		{"letter", true, 2794, 2159, 2506, 1965, 6, 4},
	} {
		p, ok := FindPaper(c.name, c.landscape)
		if !ok {
			t.Fatalf("no paper %s", c.name)
		}
		f := p.Frame()
		if p.W/100 != c.w || p.H/100 != c.h || f.W()/100 != c.iw || f.H()/100 != c.ih || p.Cols != c.cols || p.Rows != c.rows {
			t.Errorf("%s: %d x %d, frame %d x %d, zones %d x %d", c.name, p.W, p.H, f.W(), f.H(), p.Cols, p.Rows)
		}
		for i := range p.Cols - 1 {
			if x := zoneTick(p.W/2, p.ZoneW, p.Cols, i); x <= f.Min.X || x >= f.Max.X {
				t.Errorf("%s: tick %d at %d is not in the frame", c.name, i, x)
			}
		}
		for i := range p.Rows - 1 {
			if y := zoneTick(p.H/2, p.ZoneH, p.Rows, i); y <= f.Min.Y || y >= f.Max.Y {
				t.Errorf("%s: tick %d at %d is not in the frame", c.name, i, y)
			}
		}
	}
	if _, ok := FindPaper("A3", false); ok {
		t.Error("A3 upright is in the table")
	}
}

// The ticks of ISO 5457 on A3: fields of 50 mm counted outward from the
// centring marks at 210 and 148.5 mm.
func TestZoneTicksOfA3(t *testing.T) {
	t.Parallel()
	p, _ := FindPaper("A3", true)
	f := p.Frame()
	across := bounds(f.Min.X, f.Max.X, p.W/2, p.ZoneW, p.Cols)
	if want := []render.Len{20000, 60000, 110000, 160000, 210000, 260000, 310000, 360000, 410000}; !slices.Equal(across, want) {
		t.Errorf("across %v", across)
	}
	down := bounds(f.Min.Y, f.Max.Y, p.H/2, p.ZoneH, p.Rows)
	if want := []render.Len{10000, 48500, 98500, 148500, 198500, 248500, 287000}; !slices.Equal(down, want) {
		t.Errorf("down %v", down)
	}
}

func TestZone(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		paper     string
		landscape bool
		x, y      render.Len // mm
		want      string
	}{
		{"A3", true, 21, 11, "A1"},
		{"A3", true, 59, 48, "A1"},
		{"A3", true, 60, 49, "B2"},
		{"A3", true, 185, 60, "B4"},
		{"A3", true, 409, 286, "F8"},
		{"A3", true, 0, 0, "A1"},
		{"A3", true, 420, 297, "F8"},
		{"A4", false, 21, 11, "A1"},
		{"A4", false, 199, 286, "F4"},
		{"A4", true, 286, 199, "D6"},
		// ASME Y14.1: from the lower right corner.
		{"11x17", true, 415, 268, "A1"},
		{"11x17", true, 16, 10, "D8"},
		{"letter", false, 205, 268, "A1"},
	} {
		p, _ := FindPaper(c.paper, c.landscape)
		if got := p.Zone(render.Point{X: c.x * render.MM, Y: c.y * render.MM}); got != c.want {
			t.Errorf("%s at %d, %d: %s, want %s", c.paper, c.x, c.y, got, c.want)
		}
	}
}

// TestPapersCanBeChosen: every paper is one that a practice may name, for drawings or for
// forms.
func TestPapersCanBeChosen(t *testing.T) {
	t.Parallel()
	takes := func(key, name string) bool {
		_, _, found := read.Read(fstest.MapFS{"p.yaml": {Data: []byte("plant: P\npractice: {" + key + ": " + name + "}\n")}}, "p.yaml")
		return len(found) == 1 && found[0].Code == "no-loops"
	}
	for _, p := range papers {
		if !takes("paper", p.Name) && !takes("record paper", p.Name) {
			t.Errorf("no practice can have %s", p.Name)
		}
	}
}
