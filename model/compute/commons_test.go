package compute

import (
	"slices"
	"strings"
	"testing"

	"ringout/model/modeltest"
)

// TestCommons: 4.8 kΩ of an input take 24 V less what 2 cores of 70 m of 0.75 mm² drop, 24.5
// Ω/km (IEC 60228): 24·4800/(4800 + 3.43) V (Ohm's law, by hand). Where the group shares its
// +, the input reads the same way round, and the contact stands in the - leg.
func TestCommons(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct {
		metres float64
		where  string
		open   float64
		others []string
	}{
		"LSH-1301": {70, "DI-1 1 C1", 24, []string{"P-1302", "Z-1401", "L-1402"}},
		"PSL-1302": {75, "DI-1 2 C1", 24, []string{"L-1301", "Z-1401", "L-1402"}},
		"ZS-1303":  {40, "DI-1 C2 9", -24, nil},
	} {
		p, c := coldStore(t, name)
		r, ok := ReadingsOf(p, c)
		if !ok || len(r.Missing) > 0 || len(r.Rows) != 3 {
			t.Fatalf("%s: %+v", name, r)
		}
		last := r.Rows[2]
		if last.Where() != x.where {
			t.Errorf("%s: read at %s, not %s", name, last.Where(), x.where)
		}
		ohms := 2 * 0.0245 * x.metres
		modeltest.Within(t, name+": closed", last.Values[1].Value, 24*4800/(4800+ohms), 0.001)
		modeltest.Within(t, name+": open", last.Values[0].Value, 0, 1e-9)
		modeltest.Within(t, name+": across the open contact", r.Rows[0].Values[0].Value, x.open, 1e-9)
		if got := SharesCommon(p, c); !slices.Equal(got, x.others) {
			t.Errorf("%s shares its common with %q, not %q", name, got, x.others)
		}
		rows, missing := FaultGuide(p, c)
		tells := "no other loop has it: this one alone"
		if len(x.others) > 0 {
			tells = "these loops go too: " + strings.Join(x.others, ", ")
		}
		if len(missing) > 0 || rows[len(rows)-1].Remark != tells {
			t.Errorf("%s: %+v, missing %q", name, rows[len(rows)-1], missing)
		}
		for _, m := range Margins(p, c) {
			if !m.OK() {
				t.Errorf("%s: %+v", name, m)
			}
		}
	}
}
