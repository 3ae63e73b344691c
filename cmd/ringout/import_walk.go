package main

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
)

// This file rebuilds the walks of circuits from their cores and wires.

// walkStep is one item of a walk as it is written, or the parting of lanes.
type walkStep struct {
	words string
	tails []walkTail
}

type walkTail struct {
	lane  int
	steps []walkStep
}

// stop is where a lane lands between two edges. A stop without a part is a cut
// end.
type stop struct {
	part    *anyPart
	channel int
	in, out string
}

func (s stop) same(o stop) bool { return s.part == o.part && s.channel == o.channel }

// lane is one conductor path of a circuit: edge i leads to stop i+1.
type lane struct {
	n     int
	role  string
	edges []*edge
	stops []stop
}

// ended tells that the lane goes no further than stop at, and landed there.
func (l *lane) ended(at int) bool { return at == len(l.edges) && l.stops[at].part != nil }

// done tells that the lane goes no further than stop at.
func (l *lane) done(at int) bool { return at >= len(l.edges) }

// walker writes the walk of one circuit.
type walker struct {
	im      *importer
	lanes   []*lane
	screens []*edge
}

// walks rebuilds every circuit. Edges that do not fit are lost.
func (im *importer) walks() {
	im.guessCircuits()
	for _, l := range im.loops {
		for _, c := range l.circuits {
			w := &walker{im: im}
			for _, e := range c.edges {
				if e.isScreen() {
					w.screens = append(w.screens, e)
				}
			}
			if w.lanes = im.lanesOf(c); len(w.lanes) == 0 {
				for _, e := range c.edges {
					im.lose(e.row, "", "circuit %s cannot be walked from here", c.name)
				}
				continue
			}
			c.walk = w.write()
		}
	}
}

// lanesOf puts the edges of a circuit in order: by lane and step where the list
// tells them, else terminal by terminal from the device.
func (im *importer) lanesOf(c *anyCircuit) []*lane {
	var edges []*edge
	told := true
	for _, e := range c.edges {
		if !e.isScreen() {
			edges = append(edges, e)
			told = told && e.lane > 0 && e.step > 0
		}
	}
	var lanes []*lane
	if told {
		slices.SortStableFunc(edges, func(a, b *edge) int {
			return cmp.Or(cmp.Compare(a.lane, b.lane), cmp.Compare(a.step, b.step))
		})
		for _, e := range edges {
			if n := len(lanes); n == 0 || lanes[n-1].n != e.lane {
				lanes = append(lanes, &lane{n: e.lane})
			}
			l := lanes[len(lanes)-1]
			l.edges = append(l.edges, e)
		}
	} else {
		lanes = im.follow(c, edges)
	}
	var whole []*lane
	for _, l := range lanes {
		if l.settle(im, c) {
			whole = append(whole, l)
		}
	}
	for i, l := range whole {
		if first := whole[0]; !l.stops[0].same(first.stops[0]) {
			for _, e := range l.edges {
				im.lose(e.row, "from", "circuit %s begins on %s and on %s", c.name, first.stops[0].part.tag, l.stops[0].part.tag)
			}
			whole = slices.Delete(whole, i, i+1)
			return whole
		}
	}
	return whole
}

// settle finds the stops of a lane; false where an edge does not follow the one
// before it.
func (l *lane) settle(im *importer, c *anyCircuit) bool {
	for i, e := range l.edges {
		if e.from.part == nil {
			im.loseFrom(l.edges[i:], "from", fmt.Sprintf("lane %d of circuit %s does not begin on a terminal here", l.n, c.name))
			l.edges = l.edges[:i]
			break
		}
		if i == 0 {
			l.stops = []stop{e.from.stop()}
		} else {
			last := &l.stops[i]
			if !last.same(e.from.stop()) {
				im.loseFrom(l.edges[i:], "from", fmt.Sprintf("lane %d of circuit %s came to %s before", l.n, c.name, l.edges[i-1].row.get("to")))
				l.edges = l.edges[:i]
				break
			}
			last.out = e.from.name
		}
		l.stops = append(l.stops, e.to.stop())
		if l.role = cmp.Or(l.role, e.role); l.role == "" && i == 0 && (e.from.name == "+" || e.from.name == "-") {
			l.role = e.from.name
		}
	}
	return len(l.edges) > 0
}

