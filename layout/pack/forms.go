package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/layout/enclosure"
	"ringout/layout/index"
	"ringout/layout/method"
	"ringout/layout/paper"
	"ringout/layout/record"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
)

// This file holds the tables of the pack's own pages.

// cover lays the cover; sheets are all pages of the pack, nil while they are
// still being put together.
func (p *Pack) cover(sheets []*sheet.Sheet) []*sheet.Sheet {
	contents, listed := p.contents(sheets)
	all := []paper.Section{{Table: p.identity(), Whole: true}}
	if len(p.asked) > mostAsked {
		all = append(all, paper.Section{Table: p.all()})
	}
	at := len(all)
	all = append(all, paper.Section{Title: "Contents", Table: contents})
	add := func(title string, t *paper.Table, whole bool) {
		if len(t.Rows) > 0 {
			all = append(all, paper.Section{Title: title, Table: t, Whole: whole})
		}
	}
	add("Before the work", p.cautions(), true)
	add("", permits(p.hazard()), true)
	add("", p.isolation(), true)
	add("", p.staysLive(), true)
	add("Places to visit", p.visits(), false)
	add("Tools and test instruments", p.tools(), false)
	items := p.Material()
	add("Material and work", p.counts("For new wiring and parts", material.MaterialGroup, items), false)
	add("", p.counts("Work", material.WorkGroup, items), false)
	add("", practice(p.plan.Plant, items), true)
	return p.form(coverKind, "Field pack "+p.Words, all, at, listed)
}

// identity says what the pack is for and of which issue it is.
func (p *Pack) identity() *paper.Table {
	pl := p.plan
	plant, rev := pl.Plant, pl.Newest()
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Scope", Width: 22 * render.MM},
		{Head: p.Words, Width: 70 * render.MM, Hand: paper.Reading},
		{Head: "Issue", Width: 22 * render.MM},
		{Head: wording.IssueOf(rev), Width: 56 * render.MM, Hand: paper.Reading},
	}}
	row := func(a, b, c, d string) { t.Rows = append(t.Rows, paper.TwoFacts(a, b, c, d)) }
	var rung []string
	for _, c := range p.rung {
		rung = append(rung, c.Tag)
	}
	cables := "none"
	if len(rung) > 0 {
		cables = short(rung) // the contents have them all
	}
	status := plant.Status
	if pl.Issues != nil {
		status = pl.Issues.Newest.Status
	}
	row("Plant", wording.Given(plant.Name), "Status", wording.Given(status))
	future := 0
	for _, l := range p.loops {
		if l.Later() {
			future++
		}
	}
	loops := strconv.Itoa(len(p.loops) - future)
	if future > 0 {
		loops += fmt.Sprintf(", and %d future", future)
	}
	row("Project", wording.Given(plant.Project), "Loops", loops)
	row("Ring-out", cables, "Sheet numbers", "as in the set; 12/B4 = sheet 12, zone B4; sheets not listed are not in this pack")
	drawings, forms := plant.Practice.Paper, plant.Practice.RecordPaper
	if p.whole {
		row("Print", "double-sided "+forms+", 100 %, bind left; pages not in the contents are blank", "Drawings", fmt.Sprintf("%s reduced, not to scale: mark up a copy of full size", drawings))
	} else {
		row("Print", fmt.Sprintf("single-sided: drawings %s, forms %s", drawings, forms), "Both sides", fmt.Sprintf("make the pack in one size, all on %s", forms))
	}
	t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: "Planned by"}, {}, {S: "Shift, date"}, {}}})
	return t
}

// visits are the places that the work leads to and the field devices of its
// loops, with where they stand; none that comes later.
func (p *Pack) visits() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Place, device", Width: 28 * render.MM, Face: fonts.MonoBold},
		{Head: "Type", Width: 38 * render.MM},
		{Head: "Location", Width: 62 * render.MM},
		{Head: "Access, keys", Width: 42 * render.MM, Hand: paper.Reading},
	}}
	row := func(tag, what, at string) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: tag}, {S: what}, {S: wording.Given(at)}}})
	}
	for _, pl := range p.places() {
		row(pl.Tag, wording.Joined(wording.Joined(pl.Kind.String(), statusNote(pl.Status)), p.sheetless(pl)), pl.At)
	}
	for _, l := range p.loops {
		for _, x := range l.Devices {
			if x.Place == nil && x.Status != model.Future && !l.Later() {
				at := x.Device.At
				if at == "" && x.Device.On != nil {
					at = "on " + x.Device.On.Tag
				}
				row(x.Tag, wording.Joined(p.plan.Plant.Say(x.Kind.Words), statusNote(x.Status)), wording.Joined(cmp.Or(at, x.Device.Process), x.Device.Hazard()))
			}
		}
	}
	return t
}

