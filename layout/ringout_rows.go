package layout

import (
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// ringRows is a row for every core and screen.
func (pl *Plan) ringRows(r *ringer) *Table {
	c, pr := r.cable, pl.Plant.Practice
	limit, _ := pl.Plant.InsulationLimit(c)
	t := &Table{Columns: []Column{
		{Head: "Core\ncolour", Width: 18 * render.MM, Face: fonts.MonoBold},
		{Head: "Pol.", Width: 8500, Align: render.Middle, Face: fonts.MonoBold},
		{Head: "At " + c.From.Tag(), Width: 16 * render.MM, Face: fonts.MonoBold},
		{Head: "Marker there", Width: 26 * render.MM, Face: fonts.Mono},
		{Head: "At " + c.To.Tag(), Width: 16 * render.MM, Face: fonts.MonoBold},
		{Head: "Marker there", Width: 26 * render.MM, Face: fonts.Mono},
		{Head: "Ω read", Width: 14 * render.MM},
		{Head: "No short", Turned: true, Width: 6500},
		{Head: "No earth", Turned: true, Width: 6500},
		{Head: "Free end", Turned: true, Width: 6500},
		{Head: fmt.Sprintf("MΩ\n%s V DC\n≥ %s", plain(pr.TestVolts), plain(limit)), Width: 15 * render.MM},
		{Head: "Initials", Turned: true, Width: 11 * render.MM},
	}}
	megohm := len(t.Columns) - 2
	if pr.TestVolts <= 0 {
		t.Columns = append(t.Columns[:megohm], t.Columns[megohm+1])
	}
	heading := ""
	for i, core := range c.Strands() {
		if words := pl.ringGroup(c, core); words != heading || core.Group == 0 {
			heading = words
			t.Rows = append(t.Rows, Row{Group: words})
		}
		row := r.ringRow(core)
		row.ID = fmt.Sprintf("core-%d", i+1)
		if pr.TestVolts <= 0 {
			row.Cells = append(row.Cells[:megohm:megohm], row.Cells[megohm+1:]...)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// manyPairs is how many pairs a cable has that is parted by binders.
const manyPairs = 25

// ringGroup is the heading of a group: its name, its binder, and the circuits
// on it or what is done with it as a spare.
func (pl *Plan) ringGroup(c *model.Cable, core *model.Core) string {
	s := pl.pairWords(core)
	if t := c.Type; t.Size == 1 && core.Group > 0 {
		s = "" // its row says it
	} else if t.Code != nil && t.Groups > manyPairs {
		if n, hue, ok := t.Code.Binder(core.Group, t.Size); ok {
			s = strings.TrimSuffix(s, " in "+hue.Letters()) + fmt.Sprintf(", binder %d %s", n, hue.Letters())
		}
	}
	if core.Group == 0 {
		return s
	}
	var users []string
	seen := map[string]bool{}
	for _, other := range c.Cores {
		w := pl.Plant.ConductorOf(other)
		if other.Group != core.Group || w == nil {
			continue
		}
		use := "spare: " + w.Spare
		if x := w.Circuit; x != nil {
			use = "loop " + x.Loop.Tag
			if x.Name != x.Loop.Tag {
				use += ", circuit " + x.Name
			}
		}
		if !seen[use] {
			seen[use] = true
			users = append(users, use)
		}
	}
	if s != "" {
		s += ": "
	}
	return s + strings.Join(users, " · ")
}

// ringRow is the row of one core or screen.
func (r *ringer) ringRow(core *model.Core) Row {
	w := r.plant.ConductorOf(core)
	if w == nil { // the model says nothing of a screen
		w = &model.Conductor{Core: core, Colour: core.Colour, Screen: core.IsScreen(), Status: core.Cable.Status,
			From: model.End{Free: notGiven, At: core.Cable.From.Tag()}, To: model.End{Free: notGiven, At: core.Cable.To.Tag()}}
	}
	colour, sign := r.marks(w)
	tick := func(when bool) Cell {
		if when {
			return Cell{Kind: Tick}
		}
		return Cell{Kind: NA}
	}
	megohm := Cell{}
	if w.Screen {
		megohm = Cell{Kind: NA}
	}
	from, to := core.Cable.Ends(w)
	return Row{
		Data: r.rowData(w),
		Cells: []Cell{
			{S: core.Name() + "\n" + colour}, {S: sign},
			{S: ringEnd(w, from)}, {S: r.ringMarker(w, from)}, {S: ringEnd(w, to)}, {S: r.ringMarker(w, to)},
			{}, {Kind: Tick}, tick(!w.Screen), tick(w.Screen), megohm, {},
		},
	}
}

// ringEnd is a terminal without its place, which the head of the column has. An
// end on none says why; what is done with a spare stands in the heading.
func ringEnd(w *model.Conductor, e model.End) string {
	switch {
	case e.Terminal != nil && e.Terminal.Part.Place != nil:
		return e.Terminal.Part.Name() + ":" + e.Terminal.Name
	case e.Terminal != nil:
		return e.Terminal.Tag()
	case w.Spare != "":
		return "spare"
	}
	return e.Free
}

// ringMarker is what the marker reads, on two lines where it names both ends. A
// core that lands nowhere bears none.
func (r *ringer) ringMarker(w *model.Conductor, e model.End) string {
	if e.Terminal == nil && w.Circuit == nil {
		return "–"
	}
	return strings.Replace(r.plant.Marker(w, e), " / ", "\n/ ", 1)
}
