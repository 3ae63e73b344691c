package read

import (
	"strings"
	"testing"
	"testing/fstest"
)

// TestSpareScreenElsewhere lands the screen of a spare pair on another strip than its cores,
// and on a bar; what is not there is reported where it is written.
func TestSpareScreenElsewhere(t *testing.T) {
	t.Parallel()
	const text = `
cable types: {three: {pairs: 3, conductor: 1.0 mm2, code: black/white numbered, screen: each}}
boxes: {JB-7: {strips: {X1: {terminals: 1..6}, XS: {terminals: 1..3}}}}
cabinets: {MC-7: {earths: {IE: instrument earth}, strips: {X1: {terminals: 1..6}}}}
cables: {W-2: {type: three, from: JB-7, to: MC-7, spares: {pair 2: {from: X1 3 4 XS:2, to: X1 3 4 IE}}}}
`
	for _, c := range []struct{ old, new, want string }{
		{"", "", ""},
		{"XS:2", "XS:9", "unknown-terminal"},
		{"XS:2", "XT:2", "unknown-strip"},
		{"3 4 IE", "3 4 PE", "unknown-terminal"},
		{"X1 3 4 XS:2", "X1 3 XS:1 XS:2", "unknown-terminal"}, // a core has to land with its pair
	} {
		p, _, found := Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.Replace(text, c.old, c.new, 1))}}, ".")
		if c.want != "" {
			if len(found) != 1 || found[0].Code != c.want {
				t.Errorf("%s: %v, not %s", c.new, found, c.want)
			}
			continue
		}
		w := p.ConductorOf(p.Cable("W-2").Screens[1])
		if w == nil || w.From.Tag() != "JB-7/XS:2" || w.To.Tag() != "MC-7/IE:IE" {
			t.Errorf("the screen lands on %+v; %v", w, found)
		}
	}
}

// TestOverallScreenOfNone: a landing of the screen round all of a type that has none is
// reported where it is written, be it on a bar, on a terminal or on both.
func TestOverallScreenOfNone(t *testing.T) {
	t.Parallel()
	const text = `
cable types: {two: {pairs: 2, conductor: 1.0 mm2, code: black/white numbered, screen: none}}
boxes: {JB-7: {strips: {X1: {terminals: 1..6}}}}
cabinets: {MC-7: {earths: {IE: instrument earth}}}
cables: {W-2: {type: two, from: JB-7, to: MC-7, overall: ENDS}}
`
	for ends, want := range map[string]string{"{from: x, to: x}": "no-loops", "{from: x, to: IE}": "no-overall-screen", "{from: X1 5, to: x}": "no-overall-screen", "{from: X1 5, to: IE}": "no-overall-screen"} {
		_, _, found := Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.Replace(text, "ENDS", ends, 1))}}, ".")
		if len(found) == 0 || found[0].Code != want || want != "no-loops" && (len(found) != 1 || found[0].Pos.Line != 5) {
			t.Errorf("%s: %v, not %q", ends, found, want)
		}
	}
}
