package model

import (
	"cmp"
	"fmt"
	"math/cmplx"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// This file holds feeds that are long enough to count: all that hangs on the far
// end of one flows in it, so that what one circuit is left with depends on the
// others.

// over reads what a feed runs over: "35 m of 2.5 mm2".
func (r *plantReader) over(f *Feed, item node, words []token) {
	part := func(ws []token, what string) node {
		y := yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Line: item.Line, Column: item.Column}
		for _, w := range ws {
			y.Value += " " + w.text
		}
		y.Value = strings.TrimSpace(y.Value)
		return node{&y, item.src, what}
	}
	of := slices.IndexFunc(words, func(w token) bool { return w.text == "of" })
	if of < 1 || of == len(words)-1 {
		r.report(item.wrong(BadFeed, "over what a feed runs, is a length and a size").hint("PS-21 - to X5 N1 over 35 m of 2.5 mm2"))
		return
	}
	length, _ := r.metres(part(words[:of], "the length of a feed"), 0.0001)
	size := part(words[of+1:], "the size of a feed")
	copper, err := ParseCopper(size.Value)
	if err != nil {
		r.report(size.wrong(BadConductor, "%v", err))
		return
	}
	if length > 0 {
		f.Over, f.Length, f.Copper = part(words[:of], "").Value+" of "+copper.String(), length, copper
	}
}

// Ohms are those of the wire of a feed, out only, at a temperature in °C; 0 where the
// text does not say over what it runs, and false where it does and the size has no
// standard value (OhmsPerKm).
func (f *Feed) Ohms(celsius float64) (float64, bool) {
	if f.Over == "" {
		return 0, true
	}
	perKm, _, ok := f.Copper.OhmsPerKm()
	return OhmsAt(perKm, celsius) * f.Length / 1000, ok
}

// Name is a feed in words: PS-21 − to MC-2/X5:N1.
func (f *Feed) Name() string { return f.Supply.Tag() + " to " + f.To.Tag() }

// Words are what a feed brings its strip, and over what: PS-21:- over 35 m of 2.5 mm².
func (f *Feed) Words() string {
	if f.Over == "" {
		return f.Supply.Tag()
	}
	return f.Supply.Tag() + " over " + f.Over
}

// flow is what flows in a feed from its far end to the supply, in mA, of AC by phase:
// more than nothing in a return.
type flow struct {
	all     complex128
	of      map[*Circuit]complex128
	cards   int
	unknown []*Circuit // that flow in it too, and cannot be computed
}

// beside is what flows in a feed besides one circuit.
func (f *flow) beside(c *Circuit) complex128 { return f.all - f.of[c] }

// flows are the flows in all feeds that run over something.
func (p *Plant) flows() map[*Feed]*flow {
	type flowsOf struct{}
	return Once(p, flowsOf{}, (*Plant).feedFlows)
}

// feedFlows are the flows in all feeds that run over something, every circuit at the
// most that it draws, by itself, and supplies and cards at their nominal volts.
func (p *Plant) feedFlows() map[*Feed]*flow {
	all := map[*Feed]*flow{}
	if !slices.ContainsFunc(p.Conductors, func(w *Conductor) bool { return w.Feed != nil && w.Feed.Over != "" }) {
		return all
	}
	in := func(f *Feed) *flow {
		if all[f] == nil {
			all[f] = &flow{of: map[*Circuit]complex128{}}
		}
		return all[f]
	}
	p.EachPart(func(x *Part) {
		if x.Card == nil || x.Card.From == nil || x.Card.Draws == 0 {
			return
		}
		if f := x.Card.From.Fed; f != nil && f.Over != "" {
			in(f).all -= complex(x.Card.Draws, 0)
			in(f).cards++
		}
	})
	p.circuits(func(c *Circuit) {
		st := p.fullest(c)
		st.alone = true
		s := p.compute(c, st)
		add := func(f *Feed, mA complex128) {
			if !s.solved {
				in(f).unknown = append(in(f).unknown, c)
			} else if cmplx.Abs(mA) > 1e-6 {
				in(f).of[c] += mA
				in(f).all += mA
			}
		}
		for _, f := range s.overs {
			in(f)
			far, _ := s.voltage(at(f.To, SystemSide))
			near, _ := s.voltage(at(f.Supply, FieldSide))
			ohms, _ := f.Ohms(s.copper())
			add(f, (far-near)/complex(ohms, 0)*1000)
		}
		for _, x := range c.fedCards() {
			if f := x.Card.From.Fed; f != nil && f.Over != "" {
				mA := s.gives(x)
				if c.Signal == AnalogOut {
					mA = complex(s.state.mA, 0)
				}
				add(f, -mA)
			}
		}
	})
	return all
}

