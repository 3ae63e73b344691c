package model

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"
)

// warm is a plant of one temperature sensor: ohms per km of its cable, cores, the
// card, the sensor.
const warm = `
plant: Warm
practice: {hottest copper: %s}
cable types: {k: {cores: %d, conductor: 1.0 mm2, ohms: %g ohm/km, colours: [%s], screen: none}}
cables: {W-1: {type: k, from: TE-1, to: C-1, length: 100 m}}
cabinets: {C-1: {cards: {T: {kind: %s, channels: 2}}}}
loops: {L: {service: warm, devices: {TE-1: {kind: %s}}, circuits: {TE-1: [TE-1, W-1, T channel 1]}}}
`

// leadsOf are the margins of the sensor of a plant, and what is found.
func leadsOf(t *testing.T, text string) ([]Margin, Problems) {
	t.Helper()
	p, _, ps := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if ps.Errors() > 0 {
		t.Fatal(ps, text)
	}
	return p.Margins(p.Loops[0].Circuits[0]), Check(p)
}

func warmPlant(hot string, cores int, ohms float64, device string) string {
	card := fmt.Sprintf("RTD, wires: %d", cores)
	return fmt.Sprintf(warm, hot, cores, ohms, strings.Join([]string{"BK", "WH", "RD", "BU"}[:cores], ", "), card, device)
}

// TestLeadError: IEC 60751 gives dR/dt = R0·(A + 2Bt), 0.39083 Ω/°C at 0 °C and 0.37351 Ω/°C
// at 150 °C for 100 Ω. Two leads of 1 Ω are 5.117 °C at 0 °C, where class B allows 0.3 °C;
// copper of 75 °C has 1 + 55·0.00393 times its ohms at 20 °C. Of three wires 1 % of
// one lead is left, of four nothing.
func TestLeadError(t *testing.T) {
	t.Parallel()
	const a, b = 0.39083, -5.775e-5 // R0 = 100 Ω
	for _, c := range []struct {
		hot, device, at, unit string
		cores                 int
		has, needs            float64
	}{
		{"20 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 0..150 °C", "0 °C", "°C", 2, 2 / a, 0.3},
		{"20 °C", "RTD 2-wire, sensor: Pt1000, class: B, range: 0..150 °C", "0 °C", "°C", 2, 2 / a / 10, 0.3},
		{"20 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 32..302 °F", "32 °F", "°F", 2, 1.8 * 2 / a, 1.8 * 0.3},
		{"20 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 273.15..423.15 K", "273.15 K", "K", 2, 2 / a, 0.3},
		{"20 °C", "RTD 2-wire, sensor: Pt100, class: B, range: -50..150 °C", "0 °C", "°C", 2, 2 / a, 0.3},
		{"20 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 150..50 °C", "50 °C", "°C", 2, 2 / (a + 2*b*50), 0.55},
		{"20 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 0..150 °C, lead ohms: 2 ohm", "0 °C", "°C", 2, 0, 0.3},
		{"75 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 0..150 °C, lead ohms: 2 ohm", "0 °C", "°C", 2, 2 * 55 * 0.00393 / a, 0.3},
		{"75 °C", "RTD 2-wire, sensor: Pt100, class: B, range: 0..150 °C", "0 °C", "°C", 2, 2 * (1 + 55*0.00393) / a, 0.3},
		{"20 °C", "RTD 3-wire, sensor: Pt100, class: A, range: 0..150 °C", "0 °C", "°C", 3, 0.01 / a, 0.15},
	} {
		m, found := leadsOf(t, warmPlant(c.hot, c.cores, 10, c.device))
		if len(m) != 1 || len(m[0].Missing) > 0 || m[0].At != c.at || m[0].Unit != c.unit {
			t.Errorf("%s: %+v", c.device, m)
			continue
		}
		within(t, c.device, m[0].Has, c.has, 0.001*max(c.has, 0.001))
		within(t, c.device+": allowed", m[0].Needs, c.needs, 1e-9)
		if told := hasCode(found, "lead-error"); told != (c.has > c.needs) {
			t.Errorf("%s: found %v", c.device, found)
		}
	}
	if m, _ := leadsOf(t, warmPlant("20 °C", 4, 10, "RTD 4-wire, sensor: Pt100, class: A, range: 0..150 °C")); m != nil {
		t.Errorf("four wires: %+v", m)
	}
}

func hasCode(found Problems, code string) bool {
	for _, pr := range found {
		if pr.Code == code {
			return true
		}
	}
	return false
}

