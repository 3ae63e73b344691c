package read

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// writtenCable is a cable whose type and ends are not bound yet.
type writtenCable struct {
	*model.Cable
	typ, overall, spares *node
}

var cableFields = fields[*writtenCable]{
	{"type", aName, asked, "a cable type", "24-pair", func(r *plantReader, c *writtenCable, n node) { c.typ = &n }, func(w *writer, c *writtenCable) {
		if c.Type != nil {
			w.text(c.Type.Name)
		}
	}},
	{"length", aLength, "NOT GIVEN, no ohms", "how long it is, end to end", "165 m", func(r *plantReader, c *writtenCable, n node) {
		c.Length, c.InFeet = r.metres(n, 0.0001)
	}, func(w *writer, c *writtenCable) { w.length(c.Cable) }},
	{"status", aStatus, "`new`", "existing wiring is tested too", "existing", func(r *plantReader, c *writtenCable, n node) { c.Status = r.status(n) }, func(w *writer, c *writtenCable) { w.text(c.Status.String()) }},
	{"route", aText, "", "the way it goes; on ring-out sheets", "tray T4", func(r *plantReader, c *writtenCable, n node) { c.Route = r.text(n) }, func(w *writer, c *writtenCable) { w.text(c.Route) }},
	{"from", aTag, "with `to`, by the path that it is in", "a place or a field device; one from a device serves those mounted `on` it too; home runs go from box to cabinet", "JB-21", func(r *plantReader, c *writtenCable, n node) { r.cableEnd(n, &c.From, &c.To) }, func(w *writer, c *writtenCable) { w.text(c.From.Tag()) }},
	{"to", aTag, "with `from`, by the path that it is in", "a place or a field device; one from a device serves those mounted `on` it too; home runs go from box to cabinet", "MC-2", func(r *plantReader, c *writtenCable, n node) { r.cableEnd(n, &c.To, &c.From) }, func(w *writer, c *writtenCable) { w.text(c.To.Tag()) }},
	{"glands", &shape{Type: types{"array"}, Items: aText, MinItems: 2, MaxItems: 2, words: "two texts"}, "", "at the from end and at the to end", "[G3, G1]", func(r *plantReader, c *writtenCable, n node) {
		g := r.texts(n, "gland")
		if len(g) != 2 {
			r.Report(n.wrong(finding.WrongShape, `"glands" needs two: at the from end, at the to end`))
			return
		}
		c.From.Gland, c.To.Gland = g[0], g[1]
	}, func(w *writer, c *writtenCable) { w.named("from", c.From.Gland); w.named("to", c.To.Gland) }},
	{"overall", endFields.shape(), "required for a screen round all, where no circuit has all its cores", "where the overall screen lands: `from`, `to`, each an earth bar, a strip and terminal, or `x`; the path of a circuit that has all cores may give it too, and then the same", "{from: x, to: IE}", func(r *plantReader, c *writtenCable, n node) { c.overall = &n }, conductors[*writtenCable]},
	{"spares", spareGroups(), "the practice", "pairs that no circuit uses: landed, `x` for an end that is cut back, or one word for both ends", "{pair 11: {from: x, to: X4 31..33}, pairs 12..16: coiled}", func(r *plantReader, c *writtenCable, n node) { c.spares = &n }, conductors[*writtenCable]},
}

func spareGroups() *shape {
	s := named(either(aText, endFields.shape()))
	s.Names = &shape{Pattern: "^" + gap + "(" + strings.Join(model.GroupWords[1:], "|") + ")" + gap}
	return s
}

func (r *plantReader) cables(n node) {
	for key, value := range r.entries(n, "cable") {
		c := writtenCable{Cable: &model.Cable{Pos: key.pos(), Tag: key.Value}}
		if !r.declare(key, c.Tag) {
			continue
		}
		if value.Kind == yaml.ScalarNode {
			r.shortCable(value, &c)
		} else {
			cableFields.read(r, value, "", &c)
		}
		r.plant.CableByTag[c.Tag] = c.Cable
		r.plant.Cables = append(r.plant.Cables, c.Cable)
		if value.what = key.what; c.From.Pos.Line == 0 || c.To.Pos.Line == 0 {
			r.endless = append(r.endless, endless{c.Cable, value})
		}
		r.later = append(r.later, func() {
			if c.typ != nil {
				r.cableType(c.Cable, *c.typ)
			}
			if c.overall != nil || c.spares != nil {
				r.landSpares(c.Cable, c.overall, c.spares)
			}
		})
	}
}

