package layout

import (
	"os"
	"strings"
	"testing"

	"ringout/fonts"
	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/render"
	"ringout/samples"
)

// Heads, turned heads, group rows and cells of tables clear their rules, and lines of
// a cell each other.
func TestTablesClearInk(t *testing.T) {
	t.Parallel()
	for _, s := range samples.Inky {
		for _, face := range []fonts.Face{fonts.Sans, fonts.Bold, fonts.Mono, fonts.MonoBold} {
			lines := s + "\n" + s + "\n" + s
			table := paper.Table{
				Columns: []paper.Column{{Head: s, Width: 30 * render.MM, Face: face}, {Head: s, Turned: true, Width: 7 * render.MM}, {Head: lines, Width: 30 * render.MM, Face: face}},
				Rows: []paper.Row{{Group: s}, {Print: true, Cells: []paper.Cell{{S: s}, {}, {S: s, Bold: true}}}, {Print: true, Cells: []paper.Cell{{S: lines}, {}, {S: lines, Bold: true}}},
					{Cells: []paper.Cell{{Kind: paper.NA, S: s}, {}, {Kind: paper.Tick, S: s}}}},
			}
			all := paper.Span{From: 0, To: len(table.Rows)}
			items, unfit := table.Draw(render.Point{X: 10 * render.MM, Y: 10 * render.MM}, all)
			page := &render.Page{Head: render.Head{Name: "A", W: 200 * render.MM, H: 200 * render.MM}, Items: items}
			for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
				t.Errorf("%v, %q: %s: %s", face, s, f.Kind, f.Text)
			}
			if len(unfit) > 0 {
				t.Errorf("%v, %q: %v", face, s, unfit)
			}
		}
	}
}

// The rating of a fuse stands over its own terminal, though another of the circuit
// is higher, and over each of two.
func TestRatingStandsOverItsFuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ terminals, lands string }{
		{"[1..7, F8 fused 0.5 A, 9..18]", "JB-21/X1 7 F8 9"},
		{"[1..6, F7 fused 0.5 A, F8 fused 0.5 A, 9..18]", "JB-21/X1 F7 F8 9"},
	} {
		data, err := os.ReadFile("../samples/one-loop/plant.yaml")
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Replace(string(data), "X1: {terminals: 1..18,", "X1: {terminals: "+c.terminals+",", 1)
		text = strings.Replace(text, "JB-21/X1 7 8 9", c.lands, 1)
		pl := New(layouttest.PlantFrom(t, map[string]string{"plant.yaml": text}), false, func(kind string) bool { return kind == sheet.Loop })
		for page := range pl.Pages() {
			var fuses, ratings []render.Len
			var walk func(items []render.Item)
			walk = func(items []render.Item) {
				for _, item := range items {
					switch m := item.(type) {
					case *render.Group:
						if len(m.Data) > 0 && m.Data[0].Key == "terminal" && strings.HasPrefix(m.Data[0].Value, "JB-21/X1:F") {
							b := paper.BoxOf(m.Items...)
							fuses = append(fuses, (b.Min.Y+b.Max.Y)/2)
						}
						walk(m.Items)
					case *render.Text:
						if m.S == "0.5 A" {
							ratings = append(ratings, m.At.Y)
						}
					}
				}
			}
			walk(page.Items)
			if len(fuses) == 0 || len(fuses) != len(ratings) {
				t.Fatalf("%s: %d ratings over %d fuses", c.lands, len(ratings), len(fuses))
			}
			for i, y := range fuses {
				if d := y - ratings[i]; d < 2500*render.UM || d > 4*render.MM {
					t.Errorf("%s: a rating is %d over its fuse", c.lands, d)
				}
			}
		}
	}
}

// What stands under a part that legs go through is clear of the wall of its place
// and of a leg below: the model of a barrier, the words of an input.
func TestWordsUnderPartsAreClear(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	bare := strings.NewReplacer("screen: overall", "screen: none", "screen: each", "screen: none", "lift-off: 10.5 V", "lift-off: 8 V", "X1 7 8 9", "X1 7 8", "X4 7 8 9", "X4 7 8").Replace(string(data))
	for name, change := range map[string][]string{
		"barrier": {
			"    strips:\n      X4:", "    barriers:\n      FB-1: {model: \"Žy_28 V 300 ohm 93 mA for two-wire transmitters and converters; gauge_jq\", ohms: 333 ohm, return ohms: 33 ohm, working volts: 26 V, earth: IE}\n    strips:\n      X4:",
			"        - W-901 pair 3\n", "        - wires\n        - FB-1\n        - W-901 pair 3\n",
		},
		"input in the upper leg": {
			"kind: transmitter, range: 0..450 m3/h, lift-off: 8 V", "kind: contact, set: closes at 2 m",
			"    strips:\n      X4:", "    supplies: {PS-1: {volts: 24 V DC, circuit: DB-1 way 2, fuse: 2 A}}\n    feeds:\n      - PS-1 + to X4 16\n      - PS-1 - to X4 17\n    cards:\n      DI-1: {kind: DI, power: loop, channels: 8, ohms: 3.3 kohm, address: node 2 slot 3}\n    strips:\n      X4:",
			"        - FT-2107 + -\n", "        - FT-2107 1 2\n",
			"        - W-901 pair 3\n        - AI-2-03 channel 5", "        - 1: [wires, DI-1 channel 1 +>-, wires, MC-2/X4 17]\n          2: [wires, MC-2/X4 16]",
		},
	} {
		text := bare
		for i := 0; i < len(change); i += 2 {
			if !strings.Contains(text, change[i]) {
				t.Fatalf("%s: the sample has no %q", name, change[i])
			}
			text = strings.Replace(text, change[i], change[i+1], 1)
		}
		pl, pages := New(layouttest.PlantFrom(t, map[string]string{"plant.yaml": text}), false, func(kind string) bool { return kind == sheet.Loop }), 0
		for page := range pl.Pages() {
			pages++
			for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
				t.Errorf("%s: %s: %s: %s", name, page.Name, f.Kind, f.Text)
			}
		}
		if pages == 0 {
			t.Errorf("%s: nothing is drawn", name)
		}
	}
}
