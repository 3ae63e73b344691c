package check

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// checkContacts: does each circuit land on terminals of a device that one coil or contact
// joins, and on a contact that no other circuit has?
func checkContacts(p *model.Plant, found func(finding.Finding)) {
	first := map[*model.Group]*model.Station{}
	circuit := map[*model.Group]*model.Circuit{}
	p.EachCircuit(func(c *model.Circuit) {
		for _, st := range c.Visits() {
			g := st.Group()
			if g == nil || checkJoins(c, st, found) || c.HangsOn(st) {
				continue
			}
			if c.Seals() != nil {
				continue // side by side with a contact that another circuit goes through
			}
			if other := circuit[g]; other == nil {
				first[g], circuit[g] = st, c
			} else if other != c && !shareCommon(g, first[g], st) {
				pr := finding.At(st.Pos, finding.ContactUsedTwice, "%s %s used twice: circuit %q, and circuit %q", st.Part.Tag, g.Numbers(), other.Name, c.Name)
				found(pr.WithAlso(first[g].Pos, "used first here").WithHint(finding.Do("use another of its contacts%s", freeContacts(st.Part))))
			}
		}
	})
}

// freeContacts names the contacts of a device that no circuit lands on.
func freeContacts(p *model.Part) (words string) {
	for _, g := range p.Contacts() {
		if len(g.Circuits()) == 0 {
			words += map[bool]string{true: ": ", false: ", "}[words == ""] + g.Words()
		}
	}
	return words
}

// checkJoins reports legs on terminals that nothing joins, and whether there are some.
func checkJoins(c *model.Circuit, st *model.Station, found func(finding.Finding)) bool {
	var on []*model.Terminal
	tell := func(pos finding.Pos, a, b *model.Terminal) {
		pr := finding.At(pos, finding.SplitContact, "circuit %q: nothing joins %s and %s", c.Name, a.Tag(), b.Tag()).WithAlso(st.Part.Pos, "the device is described here")
		switch g, o := a.Group, b.Group; {
		case g == nil || o == nil:
		case g != o:
			pr = pr.WithHint(finding.Do("land on one of them: %s or %s", g.Words(), o.Words()))
		default:
			pr = pr.WithHint(finding.Do("land on its common %s and one side of %s", g.Terminals[0].Name, g.Words()))
		}
		found(pr)
	}
	for _, t := range st.Terminations {
		switch {
		case t.Does != model.Lands:
		case !t.Through():
			on = append(on, t.In)
		case t.In.Group == nil || !t.In.Group.Joins(t.In, t.Out):
			tell(t.Pos, t.In, t.Out)
			return true
		}
	}
	for i, t := range on {
		if i > 0 && !joined(on, t) {
			tell(st.Pos, on[0], t)
			return true
		}
	}
	return false
}

// joined reports whether a terminal is joined with the first of some, by way of the common
// of a changeover contact too.
func joined(on []*model.Terminal, t *model.Terminal) bool {
	g := t.Group
	if g == nil || g != on[0].Group {
		return false
	}
	return g.Joins(on[0], t) || g.Contact == model.Changeover && slices.Contains(on, g.Terminals[0])
}

// shareCommon reports whether two stations use both sides of one changeover contact, and
// only its common both.
func shareCommon(g *model.Group, a, b *model.Station) bool {
	return g.Contact == model.Changeover && !slices.ContainsFunc(ends(a), func(t *model.Terminal) bool {
		return t != g.Terminals[0] && slices.Contains(ends(b), t)
	})
}

// ends are the terminals that the legs come to and leave from at a station.
func ends(st *model.Station) (all []*model.Terminal) {
	for _, t := range st.Terminations {
		if t.Does == model.Lands {
			all = append(all, t.In, t.Out)
		}
	}
	return all
}
