package layout

import (
	"fmt"

	"ringout/fonts"
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/render"
)

// loopSheet draws one sheet of a loop.
type loopSheet struct {
	pl       *Plan
	s        *Sheet
	lp       *loopPlan
	t        *tier // that is drawn
	page     *render.Page
	items    *[]render.Item // where marks go: the page, or a group
	problems model.Problems
	ids      map[string]int
}

func drawLoop(pl *Plan, s *Sheet) (*render.Page, model.Problems) {
	page, border, problems := pl.page(s)
	d := &loopSheet{pl: pl, s: s, lp: s.plan.(*loopPlan), page: page, problems: problems, ids: map[string]int{}}
	d.items = &page.Items
	for _, t := range d.lp.tiers {
		if t.tight {
			d.problems = append(d.problems, model.Problem{Severity: model.Warning, Code: "sheet-too-narrow", Pos: s.Loop.Pos,
				Text: fmt.Sprintf("loop %s has more stations in a row than fit %s paper", s.Loop.Tag, s.Paper.Name)})
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
		all := Span{0, len(t.Rows)}
		d.table(t, all, d.lp.foot-t.Height(all))
	}
	d.readings(d.lp.foot - tableHeight(d.lp.devices))
	d.notes()
	d.key(border.Notes)
	d.broken()
	return page, d.problems
}

// table draws a table over the width of the sheet, its top at y.
func (d *loopSheet) table(t *Table, some Span, y render.Len) {
	items, unfit := t.Draw(render.Point{X: d.s.Inner.Min.X, Y: y}, some)
	d.add(items...)
	for _, u := range unfit {
		d.problems = append(d.problems, d.pl.unfit(d.s, u))
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
		d.text(in.Max.X-render.MM, y+3500, fonts.Bold, lettered, render.Right, fmt.Sprintf("more on sheet %d", d.lp.more.No), 60*render.MM)
	}
}

func (d *loopSheet) add(items ...render.Item) { *d.items = append(*d.items, items...) }

// group draws what f draws into a group of its own.
func (d *loopSheet) group(id string, data []render.Datum, f func()) {
	g := &render.Group{ID: unique(d.ids, fileName(id)), Data: data}
	outer := d.items
	d.items = &g.Items
	f()
	d.items = outer
	d.add(g)
}

// text sets one line of lettering, fitted to width.
func (d *loopSheet) text(x, y render.Len, face fonts.Face, height render.Len, align render.Align, s string, width render.Len) {
	t, ok := Put(render.Point{X: x, Y: y}, face, height, align, s, width)
	if t != nil {
		d.add(t)
	}
	if !ok {
		d.problems = append(d.problems, d.pl.unfit(d.s, s))
	}
}

func (d *loopSheet) line(pen render.Pen, xy ...render.Len) {
	l := &render.Line{Pen: pen}
	for i := 0; i+1 < len(xy); i += 2 {
		l.Points = append(l.Points, render.Point{X: xy[i], Y: xy[i+1]})
	}
	d.add(l)
}

// put sets a symbol with its origin at a place.
func (d *loopSheet) put(s symbol.Symbol, x, y render.Len) { d.add(s.At(render.Point{X: x, Y: y})...) }

// headings draws the name of each place over its columns, and its walls.
func (d *loopSheet) headings() {
	t := d.t
	top := t.top
	for i, b := range t.bands {
		x0, x1 := t.reach(b)
		mid, width := t.heading(i, d.s.Inner)
		if b.place != nil && i+1 == len(t.bands) && functional(t.legs) {
			x1 += t.widths().funct
		}
		if b.place == nil {
			d.text(mid, top+5*render.MM, fonts.MonoBold, largeHeight, render.Middle, "FIELD", width)
			l := d.s.Loop
			words := "P&ID " + l.Ref
			if l.Ref == "" {
				words = "P&ID " + notGiven
			}
			if l.Area != "" {
				words += ", area " + l.Area
			}
			d.lines(Area{render.Point{X: mid - width/2, Y: top + 6*render.MM}, render.Point{X: mid + width/2, Y: top + t.head - 2500*render.UM}}, render.Middle, words)
			continue
		}
		words := b.place.At
		if words == "" {
			words = notGiven
		}
		d.heading(Area{render.Point{X: mid - width/2, Y: top + 800}, render.Point{X: mid + width/2, Y: top + 5700}}, b.place.Tag)
		d.lines(Area{render.Point{X: mid - width/2, Y: top + 6*render.MM}, render.Point{X: mid + width/2, Y: top + t.head - 2500*render.UM}}, render.Middle, words)
		d.wall(b, x0, x1)
		if ref, ok := d.placeRef(b.place); ok {
			d.add(&render.Link{Min: render.Point{X: mid - width/2, Y: top + 1*render.MM}, Max: render.Point{X: mid + width/2, Y: top + 6*render.MM}, Page: ref.Sheet.Name})
		}
	}
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
			d.text((x0+east)/2, y0+3500, fonts.MonoBold, plainHeight, render.Middle, b.place.Tag, east-x0-render.MM)
		}
		y1 := last.top + last.height
		if i < len(t.blocks) {
			y1 -= render.MM
		}
		d.add(outline(render.Boundary, render.Hollow, Area{render.Point{X: x0, Y: y0}, render.Point{X: x1, Y: y1}}))
	}
}

