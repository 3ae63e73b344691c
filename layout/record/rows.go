package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
)

// cautions come before the first test. The plant's own follow the built-in
// ones. service tells of wiring in service at the ends,
// dangers are those of the places there.
func (r *recordBuilder) cautions(service string, dangers ...string) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Before the test", Width: 158 * render.MM, Safety: true},
		{Head: "Done", Width: 12 * render.MM},
	}}
	say := func(s string) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: s}, {Kind: paper.Tick}}})
	}
	hazard, live := Risks(r.plant, r.loop)
	if !r.loop.Plugged() {
		say(r.plant.Say(wording.ProveDead))
	}
	for _, s := range linkCautions(r.plant, r.loop) {
		say(s)
	}
	if supply := mains(r.plant, r.loop); supply != "" {
		say(supply + " in this loop" + r.plant.Say(wording.MainsRule))
	}
	for _, s := range dangers {
		say(s)
	}
	if r.insulation().any {
		say(r.plant.Say(wording.NeverThrough))
	}
	for _, s := range jointCautions(r.plant, joints(r.plant, r.loop.Circuits, isJoint), r.insulation().any) {
		say(s)
	}
	if hazard {
		say(wording.HazardWords(""))
	}
	switch {
	case live && service != "":
		say("Existing wiring in this loop and in " + service + ". " + wording.ServiceRule)
	case live:
		say("Existing wiring in this loop. " + wording.ServiceRule)
	case service != "":
		say("Existing wiring in " + service + ". " + wording.ServiceRule)
	}
	if r.shorts() {
		say(shortSpurs)
	}
	if moves := r.moves(); moves != "" {
		say("The loop check " + moves + ": controller in manual; written authority for any trip bypass; process safe; area clear.")
	}
	for _, s := range r.plant.Practice.Cautions {
		say(s)
	}
	say(wording.Overrides)
	return t
}

// mains is the supply of a loop above extra-low voltage in words; "" when it
// has none.
func mains(plant *model.Plant, l *model.Loop) string {
	for _, c := range l.Circuits {
		if !c.Mains() {
			continue
		}
		if s := c.Feeder(); s != nil {
			return s.Gives() + " from " + s.Tag
		}
		return plant.Say("Mains, voltage ") + paper.NotGiven + ","
	}
	return ""
}

// moves is what a test of the loop moves, as far as the model says; "" for
// nothing.
func (r *recordBuilder) moves() string {
	var moved, unknown []string
	add := func(to *[]string, tag string) {
		if !slices.Contains(*to, tag) {
			*to = append(*to, tag)
		}
	}
	seen := map[*model.Circuit]bool{}
	var moves func(c *model.Circuit)
	moves = func(c *model.Circuit) {
		if seen[c] {
			return
		}
		seen[c] = true
		if d := c.Device(); d != nil && c.Signal == model.SwitchedOut {
			for _, g := range d.Contacts() { // what a relay switches moves with it
				for _, other := range g.Circuits() {
					moves(other)
				}
			}
		}
		switch d := c.Device(); {
		case c.Signal != model.AnalogOut && c.Signal != model.SwitchedOut:
		case d == nil:
			add(&unknown, c.Name)
		case !d.Kind.Annunciator:
			for _, d := range driven(c) {
				add(&moved, d.FinalElement().Tag)
			}
		}
	}
	for _, c := range r.loop.Circuits {
		moves(c)
	}
	for _, f := range r.loop.Functions {
		for _, c := range f.Outputs {
			moves(c)
		}
		for _, by := range f.TakenBy {
			if by.Loop != r.loop {
				add(&moved, "what "+by.Tag+" drives")
			}
		}
		if (f.Kind == model.Controller || f.Kind.Selects()) && len(f.Outputs)+len(f.TakenBy) == 0 {
			add(&unknown, f.Tag)
		}
	}
	var words []string
	if len(moved) > 0 {
		words = append(words, "moves "+strings.Join(moved, ", "))
	}
	if len(unknown) > 0 {
		words = append(words, "may move what "+strings.Join(unknown, ", ")+" drives: "+paper.NotGiven)
	}
	return strings.Join(words, ", ")
}

// Risks reports whether a loop has to do with a hazardous area, and with
// wiring in service.
func Risks(p *model.Plant, l *model.Loop) (hazard, live bool) {
	for _, d := range l.Devices {
		hazard = hazard || d.Device.Zone != ""
		live = live || d.Status == model.Existing
	}
	for _, c := range l.Circuits {
		hazard = hazard || c.IntrinsicallySafe()
		for _, s := range wording.CircuitStations(c) {
			hazard = hazard || s.Part.Guards()
		}
		for _, w := range c.Conductors(p) {
			live = live || w.Status == model.Existing
		}
	}
	return hazard, live
}

