package read

import (
	"math"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/copper"
	"ringout/model/finding"
	"ringout/model/grid"
)

var terminalKindOf = map[string]model.TerminalKind{
	"fused": model.Fused, "disconnect": model.Disconnect, "diode": model.Diode, "earth": model.EarthFoot, "feed-through": model.FeedThrough,
}

// writtenStrip is a strip whose marks, jumpers and bonds are not read yet.
type writtenStrip struct {
	*model.Part
	marks, jumpers, bonded, spurs, grid *node
}

var (
	sizeUnits  = units{{"mm2", ""}, {"mm²", ""}}
	clampUnits = units{{"mm2", "mm2"}, {"mm²", "mm2"}, {"AWG", "AWG"}}
	pitchUnits = units{{"mm", ""}}
	shortUnits = units{{"mm", "mm"}, {"in", "in"}}
)

const mostPerSide = 4

var stripFields = fields[*writtenStrip]{
	{"terminals", listOf(aText), asked, "spans with a kind, also from corner to corner of a board, as `1A..6D`: `fused RATING` (of coils on AC with the characteristic: `2 A T`; of " + model.FuseWords + " is known what they carry for a short time), `disconnect`, `diode`, `earth`; `decks A B` for two or more decks", "[1..24, F1..F8 fused 0.5 A]", func(r *plantReader, s *writtenStrip, n node) {
		for _, item := range r.list(n, "terminals") {
			if !r.terminals(item, s.Part) {
				break
			}
		}
	}, func(w *writer, s *writtenStrip) { w.stripTerminals(s.Terminals) }},
	{"grid", aGrid, "", "rows and columns of a board whose terminals lie so, in their order along the rows, or `by columns` down them; the first is at the top left from the front", "6 x 4", func(r *plantReader, s *writtenStrip, n node) { s.grid = &n }, func(w *writer, s *writtenStrip) { w.text(s.Strip.Grid.String()) }},
	{"marks", aText, "", "marks that repeat over the terminals: `+`, `-`, `S` for screen, `.` for none", "+ - S", func(r *plantReader, s *writtenStrip, n node) { s.marks = &n }, func(w *writer, s *writtenStrip) { w.marks(s.Terminals) }},
	{"jumpers", listOf(aText), "", "terminals joined, one item a jumper", "[F1..F8]", func(r *plantReader, s *writtenStrip, n node) { s.jumpers = &n }, func(w *writer, s *writtenStrip) { w.jumpers(s.Jumpers) }},
	{"bonded", listOf(aText).called("text"), "", "terminals joined to an earth bar", "3..72 step 3 to IE", func(r *plantReader, s *writtenStrip, n node) { s.bonded = &n }, func(w *writer, s *writtenStrip) { w.bonds(s.Terminals) }},
	{"rail", aText, "", "rail it sits on", "left", func(r *plantReader, s *writtenStrip, n node) { s.Strip.Rail = r.text(n) }, func(w *writer, s *writtenStrip) { w.text(s.Strip.Rail) }},
	{"largest", clampUnits.shape("mm2 or AWG"), "not checked", "maximum conductor size", "2.5 mm2", func(r *plantReader, s *writtenStrip, n node) { s.Strip.MaxSize, s.Strip.MaxGauge = r.largest(n) }, func(w *writer, s *writtenStrip) { w.given(s.Strip.MaxSize, "mm²") }},
	{"conductors", aCount(1, mostPerSide), "`1`", "conductors allowed on one side of a terminal", "2", func(r *plantReader, s *writtenStrip, n node) { s.Strip.PerSide = r.whole(n, 1, mostPerSide) }, func(w *writer, s *writtenStrip) { w.count(s.Strip.PerSide) }},
	{"pitch", pitchUnits.shape("mm"), "required where safety needs it", "from terminal to terminal", "5.2 mm", func(r *plantReader, s *writtenStrip, n node) { s.Strip.Pitch, _ = r.quantity(n, pitchUnits...) }, func(w *writer, s *writtenStrip) { w.given(s.Strip.Pitch, "mm") }},
	{"status", aStatus, "the place's", "`new`, `existing` or `future`", "existing", func(r *plantReader, s *writtenStrip, n node) { s.Status = r.status(n) }, func(w *writer, s *writtenStrip) { w.text(s.Status.String()) }},
}

func (r *plantReader) strips(n node, pl *model.Place) {
	for key, value := range r.entries(n, "strip") {
		s := writtenStrip{Part: r.newPart(key, pl, model.StripKind, true)}
		if s.Part == nil {
			continue
		}
		s.Strip = &model.Strip{PerSide: 1}
		stripFields.read(r, value, "", &s)
		r.joined(&s)
	}
}

