package layout

import (
	"ringout/model"
	"ringout/render"
)

// This file draws what a loop diagram and the legend both show.

// drawn is what f draws.
func drawn(f func(brush)) (items []render.Item) {
	f(brush{&items})
	return items
}

// inside draws what a device has between its terminals, one for each
// lane: they stand in a column, and in the rows of the lanes.
func (b brush) inside(p *model.Part, rows []render.Len, terminals render.Len) {
	if len(rows) < 2 {
		return
	}
	x := terminals - 5*render.MM
	y0, y1 := rows[0], rows[len(rows)-1]
	mid := (y0 + y1) / 2
	lead := func() {
		b.line(render.Existing, terminals, y0, x, y0, x, mid-1800)
		b.line(render.Existing, x, mid+1800, x, y1, terminals, y1)
	}
	switch p.Kind.Element {
	case model.ContactElement:
		lead()
		if p.Device.ClosedAtRest() {
			b.line(render.Outline, x+1000, mid-2400, x, mid+1800)
			b.line(render.Existing, x, mid-1800, x+1400, mid-1800)
		} else {
			b.line(render.Outline, x-1800, mid-1400, x, mid+1800)
		}
		b.add(&render.Circle{Pen: render.Existing, Centre: render.Point{X: x, Y: mid - 1800 - 400}, R: 400, Fill: render.Blank})
	case model.CoilElement:
		lead()
		b.add(outline(render.Existing, render.Hollow, Area{render.Point{X: x - 1200, Y: mid - 1800}, render.Point{X: x + 1200, Y: mid + 1800}}))
	case model.ResistorElement:
		lead()
		b.add(outline(render.Existing, render.Hollow, Area{render.Point{X: x - 1000, Y: mid - 1800}, render.Point{X: x + 1000, Y: mid + 1800}}))
		b.line(render.Thin, x-2200, mid+2000, x+2000, mid-2200)
		for _, y := range rows[1 : len(rows)-1] {
			if y > mid {
				b.line(render.Existing, terminals, y, x, y)
			} else {
				b.line(render.Existing, terminals, y, x+2500, y, x+2500, y1)
			}
		}
	case model.JunctionElement:
		b.line(render.Existing, terminals, y0, x, y0, x-3*render.MM, mid)
		b.line(render.Existing, terminals, y1, x, y1, x-3*render.MM, mid)
		b.add(&render.Circle{Pen: render.None, Centre: render.Point{X: x - 3*render.MM, Y: mid}, R: 700, Fill: render.Solid})
	case model.ProximityElement:
		lead()
		for _, y := range rows[1 : len(rows)-1] {
			b.line(render.Existing, terminals, y, x+1800, y, x+1800, mid)
		}
		b.add(&render.Line{Pen: render.Existing, Closed: true, Points: []render.Point{{X: x, Y: mid - 1800}, {X: x + 1800, Y: mid}, {X: x, Y: mid + 1800}, {X: x - 1800, Y: mid}}})
	}
}

// cap draws the sleeve over the end of a screen that is cut back.
func (b brush) cap(x, y render.Len, right bool) {
	in := x + 3*render.MM
	if right {
		in = x - 3*render.MM
	}
	b.line(render.Outline, in, y-render.MM, x, y-render.MM, x, y+render.MM, in, y+render.MM, in, y-render.MM)
}

// ring draws the ring of the cable round its lanes, dashed where it is a screen.
func (b brush) ring(screen, twisted bool, x, top, low render.Len) {
	pen := render.Existing
	if screen {
		pen = render.Screen
	}
	rx, ry := ringWide, (low-top)/2+3*render.MM
	y := (top + low) / 2
	k := func(r render.Len) render.Len { return r * 5523 / 10000 } // handle of a quarter circle
	for _, side := range []render.Len{1, -1} {
		b.add(&render.Curve{Pen: pen, P: [4]render.Point{{X: x, Y: y - ry}, {X: x + side*k(rx), Y: y - ry}, {X: x + side*rx, Y: y - k(ry)}, {X: x + side*rx, Y: y}}},
			&render.Curve{Pen: pen, P: [4]render.Point{{X: x + side*rx, Y: y}, {X: x + side*rx, Y: y + k(ry)}, {X: x + side*k(rx), Y: y + ry}, {X: x, Y: y + ry}}})
	}
	if low > top && twisted {
		b.twist(x, top, low)
	}
}

// twist draws the slanting S across cores that are twisted with each other.
func (b brush) twist(x, top, low render.Len) {
	over, lean, bend := 1200*render.UM, 900*render.UM, (low-top)/3
	b.add(&render.Curve{Pen: render.Existing, P: [4]render.Point{
		{X: x + lean, Y: top - over}, {X: x - 2*lean, Y: top + bend}, {X: x + 2*lean, Y: low - bend}, {X: x - lean, Y: low + over}}})
}

// pitchOf is how far the lanes of a circuit stand apart on its loop diagram.
func (pl *Plan) pitchOf(c *model.Circuit) render.Len {
	if r, ok := pl.Ref(Loop, c); ok {
		for _, t := range r.Sheet.plan.(*loopPlan).tiers {
			for _, b := range t.blocks {
				if b.circuit == c {
					return b.pitch
				}
			}
		}
	}
	return lanePitch
}