// first is the row where the wiring of a circuit begins.
type first struct {
	circuit *model.Circuit
	row     int
}

// wires is the wiring test: a row for every core, screen, wire and jumper, in
// walking order.
func (r *recordBuilder) wires() (*paper.Table, []first) {
	tests := r.insulation()
	t := &paper.Table{Columns: append([]paper.Column{
		{Head: r.plant.Say("Core, colour"), Width: 32 * render.MM, Face: fonts.MonoBold},
		{Head: "Pol.\nN/E/F", Width: 12 * render.MM, Align: render.Middle, Face: fonts.MonoBold},
		{Head: "From terminal", Width: 35 * render.MM, Face: fonts.MonoBold},
		{Head: "To terminal", Width: 35 * render.MM, Face: fonts.MonoBold},
	}, append(tests.columns(r.plant), identityColumn, paper.Initials)...)}
	var firsts []first
	for _, c := range r.loop.Circuits {
		ws := c.Conductors(r.plant)
		if len(ws) == 0 {
			continue
		}
		firsts = append(firsts, first{c, len(t.Rows)})
		runs := map[finding.Pos]*model.Run{}
		if c.Path != nil {
			for _, run := range c.Runs() {
				runs[run.Pos] = run
			}
		}
		for n, of := range byRun(ws) {
			head := r.runHead(c, n+1, of[0], runs[of[0].Pos])
			if r.rungAlike(of) {
				t.Rows = append(t.Rows, r.rungRow(len(t.Columns), head+r.coresOf(of, runs[of[0].Pos]), of))
				continue
			}
			t.Rows = append(t.Rows, paper.Row{Group: head + r.runWords(of[0], runs[of[0].Pos], tests)})
			for i, w := range of {
				row := r.wireRow(w, tests)
				row.ID = fmt.Sprintf("wire-%d", len(t.Rows))
				if i > 0 {
					r.join(&row, &t.Rows[len(t.Rows)-1], pairedRun(runs[w.Pos]) && !w.Screen)
				}
				if w.Core == nil && w.Status != model.Future {
					insideRow(&row, i > 0 && len(of) <= mostInside)
				}
				t.Rows = append(t.Rows, row)
			}
		}
	}
	return t, firsts
}

// mostInside are the wires inside a place that one hand signs for at once.
const mostInside = 6

// insideRow makes the row of a wire inside a place as low as its boxes: nothing else is
// written in it but the initials, once for its run.
func insideRow(row *paper.Row, joined bool) {
	row.Print = true
	if joined {
		row.Cells[len(row.Cells)-1] = paper.Cell{Kind: paper.Above}
	}
}

// byRun parts the conductors of a circuit into its runs.
func byRun(ws []*model.Conductor) (runs [][]*model.Conductor) {
	for i, w := range ws {
		if i == 0 || w.Pos != ws[i-1].Pos {
			runs = append(runs, nil)
		}
		runs[len(runs)-1] = append(runs[len(runs)-1], w)
	}
	return runs
}

// rungAlike reports whether the cores of a run are all rung out on one other sheet, and of
// one status: then the record asks once whether they were.
func (r *recordBuilder) rungAlike(ws []*model.Conductor) bool {
	sheet := r.rungOn(ws[0].Core)
	return sheet != "" && ws[0].Status != model.Future && !slices.ContainsFunc(ws, func(w *model.Conductor) bool {
		return r.rungOn(w.Core) != sheet || w.Status != ws[0].Status
	})
}

// coresOf names the cores of a run whose heading has no pair to name them by.
func (r *recordBuilder) coresOf(ws []*model.Conductor, run *model.Run) string {
	if run != nil && run.Group > 0 {
		return ""
	}
	s := r.plant.Say(" cores")
	for _, w := range ws {
		s += " " + strings.TrimLeft(strings.TrimPrefix(w.Core.Name(), w.Core.Cable.Tag), "- ")
	}
	return s
}

