// Package trunk follows the pair of a segment: which is its trunk and which are its spurs,
// how long they are, what current flows in them and what volts are left at each device.
package trunk

import (
	"slices"

	"ringout/model"
)

// Pair is the pair of a segment as its cores join it: a tree of joints that begins
// where it is supplied from.
type Pair struct {
	Loop    *model.Loop
	Source  *model.Part // supply or port of a card at which it begins; nil where no circuit lands on one
	Joints  []*Joint    // the one of the source first, each after the one it hangs from
	Ends    []*Joint    // of the trunk: of its terminators, or what lies farthest apart
	Trunk   []*Joint    // from one end to the other
	Spurs   []*Spur     // in the order of the trunk
	Away    []*model.Part
	Crossed []*model.Part      // devices that have + of the pair on their -
	Rings   []*model.Conductor // cores that close a ring

	nets  nets
	joint map[*model.Terminal]*Joint // by the first terminal of a net
}

// Joint is one point of the pair: what is joined with no cable between.
type Joint struct {
	Parts   []*model.Part // with a terminal there, in the order of the walk
	Devices []*model.Part // among them, those of the segment
	From    *Joint        // towards the source; nil at the source
	By      *model.Conductor
	Starts  *model.Terminal // where the core comes from, at From
	Ends    *model.Terminal // where it lands here
	Next    []*Joint
}

// Outlet is the coupler and the number of its spur that the cable of a joint comes from,
// seen from the source; nil and 0 where it comes from no spur of a coupler.
func (j *Joint) Outlet() (coupler *model.Part, n int) {
	if j.By == nil {
		return nil, 0
	}
	if t := j.Starts; t.Spur() > 0 {
		return t.Part, t.Spur()
	}
	return nil, 0
}

// Spur is what hangs on the trunk at one joint by one cable.
type Spur struct {
	At      *Joint
	Joints  []*Joint
	Devices []*model.Part
}

// On reports whether a joint is of the trunk.
func (p *Pair) On(j *Joint) bool { return slices.Contains(p.Trunk, j) }

// At is the joint of a terminal of either pole; nil where the pair does not come to it.
func (p *Pair) At(t *model.Terminal) *Joint {
	if j := p.joint[p.nets.root(t)]; j != nil {
		return j
	}
	for _, o := range t.Part.Terminals { // the other of two that a terminator lies across
		if j := p.joint[p.nets.root(o)]; j != nil && slices.Contains(j.Parts, t.Part) && o != t {
			return j
		}
	}
	return nil
}

// pairKey is the key under which the pairs of a plant are kept.
type pairKey struct{}

// Of is the pair of a segment.
func Of(p *model.Plant, l *model.Loop) *Pair {
	return model.Once(p, pairKey{}, func(p *model.Plant) map[*model.Loop]*Pair {
		all := map[*model.Loop]*Pair{}
		for _, l := range p.Loops {
			if l.Segment != nil {
				all[l] = follow(p, l)
			}
		}
		return all
	})[l]
}

// nets are sets of terminals with no cable between, each by one of its terminals.
type nets map[*model.Terminal]*model.Terminal

func (n nets) root(t *model.Terminal) *model.Terminal {
	for n[t] != nil && n[t] != t {
		t = n[t]
	}
	return t
}

func (n nets) join(a, b *model.Terminal) {
	if a, b = n.root(a), n.root(b); a != b {
		n[b] = a
	}
}

// follow walks the pair of a segment from its source.
func follow(p *model.Plant, l *model.Loop) *Pair {
	pair := &Pair{Loop: l, nets: nets{}, joint: map[*model.Terminal]*Joint{}}
	var cores []*model.Conductor
	for _, c := range l.Circuits {
		if c.Broken {
			continue
		}
		pair.within(c)
		for _, w := range c.Conductors(p) {
			switch a, b := w.From.Terminal, w.To.Terminal; {
			case w.Screen || a == nil || b == nil:
			case w.Core != nil:
				cores = append(cores, w)
			default:
				pair.nets.join(a, b)
			}
		}
	}
	plus, minus := source(l)
	if plus == nil {
		return pair
	}
	pair.Source = plus.Part
	reached := reach(pair.nets, cores, minus)
	pair.walk(plus, cores)
	pair.devices(reached)
	pair.trunk()
	return pair
}

