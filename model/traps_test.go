package model_test

import (
	"fmt"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestNullTags: a device, cable, place, strip, loop, circuit or leg of these names
// is told once at its key, and where it is meant, and what refers to it is not told
// besides; between quotes all is well.
func TestNullTags(t *testing.T) {
	t.Parallel()
	const text = `
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets:
  MC: {strips: {%[1]s: {terminals: 1..4}}, cards: {AI: {kind: AI, power: card, channels: 1}}}
cables:
  W-1: {type: one, from: %[1]s, to: MC}
loops:
  %[1]s:
    service: %[1]s
    devices: {%[1]s: {kind: transmitter, at: %[1]s}}
    functions: {FI: {kind: indicator, reads: [%[1]s]}}
    circuits:
      %[1]s: [%[2]s, W-1, MC/%[3]s 1 2, wires, AI channel 1]
`
	for _, word := range []string{"null", "~", "NULL"} {
		for _, quoted := range []bool{false, true} {
			name, want := word, 8
			if quoted {
				name, want = `"`+word+`"`, 0
			}
			_, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: fmt.Appendf(nil, text, name, word+" + -", word)}}, "p.yaml")
			for _, p := range problems {
				if p.Code != "null-used" {
					t.Errorf("%s: %v", name, p)
				}
			}
			if len(problems) != want {
				t.Errorf("%s: told %d times, not %d: %v", name, len(problems), want, problems)
			}
		}
	}
}
