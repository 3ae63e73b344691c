package model

import "slices"

// This file tells where a circuit is isolated, and what else goes dead there.

// Feeders are the parts that drive the current of the circuit, in walking order:
// supplies that it lands on or that feed a terminal of it, cards and isolators
// that power it, and the supply of such a card. None for a sensor that only a card measures.
func (c *Circuit) Feeders() []*Part {
	var all []*Part
	add := func(x *Part) {
		if !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	for _, l := range c.Lanes {
		for _, s := range l.Steps {
			for _, t := range []*Terminal{s.Slot.In, s.Slot.Out} {
				switch {
				case t == nil || origin(t).Role == 'E': // protective earth feeds nothing
				case t.Part.Supply != nil, t.Part.isIsolator():
					add(t.Part)
				case t.Part.Card != nil && t.Part.Card.Powers:
					if add(t.Part); t.Part.Card.From != nil {
						add(origin(t.Part.Card.From).Part)
					}
				case t.Fed != nil:
					add(t.Fed.Supply.Part)
				}
			}
		}
	}
	return all
}

// IsolatedAt are the terminals at which the circuit is parted from what feeds
// it: the fuses and disconnects that are fed from a supply; where there are none,
// those nearest to the system in each lane.
func (c *Circuit) IsolatedAt() []*Terminal {
	var fed, last []*Terminal
	add := func(all []*Terminal, t *Terminal) []*Terminal {
		if t == nil || slices.Contains(all, t) {
			return all
		}
		return append(all, t)
	}
	for _, l := range c.Lanes {
		var nearest *Terminal
		for _, s := range l.Steps {
			t := s.Slot.In
			if t == nil || t.Kind != Fused && t.Kind != Disconnect {
				continue
			}
			if t.Fed != nil {
				fed = add(fed, t)
			}
			if nearest == nil || !c.fromCard() {
				nearest = t
			}
		}
		last = add(last, nearest)
	}
	if len(fed) > 0 {
		return fed
	}
	return last
}

// FedBy are the circuits that a part feeds, in the order of the text.
func (p *Plant) FedBy(x *Part) []*Circuit {
	var all []*Circuit
	p.circuits(func(c *Circuit) {
		if slices.Contains(c.Feeders(), x) {
			all = append(all, c)
		}
	})
	return all
}
