// Package symbol holds the drawing of each kind of part as data: marks, the
// box they stay in, and the ports where lines end. Shapes are arranged after
// the practice of ISA-5.1, ISA-5.4 and IEC 60617. The package knows paper, not
// plants: letters and numbers come in as plain strings.
package symbol

import (
	"ringout/fonts"
	"ringout/render"
)

// Module is the grid that line ends sit on. IEC practice: 2.5 mm.
const Module = 2500 * render.UM

// Leg is the distance of two neighbouring conductors, and so the height of a
// terminal.
const Leg = 2 * Module

// Symbol is the drawing of one part about its own origin. Every mark lies in
// the box Min, Max, pen width aside, and every port on the box's border.
type Symbol struct {
	Name     string
	Min, Max render.Point
	Ports    []Port
	Items    []render.Item
}

// Port is a place where a line ends, and the side it leaves by.
type Port struct {
	Name string
	At   render.Point
	Side Side
}

// Side is an edge of a symbol's box.
type Side uint8

// The sides.
const (
	West Side = iota
	East
	North
	South
)

// At returns the symbol's marks moved so that its origin lies on p. The
// symbol itself stays as it was.
func (s Symbol) At(p render.Point) []render.Item {
	return render.Move(s.Items, p.X, p.Y)
}

// Port returns where the port of that name lies when the symbol's origin lies
// on p; false if there is no such port.
func (s Symbol) Port(name string, p render.Point) (render.Point, bool) {
	for _, q := range s.Ports {
		if q.Name == name {
			return render.Point{X: q.At.X + p.X, Y: q.At.Y + p.Y}, true
		}
	}
	return render.Point{}, false
}

// Symbols returns one of each symbol, with sample lettering, in the order of
// the symbol sheet.
func Symbols() []Symbol {
	var all []Symbol
	for _, family := range [][]Symbol{
		bubbles(), valves(), primaries(), terminals(), earths(), supplies(), warnings(),
	} {
		all = append(all, family...)
	}
	return all
}

// The makers below take tenths of a millimetre, so that a shape reads as a row
// of small numbers: line(pen, 0,0, 25,0) is one module to the right.

const tenth = 100 * render.UM

func at(x, y int) render.Point {
	return render.Point{X: render.Len(x) * tenth, Y: render.Len(y) * tenth}
}

func points(xy []int) []render.Point {
	ps := make([]render.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		ps = append(ps, at(xy[i], xy[i+1]))
	}
	return ps
}

func line(pen render.Pen, xy ...int) render.Item {
	return &render.Line{Pen: pen, Points: points(xy)}
}

func shape(pen render.Pen, fill render.Fill, xy ...int) render.Item {
	return &render.Line{Pen: pen, Points: points(xy), Closed: true, Fill: fill}
}

// box is white inside, so that a line may run behind it.
func box(pen render.Pen, x0, y0, x1, y1 int) render.Item {
	return shape(pen, render.Blank, x0, y0, x1, y0, x1, y1, x0, y1)
}

func circle(pen render.Pen, fill render.Fill, x, y, r int) render.Item {
	return &render.Circle{Pen: pen, Centre: at(x, y), R: render.Len(r) * tenth, Fill: fill}
}

func curve(pen render.Pen, xy ...int) render.Item {
	return &render.Curve{Pen: pen, P: [4]render.Point(points(xy))}
}

// dome is the upper half of an ellipse on a base from x0 to x1 at y, h high.
// A cubic meets a quarter ellipse best with handles of 0.5523 of the radius.
func dome(pen render.Pen, x0, x1, y, h int) []render.Item {
	c, r := (x0+x1)/2, (x1-x0)/2
	kx, ky := r*5523/10000, h*5523/10000
	return []render.Item{
		curve(pen, x0, y, x0, y-ky, c-kx, y-h, c, y-h),
		curve(pen, c, y-h, c+kx, y-h, x1, y-ky, x1, y),
	}
}

// lettering is one line about x, narrowed to fit the width that there is for its
// height, then set smaller; false if it is wider even so, and cut. Capitals of
// letterHeight stand on y, smaller ones in their middle.
func lettering(face fonts.Face, x, y int, s string, width func(height render.Len) int) (render.Item, bool) {
	t := render.Text{Face: face, Align: render.Middle, S: s}
	for _, t.Height = range heights {
		t.At = stands(x, y, t.Height)
		var ok bool
		if t, ok = render.Fit(t, render.Len(width(t.Height))*tenth, render.LeastNarrow); ok {
			return &t, true
		}
	}
	t = render.Cut(t, render.Len(width(t.Height))*tenth, render.LeastNarrow)
	return &t, false
}

// always is one width for all heights.
func always(width int) func(render.Len) int { return func(render.Len) int { return width } }

// stands is where lettering of a height has its baseline.
func stands(x, y int, height render.Len) render.Point {
	p := at(x, y)
	p.Y -= (letterHeight - height) / 2
	return p
}

// letters is lettering known to fit: a letter or two in a box.
func letters(x, y int, s string, width int) render.Item {
	t, _ := lettering(fonts.Mono, x, y, s, always(width))
	return t
}

// letterHeight is the height of tags and terminal numbers (IEC 61082-1
// practice: 2.5 mm); heights are those that they are set in, the least last.
const letterHeight = 2500 * render.UM

var heights = []render.Len{letterHeight, 1800 * render.UM}

func port(name string, x, y int, side Side) Port {
	return Port{Name: name, At: at(x, y), Side: side}
}
