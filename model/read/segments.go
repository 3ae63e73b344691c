package read

import (
	"slices"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// mostAddress is the highest address of a device on a segment: one byte.
const mostAddress = 255

// segmentFields are what a segment has besides the keys of a loop.
var segmentFields = slices.Concat(fields[*model.Loop]{
	{"kind", aWord(model.SegmentKindNames()...), asked, "`powered bus` (IEC 61158-2 type 1), `serial link` (TIA-485) or `multidrop line` (HART): its devices are fixed at one current, 4 mA unless they say what they draw, and its master listens across the `ohms` of its supply, or of the port that powers it", "powered bus", func(r *plantReader, l *model.Loop, n node) {
		if k := model.SegmentKindNamed(r.oneOf(n, model.SegmentKindNames()...)); k != nil {
			l.Segment.Kind = k
		}
	}, func(w *writer, l *model.Loop) { w.text(l.Segment.Kind.Name) }},
	{"terminators", listOf(aText), "none", "where they are fitted: a part with one built in, such as a coupler or supply, or two terminals", "[PS-31, JB-33/X1 7 8]", func(r *plantReader, l *model.Loop, n node) {
		for _, item := range r.list(n, "terminator") {
			if ws := r.words(item); len(ws) > 0 {
				r.fitted = append(r.fitted, func() { r.terminator(l, ws) })
			}
		}
	}, func(w *writer, l *model.Loop) { w.texts(texts(l.Segment.Terminators, model.Terminator.Tag)) }},
	{"bias at", aText, "NOT GIVEN", "of a serial link: the part on the pair that holds it at a mark while nobody sends", "SL-1", func(r *plantReader, l *model.Loop, n node) {
		r.fitted = append(r.fitted, func() { r.bias(l, n) })
	}, func(w *writer, l *model.Loop) {
		if t := l.Segment.Bias.At; t != nil {
			w.text(t.Part.Tag)
		} else {
			w.text("")
		}
	}},
	{"last address", aCount(1, mostAddress), "15 of a multidrop line", "the highest that its devices may have, and the most devices: 15 up to revision 5 of HART, 63 from revision 6 on", "63", func(r *plantReader, l *model.Loop, n node) {
		l.Segment.LastAddress = r.whole(n, 1, mostAddress)
		r.fitted = append(r.fitted, func() {
			if k := l.Segment.Kind; k != model.UnknownSegment && k.Addresses == 0 {
				r.Report(n.wrong(finding.UnusedFact, "last address of %s not used: a %s has none of its own", l.Tag, k.Name))
				l.Segment.LastAddress = 0
			}
		})
	}, func(w *writer, l *model.Loop) { w.count(l.Segment.LastAddress) }},
	{"bias ohms", inOhms, "NOT GIVEN", "each of its two resistors", "560 ohm", func(r *plantReader, l *model.Loop, n node) { l.Segment.Bias.Ohms = r.ohms(n) }, func(w *writer, l *model.Loop) { w.given(l.Segment.Bias.Ohms, "Ω") }},
	{"bias volts", inVolts, "NOT GIVEN", "the least that they are fed with", "4.75 V", func(r *plantReader, l *model.Loop, n node) { l.Segment.Bias.Volts = r.volts(n) }, func(w *writer, l *model.Loop) { w.given(l.Segment.Bias.Volts, "V") }},
}, loopFields)

// bias binds the part that has the resistors of a bias.
func (r *plantReader) bias(l *model.Loop, n node) {
	tag := r.text(n)
	part := r.plant.PartByTag[tag]
	if part == nil {
		r.Report(n.wrong(finding.UnknownTag, "nothing is tagged %s", tag).WithHint(bind.TagLists(r.plant).Station(tag)))
		return
	}
	if k := l.Segment.Kind; k != model.UnknownSegment && k.Idle == 0 {
		r.Report(n.wrong(finding.UnusedFact, "bias of %s not used: a %s has none", l.Tag, k.Name))
		return
	}
	if l.Segment.Bias.At = onPair(l, part); l.Segment.Bias.At == nil && !slices.ContainsFunc(l.Circuits, func(c *model.Circuit) bool { return c.Broken }) {
		r.Report(n.wrong(finding.BiasAway, "bias at %s: no circuit of segment %s lands there", tag, l.Tag).WithHint(finding.Do("name a part that its pair lands on")))
	}
}

func (r *plantReader) segments(n node) {
	for key, value := range r.entries(n, "segment") {
		if l := r.newLoop(key); l != nil {
			l.Segment = &model.Segment{Kind: model.UnknownSegment}
			segmentFields.read(r, value, "", l)
		}
	}
}

// terminator binds "PS-31", or "JB-33/X1 7 8".
func (r *plantReader) terminator(l *model.Loop, ws []bind.Token) {
	part := r.plant.PartByTag[ws[0].Text]
	if part == nil {
		r.Report(ws[0].Wrong(finding.UnknownTag, "nothing is tagged %s", ws[0].Text).WithHint(bind.TagLists(r.plant).Station(ws[0].Text)))
		return
	}
	t := model.Terminator{Pos: ws[0].Pos}
	switch len(ws) {
	case 1:
		t.At = onPair(l, part)
	case 3:
		t.At, t.To = part.TerminalByName[ws[1].Text], part.TerminalByName[ws[2].Text]
		for i, x := range []*model.Terminal{t.At, t.To} {
			if x == nil {
				r.noTerminal(part, ws[i+1], ws[i+1].Text)
				return
			}
		}
	default:
		r.Report(ws[0].Wrong(finding.TerminalsMismatch, "a terminator lies across two terminals, not %d", len(ws)-1).WithHint(finding.Do("name two terminals, or only the part that has it built in")))
		return
	}
	if t.At == nil {
		if !slices.ContainsFunc(l.Circuits, func(c *model.Circuit) bool { return c.Broken }) {
			r.Report(ws[0].Wrong(finding.TerminatorAway, "terminator at %s: no circuit of segment %s lands there", part.Tag, l.Tag).WithHint(finding.Do("name a part that its pair lands on")))
		}
		return
	}
	if l.Segment.Terminators = append(l.Segment.Terminators, t); t.To != nil {
		t.At.Ended, t.To.Ended = l, l
	}
}

// onPair is the first terminal of a part that a circuit of the segment lands on; nil
// where none does.
func onPair(l *model.Loop, part *model.Part) *model.Terminal {
	for _, c := range l.Circuits {
		for _, st := range c.Stations() {
			if st.Part != part {
				continue
			}
			for _, x := range st.Terminations {
				if x.In != nil {
					return x.In
				}
			}
		}
	}
	return nil
}