// heading sets the tag of a place: on one line, or on two.
func (d *loopSheet) heading(a Area, tag string) {
	if oneLine(fonts.MonoBold, heights[0], tag, a.W()) {
		d.text((a.Min.X+a.Max.X)/2, a.Max.Y-700, fonts.MonoBold, largeHeight, render.Middle, tag, a.W())
		return
	}
	items, ok := Fill(a, fonts.MonoBold, heights[0], render.Middle, tag)
	d.add(items...)
	if !ok {
		d.problems = append(d.problems, d.pl.unfit(d.s, tag))
	}
}

// lines sets words into an area, wrapped, from the top.
func (d *loopSheet) lines(a Area, align render.Align, words string) {
	items, ok := Fill(a, fonts.Sans, plainHeight, align, words)
	d.add(items...)
	if !ok {
		d.problems = append(d.problems, d.pl.unfit(d.s, words))
	}
}

func (d *loopSheet) placeRef(p *model.Place) (Ref, bool) {
	for _, k := range []string{Box, Cabinet} {
		if r, ok := d.pl.Ref(k, p); ok {
			return r, true
		}
	}
	return Ref{}, false
}

func (d *loopSheet) terminalRef(t *model.Terminal) (Ref, bool) {
	for _, k := range []string{Box, Cabinet} {
		if r, ok := d.pl.Ref(k, t); ok {
			return r, true
		}
	}
	return Ref{}, false
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
	c := b.circuit
	x, y := d.s.Inner.Min.X+render.MM, b.top+3*render.MM
	words := joined("Circuit "+c.Name, signalWords(c))
	if b.prev != nil {
		words = "Circuit " + c.Name + ", continued"
	}
	st := b.path.Stations[0]
	if !b.first && b.device() != nil {
		x = d.t.cols.at[st].east() + 2*render.MM
	}
	t, ok := Put(render.Point{X: x, Y: y}, fonts.Bold, plainHeight, render.Left, words, 70*render.MM)
	if !ok {
		d.problems = append(d.problems, d.pl.unfit(d.s, words))
	}
	if x > d.s.Inner.Min.X+render.MM || st.Part.Place != nil {
		least, most := render.Box(t)
		d.add(outline(render.None, render.Blank, Area{least, most}.Inset(-render.MM/2)))
	}
	d.add(t)
}

// signalWords is what a circuit carries, and what those who touch it have to
// know.
func signalWords(c *model.Circuit) string {
	s := c.Supply()
	switch {
	case c.Safe():
		return c.Signal.String() + ", intrinsically safe"
	case s != nil && (c.Signal == model.Power || s.Supply.Dangerous()):
		return s.Supply.Volts
	}
	return c.Signal.String()
}

// path draws the stations and the labels of the runs of a path.
func (d *loopSheet) path(b *block, path *model.Path, from *model.Station) {
	runs := path.Runs
	for i, st := range path.Stations {
		if from != nil {
			d.run(b, path, runs[0], from, st)
			runs = runs[1:]
		}
		d.station(b, path, st, from == nil && b.prev == nil, i == len(path.Stations)-1 && len(path.Tails) == 0 && b.next == nil)
		from = st
	}
	for _, t := range path.Tails {
		d.path(b, t, from)
	}
}

