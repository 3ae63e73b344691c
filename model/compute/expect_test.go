package compute

import (
	"testing"

	"ringout/model"
	"ringout/model/copper"
	"ringout/model/modeltest"
)

// TestRunOhms: loop ohms of a pair with the far end linked, 2·L·r. Ω/km are
// the maxima of IEC 60228 table 2 (class 2, plain); the sums are by hand.
func TestRunOhms(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		size    string
		ohms    float64 // of the data sheet
		metres  float64
		cores   int
		celsius float64
		want    float64
		ok      bool
	}{
		{"1.5 mm2", 0, 300, 2, 20, 7.26, true},   // 2 x 0.3 km x 12.1
		{"1.5 mm2", 0, 20, 2, 20, 0.484, true},   // 2 x 0.02 km x 12.1
		{"0.75 mm2", 0, 165, 2, 20, 8.085, true}, // 2 x 0.165 km x 24.5
		{"1.0 mm2", 0, 1000, 1, 20, 18.1, true},  // one core
		// IEC 60228 prints 0.926 as the factor from 40 °C back to 20 °C; the
		// rule of IEC 60028 in OhmsAt differs from it in the last digit.
		{"1.0 mm2", 0, 1000, 1, 40, 18.1 / 0.926, true},
		{"1.0 mm2", 20, 500, 2, 20, 20, true}, // the data sheet comes first
		{"0.9 mm2", 0, 500, 2, 20, 0, false},  // not a size of the table
		{"1.0 mm2", 0, 0, 2, 20, 0, false},    // no length
	} {
		size, err := copper.Parse(c.size)
		if err != nil {
			t.Fatal(err)
		}
		cable := &model.Cable{Type: &model.CableType{Copper: size, Ohms: c.ohms}, Length: c.metres}
		run := &model.Run{Kind: model.CableRun, Cable: cable, Cores: make([]*model.Core, c.cores)}
		got, ok := Ohms(run, c.celsius)
		if ok != c.ok || ok && !modeltest.Near(got, c.want, c.want*0.0015) {
			t.Errorf("%s, %g m, %d cores at %g °C: %g %v, want %g %v", c.size, c.metres, c.cores, c.celsius, got, ok, c.want, c.ok)
		}
	}
	if _, ok := Ohms((&model.Run{Kind: model.WireRun}), 20); ok {
		t.Error("a wire has no computed ohms")
	}
}

// TestRangeAt: linear scaling, oracles published with the Kuphaldt text and on
// the ISA blog.
func TestRangeAt(t *testing.T) {
	t.Parallel()
	mA := Output((&model.Device{}))
	for _, c := range []struct {
		r         model.Range
		value, mA float64
	}{
		{model.Range{Low: 150, High: 400}, 253.125, 10.6},
		{model.Range{Low: -88, High: 145}, 41, 12.8584},
		{model.Range{Low: 3, High: 11}, 9.32, 16.64},
		{model.Range{Low: 50, High: 250}, 150, 12},
	} {
		p, ok := c.r.Percent(c.value)
		if got := mA.At(p); !ok || !modeltest.Near(got, c.mA, 0.0001) {
			t.Errorf("%g in %v: %g mA, want %g", c.value, c.r, got, c.mA)
		}
		if got := c.r.At(p); !modeltest.Near(got, c.value, 1e-9) {
			t.Errorf("%g in %v comes back as %g", c.value, c.r, got)
		}
	}
	if _, ok := (model.Range{Low: 1, High: 1}).Percent(1); ok {
		t.Error("an empty range has no per cent")
	}
}

// TestShown: flow goes with the root of differential pressure: a quarter of the
// signal is half the flow.
func TestShown(t *testing.T) {
	t.Parallel()
	root, line := &model.Device{SquareRootIn: model.SystemRoot}, &model.Device{SquareRootIn: model.TransmitterRoot}
	for _, c := range []struct{ signal, root float64 }{{0, 0}, {1, 10}, {25, 50}, {50, 70.7107}, {75, 86.6025}, {100, 100}} {
		if got := DisplayedPercent(root, c.signal); !modeltest.Near(got, c.root, 0.0001) {
			t.Errorf("%g %% of signal shows %g, want %g", c.signal, got, c.root)
		}
		if got := SignalFor(root, DisplayedPercent(root, c.signal)); !modeltest.Near(got, c.signal, 1e-9) {
			t.Errorf("%g %% of signal comes back as %g", c.signal, got)
		}
		if got := DisplayedPercent(line, c.signal); got != c.signal {
			t.Errorf("the root is taken twice: %g", got)
		}
	}
}
