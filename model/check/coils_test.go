package check

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/finding"
	"ringout/model/read"
)

// twoCoils is an output with two coils on one box, each by a cable of its own.
const twoCoils = `
plant: Two coils
practice: {earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
boxes: {JB-1: {strips: {X1: {terminals: 1..4, jumpers: [1..3 step 2, 2..4 step 2]}}}}
cabinets:
  MC-1:
    wire: 0.75 mm2 BU
    strips: {X1: {terminals: 1..2}}
    cards: {DO-1: {kind: DO, power: card, volts: 24 V, channels: 2, limit: 500 mA}}
loops:
  X-1:
    service: Two vents
    devices:
      XY-1A: {kind: solenoid, ohms: 100 ohm, pull-in: 18 V}
      XY-1B: {kind: solenoid, ohms: 150 ohm, pull-in: 18 V}
    cables: {W-1: pair 50 m, W-2: pair 100 m, W-H: pair 100 m}
    circuits:
      XY-1A: [XY-1A, W-1, JB-1/X1 1 2, W-H, MC-1/X1 1 2, wires, DO-1 channel 1]
      XY-1B: [XY-1B, W-2, JB-1/X1 3 4]
`

// TestCoilsAtOneBox: a coil that a jumper puts on the output of another is told once a leg, with
// the way that works; written so, nothing is found.
func TestCoilsAtOneBox(t *testing.T) {
	t.Parallel()
	found := func(text string) finding.Findings {
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
		return append(problems, Check(p)...)
	}
	all := found(twoCoils)
	if len(all) != 2 {
		t.Fatalf("%v", all)
	}
	for _, f := range all {
		if f.Code != "joined-circuits" || !strings.Contains(f.Hint.String(), "take the cable of XY-1B on to XY-1A") {
			t.Errorf("%v: %v", f, f.Hint)
		}
	}
	one := strings.NewReplacer("      XY-1B: [XY-1B, W-2, JB-1/X1 3 4]\n", "", "[XY-1A, W-1, JB-1", "[XY-1B, W-2, XY-1A, W-1, JB-1", ", jumpers: [1..3 step 2, 2..4 step 2]", "").Replace(twoCoils)
	if all := found(one); len(all) > 0 {
		t.Errorf("as the hint has it: %v", all)
	}
}
