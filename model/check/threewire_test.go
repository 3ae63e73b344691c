package check

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestThreeWire: a switch that drops 1.8 V drives 3.3 kΩ from 24 V: 22.2 V less
// what the cores of 1.086 Ω drop (Ohm's law, by hand), on its output while on, and
// nothing while off. One that switches - leaves 1.8 V from its output to -.
func TestThreeWire(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "threewire.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	c := p.Loops[0].Circuits[0]
	r, ok := compute.ReadingsOf(p, c)
	if !ok || len(r.Rows) != 5 || strings.Join(r.States, " ") != "off on" {
		t.Fatalf("readings %v: %+v", ok, r)
	}
	mA := (24 - 1.8 - 0.008*1.086) / (3300 + 2*1.086) * 1000
	for _, row := range []struct {
		at      int
		where   string
		off, on float64
	}{
		{0, "ZS-405 1 3", 24 - 2*0.008*1.086, 24 - 2*0.008*1.086 - mA/1000*1.086},
		{1, "ZS-405 4 3", -0.008 * 1.086, 22.17},
		{3, "MC-2/X4 3 2", 0, 22.17},
		{4, "DI-1 5 M", 0, mA / 1000 * 3300},
	} {
		got := r.Rows[row.at]
		if got.Where() != row.where {
			t.Errorf("reading %d is at %s, not %s", row.at+1, got.Where(), row.where)
		}
		modeltest.Within(t, row.where+" off", got.Values[0].Value, row.off, 0.005)
		modeltest.Within(t, row.where+" on", got.Values[1].Value, row.on, 0.02)
	}
	if rows, missing := compute.FaultGuide(p, c); len(rows) != 8 || rows[4].Meter != "22.0..25.2 V from 4 to 3, without the drop" || len(missing) > 0 {
		t.Errorf("fault guide %+v, missing %q", rows, missing)
	}
	volts, plus, missing := compute.OpenVolts(p, c)
	modeltest.Within(t, "volts of its supply, lifted", volts.Value, 24, 1e-9)
	if plus.Tag() != "ZS-405:1" || missing != nil {
		t.Errorf("lifted: + on %s, missing %q", plus.Tag(), missing)
	}

	npn := []string{"drop: 1.8 V", "output: NPN, drop: 1.8 V",
		"Q: [wires WH, DI-1 channel 5]", "Q: [wires WH, DI-1 channel 5 ->+, wires, MC-2/X5 F4]", ", common: M", "", ", PS-2 - to DI-1 M", ""}
	p, problems = checked(t, "threewire.yaml", npn...)
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	r, _ = compute.ReadingsOf(p, p.Loops[0].Circuits[0])
	modeltest.Within(t, "volts from + to the output of an NPN, on", r.Rows[1].Values[1].Value, 22.17, 0.02)
	modeltest.Within(t, "volts at its input, on", r.Rows[len(r.Rows)-1].Values[1].Value, 22.17, 0.02)
}

func TestThreeWireFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change []string
		code   string // "" for a reading that is missing
	}{
		{"an NPN on the + of an input", []string{"drop: 1.8 V", "output: NPN, drop: 1.8 V"}, "crossed-leads"},
		{"its supply reversed", []string{"F3]", "N4]", "X5 N3]", "X5 F3]"}, "reversed-polarity"},
		{"its output on the supply", []string{"Q: [wires WH, DI-1 channel 5]", "Q: [wires WH, MC-2/X5 N4]"}, "shorted-supply"},
		{"nothing feeds it", []string{"+: [wires RD, MC-2/X5 F3]", "+: [wires RD, MC-2/X4 5]"}, "open-leg"},
		{"its drop is not given", []string{"drop: 1.8 V, ", ""}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, problems := checked(t, "threewire.yaml", c.change...)
			if c.code == "" {
				r, _ := compute.ReadingsOf(p, p.Loops[0].Circuits[0])
				if len(r.Missing) != 1 || r.Missing[0] != "drop of ZS-405" {
					t.Errorf("missing %q", r.Missing)
				}
				return
			}
			for _, pr := range problems {
				if pr.Code == c.code {
					return
				}
			}
			t.Errorf("no finding %q: %v", c.code, problems)
		})
	}
}

