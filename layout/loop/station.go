package loop

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// This file draws where legs land.

// station draws the terminals of a station, and the part they are of.
func (d *loopSheet) station(b *block, path *model.Path, st *model.Station, begins, ends bool) {
	col := d.t.cols.at[st]
	var lowest, highest render.Len
	for i, termination := range st.Terminations {
		if termination.Does != model.Lands {
			continue
		}
		y := b.row(path.Legs[i])
		if highest == 0 {
			highest = y
		}
		lowest = y
		west, east := b.sides(termination)
		if west == east || !b.comesFrom(st) { // else it stands in the tier that the circuit comes from
			d.terminal(west, col.west(), y, begins)
		}
		if west != east {
			d.terminal(east, col.east()-termWide, y, false)
		}
	}
	d.parked(b, path, st)
	if highest == 0 {
		return
	}
	if st.Screen.Does == model.Lands && b.screen != 0 && (!b.breaksAt(st) || b.screenComes(st)) {
		d.screenEnd(b, st, col, begins || b.prev != nil && st == b.path.Stations[0])
	}
	p := st.Part
	switch {
	case goesThrough(st):
		d.through(b, path, st, col, paper.ColumnSpan{Min: highest, Max: lowest})
	case p.Strip != nil:
		d.stripName(b, path, st, col, paper.ColumnSpan{Min: highest, Max: lowest})
		if b.prev == nil || st != b.path.Stations[0] {
			d.feed(b, path, st, col)
		}
	case ends && (p.Card != nil || p.Supply != nil || p.Device != nil):
		d.body(b, st, col, highest, lowest)
	case !begins || p.Device == nil:
		y, width := highest-4*render.MM, col.wide
		if !paper.OneLine(fonts.MonoBold, paper.Heights[0], p.Tag, width) { // over the labels of the cores, between the tags of cables
			width += 4 * render.MM
			y -= 3600 + render.Len(len(tagLines(fonts.MonoBold, p.Tag, width))-1)*paper.Pitch(paper.Heights[0])
		}
		d.tag(col.x+col.wide/2, y, render.Middle, p.Tag, width)
		if moved := p.FinalElement(); st.Across() && moved != nil && moved != p {
			d.text(col.x+col.wide/2, lowest+8*render.MM, paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), "moves "+moved.Tag, 24*render.MM)
		}
	}
}

// parkedWide is the room that the words on a lead that is parked take, right of its terminal.
const parkedWide = 11 * render.MM

// parked tells, right of where they end, of the leads that are parked at a station.
func (d *loopSheet) parked(b *block, path *model.Path, st *model.Station) {
	for i := range st.Terminations {
		if words := parkedAt(b.circuit, path, st, i); words != "" {
			x := d.t.cols.at[st].west()
			if t := st.Terminations[i].In; t != nil {
				x += d.termWidth(t)
			}
			d.text(x+render.MM, b.row(path.Legs[i])+paper.PlainHeight/2, paper.Letters(fonts.Sans, paper.PlainHeight, render.Left), words, parkedWide)
		}
	}
}

// parkedAt is what is done with the leg of a path that ends at a station, as a lead that is
// parked; "" of any other.
func parkedAt(c *model.Circuit, path *model.Path, st *model.Station, i int) string {
	switch l, t := c.Legs[path.Legs[i]-1], &st.Terminations[i]; {
	case !l.EndsAt(t) || !l.Parked():
		return ""
	case t.Does == model.Cut:
		return model.CutBack
	}
	return model.ParkedWord
}

