package record

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/model/read"
)

// segmentPlant has a bus and a link of one box each, on cores of 50 Ω/km.
const segmentPlant = `plant: Segments
practice: {earthed pole: none}
cable types: {b: {pairs: 1, conductor: 0.5 mm2, ohms: 50 ohm/km, colours: [OG BU], screen: none, bus type: A}}
boxes:
  JB-1: {strips: {X1: {terminals: 1..6, jumpers: [1..6 step 2, 2..6 step 2]}}}
  JB-2: {strips: {X1: {terminals: 1..6, jumpers: [1..6 step 2, 2..6 step 2]}}}
cabinets:
  MC-1:
    supplies: {PS-1: {volts: 28 V DC, limit: 400 mA, earth: none}}
    cards: {SL-1: {kind: serial, channels: 1}}
cables:
  W-1: {type: b, from: JB-1, to: MC-1, length: 500 m}
  W-2: {type: b, from: JB-2, to: MC-1, length: 200 m}
  W-11: {type: b, from: LT-1, to: JB-1, length: 5 m}
  W-21: {type: b, from: AT-1, to: JB-2, length: 5 m}
segments:
  S-1:
    kind: powered bus
    service: levels
    terminators: [PS-1, JB-1/X1 5 6]
    devices: {LT-1: {kind: bus device, draws: 10 mA, address: 21, lift-off: 11 V}}
    circuits:
      trunk: [JB-1/X1 1 2, W-1, PS-1 + -]
      LT-1: [LT-1, W-11, JB-1/X1 3 4]
  S-2:
    kind: serial link
    service: analysis
    terminators: [SL-1, JB-2/X1 5 6]
    devices: {AT-1: {kind: serial device, terminals: B A, address: 11}}
    circuits:
      trunk: [JB-2/X1 1 2, W-2, SL-1 channel 1]
      AT-1: [AT-1 B A, W-21, JB-2/X1 3 4]
`

// TestSegmentRows: what a meter finds on a pair before power, by how many terminators there
// are and what is given of the copper between.
func TestSegmentRows(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, old, new string
		segment        int
		want           string
	}{
		// 120 Ω in parallel with 120 + 2 · 0.2 km · 50 Ω/km: 120 · 140 / 260 = 64.6 Ω.
		{"both ends", "", "", 1, "+ to −|64.6 Ω ± 10 %: terminators SL-1, JB-2/X1 5 6"},
		{"the near end alone", "[SL-1, JB-2/X1 5 6]", "[SL-1]", 1, "+ to −|120 Ω ± 10 %: terminator SL-1"},
		{"the far end alone", "[SL-1, JB-2/X1 5 6]", "[JB-2/X1 5 6]", 1, "+ to −|140 Ω ± 10 %: terminator JB-2/X1 5 6"},
		{"no end", "    terminators: [SL-1, JB-2/X1 5 6]\n", "", 1, "+ to −|open: no terminator"},
		{"no length", "to: MC-1, length: 200 m", "to: MC-1", 1, "+ to −|NOT GIVEN: length of cable W-2"},
		// 1 µF each, within 20 %; with the trunk lifted at the supply, its own is off.
		{"a bus", "", "", 0, "capacitance + to −|0.8..1.2 µF: terminator JB-1/X1 5 6"},
		{"two left on a bus", "[PS-1, JB-1/X1 5 6]", "[JB-1/X1 3 4, JB-1/X1 5 6]", 0, "capacitance + to −|1.6..2.4 µF: terminators JB-1/X1 3 4, JB-1/X1 5 6"},
		{"none left on a bus", "[PS-1, JB-1/X1 5 6]", "[PS-1]", 0, "capacitance + to −|below 0.3 µF: no terminator left"},
		{"volts of a bus", "to: MC-1, length: 500 m", "to: MC-1", 0, "LT-1|21|NOT GIVEN: length of cable W-1|11 V"},
		{"a kind that is not known", "kind: powered bus", "kind: warp drive", 0, ""},
	} {
		text := strings.Replace(segmentPlant, c.old, c.new, 1)
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		rows := layouttest.RowsOf((&recordBuilder{plant: p, loop: p.Loops[c.segment]}).segment()...)
		if c.want == "" && len(rows) > 0 {
			t.Errorf("%s: %q", c.name, rows)
		} else if c.want != "" && !strings.Contains(strings.Join(rows, "\n"), c.want) {
			t.Errorf("%s: %q is not in\n%s", c.name, c.want, strings.Join(rows, "\n"))
		}
	}
}
