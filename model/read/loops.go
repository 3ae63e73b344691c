package read

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
	"ringout/model/sensor"
)

var loopFields = fields[*model.Loop]{
	{"service", aText, asked, "what the loop does", "Filter 4 backwash flow", func(r *plantReader, l *model.Loop, n node) { l.Service = r.text(n) }, func(w *writer, l *model.Loop) { w.text(l.Service) }},
	{"area", aText, "", "area of the plant", "", func(r *plantReader, l *model.Loop, n node) { l.Area = r.text(n) }, func(w *writer, l *model.Loop) { w.text(l.Area) }},
	{"notes", someTexts, "", "printed on the diagram", "", func(r *plantReader, l *model.Loop, n node) { l.Notes = r.texts(n, "note") }, func(w *writer, l *model.Loop) { w.texts(l.Notes) }},
	{"reference", aText, "", "P&ID number", "", func(r *plantReader, l *model.Loop, n node) { l.Ref = r.text(n) }, func(w *writer, l *model.Loop) { w.text(l.Ref) }},
	{"status", aStatus, "`new`", "`new`, `existing` or `future`", "", func(r *plantReader, l *model.Loop, n node) { l.Status = r.status(n) }, func(w *writer, l *model.Loop) { w.text(l.Status.String()) }},
	{"devices", tagged(defined("device")), "", "field devices and panel instruments", "", func(r *plantReader, l *model.Loop, n node) { r.devices(n, l) }, things[*model.Loop]},
	{"functions", tagged(defined("function")), "", "work done in the system", "", func(r *plantReader, l *model.Loop, n node) { r.functions(n, l) }, things[*model.Loop]},
	{"cables", tagged(aCable), "", "cables that are its own, as those of the plant", "{W-2107: one-pair 18 m}", func(r *plantReader, _ *model.Loop, n node) { r.cables(n) }, things[*model.Loop]},
	{"circuits", named(defined("path")), "", "paths from the device to the I/O, by name", "", func(r *plantReader, l *model.Loop, n node) { r.circuitsOf(n, l) }, things[*model.Loop]},
}

func (r *plantReader) loops(n node) {
	for key, value := range r.entries(n, "loop") {
		if l := r.newLoop(key); l != nil {
			loopFields.read(r, value, "", l)
		}
	}
}

// newLoop files a loop, or a segment, by its tag; nil where the tag was given before.
func (r *plantReader) newLoop(key node) *model.Loop {
	l := &model.Loop{Pos: key.pos(), Tag: key.Value}
	if first, ok := r.loopAt[l.Tag]; ok {
		r.twice(key, first)
		return nil
	}
	r.loopAt[l.Tag] = l.Pos
	r.plant.Loops = append(r.plant.Loops, l)
	return l
}

// writtenDevice is a device whose terminals are not made and whose place is not
// bound yet.
type writtenDevice struct {
	*model.Part
	terminals, in   *node
	coils, contacts *node
	inputs, outputs *node
	senders, supply *node
	earthed         *node
	output          *node
	variables       *node
}