// typeAndLength is a cable in one text: its type, and its length where that is given.
var typeAndLength = regexp.MustCompile(`^(.*?)(?: +(\S+ *(?:m|ft|km)))?$`)

// aCable is a cable: its keys, or its type and length in one text.
var aCable = &shape{AnyOf: []*shape{defined("cable"), aText}}

// shortCable reads a cable whose type and length are one text: one-pair 18 m.
func (r *plantReader) shortCable(n node, c *writtenCable) {
	at := typeAndLength.FindStringSubmatchIndex(n.Value)
	part := func(i int, what string) node {
		word := *n.Node
		word.Value = n.Value[at[2*i]:at[2*i+1]]
		if n.src.filled == nil {
			word.Column += len([]rune(n.Value[:at[2*i]]))
		}
		return node{&word, n.src, finding.Quote(what)}
	}
	typ := part(1, "type")
	if c.typ = &typ; at[4] >= 0 {
		c.Length, c.InFeet = r.metres(part(2, "length"), 0.0001)
	}
}

// endless is a cable whose text does not say where it goes.
type endless struct {
	cable *model.Cable
	text  node
}

// endsOfPaths gives cables without from and to the ends that the first path with them has:
// from where the path comes, to where it goes on.
func (r *plantReader) endsOfPaths() {
	if len(r.endless) == 0 {
		return
	}
	runs := map[string][2]bind.Token{}
	var look func(steps []bind.PathStep, before bind.Token)
	look = func(steps []bind.PathStep, before bind.Token) {
		for i, s := range steps {
			for _, t := range s.Tails {
				look(t.Steps, before)
			}
			if len(s.Words) == 0 {
				continue
			}
			tag := s.Words[0]
			if _, known := runs[tag.Text]; !known && r.plant.CableByTag[tag.Text] != nil && i+1 < len(steps) && len(steps[i+1].Words) > 0 {
				runs[tag.Text] = [2]bind.Token{before, steps[i+1].Words[0]}
			}
			before = tag
		}
	}
	for _, w := range r.circuits {
		look(w.Steps, bind.Token{})
	}
	for _, e := range r.endless {
		run, known := runs[e.cable.Tag]
		for i, end := range []*model.CableEnd{&e.cable.From, &e.cable.To} {
			name := []string{"from", "to"}[i]
			other := []*model.CableEnd{&e.cable.To, &e.cable.From}[i]
			switch part := r.plant.PartByTag[run[i].Text]; {
			case end.Pos.Line > 0:
			case !known || part == nil || other.Pos.Line > 0 && other.Pos != e.text.pos():
				r.Report(e.text.wrong(finding.MissingKey, "%s lacks the key %s", e.text.what, finding.Quote(name)).
					WithHint(finding.Do("write from and to, or neither where a path goes by the cable")))
			case part.Place != nil:
				end.Place, end.Pos = part.Place, e.text.pos()
			default:
				end.Part, end.Pos = part, e.text.pos()
			}
		}
	}
}

var lengthUnits = units{{"m", "m"}, {"ft", "ft"}, {"km", "km"}}

// metres reads a length from least to 100 km, to a tenth of a millimetre, and
// whether it was written in feet.
func (r *plantReader) metres(n node, least float64) (v float64, feet bool) {
	v, u := r.quantity(n, lengthUnits...)
	if u == "" {
		return 0, false
	}
	v, _ = model.Convert(v, u, "m")
	if v = math.Round(v*1e4) / 1e4; v < least || v > 100_000 {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be from %s m to 100 km, not %s", n.what, model.Plain(least), finding.Quote(n.Value)))
		return 0, false
	}
	return v, u == "ft"
}

// cableType gives a cable its cores.
func (r *plantReader) cableType(c *model.Cable, n node) {
	name := r.text(n)
	t := r.plant.TypeByName[name]
	if t == nil {
		if name != "" {
			r.Report(n.wrong(finding.UnknownType, "%s is not a cable type", finding.Quote(name)).WithHint(bind.TagLists(r.plant).Type(name)))
		}
		return
	}
	if !r.ends(n.pos(), t.Groups*t.Size) {
		return
	}
	c.Type = t
	number := 0
	for g := 1; g <= t.Groups; g++ {
		colours := t.Colours(g)
		for i := 1; i <= t.Size; i++ {
			number++
			core := &model.Core{Cable: c, Group: g, N: i, Number: number}
			if i <= len(colours) {
				core.Colour = colours[i-1]
			}
			c.Cores = append(c.Cores, core)
		}
		if t.Screen&model.EachScreen != 0 {
			c.Screens = append(c.Screens, &model.Core{Cable: c, Group: g})
		}
	}
	if t.Screen&model.OverallScreen != 0 {
		c.Overall = &model.Core{Cable: c}
	}
}

