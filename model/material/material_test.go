package material

import (
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/copper"
	"ringout/model/english"
	"ringout/model/read"
)

// itemOf is an item of a list; a zero one where there is none.
func itemOf(items []Item, what, of english.Text) Item {
	i := slices.IndexFunc(items, func(x Item) bool { return x.What == what && x.Of == string(of) && x.Group != PracticeGroup })
	if i < 0 {
		return Item{}
	}
	return items[i]
}

// material counts a scope with all that it has rung out.
func material(p *model.Plant, s Scope) []Item { return Material(p, s, s.RingOutCores(p)) }

// compared compares counts with those made by hand; what the list has besides is
// not looked at.
func compared(t *testing.T, scope string, items []Item, want map[[2]english.Text][2]float64) {
	t.Helper()
	for key, n := range want {
		if x := itemOf(items, key[0], key[1]); x.N != n[0] || x.Here != n[1] {
			t.Errorf("%s: %s %s: %v, %v of them here; want %v", scope, key[0], key[1], x.N, x.Here, n)
		}
	}
}

const newEnds = "new cores, wires, screens"

// TestMaterial counts by hand what the one loop of the sample takes.
func TestMaterial(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../../samples"), "one-loop")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	m := material(p, Scope{Loops: p.Loops})
	// Three runs of two cores land at both ends: W-2107 at 4 ends of 1.0 mm², W-21
	// and W-901 at 8 of 0.75. Screens land on JB-21/X1:9 from both sides and on
	// MC-2/X4:9 from both; they are cut back at the device and at the card. The
	// loop is all that its three cables carry, and W-21 and W-901 are rung out, 12
	// cores and 6 screens each.
	want := map[[2]english.Text][2]float64{
		{"ferrules", "0.75 mm²"}: {8}, {"ferrules", "1.0 mm²"}: {4}, {landings, newEnds}: {16}, {coreMarkers, ""}: {16},
		{caps, "ends of screens"}: {2}, {caps, "ends of cores"}: {0},
		{terminalsFit, "feed-through"}: {6}, {terminalsUsed, "feed-through"}: {0}, {inUse, "all"}: {6},
		{cableLength, "one-pair"}: {18}, {cableLength, "six-pair"}: {171}, {cableTags, ""}: {6}, {cableTies, ""}: {12}, {glands, unknown}: {6},
		{tests, throughTest}: {2 + 12 + 12}, {tests, apartTest}: {26}, {tests, insulationTest}: {26}, {tests, mainsTest}: {0},
		{tests, identityTest}: {2 + 12 + 12}, {tests, screenTest}: {1 + 6 + 6}, {tests, loopTest}: {1},
	}
	compared(t, "loop", m, want)
	practice := slices.DeleteFunc(slices.Clone(m), func(x Item) bool { return x.Group != PracticeGroup })
	// 8 mm of sleeve and 2 mm more are stripped.
	if want := []Item{
		{Group: PracticeGroup, What: "cable ties", Of: "at each end of a cable", N: 2},
		{Group: PracticeGroup, What: "cable tails", Of: "spare left at each end", N: 1, Unit: "m"},
		{Group: PracticeGroup, What: "stripped for ferrules", Of: "0.75 mm²", N: 10, Unit: "mm"},
		{Group: PracticeGroup, What: "stripped for ferrules", Of: "1.0 mm²", N: 10, Unit: "mm"},
	}; !slices.Equal(practice, want) {
		t.Errorf("practice %v, want %v", practice, want)
	}
	// Of a place what lands in it, and its far ends. Five of the six pairs of W-21
	// are coiled at both ends: 10 cores, 5 screens. Its strip has 18 terminals.
	box := material(p, Scope{Places: []*model.Place{p.Place("JB-21")}})
	compared(t, "JB-21", box, map[[2]english.Text][2]float64{
		{"ferrules", "0.75 mm²"}: {4, 2}, {"ferrules", "1.0 mm²"}: {4, 2}, {landings, newEnds}: {11, 6},
		{coreMarkers, ""}: {11 + 20, 6 + 10}, {caps, "ends of cores"}: {20, 10}, {caps, "ends of screens"}: {1 + 10, 5},
		{cableTags, ""}: {4, 2}, {glands, unknown}: {4, 2}, {cableTies, ""}: {8, 4},
		{terminalsFit, "feed-through"}: {18}, {terminalsUsed, "feed-through"}: {3}, {inUse, "all"}: {3},
		// W-2107 on the record, and W-21; not W-901, which is rung out on another sheet.
		{tests, throughTest}: {2 + 12}, {tests, screenTest}: {1 + 6}, {tests, loopTest}: {1},
	})
	// Of a cabinet, its parts: eight channels of the card are one card.
	compared(t, "PCS-1", material(p, Scope{Places: []*model.Place{p.Place("PCS-1")}}), map[[2]english.Text][2]float64{{"cards", "AI, 8 channels"}: {1}, {terminalsFit, "feed-through"}: {0}})
	compared(t, "MC-2", material(p, Scope{Places: []*model.Place{p.Place("MC-2")}}), map[[2]english.Text][2]float64{{"earth bars", ""}: {1}})
	// What is in the scope twice counts once.
	both := material(p, Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables})
	for _, key := range [][2]english.Text{{cableTags, ""}, {"ferrules", "0.75 mm²"}, {tests, throughTest}, {inUse, "all"}} {
		if a, b := itemOf(m, key[0], key[1]), itemOf(both, key[0], key[1]); a.N != b.N {
			t.Errorf("with places and cables too: %v, not %v", b, a)
		}
	}
	// What the practice does not say is not made up.
	p.Practice.StripLengths, p.Practice.TiesPerEnd = []model.Stripping{{Length: model.ShortLength{MM: 8}, Area: 0.75}}, 0
	bare := material(p, Scope{Loops: p.Loops})
	if last := bare[len(bare)-1]; itemOf(bare, cableTies, "") != (Item{}) || last.N != 0 || last.Missing != "strip length" {
		t.Errorf("ties %v, and stripped %v", itemOf(bare, cableTies, ""), last)
	}
	p.Cables[0].Length = 0
	if first := material(p, Scope{Loops: p.Loops})[0]; first != (Item{Group: MaterialGroup, What: cableLength, Of: "one-pair", Unit: "m", Lengths: 1, Missing: "length of 1"}) {
		t.Errorf("a cable of no given length is %v", first)
	}
	// Existing wiring takes nothing and is tested all the same; what comes later is
	// not tested yet.
	for status, tested := range map[model.Status]bool{model.Existing: true, model.Future: false} {
		for _, w := range p.Conductors {
			w.Status = status
		}
		for _, c := range p.Cables {
			c.Status = status
		}
		old := material(p, Scope{Loops: p.Loops})
		for _, what := range []english.Text{"ferrules", cableLength, glands, coreMarkers, landings, cableTags, caps} {
			if slices.ContainsFunc(old, func(x Item) bool { return x.What == what }) {
				t.Errorf("%s wiring takes %s", status, what)
			}
		}
		if got := itemOf(old, tests, throughTest).N; (got == 26) != tested || (got == 0) == tested {
			t.Errorf("%s wiring: %v cores are rung out", status, got)
		}
	}
}

