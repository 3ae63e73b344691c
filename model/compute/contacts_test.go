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
)

// contactPlant has a supply of 24 V DC and one of 110 V AC, a relay, a changeover contact
// and a motor starter; copper is at 20 °C and volts have no tolerance.
const contactPlant = `
plant: Contacts
practice: {hottest copper: 20 °C, copper on test: 20 °C, supply tolerance: 0 %, mains frequency: 50 Hz, earthed pole: negative}
cable types:
  control: {cores: 4, conductor: 1.5 mm2, colours: [BN, BU, BK, GY], screen: none, ohms: 12.1 ohm/km, capacitance: 260 pF/m}
cabinets:
  MC-1:
    strips:
      X1: {terminals: 1..20}
      X5: {terminals: [F1..F8 fused 2 A, N1..N8], jumpers: [F1..F8, N1..N8]}
      X7: {terminals: [L1..L4 fused 2 A, N1..N4], jumpers: [L1..L4, N1..N4]}
    supplies: {PS-1: {volts: 24 V DC}, AC-1: {volts: 110 V AC, highest volts: 110 V}}
    feeds: [PS-1 + to X5 F1, PS-1 - to X5 N1, AC-1 L to X7 L1 BN, AC-1 N to X7 N1 BU]
    cards:
      DO-1: {kind: DO, power: card, channels: 4, volts: 24 V}
      DI-1: {kind: DI, power: loop, channels: 8, ohms: 5 kohm, input type: 1}
  MCC-1:
    strips: {X1: {terminals: 1..20}}
cables:
  W-1: {type: control, from: MC-1, to: MCC-1, length: LENGTH}
  W-2: {type: control, from: LS-1, to: MC-1, length: 100 m}
loops:
  K-1:
    service: interposing relay
    devices:
      K-1: {kind: relay, in: MC-1, rated volts: 12 V DC, watts: 0.36 W, pull-in: 9 V, suppressor: diode, contacts: [11-12-14, 21-22-24]}
      XL-1: {kind: lamp, in: MC-1, ohms: 100 ohm}
    circuits:
      coil: [K-1, wires, DO-1 channel 1]
      makes: [XL-1, wires, MC-1/X1 1 2, {+: [wires, K-1 14>11, wires, MC-1/X5 F2], -: [wires, MC-1/X5 N2]}]
  LS-1:
    service: changeover
    devices: {LS-1: {kind: changeover contact}}
    circuits:
      LS-1: [LS-1, W-2 cores 1 2 3, MC-1/X1 5 6 7, {1: [wires, MC-1/X5 F3], 2: [wires, DI-1 channel 1 +>-, wires, MC-1/X5 N3], 3: [wires, DI-1 channel 2 +>-, wires, MC-1/X5 N4]}]
  M-1:
    service: motor
    devices:
      M-1: {kind: motor starter, in: MC-1, rated volts: 110 V AC, holding: 4.5 VA, power factor: 0.3, inrush: 68 VA, inrush power factor: 0.82, pull-in: 93.5 V, drop-out: 82 V, release: 27.5 V}
      HS-1: {kind: push-button, in: MCC-1, contacts: [start 13-14, stop 21-22]}
    circuits:
      M-1: [M-1 A1 A2, wires, MC-1/X1 11 12, {+: [W-1 core 1, MCC-1/X1 1, wires, HS-1 22>21, wires, HS-1 14>13, wires, MCC-1/X1 2, W-1 core 2, MC-1/X1 13, wires, M-1 96>95, wires, MC-1/X7 L2], -: [wires, MC-1/X7 N2]}]
`

// contactCircuit is a circuit of contactPlant, with other words in place of some.
func contactCircuit(t *testing.T, name string, change ...string) (*model.Plant, *model.Circuit) {
	t.Helper()
	change = append(change, "LENGTH", "100 m")
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.NewReplacer(change...).Replace(contactPlant))}}, "p.yaml")
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

