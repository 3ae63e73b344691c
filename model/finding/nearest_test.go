package finding

import "testing"

// TestNearestTag: a tag is meant where only its signs, its case or a slip in a word differ,
// not where figures or the letters of its function do.
func TestNearestTag(t *testing.T) {
	t.Parallel()
	tags := []string{"FT-2107", "FT-2108", "LT-2107", "JB-21", "JB-21/X1", "MC-2/X4", "W-2107", "Filter-7", "Filter-17", "TB1-1", "TB11"}
	for written, want := range map[string]string{
		"FT2107": "FT-2107", "ft_2107": "FT-2107", "FT-21O7": "FT-2107", "FT 2107": "FT-2107", "Fliter-7": "Filter-7", "jb-21/x1": "JB-21/X1", "TB1.1": "TB1-1", "tb-11": "TB11",
		"FT-2109": "", "FT-210": "", "PT-2107": "", "JB-22": "", "JB-21/X2": "", "MC-3/X4": "", "W-21": "", "Filler7a": "", "": "", "-": "",
	} {
		if got := NearestTag(written, tags); got != want {
			t.Errorf("%q: %q, not %q", written, got, want)
		}
	}
	if got := NearestTag("a1", []string{"A-1", "A1"}); got != "" {
		t.Errorf("one of two: %q", got)
	}
}
