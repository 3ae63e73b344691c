package enclosure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
)

// cableTable lists the cables of a place with their glands and what is spare.
func cableTable(plant *model.Plant, v *PlaceView) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Cable", Width: 34 * render.MM, Face: fonts.Mono},
		{Head: "Type", Width: 42 * render.MM},
		{Head: "Far end", Width: 32 * render.MM, Face: fonts.Mono},
		{Head: "Length", Width: 16 * render.MM, Align: render.Right},
		{Head: "Gland", Width: 36 * render.MM},
		{Head: "Groups", Width: 20 * render.MM},
		{Head: "In use", Width: 13 * render.MM, Align: render.Right},
		{Head: "Spare", Width: 13 * render.MM, Align: render.Right},
		{Head: "Status", Width: 17 * render.MM},
		{Head: "Tag fixed", Width: 17 * render.MM},
	}}
	for _, c := range v.cables {
		if c.Type == nil {
			continue
		}
		used, spare := wording.UseWords(c, plant)
		length, gland := wording.Given(c.LengthWords()), v.gland(c)
		if gland == "" {
			gland = paper.NotGiven
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, ID: "tag-" + sheet.PlainName(c.Tag), Data: []render.Datum{{Key: "cable", Value: c.Tag}}, Cells: []paper.Cell{
			{S: c.Tag, Bold: true}, {S: wording.Joined(c.Type.Name, sheath(c))}, {S: v.farEnd(c).Tag()}, {S: length}, {S: gland},
			{S: finding.Count(c.Type.Groups, plant.Say(c.Type.GroupWord()))}, {S: used}, {S: spare},
			{S: c.Status.String()}, {Kind: paper.Tick},
		}})
	}
	return t
}

// partTable counts the terminals of a place. Bars take any number.
func (v *PlaceView) partTable() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Strip, part", Width: 34 * render.MM, Face: fonts.Mono},
		{Head: "Terminals", Width: 20 * render.MM, Align: render.Right},
		{Head: "In use", Width: 18 * render.MM, Align: render.Right},
		{Head: "Spare", Width: 18 * render.MM, Align: render.Right},
	}}
	row := func(name string, n, spare int, known bool) {
		used, free := fmt.Sprint(n-spare), fmt.Sprint(spare)
		if !known {
			used, free = model.Unknown, model.Unknown
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: name, Bold: true}, {S: fmt.Sprint(n)}, {S: used}, {S: free}}})
	}
	all, spare, known := 0, 0, true
	for _, p := range v.parts {
		if p.part.Kind.Bar {
			continue
		}
		n := len(p.part.Terminals)
		all, spare = all+n, spare+p.spare
		sure := !slices.ContainsFunc(p.part.Terminals, func(t *model.Terminal) bool { return t.Doubt != "" })
		known = known && sure
		row(p.part.Name(), n, p.spare, sure)
	}
	if len(t.Rows) > 1 {
		row("all", all, spare, known)
	}
	return t
}

// notLandedTable lists what lands on no terminal in a place, a pair or a screen a
// row; nil when there is nothing.
func notLandedTable(plant *model.Plant, all []landing) *paper.Table {
	type entry struct {
		core      *model.Core
		colours   []string
		here, far []string
		farPart   *model.Part // where the first far end is landed; nil for none
		screen    bool
	}
	type key struct {
		cable *model.Cable
		group int
	}
	var order []*entry
	at := map[key]*entry{}
	for _, l := range all {
		core := l.c.Core
		k := key{core.Cable, core.Group}
		e := at[k]
		if e == nil {
			e = &entry{core: core}
			at[k] = e
			order = append(order, e)
		}
		if core.IsScreen() {
			e.screen = true
		} else {
			e.colours = append(e.colours, wording.Colour(plant, l.c.Colour))
		}
		if !slices.Contains(e.here, l.end.Free) {
			e.here = append(e.here, l.end.Free)
		}
		far := l.far.Free
		if t := l.far.Terminal; t != nil {
			far = t.Tag()
			switch {
			case len(e.far) == 0:
				e.farPart = t.Part
			case e.farPart == t.Part:
				far = t.Name
			}
		}
		if !slices.Contains(e.far, far) {
			e.far = append(e.far, far)
		}
	}
	if len(order) == 0 {
		return nil
	}
	rank := map[*model.Cable]int{}
	for _, e := range order {
		if _, ok := rank[e.core.Cable]; !ok {
			rank[e.core.Cable] = len(rank)
		}
	}
	slices.SortStableFunc(order, func(a, b *entry) int {
		return cmp.Or(rank[a.core.Cable]-rank[b.core.Cable], a.core.Group-b.core.Group)
	})
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Cable", Face: fonts.Mono}, {Head: "Not landed"}, {Head: plant.Say("Cores")}, {Head: "Here"}, {Head: "Far end"}, {Head: "Done"},
	}}
	for _, e := range order {
		cores := strings.Join(e.colours, " ")
		if e.screen && len(e.colours) > 0 {
			cores += plant.Say(" + screen")
		} else if e.screen {
			cores = plant.Say("screen")
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, ID: fmt.Sprintf("idle-%s-%d", sheet.PlainName(e.core.Cable.Tag), e.core.Group), Data: []render.Datum{
			{Key: "cable", Value: e.core.Cable.Tag}, {Key: "group", Value: fmt.Sprint(e.core.Group)}, {Key: "spare", Value: strings.Join(e.here, ", ")},
		}, Cells: []paper.Cell{
			{S: e.core.Cable.Tag, Bold: true}, {S: wording.PairWords(plant, e.core)}, {S: cores}, {S: strings.Join(e.here, ", ")}, {S: strings.Join(e.far, ", ")}, {Kind: paper.Tick},
		}})
	}
	fit(t, 18*render.MM, 48*render.MM)
	t.Columns[len(t.Columns)-1].Width = 12 * render.MM
	return t
}

// fit gives every column the width that its words ask for, within bounds.
func fit(t *paper.Table, least, most render.Len) {
	for i := range t.Columns {
		c := &t.Columns[i]
		c.Width = least
		for _, r := range t.Rows {
			cell := r.Cells[i]
			c.Width = max(c.Width, min(most, render.Measure(cell.Face(*c), cell.S, paper.Lettered)+2*paper.CellPad))
		}
	}
}
