package model

import (
	"fmt"
	"slices"
)

// checkPolarity: does + arrive at +, and does exactly one thing drive the
// current?
//
// Along each lane there are points that bear a mark: the terminals of parts
// that mind the direction of the current, the marked terminals of strips, and
// the cores of pairs, of which the colour code or the practice makes one
// positive. A part that is met the wrong way round is an error. Strips and cores
// that are crossed and crossed back work, and still mislead: a warning.
//
// Between a source and a load + meets +; two loads in series meet + to -. An
// isolator starts anew behind it.
func checkPolarity(p *Plant, c *Circuit, found func(Problem)) {
	if !checkDrivers(c, found) {
		return
	}
	if c.AC() && c.mayBeAC() && c.Signal != Power {
		return // coils and contacts mind no polarity on AC
	}
	told := map[Pos]bool{} // both lanes of a crossed pair tell the same story
	for _, l := range c.Lanes {
		first := origin(l.Begin())
		switch {
		case first == nil || len(l.Steps) < 2:
		case signed(first):
			checkMarks(l, l.marks(p), told, found)
		default:
			checkLead(l, told, found)
		}
	}
	if a := c.Lanes[0]; len(c.Lanes) == 2 && !signed(origin(a.Begin())) {
		// A contact does not mind, but what it switches does: the two lanes
		// are one way round, and the second is walked against the first.
		marks := a.marks(p)
		for _, m := range c.Lanes[1].marks(p) {
			m.role = opposite(m.role)
			marks = append(marks, m)
		}
		checkMarks(c.Lanes[1], marks, told, found)
	}
}

// origin is the terminal that a lane on t comes to: that of the supply, where t
// is fed.
func origin(t *Terminal) *Terminal {
	if t != nil && t.Fed != nil {
		return t.Fed.Supply
	}
	return t
}

func signed(t *Terminal) bool { return t != nil && (t.Role == '+' || t.Role == '-') }

func opposite(r Role) Role {
	if r == '+' {
		return '-'
	}
	return '+'
}

// driven are the circuits that need one thing to drive their current.
var driven = map[Signal]bool{
	AnalogIn: true, AnalogOut: true, ContactIn: true, SwitchedOut: true, PulseIn: true, Proximity: true, PowerDC: true,
}

// checkDrivers reports a circuit that nothing drives, and one that two things
// do. Returns do not count: supplies share theirs. It returns
// false when there is no sense in asking for polarity.
func checkDrivers(c *Circuit, found func(Problem)) bool {
	if !driven[c.Signal] {
		return true
	}
	var live []*Terminal
	var at []Pos
	any := false
	for _, l := range c.Lanes {
		if l.End() == nil || len(l.Steps) < 2 || l.End().open() {
			return true // open, which is another problem
		}
		for _, s := range l.Steps {
			if s.Station.Part.Kind.Isolates {
				return true
			}
			for _, t := range []*Terminal{origin(s.Slot.In), origin(s.Slot.Out)} {
				if t == nil || t.nature() != Source {
					continue
				}
				any = any || t.live() || t.Role == 'L'
				if t.live() && !slices.Contains(live, t) {
					live, at = append(live, t), append(at, s.Slot.Pos)
				}
			}
		}
	}
	switch last := c.Path.Stations[len(c.Path.Stations)-1]; {
	case !any:
		pr := problemAt(last.Pos, NoSource, "nothing drives the current of circuit %s: neither its device, nor its card, nor a supply", c.Name)
		pr.Hint = "a card that powers the loop (power: card), or a walk by way of a fed terminal"
		found(pr)
		return false
	case len(live) > 1:
		pr := problemAt(at[1], TwoSources, "%s and %s both drive the current of circuit %s", live[0].Tag(), live[1].Tag(), c.Name)
		pr.Also = []Note{{at[0], live[0].Tag() + " is met here"}}
		pr.Hint = "an input that does not power the loop (power: loop) for what has its own supply"
		found(pr)
		return false
	}
	return true
}

// mark is a marked point of a lane: what the lane should bear according to it.
type mark struct {
	role     Role
	hard     bool // a part that minds, not a mark on a strip or the colour of a core
	pos      Pos  // of the word
	at       Pos  // of the station or run
	core     *Core
	terminal *Terminal // where it is no core
}

// words names the point.
func (m mark) words() string {
	if m.core != nil {
		return m.core.Words()
	}
	return m.terminal.Tag()
}

// marks returns the marked points of a lane, from its first terminal on. Where
// the lane begins on a contact, only what drives or takes the current counts,
// and + stands for the lane that brings it.
func (l *Lane) marks(p *Plant) []mark {
	first := origin(l.Begin())
	polar, behind := signed(first), false
	var marks []mark
	for _, s := range l.Steps {
		if w := s.Conductor; polar && w != nil && w.Core != nil && w.Core.Cable.Type.Size == 2 {
			role := Role('-')
			if w.Core.N == p.PositiveCore(w.Core.Cable.Type) {
				role = '+'
			}
			marks = append(marks, mark{role: role, pos: w.Pos, at: w.Pos, core: w.Core})
		}
		t := origin(s.Slot.In)
		if !signed(t) {
			continue
		}
		role, n := t.Role, t.nature()
		relay := n == Neither && t.Part.Card != nil
		rail := t.Part.Supply != nil && !t.live() && !l.Circuit.meets(t.Part.terminalOf(opposite(t.Role)))
		switch {
		case relay, rail, !polar && (n == Neither || behind):
			continue
		case polar && !behind && n == Load && first.nature() == Load && t != first, !polar && n == Load:
			role = opposite(role)
		}
		marks = append(marks, mark{role: role, hard: t.Part.Strip == nil, pos: s.Slot.Pos, at: s.Station.Pos, terminal: t})
		behind = behind || t.Part.Kind.Isolates
	}
	return marks
}

