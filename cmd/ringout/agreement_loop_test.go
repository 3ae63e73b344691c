package main

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
)

// core colours as a loop diagram letters them, IEC 60757.
var colourLetters = regexp.MustCompile(`^((BK|BN|RD|OG|YE|GN|BU|VT|GY|WH|PK|GD|TQ|SR)+|jumper|colour\?)$`)

// laneRow is one leg of a circuit as read: its terminals by groups, the labels
// of the conductors between them.
type legRow struct {
	base   float64 // of the labels
	groups [][]word
	runs   [][]word // one less
}

// circuitBlock is what a loop diagram shows of one circuit.
type circuitBlock struct {
	name   string
	top    float64
	foot   float64
	words  []word
	legs   []legRow
	device string
	alone  bool               // it has no circle of its own: another circuit has it, or a strip is its first part
	bodies map[float64]string // by column: the card, supply or device that a leg ends in
}

// loopLeaf is a loop diagram while it is read.
type loopLeaf struct {
	*leaf
	pitch  float64
	blocks []*circuitBlock
	places map[float64]string // of the columns, by their middle
	found  *facts
}

// nameDrop is how far the name of a terminal stands below the label of its
// conductor: the one straddles the line, the other rides on it.
const nameDrop = 0.8 * lettering

func (r legRow) names() float64 { return r.base + nameDrop }

// readLoop reads a loop diagram.
func readLoop(l *leaf, found *facts) *loopLeaf {
	r := &loopLeaf{leaf: l, pitch: l.legPitch(), found: found, places: map[float64]string{}}
	r.split()
	r.columns()
	for _, b := range r.blocks {
		r.block(b)
	}
	return r
}

// split finds the circuits by their headings.
func (r *loopLeaf) split() {
	foot := math.Inf(1)
	all := phrases(r.words)
	for _, p := range all {
		switch name, ok := strings.CutPrefix(p.s, "Circuit "); {
		case ok:
			name, _, _ = strings.Cut(name, ", ")
			r.blocks = append(r.blocks, &circuitBlock{name: name, top: p.base()})
		case p.s == "Calibrated, set or sensor" || strings.HasSuffix(p.s, ": test point"):
			foot = min(foot, p.base()-1)
		case p.s == "existing (E)": // in the second row of the key
			foot = min(foot, p.base()-6)
		}
	}
	device := ""
	for i, b := range r.blocks {
		b.foot = foot
		if i+1 < len(r.blocks) {
			b.foot = r.blocks[i+1].top
		}
		b.words = within(r.words, func(w word) bool { return w.base() > b.top+1 && w.base() < b.foot-1 })
		b.readLegs()
		d := r.bubble(b)
		if d != "" {
			device = d
		}
		b.device, b.alone = device, d == ""
	}
}

// readLegs finds the rows that bear labels of conductors, and reads them.
func (b *circuitBlock) readLegs() {
	for _, line := range lines(b.words) {
		labels := within(line, func(w word) bool { return colourLetters.MatchString(w.s) })
		if len(labels) < 2 {
			continue
		}
		row := legRow{base: line[0].base()}
		names := within(b.words, func(w word) bool { return near(w.base(), row.names(), 0.3) })
		slices.SortFunc(names, func(a, b word) int { return cmp.Compare(a.x0, b.x0) })
		first, last := labels[0].x0, labels[len(labels)-1].x1
		// Of what stands left of the first label and right of the last, only the
		// nearest is a terminal.
		before, after := -1, len(names)
		for i, n := range names {
			if n.x1 < first {
				before = i
			}
			if n.x0 > last && after == len(names) {
				after = i
			}
		}
		if before < 0 || after == len(names) {
			continue
		}
		names = names[before : after+1]
		tokens := within(line, func(w word) bool { return w.x0 > names[0].x1 && w.x1 < names[len(names)-1].x0 })
		row.groups = [][]word{{names[0]}}
		for i, n := range names[1:] {
			between := within(tokens, func(w word) bool { return w.x0 > names[i].x1-1 && w.x1 < n.x0+1 })
			if len(between) == 0 {
				k := len(row.groups) - 1
				row.groups[k] = append(row.groups[k], n)
				continue
			}
			row.runs = append(row.runs, between)
			row.groups = append(row.groups, []word{n})
		}
		b.legs = append(b.legs, row)
	}
}

