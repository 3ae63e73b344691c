package sheet_test

import (
	"strings"
	"testing"
	"testing/fstest"
)

// feeds is a plant in which a feed is written in one place, from a supply in another to a
// strip in a third, and a card in a fourth draws on that supply.
const feeds = `plant: Far feeds
cable types: {two: {pairs: 2, conductor: 1 mm2, code: black/white numbered, screen: none}}
cabinets:
  MC-1: {strips: {X1: {terminals: 1..4}}, cards: {AI-1: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}}}
  MC-5: {supplies: {PS-5: {volts: 24 V DC, circuit: DB-9}}}
  MC-6: {strips: {X1: {terminals: [F1..F4 fused 1 A]}}}
  MC-7: {feeds: [PS-5 + to MC-6/X1 F1 RD]}
  MC-8: {cards: {DI-8: {kind: DI, power: card, channels: 2, supply: PS-5, draws: 150 mA}}, at: hall}
cables: {W-1: {type: two, from: PT-1, to: MC-1, length: 9 m}}
loops: {P-1: {service: one, devices: {PT-1: {kind: transmitter}}, circuits: {PT-1: [PT-1, W-1 pair 1, MC-1/X1 1 2, wires, AI-1 channel 1]}}}
`

// standing is a plant in which existing cables join two systems.
const standing = `plant: Standing
cable types: {two: {pairs: 2, conductor: 1 mm2, code: black/white numbered, screen: none}}
systems:
  S-1: {strips: {X1: {terminals: 1..12}}}
  S-2:
    cards:
      AI-1: {kind: AI, power: card, channels: 4}
      AI-2: {kind: AI, power: card, channels: 4}
cables:
  W-1: {type: two, from: S-1, to: S-2, length: 5 m, status: existing}
  W-2: {type: two, from: S-1, to: S-2, length: 5 m, status: existing}
  F-1: {type: two, from: PT-1, to: S-1, length: 5 m}
  F-2: {type: two, from: PT-2, to: S-1, length: 5 m}
loops:
  P-1: {service: one, devices: {PT-1: {kind: transmitter}}, circuits: {PT-1: [PT-1, F-1 pair 1, S-1/X1 1 2, W-1 pair 1, AI-1 channel 1]}}
  P-2: {service: two, devices: {PT-2: {kind: transmitter}}, circuits: {PT-2: [PT-2, F-2 pair 1, S-1/X1 3 4, W-2 pair 1, AI-2 channel 1]}}
  P-3: {service: three, devices: {PT-3: {kind: transmitter, in: S-1}}, circuits: {PT-3: [PT-3, wires, S-1/X1 5 6, W-2 pair 2, AI-2 channel 2]}}
`

// screens is a plant in which a screen is earthed two cables away.
const screens = `plant: Screens
cable types:
  one: {pairs: 1, conductor: 1 mm2, code: black/white, screen: overall}
  six: {pairs: 6, conductor: 1 mm2, code: black/white numbered, screen: overall}
boxes: {JB-1: {strips: {X1: {terminals: 1..24}}}}
cabinets:
  MC-1: {strips: {X1: {terminals: 1..24}, X8: {terminals: S1..S2, jumpers: [S1..S2]}}, cards: {AI-1: {kind: AI, power: card, channels: 2}}}
  MC-9: {earths: {IE: instrument earth, ME: mast earth}}
cables:
  W-1: {type: one, from: PT-1, to: JB-1, length: 9 m}
  W-2: {type: six, from: JB-1, to: MC-1, length: 90 m, overall: {from: X1 3, to: X8 S1}}
  W-9: {type: six, from: MC-1, to: MC-9, length: 45 m, overall: {from: X8 S2, to: IE}}
loops: {P-1: {service: one, devices: {PT-1: {kind: transmitter}}, circuits: {PT-1: [PT-1, W-1, JB-1/X1 1 2 3, W-2 pair 1, MC-1/X1 1 2, wires, AI-1 channel 1]}}}
`

