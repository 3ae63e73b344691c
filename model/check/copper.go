package check

import (
	"fmt"
	"math"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/finding"
)

// checkTwist: do both legs of a circuit run in one pair? Legs that part are
// looked at here; two pairs named in one run are a split pair.
func checkTwist(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		if len(c.Legs) != 2 || c.Signal.Powers() {
			return
		}
		type group struct {
			cable *model.Cable
			n     int
		}
		used := map[group]int{}
		for _, w := range c.Conductors(p) {
			if w.Core != nil && !w.Screen {
				used[group{w.Core.Cable, w.Core.Group}]++
			}
		}
		var lonely [2][]*model.Conductor // cores without their mate in the circuit, by leg
		for _, w := range c.Conductors(p) {
			if w.Core == nil || w.Screen || w.Core.Cable.Type.Size < 2 || used[group{w.Core.Cable, w.Core.Group}] != 1 || shared(p, w) {
				continue
			}
			lonely[w.Leg-1] = append(lonely[w.Leg-1], w)
		}
		for _, a := range lonely[0] {
			for _, b := range lonely[1] {
				if a.Pos == b.Pos || !beside(a.Core.Cable, b.Core.Cable) {
					continue
				}
				pr := finding.At(b.Pos, finding.UntwistedLegs, "circuit %q: legs run in %s and %s, not twisted together", c.Name, groupText(a.Core), groupText(b.Core))
				pr.Also = []finding.Related{{Pos: a.Pos, Text: "the other leg"}}
				pr.Hint = finding.Do("run both legs in one %s", a.Core.Cable.Type.GroupWord())
				found(pr)
				return
			}
		}
	})
}

// shared reports whether another circuit uses a core of the same group, which is
// reported as a split pair.
func shared(p *model.Plant, w *model.Conductor) bool {
	cable := w.Core.Cable
	for i := range cable.Type.Size {
		mate := p.ConductorOf(cable.Cores[(w.Core.Group-1)*cable.Type.Size+i])
		if mate != nil && mate.Circuit != nil && mate.Circuit != w.Circuit {
			return true
		}
	}
	return false
}

// beside reports whether two cables have the same ends.
func beside(c *model.Cable, o *model.Cable) bool {
	a, b, x, y := c.From.Tag(), c.To.Tag(), o.From.Tag(), o.To.Tag()
	return a == x && b == y || a == y && b == x
}

// checkShorted: does a contact, or any part that takes no current of its own,
// lie straight across a supply?
func checkShorted(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if len(c.Legs) != 2 || len(c.Path.Stations) == 0 {
		return
	}
	first := c.Path.Stations[0].Part
	if first.Device == nil && first.Card == nil {
		return
	}
	var poles [2]*model.Terminal
	for i, l := range c.Legs {
		for _, s := range l.Conductors {
			if s.Termination.In == nil || s.Termination.In.Nature() == model.Load || s.Termination.In.Nature() == model.Source && s.Termination.In.Part.Supply == nil || s.Station.Part.Kind.Isolates {
				return
			}
		}
		if poles[i] = model.Origin(l.End()); poles[i] == nil || poles[i].Part.Supply == nil {
			return
		}
	}
	a, b := poles[0], poles[1]
	if a.Part != b.Part || a == b || a.Role == 'E' || b.Role == 'E' {
		return
	}
	last := c.Legs[1].Conductors[len(c.Legs[1].Conductors)-1]
	pr := finding.At(last.Termination.Pos, finding.ShortedSupply, "circuit %q: %s shorts %s; no load in series", c.Name, first.Tag, a.Part.Tag)
	pr.Also = []finding.Related{{Pos: a.Part.Pos, Text: "the supply is described here"}}
	pr.Hint = finding.Do("wire one leg through an input or load")
	found(pr)
}

// checkEarthColour: is a green-and-yellow core or wire used for anything but
// protective earth (IEC 60445)?
func checkEarthColour(p *model.Plant, found func(finding.Finding)) {
	told := map[finding.Pos]bool{}
	for _, w := range p.Conductors {
		if w.Colour.Base != colour.GreenYellow || w.Spare+w.Doubt != "" || w.Screen || told[w.Pos] || protects(w.From.Terminal) || protects(w.To.Terminal) {
			continue
		}
		told[w.Pos] = true
		what := finding.Words("a wire")
		if w.Core != nil {
			what = coreWords(w.Core)
		}
		use := "a supply"
		if w.Circuit != nil {
			use = fmt.Sprintf("leg %s of circuit %q", w.LegMark(), w.Circuit.Name)
		}
		pr := finding.At(w.Pos, finding.MisusedEarthColour, "%s is green-and-yellow and carries %s", what, use)
		pr.Hint = finding.Do("use another core; green-and-yellow is protective earth only (IEC 60445)")
		found(pr)
	}
}

// protects reports whether the terminal is one of protective earth.
func protects(t *model.Terminal) bool {
	return t != nil && (t.Role == 'E' || t.Kind == model.EarthFoot || t.Bond != nil || t.Part.Kind.Bar)
}

// checkSpares: are as many pairs of each home run and terminals of each strip
// spare as the plant's practice asks for? Fewer than four of them are let be.
func checkSpares(p *model.Plant, found func(finding.Finding)) {
	if want := p.Practice.SparePairs; want > 0 {
		for _, c := range p.Cables {
			if c.Type == nil || c.Type.Groups < 4 || !homeRun(c) {
				continue
			}
			used, _, _, _ := c.InUse(p) // what is in doubt may be spare
			if spare := c.Type.Groups - used; float64(spare) < want/100*float64(c.Type.Groups) {
				found(finding.At(c.Pos, finding.FewSparePairs, "%s: %s", c.Tag, fewSpares(string(c.Type.GroupWord()), spare, c.Type.Groups, want)))
			}
		}
	}
	if want := p.Practice.SpareTerms; want > 0 {
		p.EachPart(func(part *model.Part) {
			if part.Strip == nil || len(part.Terminals) < 4 {
				return
			}
			spare := 0
			for _, t := range part.Terminals {
				if t.Spare() || t.Doubt != "" { // may be spare

					spare++
				}
			}
			if n := len(part.Terminals); float64(spare) < want/100*float64(n) {
				found(finding.At(part.Pos, finding.FewSpareTerminals, "%s: %s", part.Tag, fewSpares("terminal", spare, n, want)))
			}
		})
	}
}

// fewSpares returns how many of n things are spare, and how many should be: want, in
// percent.
func fewSpares(one string, spare, n int, want float64) string {
	return fmt.Sprintf("%s of %d; minimum %s %% (%.0f)", finding.Count(spare, "spare "+one), n, model.Figure(want), math.Ceil(want/100*float64(n)))
}

// homeRun reports whether the cable joins a box to a cabinet or to another place.
func homeRun(c *model.Cable) bool {
	a, b := c.From.Place, c.To.Place
	return a != nil && b != nil && (a.Kind == model.Box || b.Kind == model.Box)
}