// live reports whether t is the pole that a source drives the current with: its +,
// or the - of a supply below common. The other is its return.
func (t *Terminal) live() bool {
	if t.Part.Supply != nil && t.Part.Supply.Below {
		return t.Role == '-'
	}
	return t.Role == '+'
}

// meets reports whether a lane of the circuit comes to terminal t. A supply of
// which only the return is met drives nothing.
func (c *Circuit) meets(t *Terminal) bool {
	for _, l := range c.Lanes {
		for _, s := range l.Steps {
			if o := origin(s.Slot.In); o != nil && o == t {
				return true
			}
		}
	}
	return false
}

// terminalOf returns the first terminal with a role, or nil.
func (p *Part) terminalOf(r Role) *Terminal {
	for _, t := range p.Terminals {
		if t.Role == r {
			return t
		}
	}
	return nil
}

// checkMarks reports where the marks of a lane change.
func checkMarks(l *Lane, marks []mark, told map[Pos]bool, found func(Problem)) {
	var crossed []Note
	var at mark
	reversed := false
	for i, m := range marks {
		if i == 0 || m.role == marks[i-1].role {
			reversed = reversed || m.hard && m.role != marks[0].role
			continue
		}
		reversed = reversed || m.hard && m.role != marks[0].role || i == len(marks)-1 && m.role != marks[0].role
		if len(crossed) == 0 {
			at = m
		}
		crossed = append(crossed, Note{m.pos, fmt.Sprintf("%s comes to %s", marks[i-1].words(), m.words())})
	}
	if len(crossed) == 0 || told[at.at] {
		return
	}
	told[at.at] = true
	name := l.Circuit.Name
	pr := problemAt(at.pos, ReversedPolarity, "lane %s of circuit %s is reversed: %s", l.mark(), name, crossed[0].Text)
	if !reversed && len(crossed)%2 == 0 {
		pr = problemAt(at.pos, CrossedPolarity, "lane %s of circuit %s is crossed and crossed back: %s", l.mark(), name, crossed[0].Text)
	}
	pr.Also = crossed[1:]
	if len(crossed) < 3 && at.terminal != nil && at.terminal.Part.Kind.Indicator {
		pr.Hint = l.Circuit.turned(at.terminal)
	}
	found(pr)
}

// turned is how an instrument in series is written that a lane goes into at t,
// and should leave there; "" for any other.
func (c *Circuit) turned(t *Terminal) string {
	for _, l := range c.Lanes {
		for _, s := range l.Steps {
			if s.Slot.In == t && s.Slot.Out != t {
				return fmt.Sprintf("%s>%s, not %s>%s", s.Slot.Out.Name, t.Name, t.Name, s.Slot.Out.Name)
			}
		}
	}
	return ""
}

// checkLead compares the marks at both ends of a sensor lead or a mains
// conductor. The output of a three-wire switch has to come to the + of an input, or
// to its - where it is NPN.
func checkLead(l *Lane, told map[Pos]bool, found func(Problem)) {
	a, b := origin(l.Begin()), origin(l.End())
	if a.Role == 'Q' {
		want := Role('+')
		if a.Part.Device.NPN() {
			want = '-'
		}
		for _, s := range l.Steps {
			if t := s.Slot.In; t != nil && t.Part.Card != nil {
				if signed(t) && t.Role != want {
					pr := problemAt(s.Slot.Pos, CrossedLeads, "the output of %s arrives at %s, which is marked %c and not %c", a.Part.Tag, t.Tag(), t.Role, want)
					pr.Also = []Note{{l.Steps[0].Slot.Pos, "it begins here"}}
					found(pr)
				}
				return
			}
		}
		if b != nil && b.Part.Supply != nil {
			pr := problemAt(l.Steps[len(l.Steps)-1].Slot.Pos, ShortedSupply, "the output of %s comes to no input, and lies on %s: it is shorted when it is on, or says nothing", a.Part.Tag, b.Tag())
			pr.Also = []Note{{l.Steps[0].Slot.Pos, "it begins here"}}
			found(pr)
		}
		return
	}
	if b == nil || a.Role == 0 || b.Role == 0 || a.Role == b.Role || a.Signal() != b.Signal() {
		return
	}
	last := l.Steps[len(l.Steps)-1]
	if told[last.Station.Pos] {
		return
	}
	told[last.Station.Pos] = true
	pr := problemAt(last.Slot.Pos, CrossedLeads, "lead %c from %s arrives at %s, which is marked %c", a.Role, a.Tag(), b.Tag(), b.Role)
	pr.Also = []Note{{l.Steps[0].Slot.Pos, "it begins here"}}
	found(pr)
}
