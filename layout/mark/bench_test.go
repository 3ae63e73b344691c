package mark

import (
	"testing"

	"ringout/render"
)

// BenchmarkSymbol is the code of one sheet.
func BenchmarkSymbol(b *testing.B) {
	p := Page{Kind: "LD", Sheet: 8, Revision: "0", Code: "VXD-UY4", Number: "TI-I-LD-F-2112"}
	b.ReportAllocs()
	for b.Loop() {
		Symbol(render.Point{}, Side(500), p.Text())
	}
}
