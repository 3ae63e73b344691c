package diff

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

// TestCompare edits the sample plant one thing at a time: exactly that comes out.
func TestCompare(t *testing.T) {
	t.Parallel()
	const text = `
plant: Mill
number: M
cable types:
  one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}
  two: {pairs: 2, conductor: 0.75 mm2, code: 25-pair, screen: each}
boxes:
  JB-1: {at: Yard, strips: {X1: {terminals: 1..12, jumpers: [10..12]}}}
systems:
  PCS: {cards: {AI-1: {kind: AI, power: card, channels: 4, volts: 24 V, ohms: 250 ohm}}}
cables:
  W-1: {type: one, from: FT-1, to: JB-1, length: 10 m}
  W-2: {type: two, from: JB-1, to: PCS, length: 100 m}
loops:
  F-1:
    service: Feed
    devices: {FT-1: {kind: transmitter, range: 0..10 m3/h, lift-off: 10 V}}
    functions: {FI-1: {kind: indicator, reads: FT-1, alarms: [H 8]}}
    circuits:
      FT-1: [FT-1 + -, W-1, JB-1/X1 1 2 3, W-2 pair 1, AI-1 channel 1]
`
	read := func(text string) *model.Plant {
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": &fstest.MapFile{Data: []byte(text)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatalf("plant: %v", problems)
		}
		return p
	}
	for _, c := range []struct{ old, now, want string }{
		{"", "", ""},
		{"range: 0..10 m3/h", "range: 0..12 m3/h", "loop F-1: device FT-1: range 0..12 m3/h, was 0..10 m3/h"},
		{"lift-off: 10 V", "lift-off: 11 V", "loop F-1: device FT-1: lift-off 11 V, was 10 V"},
		{"[H 8]", "[H 9]", "loop F-1: function FI-1: alarms H 9, was H 8"},
		{"length: 100 m", "length: 120 m", "cable W-2: cable W-2: length 120 m, was 100 m"},
		{"at: Yard", "at: Shed", "place JB-1: box: at Shed, was Yard"},
		{"jumpers: [10..12]", "jumpers: [10..11]", "place JB-1: strip JB-1/X1: terminal 10 jumpered to 11, was 11 12|" +
			"place JB-1: strip JB-1/X1: terminal 11 jumpered to 10, was 10 12|" +
			"place JB-1: strip JB-1/X1: terminal 12 jumpered to not given, was 10 11"},
		{"ohms: 250 ohm", "ohms: 100 ohm", "place PCS: AI AI-1: ohms 100 Ω, was 250 Ω"},
		{"number: M\n", "number: M\npractice: {paper: 11x17}\n", "practice: practice: paper 11x17, was A3"},
		{"JB-1/X1 1 2 3, W-2", "JB-1/X1 1 2 6, W-2", "loop F-1: circuit FT-1: JB-1/X1 1 2 6, was 1 2 3|loop F-1: screen W-1 OS: to JB-1/X1:6, was JB-1/X1:3|loop F-1: screen W-2-1S: from JB-1/X1:6, was JB-1/X1:3"},
		{"W-2 pair 1, ", "W-2 pair 2, ", "loop F-1: circuit FT-1: W-2 pair 2, was pair 1|"},
		{"W-2 pair 1, ", "W-2 cores 1 2, ", ""}, // the same copper
		{"W-2 pair 1, ", "W-2 cores 2 1, ", "loop F-1: core W-2-1b: from JB-1/X1:1, was JB-1/X1:2|"},
		{"AI-1 channel 1]", "AI-1 channel 2]", "loop F-1: circuit FT-1: AI-1 channel 2, was channel 1|"},
		{"W-1, JB", "W-1 pair 1 reversed, JB", "loop F-1: core W-1-1b: to JB-1/X1:1, was JB-1/X1:2|"},
	} {
		if c.old != "" && strings.Count(text, c.old) != 1 {
			t.Fatalf("%q stands %d times", c.old, strings.Count(text, c.old))
		}
		var got []string
		for _, d := range Compare(read(text), read(strings.Replace(text, c.old, c.now, 1))) {
			got = append(got, d.Of.Name()+": "+d.Words())
		}
		all := strings.Join(got, "|")
		if strings.HasSuffix(c.want, "|") { // one of several
			if !strings.Contains(all+"|", c.want) {
				t.Errorf("%q to %q:\n%s\ndoes not hold\n%s", c.old, c.now, all, c.want)
			}
			continue
		}
		if all != c.want {
			t.Errorf("%q to %q:\n%s\nnot\n%s", c.old, c.now, all, c.want)
		}
	}
}
