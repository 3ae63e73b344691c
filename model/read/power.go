package read

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
	"ringout/model/grid"
)

// This file reads what instruments of a panel share for their supply. It is no more than the
// supply circuits of its members, said at once: what it makes is bound, checked and drawn as
// they are.

// writtenPower is supply wiring that instruments of a place share, while it is read.
type writtenPower struct {
	place   *model.Place
	from    []node
	members *node
	colours []bind.Token
}

var powerFields = fields[*writtenPower]{
	{"from", listOf(aText), asked, "a strip of the place, and a terminal for each pole: one, from which the members carry it on from one to the next, or as many as there are members; more strips may follow on the way to the supply, such as that of a switch, with `.` for a pole that passes them", "[TB5 F6 ., TB5 S1 N1]", func(r *plantReader, p *writtenPower, n node) { p.from = r.list(n, "a strip") }, conductors[*writtenPower]},
	{"members", listOf(aText), asked, "instruments in the place that have a supply of their own, in the order of the wires: tags, positions on its front, or a block of it from corner to corner, along its rows", "[1A..2B, PR-105]", func(r *plantReader, p *writtenPower, n node) { p.members = &n }, conductors[*writtenPower]},
	{"wires", aText.called("colours"), "those of the place", "colours of the wires, one for each pole", "BN BU", func(r *plantReader, p *writtenPower, n node) { p.colours = r.words(n) }, conductors[*writtenPower]},
}

// sharedPower reads what instruments of a place share, once all devices have their terminals
// and places.
func (r *plantReader) sharedPower(n node, pl *model.Place) {
	for _, value := range r.entries(n, "shared power") {
		p := writtenPower{place: pl}
		if !powerFields.read(r, value, "", &p) || p.members == nil || len(p.from) == 0 {
			continue
		}
		members := r.members(*p.members, pl)
		if len(members) == 0 {
			continue // told
		}
		r.wireMembers(&p, members)
	}
}

// member is an instrument with the word that names it.
type member struct {
	*model.Part
	word bind.Token
}

// members are the instruments that a text names by tags and positions.
func (r *plantReader) members(n node, pl *model.Place) (all []member) {
	at := map[string]*model.Part{} // by tag, and by position
	for _, l := range r.plant.Loops {
		for _, d := range l.Devices {
			if d.Place == pl {
				at[d.Tag] = d
				if c := d.Device.Position; pl.Front.Has(c) {
					at[c.String()] = d
				}
			}
		}
	}
	for _, item := range r.list(n, "a member") {
		for _, w := range r.words(item) {
			all = append(all, r.membersAt(w, pl, at)...)
		}
	}
	return all
}

// membersAt are those that one word names: an instrument, or a block of the front. What is none
// is told and left out.
func (r *plantReader) membersAt(w bind.Token, pl *model.Place, at map[string]*model.Part) (all []member) {
	tell := func(f finding.Finding) []member { r.Report(f); return nil }
	low, high, span := strings.Cut(w.Text, "..")
	if !span {
		switch d := at[w.Text]; {
		case d == nil:
			return tell(w.Wrong(finding.NoMember, "no instrument in %s has the tag or position %s", pl.Tag, finding.Quote(w.Text)).WithHint(fedIn(at)))
		case d.Kind == model.UnknownKind:
			return nil // told
		case len(d.SupplyTerminals()) == 0:
			return tell(w.Wrong(finding.NoMember, "%s has no supply of its own: it is a %s", d.Tag, d.Kind.Words).WithAlso(d.Pos, "the device is described here").
				WithHint(finding.Do("take it out of the members, or say on which terminals it is fed")))
		default:
			return []member{{d, w}}
		}
	}
	names, block := grid.Span(low, high)
	if !block {
		return tell(w.Wrong(finding.BadGrid, "%s is no block of a front", finding.Quote(w.Text)).
			WithHint(finding.Do("write its first and its last position, the row and the letter of the column of each")))
	}
	for _, name := range names {
		if d := at[name]; d != nil && len(d.SupplyTerminals()) > 0 { // else empty, or fed by its signal
			all = append(all, member{d, w})
		}
	}
	if len(all) == 0 {
		return tell(w.Wrong(finding.NoMember, "no instrument at %s of %s has a supply of its own", w.Text, pl.Tag).WithHint(fedIn(at)))
	}
	return all
}

// fedIn is a hint of the instruments that may be members.
func fedIn(at map[string]*model.Part) finding.Hint {
	var tags []string
	for name, d := range at {
		if name == d.Tag && len(d.SupplyTerminals()) > 0 {
			tags = append(tags, name)
		}
	}
	if slices.Sort(tags); len(tags) == 0 {
		return finding.Do("name instruments that are in the place and have a supply of their own")
	}
	return finding.Do("use %s", finding.AnyOf(tags))
}

// way is what all members do at one strip: for each pole a terminal, or one for each member;
// none where the pole passes.
type way struct {
	strip bind.Token
	poles [][]bind.Token
}

// wireMembers makes the supply circuit of each member.
func (r *plantReader) wireMembers(p *writtenPower, members []member) {
	poles := 0
	for _, m := range members {
		poles = max(poles, len(m.SupplyTerminals()))
	}
	var ways []way
	for _, item := range p.from {
		w, ok := r.way(item, p.place, poles, members)
		if !ok {
			return
		}
		ways = append(ways, w)
	}
	if n := len(p.colours); n > 0 && n != poles {
		r.Report(p.colours[0].Wrong(finding.UnknownColour, "colours: %d, for %s", n, finding.Count(poles, "pole")).WithHint(finding.Do("give one colour for each pole, in the order of the terminals")))
		p.colours = nil
	}
	for i, m := range members {
		l := m.Device.Loop
		c := &model.Circuit{Pos: m.word.Pos, Name: m.Tag + " supply", Loop: l, Status: l.Status, Path: &model.Path{}}
		l.Circuits = append(l.Circuits, c)
		r.circuits = append(r.circuits, bind.Written{Circuit: c, Steps: p.steps(members, i, ways)})
	}
}

