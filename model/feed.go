package model

import (
	"slices"
	"strings"

	"ringout/model/copper"
	"ringout/model/finding"
)

// Feed is what joins a terminal to what feeds it: a fixed wire from a supply, or from the
// common of a card that gives its own current; or a leg of a circuit of common cores.
type Feed struct {
	Pos    finding.Pos
	Supply *Terminal // where it comes from in the end
	To     *Terminal
	Wire   *Conductor // nil where a leg is the way
	Leg    *Leg       // of common cores; nil for a fixed wire
	Over   string     // length and size of its wire, as written; "" where they do not count
	Length float64    // m
	Copper copper.Size
}

// Counts reports whether a feed has a resistance that counts: the text says over what it
// runs, or it has cores.
func (f *Feed) Counts() bool { return f.Over != "" || len(f.Cores()) > 0 }

// Cores are the cores of cables that common cores are made of, from the far end.
func (f *Feed) Cores() (all []*Core) {
	if f.Leg == nil {
		return nil
	}
	for _, x := range f.Leg.Conductors {
		if w := x.Conductor; w != nil && w.Core != nil {
			all = append(all, w.Core)
		}
	}
	return all
}

// Ohms are those of the fixed wire of a feed, out only, at a temperature in °C; 0 where the
// text does not say over what it runs, and false where it does and the size has no
// standard value (OhmsPerKm).
func (f *Feed) Ohms(celsius float64) (float64, bool) {
	if f.Over == "" {
		return 0, true
	}
	perKm, _, ok := f.Copper.OhmsPerKm()
	return copper.OhmsAt(perKm, celsius) * f.Length / 1000, ok
}

// Name is a feed in words: PS-21 − to MC-2/X5:N1.
func (f *Feed) Name() string { return f.Supply.Tag() + " to " + f.To.Tag() }

// Words are what a feed brings its strip, and over what: PS-21:- over 35 m of 2.5 mm².
func (f *Feed) Words() string {
	if way := f.Way(); way != "" {
		return f.Supply.Tag() + " over " + way
	}
	return f.Supply.Tag()
}

// Way is over what a feed runs: 35 m of 2.5 mm², or W-21 core 7; "" where that does not
// count.
func (f *Feed) Way() string {
	var names []string
	for _, c := range f.Cores() {
		names = append(names, c.Name())
	}
	if len(names) > 0 {
		return strings.Join(names, ", ")
	}
	return f.Over
}

// Common reports whether the circuit is one of common cores: it begins on a strip and
// brings there what feeds its far end, for the legs of other circuits to end on.
func (c *Circuit) Common() bool { return c.Signal == CommonCores }

// joins reports whether a circuit joins strips, plugs, supplies and commons of cards alone,
// from a strip on.
func (c *Circuit) joins() bool {
	stations := c.Stations()
	if c.Loop.Segment != nil || len(stations) < 2 || stations[0].Part.Strip == nil {
		return false
	}
	for _, st := range stations {
		if p := st.Part; p.Strip == nil && p.Supply == nil && (p.Card == nil || st.Channel > 0) {
			return false
		}
	}
	return true
}

// next is the leg of another circuit that the current of a leg goes on by: of common cores
// that it ends on, or of the supply circuit that carries its supply on; nil where it comes to
// what feeds it by itself.
func (l *Leg) next() *Leg {
	if t := l.End(); t != nil && t.Fed != nil && t.Fed.Leg != nil {
		return t.Fed.Leg
	}
	return l.Onward()
}

// Borrowed are the legs of other circuits that the current of a circuit goes on by, those of
// each leg of its own from the nearest on. With one of them open the circuit is dead.
func (c *Circuit) Borrowed() (all []*Leg) {
	for _, l := range c.Legs {
		for o := l.next(); o != nil && o.Circuit != c && !slices.Contains(all, o); o = o.next() {
			all = append(all, o)
		}
	}
	return all
}

// borrowed are those of Borrowed that are of common cores, or those that are not.
func (c *Circuit) borrowed(common bool) []*Leg {
	return slices.DeleteFunc(c.Borrowed(), func(l *Leg) bool { return l.Circuit.Common() != common })
}

// FeedLegs are the legs of a circuit, and those of others that it borrows.
func (c *Circuit) FeedLegs() []*Leg { return append(slices.Clip(c.Legs), c.Borrowed()...) }

// CommonLegs are the legs of common cores that a circuit borrows.
func (c *Circuit) CommonLegs() []*Leg { return c.borrowed(true) }

// Borrowers are the circuits that borrow a leg, in the order of the text; all legs are looked
// through once.
func (l *Leg) Borrowers(p *Plant) []*Circuit {
	type borrowers struct{}
	return Once(p, borrowers{}, func(p *Plant) map[*Leg][]*Circuit {
		all := map[*Leg][]*Circuit{}
		p.EachCircuit(func(c *Circuit) {
			for _, l := range c.Borrowed() {
				all[l] = append(all[l], c)
			}
		})
		return all
	})[l]
}

// Links are the terminals with a fuse, a link or a plug that the current of a leg goes through,
// in their order. Common cores leave the terminal that they begin on from the side of its
// jumpers: what joins its two sides is not in their way.
func (l *Leg) Links() (all []*Terminal) {
	for i, s := range l.Conductors {
		if t := s.Termination.In; t != nil && t.HasBreak() && (i > 0 || !l.Circuit.Common()) {
			all = append(all, t)
		}
	}
	return all
}

// Linked are the circuits whose current goes through what joins the two sides of a terminal, by
// legs of their own or by borrowed ones, in the order of the text: with it open, they are dead.
func (t *Terminal) Linked(p *Plant) []*Circuit {
	type linked struct{}
	return Once(p, linked{}, func(p *Plant) map[*Terminal][]*Circuit {
		all := map[*Terminal][]*Circuit{}
		p.EachCircuit(func(c *Circuit) {
			for _, l := range c.FeedLegs() {
				for _, t := range l.Links() {
					if n := len(all[t]); n == 0 || all[t][n-1] != c {
						all[t] = append(all[t], c)
					}
				}
			}
		})
		return all
	})[t]
}

// Feed is what a leg of common cores brings to the terminal that it begins on; nil for
// other legs, and where another feeds that.
func (l *Leg) Feed() *Feed {
	if t := l.Begin(); t != nil && t.Fed != nil && t.Fed.Leg == l {
		return t.Fed
	}
	return nil
}

// GivesFeed reports whether others may be fed from a terminal straight: a pole of a supply,
// or the common of a card that drives the current of its channels itself.
func (t *Terminal) GivesFeed() bool {
	return t.Part.Supply != nil || t.CommonAt() != nil && t.Nature() == Source
}

// Reach marks where the feed comes to, and all that jumpers join to that, as fed.
func (f *Feed) Reach() {
	f.To.Fed = f
	for _, o := range f.To.Joined {
		o.Fed = f
	}
}