func (im *importer) loseFrom(edges []*edge, column, text string) {
	for _, e := range edges {
		im.lose(e.row, column, "%s", text)
	}
}

func (t terminalEnd) stop() stop {
	if t.part == nil {
		return stop{}
	}
	return stop{part: t.part, channel: t.part.channel(t.name), in: t.name, out: t.name}
}

// channelWord is a terminal of a card as cards have them if nothing is said.
var channelWord = regexp.MustCompile(`^(\d{1,3})(\+|-|[AB][12]?)$`)

// channel is that of a card's terminal; 0 for other parts.
func (p *anyPart) channel(terminal string) int {
	if ch := p.channels[terminal]; ch > 0 || !p.isCard() {
		return ch
	}
	m := channelWord.FindStringSubmatch(terminal)
	if m == nil {
		return 0 // the check asks
	}
	n, _ := strconv.Atoi(m[1])
	return n
}

func (p *anyPart) isCard() bool {
	return p.loop == "" && (p.place != nil || len(p.rows) > 0) && !slices.Contains([]string{"strip", "earth bar", "barrier", "isolator", "supply"}, p.kind)
}

func (p *anyPart) isDevice() bool { return p.loop != "" }

// through is where a lane leaves a barrier or isolator that it entered; "" for
// other parts.
func (p *anyPart) through(in string) string {
	if p.kind != "barrier" && p.kind != "isolator" {
		return ""
	}
	names := p.terminals
	if len(names) == 0 {
		names = []string{"1", "2", "3", "4"}
	}
	i := slices.Index(names, in)
	if i < 0 || len(names)%2 != 0 {
		return ""
	}
	return names[(i+len(names)/2)%len(names)]
}

// follow walks the edges of a circuit from its device, lane by lane, turning
// them round as need be.
func (im *importer) follow(c *anyCircuit, edges []*edge) []*lane {
	at := map[terminalEnd][]*edge{}
	for _, e := range edges {
		for _, t := range []terminalEnd{e.from, e.to} {
			if t.part != nil {
				at[t] = append(at[t], e)
			}
		}
	}
	start := im.startOf(c, edges)
	if start == nil {
		return nil
	}
	used := map[*edge]bool{}
	next := func(t terminalEnd) *edge {
		for _, e := range at[t] {
			if !used[e] {
				return e
			}
		}
		return nil
	}
	var lanes []*lane
	for _, name := range slices.Clone(start.terminals) {
		t := terminalEnd{part: start, name: name}
		e := next(t)
		if e == nil {
			continue
		}
		l := &lane{n: len(lanes) + 1}
		for e != nil {
			used[e] = true
			if e.from != t {
				e.from, e.to = e.to, e.from
			}
			l.edges = append(l.edges, e)
			if t = e.to; t.part == nil {
				break
			}
			if e = next(t); e == nil && t.part.kind != "strip" {
				t, e = im.pass(t, next)
			}
		}
		lanes = append(lanes, l)
	}
	for _, e := range edges {
		if !used[e] {
			im.lose(e.row, "", "nothing joins it to the walk of circuit %s", c.name)
		}
	}
	return lanes
}

// pass goes through a part in series: by the terminal of a barrier that belongs
// to this one, or by the only other one that an edge goes on from.
func (im *importer) pass(in terminalEnd, next func(terminalEnd) *edge) (terminalEnd, *edge) {
	if out := in.part.through(in.name); out != "" {
		t := terminalEnd{part: in.part, name: out}
		return t, next(t)
	}
	var found terminalEnd
	var on *edge
	for _, name := range in.part.terminals {
		t := terminalEnd{part: in.part, name: name}
		if in.part.channel(name) != in.part.channel(in.name) {
			continue
		}
		if e := next(t); e != nil {
			if on != nil {
				return in, nil // two ways: the list has to tell
			}
			found, on = t, e
		}
	}
	return found, on
}