// body draws the part in which a circuit ends: a card's channel, a supply or
// an instrument.
func (d *loopSheet) body(b *block, st *model.Station, col *column, highest, lowest render.Len) {
	x := col.west()
	top, foot := bodySpan(highest, lowest)
	d.Add(paper.Outline(render.Outline, render.Hollow, paper.Area{Min: render.Point{X: x, Y: top}, Max: render.Point{X: x + termWide + d.t.widths().card, Y: foot}}))
	d.Line(render.Thin, x+termWide, top, x+termWide, foot)
	tx, ty := x+termWide+1500, top+4*render.MM
	width := d.t.widths().card - 3*render.MM
	lines := bodyLines(d.pl.Plant, st, width)
	own := len(lines)
	var refs []sheet.Ref
	switch {
	case st.Part.Of != nil:
		var more []string
		more, refs = d.portRefs(b, st.Part, mostBody-own)
		lines = append(lines, more...)
	case b.circuit.HangsOn(st):
		lines = append(lines, "carries its supply on")
		own++
		if up := b.circuit.Upstream(); len(up) > 0 {
			if ref, ok := d.pl.Ref(sheet.Loop, up[0].Circuit); ok {
				lines, refs = append(lines, "from "+supplyWords(b.circuit)+" sh "+ref.String()), append(refs, ref)
			}
		}
	}
	low := foot // of what leads to the sheet of the place
	for i, s := range lines {
		face, height := fonts.Sans, paper.PlainHeight
		if i == 0 {
			face, height = fonts.MonoBold, render.Len(paper.PlainHeight)
		}
		d.text(tx, ty, paper.Letters(face, height, render.Left), s, width)
		if i >= own {
			low = min(low, ty-paper.PlainHeight-500)
			d.Add(&render.Link{Min: render.Point{X: x + termWide, Y: ty - paper.PlainHeight - 250}, Max: render.Point{X: x + termWide + d.t.widths().card, Y: ty + 500}, Page: refs[i-own].Sheet.Name})
		}
		ty += paper.Pitch(paper.PlainHeight) + 250
	}
	if ref, ok := d.terminalRef(firstTerminal(st)); ok {
		d.Add(&render.Link{Min: render.Point{X: x + termWide, Y: top}, Max: render.Point{X: x + termWide + d.t.widths().card, Y: low}, Page: ref.Sheet.Name})
	}
}

// supplyWords name what feeds a circuit.
func supplyWords(c *model.Circuit) string {
	if s := c.Supply(); s != nil {
		return s.Tag
	}
	return paper.NotGiven
}

// mostBody is how many lines of words a channel has room for.
const mostBody = 5

// portRefs are the lines, as many as there is room for, that name the sheets of the other
// circuits of the instrument that an input or output is of.
func (d *loopSheet) portRefs(b *block, p *model.Part, most int) (lines []string, refs []sheet.Ref) {
	here := []*block{{segment: &segment{circuit: b.circuit}}}
	for _, o := range elsewhere(p, here) {
		if ref, ok := d.partRef(o.circuits, func(c *model.Circuit) bool { return begun(here, c) }); ok && len(lines) < most {
			lines, refs = append(lines, o.words+" sh "+ref.String()), append(refs, ref)
		}
	}
	return lines, refs
}

// bodySpan is how far the drawing of a channel or supply reaches up and down:
// over its terminals, and over its lines of words.
func bodySpan(highest, lowest render.Len) (top, foot render.Len) {
	top = highest - 5*render.MM
	return top, max(lowest+4*render.MM, top+7*render.MM+(mostBody-1)*paper.Pitch(paper.PlainHeight))
}

func firstTerminal(st *model.Station) *model.Terminal {
	for _, s := range st.Terminations {
		if s.In != nil {
			return s.In
		}
	}
	return nil
}

