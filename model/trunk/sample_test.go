package trunk_test

import (
	"os"
	"testing"

	"ringout/model/compute"
	"ringout/model/modeltest"
	"ringout/model/read"
	"ringout/model/trunk"
)

// TestWrenCreek: the segment of samples/wren-creek, worked by hand in feet and Ω/kft.
//
// Current: devices 12 + 13 + 20 + 12 + 15 + 18 = 90 mA, couplers 5 + 32 mA: 127 mA, and
// 9 mA in reserve.
//
// Copper at 122 °F is 1 + 0.00393 × 30 = 1.1179 of that at 68 °F: the trunk of 740 ft has
// 2 × 0.740 × 6.7 = 9.916 Ω cold and 11.085 Ω hot, that of 165 ft 2.211 and 2.4717 Ω.
//
// Least at TT-302, 85 ft: 27 − 2 × 0.136 − 11.085 × 0.136 − 0.8 − 1.2733 × 0.022 V.
// Most: 30 − 2 × 0.127 − 9.916 × 0.127 − 0.8 − 1.139 × 0.013 V.
// Least at LT-305, 75 ft, behind the field barrier: 74 mA on the second trunk.
// Most: 65 mA there.
func TestWrenCreek(t *testing.T) {
	t.Parallel()
	p, sources, problems := read.Read(os.DirFS("../../samples"), "wren-creek")
	if problems.Errors() > 0 {
		problems.Print(t.Output(), sources)
		t.FailNow()
	}
	l := p.PartByTag["TT-302"].Device.Loop
	pair := trunk.Of(p, l)
	if earths, screened := pair.Earths(p); !screened || len(earths) != 1 || earths[0] != "MC-30/IG" { // TB1 3 and 6 are bonded there
		t.Errorf("screens on earth at %q", earths)
	}
	mA, missing := pair.Current()
	if len(missing) > 0 {
		t.Fatal(missing)
	}
	modeltest.Within(t, "current", mA, 127, 1e-9)
	feet := map[string]compute.Margin{}
	for _, m := range pair.Limits(p) {
		feet[m.What] = m
	}
	if m := feet["trunk and spurs of B-30"]; m.Unit != "ft" {
		t.Errorf("lengths in %s", m.Unit)
	} else {
		modeltest.Within(t, "ft in all", m.Actual, 740+165+60+85+110+45+75+50, 1e-6)
		modeltest.Within(t, "ft of type A at the most", m.Limit, 1900/0.3048, 1e-6)
	}
	trunkLeast, trunkMost := 27-2*0.136-11.085*0.136, 30-2*0.127-9.916*0.127
	for tag, want := range map[string][2]float64{
		"TT-302": {trunkLeast - 0.8 - 1.2733*0.022, trunkMost - 0.8 - 1.139*0.013},
		"LT-305": {trunkLeast - 2.4717*0.074 - 3.2 - 1.1235*0.024, trunkMost - 2.211*0.065 - 3.2 - 1.005*0.015},
	} {
		band, missing := pair.Expected(p, pair.JointOf(p.PartByTag[tag]))
		if len(missing) > 0 {
			t.Fatal(missing)
		}
		modeltest.Within(t, tag+" least", band.Low, want[0], 0.001)
		modeltest.Within(t, tag+" most", band.High, want[1], 0.001)
	}
}
