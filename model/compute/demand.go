package compute

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// Demand is what hangs on a supply, or on a fused terminal that circuits or cards
// are fed through.
type Demand struct {
	Supply   *model.Part
	Fuse     *model.Terminal // nil for a supply
	MA       float64         // that is known of, in mA; of AC RMS
	Circuits int             // counted in it
	Cards    int             // whose own draw is counted in it
	Couplers int             // likewise
	Unknown  int             // circuits besides, which cannot be computed
	Most     float64         // mA that it may be; 0 where that is not given

	sum complex128 // mA, of AC by phase
}

// Words are what hangs on it: 2 circuits and 1 card.
func (l *Demand) Words() string {
	var all []string
	for _, x := range []struct {
		n    int
		what string
	}{{l.Circuits, "circuit"}, {l.Cards, "card"}, {l.Couplers, "coupler"}} {
		if x.n > 0 {
			all = append(all, finding.Count(x.n, x.what))
		}
	}
	if len(all) == 0 {
		return finding.Count(0, "circuit")
	}
	return strings.Join(all, " and ")
}

// Sum is the load in words: load 128.4 mA of 10 A, 8 circuits; what cannot be
// computed is told.
func (l *Demand) Sum() string {
	amps := func(mA float64) string {
		if mA >= 1000 {
			return model.Plain(math.Round(mA)/1000) + " A"
		}
		return model.Plain(math.Round(mA*10)/10) + " mA"
	}
	of := "limit NOT GIVEN"
	if l.Most > 0 {
		of = "of " + amps(l.Most)
	}
	words := "load " + amps(l.MA) + " " + of + ", " + l.Words()
	if l.Unknown > 0 {
		words += fmt.Sprintf(", %d more NOT GIVEN", l.Unknown)
	}
	return words
}

// demands gathers the demands of a plant.
type demands struct {
	plant *model.Plant
	all   []*Demand
	on    map[any]*Demand // by the supply or the fused terminal
}

// Demands are those on all supplies in the order of the text, then those of fuses as
// they are come to. Each circuit counts at the most that it draws, its supplies and
// cards at their nominal volts, a coil of AC once it has pulled in, on what gives its
// current: a supply, or what feeds the card that powers it.
func Demands(p *model.Plant) []*Demand {
	ds := &demands{plant: p, on: map[any]*Demand{}}
	p.EachPart(func(x *model.Part) {
		if x.Supply != nil {
			ds.on[x] = &Demand{Supply: x, Most: x.Supply.Limit}
			ds.all = append(ds.all, ds.on[x])
		}
	})
	p.EachPart(func(x *model.Part) {
		if c := x.Card; c != nil && c.From != nil && c.Draws > 0 {
			ds.through(c.From, func(l *Demand) { l.sum += complex(c.Draws, 0); l.Cards++ })
		}
	})
	p.EachCircuit(ds.circuit)
	for _, l := range p.Loops {
		ds.segment(l)
	}
	for _, l := range ds.all {
		l.MA = cmplx.Abs(l.sum)
	}
	return ds.all
}

// FuseDemands are those on the fused terminals that a circuit goes through, in their order.
func FuseDemands(p *model.Plant, c *model.Circuit) (all []*Demand) {
	type demandsOf struct{}
	on := model.Once(p, demandsOf{}, func(p *model.Plant) map[*model.Terminal]*Demand {
		found := map[*model.Terminal]*Demand{}
		for _, d := range Demands(p) {
			if d.Fuse != nil {
				found[d.Fuse] = d
			}
		}
		return found
	})
	for _, t := range fuses(c) {
		if d := on[t]; d != nil {
			all = append(all, d)
		}
	}
	return all
}

// put counts something on a supply, by one of its terminals, or on a fuse.
func (ds *demands) put(t *model.Terminal, count func(*Demand)) {
	l := ds.on[t.Part]
	if t.Part.Supply == nil {
		if l = ds.on[t]; l == nil && t.Fuse.Given() {
			l = &Demand{Fuse: t, Most: t.Fuse.Amps * 1000}
			ds.on[t], ds.all = l, append(ds.all, l)
		}
	}
	if l != nil {
		count(l)
	}
}

// through counts something on what feeds t, and on the fuse in t.
func (ds *demands) through(t *model.Terminal, count func(*Demand)) {
	if ds.put(model.Origin(t), count); model.Origin(t) != t {
		ds.put(t, count)
	}
}

// circuit counts what one circuit draws.
func (ds *demands) circuit(c *model.Circuit) {
	if c.Loop.Segment != nil || c.Common() { // what ends on common cores counts itself
		return
	}
	fuses, cards := fuses(c), c.FedCards()
	if len(cards)+len(fuses) == 0 && c.Supply() == nil {
		return
	}
	s := FullOn(ds.plant, c)
	known := s.Solved && (c.Device() != nil || c.Signal != model.AnalogIn && c.Signal != model.AnalogOut)
	add := func(mA complex128) func(*Demand) {
		return func(l *Demand) {
			if !known {
				l.Unknown++
			} else if cmplx.Abs(mA) > 1e-6 {
				l.sum += mA
				l.Circuits++
			}
		}
	}
	var most complex128 // of all that drive it
	for _, x := range s.sources {
		if cmplx.Abs(x.mA) > cmplx.Abs(most) {
			most = s.gives(x.part)
		}
	}
	for _, x := range s.fed {
		ds.put(x.Terminals[0], add(s.gives(x)))
	}
	if supply := c.Supply(); supply != nil && !slices.Contains(s.fed, supply) {
		known = false
		ds.put(supply.Terminals[0], add(0))
	}
	for _, x := range cards {
		mA := s.gives(x)
		if c.Signal == model.AnalogOut {
			mA = complex(s.state.mA, 0)
		}
		ds.through(x.Card.From, add(mA))
	}
	for _, t := range fuses {
		ds.put(t, add(most))
	}
}

// segment counts what the devices and couplers of a segment draw together on the supply
// that it lands on.
func (ds *demands) segment(l *model.Loop) {
	i := slices.IndexFunc(l.Circuits, func(c *model.Circuit) bool { return !c.Broken && c.Supply() != nil })
	if l.Segment == nil || !l.Segment.Kind.Powered || i < 0 {
		return
	}
	draws := func(mA float64, counted func(on *Demand)) {
		ds.put(l.Circuits[i].Supply().Terminals[0], func(on *Demand) {
			if on.sum += complex(mA, 0); mA > 0 {
				counted(on)
			} else {
				on.Unknown++
			}
		})
	}
	for _, d := range l.Devices {
		if d.Kind.Signal == l.Segment.Kind.Signal {
			draws(l.Segment.Draws(d.Device), func(on *Demand) { on.Circuits++ })
		}
	}
	for _, c := range l.Couplers() {
		draws(c.Coupler.Draws, func(on *Demand) { on.Couplers++ })
	}
}

// gives is what a supply or card gives in mA: of DC however it is poled, of AC with
// its phase.
func (s *solver) gives(part *model.Part) (mA complex128) {
	for _, x := range s.sources {
		if x.part == part {
			mA += x.mA
		}
	}
	if s.ac {
		return mA
	}
	return complex(cmplx.Abs(mA), 0)
}
