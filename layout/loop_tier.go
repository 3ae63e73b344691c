package layout

import (
	"slices"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// Circuits that share their places stand in one tier: under one row of
// headings, in one set of columns. What does not fit the columns of a tier
// begins another, below it or on the next sheet. A circuit with more stations
// in a row than the paper is wide is folded at a terminal strip: the strip ends
// one tier and begins the next, and every conductor is drawn once.

// The measures of tiers.
const (
	foldWide = 27 * render.MM // beside a strip at which a circuit is folded
	tierGap  = 6 * render.MM  // between two tiers
)

// tier is a row of places with the circuits under it.
type tier struct {
	cols   *columns
	legs   []*leg
	step   int // of widthSteps
	bands  []band
	blocks []*block
	top    render.Len
	head   render.Len // height of the headings
	tight  bool       // the columns do not fit the sheet
}

func (t *tier) widths() widths { return widthSteps[t.step] }

// leg is a circuit, or what is left of it between two folds.
type leg struct {
	circuit    *model.Circuit
	path       *model.Path
	turned     bool   // the circuit walks from the system, and is drawn from the field
	prev, next *leg   // nil at the ends
	block      *block // where it is drawn
}

// whole is the leg that shows all of a circuit. The field stands on the left of
// every sheet: a circuit that begins on a card is turned, if its lanes stay
// together.
func whole(c *model.Circuit) *leg {
	p := c.Path
	n := len(p.Stations)
	if n < 2 || len(p.Tails) > 0 || p.Stations[0].Part.Device != nil || p.Stations[n-1].Part.Device == nil {
		return &leg{circuit: c, path: p}
	}
	turned := &model.Path{Lanes: p.Lanes, Stations: slices.Clone(p.Stations), Runs: slices.Clone(p.Runs)}
	slices.Reverse(turned.Stations)
	slices.Reverse(turned.Runs)
	return &leg{circuit: c, path: turned, turned: true}
}

// sides are the terminals of a slot on the field side and on the system side.
func (l *leg) sides(s model.Slot) (west, east *model.Terminal) {
	if l.turned {
		return s.Out, s.In
	}
	return s.In, s.Out
}

// wired are the conductors of a leg.
func (l *leg) wired(p *model.Plant) []*model.Conductor {
	all := l.circuit.Conductors(p)
	if l.prev == nil && l.next == nil {
		return all
	}
	here := map[*model.Conductor]bool{}
	var visit func(path *model.Path, from *model.Station)
	visit = func(path *model.Path, from *model.Station) {
		runs := path.Runs
		for _, st := range path.Stations {
			if from != nil {
				for _, w := range all {
					if w.Pos == runs[0].Pos {
						here[w] = true
					}
				}
				runs = runs[1:]
			}
			from = st
		}
		for _, t := range path.Tails {
			visit(t, from)
		}
	}
	visit(l.path, nil)
	return slices.DeleteFunc(slices.Clone(all), func(w *model.Conductor) bool { return !here[w] })
}

// folds tells whether st is where the leg is folded.
func (l *leg) folds(st *model.Station) bool {
	all := l.path.Stations
	return l.prev != nil && st == all[0] || l.next != nil && st == all[len(all)-1]
}

// stations of a leg, tails and all.
func (l *leg) stations() []*model.Station {
	var all []*model.Station
	var visit func(path *model.Path)
	visit = func(path *model.Path) {
		all = append(all, path.Stations...)
		for _, t := range path.Tails {
			visit(t)
		}
	}
	visit(l.path)
	return all
}

// channel is the first station of a leg on a channel of a card.
func (l *leg) channel() *model.Station {
	for _, st := range l.stations() {
		if st.Channel > 0 {
			return st
		}
	}
	return nil
}

// channelRow is the row of the first lane that lands on the channel of the leg,
// lower where the lane goes through.
func (b *block) channelRow() (y render.Len) {
	var visit func(path *model.Path)
	visit = func(path *model.Path) {
		for _, st := range path.Stations {
			for i, slot := range st.Slots {
				if y == 0 && st.Channel > 0 && slot.Does == model.Lands {
					if y = b.row(path.Lanes[i]); slot.In != slot.Out {
						y += 5 * render.MM
					}
					y += b.pitch / 2 * render.Len(max(0, len(st.Slots)-2)) // functions stand at the middle
				}
			}
		}
		for _, t := range path.Tails {
			visit(t)
		}
	}
	visit(b.path)
	return y
}

// screened tells whether a leg has a screen to be drawn. At a fold a screen
// lands in the tier that its cable comes in.
func (l *leg) screened() bool {
	var visit func(path *model.Path) bool
	visit = func(path *model.Path) bool {
		for _, r := range path.Runs {
			if r.Screen != nil {
				return true
			}
		}
		return slices.ContainsFunc(path.Tails, visit)
	}
	return visit(l.path) || slices.ContainsFunc(l.stations(), func(st *model.Station) bool {
		return st.Screen.Does == model.Lands && !l.folds(st)
	})
}

// screenComes tells whether a screened run of the leg meets the station where
// it is folded.
func (l *leg) screenComes(st *model.Station) bool {
	runs := l.path.Runs
	if len(runs) == 0 {
		return false
	}
	if st == l.path.Stations[0] {
		return runs[0].Screen != nil
	}
	return runs[len(runs)-1].Screen != nil
}

// functional tells whether functions are drawn beside the channels of legs.
func functional(legs []*leg) bool {
	for _, l := range legs {
		if l.channel() == nil {
			continue
		}
		for _, f := range l.circuit.Loop.Functions {
			if slices.Contains(f.Reads, l.circuit) || slices.Contains(f.Drives, l.circuit) {
				return true
			}
		}
	}
	return false
}

// fit arranges legs in columns and returns the first of widthSteps at which
// they fit, or the last step and false.
func (pl *Plan) fit(legs []*leg, in Area) (*columns, int, bool) {
	cols := columnsOf(legs)
	for step, w := range widthSteps {
		if cols.measure(pl, legs, w, in) <= in.W() {
			return cols, step, true
		}
	}
	return cols, len(widthSteps) - 1, false
}

// roomy is the last of widthSteps that circuits are brought together at. Below
// it they are drawn in tiers of their own, if those are wider.
const roomy = 2

// loopPager lays the circuits of a loop on sheets.
type loopPager struct {
	pl     *Plan
	kind   *Kind
	loop   *model.Loop
	code   string
	sheets []*Sheet
	lp     *loopPlan // of the last sheet
	in     Area
	y      render.Len // where the next block goes
	late   []*Table   // readings that found no room beside their circuits
	notes  *Table
	spans  []Span // of the notes on a sheet each
}

// turn begins the next sheet.
func (g *loopPager) turn() {
	s := g.pl.sheet(g.kind)
	s.Loop, s.Code, s.Words = g.loop, g.code, g.loop.Tag+"  "+g.loop.Service
	g.lp = &loopPlan{foot: s.Inner.Max.Y}
	s.plan = g.lp
	if lines := g.pl.noteLines(g.loop); len(g.sheets) == 0 && !g.pl.notesFit(lines, g.pl.frames[s.Paper.Name].notes) {
		g.notes = notesTable(lines, s.Inner.W())
		g.spans = g.notes.Plan(mostNotes, s.Inner.H())
		g.lp.notes, g.lp.some = g.notes, g.spans[0]
		g.lp.foot -= g.notes.Height(g.spans[0]) + 2*render.MM
	}
	g.sheets = append(g.sheets, s)
	g.in, g.y = s.Inner, s.Inner.Min.Y
	g.in.Max.Y = g.lp.foot
}

// moreNotes lays the notes that found no room on the first sheet.
func (g *loopPager) moreNotes() {
	before := g.sheets[0]
	for i := 1; i < len(g.spans); i++ {
		g.turn()
		g.lp.notes, g.lp.some = g.notes, g.spans[i]
		last := g.sheets[len(g.sheets)-1]
		before.plan.(*loopPlan).more = last
		before = last
	}
}

// fold turns circuits into legs: what is returned together is laid together.
// Nearly always that is all of them.
func (g *loopPager) fold(circuits []*model.Circuit) [][]*leg {
	var stages [][]*leg
	var legs []*leg
	for _, c := range circuits {
		legs = append(legs, whole(c))
	}
	if len(legs) == 0 {
		return nil
	}
	if _, _, ok := g.pl.fit(legs, g.in); ok {
		return [][]*leg{legs}
	}
	if len(legs) > 1 {
		g.shorten(legs)
	}
	for _, l := range legs {
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

// shorten folds the longest of legs that fit alone, but not together, until
// they do.
func (g *loopPager) shorten(legs []*leg) {
	order := make([]int, len(legs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return len(legs[j].path.Stations) - len(legs[i].path.Stations) })
	for _, i := range order {
		l := legs[i]
		for k := len(l.path.Stations) - 1; k > 0; k-- {
			if k == len(l.path.Stations)-1 && len(l.path.Tails) == 0 || !foldable(l.path.Stations[k]) {
				continue
			}
			legs[i], _ = l.cut(k)
			if _, _, ok := g.pl.fit(legs, g.in); ok {
				return
			}
		}
	}
}

// split folds a leg that is too long: what is left over is its next. It is
// folded where both halves fit with the most room, or else as late as the first
// one fits.
func (g *loopPager) split(l *leg) *leg {
	if _, _, ok := g.pl.fit([]*leg{l}, g.in); ok {
		return l
	}
	var best *leg
	least := len(widthSteps)
	for k := 1; k < len(l.path.Stations); k++ {
		if k == len(l.path.Stations)-1 && len(l.path.Tails) == 0 || !foldable(l.path.Stations[k]) {
			continue
		}
		a, b := l.cut(k)
		_, step, ok := g.pl.fit([]*leg{a}, g.in)
		if !ok {
			break
		}
		_, rest, whole := g.pl.fit([]*leg{b}, g.in)
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

// foldable tells whether every lane lands on a terminal strip and goes on from
// the same terminal.
func foldable(st *model.Station) bool {
	return st.Part.Strip != nil && !slices.ContainsFunc(st.Slots, func(s model.Slot) bool {
		return s.Does != model.Lands || s.In != s.Out
	})
}

// cut parts a leg at station k of its path.
func (l *leg) cut(k int) (a, b *leg) {
	p := l.path
	first := len(p.Stations) - len(p.Runs) // 1, or 0 in a tail
	a = &leg{circuit: l.circuit, turned: l.turned, prev: l.prev, path: &model.Path{Lanes: p.Lanes, Stations: p.Stations[:k+1], Runs: p.Runs[:k+1-first]}}
	b = &leg{circuit: l.circuit, turned: l.turned, next: l.next, path: &model.Path{Lanes: p.Lanes, Stations: p.Stations[k:], Runs: p.Runs[k+1-first:], Tails: p.Tails}}
	a.next, b.prev = b, a
	return a, b
}

// tier begins a tier for legs at y.
func (g *loopPager) tier(legs []*leg) *tier {
	t := &tier{legs: legs}
	var ok bool
	t.cols, t.step, ok = g.pl.fit(legs, g.in)
	t.tight, t.bands = !ok, t.cols.bands()
	t.head = t.headHeight(g.in)
	if n := len(g.lp.tiers); n > 0 {
		// Functions of several circuits may reach further down than those.
		d := &loopSheet{pl: g.pl, s: g.sheets[len(g.sheets)-1], lp: g.lp, t: g.lp.tiers[n-1], items: new([]render.Item), ids: map[string]int{}}
		g.y = max(g.y+tierGap, d.functions())
	}
	t.top = g.y
	g.y += t.head
	g.lp.tiers = append(g.lp.tiers, t)
	return t
}

// joined returns the last tier with more legs, if they fit beside each other.
func (g *loopPager) joined(legs []*leg) *tier {
	n := len(g.lp.tiers)
	if n == 0 {
		return nil
	}
	t := *g.lp.tiers[n-1]
	_, alone, _ := g.pl.fit(legs, g.in)
	was := t.step
	t.legs = slices.Concat(t.legs, legs)
	var ok bool
	t.cols, t.step, ok = g.pl.fit(t.legs, g.in)
	under := func(step int) bool { return widthSteps[step].funct == 0 }
	if !ok || t.step > max(was, alone, roomy) || under(was) != under(t.step) {
		return nil
	}
	for _, b := range t.blocks { // what stands there keeps its height
		if dev := b.device(); dev != nil && deviceFoot(dev, t.widths()) > deviceFoot(dev, widthSteps[was]) {
			return nil
		}
	}
	t.bands = t.cols.bands()
	t.head = t.headHeight(g.in)
	return &t
}

// lay lays legs of one device, or one leg of any circuit.
func (g *loopPager) lay(legs []*leg) {
	t := g.joined(legs)
	fresh := t == nil
	shift := render.Len(0) // of what the tier has already, by higher headings
	if fresh {
		t = g.tier(legs)
	} else {
		shift = t.head - g.lp.tiers[len(g.lp.tiers)-1].head
	}
	blocks, tall := g.blocks(legs, t)
	rows, readings := deviceRows(blocks), g.tables(legs)
	devices := slices.Concat(g.lp.devices, newRows(g.lp.devices, rows))
	more := slices.Concat(g.lp.readings, readings)
	room := g.in.Max.Y - markUp - tableHeight(devices)
	if len(g.lp.tiers) > 1 || !fresh {
		if g.y+shift+tall > room-readingsHeight(more) {
			if fresh {
				g.lp.tiers = g.lp.tiers[:len(g.lp.tiers)-1]
			}
			g.turn()
			t = g.tier(legs)
			blocks, tall = g.blocks(legs, t)
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
	if g.y+tall <= room-readingsHeight(more) {
		g.lp.readings = more
	} else {
		g.late = append(g.late, readings...)
	}
	g.lp.devices = devices
	for n, b := range blocks {
		if n > 0 && g.y+b.height > g.in.Max.Y-markUp-tableHeight(g.lp.devices) {
			g.turn()
			t = g.tier(legs[n:])
			b.first, b.group = true, len(blocks)-n
			blocks[0].group = n
			g.lp.devices = rows
		}
		b.sheet = g.sheets[len(g.sheets)-1]
		b.leg.block = b
		b.place(g.y)
		g.y += b.height
		t.blocks = append(t.blocks, b)
	}
}

// blocks makes the blocks of legs and returns how tall they are.
func (g *loopPager) blocks(legs []*leg, t *tier) ([]*block, render.Len) {
	var all []*block
	var tall render.Len
	for _, l := range legs {
		b := newBlock(l, t.widths())
		all = append(all, b)
		tall += b.height
	}
	all[0].first, all[0].group = true, len(all)
	return all, tall + deepen(all, t.widths())
}

// deepen makes room for the device that blocks begin on and returns how much it
// took.
func deepen(all []*block, w widths) render.Len {
	dev := all[0].device()
	if dev == nil {
		return 0
	}
	var tall render.Len
	for _, b := range all {
		tall += b.height
	}
	all[0].place(0)
	more := max(0, max(deviceTall, (all[0].rows[0]+all[0].bottom())/2+deviceFoot(dev, w))-tall)
	all[len(all)-1].height += more
	return more
}

// spread sets the lanes of a sheet further apart, if all that stands on it still
// finds room.
func (lp *loopPlan) spread() {
	if len(lp.tiers) != 1 {
		return
	}
	t := lp.tiers[0]
	room := lp.foot - markUp - tableHeight(lp.devices) - readingsHeight(lp.readings)
	set := func(pitch render.Len) render.Len {
		for _, b := range t.blocks {
			b.pitch = pitch
			b.size(t.widths())
		}
		y := t.top + t.head
		for i := 0; i < len(t.blocks); {
			n := max(1, t.blocks[i].group)
			deepen(t.blocks[i:min(i+n, len(t.blocks))], t.widths())
			i += n
		}
		for _, b := range t.blocks {
			b.place(y)
			y += b.height
		}
		return y
	}
	if set(widePitch) > room {
		set(lanePitch)
	}
}

// tables are the expected readings of circuits that end in legs.
func (g *loopPager) tables(legs []*leg) []*Table {
	var all []*Table
	for _, l := range legs {
		if l.next != nil {
			continue
		}
		if t := g.pl.readingTable(l.circuit, (g.in.W()-readingGap)/2); t != nil {
			all = append(all, t)
		}
	}
	return all
}

// readings lays the readings that found no room beside their circuits.
func (g *loopPager) readings() {
	for len(g.late) > 0 {
		g.turn()
		for len(g.late) > 0 && (len(g.lp.readings) == 0 || readingsHeight(slices.Concat(g.lp.readings, g.late[:1])) <= g.in.H()) {
			g.lp.readings = append(g.lp.readings, g.late[0])
			g.late = g.late[1:]
		}
	}
}

// refer files where every circuit begins, and where it comes to each place.
func (g *loopPager) refer() {
	for _, s := range g.sheets {
		for _, t := range s.plan.(*loopPlan).tiers {
			for _, b := range t.blocks {
				for n, lane := range b.circuit.Lanes {
					for _, step := range lane.Steps {
						col := t.cols.at[step.Station]
						if col == nil { // on another leg
							continue
						}
						at := render.Point{X: col.x + termWide/2, Y: b.row(n + 1)}
						g.pl.refer(s, b.circuit, at)
						if p := step.Station.Part.Place; p != nil {
							g.pl.refer(s, circuitAt{b.circuit, p}, at)
						}
					}
				}
			}
		}
	}
}

// newRows are the rows that are not yet among those of a sheet.
func newRows(have, rows []Row) []Row {
	var all []Row
	for _, r := range rows {
		if !slices.ContainsFunc(have, func(h Row) bool { return h.ID == r.ID }) {
			all = append(all, r)
		}
	}
	return all
}

// reach is how far the walls of a band reach.
func (t *tier) reach(b band) (x0, x1 render.Len) {
	first, last := t.cols.all[b.from], t.cols.all[b.to-1]
	return first.x - first.left - wallGap, last.east() + last.right + wallGap
}

// heading is where the heading of a band stands: about the middle of its
// columns, up to half-way to its neighbours.
func (t *tier) heading(i int, in Area) (mid, width render.Len) {
	x0, x1 := t.reach(t.bands[i])
	left, right := in.Min.X, in.Max.X
	if i > 0 {
		_, w := t.reach(t.bands[i-1])
		left = (w + x0) / 2
	}
	if i+1 < len(t.bands) {
		e, _ := t.reach(t.bands[i+1])
		right = (x1 + e) / 2
	} else if t.bands[i].place != nil && functional(t.legs) {
		x1 += t.widths().funct
	}
	const edge, least = render.MM, 40 * render.MM
	mid = (x0 + x1) / 2
	if width = 2 * (min(mid-left, right-mid) - edge); width < least {
		width = min(least, right-left-2*edge)
		mid = max(left+edge+width/2, min(mid, right-edge-width/2))
	}
	return mid, width
}

// uses tells whether a block has a station in the columns of a band.
func (t *tier) uses(bl *block, b band) bool {
	for _, st := range bl.stations() {
		if slices.Contains(t.cols.all[b.from:b.to], t.cols.at[st]) {
			return true
		}
	}
	return false
}

// headHeight is what the words of the headings need.
func (t *tier) headHeight(in Area) render.Len {
	high := headBand
	for i, b := range t.bands {
		if b.place == nil {
			continue
		}
		_, width := t.heading(i, in)
		if lines := Wrap(fonts.Sans, heights[0], b.place.At, width*100/85); b.place.At != "" {
			high = max(high, 8500*render.UM+heights[0]+render.Len(len(lines)-1)*pitch(heights[0])+render.MM)
		}
	}
	return high
}

// goesOn draws, at a fold, where a circuit comes from and goes on.
func (d *loopSheet) goesOn(b *block) {
	arrow := func(st *model.Station, other *block, east bool) {
		col := d.t.cols.at[st]
		words := "goes on below"
		if !east {
			words = "from above"
		}
		if other != nil && other.sheet != b.sheet {
			ref := Ref{other.sheet, render.Point{X: b.sheet.Inner.Min.X + b.sheet.Inner.W()/2, Y: other.rows[0]}}
			words = map[bool]string{true: "goes on, sh ", false: "from sh "}[east] + ref.String()
		}
		var top, low render.Len
		for i, slot := range st.Slots {
			y := b.row(b.path.Lanes[i])
			tip, tail := col.west(), col.west()-6*render.MM
			if east {
				tail = col.west() + d.termWidth(slot.In)
				tip = tail + 6*render.MM
			}
			d.line(render.Thin, tail, y, tip, y)
			d.line(render.Outline, tip-1500, y-900, tip, y, tip-1500, y+900)
			if top == 0 {
				top = y
			}
			low = y
		}
		x, align := col.west()-8*render.MM, render.Right
		if east {
			x, align = col.east()+8*render.MM, render.Left
		}
		y := (top+low)/2 + plainHeight/2
		d.text(x, y, fonts.Bold, plainHeight, align, words, foldWide-8*render.MM)
		if other != nil && other.sheet != b.sheet {
			d.add(&render.Link{Min: render.Point{X: min(x, x+19*render.MM), Y: y - 3*render.MM}, Max: render.Point{X: x + 19*render.MM, Y: y + render.MM}, Page: other.sheet.Name})
		}
	}
	all := b.path.Stations
	if b.prev != nil {
		arrow(all[0], b.prev.block, false)
	}
	if b.next != nil {
		arrow(all[len(all)-1], b.next.block, true)
	}
}