// TestThreeWireTransmitterFaults: each miswire of a transmitter on three cores is found.
func TestThreeWireTransmitterFaults(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/cold-store/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const supply, minus, signal = "+: [wires RD, MC-1/X5 F1]", "-: [wires, MC-1/X5 N1]", "Q: [wires WH, AI-1 channel 1]"
	for _, c := range []struct {
		name   string
		change []string
		code   string
	}{
		{"sinking, on an input that wants sourcing", []string{"draws: 150 mA", "output: sinking, draws: 150 mA"}, "crossed-leads"},
		{"sourcing, on an input that wants sinking", []string{"output: sinking, ", ""}, "crossed-leads"},
		{"supply reversed", []string{supply, "+: [wires RD, MC-1/X5 N1]", minus, "-: [wires, MC-1/X5 F1]"}, "reversed-polarity"},
		{"signal and supply changed over", []string{supply, "+: [wires RD, AI-1 channel 1]", signal, "Q: [wires WH, MC-1/X5 F1]"}, "shorted-supply"},
		{"signal and common changed over", []string{minus, "-: [wires, AI-1 channel 1]", signal, "Q: [wires WH, MC-1/X5 N1]"}, "shorted-supply"},
		{"two sources: the card powers the loop", []string{"AI-1: {kind: AI, power: loop,", "AI-1: {kind: AI, power: card, volts: 24 V,"}, "two-sources"},
		{"common open", []string{minus, "-: [wires, MC-1/X1 9]"}, "open-leg"},
		{"signal open", []string{signal, "Q: [wires, MC-1/X1 9]"}, "open-leg"},
		{"too little left for its output", []string{"drop: 4 V", "drop: 17 V"}, "low-voltage"},
		{"a probe on a supply above common", []string{"PS-2: {volts: -24 V DC,", "PS-2: {volts: 24 V DC, terminals: 0V -24V,"}, "wrong-supply"},
		{"a probe on its supply the wrong way round", []string{"MC-1/X6 C2, wires BK", "MC-1/X6 F2, wires BK", "MC-1/X6 F1]", "MC-1/X6 C1]"}, "reversed-polarity"},
		{"a probe on a card of 24 V", []string{"VM-1 channel 1]", "AI-3 channel 1]", "      VM-1: {", "      AI-3: {kind: AI, power: card, channels: 1, terminals: [a, b]}\n      VM-1: {", "VT-1201, W-1201, MC-1/X1 9 10 11 12", "VT-1201 COM -24V, W-1201 cores 1 2, MC-1/X1 9 10"}, "wrong-card"},
		{"the signal of a probe on its supply", []string{"-: [wires VT, MC-1/X6 F1]", "-: [wires, VM-2 channel 1 Q]", "Q: [wires WH, VM-2 channel 1 Q]", "Q: [wires WH, MC-1/X6 F1]"}, "shorted-supply"},
		{"signal and common of a probe changed over", []string{"MC-1/X1 9 10 11 12, wires, VM-1 channel 1]", "MC-1/X1 9 10 11 12, wires, VM-1 channel 1 1SIG 1VT 1COM]"}, "crossed-leads"},
		{"the screen of a probe earthed at both ends", []string{"VT-1201: [VT-1201,", "VT-1201: [VT-1201 screen earth,"}, "screen-earthed-twice"},
		{"two feeds on one common", []string{"PS-1 - to DI-1 C1 BU", "PS-1 - to DI-1 C1 BU, PS-2 -24V to DI-1 C1"}, "joined-supplies"},
		{"the common of one group fed as the other", []string{"PS-1 + to DI-1 C2 RD", "PS-1 - to DI-1 C2 RD"}, "reversed-polarity"},
		{"a contact without its common", []string{", PS-1 + to DI-1 C2 RD", ""}, "open-leg"},
		{"a contact of the one group wired as in the other", []string{"1: [wires BU, MC-1/X5 N4]", "1: [wires RD, MC-1/X5 F6]"}, "reversed-polarity"},
		{"a contact of the other group likewise", []string{"1: [wires RD, MC-1/X5 F4]", "1: [wires, MC-1/X5 N4]"}, "no-source"},
		{"a sourcing switch on a group that shares +", []string{"ZS-1303: {kind: contact,", "ZS-1303: {kind: proximity switch 3-wire, drop: 2 V, draws: 9 mA,", "        - W-1303\n        - MC-1/X2 5 6\n        - 1: [wires BU, MC-1/X5 N4]\n          2: [wires, DI-1 channel 9]", "        - W-1304\n        - MC-1/X2 5 6 7 8\n        - +: [wires, MC-1/X5 F6]\n          -: [wires, MC-1/X5 N4]\n          Q: [wires, DI-1 channel 9]", "  W-1303: {type: one-pair,", "  W-1304: {type: one-triad,"}, "crossed-leads"},
		{"a channel of two groups", []string{"C2 9..16 +", "C2 8..16 +"}, "against-kind"},
		{"a channel of no group", []string{"C2 9..16 +", "C2 10..16 +"}, "terminals-mismatch"},
		{"channels that are not there", []string{"C2 9..16 +", "C2 9..17 +"}, "bad-terminals"},
		{"no such output", []string{"output: sinking", "output: NPN"}, "against-kind"},
	} {
		s := string(text)
		for i := 0; i < len(c.change); i += 2 {
			if !strings.Contains(s, c.change[i]) {
				t.Fatalf("the sample does not say %q", c.change[i])
			}
			s = strings.Replace(s, c.change[i], c.change[i+1], 1)
		}
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(s)}}, "plant.yaml")
		problems = append(problems, Check(p)...)
		if !slices.ContainsFunc(problems, func(f finding.Finding) bool { return f.Code == c.code }) {
			t.Errorf("%s: no finding %q: %v", c.name, c.code, problems)
		}
	}
}
