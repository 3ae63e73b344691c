package sheet

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"slices"

	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/material"
)

// A stamp digests all of the text that a drawing can show something of. It takes
// in more than any sheet shows: for a loop all that is in the places it comes to,
// on its cables and cards, and the same of the loops that it shares devices or
// functions with; for a place or a cable all of that of every loop in it. While
// the stamp stays, and so does the rest of the text (see common), the drawing
// stays. TestStamps alters plants word by word to prove that.

// stampDigits are the hexadecimal digits of a stamp.
const stampDigits = 32

// Common digests what bears on every sheet: the text that is of no loop, cable or
// place, and which of these there are, in their order.
func (ks Kinds) Common(p *model.Plant) string {
	h := newSum()
	h.text(p, nil)
	for _, k := range ks {
		for _, x := range k.Of(p) {
			fmt.Fprintf(h, "%s %q\n", k.Name, x.Tag())
		}
	}
	return h.String()
}

// stamper makes the stamps of a plan.
type stamper struct {
	plant *model.Plant
	place map[*model.Place]string // of all in a place
	loop  map[*model.Loop]string
	in    map[*model.Place][]*model.Loop // that come to a place
	on    map[*model.Cable][]*model.Loop

	linked map[*model.Loop][]*model.Loop // that share devices, functions or common cores with a loop
}

// of returns the stamp of a subject.
func (st *stamper) of(x Subject) string {
	h := newSum()
	switch {
	case x.Loop != nil:
		return st.loop[x.Loop]
	case x.Place != nil:
		h.add(st.place[x.Place])
		for _, l := range st.in[x.Place] {
			h.add(st.loop[l])
		}
	case x.Cable != nil:
		h.text(st.plant, x.Cable)
		for _, e := range []model.CableEnd{x.Cable.From, x.Cable.To} {
			h.add(st.place[e.Place], st.loop[loopAt(e)])
		}
		for _, l := range st.on[x.Cable] {
			h.add(st.loop[l])
		}
	default:
		return "-"
	}
	return h.String()
}

// beside are the loops, places and cables whose sheets may refer to those of x.
func (st *stamper) beside(pl *Plan, x Subject) (all []any) {
	loops := func(some ...*model.Loop) {
		for _, l := range some {
			all = append(all, l)
		}
	}
	places := func(some ...*model.Place) {
		for _, p := range some {
			all = append(all, p)
		}
	}
	switch {
	case x.Loop != nil:
		all = append(all, x.Loop)
		s := pl.around(x.Loop)
		places(s.places...)
		for _, c := range s.cables {
			all = append(all, c)
			loops(st.on[c]...)
		}
		loops(st.linked[x.Loop]...)
	case x.Place != nil:
		all = append(all, x.Place)
		loops(st.in[x.Place]...)
		for _, c := range wording.Housed(pl.Plant)[x.Place].Cables {
			all = append(all, c)
			places(c.From.Place, c.To.Place)
		}
	case x.Cable != nil:
		all = append(all, x.Cable)
		loops(st.on[x.Cable]...)
		places(x.Cable.From.Place, x.Cable.To.Place)
	}
	return all
}

// loopAt is the loop of the field device at the end of a cable; nil in a place.
func loopAt(e model.CableEnd) *model.Loop {
	if e.Part == nil || e.Part.Device == nil {
		return nil
	}
	return e.Part.Device.Loop
}

// surroundings are the places, cables and cards that a loop comes to.
type surroundings struct {
	places []*model.Place
	cables []*model.Cable
	cards  []*model.Part
	earths []string // of its screens, and by way of what
}

// insert adds what is not there yet, and is not nil.
func insert[T comparable](all *[]T, x T) {
	var none T
	if x != none && !slices.Contains(*all, x) {
		*all = append(*all, x)
	}
}

