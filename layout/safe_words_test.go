package layout

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/render"
	random "ringout/samples"
)

// safeThere reports whether a sheet shows intrinsically safe wiring, and whether
// that is guarded by shunt-diode barriers, told from the model alone.
func safeThere(pl *Plan, s *Sheet) (safe, shunt bool) {
	look := func(ws []*model.Conductor) {
		for _, w := range ws {
			if !w.Safe() {
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
				if e.Terminal != nil && e.Terminal.Part.Place == p && !earthed(e.Terminal) {
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
		if s.Kind.Name == Record {
			for _, p := range pl.opened(s.Loop) {
				at(p)
			}
		}
	}
	return safe, shunt
}

// checkSafeWords wants the one sentence on every sheet that shows intrinsically
// safe wiring, whatever its kind, and on no other.
func checkSafeWords(t *testing.T, p *model.Plant) (n map[string]int) {
	pl := New(p, false, nil)
	n = map[string]int{}
	asks := fmt.Sprintf(" Keep %s mm from other terminals; separate cables.", plain(p.Practice.SafeDistance))
	for i, first := range pl.Sheets {
		if first.Part != 1 || first.Kind.Name == Index {
			continue
		}
		words := ""
		for _, s := range pl.Sheets[i:][:first.Of] {
			page, _ := s.plan.Draw(pl, s)
			words += " " + strings.Join(lettersOf(page.Items), " ")
		}
		safe, shunt := safeThere(pl, first)
		has := strings.Contains(words, "Intrinsically safe (IS): ") && strings.Contains(words, asks)
		if has != safe {
			t.Errorf("%s: intrinsically safe %v, and says so %v", first.Name, safe, has)
		}
		if keeps := strings.Contains(words, strings.TrimSpace(keepEarth)); safe && keeps != shunt {
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
	n := checkSafeWords(t, plantOf(t, os.DirFS("../samples"), "tern-island", false))
	for _, kind := range []string{Loop, Box, Cabinet, RingOut, Record} {
		if n[kind] == 0 {
			t.Errorf("no sheet of kind %s shows intrinsically safe wiring", kind)
		}
	}
	for seed := range random.Many(t, 2, 5, 12) {
		text := fstest.MapFS{"plant.yaml": {Data: []byte(random.Random(uint64(seed), 6))}}
		checkSafeWords(t, plantOf(t, text, ".", false))
	}
}

// TestSmallSafetyIsFound: words of safety lower than 2.5 mm are found, and all
// cautions are marked as such.
func TestSmallSafetyIsFound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		height render.Len
		narrow int8
		safety bool
		want   int
	}{{2500, 0, true, 0}, {2499, 0, true, 1}, {2500, 70, true, 0}, {2500, 69, true, 0}, {1800, 45, false, 0}} {
		page := &render.Page{Head: render.Head{W: 100 * render.MM, H: 100 * render.MM}}
		page.Items = []render.Item{&render.Text{At: render.Point{X: 10000, Y: 50000}, Height: c.height, Narrow: c.narrow, S: "live", Width: 5000, Safety: c.safety}}
		n := 0
		for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
			if f.Kind == render.SmallSafety {
				n++
			}
		}
		if n != c.want {
			t.Errorf("%d µm, %d %%, safety %v: %d findings, not %d", c.height, c.narrow, c.safety, n, c.want)
		}
	}
}

// TestCautionsAreWordsOfSafety: every text of a caution is marked, so that the audit
// of all pages holds it to 2.5 mm; the known beginnings of cautions tell which.
func TestCautionsAreWordsOfSafety(t *testing.T) {
	t.Parallel()
	pl := New(plantOf(t, os.DirFS("../samples"), "tern-island", false), true, nil)
	n := 0
	var look func(name string, items []render.Item)
	look = func(name string, items []render.Item) {
		for _, item := range items {
			switch m := item.(type) {
			case *render.Group:
				look(name, m.Items)
			case *render.Text:
				for _, s := range []string{"Intrinsically safe (IS)", "Hazardous area", "Prove dead", "Isolated, locked out", "230 V AC of", "Local codes, the permits", "More cautions: sheet", "DRAFT: "} {
					if strings.HasPrefix(m.S, s) {
						if n++; !m.Safety || m.Height < 2500 {
							t.Errorf("%s: %q is no text of safety, %d µm high", name, m.S, m.Height)
						}
					}
				}
			}
		}
	}
	for _, s := range pl.Sheets {
		page, _ := s.plan.Draw(pl, s)
		look(s.Name, page.Items)
	}
	if n < 100 {
		t.Errorf("%d cautions in all", n)
	}
}

// TestPackHasMoreCautions: a sheet that says where more cautions are is never in a
// pack without that sheet.
func TestPackHasMoreCautions(t *testing.T) {
	t.Parallel()
	p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
	pl := New(p, false, nil)
	led := 0
	for _, l := range p.Loops {
		pack, err := NewPack(pl, []string{"loop " + l.Tag}, model.Scope{Loops: []*model.Loop{l}}, false)
		if err != nil {
			t.Fatal(err)
		}
		in := map[int]bool{}
		for _, s := range pack.Sheets {
			in[s.No] = true
		}
		for _, s := range pack.Sheets {
			if s.Place == nil {
				continue
			}
			page, _ := s.plan.Draw(pl, s)
			for _, words := range lettersOf(page.Items) {
				var no int
				if n, _ := fmt.Sscanf(words, "More cautions: sheet %d", &no); n == 1 {
					if led++; !in[no] {
						t.Errorf("pack of %s: %s leads to sheet %d, which is not in it", l.Tag, s.Name, no)
					}
				}
			}
		}
	}
	if led == 0 {
		t.Error("no sheet leads to more cautions")
	}
}
