package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// cautions come before the first test. The plant's own follow the built-in
// ones, how to read comes last.
func (r *recorder) cautions() *Table {
	t := &Table{Columns: []Column{
		{Head: "Before the test", Width: 158 * render.MM},
		{Head: "Done", Width: 12 * render.MM},
	}}
	say := func(s string) {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: s}, {Kind: Tick}}})
	}
	volts := r.plant.Practice.TestVolts
	hazard, live := r.surroundings()
	say("Isolated, locked out and proved dead, before any ohms or insulation test. Few testers notice a live 24 V loop.")
	if volts > 0 {
		say("Insulation test: both ends of the core off, and seen to be off. Never through a barrier, isolator, device, card or surge unit.")
		say("After it: every core discharged, links taken off, cores landed again, screens back on their earth.")
	}
	if hazard {
		say("Hazardous area: permit in force, tester certified for the area. A barrier keeps its earth while field cores are on it.")
	}
	if live {
		say("Existing wiring: operations told, loop in manual, trips bypassed only by those with authority, and written down.")
	}
	if mains := r.mains(); mains != "" {
		say(mains + " in this loop: locked off and proved dead by licensed people before a cover comes off.")
		if volts > 0 {
			say("Its insulation is tested at the voltage of the local code (IEC 60364-6 table 6A: 500 V DC up to 500 V), not as the column says.")
		}
	}
	if r.moves() {
		say("The loop check moves a valve: controller in manual, trips bypassed only by those with authority, process safe for the stroke, people clear.")
	}
	for _, s := range r.plant.Practice.Cautions {
		say(s)
	}
	say("Local codes, the permits of the site and the judgement of licensed people come before this form.")
	for _, how := range []string{
		"Ohms: link the cores of a run at the far end, read each to the next. Short and earth: unlink, each core open to all others, to screens and earth.",
		"N new, E existing, F future: every wire is tested. Loop check: whoever reads says what is shown before being told what is due.",
	} {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: how}, {}}})
	}
	return t
}

// mains is the mains supply of the loop in words; "" when it has none.
func (r *recorder) mains() string {
	for _, c := range r.loop.Circuits {
		if s := c.Supply(); s != nil && s.Supply.AC {
			return s.Supply.Volts + " from " + s.Tag
		}
	}
	return ""
}

// moves tells whether a test of the loop can move something.
func (r *recorder) moves() bool {
	for _, c := range r.loop.Circuits {
		if c.Signal == model.AnalogOut || c.Signal == model.SwitchedOut {
			return true
		}
	}
	for _, f := range r.loop.Functions {
		if len(f.Drives) > 0 || f.Kind == "controller" {
			return true
		}
	}
	return false
}

