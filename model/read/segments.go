package read

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// mostAddress is the highest address of a device on a segment: one byte.
const mostAddress = 255

// segmentFields are what a segment has besides the keys of a loop.
var segmentFields = slices.Concat(fields[*model.Loop]{
	{"kind", aWord(model.SegmentKindNames()...), asked, "`powered bus` (IEC 61158-2 type 1), `serial link` (TIA-485) or `multidrop line` (HART): its devices are fixed at one current, 4 mA unless they say what they draw, and its master listens across the `ohms` of its supply, or of the port that powers it; `Ethernet link` or `fibre link`: a link by plugs, which has `ends` and no circuits", "powered bus", func(r *plantReader, l *model.Loop, n node) {
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
			if k := l.Segment.Kind; k != model.UnknownSegment && k.Addresses == 0 && !k.Plugged {
				r.Report(n.wrong(finding.UnusedFact, "last address of %s not used: a %s has none of its own", l.Tag, k.Name))
				l.Segment.LastAddress = 0
			}
		})
	}, func(w *writer, l *model.Loop) { w.count(l.Segment.LastAddress) }},
	{"bias ohms", inOhms, "NOT GIVEN", "each of its two resistors", "560 ohm", func(r *plantReader, l *model.Loop, n node) { l.Segment.Bias.Ohms = r.ohms(n) }, func(w *writer, l *model.Loop) { w.given(l.Segment.Bias.Ohms, "Ω") }},
	{"bias volts", inVolts, "NOT GIVEN", "the least that they are fed with", "4.75 V", func(r *plantReader, l *model.Loop, n node) { l.Segment.Bias.Volts = r.volts(n) }, func(w *writer, l *model.Loop) { w.given(l.Segment.Bias.Volts, "V") }},
}, plugFieldsOfLink, loopFields)

var lossUnits = units{{"dB", "dB"}}

// plugFieldsOfLink are what only a link by plugs has.
var plugFieldsOfLink = fields[*model.Loop]{
	{"ends", listOf(aText).called("two texts"), "required of a link by plugs", "the place at each end of a link by plugs, and its port there in words", "[RC-40 port 1, PCS-1 port A3]", func(r *plantReader, l *model.Loop, n node) {
		r.seats = append(r.seats, func() { r.linkEnds(l, n) })
	}, func(w *writer, l *model.Loop) { w.texts(texts(l.Segment.Plug.Ends, model.LinkEnd.Tag)) }},
	{"cable", aTag, "NOT GIVEN", "of a link by plugs: the tag of its cable, which is its own and not among `cables`; links may share it", "F-401", ofPlug((*plantReader).linkCable), func(w *writer, l *model.Loop) { w.text(l.Segment.Plug.Cable) }},
	{"fibres", aText, "NOT GIVEN", "of a fibre link: which fibres of its cable", "1 2", ofGlass(func(r *plantReader, k *model.PlugLink, n node) { k.Fibres = r.text(n) }), func(w *writer, l *model.Loop) { w.text(l.Segment.Plug.Fibres) }},
	{"length", aLength, "NOT GIVEN", "of a link by plugs: from port to port, patch leads and all", "250 m", ofPlug(func(r *plantReader, k *model.PlugLink, n node) { k.Length, k.InFeet = r.metres(n, 0) }), func(w *writer, l *model.Loop) { w.text(l.Segment.Plug.LengthWords()) }},
	{"route", aText, "NOT GIVEN", "of a link by plugs: the way that its cable goes", "tray T4", ofPlug(func(r *plantReader, k *model.PlugLink, n node) { k.Route = r.text(n) }), func(w *writer, l *model.Loop) { w.text(l.Segment.Plug.Route) }},
	{"longest", aLength, "100 m of an Ethernet link, else NOT GIVEN", "of a link by plugs: how long the makers of its ports allow it to be", "2 km", ofPlug(func(r *plantReader, k *model.PlugLink, n node) { k.Longest, _ = r.metres(n, 0) }), func(w *writer, l *model.Loop) { w.given(l.Segment.Plug.Longest, "m") }},
	{"loss limit", lossUnits.shape("dB"), "NOT GIVEN", "of a fibre link: the most that each fibre may lose from plug to plug", "6.5 dB", ofGlass(func(r *plantReader, k *model.PlugLink, n node) {
		v, u := r.quantity(n, lossUnits...)
		k.Loss = r.something(n, v, u)
	}), func(w *writer, l *model.Loop) { w.given(l.Segment.Plug.Loss, "dB") }},
}