func bodyLines(plant *model.Plant, st *model.Station, width render.Len) []string {
	p := st.Part
	switch {
	case p.Card != nil && p.Of != nil:
		lines := []string{p.Tag}
		if p.Of.Kind.Does == 0 { // else a bubble beside it says so
			lines = append(lines, plant.Say(p.Of.Kind.Words))
		}
		if lines = append(lines, plant.Say(p.Kind.Words)); p.SaysPower() {
			lines = append(lines, feeds[p.Card.Powers])
		}
		return lines
	case p.Card != nil:
		address := p.Card.Address
		if address == "" {
			address = "address " + paper.NotGiven
		}
		channel := fmt.Sprintf("channel %d", st.Channel)
		if st.Channel == 0 { // common cores
			channel = "common of " + firstTerminal(st).CommonAt().Channels()
		}
		lines := []string{p.Tag + "  " + channel, address, plant.Say(p.Kind.Words)}
		if !paper.OneLine(fonts.MonoBold, paper.Heights[0], lines[0], width) {
			lines[0], lines[1] = p.Tag, channel+", "+address
		}
		words := ""
		if p.SaysPower() {
			words = feeds[p.Card.Powers]
		}
		if common := p.CommonOf(st.Channel); common != nil {
			on := common.Name + " on " + fedFrom(common)
			if words = wording.Joined(words, on); !paper.OneLine(fonts.Sans, paper.Heights[0], words, width) {
				words = on
			}
		}
		if words != "" {
			lines = append(lines, words)
		}
		if p.Place.Controller != nil && p.Of == nil {
			lines = append(lines, "by link to "+p.Place.Controller.Tag)
		}
		return lines
	case p.Supply != nil:
		fuse := "feed fuse " + paper.NotGiven
		if p.Supply.Fuse.Given() {
			fuse = "feed fuse " + p.Supply.Fuse.Text
		}
		circuit := "circuit " + paper.NotGiven
		if p.Supply.Circuit != "" {
			circuit = "circuit " + p.Supply.Circuit
		}
		return []string{p.Tag, "supply " + p.Supply.Text, circuit, fuse}
	}
	if g := st.Group(); g != nil {
		return []string{p.Tag, plant.Say(p.Kind.Words), strings.TrimRight(g.Words()+" "+g.Contact.Sign(), " ")}
	}
	return []string{p.Tag, plant.Say(p.Kind.Words), p.Device.Range.Text}
}

// feeds says whether a channel drives its circuit.
var feeds = map[bool]string{false: "loop fed elsewhere", true: "powers the loop"}

// fedFrom is the supply terminal that feeds a terminal.
func fedFrom(t *model.Terminal) string {
	if t.Fed == nil {
		return paper.NotGiven
	}
	return t.Fed.Supply.Tag()
}

// terminal draws a terminal with its west side at x.
func (d *loopSheet) terminal(t *model.Terminal, x, y render.Len, begins bool) {
	name := t.Name
	link := sheet.SymbolLink(t)
	s, ok := symbol.Terminal(link, name)
	if !ok {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, name))
	}
	d.group("t-"+t.Tag(), []render.Datum{{Key: "terminal", Value: t.Tag()}}, func() {
		d.Put(s, x, y)
	})
	if ref, ok := d.terminalRef(t); ok {
		d.Add(&render.Link{Min: render.Point{X: x, Y: y - 2500}, Max: render.Point{X: x + termWide, Y: y + 2500}, Page: ref.Sheet.Name})
	}
}

