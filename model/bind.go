package model

import (
	"fmt"
	"strconv"
	"strings"
)

// binder gives the words of the walks their meaning: it joins every circuit's
// lanes to terminals and cores. It goes on after a problem, so that one run
// reports them all; a circuit that cannot be bound is marked Broken.
type binder struct {
	*reader
	plant *Plant
}

// bindCircuit turns the written steps of a circuit into stations, runs and
// conductors.
func (b *binder) bindCircuit(c *Circuit, steps []step) {
	c.Path = &Path{}
	if len(steps) == 0 {
		b.errorf(c.Pos, "empty-circuit", "circuit %s has no stations", c.Name)
		c.Broken = true
		return
	}
	w := walker{binder: b, circuit: c}
	w.walk(c.Path, steps, nil)
	if w.broken {
		c.Broken = true
		b.mentions(c, steps)
		return
	}
	b.wire(c)
}

// mentions keeps which parts a broken circuit names, so that the checks do not
// call them unwired.
func (b *binder) mentions(c *Circuit, steps []step) {
	for _, s := range steps {
		if len(s.words) > 0 {
			if p := b.plant.parts[s.words[0].text]; p != nil {
				c.mentions = append(c.mentions, p)
			}
		}
		for _, t := range s.tails {
			b.mentions(c, t.steps)
		}
	}
}

// walker binds one circuit.
type walker struct {
	*binder
	circuit *Circuit
	broken  bool
}

func (w *walker) fail(t token, code, hint, format string, args ...any) {
	w.broken = true
	w.report(Problem{Code: code, Pos: t.pos, Len: t.len(), Text: fmt.Sprintf(format, args...), Hint: hint})
}

