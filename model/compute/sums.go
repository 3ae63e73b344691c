// Package compute finds voltages, currents and resistances of circuits: what a meter reads,
// with and without a fault, and how much is left of each limit. A sum with anything missing
// has no result, and names what is missing.
package compute

import (
	"fmt"
	"math/cmplx"
	"slices"

	"ringout/model"
)

// A circuit is computed as a network over the same graph that is drawn: cores are
// resistors, a two-wire transmitter draws the current that it signals, an output
// pushes it, contacts are open or closed, a coil on AC is an impedance. Cores have
// no reactance: up to 16 mm² it does not count (common practice). Nothing is
// assumed: what a sum needs and the model does not give is asked for by name.

// state is what a circuit is doing while it is computed.
type state struct {
	mA       float64      // of the transmitter or output
	closed   bool         // contact closed, output on
	supply   model.Spread // what supplies and cards give
	hot      bool         // copper at its hottest, else as on test day
	inrush   bool         // an AC coil that has not pulled in yet
	bridge   float64      // nF across an AC contact that is open
	fault    Fault
	lifted   *model.Part // a switch that is off its cores; others are closed then, and drop nothing
	earth    float64     // Ω of a core on earth; 0 for a bolted one
	alone    bool        // without what others let flow in shared feeds
	leaks    bool        // a switch that is off passes all that it may leak
	passes   bool        // or, where the supply has no volts for that, as much as comes
	unloaded bool        // an input whose ohms are not given takes no current
	held     float64     // V that a device which takes a constant power has it at; 0 for those that it gets
	gap      float64     // V that the driver of a probe puts out, below nothing
}

// solver builds and solves the network of one circuit in one state.
type solver struct {
	plant   *model.Plant
	circuit *model.Circuit
	ac      bool
	state   state
	posts   []post // in order of first use
	parent  []int  // of each post: another that it is joined to, or itself
	parts   []partElement
	Missing []string
	fed     []*model.Part // supplies that are in
	overs   []*model.Feed // feeds that are in, of those that run over something
	driven  bool          // something is there that drives its current
	volts   []complex128  // of each post
	Solved  bool
	current complex128 // mA that the supplies and powered channels give
	drawn   float64    // how many mA that are
	sources []sourced
	leak    leak
	eats    float64 // V that the current of a device of constant power was taken at; 0 without one
}

// sourced is what one supply or card gives.
type sourced struct {
	part *model.Part
	mA   complex128
}

// post is one side of a terminal, or a point inside a part.
type post struct {
	t      *model.Terminal
	side   model.Side
	inside int
}

// partElement is an element between two posts.
type partElement struct {
	kind  byte // 'R' ohms, 'I' amperes from a to b, 'V' volts of a above b
	a, b  int  // posts
	value complex128
	from  *model.Part // of a source whose current counts as drawn
}

// compute returns the solved network of a circuit in a state.
func compute(p *model.Plant, c *model.Circuit, st state) *solver {
	s := once(p, c, st)
	if st.held > 0 || s.eats == 0 {
		return s
	}
	return s.settled()
}

// once is the network of a circuit, a device of constant power as its state has it.
func once(p *model.Plant, c *model.Circuit, st state) *solver {
	s := &solver{plant: p, circuit: c, state: st, ac: AC(c)}
	if s.ac && !MayBeAC(c) {
		s.ask("a DC supply of circuit %s", c.Name)
	}
	conductors := c.Conductors(p)
	room := 2*len(conductors) + 16 // for most circuits; each is summed dozens of times
	s.posts, s.parent, s.parts = make([]post, 0, room), make([]int, 0, room), make([]partElement, 0, room)
	for _, w := range conductors {
		if !w.Screen {
			s.conductor(w)
		}
	}
	for _, st := range c.Visits() {
		s.station(st)
	}
	s.upstream(c)
	if !s.driven && c.Signal != model.PulseIn {
		s.ask("what supplies circuit %s", c.Name)
	}
	if s.solve(); s.overleaks() {
		st := s.state
		st.passes = true
		return once(p, c, st)
	}
	return s
}

