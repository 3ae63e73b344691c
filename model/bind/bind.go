// Package bind gives the words of circuits their meaning: it finds the stations and cores that
// they name, and makes the conductors that join one terminal to the next.
package bind

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/english"
	"ringout/model/finding"
)

// Binder gives the words of the paths their meaning: it joins every circuit's
// legs to terminals and cores. It goes on after an error, so that one run
// reports them all; a circuit that cannot be bound is marked Broken.
type Binder struct {
	*finding.Log
	Plant *model.Plant
}

// Finish wires the circuits, once all are bound, and finds the spares. written is what
// the text has of each.
func (b *Binder) Finish(written map[*model.Circuit][]PathStep) {
	b.landOverall()
	b.Plant.EachCircuit(b.wire)
	b.commonCores()
	d := findDoubts(b.Plant, written)
	b.spareCores(d)
	d.mark()
}

// BindCircuit turns the written steps of a circuit into stations and runs.
func (b *Binder) BindCircuit(c *model.Circuit, steps []PathStep) {
	c.Path = &model.Path{}
	if len(steps) == 0 {
		b.Errorf(c.Pos, finding.EmptyCircuit, "circuit %q has no stations", c.Name)
		c.Broken = true
		return
	}
	if c.Broken { // what it counts has no place
		b.mentions(c, steps)
		return
	}
	w := walker{Binder: b, circuit: c}
	w.walk(c.Path, steps, nil)
	if w.broken {
		c.Broken = true
		b.mentions(c, steps)
	}
}

// landOverall makes conductors of the overall screens that no circuit takes along:
// the others are wired with their circuits.
func (b *Binder) landOverall() {
	taken := map[*model.Cable]bool{}
	b.Plant.EachCircuit(func(c *model.Circuit) {
		for _, r := range c.Runs() {
			taken[r.Cable] = taken[r.Cable] || r.Landing() != nil
		}
	})
	for _, c := range b.Plant.Cables {
		if c.Landing != nil && !taken[c] {
			b.Add(c.Landing)
		}
	}
}

// mentions keeps which parts a broken circuit names, so that the checks do not
// call them unwired.
func (b *Binder) mentions(c *model.Circuit, steps []PathStep) {
	for _, s := range steps {
		if len(s.Words) > 0 {
			if p := b.Plant.PartByTag[s.Words[0].Text]; p != nil {
				c.Mentions = append(c.Mentions, p)
			}
		}
		for _, t := range s.Tails {
			b.mentions(c, t.Steps)
		}
	}
}

// walker binds one circuit.
type walker struct {
	*Binder
	circuit *model.Circuit
	broken  bool
}

// noHint is that of a finding that explains itself.
var noHint finding.Hint

func (w *walker) fail(t Token, kind *finding.Kind, hint finding.Hint, format string, args ...any) {
	w.broken = true
	w.Report(t.Wrong(kind, format, args...).WithHint(hint))
}

// walk binds steps into path. legs is nil at the start of a circuit, where
// the first station tells how many there are; in a tail the first step is a run.
func (w *walker) walk(path *model.Path, steps []PathStep, legs []int) {
	path.Legs = legs
	wantRun := legs != nil
	for i, s := range steps {
		if len(s.Tails) > 0 {
			if !wantRun || len(path.Stations) == 0 {
				w.fail(Token{Pos: s.Pos}, finding.StationMissing, noHint, "circuit %q: legs separate before a station", w.circuit.Name)
				return
			}
			if i != len(steps)-1 {
				w.fail(Token{Pos: s.Pos}, finding.StepAfterParting, finding.Do("put what follows into the lists of the legs"),
					"circuit %q: a step follows the separated legs", w.circuit.Name)
				return
			}
			w.part(path, s)
			return
		}
		if len(s.Words) == 0 {
			w.fail(Token{Pos: s.Pos}, finding.EmptyStep, noHint, "circuit %q has an empty step", w.circuit.Name)
			return
		}
		isRun := w.isRun(s.Words[0])
		switch {
		case !isRun && w.Plant.PartByTag[s.Words[0].Text] == nil:
			w.unknownTag(s.Words, wantRun)
			return
		case isRun && wantRun:
			path.Runs = append(path.Runs, w.run(path, s))
		case !isRun && !wantRun:
			st := w.station(path, s)
			if st == nil {
				w.broken = true
				return
			}
			path.Stations = append(path.Stations, st)
			if w.broken { // it may lack legs
				return
			}
			if left := w.goOn(path, st); i+1 < len(steps) && len(steps[i+1].Tails) == 0 && len(left) > 0 && len(left) < len(path.Legs) {
				path.Tails = []*model.Path{{}}
				w.walk(path.Tails[0], steps[i+1:], left)
				return
			}
		case isRun:
			w.fail(s.Words[0], finding.StationMissing, finding.Do("name where the cores land between the two"),
				"no station between two runs")
			return
		default:
			w.fail(s.Words[0], finding.RunMissing, finding.Do("name the cable and pair, or add wires"),
				"no cable or wires to %s", s.Words[0].Text)
			return
		}
		if w.broken {
			return
		}
		wantRun = !wantRun
	}
	if !wantRun {
		last := steps[len(steps)-1].Words[0]
		w.fail(last, finding.OpenCircuit, finding.Do("name where its cores land"),
			"circuit %q is not landed after %s", w.circuit.Name, last.Text)
	}
}

