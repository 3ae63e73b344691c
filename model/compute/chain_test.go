package compute_test

import (
	"math"
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// chained is a panel whose three instruments carry a supply on: 80, 60 and 40 mA behind a fuse
// and a switch, two of AC with a protective earth each.
const chained = `
plant: Chain Works
practice: {mains frequency: 50 Hz}
panels:
  CP-1:
    at: Control room
    front: 2 x 3
    strips:
      X5: {terminals: [F1..F2 fused 0.25 A, N1..N2], jumpers: [N1..N2]}
      X6: {terminals: [S1 disconnect]}
      X7: {terminals: [L1..L2 fused 2 A, N1..N2, PE1..PE3 earth], jumpers: [L1..L2, N1..N2, PE1..PE3]}
    supplies:
      PS-1: {volts: 24 V DC, least volts: 22 V, highest volts: 25 V, limit: 2 A}
      AC-1: {volts: 230 V AC, limit: 1 A}
    feeds: [PS-1 + to X6 S1, PS-1 - to X5 N1, AC-1 L to X7 L1 BN, AC-1 N to X7 N1 BU, AC-1 PE to X7 PE1]
    shared power:
      24 V: {from: [X5 F2 ., X6 S1 ., X5 . N2], members: [1A..2A, LS-4]}
      mains: {from: X7 L2 N2 PE2..PE3, members: 2B..2C, wires: BN BU GNYE}
loops:
  L-1:
    service: Level
    devices:
      LS-1: {kind: trip amplifier, in: CP-1, position: 1A, draws: 80 mA, lift-off: 18 V}
      LS-2: {kind: trip amplifier, in: CP-1, position: 2A, draws: 60 mA, lift-off: 18 V}
      LI-3: {kind: indicator, in: CP-1, position: 1B, ohms: 10 ohm}
      LS-4: {kind: trip amplifier, in: CP-1, position: behind, draws: 40 mA, lift-off: 18 V}
      LR-5: {kind: recorder, in: CP-1, position: 2B, draws: 12 VA, power factor: 1}
      LR-6: {kind: recorder, in: CP-1, position: 2C, draws: 11 VA, power factor: 1}
`

// TestSharedPower holds what a chain makes against sums by hand: every member has the volts of
// the supply, wires having no ohms; the fuse carries 80 + 60 + 40 = 180 mA, on AC
// 12 VA / 230 V + 11 VA / 230 V = 100 mA; with a link open all behind it are dead.
func TestSharedPower(t *testing.T) {
	t.Parallel()
	p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(chained)}}, "plant.yaml")
	if len(found) > 0 {
		t.Fatal(found)
	}
	for fuse, want := range map[string]float64{"CP-1/X5:F2": 180, "CP-1/X7:L2": 100} {
		i := slices.IndexFunc(compute.Demands(p), func(d *compute.Demand) bool { return d.Fuse != nil && d.Fuse.Tag() == fuse })
		if i < 0 {
			t.Fatal(fuse, "carries nothing")
		}
		if d := compute.Demands(p)[i]; math.Abs(d.MA-want) > 0.01 || d.Unknown > 0 {
			t.Errorf("fuse %s carries %v mA, not %v", fuse, d.MA, want)
		}
	}
	volts := 0
	p.EachCircuit(func(c *model.Circuit) {
		if r, ok := compute.ReadingsOf(p, c); c.Signal == model.PowerDC && ok && len(r.Rows) > 0 {
			volts++
			if v := r.Rows[0].Values[0]; v.Low != 22 || v.High != 25 {
				t.Errorf("%s has %v..%v V, not 22..25", c.Name, v.Low, v.High)
			}
		}
	})
	if volts != 3 {
		t.Errorf("%d members of three have volts", volts)
	}
	dead := map[string][]string{
		"LS-1 supply": {"LS-1", "LS-2", "LS-4"}, "LS-2 supply": {"LS-2", "LS-4"}, "LS-4 supply": {"LS-4"},
		"LR-5 supply": {"LR-5", "LR-6"}, "LR-6 supply": {"LR-6"},
	}
	chains := p.Chains(p.Place("CP-1"))
	for _, chain := range chains {
		for _, l := range chain.Links {
			var tags []string
			for _, d := range l.Dead {
				tags = append(tags, d.Tag)
			}
			if !slices.Equal(tags, dead[l.Name]) {
				t.Errorf("with %s open %v are dead, not %v", l.Name, tags, dead[l.Name])
			}
			delete(dead, l.Name)
		}
	}
	if len(chains) != 2 || len(dead) > 0 {
		t.Errorf("%d chains; no links %v", len(chains), dead)
	}
}

