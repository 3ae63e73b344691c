package loop

import (
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/render"
)

// This file draws what a loop diagram and the legend both show.

// Drawn is what f draws.
func Drawn(f func(symbol.Brush)) (items []render.Item) {
	f(symbol.Brush{Items: &items})
	return items
}

// Inside draws what a device has between its terminals at a station, one for each
// leg: they stand in a column, and in the rows of the legs.
func Inside(b symbol.Brush, st *model.Station, rows []render.Len, terminals render.Len) {
	if len(rows) < 2 {
		return
	}
	x := terminals - 5*render.MM
	y0, y1 := rows[0], rows[len(rows)-1]
	mid := (y0 + y1) / 2
	lead := func() {
		b.Line(render.Existing, terminals, y0, x, y0, x, mid-1800)
		b.Line(render.Existing, x, mid+1800, x, y1, terminals, y1)
	}
	switch st.Element() {
	case model.ContactElement:
		lead()
		if st.ClosedAtRest() {
			b.Line(render.Outline, x+1000, mid-2400, x, mid+1800)
			b.Line(render.Existing, x, mid-1800, x+1400, mid-1800)
		} else {
			b.Line(render.Outline, x-1800, mid-1400, x, mid+1800)
		}
		b.Add(&render.Circle{Pen: render.Existing, Centre: render.Point{X: x, Y: mid - 1800 - 400}, R: 400, Fill: render.Blank})
	case model.ChangeoverElement:
		changeover(b, st, rows, terminals)
	case model.CoilElement:
		lead()
		b.Add(paper.Outline(render.Existing, render.Hollow, paper.Area{Min: render.Point{X: x - 1200, Y: mid - 1800}, Max: render.Point{X: x + 1200, Y: mid + 1800}}))
	case model.ResistorElement:
		lead()
		b.Add(paper.Outline(render.Existing, render.Hollow, paper.Area{Min: render.Point{X: x - 1000, Y: mid - 1800}, Max: render.Point{X: x + 1000, Y: mid + 1800}}))
		b.Line(render.Thin, x-2200, mid+2000, x+2000, mid-2200)
		for _, y := range rows[1 : len(rows)-1] {
			if y > mid {
				b.Line(render.Existing, terminals, y, x, y)
			} else {
				b.Line(render.Existing, terminals, y, x+2500, y, x+2500, y1)
			}
		}
	case model.JunctionElement:
		b.Line(render.Existing, terminals, y0, x, y0, x-3*render.MM, mid)
		b.Line(render.Existing, terminals, y1, x, y1, x-3*render.MM, mid)
		b.Add(&render.Circle{Pen: render.None, Centre: render.Point{X: x - 3*render.MM, Y: mid}, R: 700, Fill: render.Solid})
	case model.OutputElement:
		ownOutput(b, st, rows, terminals)
	case model.ProximityElement:
		lead()
		for _, y := range rows[1 : len(rows)-1] {
			b.Line(render.Existing, terminals, y, x+1800, y, x+1800, mid)
		}
		b.Add(&render.Line{Pen: render.Existing, Closed: true, Points: []render.Point{{X: x, Y: mid - 1800}, {X: x + 1800, Y: mid}, {X: x, Y: mid + 1800}, {X: x - 1800, Y: mid}}})
	}
}

// BelowCommon reports whether a terminal is the pole of a supply that lies below common.
func BelowCommon(t *model.Terminal) bool {
	return t.Part.Supply != nil && t.Part.Supply.Below && t.Role == '-'
}

// FedMark is the arrowhead of what feeds a terminal, behind a point: open where that is a
// pole below common.
func FedMark(below bool, x, y render.Len) render.Item {
	fill := render.Solid
	if below {
		fill = render.Blank
	}
	return &render.Line{Pen: render.Existing, Closed: true, Fill: fill, Points: []render.Point{{X: x, Y: y - 800}, {X: x + 2*render.MM, Y: y}, {X: x, Y: y + 800}}}
}

// ownOutput draws the source of a three-wire transmitter between its output and the supply
// core that is not common, its arrow along the current, or that of a probe between common
// and signal, whose core runs through it (IEC 60617: ideal current and voltage source,
// from memory, the former with the arrow of its current).
func ownOutput(b symbol.Brush, st *model.Station, rows []render.Len, terminals render.Len) {
	at := map[model.Marking]render.Len{}
	for i, t := range st.Terminations {
		if t.Does == model.Lands {
			at[t.In.Role] = rows[i]
		}
	}
	from, to := at['+'], at['Q']
	if st.Part.Device.Sinks() {
		from, to = to, at['-']
	}
	if len(at) < 3 {
		return
	}
	const r = 1800
	x, mid := terminals-5*render.MM, (from+to)/2
	down := render.Len(1)
	if to < from {
		down = -1
	}
	b.Line(render.Existing, terminals, from, x, from, x, mid-down*r)
	b.Line(render.Existing, x, mid+down*r, x, to, terminals, to)
	b.Add(&render.Circle{Pen: render.Existing, Centre: render.Point{X: x, Y: mid}, R: r, Fill: render.Blank})
	if st.Part.Kind.Signal == model.Displacement {
		b.Line(render.Existing, x, mid-r, x, mid+r)
		return
	}
	b.Line(render.Existing, x, mid-down*1100, x, mid+down*1100)
	b.Line(render.Existing, x-600, mid+down*400, x, mid+down*1100, x+600, mid+down*400)
}

