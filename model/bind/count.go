package bind

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// This file gives places to what counts: <next> is the next free terminal of a strip, pair
// of a cable or channel of a card. A place that was given is kept with its loop; one that
// the text names, or that is kept for another loop, is passed over.

// counting is a word that counts: <next>, F<next>, <next>A.
var counting = regexp.MustCompile(`^([^<>]*)<next>([^<>]*)$`)

// follows is the word for the terminal or core after the one before it.
const follows = "next"

// Written is a circuit with the steps of its text.
type Written struct {
	Circuit *model.Circuit
	Steps   []PathStep
}

// countable is what places are counted on: their names in order, and how many make one.
type countable struct {
	tag   string
	names []string        // of its terminals, cores or channels
	marks []model.Marking // of its terminals; nil where they have none
	unit  int             // cores of a pair; else 1
	board bool            // terminals in rows and columns: a head does not part them
	given bool            // the terminals of a device: nothing counts on them
	taken map[string]finding.Pos
}

// ask is one group of words that count, on one thing.
type ask struct {
	circuit *model.Circuit
	on      *countable
	words   []Token // the counting one first; the others follow it
	turn    int     // of those of this circuit on this thing, from 0
	head    string  // before the number
	tail    string  // behind it
	unit    int     // names that one word stands for
	place   int     // index of the first name; -1 while it has none
}

// counter counts the places of a plant.
type counter struct {
	*Binder
	things map[string]*countable
	asks   []*ask
	turns  map[[3]string]int
	kept   map[[3]string]*model.Counted
}

// Count gives a place to every word that counts, and writes it into the steps. kept are the
// places that were given before; those of the plant as it is now are returned, the ones
// that nothing counts any more with them.
func (b *Binder) Count(all []Written, kept []*model.Counted) []*model.Counted {
	c := counter{Binder: b, things: map[string]*countable{}, turns: map[[3]string]int{}, kept: map[[3]string]*model.Counted{}}
	for _, k := range kept {
		c.kept[[3]string{k.Loop, k.Circuit, k.On}] = k
	}
	for _, w := range all {
		c.steps(w.Circuit, w.Steps)
	}
	if len(c.asks) == 0 && len(kept) == 0 {
		return nil
	}
	c.wired()
	for _, a := range c.asks {
		c.keep(a)
	}
	c.unused(kept)
	for _, a := range c.asks {
		if a.place < 0 {
			c.give(a)
		}
	}
	return c.result(kept)
}

// steps looks through the steps of a circuit: what they name is taken, and what counts is
// asked for. A word that follows another by name gets its own name.
func (c *counter) steps(circuit *model.Circuit, steps []PathStep) {
	for i := range steps {
		s := &steps[i]
		for _, t := range s.Tails {
			c.steps(circuit, t.Steps)
		}
		s.Words = c.spans(circuit, s.Words)
		if len(s.Words) == 0 {
			continue
		}
		on, words := c.thing(s.Words)
		if on == nil {
			continue
		}
		for i := 0; i < len(words); i++ {
			if m := counting.FindStringSubmatch(words[i].Text); m != nil && !on.given {
				n := 1
				for i+n < len(words) && words[i+n].Text == follows {
					n++
				}
				key := [3]string{circuit.Loop.Tag, circuit.Name, on.tag}
				c.asks = append(c.asks, &ask{circuit, on, words[i : i+n], c.turns[key], m[1], m[2], on.unit, -1})
				c.turns[key]++
				i += n - 1
				continue
			}
			c.follow(on, words, i)
			for _, name := range on.named(words[i].Text) {
				if _, ok := on.taken[name]; !ok {
					on.taken[name] = words[i].Pos
				}
			}
		}
	}
}

// spans writes out the spans of a step, in the order of the strip or cable: 7..9 is 7, 8
// and 9 where these are side by side. One that is none leaves the circuit broken.
func (c *counter) spans(circuit *model.Circuit, words []Token) (all []Token) {
	if !slices.ContainsFunc(words, func(w Token) bool { return strings.Contains(w.Text, "..") }) {
		return words
	}
	on, _ := c.thing(words)
	for _, w := range words {
		low, high, is := strings.Cut(w.Text, "..")
		if is && on != nil {
			a, b := slices.Index(on.names, low), slices.Index(on.names, high)
			if a >= 0 && b >= a {
				for _, name := range on.names[a : b+1] {
					all = append(all, Token{name, w.Pos})
				}
				continue
			}
			if part := c.Plant.PartByTag[words[0].Text]; part == nil || !part.Unread {
				c.Report(w.Wrong(finding.UnknownTerminal, "%s has no %s in this order", on.tag, w.Text))
			}
			circuit.Broken = true
		}
		all = append(all, w)
	}
	return all
}

