package model

import (
	"slices"
	"strings"
)

// This file turns bound circuits into conductors: what carries each lane from
// one terminal to the next, with both ends.

// wire makes the conductors of circuit c.
func (b *binder) wire(c *Circuit) {
	b.wirePath(c, c.Path, nil, make([]laneEnd, len(c.Lanes)), screenEnd{})
	c.settle()
}

// laneEnd is where a lane has got to, and the wires that led it past a station since,
// nil for none: what follows is the same wire.
type laneEnd struct {
	End
	past *Run
	k    int // which of the wires
}

// screenEnd is where the screen of a walk has got to, and what the walk itself
// says of it there.
type screenEnd struct {
	end  End
	does Landing
}

// wirePath makes the conductors of one path. from is the station it comes from,
// nil at the start; ends holds where each lane of the circuit has got to.
func (b *binder) wirePath(c *Circuit, path *Path, from *Station, ends []laneEnd, screen screenEnd) {
	runs := path.Runs
	for _, st := range path.Stations {
		var run *Run
		if from != nil {
			run, runs = runs[0], runs[1:]
		}
		for k, lane := range path.Lanes {
			b.wireSlot(c, hop{c.Lanes[lane-1], run, st, k}, &ends[lane-1])
		}
		screen = b.wireScreen(c, from, st, run, screen)
		from = st
	}
	for _, tail := range path.Tails {
		b.wirePath(c, tail, from, ends, screen)
	}
}

// hop is one lane on its way to a station: run carries it there as its wire k; nil
// to the first.
type hop struct {
	lane *Lane
	run  *Run
	to   *Station
	k    int
}

// wireSlot carries one lane from where it has got to, to the station of a hop.
func (b *binder) wireSlot(c *Circuit, h hop, at *laneEnd) {
	lane, run, st, k := h.lane, h.run, h.to, h.k
	slot := &st.Slots[k]
	if run == nil {
		lane.Steps = append(lane.Steps, Step{Station: st, Slot: slot})
		at.End = End{Terminal: slot.Out, Side: c.away()}
		return
	}
	if slot.Does == Passes && run.Kind == CableRun {
		b.errorf(slot.Pos, CoreNotLanded, "a core of %s passes by %s: land it, or cut it back with x", run.Cable.Tag, st.Part.Tag)
		c.Broken = true
		return
	}
	if at.past != nil {
		b.sameWire(c, lane, at, run, k)
	}
	if slot.Does == Passes {
		if at.past == nil || at.past.colour(at.k) == (Colour{}) {
			at.past, at.k = run, k
		}
		return
	}
	if at.Terminal == nil {
		if slot.Does == Lands {
			b.errorf(slot.Pos, BrokenLane, "lane %s of circuit %s was cut back before it reaches %s", lane.mark(), c.Name, st.Part.Tag)
			c.Broken = true
		}
		return
	}
	to := End{Terminal: slot.In, Side: c.towards()}
	if slot.Does == Cut {
		to = End{Free: cutBack, At: st.Part.Where()}
	}
	w := &Conductor{Pos: run.Pos, Kind: run.Kind, From: at.End, To: to, Circuit: c, Lane: lane.N, Role: lane.Role, Status: c.Status}
	if run.Kind == CableRun {
		w.Core = run.Cores[k]
		w.Colour, w.Status = w.Core.Colour, run.Cable.Status
	} else {
		w.beWire(h, at)
	}
	b.add(w)
	lane.Steps = append(lane.Steps, Step{Conductor: w, Station: st, Slot: slot})
	*at = laneEnd{End: End{Terminal: slot.Out, Side: c.away()}}
	if slot.Does == Cut {
		*at = laneEnd{}
	}
}

// beWire makes a conductor a wire or jumper of the place that a hop leads to. Its
// colour is that of the hop, or of the station that it passed by, or of all wires there.
func (w *Conductor) beWire(h hop, at *laneEnd) {
	w.Place = h.to.Part.Place
	if w.Colour = h.run.colour(h.k); w.Colour == (Colour{}) && at.past != nil {
		w.Colour = at.past.colour(at.k)
	}
	if w.Colour == (Colour{}) && w.Place != nil {
		w.Colour = w.Place.Colour
	}
	if w.Place != nil && w.Place.Status != ToInstall {
		w.Status = w.Place.Status
	}
}

// sameWire reports a lane that passes a station and goes on as something else: it
// is one wire, of one kind and one colour.
func (b *binder) sameWire(c *Circuit, lane *Lane, at *laneEnd, run *Run, k int) {
	before, after := at.past.says(at.k), run.says(k)
	was, is := at.past.colour(at.k), run.colour(k)
	if at.past.Kind == run.Kind && (was == is || was == (Colour{}) || is == (Colour{})) {
		return
	}
	c.Broken = true
	b.report(problemAt(run.Pos, TwoWiresInOne, "lane %s of circuit %s is one wire from %s on: %s before, %s here", lane.mark(), c.Name, at.Tag(), before, after).
		hint("land the lane between the two, or write them alike").also(at.past.Pos, "written first here"))
}

