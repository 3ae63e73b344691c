package loop

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
)

// broken tells, on a draft, which circuits could not be drawn.
func (d *loopSheet) broken() {
	y := d.s.Inner.Min.Y + headBand + 6*render.MM
	if n := len(d.lp.tiers); n > 0 {
		all := d.lp.tiers[n-1].blocks
		b := all[len(all)-1]
		y = b.top + b.height + 5*render.MM
	}
	for _, c := range d.s.Loop.Circuits {
		if c.Broken && y < d.lp.foot-tableHeight(d.lp.devices) {
			d.text(d.s.Inner.Min.X+4*render.MM, y, paper.Letters(fonts.Bold, paper.LargeHeight, render.Left), "NOT DRAWN: circuit "+c.Name+" has errors", 200*render.MM)
			y += 6 * render.MM
		}
	}
}

// loopSheet draws one sheet of a loop.
type loopSheet struct {
	symbol.Brush
	pl       *sheet.Plan
	s        *sheet.Sheet
	lp       *loopPlan
	t        *tier // that is drawn
	page     *render.Page
	problems finding.Findings
	ids      map[string]int
	links    []render.Item // from the tags of cables to the sheets that they are rung out by
}

// Draw draws one sheet of a loop.
func (lp *loopPlan) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, border, problems := pl.Page(s)
	d := &loopSheet{Brush: symbol.Brush{Items: &page.Items}, pl: pl, s: s, lp: lp, page: page, problems: problems, ids: map[string]int{}}
	for _, t := range d.lp.tiers {
		if t.tight {
			d.problems = append(d.problems, finding.At(s.Loop.Pos, finding.SheetTooNarrow, "loop %s has more stations in a row than fit %s paper", s.Loop.Tag, s.Paper.Name))
		}
		d.t = t
		d.headings()
		for _, b := range t.blocks {
			d.block(b)
		}
		d.functions()
	}
	if len(d.lp.devices) > 0 {
		t := deviceTable()
		t.Stretch(s.Inner.W())
		t.Rows = d.lp.devices
		all := paper.Span{From: 0, To: len(t.Rows)}
		d.table(t, all, d.lp.foot-t.Height(all))
	}
	d.readings(d.lp.foot - tableHeight(d.lp.devices))
	d.flags()
	d.notes()
	d.key(border.Notes)
	d.broken()
	d.Add(d.links...)
	return page, d.problems
}

// table draws a table over the width of the sheet, its top at y.
func (d *loopSheet) table(t *paper.Table, some paper.Span, y render.Len) {
	items, unfit := t.Draw(render.Point{X: d.s.Inner.Min.X, Y: y}, some)
	d.Add(items...)
	for _, u := range unfit {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, u))
	}
}

// notes draws the notes that stand on this sheet, at its foot.
func (d *loopSheet) notes() {
	if d.lp.notes == nil {
		return
	}
	in := d.s.Inner
	y := in.Max.Y - d.lp.notes.Height(d.lp.some)
	if d.lp.some.From > 0 {
		y = in.Min.Y
	}
	d.table(d.lp.notes, d.lp.some, y)
	if d.lp.more != nil {
		d.text(in.Max.X-render.MM, y+3500, paper.Letters(fonts.Bold, paper.Lettered, render.Right), fmt.Sprintf("cont. sheet %d", d.lp.more.No), 60*render.MM)
	}
}

// group draws what f draws into a group of its own.
func (d *loopSheet) group(id string, data []render.Datum, f func()) {
	g := &render.Group{ID: sheet.Unique(d.ids, sheet.PlainName(id)), Data: data}
	outer := d.Items
	d.Items = &g.Items
	f()
	d.Items = outer
	d.Add(g)
}

// text sets one line of lettering, fitted to width, and returns it; nil for no words.
func (d *loopSheet) text(x, y render.Len, l paper.Lettering, s string, width render.Len) *render.Text {
	t, ok := paper.TextLine(render.Point{X: x, Y: y}, l, s, width)
	if t != nil {
		d.Add(t)
	}
	if !ok {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, s))
	}
	return t
}

// leadTo makes a text, nil for none, lead to the sheet that a cable is rung out by.
func (d *loopSheet) leadTo(t *render.Text, c *model.Cable) {
	if ref, ok := d.pl.Ref(sheet.RingOut, c); ok && t != nil {
		least, most := render.Box(t)
		d.links = append(d.links, &render.Link{Min: least, Max: most, Page: ref.Sheet.Name})
	}
}