// cableEnd remembers where a cable goes; it is bound once all is declared.
func (r *plantReader) cableEnd(n node, e, other *model.CableEnd) {
	s := r.text(n)
	e.Pos = n.pos()
	if s == "" {
		return
	}
	r.later = append(r.later, func() {
		if e.Place = r.plant.PlaceByTag[s]; e.Place != nil {
			return
		}
		if e.Part = r.plant.PartByTag[s]; e.Part != nil {
			if e.Part.Place != nil {
				e.Place, e.Part = e.Part.Place, nil
			}
			return
		}
		r.fitted = append(r.fitted, func() { // once the other end is known too
			r.Report(n.wrong(finding.UnknownTag, "no place or device is tagged %s", s).WithHint(bind.TagLists(r.plant).End(s, other.Tag())))
		})
	})
}

// landSpares reads where spare pairs and the overall screen of a cable land:
//
//	overall: {from: x, to: IE}
//	spares:  {pair 11: {from: X1 31 32 33, to: X4 31 32 33}, pair 12: coiled}
func (r *plantReader) landSpares(c *model.Cable, overall, spares *node) {
	if c.Type == nil {
		return
	}
	if overall != nil {
		if from, to, ok := r.twoEnds(*overall, c, []*model.Core{c.Overall}); !ok {
		} else if lands := from[0].Terminal != nil || to[0].Terminal != nil; c.Overall == nil && lands {
			r.Report(overall.wrong(finding.NoOverallScreen, "cable type %q has no overall screen", c.Type.Name).
				WithHint(finding.Do(`give the type "screen: %s" if it has one, else land it nowhere: {from: x, to: x}`, screenWords[c.Type.Screen|model.OverallScreen])))
		} else if c.Overall != nil {
			c.Landing = &model.Conductor{Pos: overall.pos(), Core: c.Overall, Screen: true, Status: c.Status, From: from[0], To: to[0]}
		}
	}
	if spares == nil {
		return
	}
	for key, value := range r.entries(*spares, "spare") {
		cores := spareGroupsOf(c, key.Value)
		if cores == nil {
			c.Unread = true
			r.Report(key.wrong(finding.UnknownCore, "%s is not a %s of %s", finding.Quote(key.Value), c.Type.GroupWord(), c.Tag).
				WithHint(bind.UseGroup(c)))
			continue
		}
		if value.Kind == yaml.ScalarNode {
			how := r.text(value)
			for _, core := range cores {
				r.add(&model.Conductor{Pos: key.pos(), Core: core, Colour: core.Colour, Screen: core.IsScreen(), Spare: how, Status: c.Status,
					From: model.End{Free: how, At: c.From.Tag()}, To: model.End{Free: how, At: c.To.Tag()}})
			}
			continue
		}
		from, to, ok := r.twoEnds(value, c, cores)
		if !ok {
			c.Unread = true
			continue
		}
		for i, core := range cores {
			r.add(&model.Conductor{Pos: key.pos(), Core: core, Colour: core.Colour, Screen: core.IsScreen(), Spare: "landed", Status: c.Status, From: from[i], To: to[i]})
		}
	}
}

// writtenEnds are the two ends of cores and screens of a cable.
type writtenEnds struct {
	cable    *model.Cable
	cores    []*model.Core
	from, to []model.End
}

var endFields = fields[*writtenEnds]{
	{"from", aText, asked, "strip and terminals at the from end, of a screen that lands elsewhere an earth bar or `STRIP:TERMINAL`; an earth bar for one screen, or `x` for cut back", "X1 31 32 X9:4", func(r *plantReader, e *writtenEnds, n node) {
		e.from = r.oneEnd(n, e.cable.From, e.cores, model.FieldSide)
	}, conductors[*writtenEnds]},
	{"to", aText, asked, "the same at the to end", "X4 31 32 33", func(r *plantReader, e *writtenEnds, n node) {
		e.to = r.oneEnd(n, e.cable.To, e.cores, model.FieldSide)
	}, conductors[*writtenEnds]},
}

