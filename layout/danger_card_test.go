package layout

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/model/read"
)

// switchedPlant has a coil that a card output drives with its own power through a
// box and a cabinet that nothing else brings a voltage to.
const switchedPlant = `
plant: Switched
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
boxes: {JB-1: {strips: {X1: {terminals: 1..2}}}}
cabinets: {MC-1: {strips: {X1: {terminals: 1..2}}}}
systems: {PCS-1: {cards: {DO-1: {kind: DO, power: card, channels: 8, volts: VOLTS}}}}
cables:
  W-1: {type: pair, from: XY-1, to: JB-1}
  W-2: {type: pair, from: JB-1, to: MC-1}
  W-3: {type: pair, from: MC-1, to: PCS-1}
loops:
  X-1:
    service: Drain
    devices: {XY-1: {kind: solenoid, rated volts: VOLTS, inrush: 20 VA, holding: 10 VA, inrush power factor: 0.7, power factor: 0.4}}
    circuits:
      XY-1: [XY-1 + -, W-1, JB-1/X1 1 2, W-2, MC-1/X1 1 2, W-3, DO-1 channel 1]
`

// A voltage that can kill is said wherever a supply's would be, also where a card
// brings it: on the loop, the box, the cabinet, the record, the pack.
func TestCardBringsMains(t *testing.T) {
	t.Parallel()
	for volts, deadly := range map[string]bool{"230 V AC": true, "120 V AC": true, "24 V AC": false} {
		text := strings.ReplaceAll(switchedPlant, "VOLTS", volts)
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		plan := New(p, false, nil)
		for page := range plan.Pages() {
			want, asked := map[string]string{
				"loop-X-1":      volts + " of DO-1: qualified persons only",
				"box-JB-1":      volts + " of DO-1 in PCS-1 inside (X1): qualified persons only",
				"cabinet-MC-1":  volts + " of DO-1 in PCS-1 inside (X1): qualified persons only",
				"cabinet-PCS-1": volts + " of DO-1 inside: qualified persons only",
				"record-X-1":    volts + " from DO-1",
			}[page.Name]
			if got := strings.Contains(layouttest.SaidOn(page), want); asked && got != deadly {
				t.Errorf("%s says %q: %v", page.Name, want, got)
			}
		}
	}
}
