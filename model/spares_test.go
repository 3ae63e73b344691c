package model_test

import (
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestSpareSpans: a span of pairs is coiled or landed as the pairs one by one
// are, their screens too.
func TestSpareSpans(t *testing.T) {
	t.Parallel()
	read := func(spares string) (all []string) {
		text := `cable types: {four: {pairs: 4, conductor: 1.0 mm2, screen: each}}
boxes: {JB-1: {strips: {X1: {terminals: 1..12}}}, JB-2: {}}
cables: {W-1: {type: four, from: JB-1, to: JB-2, length: 180 ft, spares: {` + spares + `}}}
loops: {F-1: {service: flow, devices: {ZS-1: {kind: contact}}}}
`
		p, _, ps := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if got := p.Cable("W-1").Length; got != 54.864 { // a foot is 0.3048 m
			t.Errorf("180 ft is %v m", got)
		}
		for _, w := range p.Conductors {
			all = append(all, w.Core.Name()+" "+w.Spare+" "+w.From.Tag()+" "+w.To.Tag())
		}
		return all
	}
	one := read("pair 1: {from: X1 1 2 3, to: x}, pair 2: {from: X1 4 5 6, to: x}, pair 3: coiled, pair 4: coiled")
	span := read("pairs 1..2: {from: X1 1..6, to: x}, pairs 3..4: coiled")
	if len(one) != 12 || len(span) != len(one) {
		t.Fatalf("%d and %d conductors, not 12", len(one), len(span))
	}
	for i := range one {
		if one[i] != span[i] {
			t.Errorf("%s, and in a span %s", one[i], span[i])
		}
	}
}
