package check

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

// overallPlant is a circuit over two cables of one pair: what their overall says, and
// the word for the screen at the box and at the cabinet, are put in.
const overallPlant = `
plant: Overall
practice: {screen earth: %s}
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}}
boxes: {JB-1: {strips: {X1: {terminals: 1..9}}, earths: {BE: box earth}}}
cabinets:
  MC-1:
    earths: {IE: instrument earth}
    strips: {X4: {terminals: 1..9}}
    cards: {AI-1: {kind: AI, power: card, channels: 1}}
cables:
  W-1: {type: one, from: FT-1, to: JB-1%s}
  W-2: {type: one, from: JB-1, to: MC-1%s}
loops: {F-1: {service: f, devices: {FT-1: {kind: transmitter}}, circuits: {FT-1: [FT-1, W-1, JB-1/X1 1 2 %s, W-2, MC-1/X4 1 2 %s, wires, AI-1 channel 1]}}}
`

// TestOverallOfEachCable: what overall says of one cable is said of that one: the
// screen of the next is not landed with it, and is carried on where both land.
func TestOverallOfEachCable(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ earth, first, second, box, cabinet, screens, Log string }{
		{"cabinet", "", "", "9", "IE", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", ""},
		{"cabinet", "{from: x, to: X1 9}", "{from: X1 9, to: IE}", "", "", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", ""},
		{"cabinet", "{from: x, to: X1 9}", "", "9", "IE", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", ""},
		{"cabinet", "", "{from: X1 9, to: IE}", "9", "", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", ""},
		// The screen of each cable is earthed by itself, on purpose.
		{"box", "{from: x, to: BE}", "{from: BE, to: x}", "", "", "FT-1 cut back, JB-1/BE:BE; JB-1/BE:BE, MC-1 cut back", ""},
		{"box", "{from: x, to: BE}", "{from: x, to: IE}", "", "", "FT-1 cut back, JB-1/BE:BE; JB-1 cut back, MC-1/IE:IE", "dropped-screen screen-earth-end"},
		{"box", "{from: x, to: BE}", "", "", "IE", "FT-1 cut back, JB-1/BE:BE; JB-1 cut back, MC-1/IE:IE", "dropped-screen screen-earth-end"},
		{"box", "", "{from: BE, to: x}", "", "", "FT-1 cut back, JB-1 cut back; JB-1/BE:BE, MC-1 cut back", "unearthed-screen dropped-screen"},
		// At odds: by the walk, and by the other cable.
		{"cabinet", "{from: x, to: BE}", "", "9", "IE", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", "screen-mismatch"},
		{"cabinet", "", "{from: x, to: IE}", "9", "IE", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", "screen-mismatch"},
		{"cabinet", "", "{from: X1 9, to: x}", "9", "IE", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", "screen-mismatch"},
		{"cabinet", "{from: x, to: X1 9}", "{from: X1 8, to: IE}", "", "", "FT-1 cut back, JB-1/X1:9; JB-1/X1:9, MC-1/IE:IE", "screen-mismatch"},
	} {
		key := func(s string) string {
			if s == "" {
				return ""
			}
			return ", overall: " + s
		}
		text := fmt.Sprintf(overallPlant, c.earth, key(c.first), key(c.second), c.box, c.cabinet)
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		var found, screens []string
		for _, pr := range append(problems, Check(p)...).Sort() {
			found = append(found, pr.Code)
			if pr.Code == "screen-mismatch" && len(pr.Also) != 1 {
				t.Errorf("%+v: one place alone: %v", c, pr)
			}
		}
		for _, w := range p.Conductors {
			if w.Screen {
				screens = append(screens, w.From.Tag()+", "+w.To.Tag())
			}
			for _, e := range []model.End{w.From, w.To} {
				if e.Terminal != nil && !landsOnce(e.Terminal, w) {
					t.Errorf("%+v: %s is not on %s once", c, Carries(w), e.Tag())
				}
			}
		}
		if got := strings.Join(screens, "; "); got != c.screens {
			t.Errorf("%+v: screens %s", c, got)
		}
		if got := strings.Join(found, " "); got != c.Log {
			t.Errorf("%+v: found %s", c, got)
		}
	}
}

func landsOnce(t *model.Terminal, w *model.Conductor) bool {
	n := 0
	for _, u := range t.Ends {
		if u.Conductor == w {
			n++
		}
	}
	return n == 1
}