// within joins the terminals that jumpers join, and those that a leg goes in and out by
// at a strip.
func (p *Pair) within(c *model.Circuit) {
	for _, st := range c.Stations() {
		for _, x := range st.Terminations {
			if x.In == nil {
				continue
			}
			for _, t := range []*model.Terminal{x.In, x.Out} {
				for _, o := range t.Joined { // by jumpers, or by the electronics of a coupler
					p.nets.join(t, o)
				}
			}
			if st.Part.Strip != nil || st.Part.Device != nil {
				p.nets.join(x.In, x.Out)
			}
		}
	}
}

// source is where a segment begins: the poles of the supply that one of its circuits
// lands on, else the port of a card; nil where there is none.
func source(l *model.Loop) (plus, minus *model.Terminal) {
	for _, supplied := range []bool{true, false} {
		for _, c := range l.Circuits {
			for _, st := range c.Stations() {
				if supplied && st.Part.Supply == nil || !supplied && st.Part.Card == nil {
					continue
				}
				for _, x := range st.Terminations {
					switch {
					case x.In == nil:
					case x.In.Role == '+':
						plus = x.In
					case x.In.Role == '-':
						minus = x.In
					}
				}
				if plus != nil && minus != nil {
					return plus, minus
				}
			}
		}
	}
	return nil, nil
}

// reach are the nets that cores lead to from a terminal.
func reach(n nets, cores []*model.Conductor, from *model.Terminal) map[*model.Terminal]bool {
	reached := map[*model.Terminal]bool{n.root(from): true}
	for grown := true; grown; {
		grown = false
		for _, w := range cores {
			a, b := n.root(w.From.Terminal), n.root(w.To.Terminal)
			if reached[a] != reached[b] {
				reached[a], reached[b], grown = true, true, true
			}
		}
	}
	return reached
}

// walk makes the joints of the positive pole, the nearest first.
func (p *Pair) walk(plus *model.Terminal, cores []*model.Conductor) {
	add := func(root *model.Terminal, from *Joint, by *model.Conductor) *Joint {
		j := &Joint{From: from, By: by}
		p.Joints, p.joint[root] = append(p.Joints, j), j
		return j
	}
	add(p.nets.root(plus), nil, nil)
	p.Joints[0].Parts = []*model.Part{plus.Part}
	used := map[*model.Conductor]bool{}
	for i := 0; i < len(p.Joints); i++ {
		j := p.Joints[i]
		for _, w := range cores {
			a, b := p.nets.root(w.From.Terminal), p.nets.root(w.To.Terminal)
			if used[w] || p.joint[a] != j && p.joint[b] != j {
				continue
			}
			used[w] = true
			near, far := w.To.Terminal, w.From.Terminal
			if p.joint[a] == j {
				near, far = far, near
			}
			if p.joint[p.nets.root(far)] != nil {
				p.Rings = append(p.Rings, w)
				continue
			}
			next := add(p.nets.root(far), j, w)
			next.Starts, next.Ends = near, far
			j.Next = append(j.Next, next)
		}
	}
	for _, c := range p.Loop.Circuits {
		for _, st := range c.Stations() {
			for _, x := range st.Terminations {
				if x.In == nil {
					continue
				}
				if j := p.joint[p.nets.root(x.In)]; j != nil && !slices.Contains(j.Parts, st.Part) {
					j.Parts = append(j.Parts, st.Part)
				}
			}
		}
	}
}