// says is what a run of the text says of one lane: wires BK, jumper, W-21.
func (r *Run) says(k int) string {
	switch {
	case r.Kind == CableRun:
		return r.Cable.Tag
	case r.Kind == JumperRun:
		return strings.TrimSpace("jumper " + r.colour(k).Letters())
	}
	return strings.TrimSpace("wires " + r.colour(k).Letters())
}

// towards is the side of a terminal that a walk arrives on. Most walks come from
// the field; those that begin on a card come from the system.
func (c *Circuit) towards() Side {
	if c.fromCard() {
		return SystemSide
	}
	return FieldSide
}

// away is the side of a terminal that a walk leaves from.
func (c *Circuit) away() Side { return 1 - c.towards() }

func (c *Circuit) fromCard() bool {
	return len(c.Path.Stations) > 0 && c.Path.Stations[0].Part.Card != nil
}

// colour is what the text says of the wire of one lane; none for a core.
func (r *Run) colour(k int) Colour {
	switch {
	case len(r.Colours) > 1 && k < len(r.Colours):
		return r.Colours[k]
	case len(r.Colours) == 1:
		return r.Colours[0]
	}
	return Colour{}
}

// wireScreen carries the screen of run from one station to the next and returns
// how far it has got. Where no landing is written a screen is cut back.
func (b *binder) wireScreen(c *Circuit, from, st *Station, run *Run, at screenEnd) screenEnd {
	here := screenEnd{End{Terminal: st.Screen.Out, Side: c.away()}, st.Screen.Does}
	switch {
	case run == nil:
	case run.Screen != nil:
		if w := b.plant.circuit[run.Screen]; w != nil && w.Circuit == c && w.Pos != run.Pos {
			break // the other core of this pair brought it
		}
		a, z := End{Free: cutBack, At: from.Part.Where()}, End{Free: cutBack, At: st.Part.Where()}
		if at.does == Lands {
			a = at.end
		}
		if here.does == Lands {
			z = End{Terminal: st.Screen.In, Side: c.towards()}
		}
		if l := run.landing(); l != nil {
			near, far := l.From, l.To
			if run.Cable.To.serves(from.Part) && !run.Cable.From.serves(from.Part) {
				near, far = far, near
			}
			a = b.screenAgrees(c, run, screenSaid{from, c.away(), at.does, a, near})
			z = b.screenAgrees(c, run, screenSaid{st, c.towards(), here.does, z, far})
			if here.does == NotSaid && z.Terminal != nil { // wires may take it on
				here.end.Terminal = st.Screen.Out
			}
		}
		b.add(&Conductor{Pos: run.Pos, Core: run.Screen, Screen: true, From: a, To: z, Circuit: c, Status: run.Cable.Status})
	case run.Kind == WireRun && at.end.Terminal != nil && here.does == Lands && at.end.Terminal != st.Screen.In:
		b.add(&Conductor{Pos: run.Pos, Kind: WireRun, Screen: true, From: at.end, To: End{Terminal: st.Screen.In, Side: c.towards()},
			Circuit: c, Status: c.Status, Place: st.Part.Place})
	}
	return here
}

// landing is what the cable of a run says of the screen that the run carries: its
// overall screen; nil where it says nothing.
func (r *Run) landing() *Conductor {
	if r.Kind != CableRun || r.Screen == nil || r.Screen != r.Cable.Overall {
		return nil
	}
	return r.Cable.landing
}

// screenSaid is what is said of the end of an overall screen at a station: by the
// walk, if it does, and by the cable.
type screenSaid struct {
	at          *Station
	side        Side // of the terminals there
	does        Landing
	walk, cable End
}

// screenAgrees puts together what is said of the end of an overall screen, and returns
// where the screen ends.
func (b *binder) screenAgrees(c *Circuit, run *Run, said screenSaid) End {
	st, does, walk, cable := said.at, said.does, said.walk, said.cable
	switch filled := does == NotSaid && st.Screen.Does == Lands; {
	case cable.Terminal == nil && does != Lands, cable.Terminal != nil && cable.Terminal == walk.Terminal:
		return walk
	case does == NotSaid && (!filled || cable.Terminal == st.Screen.In):
		t := cable.Terminal
		if st.Screen = (Slot{Pos: run.Cable.landing.Pos, Does: Lands, In: t, Out: t}); t.Part.Through[t] != nil {
			st.Screen.Out = t.Part.Through[t]
		}
		return End{Terminal: t, Side: said.side}
	case filled:
		walk = End{Terminal: st.Screen.In, Side: said.side}
	}
	b.report(problemAt(st.Screen.Pos, ScreenMismatch, `the overall screen of %s %s by "overall" of the cable, and %s in circuit %s`, run.Cable.Tag, cable.landed(), walk.landed(), c.Name).
		also(run.Cable.landing.Pos, `"overall" of the cable`).hint("the same in both, or in one of them alone"))
	return walk
}