// sheetless says of a place that has no sheet in the pack which sheets of the
// set show it: "" for one that has.
func (p *Pack) sheetless(pl *model.Place) string {
	if slices.ContainsFunc(p.work, func(s *sheet.Sheet) bool { return s.Place == pl }) {
		return ""
	}
	var nos []string
	for _, s := range p.plan.Sheets {
		if s.Place == pl {
			nos = append(nos, strconv.Itoa(s.No))
		}
	}
	if len(nos) == 0 {
		return "no diagram of it in the set"
	}
	return "not in this pack: nothing of the work lands there; see sheet " + strings.Join(nos, ", ")
}

// statusNote says what is there already or comes later.
func statusNote(s model.Status) string {
	if s == model.New {
		return ""
	}
	return s.String()
}

// askedAcross is how many things that were asked for stand side by side.
const askedAcross = 4

// all lists what the pack is for where that is more than a title holds.
func (p *Pack) all() *paper.Table {
	t := &paper.Table{}
	for i := range askedAcross {
		head := ""
		if i == 0 {
			head = "For all of these"
		}
		t.Columns = append(t.Columns, paper.Column{Head: head, Width: 42 * render.MM})
	}
	for some := range slices.Chunk(p.asked, askedAcross) {
		row := paper.Row{Print: true}
		for _, s := range some {
			row.Cells = append(row.Cells, paper.Cell{S: s.String()})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// contents lists the drawings of the pack in its order, a row each.
func (p *Pack) contents(sheets []*sheet.Sheet) (*paper.Table, []*sheet.Sheet) {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Pack\npage", Width: 16 * render.MM, Align: render.Right, Face: fonts.MonoBold},
		{Head: "Sheet of\nthe set", Width: 18 * render.MM, Align: render.Right, Face: fonts.Mono},
		{Head: "Drawing number", Width: 36 * render.MM, Face: fonts.Mono},
		{Head: "Title", Width: 44 * render.MM},
		{Head: "Document", Width: 27 * render.MM},
		{Head: "Rev", Width: 9 * render.MM, Align: render.Middle, Face: fonts.Mono},
		{Head: "Wiring code", Width: 20 * render.MM, Face: fonts.MonoBold},
	}}
	var listed []*sheet.Sheet
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
		if s.Place != nil && s.No == 0 {
			set, words = "of "+enclosure.SheetsOf(p.plan, s.Place), s.Words
		}
		if s.No > 0 {
			set, words = span(s.No, sheets[i-1].No), s.Words
			if s.Loop != nil {
				words = wording.LoopWords(s.Loop)
			}
			if n < s.Of {
				words += fmt.Sprintf(" (%d of its %d sheets)", n, s.Of)
			}
			if last := sheets[i-1]; last.No-s.No >= n {
				set = fmt.Sprintf("%d … %d", s.No, last.No)
			}
		}
		var marks []string // sheets of one drawing may be of several issues
		for _, x := range sheets[from:i] {
			if m := p.plan.Revision(x).Mark; !slices.Contains(marks, m) {
				marks = append(marks, m)
			}
		}
		t.Rows = append(t.Rows, paper.Row{
			ID: fmt.Sprintf("content-%d", len(listed)+1), Print: true,
			Data:  []render.Datum{{Key: "sheet", Value: s.Name}, {Key: "page", Value: strconv.Itoa(from + 1)}},
			Cells: []paper.Cell{{S: span(from+1, i)}, {S: set}, {S: s.Number}, {S: words}, {S: s.Kind.Words}, {S: strings.Join(marks, " ")}, {S: s.Code}},
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
func contentsLinks(t *paper.Table, at render.Point, listed []*sheet.Sheet, rows paper.Span) (links []render.Item) {
	for i := rows.From; i < rows.To; i++ {
		links = append(links, &render.Link{
			Min:  render.Point{X: at.X, Y: at.Y + t.Height(paper.Span{From: rows.From, To: i})},
			Max:  render.Point{X: at.X + t.Width(), Y: at.Y + t.Height(paper.Span{From: rows.From, To: i + 1})},
			Page: listed[i].Name,
		})
	}
	return links
}

// signalTools are the instruments for the loop check of a kind of signal.
var signalTools = []struct {
	signals    []model.Signal
	tool       string
	calibrated bool // has a serial number and a date of calibration
}{
	{[]model.Signal{model.AnalogIn, model.AnalogOut}, "Loop calibrator, 4..20 mA: source, sink, read", true},
	{[]model.Signal{model.Resistance}, "Resistance decade or simulator of resistance thermometers", true},
	{[]model.Signal{model.Thermo}, "Millivolt source with reference junction, leads of the alloy", true},
	{[]model.Signal{model.PulseIn}, "Pulse generator", false},
	{[]model.Signal{model.ContactIn}, "Link leads to make contacts", false},
	{[]model.Signal{model.Displacement}, "Micrometer with a target of the shaft's metal, for displacement probes", true},
	{[]model.Signal{model.Proximity}, "Metal target for proximity switches", false},
}

// tools lists what to take along, with lines for calibration.
func (p *Pack) tools() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Item", Width: 74 * render.MM},
		{Head: "For", Width: 36 * render.MM},
		{Head: "Serial no.", Width: 26 * render.MM, Hand: paper.Reading},
		{Head: "Cal. due", Width: 22 * render.MM, Hand: paper.Reading},
		{Head: "Done", Width: 12 * render.MM},
	}}
	add := func(tool, what string, calibrated bool) {
		row := paper.Row{Cells: []paper.Cell{{S: tool}, {S: what}, {}, {}, {Kind: paper.Tick}}}
		if !calibrated {
			row.Cells[2], row.Cells[3] = paper.Cell{Kind: paper.NA}, paper.Cell{Kind: paper.NA}
		}
		t.Rows = append(t.Rows, row)
	}
	has := map[model.Signal]bool{}
	for _, l := range p.loops {
		for _, c := range l.Circuits {
			signal := c.Signal
			if d := c.Device(); d != nil && signal == model.ContactIn && (d.Kind.ThreeWire() || d.Kind.TwoWire) {
				signal = model.Proximity
			}
			has[signal] = true
		}
	}
	add("Multimeter: Ω to 0.01, V, mA", "every test", true)
	pr := p.plan.Plant.Practice
	if pr.TestVolts > 0 {
		add(fmt.Sprintf("Insulation tester, %s V DC", wording.Plain(pr.TestVolts)), "insulation", true)
	}
	if slices.ContainsFunc(p.circuits(), (*model.Circuit).Mains) {
		if pr.MainsVolts > 0 {
			add(fmt.Sprintf("Insulation tester, %s V DC", wording.Plain(pr.MainsVolts)), p.plan.Plant.Say("insulation of mains cores, to local code"), true)
		}
		add(p.plan.Plant.Say("Earth-continuity tester"), p.plan.Plant.Say("protective conductors of mains circuits"), true)
	}
	if p.hazard() {
		add("Gas detector; all instruments certified for the area", "hazardous area", true)
	}
	for _, s := range signalTools {
		if slices.ContainsFunc(s.signals, func(x model.Signal) bool { return has[x] }) {
			add(s.tool, "loop check", s.calibrated)
		}
	}
	if len(p.rung)+len(p.loops) > 0 {
		add("Clip leads; resistors of known value, one per pair", "ring-out by one person", false)
		add("Two radios or telephones", "ring-out by two", false)
	}
	var sizes []string
	for _, x := range p.Material() {
		if x.What == material.Ferrules {
			sizes = append(sizes, x.Of)
		}
	}
	if len(sizes) > 0 {
		add("Ferrules and crimp tool: "+strings.Join(sizes, ", "), "landing", false)
	}
	add("Approved voltage detector", p.plan.Plant.Say("proving dead"), true)
	return t
}

// counts lists the items of a group: in the places asked for and at the far ends
// where they are counted at ends, and in all.
func (p *Pack) counts(head, group string, items []material.Item) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: head, Width: 88 * render.MM}}}
	heads := []string{"near ends", "far ends", "total"}
	switch len(p.scope.Places) {
	case 0:
		heads = heads[2:]
	case 1:
		heads[0] = "in " + p.scope.Places[0].Tag
	}
	for i, s := range heads {
		width := 24 * render.MM
		if i == len(heads)-1 { // words, too, where a length is not given
			width = 34 * render.MM
		}
		t.Columns = append(t.Columns, paper.Column{Head: s, Width: width, Align: render.Right})
	}
	for _, x := range items {
		if x.Group != group {
			continue
		}
		what, n := itemWords(p.plan.Plant, x)
		row := paper.Row{Print: true, Cells: make([]paper.Cell, len(t.Columns))}
		row.Cells[0], row.Cells[len(t.Columns)-1] = paper.Cell{S: what}, paper.Cell{S: n, Bold: true}
		if x.Ends {
			row.Cells[1], row.Cells[2] = paper.Cell{S: wording.Plain(x.Here), Bold: true}, paper.Cell{S: wording.Plain(x.N - x.Here), Bold: true}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// practice lists how the practice has the work done.
func practice(plant *model.Plant, items []material.Item) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Project settings; defaults: common practice", Width: 88 * render.MM},
		{Head: "", Width: 82 * render.MM},
	}}
	for _, x := range items {
		if x.Group == material.PracticeGroup {
			what, n := itemWords(plant, x)
			t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: what}, {S: n, Bold: true}}})
		}
	}
	return t
}