// station draws the terminals of a station, and the part they are of.
func (d *loopSheet) station(b *block, path *model.Path, st *model.Station, begins, ends bool) {
	col := d.t.cols.at[st]
	var lowest, highest render.Len
	for i, slot := range st.Slots {
		if slot.Does != model.Lands {
			continue
		}
		y := b.row(path.Lanes[i])
		if highest == 0 {
			highest = y
		}
		lowest = y
		west, east := b.sides(slot)
		d.terminal(west, col.west(), y, begins)
		if west != east {
			d.terminal(east, col.east()-termWide, y, false)
		}
	}
	if highest == 0 {
		return
	}
	through := st.Slots[0].In != st.Slots[0].Out && st.Slots[0].Does == model.Lands
	for _, s := range st.Slots {
		through = through || (s.Does == model.Lands && s.In != s.Out)
	}
	if st.Screen.Does == model.Lands && b.screen != 0 && (!b.folds(st) || b.screenComes(st)) {
		d.screenEnd(b, st, col, begins || b.prev != nil && st == b.path.Stations[0])
	}
	p := st.Part
	switch {
	case through:
		d.through(b, path, st, col, highest, lowest)
	case p.Strip != nil:
		d.stripName(st, col, highest, lowest, b)
		if ends {
			d.feed(b, path, st, col)
		}
	case ends && (p.Card != nil || p.Supply != nil || p.Device != nil):
		d.body(b, st, col, highest, lowest)
	case !begins || p.Device == nil:
		d.text(col.x+col.wide/2, highest-4*render.MM, fonts.MonoBold, plainHeight, render.Middle, p.Tag, 30*render.MM)
	}
}

// symbolLink is how the two sides of a terminal are joined.
var symbolLink = map[model.TerminalKind]symbol.Link{
	model.FeedThrough: symbol.Through, model.Fused: symbol.Fused, model.Disconnect: symbol.Knife,
	model.Diode: symbol.Diode, model.EarthFoot: symbol.Earthed,
}

// terminal draws a terminal with its west side at x.
func (d *loopSheet) terminal(t *model.Terminal, x, y render.Len, begins bool) {
	name := t.Name
	link := symbolLink[t.Kind]
	s, ok := symbol.Terminal(link, name)
	if !ok {
		d.problems = append(d.problems, d.pl.unfit(d.s, name))
	}
	d.group("t-"+t.Tag(), []render.Datum{{Key: "terminal", Value: t.Tag()}}, func() {
		d.put(s, x, y)
	})
	if ref, ok := d.terminalRef(t); ok {
		d.add(&render.Link{Min: render.Point{X: x, Y: y - 2500}, Max: render.Point{X: x + termWide, Y: y + 2500}, Page: ref.Sheet.Name})
	}
}

// stripName writes the name of the strip over its terminals, the rating of a
// fuse over the fuse, and under them where the sheet of the place shows them.
func (d *loopSheet) stripName(st *model.Station, col *column, highest, lowest render.Len, b *block) {
	mid := col.x + termWide/2
	name, width := st.Part.Name(), termWide+wallGap
	for _, slot := range st.Slots {
		if slot.Does == model.Lands && slot.In.Fuse != "" {
			d.text(col.x+3*termWide/2, highest-3500, fonts.Sans, plainHeight, render.Middle, slot.In.Fuse, termWide+2*render.MM)
			width = termWide - render.MM
			break
		}
	}
	y := highest - 3500
	if !oneLine(fonts.MonoBold, heights[0], name, width) {
		y, width = y-3600, termWide+2*wallGap-render.MM
	}
	d.text(mid, y, fonts.MonoBold, plainHeight, render.Middle, name, width)
	foot := lowest
	if st.Screen.Does == model.Lands && b.screen > lowest {
		foot = b.screen
		if st.Screen.In.Bond != nil || st.Screen.In.Bar {
			foot += 5 * render.MM
		}
	}
	t := firstTerminal(st)
	ref, ok := d.terminalRef(t)
	if !ok || foot != max(foot, b.bottom()) { // another row lies below
		return
	}
	y = foot + 7200
	d.text(mid, y, fonts.Sans, plainHeight, render.Middle, "sh "+ref.String(), termWide+2*wallGap-2*render.MM)
	if earth := d.earthElsewhere(b, st); earth != nil {
		width := termWide + 2*wallGap - 2*render.MM
		words := "to " + earth.Tag()
		if earth.Bar {
			words = "to " + earth.Part.Tag
		}
		if ref, ok := d.terminalRef(earth); ok && !oneLine(fonts.Sans, heights[0], words, width) {
			words = "to sh " + ref.String()
		}
		d.text(mid, y+3800, fonts.Sans, plainHeight, render.Middle, words, width)
	}
	d.add(&render.Link{Min: render.Point{X: mid - 6*render.MM, Y: y - 3*render.MM}, Max: render.Point{X: mid + 6*render.MM, Y: y + render.MM}, Page: ref.Sheet.Name})
}