var deviceFields = fields[*writtenDevice]{
	{"kind", aWord(model.KindNames(model.DeviceKinds)...), asked, "kind of device", "transmitter", func(r *plantReader, d *writtenDevice, n node) {
		d.Kind = model.KindNamed(model.DeviceKinds, r.oneOf(n, model.KindNames(model.DeviceKinds)...))
	}, func(w *writer, d *writtenDevice) { w.text(d.Kind.Name) }},
	{"terminals", someNames, "those of the kind", "the names on the device, in the order of the kind", "11 12", func(r *plantReader, d *writtenDevice, n node) { d.terminals = &n }, func(w *writer, d *writtenDevice) { w.names(ownTerminals(d.Part)) }},
	{"coils", someTexts, "those of the kind", "of a kind that has several: the terminals of each coil, its + first, with a name before them if it has one", "[open A1-A2, shut B1-B2]", func(r *plantReader, d *writtenDevice, n node) { d.coils = &n }, func(w *writer, d *writtenDevice) { w.groups(d.Coils()) }},
	{"contacts", someTexts, "those of the kind", "of a kind that has several: the terminals of each contact, numbered after EN 50005, with a name before them if it has one; of others `make`, `break` or `changeover` stands before them, the common of the last first", "[run 13-14, 21-22, changeover C-NC-NO]", func(r *plantReader, d *writtenDevice, n node) { d.contacts = &n }, func(w *writer, d *writtenDevice) { w.groups(d.Contacts()) }},
	{"inputs", tagged(defined("input")), "", "of an instrument of several circuits: its inputs, each a station `TAG/NAME`", "{PV: {kind: AI, power: loop, ohms: 250 ohm, terminals: 1 2}}", func(r *plantReader, d *writtenDevice, n node) { d.inputs = &n }, things[*writtenDevice]},
	{"outputs", tagged(defined("output")), "", "its outputs that move something, likewise", "{OP: {terminals: 3 4, drive: 600 ohm}}", func(r *plantReader, d *writtenDevice, n node) { d.outputs = &n }, things[*writtenDevice]},
	{"retransmits", tagged(defined("retransmission")), "", "its outputs that send on what it reads, as a transmitter does", "{PV2: {kind: active output, terminals: 7 8}}", func(r *plantReader, d *writtenDevice, n node) { d.senders = &n }, things[*writtenDevice]},
	{"supply", aText, "`AC L-N-PE` of panel instruments, `DC 21-22` of trip amplifiers and conditioners", "the terminals of its supply, which is a circuit of its own; `none` where its circuit feeds it", "AC L-N", func(r *plantReader, d *writtenDevice, n node) { d.supply = &n }, func(w *writer, d *writtenDevice) { w.supply(d.Part) }},
	{"alarms", someTexts, "", "what its contacts act at, each under the name of its contact; `deadband` after the value is how far back it lets go", "[H 90 °C deadband 2 °C]", func(r *plantReader, d *writtenDevice, n node) { d.Device.Alarms = r.setPoints(n, "alarm") }, func(w *writer, d *writtenDevice) { w.setPoints(d.Device.Alarms) }},
	{"alarm relays", aWord(model.AlarmStateWords...), "NOT GIVEN", "what the relays of its alarm contacts do in alarm: `drop out`, so that loss of its supply is an alarm too, or `pull in`", "drop out", func(r *plantReader, d *writtenDevice, n node) {
		pick(r, n, &d.Device.OnAlarm, model.AlarmStateWords)
	}, func(w *writer, d *writtenDevice) { w.text(d.Device.OnAlarm.String()) }},
	{"in", aTag, "the field", "panel or cabinet that a panel instrument sits in", "CP-1", func(r *plantReader, d *writtenDevice, n node) { d.in = &n }, func(w *writer, d *writtenDevice) { w.text(d.Where()) }},
	{"position", aPosition, "of a panel its front; of others behind it", "where it sits on the front of its panel or cabinet, by row and column; or `behind` it", "1A", func(r *plantReader, d *writtenDevice, n node) { r.position(n, d.Device) }, func(w *writer, d *writtenDevice) { w.position(d.Device) }},
	{"at", aText, "NOT GIVEN", "location", "", func(r *plantReader, d *writtenDevice, n node) { d.Device.At = r.text(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.At) }},
	{"model", aText, "", "the maker's name for it", "", func(r *plantReader, d *writtenDevice, n node) { d.Device.Model = r.text(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Model) }},
	{"process", aText, "", "what it is connected to", "line RW-2105", func(r *plantReader, d *writtenDevice, n node) { d.Device.Process = r.text(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Process) }},
	{"range", aRange, "NOT GIVEN", "as displayed", "0..450 m3/h", func(r *plantReader, d *writtenDevice, n node) { d.Device.Range = r.rangeOf(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Range.Text) }},
	{"calibrated", aRange, "", "at the sensor, where that differs", "0..250 mbar", func(r *plantReader, d *writtenDevice, n node) { d.Device.Calibrated = r.rangeOf(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Calibrated.Text) }},
	{"signal", aRange, "`4..20 mA`", "what it gives or takes", "20..4 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Signal = r.rangeOf(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Signal.Text) }},
	{"square root", aWord(model.RootWords...), "", "where it is taken: `transmitter` or `system`", "", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.SquareRootIn, model.RootWords) }, func(w *writer, d *writtenDevice) { w.text(d.Device.SquareRootIn.String()) }},
	{"lift-off", biased, "NOT GIVEN", "least voltage at its terminals, of a four-wire transmitter at those of its supply, of a device on a powered bus 9 V where not given; may change with current: `[18 V at 4 mA, 10 V at 22 mA]`", "10.5 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.LiftOff = r.biases(n, r.volts) }, func(w *writer, d *writtenDevice) { w.curve(d.Device.LiftOff) }},
	{"drop", biased, "", "voltage across it, if it is no resistor; across a two-wire switch, or the output of a three-wire switch, that is on; of a three-wire transmitter the least that its output needs", "[9 V at 4 mA, 9.5 V at 20 mA]", func(r *plantReader, d *writtenDevice, n node) { d.Device.Drop = r.biases(n, r.drop) }, func(w *writer, d *writtenDevice) { w.curve(d.Device.Drop) }},
	{"failure current", inMilliamps, "the largest test current", "maximum current", "21.5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.FailureCurrent = r.milliamps(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.FailureCurrent, "mA") }},
	{"draws", drawUnits.shape("mA, VA or W"), "NOT GIVEN", "current drawn from its supply by a four-wire transmitter, of AC in VA too, by a three-wire switch or transmitter beside its output, or by a device from its powered bus or multidrop line; in W where it takes the same power, and so more current, from less volts of DC", "120 mA", func(r *plantReader, d *writtenDevice, n node) { r.draws(n, d.Device) }, func(w *writer, d *writtenDevice) { w.draws(d.Device) }},
	{"output", aWord(model.OutputWords...), "`PNP`, `sourcing`", "of a three-wire switch: `PNP` puts its output on +, `NPN` on -; of a three-wire transmitter: `sourcing` sends its current out, with - common to supply and signal, `sinking` takes it in, with + common", "NPN", func(r *plantReader, d *writtenDevice, n node) {
		d.output = &n
		pick(r, n, &d.Device.OutputKind, model.OutputWords)
	}, func(w *writer, d *writtenDevice) { w.text(d.Device.OutputKind.String()) }},
	{"scale", aScale, "NOT GIVEN", "of a displacement probe: what its driver gives for its gap, below common", "7.87 mV/um", func(r *plantReader, d *writtenDevice, n node) { d.Device.Scale = r.scale(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Scale.String()) }},
	{"gap", rangeInV, "NOT GIVEN", "of a displacement probe: the volts between which its gap is set, the machine at rest; its linear range is `calibrated`, as `250..2300 um`, and its `ohms` are those of the probe and its extension cable", "-10.5..-9.5 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.Gap = r.gap(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Gap.Text) }},
	{"pull-in", inVolts, "NOT GIVEN", "minimum pull-in voltage", "20.4 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.PullIn = r.volts(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.PullIn, "V") }},
	{"drop-out", inVolts, "not checked", "least that a solenoid is sure to hold at", "60 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.DropOut = r.volts(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.DropOut, "V") }},
	{"release", inVolts, "NOT GIVEN", "most that an AC solenoid is sure to let go at, below its `drop-out`; compared with what the capacitance of a cable past its open contact leaves on it", "24 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.Release = r.volts(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Release, "V") }},
	{"rated volts", supplyUnits.shape("V"), "NOT GIVEN", "of a coil: what it is made for; on AC what its VA holds at", "120 V AC", func(r *plantReader, d *writtenDevice, n node) { r.ratedVolts(n, d.Device) }, func(w *writer, d *writtenDevice) {
		if d.Device.RatedDC {
			w.given(d.Device.Rated, "V DC")
		} else {
			w.given(d.Device.Rated, "V AC")
		}
	}},
	{"watts", inWatts, "NOT GIVEN", "of a DC coil at its rated volts, for its ohms where these are not given", "1.2 W", func(r *plantReader, d *writtenDevice, n node) { d.Device.Watts = r.watts(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Watts, "W") }},
	{"suppressor", aWord(model.SuppressorWords...), "NOT GIVEN", "what takes up the volts of a coil that is switched off: `none`, `diode`, `diode and zener`, `varistor`, `RC`", "diode", func(r *plantReader, d *writtenDevice, n node) {
		pick(r, n, &d.Device.Suppressor, model.SuppressorWords)
	}, func(w *writer, d *writtenDevice) { w.text(d.Device.Suppressor.String()) }},
	{"inrush", inVA, "NOT GIVEN", "of an AC coil at its rated volts, before it has pulled in", "40 VA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Inrush = r.voltAmperes(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Inrush, "VA") }},
	{"inrush power factor", aFactor, "NOT GIVEN", "of an AC coil before it has pulled in", "0.7", func(r *plantReader, d *writtenDevice, n node) { d.Device.InrushPF = r.powerFactor(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.InrushPF, "") }},
	{"holding", inVA, "NOT GIVEN", "of an AC coil at its rated volts, once it has pulled in", "10 VA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Holding = r.voltAmperes(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Holding, "VA") }},
	{"power factor", aFactor, "NOT GIVEN", "of an AC coil once it has pulled in, or of what a device `draws` from an AC supply", "0.4", func(r *plantReader, d *writtenDevice, n node) { d.Device.PF = r.powerFactor(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.PF, "") }},
	{"series ohms", inOhms, "none", "resistor in series with a monitored contact", "1 kohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Series = r.ohms(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Series, "Ω") }},
	{"leakage", inMilliamps, "NOT GIVEN; nothing through a contact", "the most that a switch passes while it is off: a two- or three-wire switch, or what bridges a contact, such as a lamp", "1.5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Leakage = r.milliamps(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Leakage, "mA") }},
	{"least current", inMilliamps, "not checked", "the least that it has to carry while it is on: a two-wire switch to work, a contact to stay clean", "5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.LeastMA = r.milliamps(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.LeastMA, "mA") }},
	{"bleeder", inOhms, "none", "resistor across the input at the card, for a switch that leaks or needs more current", "6.8 kohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Bleeder = r.ohms(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Bleeder, "Ω") }},
	{"parallel ohms", inOhms, "none", "resistor across a monitored contact, or across an AC coil so that it lets go", "10 kohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Parallel = r.ohms(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Parallel, "Ω") }},
	{"HART", yesOrNo, "`no`", "the load is compared with the practice, and the time constant of loop and `capacitance` with 65 µs", "yes", func(r *plantReader, d *writtenDevice, n node) { d.Device.HART = r.yes(n) }, func(w *writer, d *writtenDevice) { w.yes(d.Device.HART) }},
	{"capacitance", entityUnits['C'].shape("nF"), "NOT GIVEN", "of a HART device, between its terminals; not the `Ci` of its safety values", "5 nF", func(r *plantReader, d *writtenDevice, n node) {
		v, u := r.quantity(n, entityUnits['C']...)
		v, _ = model.Convert(v, u, "nF")
		d.Device.Capacitive = r.something(n, v, u)
	}, func(w *writer, d *writtenDevice) { w.given(d.Device.Capacitive, "nF") }},
	{"variables", variables, "", "of a HART device, or one on a multidrop line: what it tells besides its current, one item each: `SV`, `TV` or `QV`, what it is, its range, and after `to` the tag that the system reads it as; without that nothing reads it", "[SV sensor temperature -20..80 °C to TI-107B]", func(r *plantReader, d *writtenDevice, n node) { r.variables(n, d) }, func(w *writer, d *writtenDevice) { w.variables(d.Device.Variables) }},
	{"class", aWord(classWords...), "", "tolerance class of a resistance sensor: `AA`, `A`, `B`, `C`", "A", func(r *plantReader, d *writtenDevice, n node) { d.Device.Class = r.oneOf(n, classWords...) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Class) }},
	{"entity", deviceEntityFields.shape(), "NOT GIVEN", "safety values: `Ui`, `Ii`, `Pi`, `Ci`, `Li`", "{Ui: 30 V, Ii: 100 mA, Pi: 0.75 W, Ci: 5 nF, Li: 10 uH}", func(r *plantReader, d *writtenDevice, n node) {
		d.Device.Entity = r.entity(n, deviceEntityFields)
	}, func(w *writer, d *writtenDevice) { w.entity(d.Device.Entity, deviceEntityFields) }},
	{"simple apparatus", yesOrNo, "`no`", "needs no entity values", "yes", func(r *plantReader, d *writtenDevice, n node) { d.Device.SimpleApparatus = r.yes(n) }, func(w *writer, d *writtenDevice) { w.yes(d.Device.SimpleApparatus) }},
	{"ohms", inOhms, "NOT GIVEN", "resistance of a DC coil, a lamp, a positioner or an indicator in series; on AC a coil is computed from its VA, and the ohms of its winding do not count", "170 ohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Ohms = r.ohms(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Ohms, "Ω") }},
	{"set", aText, "", "when a switch acts", "opens above 7.5 bar", func(r *plantReader, d *writtenDevice, n node) { d.Device.SetPoint = model.ReadSwitchPoint(r.text(n)) }, func(w *writer, d *writtenDevice) { w.text(d.Device.SetPoint.Text) }},
	{"at rest", aWord(model.RestWords...), "`closed` where `set` begins with `opens above` or `closes below`, else `open`", "shelf state of a contact: `open`, `closed`", "closed", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.RestState, model.RestWords) }, func(w *writer, d *writtenDevice) { w.text(d.Device.RestState.String()) }},
	{"fail", aWord(model.FailWords...), "", "fail position of a valve: `open`, `closed`, `locked`", "closed", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.Fail, model.FailWords) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Fail.String()) }},
	{"action", aWord(model.ActionWords...), "", "`direct` or `reverse`", "", func(r *plantReader, d *writtenDevice, n node) { pick(r, n, &d.Device.Action, model.ActionWords) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Action.String()) }},
	{"air", aText, "", "air supply", "1.4 bar", func(r *plantReader, d *writtenDevice, n node) { d.Device.Air = airSupply(r.text(n)) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Air.Text) }},
	{"stroke time", inSeconds, "NOT GIVEN", "the most that a valve may take from end to end, either way", "20 s", func(r *plantReader, d *writtenDevice, n node) { d.Device.Stroke = r.seconds(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Stroke, "s") }},
	{"drives", aTag, "", "valve it drives", "FV-2112", func(r *plantReader, d *writtenDevice, n node) {
		r.later = append(r.later, func() { d.Device.Actuates = r.otherDevice(n, d.Part) })
	}, func(w *writer, d *writtenDevice) { w.tag(d.Device.Actuates) }},
	{"on", aTag, "", "the device that it is mounted on", "FV-2112", func(r *plantReader, d *writtenDevice, n node) {
		r.later = append(r.later, func() { d.Device.On = r.otherDevice(n, d.Part) })
	}, func(w *writer, d *writtenDevice) { w.tag(d.Device.On) }},
	{"sensor", suggested(sensor.Names()), "", "type of a temperature sensor: `Pt100`, `K`, …", "Pt100", func(r *plantReader, d *writtenDevice, n node) { d.Device.Sensor = r.sensor(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Sensor) }},
	{"earthed", aName, "NOT GIVEN", "which of its terminals is on its case or on earth inside it, by name or as `negative` or `positive`; `none` where it holds 500 V to its case, or has 0.2 to 1 MΩ there against static", "negative", func(r *plantReader, d *writtenDevice, n node) { d.earthed = &n }, func(w *writer, d *writtenDevice) { w.earthed(d.Device.Earthed) }},
	{"lead ohms", inOhms, "none", "of the two leads of a resistance sensor: what the card takes off its reading for them", "3.2 ohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.Leads = r.ohms(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.Leads, "Ω") }},
	{"address", aCount(1, mostAddress), "NOT GIVEN", "on its segment", "21", func(r *plantReader, d *writtenDevice, n node) { d.Device.Address = r.whole(n, 1, mostAddress) }, func(w *writer, d *writtenDevice) { w.count(d.Device.Address) }},
	{"fuse", aText, "", "inside the device", "1 A", func(r *plantReader, d *writtenDevice, n node) { d.Device.Fuse = r.fuse(n, r.text(n)) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Fuse.Text) }},
	{"protection", aText, "", "type of protection that it is installed by in its hazardous area: one without `i`, `ia`, `ib` or `ic` needs no barrier, whatever safety values it has", "Ex db", func(r *plantReader, d *writtenDevice, n node) { d.Device.Protection = r.text(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Protection) }},
	{"zone", aText, "", "hazardous area", "1", func(r *plantReader, d *writtenDevice, n node) { d.Device.Zone = r.text(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Zone) }},
	{"status", aStatus, "the loop's", "`new`, `existing` or `future`", "", func(r *plantReader, d *writtenDevice, n node) { d.Status = r.status(n) }, func(w *writer, d *writtenDevice) { w.text(d.Status.String()) }},
}

var classWords = []string{"AA", "A", "B", "C"}

func (r *plantReader) devices(n node, l *model.Loop) {
	for key, value := range r.entries(n, "device") {
		if !r.declare(key, key.Value) {
			continue
		}
		p := &model.Part{Pos: key.pos(), Tag: key.Value, Device: &model.Device{Loop: l}, Status: l.Status, Through: map[*model.Terminal]*model.Terminal{}, TerminalByName: map[string]*model.Terminal{}}
		r.plant.PartByTag[p.Tag] = p
		l.Devices = append(l.Devices, p)
		r.device(value, p)
	}
}

// device reads one field device or panel instrument.
func (r *plantReader) device(value node, p *model.Part) {
	d := writtenDevice{Part: p}
	deviceFields.read(r, value, "", &d)
	if holds := cmp.Or(d.Device.DropOut, d.Device.PullIn); holds > 0 && d.Device.Release > holds {
		r.Report(value.wrong(finding.VoltsOrder, "%s: release %s V holds it or pulls it in", p.Tag, model.Plain(d.Device.Release)))
	}
	if in := d.in; in != nil {
		name := r.text(*in)
		r.seats = append(r.seats, func() {
			if p.Place = r.plant.PlaceByTag[name]; p.Place == nil && name != "" {
				r.Report(in.wrong(finding.UnknownTag, "no box, cabinet, panel or system is tagged %s", name).WithHint(bind.TagLists(r.plant).Place(name)))
			}
			for _, port := range p.Ports() {
				port.Place = p.Place
			}
		})
	}
	if p.Kind == nil {
		p.Kind = model.UnknownKind
		return
	}
	if p.Kind.Grouped() {
		r.groups(&d)
	} else {
		r.deviceTerminals(p, d.terminals)
	}
	if p.Kind.Ports {
		r.supplyOf(&d)
	} else if d.supply != nil && r.text(*d.supply) != "" {
		r.Report(d.supply.wrong(finding.UnusedFact, "supply of %s not used: those of a %s are its own terminals", p.Tag, p.Kind.Words))
	}
	if p.Kind.Grouped() && d.terminals != nil {
		r.sameTerminals(&d)
	}
	r.ports(&d)
	for _, n := range []*node{d.coils, d.contacts} {
		if n != nil && (!p.Kind.Grouped() || n == d.coils && p.Kind.Coils == "") {
			for _, item := range r.list(*n, strings.TrimSuffix(n.what, "s")) {
				r.text(item)
			}
			r.Report(n.wrong(finding.UnusedFact, "%s of %s not used: nothing can land on those of a %s", n.what, p.Tag, p.Kind.Words))
		}
	}
	switch {
	case d.output == nil || p.OutputFits():
	case len(p.Kind.Outputs()) == 0:
		r.Report(d.output.wrong(finding.UnusedFact, "output of %s not used: a %s has no wire that is switched to either pole", p.Tag, p.Kind.Words))
	default:
		r.Report(d.output.wrong(finding.AgainstKind, "%s is a %s, which has no %s output", p.Tag, p.Kind.Words, p.Device.OutputKind).
			WithHint(finding.Do("write PNP or NPN of a three-wire switch, sourcing or sinking of a three-wire transmitter")))
	}
	if d.earthed != nil {
		p.Device.Earthed = r.earthedBy(*d.earthed, p)
	}
	if d.variables != nil && !p.Smart() {
		r.Report(d.variables.wrong(finding.UnusedFact, "variables of %s not used: it is no HART device", p.Tag).WithHint(finding.Do("write HART: yes where it is one")))
	}
}

// airSupply takes the air of a pneumatic device: any text, of which a span of pressure
// is read.
func airSupply(s string) model.AirSupply {
	air := model.AirSupply{Text: s}
	if low, high, unit, ok := spanOf(s); ok && model.IsPressure(unit) {
		air.Span = model.Range{Low: low, High: high, Unit: unit, Text: s}
	}
	return air
}

// noEarth is the word for a device that has none of its terminals on earth.
const noEarth = "none"

// earthed writes which terminal of a device is on its case, by name.
func (w *writer) earthed(e model.DeviceEarth) {
	switch {
	case e.At != nil:
		w.text(e.At.Name)
	case e.Given:
		w.text(noEarth)
	default:
		w.text("")
	}
}

// earthedBy reads which terminal of a device is on its case: a name, the word for a
// pole of its signal, or none.
func (r *plantReader) earthedBy(n node, p *model.Part) model.DeviceEarth {
	name := r.text(n)
	switch t := p.TerminalByName[name]; {
	case name == "":
		return model.DeviceEarth{}
	case name == noEarth:
		return model.DeviceEarth{Given: true}
	case t != nil:
		return model.DeviceEarth{Given: true, At: t}
	}
	role := map[string]model.Marking{"negative": '-', "positive": '+'}[name]
	for _, t := range p.Terminals {
		if role != 0 && t.Role == role {
			return model.DeviceEarth{Given: true, At: t}
		}
	}
	what := "terminal " + finding.Quote(name)
	if role != 0 {
		what = name + " terminal"
	}
	r.Report(n.wrong(finding.UnknownTerminal, "%s has no %s", p.Tag, what).
		WithHint(finding.Do("use one of its terminals: %s; or %s", finding.AnyOf(model.Spans(p.Terminals)), noEarth)))
	return model.DeviceEarth{}
}

// deviceTerminals gives a device the terminals of its kind, by their own names
// where the plant gives them.
func (r *plantReader) deviceTerminals(p *model.Part, names *node) {
	var roles []byte
	for _, g := range p.Kind.Groups {
		roles = append(roles, g.Roles...)
	}
	var given []bind.Token
	if names != nil {
		given = r.words(*names)
		if n := len(roles); len(given) == n-1 && roles[n-1] == 'S' {
			given = append(given, bind.Token{Text: "S"}) // not every device has one
		}
		if len(given) != len(roles) {
			r.Report(names.wrong(finding.TerminalsMismatch, "%s has %d terminals, not %d", p.Kind.Words, len(roles), len(given)))
			given = nil
		}
	}
	usual := UsualTerminals(p.Kind)
	for i, role := range roles {
		if role == '.' {
			role = 0
		}
		t := &model.Terminal{Role: model.Marking(role), Name: usual[i]}
		if given != nil {
			t.Name = given[i].Text
		}
		if !p.AddTerminal(t) {
			r.Report(names.wrong(finding.TerminalTwice, "%s has terminal %s twice", p.Tag, t.Name))
		}
	}
}

// UsualTerminals are the names of the terminals of a device of this kind, unless the plant
// says others.
func UsualTerminals(k *model.Kind) (names []string) {
	for _, g := range k.Groups {
		for range g.Roles {
			names = append(names, defaultName(k, len(names)))
		}
	}
	return names
}

// probeNames are the names of the terminals of the driver of a probe, as common practice
// has them.
var probeNames = map[byte]string{'+': "COM", '-': "-24V", 'Q': "SIG"}

// defaultName is the name of terminal i of a device of this kind: its role
// where that is + - L N S or PE, P+ and P- of a DC supply, out of a switch that has
// one, else its number.
func defaultName(k *model.Kind, i int) string {
	at := i
	for _, g := range k.Groups {
		if at < len(g.Roles) {
			if name := probeNames[g.Roles[at]]; g.Signal == model.Displacement {
				return name
			}
			switch c := g.Roles[at]; c {
			case '+', '-', 'L', 'N', 'S':
				if g.Signal == model.PowerDC {
					return "P" + string(c)
				}
				return string(c)
			case 'E':
				return "PE"
			case 'Q':
				return "out"
			}
			return model.Itoa(at + 1)
		}
		at -= len(g.Roles)
	}
	return model.Itoa(i + 1)
}

func (r *plantReader) sensor(n node) string {
	s := r.text(n)
	if s == "" {
		return ""
	}
	if _, ok := sensor.Named(s); !ok {
		r.Report(n.wrong(finding.UnknownSensor, "no table for sensor %s", finding.Quote(s)).WithHint(finding.Do("use %s", finding.AnyOf(sensor.Names()))))
	}
	return s
}

// otherDevice reads the tag of a device other than own.
func (r *plantReader) otherDevice(n node, own *model.Part) *model.Part {
	tag := r.text(n)
	p := r.plant.PartByTag[tag]
	if p == own {
		r.Report(n.wrong(finding.SameDevice, "%s of %s is %s itself", n.what, own.Tag, own.Tag))
		return nil
	}
	if tag != "" && (p == nil || p.Device == nil || p.Kind.Bar) {
		r.Report(n.wrong(finding.UnknownTag, "no device is tagged %s", tag).WithHint(bind.TagLists(r.plant).Device(tag, own)))
		return nil
	}
	return p
}

// rangeOf reads "0..450 m3/h" or "-20..80 °C".
func (r *plantReader) rangeOf(n node) model.Range {
	s := strings.TrimSpace(r.text(n))
	if s == "" {
		return model.Range{}
	}
	if low, high, unit, ok := spanOf(s); ok {
		if low == high {
			r.Report(n.wrong(finding.EmptyRange, "%s has zero span (%s to %s)", n.what, model.Plain(low), model.Plain(low)))
		}
		return model.Range{Low: low, High: high, Unit: unit, Text: s}
	}
	r.Report(n.wrong(finding.BadRange, "%s must be two numbers and a unit, not %s", n.what, finding.Quote(s)).WithHint(finding.Do("write LOW..HIGH UNIT, in digits with a point")))
	return model.Range{}
}

// spanOf takes "0..450 m3/h" apart; false where it is no such span.
func spanOf(s string) (low, high float64, unit string, ok bool) {
	first, last, ok := strings.Cut(s, "..")
	low, none, okLow := model.SplitNumber(first)
	high, unit, okHigh := model.SplitNumber(last)
	return low, high, unit, ok && okLow && okHigh && none == ""
}

// writtenFunction is a function whose circuits are not bound yet.
type writtenFunction struct {
	*model.Function
	reads, drives, takes []bind.Token
	parts                *node
}

var functionFields = fields[*writtenFunction]{
	{"kind", aWord(model.FunctionWords...), asked, "`controller`, `indicator`, `alarm`, `switch`, `recorder`, `totaliser`, `ratio`, `high select`, `low select`, `sum`, `square root`; an override is a select of controllers", "controller", func(r *plantReader, f *writtenFunction, n node) { pick(r, n, &f.Kind, model.FunctionWords) }, func(w *writer, f *writtenFunction) { w.text(f.Kind.String()) }},
	{"action", aWord(model.ActionWords...), "", "`direct` or `reverse`", "", func(r *plantReader, f *writtenFunction, n node) { pick(r, n, &f.Action, model.ActionWords) }, func(w *writer, f *writtenFunction) { w.text(f.Action.String()) }},
	{"set", aText, "", "set point", "", func(r *plantReader, f *writtenFunction, n node) { f.Set = r.setPoint(n) }, func(w *writer, f *writtenFunction) { w.text(f.Set.Text) }},
	{"alarms", someTexts, "", "alarm set points", "[HH 430]", func(r *plantReader, f *writtenFunction, n node) { f.Alarms = r.setPoints(n, "alarm") }, func(w *writer, f *writtenFunction) { w.setPoints(f.Alarms) }},
	{"reads", listOf(aName).called("names"), "", "circuits that it takes its value from; one of another loop stands as a flag on the sheets of both", "FT-2107", func(r *plantReader, f *writtenFunction, n node) { f.reads = r.names(n) }, func(w *writer, f *writtenFunction) { w.circuits(f.Reads) }},
	{"takes", listOf(aTag).called("tags"), "", "functions whose output it takes: a controller as its set point (a cascade, or of a ratio), a select to choose from, a sum or a square root to compute with; of another loop likewise", "LIC-2115", func(r *plantReader, f *writtenFunction, n node) { f.takes = r.names(n) }, func(w *writer, f *writtenFunction) { w.functions(f.Takes) }},
	{"drives", listOf(aName).called("names"), "", "circuits that it moves; of another loop likewise", "FV-2112", func(r *plantReader, f *writtenFunction, n node) { f.drives = r.names(n) }, func(w *writer, f *writtenFunction) { w.circuits(f.Outputs) }},
	{"parts", someTexts, "all of its output", "which part of its output is the whole signal of a circuit that it drives (split range): the circuit, then the outputs at which its signal is at the low end and at the high end", "[TY-2150A 50..0 %, TY-2150B 50..100 %]", func(r *plantReader, f *writtenFunction, n node) { f.parts = &n }, func(w *writer, f *writtenFunction) {
		w.texts(texts(f.Parts, func(p model.OutputPart) string { return p.Circuit.Name + " " + p.Range.Text }))
	}},
	{"between parts", aWord(model.MeetingWords...).listed(), "the parts meet end to end", "what is meant where they do not: `gap` (a dead band) or `overlap`", "gap", func(r *plantReader, f *writtenFunction, n node) { pick(r, n, &f.Between, model.MeetingWords) }, func(w *writer, f *writtenFunction) { w.text(f.Between.String()) }},
}

func (r *plantReader) functions(n node, l *model.Loop) {
	for key, value := range r.entries(n, "function") {
		f := writtenFunction{Function: &model.Function{Pos: key.pos(), Tag: key.Value, Loop: l}}
		if !r.declare(key, f.Tag) {
			continue
		}
		l.Functions = append(l.Functions, f.Function)
		r.functionAt[f.Tag] = f.Function
		functionFields.read(r, value, "", &f)
		find := func(names []bind.Token) (cs []*model.Circuit) {
			for _, t := range names {
				c, other := r.circuitNamed(t.Text, l)
				if other != nil {
					pr := t.Wrong(finding.AmbiguousCircuit, "loops %s and %s both have a circuit %q", c.Loop.Tag, other.Loop.Tag, t.Text).WithHint(finding.Do("rename one of them"))
					pr.Also = []finding.Related{{Pos: c.Pos, Text: "the one circuit"}, {Pos: other.Pos, Text: "the other circuit"}}
					r.Report(pr)
					continue
				}
				if c == nil {
					r.Report(t.Wrong(finding.UnknownCircuit, "no circuit is named %q", t.Text).WithHint(bind.TagLists(r.plant).Circuit(t.Text)))
					continue
				}
				cs = append(cs, c)
			}
			return cs
		}
		r.later = append(r.later, func() {
			f.Reads, f.Outputs = find(f.reads), find(f.drives)
			r.takes(f)
			r.outputParts(f)
		})
	}
}

// takes binds the functions whose output a function takes.
func (r *plantReader) takes(f writtenFunction) {
	for _, t := range f.takes {
		switch from := r.functionAt[t.Text]; {
		case from == nil:
			r.Report(t.Wrong(finding.UnknownFunction, "no function has the tag %q", t.Text).WithHint(bind.TagLists(r.plant).Function(t.Text)))
		case slices.Contains(f.Takes, from):
			r.Report(t.Wrong(finding.TakenTwice, "%s takes %s twice", f.Tag, t.Text).WithHint(finding.Do("name it once")))
		default:
			f.Takes, from.TakenBy = append(f.Takes, from), append(from.TakenBy, f.Function)
		}
	}
}

// outputParts reads which part of its output each circuit has that a function drives.
func (r *plantReader) outputParts(f writtenFunction) {
	if f.parts == nil {
		return
	}
	for _, item := range r.list(*f.parts, "a part") {
		s := r.text(item)
		if s == "" {
			continue
		}
		report := func(format string, args ...any) {
			r.Report(item.wrong(finding.BadPart, format, args...).WithHint(finding.Do("write a circuit that it drives, and the output at which the valve begins to move and the one at which it has moved, in %%")))
		}
		m := partOfOutput.FindStringSubmatch(s)
		if m == nil {
			report("%s is no part of the output of %s", finding.Quote(s), f.Tag)
			continue
		}
		low, high, unit, ok := spanOf(m[2])
		at := slices.IndexFunc(f.Outputs, func(c *model.Circuit) bool { return c.Name == m[1] })
		switch {
		case !ok || unit != "%" || min(low, high) < 0 || max(low, high) > 100 || low == high:
			report("%s is no part of an output", finding.Quote(m[2]))
		case at < 0:
			report("%s does not drive %s", f.Tag, finding.Quote(m[1]))
		case slices.ContainsFunc(f.Parts, func(p model.OutputPart) bool { return p.Circuit == f.Outputs[at] }):
			report("%s has two parts of the output of %s", m[1], f.Tag)
		default:
			f.Parts = append(f.Parts, model.OutputPart{Pos: item.pos(), Circuit: f.Outputs[at], Range: model.Range{Low: low, High: high, Unit: "%", Text: m[2]}})
		}
	}
}

// partOfOutput is a circuit, then a span in per cent.
var partOfOutput = regexp.MustCompile(`^(.+) (\S+ ?%)$`)

// circuitNamed finds a circuit by name: one of loop l before those of others. Where
// two others have it, which one is meant cannot be told: both are returned.
func (r *plantReader) circuitNamed(name string, l *model.Loop) (c, other *model.Circuit) {
	if r.named == nil {
		r.named, r.own = map[string][]*model.Circuit{}, map[ownName]*model.Circuit{}
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
	loop *model.Loop
	name string
}

// names reads names of circuits: a list, or a text parted by blanks.
func (r *plantReader) names(n node) []bind.Token {
	if n.Kind == yaml.ScalarNode {
		return r.words(n)
	}
	var all []bind.Token
	for _, item := range r.list(n, "") {
		if s := r.text(item); s != "" {
			pos, _ := item.at(0, len(item.Value))
			all = append(all, bind.Token{Text: s, Pos: pos})
		}
	}
	return all
}

func (r *plantReader) circuitsOf(n node, l *model.Loop) {
	for key, value := range r.entries(n, "circuit") {
		c := &model.Circuit{Pos: key.pos(), Name: key.Value, Loop: l, Status: l.Status, Path: &model.Path{}}
		l.Circuits = append(l.Circuits, c)
		steps, ok := r.steps(value)
		if !ok {
			c.Broken = true
			continue
		}
		r.circuits = append(r.circuits, bind.Written{Circuit: c, Steps: steps})
	}
}

// steps reads the path of a circuit, or of a leg from where the legs separate.
func (r *plantReader) steps(n node) ([]bind.PathStep, bool) {
	if !r.is(n, yaml.SequenceNode) {
		return nil, false
	}
	var all []bind.PathStep
	for i, item := range r.list(n, "a step of a path") {
		s := bind.PathStep{Pos: item.pos()}
		if i == mostSteps {
			r.tooMany(s.Pos, mostSteps, "steps of "+n.what)
			return nil, false
		}
		if item.Kind != yaml.MappingNode {
			if s.Words = r.words(item); len(s.Words) == 0 {
				return nil, false
			}
			if len(s.Words) > mostWords {
				r.tooMany(s.Words[mostWords].Pos, mostWords, "words of "+item.what)
				return nil, false
			}
			all = append(all, s)
			continue
		}
		for key, value := range r.entries(item, "leg") {
			steps, ok := r.steps(value)
			if !ok {
				return nil, false
			}
			s.Tails = append(s.Tails, bind.Tail{Leg: bind.Token{Text: key.Value, Pos: key.pos()}, Steps: steps})
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
	r.endsOfPaths()
	for _, f := range r.later {
		f()
	}
	b := &bind.Binder{Log: &r.Log, Plant: r.plant}
	r.plant.Counted = b.Count(r.circuits, r.kept)
	r.digestCounted()
	written := map[*model.Circuit][]bind.PathStep{}
	for _, w := range r.circuits {
		written[w.Circuit] = w.Steps
		b.BindCircuit(w.Circuit, w.Steps)
	}
	b.Finish(written)
	for _, l := range r.plant.Loops {
		for _, d := range l.Devices {
			d.Instrument()
		}
	}
	for _, f := range r.fitted {
		f()
	}
}
