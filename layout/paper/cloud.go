package paper

import (
	"fmt"

	"ringout/fonts"
	"ringout/render"
)

// This file draws revision clouds. A cloud is a ring of arcs round an area, and
// keeps clear of lettering: each side moves out to where nothing is written, up
// to a limit, but not past what did not change; arcs that would run through a
// word even so are left out.

// The measures of clouds.
const (
	cloudPen    = render.Outline
	cloudGap    = 400 * render.UM // at the least between what changed and the cloud
	CloudBulge  = 800 * render.UM // height of an arc
	cloudChord  = 3 * render.MM   // length of an arc, about
	cloudMost   = 12 * render.MM  // that a side moves out
	cloudStep   = 200 * render.UM
	cloudInk    = 300 * render.UM // kept clear of lettering, half the pen included
	CloudNearX  = 8 * render.MM   // closer changes share a cloud
	cloudNearY  = 5 * render.MM
	CloudLegs   = 14 * render.MM // so do legs of a loop that are closer
	flagWide    = 6 * render.MM  // triangle with a mark of a letter or two
	flagTall    = 5500 * render.UM
	flagText    = 2400 * render.UM // room for that mark
	flagFoot    = 500 * render.UM
	FlagFar     = 8 * render.MM  // that a triangle stands away, at the most
	leaderMost  = 60 * render.MM // or with a leader to its cloud
	FlagGap     = 600 * render.UM
	flagStep    = 1000 * render.UM
	overText    = 1000 // cost of a side through a text, or past one that did not change
	overBody    = 20   // cost of a side through a terminal, a bubble or a tick box
	alongStroke = 1    // cost of a side on a line
	mostBody    = 16 * render.MM
	leastRule   = 60 * render.MM // of an outline
)

// Clouds draws clouds and their triangles round areas of a page, inside an
// area, as one group a cloud. On a page of rows no cloud takes in a row that did
// not change.
func Clouds(items []render.Item, changed []Area, inside Area, mark string, rows bool) []render.Item {
	o := obstaclesOf(items, nil)
	o.rows = rows
	o.Marked(mark)
	rings := o.rings(changed, inside)
	var all []render.Item
	for i, ring := range rings {
		g := &render.Group{ID: fmt.Sprintf("cloud-%d", i+1), Data: []render.Datum{{Key: "revision", Value: mark}}, Items: o.arcs(ring)}
		o.take(g.Items)
		all = append(all, g)
	}
	for i, ring := range rings { // once no cloud can come over a triangle any more
		flag := o.flag(ring, inside)
		o.take(flag)
		g := all[i].(*render.Group)
		g.Items = append(g.Items, flag...)
	}
	return all
}

// Obstacles are what a page holds already.
type Obstacles struct {
	texts, strokes []Area
	rules          []Area     // those of tables
	bodies         []Area     // small closed outlines
	rows           bool       // of a page of rows
	mark           string     // of the revision
	wide           render.Len // of its triangle
}

// Marked has triangles bear the mark of a revision.
func (o *Obstacles) Marked(mark string) *Obstacles {
	o.mark = mark
	o.wide = flagWide + 2*(o.markRoom()-flagText)
	return o
}

// markRoom is the room for the mark of the revision in its triangle, which is wider
// for a long one.
func (o *Obstacles) markRoom() render.Len { return max(flagText, Narrowest(fonts.MonoBold, o.mark)) }

// obstaclesOf gathers the lettering and the lines of a page.
func obstaclesOf(items []render.Item, o *Obstacles) *Obstacles {
	if o == nil {
		o = &Obstacles{}
	}
	for _, item := range items {
		switch m := item.(type) {
		case *render.Group:
			obstaclesOf(m.Items, o)
		case *render.Text:
			if least, most, ok := render.Ink(m); ok && !m.Ghost {
				o.texts = append(o.texts, Area{least, most})
			}
		case *render.Line:
			for i := 1; i < len(m.Points); i++ {
				o.stroke(m.Pen, segment(m.Points[i-1], m.Points[i]))
			}
			if m.Closed && len(m.Points) > 0 {
				o.stroke(m.Pen, segment(m.Points[len(m.Points)-1], m.Points[0]))
				o.body(BoxOf(m))
			}
		case *render.Circle:
			o.strokes = append(o.strokes, BoxOf(m))
			o.body(BoxOf(m))
		case *render.Curve, *render.Modules:
			o.strokes = append(o.strokes, BoxOf(m))
		}
	}
	return o
}

