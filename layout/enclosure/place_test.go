package enclosure_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/pdf"
)

// written reads a plant from text and fails on errors of reading.
func written(t *testing.T, text string) *model.Plant {
	t.Helper()
	p, src, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if problems.Errors() > 0 {
		var b strings.Builder
		problems.Print(&b, src)
		t.Fatal(b.String())
	}
	return p
}

func sample(t *testing.T, name string) *model.Plant {
	t.Helper()
	if _, err := fs.Stat(os.DirFS("../../samples"), name); err != nil {
		t.Skip(err)
	}
	p, src, problems := read.Read(os.DirFS("../../samples"), name)
	if problems.Errors() > 0 {
		var b strings.Builder
		problems.Print(&b, src)
		t.Fatal(b.String())
	}
	return p
}

func places(kind string) bool { return kind == sheet.Box || kind == sheet.Cabinet }

// drawnPlaces draws the box and cabinet sheets of a plant and looks each over.
func drawnPlaces(t *testing.T, p *model.Plant, keep func(string) bool) ([]*sheet.Sheet, []*render.Page) {
	t.Helper()
	pl := layout.New(p, false, keep)
	var sheets []*sheet.Sheet
	var pages []*render.Page
	i := 0
	for page, problems := range pl.Pages() {
		s := pl.Sheets[i]
		i++
		if !places(s.Kind.Name) {
			continue
		}
		for _, pr := range problems {
			t.Errorf("%s: %s", s.Name, pr)
		}
		if err := page.Check(); err != nil {
			t.Error(err)
		}
		edge := s.Paper.Edge()
		for k, f := range render.Audit(page, edge.Min, edge.Max) {
			if k < 10 {
				t.Errorf("%s: %s: %s at %v", s.Name, f.Kind, f.Text, f.At)
			}
		}
		sheets = append(sheets, s)
		pages = append(pages, page)
	}
	return sheets, pages
}

// strip is a plant with one box of n terminals and a cable of pairs through
// it, used pairs of which carry a loop.
func strip(n, pairs, used int, practice, extra string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `
plant: Heron Sluice
practice: {%s}
cable types:
  drop: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall, gland: M20 brass}
  trunk: {pairs: %d, conductor: 0.75 mm2, code: 25-pair, screen: each and overall}
boxes:
  JB-1:
    at: Weir walk
    earths: {IE: instrument earth}
    strips:
      X1: {terminals: 1..%d, marks: + - S%s}
cabinets:
  MC-1:
    earths: {IE: instrument earth}
    strips:
      X1: {terminals: 1..%d, marks: + - S, bonded: 3..%d step 3 to IE}
systems:
  PCS-1:
    cards:
      AI-1: {kind: AI, power: card, channels: %d}
cables:
  W-1: {type: trunk, from: JB-1, to: MC-1, length: 120 m, overall: {from: x, to: IE}}
`, practice, pairs, n, extra, max(n, 3), max(n, 3), max(used, 1))
	for i := range used {
		fmt.Fprintf(&b, "  D-%d: {type: drop, from: FT-%d, to: JB-1}\n", i+1, i+1)
	}
	b.WriteString("  S-1: {type: trunk, from: MC-1, to: PCS-1}\nloops:\n")
	for i := range used {
		fmt.Fprintf(&b, `  F-%[1]d:
    service: Flow %[1]d
    devices:
      FT-%[1]d: {kind: transmitter, range: 0..10 m3/h, lift-off: 10 V}
    circuits:
      FT-%[1]d:
        - FT-%[1]d + -
        - D-%[1]d
        - JB-1/X1 %[2]d %[3]d %[4]d
        - W-1 pair %[1]d
        - MC-1/X1 %[2]d %[3]d %[4]d
        - S-1 pair %[1]d
        - AI-1 channel %[1]d
`, i+1, 3*i+1, 3*i+2, 3*i+3)
	}
	return b.String()
}

func TestPlacesPassTheAudit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, text string }{
		{"one terminal", strip(3, 1, 1, "paper: A3", "}\n      X2: {terminals: 1")},
		{"forty", strip(40, 24, 12, "paper: A3", ", jumpers: [1 4 7, 2 5, 38..40]")},
		{"two hundred", strip(200, 50, 50, "paper: 11x17, colour names: words", ", jumpers: 1..100")},
		{"fifty pairs, most spare", strip(30, 50, 4, "paper: 11x17, pair names: colour, core markers: own", "")},
		{"every kind", everyKind},
		{"eighty screens on a bar", screensOnBar(80)},
	} {
		t.Run(c.name, func(t *testing.T) {
			drawnPlaces(t, written(t, c.text), places)
		})
	}
}