// changeover draws a contact with a common and two sides, at rest: its blade lies on the
// side that breaks.
func changeover(b symbol.Brush, st *model.Station, rows []render.Len, terminals render.Len) {
	g, at := st.Group(), map[*model.Terminal]render.Len{}
	for i, t := range st.Terminations {
		at[t.In] = rows[i]
	}
	common, breaks, makes := at[g.Terminals[0]], at[g.Terminals[1]], at[g.Terminals[2]]
	fixed, pivot, mid := terminals-3*render.MM, terminals-7*render.MM, (breaks+makes)/2
	b.Line(render.Existing, terminals, common, pivot, common, pivot, mid)
	b.Line(render.Outline, pivot, mid, fixed, breaks)
	for _, y := range []render.Len{breaks, makes} {
		b.Line(render.Existing, terminals, y, fixed, y)
	}
	b.Add(&render.Circle{Pen: render.Existing, Centre: render.Point{X: pivot, Y: mid}, R: 400, Fill: render.Blank})
}

// InLeg draws a contact in a leg, between two points of its row: horizontal ones act from
// below (IEC 60617). It is drawn at rest.
func InLeg(b symbol.Brush, x0, x1, y render.Len, closed bool) {
	mid, half := (x0+x1)/2, 2500*render.UM
	b.Line(render.Outline, x0, y, mid-half, y)
	b.Line(render.Outline, mid+half, y, x1, y)
	if closed { // the blade lies on a bar of the fixed end
		b.Line(render.Outline, mid-half, y, mid+half+600, y+1800)
		b.Line(render.Outline, mid+half, y, mid+half, y+2600)
		return
	}
	b.Line(render.Outline, mid-half, y, mid+half-500, y+2200)
}

// ToEarth draws the way that a surge takes from a leg to the earth below it: an arrow.
func ToEarth(b symbol.Brush, x, top, foot render.Len) {
	b.Line(render.Existing, x, top, x, foot)
	b.Add(&render.Line{Pen: render.Existing, Closed: true, Fill: render.Solid, Points: []render.Point{
		{X: x - 800, Y: foot - 2*render.MM}, {X: x + 800, Y: foot - 2*render.MM}, {X: x, Y: foot - 300}}})
}

// Cap draws the sleeve over the end of a screen that is cut back.
func Cap(b symbol.Brush, x, y render.Len, right bool) {
	in := x + 3*render.MM
	if right {
		in = x - 3*render.MM
	}
	b.Line(render.Outline, in, y-render.MM, x, y-render.MM, x, y+render.MM, in, y+render.MM, in, y-render.MM)
}

// Ring draws the ring of the cable round its legs, dashed where it is a screen.
func Ring(b symbol.Brush, screen bool, x, top, low render.Len) {
	pen := render.Existing
	if screen {
		pen = render.Screen
	}
	rx, ry := ringWide, (low-top)/2+3*render.MM
	y := (top + low) / 2
	k := func(r render.Len) render.Len { return r * 5523 / 10000 } // handle of a quarter circle
	for _, side := range []render.Len{1, -1} {
		b.Add(&render.Curve{Pen: pen, P: [4]render.Point{{X: x, Y: y - ry}, {X: x + side*k(rx), Y: y - ry}, {X: x + side*rx, Y: y - k(ry)}, {X: x + side*rx, Y: y}}},
			&render.Curve{Pen: pen, P: [4]render.Point{{X: x + side*rx, Y: y}, {X: x + side*rx, Y: y + k(ry)}, {X: x + side*k(rx), Y: y + ry}, {X: x, Y: y + ry}}})
	}
}

// Twist draws the slanting S across cores that are twisted with each other.
func Twist(b symbol.Brush, x, top, low render.Len) {
	over, lean, bend := 1200*render.UM, 900*render.UM, (low-top)/3
	b.Add(&render.Curve{Pen: render.Existing, P: [4]render.Point{
		{X: x + lean, Y: top - over}, {X: x - 2*lean, Y: top + bend}, {X: x + 2*lean, Y: low - bend}, {X: x - lean, Y: low + over}}})
}

// PitchOf is how far the legs of a circuit stand apart on its loop diagram.
func PitchOf(pl *sheet.Plan, c *model.Circuit) render.Len {
	if r, ok := pl.Ref(sheet.Loop, c); ok {
		for _, t := range r.Sheet.Planned.(*loopPlan).tiers {
			for _, b := range t.blocks {
				if b.circuit == c {
					return b.pitch
				}
			}
		}
	}
	return legPitch
}
