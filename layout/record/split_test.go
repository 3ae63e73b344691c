package record

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/model/compute"
)

// splitPlant has one output that two positioners take, wired in series, and functions
// that take each other's output.
const splitPlant = `plant: Split
cable types:
  pair: {pairs: 1, conductor: 1.0 mm2, ohms: 20 ohm/km, code: black/white, screen: none}
  two: {cores: 2, conductor: 1.0 mm2, ohms: 20 ohm/km, code: numbered, screen: none}
boxes: {JB: {strips: {X1: {terminals: 1..4}}}}
cabinets: {MC: {strips: {X1: {terminals: 1..4}}, cards: {AO: {kind: AO, channels: 2, drive: 10 V at 20 mA}, AI: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}}}}
cables:
  WA: {type: pair, from: TYA, to: JB, length: 100 m}
  WB: {type: two, from: TYB, to: JB, length: 200 m}
  W1: {type: two, from: JB, to: MC, length: 300 m}
  W2: {type: pair, from: FT, to: MC, length: 10 m}
loops:
  T:
    service: heating and cooling
    devices:
      TYA: {kind: positioner, signal: 4..12 mA, drives: TVA, ohms: 220 ohm, action: reverse}
      TYB: {kind: positioner, signal: 12..20 mA, drives: TVB, ohms: 180 ohm}
      TVA: {kind: control valve, fail: open}
      TVB: {kind: control valve, fail: closed}
      FT: {kind: transmitter, range: 0..50 m3/h, lift-off: 9 V}
    functions:
      TIC: {kind: controller, action: direct, set: 40 %, drives: output}
      TY: {kind: low select, takes: [TIC, PIC]}
      PIC: {kind: controller, action: direct}
      FFY: {kind: ratio, reads: FT, set: "1.5"}
      FIC: {kind: controller, takes: FFY, action: direct}
    circuits:
      output:
        - TYA + -
        - WA
        - JB/X1 1 2
        - 1: [W1 core 1, MC/X1 1, wires, AO channel 1 +]
          2: [WB core 1, TYB +>-, WB core 2, JB/X1 3, W1 core 2, MC/X1 2, wires, AO channel 1 -]
      FT: [FT, W2, MC/X1 3 4, wires, AI channel 1]
`

// splitRecord is what makes the record of the loop of splitPlant.
func splitRecord(t *testing.T) *recordBuilder {
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(splitPlant)}}, "c", false)
	return &recordBuilder{plant: p, loop: p.Loops[0], own: 40}
}

// TestSplitRange: two valves on one output. The one takes 4 to 12 mA and the other 12
// to 20 mA of 4 to 20 mA, so that at 8 mA the first is half-way and the second has not
// begun, and at 16 mA the first is at its end and the second half-way (in proportion).
// The output drives the coils of both and all the copper.
func TestSplitRange(t *testing.T) {
	t.Parallel()
	r := splitRecord(t)
	var strokes []string
	for _, row := range layouttest.RowsOf(r.signals()[1]) {
		cells := strings.Split(row, "|")
		strokes = append(strokes, strings.Join(cells[:min(2, len(cells))], "|"))
	}
	want := []string{
		"output, TYA: valve positioner on TVA, fails open; 4..12 mA of 4..20 mA, split range at TYA + -",
		"0 %|4.00 mA, 0 ± 1 % open", "25 %|8.00 mA, 50 ± 1 % open", "50 %|12.00 mA, 100 ± 1 % open", "75 %|16.00 mA, 100 ± 1 % open", "100 %|20.00 mA, 100 ± 1 % open",
		"unique, 60 %|13.60 mA, 100 ± 1 % open, this tag only",
		"Signal lost|held at 25 %, then lift one core: TVA goes open", "Air lost|held at 25 %, then shut off, vent air: TVA goes open",
		"Stroke time|0 to 100 % and back, each NOT GIVEN: stroke time of TVA",
		"output, TYB: valve positioner on TVB, fails closed; 12..20 mA of 4..20 mA, split range at TYB + -",
		"0 %|4.00 mA, 0 ± 1 % open", "25 %|8.00 mA, 0 ± 1 % open", "50 %|12.00 mA, 0 ± 1 % open", "75 %|16.00 mA, 50 ± 1 % open", "100 %|20.00 mA, 100 ± 1 % open",
		"unique, 60 %|13.60 mA, 20 ± 1 % open, this tag only", // (13.6 - 12) / 8
		"Signal lost|held at 75 %, then lift one core: TVB goes closed", "Air lost|held at 75 %, then shut off, vent air: TVB goes closed",
		"Stroke time|0 to 100 % and back, each NOT GIVEN: stroke time of TVB",
	}
	if got := strings.Join(strokes, "\n"); got != strings.Join(want, "\n") {
		t.Errorf("strokes are\n%s\nnot\n%s", got, strings.Join(want, "\n"))
	}
	if s := r.moves(); s != "moves TVA, TVB, may move what TY, FIC drives: NOT GIVEN" {
		t.Errorf("a test %s", s)
	}
	// 220 + 180 and two cores each of 100, 200 and 300 m at 20 ohm/km: 424 ohm at 20 mA.
	ms := compute.Margins(r.plant, r.loop.Circuits[0])
	if len(ms) != 1 || ms[0].Actual < 8.479 || ms[0].Actual > 8.481 || ms[0].At.String() != "20 mA" {
		t.Errorf("margins are %+v, not 8.48 V at 20 mA", ms)
	}
}