// startOf is the part that a circuit begins on: the device of its name, the
// first field device, any device, or else the first card.
func (im *importer) startOf(c *anyCircuit, edges []*edge) *anyPart {
	var best *anyPart
	rank := func(p *anyPart) int {
		switch {
		case p == nil:
			return 0
		case p.isDevice() && p.tag == c.name:
			return 4
		case p.isDevice() && p.place == nil:
			return 3
		case p.isDevice():
			return 2
		case p.isCard():
			return 1
		}
		return 0
	}
	for _, e := range edges {
		for _, p := range []*anyPart{e.from.part, e.to.part} {
			if rank(p) > rank(best) {
				best = p
			}
		}
	}
	return best
}

// guessCircuits gives the cores that no column puts into a circuit to the
// circuit of the device that they can be followed to. Lanes that leave a device
// in one group of a cable are one circuit, with the device's name.
func (im *importer) guessCircuits() {
	at := map[terminalEnd][]*edge{}
	free := func(e *edge) bool {
		return e.circuit == nil && e.spare == "" && e.wire != "feed" && !e.row.lost && (e.from.part != nil || e.to.part != nil)
	}
	for _, e := range im.edges {
		if free(e) && !e.isScreen() {
			at[e.from] = append(at[e.from], e)
			at[e.to] = append(at[e.to], e)
		}
	}
	groups := map[*anyCable]map[int]*anyCircuit{}
	for _, e := range im.edges {
		if !free(e) || e.isScreen() {
			continue
		}
		p := e.from.part
		if p == nil || !p.isDevice() {
			p = e.to.part
		}
		if p == nil || !p.isDevice() || p.place != nil {
			continue
		}
		c := groups[e.cable][e.group]
		if c == nil {
			l, name := im.loop(p.loop), p.tag
			for n := 2; slices.ContainsFunc(l.circuits, func(c *anyCircuit) bool { return c.name == name }); n++ {
				name = fmt.Sprintf("%s %d", p.tag, n)
			}
			c = im.circuit(l, name)
			if groups[e.cable] == nil {
				groups[e.cable] = map[int]*anyCircuit{}
			}
			if e.cable != nil {
				groups[e.cable][e.group] = c
				if e.cable.typ.size == 1 { // all cores of a multicore to one device
					for g := range e.cable.typ.groups {
						groups[e.cable][g+1] = c
					}
				}
			}
		}
		for queue := []*edge{e}; len(queue) > 0; queue = queue[1:] {
			x := queue[0]
			if x.circuit != nil {
				continue
			}
			im.join(x, c)
			for _, t := range []terminalEnd{x.from, x.to} {
				if t.part == nil || t.part == p {
					continue
				}
				queue = append(queue, at[t]...)
				if out := t.part.through(t.name); out != "" {
					queue = append(queue, at[terminalEnd{part: t.part, name: out}]...)
				}
			}
		}
	}
	for _, e := range im.edges { // screens go with their cores
		if e.cable == nil || e.n != 0 || e.circuit != nil || e.spare != "" {
			continue
		}
		var c *anyCircuit
		for _, o := range im.edgesOf(e.cable) {
			if o.n > 0 && o.circuit != nil && (o.group == e.group || e.group == 0 && (e.cable.typ.groups == 1 || e.cable.typ.size == 1)) {
				c = o.circuit
			}
		}
		if c != nil && (e.group > 0 || im.allIn(e.cable, c)) {
			im.join(e, c)
		}
	}
}

// allIn tells whether every core of a cable is in circuit c.
func (im *importer) allIn(cable *anyCable, c *anyCircuit) bool {
	return !slices.ContainsFunc(im.edgesOf(cable), func(e *edge) bool { return e.n > 0 && e.circuit != c })
}

// edgesOf are the cores of a cable, in order.
func (im *importer) edgesOf(c *anyCable) []*edge {
	var all []*edge
	for g := 0; g <= c.typ.groups; g++ {
		for n := 0; n <= c.typ.size; n++ {
			if e := c.cores[[2]int{g, n}]; e != nil {
				all = append(all, e)
			}
		}
	}
	return all
}

