package compute

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// switched is a plant of one switch, fed by a supply through a card.
func switched(t *testing.T, supply, card, device string) (*model.Plant, *model.Circuit) {
	t.Helper()
	plus, minus, first, second := "+", "-", "+", "-"
	if strings.Contains(supply, "AC") {
		plus, minus = "L", "N"
	}
	if strings.Contains(device, "contact") {
		first, second = "1", "2"
	}
	text := fmt.Sprintf(`
plant: Inputs
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
cabinets:
  MC:
    strips: {X: {terminals: 1..4}, X5: {terminals: [F1 fused 1 A, N1]}}
    supplies: {PS: {volts: %s}}
    feeds: [PS %s to X5 F1, PS %s to X5 N1]
    cards: {C: {kind: DI, power: loop, channels: 1, %s}}
cables: {W: {type: pair, from: D, to: MC, length: 100 m}}
loops:
  L:
    service: inputs
    devices: {D: {%s}}
    circuits: {D: [D, W, MC/X 1 2, {%s: [wires, MC/X5 F1], %s: [wires, C channel 1 +>-, wires, MC/X5 N1]}]}
`, supply, plus, minus, card, device, first, second)
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	for _, pr := range problems {
		if pr.Severity == finding.Error {
			t.Fatal(pr, "\n", text)
		}
	}
	return p, p.Loops[0].Circuits[0]
}

// marginAt is the margin of a circuit while it is on or off, without the one of the
// least current.
func marginAt(t *testing.T, p *model.Plant, c *model.Circuit, at string) Margin {
	t.Helper()
	for _, m := range Margins(p, c) {
		if m.At.String() == at && m.Code != finding.StarvedSwitch {
			return m
		}
	}
	t.Fatalf("no margin at %s among %+v", at, Margins(p, c))
	return Margin{}
}

// Levels that data sheets of cards print of IEC 61131-2: type 1 at 24 V DC 5 and 15 V,
// type 3 there 5 V, 11 V and 2 mA, 20 and 79 V at 120 V AC, 40 and 164 V at 230 V AC.
// What is given of a card comes before its type, and what is not known of a type is
// asked for.
func TestInputTypes(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ supply, card, want, missing string }{
		{"24 V DC", "input type: 1", "off below 5 V at 0.5 mA, on above 15 V at 2 mA", ""},
		{"24 V DC", "input type: 3", "off below 5 V at 1.5 mA, on above 11 V at 2 mA", ""},
		{"120 V AC", "input type: 1", "off below 20 V at 1 mA, on above 79 V at 2 mA", ""},
		{"230 V AC", "input type: 1", "off below 40 V at 2 mA, on above 164 V at 3 mA", ""},
		{"24 V DC", "input type: 1, on above: 14 V", "off below 5 V at 0.5 mA, on above 14 V", ""},
		{"24 V DC", "off below: 5 V", "off below 5 V", "on above of card C"},
		{"48 V DC", "input type: 2", "", "off below of card C; on above of card C"},
		{"36 V DC", "input type: 1", "", "off below of card C; on above of card C"},
	} {
		p, c := switched(t, x.supply, x.card, "kind: contact")
		l, missing, asked := c.Levels(p.Part("C"))
		if got := l.String(); got != x.want || strings.Join(missing, "; ") != x.missing || !asked {
			t.Errorf("%s, %s: %s, lacks %q, asked %v", x.supply, x.card, got, missing, asked)
		}
	}
	p, c := switched(t, "24 V DC", "ohms: 3.3 kohm", "kind: contact")
	if all := Margins(p, c); len(all) > 0 {
		t.Errorf("a card that says nothing of its levels: %+v", all)
	}
}

// What takes up a leakage: two manuals of one maker of controllers give
// R = 7.2/(2.4·I − 3) kΩ, which is 3 V / (I − 1.25 mA); a card of 5 V at 1 mA takes 7.14
// kΩ for 1.7 mA and 10 kΩ for 1.5 mA (Ohm's law). The input holds 0 with that resistor,
// and not with one 2 % larger.
func TestBleeder(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		off          string
		ohms, leaks  float64
		most, within float64
	}{
		{"3 V at 1.25 mA", 2400, 1.5, 12000, 0}, {"3 V at 1.25 mA", 2400, 2, 4000, 0}, {"3 V at 1.25 mA", 2400, 3, 1714, 5},
		{"5 V at 1 mA", 5000, 1.7, 7140, 0}, {"5 V at 1 mA", 5000, 1.5, 10000, 0},
		{"5 V", 5000, 1.7, 7140, 0},
	} {
		holds := func(bleeder string) Margin {
			p, c := switched(t, "24 V DC", fmt.Sprintf("off below: %s, on above: 15 V, ohms: %g ohm", x.off, x.ohms), fmt.Sprintf("kind: two-wire switch, drop: 3 V, leakage: %g mA%s", x.leaks, bleeder))
			return marginAt(t, p, c, "off")
		}
		m := holds("")
		var most float64
		if _, err := fmt.Sscanf(m.Cure, "add bleeder: %g ohm", &most); err != nil || m.OK() {
			t.Fatalf("%+v: %+v", x, m)
		}
		modeltest.Within(t, fmt.Sprintf("bleeder for %g mA", x.leaks), most, x.most, x.within)
		if with := holds(fmt.Sprintf(", bleeder: %g ohm", most)); !with.OK() {
			t.Errorf("%+v: not held with it: %+v", x, with)
		}
		if with := holds(fmt.Sprintf(", bleeder: %g ohm", most*1.02)); with.OK() {
			t.Errorf("%+v: held with more: %+v", x, with)
		}
	}
}

