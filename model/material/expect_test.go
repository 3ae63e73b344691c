package material

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/compute"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestInsulation: the voltage and limit of each cable's insulation test are those
// of what it carries: IEC 60364-6 table 6A has 250 V and 0.5 MΩ for extra-low
// voltage, 500 V and 1 MΩ above it, and IEC 61140 draws the line at 50 V AC and
// 120 V DC (all from memory).
func TestInsulation(t *testing.T) {
	t.Parallel()
	const plant = `
plant: P
cable types: {three: {cores: 3, conductor: 1.5 mm2, screen: none, insulation: 20 Mohm km}}
cabinets:
  MC:
    strips: {X: {terminals: [L, N, E]}}
    supplies: {S: {volts: VOLTS, terminals: TERMINALS}}
cables: {W: {type: three, from: A, to: MC, length: LENGTH}}
loops:
  L:
    service: supply
    devices: {A: {kind: four-wire transmitter, terminals: + - L N PE}}
    circuits: {A: [A L N PE, W, MC/X L N E]}
`
	for _, x := range []struct {
		volts, length, practice string
		want, megohm            float64
		byLength                bool
	}{
		{"230 V AC", "100 km", "", 500, 1, false},
		{"230 V AC", "10 km", "", 500, 2, true}, // 20 MΩ·km over 10 km
		{"50 V AC", "100 km", "", 250, 0.5, false},
		{"51 V AC", "100 km", "", 500, 1, false},
		{"120 V DC", "100 km", "", 250, 0.5, false},
		{"125 V DC", "100 km", "", 500, 1, false},
		{"230 V AC", "100 km", "practice: {mains insulation volts: 1000 V, mains insulation limit: 3 Mohm}", 1000, 3, false},
		{"230 V AC", "100 km", "practice: {insulation volts: 0 V}", 500, 1, false},
		{"230 V AC", "100 km", "practice: {mains insulation volts: 0 V}", 0, 0, false},
		{"24 V DC", "100 km", "practice: {insulation volts: 0 V}", 0, 0, false},
	} {
		terminals, feeds := "L N PE", "    feeds: [S L to X L BN, S N to X N BU, S PE to X E]\ncables:"
		if strings.HasSuffix(x.volts, "DC") {
			terminals, feeds = "P M", "    feeds: [S P to X L, S M to X N]\ncables:"
		}
		text := strings.NewReplacer("VOLTS", x.volts, "LENGTH", x.length, "TERMINALS", terminals, "cables:", feeds).Replace(plant) + x.practice
		p, _, ps := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if ps.Errors() > 0 {
			t.Fatal(ps)
		}
		volts, megohm, byLength := compute.InsulationTest(p, p.Cable("W"))
		if volts != x.want || !modeltest.Near(megohm, x.megohm, 1e-9) || byLength != x.byLength {
			t.Errorf("%s, %s, %q: %g V, %g MΩ, %v; want %g, %g, %v", x.volts, x.length, x.practice, volts, megohm, byLength, x.want, x.megohm, x.byLength)
		}
		m := material(p, Scope{Loops: p.Loops})
		test := mainsTest
		if x.want == 250 {
			test = insulationTest
		}
		if n := itemOf(m, tests, test).N; (n == 3) != (x.want > 0) {
			t.Errorf("%s, %q: %v tests of insulation", x.volts, x.practice, n)
		}
	}
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	for _, c := range p.Cables {
		if c.Mains(p) != (c.Tag == "W-2302" || c.Tag == "W-2326") {
			t.Errorf("%s carries mains: %v", c.Tag, c.Mains(p))
		}
	}
}
