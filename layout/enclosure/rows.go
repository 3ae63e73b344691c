package enclosure

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// partView is a strip, bar, card, barrier, supply or instrument as rows.
type partView struct {
	part    *model.Part
	rows    []placeRow
	tied    []bool // row i stays on one sheet with row i+1
	jumpers []jumper
	joins   map[*model.Terminal]bool // by a jumper
	bonded  []*model.Terminal        // to this earth bar, by their feet
	earths  []string                 // the barriers earthed on this bar
	legs    int                      // that the jumpers need side by side
	number  render.Len               // width that the longest terminal name needs
	spare   int                      // terminals
	safe    bool                     // intrinsically safe conductors land on it
	half    bool                     // may stand on half of a sheet
}

// placeRow is one leg of a terminal with what lands on either side, of many
// spare terminals in a row, a gap in the strip where a screen or core is cut
// back beside its pair, or the earth of a barrier.
type placeRow struct {
	in, out *model.Terminal   // out differs where legs go through a barrier; nil in a gap and for an earth
	leg     int               // of the terminal, from 0
	legs    int               // of the terminal
	spare   []*model.Terminal // all that the row stands for, in the order of the strip; nil for one
	sides   [2]*landing
	earth   bool
	left    []*model.Terminal // that an extract leaves out here, in the order of the strip
	ends    int               // conductors that it leaves out with them, of a bar
}

// landing is one end of a conductor in the place.
type landing struct {
	c        *model.Conductor
	end, far model.End
	safe     bool // intrinsically safe
}

// jumper joins terminals of one part by rows.
type jumper struct {
	rows []int
	leg  int
	c    *model.Conductor // nil when the strip has it built in
}

// bundle is a pair, triad or quad, or a whole cable of single cores.
type bundle struct {
	cable *model.Cable
	group int
}

func bundleOf(c *model.Core) bundle {
	if t := c.Cable.Type; t.Groups == 1 || t.Size == 1 {
		return bundle{c.Cable, 0}
	}
	return bundle{c.Cable, c.Group}
}

// mostTied is how many rows a pair or circuit may reach over and still be kept
// on one sheet.
const mostTied = 12

// viewPlace turns the parts of a place into rows.
func viewPlace(plant *model.Plant, p *model.Place, parts []*model.Part, cables []*model.Cable) *PlaceView {
	v := &PlaceView{place: p, cables: cables}
	cut := map[bundle][]landing{}
	var free []landing
	for _, c := range plant.AtPlace(p) {
		for _, l := range []landing{{c: c, end: c.From, far: c.To}, {c: c, end: c.To, far: c.From}} {
			if l.end.Terminal != nil || l.end.At != p.Tag || c.Core == nil {
				continue
			}
			l.safe = c.IntrinsicallySafe()
			free = append(free, l)
			if c.Circuit != nil {
				b := bundleOf(c.Core)
				cut[b] = append(cut[b], l)
			}
		}
	}
	bonded := map[*model.Part][]*model.Terminal{}
	earths := map[*model.Part][]string{}
	for _, part := range parts {
		if b := part.Barrier; b != nil && b.Earth != nil {
			earths[b.Earth] = append(earths[b.Earth], part.Tag)
		}
		for _, t := range part.Terminals {
			if t.Bond != nil {
				bonded[t.Bond] = append(bonded[t.Bond], t)
			}
		}
	}
	shown := map[*model.Conductor]bool{}
	for _, part := range parts {
		if len(part.Terminals) == 0 {
			continue
		}
		w := viewPart(part, cut, shown)
		w.bonded, w.earths = bonded[part], earths[part]
		v.parts = append(v.parts, w)
	}
	var notLanded []landing
	for _, l := range free {
		if !shown[l.c] {
			notLanded = append(notLanded, l)
		}
	}
	v.totals = []*paper.Table{cableTable(plant, v), v.partTable()}
	v.earths = wording.BarrierEarths(plant, p.Parts)
	v.notLanded = notLandedTable(plant, notLanded)
	return v
}

