package model

import (
	"slices"
	"strings"
	"testing"
)

// TestFuseCarries holds figures of standards: IEC 60127-2 (F opens within 20 ms at 10 times
// its rating, T carries that for 10 ms), IEC 60898-1 table 7 and IEC 60269 gates, from
// memory as the table.
func TestFuseCarries(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rating        string
		ms            float64
		amps, forever float64
		ok            bool
	}{
		{"2 A F", 10, 5.5, 2, true}, {"2 A F", 20, 3, 2, true}, {"500 mA F", 3, 2, 0.5, true},
		{"2 A T", 10, 20, 2, true}, {"2 A T", 20, 8, 2, true}, {"2 A 250 V T", 40, 8, 2, true}, {"2 A T", 50, 5.5, 2, true},
		{"6 A B", 20, 18, 6, true}, {"6 A C", 20, 30, 6, true}, {"6 A D", 100, 60, 6, true},
		{"16 A gG", 100, 85, 16, true}, {"7 A gG", 20, 0, 7, false},
		{"2 A", 20, 0, 2, false}, {"slow", 20, 0, 0, false},
	} {
		fuse := readFuse(c.rating)
		amps, ok := fuse.carries(c.ms / 1000)
		if amps != c.amps || fuse.Amps != c.forever || ok != c.ok {
			t.Errorf("%s for %g ms: %g A, %g A for ever, %v", c.rating, c.ms, amps, fuse.Amps, ok)
		}
	}
	for _, k := range fuseKinds { // the longer, the less; and never less than the rating
		last := 1e9
		for ms := 1.0; ms <= 100; ms++ {
			amps, ok := readFuse("10 A " + k.word).carries(ms / 1000)
			if !ok || amps > last || amps < 10 {
				t.Errorf("10 A %s for %g ms: %g A after %g A", k.word, ms, amps, last)
			}
			last = amps
		}
	}
}

// TestInrushOnFuse: the coil of TestCoilByHand, 254.40 Ω with its copper, takes 0.4953 A of
// 126 V, the highest; two of them on one fuse twice that. What a fuse without its
// characteristic carries above its rating is not known.
func TestInrushOnFuse(t *testing.T) {
	t.Parallel()
	second := []string{
		"      ZS-1: {kind: contact}", "      XY-2: {kind: solenoid, pull-in: 90 V, " + coilLine + "}\n      ZS-1: {kind: contact}",
		"  W-2: {", "  W-4: {type: pair, from: XY-2, to: MC, length: 1000 m}\n  W-2: {",
		"X1: {terminals: 1..4}", "X1: {terminals: 1..6}",
		"      ZS-1: [", "      XY-2: [XY-2, W-4, MC/X1 5 6, {+: [wires, DO channel 2 +>-, wires, MC/X7 L1], -: [wires, MC/X7 N1]}]\n      ZS-1: [",
	}
	for _, c := range []struct {
		fuse, missing string
		change        []string
		amps, needs   float64
		found         bool
	}{
		{"2 A", "", nil, 0.4953, 2, false},
		{"2 A", "", second, 2 * 0.4953, 2, false},
		{"400 mA", "characteristic of fuse MC/X7:L1 after its amperes: F, T, B, C, D, gG", nil, 0.4953, 0.4, false},
		{"400 mA F", "", nil, 0.4953, 0.6, false},
		{"300 mA F", "", nil, 0.4953, 0.45, true},
		{"300 mA T", "", nil, 0.4953, 1.2, false},
		{"200 mA T", "", second, 2 * 0.4953, 0.8, true},
		{"slow", "amperes of fuse MC/X7:L1", nil, 0.4953, 0, false},
		{"2 A T", "inrush of XY-2", slices.Concat(second, []string{"rated volts: 120 V AC, inrush: 60 VA", "rated volts: 120 V AC, inrush: 60 VA", "pull-in: 90 V, " + coilLine, "pull-in: 90 V, " + strings.Replace(coilLine, "inrush: 60 VA, ", "", 1)}), 0, 8, false},
	} {
		p, found := checked(t, "ac.yaml", append(c.change, "L1..L4 fused 2 A", "L1..L4 fused "+c.fuse)...)
		m := p.Inrush(p.Loops[0].Circuits[0])
		if len(m) != 1 || strings.Join(m[0].Missing, "; ") != c.missing || m[0].Needs != 0 && c.needs-m[0].Needs > 1e-9 {
			t.Errorf("%s: %+v", c.fuse, m)
			continue
		}
		if c.amps > 0 {
			within(t, c.fuse, m[0].Has, c.amps, 0.0001)
		}
		within(t, c.fuse+" carries", m[0].Needs, c.needs, 1e-9)
		if hasCode(found, "fuse-inrush") != c.found {
			t.Errorf("%s: found %v", c.fuse, found)
		}
	}
}
