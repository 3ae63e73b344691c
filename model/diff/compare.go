// Package diff finds what differs between two versions of a plant.
package diff

import (
	"slices"

	"ringout/model"
)

// This file holds two versions of a plant side by side. Each is written down as
// things (a core, a device, a strip) with properties, see Objects; what differs
// is told as facts: which thing, which property, what it was, what it is. Only
// words.go makes words of them.

// Ref names a thing: what it is and its tag. Of wires, which bear no tag, it is
// the circuit or the terminal that they come from, and which of its wires.
type Ref struct {
	Kind string // loop, device, core ...: see the kinds below, and the kinds of device, card and part
	Tag  string // "" of the very thing that a subject is: the loop F-2107 itself among what is of loop F-2107
	Leg  int    // of a wire of a circuit, from 1
	Turn int    // of several of one name, from 2; 0 of the first
}

// Kinds of thing beside those of parts. Registers of issues hold them: they are
// not for rewording.
const (
	OfPlant     = "plant"
	OfPractice  = "practice"
	OfCableType = "cable type"
	OfCable     = "cable"
	OfLoop      = "loop"
	OfPlace     = "place"
	OfDevice    = "device"
	OfFunction  = "function"
	OfFlag      = "flag" // a tie with another loop
	OfCircuit   = "circuit"
	OfCore      = "core"
	OfScreen    = "screen"
	OfWire      = "wire"
)

// Object is something of a plant that can change, be added or go.
type Object struct {
	Of         Ref // whose it is: loop F-2107, cable W-21, place JB-21, practice
	Ref            // what it is: device FT-2107, core W-21-3a, circuit FT-2107
	Properties []Property
}

// Property is one fact of a thing. Keys are those of the language where it has
// one for it; values are as the text has them, with the unit that the plant keeps
// them in. Neither is for rewording: registers of issues hold both.
type Property struct {
	Key   string
	At    string // the terminal, end, part or cable of the thing that has it; "" for the thing
	Value string // never "" in an inventory, where what is not given is not there
}

// Keys of properties that are asked for by name.
const (
	KeyFrom     = "from"
	KeyTo       = "to"
	KeyCable    = "cable"
	KeyGroup    = "group"
	KeyCircuit  = "circuit"
	KeyStatus   = "status"
	KeySignal   = "signal"
	KeyPolarity = "polarity"
	// KeyVia is that of a circuit at each part and cable on its path.
	KeyVia = "via"
	// KeyMarkers is that of a conductor with what its two markers read. It is not
	// compared with the rest: it follows from the ends.
	KeyMarkers = "markers"
)

// Difference is one difference of two plants: of a property, or with no key of a
// thing that is new or gone.
type Difference struct {
	Of      Ref
	Thing   Ref
	Old     *Object // nil of a thing that is new
	New     *Object // nil of a thing that is gone
	Key, At string  // of the property
	Was, Is string  // "" for not given
}

// Compare lists what differs between two plants, in the order of the new one;
// what is gone comes last.
func Compare(old, now *model.Plant) []Difference { return Differences(Objects(old), Objects(now)) }

// Differences compares the things of two plants like Compare. Other words for the same path
// are no difference.
func Differences(was, is []Object) []Difference {
	was, _ = Reword(was, is)
	index := map[[2]Ref]*Object{}
	for i := range was {
		index[was[i].key()] = &was[i]
	}
	var all []Difference
	seen := map[[2]Ref]bool{}
	for i := range is {
		t := &is[i]
		seen[t.key()] = true
		if before := index[t.key()]; before != nil {
			all = append(all, t.changes(before)...)
		} else {
			all = append(all, Difference{Of: t.Of, Thing: t.Ref, New: t})
		}
	}
	for i := range was {
		if t := &was[i]; !seen[t.key()] {
			all = append(all, Difference{Of: t.Of, Thing: t.Ref, Old: t})
		}
	}
	return gathered(all)
}

// gathered puts differences of one subject together, where the first of them
// stands.
func gathered(all []Difference) []Difference {
	first := map[Ref]int{}
	for i, d := range all {
		if _, ok := first[d.Of]; !ok {
			first[d.Of] = i
		}
	}
	slices.SortStableFunc(all, func(a, b Difference) int { return first[a.Of] - first[b.Of] })
	return all
}

// IsCore reports whether the thing is a core or screen of a cable.
func (r Ref) IsCore() bool { return r.Kind == OfCore || r.Kind == OfScreen }

// IsConductor reports whether the thing is a core, a screen or a wire.
func (r Ref) IsConductor() bool { return r.IsCore() || r.Kind == OfWire }

// key returns what a thing is compared with. A core stays itself when it goes from
// one loop to another, or is a spare no more.
func (t *Object) key() [2]Ref {
	if t.IsCore() {
		return [2]Ref{{}, t.Ref}
	}
	return [2]Ref{t.Of, t.Ref}
}

// add notes a property of the thing; put one at a terminal, end or part of it.
// What is not given is not noted.
func (t *Object) add(key, value string) { t.put(key, "", value) }

func (t *Object) put(key, at, value string) {
	if value != "" {
		t.Properties = append(t.Properties, Property{key, at, value})
	}
}

// Value returns that of a property; "" where the thing does not have it.
func (t *Object) Value(key string) string { return t.at(key, "") }

func (t *Object) at(key, at string) string {
	for _, p := range t.Properties {
		if p.Key == key && p.At == at {
			return p.Value
		}
	}
	return ""
}

// changes lists what differs from a thing as it was.
func (t *Object) changes(was *Object) (all []Difference) {
	compare := func(key, at, before, now string) {
		if before != now && key != KeyMarkers {
			all = append(all, Difference{t.Of, t.Ref, was, t, key, at, before, now})
		}
	}
	for _, p := range t.Properties {
		compare(p.Key, p.At, was.at(p.Key, p.At), p.Value)
	}
	for _, p := range was.Properties {
		if t.at(p.Key, p.At) == "" {
			compare(p.Key, p.At, p.Value, "")
		}
	}
	return all
}
