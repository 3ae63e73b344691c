package model

import "slices"

// Coupler is what only a coupler has: a strip in a box whose terminals electronics join,
// the trunk of a powered bus with spurs that it limits the current of.
type Coupler struct {
	Spurs  [][]*Terminal // of each spur; the others are of the trunk
	Limit  float64       // mA that a spur is held to, in a short too; 0 when not given
	Drop   float64       // V between trunk and spur; 0 when not given
	Draws  float64       // mA that it takes from the trunk itself; 0 when not given
	Model  string
	Entity Entity // of a field barrier: what each spur gives
}

// Couplers are those that the circuits of a segment land on, each once.
func (l *Loop) Couplers() (all []*Part) {
	for _, c := range l.Circuits {
		if c.Broken {
			continue
		}
		for _, st := range c.Stations() {
			if st.Part.Coupler != nil && !slices.Contains(all, st.Part) {
				all = append(all, st.Part)
			}
		}
	}
	return all
}

// CouplerKinds are the kinds of coupler.
var CouplerKinds = []*Kind{
	{Name: "spur protector", Words: "spur protector"},
	{Name: "field barrier", Words: "field barrier", Guards: true},
}

// Spur is the number of the spur of a coupler that a terminal is of, from 1; 0 for one of
// its trunk, and of any other part.
func (t *Terminal) Spur() int {
	if t.Part.Coupler == nil {
		return 0
	}
	return 1 + slices.IndexFunc(t.Part.Coupler.Spurs, func(s []*Terminal) bool { return slices.Contains(s, t) })
}

// guards reports whether a station makes the circuit intrinsically safe: a barrier or
// isolator, or a spur of a field barrier.
func (st *Station) guards() bool {
	return st.Part.Guards() || st.Part.Kind != nil && st.Part.Kind.Guards &&
		slices.ContainsFunc(st.Terminations, func(x Termination) bool { return x.In != nil && x.In.Spur() > 0 })
}

// GivesAtMost are the safety values of a barrier, an isolator or a field barrier.
func (p *Part) GivesAtMost() Entity {
	if p.Coupler != nil {
		return p.Coupler.Entity
	}
	return p.Barrier.Entity
}