// screensOnBar is a plant with a cabinet that has n screens on one earth bar.
func screensOnBar(n int) string {
	var cables, loops strings.Builder
	for i := range n {
		fmt.Fprintf(&cables, "  D-%d: {type: drop, from: FT-%d, to: MC-1, length: 30 m}\n", i+1, i+1)
		fmt.Fprintf(&loops, `  F-%[1]d:
    service: Flow %[1]d
    devices:
      FT-%[1]d: {kind: transmitter, range: 0..10 m3/h, lift-off: 10 V}
    circuits:
      FT-%[1]d:
        - FT-%[1]d + -
        - D-%[1]d
        - MC-1/X1 %[2]d %[3]d screen IE
        - wires
        - AI-1 channel %[1]d
`, i+1, 2*i+1, 2*i+2)
	}
	return fmt.Sprintf(`
plant: Heron Sluice
cable types:
  drop: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}
cabinets:
  MC-1:
    wire: 0.75 mm2 BU
    earths: {IE: instrument earth}
    strips:
      X1: {terminals: 1..%d, marks: + -}
    cards:
      AI-1: {kind: AI, power: card, channels: %d}
cables:
%sloops:
%s`, 2*n, n, cables.String(), loops.String())
}

// everyKind has one of each kind of terminal and part, long tags, and screens
// and cores cut back.
const everyKind = `
plant: Heron Sluice
practice: {box word: Marshalling box, mark-up key: ["yellow: proved"], cautions: [Gas test before the lid comes off.]}
cable types:
  drop: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}
  trunk: {pairs: 6, conductor: 0.75 mm2, code: 25-pair, screen: each}
  control: {cores: 7, conductor: 1.5 mm2, code: black numbered, screen: none}
boxes:
  HS-20-JB-0021-A:
    at: Sluice house, ground floor, east wall behind the penstock drive
    status: existing
    strips:
      X1: {terminals: [1..6, 7..8 disconnect, F9..F10 fused 500 mA, 11 diode, PE earth, 21..22 decks A B, TERMINAL-31], jumpers: [1 4, 2 5, 21A 22A]}
cabinets:
  MC-1:
    earths: {IE: instrument earth}
    wire: 0.75 mm2 BU
    strips:
      X1: {terminals: [1..6, F1..F2 fused 2 A], bonded: 3..6 step 3 to IE, jumpers: F1 F2}
    barriers:
      BR-1: {model: twin channel}
    supplies:
      PS-1: {volts: 24 V DC, circuit: DP-1/4, fuse: 6 A}
    feeds: [PS-1 + to X1 F1]
    cards:
      AI-1: {kind: AI, power: card, channels: 2, address: rack 1 slot 2}
      DO-1: {kind: DO, power: loop, channels: 2}
cables:
  HS-20-W-FT-0001-A: {type: drop, from: FT-1, to: HS-20-JB-0021-A, length: 12.5 m, status: existing}
  HS-20-W-0021: {type: trunk, from: HS-20-JB-0021-A, to: MC-1, length: 80 m, glands: [M32 Ex e, M32], spares: {pair 5: {from: x, to: x}, pair 6: coiled}}
  C-1: {type: control, from: XV-1, to: HS-20-JB-0021-A, status: future}
loops:
  F-1:
    service: Flow
    devices:
      FT-1: {kind: transmitter, range: 0..10 m3/h, lift-off: 10 V}
    circuits:
      FT-1:
        - FT-1 + -
        - HS-20-W-FT-0001-A
        - HS-20-JB-0021-A/X1 1 2 3
        - HS-20-W-0021 pair 1
        - MC-1/X1 1 2 screen 3
        - wires
        - BR-1
        - wires
        - AI-1 channel 1
  X-1:
    service: Drain valve
    devices:
      XV-1: {kind: solenoid}
    circuits:
      XV-1:
        - XV-1 + -
        - C-1 cores 1 2
        - HS-20-JB-0021-A/X1 F9 7
        - HS-20-W-0021 pair 2
        - MC-1/X1 4 5 screen 6
        - wires RD BK
        - DO-1 channel 1
`