// surroundings tells whether the loop has to do with a hazardous area and with
// wiring in service.
func (r *recorder) surroundings() (hazard, live bool) {
	for _, d := range r.loop.Devices {
		hazard = hazard || d.Device.Zone != ""
		live = live || d.Status == model.InPlace
	}
	for _, c := range r.loop.Circuits {
		for _, s := range circuitStations(c) {
			hazard = hazard || s.Part.Barrier != nil
		}
		for _, w := range c.Conductors(r.plant) {
			live = live || w.Status == model.InPlace
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
func (r *recorder) wires() (*Table, []first) {
	pr := r.plant.Practice
	least, stated := "≥ "+plain(pr.TestMegohm), r.byLength()
	if stated {
		least = "≥ as\nstated"
	}
	t := &Table{Columns: []Column{
		{Head: "Core\ncolour", Width: 18 * render.MM, Face: fonts.MonoBold},
		{Head: "Pol.\nNEF", Width: 8500, Align: render.Middle, Face: fonts.MonoBold},
		{Head: "From terminal", Width: 19 * render.MM, Face: fonts.MonoBold},
		{Head: "Marker there", Width: 24 * render.MM, Face: fonts.Mono},
		{Head: "To terminal", Width: 19 * render.MM, Face: fonts.MonoBold},
		{Head: "Marker there", Width: 24 * render.MM, Face: fonts.Mono},
		{Head: "Ω read", Width: 14 * render.MM},
		{Head: "No short", Turned: true, Width: 6500},
		{Head: "No earth", Turned: true, Width: 6500},
		{Head: "Polarity", Turned: true, Width: 6500},
		{Head: fmt.Sprintf("MΩ\n%s V DC\n%s", plain(pr.TestVolts), least), Width: 13 * render.MM},
		{Head: "Initials", Turned: true, Width: 11 * render.MM},
	}}
	megohm := len(t.Columns) - 2
	if pr.TestVolts <= 0 {
		t.Columns = append(t.Columns[:megohm], t.Columns[megohm+1])
	}
	var firsts []first
	for _, c := range r.loop.Circuits {
		ws := c.Conductors(r.plant)
		if len(ws) == 0 {
			continue
		}
		firsts = append(firsts, first{c, len(t.Rows)})
		runs := map[model.Pos]*model.Run{}
		if c.Path != nil {
			for _, run := range c.Runs() {
				runs[run.Pos] = run
			}
		}
		n := 0
		for i, w := range ws {
			if i == 0 || w.Pos != ws[i-1].Pos {
				n++
				words := r.runWords(c, n, w, runs[w.Pos])
				if w.Core != nil && stated {
					limit, byLength := r.plant.InsulationLimit(w.Core.Cable)
					words += ", at least " + megohms(limit)
					if byLength {
						words += " by length"
					}
				}
				t.Rows = append(t.Rows, Row{Group: words})
			}
			row := r.wireRow(c, w)
			row.ID = fmt.Sprintf("wire-%d", len(t.Rows))
			if pr.TestVolts <= 0 {
				row.Cells = append(row.Cells[:megohm:megohm], row.Cells[megohm+1:]...)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t, firsts
}

// byLength tells whether a cable of the loop has a limit of insulation by its
// length; then each run states its own.
func (r *recorder) byLength() bool {
	for _, c := range r.loop.Circuits {
		for _, w := range c.Conductors(r.plant) {
			if w.Core == nil {
				continue
			}
			if _, by := r.plant.InsulationLimit(w.Core.Cable); by {
				return true
			}
		}
	}
	return false
}

// runWords is the heading of a run: what carries it, and what an ohmmeter
// should read.
func (r *recorder) runWords(c *model.Circuit, n int, w *model.Conductor, run *model.Run) string {
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
	s += fmt.Sprintf(", %s to %s", endPlace(w.From), endPlace(w.To))
	if cable.Length > 0 {
		s += fmt.Sprintf(", %s m", figure(cable.Length, cable.Length))
	}
	if cable.Type != nil {
		s += ", " + cable.Type.Copper.String()
	}
	ohms, ok := 0.0, false
	if run != nil {
		ohms, ok = run.Ohms(r.plant.Practice.Celsius)
	}
	return s + ": expect " + r.ohms(ohms, ok)
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

// ohms is a computed resistance with the most that is accepted.
func (r *recorder) ohms(ohms float64, ok bool) string {
	if !ok {
		return "Ω " + notGiven
	}
	pr := r.plant.Practice
	s := ohmFigure(ohms) + " Ω"
	if pr.Celsius != 20 {
		s += fmt.Sprintf(" (%s °C)", plain(pr.Celsius))
	}
	if pr.OhmsLimit > 0 {
		s += ", at most " + ohmFigure(ohms*pr.OhmsLimit/100) + " Ω"
	}
	return s
}

// groupName is what a pair is called by the plant's practice: by its number,
// its colours or both.
func (r *recorder) groupName(c *model.Cable, group int) string {
	name := fmt.Sprintf("%s %d", c.Type.GroupWord(), group)
	var colours []string
	for _, core := range c.Cores {
		if core.Group == group && core.Colour != (model.Colour{}) {
			colours = append(colours, r.colour(core.Colour))
		}
	}
	switch how := r.plant.Practice.PairNames; {
	case len(colours) == 0 || c.Type.Size == 1 || how == "number":
		return name
	case how == "colour":
		return fmt.Sprintf("%s %s", c.Type.GroupWord(), strings.Join(colours, "+"))
	}
	return fmt.Sprintf("%s (%s)", name, strings.Join(colours, "+"))
}

func (r *recorder) colour(c model.Colour) string {
	if r.plant.Practice.ColourNames == "words" {
		return c.Words()
	}
	return c.Letters()
}

// statusLetters mark a row: new, existing, future.
var statusLetters = map[model.Status]string{model.ToInstall: "N", model.InPlace: "E", model.Later: "F"}

// marks are the colour of a conductor and the sign in the column of polarity:
// S for a screen, a dot where the circuit has no polarity.
func (r *recorder) marks(w *model.Conductor) (colour, sign string) {
	colour, sign = r.colour(w.Colour), "·"
	switch {
	case w.Screen:
		sign = "S"
		if colour == "" {
			colour = "screen"
		}
	case w.Role == '-':
		sign = "−"
	case w.Role != 0:
		sign = string(w.Role)
	}
	if colour == "" {
		colour = "–"
	}
	return colour, sign
}

// wireRow is the row of one conductor.
func (r *recorder) wireRow(c *model.Circuit, w *model.Conductor) Row {
	core := wireName(w)
	colour, sign := r.marks(w)
	cell := func(kind CellKind, when bool) Cell {
		if when {
			return Cell{Kind: kind}
		}
		return Cell{Kind: NA}
	}
	ohms := Cell{}
	if w.Core == nil {
		ohms = Cell{Kind: Tick}
	}
	polar := w.Role == '+' || w.Role == '-'
	return Row{
		Data: r.rowData(w),
		Cells: []Cell{
			{S: core + "\n" + colour}, {S: sign + "\n" + statusLetters[w.Status]},
			{S: w.From.Tag()}, {S: r.plant.Marker(w, w.From)},
			{S: w.To.Tag()}, {S: r.plant.Marker(w, w.To)},
			ohms,
			cell(Tick, w.Core != nil), cell(Tick, w.Core != nil), cell(Tick, polar),
			cell(Words, w.Core != nil),
			{},
		},
	}
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
func (r *recorder) rowData(w *model.Conductor) []render.Datum {
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

// megohms is an insulation resistance to three digits.
func megohms(v float64) string {
	if v >= 1000 {
		return fmt.Sprintf("%.3g GΩ", v/1000)
	}
	return fmt.Sprintf("%.3g MΩ", v)
}

// plain is a number without needless digits.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// figure prints a value of a range to about a thousandth of its span.
func figure(v, span float64) string {
	digits := 3
	if span = math.Abs(span); span > 0 {
		digits = min(6, max(0, 3-int(math.Floor(math.Log10(span)))))
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// ohmFigure prints ohms to three digits, as a good meter does.
func ohmFigure(v float64) string {
	switch {
	case v < 10:
		return strconv.FormatFloat(v, 'f', 2, 64)
	case v < 100:
		return strconv.FormatFloat(v, 'f', 1, 64)
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}
