package loop

import (
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// aboveLeg is how far above the middle of its conductor a label stands: its
// descenders, and underscores, are 1 mm clear of the line.
const aboveLeg = 2000 * render.UM

// conductor draws one core, wire, jumper or screen with its labels and ticks.
func (d *loopSheet) conductor(b *block, w *model.Conductor) {
	a, z, ok := d.ends(b, w)
	if !ok {
		return
	}
	y := b.row(w.Leg)
	from, to := b.endsOf(w)
	d.group("w-"+wording.ConductorName(w), wording.ConductorData(w), func() {
		pen := sheet.StatusPen[w.Status]
		if w.Screen {
			pen = render.Screen
		}
		if from.Terminal == nil {
			Cap(d.Brush, a, y, false)
		}
		if to.Terminal == nil {
			Cap(d.Brush, z, y, true)
		}
		d.Line(pen, a, y, z, y)
		later := w.Status == model.Future // nothing to land yet
		if from.Terminal != nil && !later {
			x := a + tickGap
			if from.Terminal.Bar { // right of its sign
				x += 2 * render.MM
			}
			d.tick(x, y)
		}
		if to.Terminal != nil && !later {
			d.tick(z-tickGap-tickWide, y)
		}
		if w.Screen {
			d.screenWords(b, w, paper.ColumnSpan{Min: a, Max: z}, y)
			return
		}
		label := d.coreLabel(w)
		at, rooms := paper.ColumnSpan{Min: a + 4500, Max: z - 4500}, paper.ColumnSpan{}
		if w.Kind == model.CableRun {
			at, rooms = d.coreLabels(w)
		} else {
			at, rooms.Min = d.wireLabels(paper.ColumnSpan{Min: a, Max: z}, at, label)
			rooms.Max = rooms.Min
		}
		d.text(at.Min, y-aboveLeg, paper.Letters(fonts.Mono, paper.PlainHeight, render.Left), label, rooms.Min)
		d.text(at.Max, y-aboveLeg, paper.Letters(fonts.Mono, paper.PlainHeight, render.Right), label, rooms.Max)
	})
}

// coreLabels are where the labels at both ends of a core begin, and how wide each may be:
// short of the ring, and of the walls of places that it passes by.
func (d *loopSheet) coreLabels(w *model.Conductor) (at, rooms paper.ColumnSpan) {
	ax, zx := d.legWalls(w)
	left, right := d.clear(ax, zx) // where the ring is
	first, last := ax, zx
	for _, b := range d.t.bands { // places that it passes by
		if x0, x1 := d.t.reach(b); x0 > ax && x1 < zx {
			if first == ax {
				first = x0
			}
			last = x1
		}
	}
	at = paper.ColumnSpan{Min: ax + 800, Max: zx - 800}
	mid := (left + right) / 2
	rooms = paper.ColumnSpan{Min: mid - ringWide - 500 - at.Min, Max: at.Max - mid - ringWide - 500}
	if first < left {
		rooms.Min = first - at.Min - 800
	}
	if last < zx && last > right {
		rooms.Max = at.Max - last - 800
	}
	return at, rooms
}

// wireLabels are where the labels at both ends of a wire begin, and how wide they may
// be: at the places that they have by themselves, or beyond a wall that leaves no room.
func (d *loopSheet) wireLabels(line, at paper.ColumnSpan, label string) (paper.ColumnSpan, render.Len) {
	width := (at.Max-at.Min)/2 - render.MM
	var walls []render.Len
	for _, b := range d.t.bands { // wires may pass by a place, or lead by mistake to another
		x0, x1 := d.t.reach(b)
		for _, wall := range []render.Len{x0, x1} {
			if b.place != nil && wall > line.Min && wall < line.Max {
				walls = append(walls, wall)
			}
		}
	}
	n := len(walls)
	if n == 0 {
		return at, width
	}
	slices.Sort(walls)
	room := min(width, walls[0]-at.Min-800, at.Max-walls[n-1]-800)
	if n > 1 && room < paper.Narrowest(fonts.Mono, label) { // between terminal and wall: beyond it
		at = paper.ColumnSpan{Min: walls[0] + 800, Max: walls[n-1] - 800}
		room = min((at.Max-at.Min)/2-render.MM, walls[1]-at.Min-800, at.Max-walls[n-2]-800)
	}
	return at, room
}

// coreLabel is the colour of a core, and its polarity.
func (d *loopSheet) coreLabel(w *model.Conductor) string {
	s := wording.Colour(d.pl.Plant, w.Colour)
	if w.Kind == model.JumperRun {
		s = "jumper"
	}
	if sign := w.Sign(); sign != 0 && strings.ContainsRune("+-LN", rune(sign)) {
		s += " " + wording.Sign(sign)
	}
	return s
}

// walls are the walls that a run leaves and enters by; in the field, and within
// one place, the room beside the terminals.
func (d *loopSheet) walls(from, to *model.Station) (left, right render.Len) {
	fc, tc := d.t.cols.at[from], d.t.cols.at[to]
	left, right = fc.east()+wallGap, tc.west()-wallGap
	if fc.place == tc.place {
		return left, right
	}
	for _, b := range d.t.bands {
		x0, x1 := d.t.reach(b)
		for _, c := range d.t.cols.all[b.from:b.to] {
			if c == fc {
				left = x1
			}
			if c == tc {
				right = x0
			}
		}
	}
	return left, right
}

// laneWalls are the walls of the run that a conductor is part of.
func (d *loopSheet) legWalls(w *model.Conductor) (left, right render.Len) {
	conductors := w.Circuit.Legs[w.Leg-1].Conductors
	for i, s := range conductors {
		if s.Conductor == w {
			from, to := conductors[i-1].Station, s.Station
			if d.t.cols.at[from].x > d.t.cols.at[to].x {
				from, to = to, from
			}
			return d.walls(from, to)
		}
	}
	return 0, 0
}

// ends finds where on its row a conductor begins and ends.
func (d *loopSheet) ends(b *block, w *model.Conductor) (a, z render.Len, ok bool) {
	c := w.Circuit
	if w.Screen {
		return d.screenEnds(b, w)
	}
	leg := c.Legs[w.Leg-1]
	for i, s := range leg.Conductors {
		if s.Conductor != w {
			continue
		}
		before, after := leg.Conductors[i-1], s
		if b.turned {
			before, after = after, before
		}
		from, to := d.t.cols.at[before.Station], d.t.cols.at[after.Station]
		a = from.west() + d.termWidth(before.Termination.Out)
		if before.Termination.In != before.Termination.Out {
			a = from.east()
		}
		return a, to.west(), true
	}
	return 0, 0, false
}

// endsOf are the ends of a conductor as they stand on the sheet: west, then east.
func (b *block) endsOf(w *model.Conductor) (west, east model.End) {
	if b.turned {
		return w.To, w.From
	}
	return w.From, w.To
}

// drawnRun is a run as it is drawn: between two stations of a path.
type drawnRun struct {
	*model.Run
	path     *model.Path
	from, to *model.Station
}

// screenRun is the run that a screen is drawn at: where several runs of a circuit have
// one screen, as a pair that a leg goes out and comes back by, the one that lands it.
func screenRun(path *model.Path, from *model.Station, w *model.Conductor) (drawnRun, bool) {
	runs := path.Runs
	for _, st := range path.Stations {
		if from != nil {
			if run := runs[0]; run.Pos == w.Pos && run.Screen == w.Core {
				return drawnRun{run, path, from, st}, true
			}
			runs = runs[1:]
		}
		from = st
	}
	for _, t := range path.Tails {
		if run, ok := screenRun(t, from, w); ok {
			return run, true
		}
	}
	return drawnRun{}, false
}

// screenEnds finds where a screen conductor is drawn: at the run that it
// belongs to.
func (d *loopSheet) screenEnds(b *block, w *model.Conductor) (a, z render.Len, ok bool) {
	run, ok := screenRun(b.path, nil, w)
	if !ok {
		return 0, 0, false
	}
	fc, tc := d.t.cols.at[run.from], d.t.cols.at[run.to]
	left, right := d.walls(run.from, run.to)
	west, east := b.endsOf(w)
	switch {
	case west.Terminal == nil:
		a = left + render.MM
	case west.Terminal.Bar:
		a = fc.west() + barSide
	default:
		a = fc.west() + d.termWidth(west.Terminal)
	}
	z = tc.west()
	if east.Terminal == nil {
		z = right - render.MM
	}
	return a, z, true
}

// rowsOf are the first and the last row of the legs of a run that land where it ends.
func (b *block) rowsOf(run drawnRun) (top, low render.Len) {
	top, low = b.row(run.path.Legs[0]), b.row(run.path.Legs[0])
	for i, leg := range run.path.Legs {
		if run.to.Terminations[i].Does == model.Passes {
			continue
		}
		y := b.row(leg)
		top, low = min(top, y), max(low, y)
	}
	return top, low
}

// drains reports whether a line may come down from the ring of a run at x to the row
// of its screen: no leg below it is in the way, with the words of its own cable.
func (d *loopSheet) drains(b *block, run drawnRun, x render.Len) bool {
	_, low := b.rowsOf(run)
	return !slices.ContainsFunc(b.wired(d.pl.Plant), func(w *model.Conductor) bool {
		if w.Screen || b.row(w.Leg) <= low {
			return false
		}
		a, z, ok := d.ends(b, w)
		return ok && a < x && x < z
	})
}

// screenWord stands behind the cable whose screen a row is.
const screenWord english.Text = "screen"

// screenWords writes what is done with the free end of a screen, where there is
// room; the cap tells it anyhow. A screen whose ring has no line down to it is named.
func (d *loopSheet) screenWords(b *block, w *model.Conductor, line paper.ColumnSpan, y render.Len) {
	a, z := line.Min, line.Max
	run, _ := screenRun(b.path, nil, w)
	left, right := d.clear(d.walls(run.from, run.to))
	mid := (left + right) / 2
	if !d.drains(b, run, mid) {
		name := run.Cable.Tag
		if whole := name + " " + d.pl.Plant.Say(screenWord); paper.OneLine(fonts.Sans, paper.PlainHeight, whole, right-left-render.MM) {
			name = whole
		}
		d.text(mid, y-aboveLeg, paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), name, right-left-render.MM)
		return
	}
	words := func(e model.End, x, width render.Len, align render.Align) {
		if e.Terminal == nil && paper.OneLine(fonts.Sans, paper.PlainHeight, e.Free, width) {
			d.text(x, y-aboveLeg, paper.Letters(fonts.Sans, paper.PlainHeight, align), e.Free, width)
		}
	}
	west, east := b.endsOf(w)
	words(west, a+4*render.MM, mid-a-5*render.MM, render.Left) // up to the drain
	words(east, z-4*render.MM, z-mid-5*render.MM, render.Right)
}

