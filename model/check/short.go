package check

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// checkCores: is a core or screen used twice, or a pair split over two circuits?
func checkCores(p *model.Plant, found func(finding.Finding)) {
	seen := map[*model.Core]*model.Conductor{}
	type group struct {
		cable *model.Cable
		n     int
	}
	split := map[group]*model.Conductor{}
	for _, w := range p.Conductors {
		if w.Core == nil {
			continue
		}
		if first := seen[w.Core]; first != nil {
			kind := finding.CoreUsedTwice
			if w.Screen {
				kind = finding.ScreenUsedTwice
			}
			pr := finding.At(w.Pos, kind, "%s used twice: %s, and %s", coreWords(w.Core), user(first), user(w))
			pr.Also = []finding.Related{{Pos: first.Pos, Text: "used first here"}}
			if kind == finding.CoreUsedTwice && first.Circuit == w.Circuit && w.Core.Cable.Type.Size == 2 { // out and back by one pair
				n := 2 * w.Core.Group
				pr.Hint = finding.Do("where a leg goes out by one core of a pair and back by the other, name each: %s core %d, %s core %d", w.Core.Cable.Tag, n-1, w.Core.Cable.Tag, n)
			}
			found(pr)
			continue
		}
		seen[w.Core] = w
		if w.Core.Cable.Type.Size < 2 || w.Screen || w.Circuit == nil {
			continue
		}
		g := group{w.Core.Cable, w.Core.Group}
		if first := split[g]; first == nil {
			split[g] = w
		} else if first.Circuit != w.Circuit {
			pr := finding.At(w.Pos, finding.SplitPair, "%s split between circuits %q and %q", groupText(w.Core), first.Circuit.Name, w.Circuit.Name)
			pr.Also = []finding.Related{finding.Also(first.Pos, "its other core is used here")}
			found(pr)
			split[g] = w // once for each change of circuit
		}
	}
	p.EachCircuit(func(c *model.Circuit) {
		for _, r := range c.Runs() {
			if len(r.Cores) == 2 && r.Cable.Type.Size == 2 && r.Cores[0].Group != r.Cores[1].Group {
				pr := finding.At(r.Pos, finding.SplitPair, "circuit %q: legs run in pairs %d and %d of %s", c.Name, r.Cores[0].Group, r.Cores[1].Group, r.Cable.Tag)
				pr.Hint = finding.Do("run both legs in one pair of %s", r.Cable.Tag)
				found(pr)
			}
		}
	})
}

// user returns what uses a core.
func user(c *model.Conductor) string {
	if c.Circuit != nil {
		return fmt.Sprintf("circuit %q", c.Circuit.Name)
	}
	return "the spares"
}

// mostAtInstrument is how many conductors one terminal of an instrument takes: one that brings
// its supply, one that carries it on (common practice).
const mostAtInstrument = 2

// checkTerminals: do two circuits meet on a terminal, or too many conductors
// on one side of it?
func checkTerminals(p *model.Plant, found func(finding.Finding)) {
	p.EachTerminal(func(t *model.Terminal) {
		if t.Bar {
			return
		}
		var sides [2][]*model.Conductor
		var first *model.Conductor
		for _, u := range t.Ends {
			w := u.Conductor
			if w.Kind != model.JumperRun {
				sides[u.Side] = append(sides[u.Side], w)
			}
			switch {
			case isFeed(w) || t.Fed != nil || w.HangsOn(t): // a common takes many circuits
			case first == nil:
				first = w
			case meets(first, w, t):
				pr := finding.At(w.Pos, finding.TerminalUsedTwice, "%s carries %s and %s", t.Tag(), carries(first), carries(w))
				pr.Also = []finding.Related{{Pos: first.Pos, Text: "lands first here"}}
				found(pr)
				return
			}
		}
		if ws := slices.Concat(sides[0], sides[1]); t.TakesSupply() && len(ws) > mostAtInstrument {
			pr := finding.At(ws[mostAtInstrument].Pos, finding.TerminalCrowded, "%s: %s, maximum %d", t.Tag(), finding.Count(len(ws), "conductor"), mostAtInstrument)
			pr.Also = []finding.Related{{Pos: ws[0].Pos, Text: "the first of them"}}
			found(pr.WithHint(finding.Do("carry the supply on from the last instrument of the chain, or from the strip")))
		}
		if t.Part.Strip == nil {
			return
		}
		for side, ws := range sides {
			if limit := t.Part.Strip.PerSide; len(ws) > limit {
				pr := finding.At(ws[limit].Pos, finding.TerminalCrowded, "%s, %s side: %s, maximum %d", t.Tag(), model.Side(side), finding.Count(len(ws), "conductor"), limit)
				pr.Also = []finding.Related{{Pos: ws[0].Pos, Text: "the first of them"}}
				pr.Hint = finding.Do("spread them with a jumper, or give the strip the number that it takes on one side: conductors")
				found(pr)
			}
		}
	})
}

