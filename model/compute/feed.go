package compute

import (
	"cmp"
	"fmt"
	"math/cmplx"
	"slices"
	"strings"

	"ringout/model"
)

// This file holds feeds that are long enough to count: all that hangs on the far
// end of one flows in it, so that what one circuit is left with depends on the
// others.

// flow is what flows in a feed from its far end to the supply, in mA, of AC by phase:
// more than nothing in a return.
type flow struct {
	all     complex128
	of      map[*model.Circuit]complex128
	cards   int
	unknown []*model.Circuit // that flow in it too, and cannot be computed
}

// beside is what flows in a feed besides one circuit.
func (f *flow) beside(c *model.Circuit) complex128 { return f.all - f.of[c] }

// flows are the flows in all feeds that run over something.
func flows(p *model.Plant) map[*model.Feed]*flow {
	type flowsOf struct{}
	return model.Once(p, flowsOf{}, feedFlows)
}

// feedFlows are the flows in all feeds that run over something, every circuit at the
// most that it draws, by itself, and supplies and cards at their nominal volts.
func feedFlows(p *model.Plant) map[*model.Feed]*flow {
	all := map[*model.Feed]*flow{}
	counts := slices.ContainsFunc(p.Conductors, func(w *model.Conductor) bool { return w.Feed != nil && w.Feed.Over != "" })
	p.EachCircuit(func(c *model.Circuit) { counts = counts || c.Common() })
	if !counts {
		return all
	}
	in := func(f *model.Feed) *flow {
		if all[f] == nil {
			all[f] = &flow{of: map[*model.Circuit]complex128{}}
		}
		return all[f]
	}
	p.EachPart(func(x *model.Part) {
		if x.Card == nil || x.Card.From == nil || x.Card.Draws == 0 {
			return
		}
		if f := x.Card.From.Fed; f != nil && f.Counts() {
			in(f).all -= complex(x.Card.Draws, 0)
			in(f).cards++
		}
	})
	p.EachCircuit(func(c *model.Circuit) {
		st := fullest(p, c)
		st.alone = true
		s := compute(p, c, st)
		add := func(f *model.Feed, mA complex128) {
			if !s.Solved {
				in(f).unknown = append(in(f).unknown, c)
			} else if cmplx.Abs(mA) > 1e-6 {
				in(f).of[c] += mA
				in(f).all += mA
			}
		}
		for _, f := range s.overs {
			in(f)
			add(f, s.carries(f))
		}
		for _, x := range c.FedCards() {
			if f := x.Card.From.Fed; f != nil && f.Counts() {
				mA := s.gives(x)
				if c.Signal == model.AnalogOut {
					mA = complex(s.state.mA, 0)
				}
				add(f, -mA)
			}
		}
	})
	return all
}

// stretch is one wire or core of a feed, from its far side.
type stretch struct {
	far, near post
	ohms      float64
	lacks     string // what its ohms lack
}

// stretches are those of a feed: its wire, or the conductors of common cores.
func (s *solver) stretches(f *model.Feed) (all []stretch) {
	if f.Leg == nil {
		x := stretch{far: at(f.To, model.SystemSide), near: at(f.Supply, model.FieldSide)}
		ohms, ok := f.Ohms(s.copper())
		if x.ohms = ohms; !ok {
			x.ohms, x.lacks = 1, fmt.Sprintf("ohms of the feed %s over %s", f.Name(), f.Over)
		}
		return []stretch{x}
	}
	for _, l := range f.Leg.Conductors {
		if w := l.Conductor; w != nil {
			x := stretch{far: at(w.From.Terminal, w.From.Side), near: at(w.To.Terminal, w.To.Side)}
			if w.Core != nil {
				x.ohms, x.lacks = ohmsOr(w.Core.Cable, s.copper())
			}
			all = append(all, x)
		}
	}
	return all
}

