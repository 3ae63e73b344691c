package read

import (
	"cmp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/finding"
)

// This file reads electrical values with their units.

var (
	voltUnits    = units{{"V", "V"}, {"V DC", "V"}, {"V AC", "V"}}
	currentUnits = units{{"mA", "mA"}, {"A", "A"}}
	vaUnits      = units{{"VA", "VA"}}
	wattUnits    = units{{"W", "W"}, {"mW", "mW"}}
	timeUnits    = units{{"s", "s"}, {"min", "min"}}
	drawUnits    = slices.Concat(currentUnits, vaUnits, wattUnits)
	scaleUnits   = units{{"mV/µm", "µm"}, {"mV/um", "µm"}, {"mV/mil", "mil"}}
	ohmUnits     = units{{"ohm", "ohm"}, {"Ω", "ohm"}, {"kohm", "k"}, {"kΩ", "k"}}
	percentUnits = units{{"%", "%"}, {"", "%"}}
)

// volts reads a voltage of more than nothing: in the model, 0 stands for what is
// not given. So do milliamps and ohms.
func (r *plantReader) volts(n node) float64 {
	v, u := r.quantity(n, voltUnits...)
	return r.something(n, v, u)
}

// drop reads a voltage that may be nothing.
func (r *plantReader) drop(n node) float64 {
	v, _ := r.quantity(n, voltUnits...)
	return r.notNegative(n, v)
}

func (r *plantReader) milliamps(n node) float64 {
	v, u := r.quantity(n, currentUnits...)
	v, _ = model.Convert(v, u, "mA")
	return r.something(n, v, u)
}

func (r *plantReader) voltAmperes(n node) float64 {
	v, u := r.quantity(n, vaUnits...)
	return r.something(n, v, u)
}

// seconds reads a time.
func (r *plantReader) seconds(n node) float64 {
	v, u := r.quantity(n, timeUnits...)
	if u == "min" {
		v *= 60
	}
	return r.something(n, v, u)
}

// draws reads what a device takes: mA, A, VA or W.
func (r *plantReader) draws(n node, d *model.Device) {
	v, u := r.quantity(n, drawUnits...)
	switch v = r.something(n, v, u); u {
	case "VA":
		d.DrawsVA = v
	case "W":
		d.DrawsWatts = v
	case "mW":
		d.DrawsWatts = v / 1000
	case "A":
		d.SupplyCurrent = v * 1000
	default:
		d.SupplyCurrent = v
	}
}

// scale reads what a displacement probe gives: mV/µm or mV/mil.
func (r *plantReader) scale(n node) model.Scale {
	v, u := r.quantity(n, scaleUnits...)
	return model.Scale{MV: r.something(n, v, u), Unit: u}
}

// gap reads the volts between which the gap of a probe is set, both below nothing.
func (r *plantReader) gap(n node) model.Range {
	g := r.rangeOf(n)
	if g.Given() && (g.Unit != "V" || max(g.Low, g.High) >= 0) {
		r.Report(n.wrong(finding.BadRange, "gap must be two voltages below 0, not %s", finding.Quote(g.Text)).WithHint(finding.Do("write the lowest and the highest, both with a minus sign and in V: the driver has a negative supply")))
		return model.Range{}
	}
	return g
}

// powerFactor reads a number above 0 and up to 1; 0 with a finding.
func (r *plantReader) powerFactor(n node) float64 {
	v := r.something(n, r.number(n), n.Value)
	if v > 1 {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be above 0, maximum 1", n.what))
		return 0
	}
	return v
}

func (r *plantReader) ohms(n node) float64 {
	v, u := r.quantity(n, ohmUnits...)
	if u == "k" {
		v *= 1000
	}
	return r.something(n, v, u)
}

// something refuses nothing and less. What could not be read, with no unit, is
// refused already.
func (r *plantReader) something(n node, v float64, unit string) float64 {
	if v <= 0 && unit != "" {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be above 0", n.what))
		return 0
	}
	return v
}

func (r *plantReader) notNegative(n node, v float64) float64 {
	if v < 0 {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must not be below 0", n.what))
		return 0
	}
	return v
}

