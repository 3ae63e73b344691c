package model

import "slices"

// This file holds supplies that are carried on from one instrument to the next: a daisy
// chain. It has no object of its own: the supply circuit of one instrument ends on the supply
// terminals of another, whose own supply circuit leads on.

// Onward is the leg that leads on to the supply where a leg ends on the supply terminal of
// another device: the one of its supply circuit that begins there. It is nil where the leg
// ends on anything else.
func (l *Leg) Onward() *Leg {
	t := l.End()
	if !l.Circuit.Signal.Powers() || t == nil || !t.TakesSupply() || t.Part == l.Begin().Part {
		return nil
	}
	for _, e := range t.Ends {
		c := e.Conductor.Circuit
		if c == nil || c == l.Circuit || e.Conductor.Leg == 0 || e.Conductor.Leg > len(c.Legs) {
			continue
		}
		if o := c.Legs[e.Conductor.Leg-1]; o.Begin() == t {
			return o
		}
	}
	return nil
}

// TakesSupply reports whether a terminal is one that a device is fed by.
func (t *Terminal) TakesSupply() bool {
	return t.Part.Device != nil && t.Part.Device.Loop != nil && t.Signal().Powers()
}

// Upstream are the legs of other circuits that a circuit hangs on, the nearest first: those
// of the instruments between it and the supply. It has none of a circuit that lands on a strip
// or a supply itself.
func (c *Circuit) Upstream() []*Leg { return c.borrowed(false) }

// HangsOn reports whether a conductor only takes its supply from a terminal of an instrument
// that it is not the supply of.
func (w *Conductor) HangsOn(t *Terminal) bool {
	return t.TakesSupply() && w.Circuit != nil && !w.Screen && w.Circuit.Signal.Powers() && w.Circuit.Device() != t.Part
}

// Link is what carries a supply on from one instrument to the next, or from the strip to the
// first: the supply circuit of the second.
type Link struct {
	*Circuit
	Dead []*Part // whose supply goes when it opens: its own instrument, and all that hang on that
}

// Chain is a group of instruments that share their supply wiring, the nearest to the supply
// first.
type Chain struct{ Links []Link }

// Chains are those of a place, in the order of the text.
func (p *Plant) Chains(pl *Place) []Chain {
	type chainsOf struct{}
	return Once(p, chainsOf{}, findChains)[pl]
}

// findChains are the chains of all places.
func findChains(p *Plant) map[*Place][]Chain {
	on := map[*Circuit][]*Circuit{} // what hangs on each
	var heads []*Circuit
	p.EachCircuit(func(c *Circuit) {
		d := c.Device()
		if !c.Signal.Powers() || d == nil || d.Place == nil {
			return
		}
		up := c.before()
		for _, o := range up {
			on[o] = append(on[o], c)
		}
		if len(up) == 0 {
			heads = append(heads, c)
		}
	})
	all := map[*Place][]Chain{}
	for _, head := range heads {
		if len(on[head]) > 0 {
			pl := head.Device().Place
			all[pl] = append(all[pl], chainOn(head, on))
		}
	}
	return all
}

// chainOn is the chain that hangs on a supply circuit.
func chainOn(head *Circuit, on map[*Circuit][]*Circuit) (chain Chain) {
	var hang func(c *Circuit)
	hang = func(c *Circuit) {
		if slices.ContainsFunc(chain.Links, func(l Link) bool { return l.Circuit == c }) {
			return
		}
		i := len(chain.Links)
		chain.Links = append(chain.Links, Link{Circuit: c})
		for _, next := range on[c] {
			hang(next)
		}
		for _, l := range chain.Links[i:] {
			chain.Links[i].Dead = append(chain.Links[i].Dead, l.Device())
		}
	}
	hang(head)
	return chain
}

// LinkOf is the link that a supply circuit is of a chain; false where it is of none.
func (p *Plant) LinkOf(c *Circuit) (Link, bool) {
	if d := c.Device(); c.Signal.Powers() && d != nil {
		for _, chain := range p.Chains(d.Place) {
			for _, l := range chain.Links {
				if l.Circuit == c {
					return l, true
				}
			}
		}
	}
	return Link{}, false
}

// before are the supply circuits that the legs of a circuit end on, each once.
func (c *Circuit) before() (all []*Circuit) {
	for _, l := range c.Legs {
		if o := l.Onward(); o != nil && !slices.Contains(all, o.Circuit) {
			all = append(all, o.Circuit)
		}
	}
	return all
}

// SupplyTerminals are the terminals that a device is fed by, in its order.
func (p *Part) SupplyTerminals() (all []*Terminal) {
	for _, t := range p.Terminals {
		if t.TakesSupply() {
			all = append(all, t)
		}
	}
	return all
}

// HangsOn reports whether a supply circuit only ends at a station: on an instrument that carries
// its supply on.
func (c *Circuit) HangsOn(st *Station) bool {
	return c.Signal.Powers() && st.Part.Device != nil && st.Part != c.Device() &&
		slices.ContainsFunc(st.Terminations, func(t Termination) bool { return t.Does == Lands && t.In.TakesSupply() })
}