// earthElsewhere tells where a screen that ends on this station is earthed, when
// that is not on this sheet: over a jumper, with the screen of another cable.
func (d *loopSheet) earthElsewhere(b *block, st *model.Station) *model.Terminal {
	if st.Screen.Does != model.Lands || st.Screen.In.Bar || st.Screen.In.Bond != nil {
		return nil
	}
	var arrives *model.Conductor
	for _, w := range b.circuit.Conductors(d.pl.Plant) {
		if !w.Screen {
			continue
		}
		if w.From.Terminal == st.Screen.In {
			return nil // it goes on
		}
		if w.To.Terminal == st.Screen.In {
			arrives = w
		}
	}
	if arrives == nil {
		return nil
	}
	earth, _ := d.pl.Plant.ScreenEarth(arrives)
	if earth == nil || earth.Part == st.Part {
		return nil
	}
	return earth
}

// feed tells where a lane that ends on a fed terminal gets its supply.
func (d *loopSheet) feed(b *block, path *model.Path, st *model.Station, col *column) {
	for i, slot := range st.Slots {
		if slot.Does != model.Lands || slot.In.Fed == nil {
			continue
		}
		y := b.row(path.Lanes[i])
		f := slot.In.Fed
		x := col.east()
		if !slot.In.Split() && slot.In.Kind != model.EarthFoot {
			x = col.west() + termWide
		}
		d.line(render.Existing, x, y, x+5*render.MM, y)
		d.add(&render.Line{Pen: render.Existing, Closed: true, Fill: render.Solid, Points: []render.Point{
			{X: x + 5*render.MM, Y: y - 800}, {X: x + 7*render.MM, Y: y}, {X: x + 5*render.MM, Y: y + 800}}})
		words := f.Supply.Part.Supply.Volts
		if f.Supply.Role == 'E' {
			words = "protective earth"
		}
		how := "jumper to " + f.To.Name
		if f.To == slot.In {
			how = "by its feed"
		}
		width := d.t.widths().feed - 8*render.MM + wallGap - render.MM
		d.text(x+8*render.MM, y-300, fonts.Mono, plainHeight, render.Left, f.Supply.Tag(), width)
		d.text(x+8*render.MM, y+3200, fonts.Sans, plainHeight, render.Left, words+", "+how, width)
	}
}

