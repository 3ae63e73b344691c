package model

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// This file tells in words how two versions of a plant differ. Each is written
// down as subjects (a loop, a cable, a place) with things (a core, a device, a
// strip) that have properties; then the two lists are held side by side.

// Thing is something of a plant that can change, be added or go.
type Thing struct {
	Of         string // loop F-2107, cable W-21, place JB-21, practice
	Name       string // device FT-2107, core W-21-3a, circuit FT-2107
	Properties []Property
}

// Property is one fact of a thing, in words.
type Property struct{ Name, Value string }

// MarkersOf is the property of a conductor with what its two markers read. It is
// not compared with the rest: it follows from the ends.
const MarkersOf = "markers"

// Difference is one difference of two plants.
type Difference struct {
	Of       string // what it belongs to: loop F-2107, cable W-21, place JB-21, practice
	Thing    string // its name
	Property string // "" of a thing that is new or gone
	Change   string // such as: to JB-21/X1:7, was JB-21/X1:4
}

// Words are the thing and how it changed.
func (d Difference) Words() string { return d.Thing + ": " + d.Change }

// Compare lists what differs between two plants, in the order of the new one;
// what is gone comes last.
func Compare(old, now *Plant) []Difference { return Differences(Inventory(old), Inventory(now)) }

// Differences compares the things of two plants like Compare.
func Differences(was, is []Thing) []Difference {
	index := map[[2]string]*Thing{}
	for i := range was {
		index[was[i].key()] = &was[i]
	}
	var all []Difference
	seen := map[[2]string]bool{}
	for i := range is {
		t := &is[i]
		seen[t.key()] = true
		if before := index[t.key()]; before != nil {
			all = append(all, t.changes(before)...)
		} else {
			all = append(all, Difference{t.Of, t.Name, "", "new" + t.short()})
		}
	}
	for i := range was {
		if t := &was[i]; !seen[t.key()] {
			all = append(all, Difference{t.Of, t.Name, "", "gone"})
		}
	}
	return gathered(all)
}

// gathered puts differences of one subject together, where the first of them
// stands.
func gathered(all []Difference) []Difference {
	first := map[string]int{}
	for i, d := range all {
		if _, ok := first[d.Of]; !ok {
			first[d.Of] = i
		}
	}
	slices.SortStableFunc(all, func(a, b Difference) int { return first[a.Of] - first[b.Of] })
	return all
}

// IsCore tells the cores and screens of cables from other things.
func (t *Thing) IsCore() bool {
	return strings.HasPrefix(t.Name, "core ") || strings.HasPrefix(t.Name, "screen ")
}

// key tells what a thing is compared with. A core stays itself when it goes from
// one loop to another, or is a spare no more.
func (t *Thing) key() [2]string {
	if t.IsCore() {
		return [2]string{"", t.Name}
	}
	return [2]string{t.Of, t.Name}
}

// add notes a property.
func (t *Thing) add(name, value string) { t.Properties = append(t.Properties, Property{name, value}) }

// short is where a new conductor runs.
func (t *Thing) short() string {
	from, to := t.Value("from"), t.Value("to")
	if from == "" || to == "" {
		return ""
	}
	return ", from " + from + " to " + to
}

// Value is that of a property; "" where the thing does not have it.
func (t *Thing) Value(name string) string {
	for _, p := range t.Properties {
		if p.Name == name {
			return p.Value
		}
	}
	return ""
}

// changes puts into words what differs from a thing as it was.
func (t *Thing) changes(was *Thing) (all []Difference) {
	compare := func(name, now, before string) {
		words := fmt.Sprintf("%s %s, was %s", name, orNotGiven(now), orNotGiven(before))
		if walk := strings.HasPrefix(t.Name, "circuit "); walk && before == "" {
			words = fmt.Sprintf("by way of %s %s now", name, now)
		} else if walk && now == "" {
			words = fmt.Sprintf("no more by way of %s %s", name, before)
		}
		all = append(all, Difference{t.Of, t.Name, name, words})
	}
	for _, p := range t.Properties {
		if before := was.Value(p.Name); before != p.Value && p.Name != MarkersOf {
			compare(p.Name, p.Value, before)
		}
	}
	for _, p := range was.Properties {
		if p.Value != "" && p.Name != MarkersOf && !slices.ContainsFunc(t.Properties, func(q Property) bool { return q.Name == p.Name }) {
			compare(p.Name, "", p.Value)
		}
	}
	return all
}