// biases reads "10.5 V", "18.5 V at 21 mA", or a list of the second kind, each
// voltage as told.
func (r *plantReader) biases(n node, volts func(node) float64) model.VoltageCurve {
	var all model.VoltageCurve
	for _, item := range r.list(n, "") {
		s := r.text(item)
		if s == "" {
			return nil
		}
		voltage, current, at := strings.Cut(s, " at ")
		part := func(text string) node {
			c := *item.Node
			c.Value = strings.TrimSpace(text)
			return node{&c, item.src, item.what}
		}
		b := model.VoltsAt{Volts: volts(part(voltage)), AC: strings.HasSuffix(strings.TrimSpace(voltage), "AC")}
		if at {
			mA, u := r.quantity(part(current), currentUnits...)
			mA, _ = model.Convert(mA, u, "mA")
			b.MA = r.notNegative(item, mA)
		} else if n.Kind == yaml.SequenceNode && len(n.Content) > 1 {
			r.Report(item.wrong(finding.MissingCurrent, "voltage has no current").WithHint(finding.Do("write VOLTAGE at CURRENT, of each")))
			return nil
		}
		all = append(all, b)
	}
	slices.SortStableFunc(all, func(a, b model.VoltsAt) int { return cmp.Compare(a.MA, b.MA) })
	return all
}

// entityUnits are the units of the values of an entity, and entityIn those of the
// model.
var (
	entityUnits = map[byte]units{
		'U': {{"V", "V"}},
		'I': {{"mA", "mA"}, {"A", "A"}},
		'P': wattUnits,
		'C': {{"nF", "nF"}, {"uF", "uF"}, {"µF", "uF"}, {"pF", "pF"}},
		'L': {{"uH", "uH"}, {"µH", "uH"}, {"mH", "mH"}},
	}
	entityIn   = map[byte]string{'U': "V", 'I': "mA", 'P': "mW", 'C': "nF", 'L': "uH"}
	ratioUnits = units{{"uH/ohm", "uH/ohm"}, {"µH/Ω", "uH/ohm"}}
)

// entityValue is the field of one value of an entity.
func entityValue(name, means string, into func(e *model.Entity) *float64) field[*model.Entity] {
	us := entityUnits[name[0]]
	return field[*model.Entity]{name, us.shape(us[0].written), "", means, "", func(r *plantReader, e *model.Entity, n node) {
		e.Keys[name] = true
		v, unit := r.quantity(n, us...)
		v, _ = model.Convert(v, unit, entityIn[name[0]])
		*into(e) = r.notNegative(n, v)
	}, func(w *writer, e *model.Entity) {
		if e.Has(name) {
			w.quantity(*into(e), strings.Replace(entityIn[name[0]], "uH", "µH", 1))
		}
	}}
}

var deviceEntityFields = fields[*model.Entity]{
	entityValue("Ui", "largest voltage it can stand", func(e *model.Entity) *float64 { return &e.U }),
	entityValue("Ii", "largest current it can stand", func(e *model.Entity) *float64 { return &e.I }),
	entityValue("Pi", "largest power it can stand", func(e *model.Entity) *float64 { return &e.P }),
	entityValue("Ci", "capacitance that it adds", func(e *model.Entity) *float64 { return &e.C }),
	entityValue("Li", "inductance that it adds", func(e *model.Entity) *float64 { return &e.L }),
}

var sourceEntityFields = fields[*model.Entity]{
	entityValue("Uo", "largest voltage it gives", func(e *model.Entity) *float64 { return &e.U }),
	entityValue("Io", "largest current it gives", func(e *model.Entity) *float64 { return &e.I }),
	entityValue("Po", "largest power it gives", func(e *model.Entity) *float64 { return &e.P }),
	entityValue("Co", "largest capacitance that may be connected", func(e *model.Entity) *float64 { return &e.C }),
	entityValue("Lo", "largest inductance that may be connected", func(e *model.Entity) *float64 { return &e.L }),
	{"Lo/Ro", ratioUnits.shape("µH/Ω"), "", "largest ratio of inductance to resistance that may be connected", "", func(r *plantReader, e *model.Entity, n node) {
		e.Keys["Lo/Ro"] = true
		e.LR, _ = r.quantity(n, ratioUnits...)
	}, func(w *writer, e *model.Entity) {
		if e.Has("Lo/Ro") {
			w.quantity(e.LR, "µH/Ω")
		}
	}},
	{"group", aWord(gasGroups...), "", "gas group that Co and Lo hold for", "", func(r *plantReader, e *model.Entity, n node) { e.Group = r.oneOf(n, gasGroups...) }, func(w *writer, e *model.Entity) { w.text(e.Group) }},
}

var gasGroups = []string{"IIC", "IIB", "IIA"}

// entity reads {Ui: 30 V, Ii: 100 mA, ...}.
func (r *plantReader) entity(n node, fs fields[*model.Entity]) model.Entity {
	e := model.Entity{Pos: n.pos(), Given: true, Keys: map[string]bool{}}
	fs.read(r, n, "an entity", &e)
	return e
}
