package check

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestParkedLeads: a lead of a sensor may be parked where another from the same end of its
// element goes on to what measures it, and nowhere else.
func TestParkedLeads(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/heron-lock/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const lands = "MC-7/X2 1 2>x 3 4 IE, wires, RT-7 channel 1]"
	for _, known := range []struct{ write, found string }{
		{"MC-7/X2 1>x 2 3 4 IE, wires, RT-7 channel 1]", ""},
		{"MC-7/X2 1 x 3 4 IE, wires, RT-7 channel 1]", ""},
		{"MC-7/X2 1..4 IE, {1: [wires, RT-7 channel 1 1A], 3: [wires, RT-7 channel 1 1B1], 4: [wires, RT-7 channel 1 1B2]}]", ""},
		{"MC-7/X2 1..4 IE, wires, RT-7 channel 1 1A . 1B1 1B2]", ""},
		{"MC-7/X2 1 2 3>x 4 IE, wires, RT-7 channel 1]", "crossed-leads"},
		{"MC-7/X2 1>x 2>x 3 4 IE, wires, RT-7 channel 1 1A 1B1]", "open-leg"},
		{"MC-7/X2 1 2>x 3 4>x IE, wires, RT-7 channel 1 1A 1B1]", "wires-mismatch"},
		{"MC-7/X2 1 2>x 3 4 IE, {1: [wires, RT-7 channel 1 1A], 2: [wires, RT-7 channel 2 2A]}]", "broken-leg"},
		{"MC-7/X2 1 3>x 3 4 IE, wires, RT-7 channel 1]", "terminal-used-twice"},
		{"MC-7/X2 1 2>x 3 4 screen X1:31>x, wires, RT-7 channel 1]", "unknown-terminal"}, // a screen is no lead
	} {
		changed := strings.Replace(string(text), lands, known.write, 1)
		if changed == string(text) {
			t.Fatalf("%s is not in the sample", lands)
		}
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(changed)}}, "plant.yaml")
		problems = append(problems, Check(p)...)
		codes := map[string]bool{}
		for _, f := range problems {
			codes[f.Code] = true
		}
		if known.found == "" && len(problems) > 0 || known.found != "" && !codes[known.found] {
			t.Errorf("%s: found %v", known.write, problems)
		}
	}
	bonded := strings.Replace(string(text), "X2: {terminals: 1..8,", "X2: {terminals: 1..8, bonded: 2 to IE,", 1)
	p, _, _ := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(bonded)}}, "plant.yaml")
	if all := Check(p); len(all) == 0 || all[0].Code != "open-leg" {
		t.Errorf("parked on earth: %v", all)
	}
}

// TestSpareLead: of four terminals of a sensor one may stay open where three are landed.
func TestSpareLead(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/heron-lock/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	left := strings.NewReplacer("[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 IE", "[TE-705A 1 3 4, W-705A cores 1 3 4, MC-7/X2 1 3 4",
		"to: MC-7, length: 118 m}", "to: MC-7, length: 118 m, overall: {from: x, to: IE}}").Replace(string(text))
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(left)}}, "plant.yaml")
	if all := append(problems, Check(p)...); len(all) > 0 {
		t.Errorf("a lead left out: %v", all)
	}
}
