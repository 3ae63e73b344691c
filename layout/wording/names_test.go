package wording_test

import (
	"testing"
	"testing/fstest"

	"ringout/layout/wording"
	"ringout/model/read"
)

// TestPairName: a run over several groups names all of its cores, not one group; cores of one
// pair are that pair, which is twisted, however the text names them.
func TestPairName(t *testing.T) {
	t.Parallel()
	const text = `
cable types: {in: {pairs: 3, conductor: 1.0 mm2, code: black/white numbered, screen: none}}
systems: {PCS: {cards: {RT: {kind: RTD, wires: 4, channels: 1}, AI: {kind: AI, power: card, channels: 2}}}}
cables: {W-1: {type: in, from: TE-1, to: PCS}, W-2: {type: in, from: FT-1, to: PCS}, W-3: {type: in, from: FT-2, to: PCS}}
loops:
  T-1: {service: t, devices: {TE-1: {kind: RTD 4-wire, sensor: Pt100}}, circuits: {TE-1: [TE-1, W-1 pairs 1 3, RT channel 1]}}
  F-1: {service: f, devices: {FT-1: {kind: transmitter}}, circuits: {FT-1: [FT-1, W-2 pair 3, AI channel 1]}}
  F-2: {service: f, devices: {FT-2: {kind: transmitter}}, circuits: {FT-2: [FT-2, W-3 cores 5 6, AI channel 2]}}
`
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	for i, want := range [][2]string{{"cores 1 2 5 6", ""}, {"pair 3", "BK 3-WH 3"}, {"pair 3", "BK 3-WH 3"}} {
		run := p.Loops[i].Circuits[0].Runs()[0]
		if name, colours := wording.PairName(p, run); [2]string{name, colours} != want || run.Twisted() != (i > 0) {
			t.Errorf("%q %q, twisted %v; want %q", name, colours, run.Twisted(), want)
		}
	}
}
