package symbol

import (
	"ringout/render"
)

// Brush draws where it stands: onto a page, or into a group.
type Brush struct{ Items *[]render.Item }

// Add adds marks.
func (b Brush) Add(items ...render.Item) { *b.Items = append(*b.Items, items...) }

// Line adds a line through points, x and y in turn.
func (b Brush) Line(pen render.Pen, xy ...render.Len) {
	l := &render.Line{Pen: pen}
	for i := 0; i+1 < len(xy); i += 2 {
		l.Points = append(l.Points, render.Point{X: xy[i], Y: xy[i+1]})
	}
	b.Add(l)
}

// Put sets a symbol with its origin at a place.
func (b Brush) Put(s Symbol, x, y render.Len) { b.Add(s.At(render.Point{X: x, Y: y})...) }
