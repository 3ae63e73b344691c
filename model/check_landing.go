package model

import (
	"fmt"
	"slices"
)

// checkCableEnds: does each cable run between two places, and between the two
// stations it joins?
func checkCableEnds(p *Plant, found func(Problem)) {
	for _, c := range p.Cables {
		if tag := c.From.Tag(); tag != "" && tag == c.To.Tag() {
			found(problemAt(c.To.Pos, MisroutedCable, "%s runs from %s to itself", c.Tag, tag))
		}
	}
	p.circuits(func(c *Circuit) { checkRuns(c.Path, nil, found) })
}

func checkRuns(path *Path, from *Station, found func(Problem)) {
	runs := path.Runs
	for i, st := range path.Stations {
		if i == 0 && from == nil {
			from = st
			continue
		}
		run := runs[0]
		runs = runs[1:]
		if run.Kind == CableRun {
			a, b := run.Cable.From, run.Cable.To
			x, y := from.Part, st.Part
			if a.Tag() != "" && b.Tag() != "" && !(a.serves(x) && b.serves(y)) && !(a.serves(y) && b.serves(x)) {
				pr := problemAt(run.Pos, MisroutedCable, "%s runs from %s to %s, not from %s to %s", run.Cable.Tag, a.Tag(), b.Tag(), x.Where(), y.Where())
				pr.Also = []Note{{run.Cable.Pos, "the cable is described here"}}
				if a.Part != nil && !a.serves(x) && b.serves(y) && x.Device != nil && x.Place == nil {
					pr.Hint = fmt.Sprintf("on: %s, if %s is mounted on it", a.Tag(), x.Tag)
				}
				found(pr)
			}
		}
		from = st
	}
	for _, t := range path.Tails {
		checkRuns(t, from, found)
	}
}

// checkScreenTerminals: does a screen land on a terminal marked for a core, or a
// core on one marked S?
func checkScreenTerminals(p *Plant, found func(Problem)) {
	for _, w := range p.Conductors {
		for _, e := range []End{w.From, w.To} {
			t := e.Terminal
			if t == nil || t.Part.Strip == nil || t.Role == 0 || w.Screen == (t.Role == 'S') {
				continue
			}
			what := "a core"
			if w.Screen {
				what = "a screen"
			}
			found(problemAt(w.Pos, WrongMark, "%s lands on %s, which is marked %c", what, t.Tag(), t.Role))
		}
	}
}

// checkSizes: does each conductor fit the terminal it lands on?
func checkSizes(p *Plant, found func(Problem)) {
	type pair struct {
		strip *Part
		what  Copper
	}
	told := map[pair]bool{}
	for _, w := range p.Conductors {
		if w.Screen || w.Kind == JumperRun {
			continue
		}
		var copper Copper
		what, also := "wires", Note{}
		switch {
		case w.Core != nil:
			typ := w.Core.Cable.Type
			copper, what, also = typ.Copper, "cores of "+w.Core.Cable.Tag, Note{typ.Pos, "the cable type is described here"}
		case w.Place != nil:
			copper, also = w.Place.Copper, Note{w.Place.Pos, "the wire of the place is given here"}
		}
		if copper == (Copper{}) {
			continue
		}
		for _, e := range []End{w.From, w.To} {
			if e.Terminal == nil || e.Terminal.Part.Strip == nil {
				continue
			}
			s := e.Terminal.Part
			limit := s.Strip.MaxSize
			if limit == 0 || copper.SquareMM() <= limit*1.001 || told[pair{s, copper}] {
				continue
			}
			told[pair{s, copper}] = true
			pr := problemAt(w.Pos, ConductorTooBig, "%s %s do not go into %s, which takes %s mm²", copper, what, s.Tag, number(limit))
			pr.Also = []Note{{s.Pos, "the strip is described here"}, also}
			found(pr)
		}
	}
}

// fits tells which card takes which signal from the field.
var fits = map[Signal][]Signal{
	AnalogIn:    {AnalogIn},
	AnalogOut:   {AnalogOut},
	ContactIn:   {ContactIn, Proximity},
	SwitchedOut: {SwitchedOut},
	Resistance:  {Resistance},
	Thermo:      {Thermo},
	PulseIn:     {PulseIn},
	Proximity:   {Proximity},
}

