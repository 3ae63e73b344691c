package material

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/read"
	"ringout/samples"
)

// TestIsolation: where the circuits of tern-island are parted from what feeds
// them, and what that is, told by hand from its text.
func TestIsolation(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	tagsOf := func(c *model.Circuit) (at, by []string) {
		knives, _ := Knives(c, nil)
		for _, x := range knives {
			at = append(at, x.Tag())
		}
		for _, x := range Energies(c) {
			words := x.Part.Tag
			if x.Supply != nil && x.Supply != x.Part {
				words += " on " + x.Supply.Tag
			}
			by = append(by, words)
		}
		return at, by
	}
	want := map[string]string{
		"FT-2107":        " < AI-1-03",
		"FY-2112":        " < AO-1-05",
		"TE-2203":        " < ", // a card that only measures
		"LSL-2220":       "MC-2/X5:F1 < PS-21",
		"LSH-2320":       "MC-2/X5:F3 MC-2/X2:2 < PS-21", // the fuse in one leg, the knife of X2 in the other
		"AT-2301":        " < AT-2301 on AC-21",          // the device drives it
		"AT-2301 supply": "MC-2/X7:L1 < AC-21",
		"LT-2330":        " < AI-2-05 on PS-21", // a barrier feeds nothing
	}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if w, ok := want[c.Name]; ok {
				at, by := tagsOf(c)
				if got := strings.Join(at, " ") + " < " + strings.Join(by, " "); got != w {
					t.Errorf("%s is parted at and fed by %q, not %q", c.Name, got, w)
				}
				delete(want, c.Name)
			}
		}
	}
	for name := range want {
		t.Errorf("no circuit is named %s", name)
	}
	var fed []string
	for _, c := range FedBy(p, p.Part("PS-21")) {
		fed = append(fed, c.Name)
	}
	if want := []string{"LSL-2220", "PSH-2221", "XY-2225", "LSH-2320", "FSL-2321", "LT-2330"}; !slices.Equal(fed, want) {
		t.Errorf("PS-21 feeds %v, not %v", fed, want)
	}
}

// TestIsolatedAtKnives: where a card feeds the circuit, it is parted at the knives
// nearest to the card, whichever way the walk goes; an isolator feeds its device.
func TestIsolatedAtKnives(t *testing.T) {
	t.Parallel()
	for _, walk := range []string{
		"[FT + -, W, JB/X1 1 2, V, MC/X1 1 2, wires, I, wires, AI channel 1]",
		"[AI channel 1, wires, I 3 4, wires, MC/X1 1 2, V, JB/X1 1 2, W, FT + -]",
	} {
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(`
plant: P
cable types: {pair: {pairs: 1, conductor: 1 mm2, screen: none}}
boxes: {JB: {strips: {X1: {terminals: [1..2 disconnect]}}}}
cabinets:
  MC:
    strips: {X1: {terminals: [1..2 disconnect]}}
    isolators: {I: {}}
    cards: {AI: {kind: AI, power: card, channels: 1}}
cables: {W: {type: pair, from: FT, to: JB}, V: {type: pair, from: JB, to: MC}}
loops: {L: {service: s, devices: {FT: {kind: transmitter}}, circuits: {FT: ` + walk + `}}}
`)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		c := p.Loops[0].Circuits[0]
		var at, by []string
		knives, all := Knives(c, nil)
		for _, x := range knives {
			at = append(at, x.Tag())
		}
		for _, x := range Feeders(c) {
			by = append(by, x.Tag)
		}
		slices.Sort(by)
		if !all || !slices.Equal(at, []string{"MC/X1:1", "MC/X1:2"}) || !slices.Equal(by, []string{"AI", "I"}) {
			t.Errorf("%s is parted at %v and fed by %v", walk, at, by)
		}
	}
}

// TestFedBy: what hangs on a supply is what its current reaches over the copper: from
// its poles by way of feeds, jumpers, cores and wires, through terminals and barriers,
// into the channels of cards that it feeds, and through devices to the circuits that
// they drive.
func TestFedBy(t *testing.T) {
	t.Parallel()
	n := 0
	for _, p := range fedPlants(t) {
		p.EachPart(func(x *model.Part) {
			if x.Supply == nil {
				return
			}
			reached := reachedFrom(p, x)
			fed := map[*model.Circuit]bool{}
			for _, c := range FedBy(p, x) {
				fed[c] = true
				n++
			}
			p.EachCircuit(func(c *model.Circuit) {
				if reached[c] != fed[c] {
					t.Errorf("%s feeds %s: %t, but its current reaches it: %t", x.Tag, c.Name, fed[c], reached[c])
				}
			})
		})
	}
	if n < 100 {
		t.Errorf("supplies feed %d circuits", n)
	}
}

