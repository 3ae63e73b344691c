package main

import (
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/model"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
)

// perBox is how many loops of a made-up plant share a box, a home run and a
// card.
const perBox = 20

// bigPlant is the text of a plant of n flow loops, 20 to a box.
func bigPlant(n int) string {
	var b strings.Builder
	boxes := (n + perBox - 1) / perBox
	b.WriteString("plant: Wide Marsh Works\nnumber: WM-I\ncable types:\n" +
		"  one-pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}\n" +
		"  24-pair: {pairs: 24, conductor: 0.75 mm2, code: 25-pair, screen: each}\n")
	each := func(head, format string) {
		b.WriteString(head)
		for i := 1; i <= boxes; i++ {
			b.WriteString(strings.ReplaceAll(format, "#", fmt.Sprint(i)))
		}
	}
	each("boxes:\n", "  JB-#:\n    strips: {X1: {terminals: 1..72, marks: + - S}}\n")
	each("cabinets:\n", "  MC-#:\n    earths: {IE: instrument earth}\n    strips: {X1: {terminals: 1..72, marks: + - S, bonded: 3..72 step 3 to IE}}\n")
	each("systems:\n", "  PCS-#:\n    cards: {AI-#: {kind: AI, power: card, channels: 24}}\n")
	each("cables:\n", "  W-#: {type: 24-pair, from: JB-#, to: MC-#, length: 140 m}\n  V-#: {type: 24-pair, from: MC-#, to: PCS-#, length: 6 m}\n")
	for i := range n {
		fmt.Fprintf(&b, "  W-%d: {type: one-pair, from: FT-%d, to: JB-%d, length: %d m}\n", 10001+i, 10001+i, i/perBox+1, 5+i%60)
	}
	b.WriteString("loops:\n")
	for i := range n {
		tag, box, k := 10001+i, i/perBox+1, i%perBox
		fmt.Fprintf(&b, "  F-%d:\n    service: Bed %d feed flow\n    devices:\n      FT-%d: {kind: transmitter, range: 0..%d m3/h, lift-off: 10.5 V}\n    circuits:\n      FT-%d:\n", tag, i+1, tag, 50+i%400, tag)
		fmt.Fprintf(&b, "        - FT-%d + -\n        - W-%d\n        - JB-%d/X1 %d %d %d\n        - W-%d pair %d\n", tag, tag, box, 3*k+1, 3*k+2, 3*k+3, box, k+1)
		fmt.Fprintf(&b, "        - MC-%d/X1 %d %d %d\n        - V-%d pair %d\n        - AI-%d channel %d\n", box, 3*k+1, 3*k+2, 3*k+3, box, k+1, box, k+1)
	}
	return b.String()
}

func bigFiles(n int) fstest.MapFS {
	return fstest.MapFS{"plant.yaml": {Data: []byte(bigPlant(n))}}
}

func bigModel(tb testing.TB, n int) *model.Plant {
	tb.Helper()
	p, sources, problems := model.Read(bigFiles(n), ".")
	if problems = append(problems, model.Check(p)...); len(problems) > 0 {
		var b strings.Builder
		problems[:1].Print(&b, sources)
		tb.Fatalf("the made-up plant has problems: %s", &b)
	}
	return p
}

// TestBigPlant proves that what the benchmarks measure is a sound plant.
func TestBigPlant(t *testing.T) {
	p := bigModel(t, 2*perBox+1)
	if len(p.Loops) != 2*perBox+1 || len(layout.New(p, false, nil).Sheets) < len(p.Loops) {
		t.Errorf("%d loops, %d sheets", len(p.Loops), len(layout.New(p, false, nil).Sheets))
	}
}

// sizes runs a benchmark for plants of 100 and of 1,000 loops. The work
// returns how many of the unit it did.
func sizes(b *testing.B, unit string, work func(b *testing.B, n int) (once func() int)) {
	for _, n := range []int{100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			once := work(b, n)
			b.ReportAllocs()
			done := 0
			for b.Loop() {
				done += once()
			}
			b.ReportMetric(float64(done)/b.Elapsed().Seconds(), unit+"/s")
		})
	}
}

func BenchmarkRead(b *testing.B) {
	sizes(b, "loops", func(b *testing.B, n int) func() int {
		files := bigFiles(n)
		return func() int {
			p, _, _ := model.Read(files, ".")
			return len(p.Loops)
		}
	})
}

func BenchmarkCheck(b *testing.B) {
	sizes(b, "loops", func(b *testing.B, n int) func() int {
		p := bigModel(b, n)
		return func() int {
			if len(model.Check(p)) > 0 {
				b.Fatal("problems")
			}
			return n
		}
	})
}

func BenchmarkPlan(b *testing.B) {
	sizes(b, "pages", func(b *testing.B, n int) func() int {
		p := bigModel(b, n)
		return func() int { return len(layout.New(p, false, nil).Sheets) }
	})
}

func BenchmarkDraw(b *testing.B) {
	sizes(b, "pages", func(b *testing.B, n int) func() int {
		plan := layout.New(bigModel(b, n), false, nil)
		return func() int {
			pages := 0
			for range plan.Pages() {
				pages++
			}
			return pages
		}
	})
}

// drawn draws all pages beforehand, so that an encoder is measured alone.
func drawn(b *testing.B, n int) (pages []*render.Page, heads []render.Head) {
	for page := range layout.New(bigModel(b, n), false, nil).Pages() {
		pages, heads = append(pages, page), append(heads, page.Head)
	}
	return pages, heads
}

func BenchmarkSVG(b *testing.B) {
	sizes(b, "pages", func(b *testing.B, n int) func() int {
		pages, _ := drawn(b, n)
		return func() int {
			for _, p := range pages {
				if err := svg.Write(io.Discard, p); err != nil {
					b.Fatal(err)
				}
			}
			return len(pages)
		}
	})
}

func BenchmarkPDF(b *testing.B) {
	sizes(b, "pages", func(b *testing.B, n int) func() int {
		pages, heads := drawn(b, n)
		return func() int {
			w := pdf.New(io.Discard, "bench", heads, issued(&model.Plant{}))
			for _, p := range pages {
				if err := w.Page(p); err != nil {
					b.Fatal(err)
				}
			}
			if err := w.Close(); err != nil {
				b.Fatal(err)
			}
			return len(pages)
		}
	})
}
