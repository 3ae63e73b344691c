package paper

import (
	"ringout/fonts"
	"ringout/render"
)

// BoxOf is the smallest area round marks; curves count with their handles.
func BoxOf(items ...render.Item) Area {
	var a Area
	none := true
	add := func(points ...render.Point) {
		for _, p := range points {
			if none {
				a, none = Area{p, p}, false
			}
			a = a.join(Area{p, p})
		}
	}
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			add(m.Points...)
		case *render.Circle:
			add(render.Point{X: m.Centre.X - m.R, Y: m.Centre.Y - m.R}, render.Point{X: m.Centre.X + m.R, Y: m.Centre.Y + m.R})
		case *render.Curve:
			add(m.P[:]...)
		case *render.Text:
			least, most := render.Box(m)
			add(least, most)
		case *render.Modules:
			add(m.At, m.Corner())
		case *render.Group:
			if b := BoxOf(m.Items...); b != (Area{}) {
				add(b.Min, b.Max)
			}
		}
	}
	return a
}

// join is the smallest area that holds two.
func (a Area) join(b Area) Area {
	return Area{
		render.Point{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		render.Point{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}

// Holds reports whether a point lies in an area.
func (a Area) Holds(p render.Point) bool {
	return a.Min.X <= p.X && p.X <= a.Max.X && a.Min.Y <= p.Y && p.Y <= a.Max.Y
}

// Meets reports whether two areas share more than an edge.
func (a Area) Meets(b Area) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// ColumnSpan is a reach: of a column, counted outward from the strip, or of rows or
// legs down the sheet.
type ColumnSpan struct{ Min, Max render.Len }

// Narrowest is the width of a text at the least height and as narrow as it is
// ever set.
func Narrowest(face fonts.Face, s string) render.Len {
	return render.Measure(face, s, Heights[0])*LeastNarrow/100 + render.Len(len(s))
}

// Narrow is the width of a text at the usual height and as narrow as it is ever set.
func Narrow(face fonts.Face, s string) render.Len {
	return render.Measure(face, s, Lettered)*LeastNarrow/100 + render.Len(len(s))
}

// TwoLines breaks a text of the least height into lines that fit width narrowed.
func TwoLines(face fonts.Face, s string, width render.Len) []string {
	return Wrap(face, Heights[0], s, width*100/LeastNarrow)
}