// stripName writes the name of the strip over its terminals, the rating of each
// fuse over that fuse, and under them where the sheet of the place shows them.
func (d *loopSheet) stripName(b *block, path *model.Path, st *model.Station, col *column, legs paper.ColumnSpan) {
	highest, lowest := legs.Min, legs.Max
	mid := col.x + termWide/2
	name, width := st.Part.Name(), termWide+wallGap
	for i, termination := range st.Terminations {
		if termination.Does == model.Lands && termination.In.Fuse.Given() {
			y := b.row(path.Legs[i]) // its own: another leg may land above it
			over := termWide + 2*(tickGap-paper.ClearOfLine)
			if y == highest { // beside the name
				width = termWide - render.MM
				over = min(over, termWide+render.MM-2*paper.ClearOfLine)
				if !paper.OneLine(fonts.MonoBold, paper.Heights[0], name, width) { // what the rating leaves, squeezed too
					over = min(over, render.Measure(fonts.Sans, termination.In.Fuse.Text, paper.PlainHeight)*8/10)
					width = 2*termWide - over - 2*paper.ClearOfLine
				}
			}
			d.text(col.x+3*termWide/2, y-3500, paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), termination.In.Fuse.Text, over)
		}
	}
	y := highest - 3500
	if highest > b.rows[0] && b.pitch < widePitch { // between the ticks of the leg above
		width = min(width, termWide+2*(tickGap-paper.ClearOfLine))
	} else if !paper.OneLine(fonts.MonoBold, paper.Heights[0], name, width) {
		y, width = y-3600, termWide+2*wallGap-render.MM
	}
	d.text(mid, y, paper.Letters(fonts.MonoBold, paper.PlainHeight, render.Middle), name, width)
	if words := wording.Outlet(firstTerminal(st)); words != "" && lowest > highest {
		d.text(mid, (highest+lowest+paper.PlainHeight)/2, paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), words, width)
	}
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
	width = termWide + 2*wallGap - 2*render.MM
	words := []string{"sh " + ref.String()}
	if at, ok := d.screenRef(st); ok && at != ref {
		words = []string{name + " sh " + ref.String(), st.Screen.In.Part.Name() + " sh " + at.String()}
	}
	if earth := d.earthElsewhere(b, st); earth != nil {
		to := "to " + earth.Tag()
		if earth.Bar {
			to = "to " + earth.Part.Tag
		}
		ref, ok := d.terminalRef(earth)
		for _, u := range earth.Ends { // a device in the field is on loop diagrams only
			if c := u.Conductor.Circuit; !ok && c != nil {
				ref, ok = d.pl.Ref(sheet.Loop, c)
			}
		}
		if ok && !paper.OneLine(fonts.Sans, paper.Heights[0], to, width) {
			to = "to sh " + ref.String()
		}
		words = append(words, tagLines(fonts.Sans, to, width)...)
	}
	room := paper.Area{Min: render.Point{Y: foot + underTick}, Max: render.Point{Y: d.footOf(b)}}
	set := paper.SettingOf(fonts.Sans, paper.PlainHeight, words)
	if !set.Fits(room.H()) {
		set = paper.SettingOf(fonts.Sans, paper.Heights[0], words)
	}
	y = max(min(foot+7200, room.Max.Y-set.Below-set.Tall+set.Height), room.Min.Y+set.Above+set.Height)
	for i, s := range words {
		d.text(mid, y+render.Len(i)*set.Apart, paper.Letters(fonts.Sans, set.Height, render.Middle), s, width)
	}
	d.Add(&render.Link{Min: render.Point{X: mid - 6*render.MM, Y: y - 3*render.MM}, Max: render.Point{X: mid + 6*render.MM, Y: y + render.MM}, Page: ref.Sheet.Name})
}

// underTick is how far below its leg the room under a landing begins.
const underTick = 5100 * render.UM

// footOf is how far down words of a block may reach: short of the wall round it.
func (d *loopSheet) footOf(b *block) render.Len {
	foot := b.top + b.height - 2*paper.ClearOfLine
	if b != d.t.blocks[len(d.t.blocks)-1] {
		foot -= render.MM
	}
	return foot
}

// screenRef is where the screen of a station lands, if that is on another strip of
// the place.
func (d *loopSheet) screenRef(st *model.Station) (sheet.Ref, bool) {
	if t := st.Screen.In; st.Screen.Does == model.Lands && t.Part != st.Part && t.Part.Strip != nil {
		return d.terminalRef(t)
	}
	return sheet.Ref{}, false
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
	earth, _ := compute.ScreenEarth(d.pl.Plant, arrives)
	if earth == nil || earth.Part == st.Part {
		return nil
	}
	return earth
}

// A supply's words stand feedLead right of the terminal that it feeds, and reach
// feedOver beyond the column.
const (
	feedLead = 8 * render.MM
	feedOver = wallGap - render.MM
)

// fedAt is the feed of a terminal of a strip that a leg ends on at a station; nil where it
// goes on, and where nothing feeds it.
func fedAt(c *model.Circuit, path *model.Path, st *model.Station, i int) *model.Feed {
	t, all := st.Terminations[i], c.Legs[path.Legs[i]-1].Conductors
	if t.Does != model.Lands || st.Part.Strip == nil || all[len(all)-1].Termination != &st.Terminations[i] || len(all) < 2 {
		return nil
	}
	return t.In.Fed
}

