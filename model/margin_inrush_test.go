package model

import (
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
		fuse := ReadFuse(c.rating)
		amps, ok := fuse.Carries(c.ms / 1000)
		if amps != c.amps || fuse.Amps != c.forever || ok != c.ok {
			t.Errorf("%s for %g ms: %g A, %g A for ever, %v", c.rating, c.ms, amps, fuse.Amps, ok)
		}
	}
	for _, k := range fuseKinds { // the longer, the less; and never less than the rating
		last := 1e9
		for ms := 1.0; ms <= 100; ms++ {
			amps, ok := ReadFuse("10 A " + k.word).Carries(ms / 1000)
			if !ok || amps > last || amps < 10 {
				t.Errorf("10 A %s for %g ms: %g A after %g A", k.word, ms, amps, last)
			}
			last = amps
		}
	}
}
