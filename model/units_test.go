package model

import (
	"slices"
	"testing"
	"testing/fstest"
)

// TestLargestGauge: a terminal for 12 AWG takes 12 AWG and 2.5 mm², and not
// 4 mm². 12 AWG is 3.31 mm² (ASTM B258).
func TestLargestGauge(t *testing.T) {
	for size, fits := range map[string]bool{"12 AWG": true, "2.5 mm2": true, "4 mm2": false, "10 AWG": false} {
		text := `cable types: {one: {pairs: 1, conductor: ` + size + `, screen: none}}
boxes: {JB-1: {strips: {X1: {terminals: 1..2, largest: 12 AWG}}}}
systems: {PCS-1: {cards: {AI-1: {kind: AI, power: card, channels: 1}}}}
cables: {W-1: {type: one, from: FT-1, to: JB-1}, W-2: {type: one, from: JB-1, to: PCS-1}}
loops: {F-1: {service: flow, devices: {FT-1: {kind: transmitter}}, circuits: {FT-1: [FT-1, W-1, JB-1/X1 1 2, W-2, AI-1 channel 1]}}}
`
		p, _, ps := Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
		var want, got []string
		if !fits {
			want = []string{"conductor-too-big"}
		}
		for _, pr := range append(ps, Check(p)...) {
			got = append(got, pr.Code)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: found %q", size, got)
		}
	}
}