// 0 is held by few volts or by little current, whichever; 0.4 mA into 20 kΩ are 8 V,
// and less than the 0.5 mA of type 1. 1 takes volts: 24 V less 5 %, less the drop. A
// margin that cannot be told says what it lacks, but what is known may decide.
func TestLevels(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ card, device, off, on string }{
		{"ohms: 20 kohm", "drop: 5 V, leakage: 0.4 mA", "0.4 mA ok", "0.8899 mA short"},
		{"ohms: 5 kohm", "drop: 5 V, leakage: 0.8 mA", "4 V ok", "17.79 V ok"},
		{"ohms: 5 kohm", "drop: 5 V, leakage: 1.2 mA", "6 V short", "17.79 V ok"},
		{"ohms: 5 kohm", "drop: 8 V, leakage: 0.4 mA", "0.4 mA ok", "14.79 V short"},
		{"ohms: 5 kohm", "drop: 30 V, leakage: 0.4 mA", "0.4 mA ok", "0 V short"},
		{"ohms: 5 kohm", "leakage: 9 mA", "25.19 V short", "lacks drop of D"}, // all that the supply drives
		{"ohms: 5 kohm", "drop: 5 V", "lacks leakage of D", "17.79 V ok"},
		{"", "drop: 5 V, leakage: 0.4 mA", "0.4 mA ok", "lacks ohms of card C"},
		{"", "drop: 5 V, leakage: 1.7 mA, bleeder: 4.1 kohm", "0.4805 mA ok", "lacks ohms of card C"}, // 5 V / (1.7 − 0.5) mA are 4.17 kΩ
		{"", "drop: 5 V, leakage: 1.7 mA, bleeder: 4.2 kohm", "lacks ohms of card C", "lacks ohms of card C"},
		{"", "drop: 8 V, leakage: 0.8 mA", "lacks ohms of card C", "14.8 V short"},
	} {
		p, c := switched(t, "24 V DC", "input type: 1, "+x.card, "kind: two-wire switch, "+x.device)
		for at, want := range map[string]string{"off": x.off, "on": x.on} {
			m := marginAt(t, p, c, at)
			got := model.Round(m.Actual) + " " + m.Unit + " " + map[bool]string{true: "ok", false: "short"}[m.OK()]
			if len(m.Missing) > 0 {
				got = "lacks " + strings.Join(m.Missing, ", ")
			}
			if got != want {
				t.Errorf("%s, %s, %s: %s, not %s", x.card, x.device, at, got, want)
			}
		}
	}
}

// A leak of AC has the phase of its supply: 3 mA into 8.2 kΩ are 24.6 V (Ohm's law),
// held by a type 1 of 230 V AC, whose 0 reaches to 40 V; 15 kΩ leave 45 V.
func TestLeakOfAC(t *testing.T) {
	t.Parallel()
	for ohms, want := range map[float64]float64{8200: 24.6, 15000: 45} {
		p, c := switched(t, "230 V AC", fmt.Sprintf("input type: 1, ohms: %g ohm", ohms), "kind: contact, leakage: 3 mA")
		m := marginAt(t, p, c, "off")
		modeltest.Within(t, "across the input", m.Actual, want, 1e-6)
		if m.OK() != (want < 40) || m.Unit != "V AC" {
			t.Errorf("%+v", m)
		}
	}
}

// A switch of 5 mA at the least on an input that takes less: R = 19.79 V /
// (5 − 3.958) mA = 18.99 kΩ, down to three figures 18.9 kΩ.
// With the resistor of the hint it has its current (second derivation: the sum again).
func TestLeastCurrent(t *testing.T) {
	t.Parallel()
	carried := func(bleeder string) Margin {
		p, c := switched(t, "24 V DC", "ohms: 5 kohm", "kind: two-wire switch, drop: 3 V, leakage: 0.5 mA, least current: 5 mA"+bleeder)
		all := Margins(p, c)
		if len(all) != 1 || all[0].Code != finding.StarvedSwitch {
			t.Fatalf("%+v", all)
		}
		return all[0]
	}
	m := carried("")
	modeltest.Within(t, "carried", m.Actual, 19.8/5002.42*1000, 0.001) // 100 m of 1.5 mm² are 2.42 Ω
	var most float64
	if _, err := fmt.Sscanf(m.Cure, "add bleeder: %g ohm", &most); err != nil || m.OK() {
		t.Fatalf("%+v", m)
	}
	modeltest.Within(t, "bleeder", most, 18900, 0)
	if m = carried(fmt.Sprintf(", bleeder: %g ohm", most-20)); !m.OK() {
		t.Errorf("with it: %+v", m)
	}
	modeltest.Within(t, "carried with it", m.Actual, 5, 0.03)
}