// way reads one strip of the way to the supply.
func (r *plantReader) way(item node, pl *model.Place, poles int, members []member) (w way, ok bool) {
	ws := r.words(item)
	if len(ws) == 0 {
		return w, false
	}
	if w.strip = ws[0]; r.plant.PartByTag[pl.Tag+"/"+w.strip.Text] != nil {
		w.strip.Text = pl.Tag + "/" + w.strip.Text
	}
	if len(ws)-1 != poles {
		r.Report(item.wrong(finding.TerminalsMismatch, "%s: %s named, for %s of the members", ws[0].Text, finding.Count(len(ws)-1, "terminal"), finding.Count(poles, "pole")).
			WithHint(finding.Do("name one terminal for each pole, or a span with one for each member")))
		return w, false
	}
	for pole, word := range ws[1:] {
		names, counts := bind.Expand(word.Text, nil)
		if !counts {
			r.Report(word.Wrong(finding.BadTerminals, "%s is not a span of terminals", finding.Quote(word.Text)).WithHint(useSpan))
			return w, false
		}
		landing := 0
		for _, m := range members {
			if len(m.SupplyTerminals()) > pole {
				landing++
			}
		}
		if len(names) != 1 && len(names) != landing {
			r.Report(word.Wrong(finding.TerminalsMismatch, "%s: %s, for %s", word.Text, finding.Count(len(names), "terminal"), finding.Count(landing, "member")).
				WithHint(finding.Do("name one terminal, or one for each member")))
			return w, false
		}
		var tokens []bind.Token
		for _, name := range names {
			if name != "." {
				tokens = append(tokens, bind.Token{Text: name, Pos: word.Pos})
			}
		}
		w.poles = append(w.poles, tokens)
	}
	return w, true
}

// steps are the path of the supply of the i-th member, from 0: to the member before, or to
// the strips. The poles part where some do the one, some the other.
func (p *writtenPower) steps(members []member, i int, ways []way) []bind.PathStep {
	m := members[i]
	start := m.step(m.Tag)
	var poles []int
	var before []*member
	for pole, t := range m.SupplyTerminals() {
		start.Words = append(start.Words, m.token(t.Name))
		poles, before = append(poles, pole), append(before, carriedFrom(members[:i], ways, pole))
	}
	path := func(poles ...int) (all []bind.PathStep) {
		if from := before[poles[0]]; from != nil {
			st := m.step(from.Tag)
			for _, pole := range poles {
				st.Words = append(st.Words, m.token(from.SupplyTerminals()[pole].Name))
			}
			return []bind.PathStep{p.run(m, poles), st}
		}
		for _, w := range ways {
			if st, lands := w.step(members[:i], poles); lands {
				all = append(all, p.run(m, poles), st)
			}
		}
		return all
	}
	if !slices.ContainsFunc(before, func(b *member) bool { return b != before[0] }) {
		return append([]bind.PathStep{start}, path(poles...)...)
	}
	parting := bind.PathStep{Pos: m.word.Pos}
	for _, pole := range poles {
		parting.Tails = append(parting.Tails, bind.Tail{Leg: m.token(model.Itoa(pole + 1)), Steps: path(pole)})
	}
	return []bind.PathStep{start, parting}
}

// carriedFrom is the member from which a pole is carried on to the one behind those before: the
// last that has it; nil where that lands on a strip.
func carriedFrom(before []member, ways []way, pole int) *member {
	for _, w := range ways {
		if n := len(w.poles[pole]); n > 1 {
			return nil
		} else if n == 1 {
			break
		}
	}
	for i := len(before) - 1; i >= 0; i-- {
		if pole < len(before[i].SupplyTerminals()) {
			return &before[i]
		}
	}
	return nil
}

// run are the wires of some poles to a member.
func (p *writtenPower) run(m member, poles []int) bind.PathStep {
	s := m.step("wires")
	for _, pole := range poles {
		if pole < len(p.colours) {
			s.Words = append(s.Words, p.colours[pole])
		}
	}
	return s
}

// step is where some poles of a member land at a strip, behind those before it that have these
// poles too; false where none does.
func (w way) step(before []member, poles []int) (s bind.PathStep, lands bool) {
	s = bind.PathStep{Pos: w.strip.Pos, Words: []bind.Token{w.strip}}
	for _, pole := range poles {
		names := w.poles[pole]
		if len(names) == 0 {
			s.Words = append(s.Words, bind.Token{Text: ".", Pos: w.strip.Pos})
			continue
		}
		turn := 0
		for _, m := range before {
			if pole < len(m.SupplyTerminals()) {
				turn++
			}
		}
		s.Words, lands = append(s.Words, names[min(turn, len(names)-1)]), true
	}
	return s, lands
}

func (m member) token(s string) bind.Token { return bind.Token{Text: s, Pos: m.word.Pos} }

func (m member) step(word string) bind.PathStep {
	return bind.PathStep{Pos: m.word.Pos, Words: []bind.Token{m.token(word)}}
}
