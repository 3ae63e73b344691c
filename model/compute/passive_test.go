package compute

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// passive is a positioner on an output that only holds its current, which a supply drives.
const passive = `
plant: Passive output
practice: {earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
cabinets:
  MC-1:
    wire: 1.5 mm2 BK
    earths: {IE: instrument earth}
    strips: {X1: {terminals: 1..2}, X5: {terminals: [F1..F2 fused 0.5 A, N1..N2], jumpers: [F1..F2, N1..N2]}}
    supplies: {PS-1: {volts: 24 V DC, least volts: 22.8 V, earth: IE}}
    feeds: [PS-1 + to X5 F1, PS-1 - to X5 N1]
    cards: {AO-1: {kind: AO, power: loop, channels: 4, lift-off: 7 V}}
cables: {W-1: {type: pair, from: PY-1, to: MC-1, length: 300 m}}
loops:
  P-1:
    service: Pressure
    devices: {PY-1: {kind: positioner, ohms: 220 ohm}}
    circuits:
      PY-1:
        - PY-1
        - W-1
        - MC-1/X1 1 2
        - +: [wires, MC-1/X5 F2]
          -: [wires, AO-1 channel 1 +>-, wires, MC-1/X5 N2]
`

// TestPassiveOutput: at 20 mA, by hand, 220 Ω and 2·300 m of 12.1 mΩ (IEC 60228) leave the
// output 24 V less 4.545 V, and 22.8 V less that at the least; while the device is lifted
// its cores have the volts of the supply.
func TestPassiveOutput(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(passive)}}, "plant.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	c := p.Loops[0].Circuits[0]
	const drop = 0.020 * (220 + 2*300*0.0121)
	r, _ := ReadingsOf(p, c)
	last := r.Rows[len(r.Rows)-1]
	if last.Where() != "AO-1 1+ 1-" || len(r.States) != len(last.Values) {
		t.Fatalf("%+v", r)
	}
	for k, s := range r.States {
		if s == "20 mA" {
			modeltest.Within(t, "at the output", last.Values[k].Value, 24-drop, 1e-6)
		}
	}
	all := Margins(p, c)
	if len(all) != 2 || all[1].What != "minimum voltage at AO-1" || all[1].Limit != 7 {
		t.Fatalf("%+v", all)
	}
	modeltest.Within(t, "least at the output", all[1].Actual, 22.8-drop, 1e-6)
	open, plus, missing := OpenVolts(p, c)
	if len(missing) > 0 || plus == nil || plus.Name != "+" {
		t.Fatalf("lifted: %+v, + on %v, missing %q", open, plus, missing)
	}
	modeltest.Within(t, "lifted", open.Value, 24, 1e-6)
	if card := p.Part("AO-1"); card.Channel(1)[0].Nature() != model.Load || card.SaysPower() == false {
		t.Error("the output is taken for one that drives its current")
	}
	if rows, _ := FaultGuide(p, c); !strings.Contains(rows[1].Meter, "0 V at the card") {
		t.Errorf("%+v", rows[1])
	}
	for _, d := range Demands(p) {
		if d.Circuits != 1 || !modeltest.Near(d.MA, 20, 1e-6) {
			t.Errorf("%+v", d)
		}
	}
}

// TestPassiveOutputOfSample, by Kirchhoff: 24 V of the supply, 22.8 V at the least, lie across
// the positioner of 220 Ω, two cores of 140 m of 18.1 Ω/km (1.0 mm², IEC 60228) and the output.
func TestPassiveOutputOfSample(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../../samples"), "heron-lock")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	c := circuitOf(p, "LY-707")
	r, _ := ReadingsOf(p, c)
	for k, mA := range p.Practice.TestCurrents {
		drop := mA / 1000 * (220 + 2*0.140*18.1)
		got := r.Rows[len(r.Rows)-1].Values[k]
		modeltest.Within(t, "at the output", got.Value, 24-drop, 1e-6)
		modeltest.Within(t, "at the output, least", got.Low, 22.8-drop, 1e-6)
		modeltest.Within(t, "at the positioner", r.Rows[0].Values[k].Value, mA/1000*220, 1e-9)
	}
	all := Margins(p, c)
	if len(all) != 2 || all[1].Limit != 7 {
		t.Fatalf("%+v", all)
	}
	modeltest.Within(t, "least at the output", all[1].Actual, 22.8-0.020*(220+2*0.140*18.1), 1e-6)
}
