package check

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/modeltest"
)

// TestCoilByHand: 20 VA at 120 V is 720 Ω, and 20 Ω of copper stand before it. By
// the law of cosines the two are √(720² + 20² + 2·720·20·0.4) = 728.23 Ω, so that
// 118.64 V arrive; at 60 VA it is 240 Ω, √(240² + 20² + 2·240·20·0.7) = 254.40 Ω, and of
// 108 V, the least, 101.89 V arrive: less than the pull-in of 102 V. At rest the coil has
// 0 V, and what feeds it stands across the output.
func TestCoilByHand(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "ac.yaml")
	if !slices.ContainsFunc(problems, func(pr finding.Finding) bool {
		return pr.Code == "low-voltage" && strings.HasPrefix(pr.Text, "minimum inrush voltage at XY-1, switched on: 101.9 V AC; minimum 102 V AC")
	}) || problems.Errors() != 1 {
		t.Errorf("problems %v", problems)
	}
	c := p.Loops[0].Circuits[0]
	r, _ := compute.ReadingsOf(p, c)
	if r.Unit != "V AC" || len(r.Missing) > 0 {
		t.Fatalf("readings %+v", r)
	}
	modeltest.Within(t, "volts of the coil, off", r.Rows[0].Values[0].Value, 0, 1e-9)
	modeltest.Within(t, "volts of the coil, on", r.Rows[0].Values[1].Value, 118.64, 0.005)
	modeltest.Within(t, "volts of the output, off", r.Rows[2].Values[0].Value, 120, 1e-9)
	m := compute.Margins(p, c)
	if len(m) != 3 || m[0].What != "minimum inrush voltage at XY-1" || m[1].What != "minimum holding voltage at XY-1" {
		t.Fatalf("margins %+v", m)
	}
	modeltest.Within(t, "inrush", m[0].Actual, 101.89, 0.005)
	modeltest.Within(t, "holding", m[1].Actual, 118.64*108/120, 0.005)
	v, plus, missing := compute.OpenVolts(p, c)
	modeltest.Within(t, "lifted", v.Value, 120, 1e-9)
	if plus != nil || missing != nil {
		t.Errorf("lifted: + on %v, missing %q", plus, missing)
	}
}

// TestACNotGiven: each figure that a sum on AC lacks is asked for by its key, and the
// ohms of the winding are no help.
func TestACNotGiven(t *testing.T) {
	t.Parallel()
	missing := func(circuit int, change ...string) string {
		p, problems := checked(t, "ac.yaml", append(change, "pull-in: 102 V", "pull-in: 90 V")...)
		if slices.ContainsFunc(problems, func(pr finding.Finding) bool { return pr.Code == "low-voltage" }) {
			t.Errorf("%q: %v", change, problems)
		}
		c := p.Loops[0].Circuits[circuit]
		r, ok := compute.ReadingsOf(p, c)
		all := slices.Clone(r.Missing)
		for _, m := range compute.Margins(p, c) {
			all = append(all, m.Missing...)
		}
		if !ok || len(r.Rows) > 0 && len(r.Missing) > 0 {
			t.Errorf("%q: readings %+v", change, r)
		}
		return strings.Join(all, ", ")
	}
	for cut, want := range map[string]string{
		"rated volts: 120 V AC, ":    "rated volts of XY-1, rated volts of XY-1, rated volts of XY-1, rated volts of XY-1",
		"inrush: 60 VA, ":            "inrush of XY-1, inrush of XY-1",
		"inrush power factor: 0.7, ": "inrush power factor of XY-1, inrush power factor of XY-1",
		"holding: 20 VA, ":           "holding of XY-1, holding of XY-1",
		", power factor: 0.4":        "power factor of XY-1, power factor of XY-1",
	} {
		if got := missing(0, cut, ""); got != want {
			t.Errorf("without %s: %s", cut, got)
		}
	}
	if got := missing(0, ", "+modeltest.CoilLine, ", ohms: 240 ohm"); !strings.HasPrefix(got, "rated volts of XY-1, holding of XY-1, power factor of XY-1") {
		t.Errorf("with ohms: %s", got)
	}
	if got := missing(1, ", ohms: 19 kohm", "", modeltest.CoilLine, "ohms: 1 ohm"); got != "ohms of card DI, capacitance of cable type pair, mains frequency, off below of card DI, ohms of card DI" {
		t.Errorf("input: %s", got)
	}
	if got := missing(2, ", draws: 30 VA, power factor: 0.6", "", modeltest.CoilLine, "ohms: 1 ohm"); got != "draws of AT-1, power factor of AT-1" {
		t.Errorf("analyser: %s", got)
	}
	// A DC signal on AC has no reading.
	if got := missing(1, "ZS-1: {kind: contact}", "ZS-1: {kind: transmitter, lift-off: 10 V}", "DI: {kind: DI", "DI: {kind: AI", "{1: [wires, MC/X7 L2], 2:", "{+: [wires, MC/X7 L2], -:", modeltest.CoilLine, "ohms: 1 ohm"); !strings.Contains(got, "a DC supply of circuit ZS-1") {
		t.Errorf("transmitter on AC: %s", got)
	}
}

