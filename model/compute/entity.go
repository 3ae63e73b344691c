package compute

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/model"
)

// This file compares the safety values of the source of an intrinsically safe
// circuit with those of its devices and cables (entity comparison, after
// IEC 60079-11, -14 and -25). It does not replace the document of a qualified
// person.

// Values of cables of which nothing is known: IEC 60079-14 and 60079-25 clause
// 9.3, for two or three cores with or without a screen. The ratio holds where
// Io is at most 3 A.
const (
	defaultPicofarads   = 200.0  // pF/m
	defaultMicrohenries = 1.0    // µH/m
	defaultLR           = 30.0   // µH/Ω
	defaultLRMost       = 3000.0 // mA
)

// lumped is the share of Co or Lo from which on what is concentrated in devices
// counts. Where it does for both, half of each is left (IEC 60079-11 clause
// 10.1.5.2). At exactly the share one maker halves and another does not say; it
// is halved here.
const lumped = 0.01

// mostHalved is the most that is left of Co, in nF, where it is halved, by gas
// group. Without a group that of IIC holds.
var mostHalved = map[string]float64{"": 600, "IIC": 600, "IIB": 1000, "IIA": 1000}

// EntityRow is one line of an entity comparison. What must not be exceeded is
// Limit, what is compared with it is Sum.
type EntityRow struct {
	Name   string  // such as Uo ≤ Ui
	Source float64 // Uo, Io, Po, Co, Lo or Lo/Ro as given
	Device float64 // the lowest Ui, Ii or Pi; Ci or Li of all devices
	Cable  float64 // of all cables; of L/R the largest
	Sum    float64
	Limit  float64
	Unit   string  // V, mA, mW, nF, µH or µH/Ω
	Margin float64 // Limit less Sum; 0 where something is missing
	OK     bool    // nothing is missing, and Sum is not above Limit
	// Missing names what is not given, parted by commas. Without it there is no
	// result: Sum, Limit and Margin mean nothing, and OK is false.
	Missing string
	Note    string // what was taken by default, or why the limit is lower
}

// entityLoop is what is compared.
type entityLoop struct {
	source  entityPart
	others  []string // tags of further sources: values together are not known
	devices []entityPart
	cables  []entityCable
}

type entityPart struct {
	tag    string
	values model.Entity
	simple bool
}

type entityCable struct {
	tag      string
	metres   float64
	length   string  // in the unit that it was written in
	nF       float64 // all of it
	uH       float64
	lr       float64  // µH/Ω
	defaults []string // values taken by default: C, L, L/R
}

// EntityOf compares the safety values round an intrinsically safe circuit, and
// tells the method, one line each: which cable data were used and whether half
// of Co and Lo was left. It is false for a circuit that has no barrier or
// isolator to make it one.
func EntityOf(p *model.Plant, c *model.Circuit) (rows []EntityRow, method []string, ok bool) {
	loop, ok := entityLoopOf(c)
	if !ok {
		return nil, nil, false
	}
	rows, method = loop.compare()
	return rows, method, true
}

// entityLoopOf collects what takes part on the field side of the barriers.
func entityLoopOf(c *model.Circuit) (entityLoop, bool) {
	barriers := c.Barriers()
	if len(barriers) == 0 || c.Broken {
		return entityLoop{}, false
	}
	e := entityLoop{source: entityPart{tag: barriers[0].Tag, values: barriers[0].GivesAtMost()}}
	for _, g := range barriers[1:] {
		e.others = append(e.others, g.Tag)
	}
	var devices []*model.Part
	var wires []*model.Conductor
	for _, l := range c.Legs {
		side := l.FieldSide(func(part *model.Part) bool { return slices.Contains(barriers, part) })
		for _, st := range side.Stations {
			switch d := st.Part; {
			case slices.Contains(devices, d):
			case d.Device != nil && d.Device.Loop != nil:
				devices = append(devices, d)
				e.devices = append(e.devices, entityPart{d.Tag, d.Device.Entity, d.Device.SimpleApparatus})
			case d.Kind.Diverts: // it stores as a device does
				devices = append(devices, d)
				e.devices = append(e.devices, entityPart{d.Tag, d.Barrier.Entity, false})
			}
		}
		wires = append(wires, side.Wires...)
	}
	for _, b := range bundles(wires) {
		e.cables = append(e.cables, entity(b.cable))
	}
	return e, true
}

