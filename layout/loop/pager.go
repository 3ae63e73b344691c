package loop

import (
	"fmt"
	"slices"

	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
)

// This file lays the circuits of a loop on sheets.

// loopPager lays the circuits of a loop on sheets.
type loopPager struct {
	pl      *sheet.Plan
	drawing *sheet.Drawing
	loop    *model.Loop
	sheets  []*sheet.Sheet
	plans   []*loopPlan // of the sheets
	lp      *loopPlan   // of the last sheet
	in      paper.Area
	y       render.Len  // where the next block goes
	late    []reading   // that found no room beside their circuits
	rows    []paper.Row // of devices that found none
	notes   *paper.Table
	spans   []paper.Span // of the notes on a sheet each
}

// turn begins the next sheet.
func (g *loopPager) turn() {
	s := g.drawing.Sheet(g.pl)
	g.lp = &loopPlan{foot: s.Inner.Max.Y}
	s.Planned = g.lp
	if lines := noteLines(g.pl.Plant, g.loop); len(g.sheets) == 0 && !notesFit(g.pl.Plant, lines, g.pl.Frame(s).Notes) {
		g.notes = notesTable(lines, s.Inner.W())
		g.spans = g.notes.Plan(mostNotes, s.Inner.H())
		g.lp.notes, g.lp.some = g.notes, g.spans[0]
		g.lp.foot -= g.notes.Height(g.spans[0]) + 2*render.MM
	}
	g.sheets, g.plans = append(g.sheets, s), append(g.plans, g.lp)
	g.in, g.y = s.Inner, s.Inner.Min.Y
	g.in.Max.Y = g.lp.foot
}

// moreNotes lays the notes that found no room on the first sheet.
func (g *loopPager) moreNotes() {
	before := g.plans[0]
	for i := 1; i < len(g.spans); i++ {
		g.turn()
		g.lp.notes, g.lp.some = g.notes, g.spans[i]
		before.more = g.sheets[len(g.sheets)-1]
		before = g.lp
	}
}

// segments turns circuits into segments: what is returned together is laid together.
// Nearly always that is all of them.
func (g *loopPager) segments(circuits []*model.Circuit) [][]*segment {
	var stages [][]*segment
	var segments []*segment
	for _, c := range circuits {
		segments = append(segments, whole(c))
	}
	if len(segments) == 0 {
		return nil
	}
	if _, _, ok := fit(g.pl, segments, g.in); ok {
		return [][]*segment{segments}
	}
	if len(segments) > 1 {
		g.shorten(segments)
	}
	for _, l := range segments {
		for stage := 0; l != nil; stage++ {
			l = g.split(l)
			if stage == len(stages) {
				stages = append(stages, nil)
			}
			stages[stage] = append(stages[stage], l)
			l = l.next
		}
	}
	return stages
}

// shorten breaks the longest of segments that fit alone, but not together, until
// they do.
func (g *loopPager) shorten(segments []*segment) {
	order := make([]int, len(segments))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return len(segments[j].path.Stations) - len(segments[i].path.Stations) })
	for _, i := range order {
		l := segments[i]
		for _, at := range slices.Backward(l.breaks()) {
			segments[i], _ = l.cut(at)
			if _, _, ok := fit(g.pl, segments, g.in); ok {
				return
			}
		}
	}
}

// split breaks a segment that is too long: what is left over is its next. It is
// broken where both halves fit with the most room, or else as late as the first
// one fits.
func (g *loopPager) split(l *segment) *segment {
	if _, _, ok := fit(g.pl, []*segment{l}, g.in); ok {
		return l
	}
	var best *segment
	least := len(widthSteps)
	for _, at := range l.breaks() {
		a, b := l.cut(at)
		_, step, ok := fit(g.pl, []*segment{a}, g.in)
		if !ok {
			continue
		}
		_, rest, whole := fit(g.pl, []*segment{b}, g.in)
		if !whole {
			rest = len(widthSteps)
		}
		if step = max(step, rest); best == nil || step < least || step == len(widthSteps) {
			best, least = a, step
		}
	}
	if best == nil {
		return l
	}
	best.next.prev = best
	if l.prev != nil {
		l.prev.next = best
	}
	return best
}

// tier begins a tier for segments at y.
func (g *loopPager) tier(segments []*segment) *tier {
	t := &tier{segments: segments}
	var ok bool
	t.cols, t.step, ok = fit(g.pl, segments, g.in)
	t.tight, t.bands = !ok, t.cols.bands()
	t.head = t.headHeight(g.in)
	if n := len(g.lp.tiers); n > 0 {
		// Functions of several circuits may reach further down than those.
		g.y = max(g.y+tierGap, g.lp.functionsReach(g.pl, g.sheets[len(g.sheets)-1], g.lp.tiers[n-1]))
	}
	t.top = g.y
	g.y += t.head
	g.lp.tiers = append(g.lp.tiers, t)
	return t
}