// rungRow is the row of a run that is rung out on another sheet: where its cores go, and
// one box.
func (r *recordBuilder) rungRow(columns int, head string, ws []*model.Conductor) paper.Row {
	var signs string // and the status
	for _, w := range ws {
		_, sign := r.marks(w)
		signs += sign + " "
	}
	if strings.Trim(signs, "· ") == "" { // no polarity
		signs = ""
	}
	ends := func(end func(*model.Conductor) model.End) string {
		s, part := "", (*model.Part)(nil)
		for _, w := range ws {
			e := end(w)
			switch t := e.Terminal; {
			case t != nil && t.Part == part:
				s += " " + t.Name
			case s == "":
				s = e.Tag()
			default:
				s += ", " + e.Tag()
			}
			if part = nil; e.Terminal != nil {
				part = e.Terminal.Part
			}
		}
		return s
	}
	names := make([]string, len(ws))
	for i, w := range ws {
		names[i] = wireName(w)
	}
	row := paper.Row{Print: true, ID: "rung-" + sheet.PlainName(head), Cells: make([]paper.Cell, columns), Data: []render.Datum{
		{Key: "rung", Value: strings.Join(names, " ")}, {Key: "cable", Value: ws[0].Core.Cable.Tag},
		{Key: "loop", Value: ws[0].Circuit.Loop.Tag}, {Key: "circuit", Value: ws[0].Circuit.Name}}}
	for i := range row.Cells {
		row.Cells[i].Kind = paper.Before
	}
	row.Cells[0] = paper.Cell{Plain: true, S: fmt.Sprintf("%s, %s%s\n%s to %s", head, signs, statusLetters[ws[0].Status],
		ends(func(w *model.Conductor) model.End { return w.From }), ends(func(w *model.Conductor) model.End { return w.To }))}
	row.Cells[readOhms] = paper.Cell{Kind: paper.Tick, S: "proved, " + r.rungOn(ws[0].Core)}
	row.Cells[columns-1] = paper.Cell{}
	return row
}

// pairedRun reports whether a run has two cores: linked, they give one reading.
func pairedRun(run *model.Run) bool { return run != nil && len(run.Cores) == 2 }

// readOhms is the first column of a row of cores that is written in.
const readOhms = 4

// join makes what two rows of a run have together one cell: the box for what is proved
// on another sheet, or of a pair the reading of both cores, linked.
func (r *recordBuilder) join(row, before *paper.Row, paired bool) {
	was, is := before.Cells[readOhms], &row.Cells[readOhms]
	switch {
	case row.Print && before.Print && (was == *is || was.Kind == paper.Above): // proved on one sheet
		for i := readOhms; i < len(row.Cells); i++ {
			row.Cells[i] = paper.Cell{Kind: paper.Above}
		}
	case paired && is.Kind == paper.Words:
		is.Kind = paper.Above
	}
}

// insulationTests are the insulation tests of the cables on a form.
type insulationTests struct {
	any   bool // is one asked for
	alike bool // have all the same voltage and limit
	of    map[*model.Cable]insulationTest
}

type insulationTest struct {
	volts, megohm float64
	byLength      bool
}

func (i *insulationTests) add(p *model.Plant, c *model.Cable) {
	if _, known := i.of[c]; known {
		return
	}
	var t insulationTest
	t.volts, t.megohm, t.byLength = compute.InsulationTest(p, c)
	for _, other := range i.of {
		i.alike = i.alike && other.volts == t.volts && other.megohm == t.megohm
	}
	i.any = i.any || t.volts > 0
	i.of[c] = t
}

// insulation are the tests of the cables of the loop.
func (r *recordBuilder) insulation() insulationTests {
	tests := insulationTests{alike: true, of: map[*model.Cable]insulationTest{}}
	for _, c := range r.loop.Circuits {
		for _, w := range c.Conductors(r.plant) {
			if w.Core != nil && r.rungOn(w.Core) == "" {
				tests.add(r.plant, w.Core.Cable)
			}
		}
	}
	return tests
}

// columns are those of the tests of a core, as on every form.
func (i *insulationTests) columns(plant *model.Plant) []paper.Column {
	all := []paper.Column{
		{Head: "Ω read", Width: ringHand, Hand: paper.Reading},
		{Head: "No short", Turned: true, Width: 6500},
		{Head: plant.Say("No earth"), Turned: true, Width: 6500},
	}
	if !i.any {
		return all
	}
	head := "MΩ\nas\nstated"
	if i.alike {
		for _, t := range i.of {
			head = fmt.Sprintf("MΩ\n%s V DC\n≥ %s", wording.Plain(t.volts), wording.MegohmFigure(t.megohm))
		}
	}
	return append(all, paper.Column{Head: head, Width: ringHand, Hand: paper.Reading})
}

