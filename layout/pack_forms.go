package layout

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// This file holds the tables of the pack's own pages.

// cover lays the cover; sheets are all pages of the pack, nil while they are
// still being put together.
func (p *Pack) cover(sheets []*Sheet) []*Sheet {
	contents, listed := p.contents(sheets)
	all := []section{{table: p.identity(), whole: true}}
	if len(p.asked) > mostAsked {
		all = append(all, section{table: p.all()})
	}
	at := len(all)
	all = append(all, section{title: "Contents", table: contents})
	add := func(title string, t *Table) {
		if len(t.Rows) > 0 {
			all = append(all, section{title: title, table: t, whole: true})
		}
	}
	add("Before the work", p.cautions())
	add("", permits(p.hazard()))
	add("", p.isolation())
	add("Tools and test instruments", p.tools())
	material, practice := p.material()
	add("Material and work", material)
	add("", practice)
	return p.form(coverKind, "Field pack "+p.Words, all, at, listed)
}

// identity says what the pack is for and of which issue it is.
func (p *Pack) identity() *Table {
	pl := p.plan
	plant, rev := pl.Plant, pl.Newest()
	issue := given(rev.Mark)
	if rev.Date != "" {
		issue += " of " + rev.Date
	}
	t := &Table{Columns: []Column{
		{Head: "Pack for", Width: 22 * render.MM},
		{Head: p.Words, Width: 70 * render.MM},
		{Head: "Issue", Width: 22 * render.MM},
		{Head: issue, Width: 56 * render.MM},
	}}
	row := func(a, b, c, d string) {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: a}, {S: b, Bold: true}, {S: c}, {S: d, Bold: true}}})
	}
	var rung []string
	for _, c := range p.rung {
		rung = append(rung, c.Tag)
	}
	cables := "none by itself"
	if len(rung) > 0 {
		cables = short(rung) // the contents have them all
	}
	status := plant.Status
	if pl.issues != nil {
		status = pl.issues.newest.Status
	}
	row("Plant", given(plant.Name), "Status", given(status))
	row("Project", given(plant.Project), "Loops", strconv.Itoa(len(p.loops)))
	row("Rung out", cables, "Sheet numbers", "those of the set; 12/B4 is sheet 12, zone B4")
	return t
}

// askedAcross is how many things that were asked for stand side by side.
const askedAcross = 4

