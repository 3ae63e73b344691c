package model

import (
	"strings"
	"testing"
	"testing/fstest"
)

// TestEngineeringFaults makes one slip of engineering at a time in a plant
// without any, as TestFaults does with slips of wiring.
func TestEngineeringFaults(t *testing.T) {
	const (
		blueCable  = `sheath: blue, gland: M25 blue, capacitance: 115 pF/m, L/R: 25 uH/ohm}`
		source     = "        entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, Lo/Ro: 55 uH/ohm, group: IIC}\n"
		device     = `{Ui: 30 V, Ii: 120 mA, Pi: 1 W, Ci: 5 nF, Li: 20 uH}`
		policy     = "  spare pairs: 20 %             # of each home run\n"
		safeWalk   = "- W-26 pair 1\n        - MC-2/XI 1 2 3\n"
		contactRun = "- PSH-2221\n        - W-2221\n        - JB-22/X1 4 5 6\n        - W-22 pair 2\n"
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
		{"long cable of little capacitance", "length: 52 m, route: tray T8 (blue)", "length: 1.2 km, route: tray T8 (blue)", "exceeded-entity"},
		{"cable by default", blueCable, "sheath: blue, gland: M25 blue}", ""},
		{"long cable by default", blueCable, "sheath: blue, gland: M25 blue, capacitance: 1500 pF/m}", "exceeded-entity"},
		{"no length", "length: 52 m, route: tray T8", "route: tray T8", "missing-entity?"},
		{"no values of the source", source, "", "missing-entity?"},
		{"one value of the source missing", "Co: 83 nF, ", "", "missing-entity?"},
		{"one value of the device missing", ", Li: 20 uH", "", "missing-entity?"},
		{"no values of the device", "entity: " + device, "class: B", "missing-entity?"},
		{"simple apparatus", "entity: " + device, "simple apparatus: yes", ""},

		// Segregation.
		{"safe pair in a common cable", "- PSH-2221\n        - W-2221\n        - JB-22/X1 4 5 6\n        - W-22 pair 2\n        - MC-2/X1 4 5\n", "- PSH-2221\n        - W-2221\n        - JB-22/X1 4 5 6\n        - W-26 pair 2\n        - MC-2/X1 4 5\n", "dropped-screen misrouted-cable unearthed-screen unsafe-cable"},
		{"near a safe terminal", "MC-2/X1 4 5", "MC-2/XI 4 5", "unsafe-distance"},
		{"far from the safe terminals", "MC-2/X1 4 5", "MC-2/XI 11 12", "missing-pitch? wrong-mark"},
		{"safe circuit on a common strip", safeWalk, "- W-26 pair 1\n        - MC-2/X4 4 5 6\n", "missing-pitch?"},
		{"barrier turned", "- Z-2330\n", "- Z-2330 3 4\n", "turned-barrier"},
		{"barrier forgotten", "- wires BU\n        - Z-2330\n", "", "missing-barrier?"},
		{"behind the barrier in the same cable", "- Z-2330\n        - wires\n        - AI-2-05 channel 1\n", "- Z-2330\n        - W-26 pair 3\n        - AI-2-05 channel 1\n", "misrouted-cable unsafe-cable"},

		// Levels.
		{"analogue in the contact cable", "- PSH-2221\n        - W-2221\n        - JB-22/X1 4 5 6\n        - W-22 pair 2\n        - MC-2/X1 4 5\n        - 1: [wires, MC-2/X5 F2]\n          2: [wires, DI-2-01 channel 2 +>-, wires, MC-2/X5 N2]", "- PSH-2221\n        - W-2221\n        - JB-22/X1 4 5 6\n        - W-22 pair 2\n        - MC-2/X1 4 5\n        - wires\n        - AI-2-05 channel 2", "mixed-levels? wrong-card"},
		{"mains on the strip of contacts", "MC-2/X7 L1 N1 PE1", "MC-2/X1 34 35 36", "mixed-strip? open-lane"},

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
		{"leads of a card for four", "RT-1-07: {kind: RTD, wires: 3", "RT-1-07: {kind: RTD, wires: 4", "open-terminal? wires-mismatch"},

		// Ranges.
		{"channel set up for another range", "3: 0..450 m3/h", "3: 0..400 m3/h", "range-mismatch"},
		{"channel set up in another unit", "3: 0..450 m3/h", "3: 0..450 l/s", "range-mismatch"},
		{"another spelling of the unit", "3: 0..450 m3/h", "3: 0..450 m³/h", ""},
		{"channel set up for the pressure of the orifice", "3: 0..450 m3/h", "3: 0..250 mbar", ""},
		{"couple too hot", "range: 0..400 °C", "range: 0..1400 °C", "range-exceeded"},
		{"couple too hot, °F", "range: 0..400 °C", "range: 0..2400 °F", ""}, // 1316 °C
		{"thermometer in bar", "range: 0..400 °C", "range: 0..400 bar", "wrong-unit"},

		// Spares.
		{"more spares asked for", "spare pairs: 20 %", "spare pairs: 70 %", "few-spare-pairs?"},
		{"no policy", policy, "", ""},
		{"spare terminals asked for", policy, "  spare terminals: 34 %\n", "few-spare-terminals?"},

		// Copper.
		{"contact straight across the supply", "1: [wires, MC-2/X5 F1]\n          2: [wires, DI-2-01 channel 1 +>-, wires, MC-2/X5 N1]", "1: [wires, MC-2/X5 F1]\n          2: [wires, MC-2/X5 N1]", "shorted-supply"},
		{"earth colour for a live lane", "- AT-2301 L N PE\n        - W-2302\n", "- AT-2301 L N PE\n        - W-2302 cores 3 2 1\n", "misused-earth-colour"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := texts(t, "tern-island")
			places := 0
			for _, f := range m {
				places += strings.Count(string(f.Data), c.old)
				f.Data = []byte(strings.Replace(string(f.Data), c.old, c.new, 1))
			}
			if places != 1 {
				t.Fatalf("%q stands in %d places", c.old, places)
			}
			if got := codesOf(m); got != c.want {
				t.Errorf("found %q, want %q\n%s", got, c.want, listing(m))
			}
		})
	}
}

// listing is what would be printed of a plant.
func listing(m fstest.MapFS) string {
	p, src, ps := Read(m, ".")
	var b strings.Builder
	append(ps, Check(p)...).Sort().Print(&b, src)
	return b.String()
}
