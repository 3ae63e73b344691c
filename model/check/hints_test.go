package check

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// hinted is a plant with one circuit of a contact to be led on from a strip, and one of a
// three-wire transmitter on a passive input whose channels stand alone.
const hinted = `
plant: Hints
practice: {earthed pole: negative}
cable types:
  one: {pairs: 1, conductor: 1.0 mm2, screen: none, colours: [BK WH]}
  three: {cores: 3, conductor: 1.0 mm2, screen: none, colours: [BN, BU, BK]}
cabinets:
  MC-1:
    wire: 0.75 mm2 GY
    strips:
      X1: {terminals: 1..9}
      X5: {terminals: [F1..F3 fused 0.5 A, N1..N3], jumpers: [F1..F3, N1..N3]}
    cards:
      AI-1: {kind: AI, power: loop, channels: 2, ohms: 250 ohm, minus: MINUS}
      DI-1: {kind: DI, power: loop, channels: 2, ohms: 3 kohm, common: M}
    earths: {PE: protective earth}
    surge protectors: {SP-1: {ohms: 2 ohm, earth: PE}}
    supplies: {G-1: {volts: 24 V DC, limit: 2 A}}
    feeds: [G-1 + to X5 F1 RD, G-1 - to X5 N1 BU, G-1 - to DI-1 M BU]
loops:
  A-1:
    service: Oxygen
    devices: {AT-1: {kind: three-wire transmitter, range: 0..21 %, draws: 100 mA, lift-off: 18 V, drop: 3 V}}
    cables: {W-1: three 10 m}
    circuits:
      AT-1: [AT-1, W-1, MC-1/X1 1..3, {+: [wires, MC-1/X5 F2], -: [wires, MC-1/X5 N2], Q: [wires, AI]}]
  P-2:
    service: Pressure
    devices: {PSH-2: {kind: contact, terminals: 43 44}}
    cables: {W-2: one 10 m}
    circuits:
      PSH-2: [PSH-2, W-2, PROTECTED, {LEG: [wires, MC-1/X5 F3], 2: [wires, DI-1 channel 1]}]
`

// TestHintsOfPaths: what is said, and what there is to do, names the parts at hand.
func TestHintsOfPaths(t *testing.T) {
	t.Parallel()
	base := []string{"MINUS", "supply", "AI]", "AI-1 channel 1 +]", "PROTECTED", "MC-1/X1 4 5, wires, SP-1", "LEG", "1"}
	for name, x := range map[string]struct {
		words []string
		says  string
		hint  string
	}{
		"as it should be":                       {},
		"channels of which none has a way back": {[]string{"MINUS", "own"}, "AI-1:1- not connected", "go on from AI-1:1- to the return of the supply"},
		"a channel without its terminal":        {[]string{"AI]", "AI-1 channel 1]"}, "AI-1: 1 core, 0 terminals named", "1+ or 1-"},
		"legs named by terminals":               {[]string{"LEG", "43"}, `has no leg "43" here`, "1 begins on PSH-2:43, 2 begins on PSH-2:44"},
		"a part with its place before it":       {[]string{"PROTECTED", "MC-1/X1 4 5, wires, MC-1/SP-1"}, "SP-1 is no strip of MC-1", "SP-1"},
	} {
		text := strings.NewReplacer(append(x.words, base...)...).Replace(hinted)
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		problems = append(problems, Check(p)...)
		if x.says == "" {
			for _, pr := range problems {
				t.Errorf("%s: %s", name, pr.Text)
			}
			continue
		}
		if len(problems) != 1 || !strings.Contains(problems[0].Text, x.says) || !strings.Contains(problems[0].Hint.String(), x.hint) {
			t.Errorf("%s: %v", name, problems)
		}
	}
}
