package main

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/read"
)

// perBox is how many loops of a made-up plant share a box, a home run and a
// card: 20,000 loops have some 1,500 boxes.
const perBox = 13

// bigPlant is the text of a plant of n flow loops. Everything that the sums ask
// for is given, so that all readings are computed.
func bigPlant(n int) string {
	var b strings.Builder
	boxes := (n + perBox - 1) / perBox
	b.WriteString("plant: Wide Marsh Works\nnumber: WM-I\ncable types:\n" +
		"  one-pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}\n" +
		"  24-pair: {pairs: 24, conductor: 0.75 mm2, code: 25-pair, screen: each}\n")
	each := func(head, format string) {
		b.WriteString(head)
		for i := 1; i <= boxes; i++ {
			b.WriteString(strings.ReplaceAll(format, "#", fmt.Sprint(i)))
		}
	}
	each("boxes:\n", "  JB-#:\n    strips: {X1: {terminals: 1..72, marks: + - S}}\n")
	each("cabinets:\n", "  MC-#:\n    earths: {IE: instrument earth}\n    strips: {X1: {terminals: 1..72, marks: + - S, bonded: 3..72 step 3 to IE}}\n")
	each("systems:\n", "  PCS-#:\n    cards: {AI-#: {kind: AI, power: card, channels: 24, ohms: 250 ohm, volts: 24 V}}\n")
	each("cables:\n", "  W-#: {type: 24-pair, from: JB-#, to: MC-#, length: 140 m}\n  V-#: {type: 24-pair, from: MC-#, to: PCS-#, length: 6 m}\n")
	for i := range n {
		fmt.Fprintf(&b, "  W-%d: {type: one-pair, from: FT-%d, to: JB-%d, length: %d m}\n", 10001+i, 10001+i, i/perBox+1, 5+i%60)
	}
	b.WriteString("loops:\n")
	for i := range n {
		tag, box, k := 10001+i, i/perBox+1, i%perBox
		fmt.Fprintf(&b, "  F-%d:\n    service: Bed %d feed flow\n    devices:\n      FT-%d: {kind: transmitter, range: 0..%d m3/h, lift-off: 10.5 V}\n    circuits:\n      FT-%d:\n", tag, i+1, tag, 50+i%400, tag)
		fmt.Fprintf(&b, "        - FT-%d + -\n        - W-%d\n        - JB-%d/X1 %d %d %d\n        - W-%d pair %d\n", tag, tag, box, 3*k+1, 3*k+2, 3*k+3, box, k+1)
		fmt.Fprintf(&b, "        - MC-%d/X1 %d %d %d\n        - V-%d pair %d\n        - AI-%d channel %d\n", box, 3*k+1, 3*k+2, 3*k+3, box, k+1, box, k+1)
	}
	return b.String()
}

func bigFiles(n int) fstest.MapFS {
	return fstest.MapFS{"plant.yaml": {Data: []byte(bigPlant(n))}}
}

func bigModel(tb testing.TB, n int) *model.Plant {
	tb.Helper()
	p, sources, problems := read.Read(bigFiles(n), ".")
	if problems = append(problems, check.Check(p)...); len(problems) > 0 {
		var b strings.Builder
		problems[:1].Print(&b, sources)
		tb.Fatalf("the made-up plant has problems: %s", &b)
	}
	return p
}

// TestBigPlant proves that what the benchmarks measure is a sound plant.
func TestBigPlant(t *testing.T) {
	t.Parallel()
	p := bigModel(t, 2*perBox+1)
	if len(p.Loops) != 2*perBox+1 || len(layout.New(p, false, nil).Sheets) < len(p.Loops) {
		t.Errorf("%d loops, %d sheets", len(p.Loops), len(layout.New(p, false, nil).Sheets))
	}
}