// tag sets a tag on one line fitted to width, or on two of the least height where it
// is too long for one, and returns how many.
func (d *loopSheet) tag(x, y render.Len, align render.Align, tag string, width render.Len) int {
	lines, height := tagLines(fonts.MonoBold, tag, width), render.Len(paper.PlainHeight)
	if len(lines) > 1 {
		height = paper.Heights[0]
	}
	for i, s := range lines {
		d.text(x, y+render.Len(i)*paper.Pitch(height), paper.Letters(fonts.MonoBold, height, align), s, width)
	}
	return len(lines)
}

// tagLines are a tag on one line, or on more where it is too long for one.
func tagLines(face fonts.Face, tag string, width render.Len) []string {
	if paper.OneLine(face, paper.Heights[0], tag, width) {
		return []string{tag}
	}
	return paper.TwoLines(face, tag, width)
}

// headings draws the name of each place over its columns, and its walls.
func (d *loopSheet) headings() {
	t := d.t
	top := t.top
	for i, b := range t.bands {
		x0, x1 := t.reach(b)
		mid, width := t.heading(i, d.s.Inner)
		if b.place != nil && i+1 == len(t.bands) && functional(t.segments) {
			x1 += t.widths().funct
		}
		if b.place == nil {
			d.text(mid, top+5*render.MM, paper.Letters(fonts.MonoBold, paper.LargeHeight, render.Middle), "FIELD", width)
			l := d.s.Loop
			words := "P&ID " + l.Ref
			if l.Ref == "" {
				words = "P&ID " + paper.NotGiven
			}
			if l.Area != "" {
				words += ", area " + l.Area
			}
			d.lines(paper.Area{Min: render.Point{X: mid - width/2, Y: top + 6*render.MM}, Max: render.Point{X: mid + width/2, Y: top + t.head - 2500*render.UM}}, render.Middle, words)
			continue
		}
		words := b.place.At
		if words == "" {
			words = paper.NotGiven
		}
		d.heading(paper.Area{Min: render.Point{X: mid - width/2, Y: top + 800}, Max: render.Point{X: mid + width/2, Y: top + 5700}}, b.place.Tag)
		d.lines(paper.Area{Min: render.Point{X: mid - width/2, Y: top + 6*render.MM}, Max: render.Point{X: mid + width/2, Y: top + t.head - 2500*render.UM}}, render.Middle, words)
		d.wall(b, x0, x1)
		if ref, ok := d.placeRef(b.place); ok && width > 0 { // less where the place stands off the paper
			d.Add(&render.Link{Min: render.Point{X: mid - width/2, Y: top + 1*render.MM}, Max: render.Point{X: mid + width/2, Y: top + 6*render.MM}, Page: ref.Sheet.Name})
		}
	}
}

// functionsReach draws the functions of a tier to see how far down they reach.
func (lp *loopPlan) functionsReach(pl *sheet.Plan, s *sheet.Sheet, t *tier) render.Len {
	d := &loopSheet{pl: pl, s: s, lp: lp, t: t, Brush: symbol.Brush{Items: new([]render.Item)}, ids: map[string]int{}}
	return d.functions()
}

// wall draws the wall of a place round the circuits that come there. Where it
// stands apart from its heading, the tag is written again.
func (d *loopSheet) wall(b band, x0, x1 render.Len) {
	t := d.t
	for i := 0; i < len(t.blocks); {
		if !t.uses(t.blocks[i], b) {
			i++
			continue
		}
		first := i
		for i < len(t.blocks) && t.uses(t.blocks[i], b) {
			i++
		}
		y0, last := t.blocks[first].top-2*render.MM, t.blocks[i-1]
		if first > 0 {
			y0 += 3 * render.MM
			_, east := t.reach(b) // functions stand further right
			width := east - x0 - render.MM
			d.tag((x0+east)/2, y0+3500, render.Middle, b.place.Tag, width)
		}
		y1 := last.top + last.height
		if i < len(t.blocks) {
			y1 -= render.MM
		} else if b == t.bands[len(t.bands)-1] { // functions may reach further down
			y1 = max(y1, min(d.lp.functionsReach(d.pl, d.s, t), d.lp.tablesTop()-render.MM))
		}
		d.Add(paper.Outline(render.Boundary, render.Hollow, paper.Area{Min: render.Point{X: x0, Y: y0}, Max: render.Point{X: x1, Y: y1}}))
	}
}

// heading sets the tag of a place: on one line, or on two.
func (d *loopSheet) heading(a paper.Area, tag string) {
	if paper.OneLine(fonts.MonoBold, paper.Heights[0], tag, a.W()) {
		d.text((a.Min.X+a.Max.X)/2, a.Max.Y-700, paper.Letters(fonts.MonoBold, paper.LargeHeight, render.Middle), tag, a.W())
		return
	}
	items, ok := paper.FitText(a, fonts.MonoBold, paper.Heights[0], render.Middle, tag)
	d.Add(items...)
	if !ok {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, tag))
	}
}

