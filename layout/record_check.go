package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// Failure currents of a 4-20 mA transmitter in mA (NAMUR NE 43), and the
// currents of a two-wire proximity switch in mA (IEC 60947-5-6).
const (
	failLow, failHigh   = 3.6, 21.0
	switchOff, switchOn = 1.2, 2.1
)

// terminalTemps are the terminal temperatures in °C for which the voltage to
// take off a thermocouple's is printed.
var terminalTemps = []float64{15, 20, 25, 30}

// pressureUnits are the units that a pneumatic signal is given in.
var pressureUnits = []string{"psi", "psig", "bar", "mbar", "kPa", "barg", "kg/cm2", "MPa"}

// checker gathers the rows of the loop check.
type checker struct {
	*recorder
	analogue *Table // points up and down
	states   *Table // on and off
}

// signals is the loop check: a table of points for signals that have many
// values, and one of states for those that have two.
func (r *recorder) signals() (analogue, states *Table) {
	k := &checker{r, &Table{Columns: []Column{
		{Head: "Point", Width: 20 * render.MM},
		{Head: "Apply", Width: 31 * render.MM, Face: fonts.Bold},
		{Head: "Expected", Width: 34 * render.MM, Face: fonts.Bold},
		{Head: "Up:\nsignal", Width: 18 * render.MM},
		{Head: "Up:\nreading", Width: 18 * render.MM},
		{Head: "Down:\nsignal", Width: 18 * render.MM},
		{Head: "Down:\nreading", Width: 18 * render.MM},
		{Head: "Initials", Width: 13 * render.MM},
	}}, &Table{Columns: []Column{
		{Head: "State", Width: 26 * render.MM},
		{Head: "Apply", Width: 42 * render.MM, Face: fonts.Bold},
		{Head: "Expected", Width: 42 * render.MM, Face: fonts.Bold},
		{Head: "Read", Width: 16 * render.MM},
		{Head: "Seen in the field", Width: 16 * render.MM},
		{Head: "Seen at the system", Width: 16 * render.MM},
		{Head: "Initials", Width: 13 * render.MM},
	}}}
	for _, c := range r.loop.Circuits {
		if c.Broken {
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
		case model.Proximity:
			k.proximity(c)
		}
	}
	return k.analogue, k.states
}

func heading(t *Table, format string, args ...any) {
	t.Rows = append(t.Rows, Row{Group: fmt.Sprintf(format, args...)})
}

// row adds a row to a table. The cells after the three of words are written
// in, but those named in without do not apply.
func row(t *Table, point, apply, expect string, without ...int) {
	cells := make([]Cell, len(t.Columns))
	cells[0], cells[1], cells[2] = Cell{S: point}, Cell{S: apply}, Cell{S: expect}
	for _, i := range without {
		cells[i].Kind = NA
	}
	t.Rows = append(t.Rows, Row{ID: "check-" + strings.ToLower(t.Columns[0].Head) + fmt.Sprintf("-%d", len(t.Rows)), Cells: cells})
}

// Columns of the table of points that a row may do without.
const (
	upSent = 3 + iota
	upShown
	downSent
	downShown
)

// The loop's own point shows whether it is wired crosswise with another.
const (
	ownWords = "own point"
	onlyThis = ", only this tag"
)

func only(point string) string {
	if point == ownWords {
		return onlyThis
	}
	return ""
}

// points are the check points of the practice and the loop's own, in per cent.
func (r *recorder) points() []float64 { return r.plant.Practice.CheckPoints }

// injectedAt is the row that says where the signal was put in.
func injectedAt(t *Table, at, lifted string) {
	row(t, "Injected at", at, lifted, upSent, upShown, downSent, downShown)
	cells := t.Rows[len(t.Rows)-1].Cells
	cells[upSent] = Cell{Kind: Tick, S: "there"}
	cells[upShown] = Cell{S: "else at:"}
	cells[downSent], cells[downShown] = Cell{}, Cell{}
}

// atDevice names the terminals of the device of a circuit.
func atDevice(c *model.Circuit) string {
	words := ""
	for i, t := range deviceTerminals(c) {
		if i == 0 {
			words += t.Part.Tag
		}
		words += " " + t.Name
	}
	return words
}

// value is a percentage of a range in its unit.
func value(span model.Range, percent float64) string {
	if !span.Given() {
		return fmt.Sprintf("%s %%, range %s", figure(percent, 100), notGiven)
	}
	return strings.TrimSpace(figure(span.At(percent), span.High-span.Low) + " " + span.Unit)
}

