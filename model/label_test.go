package model

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// TestLabels compares the labels of a whole plant with its conductors, cables
// and strips, counted another way.
func TestLabels(t *testing.T) {
	t.Parallel()
	p, _, problems := Read(os.DirFS("../samples"), "tern-island")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	labels := p.Labels()
	count := map[LabelKind]int{}
	seen := map[string]bool{}
	for i, l := range labels {
		count[l.Kind]++
		if i > 0 && labels[i-1].Kind > l.Kind {
			t.Fatalf("label %d, of %v, comes after one of %v", i, l.Kind, labels[i-1].Kind)
		}
		if l.Text == "" || l.Where == "" || l.End == "" || l.Of == "" {
			t.Errorf("something is missing: %+v", l)
		}
		key := strings.Join([]string{l.Kind.String(), l.End, l.Of, l.Far}, "|")
		if seen[key] {
			t.Errorf("twice: %s", key)
		}
		seen[key] = true
	}
	if want := 2 * len(p.Cables); count[CableLabel] != want {
		t.Errorf("cable tags: %d, not %d", count[CableLabel], want)
	}
	ends, terminals := 0, 0
	landed := map[string]bool{}
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			if x.Strip != nil {
				terminals += 1 + len(x.Terminals)
			}
		}
	}
	for _, w := range p.Conductors {
		if w.Kind == JumperRun {
			continue
		}
		for _, e := range []End{w.From, w.To} {
			if e.Terminal != nil {
				ends++
				landed[e.Terminal.Tag()] = true
			} else if !w.Screen && (w.Core == nil || !w.Core.IsScreen()) { // a core cut back, or a spare one
				ends++
			}
		}
	}
	if count[CoreLabel] != ends || count[TerminalLabel] != terminals {
		t.Errorf("core markers %d, not %d; terminal markers %d, not %d", count[CoreLabel], ends, count[TerminalLabel], terminals)
	}
	// One place after the other, and along a strip in its order.
	var places []string
	last := -1
	for _, l := range labels {
		if l.Kind != CoreLabel {
			continue
		}
		if len(places) == 0 || places[len(places)-1] != l.Where {
			if slices.Contains(places, l.Where) {
				t.Fatalf("%s comes again", l.Where)
			}
			places = append(places, l.Where)
			last = -1
		}
		delete(landed, l.End)
		if l.Where == "JB-21" && strings.HasPrefix(l.End, "JB-21/X1:") {
			at := p.Part("JB-21/X1").terminals[strings.TrimPrefix(l.End, "JB-21/X1:")].Index
			if at < last {
				t.Errorf("%s comes late", l.End)
			}
			last = at
		}
	}
	for tag := range landed {
		t.Errorf("no core marker for what lands on %s", tag)
	}
}

// TestSpareMarkers: a spare core that no terminal tells bears its own name at
// both ends, by any rule; one landed at both ends is marked like the rest.
func TestSpareMarkers(t *testing.T) {
	t.Parallel()
	p, _, _ := Read(os.DirFS("../samples"), "tern-island")
	for rule := range markerWords {
		p.Practice.Marker = MarkerRule(rule)
		found := map[string]string{}
		for _, l := range p.Labels() {
			if l.Kind == CoreLabel {
				found[l.Of+" in "+l.Where] = l.Text
			}
		}
		for _, where := range []string{"JB-21", "MC-1"} {
			if got := found["W-21-2a in "+where]; got != "W-21-2a" {
				t.Errorf("%s: marker of spare core W-21-2a in %s: %q", markerWords[rule], where, got)
			}
			if _, ok := found["W-21-2S in "+where]; ok {
				t.Errorf("a marker for the free screen W-21-2S in %s", where)
			}
		}
		if got := found["W-21-19a in JB-21"]; MarkerRule(rule) == BothMarker && got != "JB-21/X1:55 / MC-1/X4:55" {
			t.Errorf("marker of the landed spare W-21-19a: %q", got)
		}
	}
	// Pairs 2 is coiled: two cores, two ends each.
	m := material(p, Scope{Cables: []*Cable{p.Cable("W-21")}})
	markers := itemOf(m, coreMarkers, "").N
	if want := itemOf(m, landings, newEnds).N + float64(2*2*countSpares(p, "W-21")); markers != want || countSpares(p, "W-21") == 0 {
		t.Errorf("%v markers, want %v", markers, want)
	}
}

// countSpares counts the pairs of a cable that are landed nowhere.
func countSpares(p *Plant, cable string) (n int) {
	for _, core := range p.Cable(cable).Cores {
		if w := p.ConductorOf(core); core.N == 1 && w.Spare != "" && w.From.Terminal == nil && w.To.Terminal == nil {
			n++
		}
	}
	return n
}