func orNotGiven(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}

// Inventory lists all things of a plant, in the order of the text.
func Inventory(p *Plant) []Thing {
	var all []Thing
	start := func(of, name string) *Thing {
		all = append(all, Thing{Of: of, Name: name})
		return &all[len(all)-1]
	}
	t := start("plant", "title")
	for _, f := range []Property{{"name", p.Name}, {"owner", p.Owner}, {"project", p.Project}, {"number", p.Number},
		{"status", p.Status}, {"drawn", p.Drawn}, {"checked", p.Checked}, {"approved", p.Approved}} {
		t.add(f.Name, f.Value)
	}
	start("practice", "practice").fields(p.Practice)
	for _, ct := range p.CableTypes {
		start("cable type "+ct.Name, "make").fields(*ct)
	}
	for _, c := range p.Cables {
		t := start("cable "+c.Tag, "cable "+c.Tag)
		t.fields(*c)
		t.add("from", c.From.Tag())
		t.add("to", c.To.Tag())
		t.add("gland at the from end", c.From.Gland)
		t.add("gland at the to end", c.To.Gland)
	}
	for _, l := range p.Loops {
		of := "loop " + l.Tag
		start(of, "loop").fields(*l)
		for _, d := range l.Devices {
			start(of, "device "+d.Tag).part(d)
		}
		for _, f := range l.Functions {
			t := start(of, "function "+f.Tag)
			t.fields(*f)
			t.add("reads", circuitNames(f.Reads))
			t.add("drives", circuitNames(f.Drives))
		}
		for _, t := range l.Ties() { // its own end is told by the function or device
			start("loop "+t.Other.Tag, "flag "+t.Words())
		}
		for _, c := range l.Circuits {
			t := start(of, "circuit "+c.Name)
			t.add("signal", c.Signal.String())
			t.add("status", c.Status.String())
			if !c.Broken {
				t.walk(c.Path)
			}
		}
	}
	for _, pl := range p.Places {
		of := "place " + pl.Tag
		start(of, pl.Kind.String()).fields(*pl)
		for _, part := range pl.Parts {
			start(of, part.Kind.Name+" "+part.Tag).part(part)
		}
	}
	return append(all, wiring(p)...)
}

// wiring lists the conductors: those of circuits with their loop, the others
// with their cable or place.
func wiring(p *Plant) []Thing {
	var all []Thing
	count := map[[2]string]int{}
	for _, w := range p.Conductors {
		var t Thing
		switch {
		case w.Circuit != nil:
			t.Of = "loop " + w.Circuit.Loop.Tag
		case w.Core != nil:
			t.Of = "cable " + w.Core.Cable.Tag
		case w.Place != nil:
			t.Of = "place " + w.Place.Tag
		default:
			t.Of = "wires"
		}
		switch {
		case w.Core != nil && w.Screen:
			t.Name = "screen " + w.Core.Name()
		case w.Core != nil:
			t.Name = "core " + w.Core.Name()
		case w.Circuit != nil:
			t.Name = fmt.Sprintf("wire of lane %d of %s", w.Lane, w.Circuit.Name)
		default:
			t.Name = "wire from " + w.From.Tag()
		}
		// Wires have no names: they are told apart by their turn on the lane.
		if count[t.key()]++; count[t.key()] > 1 {
			t.Name = fmt.Sprintf("%s, no. %d", t.Name, count[t.key()])
		}
		colour := w.Colour.Letters()
		if w.Screen {
			colour = ""
		}
		role := ""
		if w.Role != 0 {
			role = string(w.Role)
		}
		t.add("from", w.From.Tag())
		t.add("to", w.To.Tag())
		t.add("colour", colour)
		t.add("polarity", role)
		t.add("status", w.Status.String())
		switch {
		case w.Circuit != nil:
			t.add("circuit", w.Circuit.Name)
		case w.Core != nil:
			t.add("circuit", "none")
		}
		if w.Core != nil {
			t.add("cable", w.Core.Cable.Tag)
			t.add("group", w.Core.runsIn())
		}
		var reads []string
		for _, e := range []End{w.From, w.To} {
			if w.marked(e) {
				reads = append(reads, p.Marker(w, e))
			}
		}
		t.add(MarkersOf, strings.Join(reads, ", "))
		all = append(all, t)
	}
	return all
}

