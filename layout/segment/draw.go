package segment

import (
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/trunk"
	"ringout/render"
)

// drawing is a sheet of a segment while it is drawn.
type drawing struct {
	symbol.Brush
	*segmentSheet
	pl       *sheet.Plan
	s        *sheet.Sheet
	ids      map[string]int
	problems finding.Findings
}

// Draw draws one sheet of a segment.
func (p *segmentSheet) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, border, problems := pl.Page(s)
	d := &drawing{symbol.Brush{Items: &page.Items}, p, pl, s, map[string]int{}, problems}
	if s.Loop.Plugged() && s.Part == 1 {
		d.link()
	}
	for i := range p.tiers {
		before := p.before
		if i > 0 {
			before = &p.tiers[i-1]
		}
		next := "row"
		if i+1 == len(p.tiers) {
			if next = ""; p.after {
				next = "sheet"
			}
		}
		d.tier(&p.tiers[i], before, next)
	}
	if p.pieces != nil {
		d.tables()
	}
	d.key(border.Notes)
	return page, d.problems
}

// tables draws the tables that stand on this sheet.
func (d *drawing) tables() {
	in := d.s.Inner
	sections, cut := tables(d.pl, d.s.Loop, in.W())
	in.Min.Y += d.at
	items, _, unfit := paper.DrawForm(in, sections, d.pieces)
	d.Add(items...)
	if d.s.Part == 1 {
		unfit = append(unfit, cut...)
	}
	for _, u := range unfit {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, u))
	}
}

// text sets one line that has to fit a width.
func (d *drawing) text(x, y render.Len, l paper.Lettering, s string, width render.Len) {
	t, ok := paper.TextLine(render.Point{X: x, Y: y}, l, s, width)
	if t != nil {
		d.Add(t)
	}
	if !ok {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, s))
	}
}

// group draws what f draws as one named group.
func (d *drawing) group(key, tag string, f func()) {
	g := &render.Group{ID: sheet.Unique(d.ids, sheet.PlainName(key+"-"+tag)), Data: []render.Datum{{Key: key, Value: tag}}}
	outer := d.Items
	d.Items = &g.Items
	f()
	d.Items = outer
	d.Add(g)
}

// tier draws a row of the diagram. before is the row that the trunk comes from, nil for
// the first; next is where it goes on, the next row or sheet, "" for the last.
func (d *drawing) tier(t *tier, before *tier, next string) {
	y := d.s.Inner.Min.Y + t.top + headTall + jointMid
	x := d.s.Inner.Min.X + sideWide
	last := -1
	if before != nil {
		last = before.cells[len(before.cells)-1].joint
	}
	for i := 0; i < len(t.cells); {
		n := t.cells[i].joint
		to := i
		for to < len(t.cells) && t.cells[to].joint == n {
			to++
		}
		if n != last && last >= 0 {
			d.trunk(x, y, d.pair.Trunk[last], d.pair.Trunk[n])
			x += gapWide
		}
		d.joint(x, y, t.cells[i:to], n == last)
		x += render.Len(to-i) * cellWide
		last, i = n, to
	}
	if next != "" {
		d.text(x+2*render.MM, y+paper.Lettered/2, paper.Letters(fonts.Bold, paper.Lettered, render.Left), "continued: next "+next, gapWide-4*render.MM)
	}
}

// trunk draws a section of the trunk between two joints, with its cable.
func (d *drawing) trunk(x, y render.Len, a, b *trunk.Joint) {
	w := b.By
	if b.From != a {
		w = a.By
	}
	c := w.Core.Cable
	d.group("cable", c.Tag, func() {
		d.Line(sheet.StatusPen[w.Status], x, y, x+gapWide, y)
		d.text(x+gapWide/2, y-1500*render.UM, paper.Letters(fonts.Mono, paper.Lettered, render.Middle), cableTag(w), gapWide-2*render.MM)
		d.text(x+gapWide/2, y+4*render.MM, paper.Letters(fonts.Sans, paper.Lettered, render.Middle), lengthWords(c), gapWide-2*render.MM)
	})
}

// cableTag is the tag of the cable of a conductor, with the mark of an intrinsically safe
// one.
func cableTag(w *model.Conductor) string {
	if w.IntrinsicallySafe() {
		return w.Core.Cable.Tag + ", IS"
	}
	return w.Core.Cable.Tag
}

// lengthWords are the length of a cable and its type for a bus.
func lengthWords(c *model.Cable) string {
	s := paper.NotGiven
	if c.Length > 0 {
		s = c.LengthWords()
	}
	if c.Type.Bus != "" {
		s += ", type " + c.Type.Bus
	}
	return s
}

