package loop

import (
	"slices"

	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
)

// This file holds the segments of circuits: a circuit that is wider than the paper
// is broken into several.

// segment is a circuit, or what is left of it between two breaks.
type segment struct {
	circuit    *model.Circuit
	path       *model.Path
	turned     bool           // the path begins at the system, and is drawn from the field
	prev, next *segment       // nil at the ends
	goes       *model.Station // where it is broken and goes on as next; nil without one
	block      *block         // where it is drawn
}

// whole is the segment that shows all of a circuit. The field stands on the left of
// every sheet: a circuit that begins on a card is turned, if its legs stay
// together.
func whole(c *model.Circuit) *segment {
	p := c.Path
	n := len(p.Stations)
	if n < 2 || len(p.Tails) > 0 || p.Stations[0].Part.Device != nil || p.Stations[n-1].Part.Device == nil {
		return &segment{circuit: c, path: p}
	}
	turned := &model.Path{Legs: p.Legs, Stations: slices.Clone(p.Stations), Runs: slices.Clone(p.Runs)}
	slices.Reverse(turned.Stations)
	slices.Reverse(turned.Runs)
	return &segment{circuit: c, path: turned, turned: true}
}

// sides are the terminals of a termination on the field side and on the system side.
func (l *segment) sides(s model.Termination) (west, east *model.Terminal) {
	if l.turned {
		return s.Out, s.In
	}
	return s.In, s.Out
}

// wired are the conductors of a segment.
func (l *segment) wired(p *model.Plant) []*model.Conductor {
	all := l.circuit.Conductors(p)
	if l.prev == nil && l.next == nil {
		return all
	}
	here := map[*model.Conductor]bool{}
	var visit func(path *model.Path, from *model.Station)
	visit = func(path *model.Path, from *model.Station) {
		runs := path.Runs
		for _, st := range path.Stations {
			if from != nil {
				for _, w := range all {
					if w.Pos == runs[0].Pos {
						here[w] = true
					}
				}
				runs = runs[1:]
			}
			from = st
		}
		for _, t := range path.Tails {
			visit(t, from)
		}
	}
	visit(l.path, nil)
	return slices.DeleteFunc(slices.Clone(all), func(w *model.Conductor) bool { return !here[w] })
}

// breaksAt reports whether st is where the segment is broken.
func (l *segment) breaksAt(st *model.Station) bool {
	return l.prev != nil && st == l.path.Stations[0] || l.goes != nil && st == l.goes
}

// comesFrom reports whether st is where the segment goes on from another.
func (l *segment) comesFrom(st *model.Station) bool { return l.prev != nil && st == l.path.Stations[0] }

// stations of a segment, tails and all.
func (l *segment) stations() []*model.Station {
	var all []*model.Station
	var visit func(path *model.Path)
	visit = func(path *model.Path) {
		all = append(all, path.Stations...)
		for _, t := range path.Tails {
			visit(t)
		}
	}
	visit(l.path)
	return all
}

// channel is the first station of a segment on a channel of a card.
func (l *segment) channel() *model.Station {
	for _, st := range l.stations() {
		if st.Channel > 0 {
			return st
		}
	}
	return nil
}

// screened reports whether a segment has a screen to be drawn. At a break a screen
// lands in the tier that its cable comes in.
func (l *segment) screened() bool {
	var visit func(path *model.Path) bool
	visit = func(path *model.Path) bool {
		for _, r := range path.Runs {
			if r.Screen != nil {
				return true
			}
		}
		return slices.ContainsFunc(path.Tails, visit)
	}
	return visit(l.path) || slices.ContainsFunc(l.stations(), func(st *model.Station) bool {
		return st.Screen.Does == model.Lands && !l.breaksAt(st)
	})
}

// screenComes reports whether a screened run of the segment meets the station where
// it is broken.
func (l *segment) screenComes(st *model.Station) bool {
	runs := l.path.Runs
	if len(runs) == 0 { // legs part where it is broken
		return slices.ContainsFunc(l.path.Tails, func(t *model.Path) bool { return len(t.Runs) > 0 && t.Runs[0].Screen != nil })
	}
	if st == l.path.Stations[0] {
		return runs[0].Screen != nil
	}
	return runs[len(runs)-1].Screen != nil
}

// functional reports whether functions are drawn beside the channels of segments.
func functional(segments []*segment) bool {
	for _, l := range segments {
		if l.channel() == nil {
			continue
		}
		for _, f := range l.circuit.Loop.Functions {
			if slices.Contains(f.Reads, l.circuit) || slices.Contains(f.Outputs, l.circuit) {
				return true
			}
		}
	}
	return false
}

// fit arranges segments in columns and returns the first of widthSteps at which
// they fit, or the last step and false.
func fit(pl *sheet.Plan, segments []*segment, in paper.Area) (*columns, int, bool) {
	cols := columnsOf(segments)
	for step, w := range widthSteps {
		if cols.measure(pl, segments, w, in) <= in.W() {
			return cols, step, true
		}
	}
	return cols, len(widthSteps) - 1, false
}

// roomy is the last of widthSteps that circuits are brought together at. Below
// it they are drawn in tiers of their own, if those are wider.
const roomy = 2

// breakable reports whether every leg lands on a terminal strip and goes on from the same
// terminal, or goes through a contact.
func breakable(st *model.Station) bool {
	if st.InSeries() {
		return true
	}
	return st.Part.Strip != nil && !slices.ContainsFunc(st.Terminations, func(s model.Termination) bool {
		return s.Does != model.Lands || s.In != s.Out
	})
}

// breaks are the stations at which a segment may be broken, in the order of its path.
func (l *segment) breaks() (all []*model.Station) {
	var visit func(path *model.Path, trunk bool)
	visit = func(path *model.Path, trunk bool) {
		for k, st := range path.Stations {
			ends := k == len(path.Stations)-1 && len(path.Tails) == 0
			if breakable(st) && !ends && (k > 0 || !trunk) && !slices.ContainsFunc(st.Terminations, func(t model.Termination) bool { return t.Ends }) {
				all = append(all, st)
			}
		}
		for _, t := range path.Tails {
			visit(t, false)
		}
	}
	visit(l.path, true)
	return all
}

// cut parts a segment at a station of its path. Of legs that have parted before it, those
// of the others stay with the first.
func (l *segment) cut(at *model.Station) (a, b *segment) {
	head, rest := parted(l.path, at)
	a = &segment{circuit: l.circuit, turned: l.turned, prev: l.prev, path: head, goes: at}
	b = &segment{circuit: l.circuit, turned: l.turned, next: l.next, path: rest, goes: l.goes}
	a.next, b.prev = b, a
	return a, b
}

// parted is a path up to a station, and from there on; rest is nil where it does not come
// to the station.
func parted(p *model.Path, at *model.Station) (head, rest *model.Path) {
	if k := slices.Index(p.Stations, at); k >= 0 {
		first := len(p.Stations) - len(p.Runs) // 1, or 0 in a tail
		return &model.Path{Legs: p.Legs, Stations: p.Stations[:k+1], Runs: p.Runs[:k+1-first]},
			&model.Path{Legs: p.Legs, Stations: p.Stations[k:], Runs: p.Runs[k+1-first:], Tails: p.Tails}
	}
	for i, t := range p.Tails {
		if h, r := parted(t, at); r != nil {
			head = &model.Path{Legs: p.Legs, Stations: p.Stations, Runs: p.Runs, Tails: slices.Clone(p.Tails)}
			head.Tails[i] = h
			return head, r
		}
	}
	return p, nil
}