// follow gives a word its name where it says that it follows the one before it.
func (c *counter) follow(on *countable, words []Token, i int) {
	if words[i].Text != follows || slices.Contains(on.names, follows) {
		return
	}
	before := i - 1
	for before >= 0 && words[before].Text == "screen" {
		before--
	}
	if before < 0 {
		return
	}
	_, out, through := strings.Cut(words[before].Text, ">")
	if !through {
		out = words[before].Text
	}
	if at := slices.Index(on.names, out); at >= 0 && at+1 < len(on.names) {
		words[i].Text = on.names[at+1]
	}
}

// thing is what a step counts on, and the words of it that may count; nil where nothing can.
func (c *counter) thing(words []Token) (on *countable, rest []Token) {
	first, rest := words[0].Text, words[1:]
	part, cable := c.Plant.PartByTag[first], c.Plant.CableByTag[first]
	switch {
	case cable != nil && cable.Type != nil && len(rest) > 0:
		unit := groupSizes[rest[0].Text]
		if unit == 0 || unit != 1 && unit != cable.Type.Size {
			return nil, nil
		}
		// A cable is counted by its groups and by its cores, which are the same copper.
		on = c.once(first+" "+strconv.Itoa(unit), func() *countable {
			n := &countable{tag: first, unit: unit}
			for i := range len(cable.Cores) / unit {
				n.names = append(n.names, strconv.Itoa(i+1))
			}
			return n
		})
		whole := c.once(first, func() *countable { return &countable{taken: map[string]finding.Pos{}} })
		on.taken = whole.taken
		return on, rest[1:]
	case part != nil && part.Card != nil:
		if len(rest) < 2 || rest[0].Text != "channel" {
			return nil, nil
		}
		return c.once(first, func() *countable {
			n := &countable{tag: first, unit: 1, taken: map[string]finding.Pos{}}
			for i := range part.Card.Channels {
				n.names = append(n.names, strconv.Itoa(i+1))
			}
			return n
		}), rest[1:2]
	case part != nil && (part.Place != nil || part.Device != nil):
		return c.strip(part), rest
	}
	return nil, nil
}

// strip is a strip, or another part with terminals in an order.
func (c *counter) strip(part *model.Part) *countable {
	return c.once(part.Tag, func() *countable {
		n := &countable{tag: part.Tag, unit: 1, given: part.Device != nil, taken: map[string]finding.Pos{}, board: part.Strip != nil && part.Strip.Grid.Given()}
		for _, t := range part.Terminals {
			n.names = append(n.names, t.Name)
			if part.Strip != nil && part.Strip.HasSigns {
				n.marks = append(n.marks, t.Role)
			}
		}
		return n
	})
}

func (c *counter) once(key string, make func() *countable) *countable {
	if c.things[key] == nil {
		c.things[key] = make()
	}
	return c.things[key]
}

// named are the keys of taken that a word of a step names: terminals, cores, a channel.
func (n *countable) named(word string) (keys []string) {
	for name := range strings.SplitSeq(word, ">") {
		if at := slices.Index(n.names, name); at >= 0 {
			keys = append(keys, n.keys(at)...)
		}
	}
	return keys
}

// keys are those of taken that the place at an index has: the cores of a pair.
func (n *countable) keys(at int) (keys []string) {
	if n.unit == 1 {
		return []string{n.names[at]}
	}
	for i := range n.unit {
		keys = append(keys, strconv.Itoa(at*n.unit+i+1))
	}
	return keys
}

// wired takes what is wired outside of circuits: feeds, spares that the text lists, screens
// that land on other strips.
func (c *counter) wired() {
	for _, x := range c.Plant.Conductors {
		for _, t := range []*model.Terminal{x.From.Terminal, x.To.Terminal} {
			if t != nil && !t.Bar && t.Part.Device == nil && t.Part.Card == nil {
				c.strip(t.Part).taken[t.Name] = x.Pos
			}
		}
		if x.Core != nil && x.Core.Number > 0 {
			whole := c.once(x.Core.Cable.Tag, func() *countable { return &countable{taken: map[string]finding.Pos{}} })
			whole.taken[strconv.Itoa(x.Core.Number)] = x.Pos
		}
	}
}

// fits reports whether a group of words may begin at an index: the names are there, are
// numbered with the same head, and begin where the marks begin.
func (a *ask) fits(at int) bool {
	n := a.on
	if at < 0 || at+len(a.words) > len(n.names) || !strings.HasSuffix(n.names[at], a.tail) {
		return false
	}
	for i := range a.words {
		if !a.numbered(n.names[at+i]) {
			return false
		}
	}
	if n.marks != nil && len(a.words) > 1 {
		first := slices.IndexFunc(n.names, a.numbered)
		return n.marks[at] == n.marks[first]
	}
	return true
}

// numbered reports whether a name is the head and then a number, or any of a board.
func (a *ask) numbered(name string) bool {
	rest, ok := strings.CutPrefix(name, a.head)
	return a.on.board && a.head == "" || ok && rest != "" && rest[0] >= '0' && rest[0] <= '9'
}