// stroke adds a straight stroke: thin ones, and long outlines, are the rules of
// tables.
func (o *Obstacles) stroke(pen render.Pen, a Area) {
	if pen == render.Thin || pen == render.Outline && max(a.W(), a.H()) >= leastRule {
		o.rules = append(o.rules, a)
		return
	}
	o.strokes = append(o.strokes, a)
}

func (o *Obstacles) body(a Area) {
	if max(a.W(), a.H()) <= mostBody {
		o.bodies = append(o.bodies, a)
	}
}

// segment is the area of a straight stroke, never without width.
func segment(a, b render.Point) Area {
	return Area{a, a}.join(Area{b, b}).Inset(-100 * render.UM)
}

// take adds marks that were drawn since.
func (o *Obstacles) take(items []render.Item) { obstaclesOf(items, o) }

// rings are where the clouds run: one for all changes that stand close together.
func (o *Obstacles) rings(changed []Area, inside Area) []Area {
	boxes := append([]Area(nil), changed...)
	known := map[Area]Area{} // rings by box: most stay when two become one
	for {
		boxes = Merge(boxes, func(a, b Area) bool {
			return a.Near(b, CloudNearX, cloudNearY) && !(o.rows && o.taken(a.join(b), a, b) > 0)
		})
		rings := make([]Area, len(boxes))
		for i, b := range boxes {
			ring, ok := known[b]
			if !ok {
				ring = o.ring(b, inside)
				known[b] = ring
			}
			rings[i] = ring
		}
		// Clouds that would cross become one.
		crossed := false
		for i := range rings {
			for j := range i {
				if !crossed && rings[i].Inset(-CloudBulge-cloudInk).Meets(rings[j].Inset(-CloudBulge)) {
					crossed = true
					boxes[j] = boxes[j].join(boxes[i])
					boxes = append(boxes[:i], boxes[i+1:]...)
				}
			}
			if crossed {
				break
			}
		}
		if !crossed {
			return rings
		}
	}
}

// Near reports whether areas are no further apart than that.
func (a Area) Near(b Area, x, y render.Len) bool {
	return Area{render.Point{X: a.Min.X - x, Y: a.Min.Y - y}, render.Point{X: a.Max.X + x, Y: a.Max.Y + y}}.Meets(b)
}

// Merge joins areas until none is near another.
func Merge(boxes []Area, near func(a, b Area) bool) []Area {
	var merged []Area
	for _, b := range boxes {
		for i := 0; i < len(merged); {
			if near(merged[i], b) {
				b = b.join(merged[i])
				merged = append(merged[:i], merged[i+1:]...)
				i = 0 // the larger area may be near others
				continue
			}
			i++
		}
		merged = append(merged, b)
	}
	return merged
}

// side is one side of a ring, by the way it moves out.
type side struct{ dx, dy render.Len }

// CloudSides are the sides of a cloud that its flag may stand on, by which corner and
// which way.
var CloudSides = [4]side{{0, -1}, {0, 1}, {-1, 0}, {1, 0}}

// ring moves the sides of a box out to where a cloud is clear.
func (o *Obstacles) ring(box, inside Area) Area {
	least := box.Inset(-cloudGap)
	ring := least
	for range 2 { // what one side has to clear depends on the others
		for _, s := range CloudSides {
			best, cost := ring, -1
			for d := render.Len(0); d <= cloudMost && cost != 0; d += cloudStep {
				try := s.move(ring, least, d)
				if c := o.cost(s.band(try)) + overText*o.taken(try, box, box); cost < 0 || c < cost {
					best, cost = try, c
				}
			}
			ring = best
		}
	}
	return Area{
		render.Point{X: max(ring.Min.X, inside.Min.X), Y: max(ring.Min.Y, inside.Min.Y)},
		render.Point{X: min(ring.Max.X, inside.Max.X), Y: min(ring.Max.Y, inside.Max.Y)},
	}
}

// taken counts the texts in an area that are in neither of two parts of it.
func (o *Obstacles) taken(all, a, b Area) (n int) {
	for _, t := range o.texts {
		mid := render.Point{X: (t.Min.X + t.Max.X) / 2, Y: (t.Min.Y + t.Max.Y) / 2}
		if all.Holds(mid) && !a.Holds(mid) && !b.Holds(mid) {
			n++
		}
	}
	return n
}

