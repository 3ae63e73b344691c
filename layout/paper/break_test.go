package paper

import (
	"slices"
	"testing"

	"ringout/fonts"
	"ringout/render"
)

// TestFiguresStayWhole: a range that is too wide for its cell goes on behind its dots,
// never within a figure: 15.95..15. over 96 would be read as two others.
func TestFiguresStayWhole(t *testing.T) {
	t.Parallel()
	for s, want := range map[string][]string{
		"15.95..15.96":   {"15.95..", "15.96"},
		"−4.02..−4.01":   {"−4.02..", "−4.01"},
		"-500..-120.5":   {"-500..", "-120.5"},
		"1000,5/2000,25": {"1000,5/", "2000,25"},
		"JB-21/X1:7-8":   {"JB-21/X1:", "7-8"},
	} {
		width := render.Measure(fonts.Mono, "15.95..15.", PlainHeight)
		if got := Wrap(fonts.Mono, PlainHeight, s, width); !slices.Equal(got, want) {
			t.Errorf("%s: %q, not %q", s, got, want)
		}
	}
}