// joined returns the last tier with more segments, if they fit beside each other.
func (g *loopPager) joined(segments []*segment) *tier {
	n := len(g.lp.tiers)
	if n == 0 {
		return nil
	}
	t := *g.lp.tiers[n-1]
	_, alone, _ := fit(g.pl, segments, g.in)
	was := t.step
	t.segments = slices.Concat(t.segments, segments)
	var ok bool
	t.cols, t.step, ok = fit(g.pl, t.segments, g.in)
	under := func(step int) bool { return widthSteps[step].funct == 0 }
	if !ok || t.step > max(was, alone, roomy) || under(was) != under(t.step) {
		return nil
	}
	for _, b := range t.blocks { // what stands there keeps its height
		if dev := b.device(); dev != nil && deviceFoot(g.pl.Plant, dev, t.widths(), t.blocks) > deviceFoot(g.pl.Plant, dev, widthSteps[was], t.blocks) {
			return nil
		}
	}
	t.bands = t.cols.bands()
	t.head = t.headHeight(g.in)
	return &t
}

// lay lays segments of one device, or one segment of any circuit.
func (g *loopPager) lay(segments []*segment) {
	t := g.joined(segments)
	fresh := t == nil
	shift := render.Len(0) // of what the tier has already, by higher headings
	if fresh {
		t = g.tier(segments)
	} else {
		shift = t.head - g.lp.tiers[len(g.lp.tiers)-1].head
	}
	blocks, tall := g.blocks(segments, t)
	rows, readings := deviceRows(g.pl.Plant, blocks), g.tables(segments)
	devices := slices.Concat(g.lp.devices, newRows(g.lp.devices, rows))
	more := slices.Concat(g.lp.readings, readings)
	room := g.in.Max.Y - markUp - tableHeight(devices)
	if len(g.lp.tiers) > 1 || !fresh {
		if g.y+shift+tall > room+g.spared() || g.wouldReach(t, blocks, shift) > g.in.Max.Y-tableHeight(devices) { // readings give way: one sheet rather than two
			if fresh {
				g.lp.tiers = g.lp.tiers[:len(g.lp.tiers)-1]
			}
			g.turn()
			t = g.tier(segments)
			blocks, tall = g.blocks(segments, t)
			devices, more = rows, readings
			room = g.in.Max.Y - markUp - tableHeight(rows)
			fresh = true
		}
	}
	if !fresh {
		*g.lp.tiers[len(g.lp.tiers)-1] = *t
		for _, b := range t.blocks {
			b.place(b.top + shift)
		}
		g.y += shift
		t = g.lp.tiers[len(g.lp.tiers)-1]
	}
	if len(g.lp.tiers) == 1 && fresh { // no further sheet has more room
		for n := len(devices); n > 0 && g.y+tall > room; n-- {
			g.later(devices[n-1])
			devices = devices[:n-1]
			room = g.in.Max.Y - markUp - tableHeight(devices)
		}
	}
	g.lp.readings = nil
	for _, t := range more {
		if kept := append(slices.Clone(g.lp.readings), t); g.y+tall <= room-readingsHeight(kept) {
			g.lp.readings = kept
		} else {
			g.late = append(g.late, t)
		}
	}
	g.lp.devices = devices
	for n, b := range blocks {
		if n > 0 && g.y+b.height > g.in.Max.Y-markUp-tableHeight(g.lp.devices) {
			g.turn()
			t = g.tier(segments[n:])
			b.first, b.group = true, len(blocks)-n
			blocks[0].group = n
			g.lp.devices = rows
		}
		b.sheet = g.sheets[len(g.sheets)-1]
		b.segment.block = b
		b.place(g.y)
		g.y += b.height
		t.blocks = append(t.blocks, b)
	}
}

// wouldReach is how far down the functions of a tier would reach, and the wall round them,
// with more blocks on it and those that it has shifted.
func (g *loopPager) wouldReach(t *tier, more []*block, shift render.Len) render.Len {
	whole := *t
	whole.blocks = slices.Concat(t.blocks, more)
	for _, b := range t.blocks {
		b.place(b.top + shift)
		defer b.place(b.top - shift)
	}
	y := g.y + shift
	for _, b := range more {
		b.segment.block = b
		b.place(y)
		y += b.height
	}
	return g.lp.functionsReach(g.pl, g.sheets[len(g.sheets)-1], &whole) + render.MM
}

// spared is how much of what is kept free to write on is given up so that circuits share a
// sheet: none where flags need it.
func (g *loopPager) spared() render.Len {
	if len(flags(g.pl.Plant, g.loop)) > 0 {
		return 0
	}
	return markUp - leastMarkUp
}

// blocks makes the blocks of segments and returns how tall they are.
func (g *loopPager) blocks(segments []*segment, t *tier) ([]*block, render.Len) {
	var all []*block
	var tall render.Len
	for _, l := range segments {
		b := newBlock(l, t.widths())
		all = append(all, b)
		tall += b.height
	}
	all[0].first, all[0].group = true, len(all)
	return all, tall + deepen(g.pl.Plant, all, t.widths())
}

