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

// linkTable lists the links that come to a place.
func linkTable(plant *model.Plant, pl *model.Place) *paper.Table {
	head := "Link"
	if pl.Controller != nil {
		head = "Link; remote I/O of " + pl.Controller.Tag
	}
	t := &paper.Table{Columns: []paper.Column{
		{Head: head, Width: 50 * render.MM, Face: fonts.Mono},
		{Head: "Type", Width: 36 * render.MM},
		{Head: "Port here", Width: 34 * render.MM},
		{Head: "Far end", Width: 46 * render.MM, Face: fonts.Mono},
		{Head: "Cable", Width: 44 * render.MM, Face: fonts.Mono},
		{Head: "Length", Width: 20 * render.MM, Align: render.Right},
		{Head: "Route", Width: 50 * render.MM},
		{Head: "Tag fixed", Width: 17 * render.MM},
	}}
	links := plant.Links(pl)
	if len(links) == 0 && pl.Controller != nil {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: paper.NotGiven, Bold: true}}})
	}
	for _, l := range links {
		if !l.Plugged() {
			t.Rows = append(t.Rows, serialRow(pl, l))
			continue
		}
		k := &l.Segment.Plug
		for i, e := range k.Ends {
			if e.Place != pl {
				continue
			}
			far := ""
			if len(k.Ends) == 2 {
				far = k.Ends[1-i].Tag()
			}
			t.Rows = append(t.Rows, paper.Row{Print: true, ID: "link-" + sheet.PlainName(l.Tag), Data: []render.Datum{{Key: "link", Value: l.Tag}}, Cells: []paper.Cell{
				{S: l.Tag, Bold: true}, {S: wording.LinkKind(l)}, {S: wording.Given(e.Port)}, {S: wording.Given(far)}, {S: wording.PlugCable(l)},
				{S: wording.Given(k.LengthWords())}, {S: wording.Given(k.Route)}, {Kind: paper.Tick},
			}})
		}
	}
	return t
}

