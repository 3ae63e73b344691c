package check

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// plantOf writes a plant of n loops: a box and a cabinet strip for every 24, a
// card for every 16, every loop from a transmitter through a box to an input.
func plantOf(n int) fstest.MapFS {
	var places, cables, loops strings.Builder
	for i := 0; i*24 < n; i++ {
		fmt.Fprintf(&places, "  JB-%d: {strips: {X1: {terminals: 1..72, marks: + - S}}}\n", i)
		fmt.Fprintf(&cables, "  W-%d: {type: many, from: JB-%d, to: MC-%d, length: 100 m, overall: {from: x, to: IE}}\n", i, i, i)
	}
	places.WriteString("cabinets:\n")
	for i := 0; i*24 < n; i++ {
		fmt.Fprintf(&places, "  MC-%d:\n    earths: {IE: instrument earth}\n    strips: {X1: {terminals: 1..72, marks: + - S, bonded: 3..72 step 3 to IE}}\n", i)
		fmt.Fprintf(&places, "    cards: {AI-%d: {kind: AI, power: card, channels: 24}}\n", i)
	}
	for i := range n {
		box, pair := i/24, i%24+1
		fmt.Fprintf(&cables, "  W-F%d: {type: one, from: FT-%d, to: JB-%d, length: 20 m}\n", i, i, box)
		fmt.Fprintf(&loops, "  F-%d:\n    service: flow %d\n    devices: {FT-%d: {kind: transmitter, range: 0..100 m3/h}}\n    circuits:\n      FT-%d:\n", i, i, i, i)
		fmt.Fprintf(&loops, "        - FT-%d\n        - W-F%d\n        - JB-%d/X1 %d %d %d\n        - W-%d pair %d\n        - MC-%d/X1 %d %d %d\n        - wires\n        - AI-%d channel %d\n",
			i, i, box, 3*pair-2, 3*pair-1, 3*pair, box, pair, box, 3*pair-2, 3*pair-1, 3*pair, box, pair)
	}
	text := "plant: Many\ncable types:\n  one:  {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}\n  many: {pairs: 24, conductor: 0.75 mm2, code: BS 5308-1 screened pairs, screen: each and overall}\nboxes:\n" +
		places.String() + "cables:\n" + cables.String() + "loops:\n" + loops.String()
	return fstest.MapFS{"plant.yaml": {Data: []byte(text)}}
}

var sizes = []int{100, 1000, 10000}

func BenchmarkRead(b *testing.B) {
	for _, n := range sizes {
		m := plantOf(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, _, ps := read.Read(m, "plant.yaml"); len(ps) > 0 {
					b.Fatal(ps)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/loop")
		})
	}
}

func BenchmarkCheck(b *testing.B) {
	for _, n := range sizes {
		p, _, _ := read.Read(plantOf(n), "plant.yaml")
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if ps := Check(p); len(ps) > 0 {
					b.Fatal(ps)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/loop")
		})
	}
}

// BenchmarkSpoilt is a plant in which every loop names a cable and terminals
// that are not there.
func BenchmarkSpoilt(b *testing.B) {
	for _, n := range sizes {
		m := plantOf(n)
		m["plant.yaml"].Data = []byte(strings.NewReplacer("- W-F", "- Q-F", "type: one", "type: on").Replace(string(m["plant.yaml"].Data)))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				p, _, ps := read.Read(m, "plant.yaml")
				if ps = append(ps, Check(p)...).Sort(); len(ps) < n {
					b.Fatal(len(ps))
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/loop")
		})
	}
}