// spread sets the legs of a sheet further apart, if all that stands on it still
// finds room.
func (lp *loopPlan) spread(plant *model.Plant) {
	if len(lp.tiers) != 1 {
		return
	}
	t := lp.tiers[0]
	room := lp.tablesTop() - markUp
	set := func(pitch render.Len) render.Len {
		for _, b := range t.blocks {
			b.pitch = pitch
			b.size(t.widths())
		}
		y := t.top + t.head
		for i := 0; i < len(t.blocks); {
			n := max(1, t.blocks[i].group)
			deepen(plant, t.blocks[i:min(i+n, len(t.blocks))], t.widths())
			i += n
		}
		for _, b := range t.blocks {
			b.place(y)
			y += b.height
		}
		return y
	}
	if set(widePitch) > room {
		set(legPitch)
	}
}

// tables are the expected readings of circuits that end in segments.
func (g *loopPager) tables(segments []*segment) []reading {
	var all []reading
	for _, l := range segments {
		if l.next != nil {
			continue
		}
		if t := readingTable(g.pl.Plant, l.circuit, (g.in.W()-readingGap)/2); t != nil {
			all = append(all, reading{t, sheet.ReadingsOf{Circuit: l.circuit}})
		}
	}
	for _, t := range frontViews(segments) {
		all = append(all, reading{t, nil})
	}
	return all
}

// readings lays the readings that found no room beside their circuits on another sheet of
// the loop that has room, where no flags need that. The others are left to the record, and
// front views to the sheets of their panels.
func (g *loopPager) readings() {
	if len(flags(g.pl.Plant, g.loop)) > 0 {
		return
	}
	for _, t := range g.late {
		for i := range g.plans {
			if g.settle(i, t) {
				break
			}
		}
	}
}

// relieve takes readings, then rows of devices, off the sheets on which functions reach
// down to them, and to the wall of their place above.
func (g *loopPager) relieve() {
	for i, lp := range g.plans {
		reach := g.reach(i) + render.MM
		for n := len(lp.readings); n > 0 && reach > lp.tablesTop(); n-- {
			g.late = append([]reading{lp.readings[n-1]}, g.late...)
			lp.readings = lp.readings[:n-1]
		}
		for n := len(lp.devices); n > 0 && reach > lp.tablesTop(); n-- {
			g.later(lp.devices[n-1])
			lp.devices = lp.devices[:n-1]
		}
	}
}

// later puts off a row of devices. Rows of different sheets may have one ID.
func (g *loopPager) later(row paper.Row) {
	for _, have := range g.rows {
		if slices.Equal(have.Cells, row.Cells) {
			return
		}
	}
	row.ID += fmt.Sprintf("-%d", len(g.rows)+1)
	g.rows = append([]paper.Row{row}, g.rows...)
}

// deviceRows lays the rows of devices that found no room on the sheets of their circuits.
func (g *loopPager) deviceRows() {
	for len(g.rows) > 0 {
		g.turn()
		n := len(g.rows)
		for n > 1 && tableHeight(g.rows[:n]) > g.in.H() {
			n--
		}
		g.lp.devices, g.rows = g.rows[:n], g.rows[n:]
	}
}

// refer files where the loop and every circuit begins, and where it comes to
// each place.
func (g *loopPager) refer() {
	for i, s := range g.sheets {
		g.drawing.Refer(s, g.loop, s.Inner.Min)
		lp := g.plans[i]
		for _, r := range lp.readings {
			if r.shows != nil {
				g.drawing.Refer(s, r.shows, s.Inner.Min)
			}
		}
		for i, f := range lp.flags {
			if f.alone == nil {
				a := lp.tieArea(i, s.Inner)
				g.drawing.Refer(s, sheet.TieAt{Tie: f.tie, On: f.on}, render.Point{X: (a.Min.X + a.Max.X) / 2, Y: (a.Min.Y + a.Max.Y) / 2})
			}
		}
		for _, t := range lp.tiers {
			for _, b := range t.blocks {
				for n, leg := range b.circuit.Legs {
					for _, one := range leg.Conductors {
						col := t.cols.at[one.Station]
						if col == nil { // on another segment
							continue
						}
						at := render.Point{X: col.x + termWide/2, Y: b.row(n + 1)}
						g.drawing.Refer(s, b.circuit, at)
						if p := one.Station.Part; p.Place != nil {
							g.drawing.Refer(s, sheet.CircuitAt{Circuit: b.circuit, At: p}, at)
							g.drawing.Refer(s, sheet.CircuitAt{Circuit: b.circuit, At: p.Place}, at)
						}
					}
				}
			}
		}
	}
}

// newRows are the rows that are not yet among those of a sheet.
func newRows(have, rows []paper.Row) []paper.Row {
	var all []paper.Row
	for _, r := range rows {
		if !slices.ContainsFunc(have, func(h paper.Row) bool { return h.ID == r.ID }) {
			all = append(all, r)
		}
	}
	return all
}