// goOn are the legs of a path that go on from a station: all but the leads of a resistance
// sensor that are parked there.
func (w *walker) goOn(path *model.Path, st *model.Station) (left []int) {
	for i, leg := range path.Legs {
		if t := st.Terminations[i]; !w.onSensor() || t.Does != model.Cut && !t.Ends {
			left = append(left, leg)
		}
	}
	return left
}

// onSensor reports whether the circuit begins on a resistance sensor, whose leads may be parked.
func (w *walker) onSensor() bool {
	all := w.circuit.Path.Stations
	return len(all) > 0 && all[0].Part.Device != nil && all[0].Part.Kind.Signal == model.Resistance
}

// markedBy says which marks the legs of a circuit have, if any.
func markedBy(marks []string) string {
	if len(marks) == 0 {
		return ""
	}
	return fmt.Sprintf("its mark, %s, or ", strings.Join(marks, " "))
}

// numbersOf says which legs of a path have which numbers, by the terminals that they begin
// on, whose names may be numbers too.
func (w *walker) numbersOf(path *model.Path) string {
	var all []string
	for _, leg := range path.Legs {
		if t := w.circuit.Path.Stations[0].Terminations[leg-1].In; t != nil {
			all = append(all, fmt.Sprintf("%d begins on %s", leg, t.Tag()))
		}
	}
	if len(all) == 0 {
		return ", from 1"
	}
	return ": " + strings.Join(all, ", ")
}

// part binds the tails after the last station of path.
func (w *walker) part(path *model.Path, s PathStep) {
	seen := map[int]Token{}
	for _, t := range s.Tails {
		n, marks := 0, []string(nil)
		for _, leg := range path.Legs {
			l := w.circuit.Legs[leg-1]
			if l.Role != 0 && !slices.Contains(marks, string(l.Role)) {
				marks = append(marks, string(l.Role))
			}
			if t.Leg.Text == strconv.Itoa(leg) || (l.Role != 0 && t.Leg.Text == string(l.Role)) {
				n = leg
				if _, walked := seen[leg]; !walked {
					break // else the other one of two alike, such as B and B
				}
			}
		}
		if n == 0 {
			w.fail(t.Leg, finding.UnknownLeg, finding.Do("name a leg by %sits number%s", markedBy(marks), w.numbersOf(path)),
				"circuit %q has no leg %q here", w.circuit.Name, t.Leg.Text)
			return
		}
		if first, ok := seen[n]; ok {
			w.broken = true
			w.Report(t.Leg.Wrong(finding.LegTwice, "leg %q has two paths", t.Leg.Text).WithAlso(first.Pos, "first here"))
			return
		}
		seen[n] = t.Leg
		p := &model.Path{}
		w.walk(p, t.Steps, []int{n})
		if w.broken {
			return
		}
		path.Tails = append(path.Tails, p)
	}
	// As they lie at the device, in whatever order they are written.
	slices.SortFunc(path.Tails, func(a, b *model.Path) int { return cmp.Compare(a.Legs[0], b.Legs[0]) })
}

// isRun reports whether a step is a run, not a station, by its first word.
func (w *walker) isRun(t Token) bool {
	if _, ok := runWords[t.Text]; ok {
		return true
	}
	return w.Plant.CableByTag[t.Text] != nil
}

