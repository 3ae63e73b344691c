package model

import (
	"fmt"
	"strconv"
	"strings"
)

// run binds what carries the lanes: CABLE [pair N ...] [reversed], wires or jumper.
func (w *walker) run(path *Path, s step) *Run {
	first := s.words[0]
	r := &Run{Pos: first.pos}
	if kind, ok := runWords[first.text]; ok {
		r.Kind = kind
		w.wires(r, path, s.words[1:])
		return r
	}
	r.Cable = w.plant.cables[first.text]
	if r.Cable.Type == nil || len(r.Cable.Cores) == 0 {
		w.broken = true // reported where the cable is written
		return r
	}
	words := s.words[1:]
	if n := len(words); n > 0 && words[n-1].text == "reversed" {
		r.Reversed, words = true, words[:n-1]
	}
	if len(words) == 0 {
		words = w.onlyCores(r.Cable, len(path.Lanes), first)
	}
	if len(words) > 0 && w.cores(r, path, words) {
		w.settleCores(r, path, s)
	}
	return r
}

// wires takes the colours of wires or jumpers.
func (w *walker) wires(r *Run, path *Path, colours []token) {
	for _, t := range colours {
		c, ok := ParseColour(t.text)
		if !ok {
			w.fail(t, UnknownColour, "IEC 60757 letters such as BU or WHBU, or words", "%q is not a colour", t.text)
			return
		}
		r.Colours = append(r.Colours, c)
	}
	if n := len(r.Colours); n > 1 && n != len(path.Lanes) {
		w.fail(colours[0], ColoursMismatch, "", "colours given: %d, wires: %d", n, len(path.Lanes))
	}
}

// onlyCores are the words for the cores of a cable that is named alone, at a token:
// there is no choice which. None where there is one.
func (w *walker) onlyCores(cable *Cable, lanes int, at token) []token {
	switch size := cable.Type.Size; {
	case size == 1 && (len(cable.Cores) == lanes || cable.Type.Groups == 1):
		words := []token{{"cores", at.pos}}
		for i := range cable.Cores {
			words = append(words, token{strconv.Itoa(i + 1), at.pos})
		}
		return words
	case cable.Type.Groups == 1:
		return []token{{cable.Type.GroupWord(), at.pos}, {"1", at.pos}}
	}
	w.fail(at, PairMissing, fmt.Sprintf("%s %s 1", cable.Tag, cable.Type.GroupWord()),
		"which %s of %s is not said", cable.Type.GroupWord(), cable.Tag)
	return nil
}

// cores takes the cores that words such as pair 3 name; false where they name none.
func (w *walker) cores(r *Run, path *Path, words []token) bool {
	cable, size := r.Cable, r.Cable.Type.Size
	word := words[0]
	asked, ok := groupSizes[word.text]
	one := strings.TrimSuffix(word.text, "s")
	switch {
	case !ok:
		w.fail(word, UnknownWord, "pair, triad, quad, core or reversed", "%q is not a word for part of a cable", word.text)
		return false
	case asked != 1 && asked != size:
		w.fail(word, GroupMismatch, fmt.Sprintf("%s %s 1", cable.Tag, cable.Type.GroupWord()),
			"%s is laid up in %ss, not in %ss", cable.Tag, cable.Type.GroupWord(), one)
		return false
	case len(words) == 1:
		w.fail(word, PairMissing, "", "which %s of %s is not said", word.text, cable.Tag)
		return false
	}
	named, limit := word.text, cable.Type.Groups
	if asked == 1 {
		limit = len(cable.Cores)
	}
	for i, t := range words[1:] {
		if i*asked >= len(path.Lanes) {
			w.fail(t, CoresOver, cable.Tag+" "+named, "%s here, and more of %s than that is named", coresArrive(len(path.Lanes)), cable.Tag)
			return false
		}
		named += " " + t.text
		n, err := strconv.Atoi(t.text)
		if err != nil || n < 1 || n > limit {
			w.fail(t, UnknownCore, fmt.Sprintf("%s has %ss 1 to %d", cable.Tag, one, limit), "%s has no %s %s", cable.Tag, one, t.text)
			return false
		}
		r.Cores = append(r.Cores, cable.Cores[(n-1)*asked:n*asked]...)
	}
	if last := r.Cores[len(r.Cores)-1].Group; asked != 1 && r.Cores[0].Group == last {
		if r.Group = last; asked == 2 {
			w.orient(path, r)
		}
	}
	return true
}

// settleCores turns the cores of a run that is reversed, gives each lane one, and
// takes the screen round them.
func (w *walker) settleCores(r *Run, path *Path, s step) {
	cable, group := r.Cable, r.Cores[len(r.Cores)-1].Group
	if r.Reversed {
		if len(r.Cores) != 2 {
			w.fail(s.words[len(s.words)-1], ReversedGroup, "", "only a pair can be reversed")
			return
		}
		r.Cores[0], r.Cores[1] = r.Cores[1], r.Cores[0]
	}
	if len(r.Cores) < len(path.Lanes) {
		w.fail(s.words[0], CoresShort, "", "circuit %s has %d lanes here, and %s gives %d of its cores",
			w.circuit.Name, len(path.Lanes), cable.Tag, len(r.Cores))
		return
	}
	r.Cores = r.Cores[:len(path.Lanes)]
	switch {
	case len(cable.Screens) > 0:
		r.Screen = cable.Screens[group-1]
	case cable.Overall != nil && (cable.Type.Groups == 1 || len(r.Cores) == len(cable.Cores)):
		r.Screen = cable.Overall
	}
}

// orient gives the positive core of a pair to the lane marked +. Where a lane
// walks alone, it takes the core that it would have in company.
func (w *walker) orient(path *Path, r *Run) {
	first := w.circuit.Lanes[path.Lanes[0]-1]
	minus := first.Role == '-'
	polar := minus || first.Role == '+'
	swap := minus == (w.plant.PositiveCore(r.Cable.Type) == 1)
	if len(path.Lanes) > 1 {
		second := w.circuit.Lanes[path.Lanes[1]-1].Role
		polar = polar && (second == '+' || second == '-') && second != first.Role
		swap = swap && polar // without polarity in the order of the text
	} else if !polar {
		swap = first.N%2 == 0
	}
	if swap {
		r.Cores[0], r.Cores[1] = r.Cores[1], r.Cores[0]
	}
}

// PositiveCore tells which core of a pair of this type carries +: what its
// colour code says, or else the plant's practice.
func (p *Plant) PositiveCore(t *CableType) int {
	if t.Code != nil && t.Code.Positive() > 0 {
		return t.Code.Positive()
	}
	return p.Practice.PositiveCore
}
