package check

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestEngineeringFaults makes one slip of engineering at a time in a plant
// without any, as TestFaults does with slips of wiring.
func TestEngineeringFaults(t *testing.T) {
	t.Parallel()
	const (
		blueCable = `sheath: blue, gland: M25 blue, capacitance: 115 pF/m, L/R: 25 uH/ohm}`
		source    = "        entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, Lo/Ro: 55 uH/ohm, group: IIC}\n"
		device    = `{Ui: 30 V, Ii: 120 mA, Pi: 1 W, Ci: 5 nF, Li: 20 uH}`
		policy    = "  spare pairs: 20 %             # of each home run\n"
		safeWalk  = "- W-26 pair 1\n        - MC-2/IS1 1 2 3\n"
	)
	for _, c := range []struct{ name, old, new, want string }{
		// Entity comparison.
		{"source gives too many volts", "Uo: 28 V", "Uo: 31 V", "exceeded-entity"},
		{"as many as the device stands", "Uo: 28 V", "Uo: 30 V", ""},
		{"device stands too little current", "Ii: 120 mA", "Ii: 90 mA", "exceeded-entity"},
		{"as much as the source gives", "Ii: 120 mA", "Ii: 93 mA", ""},
		{"device stands too little power", "Pi: 1 W", "Pi: 649 mW", "exceeded-entity"},
		{"unit of power", "Pi: 1 W", "Pi: 1 mW", "exceeded-entity"},
		{"device stores too much", "Ci: 5 nF", "Ci: 80 nF", "exceeded-entity"}, // and 7.13 nF of cable
		{"unit of capacitance", "Ci: 5 nF", "Ci: 5 uF", "exceeded-entity"},
		{"half of Co is enough", "Li: 20 uH", "Li: 1 mH", ""}, // 12.1 of 41.5 nF, 1.05 of 2.1 mH
		{"half of Lo is not", "Li: 20 uH", "Li: 2.1 mH", "exceeded-entity"},
		{"long cable", "length: 52 m, route: tray T8", "length: 700 m, route: tray T8", "exceeded-entity"},
		{"cable by default", blueCable, "sheath: blue, gland: M25 blue}", ""},
		{"long cable by default", blueCable, "sheath: blue, gland: M25 blue, capacitance: 1500 pF/m}", "exceeded-entity"},
		{"no length", "length: 52 m, route: tray T8", "route: tray T8", "missing-entity?"},
		{"no values of the source", source, "", "missing-entity?"},
		{"one value of the source missing", "Co: 83 nF, ", "", "missing-entity?"},
		{"one value of the device missing", ", Li: 20 uH", "", "missing-entity?"},
		{"no values of the device", "entity: " + device, "class: B", "missing-entity?"},
		{"barrier earthed nowhere", "        earth: IE\n", "", "missing-barrier-earth?"},
		{"barrier earthed on a bar that is not there", "        earth: IE\n", "        earth: XE\n", "unknown-earth"},
		{"simple apparatus", "entity: " + device, "simple apparatus: yes", ""},

		// Segregation.
		{"safe pair in a common cable", "- W-22 pair 2\n", "- W-26 pair 2\n", "misrouted-cable unsafe-cable"},
		{"near a safe terminal", "MC-2/X1 4 5", "MC-2/IS1 4 5", "unsafe-distance"},
		{"eight terminals of 6.2 mm from it", "MC-2/X1 4 5", "MC-2/IS1 11 12", "unsafe-distance wrong-mark"},
		{"safe circuit on a common strip", safeWalk, "- W-26 pair 1\n        - MC-2/X4 4 5 6\n", "missing-pitch?"},
		{"barrier turned", "- Z-2330\n", "- Z-2330 3 4\n", "turned-barrier"},
		{"barrier forgotten", "        - wires BU\n        - Z-2330\n", "", "missing-barrier?"},
		{"behind the barrier in the same cable", "- Z-2330\n        - wires\n        - AI-2-05 channel 1\n", "- Z-2330\n        - W-26 pair 3\n        - AI-2-05 channel 1\n", "misrouted-cable unearthed-screen unsafe-cable"},

		// Levels.
		{"a transmitter on the home run of contacts", "PSH-2221: {kind: contact", "PSH-2221: {kind: transmitter", "mixed-levels? unlikely-tag? wrong-card"},
		{"mains on the strip of contacts", "MC-2/X7 L1 N1 PE1", "MC-2/X1 34 35 36", "mixed-strip? open-leg"},

		// Thermocouple.
		{"another couple", "sensor: K,", "sensor: J,", "changed-alloy"},
		{"couple not given", "sensor: K, ", "", "missing-sensor?"},
		{"copper wires at the card", "wires GN WH", "wires", "changed-alloy"}, // those of the cabinet are blue
		{"wires of another couple", "wires GN WH", "wires BK WH", "changed-alloy"},
		{"wires in the colours of the other standard", "wires GN WH", "wires YE RD", ""},
		{"copper field cable", "W-2310: {type: one-pair K", "W-2310: {type: one-pair", "changed-alloy"},
		{"copper home run", "W-25: {type: 6-pair K", "W-25: {type: 2-pair", "changed-alloy"},
		{"field cable for another couple", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid, code: IEC 60584-3 K", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid, code: IEC 60584-3 N", "changed-alloy"},
		{"compensating cable", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid, code: IEC 60584-3 K", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid, code: IEC 60584-3 KCB", ""},
		{"two standards", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid, code: IEC 60584-3 K", "one-pair K:      {pairs: 1, conductor: 1.0 mm2 solid, code: ANSI KX", "changed-colours?"},

		// Resistance sensors.
		{"one lead of four left out", "TE-2203: {kind: RTD 3-wire", "TE-2203: {kind: RTD 4-wire", "crossed-leads"},

		// Ranges.
		{"channel set up for another range", "3: 0..450 m3/h", "3: 0..400 m3/h", "range-mismatch"},
		{"channel set up in another unit", "3: 0..450 m3/h", "3: 0..450 l/s", "range-mismatch"},
		{"another spelling of the unit", "3: 0..450 m3/h", "3: 0..450 m³/h", ""},
		{"channel set up for the pressure of the orifice", "3: 0..450 m3/h", "3: 0..250 mbar", ""},
		{"couple too hot", "range: 0..400 °C", "range: 0..1400 °C", "range-exceeded"},
		{"couple too hot, °F", "range: 0..400 °C", "range: 0..2400 °F", ""}, // 1316 °C
		{"alarm in another unit of the range", "alarms: [HH 430,", "alarms: [HH 7166.7 l/min,", ""},
		{"alarm in per cent", "alarms: [HH 430,", "alarms: [HH 95 %,", ""},
		{"alarm after a while", "alarms: [HH 430,", "alarms: [no flow in 20 s,", ""},
		{"alarm in a unit of something else", "alarms: [HH 430,", "alarms: [HH 430 mbar,", "wrong-unit?"},
		{"thermometer in bar", "range: 0..400 °C", "range: 0..400 bar", "wrong-unit"},

		// Spares.
		{"more spares asked for", "spare pairs: 20 %", "spare pairs: 70 %", "few-spare-pairs?"},
		{"no policy", policy, "", ""},
		{"spare terminals asked for", policy, "  spare terminals: 34 %\n", "few-spare-terminals?"},

		// Copper.
		{"contact straight across the supply", "1: [wires, MC-2/X5 F1]\n          2: [wires, DI-2-01 channel 1 +>-, wires, MC-2/X5 N1]", "1: [wires, MC-2/X5 F1]\n          2: [wires, MC-2/X5 N1]", "overloaded-fuse shorted-supply"},
		{"earth colour for a live leg", "- AT-2301 L N PE\n        - W-2302\n", "- AT-2301 L N PE\n        - W-2302 cores 3 2 1\n", "misused-earth-colour"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := modeltest.Spoilt(t, c.old, c.new)
			if got := codesOf(m); got != c.want {
				t.Errorf("found %q, want %q\n%s", got, c.want, listing(m))
			}
		})
	}
}

// TestSafeDistance: IEC 60079-11 clause 6.2.1 asks for 50 mm between
// intrinsically safe terminals and others; what lies between two is counted.
func TestSafeDistance(t *testing.T) {
	t.Parallel()
	const plant = `
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, screen: none}}
cabinets:
  MC:
    strips: {X1: {TERMINALS}}
    earths: {IE: instrument earth}
    barriers: {Z: {earth: IE, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH}}}
    cards: {AI: {kind: AI, power: card, channels: 2}, AO: {kind: AO, channels: 2}}
cables: {W-1: {type: pair, from: A, to: MC, length: 1 m}, W-2: {type: pair, from: B, to: MC}}
loops:
  L:
    service: two circuits
    devices: {A: {kind: KIND, simple apparatus: yes}, B: {kind: transmitter}}
    circuits:
      a: [WALK]
      b: [B, W-2, MC/X1 OTHER, wires, AI channel 2]
`
	in := "A, W-1, MC/X1 SAFE, wires, Z, wires, AI channel 1"
	out := "AO channel 1, wires, Z, wires, MC/X1 SAFE, W-1, A"
	for _, c := range []struct{ terminals, safe, other, walk, want string }{
		{"terminals: 1..20, pitch: 5 mm", "1 2", "13 14", in, ""}, // 10 terminals between
		{"terminals: 1..20, pitch: 5 mm", "1 2", "12 13", in, "unsafe-distance"},
		{"terminals: 1..20, pitch: 5 mm", "13 14", "1 2", in, ""}, // the other way round
		{"terminals: 1..20, pitch: 5 mm", "12 13", "1 2", in, "unsafe-distance"},
		{"terminals: 1..20", "1 2", "13 14", in, "missing-pitch?"},
		{"terminals: 1..20 decks A B, pitch: 5 mm", "1A 1B", "12A 12B", in, ""}, // decks lie over each other
		{"terminals: 1..20 decks A B, pitch: 5 mm", "1A 1B", "11A 11B", in, "unsafe-distance"},
		{"terminals: 1..20 decks A B, pitch: 5 mm", "1A 2A", "1B 2B", in, "unsafe-distance"},
		// Walked from the card, the field lies behind the barrier.
		{"terminals: 1..20, pitch: 5 mm", "1 2", "13 14", out, ""},
		{"terminals: 1..20, pitch: 5 mm", "1 2", "12 13", out, "unsafe-distance"},
	} {
		kind := "transmitter"
		if c.walk == out {
			kind = "positioner"
		}
		text := strings.NewReplacer("TERMINALS", c.terminals, "KIND", kind, "WALK", strings.Replace(c.walk, "SAFE", c.safe, 1), "OTHER", c.other).Replace(plant)
		m := fstest.MapFS{"p.yaml": {Data: []byte(text)}}
		if got := codesOf(m); got != c.want {
			t.Errorf("%s, %s and %s: found %q, want %q\n%s", c.terminals, c.safe, c.other, got, c.want, listing(m))
		}
	}
}

// TestTags: letters that fit their kind by ISA-5.1-2009 table 4.1, letters that
// do not, and tags of other systems, which are let be.
func TestTags(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind, tags string
		unlikely   bool
	}{
		{"transmitter", "FT-1 FT-2107 FIT-2107A PDT-7 PDIT-7 AE-3 21-FT-2107 U100-LT-12 FT2107 LT-12-1 FX-1 AU-7", false},
		{"transmitter", "FS-1 TSH-12 FV-100A 21-LY-7", true},
		{"transmitter", "10LAB20CF001 B1 transmitter M12 -B12 FT", false}, // other systems
		{"contact", "LSL-1 PSHH-20 ZSC-7 HS-1 XA-9 YL-3", false},
		{"contact", "FT-1007 TE-1 FV-9", true},
		{"solenoid", "XY-1 FSV-2 UY-7B", false},
		{"solenoid", "LT-7", true},
		{"control valve", "FV-1 PCV-7 TZ-12", false},
		{"I/P converter", "FY-2112", false},
		{"I/P converter", "FIC-2112", true},
		{"thermocouple", "TE-2310 TW-1", false},
		{"thermocouple", "TT-2310", true},
		{"indicator", "LI-1 FR-2 FQ-7", false},
		{"proximity switch", "ZSO-1 SE-7", false},
		{"lamp", "XL-1 UA-2", false},
	} {
		for _, tag := range strings.Fields(c.tags) {
			p := &model.Plant{Loops: []*model.Loop{{Devices: []*model.Part{{Tag: tag, Kind: model.KindNamed(model.DeviceKinds, c.kind)}}}}}
			found := false
			CheckTags(p, func(finding.Finding) { found = true })
			if found != c.unlikely {
				t.Errorf("%s as a %s: unlikely %v", tag, c.kind, found)
			}
		}
	}
	for _, k := range model.DeviceKinds {
		if k.Letters == "" {
			t.Errorf("no letters for a %s", k.Name)
		}
	}
}

// listing is what would be printed of a plant.
func listing(m fstest.MapFS) string {
	p, src, ps := read.Read(m, ".")
	var b strings.Builder
	append(ps, Check(p)...).Sort().Print(&b, src)
	return b.String()
}