// move returns the ring with one side d further out than least has it.
func (s side) move(ring, least Area, d render.Len) Area {
	switch {
	case s.dy < 0:
		ring.Min.Y = least.Min.Y - d
	case s.dy > 0:
		ring.Max.Y = least.Max.Y + d
	case s.dx < 0:
		ring.Min.X = least.Min.X - d
	default:
		ring.Max.X = least.Max.X + d
	}
	return ring
}

// band is what the arcs of a side may ink.
func (s side) band(ring Area) Area {
	b := ring
	switch {
	case s.dy < 0:
		b.Min.Y, b.Max.Y = ring.Min.Y-CloudBulge, ring.Min.Y
	case s.dy > 0:
		b.Min.Y, b.Max.Y = ring.Max.Y, ring.Max.Y+CloudBulge
	case s.dx < 0:
		b.Min.X, b.Max.X = ring.Min.X-CloudBulge, ring.Min.X
	default:
		b.Min.X, b.Max.X = ring.Max.X, ring.Max.X+CloudBulge
	}
	return b.Inset(-cloudInk)
}

// cost is how bad a band for a side is; 0 is free of texts and of lines along it.
func (o *Obstacles) cost(band Area) int {
	cost := 0
	for _, t := range o.texts {
		if t.Meets(band) {
			cost += overText
		}
	}
	for _, b := range o.bodies {
		if b.Meets(band) {
			cost += overBody
		}
	}
	if o.rows { // arcs on a rule are better than a row more
		return cost
	}
	for _, all := range [][]Area{o.strokes, o.rules} {
		for _, s := range all {
			if s.Meets(band) && (s.W() < s.H()) == (band.W() < band.H()) {
				cost += alongStroke
			}
		}
	}
	return cost
}

// arcs draws a ring without the arcs that would run through lettering.
func (o *Obstacles) arcs(ring Area) (items []render.Item) {
	a, c := ring.Min, ring.Max
	b, d := render.Point{X: c.X, Y: a.Y}, render.Point{X: a.X, Y: c.Y}
	items = append(items, o.Side(a, b, CloudSides[0])...)
	items = append(items, o.Side(b, c, CloudSides[3])...)
	items = append(items, o.Side(c, d, CloudSides[1])...)
	return append(items, o.Side(d, a, CloudSides[2])...)
}

// Side draws the arcs from one corner to another, but for those that would run
// through lettering.
func (o *Obstacles) Side(from, to render.Point, s side) (items []render.Item) {
	long := max(to.X-from.X, from.X-to.X, to.Y-from.Y, from.Y-to.Y)
	n := max(1, (long+cloudChord/2)/cloudChord)
	at := func(i render.Len) render.Point {
		return render.Point{X: from.X + (to.X-from.X)*i/n, Y: from.Y + (to.Y-from.Y)*i/n}
	}
	out := func(p render.Point, h render.Len) render.Point { return render.Point{X: p.X + s.dx*h, Y: p.Y + s.dy*h} }
	for i := range n {
		p, q := at(i), at(i+1)
		ink := BoxOf(&render.Line{Points: []render.Point{p, q, out(p, CloudBulge), out(q, CloudBulge)}})
		if !meetsAny(o.texts, ink.Inset(-CloudPenHalf)) {
			// The top of a cubic lies at three quarters of its handles.
			items = append(items, &render.Curve{Pen: cloudPen, P: [4]render.Point{p, out(p, CloudBulge*4/3), out(q, CloudBulge*4/3), q}})
		}
	}
	return items
}

// CloudPenHalf is half the width of the pen, rounded up.
const CloudPenHalf = 200 * render.UM

func meetsAny(all []Area, a Area) bool {
	for _, b := range all {
		if b.Meets(a) {
			return true
		}
	}
	return false
}

