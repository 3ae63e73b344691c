package layout

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/model/check"
	"ringout/model/read"
	"ringout/render"
)

// panelLeg is a circuit whose + leg goes by one core of a screened pair to an indicator
// in a panel and back by the other; the - leg goes by a cable of its own, whose other
// core the + leg takes further on.
const panelLeg = `
plant: Panel in a leg
practice: {earthed pole: negative}
cable types:
  in: {pairs: 1, conductor: 1.0 mm2, screen: overall, colours: [WH BN]}
  on: {pairs: 2, conductor: 0.75 mm2, screen: each, code: BS 5308-1 screened pairs}
cabinets:
  MC-1: {wire: 0.75 mm2 GY, earths: {IE: instrument earth}, strips: {X1: {terminals: 1..12, marks: + - S, bonded: 3..12 step 3 to IE}}}
panels: {LP-1: {wire: 0.75 mm2 BK, strips: {P1: {terminals: 1..4}}}}
systems: {PCS-1: {cards: {AI-1: {kind: AI, power: card, volts: 24 V, ohms: 250 ohm, channels: 4}}}}
cables:
  W-1: {type: in, from: TT-1, to: MC-1, length: 10 m}
  W-2: {type: on, from: MC-1, to: LP-1, length: 10 m}
  W-3: {type: on, from: MC-1, to: PCS-1, length: 10 m}
loops:
  T-1:
    service: Temperature
    devices:
      TT-1: {kind: transmitter, range: 0..100 °C, lift-off: 9 V}
      TI-1: {kind: indicator, in: LP-1, position: behind, range: 0..100 °C, ohms: 10 ohm}
    circuits:
      TT-1:
        - TT-1
        - W-1
        - MC-1/X1 1 2 3
        - +: [W-2 core OUT, LP-1/P1 1, wires, TI-1 ->+, wires, LP-1/P1 2, W-2 core BACK, MC-1/X1 4 IE, W-3 core 1, AI-1 channel 1 +]
          -: [W-3 core 2, AI-1 channel 1 -]
`

// A pair that one leg goes out and comes back by has no polarity, whichever core goes
// out. Its screen is drawn once, where it lands, and no line from a ring hangs in the air
// or runs over a leg below it.
func TestPanelInALeg(t *testing.T) {
	t.Parallel()
	for _, out := range []string{"1", "2"} {
		text := strings.NewReplacer("OUT", out, "BACK", map[string]string{"1": "2", "2": "1"}[out]).Replace(panelLeg)
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		for _, pr := range append(problems, check.Check(p)...) {
			t.Errorf("core %s out: %v", out, pr)
		}
		drawn := 0
		pl := New(p, true, nil)
		n := 0
		for page, problems := range pl.Pages() {
			s := pl.Sheets[n]
			n++
			for _, pr := range problems {
				t.Error(pr)
			}
			for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
				t.Errorf("core %s out: %s: %v", out, page.Title, f)
			}
			if s.Kind.Name != sheet.Loop {
				continue
			}
			for _, f := range looseDrains(page.Items) {
				t.Errorf("core %s out: the line of a screen at %v", out, f)
			}
			drawn += strings.Count(layouttest.SaidOn(page), "W-2 screen")
		}
		if drawn != 1 {
			t.Errorf("core %s out: the screen of W-2 is named %d times", out, drawn)
		}
	}
}

// looseDrains are the foots of upright screen lines that meet no level one, and where
// upright ones meet a level line that is no screen.
func looseDrains(items []render.Item) (at []render.Point) {
	var lines []*render.Line
	var visit func(items []render.Item)
	visit = func(items []render.Item) {
		for _, item := range items {
			switch m := item.(type) {
			case *render.Line:
				if len(m.Points) == 2 {
					lines = append(lines, m)
				}
			case *render.Group:
				visit(m.Items)
			}
		}
	}
	visit(items)
	level := func(l *render.Line) bool { return l.Points[0].Y == l.Points[1].Y }
	for _, up := range lines {
		if up.Pen != render.Screen || up.Points[0].X != up.Points[1].X {
			continue
		}
		x, top, foot := up.Points[0].X, min(up.Points[0].Y, up.Points[1].Y), max(up.Points[0].Y, up.Points[1].Y)
		crosses := func(l *render.Line, from, to render.Len) bool {
			y := l.Points[0].Y
			return level(l) && y >= from && y <= to && min(l.Points[0].X, l.Points[1].X) <= x && max(l.Points[0].X, l.Points[1].X) >= x
		}
		if !slices.ContainsFunc(lines, func(l *render.Line) bool { return l.Pen == render.Screen && crosses(l, foot, foot) }) ||
			slices.ContainsFunc(lines, func(l *render.Line) bool { return l.Pen != render.Screen && crosses(l, top, foot) }) {
			at = append(at, render.Point{X: x, Y: foot})
		}
	}
	return at
}