// landingGroups finds the groups with a key of data, by that key's value.
func landingGroups(items []render.Item, key string) (found []*render.Group) {
	for _, item := range items {
		if g, ok := item.(*render.Group); ok {
			if datum(g, key) != "" {
				found = append(found, g)
			}
			found = append(found, landingGroups(g.Items, key)...)
		}
	}
	return found
}

func datum(g *render.Group, key string) string {
	for _, d := range g.Data {
		if d.Key == key {
			return d.Value
		}
	}
	return ""
}

// Every terminal of every place is drawn once, and every conductor end that
// lands there, with its colour and far end beside it.
func TestPlacesShowEveryLanding(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{"forty": strip(40, 24, 12, "paper: A3", ""), "every kind": everyKind} {
		t.Run(name, func(t *testing.T) {
			p := written(t, text)
			_, pages := drawnPlaces(t, p, places)
			terminals, landings := map[string]int{}, map[string]*render.Group{}
			for _, page := range pages {
				for _, g := range landingGroups(page.Items, "terminal") {
					terminals[datum(g, "terminal")]++
				}
				for _, g := range landingGroups(page.Items, "here") {
					landings[datum(g, "conductor")+" at "+datum(g, "here")] = g
				}
			}
			for _, place := range p.Places {
				for _, part := range place.Parts {
					for _, tm := range part.Terminals {
						if terminals[tm.Tag()] != 1 {
							t.Errorf("terminal %s is drawn %d times", tm.Tag(), terminals[tm.Tag()])
						}
						for _, u := range tm.Ends {
							c := u.Conductor
							g := landings[wording.ConductorName(c)+" at "+tm.Tag()]
							if g == nil {
								t.Errorf("%s is not drawn at %s", wording.ConductorName(c), tm.Tag())
								continue
							}
							far := c.From
							if c.From.Terminal == tm {
								far = c.To
							}
							words := layouttest.TextsOf(g.Items)
							if !slices.Contains(words, far.Tag()) {
								t.Errorf("%s at %s: far end %s is not in %q", wording.ConductorName(c), tm.Tag(), far.Tag(), words)
							}
							if want := c.Colour.Letters(); want != "" && !slices.Contains(words, want) {
								t.Errorf("%s at %s: colour %s is not in %q", wording.ConductorName(c), tm.Tag(), want, words)
							}
						}
					}
				}
			}
		})
	}
}

// A pair with its screen stays on one sheet, and sheets say both ways where
// the strip goes on.
func TestLongStripGoesOn(t *testing.T) {
	t.Parallel()
	sheets, pages := drawnPlaces(t, written(t, strip(150, 50, 50, "paper: A3", ", jumpers: 1 148")), func(k string) bool { return k == sheet.Box })
	if len(sheets) < 4 {
		t.Fatalf("150 terminals stand on %d sheets", len(sheets))
	}
	on := map[string]string{} // loop to sheet
	for i, page := range pages {
		for _, g := range landingGroups(page.Items, "loop") {
			loop := datum(g, "loop")
			if was := on[loop]; was != "" && was != page.Name {
				t.Errorf("loop %s is torn over %s and %s", loop, was, page.Name)
			}
			on[loop] = page.Name
		}
		words := strings.Join(layouttest.TextsOf(page.Items), "\n")
		if i > 0 && !strings.Contains(words, fmt.Sprintf("continued from sheet %d", sheets[i-1].No)) {
			t.Errorf("%s does not say where it comes from", page.Name)
		}
		if i+1 < len(pages) && !strings.Contains(words, fmt.Sprintf("continued on sheet %d", sheets[i+1].No)) {
			t.Errorf("%s does not say where it goes on", page.Name)
		}
	}
	if len(on) != 50 {
		t.Errorf("%d of 50 loops are drawn", len(on))
	}
}