// noClosedPath is what a sum lacks that has all its values and no answer.
var noClosedPath = []string{"a closed path: the circuit does not add up"}

// ask notes a value that is not given.
func (s *solver) ask(format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	if !slices.Contains(s.Missing, what) {
		s.Missing = append(s.Missing, what)
	}
}

// askOhms notes a resistance that is not given, unless the device is lifted:
// then no current flows, and none is needed.
func (s *solver) askOhms(format string, args ...any) {
	if s.state.fault != openAtDevice {
		s.ask(format, args...)
	}
}

func at(t *model.Terminal, side model.Side) post {
	if !t.HasBreak() {
		side = model.FieldSide
	}
	return post{t: t, side: side}
}

// index is the number of a post, with the two sides of a split terminal joined, closed as
// it stands in service: those of a pin by its contact resistance.
func (s *solver) index(p post) int {
	i, known := s.number(p)
	if !known && p.t != nil && p.t.HasBreak() && p.inside == 0 {
		a, _ := s.number(at(p.t, model.FieldSide))
		b, _ := s.number(at(p.t, model.SystemSide))
		if ohms := s.plant.Practice.ContactOhms(p.t); ohms > 0 {
			s.parts = append(s.parts, partElement{kind: 'R', a: a, b: b, value: complex(ohms, 0)})
		} else {
			s.join(a, b)
		}
	}
	return i
}

// number is the number of a post, and whether it has been used before. A
// circuit has a few dozen posts: looking through them beats a map.
func (s *solver) number(p post) (i int, known bool) {
	if i := slices.Index(s.posts, p); i >= 0 {
		return i, true
	}
	s.posts = append(s.posts, p)
	s.parent = append(s.parent, len(s.parent))
	return len(s.parent) - 1, false
}

func (s *solver) join(a, b int) {
	if a, b := s.root(a), s.root(b); a != b {
		s.parent[b] = a
	}
}

// root is the post that stands for all that are joined with one.
func (s *solver) root(i int) int {
	for s.parent[i] != i {
		i = s.parent[i]
	}
	return i
}

func (s *solver) element(kind byte, a, b post, value float64) {
	s.phasor(kind, a, b, complex(value, 0))
}

// phasor is an element whose value has an angle.
func (s *solver) phasor(kind byte, a, b post, value complex128) {
	i, j := s.index(a), s.index(b)
	if kind == 'R' && value == 0 {
		s.join(i, j)
		return
	}
	s.parts = append(s.parts, partElement{kind: kind, a: i, b: j, value: value})
}

func (s *solver) source(from *model.Part, a, b post, volts float64) {
	s.element('V', a, b, volts)
	s.parts[len(s.parts)-1].from, s.driven = from, true
}

// conductor is a core with its resistance, or a wire or jumper without any.
func (s *solver) conductor(w *model.Conductor) {
	if w.From.Terminal == nil || w.To.Terminal == nil {
		return
	}
	a, b := at(w.From.Terminal, w.From.Side), at(w.To.Terminal, w.To.Side)
	ohms := 0.0
	if w.Core != nil {
		var lacks string
		if ohms, lacks = ohmsOr(w.Core.Cable, s.copper()); lacks != "" {
			s.askOhms("%s", lacks)
		}
	}
	s.element('R', a, b, ohms)
	for _, t := range [...]*model.Terminal{w.From.Terminal, w.To.Terminal} {
		s.feed(t)
		if t.Part.Supply != nil {
			s.supply(t.Part)
		}
	}
}

// upstream adds the wires and strips by which the supply of a circuit is carried on to it. What
// others draw does not count in wires without ohms; in cores it would.
func (s *solver) upstream(c *model.Circuit) {
	for _, l := range c.Upstream() {
		for _, step := range l.Conductors {
			if step.Conductor != nil {
				if step.Conductor.Core != nil {
					s.ask("what all on %s draw together", step.Conductor.Core.Cable.Tag)
				}
				s.conductor(step.Conductor)
			}
			if t := step.Termination; t.Does == model.Lands && t.In != t.Out {
				s.phasor('R', at(t.In, model.FieldSide), at(t.Out, model.FieldSide), 0)
			}
		}
	}
}

