package imports

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"

	"ringout/model/finding"
)

// This file follows the copper: it puts the cores and wires of circuits in order.

// stop is where a leg lands between two edges. A stop without a part is a cut
// end.
type stop struct {
	part    *anyPart
	channel int
	in, out string
}

func (s stop) same(o stop) bool { return s.part == o.part && s.channel == o.channel }

// leg is one conductor path of a circuit: edge i leads to stop i+1.
type leg struct {
	n     int
	role  string
	edges []*edge
	stops []stop
}

// ended reports whether the leg goes no further than stop at, and landed there.
func (l *leg) ended(at int) bool { return at == len(l.edges) && l.stops[at].part != nil }

// done reports whether the leg goes no further than stop at.
func (l *leg) done(at int) bool { return at >= len(l.edges) }

// walks rebuilds every circuit. Edges that do not fit are lost.
func (im *Importer) walks() {
	im.guessCircuits()
	for _, l := range im.loops {
		for _, c := range l.circuits {
			w := &walker{im: im, told: map[screenEnd]bool{}}
			for _, e := range c.edges {
				if e.isScreen() {
					w.screens = append(w.screens, e)
				}
			}
			if w.legs = im.legsOf(c); len(w.legs) == 0 {
				for _, e := range c.edges {
					im.lose(e.row, "", finding.RowAstray, "the path of circuit %s cannot be followed from here", c.name)
				}
				continue
			}
			c.walk = w.write()
		}
	}
	im.count()
}

// lanesOf puts the edges of a circuit in order: by leg and step where the list
// tells them, else terminal by terminal from the device.
func (im *Importer) legsOf(c *anyCircuit) []*leg {
	var edges []*edge
	told := true
	for _, e := range c.edges {
		if !e.isScreen() {
			edges = append(edges, e)
			told = told && e.leg > 0 && e.step > 0
		}
	}
	var legs []*leg
	if told {
		slices.SortStableFunc(edges, func(a, b *edge) int {
			return cmp.Or(cmp.Compare(a.leg, b.leg), cmp.Compare(a.step, b.step))
		})
		for _, e := range edges {
			if n := len(legs); n == 0 || legs[n-1].n != e.leg {
				legs = append(legs, &leg{n: e.leg})
			}
			l := legs[len(legs)-1]
			l.edges = append(l.edges, e)
		}
	} else {
		legs = im.follow(c, edges)
	}
	var whole []*leg
	for _, l := range legs {
		if l.settle(im, c) {
			whole = append(whole, l)
		}
	}
	return slices.DeleteFunc(whole, func(l *leg) bool {
		first := whole[0]
		if l.stops[0].same(first.stops[0]) {
			return false
		}
		for _, e := range l.edges {
			im.lose(e.row, "from", finding.RowAstray, "circuit %s begins on %s and on %s", c.name, first.stops[0].part.tag, l.stops[0].part.tag)
		}
		return true
	})
}

// settle finds the stops of a leg; false where an edge does not follow the one
// before it.
func (l *leg) settle(im *Importer, c *anyCircuit) bool {
	for i, e := range l.edges {
		if e.from.part == nil {
			im.loseFrom(l.edges[i:], "from", fmt.Sprintf("leg %d of circuit %s does not begin on a terminal here", l.n, c.name))
			l.edges = l.edges[:i]
			break
		}
		if i == 0 {
			l.stops = []stop{e.from.stop()}
		} else {
			last := &l.stops[i]
			if !last.same(e.from.stop()) {
				im.loseFrom(l.edges[i:], "from", fmt.Sprintf("leg %d of circuit %s ends at %s; no wire or core is listed from there to %s", l.n, c.name, l.edges[i-1].to.listed(), e.from.listed()))
				l.edges = l.edges[:i]
				break
			}
			last.out = e.from.name
		}
		l.stops = append(l.stops, e.to.stop())
		if l.role = cmp.Or(l.role, e.role); l.role == "" && i == 0 && (e.from.name == "+" || e.from.name == "-") {
			l.role = e.from.name
		}
	}
	return len(l.edges) > 0
}

func (im *Importer) loseFrom(edges []*edge, column, text string) {
	for _, e := range edges {
		im.lose(e.row, column, finding.RowAstray, "%s", text)
	}
}

func (t terminalEnd) stop() stop {
	if t.part == nil {
		return stop{}
	}
	return stop{part: t.part, channel: t.part.channel(t.name), in: t.name, out: t.name}
}

// channelWord is a terminal of a card as cards have them if nothing is said.
var channelWord = regexp.MustCompile(`^(\d{1,3})(\+|-|[AB][12]?)$`)