// The line of a conductor ends on the edge of its terminal.
func TestConductorsEndOnTerminals(t *testing.T) {
	t.Parallel()
	_, pages := drawnPlaces(t, written(t, everyKind), places)
	n := 0
	for _, page := range pages {
		var boxes []*render.Line
		for _, g := range landingGroups(page.Items, "terminal") {
			for _, item := range g.Items {
				if l, ok := item.(*render.Line); ok && l.Closed {
					boxes = append(boxes, l)
				}
			}
		}
		for _, g := range landingGroups(page.Items, "here") {
			if !strings.Contains(datum(g, "here"), ":") {
				continue // cut back
			}
			line := g.Items[0].(*render.Line)
			end := line.Points[len(line.Points)-1]
			n++
			if !slices.ContainsFunc(boxes, func(b *render.Line) bool {
				return end.Y > b.Points[0].Y && end.Y < b.Points[2].Y && (end.X == b.Points[0].X || end.X == b.Points[2].X)
			}) {
				t.Errorf("%s: %s ends at %v, on no terminal", page.Name, g.ID, end)
			}
		}
	}
	if n == 0 {
		t.Error("nothing lands")
	}
}

// Spare pairs are all told of, landed or not, and the totals add up.
func TestSparesAreListed(t *testing.T) {
	t.Parallel()
	_, pages := drawnPlaces(t, written(t, strip(30, 50, 4, "paper: A3", "")), func(k string) bool { return k == sheet.Box })
	pairs := map[string]bool{}
	var words []string
	for _, page := range pages {
		for _, g := range landingGroups(page.Items, "spare") {
			if datum(g, "cable") == "W-1" && datum(g, "group") != "0" {
				for _, n := range strings.Fields(datum(g, "group")) {
					pairs[n] = true
				}
			}
		}
		words = append(words, layouttest.TextsOf(page.Items)...)
	}
	if len(pairs) != 46 {
		t.Errorf("%d spare pairs are listed, of 46", len(pairs))
	}
	for _, w := range []string{"13 to 30", "18 spare"} {
		if !slices.Contains(words, w) {
			t.Errorf("no sheet says %q", w)
		}
	}
	tags := map[string]bool{}
	for _, page := range pages {
		for _, g := range landingGroups(page.Items, "terminal") {
			tags[datum(g, "terminal")] = true
		}
	}
	for n := 13; n <= 30; n++ {
		if tag := fmt.Sprintf("JB-1/X1:%d", n); !tags[tag] {
			t.Errorf("no group is of terminal %s", tag)
		}
	}
	if row := regexp.MustCompile(`W-1\ntrunk\nMC-1\n120 m\nNOT GIVEN\n50 pairs\n4\n46\n`); !row.MatchString(strings.Join(words, "\n")) {
		t.Error("the totals of W-1 are not 4 in use and 46 spare")
	}
}

func TestSamplePlaces(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"one-loop", "tern-island"} {
		t.Run(name, func(t *testing.T) { drawnPlaces(t, sample(t, name), nil) })
	}
}

// A loop is referred to by sheet and zone with a live link, and the loop's
// sheet can refer back to terminals, cables and places.
func TestPlacesReferBothWays(t *testing.T) {
	t.Parallel()
	p := written(t, strip(12, 2, 1, "paper: A3", ""))
	pl := layout.New(p, false, func(k string) bool { return k == sheet.Loop || places(k) })
	loop, ok := pl.Ref(sheet.Loop, p.Loops[0].Circuits[0])
	if !ok {
		t.Fatal("no loop sheet")
	}
	i := 0
	for page := range pl.Pages() {
		s := pl.Sheets[i]
		i++
		if s == loop.Sheet { // the middle of the box's own terminal on it
			g := landingGroups(page.Items, "terminal")[2]
			if tag := datum(g, "terminal"); tag != "JB-1/X1:1" {
				t.Fatalf("the third terminal on the loop sheet is %s", tag)
			}
			corners := g.Items[0].(*render.Line).Points
			loop.At = render.Point{X: (corners[0].X + corners[2].X) / 2, Y: (corners[0].Y + corners[2].Y) / 2}
		}
		if s.Kind.Name != sheet.Box {
			continue
		}
		if want := "F-1  " + loop.String(); !slices.Contains(layouttest.TextsOf(page.Items), want) {
			t.Errorf("%s does not say %q", page.Name, want)
		}
		if !slices.ContainsFunc(page.Items, func(item render.Item) bool {
			l, ok := item.(*render.Link)
			return ok && l.Page == loop.Sheet.Name
		}) {
			t.Errorf("%s has no link to %s", page.Name, loop.Sheet.Name)
		}
	}
	for kind, things := range map[string][]any{
		sheet.Box:     {p.Place("JB-1"), p.Part("JB-1/X1").Terminals[11], p.Part("JB-1/IE").Terminals[0], p.Cable("W-1"), p.Cable("D-1")},
		sheet.Cabinet: {p.Place("MC-1"), p.Place("PCS-1"), p.Part("AI-1").Terminals[1], p.Cable("W-1"), p.Cable("S-1")},
	} {
		for _, thing := range things {
			if _, ok := pl.Ref(kind, thing); !ok {
				t.Errorf("no %s sheet shows %T", kind, thing)
			}
		}
	}
}