// joint draws a joint of the trunk with all that hangs there.
func (d *drawing) joint(x, y render.Len, cells []cell, again bool) {
	j := d.pair.Trunk[cells[0].joint]
	wide := render.Len(len(cells)) * cellWide
	box := paper.Rect(x, y-jointMid, wide, 2*jointMid)
	d.boxed(box, jointLines(j, d.s.Loop.Segment.Bias, wide-2*render.MM), again)
	var ended []string
	for _, t := range d.s.Loop.Segment.Terminators {
		if d.pair.At(t.At) == j && !again {
			ended = append(ended, t.Tag())
		}
	}
	if len(ended) > 0 {
		room := wide - cellWide/2
		if len(cells) == 1 { // over the section of the trunk beside it
			room += gapWide
		}
		d.terminator(x+cellWide/2, y-jointMid, ended, room-2*render.MM)
	}
	for i, c := range cells {
		if c.spur != nil {
			d.spur(x+render.Len(i)*cellWide, y+jointMid, c.spur)
		}
	}
}

// boxed draws lines of words in a box; again tells that it was drawn before.
func (d *drawing) boxed(box paper.Area, lines []line, again bool) {
	pen := render.Outline
	d.Add(paper.Outline(pen, render.Hollow, box))
	if again {
		lines = append([]line{{words: lines[0].words, bold: true, tag: true}}, line{words: "continued"})
	}
	y := (box.Min.Y+box.Max.Y)/2 - render.Len(len(lines))*lineTall/2 + (lineTall+paper.Lettered)/2
	for i, l := range lines {
		d.text((box.Min.X+box.Max.X)/2, y+render.Len(i)*lineTall, paper.Letters(l.face(), paper.Lettered, render.Middle), l.words, box.W()-2*render.MM)
	}
}

func (l line) face() fonts.Face {
	switch {
	case l.tag && l.bold:
		return fonts.MonoBold
	case l.tag:
		return fonts.Mono
	}
	return fonts.Sans
}

// The measures of the sign of a terminator: a resistor, upright, on the box that it is in.
const (
	resistorTall = 6 * render.MM
	resistorWide = 2500 * render.UM
	leadTall     = 3 * render.MM
)

// resistor draws the sign of a terminator that stands on a point.
func (d *drawing) resistor(x, y render.Len) {
	d.Line(render.Existing, x, y, x, y-leadTall)
	d.Add(paper.Outline(render.Outline, render.Hollow, paper.Rect(x-resistorWide/2, y-leadTall-resistorTall, resistorWide, resistorTall)))
}

// terminator draws what is fitted at a joint, above it: one, where all is right. Its words
// reach as far right as there is room.
func (d *drawing) terminator(x, y render.Len, at []string, room render.Len) {
	d.resistor(x, y)
	words := "terminator " + terminator(d.s.Loop.Segment.Kind)
	if len(at) > 1 {
		words = fmt.Sprintf("%d × %s", len(at), words)
	}
	const aside = resistorWide + render.MM
	mid := y - leadTall - resistorTall/2 + 3*render.MM
	lines := append([]string{words}, fitted(fonts.Sans, strings.Join(at, ", "), room-aside)...)
	for i, s := range lines {
		up := render.Len(len(lines)-1-i) * 3500 * render.UM
		d.text(x+aside, mid-up, paper.Letters(fonts.Sans, paper.Lettered, render.Left), s, room-aside)
	}
}

// spur draws a spur that hangs down from a joint.
func (d *drawing) spur(x, y render.Len, s *trunk.Spur) {
	w := s.Joints[0].By
	if s.At.From != nil && s.Joints[0] == s.At.From {
		w = s.At.By
	}
	mid := x + dropAt
	lines := spurLines(d.pl.Plant, d.pair, s, mostLines(d.s.Inner.H()))
	box := paper.Rect(x+2*render.MM, y+dropTall, cellWide-4*render.MM, render.Len(len(lines))*lineTall+2*render.MM)
	c := w.Core.Cable
	d.group("cable", c.Tag, func() {
		d.Line(sheet.StatusPen[w.Status], mid, y, mid, box.Min.Y)
		room := cellWide - dropAt - 3*render.MM
		d.text(mid+1500*render.UM, y+4500*render.UM, paper.Letters(fonts.Mono, paper.Heights[0], render.Left), otherEndOf(w, s), room)
		d.text(mid+1500*render.UM, y+9*render.MM, paper.Letters(fonts.Mono, paper.Lettered, render.Left), cableTag(w), room)
		d.text(mid+1500*render.UM, y+13500*render.UM, paper.Letters(fonts.Sans, paper.Lettered, render.Left), lengthWords(c), room)
	})
	d.boxed(box, lines, false)
}

// otherEndOf are the terminals of the trunk that a spur is landed on.
func otherEndOf(w *model.Conductor, s *trunk.Spur) string {
	if c, n := s.Joints[0].Outlet(); c != nil && c.Coupler.Limit > 0 {
		return fmt.Sprintf("%s spur %d, %s", c.Name(), n, wording.SpurLimit(c))
	} else if c != nil {
		return fmt.Sprintf("%s spur %d", c.Name(), n)
	}
	words := ""
	for _, o := range []*model.Terminal{w.From.Terminal, w.To.Terminal} {
		for _, p := range s.At.Parts {
			if o.Part == p && words == "" {
				words = fmt.Sprintf("from %s:%s", p.Name(), o.Name)
			}
		}
	}
	return words
}