// over adds the wire of a feed, with what others let flow in it where supplies are at
// their least.
func (s *sum) over(f *Feed) {
	if slices.Contains(s.overs, f) {
		return
	}
	s.overs = append(s.overs, f)
	ohms, ok := f.Ohms(s.copper())
	if !ok {
		s.askOhms("ohms of the feed %s over %s", f.Name(), f.Over)
		ohms = 1
	}
	s.index(at(f.To, FieldSide))
	far, near := at(f.To, SystemSide), at(f.Supply, FieldSide)
	s.element('R', far, near, ohms)
	if s.state.alone {
		return
	}
	flows := s.plant.flows()[f]
	if flows == nil {
		return
	}
	others := slices.DeleteFunc(slices.Clone(flows.unknown), func(c *Circuit) bool { return c == s.circuit })
	if len(others) > 0 {
		s.ask("what %s on the feed %s", drawn(others), f.Name())
	}
	if s.state.supply == least {
		s.phasor('I', near, far, flows.beside(s.circuit)/1000)
	}
}

// drawn tells in short which circuits draw: FT-1 and 3 more draw.
func drawn(circuits []*Circuit) string {
	if n := len(circuits) - 1; n > 0 {
		return fmt.Sprintf("%s and %d more draw", circuits[0].Name, n)
	}
	return circuits[0].Name + " draws"
}

// Share is a feed that circuits share.
type Share struct {
	Feed     *Feed
	MA       float64 // of all, each at the most that it draws; of AC RMS
	Circuits int
	Cards    int     // whose own draw is in it
	Drop     float64 // V along it with the copper at its hottest; of AC RMS
	Missing  []string
}

// Words tell what a feed carries, and what that costs: feed PS-21:- to MC-2/X5:N1 over
// 35 m of 2.5 mm² carries 176 mA of 8 circuits, 0.05 V.
func (s Share) Words() string {
	if len(s.Missing) > 0 {
		return fmt.Sprintf("feed %s over %s: NOT GIVEN: %s", s.Feed.Name(), s.Feed.Over, strings.Join(s.Missing, ", "))
	}
	d := Demand{Circuits: s.Circuits, Cards: s.Cards}
	return fmt.Sprintf("feed %s over %s carries %s mA of %s, %s V", s.Feed.Name(), s.Feed.Over, round(s.MA), d.Words(), decimal(s.Drop, 2))
}

// Shares are the feeds of a circuit that run over something, and what flows in them
// when all that hangs on them draws the most.
func (p *Plant) Shares(c *Circuit) (all []Share) {
	if len(p.flows()) == 0 || c.Broken {
		return nil
	}
	for _, f := range p.compute(c, state{alone: true}).overs {
		flows := p.flows()[f]
		ohms, ok := f.Ohms(p.Practice.HotCopper.Celsius)
		s := Share{Feed: f, MA: cmplx.Abs(flows.all), Circuits: len(flows.of), Cards: flows.cards}
		if s.Drop = s.MA / 1000 * ohms; !ok {
			s.Missing = append(s.Missing, "ohms of "+f.Copper.String())
		}
		if len(flows.unknown) > 0 {
			s.Missing = append(s.Missing, "what "+drawn(flows.unknown))
		}
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b Share) int { return cmp.Compare(a.Feed.Name(), b.Feed.Name()) })
	return all
}