// write writes the walk of all lanes side by side.
func (w *walker) write() []walkStep {
	at := make([]int, len(w.lanes)) // the stop where each lane is
	first := walkStep{words: w.station(w.lanes, at, nil, true)}
	return append([]walkStep{first}, w.from(w.lanes, at)...)
}

// from writes what follows stop at of each lane.
func (w *walker) from(lanes []*lane, at []int) []walkStep {
	var steps []walkStep
	for {
		var going []int // lanes that go on
		parted := false
		for i, l := range lanes {
			if !l.done(at[i]) {
				going = append(going, i)
			}
			parted = parted || l.ended(at[i])
		}
		if len(going) == 0 {
			return steps
		}
		if len(lanes) > 1 && parted {
			return append(steps, w.part(lanes, at, going))
		}
		if run, ok := w.run(lanes, at, going); ok && w.together(lanes, at, going) {
			steps = append(steps, w.land(lanes, at, going, run)...)
			continue
		}
		there := slices.Clone(at)
		detour, ok := w.detour(lanes, there, going)
		if !ok {
			return append(steps, w.part(lanes, at, going))
		}
		steps, at = append(steps, detour...), there
	}
}

// together tells whether the next stop of all lanes is one station.
func (w *walker) together(lanes []*lane, at, going []int) bool {
	var first *stop
	for _, i := range going {
		s := &lanes[i].stops[at[i]+1]
		if s.part == nil {
			continue
		}
		if first == nil {
			first = s
		}
		if !s.same(*first) {
			return false
		}
	}
	return true
}

// land writes a run and the station that it leads to.
func (w *walker) land(lanes []*lane, at, going []int, run string) []walkStep {
	before := slices.Clone(at)
	for _, i := range going {
		at[i]++
	}
	return []walkStep{{words: run}, {words: w.station(lanes, at, before, false)}}
}

// detour writes the stations that some lanes come to by wires while the others
// pass by, until all of them meet again. It is false where they never do.
func (w *walker) detour(lanes []*lane, at, going []int) ([]walkStep, bool) {
	meet := make([]int, len(lanes))
	found := false
	l := lanes[going[0]]
	for k := at[going[0]] + 1; k < len(l.stops) && l.stops[k].part != nil && l.edges[k-1].cable == nil && !found; k++ {
		meet[going[0]], found = k, true
		for _, i := range going[1:] {
			meet[i] = 0
			for j := at[i] + 1; j < len(lanes[i].stops) && lanes[i].stops[j].part != nil && lanes[i].edges[j-1].cable == nil; j++ {
				if lanes[i].stops[j].same(l.stops[k]) {
					meet[i] = j
					break
				}
			}
			found = found && meet[i] > 0
		}
	}
	if !found || len(going) < len(lanes) {
		return nil, false
	}
	var steps []walkStep
	for _, i := range going {
		for at[i]+1 < meet[i] {
			next := lanes[i].stops[at[i]+1]
			var now []int // all whose next stop this is
			for _, j := range going {
				if at[j]+1 < meet[j] && lanes[j].stops[at[j]+1].same(next) {
					now = append(now, j)
				}
			}
			run, ok := w.run(lanes, at, now)
			if !ok {
				return nil, false
			}
			steps = append(steps, w.land(lanes, at, now, run)...)
		}
	}
	run, ok := w.run(lanes, at, going)
	if !ok {
		return nil, false
	}
	return append(steps, w.land(lanes, at, going, run)...), true
}

// part writes the lanes that go on, each for itself.
func (w *walker) part(lanes []*lane, at, going []int) walkStep {
	var s walkStep
	for _, i := range going {
		s.tails = append(s.tails, walkTail{lanes[i].n, w.from(lanes[i:i+1], []int{at[i]})})
	}
	return s
}

