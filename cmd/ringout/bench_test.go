//go:build unix

package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/output"
	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model/check"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
)

// sizes runs a benchmark for plants of 100 to 20,000 loops. The work returns how
// many of the unit it did: if it is linear, the rate is the same for all sizes.
// Beside the rate stands the processor time for each, which does not depend on
// what else the machine does.
func sizes(b *testing.B, unit string, work func(b *testing.B, n int) (once func() int)) {
	for _, n := range []int{100, 1000, 10000, 20000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			once := work(b, n)
			b.ReportAllocs()
			done, start := 0, processorTime(b)
			for b.Loop() {
				done += once()
			}
			used := processorTime(b) - start
			b.ReportMetric(float64(done)/b.Elapsed().Seconds(), unit+"s/s")
			b.ReportMetric(float64(used.Microseconds())/float64(done), "cpu-µs/"+unit)
		})
	}
}

// processorTime is what the process has used of all processors.
func processorTime(b *testing.B) time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		b.Fatal(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// BenchmarkCommands runs whole commands on a plant of 1,000 loops on disk, with the
// collector as main sets it. The first is what others are held against.
func BenchmarkCommands(b *testing.B) {
	dir := b.TempDir()
	plant := filepath.Join(dir, "plant.yaml")
	if err := os.WriteFile(plant, []byte(bigPlant(1000)), 0o666); err != nil {
		b.Fatal(err)
	}
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	collectLate()
	for _, command := range []string{
		"list loops", "check", "check --sheets", "draw --format pdf", "draw --format svg", "draw --format html", "draw",
	} {
		b.Run(command, func(b *testing.B) {
			args := append(strings.Fields(command), plant)
			if args[0] == "draw" {
				args = append(args, "-o", filepath.Join(dir, "out"))
			}
			start := processorTime(b)
			for b.Loop() {
				if code := run(context.Background(), args, io.Discard, io.Discard); code != fine {
					b.Fatalf("exit code %d", code)
				}
			}
			b.ReportMetric(float64((processorTime(b)-start).Milliseconds())/float64(b.N), "cpu-ms")
		})
	}
}

func BenchmarkRead(b *testing.B) {
	sizes(b, "loop", func(b *testing.B, n int) func() int {
		files := bigFiles(n)
		return func() int {
			p, _, _ := read.Read(files, ".")
			return len(p.Loops)
		}
	})
}

// BenchmarkReadLibrary has the YAML library read the same text into nodes, which
// is where Read begins.
func BenchmarkReadLibrary(b *testing.B) {
	sizes(b, "loop", func(b *testing.B, n int) func() int {
		text := []byte(bigPlant(n))
		return func() int {
			var doc yaml.Node
			if err := yaml.Unmarshal(text, &doc); err != nil {
				b.Fatal(err)
			}
			return n
		}
	})
}

func BenchmarkCheck(b *testing.B) {
	sizes(b, "loop", func(b *testing.B, n int) func() int {
		p := bigModel(b, n)
		return func() int {
			if len(check.Check(p)) > 0 {
				b.Fatal("problems")
			}
			return n
		}
	})
}

func BenchmarkPlan(b *testing.B) {
	sizes(b, "page", func(b *testing.B, n int) func() int {
		p := bigModel(b, n)
		return func() int { return len(layout.New(p, false, nil).Sheets) }
	})
}

func BenchmarkDraw(b *testing.B) {
	sizes(b, "page", func(b *testing.B, n int) func() int {
		plan := layout.New(bigModel(b, n), false, nil)
		return func() int {
			pages := 0
			for page, found := range plan.Pages() {
				if pages++; len(found) > 0 {
					b.Fatalf("%s: %s", page.Name, found[0].Text)
				}
			}
			return pages
		}
	})
}

// BenchmarkSince plans a plant of which one word was altered, and draws what is
// not kept of the sheets as they were before.
func BenchmarkSince(b *testing.B) {
	sizes(b, "loop", func(b *testing.B, n int) func() int {
		known := map[[2]string]sheet.CachedDrawing{}
		plan := layout.New(bigModel(b, n), false, nil)
		for _, s := range plan.Sheets {
			known[[2]string{s.Kind.Name, s.Tag()}] = plan.Known(s)
		}
		text := strings.Replace(bigPlant(n), "Bed 50 feed flow", "Bed 50 feed flux", 1)
		if text == bigPlant(n) {
			b.Fatal("no word is altered")
		}
		p, _, _ := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
		return func() int {
			layout.Common(p)
			plan := layout.NewSince(p, false, nil, func(kind, tag string) sheet.CachedDrawing { return known[[2]string{kind, tag}] })
			var some []*sheet.Sheet
			for _, s := range plan.Sheets {
				if !plan.Kept(s) {
					some = append(some, s)
				}
			}
			for page := range plan.Draw(some) {
				page.Digest()
			}
			if plan.Torn() {
				b.Fatal("torn")
			}
			b.ReportMetric(float64(len(some)), "sheets")
			return n
		}
	})
}

// BenchmarkDigest is what draw --changed does to a sheet that did not change.
func BenchmarkDigest(b *testing.B) {
	sizes(b, "page", func(b *testing.B, n int) func() int {
		pages, _ := drawn(b, n)
		return func() int {
			for _, p := range pages {
				p.Digest()
			}
			return len(pages)
		}
	})
}

// drawn draws up to a thousand pages beforehand, evenly out of the set, so that
// an encoder is measured alone and the memory of the machine does.
func drawn(b *testing.B, n int) (pages []*render.Page, heads []render.Head) {
	plan := layout.New(bigModel(b, n), false, nil)
	var some []*sheet.Sheet
	for i := 0; i < len(plan.Sheets); i += len(plan.Sheets)/1000 + 1 {
		some = append(some, plan.Sheets[i])
	}
	known := output.Names(some)
	for page := range plan.Draw(some) {
		page.Items = output.WithoutLinks(page.Items, known)
		pages, heads = append(pages, page), append(heads, page.Head)
	}
	return pages, heads
}

func BenchmarkSVG(b *testing.B) {
	sizes(b, "page", func(b *testing.B, n int) func() int {
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
	sizes(b, "page", func(b *testing.B, n int) func() int {
		pages, heads := drawn(b, n)
		return func() int {
			w := pdf.New(io.Discard, "bench", heads, time.Time{})
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
