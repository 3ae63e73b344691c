package trunk_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
	"ringout/model/trunk"
)

// plant reads a plant whose first loop is a segment, and returns its pair.
func plant(t *testing.T, text string) (*model.Plant, *trunk.Pair) {
	t.Helper()
	p, sources, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
	if problems.Errors() > 0 {
		problems.Print(t.Output(), sources)
		t.FailNow()
	}
	return p, trunk.Of(p, p.Loops[0])
}

// farBus is a bus with all its devices, by what they draw, in one box at the far end.
func farBus(supply string, reserve, metres float64, draws ...float64) string {
	n := len(draws) + 1
	var devices, circuits strings.Builder
	for i, mA := range draws {
		fmt.Fprintf(&devices, "      LT-%d: {kind: bus device, in: JB-1, draws: %v mA}\n", i+1, mA)
		fmt.Fprintf(&circuits, "      LT-%d: [LT-%d + -, wires, JB-1/X1 %d %d]\n", i+1, i+1, 2*i+3, 2*i+4)
	}
	return fmt.Sprintf(`
practice: {segment reserve: %v mA, supply tolerance: 0 %%}
cable types: {bus: {pairs: 1, conductor: 0.8 mm2, ohms: 22 ohm/km, screen: none, bus type: A}}
boxes:
  JB-1:
    strips: {X1: {terminals: 1..%d, jumpers: [1..%d step 2, 2..%d step 2]}}
cabinets:
  MC-1: {supplies: {PS-1: %s}}
cables: {W-1: {type: bus, from: JB-1, to: MC-1, length: %v m}}
segments:
  S-1:
    kind: powered bus
    service: test
    terminators: [PS-1, JB-1/X1 1 2]
    devices:
%s    circuits:
      trunk: [JB-1/X1 1 2, W-1, PS-1 + -]
%s`, reserve, 2*n, 2*n, 2*n, supply, metres, &devices, &circuits)
}

// TestVoltsPublished: worked examples of makers' manuals. The cable has 44 Ω/km, both
// cores.
func TestVoltsPublished(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		of              string
		supply          string
		reserve, metres float64
		draws           []float64
		mA, volts       float64
	}{
		{"flowmeter with a bus, safety supplement: 19 V, 2 Ω, 580 m and 35 m, 2 × 12 and 2 × 10.5 mA, 9 mA: 54 mA, 17.4 V", "{volts: 19 V DC, limit: 350 mA, ohms: 2 ohm}", 9, 615, []float64{12, 12, 10.5, 10.5}, 54, 17.43},
		{"bus coupler manual: 24 V, 50 mA, 1.5 km: 20.7 V", "{volts: 24 V DC, limit: 100 mA}", 0, 1500, []float64{25, 25}, 50, 20.7},
		{"power repeater manual: 12.8 V, 100 mA, 863 m: 9 V", "{volts: 12.8 V DC, limit: 100 mA}", 0, 863, []float64{50, 50}, 100, 9.003},
	} {
		p, pair := plant(t, farBus(x.supply, x.reserve, x.metres, x.draws...))
		mA, missing := pair.Current()
		if len(missing) > 0 {
			t.Fatal(missing)
		}
		modeltest.Within(t, x.of+": mA", mA+p.Practice.SegmentReserve, x.mA, 1e-9)
		band, missing := pair.Expected(p, pair.JointOf(p.Loops[0].Devices[0]))
		if len(missing) > 0 {
			t.Fatal(missing)
		}
		modeltest.Within(t, x.of+": V", band.Low, x.volts, 0.01)
	}
}