// runsIn is the pair of a core, such as pair 3, as short as can be.
func (c *Core) runsIn() string {
	switch {
	case c.Group == 0:
		return "overall screen"
	case c.Cable.Type.Size == 1:
		return fmt.Sprintf("core %d", c.Number)
	}
	return fmt.Sprintf("%s %d", c.Cable.Type.GroupWord(), c.Group)
}

// walk notes where a circuit lands and what carries it.
func (t *Thing) walk(path *Path) {
	note := func(name, value string) {
		for i := range t.Properties {
			if p := &t.Properties[i]; p.Name == name { // once more to the same part
				p.Value += ", " + value
				return
			}
		}
		t.add(name, value)
	}
	for i, s := range path.Stations {
		if j := i - len(path.Stations) + len(path.Runs); j >= 0 {
			if run := path.Runs[j]; run.Cable != nil {
				note(run.Cable.Tag, run.words())
			}
		}
		note(s.Part.Tag, s.words())
	}
	for _, tail := range path.Tails {
		t.walk(tail)
	}
}

// words are the pair of a run, or its single cores.
func (r *Run) words() string {
	s := ""
	if len(r.Cores) > 0 && r.Group > 0 {
		s = r.Cores[0].runsIn()
	} else {
		s = "cores"
		for _, c := range r.Cores {
			s += " " + itoa(c.Number)
		}
	}
	if r.Reversed {
		s += " reversed"
	}
	return s
}

// words are the terminals of a station, or the channel of a card.
func (s *Station) words() string {
	if s.Channel > 0 {
		return fmt.Sprintf("channel %d", s.Channel)
	}
	var names []string
	for _, slot := range s.Slots {
		switch {
		case slot.Does == Cut:
			names = append(names, "cut back")
		case slot.In == nil:
		case slot.Out != nil && slot.Out != slot.In:
			names = append(names, slot.In.Name+"-"+slot.Out.Name)
		default:
			names = append(names, slot.In.Name)
		}
	}
	if t := s.Screen.In; t != nil && t.Part != s.Part {
		names = append(names, "screen "+t.Tag())
	} else if t != nil {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}

// part notes what is known of a part, and of each of its terminals.
func (t *Thing) part(p *Part) {
	t.add("kind", p.Kind.Name)
	t.add("in", p.Where())
	t.add("status", p.Status.String())
	for _, x := range []any{p.Strip, p.Card, p.Device, p.Supply, p.Barrier} {
		if v := reflect.ValueOf(x); !v.IsNil() {
			t.fields(v.Elem().Interface())
		}
	}
	var names []string
	for _, term := range p.Terminals {
		names = append(names, term.Name)
	}
	t.add("terminal names", strings.Join(names, " "))
	for _, term := range p.Terminals {
		var joined []string
		for _, group := range p.Jumpers {
			if slices.Contains(group, term) {
				for _, o := range group {
					if o != term {
						joined = append(joined, o.Name)
					}
				}
			}
		}
		bond, fed, make := "", "", ""
		if term.Bond != nil {
			bond = term.Bond.Tag
		}
		if term.Fed != nil {
			fed = term.Fed.Words()
		}
		if term.Kind != FeedThrough {
			make = term.Kind.String()
		}
		for _, f := range []Property{{"make", make}, {"fuse", term.Fuse.Text}, {"jumpered to", strings.Join(joined, " ")}, {"bonded to", bond}, {"fed from", fed}} {
			if f.Value != "" {
				t.add("terminal "+term.Name+" "+f.Name, f.Value)
			}
		}
	}
}

func circuitNames(all []*Circuit) string {
	var names []string
	for _, c := range all {
		names = append(names, c.Name)
	}
	return strings.Join(names, " ")
}