// joined reads what joins the terminals of a strip, once it has them.
func (r *plantReader) joined(s *writtenStrip) {
	if s.grid != nil {
		r.board(*s.grid, s.Part)
	} else {
		r.noBoard(s.Part)
	}
	if s.marks != nil {
		r.marks(*s.marks, s.Part)
	}
	if s.jumpers != nil {
		joined := 0
		for _, item := range r.list(*s.jumpers, "jumper") {
			g := r.span(item, s.Part)
			if r.counted > mostEnds {
				break
			}
			if joined += max(1, len(g)); joined > mostJoined {
				r.tooMany(item.pos(), mostJoined, "terminals named by the jumpers of "+s.Tag)
				break
			}
			if len(g) > 1 {
				s.Jumpers = append(s.Jumpers, g)
			} else if len(g) == 1 {
				r.Report(item.wrong(finding.ShortJumper, "jumper with one terminal"))
			}
		}
	}
	join(s.Part)
	if s.bonded != nil {
		r.later = append(r.later, func() { r.bonded(*s.bonded, s.Part) })
	}
}

// board reads the grid that the terminals of a strip lie in.
func (r *plantReader) board(n node, p *model.Part) {
	g := r.grid(n)
	p.Strip.Grid = g
	if !g.Given() || p.Unread {
		return
	}
	if len(p.Terminals) > g.Size() {
		first := p.Terminals[g.Size()]
		r.Report(n.wrong(finding.OutsideGrid, "%s lies outside the grid: %s, %s", first.Tag(), finding.Count(len(p.Terminals), "terminal"), finding.Count(g.Size(), "place")).
			WithHint(finding.Do("name as many terminals as the board has, or mend rows and columns")))
		p.Strip.Grid = grid.Grid{}
		return
	}
	var names []string
	for _, t := range p.Terminals {
		names = append(names, t.Name)
	}
	if i := g.Misplaced(names); i >= 0 {
		r.Report(n.wrong(finding.GridNames, "%s lies in row %d, column %d", p.Terminals[i].Tag(), g.At(i).Row, g.At(i).Column).
			WithHint(finding.Do("name the terminals in the order of the board, along its rows unless it is by columns")))
	}
}

// noBoard tells of terminals that are named from corner to corner where there is no board: a
// slip names many more than are there.
func (r *plantReader) noBoard(p *model.Part) {
	for _, w := range r.blocks[p] {
		g, _ := bind.Block(w.Text)
		r.Report(w.Wrong(finding.NoGrid, "%s is a block of %d terminals from corner to corner, and %s has no grid", w.Text, g.Size(), p.Tag).
			WithHint(finding.Do("name the spans one by one; or, if the terminals lie so, give the strip its rows and columns as grid")))
	}
}

// inBlock reports a terminal that a part lacks within a block from corner to corner, with those
// that it has.
func (r *plantReader) inBlock(p *model.Part, w bind.Token, names []string, lacks string) {
	var has []*model.Terminal
	for _, name := range names {
		if t := p.TerminalByName[name]; t != nil {
			has = append(has, t)
		}
	}
	f := w.Wrong(finding.UnknownTerminal, "%s is a block from corner to corner; %s has no terminal %s in it", w.Text, p.Tag, finding.Quote(lacks))
	if len(has) > 0 {
		f = f.WithHint(finding.Do("of it there are %s: name the spans that are meant one by one", strings.Join(model.Spans(has), ", ")))
	} else {
		f = f.WithHint(bind.UseTerminal(lacks, p.Terminals))
	}
	r.Report(f)
}

// grid reads rows and columns, such as 6 x 4.
func (r *plantReader) grid(n node) grid.Grid {
	g, ok := grid.Parse(r.text(n))
	if !ok && r.text(n) != "" {
		r.Report(n.wrong(finding.BadGrid, "%s is not ROWS x COLUMNS, maximum %d x %d", finding.Quote(n.Value), grid.MostRows, grid.MostColumns).
			WithHint(finding.Do("write the number of rows, x and the number of columns, and by columns after them if the terminals count down the columns")))
	}
	return g
}

// behind is said of an instrument that is not on the front of its place.
const behind = "behind"

// position reads where an instrument sits on the front, such as 1A, or behind it.
func (r *plantReader) position(n node, d *model.Device) {
	s := r.text(n)
	if d.Inside = s == behind; d.Inside || s == "" {
		return
	}
	var ok bool
	if d.Position, ok = grid.ParseCell(s); !ok {
		r.Report(n.wrong(finding.BadGrid, "%s is no position", finding.Quote(n.Value)).
			WithHint(finding.Do("write the row and the column of its place on the front, or %s", behind)))
	}
}

