package check

import (
	"slices"
	"strings"
	"testing"

	"ringout/model/compute"
	"ringout/model/modeltest"
)

// At 20 mA 250 Ω take 5 V and 200 m of 12.1 Ω/km (IEC 60228) 0.0484 V: 18.9516 V are
// left of 24 V, + on the common; with the least of 22 V and 22 mA, 22 − 5.5 − 0.05324.
func TestSupplyBelowCommon(t *testing.T) {
	t.Parallel()
	p, codes := modeltest.BelowPlant(), codesOf(modeltest.BelowText())
	if codes != "" {
		t.Fatal("found", codes)
	}
	c := p.Loops[0].Circuits[0]
	r, ok := compute.ReadingsOf(p, c)
	if !ok || len(r.Missing) > 0 {
		t.Fatal(r.Missing)
	}
	i := slices.Index(r.States, "20 mA")
	modeltest.Within(t, r.Rows[0].Where(), r.Rows[0].Values[i].Value, 18.9516, 1e-4)
	if row := r.Rows[0]; row.A.Role != '+' || row.B.Role != '-' {
		t.Error("the meter is turned")
	}
	modeltest.Within(t, "least", compute.Margins(p, c)[1].Actual, 16.44676, 1e-4)
	s := c.Supply()
	if s.Supply.Text != "−24 V DC" || s.Terminals[0].Name != "0V" || s.Terminals[1].Name != "-24V" {
		t.Error(s.Supply.Text, s.Terminals[0].Name, s.Terminals[1].Name)
	}
}

func TestSupplyBelowCommonChecked(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		name        string
		words       []string
		ColourCodes string
	}{
		{"turned", []string{"X5 1]", "X5 2]", "X5 2]", "X5 1]"}, "reversed-polarity"},
		{"named", []string{"least volts", "terminals: COM V-, least volts", "PS-N 0V", "PS-N COM", "PS-N -24V", "PS-N V-"}, ""},
		{"too little left", []string{"250 ohm", "600 ohm"}, "low-voltage"},
		{"far too little", []string{"250 ohm", "60 kohm"}, "low-voltage"},
		{"from +24 V, back on the common of −24 V", []string{"X5 1]", "X5 3]", "X5 2]", "X5 1]"}, ""},
		{"the same, nothing earthed", []string{"earthed pole: negative", "earthed pole: none", "X5 1]", "X5 3]", "X5 2]", "X5 1]"}, "split-supplies"},
		{"nothing but returns", []string{"X5 1]", "X5 4]", "X5 2]", "X5 1]"}, "no-source"},
		{"AC below nothing", []string{"-24 V DC", "-24 V AC"}, "number-out-of-range"},
		{"no sign in the least", []string{"22 V", "-22 V"}, "number-out-of-range"},
		{"strong", []string{"-24 V DC", "-200 V DC", "-24V", "-200V"}, ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			codes := codesOf(modeltest.BelowText(x.words...))
			if x.ColourCodes == "" && codes != "" || !strings.Contains(codes, x.ColourCodes) {
				t.Errorf("found %q, not %q", codes, x.ColourCodes)
			}
		})
	}
}
