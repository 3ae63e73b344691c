package check

import (
	"slices"
	"strings"
	"testing"

	"ringout/model/compute"
	"ringout/model/modeltest"
)

// TestInrushOnFuse: the coil of TestCoilByHand, 254.40 Ω with its copper, takes 0.4953 A of
// 126 V, the highest; two of them on one fuse twice that. What a fuse without its
// characteristic carries above its rating is not known.
func TestInrushOnFuse(t *testing.T) {
	t.Parallel()
	second := []string{
		"      ZS-1: {kind: contact}", "      XY-2: {kind: solenoid, pull-in: 90 V, " + modeltest.CoilLine + "}\n      ZS-1: {kind: contact}",
		"  W-2: {", "  W-4: {type: pair, from: XY-2, to: MC, length: 1000 m}\n  W-2: {",
		"X1: {terminals: 1..4}", "X1: {terminals: 1..6}",
		"      ZS-1: [", "      XY-2: [XY-2, W-4, MC/X1 5 6, {+: [wires, DO channel 2 +>-, wires, MC/X7 L1], -: [wires, MC/X7 N1]}]\n      ZS-1: [",
	}
	for _, c := range []struct {
		fuse, missing string
		change        []string
		amps, needs   float64
		Log           bool
	}{
		{"2 A", "", nil, 0.4953, 2, false},
		{"2 A", "", second, 2 * 0.4953, 2, false},
		{"400 mA", "characteristic of fuse MC/X7:L1 after its amperes: F, T, B, C, D, gG", nil, 0.4953, 0.4, false},
		{"400 mA F", "", nil, 0.4953, 0.6, false},
		{"300 mA F", "", nil, 0.4953, 0.45, true},
		{"300 mA T", "", nil, 0.4953, 1.2, false},
		{"200 mA T", "", second, 2 * 0.4953, 0.8, true},
		{"slow", "amperes of fuse MC/X7:L1", nil, 0.4953, 0, false},
		{"2 A T", "inrush of XY-2", slices.Concat(second, []string{"rated volts: 120 V AC, inrush: 60 VA", "rated volts: 120 V AC, inrush: 60 VA", "pull-in: 90 V, " + modeltest.CoilLine, "pull-in: 90 V, " + strings.Replace(modeltest.CoilLine, "inrush: 60 VA, ", "", 1)}), 0, 8, false},
	} {
		p, found := checked(t, "ac.yaml", append(c.change, "L1..L4 fused 2 A", "L1..L4 fused "+c.fuse)...)
		m := compute.Inrush(p, p.Loops[0].Circuits[0])
		if len(m) != 1 || strings.Join(m[0].Missing, "; ") != c.missing || m[0].Limit != 0 && c.needs-m[0].Limit > 1e-9 {
			t.Errorf("%s: %+v", c.fuse, m)
			continue
		}
		if c.amps > 0 {
			modeltest.Within(t, c.fuse, m[0].Actual, c.amps, 0.0001)
		}
		modeltest.Within(t, c.fuse+" carries", m[0].Limit, c.needs, 1e-9)
		if hasCode(found, "fuse-inrush") != c.Log {
			t.Errorf("%s: found %v", c.fuse, found)
		}
	}
}