// itemWords are what an item counts, and its number.
func itemWords(plant *model.Plant, x material.Item) (what, n string) {
	what, n = plant.Say(x.What), strings.TrimSpace(wording.Plain(x.N)+" "+x.Unit)
	if x.Of != "" {
		what += ": " + x.Of
	}
	if x.Lengths > 0 {
		what += ", " + finding.Count(x.Lengths, "length")
	}
	switch {
	case x.Missing != "" && x.N > 0:
		n += " and " + x.Missing + " " + paper.NotGiven
	case x.Missing != "":
		n = paper.NotGiven
	}
	return what, n
}

// punch is a page of rows for punch items.
func (p *Pack) punch() *sheet.Sheet {
	t := record.PunchItems(1)
	first := p.own(punchKind, "")
	room := first.Inner.H() - paper.TitleTall - t.HeadHeight()
	t.Rows = make([]paper.Row, int(room/paper.HandRow))
	return p.form(punchKind, "Punch list", []paper.Section{{Title: "Punch list of this pack", Table: t}}, -1, nil)[0]
}

// closing is the key to marks made by hand, and the sign-off of the pack.
func (p *Pack) closing() []*sheet.Sheet {
	done := &paper.Table{Columns: []paper.Column{
		{Head: "Cable, loop", Width: 30 * render.MM, Face: fonts.MonoBold},
		{Head: "Wiring code", Width: 22 * render.MM, Face: fonts.Mono},
		{Head: "Rung out: who, when", Width: 38 * render.MM, Hand: paper.Reading},
		{Head: "Loop checked: who, when", Width: 40 * render.MM, Hand: paper.Reading},
		{Head: "Punch items left", Width: 40 * render.MM, Hand: paper.Reading},
	}}
	for _, c := range p.rung {
		done.Rows = append(done.Rows, paper.Row{Cells: []paper.Cell{{S: c.Tag}, {S: model.WiringCode(c.Facts(p.plan.Plant))}, {}, {Kind: paper.NA}}})
	}
	for _, l := range p.loops {
		row := paper.Row{Cells: []paper.Cell{{S: l.Tag}, {S: model.WiringCode(l.Facts(p.plan.Plant))}, {}, {}}}
		if l.Later() {
			row.Cells[3] = paper.Cell{Kind: paper.NA, S: "future"}
		}
		done.Rows = append(done.Rows, row)
	}
	sections := []paper.Section{{Title: "Mark-up key", Table: index.MarkUpKey(p.plan.Plant), Whole: true}, {Table: index.LetterKey(p.plan.Plant), Whole: true}}
	if len(sections[0].Table.Rows) == 0 {
		sections = sections[1:]
	}
	if len(p.rung) > 0 {
		sections = append(method.Sections(p.plan.Plant), sections...)
	}
	if len(done.Rows) > 0 {
		sections = append(sections, paper.Section{Title: "Sign-off", Table: done})
	}
	sections = append(sections, paper.Section{Table: record.SignOff(p.plan.Plant.Practice.SignOff), Whole: true, Close: true})
	return p.form(closeKind, "Mark-up key and sign-off", sections, -1, nil)
}
