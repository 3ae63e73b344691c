package loop

import (
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// This file draws the work done in the system.

// functions draws the work done in the system beside the channels it reads
// and drives, or under them where the sheet is too narrow.
// It returns how far down they reach.
func (d *loopSheet) functions() (reach render.Len) {
	var between render.Len // how far down those reach that stand within the walls of a channel
	for _, f := range d.s.Loop.Functions {
		var ports []channelPort
		var blocks []int // of the ports
		for _, c := range slices.Concat(f.Reads, f.Outputs) {
			for i, b := range d.t.blocks {
				if b.circuit == c {
					if p, ok := d.channelPort(b); ok {
						ports, blocks = append(ports, p), append(blocks, i)
					}
				}
			}
		}
		if len(ports) == 0 {
			continue
		}
		if i := slices.IndexFunc(ports, func(p channelPort) bool { return p.goesOn }); i >= 0 {
			between = d.between(f, ports[i], d.t.blocks[blocks[i]], between)
			ports, blocks = slices.Delete(ports, i, i+1), slices.Delete(blocks, i, i+1)
		}
		if len(ports) == 0 {
			continue
		}
		first := ports[0]
		last := d.t.cols.all[len(d.t.cols.all)-1]
		x := last.east() + last.right + wallGap + d.t.widths().funct/2
		var y render.Len
		width := d.t.widths().funct - functionSide
		under := d.t.widths().funct == 0
		switch {
		case under:
			x, y = first.x+8*render.MM, first.foot+10*render.MM
			width = 30 * render.MM
		case first.through:
			y = first.foot + 8*render.MM
		default:
			y = d.middle(ports, blocks)
		}
		y = max(y, reach)
		if under {
			y = d.t.blocks[blocks[0]].clear(y, len(functionLines(0, f, 0)))
		}
		words := functionLines(d.pl.Plant.Practice.Words, f, d.t.widths().funct)
		reach = y + taken(len(words))
		d.group("function-"+f.Tag, []render.Datum{{Key: "function", Value: f.Tag}}, func() {
			s, _ := functionBubble(f, d.t.widths().funct)
			d.Put(s, x, y)
			for i, p := range ports {
				d.link(p, render.Point{X: x, Y: y}, x+s.Min.X, last.east()+last.right+feedOver+render.MM+render.Len(i%4)*1200, under)
			}
			tx, ty, align := x, y+10*render.MM, render.Middle
			if under {
				tx, ty, align = x+max(8*render.MM, s.Max.X+render.MM), y-3*render.MM, render.Left
				width = last.east() + last.right + wallGap - tx - render.MM
			}
			for _, words := range words {
				d.text(tx, ty, paper.Letters(fonts.Sans, paper.PlainHeight, align), words, width)
				ty += paper.Pitch(paper.PlainHeight)
			}
		})
	}
	return max(reach, between)
}

// between draws a function within the walls of a channel whose leg goes on to
// another place, and returns how far down it reaches.
func (d *loopSheet) between(f *model.Function, p channelPort, b *block, taken render.Len) render.Len {
	words := functionLines(d.pl.Plant.Practice.Words, f, 0)
	x, y := (p.left+p.right)/2, b.belowLegs(max(p.foot-4*render.MM+betweenWalls, taken), betweenTall(len(words)))
	d.group("function-"+f.Tag, []render.Datum{{Key: "function", Value: f.Tag}}, func() {
		s, _ := functionBubble(f, 0)
		d.Put(s, x, y)
		d.Line(render.Signal, p.x, p.foot, p.x, y, x+6*render.MM, y)
		d.Add(&render.Circle{Pen: render.Signal, Centre: render.Point{X: p.x, Y: (p.foot + y) / 2}, R: 600, Fill: render.Blank})
		width := p.right - p.left - 2*render.MM
		if left := 2*(p.x-x) - 2*render.MM; left > 18*render.MM { // of the link to the next one
			width = min(width, left)
		}
		for i, s := range words {
			d.text(x, y+10*render.MM+render.Len(i)*paper.Pitch(paper.PlainHeight), paper.Letters(fonts.Sans, paper.PlainHeight, render.Middle), s, width)
		}
	})
	return y + betweenTall(len(words))
}

// betweenTall is what a function with so many lines takes of the room under a channel whose
// leg goes on.
func betweenTall(lines int) render.Len {
	return 16*render.MM + render.Len(lines)*paper.Pitch(paper.PlainHeight)
}

// middle is half-way between the ports of a function that stand within one wall
// with the first: beyond it there is no room for the function.
func (d *loopSheet) middle(ports []channelPort, blocks []int) render.Len {
	last := d.t.bands[len(d.t.bands)-1]
	var sum, n render.Len
	for k, p := range ports {
		from, to := min(blocks[0], blocks[k]), max(blocks[0], blocks[k])
		if k == 0 || !slices.ContainsFunc(d.t.blocks[from:to+1], func(b *block) bool { return !d.t.uses(b, last) }) {
			sum, n = sum+p.y, n+1
		}
	}
	return sum / n
}

// linkInset is how far from its right edge a link leaves a channel that legs go
// through.
const linkInset = 2 * render.MM

// channelPort is where a software link leaves the drawing of a channel.
type channelPort struct {
	x, y    render.Len // right edge, middle
	foot    render.Len // lower edge
	through bool       // legs leave at the right edge: the link leaves below
	goesOn  bool       // and go on to another place

	left, right render.Len // walls round the channel
}

// channelPort is that of the channel of a block; false without one, and where the
// circuit goes on to another segment with a leg of the same channel: it has it then.
func (d *loopSheet) channelPort(b *block) (channelPort, bool) {
	var port channelPort
	var first *model.Station // of the channel: parted legs may come to it one by one
	channels(b.path, func(path *model.Path, st *model.Station, last bool) {
		if port.through || first != nil && !sameChannel(first, st) {
			return
		}
		rows := b.landings(path, st)
		if len(rows) == 0 {
			return
		}
		top, foot := bodySpan(rows[0], rows[len(rows)-1])
		if first != nil { // what stands below it stands below all of them
			port.foot = max(port.foot, foot)
			return
		}
		first = st
		if goesThrough(st) || !last {
			port = d.throughPort(b, st, rows)
			return
		}
		col := d.t.cols.at[st]
		port.x, port.y, port.foot = col.west()+termWide+d.t.widths().card, (top+foot)/2, foot
		if d.t.widths().funct == 0 {
			port.x = col.west() + termWide
		}
	})
	for later := b.segment.next; later != nil && first != nil; later = later.next {
		channels(later.path, func(_ *model.Path, st *model.Station, _ bool) {
			if first != nil && sameChannel(first, st) && slices.ContainsFunc(st.Terminations, func(t model.Termination) bool { return t.Does == model.Lands }) {
				first = nil
			}
		})
	}
	return port, first != nil
}

// throughPort is that of a channel that legs go through.
func (d *loopSheet) throughPort(b *block, st *model.Station, rows []render.Len) channelPort {
	col := d.t.cols.at[st]
	port := channelPort{through: true, x: col.east() - linkInset, y: rows[0], foot: rows[len(rows)-1] + 4*render.MM, goesOn: b.goesOn()}
	for _, band := range d.t.bands {
		if x0, x1 := d.t.reach(band); x0 < col.x && col.x < x1 {
			port.left, port.right = x0, x1
		}
	}
	return port
}

// channels visits the channels on a path and its tails; last is one at the end of it.
func channels(path *model.Path, visit func(path *model.Path, st *model.Station, last bool)) {
	for i, st := range path.Stations {
		if st.Channel > 0 {
			visit(path, st, i == len(path.Stations)-1 && len(path.Tails) == 0)
		}
	}
	for _, t := range path.Tails {
		channels(t, visit)
	}
}

func sameChannel(a, b *model.Station) bool { return a.Part == b.Part && a.Channel == b.Channel }

// goesThrough reports whether a leg lands on a station and leaves by another terminal.
func goesThrough(st *model.Station) bool {
	return slices.ContainsFunc(st.Terminations, func(t model.Termination) bool { return t.Does == model.Lands && t.In != t.Out })
}

// landings are the rows of the legs that land on a station.
func (b *block) landings(path *model.Path, st *model.Station) (rows []render.Len) {
	for k, termination := range st.Terminations {
		if termination.Does == model.Lands {
			rows = append(rows, b.row(path.Legs[k]))
		}
	}
	return rows
}

// link draws a software link from a channel to a function: a line
// with an open circle. It goes up and down at bus, beside the last column; west is
// the left end of the bubble.
func (d *loopSheet) link(p channelPort, to render.Point, west, bus render.Len, under bool) {
	x, y := to.X, to.Y
	circle := func(x, y render.Len) {
		d.Add(&render.Circle{Pen: render.Signal, Centre: render.Point{X: x, Y: y}, R: 600, Fill: render.Blank})
	}
	switch {
	case under && p.foot+10*render.MM < y: // past those that stand between
		side := x - 7*render.MM
		d.Line(render.Signal, side, p.foot, side, y, west, y)
		circle(side, y-8*render.MM)
	case under && p.foot < y:
		d.Line(render.Signal, x, p.foot, x, y-6*render.MM)
		circle(x, (p.foot+y-6*render.MM)/2)
	case p.through && y == p.foot+8*render.MM:
		d.Line(render.Signal, p.x, p.foot, p.x, y, west, y)
		circle((p.x+x)/2, y)
	case p.through:
		low := p.foot + underTick - 400*render.UM // below a line of words under a landing beside it
		d.Line(render.Signal, p.x, p.foot, p.x, low, bus, low, bus, y, west, y)
		circle((bus+west)/2, y)
	case p.y > y-5*render.MM && p.y < y+5*render.MM:
		d.Line(render.Signal, p.x, p.y, west, p.y)
		circle((p.x+west)/2, p.y)
	default:
		d.Line(render.Signal, p.x, p.y, bus, p.y, bus, y, west, y)
		circle((bus+west)/2, y)
	}
}

// The room for the words under a function, in a column of its own.
const (
	functionSide  = 6 * render.MM
	leastFunction = 28 * render.MM
)

// functionLines are what stands under the bubble of a function, as many lines in any
// words: first its tag if the bubble does not hold it; column is that of the functions.
func functionLines(words english.Words, f *model.Function, column render.Len) []string {
	width := max(column, leastFunction) - functionSide
	kind := f.Kind.Words()
	if f.Of != nil {
		kind = f.Of.Kind.Words
	}
	lines := []string{words.Say(kind)}
	if _, whole := functionBubble(f, column); !whole {
		lines = append(tagLines(fonts.Sans, f.Tag, width), lines...)
	}
	if f.Action != 0 {
		lines = append(lines, f.Action.String()+" acting")
	}
	for _, from := range f.Takes {
		lines = append(lines, paper.Wrap(fonts.Sans, paper.PlainHeight, f.TakenAs(from), width)...)
	}
	for _, p := range f.Parts {
		lines = append(lines, paper.Wrap(fonts.Sans, paper.PlainHeight, p.Circuit.Name+" by "+p.Range.Text, width)...)
	}
	if f.Set.Given() {
		lines = append(lines, "set "+f.Set.Text)
	}
	for _, s := range f.Alarms {
		unit := ""
		if s.Name != "" {
			unit, _ = wording.AlarmSignal(f, s)
		}
		words := s.Text
		if s.Band > 0 { // beside its name and value
			words = strings.TrimSpace(s.Name + " " + s.At)
		}
		lines = append(lines, words+unit)
	}
	return append(lines, controllerLines(f, width)...)
}

// controllerLines tell which system a function is in whose circuits end on remote I/O: it
// is drawn beside their cards, and is not there.
func controllerLines(f *model.Function, width render.Len) (lines []string) {
	if f.Of != nil || f.Loop == nil {
		return nil
	}
	var at []string
	for _, c := range slices.Concat(f.Reads, f.Outputs) {
		for _, rack := range c.Racks() {
			at = append(at, rack.Controller.Tag)
		}
	}
	for _, tag := range model.Unique(at) {
		lines = append(lines, paper.Wrap(fonts.Sans, paper.PlainHeight, "in "+tag, width)...)
	}
	return lines
}
