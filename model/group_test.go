package model

import (
	"strings"
	"testing"
)

// TestContactByNumbers has the numbers of EN 50005: the last digit tells the function, what
// stands before it the place.
func TestContactByNumbers(t *testing.T) {
	t.Parallel()
	for numbers, want := range map[string]string{
		"11-12": "break", "13-14": "make", "21-22": "break", "43-44": "make", "11-12-14": "changeover", "31-32-34": "changeover",
		"95-96": "break", "97-98": "make", "55-56": "break", "67-68": "make", "95-96-98": "changeover", "1-2": "break", "3-4": "make", "123-124": "make",
		"13-15": "", "13-24": "", "14-13": "", "11-14": "", "A1-A2": "", "13": "", "": "", "11-14-12": "", "C-NC-NO": "", "-": "",
	} {
		if got := ContactByNumbers(strings.Split(numbers, "-")).String(); got != want {
			t.Errorf("%s is %q, not %q", numbers, got, want)
		}
	}
}

// A changeover contact joins its common to either side, and never the sides.
func TestJoins(t *testing.T) {
	t.Parallel()
	common, breaks, makes := &Terminal{Name: "11"}, &Terminal{Name: "12"}, &Terminal{Name: "14"}
	g := &Group{Contact: Changeover, Terminals: []*Terminal{common, breaks, makes}}
	for _, x := range []struct {
		a, b           *Terminal
		joins, at_rest bool
	}{{common, breaks, true, true}, {makes, common, true, false}, {breaks, makes, false, false}, {common, common, false, false}, {common, &Terminal{}, false, false}} {
		if g.Joins(x.a, x.b) != x.joins || g.ClosedAtRest(x.a, x.b) != x.at_rest {
			t.Errorf("%s and %s: joins %t, closed at rest %t", x.a.Name, x.b.Name, g.Joins(x.a, x.b), g.ClosedAtRest(x.a, x.b))
		}
	}
}
