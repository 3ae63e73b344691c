package read

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/finding"
)

// countingPlant is a plant whose loops count on strips of every form: marks in threes, two
// decks, fused terminals beside plain ones; on pairs, and on channels. A loop by hand lands
// among them.
const countingPlant = `
cable types:
  one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}
  many: {pairs: 40, conductor: 0.75 mm2, code: black/white numbered, screen: each}
boxes:
  JB-1: {strips: {X1: {terminals: 1..120, marks: + - S}, X2: {terminals: 1..40 decks A B}}}
cabinets:
  MC-1:
    strips: {X5: {terminals: [1..3, F1..F40 fused 1 A, N1..N40]}, X6: {terminals: 1..80}}
    cards: {AI-1: {kind: AI, power: loop, channels: 40}}
cables:
  W-1: {type: many, from: JB-1, to: MC-1, spares: {pair 2: {from: X1 4 5 6, to: X6 79 80 78}}}
  W-9: {type: one, from: PT-9, to: JB-1}
patterns:
  p:
    cables: {W-<n>: {type: one, from: PT-<n>, to: JB-1}}
    loops:
      P-<n>:
        service: pressure
        devices: {PT-<n>: {kind: transmitter}}
        circuits:
          PT-<n>:
            - PT-<n> + -
            - W-<n>
            - JB-1/X1 <next> next next
            - wires
            - JB-1/X2 <next> next
            - W-1 pair <next>
            - MC-1/X6 <next> next
            - +: [wires, MC-1/X5 F<next>]
              -: [wires, AI-1 channel <next> +>-, wires, MC-1/X5 N<next>]
loops:
  P-9:
    service: by hand
    devices: {PT-9: {kind: transmitter}}
    circuits:
      PT-9: [PT-9 + -, W-9, JB-1/X1 10 next next, wires, JB-1/X2 2A next, W-1 pair 3, MC-1/X6 1 2, wires, AI-1 channel 2]
`

// counted reads the plant with these rows, and with what was kept of an earlier one.
func counted(t *testing.T, rows []int, kept []byte) (*model.Plant, finding.Findings) {
	t.Helper()
	var b strings.Builder
	b.WriteString(countingPlant + "like loops:\n  - pattern: p\n    rows:\n")
	for _, n := range rows {
		fmt.Fprintf(&b, "      - {n: %d}\n", n)
	}
	files := fstest.MapFS{"p/plant.yaml": {Data: []byte(b.String())}}
	if kept != nil {
		files["p/counted.yaml"] = &fstest.MapFile{Data: kept}
	}
	p, _, found := Read(files, "p")
	return p, found
}

// placesOf are the places of every loop, in words.
func placesOf(p *model.Plant) map[string]string {
	all := map[string]string{}
	for _, c := range p.Counted {
		all[c.Loop] += fmt.Sprintf(" %s:%s", c.On, strings.Join(c.Places, ","))
	}
	return all
}

// TestCountedPlaces: places are given in the order of the strip, cable or card; what is
// written by hand, a listed spare, and marks of another turn are passed over. The places
// are worked out by hand here.
func TestCountedPlaces(t *testing.T) {
	t.Parallel()
	p, found := counted(t, []int{101, 102, 103}, nil)
	if found.Errors() > 0 {
		t.Fatal(found)
	}
	for loop, want := range map[string]string{
		"P-101": " JB-1/X1:1 JB-1/X2:1A W-1:1 MC-1/X6:3 MC-1/X5:F1,N1 AI-1:1",
		"P-102": " JB-1/X1:7 JB-1/X2:3A W-1:4 MC-1/X6:5 MC-1/X5:F2,N2 AI-1:3",
		"P-103": " JB-1/X1:13 JB-1/X2:4A W-1:5 MC-1/X6:7 MC-1/X5:F3,N3 AI-1:4",
	} {
		got := strings.Fields(placesOf(p)[loop])
		wanted := strings.Fields(want)
		slices.Sort(got)
		slices.Sort(wanted)
		if !slices.Equal(got, wanted) {
			t.Errorf("%s: %v, not %v", loop, got, wanted)
		}
	}
	hand := p.PartByTag["JB-1/X1"].TerminalByName["12"]
	if len(hand.Ends) == 0 {
		t.Error("next by hand is not the terminal after the one before")
	}
}

