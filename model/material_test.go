package model

import (
	"os"
	"slices"
	"testing"
	"testing/fstest"
)

// TestMaterial counts by hand what the one loop of the sample takes.
func TestMaterial(t *testing.T) {
	p, _, problems := Read(os.DirFS("../samples"), "one-loop")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	m := p.Material(Scope{Loops: p.Loops})
	// Three runs of two cores land at both ends: six landings of 1.0 mm² less
	// none at the device end of W-2107 (2 cores x 2 ends = 4), and eight of 0.75.
	if want := []Count{{"0.75 mm²", 8}, {"1.0 mm²", 4}}; !slices.Equal(m.Ferrules, want) {
		t.Errorf("ferrules %v, want %v", m.Ferrules, want)
	}
	// Screens land on JB-21/X1:9 from both sides and on MC-2/X4:9 from both.
	screens := 0
	for _, w := range p.Loops[0].Circuits[0].Conductors(p) {
		for _, e := range []End{w.From, w.To} {
			if w.Screen && e.Terminal != nil {
				screens++
			}
		}
	}
	if m.Landings != 12+screens || m.Markers != m.Landings {
		t.Errorf("%d landings, %d markers, want 12 and %d of screens", m.Landings, m.Markers, screens)
	}
	// JB-21/X1 7 8 9 and MC-2/X4 7 8 9.
	if want := []Count{{"feed-through", 6}}; !slices.Equal(m.Terminals, want) || m.InUse != 6 {
		t.Errorf("terminals %v, %d in use; want %v", m.Terminals, m.InUse, want)
	}
	// The loop is all that its three cables carry.
	if want := []Length{{"one-pair", 1, 18, 0}, {"six-pair", 2, 171, 0}}; !slices.Equal(m.Cables, want) || m.CableTags != 6 {
		t.Errorf("cables %v, %d tags; want %v, 6", m.Cables, m.CableTags, want)
	}
	if want := []Count{{unknown, 6}}; !slices.Equal(m.Glands, want) {
		t.Errorf("glands %v, want %v", m.Glands, want)
	}
	if want := []Count{{throughTest, 6}, {apartTest, 6}, {insulationTest, 6}, {polarityTest, 6}, {screenTest, 3}, {loopTest, 1}}; !slices.Equal(m.Tests, want) {
		t.Errorf("tests %v, want %v", m.Tests, want)
	}
	// Two ties at each of six ends; 8 mm of sleeve and 2 mm more are stripped.
	if m.Ties != 12 {
		t.Errorf("ties %d, want 12", m.Ties)
	}
	want := []Item{
		{PracticeGroup, "cable ties", "at each end of a cable", 2, "", 0, ""}, {PracticeGroup, "cable tails", "left at each end when a cable is cut", 1, "m", 0, ""},
		{PracticeGroup, "stripped for ferrules", "0.75 mm²", 10, "mm", 0, ""}, {PracticeGroup, "stripped for ferrules", "1.0 mm²", 10, "mm", 0, ""},
	}
	if !slices.Equal(m.Practice, want) {
		t.Errorf("practice %v, want %v", m.Practice, want)
	}
	// Of a place only what lands in it.
	box := p.Material(Scope{Places: []*Place{p.Place("JB-21")}})
	if want := []Count{{"0.75 mm²", 2}, {"1.0 mm²", 2}}; !slices.Equal(box.Ferrules, want) {
		t.Errorf("ferrules in JB-21 %v, want %v", box.Ferrules, want)
	}
	// What is in the scope twice counts once.
	both := p.Material(Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables})
	if both.CableTags != m.CableTags || !slices.Equal(both.Ferrules, m.Ferrules) {
		t.Errorf("with places and cables too: %d tags, ferrules %v", both.CableTags, both.Ferrules)
	}
	// What the practice does not say is not made up.
	p.Practice.Strips, p.Practice.Ties = []Stripping{{8, 0.75}}, 0
	bare := p.Material(Scope{Loops: p.Loops})
	if last := bare.Practice[len(bare.Practice)-1]; bare.Ties != 0 || last.N != 0 || last.Missing != "strip length" {
		t.Errorf("%d ties, and stripped %v", bare.Ties, last)
	}
	p.Cables[0].Length = 0
	if first := p.Material(Scope{Loops: p.Loops}).Items()[0]; first != (Item{MaterialGroup, "cable", "one-pair", 0, "m", 1, "length of 1"}) {
		t.Errorf("a cable of no given length is %v", first)
	}
	// Existing wiring takes nothing and is tested all the same.
	for _, w := range p.Conductors {
		w.Status = InPlace
	}
	for _, c := range p.Cables {
		c.Status = InPlace
	}
	old := p.Material(Scope{Loops: p.Loops})
	if len(old.Ferrules)+len(old.Cables)+len(old.Glands)+old.Markers+old.Landings+old.CableTags != 0 {
		t.Errorf("existing wiring takes %v", old)
	}
	if !slices.Equal(old.Tests, m.Tests) {
		t.Errorf("existing wiring is tested by %v, new by %v", old.Tests, m.Tests)
	}
}

// TestStripped: the size decides, in mm² or AWG (14 AWG is 2.08 mm², 12 AWG 3.31:
// NEC chapter 9 table 8).
func TestStripped(t *testing.T) {
	usual := DefaultPractice()
	for size, want := range map[string]float64{
		"0.34 mm2": 10, "2.5 mm2": 10, "14 AWG stranded": 10, "4 mm2": 12, "12 AWG stranded": 12, "6 mm2 class 5": 14, "16 mm2": 14,
		"25 mm2": 0,
	} {
		c, err := ParseCopper(size)
		if err != nil {
			t.Fatal(err)
		}
		if mm, ok := usual.Stripped(c); mm != want || ok != (want > 0) {
			t.Errorf("%s: %v mm, %v; want %v", size, mm, ok, want)
		}
	}
}

// TestStripLengths: what cannot be a strip length is told.
func TestStripLengths(t *testing.T) {
	for text, want := range map[string]string{
		"10 mm": "missing-unit", "[10 mm to 2.5]": "missing-unit", "[10 to 2.5 mm2]": "missing-unit", "[10 mm to 2 in]": "unknown-unit",
		"[12 mm to 4 mm2, 10 mm to 2.5 mm2]": "number-out-of-range", "[-1 mm to 4 mm2]": "number-out-of-range", "{a: b}": "wrong-shape",
	} {
		_, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte("practice: {strip lengths: " + text + "}\nloops: {}\n")}}, "p.yaml")
		if len(problems) == 0 || problems[0].Code != want {
			t.Errorf("%s gives %v, not %s", text, problems, want)
		}
	}
}

// TestCableEnds: the ends of a conductor come in the order of the cable, even
// where the walk goes the other way.
func TestCableEnds(t *testing.T) {
	p, _, _ := Read(os.DirFS("../samples"), "tern-island")
	n := 0
	for _, c := range p.Cables {
		for _, core := range c.Strands() {
			w := p.ConductorOf(core)
			from, to := c.Ends(w)
			for _, e := range []struct {
				got  End
				want CableEnd
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
