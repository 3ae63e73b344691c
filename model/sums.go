package model

import (
	"fmt"
	"slices"
)

// A circuit is computed as a DC network over the same graph that is drawn:
// cores are resistors, a two-wire transmitter draws the current that it
// signals, an output pushes it, contacts are open or closed. Nothing is
// assumed: what a sum needs and the model does not give is asked for by name.

// state is what a circuit is doing while it is computed.
type state struct {
	mA     float64 // of the transmitter or output
	closed bool    // contact closed, output on
	least  bool    // supplies at their least
	fault  Fault
}

// sum builds and solves the network of one circuit in one state.
type sum struct {
	plant   *Plant
	circuit *Circuit
	state   state
	parent  map[post]post
	posts   []post // in order of first use
	parts   []partElement
	missing []string
	asked   map[string]bool
	volts   map[post]float64
	solved  bool
	drawn   float64 // mA that the supplies and powered channels give
}

// post is one side of a terminal, or a point inside a part.
type post struct {
	t      *Terminal
	side   Side
	inside int
}

// partElement is an element between two posts.
type partElement struct {
	kind  byte // 'R' ohms, 'I' amperes from a to b, 'V' volts of a above b
	a, b  post
	value float64
	feeds bool // a source whose current counts as drawn
}

// compute returns the solved network of a circuit in a state.
func (p *Plant) compute(c *Circuit, st state) *sum {
	s := &sum{plant: p, circuit: c, state: st, parent: map[post]post{}, asked: map[string]bool{}, volts: map[post]float64{}}
	for _, w := range c.Conductors(p) {
		if !w.Screen {
			s.conductor(w)
		}
	}
	done := map[*Station]bool{}
	for _, stn := range c.Stations() {
		if !done[stn] {
			done[stn] = true
			s.station(stn)
		}
	}
	s.solve()
	return s
}

// ask notes a value that is not given.
func (s *sum) ask(format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	if !s.asked[what] {
		s.asked[what] = true
		s.missing = append(s.missing, what)
	}
}

// askOhms notes a resistance that is not given, unless the device is lifted:
// then no current flows, and none is needed.
func (s *sum) askOhms(format string, args ...any) {
	if s.state.fault != OpenAtDevice {
		s.ask(format, args...)
	}
}

func at(t *Terminal, side Side) post {
	if !t.Split() {
		side = FieldSide
	}
	return post{t: t, side: side}
}

func (s *sum) find(p post) post {
	q, ok := s.parent[p]
	if !ok {
		s.parent[p] = p
		s.posts = append(s.posts, p)
		if p.t != nil && p.t.Split() && p.inside == 0 { // closed, as it stands in service
			s.join(at(p.t, FieldSide), at(p.t, SystemSide))
			return s.find(p)
		}
		return p
	}
	if q == p {
		return p
	}
	root := s.find(q)
	s.parent[p] = root
	return root
}

func (s *sum) join(a, b post) {
	ra, rb := s.root(a), s.root(b)
	if ra != rb {
		s.parent[rb] = ra
	}
}

// root is find without the closing of split terminals, which join uses.
func (s *sum) root(p post) post {
	q, ok := s.parent[p]
	if !ok {
		s.parent[p] = p
		s.posts = append(s.posts, p)
		return p
	}
	for q != p {
		p, q = q, s.parent[q]
	}
	return p
}

func (s *sum) element(kind byte, a, b post, value float64) {
	if kind == 'R' && value == 0 {
		s.find(a)
		s.find(b)
		s.join(a, b)
		return
	}
	s.find(a)
	s.find(b)
	s.parts = append(s.parts, partElement{kind: kind, a: a, b: b, value: value})
}

func (s *sum) source(a, b post, volts float64) {
	s.element('V', a, b, volts)
	s.parts[len(s.parts)-1].feeds = true
}

// conductor is a core with its resistance, or a wire or jumper without any.
func (s *sum) conductor(w *Conductor) {
	if w.From.Terminal == nil || w.To.Terminal == nil {
		return
	}
	a, b := at(w.From.Terminal, w.From.Side), at(w.To.Terminal, w.To.Side)
	ohms := 0.0
	if w.Core != nil {
		cable := w.Core.Cable
		var ok bool
		if ohms, _, ok = cable.CoreOhms(s.plant.Practice.Celsius); !ok {
			if cable.Length <= 0 {
				s.askOhms("length of cable %s", cable.Tag)
			} else {
				s.askOhms("ohms of cable type %s", cable.Type.Name)
			}
		}
	}
	s.element('R', a, b, ohms)
	for _, t := range []*Terminal{w.From.Terminal, w.To.Terminal} {
		if t.Fed != nil {
			s.find(at(t, FieldSide))
			s.join(at(t, SystemSide), at(t.Fed.Supply, FieldSide))
			s.supply(t.Fed.Supply.Part)
		} else if t.Part.Supply != nil {
			s.supply(t.Part)
		}
	}
}

// supply adds a supply once.
func (s *sum) supply(p *Part) {
	if p.Supply.AC || s.asked["supply "+p.Tag] {
		return
	}
	s.asked["supply "+p.Tag] = true
	volts := p.Supply.Value
	if s.state.least && p.Supply.Least > 0 {
		volts = p.Supply.Least
	}
	s.source(at(p.Terminals[0], FieldSide), at(p.Terminals[1], FieldSide), volts)
}

// solve numbers the nodes, grounds each part that hangs together, and solves.
func (s *sum) solve() {
	if len(s.missing) > 0 {
		return
	}
	var net network
	id := map[post]int{}
	for _, p := range s.posts {
		root := s.root(p)
		if _, ok := id[root]; !ok {
			id[root] = net.node()
		}
	}
	group := make([]int, net.nodes)
	for i := range group {
		group[i] = i
	}
	var head func(int) int
	head = func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	var feeds []int
	for _, e := range s.parts {
		a, b := id[s.root(e.a)], id[s.root(e.b)]
		if a == b {
			if e.kind == 'V' && e.value != 0 {
				return // a source short-circuited without any resistance
			}
			continue
		}
		group[head(a)] = head(b)
		x := element{a, b, e.value}
		switch e.kind {
		case 'R':
			net.resistors = append(net.resistors, x)
		case 'I':
			net.currents = append(net.currents, x)
		case 'V':
			if e.feeds {
				feeds = append(feeds, len(net.voltages))
			}
			net.voltages = append(net.voltages, x)
		}
	}
	for i := range group {
		if head(i) == i {
			net.grounds = append(net.grounds, i)
		}
	}
	volts, amps, ok := net.solve()
	if !ok {
		return
	}
	s.solved = true
	for _, p := range s.posts {
		s.volts[p] = volts[id[s.root(p)]]
	}
	for _, i := range feeds {
		s.drawn += -amps[i] * 1000
	}
}

// across is the voltage of a above b; false when the network did not solve or
// does not hold them.
func (s *sum) across(a, b *Terminal) (float64, bool) {
	va, okA := s.volts[at(a, FieldSide)]
	vb, okB := s.volts[at(b, FieldSide)]
	return va - vb, s.solved && okA && okB
}

// sortedUnique returns the values in rising order, each once.
func sortedUnique(values []float64) []float64 {
	values = slices.Clone(values)
	slices.Sort(values)
	return slices.Compact(values)
}