// channel is that of a card's terminal; 0 for other parts.
func (p *anyPart) channel(terminal string) int {
	if ch := p.channels[terminal]; ch > 0 || !p.isCard() {
		return ch
	}
	m := channelWord.FindStringSubmatch(terminal)
	if m == nil {
		return 0 // the check asks
	}
	n, _ := strconv.Atoi(m[1])
	return n
}

func (p *anyPart) isCard() bool {
	return p.loop == "" && (p.place != nil || len(p.rows) > 0) && !slices.Contains([]string{"strip", "plug", "earth bar", "barrier", "isolator", "surge protector", "supply"}, p.kind)
}

// isStrip reports whether it has terminals that each stand by themselves: a strip, or a plug.
func (p *anyPart) isStrip() bool { return landings[p.kind] != "" }

// landings are the keys that tell what a circuit lands on, by the kind of part.
var landings = map[string]string{"strip": "terminals", "plug": "pins"}

func (p *anyPart) isDevice() bool { return p.loop != "" }

// through is where a leg leaves a barrier, isolator or surge protector that it entered; "" for
// other parts.
func (p *anyPart) through(in string) string {
	if p.kind != "barrier" && p.kind != "isolator" && p.kind != "surge protector" {
		return ""
	}
	names := p.terminals
	if len(names) == 0 {
		names = []string{"1", "2", "3", "4"}
	}
	i := slices.Index(names, in)
	if i < 0 || len(names)%2 != 0 {
		return ""
	}
	return names[(i+len(names)/2)%len(names)]
}

// follow walks the edges of a circuit from its device, leg by leg, turning
// them round as need be.
func (im *Importer) follow(c *anyCircuit, edges []*edge) []*leg {
	at := map[terminalEnd][]*edge{}
	for _, e := range edges {
		for _, t := range []terminalEnd{e.from, e.to} {
			if t.part != nil {
				at[t] = append(at[t], e)
			}
		}
	}
	start := im.startOf(c, edges)
	if start == nil {
		return nil
	}
	used := map[*edge]bool{}
	next := func(t terminalEnd) *edge {
		for _, e := range at[t] {
			if !used[e] {
				return e
			}
		}
		return nil
	}
	var legs []*leg
	ends := map[*leg]terminalEnd{}
	take := func(l *leg, t terminalEnd, e *edge) { // and all that follow on the same terminals
		for ; e != nil; e = next(t) {
			used[e] = true
			if e.from != t {
				e.from, e.to = e.to, e.from
			}
			l.edges = append(l.edges, e)
			if t = e.to; t.part == nil {
				break
			}
		}
		ends[l] = t
	}
	for _, name := range start.terminals {
		t := terminalEnd{part: start, name: name}
		if e := next(t); e != nil {
			l := &leg{n: len(legs) + 1}
			legs = append(legs, l)
			take(l, t, e)
		}
	}
	// Legs go on through parts in series: through cards last, where a leg of
	// its own may still have to come to the other terminal.
	for _, cards := range []bool{false, true, false} {
		for again := true; again; {
			again = false
			for _, l := range legs {
				t := ends[l]
				if t.part == nil || t.part == start || t.part.isStrip() || t.part.isCard() != cards {
					continue
				}
				if out, e := pass(t, next); e != nil {
					take(l, out, e)
					again = true
				}
			}
		}
	}
	for _, e := range edges {
		if !used[e] {
			im.lose(e.row, "", finding.RowAstray, "nothing joins it to the path of circuit %s", c.name)
		}
	}
	return legs
}

// pass goes through a part in series: by the terminal of a barrier that belongs
// to this one, or by the only other one that an edge goes on from.
func pass(in terminalEnd, next func(terminalEnd) *edge) (terminalEnd, *edge) {
	if out := in.part.through(in.name); out != "" {
		t := terminalEnd{part: in.part, name: out}
		return t, next(t)
	}
	var found terminalEnd
	var on *edge
	for _, name := range in.part.terminals {
		t := terminalEnd{part: in.part, name: name}
		if in.part.channel(name) != in.part.channel(in.name) {
			continue
		}
		if e := next(t); e != nil {
			if on != nil {
				return in, nil // two ways: the list has to tell
			}
			found, on = t, e
		}
	}
	return found, on
}

