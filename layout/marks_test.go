package layout

import (
	"fmt"
	"image"
	"image/color"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"

	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
	"ringout/samples"
)

// TestPageMarks: every page has its four corner marks, and a code at one place for each
// title block, which a reader of other authors (ZXing, github.com/makiuchi-d/gozxing)
// reads as what the title block says.
func TestPageMarks(t *testing.T) {
	t.Parallel()
	for name, plant := range map[string]*model.Plant{
		"tern-island": layouttest.PlantOf(t, os.DirFS("../samples"), "tern-island", false),
		"random":      layouttest.PlantOf(t, fstest.MapFS{"p/plant.yaml": &fstest.MapFile{Data: []byte(samples.Random(5, 12))}}, "p", false),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			plan := New(plant, false, nil)
			places := map[string]render.Point{}
			n := 0
			for page := range plan.Pages() {
				s := plan.Sheets[n]
				n++
				code := markedOn(t, page)
				at := code.Corner()
				key := fmt.Sprint(s.Paper.Name, s.Kind.Form, s.Kind.Form && s.Part > 1, len(code.Black))
				if was, ok := places[key]; ok && was != at {
					t.Errorf("%s: the code is at %v, on others at %v", s.Name, at, was)
				}
				places[key] = at
				if got, want := decoded(t, code), titled(plan, s); got != want {
					t.Errorf("%s: the code reads %q, the title block says %q", s.Name, got, want)
				}
			}
			if n < 40 {
				t.Errorf("only %d pages", n)
			}
		})
	}
}

// titled is what DRAWING.md has the code of a sheet say, by its title block.
func titled(plan *sheet.Plan, s *sheet.Sheet) string {
	title := plan.Title(s)
	if number := strings.ContainsAny(title.Number, "%|*#"); number || len(title.Number) != len([]rune(title.Number)) {
		return title.Number + " is not for this test"
	}
	return fmt.Sprintf("RO1|%s|%d|%s|%s|%s", s.Kind.Letter, title.Sheet, title.Revision, title.Code, title.Number)
}

// markedOn is the code of a page; the corner marks have to be there too.
func markedOn(t *testing.T, page *render.Page) (code *render.Modules) {
	t.Helper()
	corners := 0
	for _, item := range page.Items {
		g, ok := item.(*render.Group)
		switch {
		case !ok:
		case g.ID == "mark-page" && code == nil:
			code = g.Items[0].(*render.Modules)
		case strings.HasPrefix(g.ID, "mark-corner-"):
			corners++
		}
	}
	if code == nil || corners != 4 {
		t.Fatalf("%s: code %v, %d corner marks", page.Name, code != nil, corners)
	}
	return code
}

// decoded is what a clean upright picture of a code says.
func decoded(t *testing.T, code *render.Modules) string {
	t.Helper()
	const pixels, white = 3, 6
	side := pixels*len(code.Black) + 2*white
	picture := image.NewGray(image.Rect(0, 0, side, side))
	for i := range picture.Pix {
		picture.Pix[i] = 255
	}
	for y, row := range code.Black {
		for x, black := range row {
			for i := range pixels * pixels {
				if black {
					picture.SetGray(white+x*pixels+i%pixels, white+y*pixels+i/pixels, color.Gray{})
				}
			}
		}
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	read, err := datamatrix.NewDataMatrixReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
	if err != nil {
		t.Error(err)
		return ""
	}
	return read.GetText()
}
