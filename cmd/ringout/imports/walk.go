package imports

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/colour"
)

// This file writes circuits as walks.

// walkStep is one item of a walk as it is written, or the parting of legs.
type walkStep struct {
	words string
	tails []walkTail
}

type walkTail struct {
	leg   int
	steps []walkStep
}

// walker writes the walk of one circuit.
type walker struct {
	im      *Importer
	legs    []*leg
	screens []*edge
	told    map[screenEnd]bool // where screens land that the walk has said
}

// screenEnd is a screen on one of its ends.
type screenEnd struct {
	screen *edge
	on     terminalEnd
}

// write writes the walk of all legs side by side.
func (w *walker) write() []walkStep {
	at := make([]int, len(w.legs)) // the stop where each leg is
	first := walkStep{words: w.station(w.legs, at, nil, true)}
	return append([]walkStep{first}, w.from(w.legs, at)...)
}

// from writes what follows stop at of each leg.
func (w *walker) from(legs []*leg, at []int) []walkStep {
	var steps []walkStep
	for {
		var going []int // legs that go on
		parted := false
		for i, l := range legs {
			if !l.done(at[i]) {
				going = append(going, i)
			}
			parted = parted || l.ended(at[i])
		}
		if len(going) == 0 {
			return steps
		}
		if w.sensor() {
			legs, at = only(legs, going), only(at, going)
			going, parted = going[:0], false
			for i := range legs {
				going = append(going, i)
			}
		}
		if len(legs) > 1 && parted {
			return append(steps, w.part(legs, at, going))
		}
		if run, ok := w.run(legs, at, going); ok && w.together(legs, at, going) {
			steps = append(steps, w.land(legs, at, going, run)...)
			continue
		}
		there := slices.Clone(at)
		detour, ok := w.detour(legs, there, going)
		if !ok {
			return append(steps, w.part(legs, at, going))
		}
		steps, at = append(steps, detour...), there
	}
}

// only are some of a list, by their places in it.
func only[T any](all []T, some []int) (kept []T) {
	for _, i := range some {
		kept = append(kept, all[i])
	}
	return kept
}

// sensor reports whether the legs are the leads of a resistance sensor: those that end where
// others go on are parked.
func (w *walker) sensor() bool {
	begin := w.legs[0].stops[0].part
	k := (*model.Kind)(nil)
	if begin != nil {
		k = model.KindNamed(model.DeviceKinds, begin.kind)
	}
	return k != nil && k.Signal == model.Resistance
}

// parks reports whether a leg of a sensor ends on a terminal where others go on.
func (w *walker) parks(legs []*leg, at []int, i int) bool {
	return w.sensor() && legs[i].ended(at[i]) && slices.ContainsFunc(w.legs, func(l *leg) bool {
		k := slices.Index(legs, l)
		return k >= 0 && !l.done(at[k])
	})
}

