package symbol

import (
	"testing"

	"ringout/render"
)

// extent returns the corners of everything that the marks draw, pens aside.
// A curve stays within the hull of its four points, so these bound it.
func extent(items []render.Item) (least, most render.Point) {
	first := true
	grow := func(ps ...render.Point) {
		for _, p := range ps {
			if first {
				least, most, first = p, p, false
			}
			least = render.Point{X: min(least.X, p.X), Y: min(least.Y, p.Y)}
			most = render.Point{X: max(most.X, p.X), Y: max(most.Y, p.Y)}
		}
	}
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			grow(m.Points...)
		case *render.Curve:
			grow(m.P[:]...)
		case *render.Circle:
			grow(render.Point{X: m.Centre.X - m.R, Y: m.Centre.Y - m.R}, render.Point{X: m.Centre.X + m.R, Y: m.Centre.Y + m.R})
		case *render.Text:
			a, b := render.Box(m)
			grow(a, b)
		}
	}
	return least, most
}

func TestSymbolsStayInTheirBox(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, s := range Symbols() {
		if s.Name == "" || seen[s.Name] {
			t.Errorf("symbol name %q is empty or used twice", s.Name)
		}
		seen[s.Name] = true
		least, most := extent(s.Items)
		if least.X < s.Min.X || least.Y < s.Min.Y || most.X > s.Max.X || most.Y > s.Max.Y {
			t.Errorf("%s: marks reach %v to %v, box is %v to %v", s.Name, least, most, s.Min, s.Max)
		}
		if len(s.Ports) == 0 {
			t.Errorf("%s: has no port", s.Name)
		}
		names := map[string]bool{}
		for _, p := range s.Ports {
			on := map[Side]bool{
				West: p.At.X == s.Min.X, East: p.At.X == s.Max.X, North: p.At.Y == s.Min.Y, South: p.At.Y == s.Max.Y,
			}
			inside := p.At.X >= s.Min.X && p.At.X <= s.Max.X && p.At.Y >= s.Min.Y && p.At.Y <= s.Max.Y
			if !on[p.Side] || !inside {
				t.Errorf("%s: port %s at %v is not on its side of the box %v %v", s.Name, p.Name, p.At, s.Min, s.Max)
			}
			if names[p.Name] {
				t.Errorf("%s: port %s twice", s.Name, p.Name)
			}
			names[p.Name] = true
		}
	}
}

// Conductors end on legs: the ports at the sides of electrical parts lie on
// the 2.5 mm grid (IEC 61082-1 practice, from memory).
func TestSidePortsLieOnTheGrid(t *testing.T) {
	t.Parallel()
	for _, s := range Symbols() {
		for _, p := range s.Ports {
			if (p.Side == West || p.Side == East) && p.At.Y%Module != 0 {
				t.Errorf("%s: port %s is off the grid at %v", s.Name, p.Name, p.At)
			}
		}
	}
}

func TestSymbolsRead(t *testing.T) {
	t.Parallel()
	for _, s := range Symbols() {
		page := render.Page{Head: render.Head{Name: "s", W: 100 * render.MM, H: 100 * render.MM}}
		page.Items = s.At(render.Point{X: 50 * render.MM, Y: 50 * render.MM})
		if err := page.Check(); err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
		for _, f := range render.Audit(&page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
			t.Errorf("%s: %s: %s", s.Name, f.Kind, f.Text)
		}
	}
}

func TestBubbleTellsWhatDoesNotFit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		number     string
		width      render.Len
		ok         bool
		wide, high render.Len
	}{
		{"1042", BubbleWide, true, 12 * render.MM, 2500}, {"1042", 2 * BubbleWide, true, 12 * render.MM, 2500},
		{"20-1042", BubbleWide, true, 12 * render.MM, 1800}, {"20-1042-A/B", BubbleWide, false, 12 * render.MM, 1800},
		{"20-1042-A/B", 2 * BubbleWide, true, 0, 2500}, {"20-1042-A/B-SOUTH-01", 2 * BubbleWide, true, 0, 1800},
		{"20-1042-A/B-SOUTH-0017-EXTRA", 2 * BubbleWide, false, 24 * render.MM, 1800},
	} {
		s, ok := Bubble(Panel, "PDT", c.number, c.width)
		low := s.Items[len(s.Items)-1].(*render.Text)
		if wide := s.Max.X - s.Min.X; ok != c.ok || wide > c.width || c.wide != 0 && wide != c.wide || low.Height != c.high {
			t.Errorf("Bubble(%q) in %d fits: %v, is %d wide, lettered %d", c.number, c.width, ok, wide, low.Height)
		}
	}
	if _, ok := Terminal(Fused, "X4-1204B"); ok {
		t.Error("a terminal number of 8 letters fits a terminal of 7.5 mm")
	}
	if _, ok := Terminal(Through, "104A"); !ok {
		t.Error("a terminal number of 4 letters does not fit")
	}
}

// TestBubbleHoldsItsLetters: of tags of all lengths and mountings, whatever is said to
// fit stands within the outline, a circle or one drawn out by straight sides, and
// none is narrower than 70 %.
func TestBubbleHoldsItsLetters(t *testing.T) {
	t.Parallel()
	const r = 6 * render.MM
	for mount := Field; mount <= Shared; mount++ {
		for n := 1; n <= 40; n++ {
			for width := BubbleWide; width <= 2*BubbleWide; width += render.MM {
				s, ok := Bubble(mount, "WWWWWWWWWWWWWWWWWWWWWWWW"[:(n+1)/2], "0123456789012345678901234567890123456789"[:n], width)
				if s.Max.X-s.Min.X > width {
					t.Fatalf("%s of %d signs is %d wide in %d", s.Name, n, s.Max.X-s.Min.X, width)
				}
				for _, item := range s.Items {
					text, is := item.(*render.Text)
					if !is {
						continue
					}
					if text.Narrow != 0 && text.Narrow < 70 {
						t.Fatalf("%s of %d signs in %d is narrowed to %d %%", s.Name, n, width, text.Narrow)
					}
					least, _ := render.Box(text)
					for _, y := range []render.Len{least.Y, text.At.Y} { // of capitals
						dx := max(0, -least.X-(s.Max.X-r)) // beyond the middle of the round end
						if ok && dx*dx+y*y > r*r {
							t.Fatalf("%s of %d signs in %d: %q leaves the outline at %d, %d", s.Name, n, width, text.S, least.X, y)
						}
					}
				}
			}
		}
	}
}

func TestAtLeavesTheSymbolInPlace(t *testing.T) {
	t.Parallel()
	s, _ := Terminal(Through, "1")
	before, _ := extent(s.Items)
	moved, _ := extent(s.At(render.Point{X: Module, Y: -Module}))
	after, _ := extent(s.Items)
	if before != after || moved.X != before.X+Module || moved.Y != before.Y-Module {
		t.Errorf("extent begins at %v, moved at %v, then %v", before, moved, after)
	}
	if p, ok := s.Port("east", render.Point{X: Module}); !ok || p.X != 4*Module {
		t.Errorf("port east at %v, %v", p, ok)
	}
}
