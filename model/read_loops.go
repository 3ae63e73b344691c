package model

import (
	"cmp"
	"strings"

	"gopkg.in/yaml.v3"
)

var loopFields = fields[*Loop]{
	{"service", aText, asked, "what the loop does", "Filter 4 backwash flow", func(r *plantReader, l *Loop, n node) { l.Service = r.text(n) }},
	{"area", aText, "", "area of the plant", "", func(r *plantReader, l *Loop, n node) { l.Area = r.text(n) }},
	{"reference", aText, "", "P&ID number", "", func(r *plantReader, l *Loop, n node) { l.Ref = r.text(n) }},
	{"status", aStatus, "`new`", "`new`, `existing` or `future`", "", func(r *plantReader, l *Loop, n node) { l.Status = r.status(n) }},
	{"notes", someTexts, "", "printed on the diagram", "", func(r *plantReader, l *Loop, n node) { l.Notes = r.texts(n, "note") }},
	{"devices", tagged(defined("device")), "", "field devices and panel instruments", "", func(r *plantReader, l *Loop, n node) { r.devices(n, l) }},
	{"functions", tagged(defined("function")), "", "work done in the system", "", func(r *plantReader, l *Loop, n node) { r.functions(n, l) }},
	{"circuits", named(defined("walk")), "", "walks from the device to the I/O, by name", "", func(r *plantReader, l *Loop, n node) { r.circuitsOf(n, l) }},
}

func (r *plantReader) loops(n node) {
	for key, value := range r.entries(n, "loop") {
		l := &Loop{Pos: key.pos(), Tag: key.Value}
		if first, ok := r.loopAt[l.Tag]; ok {
			r.twice(key, first)
			continue
		}
		r.loopAt[l.Tag] = l.Pos
		r.plant.Loops = append(r.plant.Loops, l)
		loopFields.read(r, value, "", l)
	}
}

// writtenDevice is a device whose terminals are not made and whose place is not
// bound yet.
type writtenDevice struct {
	*Part
	terminals, in *node
	earthed       *node
}

