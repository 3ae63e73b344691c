package check

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestPassiveOutputs: of a passive output in a sample, each way to wire it wrongly is told.
func TestPassiveOutputs(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/heron-lock/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const plus, minus = "- +: [wires, MC-7/X5 F8]\n", "          -: [wires, AO-7 channel 1 +>-, wires, MC-7/X5 N8]\n"
	for _, known := range []struct{ old, new, found string }{
		{plus + minus, "- wires\n        - AO-7 channel 1\n", "no-source"},
		{minus, strings.Replace(minus, "+>-", "->+", 1), "reversed-polarity"},
		{plus + minus, "- +: [wires, AO-7 channel 1 +>-, wires, MC-7/X5 F8]\n          -: [wires, MC-7/X5 N8]\n", "reversed-polarity"},
		{plus + minus, "- +: [wires, AO-7 channel 1 ->+, wires, MC-7/X5 F8]\n          -: [wires, MC-7/X5 N8]\n", ""}, // in the other leg
		{plus + minus, "- +: [wires, MC-7/X5 F8]\n          -: [wires, MC-7/X5 N8]\n", "shorted-supply"},
		{"AO-7: {kind: AO, power: loop, channels: 4, lift-off: 7 V,", "AO-7: {kind: AO, channels: 4,", "two-sources"},
		{"lift-off: 7 V, minus", "lift-off: 18.4 V, minus", "low-voltage"},
		{"- W-707\n", "- W-707 reversed\n", "crossed-polarity"},
	} {
		changed := strings.Replace(string(text), known.old, known.new, 1)
		if changed == string(text) {
			t.Fatalf("%q is not in the sample", known.old)
		}
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(changed)}}, "plant.yaml")
		problems = append(problems, Check(p)...)
		if known.found == "" && len(problems) > 0 || known.found != "" && (len(problems) != 1 || problems[0].Code != known.found) {
			t.Errorf("%s: found %v", known.new, problems)
		}
	}
}
