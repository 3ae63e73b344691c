// Package record makes the forms that are filled in by hand: test records of loops and ring-out
// sheets of cables.
package record

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
	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/render"
)

// recordPlan is what is planned for one sheet of a loop test record.
type recordPlan struct {
	*paper.SharedTables
	pieces []paper.Piece
	own    float64 // per cent: the point that no loop nearby shares
	punch  int     // rows for punch items: they fill the last page
}

// ownPoints are how many loops in a row have a point of their own.
const ownPoints = 16

// ownPoint is a point near the middle, in per cent of the signal, that differs
// from those of the loops before and after: 10.4 mA to 13.6 mA in steps of
// 0.2 mA, without 12 mA. Two loops wired crosswise then show.
func ownPoint(loop int) float64 {
	n := loop % ownPoints
	if n >= ownPoints/2 {
		n++
	}
	return 40 + 1.25*float64(n)
}

// PlanRecord plans the sheets of the test record of a loop.
func PlanRecord(pl *sheet.Plan, d *sheet.Drawing) (sheets []*sheet.Sheet) {
	in, own := d.Inner(pl), ownPoint(d.N)
	sections, starts, _ := record(newRecorder(pl, d.Of.Loop, own), d.Code, leastPunch, in.W())
	first, rest := d.Heights(pl)
	pages, left := paper.Flow(sections, first, rest-signRoom(), 0) // the first is signed at its head
	more := fillPunch(pages[len(pages)-1], len(sections)-2, left)
	shared := &paper.SharedTables{Sheets: len(pages)}
	for _, pieces := range pages {
		s := d.Sheet(pl)
		s.Planned = recordPlan{shared, pieces, own, leastPunch + more}
		sheets = append(sheets, s)
		d.Refer(s, s.Loop, s.Inner.Min)
		for _, p := range pieces {
			for _, c := range starts {
				if c.section == p.Section && p.Rows.From <= c.row && c.row < p.Rows.To {
					d.Refer(s, c.circuit, s.Inner.Min)
				}
			}
		}
	}
	return sheets
}

// leastPunch and mostPunch are the numbers of rows for punch items: those that fit. Packs
// have a list for more.
const leastPunch, mostPunch = 1, 9

// signRoom is the room for the strip to sign for a page, at its foot.
func signRoom() render.Len { return pageSign().HeadHeight() + paper.FormGap }

// drawForm draws the pieces of one page of a form, and, where the page is not signed
// elsewhere, the strip to sign for it, so that it can be handed in alone.
func drawForm(in paper.Area, sections []paper.Section, pieces []paper.Piece, signed bool) (items []render.Item, at []render.Point, unfit []string) {
	items, at, unfit = paper.DrawForm(in, sections, pieces)
	last, strip := pieces[len(pieces)-1], pageSign()
	strip.Stretch(in.W())
	y := in.Max.Y - strip.HeadHeight()
	if signed || at[len(at)-1].Y+sections[last.Section].Table.Height(last.Rows) > y {
		return items, at, unfit
	}
	drawn, tight := strip.Draw(render.Point{X: in.Min.X, Y: y}, paper.Span{})
	return append(items, drawn...), at, append(unfit, tight...)
}

// pageSign is the strip: heads with room to write under them.
func pageSign() *paper.Table {
	return &paper.Table{Columns: []paper.Column{
		{Head: "This page done by\n ", Width: 70 * render.MM, Hand: paper.Reading},
		{Head: "Signature\n ", Width: 60 * render.MM, Hand: paper.Reading},
		{Head: "Date\n ", Width: 40 * render.MM, Hand: paper.Reading},
	}}
}

// fillPunch lets the rows for punch items take what is left of the last page.
func fillPunch(pieces []paper.Piece, punch int, left render.Len) (more int) {
	for i := range pieces {
		if pieces[i].Section == punch {
			more = min(mostPunch-leastPunch, int(max(0, left)/paper.HandRow))
			pieces[i].Rows.To += more
		}
	}
	return more
}

// start is the row where the wiring of a circuit begins.
type start struct {
	circuit      *model.Circuit
	section, row int
}

// Draw draws one sheet of a record.
func (plan recordPlan) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	sections, cut := plan.Take(func() ([]paper.Section, []string) {
		sections, _, cut := record(newRecorder(pl, s.Loop, plan.own), s.Code, plan.punch, s.Inner.W())
		return sections, cut
	})
	items, at, unfit := drawForm(s.Inner, sections, plan.pieces, s.Part == 1)
	page.Items = append(page.Items, items...)
	if s.Part == 1 {
		unfit = append(unfit, cut...)
		kind, _ := diagramOf(s.Loop)
		if r, ok := pl.Ref(kind, s.Loop); ok {
			page.Items = append(page.Items, linkCells(sections[0].Table, at[0], r.Sheet.Name))
		}
	}
	for _, u := range unfit {
		problems = append(problems, pl.TextTooLong(s, u))
	}
	return page, problems
}