// isFeed tells the wire from a supply to its strip.
func isFeed(c *model.Conductor) bool { return c.Core == nil && c.Circuit == nil }

// meets reports whether two conductors must not be on one terminal t.
func meets(c *model.Conductor, o *model.Conductor, t *model.Terminal) bool {
	switch {
	case onePole(c, o):
		return false
	case c.Circuit != o.Circuit && c.Circuit != nil && o.Circuit != nil && t.Part.Card != nil:
		return false // checkChannels tells it
	case c.Circuit != o.Circuit && c.Circuit != nil && o.Circuit != nil && t.Group != nil && t.Group.Contact != 0:
		return false // checkContacts tells it: two may share the common of a changeover contact
	case c.Doubt+o.Doubt != "":
		return false
	case c.Screen && o.Screen && c.Spare+o.Spare == "" && (c.Circuit == nil || o.Circuit == nil):
		return false // an overall screen takes on those of the pairs
	case c.Circuit == nil && o.Circuit == nil && c.Spare != "" && o.Spare != "":
		return false // a spare pair carried through
	}
	return c.Circuit != o.Circuit || c.Screen != o.Screen || (!c.Screen && c.Leg != o.Leg)
}

// onePole reports whether two conductors are of one pole of a segment, or both screens
// of it: all its circuits are in parallel.
func onePole(c *model.Conductor, o *model.Conductor) bool {
	if c.Circuit == nil || o.Circuit == nil || c.Circuit.Loop != o.Circuit.Loop || c.Circuit.Loop.Segment == nil || c.Screen != o.Screen {
		return false
	}
	if c.Role == 0 || o.Role == 0 {
		return c.Screen || c.Leg == o.Leg
	}
	return c.Role == o.Role
}

// carries returns what a conductor is part of.
func carries(c *model.Conductor) string {
	switch {
	case c.Circuit == nil && c.Spare != "":
		return "a spare core of " + c.Core.Cable.Tag
	case c.Circuit == nil:
		return "overall screen of " + c.Core.Cable.Tag
	case c.Screen:
		return fmt.Sprintf("the screen of circuit %q", c.Circuit.Name)
	}
	return fmt.Sprintf("leg %s of circuit %q", c.LegMark(), c.Circuit.Name)
}

// checkJumpers: does a jumper join two circuits, or the two legs of one?
func checkJumpers(p *model.Plant, found func(finding.Finding)) {
	p.EachPart(func(part *model.Part) {
		for _, t := range part.Terminals {
			if t.Joined == nil || t != t.Joined[0] || t.Fed != nil || waitsForCommon(t) {
				continue
			}
			var first *model.Conductor
			for _, t := range t.Joined {
				for _, u := range t.Ends {
					w := u.Conductor
					if w.Circuit == nil || w.Screen || w.Kind == model.JumperRun {
						continue
					}
					if first == nil {
						first = w
					} else if onePole(first, w) {
						continue
					} else if first.Circuit != w.Circuit || first.Leg != w.Leg {
						pr := finding.At(w.Pos, finding.JoinedCircuits, "a jumper on %s joins %s to %s", part.Tag, carries(first), carries(w))
						pr.Also = []finding.Related{{Pos: first.Pos, Text: "joined to this"}, {Pos: part.Pos, Text: "the jumper is on this strip"}}
						if joinsCoils(first, w) {
							pr.Hint = coilsAbreast(first.Circuit, w.Circuit)
						}
						found(pr)
						first = w // once for each change of circuit
					}
				}
			}
		}
	})
}

