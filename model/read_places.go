package model

import (
	"fmt"
	"slices"
	"strings"
)

func (r *plantReader) placesOf(n node, kind PlaceKind) {
	for key, value := range r.entries(n, kind.String()) {
		pl := &Place{Pos: key.pos(), Tag: key.Value, Kind: kind}
		if !r.declare(key, pl.Tag) {
			continue
		}
		r.plant.places[pl.Tag] = pl
		r.plant.Places = append(r.plant.Places, pl)
		r.fields(value, "",
			field{"at", false, func(n node) { pl.At = r.text(n) }},
			field{"status", false, func(n node) { pl.Status = r.status(n) }},
			field{"wire", false, func(n node) { r.insideWire(n, pl) }},
			field{"strips", false, func(n node) { r.strips(n, pl) }},
			field{"earths", false, func(n node) { r.earths(n, pl) }},
			field{"cards", false, func(n node) { r.cards(n, pl) }},
			field{"barriers", false, func(n node) { r.barriers(n, pl, "barrier") }},
			field{"isolators", false, func(n node) { r.barriers(n, pl, "isolator") }},
			field{"supplies", false, func(n node) { r.supplies(n, pl) }},
			field{"feeds", false, func(n node) { r.later = append(r.later, func() { r.feeds(n, pl) }) }},
		)
	}
}

// insideWire reads "0.75 mm2 BU": the wires inside a place.
func (r *plantReader) insideWire(n node, pl *Place) {
	s := r.text(n)
	size := s
	if i := strings.LastIndexByte(s, ' '); i > 0 {
		if c, ok := ParseColour(s[i+1:]); ok {
			pl.Colour, size = c, s[:i]
		}
	}
	c, err := ParseCopper(size)
	if err != nil && s != "" {
		r.report(n.wrong("bad-conductor", "%v", err).hint("0.75 mm2 BU"))
	}
	pl.Copper = c
}

// newPart declares a part in a place; the tag of a strip or bar is PLACE/NAME.
func (r *plantReader) newPart(key node, pl *Place, kind *Kind, within bool) *Part {
	tag := key.Value
	if within {
		tag = pl.Tag + "/" + tag
	}
	if !r.declare(key, tag) {
		return nil
	}
	p := &Part{Pos: key.pos(), Tag: tag, Kind: kind, Place: pl, Status: pl.Status, Through: map[*Terminal]*Terminal{}, terminals: map[string]*Terminal{}}
	r.plant.parts[tag] = p
	pl.Parts = append(pl.Parts, p)
	return p
}

// addTerminal appends a terminal to a part; false when it has that name already.
func (p *Part) addTerminal(t *Terminal) bool {
	if p.terminals[t.Name] != nil {
		return false
	}
	t.Part, t.Index = p, len(p.Terminals)
	p.Terminals = append(p.Terminals, t)
	p.terminals[t.Name] = t
	return true
}

var terminalKindOf = map[string]TerminalKind{
	"fused": Fused, "disconnect": Disconnect, "diode": Diode, "earth": EarthFoot, "feed-through": FeedThrough,
}

func (r *plantReader) strips(n node, pl *Place) {
	for key, value := range r.entries(n, "strip") {
		p := r.newPart(key, pl, stripKind, true)
		if p == nil {
			continue
		}
		p.Strip = &Strip{PerSide: 1}
		var jumpers, bonded, marks *node
		r.fields(value, "",
			field{"terminals", true, func(n node) {
				for _, item := range r.list(n, "terminals") {
					r.terminals(item, p)
				}
			}},
			field{"marks", false, func(n node) { marks = &n }},
			field{"jumpers", false, func(n node) { jumpers = &n }},
			field{"bonded", false, func(n node) { bonded = &n }},
			field{"largest", false, func(n node) { p.Strip.MaxSize, _ = r.quantity(n, unit{"mm2", ""}, unit{"mm²", ""}) }},
			field{"conductors", false, func(n node) { p.Strip.PerSide = r.whole(n, 1, 4) }},
			field{"rail", false, func(n node) { p.Strip.Rail = r.text(n) }},
			field{"status", false, func(n node) { p.Status = r.status(n) }},
		)
		if marks != nil {
			r.marks(*marks, p)
		}
		if jumpers != nil {
			for _, item := range r.list(*jumpers, "jumper") {
				if g := r.span(item, p); len(g) > 1 {
					p.Jumpers = append(p.Jumpers, g)
				} else if len(g) == 1 {
					r.report(item.wrong("short-jumper", "a jumper joins at least two terminals"))
				}
			}
		}
		if bonded != nil {
			r.later = append(r.later, func() { r.bonded(*bonded, p) })
		}
	}
}