// cells are those below the columns: a core is read in ohms, open to all others
// and to earth; a screen too, but without insulation test, and its earth lifted;
// a wire inside a place is only proved through.
func (i *insulationTests) cells(w *model.Conductor) []paper.Cell {
	na, tick := paper.Cell{Kind: paper.NA}, paper.Cell{Kind: paper.Tick}
	all := []paper.Cell{tick, na, na}
	if w.Core != nil {
		all = []paper.Cell{{}, tick, tick}
	}
	if !i.any {
		return all
	}
	if w.Core == nil || w.Screen || i.of[w.Core.Cable].volts <= 0 {
		return append(all, na)
	}
	megohm := paper.Cell{}
	if !i.alike { // where a hand might take the voltage of the row above
		megohm.S = wording.Plain(i.of[w.Core.Cable].volts) + " V\n "
	}
	return append(all, megohm)
}

// words says what is asked of a cable where the head of the column does not.
func (i *insulationTests) words(c *model.Cable) string {
	t := i.of[c]
	if i.alike || t.volts <= 0 {
		return ""
	}
	s := fmt.Sprintf(", %s V DC, minimum %s", wording.Plain(t.volts), wording.Megohms(t.megohm))
	if t.byLength {
		s += " by length"
	}
	return s
}

// rungOn names the sheet that a core is rung out on, and not here; "" for none.
func (r *recordBuilder) rungOn(c *model.Core) string {
	if c == nil || r.pl == nil {
		return ""
	}
	ref, ok := r.pl.Ref(sheet.RingOut, sheet.RungGroup{Cable: c.Cable, Group: c.Group})
	if !ok {
		return ""
	}
	return sheetWords(ref.Sheet)
}

// sheetWords names a sheet by its number. While the set is planned it has none
// yet, and is given room for a long one.
func sheetWords(s *sheet.Sheet) string {
	if s.No == 0 {
		return "sheet 00000"
	}
	return fmt.Sprintf("sheet %d", s.No)
}

// runHead is what a run is, and what carries it.
func (r *recordBuilder) runHead(c *model.Circuit, n int, w *model.Conductor, run *model.Run) string {
	s := fmt.Sprintf("%s, run %d: ", c.Name, n)
	switch {
	case w.Core == nil && w.Kind == model.JumperRun:
		return s + "jumpers " + inside(w)
	case w.Core == nil:
		return s + "wires " + inside(w)
	}
	cable := w.Core.Cable
	s += "cable " + cable.Tag
	if run != nil && run.Group > 0 {
		s += " " + r.groupName(cable, run.Group)
	}
	return s
}

// runWords is what an ohmmeter should read of a run; "" of wires inside a place.
func (r *recordBuilder) runWords(w *model.Conductor, run *model.Run, tests insulationTests) (s string) {
	if w.Core == nil {
		return ""
	}
	cable := w.Core.Cable
	if sheet := r.rungOn(w.Core); sheet != "" {
		return ": rung out on " + sheet
	}
	if w.Status == model.Future {
		return ": future, do not test"
	}
	if length := cable.LengthWords(); length != "" {
		s += ", " + length
	}
	if cable.Type != nil {
		s += ", " + cable.Type.Copper.String()
	}
	ohms, ok := 0.0, false
	if run != nil {
		ohms, ok = compute.Ohms(run, r.plant.Practice.TestCopper.Celsius)
	}
	return s + ": expect " + r.ohms(ohms, ok, cable) + tests.words(cable)
}

func inside(w *model.Conductor) string {
	if w.Place != nil {
		return "inside " + w.Place.Tag
	}
	return fmt.Sprintf("%s to %s", endPlace(w.From), endPlace(w.To))
}

func endPlace(e model.End) string {
	if e.Terminal != nil {
		return e.Terminal.Part.Where()
	}
	return e.At
}

// ohms is a computed resistance with the most that is accepted, both of copper as
// on test: at which temperature that is, each sheet says once.
func (r *recordBuilder) ohms(ohms float64, ok bool, cables ...*model.Cable) string {
	if !ok {
		return "Ω " + paper.NotGiven
	}
	pr := r.plant.Practice
	s := wording.OhmFigure(ohms) + " Ω"
	if slices.ContainsFunc(cables, compute.OhmsAreMost) {
		s = "up to " + s
	}
	if pr.OhmsLimit > 0 {
		s += ", limit " + wording.OhmFigure(compute.MostOhms(&pr, ohms)) + " Ω"
	}
	return s
}