// joinsCoils reports whether a jumper joins the like legs of two circuits with coils: both
// are meant to be on one output.
func joinsCoils(a, b *model.Conductor) bool {
	coil := func(w *model.Conductor) bool {
		return w.Circuit != nil && w.Circuit.Signal == model.SwitchedOut && w.Circuit.Device() != nil
	}
	return coil(a) && coil(b) && a.Circuit != b.Circuit && a.Role == b.Role
}

// coilsAbreast is a hint how two coils are put on one output: the path goes over the one on to
// the other. The one with a channel goes last.
func coilsAbreast(a, b *model.Circuit) finding.Hint {
	onCard := func(c *model.Circuit) bool {
		return slices.ContainsFunc(c.Stations(), func(st *model.Station) bool { return st.Channel > 0 })
	}
	if onCard(a) && !onCard(b) {
		a, b = b, a
	}
	return finding.Do("take the cable of %s on to %s, as one circuit that goes over both to the output (a path cannot branch at a strip); or give each an output of its own", a.Device().Tag, b.Device().Tag)
}

// checkJumperRuns: is each jumper that a circuit runs through there?
func checkJumperRuns(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	for _, w := range c.Conductors(p) {
		if w.Kind != model.JumperRun {
			continue
		}
		if a, b := w.From.Terminal, w.To.Terminal; a == nil || b == nil || !a.Jumpered(b) {
			pr := finding.At(w.Pos, finding.MissingJumper, "no jumper joins %s and %s", w.From.Tag(), w.To.Tag())
			pr.Hint = finding.Do("add it to jumpers of the strip")
			found(pr)
		}
	}
}

// checkSupplies: does a leg join two supplies, or the two poles of one? Does the
// current come back to the supply that it comes from? What lies behind a part in
// series is another potential.
func checkSupplies(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	for _, l := range c.Legs {
		var supply *model.Terminal
		for _, s := range l.Conductors {
			if s.Termination.In == nil {
				continue
			}
			if t := model.Origin(s.Termination.In); t.Part.Supply != nil {
				if supply != nil && supply != t {
					found(finding.At(s.Termination.Pos, finding.JoinedSupplies, "circuit %q, leg %s: joins %s to %s", c.Name, l.Mark(), supply.Tag(), t.Tag()))
				}
				supply = t
			}
			if s.Termination.In != s.Termination.Out {
				supply = nil
			}
		}
	}
	all := supplies(c)
	ac := slices.ContainsFunc(all, func(t *model.Terminal) bool { return t.Part.Supply.AC })
	apart := slices.ContainsFunc(all, func(t *model.Terminal) bool { return p.Practice.Earthed(t.Part) == nil })
	if len(all) > 1 && (ac || apart) {
		pr := finding.At(c.Pos, finding.SplitSupplies, "circuit %q: fed from %s, returns to %s", c.Name, all[0].Part.Tag, all[1].Part.Tag)
		pr.Also = []finding.Related{{Pos: all[0].Part.Pos, Text: all[0].Part.Tag + " is described here"}, {Pos: all[1].Part.Pos, Text: all[1].Part.Tag + " is described here"}}
		if pr.Hint = finding.Do("feed both legs from one supply"); !ac {
			pr.Hint = finding.Do(`feed both legs from one supply, or give the pole of all supplies that is earthed ("earthed pole")`)
		}
		found(pr)
	}
}

