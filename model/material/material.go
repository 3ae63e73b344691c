// Package material lists what a scope of work needs: cables, terminals, labels and tests, and
// what has to be isolated for it.
package material

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/copper"
	"ringout/model/english"
)

// Scope is a part of the plant that somebody works on: loops with all their
// wiring, places with all that ends in them, cables with both their ends.
type Scope struct {
	Loops  []*model.Loop
	Places []*model.Place
	Cables []*model.Cable
}

// IncludesCable reports whether a cable as a whole is in the scope: it is named, it ends in
// a place of the scope, or the loops of the scope are all that it carries.
func (s Scope) IncludesCable(p *model.Plant, c *model.Cable) bool {
	if slices.Contains(s.Cables, c) || s.has(c.From.Place) || s.has(c.To.Place) {
		return true
	}
	carried := c.Circuits(p)
	return len(carried) > 0 && !slices.ContainsFunc(carried, func(x *model.Circuit) bool { return !slices.Contains(s.Loops, x.Loop) })
}

// includesLinks reports likewise whether the cable of links by plugs is in the scope.
func (s Scope) includesLinks(c *model.PlugCable) bool {
	return s.has(c.From.Place) || s.has(c.To.Place) || !slices.ContainsFunc(c.Links, func(l *model.Loop) bool { return !slices.Contains(s.Loops, l) })
}

func (s Scope) has(pl *model.Place) bool { return pl != nil && slices.Contains(s.Places, pl) }

// AffectedLoops are the loops that the work of the scope has to do with, in the order
// of the plant: those named, those with wiring in its places or on its cables.
func (s Scope) AffectedLoops(p *model.Plant) []*model.Loop {
	wanted := map[*model.Loop]bool{}
	for _, l := range s.Loops {
		wanted[l] = true
	}
	add := func(w *model.Conductor) {
		if w != nil && w.Circuit != nil {
			wanted[w.Circuit.Loop] = true
		}
	}
	for _, pl := range s.Places {
		for _, w := range p.AtPlace(pl) {
			add(w)
		}
		for _, l := range p.Links(pl) {
			wanted[l] = true
		}
	}
	for _, c := range s.Cables {
		for _, core := range c.CoresAndScreens() {
			add(p.ConductorOf(core))
		}
	}
	return slices.DeleteFunc(slices.Clone(p.Loops), func(l *model.Loop) bool { return !wanted[l] })
}

// RingOutCores are the cores and screens that the scope has rung out: all those of its
// cables that are rung out by themselves.
func (s Scope) RingOutCores(p *model.Plant) []*model.Core {
	var all []*model.Core
	for _, c := range p.Cables {
		if RungOut(c) && s.IncludesCable(p, c) {
			all = append(all, c.CoresAndScreens()...)
		}
	}
	return all
}

// Item is one line of a list of material and work. What is counted at ends has
// its share in the places of the scope; the rest is at the far ends.
type Item struct {
	Group   string       // MaterialGroup, WorkGroup or PracticeGroup
	What    english.Text // such as ferrules
	Of      string       // their size, type or kind; "" for all alike
	N       float64
	Unit    string // "" for pieces
	Ends    bool   // counted at ends, of a scope with places
	Here    float64
	Lengths int    // of cable: in how many
	Missing string // what is not given, so that N is too little, or 0
}

// The groups of items: what is taken, what there is to do, and how.
const (
	MaterialGroup = "material"
	WorkGroup     = "work"
	PracticeGroup = "practice"
)

// unknown stands where the model does not say what kind a thing is.
const unknown = "NOT GIVEN"

// Ferrules is what ferrules are called among the items.
const Ferrules english.Text = "ferrules"

// What is counted, in the order of the list. Each belongs to a group.
const (
	cableLength   english.Text = "cable"
	glands        english.Text = "glands"
	cableTags     english.Text = "cable tags"
	cableTies     english.Text = "cable ties"
	coreMarkers   english.Text = "core markers"
	caps          english.Text = "caps"
	terminalsFit  english.Text = "terminals to fit"
	terminalsUsed english.Text = "used"
	landings      english.Text = "landings"
	inUse         english.Text = "terminals used"
	tests         english.Text = "tests"
)

var itemOrder = []english.Text{
	cableLength, glands, cableTags, cableTies, coreMarkers, Ferrules, caps, terminalsFit, terminalsUsed, "cards", "barriers", "isolators", "supplies", "earth bars",
	landings, inUse, tests,
}

