package compute

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// coldStore is the sample with some words changed, in pairs of old and new, and the circuit
// of a name.
func coldStore(t *testing.T, name string, change ...string) (*model.Plant, *model.Circuit) {
	t.Helper()
	text, err := os.ReadFile("../../samples/cold-store/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for i := 0; i < len(change); i += 2 {
		if !strings.Contains(s, change[i]) {
			t.Fatalf("the sample does not say %q", change[i])
		}
		s = strings.Replace(s, change[i], change[i+1], 1)
	}
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(s)}}, "plant.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if c.Name == name {
				return p, c
			}
		}
	}
	t.Fatalf("no circuit %s", name)
	return nil, nil
}

// TestThreeWireTransmitter: 300 m of 1.5 mm² have 3.63 Ω a core (12.1 Ω/km, IEC 60228);
// 150 mA of supply drop 0.545 V in one, with 20 mA of signal 0.617 V (R·(Is + I), by hand).
// Which core carries the signal too follows from where the current enters and leaves the
// device: + of a sourcing one, - of a sinking one.
func TestThreeWireTransmitter(t *testing.T) {
	t.Parallel()
	sinks := []string{"draws: 150 mA", "output: sinking, draws: 150 mA", "Q: [wires WH, AI-1 channel 1]", "Q: [wires WH, AI-2 channel 2 ->+, wires RD, MC-1/X5 F4]"}
	for name, change := range map[string][]string{"sourcing": nil, "sinking": sinks} {
		p, c := coldStore(t, "AT-1101", change...)
		d := c.Device()
		plus, minus := TerminalsOf(c, d)
		panel := func(end *model.Terminal) *model.Terminal {
			for _, l := range c.Legs {
				if l.Begin() == end {
					return l.End()
				}
			}
			return nil
		}
		for mA, want := range map[float64]float64{0: 0.5445, 20: 0.6171} {
			s := compute(p, c, state{mA: mA})
			up, ok1 := s.across(panel(plus), plus)
			down, ok2 := s.across(minus, panel(minus))
			if !ok1 || !ok2 {
				t.Fatal(name, s.Missing)
			}
			both, own := up, down
			if name == "sinking" {
				both, own = down, up
			}
			modeltest.Within(t, fmt.Sprintf("%s at %g mA: the core that carries supply and signal", name, mA), both, want, 0.0005)
			modeltest.Within(t, fmt.Sprintf("%s at %g mA: the common", name, mA), own, 0.5445, 0.0005)
			modeltest.Within(t, fmt.Sprintf("%s at %g mA: what the supply gives", name, mA), s.drawn, 150+mA, 1e-6)
			if in, ok := s.receiver(); !ok || !modeltest.Near(in, mA, 1e-6) {
				t.Errorf("%s: the input sees %g mA of %g", name, in, mA)
			}
		}
		rise, ok := CommonRise(p, c)
		if !ok || len(rise.Missing) > 0 {
			t.Fatalf("%s: rise %+v", name, rise)
		}
		modeltest.Within(t, name+": rise of the common", rise.Volts.Value, 0.5445, 0.0005)
	}
}

// TestOutputRoom: with 22.8 V at the least, 172 mA in + and 150 mA in - over 3.63 Ω leave
// 22.8 - 1.169 V; the output has those less 22 mA in 250 Ω and 3.63 Ω, and what its common
// has risen, 0.545 V (by hand).
func TestOutputRoom(t *testing.T) {
	t.Parallel()
	p, c := coldStore(t, "AT-1101")
	all := Margins(p, c)
	if len(all) != 2 || all[0].Code != finding.LowVoltage || !all[0].OK() || !all[1].OK() {
		t.Fatalf("%+v", all)
	}
	modeltest.Within(t, "at the device", all[0].Actual, 22.8-0.172*3.63-0.150*3.63, 0.001)
	modeltest.Within(t, "left for its output", all[1].Actual, 22.8-0.172*3.63-0.022*(250+3.63), 0.001)
	p, c = coldStore(t, "AT-1101", ", drop: 4 V", "", "lift-off: 16 V, ", "")
	if all := Margins(p, c); len(all) != 2 || strings.Join(all[0].Missing, "") != "lift-off of AT-1101" || strings.Join(all[1].Missing, "") != "drop of AT-1101" {
		t.Errorf("nothing given: %+v", all)
	}
	p, c = coldStore(t, "AT-1101", "drop: 4 V", "drop: 17 V")
	if all := Margins(p, c); all[1].OK() {
		t.Errorf("17 V are not left: %+v", all[1])
	}
}

// constantPower is a device of so many watts that needs 12 V, on a supply of so many volts,
// over a cable of so many Ω/km and core.
func constantPower(t *testing.T, watts, supply, perKm float64) (*model.Plant, *model.Circuit) {
	t.Helper()
	text := fmt.Sprintf(`
plant: P
number: N
practice: {copper on test: 20 °C, hottest copper: 20 °C}
cable types: {two: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none, ohms: %g ohm/km}}
cabinets:
  MC:
    strips: {X: {terminals: [F1 fused 1 A, N1]}}
    supplies: {PS: {volts: %g V DC, least volts: %g V, highest volts: %g V}}
    feeds: [PS + to X F1, PS - to X N1]
cables: {W: {type: two, from: GT-1, to: MC, length: 800 m}}
loops:
  G-1:
    service: S
    devices: {GT-1: {kind: four-wire transmitter DC, draws: %g W, lift-off: 12 V}}
    circuits: {GT-1: [GT-1 P+ P-, W, MC/X F1 N1]}
`, perKm, supply, supply, supply, watts)
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	return p, p.Loops[0].Circuits[0]
}

// TestConstantPower: a gas detector of 2 W on at least 21 V that needs 12 V, over 800 m:
// 0.167 A, 9 V and 54 Ω out and back are the most; 0.5 mm² with 57.6 Ω fails, 1.0 mm² with
// 28.8 Ω passes (PU-Z-003-ENG R03). The same leaflet: 1 W is 40 mA at 24 V, 67 mA at 15 V,
// 100 mA at 10 V; the first is rounded down from 41.7.
func TestConstantPower(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		ohms float64
		ok   bool
	}{{57.6, false}, {54.1, false}, {53.9, true}, {28.8, true}} {
		p, c := constantPower(t, 2, 21, x.ohms/1.6)
		all := Margins(p, c)
		if len(all) != 1 || len(all[0].Missing) > 0 || all[0].OK() != x.ok {
			t.Errorf("%g Ω: %+v", x.ohms, all)
			continue
		}
		modeltest.Within(t, fmt.Sprintf("volts lost in %g Ω", x.ohms), 21-all[0].Actual, 2.0/12*x.ohms, 1e-6)
		if s := compute(p, c, state{}); s.Solved != (x.ohms < 55.125) { // beyond 21²/4/2 W no volts hold up
			t.Errorf("%g Ω: solved %v, %q", x.ohms, s.Solved, s.Missing)
		}
	}
	p, c := constantPower(t, 2, 21, 28.8/1.6)
	a, b := TerminalsOf(c, c.Device())
	v, _ := compute(p, c, state{}).across(a, b)
	modeltest.Within(t, "volts at 28.8 Ω: (21 + √(21² - 4·28.8·2))/2", v, 17.757, 0.001)
	for volts, mA := range map[float64]float64{24: 41.67, 15: 66.67, 10: 100} {
		p, c := constantPower(t, 1, volts, 0.0001)
		modeltest.Within(t, fmt.Sprintf("mA at %g V", volts), FullOn(p, c).drawn, mA, 0.01)
	}
}
