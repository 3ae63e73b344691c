package mark

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"

	"ringout/render"
)

// TestText holds codes against the table of fields in DRAWING.md.
func TestText(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("AB-", 20)
	for _, c := range []struct {
		page Page
		want string
	}{
		{Page{Kind: "LD", Sheet: 8, Revision: "0", Code: "VXD-UY4", Number: "TI-I-LD-F-2112"}, "RO1|LD|8|0|VXD-UY4|TI-I-LD-F-2112"},
		{Page{Kind: "IX", Sheet: 1, Revision: "B", Number: "TI-IX"}, "RO1|IX|1|B||TI-IX"},
		{Page{Kind: "LD", Sheet: 8, Revision: "0", Code: "VXD-UY4", Number: "N", Trial: true}, "RO1|LD|8|0*|VXD-UY4|N"},
		{Page{Kind: "CR", Sheet: 42, Revision: "0", Code: "MLA-3DF", Number: "W-21", Pack: "JB-21", At: 12}, "RO1|CR|42|0|MLA-3DF|W-21|JB-21|12"},
		{Page{Kind: "PK", Revision: "0", Number: "PK-JB-21", At: 3}, "RO1|PK||0||PK-JB-21||3"},
		// RFC 3986 writes these signs so; É is C3 89 in UTF-8 (RFC 3629).
		{Page{Kind: "LD", Sheet: 1, Revision: "1*", Number: "A|B%#É"}, "RO1|LD|1|1%2A||A%7CB%25%23%C3%89"},
		// The digest is what sha256sum gives for the field.
		{Page{Kind: "LD", Sheet: 1, Revision: "0", Code: "VXD-UY4", Number: long}, "RO1|LD|1|0|VXD-UY4|#1ef7a7"},
	} {
		if got := c.page.Text(); got != c.want {
			t.Errorf("%+v says %q, not %q", c.page, got, c.want)
		}
	}
}

// TestAnyPageFits: whatever a plant writes, the code is of at most 32 modules, and pages
// that differ have codes that differ.
func TestAnyPageFits(t *testing.T) {
	t.Parallel()
	seen := map[string]Page{}
	for _, s := range []string{"", "7", "TI-I-LD-F-2112", strings.Repeat("Насос-", 9), strings.Repeat("9", 90), "A" + strings.Repeat("%", 40)} {
		for _, pack := range []string{"", "JB-21", "JB-21+F-2107+F-2112+JB-2", strings.Repeat("Ж", 30)} {
			for _, trial := range []bool{false, true} {
				p := Page{Kind: "LD", Sheet: 78000, Revision: s, Code: "VXD-UY4", Number: s, Pack: pack, At: 1234, Trial: trial}
				text := p.Text()
				if was, twice := seen[text]; twice {
					t.Errorf("%+v and %+v both say %q", p, was, text)
				}
				seen[text] = p
				m := Symbol(render.Point{}, Side(500), text).Items[0].(*render.Modules)
				if len(m.Black) > largest || m.Size < 500 {
					t.Errorf("%q is of %d modules of %d µm", text, len(m.Black), m.Size)
				}
			}
		}
	}
}

// TestRead paints codes as a scan of 150 dpi has them, skewed by up to 3 degrees, and
// has a reader of other authors read them (ZXing, github.com/makiuchi-d/gozxing).
func TestRead(t *testing.T) {
	t.Parallel()
	for _, p := range []Page{
		{Kind: "LD", Sheet: 8, Revision: "0", Code: "VXD-UY4", Number: "TI-I-LD-F-2112"},
		{Kind: "IX", Sheet: 1, Revision: "0", Number: "IX"},
		{Kind: "CR", Sheet: 42, Revision: "0", Code: "MLA-3DF", Number: "TI-I-CR-W-21", Pack: "JB-21", At: 12},
		{Kind: "TR", Sheet: 78000, Revision: "0", Code: "MLA-3DF", Number: "Насос", Pack: "JB-21+F-2107", At: 12},
	} {
		for _, degrees := range []float64{-3, 0, 3} {
			g := Symbol(render.Point{}, Side(500), p.Text())
			bits, err := gozxing.NewBinaryBitmapFromImage(scanned(g.Items[0].(*render.Modules), Side(500), degrees))
			if err != nil {
				t.Fatal(err)
			}
			read, err := datamatrix.NewDataMatrixReader().Decode(bits, nil)
			if err != nil {
				t.Errorf("%q at %v°: %v", p.Text(), degrees, err)
			} else if read.GetText() != p.Text() {
				t.Errorf("%q at %v° reads %q", p.Text(), degrees, read.GetText())
			}
		}
	}
}

// scanned is a square of paper with a code in it at 150 dpi, each pixel the mean of 36
// places.
func scanned(m *render.Modules, side render.Len, degrees float64) image.Image {
	const pixel, parts = 25400.0 / 150, 6
	n := int(float64(side)/pixel) + 12
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	black := func(x, y float64) bool { // of a place on the glass
		x, y = x-float64(n)*pixel/2, y-float64(n)*pixel/2
		x, y = x*cos-y*sin+float64(side)/2-float64(m.At.X), x*sin+y*cos+float64(side)/2-float64(m.At.Y)
		col, row := int(math.Floor(x/float64(m.Size))), int(math.Floor(y/float64(m.Size)))
		return row >= 0 && col >= 0 && row < len(m.Black) && col < len(m.Black) && m.Black[row][col]
	}
	picture := image.NewGray(image.Rect(0, 0, n, n))
	for i := range n * n {
		dark := 0
		for part := range parts * parts {
			x, y := float64(i%n)+(float64(part%parts)+0.5)/parts, float64(i/n)+(float64(part/parts)+0.5)/parts
			if black(x*pixel, y*pixel) {
				dark++
			}
		}
		picture.SetGray(i%n, i/n, color.Gray{uint8(255 - 255*dark/(parts*parts))})
	}
	return picture
}

// TestCorners: the four are alike but for the upper left, which has no dot.
func TestCorners(t *testing.T) {
	t.Parallel()
	middles := [4]render.Point{{X: 1}, {X: 2}, {X: 3}, {X: 4}}
	for i, item := range Corners(middles) {
		marks := item.(*render.Group).Items
		if dotted := len(marks) == 2; dotted != (i > 0) {
			t.Errorf("corner %d has %d marks", i+1, len(marks))
		}
		for _, m := range marks {
			if m.(*render.Circle).Centre != middles[i] {
				t.Errorf("corner %d is about %v", i+1, m.(*render.Circle).Centre)
			}
		}
	}
}