// TestCountedPlacesStay: whatever rows are put in, taken out or turned round, no loop that
// has a place gets another; no two loops have one; a place of a row that is gone is told,
// and given to no other until it is taken out.
func TestCountedPlacesStay(t *testing.T) {
	t.Parallel()
	w := rand.New(rand.NewPCG(7, 1))
	var kept []byte
	had := map[string]string{}
	rows := []int{101, 102, 103, 104}
	for turn := range 12 {
		p, found := counted(t, rows, kept)
		if found.Errors() > 0 {
			t.Fatalf("turn %d: %v", turn, found)
		}
		at, owner := placesOf(p), map[string]string{}
		for loop, was := range had {
			if at[loop] != was {
				t.Fatalf("turn %d: %s moved from%s to%s", turn, loop, was, at[loop])
			}
		}
		gone := 0
		for _, c := range p.Counted {
			for _, place := range c.Places {
				key := c.On + ":" + place
				if owner[key] != "" && owner[key] != c.Loop {
					t.Fatalf("turn %d: %s is of %s and of %s", turn, key, owner[key], c.Loop)
				}
				owner[key] = c.Loop
			}
		}
		for loop := range had {
			if !slices.ContainsFunc(rows, func(n int) bool { return fmt.Sprintf("P-%d", n) == loop }) {
				gone++
			}
		}
		told := 0
		for _, f := range found {
			if f.Code == finding.KeptUnused.Code {
				told++
			}
		}
		if told != 6*gone { // six things that each counts on
			t.Errorf("turn %d: %d loops are gone, and %d places told", turn, gone, told)
		}
		had = at
		text, err := CountedText(p, "p/counted.yaml")
		if err != nil {
			t.Fatal(err)
		}
		kept = text
		again, _ := counted(t, rows, kept)
		if same, err := CountedText(again, "p/counted.yaml"); err != nil || string(same) != string(kept) {
			t.Fatalf("turn %d: the kept places come back otherwise:\n%s\n%s", turn, kept, same)
		}
		for _, c := range again.Counted {
			if c.New {
				t.Errorf("turn %d: %s of %s is kept, and new", turn, c.On, c.Loop)
			}
		}
		switch w.IntN(3) {
		case 0:
			rows = slices.Insert(rows, w.IntN(len(rows)+1), 200+turn)
		case 1:
			w.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		default:
			if at := w.IntN(len(rows)); len(rows) > 2 {
				rows = slices.Delete(rows, at, at+1)
			}
		}
	}
}

// TestCountedBesideOneFile: a plant in one file has its kept places beside it.
func TestCountedBesideOneFile(t *testing.T) {
	t.Parallel()
	text := []byte(countingPlant + "like loops: [{pattern: p, rows: [{n: 101}]}]\n")
	p, _, found := Read(fstest.MapFS{"a/b.yaml": {Data: text},
		"a/b.counted.yaml": {Data: []byte("counted: {P-101: {PT-101: {JB-1/X1: 25}}}\n")}}, "a/b.yaml")
	if found.Errors() > 0 || !strings.Contains(placesOf(p)["P-101"], "JB-1/X1:25") {
		t.Errorf("%v %v", placesOf(p), found)
	}
}