// ofPlug reads a key into what only a link by plugs has; of another kind of segment it is
// not used.
func ofPlug(read func(*plantReader, *model.PlugLink, node)) func(*plantReader, *model.Loop, node) {
	return ofKinds(read, func(k *model.SegmentKind) bool { return k.Plugged }, "link by plugs")
}

// ofGlass reads likewise what only a fibre link has.
func ofGlass(read func(*plantReader, *model.PlugLink, node)) func(*plantReader, *model.Loop, node) {
	return ofKinds(read, func(k *model.SegmentKind) bool { return k.Glass }, "fibre link")
}

func ofKinds(read func(*plantReader, *model.PlugLink, node), has func(*model.SegmentKind) bool, what string) func(*plantReader, *model.Loop, node) {
	return func(r *plantReader, l *model.Loop, n node) {
		read(r, &l.Segment.Plug, n)
		r.fitted = append(r.fitted, func() {
			if k := l.Segment.Kind; k != model.UnknownSegment && !has(k) {
				r.Report(n.wrong(finding.UnusedFact, "%s of %s not used: it is no %s", n.what, l.Tag, what).WithHint(finding.Do("take the key out, or say another kind")))
			}
		})
	}
}

// linkCable reads the tag of the cable of a link, which is no other thing's.
func (r *plantReader) linkCable(k *model.PlugLink, n node) {
	k.Cable = r.text(n)
	r.fitted = append(r.fitted, func() { // once all is declared
		if first, ok := r.declared[k.Cable]; ok {
			r.Report(n.wrong(finding.TagTwice, "%s is the tag of something else; the cable of a link has its own", finding.Quote(k.Cable)).WithAlso(first, "described here"))
		}
	})
}

// linkEnds binds the two ends of a link by plugs.
func (r *plantReader) linkEnds(l *model.Loop, n node) {
	items := r.list(n, "end")
	for _, item := range items {
		ws := r.words(item)
		if len(ws) == 0 {
			continue
		}
		at := r.plant.PlaceByTag[ws[0].Text]
		if at == nil {
			r.Report(ws[0].Wrong(finding.UnknownTag, "no box, cabinet, panel or system is tagged %s", ws[0].Text).WithHint(bind.TagLists(r.plant).Place(ws[0].Text)))
			continue
		}
		e := model.LinkEnd{Pos: item.pos(), Place: at}
		e.Port = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(item.Value), ws[0].Text))
		l.Segment.Plug.Ends = append(l.Segment.Plug.Ends, e)
	}
	if len(items) != 2 && l.Segment.Kind.Plugged {
		r.Report(n.wrong(finding.TerminalsMismatch, "link %s has %s, not 2", l.Tag, finding.Count(len(items), "end")).WithHint(finding.Do("name the place and port at each of its two ends")))
	}
}

// bias binds the part that has the resistors of a bias.
func (r *plantReader) bias(l *model.Loop, n node) {
	tag := r.text(n)
	part := r.plant.PartByTag[tag]
	if l.Plugged() { // told: see plugged
		return
	}
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
			r.plugged(l, value)
		}
	}
}

// wired are keys of what no link by plugs has, for it has no cores to land; of a link whose
// ends are plugs nothing uses those that are of a pair.
var (
	wired  = []string{"devices", "functions", "circuits"}
	paired = []string{"terminators", "bias at", "bias ohms", "bias volts", "last address"}
)

// plugged reports what a link by plugs lacks, and what no such link has.
func (r *plantReader) plugged(l *model.Loop, n node) {
	if !l.Plugged() {
		return
	}
	ends := false
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := node{n.Content[i], n.src, n.what}
		other := finding.Do("take the key out, or say another kind")
		switch ends = ends || key.Value == "ends"; {
		case slices.Contains(wired, key.Value):
			r.Report(key.wrong(finding.WiredLink, "%s has %s: a link by plugs has none", l.Tag, key.Value).WithHint(other))
		case slices.Contains(paired, key.Value):
			r.Report(key.wrong(finding.UnusedFact, "%s of %s not used: a link by plugs has none", finding.Quote(key.Value), l.Tag).WithHint(other))
		}
	}
	if !ends {
		r.Report(n.wrong(finding.MissingKey, "%s lacks the key %s", n.what, finding.Quote("ends")).WithHint(finding.Do("name the place and port at each of its two ends")))
	}
}

// terminator binds "PS-31", or "JB-33/X1 7 8".
func (r *plantReader) terminator(l *model.Loop, ws []bind.Token) {
	part := r.plant.PartByTag[ws[0].Text]
	if l.Plugged() { // told: see plugged
		return
	}
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