// linkCells makes the last two columns of the first row of a table a link.
func linkCells(t *paper.Table, at render.Point, page string) *render.Link {
	n := len(t.Columns)
	left := at.X + t.Width() - t.Columns[n-1].Width - t.Columns[n-2].Width
	return &render.Link{
		Min:  render.Point{X: left, Y: at.Y + t.HeadHeight()},
		Max:  render.Point{X: at.X + t.Width(), Y: at.Y + t.Height(paper.Span{From: 0, To: 1})},
		Page: page,
	}
}

func newRecorder(pl *sheet.Plan, l *model.Loop, own float64) *recordBuilder {
	return &recordBuilder{pl: pl, plant: pl.Plant, loop: l, own: own}
}

// record builds the tables of a loop's record, width wide, and tells where the
// wiring of each circuit begins. cut holds texts that were cut.
func record(r *recordBuilder, code string, punch int, width render.Len) (sections []paper.Section, starts []start, cut []string) {
	pl, l := r.pl, r.loop
	add := func(title string, whole bool, t *paper.Table) {
		if len(t.Rows) == 0 {
			return
		}
		cut = append(cut, t.Finish(width)...)
		sections = append(sections, paper.Section{Title: title, Table: t, Whole: whole})
	}
	add("", true, identity(pl, l, code))
	for _, t := range r.phases() {
		add("", true, t)
	}
	add("", false, r.devices())
	add("", false, recordCables(pl, r))
	add("", false, r.notes())
	add(r.testTitle(), true, r.cautions(inService(pl.Plant, l), dangers(pl.Plant, wording.Opened(pl.Plant, l))...))
	add("", false, r.fuses())
	if r.insulation().any {
		add("", true, r.surges())
	}
	add("", false, r.plugs())
	add("", true, wording.BarrierEarths(r.plant, r.barriers()))
	wires, firsts := r.wires()
	if len(wires.Rows) > 0 {
		for _, f := range firsts {
			starts = append(starts, start{f.circuit, len(sections), f.row})
		}
	}
	add("", false, wires)
	add("", false, r.endToEnd())
	title := "Segment"
	if l.Plugged() {
		title = "Link"
	}
	for _, t := range r.segment() {
		add(title, true, t)
		title = ""
	}
	title = "Loop check"
	for _, t := range r.signals() {
		add(title, false, t)
		if len(t.Rows) > 0 {
			title = ""
		}
	}
	add("", false, r.variables())
	add("", false, r.alarms())
	add("", false, r.controllers())
	title = "Expected readings"
	for _, c := range l.Circuits {
		tables, computed := readingForms(pl.Plant, c)
		if computed && r.diagramShows(sheet.ReadingsOf{Circuit: c}) { // where they are used
			continue
		}
		for _, t := range tables {
			if !computed {
				add("", false, t)
				continue
			}
			add(title, false, t)
			title = ""
		}
	}
	add("Fault finding", false, r.faults())
	title = "Intrinsic safety: entity comparison"
	for _, c := range l.Circuits {
		if t := r.entity(c); t != nil {
			add(title, true, t)
			title = ""
		}
	}
	add("", true, PunchItems(punch))
	sections[len(sections)-1].Close = true // nobody signs an empty sheet
	add("", true, instrumentsUsed())
	return sections, starts, cut
}

// testTitle heads the tests: those of a link by plugs are of no wiring.
func (r *recordBuilder) testTitle() string {
	if r.loop.Plugged() {
		return "Link test"
	}
	return "Wiring test"
}

// recordBuilder builds the tables of one record.
type recordBuilder struct {
	pl    *sheet.Plan // nil where no other sheet is referred to
	plant *model.Plant
	loop  *model.Loop
	own   float64
}