// system is a plant with a system that two loops come to which have nothing else in
// common: neither's text is in the stamp of the other. Their screens are earthed by the
// second, over a jumper. Of the two cables of the third loop there, one stands.
const system = `plant: System
cable types:
  one: {pairs: 1, conductor: 1 mm2, code: black/white, screen: none}
  six: {pairs: 6, conductor: 1 mm2, code: black/white numbered, screen: each}
cabinets:
  MC-8: {at: hall, supplies: {PS-8: {volts: 24 V DC}}, strips: {X1: {terminals: [F1, N1]}}, feeds: [PS-8 + to X1 F1, PS-8 - to X1 N1]}
  MC-9: {strips: {X1: {terminals: 1..8}}, earths: {IE: instrument earth, ME: mast earth}, cards: {AI-9: {kind: AI, power: card, channels: 4}}}
systems:
  S-1: {at: room, strips: {X1: {terminals: 1..24, jumpers: [23..24]}}, cards: {AI-1: {kind: AI, power: card, channels: 4}, AI-2: {kind: AI, power: card, channels: 4}}}
cables:
  F-1: {type: six, from: PT-1, to: S-1, length: 5 m}
  W-9: {type: six, from: S-1, to: MC-9, length: 5 m}
  W-7: {type: one, from: XY-3, to: S-1, length: 5 m}
  W-8: {type: one, from: S-1, to: MC-8, length: 5 m, status: existing}
loops:
  P-1: {service: one, devices: {PT-1: {kind: transmitter}}, circuits: {PT-1: [PT-1, F-1 pair 1, S-1/X1 1 2 23, wires, AI-1 channel 1]}}
  P-2: {service: two, devices: {PT-2: {kind: transmitter, in: S-1}}, circuits: {PT-2: [PT-2, wires, S-1/X1 5 6 24, W-9 pair 1, MC-9/X1 1 2 IE, wires, AI-9 channel 1]}}
  P-3: {service: three, devices: {XY-3: {kind: solenoid, ohms: 500 ohm}}, circuits: {XY-3: [XY-3, W-7, S-1/X1 11 12, W-8, MC-8/X1 F1 N1]}}
`

const (
	standing8 = "S-1, length: 5 m}\n  W-8: {type: one, from: S-1, to: MC-8, length: 5 m, status: existing}"
	standing7 = "S-1, length: 5 m, status: existing}\n  W-8: {type: one, from: S-1, to: MC-8, length: 5 m}"
)

// coils and flows are plants in which three loops are fed in one cabinet, and go on over
// boxes to cables of their own, which are far off for those of the others. The first two share a
// fuse, or a feed. What all draw on the supply stays when the cables of two are
// swapped.
const coils = `plant: Coils
cable types: {pair: {cores: 2, conductor: 0.5 mm2, colours: [BN, BU], screen: none}}
boxes:
  JB-1: {strips: {X1: {terminals: 1..8}}}
  JB-2: {strips: {X1: {terminals: 1..8}}}
  JB-3: {strips: {X1: {terminals: 1..8}}}
cabinets:
  MC-1:
    strips: {X1: {terminals: 1..24}, X7: {terminals: [L1..L2 fused 0.5 A T, N1..N2], jumpers: [L1..L2, N1..N2], conductors: 3}}
    supplies: {AC-1: {volts: 24 V AC}}
    feeds: [AC-1 L to X7 L1, AC-1 N to X7 N1]
cables:
  H-1: {type: pair, from: JB-1, to: MC-1, length: 9 m}
  H-2: {type: pair, from: JB-2, to: MC-1, length: 9 m}
  H-3: {type: pair, from: JB-3, to: MC-1, length: 9 m}
  W-1: {type: pair, from: XY-1, to: JB-1, length: 9 m}
  W-2: {type: pair, from: XY-2, to: JB-2, length: 9 m}
  W-3: {type: pair, from: XY-3, to: JB-3, length: 90 m}
loops:
  X-1: {service: one, devices: {XY-1: {kind: solenoid, rated volts: 24 V AC, inrush: 9 VA, inrush power factor: 0.7, holding: 5 VA, power factor: 0.4, pull-in: 10 V}}, circuits: {XY-1: [XY-1, W-1, JB-1/X1 1 2, H-1, MC-1/X1 1 2, {1: [wires, MC-1/X7 L1], 2: [wires, MC-1/X7 N1]}]}}
  X-2: {service: two, devices: {XY-2: {kind: solenoid, rated volts: 24 V AC, inrush: 9 VA, inrush power factor: 0.7, holding: 5 VA, power factor: 0.4, pull-in: 10 V}}, circuits: {XY-2: [XY-2, W-2, JB-2/X1 1 2, H-2, MC-1/X1 3 4, {1: [wires, MC-1/X7 L1], 2: [wires, MC-1/X7 N1]}]}}
  X-3: {service: three, devices: {XY-3: {kind: solenoid, rated volts: 24 V AC, inrush: 9 VA, inrush power factor: 0.7, holding: 5 VA, power factor: 0.4, pull-in: 10 V}}, circuits: {XY-3: [XY-3, W-3, JB-3/X1 1 2, H-3, MC-1/X1 5 6, {1: [wires, MC-1/X7 L2], 2: [wires, MC-1/X7 N2]}]}}
`

