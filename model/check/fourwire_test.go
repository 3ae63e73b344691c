package check

import (
	"testing"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/modeltest"
)

// TestFourWireDC: a transmitter that takes 180 mA over 35 m of 1.0 mm² and 210 m
// of 0.75 mm², 18.1 and 24.5 Ω/km (IEC 60228:2004, table 2): 2 × 0.180 A × (0.6335
// + 5.145) Ω = 2.08 V are lost on the way (Ohm's law, by hand).
func TestFourWireDC(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "fourwire.yaml")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	supply := p.Loops[0].Circuits[1]
	if supply.Signal != model.PowerDC || supply.Mains() {
		t.Errorf("the supply is %v, mains %v", supply.Signal, supply.Mains())
	}
	r, ok := compute.ReadingsOf(p, supply)
	if !ok || len(r.Rows) != 4 {
		t.Fatalf("readings %v: %+v", ok, r)
	}
	modeltest.Within(t, "volts at the device", r.Rows[0].Values[0].Value, 24-2.0803, 0.001)
	modeltest.Within(t, "volts at the fuse", r.Rows[3].Values[0].Value, 24, 0.001)
	margins := compute.Margins(p, supply)
	if len(margins) != 1 || len(margins[0].Missing) > 0 {
		t.Fatalf("margins %+v", margins)
	}
	modeltest.Within(t, "volts left, the supply at its least", margins[0].Headroom(), 22-2.0803-18, 0.001)
	volts, plus, missing := compute.OpenVolts(p, supply)
	modeltest.Within(t, "volts, lifted", volts.Value, 24, 1e-9)
	if plus.Tag() != "FT-401:P+" || missing != nil {
		t.Errorf("lifted: + on %s, missing %q", plus.Tag(), missing)
	}
	if rows, missing := compute.FaultGuide(p, supply); len(rows) != 4 || rows[0].Remark != "180 mA" || missing != nil {
		t.Errorf("fault guide %+v, missing %q", rows, missing)
	}
	// The signal is driven by the device, whatever feeds it.
	if r, ok := compute.ReadingsOf(p, p.Loops[0].Circuits[0]); !ok || len(r.Rows) != 4 {
		t.Errorf("readings of the signal %v: %+v", ok, r)
	} else {
		modeltest.Within(t, "volts at the card, 20 mA", r.Rows[3].Values[5].Value, 5, 0.001)
	}
}

// TestDrawsIsAskedFor: without what it draws, no voltage can be told.
func TestDrawsIsAskedFor(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "fourwire.yaml", ", draws: 180 mA", "")
	r, _ := compute.ReadingsOf(p, p.Loops[0].Circuits[1])
	if problems.Errors() > 0 || len(r.Missing) != 1 || r.Missing[0] != "draws of FT-401" {
		t.Errorf("missing %q, problems %v", r.Missing, problems)
	}
}

func TestFourWireDCFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change []string
		code   string
	}{
		{"too little is left", []string{"lift-off: 18 V", "lift-off: 20 V"}, "low-voltage"},
		{"reversed", []string{"X5 F1 N1\n", "X5 N1 F1\n"}, "reversed-polarity"},
		{"the fuse is too small", []string{"fused 0.5 A", "fused 0.1 A"}, "overloaded-fuse"},
		{"no supply", []string{"    feeds: [PS-2 + to X5 F1, PS-2 - to X5 N1]\n", ""}, "open-leg"},
		{"the card drives too", []string{"kind: AI, power: loop", "kind: AI, power: card, volts: 24 V"}, "two-sources"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, problems := checked(t, "fourwire.yaml", c.change...)
			found := false
			for _, pr := range problems {
				found = found || pr.Code == c.code
			}
			if !found {
				t.Errorf("no finding %q: %v", c.code, problems)
			}
		})
	}
}
