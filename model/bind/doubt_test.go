package bind_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestDoubts: what a circuit with errors may use is no spare, and what it cannot use
// stays one. W-21 has four pairs: pair 1 is used, pair 2 is what the circuit under
// test names, as far as it names any.
func TestDoubts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		walk  string
		pairs string // by pair: u used, s spare, ? not known
		free  string // terminals 1 to 6 of B-1/X1
	}{
		{"FT-2, W-2, B-1/X1 3 4, W-21 pair 2, C-1/X1 3 4, wires, AI-1 channel 2", "uuss", "uuuuss"},
		{"FT-2, W-2, B-1/X1 3 4, W-21 pair 2, C-1/X1 3 4, wires, AI-1 channel 9", "u?ss", "uu??ss"},
		{"FT-2, W-2, B-1/X1 3 4, W-21 pair 9, C-1/X1 3 4, wires, AI-1 channel 2", "u???", "uu??ss"},
		{"FT-2, W-2, B-1/X1 3 4, W-21, C-1/X1 3 4, wires, AI-1 channel 2", "u???", "uu??ss"},
		{"FT-2, W-2, B-1/X1 3 9, W-21 pair 2, C-1/X1 3 4, wires, AI-1 channel 2", "u?ss", "uu????"},
		{"FT-2, W-2, B-1/X1 3 4, W-2l pair 2, C-1/X1 3 4, wires, AI-1 channel 2", "u???", "uu????"},
		{"", "u???", "uu????"},
	} {
		text := fmt.Sprintf(`
plant: Doubts
cable types:
  one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}
  four: {pairs: 4, conductor: 1.0 mm2, code: black/white numbered, screen: none}
cables:
  W-1: {type: one, from: FT-1, to: B-1, length: 10 m}
  W-2: {type: one, from: FT-2, to: B-1, length: 10 m}
  W-21: {type: four, from: B-1, to: C-1, length: 10 m}
boxes: {B-1: {strips: {X1: {terminals: 1..6}}}}
cabinets:
  C-1:
    strips: {X1: {terminals: 1..6}}
    cards: {AI-1: {kind: AI, power: card, channels: 4, volts: 24 V, ohms: 250 ohm}}
loops:
  L-1:
    service: one
    devices: {FT-1: {kind: transmitter}, FT-2: {kind: transmitter}}
    circuits:
      whole: [FT-1, W-1, B-1/X1 1 2, W-21 pair 1, C-1/X1 1 2, wires, AI-1 channel 1]
      tried: [%s]
`, c.walk)
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
		mark := func(used bool, doubt string, spare bool) string {
			switch {
			case used && doubt == "" && !spare:
				return "u"
			case spare && doubt == "" && !used:
				return "s"
			case doubt != "" && !used && !spare:
				return "?"
			}
			return "!"
		}
		pairs, free := "", ""
		for g := range 4 {
			w := p.ConductorOf(p.Cable("W-21").Cores[2*g])
			pairs += mark(w.Circuit != nil, w.Doubt, w.Spare != "")
		}
		for _, x := range p.Part("B-1/X1").Terminals {
			free += mark(len(x.Ends) > 0, x.Doubt, x.Spare())
		}
		if pairs != c.pairs || free != c.free {
			t.Errorf("%s: pairs %s, want %s; terminals %s, want %s: %v", c.walk, pairs, c.pairs, free, c.free, problems)
		}
		used, spare, _, known := p.Cable("W-21").InUse(p)
		if want := strings.Count(c.pairs, "u"); used != want || spare != strings.Count(c.pairs, "s") || known == strings.Contains(c.pairs, "?") {
			t.Errorf("%s: %d in use, %d spare, known %t of %s", c.walk, used, spare, known, c.pairs)
		}
	}
}
