package bind

import (
	"strings"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/finding"
)

// This file turns bound circuits into conductors: what carries each leg from
// one terminal to the next, with both ends.

// wire makes the conductors of circuit c.
func (b *Binder) wire(c *model.Circuit) {
	b.wirePath(c, c.Path, nil, make([]legEnd, len(c.Legs)), screenEnd{})
	c.Settle()
}

// legEnd is where a leg has got to, and the wires that led it past a station since,
// nil for none: what follows is the same wire.
type legEnd struct {
	model.End
	past *model.Run
	k    int // which of the wires
}

// screenEnd is where the screen of a circuit has got to, and what the path itself
// says of it there.
type screenEnd struct {
	end  model.End
	does model.Landing
}

// wirePath makes the conductors of one path. from is the station it comes from,
// nil at the start; ends holds where each leg of the circuit has got to.
func (b *Binder) wirePath(c *model.Circuit, path *model.Path, from *model.Station, ends []legEnd, screen screenEnd) {
	runs := path.Runs
	for _, st := range path.Stations {
		var run *model.Run
		if from != nil {
			run, runs = runs[0], runs[1:]
		}
		for k, leg := range path.Legs {
			b.wireTermination(c, hop{c.Legs[leg-1], run, st, k}, &ends[leg-1])
		}
		if len(runs) > 0 && partsScreens(st, run, runs[0]) {
			from, screen = b.wireApart(c, from, st, run, screen)
			continue
		}
		screen = b.wireScreen(c, from, st, run, screen)
		from = st
	}
	for _, tail := range path.Tails {
		b.wirePath(c, tail, from, ends, screen)
	}
}

// hop is one leg on its way to a station: run carries it there as its wire k; nil
// to the first.
type hop struct {
	leg *model.Leg
	run *model.Run
	to  *model.Station
	k   int
}

// wireTermination carries one leg from where it has got to, to the station of a hop.
func (b *Binder) wireTermination(c *model.Circuit, h hop, at *legEnd) {
	leg, run, st, k := h.leg, h.run, h.to, h.k
	termination := &st.Terminations[k]
	if run == nil {
		leg.Conductors = append(leg.Conductors, model.LegConductor{Station: st, Termination: termination})
		at.End = model.End{Terminal: termination.Out, Side: c.DepartureSide()}
		return
	}
	if termination.Does == model.Passes && run.Kind == model.CableRun {
		b.Report(finding.At(termination.Pos, finding.CoreNotLanded, "core of %s not landed at %s", run.Cable.Tag, st.Part.Tag).WithHint(finding.Do("land it, or cut it back with x")))
		c.Broken = true
		return
	}
	if at.past != nil {
		b.sameWire(c, leg, at, run, k)
	}
	if termination.Does == model.Passes {
		if at.past == nil || colourOf(at.past, at.k) == (colour.Colour{}) {
			at.past, at.k = run, k
		}
		return
	}
	if at.Terminal == nil {
		if termination.Does == model.Lands {
			b.Errorf(termination.Pos, finding.BrokenLeg, "circuit %q, leg %s: ends before %s", c.Name, leg.Mark(), st.Part.Tag)
			c.Broken = true
		}
		return
	}
	to := model.End{Terminal: termination.In, Side: c.ArrivalSide()}
	if termination.Does == model.Cut {
		to = model.End{Free: model.CutBack, At: st.Part.Where()}
	}
	w := &model.Conductor{Pos: run.Pos, Kind: run.Kind, From: at.End, To: to, Circuit: c, Leg: leg.N, Role: leg.Role, Status: c.Status}
	if run.Kind == model.CableRun {
		w.Core = run.Cores[k]
		w.Colour, w.Status = w.Core.Colour, run.Cable.Status
	} else {
		beWire(w, h, at)
	}
	b.Add(w)
	leg.Conductors = append(leg.Conductors, model.LegConductor{Conductor: w, Station: st, Termination: termination})
	*at = legEnd{End: model.End{Terminal: termination.Out, Side: c.DepartureSide()}}
	if termination.Does == model.Cut || termination.Ends {
		*at = legEnd{}
	}
}