func (k *checker) analogIn(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: 4-20 mA input, no field device in the model", c.Name)
		return
	}
	d := p.Device
	signal := d.Output()
	law := "linear"
	switch d.Root {
	case "transmitter":
		law = "square root taken in the transmitter, so current and display go together"
	case "system":
		law = "square root taken in the system: a quarter of the signal shows half the range"
	}
	heading(t, "%s: %s, %s as %s, %s", c.Name, p.Kind.Words, given(d.Range.Text), signal.Text, law)
	injectedAt(t, atDevice(c), "device lifted")
	point := func(name string, percent float64) {
		row(t, name, current(signal, percent), value(d.Range, d.Shown(percent))+only(name))
	}
	for _, percent := range k.points() {
		point(figure(percent, 100)+" %", percent)
	}
	point(ownWords, k.own)
	if signal.Unit == "mA" && signal.Low == 4 && signal.High == 20 {
		row(t, "Failure low", fmt.Sprintf("%.1f mA (NE 43), 4 s", failLow), "failure shown", downSent, downShown)
		row(t, "Failure high", fmt.Sprintf("%.1f mA (NE 43), 4 s", failHigh), "failure shown", downSent, downShown)
	}
	row(t, "Open loop", "one core off at the device", "0 mA, value shown as bad", downSent, downShown)
	k.instruments(c, p)
	if d.Sensor != "" {
		heading(t, "%s: sensor side of the transmitter, %s. %s", p.Tag, d.Sensor, terminalMillivolts(d.Sensor))
		k.sensorPoints(p, signal)
	}
}

// instruments are the rows of indicators in the same circuit.
func (k *checker) instruments(c *model.Circuit, device *model.Part) {
	for _, s := range c.Stations() {
		p := s.Part
		if p == device || p.Kind.Name != "indicator" || p.Device == nil {
			continue
		}
		heading(k.analogue, "%s: %s in the same circuit, range %s", p.Tag, p.Kind.Words, given(p.Device.Range.Text))
		for _, percent := range k.points() {
			row(k.analogue, figure(percent, 100)+" %", current(device.Device.Output(), percent), value(p.Device.Range, percent))
		}
	}
}

// finalElement is what a device moves in the end, by way of others; itself
// when it moves nothing.
func finalElement(p *model.Part) *model.Part {
	for range 8 { // a ring of devices is the check's business
		if p == nil || p.Device == nil || p.Device.Drives == nil {
			break
		}
		p = p.Device.Drives
	}
	return p
}

func (k *checker) analogOut(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: 4-20 mA output, no field device in the model", c.Name)
		return
	}
	d, valve := p.Device, finalElement(p)
	signal := d.Output()
	fail := valve.Device.Fail
	air := model.Range{}
	for _, span := range []model.Range{d.Range, d.Calibrated} {
		if span.Given() && !air.Given() && slices.Contains(pressureUnits, span.Unit) {
			air = span
		}
	}
	if !air.Given() {
		air = pressures(valve.Device.Air)
	}
	heading(t, "%s: %s on %s, fails %s; %s at %s", c.Name, p.Kind.Words, valve.Tag, given(fail), signal.Text, atDevice(c))
	point := func(name string, percent float64) {
		expect := current(signal, percent)
		if air.Given() {
			at := percent
			if d.Action == "reverse" {
				at = 100 - percent
			}
			expect += ", " + value(air, at)
		}
		row(t, name, "signal "+figure(percent, 100)+" %", expect+", "+travel(percent, fail, d.Action == "reverse"))
	}
	for _, percent := range k.points() {
		point(figure(percent, 100)+" %", percent)
	}
	point(ownWords, k.own)
	row(t, "Signal lost", "one core off at the device", goes(valve), upSent, downSent, downShown)
	if d.Air != "" || valve != p || valve.Device.Air != "" {
		row(t, "Air lost", "air shut and vented", goes(valve), upSent, downSent, downShown)
		row(t, "Stroke time", "signal 0 to 100 to 0 %", "seconds up, seconds down", upSent, downSent)
	}
}

// pressures reads a span such as "0.2..1.0 bar" of a valve's air.
func pressures(s string) (r model.Range) {
	if n, _ := fmt.Sscanf(s, "%g..%g %s", &r.Low, &r.High, &r.Unit); n == 3 && slices.Contains(pressureUnits, r.Unit) {
		r.Text = s
	}
	return r
}

// travel is where a spring-return valve with a direct positioner stands: at its
// fail position with the lowest signal. Reverse action turns it round.
func travel(percent float64, fail string, reverse bool) string {
	open := percent
	if (fail == "open") != reverse {
		open = 100 - percent
	}
	if fail != "open" && fail != "closed" {
		return figure(open, 100) + " % travel"
	}
	return figure(open, 100) + " % open"
}