// landed says where a screen ends.
func (e End) landed() string {
	if e.Terminal == nil {
		return "is cut back at " + e.At
	}
	return "lands on " + e.Tag()
}

// add files a conductor with the plant and with the terminals it lands on.
func (b *binder) add(w *Conductor) {
	b.plant.Conductors = append(b.plant.Conductors, w)
	for _, e := range []End{w.From, w.To} {
		if e.Terminal != nil {
			e.Terminal.Uses = append(e.Terminal.Uses, Use{w, e.Side})
		}
	}
	if w.Core != nil && b.plant.circuit[w.Core] == nil {
		b.plant.circuit[w.Core] = w
	}
}

// mark is what a lane is called: its role, or its number.
func (l *Lane) mark() string {
	if l.Role != 0 {
		return string(l.Role)
	}
	return itoa(l.N)
}

// ConductorOf returns the conductor that uses a core or screen first.
func (p *Plant) ConductorOf(c *Core) *Conductor { return p.circuit[c] }

// settle finds what follows from the stations of a circuit, once it is bound: its
// family, and in which order they are met.
func (c *Circuit) settle() {
	c.Signal = c.signal()
	c.visits = c.meet()
}

// signal is the family of the circuit: that of its device, else of its card. A
// panel indicator goes with any current.
func (c *Circuit) signal() Signal {
	found := NoSignal
	for _, st := range c.Stations() {
		for _, s := range st.Slots {
			switch {
			case s.In == nil || s.In.Signal() == NoSignal || st.Part.Kind.Indicator:
			case st.Part.Device != nil:
				return s.In.Signal()
			case found == NoSignal:
				found = s.In.Signal()
			}
		}
	}
	return found
}

// End returns the terminal where the lane ends, or nil when it ends in the air.
func (l *Lane) End() *Terminal {
	if len(l.Steps) == 0 {
		return nil
	}
	s := l.Steps[len(l.Steps)-1].Slot
	if s.Does != Lands {
		return nil
	}
	return s.Out
}

// Begin returns the terminal where the lane begins.
func (l *Lane) Begin() *Terminal {
	if len(l.Steps) == 0 {
		return nil
	}
	return l.Steps[0].Slot.In
}

// Stations returns every station of the circuit, trunk first, then the tails.
func (c *Circuit) Stations() []*Station { return c.Path.stations(nil) }

func (p *Path) stations(all []*Station) []*Station {
	if p == nil {
		return all
	}
	all = append(all, p.Stations...)
	for _, t := range p.Tails {
		all = t.stations(all)
	}
	return all
}

// Visits returns what the circuit lands on, for sums: its stations, but each channel
// of a card, device and barrier once, with the slots of all lanes that come to it,
// however the lanes part on the way. Strips stay as Stations has them.
func (c *Circuit) Visits() []*Station { return c.visits }

// meet makes the visits.
func (c *Circuit) meet() (all []*Station) {
	for _, st := range c.Stations() {
		i := slices.IndexFunc(all, func(v *Station) bool { return v.same(st) })
		switch {
		case i < 0:
			all = append(all, st)
		case all[i] != st:
			one := *all[i]
			one.Slots = slices.Concat(one.Slots, st.Slots)
			all[i] = &one
		}
	}
	return all
}

// same tells whether two stations are one thing to the current: one station, or
// one channel, device or barrier.
func (st *Station) same(o *Station) bool {
	return st == o || st.Part == o.Part && st.Channel == o.Channel && st.Part.Strip == nil
}

// Runs returns every run of the circuit, trunk first, then the tails.
func (c *Circuit) Runs() []*Run { return c.Path.runs(nil) }

func (p *Path) runs(all []*Run) []*Run {
	if p == nil {
		return all
	}
	all = append(all, p.Runs...)
	for _, t := range p.Tails {
		all = t.runs(all)
	}
	return all
}

// Conductors returns the conductors of the circuit in walking order, lane by
// lane, the screens last.
func (c *Circuit) Conductors(p *Plant) []*Conductor { return p.byCircuit[c] }

// index files the conductors by circuit once all are made.
func (p *Plant) index() {
	p.byPlace = map[*Place][]*Conductor{}
	p.screens = map[*Conductor]*screenNet{}
	for _, n := range screenNets(p) {
		for _, w := range n.members {
			p.screens[w] = n
		}
	}
	p.byCircuit = make(map[*Circuit][]*Conductor, len(p.Conductors)/4)
	for _, w := range p.Conductors {
		if w.Circuit != nil {
			p.byCircuit[w.Circuit] = append(p.byCircuit[w.Circuit], w)
		}
		a, b := w.From.Where(p), w.To.Where(p)
		if a != nil {
			p.byPlace[a] = append(p.byPlace[a], w)
		}
		if b != nil && b != a {
			p.byPlace[b] = append(p.byPlace[b], w)
		}
	}
}