// identity says which loop this is, whose service is in the title, and what to compare the
// form with.
func identity(pl *sheet.Plan, l *model.Loop, code string) *paper.Table {
	rev := pl.RecordRevision(l)
	where := "not in this set"
	kind, words := diagramOf(l)
	if r, ok := pl.Ref(kind, l); ok {
		where = r.Sheet.NumberIn(pl.Plant) + ", sheet " + r.String()
	}
	return &paper.Table{
		Columns: []paper.Column{
			{Head: "Loop", Width: 22 * render.MM},
			{Head: l.Tag, Width: 68 * render.MM},
			{Head: "Wiring code", Width: 24 * render.MM},
			{Head: code + " as on the " + strings.ToLower(words), Width: 56 * render.MM},
		},
		Rows: []paper.Row{
			paper.TwoFacts("Area, P&ID", wording.Given(l.Area)+", "+wording.Given(l.Ref), words, where),
			paper.TwoFacts("Markers", markerSample(pl.Plant, l), paper.DataHead, wording.IssueOf(rev)),
		},
	}
}

// diagramOf is the kind of sheet that shows the wiring of a loop, and what it is called: a
// link by plugs has no loop diagram.
func diagramOf(l *model.Loop) (kind, words string) {
	if l.Plugged() {
		return sheet.Segment, "Segment diagram"
	}
	return sheet.Loop, "Loop diagram"
}

// markerSample is what the marker on the first core of a loop reads at its from end;
// "–" where none bears one.
func markerSample(plant *model.Plant, l *model.Loop) string {
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(plant) {
			if s := plant.Marker(w, w.From); s != "" {
				return "as " + s
			}
		}
	}
	return "–"
}

// devices lists what belongs to the loop, and what its circuits borrow from
// others.
func (r *recordBuilder) devices() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Device", Width: 22 * render.MM, Face: fonts.MonoBold},
		{Head: "Type, model, place", Width: 44 * render.MM},
		{Head: "Range", Width: 24 * render.MM},
		{Head: "Calibrated", Width: 22 * render.MM},
		{Head: "Signal", Width: 18 * render.MM},
		{Head: "Set/fail/action", Width: 22 * render.MM},
		{Head: "Serial no.", Width: 20 * render.MM, Hand: paper.Reading},
	}}
	all := slices.Clone(r.loop.Devices)
	for _, c := range r.loop.Circuits {
		for _, s := range wording.CircuitStations(c) {
			if d := s.Part; d.Device != nil && d.Device.Loop != nil && !slices.Contains(all, d) {
				all = append(all, d)
			}
		}
	}
	for i, p := range all {
		d := p.Device
		what := r.plant.Say(p.Kind.Words)
		at := d.At
		if at == "" && d.On != nil {
			at = "on " + d.On.Tag
		}
		for _, s := range []string{d.Model, d.Sensor, at, d.Hazard()} {
			if s != "" {
				what += ", " + s
			}
		}
		if d.Air.Given() {
			what += ", air " + d.Air.Text
		}
		if d.Stroke > 0 {
			what += ", " + wording.StrokeLimit(p)
		}
		if p.Status != model.New {
			what += " (" + p.Status.String() + ")"
		}
		signal, serial := "", paper.Cell{}
		if p.Status == model.Future {
			serial.Kind = paper.NA
		}
		switch p.Kind.Signal {
		case model.AnalogIn, model.AnalogOut:
			signal = compute.Output(d).Text
		default:
			signal = d.Signal.Text
		}
		span, calibrated := d.Range.Text, d.Calibrated.Text
		switch p.Kind.Signal {
		case model.AnalogIn, model.Resistance, model.Thermo, model.PulseIn:
			span = wording.Given(span)
			if calibrated == "" {
				calibrated = "= range"
			}
		}
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("device-%d", i+1), Cells: []paper.Cell{
			{S: p.Tag}, {S: what}, {S: span}, {S: calibrated}, {S: signal}, {S: acts(p)}, serial,
		}})
	}
	return t
}

// acts says when a device acts and where it goes by itself.
func acts(p *model.Part) string {
	d, s := p.Device, ""
	add := func(more string) {
		if s != "" {
			s += ", "
		}
		s += more
	}
	if kind := wording.OutputKind(p); kind != "" {
		add(kind)
	}
	if d.SetPoint.Given() {
		add(setWords(d.SetPoint))
	} else if p.Kind.Signal == model.ContactIn && p.Kind.Process == model.Tapping {
		add("set " + paper.NotGiven)
	}
	switch valve := p.Kind.Actuator != model.NoActuator; {
	case d.Fail != 0:
		add("fails " + d.Fail.String())
	case valve:
		add("fails: " + paper.NotGiven)
	}
	if d.Action != 0 {
		add(d.Action.String())
	}
	if d.SquareRootIn != 0 {
		add("√ in " + d.SquareRootIn.String())
	}
	return s
}

// setWords is a set point as a reader takes it: "set 6 bar", but "opens below
// 0.6 m" as it stands.
func setWords(s model.SwitchPoint) string {
	if s.Number {
		return "set " + s.Text
	}
	return s.Text
}