// A coil of 12 V and 0.36 W has 400 Ω (a relay maker's glossary of terms, U²/W): on 24 V it
// draws 60 mA.
func TestCoilOhms(t *testing.T) {
	t.Parallel()
	p, c := contactCircuit(t, "coil")
	modeltest.Within(t, "ohms", c.Device().Device.CoilOhms(), 400, 1e-9)
	modeltest.Within(t, "mA", compute(p, c, state{closed: true}).drawn, 60, 1e-9)
	_, c = contactCircuit(t, "coil", "watts: 0.36 W", "ohms: 500 ohm, watts: 0.36 W")
	modeltest.Within(t, "given ohms", c.Device().Device.CoilOhms(), 500, 1e-9)
}

// A contact in a leg lets through what it switches, and has all volts of the supply across
// it while it is open.
func TestContactInSeries(t *testing.T) {
	t.Parallel()
	p, c := contactCircuit(t, "makes")
	if c.Device().Tag != "XL-1" || c.Signal != model.SwitchedOut {
		t.Fatalf("%s, %s", c.Device().Tag, c.Signal)
	}
	r, ok := ReadingsOf(p, c)
	if !ok || len(r.Rows) != 3 {
		t.Fatalf("%+v", r)
	}
	for i, want := range [][2]float64{{0, 24}, {0, 24}, {-24, 0}} { // the lamp, X1, the contact from 14 to 11
		for k := range want {
			modeltest.Within(t, r.Rows[i].Where()+" "+r.States[k], r.Rows[i].Values[k].Value, want[k], 1e-9)
		}
	}
	modeltest.Within(t, "mA", compute(p, c, state{closed: true}).drawn, 240, 1e-9)
}

// At rest the break side of a changeover contact is on, worked the make side: of 24 V an
// input of 5 kΩ behind two cores of 1.21 Ω gets 24 × 5000/5002.42 V.
func TestChangeoverSides(t *testing.T) {
	t.Parallel()
	p, c := contactCircuit(t, "LS-1")
	r, _ := ReadingsOf(p, c)
	if strings.Join(r.States, " ") != "at rest worked" {
		t.Fatalf("%q", r.States)
	}
	on := 24 * 5000 / 5002.42
	for _, x := range r.Rows {
		want, known := map[string][2]float64{
			"LS-1 11 12": {0, on}, "LS-1 11 14": {on, 0},
			"DI-1 1+ 1-": {on, 0}, "DI-1 2+ 2-": {0, on},
		}[x.Where()]
		for i := range want {
			// Across the open side there are the 24 V, less what the closed one's lead drops.
			if known {
				modeltest.Within(t, x.Where()+" "+r.States[i], math.Abs(x.Values[i].Value), want[i], 0.006)
			}
		}
	}
	var told []string
	for _, m := range Margins(p, c) {
		told = append(told, fmt.Sprintf("%s %s %.3f", m.What, m.At, m.Actual))
	}
	one := func(channel int) string {
		return fmt.Sprintf("minimum voltage into DI-1 channel %d on %.3f", channel, on)
	}
	if strings.Join(told, "; ") != one(1)+"; "+one(2) {
		t.Errorf("margins: %q", told)
	}
}

// The control run of a motor starter: on 110 V a contactor of 68 VA at 0.82 may drop 5 %,
// which it does after 448 m of two cores of 12.1 Ω/km (SIRIUS 3RT manual A5E03656507120A
// p. 158). The formula has 5·U²·u/(R·P) with P the watts, which leaves out what the
// impedance of the coil turns: an exact sum is within 2 % of the volts.
func TestControlRun(t *testing.T) {
	t.Parallel()
	p, c := contactCircuit(t, "M-1", "LENGTH", "448 m")
	for _, m := range Margins(p, c) {
		if m.What == "minimum inrush voltage at M-1" {
			modeltest.Within(t, "volts at the coil", m.Actual, 0.95*110, 0.02*110)
			return
		}
	}
	t.Error("no margin")
}

