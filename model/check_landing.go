package model

// checkCableEnds: does each cable run between the two stations it joins?
func checkCableEnds(p *Plant, found func(Problem)) {
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
			a, b := run.Cable.From.Tag(), run.Cable.To.Tag()
			x, y := from.Part.Where(), st.Part.Where()
			if a != "" && b != "" && !(a == x && b == y) && !(a == y && b == x) {
				pr := problemAt(run.Pos, "misrouted-cable", "%s runs from %s to %s, not from %s to %s", run.Cable.Tag, a, b, x, y)
				pr.Also = []Note{{run.Cable.Pos, "the cable is described here"}}
				found(pr)
			}
		}
		from = st
	}
	for _, t := range path.Tails {
		checkRuns(t, from, found)
	}
}

// checkSizes: does each conductor fit the terminal it lands on?
func checkSizes(p *Plant, found func(Problem)) {
	type pair struct {
		strip *Part
		cable *CableType
	}
	told := map[pair]bool{}
	for _, w := range p.Conductors {
		if w.Core == nil || w.Screen {
			continue
		}
		typ := w.Core.Cable.Type
		area := typ.Copper.SquareMM()
		for _, e := range []End{w.From, w.To} {
			if e.Terminal == nil || e.Terminal.Part.Strip == nil || area == 0 {
				continue
			}
			s := e.Terminal.Part
			if limit := s.Strip.MaxSize; limit > 0 && area > limit*1.001 && !told[pair{s, typ}] {
				told[pair{s, typ}] = true
				pr := problemAt(w.Pos, "conductor-too-big", "%s cores of %s do not go into %s, which takes %s mm²", typ.Copper, w.Core.Cable.Tag, s.Tag, number(limit))
				pr.Also = []Note{{s.Pos, "the strip is described here"}, {typ.Pos, "the cable type is described here"}}
				found(pr)
			}
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

// checkSignals: does the kind of signal agree with the kind of card?
func checkSignals(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		var from *Part
		sig := NoSignal
		for _, st := range c.Stations() {
			for _, s := range st.Slots {
				if s.In != nil && st.Part.Device != nil && sig == NoSignal {
					sig, from = s.In.Signal(), st.Part
				}
			}
			if st.Channel == 0 || sig == NoSignal {
				continue
			}
			ok := false
			for _, want := range fits[sig] {
				ok = ok || st.Part.Kind.Signal == want
			}
			if !ok {
				pr := problemAt(st.Pos, "wrong-card", "%s is a %s and lands on %s, a card for %s", from.Tag, from.Kind.Words, st.Part.Tag, st.Part.Kind.Signal)
				if sig != from.Kind.Signal {
					pr.Text = from.Tag + "'s " + sig.String() + " lands on " + st.Part.Tag + ", a card for " + st.Part.Kind.Signal.String()
				}
				pr.Also = []Note{{from.Pos, "the device is described here"}, {st.Part.Pos, "the card is described here"}}
				found(pr)
				break
			}
		}
	})
}

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
			pr := problemAt(w.Pos, "wires-between-places", "wires run from %s to %s with no cable", a.Where(), b.Where())
			pr.Hint = "name the cable, or say that both stand in one place"
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
				pr := warningAt(t.Pos, "unsure-colours", "the colours of %s %d of cable type %s: %s", t.GroupWord(), g, t.Name, why)
				pr.Hint = "compare with the maker's table, or give the colours as a list"
				found(pr)
				break
			}
		}
	}
}
