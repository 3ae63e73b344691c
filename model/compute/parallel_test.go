package compute_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/check"
	"ringout/model/compute"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// abreast is a switched output with two coils of 100 and 150 Ω, 50 m and 100 m of 1 mm² apart
// (18.1 Ω/km a core, IEC 60228 class 2).
const abreast = `
plant: Parallel Works
cabinets:
  MC-1:
    supplies: {PS-1: {volts: 24 V DC, least volts: 24 V, highest volts: 24 V}}
    cards:
      DO-1: {kind: DO, power: card, volts: 24 V, least volts: 24 V, highest volts: 24 V, channels: 2, limit: 500 mA, supply: PS-1}
      AO-1: {kind: AO, channels: 2, drive: 750 ohm}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
loops:
  X-1:
    service: Two vents
    devices:
      XY-1A: {kind: solenoid, ohms: 100 ohm, pull-in: 18 V}
      XY-1B: {kind: solenoid, ohms: 150 ohm, pull-in: 18 V}
    cables: {W-1: pair 50 m, W-2: pair 100 m}
    circuits:
      XY-1: [XY-1A, W-1, XY-1B, W-2, DO-1 channel 1]
`

// TestParallelCoils holds two coils on one output against Ohm's law by hand. Out and back W-1
// has 1.81 Ω, W-2 3.62 Ω. 101.81 Ω and 150 Ω in parallel are 60.65 Ω; 24 V over 64.27 Ω are
// 373.4 mA. XY-1B gets 22.65 V, XY-1A 100/101.81 of that, 22.25 V.
func TestParallelCoils(t *testing.T) {
	t.Parallel()
	p := readText(t, abreast)
	want := map[string]float64{"current of DO-1": 373.4, "minimum voltage at XY-1A": 22.25, "minimum voltage at XY-1B": 22.65}
	c := p.Loops[0].Circuits[0]
	for _, m := range compute.Margins(p, c) {
		if w, ok := want[m.What]; ok {
			modeltest.Within(t, m.What, m.Actual, w, 0.0005*w)
			delete(want, m.What)
		}
	}
	if len(want) > 0 {
		t.Errorf("no margins of %v", want)
	}
	var guide strings.Builder
	rows, _ := compute.FaultGuide(p, c)
	for _, r := range rows {
		guide.WriteString(r.Fault + ": " + r.Shows + "\n")
	}
	if s := "coil of XY-1B open: XY-1B does not move, XY-1A does"; !strings.Contains(guide.String(), s) {
		t.Errorf("the guide does not tell %q:\n%s", s, guide.String())
	}
}

// TestParallelCurrents: what takes milliamperes is not put in parallel.
func TestParallelCurrents(t *testing.T) {
	t.Parallel()
	p := readText(t, strings.NewReplacer("kind: solenoid", "kind: positioner", ", pull-in: 18 V", "", "DO-1 channel", "AO-1 channel").Replace(abreast))
	for _, f := range check.Check(p) {
		if f.Code == "parallel-loads" {
			return
		}
	}
	t.Error("two positioners in parallel are not told")
}

func readText(t *testing.T, text string) *model.Plant {
	t.Helper()
	p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
	if found.Errors() > 0 {
		t.Fatal(found)
	}
	return p
}
