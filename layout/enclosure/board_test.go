package enclosure

import (
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestBoardWords: what lands on a board is named once: the screen round all of a cable is
// no screen of a screen.
func TestBoardWords(t *testing.T) {
	t.Parallel()
	const text = `
plant: Board
practice: {pair names: number}
cable types:
  in: {pairs: 1, conductor: 1.0 mm2, screen: overall, colours: [BK WH]}
  on: {pairs: 2, conductor: 1.0 mm2, screen: each, colours: [BK WH, RD WH]}
boxes: {JB: {strips: {B: {terminals: 1A..3A, grid: 3 x 1}}}}
systems: {S: {cards: {AI: {kind: AI, power: card, channels: 1, volts: 24 V, ohms: 250 ohm}}}}
cables: {W-1: {type: in, from: FT-1, to: JB, length: 9 m}, W-2: {type: on, from: JB, to: S, length: 9 m}}
loops:
  F-1:
    service: Flow
    devices: {FT-1: {kind: transmitter, range: 0..1 m3/h}}
    circuits: {FT-1: [FT-1, W-1, JB/B 1A 2A 3A, W-2 pair 1, AI channel 1]}
`
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	board := p.PartByTag["JB/B"]
	for name, want := range map[string][2]string{
		"1A": {"W-1 pair 1 BK", "W-2 pair 1 BK"},
		"3A": {"W-1 overall screen", "W-2 pair 1 screen"},
	} {
		_, sides := landingsAt(board.TerminalByName[name])
		for i, side := range [...]int{leftSide, rightSide} {
			if len(sides[side]) != 1 || boardWords(p, sides[side][0]) != want[i] {
				t.Errorf("%s, side %d: %q, not %q", name, i, boardWords(p, sides[side][0]), want[i])
			}
		}
	}
}
