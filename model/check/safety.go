package check

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// checkBarriers: does a barrier stand the right way round, and in every leg? Is
// there one where a device in a zone is said to be intrinsically safe?
func checkBarriers(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		checkTurned(c, found)
		barriers := c.Barriers()
		if len(barriers) == 0 {
			missingBarrier(c, found)
			return
		}
		for _, l := range c.Legs {
			end := l.End()
			if end == nil || end.Open() || stopsAt(l, barriers) {
				continue
			}
			last := l.Conductors[len(l.Conductors)-1]
			pr := finding.At(last.Termination.Pos, finding.BypassedBarrier, "circuit %q, leg %s: bypasses barrier %s at %s", c.Name, l.Mark(), barriers[0].Tag, end.Tag())
			pr.Also = []finding.Related{{Pos: barriers[0].Pos, Text: barriers[0].Tag + " is described here"}}
			pr.Hint = finding.Do("wire every leg through the barrier, one channel each")
			found(pr)
		}
	})
}

// checkBarrierEarths: on which bar is each shunt-diode barrier earthed? Its
// safety hangs on that wire; an isolator needs none.
func checkBarrierEarths(p *model.Plant, found func(finding.Finding)) {
	p.EachPart(func(part *model.Part) {
		if !part.Kind.Shunts || part.Barrier.SaysEarth {
			return
		}
		pr := finding.At(part.Pos, finding.MissingBarrierEarth, "barrier %s has no earth bar", part.Tag)
		pr.Hint = finding.Do(`give it "earth", a bar of %s`, part.Place.Tag)
		if bars := part.Place.Bars(); len(bars) > 0 {
			pr.Hint = finding.Do(`give it "earth": %s`, finding.AnyOf(bars))
		}
		found(pr)
	})
}

// stopsAt reports whether a leg goes through a barrier, or any of these parts.
func stopsAt(l *model.Leg, barriers []*model.Part) bool {
	return slices.ContainsFunc(l.Conductors, func(s model.LegConductor) bool {
		return s.Station.Part.Guards() || slices.Contains(barriers, s.Station.Part)
	})
}

// checkTurned reports a barrier whose terminals for the system face the field.
// A path that begins neither in the field nor on a card does not tell.
func checkTurned(c *model.Circuit, found func(finding.Finding)) {
	first := c.Path.Stations[0].Part
	if first.Card == nil && (first.Device == nil || first.Place != nil) {
		return
	}
	told := map[*model.Station]bool{}
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			part := s.Station.Part
			if part.Barrier == nil || s.Termination.In == nil || told[s.Station] {
				continue
			}
			if part.FacesField(s.Termination.In) == c.FromCard() {
				told[s.Station] = true
				side := "field"
				if c.FromCard() {
					side = "card"
				}
				pr := finding.At(s.Termination.Pos, finding.TurnedBarrier, "circuit %q: %s reversed, %s cores on terminal %s", c.Name, part.Tag, side, s.Termination.In.Name)
				pr.Also = []finding.Related{{Pos: part.Pos, Text: "the first half of its terminals is the field side"}}
				if part.Kind.Diverts {
					pr.Code, pr.Also[0].Text = finding.TurnedSurgeProtector.Code, fmt.Sprintf("the first half of its terminals is the line side; it protects the %s", part.Barrier.Protects)
				}
				found(pr)
			}
		}
	}
}

// missingBarrier warns of a device with safety values that stands in a zone and
// is wired without a barrier. A zone alone may have another protection.
func missingBarrier(c *model.Circuit, found func(finding.Finding)) {
	d := c.Device()
	if d == nil || c.Signal.Powers() || d.Device.Zone == "" || d.Device.OtherProtection() || !(d.Device.Entity.Given || d.Device.SimpleApparatus) {
		return
	}
	for _, st := range c.Stations() {
		if st.Part.Guards() {
			return
		}
	}
	pr := finding.At(c.Pos, finding.MissingBarrier, "circuit %q: %s in %s has safety values, but no barrier or galvanic isolator", c.Name, d.Tag, d.Device.Hazard())
	pr.Also = []finding.Related{{Pos: d.Pos, Text: "the device is described here"}}
	pr.Hint = finding.Do("wire it through a barrier or galvanic isolator; where the device has another protection, give that under protection")
	found(pr)
}

// checkSafeCables: do intrinsically safe circuits have their cables to
// themselves (IEC 60079-14)?
func checkSafeCables(p *model.Plant, found func(finding.Finding)) {
	side := p.SafeSide()
	if len(side.Wires) == 0 {
		return
	}
	safe, other := map[*model.Cable]*model.Conductor{}, map[*model.Cable]*model.Conductor{}
	for _, w := range p.Conductors {
		if w.Core == nil || w.Circuit == nil || w.Screen {
			continue
		}
		cable, own, foreign := w.Core.Cable, safe, other
		if !side.Wires[w] {
			own, foreign = other, safe
		}
		if own[cable] != nil {
			continue
		}
		own[cable] = w
		if foreign[cable] == nil {
			continue
		}
		a, b := safe[cable], other[cable]
		pr := finding.At(w.Pos, finding.UnsafeCable, "%s mixes circuit %q (IS) and %s (not IS)", cable.Tag, a.Circuit.Name, unsafeName(b, a))
		pr.Also = []finding.Related{{Pos: foreign[cable].Pos, Text: "the other circuit"}}
		pr.Hint = finding.Do("use a separate cable for intrinsically safe circuits")
		found(pr)
	}
}