// bubble is the tag in the circle left of the terminals: letters over a number.
// The table of devices has it in full.
func (r *loopLeaf) bubble(b *circuitBlock) string {
	if len(b.legs) == 0 {
		return ""
	}
	x := b.legs[0].groups[0][0].x0
	for _, over := range b.words {
		if over.x1 > x {
			continue
		}
		for _, under := range b.words {
			if near(over.mid(), under.mid(), 1) && near(under.base()-over.base(), 1.1*lettering, 0.25*lettering) {
				if tag := r.deviceTag(over.s, under.s); tag != "" {
					for _, w := range b.words { // which of its outputs
						if strings.HasPrefix(w.s, tag+"/") && w.x1 < x {
							return w.s
						}
					}
					return tag
				}
			}
		}
	}
	return ""
}

func (r *loopLeaf) deviceTag(letters, number string) string {
	var head word
	for _, p := range phrases(r.words) {
		if p.s == "Tag" {
			head = p.word
		}
	}
	for _, w := range r.words {
		if near(w.x0, head.x0, 1) && w.base() > head.base() && strings.Map(noDash, w.s) == letters+strings.Map(noDash, number) {
			return w.s
		}
	}
	return ""
}

func noDash(r rune) rune {
	if strings.ContainsRune("-_ ", r) {
		return -1
	}
	return r
}

// columns tells which columns of terminals stand under which heading: a run of
// wires stays within a place, a cable leads to another, and the headings stand
// in the order of the places.
func (r *loopLeaf) columns() {
	var heads []word
	for _, w := range r.words {
		if len(r.blocks) > 0 && w.base() < r.blocks[0].top && w.high() > 15 {
			heads = append(heads, w)
		}
	}
	slices.SortFunc(heads, func(a, b word) int { return cmp.Compare(a.x0, b.x0) })
	var cols []float64
	for _, b := range r.blocks {
		for _, leg := range b.legs {
			for _, g := range leg.groups {
				if !slices.ContainsFunc(cols, func(x float64) bool { return near(x, g[0].mid(), 3) }) {
					cols = append(cols, g[0].mid())
				}
			}
		}
	}
	slices.Sort(cols)
	at := func(w word) int { return slices.IndexFunc(cols, func(x float64) bool { return near(x, w.mid(), 3) }) }
	same := make([]bool, len(cols)) // as the column before
	for _, b := range r.blocks {
		for _, leg := range b.legs {
			for i := range leg.runs {
				if b.header(leg, i) == "wire" {
					for k := at(leg.groups[i][0]) + 1; k <= at(leg.groups[i+1][0]); k++ {
						same[k] = true
					}
				}
			}
		}
	}
	var clusters [][]float64
	for i, x := range cols {
		if n := len(clusters); i > 0 && same[i] {
			clusters[n-1] = append(clusters[n-1], x)
			continue
		}
		clusters = append(clusters, []float64{x})
	}
	for i, h := range assign(clusters, heads) {
		for _, x := range clusters[i] {
			r.places[x] = heads[h].s
		}
	}
}

// assign gives every cluster of columns a heading, in order, each heading one
// cluster at least, as near to the headings as can be.
func assign(clusters [][]float64, heads []word) []int {
	best, least := []int(nil), math.Inf(1)
	var try func(so []int, cost float64)
	try = func(so []int, cost float64) {
		if cost >= least {
			return
		}
		if len(so) == len(clusters) {
			if len(so) > 0 && so[len(so)-1] == len(heads)-1 {
				best, least = slices.Clone(so), cost
			}
			return
		}
		h := -1
		if len(so) > 0 {
			h = so[len(so)-1]
		}
		c := clusters[len(so)]
		for _, next := range []int{h, h + 1} {
			if next >= 0 && next < len(heads) {
				try(append(so, next), cost+math.Abs((c[0]+c[len(c)-1])/2-heads[next].mid()))
			}
		}
	}
	try(nil, 0)
	return best
}

func (r *loopLeaf) place(w word) string {
	for x, p := range r.places {
		if near(x, w.mid(), 3) {
			return p
		}
	}
	return "no place"
}

// header is what stands over a run: cable, pair, colours of the pair; "wire"
// where nothing does. Legs side by side share what stands over the first.
func (b *circuitBlock) header(leg legRow, i int) string {
	from, to := leg.groups[i], leg.groups[i+1]
	between := within(b.words, func(w word) bool {
		return w.base() < leg.base-1 && w.x0 > from[len(from)-1].x1 && w.x1 < to[0].x0
	})
	var all []string
	at := leg.base
	for _, line := range slices.Backward(lines(between)) {
		base := line[0].base()
		switch {
		case b.onLeg(line[0]):
			if len(all) > 0 {
				return strings.Join(all, " ")
			}
			at = base
			continue
		case at-base > 1.25*lettering:
			return orWire(all)
		}
		all = append([]string{join(line)}, all...)
		at = base
	}
	return orWire(all)
}

