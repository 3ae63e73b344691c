package model

import "fmt"

// checkPolarity: does + arrive at +?
//
// Along each lane there are points that bear a mark: terminals with + and -,
// and the cores of pairs, of which the colour code or the practice makes one
// positive. A change from one point to the next is a crossing. An odd number of
// crossings means that + arrives at -; an even number, that the wiring is
// crossed and crossed back, which works and still misleads.
//
// Between a source and a load + meets +; two loads in series meet + to -; two
// sources must not meet at all.
func checkPolarity(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		told := map[Pos]bool{} // both lanes of a crossed pair tell the same story
		for _, l := range c.Lanes {
			switch first := l.Begin(); {
			case first == nil || len(l.Steps) < 2:
			case first.Role == '+' || first.Role == '-':
				checkLane(p, l, told, found)
			default:
				checkLead(l, found)
			}
		}
	})
}

// mark is a marked point of a lane: what the lane should bear according to it.
type mark struct {
	role  Role
	pos   Pos // of the word
	at    Pos // of the station or run
	words string
}

// marks returns the marked points of a lane, from its first terminal on. ok is
// false when two sources meet, which is reported.
func (l *Lane) marks(p *Plant, found func(Problem)) (marks []mark, ok bool) {
	first := l.Begin()
	for i, s := range l.Steps {
		if w := s.Conductor; w != nil && w.Core != nil && w.Core.Cable.Type.Size == 2 {
			role := Role('-')
			if w.Core.N == p.PositiveCore(w.Core.Cable.Type) {
				role = '+'
			}
			marks = append(marks, mark{role, w.Pos, w.Pos, w.Core.Words()})
		}
		t := s.Slot.In
		if t != nil && t.Fed != nil {
			t = t.Fed.Supply
		}
		if t == nil || (t.Role != '+' && t.Role != '-') {
			continue
		}
		role := t.Role
		if n := t.nature(); i > 0 && n != Neither && n == first.nature() {
			if n == Source {
				pr := problemAt(s.Slot.Pos, "two-sources", "%s and %s both drive the current of circuit %s", first.Tag(), t.Tag(), l.Circuit.Name)
				pr.Hint = "a transmitter with its own supply needs an input that does not power the loop (power: loop)"
				found(pr)
				return nil, false
			}
			role = opposite(role)
		}
		marks = append(marks, mark{role, s.Slot.Pos, s.Station.Pos, t.Tag()})
	}
	return marks, true
}

func opposite(r Role) Role {
	if r == '+' {
		return '-'
	}
	return '+'
}

func checkLane(p *Plant, l *Lane, told map[Pos]bool, found func(Problem)) {
	marks, ok := l.marks(p, found)
	if !ok {
		for _, s := range l.Circuit.Lanes[0].Steps {
			told[s.Station.Pos] = true
		}
		return
	}
	var crossed []Note
	var at mark
	for i, m := range marks[1:] {
		if m.role == marks[i].role {
			continue
		}
		if len(crossed) == 0 {
			at = m
		}
		crossed = append(crossed, Note{m.pos, fmt.Sprintf("%s comes to %s", marks[i].words, m.words)})
	}
	if len(crossed) == 0 || told[at.at] {
		return
	}
	told[at.at] = true
	name := l.Circuit.Name
	pr := problemAt(at.pos, "reversed-polarity", "lane %s of circuit %s is reversed: %s", l.mark(), name, crossed[0].Text)
	if len(crossed)%2 == 0 {
		pr = warningAt(at.pos, "crossed-polarity", "lane %s of circuit %s is crossed and crossed back: %s", l.mark(), name, crossed[0].Text)
	}
	pr.Also = crossed[1:]
	found(pr)
}

// checkLead compares the marks at both ends of a sensor lead or a mains
// conductor.
func checkLead(l *Lane, found func(Problem)) {
	a, b := l.Begin(), l.End()
	if b != nil && b.Fed != nil {
		b = b.Fed.Supply
	}
	if b == nil || a.Role == 0 || b.Role == 0 || a.Role == b.Role || a.Signal() != b.Signal() {
		return
	}
	last := l.Steps[len(l.Steps)-1]
	pr := problemAt(last.Slot.Pos, "crossed-leads", "lead %c from %s arrives at %s, which is marked %c", a.Role, a.Tag(), b.Tag(), b.Role)
	pr.Also = []Note{{l.Steps[0].Slot.Pos, "it begins here"}}
	found(pr)
}