// remote is a panel that gets both poles over a pair of common cores, 200 m of 1.5 mm² with
// 12.1 Ω/km (IEC 60228), behind a fuse in the cabinet. Two of its instruments carry the supply
// on, a third takes it by itself.
const remote = `
plant: Remote Panel
practice: {earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
panels:
  CP-1:
    at: Quay
    strips: {X1: {terminals: 1..8, jumpers: [1..4, 5..8]}}
    shared power: {24 V: {from: X1 2 6, members: [LS-1, LS-2]}}
cabinets:
  MC-1:
    at: Room
    wire: 1.5 mm2 BK
    earths: {IE: instrument earth}
    strips: {X1: {terminals: 1..2}, X5: {terminals: [F1..F2 fused 0.25 A, N1], jumpers: [F1..F2]}}
    supplies: {PS-1: {volts: 24 V DC, least volts: 22.8 V, earth: IE}}
    feeds: [PS-1 + to X5 F1, PS-1 - to X5 N1]
cables: {W-1: {type: pair, from: CP-1, to: MC-1, length: 200 m}}
loops:
  L-1:
    service: Level
    devices:
      LS-1: {kind: trip amplifier, in: CP-1, draws: 80 mA, lift-off: 18 V}
      LS-2: {kind: trip amplifier, in: CP-1, draws: 60 mA, lift-off: 18 V}
  L-2:
    service: Level
    devices:
      LS-3: {kind: trip amplifier, in: CP-1, draws: 40 mA, lift-off: 18 V}
    circuits:
      LS-3 supply: [LS-3 21 22, wires, CP-1/X1 3 7]
      CP-1 power: [CP-1/X1 1 5, W-1, MC-1/X1 1 2, wires, MC-1/X5 F2 N1]
`

// TestSharedPowerOnCommonCores: by Kirchhoff, by hand, the fuse and both cores carry
// 80 + 60 + 40 = 180 mA, and every instrument has 22.8 V less 0.18 A in 2·200·12.1 mΩ: wires
// in the panel have no ohms. Each names the others, one of another loop by its loop, as dead
// with the cores.
func TestSharedPowerOnCommonCores(t *testing.T) {
	t.Parallel()
	p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(remote)}}, "plant.yaml")
	if found.Errors() > 0 {
		t.Fatal(found)
	}
	all := compute.Demands(p)
	i := slices.IndexFunc(all, func(d *compute.Demand) bool { return d.Fuse != nil })
	if i < 0 {
		t.Fatal("no fuse carries anything")
	}
	if d := all[i]; d.Fuse.Tag() != "MC-1/X5:F2" || !modeltest.Near(d.MA, 180, 1e-6) || d.Circuits != 3 || d.Unknown > 0 {
		t.Errorf("%+v", d)
	}
	dead := map[string][]string{"LS-1 supply": {"LS-2 supply", "L-2"}, "LS-2 supply": {"LS-1 supply", "L-2"}, "LS-3 supply": {"L-1"}}
	p.EachCircuit(func(c *model.Circuit) {
		if c.Common() {
			return
		}
		r, _ := compute.ReadingsOf(p, c)
		if len(r.Missing) > 0 || len(r.Rows) == 0 {
			t.Fatalf("%s: %+v", c.Name, r)
		}
		modeltest.Within(t, c.Name+": least volts", r.Rows[0].Values[0].Low, 22.8-0.18*2*200*0.0121, 1e-6)
		for _, s := range compute.Shares(p, c) {
			if s.Circuits != 3 || !modeltest.Near(s.MA, 180, 1e-6) || !modeltest.Near(s.Drop, 0.18*200*0.0121, 1e-6) {
				t.Errorf("%s: %+v", c.Name, s)
			}
		}
		if fuses := compute.FuseDemands(p, c); len(fuses) != 1 {
			t.Errorf("%s goes through %d fuses", c.Name, len(fuses))
		}
		for _, l := range c.CommonLegs() {
			if got := compute.SharesLeg(p, c, l); !slices.Equal(got, dead[c.Name]) {
				t.Errorf("%s is dead with %v, not with %v", c.Name, got, dead[c.Name])
			}
		}
		if n := len(c.CommonLegs()); n != 2 {
			t.Errorf("%s borrows %d common cores", c.Name, n)
		}
	})
}