// flag draws the triangle with the mark of the revision beside a ring, where
// nothing else stands or at least nothing but the rules of a table; where all is
// taken, further off and with a leader. On a page without such a place there is
// none.
func (o *Obstacles) flag(ring, inside Area) []render.Item {
	outer := ring.Inset(-CloudBulge)
	for _, overRules := range []bool{false, true} {
		for far := FlagGap; far <= FlagFar; far += flagStep {
			for _, at := range o.around(outer, far) {
				if o.free(at, inside, overRules) {
					return o.FlagAt(at)
				}
			}
		}
	}
	for far := FlagFar; far <= leaderMost; far += flagStep {
		for x := outer.Max.X; x >= outer.Min.X; x -= flagStep {
			above, below := outer.Min.Y-far, outer.Max.Y+far
			if f := o.led(render.Point{X: x - o.wide/2, Y: above - flagTall}, render.Point{X: x, Y: above}, render.Point{X: x, Y: ring.Min.Y}, inside); f != nil {
				return f
			}
			if f := o.led(render.Point{X: x - o.wide/2, Y: below}, render.Point{X: x, Y: below}, render.Point{X: x, Y: ring.Max.Y}, inside); f != nil {
				return f
			}
		}
		for y := outer.Min.Y; y <= outer.Max.Y; y += flagStep {
			right, left := outer.Max.X+far, outer.Min.X-far
			if f := o.led(render.Point{X: right, Y: y - flagTall}, render.Point{X: right, Y: y}, render.Point{X: ring.Max.X, Y: y}, inside); f != nil {
				return f
			}
			if f := o.led(render.Point{X: left - o.wide, Y: y - flagTall}, render.Point{X: left, Y: y}, render.Point{X: ring.Min.X, Y: y}, inside); f != nil {
				return f
			}
		}
	}
	return nil
}

// around are places for a triangle at a distance from a ring: at the upper right
// corner first, then along the top, then elsewhere.
func (o *Obstacles) around(ring Area, far render.Len) (all []render.Point) {
	a := Area{render.Point{X: ring.Min.X - far - o.wide, Y: ring.Min.Y - far - flagTall}, render.Point{X: ring.Max.X + far, Y: ring.Max.Y + far}}
	for x := a.Max.X; x >= a.Min.X; x -= flagStep {
		all = append(all, render.Point{X: x, Y: a.Min.Y})
	}
	for y := a.Min.Y; y <= a.Max.Y; y += flagStep {
		all = append(all, render.Point{X: a.Max.X, Y: y}, render.Point{X: a.Min.X, Y: y})
	}
	for x := a.Max.X; x >= a.Min.X; x -= flagStep {
		all = append(all, render.Point{X: x, Y: a.Max.Y})
	}
	return all
}

// led draws a triangle at a place with a leader between two points, if both are
// clear of lettering.
func (o *Obstacles) led(at, from, to render.Point, inside Area) []render.Item {
	if !o.free(at, inside, false) || meetsAny(o.texts, segment(from, to).Inset(-CloudPenHalf)) {
		return nil
	}
	return append(o.FlagAt(at), Stroke(render.Thin, from.X, from.Y, to.X, to.Y))
}

// free reports whether a triangle finds room with its upper left corner at a place.
func (o *Obstacles) free(at render.Point, inside Area, overRules bool) bool {
	a := Rect(at.X, at.Y, o.wide, flagTall)
	if a.Min.X < inside.Min.X || a.Min.Y < inside.Min.Y || a.Max.X > inside.Max.X || a.Max.Y > inside.Max.Y {
		return false
	}
	ruled := a.Inset(-FlagGap / 2)
	a = ruled
	if overRules { // but not through its letter
		ruled = Rect(at.X+(o.wide-o.markRoom())/2, at.Y+flagTall-flagFoot-Lettered, o.markRoom(), Lettered+flagFoot)
	}
	return !meetsAny(o.texts, a) && !meetsAny(o.strokes, a) && !meetsAny(o.bodies, a) && !meetsAny(o.rules, ruled)
}

// FlagAt are the marks of a flag that stands at a place.
func (o *Obstacles) FlagAt(at render.Point) []render.Item {
	mid, foot := at.X+o.wide/2, at.Y+flagTall
	items := []render.Item{&render.Line{Pen: cloudPen, Closed: true, Fill: render.Blank, Points: []render.Point{{X: mid, Y: at.Y}, {X: at.X + o.wide, Y: foot}, {X: at.X, Y: foot}}}}
	t, _ := TextLine(render.Point{X: mid, Y: foot - flagFoot}, Letters(fonts.MonoBold, Lettered, render.Middle), o.mark, o.markRoom()) // a mark of any length fits
	return append(items, t)
}