// all lists what the pack is for where that is more than a title holds.
func (p *Pack) all() *Table {
	t := &Table{}
	for i := range askedAcross {
		head := ""
		if i == 0 {
			head = "For all of these"
		}
		t.Columns = append(t.Columns, Column{Head: head, Width: 42 * render.MM})
	}
	for some := range slices.Chunk(p.asked, askedAcross) {
		row := Row{Print: true}
		for _, s := range some {
			row.Cells = append(row.Cells, Cell{S: s})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// contents lists the drawings of the pack in its order, a row each.
func (p *Pack) contents(sheets []*Sheet) (*Table, []*Sheet) {
	t := &Table{Columns: []Column{
		{Head: "Pack\npage", Width: 16 * render.MM, Align: render.Right, Face: fonts.MonoBold},
		{Head: "Sheet of\nthe set", Width: 18 * render.MM, Align: render.Right, Face: fonts.Mono},
		{Head: "Drawing number", Width: 36 * render.MM, Face: fonts.Mono},
		{Head: "What it shows", Width: 44 * render.MM},
		{Head: "Kind", Width: 27 * render.MM},
		{Head: "Rev", Width: 9 * render.MM, Align: render.Middle, Face: fonts.Mono},
		{Head: "Wiring code", Width: 20 * render.MM, Face: fonts.MonoBold},
	}}
	var listed []*Sheet
	for i := 0; i < len(sheets); {
		s, n := sheets[i], 1
		for i+n < len(sheets) && sheets[i+n].Kind == s.Kind && sheets[i+n].Number == s.Number {
			n++
		}
		from := i
		if i += n; s.Kind == freeKind || s.Kind == coverKind {
			continue
		}
		set, words := "–", s.Kind.Words
		if s.No > 0 {
			set, words = span(s.No, sheets[i-1].No), s.Words
			if n < s.Of {
				words += fmt.Sprintf(" (%d of its %d sheets)", n, s.Of)
			}
			if last := sheets[i-1]; last.No-s.No >= n {
				set = fmt.Sprintf("%d … %d", s.No, last.No)
			}
		}
		t.Rows = append(t.Rows, Row{
			ID: fmt.Sprintf("content-%d", len(listed)+1), Print: true,
			Data:  []render.Datum{{Key: "sheet", Value: s.Name}, {Key: "page", Value: strconv.Itoa(from + 1)}},
			Cells: []Cell{{S: span(from+1, i)}, {S: set}, {S: s.Number}, {S: words}, {S: s.Kind.Words}, {S: p.plan.revision(s).Mark}, {S: s.Code}},
		})
		listed = append(listed, s)
	}
	return t, listed
}

// span is a number, or a first and a last one.
func span(from, to int) string {
	if to > from {
		return fmt.Sprintf("%d–%d", from, to)
	}
	return strconv.Itoa(from)
}

// contentsLinks make the rows of the contents links to their sheets.
func contentsLinks(t *Table, at render.Point, listed []*Sheet, rows Span) (links []render.Item) {
	for i := rows.From; i < rows.To; i++ {
		links = append(links, &render.Link{
			Min:  render.Point{X: at.X, Y: at.Y + t.Height(Span{rows.From, i})},
			Max:  render.Point{X: at.X + t.Width(), Y: at.Y + t.Height(Span{rows.From, i + 1})},
			Page: listed[i].Name,
		})
	}
	return links
}

// surroundings tells whether the loops of the pack have to do with a hazardous
// area and with wiring in service.
func (p *Pack) surroundings() (hazard, live bool) {
	for _, l := range p.loops {
		r := recorder{plant: p.plan.Plant, loop: l}
		h, e := r.surroundings()
		hazard, live = hazard || h, live || e
	}
	return hazard, live
}

func (p *Pack) hazard() bool {
	hazard, _ := p.surroundings()
	return hazard
}

// cautions come before the work.
func (p *Pack) cautions() *Table {
	t := &Table{Columns: []Column{{Head: "Caution", Width: 158 * render.MM}, {Head: "Seen", Width: 12 * render.MM}}}
	hazard, live := p.surroundings()
	say := func(s string) {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: s}, {Kind: Tick}}})
	}
	say("This pack is a copy of the issue above. Compare its revision and wiring codes with the set in force before use.")
	if slices.ContainsFunc(p.Sheets, func(s *Sheet) bool { return p.plan.revision(s).Mark == pendingMark }) {
		say("NOT ISSUED: sheets of revision " + pendingMark + " were altered since, and are not to be worked to before they are issued.")
	}
	say("Isolate, lock out and prove dead. Other circuits in the same box or cabinet may be live.")
	if hazard {
		say("Hazardous area: permit in force, testers certified for the area. A barrier keeps its earth while field cores are on it.")
	}
	if live {
		say("Wiring in service: operations told, loops in manual, trips bypassed only by those with authority, and written down.")
	}
	if p.plan.Plant.Practice.TestVolts > 0 {
		say("Insulation tests only with both ends off: never through a barrier, isolator, device, card or surge unit.")
	}
	for _, s := range p.plan.Plant.Practice.Cautions {
		say(s)
	}
	say("Local codes, the permits of the site and the judgement of licensed people come before these sheets.")
	return t
}

// permits has lines for the papers of the site.
func permits(hazard bool) *Table {
	t := &Table{Columns: []Column{
		{Head: "Permit", Width: 44 * render.MM},
		{Head: "Number", Width: 30 * render.MM},
		{Head: "From", Width: 24 * render.MM},
		{Head: "To", Width: 24 * render.MM},
		{Head: "Issued by", Width: 26 * render.MM},
		{Head: "Handed back", Width: 22 * render.MM},
	}}
	names := []string{"Permit to work", "Isolation certificate", ""}
	if hazard {
		names[2] = "Gas test, hazardous area"
	}
	for _, s := range names {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{S: s}}})
	}
	return t
}

// freeIsolations are the empty rows for what the model does not know of.
const freeIsolations = 2

