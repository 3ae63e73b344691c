package check

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// codesOf reads and checks a plant and returns the codes of what is wrong, a
// ? behind those of warnings, each once.
func codesOf(m fstest.MapFS) string {
	p, _, ps := read.Read(m, ".")
	codes := map[string]bool{}
	for _, pr := range append(ps, Check(p)...) {
		c := pr.Code
		if pr.Severity == finding.Warning {
			c += "?"
		}
		codes[c] = true
	}
	return strings.Join(slices.Sorted(maps.Keys(codes)), " ")
}

// TestFaults makes one mistake at a time in a plant without any, as a slip of
// the pen or of the screwdriver would, and tells what must be found of it: no
// less, and nothing besides.
func TestFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, old, new, want string }{
		// Polarity: a two-wire circuit reversed at each place of its walk.
		{"at the device", "- FT-2107 + -", "- FT-2107 - +\n        - W-2107 reversed\n        - JB-21/X1 7 8 9\n        - W-21 pair 3 reversed\n        - MC-1/X4 7 8 9\n        - W-901 pair 3 reversed\n        - AI-1-03 channel 3 + -\n      spoilt:\n        - FT-2107 + -", "channel-used-twice core-used-twice reversed-polarity screen-used-twice terminal-used-twice"},
		{"named in the other order", "- FT-2107 + -\n        - W-2107\n        - JB-21/X1 7 8 9\n        - W-21 pair 3\n        - MC-1/X4 7 8 9\n        - W-901 pair 3\n        - AI-1-03 channel 3", "- FT-2107 - +\n        - W-2107\n        - JB-21/X1 8 7 9\n        - W-21 pair 3\n        - MC-1/X4 8 7 9\n        - W-901 pair 3\n        - AI-1-03 channel 3 - +", ""},
		{"in the field cable", "- W-2107\n", "- W-2107 reversed\n", "crossed-polarity?"},
		{"at the box", "JB-21/X1 7 8 9", "JB-21/X1 8 7 9", "crossed-polarity?"},
		{"in the home run", "W-21 pair 3\n", "W-21 pair 3 reversed\n", "crossed-polarity?"},
		{"at the cabinet", "MC-1/X4 7 8 9", "MC-1/X4 8 7 9", "crossed-polarity?"},
		{"at the card", "AI-1-03 channel 3\n", "AI-1-03 channel 3 - +\n", "reversed-polarity"},
		{"at the box and the card", "JB-21/X1 7 8 9\n        - W-21 pair 3\n        - MC-1/X4 7 8 9\n        - W-901 pair 3\n        - AI-1-03 channel 3\n", "JB-21/X1 8 7 9\n        - W-21 pair 3\n        - MC-1/X4 7 8 9\n        - W-901 pair 3\n        - AI-1-03 channel 3 - +\n", "reversed-polarity"},
		{"output at the card", "AO-1-05 channel 1", "AO-1-05 channel 1 - +", "reversed-polarity"},
		{"at the indicator", "LI-2115 . +>-", "LI-2115 . ->+", "reversed-polarity"},
		{"indicator in the plus leg", "LI-2115 . +>-", "LI-2115 ->+ .", ""},
		{"indicator reversed in the plus leg", "LI-2115 . +>-", "LI-2115 +>- .", "reversed-polarity"},
		{"at the barrier", "- Z-2330", "- Z-2330 2 1", "reversed-polarity"},
		{"in and out of the barrier", "- Z-2330\n        - wires\n        - AI-2-05 channel 1", "- Z-2330 2 1\n        - wires\n        - AI-2-05 channel 1 - +", "reversed-polarity"},
		{"solenoid", "DO-2-02 channel 1", "DO-2-02 channel 1 - +", "reversed-polarity"},
		{"proximity switch", "PX-2-04 channel 1", "PX-2-04 channel 1 - +", "reversed-polarity"},
		{"thermocouple", "TC-2-03 channel 1", "TC-2-03 channel 1 - +", "reversed-polarity"},
		{"thermocouple at the box", "JB-23/X1 1 2 3", "JB-23/X1 2 1 3", "crossed-polarity?"},
		{"contact input", "DI-2-01 channel 1 +>-", "DI-2-01 channel 1 ->+", "reversed-polarity"},
		{"contact from minus", "1: [wires, MC-2/X5 F1]\n          2: [wires, DI-2-01 channel 1 +>-, wires, MC-2/X5 N1]", "1: [wires, MC-2/X5 N1]\n          2: [wires, DI-2-01 channel 1 +>-, wires, MC-2/X5 F1]", "reversed-polarity"},
		{"contact from minus, input turned", "1: [wires, MC-2/X5 F1]\n          2: [wires, DI-2-01 channel 1 +>-, wires, MC-2/X5 N1]", "1: [wires, MC-2/X5 N1]\n          2: [wires, DI-2-01 channel 1 ->+, wires, MC-2/X5 F1]", ""},
		{"contact legs crossed", "JB-22/X1 1 2 3", "JB-22/X1 2 1 3", ""}, // a contact does not mind
		{"both poles plus", "wires, MC-2/X5 N1]", "wires, MC-2/X5 F5]", "reversed-polarity"},
		{"sensor leads", "RT-1-07 channel 1", "RT-1-07 channel 1 1B1 1A 1B2", "crossed-leads"},
		{"sensor leads at the box, both B", "JB-22/X2 1 2 3 4", "JB-22/X2 1 3 2 4", ""},
		{"mains", "MC-2/X7 L1 N1 PE1", "MC-2/X7 N1 L1 PE1", "crossed-leads"},
		{"four wires on an input that powers", "AI-2-06: {kind: AI, power: loop", "AI-2-06: {kind: AI, power: card", "two-sources"},
		{"two wires on an input that does not", "AI-1-03: {kind: AI, power: card", "AI-1-03: {kind: AI, power: loop", "no-source"},

		// Short.
		{"core twice", "W-21 pair 3\n", "W-21 pair 5\n", "core-used-twice screen-used-twice"},
		{"half a pair", "W-21 pair 3\n", "W-21 cores 5 11\n", "core-used-twice crossed-polarity? screen-used-twice split-pair"},
		{"terminal twice in a box", "JB-21/X1 7 8 9", "JB-21/X1 13 8 9", "terminal-used-twice"},
		{"terminal twice in a cabinet", "MC-1/X4 7 8 9", "MC-1/X4 13 8 9", "terminal-used-twice"},
		{"both legs on a terminal", "JB-21/X1 7 8 9", "JB-21/X1 7 7 9", "crossed-polarity? low-voltage terminal-used-twice"},
		{"on a spare's terminal", "JB-21/X1 7 8 9", "JB-21/X1 55 8 9", "terminal-used-twice"},
		{"a spare pair used", "W-21 pair 3\n", "W-21 pair 19\n", "core-used-twice screen-used-twice"},
		{"channel twice", "AI-1-03 channel 3\n", "AI-1-03 channel 5\n", "channel-used-twice"},
		{"two channels", "AI-1-03 channel 3\n", "AI-1-03 channel 3 + x\n", "open-leg open-terminal?"},
		{"jumper joins circuits", "largest: 2.5 mm2}\n\n  JB-22", "jumpers: [7 13], largest: 2.5 mm2}\n\n  JB-22", "joined-circuits"},
		{"chained jumpers join circuits", "largest: 2.5 mm2}\n\n  JB-22", "jumpers: [7 70, 70 71, 71 13], largest: 2.5 mm2}\n\n  JB-22", "joined-circuits"},
		{"jumper joins legs", "largest: 2.5 mm2}\n\n  JB-22", "jumpers: [7 8], largest: 2.5 mm2}\n\n  JB-22", "joined-circuits"},
		{"fuse shared", "MC-2/X5 F2", "MC-2/X5 F1", "terminal-crowded"},
		{"supplies joined", "- AC-21 L to X7 L1", "- PS-22 + to X5 F8\n      - AC-21 L to X7 L1", "unknown-tag"},

		// Earth.
		{"screen dropped in the box", "JB-21/X1 7 8 9", "JB-21/X1 7 8", "dropped-screen unearthed-screen"},
		{"screen cut back in the box", "JB-21/X1 7 8 9", "JB-21/X1 7 8 x", "dropped-screen? unearthed-screen"},
		{"screen dropped in the first of two boxes", "JB-22/X3 1 2 3", "JB-22/X3 1 2", "dropped-screen unearthed-screen"},
		{"screen dropped in the second of two boxes", "JB-21/X1 46 47 48", "JB-21/X1 46 47", "dropped-screen unearthed-screen"},
		{"screen not landed in the cabinet", "MC-1/X4 7 8 9", "MC-1/X4 7 8", "unearthed-screen"},
		{"screen earthed at both ends", "FT-2107 + -\n", "FT-2107 + - screen earth\n", "screen-earthed-twice"},
		{"screen earthed in the field only", "FT-2107 + -\n        - W-2107\n        - JB-21/X1 7 8 9\n        - W-21 pair 3\n        - MC-1/X4 7 8 9", "FT-2107 + - screen earth\n        - W-2107\n        - JB-21/X1 7 8 9\n        - W-21 pair 3\n        - MC-1/X4 7 8 x", "screen-earth-end?"},
		{"screen straight on the bar", "MC-1/X4 7 8 9", "MC-1/X4 7 8 IE", ""},
		{"screens on one terminal", "JB-21/X1 7 8 9", "JB-21/X1 7 8 15", "screen-earthed-twice terminal-used-twice"},
		{"no bond", "bonded: 3..72 step 3 to IE", "bonded: 3..36 step 3 to IE", "unearthed-screen unearthed-screen?"},
		{"overall screen left out", "overall: {from: x, to: IE}\n    spares:\n      pair 19", "spares:\n      pair 19", "unearthed-screen"},
		{"overall screen at both ends", "overall: {from: X1 36, to: IE}", "overall: {from: x, to: IE}", "unearthed-screen"},
		{"screen on a core's terminal", "JB-21/X1 7 8 9", "JB-21/X1 7 8 40", "wrong-mark"},
		{"core on a screen's terminal", "JB-21/X1 7 8 9", "JB-21/X1 7 42 9", "wrong-mark"},

		// Termination.
		{"another box", "JB-21/X1 7 8 9", "JB-22/X3 4 5 6", "misrouted-cable"},
		{"another cabinet", "MC-2/X1 7 8\n", "MC-1/X8 7 8\n", "misrouted-cable wires-between-places"},
		{"analogue on contacts", "- AI-1-03 channel 3\n", "- RT-1-07 channel 8 A B1\n", "unknown-terminal"},
		{"output on input", "AO-1-05 channel 1", "AI-1-03 channel 2", "wrong-card"},
		{"contact on an analogue input", "- PX-2-04 channel 1", "- AI-2-05 channel 7", "wrong-card"},
		{"thick cores", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid", "one-pair K:      {pairs: 1, conductor: 4 mm2 solid", "conductor-too-big"},
		{"thick wires", "wire: 1.0 mm2 VT", "wire: 6 mm2 BU", "conductor-too-big"},
		{"no such pair", "W-21 pair 3\n", "W-21 pair 25\n", "unknown-core"},
		{"no such terminal", "JB-21/X1 7 8 9", "JB-21/X1 7 73 9", "unknown-terminal"},

		// Open.
		{"leg cut back", "JB-21/X1 7 8 9", "JB-21/X1 7 x 9", "broken-leg"},
		{"ends on the strip", "        - W-901 pair 3\n        - AI-1-03 channel 3\n", "", "open-leg"},
		{"ends on the cable", "        - AI-1-03 channel 3\n", "", "open-circuit"},
		{"a tail ends on wires", "1: [wires, MC-2/X5 F1]", "1: [wires]", "open-circuit"},
		{"a leg forgotten", "        - 1: [wires, MC-2/X5 F1]\n          2:", "        - 2:", "open-leg"},
		{"fuse not fed", "      - PS-21 + to X5 F1\n", "", "joined-circuits open-leg unfed-card"},
		{"one way only", "- FT-2107 + -\n        - W-2107\n        - JB-21/X1 7 8 9\n        - W-21 pair 3\n        - MC-1/X4 7 8 9\n        - W-901 pair 3\n        - AI-1-03 channel 3", "- FT-2107 +\n        - W-2107\n        - JB-21/X1 7 9\n        - W-21 pair 3\n        - MC-1/X4 7 9\n        - W-901 pair 3\n        - AI-1-03 channel 3 +", "open-terminal?"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := modeltest.Spoilt(t, c.old, c.new)
			if got := codesOf(m); got != c.want {
				t.Errorf("found %q, want %q", got, c.want)
			}
		})
	}
}