// feed tells where a leg that ends on a fed terminal gets its supply, and of common cores
// where they are drawn.
func (d *loopSheet) feed(b *block, path *model.Path, st *model.Station, col *column) {
	for i, termination := range st.Terminations {
		f := fedAt(b.circuit, path, st, i)
		if f == nil {
			continue
		}
		y := b.row(path.Legs[i])
		x := col.east()
		if !termination.In.HasBreak() && termination.In.Kind != model.EarthFoot {
			x = col.west() + termWide
		}
		d.Line(render.Existing, x, y, x+5*render.MM, y)
		d.Add(FedMark(BelowCommon(f.Supply), x+5*render.MM, y))
		words := f.Supply.Part.Gives()
		if f.Supply.Role == 'E' {
			words = d.pl.Plant.Say("protective earth")
		}
		how := "jumper to " + f.To.Name
		if f.To == termination.In {
			how = "by its feed"
		}
		width := max(d.t.widths().feed-feedLead+feedOver, paper.Narrowest(fonts.Mono, f.Supply.Tag()))
		d.text(x+8*render.MM, y-300, paper.Letters(fonts.Mono, paper.PlainHeight, render.Left), f.Supply.Tag(), width)
		d.text(x+8*render.MM, y+3200, paper.Letters(fonts.Sans, paper.PlainHeight, render.Left), wording.Joined(words, how), width)
		if f.Leg != nil {
			d.commonCores(f, render.Point{X: x + 8*render.MM, Y: y + 6*render.MM}, width)
		}
	}
}

// commonCores names the cores that feed a terminal, and leads to the sheet that has them.
// Its letters are small: the feed of another leg may stand below.
func (d *loopSheet) commonCores(f *model.Feed, at render.Point, width render.Len) {
	words, where := "by "+f.Leg.Circuit.Name, ""
	if cores := f.Cores(); len(cores) == 1 {
		words = "by " + cores[0].Name()
	}
	ref, ok := d.pl.Ref(sheet.Loop, f.Leg.Circuit)
	if ok {
		where = " sh " + ref.String()
	}
	if words += where; !paper.OneLine(fonts.Sans, paper.Heights[0], words, width) {
		words = d.pl.Plant.Say("by a common core") + where // which is on that sheet
	}
	d.text(at.X, at.Y, paper.Letters(fonts.Sans, paper.Heights[0], render.Left), words, width)
	if ok {
		d.Add(&render.Link{Min: render.Point{X: at.X, Y: at.Y - paper.Heights[0] - 250}, Max: render.Point{X: at.X + width, Y: at.Y + 500}, Page: ref.Sheet.Name})
	}
}

// underScreen is where words below a screen that passes a station may stand: clear of what
// is under its terminal.
func (b *block) underScreen(st *model.Station) render.Len {
	switch {
	case st.Screen.Does == model.Lands && st.Screen.In.Bar: // its name stands there
		return b.screen + 11500*render.UM
	case st.Screen.Does == model.Lands:
		return b.screen + 9*render.MM
	}
	return b.screen + 5*render.MM
}

