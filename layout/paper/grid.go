package paper

import (
	"ringout/fonts"
	"ringout/render"
)

// ColumnSpan is a reach: of a column, counted outward from the strip, or of rows or
// lanes down the sheet.
type ColumnSpan struct{ Min, Max render.Len }

// Narrowest is the width of a text at the least height and as narrow as it is
// ever set.
func Narrowest(face fonts.Face, s string) render.Len {
	return render.Measure(face, s, Heights[0])*LeastNarrow/100 + render.Len(len(s))
}

// TwoLines breaks a text of the least height into lines that fit width narrowed.
func TwoLines(face fonts.Face, s string, width render.Len) []string {
	return Wrap(face, Heights[0], s, width*100/LeastNarrow)
}
