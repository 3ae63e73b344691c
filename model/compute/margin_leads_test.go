package compute

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
	"ringout/model/sensor"
)

// TestSlope: on every sensor the slope is that of its table, 1 °C apart, within 2 %.
func TestSlope(t *testing.T) {
	t.Parallel()
	for _, name := range sensor.Names() {
		s, _ := sensor.Named(name)
		low, high := s.Range()
		for at := math.Ceil(low) + 1; at <= high-1; at += 50 {
			a, _ := s.Value(at - 1)
			b, _ := s.Value(at + 1)
			got, ok := slope(s, at)
			if want := (b - a) / 2; !ok || math.Abs(got-want) > 0.02*math.Abs(want)+0.0005 {
				t.Errorf("%s at %g °C: %g, not %g", s.Name, at, got, want)
			}
		}
		if _, ok := slope(s, high+1); ok {
			t.Errorf("%s has a slope past its range", s.Name)
		}
	}
}

// TestOhmsAlongLeads: by hand, two cores of 1 Ω and a barrier of 20 Ω out and 15 Ω back add to
// the 100 Ω of the element at 0 °C: 102 Ω before the barrier, 137 Ω at the card, whichever
// way the circuit is walked. Of three wires like leads read both, and nothing is known of
// how alike the legs of a barrier are.
func TestOhmsAlongLeads(t *testing.T) {
	t.Parallel()
	const plant = `
plant: Warm
cable types: {k: {cores: %d, conductor: 1.0 mm2, ohms: 10 ohm/km, colours: [%s], screen: none}}
cables: {W-1: {type: k, from: TE-1, to: C-1, length: 100 m}}
cabinets:
  C-1:
    earths: {IE: earth}
    strips: {X1: {terminals: 1..6}}
    barriers: {Z-1: {terminals: %s, earth: IE, ohms: 20 ohm, return ohms: 15 ohm, working volts: 6 V}}
    cards: {T: {kind: RTD, wires: %d, channels: 1}}
loops: {L: {service: warm, devices: {TE-1: {kind: RTD %d-wire, simple apparatus: yes, class: B, sensor: Pt100, range: 0..100 °C}}, circuits: {TE-1: [%s]}}}
`
	read := func(text string) (map[string]float64, *model.Plant) {
		p, _, ps := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if ps.Errors() > 0 {
			t.Fatal(ps, text)
		}
		r, _ := ReadingsOf(p, p.Loops[0].Circuits[0])
		got := map[string]float64{}
		for _, row := range r.Rows {
			got[row.Where()] = row.Values[0].Value
		}
		if len(r.Missing) > 0 {
			t.Fatal(r.Missing)
		}
		return got, p
	}
	for _, walk := range []string{"TE-1, W-1, X1 1 2, wires, Z-1 1 2, wires, T channel 1", "T channel 1, wires, Z-1 3 4, wires, X1 1 2, W-1, TE-1"} {
		got, p := read(fmt.Sprintf(plant, 2, "BK, WH", "1 2 3 4", 2, 2, strings.ReplaceAll(walk, "X1", "C-1/X1")))
		for where, want := range map[string]float64{"TE-1 1 2": 100, "C-1/X1 1 2": 102, "Z-1 1 2": 102, "T 1A 1B": 137} {
			modeltest.Within(t, walk+": "+where, got[where], want, 1e-9)
		}
		m := Margins(p, p.Loops[0].Circuits[0])
		if len(m) != 1 || len(m[0].Missing) > 0 {
			t.Fatalf("%+v", m)
		}
		modeltest.Within(t, "error", m[0].Actual, 37/(0.39083-2*5.775e-5*100), 0.1) // at 100 °C, where class B leaves least
	}
	for _, walk := range []string{"TE-1, W-1, Z-1 1 2 3, wires, T channel 1", "T channel 1, wires, Z-1 4 5 6, W-1, TE-1"} {
		got, p := read(fmt.Sprintf(plant, 3, "BK, WH, RD", "1 2 3 4 5 6", 3, 3, walk))
		for where, want := range map[string]float64{"TE-1 1 2": 100, "Z-1 1 2": 102, "Z-1 2 3": 2, "T 1A 1B1": 137, "T 1B1 1B2": 32} {
			modeltest.Within(t, walk+": "+where, got[where], want, 1e-9)
		}
		if m := Margins(p, p.Loops[0].Circuits[0]); len(m) != 1 || !strings.HasPrefix(strings.Join(m[0].Missing, ""), "how alike the legs through the barrier are") {
			t.Errorf("%+v", m)
		}
	}
}
