package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// cableTable lists the cables of a place with their glands and what is spare.
func (pl *Plan) cableTable(v *placeView) *Table {
	t := &Table{Columns: []Column{
		{Head: "Cable", Width: 34 * render.MM, Face: fonts.Mono},
		{Head: "Type", Width: 42 * render.MM},
		{Head: "Far end", Width: 32 * render.MM, Face: fonts.Mono},
		{Head: "Length", Width: 16 * render.MM, Align: render.Right},
		{Head: "Gland", Width: 36 * render.MM},
		{Head: "Groups", Width: 20 * render.MM},
		{Head: "In use", Width: 13 * render.MM, Align: render.Right},
		{Head: "Spare", Width: 13 * render.MM, Align: render.Right},
		{Head: "State", Width: 17 * render.MM},
		{Head: "Tag fixed", Width: 17 * render.MM},
	}}
	for _, c := range v.cables {
		if c.Type == nil {
			continue
		}
		used, spare := useWords(c, pl.Plant)
		length, gland := given(c.LengthWords()), v.gland(c)
		if gland == "" {
			gland = notGiven
		}
		t.Rows = append(t.Rows, Row{Print: true, ID: "tag-" + plainName(c.Tag), Data: []render.Datum{{Key: "cable", Value: c.Tag}}, Cells: []Cell{
			{S: c.Tag, Bold: true}, {S: joined(c.Type.Name, sheath(c))}, {S: v.farEnd(c).Tag()}, {S: length}, {S: gland},
			{S: counted(c.Type.Groups, c.Type.GroupWord())}, {S: used}, {S: spare},
			{S: c.Status.String()}, {Kind: Tick},
		}})
	}
	return t
}

// useWords are how many groups of a cable are in use and spare. What errors leave
// open says so.
func useWords(c *model.Cable, p *model.Plant) (used, spare string) {
	in, out, _, known := c.InUse(p)
	if !known {
		return model.Unknown, model.Unknown
	}
	return fmt.Sprint(in), fmt.Sprint(out)
}

// partTable counts the terminals of a place. Bars take any number.
func (v *placeView) partTable() *Table {
	t := &Table{Columns: []Column{
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
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: name, Bold: true}, {S: fmt.Sprint(n)}, {S: used}, {S: free}}})
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

func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// idleTable lists what lands on no terminal in a place, a pair or a screen a
// row; nil when there is nothing.
func (pl *Plan) idleTable(all []landing) *Table {
	type entry struct {
		core      *model.Core
		colours   []string
		here, far []string
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
			e.colours = append(e.colours, pl.colour(l.c.Colour))
		}
		if !slices.Contains(e.here, l.end.Free) {
			e.here = append(e.here, l.end.Free)
		}
		far := l.far.Free
		if t := l.far.Terminal; t != nil {
			far = t.Tag()
			if len(e.far) > 0 && e.far[0] != "" && strings.HasPrefix(far, t.Part.Tag) && strings.HasPrefix(e.far[0], t.Part.Tag+":") {
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
	t := &Table{Columns: []Column{
		{Head: "Cable", Face: fonts.Mono}, {Head: "Not landed"}, {Head: "Cores"}, {Head: "Here"}, {Head: "Far end"}, {Head: "Seen"},
	}}
	for _, e := range order {
		cores := strings.Join(e.colours, " ")
		if e.screen && len(e.colours) > 0 {
			cores += " + screen"
		} else if e.screen {
			cores = "screen"
		}
		t.Rows = append(t.Rows, Row{Print: true, ID: fmt.Sprintf("idle-%s-%d", plainName(e.core.Cable.Tag), e.core.Group), Data: []render.Datum{
			{Key: "cable", Value: e.core.Cable.Tag}, {Key: "group", Value: fmt.Sprint(e.core.Group)}, {Key: "spare", Value: strings.Join(e.here, ", ")},
		}, Cells: []Cell{
			{S: e.core.Cable.Tag, Bold: true}, {S: pl.pairWords(e.core)}, {S: cores}, {S: strings.Join(e.here, ", ")}, {S: strings.Join(e.far, ", ")}, {Kind: Tick},
		}})
	}
	t.fit(18*render.MM, 48*render.MM)
	t.Columns[len(t.Columns)-1].Width = 12 * render.MM
	return t
}

// fit gives every column the width that its words ask for, within bounds.
func (t *Table) fit(least, most render.Len) {
	for i := range t.Columns {
		c := &t.Columns[i]
		c.Width = least
		for _, r := range t.Rows {
			cell := r.Cells[i]
			c.Width = max(c.Width, min(most, render.Measure(cell.face(*c), cell.S, lettered)+2*cellPad))
		}
	}
}