// TestACLoads: currents on AC add up by their phase. 120 V over 728.23 Ω, 19 kΩ and
// 250 mA: 164.8 mA at −65.3°, 6.3 mA at 0°, 250 mA at −53.1° make 416 mA, not 421 mA.
func TestACLoads(t *testing.T) {
	t.Parallel()
	for limit, want := range map[string]bool{"413 mA": true, "418.5 mA": false} {
		_, problems := checked(t, "ac.yaml", "limit: 2 A", "limit: "+limit)
		found := slices.ContainsFunc(problems, func(pr finding.Finding) bool { return pr.Code == "overloaded-supply" })
		if found != want {
			t.Errorf("limit %s: %v", limit, problems)
		}
	}
	if _, problems := checked(t, "ac.yaml", "fused 2 A", "fused 200 mA"); !slices.ContainsFunc(problems, func(pr finding.Finding) bool {
		return pr.Code == "overloaded-fuse" && strings.HasPrefix(pr.Text, "fuse MC/X7:L3, 200 mA: load 250 mA (1 circuit)")
	}) {
		t.Errorf("fuse: %v", problems)
	}
}

// TestACMindsNoPolarity: a reversed pair does nothing on AC, and the fault guide knows
// no diodes. With its armature stuck the coil goes on taking its inrush: 120 V/254.40 Ω.
func TestACMindsNoPolarity(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "ac.yaml", "XY-1, W-1, MC/X1 1 2", "XY-1 A2 A1, W-1, MC/X1 1 2")
	for _, pr := range problems {
		if pr.Code == "reversed-polarity" {
			t.Error(pr)
		}
	}
	rows, missing := compute.FaultGuide(p, p.Loops[0].Circuits[0])
	if text := fmt.Sprint(rows); strings.Contains(text, "diode") || !strings.Contains(text, "472 mA continuously") || !strings.Contains(text, "106.8..124.6 V AC at the coil") || len(missing) > 0 {
		t.Errorf("fault guide %s, missing %q", text, missing)
	}
	if rows, _ := compute.FaultGuide(p, p.Loops[0].Circuits[2]); len(rows) != 4 || rows[3].Fault != "L and N crossed" {
		t.Errorf("fault guide of the analyser: %+v", rows)
	}
}

// TestACCard: a card that gives 120 V AC is above extra-low voltage, like a supply, and
// its neutral may be the common of inputs.
func TestACCard(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "ac.yaml", "kind: DO, power: loop", "kind: DO, power: card, volts: 120 V AC", "{+: [wires, DO channel 1 +>-, wires, MC/X7 L1], -: [wires, MC/X7 N1]}", "wires, DO channel 1")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	c := p.Loops[0].Circuits[0]
	if !compute.AC(c) || !c.Mains() || LevelOf(c) != MainsLevel {
		t.Errorf("AC %v, mains %v, level %v", compute.AC(c), c.Mains(), LevelOf(c))
	}
	r, _ := compute.ReadingsOf(p, c)
	modeltest.Within(t, "volts on", r.Rows[0].Values[1].Value, 118.64, 0.005)

	p, problems = checked(t, "ac.yaml", "ohms: 19 kohm", "ohms: 19 kohm, common: M", "AC-1 N to X7 N1,", "AC-1 N to X7 N1, AC-1 N to DI M,", "[wires, DI channel 1 +>-, wires, MC/X7 N2]", "[wires, DI channel 1]")
	if slices.ContainsFunc(problems, func(pr finding.Finding) bool { return pr.Severity == finding.Error && pr.Code != "low-voltage" }) {
		t.Fatal(problems)
	}
	r, _ = compute.ReadingsOf(p, p.Loops[0].Circuits[1])
	modeltest.Within(t, "volts at the input", r.Rows[len(r.Rows)-1].Values[1].Value, 120*19000.0/19020, 1e-9)
}

// TestWrongSupply: a coil of other volts or for the other kind, a transmitter on AC, and a
// circuit between two supplies are found; 85 and 110 % of rated volts are not.
func TestWrongSupply(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		code   string
		change []string
	}{
		{"", nil},
		{"", []string{"rated volts: 120 V AC", "rated volts: 110 V AC"}},
		{"", []string{"rated volts: 120 V AC", "rated volts: 140 V AC"}},
		{"wrong-supply", []string{"rated volts: 120 V AC", "rated volts: 108 V AC"}},
		{"wrong-supply", []string{"rated volts: 120 V AC", "rated volts: 142 V AC"}},
		{"wrong-supply", []string{"kind: DO, power: loop", "kind: DO, power: card, volts: 120 V", "{+: [wires, DO channel 1 +>-, wires, MC/X7 L1], -: [wires, MC/X7 N1]}", "wires, DO channel 1"}},
		{"wrong-supply", []string{"ZS-1: {kind: contact}", "ZS-1: {kind: transmitter}", "DI: {kind: DI", "DI: {kind: AI", "{1: [wires, MC/X7 L2], 2:", "{+: [wires, MC/X7 L2], -:"}},
		{"split-supplies", []string{"supplies: {", "supplies: {AC-2: {volts: 120 V AC}, ", "AC-1 N to X7 N1,", "AC-2 N to X7 N1,"}},
	} {
		_, problems := checked(t, "ac.yaml", append(x.change, "pull-in: 102 V", "pull-in: 60 V")...)
		got := ""
		for _, pr := range problems {
			if pr.Severity == finding.Error {
				got = pr.Code
			}
		}
		if got != x.code {
			t.Errorf("%q: %q, not %q: %v", x.change, got, x.code, problems)
		}
	}
}
