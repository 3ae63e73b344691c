package finding

import (
	"cmp"
	"slices"
	"strings"
)

// Kind is a kind of finding: of the reader, the desk check, the layout or the import of
// lists.
// All are declared in codes.go; nothing else can be reported.
type Kind struct {
	Code     string   // stable name, such as core-used-twice
	Severity Severity // whether it stops the drawing
	Milder   string   // in which case it is a warning all the same; "" for none
	Means    string   // what is wrong, in a few words
	When     string   // when it occurs, and why it matters; whole sentences

	// An example, mended and not. Before in the place of After makes the plant In of
	// testdata/examples have this finding; where In is "", both are whole plants.
	// Before and After are parts of whole lines, with a line … between parts that
	// stand apart. A line "-- NAME --" begins a file of a whole plant. In Lists they are
	// parts of lists, which import reads.
	In, Before, After string
}

// Lists is where the examples of what is found in lists stand, which import reads.
const Lists = "lists"

var kinds []*Kind

// define adds a kind to those that Kinds returns.
func define(k Kind) *Kind {
	kinds = append(kinds, &k)
	return &k
}

// Kinds returns all kinds of findings, in the order of their codes.
func Kinds() []*Kind {
	return slices.SortedFunc(slices.Values(kinds), func(a, b *Kind) int { return cmp.Compare(a.Code, b.Code) })
}

// Example returns the lines of the example, before and after. What cannot be seen, or
// is no UTF-8, has a visible mark in its place.
func (k *Kind) Example() (before, after []string) {
	lines := func(s string) []string {
		all := strings.Split(strings.ToValidUTF8(s, "\uFFFD"), "\n")
		for i := range all {
			all[i] = visible(all[i])
		}
		return all
	}
	return lines(k.Before), lines(k.After)
}