// recordCables lists the cables of the loop with what their tags read, and the
// sheets on which they are rung out by themselves.
func recordCables(pl *sheet.Plan, r *recordBuilder) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Cable", Width: 22 * render.MM, Face: fonts.MonoBold},
		{Head: "Type, length", Width: 38 * render.MM},
		{Head: "Tag text, from end", Width: 37 * render.MM, Face: fonts.Mono},
		{Head: "Done", Width: 11 * render.MM},
		{Head: "Tag text, to end", Width: 37 * render.MM, Face: fonts.Mono},
		{Head: "Done", Width: 11 * render.MM},
		{Head: "Ring-out", Width: 14 * render.MM},
	}}
	var seen []*model.Cable
	for _, c := range r.loop.Circuits {
		if c.Broken || c.Path == nil {
			continue
		}
		for _, run := range c.Runs() {
			if run.Cable != nil && !slices.Contains(seen, run.Cable) {
				seen = append(seen, run.Cable)
			}
		}
	}
	for i, c := range seen {
		what, length := paper.NotGiven, cmp.Or(c.LengthWords(), "length "+paper.NotGiven)
		if c.Type != nil {
			what = c.Type.Name
		}
		if c.Status != model.New {
			length += ", " + c.Status.String()
		}
		ring, tag := "", paper.Cell{Kind: paper.Tick}
		if c.Status == model.Future { // nothing to see yet
			tag.Kind = paper.NA
		}
		if ref, ok := pl.Ref(sheet.RingOut, c); ok {
			ring = fmt.Sprintf("sh %d", ref.Sheet.No)
		}
		t.Rows = append(t.Rows, paper.Row{
			ID: fmt.Sprintf("cable-%d", i+1), Print: true,
			Cells: []paper.Cell{{S: c.Tag}, {S: what + ", " + length},
				{S: c.From.Tag() + ": " + r.plant.CableMark(c, true)}, tag,
				{S: c.To.Tag() + ": " + r.plant.CableMark(c, false)}, tag, {S: ring}},
		})
	}
	return t
}

func (r *recordBuilder) notes() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: "Notes", Width: 170 * render.MM}}}
	for _, n := range r.loop.Notes {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: n}}})
	}
	return t
}

// PunchItems is a punch list with as many empty rows.
func PunchItems(rows int) *paper.Table {
	return &paper.Table{
		Columns: []paper.Column{
			{Head: "No.", Width: 12 * render.MM, Hand: paper.Brief},
			{Head: "Punch item, or not tested and why", Width: 100 * render.MM, Hand: paper.Reading},
			{Head: "Category", Width: 18 * render.MM, Hand: paper.Reading},
			{Head: "Cleared: who, when", Width: 40 * render.MM, Hand: paper.Reading},
		},
		Rows: make([]paper.Row, rows),
	}
}

// instrumentsUsed has room for two instruments side by side.
func instrumentsUsed() *paper.Table {
	t := &paper.Table{Rows: make([]paper.Row, 1)}
	for range 2 {
		t.Columns = append(t.Columns,
			paper.Column{Head: "Instrument used", Width: 28 * render.MM, Hand: paper.Reading},
			paper.Column{Head: "Serial no.", Width: 19 * render.MM, Hand: paper.Reading},
			paper.Column{Head: "Cal. due", Width: 17 * render.MM, Hand: paper.Reading},
			paper.Column{Head: "Leads, Ω", Width: 21 * render.MM, Hand: paper.Reading}) // an ohmmeter's, tips joined
	}
	return t
}

// SignOff is where those sign who wired and proved a loop, by their roles.
func SignOff(roles []string) *paper.Table { return signOffAs("Wired as drawn; function OK", roles) }

// cableRoles are those that sign for a cable, which has no loop check.
func cableRoles(roles []string) []string {
	return slices.DeleteFunc(slices.Clone(roles), func(s string) bool { return strings.Contains(strings.ToLower(s), "loop check") })
}

// signOffAs is signed for what it says.
func signOffAs(words string, roles []string) *paper.Table {
	t := &paper.Table{
		Columns: []paper.Column{
			{Head: words, Width: 50 * render.MM},
			{Head: "Name", Width: 44 * render.MM, Hand: paper.Reading},
			{Head: "Signature", Width: 46 * render.MM, Hand: paper.Reading},
			{Head: "Date", Width: 30 * render.MM, Hand: paper.Reading},
		},
		Rows: make([]paper.Row, len(roles)),
	}
	for i, role := range roles {
		t.Rows[i].Cells = []paper.Cell{{S: role}}
	}
	return t
}
