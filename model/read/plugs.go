package read

import (
	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// This file reads plugs and their receptacles.

var plugFields = fields[*model.Part]{
	{"pins", listOf(aText), asked, "spans of pins; a circuit lands on them as on the terminals of a strip", "1..12", func(r *plantReader, p *model.Part, n node) { r.pins(n, p) }, func(w *writer, p *model.Part) { w.texts(model.Spans(p.Terminals)) }},
	{"male", aWord(model.HalfWords...), "NOT GIVEN", "the half with the pins that stand out, by what lies behind it: `field` or `system`; sockets belong on the live side", "field", func(r *plantReader, p *model.Part, n node) { pick(r, n, &p.Strip.Plug.Male, model.HalfWords) }, func(w *writer, p *model.Part) { w.text(p.Strip.Plug.Male.String()) }},
	{"ohms", inOhms, "the practice", "resistance of one pin in its socket: the largest", "0.005 ohm", func(r *plantReader, p *model.Part, n node) { p.Strip.Plug.Ohms = r.ohms(n) }, func(w *writer, p *model.Part) { w.given(p.Strip.Plug.Ohms, "Ω") }},
	{"model", aText, "", "the maker's name for it", "", func(r *plantReader, p *model.Part, n node) { p.Strip.Plug.Model = r.text(n) }, func(w *writer, p *model.Part) { w.text(p.Strip.Plug.Model) }},
	{"largest", clampUnits.shape("mm2 or AWG"), "not checked", "maximum conductor size", "1.5 mm2", func(r *plantReader, p *model.Part, n node) { p.Strip.MaxSize, p.Strip.MaxGauge = r.largest(n) }, func(w *writer, p *model.Part) { w.given(p.Strip.MaxSize, "mm²") }},
	{"pitch", pitchUnits.shape("mm").listed(), "required where safety needs it", "from pin to pin", "5 mm", func(r *plantReader, p *model.Part, n node) { p.Strip.Pitch, _ = r.quantity(n, pitchUnits...) }, func(w *writer, p *model.Part) { w.given(p.Strip.Pitch, "mm") }},
	{"status", aStatus, "the place's", "`new`, `existing` or `future`", "", func(r *plantReader, p *model.Part, n node) { p.Status = r.status(n) }, func(w *writer, p *model.Part) { w.text(p.Status.String()) }},
}

func (r *plantReader) plugs(n node, pl *model.Place) {
	for key, value := range r.entries(n, "plug") {
		if p := r.newPart(key, pl, model.PlugKind, true); p != nil {
			p.Strip = &model.Strip{PerSide: 1, Plug: &model.Plug{}}
			plugFields.read(r, value, "", p)
		}
	}
}

// pins reads "1..12" or [1..7, PE].
func (r *plantReader) pins(n node, p *model.Part) {
	for _, item := range r.list(n, "pins") {
		for _, w := range r.words(item) {
			names, ok := bind.Expand(w.Text, nil)
			if !ok {
				p.Unread = true
				r.Report(w.Wrong(finding.BadTerminals, "%s is not a span of pins (1..%d pins)", finding.Quote(w.Text), bind.MostTerminals).WithHint(useSpan))
				continue
			}
			if !r.fit(p, w, names, model.Terminal{Kind: model.Pin}) {
				return
			}
		}
	}
}
