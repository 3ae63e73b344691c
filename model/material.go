package model

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// Scope is a part of the plant that somebody works on: loops with all their
// wiring, places with all that ends in them, cables with both their ends.
type Scope struct {
	Loops  []*Loop
	Places []*Place
	Cables []*Cable
}

// Has tells whether a cable as a whole is in the scope: it is named, it ends in
// a place of the scope, or the loops of the scope are all that it carries.
func (s Scope) Has(p *Plant, c *Cable) bool {
	in := func(pl *Place) bool { return pl != nil && slices.Contains(s.Places, pl) }
	if slices.Contains(s.Cables, c) || in(c.From.Place) || in(c.To.Place) {
		return true
	}
	carried := c.Circuits(p)
	return len(carried) > 0 && !slices.ContainsFunc(carried, func(x *Circuit) bool { return !slices.Contains(s.Loops, x.Loop) })
}

// Count is a number of things of one kind.
type Count struct {
	What string
	N    int
}

// Length is how much of a type of cable is to be laid.
type Length struct {
	Type     string
	Cables   int
	Metres   float64 // of those whose length is given
	NotGiven int     // cables whose length is not
}

// Material is what the new wiring of a scope takes, and what there is to do in
// it. Existing wiring takes nothing and is tested like the rest; wiring of a
// later stage takes nothing and is not tested yet. It is a count of what the
// model says, without waste, and without a time for anything.
type Material struct {
	Ferrules  []Count // one a landing of a stranded core or wire, by size
	Terminals []Count // to be fitted, of strips, by kind
	InUse     int     // terminals of strips that something lands on, new or not
	Glands    []Count // one at each end of a cable, by size
	Markers   int     // one at each end of a conductor that lands, and of a spare core
	CableTags int     // one at each end of a cable
	Ties      int     // at the ends of cables, by the practice
	Cables    []Length
	Landings  int // of new conductors, screens too
	Tests     []Count
	Practice  []Item // how it is done, by the practice
}

// Item is one line of a list of material.
type Item struct {
	Group   string // MaterialGroup, WorkGroup or PracticeGroup
	What    string // such as ferrules
	Of      string // their size, type or kind; "" for all alike
	N       float64
	Unit    string // "" for pieces
	Lengths int    // of cable: in how many
	Missing string // what is not given, so that N is too little, or 0
}

// The groups of items: what is taken, what there is to do, and how.
const (
	MaterialGroup = "material"
	WorkGroup     = "work"
	PracticeGroup = "practice"
)

// Items are all counts in the order of a list; none of what there is nothing of.
func (m Material) Items() (all []Item) {
	count := func(group, what, of string, n int) {
		if n > 0 {
			all = append(all, Item{Group: group, What: what, Of: of, N: float64(n)})
		}
	}
	each := func(group, what string, counts []Count) {
		for _, c := range counts {
			count(group, what, c.What, c.N)
		}
	}
	for _, c := range m.Cables {
		missing := ""
		if c.NotGiven > 0 {
			missing = "length of " + itoa(c.NotGiven)
		}
		all = append(all, Item{MaterialGroup, "cable", c.Type, math.Round(c.Metres*1000) / 1000, "m", c.Cables, missing})
	}
	each(MaterialGroup, "glands", m.Glands)
	count(MaterialGroup, "cable tags", "", m.CableTags)
	count(MaterialGroup, "cable ties", "", m.Ties)
	count(MaterialGroup, "core markers", "", m.Markers)
	each(MaterialGroup, "ferrules", m.Ferrules)
	each(MaterialGroup, "terminals", m.Terminals)
	count(WorkGroup, "landings", "new cores, wires, screens", m.Landings)
	count(WorkGroup, "terminals in use", "new or not", m.InUse)
	each(WorkGroup, "tests", m.Tests)
	return append(all, m.Practice...)
}

// unknown stands where the model does not say what kind a thing is.
const unknown = "NOT GIVEN"

// The tests of Material, in their order.
const (
	throughTest    = "continuity, core or wire"
	apartTest      = "short and earth, core"
	insulationTest = "insulation, core"
	mainsTest      = "insulation above extra-low voltage, core"
	polarityTest   = "polarity, core or wire"
	screenTest     = "screen through and clear of earth"
	loopTest       = "loop check, circuit"
)

var testOrder = []string{throughTest, apartTest, insulationTest, mainsTest, polarityTest, screenTest, loopTest}

// Material counts what a scope takes. What is in it twice counts once.
func (p *Plant) Material(s Scope) Material {
	t := tally{plant: p, glands: map[string]int{}, ferrules: map[string]int{}, terminals: map[string]int{}, tests: map[string]int{}, sizes: map[string]Copper{}, strong: map[*Cable]bool{}}
	whole := map[*Conductor]bool{}
	for _, l := range s.Loops {
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(p) {
				whole[w] = true
			}
			if c.Signal != NoSignal && c.Signal != Power && !c.Later(p) && len(c.Conductors(p)) > 0 {
				t.tests[loopTest]++
			}
		}
	}
	for _, c := range s.Cables {
		for _, core := range c.Strands() {
			if w := p.ConductorOf(core); w != nil {
				whole[w] = true
			}
		}
	}
	used := map[*Terminal]bool{}
	for _, w := range p.Conductors {
		here := [2]bool{whole[w], whole[w]}
		for i, e := range []End{w.From, w.To} {
			if pl := e.Where(p); pl != nil && slices.Contains(s.Places, pl) {
				here[i] = true
			}
		}
		if !here[0] && !here[1] {
			continue
		}
		t.conductor(w, here, used)
	}
	for _, c := range p.Cables {
		if s.Has(p, c) {
			t.cable(c)
		}
	}
	m := &t.material
	m.InUse = len(used)
	m.Ferrules, m.Terminals, m.Glands = counts(t.ferrules), counts(t.terminals), counts(t.glands)
	for _, what := range testOrder {
		if n := t.tests[what]; n > 0 {
			m.Tests = append(m.Tests, Count{what, n})
		}
	}
	m.Practice = t.practice()
	return *m
}