// station binds one station: REF [channel N] TERMINATION ... [screen TERMINATION].
func (w *walker) station(path *model.Path, s PathStep) *model.Station {
	ref := s.Words[0]
	part := w.Plant.PartByTag[ref.Text]
	if part.Kind == model.UnknownKind {
		return nil // reported where the part is written
	}
	st := &model.Station{Pos: ref.Pos, Part: part}
	terminals, words, ok := w.ownTerminals(st, ref, s.Words[1:])
	if !ok {
		return nil
	}
	words, screen, ok := w.screenWord(words)
	if !ok {
		return nil
	}
	if path.Legs == nil { // the first station of the circuit
		if words, ok = w.beginLegs(path, ref, words, len(terminals)); !ok {
			return nil
		}
	}
	if n := len(path.Legs); len(words) == n+1 && screen == nil {
		screen, words = &words[n], words[:n]
	}
	if !w.terminations(st, path, terminals, ref, words) {
		return nil
	}
	if screen != nil {
		if st.Screen, ok = w.screenTermination(part, st.Channel, *screen); !ok {
			return nil
		}
	}
	if len(path.Stations) == 0 && len(path.Runs) == 0 {
		for i, termination := range st.Terminations {
			if termination.In != nil {
				w.circuit.Legs[i].Role = termination.In.Role
			}
		}
	}
	return st
}

// ownTerminals are those that legs land on at a station where none are named: of a
// channel, which has to be said, or of the kind of part. It returns the words that are
// left, too.
func (w *walker) ownTerminals(st *model.Station, ref Token, words []Token) (terminals []*model.Terminal, rest []Token, ok bool) {
	part := st.Part
	switch {
	case part.Card != nil && part.Of != nil:
		st.Channel = 1
		return part.Channel(1), words, true
	case part.Card != nil && len(words) > 0 && w.commonOf(part, words[0]) != nil:
		if t := w.commonOf(part, words[0]); !t.GivesFeed() || len(w.circuit.Path.Stations) == 0 || w.circuit.Path.Stations[0].Part.Strip == nil {
			w.onCommon(words[0], t)
			return nil, nil, false
		}
		return nil, words, true
	case part.Card != nil:
		if len(words) < 2 || words[0].Text != "channel" {
			w.fail(ref, finding.ChannelMissing, useNumber("channel", part.Card.Channels), "no channel given for card %s", ref.Text)
			return nil, nil, false
		}
		n, err := strconv.Atoi(words[1].Text)
		if part.Card.Channels == 0 {
			return nil, nil, false // reported where the card is written
		}
		if err != nil || n < 1 || n > part.Card.Channels {
			w.fail(words[1], finding.UnknownChannel, useNumber("channel", part.Card.Channels),
				"card %s has no channel %s", ref.Text, words[1].Text)
			return nil, nil, false
		}
		st.Channel = n
		return part.Channel(n), words[2:], true
	case part.Device != nil && len(part.Device.Groups) > 0:
		return part.Device.Groups[0].Terminals, words, true
	case part.Kind != nil && len(part.Kind.Groups) > 0:
		n := min(len(part.Kind.Groups[0].Roles), len(part.Terminals))
		return part.Terminals[:n], words, true
	}
	return nil, words, true
}

// screenWord takes the landing of the screen from the end of words, where it is said.
func (w *walker) screenWord(words []Token) (rest []Token, screen *Token, ok bool) {
	i := slices.IndexFunc(words, func(t Token) bool { return t.Text == "screen" })
	switch {
	case i < 0:
		return words, nil, true
	case i != len(words)-2:
		w.fail(words[i], finding.ScreenUnclear, finding.Do(`put one terminal or earth bar after "screen", and nothing behind it`), `"screen" needs one terminal or earth bar after it`)
		return nil, nil, false
	}
	return words[:i:i], &words[i+1], true // the word itself is not overwritten
}

// beginLegs makes the legs of a circuit at its first station: one for each word, or
// for each of its own terminals where there is none.
func (w *walker) beginLegs(path *model.Path, ref Token, words []Token, own int) (rest []Token, ok bool) {
	n := len(words)
	if n == 0 {
		n = own
	}
	for i := range n {
		w.circuit.Legs = append(w.circuit.Legs, &model.Leg{Circuit: w.circuit, N: i + 1})
		path.Legs = append(path.Legs, i+1)
	}
	if n == 0 {
		w.fail(ref, finding.TerminalsMissing, noHint, "no start terminals given on %s", ref.Text)
	}
	return words, n > 0
}

