package bind

import "ringout/model"

// This file makes the feeds of common cores: what the far end of such a leg is fed from, the
// leg brings to the terminal that it begins on.

// commonCores lets every leg of common cores feed where it begins; again as long as one does
// that others end on.
func (b *Binder) commonCores() {
	var legs []*model.Leg
	b.Plant.EachCircuit(func(c *model.Circuit) {
		if c.Common() {
			legs = append(legs, c.Legs...)
		}
	})
	for more := true; more; {
		more = false
		for _, l := range legs {
			begin, from := l.Begin(), model.Origin(l.End())
			if begin == nil || begin.Fed != nil || from == nil || !from.GivesFeed() || l.End() == begin {
				continue
			}
			(&model.Feed{Pos: l.Circuit.Pos, Supply: from, To: begin, Leg: l}).Reach()
			more = true
		}
	}
}
