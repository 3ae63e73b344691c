package bind

import (
	"slices"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/english"
	"ringout/model/finding"
)

// run binds what carries the legs: CABLE [pair N ...] [reversed], wires or jumper.
func (w *walker) run(path *model.Path, s PathStep) *model.Run {
	first := s.Words[0]
	r := &model.Run{Pos: first.Pos}
	if kind, ok := runWords[first.Text]; ok {
		r.Kind = kind
		w.wires(r, path, s.Words[1:])
		return r
	}
	r.Cable = w.Plant.CableByTag[first.Text]
	if r.Cable.Type == nil || len(r.Cable.Cores) == 0 {
		w.broken = true // reported where the cable is written
		return r
	}
	words := s.Words[1:]
	if n := len(words); n > 0 && words[n-1].Text == "reversed" {
		r.Reversed, words = true, words[:n-1]
	}
	if len(words) == 0 {
		words = w.onlyCores(r.Cable, len(path.Legs), first)
	}
	if len(words) > 0 && w.cores(r, path, words) {
		w.settleCores(r, path, s)
	}
	return r
}

// wires takes the colours of wires or jumpers.
func (w *walker) wires(r *model.Run, path *model.Path, colours []Token) {
	for _, t := range colours {
		c, ok := colour.Parse(t.Text)
		if !ok {
			w.fail(t, finding.UnknownColour, UseColours, "%q is not a colour", t.Text)
			return
		}
		r.Colours = append(r.Colours, c)
	}
	if n := len(r.Colours); n > 1 && n != len(path.Legs) {
		w.fail(colours[0], finding.ColoursMismatch, noHint, "colours given: %d, wires: %d", n, len(path.Legs))
	}
}

// onlyCores are the words for the cores of a cable that is named alone, at a token:
// there is no choice which. None where there is one.
func (w *walker) onlyCores(cable *model.Cable, legs int, at Token) []Token {
	switch size := cable.Type.Size; {
	case size == 1 && (len(cable.Cores) == legs || cable.Type.Groups == 1):
		words := []Token{{"cores", at.Pos}}
		for i := range cable.Cores {
			words = append(words, Token{strconv.Itoa(i + 1), at.Pos})
		}
		return words
	case cable.Type.Groups == 1:
		return []Token{{string(cable.Type.GroupWord()), at.Pos}, {"1", at.Pos}}
	}
	w.fail(at, finding.PairMissing, UseGroup(cable),
		"no %s given for cable %s", cable.Type.GroupWord(), cable.Tag)
	return nil
}

// UseColours is a hint for a word that is no colour.
var UseColours = finding.Do("use words, or the letters of IEC 60757: %s", strings.Join(colour.HueLetters(), " "))

// UseGroup is a hint for a run or a spare that does not tell which cores it takes.
func UseGroup(cable *model.Cable) finding.Hint {
	return useNumber(string(cable.Type.GroupWord()), cable.Type.Groups)
}

// useNumber is a hint for what is counted from 1: pair 1 to 6; none where there is none.
func useNumber(word string, n int) finding.Hint {
	switch n {
	case 0:
		return noHint
	case 1:
		return finding.Do("use %s 1, the only one", word)
	}
	return finding.Do("use one of its %ss, 1 to %d", word, n)
}

// cores takes the cores that words such as pair 3 name; false where they name none.
func (w *walker) cores(r *model.Run, path *model.Path, words []Token) bool {
	cable, size := r.Cable, r.Cable.Type.Size
	word := words[0]
	asked, ok := groupSizes[word.Text]
	one := strings.TrimSuffix(word.Text, "s")
	switch {
	case !ok:
		w.fail(word, finding.UnknownWord, finding.Do(`use "pair", "triad", "quad", "core" or "reversed"`), "%q is not a word for part of a cable", word.Text)
		return false
	case asked != 1 && asked != size:
		w.fail(word, finding.GroupMismatch, UseGroup(cable),
			"%s has %ss, not %ss", cable.Tag, cable.Type.GroupWord(), one)
		return false
	case len(words) == 1:
		w.fail(word, finding.PairMissing, UseGroup(cable), "no %s given for cable %s", one, cable.Tag)
		return false
	}
	named, limit := word.Text, cable.Type.Groups
	if asked == 1 {
		limit = len(cable.Cores)
	}
	for i, t := range words[1:] {
		if i*asked >= len(path.Legs) {
			w.fail(t, finding.CoresOver, finding.Do("name no more than %s", named), "more of %s named than the %s here", cable.Tag, english.Text(finding.Count(len(path.Legs), "core")))
			return false
		}
		named += " " + t.Text
		n, err := strconv.Atoi(t.Text)
		if err != nil || n < 1 || n > limit {
			w.fail(t, finding.UnknownCore, useNumber(one, limit), "%s has no %s %s", cable.Tag, one, t.Text)
			return false
		}
		r.Cores = append(r.Cores, cable.Cores[(n-1)*asked:n*asked]...)
	}
	if asked == 2 && len(words) == 2 {
		w.orient(path, r)
	}
	return true
}

// settleCores turns the cores of a run that is reversed, gives each leg one, and
// takes the group that they are all of, however the text names them, and the screen round
// them.
func (w *walker) settleCores(r *model.Run, path *model.Path, s PathStep) {
	cable := r.Cable
	if r.Reversed {
		if len(r.Cores) != 2 {
			w.fail(s.Words[len(s.Words)-1], finding.ReversedGroup, noHint, "%s reversed, not a pair", english.Text(finding.Count(len(r.Cores), "core")))
			return
		}
		r.Cores[0], r.Cores[1] = r.Cores[1], r.Cores[0]
	}
	if len(r.Cores) < len(path.Legs) {
		w.fail(s.Words[0], finding.CoresShort, noHint, "circuit %q: %s here, %s of %s named",
			w.circuit.Name, finding.Count(len(path.Legs), "leg"), english.Text(finding.Count(len(r.Cores), "core")), cable.Tag)
		return
	}
	r.Cores = r.Cores[:len(path.Legs)]
	last := r.Cores[len(r.Cores)-1].Group
	if cable.Type.Size > 1 && !slices.ContainsFunc(r.Cores, func(c *model.Core) bool { return c.Group != last }) {
		r.Group = last
	}
	switch {
	case len(cable.Screens) > 0:
		r.Screen = cable.Screens[last-1]
	case cable.Overall != nil && (cable.Type.Groups == 1 || len(r.Cores) == len(cable.Cores)):
		r.Screen = cable.Overall
	}
}

// orient gives the positive core of a pair to the leg marked +. Where a leg
// goes alone, it takes the core that it would have in company.
func (w *walker) orient(path *model.Path, r *model.Run) {
	first := w.circuit.Legs[path.Legs[0]-1]
	minus := first.Role == '-'
	polar := minus || first.Role == '+'
	swap := minus == (w.Plant.PositiveCore(r.Cable.Type) == 1)
	if len(path.Legs) > 1 {
		second := w.circuit.Legs[path.Legs[1]-1].Role
		polar = polar && (second == '+' || second == '-') && second != first.Role
		swap = swap && polar // without polarity in the order of the text
	} else if !polar {
		swap = first.N%2 == 0
	}
	if swap {
		r.Cores[0], r.Cores[1] = r.Cores[1], r.Cores[0]
	}
}
