package model

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// TestIsolation: where the circuits of tern-island are parted from what feeds
// them, and what that is, told by hand from its text.
func TestIsolation(t *testing.T) {
	p, _, _ := Read(os.DirFS("../samples"), "tern-island")
	tagsOf := func(c *Circuit) (at, by []string) {
		for _, x := range c.IsolatedAt() {
			at = append(at, x.Tag())
		}
		for _, x := range c.Feeders() {
			by = append(by, x.Tag)
		}
		return at, by
	}
	want := map[string]string{
		"FT-2107":        " < AI-1-03",
		"FY-2112":        " < AO-1-05",
		"TE-2203":        " < ", // a card that only measures
		"LSL-2220":       "MC-2/X5:F1 < PS-21",
		"LSH-2320":       "MC-2/X5:F3 < PS-21", // the fuse, not the knives of X2
		"AT-2301":        " < ",                // the device drives it
		"AT-2301 supply": "MC-2/X7:L1 < AC-21",
		"LT-2330":        " < AI-2-05 PS-21", // a barrier feeds nothing
	}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if w, ok := want[c.Name]; ok {
				at, by := tagsOf(c)
				if got := strings.Join(at, " ") + " < " + strings.Join(by, " "); got != w {
					t.Errorf("%s is parted at and fed by %q, not %q", c.Name, got, w)
				}
				delete(want, c.Name)
			}
		}
	}
	for name := range want {
		t.Errorf("no circuit is named %s", name)
	}
	var fed []string
	for _, c := range p.FedBy(p.Part("PS-21")) {
		fed = append(fed, c.Name)
	}
	if want := []string{"LSL-2220", "PSH-2221", "XY-2225", "LSH-2320", "FSL-2321", "LT-2330"}; !slices.Equal(fed, want) {
		t.Errorf("PS-21 feeds %v, not %v", fed, want)
	}
}

// TestIsolatedAtKnives: where a card feeds the circuit, it is parted at the knives
// nearest to the card, whichever way the walk goes; an isolator feeds its device.
func TestIsolatedAtKnives(t *testing.T) {
	for _, walk := range []string{
		"[FT + -, W, JB/X1 1 2, V, MC/X1 1 2, wires, I, wires, AI channel 1]",
		"[AI channel 1, wires, I 3 4, wires, MC/X1 1 2, V, JB/X1 1 2, W, FT + -]",
	} {
		p, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte(`
plant: P
cable types: {pair: {pairs: 1, conductor: 1 mm2, screen: none}}
boxes: {JB: {strips: {X1: {terminals: [1..2 disconnect]}}}}
cabinets:
  MC:
    strips: {X1: {terminals: [1..2 disconnect]}}
    isolators: {I: {}}
    cards: {AI: {kind: AI, power: card, channels: 1}}
cables: {W: {type: pair, from: FT, to: JB}, V: {type: pair, from: JB, to: MC}}
loops: {L: {service: s, devices: {FT: {kind: transmitter}}, circuits: {FT: ` + walk + `}}}
`)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		c := p.Loops[0].Circuits[0]
		var at, by []string
		for _, x := range c.IsolatedAt() {
			at = append(at, x.Tag())
		}
		for _, x := range c.Feeders() {
			by = append(by, x.Tag)
		}
		slices.Sort(by)
		if !slices.Equal(at, []string{"MC/X1:1", "MC/X1:2"}) || !slices.Equal(by, []string{"AI", "I"}) {
			t.Errorf("%s is parted at %v and fed by %v", walk, at, by)
		}
	}
}