// through draws a part that lanes go through: a barrier, or an instrument in
// series.
func (d *loopSheet) through(b *block, path *model.Path, st *model.Station, col *column, highest, lowest render.Len) {
	x0, x1 := col.west()+termWide, col.east()-termWide
	p := st.Part
	mid := (x0 + x1) / 2
	if p.Device != nil { // a bubble in the lane
		y := highest
		d.line(render.Outline, x0, y, mid-6*render.MM, y)
		d.line(render.Outline, mid+6*render.MM, y, x1, y)
		mount := symbol.Field
		if p.Place != nil {
			mount = symbol.Panel
			if p.Place.Kind == model.Cabinet {
				mount = symbol.Behind
			}
		}
		if !d.bubble(mount, p.Tag, mid, y) {
			d.text(mid, y-6600, fonts.MonoBold, heights[0], render.Middle, p.Tag, col.wide+2*wallGap)
		}
		return
	}
	top, foot := highest-4*render.MM, lowest+4*render.MM
	d.add(outline(render.Outline, render.Hollow, Area{render.Point{X: col.west(), Y: top}, render.Point{X: col.east(), Y: foot}}))
	name := p.Tag
	if st.Channel > 0 {
		name = fmt.Sprintf("%s/%d", p.Tag, st.Channel)
	}
	inside := highest == lowest && oneLine(fonts.MonoBold, heights[0], name, x1-x0-render.MM) // one lane: the name stands there
	if inside {
		d.text(mid, highest+1250, fonts.MonoBold, plainHeight, render.Middle, name, x1-x0-render.MM)
	} else {
		d.text(mid, top-render.MM, fonts.MonoBold, plainHeight, render.Middle, name, col.wide+8*render.MM)
	}
	for i, slot := range st.Slots {
		if slot.Does != model.Lands || inside {
			continue
		}
		y := b.row(path.Lanes[i])
		d.line(render.Existing, x0, y, mid-3500, y)
		d.line(render.Existing, mid+3500, y, x1, y)
		d.add(outline(render.Existing, render.Hollow, Area{render.Point{X: mid - 3500, Y: y - 1200}, render.Point{X: mid + 3500, Y: y + 1200}}))
		if p.Kind.Name == "isolator" {
			d.line(render.Existing, mid, y-1200, mid, y+1200)
		}
	}
	y := foot + 4*render.MM
	if p.Kind.Name == "barrier" {
		d.put(symbol.Earth(), mid, foot)
		y = foot + 9*render.MM
	}
	words := p.Kind.Words
	switch {
	case p.Barrier != nil:
		words = joined(words, p.Barrier.Model)
	case p.Card != nil:
		words = joined(bodyLines(st, d.s.W)[1:]...)
	}
	if b.screen != 0 && d.passes(b, col) {
		y = b.screen + 5*render.MM
	}
	right := mid + col.wide/2 + 4*render.MM
	if p.Card != nil {
		right = col.east() - linkInset - render.MM // the link to a function is right of them
	}
	d.lines(Area{render.Point{X: mid - col.wide/2 - 4*render.MM, Y: y - 2500}, render.Point{X: right, Y: y + 5500}}, render.Middle, words)
}

// passes tells whether a screen is drawn past a column.
func (d *loopSheet) passes(b *block, col *column) bool {
	for _, w := range b.wired(d.pl.Plant) {
		if !w.Screen {
			continue
		}
		if a, z, ok := d.ends(b, w); ok && a < col.east() && z > col.west() {
			return true
		}
	}
	return false
}

// barSide is how far right of its column an earth bar is drawn.
const barSide = 4 * render.MM

// screenEnd draws the terminal, earth or bar on which a screen lands.
func (d *loopSheet) screenEnd(b *block, st *model.Station, col *column, begins bool) {
	t := st.Screen.In
	y := b.screen
	x := col.west()
	if t.Bar {
		d.group("t-"+t.Tag(), []render.Datum{{Key: "terminal", Value: t.Tag()}}, func() {
			if !begins { // a screen comes in
				d.line(render.Screen, x, y, x+barSide, y)
			}
			d.put(symbol.Earth(), x+barSide, y)
			mid, width := x+barSide, 2*termWide
			if begins { // within the case of the device
				mid, width = x+termWide/2-500, termWide-600
			}
			d.text(mid, y+8*render.MM, fonts.Mono, plainHeight, render.Middle, t.Name, width)
		})
		return
	}
	d.terminal(t, x, y, false)
	if t.Part != st.Part && t.Part.Strip != nil { // not of the strip over the lanes
		d.text(x+termWide/2, y-3500, fonts.MonoBold, plainHeight, render.Middle, t.Part.Name(), termWide+wallGap)
	}
	if t.Bond != nil { // by its foot, or by a link below it
		d.put(symbol.Earth(), x+termWide/2, y+2500)
		d.text(x+termWide/2+3*render.MM, y+7*render.MM, fonts.Mono, plainHeight, render.Left, t.Bond.Name(), 9*render.MM)
	}
}

func (d *loopSheet) termWidth(t *model.Terminal) render.Len {
	if t.Split() || t.Kind == model.EarthFoot {
		return 2 * termWide
	}
	return termWide
}