// checkSignals: does the kind of signal agree with the kind of card? Behind an
// isolator only the direction is compared, since it may convert one into
// another.
func checkSignals(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		from, sig := c.fieldEnd()
		if from == nil {
			return
		}
		isolated := false
		for _, st := range c.Stations() {
			isolated = isolated || st.Part.Kind.Isolates
		}
		for _, st := range c.Stations() {
			if st.Channel == 0 {
				continue
			}
			card := st.Part.Kind.Signal
			if slices.Contains(fits[sig], card) || (isolated && sig.out() == card.out()) {
				continue
			}
			pr := problemAt(st.Pos, WrongCard, "%s is a %s and lands on %s, a card for %s", from.Tag, from.Kind.Words, st.Part.Tag, card)
			if sig != from.Kind.Signal {
				pr.Text = from.Tag + "'s " + sig.String() + " lands on " + st.Part.Tag + ", a card for " + card.String()
			}
			pr.Also = []Note{{from.Pos, "the device is described here"}, {st.Part.Pos, "the card is described here"}}
			if sig == Proximity && card == ContactIn && st.Part.Card.Powers {
				// A switch of IEC 60947-5-2 may do; one of IEC 60947-5-6 (NAMUR) does not.
				pr = pr.warning().hint("kind: proximity for the card of a NAMUR switch; kind: two-wire switch for one of IEC 60947-5-2, with its leakage and drop")
			}
			found(pr)
			return
		}
	})
}

// fieldEnd is the first device of a circuit that is not an indicator in series,
// and its signal; nil when there is none.
func (c *Circuit) fieldEnd() (*Part, Signal) {
	for _, st := range c.Stations() {
		for _, s := range st.Slots {
			if s.In != nil && st.Part.Device != nil && !st.Part.Kind.Indicator && s.In.Signal() != NoSignal {
				return st.Part, s.In.Signal()
			}
		}
	}
	return nil, NoSignal
}

// out tells signals to the field from those from it.
func (s Signal) out() bool { return s == AnalogOut || s == SwitchedOut }

// checkWiresPlace: wires and jumpers stay inside one place.
func checkWiresPlace(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		for _, w := range c.Conductors(p) {
			if w.Core != nil || w.From.Terminal == nil || w.To.Terminal == nil {
				continue
			}
			a, b := w.From.Terminal.Part, w.To.Terminal.Part
			if a.Where() == b.Where() {
				continue
			}
			if w.Lane > 1 && c.Lanes[0].arrives(w.Pos) {
				continue // told for the first lane
			}
			pr := problemAt(w.Pos, WiresBetweenPlaces, "wires run from %s to %s with no cable", a.Where(), b.Where())
			pr.Hint = "name the cable between them"
			for _, end := range [][2]*Part{{a, b}, {b, a}} {
				switch own, other := end[0], end[1]; {
				case other.Place == nil:
				case own.Card != nil && own.Place.Kind == System:
					pr.Hint += fmt.Sprintf(", or move %s to the cards of %s if it sits there", own.Tag, other.Where())
				case own.Device != nil && own.Place == nil:
					pr.Hint += fmt.Sprintf(", or say at %s that it is in: %s", own.Tag, other.Where())
				}
			}
			found(pr)
		}
	})
}

func (l *Lane) arrives(pos Pos) bool {
	for _, s := range l.Steps {
		if s.Conductor != nil && s.Conductor.Pos == pos {
			return true
		}
	}
	return false
}

// checkKnown: colours that no published table gives are told, so that nobody
// lands a pair by a colour that was guessed.
func checkKnown(p *Plant, found func(Problem)) {
	told := map[*CableType]bool{}
	for _, c := range p.Cables {
		t := c.Type
		if t == nil || t.Code == nil || told[t] {
			continue
		}
		for g := 1; g <= t.Groups; g++ {
			if why := t.Code.Unsure(g, t.Size); why != "" {
				told[t] = true
				pr := problemAt(t.Pos, UnsureColours, "the colours of %s %d of cable type %s: %s", t.GroupWord(), g, t.Name, why)
				pr.Hint = "compare with the maker's table, or give the colours as a list"
				found(pr)
				break
			}
		}
	}
}