const flows = `plant: Flows
cable types: {pair: {cores: 2, conductor: 0.5 mm2, colours: [BN, BU], screen: none}}
boxes:
  JB-1: {strips: {X1: {terminals: 1..8}}}
  JB-2: {strips: {X1: {terminals: 1..8}}}
  JB-3: {strips: {X1: {terminals: 1..8}}}
cabinets:
  MC-1:
    strips: {X1: {terminals: 1..24}, X5: {terminals: [F1..F4, N1..N4], jumpers: [F1..F2, N1..N4], conductors: 3}}
    supplies: {PS-1: {volts: 24 V DC}}
    feeds: [PS-1 + to X5 F1 over 900 m of 1.5 mm2, PS-1 + to X5 F3, PS-1 - to X5 N1]
cables:
  H-1: {type: pair, from: JB-1, to: MC-1, length: 9 m}
  H-2: {type: pair, from: JB-2, to: MC-1, length: 9 m}
  H-3: {type: pair, from: JB-3, to: MC-1, length: 9 m}
  W-1: {type: pair, from: XY-1, to: JB-1, length: 9 m}
  W-2: {type: pair, from: XY-2, to: JB-2, length: 9 m}
  W-3: {type: pair, from: XY-3, to: JB-3, length: 90 m}
loops:
  X-1: {service: one, devices: {XY-1: {kind: solenoid, ohms: 120 ohm, pull-in: 10 V}}, circuits: {XY-1: [XY-1, W-1, JB-1/X1 1 2, H-1, MC-1/X1 1 2, {1: [wires, MC-1/X5 F1], 2: [wires, MC-1/X5 N1]}]}}
  X-2: {service: two, devices: {XY-2: {kind: solenoid, ohms: 120 ohm, pull-in: 10 V}}, circuits: {XY-2: [XY-2, W-2, JB-2/X1 1 2, H-2, MC-1/X1 3 4, {1: [wires, MC-1/X5 F2], 2: [wires, MC-1/X5 N2]}]}}
  X-3: {service: three, devices: {XY-3: {kind: solenoid, ohms: 120 ohm, pull-in: 10 V}}, circuits: {XY-3: [XY-3, W-3, JB-3/X1 1 2, H-3, MC-1/X1 5 6, {1: [wires, MC-1/X5 F3], 2: [wires, MC-1/X5 N3]}]}}
`

const takes = `plant: Takes
cable types: {pair: {cores: 2, conductor: 0.5 mm2, colours: [BN, BU], screen: none}}
cabinets:
  MC-1: {cards: {AI-1: {kind: AI, power: card, channels: 2}}}
  MC-2: {cards: {AI-2: {kind: AI, power: card, channels: 2}}}
cables:
  W-1: {type: pair, from: PT-1, to: MC-1, length: 9 m}
  W-2: {type: pair, from: PT-2, to: MC-2, length: 9 m}
loops:
  P-1: {service: one, devices: {PT-1: {kind: transmitter}}, functions: {UC-1: {kind: controller, reads: PT-1}}, circuits: {PT-1: [PT-1, W-1, AI-1 channel 1]}}
  P-2: {service: two, devices: {PT-2: {kind: transmitter}}, functions: {UC-2: {kind: controller, reads: PT-2, takes: UC-1}}, circuits: {PT-2: [PT-2, W-2, AI-2 channel 1]}}
`

