package trunk_test

import (
	"fmt"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/trunk"
)

// coupled is a bus of one coupler 500 m from its supply, with eight devices of 20 mA on
// spurs of 60 m.
func coupled(coupler string) string {
	var devices, circuits, cables, spurs strings.Builder
	for i := 1; i <= 8; i++ {
		fmt.Fprintf(&devices, "      LT-%d: {kind: bus device, draws: 20 mA}\n", i)
		fmt.Fprintf(&circuits, "      LT-%d: [LT-%d + -, W-1%d, JB-1/X1 %d %d]\n", i, i, i, 2*i+3, 2*i+4)
		fmt.Fprintf(&cables, "  W-1%d: {type: bus, from: LT-%d, to: JB-1, length: 60 m}\n", i, i)
		fmt.Fprintf(&spurs, "%d..%d, ", 2*i+3, 2*i+4)
	}
	return fmt.Sprintf(`
practice: {segment reserve: 9 mA, supply tolerance: 0 %%}
cable types: {bus: {pairs: 1, conductor: 0.8 mm2, ohms: 22 ohm/km, screen: none, bus type: A}}
boxes:
  JB-1:
    couplers: {X1: {kind: spur protector, terminals: 1..20, marks: + -, spurs: [%s]%s}}
cabinets:
  MC-1: {supplies: {PS-1: {volts: 28 V DC, limit: 190 mA}}}
cables:
  W-1: {type: bus, from: JB-1, to: MC-1, length: 500 m}
%ssegments:
  S-1:
    kind: powered bus
    service: test
    terminators: [PS-1, JB-1/X1]
    devices:
%s    circuits:
      trunk: [JB-1/X1 1 2, W-1, PS-1 + -]
%s`, spurs.String(), coupler, &cables, &devices, &circuits)
}

// TestCoupler: worked by hand. Trunk 500 m and spur 60 m of 44 Ω/km, both cores: 169 mA
// lose 3.718 V in 22 Ω, 20 mA lose 0.053 V in 2.64 Ω. With one spur short at 50 mA 199 mA
// flow in the trunk, and lose 4.378 V.
func TestCoupler(t *testing.T) {
	t.Parallel()
	p, pair := plant(t, coupled(", limit: 50 mA"))
	j := pair.JointOf(p.Loops[0].Devices[0])
	c := trunk.Case{Supply: model.Least, Celsius: 20, Extra: 9}
	box, _ := pair.Volts(p, j.From, c)
	at, lacks := pair.Volts(p, j, c)
	modeltest.Within(t, "box", box, 24.28, 0.005)
	modeltest.Within(t, "device, with 9 mA more in its spur", at, 24.28-2.64*0.029, 0.005)
	if fmt.Sprint(lacks) != "[draws of JB-1/X1 drop of JB-1/X1]" {
		t.Errorf("lacks %q", lacks)
	}
	if part, n := j.Outlet(); part != p.Part("JB-1/X1") || n != 1 {
		t.Errorf("LT-1 is on spur %d of %v", n, part)
	}
	c.Short = pair.JointOf(p.Loops[0].Devices[7])
	box, _ = pair.Volts(p, j.From, c)
	modeltest.Within(t, "box, a spur short", box, 23.62, 0.005)

	p, pair = plant(t, coupled(", limit: 50 mA, drop: 1.5 V, draws: 4 mA"))
	limits := map[string]string{}
	for _, m := range pair.Limits(p) {
		if len(m.Missing) > 0 {
			t.Errorf("%s: %q", m.What, m.Missing)
		}
		limits[m.What] = fmt.Sprintf("%.2f %g %v", m.Actual, m.Limit, m.OK())
	}
	for what, want := range map[string]string{
		"current of spur to LT-1":                        "20.00 50 true",
		"current of segment S-1":                         "173.00 190 true",
		"current while spur 1 of JB-1/X1 is short":       "203.00 190 false",
		"least voltage while spur 1 of JB-1/X1 is short": fmt.Sprintf("%.2f 9 true", 28-22*0.203-1.5-2.64*0.029),
	} {
		if limits[what] != want {
			t.Errorf("%s: %q, not %q", what, limits[what], want)
		}
	}
}
