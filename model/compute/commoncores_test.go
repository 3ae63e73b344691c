package compute

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestCommonCores: three contacts on one core of 180 m, 0.75 mm² with 24.5 Ω/km (IEC 60228).
// By Kirchhoff, by hand: with branches of G1, G2 and G3 siemens behind a core of r ohms,
// what is left for them of U is U/(1 + r(G1+G2+G3)).
func TestCommonCores(t *testing.T) {
	t.Parallel()
	const perM, input = 0.0245, 4800.0
	core := 180 * perM
	branch := func(spur float64) float64 { return input + 2*spur*perM + core }
	all := []float64{branch(12), branch(12), branch(30)}
	sum := 0.0
	for _, r := range all {
		sum += 1 / r
	}
	p, c := coldStore(t, "ZS-1401A")
	left := 22.8 / (1 + core*sum)
	for _, m := range Margins(p, c) {
		if strings.HasPrefix(m.What, "minimum voltage into") {
			// The program takes the others at 24 V, not at 22.8: 0.05·2·5 mA·4.41 Ω more.
			modeltest.Within(t, "least volts at the input", m.Actual, left*input/all[0]-0.05*24*(1/all[1]+1/all[2])*core, 0.0005)
			left = 0
		}
	}
	if left != 0 {
		t.Error("no margin of the input")
	}
	if got := SharesLeg(p, c, c.CommonLegs()[0]); !slices.Equal(got, []string{"ZS-1401B", "L-1402"}) {
		t.Errorf("shares its core with %q", got)
	}
	shares := Shares(p, c)
	if len(shares) != 1 || shares[0].Circuits != 3 {
		t.Fatalf("%+v", shares)
	}
	alone := 0.0 // each as if alone, as sums of feeds are
	for _, r := range all {
		alone += 24 / (r + core)
	}
	modeltest.Within(t, "mA of all", shares[0].MA, 1000*alone, 0.001)
	modeltest.Within(t, "drop", shares[0].Drop, alone*core, 1e-5)
	fuse := slices.IndexFunc(Demands(p), func(d *Demand) bool { return d.Fuse != nil && d.Fuse.Tag() == "MC-1/X5:F7" })
	if fuse < 0 {
		t.Fatal("no load of the fuse in the common core")
	}
	if d := Demands(p)[fuse]; d.Circuits != 3 || !modeltest.Near(d.MA, 1000*alone, 0.001) || d.Most != 500 {
		t.Errorf("load of the fuse: %+v", d)
	}
	rows, _ := FaultGuide(p, c)
	last := rows[len(rows)-1]
	if last.Fault != "dock common open: W-2-7" || last.Remark != "these go too: ZS-1401B, L-1402" {
		t.Errorf("fault guide: %+v", last)
	}
}

// TestOwnCommon: a card drives 24 V through 3.9 kΩ and a contact, and back by a core that two
// share. By hand, one contact closed: 24·(2·8+2·180)·0.0245 V over all but the input.
func TestOwnCommon(t *testing.T) {
	t.Parallel()
	p, c := coldStore(t, "HS-1403A")
	leads := (2*8.0 + 2*180.0) * 0.0245
	r, _ := ReadingsOf(p, c)
	if len(r.Missing) > 0 || len(r.Rows) == 0 {
		t.Fatalf("%+v", r)
	}
	at := r.Rows[len(r.Rows)-1]
	if at.Where() != "DI-2 1 C" {
		t.Fatalf("read at %s", at.Where())
	}
	modeltest.Within(t, "open", at.Values[0].Value, 24, 1e-9)
	modeltest.Within(t, "closed", at.Values[1].Value, 24*leads/(3900+leads), 1e-6)
	if s := Shares(p, c); len(s) != 1 || s[0].Circuits != 2 {
		t.Errorf("%+v", s)
	}
	if c.Supply() != nil {
		t.Errorf("fed from %s, not by its card", c.Supply().Tag)
	}
}

// powered is a box that gets both poles over a pair of 200 m of 1.5 mm², 12.1 Ω/km (IEC
// 60228), for two transmitters that draw 150 mA each.
const powered = `
plant: Power to a box
practice: {earthed pole: negative}
cable types:
  pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}
boxes: {JB-1: {at: Quay, strips: {X1: {terminals: 1..12, jumpers: [1..4, 5..8]}}}}
cabinets:
  MC-1:
    at: Room
    wire: 1.5 mm2 BK
    earths: {IE: instrument earth}
    strips: {X1: {terminals: 1..8}, X5: {terminals: [F1..F2 fused 1 A, N1..N2], jumpers: [F1..F2, N1..N2]}}
    supplies: {PS-1: {volts: 24 V DC, least volts: 22.8 V, earth: IE}}
    feeds: [PS-1 + to X5 F1, PS-1 - to X5 N1]
    cards: {AI-1: {kind: AI, power: loop, channels: 2, ohms: 250 ohm}}
cables:
  W-1: {type: pair, from: JB-1, to: MC-1, length: 200 m}
  W-2: {type: pair, from: FT-1, to: JB-1, length: 10 m}
  W-3: {type: pair, from: FT-2, to: JB-1, length: 20 m}
  W-4: {type: pair, from: FT-1, to: MC-1, length: 210 m}
  W-5: {type: pair, from: FT-2, to: MC-1, length: 220 m}
loops:
  F-1:
    service: Flow
    devices: {FT-1: {kind: four-wire transmitter DC, range: 0..1 m/s, draws: 150 mA, terminals: 1 2 3 4}}
    circuits:
      FT-1: [FT-1 1 2, W-4, MC-1/X1 3 4, wires, AI-1 channel 1]
      FT-1 power: [FT-1 3 4, W-2, JB-1/X1 2 6]
  F-2:
    service: Flow
    devices: {FT-2: {kind: four-wire transmitter DC, range: 0..1 m/s, draws: 150 mA, terminals: 1 2 3 4}}
    circuits:
      FT-2: [FT-2 1 2, W-5, MC-1/X1 5 6, wires, AI-1 channel 2]
      FT-2 power: [FT-2 3 4, W-3, JB-1/X1 3 7]
      JB-1 power: [JB-1/X1 1 5, W-1, MC-1/X1 1 2, wires, MC-1/X5 F2 N2]
`

// TestPowerToABox: both transmitters draw through both cores: by hand, 22.8 V less 0.3 A in
// 2·200·12.1 mΩ, and less 0.15 A in the transmitter's own pair.
func TestPowerToABox(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(powered)}}, "plant.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	for name, spur := range map[string]float64{"FT-1 power": 10, "FT-2 power": 20} {
		var c *model.Circuit
		p.EachCircuit(func(o *model.Circuit) {
			if o.Name == name {
				c = o
			}
		})
		if n := len(c.CommonLegs()); n != 2 || !c.CommonLegs()[0].Circuit.Common() {
			t.Fatalf("%s ends on %d legs of common cores", name, n)
		}
		r, _ := ReadingsOf(p, c)
		if len(r.Missing) > 0 || len(r.Rows) == 0 {
			t.Fatalf("%s: %+v", name, r)
		}
		const perM = 0.0121
		modeltest.Within(t, name+": least volts", r.Rows[0].Values[0].Low, 22.8-0.3*2*200*perM-0.15*2*spur*perM, 1e-6)
		for _, s := range Shares(p, c) {
			if s.Circuits != 2 || !modeltest.Near(s.MA, 300, 1e-6) || !modeltest.Near(s.Drop, 0.3*200*perM, 1e-6) {
				t.Errorf("%s: %+v", name, s)
			}
		}
	}
}