// around finds them, and where what feeds a loop and earths its screens stands.
func (pl *Plan) around(l *model.Loop) (s surroundings) {
	fed := func(t *model.Terminal) {
		if t != nil && t.Fed != nil {
			insert(&s.places, t.Fed.Supply.Part.Place)
		}
	}
	for _, d := range l.Devices {
		insert(&s.places, d.Place)
	}
	for _, x := range l.Joins() {
		insert(&s.places, x)
	}
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(pl.Plant) {
			if w.Screen {
				if earth, via := compute.ScreenEarth(pl.Plant, w); earth != nil {
					s.earths = append(s.earths, earth.Tag())
					for _, other := range via {
						s.earths = append(s.earths, wording.ConductorName(other))
						if other.Core != nil {
							insert(&s.cables, other.Core.Cable)
						}
					}
				}
			}
			if w.Core != nil {
				cable := w.Core.Cable
				insert(&s.cables, cable)
				insert(&s.places, cable.From.Place)
				insert(&s.places, cable.To.Place)
			}
			for _, e := range []model.End{w.From, w.To} {
				insert(&s.places, e.Where(pl.Plant))
				t := e.Terminal
				if t == nil {
					continue
				}
				fed(t)
				if card := t.Part.Card; card != nil {
					insert(&s.cards, t.Part)
					if by := t.Part.CardSupply(); by != nil && card.Minus == model.SupplyMinus {
						insert(&s.places, by.Place)
					}
					for _, common := range card.Commons {
						fed(common.Terminal)
					}
				}
			}
		}
	}
	return s
}

// findStamps finds those of all loops and places.
func (pl *Plan) findStamps() *stamper {
	p := pl.Plant
	st := &stamper{p, map[*model.Place]string{}, map[*model.Loop]string{}, map[*model.Place][]*model.Loop{}, map[*model.Cable][]*model.Loop{}, map[*model.Loop][]*model.Loop{}}
	around := make([]surroundings, len(p.Loops))
	each(len(around), func(i int) { around[i] = pl.around(p.Loops[i]) })
	fed := map[*model.Part][]*model.Loop{} // loops by card
	for i, l := range p.Loops {
		for _, x := range around[i].places {
			st.in[x] = append(st.in[x], l)
		}
		for _, c := range around[i].cables {
			st.on[c] = append(st.on[c], l)
		}
		for _, c := range around[i].cards {
			fed[c] = append(fed[c], l)
		}
	}
	for _, x := range p.Places {
		st.place[x] = pl.placeStamp(st, x)
	}
	near := make([]string, len(p.Loops))
	for i, l := range p.Loops {
		near[i] = pl.nearStamp(st, l, around[i], fed)
	}
	for _, group := range linked(p.Loops) {
		h := newSum()
		var loops []*model.Loop
		for _, i := range group {
			h.add(near[i])
			loops = append(loops, p.Loops[i])
		}
		for _, l := range loops {
			st.loop[l], st.linked[l] = h.String(), loops
		}
	}
	return st
}

// addOwn adds what all sheets say of a place, whatever they show of it.
func (pl *Plan) addOwn(h digester, x *model.Place) {
	p := pl.Plant
	h.text(p, x)
	for _, l := range wording.Service(pl.Plant)[x] {
		h.add(l.Tag)
	}
	for _, c := range wording.Standing(pl.Plant)[x].Cables {
		h.add(c.Tag)
		for _, other := range c.Circuits(p) {
			h.add(other.Loop.Tag)
		}
	}
	h.add(wording.Standing(pl.Plant)[x].Dangers...)
	for _, part := range x.Parts {
		if d := wording.Demands(pl.Plant)[part]; d != nil {
			h.add(d.Sum())
		}
	}
	for _, w := range p.AtPlace(x) { // feeds may be written elsewhere, and come from there
		if w.Core == nil && w.Circuit == nil && w.Place != nil {
			h.text(p, w.Place)
			for _, e := range []model.End{w.From, w.To} {
				if other := e.Where(p); other != nil {
					h.text(p, other)
				}
			}
		}
	}
}

