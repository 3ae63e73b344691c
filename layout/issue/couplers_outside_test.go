package issue_test

import (
	"os"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/layouttest"
)

// TestCouplersTestedAgain: a record of a segment shorts each spur and reads the volts that
// a coupler leaves. Where one holds a spur to another current, drops other volts or draws
// more itself, what was read holds no longer; where it is called otherwise, it does.
func TestCouplersTestedAgain(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/sludge-house/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct{ old, now, again string }{
		{"limit: 45 mA", "limit: 40 mA", "TI-S-TR-S-61"},
		{"drop: 1.2 V", "drop: 1 V", "TI-S-TR-S-61"},
		{"draws: 5 mA", "draws: 7 mA", "TI-S-TR-S-61"},
		{"draws: 5 mA", "draws: 5 mA, largest: 2.5 mm2", ""},
		{"limit: 360 mA", "limit: 400 mA", ""}, // of the supply: no step of a record finds it
	} {
		texts := map[string]string{"plant.yaml": string(text)}
		was := layouttest.PlantFrom(t, texts)
		layouttest.Edit(t, texts, "plant.yaml", x.old, x.now)
		var again []string
		for _, r := range layout.Compare(was, layouttest.PlantFrom(t, texts)).Rechecks {
			again = append(again, r.Number)
		}
		if got := strings.Join(again, " "); got != x.again {
			t.Errorf("%s, was %s: tested again %q, not %q", x.now, x.old, got, x.again)
		}
	}
}
