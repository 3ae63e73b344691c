package check

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// This file checks plugs and surge protectors.

// checkThrough: does a jumper join the terminals of a strip that a leg goes in and out on?
func checkThrough(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	for _, st := range c.Stations() {
		for _, t := range st.Terminations {
			if t.Through() && st.Part.Strip != nil && !t.In.Jumpered(t.Out) {
				pr := finding.At(t.Pos, finding.MissingJumper, "no jumper joins %s and %s", t.In.Tag(), t.Out.Tag())
				pr.Hint = finding.Do("add it to jumpers of the strip")
				found(pr)
			}
		}
	}
}

// checkLivePins: is the half of each plug that stays live when it is parted the one with
// the sockets (common practice)?
func checkLivePins(p *model.Plant, found func(finding.Finding)) {
	told := map[*model.Part]bool{}
	p.EachCircuit(func(c *model.Circuit) {
		feeder := c.Feeder()
		for _, l := range c.Legs {
			for i, s := range l.Conductors {
				in := s.Termination.In
				if in == nil || in.Plug() == nil || in.Plug().Male == model.NoHalf || told[in.Part] || !feeds(feeder, l.Conductors[i:]) {
					continue
				}
				if live := c.DepartureSide(); model.HalfOf(live) == in.Plug().Male {
					told[in.Part] = true
					pr := finding.At(in.Part.Pos, finding.LivePins, "%s: the %s half has the pins, and stays live in circuit %q when it is parted", in.Part.Tag, live, c.Name)
					pr.Also = []finding.Related{{Pos: s.Termination.Pos, Text: "the circuit lands here"}}
					pr.Hint = finding.Do("put the sockets on the live side: male: %s", in.Plug().Male.Other())
					found(pr)
				}
			}
		}
	})
}

// feeds reports whether what drives the current of a leg lies on the rest of it: its
// supply or card, or an isolator.
func feeds(feeder *model.Part, rest []model.LegConductor) bool {
	return slices.ContainsFunc(rest, func(s model.LegConductor) bool {
		part := s.Station.Part
		if s.Termination.In == nil {
			return false
		}
		return part.Kind.Isolates || feeder != nil && (part == feeder || model.Origin(s.Termination.In).Part == feeder)
	})
}

// checkSurgeEarths: is each surge protector on an earth bar, and on that of the barriers
// behind it, so that a surge does not lift one above the other (common practice)?
func checkSurgeEarths(p *model.Plant, found func(finding.Finding)) {
	p.EachPart(func(part *model.Part) {
		if !part.Kind.Diverts || part.Barrier.SaysEarth {
			return
		}
		pr := finding.At(part.Pos, finding.MissingSurgeEarth, "surge protector %s has no earth bar", part.Tag)
		pr.Hint = finding.Do("give it earth, a bar of %s", part.Place.Tag)
		if bars := part.Place.Bars(); len(bars) > 0 {
			pr.Hint = finding.Do("give it earth: %s", finding.AnyOf(bars))
		}
		found(pr)
	})
	told := map[*model.Part]bool{}
	p.EachCircuit(func(c *model.Circuit) {
		for _, surge := range c.Stations() {
			for _, barrier := range c.Stations() {
				a, b := surge.Part, barrier.Part
				if !a.Kind.Diverts || !b.Kind.Shunts || told[a] || a.Place != b.Place {
					continue
				}
				if one, other := a.Barrier.Earth, b.Barrier.Earth; one != nil && other != nil && one != other {
					told[a] = true
					pr := finding.At(a.Pos, finding.SurgeOnOtherBar, "surge protector %s is on %s, barrier %s of circuit %q on %s", a.Tag, one.Tag, b.Tag, c.Name, other.Tag)
					pr.Also = []finding.Related{{Pos: b.Pos, Text: "the barrier is described here"}}
					pr.Hint = finding.Do("give it earth: %s", other.Name())
					found(pr)
				}
			}
		}
	})
}