// TestLeadErrorNotGiven: what is missing is named, with the figure where there is one, and
// nothing is found.
func TestLeadErrorNotGiven(t *testing.T) {
	t.Parallel()
	all := "RTD 2-wire, sensor: Pt100, class: B, range: 0..150 °C"
	for _, c := range []struct{ device, want string }{
		{strings.Replace(all, "sensor: Pt100, ", "", 1), "sensor of TE-1"},
		{strings.Replace(all, ", range: 0..150 °C", "", 1), "range of TE-1"},
		{strings.Replace(all, "0..150 °C", "0..150 mbar", 1), "range of TE-1 in °C, °F, K or °R"},
		{strings.Replace(all, "class: B, ", "", 1), "class of TE-1 (the leads add 5.355 °C)"},
		{strings.Replace(all, "0..150", "610..650", 1), "what class B allows there (the leads add 6.334 °C)"},
		{strings.Replace(all, "0..150", "860..900", 1), "range of TE-1 inside that of its sensor"},
		{strings.Replace(all, "Pt100", "Cu10", 1), "what the class of TE-1 allows: IEC 60751 has none for Cu10 (the leads add 51.793 °C)"},
	} {
		m, found := leadsOf(t, warmPlant("20 °C", 2, 10, c.device))
		if len(m) != 1 || strings.Join(m[0].Missing, "; ") != c.want || hasCode(found, "lead-error") {
			t.Errorf("%s: %+v, found %v", c.device, m, found)
		}
	}
	text := strings.Replace(warmPlant("20 °C", 2, 10, all), ", length: 100 m", "", 1)
	if m, _ := leadsOf(t, text); len(m) != 1 || strings.Join(m[0].Missing, "; ") != "length of cable W-1" {
		t.Errorf("without a length: %+v", m)
	}
}

// TestSlope: on every sensor the slope is that of its table, 1 °C apart, within 2 %.
func TestSlope(t *testing.T) {
	t.Parallel()
	for _, name := range sensorNames() {
		s, _ := FindSensor(name)
		low, high := s.Range()
		for at := math.Ceil(low) + 1; at <= high-1; at += 50 {
			a, _ := s.Value(at - 1)
			b, _ := s.Value(at + 1)
			got, ok := s.slope(at)
			if want := (b - a) / 2; !ok || math.Abs(got-want) > 0.02*math.Abs(want)+0.0005 {
				t.Errorf("%s at %g °C: %g, not %g", s.Name, at, got, want)
			}
		}
		if _, ok := s.slope(high + 1); ok {
			t.Errorf("%s has a slope past its range", s.Name)
		}
	}
}

// TestLongLeads: two leads of 1 Ω are more than a card that measures through 1.9 Ω takes,
// of a resistance sensor and of a thermocouple alike.
func TestLongLeads(t *testing.T) {
	t.Parallel()
	for _, sensor := range []string{"RTD", "TC"} {
		for limit, want := range map[string]bool{"1.9 ohm": true, "2 ohm": false} {
			text := warmPlant("20 °C", 2, 10, "RTD 2-wire, sensor: Pt100, class: B, range: 0..150 °C")
			if sensor == "TC" {
				text = fmt.Sprintf(warm, "20 °C", 2, 10.0, "GN, WH", "TC", "thermocouple, sensor: K, range: 0..150 °C")
			}
			_, found := leadsOf(t, strings.Replace(text, "channels: 2", "channels: 2, lead limit: "+limit, 1))
			if hasCode(found, "long-leads") != want {
				t.Errorf("%s on a card for %s: %v", sensor, limit, found)
			}
		}
	}
}

// TestOhmsAlongLeads: by hand, two cores of 1 Ω and a barrier of 20 Ω out and 15 Ω back add to
// the 100 Ω of the element at 0 °C: 102 Ω before the barrier, 137 Ω at the card, whichever
// way the circuit is walked. Of three wires like leads read both, and nothing is known of
// how alike the lanes of a barrier are.
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
	read := func(text string) (map[string]float64, *Plant) {
		p, _, ps := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if ps.Errors() > 0 {
			t.Fatal(ps, text)
		}
		r, _ := p.Readings(p.Loops[0].Circuits[0])
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
			within(t, walk+": "+where, got[where], want, 1e-9)
		}
		m := p.Margins(p.Loops[0].Circuits[0])
		if len(m) != 1 || len(m[0].Missing) > 0 {
			t.Fatalf("%+v", m)
		}
		within(t, "error", m[0].Has, 37/(0.39083-2*5.775e-5*100), 0.1) // at 100 °C, where class B leaves least
	}
	for _, walk := range []string{"TE-1, W-1, Z-1 1 2 3, wires, T channel 1", "T channel 1, wires, Z-1 4 5 6, W-1, TE-1"} {
		got, p := read(fmt.Sprintf(plant, 3, "BK, WH, RD", "1 2 3 4 5 6", 3, 3, walk))
		for where, want := range map[string]float64{"TE-1 1 2": 100, "Z-1 1 2": 102, "Z-1 2 3": 2, "T 1A 1B1": 137, "T 1B1 1B2": 32} {
			within(t, walk+": "+where, got[where], want, 1e-9)
		}
		if m := p.Margins(p.Loops[0].Circuits[0]); len(m) != 1 || !strings.HasPrefix(strings.Join(m[0].Missing, ""), "how alike the lanes of the barrier are") {
			t.Errorf("%+v", m)
		}
	}
}
