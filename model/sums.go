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

// station adds what a part has between the terminals that the circuit uses.
func (s *sum) station(st *Station) {
	p := st.Part
	switch {
	case p.Card != nil:
		s.channel(p, st.Channel)
	case p.Barrier != nil:
		s.barrier(st)
	case p.Device != nil && p.Kind != earthBar:
		for _, slot := range st.Slots {
			if slot.Does == Lands && slot.In != slot.Out { // in series
				s.load(p, at(slot.In, FieldSide), at(slot.Out, FieldSide))
				return
			}
		}
		s.device(p, st)
	}
}

// pair returns the first two terminals that the circuit lands on at a station.
func pairAt(st *Station) (a, b *Terminal) {
	for _, slot := range st.Slots {
		switch {
		case slot.Does != Lands:
		case a == nil:
			a = slot.In
		case b == nil:
			b = slot.In
		}
	}
	if a != nil && b != nil && (a.Role == '-' || b.Role == '+') {
		a, b = b, a
	}
	return a, b
}

// device adds a field device by its kind.
func (s *sum) device(p *Part, st *Station) {
	ta, tb := pairAt(st)
	if ta == nil || tb == nil {
		return
	}
	a, b := at(ta, FieldSide), at(tb, FieldSide)
	i := s.state.mA / 1000
	switch s.state.fault {
	case EarthOnPlus, EarthOnMinus:
		zero, ok := s.zero()
		if !ok {
			break
		}
		if s.state.fault == EarthOnPlus { // nothing is left to drive the device
			s.element('R', a, zero, 0.01)
			return
		}
		s.element('R', b, zero, 0.01)
	case OpenAtDevice:
		return
	case ShortAtDevice:
		s.element('R', a, b, 0)
		return
	case ReversedAtDevice: // the protection diode of the device blocks
		if ta.Signal() == AnalogIn {
			return
		}
	}
	switch ta.Signal() {
	case AnalogIn, PulseIn:
		if ta.nature() == Source {
			a, b = b, a // it pushes the current out of its + terminal
		}
		s.element('I', a, b, i)
	case AnalogOut, SwitchedOut:
		s.load(p, a, b)
	case ContactIn:
		s.contact(p, a, b)
	case Proximity:
		// IEC 60947-5-6: at most 1.0 mA in one state, at least 2.2 mA in the other.
		s.element('I', a, b, map[bool]float64{false: 0.001, true: 0.0022}[s.state.closed])
	}
}

// load adds a coil, a positioner or an indicator.
func (s *sum) load(p *Part, a, b post) {
	d := p.Device
	if a.t.Role == '-' {
		a, b = b, a
	}
	volts, isDrop := d.Drop.At(s.state.mA)
	switch {
	case isDrop:
		if s.state.mA > 0 {
			s.element('V', a, b, volts)
		}
	case d.Ohms > 0:
		s.element('R', a, b, d.Ohms)
	default:
		s.askOhms("ohms (or drop) of %s", p.Tag)
		s.element('R', a, b, 0)
	}
}

func (s *sum) contact(p *Part, a, b post) {
	d := p.Device
	mid := a
	if d.Series > 0 {
		mid = post{t: a.t, inside: 1}
		s.element('R', a, mid, d.Series)
	}
	if d.Parallel > 0 {
		s.element('R', mid, b, d.Parallel)
	}
	if s.state.closed {
		s.element('R', mid, b, 0)
	}
}

// channel adds what a card has behind the terminals of a channel.
func (s *sum) channel(p *Part, n int) {
	ts := p.Channel(n)
	if len(ts) < 2 {
		return
	}
	a, b := at(ts[0], FieldSide), at(ts[1], FieldSide)
	inside := post{t: ts[0], inside: 1}
	c := p.Card
	ohms := func() float64 {
		if c.Ohms == 0 {
			s.askOhms("ohms of card %s", p.Tag)
		}
		return c.Ohms
	}
	volts := func() float64 {
		v, ok := c.Volts.At(s.state.mA)
		if !ok {
			s.ask("volts of card %s", p.Tag)
		}
		return v
	}
	switch p.Kind.Signal {
	case AnalogIn, PulseIn, ContactIn, Proximity:
		if p.Card.Powers {
			s.source(a, inside, volts())
			s.element('R', b, inside, ohms())
		} else {
			if !ts[1].landed() {
				s.ask("where terminal %s of card %s lands", ts[1].Name, p.Tag)
			}
			s.element('R', a, b, ohms())
		}
	case AnalogOut:
		s.element('I', b, a, s.state.mA/1000)
	case SwitchedOut:
		switch {
		case p.Card.Powers && s.state.closed:
			s.source(a, b, volts())
		case !p.Card.Powers && s.state.closed:
			s.element('R', a, b, 0)
		}
	}
}

// barrier adds the resistance of each lane through a barrier. An isolator is a
// source of its own to the field, and takes the signal's current from the
// system.
func (s *sum) barrier(st *Station) {
	p := st.Part
	b := p.Barrier
	if p.Kind.Name == "isolator" {
		var in, out [2]*Terminal
		for _, slot := range st.Slots {
			if slot.Does != Lands || slot.In == slot.Out {
				continue
			}
			k := 0
			if slot.In.Role == '-' {
				k = 1
			}
			in[k], out[k] = slot.In, slot.Out
		}
		if in[0] == nil || in[1] == nil {
			return
		}
		v, ok := b.Volts.At(s.state.mA)
		if !ok {
			s.ask("volts of isolator %s", p.Tag)
		}
		s.element('V', at(in[0], FieldSide), at(in[1], FieldSide), v)
		s.element('I', at(out[0], FieldSide), at(out[1], FieldSide), s.state.mA/1000)
		return
	}
	if b.Ohms == 0 {
		s.askOhms("ohms of barrier %s", p.Tag)
	}
	for k, slot := range st.Slots {
		if slot.Does != Lands || slot.In == slot.Out {
			continue
		}
		in, out := at(slot.In, FieldSide), at(slot.Out, FieldSide)
		ohms, back := b.Ohms, slot.In.Role == '-' || (slot.In.Role == 0 && k > 0)
		if back && b.Return > 0 {
			ohms = b.Return
		}
		s.element('R', in, post{t: slot.Out, inside: 1}, ohms)
		drop := b.Drop
		if s.state.mA == 0 && !s.state.closed {
			drop = 0
		}
		// The drop lies along the current: towards the field in the + lane.
		if back {
			s.element('V', post{t: slot.Out, inside: 1}, out, drop)
		} else {
			s.element('V', out, post{t: slot.Out, inside: 1}, drop)
		}
	}
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