// TestMarkerRules after the ways of marking that IEC 62491 names: own, local
// end, remote end and both ends; then the loop and the signal.
func TestMarkerRules(t *testing.T) {
	t.Parallel()
	p, _, _ := Read(os.DirFS("../samples"), "one-loop")
	for rule, want := range map[MarkerRule]string{
		OwnMarker: "W-21-3b", LocalMarker: "JB-21/X1:8", RemoteMarker: "MC-2/X4:8",
		BothMarker: "JB-21/X1:8 / MC-2/X4:8", LoopMarker: "F-2107 -", SignalMarker: "FT-2107 -",
	} {
		p.Practice.Marker = rule
		i := slices.IndexFunc(p.Labels(), func(l Label) bool { return l.Of == "W-21-3b" && l.Where == "JB-21" })
		if i < 0 {
			t.Fatal("W-21-3b has no marker in JB-21")
		}
		if got := p.Labels()[i].Text; got != want {
			t.Errorf("%v: %q, not %q", rule, got, want)
		}
	}
}

func TestLabelStock(t *testing.T) {
	t.Parallel()
	of := func(practice string) (Stocks, string, Practice) {
		text := "plant: P\npractice:\n" + practice
		p, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		for _, x := range problems {
			if x.Code != "no-loops" {
				return p.Practice.LabelStock, x.Code, p.Practice
			}
		}
		return p.Practice.LabelStock, "", p.Practice
	}
	full := Stock{38100, 21200, 5, 13, 2500, 0, "A4"}
	plainStock := Stock{Width: 38000, Height: 21000, Across: 5, Down: 13, Paper: "A4"}
	inches := Stock{44450, 12700, 4, 20, 7620, 0, "letter"}
	for text, want := range map[string]Stocks{
		"  label stock: 38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm\n":                     {full, full, full},
		"  label stock: 38 x 21 mm, 5 x 13 on A4\n":                                         {plainStock, plainStock, plainStock},
		"  label stock: 38x21mm, 5x13 on A4\n":                                              {plainStock, plainStock, plainStock},
		"  label stock: 1.75 x 0.5 in, 4 x 20 on letter, gap 0.3 x 0 in\n":                  {inches, inches, inches},
		"  label stock:\n    cores: 38 x 21 mm, 5 x 13 on A4\n":                             {CoreLabel: plainStock},
		"  label stock: {terminals: \"1.75 x 0.5 in, 4 x 20 on letter, gap 0.3 x 0 in\"}\n": {TerminalLabel: inches},
	} {
		if got, code, _ := of(text); got != want || code != "" {
			t.Errorf("%q gives %v %s, not %v", text, got, code, want)
		}
	}
	for text, want := range map[string]string{
		"  label stock: 38 x 21 mm\n":                                 "unknown-word",
		"  label stock: 38 x 21 mm, 5 x 13 on A3\n":                   "unknown-word",
		"  label stock: 38 x 21 mm, 6 x 13 on A4\n":                   "number-out-of-range",
		"  label stock: 38 x 21 mm, 5 x 15 on A4\n":                   "number-out-of-range",
		"  label stock: 38 x 21 mm, 5 x 13 on A4, gap 6 x 0 mm\n":     "number-out-of-range",
		"  label stock: 9 x 21 mm, 5 x 13 on A4\n":                    "number-out-of-range",
		"  label stock: 38 x 21 mm, 0 x 13 on A4\n":                   "number-out-of-range",
		"  label stock: 99999999999999999999 x 21 mm, 5 x 13 on A4\n": "number-out-of-range",
		"  label stock: [a]\n":                                        "wrong-shape",
		"  label stock: {}\n":                                         "wrong-shape",
		"  label stock: {wires: \"38 x 21 mm, 5 x 13 on A4\"}\n":      "unknown-key",
	} {
		got, code, pr := of(text)
		if code != want || got != (Stocks{}) {
			t.Errorf("%q gives %v %q, not %q", text, got, code, want)
		}
		if pr.Stock(CoreLabel) != defaultStock["A4"] {
			t.Errorf("%q does not leave the default", text)
		}
	}
	if _, _, pr := of("  record paper: letter\n"); pr.Stock(CableLabel) != inches {
		t.Errorf("default on letter: %v", pr.Stock(CableLabel))
	}
	for paper, s := range defaultStock {
		if size := stockPapers[paper]; s.wide() > size[0] || s.tall() > size[1] {
			t.Errorf("the default for %s is larger than it", paper)
		}
	}
}
