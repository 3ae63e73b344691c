package enclosure

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// fan is a cable with the rows that its cores land on, next to one another.
type fan struct {
	cable       *model.Cable
	first, last int
}

// fans calls f for each fan of one side, and with how far the tag of its cable may
// reach.
func (st *stretch) fans(side int, f func(fan, paper.ColumnSpan)) {
	const apart = 100 * render.UM // of two tags, from the middle between their rows
	var all []fan
	goes := false // on from the row before
	for i := st.From; i < st.To; i++ {
		l := st.rows[i].sides[side]
		switch n := len(all); {
		case l == nil:
		case l.c.Core == nil:
			goes = false
		case goes && all[n-1].cable == l.c.Core.Cable:
			all[n-1].last = i
		default:
			all, goes = append(all, fan{l.c.Core.Cable, i, i}), true
		}
	}
	for i, n := range all {
		room := paper.ColumnSpan{Min: st.at + plateHeight - 1800*render.UM, Max: st.y(st.To) - st.grid.leg/2 + partGap - render.MM}
		if i > 0 {
			room.Min = (st.y(all[i-1].last)+st.y(n.first))/2 + apart
		}
		if i+1 < len(all) {
			room.Max = (st.y(n.last)+st.y(all[i+1].first))/2 - apart
		}
		f(n, room)
	}
}

// fan draws a cable whose cores land on the rows first to last: its tag, its
// sheath and the bar from which its cores spread. The tag is higher than its
// rows where its words ask for that and room allows.
func (d *placeDrawing) fan(st *stretch, side int, f fan, room paper.ColumnSpan) {
	const (
		lead   = 1200 * render.UM // of the bar beyond its cores
		narrow = 2000 * render.UM // half the height of the tag of one core
		most   = 20 * render.MM
	)
	g := d.grid
	c, first, last := f.cable, f.first, f.last
	top, low := st.y(first), st.y(last)
	bar := g.edge(side, g.span(side, fanColumn).Max-fanInset)
	cell := g.cell(side, tagColumn)
	mid := (top + low) / 2
	words := d.tagWords(c)
	words.safe = slices.ContainsFunc(st.rows[first:last+1], func(r placeRow) bool {
		return r.sides[side] != nil && r.sides[side].safe
	})
	half := min(max((low-top)/2+narrow, narrow), most/2)
	plain, _ := tagStack(words.plain())
	half = max(half, min(plain.Roomy(1400*render.UM)/2, mid-room.Min, room.Max-mid))
	tag := paper.Area{Min: render.Point{X: cell.Min, Y: mid - half}, Max: render.Point{X: cell.Max, Y: mid + half}}
	sheath := map[model.Status]render.Pen{model.New: render.Frame, model.Existing: render.Outline, model.Future: render.Future}[c.Status]
	d.group("cable-"+c.Tag, []render.Datum{{Key: "cable", Value: c.Tag}}, func() {
		d.add(paper.Outline(render.Outline, render.Blank, tag),
			paper.Stroke(sheath, bar, mid, g.edge(side, g.span(side, tagColumn).Min), mid))
		if first == last {
			d.add(paper.Stroke(sheath, bar, top-lead, bar, low+lead))
		} else {
			d.add(paper.Stroke(sheath, bar, top, bar, low))
		}
		d.tagLines(words, tag)
	})
	if ref, ok := d.farRef(c); ok {
		d.add(&render.Link{Min: tag.Min, Max: tag.Max, Page: ref.Sheet.Name})
	}
}

// tagWords are the words of a cable's tag.
type tagWords struct {
	tag, far, ref string
	made, length  string // size and state, length and gland
	ring, typed   string // where it is rung out, its type
	safe          bool   // has intrinsically safe cores
}

func (d *placeDrawing) tagWords(c *model.Cable) tagWords {
	w := tagWords{tag: c.Tag, far: "to " + d.farEnd(c).Tag(), typed: "type " + c.Type.Name}
	if ref, ok := d.farRef(c); ok {
		w.ref = "  " + ref.String()
	}
	w.made, w.length = wording.CableMakeUp(c)+", "+c.Status.String(), wording.Joined(wording.CableLength(c), d.gland(c))
	if ref, ok := d.pl.Ref(sheet.RingOut, c); ok {
		w.ring = fmt.Sprintf("rung out: sheet %d", ref.Sheet.No)
	}
	w.typed = wording.Joined(w.typed, sheath(c))
	return w
}

// sheath names the colour of a cable's sheath; "" where it is not given.
func sheath(c *model.Cable) string {
	if c.Type.Sheath == "" {
		return ""
	}
	return c.Type.Sheath + " sheath"
}

// tagLine is a line of a cable's tag.
type tagLine struct {
	words string
	small bool
}

// Room round the tag of a cable.
const (
	tagMargin = 450 * render.UM // above and below the lines of a tag
	SafeRoom  = 5 * render.MM   // for the mark of intrinsic safety
)

// lines are the first two lines of a tag and then others, small or not. Those
// that are empty are left out.
func (w tagWords) lines(small bool, more ...string) []tagLine {
	all := []tagLine{{w.tag, false}, {w.far + w.ref, false}}
	for _, s := range more {
		if s != "" {
			all = append(all, tagLine{s, small})
		}
	}
	return all
}