// The tests, in their order.
const (
	throughTest    english.Text = "continuity, core, wire or jumper"
	apartTest      english.Text = "short and earth, core"
	insulationTest english.Text = "insulation, core"
	mainsTest      english.Text = "insulation above extra-low voltage, core"
	identityTest   english.Text = "identity, core or wire"
	screenTest     english.Text = "screen continuity, to earth"
	loopTest       english.Text = "loop check, circuit"
	plugTest       english.Text = "link, plug to plug"
	lossTest       english.Text = "loss of a link, at each rack"
)

var testOrder = []english.Text{throughTest, apartTest, insulationTest, mainsTest, identityTest, screenTest, loopTest, plugTest, lossTest}

// leastRung is the least number of cores of a cable that is rung out by itself.
const leastRung = 4

// RungOut reports whether a cable is rung out by itself; the records of its loops
// prove one of fewer cores.
func RungOut(c *model.Cable) bool {
	return c.Type != nil && c.Type.Groups > 1 && len(c.Cores) >= leastRung
}

// Material counts what the new wiring of a scope takes, and what there is to do
// in it; none of what there is nothing of. Existing wiring takes nothing and is
// tested like the rest; wiring of a later stage takes nothing and is not tested
// yet. The tests are those that the forms of the work ask for: the records of the
// loops of the scope, from end to end, but for the cores of cables that are rung
// out by themselves, and rung, the cores and screens on its ring-out sheets. It is
// a count of what the model says, without waste, and without a time for anything.
// What is in the scope twice counts once.
func Material(p *model.Plant, s Scope, rung []*model.Core) []Item {
	t := tally{plant: p, scope: s, items: map[itemKey]*Item{}, sizes: map[string]copper.Size{}, seen: map[any]bool{}, notGiven: map[string]int{}, strong: map[*model.Cable]bool{}}
	whole := map[*model.Conductor]bool{}
	for _, l := range s.Loops {
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(p) {
				whole[w] = true
			}
		}
	}
	for _, c := range s.Cables {
		for _, core := range c.CoresAndScreens() {
			if w := p.ConductorOf(core); w != nil {
				whole[w] = true
			}
		}
	}
	for _, w := range p.Conductors {
		if whole[w] || s.has(w.From.Where(p)) || s.has(w.To.Where(p)) {
			t.conductor(w, whole[w])
		}
	}
	for _, c := range p.Cables {
		if s.IncludesCable(p, c) {
			t.cable(c)
		}
	}
	for _, c := range p.PlugCables() {
		if s.includesLinks(c) {
			t.cable(c.Cable)
		}
	}
	for _, pl := range s.Places {
		for _, x := range pl.Parts {
			t.part(x)
		}
	}
	t.forms(rung)
	return append(t.list(), t.practice()...)
}

// tally counts.
type tally struct {
	plant *model.Plant
	scope Scope
	items map[itemKey]*Item
	sizes map[string]copper.Size // of the ferrules
	seen  map[any]bool           // terminals, parts and conductors that are counted

	notGiven map[string]int        // of each type, cables of no given length
	strong   map[*model.Cable]bool // of those asked for: whether it carries mains
}

type itemKey struct {
	what english.Text
	of   string
}

// item is the count of a thing.
func (t *tally) item(group string, what english.Text, of string) *Item {
	key := itemKey{what, of}
	if t.items[key] == nil {
		t.items[key] = &Item{Group: group, What: what, Of: of}
	}
	return t.items[key]
}

// at counts a thing at an end.
func (t *tally) at(pl *model.Place, group string, what english.Text, of string, n int) {
	x := t.item(group, what, of)
	x.Ends = len(t.scope.Places) > 0
	if x.N += float64(n); t.scope.has(pl) {
		x.Here += float64(n)
	}
}

// first reports whether a thing is counted for the first time.
func (t *tally) first(x any) bool {
	was := t.seen[x]
	t.seen[x] = true
	return !was
}

