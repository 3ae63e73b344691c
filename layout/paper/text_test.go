package paper

import (
	"strings"
	"testing"

	"ringout/fonts"
	"ringout/render"
)

func TestPutNarrowsThenShrinks(t *testing.T) {
	t.Parallel()
	const s = "20-FT-1042A"
	natural := render.Measure(fonts.Mono, s, PlainHeight)
	for _, c := range []struct {
		share  render.Len // of the natural width, per cent
		height render.Len
		ok     bool
	}{{100, 2500, true}, {80, 2500, true}, {70, 2500, true}, {60, 1800, true}, {52, 1800, true}, {45, 1800, false}, {20, 1800, false}} {
		width := natural * c.share / 100
		text, ok := TextLine(render.Point{}, Letters(fonts.Mono, PlainHeight, render.Left), s, width)
		if ok != c.ok || text.Height != c.height || text.Width > width {
			t.Errorf("%d per cent: fits %v, height %d, width %d of %d", c.share, ok, text.Height, text.Width, width)
		}
		if text.S != s && (ok || !strings.HasSuffix(text.S, "…")) {
			t.Errorf("%d per cent: cut to %q", c.share, text.S)
		}
	}
	if text, ok := TextLine(render.Point{}, Letters(fonts.Mono, PlainHeight, render.Left), "", 0); text != nil || !ok {
		t.Error("an empty text is drawn")
	}
}

// TestWrapKeepsBrackets: nobody looks for the 4 of "(1 of 4)" on the next line.
func TestWrapKeepsBrackets(t *testing.T) {
	t.Parallel()
	const s = "Cabinet MC-1, Instrument room, row 1 (1 of 4), blue (as found on site) 4 mm"
	for width := 20 * render.MM; width < 90*render.MM; width += render.MM {
		lines := strings.Join(Wrap(fonts.Sans, PlainHeight, s, width), "\n")
		for _, kept := range []string{"(1 of 4),", "4 mm"} {
			if !strings.Contains(lines, kept) {
				t.Errorf("in %d: %q is parted: %q", width, kept, lines)
			}
		}
	}
}

func TestWrapKeepsEveryLetter(t *testing.T) {
	t.Parallel()
	for _, s := range []string{
		"Filter 4 backwash flow to the equalising basin", "20-JB-0017/X1:12A-B", "", "a\nb c\n\nd", strings.Repeat("W", 60),
	} {
		for width := 5 * render.MM; width < 60*render.MM; width += 3 * render.MM {
			lines := Wrap(fonts.Sans, PlainHeight, s, width)
			for _, line := range lines {
				if w := render.Measure(fonts.Sans, line, PlainHeight); w > width {
					t.Errorf("%q in %d: line %q is %d wide", s, width, line, w)
				}
			}
			bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
			if got := bare(strings.Join(lines, " ")); got != bare(s) {
				t.Errorf("%q in %d: came back as %q", s, width, got)
			}
		}
	}
	got := Wrap(fonts.Sans, PlainHeight, "feed pump suction", render.Measure(fonts.Sans, "feed pump", PlainHeight))
	if strings.Join(got, "|") != "feed pump|suction" {
		t.Errorf("wrapped as %q", got)
	}
}

func TestFillStaysInItsArea(t *testing.T) {
	t.Parallel()
	for _, n := range []int{1, 5, 12, 25, 60, 200} {
		for _, h := range []render.Len{3 * render.MM, 5 * render.MM, 10 * render.MM} {
			a := Rect(10*render.MM, 10*render.MM, 40*render.MM, h)
			items, ok := FitText(a, fonts.Sans, PlainHeight, render.Left, strings.TrimSpace(strings.Repeat("word ", n)))
			for _, item := range items {
				text := item.(*render.Text)
				least, most := render.Box(text)
				if least.X < a.Min.X || most.X > a.Max.X || least.Y < a.Min.Y || text.At.Y > a.Max.Y || text.Height < Heights[0] {
					t.Errorf("%d words, %d high: %q from %v to %v", n, h, text.S, least, most)
				}
			}
			if n <= 5 && !ok || n >= 200 && ok {
				t.Errorf("%d words, %d high: fits %v", n, h, ok)
			}
		}
	}
}
