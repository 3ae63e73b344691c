package model

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// binder gives the words of the walks their meaning: it joins every circuit's
// lanes to terminals and cores. It goes on after a problem, so that one run
// reports them all; a circuit that cannot be bound is marked Broken.
type binder struct {
	*found
	plant *Plant
}

// finish wires the circuits, once all are bound, and finds the spares. written is what
// the text has of each.
func (b *binder) finish(written map[*Circuit][]step) {
	b.landOverall()
	b.plant.circuits(b.wire)
	d := findDoubts(b.plant, written)
	b.spareCores(d)
	d.mark()
}

// bindCircuit turns the written steps of a circuit into stations and runs.
func (b *binder) bindCircuit(c *Circuit, steps []step) {
	c.Path = &Path{}
	if len(steps) == 0 {
		b.errorf(c.Pos, EmptyCircuit, "circuit %s has no stations", c.Name)
		c.Broken = true
		return
	}
	w := walker{binder: b, circuit: c}
	w.walk(c.Path, steps, nil)
	if w.broken {
		c.Broken = true
		b.mentions(c, steps)
	}
}

// landOverall makes conductors of the overall screens that no circuit takes along:
// the others are wired with their circuits.
func (b *binder) landOverall() {
	taken := map[*Cable]bool{}
	b.plant.circuits(func(c *Circuit) {
		for _, r := range c.Runs() {
			taken[r.Cable] = taken[r.Cable] || r.landing() != nil
		}
	})
	for _, c := range b.plant.Cables {
		if c.landing != nil && !taken[c] {
			b.add(c.landing)
		}
	}
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

func (w *walker) fail(t token, kind *FindingKind, hint, format string, args ...any) {
	w.broken = true
	w.report(t.wrong(kind, format, args...).hint("%s", hint))
}

// walk binds steps into path. lanes is nil at the start of a circuit, where
// the first station tells how many there are; in a tail the first step is a run.
func (w *walker) walk(path *Path, steps []step, lanes []int) {
	path.Lanes = lanes
	wantRun := lanes != nil
	for i, s := range steps {
		if len(s.tails) > 0 {
			if !wantRun || len(path.Stations) == 0 {
				w.fail(token{pos: s.pos}, StationMissing, "", "the lanes of %s part before they land", w.circuit.Name)
				return
			}
			if i != len(steps)-1 {
				w.fail(token{pos: s.pos}, StepAfterParting, "put what follows inside the lists of the lanes",
					"a step comes after the lanes of %s have parted", w.circuit.Name)
				return
			}
			w.part(path, s)
			return
		}
		if len(s.words) == 0 {
			w.fail(token{pos: s.pos}, EmptyStep, "", "a step of circuit %s is empty", w.circuit.Name)
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
			w.fail(s.words[0], StationMissing, "name where the cores land between the two",
				"%s follows a run with no station between them", s.words[0].text)
			return
		default:
			w.fail(s.words[0], RunMissing, "name the cable and pair, or write: wires",
				"no cable or wires lead to %s", s.words[0].text)
			return
		}
		if w.broken {
			return
		}
		wantRun = !wantRun
	}
	if !wantRun {
		last := steps[len(steps)-1].words[0]
		w.fail(last, OpenCircuit, "name where its cores land",
			"circuit %s ends on %s and lands nowhere", w.circuit.Name, last.text)
	}
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
				if _, walked := seen[lane]; !walked {
					break // else the other one of two alike, such as B and B
				}
			}
		}
		if n == 0 {
			w.fail(t.lane, UnknownLane, "name a lane by its mark (+ or -) or its number from 1",
				"circuit %s has no lane %q here", w.circuit.Name, t.lane.text)
			return
		}
		if first, ok := seen[n]; ok {
			w.broken = true
			w.report(t.lane.wrong(LaneTwice, "lane %q is walked twice", t.lane.text).also(first.pos, "first here"))
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
	// As they lie at the device, in whatever order they are written.
	slices.SortFunc(path.Tails, func(a, b *Path) int { return cmp.Compare(a.Lanes[0], b.Lanes[0]) })
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
	if part.Kind == unknownKind {
		return nil // reported where the part is written
	}
	st := &Station{Pos: ref.pos, Part: part}
	terminals, words, ok := w.ownTerminals(st, ref, s.words[1:])
	if !ok {
		return nil
	}
	words, screen, ok := w.screenWord(words)
	if !ok {
		return nil
	}
	if path.Lanes == nil { // the first station of the circuit
		if words, ok = w.beginLanes(path, ref, words, len(terminals)); !ok {
			return nil
		}
	}
	if n := len(path.Lanes); len(words) == n+1 && screen == nil {
		screen, words = &words[n], words[:n]
	}
	if !w.slots(st, path, terminals, ref, words) {
		return nil
	}
	if screen != nil {
		if st.Screen, ok = w.screenSlot(part, st.Channel, *screen); !ok {
			return nil
		}
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

// ownTerminals are those that lanes land on at a station where none are named: of a
// channel, which has to be said, or of the kind of part. It returns the words that are
// left, too.
func (w *walker) ownTerminals(st *Station, ref token, words []token) (terminals []*Terminal, rest []token, ok bool) {
	part := st.Part
	switch {
	case part.Card != nil:
		if len(words) < 2 || words[0].text != "channel" {
			w.fail(ref, ChannelMissing, ref.text+" channel 1", "which channel of card %s is not said", ref.text)
			return nil, nil, false
		}
		n, err := strconv.Atoi(words[1].text)
		if part.Card.Channels == 0 {
			return nil, nil, false // reported where the card is written
		}
		if err != nil || n < 1 || n > part.Card.Channels {
			w.fail(words[1], UnknownChannel, fmt.Sprintf("channels 1 to %d", part.Card.Channels),
				"card %s has no channel %s", ref.text, words[1].text)
			return nil, nil, false
		}
		st.Channel = n
		return part.Channel(n), words[2:], true
	case part.Kind != nil && len(part.Kind.Groups) > 0:
		n := min(len(part.Kind.Groups[0].Roles), len(part.Terminals))
		return part.Terminals[:n], words, true
	}
	return nil, words, true
}

// screenWord takes the landing of the screen from the end of words, where it is said.
func (w *walker) screenWord(words []token) (rest []token, screen *token, ok bool) {
	i := slices.IndexFunc(words, func(t token) bool { return t.text == "screen" })
	switch {
	case i < 0:
		return words, nil, true
	case i != len(words)-2:
		w.fail(words[i], ScreenUnclear, "screen 9", "one terminal or earth bar has to follow the word screen")
		return nil, nil, false
	}
	return words[:i:i], &words[i+1], true // the word itself is not overwritten
}

// beginLanes makes the lanes of a circuit at its first station: one for each word, or
// for each of its own terminals where there is none.
func (w *walker) beginLanes(path *Path, ref token, words []token, own int) (rest []token, ok bool) {
	n := len(words)
	if n == 0 {
		n = own
	}
	for i := range n {
		w.circuit.Lanes = append(w.circuit.Lanes, &Lane{Circuit: w.circuit, N: i + 1})
		path.Lanes = append(path.Lanes, i+1)
	}
	if n == 0 {
		w.fail(ref, TerminalsMissing, "", "which terminals of %s the circuit begins on is not said", ref.text)
	}
	return words, n > 0
}

// slots binds what each lane does at a station: as words say, or on its own terminals
// where there are none.
func (w *walker) slots(st *Station, path *Path, own []*Terminal, ref token, words []token) bool {
	part, want := st.Part, len(path.Lanes)
	switch {
	case len(words) == 0 && part.Kind != nil && part.Kind.Passes && len(own) > 0:
		st.Slots = w.passThrough(part, path, ref)
	case len(words) == 0 && len(own) == want:
		for _, t := range own {
			st.Slots = append(st.Slots, Slot{Pos: ref.pos, Does: Lands, In: t, Out: t})
		}
	case len(words) < want:
		w.fail(ref, TerminalsShort, "name one terminal for each core, then one for the screen",
			"%s at %s, terminals named: %d", coresArrive(want), ref.text, len(words))
		return false
	case len(words) > want:
		w.fail(words[want], TerminalsOver, "",
			"%s at %s, terminals named: %d", coresArrive(want), ref.text, len(words))
		return false
	default:
		for _, t := range words {
			slot, ok := w.slot(part, st.Channel, t)
			if !ok {
				return false
			}
			st.Slots = append(st.Slots, slot)
		}
	}
	return true
}

func coresArrive(n int) string {
	if n == 1 {
		return "1 core arrives"
	}
	return itoa(n) + " cores arrive"
}

// passThrough lands the lanes of path on the inputs of a barrier in order.
func (w *walker) passThrough(part *Part, path *Path, ref token) []Slot {
	var slots []Slot
	for _, t := range part.Terminals {
		out := part.Through[t]
		if out == nil || out.Index < t.Index || len(slots) == len(path.Lanes) {
			continue
		}
		if w.circuit.fromCard() {
			t, out = out, t
		}
		slots = append(slots, Slot{Pos: ref.pos, Does: Lands, In: t, Out: out})
	}
	if len(slots) < len(path.Lanes) {
		w.fail(ref, TerminalsShort, "", "%s at %s, which carries %d", coresArrive(len(path.Lanes)), part.Tag, len(slots))
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
			w.fail(t, SameTerminal, "", "in and out are the same terminal of %s", part.Tag)
			return s, false
		}
	} else if out := part.Through[a]; out != nil {
		s.Out = out
	}
	return s, true
}

// screenSlot binds the landing of a screen: a terminal, x, an earth bar of the
// same place, a terminal of another strip there (X3:2), or the earth screw of a
// device (earth).
func (w *walker) screenSlot(part *Part, channel int, t token) (Slot, bool) {
	if part.Device != nil && t.text == "earth" {
		if part.terminals[t.text] == nil {
			part.addTerminal(&Terminal{Name: t.text, Role: 'E', Bar: true})
		}
		screw := part.terminals[t.text]
		return Slot{Pos: t.pos, Does: Lands, In: screw, Out: screw}, true
	}
	if strip, name, ok := strings.Cut(t.text, ":"); ok && part.Place != nil {
		if other := w.plant.parts[part.Place.Tag+"/"+strip]; other != nil {
			return w.slot(other, 0, token{name, Pos{t.pos.File, t.pos.Line, t.pos.Col + len([]rune(strip)) + 1}})
		}
		w.fail(t, UnknownStrip, "", "%s has no strip %s", part.Place.Tag, strip)
		return Slot{}, false
	}
	if part.Place != nil && part.terminals[t.text] == nil {
		if bar := w.plant.parts[part.Place.Tag+"/"+t.text]; bar != nil && bar.Kind.Bar {
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
		if c := part.Card.Common; c != nil && (t.text == c.Name || t.text == string(c.Role)) {
			w.fail(t, UnknownTerminal, "end this lane on a strip of the supply that feeds "+c.Name, "%s is the common of %s, which takes only its feed", c.Name, part.Tag)
			return nil
		}
		w.fail(t, UnknownTerminal, strings.Join(names, " "), "channel %d of %s has no terminal %q", channel, part.Tag, t.text)
		return nil
	}
	if tm := part.terminals[t.text]; tm != nil {
		return tm
	}
	if part.unread {
		w.broken = true
		return nil
	}
	hint := ""
	if n := len(part.Terminals); n > 0 {
		hint = fmt.Sprintf("%s has %d terminals, %s to %s", part.Tag, n, part.Terminals[0].Name, part.Terminals[n-1].Name)
	}
	w.fail(t, UnknownTerminal, hint, "%s has no terminal %q", part.Tag, t.text)
	return nil
}

// Channel returns the terminals of channel n of a card, from 1; nil for one that
// the card does not have. A common is not among them.
func (p *Part) Channel(n int) []*Terminal {
	if p.Card == nil || n < 1 || n > p.Card.Channels || n*p.Card.Terminals > len(p.Terminals) {
		return nil
	}
	k := p.Card.Terminals
	return p.Terminals[(n-1)*k : n*k]
}

// Poles returns the terminals that a meter is put across at channel n of a card:
// those of Channel, and the common.
func (p *Part) Poles(n int) []*Terminal {
	own := p.Channel(n)
	if len(own) == 0 || p.Card.Common == nil {
		return own
	}
	return append(slices.Clone(own), p.Card.Common)
}

// unknownTag reports a tag that nothing bears, with the nearest one that exists.
func (w *walker) unknownTag(t token) {
	kind, text := UnknownTag, fmt.Sprintf("nothing is tagged %s", t.text)
	if place, strip, ok := strings.Cut(t.text, "/"); ok && w.plant.places[place] != nil {
		text = fmt.Sprintf("%s has no strip or part %s", place, strip)
		kind = UnknownStrip
	}
	w.fail(t, kind, w.plant.tagLists().nearStep(t.text), "%s", text)
}
