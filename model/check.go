package model

import (
	"fmt"
	"strings"
)

// The desk check puts the model through the same questions as the copper:
// open, short, earth, polarity, termination. Each check is one line here.

// check is one question put to a plant.
type check struct {
	family string
	run    func(*Plant, func(Problem))
}

var checks = []check{
	{"open", checkEnds},
	{"open", checkFieldDevices},
	{"short", checkCores},
	{"short", checkTerminals},
	{"short", checkJumpers},
	{"short", checkChannels},
	{"earth", checkScreens},
	{"earth", checkOverallScreens},
	{"polarity", checkPolarity},
	{"termination", checkCableEnds},
	{"termination", checkSizes},
	{"termination", checkSignals},
	{"termination", checkWiresPlace},
	{"termination", checkKnown},
}

// Check runs the desk check over a plant and returns what it finds, sorted.
func Check(p *Plant) Problems {
	var found Problems
	for _, c := range checks {
		c.run(p, func(pr Problem) { found = append(found, pr) })
	}
	return found.Sort()
}

func warningAt(pos Pos, code, format string, args ...any) Problem {
	return problemAt(pos, code, format, args...).warning()
}

// circuits calls f for each circuit that could be bound, in the order of the text.
func (p *Plant) circuits(f func(*Circuit)) {
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if !c.Broken {
				f(c)
			}
		}
	}
}

// checkEnds: does each lane run unbroken from where it begins to an input,
// output, supply or instrument?
func checkEnds(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		if len(c.Path.Stations) < 2 && len(c.Path.Tails) == 0 {
			found(problemAt(c.Pos, "open-circuit", "circuit %s has one station and goes nowhere", c.Name))
			return
		}
		for _, l := range c.Lanes {
			end := l.End()
			last := l.Steps[len(l.Steps)-1]
			switch {
			case end == nil:
				found(problemAt(last.Slot.Pos, "open-lane", "lane %s of circuit %s is cut back at %s", l.mark(), c.Name, last.Station.Part.Tag))
			case len(l.Steps) == 1:
				found(problemAt(last.Slot.Pos, "open-lane", "lane %s of circuit %s goes nowhere from %s", l.mark(), c.Name, end.Tag()))
			case end.Part.Strip != nil && end.Fed == nil:
				pr := problemAt(last.Slot.Pos, "open-lane", "lane %s of circuit %s ends on %s, which is neither an input, an output nor a fed terminal", l.mark(), c.Name, end.Tag())
				pr.Hint = "go on with wires to a card channel, or feed the terminal from a supply (feeds)"
				found(pr)
			}
		}
	})
}

// checkFieldDevices: is every terminal of every device that has polarity or a
// role in some circuit?
func checkFieldDevices(p *Plant, found func(Problem)) {
	broken := map[*Part]bool{}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			for _, part := range c.mentions {
				broken[part] = true
			}
		}
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			if len(d.Terminals) == 0 || broken[d] {
				continue
			}
			used := 0
			for _, t := range d.Terminals {
				if t.landed() {
					used++
				}
			}
			if used == 0 {
				found(problemAt(d.Pos, "unwired-device", "%s is in no circuit", d.Tag))
				continue
			}
			n := 0
			for _, g := range d.Kind.Groups {
				group := d.Terminals[min(n, len(d.Terminals)):min(n+len(g.Roles), len(d.Terminals))]
				n += len(g.Roles)
				some, open := false, []string(nil)
				for _, t := range group {
					if t.landed() {
						some = true
					} else {
						open = append(open, t.Name)
					}
				}
				if len(open) > 0 && (some || g.Signal == Power) {
					found(warningAt(d.Pos, "open-terminal", "nothing lands on %s of %s", strings.Join(open, ", "), d.Tag))
				}
			}
		}
	}
}

func (t *Terminal) landed() bool { return len(t.Uses) > 0 }

// checkCores: is a core used twice, or a pair split over two circuits?
func checkCores(p *Plant, found func(Problem)) {
	seen := map[*Core]*Conductor{}
	type group struct {
		cable *Cable
		n     int
	}
	split := map[group]*Conductor{}
	for _, w := range p.Conductors {
		if w.Core == nil || w.Core.IsScreen() || w.Circuit == nil {
			continue
		}
		if first := seen[w.Core]; first != nil {
			pr := problemAt(w.Pos, "core-used-twice", "%s is in circuit %s and in circuit %s", w.Core.Words(), first.Circuit.Name, w.Circuit.Name)
			if first.Circuit == w.Circuit {
				pr.Text = fmt.Sprintf("%s is used twice in circuit %s", w.Core.Words(), w.Circuit.Name)
			}
			pr.Also = []Note{{first.Pos, "used first here"}}
			found(pr)
			continue
		}
		seen[w.Core] = w
		if w.Core.Cable.Type.Size < 2 {
			continue
		}
		g := group{w.Core.Cable, w.Core.Group}
		if first := split[g]; first == nil {
			split[g] = w
		} else if first.Circuit != w.Circuit && first != w {
			pr := problemAt(w.Pos, "split-pair", "%s %d of %s is split over circuits %s and %s", g.cable.Type.GroupWord(), g.n, g.cable.Tag, first.Circuit.Name, w.Circuit.Name)
			pr.Also = []Note{{first.Pos, "its other core is used here"}}
			found(pr)
			split[g] = w // once for each change of circuit
		}
	}
}