// viewPart turns one part into rows. What is cut back beside a pair that lands
// here is taken out of cut and put into shown.
func viewPart(part *model.Part, cut map[bundle][]landing, shown map[*model.Conductor]bool) *partView {
	v := &partView{part: part, number: leastNumber, joins: map[*model.Terminal]bool{}}
	last := map[bundle]int{} // the row after which a bundle has landed
	at := map[*model.Terminal]int{}
	for _, j := range part.Jumpers {
		for _, t := range j {
			v.joins[t] = true
		}
	}
	var jumps []*model.Conductor
	for _, t := range part.Terminals {
		if t.Spare() {
			v.spare++
		}
	}
	for i := 0; i < len(part.Terminals); i++ {
		t := part.Terminals[i]
		if spare := v.spareFrom(i); len(spare) >= minSpareSpan {
			v.rows = append(v.rows, placeRow{in: t, out: t, leg: 0, legs: 2, spare: spare}, placeRow{in: t, out: t, leg: 1, legs: 2, spare: spare})
			i += len(spare) - 1
			continue
		}
		w := render.Measure(fonts.Mono, t.Name, paper.Lettered)*paper.LeastNarrow/100 + 2*paper.CellPad
		v.number = max(v.number, min(w, mostNumber))
		out, sides := landingsAt(t)
		if out == nil {
			continue // drawn with the terminal at its other side
		}
		for i, all := range sides {
			sides[i] = slices.DeleteFunc(all, func(l landing) bool {
				inside := l.c.Kind == model.JumperRun && l.far.Terminal != nil && l.far.Terminal.Part == part
				if inside && l.end == l.c.From {
					jumps = append(jumps, l.c)
				}
				return inside
			})
		}
		legs := max(1, len(sides[0]), len(sides[1]))
		end := len(v.rows) + legs - 1
		for leg := range legs {
			r := placeRow{in: t, out: out, leg: leg, legs: legs}
			for i, all := range sides {
				if leg < len(all) {
					r.sides[i] = &all[leg]
					v.safe = v.safe || all[leg].safe
					if core := all[leg].c.Core; core != nil {
						last[bundleOf(core)] = end
					}
				}
			}
			v.rows = append(v.rows, r)
		}
	}
	v.addCuts(last, cut, shown)
	for i := range v.rows {
		if t := v.rows[i].in; t != nil && v.rows[i].leg == 0 {
			at[t] = i
			at[v.rows[i].out] = i
		}
	}
	v.addJumpers(at, jumps)
	if part.Kind.Shunts || part.Kind.Diverts {
		v.rows = append(v.rows, placeRow{legs: 1, earth: true})
	}
	v.tie()
	return v
}

// landingsAt are the landings on a terminal, by side, or on both terminals of a way
// through a barrier: out is the second; nil for the second itself.
func landingsAt(t *model.Terminal) (out *model.Terminal, sides [2][]landing) {
	through := t.Part.Through[t]
	switch {
	case through == nil:
		for _, u := range t.Ends {
			sides[u.Side] = append(sides[u.Side], landingOf(t, u))
		}
		return t, sides
	case through.Index < t.Index:
		return nil, sides
	}
	for side, t := range []*model.Terminal{t, through} {
		for _, u := range t.Ends {
			sides[side] = append(sides[side], landingOf(t, u))
		}
	}
	return through, sides
}

// minSpareSpan is how many spare terminals or channels of one kind in a row are
// drawn as one: their sheets are for what is landed.
const minSpareSpan = 4

// spareFrom returns the terminals from i on that nothing lands on, joins or
// feeds, up to one that differs in kind.
func (v *partView) spareFrom(i int) []*model.Terminal {
	all := v.part.Terminals[i:]
	n := 0
	for n < len(all) {
		t := all[n]
		if !t.Spare() || v.joins[t] || t.Fed != nil || v.part.Through[t] != nil || t.Spur() > 0 || t.Kind != all[0].Kind || t.Fuse != all[0].Fuse {
			break
		}
		n++
	}
	return all[:n]
}

func landingOf(t *model.Terminal, u model.LandedEnd) landing {
	c := u.Conductor
	if c.From.Terminal == t && (c.To.Terminal != t || c.From.Side == u.Side) {
		return landing{c, c.From, c.To, c.IntrinsicallySafe()}
	}
	return landing{c, c.To, c.From, c.IntrinsicallySafe()}
}

// addCuts puts a gap behind the terminals of each bundle of which a core or
// the screen is cut back here.
func (v *partView) addCuts(last map[bundle]int, cut map[bundle][]landing, shown map[*model.Conductor]bool) {
	var rows []placeRow
	for i, r := range v.rows {
		rows = append(rows, r)
		if r.leg+1 < r.legs {
			continue
		}
		// The legs of the terminal are the last rows: look at all of them.
		for _, leg := range rows[len(rows)-r.legs:] {
			for side, l := range leg.sides {
				if l == nil || l.c.Core == nil {
					continue
				}
				b := bundleOf(l.c.Core)
				if last[b] != i {
					continue
				}
				for _, c := range cut[b] {
					gap := placeRow{legs: 1}
					gap.sides[side] = &c
					rows = append(rows, gap)
					shown[c.c] = true
				}
				delete(cut, b)
			}
		}
	}
	v.rows = rows
}