// branched is a bus of three boxes with spurs, its circuits in an order.
func branched(order ...int) string {
	circuits := []string{
		"trunk 1: [JB-1/X1 1 2, W-1, PS-1 + -]",
		"trunk 2: [JB-2/X1 1 2, W-2, JB-1/X1 3 4]",
		"trunk 3: [JB-2/X1 3 4, W-3, JB-3/X1 1 2]",
		"LT-1: [LT-1, W-11, JB-1/X1 5 6]",
		"LT-2: [JB-2/X1 5 6, W-12, LT-2 + -]",
		"LT-3: [LT-3, W-13, JB-3/X1 3 4]",
		"LT-4: [LT-4, W-14, JB-3/X1 5 6]",
	}
	var b strings.Builder
	for _, i := range order {
		fmt.Fprintf(&b, "      %s\n", circuits[i])
	}
	strip := "{strips: {X1: {terminals: 1..8, jumpers: [1..8 step 2, 2..8 step 2]}}}"
	return fmt.Sprintf(`
practice: {segment reserve: 10 mA, supply tolerance: 0 %%}
cable types: {bus: {pairs: 1, conductor: 0.8 mm2, ohms: 20 ohm/km, screen: none, bus type: A}}
boxes: {JB-1: %s, JB-2: %[1]s, JB-3: %[1]s}
cabinets: {MC-1: {supplies: {PS-1: {volts: 24 V DC, limit: 300 mA}}}}
cables:
  W-1: {type: bus, from: JB-1, to: MC-1, length: 400 m}
  W-2: {type: bus, from: JB-2, to: JB-1, length: 300 m}
  W-3: {type: bus, from: JB-2, to: JB-3, length: 200 m}
  W-11: {type: bus, from: LT-1, to: JB-1, length: 10 m}
  W-12: {type: bus, from: JB-2, to: LT-2, length: 20 m}
  W-13: {type: bus, from: LT-3, to: JB-3, length: 30 m}
  W-14: {type: bus, from: LT-4, to: JB-3, length: 40 m}
segments:
  S-1:
    kind: powered bus
    service: test
    terminators: [PS-1, JB-3/X1 7 8]
    devices:
      LT-1: {kind: bus device, draws: 10 mA}
      LT-2: {kind: bus device, draws: 20 mA}
      LT-3: {kind: bus device, draws: 30 mA}
      LT-4: {kind: bus device, draws: 40 mA}
    circuits:
%s`, strip, &b)
}

// TestBranches: lengths, spurs and volts of a bus with branches, worked by hand, in
// whatever order and direction its circuits are written.
func TestBranches(t *testing.T) {
	t.Parallel()
	for _, order := range [][]int{{0, 1, 2, 3, 4, 5, 6}, {6, 5, 4, 3, 2, 1, 0}, {2, 5, 0, 6, 1, 4, 3}} {
		p, pair := plant(t, branched(order...))
		var way []string
		for _, j := range pair.Trunk {
			way = append(way, j.Parts[0].Tag)
		}
		if s := strings.Join(way, " "); s != "PS-1 JB-1/X1 JB-2/X1 JB-3/X1" {
			t.Errorf("order %v: the trunk is %s", order, s)
		}
		if m, _ := pair.Length(); m != 1000 {
			t.Errorf("order %v: %v m", order, m)
		}
		spurs := map[string]float64{}
		for _, s := range pair.Spurs {
			spurs[s.Tags()], _ = s.Length()
		}
		if fmt.Sprint(spurs) != "map[LT-1:10 LT-2:20 LT-3:30 LT-4:40]" {
			t.Errorf("order %v: spurs %v", order, spurs)
		}
		// 40 Ω/km there and back, 10 mA more than what is drawn beyond each section:
		// 16 Ω × 110 mA, 12 Ω × 100 mA, 8 Ω × 80 mA, then the spur of 1.2 Ω × 40 mA.
		band, missing := pair.Expected(p, pair.JointOf(p.Loops[0].Devices[2]))
		if len(missing) > 0 {
			t.Fatal(missing)
		}
		modeltest.Within(t, "LT-3", band.Low, 24-1.76-1.2-0.64-0.048, 1e-9)
		// And without the 10 mA at the most.
		modeltest.Within(t, "LT-3 at the most", band.High, 24-1.6-1.08-0.56-0.036, 1e-9)
	}
}

// TestSpurTable: the lengths of spurs that guides to IEC 61158-2 type 1 print.
func TestSpurTable(t *testing.T) {
	t.Parallel()
	k := model.SegmentKindNamed("powered bus")
	for _, x := range []struct {
		onSpur, devices int
		metres          float64
	}{{1, 1, 120}, {1, 12, 120}, {2, 12, 90}, {3, 12, 60}, {4, 12, 30}, {1, 13, 90}, {1, 14, 90}, {2, 14, 60}, {3, 13, 30}, {1, 15, 60}, {1, 18, 60}, {2, 15, 30}, {1, 19, 30}, {1, 24, 30}, {5, 8, 0}, {1, 32, 1}} {
		if got := k.Spur(x.onSpur, x.devices); got != x.metres {
			t.Errorf("%d on a spur, %d in all: %v m, not %v", x.onSpur, x.devices, got, x.metres)
		}
	}
	for name, want := range map[string]float64{"A": 1900, "B": 1200, "C": 400, "D": 200} {
		if got := k.Cable(name); got != want {
			t.Errorf("type %s: %v m, not %v", name, got, want)
		}
	}
}