// placeStamp is the stamp of a place: all that stands in it, and comes to it.
func (pl *Plan) placeStamp(st *stamper, x *model.Place) string {
	p, h := pl.Plant, newSum()
	pl.addOwn(h, x)
	for _, part := range x.Parts {
		h.text(p, part)
	}
	for _, c := range wording.Housed(pl.Plant)[x].Cables {
		h.text(p, c)
		for _, l := range st.on[c] {
			h.text(p, l)
		}
		for _, e := range []model.CableEnd{c.From, c.To} {
			if e.Place != nil {
				h.text(p, e.Place)
			}
			if l := loopAt(e); l != nil {
				h.text(p, l)
			}
		}
	}
	for _, l := range st.in[x] {
		h.text(p, l)
	}
	for _, l := range p.Links(x) {
		h.add(l.Tag, wording.JoinFacts(l))
	}
	return h.String()
}

// nearStamp is the stamp of a loop without those that it is linked to: all round it,
// and what else its cards feed.
func (pl *Plan) nearStamp(st *stamper, l *model.Loop, s surroundings, fed map[*model.Part][]*model.Loop) string {
	p, h := pl.Plant, newSum()
	h.text(p, l)
	h.add(s.earths...)
	h.add(wording.LinkFacts(p, l)...)
	// Others on its fuses, and in the feeds it is on, may come from far off. Who else hangs
	// on its supplies shows in the demands of these.
	for _, c := range l.Circuits {
		for _, m := range compute.Inrush(p, c) {
			h.add(fmt.Sprint(m.Actual, m.Missing))
		}
		for _, s := range compute.Shares(p, c) {
			h.add(s.Words(), fmt.Sprint(s.MA))
		}
		if c.Mains() && !c.Broken {
			knives, _ := material.Knives(c, nil)
			h.add(compute.Others(c, material.DeadWith(p, c, knives))...)
		}
	}
	for _, c := range s.cables {
		h.text(p, c)
	}
	for _, x := range s.places {
		if x.Kind != model.System {
			h.add(st.place[x])
			continue
		}
		pl.addOwn(h, x) // a system may have every loop of the plant
	}
	for _, c := range s.cards {
		h.text(p, c)
		for _, m := range fed[c] {
			h.text(p, m)
		}
	}
	return h.String()
}

// linked groups loops that share devices, functions or common cores, by number.
func linked(loops []*model.Loop) [][]int {
	number := map[*model.Loop]int{}
	first := make([]int, len(loops)) // of the group; a chain leads to it
	for i, l := range loops {
		number[l], first[i] = i, i
	}
	root := func(i int) int {
		for first[i] != i {
			i = first[i]
		}
		return i
	}
	for i, l := range loops {
		join := func(other *model.Loop) {
			if other != nil {
				a, b := root(i), root(number[other])
				first[max(a, b)] = min(a, b)
			}
		}
		part := func(x *model.Part) {
			if x != nil && x.Device != nil {
				join(x.Device.Loop)
			}
		}
		for _, d := range l.Devices {
			part(d.Device.Actuates)
			part(d.Device.On)
		}
		for _, f := range l.Functions {
			for _, c := range slices.Concat(f.Reads, f.Outputs) {
				join(c.Loop)
			}
			for _, from := range f.Takes {
				join(from.Loop)
			}
		}
		for _, c := range l.Circuits {
			for _, s := range wording.CircuitStations(c) {
				part(s.Part)
			}
			for _, leg := range c.CommonLegs() {
				join(leg.Circuit.Loop)
			}
		}
	}
	groups := make([][]int, len(loops))
	for i := range loops {
		r := root(i)
		groups[r] = append(groups[r], i)
	}
	return slices.DeleteFunc(groups, func(g []int) bool { return g == nil })
}

// digester makes a digest of words and texts.
type digester struct{ hash.Hash }

func newSum() digester { return digester{sha256.New()} }

func (h digester) add(words ...string) {
	for _, s := range words {
		fmt.Fprintf(h, "%q\n", s)
	}
}

// text adds what the text says of a thing; see model.Plant.Text.
func (h digester) text(p *model.Plant, of any) {
	d := p.SourceDigest(of)
	h.Write(d[:])
}

func (h digester) String() string { return hex.EncodeToString(h.Sum(nil))[:stampDigits] }
