package render_test

import (
	"bytes"
	"strings"
	"testing"

	"ringout/fonts"
	"ringout/render"
)

func TestMeasure(t *testing.T) {
	t.Parallel()
	// DejaVu Sans Mono: every glyph 1233 of 2048 units wide, capitals 1493 high.
	// Ten glyphs at 2.5 mm: 10 x 1233/1493 x 2.5 = 20.646 mm; in whole thousandths
	// of an em, as the PDF rounds, 10 x 602/729 x 2.5 = 20.645 mm.
	if got := render.Measure(fonts.Mono, "0123456789", 2500); got != 20645 {
		t.Errorf("ten digits are %d wide", got)
	}
	if got := render.Measure(fonts.Sans, "", 2500); got != 0 {
		t.Errorf("nothing is %d wide", got)
	}
}

func TestFit(t *testing.T) {
	t.Parallel()
	natural := text(fonts.Mono, "0123456789", 0, 0)
	for _, c := range []struct {
		room   render.Len
		narrow int8
		width  render.Len
		ok     bool
	}{
		{25000, 0, 20645, true},
		{20645, 0, 20645, true},
		{20644, 99, 20438, true},
		{16516, 80, 16516, true},
		{16515, 80, 16516, false},
		{1, 80, 16516, false},
		{-5, 80, 16516, false},
	} {
		got, ok := render.Fit(*natural, c.room, 80)
		if ok != c.ok || got.Narrow != c.narrow || got.Width != c.width {
			t.Errorf("room %d: narrow %d, width %d, %v; want %+v", c.room, got.Narrow, got.Width, ok, c)
		}
		if again, _ := render.Fit(got, 25000, 80); again.Width != 20645 || again.Narrow != 0 {
			t.Errorf("room %d: a narrowed text does not widen again", c.room)
		}
	}
}

func TestStartAndBox(t *testing.T) {
	t.Parallel()
	p := func(x, y render.Len) render.Point { return render.Point{X: x, Y: y} }
	for _, c := range []struct {
		align              render.Align
		turned             bool
		start, least, most render.Point
	}{
		{render.Left, false, p(100, 1000), p(100, 900), p(151, 1025)},
		{render.Middle, false, p(75, 1000), p(75, 900), p(126, 1025)},
		{render.Right, false, p(49, 1000), p(49, 900), p(100, 1025)},
		{render.Left, true, p(100, 1000), p(0, 949), p(125, 1000)},
		{render.Middle, true, p(100, 1025), p(0, 974), p(125, 1025)},
		{render.Right, true, p(100, 1051), p(0, 1000), p(125, 1051)},
	} {
		x := &render.Text{At: p(100, 1000), Height: 100, Width: 51, Align: c.align, Turned: c.turned}
		least, most := render.Box(x)
		if x.Start() != c.start || least != c.least || most != c.most {
			t.Errorf("%v turned %v: start %v, box %v %v", c.align, c.turned, x.Start(), least, most)
		}
	}
}

func TestMoveLeavesTheOriginal(t *testing.T) {
	t.Parallel()
	p := everything()
	var before, after, back bytes.Buffer
	render.Dump(&before, p)
	moved := render.Move(p.Items, 3*mm, -2*mm)
	far := &render.Page{Head: p.Head, Items: moved}
	render.Dump(&after, far)
	if before.String() == after.String() {
		t.Error("nothing moved")
	}
	if n, m := strings.Count(before.String(), "\n"), strings.Count(after.String(), "\n"); n != m {
		t.Errorf("%d marks of %d", m, n)
	}
	// Back again the dump is the same: every place moved, and nothing else.
	render.Dump(&back, &render.Page{Head: p.Head, Items: render.Move(moved, -3*mm, 2*mm)})
	if before.String() != back.String() {
		t.Error("there and back is not the same page")
	}
	// Scribble on the copies: the original must not change.
	for _, item := range moved {
		switch m := item.(type) {
		case *render.Line:
			m.Points[0].X = 0
		case *render.Group:
			m.Data[0].Value = ""
		}
		break
	}
	after.Reset()
	render.Dump(&after, p)
	if before.String() != after.String() {
		t.Error("the copies share memory with the original")
	}
}

func TestDump(t *testing.T) {
	t.Parallel()
	p := &render.Page{Head: render.Head{Name: "A", Title: `The "A"`, W: 210000, H: 297000}, Items: []render.Item{
		&render.Line{Pen: render.New, Points: []render.Point{{X: 1, Y: 2}, {X: 3, Y: 4}}},
		&render.Group{ID: "g1", Data: []render.Datum{{Key: "tag", Value: "TT 1"}}, Items: []render.Item{
			&render.Line{Pen: render.Thin, Points: []render.Point{{X: 1, Y: 2}, {X: 3, Y: 4}, {X: 5, Y: -6}}, Closed: true, Fill: render.Shade},
			&render.Circle{Pen: render.Outline, Centre: render.Point{X: 7, Y: 8}, R: 9, Fill: render.Blank},
		}},
		&render.Curve{Pen: render.Screen, P: [4]render.Point{{X: 1}, {X: 2}, {X: 3}, {Y: 4}}},
		&render.Text{At: render.Point{X: 5, Y: 6}, Face: fonts.MonoBold, Height: 2500, Align: render.Middle, Turned: true, S: "Ω 1", Width: 70, Narrow: 80},
		&render.Text{Height: 20000, S: "DRAFT", Width: 5, Ghost: true},
		&render.Modules{At: render.Point{X: 9, Y: 8}, Size: 500, Black: [][]bool{{true, false}, {true, true}}},
		&render.Link{Max: render.Point{X: 1, Y: 1}, Page: "B"},
	}}
	var b bytes.Buffer
	if err := render.Dump(&b, p); err != nil {
		t.Fatal(err)
	}
	const want = `page "A" 210000x297000 "The \"A\""
  line new 1,2 3,4
  group "g1" tag="TT 1"
    line thin 1,2 3,4 5,-6 closed shade
    circle outline 7,8 r9 blank
  curve screen 1,0 2,0 3,0 0,4
  text monobold 2500 middle 5,6 w70 narrow 80 turned "Ω 1"
  text sans 20000 left 0,0 w5 ghost "DRAFT"
  modules 9,8 500 10 11
  link 0,0 1,1 "B"
`
	if b.String() != want {
		t.Errorf("got\n%s", b.String())
	}
}

// TestUpright: it is the height and depth of the very ink, turned or not.
func TestUpright(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"", "  ", "Ägypt", "xyz", "-", "_", "(j)", "É", "a b", "'", "QjÅ|", "\u2013"} {
		for _, face := range []fonts.Face{fonts.Sans, fonts.Bold, fonts.Mono} {
			for _, height := range []render.Len{1800, 2500, 3500, 5001} {
				x := text(face, s, 7000, 9000)
				x.Height, x.Width = height, render.Measure(face, s, height)
				top, foot := render.Upright(face, height, s)
				least, most, ok := render.Ink(x)
				if !ok {
					least, most = x.At, x.At
				}
				if x.At.Y-least.Y != top || x.At.Y-most.Y != foot {
					t.Errorf("%q in %v of %d reaches from %d to %d; its ink from %d to %d", s, face, height, foot, top, x.At.Y-most.Y, x.At.Y-least.Y)
				}
			}
		}
	}
}
