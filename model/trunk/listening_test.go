package trunk_test

import (
	"fmt"
	"strings"
	"testing"

	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/modeltest"
)

// multidrop is a line with so many devices in one box: a supply of 24 V behind so many ohms,
// so many metres of a cable of 36.8 Ω/km a core and 100 pF/m, and devices of 68 nF each.
func multidrop(devices int, ohms, metres, liftOff float64) string {
	var all, circuits strings.Builder
	for i := range devices {
		fmt.Fprintf(&all, "      LT-%d: {kind: multidrop device, in: JB-1, capacitance: 68 nF, lift-off: %v V, address: %d}\n", i+1, liftOff, i+1)
		fmt.Fprintf(&circuits, "      LT-%d: [LT-%d, wires, JB-1/X1 %d %d]\n", i+1, i+1, 2*i+3, 2*i+4)
	}
	return fmt.Sprintf(`
practice: {supply tolerance: 0 %%, hottest copper: 20 °C, copper on test: 20 °C}
cable types: {drop: {pairs: 1, conductor: 0.5 mm2, ohms: 36.8 ohm/km, screen: none, capacitance: 100 pF/m}}
boxes:
  JB-1:
    strips: {X1: {terminals: 1..%d, jumpers: [1..%[1]d step 2, 2..%[1]d step 2]}}
cabinets:
  MC-1: {supplies: {PS-1: {volts: 24 V DC, limit: 100 mA, ohms: %v ohm}}}
cables: {W-1: {type: drop, from: JB-1, to: MC-1, length: %v m}}
segments:
  S-1:
    kind: multidrop line
    service: test
    devices:
%s    circuits:
      trunk: [JB-1/X1 1 2, W-1, PS-1 + -]
%s`, 2*devices+2, ohms, metres, &all, &circuits)
}

// limits are the margins of a line of which nothing is missing, by their kind.
func limits(t *testing.T, text string) map[string][]compute.Margin {
	t.Helper()
	p, pair := plant(t, text)
	all := map[string][]compute.Margin{}
	for _, m := range pair.Limits(p) {
		if len(m.Missing) > 0 {
			t.Errorf("%s: not given: %v", m.What, m.Missing)
		}
		all[m.Code.Code] = append(all[m.Code.Code], m)
	}
	return all
}

// TestMultidropVolts: 24 V behind 250 Ω, devices fixed at 4 mA each: 19 V are left of 5, 14 V
// of 10 and 9 V of 15 (U - n·4 mA·R, worked by hand), with next to no copper.
func TestMultidropVolts(t *testing.T) {
	t.Parallel()
	for devices, want := range map[int]float64{5: 19, 10: 14, 15: 9} {
		for _, m := range limits(t, multidrop(devices, 250, 0.001, 8))[finding.LowVoltage.Code] {
			modeltest.Within(t, fmt.Sprintf("%d devices: %s", devices, m.What), m.Actual, want, 1e-3)
		}
	}
}

// TestMultidropLoads: the most ohms for so many devices by the table of a level meter's
// manual, which needs 8 V of 24 V. It rounds down: one ohm more leaves too little.
func TestMultidropLoads(t *testing.T) {
	t.Parallel()
	for devices, ohms := range map[int]float64{7: 571, 8: 500, 9: 444, 10: 400, 11: 363, 12: 333, 13: 307, 14: 285, 15: 266} {
		for more, ok := range map[float64]bool{0: true, 1: false} {
			for _, m := range limits(t, multidrop(devices, ohms+more, 0.0001, 8))[finding.LowVoltage.Code] {
				if m.Actual += 1e-4; m.OK() != ok { // what a tenth of a millimetre of copper takes
					t.Errorf("%d devices, %v Ω: %s is %v V", devices, ohms+more, m.What, m.Actual)
				}
			}
		}
	}
}

// TestMultidropTime: (R + r·L)·(C + c·L) of a maker's manual: 250 Ω, 73.6 Ω/km both cores,
// 100 pF/m, 68 nF a device: 20.07 µs with one device at 100 m; 65 µs, its limit, with one at
// 1229 m and with three at 330 m (the quadratic solved by hand).
func TestMultidropTime(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		devices        int
		metres, wanted float64
	}{{1, 100, 20.07}, {1, 1229, 65}, {3, 330, 65}} {
		all := limits(t, multidrop(x.devices, 250, x.metres, 8))
		for _, m := range all[finding.SlowHART.Code] {
			modeltest.Within(t, fmt.Sprintf("%d devices, %v m", x.devices, x.metres), m.Actual, x.wanted, 0.05)
		}
		for _, m := range all[finding.WrongHARTLoad.Code] {
			modeltest.Within(t, "load", m.Actual, 250+73.6*x.metres/1000, 1e-9)
		}
		if len(all[finding.SlowHART.Code]) != 1 || len(all[finding.WrongHARTLoad.Code]) != 2 {
			t.Errorf("%d devices: %v", x.devices, all)
		}
	}
}
