package record

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
)

// TestTripRows: the trip amplifier of ferry-cove, whose relays drop out on alarm, is proved
// healthy, tripped, reset and without its supply. What is put in is derived here: type K of
// ITS-90 has 9.343 mV at 230 °C and 9.181 mV at 226 °C (NIST SRD 60), and 230 less a dead band
// of 4 is 226. Its make contact 11-14 opens on the trip, its break contact 31-32 closes.
func TestTripRows(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "ferry-cove", false)
	text := map[string]string{}
	for _, l := range p.Loops {
		r := &recordBuilder{plant: p, loop: l}
		for _, table := range r.signals() {
			for _, row := range table.Rows {
				if row.Group != "" {
					continue
				}
				text[l.Tag] += strings.Join(wordsOf(row.Cells), " | ") + "\n"
			}
		}
	}
	for loop, rows := range map[string][]string{
		"T-804": {
			"Healthy | input well short of 230 °C | 14-11 closed",
			"Trip HH | raise the input slowly until the contact changes | at 230 °C, 9.343 mV − terminals: 14-11 open",
			"Reset HH | lower it slowly until the contact changes back | at 226 °C, 9.181 mV − terminals, dead band 4 °C",
			"Supply lost | healthy, then isolate the supply of TS-804 | as tripped: 14-11 open",
			"Trip H | raise the input slowly until the contact changes | at 215 °C, 8.739 mV − terminals: 31-32 closed",
		},
		// 14 of 0..16 bar is 4 + 16 × 14/16 = 18 mA, 13.6 bar 17.6 mA.
		"P-801": {"Trip H | raise the input slowly until the contact changes | at 14 bar, 18.00 mA: 11-12 closed", "Reset H | lower it slowly until the contact changes back | at 13.6 bar, 17.60 mA, dead band 0.4 bar"},
		// Pt100 of IEC 60751 at 125 °C: 100 × (1 + 3.9083e-3 × 125 − 5.775e-7 × 125²) = 147.95 Ω; half of 0..250 °C is 12 mA.
		"T-803": {fmt.Sprintf("50 %% | %.2f Ω | 12.00 mA, 125 °C", 100*(1+3.9083e-3*125-5.775e-7*125*125))},
	} {
		for _, want := range rows {
			if !strings.Contains(text[loop], want) {
				t.Errorf("%s has no row %q in\n%s", loop, want, text[loop])
			}
		}
	}
}

func wordsOf(cells []paper.Cell) (all []string) {
	for _, c := range cells[:min(3, len(cells))] {
		all = append(all, c.S)
	}
	return all
}