// A reference to a cable leads to the middle of its box, not to its first core.
func TestReferencesLeadToTheBoxOfTheCable(t *testing.T) {
	t.Parallel()
	p := sample(t, "tern-island")
	pl := layout.New(p, false, nil)
	seen := map[string]bool{}
	i := 0
	for page := range pl.Pages() {
		s := pl.Sheets[i]
		i++
		if s.Kind.Name != sheet.Box {
			continue
		}
		for _, g := range landingGroups(page.Items, "cable") {
			tag := datum(g, "cable")
			if !strings.HasPrefix(g.ID, "cable-") || seen[tag] { // the first box of a cable counts
				continue
			}
			seen[tag] = true
			box := g.Items[0].(*render.Line)
			if ref, ok := pl.Ref(sheet.Box, p.Cable(tag)); !ok || ref.Sheet == s && ref.At.Y != (box.Points[0].Y+box.Points[2].Y)/2 {
				t.Errorf("%s on %s is referred to at %v, and its box is at %v", tag, s.Name, ref.At, box.Points)
			}
		}
	}
	if len(seen) == 0 {
		t.Error("no cable is drawn")
	}
}

// A plant ten times as large takes about ten times as long to plan: measured
// in what is allocated, which time on a busy machine would not tell.
func TestPlanOfPlacesIsLinear(t *testing.T) {
	cost := func(n int) float64 {
		p := written(t, strip(3*n, n, n, "paper: A3", ""))
		return testing.AllocsPerRun(1, func() { layout.New(p, false, places) })
	}
	if small, large := cost(50), cost(500); large > 15*small {
		t.Errorf("10 times the conductors take %.0f times the memory", large/small)
	}
}

// Two runs over the same text draw the same marks.
func TestPlacesAreDrawnAlike(t *testing.T) {
	t.Parallel()
	var dumps [2]bytes.Buffer
	for i := range dumps {
		_, pages := drawnPlaces(t, written(t, everyKind), places)
		for _, page := range pages {
			if err := render.Dump(&dumps[i], page); err != nil {
				t.Fatal(err)
			}
		}
	}
	if !bytes.Equal(dumps[0].Bytes(), dumps[1].Bytes()) || dumps[0].Len() == 0 {
		t.Error("the drawings of two runs differ")
	}
}

// The code of a place is that of its wiring, on each of its sheets.
func TestPlacesBearTheirCode(t *testing.T) {
	t.Parallel()
	p := written(t, strip(150, 50, 50, "paper: A3", ""))
	sheets, pages := drawnPlaces(t, p, places)
	for i, s := range sheets {
		want := model.WiringCode(s.Place.Facts(p))
		if s.Code != want || !slices.Contains(layouttest.TextsOf(pages[i].Items), want) {
			t.Errorf("%s bears %s, not %s", s.Name, s.Code, want)
		}
	}
}

// TestLookPlaces writes the sheets of places into the PDF file that
// RINGOUT_LOOK_PLACES names, to be looked at.
func TestLookPlaces(t *testing.T) {
	t.Parallel()
	file := os.Getenv("RINGOUT_LOOK_PLACES")
	if file == "" {
		t.Skip("RINGOUT_LOOK_PLACES names no file")
	}
	var p *model.Plant
	switch which := os.Getenv("RINGOUT_LOOK_PLANT"); which {
	case "":
		p = written(t, everyKind)
	case "bar":
		p = written(t, screensOnBar(80))
	case "strip":
		p = written(t, strip(100, 50, 30, "paper: 11x17, colour names: words", ", jumpers: [1 4 7, 2 5 99]"))
	default:
		p = sample(t, which)
	}
	pl := layout.New(p, false, func(k string) bool { return places(k) || k == sheet.Loop })
	out, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	var heads []render.Head
	for _, s := range pl.Sheets {
		heads = append(heads, s.Head)
	}
	w := pdf.New(out, "look", heads, time.Time{})
	for page := range pl.Pages() {
		if err := w.Page(page); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}
