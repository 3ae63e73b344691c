package compute

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestJointOhms compares the least voltage at a transmitter, behind two surge protectors
// and a plug, with Ohm's law on its own: no published example has both.
func TestJointOhms(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/skid-7/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	// W-711 4 m, W-71 15 m and W-72 240 m of 1.0 mm², 18.1 Ω/km (IEC 60228 class 2), card
	// 24 V less 5 % and 100 Ω, at 22 mA.
	const copper, supply, amps = 2 * 18.1 / 1000 * (4 + 15 + 240), 24 * 0.95, 0.022
	for _, c := range []struct {
		surge, pin string
		ohms       float64 // of both legs through protectors and pins
	}{
		{"2.2 ohm", "", 4*2.2 + 2*0.01},
		{"22 ohm", "", 4*22 + 2*0.01},
		{"2.2 ohm", ", ohms: 5 ohm", 4*2.2 + 2*5},
	} {
		changed := strings.ReplaceAll(string(text), "{ohms: 2.2 ohm", "{ohms: "+c.surge)
		changed = strings.Replace(changed, "male: field, model: 16-way circular", "male: field"+c.pin, 1)
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(changed)}}, ".")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		found := false
		for _, m := range Margins(p, p.Loops[0].Circuits[0]) {
			if strings.HasPrefix(m.What, "minimum voltage") && m.When() == " at 22 mA" {
				found = true
				modeltest.Within(t, c.surge+c.pin, m.Actual, supply-amps*(copper+100+c.ohms), 0.005)
			}
		}
		if !found {
			t.Error("no voltage at 22 mA is computed")
		}
	}
}
