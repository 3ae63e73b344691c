package check

import (
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestLargestGauge: a terminal for 12 AWG takes 12 AWG and 2.5 mm², and not
// 4 mm². 12 AWG is 3.31 mm² (ASTM B258).
func TestLargestGauge(t *testing.T) {
	t.Parallel()
	for size, fits := range map[string]bool{"12 AWG": true, "2.5 mm2": true, "4 mm2": false, "10 AWG": false} {
		text := `cable types: {one: {pairs: 1, conductor: ` + size + `, screen: none}}
boxes: {JB-1: {strips: {X1: {terminals: 1..2, largest: 12 AWG}}}}
systems: {PCS-1: {cards: {AI-1: {kind: AI, power: card, channels: 1}}}}
cables: {W-1: {type: one, from: FT-1, to: JB-1}, W-2: {type: one, from: JB-1, to: PCS-1}}
loops: {F-1: {service: flow, devices: {FT-1: {kind: transmitter}}, circuits: {FT-1: [FT-1, W-1, JB-1/X1 1 2, W-2, AI-1 channel 1]}}}
`
		p, _, ps := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
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

// TestFeet: a length is printed in the unit that it was written in; a foot is
// 0.3048 m (the international foot, exactly).
func TestFeet(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		written, printed string
		metres           float64
	}{
		{"165 m", "165 m", 165}, {"60 ft", "60 ft", 18.288}, {"1.2 km", "1200 m", 1200}, {"0.05 m", "0.05 m", 0.05}, {"1 ft", "1 ft", 0.3048},
	} {
		text := "plant: L\ncable types: {pair: {pairs: 1, conductor: 1.0 mm2, screen: none}}\nboxes: {A: {}, B: {}}\ncables: {W: {type: pair, from: A, to: B, length: " + c.written + "}}\n"
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		cable := p.Cable("W")
		if cable.LengthWords() != c.printed || cable.Length != c.metres {
			t.Errorf("%s is %g m and printed as %q", c.written, cable.Length, cable.LengthWords())
		}
	}
}
