package check

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/english"
	"ringout/model/finding"
	"ringout/model/trunk"
)

// checkSegments: is every segment one pair with two ends, and is it within what its kind
// allows?
func checkSegments(p *model.Plant, found func(finding.Finding)) {
	for _, l := range p.Loops {
		if l.Segment == nil || l.Segment.Kind == model.UnknownSegment || l.Later() {
			continue
		}
		if l.Plugged() {
			checkSegmentLimits(p, trunk.Of(p, l), found)
			continue
		}
		checkAddresses(l, found)
		if slices.ContainsFunc(l.Circuits, func(c *model.Circuit) bool { return c.Broken }) || len(l.Circuits) == 0 {
			continue // told where it is written
		}
		pair := trunk.Of(p, l)
		if pair.Source == nil {
			pr := finding.At(l.Pos, finding.NoSource, "segment %s lands on no supply and on no port of a card", l.Tag)
			found(pr.WithHint(finding.Do("take its trunk to a supply, or to a card of kind %s", model.CardKindOf(l.Segment.Kind.Signal))))
			continue
		}
		checkJoined(p, pair, found)
		checkTerminators(pair, found)
		checkCouplers(pair, found)
		checkSegmentEarth(p, pair, found)
		checkSegmentLimits(p, pair, found)
	}
}

// checkAddresses: has each device of a segment an address of its own?
func checkAddresses(l *model.Loop, found func(finding.Finding)) {
	first := map[int]*model.Part{}
	for _, d := range l.Devices {
		n := d.Device.Address
		if last := l.Segment.Last(); last > 0 && n > last {
			found(finding.At(d.Pos, finding.NumberOutOfRange, "address %d of %s is above %d, the last one on segment %s", n, d.Tag, last, l.Tag).
				WithHint(finding.Do("give it an address from 1 to %d, or say the last address that its masters take", last)))
		}
		if o := first[n]; n > 0 && o != nil {
			found(finding.At(d.Pos, finding.AddressTwice, "%s and %s both have address %d on segment %s", o.Tag, d.Tag, n, l.Tag).
				WithAlso(o.Pos, "the other one").WithHint(finding.Do("give each device an address of its own")))
			continue
		}
		first[n] = d
	}
}

// checkJoined: do cores and jumpers lead from both poles of each device to the source, the
// right way round and by one way only?
func checkJoined(p *model.Plant, pair *trunk.Pair, found func(finding.Finding)) {
	l := pair.Loop
	for _, d := range pair.Away {
		if !slices.ContainsFunc(d.Terminals, (*model.Terminal).Landed) {
			continue // in no circuit: told by checkFieldDevices
		}
		found(finding.At(d.Pos, finding.DeviceOffSegment, "%s is not joined to %s, which segment %s begins at", d.Tag, pair.Source.Tag, l.Tag).
			WithAlso(pair.Source.Pos, "%s is described here", pair.Source.Tag).WithHint(finding.Do("join its spur to the trunk with jumpers of a strip, one for each pole")))
	}
	told := slices.ContainsFunc(l.Circuits, func(c *model.Circuit) bool { return miswired(p, c, checkPolarity) })
	for _, d := range pair.Crossed {
		if !told {
			found(finding.At(d.Pos, finding.ReversedPolarity, "%s has its - on the + of segment %s", d.Tag, l.Tag).WithHint(finding.Do("change over the cores or the jumpers on the way")))
		}
	}
	for _, w := range pair.Rings {
		found(finding.At(w.Pos, finding.SegmentRing, "%s joins %s to %s, which segment %s joins already", w.Core.Cable.Tag, w.From.Tag(), w.To.Tag(), l.Tag).
			WithHint(finding.Do("leave one of the two ways open")))
	}
}

// checkTerminators: are there two, one at each end of the trunk?
func checkTerminators(pair *trunk.Pair, found func(finding.Finding)) {
	l := pair.Loop
	all := l.Segment.Terminators
	if l.Segment.Kind.Ohms == 0 {
		for _, t := range all {
			found(finding.At(t.Pos, finding.UnusedFact, "terminator at %s: a %s has none", t.Tag(), l.Segment.Kind.Name).WithHint(finding.Do("take it out, and its key")))
		}
		return
	}
	if len(all) != 2 {
		pr := finding.At(l.Pos, finding.TerminatorCount, "segment %s has %s, not 2", l.Tag, finding.Count(len(all), "terminator"))
		for _, t := range all {
			pr = pr.WithAlso(t.Pos, "at %s", t.Tag())
		}
		found(pr.WithHint(finding.Do("fit one at each end of its trunk, %s and %s", pair.Ends[0].Parts[0].Tag, pair.Ends[1].Parts[0].Tag)))
		return
	}
	a, b := pair.At(all[0].At), pair.At(all[1].At)
	for i, j := range []*trunk.Joint{a, b} {
		switch t := all[i]; {
		case j == nil:
			found(finding.At(t.Pos, finding.TerminatorAway, "terminator at %s: the pair of segment %s does not come there", t.Tag(), l.Tag).
				WithHint(finding.Do("name two terminals that jumpers join to its pair")))
		case a == b:
			found(finding.At(all[1].Pos, finding.MisplacedTerminator, "both terminators of segment %s are at one end of its trunk", l.Tag).WithAlso(all[0].Pos, "the other one"))
			return
		case pair.GoesOn(j):
			found(finding.At(t.Pos, finding.MisplacedTerminator, "segment %s goes on past its terminator at %s", l.Tag, t.Tag()).
				WithHint(finding.Do("fit it where the trunk ends")))
		}
	}
}