// terminations binds what each leg does at a station: as words say, or on its own terminals
// where there are none.
func (w *walker) terminations(st *model.Station, path *model.Path, own []*model.Terminal, ref Token, words []Token) bool {
	part, want := st.Part, len(path.Legs)
	switch {
	case len(words) == 0 && part.Kind != nil && part.Kind.Passes && len(own) > 0:
		st.Terminations = w.passThrough(part, path, ref)
	case len(words) == 0 && len(own) == want:
		for _, t := range own {
			st.Terminations = append(st.Terminations, model.Termination{Pos: ref.Pos, Does: model.Lands, In: t, Out: t})
		}
	case len(words) < want:
		w.fail(ref, finding.TerminalsShort, nameTerminals(own, len(words), want),
			"%s: %s, %s named", ref.Text, english.Text(finding.Count(want, "core")), finding.Count(len(words), "terminal"))
		return false
	case len(words) > want:
		w.fail(words[want], finding.TerminalsOver, noHint,
			"%s: %s, %s named", ref.Text, english.Text(finding.Count(want, "core")), finding.Count(len(words), "terminal"))
		return false
	default:
		for _, t := range words {
			termination, ok := w.legTermination(part, st.Channel, t)
			if !ok {
				return false
			}
			st.Terminations = append(st.Terminations, termination)
		}
	}
	return true
}

// nameTerminals is a hint for a station with too few terminals. One that has terminals
// of its own, in another number, takes their names; a screen has none among them.
func nameTerminals(own []*model.Terminal, named, want int) finding.Hint {
	if named > 0 || len(own) <= want {
		return finding.Do("name one terminal for each core, then one for the screen")
	}
	var names []string
	for _, t := range own {
		names = append(names, t.Name)
	}
	return finding.Do("name behind it which of its terminals, %s, %s to", few(names), map[bool]string{true: "the core comes", false: "the cores come"}[want == 1])
}

// passThrough lands the legs of path on the terminals of a barrier that they come to, in order.
func (w *walker) passThrough(part *model.Part, path *model.Path, ref Token) []model.Termination {
	var terminations []model.Termination
	for _, t := range part.Terminals {
		out := part.Through[t]
		if out == nil || out.Index < t.Index || len(terminations) == len(path.Legs) {
			continue
		}
		if w.circuit.FromCard() == part.FacesField(t) {
			t, out = out, t
		}
		terminations = append(terminations, model.Termination{Pos: ref.Pos, Does: model.Lands, In: t, Out: out})
	}
	if len(terminations) < len(path.Legs) {
		w.fail(ref, finding.TerminalsShort, noHint, "%s: %s, maximum %d", part.Tag, english.Text(finding.Count(len(path.Legs), "core")), len(terminations))
	}
	return terminations
}

// legTermination binds one word of a leg: 7>x of a lead that is parked, or what screens have too.
func (w *walker) legTermination(part *model.Part, channel int, t Token) (model.Termination, bool) {
	if name, parked := strings.CutSuffix(t.Text, ">x"); parked && part.Strip != nil && w.onSensor() {
		at := w.terminal(part, channel, Token{name, t.Pos})
		return model.Termination{Pos: t.Pos, Does: model.Lands, In: at, Out: at, Ends: true}, at != nil
	}
	return w.termination(part, channel, t)
}

// termination binds one word: 7, 5>6, . or x.
func (w *walker) termination(part *model.Part, channel int, t Token) (model.Termination, bool) {
	switch t.Text {
	case ".":
		return model.Termination{Pos: t.Pos, Does: model.Passes}, true
	case "x":
		return model.Termination{Pos: t.Pos, Does: model.Cut}, true
	}
	in, out, through := strings.Cut(t.Text, ">")
	a := w.terminal(part, channel, Token{in, t.Pos})
	if a == nil {
		return model.Termination{}, false
	}
	s := model.Termination{Pos: t.Pos, Does: model.Lands, In: a, Out: a}
	if through {
		s.Out = w.terminal(part, channel, Token{out, t.Pos.Right(len([]rune(in)) + 1)})
		if s.Out == nil {
			return s, false
		}
		if s.Out == a {
			w.fail(t, finding.SameTerminal, noHint, "in and out are the same terminal of %s", part.Tag)
			return s, false
		}
		if part.Plug() != nil {
			w.fail(t, finding.PinsDiffer, finding.Do("name one pin: mated, a pin joins only its own number; a jumper in a half is a strip of its own"),
				"circuit %q: in on pin %s of %s and out on pin %s", w.circuit.Name, a.Name, part.Tag, s.Out.Name)
			return s, false
		}
	} else if out := part.Through[a]; out != nil {
		s.Out = out
	}
	return s, true
}

