package material

import (
	"slices"

	"ringout/model"
	"ringout/model/compute"
)

// This file tells what brings energy to a circuit, where it is isolated, and what
// else goes dead there.

// Feeders are the parts that drive the current of the circuit, in walking order:
// supplies that it lands on or that feed a terminal of it, cards and isolators
// that power it; for a circuit of a segment those of all its circuits, which are in
// parallel. None for a sensor that only a card measures.
func Feeders(c *model.Circuit) []*model.Part {
	var all []*model.Part
	add := func(x *model.Part) {
		if !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	legs := c.FeedLegs()
	if c.Loop.Segment != nil {
		legs = nil
		for _, o := range c.Loop.Circuits {
			if !o.Broken {
				legs = append(legs, o.Legs...)
			}
		}
	}
	for _, l := range legs {
		for _, s := range l.Conductors {
			for _, t := range []*model.Terminal{s.Termination.In, s.Termination.Out} {
				switch {
				case t == nil || model.Origin(t).Role == 'E': // protective earth feeds nothing
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
	Part   *model.Part // supply, card, isolator or device with a supply of its own; nil where the text shows none
	Supply *model.Part // what it is fed from in the end, itself for a supply; nil where the text does not say
}

// Energies are all that bring energy to a circuit: what Feeders tells, a device that
// has a supply of its own, and for a circuit that brings power from nowhere yet, a
// source without a part. None for a sensor that only a card measures.
func Energies(c *model.Circuit) []Energy {
	var all []Energy
	add := func(x, supply *model.Part) {
		if s := (Energy{x, supply}); !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	for _, x := range Feeders(c) {
		switch {
		case x.Supply != nil:
			add(x, x)
		default:
			add(x, x.CardSupply())
		}
	}
	if d := c.Device(); d != nil && drivenBy(c, d) {
		supply := ownSupply(d)
		add(d, supply)
	}
	if c.Signal.Powers() && len(all) == 0 {
		add(nil, nil)
	}
	return all
}

// drivenBy reports whether the device drives the current of the circuit.
func drivenBy(c *model.Circuit, d *model.Part) bool {
	a, _ := compute.TerminalsOf(c, d)
	return a != nil && a.Nature() == model.Source
}

// ownSupply is the supply of the circuit that brings power to a device; nil where the
// text does not say.
func ownSupply(p *model.Part) *model.Part {
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
// leg of the circuit from what feeds it, nil for the system, in each the one nearest to
// that; all is false where a leg has none, and they part only some poles.
func Knives(c *model.Circuit, feeder *model.Part) (at []*model.Terminal, all bool) {
	all = len(c.Legs) > 0
	for _, l := range c.Legs {
		t := nearest(c, l, feeder, knifeOf(l))
		if t == nil {
			all = false
		} else if !slices.Contains(at, t) {
			at = append(at, t)
		}
	}
	return at, all
}

// knifeOf tells the terminals that open a leg by hand: with a fuse or a link in its way.
func knifeOf(l *model.Leg) func(*model.Terminal) bool {
	links := l.Links()
	return func(t *model.Terminal) bool {
		return (t.Kind == model.Fused || t.Kind == model.Disconnect) && slices.Contains(links, t)
	}
}

// FeedKnives are the terminals with a fuse or a link between the circuit and what feeds them,
// one in each leg of its own and in each that it borrows.
func FeedKnives(c *model.Circuit) (at []*model.Terminal) {
	for _, l := range c.FeedLegs() {
		if t := nearest(l.Circuit, l, nil, knifeOf(l)); t != nil && t.Fed != nil && !slices.Contains(at, t) {
			at = append(at, t)
		}
	}
	return at
}

// LiftedAt are the terminals of strips at which the cores of the circuit can be lifted
// nearest to what feeds it, nil for the system; those of the card, isolator or device
// where a leg has no strip.
func LiftedAt(c *model.Circuit, feeder *model.Part) (at []*model.Terminal) {
	for _, l := range c.Legs {
		t := nearest(c, l, feeder, func(t *model.Terminal) bool { return t.Part.Strip != nil })
		if t == nil {
			t = nearest(c, l, feeder, func(*model.Terminal) bool { return true })
		}
		if t != nil && !slices.Contains(at, t) {
			at = append(at, t)
		}
	}
	return at
}

// nearest is the terminal of a leg nearest to what feeds it that answers; nil for none. A
// device feeds from the field, an isolator the field from where it stands, all else from
// the system.
func nearest(c *model.Circuit, l *model.Leg, feeder *model.Part, is func(*model.Terminal) bool) (found *model.Terminal) {
	steps := slices.Clone(l.Conductors)
	if c.FromCard() {
		slices.Reverse(steps)
	}
	if at := slices.IndexFunc(steps, func(s model.LegConductor) bool { return feeder != nil && s.Station.Part == feeder }); at >= 0 && feeder.Kind.Isolates {
		steps = steps[:at+1]
	}
	for _, s := range steps {
		t := s.Termination.In
		if t != nil && t.Part.Kind.Isolates && !t.Part.FacesField(t) {
			t = s.Termination.Out
		}
		if t == nil || !is(t) {
			continue
		}
		if found = t; feeder != nil && feeder.Device != nil {
			return found
		}
	}
	return found
}

// DeadWith are the circuits that go dead where a circuit is parted: all whose current goes by
// the knives, or by its lifted cores.
func DeadWith(p *model.Plant, c *model.Circuit, knives []*model.Terminal) (all []*model.Circuit) {
	for _, t := range knives {
		all = append(all, t.Linked(p)...)
	}
	for _, l := range c.Legs {
		all = append(all, l.Borrowers(p)...)
	}
	return all
}

// FedBy are the circuits that a part brings energy to, or that hang on it as a supply
// in the end, in the order of the text.
func FedBy(p *model.Plant, x *model.Part) []*model.Circuit {
	var all []*model.Circuit
	p.EachCircuit(func(c *model.Circuit) {
		if slices.ContainsFunc(Energies(c), func(s Energy) bool { return s.Part == x || s.Supply == x }) {
			all = append(all, c)
		}
	})
	return all
}

// Hung are the loops with circuits that FedBy has of a part, in the order of the
// text; all parts are looked through once.
func Hung(p *model.Plant, x *model.Part) []*model.Loop {
	type hungOn struct{}
	return model.Once(p, hungOn{}, findHung)[x]
}

func findHung(p *model.Plant) map[*model.Part][]*model.Loop {
	all := map[*model.Part][]*model.Loop{}
	p.EachCircuit(func(c *model.Circuit) {
		for _, e := range Energies(c) {
			for _, x := range []*model.Part{e.Part, e.Supply} {
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
func OnCircuit(p *model.Plant, name string) []*model.Part {
	var all []*model.Part
	p.EachPart(func(x *model.Part) {
		if x.Supply != nil && x.Supply.Circuit == name {
			all = append(all, x)
		}
	})
	return all
}