// beWire makes a conductor a wire or jumper of the place that a hop leads to. Its
// colour is that of the hop, or of the station that it passed by, or of all wires there.
func beWire(w *model.Conductor, h hop, at *legEnd) {
	w.Place = h.to.Part.Place
	if w.Colour = colourOf(h.run, h.k); w.Colour == (colour.Colour{}) && at.past != nil {
		w.Colour = colourOf(at.past, at.k)
	}
	if w.Colour == (colour.Colour{}) && w.Place != nil {
		w.Colour = w.Place.Colour
	}
	if w.Place != nil && w.Place.Status != model.New {
		w.Status = w.Place.Status
	}
}

// sameWire reports a leg that passes a station and goes on as something else: it
// is one wire, of one kind and one colour.
func (b *Binder) sameWire(c *model.Circuit, leg *model.Leg, at *legEnd, run *model.Run, k int) {
	before, after := says(at.past, at.k), says(run, k)
	was, is := colourOf(at.past, at.k), colourOf(run, k)
	if at.past.Kind == run.Kind && (was == is || was == (colour.Colour{}) || is == (colour.Colour{})) {
		return
	}
	c.Broken = true
	b.Report(finding.At(run.Pos, finding.TwoWiresInOne, "circuit %q, leg %s: one wire from %s on, but %s before and %s here", c.Name, leg.Mark(), at.Tag(), before, after).
		WithHint(finding.Do("land the leg between the two, or write them alike")).WithAlso(at.past.Pos, "written first here"))
}

// says is what a run of the text says of one leg: wires BK, jumper, W-21.
func says(r *model.Run, k int) string {
	switch {
	case r.Kind == model.CableRun:
		return r.Cable.Tag
	case r.Kind == model.JumperRun:
		return strings.TrimSpace("jumper " + colourOf(r, k).Letters())
	}
	return strings.TrimSpace("wires " + colourOf(r, k).Letters())
}

// colourOf is what the text says of the wire of one leg; none for a core.
func colourOf(r *model.Run, k int) colour.Colour {
	switch {
	case len(r.Colours) > 1 && k < len(r.Colours):
		return r.Colours[k]
	case len(r.Colours) == 1:
		return r.Colours[0]
	}
	return colour.Colour{}
}

// wireScreen carries the screen of run from one station to the next and returns
// how far it has got. Where no landing is written a screen is cut back.
func (b *Binder) wireScreen(c *model.Circuit, from, st *model.Station, run *model.Run, at screenEnd) screenEnd {
	here := screenEnd{model.End{Terminal: st.Screen.Out, Side: c.DepartureSide()}, st.Screen.Does}
	switch {
	case run == nil:
	case run.Screen != nil:
		if w := b.Plant.ConductorOf(run.Screen); w != nil && w.Circuit == c && w.Pos != run.Pos {
			break // the other core of this pair brought it
		}
		a, z := model.End{Free: model.CutBack, At: from.Part.Where()}, model.End{Free: model.CutBack, At: st.Part.Where()}
		if at.does == model.Lands {
			a = at.end
		}
		if here.does == model.Lands {
			z = model.End{Terminal: st.Screen.In, Side: c.ArrivalSide()}
		}
		if l := run.Landing(); l != nil {
			near, far := l.From, l.To
			if run.Cable.To.Serves(from.Part) && !run.Cable.From.Serves(from.Part) {
				near, far = far, near
			}
			a = b.screenAgrees(c, run, screenSaid{from, c.DepartureSide(), at.does, a, near})
			z = b.screenAgrees(c, run, screenSaid{st, c.ArrivalSide(), here.does, z, far})
			if here.does == model.NotSaid && z.Terminal != nil { // wires may take it on
				here.end.Terminal = st.Screen.Out
			}
		}
		b.Add(&model.Conductor{Pos: run.Pos, Core: run.Screen, Screen: true, From: a, To: z, Circuit: c, Status: run.Cable.Status})
	case run.Kind == model.WireRun && at.end.Terminal != nil && here.does == model.Lands && at.end.Terminal != st.Screen.In:
		b.Add(&model.Conductor{Pos: run.Pos, Kind: model.WireRun, Screen: true, From: at.end, To: model.End{Terminal: st.Screen.In, Side: c.ArrivalSide()},
			Circuit: c, Status: c.Status, Place: st.Part.Place})
	}
	return here
}