// largest reads the largest conductor of a terminal, an area or a gauge, as mm²
// to four places.
func (r *plantReader) largest(n node) (area float64, gauge int) {
	v, u := r.quantity(n, clampUnits...)
	if u != "AWG" {
		return r.notNegative(n, v), 0
	}
	if v != math.Trunc(v) || v < 1 || v > copper.MostAWG {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be a gauge from 1 to %d, not %s", n.what, copper.MostAWG, finding.Quote(n.Value)))
		return 0, 0
	}
	return math.Round(copper.Size{AWG: int(v)}.SquareMM()*1e4) / 1e4, int(v)
}

// noTerminal reports that a part has no terminal of a name, unless the text of
// its terminals is to blame.
func (r *plantReader) noTerminal(p *model.Part, at bind.Token, name string) {
	if !p.Unread {
		r.Report(at.Wrong(finding.UnknownTerminal, "%s has no terminal %s", p.Tag, finding.Quote(name)).WithHint(bind.UseTerminal(name, p.Terminals)))
	}
}

// terminals reads one line of terminals: "1..72", "F1..F8 fused 2 A",
// "1..12 decks A B", "PE earth". It reports false when there are too many to read on.
func (r *plantReader) terminals(n node, p *model.Part) bool {
	ws := r.words(n)
	if len(ws) == 0 {
		p.Unread = true
		return true
	}
	kind, fuse := model.FeedThrough, model.Fuse{}
	var decks []string
	rest := ws[1:]
	for len(rest) > 0 {
		w := rest[0]
		rest = rest[1:]
		if w.Text == "decks" {
			for _, d := range rest {
				decks = append(decks, d.Text)
			}
			if len(decks) < 2 {
				p.Unread = true
				r.Report(w.Wrong(finding.BadTerminals, "%s named; minimum 2", finding.Count(len(decks), "deck")).WithHint(finding.Do("name the decks behind it, two or more")))
				return true
			}
			break
		}
		k, ok := terminalKindOf[w.Text]
		if !ok {
			p.Unread = true
			r.Report(w.Wrong(finding.UnknownWord, "%s is not a kind of terminal", finding.Quote(w.Text)).
				WithHint(nearest(w.Text, append(model.SortedKeys(terminalKindOf), "decks"))))
			return true
		}
		kind = k
		if kind == model.Fused {
			var parts []string
			for len(rest) > 0 && rest[0].Text != "decks" {
				parts = append(parts, rest[0].Text)
				rest = rest[1:]
			}
			fuse = r.fuse(n, strings.Join(parts, " "))
		}
	}
	names, ok := bind.Expand(ws[0].Text, decks)
	if _, block := bind.Block(ws[0].Text); block && len(decks) == 0 {
		r.blocks[p] = append(r.blocks[p], ws[0])
	}
	if !ok {
		p.Unread = true
		r.Report(ws[0].Wrong(finding.BadTerminals, "%s is not a terminal range (1..%d terminals)", finding.Quote(ws[0].Text), bind.MostTerminals).WithHint(useSpan))
		return true
	}
	return r.fit(p, ws[0], names, model.Terminal{Kind: kind, Fuse: fuse})
}

// fit gives a part terminals like one, with the names that a word has. It reports false
// when there are too many to read on.
func (r *plantReader) fit(p *model.Part, w bind.Token, names []string, like model.Terminal) bool {
	if !r.ends(w.Pos, len(names)) {
		p.Unread = true
		return false
	}
	for _, name := range names {
		if len(p.Terminals) == bind.MostTerminals {
			p.Unread = true
			r.tooMany(w.Pos, bind.MostTerminals, "terminals of "+p.Tag)
			return false
		}
		t := like
		if t.Name = name; !p.AddTerminal(&t) {
			r.Report(w.Wrong(finding.TerminalTwice, "%s has terminal %s already", p.Tag, name))
			return true
		}
	}
	return true
}

// useSpan is a hint for a span of terminals that cannot be counted.
var useSpan = finding.Do("write FIRST..LAST, both with the same letters, the smaller number first; of them every so many with step")

// marks reads "+ - S", which repeats over the terminals of a strip.
func (r *plantReader) marks(n node, p *model.Part) {
	ws := r.words(n)
	for _, w := range ws {
		if !slices.Contains([]string{"+", "-", "S", "."}, w.Text) {
			r.Report(w.Wrong(finding.UnknownWord, "%s is not a mark of a terminal", finding.Quote(w.Text)).WithHint(finding.Do("use + - S or .")))
			return
		}
	}
	for i, t := range p.Terminals {
		if len(ws) > 0 && ws[i%len(ws)].Text != "." {
			t.Role = model.Marking(ws[i%len(ws)].Text[0])
			p.Strip.HasSigns = true
		}
	}
}