// far are the cables of the last two loops, with what is said of their lengths.
func far(two, three string) string {
	return "JB-2" + two + "}\n  W-3: {type: pair, from: XY-3, to: JB-3" + three + "}"
}

// together has all loops of coils or flows on the first fuse or feed, and a cable without a
// length.
func together(text string) string {
	return strings.NewReplacer("0.5 A T", "2 A", ", holding: 5 VA, power factor: 0.4", "", "X7 L2]", "X7 L1]", "X5 F3]", "X5 F2]", far(", length: 9 m", ", length: 90 m"), far("", ", length: 9 m")).Replace(text)
}

// mains has all loops of coils on mains in a system, with cables of one length.
func mains(text string) string {
	return strings.NewReplacer("cabinets:", "systems:", "24 V AC", "230 V AC", "pull-in: 10 V", "pull-in: 90 V", "90 m", "9 m").Replace(text)
}

// lastTwo is what the last two loops of mains land on.
var lastTwo = mains(coils[strings.Index(coils, "MC-1/X1 3 4"):])

// TestStampsReach alters what sheets show of far-off things: each is in a stamp by one line
// of stamp.go, without which its case fails.
func TestStampsReach(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, text, old, new string }{
		{"a supply elsewhere", feeds, "24 V DC", "27 V DC"},
		{"a feed written elsewhere", feeds, "F1 RD", "F2 RD"},
		{"its colour", feeds, "F1 RD", "F1 BU"},
		{"a card elsewhere draws on a supply", feeds, "150 mA", "250 mA"},
		{"a standing cable", standing, "X1 5 6, W-2 pair 2", "X1 5 6, W-1 pair 2"},
		{"a screen earthed two cables away", screens, "X8 S2, to: IE", "X8 S2, to: ME"},
		{"a cabinet that nothing comes to", feeds, "at: hall", "at: yard"},
		{"a loop in service in a system", system, "service: two", "status: existing, service: two"},
		{"which cable stands in a system", system, standing8, standing7},
		{"danger in a system", strings.Replace(system, "24 V DC", "250 V DC", 1), "250 V DC", "220 V DC"},
		{"a screen earthed by that of another loop", system, "1 2 IE", "1 2 ME"},
		{"the pair of that screen", system, "W-9 pair 1", "W-9 pair 2"},
		{"the length of that screen", system, "MC-9, length: 5 m", "MC-9, length: 50 m"},
		{"inrush of others on a fuse", coils, far(", length: 9 m", ", length: 90 m"), far(", length: 90 m", ", length: 9 m")},
		{"what is not given of it", together(coils), far("", ", length: 9 m"), far(", length: 9 m", "")},
		{"who else a fuse puts out", mains(coils), lastTwo, strings.NewReplacer("L1", "L2", "L2", "L1").Replace(lastTwo)},
		{"what others draw on a feed", flows, far(", length: 9 m", ", length: 90 m"), far(", length: 90 m", ", length: 9 m")},
		{"the volts that it leaves", strings.Replace(flows, far(", length: 9 m", ", length: 90 m"), far(", length: 10.8 m", ", length: 10.9 m"), 1), far(", length: 10.8 m", ", length: 10.9 m"), far(", length: 10.9 m", ", length: 10.8 m")},
		{"what a function is whose output another loop takes", takes, "UC-1: {kind: controller", "UC-1: {kind: ratio"},
		{"what is not given of that", together(flows), far("", ", length: 9 m"), far(", length: 9 m", "")},
	} {
		t.Run(c.name, func(t *testing.T) {
			draw := func(text string) *drawnSet {
				set := drawSet(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, nil, "")
				if set == nil {
					t.Fatal("the plant has errors")
				}
				return set
			}
			changed, _, _ := draw(c.text).against(draw(strings.ReplaceAll(c.text, c.old, c.new)), nil, t.Errorf)
			if changed == 0 {
				t.Error("no sheet changes")
			}
		})
	}
}