// tally counts.
type tally struct {
	plant                              *Plant
	material                           Material
	ferrules, terminals, glands, tests map[string]int
	sizes                              map[string]Copper // of the ferrules
	strong                             map[*Cable]bool   // of those asked for: whether it carries mains
}

// conductor counts a conductor with those of its ends that are in the scope.
func (t *tally) conductor(w *Conductor, here [2]bool, used map[*Terminal]bool) {
	for i, e := range []End{w.From, w.To} {
		if !here[i] {
			continue
		}
		if e.Terminal == nil {
			if w.Status == ToInstall && w.spareCore() {
				t.material.Markers++
			}
			continue
		}
		if s := e.Terminal.Part; s.Strip != nil && !used[e.Terminal] {
			used[e.Terminal] = true
			if s.Status == ToInstall {
				t.terminals[strings.TrimSpace(e.Terminal.Kind.String()+" "+e.Terminal.Fuse)]++
			}
		}
		if w.Status != ToInstall || w.Kind == JumperRun {
			continue
		}
		t.material.Landings++
		t.material.Markers++
		if copper := w.copper(); !w.Screen && copper.Class != 1 { // a solid conductor needs none
			size := copper.words()
			t.ferrules[size]++
			t.sizes[size] = copper
		}
	}
	if w.Status == Later {
		return
	}
	switch {
	case w.Screen:
		t.tests[screenTest]++
		return
	case w.Kind != JumperRun:
		t.tests[throughTest]++
	}
	if w.Core != nil {
		t.tests[apartTest]++
		test, volts := insulationTest, t.plant.Practice.TestVolts
		if t.mains(w.Core.Cable) {
			test, volts = mainsTest, t.plant.Practice.MainsVolts
		}
		if volts > 0 {
			t.tests[test]++
		}
	}
	if w.Kind != JumperRun && (w.Role == '+' || w.Role == '-') {
		t.tests[polarityTest]++
	}
}

// mains tells whether a cable carries what is above extra-low voltage.
func (t *tally) mains(c *Cable) bool {
	is, known := t.strong[c]
	if !known {
		is = c.Mains(t.plant)
		t.strong[c] = is
	}
	return is
}

// copper is that of a core or wire; zero where it is not given.
func (c *Conductor) copper() Copper {
	switch {
	case c.Core != nil && c.Core.Cable.Type != nil:
		return c.Core.Cable.Type.Copper
	case c.Place != nil:
		return c.Place.Copper
	}
	return Copper{}
}

// words are the size alone: class and tin do not matter to a ferrule.
func (c Copper) words() string {
	if c == (Copper{}) {
		return unknown
	}
	return Copper{Area: c.Area, AWG: c.AWG}.String()
}

// practice is how what was counted is cut, tied and stripped.
func (t *tally) practice() (all []Item) {
	pr := &t.plant.Practice
	if len(t.material.Cables) > 0 {
		all = append(all, Item{Group: PracticeGroup, What: "cable ties", Of: "at each end of a cable", N: float64(pr.Ties)},
			Item{Group: PracticeGroup, What: "cable tails", Of: "left at each end when a cable is cut", N: pr.Tails, Unit: "m"})
	}
	for _, f := range t.material.Ferrules {
		if f.What == unknown {
			continue
		}
		mm, ok := pr.Stripped(t.sizes[f.What])
		missing := ""
		if !ok {
			missing = "strip length"
		}
		all = append(all, Item{PracticeGroup, "stripped for ferrules", f.What, mm, "mm", 0, missing})
	}
	return all
}

// cable counts a cable that is to be laid.
func (t *tally) cable(c *Cable) {
	if c.Status != ToInstall || c.Type == nil {
		return
	}
	m := &t.material
	m.CableTags += 2
	m.Ties += 2 * t.plant.Practice.Ties
	gland := cmp.Or(c.Type.Gland, unknown)
	t.glands[gland] += 2
	i := slices.IndexFunc(m.Cables, func(l Length) bool { return l.Type == c.Type.Name })
	if i < 0 {
		i = len(m.Cables)
		m.Cables = append(m.Cables, Length{Type: c.Type.Name})
	}
	l := &m.Cables[i]
	l.Cables++
	if l.Metres += c.Length; c.Length <= 0 {
		l.NotGiven++
	}
}

// counts turns a tally into a list.
func counts(of map[string]int) []Count {
	var all []Count
	for _, k := range sortedKeys(of) { // sorted: output
		all = append(all, Count{k, of[k]})
	}
	return all
}
