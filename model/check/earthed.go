package check

import (
	"cmp"
	"fmt"
	"slices"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// inField reports whether an earth is at a device in no place.
func inField(e compute.Earthing) bool { return e.Part.Device != nil && e.Part.Place == nil }

// somewhere reports whether an earth is the earthed pole of a supply of which no bar is
// given: the practice gives that there is an earth, and not where.
func somewhere(e compute.Earthing) bool { return e.Part.Supply != nil && e.Bar == nil }

// apart reports whether two earths are sure to be at different places. Bars of one place
// are one earth, and devices mounted on each other one place.
func apart(e compute.Earthing, o compute.Earthing) bool {
	switch {
	case inField(e) && inField(o):
		return carrier(e.Part) != carrier(o.Part)
	case inField(e) || inField(o):
		return true
	}
	return !somewhere(e) && !somewhere(o) && e.Part.Place != o.Part.Place
}

// carrier is the device that this one is mounted on in the end, itself for none.
func carrier(p *model.Part) *model.Part {
	for seen := []*model.Part{p}; p.Device.On != nil && !slices.Contains(seen, p.Device.On); seen = append(seen, p) {
		p = p.Device.On
	}
	return p
}

// checkEarthedTwice: is what is joined by copper, over all circuits that share a supply,
// a common or the minus of a card, on earth at more than one place? A circuit floats or
// is earthed at one point: else what drives the two earths apart drives a current
// through its minus, or the reading of an earthed thermocouple off. Of intrinsically
// safe circuits IEC 60079-14 asks it (clause on the earthing of intrinsically safe
// circuits, 16.2.3 of edition 5 from memory): isolated from earth, or on it at one
// point; 0.2 to 1 MΩ to earth against static counts as isolated there. Elsewhere it is
// common practice. An isolator parts what is joined, and so does a card whose channels
// each stand alone. What is not given joins nothing and earths nothing.
func checkEarthedTwice(p *model.Plant, found func(finding.Finding)) {
	var all []compute.Earthing
	p.EachCircuit(func(c *model.Circuit) {
		earths, _ := compute.Earths(p, c)
		all = append(all, earths...)
	})
	slices.SortStableFunc(all, func(a, b compute.Earthing) int { return cmp.Compare(rank(a), rank(b)) })
	if !slices.ContainsFunc(all, func(e compute.Earthing) bool { return apart(e, all[0]) }) {
		return
	}
	nets := joinedCopper(p)
	byNet := map[any][]compute.Earthing{}
	var order []any
	for _, e := range all {
		root := nets.root(e.At)
		if byNet[root] == nil {
			order = append(order, root)
		}
		byNet[root] = append(byNet[root], e)
	}
	for _, root := range order {
		twice(byNet[root], found)
	}
}

// rank puts the earths of bars first, and those of the field last: they are what can be
// changed.
func rank(e compute.Earthing) int {
	switch {
	case inField(e):
		return 2
	case somewhere(e):
		return 1
	}
	return 0
}

// twice reports each earth of a net, by rank, that is apart from all before it.
func twice(earths []compute.Earthing, found func(finding.Finding)) {
	var kept []compute.Earthing
	for _, e := range earths {
		if !slices.ContainsFunc(kept, func(k compute.Earthing) bool { return !apart(e, k) }) {
			kept = append(kept, e)
		}
	}
	for i := 1; i < len(kept); i++ {
		home, e := kept[0], kept[i]
		by := ""
		if home.Circuit != e.Circuit && home.Part.Supply == nil {
			by = fmt.Sprintf(", in circuit %q", home.Circuit.Name)
		}
		pr := finding.At(e.Pos, finding.EarthedTwice, "circuit %q is earthed at two places: %s; and %s%s", e.Circuit.Name, e.Words, home.Words, by)
		pr = pr.WithAlso(home.Pos, "the other earth, %s", home.Words)
		pr.Hint = finding.Do(`wire it through a galvanic isolator, or give what is isolated: "minus: own" of a card, "earthed: none" of a device`)
		if !e.Circuit.IntrinsicallySafe() || !inField(e) {
			pr = pr.Warning()
		}
		found(pr)
	}
}

// coppers are the nets of all that hangs together by copper.
type coppers struct{ parent map[any]any }

func (n coppers) root(x any) any {
	for {
		up, ok := n.parent[x]
		if !ok || up == x {
			return x
		}
		if over, ok := n.parent[up]; ok {
			n.parent[x] = over
		}
		x = up
	}
}

func (n coppers) join(a, b any) {
	if a, b := n.root(a), n.root(b); a != b {
		n.parent[b] = a
	}
}

// joinedCopper joins what conducts in all DC circuits: cores, wires, jumpers, closed terminals,
// and all that lies between the terminals of a part that a circuit lands on. A supply
// is one, and so are the legs on either side of an isolator.
func joinedCopper(p *model.Plant) coppers {
	n := coppers{map[any]any{}}
	p.EachCircuit(func(c *model.Circuit) {
		if compute.AC(c) || c.Signal == model.Power {
			return
		}
		for _, w := range c.Conductors(p) {
			if !w.Screen && w.From.Terminal != nil && w.To.Terminal != nil {
				n.join(w.From.Terminal, w.To.Terminal)
			}
		}
		for _, st := range c.Stations() {
			n.station(st)
		}
	})
	return n
}

// station joins what a circuit lands on at a part.
func (n coppers) station(st *model.Station) {
	part := st.Part
	var in, out *model.Terminal
	for _, termination := range st.Terminations {
		if termination.Does != model.Lands || termination.In == nil || termination.In.Role == 'E' {
			continue
		}
		for _, t := range []*model.Terminal{termination.In, termination.Out} {
			if t == nil {
				continue
			}
			if t.Joined != nil {
				for _, j := range t.Joined {
					n.join(t, j)
				}
			}
			if s := model.Origin(t); s.Part.Supply != nil && !s.Part.Supply.AC {
				for _, pole := range s.Part.Terminals {
					n.join(pole, t)
				}
			}
		}
		if part.Strip != nil || part.Kind.Bar {
			n.join(termination.In, termination.Out)
			continue
		}
		if in == nil {
			in, out = termination.In, termination.Out
		}
		n.join(in, termination.In)
		n.join(out, termination.Out)
		if !part.Kind.Isolates {
			n.join(in, termination.Out)
		}
	}
	if part.Card != nil && in != nil {
		n.channel(st, in)
	}
}

// channel joins the poles of a channel, and by its minus what it shares with others.
func (n coppers) channel(st *model.Station, t *model.Terminal) {
	card := st.Part.Card
	poles := st.Part.MeasureAt(st.Channel)
	for _, pole := range poles {
		n.join(pole, t)
	}
	switch m := st.Part.CommonOf(st.Channel); {
	case m != nil && m.Fed != nil && !m.Fed.Supply.Part.Supply.AC:
		for _, pole := range m.Fed.Supply.Part.Terminals {
			n.join(pole, t)
		}
	case m != nil:
	case card.Minus == model.SupplyMinus && st.Part.CardSupply() != nil && !st.Part.CardSupply().Supply.AC:
		for _, pole := range st.Part.CardSupply().Terminals {
			n.join(pole, t)
		}
	}
	if card.Minus == model.SharedMinus || card.Minus == model.SupplyMinus || card.Minus == model.EarthMinus {
		n.join(st.Part, t)
	}
}
