package check

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// This file checks what many circuits share: common cores, and the commons of cards.

// checkCommonCores: does a leg of common cores feed what it begins on, alone, and does
// anything end there?
func checkCommonCores(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if !c.Common() {
		return
	}
	for _, l := range c.Legs {
		begin, end := l.Begin(), l.End()
		switch from := model.Origin(end); {
		case begin == nil || end == nil || end.Open(): // told by checkEnds
		case l.Feed() != nil || begin.Fed == nil || begin.Fed.Supply != from: // else two supplies: see checkSupplies
		default:
			at := l.Conductors[0].Termination.Pos
			pr := finding.At(at, finding.FedTwice, "circuit %q, leg %s: %s is fed from %s already", c.Name, l.Mark(), begin.Tag(), begin.Fed.Words())
			pr.Also = []finding.Related{{Pos: begin.Fed.Pos, Text: "fed by this"}}
			pr.Hint = finding.Do("let other circuits end on terminals of their own for each of the two, with no jumper between")
			found(pr)
		}
	}
}

// checkUnusedCommons: does a circuit end on what each leg of common cores feeds?
func checkUnusedCommons(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		if !c.Common() {
			return
		}
		for _, l := range c.Legs {
			f := l.Feed()
			if f == nil || f.Supply.Role == 'E' || len(l.Borrowers(p)) > 0 || feedsCard(f.To) {
				continue
			}
			found(finding.At(l.Conductors[0].Termination.Pos, finding.UnusedCommon, "circuit %q, leg %s: no circuit ends on %s", c.Name, l.Mark(), f.To.Tag()))
		}
	})
}

// feedsCard reports whether a card is said to be fed from a terminal or one joined to it.
func feedsCard(t *model.Terminal) bool {
	return len(t.Cards) > 0 || slices.ContainsFunc(t.Joined, func(o *model.Terminal) bool { return len(o.Cards) > 0 })
}

// checkOwnCommons: does the current of a channel come back to the common that its card
// feeds itself, and to no other?
func checkOwnCommons(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if c.Common() {
		return
	}
	var own []*model.Terminal // of its channels
	for _, st := range c.Visits() {
		if t := st.Part.CommonOf(st.Channel); t != nil && t.Fed == nil && t.GivesFeed() {
			own = append(own, t)
		}
	}
	for _, l := range c.Legs {
		end := model.Origin(l.End())
		if end == nil || end.Role == 'E' || end.Part.Supply == nil && end.CommonAt() == nil || slices.Contains(own, end) {
			continue
		}
		if len(own) == 0 && end.CommonAt() == nil {
			continue
		}
		at := l.Conductors[len(l.Conductors)-1].Termination.Pos
		pr := finding.At(at, finding.WrongCommon, "circuit %q, leg %s: comes to %s, which is no common of its channel", c.Name, l.Mark(), end.Tag())
		if len(own) > 0 {
			pr = finding.At(at, finding.WrongCommon, "circuit %q, leg %s: comes to %s, not to %s, the common of its channel", c.Name, l.Mark(), end.Tag(), own[0].Tag())
		}
		if f := l.End().Fed; f != nil {
			pr.Also = []finding.Related{finding.Also(f.Pos, "%s comes to %s by this", l.End().Tag(), end.Tag())}
		}
		found(pr)
	}
}

// waitsForCommon reports whether a terminal that nothing feeds is where common cores begin,
// which are open themselves: that is told of them.
func waitsForCommon(t *model.Terminal) bool {
	for _, o := range append(slices.Clip(t.Joined), t) {
		for _, u := range o.Ends {
			if w := u.Conductor; w.Circuit != nil && w.Circuit.Common() && w.Circuit.Legs[max(w.Leg, 1)-1].Begin() == o {
				return true
			}
		}
	}
	return false
}