// through draws a part that legs go through: a barrier, or an instrument in
// series.
func (d *loopSheet) through(b *block, path *model.Path, st *model.Station, col *column, legs paper.ColumnSpan) {
	highest, lowest := legs.Min, legs.Max
	x0, x1 := col.west()+termWide, col.east()-termWide
	p := st.Part
	mid := (x0 + x1) / 2
	if st.InSeries() {
		d.contacts(b, path, st, col)
		return
	}
	if p.Device != nil { // a bubble in the leg
		y := highest
		d.Line(render.Outline, x0, y, mid-6*render.MM, y)
		d.Line(render.Outline, mid+6*render.MM, y, x1, y)
		s, whole := bubbleOf(MountOf(p), p.Tag, symbol.BubbleWide)
		d.Put(s, mid, y)
		if !whole {
			d.text(mid, y-7000, paper.Letters(fonts.MonoBold, paper.Heights[0], render.Middle), p.Tag, col.wide+2*wallGap)
		}
		for i, s := range takerLines(p) {
			d.text(mid, y+10*render.MM+render.Len(i)*paper.Pitch(paper.PlainHeight), paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), s, col.wide+2*wallGap)
		}
		return
	}
	top, foot := highest-4*render.MM, lowest+4*render.MM
	d.Add(paper.Outline(render.Outline, render.Hollow, paper.Area{Min: render.Point{X: col.west(), Y: top}, Max: render.Point{X: col.east(), Y: foot}}))
	name := p.Tag
	if st.Channel > 0 && p.Of == nil {
		name = fmt.Sprintf("%s/%d", p.Tag, st.Channel)
	}
	inside := highest == lowest && paper.OneLine(fonts.MonoBold, paper.Heights[0], name, x1-x0-render.MM) // one leg: the name stands there
	if inside {
		d.text(mid, highest+1250, paper.Letters(fonts.MonoBold, paper.PlainHeight, render.Middle), name, x1-x0-render.MM)
	} else {
		d.text(mid, top-render.MM, paper.Letters(fonts.MonoBold, paper.PlainHeight, render.Middle), name, col.wide+8*render.MM)
	}
	for i, termination := range st.Terminations {
		if termination.Does != model.Lands || inside {
			continue
		}
		y := b.row(path.Legs[i])
		d.Line(render.Existing, x0, y, mid-3500, y)
		d.Line(render.Existing, mid+3500, y, x1, y)
		d.Add(paper.Outline(render.Existing, render.Hollow, paper.Area{Min: render.Point{X: mid - 3500, Y: y - 1200}, Max: render.Point{X: mid + 3500, Y: y + 1200}}))
		if p.Kind.Isolates {
			d.Line(render.Existing, mid, y-1200, mid, y+1200)
		}
	}
	y := foot + 4*render.MM
	if p.Kind.Diverts {
		ToEarth(d.Brush, mid, lowest+1200, foot)
	}
	if p.Kind.Shunts || p.Kind.Diverts {
		d.Put(symbol.Earth(), mid, foot)
		d.text(mid+3*render.MM, foot+4500, paper.Letters(fonts.Mono, paper.PlainHeight, render.Left), barrierEarth(p), col.wide/2)
		y = foot + 9*render.MM
	}
	if b.screen != 0 && (d.passes(b, col) || st.Screen.Does == model.Lands) {
		y = b.underScreen(st)
	}
	if p.Card != nil { // the link to a function is right of the words
		right := col.east() - linkInset - render.MM
		width := right - col.west() + 14*render.MM
		for _, b := range d.t.bands { // within the wall
			if x0, x1 := d.t.reach(b); x0 < right && right < x1 {
				width = min(width, right-x0-render.MM)
			}
		}
		for i, s := range bodyLines(d.pl.Plant, st, d.s.W)[1:] {
			d.text(right, y+render.Len(i)*paper.Pitch(paper.PlainHeight), paper.Letters(fonts.Sans, paper.PlainHeight, render.Right), s, width)
		}
		return
	}
	words := d.pl.Plant.Say(p.Kind.Words)
	if p.Barrier != nil {
		words = wording.Joined(words, p.Barrier.Model)
	}
	d.lines(paper.Area{Min: render.Point{X: mid - col.wide/2 - 4*render.MM, Y: y - 2500}, Max: render.Point{X: mid + col.wide/2 + 4*render.MM, Y: min(y+5500, d.footOf(b))}}, render.Middle, words)
}

// partRef is where the first circuit of some is drawn that is another than the one that
// refers to it.
func (d *loopSheet) partRef(all []*model.Circuit, not func(*model.Circuit) bool) (sheet.Ref, bool) {
	for _, c := range all {
		if !not(c) {
			return d.pl.Ref(sheet.Loop, c)
		}
	}
	return sheet.Ref{}, false
}

// other is something of a device that stands in other circuits than those at hand: a coil,
// a contact, an input or output.
type other struct {
	words    string
	circuits []*model.Circuit
}

// elsewhere is what of a device, or of the whole that it is an output of, is in circuits
// that do not begin on it here.
func elsewhere(p *model.Part, here []*block) (all []other) {
	add := func(words string, in []*model.Circuit) {
		if slices.ContainsFunc(in, func(c *model.Circuit) bool { return !begun(here, c) }) {
			all = append(all, other{words, in})
		}
	}
	for _, port := range p.Whole().Ports() {
		if port != p {
			add(port.Port(), port.Circuits())
		}
	}
	for _, g := range p.Whole().Device.Groups {
		words := g.Numbers()
		if g.Contact != 0 {
			words += " " + g.Contact.Sign()
		}
		add(words, g.Circuits())
	}
	return all
}