// Drop-out by cable capacitance: a coil of 4.5 VA on 110 V, 50 Hz, that lets go at a
// quarter of it stands 910 m of 0.26 µF/km past its open contact (Estimation of cable
// length for control circuits, EBG/SDDC/KNG, 2007; m/(1+m)·P/(2πf·c·U²)). The contact is a
// push-button in series, at the far end.
func TestHeldInByCable(t *testing.T) {
	t.Parallel()
	for length, held := range map[string]bool{"909 m": false, "912 m": true} {
		p, c := contactCircuit(t, "M-1", "LENGTH", length)
		found := false
		for _, m := range Margins(p, c) {
			if m.Unit == "nF" {
				found = true
				if len(m.Missing) > 0 || m.OK() == held {
					t.Errorf("%s: %+v", length, m)
				}
			}
		}
		if !found {
			t.Errorf("%s: nothing is told of capacitance", length)
		}
	}
}

// Off, the circuit of a motor is open at START alone: STOP and the overload stay closed.
func TestOpener(t *testing.T) {
	t.Parallel()
	_, c := contactCircuit(t, "M-1")
	if st := Opener(c); st == nil || st.Group().Name != "start" {
		t.Errorf("%+v", st)
	}
	if c.Device().Tag != "M-1" {
		t.Errorf("device %s", c.Device().Tag)
	}
	_, c = contactCircuit(t, "coil")
	if Opener(c) != nil {
		t.Error("an output switches the coil")
	}
}

// A contact that seals another in is fed by the circuit that goes through that; the same two
// contacts, with nothing that goes through either, have no source.
func TestSealIn(t *testing.T) {
	t.Parallel()
	seal := []string{"circuits:\n      M-1:", "circuits:\n      seal: [M-1 97 98, W-1 cores 3 4, HS-1 14 13]\n      M-1:", "M-1: {kind: motor starter, in: MC-1", "M-1: {kind: motor starter, in: MC-1, contacts: [95-96, 97-98]"}
	_, c := contactCircuit(t, "seal", seal...)
	if g := c.Seals(); g == nil || g.Name != "start" || c.Sealed().Name != "M-1" {
		t.Fatalf("seals %+v", g)
	}
	if s := c.Supply(); s == nil || s.Tag != "AC-1" || !c.Mains() {
		t.Error("it is not known to be at 110 V AC")
	}
	for _, change := range [][2]string{{"HS-1 14 13]", "HS-1 13 21]"}, {"M-1 97 98, W-1", "M-1 97 96, W-1"}} {
		with := append([]string{}, seal...)
		with[1] = strings.Replace(with[1], change[0], change[1], 1)
		if _, c := contactCircuit(t, "seal", with...); c.Seals() != nil {
			t.Errorf("%s seals", change[1])
		}
	}
}

// TestContactsThatDrop: contacts in series that drop some volts, as those of electronics do,
// each take them from the lamp that they switch: (24 V - 2 V - 1 V) / 100 Ω = 210 mA, by hand.
func TestContactsThatDrop(t *testing.T) {
	t.Parallel()
	p, c := contactCircuit(t, "makes",
		"      XL-1: {kind: lamp, in: MC-1, ohms: 100 ohm}", "      XL-1: {kind: lamp, in: MC-1, ohms: 100 ohm}\n      HS-2: {kind: push-button, in: MC-1, contacts: [13-14], drop: 2 V}\n      HS-3: {kind: push-button, in: MC-1, contacts: [13-14], drop: 1 V}",
		"wires, K-1 14>11, wires, MC-1/X5 F2", "wires, HS-2 14>13, wires, HS-3 14>13, wires, MC-1/X5 F2")
	s := compute(p, c, state{closed: true})
	if !s.Solved {
		t.Fatal(s.Missing)
	}
	modeltest.Within(t, "mA through the lamp", real(s.current), 210, 0.01)
}
