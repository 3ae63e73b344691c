package model

import "slices"

// This file tells what brings energy to a circuit, where it is isolated, and what
// else goes dead there.

// Feeders are the parts that drive the current of the circuit, in walking order:
// supplies that it lands on or that feed a terminal of it, cards and isolators
// that power it. None for a sensor that only a card measures.
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
				case t.Part.Supply != nil, t.Part.Kind.Isolates:
					add(t.Part)
				case t.Part.Card != nil && t.Part.Card.Powers:
					add(t.Part)
				case t.Fed != nil:
					add(t.Fed.Supply.Part)
				}
			}
		}
	}
	return all
}

// Energy is one source of energy of a circuit.
type Energy struct {
	Part   *Part // supply, card, isolator or device with a supply of its own; nil where the text shows none
	Supply *Part // what it is fed from in the end, itself for a supply; nil where the text does not say
}

// CardSupply is the supply that a card names; nil for other parts.
func (p *Part) CardSupply() *Part {
	if p.Card == nil || p.Card.From == nil {
		return nil
	}
	return origin(p.Card.From).Part
}

// Energies are all that bring energy to a circuit: what Feeders tells, a device that
// has a supply of its own, and for a circuit that brings power from nowhere yet, a
// source without a part. None for a sensor that only a card measures.
func (c *Circuit) Energies() []Energy {
	var all []Energy
	add := func(x, supply *Part) {
		if s := (Energy{x, supply}); !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	for _, x := range c.Feeders() {
		switch {
		case x.Supply != nil:
			add(x, x)
		default:
			add(x, x.CardSupply())
		}
	}
	if d := c.Device(); d != nil && c.drivenBy(d) {
		supply := d.ownSupply()
		add(d, supply)
	}
	if c.Signal.Powers() && len(all) == 0 {
		add(nil, nil)
	}
	return all
}

// drivenBy tells whether the device drives the current of the circuit.
func (c *Circuit) drivenBy(d *Part) bool {
	a, _ := c.terminalsOf(d)
	return a != nil && a.nature() == Source
}

// ownSupply is the supply of the circuit that brings power to a device; nil where the
// text does not say.
func (p *Part) ownSupply() *Part {
	if p.Device == nil || p.Device.Loop == nil {
		return nil
	}
	for _, c := range p.Device.Loop.Circuits {
		if c.Signal.Powers() && !c.Broken && c.Device() == p {
			return c.Supply()
		}
	}
	return nil
}

// Knives are the terminals with a fuse or a link between their sides that part every
// lane of the circuit, in each the one nearest to what feeds it; all is false where a
// lane has none, and they part only some poles.
func (c *Circuit) Knives() (at []*Terminal, all bool) {
	all = len(c.Lanes) > 0
	for _, l := range c.Lanes {
		t := c.nearest(l, func(t *Terminal) bool { return t.Kind == Fused || t.Kind == Disconnect })
		if t == nil {
			all = false
		} else if !slices.Contains(at, t) {
			at = append(at, t)
		}
	}
	return at, all
}

// LiftedAt are the terminals of strips at which the cores of the circuit can be lifted
// nearest to what feeds it; those of the card or device where a lane has no strip.
func (c *Circuit) LiftedAt() (at []*Terminal) {
	for _, l := range c.Lanes {
		t := c.nearest(l, func(t *Terminal) bool { return t.Part.Strip != nil })
		if t == nil {
			t = c.nearest(l, func(*Terminal) bool { return true })
		}
		if t != nil && !slices.Contains(at, t) {
			at = append(at, t)
		}
	}
	return at
}

// nearest is the terminal of a lane nearest to the system that answers; nil for none.
func (c *Circuit) nearest(l *Lane, is func(*Terminal) bool) (found *Terminal) {
	for _, s := range l.Steps {
		if t := s.Slot.In; t != nil && is(t) {
			if found = t; c.fromCard() {
				return found
			}
		}
	}
	return found
}

// FedBy are the circuits that a part brings energy to, or that hang on it as a supply
// in the end, in the order of the text.
func (p *Plant) FedBy(x *Part) []*Circuit {
	var all []*Circuit
	p.circuits(func(c *Circuit) {
		if slices.ContainsFunc(c.Energies(), func(s Energy) bool { return s.Part == x || s.Supply == x }) {
			all = append(all, c)
		}
	})
	return all
}

// Hung are the loops with circuits that FedBy has of a part, in the order of the
// text; all parts are looked through once.
func (p *Plant) Hung(x *Part) []*Loop {
	type hungOn struct{}
	return Once(p, hungOn{}, (*Plant).findHung)[x]
}

func (p *Plant) findHung() map[*Part][]*Loop {
	all := map[*Part][]*Loop{}
	p.circuits(func(c *Circuit) {
		for _, e := range c.Energies() {
			for _, x := range []*Part{e.Part, e.Supply} {
				if n := len(all[x]); x != nil && (n == 0 || all[x][n-1] != c.Loop) {
					all[x] = append(all[x], c.Loop)
				}
			}
		}
	})
	return all
}

// OnCircuit are the supplies that are fed from one distribution circuit, as the text
// names it.
func (p *Plant) OnCircuit(name string) []*Part {
	var all []*Part
	p.EachPart(func(x *Part) {
		if x.Supply != nil && x.Supply.Circuit == name {
			all = append(all, x)
		}
	})
	return all
}
