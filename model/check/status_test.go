package check

import (
	"fmt"
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestInServiceOverNew: a loop in service with all that it runs over there has no
// finding; with any one of its parts new or of a later stage it has one that names
// that part, and nothing else.
func TestInServiceOverNew(t *testing.T) {
	t.Parallel()
	parts := []string{"FT-1", "W-1", "B-1/X1", "W-2", "C-1/X2", "AI-1"}
	read := func(loop string, status func(tag string) string) []string {
		of := make([]any, 0, len(parts)+1)
		for _, tag := range parts {
			of = append(of, status(tag))
		}
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: fmt.Appendf(nil, `
plant: Service
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
boxes: {B-1: {strips: {X1: {terminals: 1..2, status: %[3]s}}}}
cabinets: {C-1: {strips: {X2: {terminals: 1..2, status: %[5]s}}, cards: {AI-1: {kind: AI, power: card, channels: 1, volts: 24 V, ohms: 250 ohm, status: %[6]s}}}}
cables:
  W-1: {type: one, from: FT-1, to: B-1, length: 10 m, status: %[2]s}
  W-2: {type: one, from: B-1, to: C-1, length: 10 m, status: %[4]s}
loops:
  L-1:
    service: one
    status: %[7]s
    devices: {FT-1: {kind: transmitter, status: %[1]s}}
    circuits: {one: [FT-1, W-1, B-1/X1 1 2, W-2, C-1/X2 1 2, wires, AI-1 channel 1]}
`, append(of, loop)...)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		var named []string
		for _, pr := range Check(p) {
			if pr.Code == "not-in-service" {
				for _, n := range pr.Also {
					named = append(named, n.Text)
				}
			}
		}
		return named
	}
	for _, one := range append(parts, "") {
		for _, status := range []string{"new", "future"} {
			of := func(tag string) string {
				if tag == one {
					return status
				}
				return "existing"
			}
			var want []string
			if one != "" {
				want = []string{one + " is described here"}
			}
			if got := read("existing", of); !slices.Equal(got, want) {
				t.Errorf("%s %s: %q, want %q", one, status, got, want)
			}
			if got := read("new", of); got != nil {
				t.Errorf("a new loop, %s %s: %q", one, status, got)
			}
		}
	}
}