// span reads a list of terminals of p in one text: "3 6 9", "1..8", or
// "3..72 step 3".
func (r *plantReader) span(n node, p *model.Part) []*model.Terminal {
	ws := r.words(n)
	var all []*model.Terminal
	for i := 0; i < len(ws); i++ {
		w := ws[i]
		names, ok := bind.Expand(w.Text, nil)
		if !ok {
			r.Report(w.Wrong(finding.BadTerminals, "%s is not a terminal range", finding.Quote(w.Text)).WithHint(useSpan))
			return nil
		}
		if !r.ends(w.Pos, len(names)) {
			return nil
		}
		step := 1
		if i+2 < len(ws) && ws[i+1].Text == "step" {
			_, n, ok := bind.Counted(ws[i+2].Text)
			if !ok || n < 1 {
				r.Report(ws[i+2].Wrong(finding.BadNumber, "step %s is not a whole number", finding.Quote(ws[i+2].Text)))
				return nil
			}
			step = n
			i += 2
		}
		for k := 0; k < len(names); k += step {
			t := p.TerminalByName[names[k]]
			if _, block := bind.Block(w.Text); t == nil && block && !p.Unread {
				r.inBlock(p, w, names, names[k])
				return nil
			}
			if t == nil {
				r.noTerminal(p, w, names[k])
				return nil
			}
			all = append(all, t)
		}
	}
	return all
}

// earthBar finds an earth bar of a place; what is not there is reported.
func (r *plantReader) earthBar(n node, pl *model.Place, name string) *model.Part {
	bar := r.plant.PartByTag[pl.Tag+"/"+name]
	if bar == nil || !bar.Kind.Bar {
		f := n.wrong(finding.UnknownEarth, "%s has no earth bar %s", pl.Tag, finding.Quote(name))
		if pos, chars := n.at(strings.LastIndex(n.Value, name), len(name)); chars > 0 { // a hint replaces the name alone
			f = finding.At(pos, finding.UnknownEarth, "%s has no earth bar %s", pl.Tag, finding.Quote(name)).Span(chars)
		}
		r.Report(f.WithHint(bind.TagLists(r.plant).Bar(name, pl)))
		return nil
	}
	return bar
}

// bonded reads "3..72 step 3 to IE": terminals with an earth foot or a link.
func (r *plantReader) bonded(n node, p *model.Part) {
	bonds := 0
	for _, item := range r.list(n, "bonded terminals") {
		if bonds++; bonds > mostJoined {
			r.tooMany(item.pos(), mostJoined, "terminals named by the bonds of "+p.Tag)
			return
		}
		s := r.text(item)
		i := strings.LastIndex(s, " to ")
		if i < 0 {
			hint := finding.Do(`end it with "to" and an earth bar: %s`, bind.UseBar(p.Place))
			if bars := p.Place.Bars(); len(bars) == 1 {
				hint = finding.Write(s + " to " + bars[0])
			}
			r.Report(item.wrong(finding.MissingEarth, "no earth bar given for the bonded terminals").WithHint(hint))
			continue
		}
		name := strings.TrimSpace(s[i+4:])
		bar := r.earthBar(item, p.Place, name)
		if bar == nil {
			continue
		}
		trimmed := item
		cut := *item.Node
		cut.Value = s[:i]
		trimmed.Node = &cut
		all := r.span(trimmed, p)
		bonds += max(0, len(all)-1)
		for _, t := range all {
			if t.Bond == bar {
				continue // with all that it is joined to
			}
			t.Bond = bar
			for _, o := range t.Joined {
				o.Bond = bar
			}
		}
	}
}

// earths reads the earth bars of a place: name and what it is for.
func (r *plantReader) earths(n node, pl *model.Place) {
	for key, value := range r.entries(n, "earth bar") {
		p := r.newPart(key, pl, model.EarthBar, true)
		if p == nil {
			continue
		}
		p.Device = &model.Device{At: r.text(value)}
		p.AddTerminal(&model.Terminal{Name: key.Value, Bar: true})
	}
}

// join finds what the jumpers of a strip join, or the electronics of a coupler: jumpers
// that share a terminal are one.
func join(p *model.Part) {
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
	groups := p.Jumpers
	if p.Coupler != nil { // its electronics join each pole, and the screens
		for _, role := range []model.Marking{'+', '-', 'S'} {
			all := slices.DeleteFunc(slices.Clone(p.Terminals), func(t *model.Terminal) bool { return t.Role != role })
			if len(all) > 1 {
				groups = append(slices.Clone(groups), all)
			}
		}
	}
	for _, g := range groups {
		for _, t := range g[1:] {
			parent[find(t.Index)] = find(g[0].Index)
		}
	}
	nets := map[int][]*model.Terminal{}
	for i, t := range p.Terminals {
		nets[find(i)] = append(nets[find(i)], t)
	}
	for _, net := range nets {
		for _, t := range net {
			if len(net) > 1 {
				t.Joined = net
			}
		}
	}
}