// lines sets words into an area, wrapped, from the top.
func (d *loopSheet) lines(a paper.Area, align render.Align, words string) {
	items, ok := paper.FitText(a, fonts.Sans, paper.PlainHeight, align, words)
	d.Add(items...)
	if !ok {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, words))
	}
}

func (d *loopSheet) placeRef(p *model.Place) (sheet.Ref, bool) {
	for _, k := range []string{sheet.Box, sheet.Cabinet} {
		if r, ok := d.pl.Ref(k, p); ok {
			return r, true
		}
	}
	return sheet.Ref{}, false
}

func (d *loopSheet) terminalRef(t *model.Terminal) (sheet.Ref, bool) {
	for _, k := range []string{sheet.Box, sheet.Cabinet} {
		if r, ok := d.pl.Ref(k, t); ok {
			return r, true
		}
	}
	return sheet.Ref{}, false
}

// block draws one circuit.
func (d *loopSheet) block(b *block) {
	c := b.circuit
	data := []render.Datum{{Key: "loop", Value: c.Loop.Tag}, {Key: "circuit", Value: c.Name}}
	d.group("circuit-"+c.Name, data, func() {
		d.title(b)
		d.path(b, b.path, nil)
		for _, w := range b.wired(d.pl.Plant) {
			d.conductor(b, w)
		}
		d.goesOn(b)
	})
	if b.first {
		if dev := b.device(); dev != nil {
			d.group("device-drawing-"+dev.Tag, []render.Datum{{Key: "device", Value: dev.Tag}}, func() { d.device(b) })
		}
	}
}

// title writes the name of a circuit over it, free of the walls. A device's
// second circuit has it beside the device.
func (d *loopSheet) title(b *block) {
	x, y := d.s.Inner.Min.X+render.MM, b.top+3*render.MM
	words := b.words()
	st := b.path.Stations[0]
	if !b.first && b.device() != nil {
		x = d.t.cols.at[st].east() + 2*render.MM
	}
	width, lines := min(70*render.MM, d.toWallTag(b, x)), []string{words}
	if !paper.OneLine(fonts.Bold, paper.Heights[0], words, width) {
		lines = paper.TwoLines(fonts.Bold, words, width)
	}
	for i, s := range lines {
		t, ok := paper.TextLine(render.Point{X: x, Y: y + render.Len(i)*paper.Pitch(paper.PlainHeight)}, paper.Letters(fonts.Bold, paper.PlainHeight, render.Left), s, width)
		if !ok {
			d.problems = append(d.problems, d.pl.TextTooLong(d.s, s))
		}
		if x > d.s.Inner.Min.X+render.MM || st.Part.Place != nil {
			least, most := render.Box(t)
			d.Add(paper.Outline(render.None, render.Blank, paper.Area{Min: least, Max: most}.Inset(-render.MM/2)))
		}
		d.Add(t)
	}
}

// toWallTag is how much room a title has to the right of x, short of the tag of a place whose
// wall begins over the block.
func (d *loopSheet) toWallTag(b *block, x render.Len) render.Len {
	n := slices.Index(d.t.blocks, b)
	room := d.s.Inner.Max.X - x
	for _, band := range d.t.bands {
		if band.place == nil || n < 1 || !d.t.uses(b, band) || d.t.uses(d.t.blocks[n-1], band) {
			continue
		}
		if x0, _ := d.t.reach(band); x0 > x {
			room = min(room, x0-x-render.MM)
		}
	}
	return room
}

// signalWords is what a circuit carries, and what those who touch it have to
// know.
func signalWords(c *model.Circuit) string {
	s := c.Feeder()
	switch {
	case c.IntrinsicallySafe():
		return c.Signal.String() + ", intrinsically safe"
	case s != nil && (c.Signal.Powers() || s.Dangerous()):
		return s.Gives()
	}
	return c.Signal.String()
}

// path draws the stations and the labels of the runs of a path.
func (d *loopSheet) path(b *block, path *model.Path, from *model.Station) {
	runs := path.Runs
	for i, st := range path.Stations {
		if from != nil {
			d.run(b, drawnRun{runs[0], path, from, st})
			runs = runs[1:]
		}
		d.station(b, path, st, from == nil && b.prev == nil, i == len(path.Stations)-1 && len(path.Tails) == 0 && b.goes != st)
		from = st
	}
	for _, t := range path.Tails {
		d.path(b, t, from)
	}
}
