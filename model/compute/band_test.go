package compute

import (
	"math"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/modeltest"
)

// TestBandWords: 0.1 V, 0.01 V where the band is narrower, one figure for a point, zeros
// at the end (as a meter shows them: by hand).
func TestBandWords(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		b          Band
		unit, want string
	}{
		{Band{24, 22.8, 25.2}, "V", "22.8..25.2"},
		{Band{24, 23, 25}, "V", "23.0..25.0"},
		{Band{120, 114, 126}, "V AC", "114.0..126.0"},
		{Exactly(3), "V", "3.00"},
		{Band{2.05, 2.04, 2.06}, "V", "2.04..2.06"},
		{Band{2.05, 2.0499, 2.0501}, "V", "2.05"},
		{Band{0, -0.001, 0}, "V", "0.00"},
		{Band{24, 22.8, 25.2}.Reversed(), "V", "−25.2..−22.8"},
		{Band{-24, -25.2, -22.8}.upright(), "V", "22.8..25.2"},
		{Exactly(138.5), "Ω", "138.50"},
		{Exactly(-0.392), "mV", "−0.392"},
		{Exactly(math.NaN()), "V", "–"},
	} {
		if got := x.b.Words(x.unit); got != x.want {
			t.Errorf("%v %s reads %q, not %q", x.b, x.unit, got, x.want)
		}
	}
}

// TestBandByHand: 12 mA through 250 Ω of the card and 2 × 320 m × 12.1 Ω/km of copper,
// 7.744 Ω at 20 °C. At 70 °C it has 1 + 50 × 0.00393 times that, 9.266 Ω (IEC 60228
// annex). A card of 24 V ± 5 % leaves 22.8 − 12 mA × 259.266 Ω = 19.689 V at the least,
// 25.2 − 12 mA × 257.744 Ω = 22.107 V at the most; at the card nothing but its volts counts.
func TestBandByHand(t *testing.T) {
	t.Parallel()
	loop := modeltest.OneLoop{Card: modeltest.PoweredCard, Device: "{kind: transmitter}", Metres: 20, HomeMetres: 300, Walk: "C channel 1"}
	p, c := loop.Read(t)
	p.Practice.HotCopper = model.Temperature{Celsius: 70, Unit: "°C"}
	p.Practice.TestCurrents = []float64{12}
	r, _ := ReadingsOf(p, c)
	device, card := r.Rows[0].Values[0], r.Rows[len(r.Rows)-1].Values[0]
	modeltest.Within(t, "device, least", device.Low, 19.689, 0.002)
	modeltest.Within(t, "device", device.Value, 20.907, 0.001)
	modeltest.Within(t, "device, most", device.High, 22.107, 0.002)
	modeltest.Within(t, "card, least", card.Low, 22.8-3, 1e-6)
	modeltest.Within(t, "card, most", card.High, 25.2-3, 1e-6)
	if !strings.Contains(r.Method, "±5 %") || !strings.Contains(r.Method, "20 °C and 70 °C") {
		t.Errorf("method %q", r.Method)
	}

	// Volts across a resistor that the current goes through have no band, and are fine.
	open, _, _ := OpenVolts(p, c)
	if got := open.Words("V"); got != "22.8..25.2" {
		t.Errorf("lifted %s", got)
	}
	p, _ = modeltest.Changed(t, "fourwire.yaml")
	input, ok := InputVolts(p, p.Loops[0].Circuits[0], 12)
	if got := input.Words("V"); !ok || got != "3.00" {
		t.Errorf("250 Ω at 12 mA: %s", got)
	}

	// 120 V AC, 108 V at its least as given, 126 V by the tolerance.
	p, _ = modeltest.Changed(t, "ac.yaml")
	open, _, _ = OpenVolts(p, p.Loops[0].Circuits[0])
	if got := open.Words("V AC"); got != "108.0..126.0" {
		t.Errorf("AC lifted %s", got)
	}
	r, _ = ReadingsOf(p, p.Loops[0].Circuits[0])
	on := r.Rows[0].Values[1]
	modeltest.Within(t, "coil on, least", on.Low, 118.64*108/120, 0.005)
	modeltest.Within(t, "coil on, most", on.High, 118.64*1.05, 0.005)
}

// TestBandProperties: in every sample plant of the tests a band holds its nominal,
// with no tolerance, nothing given and one temperature it is a point, and a larger
// tolerance or a warmer copper never narrows it.
func TestBandProperties(t *testing.T) {
	t.Parallel()
	for _, file := range []string{"ac.yaml", "common.yaml", "fourwire.yaml"} {
		p, _ := modeltest.Changed(t, file)
		each := func(tolerance, hot float64) (all []Band) {
			p.Practice.Tolerance = tolerance
			p.Practice.HotCopper, p.Practice.TestCopper = model.Temperature{Celsius: hot, Unit: "°C"}, model.Temperature{Celsius: 20, Unit: "°C"}
			for _, l := range p.Loops {
				for _, c := range l.Circuits {
					r, _ := ReadingsOf(p, c)
					for _, row := range r.Rows {
						all = append(all, row.Values...)
					}
				}
			}
			return all
		}
		for _, pl := range p.Places {
			for _, s := range p.Supplies(pl) {
				s.Supply.MinVolts, s.Supply.Highest = 0, 0
			}
		}
		point, five, ten, warm := each(0, 20), each(5, 20), each(10, 20), each(5, 70)
		if len(point) == 0 {
			t.Fatalf("%s: no readings", file)
		}
		wider := 0
		for i := range point {
			if point[i].High-point[i].Low > 1e-9 || strings.Contains(point[i].Words("V"), "../..") {
				t.Errorf("%s: %v is no point", file, point[i])
			}
			for _, x := range [][2]Band{{point[i], five[i]}, {five[i], ten[i]}, {five[i], warm[i]}} {
				a, b := x[0], x[1]
				if b.Low > a.Low+1e-9 || b.High < a.High-1e-9 || b.Low > b.Value || b.High < b.Value || math.Abs(a.Value-b.Value) > 1e-9 {
					t.Errorf("%s: %v became %v", file, a, b)
				}
				if b.High-b.Low > a.High-a.Low+1e-6 {
					wider++
				}
			}
		}
		if wider == 0 {
			t.Errorf("%s: nothing is wider", file)
		}
	}
}
