package record

import (
	"os"
	"slices"
	"strings"
	"testing"

	"ringout/layout/layouttest"
	"ringout/model"
)

// TestLinkRecords: what is measured on the links of samples/wren-creek, and what the loss of
// each does: of one of two, nothing; of the only one, what the outputs are said to do. The
// order of a fibre test, loss in dB both ways, is common practice (IEC 61280-4, from memory).
func TestLinkRecords(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "wren-creek", false)
	for tag, want := range map[string][]string{
		"B-30": {"last: land the trunk and the ground of the shield; shield to ground|near 0 Ω, by MC-30/IG"},
		"RL-40A": {
			"fibre 1, loss in dB from RC-40 port 1 to PCS-1 port A3|max 6.5 dB",
			"fibre 2, loss in dB from PCS-1 port A3 to RC-40 port 1|max 6.5 dB",
			"length by the tester|820 ft, max 6562 ft", // 2 km / 0.3048 m
			"all channels of RC-40|go on; no output moves",
			"AO-40-2, analog output 4-20 mA, RC-40 slot 2|L-401|hold 10 s, then 4 mA",
		},
		"RL-40B": {
			"wire map, pins 1 to 8|straight through; no open, short or split pair",
			"length by the tester|290 ft, max 328.1 ft", // 100 m / 0.3048 m
			"all channels of RC-40|go on; no output moves",
		},
		"RL-41": {
			"inputs of RC-41, as PCS-1 shows them|bad, and alarmed; none holds a good value",
			"outputs of AO-41-2|NOT GIVEN: on link loss of AO-41-2",
		},
	} {
		i := slices.IndexFunc(p.Loops, func(l *model.Loop) bool { return l.Tag == tag })
		rows := layouttest.RowsOf((&recordBuilder{plant: p, loop: p.Loops[i]}).segment()...)
		for _, w := range want {
			if !slices.ContainsFunc(rows, func(row string) bool { return strings.HasPrefix(row, w) }) {
				t.Errorf("%s has no row %q:\n%s", tag, w, strings.Join(rows, "\n"))
			}
		}
	}
}
