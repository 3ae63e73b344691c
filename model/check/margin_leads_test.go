package check

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
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
func leadsOf(t *testing.T, text string) ([]compute.Margin, finding.Findings) {
	t.Helper()
	p, _, ps := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if ps.Errors() > 0 {
		t.Fatal(ps, text)
	}
	return compute.Margins(p, p.Loops[0].Circuits[0]), Check(p)
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
		if len(m) != 1 || len(m[0].Missing) > 0 || m[0].At.String() != c.at || m[0].Unit != c.unit {
			t.Errorf("%s: %+v", c.device, m)
			continue
		}
		modeltest.Within(t, c.device, m[0].Actual, c.has, 0.001*max(c.has, 0.001))
		modeltest.Within(t, c.device+": allowed", m[0].Limit, c.needs, 1e-9)
		if told := hasCode(found, "lead-error"); told != (c.has > c.needs) {
			t.Errorf("%s: found %v", c.device, found)
		}
	}
	if m, _ := leadsOf(t, warmPlant("20 °C", 4, 10, "RTD 4-wire, sensor: Pt100, class: A, range: 0..150 °C")); m != nil {
		t.Errorf("four wires: %+v", m)
	}
}

func hasCode(found finding.Findings, code string) bool {
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