// What a meter reads across a switch that is off lies between a tight one and one that
// leaks all that it may: 24 V, less 1 mA in 5 kΩ. On, it reads the drop.
func TestReadingsOfLeaks(t *testing.T) {
	t.Parallel()
	p, c := switched(t, "24 V DC", "ohms: 5 kohm", "kind: two-wire switch, drop: 3 V, leakage: 1 mA")
	p.Practice.Tolerance = 0
	r, _ := ReadingsOf(p, c)
	if len(r.Rows) == 0 || strings.Join(r.States, " ") != "off on" {
		t.Fatalf("%+v", r)
	}
	off, on := r.Rows[0].Values[0], r.Rows[0].Values[1]
	modeltest.Within(t, "tight", off.High, 24, 1e-6)
	modeltest.Within(t, "leaking", off.Low, 24-5.00242, 1e-4)
	modeltest.Within(t, "on", on.Value, 3, 1e-6)
}

// A monitored contact of 1 kΩ and 10 kΩ on 8.2 V behind 1 kΩ (IEC 60947-5-6): 4.10 mA
// closed, 0.683 mA open; 0 with its line open, 8.2 mA with that shorted. Its resistors
// turned round, its open state is too near to the closed one.
func TestMonitoredContact(t *testing.T) {
	t.Parallel()
	o := modeltest.OneLoop{Card: "{kind: proximity, channels: 1, volts: 8.2 V, ohms: 1 kohm}", Device: "{kind: contact, series ohms: 1 kohm, parallel ohms: 10 kohm}", Walk: "C channel 1"}
	p, c := o.Read(t)
	for _, x := range []struct {
		what string
		st   state
		want float64
	}{{"closed", state{closed: true}, 4.10}, {"open", state{}, 0.683}, {"line open", state{fault: openAtDevice}, 0}, {"line shorted", state{fault: shortAtDevice}, 8.2}} {
		mA, ok := compute(p, c, x.st).receiver()
		if !ok {
			t.Fatal(x.what)
		}
		modeltest.Within(t, x.what, mA, x.want, 0.0005)
	}
	for _, m := range Margins(p, c) {
		if !m.OK() {
			t.Errorf("%+v", m)
		}
	}
	modeltest.Within(t, "least that is sure to be on", marginAt(t, p, c, "on").Limit, 2.1, 0)
	modeltest.Within(t, "most that is sure to be off", marginAt(t, p, c, "off").Limit, 1.2, 0)
	o.Device = "{kind: contact, series ohms: 1 kohm, parallel ohms: 4.7 kohm}"
	p, c = o.Read(t)
	modeltest.Within(t, "open, at the highest volts", marginAt(t, p, c, "off").Actual, 8.2*1.05/6.7, 0.001)
	if m := marginAt(t, p, c, "off"); m.OK() {
		t.Errorf("%+v", m)
	}
}

// The line of a proximity switch: both cores and both legs of a barrier. 2 km of
// 1.5 mm² (IEC 60228, 12.1 Ω/km) are 48.4 Ω, and 2.1 km more than 50.
func TestProximityLine(t *testing.T) {
	t.Parallel()
	line := func(o modeltest.OneLoop, metres float64) Margin {
		o.Card, o.HomeMetres = "{kind: proximity, channels: 1, volts: 8.2 V, ohms: 1 kohm}", metres
		if o.Device == "" {
			o.Device = "{kind: proximity switch}"
		}
		p, c := o.Read(t)
		for _, m := range Margins(p, c) {
			if m.Code == finding.LongLine {
				return m
			}
		}
		t.Fatal("no such margin")
		return Margin{}
	}
	straight := modeltest.OneLoop{Walk: "C channel 1"}
	m := line(straight, 2000)
	modeltest.Within(t, "2 km", m.Actual, 48.4, 0.001)
	if !m.OK() || line(straight, 2100).OK() {
		t.Error("50 ohm are the most")
	}
	straight.Device = "{kind: contact, series ohms: 1 kohm, parallel ohms: 10 kohm}"
	if line(straight, 2100).OK() {
		t.Error("a contact in its place has a line too")
	}
	behind := modeltest.OneLoop{Parts: "    barriers: {B: {ohms: 20 ohm, return ohms: 10 ohm}}", Walk: "B, wires, C channel 1"}
	modeltest.Within(t, "barrier", line(behind, 1000).Actual, 24.2+30, 0.001)
	behind.Parts = "    barriers: {B: {}}"
	if m = line(behind, 1000); m.OK() || strings.Join(m.Missing, "; ") != "ohms of barrier B" {
		t.Errorf("%+v", m)
	}
	if m = line(behind, 2100); m.OK() || len(m.Missing) > 0 {
		t.Errorf("the cores alone are too much: %+v", m)
	}
}
