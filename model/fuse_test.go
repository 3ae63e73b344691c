package model

import "testing"

// TestReadFuse: ratings in words, and as they are marked: breakers with the letter of
// their characteristic and no symbol A (IEC 60898-1 clause 6: B16), fuse links with
// theirs before or behind the amperes (IEC 60127-1 clause 6); both from memory. A breaker
// of type C is sure to hold 5 times its rating for 20 ms, one of D 10 times.
func TestReadFuse(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][2]float64{
		"10 A":          {10, 0},
		"500 mA":        {0.5, 0},
		"2 A T":         {2, 8},
		"T 2 A":         {2, 8},
		"T2A 250 V":     {2, 8},
		"F500mA":        {0.5, 0.75}, // 1.5 times: 2.75 times it may break after 10 ms
		"C6":            {6, 30},
		"C 10":          {10, 50},
		"D16 A, 2-pole": {16, 160},
		"B6, 6 kA":      {6, 18},
		"10 A C":        {10, 50},
		"T2":            {0, 0}, // a transformer?
		"DB-1 way 6":    {0, 0},
		"Cu 6 A":        {0, 0},
		"6":             {0, 0},
	} {
		f := ReadFuse(text)
		carries, _ := f.Carries(0.020)
		if f.Amps != want[0] || carries != want[1] || f.Text != text {
			t.Errorf("%q: %g A, carries %g A for 20 ms", text, f.Amps, carries)
		}
	}
}
