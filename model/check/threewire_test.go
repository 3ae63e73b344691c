package check

import (
	"strings"
	"testing"

	"ringout/model/compute"
	"ringout/model/modeltest"
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
