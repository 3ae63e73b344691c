package read_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestVariables: what a device tells besides its current is read item by item, and what
// cannot be read is told where it stands.
func TestVariables(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ variables, want string }{
		{"[SV tube temperature -20..80 °C to TI-9, TV total to FQ-9, QV]", "SV|tube temperature|-20..80 °C|TI-9 TV|total||FQ-9 QV|||"},
		{"SV density 0.9..1.3 kg/l", "SV|density|0.9..1.3 kg/l|"},
		{"[SV from zero to full to TI-9]", "SV|from zero to full||TI-9"}, // only the last `to` is before a tag
		{"[PV flow]", "plant.yaml:5:64: a variable must begin with SV, TV or QV, not \"PV\""},
		{"[SV a, SV b]", "plant.yaml:5:70: FT-9 has its SV twice"},
		{"[SV a 0..x °C]", "plant.yaml:5:69: range of SV must be two numbers and a unit, not \"0..x °C\""},
		{"[SV a 5..5 °C]", "plant.yaml:5:69: range of SV has zero span (5 to 5)"},
		{"[SV a to FT-9]", "plant.yaml:5:64: tag of SV is described twice"},
		{"[SV a to TI-9, TV b to TI-9]", "plant.yaml:5:78: tag of TV is described twice"},
	} {
		text := "plant: x\nloops:\n  F-9:\n    service: x\n    devices: {FT-9: {kind: transmitter, HART: yes, variables: " + x.variables + "}}\n"
		p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
		var got []string
		for _, f := range found {
			got = append(got, f.Pos.String()+": "+f.Text)
		}
		if len(found) == 0 {
			for _, v := range p.PartByTag["FT-9"].Device.Variables {
				got = append(got, strings.Join([]string{v.Name, v.Words, v.Range.Text, v.Tag}, "|"))
			}
		}
		if s := strings.Join(got, " "); s != x.want {
			t.Errorf("%s: %s, not %s", x.variables, s, x.want)
		}
	}
}
