package check

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/compute"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestShortMarginsFound: whatever the resistance of the card, the cable and a
// barrier, check reports a margin exactly where Margins has it short, however far;
// and what fails at one resistance fails at every larger one. The limit is worked
// out beside it by Ohm's law: 24 V less 5 % less 22 mA through all ohms must leave 10.5 V.
func TestShortMarginsFound(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		barrier := 1 + random.Float64()*400
		metres := 1 + random.Float64()*3000
		failed := false
		for ohms := 10.0; ohms < 1e7; ohms *= 1.5 {
			o := modeltest.OneLoop{Card: fmt.Sprintf("{kind: AI, power: card, channels: 2, volts: 24 V, ohms: %f ohm}", ohms),
				Device: "{kind: transmitter, lift-off: 10.5 V, failure current: 22 mA}",
				Parts:  fmt.Sprintf("    barriers: {B: {ohms: %g ohm, working volts: 30 V}}", barrier),
				Walk:   "B, wires, C channel 1", HomeMetres: metres}
			p, c := o.Read(t)
			short := false
			for _, m := range compute.Margins(p, c) {
				short = short || !m.OK()
			}
			found := false
			for _, pr := range Check(p) {
				found = found || pr.Code == "low-voltage"
			}
			byHand := 22.8-0.022*(ohms+2*barrier+2*metres*0.0121) < 10.5
			if short != found || found != byHand {
				t.Fatalf("at %g Ω: a margin is short: %t, found: %t, by hand: %t", ohms, short, found, byHand)
			}
			if failed && !found {
				t.Fatalf("at %g Ω the finding is gone", ohms)
			}
			failed = found
		}
		if !failed {
			t.Error("nothing found at 10 MΩ")
		}
	}
}

// TestDemands: what hangs on a supply is what its circuits, the channels of the cards
// that it feeds and these cards themselves draw; on a fuse, what goes through it. By
// hand: a transmitter at its 22 mA twice, an output at its 20 mA, a coil of 24 V / 480 Ω
// = 50 mA, 90 mA of the input card itself.
func TestDemands(t *testing.T) {
	t.Parallel()
	const plant = `
cabinets:
  MC:
    strips: {X1: {terminals: 1..20}, X5: {terminals: [F1..F3 fused 100 mA, N1..N3], jumpers: [F1..F3, N1..N3]}}
    supplies: {PS: {volts: 24 V DC, limit: LIMIT}, PS-2: {volts: 24 V DC, limit: 1 A}}
    feeds: [PS + to X5 F1, PS - to X5 N1]
    cards:
      AI: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm, FEED}
      AL: {kind: AI, power: loop, channels: 2, ohms: 250 ohm}
      AO: {kind: AO, channels: 2, drive: 750 ohm, supply: PS}
      DO: {kind: DO, power: card, channels: 2, volts: 24 V, supply: PS}
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
cables:
  W1: {type: pair, from: FT-1, to: MC, length: 10 m}
  W2: {type: pair, from: FT-2, to: MC, length: 10 m}
  W3: {type: pair, from: FV-3, to: MC, length: 10 m}
  W4: {type: pair, from: XY-4, to: MC, length: 0.0001 m}
loops:
  L:
    service: demands
    devices:
      FT-1: {kind: transmitter, lift-off: 10 V, failure current: 22 mA}
      FT-2: {kind: transmitter, lift-off: 10 V, failure current: 22 mA}
      FV-3: {kind: positioner, ohms: 300 ohm}
      XY-4: {kind: solenoid, ohms: 480 ohm, pull-in: 18 V}
    circuits:
      a: [FT-1, W1, MC/X1 1 2, wires, AI channel 1]
      b: [FT-2, W2, MC/X1 3 4, {+: [wires, MC/X5 F2], -: [wires, AL channel 1 +>-, wires, MC/X5 N2]}]
      c: [FV-3, W3, MC/X1 5 6, wires, AO channel 1]
      d: [XY-4, W4, MC/X1 7 8, wires, DO channel 1]
`
	for _, x := range []struct {
		name, limit, feed string
		want              map[string]float64
		ColourCodes       string
	}{
		{"straight", "1 A", "supply: PS, draws: 90 mA", map[string]float64{"PS": 22 + 22 + 20 + 50 + 90, "PS-2": 0, "F2": 22}, ""},
		{"by way of a fuse", "1 A", "supply: X5 F3, draws: 90 mA", map[string]float64{"PS": 204, "PS-2": 0, "F2": 22, "F3": 112}, "overloaded-fuse"},
		{"from another supply", "1 A", "supply: PS-2", map[string]float64{"PS": 92, "PS-2": 22, "F2": 22}, ""},
		{"not given", "1 A", "draws: 90 mA", map[string]float64{"PS": 92, "PS-2": 0, "F2": 22}, ""},
		{"too much for the supply", "200 mA", "supply: PS, draws: 90 mA", map[string]float64{"PS": 204, "PS-2": 0, "F2": 22}, "overloaded-supply"},
		{"the return", "1 A", "supply: X5 N3", nil, "unfed-card"},
		{"nothing feeds it", "1 A", "supply: MC/X1 20", nil, "unfed-card"},
		{"no such terminal", "1 A", "supply: X5 F9", nil, "unknown-terminal"},
		{"no terminal", "1 A", "supply: X5", nil, "bad-feed"},
		{"no such supply", "1 A", "supply: PS-9", nil, "unknown-tag"},
	} {
		t.Run(x.name, func(t *testing.T) {
			m := fstest.MapFS{"p.yaml": {Data: []byte(strings.NewReplacer("LIMIT", x.limit, "FEED", x.feed).Replace(plant))}}
			if codes := codesOf(m); codes != x.ColourCodes {
				t.Errorf("found %q, not %q", codes, x.ColourCodes)
			}
			if x.want == nil {
				return
			}
			p, _, _ := read.Read(m, ".")
			for _, d := range compute.Demands(p) {
				name := ""
				if d.Fuse != nil {
					name = d.Fuse.Name
				} else {
					name = d.Supply.Tag
				}
				modeltest.Within(t, name, d.MA, x.want[name], 1e-3)
				if delete(x.want, name); d.Unknown > 0 {
					t.Error(name, d.Unknown)
				}
			}
			if len(x.want) > 0 {
				t.Error("missing", x.want)
			}
		})
	}
}
