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

// Currents of a two-wire proximity switch in mA (IEC 60947-5-6).
const switchOff, switchOn = 1.2, 2.1

// loopCheckBuilder gathers the rows of the loop check.
type loopCheckBuilder struct {
	*recordBuilder
	analogue  *paper.Table   // points up and down
	strokes   *paper.Table   // points of outputs, up and down: current, pressure and travel
	states    *paper.Table   // on and off
	terminals []*paper.Table // what those of thermocouples take off, by unit
}

// signals is the loop check: a table of points for signals that have many
// values, one of outputs, and one of states for those that have two. A table
// may be empty.
func (r *recordBuilder) signals() []*paper.Table {
	k := &loopCheckBuilder{recordBuilder: r, analogue: &paper.Table{Columns: []paper.Column{
		{Head: "Point", Width: 18 * render.MM},
		{Head: "Apply", Width: 29 * render.MM, Face: fonts.Bold},
		{Head: "Expected", Width: 34 * render.MM, Face: fonts.Bold},
		{Head: "V at card", Width: 19 * render.MM, Align: render.Right},
		{Head: "Up:\nsignal", Width: 15500, Hand: paper.Reading},
		{Head: "Up:\nreading", Width: 15500, Hand: paper.Reading},
		{Head: "Down:\nsignal", Width: 15500, Hand: paper.Reading},
		{Head: "Down:\nreading", Width: 15500, Hand: paper.Reading},
		paper.Initials,
	}}, strokes: &paper.Table{Columns: []paper.Column{
		{Head: "Command", Width: 17 * render.MM},
		{Head: "Expected", Width: 38 * render.MM, Face: fonts.Bold},
		{Head: "V at\ncard", Width: 13 * render.MM, Align: render.Right},
		{Head: "mA read", Width: 18 * render.MM, Hand: paper.Reading}, // the system sends the same up and down
		{Head: "Up:\npressure", Width: 18 * render.MM, Hand: paper.Reading},
		{Head: "Up:\ntravel", Width: 18 * render.MM, Hand: paper.Reading},
		{Head: "Down:\npressure", Width: 18 * render.MM, Hand: paper.Reading},
		{Head: "Down:\ntravel", Width: 18 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}, states: &paper.Table{Columns: []paper.Column{
		{Head: "State", Width: 26 * render.MM},
		{Head: "Apply", Width: 42 * render.MM, Face: fonts.Bold},
		{Head: "Expected", Width: 42 * render.MM, Face: fonts.Bold},
		{Head: "Read", Width: 16 * render.MM, Hand: paper.Reading},
		{Head: "Seen,\nfield", Width: 16 * render.MM, Hand: paper.Reading},
		{Head: "Seen,\nsystem", Width: 16 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}}
	for _, c := range r.loop.Circuits {
		if c.Broken || c.Later(r.plant) { // a later stage has said so among the whole circuits
			continue
		}
		switch c.Signal {
		case model.AnalogIn:
			k.analogIn(c)
		case model.AnalogOut:
			k.analogOut(c)
		case model.Resistance, model.Thermo:
			k.sensor(c)
		case model.PulseIn:
			k.pulse(c)
		case model.ContactIn:
			k.contact(c)
		case model.SwitchedOut:
			k.switched(c)
		case model.Displacement:
			k.probe(c)
		case model.Proximity:
			k.proximity(c)
		}
	}
	dropEmpty(k.analogue, cardVolts)
	for _, column := range []int{downPressure, upPressure} {
		dropShaded(k.strokes, column)
	}
	dropEmpty(k.strokes, outputVolts)
	return append([]*paper.Table{k.analogue, k.strokes, k.states}, k.terminals...)
}

// dropEmpty shades the cells of a column that hold nothing, and leaves it out
// where no row has any; the words of the second column take its room.
func dropEmpty(t *paper.Table, column int) {
	any := false
	for _, row := range t.Rows {
		if row.Group == "" {
			cell := &row.Cells[column]
			any = any || cell.S != ""
			if cell.S == "" {
				cell.Kind = paper.NA
			}
		}
	}
	if !any {
		t.Columns[1].Width += t.Columns[column].Width
		drop(t, column)
	}
}

// dropShaded leaves out a column that does not apply to any row.
func dropShaded(t *paper.Table, column int) {
	if !slices.ContainsFunc(t.Rows, func(row paper.Row) bool { return row.Group == "" && row.Cells[column].Kind != paper.NA }) {
		drop(t, column)
	}
}

// drop leaves out a column.
func drop(t *paper.Table, column int) {
	t.Columns = slices.Delete(t.Columns, column, column+1)
	for i := range t.Rows {
		if row := &t.Rows[i]; row.Group == "" {
			row.Cells = slices.Delete(row.Cells, column, column+1)
		}
	}
}

// volts sets what the last row of a table should read across the terminals of
// the card, device or its stand-in connected.
func (k *loopCheckBuilder) volts(t *paper.Table, column int, c *model.Circuit, mA float64) {
	if v, ok := compute.InputVolts(k.plant, c, mA); ok {
		t.Rows[len(t.Rows)-1].Cells[column].S = v.Words("V")
	}
}

func heading(t *paper.Table, format string, args ...any) {
	t.Rows = append(t.Rows, paper.Row{Group: fmt.Sprintf(format, args...)})
}

// row adds a row to a table. The cells after the three of words are written
// in, but those named in without do not apply.
func row(t *paper.Table, point, apply, expect string, without ...int) {
	cells := make([]paper.Cell, len(t.Columns))
	cells[0], cells[1], cells[2] = paper.Cell{S: point}, paper.Cell{S: apply}, paper.Cell{S: expect}
	for _, i := range without {
		cells[i].Kind = paper.NA
	}
	t.Rows = append(t.Rows, paper.Row{ID: "check-" + strings.ToLower(t.Columns[0].Head) + fmt.Sprintf("-%d", len(t.Rows)), Cells: cells})
}

// Columns of the table of states.
const (
	readHere = 3 + iota
	seenField
	seenSystem
)

func (k *loopCheckBuilder) contact(c *model.Circuit) {
	if c.Seals() != nil {
		k.seal(c)
		return
	}
	t, p := k.states, c.Device()
	var set model.SwitchPoint
	words := "contact input"
	if p != nil && p.Kind.Ports {
		st := deviceStation(c)
		open, closed, ok := k.bothVolts(c, c.Device())
		if !ok {
			open, closed = "wetting voltage", "about 0 V"
		}
		heading(t, "%s: %s", c.Name, strings.TrimSpace(deviceWords(k.plant, c, p)+" "+st.Group().Words()))
		k.trips(c, st, closed+" across it", open+" across it")
		return
	}
	if p != nil {
		set = p.Device.SetPoint
		switch words = deviceWords(k.plant, c, p); {
		case set.Given():
			words += ", " + setWords(set)
		case p.Kind.Process == model.Tapping:
			words += ", set point " + paper.NotGiven
		}
	}
	heading(t, "%s: %s", c.Name, words)
	if k.bothSides(c) {
	} else if p != nil && p.Kind.ThreeWire() {
		k.threeWire(c)
	} else if open, closed, ok := k.bothVolts(c, p); p != nil && p.Kind.TwoWire {
		if !ok {
			open, closed = "voltage "+paper.NotGiven, "voltage "+paper.NotGiven
		}
		k.contactState(c, model.Closed, "Switch on", "operate by process or target", closed+" across it")
		k.contactState(c, model.Open, "Switch off", "release it", open+" across it")
	} else {
		if !ok {
			open, closed = "wetting voltage", "about 0 V"
		}
		k.contactState(c, model.Closed, "Contact closed", workedBy(c, true), closed+" across it")
		k.contactState(c, model.Open, "Contact open", workedBy(c, false), open+" across it")
	}
	if set.Given() {
		row(t, "Set point", "drive past set point, or simulate", setWords(set), seenField)
	}
}

// deviceWords are tag and kind of a device; a circuit of its name has said the tag.
func deviceWords(plant *model.Plant, c *model.Circuit, p *model.Part) string {
	if p.Tag == c.Name {
		return plant.Say(p.Kind.Words)
	}
	return p.Tag + " " + plant.Say(p.Kind.Words)
}

// threeWire are the rows of a switch that answers on a terminal of its own.
func (k *loopCheckBuilder) threeWire(c *model.Circuit) {
	off, on := "output "+paper.NotGiven, "output "+paper.NotGiven
	if r, _ := compute.ReadingsOf(k.plant, c); len(r.Rows) > 1 && len(r.States) == 2 {
		at := r.Rows[1]
		where := fmt.Sprintf(" %s from %s to %s", r.Unit, at.A.Name, at.B.Name)
		off, on = at.Values[0].Words(r.Unit)+where, at.Values[1].Words(r.Unit)+where
	}
	k.contactState(c, model.Closed, "Output on", "operate by process or target", on)
	k.contactState(c, model.Open, "Output off", "release it", off)
}

// contactState is the row of one state of a contact: what the system shows then,
// with a box for it. Where the model does not say which state is the set point,
// it is written in.
func (k *loopCheckBuilder) contactState(c *model.Circuit, state model.Position, name, apply, volts string) {
	shows, box := "system shows it", ""
	if p := c.Device(); p != nil {
		rests := p.Device.RestState == state
		if st := deviceStation(c); st != nil && st.Group() != nil {
			rests = !st.Group().By.OfValve() && st.ClosedAtRest() == (state == model.Closed) // a valve at rest may hold it
		}
		if rests {
			name += ", at rest"
		}
		tags := k.alarmsOf(c)
		switch acted := p.Device.SetPoint.Acts; {
		case acted == 0:
		case acted == state && tags != "":
			shows, box = tags+" in alarm", "alarm"
		case acted == state:
			shows, box = "system: "+p.Device.SetPoint.Text, "so"
		case tags != "":
			shows, box = tags+" healthy", "healthy"
		default:
			shows, box = "system: not tripped", "so"
		}
	}
	row(k.states, name, apply, shows+"; "+volts, seenField)
	if box != "" {
		cells := k.states.Rows[len(k.states.Rows)-1].Cells
		cells[seenSystem] = paper.Cell{Kind: paper.Tick, S: box}
	}
}

// alarmsOf are the tags of the alarms of the loop that read a circuit.
func (k *loopCheckBuilder) alarmsOf(c *model.Circuit) string {
	var tags []string
	for _, f := range k.loop.Functions {
		if f.Kind == model.Alarm && slices.Contains(f.Reads, c) {
			tags = append(tags, f.Tag)
		}
	}
	return strings.Join(tags, ", ")
}

// bothVolts are the volts at the device of a circuit of two states; false where
// they cannot be computed.
func (k *loopCheckBuilder) bothVolts(c *model.Circuit, p *model.Part) (off, on string, ok bool) {
	r, _ := compute.ReadingsOf(k.plant, c)
	i := slices.IndexFunc(r.Rows, func(row compute.Reading) bool { return row.Station != nil && row.Station.Part == p })
	if i < 0 || len(r.States) != 2 || p == c.Device() && i > 0 {
		return "", "", false
	}
	v := r.Rows[i].Values
	return v[0].Words(r.Unit) + " " + r.Unit, v[1].Words(r.Unit) + " " + r.Unit, true
}

// switched is a switched output: each coil that it works.
func (k *loopCheckBuilder) switched(c *model.Circuit) {
	for i, p := range driven(c) {
		k.coilTest(c, p, i == 0)
	}
}

// coilTest is the test of one coil of an output; what is of the output as a whole is tested
// with the first.
func (k *loopCheckBuilder) coilTest(c *model.Circuit, p *model.Part, first bool) {
	t := k.states
	_, volts, ok := k.bothVolts(c, p)
	if s := c.Supply(); !ok && s != nil {
		volts = s.Supply.Text + " − drop"
	} else if !ok {
		volts = "voltage " + paper.NotGiven
	}
	if p == nil {
		heading(t, "%s: switched output", c.Name)
		row(t, "Commanded on", "command on", volts)
		row(t, "Commanded off", "command off", "0 V")
		return
	}
	if p.Kind.Annunciator {
		heading(t, "%s: %s", c.Name, deviceWords(k.plant, c, p))
		row(t, "Commanded on", "command on", volts+"; lights or sounds")
		row(t, "Commanded off", "command off", "0 V; dark, silent")
		k.parted(c, "command on, lit or sounding", "dark, silent")
		return
	}
	if p.Kind.Grouped() && p.Device.Actuates == nil {
		k.relay(c, p, volts)
		return
	}
	last := p.FinalElement()
	on, off := commands(c)
	heading(t, "%s: %s, fails %s", c.Name, deviceWords(k.plant, c, p), wording.Given(last.Device.Fail.String()))
	rest := "acts; observed"
	if last != p {
		rest = last.Tag + " moves; observed"
	}
	row(t, "Commanded on", on, volts+"; "+rest)
	back := "back; observed"
	if last.Device.Fail != 0 {
		back = goes(last)
	}
	row(t, "Commanded off", off, "0 V; "+back)
	from := on
	switch last.Device.Fail { // a coil with volts holds it at its other end
	case model.Closed:
		from += ", " + last.Tag + " open"
	case model.Open:
		from += ", " + last.Tag + " closed"
	}
	if first {
		k.parted(c, from, back)
	}
	if last != p || last.Device.Air.Given() {
		row(t, "Air lost", from+", then shut off, vent air", goes(last), readHere)
	}
	if last != p {
		row(t, "Stroke time", "command on, then off", "seconds on, seconds off, each "+wording.StrokeLimit(last), seenField, seenSystem)
	}
	if p.Kind.Grouped() {
		k.coil(c, p)
	}
	if first {
		k.tripped(c, volts, "0 V; "+back)
	}
}

func (k *loopCheckBuilder) proximity(c *model.Circuit) {
	t, p := k.states, c.Device()
	tag := ""
	if p != nil && p.Tag != c.Name {
		tag = " " + p.Tag
	}
	heading(t, "%s: proximity switch%s, currents of IEC 60947-5-6", c.Name, tag)
	row(t, "Target away", "remove the target", fmt.Sprintf("> %.1f mA, or < %.1f mA if reverse-acting", switchOn, switchOff))
	row(t, "Target near", "present the target", "the other state")
	row(t, k.plant.Say("Core off"), k.plant.Say("lift one core at device"), "line fault, if monitored", seenField)
}