// partsScreens reports whether the screens on both sides of a barrier stay apart: that of the
// hazardous side and that of the safe side are each earthed by itself.
func partsScreens(st *model.Station, before, after *model.Run) bool {
	return st.Part.Barrier != nil && !st.Part.Kind.Diverts && before != nil && before.Screen != nil && after.Screen != nil
}

// wireApart carries the screen of run to a barrier that parts it from the next: what the
// station says of a screen is that of the hazardous side. It returns the station as the
// next run comes from it.
func (b *Binder) wireApart(c *model.Circuit, from, st *model.Station, run *model.Run, at screenEnd) (*model.Station, screenEnd) {
	bare := *st
	bare.Screen = model.Termination{}
	if c.FromCard() {
		b.wireScreen(c, from, &bare, run, at)
		return st, screenEnd{model.End{Terminal: st.Screen.Out, Side: c.DepartureSide()}, st.Screen.Does}
	}
	b.wireScreen(c, from, st, run, at)
	return &bare, screenEnd{}
}

// screenSaid is what is said of the end of an overall screen at a station: by the
// walk, if it does, and by the cable.
type screenSaid struct {
	at          *model.Station
	side        model.Side // of the terminals there
	does        model.Landing
	walk, cable model.End
}

// screenAgrees puts together what is said of the end of an overall screen, and returns
// where the screen ends.
func (b *Binder) screenAgrees(c *model.Circuit, run *model.Run, said screenSaid) model.End {
	st, does, walk, cable := said.at, said.does, said.walk, said.cable
	switch filled := does == model.NotSaid && st.Screen.Does == model.Lands; {
	case cable.Terminal == nil && does != model.Lands, cable.Terminal != nil && cable.Terminal == walk.Terminal:
		return walk
	case does == model.NotSaid && (!filled || cable.Terminal == st.Screen.In):
		t := cable.Terminal
		if st.Screen = (model.Termination{Pos: run.Cable.Landing.Pos, Does: model.Lands, In: t, Out: t}); t.Part.Through[t] != nil {
			st.Screen.Out = t.Part.Through[t]
		}
		return model.End{Terminal: t, Side: said.side}
	case filled:
		walk = model.End{Terminal: st.Screen.In, Side: said.side}
	}
	b.Report(finding.At(st.Screen.Pos, finding.ScreenMismatch, `overall screen of %s %s by "overall" of the cable, and %s in circuit %q`, run.Cable.Tag, landed(cable), landed(walk), c.Name).
		WithAlso(run.Cable.Landing.Pos, `"overall" of the cable`).WithHint(finding.Do("give the same in both, or in only one of them")))
	return walk
}

// landed returns where a screen ends.
func landed(e model.End) string {
	if e.Terminal == nil {
		return "is cut back at " + e.At
	}
	return "lands on " + e.Tag()
}

// Add files a conductor with the plant and with the terminals it lands on.
func (b *Binder) Add(w *model.Conductor) {
	b.Plant.Conductors = append(b.Plant.Conductors, w)
	for _, e := range []model.End{w.From, w.To} {
		if e.Terminal != nil {
			e.Terminal.Ends = append(e.Terminal.Ends, model.LandedEnd{Conductor: w, Side: e.Side})
		}
	}
	if w.Core != nil && b.Plant.ConductorOf(w.Core) == nil {
		b.Plant.ConductorByCore[w.Core] = w
	}
}
