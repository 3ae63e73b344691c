package wording_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/pack"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/material"
	"ringout/render"
	"ringout/samples"
)

// safeThere reports whether a sheet shows intrinsically safe wiring, and whether
// that is guarded by shunt-diode barriers, told from the model alone.
func safeThere(pl *sheet.Plan, s *sheet.Sheet) (safe, shunt bool) {
	look := func(ws []*model.Conductor) {
		for _, w := range ws {
			if !w.IntrinsicallySafe() {
				continue
			}
			safe = true
			if w.Circuit == nil || w.Circuit.Path == nil {
				continue
			}
			for _, st := range w.Circuit.Stations() {
				shunt = shunt || st.Part.Kind.Name == "barrier"
			}
		}
	}
	at := func(p *model.Place) {
		if p == nil {
			return
		}
		for _, w := range pl.Plant.AtPlace(p) {
			for _, e := range []model.End{w.From, w.To} {
				if e.Terminal != nil && e.Terminal.Part.Place == p && !wording.Earthed(e.Terminal) {
					look([]*model.Conductor{w})
				}
			}
		}
	}
	switch {
	case s.Place != nil:
		at(s.Place)
	case s.Cable != nil:
		at(s.Cable.From.Place)
		at(s.Cable.To.Place)
	case s.Loop != nil:
		for _, c := range s.Loop.Circuits {
			look(c.Conductors(pl.Plant))
		}
		if s.Kind.Name == sheet.Record {
			for _, p := range wording.Opened(pl.Plant, s.Loop) {
				at(p)
			}
		}
	}
	return safe, shunt
}

// checkSafeWords wants the one sentence on every sheet that shows intrinsically
// safe wiring, whatever its kind, and on no other.
func checkSafeWords(t *testing.T, p *model.Plant) (n map[string]int) {
	pl := layout.New(p, false, nil)
	n = map[string]int{}
	asks := fmt.Sprintf(" Keep %s from other terminals; separate cables.", p.Practice.SafeDistance)
	for i, first := range pl.Sheets {
		if first.Part != 1 || first.Kind.Name == sheet.Index {
			continue
		}
		words := ""
		for _, s := range pl.Sheets[i:][:first.Of] {
			page, _ := s.Planned.Draw(pl, s)
			words += " " + strings.Join(layouttest.LettersOf(page.Items), " ")
		}
		safe, shunt := safeThere(pl, first)
		has := strings.Contains(words, "Intrinsically safe (IS): ") && strings.Contains(words, asks)
		if has != safe {
			t.Errorf("%s: intrinsically safe %v, and says so %v", first.Name, safe, has)
		}
		if keeps := strings.Contains(words, strings.TrimSpace(p.Say(wording.KeepEarth))); safe && keeps != shunt {
			t.Errorf("%s: barriers %v, and says that they keep their earth %v", first.Name, shunt, keeps)
		}
		if safe {
			n[first.Kind.Name]++
		}
	}
	return n
}

// TestSafeWordsAreTheSame: every kind of sheet says the same of intrinsic safety.
func TestSafeWordsAreTheSame(t *testing.T) {
	t.Parallel()
	n := checkSafeWords(t, layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false))
	for _, kind := range []string{sheet.Loop, sheet.Box, sheet.Cabinet, sheet.RingOut, sheet.Record} {
		if n[kind] == 0 {
			t.Errorf("no sheet of kind %s shows intrinsically safe wiring", kind)
		}
	}
	for seed := range samples.Many(t, 2, 5, 12) {
		text := fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(uint64(seed), 6))}}
		checkSafeWords(t, layouttest.PlantOf(t, text, ".", false))
	}
}

// cautions are the constants of cautions.go that begin a sentence.
func cautions(t *testing.T) (all []string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "cautions.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			s, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			if words := strings.Fields(s); len(words) > 1 && unicode.IsUpper(rune(s[0])) {
				all = append(all, strings.Join(words[:2], " "))
			}
		}
		return true
	})
	if len(all) < 5 {
		t.Fatalf("only %q in cautions.go", all)
	}
	return all
}

// TestCautionsAreWordsOfSafety: every text of a caution is marked, so that the audit
// of all pages holds it to 2.5 mm; the beginnings of cautions tell which: those of
// cautions.go, and of what the plant has a part in. Each is on some sheet.
func TestCautionsAreWordsOfSafety(t *testing.T) {
	t.Parallel()
	pl := layout.New(layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false), true, nil)
	beginnings := append(cautions(t), "Intrinsically safe (IS)", "Hazardous area", "230 V AC ", "More cautions: sheet", "DRAFT – ")
	seen := map[string]bool{}
	n := 0
	var look func(name string, items []render.Item)
	look = func(name string, items []render.Item) {
		for _, item := range items {
			switch m := item.(type) {
			case *render.Group:
				look(name, m.Items)
			case *render.Text:
				for _, s := range beginnings {
					if strings.Contains(m.S, s) {
						seen[s] = true
						if n++; !m.Safety || m.Height < 2500 {
							t.Errorf("%s: %q is no text of safety, %d µm high", name, m.S, m.Height)
						}
					}
				}
			}
		}
	}
	for _, s := range pl.Sheets {
		page, _ := s.Planned.Draw(pl, s)
		look(s.Name, page.Items)
	}
	for _, s := range beginnings {
		if !seen[s] {
			t.Errorf("no sheet has %q on one line", s)
		}
	}
	if n < 100 {
		t.Errorf("%d cautions in all", n)
	}
}

// TestPackHasMoreCautions: a sheet that says where more cautions are is never in a
// pack without that sheet.
func TestPackHasMoreCautions(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	led := 0
	for _, l := range p.Loops {
		pack, err := pack.New(pl, []pack.Asked{{Kind: "loop", Tag: l.Tag}}, material.Scope{Loops: []*model.Loop{l}}, false)
		if err != nil {
			t.Fatal(err)
		}
		type leaf struct {
			no   int          // in the set; 0 of an extract
			of   *model.Place // of an extract
			part int          // of an extract
		}
		in := map[leaf]bool{}
		for _, s := range pack.Sheets {
			if s.No > 0 {
				in[leaf{no: s.No}] = true
			} else {
				in[leaf{of: s.Place, part: s.Part}] = true
			}
		}
		for _, s := range pack.Sheets {
			if s.Place == nil {
				continue
			}
			page, _ := s.Planned.Draw(pl, s)
			for _, words := range layouttest.LettersOf(page.Items) {
				var no int
				if n, _ := fmt.Sscanf(words, "More cautions: sheet %d", &no); n == 1 {
					to := leaf{no: no}
					if strings.HasSuffix(words, "of this extract") {
						to = leaf{of: s.Place, part: no}
					}
					if led++; !in[to] {
						t.Errorf("pack of %s: %s says %q, which is not in it", l.Tag, s.Name, words)
					}
				}
			}
		}
	}
	if led == 0 {
		t.Error("no sheet leads to more cautions")
	}
}