// conductor counts what the ends of a conductor take. What they land on is
// counted in the places of the scope, and where all of the conductor is in it.
func (t *tally) conductor(w *model.Conductor, whole bool) {
	if w.Doubt != "" {
		t.item(MaterialGroup, caps, t.plant.Say("ends of cores")).Missing = "those of circuits with errors"
		return
	}
	for _, e := range []model.End{w.From, w.To} {
		pl := e.Where(t.plant)
		if e.Terminal != nil && (whole || t.scope.has(pl)) {
			t.landedOn(e.Terminal)
		}
		if w.Status != model.New || w.Kind == model.JumperRun {
			continue
		}
		switch {
		case e.Terminal != nil:
			t.at(pl, WorkGroup, landings, t.plant.Say("new cores, wires, screens"), 1)
			t.at(pl, MaterialGroup, coreMarkers, "", 1)
			if core := w.Copper(); !w.Screen && core.Class != 1 { // a solid conductor needs none
				t.at(pl, MaterialGroup, Ferrules, ferruleSize(core), 1)
				t.sizes[ferruleSize(core)] = core
			}
		case w.Screen || w.Core != nil && w.Core.IsScreen():
			t.at(pl, MaterialGroup, caps, t.plant.Say("ends of screens"), 1)
		default:
			t.at(pl, MaterialGroup, caps, t.plant.Say("ends of cores"), 1)
			t.at(pl, MaterialGroup, coreMarkers, "", 1)
		}
	}
}

// landedOn counts a terminal that a conductor of the scope lands on. Of a place
// of the scope all terminals are fitted, else those that are landed on.
func (t *tally) landedOn(x *model.Terminal) {
	if x.Part.Barrier != nil || x.Part.Coupler != nil {
		t.part(x.Part)
	}
	if x.Part.Strip == nil || !t.first(x) {
		return
	}
	t.item(WorkGroup, inUse, "all").N++
	if x.Part.Status != model.New || x.Part.Coupler != nil {
		return
	}
	what := terminalsFit
	if t.scope.has(x.Part.Place) {
		what = terminalsUsed
	}
	t.item(MaterialGroup, what, makeOf(t.plant, x)).N++
}

// makeOf is the make of a terminal and the rating of its fuse.
func makeOf(plant *model.Plant, t *model.Terminal) string {
	return strings.TrimSpace(plant.Say(t.Kind.Words()) + " " + t.Fuse.Text)
}

// wordsOf are the kind of a coupler, its spurs and its model.
func wordsOf(x *model.Part) string {
	return strings.TrimSuffix(fmt.Sprintf("%s, %d spurs, %s", x.Kind.Name, len(x.Coupler.Spurs), x.Coupler.Model), ", ")
}

// part counts a part that is to be fitted.
func (t *tally) part(x *model.Part) {
	if x.Status != model.New || !t.first(x) {
		return
	}
	add := func(what english.Text, of string) { t.item(MaterialGroup, what, of).N++ }
	switch {
	case x.Coupler != nil:
		add("couplers", wordsOf(x))
	case x.Strip != nil:
		for _, at := range x.Terminals {
			add(terminalsFit, makeOf(t.plant, at))
		}
	case x.Card != nil:
		add("cards", x.Kind.Name+", "+model.Itoa(x.Card.Channels)+" channels")
	case x.Barrier != nil:
		add(english.Text(x.Kind.Name)+"s", cmp.Or(x.Barrier.Model, unknown))
	case x.Supply != nil:
		add("supplies", x.Supply.Text)
	case len(x.Terminals) > 0 && x.Terminals[0].Bar:
		add("earth bars", "")
	}
}

// cable counts a cable that is to be laid.
func (t *tally) cable(c *model.Cable) {
	if c.Status != model.New || c.Type == nil {
		return
	}
	x := t.item(MaterialGroup, cableLength, c.Type.Name)
	if x.Lengths++; x.Unit == "" { // that of the first
		x.Unit = c.LengthUnit()
	}
	length, _ := model.Convert(c.Length, "m", x.Unit)
	x.N = math.Round((x.N+length)*1000) / 1000
	if c.Length <= 0 {
		t.notGiven[c.Type.Name]++
		x.Missing = "length of " + model.Itoa(t.notGiven[c.Type.Name])
	}
	for _, e := range []model.CableEnd{c.From, c.To} {
		t.at(e.Place, MaterialGroup, glands, cmp.Or(c.Type.Gland, unknown), 1)
		t.at(e.Place, MaterialGroup, cableTags, "", 1)
		t.at(e.Place, MaterialGroup, cableTies, "", t.plant.Practice.TiesPerEnd)
	}
}

