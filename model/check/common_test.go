package check

import (
	"testing"

	"ringout/model/compute"
	"ringout/model/modeltest"
)

// TestCommon: with the common on the supply's -, a channel reads as one that has a
// - of its own on the same supply. By hand: 20 mA through 250 Ω are 5 V, and leave
// 24 - 5 - 2 x 35 m x 18.1 mΩ/m x 20 mA = 18.97 V at the transmitter.
func TestCommon(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "common.yaml")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	row := func(circuit, where string) []compute.Band {
		t.Helper()
		for _, l := range p.Loops {
			for _, c := range l.Circuits {
				if c.Name != circuit {
					continue
				}
				r, _ := compute.ReadingsOf(p, c)
				for _, row := range r.Rows {
					if row.Where() == where {
						return row.Values
					}
				}
			}
		}
		t.Fatalf("circuit %s has no reading at %s", circuit, where)
		return nil
	}
	modeltest.Within(t, "volts at the input, 20 mA", row("PT-401", "AI-2 1 M")[5].Value, 5, 0.001)
	modeltest.Within(t, "volts at the transmitter, 20 mA", row("PT-401", "PT-401 + -")[5].Value, 18.9747, 0.001)
	modeltest.Within(t, "volts at the input of one with its own supply", row("FT-402", "AI-2 2 M")[5].Value, 5, 0.001)
	modeltest.Within(t, "volts at the contact, open", row("LSH-403", "LSH-403 1 2")[0].Value, 24, 0.001)
	modeltest.Within(t, "volts at the contact input, closed", row("LSH-403", "DI-1 5 M")[1].Value, 24-24/(3300+2*1.086)*2*1.086, 0.001)
	modeltest.Within(t, "volts at the output, on", row("XY-404", "DO-3 2 M")[1].Value, 24, 0.001)

	card := p.Part("AI-2")
	if own := card.Channel(3); len(own) != 1 || own[0].Name != "3" {
		t.Errorf("channel 3 has %v", own)
	}
	if poles := card.MeasureAt(3); len(poles) != 2 || poles[1] != card.CommonOf(3) || card.Channel(9) != nil {
		t.Errorf("poles of channel 3 are %v, channel 9 is %v", poles, card.Channel(9))
	}
}

// TestEarthedSupplies: two supplies with their - on earth are one.
func TestEarthedSupplies(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "common.yaml", "PS-2 - to AI-2 M", "PS-3 - to AI-2 M", "    feeds:", "      PS-3: {volts: 24 V DC}\n    feeds:")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	r, _ := compute.ReadingsOf(p, p.Loops[0].Circuits[0])
	modeltest.Within(t, "volts at the input, 20 mA", r.Rows[len(r.Rows)-1].Values[5].Value, 5, 0.001)
}

func TestCommonFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change []string
		code   string
	}{
		{"no feed", []string{", PS-2 - to AI-2 M", ""}, "open-leg"},
		{"fed from another supply", []string{"PS-2 - to AI-2 M", "PS-3 - to AI-2 M", "earthed pole: negative", "earthed pole: none", "    feeds:", "      PS-3: {volts: 24 V DC}\n    feeds:"}, "split-supplies"},
		{"more than the output gives", []string{"volts: 24 V, address", "volts: 24 V, limit: 50 mA, address"}, "overloaded-output"},
		{"the wrong pole", []string{"PS-2 - to AI-2 M", "PS-2 + to AI-2 M"}, "reversed-polarity"},
		{"a channel cannot be fed", []string{"PS-2 - to AI-2 M", "PS-2 - to AI-2 1"}, "bad-feed"},
		{"landed on", []string{"AI-2 channel 1]", "AI-2 channel 1 M]"}, "unknown-terminal"},
		{"named like a channel", []string{"channels: 8, common: M, ohms", "channels: 8, common: 8, ohms"}, "terminal-twice"},
		{"of sensors", []string{"{kind: AI, power: loop, channels: 8, common: M, ohms: 250 ohm,", "{kind: RTD, channels: 8, common: M,"}, "unused-fact"},
		{"names of the channels", []string{"channels: 16, common: M", "channels: 16, terminals: [1..32], common: M"}, "terminals-mismatch"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, problems := checked(t, "common.yaml", c.change...)
			for _, pr := range problems {
				if pr.Code == c.code {
					return
				}
			}
			t.Errorf("no finding %q: %v", c.code, problems)
		})
	}
}