// isolation lists what feeds the circuits, with lines to fill in.
func (p *Pack) isolation() *Table {
	t := &Table{Columns: []Column{
		{Head: "Isolated: what feeds these circuits", Width: 70 * render.MM},
		{Head: "Lock no.", Width: 22 * render.MM},
		{Head: "Isolated by, when", Width: 26 * render.MM},
		{Head: "Dead: by, when", Width: 26 * render.MM},
		{Head: "Restored: by, when", Width: 26 * render.MM},
	}}
	seen := map[*model.Part]bool{}
	add := func(part *model.Part, words string) {
		if !seen[part] {
			seen[part] = true
			t.Rows = append(t.Rows, Row{Cells: []Cell{{S: words}}})
		}
	}
	for _, l := range p.loops {
		for _, c := range l.Circuits {
			if c.Broken || c.Path == nil {
				continue
			}
			if s := c.Supply(); s != nil {
				add(s, fmt.Sprintf("%s, %s; fed from %s, fuse %s", s.Tag, s.Supply.Volts, given(s.Supply.Circuit), given(s.Supply.Fuse)))
			}
			for _, st := range c.Stations() {
				if d := st.Part; d.Card != nil && d.Card.Powers {
					add(d, fmt.Sprintf("card %s in %s feeds its channels", d.Tag, d.Where()))
				}
			}
		}
	}
	t.Rows = append(t.Rows, make([]Row, freeIsolations)...)
	return t
}

// signalTools are the instruments for the loop check of a kind of signal.
var signalTools = []struct {
	signals    []model.Signal
	tool, what string
}{
	{[]model.Signal{model.AnalogIn, model.AnalogOut}, "Loop calibrator, 4..20 mA: simulates, gives and reads", "loop check"},
	{[]model.Signal{model.Resistance}, "Resistance decade or simulator of resistance thermometers", "loop check"},
	{[]model.Signal{model.Thermo}, "Millivolt source with reference junction, leads of the alloy", "loop check"},
	{[]model.Signal{model.PulseIn}, "Pulse generator", "loop check"},
	{[]model.Signal{model.ContactIn}, "Link leads to make contacts", "loop check"},
	{[]model.Signal{model.Proximity}, "Metal target for proximity switches", "loop check"},
}

// tools lists what to take along, with lines for calibration.
func (p *Pack) tools() *Table {
	t := &Table{Columns: []Column{
		{Head: "Take along", Width: 74 * render.MM},
		{Head: "For", Width: 36 * render.MM},
		{Head: "Serial no.", Width: 26 * render.MM},
		{Head: "Calibr. due", Width: 22 * render.MM},
		{Head: "Seen", Width: 12 * render.MM},
	}}
	add := func(tool, what string, calibrated bool) {
		row := Row{Cells: []Cell{{S: tool}, {S: what}, {}, {}, {Kind: Tick}}}
		if !calibrated {
			row.Cells[2], row.Cells[3] = Cell{Kind: NA}, Cell{Kind: NA}
		}
		t.Rows = append(t.Rows, row)
	}
	has := map[model.Signal]bool{}
	for _, l := range p.loops {
		for _, c := range l.Circuits {
			has[c.Signal] = true
		}
	}
	add("Multimeter: Ω to 0.01, V, mA", "every test", true)
	if v := p.plan.Plant.Practice.TestVolts; v > 0 {
		add(fmt.Sprintf("Insulation tester, %s V DC", plain(v)), "insulation", true)
	}
	for _, s := range signalTools {
		if slices.ContainsFunc(s.signals, func(x model.Signal) bool { return has[x] }) {
			add(s.tool, s.what, strings.Contains(s.tool, "calibrator") || strings.Contains(s.tool, "decade") || strings.Contains(s.tool, "source"))
		}
	}
	if len(p.rung) > 0 {
		add("Links with clips; resistors of known values, one a pair", "ring-out by one person", false)
		add("Two radios or telephones", "ring-out by two", false)
	}
	m := p.plan.Plant.Material(p.scope)
	if len(m.Ferrules) > 0 {
		var sizes []string
		for _, f := range m.Ferrules {
			sizes = append(sizes, f.What)
		}
		add("Ferrules and their crimping tool: "+strings.Join(sizes, ", "), "landing", false)
	}
	add("Approved voltage detector", "proving dead", true)
	return t
}

