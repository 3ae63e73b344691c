package check

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// checkEnds: does each leg run unbroken from where it begins to an input,
// output, supply or instrument?
func checkEnds(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if len(c.Path.Stations) < 2 && len(c.Path.Tails) == 0 {
		found(finding.At(c.Path.Stations[0].Pos, finding.OpenCircuit, "circuit %q ends at %s", c.Name, c.Path.Stations[0].Part.Tag))
		return
	}
	for _, l := range c.Legs {
		end := l.End()
		last := l.Conductors[len(l.Conductors)-1]
		switch {
		case l.Parked():
		case end == nil:
			found(finding.At(last.Termination.Pos, finding.OpenLeg, "circuit %q, leg %s: cut back at %s", c.Name, l.Mark(), last.Station.Part.Tag))
		case len(l.Conductors) == 1:
			found(finding.At(last.Termination.Pos, finding.OpenLeg, "circuit %q, leg %s: ends at %s", c.Name, l.Mark(), end.Tag()))
		case end.Open() && c.Loop.Segment == nil: // jumpers lead on; see checkSegments
			if !c.Common() && waitsForCommon(end) {
				continue // told of the common cores
			}
			if meetsCoil(last.Conductor, end) {
				continue // told of the jumper
			}
			pr := finding.At(last.Termination.Pos, finding.OpenLeg, "circuit %q, leg %s: open at %s", c.Name, l.Mark(), end.Tag())
			switch begin := l.Begin(); {
			case c.Common() && begin != nil && begin.Fed != nil:
				pr.Hint = finding.Do("write it the other way round: from %s, which it feeds, to %s", end.Tag(), begin.Tag())
			case end.Joined != nil && end.Part.Place != nil && end.Part.Place.Kind == model.Box:
				pr.Hint = finding.Do("go on with wires to a card channel, or feed the terminal: from a supply (feeds), or by a circuit of common cores that begins on %s", end.Part.Tag)
			default:
				pr.Hint = finding.Do("go on with wires to a card channel, or feed the terminal from a supply (feeds)")
			}
			found(pr)
		case lacksFeed(last.Station):
			common := last.Station.Part.CommonOf(last.Station.Channel)
			pr := finding.At(last.Termination.Pos, finding.OpenLeg, "circuit %q, leg %s: ends on %s, but nothing feeds %s, the common of the card", c.Name, l.Mark(), end.Tag(), common.Tag())
			pr.Hint = feedCommon(common)
			pr.Also = []finding.Related{{Pos: end.Part.Pos, Text: "the card is described here"}}
			found(pr)
		}
	}
}

// meetsCoil reports whether a jumper joins the end of a leg to the like leg of another coil.
func meetsCoil(w *model.Conductor, end *model.Terminal) bool {
	return end.Fed == nil && slices.ContainsFunc(end.Joined, func(t *model.Terminal) bool {
		return slices.ContainsFunc(t.Ends, func(u model.LandedEnd) bool { return joinsCoils(u.Conductor, w) })
	})
}

// lacksFeed reports whether nothing feeds the common of the channel at a station.
func lacksFeed(st *model.Station) bool {
	common := st.Part.CommonOf(st.Channel)
	return common != nil && common.Fed == nil && !common.GivesFeed()
}

// feedCommon is a hint of the feed that a common of a card lacks: from the supply that
// is given for the card, else from one of its place.
func feedCommon(common *model.Terminal) finding.Hint {
	var poles []string
	card := common.Part
	from := card.CardSupply()
	for _, s := range card.Place.Parts {
		if s.Supply != nil && !s.Supply.AC && (from == nil || from == s) {
			for _, t := range s.Terminals {
				if t.Role == common.Role {
					poles = append(poles, s.Tag+" "+t.Name)
				}
			}
		}
	}
	if len(poles) == 0 {
		return finding.Do("feed it from the %c of the supply of its channels (feeds of %s)", common.Role, card.Place.Tag)
	}
	return finding.Do("add to feeds of %s: %s to %s %s", card.Place.Tag, finding.AnyOf(poles), card.Tag, common.Name)
}

// checkFieldDevices: is every terminal of every device that has polarity or a
// role in some circuit?
func checkFieldDevices(p *model.Plant, found func(finding.Finding)) {
	broken, unread := map[*model.Part]bool{}, map[*model.Loop]bool{}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			for _, part := range c.Mentions {
				broken[part] = true
			}
			if c.Broken && len(c.Mentions) == 0 { // it could not be read at all
				unread[l] = true
			}
		}
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			if len(d.Terminals) == 0 || broken[d] || unread[l] || d.Status == model.Future {
				continue
			}
			if d.Unwired() {
				found(finding.At(d.Pos, finding.UnwiredDevice, "%s is in no circuit", d.Tag))
				continue
			}
			for _, g := range d.Coils() { // what works its contacts
				if !d.CoilUnknown() && !slices.ContainsFunc(g.Terminals, (*model.Terminal).Landed) {
					found(finding.At(d.Pos, finding.OpenTerminal, "%s, %s not connected: nothing works %s", g.Terminals[0].Tag(), g.Terminals[1].Tag(), d.Tag))
				}
			}
			if g := d.Supplied(); g != nil {
				if open := notLanded(g.Terminals); len(open) > 0 {
					found(finding.At(d.Pos, finding.OpenTerminal, "%s not connected: the supply of %s", strings.Join(open, ", "), d.Tag))
				}
			}
			for _, port := range d.Ports() {
				if open := notLanded(port.Terminals); len(open) > 0 && len(open) < len(port.Terminals) {
					found(finding.At(port.Pos, finding.OpenTerminal, "%s not connected", strings.Join(open, ", ")))
				}
			}
			n := 0
			for _, g := range d.Kind.Groups {
				group := d.Terminals[min(n, len(d.Terminals)):min(n+len(g.Roles), len(d.Terminals))]
				n += len(g.Roles)
				some, open := false, []string(nil)
				for _, t := range group {
					if t.Landed() {
						some = true
					} else if !spareLead(group, t) {
						open = append(open, t.Tag())
					}
				}
				if len(open) > 0 && (some || g.Signal.Powers()) {
					found(finding.At(d.Pos, finding.OpenTerminal, "%s not connected", strings.Join(open, ", ")))
				}
			}
		}
	}
}

// spareLead reports whether a terminal of a resistance sensor may stay open: three others are
// landed, one of them on the same end of its element.
func spareLead(group []*model.Terminal, t *model.Terminal) bool {
	landed, same := 0, false
	for _, o := range group {
		if o.Landed() {
			landed, same = landed+1, same || o.Role == t.Role
		}
	}
	return t.Signal() == model.Resistance && same && landed > 2
}

// notLanded are the tags of terminals that nothing lands on.
func notLanded(ts []*model.Terminal) (tags []string) {
	for _, t := range ts {
		if !t.Landed() {
			tags = append(tags, t.Tag())
		}
	}
	return tags
}

// checkEmptyLoops: is there anything to wire in each loop?
func checkEmptyLoops(p *model.Plant, found func(finding.Finding)) {
	for _, l := range p.Loops {
		if len(l.Circuits) == 0 && len(l.Devices) == 0 && !l.Plugged() {
			found(finding.At(l.Pos, finding.EmptyLoop, "loop %s has no devices and no circuits", finding.Quote(l.Tag)))
		}
	}
}