// addJumpers gives every jumper a leg of its own wherever it passes others.
func (v *partView) addJumpers(at map[*model.Terminal]int, jumps []*model.Conductor) {
	add := func(c *model.Conductor, terminals []*model.Terminal) {
		var rows []int
		for _, t := range terminals {
			rows = append(rows, at[t])
		}
		slices.Sort(rows)
		v.jumpers = append(v.jumpers, jumper{rows: rows, c: c})
	}
	for _, j := range v.part.Jumpers {
		add(nil, j)
	}
	for _, c := range jumps {
		add(c, []*model.Terminal{c.From.Terminal, c.To.Terminal})
	}
	slices.SortStableFunc(v.jumpers, func(a, b jumper) int { return a.rows[0] - b.rows[0] })
	var ends []int // of the last jumper in each leg
	for i := range v.jumpers {
		j := &v.jumpers[i]
		leg := slices.IndexFunc(ends, func(end int) bool { return end < j.rows[0] })
		if leg < 0 {
			leg = len(ends)
			ends = append(ends, 0)
		}
		ends[leg] = j.rows[len(j.rows)-1]
		j.leg = leg
	}
	v.legs = len(ends)
}

// tie finds the rows that belong on one sheet: those of a circuit and those of
// a pair with its screen, where they lie near each other, and those of a
// terminal.
func (v *partView) tie() {
	v.tied = make([]bool, len(v.rows))
	first := map[any]int{}
	last := map[any]int{}
	var keys []any
	for i, r := range v.rows {
		// The - and S of a triple stay with its +, landed on or not.
		if i > 0 && (r.earth || r.in != nil && v.part.Strip != nil && (r.in.Role == '-' || r.in.Role == 'S')) {
			v.tied[i-1] = true
		}
		note := func(key any) {
			if _, ok := first[key]; !ok {
				first[key] = i
				keys = append(keys, key)
			}
			last[key] = i
		}
		if r.in != nil {
			note(r.in)
		}
		for _, l := range r.sides {
			if l == nil {
				continue
			}
			if l.c.Circuit != nil {
				note(l.c.Circuit)
			}
			if l.c.Core != nil {
				note(bundleOf(l.c.Core))
			}
		}
	}
	for _, key := range keys {
		if last[key]-first[key] < mostTied {
			for i := first[key]; i < last[key]; i++ {
				v.tied[i] = true
			}
		}
	}
}

// LinkOf is how a terminal is drawn between its sides.
func LinkOf(t *model.Terminal) symbol.TerminalType {
	if t.Kind == model.FeedThrough && t.Bond != nil {
		return symbol.Earthed
	}
	return sheet.SymbolLink(t)
}

// noteOf is what is written on a terminal: its channel, what notesOf has, its deck.
func noteOf(plant *model.Plant, t *model.Terminal) string {
	var words []string
	if common := t.CommonAt(); common != nil {
		words = append(words, common.Channels())
	} else if c := t.Part.Card; c != nil && c.Terminals > 0 && t.Part.Of == nil {
		words = append(words, fmt.Sprintf("ch %d", t.Index/c.Terminals+1))
	}
	words = append(words, notesOf(plant, t)...)
	if deck := deckOf(t); deck != "" {
		words = append(words, "deck "+deck)
	}
	return strings.Join(words, " ")
}

// notesOf are the mark, kind or fuse, and earth of a terminal.
func notesOf(plant *model.Plant, t *model.Terminal) (words []string) {
	if t.Role != 0 {
		words = append(words, wording.Sign(t.Role))
	}
	switch {
	case t.Kind == model.Fused && t.Fuse.Given():
		words = append(words, t.Fuse.Text)
	case t.Kind != model.FeedThrough && t.Kind != model.Pin:
		words = append(words, plant.Say(t.Kind.Words()))
	}
	if t.Bond != nil {
		words = append(words, "to "+t.Bond.Name())
	}
	return words
}

// deckOf is the letter of a deck where a terminal has several: 21A and 21B.
func deckOf(t *model.Terminal) string {
	const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
	base := strings.TrimRight(t.Name, letters)
	if t.Part.Strip == nil || t.Part.Strip.Grid.Given() || base == "" || base == t.Name {
		return ""
	}
	for _, i := range []int{t.Index - 1, t.Index + 1} {
		if i >= 0 && i < len(t.Part.Terminals) {
			other := t.Part.Terminals[i].Name
			if other != base && strings.TrimRight(other, letters) == base {
				return t.Name[len(base):]
			}
		}
	}
	return ""
}
