// Package render holds the finished picture of a sheet: a list of marks at
// fixed places. Layout makes pages; render/svg and render/pdf write them down
// and decide nothing. The package knows nothing of plants.
package render

import (
	"ringout/fonts"
)

// Len is a length on paper in whole micrometres.
type Len int32

// Units of length.
const (
	UM   Len = 1
	MM   Len = 1000 * UM
	Inch Len = 25400 * UM
)

// Point is a place on paper, from the top left corner, y down.
type Point struct{ X, Y Len }

// Head is what is known of a page before it is drawn.
type Head struct {
	Name  string // unique in the set: file name and link target
	Title string // for the outline
	W, H  Len    // trimmed paper size
}

// Page is one finished sheet.
type Page struct {
	Head
	Items []Item // drawn in order
}

// Item is one mark: *Line, *Circle, *Curve, *Text, *Modules, *Link or *Group.
type Item interface{ item() }

// Line is a run of straight strokes through Points.
type Line struct {
	Pen    Pen
	Points []Point
	Closed bool
	Fill   Fill // of the closed outline
}

// Circle is a full circle.
type Circle struct {
	Pen    Pen
	Centre Point
	R      Len
	Fill   Fill
}

// Curve is one cubic curve from P[0] to P[3] with handles P[1] and P[2].
type Curve struct {
	Pen Pen
	P   [4]Point
}

// Text is one line of lettering, measured already: writers never measure.
type Text struct {
	At     Point // on the baseline: left end, middle or right end by Align
	Face   fonts.Face
	Height Len // of a capital letter (ISO 3098 lettering height)
	Align  Align
	Turned bool // reads upwards; At is then turned with it
	S      string
	Width  Len  // as drawn
	Narrow int8 // drawn width in per cent of the natural width; 0 means 100
	Safety bool // words that keep people from harm: the audit wants them 2.5 mm high; not seen
	Ghost  bool // lettering printed light grey behind the drawing; not counted as overlapping
}

// Modules is a square of square modules, some of them black, drawn as one path: a code
// that a machine reads.
type Modules struct {
	At    Point // the upper left corner
	Size  Len   // of a module
	Black [][]bool
}

// Runs calls visit for every row and the columns, from and to, between which all of it
// is black.
func (m *Modules) Runs(visit func(row, from, to int)) {
	for row, black := range m.Black {
		for x := 0; x < len(black); x++ {
			from := x
			for x < len(black) && black[x] {
				x++
			}
			if x > from {
				visit(row, from, x)
			}
		}
	}
}

// Corner is the lower right corner.
func (m *Modules) Corner() Point {
	side := Len(len(m.Black)) * m.Size
	return Point{m.At.X + side, m.At.Y + side}
}

// Link is a live area that leads to another page of the set.
type Link struct {
	Min, Max Point
	Page     string // Head.Name of the target
}

// Group names marks that belong to one part or conductor. ID is unique on the
// page; Data is written as data- attributes in SVG and is unseen in PDF.
type Group struct {
	ID    string
	Data  []Datum
	Items []Item
}

// Datum is one fact that a Group carries.
type Datum struct{ Key, Value string }

// Align tells which point of a Text its At is.
type Align uint8

// Alignments.
const (
	Left Align = iota
	Middle
	Right
)

// Fill is how a closed outline is filled.
type Fill uint8

// Fills.
const (
	Hollow Fill = iota // not filled
	Solid              // black
	Shade              // light grey, never the only carrier of a meaning
	Blank              // paper white
)

func (*Line) item()    {}
func (*Circle) item()  {}
func (*Curve) item()   {}
func (*Text) item()    {}
func (*Modules) item() {}
func (*Link) item()    {}
func (*Group) item()   {}