func (w tagWords) plain() []tagLine { return w.lines(false, w.made, w.length, w.ring) }

// line is how a line is lettered, the i-th of its tag.
func (l tagLine) line(i int) paper.InkLine {
	switch {
	case i == 0:
		return paper.InkLine{Face: fonts.Bold, Height: paper.Lettered, S: l.words}
	case l.small:
		return paper.InkLine{Face: fonts.Sans, Height: paper.Heights[0], S: l.words}
	}
	return paper.InkLine{Face: fonts.Sans, Height: paper.Lettered, S: l.words}
}

// tagStack is what the lines of a tag take of its height, and how far the baseline
// of each is below the first.
func tagStack(lines []tagLine) (s paper.Stack, down []render.Len) {
	down = make([]render.Len, len(lines))
	for i, l := range lines[1:] {
		usual := 3400 * render.UM
		if l.small {
			usual = 2600
		}
		down[i+1] = down[i] + paper.Apart(usual, lines[i].line(i), l.line(i+1))
	}
	last := len(lines) - 1
	s.First, s.Tall = paper.Lettered, paper.Lettered+down[last]
	s.Above, _ = lines[0].line(0).Reach()
	_, s.Below = lines[last].line(last).Reach()
	return s, down
}

// tagLines writes on a cable's tag as much as it holds: all in full, else what
// is not its tag and far end small, else on fewer lines. The table of cables has
// it all.
func (d *placeDrawing) tagLines(w tagWords, a paper.Area) {
	width := a.W() - 2*cellSide
	fit := func(s string) bool { return paper.OneLine(fonts.Sans, paper.Heights[0], s, width) }
	if !fit(w.far + w.ref) {
		w.ref = "" // the tag is a link too
	}
	for _, s := range []*string{&w.made, &w.length, &w.ring, &w.typed} {
		if !fit(*s) {
			*s = ""
		}
	}
	first := width
	if w.safe {
		first -= SafeRoom
	}
	short := []tagLine{{w.tag, false}}
	if paper.OneLine(fonts.Bold, paper.Heights[0], w.tag+"  "+w.far+w.ref, first) {
		short[0].words += "  " + w.far + w.ref
	} else if paper.OneLine(fonts.Bold, paper.Heights[0], w.tag+"  "+w.far, first) {
		short[0].words += "  " + w.far
	}
	facts := wording.Joined(w.made, w.length)
	ways := [][]tagLine{
		w.lines(false, w.made, w.length, w.ring, w.typed), w.plain(),
		w.lines(true, w.made, w.length, w.ring), w.lines(true, facts, w.ring),
		w.lines(false, w.made, w.length), w.lines(true, facts),
		append(slices.Clone(short), tagLine{facts, true}),
		w.lines(false, w.made), w.lines(false), short,
	}
	fits := func(lines []tagLine) bool {
		for _, l := range lines[1:] {
			if !fit(l.words) {
				return false
			}
		}
		s, _ := tagStack(lines)
		return s.Roomy(2*tagMargin) <= a.H()
	}
	lines := short
	if i := slices.IndexFunc(ways, fits); i >= 0 {
		lines = ways[i]
	}
	stands, down := tagStack(lines)
	y := stands.Baseline(paper.Area{Min: render.Point{Y: a.Min.Y + paper.ClearOfRule}, Max: render.Point{Y: a.Max.Y - paper.ClearOfRule}})
	d.text(a.Min.X+cellSide, y, paper.Letters(fonts.Bold, paper.Lettered, render.Left), lines[0].words, first)
	for i, l := range lines[1:] {
		if t, _ := paper.TextLine(render.Point{X: a.Min.X + cellSide, Y: y + down[i+1]}, paper.Letters(fonts.Sans, l.line(i+1).Height, render.Left), l.words, width); t != nil {
			d.add(t)
		}
	}
	if w.safe {
		d.text(a.Max.X-cellSide, y, paper.Letters(fonts.Bold, paper.Lettered, render.Right), SafeMark, SafeRoom)
	}
}

// hereEnd and farEnd are the ends of a cable as seen from the place.
func (v *PlaceView) hereEnd(c *model.Cable) model.CableEnd {
	if c.To.Place == v.place {
		return c.To
	}
	return c.From
}

func (v *PlaceView) farEnd(c *model.Cable) model.CableEnd {
	if c.To.Place == v.place {
		return c.From
	}
	return c.To
}

// gland is the gland of a cable in this place: its own, or that of its type.
func (v *PlaceView) gland(c *model.Cable) string {
	if g := v.hereEnd(c).Gland; g != "" {
		return g
	}
	return c.Type.Gland
}

// farRef is where the place at the far end of a cable is drawn.
func (d *placeDrawing) farRef(c *model.Cable) (sheet.Ref, bool) {
	p := d.farEnd(c).Place
	if p == nil {
		return sheet.Ref{}, false
	}
	kind := sheet.Cabinet
	if p.Kind == model.Box {
		kind = sheet.Box
	}
	if ref, ok := d.pl.Ref(kind, sheet.CableAt{Cable: c, Place: p}); ok {
		return ref, true
	}
	return d.pl.Ref(kind, p)
}
