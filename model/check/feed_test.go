package check

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// fedPlant has n transmitters in loops of their own on one supply, whose return to the
// strip runs over what is given; the copper is at 20 °C all the time.
func fedPlant(n int, over, liftOff string) string {
	var cables, loops strings.Builder
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&cables, "  W-%d: {type: pair, from: FT-%d, to: MC-1, length: 10 m}\n", i, i)
		fmt.Fprintf(&loops, `
  F-%d:
    service: Flow
    devices: {FT-%d: {kind: transmitter, range: 0..10 m3/h, lift-off: %s, failure current: 22 mA}}
    circuits:
      FT-%d: [FT-%d + -, W-%d, MC-1/X1 %d %d, {+: [wires, MC-1/X5 F1], -: [wires, AI-1 channel %d]}]
`, i, i, liftOff, i, i, i, 2*i-1, 2*i, i)
	}
	if over != "" {
		over = " over " + over
	}
	return `
plant: Long return
practice: {hottest copper: 20 °C, copper on test: 20 °C, supply tolerance: 0 %, earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets:
  MC-1:
    strips: {X1: {terminals: 1..64}, X5: {terminals: [F1, N1]}}
    supplies: {PS-1: {volts: 24 V DC, limit: 5 A}}
    cards: {AI-1: {kind: AI, power: loop, channels: 32, common: M, ohms: 250 ohm}}
    feeds: [PS-1 + to X5 F1, PS-1 - to AI-1 M` + over + `]
cables:
` + cables.String() + "loops:" + loops.String()
}

func fed(t *testing.T, text string) (*model.Plant, finding.Findings) {
	t.Helper()
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	return p, append(problems, Check(p)...)
}

// leastVolts is what the first transmitter is left with at a current.
func leastVolts(t *testing.T, p *model.Plant, at string) float64 {
	t.Helper()
	for _, m := range compute.Margins(p, p.Loops[0].Circuits[0]) {
		if m.At.String() == at {
			if len(m.Missing) > 0 {
				t.Fatalf("missing: %q", m.Missing)
			}
			return m.Actual
		}
	}
	t.Fatal("no margin")
	return 0
}

// A return of 300 m of 1.5 mm² has 12.1 Ω/km (IEC 60228 table 1) x 0.3 km = 3.63 Ω. 16
// transmitters at 22 mA lose 352 mA x 3.63 Ω = 1.28 V in it, one alone 0.08 V.
func TestSharedReturn(t *testing.T) {
	t.Parallel()
	const over = "300 m of 1.5 mm2"
	short, _ := fed(t, fedPlant(16, "", "10.5 V"))
	one, _ := fed(t, fedPlant(1, over, "10.5 V"))
	all, _ := fed(t, fedPlant(16, over, "10.5 V"))
	none := leastVolts(t, short, "22 mA")
	modeltest.Within(t, "V lost alone", none-leastVolts(t, one, "22 mA"), 0.07986, 1e-6)
	modeltest.Within(t, "V lost with 15 others", none-leastVolts(t, all, "22 mA"), 1.27776, 1e-6)
	// At 4 mA of its own the others are at their most still.
	modeltest.Within(t, "V lost at 4 mA", leastVolts(t, short, "4 mA")-leastVolts(t, all, "4 mA"), (15*0.022+0.004)*3.63, 1e-6)
	if s := compute.Shares(all, all.Loops[0].Circuits[0]); len(s) != 1 || s[0].Circuits != 16 || math.Abs(s[0].MA-352) > 1e-6 || math.Abs(s[0].Drop-1.27776) > 1e-6 {
		t.Errorf("shares: %+v", s)
	}
	for _, x := range [][2]string{{"feet and gauge", "984.252 ft of 1.5 mm2"}, {"in two parts", "300 m of 1.5 mm2 class 2"}} {
		p, _ := fed(t, fedPlant(16, x[1], "10.5 V"))
		modeltest.Within(t, x[0], leastVolts(t, p, "22 mA"), leastVolts(t, all, "22 mA"), 1e-4)
	}
}

// What a meter reads lies between the circuit alone on its return and all at their
// most; the supply gives no more for the sum.
func TestSharedReturnReadings(t *testing.T) {
	t.Parallel()
	p, _ := fed(t, fedPlant(16, "300 m of 1.5 mm2", "10.5 V"))
	r, ok := compute.ReadingsOf(p, p.Loops[0].Circuits[0])
	if !ok || len(r.Missing) > 0 || len(r.Rows) == 0 {
		t.Fatalf("readings: %+v", r)
	}
	// 20 mA through 2 x 10 m x 18.1 mΩ/m, 250 Ω and 3.63 Ω: the device has what is left.
	alone := 24 - 0.020*(2*0.181+250+3.63)
	b := r.Rows[0].Values[5]
	modeltest.Within(t, "highest at the device", b.High, alone, 1e-6)
	modeltest.Within(t, "lowest at the device", b.Low, alone-15*0.022*3.63, 1e-6)
	for _, d := range compute.Demands(p) {
		modeltest.Within(t, "load of "+d.Supply.Tag, d.MA, 16*22, 1e-6)
	}
}

// A loop that works alone and not beside the others is found, and the return named.
func TestSharedReturnFound(t *testing.T) {
	t.Parallel()
	// 24 V less 22 mA x (250.362 + 3.63) Ω leave 18.41 V, less 15 x 22 mA x 3.63 Ω 17.21 V.
	if _, problems := fed(t, fedPlant(1, "300 m of 1.5 mm2", "18 V")); problems.Errors() > 0 {
		t.Fatalf("one alone: %v", problems)
	}
	_, problems := fed(t, fedPlant(16, "300 m of 1.5 mm2", "18 V"))
	n := 0
	for _, pr := range problems {
		if pr.Code != "low-voltage" {
			continue
		}
		n++
		if want := "carries 352 mA of 16 circuits, 1.28 V"; !strings.Contains(fmt.Sprint(pr.Also), want) {
			t.Errorf("%v does not say %q", pr.Also, want)
		}
	}
	if n != 16 {
		t.Errorf("%d of 16 loops are found: %v", n, problems)
	}
}

// One that cannot be computed makes the sums of those beside it NOT GIVEN, not better.
func TestSharedReturnUnknown(t *testing.T) {
	t.Parallel()
	text := strings.Replace(fedPlant(3, "300 m of 1.5 mm2", "10.5 V"), "W-3: {type: pair, from: FT-3, to: MC-1, length: 10 m}", "W-3: {type: pair, from: FT-3, to: MC-1}", 1)
	p, _ := fed(t, text)
	for _, m := range compute.Margins(p, p.Loops[0].Circuits[0]) {
		if want := "what FT-3 draws on the feed PS-1:- to AI-1:M"; !strings.Contains(strings.Join(m.Missing, "; "), want) {
			t.Errorf("%s: missing %q", m.What, m.Missing)
		}
	}
	for over, code := range map[string]string{"35 m": "bad-feed", "of 2.5 mm2": "bad-feed", "35 of 2.5 mm2": "missing-unit", "35 m of blue": "bad-conductor", "0 m of 1.5 mm2": "number-out-of-range"} {
		_, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(fedPlant(1, over, "10.5 V"))}}, "p.yaml")
		if !strings.Contains(fmt.Sprint(problems), over[:2]) && problems.Errors() != 1 || problems[0].Code != code {
			t.Errorf("%q: %v", over, problems)
		}
	}
}
