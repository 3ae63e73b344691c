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

// Difference is one difference of two plants.
type Difference struct {
	Of    string // what it belongs to: loop F-2107, cable W-21, place JB-21, practice
	Words string // such as: core W-21/3a: to JB-21/X1:7, was JB-21/X1:4
}

// Compare lists what differs between two plants, in the order of the new one;
// what is gone comes last.
func Compare(old, now *Plant) []Difference {
	was, is := inventory(old), inventory(now)
	index := map[[2]string]thing{}
	for _, t := range was {
		index[t.key()] = t
	}
	var all []Difference
	seen := map[[2]string]bool{}
	for _, t := range is {
		seen[t.key()] = true
		before, ok := index[t.key()]
		if !ok {
			all = append(all, Difference{t.of, t.name + ": new" + t.short()})
			continue
		}
		for _, words := range t.changes(before) {
			all = append(all, Difference{t.of, t.name + ": " + words})
		}
	}
	for _, t := range was {
		if !seen[t.key()] {
			all = append(all, Difference{t.of, t.name + ": gone"})
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

// thing is something that can change, be added or go.
type thing struct {
	of, name   string
	core       bool // of a cable
	properties []property
}

type property struct{ name, value string }

// key tells what a thing is compared with. A core stays itself when it goes from
// one loop to another, or is a spare no more.
func (t *thing) key() [2]string {
	if t.core {
		return [2]string{"", t.name}
	}
	return [2]string{t.of, t.name}
}

// add notes a property.
func (t *thing) add(name, value string) { t.properties = append(t.properties, property{name, value}) }

// short is where a new conductor runs.
func (t *thing) short() string {
	from, to := t.value("from"), t.value("to")
	if from == "" || to == "" {
		return ""
	}
	return ", from " + from + " to " + to
}

func (t *thing) value(name string) string {
	for _, p := range t.properties {
		if p.name == name {
			return p.value
		}
	}
	return ""
}

// changes puts into words what differs from a thing as it was.
func (t *thing) changes(was thing) (words []string) {
	for _, p := range t.properties {
		if before := was.value(p.name); before != p.value {
			words = append(words, fmt.Sprintf("%s %s, was %s", p.name, orNotGiven(p.value), orNotGiven(before)))
		}
	}
	for _, p := range was.properties {
		if p.value != "" && !slices.ContainsFunc(t.properties, func(q property) bool { return q.name == p.name }) {
			words = append(words, fmt.Sprintf("%s %s, was %s", p.name, orNotGiven(""), p.value))
		}
	}
	return words
}

func orNotGiven(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}

// inventory lists all things of a plant, in the order of the text.
func inventory(p *Plant) []thing {
	var all []thing
	start := func(of, name string) *thing {
		all = append(all, thing{of: of, name: name})
		return &all[len(all)-1]
	}
	t := start("plant", "title")
	for _, f := range []property{{"name", p.Name}, {"owner", p.Owner}, {"project", p.Project}, {"number", p.Number},
		{"status", p.Status}, {"drawn", p.Drawn}, {"checked", p.Checked}, {"approved", p.Approved}} {
		t.add(f.name, f.value)
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
		for _, c := range l.Circuits {
			t := start(of, "circuit "+c.Name)
			t.add("signal", c.Signal.String())
			t.add("status", c.Status.String())
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
func wiring(p *Plant) []thing {
	var all []thing
	count := map[[2]string]int{}
	for _, w := range p.Conductors {
		t := thing{core: w.Core != nil}
		switch {
		case w.Circuit != nil:
			t.of = "loop " + w.Circuit.Loop.Tag
		case w.Core != nil:
			t.of = "cable " + w.Core.Cable.Tag
		case w.Place != nil:
			t.of = "place " + w.Place.Tag
		default:
			t.of = "wires"
		}
		switch {
		case w.Core != nil && w.Screen:
			t.name = "screen " + w.Core.Name()
		case w.Core != nil:
			t.name = "core " + w.Core.Name()
		case w.Circuit != nil:
			t.name = fmt.Sprintf("wire of lane %d of %s", w.Lane, w.Circuit.Name)
		default:
			t.name = "wire from " + w.From.Tag()
		}
		// Wires have no names: they are told apart by their turn on the lane.
		if count[t.key()]++; count[t.key()] > 1 {
			t.name = fmt.Sprintf("%s, no. %d", t.name, count[t.key()])
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
		if w.Core != nil && w.Circuit != nil {
			t.add("circuit", w.Circuit.Name)
		} else if w.Core != nil {
			t.add("circuit", "none")
		}
		all = append(all, t)
	}
	return all
}

// part notes what is known of a part, and of each of its terminals.
func (t *thing) part(p *Part) {
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
			fed = term.Fed.Supply.Tag()
		}
		if term.Kind != FeedThrough {
			make = term.Kind.String()
		}
		for _, f := range []property{{"make", make}, {"fuse", term.Fuse}, {"jumpered to", strings.Join(joined, " ")}, {"bonded to", bond}, {"fed from", fed}} {
			if f.value != "" {
				t.add("terminal "+term.Name+" "+f.name, f.value)
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
