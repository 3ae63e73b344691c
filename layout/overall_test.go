package layout

import (
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/check"
	"ringout/model/read"
	"ringout/render"
)

// overallPlant has one circuit over one cable from a device by a box to a card. The
// words in capitals are put in.
const overallPlant = `
plant: Overall
practice: {screen earth: box}
cable types:
  in: {TYPE, conductor: 1.0 mm2, screen: SCREEN}
  on: {cores: 8, conductor: 1.0 mm2, code: numbered, screen: none}
boxes:
  JB-1: {strips: {X1: {terminals: 1..9, bonded: 9 to BE}}, earths: {BE: box earth}}
systems: {PCS-1: {cards: {RT-1: {kind: RTD, wires: 4, channels: 1}}}}
cables:
  W-1: {type: in, ENDS, length: 10 m, OVERALL}
  W-2: {type: on, from: JB-1, to: PCS-1, length: 10 m}
loops:
  T-1:
    service: Temperature
    devices: {TE-1: {kind: RTD 4-wire, sensor: Pt100, range: 0..100 °C}}
    circuits:
      TE-1: [TE-1, W-1RUN, JB-1/X1 1 2 3 4 LAND, W-2 cores 1 2 3 4, RT-1 channel 1]
`

// drawnOverall is what check finds in a variant, and the pages of its set.
func drawnOverall(t *testing.T, words ...string) (codes []string, pages []*render.Page) {
	t.Helper()
	text := strings.NewReplacer(words...).Replace(overallPlant)
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	for _, pr := range append(problems, check.Check(p)...) {
		codes = append(codes, pr.Code+" "+pr.Text)
	}
	for page, problems := range New(p, true, nil).Pages() {
		for _, pr := range problems {
			t.Errorf("%q: %v", words, pr)
		}
		for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
			t.Errorf("%q: %s: %v", words, page.Title, f)
		}
		pages = append(pages, page)
	}
	return codes, pages
}

// TestOverallWhereItIsSaid: the walk of a circuit that has all cores of a cable
// says where the cable's overall screen lands, or the cable's overall does, or both
// do: it is the same plant and the same drawings. Where they differ it is told,
// with both places.
func TestOverallWhereItIsSaid(t *testing.T) {
	t.Parallel()
	types := []struct{ name, typ, run string }{
		{"one quad", "quads: 1, code: BS 5308-1 quad", ""},
		{"two pairs", "pairs: 2, code: black/white numbered", " pairs 1 2"},
		{"four cores", "cores: 4, code: numbered", ""},
		{"four cores, named", "cores: 4, code: numbered", " cores 1 2 3 4"},
	}
	for _, c := range types {
		for _, turned := range []bool{false, true} {
			for land, as := range map[string]string{"BE": "BE", "9": "X1 9"} {
				ends, overall := "from: TE-1, to: JB-1", "overall: {from: x, to: "+as+"}"
				if turned {
					ends, overall = "from: JB-1, to: TE-1", "overall: {from: "+as+", to: x}"
				}
				draw := func(land, overall string) ([]string, []*render.Page) {
					return drawnOverall(t, "TYPE", c.typ, "SCREEN", "overall", "ENDS", ends, "RUN", c.run, "OVERALL", overall, "LAND", land)
				}
				codes, want := draw(land, "route: tray")
				if len(codes) > 0 || len(want) < 4 {
					t.Fatalf("%s: the walk alone: %q, %d pages", c.name, codes, len(want))
				}
				for _, words := range [][2]string{{"", overall}, {land, overall}} {
					codes, got := draw(words[0], "route: tray, "+overall)
					if len(codes) > 0 {
						t.Errorf("%s %s turned %v, %q: %q", c.name, as, turned, words, codes)
					}
					for i := range want {
						if !reflect.DeepEqual(got[i], want[i]) {
							t.Errorf("%s %s turned %v, %q: %s is another drawing", c.name, as, turned, words, want[i].Title)
						}
					}
				}
				for _, other := range []string{"x", "screen 8"} {
					codes, _ := draw(other, overall)
					if n := strings.Count(strings.Join(codes, "\n"), "screen-mismatch overall screen of W-1 lands on JB-1/"); n != 1 {
						t.Errorf("%s %s turned %v, %s in the walk: told %d times: %q", c.name, as, turned, other, n, codes)
					}
				}
			}
		}
	}
}

// A cable with a screen round each group and one round all has two to land: the
// walk says where that of its group lands, overall where the other does.
func TestOverallBesideThatOfTheGroup(t *testing.T) {
	t.Parallel()
	for _, overall := range []string{"overall: {from: x, to: BE}", "overall: {from: x, to: X1 9}"} {
		if codes, _ := drawnOverall(t, "TYPE", "quads: 1, code: BS 5308-1 quad", "SCREEN", "each and overall", "ENDS", "from: TE-1, to: JB-1", "RUN", "", "OVERALL", overall, "LAND", "BE"); len(codes) > 0 {
			t.Errorf("%s: %q", overall, codes)
		}
	}
	codes, _ := drawnOverall(t, "TYPE", "quads: 1, code: BS 5308-1 quad", "SCREEN", "each and overall", "ENDS", "from: TE-1, to: JB-1", "RUN", "", "OVERALL", "route: tray", "LAND", "BE")
	if len(codes) != 1 || !strings.HasPrefix(codes[0], "unearthed-screen no earth given for the overall screen of W-1") {
		t.Errorf("without overall: %q", codes)
	}
	// Where a circuit has not all cores, the walk brings no overall screen.
	codes, _ = drawnOverall(t, "TYPE", "pairs: 3, code: black/white numbered", "SCREEN", "overall", "ENDS", "from: TE-1, to: JB-1", "RUN", " pairs 1 2", "OVERALL", "overall: {from: x, to: BE}", "LAND", "")
	if len(codes) > 0 {
		t.Errorf("pairs of three: %q", codes)
	}
}
