package check

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// some writes n things in a row.
func some(n int, write func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(write(i))
	}
	return b.String()
}

// attack is a plant made to keep the program busy, with n of something.
type attack struct {
	name, where string
	text        func(n int) string
}

// attacks are plants that hold n of something, far beyond what may be or made to cost
// much: where stands the finding that says so, "" where there is none.
var attacks = []attack{
	{name: "steps", where: "p.yaml:207:9", text: func(n int) string {
		return "boxes: {JB: {at: h, strips: {X: {terminals: 1..2}}}}\nloops:\n  L:\n    service: s\n    circuits:\n      C:\n" +
			some(n, func(i int) string { return []string{"      - JB/X 1 2\n", "      - wires\n"}[i%2] })
	}},
	{name: "words of a step", where: "p.yaml:5:9", text: func(n int) string {
		return "boxes: {JB: {at: h, strips: {X: {terminals: 1..2}}}}\nloops:\n  L: {service: s, circuits: {C: [\n  wires,\n        " + strings.Repeat("x ", n) + "]}}\n"
	}},
	{name: "terminals", where: "p.yaml:2:60", text: func(n int) string {
		return "boxes:\n  JB: {at: h, strips: {X: {terminals: [A1..A1500,          B1..B1500,\n" + some(n, func(i int) string { return fmt.Sprintf("   C%d1..C%[1]d999,\n", i) }) + "  ]}}}\n"
	}},
	{name: "decks", where: "p.yaml:1:45", text: func(n int) string {
		return "boxes: {JB: {at: h, strips: {X: {terminals: 1..2000 decks" + some(n, func(i int) string { return fmt.Sprintf(" d%d", i) }) + "}}}}\n"
	}},
	{name: "jumpers", where: "p.yaml:5:5", text: func(n int) string {
		return "boxes:\n  JB: {at: h, strips: {X: {terminals: 1..2000, jumpers: [\n    1..2000,\n    1..2000,\n" + strings.Repeat("    1..2000,\n", n) + "  ]}}}\n"
	}},
	{name: "bonds", where: "p.yaml:5:5", text: func(n int) string {
		return "cabinets:\n  MC: {at: h, earths: {E: e}, strips: {X: {terminals: 1..2000, jumpers: 1..2000, bonded: [\n    1..2000 to E,\n    1..2000 to E,\n" + strings.Repeat("    1..2000 to E,\n", n) + "  ]}}}\n"
	}},
	{name: "text", where: "p.yaml:3:14", text: func(n int) string {
		return "loops:\n  L:\n    service: " + strings.Repeat("word ", n) + "\n"
	}},
	{name: "note", where: "p.yaml:3:14", text: func(n int) string {
		return "loops:\n  L:\n    notes: [ " + strings.Repeat("word ", n) + "]\n"
	}},
	{name: "revisions", where: "p.yaml:202:5", text: func(n int) string {
		return "revisions:\n" + some(n, func(i int) string { return fmt.Sprintf("  - {mark: %d, date: 2031-01-01}\n", i) })
	}},
	{name: "cores and terminals", where: "p.yaml:502:5", text: func(n int) string { // one for the strip itself, 2000 for each line
		return "boxes:\n  JB: {at: h, strips: {X: {terminals: A, jumpers: [\n" + strings.Repeat("    1..2000,\n", n) + "  ]}}}\n"
	}},
	{name: "circuits of one name", where: "", text: func(n int) string {
		return "boxes: {JB: {at: h, strips: {X: {terminals: 1..2}}}}\nloops:\n" + some(n, func(i int) string {
			return fmt.Sprintf("  L-%d: {service: s, functions: {F-%[1]d: {kind: indicator, reads: [C]}}, circuits: {C: [JB/X 1, wires, JB/X 2]}}\n", i)
		})
	}},
	{name: "legs that part", where: "", text: func(n int) string {
		return "boxes: {JB: {at: h, strips: {X: {terminals: 1..199}}}}\nloops:\n  L:\n    service: s\n    circuits:\n      C:\n      - JB/X" + some(199, func(i int) string { return fmt.Sprintf(" %d", i+1) }) + "\n      -\n" +
			some(n, func(i int) string { return fmt.Sprintf("        %d: [wires, JB/X 1]\n", i+1) })
	}},
}

// read reads and checks n of an attack, and returns the findings of what is too much.
func (a attack) read(n int) (found string) {
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(a.text(n))}}, "p.yaml")
	Check(p)
	for _, pr := range problems {
		if pr.Code == "too-many" || pr.Code == "bad-terminals" {
			found += pr.Pos.String() + ": " + pr.Text + "\n"
		}
	}
	return found
}

// TestLimits reads plants that are made to keep the program busy. Each limit is told
// at the first thing beyond it, and four times the text asks for no more than some
// eight times the memory, where what goes by the square asks for sixteen.
// BenchmarkLimits has the time. It is not parallel: memory is counted for all tests.
func TestLimits(t *testing.T) {
	for _, a := range attacks {
		t.Run(a.name, func(t *testing.T) {
			asked := func(n int) (found string, bytes uint64) {
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				found = a.read(n)
				runtime.ReadMemStats(&after)
				return found, after.TotalAlloc - before.TotalAlloc
			}
			found, first := asked(2500)
			if a.where != "" && !strings.HasPrefix(found, a.where+": ") || a.where == "" && found != "" || strings.Count(found, "\n") > 1 {
				t.Errorf("found %q, not at %s", found, a.where)
			}
			if _, second := asked(10000); second > 8*first {
				t.Errorf("asks for %d bytes, and for %d with four times as much", first, second)
			}
		})
	}
}

// BenchmarkLimits: the time for each of n things is the same, or less, whatever n is.
func BenchmarkLimits(b *testing.B) {
	for _, a := range attacks {
		for _, n := range []int{2500, 10000, 40000} {
			b.Run(fmt.Sprintf("%s/%d", a.name, n), func(b *testing.B) {
				for b.Loop() {
					a.read(n)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/thing")
			})
		}
	}
}
