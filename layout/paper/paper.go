// Package paper holds what all sheets are made of: papers, frames, title blocks, tables, forms,
// lettering and the clouds round what has changed. It knows no plant.
package paper

import (
	"ringout/render"
)

// Paper is a sheet of paper with its frame. W and H are the trimmed size; the
// margins lie between its edges and the frame.
type Paper struct {
	Name      string
	W, H      render.Len
	Left      render.Len // the filing edge
	Margin    render.Len // the right edge
	Ends      render.Len // the top and bottom edges
	Cols      int        // zones across, numbered
	Rows      int        // zones down, lettered
	ZoneW     render.Len // zones count outward from the middle; the outer ones take the rest
	ZoneH     render.Len
	FromRight bool // zones count from the lower right corner, not from the upper left
	Full      bool // large enough for the full title block and zones on all sides
}

// papers: A sizes after ISO 5457 (20 mm filing edge, 10 mm elsewhere, zones of
// 50 mm from the centring marks; 8 by 6 on A3, 6 by 4 on A4). Inch sizes have
// margins after the practice of ASME Y14.1 (0.38 and 0.62 inch, from memory)
// and its zones from the lower right corner; their number of zones and the
// wider filing edge of the letter sizes are our own choice.
var papers = []Paper{
	{"A3", 420 * render.MM, 297 * render.MM, 20 * render.MM, 10 * render.MM, 10 * render.MM, 8, 6, 50 * render.MM, 50 * render.MM, false, true},
	{"A4", 210 * render.MM, 297 * render.MM, 20 * render.MM, 10 * render.MM, 10 * render.MM, 4, 6, 50 * render.MM, 50 * render.MM, false, false},
	{"A4", 297 * render.MM, 210 * render.MM, 20 * render.MM, 10 * render.MM, 10 * render.MM, 6, 4, 50 * render.MM, 50 * render.MM, false, false},
	{"11x17", 17 * render.Inch, 11 * render.Inch, 15748, 15748, 9652, 8, 4, 50 * render.MM, 65 * render.MM, true, true},
	{"letter", 215900, 11 * render.Inch, 19050, 9652, 9652, 4, 4, 50 * render.MM, 65 * render.MM, true, false},
	{"letter", 11 * render.Inch, 215900, 19050, 9652, 9652, 6, 4, 45 * render.MM, 50 * render.MM, true, false},
}

// FindPaper returns the paper of that name (A3, A4, 11x17, letter) in that
// orientation; false if the table does not have it.
func FindPaper(name string, landscape bool) (Paper, bool) {
	for _, p := range papers {
		if p.Name == name && (p.W > p.H) == landscape {
			return p, true
		}
	}
	return Paper{}, false
}

// Frame returns the area inside the paper's frame line.
func (p Paper) Frame() Area {
	return Area{
		Min: render.Point{X: p.Left, Y: p.Ends},
		Max: render.Point{X: p.W - p.Margin, Y: p.H - p.Ends},
	}
}

// Edge returns the area inside the outer edge of the zone strip: no mark of a
// sheet lies outside it.
func (p Paper) Edge() Area { return p.Frame().Inset(-zoneStrip) }

// corners are the middles of the corners of the zone strip, upper left first, then
// clockwise.
func (p Paper) corners() [4]render.Point {
	a := p.Frame().Inset(-zoneStrip / 2)
	return [4]render.Point{a.Min, {X: a.Max.X, Y: a.Min.Y}, a.Max, {X: a.Min.X, Y: a.Max.Y}}
}

// Past is how far the marks reach past a frame, in micrometres; 0 if none does.
// What lies wholly between the frame and the edge around it is of the zones.
func Past(frame, edge Area, items []render.Item) (far render.Len) {
	render.Reach(items, func(_ render.Item, least, most render.Point) {
		within := edge.Min.X <= least.X && edge.Min.Y <= least.Y && most.X <= edge.Max.X && most.Y <= edge.Max.Y
		zoned := most.X <= frame.Min.X || most.Y <= frame.Min.Y || least.X >= frame.Max.X || least.Y >= frame.Max.Y
		if within && (zoned || edge == (Area{least, most})) {
			return
		}
		far = max(far, frame.Min.X-least.X, frame.Min.Y-least.Y, most.X-frame.Max.X, most.Y-frame.Max.Y)
	})
	return far
}

// Zone names the zone that a point lies in, such as B4: letter of the row, then
// number of the column. A point outside the frame counts to the nearest zone.
func (p Paper) Zone(pt render.Point) string {
	col := zoneAt(pt.X, p.W/2, p.ZoneW, p.Cols)
	row := zoneAt(pt.Y, p.H/2, p.ZoneH, p.Rows)
	return p.rowName(row) + p.colName(col)
}

// zoneAt returns the zone, from 0, of a place on an axis with n zones about
// its middle. A place on a tick belongs to the zone after it.
func zoneAt(at, middle, size render.Len, n int) int {
	for i := range n - 1 {
		if at < zoneTick(middle, size, n, i) {
			return i
		}
	}
	return n - 1
}

// zoneTick returns the place between zone i and the next.
func zoneTick(middle, size render.Len, n, i int) render.Len {
	return middle + render.Len(i+1-n/2)*size
}

// zoneLetters leaves out I and O, which read as digits (ISO 5457).
const zoneLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ"

func (p Paper) colName(i int) string {
	if p.FromRight {
		i = p.Cols - 1 - i
	}
	return string(rune('1' + i))
}

func (p Paper) rowName(i int) string {
	if p.FromRight {
		i = p.Rows - 1 - i
	}
	return zoneLetters[i : i+1]
}

// Area is an upright rectangle on paper.
type Area struct{ Min, Max render.Point }

// W returns the width of the area.
func (a Area) W() render.Len { return a.Max.X - a.Min.X }

// H returns the height of the area.
func (a Area) H() render.Len { return a.Max.Y - a.Min.Y }

// Inset returns the area made smaller by d on every side.
func (a Area) Inset(d render.Len) Area {
	return Area{render.Point{X: a.Min.X + d, Y: a.Min.Y + d}, render.Point{X: a.Max.X - d, Y: a.Max.Y - d}}
}

// Rect is the area at x, y of a width and a height.
func Rect(x, y, w, h render.Len) Area {
	return Area{render.Point{X: x, Y: y}, render.Point{X: x + w, Y: y + h}}
}

// Outline draws the four sides of an area.
func Outline(pen render.Pen, fill render.Fill, a Area) *render.Line {
	return &render.Line{Pen: pen, Closed: true, Fill: fill, Points: []render.Point{
		a.Min, {X: a.Max.X, Y: a.Min.Y}, a.Max, {X: a.Min.X, Y: a.Max.Y},
	}}
}

// Stroke is a line from one point to another.
func Stroke(pen render.Pen, x0, y0, x1, y1 render.Len) *render.Line {
	return &render.Line{Pen: pen, Points: []render.Point{{X: x0, Y: y0}, {X: x1, Y: y1}}}
}