// material lists what the new wiring of the scope takes and what there is to do,
// and how the practice has it done.
func (p *Pack) material() (counts, practice *Table) {
	counts = &Table{Columns: []Column{
		{Head: "New wiring takes", Width: 62 * render.MM},
		{Head: "Number", Width: 26 * render.MM, Align: render.Right},
		{Head: "There is to do", Width: 62 * render.MM},
		{Head: "Number", Width: 20 * render.MM, Align: render.Right},
	}}
	practice = &Table{Columns: []Column{
		{Head: "Practice of the plant; the defaults are common practice", Width: 88 * render.MM},
		{Head: "", Width: 82 * render.MM},
	}}
	columns := map[string][][2]string{}
	for _, x := range p.plan.Plant.Material(p.scope).Items() {
		what, n := x.What, strings.TrimSpace(plain(x.N)+" "+x.Unit)
		if x.Of != "" {
			what += ": " + x.Of
		}
		if x.Lengths > 0 {
			what += ", " + counted(x.Lengths, "length")
		}
		if x.Missing != "" && x.N > 0 {
			n += " and " + x.Missing + " " + notGiven
		} else if x.Missing != "" {
			n = notGiven
		}
		columns[x.Group] = append(columns[x.Group], [2]string{what, n})
	}
	left, right := columns[model.MaterialGroup], columns[model.WorkGroup]
	for i := range max(len(left), len(right)) {
		var l, r [2]string
		if i < len(left) {
			l = left[i]
		}
		if i < len(right) {
			r = right[i]
		}
		counts.Rows = append(counts.Rows, Row{Print: true, Cells: []Cell{{S: l[0]}, {S: l[1], Bold: true}, {S: r[0]}, {S: r[1], Bold: true}}})
	}
	for _, x := range columns[model.PracticeGroup] {
		practice.Rows = append(practice.Rows, Row{Print: true, Cells: []Cell{{S: x[0]}, {S: x[1], Bold: true}}})
	}
	return counts, practice
}

// punch is a page of rows for punch items.
func (p *Pack) punch() *Sheet {
	t := punchItems(1)
	first := p.own(punchKind, "")
	room := first.Inner.H() - titleTall - t.headHeight()
	t.Rows = make([]Row, int(room/handRow))
	return p.form(punchKind, "Punch list", []section{{title: "Punch list of this pack", table: t}}, -1, nil)[0]
}

// closing is the key to marks made by hand, and the sign-off of the pack.
func (p *Pack) closing() []*Sheet {
	done := &Table{Columns: []Column{
		{Head: "Cable, loop", Width: 30 * render.MM, Face: fonts.MonoBold},
		{Head: "Wiring code", Width: 22 * render.MM, Face: fonts.Mono},
		{Head: "Rung out: who, when", Width: 38 * render.MM},
		{Head: "Loop checked: who, when", Width: 40 * render.MM},
		{Head: "Punch items left", Width: 40 * render.MM},
	}}
	for _, c := range p.rung {
		done.Rows = append(done.Rows, Row{Cells: []Cell{{S: c.Tag}, {S: model.WiringCode(c.Facts(p.plan.Plant))}, {}, {Kind: NA}}})
	}
	for _, l := range p.loops {
		done.Rows = append(done.Rows, Row{Cells: []Cell{{S: l.Tag}, {S: model.WiringCode(l.Facts(p.plan.Plant))}}})
	}
	sections := []section{{title: "Mark-up key", table: p.plan.markUpKey(), whole: true}, {table: letterKey(), whole: true}}
	if len(sections[0].table.Rows) == 0 {
		sections = sections[1:]
	}
	if len(done.Rows) > 0 {
		sections = append(sections, section{title: "Sign-off", table: done})
	}
	sections = append(sections, section{table: signOff(p.plan.Plant.Practice.SignOff), whole: true, close: true})
	return p.form(closeKind, "Mark-up key and sign-off", sections, -1, nil)
}