func goes(p *model.Part) string {
	switch p.Device.Fail {
	case "":
		return p.Tag + " fail position " + notGiven
	case "locked":
		return p.Tag + " stays"
	}
	return p.Tag + " goes " + p.Device.Fail
}

func (k *checker) sensor(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: %s, no field device in the model", c.Name, c.Signal)
		return
	}
	heading(t, "%s: %s %s, %s", c.Name, p.Kind.Words, given(p.Device.Sensor), given(p.Device.Range.Text))
	if s := terminalMillivolts(p.Device.Sensor); s != "" {
		t.Rows[len(t.Rows)-1].Group += ". " + s
	}
	injectedAt(t, atDevice(c), "element lifted")
	k.sensorPoints(p, model.Range{})
	row(t, "Open sensor", "one core off at the element", "drives as the input is set", downSent, downShown)
}

// celsius gives a temperature of a range in °C; false for an unknown unit.
func celsius(v float64, unit string) (float64, bool) {
	switch strings.TrimPrefix(strings.TrimPrefix(unit, "°"), "deg") {
	case "C":
		return v, true
	case "F":
		return (v - 32) / 1.8, true
	case "K":
		return v - 273.15, true
	}
	return 0, false
}

// element is the signal of a device's temperature element where its range
// stands at a percentage; false where sensor, range or unit tell nothing.
func element(d *model.Device, percent float64) (v float64, unit string, ok bool) {
	sensor, known := model.FindSensor(d.Sensor)
	degrees, ok := celsius(d.Range.At(percent), d.Range.Unit)
	if !known || !ok || !d.Range.Given() {
		return 0, "", false
	}
	v, ok = sensor.Value(degrees)
	return v, sensor.Unit(), ok
}

// terminalMillivolts is what terminals of a few temperatures take off the
// voltage of a thermocouple; "" for other sensors.
func terminalMillivolts(name string) string {
	sensor, known := model.FindSensor(name)
	if !known || sensor.Unit() != "mV" {
		return ""
	}
	var s []string
	for _, at := range terminalTemps {
		v, _ := sensor.Value(at)
		s = append(s, fmt.Sprintf("%.3f at %s °C", v, plain(at)))
	}
	return "mV to take off for terminals: " + strings.Join(s, ", ")
}

// sensorPoints are the points of a temperature element: what to apply in its
// place, and what the display or, of a transmitter, the current should be.
func (k *checker) sensorPoints(p *model.Part, signal model.Range) {
	t, d := k.analogue, p.Device
	point := func(name string, percent float64) {
		apply := notGiven
		switch v, unit, ok := element(d, percent); {
		case ok && unit == "mV":
			apply = fmt.Sprintf("%.3f mV less terminals", v)
		case ok:
			apply = fmt.Sprintf("%.2f Ω", v)
		}
		expect := value(d.Range, percent)
		if signal.Given() {
			expect = current(signal, percent)
		}
		row(t, name, apply, expect+only(name))
	}
	for _, percent := range k.points() {
		point(figure(percent, 100)+" %", percent)
	}
	point(ownWords, k.own)
	if terminalMillivolts(d.Sensor) != "" {
		row(t, "Terminals", "measure them", "°C beside, mV as above", upShown, downSent, downShown)
	}
}

func (k *checker) pulse(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: pulse input, no field device in the model", c.Name)
		return
	}
	d := p.Device
	heading(t, "%s: %s, %s as %s", c.Name, p.Kind.Words, given(d.Range.Text), given(d.Signal.Text))
	injectedAt(t, atDevice(c), "device lifted")
	for _, percent := range k.points() {
		apply := "frequency " + notGiven
		if d.Signal.Given() {
			apply = value(d.Signal, percent)
		}
		row(t, figure(percent, 100)+" %", apply, value(d.Range, percent))
	}
}

// Columns of the table of states.
const (
	readHere = 3 + iota
	seenField
	seenSystem
)

func (k *checker) contact(c *model.Circuit) {
	t, p := k.states, c.Device()
	set, words := "", "contact input"
	if p != nil {
		set = p.Device.Set
		words = p.Tag + " " + p.Kind.Words + ", set point " + notGiven
		if set != "" {
			words = p.Tag + " " + p.Kind.Words + ", " + setWords(set)
		}
	}
	heading(t, "%s: %s", c.Name, words)
	row(t, "Contact closed", "close it by its own process or test means", "system shows it; about 0 V across it", seenField)
	row(t, "Contact open", "open it", "system shows it; wetting volts across it", seenField)
	if set != "" {
		row(t, "Set point", "process past the set point, or test means", setWords(set), seenField)
	}
}

