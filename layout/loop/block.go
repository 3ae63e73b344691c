package loop

import (
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// This file holds how tall a circuit is drawn and where its legs run.

// block is one circuit on a sheet, or one segment of it.
type block struct {
	*segment
	sheet  *sheet.Sheet
	pitch  render.Len // from leg to leg
	top    render.Len
	height render.Len
	rows   []render.Len // of the legs
	gaps   []render.Len // before each leg, beyond the pitch
	screen render.Len   // row of the screen; 0 without one
	first  bool         // of the blocks that begin on one device
	group  int          // how many blocks begin on that device, for the first
}

func newBlock(l *segment, w widths) *block {
	n := len(l.circuit.Legs)
	b := &block{segment: l, pitch: legPitch, rows: make([]render.Len, n), gaps: make([]render.Len, n)}
	b.part(l.path)
	if l.screened() {
		b.screen = 1
	}
	b.size(w)
	return b
}

// size reckons the height of a block from the pitch of its legs.
func (b *block) size(w widths) {
	b.height = b.head() + render.Len(b.spaces())*b.pitch + blockFoot
	for _, gap := range b.gaps {
		b.height += gap
	}
	b.height += b.underBody()
	b.place(0)
	b.height = max(b.height, b.bodyFoot(b.path)+clearOfWall, b.throughFoot(b.path))
	if b.channel() == nil {
		return
	}
	functions := functionsAt(b.circuit)
	if b.goesOn() { // between the walls of the channel
		y := b.channelRow() + betweenWalls
		for _, f := range b.functions() {
			tall := betweenTall(len(functionLines(0, f, 0)))
			y = b.belowLegs(y, tall) + tall
		}
		b.height = max(b.height, y)
		return
	}
	if w.funct == 0 { // under the channel
		y := max(b.channelRow()+18*render.MM, b.bottom()+4*render.MM, b.bodyFoot(b.path)+8*render.MM) + 2*render.MM
		for _, f := range b.functions() { // it may begin on another sheet, and stand here again
			b.height = max(b.height, y+taken(len(functionLines(0, f, w.funct))))
		}
		for _, f := range functions {
			y += taken(len(functionLines(0, f, w.funct)))
		}
		b.height = max(b.height, y)
		return
	}
	y := b.channelRow() + render.MM
	tall := func(f *model.Function) render.Len { // bubble, words
		return 18*render.MM + render.Len(len(functionLines(0, f, w.funct))-1)*paper.Pitch(paper.PlainHeight)
	}
	for _, f := range b.functions() {
		b.height = max(b.height, y+tall(f))
	}
	for _, f := range functions {
		b.height = max(b.height, y+tall(f))
		y += taken(len(functionLines(0, f, w.funct)))
	}
}

// functions are those that read or drive the circuit.
func (b *block) functions() (all []*model.Function) {
	for _, f := range b.circuit.Loop.Functions {
		if slices.Contains(f.Reads, b.circuit) || slices.Contains(f.Outputs, b.circuit) {
			all = append(all, f)
		}
	}
	return all
}

// taken is how far below the middle of a function with so many lines under its bubble the
// middle of the next one may stand.
func taken(lines int) render.Len {
	return 8*render.MM + render.Len(lines+2)*paper.Pitch(paper.PlainHeight)
}

// head is the room above the first leg: more where the title of a segment that comes
// from above is so long that it reaches over its first cable.
func (b *block) head() render.Len {
	const short, more = 45 * render.MM, 4 * render.MM
	if b.prev != nil && render.Measure(fonts.Bold, b.words(), paper.PlainHeight) > short {
		return blockHead + more
	}
	return blockHead
}

// words are the title of a block.
func (b *block) words() string {
	if b.prev != nil {
		return "Circuit " + b.circuit.Name + ", continued"
	}
	return wording.Joined("Circuit "+b.circuit.Name, signalWords(b.circuit))
}

// goesOn reports whether a leg goes through the channel of the segment, and on to another
// place: what is right of it is not its own.
func (b *block) goesOn() bool {
	var visit func(path *model.Path) bool
	visit = func(path *model.Path) bool {
		for i, st := range path.Stations {
			for _, termination := range st.Terminations {
				if st.Channel > 0 && termination.Does == model.Lands && termination.In != termination.Out &&
					i+1 < len(path.Stations) && path.Stations[i+1].Part.Place != st.Part.Place {
					return true
				}
			}
		}
		return slices.ContainsFunc(path.Tails, visit)
	}
	return visit(b.path)
}

// betweenWalls is how far below its leg a channel that legs go through has its
// functions: below its words.
const betweenWalls = 26 * render.MM

// spaces counts those between the rows of a block.
func (b *block) spaces() int {
	if b.screen != 0 {
		return len(b.rows)
	}
	return len(b.rows) - 1
}

func (b *block) place(y render.Len) {
	b.top = y
	y += b.head()
	for i := range b.rows {
		y += b.gaps[i]
		b.rows[i] = y
		y += b.pitch
	}
	if b.screen != 0 {
		b.screen = y + b.underBody()
	}
}

// clearOfWall is how far a channel stands above the wall under it, and the name of what
// comes next.
const clearOfWall = 4 * render.MM

// bodyFoot is how far down the parts reach that the legs of a path end in; 0 for none.
func (b *block) bodyFoot(path *model.Path) (foot render.Len) {
	for _, t := range path.Tails {
		foot = max(foot, b.bodyFoot(t))
	}
	n := len(path.Stations)
	if n == 0 || len(path.Tails) > 0 || path.Stations[n-1].Part.Strip != nil || b.goes == path.Stations[n-1] {
		return foot
	}
	highest, lowest := render.Len(0), render.Len(0)
	for i, termination := range path.Stations[n-1].Terminations {
		if y := b.row(path.Legs[i]); termination.Does == model.Lands {
			if highest == 0 {
				highest = y
			}
			lowest = y
		}
	}
	if highest > 0 {
		_, foot = bodySpan(highest, lowest)
	}
	return foot
}

// throughFoot is how far down the words reach under channels that legs go through, with
// room above the wall; 0 for none.
func (b *block) throughFoot(path *model.Path) (foot render.Len) {
	for _, t := range path.Tails {
		foot = max(foot, b.throughFoot(t))
	}
	for _, st := range path.Stations {
		rows := b.landings(path, st)
		if st.Part.Card == nil || !goesThrough(st) || len(rows) == 0 {
			continue
		}
		more := render.Len(1) // lines, after the first
		if st.Part.SaysPower() || st.Part.CommonOf(st.Channel) != nil {
			more++
		}
		_, low := bodySpan(rows[0], rows[len(rows)-1])
		foot = max(foot, low+4*render.MM+more*paper.Pitch(paper.PlainHeight)+clearOfWall/2)
	}
	return foot
}

// underBody is how much further down than the pitch the screen runs: below the part that
// the last leg ends in, where the cable of another leg goes on from there.
func (b *block) underBody() render.Len {
	if b.screen == 0 || !screenPasses(b.path, len(b.rows)) {
		return 0
	}
	_, foot := bodySpan(0, 0)
	return max(0, foot+3*render.MM-b.pitch)
}

// screenPasses reports whether one of the legs that part ends in a part, and it is the
// last, and another has a cable with a screen.
func screenPasses(path *model.Path, last int) bool {
	ends := func(t *model.Path) bool {
		n := len(t.Stations)
		return slices.Contains(t.Legs, last) && n > 0 && len(t.Tails) == 0 && t.Stations[n-1].Part.Strip == nil
	}
	screened := func(t *model.Path) bool {
		return !slices.Contains(t.Legs, last) && slices.ContainsFunc(t.Runs, func(r *model.Run) bool { return r.Screen != nil })
	}
	return slices.ContainsFunc(path.Tails, ends) && slices.ContainsFunc(path.Tails, screened) ||
		slices.ContainsFunc(path.Tails, func(t *model.Path) bool { return screenPasses(t, last) })
}

// row is where leg n of the circuit runs, from 1; 0 is the screen.
func (b *block) row(n int) render.Len {
	if n == 0 {
		return b.screen
	}
	return b.rows[n-1]
}

func (b *block) bottom() render.Len { return b.rows[len(b.rows)-1] }

// clear is where a function under a channel stands that would stand at y and has so many
// lines beside it: below all legs, where these would reach a leg below it.
func (b *block) clear(y render.Len, lines int) render.Len {
	const over, under = 6 * render.MM, 15 * render.MM // words on a leg, and the sheets below it
	foot := y + max(6*render.MM, render.Len(lines-1)*paper.Pitch(paper.PlainHeight)-2*render.MM)
	for _, row := range b.rows {
		if row > y-6*render.MM && row-over < foot {
			return max(y, b.bottom()+under)
		}
	}
	return y
}

// belowLegs is where a function under a channel whose leg goes on stands that would stand at y:
// below all legs and the screen, where one of them would run through it.
func (b *block) belowLegs(y, tall render.Len) render.Len {
	const over = 8 * render.MM
	for _, row := range append(slices.Clone(b.rows), b.screen) {
		if row > y-over && row < y+tall {
			return max(y, max(b.bottom(), b.screen)+over+render.MM)
		}
	}
	return y
}

// channelRow is the row of the first leg that lands on the channel of the segment,
// lower where the leg goes through.
func (b *block) channelRow() (y render.Len) {
	var visit func(path *model.Path)
	visit = func(path *model.Path) {
		for _, st := range path.Stations {
			for i, termination := range st.Terminations {
				if y == 0 && st.Channel > 0 && termination.Does == model.Lands {
					if y = b.row(path.Legs[i]); termination.In != termination.Out {
						y += 5 * render.MM
					}
					y += b.pitch / 2 * render.Len(max(0, len(st.Terminations)-2)) // functions stand at the middle
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

// part gives legs room where they part and one of two neighbours has a cable
// or a channel of its own to be drawn, and below a part in the leg above, which has
// words under it.
func (b *block) part(path *model.Path) {
	for _, st := range path.Stations {
		last := 0
		for i, termination := range st.Terminations {
			if termination.Does == model.Lands && termination.In != termination.Out && st.Part.Strip == nil && (st.Part.Device == nil || len(takerLines(st.Part)) > 0) {
				last = max(last, path.Legs[i])
			}
		}
		if last > 0 && last < len(b.gaps) {
			b.gaps[last] = tailGap
		}
	}
	for i, t := range path.Tails {
		if i > 0 && len(t.Legs) > 0 && (crowded(t) || crowded(path.Tails[i-1])) {
			b.gaps[t.Legs[0]-1] = tailGap
		}
		b.part(t)
	}
}

// crowded reports whether a tail has more to show than wires and terminals.
func crowded(t *model.Path) bool {
	for _, run := range t.Runs {
		if run.Kind == model.CableRun {
			return true
		}
	}
	n := len(t.Stations)
	return n > 0 && len(t.Tails) == 0 && t.Stations[n-1].Part.Strip == nil
}

// functionsAt returns the functions that are drawn at a circuit: those that read it first
// of the circuits of their loop, or drive it and read none of these.
func functionsAt(c *model.Circuit) []*model.Function {
	var all []*model.Function
	for _, f := range c.Loop.Functions {
		list := slices.Concat(f.Reads, f.Outputs)
		own := slices.IndexFunc(list, func(o *model.Circuit) bool { return o.Loop == c.Loop }) // others have no place here
		if own >= 0 && list[own] == c {
			all = append(all, f)
		}
	}
	return all
}

// device is the device that the block begins on.
func (b *block) device() *model.Part {
	if b.prev != nil {
		return nil
	}
	return Device(b.circuit)
}

// Device is the device that a circuit is drawn to begin on; nil if it begins on
// a card.
func Device(c *model.Circuit) *model.Part {
	if c.Broken || len(c.Path.Stations) == 0 {
		return nil
	}
	if p := whole(c).path.Stations[0].Part; p.Device != nil {
		return p
	}
	return nil
}

// Begins is the station that a circuit is drawn to begin at, where Device is.
func Begins(c *model.Circuit) *model.Station { return whole(c).path.Stations[0] }

// deepen makes room for the device that blocks begin on and returns how much it
// took.
func deepen(plant *model.Plant, all []*block, w widths) render.Len {
	dev := all[0].device()
	if dev == nil {
		return 0
	}
	var tall render.Len
	for _, b := range all {
		tall += b.height
	}
	all[0].place(0)
	more := max(0, max(deviceTall, (all[0].rows[0]+all[0].bottom())/2+deviceFoot(plant, dev, w, all))-tall)
	all[len(all)-1].height += more
	return more
}