// entity is what the cable adds, by its type or else by default. From L/R
// alone the inductance follows by the ohms of both cores, which is the safe
// reading of it.
func entity(c *model.Cable) entityCable {
	t := c.Type
	e := entityCable{tag: c.Tag, metres: c.Length, length: c.LengthWords(), nF: t.Capacitance * c.Length / 1000, uH: t.Inductance * c.Length, lr: t.LR}
	core, _, ok := CoreOhms(c, 20)
	if e.lr == 0 && t.Inductance > 0 && ok {
		e.lr = e.uH / (2 * core)
	}
	if t.Inductance == 0 && t.LR > 0 && ok {
		e.uH = t.LR * 2 * core
	}
	if t.Capacitance == 0 {
		e.nF, e.defaults = defaultPicofarads*c.Length/1000, append(e.defaults, "C")
	}
	if t.Inductance == 0 && (t.LR == 0 || !ok) {
		e.uH, e.defaults = defaultMicrohenries*c.Length, append(e.defaults, "L")
	}
	if e.lr == 0 {
		e.lr, e.defaults = defaultLR, append(e.defaults, "L/R")
	}
	return e
}

// compare makes the rows: U, I, P, C, and L or else L/R.
func (e entityLoop) compare() (rows []EntityRow, method []string) {
	s := e.source.values
	rows = append(rows,
		e.below('U', "V", s.U, func(d model.Entity) float64 { return d.U }),
		e.below('I', "mA", s.I, func(d model.Entity) float64 { return d.I }),
		e.below('P', "mW", s.P, func(d model.Entity) float64 { return d.P }))

	c := EntityRow{Name: "Ci + cable ≤ Co", Unit: "nF", Source: s.C, Limit: s.C}
	l := EntityRow{Name: "Li + cable ≤ Lo", Unit: "µH", Source: s.L, Limit: s.L}
	var noC, noL, noLength []string
	c.Device, noC = e.lumps("Ci", func(d model.Entity) float64 { return d.C })
	l.Device, noL = e.lumps("Li", func(d model.Entity) float64 { return d.L })
	noneC, noneL := len(noC) == 0 && c.Device == 0, len(noL) == 0 && l.Device == 0
	noC, noL = append(e.without("Co"), noC...), append(e.without("Lo"), noL...)
	for _, w := range e.cables {
		if w.metres <= 0 {
			noLength = append(noLength, "length of "+w.tag)
		}
		c.Cable += w.nF
		l.Cable += w.uH
	}
	c.Note, l.Note = e.defaults("C", defaultPicofarads, "pF/m"), e.defaults("L", defaultMicrohenries, "µH/m")

	// A value that is known to be small decides, whatever the other one is.
	smallC := noneC || len(noC) == 0 && c.Device < lumped*s.C*(1-1e-9)
	smallL := noneL || len(noL) == 0 && l.Device < lumped*s.L*(1-1e-9)
	rule := "full Co and Lo: Ci or Li of the devices is less than 1 % of them (IEC 60079-11 clause 10.1.5.2)"
	if !smallC && !smallL {
		noC, noL = append(noC, noL...), append(noL, noC...)
		if len(noC) == 0 {
			c.Limit, l.Limit = min(s.C/2, mostHalved[s.Group]), s.L/2
			note := "half, since both Ci and Li are 1 % or more"
			c.Note, l.Note = join("; ", note, c.Note), join("; ", note, l.Note)
			rule = fmt.Sprintf("half of Co and Lo, and Co at most %s nF: both Ci and Li of the devices are 1 %% or more of them (IEC 60079-11 clause 10.1.5.2)", model.Figure(mostHalved[s.Group]))
		} else {
			rule = "half Co and Lo rule: undecided (IEC 60079-11 clause 10.1.5.2)"
		}
	}
	c.Sum, l.Sum = c.Device+c.Cable, l.Device+l.Cable
	c.finish(append(noC, noLength...))
	l.finish(append(noL, noLength...))
	if ratio, ok := e.ratio(smallL); ok && !l.OK {
		l = ratio
		rule += "; Lo/Ro in place of Lo: Li is negligible"
	}
	rows = append(rows, c, l)
	if len(e.others) > 0 {
		for i := range rows {
			rows[i].finish([]string{"values of " + strings.Join(append([]string{e.source.tag}, e.others...), " and ") + " together"})
		}
	}
	return rows, append(e.method(), rule)
}