// supplies are the poles of supplies, one of each, that the legs of a circuit
// and the commons of their cards are on; none where an isolator parts them.
func supplies(c *model.Circuit) (all []*model.Terminal) {
	add := func(t *model.Terminal) {
		if t = model.Origin(t); t != nil && t.Part.Supply != nil && t.Role != 'E' &&
			!slices.ContainsFunc(all, func(o *model.Terminal) bool { return o.Part == t.Part }) {
			all = append(all, t)
		}
	}
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			if s.Station.Part.Kind.Isolates {
				return nil
			}
			if s.Termination.In == nil {
				continue
			}
			add(s.Termination.In)
			if common := s.Station.Part.CommonOf(s.Station.Channel); common != nil {
				add(common)
			}
		}
	}
	return all
}

// channel is one channel of a card.
type channel struct {
	card *model.Part
	n    int
}

// checkChannels: is a channel used by two circuits?
func checkChannels(p *model.Plant, found func(finding.Finding)) {
	seen := map[channel]*model.Circuit{}
	at := map[channel]finding.Pos{}
	p.EachCircuit(func(c *model.Circuit) {
		for _, st := range c.Stations() {
			if st.Channel == 0 {
				continue
			}
			ch := channel{st.Part, st.Channel}
			if first := seen[ch]; first != nil && first != c {
				channel := fmt.Sprintf("channel %d of %s", ch.n, ch.card.Tag)
				if ch.card.Of != nil {
					channel = ch.card.Tag
				}
				pr := finding.At(st.Pos, finding.ChannelUsedTwice, "%s used twice: circuit %q, and circuit %q", channel, first.Name, c.Name)
				pr.Also = []finding.Related{{Pos: at[ch], Text: "used first here"}}
				found(pr)
			} else {
				seen[ch], at[ch] = c, st.Pos
			}
		}
	})
}

// checkChannelParts: do the legs of a circuit land on two channels? A channel of
// which only some terminals are in the circuit takes its current back by way of a
// supply, where the card joins them, or not at all.
func checkChannelParts(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	used := map[*model.Terminal]bool{}
	supplied := false
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			for _, t := range []*model.Terminal{s.Termination.In, s.Termination.Out} {
				if t == nil {
					continue
				}
				used[t] = true
				supplied = supplied || model.Origin(t).Part.Supply != nil
			}
		}
	}
	var first *model.Station
	told := map[channel]bool{}
	for _, st := range c.Stations() {
		ch := channel{st.Part, st.Channel}
		lone := st.Part.Card != nil && st.Part.Card.Minus == model.OwnMinus // no way back inside the card
		if st.Channel == 0 || supplied && !lone || told[ch] {
			continue
		}
		told[ch] = true
		var open []string
		for _, t := range st.Part.Channel(st.Channel) {
			if !used[t] {
				open = append(open, t.Tag())
			}
		}
		switch {
		case len(open) == 0:
		case first == nil:
			first = st
			pr := finding.At(st.Pos, finding.OpenTerminal, "circuit %q: %s not connected", c.Name, strings.Join(open, ", "))
			if supplied {
				pr.Hint = finding.Do("the current has no way back from a channel with \"minus\": own: go on from %s to the return of the supply", strings.Join(open, ", "))
			}
			found(pr)
		default:
			pr := finding.At(st.Pos, finding.SplitChannel, "circuit %q: legs land on channel %d of %s and channel %d of %s", c.Name, first.Channel, first.Part.Tag, st.Channel, st.Part.Tag)
			pr.Also = []finding.Related{{Pos: first.Pos, Text: "the other channel is here"}}
			found(pr)
		}
	}
}

// coreWords names a core or screen in words: core black of W-21 pair 3.
func coreWords(c *model.Core) finding.Phrase {
	switch {
	case c.Group == 0:
		return finding.Words("overall screen of %s", c.Cable.Tag)
	case c.IsScreen():
		return finding.Words("screen of %s", groupText(c))
	case c.Cable.Type.Size == 1:
		return finding.Words("core %d of %s", c.Number, c.Cable.Tag)
	}
	return finding.Words("core %s of %s", c.Colour.Words(), groupText(c))
}

// groupText names the group of a core: W-21 pair 3.
func groupText(c *model.Core) finding.Phrase {
	return finding.Words("%s %s %d", c.Cable.Tag, c.Cable.Type.GroupWord(), c.Group)
}