// reachedFrom walks the copper from the poles of a supply.
func reachedFrom(p *model.Plant, x *model.Part) map[*model.Circuit]bool {
	circuits, seen := map[*model.Circuit]bool{}, map[*model.Terminal]bool{}
	var walk func(t *model.Terminal)
	walk = func(t *model.Terminal) {
		if t == nil || seen[t] || t.Role == 'E' || t.Part.Kind.Bar {
			return
		}
		seen[t] = true
		for _, j := range t.Joined {
			walk(j)
		}
		if t.CommonAt() != nil { // its channels take their current back by it
			for _, own := range t.Part.Terminals {
				walk(own)
			}
		}
		if t.Part.Barrier != nil && !t.Part.Kind.Isolates || t.Part.Strip != nil {
			walk(t.Part.Through[t])
		}
		for _, u := range t.Ends {
			w := u.Conductor
			if w.Screen || w.Circuit == nil && w.Core != nil {
				continue
			}
			if w.Circuit != nil {
				circuits[w.Circuit] = true
			}
			walk(w.From.Terminal)
			walk(w.To.Terminal)
		}
		p.EachPart(func(card *model.Part) {
			if card.Card != nil && card.Card.Powers && card.Card.From != nil && (card.Card.From == t || card.Card.From.Part == t.Part && t.Part.Supply != nil) {
				for _, own := range card.Terminals {
					walk(own)
				}
			}
		})
	}
	for _, t := range x.Terminals {
		walk(t)
	}
	p.EachCircuit(func(c *model.Circuit) { // a device that lives goes on to drive
		if d := c.Device(); circuits[c] && c.Signal.Powers() && d != nil {
			for _, o := range d.Device.Loop.Circuits {
				if a, _ := compute.TerminalsOf(o, d); a != nil && a.Nature() == model.Source {
					circuits[o] = true
				}
			}
		}
	})
	return circuits
}

// TestLinked: a circuit is dead with a fuse or link open if a leg of it then no longer leads
// over the copper to the pole, the channel or the common that it led to. The copper is walked
// here, over ends of conductors, jumpers and parts, and no leg of one circuit to that of another.
func TestLinked(t *testing.T) {
	t.Parallel()
	shared := 0
	cold, _, _ := read.Read(os.DirFS("../../samples"), "cold-store")
	creek, _, _ := read.Read(os.DirFS("../../samples"), "wren-creek")
	for _, p := range append(fedPlants(t), cold, creek) {
		whole := copperOf(p)
		p.EachTerminal(func(x *model.Terminal) {
			if x.Kind != model.Fused && x.Kind != model.Disconnect {
				return
			}
			linked := x.Linked(p)
			if len(linked) > 1 {
				shared++
			}
			p.EachCircuit(func(c *model.Circuit) {
				if c.Seals() != nil || c.Loop.Segment != nil {
					return // a seal is fed by what it seals, a segment by all its pieces
				}
				if got, want := slices.Contains(linked, c), whole.partsCircuit(c, x); got != want {
					t.Errorf("with %s open, %s is dead: %t; by the copper: %t", x.Tag(), c.Name, got, want)
				}
			})
		})
	}
	if shared < 5 {
		t.Errorf("%d links are shared", shared)
	}
}

// side is one side of a terminal. Those of one without a break are one point: its field side.
type side struct {
	at   *model.Terminal
	side model.Side
}

func sideOf(t *model.Terminal, s model.Side) side {
	if !t.HasBreak() {
		s = model.FieldSide
	}
	return side{t, s}
}

// wires are which sides of terminals copper joins, the links of terminals left out.
type wires map[side][]side

func copperOf(p *model.Plant) wires {
	all := wires{}
	join := func(a, b side) { all[a], all[b] = append(all[a], b), append(all[b], a) }
	for _, w := range p.Conductors {
		if w.From.Terminal != nil && w.To.Terminal != nil && !w.Screen {
			join(sideOf(w.From.Terminal, w.From.Side), sideOf(w.To.Terminal, w.To.Side))
		}
	}
	p.EachTerminal(func(t *model.Terminal) {
		for _, o := range t.Joined { // on the side of the system, where feeds land
			join(sideOf(t, model.SystemSide), sideOf(o, model.SystemSide))
		}
	})
	p.EachCircuit(func(c *model.Circuit) {
		for _, st := range c.Stations() {
			for _, at := range st.Terminations {
				if at.In != nil && at.Out != at.In {
					join(sideOf(at.In, c.ArrivalSide()), sideOf(at.Out, c.DepartureSide()))
				}
			}
		}
	})
	return all
}

// partsCircuit reports whether a leg of a circuit no longer leads to its pole, channel or common
// with a link open. One that ends on an instrument leads on to a supply if it brings power.
func (g wires) partsCircuit(c *model.Circuit, open *model.Terminal) bool {
	return slices.ContainsFunc(c.Legs, func(l *model.Leg) bool {
		begin, end := l.Begin(), model.Origin(l.End())
		if begin == nil || end == nil {
			return false
		}
		there := func(t *model.Terminal) bool {
			return t == end && (end.Part.Device == nil || !c.Signal.Powers()) || end.Part.Device != nil && t.Part.Supply != nil
		}
		from := sideOf(begin, c.DepartureSide())
		return g.leads(from, nil, there) && !g.leads(from, open, there)
	})
}

// leads reports whether copper leads from a side of a terminal to another, and not through other
// poles of supplies.
func (g wires) leads(from side, open *model.Terminal, there func(*model.Terminal) bool) bool {
	seen := map[side]bool{}
	var walk func(s side) bool
	walk = func(s side) bool {
		if seen[s] {
			return false
		}
		seen[s] = true
		if there(s.at) {
			return true
		}
		if s.at.Part.Supply != nil && s != from {
			return false
		}
		if s.at.HasBreak() && s.at != open && walk(side{s.at, 1 - s.side}) {
			return true
		}
		return slices.ContainsFunc(g[s], walk)
	}
	return walk(from)
}

// fedPlants are the sample, plants of the tests, and random ones.
func fedPlants(t *testing.T) []*model.Plant {
	sample, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	all := []*model.Plant{sample}
	add := func(text []byte) {
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: text}}, "p.yaml")
		all = append(all, p)
	}
	for _, name := range []string{"fourwire.yaml", "common.yaml", "threewire.yaml", "housing.yaml", "ac.yaml"} {
		text, err := os.ReadFile("../modeltest/testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		add(text)
	}
	for seed := range uint64(12) {
		add([]byte(samples.Random(seed, 12)))
	}
	return all
}