// terminals reads one line of terminals: "1..72", "F1..F8 fused 2 A",
// "1..12 decks A B", "PE earth".
func (r *plantReader) terminals(n node, p *Part) {
	ws := r.words(n)
	if len(ws) == 0 {
		return
	}
	kind, fuse := FeedThrough, ""
	var decks []string
	rest := ws[1:]
	for len(rest) > 0 {
		w := rest[0]
		rest = rest[1:]
		if w.text == "decks" {
			for _, d := range rest {
				decks = append(decks, d.text)
			}
			if len(decks) < 2 {
				r.report(Problem{Code: "bad-terminals", Pos: w.pos, Len: w.len(), Text: "two or more decks have to be named", Hint: "1..12 decks A B"})
				return
			}
			break
		}
		k, ok := terminalKindOf[w.text]
		if !ok {
			p := Problem{Code: "unknown-word", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s is not a kind of terminal", quote(w.text))}
			p.Hint = nearest(w.text, append(sortedKeys(terminalKindOf), "decks"))
			r.report(p)
			return
		}
		kind = k
		if kind == Fused {
			var parts []string
			for len(rest) > 0 && rest[0].text != "decks" {
				parts = append(parts, rest[0].text)
				rest = rest[1:]
			}
			fuse = strings.Join(parts, " ")
		}
	}
	names, ok := expand(ws[0].text, decks)
	if !ok {
		r.report(Problem{Code: "bad-terminals", Pos: ws[0].pos, Len: ws[0].len(), Text: fmt.Sprintf("%s is not a span of terminals", quote(ws[0].text)), Hint: "1..24 or F1..F8"})
		return
	}
	for _, name := range names {
		if !p.addTerminal(&Terminal{Name: name, Kind: kind, Fuse: fuse}) {
			r.report(Problem{Code: "terminal-twice", Pos: ws[0].pos, Len: ws[0].len(), Text: fmt.Sprintf("%s has terminal %s already", p.Tag, name)})
			return
		}
	}
}

// marks reads "+ - S", which repeats over the terminals of a strip.
func (r *plantReader) marks(n node, p *Part) {
	ws := r.words(n)
	for _, w := range ws {
		if !slices.Contains([]string{"+", "-", "S", "."}, w.text) {
			r.report(Problem{Code: "unknown-word", Pos: w.pos, Len: w.len(), Text: quote(w.text) + " is not a mark of a terminal", Hint: "+ - S or ."})
			return
		}
	}
	for i, t := range p.Terminals {
		if len(ws) > 0 && ws[i%len(ws)].text != "." {
			t.Role = Role(ws[i%len(ws)].text[0])
			p.Strip.HasSigns = true
		}
	}
}

// span reads a list of terminals of p in one text: "3 6 9", "1..8", or
// "3..72 step 3".
func (r *plantReader) span(n node, p *Part) []*Terminal {
	ws := r.words(n)
	var all []*Terminal
	for i := 0; i < len(ws); i++ {
		w := ws[i]
		names, ok := expand(w.text, nil)
		if !ok {
			r.report(Problem{Code: "bad-terminals", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s is not a span of terminals", quote(w.text)), Hint: "1..8, or 3..72 step 3"})
			return nil
		}
		step := 1
		if i+2 < len(ws) && ws[i+1].text == "step" {
			_, n, ok := counted(ws[i+2].text)
			if !ok || n < 1 {
				r.report(Problem{Code: "bad-number", Pos: ws[i+2].pos, Len: ws[i+2].len(), Text: "a step has to be a whole number"})
				return nil
			}
			step = n
			i += 2
		}
		for k := 0; k < len(names); k += step {
			t := p.terminals[names[k]]
			if t == nil {
				r.report(Problem{Code: "unknown-terminal", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s has no terminal %s", p.Tag, quote(names[k]))})
				return nil
			}
			all = append(all, t)
		}
	}
	return all
}

// bonded reads "3..72 step 3 to IE": terminals with an earth foot or a link.
func (r *plantReader) bonded(n node, p *Part) {
	for _, item := range r.list(n, "bonded terminals") {
		s := r.text(item)
		i := strings.LastIndex(s, " to ")
		if i < 0 {
			r.report(item.wrong("missing-earth", "which earth bar the terminals are bonded to is not said").hint("3..72 step 3 to IE"))
			continue
		}
		name := strings.TrimSpace(s[i+4:])
		bar := r.plant.parts[p.Place.Tag+"/"+name]
		if bar == nil || bar.Kind != earthBar {
			r.report(item.wrong("unknown-earth", "%s has no earth bar %s", p.Place.Tag, quote(name)))
			continue
		}
		trimmed := item
		cut := *item.Node
		cut.Value = s[:i]
		trimmed.Node = &cut
		for _, t := range r.span(trimmed, p) {
			t.Bond = bar
		}
	}
}

// earths reads the earth bars of a place: name and what it is for.
func (r *plantReader) earths(n node, pl *Place) {
	for key, value := range r.entries(n, "earth bar") {
		p := r.newPart(key, pl, earthBar, true)
		if p == nil {
			continue
		}
		p.Device = &Device{At: r.text(value)}
		p.addTerminal(&Terminal{Name: key.Value, Bar: true})
	}
}

// channelRoles tells whether a card of this kind can power its circuit, and so
// has to say whether it does.
var asksPower = map[string]bool{"AI": true, "DI": true, "DO": true, "PI": true}

func (r *plantReader) cards(n node, pl *Place) {
	for key, value := range r.entries(n, "card") {
		p := r.newPart(key, pl, nil, false)
		if p == nil {
			continue
		}
		p.Card = &Card{Powers: true}
		var names, power *node
		wires := 0
		r.fields(value, "",
			field{"kind", true, func(n node) { p.Kind = kindNamed(cardKinds, r.oneOf(n, kindNames(cardKinds)...)) }},
			field{"channels", true, func(n node) { p.Card.Channels = r.whole(n, 1, 512) }},
			field{"address", false, func(n node) { p.Card.Address = r.text(n) }},
			field{"power", false, func(n node) { power = &n; p.Card.Powers = r.oneOf(n, "card", "loop") == "card" }},
			field{"wires", false, func(n node) { wires = r.whole(n, 2, 4) }},
			field{"terminals", false, func(n node) { names = &n }},
			field{"ohms", false, func(n node) { p.Device = &Device{}; p.Device.Ohms, _ = r.quantity(n, unit{"ohm", ""}, unit{"Ω", ""}) }},
			field{"status", false, func(n node) { p.Status = r.status(n) }},
		)
		if p.Kind == nil {
			p.Kind = &Kind{Name: "card", Words: "card"}
			continue
		}
		switch asks := asksPower[p.Kind.Name]; {
		case asks && power == nil:
			r.report(key.wrong("missing-key", "card %s has to say whether it powers the loop", quote(p.Tag)).hint("power: card, or power: loop"))
		case !asks && power != nil:
			r.report(power.wrong("needless-key", "a card of kind %s has no choice of power", p.Kind.Name))
			p.Card.Powers = true
		}
		roles := p.Kind.Groups[0].Roles
		if p.Kind.Name == "RTD" && wires > 0 {
			roles = map[int]string{2: "AB", 3: "ABB", 4: "AABB"}[wires]
		}
		p.Card.Terminals = len(roles)
		r.channels(p, roles, names)
	}
}

// channels gives a card its terminals: the named ones in order of channel and
// role, or else 1+ 1- 2+ 2- and so on.
func (r *plantReader) channels(p *Part, roles string, names *node) {
	var given []string
	if names != nil {
		for _, item := range r.list(*names, "terminals") {
			for _, w := range r.words(item) {
				more, ok := expand(w.text, nil)
				if !ok {
					r.report(Problem{Code: "bad-terminals", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s is not a span of terminals", quote(w.text)), Hint: "1..16"})
					return
				}
				given = append(given, more...)
			}
		}
		if want := p.Card.Channels * len(roles); len(given) != want {
			r.report(names.wrong("terminals-mismatch", "%d terminals are named for %d channels of %d", len(given), p.Card.Channels, len(roles)))
			given = nil
		}
	}
	for ch := 1; ch <= p.Card.Channels; ch++ {
		for i, role := range []byte(roles) {
			name := fmt.Sprintf("%d%c", ch, role)
			if strings.Count(roles, string(role)) > 1 {
				name = fmt.Sprintf("%d%c%d", ch, role, strings.Count(roles[:i+1], string(role)))
			}
			if given != nil {
				name = given[(ch-1)*len(roles)+i]
			}
			if !p.addTerminal(&Terminal{Name: name, Role: Role(role)}) {
				r.report(names.wrong("terminal-twice", "card %s has terminal %s twice", quote(p.Tag), name))
				return
			}
		}
	}
}

// barriers reads barriers or isolators: four terminals unless named, 1 and 2 to
// the field, 3 and 4 to the system.
func (r *plantReader) barriers(n node, pl *Place, kind string) {
	for key, value := range r.entries(n, kind) {
		p := r.newPart(key, pl, kindNamed(barrierKinds, kind), false)
		if p == nil {
			continue
		}
		p.Barrier = &Barrier{}
		names := []token{{text: "1"}, {text: "2"}, {text: "3"}, {text: "4"}}
		r.fields(value, "",
			field{"model", false, func(n node) { p.Barrier.Model = r.text(n) }},
			field{"ohms", false, func(n node) { p.Barrier.Ohms, _ = r.quantity(n, unit{"ohm", ""}, unit{"Ω", ""}) }},
			field{"drop", false, func(n node) { p.Barrier.Drop, _ = r.quantity(n, unit{"V", ""}) }},
			field{"terminals", false, func(n node) {
				if names = r.words(n); len(names)%2 != 0 || len(names) == 0 {
					r.report(n.wrong("terminals-mismatch", "%s has as many terminals to the field as to the system", p.Tag).hint("1 2 3 4"))
					names = names[:0]
				}
			}},
			field{"status", false, func(n node) { p.Status = r.status(n) }},
		)
		half := len(names) / 2
		for i, w := range names {
			role := Role(0)
			if half == 2 {
				role = Role("+-"[i%2])
			}
			if !p.addTerminal(&Terminal{Name: w.text, Role: role}) {
				r.report(Problem{Code: "terminal-twice", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s has terminal %s already", p.Tag, w.text)})
				half = 0
			}
		}
		for i := range half {
			a, b := p.Terminals[i], p.Terminals[half+i]
			p.Through[a], p.Through[b] = b, a
		}
	}
}

func (r *plantReader) supplies(n node, pl *Place) {
	for key, value := range r.entries(n, "supply") {
		p := r.newPart(key, pl, supplyDC, false)
		if p == nil {
			continue
		}
		p.Supply = &Supply{}
		var names []token
		r.fields(value, "",
			field{"volts", true, func(n node) {
				v, u := r.quantity(n, unit{"V DC", "DC"}, unit{"V AC", "AC"})
				p.Supply.Value = v
				p.Supply.Volts, p.Supply.AC = n.Value, u == "AC"
			}},
			field{"circuit", false, func(n node) { p.Supply.Circuit = r.text(n) }},
			field{"fuse", false, func(n node) { p.Supply.Fuse = r.text(n) }},
			field{"terminals", false, func(n node) { names = r.words(n) }},
			field{"status", false, func(n node) { p.Status = r.status(n) }},
		)
		if p.Supply.AC {
			p.Kind = supplyAC
		}
		roles := p.Kind.Groups[0].Roles
		if names == nil {
			for _, role := range []byte(roles) {
				names = append(names, token{text: strings.Replace(string(role), "E", "PE", 1)})
			}
		}
		if len(names) != len(roles) {
			r.report(key.wrong("terminals-mismatch", "supply %s has %d terminals, not %d", quote(p.Tag), len(roles), len(names)))
			continue
		}
		for i, w := range names {
			if !p.addTerminal(&Terminal{Name: w.text, Role: Role(roles[i]), Bar: true}) {
				r.report(Problem{Code: "terminal-twice", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s has terminal %s already", p.Tag, w.text)})
			}
		}
	}
}

// feeds reads fixed wires from a supply to a strip: "PS-21 + to X5 F1".
func (r *plantReader) feeds(n node, pl *Place) {
	for _, item := range r.list(n, "feed") {
		ws := r.words(item)
		if len(ws) != 5 || ws[2].text != "to" {
			if len(ws) > 0 {
				r.report(item.wrong("bad-feed", "a feed names a supply and its terminal, then a strip and its terminal").hint("PS-21 + to X5 F1"))
			}
			continue
		}
		find := func(ref, name token) *Terminal {
			part := r.plant.parts[ref.text]
			if part == nil {
				part = r.plant.parts[pl.Tag+"/"+ref.text]
			}
			if part == nil {
				r.report(Problem{Code: "unknown-tag", Pos: ref.pos, Len: ref.len(), Text: "nothing is tagged " + ref.text, Hint: nearest(ref.text, sortedKeys(r.plant.parts))})
				return nil
			}
			t := part.terminals[name.text]
			if t == nil {
				r.report(Problem{Code: "unknown-terminal", Pos: name.pos, Len: name.len(), Text: fmt.Sprintf("%s has no terminal %s", part.Tag, quote(name.text))})
			}
			return t
		}
		from, to := find(ws[0], ws[1]), find(ws[3], ws[4])
		if from == nil || to == nil {
			continue
		}
		if from.Part.Supply == nil || to.Part.Strip == nil {
			r.report(item.wrong("bad-feed", "a feed runs from a supply to a strip").hint("PS-21 + to X5 F1"))
			continue
		}
		if to.Fed != nil && to.Fed.Supply != from {
			r.report(item.wrong("joined-supplies", "%s is fed from %s already", to.Tag(), to.Fed.Supply.Tag()).also(to.Fed.Pos, "fed here"))
			continue
		}
		f := &Feed{Pos: item.pos(), Supply: from, To: to}
		f.Wire = &Conductor{Pos: item.pos(), Kind: WireRun, From: End{Terminal: from, Side: FieldSide}, To: End{Terminal: to, Side: SystemSide}, Role: from.Role, Place: pl, Status: pl.Status, Colour: pl.Colour}
		r.add(f.Wire)
		to.feed(f)
	}
}

// add files a conductor; see binder.
func (r *plantReader) add(w *Conductor) { (&binder{r.reader, r.plant}).add(w) }

// feed marks a terminal, and all that jumpers join to it, as fed.
func (t *Terminal) feed(f *Feed) {
	if t.Fed != nil {
		return
	}
	t.Fed = f
	for _, g := range t.Part.Jumpers {
		if slices.Contains(g, t) {
			for _, o := range g {
				o.feed(f)
			}
		}
	}
}