// forms counts the tests of the records of the scope, and of the ring-out sheets
// that hold the cores of rung.
func (t *tally) forms(rung []*model.Core) {
	for _, l := range t.scope.AffectedLoops(t.plant) {
		t.link(l)
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(t.plant) {
				if w.Core == nil || !RungOut(w.Core.Cable) {
					t.test(w)
				}
			}
			if c.Signal != model.NoSignal && !c.Signal.Powers() && !c.Common() && !c.Later(t.plant) && len(c.Conductors(t.plant)) > 0 {
				t.item(WorkGroup, tests, t.plant.Say(loopTest)).N++
			}
		}
	}
	for _, core := range rung {
		w := t.plant.ConductorOf(core)
		if w == nil { // the model says nothing of a screen
			w = &model.Conductor{Core: core, Screen: core.IsScreen(), Status: core.Cable.Status}
		}
		t.test(w)
	}
}

// link counts the tests of a link.
func (t *tally) link(l *model.Loop) {
	if l.Segment == nil || l.Later() {
		return
	}
	if l.Plugged() {
		t.item(WorkGroup, tests, t.plant.Say(plugTest)).N++
	}
	if n := len(t.plant.Served(l)); n > 0 {
		t.item(WorkGroup, tests, t.plant.Say(lossTest)).N += float64(n)
	}
}

// test counts the tests of a conductor.
func (t *tally) test(w *model.Conductor) {
	if w.Status == model.Future || !t.first(w) {
		return
	}
	add := func(test english.Text) { t.item(WorkGroup, tests, t.plant.Say(test)).N++ }
	if Identified(w) {
		add(identityTest)
	}
	if w.Screen || w.Core != nil && w.Core.IsScreen() {
		add(screenTest)
		return
	}
	add(throughTest)
	if w.Core != nil {
		add(apartTest)
		test, volts := insulationTest, t.plant.Practice.TestVolts
		if t.mains(w.Core.Cable) {
			test, volts = mainsTest, t.plant.Practice.MainsVolts
		}
		if volts > 0 {
			add(test)
		}
	}
}

// Identified reports whether a form asks that a conductor is the one drawn at both
// ends: every core that is no screen, so that two swapped cores always show, and
// the wires of a sign.
func Identified(c *model.Conductor) bool {
	if c.Core != nil {
		return !c.Screen && !c.Core.IsScreen()
	}
	return c.Role != 0 && strings.ContainsRune("+-QLNE", rune(c.Role))
}

// mains reports whether a cable carries what is above extra-low voltage.
func (t *tally) mains(c *model.Cable) bool {
	is, known := t.strong[c]
	if !known {
		is = c.Mains(t.plant)
		t.strong[c] = is
	}
	return is
}

// rank is the place of a test in their order; -1 of what is none.
func (t *tally) rank(of string) int {
	return slices.IndexFunc(testOrder, func(test english.Text) bool { return t.plant.Say(test) == of })
}

// list are all counts in their order, those of one thing by size or kind.
func (t *tally) list() []Item {
	var all []Item
	for _, x := range t.items { // sorted below
		if x.N > 0 || x.Missing != "" {
			all = append(all, *x)
		}
	}
	slices.SortFunc(all, func(a, b Item) int {
		return cmp.Or(cmp.Compare(slices.Index(itemOrder, a.What), slices.Index(itemOrder, b.What)),
			cmp.Compare(t.rank(a.Of), t.rank(b.Of)), cmp.Compare(a.Of, b.Of))
	})
	return all
}

// ferruleSize is the size alone: class and tin do not matter to a ferrule.
func ferruleSize(c copper.Size) string {
	if c == (copper.Size{}) {
		return unknown
	}
	return copper.Size{Area: c.Area, AWG: c.AWG}.String()
}

// practice is how what was counted is cut, tied and stripped.
func (t *tally) practice() (all []Item) {
	pr := &t.plant.Practice
	counted := t.list()
	if i := slices.IndexFunc(counted, func(x Item) bool { return x.What == cableLength }); i >= 0 {
		unit := counted[i].Unit // that of the lengths
		tail, _ := model.Convert(pr.TailLength, "m", unit)
		tail = math.Round(tail*1000) / 1000
		all = append(all, Item{Group: PracticeGroup, What: cableTies, Of: "at each end of a cable", N: float64(pr.TiesPerEnd)},
			Item{Group: PracticeGroup, What: "cable tails", Of: "spare left at each end", N: tail, Unit: unit})
	}
	for _, x := range counted {
		if x.What != Ferrules || x.Of == unknown {
			continue
		}
		length, ok := pr.Stripped(t.sizes[x.Of])
		missing := ""
		if !ok {
			missing = "strip length"
		}
		n, unit := length.In()
		all = append(all, Item{Group: PracticeGroup, What: "stripped for ferrules", Of: x.Of, N: n, Unit: unit, Missing: missing})
	}
	return all
}
