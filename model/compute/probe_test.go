package compute

import (
	"testing"

	"ringout/model"
	"ringout/model/modeltest"
)

// TestProbe: 12 mA over 60 m of 1.5 mm², 0.726 Ω a core (IEC 60228), leave the driver 24 V
// less 2 × 8.7 mV, below its common, the 1 mA that its output takes from 10 kΩ of the monitor
// coming back on that; its output stands 7.87 mV/µm below common too. At
// either end of a step of 250 µm the monitor reads 1.97 V apart. 3 mil of vibration are
// 600 mV peak to peak (200 mV/mil: Field Wiring application note).
func TestProbe(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"VT-1201", "VT-1202"} {
		p, c := coldStore(t, name)
		r, ok := ReadingsOf(p, c)
		if !ok || len(r.Missing) > 0 || len(r.Rows) < 5 || len(r.States) != 3 {
			t.Fatalf("%s: %+v", name, r)
		}
		metres := map[string]float64{"VT-1201": 60, "VT-1202": 65}[name]
		modeltest.Within(t, name+": volts of its supply", r.Rows[0].Values[0].Value, -(24 - (2*0.012-0.001)*0.0121*metres), 0.0001)
		modeltest.Within(t, name+": set gap", r.Rows[1].Values[0].Value, -10, 1e-9)
		want := map[string][2]float64{"VT-1201": {-1.9675, -17.7075}, "VT-1202": {-2, -18}}[name]
		modeltest.Within(t, name+": near end", r.Rows[1].Values[1].Value, want[0], 1e-6)
		modeltest.Within(t, name+": far end", r.Rows[1].Values[2].Value, want[1], 1e-6)
		if all := Margins(p, c); len(all) != 1 || !all[0].OK() {
			t.Errorf("%s: margins %+v", name, all)
		}
		if rows, missing := FaultGuide(p, c); len(rows) != 10 || len(missing) > 0 || rows[0].Meter != "−10.0 V from SIG to COM" || rows[4].Meter != "+22.8..25.2 V from -24V to COM" {
			t.Errorf("%s: faults %+v, missing %q", name, rows, missing)
		}
	}
	p, c := coldStore(t, "VT-1202")
	if mV, ok := PeakToPeak(c.Device().Device, 3, "mil"); !ok || !modeltest.Near(mV, 600, 1e-6) {
		t.Errorf("3 mil are %g mV", mV)
	}
	// The supply that lies below common gives what the driver draws.
	if s := FullOn(p, c); !modeltest.Near(s.drawn, 12, 1.1) || len(s.fed) != 1 || !s.fed[0].Supply.Below {
		t.Errorf("%g mA of %v", s.drawn, s.fed)
	}
	for _, lacks := range []string{"scale: 7.87 mV/um, ", "gap: -10.5..-9.5 V, ", "calibrated: 250..2250 um, ", "draws: 12 mA, "} {
		p, c = coldStore(t, "VT-1201", lacks, "")
		if r, _ := ReadingsOf(p, c); len(r.Missing) != 1 || r.Rows != nil {
			t.Errorf("without %q: missing %q", lacks, r.Missing)
		}
	}
	if c.Device().Common().Role != model.Marking('+') {
		t.Error("its common is the + of its supply")
	}
}
