package material

import (
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

// TestPartedFromWhatFeeds: a core is lifted, or its link opened, on the side of what
// feeds it that is worked on: lifted between an isolator and the card, or between an
// isolated input and a transmitter with a supply of its own, the field stays live.
func TestPartedFromWhatFeeds(t *testing.T) {
	t.Parallel()
	const text = `
plant: Parted
cable types: {one: {pairs: 1, conductor: 1.0 mm2, screen: none, colours: [BK WH]}}
boxes: {JB: {strips: {X1: {terminals: 1..4}}}}
cabinets:
  MC:
    wire: 0.75 mm2 GY
    strips:
      X2: {terminals: [1..4, 5..8 disconnect]}
      X3: {terminals: [1..4, 5..8 disconnect]}
    isolators: {N-1: {volts: 15 V}, N-2: {volts: 15 V}}
    cards: {AI: {kind: AI, power: loop, channels: 4, ohms: 250 ohm}}
cables: {W-1: {type: one, from: JB, to: MC, length: 9 m}, W-2: {type: one, from: JB, to: MC, length: 9 m}}
loops:
  F-1:
    service: Flow
    devices: {FT-1: {kind: transmitter, range: 0..1 m3/h}, FT-2: {kind: four-wire transmitter, range: 0..1 m3/h}, FT-3: {kind: transmitter, range: 0..1 m3/h}}
    cables: {W-3: one, W-4: one, W-5: one}
    circuits:
      FT-1: [FT-1, W-3, JB/X1 1 2, W-1, MC/X2 1 2, wires, N-1, wires, MC/X3 1 2, wires, AI channel 1]
      FT-2: [FT-2 + -, W-4, JB/X1 3 4, W-2, MC/X2 3 4, wires, AI channel 2]
      from the card: [AI channel 3, wires, MC/X3 5 6, wires, N-2, wires, MC/X2 5 6, W-5, FT-3]
`
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	circuits := p.Loops[0].Circuits
	part := func(tag string) *model.Part { return p.PartByTag[tag] }
	for _, x := range []struct {
		c      *model.Circuit
		feeder *model.Part
		want   []string
	}{
		{circuits[0], nil, []string{"MC/X3:1", "MC/X3:2"}},
		{circuits[0], part("N-1"), []string{"MC/X2:1", "MC/X2:2"}},
		{circuits[1], part("FT-2"), []string{"JB/X1:3", "JB/X1:4"}},
		{circuits[1], part("AI"), []string{"MC/X2:3", "MC/X2:4"}},
		{circuits[2], part("N-2"), []string{"MC/X2:5", "MC/X2:6"}},
		{circuits[2], part("AI"), []string{"MC/X3:5", "MC/X3:6"}},
	} {
		tags := func(all []*model.Terminal) (s []string) {
			for _, t := range all {
				s = append(s, t.Tag())
			}
			return s
		}
		if got := tags(LiftedAt(x.c, x.feeder)); !slices.Equal(got, x.want) {
			t.Errorf("%s, feeder %v: lifted at %q, not %q", x.c.Name, x.feeder, got, x.want)
		}
		knives, all := Knives(x.c, x.feeder)
		if has := x.c == circuits[2]; all != has || has && !slices.Equal(tags(knives), x.want) {
			t.Errorf("%s, feeder %v: links at %q, all %t", x.c.Name, x.feeder, tags(knives), all)
		}
	}
}