// serialRow is a serial link as the table of links has it; its cables are tagged in that of
// cables.
func serialRow(pl *model.Place, l *model.Loop) paper.Row {
	var far, ways []string
	for _, o := range l.Joins() {
		if o != pl {
			far = append(far, o.Tag)
		}
	}
	ways = l.LinkRoutes()
	return paper.Row{Print: true, ID: "link-" + sheet.PlainName(l.Tag), Data: []render.Datum{{Key: "link", Value: l.Tag}}, Cells: []paper.Cell{
		{S: l.Tag, Bold: true}, {S: wording.LinkKind(l)}, {S: "see its segment"}, {S: wording.Few(far)}, {S: wording.Few(l.LinkCables())},
		{S: "see cables"}, {S: wording.Given(wording.Few(ways))}, {Kind: paper.NA},
	}}
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

// idle is a pair, or other group of cores, of which something lands on no terminal in a
// place.
type idle struct {
	core      *model.Core
	names     []string // of it, and of those of the cable that are like it
	groups    []string // their numbers
	colours   []string
	here, far []string
	farPart   *model.Part // where the first far end is landed; nil for none
	screen    bool
	mixed     bool // the colours of those like it are others
}

// idles gathers what is not landed, a group each, in the order of the cables and groups.
func idles(plant *model.Plant, all []landing) []*idle {
	type key struct {
		cable *model.Cable
		group int
	}
	var order []*idle
	at := map[key]*idle{}
	rank := map[*model.Cable]int{}
	for _, l := range all {
		core := l.c.Core
		k := key{core.Cable, core.Group}
		e := at[k]
		if e == nil {
			e = &idle{core: core, names: []string{wording.PairWords(plant, core)}, groups: []string{fmt.Sprint(core.Group)}}
			at[k] = e
			order = append(order, e)
		}
		if _, ok := rank[core.Cable]; !ok {
			rank[core.Cable] = len(rank)
		}
		e.add(plant, l)
	}
	slices.SortStableFunc(order, func(a, b *idle) int {
		return cmp.Or(rank[a.core.Cable]-rank[b.core.Cable], a.core.Group-b.core.Group)
	})
	return order
}

// add adds a core or screen of the group.
func (e *idle) add(plant *model.Plant, l landing) {
	if l.c.Core.IsScreen() {
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

// like reports whether two groups of a cable stand in one row: whole ones that end
// alike, on no terminal at either end.
func (e *idle) like(o *idle) bool {
	whole := func(e *idle) bool {
		return e.core.Group > 0 && e.farPart == nil && len(e.colours) == e.core.Cable.Type.Size
	}
	return whole(e) && whole(o) && e.core.Cable == o.core.Cable && e.screen == o.screen && slices.Equal(e.here, o.here) && slices.Equal(e.far, o.far)
}

// cores are the colours of a group, or each of several that differ in them.
func (e *idle) cores(plant *model.Plant) string {
	cores := strings.Join(e.colours, " ")
	if e.mixed {
		cores = "each"
	}
	switch {
	case e.screen && cores != "":
		return cores + plant.Say(" + screen")
	case e.screen:
		return plant.Say("screen")
	}
	return cores
}

const groupsColumn = 1 // of the cores that are not landed

// notLandedTable lists what lands on no terminal in a place: a row for a pair or a
// screen, or for all of a cable that are spare in the same way; nil when there is nothing.
func notLandedTable(plant *model.Plant, all []landing) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Cable", Face: fonts.Mono}, {Head: "Not landed"}, {Head: plant.Say("Cores")}, {Head: "Here"}, {Head: "Far end"}, {Head: "Done"},
	}}
	var rows []*idle
	for _, e := range idles(plant, all) {
		if i := slices.IndexFunc(rows, e.like); i >= 0 {
			rows[i].names, rows[i].groups = append(rows[i].names, e.names...), append(rows[i].groups, e.groups...)
			rows[i].mixed = rows[i].mixed || !slices.Equal(rows[i].colours, e.colours)
			continue
		}
		rows = append(rows, e)
	}
	for _, e := range rows {
		cable, here := e.core.Cable.Tag, strings.Join(e.here, ", ")
		t.Rows = append(t.Rows, paper.Row{Print: true, ID: fmt.Sprintf("idle-%s-%d", sheet.PlainName(cable), e.core.Group), Data: []render.Datum{
			{Key: "cable", Value: cable}, {Key: "group", Value: strings.Join(e.groups, " ")}, {Key: "spare", Value: here},
		}, Cells: []paper.Cell{
			{S: cable, Bold: true}, {S: listed(e.names)}, {S: e.cores(plant)}, {S: here}, {S: strings.Join(e.far, ", ")}, {Kind: paper.Tick},
		}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	fit(t, 18*render.MM, 48*render.MM)
	t.Columns[groupsColumn].Width = 180 * render.MM // of names, one after the other
	t.Columns[len(t.Columns)-1].Width = 12 * render.MM
	return t
}

// listed are names one after the other; what they begin with, and end with, alike stands
// once: pair 2, 4, 7 BK-BU.
func listed(names []string) string {
	word, _, _ := strings.Cut(names[0], " ")
	tail := names[0][strings.LastIndexByte(names[0], ' ')+1:]
	for _, s := range names {
		if !strings.HasPrefix(s, word+" ") {
			word = ""
		}
		if strings.Count(s, " ") < 2 || !strings.HasSuffix(s, " "+tail) {
			tail = ""
		}
	}
	if len(names) == 1 {
		return names[0]
	}
	short := make([]string, len(names))
	for i, s := range names {
		short[i] = s
		if word != "" {
			short[i] = strings.TrimPrefix(short[i], word+" ")
		}
		if tail != "" {
			short[i] = strings.TrimSuffix(short[i], " "+tail)
		}
	}
	return strings.TrimSpace(word + " " + strings.Join(short, ", ") + " " + tail)
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