// TestMaterialOfForms: the tests are those that the records and ring-out sheets of
// a job ask for: W-25 is rung out whole for the one loop that it carries, and
// mains cores have a test of their own.
func TestMaterialOfForms(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	of := func(tags ...string) (s Scope) {
		for _, l := range p.Loops {
			if slices.Contains(tags, l.Tag) {
				s.Loops = append(s.Loops, l)
			}
		}
		return s
	}
	// A-2301: W-2301 of a pair, two wires to the card; W-2302 of three cores. T-2310:
	// W-2310, then W-25 with 12 cores and 6 screens, then two wires.
	compared(t, "A-2301, T-2310", material(p, of("A-2301", "T-2310")), map[[2]english.Text][2]float64{
		{tests, throughTest}: {2 + 2 + 3 + 2 + 12 + 2}, {tests, insulationTest}: {2 + 2 + 12}, {tests, mainsTest}: {3},
		{tests, screenTest}: {1 + 1 + 6}, {tests, loopTest}: {2},
	})
	// Seven loops go through JB-21 and W-27's; one of them comes later.
	loops := (Scope{Places: []*model.Place{p.Place("JB-21")}}).AffectedLoops(p)
	later := 0
	for _, l := range loops {
		if l.Status == model.Future {
			later++
		}
	}
	if later != 1 {
		t.Errorf("%d loops of JB-21 come later, not 1", later)
	}
	// New in MC-2: strips of 18 + 6 + 12 + 4 + 3 plain terminals; X1, X5 and PS-21 are there.
	compared(t, "MC-2", material(p, Scope{Places: []*model.Place{p.Place("MC-2")}}), map[[2]english.Text][2]float64{
		{terminalsFit, "feed-through"}: {43}, {terminalsFit, "disconnect"}: {16}, {terminalsFit, "fused 2 A"}: {3},
		{terminalsFit, "earth"}: {2}, {"cards", "AI, 8 channels"}: {2}, {"barriers", "28 V 300 ohm 93 mA"}: {1}, {"supplies", "230 V AC"}: {1},
		{"earth bars", ""}: {2},
	})
}