// copper is its temperature in °C.
func (s *solver) copper() float64 {
	if s.state.hot {
		return s.plant.Practice.HotCopper.Celsius
	}
	return s.plant.Practice.TestCopper.Celsius
}

// feed joins a fed terminal to its supply, or to the far end of what its feed runs
// over, be it a wire or common cores. Protective earth feeds nothing.
func (s *solver) feed(t *model.Terminal) {
	if t.Fed == nil || t.Fed.Supply.Role == 'E' {
		return
	}
	s.index(at(t, model.FieldSide))
	a, _ := s.number(at(t, model.SystemSide))
	b, _ := s.number(at(t.Fed.Supply, model.FieldSide))
	if f := t.Fed; f.Leg != nil || f.Over != "" {
		s.over(f)
		b, _ = s.number(at(f.To, model.SystemSide))
	}
	s.join(a, b)
	if t.Fed.Supply.Part.Supply != nil {
		s.supply(t.Fed.Supply.Part)
	}
}

// supply adds a supply once.
func (s *solver) supply(p *model.Part) {
	if slices.Contains(s.fed, p) {
		return
	}
	if p.Supply.AC != s.ac {
		s.ask("supplies of one kind: %s is %s", p.Tag, p.Supply.Text)
	}
	s.fed = append(s.fed, p)
	s.source(p, at(p.Terminals[0], model.FieldSide), at(p.Terminals[1], model.FieldSide), s.plant.Practice.Supplied(p.Supply, s.state.supply))
	first, ours := s.plant.Practice.Earthed(s.fed[0]), s.plant.Practice.Earthed(p)
	if first != nil && ours != nil && !s.ac && len(s.fed) > 1 { // joined by way of earth
		a, _ := s.number(at(first, model.FieldSide))
		b, _ := s.number(at(ours, model.FieldSide))
		s.join(a, b)
	}
}

// solve numbers the nodes, grounds each part that hangs together, and solves.
func (s *solver) solve() {
	if len(s.Missing) > 0 {
		return
	}
	net := network{resistors: make([]element, 0, len(s.parts))}
	id := make([]int, len(s.posts)) // of each root, its node from 1
	for i := range s.posts {
		if root := s.root(i); id[root] == 0 {
			id[root] = net.node() + 1
		}
	}
	node := func(i int) int { return id[s.root(i)] - 1 }
	group := make([]int, net.nodes)
	for i := range group {
		group[i] = i
	}
	head := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	var feeds []*model.Part // of each voltage: the supply or card that gives it, or nil
	for _, e := range s.parts {
		a, b := node(e.a), node(e.b)
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
			net.voltages, feeds = append(net.voltages, x), append(feeds, e.from)
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
	s.Solved = true
	s.volts = make([]complex128, len(s.posts))
	for i := range s.posts {
		s.volts[i] = volts[node(i)]
	}
	for i, a := range amps {
		if from := feeds[i]; from != nil {
			s.current += -a * 1000
			s.sources = append(s.sources, sourced{from, -a * 1000})
		}
	}
	s.drawn = s.shown(s.current)
}

// across is the voltage of a above b, RMS and without a sign in an AC circuit;
// false when the network did not solve or does not hold them.
func (s *solver) across(a, b *model.Terminal) (float64, bool) {
	va, okA := s.voltage(at(a, model.FieldSide))
	vb, okB := s.voltage(at(b, model.FieldSide))
	return s.shown(va - vb), okA && okB
}

// shown is what a meter shows of a voltage or current.
func (s *solver) shown(v complex128) float64 {
	if s.ac {
		return cmplx.Abs(v)
	}
	return real(v)
}

// voltage is that of a post; false when the network did not solve or does not
// hold it.
func (s *solver) voltage(p post) (complex128, bool) {
	i := slices.Index(s.posts, p)
	if i < 0 || !s.Solved {
		return 0, false
	}
	return s.volts[i], true
}
