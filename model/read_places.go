package model

import (
	"fmt"
	"strconv"
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
			field{"ohms", false, func(n node) { p.Card.Ohms = r.ohms(n) }},
			field{"volts", false, func(n node) { p.Card.Volts = r.biases(n) }},
			field{"limit", false, func(n node) { p.Card.Limit = r.milliamps(n) }},
			field{"drive", false, func(n node) { r.drive(n, p.Card) }},
			field{"least load", false, func(n node) { p.Card.LeastLoad = r.ohms(n) }},
			field{"ranges", false, func(n node) { r.channelRanges(n, p) }},
			field{"status", false, func(n node) { p.Status = r.status(n) }},
		)
		if p.Kind == nil {
			p.Kind = unknownKind
			continue
		}
		switch asks := asksPower[p.Kind.Name]; {
		case asks && power == nil:
			r.report(key.wrong("missing-key", "card %s has to say whether it powers the loop", quote(p.Tag)).hint("power: card, or power: loop"))
		case !asks && power != nil:
			r.report(power.wrong("needless-key", "a card of kind %s has no choice of power", p.Kind.Name))
		}
		if !asksPower[p.Kind.Name] {
			p.Card.Powers = p.Kind.Groups[0].Nature == Source
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
		if want := p.Card.Channels * len(roles); len(given) != want && want > 0 {
			r.report(names.wrong("terminals-mismatch", "terminals named: %d, for %d channels of %d", len(given), p.Card.Channels, len(roles)))
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
				p.Kind = unknownKind // no circuit can land on it
				return
			}
		}
	}
}

// drive reads what an output can drive: "750 ohm", or "18.5 V at 21 mA".
func (r *plantReader) drive(n node, c *Card) {
	if !strings.Contains(n.Value, " at ") {
		c.Drive = r.ohms(n)
		return
	}
	if b := r.biases(n); len(b) == 1 {
		c.Reach = b[0]
	}
}

// channelRanges reads {5: 0..450 m3/h}: what each channel is set up for.
func (r *plantReader) channelRanges(n node, p *Part) {
	p.Card.Ranges, p.Card.rangePos = map[int]Range{}, map[int]Pos{}
	for key, value := range r.entries(n, "channel") {
		ch, err := strconv.Atoi(key.Value)
		if err != nil || ch < 1 {
			r.report(key.wrong("unknown-channel", "%s is not a channel", quote(key.Value)))
			continue
		}
		p.Card.Ranges[ch], p.Card.rangePos[ch] = r.rangeOf(value), value.pos()
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
			field{"ohms", false, func(n node) { p.Barrier.Ohms = r.ohms(n) }},
			field{"return ohms", false, func(n node) { p.Barrier.Return = r.ohms(n) }},
			field{"drop", false, func(n node) { p.Barrier.Drop = r.volts(n) }},
			field{"working volts", false, func(n node) { p.Barrier.Works = r.volts(n) }},
			field{"volts", false, func(n node) { p.Barrier.Volts = r.biases(n) }},
			field{"load", false, func(n node) { p.Barrier.Load = r.ohms(n) }},
			field{"entity", false, func(n node) { p.Barrier.Entity = r.entity(n, "o") }},
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
			field{"least volts", false, func(n node) { p.Supply.Least = r.volts(n) }},
			field{"limit", false, func(n node) { p.Supply.Limit = r.milliamps(n) }},
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

// feeds reads fixed wires from a supply to a strip: "PS-21 + to X5 F1", with a
// colour behind it where that is not the colour of the place's wires. A
// protective conductor is green-and-yellow; of mains wires no colour is taken
// for granted.
func (r *plantReader) feeds(n node, pl *Place) {
	for _, item := range r.list(n, "feed") {
		ws := r.words(item)
		var colour Colour
		if len(ws) == 6 {
			c, ok := ParseColour(ws[5].text)
			if !ok {
				r.report(Problem{Code: "unknown-colour", Pos: ws[5].pos, Len: ws[5].len(), Text: quote(ws[5].text) + " is not a colour", Hint: "IEC 60757 letters such as BU or WHBU, or words"})
			}
			colour, ws = c, ws[:5]
		}
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
				r.report(Problem{Code: "unknown-tag", Pos: ref.pos, Len: ref.len(), Text: "nothing is tagged " + ref.text, Hint: r.plant.tagLists().nearStep(ref.text)})
				return nil
			}
			t := part.terminals[name.text]
			if t == nil {
				r.noTerminal(part, name, name.text)
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
		f.Wire = &Conductor{Pos: item.pos(), Kind: WireRun, From: End{Terminal: from, Side: FieldSide}, To: End{Terminal: to, Side: SystemSide}, Role: from.Role, Place: pl, Status: pl.Status, Colour: feedColour(from, pl, colour)}
		r.add(f.Wire)
		to.feed(f)
	}
}

// add files a conductor; see binder.
func (r *plantReader) add(w *Conductor) { (&binder{r.reader, r.plant}).add(w) }

// feed marks a terminal, and all that jumpers join to it, as fed.
func (t *Terminal) feed(f *Feed) {
	t.Fed = f
	for _, o := range t.joined {
		o.Fed = f
	}
}

// feedColour is the colour of a feed: the given one, or what goes without
// saying.
func feedColour(from *Terminal, pl *Place, given Colour) Colour {
	switch {
	case given != Colour{}:
		return given
	case from.Role == 'E':
		return Colour{Base: GreenYellow}
	case from.Part.Supply.AC:
		return Colour{}
	}
	return pl.Colour
}
