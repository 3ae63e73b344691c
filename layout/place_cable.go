package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// fans calls f for each cable of one side with the rows that its cores land on.
func (st *stretch) fans(side int, f func(c *model.Cable, first, last int)) {
	var cable *model.Cable
	var first, last int
	flush := func() {
		if cable != nil {
			f(cable, first, last)
		}
		cable = nil
	}
	for i := st.From; i < st.To; i++ {
		l := st.rows[i].sides[side]
		switch {
		case l == nil:
		case l.c.Core == nil:
			flush()
		case l.c.Core.Cable == cable:
			last = i
		default:
			flush()
			cable, first, last = l.c.Core.Cable, i, i
		}
	}
	flush()
}

// fan draws a cable whose cores land on the rows first to last: its tag, its
// sheath and the bar from which its cores spread.
func (d *placeDrawing) fan(st *stretch, side int, c *model.Cable, first, last int) {
	const (
		lead   = 1200 * render.UM // of the bar beyond its cores
		narrow = 2000 * render.UM // half the height of the tag of one core
		most   = 20 * render.MM
	)
	g := &d.grid
	top, low := st.y(first), st.y(last)
	bar := g.edge(side, g.span(side, fanColumn).Max-fanInset)
	cell := g.cell(side, tagColumn)
	half := min(max((low-top)/2+narrow, narrow), most/2)
	mid := (top + low) / 2
	tag := Area{render.Point{X: cell.Min, Y: mid - half}, render.Point{X: cell.Max, Y: mid + half}}
	sheath := map[model.Status]render.Pen{model.ToInstall: render.Frame, model.InPlace: render.Outline, model.Later: render.Future}[c.Status]
	d.group("cable-"+c.Tag, []render.Datum{{Key: "cable", Value: c.Tag}}, func() {
		d.add(outline(render.Outline, render.Blank, tag),
			stroke(sheath, bar, mid, g.edge(side, g.span(side, tagColumn).Min), mid))
		if first == last {
			d.add(stroke(sheath, bar, top-lead, bar, low+lead))
		} else {
			d.add(stroke(sheath, bar, top, bar, low))
		}
		d.tagLines(c, tag, slices.ContainsFunc(st.rows[first:last+1], func(r placeRow) bool {
			return r.sides[side] != nil && r.sides[side].safe
		}))
	})
	if ref, ok := d.farRef(c); ok {
		d.add(&render.Link{Min: tag.Min, Max: tag.Max, Page: ref.Sheet.Name})
	}
}

const safeRoom = 5 * render.MM // for the mark of intrinsic safety

// tagLines writes on a cable's tag as much as it holds; the table of cables
// has it all. safe is a cable with intrinsically safe cores, which says so.
func (d *placeDrawing) tagLines(c *model.Cable, a Area, safe bool) {
	const line = 3400 * render.UM
	width := a.W() - 2*cellSide
	far := "to " + d.farEnd(c).Tag()
	if ref, ok := d.farRef(c); ok && oneLine(fonts.Sans, heights[0], far+"  "+ref.String(), width) {
		far += "  " + ref.String() // the tag is a link too
	}
	made, length, _ := strings.Cut(cableWords(c), ", ")
	lines := []string{c.Tag, far}
	ring, sheath := "", ""
	if c.Type.Sheath != "" {
		sheath = c.Type.Sheath + " sheath"
	}
	if ref, ok := d.pl.Ref(RingOut, c); ok {
		ring = fmt.Sprintf("rung out: sheet %d", ref.Sheet.No)
	}
	for _, s := range []string{made + ", " + c.Status.String(), joined(length, d.gland(c)), ring, joined("type "+c.Type.Name, sheath)} {
		if s == "" {
			continue
		}
		if _, ok := Put(render.Point{}, fonts.Sans, lettered, render.Left, s, width); ok {
			lines = append(lines, s)
		}
	}
	n := min(len(lines), max(1, int((a.H()-400)/line)))
	first := width
	if safe {
		first -= safeRoom
	}
	if n == 1 && oneLine(fonts.Bold, heights[0], lines[0]+"  "+far, first) {
		lines = []string{lines[0] + "  " + far}
	}
	y := a.Min.Y + (a.H()-render.Len(n-1)*line-lettered)/2 + lettered
	for i, s := range lines[:n] {
		if i > 0 {
			d.text(a.Min.X+cellSide, y+render.Len(i)*line, fonts.Sans, render.Left, s, width)
			continue
		}
		d.text(a.Min.X+cellSide, y, fonts.Bold, render.Left, s, first)
		if safe {
			d.text(a.Max.X-cellSide, y, fonts.Bold, render.Right, safeMark, safeRoom)
		}
	}
}

// hereEnd and farEnd are the ends of a cable as seen from the place.
func (v *placeView) hereEnd(c *model.Cable) model.CableEnd {
	if c.To.Place == v.place {
		return c.To
	}
	return c.From
}

func (v *placeView) farEnd(c *model.Cable) model.CableEnd {
	if c.To.Place == v.place {
		return c.From
	}
	return c.To
}

// gland is the gland of a cable in this place: its own, or that of its type.
func (v *placeView) gland(c *model.Cable) string {
	if g := v.hereEnd(c).Gland; g != "" {
		return g
	}
	return c.Type.Gland
}

// farRef is where the place at the far end of a cable is drawn.
func (d *placeDrawing) farRef(c *model.Cable) (Ref, bool) {
	p := d.farEnd(c).Place
	if p == nil {
		return Ref{}, false
	}
	kind := Cabinet
	if p.Kind == model.Box {
		kind = Box
	}
	if ref, ok := d.pl.Ref(kind, cableAt{c, p}); ok {
		return ref, true
	}
	return d.pl.Ref(kind, p)
}