// startOf is the part that a circuit begins on: the device of its name, the
// first field device, any device, or else the first card.
func (im *Importer) startOf(c *anyCircuit, edges []*edge) *anyPart {
	var best *anyPart
	rank := func(p *anyPart) int {
		switch {
		case p == nil:
			return 0
		case p.isDevice() && p.tag == c.name:
			return 4
		case p.isDevice() && p.place == nil:
			return 3
		case p.isDevice() && (p.use == "" || p.use == "retransmits"):
			return 2
		case p.isDevice(), p.isCard():
			return 1
		}
		return 0
	}
	for _, e := range edges {
		for _, p := range []*anyPart{e.from.part, e.to.part} {
			if rank(p) > rank(best) {
				best = p
			}
		}
	}
	return best
}

// guessCircuits gives the cores that no column puts into a circuit to the
// circuit of the device that they can be followed to. Legs that leave a device
// in one group of a cable are one circuit, with the device's name.
func (im *Importer) guessCircuits() {
	at := map[terminalEnd][]*edge{}
	free := func(e *edge) bool {
		return e.circuit == nil && e.spare == "" && e.wire != "feed" && !e.row.Lost && (e.from.part != nil || e.to.part != nil)
	}
	for _, e := range im.edges {
		if free(e) && !e.isScreen() {
			at[e.from] = append(at[e.from], e)
			at[e.to] = append(at[e.to], e)
		}
	}
	groups := map[*anyCable]map[int]*anyCircuit{}
	for _, e := range im.edges {
		if !free(e) || e.isScreen() {
			continue
		}
		p := e.from.part
		if p == nil || !p.isDevice() {
			p = e.to.part
		}
		if p == nil || !p.isDevice() || p.place != nil {
			continue
		}
		c := groups[e.cable][e.group]
		if c == nil {
			c = im.circuitFrom(p)
			if groups[e.cable] == nil {
				groups[e.cable] = map[int]*anyCircuit{}
			}
			if e.cable != nil {
				groups[e.cable][e.group] = c
				if e.cable.typ.size == 1 { // all cores of a multicore to one device
					for g := range e.cable.typ.groups {
						groups[e.cable][g+1] = c
					}
				}
			}
		}
		for queue := []*edge{e}; len(queue) > 0; queue = queue[1:] {
			x := queue[0]
			if x.circuit != nil {
				continue
			}
			im.join(x, c)
			for _, t := range []terminalEnd{x.from, x.to} {
				if t.part == nil || t.part == p {
					continue
				}
				queue = append(queue, at[t]...)
				if t.part.isStrip() || t.part.kind == "supply" || t.part.kind == "earth bar" {
					continue
				}
				for _, name := range t.part.terminals { // it stands in series
					if t.part.channel(name) == t.part.channel(t.name) {
						queue = append(queue, at[terminalEnd{part: t.part, name: name}]...)
					}
				}
			}
		}
	}
	for _, e := range im.edges { // screens go with their cores
		if e.cable == nil || e.n != 0 || e.circuit != nil || e.spare != "" {
			continue
		}
		var c *anyCircuit
		for _, o := range im.edgesOf(e.cable) {
			if o.n > 0 && o.circuit != nil && (o.group == e.group || e.group == 0 && (e.cable.typ.groups == 1 || e.cable.typ.size == 1)) {
				c = o.circuit
			}
		}
		if c != nil && (e.group > 0 || im.allIn(e.cable, c)) {
			im.join(e, c)
		}
	}
}

// circuitFrom is a circuit that begins on a device, to be followed from there: the one of its
// name, where rows that name it do not come to the device, or else a new one.
func (im *Importer) circuitFrom(p *anyPart) *anyCircuit {
	l, name := im.loop(p.loop), p.tag
	for n := 2; ; n++ {
		i := slices.IndexFunc(l.circuits, func(c *anyCircuit) bool { return c.name == name })
		if i < 0 || !slices.ContainsFunc(l.circuits[i].edges, func(e *edge) bool { return e.from.part == p || e.to.part == p }) {
			return im.circuit(l, name)
		}
		name = fmt.Sprintf("%s %d", p.tag, n)
	}
}

// allIn reports whether every core of a cable is in circuit c.
func (im *Importer) allIn(cable *anyCable, c *anyCircuit) bool {
	return !slices.ContainsFunc(im.edgesOf(cable), func(e *edge) bool { return e.n > 0 && e.circuit != c })
}

// edgesOf are the cores of a cable, in order.
func (im *Importer) edgesOf(c *anyCable) []*edge {
	var all []*edge
	for g := 0; g <= c.typ.groups; g++ {
		for n := 0; n <= c.typ.size; n++ {
			if e := c.cores[[2]int{g, n}]; e != nil {
				all = append(all, e)
			}
		}
	}
	return all
}