// TestCountedRefused: a kept place that cannot be, and one that another has, are errors
// that name both places; so is a strip that is full.
func TestCountedRefused(t *testing.T) {
	t.Parallel()
	for kept, code := range map[string]string{
		"{P-101: {PT-101: {JB-1/X1: 10}}}":                                 "kept-taken", // by hand
		"{P-101: {PT-101: {W-1: 2}}}":                                      "kept-taken", // a spare that is listed
		"{P-101: {PT-101: {JB-1/X1: 13}}, P-102: {PT-102: {JB-1/X1: 13}}}": "kept-taken", // by another row
		"{P-101: {PT-101: {JB-1/X1: 14}}}":                                 "kept-gone",  // not where the marks begin
		"{P-101: {PT-101: {JB-1/X1: 121}}}":                                "kept-gone",
		"{P-101: {PT-101: {MC-1/X5: N1}}}":                                 "kept-gone", // the first that it counts is F
	} {
		_, found := counted(t, []int{101, 102}, []byte("counted: "+kept+"\n"))
		i := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Code == code })
		if i < 0 || found[i].Pos.File != "p/counted.yaml" || len(found[i].Also) == 0 || found[i].Also[0].Pos.File == "" {
			t.Errorf("%s: %v", kept, found)
		}
	}
	var rows []int
	for n := range 39 {
		rows = append(rows, 101+n)
	}
	if _, found := counted(t, rows, nil); !strings.Contains(fmt.Sprint(found), "[no-place-left]") {
		t.Errorf("a full cable: %v", found)
	}
}

// TestSpansOfPaths: spans, and words that follow the one before, land as the names do that
// they stand for, on two decks too; a span of what is not there is told as it stands.
func TestSpansOfPaths(t *testing.T) {
	t.Parallel()
	const long = "JB-1/X1 10 next next, wires, JB-1/X2 2A next, W-1 pair 3, MC-1/X6 1 2,"
	ends := func(path string) (all []string, found finding.Findings) {
		text := strings.Replace(countingPlant, long, path, 1)
		if path != long && text == countingPlant {
			t.Fatal("the plant has another form")
		}
		p, _, found := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		for _, x := range p.Conductors {
			if x.Circuit != nil {
				all = append(all, x.From.Tag()+" "+x.To.Tag())
			}
		}
		return all, found
	}
	want, found := ends("JB-1/X1 10 11 12, wires, JB-1/X2 2A 2B, W-1 pair 3, MC-1/X6 1 2,")
	if found.Errors() > 0 || len(want) < 8 {
		t.Fatal(found)
	}
	for _, path := range []string{long, "JB-1/X1 10..12, wires, JB-1/X2 2A..2B, W-1 pair 3, MC-1/X6 1..2,", "JB-1/X1 10..11 screen next, wires, JB-1/X2 2A..2B, W-1 cores 5..6, MC-1/X6 1 next,"} {
		if got, found := ends(path); found.Errors() > 0 || !slices.Equal(got, want) {
			t.Errorf("%s: %v %v", path, got, found)
		}
	}
	if _, found := ends("JB-1/X1 10..122, wires, JB-1/X2 2A..2B, W-1 pair 3, MC-1/X6 1..2,"); !strings.Contains(fmt.Sprint(found), "has no 10..122") {
		t.Error(found)
	}
}

// TestCountedOnBoards: on a board places are counted in its own order, along the rows or
// down the columns, whichever of row and column has letters.
func TestCountedOnBoards(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ strip, words, want string }{
		{"terminals: 1A..3D, grid: 3 x 4", "<next> next", "1A,1B 1C,1D 2A,2B 2C,2D"},
		{"terminals: A1..C4, grid: 3 x 4", "<next> next", "A1,A2 A3,A4 B1,B2 B3,B4"},
		{"terminals: A1..C4", "C<next> next", "C1,C2 C3,C4"},
		{"terminals: [1A..3A, 1B..3B, 1C..3C, 1D..3D], grid: 3 x 4 by columns", "<next> next", "1A,2A 3A,1B 2B,3B 1C,2C"},
		{"terminals: 1A..3C, grid: 3 x 3, marks: + - S", "<next> next", "1A,1B 2A,2B 3A,3B"},
	} {
		text := "boxes: {JB-1: {strips: {X1: {" + c.strip + "}}}}\nloops:\n"
		for n := range strings.Fields(c.want) {
			text += fmt.Sprintf("  P-%d: {service: s, devices: {PT-%[1]d: {kind: transmitter}}, circuits: {PT-%[1]d: [PT-%[1]d + -, wires, JB-1/X1 %s]}}\n", n, c.words)
		}
		p, _, found := Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
		if found.Errors() > 0 {
			t.Errorf("%s: %v", c.strip, found)
		}
		var got []string
		for _, l := range p.Loops {
			var names []string
			for _, termination := range l.Circuits[0].Path.Stations[1].Terminations {
				names = append(names, termination.In.Name)
			}
			got = append(got, strings.Join(names, ","))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: counted %s, not %s", c.strip, s, c.want)
		}
	}
}