// carries is what flows in a feed from its far end, in mA: by the volts along the first
// stretch that has a resistance.
func (s *solver) carries(f *model.Feed) complex128 {
	for _, x := range s.stretches(f) {
		if x.ohms > 0 {
			far, _ := s.voltage(x.far)
			near, _ := s.voltage(x.near)
			return (far - near) / complex(x.ohms, 0) * 1000
		}
	}
	return 0
}

// over adds the wire or the cores of a feed, with what others let flow in it where supplies
// are at their least.
func (s *solver) over(f *model.Feed) {
	if slices.Contains(s.overs, f) || f.Leg != nil && f.Leg.Circuit == s.circuit {
		return
	}
	s.overs = append(s.overs, f)
	s.index(at(f.To, model.FieldSide))
	all := s.stretches(f)
	for _, x := range all {
		if x.lacks != "" {
			s.askOhms("%s", x.lacks)
		}
		s.element('R', x.far, x.near, x.ohms)
	}
	if f.Leg != nil {
		for _, l := range f.Leg.Conductors {
			s.feed(l.Termination.In)
			if x := l.Termination.In.Part; x.Supply != nil {
				s.supply(x)
			}
		}
	}
	if s.state.alone {
		return
	}
	flows := flows(s.plant)[f]
	if flows == nil {
		return
	}
	others := slices.DeleteFunc(slices.Clone(flows.unknown), func(c *model.Circuit) bool { return c == s.circuit })
	if len(others) > 0 {
		s.ask("what %s on the feed %s", drawn(others), f.Name())
	}
	if s.state.supply == model.Least {
		s.phasor('I', all[len(all)-1].near, all[0].far, flows.beside(s.circuit)/1000)
	}
}

// drawn tells in short which circuits draw: FT-1 and 3 more draw.
func drawn(circuits []*model.Circuit) string {
	if n := len(circuits) - 1; n > 0 {
		return fmt.Sprintf("%s and %d more draw", circuits[0].Name, n)
	}
	return circuits[0].Name + " draws"
}

// Share is a feed that circuits share.
type Share struct {
	Feed     *model.Feed
	MA       float64 // of all, each at the most that it draws; of AC RMS
	Circuits int
	Cards    int     // whose own draw is in it
	Drop     float64 // V along it with the copper at its hottest; of AC RMS
	Missing  []string
}

// Words returns what a feed carries, and what that costs: feed PS-21:- to MC-2/X5:N1 over
// 35 m of 2.5 mm² carries 176 mA of 8 circuits, 0.05 V.
func (s Share) Words() string {
	if len(s.Missing) > 0 {
		return fmt.Sprintf("feed %s over %s: NOT GIVEN: %s", s.Feed.Name(), s.Feed.Way(), strings.Join(s.Missing, ", "))
	}
	d := Demand{Circuits: s.Circuits, Cards: s.Cards}
	return fmt.Sprintf("feed %s over %s carries %s mA of %s, %s V", s.Feed.Name(), s.Feed.Way(), model.Round(s.MA), d.Words(), decimal(s.Drop, 2))
}

// Shares are the feeds of a circuit that run over something, and what flows in them
// when all that hangs on them draws the most.
func Shares(p *model.Plant, c *model.Circuit) (all []Share) {
	if len(flows(p)) == 0 || c.Broken {
		return nil
	}
	hot := compute(p, c, state{alone: true, hot: true})
	for _, f := range hot.overs {
		flows := flows(p)[f]
		if flows == nil || !f.Counts() {
			continue // wires of a place alone
		}
		s := Share{Feed: f, MA: cmplx.Abs(flows.all), Circuits: len(flows.of), Cards: flows.cards}
		for _, x := range hot.stretches(f) {
			if s.Drop += s.MA / 1000 * x.ohms; x.lacks != "" {
				s.Missing = append(s.Missing, x.lacks)
			}
		}
		if len(flows.unknown) > 0 {
			s.Missing = append(s.Missing, "what "+drawn(flows.unknown))
		}
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b Share) int { return cmp.Compare(a.Feed.Name(), b.Feed.Name()) })
	return all
}
