package material

import (
	"os"
	"slices"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/read"
)

// TestLabels compares the labels of a whole plant with its conductors, cables
// and strips, counted another way.
func TestLabels(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../../samples"), "tern-island")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	labels := Labels(p)
	count := map[model.LabelKind]int{}
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
	if want := 2 * len(p.Cables); count[model.CableLabel] != want {
		t.Errorf("cable tags: %d, not %d", count[model.CableLabel], want)
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
		if w.Kind == model.JumperRun {
			continue
		}
		for _, e := range []model.End{w.From, w.To} {
			if e.Terminal != nil {
				ends++
				landed[e.Terminal.Tag()] = true
			} else if !w.Screen && (w.Core == nil || !w.Core.IsScreen()) { // a core cut back, or a spare one
				ends++
			}
		}
	}
	if count[model.CoreLabel] != ends || count[model.TerminalLabel] != terminals {
		t.Errorf("core markers %d, not %d; terminal markers %d, not %d", count[model.CoreLabel], ends, count[model.TerminalLabel], terminals)
	}
	// One place after the other, and along a strip in its order.
	var places []string
	last := -1
	for _, l := range labels {
		if l.Kind != model.CoreLabel {
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
			at := p.Part("JB-21/X1").TerminalByName[strings.TrimPrefix(l.End, "JB-21/X1:")].Index
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
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	for rule := range model.MarkerWords {
		p.Practice.Marker = model.MarkerRule(rule)
		found := map[string]string{}
		for _, l := range Labels(p) {
			if l.Kind == model.CoreLabel {
				found[l.Of+" in "+l.Where] = l.Text
			}
		}
		for _, where := range []string{"JB-21", "MC-1"} {
			if got := found["W-21-2a in "+where]; got != "W-21-2a" {
				t.Errorf("%s: marker of spare core W-21-2a in %s: %q", model.MarkerWords[rule], where, got)
			}
			if _, ok := found["W-21-2S in "+where]; ok {
				t.Errorf("a marker for the free screen W-21-2S in %s", where)
			}
		}
		if got := found["W-21-19a in JB-21"]; model.MarkerRule(rule) == model.BothMarker && got != "JB-21/X1:55 / MC-1/X4:55" {
			t.Errorf("marker of the landed spare W-21-19a: %q", got)
		}
	}
	// Pairs 2 is coiled: two cores, two ends each.
	m := material(p, Scope{Cables: []*model.Cable{p.Cable("W-21")}})
	markers := itemOf(m, coreMarkers, "").N
	if want := itemOf(m, landings, newEnds).N + float64(2*2*countSpares(p, "W-21")); markers != want || countSpares(p, "W-21") == 0 {
		t.Errorf("%v markers, want %v", markers, want)
	}
}

// countSpares counts the pairs of a cable that are landed nowhere.
func countSpares(p *model.Plant, cable string) (n int) {
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
	p, _, _ := read.Read(os.DirFS("../../samples"), "one-loop")
	for rule, want := range map[model.MarkerRule]string{
		model.OwnMarker: "W-21-3b", model.LocalMarker: "JB-21/X1:8", model.RemoteMarker: "MC-2/X4:8",
		model.BothMarker: "JB-21/X1:8 / MC-2/X4:8", model.LoopMarker: "F-2107 -", model.SignalMarker: "FT-2107 -",
	} {
		p.Practice.Marker = rule
		i := slices.IndexFunc(Labels(p), func(l Label) bool { return l.Of == "W-21-3b" && l.Where == "JB-21" })
		if i < 0 {
			t.Fatal("W-21-3b has no marker in JB-21")
		}
		if got := Labels(p)[i].Text; got != want {
			t.Errorf("%v: %q, not %q", rule, got, want)
		}
	}
}