// TestFunctionRows: what selects, ratios and controllers that take a set point are
// proved by.
func TestFunctionRows(t *testing.T) {
	t.Parallel()
	r := splitRecord(t)
	for _, want := range []string{
		"TIC output|in automatic, input raised past the set point|output rises, TVA opens, TVB opens|rises|falls",
		"TY low select|TIC 40 %, PIC 60 %|TIC passes, 40 %|so", "TY low select|TIC 60 %, PIC 40 %|PIC passes, 40 %|so",
		"FFY ratio|read its ratio|1.5|so", "FFY ratio|FT from 50 to 60 %|output rises to 1.2 times|so",
		"FIC set point|remote, output of FFY from 50 to 60 %|follows it, 50 to 60 % of its range|so",
	} {
		layouttest.Has(t, layouttest.RowsOf(r.controllers()), want)
	}
}

// partsPlant has a controller that moves two valves by an output each: the cooling valve,
// which air shuts, by the lower part, and the heating valve, which air opens, by the upper.
const partsPlant = `plant: Parts
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets: {MC: {cards: {AO: {kind: AO, channels: 2, drive: 750 ohm}}}}
cables:
  WA: {type: pair, from: TYA, to: MC}
  WB: {type: pair, from: TYB, to: MC}
loops:
  T:
    service: heating and cooling
    devices:
      TYA: {kind: positioner, drives: TVA}
      TYB: {kind: positioner, drives: TVB}
      TVA: {kind: control valve, fail: open}
      TVB: {kind: control valve, fail: closed}
    functions:
      TIC: {kind: controller, drives: [A, B], parts: [A 0..50 %, B 50..100 %], action: reverse, set: 40 %}
    circuits:
      A: [TYA, WA, AO channel 1]
      B: [TYB, WB, AO channel 2]
`

// TestOutputParts: cooling full open at 0 % of the output and shut at 50 %, heating shut up
// to 50 % and full open at 100 %: the example of heating and cooling by split range that
// textbooks of process control have (from memory), and by proportion between. Turned parts,
// a dead band and an overlap are reckoned by hand.
func TestOutputParts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ was, is, at string }{
		{"", "", "0 TVA 100 TVB 0|25 TVA 50 TVB 0|50 TVA 0 TVB 0|75 TVA 0 TVB 50|100 TVA 0 TVB 100"},
		{"A 0..50 %", "A 50..0 %", "0 TVA 0 TVB 0|25 TVA 50 TVB 0|50 TVA 100 TVB 0|75 TVA 100 TVB 50|100 TVA 100 TVB 100"},
		{"A 0..50 %, B 50..100 %], ", "A 0..40 %, B 60..100 %], between parts: gap, ", "0 TVA 100 TVB 0|25 TVA 37.5 TVB 0|50 TVA 0 TVB 0|75 TVA 0 TVB 37.5|100 TVA 0 TVB 100"},
		{"A 0..50 %, B 50..100 %", "B 0..100 %", "0 TVA 100 TVB 0|25 TVA 75 TVB 25|50 TVA 50 TVB 50|75 TVA 25 TVB 75|100 TVA 0 TVB 100"},
		{"TYA: {", "TYA: {action: reverse, ", "0 TVA 0 TVB 0|25 TVA 50 TVB 0|50 TVA 100 TVB 0|75 TVA 100 TVB 50|100 TVA 100 TVB 100"},
	} {
		p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(strings.Replace(partsPlant, c.was, c.is, 1))}}, "c", false)
		r := &recordBuilder{plant: p, loop: p.Loops[0], own: 40}
		var got []string
		for _, row := range r.controllers().Rows {
			if percent, is := strings.CutPrefix(row.Cells[1].S, "in manual, "); is {
				got = append(got, strings.TrimSuffix(percent, " %")+" "+strings.NewReplacer(" % open", "", ",", "").Replace(row.Cells[2].S))
			}
		}
		if s := strings.Join(got, "|"); s != c.at {
			t.Errorf("with %q: %s, not %s", c.is, s, c.at)
		}
	}
}