// Words names a core in words: pair 3 BK of W-21.
func (c *Core) Words() string {
	if c.Cable.Type.Size == 1 {
		return fmt.Sprintf("core %d of %s", c.Number, c.Cable.Tag)
	}
	return fmt.Sprintf("core %s of %s %d of %s", c.Colour.Words(), c.Cable.Type.GroupWord(), c.Group, c.Cable.Tag)
}

// checkTerminals: do two circuits meet on a terminal, or too many conductors
// on one side of it?
func checkTerminals(p *Plant, found func(Problem)) {
	p.eachTerminal(func(t *Terminal) {
		if t.Bar {
			return
		}
		var sides [2][]*Conductor
		var first *Conductor
		met := false
		for _, u := range t.Uses {
			w := u.Conductor
			if w.Kind != JumperRun {
				sides[u.Side] = append(sides[u.Side], w)
			}
			switch {
			case w.Circuit == nil, t.Fed != nil, t.Part.Supply != nil:
			case first == nil:
				first = w
			case !met && (first.Circuit != w.Circuit || first.Screen != w.Screen || (!w.Screen && first.Lane != w.Lane)):
				met = true
				pr := problemAt(w.Pos, "terminal-used-twice", "%s carries %s and %s", t.Tag(), first.carries(), w.carries())
				pr.Also = []Note{{first.Pos, "lands first here"}}
				found(pr)
			}
		}
		if met || t.Part.Supply != nil {
			return
		}
		limit := 1
		if t.Part.Strip != nil {
			limit = t.Part.Strip.PerSide
		}
		for side, ws := range sides {
			if t.Part.Strip != nil && len(ws) > limit {
				pr := problemAt(ws[limit].Pos, "terminal-crowded", "%d conductors land on the %s side of %s, which takes %d", len(ws), Side(side), t.Tag(), limit)
				pr.Also = []Note{{ws[0].Pos, "the first of them"}}
				pr.Hint = "spread them with a jumper, or say conductors: 2 for the strip"
				found(pr)
			}
		}
	})
}

func (s Side) String() string { return [...]string{"field", "system"}[s] }

// carries says what a conductor is part of.
func (c *Conductor) carries() string {
	switch {
	case c.Circuit == nil:
		return "a spare"
	case c.Screen:
		return "the screen of circuit " + c.Circuit.Name
	}
	return fmt.Sprintf("lane %s of circuit %s", c.laneMark(), c.Circuit.Name)
}

func (p *Plant) eachPart(f func(*Part)) {
	for _, pl := range p.Places {
		for _, part := range pl.Parts {
			f(part)
		}
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			f(d)
		}
	}
}

func (p *Plant) eachTerminal(f func(*Terminal)) {
	p.eachPart(func(part *Part) {
		for _, t := range part.Terminals {
			f(t)
		}
	})
}

// checkJumpers: does a jumper join two circuits, or the two lanes of one?
func checkJumpers(p *Plant, found func(Problem)) {
	p.eachPart(func(part *Part) {
		for _, group := range part.Jumpers {
			if group[0].Fed != nil {
				continue
			}
			var first *Conductor
			for _, t := range group {
				for _, u := range t.Uses {
					w := u.Conductor
					if w.Circuit == nil || w.Screen || w.Kind == JumperRun {
						continue
					}
					if first == nil {
						first = w
					} else if first.Circuit != w.Circuit || first.Lane != w.Lane {
						pr := problemAt(w.Pos, "joined-circuits", "a jumper on %s joins %s to %s", part.Tag, first.carries(), w.carries())
						pr.Also = []Note{{first.Pos, "joined to this"}, {part.Pos, "the jumper is on this strip"}}
						found(pr)
						return
					}
				}
			}
		}
	})
	p.circuits(func(c *Circuit) {
		for _, w := range c.Conductors(p) {
			if w.Kind != JumperRun {
				continue
			}
			if a, b := w.From.Terminal, w.To.Terminal; a == nil || b == nil || !a.jumpered(b) {
				pr := problemAt(w.Pos, "missing-jumper", "no jumper joins %s and %s", w.From.Tag(), w.To.Tag())
				pr.Hint = "name it under jumpers of the strip"
				found(pr)
			}
		}
	})
}

// jumpered tells whether a jumper joins t and o.
func (t *Terminal) jumpered(o *Terminal) bool {
	for _, g := range t.Part.Jumpers {
		a, b := false, false
		for _, x := range g {
			a, b = a || x == t, b || x == o
		}
		if a && b {
			return true
		}
	}
	return false
}

// checkChannels: is a channel used by two circuits?
func checkChannels(p *Plant, found func(Problem)) {
	type channel struct {
		card *Part
		n    int
	}
	seen := map[channel]*Circuit{}
	at := map[channel]Pos{}
	p.circuits(func(c *Circuit) {
		for _, st := range c.Stations() {
			if st.Channel == 0 {
				continue
			}
			ch := channel{st.Part, st.Channel}
			if first := seen[ch]; first != nil && first != c {
				pr := problemAt(st.Pos, "channel-used-twice", "channel %d of %s is in circuit %s and in circuit %s", ch.n, ch.card.Tag, first.Name, c.Name)
				pr.Also = []Note{{at[ch], "used first here"}}
				found(pr)
			} else {
				seen[ch], at[ch] = c, st.Pos
			}
		}
	})
}