// blocked is where the text names a place that a group would have; false where it is free.
func (a *ask) blocked(at int) (pos finding.Pos, blocked bool) {
	for i := range a.words {
		for _, key := range a.on.keys(at + i) {
			if pos, taken := a.on.taken[key]; taken {
				return pos, true
			}
		}
	}
	return finding.Pos{}, false
}

// take gives a group its place, and writes the names into its words.
func (a *ask) take(at int, by finding.Pos) {
	a.place = at
	for i := range a.words {
		a.words[i].Text = a.on.names[at+i]
		for _, key := range a.on.keys(at + i) {
			a.on.taken[key] = by
		}
	}
}

// keep gives a group the place that is kept for it, if there is one.
func (c *counter) keep(a *ask) {
	k := c.kept[[3]string{a.circuit.Loop.Tag, a.circuit.Name, a.on.tag}]
	if k == nil || a.turn >= len(k.Places) {
		return
	}
	name := k.Places[a.turn]
	at := slices.Index(a.on.names, name)
	if at < 0 || !a.fits(at) {
		c.Report(finding.At(k.Pos, finding.KeptGone, "%s of loop %s was given place %s of %s, which is not there any more", k.Circuit, k.Loop, name, k.On).
			WithAlso(a.words[0].Pos, "it is counted here").WithHint(finding.Do("put the place back, or take this line out: the loop is then counted anew")))
		a.place = 0
		a.circuit.Broken = true
		return
	}
	if by, blocked := a.blocked(at); blocked {
		c.Report(finding.At(k.Pos, finding.KeptTaken, "%s of loop %s has place %s of %s, which something else takes", k.Circuit, k.Loop, name, k.On).
			WithAlso(by, "it is taken here").WithAlso(a.words[0].Pos, "it is counted here").
			WithHint(finding.Do("land the other elsewhere; or take this line out, where nothing is wired yet: the loop is then counted anew")))
	}
	a.take(at, k.Pos)
}

// unused tells of the places that are kept and that nothing counts; they stay taken.
func (c *counter) unused(kept []*model.Counted) {
	for _, k := range kept {
		key := [3]string{k.Loop, k.Circuit, k.On}
		if c.turns[key] >= len(k.Places) {
			continue
		}
		c.Report(finding.At(k.Pos, finding.KeptUnused, "place %s of %s is kept for %s of loop %s, which does not count it", strings.Join(k.Places[c.turns[key]:], " "), k.On, k.Circuit, k.Loop).
			WithHint(finding.Do("take it out here, so that others may have the place")))
		part, cable := c.Plant.PartByTag[k.On], c.Plant.CableByTag[k.On]
		var on *countable
		switch {
		case cable != nil && cable.Type != nil:
			on, _ = c.thing([]Token{{Text: k.On}, {Text: string(cable.Type.GroupWord())}})
		case part != nil && part.Card != nil:
			on, _ = c.thing([]Token{{Text: k.On}, {Text: "channel"}, {}})
		case part != nil && part.Place != nil:
			on = c.strip(part)
		default:
			continue
		}
		for _, place := range k.Places[c.turns[key]:] {
			for _, name := range on.named(place) {
				on.taken[name] = k.Pos
			}
		}
	}
}

// give finds the first free place of a group.
func (c *counter) give(a *ask) {
	for at := range a.on.names {
		if a.fits(at) {
			if _, blocked := a.blocked(at); !blocked {
				a.take(at, a.words[0].Pos)
				return
			}
		}
	}
	a.circuit.Broken = true
	c.Report(a.words[0].Wrong(finding.NoPlaceLeft, "%s has no free place for %s of loop %s", a.on.tag, a.circuit.Name, a.circuit.Loop.Tag).
		WithHint(finding.Do("add places to %s, or count on another", a.on.tag)))
}

// result is what every group has been given, with the places that nothing counts.
func (c *counter) result(kept []*model.Counted) (all []*model.Counted) {
	byKey := map[[3]string]*model.Counted{}
	for _, k := range kept {
		n := *k
		n.Places = slices.Clone(k.Places)
		byKey[[3]string{k.Loop, k.Circuit, k.On}] = &n
		all = append(all, &n)
	}
	for _, a := range c.asks {
		if a.place < 0 {
			continue
		}
		key := [3]string{a.circuit.Loop.Tag, a.circuit.Name, a.on.tag}
		n := byKey[key]
		if n == nil {
			n = &model.Counted{Loop: key[0], Circuit: key[1], On: key[2]}
			byKey[key] = n
			all = append(all, n)
		}
		if a.turn >= len(n.Places) {
			n.Places, n.New = append(n.Places, a.words[0].Text), true
		}
	}
	slices.SortStableFunc(all, func(a, b *model.Counted) int {
		return cmp.Or(cmp.Compare(a.Loop, b.Loop), cmp.Compare(a.Circuit, b.Circuit))
	})
	return all
}