// TestStripped: the size decides, in mm² or AWG (14 AWG is 2.08 mm², 12 AWG 3.31:
// NEC chapter 9 table 8).
func TestStripped(t *testing.T) {
	t.Parallel()
	usual := model.DefaultPractice()
	for size, want := range map[string]float64{
		"0.34 mm2": 10, "2.5 mm2": 10, "14 AWG stranded": 10, "4 mm2": 12, "12 AWG stranded": 12, "6 mm2 class 5": 14, "16 mm2": 14,
		"25 mm2": 0,
	} {
		c, err := copper.Parse(size)
		if err != nil {
			t.Fatal(err)
		}
		if mm, ok := usual.Stripped(c); mm.MM != want || ok != (want > 0) {
			t.Errorf("%s: %v mm, %v; want %v", size, mm, ok, want)
		}
	}
}

// TestStripLengths: what cannot be a strip length is told.
func TestStripLengths(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"10 mm": "missing-unit", "[10 mm to 2.5]": "missing-unit", "[10 to 2.5 mm2]": "missing-unit", "[10 mm to 2 in]": "unknown-unit",
		"[12 mm to 4 mm2, 10 mm to 2.5 mm2]": "number-out-of-range", "[-1 mm to 4 mm2]": "number-out-of-range", "{a: b}": "wrong-shape",
	} {
		_, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte("practice: {strip lengths: " + text + "}\nloops: {}\n")}}, "p.yaml")
		if len(problems) == 0 || problems[0].Code != want {
			t.Errorf("%s gives %v, not %s", text, problems, want)
		}
	}
}

// TestCableEnds: the ends of a conductor come in the order of the cable, even
// where the walk goes the other way.
func TestCableEnds(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	n := 0
	for _, c := range p.Cables {
		for _, core := range c.CoresAndScreens() {
			w := p.ConductorOf(core)
			from, to := c.Ends(w)
			for _, e := range []struct {
				got  model.End
				want model.CableEnd
			}{{from, c.From}, {to, c.To}} {
				at := e.got.At
				if e.got.Terminal != nil {
					at = e.got.Terminal.Part.Where()
				}
				if at != e.want.Tag() {
					t.Errorf("%s: an end is in %s, not in %s", core.Name(), at, e.want.Tag())
				}
			}
			if from != w.From {
				n++
			}
		}
	}
	if n == 0 {
		t.Error("no walk goes against its cable: the test proves nothing")
	}
}