func orWire(words []string) string {
	if len(words) == 0 {
		return "wire"
	}
	return strings.Join(words, " ")
}

// onLeg reports whether a word stands in the row of a leg.
func (b *circuitBlock) onLeg(w word) bool {
	return slices.ContainsFunc(b.legs, func(r legRow) bool {
		return near(w.base(), r.base, 0.45) || near(w.base(), r.names(), 0.3)
	})
}

// over returns the nearest word over a place, centred on it.
func (b *circuitBlock) over(x, base float64) string {
	best := word{}
	for _, w := range b.words {
		if near(w.mid(), x, 2.5) && w.base() < base-2 && !b.onLeg(w) && w.s != trunkWord && (best.s == "" || w.base() > best.base()) {
			best = w
		}
	}
	return best.s
}

// trunkWord and spurWords stand between the two terminals of a coupler.
const trunkWord = "trunk"

var spurWords = regexp.MustCompile(`^spur [0-9]+$`)

// outlet returns what stands between a terminal and the one on the next leg, if that is
// what a coupler has there.
func (b *circuitBlock) outlet(x, base, pitch float64) string {
	for _, line := range lines(within(b.words, func(w word) bool {
		return w.base() > base && w.base() < base+pitch && near(w.mid(), x, 15) && !b.onLeg(w)
	})) {
		if s := join(line); (s == trunkWord || spurWords.MatchString(s)) && near((line[0].x0+line[len(line)-1].x1)/2, x, 2.5) {
			return s
		}
	}
	return ""
}

// beside reads the first line of the words right of a terminal.
func (b *circuitBlock) beside(n word) []word {
	right := within(b.words, func(w word) bool {
		return w.x0 > n.x1 && w.base() < n.base()-2 && w.base() > n.base()-12
	})
	if len(right) == 0 {
		return nil
	}
	var words []word
	edge := n.x1 + 5*lettering // past a fuse, if there is one
	// The line that begins nearest to the terminal, the highest of them.
	for _, line := range lines(right) {
		for _, w := range line {
			if w.x0 > edge {
				break
			}
			words, edge = append(words, w), w.x1+14
		}
		if len(words) > 0 {
			return words
		}
	}
	return nil
}

// series reads the part between two terminals of one leg.
func (r *loopLeaf) series(b *circuitBlock, g []word) (tag, channel string) {
	if len(g) > 2 {
		tag = join(g[1 : len(g)-1])
		if t, ch, ok := strings.Cut(tag, "/"); ok && strings.Trim(ch, "0123456789") == "" {
			return t, ch
		}
		return tag, ""
	}
	x := (g[0].mid() + g[1].mid()) / 2
	for _, over := range b.words {
		for _, under := range b.words {
			if near(over.mid(), x, 1.5) && near(under.mid(), x, 1.5) && over.base() < g[0].base() && under.base() > g[0].base() &&
				near(under.base()-over.base(), 1.1*lettering, 0.25*lettering) {
				return r.deviceTag(over.s, under.s), ""
			}
		}
	}
	return b.over(x, g[0].base()), ""
}

// block reads all facts of a circuit.
func (r *loopLeaf) block(b *circuitBlock) {
	b.bodies = map[float64]string{}
	for n, leg := range b.legs {
		if n > 0 && leg.base-b.legs[n-1].base > 1.5*r.pitch {
			clear(b.bodies) // legs that part end in drawings of their own
		}
		ends := make([][2]string, len(leg.groups)) // full tags of in and out
		for i, g := range leg.groups {
			first, last := g[0], g[len(g)-1]
			if len(g) > 1 {
				tag, channel := r.series(b, g)
				ends[i] = [2]string{tag + ":" + first.s, tag + ":" + last.s}
				if channel != "" {
					r.found.add("%s: channel %s of %s", b.name, channel, tag)
				}
				continue
			}
			tag := ""
			if first.s == "cut" && i == len(leg.groups)-1 {
				tag = r.place(first) + " cut back"
			} else if strip := b.over(first.mid(), first.base()); strip != "" && (i > 0 || b.alone && r.place(first) != "FIELD") {
				tag = r.place(first) + "/" + strip + ":" + first.s
				if of := b.outlet(first.mid(), first.base(), r.pitch); of != "" {
					r.found.add("%s: %s is of %s", b.name, tag, of)
				}
				if i == len(leg.groups)-1 {
					if feed := b.beside(first); len(feed) > 0 && strings.Contains(feed[0].s, ":") {
						r.found.add("%s: %s is fed from %s", b.name, tag, feed[0].s)
					}
				}
			} else if i == 0 {
				tag = b.device + ":" + first.s
			} else {
				key := math.Round(first.mid())
				if b.bodies[key] == "" {
					words := b.beside(first)
					if len(words) > 0 {
						b.bodies[key] = words[0].s
					}
					if len(words) == 3 && words[1].s == "channel" {
						r.found.add("%s: channel %s of %s", b.name, words[2].s, words[0].s)
					}
				}
				tag = b.bodies[key] + ":" + first.s
			}
			ends[i] = [2]string{tag, tag}
		}
		last := leg.groups[len(leg.groups)-1]
		for _, w := range b.words {
			if w.s == "parked" && near(w.base(), leg.names(), 0.5) && w.x0 > last[len(last)-1].x1 {
				r.found.add("%s, leg %d: parked", b.name, n+1)
			}
		}
		for i, run := range leg.runs {
			mid := (run[0].x0 + run[len(run)-1].x1) / 2
			left := join(within(run, func(w word) bool { return w.mid() < mid }))
			right := join(within(run, func(w word) bool { return w.mid() >= mid }))
			r.found.add("%s, leg %d: %s (%s) %s (%s) %s", b.name, n+1, ends[i][1], left, b.header(leg, i), right, ends[i+1][0])
		}
	}
	r.screens(b)
}

