package index

import (
	"slices"
	"strings"
	"testing"

	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
)

// TestNumbersFit: rows of the register are planned before sheets have numbers, so no
// number that a set can come to may make its row higher.
func TestNumbersFit(t *testing.T) {
	t.Parallel()
	const width = 170 * render.MM // of the form on A4, the narrowest
	for _, most := range []int{9, 100, 9999, 10000, 99999, 100000, 999999} {
		height := func(no, of int) render.Len {
			s := &sheet.Sheet{Kind: &sheet.Kind{Words: "Loop diagram", Letter: "LD"}, No: no, Of: of, Words: "F-2107 Feed"}
			pl := &sheet.Plan{Plant: &model.Plant{}, Sheets: slices.Repeat([]*sheet.Sheet{s}, most)}
			table := register(pl, []*sheet.Sheet{s}, widths{numbersWidth(most), mostDrawing})
			table.Finish(width)
			return table.RowHeight(0)
		}
		if planned, drawn := height(0, 1), height(most-1, 2); planned != drawn || planned != paper.PrintRow {
			t.Errorf("%d sheets: a row is %d µm high as planned and %d as drawn, not %d", most, planned, drawn, paper.PrintRow)
		}
	}
}

// TestMarksOnOneLine: however many revisions the sheets of a drawing have, they take one
// line, the newest first, and say if there are more.
func TestMarksOnOneLine(t *testing.T) {
	t.Parallel()
	for marks, want := range map[string]string{
		"":            "",
		"C":           "C",
		"C B A":       "C/B/A",
		"D C B A":     "D/C/…",
		"P9 P8":       "P9/P8",
		"P12 P11":     "P12/…",
		"P12 P11 P10": "P12/…",
	} {
		got := onOneLine(strings.Fields(marks))
		if got != want {
			t.Errorf("%q: %q, want %q", marks, got, want)
		}
	}
}
