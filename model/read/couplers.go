package read

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// couplerFields are the keys of a coupler: its own, and those of a strip that is no board.
var couplerFields = slices.Concat(ownCouplerFields, slices.DeleteFunc(slices.Clone(stripFields), func(f field[*writtenStrip]) bool { return f.name == "grid" }))

var ownCouplerFields = fields[*writtenStrip]{
	{"kind", aWord(model.KindNames(model.CouplerKinds)...), asked, "`spur protector`, or `field barrier` whose spurs are intrinsically safe", "spur protector", func(r *plantReader, s *writtenStrip, n node) {
		if k := model.KindNamed(model.CouplerKinds, r.oneOf(n, model.KindNames(model.CouplerKinds)...)); k != nil {
			s.Kind = k
		}
	}, func(w *writer, s *writtenStrip) { w.text(s.Kind.Name) }},
	{"spurs", listOf(aText), asked, "terminals of each spur, one item a spur; the others are of the trunk", "[7..9, 10..12]", func(r *plantReader, s *writtenStrip, n node) { s.spurs = &n }, func(w *writer, s *writtenStrip) { w.spurs(s.Coupler.Spurs) }},
	{"limit", inMilliamps, "NOT GIVEN", "current that each spur is held to, in a short too", "45 mA", func(r *plantReader, s *writtenStrip, n node) { s.Coupler.Limit = r.milliamps(n) }, func(w *writer, s *writtenStrip) { w.given(s.Coupler.Limit, "mA") }},
	{"drop", inVolts, "NOT GIVEN", "voltage between trunk and spur", "1.2 V", func(r *plantReader, s *writtenStrip, n node) { s.Coupler.Drop = r.drop(n) }, func(w *writer, s *writtenStrip) { w.given(s.Coupler.Drop, "V") }},
	{"draws", inMilliamps, "NOT GIVEN", "current that the coupler itself takes from the trunk", "5 mA", func(r *plantReader, s *writtenStrip, n node) { s.Coupler.Draws = r.milliamps(n) }, func(w *writer, s *writtenStrip) { w.given(s.Coupler.Draws, "mA") }},
	{"model", aText, "", "the maker's name for it", "", func(r *plantReader, s *writtenStrip, n node) { s.Coupler.Model = r.text(n) }, func(w *writer, s *writtenStrip) { w.text(s.Coupler.Model) }},
	{"entity", sourceEntityFields.shape(), "NOT GIVEN", "safety values of each spur of a field barrier: `Uo`, `Io`, `Po`, `Co`, `Lo`, `Lo/Ro`, `group`", "{Uo: 17 V, Io: 200 mA, Po: 1000 mW, Co: 300 nF, Lo: 0.3 mH, group: IIC}", func(r *plantReader, s *writtenStrip, n node) {
		s.Coupler.Entity = r.entity(n, sourceEntityFields)
	}, func(w *writer, s *writtenStrip) { w.entity(s.Coupler.Entity, sourceEntityFields) }},
}

// spurs writes the terminals of each spur as one item.
func (w *writer) spurs(all [][]*model.Terminal) { w.jumpers(all) }

// couplers reads them: strips whose terminals electronics join.
func (r *plantReader) couplers(n node, pl *model.Place) {
	for key, value := range r.entries(n, "coupler") {
		s := writtenStrip{Part: r.newPart(key, pl, model.UnknownKind, true)}
		if s.Part == nil {
			continue
		}
		s.Strip, s.Coupler = &model.Strip{PerSide: 1}, &model.Coupler{}
		couplerFields.read(r, value, "", &s)
		r.joined(&s)
		if s.spurs != nil {
			r.spurs(*s.spurs, s.Part)
		}
		if e := s.Coupler.Entity; e.Given && s.Kind != model.UnknownKind && !s.Kind.Guards {
			r.Report(finding.At(e.Pos, finding.UnusedFact, "entity of %s not used: the spurs of a %s are not intrinsically safe", s.Tag, s.Kind.Name))
		}
	}
}

// spurs reads the terminals of each spur: one + and one -, and what screens land on.
func (r *plantReader) spurs(n node, p *model.Part) {
	for _, item := range r.list(n, "spur") {
		all := r.span(item, p)
		if len(all) == 0 {
			continue // told
		}
		poles := map[model.Marking]int{}
		for _, t := range all {
			if poles[t.Role]++; t.Spur() > 0 {
				r.Report(item.wrong(finding.TerminalTwice, "terminal %s of %s is of spur %d already", t.Name, p.Tag, t.Spur()))
				return
			}
		}
		if poles['+'] != 1 || poles['-'] != 1 {
			r.Report(item.wrong(finding.TerminalsMismatch, "a spur of %s has %d terminals + and %d -; one of each wanted", p.Tag, poles['+'], poles['-']).
				WithHint(finding.Do("mark the terminals of %s: marks: + - S", p.Tag)))
			return
		}
		p.Coupler.Spurs = append(p.Coupler.Spurs, all)
	}
}
