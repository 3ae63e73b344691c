package render

import (
	"reflect"
	"testing"

	"ringout/fonts"
)

// TestOn puts a sheet of A3 on A4 and on letter: every mark where it belongs by
// the rule of three, the page given as it was.
func TestOn(t *testing.T) {
	t.Parallel()
	sheet := func() *Page {
		return &Page{Head: Head{Name: "s", Title: "S", W: 420 * MM, H: 297 * MM}, Items: []Item{
			&Line{Pen: Outline, Points: []Point{{0, 0}, {420 * MM, 297 * MM}}},
			&Group{ID: "g", Items: []Item{&Circle{Centre: Point{210 * MM, 148500}, R: 10 * MM}}},
			&Text{At: Point{42 * MM, 29700}, Face: fonts.Sans, Height: 2500, Width: 10 * MM, S: "text"},
			&Link{Min: Point{0, 0}, Max: Point{42 * MM, 29700}, Page: "s"},
			&Modules{At: Point{42 * MM, 29700}, Size: 10 * MM, Black: [][]bool{{true}}},
			&Curve{P: [4]Point{{0, 0}, {42 * MM, 29700}, {0, 0}, {420 * MM, 297 * MM}}},
		}}
	}
	near := func(a, b Len) bool { return a-b <= 1 && b-a <= 1 }
	for _, c := range []struct{ w, h, wide, tall Len }{
		{297 * MM, 210 * MM, 296970, 210 * MM},   // 420 x 210/297: the height decides
		{279400, 215900, 279400, 197576},         // 297 x 279.4/420: the width does
		{840 * MM, 594 * MM, 840 * MM, 594 * MM}, // larger, too
	} {
		p := sheet()
		on := p.ScaledTo(c.w, c.h)
		if !reflect.DeepEqual(p, sheet()) {
			t.Error("the page given was changed")
		}
		if on.W != c.w || on.H != c.h || on.Name != "s" {
			t.Errorf("paper is %v", on.Head)
		}
		left, top := (c.w-c.wide)/2, (c.h-c.tall)/2
		line, circle := on.Items[0].(*Line), on.Items[1].(*Group).Items[0].(*Circle)
		text, link, curve := on.Items[2].(*Text), on.Items[3].(*Link), on.Items[5].(*Curve)
		for i, x := range []struct {
			got  Point
			x, y Len
		}{
			{line.Points[0], left, top}, {line.Points[1], c.w - left, c.h - top}, {circle.Centre, c.w / 2, c.h / 2},
			{text.At, left + c.wide/10, top + c.tall/10}, {link.Max, left + c.wide/10, top + c.tall/10}, {curve.P[1], left + c.wide/10, top + c.tall/10},
		} {
			if !near(x.got.X, x.x) || !near(x.got.Y, x.y) {
				t.Errorf("point %d on %v x %v is %v, not %v, %v", i, c.w, c.h, x.got, x.x, x.y)
			}
		}
		if m := on.Items[4].(*Modules); !near(m.At.X, left+c.wide/10) || !near(m.At.Y, top+c.tall/10) || !near(m.Size, Len(int64(c.wide)*10/420)) {
			t.Errorf("modules %v of %d", m.At, m.Size)
		}
		scaled := func(l Len) Len { return Len(int64(l) * int64(c.wide) / (420 * 1000)) }
		if !near(circle.R, scaled(10*MM)) || !near(text.Height, scaled(2500)) || !near(text.Width, scaled(10*MM)) || line.Pen != Outline {
			t.Errorf("circle %v, text %v", circle, text)
		}
		if err := on.Check(); err != nil {
			t.Error(err)
		}
	}
}
