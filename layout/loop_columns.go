package layout

import (
	"slices"

	"ringout/model"
	"ringout/render"
)

// A loop diagram has one column for each strip, card or other part that its
// lanes land on, in walking order, and a band for each place: the columns that
// stand in it. Every lane is one row, so that every conductor is one straight
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

func columnsOf(legs []*leg) *columns {
	cs := &columns{at: map[*model.Station]*column{}}
	for _, l := range legs {
		cs.walk(l.path, -1, true)
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
// place, the devices that circuits begin on. A lane that lands on two strips of
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
