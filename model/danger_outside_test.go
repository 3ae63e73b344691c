package model_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// Of tern-island, the pair W-26 and its wires up to the barrier Z-2330 are
// intrinsically safe, and MC-2 holds 230 V.
func TestSampleDangers(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../samples"), "tern-island")
	safe := map[string]bool{}
	for _, w := range p.Conductors {
		if w.IntrinsicallySafe() && w.Core != nil {
			safe[w.Core.Cable.Tag] = true
		}
		if w.IntrinsicallySafe() && (w.Circuit.Loop.Tag != "L-2330" || w.To.Terminal != nil && w.To.Terminal.Part.Card != nil) {
			t.Errorf("%s to %s counts as intrinsically safe", w.From.Tag(), w.To.Tag())
		}
	}
	if len(safe) != 2 || !safe["W-2330"] || !safe["W-26"] {
		t.Errorf("intrinsically safe cables: %v", safe)
	}
	for _, pl := range p.Places {
		var tags []string
		for _, s := range p.DangerousSources(pl) {
			tags = append(tags, s.Tag)
		}
		want := ""
		if pl.Tag == "MC-2" {
			want = "AC-21"
		}
		if got := strings.Join(tags, " "); got != want {
			t.Errorf("dangerous supplies of %s: %q, want %q", pl.Tag, got, want)
		}
	}
}

// A box that mains only pass through is dangerous too, and so are its terminals;
// one that has no more than the protective earth is not.
func TestMainsPassingThrough(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(`
plant: Heron Sluice
cable types:
  mains: {cores: 3, conductor: 1.5 mm2, colours: [BN, BU, GNYE], screen: none}
  pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}
boxes:
  JB-1: {strips: {X1: {terminals: 1..3}, X2: {terminals: 1..2}}}
cabinets:
  MC-1:
    strips: {X7: {terminals: [L1 fused 2 A, N1, PE1 earth]}, X8: {terminals: PE2 earth}, X1: {terminals: 1..2}}
    supplies: {AC-1: {volts: 230 V AC}}
    cards: {AI-1: {kind: AI, power: loop, channels: 1}}
    feeds: [AC-1 L to X7 L1 BN, AC-1 N to X7 N1 BU, AC-1 PE to X7 PE1, AC-1 PE to X8 PE2]
cables:
  M-1: {type: mains, from: AT-1, to: JB-1}
  M-2: {type: mains, from: JB-1, to: MC-1}
  S-1: {type: pair, from: AT-1, to: MC-1}
loops:
  A-1:
    service: Chlorine
    devices: {AT-1: {kind: four-wire transmitter, range: 0..2 mg/l}}
    circuits:
      AT-1: [AT-1 + -, S-1, MC-1/X1 1 2, wires, AI-1 channel 1]
      AT-1 supply: [AT-1 L N PE, M-1, JB-1/X1 1 2 3, M-2, MC-1/X7 L1 N1 PE1]
`)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	if all := p.DangerousSources(p.Place("JB-1")); len(all) != 1 || all[0].Tag != "AC-1" {
		t.Errorf("dangerous supplies of JB-1: %v", all)
	}
	for tag, want := range map[string]bool{"JB-1/X1": true, "JB-1/X2": false, "MC-1/X7": true, "MC-1/X8": false, "MC-1/X1": false, "AC-1": true, "AI-1": false} {
		if got := len(p.Part(tag).Dangers()) > 0; got != want {
			t.Errorf("%s is dangerous: %v", tag, got)
		}
	}
	if f := p.Part("MC-1/X8").Feeders(); len(f) != 1 || f[0].Tag != "AC-1" {
		t.Errorf("MC-1/X8 is fed from %v", f)
	}
}