// checkSegmentEarth: are the screens of a segment that powers its devices on earth at one
// point? Two would send the currents of the plant's earth through them; a plant whose earths
// are all one by design may want both.
func checkSegmentEarth(p *model.Plant, pair *trunk.Pair, found func(finding.Finding)) {
	l := pair.Loop
	if earths, _ := pair.Earths(p); l.Segment.Kind.Powered && len(earths) > 1 {
		found(finding.At(l.Pos, finding.SegmentEarths, "screens of segment %s are on earth at %s and %s", l.Tag, strings.Join(earths[:len(earths)-1], ", "), earths[len(earths)-1]).
			WithHint(finding.Do("join them through all boxes and leave one of these earths, that at %s as a rule", pair.Source.Where())))
	}
}

// checkCouplers: does each spur land on terminals of its own of a coupler that are made
// for spurs, and the trunk on those that are made for it?
func checkCouplers(pair *trunk.Pair, found func(finding.Finding)) {
	l := pair.Loop
	first := map[*model.Terminal]*trunk.Joint{} // by the first terminal of a spur
	for _, j := range pair.Joints {
		if j.By == nil {
			continue
		}
		cable := j.By.Core.Cable.Tag
		if pair.On(j) && pair.On(j.From) {
			for _, t := range []*model.Terminal{j.Starts, j.Ends} {
				if n := t.Spur(); n > 0 {
					found(finding.At(j.By.Pos, finding.TrunkOnSpur, "the trunk of segment %s goes on by %s from spur %d of %s", l.Tag, cable, n, t.Part.Tag).
						WithAlso(t.Part.Pos, "%s is described here", t.Part.Tag).WithHint(finding.Do("land it on terminals of the trunk")))
				}
			}
			continue
		}
		t := j.Starts
		if t.Part.Coupler == nil {
			continue
		}
		spurs := t.Part.Coupler.Spurs
		n := t.Spur()
		if n == 0 {
			if !pair.On(j.From) || !pair.Hangs(j) {
				continue
			}
			pr := finding.At(j.By.Pos, finding.UnprotectedSpur, "spur %s of segment %s lands on terminal %s of %s, which is of the trunk", cable, l.Tag, t.Name, t.Part.Tag).
				WithAlso(t.Part.Pos, "%s is described here", t.Part.Tag)
			found(pr.WithHint(finding.Do("land it on one of its %s; where all are taken, fit a coupler with more", finding.Count(len(spurs), "spur"))))
			continue
		}
		at := spurs[n-1][0]
		if o := first[at]; o != nil {
			found(finding.At(j.By.Pos, finding.SpurTwice, "%s and %s both land on spur %d of %s", o.By.Core.Cable.Tag, cable, n, t.Part.Tag).
				WithAlso(o.By.Pos, "the other one").WithHint(finding.Do("give each cable a spur of its own; where all %d are taken, fit a coupler with more", len(spurs))))
			continue
		}
		first[at] = j
	}
}

// checkSegmentLimits: is a segment within what its kind allows?
func checkSegmentLimits(p *model.Plant, pair *trunk.Pair, found func(finding.Finding)) {
	for _, m := range pair.Limits(p) {
		if len(m.Missing) > 0 || m.OK() {
			continue
		}
		if m.Code == finding.OverloadedSupply && pair.Source.Supply != nil && m.Actual-p.Practice.SegmentReserve > pair.Source.Supply.Limit {
			continue // told of the supply
		}
		limit := "minimum"
		if m.IsMax {
			limit = "maximum"
		}
		unit := ""
		if m.Unit != "" {
			unit = " " + m.Unit
		}
		found(finding.At(pair.Loop.Pos, m.Code, "%s: %s%s; %s %s%s (%s)", m.What, model.Round(m.Actual), unit, limit, model.Round(m.Limit), unit, pair.After()).
			WithHint(finding.Do("%s", english.Text(m.Cure))))
	}
}
