package record

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// ringRows is a row for every core and screen.
func ringRows(plant *model.Plant, r *ringer) *paper.Table {
	c := r.cable
	tests := insulationTests{alike: true, of: map[*model.Cable]insulationTest{}}
	tests.add(plant, c)
	end := func(e model.CableEnd) []paper.Column {
		return []paper.Column{
			{Head: "At " + e.Tag(), Width: 16 * render.MM, Face: fonts.MonoBold},
			{Head: "Marker", Width: 25 * render.MM, Face: fonts.Mono},
			{Head: "Landed", Turned: true, Width: 6500},
		}
	}
	t := &paper.Table{Columns: slices.Concat([]paper.Column{
		{Head: plant.Say("Core\ncolour"), Width: 17 * render.MM, Face: fonts.MonoBold},
		{Head: "Pol.", Width: 7500, Align: render.Middle, Face: fonts.MonoBold},
	}, end(c.From), end(c.To), tests.columns(plant), []paper.Column{identityColumn, {Head: "Initials", Turned: true, Width: 9 * render.MM}})}
	heading := ""
	for i, core := range c.CoresAndScreens() {
		first := false
		if words := ringGroup(plant, c, core); words != heading || core.Group == 0 {
			heading, first = words, true
			t.Rows = append(t.Rows, paper.Row{Group: words + r.expected(core)})
		}
		row := r.ringRow(core, tests)
		row.ID = fmt.Sprintf("core-%d", i+1)
		if c.Type.Size == 2 && !first && !core.IsScreen() && row.Cells[ringOhms].Kind == paper.Words {
			row.Cells[ringOhms].Kind = paper.Above // one reading of the two, linked
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// ringOhms is the column of the ohms.
const ringOhms = 8

// expected is what two cores of a group should read, linked; "" where it is not
// known, as the head of the sheet says.
func (r *ringer) expected(core *model.Core) string {
	ohms, _, ok := compute.CoreOhms(core.Cable, r.plant.Practice.TestCopper.Celsius)
	if !ok || core.Group == 0 || core.Cable.Status == model.Future {
		return ""
	}
	return "; expect " + r.ohms(2*ohms, ok, core.Cable)
}

// ringGroup is the heading of a group: its name, its binder, and the circuits
// on it or what is done with it as a spare.
func ringGroup(plant *model.Plant, c *model.Cable, core *model.Core) string {
	s, _ := wording.PairAndBinder(plant, core)
	if t := c.Type; t.Size == 1 && core.Group > 0 {
		s = "" // its row has it
	} else if n, hue, ok := t.Binder(core.Group); ok {
		s += fmt.Sprintf(", binder %d %s", n, hue.Letters())
	}
	if core.Group == 0 {
		return s
	}
	var users []string
	seen := map[string]bool{}
	for _, other := range c.Cores {
		w := plant.ConductorOf(other)
		if other.Group != core.Group || w == nil {
			continue
		}
		use := "spare: " + w.Spare
		if w.Doubt != "" {
			use = model.Unknown + ": " + w.Doubt
		}
		if x := w.Circuit; x != nil {
			use = "loop " + x.Loop.Tag
			if x.Name != x.Loop.Tag {
				use += ", circuit " + x.Name
			}
			if w.InService() {
				use = inServiceWords + ", " + use + inServiceAsks
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

// What a ring-out sheet says of a pair that carries a loop in service: it must not
// be taken for a spare.
const (
	inServiceWords = "IN SERVICE"
	inServiceAsks  = ": permit first"
	inServiceHow   = "Pairs " + inServiceWords + " carry live loops: never lift, link or test one without a permit for it."
)

// ringRow is the row of one core or screen.
func (r *ringer) ringRow(core *model.Core, tests insulationTests) paper.Row {
	w := r.plant.ConductorOf(core)
	if w == nil { // the model says nothing of a screen
		w = &model.Conductor{Core: core, Colour: core.Colour, Screen: core.IsScreen(), Status: core.Cable.Status,
			From: model.End{Free: paper.NotGiven, At: core.Cable.From.Tag()}, To: model.End{Free: paper.NotGiven, At: core.Cable.To.Tag()}}
	}
	colour, sign := r.marks(w)
	from, to := core.Cable.Ends(w)
	landed := paper.Cell{Kind: paper.Tick}
	own := append(tests.cells(w), identityBox(w))
	if w.Status == model.Future { // nothing to fill in yet
		landed.Kind = paper.NA
		own = append(make([]paper.Cell, 0, len(own)), paper.Cell{Kind: paper.NA, S: "future"})
		for range tests.columns(r.plant) { // and the identity
			own = append(own, paper.Cell{Kind: paper.Before})
		}
	}
	name := core.Name() + "\n" + colour
	if w.InService() {
		name += "\n" + inServiceWords
	}
	cells := []paper.Cell{
		{S: name}, {S: sign},
		{S: ringEnd(w, from)}, r.ringMarker(w, from), landed,
		{S: ringEnd(w, to)}, r.ringMarker(w, to), landed,
	}
	return paper.Row{Data: r.rowData(w), Cells: append(append(cells, own...), paper.Cell{})}
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

// ringMarker is the cell of what the marker reads, on two lines where it names both
// ends.
func (r *ringer) ringMarker(w *model.Conductor, e model.End) paper.Cell {
	c := r.marker(w, e)
	c.S = strings.Replace(c.S, " / ", "\n/ ", 1)
	return c
}