// screenTermination binds the landing of a screen: a terminal, x, an earth bar of the
// same place, a terminal of another strip there (X3:2), or the earth screw of a
// device (earth or ground).
func (w *walker) screenTermination(part *model.Part, channel int, t Token) (model.Termination, bool) {
	if part.Device != nil && slices.Contains(model.EarthScrews, t.Text) {
		screw := part.EarthScrew(t.Text)
		return model.Termination{Pos: t.Pos, Does: model.Lands, In: screw, Out: screw}, true
	}
	if strip, name, ok := strings.Cut(t.Text, ":"); ok && part.Place != nil {
		if other := w.Plant.PartByTag[part.Place.Tag+"/"+strip]; other != nil {
			return w.termination(other, 0, Token{name, t.Pos.Right(len([]rune(strip)) + 1)})
		}
		w.fail(t, finding.UnknownStrip, finding.Do("%s", useStrip(part.Place)), "%s has no strip %s", part.Place.Tag, strip)
		return model.Termination{}, false
	}
	if part.Place != nil && part.TerminalByName[t.Text] == nil {
		if bar := w.Plant.PartByTag[part.Place.Tag+"/"+t.Text]; bar != nil && bar.Kind.Bar {
			return model.Termination{Pos: t.Pos, Does: model.Lands, In: bar.Terminals[0], Out: bar.Terminals[0]}, true
		}
	}
	return w.termination(part, channel, t)
}

// commonOf is the common of a card that a word names; nil where it names none.
func (w *walker) commonOf(card *model.Part, t Token) *model.Terminal {
	if c := card.TerminalByName[t.Text]; c != nil && c.CommonAt() != nil {
		return c
	}
	return nil
}

// onCommon reports a leg that would land on the common of a card: all but common cores, and
// those of a card that feeds it itself, end on a strip.
func (w *walker) onCommon(t Token, c *model.Terminal) {
	hint, takes := finding.Do("end this leg on a strip of the supply that feeds %s", c.Name), "its feed"
	if c.GivesFeed() {
		hint = finding.Do("end this leg on a strip that it feeds: add to feeds of %s %s %s to a strip and its terminal", c.Part.Place.Tag, c.Part.Tag, c.Name)
		takes = "feeds and common cores"
	}
	w.fail(t, finding.UnknownTerminal, hint, "%s is the common of %s, which takes only %s", c.Name, c.Part.Tag, takes)
}

// terminal finds a terminal of a part by name; of a card, by the role or name
// within the channel.
func (w *walker) terminal(part *model.Part, channel int, t Token) *model.Terminal {
	if channel > 0 {
		var names []string
		for _, tm := range part.Channel(channel) {
			if tm.Name == t.Text || (tm.Role != 0 && string(tm.Role) == t.Text) {
				return tm
			}
			names = append(names, tm.Name)
		}
		if c := part.CommonOf(channel); c != nil && (t.Text == c.Name || t.Text == string(c.Role)) {
			w.onCommon(t, c)
			return nil
		}
		w.fail(t, finding.UnknownTerminal, finding.Do("use %s", few(names)), "channel %d of %s has no terminal %q", channel, part.Tag, t.Text)
		return nil
	}
	if tm := part.TerminalByName[t.Text]; tm != nil {
		return tm
	}
	if part.Unread {
		w.broken = true
		return nil
	}
	w.fail(t, finding.UnknownTerminal, UseTerminal(t.Text, part.Terminals), "%s has no terminal %q", part.Tag, t.Text)
	return nil
}

// unknownTag reports a step whose first word names no station, where a run is wanted, no
// run.
func (w *walker) unknownTag(words []Token, wantRun bool) {
	t := words[0]
	if wantRun {
		w.fail(t, finding.UnknownTag, TagLists(w.Plant).run(t.Text), "no cable is tagged %s", t.Text)
		return
	}
	kind, text := finding.UnknownTag, fmt.Sprintf("nothing is tagged %s", t.Text)
	if pl := w.Plant.PlaceByTag[t.Text]; pl != nil {
		kind, text = finding.UnknownStrip, fmt.Sprintf("%s is a %s, with no strip named", pl.Tag, pl.Kind)
	} else if place, strip, ok := strings.Cut(t.Text, "/"); ok && w.Plant.PlaceByTag[place] != nil {
		if part := w.Plant.PartByTag[strip]; part != nil && part.Place == w.Plant.PlaceByTag[place] {
			w.fail(t, finding.UnknownStrip, finding.Write(strip), "%s is no strip of %s: its tag stands alone", strip, place)
			return
		}
		text = fmt.Sprintf("%s has no strip or part %s", place, strip)
		kind = finding.UnknownStrip
	}
	w.fail(t, kind, TagLists(w.Plant).Station(t.Text, words[1:]...), "%s", text)
}