var deviceFields = fields[*writtenDevice]{
	{"kind", aWord(kindNames(deviceKinds)...), asked, "kind of device", "transmitter", func(r *plantReader, d *writtenDevice, n node) {
		d.Kind = kindNamed(deviceKinds, r.oneOf(n, kindNames(deviceKinds)...))
	}},
	{"terminals", someNames, "those of the kind", "the names on the device, in the order of the kind", "11 12", func(r *plantReader, d *writtenDevice, n node) { d.terminals = &n }},
	{"in", aTag, "the field", "panel or cabinet that a panel instrument sits in", "CP-1", func(r *plantReader, d *writtenDevice, n node) { d.in = &n }},
	{"at", aText, "NOT GIVEN", "where it stands", "", func(r *plantReader, d *writtenDevice, n node) { d.Device.At = r.text(n) }},
	{"process", aText, "", "what it is connected to", "line RW-2105", func(r *plantReader, d *writtenDevice, n node) { d.Device.Process = r.text(n) }},
	{"range", aRange, "NOT GIVEN", "as displayed", "0..450 m3/h", func(r *plantReader, d *writtenDevice, n node) { d.Device.Range = r.rangeOf(n) }},
	{"calibrated", aRange, "", "at the sensor, where that differs", "0..250 mbar", func(r *plantReader, d *writtenDevice, n node) { d.Device.Calibrated = r.rangeOf(n) }},
	{"signal", aRange, "`4..20 mA`", "what it gives or takes", "20..4 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Signal = r.rangeOf(n) }},
	{"square root", aWord(rootWords...), "", "where it is taken: `transmitter` or `system`", "", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.Root, rootWords) }},
	{"lift-off", biased, "NOT GIVEN", "least voltage at its terminals, of a four-wire transmitter at those of its supply; may change with current: `[18 V at 4 mA, 10 V at 22 mA]`", "10.5 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.LiftOff = r.biases(n, r.volts) }},
	{"failure current", inMilliamps, "the largest test current", "most that it drives", "21.5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Most = r.milliamps(n) }},
	{"draws", drawUnits.shape("mA or VA"), "NOT GIVEN", "what a four-wire transmitter takes from its supply, of AC in VA too, or a three-wire switch beside its output", "120 mA", func(r *plantReader, d *writtenDevice, n node) { r.draws(n, d.Device) }},
	{"ohms", inOhms, "NOT GIVEN", "resistance of a DC coil, a lamp, a positioner or an indicator in series; on AC a coil is computed from its VA, and the ohms of its winding do not count", "170 ohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Ohms = r.ohms(n) }},
	{"drop", biased, "", "voltage across it, if it is no resistor; across a two-wire switch, or the output of a three-wire switch, that is on", "[9 V at 4 mA, 9.5 V at 20 mA]", func(r *plantReader, d *writtenDevice, n node) { d.Device.Drop = r.biases(n, r.drop) }},
	{"output", aWord(outputWords...), "`PNP`", "of a three-wire switch: `PNP` puts its output on +, `NPN` on -", "NPN", func(r *plantReader, d *writtenDevice, n node) {
		pick(r, n, &d.Device.OutputKind, outputWords)
	}},
	{"pull-in", inVolts, "NOT GIVEN", "least that moves a solenoid", "20.4 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.PullIn = r.volts(n) }},
	{"drop-out", inVolts, "not checked", "least that a solenoid is sure to hold at", "60 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.DropOut = r.volts(n) }},
	{"release", inVolts, "NOT GIVEN", "most that an AC solenoid is sure to let go at, below its `drop-out`; compared with what the capacitance of a cable past its open contact leaves on it", "24 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.Release = r.volts(n) }},
	{"rated volts", acVoltUnits.shape("V"), "NOT GIVEN", "of an AC coil: what its VA holds at", "120 V AC", func(r *plantReader, d *writtenDevice, n node) { d.Device.Rated = r.acVolts(n) }},
	{"inrush", inVA, "NOT GIVEN", "of an AC coil at its rated volts, before it has pulled in", "40 VA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Inrush = r.voltAmperes(n) }},
	{"inrush power factor", aFactor, "NOT GIVEN", "of an AC coil before it has pulled in", "0.7", func(r *plantReader, d *writtenDevice, n node) { d.Device.InrushPF = r.powerFactor(n) }},
	{"holding", inVA, "NOT GIVEN", "of an AC coil at its rated volts, once it has pulled in", "10 VA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Holding = r.voltAmperes(n) }},
	{"power factor", aFactor, "NOT GIVEN", "of an AC coil once it has pulled in, or of what a device `draws` from an AC supply", "0.4", func(r *plantReader, d *writtenDevice, n node) { d.Device.PF = r.powerFactor(n) }},
	{"leakage", inMilliamps, "NOT GIVEN; nothing through a contact", "the most that a switch passes while it is off: a two- or three-wire switch, or what bridges a contact, such as a lamp", "1.5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Leakage = r.milliamps(n) }},
	{"least current", inMilliamps, "not checked", "the least that it has to carry while it is on: a two-wire switch to work, a contact to stay clean", "5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.LeastMA = r.milliamps(n) }},
	{"bleeder", inOhms, "none", "resistor across the input at the card, for a switch that leaks or needs more current", "6.8 kohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Bleeder = r.ohms(n) }},
	{"series ohms", inOhms, "none", "resistor in series with a monitored contact", "1 kohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Series = r.ohms(n) }},
	{"parallel ohms", inOhms, "none", "resistor across a monitored contact, or across an AC coil so that it lets go", "10 kohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Parallel = r.ohms(n) }},
	{"HART", yesOrNo, "`no`", "the load is compared with the practice, and the time constant of loop and `capacitance` with 65 µs", "yes", func(r *plantReader, d *writtenDevice, n node) { d.Device.HART = r.yes(n) }},
	{"capacitance", entityUnits['C'].shape("nF"), "NOT GIVEN", "of a HART device, between its terminals; not the `Ci` of its safety values", "5 nF", func(r *plantReader, d *writtenDevice, n node) {
		v, u := r.quantity(n, entityUnits['C']...)
		v, _ = Convert(v, u, "nF")
		d.Device.Capacitive = r.something(n, v, u)
	}},
	{"class", aWord(classWords...), "", "tolerance class of a resistance sensor: `AA`, `A`, `B`, `C`", "A", func(r *plantReader, d *writtenDevice, n node) { d.Device.Class = r.oneOf(n, classWords...) }},
	{"entity", deviceEntityFields.shape(), "NOT GIVEN", "safety values: `Ui`, `Ii`, `Pi`, `Ci`, `Li`", "{Ui: 30 V, Ii: 100 mA, Pi: 0.75 W, Ci: 5 nF, Li: 10 uH}", func(r *plantReader, d *writtenDevice, n node) {
		d.Device.Entity = r.entity(n, deviceEntityFields)
	}},
	{"simple apparatus", yesOrNo, "`no`", "needs no entity values", "yes", func(r *plantReader, d *writtenDevice, n node) { d.Device.Simple = r.yes(n) }},
	{"sensor", suggested(sensorNames()), "", "type of a temperature sensor: `Pt100`, `K`, …", "Pt100", func(r *plantReader, d *writtenDevice, n node) { d.Device.Sensor = r.sensor(n) }},
	{"lead ohms", inOhms, "none", "of the two leads of a resistance sensor: what the card takes off its reading for them", "3.2 ohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Leads = r.ohms(n) }},
	{"set", aText, "", "when a switch acts", "opens above 7.5 bar", func(r *plantReader, d *writtenDevice, n node) { d.Device.Set = readSwitchPoint(r.text(n)) }},
	{"at rest", aWord(restWords...), "`closed` where `set` begins with `opens above` or `closes below`, else `open`", "how a contact is drawn, with nothing measured, as on the shelf: `open`, `closed`", "closed", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.Rest, restWords) }},
	{"fail", aWord(failWords...), "", "fail position of a valve: `open`, `closed`, `locked`", "closed", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.Fail, failWords) }},
	{"action", aWord(actionWords...), "", "`direct` or `reverse`", "", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.Action, actionWords) }},
	{"air", aText, "", "air supply", "1.4 bar", func(r *plantReader, d *writtenDevice, n node) { d.Device.Air = r.text(n) }},
	{"stroke time", inSeconds, "NOT GIVEN", "the most that a valve may take from end to end, either way", "20 s", func(r *plantReader, d *writtenDevice, n node) { d.Device.Stroke = r.seconds(n) }},
	{"earthed", aName, "NOT GIVEN", "which of its terminals is on its case or on earth inside it, by name or as `negative` or `positive`; `none` where it holds 500 V to its case, or has 0.2 to 1 MΩ there against static", "negative", func(r *plantReader, d *writtenDevice, n node) { d.earthed = &n }},
	{"fuse", aText, "", "inside the device", "1 A", func(r *plantReader, d *writtenDevice, n node) { d.Device.Fuse = r.fuse(n, r.text(n)) }},
	{"zone", aText, "", "hazardous area", "1", func(r *plantReader, d *writtenDevice, n node) { d.Device.Zone = r.text(n) }},
	{"drives", aTag, "", "the valve that it moves", "FV-2112", func(r *plantReader, d *writtenDevice, n node) {
		r.later = append(r.later, func() { d.Device.Drives = r.otherDevice(n, d.Part) })
	}},
	{"on", aTag, "", "the device that it is mounted on", "FV-2112", func(r *plantReader, d *writtenDevice, n node) {
		r.later = append(r.later, func() { d.Device.On = r.otherDevice(n, d.Part) })
	}},
	{"model", aText, "", "the maker's name for it", "", func(r *plantReader, d *writtenDevice, n node) { d.Device.Model = r.text(n) }},
	{"status", aStatus, "the loop's", "`new`, `existing` or `future`", "", func(r *plantReader, d *writtenDevice, n node) { d.Status = r.status(n) }},
}

var classWords = []string{"AA", "A", "B", "C"}

func (r *plantReader) devices(n node, l *Loop) {
	for key, value := range r.entries(n, "device") {
		if !r.declare(key, key.Value) {
			continue
		}
		p := &Part{Pos: key.pos(), Tag: key.Value, Device: &Device{Loop: l}, Status: l.Status, Through: map[*Terminal]*Terminal{}, terminals: map[string]*Terminal{}}
		r.plant.parts[p.Tag] = p
		l.Devices = append(l.Devices, p)
		r.device(value, p)
	}
}

// device reads one field device or panel instrument.
func (r *plantReader) device(value node, p *Part) {
	d := writtenDevice{Part: p}
	deviceFields.read(r, value, "", &d)
	if holds := cmp.Or(d.Device.DropOut, d.Device.PullIn); holds > 0 && d.Device.Release > holds {
		r.report(value.wrong(VoltsOrder, "%s cannot be sure to let go at %s V (release), which hold it or pull it in", p.Tag, number(d.Device.Release)))
	}
	if in := d.in; in != nil {
		name := r.text(*in)
		r.seats = append(r.seats, func() {
			if p.Place = r.plant.places[name]; p.Place == nil && name != "" {
				r.report(in.wrong(UnknownTag, "no box, cabinet, panel or system is tagged %s", name).hint("%s", r.plant.tagLists().nearPlace(name)))
			}
		})
	}
	if p.Kind == nil {
		p.Kind = unknownKind
		return
	}
	r.deviceTerminals(p, d.terminals)
	if d.earthed != nil {
		p.Device.Earthed = r.earthedBy(*d.earthed, p)
	}
}

// earthedBy reads which terminal of a device is on its case: a name, the word for a
// pole of its signal, or none.
func (r *plantReader) earthedBy(n node, p *Part) string {
	name := r.text(n)
	if name == "" || name == "none" || p.terminals[name] != nil {
		return name
	}
	role := map[string]Role{"negative": '-', "positive": '+'}[name]
	for _, t := range p.Terminals {
		if role != 0 && t.Role == role {
			return t.Name
		}
	}
	if role != 0 {
		r.report(n.wrong(UnknownTerminal, "%s has no %s terminal", p.Tag, name).hint("the name of a terminal, or none"))
	} else {
		r.noTerminal(p, token{name, n.pos()}, name)
	}
	return ""
}

// deviceTerminals gives a device the terminals of its kind, by their own names
// where the plant gives them.
func (r *plantReader) deviceTerminals(p *Part, names *node) {
	var roles []byte
	for _, g := range p.Kind.Groups {
		roles = append(roles, g.Roles...)
	}
	var given []token
	if names != nil {
		given = r.words(*names)
		if len(given) != len(roles) {
			r.report(names.wrong(TerminalsMismatch, "%s has %d terminals, not %d", p.Kind.Words, len(roles), len(given)))
			given = nil
		}
	}
	for i, role := range roles {
		if role == '.' {
			role = 0
		}
		t := &Terminal{Role: Role(role), Name: defaultName(p.Kind, i)}
		if given != nil {
			t.Name = given[i].text
		}
		if !p.addTerminal(t) {
			r.report(names.wrong(TerminalTwice, "%s has terminal %s twice", p.Tag, t.Name))
		}
	}
}

// defaultName is the name of terminal i of a device of this kind: its role
// where that is + - L N or PE, P+ and P- of a DC supply, out of a switch that has
// one, else its number.
func defaultName(k *Kind, i int) string {
	at := i
	for _, g := range k.Groups {
		if at < len(g.Roles) {
			switch c := g.Roles[at]; c {
			case '+', '-', 'L', 'N':
				if g.Signal == PowerDC {
					return "P" + string(c)
				}
				return string(c)
			case 'E':
				return "PE"
			case 'Q':
				return "out"
			}
			return itoa(at + 1)
		}
		at -= len(g.Roles)
	}
	return itoa(i + 1)
}

func (r *plantReader) sensor(n node) string {
	s := r.text(n)
	if s == "" {
		return ""
	}
	if _, ok := FindSensor(s); !ok {
		r.report(n.wrong(UnknownSensor, "%s is not a sensor that ringout has a table for", quote(s)).hint("Pt100, K, J, T, N, E, R, S or B"))
	}
	return s
}

// otherDevice reads the tag of a device other than own.
func (r *plantReader) otherDevice(n node, own *Part) *Part {
	tag := r.text(n)
	p := r.plant.parts[tag]
	if p == own {
		r.report(n.wrong(SameDevice, "%s of %s is %s itself", n.what, own.Tag, own.Tag))
		return nil
	}
	if tag != "" && (p == nil || p.Device == nil || p.Kind.Bar) {
		r.report(n.wrong(UnknownTag, "no device is tagged %s", tag).hint("%s", r.plant.tagLists().nearDevice(tag)))
		return nil
	}
	return p
}

// rangeOf reads "0..450 m3/h" or "-20..80 °C".
func (r *plantReader) rangeOf(n node) Range {
	s := strings.TrimSpace(r.text(n))
	if s == "" {
		return Range{}
	}
	low, rest, ok := strings.Cut(s, "..")
	if ok {
		a, extra, okA := splitNumber(low)
		b, u, okB := splitNumber(rest)
		if okA && okB && extra == "" {
			if a == b {
				r.report(n.wrong(EmptyRange, "%s begins and ends at %s", n.what, number(a)))
			}
			return Range{a, b, u, s}
		}
	}
	r.report(n.wrong(BadRange, "%s must be two numbers and a unit, not %s", n.what, quote(s)).hint("0..450 m3/h"))
	return Range{}
}

// writtenFunction is a function whose circuits are not bound yet.
type writtenFunction struct {
	*Function
	reads, drives []token
}

var functionFields = fields[*writtenFunction]{
	{"kind", aWord(functionWords...), asked, "`controller`, `indicator`, `alarm`, `switch`, `recorder`, `totaliser`", "controller", func(r *plantReader, f *writtenFunction, n node) { pick(r, n, &f.Kind, functionWords) }},
	{"reads", listOf(aName).called("names"), "", "circuits that it takes its value from; one of another loop stands as a flag on the sheets of both", "FT-2107", func(r *plantReader, f *writtenFunction, n node) { f.reads = r.names(n) }},
	{"drives", listOf(aName).called("names"), "", "circuits that it moves; of another loop likewise", "FV-2112", func(r *plantReader, f *writtenFunction, n node) { f.drives = r.names(n) }},
	{"action", aWord(actionWords...), "", "`direct` or `reverse`", "", func(r *plantReader, f *writtenFunction, n node) { pick(r, n, &f.Action, actionWords) }},
	{"set", aText, "", "what it is set to", "", func(r *plantReader, f *writtenFunction, n node) { f.Set = r.setPoint(n) }},
	{"alarms", someTexts, "", "at which values it calls", "[HH 430]", func(r *plantReader, f *writtenFunction, n node) { f.Alarms = r.setPoints(n, "alarm") }},
}

func (r *plantReader) functions(n node, l *Loop) {
	for key, value := range r.entries(n, "function") {
		f := writtenFunction{Function: &Function{Pos: key.pos(), Tag: key.Value}}
		if !r.declare(key, f.Tag) {
			continue
		}
		l.Functions = append(l.Functions, f.Function)
		functionFields.read(r, value, "", &f)
		find := func(names []token) (cs []*Circuit) {
			for _, t := range names {
				c, other := r.circuitNamed(t.text, l)
				if other != nil {
					pr := t.wrong(AmbiguousCircuit, "loops %s and %s both have a circuit named %s", c.Loop.Tag, other.Loop.Tag, t.text).hint("another name for one of them")
					pr.Also = []Note{{c.Pos, "the one circuit"}, {other.Pos, "the other circuit"}}
					r.report(pr)
					continue
				}
				if c == nil {
					r.report(t.wrong(UnknownCircuit, "no circuit is named %s", t.text).hint("%s", r.plant.tagLists().nearCircuit(t.text)))
					continue
				}
				cs = append(cs, c)
			}
			return cs
		}
		r.later = append(r.later, func() { f.Reads, f.Drives = find(f.reads), find(f.drives) })
	}
}

// circuitNamed finds a circuit by name: one of loop l before those of others. Where
// two others have it, which one is meant cannot be told: both are returned.
func (r *plantReader) circuitNamed(name string, l *Loop) (c, other *Circuit) {
	if r.named == nil {
		r.named, r.own = map[string][]*Circuit{}, map[ownName]*Circuit{}
		for _, l := range r.plant.Loops {
			for _, c := range l.Circuits {
				r.named[c.Name] = append(r.named[c.Name], c)
				if at := (ownName{l, c.Name}); r.own[at] == nil {
					r.own[at] = c
				}
			}
		}
	}
	if c := r.own[ownName{l, name}]; c != nil {
		return c, nil
	}
	switch all := r.named[name]; len(all) {
	case 0:
		return nil, nil
	case 1:
		return all[0], nil
	}
	return r.named[name][0], r.named[name][1]
}

// ownName is the name of a circuit in its loop.
type ownName struct {
	loop *Loop
	name string
}

// names reads names of circuits: a list, or a text parted by blanks.
func (r *plantReader) names(n node) []token {
	if n.Kind == yaml.ScalarNode {
		return r.words(n)
	}
	var all []token
	for _, item := range r.list(n, "") {
		if s := r.text(item); s != "" {
			all = append(all, token{s, item.pos()})
		}
	}
	return all
}

func (r *plantReader) circuitsOf(n node, l *Loop) {
	for key, value := range r.entries(n, "circuit") {
		c := &Circuit{Pos: key.pos(), Name: key.Value, Loop: l, Status: l.Status, Path: &Path{}}
		l.Circuits = append(l.Circuits, c)
		steps, ok := r.steps(value)
		if !ok {
			c.Broken = true
			continue
		}
		r.circuits = append(r.circuits, writtenCircuit{c, steps})
	}
}

// steps reads a walk.
func (r *plantReader) steps(n node) ([]step, bool) {
	if !r.is(n, yaml.SequenceNode) {
		return nil, false
	}
	var all []step
	for i, item := range r.list(n, "a step of a walk") {
		s := step{pos: item.pos()}
		if i == mostSteps {
			r.tooMany(s.pos, mostSteps, "steps of "+n.what)
			return nil, false
		}
		if item.Kind != yaml.MappingNode {
			if s.words = r.words(item); len(s.words) == 0 {
				return nil, false
			}
			if len(s.words) > mostWords {
				r.tooMany(s.words[mostWords].pos, mostWords, "words of "+item.what)
				return nil, false
			}
			all = append(all, s)
			continue
		}
		for key, value := range r.entries(item, "lane") {
			steps, ok := r.steps(value)
			if !ok {
				return nil, false
			}
			s.tails = append(s.tails, tail{token{key.Value, key.pos()}, steps})
		}
		all = append(all, s)
	}
	return all, true
}

// bind gives every name its meaning, once all files are read.
func (r *plantReader) bind() {
	for _, f := range r.seats {
		f()
	}
	for _, f := range r.later {
		f()
	}
	b := &binder{&r.found, r.plant}
	written := map[*Circuit][]step{}
	for _, w := range r.circuits {
		written[w.circuit] = w.steps
		b.bindCircuit(w.circuit, w.steps)
	}
	b.finish(written)
}
