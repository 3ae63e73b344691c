package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

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
			field{"pitch", false, func(n node) { p.Strip.Pitch, _ = r.quantity(n, unit{"mm", ""}) }},
			field{"largest", false, func(n node) { p.Strip.MaxSize = r.largest(n) }},
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
			p.join()
		}
		if bonded != nil {
			r.later = append(r.later, func() { r.bonded(*bonded, p) })
		}
	}
}

// largest reads the largest conductor of a terminal, an area or a gauge, as mm²
// to four places.
func (r *plantReader) largest(n node) float64 {
	v, u := r.quantity(n, unit{"mm2", "mm2"}, unit{"mm²", "mm2"}, unit{"AWG", "AWG"})
	if u != "AWG" {
		return r.notNegative(n, v)
	}
	if v != math.Trunc(v) || v < 1 || v > mostAWG {
		r.report(n.wrong("number-out-of-range", "%s must be a gauge from 1 to %d, not %s", n.what, mostAWG, quote(n.Value)))
		return 0
	}
	return math.Round(Copper{AWG: int(v)}.SquareMM()*1e4) / 1e4
}

// noTerminal reports that a part has no terminal of a name, unless the text of
// its terminals is to blame.
func (r *plantReader) noTerminal(p *Part, at token, name string) {
	if !p.unread {
		r.report(Problem{Code: "unknown-terminal", Pos: at.pos, Len: at.len(), Text: fmt.Sprintf("%s has no terminal %s", p.Tag, quote(name))})
	}
}

// terminals reads one line of terminals: "1..72", "F1..F8 fused 2 A",
// "1..12 decks A B", "PE earth".
func (r *plantReader) terminals(n node, p *Part) {
	ws := r.words(n)
	if len(ws) == 0 {
		p.unread = true
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
				p.unread = true
				r.report(Problem{Code: "bad-terminals", Pos: w.pos, Len: w.len(), Text: "two or more decks have to be named", Hint: "1..12 decks A B"})
				return
			}
			break
		}
		k, ok := terminalKindOf[w.text]
		if !ok {
			p.unread = true
			r.report(Problem{Code: "unknown-word", Pos: w.pos, Len: w.len(), Text: fmt.Sprintf("%s is not a kind of terminal", quote(w.text)),
				Hint: Nearest(w.text, append(sortedKeys(terminalKindOf), "decks"))})
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
		p.unread = true
		r.report(Problem{Code: "bad-terminals", Pos: ws[0].pos, Len: ws[0].len(), Text: fmt.Sprintf("%s is not a span of terminals, or of more than %d", quote(ws[0].text), longestSpan), Hint: "1..24 or F1..F8"})
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
				r.noTerminal(p, w, names[k])
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
			for _, o := range t.joined {
				o.Bond = bar
			}
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

// join finds what the jumpers of a strip join: jumpers that share a terminal
// are one.
func (p *Part) join() {
	parent := make([]int, len(p.Terminals))
	for i := range parent {
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, g := range p.Jumpers {
		for _, t := range g[1:] {
			parent[find(t.Index)] = find(g[0].Index)
		}
	}
	nets := map[int][]*Terminal{}
	for i, t := range p.Terminals {
		nets[find(i)] = append(nets[find(i)], t)
	}
	for _, net := range nets {
		for _, t := range net {
			if len(net) > 1 {
				t.joined = net
			}
		}
	}
}

// Jumpered tells whether jumpers join t and o.
func (t *Terminal) Jumpered(o *Terminal) bool {
	return t.joined != nil && o.joined != nil && t.joined[0] == o.joined[0]
}