// run writes what leads the going lanes to their next stop; false where it is
// not one thing.
func (w *walker) run(lanes []*lane, at, going []int) (string, bool) {
	var edges []*edge
	for _, i := range going {
		edges = append(edges, lanes[i].edges[at[i]])
	}
	first := edges[0]
	for _, e := range edges {
		if e.cable != first.cable || e.wire != first.wire {
			return "", false
		}
	}
	if first.cable != nil {
		return w.cableRun(lanes, at, going)
	}
	word := "wires"
	if first.wire == "jumper" {
		word = "jumper"
	}
	var inside model.Colour
	if p := lanes[going[0]].stops[at[going[0]]+1].part; p != nil && p.place != nil {
		inside = p.place.colour
	}
	plain, alike, bare := true, true, false // bare: of no colour, which cannot be written beside others
	for _, e := range edges {
		plain = plain && e.colour == inside
		alike = alike && e.colour == first.colour
		bare = bare || e.colour == model.Colour{}
	}
	switch {
	case plain || alike && bare:
		return word, true
	case bare:
		return "", false
	case alike:
		return word + " " + strings.ReplaceAll(first.colour.Letters(), " ", ""), true
	}
	colours := make([]string, len(lanes))
	for i := range colours {
		colours[i] = first.colour.Letters()
	}
	for k, i := range going {
		colours[i] = edges[k].colour.Letters()
	}
	return word + " " + strings.Join(colours, " "), true
}

// cableRun writes a cable and which part of it.
func (w *walker) cableRun(lanes []*lane, at, going []int) (string, bool) {
	c := lanes[going[0]].edges[at[going[0]]].cable
	t := c.typ
	cores := make([]*edge, len(lanes)) // nil for a lane that was cut back
	var group int
	oneGroup := true
	for _, i := range going {
		cores[i] = lanes[i].edges[at[i]]
		if group == 0 {
			group = cores[i].group
		}
		oneGroup = oneGroup && cores[i].group == group
	}
	part := fmt.Sprintf(" %s %d", []string{"", "core", "pair", "triad", "quad"}[t.size], group)
	if t.groups == 1 {
		part = ""
	}
	if oneGroup && t.size == 2 && len(lanes) <= 2 {
		if k := going[0]; cores[k].n == expectedCore(lanes, t.positive, k) {
			return c.tag + part, true
		}
		return c.tag + part + " reversed", true
	}
	if oneGroup && t.size > 2 && len(lanes) <= t.size {
		if !slices.ContainsFunc(going, func(i int) bool { return cores[i].n != i+1 }) {
			return c.tag + part, true
		}
	}
	words, inOrder := "", t.size == 1 && t.groups == len(lanes)
	for i, e := range cores {
		if e == nil {
			e = cores[going[len(going)-1]]
		}
		number := (e.group-1)*t.size + e.n
		inOrder = inOrder && number == i+1
		words += fmt.Sprintf(" %d", number)
	}
	switch {
	case inOrder:
		return c.tag, true
	case len(cores) == 1:
		return c.tag + " core" + words, true
	}
	return c.tag + " cores" + words, true
}

// expectedCore is the core of a pair that lane k gets if nothing is said: + gets
// the positive one where the lanes are + and -, and else the order of the lanes
// decides.
func expectedCore(lanes []*lane, positive, k int) int {
	l := lanes[0]
	polar := l.role == "+" || l.role == "-"
	swap := (l.role == "-") == (positive == 1)
	switch {
	case len(lanes) > 1:
		other := lanes[1].role
		swap = swap && polar && (other == "+" || other == "-") && other != l.role
	case !polar:
		swap = l.n%2 == 0
	}
	if swap {
		return 2 - k
	}
	return 1 + k
}

