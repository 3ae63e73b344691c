package check

import (
	"fmt"
	"slices"

	"ringout/model"
	"ringout/model/copper"
	"ringout/model/english"
	"ringout/model/finding"
)

// checkCableEnds: does each cable run between two places, and between the two
// stations it joins?
func checkCableEnds(p *model.Plant, found func(finding.Finding)) {
	for _, c := range p.Cables {
		if tag := c.From.Tag(); tag != "" && tag == c.To.Tag() {
			found(finding.At(c.To.Pos, finding.MisroutedCable, "%s runs from %s to itself", c.Tag, tag))
		}
	}
	p.EachCircuit(func(c *model.Circuit) { checkRuns(c.Path, nil, found) })
}

func checkRuns(path *model.Path, from *model.Station, found func(finding.Finding)) {
	runs := path.Runs
	for i, st := range path.Stations {
		if i == 0 && from == nil {
			from = st
			continue
		}
		run := runs[0]
		runs = runs[1:]
		if run.Kind == model.CableRun {
			a, b := run.Cable.From, run.Cable.To
			x, y := from.Part, st.Part
			if a.Tag() != "" && b.Tag() != "" && !(a.Serves(x) && b.Serves(y)) && !(a.Serves(y) && b.Serves(x)) {
				pr := finding.At(run.Pos, finding.MisroutedCable, "%s runs from %s to %s, not from %s to %s", run.Cable.Tag, a.Tag(), b.Tag(), x.Where(), y.Where())
				pr.Also = []finding.Related{{Pos: run.Cable.Pos, Text: "the cable is described here"}}
				if a.Part != nil && !a.Serves(x) && b.Serves(y) && x.Device != nil && x.Place == nil {
					pr.Hint = finding.Do("add on: %s if %s is mounted on it", a.Tag(), x.Tag)
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
func checkScreenTerminals(p *model.Plant, found func(finding.Finding)) {
	for _, w := range p.Conductors {
		for _, e := range []model.End{w.From, w.To} {
			t := e.Terminal
			if t == nil || t.Part.Strip == nil || t.Role == 0 || w.Screen == (t.Role == 'S') {
				continue
			}
			what := english.Text("core")
			if w.Screen {
				what = "screen"
			}
			found(finding.At(w.Pos, finding.WrongMark, "%s lands on %s, marked %c", what, t.Tag(), t.Role))
		}
	}
}

// checkSizes: does each conductor fit the terminal it lands on?
func checkSizes(p *model.Plant, found func(finding.Finding)) {
	type pair struct {
		strip *model.Part
		what  copper.Size
	}
	told := map[pair]bool{}
	for _, w := range p.Conductors {
		if w.Screen || w.Kind == model.JumperRun {
			continue
		}
		size := w.Copper()
		if size == (copper.Size{}) {
			continue
		}
		what, also := finding.Words("wires"), finding.Related{}
		if w.Core != nil {
			what, also = finding.Words("%s cores", w.Core.Cable.Tag), finding.Related{Pos: w.Core.Cable.Type.Pos, Text: "the cable type is described here"}
		} else {
			also = finding.Related{Pos: w.Place.Pos, Text: "the wire of the place is given here"}
		}
		for _, e := range []model.End{w.From, w.To} {
			if e.Terminal == nil || e.Terminal.Part.Strip == nil {
				continue
			}
			s := e.Terminal.Part
			limit := s.Strip.MaxSize
			if limit == 0 || size.SquareMM() <= limit*1.001 || told[pair{s, size}] {
				continue
			}
			told[pair{s, size}] = true
			pr := finding.At(w.Pos, finding.ConductorTooBig, "%s (%s) too large for %s (max %s mm²)", what, size, s.Tag, model.Plain(limit))
			pr.Also = []finding.Related{{Pos: s.Pos, Text: "the strip is described here"}, also}
			found(pr)
		}
	}
}

// fits is which card takes which signal from the field.
var fits = map[model.Signal][]model.Signal{
	model.AnalogIn:    {model.AnalogIn},
	model.AnalogOut:   {model.AnalogOut},
	model.ContactIn:   {model.ContactIn, model.Proximity},
	model.SwitchedOut: {model.SwitchedOut},
	model.Resistance:  {model.Resistance},
	model.Thermo:      {model.Thermo},
	model.PulseIn:     {model.PulseIn},
	model.Proximity:   {model.Proximity},
	model.Bus:         {model.Bus},
	model.Serial:      {model.Serial},
	model.Multidrop:   {model.Multidrop},

	model.Displacement: {model.Displacement},
}

// checkSignals: does the kind of signal agree with the kind of card? Behind an
// isolator only the direction is compared, since it may convert one into
// another.
func checkSignals(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		from, sig := fieldEnd(c)
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
			if slices.Contains(fits[sig], card) || (isolated && out(sig) == out(card)) {
				continue
			}
			pr := finding.At(st.Pos, finding.WrongCard, "%s is a %s and lands on %s, a card for %s", from.Tag, from.Kind.Words, st.Part.Tag, card)
			if sig != from.Kind.Signal {
				pr.Text = sig.String() + " of " + from.Tag + " lands on " + st.Part.Tag + ", a card for " + card.String()
			}
			pr.Also = []finding.Related{{Pos: from.Pos, Text: "the device is described here"}, {Pos: st.Part.Pos, Text: "the card is described here"}}
			if sig == model.Proximity && card == model.ContactIn && st.Part.Card.Powers {
				// A switch of IEC 60947-5-2 may do; one of IEC 60947-5-6 (NAMUR) does not.
				pr = pr.Warning().WithHint(finding.Do("give the card kind: proximity for a NAMUR switch; or the device kind: two-wire switch (IEC 60947-5-2), with its leakage and drop"))
			}
			found(pr)
			return
		}
	})
}

// fieldEnd is the first device of a circuit that is not an indicator in series,
// and its signal; nil when there is none.
func fieldEnd(c *model.Circuit) (*model.Part, model.Signal) {
	for _, st := range c.Stations() {
		for _, s := range st.Terminations {
			if s.In != nil && st.Part.Device != nil && !st.Part.Kind.Indicator && s.In.Signal() != model.NoSignal {
				return st.Part, s.In.Signal()
			}
		}
	}
	return nil, model.NoSignal
}

// out reports whether a signal goes to the field.
func out(s model.Signal) bool { return s == model.AnalogOut || s == model.SwitchedOut }

// checkWiresPlace: wires and jumpers stay inside one place.
func checkWiresPlace(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		for _, w := range c.Conductors(p) {
			if w.Core != nil || w.From.Terminal == nil || w.To.Terminal == nil {
				continue
			}
			a, b := w.From.Terminal.Part, w.To.Terminal.Part
			if a.Where() == b.Where() {
				continue
			}
			if w.Leg > 1 && arrives(c.Legs[0], w.Pos) {
				continue // told for the first leg
			}
			pr := finding.At(w.Pos, finding.WiresBetweenPlaces, "wires run from %s to %s with no cable", a.Where(), b.Where())
			advice := "name the cable between them"
			for _, end := range [][2]*model.Part{{a, b}, {b, a}} {
				switch own, other := end[0], end[1]; {
				case other.Place == nil:
				case own.Card != nil && own.Place != nil && own.Place.Kind == model.System:
					advice += fmt.Sprintf(", or move %s to the cards of %s if it is there", own.Tag, other.Where())
				case own.Device != nil && own.Place == nil:
					advice += fmt.Sprintf(", or give %s in: %s", own.Tag, other.Where())
				}
			}
			pr.Hint = finding.Do("%s", advice)
			found(pr)
		}
	})
}

func arrives(l *model.Leg, pos finding.Pos) bool {
	for _, s := range l.Conductors {
		if s.Conductor != nil && s.Conductor.Pos == pos {
			return true
		}
	}
	return false
}

// checkKnown: colours that no published table gives are reported, so that nobody
// lands a pair by a guessed colour.
func checkKnown(p *model.Plant, found func(finding.Finding)) {
	told := map[*model.CableType]bool{}
	for _, c := range p.Cables {
		t := c.Type
		if t == nil || t.Code == nil || told[t] {
			continue
		}
		for g := 1; g <= t.Groups; g++ {
			if why := t.Code.Unsure(g, t.Size); why != "" {
				told[t] = true
				pr := finding.At(t.Pos, finding.UnsureColours, "colours of %s %d of cable type %q are unverified: %s", t.GroupWord(), g, t.Name, why)
				pr.Hint = finding.Do("compare with the maker's table, or give the colours as a list")
				found(pr)
				break
			}
		}
	}
}
