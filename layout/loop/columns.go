package loop

import (
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/colour"
	"ringout/render"
)

// measure gives every column its place from left to right and returns the
// width needed at the least. Width that is left over goes to the gaps.
func (cs *columns) measure(pl *sheet.Plan, segments []*segment, ws widths, in paper.Area) render.Len {
	gaps := make([]render.Len, len(cs.all)) // before each column
	index := map[*column]int{}
	for i, c := range cs.all {
		index[c] = i
		c.wide, c.left, c.right = termWide, 0, 0
		if i > 0 {
			gaps[i] = leastWires
			if c.place != cs.all[i-1].place {
				gaps[i] = leastCable * ws.label / 100
			}
		}
	}
	for range 2 { // runs past other columns need to know how wide those are
		for _, l := range segments {
			(&needs{cs, pl, l, index, gaps, ws}).path(l.path, nil)
		}
	}
	var width render.Len
	for i, c := range cs.all {
		width += gaps[i] + c.left + c.wide + c.right
	}
	room := in.W() - 2*wallGap
	if functional(segments) {
		room -= ws.funct
	}
	spare := max(0, room-width)
	x, last := in.Min.X+wallGap, 0
	for i, c := range cs.all {
		x += gaps[i] + c.left
		if at, ok := cs.anchor(i); ok && in.Min.X+at > x {
			move := min(in.Min.X+at-x, spare)
			x, spare, last = x+move, spare-move, i
		}
		c.x = x
		x += c.wide + c.right
	}
	if n := len(cs.all) - 1 - last; n > 0 { // what is left goes to the gaps behind the last anchor
		share := min(spare/render.Len(n), 22*render.MM)
		for i, c := range cs.all[last+1:] {
			c.x += share * render.Len(i+1)
		}
	}
	return in.W() - room + width
}

// anchors are how far from the left the first terminals of a place stand, where
// there is room: the same on every sheet of a set.
var anchors = map[model.PlaceKind]render.Len{
	model.Box: 134 * render.MM, model.Cabinet: 200 * render.MM, model.System: 268 * render.MM,
}

// anchor is where a column stands that is the first in a place of its kind.
func (cs *columns) anchor(i int) (render.Len, bool) {
	kind := rank(cs.all[i].place)
	at, ok := anchors[kind]
	return at, ok && !slices.ContainsFunc(cs.all[:i], func(c *column) bool { return rank(c.place) == kind })
}

// needs widens columns, and the gaps before them, to what the paths of a segment ask for.
type needs struct {
	cs      *columns
	pl      *sheet.Plan
	segment *segment
	index   map[*column]int
	gaps    []render.Len
	ws      widths
}

// path widens them to what one path asks for.
func (n *needs) path(path *model.Path, from *model.Station) {
	cs, pl, l, index, gaps, ws := n.cs, n.pl, n.segment, n.index, n.gaps, n.ws
	runs := path.Runs
	for i, st := range path.Stations {
		col := cs.at[st]
		for _, termination := range st.Terminations {
			switch {
			case termination.Does != model.Lands:
			case termination.In != termination.Out:
				col.wide = max(col.wide, 2*termWide+ws.through)
			case termination.In.HasBreak() || termination.In.Kind == model.EarthFoot:
				col.wide = max(col.wide, 2*termWide)
			}
		}
		last := i == len(path.Stations)-1 && len(path.Tails) == 0
		switch {
		case from == nil && l.prev != nil:
			col.left = max(col.left, breakWidth)
		case l.goes == st:
			col.right = max(col.right, breakWidth)
		case from == nil && st.Part.Device != nil:
			col.left = max(col.left, ws.device)
		case last && st.Part.Strip == nil:
			col.right = max(col.right, ws.card)
		}
		for k := range st.Terminations {
			if parkedAt(l.circuit, path, st, k) != "" {
				col.right = max(col.right, parkedWide)
			}
			if f := fedAt(l.circuit, path, st, k); f != nil && l.goes != st && (from != nil || l.prev == nil) {
				col.right = max(col.right, ws.feed, paper.Narrowest(fonts.Mono, f.Supply.Tag())+feedLead-feedOver)
			}
		}
		if st.Screen.Does == model.Lands && st.Screen.In.Bar {
			col.right = max(col.right, 16*render.MM)
		}
		if from != nil {
			run := runs[0]
			runs = runs[1:]
			a, b := index[cs.at[from]], index[col]
			w := 2*labelWidth(pl.Plant, run, st.Part.Place)*ws.label/100 + 11*render.MM
			have := cs.all[a].right + cs.all[b].left
			if cs.all[a].place != cs.all[b].place {
				w += 2*wallGap - 5*render.MM
			}
			if run.Kind == model.CableRun {
				w = max(w, cableWidth(pl.Plant, run, ws)+2*wallGap+render.MM)
			}
			if cs.all[a].place == cs.all[b].place && cs.parted(a, b) { // each label stands within its wall
				label := labelWidth(pl.Plant, run, st.Part.Place)*ws.label/100 + 800
				cs.all[a].right, cs.all[b].left = max(cs.all[a].right, label), max(cs.all[b].left, label)
			}
			if cs.all[a].place != cs.all[b].place {
				first, last := cs.outer(a, b)
				gaps[first] = max(gaps[first], w)
				if first < last { // it passes by a place: ring and one label stand before it
					gaps[last] = max(gaps[last], labelWidth(pl.Plant, run, st.Part.Place)*ws.label/100+2*wallGap+3*render.MM)
				}
				from = st
				continue
			}
			for i := a + 1; i <= b; i++ {
				have += gaps[i]
				if i < b {
					have += cs.all[i].left + cs.all[i].wide + cs.all[i].right
				}
			}
			gaps[b] += max(0, w-have)
		}
		from = st
	}
	for _, t := range path.Tails {
		n.path(t, from)
	}
}