// station writes where the lanes land: those that have moved since before, which
// is nil at the start. The others pass by, or are cut back already.
func (w *walker) station(lanes []*lane, at, before []int, start bool) string {
	var here stop
	moved := make([]bool, len(lanes))
	for i, l := range lanes {
		moved[i] = start || at[i] != before[i]
		if moved[i] && here.part == nil {
			here = l.stops[at[i]]
		}
	}
	if here.part == nil { // all are cut back: on any part of the place
		here.part = w.anyPartAt(lanes, at)
		if here.part == nil {
			return "x"
		}
	}
	p := here.part
	words := p.tag
	if here.channel > 0 {
		words += fmt.Sprintf(" channel %d", here.channel)
	}
	var slots []string
	whole := here.channel > 0
	for i, l := range lanes {
		s := l.stops[at[i]]
		switch {
		case !moved[i] && !l.done(at[i]):
			slots = append(slots, ".")
			whole = false
		case !moved[i] || s.part == nil:
			slots = append(slots, "x")
			whole = false
		default:
			slot := p.short(s.in)
			if out := p.through(s.in); s.out != s.in && s.out != out {
				slot += ">" + p.short(s.out)
			}
			slots = append(slots, slot)
			whole = whole && s.in == s.out
		}
	}
	if !whole || !p.fills(here.channel, lanes, at) {
		words += " " + strings.Join(slots, " ")
	}
	return words + w.screen(lanes, at, before, p, start)
}

// fills tells whether the lanes land on all terminals of a channel in order.
func (p *anyPart) fills(channel int, lanes []*lane, at []int) bool {
	var names []string
	for _, t := range p.terminals {
		if p.channel(t) == channel {
			names = append(names, t)
		}
	}
	if len(names) != len(lanes) {
		return false
	}
	for i, l := range lanes {
		if l.stops[at[i]].in != names[i] {
			return false
		}
	}
	return true
}

// short is a terminal's name within its channel: + for 5+.
func (p *anyPart) short(name string) string {
	if ch := p.channel(name); ch > 0 && p.isCard() {
		if s := strings.TrimPrefix(name, strconv.Itoa(ch)); s == "+" || s == "-" {
			return s
		}
	}
	return name
}

// anyPartAt is a strip of the place where the lanes end.
func (w *walker) anyPartAt(lanes []*lane, at []int) *anyPart {
	for i, l := range lanes {
		if at[i] == 0 || l.edges[at[i]-1].cable == nil {
			continue
		}
		e := l.edges[at[i]-1]
		far := e.cable.to
		if from := e.from.part; from.tag == far || from.place != nil && from.place.tag == far {
			far = e.cable.from
		}
		for _, p := range w.im.parts {
			if p.kind == "strip" && p.place.tag == far {
				return p
			}
		}
	}
	return nil
}

// where is the tag of the place of a part, or its own in the field.
func (p *anyPart) where() string {
	if p.place != nil {
		return p.place.tag
	}
	return p.tag
}

// screen writes where the screen lands at a station on part p: the end, in that
// place, of the screen that came with the lanes or of the one that goes on.
func (w *walker) screen(lanes []*lane, at, before []int, p *anyPart, start bool) string {
	try := func(e *edge, comes bool) string {
		for _, s := range w.screens {
			ends := []terminalEnd{s.to, s.from}
			switch {
			case s.cable != nil && s.cable == e.cable && (s.group == e.group || s.group == 0):
			case s.wire == "screen" && e.wire == "wire" && comes:
				ends = ends[:1]
			case s.wire == "screen" && e.wire == "wire":
				ends = ends[1:]
			default:
				continue
			}
			for _, t := range ends {
				if t.part == nil || t.part.where() != p.where() {
					continue
				}
				word := p.landing(t)
				if start || strings.Contains(word, ":") {
					word = "screen " + word
				}
				return " " + word
			}
		}
		return ""
	}
	for i, l := range lanes {
		if !start && at[i] != before[i] {
			if words := try(l.edges[at[i]-1], true); words != "" {
				return words
			}
		}
	}
	for i, l := range lanes {
		if !l.done(at[i]) {
			if words := try(l.edges[at[i]], false); words != "" {
				return words
			}
		}
	}
	return ""
}

// landing names a terminal from a station on p.
func (p *anyPart) landing(t terminalEnd) string {
	switch {
	case t.part == p:
		return t.name
	case t.part.kind == "earth bar" && !slices.Contains(p.terminals, t.part.name):
		return t.part.name
	}
	return t.part.name + ":" + t.name
}