// groupName is what a pair is called by the plant's practice: by its number,
// its colours or both.
func (r *recordBuilder) groupName(c *model.Cable, group int) string {
	number, colours, binder := wording.GroupName(&r.plant.Practice, c.Type, group, r.colour)
	switch {
	case len(colours) == 0 || c.Type.Size == 1:
		return fmt.Sprintf("%s %d", r.plant.Say(c.Type.GroupWord()), group) + wording.InBinder(binder)
	case number == "":
		return r.plant.Say(c.Type.GroupWord()) + " " + strings.Join(colours, "+") + wording.InBinder(binder)
	}
	return number + " (" + strings.Join(colours, "+") + ")" + wording.InBinder(binder)
}

func (r *recordBuilder) colour(c colour.Colour) string {
	if r.plant.Practice.ColourNames == model.ColourWords {
		return r.plant.Say(c.Words())
	}
	return c.Letters()
}

// statusLetters mark a row: new, existing, future.
var statusLetters = map[model.Status]string{model.New: "N", model.Existing: "E", model.Future: "F"}

// marks are the colour of a conductor and the sign in the column of polarity:
// S for a screen, a dot where the circuit has no polarity.
func (r *recordBuilder) marks(w *model.Conductor) (colour, sign string) {
	colour, sign = r.colour(w.Colour), "·"
	switch {
	case w.Screen:
		sign = "S"
		if colour == "" {
			colour = r.plant.Say("screen")
		}
	case w.Role == 'E':
		sign = "PE"
	case w.Role != 0:
		sign = wording.Sign(w.Sign())
	}
	if colour == "" {
		colour = "–"
	}
	return colour, sign
}

// identityColumn is where it is ticked that a core is the one of its row at both
// ends, and so on the terminal of its sign.
var identityColumn = paper.Column{Head: "Identity", Turned: true, Width: 6500}

func identityBox(w *model.Conductor) paper.Cell {
	if material.Identified(w) && w.Status != model.Future {
		return paper.Cell{Kind: paper.Tick}
	}
	return paper.Cell{Kind: paper.NA}
}

// wireRow is the row of one conductor. One of a later stage has nothing to fill
// in, and one that is rung out on another sheet is only ticked off.
func (r *recordBuilder) wireRow(w *model.Conductor, tests insulationTests) paper.Row {
	colour, sign := r.marks(w)
	row := paper.Row{Data: r.rowData(w)}
	cells := []paper.Cell{
		{S: wireName(w) + " " + colour}, {S: sign + " " + statusLetters[w.Status]}, {S: w.From.Tag()}, {S: w.To.Tag()},
	}
	own := tests.cells(w)
	joined := make([]paper.Cell, len(own)) // and the identity
	for i := range joined {
		joined[i].Kind = paper.Before
	}
	switch sheet := r.rungOn(w.Core); {
	case w.Status == model.Future:
		cells = append(cells, paper.Cell{Kind: paper.NA, S: "future"})
		cells = append(append(cells, joined...), paper.Cell{Kind: paper.Before})
	case sheet != "":
		row.Print = true // one box for the run
		cells = append(cells, paper.Cell{Kind: paper.Tick, S: "proved, " + sheet})
		cells = append(append(cells, joined...), paper.Cell{})
	default:
		cells = append(append(cells, own...), identityBox(w), paper.Cell{})
	}
	row.Cells = cells
	return row
}

// wireName is what a row calls a conductor.
func wireName(w *model.Conductor) string {
	switch {
	case w.Core != nil:
		return w.Core.Name()
	case w.Kind == model.JumperRun:
		return "jumper"
	}
	return "wire"
}

// rowData are the facts of a conductor in a row of a form.
func (r *recordBuilder) rowData(w *model.Conductor) []render.Datum {
	name, cable, group, role, loop, circuit := wireName(w), "", "", "", "", ""
	if w.Core != nil {
		if cable = w.Core.Cable.Tag; w.Core.Group > 0 {
			group = strconv.Itoa(w.Core.Group)
		}
	}
	if !w.Screen && w.Role != 0 {
		role = string(w.Role)
	}
	if w.Circuit != nil {
		loop, circuit = w.Circuit.Loop.Tag, w.Circuit.Name
	}
	return []render.Datum{
		{Key: "conductor", Value: name}, {Key: "cable", Value: cable}, {Key: "group", Value: group},
		{Key: "core", Value: name}, {Key: "colour", Value: w.Colour.Letters()}, {Key: "role", Value: role},
		{Key: "from", Value: w.From.Tag()}, {Key: "to", Value: w.To.Tag()},
		{Key: "loop", Value: loop}, {Key: "circuit", Value: circuit}, {Key: "status", Value: w.Status.String()},
	}
}
