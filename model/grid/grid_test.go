package grid

import (
	"slices"
	"strings"
	"testing"
)

// TestCounted counts a board of 3 rows and 2 columns both ways, by hand.
func TestCounted(t *testing.T) {
	for _, c := range []struct{ text, order string }{
		{"3 x 2", "1A 1B 2A 2B 3A 3B"},
		{"3 x 2 by columns", "1A 2A 3A 1B 2B 3B"},
	} {
		g, ok := Parse(c.text)
		if !ok || g.String() != c.text || g.Size() != 6 {
			t.Fatalf("%q is read as %v", c.text, g)
		}
		var order []string
		for i := range g.Size() {
			at := g.At(i)
			order = append(order, at.String())
			if g.Index(at) != i || !g.Has(at) {
				t.Errorf("%s: %s is not place %d", c.text, at, i)
			}
			if back, ok := ParseCell(at.String()); !ok || back != at {
				t.Errorf("%s is read as %v", at, back)
			}
		}
		if got := strings.Join(order, " "); got != c.order {
			t.Errorf("%s is counted %s, not %s", c.text, got, c.order)
		}
		if g.Has(Cell{4, 1}) || g.Has(Cell{1, 3}) || g.Has(Cell{}) {
			t.Errorf("%s has places outside", c.text)
		}
	}
	for _, s := range []string{"", "6x4", "6 x", "0 x 4", "6 x 0", "61 x 4", "6 x 27", "6 x 4 by rows", "-1 x 4", "99999999999999999999 x 4"} {
		if g, ok := Parse(s); ok {
			t.Errorf("%q is read as %v", s, g)
		}
	}
}

func TestSpan(t *testing.T) {
	for _, c := range []struct{ low, high, want string }{
		{"1A", "2C", "1A 1B 1C 2A 2B 2C"},
		{"A1", "C2", "A1 A2 B1 B2 C1 C2"},
		{"2B", "2D", "2B 2C 2D"},
		{"1A", "3A", "1A 2A 3A"},
		{"2A", "1C", ""},
		{"1C", "2A", ""},
		{"1A", "B2", ""},
		{"1A", "7", ""},
		{"0A", "1B", ""},
	} {
		if got, ok := Span(c.low, c.high); strings.Join(got, " ") != c.want || ok != (c.want != "") {
			t.Errorf("%s..%s is %v", c.low, c.high, got)
		}
	}
}

func TestMisplaced(t *testing.T) {
	board := func(text string) Grid { g, _ := Parse(text); return g }
	span := func(low, high string) []string { names, _ := Span(low, high); return names }
	for _, c := range []struct {
		grid  string
		names []string
		want  int
	}{
		{"6 x 4", span("1A", "6D"), -1},
		{"6 x 4", span("A1", "F4"), -1},            // rows have letters
		{"6 x 4 by columns", span("A1", "D6"), -1}, // columns have letters, and come first
		{"6 x 4 by columns", span("1A", "6D"), 4},  // as if columns had numbers: 2A lies below 1D
		{"4 x 6", span("1A", "6D"), 4},             // 2A is the fifth of the first row
		{"6 x 4", slices.Concat(span("1A", "3D"), []string{"4B", "4A"}), 12},
		{"2 x 2", []string{"1", "2", "3", "4"}, -1},
	} {
		if got := board(c.grid).Misplaced(c.names); got != c.want {
			t.Errorf("%s, %v: %d, not %d", c.grid, c.names, got, c.want)
		}
	}
}