// begun reports whether a circuit is one of the blocks.
func begun(here []*block, c *model.Circuit) bool {
	return slices.ContainsFunc(here, func(b *block) bool { return b.circuit == c })
}

// referTo names something of a device and the sheet of its other circuit.
func (d *loopSheet) referTo(o other, here []*block) string {
	if ref, ok := d.partRef(o.circuits, func(c *model.Circuit) bool { return begun(here, c) }); ok {
		return o.words + " sh " + ref.String()
	}
	return o.words
}

// contacts draws those of a device that legs go through, its tag over the first. Where the
// circuit is broken at them they are drawn in the tier that it comes from.
func (d *loopSheet) contacts(b *block, path *model.Path, st *model.Station, col *column) {
	x0, x1, first := col.west()+termWide, col.east()-termWide, true
	for i, t := range st.Terminations {
		if !t.Through() {
			continue
		}
		y := b.row(path.Legs[i])
		if first {
			lines := tagLines(fonts.MonoBold, st.Part.Tag, col.wide-render.MM)
			d.tag((x0+x1)/2, y-3500-render.Len(len(lines)-1)*paper.Pitch(paper.Heights[0]), render.Middle, st.Part.Tag, col.wide-render.MM)
			first = false
		}
		if b.comesFrom(st) {
			continue
		}
		closed := t.In.Group != nil && t.In.Group.ClosedAtRest(t.In, t.Out)
		InLeg(d.Brush, x0, x1, y, closed)
		words := map[bool]string{false: "NO", true: "NC"}[closed]
		for _, works := range workers(st) {
			if ref, ok := d.partRef(works, func(c *model.Circuit) bool { return c == b.circuit }); ok {
				words += " " + ref.String()
				d.Add(&render.Link{Min: render.Point{X: x0, Y: y - 2*render.MM}, Max: render.Point{X: x1, Y: y + 6*render.MM}, Page: ref.Sheet.Name})
				break
			}
		}
		d.text((x0+x1)/2, y+6*render.MM, paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), words, x1-x0)
	}
}

// workers are the circuits of what works a contact: coils, or the inputs of an instrument.
func workers(st *model.Station) (all [][]*model.Circuit) {
	for _, coil := range st.Part.Coils() {
		all = append(all, coil.Circuits())
	}
	for _, port := range st.Part.Ports() {
		if !port.Drive() {
			all = append(all, port.Circuits())
		}
	}
	return all
}

// takerLines are the words under a device in series that takes the signal of an output:
// its part of it, and the valve that it moves.
func takerLines(p *model.Part) (words []string) {
	if p.Kind.Signal != model.AnalogOut {
		return nil
	}
	if p.Device.Signal.Given() {
		words = append(words, p.Device.Signal.Text)
	}
	if v := p.Device.Actuates; v != nil {
		words = append(words, "moves "+v.Tag)
	}
	return words
}

// passes reports whether a screen is drawn past a column.
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
				d.Line(render.Screen, x, y, x+barSide, y)
			}
			d.Put(symbol.Earth(), x+barSide, y)
			mid, width := x+barSide, 2*termWide
			if begins { // within the case of the device
				mid, width = x+termWide/2-500, termWide-600
			}
			d.text(mid, y+8*render.MM, paper.Letters(fonts.Mono, paper.PlainHeight, render.Middle), t.Name, width)
		})
		return
	}
	d.terminal(t, x, y, false)
	if t.Part != st.Part && t.Part.Strip != nil { // not of the strip over the legs
		d.text(x+termWide/2, y-3500, paper.Letters(fonts.MonoBold, paper.PlainHeight, render.Middle), t.Part.Name(), termWide+2*(tickGap-paper.ClearOfLine)) // between ticks of the leg above
	}
	if t.Bond != nil { // by its foot, or by a link below it
		d.Put(symbol.Earth(), x+termWide/2, y+2500)
		d.text(x+termWide/2+3*render.MM, y+7400, paper.Letters(fonts.Mono, paper.PlainHeight, render.Left), t.Bond.Name(), 9*render.MM)
	}
}

func (d *loopSheet) termWidth(t *model.Terminal) render.Len {
	if t.HasBreak() || t.Kind == model.EarthFoot {
		return 2 * termWide
	}
	return termWide
}