// screens reads the row under the last leg: terminals, earth bars, and where a
// screen is cut back.
func (r *loopLeaf) screens(b *circuitBlock) {
	if len(b.legs) == 0 {
		return
	}
	last := b.legs[len(b.legs)-1]
	row := last.names() + r.pitch
	for _, w := range b.words {
		switch {
		case near(w.base(), row, 0.3) && r.place(w) != "no place":
			earth := ""
			for _, e := range b.words {
				if e.base() > row+5 && e.base() < row+20 && e.x0 > w.mid() && e.x0 < w.mid()+15 && !strings.Contains(e.s, "/") {
					earth = " earthed on " + e.s
				}
			}
			r.found.add("%s: screen lands on %s:%s%s", b.name, r.screenPart(b, w), w.s, earth)
		case near(w.base(), row+1.75*lettering, 0.5): // straight on an earth bar, under its sign
			for x, place := range r.places {
				switch {
				case !near(w.mid(), x, 3) || w.s == "sh":
				case place == "FIELD":
					r.found.add("%s: screen lands on %s:%s", b.name, b.device, w.s)
				default:
					r.found.add("%s: screen lands on %s/%s:%s", b.name, place, w.s, w.s)
				}
			}
		case w.s == "cut" && near(w.base(), row-0.8*lettering, 1):
			for i, run := range b.legs[0].runs {
				from, to := b.legs[0].groups[i], b.legs[0].groups[i+1][0]
				if w.x0 > from[len(from)-1].x1 && w.x1 < to.x0 && len(run) > 0 {
					side := "left"
					if to.x0-w.x1 < w.x0-from[len(from)-1].x1 {
						side = "right"
					}
					r.found.add("%s: screen cut back at the %s of %s", b.name, side, b.header(b.legs[0], i))
				}
			}
		}
	}
}

// screenPart is the part of the terminal of a screen: the strip over it, else the device or
// card whose terminals stand in its column.
func (r *loopLeaf) screenPart(b *circuitBlock, w word) string {
	if strip := b.over(w.mid(), w.base()); strip != "" {
		return r.place(w) + "/" + strip
	}
	if tag := b.bodies[math.Round(w.mid())]; tag != "" {
		return tag
	}
	return b.device
}

// The legs of a loop diagram stand 10 or 14 mm apart, in points, and further
// where they part.
const (
	narrowLegs = 10 / 25.4 * 72
	wideLegs   = 14 / 25.4 * 72
	partedLegs = 22 / 25.4 * 72 // more
)

// lanePitch is the distance from leg to leg of a loop diagram, where it is seen.
func (l *leaf) legPitch() float64 {
	r := &loopLeaf{leaf: l}
	r.split()
	for _, b := range r.blocks {
		for i := 1; i < len(b.legs); i++ {
			if gap := b.legs[i].base - b.legs[i-1].base; near(gap, wideLegs, 1) || near(gap, wideLegs+partedLegs, 1) {
				return wideLegs
			}
		}
	}
	return narrowLegs
}

// facts is a set of facts that may hold more than once.
type facts map[string]int

func (f *facts) add(format string, args ...any) {
	if *f == nil {
		*f = facts{}
	}
	(*f)[strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " ")]++
}

// without returns, sorted, what f has and g has not.
func (f facts) without(g facts) []string {
	var all []string
	for s, n := range f {
		if n > g[s] {
			all = append(all, s)
		}
	}
	slices.Sort(all) // sorted: output
	return all
}
