package read

import (
	"slices"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// This file reads what legs go through in a place: barriers, isolators, surge protectors.

// halvesField are the terminals of a part that legs go through.
func halvesField(means string) field[*writtenPart] {
	return field[*writtenPart]{"terminals", someNames, "`1 2 3 4`", means, "1 2 7 8", func(r *plantReader, b *writtenPart, n node) {
		if b.names = r.words(n); len(b.names)%2 != 0 || len(b.names) == 0 {
			r.Report(n.wrong(finding.TerminalsMismatch, "%s has %s; field and system sides need the same number", b.Tag, finding.Count(len(b.names), "terminal")).WithHint(finding.Do("name as many for one side as for the other")))
			b.names = nil
		}
	}, func(w *writer, p *writtenPart) { w.names(p.Terminals) }}
}

// earthField is the earth bar that a part leads to.
func earthField(means string) field[*writtenPart] {
	return field[*writtenPart]{"earth", aName, "NOT GIVEN", means, "IE", func(r *plantReader, b *writtenPart, n node) {
		part, place := b.Part, b.Place
		part.Barrier.SaysEarth = true
		r.later = append(r.later, func() { part.Barrier.Earth = r.earthBar(n, place, r.text(n)) })
	}, func(w *writer, b *writtenPart) { w.tag(b.Barrier.Earth) }}
}

var (
	modelField      = field[*writtenPart]{"model", aText, "", "the maker's name for it", "", func(r *plantReader, b *writtenPart, n node) { b.Barrier.Model = r.text(n) }, func(w *writer, b *writtenPart) { w.text(b.Barrier.Model) }}
	partStatusField = field[*writtenPart]{"status", aStatus, "the place's", "`new`, `existing` or `future`", "", func(r *plantReader, b *writtenPart, n node) { b.Status = r.status(n) }, func(w *writer, b *writtenPart) { w.text(b.Status.String()) }}
)

var barrierFields = fields[*writtenPart]{
	halvesField("half to the field, half to the system"),
	modelField,
	{"ohms", inOhms, "NOT GIVEN", "resistance of a barrier, end to end, one leg: the largest; of an isolator what it is to an output, or what its volts drive a switch through, as the 1 kohm of IEC 60947-5-6", "333 ohm", func(r *plantReader, b *writtenPart, n node) { b.Barrier.Ohms = r.ohms(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.Ohms, "Ω") }},
	{"return ohms", inOhms, "`ohms`", "resistance of its return leg", "36 ohm", func(r *plantReader, b *writtenPart, n node) { b.Barrier.ReturnOhms = r.ohms(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.ReturnOhms, "Ω") }},
	{"drop", inVolts, "none", "fixed voltage in each leg (diodes)", "0.9 V", func(r *plantReader, b *writtenPart, n node) { b.Barrier.Drop = r.drop(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.Drop, "V") }},
	{"working volts", inVolts, "NOT GIVEN", "of a barrier: largest voltage from the system side", "26 V", func(r *plantReader, b *writtenPart, n node) { b.Barrier.MaxWorkingVolts = r.volts(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.MaxWorkingVolts, "V") }},
	{"volts", biased, "NOT GIVEN", "of an isolator: voltage that it gives the device; at one current alone it is the least at less current, with `Uo` as the most, and not known at more", "[22 V at 4 mA, 15 V at 22 mA]", func(r *plantReader, b *writtenPart, n node) { b.Barrier.Volts = r.biases(n, r.volts) }, func(w *writer, b *writtenPart) { w.curve(b.Barrier.Volts) }},
	{"load", inOhms, "NOT GIVEN", "of an isolator: largest load that it drives: on the system side, where nothing else powers that, or of an output on the field side", "600 ohm", func(r *plantReader, b *writtenPart, n node) { b.Barrier.MaxLoad = r.ohms(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.MaxLoad, "Ω") }},
	earthField("of a barrier: the earth bar of its place that it is earthed on"),
	{"entity", sourceEntityFields.shape(), "NOT GIVEN", "safety values: `Uo`, `Io`, `Po`, `Co`, `Lo`, `Lo/Ro`, `group`", "{Uo: 28 V, Io: 93 mA, Co: 83 nF, Lo: 4.2 mH, group: IIC}", func(r *plantReader, b *writtenPart, n node) {
		b.Barrier.Entity = r.entity(n, sourceEntityFields)
	}, func(w *writer, b *writtenPart) { w.entity(b.Barrier.Entity, sourceEntityFields) }},
	partStatusField,
}

var surgeFields = fields[*writtenPart]{
	halvesField("half to the line, half to what it protects"),
	modelField,
	{"protects", aWord(protectWords...), "of boxes `field`, else `system`", "the side that it protects; the other is the line", "field", func(r *plantReader, b *writtenPart, n node) {
		b.Barrier.Protects = model.Side(max(0, slices.Index(protectWords, r.oneOf(n, protectWords...))))
	}, func(w *writer, b *writtenPart) { w.text(b.Barrier.Protects.String()) }},
	{"ohms", inOhms, "NOT GIVEN", "resistance end to end, one leg: the largest", "2.2 ohm", func(r *plantReader, b *writtenPart, n node) { b.Barrier.Ohms = r.ohms(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.Ohms, "Ω") }},
	{"working volts", inVolts, "not checked", "largest continuous voltage from leg to leg", "32 V", func(r *plantReader, b *writtenPart, n node) { b.Barrier.MaxWorkingVolts = r.volts(n) }, func(w *writer, b *writtenPart) { w.given(b.Barrier.MaxWorkingVolts, "V") }},
	earthField("the earth bar of its place that it leads to"),
	{"entity", deviceEntityFields.shape(), "NOT GIVEN", "safety values in an intrinsically safe circuit: `Ui`, `Ii`, `Pi`, `Ci`, `Li`", "{Ui: 30 V, Ii: 100 mA, Pi: 0.75 W, Ci: 1 nF, Li: 0 uH}", func(r *plantReader, b *writtenPart, n node) {
		b.Barrier.Entity = r.entity(n, deviceEntityFields)
	}, func(w *writer, b *writtenPart) { w.entity(b.Barrier.Entity, deviceEntityFields) }},
	partStatusField,
}

var protectWords = []string{model.FieldSide.String(), model.SystemSide.String()}

// barriers reads what legs go through: four terminals unless named, 1 and 2 to the field
// or the line, 3 and 4 to the other side.
func (r *plantReader) barriers(n node, pl *model.Place, kind string) {
	for key, value := range r.entries(n, kind) {
		p := r.newPart(key, pl, model.KindNamed(model.BarrierKinds, kind), false)
		if p == nil {
			continue
		}
		p.Barrier = &model.Barrier{}
		b := writtenPart{p, []bind.Token{{Text: "1"}, {Text: "2"}, {Text: "3"}, {Text: "4"}}}
		if p.Kind.Diverts {
			if pl.Kind != model.Box {
				p.Barrier.Protects = model.SystemSide
			}
			surgeFields.read(r, value, "", &b)
		} else {
			barrierFields.read(r, value, "", &b)
		}
		names := b.names
		half := len(names) / 2
		for i, w := range names {
			role := model.Marking(0)
			if half == 2 {
				role = model.Marking("+-"[i%2])
			}
			if !p.AddTerminal(&model.Terminal{Name: w.Text, Role: role}) {
				r.Report(w.Wrong(finding.TerminalTwice, "%s has terminal %s already", p.Tag, w.Text))
				half = 0
			}
		}
		for i := range half {
			a, b := p.Terminals[i], p.Terminals[half+i]
			p.Through[a], p.Through[b] = b, a
		}
	}
}
