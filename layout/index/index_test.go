package index_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
)

// indexSet are the index and the records of a plant.
func indexSet(p *model.Plant, draft bool) *sheet.Plan {
	return layout.New(p, draft, func(k string) bool { return k == sheet.Record || k == sheet.Index })
}

// TestIndexLists: the register names every drawing of the set once, with the numbers of
// its sheets and its code, and leads to the first.
func TestIndexLists(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl, pages, problems := layouttest.Forms(t, indexSet(p, false))
	for _, problem := range problems {
		t.Error(problem)
	}
	type line struct{ no, number, code string }
	var rows []line
	links := map[string]int{}
	for _, s := range pl.Sheets {
		if s.Kind.Name != sheet.Index {
			continue
		}
		for _, item := range pages[s].Items {
			switch m := item.(type) {
			case *render.Group:
				if strings.HasPrefix(m.ID, "sheet-") {
					words := layouttest.LettersOf(m.Items)
					rows = append(rows, line{words[0], words[1], m.Data[1].Value})
				}
			case *render.Link:
				links[m.Page]++
			}
		}
	}
	listed := slices.DeleteFunc(slices.Clone(pl.Sheets), func(s *sheet.Sheet) bool { return s.Part > 1 })
	if len(rows) != len(listed) {
		t.Fatalf("%d rows for %d sheets", len(rows), len(listed))
	}
	for i, s := range listed {
		numbers := fmt.Sprint(s.No)
		if s.Of > 1 {
			numbers = fmt.Sprintf("%d–%d", s.No, s.No+s.Of-1)
		}
		if want := (line{numbers, s.NumberIn(p), s.Code}); rows[i] != want {
			t.Errorf("row %d: %v, want %v", i, rows[i], want)
		}
		if links[s.Name] != 1 {
			t.Errorf("%d links to %s", links[s.Name], s.Name)
		}
	}
	if s := pl.Sheets[0]; s.Kind.Name != sheet.Index || s.No != 1 || pl.Sheets[s.Of].Kind.Name == sheet.Index || pl.Sheets[s.Of].No != s.Of+1 {
		t.Error("the index does not come first")
	}
}

// TestLegend: the legend names the colour codes with their sources, every hue
// of IEC 60757, the limits in force, and claims no compliance.
func TestLegend(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	p.Practice.TestVolts, p.Practice.TestMegohm, p.Practice.TestCopper.Celsius = 500, 25, 35
	pl, pages, _ := layouttest.Forms(t, indexSet(p, false))
	var words []string
	for _, s := range pl.Sheets[:pl.Sheets[0].Of] {
		words = append(words, layouttest.LettersOf(pages[s].Items)...)
	}
	all := strings.Join(words, " ")
	for _, want := range []string{
		"500 V DC, min 25 MΩ", "35 °C", "GNYE green-and-yellow", "TQ turquoise", "DIN 47100", "ICEA S-85-625",
		"based on ISA-5.4", "see the punch list", "barrier, one leg", "thermowell", "resistance thermometer",
		"trade practice for instrument cable, group number printed: check maker's data", "20 % of the pairs", "negative", "50 mm from others",
	} {
		if !strings.Contains(strings.ReplaceAll(all, "  ", " "), want) {
			t.Errorf("the legend does not say %q", want)
		}
	}
	for _, s := range []string{"verified", "seen on", "memory", "not sure"} {
		if strings.Contains(all, s) {
			t.Errorf("the legend prints our own doubts: %q", s)
		}
	}
	if strings.Contains(strings.ToLower(all), "compl") {
		t.Error("the legend speaks of compliance")
	}
	p = layouttest.PlantOf(t, os.DirFS("../../samples"), "one-loop", false)
	pl, pages, _ = layouttest.Forms(t, indexSet(p, false))
	if all := strings.Join(layouttest.LettersOf(pages[pl.Sheets[0]].Items), " "); strings.Contains(all, "converter") {
		t.Error("the legend shows a kind that the plant has not")
	}
}

// shapeOf are marks without letters and pens, as far as they lie from the first.
func shapeOf(items []render.Item) (shape []string) {
	var origin *render.Point
	at := func(points ...render.Point) (s string) {
		for _, p := range points {
			if origin == nil {
				origin = &p
			}
			s += fmt.Sprint(" ", p.X-origin.X, ",", p.Y-origin.Y)
		}
		return s
	}
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			shape = append(shape, fmt.Sprint("line", m.Closed, m.Fill == render.Solid, at(m.Points...)))
		case *render.Circle:
			shape = append(shape, fmt.Sprint("circle", m.R, m.Fill, at(m.Centre)))
		case *render.Curve:
			shape = append(shape, fmt.Sprint("curve", at(m.P[:]...)))
		}
	}
	return shape
}

// flat are the marks of a page without groups and letters.
func flat(items []render.Item) (all []render.Item) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Group:
			all = append(all, flat(m.Items)...)
		case *render.Text, *render.Link:
		default:
			all = append(all, item)
		}
	}
	return all
}

// onPages reports whether marks of a shape stand on one of the pages, in a row.
func onPages(shape []string, pages [][]render.Item) bool {
	for _, items := range pages {
		for i := 0; i+len(shape) <= len(items); i++ {
			if slices.Equal(shapeOf(items[i:i+len(shape)]), shape) {
				return true
			}
		}
	}
	return false
}

