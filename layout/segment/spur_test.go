package segment_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/render"
)

// crowdedSpur is a bus with so many devices on one spur: each by a cable of its own from
// the box at its end.
func crowdedSpur(devices int) string {
	var cables, on, circuits strings.Builder
	for i := range devices {
		fmt.Fprintf(&cables, "  W-%d: {type: b, from: LT-%d, to: JB-2, length: 1 m}\n", 10+i, i+1)
		fmt.Fprintf(&on, "      LT-%d: {kind: bus device, draws: 10 mA, address: %d}\n", i+1, i+20)
		fmt.Fprintf(&circuits, "      LT-%d: [LT-%d, W-%d, JB-2/X1 %d %d]\n", i+1, i+1, 10+i, 2*i+3, 2*i+4)
	}
	strip := func(n int) string {
		return fmt.Sprintf("{strips: {X1: {terminals: 1..%d, jumpers: [1..%d step 2, 2..%d step 2]}}}", n, n, n)
	}
	return fmt.Sprintf(`plant: Crowded
practice: {earthed pole: none}
cable types: {b: {pairs: 1, conductor: 0.8 mm2, ohms: 22 ohm/km, colours: [OG BU], screen: none, bus type: A}}
boxes: {JB-1: %s, JB-2: %s, JB-3: %s}
cabinets: {MC-1: {supplies: {PS-1: {volts: 28 V DC, limit: 900 mA, earth: none}}}}
cables:
  W-1: {type: b, from: JB-1, to: MC-1, length: 100 m}
  W-2: {type: b, from: JB-2, to: JB-1, length: 1 m}
  W-3: {type: b, from: JB-3, to: JB-1, length: 100 m}
%ssegments:
  S-1:
    kind: powered bus
    service: levels
    terminators: [PS-1, JB-3/X1 3 4]
    devices:
%s    circuits:
      trunk 1: [JB-1/X1 1 2, W-1, PS-1 + -]
      trunk 2: [JB-3/X1 1 2, W-3, JB-1/X1 5 6]
      spur: [JB-2/X1 1 2, W-2, JB-1/X1 3 4]
%s`, strip(6), strip(2*devices+2), strip(4), &cables, &on, &circuits)
}

// TestCrowdedSpur: whatever hangs on one spur, the diagram stays on its paper and passes
// the audit, and every device is drawn or counted on it, and is in its table.
func TestCrowdedSpur(t *testing.T) {
	t.Parallel()
	for _, devices := range []int{1, 13, 14, 15, 32} {
		p := layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(crowdedSpur(devices))}}, "p.yaml", true)
		pl := layout.New(p, false, func(kind string) bool { return kind == sheet.Segment })
		var texts []string
		for _, s := range pl.Sheets {
			page, found := s.Planned.Draw(pl, s)
			edge := s.Paper.Edge()
			for _, d := range render.Audit(page, edge.Min, edge.Max) {
				t.Errorf("%d devices: %s: %s", devices, d.Kind, d.Text)
			}
			if len(found) > 0 {
				t.Errorf("%d devices: %v", devices, found)
			}
			texts = append(texts, layouttest.TextsOf(page.Items)...)
		}
		times := map[string]int{}
		more := 0
		for _, s := range texts {
			times[s]++
			fmt.Sscanf(s, "and %d more", &more)
		}
		drawn := 0
		for i := range devices {
			switch times[fmt.Sprintf("LT-%d", i+1)] {
			case 2:
				drawn++
			case 0:
				t.Errorf("%d devices: LT-%d is in no table", devices, i+1)
			}
		}
		if drawn+more != devices || drawn == 0 {
			t.Errorf("%d devices: %d drawn and %d counted", devices, drawn, more)
		}
	}
}
