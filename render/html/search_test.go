package html

import (
	"os"
	"slices"
	"testing"

	"ringout/layout"
	"ringout/model/read"
	"ringout/render"
)

// TestSearchedAreDrawn: every key that the search finds things by is in the data of a
// group on the sheets of the sample, and what is found on the other sheets of a subject
// is one of those things.
func TestSearchedAreDrawn(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../../samples"), "tern-island")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	drawn := map[string]bool{}
	var note func(items []render.Item)
	note = func(items []render.Item) {
		for _, item := range items {
			if g, ok := item.(*render.Group); ok {
				for _, d := range g.Data {
					drawn[d.Key] = drawn[d.Key] || d.Value != ""
				}
				note(g.Items)
			}
		}
	}
	for page := range layout.New(p, false, nil).Pages() {
		note(page.Items)
	}
	var words []string
	for key, word := range searched {
		words = append(words, word)
		if !drawn[key] {
			t.Errorf("no group has %q in its data", key)
		}
	}
	for _, word := range shared {
		if !slices.Contains(words, word) {
			t.Errorf("nothing is searched for as a %s", word)
		}
	}
}