// devices finds at which joint each device hangs. minus are the nets of the negative pole.
func (p *Pair) devices(minus map[*model.Terminal]bool) {
	for _, d := range p.Loop.Devices {
		plus, less := d.TerminalOf('+'), d.TerminalOf('-')
		if plus == nil || less == nil || plus.Signal() != p.Loop.Segment.Kind.Signal {
			continue
		}
		a, b := p.nets.root(plus), p.nets.root(less)
		j := p.joint[a]
		switch {
		case j != nil && minus[b]:
		case p.joint[b] != nil && minus[a]:
			j, p.Crossed = p.joint[b], append(p.Crossed, d)
		default:
			p.Away = append(p.Away, d)
			continue
		}
		j.Devices = append(j.Devices, d)
	}
}

// Hangs reports whether a device hangs on a joint or beyond it, seen from the source.
func (p *Pair) Hangs(j *Joint) bool {
	return len(j.Devices) > 0 || slices.ContainsFunc(j.Next, p.Hangs)
}

// around are the joints that cables join to one.
func (j *Joint) around() []*Joint {
	if j.From == nil {
		return j.Next
	}
	return append([]*Joint{j.From}, j.Next...)
}

// trunk finds the ends of the trunk, the way between them and what hangs on it.
func (p *Pair) trunk() {
	for _, t := range p.Loop.Segment.Terminators {
		if j := p.At(t.At); j != nil && !slices.Contains(p.Ends, j) {
			p.Ends = append(p.Ends, j)
		}
	}
	if len(p.Ends) != 2 {
		p.Ends = []*Joint{p.Joints[0], p.farthest()}
	}
	var up []*Joint // from the first end to the source
	for j := p.Ends[0]; j != nil; j = j.From {
		up = append(up, j)
	}
	var down []*Joint // from the second end until the two meet
	j := p.Ends[1]
	for ; !slices.Contains(up, j); j = j.From {
		down = append([]*Joint{j}, down...)
	}
	p.Trunk = append(up[:slices.Index(up, j)+1:slices.Index(up, j)+1], down...)
	for _, at := range p.Trunk {
		for _, next := range at.around() {
			if p.On(next) {
				continue
			}
			s := &Spur{At: at}
			s.gather(next, at)
			p.Spurs = append(p.Spurs, s)
		}
	}
}

// gather takes in what hangs on a spur.
func (s *Spur) gather(j, from *Joint) {
	s.Joints = append(s.Joints, j)
	s.Devices = append(s.Devices, j.Devices...)
	for _, next := range j.around() {
		if next != from {
			s.gather(next, j)
		}
	}
}

// farthest is the joint that is farthest from the source: of a segment with spurs one
// without a device, where there is any.
func (p *Pair) farthest() *Joint {
	best, most := p.Joints[0], -1.0
	for _, box := range []bool{true, false} {
		for _, j := range p.Joints[1:] {
			if box && !p.Loop.Segment.Kind.Chained && len(j.Devices) > 0 {
				continue
			}
			if far := p.Distance(j); far > most {
				best, most = j, far
			}
		}
		if most >= 0 {
			break
		}
	}
	return best
}

// Distance is how far a joint is from the source along the pair, in m, as far as lengths
// are given.
func (p *Pair) Distance(j *Joint) (m float64) {
	for _, c := range p.Way(j) {
		m += c.Length
	}
	return m
}

// Way are the cables from the source to a joint, the farthest first.
func (p *Pair) Way(j *Joint) (cables []*model.Cable) {
	for ; j.By != nil; j = j.From {
		cables = append(cables, j.By.Core.Cable)
	}
	return cables
}

// GoesOn reports whether the pair goes on past an end of the trunk: by a cable to another
// box, or of a chain to any other device. What only brings the supply does not count.
func (p *Pair) GoesOn(end *Joint) bool {
	for _, s := range p.Spurs {
		if s.At != end {
			continue
		}
		if supply := len(s.Devices) == 0 && slices.Contains(s.Joints, p.Joints[0]); supply {
			continue
		}
		if p.Loop.Segment.Kind.Chained || slices.ContainsFunc(s.Joints, func(j *Joint) bool { return len(j.Devices) == 0 }) {
			return true
		}
	}
	return false
}
