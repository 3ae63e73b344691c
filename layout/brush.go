package layout

import (
	"ringout/layout/symbol"
	"ringout/render"
)

// brush draws where it stands: onto a page, or into a group.
type brush struct{ items *[]render.Item }

func (b brush) add(items ...render.Item) { *b.items = append(*b.items, items...) }

func (b brush) line(pen render.Pen, xy ...render.Len) {
	l := &render.Line{Pen: pen}
	for i := 0; i+1 < len(xy); i += 2 {
		l.Points = append(l.Points, render.Point{X: xy[i], Y: xy[i+1]})
	}
	b.add(l)
}

// put sets a symbol with its origin at a place.
func (b brush) put(s symbol.Symbol, x, y render.Len) { b.add(s.At(render.Point{X: x, Y: y})...) }