// parted reports whether a column of another place stands between two of one.
func (cs *columns) parted(a, b int) bool {
	return slices.ContainsFunc(cs.all[min(a, b):max(a, b)], func(c *column) bool { return c.place != cs.all[a].place })
}

// outer returns the gap behind the place of column a, and the one before the
// place of column b.
func (cs *columns) outer(a, b int) (first, last int) {
	first, last = a+1, b
	for first < b && cs.all[first].place == cs.all[a].place {
		first++
	}
	for last > first && cs.all[last-1].place == cs.all[b].place {
		last--
	}
	return first, last
}

// cableWidth is the room that the words on a cable need between the walls.
func cableWidth(plant *model.Plant, run *model.Run, ws widths) render.Len {
	least := func(face fonts.Face, s string, lines render.Len) render.Len {
		return render.Measure(face, s, paper.Heights[0]) * paper.LeastNarrow / 100 / lines
	}
	w := least(fonts.MonoBold, run.Cable.Tag+" (E), IS", 1)
	name, colours := wording.PairName(plant, run)
	w = max(w, least(fonts.Mono, name, 1), least(fonts.Mono, colours, 1))
	return max(w, least(fonts.Sans, wording.CableWords(run.Cable), 2)+6*render.MM)*(100+ws.label)/(100+paper.LeastNarrow) + render.MM
}

// labelWidth is the width of the widest core label of a run; place is where its
// wires are.
func labelWidth(plant *model.Plant, run *model.Run, place *model.Place) render.Len {
	colours := run.Colours
	switch {
	case run.Kind == model.JumperRun:
		return render.Measure(fonts.Mono, "jumper +", paper.PlainHeight)
	case run.Kind == model.CableRun:
		for _, core := range run.Cores {
			colours = append(colours[:len(colours):len(colours)], core.Colour)
		}
	case len(colours) == 0 && place != nil:
		colours = []colour.Colour{place.Colour}
	}
	w := render.Measure(fonts.Mono, "BU +", paper.PlainHeight)
	for _, c := range colours {
		w = max(w, render.Measure(fonts.Mono, wording.Colour(plant, c)+" +", paper.PlainHeight))
	}
	return w
}

// A loop diagram has one column for each strip, card or other part that its
// legs land on, in walking order, and a band for each place: the columns that
// stand in it. Every leg is one row, so that every conductor is one straight
// line across the sheet.

// column is one part, or one row of like parts, of a loop diagram.
type column struct {
	key   string
	place *model.Place // nil in the field
	left  render.Len   // needed left of the terminals
	wide  render.Len   // of the terminals themselves, and what is between in and out
	right render.Len   // needed right of them
	x     render.Len   // left edge of the terminals
}

// band is a run of columns in one place.
type band struct {
	place    *model.Place
	from, to int // columns, to not included
}

// columns are those of a tier, and which station stands in which.
type columns struct {
	all []*column
	at  map[*model.Station]*column
}

func columnsOf(segments []*segment) *columns {
	cs := &columns{at: map[*model.Station]*column{}}
	for _, l := range segments {
		cs.walk(l.path, -1, l.prev == nil)
	}
	return cs
}

// walk gives the stations of a path columns to the right of column after.
func (cs *columns) walk(path *model.Path, after int, first bool) {
	for i, st := range path.Stations {
		begins := first && i == 0
		key := columnKey(st.Part, begins)
		n := cs.find(key, after)
		if n < 0 {
			n = cs.insert(&column{key: key, place: st.Part.Place}, after)
		}
		cs.at[st] = cs.all[n]
		after = n
	}
	for _, t := range path.Tails {
		cs.walk(t, after, false)
	}
}

// columnKey names what shares a column: the strips, barriers or cards of one
// place, the devices that circuits begin on. A leg that lands on two strips of
// a place gives it two columns of strips.
func columnKey(p *model.Part, begins bool) string {
	where := ""
	if p.Place != nil {
		where = p.Place.Tag
	}
	switch {
	case p.Strip != nil:
		return where + " strip"
	case p.Barrier != nil:
		return where + " barrier"
	case p.Card != nil, p.Supply != nil:
		return where + " card"
	case begins:
		return where + " device"
	}
	return where + " instrument"
}

func (cs *columns) find(key string, after int) int {
	for i := after + 1; i < len(cs.all); i++ {
		if cs.all[i].key == key {
			return i
		}
	}
	return -1
}

// insert puts a new column behind column after: within its band if it is of
// the same place, else behind the band and behind bands nearer to the field.
func (cs *columns) insert(c *column, after int) int {
	at := after + 1
	if after >= 0 && cs.all[after].place != c.place {
		for at < len(cs.all) && cs.all[at].place == cs.all[after].place {
			at++
		}
	}
	if after < 0 || cs.all[after].place != c.place {
		for at < len(cs.all) && cs.all[at].place != c.place && rank(cs.all[at].place) < rank(c.place) {
			at++
		}
		// A band that stands here already takes the column in, at its left.
	}
	cs.all = slices.Insert(cs.all, at, c)
	return at
}

func rank(p *model.Place) model.PlaceKind {
	if p == nil {
		return model.Field
	}
	return p.Kind
}

// bands returns the runs of columns in one place.
func (cs *columns) bands() []band {
	var all []band
	for i, c := range cs.all {
		if n := len(all); n > 0 && all[n-1].place == c.place {
			all[n-1].to = i + 1
			continue
		}
		all = append(all, band{c.place, i, i + 1})
	}
	return all
}

// east and west are where conductors meet a column.
func (c *column) west() render.Len { return c.x }

func (c *column) east() render.Len { return c.x + c.wide }