// tick is a box to tick, and the place to highlight along, at a landing.
func (d *loopSheet) tick(x, y render.Len) {
	d.Add(paper.Outline(render.Outline, render.Hollow, paper.Rect(x, y+600, tickWide, tickWide)))
}

// run draws what is common to the legs of a run: the cable's tag, type and
// pair over it, the ring of the cable or of the screen round it.
func (d *loopSheet) run(b *block, run drawnRun) {
	if run.Kind != model.CableRun {
		return
	}
	left, right := d.clear(d.walls(run.from, run.to))
	mid := (left + right) / 2
	top, low := b.rowsOf(run)
	width := right - left - render.MM
	c := run.Cable
	tag := strings.TrimSpace(c.Tag + " " + statusSign(c.Status))
	if d.safe(b, run.Run) {
		tag += ", IS"
	}
	data := []render.Datum{{Key: "cable", Value: c.Tag}}
	d.group("cable-"+c.Tag, data, func() {
		y := top - 6000 // over the labels of the cores
		if name, colours := wording.PairName(d.pl.Plant, run.Run); name != "" {
			lines := []string{name}
			if colours != "" {
				if lines[0] += "  " + colours; !paper.OneLine(fonts.Mono, paper.PlainHeight, lines[0], width) {
					lines = []string{colours, name}
				}
			}
			for _, s := range lines {
				d.text(mid, y, paper.Letters(fonts.Mono, paper.PlainHeight, render.Middle), s, width)
				y -= 4 * render.MM
			}
		}
		d.leadTo(d.text(mid, y, paper.Letters(fonts.MonoBold, paper.PlainHeight, render.Middle), tag, width), c)
		Ring(d.Brush, run.Screen != nil, mid, top, low)
		if low > top && run.Twisted() {
			Twist(d.Brush, mid, top, low)
		}
	})
	y := low
	if b.screen != 0 && low == b.bottom() {
		y = b.screen
	} else {
		y += 1500 // clear of the ring
	}
	high := 7 * render.MM
	if len(paper.Wrap(fonts.Sans, paper.PlainHeight, wording.CableWords(c), (right-left-render.MM)*100/85)) > 2 {
		high = 10500 * render.UM
	}
	words := paper.Area{Min: render.Point{X: left + 500, Y: y + 2*render.MM}, Max: render.Point{X: right - 500, Y: y + 2*render.MM + high}}
	d.lines(words, render.Middle, wording.CableWords(c))
	if b.screen != 0 && d.hasScreen(b, run) && d.drains(b, run, mid) {
		from := low + 3*render.MM
		if words.Min.Y < b.screen { // the drain begins below the words
			from = words.Max.Y + 500*render.UM
		}
		d.Line(render.Screen, mid, from, mid, b.screen)
	}
}

// hasScreen reports whether the screen of a run is drawn at it.
func (d *loopSheet) hasScreen(b *block, run drawnRun) bool {
	return slices.ContainsFunc(b.wired(d.pl.Plant), func(w *model.Conductor) bool {
		return w.Screen && w.Pos == run.Pos && w.Core == run.Screen
	})
}

// safe reports whether a run is intrinsically safe.
func (d *loopSheet) safe(b *block, run *model.Run) bool {
	return slices.ContainsFunc(b.circuit.Conductors(d.pl.Plant), func(w *model.Conductor) bool {
		return w.Pos == run.Pos && w.IntrinsicallySafe()
	})
}

// clear is the widest stretch between left and right that no place stands in:
// a run may pass by places of other circuits.
func (d *loopSheet) clear(left, right render.Len) (from, to render.Len) {
	from, to = left, left
	at := left
	for _, b := range d.t.bands {
		x0, x1 := d.t.reach(b)
		if x0 <= left || x1 >= right {
			continue
		}
		if x0-at > to-from {
			from, to = at, x0
		}
		at = x1
	}
	if right-at > to-from {
		from, to = at, right
	}
	return from, to
}

const ringWide = 2200 * render.UM // half of the ring round a cable