// walk binds steps into path. lanes is nil at the start of a circuit, where
// the first station tells how many there are; in a tail the first step is a run.
func (w *walker) walk(path *Path, steps []step, lanes []int) {
	tail := lanes != nil
	path.Lanes = lanes
	wantRun := tail
	for i, s := range steps {
		if s.broken {
			w.broken = true
			return
		}
		if len(s.tails) > 0 {
			if wantStation := len(path.Runs) == len(path.Stations); (wantStation && !tail) || len(path.Stations) == 0 {
				w.fail(token{pos: s.pos}, "station-missing", "", "the lanes of %s part before they land", w.circuit.Name)
				return
			}
			if i != len(steps)-1 {
				w.fail(token{pos: s.pos}, "step-after-parting", "put what follows inside the lists of the lanes",
					"a step comes after the lanes of %s have parted", w.circuit.Name)
				return
			}
			w.part(path, s)
			return
		}
		if len(s.words) == 0 {
			w.fail(token{pos: s.pos}, "empty-step", "", "a step of circuit %s is empty", w.circuit.Name)
			return
		}
		isRun := w.isRun(s.words[0])
		switch {
		case isRun && wantRun:
			path.Runs = append(path.Runs, w.run(path, s))
		case !isRun && !wantRun:
			st := w.station(path, s)
			if st == nil {
				w.broken = true
				return
			}
			path.Stations = append(path.Stations, st)
		case isRun:
			w.fail(s.words[0], "station-missing", "name where the cores land between the two",
				"%s follows a run with no station between them", s.words[0].text)
			return
		default:
			w.fail(s.words[0], "run-missing", "name the cable and pair, or write: wires",
				"no cable or wires lead to %s", s.words[0].text)
			return
		}
		if w.broken {
			return
		}
		wantRun = !wantRun
	}
	if wantRun == tail && len(path.Runs) > 0 && len(path.Runs) > len(path.Stations)-1+boolInt(tail) {
		last := steps[len(steps)-1].words[0]
		w.fail(last, "open-circuit", "name where its cores land",
			"circuit %s ends on %s and lands nowhere", w.circuit.Name, last.text)
	}
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// part binds the tails after the last station of path.
func (w *walker) part(path *Path, s step) {
	seen := map[int]token{}
	for _, t := range s.tails {
		n := 0
		for _, lane := range path.Lanes {
			l := w.circuit.Lanes[lane-1]
			if t.lane.text == strconv.Itoa(lane) || (l.Role != 0 && t.lane.text == string(l.Role)) {
				n = lane
				break
			}
		}
		if n == 0 {
			w.fail(t.lane, "unknown-lane", "name a lane by its mark (+ or -) or its number from 1",
				"circuit %s has no lane %q here", w.circuit.Name, t.lane.text)
			return
		}
		if first, ok := seen[n]; ok {
			w.broken = true
			w.report(Problem{Code: "lane-twice", Pos: t.lane.pos, Len: t.lane.len(), Text: fmt.Sprintf("lane %q is walked twice", t.lane.text),
				Also: []Note{{first.pos, "first here"}}})
			return
		}
		seen[n] = t.lane
		p := &Path{}
		w.walk(p, t.steps, []int{n})
		if w.broken {
			return
		}
		path.Tails = append(path.Tails, p)
	}
}

// isRun tells a run from a station by its first word.
func (w *walker) isRun(t token) bool {
	if _, ok := runWords[t.text]; ok {
		return true
	}
	return w.plant.cables[t.text] != nil
}

// station binds one station: REF [channel N] SLOT ... [screen SLOT].
func (w *walker) station(path *Path, s step) *Station {
	ref := s.words[0]
	part := w.plant.parts[ref.text]
	if part == nil {
		w.unknownTag(ref)
		return nil
	}
	st := &Station{Pos: ref.pos, Part: part}
	words := s.words[1:]
	var terminals []*Terminal // that lanes land on when none are named
	switch {
	case part.Card != nil:
		if len(words) < 2 || words[0].text != "channel" {
			w.fail(ref, "channel-missing", ref.text+" channel 1", "which channel of card %s is not said", ref.text)
			return nil
		}
		n, err := strconv.Atoi(words[1].text)
		if err != nil || n < 1 || n > part.Card.Channels {
			w.fail(words[1], "unknown-channel", fmt.Sprintf("channels 1 to %d", part.Card.Channels),
				"card %s has no channel %s", ref.text, words[1].text)
			return nil
		}
		st.Channel = n
		terminals = part.Channel(n)
		words = words[2:]
	case part.Kind != nil && len(part.Kind.Groups) > 0:
		terminals = part.Terminals
		if n := len(part.Kind.Groups[0].Roles); n < len(terminals) {
			terminals = terminals[:n]
		}
	}
	var screen *token
	for i, t := range words {
		if t.text == "screen" {
			if i != len(words)-2 {
				w.fail(t, "screen-unclear", "screen 9", "one terminal or earth bar has to follow the word screen")
				return nil
			}
			screen, words = &words[i+1], words[:i]
			break
		}
	}
	if path.Lanes == nil { // the first station of the circuit
		if len(words) == 0 {
			for range terminals {
				words = append(words, token{})
			}
		}
		for n := range words {
			w.circuit.Lanes = append(w.circuit.Lanes, &Lane{Circuit: w.circuit, N: n + 1})
			path.Lanes = append(path.Lanes, n+1)
		}
		if len(words) == 0 {
			w.fail(ref, "terminals-missing", "", "which terminals of %s the circuit begins on is not said", ref.text)
			return nil
		}
		if words[0].text == "" {
			words = nil
		}
	}
	want := len(path.Lanes)
	if len(words) == want+1 && screen == nil {
		screen, words = &words[want], words[:want]
	}
	switch {
	case len(words) == 0 && part.Kind != nil && part.Kind.Passes && len(terminals) > 0:
		st.Slots = w.passThrough(part, path, ref)
	case len(words) == 0 && len(terminals) == want:
		for _, t := range terminals {
			st.Slots = append(st.Slots, Slot{Pos: ref.pos, Does: Lands, In: t, Out: t})
		}
	case len(words) < want:
		w.fail(ref, "terminals-short", "name one terminal for each core, then one for the screen",
			"%d cores arrive at %s and %d terminals are named", want, ref.text, len(words))
		return nil
	case len(words) > want:
		w.fail(words[want], "terminals-over", "",
			"%d cores arrive at %s and %d terminals are named", want, ref.text, len(words))
		return nil
	default:
		for _, t := range words {
			slot, ok := w.slot(part, st.Channel, t)
			if !ok {
				return nil
			}
			st.Slots = append(st.Slots, slot)
		}
	}
	if screen != nil {
		slot, ok := w.screenSlot(part, st.Channel, *screen)
		if !ok {
			return nil
		}
		st.Screen = slot
	}
	if len(path.Stations) == 0 && len(path.Runs) == 0 {
		for i, slot := range st.Slots {
			if slot.In != nil {
				w.circuit.Lanes[i].Role = slot.In.Role
			}
		}
	}
	return st
}

// passThrough lands the lanes of path on the inputs of a barrier in order.
func (w *walker) passThrough(part *Part, path *Path, ref token) []Slot {
	var slots []Slot
	for _, t := range part.Terminals {
		if out := part.Through[t]; out != nil && out.Index > t.Index && len(slots) < len(path.Lanes) {
			slots = append(slots, Slot{Pos: ref.pos, Does: Lands, In: t, Out: out})
		}
	}
	if len(slots) < len(path.Lanes) {
		w.fail(ref, "terminals-short", "", "%d cores arrive at %s, which carries %d", len(path.Lanes), part.Tag, len(slots))
	}
	return slots
}

// slot binds one word: 7, 5>6, . or x.
func (w *walker) slot(part *Part, channel int, t token) (Slot, bool) {
	switch t.text {
	case ".":
		return Slot{Pos: t.pos, Does: Passes}, true
	case "x":
		return Slot{Pos: t.pos, Does: Cut}, true
	}
	in, out, through := strings.Cut(t.text, ">")
	a := w.terminal(part, channel, token{in, t.pos})
	if a == nil {
		return Slot{}, false
	}
	s := Slot{Pos: t.pos, Does: Lands, In: a, Out: a}
	if through {
		s.Out = w.terminal(part, channel, token{out, Pos{t.pos.File, t.pos.Line, t.pos.Col + len([]rune(in)) + 1}})
		if s.Out == nil {
			return s, false
		}
		if s.Out == a {
			w.fail(t, "same-terminal", "", "in and out are the same terminal of %s", part.Tag)
			return s, false
		}
	} else if out := part.Through[a]; out != nil {
		s.Out = out
	}
	return s, true
}

// screenSlot binds the landing of a screen: a terminal, x, or an earth bar of
// the same place.
func (w *walker) screenSlot(part *Part, channel int, t token) (Slot, bool) {
	if part.Place != nil && part.terminals[t.text] == nil {
		if bar := w.plant.parts[part.Place.Tag+"/"+t.text]; bar != nil && bar.Kind == earthBar {
			return Slot{Pos: t.pos, Does: Lands, In: bar.Terminals[0], Out: bar.Terminals[0]}, true
		}
	}
	return w.slot(part, channel, t)
}

// terminal finds a terminal of a part by name; of a card, by the role or name
// within the channel.
func (w *walker) terminal(part *Part, channel int, t token) *Terminal {
	if channel > 0 {
		var names []string
		for _, tm := range part.Channel(channel) {
			if tm.Name == t.text || (tm.Role != 0 && string(tm.Role) == t.text) {
				return tm
			}
			names = append(names, tm.Name)
		}
		w.fail(t, "unknown-terminal", strings.Join(names, " "), "channel %d of %s has no terminal %q", channel, part.Tag, t.text)
		return nil
	}
	if tm := part.terminals[t.text]; tm != nil {
		return tm
	}
	hint := ""
	if n := len(part.Terminals); n > 0 {
		hint = fmt.Sprintf("%s has %d terminals, %s to %s", part.Tag, n, part.Terminals[0].Name, part.Terminals[n-1].Name)
	}
	w.fail(t, "unknown-terminal", hint, "%s has no terminal %q", part.Tag, t.text)
	return nil
}

// run binds what carries the lanes: CABLE [pair N ...] [reversed], wires or jumper.
func (w *walker) run(path *Path, s step) *Run {
	first := s.words[0]
	r := &Run{Pos: first.pos}
	if kind, ok := runWords[first.text]; ok {
		r.Kind = kind
		for _, t := range s.words[1:] {
			c, ok := ParseColour(t.text)
			if !ok {
				w.fail(t, "unknown-colour", "IEC 60757 letters such as BU or WHBU, or words", "%q is not a colour", t.text)
				return r
			}
			r.Colours = append(r.Colours, c)
		}
		if n := len(r.Colours); n > 1 && n != len(path.Lanes) {
			w.fail(s.words[1], "colours-mismatch", "", "%d colours are given for %d wires", n, len(path.Lanes))
		}
		return r
	}
	cable := w.plant.cables[first.text]
	r.Cable = cable
	if cable.Type == nil {
		w.broken = true // reported where the cable is written
		return r
	}
	words := s.words[1:]
	if n := len(words); n > 0 && words[n-1].text == "reversed" {
		r.Reversed, words = true, words[:n-1]
	}
	size := cable.Type.Size
	if len(words) == 0 {
		if cable.Type.Groups != 1 && !(size == 1 && len(cable.Cores) == len(path.Lanes)) {
			w.fail(first, "pair-missing", fmt.Sprintf("%s %s 1", cable.Tag, cable.Type.GroupWord()),
				"which %s of %s is not said", cable.Type.GroupWord(), cable.Tag)
			return r
		}
		if size == 1 {
			words = []token{{"cores", first.pos}}
			for i := range cable.Cores {
				words = append(words, token{strconv.Itoa(i + 1), first.pos})
			}
		} else {
			words = []token{{cable.Type.GroupWord(), first.pos}, {"1", first.pos}}
		}
	}
	word := words[0]
	asked, ok := groupSizes[word.text]
	if !ok {
		w.fail(word, "unknown-word", "pair, triad, quad, core or reversed", "%q is not a word for part of a cable", word.text)
		return r
	}
	if asked != 1 && asked != size {
		w.fail(word, "group-mismatch", fmt.Sprintf("%s %s 1", cable.Tag, cable.Type.GroupWord()),
			"%s is laid up in %ss, not in %ss", cable.Tag, cable.Type.GroupWord(), strings.TrimSuffix(word.text, "s"))
		return r
	}
	if len(words) == 1 {
		w.fail(word, "pair-missing", "", "which %s of %s is not said", word.text, cable.Tag)
		return r
	}
	var group int
	for _, t := range words[1:] {
		n, err := strconv.Atoi(t.text)
		limit := cable.Type.Groups
		if asked == 1 {
			limit = len(cable.Cores)
		}
		if err != nil || n < 1 || n > limit {
			w.fail(t, "unknown-core", fmt.Sprintf("%s has %ss 1 to %d", cable.Tag, strings.TrimSuffix(word.text, "s"), limit),
				"%s has no %s %s", cable.Tag, strings.TrimSuffix(word.text, "s"), t.text)
			return r
		}
		if asked == 1 {
			core := cable.Cores[n-1]
			r.Cores = append(r.Cores, core)
			group = core.Group
		} else {
			r.Cores = append(r.Cores, cable.Cores[(n-1)*size:n*size]...)
			group = n
		}
	}
	if asked != 1 {
		if r.Group = group; asked == 2 && len(r.Cores) == 2 && len(path.Lanes) == 2 {
			w.orient(path, r)
		}
	}
	if r.Reversed {
		if len(r.Cores) != 2 {
			w.fail(s.words[len(s.words)-1], "reversed-group", "", "only a pair can be reversed")
			return r
		}
		r.Cores[0], r.Cores[1] = r.Cores[1], r.Cores[0]
	}
	if len(r.Cores) < len(path.Lanes) {
		w.fail(first, "cores-short", "", "%d cores of circuit %s need a core and %s gives %d",
			len(path.Lanes), w.circuit.Name, cable.Tag, len(r.Cores))
		return r
	}
	switch {
	case len(cable.Screens) > 0:
		r.Screen = cable.Screens[group-1]
	case cable.Overall != nil && (cable.Type.Groups == 1 || (size == 1 && len(r.Cores) == len(cable.Cores))):
		r.Screen = cable.Overall
	}
	return r
}

// orient gives the positive core of a pair to the lane marked +.
func (w *walker) orient(path *Path, r *Run) {
	positive := w.plant.PositiveCore(r.Cable.Type)
	a, b := w.circuit.Lanes[path.Lanes[0]-1].Role, w.circuit.Lanes[path.Lanes[1]-1].Role
	plusFirst := a == '+' && b == '-'
	minusFirst := a == '-' && b == '+'
	if (plusFirst && positive == 2) || (minusFirst && positive == 1) {
		r.Cores = []*Core{r.Cores[1], r.Cores[0]}
	} else {
		r.Cores = []*Core{r.Cores[0], r.Cores[1]}
	}
}

// PositiveCore tells which core of a pair of this type carries +: what its
// colour code says, or else the plant's practice.
func (p *Plant) PositiveCore(t *CableType) int {
	if t.Code != nil && t.Code.Positive() > 0 {
		return t.Code.Positive()
	}
	return p.Practice.PositiveCore
}

// Channel returns the terminals of channel n of a card, from 1.
func (p *Part) Channel(n int) []*Terminal {
	if p.Card == nil || n < 1 || n > p.Card.Channels {
		return nil
	}
	k := p.Card.Terminals
	return p.Terminals[(n-1)*k : n*k]
}

// unknownTag reports a tag that nothing bears, with the nearest one that exists.
func (w *walker) unknownTag(t token) {
	code, text := "unknown-tag", fmt.Sprintf("nothing is tagged %s", t.text)
	if place, strip, ok := strings.Cut(t.text, "/"); ok && w.plant.places[place] != nil {
		text = fmt.Sprintf("%s has no strip or part %s", place, strip)
		code = "unknown-strip"
	}
	w.fail(t, code, w.nearestTag(t.text), "%s", text)
}

// nearestTag returns the tag of a part or cable most like s, or "".
func (b *binder) nearestTag(s string) string {
	return nearest(s, append(sortedKeys(b.plant.parts), sortedKeys(b.plant.cables)...))
}