// flagOn reports whether a flag of a shape stands among marks: there it is longer.
func flagOn(items []render.Item, shape []string) bool {
	return slices.ContainsFunc(items, func(item render.Item) bool {
		l, ok := item.(*render.Line)
		if !ok || len(l.Points) != 5 {
			return false
		}
		box := paper.BoxOf(l)
		short := &render.Line{Closed: l.Closed, Fill: l.Fill}
		for _, p := range l.Points {
			if p.X > (box.Min.X+box.Max.X)/2 {
				p.X -= box.W() - 15*render.MM // as long as in the legend
			}
			short.Points = append(short.Points, p)
		}
		return slices.Equal(shapeOf([]render.Item{short}), shape)
	})
}

// TestLegendShowsWhatIsDrawn: each sign of the legend stands on a drawing, mark
// for mark, and each symbol that does is in the legend.
func TestLegendShowsWhatIsDrawn(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"one-loop", "tern-island"} {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), name, false)
		pl := layout.New(p, false, nil)
		var drawings [][]render.Item
		signs := map[string][]string{}
		i := 0
		for page := range pl.Pages() {
			s := pl.Sheets[i]
			i++
			switch s.Kind.Name {
			case sheet.Loop, sheet.Box, sheet.Cabinet:
				drawings = append(drawings, flat(page.Items))
			case sheet.Index:
				for _, item := range page.Items {
					if g, ok := item.(*render.Group); ok && len(g.Data) > 0 && g.Data[0].Key == "sign" {
						signs[g.Data[0].Value] = shapeOf(flat(g.Items))
					}
				}
			}
		}
		if len(signs) < 6 {
			t.Errorf("%s: the legend has %d signs", name, len(signs))
		}
		for words, shape := range signs {
			// Cores and screens, drawn last, are as long as they are.
			cores := map[string]int{"cut back, in an insulating sleeve": 1, "twisted together": 2}[words]
			if strings.Contains(words, "another loop") && slices.ContainsFunc(drawings, func(items []render.Item) bool { return flagOn(items, shape) }) {
				continue
			}
			if !onPages(shape[:len(shape)-cores], drawings) {
				t.Errorf("%s: %q is in the legend and on no drawing: %q", name, words, shape)
			}
		}
		for _, s := range symbol.Symbols() {
			shape := shapeOf(flat(s.Items))
			part := slices.Collect(maps.Values(signs)) // a valve without a fail position is part of one with
			known := slices.ContainsFunc(part, func(sign []string) bool {
				return len(sign) >= len(shape) && slices.Equal(sign[:len(shape)], shape)
			})
			if !known && len(shape) > 1 && onPages(shape, drawings) {
				t.Errorf("%s: %q is drawn, and not in the legend", name, s.Name)
			}
		}
	}
}

// manyLoops is a plant of n two-wire loops, each with its own box and cables.
func manyLoops(n int) fstest.MapFS {
	var b strings.Builder
	b.WriteString("plant: Many\ncable types:\n  one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}\n")
	fmt.Fprintf(&b, "cabinets:\n  MC-1:\n    earths: {IE: earth}\n    strips:\n      X1: {terminals: 1..%d, bonded: 3..%d step 3 to IE}\n", 1998, 1998)
	for i := 1; i < (n+665)/666; i++ {
		fmt.Fprintf(&b, "  MC-%d:\n    earths: {IE: earth}\n    strips:\n      X1: {terminals: 1..%d, bonded: 3..%d step 3 to IE}\n", i+1, 1998, 1998)
	}
	b.WriteString("cables:\n")
	for i := range n {
		fmt.Fprintf(&b, "  W-%d: {type: one, from: FT-%d, to: MC-%d, length: 40 m}\n", i, i, i/666+1)
	}
	b.WriteString("loops:\n")
	for i := range n {
		at := i%666*3 + 1
		fmt.Fprintf(&b, "  F-%d:\n    service: Flow %d\n    devices: {FT-%d: {kind: transmitter, range: 0..%d m3/h}}\n    circuits:\n      FT-%d:\n        - FT-%d + -\n        - W-%d\n        - MC-%d/X1 %d %d %d\n",
			i, i, i, 100+i, i, i, i, i/666+1, at, at+1, at+2)
	}
	return fstest.MapFS{"many/plant.yaml": {Data: []byte(b.String())}}
}

// BenchmarkForms plans and draws the records and the index of 500 and 2000
// loops; the time of one loop has to stay the same.
func BenchmarkForms(b *testing.B) {
	for _, n := range []int{500, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := benchPlant(b, n)
			b.ReportAllocs()
			for b.Loop() {
				pl := layout.New(p, false, func(k string) bool { return k == sheet.Record || k == sheet.Index })
				for _, s := range pl.Sheets {
					s.Planned.Draw(pl, s)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/loop")
		})
	}
}

func benchPlant(b *testing.B, n int) *model.Plant {
	p, _, problems := read.Read(manyLoops(n), "many")
	if problems.Errors() > 0 {
		b.Fatal(problems[0])
	}
	return p
}
