package check

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestSpoiltPlant spoils a copy of the water works in many places at once:
// under-supplied, overloaded, mixed and mis-polarised. Every spoilt circuit or
// part has to be named, with the code that belongs to it, and no other circuit.
func TestSpoiltPlant(t *testing.T) {
	t.Parallel()
	m := modeltest.Texts(t, "tern-island")
	spoil := func(old, new string) {
		t.Helper()
		hits := 0
		for _, f := range m {
			s := string(f.Data)
			hits += strings.Count(s, old)
			f.Data = []byte(strings.ReplaceAll(s, old, new))
		}
		if hits != 1 {
			t.Fatalf("%q stands %d times in the sample, not once", old, hits)
		}
	}
	// Under-supplied: 15 V less 22 mA in 250 Ω and the cables leaves 9.3 V.
	spoil("AI-1-03: {kind: AI, power: card, channels: 16, address: node 1 slot 3, volts: 24 V", "AI-1-03: {kind: AI, power: card, channels: 16, address: node 1 slot 3, volts: 15 V")
	// Overloaded: an output for 100 Ω, a supply of 10 mA, fuses of 5 mA.
	spoil("drive: 750 ohm", "drive: 100 ohm")
	spoil("limit: 10 A, circuit", "limit: 10 mA, circuit")
	spoil("F1..F8 fused 0.5 A", "F1..F8 fused 5 mA")
	spoil("pull-in: 20.4 V", "pull-in: 23.9 V")
	// Mixed up: colours known from memory only, a thermocouple on another couple's cable.
	spoil("12-pair:         {pairs: 12, conductor: 0.75 mm2, code: 25-pair", "12-pair:         {pairs: 12, conductor: 0.75 mm2, code: black/red numbered")
	spoil("6-pair K:        {pairs: 6, conductor: 0.75 mm2 solid, code: IEC 60584-3 K", "6-pair K:        {pairs: 6, conductor: 0.75 mm2 solid, code: IEC 60584-3 J")
	// Mis-polarised: one circuit at its channel, one safety value too high.
	spoil("- AI-2-05 channel 1", "- AI-2-05 channel 1 - +")
	spoil("Uo: 28 V", "Uo: 31 V")
	spoil("- RT-1-07 channel 2", "- RT-1-07 channel 2 1B1 1A 1B2") // unknown names: the second channel's are 2A 2B1 2B2

	p, _, ps := read.Read(m, ".")
	var got []string
	for _, pr := range append(ps, Check(p)...).Sort() {
		got = append(got, fmt.Sprintf("%s: %s", pr.Code, pr.Text))
	}
	for _, want := range []string{
		"low-voltage: minimum voltage at FT-2107 at 22 mA: 8.", "low-voltage: minimum voltage at PT-2109 at 22 mA: 8.",
		"low-voltage: minimum voltage at FT-2112 at 22 mA: 8.", "low-voltage: minimum voltage at LT-2115 at 22 mA: 7.",
		"low-voltage: minimum voltage at AT-2118 at 4 mA: 13.2", "low-voltage: minimum voltage at AT-2118 at 22 mA: 8.",
		"low-voltage: minimum voltage at PT-2135 at 22 mA: 8.", "low-voltage: minimum voltage at PT-2240 at 22 mA: 8.",
		"overloaded-output: load of AO-1-05", "low-voltage: minimum voltage at XY-2225, switched on:",
		"overloaded-supply: supply PS-21",
		"overloaded-fuse: fuse MC-2/X5:F1", "overloaded-fuse: fuse MC-2/X5:F2", "overloaded-fuse: fuse MC-2/X5:F3", "overloaded-fuse: fuse MC-2/X5:F4", "overloaded-fuse: fuse MC-2/X5:F8",
		"changed-alloy: ", "unsure-colours: ", "exceeded-entity: ", "reversed-polarity: circuit", "unknown-terminal: channel 2 of RT-1-07",
	} {
		i := slices.IndexFunc(got, func(s string) bool { return strings.HasPrefix(s, want) })
		if i < 0 {
			t.Errorf("not found: %s", want)
			continue
		}
		got = slices.Delete(got, i, i+1)
	}
	for _, s := range got {
		t.Errorf("found besides: %s", s)
	}
}
