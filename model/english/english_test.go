package english

import (
	"slices"
	"strings"
	"testing"
)

// TestSay: words change in all their forms and as words of their own, and nothing else
// does. The pairs are the usual ones of British and North American practice.
func TestSay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		words, ours, said string
	}{
		{"North American", "Screen earths restored: measure each screen to its earth", "Shield grounds restored: measure each shield to its ground"},
		{"North American", "core + screen", "conductor + shield"},
		{"North American", "+ core of a pair, unless the colour code says otherwise", "+ conductor of a pair, unless the color code says otherwise"},
		{"North American", "on an earth foot; Cores", "on a ground foot; Conductors"},
		{"North American", "ISOLATE, LOCK OFF, PROVE DEAD", "ISOLATE, LOCK OUT, TEST DEAD"},
		{"North American", "Core\ncolour", "Conductor\ncolor"},
		{"North American", "scored, unearthly, encore, colourless, screensaver", "scored, unearthly, encore, colourless, screensaver"},
		{"North American", "analogue input 4-20 mA", "analog input 4-20 mA"},
		{"North American", " (core ", " (conductor "},
		{"British", "earthed core, grey screen", "earthed core, grey screen"},
		{"ground", "earthed core, grey screen", "grounded core, grey screen"},
		{"North American, earth", "Earthed core, grey screen", "Earthed conductor, gray shield"},
		{"shield, color", "Screens: grey, BK", "Shields: gray, BK"},
	} {
		w := chosen(t, c.words)
		if got := w.Say(Text(c.ours)); got != c.said {
			t.Errorf("%s: %q is said as %q, not %q", c.words, c.ours, got, c.said)
		}
	}
}

// TestOurs: a text that is said in whatever words comes back as we write it.
func TestOurs(t *testing.T) {
	t.Parallel()
	for _, ours := range []string{"core", "Screen earths", "green/grey", "earth bar", "an earth", "totaliser", "on an earth foot; CORES", "scored, encore, background", ""} {
		for _, said := range Ways(Text(ours)) {
			if got := Ours(said); got != ours {
				t.Errorf("%q is read as %q, not %q", said, got, ours)
			}
		}
	}
}

func chosen(t *testing.T, names string) (w Words) {
	t.Helper()
	for name := range strings.SplitSeq(names, ", ") {
		var ok bool
		if w, _, ok = w.Choose(name); !ok {
			t.Fatalf("no word %q", name)
		}
	}
	return w
}

// TestChosen: the names that words are written back as make the same words, whatever
// was chosen, and there are no fewer that do.
func TestChosen(t *testing.T) {
	t.Parallel()
	for w := range all + 1 {
		var again Words
		for _, name := range w.Chosen() {
			again, _, _ = again.Choose(name)
		}
		if second := w.count(); again != w || len(w.Chosen()) > min(second, 1+len(choices)-second) {
			t.Errorf("%b is written as %v, which makes %b", w, w.Chosen(), again)
		}
	}
	if _, _, ok := Words(0).Choose("american"); ok {
		t.Error("american is a word")
	}
}

// TestForms: every form is said in another way, once, and what is said is no form
// itself: to say a text twice is to say it once.
func TestForms(t *testing.T) {
	t.Parallel()
	forms := Forms()
	if len(slices.Compact(slices.Sorted(slices.Values(forms)))) != len(forms) {
		t.Errorf("a form stands twice: %v", forms)
	}
	for _, f := range forms {
		said := all.Say(Text("the " + f + "."))
		if said == "the "+f+"." || all.Say(Text(said)) != said {
			t.Errorf("%q is said as %q", f, said)
		}
	}
}
