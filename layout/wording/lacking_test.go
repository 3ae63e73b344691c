package wording

import "testing"

// TestLacking: a cell names the first two of what a figure lacks, and counts the rest.
func TestLacking(t *testing.T) {
	t.Parallel()
	for _, known := range []struct {
		missing []string
		want    string
	}{
		{[]string{"ohms of A"}, "ohms of A"},
		{[]string{"ohms of A", "ohms of B"}, "ohms of A, ohms of B"},
		{[]string{"ohms of A", "ohms of B", "length of W"}, "ohms of A, ohms of B and 1 more"},
		{[]string{"a", "b", "c", "d", "e"}, "a, b and 3 more"},
	} {
		if got := Lacking(known.missing); got != known.want {
			t.Errorf("%q, want %q", got, known.want)
		}
	}
}