func (k *checker) switched(c *model.Circuit) {
	t, p := k.states, c.Device()
	volts := notGiven
	if s := c.Supply(); s != nil {
		volts = s.Supply.Volts + " less the drop"
	}
	if p == nil {
		heading(t, "%s: switched output", c.Name)
		row(t, "Commanded on", "command on", volts)
		row(t, "Commanded off", "command off", "0 V")
		return
	}
	last := finalElement(p)
	heading(t, "%s: %s %s, fails %s", c.Name, p.Tag, p.Kind.Words, given(last.Device.Fail))
	rest := "acts, seen by eye"
	if last != p {
		rest = last.Tag + " moves, seen by eye"
	}
	row(t, "Commanded on", "command on", volts+"; "+rest)
	back := "0 V; back, seen by eye"
	if last.Device.Fail != "" {
		back = "0 V; " + goes(last)
	}
	row(t, "Commanded off", "command off", back)
	row(t, "Core off", "one core off, commanded on", strings.TrimPrefix(back, "0 V; "), readHere)
	if last != p || last.Device.Air != "" {
		row(t, "Air lost", "air shut and vented", goes(last), readHere)
	}
}

func (k *checker) proximity(c *model.Circuit) {
	t, p := k.states, c.Device()
	tag := ""
	if p != nil {
		tag = " " + p.Tag
	}
	heading(t, "%s: proximity switch%s, currents of IEC 60947-5-6", c.Name, tag)
	row(t, "Target away", "bring the target away", fmt.Sprintf("above %.1f mA, or below %.1f if it works the other way", switchOn, switchOff))
	row(t, "Target near", "bring the target near", "the other of the two")
	row(t, "Core off", "one core off at the device", "line fault, where the input watches its line", seenField)
}

// alarms are the set points of the loop's functions.
func (r *recorder) alarms() *Table {
	t := &Table{Columns: []Column{
		{Head: "Alarm or trip", Width: 30 * render.MM, Face: fonts.Bold},
		{Head: "Set at", Width: 26 * render.MM, Face: fonts.Bold},
		{Head: "Signal there", Width: 24 * render.MM},
		{Head: "Tripped at", Width: 20 * render.MM},
		{Head: "Reset at", Width: 20 * render.MM},
		{Head: "Proved by", Width: 38 * render.MM},
		{Head: "Initials", Width: 13 * render.MM},
	}}
	for _, f := range r.loop.Functions {
		sets := f.Alarms
		if f.Set != "" && (f.Kind == "switch" || f.Kind == "alarm") {
			sets = append([]string{f.Set}, sets...)
		}
		for _, s := range sets {
			name, set := f.Tag, s
			if word, rest, ok := strings.Cut(s, " "); ok && leadsNumber(rest) {
				name, set = f.Tag+" "+word, rest
			} else if !leadsNumber(s) {
				name, set = f.Tag+" "+s, "by its contact"
			}
			unit, there := alarmSignal(f, set)
			t.Rows = append(t.Rows, Row{
				ID:    fmt.Sprintf("alarm-%d", len(t.Rows)+1),
				Cells: []Cell{{S: name}, {S: strings.TrimSpace(set + unit)}, {S: there}, {}, {}, {Kind: Tick, S: "action|display"}, {}},
			})
		}
	}
	return t
}

// leadsNumber tells whether a text begins with a number.
func leadsNumber(s string) bool {
	s = strings.TrimLeft(s, "+-")
	return s != "" && s[0] >= '0' && s[0] <= '9'
}

// alarmSignal is the signal of the device that a function reads at a set
// point, and the unit if the set point leaves it out.
func alarmSignal(f *model.Function, set string) (unit, signal string) {
	if len(f.Reads) == 0 || f.Reads[0].Broken {
		return "", ""
	}
	p := f.Reads[0].Device()
	if p == nil || !p.Device.Range.Given() {
		return "", ""
	}
	var v float64
	var rest string
	if n, _ := fmt.Sscanf(set, "%g %s", &v, &rest); n == 0 {
		return "", ""
	}
	if rest == "" {
		unit = " " + p.Device.Range.Unit
	} else if rest != p.Device.Range.Unit {
		return "", ""
	}
	percent, ok := p.Device.Range.Percent(v)
	if !ok {
		return unit, ""
	}
	switch f.Reads[0].Signal {
	case model.AnalogIn:
		return unit, current(p.Device.Output(), p.Device.SignalFor(percent))
	case model.Resistance, model.Thermo:
		if v, u, ok := element(p.Device, percent); ok {
			return unit, fmt.Sprintf("%.2f %s", v, u)
		}
	}
	return unit, ""
}