// TestCheckOfNothing: a plant without anything has nothing wrong with it.
func TestCheckOfNothing(t *testing.T) {
	t.Parallel()
	if ps := Check(&model.Plant{}); ps != nil {
		t.Error(ps)
	}
}

// TestWays are circuits that are wired in other ways and are right, and what
// spoils them.
func TestWays(t *testing.T) {
	t.Parallel()
	const plant = `
cable types:
  pair:  {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}
  triad: {triads: 1, conductor: 1.0 mm2, colours: [BK WH RD], screen: none}
  each:  {pairs: 4, conductor: 1.0 mm2, code: black/white numbered, screen: each}
boxes:
  JB: {strips: {X1: {terminals: 1..12}, X2: {terminals: 1..12}}}
cabinets:
  MC:
    earths: {IE: instrument earth}
    strips:
      X1: {terminals: 1..12, marks: + -}
      X2: {terminals: 1..12, bonded: 3..12 to IE}
      X5: {terminals: [F1..F4 fused 1 A, N1..N4], jumpers: [F1..F4, N1..N4]}
    supplies: {PS: {volts: 24 V DC}}
    feeds: [PS + to X5 F1, PS - to X5 N1]
    isolators: {IS: {}, IS3: {terminals: 1 2 3 4 5 6}}
    cards:
      AI: {kind: AI, power: card, channels: 4}
      AL: {kind: AI, power: loop, channels: 4}
      AO: {kind: AO, channels: 4}
      DI: {kind: DI, power: card, channels: 4}
      DO: {kind: DO, power: card, channels: 4}
      DR: {kind: DO, power: loop, channels: 4}
panels:
  CP: {}
cables:
  W-1: {type: pair, from: DEV, to: MC}
  W-2: {type: triad, from: DEV, to: MC}
  W-3: {type: each, from: DEV, to: JB}
  W-4: {type: each, from: JB, to: MC}
  W-5: {type: pair, from: MC, to: CP}
loops:
  L:
    service: other ways
    devices:
      DEV: {kind: KIND}
    circuits:
      c: [WALK]
`
	for _, c := range []struct{ name, kind, walk, want string }{
		{"current by way of the supply", "transmitter", "DEV, W-1, MC/X1 1 2, {+: [wires, MC/X5 F2], -: [wires, AL channel 1 +>-, wires, MC/X5 N2]}", ""},
		{"input the wrong way round", "transmitter", "DEV, W-1, MC/X1 1 2, {+: [wires, MC/X5 F2], -: [wires, AL channel 1 ->+, wires, MC/X5 N2]}", "reversed-polarity"},
		{"return by way of the supply", "transmitter", "DEV, W-1, MC/X1 1 2, {+: [wires, AI channel 1 +], -: [wires, MC/X5 N2]}", ""},
		{"four wires, return by way of the supply", "four-wire transmitter", "DEV + -, W-1, MC/X1 1 2, {+: [wires, AL channel 1 +>-, wires, MC/X5 N3], -: [wires, MC/X5 N2]}", "open-terminal?"},
		{"solenoid, return to the rail", "solenoid", "DEV, W-1, MC/X1 1 2, {+: [wires, DO channel 1 +], -: [wires, MC/X5 N2]}", ""},
		{"dry relay", "solenoid", "DEV, W-1, MC/X1 1 2, {+: [wires, DR channel 1 ->+, wires, MC/X5 F2], -: [wires, MC/X5 N2]}", ""},
		{"dry relay, no supply", "solenoid", "DEV, W-1, MC/X1 1 2, wires, DR channel 1", "no-source"},
		{"solenoid, rail reversed", "solenoid", "DEV, W-1, MC/X1 1 2, {+: [wires, DR channel 1 ->+, wires, MC/X5 N3], -: [wires, MC/X5 F2]}", "reversed-polarity"},
		{"transmitter behind an isolator", "transmitter", "DEV, W-1, MC/X1 1 2, wires, IS, wires, AL channel 1", ""},
		{"isolator turned", "transmitter", "DEV, W-1, MC/X1 1 2, wires, IS 2 1, wires, AL channel 1", "reversed-polarity"},
		{"input behind the isolator turned", "transmitter", "DEV, W-1, MC/X1 1 2, wires, IS, wires, AL channel 1 - +", "reversed-polarity"},
		{"proximity switch behind an isolator", "proximity switch", "DEV, W-1, MC/X1 1 2, wires, IS, wires, DI channel 1", ""},
		{"proximity switch straight", "proximity switch", "DEV, W-1, MC/X1 1 2, wires, DI channel 1", "wrong-card?"},
		{"transmitter on an output", "transmitter", "DEV, W-1, MC/X1 1 2, wires, IS, wires, AO channel 1", "wrong-card"},
		{"resistance converted", "RTD 3-wire", "DEV, W-2, MC/X2 1 2 3, wires, IS3 1 2 3, wires, AL channel 1 + - x", "open-leg"},
		{"from the card", "I/P converter", "AO channel 2, wires, MC/X1 1 2, W-1, DEV", ""},
		{"from the card by way of a barrier", "I/P converter", "AO channel 2, wires, IS, wires, MC/X1 1 2, W-1, DEV", ""},
		{"from the card, reversed", "I/P converter", "AO channel 2, wires, MC/X1 1 2, W-1, DEV - +", "reversed-polarity"},
		{"from the wrong card", "I/P converter", "AI channel 2, wires, MC/X1 1 2, W-1, DEV", "wrong-card"},
		{"indicator on an output", "indicator", "DEV, W-1, MC/X1 1 2, wires, AO channel 1", ""},
		{"legs in two pairs, box to box", "transmitter", "DEV, W-3 pair 1, JB/X1 1 2 3, {+: [W-4 pair 1, MC/X2 1 3, wires, AI channel 1 +], -: [W-4 pair 2, MC/X2 2 4, wires, AI channel 1 -]}", "screen-earthed-twice terminal-crowded untwisted-legs?"},
		{"legs of one pair apart", "transmitter", "DEV, W-3 pair 1, JB/X1 1 2 3, {+: [W-4 cores 1, MC/X2 1 3, wires, AI channel 1 +], -: [W-4 cores 2, MC/X2 2, wires, AI channel 1 -]}", ""},
		{"one pair named for both legs", "transmitter", "DEV, W-3 pair 1, JB/X1 1 2 3, {+: [W-4 pair 1, MC/X2 1 3, wires, AI channel 1 +], -: [W-4 pair 1, MC/X2 2, wires, AI channel 1 -]}", ""},
		{"both on the minus rail", "transmitter", "DEV, W-1, MC/X1 1 2, {+: [wires, MC/X5 N1], -: [wires, AL channel 1 +>-, wires, MC/X5 N2]}", "no-source"},
		{"screen dropped where legs part", "transmitter", "DEV, W-3 pair 1, JB/X1 1 2, {+: [W-4 cores 1, MC/X2 1 3, wires, AI channel 1 +], -: [W-4 cores 2, MC/X2 2, wires, AI channel 1 -]}", "dropped-screen unearthed-screen"},
		{"screen wired across a box", "transmitter", "DEV, W-3 pair 1, JB/X1 1 2 3, wires, JB/X2 1 2 3, W-4 pair 1, MC/X2 1 2 3, wires, AI channel 1", ""},
		{"nothing but a strip", "transmitter", "MC/X1 1 2, wires, MC/X5 F1 N2", "unused-common? unwired-device?"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.NewReplacer("KIND", c.kind, "WALK", c.walk).Replace(plant)
			m := fstest.MapFS{"p.yaml": {Data: []byte(text)}}
			got := codesOf(m)
			if got == c.want {
				return
			}
			p, src, ps := read.Read(m, ".")
			var b strings.Builder
			append(ps, Check(p)...).Sort().Print(&b, src)
			t.Errorf("found %q, want %q\n%s", got, c.want, b.String())
		})
	}
}