// spareGroupsOf are the cores and screens of "pair 11" or "pairs 21..24", group by
// group; nil where the cable has no such groups.
func spareGroupsOf(c *model.Cable, name string) []*model.Core {
	ws := strings.Fields(name)
	if len(ws) != 2 || strings.TrimSuffix(ws[0], "s") != string(c.Type.GroupWord()) {
		return nil
	}
	numbers, _ := bind.Expand(ws[1], nil)
	var all []*model.Core
	for _, s := range numbers {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > c.Type.Groups {
			return nil
		}
		all = append(all, c.Cores[(n-1)*c.Type.Size:n*c.Type.Size]...)
		if len(c.Screens) > 0 {
			all = append(all, c.Screens[n-1])
		}
	}
	return all
}

// twoEnds reads {from: X1 31 32 33, to: x} for cores and screens of a cable.
func (r *plantReader) twoEnds(n node, c *model.Cable, cores []*model.Core) (from, to []model.End, ok bool) {
	e := writtenEnds{cable: c, cores: cores}
	endFields.read(r, n, "the ends of "+n.what, &e)
	from, to = e.from, e.to
	if len(from) == len(cores) {
		for i := range from {
			from[i].Side = model.SystemSide
		}
	}
	return from, to, len(from) == len(cores) && len(to) == len(cores)
}

// oneEnd reads where cores and screens land at one end of a cable: "X1 31 32 33" or "X1
// 31..33", of a screen "X3:4" or an earth bar too; an earth bar for one screen, or x for
// cut back.
func (r *plantReader) oneEnd(n node, at model.CableEnd, cores []*model.Core, side model.Side) []model.End {
	var ws []bind.Token
	for _, w := range r.words(n) {
		names, ok := bind.Expand(w.Text, nil)
		if !ok {
			names = []string{w.Text}
		}
		for _, s := range names {
			ws = append(ws, bind.Token{Text: s, Pos: w.Pos})
		}
	}
	if len(ws) == 0 {
		return nil
	}
	if len(ws) == 1 && ws[0].Text == "x" {
		ends := make([]model.End, len(cores))
		for i := range ends {
			ends[i] = model.End{Free: model.CutBack, At: at.Tag()}
		}
		return ends
	}
	part := r.plant.PartByTag[at.Tag()+"/"+ws[0].Text]
	if part == nil {
		part = r.plant.PartByTag[ws[0].Text]
	}
	if part == nil || part.Where() != at.Tag() {
		p := ws[0].Wrong(finding.UnknownStrip, "%s has no strip or earth bar %s", at.Tag(), ws[0].Text)
		if len(ws) == 1 {
			p.Hint = finding.Do("use x for an end that is cut back; one word for both ends, in place of from and to; or a strip and its terminals")
		}
		r.Report(p)
		return nil
	}
	if part.Kind.Bar && len(ws) == 1 && len(cores) == 1 {
		return []model.End{{Terminal: part.Terminals[0], Side: side}}
	}
	if len(ws)-1 != len(cores) {
		r.Report(n.wrong(finding.TerminalsMismatch, "terminals named: %d, cores: %d", len(ws)-1, len(cores)))
		return nil
	}
	var ends []model.End
	for i, w := range ws[1:] {
		if w.Text == "x" {
			ends = append(ends, model.End{Free: model.CutBack, At: at.Tag()})
			continue
		}
		t := r.spareTerminal(part, w, cores[i] == nil || cores[i].IsScreen()) // nil: a screen that the type has not
		if t == nil {
			return nil
		}
		ends = append(ends, model.End{Terminal: t, Side: side})
	}
	return ends
}

// spareTerminal is the terminal of a strip that a word names, of a screen also one of
// another strip there, such as X3:4, or an earth bar; nil for none, which is reported.
func (r *plantReader) spareTerminal(part *model.Part, w bind.Token, screen bool) *model.Terminal {
	if t := part.TerminalByName[w.Text]; t != nil {
		return t
	}
	strip, name, apart := strings.Cut(w.Text, ":")
	other := r.plant.PartByTag[part.Where()+"/"+strip]
	switch {
	case !screen || other == nil && !apart:
		r.noTerminal(part, w, w.Text)
	case other == nil:
		r.Report(w.Wrong(finding.UnknownStrip, "%s has no strip %s", part.Where(), strip))
	case !apart && other.Kind.Bar:
		return other.Terminals[0]
	case other.TerminalByName[name] == nil:
		r.noTerminal(other, w, name)
	default:
		return other.TerminalByName[name]
	}
	return nil
}