// together reports whether the next stop of all legs is one station.
func (w *walker) together(legs []*leg, at, going []int) bool {
	var first *stop
	for _, i := range going {
		s := &legs[i].stops[at[i]+1]
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
func (w *walker) land(legs []*leg, at, going []int, run string) []walkStep {
	before := slices.Clone(at)
	for _, i := range going {
		at[i]++
	}
	return []walkStep{{words: run}, {words: w.station(legs, at, before, false)}}
}

// detour writes the stations that some legs come to by wires while the others
// pass by, until all of them meet again. It is false where they never do.
func (w *walker) detour(legs []*leg, at, going []int) ([]walkStep, bool) {
	meet := make([]int, len(legs))
	found := false
	l := legs[going[0]]
	for k := at[going[0]] + 1; k < len(l.stops) && l.stops[k].part != nil && l.edges[k-1].cable == nil && !found; k++ {
		meet[going[0]], found = k, true
		for _, i := range going[1:] {
			meet[i] = 0
			for j := at[i] + 1; j < len(legs[i].stops) && legs[i].stops[j].part != nil && legs[i].edges[j-1].cable == nil; j++ {
				if legs[i].stops[j].same(l.stops[k]) {
					meet[i] = j
					break
				}
			}
			found = found && meet[i] > 0
		}
	}
	if !found || len(going) < len(legs) {
		return nil, false
	}
	// Legs that end there, on a strip that feeds them, are written apart.
	apart := l.stops[meet[going[0]]].part.isStrip()
	for _, i := range going {
		apart = apart && meet[i] == len(legs[i].edges)
	}
	if apart {
		return nil, false
	}
	var steps []walkStep
	for _, i := range going {
		for at[i]+1 < meet[i] {
			next := legs[i].stops[at[i]+1]
			var now []int // all whose next stop this is
			for _, j := range going {
				if at[j]+1 < meet[j] && legs[j].stops[at[j]+1].same(next) {
					now = append(now, j)
				}
			}
			run, ok := w.run(legs, at, now)
			if !ok {
				return nil, false
			}
			steps = append(steps, w.land(legs, at, now, run)...)
		}
	}
	run, ok := w.run(legs, at, going)
	if !ok {
		return nil, false
	}
	return append(steps, w.land(legs, at, going, run)...), true
}

// part writes the legs that go on, each for itself.
func (w *walker) part(legs []*leg, at, going []int) walkStep {
	var s walkStep
	for _, i := range going {
		s.tails = append(s.tails, walkTail{legs[i].n, w.from(legs[i:i+1], []int{at[i]})})
	}
	return s
}

// run writes what leads the going legs to their next stop; false where it is
// not one thing.
func (w *walker) run(legs []*leg, at, going []int) (string, bool) {
	var edges []*edge
	for _, i := range going {
		edges = append(edges, legs[i].edges[at[i]])
	}
	first := edges[0]
	for _, e := range edges {
		if e.cable != first.cable || e.wire != first.wire {
			return "", false
		}
	}
	if first.cable != nil {
		return w.cableRun(legs, at, going)
	}
	word := "wires"
	if first.wire == "jumper" {
		word = "jumper"
	}
	var inside colour.Colour
	if p := legs[going[0]].stops[at[going[0]]+1].part; p != nil && p.place != nil {
		inside = p.place.colour
	}
	plain, alike, bare := true, true, false // bare: of no colour, which cannot be written beside others
	for _, e := range edges {
		plain = plain && e.colour == inside
		alike = alike && e.colour == first.colour
		bare = bare || e.colour == colour.Colour{}
	}
	switch {
	case plain || alike && bare:
		return word, true
	case bare:
		return "", false
	case alike:
		return word + " " + strings.ReplaceAll(first.colour.Letters(), " ", ""), true
	}
	colours := make([]string, len(legs))
	for i := range colours {
		colours[i] = first.colour.Letters()
	}
	for k, i := range going {
		colours[i] = edges[k].colour.Letters()
	}
	return word + " " + strings.Join(colours, " "), true
}

// cableRun writes a cable and which part of it.
func (w *walker) cableRun(legs []*leg, at, going []int) (string, bool) {
	c := legs[going[0]].edges[at[going[0]]].cable
	t := c.typ
	cores := make([]*edge, len(legs)) // nil for a leg that was cut back
	var group int
	oneGroup := true
	for _, i := range going {
		cores[i] = legs[i].edges[at[i]]
		if group == 0 {
			group = cores[i].group
		}
		oneGroup = oneGroup && cores[i].group == group
	}
	// Out by one core and back by another: the leg has them one by one.
	for _, i := range going {
		oneGroup = oneGroup && !legs[i].returns(cores[i])
	}
	part := fmt.Sprintf(" %s %d", []string{"", "core", "pair", "triad", "quad"}[t.size], group)
	if t.groups == 1 {
		part = ""
	}
	if oneGroup && t.size == 2 && len(legs) <= 2 {
		if k := going[0]; cores[k].n == expectedCore(legs, w.im.positiveCore(t), k) {
			return c.tag + part, true
		}
		return c.tag + part + " reversed", true
	}
	if oneGroup && t.size > 2 && len(legs) <= t.size {
		if !slices.ContainsFunc(going, func(i int) bool { return cores[i].n != i+1 }) {
			return c.tag + part, true
		}
	}
	words, inOrder := "", t.size == 1 && t.groups == len(legs)
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

// returns reports whether the leg goes by another core of the group of this one too, as it
// does out to a contact and back.
func (l *leg) returns(core *edge) bool {
	return slices.ContainsFunc(l.edges, func(e *edge) bool {
		return e != core && e.cable == core.cable && e.group == core.group
	})
}

// expectedCore is the core of a pair that leg k gets if nothing is said: + gets
// the positive one where the legs are + and -, and else the order of the legs
// decides.
func expectedCore(legs []*leg, positive, k int) int {
	l := legs[0]
	polar := l.role == "+" || l.role == "-"
	swap := (l.role == "-") == (positive == 1)
	switch {
	case len(legs) > 1:
		other := legs[1].role
		swap = swap && polar && (other == "+" || other == "-") && other != l.role
	case !polar:
		swap = l.n%2 == 0
	}
	if swap {
		return 2 - k
	}
	return 1 + k
}

// station writes where the legs land: those that have moved since before, which
// is nil at the start. The others pass by, or are cut back already.
func (w *walker) station(legs []*leg, at, before []int, start bool) string {
	var here stop
	moved := make([]bool, len(legs))
	for i, l := range legs {
		moved[i] = start || at[i] != before[i]
		if moved[i] && here.part == nil {
			here = l.stops[at[i]]
		}
	}
	if here.part == nil { // all are cut back: on any part of the place
		here.part = w.anyPartAt(legs, at)
		if here.part == nil {
			return "x"
		}
	}
	p := here.part
	words := p.tag
	if here.channel > 0 {
		words += fmt.Sprintf(" channel %d", here.channel)
	}
	var landings []string
	whole := here.channel > 0
	for i, l := range legs {
		s := l.stops[at[i]]
		switch {
		case !moved[i] && !l.done(at[i]):
			landings = append(landings, ".")
			whole = false
		case !moved[i] || s.part == nil:
			landings = append(landings, "x")
			whole = false
		default:
			word := p.short(s.in)
			if out := p.through(s.in); s.out != s.in && s.out != out {
				word += ">" + p.short(s.out)
			}
			if w.parks(legs, at, i) {
				word += ">x"
			}
			landings = append(landings, word)
			whole = whole && s.in == s.out && !w.parks(legs, at, i)
		}
	}
	if whole = whole && p.fills(here.channel, legs, at); !whole {
		words += " " + strings.Join(landings, " ")
	}
	screen := w.screen(legs, at, before, p)
	if screen != "" && (start || whole || strings.Contains(screen, ":")) {
		words += " screen" // else it is the last terminal
	}
	return strings.TrimSpace(words + " " + screen)
}

// fills reports whether the legs land on all terminals of a channel in order.
func (p *anyPart) fills(channel int, legs []*leg, at []int) bool {
	var names []string
	for _, t := range p.terminals {
		if p.channel(t) == channel {
			names = append(names, t)
		}
	}
	if len(names) != len(legs) {
		return false
	}
	for i, l := range legs {
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

// anyPartAt is a strip of the place where the legs end.
func (w *walker) anyPartAt(legs []*leg, at []int) *anyPart {
	for i, l := range legs {
		if at[i] == 0 || l.edges[at[i]-1].cable == nil {
			continue
		}
		e := l.edges[at[i]-1]
		far := e.cable.to
		if from := e.from.part; from.tag == far || from.place != nil && from.place.tag == far {
			far = e.cable.from
		}
		for _, p := range w.im.parts {
			if p.isStrip() && p.place.tag == far {
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

// screen writes where the screen lands at a station on part p: the first end in that place
// that the walk has not said yet, as it has where a leg is back by the cable that it went out
// by. "" is a screen that is cut back, or said. Several that land there together are said at
// once.
func (w *walker) screen(legs []*leg, at, before []int, p *anyPart) string {
	var on terminalEnd
	for _, end := range w.screensAt(legs, at, before, p.where()) {
		if on.part == nil && !w.told[end] {
			on = end.on
		}
		if end.on == on {
			w.told[end] = true
		}
	}
	if on.part == nil {
		return ""
	}
	return p.landing(on)
}

// screensAt are the ends, in a place, of the screens that came with the legs, then of those
// that go on with them.
func (w *walker) screensAt(legs []*leg, at, before []int, place string) (all []screenEnd) {
	add := func(e *edge, comes bool) {
		for _, s := range w.screens {
			for _, t := range s.endsBeside(e, comes) {
				if t.part != nil && t.part.where() == place {
					all = append(all, screenEnd{s, t})
				}
			}
		}
	}
	for i, l := range legs {
		if before != nil && at[i] != before[i] {
			add(l.edges[at[i]-1], true)
		}
	}
	for i, l := range legs {
		if !l.done(at[i]) {
			add(l.edges[at[i]], false)
		}
	}
	return all
}

// endsBeside are the ends at which a screen may land with edge o, which comes to a station or
// goes on from it: either of that round a core, and of one that is handed on by a wire the end
// at the station.
func (e *edge) endsBeside(o *edge, comes bool) []terminalEnd {
	switch {
	case e.cable != nil && e.cable == o.cable && (e.group == o.group || e.group == 0):
		return []terminalEnd{e.to, e.from}
	case e.wire == "screen" && o.wire == "wire" && comes:
		return []terminalEnd{e.to}
	case e.wire == "screen" && o.wire == "wire":
		return []terminalEnd{e.from}
	}
	return nil
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