// below is the row of a value of the source that every device has to stand.
func (e entityLoop) below(letter byte, unit string, source float64, of func(model.Entity) float64) EntityRow {
	r := EntityRow{Name: fmt.Sprintf("%co ≤ %ci", letter, letter), Unit: unit, Source: source, Sum: source}
	missing := e.without(string(letter) + "o")
	name := string(letter) + "i"
	least, simple := math.Inf(1), []string(nil)
	for _, d := range e.devices {
		switch {
		case d.values.Has(name):
			least = min(least, of(d.values))
		case d.simple:
			simple = append(simple, d.tag)
		default:
			missing = append(missing, d.lacks(name))
		}
	}
	if len(e.devices) == 0 {
		missing = append(missing, "a device")
	}
	if len(simple) > 0 {
		r.Note = "simple apparatus: " + strings.Join(simple, ", ")
	}
	if math.IsInf(least, 1) {
		r.Limit = source // nothing but simple apparatus, which has no such limit
	} else {
		r.Device, r.Limit = least, least
	}
	r.finish(missing)
	return r
}

// lumps adds a value of all devices. Simple apparatus adds what it is said to.
func (e entityLoop) lumps(name string, of func(model.Entity) float64) (sum float64, missing []string) {
	for _, d := range e.devices {
		if !d.values.Has(name) && !d.simple {
			missing = append(missing, d.lacks(name))
		}
		sum += of(d.values)
	}
	if len(e.devices) == 0 {
		missing = append(missing, "a device")
	}
	return sum, missing
}

func (e entityLoop) without(name string) []string {
	if e.source.values.Has(name) {
		return nil
	}
	return []string{e.source.lacks(name)}
}

// lacks names a value that is not given, or all of them where none is.
func (e entityPart) lacks(name string) string {
	if !e.values.Given {
		name = "entity"
	}
	return name + " of " + e.tag
}

// ratio is the row of L/R, which stands in for that of Lo where the devices
// have next to no inductance of their own.
func (e entityLoop) ratio(small bool) (EntityRow, bool) {
	s := e.source.values
	if !small || !s.Has("Lo/Ro") || len(e.cables) == 0 {
		return EntityRow{}, false
	}
	r := EntityRow{Name: "cable L/R ≤ Lo/Ro", Unit: "µH/Ω", Source: s.LR, Limit: s.LR, Note: e.defaults("L/R", defaultLR, "µH/Ω")}
	for _, w := range e.cables {
		r.Cable = max(r.Cable, w.lr)
	}
	r.Sum = r.Cable
	if r.Note != "" && !(s.Has("Io") && s.I <= defaultLRMost) {
		return EntityRow{}, false // the default holds up to 3 A only
	}
	r.finish(nil)
	return r, true
}

// finish sets the verdict.
func (r *EntityRow) finish(missing []string) {
	if len(missing) > 0 {
		r.Missing = strings.Join(model.Unique(missing), ", ")
		r.OK, r.Margin = false, 0
		return
	}
	r.Margin = r.Limit - r.Sum
	if math.Abs(r.Margin) <= 1e-9*math.Abs(r.Limit) { // equality passes; sums are not exact
		r.Margin = 0
	}
	r.OK = r.Margin >= 0
}

// defaults says for which cables a value is the default.
func (e entityLoop) defaults(what string, value float64, unit string) string {
	var tags []string
	for _, w := range e.cables {
		if slices.Contains(w.defaults, what) && !slices.Contains(tags, w.tag) {
			tags = append(tags, w.tag)
		}
	}
	if len(tags) == 0 {
		return ""
	}
	return fmt.Sprintf("default %s %s: %s", model.Figure(value), unit, strings.Join(tags, ", "))
}

// method returns what was compared and by which cable data.
func (e entityLoop) method() []string {
	var tags []string
	for _, d := range e.devices {
		tags = append(tags, d.tag)
	}
	group := "gas group of Co and Lo NOT GIVEN"
	if g := e.source.values.Group; g != "" {
		group = "Co and Lo for gas group " + g
	}
	lines := []string{fmt.Sprintf("source %s, devices %s; %s", e.source.tag, strings.Join(tags, ", "), group)}
	for _, w := range e.cables {
		data := "cable type data"
		if len(w.defaults) > 0 {
			data = strings.Join(w.defaults, " and ") + " by default (IEC 60079-14)"
		}
		length := "length NOT GIVEN"
		if w.metres > 0 {
			length = w.length
		}
		lines = append(lines, fmt.Sprintf("cable %s, %s: %s nF, %s µH; %s", w.tag, length, model.Figure(w.nF), model.Figure(w.uH), data))
	}
	return lines
}

// join joins the texts that are not empty.
func join(sep string, texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), sep)
}