// TestCablesByPaths: a cable in one line, of a loop, and without ends is the very cable that
// is written out; devices have terminals in an order too.
func TestCablesByPaths(t *testing.T) {
	t.Parallel()
	const plain = `plant: P
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}, many: {pairs: 6, conductor: 0.75 mm2, code: black/white numbered, screen: none}, three: {triads: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
boxes: {JB-1: {strips: {X1: {terminals: 1..9}}}}
cabinets: {MC-1: {strips: {X1: {terminals: 1..9}}, cards: {AI-1: {kind: AI, power: card, channels: 2}, R-1: {kind: RTD, channels: 1}, RO: {kind: AO, channels: 1}}}}
cables:
  W-1: {type: one, from: FT-1, to: JB-1, length: 18 m}
  H-1: {type: many, from: JB-1, to: MC-1}
  W-2: {type: three, from: TE-1, to: MC-1, length: 60 ft}
loops:
  F-1: {service: flow, devices: {FT-1: {kind: transmitter}}, circuits: {FT-1: [FT-1 + -, W-1, JB-1/X1 1 2, {1: [H-1 core 3, MC-1/X1 1, wires, AI-1 channel 1 +], 2: [H-1 core 4, MC-1/X1 2, wires, AI-1 channel 1 -]}]}}
  T-1: {service: heat, devices: {TE-1: {kind: RTD 3-wire}}, circuits: {TE-1: [TE-1 1 2 3, W-2, R-1 channel 1]}}
`
	facts := func(text string) []string {
		p, _, found := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		for _, f := range found {
			t.Fatalf("%v: %s in\n%s", f.Pos, f.Text, text)
		}
		var all []string
		for _, c := range p.Cables {
			all = append(all, c.Tag, c.Type.Name, c.From.Tag(), c.To.Tag(), model.Plain(c.Length))
		}
		for _, x := range p.Conductors {
			all = append(all, x.Fact())
		}
		slices.Sort(all)
		return all
	}
	want := facts(plain)
	short := strings.NewReplacer("W-1: {type: one, from: FT-1, to: JB-1, length: 18 m}", "W-1: one 18 m", "{type: many, from: JB-1, to: MC-1}", "many",
		"  W-2: {type: three, from: TE-1, to: MC-1, length: 60 ft}\n", "", "{service: heat, ", "{service: heat, cables: {W-2: {type: three, length: 60 ft}}, ", "TE-1 1 2 3", "TE-1 1 next next").Replace(plain)
	for _, text := range []string{short, strings.Replace(short, "1 next next", "1..3", 1), strings.Replace(short, "{type: three, length: 60 ft}", "three 60 ft", 1)} {
		if got := facts(text); !slices.Equal(got, want) {
			t.Errorf("it is\n%q\nnot\n%q\nof\n%s", got, want, text)
		}
	}
	p, _, found := Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.Replace(short, "W-2: {type", "W-9: one 3 m, W-2: {type", 1))}}, "p.yaml")
	if len(found) != 2 || found[0].Code != finding.MissingKey.Code || !strings.Contains(found[0].Text, "W-9") || p == nil {
		t.Errorf("a cable that no path has is told by %v", found)
	}
}
