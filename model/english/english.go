// Package english holds the words that plants differ in: screen or shield, earth or
// ground, core or conductor, and how colour is spelled. What we write is written with
// the British word and has the type Text; Say puts it into the words of a plant. What
// the user wrote has another type, and stays as it is.
package english

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text is English of ours, with the first word of each choice. It reaches paper by
// Say alone: TestPaperSaysItsWords in cmd/ringout finds what does not.
type Text string

// Words are the words of a plant: a bit for each choice whose second word it uses.
// The zero value is British.
type Words uint8

// choice is a pair of words that a plant chooses from, in all their forms. The forms
// of the words themselves are the first.
type choice struct{ forms [][2]string }

// choices are in the order of their bits. Of each, the first word is the British one
// and the second the North American one. Forms are in small letters.
var choices = []choice{
	{[][2]string{{"screen", "shield"}, {"screens", "shields"}}},
	{[][2]string{{"earth", "ground"}, {"earths", "grounds"}, {"earthed", "grounded"}, {"an earth", "a ground"}}},
	{[][2]string{{"core", "conductor"}, {"cores", "conductors"}}},
	{[][2]string{
		{"colour", "color"}, {"colours", "colors"}, {"grey", "gray"}, {"analogue", "analog"}, {"totaliser", "totalizer"},
		{"polarised", "polarized"}, {"energising", "energizing"},
	}},
	{[][2]string{{"lock off", "lock out"}, {"prove dead", "test dead"}, {"proved dead", "tested dead"}, {"proving dead", "testing dead"}}},
	{[][2]string{{"mains", "line voltage"}, {"mains frequency", "line frequency"}}},
}

// The names of all first and of all second words.
const (
	british       = "British"
	northAmerican = "North American"
)

// all has the bit of each choice.
var all = Words(1<<len(choices) - 1)

// Names are what Choose takes: a name for all words, then each word of the choices.
func Names() []string {
	names := []string{british, northAmerican}
	for _, c := range choices {
		names = append(names, c.forms[0][0], c.forms[0][1])
	}
	return names
}

// Pairs are the choices in words, for the language: `screen` or `shield`, and so on.
func Pairs() string {
	var pairs []string
	for _, c := range choices {
		pairs = append(pairs, "`"+c.forms[0][0]+"` or `"+c.forms[0][1]+"`")
	}
	return strings.Join(pairs, ", ")
}

// Choose takes one of Names into the words chosen so far. of is what it decides about, to
// be decided once: -1 all words, else the place of the choice. False for no such name.
func (w Words) Choose(name string) (chosen Words, of int, ok bool) {
	switch name {
	case british:
		return 0, -1, true
	case northAmerican:
		return all, -1, true
	}
	for i, c := range choices {
		switch name {
		case c.forms[0][0]:
			return w &^ (1 << i), i, true
		case c.forms[0][1]:
			return w | 1<<i, i, true
		}
	}
	return w, 0, false
}

// Chosen are the fewest names that make the words, in the order in which Choose takes
// them; none of British ones.
func (w Words) Chosen() []string {
	from, names := Words(0), []string(nil)
	if n := w.count(); 2*n > len(choices) {
		from, names = all, []string{northAmerican}
	}
	for i, c := range choices {
		if bit := Words(1) << i; w&bit != from&bit {
			names = append(names, c.forms[0][min(1, w&bit)])
		}
	}
	return names
}

// count is how many second words are chosen.
func (w Words) count() (n int) {
	for i := range choices {
		n += int(w >> i & 1)
	}
	return n
}

// form is one form of a word: what stands in a text and what stands instead of it.
type form struct {
	was, is string
	of      Words
}

// forms are all forms by the first word of the one in column from, the longest first: 0 of
// what we write, 1 of what is said.
func forms(from int) map[string][]form {
	by := map[string][]form{}
	for i, c := range choices {
		for _, f := range c.forms {
			first, _, _ := strings.Cut(f[from], " ")
			by[first] = append(by[first], form{f[from], f[1-from], 1 << i})
		}
	}
	for _, fs := range by {
		slices.SortStableFunc(fs, func(a, b form) int { return len(b.was) - len(a.was) })
	}
	return by
}

var written, said = forms(0), forms(1)

// Say puts a text into the words of the plant. Every form of a word changes where it
// stands as a word of its own; a capital at its start, and one that is all capitals,
// stays so.
func (w Words) Say(t Text) string { return w.instead(string(t), written) }

// Ours is a text of words of ours that somebody wrote in the words of whatever plant, as we
// write it.
func Ours(s string) string { return all.instead(s, said) }

// instead puts what the words have instead of each form that stands in a text.
func (w Words) instead(s string, by map[string][]form) string {
	if w == 0 {
		return s
	}
	var b strings.Builder
	done := 0
	for i := 0; i < len(s); {
		end := i + wordEnd(s[i:])
		if end == i {
			_, n := utf8.DecodeRuneInString(s[i:])
			i += n
			continue
		}
		if f, n := w.at(by, s[i:], s[i:end]); n > 0 {
			b.WriteString(s[done:i])
			b.WriteString(cased(f.is, s[i:i+n]))
			end, done = i+n, i+n
		}
		i = end
	}
	if done == 0 {
		return s
	}
	b.WriteString(s[done:])
	return b.String()
}

// Ways are all that a text may be in the words of any plant, each once, ours first.
func Ways(t Text) []string {
	ways := []string{string(t)}
	for w := Words(1); w <= all; w++ {
		if s := w.Say(t); !slices.Contains(ways, s) {
			ways = append(ways, s)
		}
	}
	return ways
}

// at is the longest form that the words have another word for and that a text begins
// with, and its length; 0 for none. word is the text's first word.
func (w Words) at(by map[string][]form, s, word string) (f form, n int) {
	for _, f := range by[strings.ToLower(word)] {
		if w&f.of == 0 || len(s) < len(f.was) || !strings.EqualFold(s[:len(f.was)], f.was) {
			continue
		}
		if wordEnd(s[len(f.was):]) == 0 {
			return f, len(f.was)
		}
	}
	return form{}, 0
}

// wordEnd is where the letters that a text begins with end.
func wordEnd(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) {
			return i
		}
	}
	return len(s)
}

// cased gives a word the capitals of another.
func cased(word, like string) string {
	switch first, n := utf8.DecodeRuneInString(like); {
	case like == strings.ToUpper(like) && len(like) > n:
		return strings.ToUpper(word)
	case unicode.IsUpper(first):
		return strings.ToUpper(word[:1]) + word[1:]
	}
	return word
}

// Forms are all forms of the first words: what we write, and Say changes.
func Forms() (all []string) {
	for _, c := range choices {
		for _, f := range c.forms {
			all = append(all, f[0])
		}
	}
	return all
}