// unsafeName names the circuit of c, or its part behind the barrier where it is
// the circuit of safe too.
func unsafeName(c *model.Conductor, safe *model.Conductor) string {
	if c.Circuit == safe.Circuit {
		return "its part behind the barrier"
	}
	return fmt.Sprintf("circuit %q", c.Circuit.Name)
}

// checkSafeTerminals: do intrinsically safe terminals keep their distance from
// others on the same strip (50 mm in IEC 60079-11 clause 6.2.1)? What lies
// between is counted: the terminals between the two, each as wide as the pitch.
// Strips are not compared with each other, since the rail does not tell how far
// apart they sit.
func checkSafeTerminals(p *model.Plant, found func(finding.Finding)) {
	side := p.SafeSide()
	if len(side.Terminals) == 0 {
		return
	}
	p.EachPart(func(part *model.Part) {
		if part.Strip == nil || part.Kind.Guards { // a field barrier is made and certified for both
			return
		}
		var safe, other *model.Terminal // the last of each
		var nearest [2]*model.Terminal
		least, seat, before := -1, 0, ""
		seats := map[*model.Terminal]int{}
		for _, t := range part.Terminals {
			if at := deckless(t.Name); at == "" || at != before {
				seat, before = seat+1, at
			}
			seats[t] = seat
			switch {
			case carriesSafe(t, side):
				safe = t
			case carriesOther(t, side):
				other = t
			default:
				continue
			}
			if safe == nil || other == nil {
				continue
			}
			between := max(seats[safe]-seats[other], seats[other]-seats[safe]) - 1
			if least < 0 || between < least {
				least, nearest = max(between, 0), [2]*model.Terminal{safe, other}
			}
		}
		if least >= 0 {
			tooNear(p, part, nearest, least, found)
		}
	})
}

func tooNear(p *model.Plant, strip *model.Part, pair [2]*model.Terminal, between int, found func(finding.Finding)) {
	a, b := pair[0], pair[1]
	also := []finding.Related{{Pos: strip.Pos, Text: "the strip is described here"}}
	if len(b.Ends) > 0 {
		also = append(also, finding.Related{Pos: b.Ends[0].Conductor.Pos, Text: "lands on " + b.Tag()})
	}
	pos, want := a.Ends[0].Conductor.Pos, p.Practice.SafeDistance.MM
	if strip.Strip.Pitch <= 0 {
		pr := finding.At(pos, finding.MissingPitch, "%s mixes IS and other circuits; distance %s to %s unknown (no pitch)", strip.Tag, a.Name, b.Name)
		pr.Also, pr.Hint = also, finding.Do("give the strip its pitch, or use a separate strip")
		found(pr)
		return
	}
	if mm := float64(between) * strip.Strip.Pitch; mm < want {
		pr := finding.At(pos, finding.UnsafeDistance, "%s (IS) is %s mm from %s (not IS); minimum %s mm", a.Tag(), model.Figure(mm), b.Tag(), model.Figure(want))
		pr.Also, pr.Hint = also, finding.Do("use a separate strip, a partition, or more terminals between")
		found(pr)
	}
}

// deckless is the name of a terminal without the letter of its deck: decks lie
// over each other.
func deckless(name string) string {
	return strings.TrimRight(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz")
}

func carriesSafe(t *model.Terminal, side model.SafeSide) bool {
	return side.Terminals[t] && len(t.Ends) > 0
}

// carriesOther reports whether a core that is not intrinsically safe, or a
// supply, is on the terminal. Screens are earthed, and spares carry nothing.
func carriesOther(t *model.Terminal, side model.SafeSide) bool {
	if t.Fed != nil {
		return true
	}
	for _, u := range t.Ends {
		if w := u.Conductor; w.Circuit != nil && !w.Screen && !side.Wires[w] {
			return true
		}
	}
	return false
}

// checkEntities: do the devices of an intrinsically safe circuit stand what its
// source can give, and do they and the cables store little enough?
func checkEntities(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		rows, _, ok := compute.EntityOf(p, c)
		if !ok {
			return
		}
		also := entityNotes(c)
		var missing []string
		for _, r := range rows {
			switch {
			case r.Missing != "":
				missing = append(missing, strings.Split(r.Missing, ", ")...)
			case !r.OK:
				note := ""
				if r.Note != "" {
					note = " (" + r.Note + ")"
				}
				pr := finding.At(c.Pos, finding.ExceededEntity, "circuit %q: %s not met, %s %s; maximum %s %s%s", c.Name, r.Name, model.Figure(r.Sum), r.Unit, model.Figure(r.Limit), r.Unit, note)
				pr.Also = also
				found(pr)
			}
		}
		if len(missing) > 0 {
			pr := finding.At(c.Pos, finding.MissingEntity, "circuit %q: IS check needs %s", c.Name, strings.Join(model.Unique(missing), ", "))
			pr.Also = also
			pr.Hint = finding.Do("give each: safety values under entity of the barrier and the device, the length of each cable")
			found(pr)
		}
	})
}

// entityNotes are the places of the parts that an entity comparison compares.
func entityNotes(c *model.Circuit) []finding.Related {
	var notes []finding.Related
	told := map[*model.Part]bool{}
	for _, st := range c.Stations() {
		part := st.Part
		if told[part] || part.Barrier == nil && !part.Kind.Guards && (part.Device == nil || part.Device.Loop == nil) {
			continue
		}
		told[part] = true
		notes = append(notes, finding.Related{Pos: part.Pos, Text: fmt.Sprintf("%s is described here", part.Tag)})
	}
	return notes
}
