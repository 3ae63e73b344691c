package record

import (
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
)

// TestRingOutFacts: every core and screen of a cable stands in one row of its
// sheet, in the order of the cable, with the facts of the model as data and in
// words, and the sheet bears the code of the cable's facts.
func TestRingOutFacts(t *testing.T) {
	t.Parallel()
	for _, name := range layouttest.Samples {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), name, false)
		pl := newSet(p, false, nil)
		rows := map[*model.Cable][]string{}
		for _, s := range pl.Sheets {
			if s.Kind.Name != sheet.RingOut {
				continue
			}
			if want := model.WiringCode(s.Cable.Facts(p)); s.Code != want {
				t.Errorf("%s: wiring code %s, want %s", s.Name, s.Code, want)
			}
			for _, item := range layouttest.Audited(t, pl, s).Items {
				if g, ok := item.(*render.Group); ok && strings.HasPrefix(g.ID, "core-") {
					rows[s.Cable] = append(rows[s.Cable], ringFact(t, p, s.Cable, g))
				}
			}
		}
		for _, c := range p.Cables {
			var want []string
			if c.Type.Groups > 1 && len(c.Cores) > 3 {
				for _, core := range c.CoresAndScreens() {
					w := p.ConductorOf(core)
					if w == nil {
						t.Fatalf("%s: nothing is said of %s", name, core.Name())
					}
					circuit := ""
					if w.Circuit != nil {
						circuit = w.Circuit.Name
					}
					want = append(want, circuit+"|"+w.Fact())
				}
			}
			if !slices.Equal(rows[c], want) {
				t.Errorf("%s: %s: rows\n%s\nwant\n%s", name, c.Tag, strings.Join(rows[c], "\n"), strings.Join(want, "\n"))
			}
		}
	}
}

// ringFact reads a fact back from the data of a row, and checks that its cells
// say the same: the end of the cable that it comes from stands on the left.
func ringFact(t *testing.T, p *model.Plant, c *model.Cable, g *render.Group) string {
	data := map[string]string{}
	for _, d := range g.Data {
		data[d.Key] = d.Value
	}
	letters := layouttest.LettersOf(g.Items)
	squeezed := strings.ReplaceAll(strings.Join(letters, ""), " ", "")
	if !strings.HasPrefix(squeezed, strings.ReplaceAll(data["core"]+data["colour"], " ", "")) {
		t.Errorf("row %s of %s begins %q", g.ID, c.Tag, letters)
	}
	last := 0
	ends := []string{data["from"], data["to"]}
	if strings.HasPrefix(data["from"], c.To.Tag()+"/") {
		slices.Reverse(ends)
	}
	for _, e := range ends {
		_, cell, landed := strings.Cut(e, "/")
		if !landed {
			continue
		}
		at := strings.Index(squeezed[last:], cell)
		if at < 0 {
			t.Errorf("row %s of %s: %s is not in its place in %q", g.ID, c.Tag, e, letters)
		}
		last += max(0, at)
	}
	return fmt.Sprintf("%s|%s|%s|%s|%s|%s|%s", data["circuit"], data["core"], data["colour"], data["role"], data["from"], data["to"], data["status"])
}

// TestRingOutBinders: each pair of a cable of fifty stands under its binder,
// none of a cable of 25; no insulation test, no column for it.
func TestRingOutBinders(t *testing.T) {
	t.Parallel()
	for _, pairs := range []int{25, 50} {
		text := fmt.Sprintf(`
plant: Heron Sluice
practice: {insulation test: none, record paper: letter}
cable types:
  trunk: {pairs: %d, conductor: 22 AWG, code: 25-pair, screen: overall}
boxes:
  JB-1: {strips: {X1: {terminals: 1..3}}}
cabinets:
  MC-1: {strips: {X1: {terminals: 1..3}}}
cables:
  W-1: {type: trunk, from: JB-1, to: MC-1}
`, pairs)
		p := layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml", true)
		p.Practice.TestVolts = 0
		pl := newSet(p, false, nil)
		var words []string
		for _, s := range pl.Sheets {
			if s.Kind.Name == sheet.RingOut {
				words = append(words, layouttest.LettersOf(layouttest.Audited(t, pl, s).Items)...)
			}
		}
		all := strings.Join(words, "\n")
		for _, w := range []string{"binder 1 WHBU", "binder 2 WHOG"} {
			if strings.Contains(all, w) != (pairs > 25) {
				t.Errorf("%d pairs: %q is there: %v", pairs, w, strings.Contains(all, w))
			}
		}
		if strings.Contains(all, "V DC") || !strings.Contains(all, "not required") {
			t.Errorf("%d pairs: no insulation test is asked for, and one is there", pairs)
		}
		if !strings.Contains(all, "overall screen") || !strings.Contains(all, paper.NotGiven) {
			t.Errorf("%d pairs: the overall screen, of which nothing is said, is not there", pairs)
		}
	}
}

// TestRingOutCells: two linked cores give one reading, every end has a box for
// landed, a screen is read and proved like a core but for the insulation, and a
// spare core bears its own name. By hand: 165 m of 24.5 Ω/km there and back, 115 %
// of it the most (IEC 60228).
func TestRingOutCells(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := newSet(p, false, nil)
	rows := func(cable string) []paper.Row {
		sections, _ := ringOut(pl, p.Cable(cable), "", leastPunch, 170*render.MM)
		return sections[ringRowsAt].Table.Rows
	}
	var words []string
	strands := p.Cable("W-21").CoresAndScreens()
	for _, row := range rows("W-21") {
		if row.Group != "" {
			words = append(words, row.Group)
			continue
		}
		core := strands[0]
		strands = strands[1:]
		if row.Cells[4].Kind != paper.Tick || row.Cells[7].Kind != paper.Tick {
			t.Errorf("%s: no box for landed at both ends", row.Cells[0].S)
		}
		want := []paper.CellKind{paper.Words, paper.Tick, paper.Tick, paper.Words, paper.Tick}
		switch {
		case core.IsScreen():
			want[3], want[4] = paper.NA, paper.NA
		case core.N == 2:
			want[0] = paper.Above
		}
		if got := kindsOf(row.Cells[ringOhms : ringOhms+5]); !slices.Equal(got, want) {
			t.Errorf("%s: cells %v, want %v", core.Name(), got, want)
		}
		if core.Name() == "W-21-2a" && (row.Cells[3].S != "W-21-2a" || row.Cells[6].S != "W-21-2a") {
			t.Errorf("the spare core is marked %q and %q", row.Cells[3].S, row.Cells[6].S)
		}
	}
	if want := "pair 3 BK-BU: loop F-2107, circuit FT-2107; expect up to 8.09 Ω, limit 9.30 Ω"; !slices.Contains(words, want) {
		t.Errorf("no heading %q in %q", want, words)
	}
	var text string
	for _, s := range pl.Sheets {
		if s.Kind.Name == sheet.RingOut && s.Cable.Tag == "W-29" {
			text += strings.Join(layouttest.LettersOf(layouttest.Audited(t, pl, s).Items), "\n") + "\n"
		}
	}
	// 45 m of 18.1 Ω/km twice: step 2 links two cores of a cable of single cores too.
	for _, want := range []string{"up to 1.63 Ω, limit 2.13 Ω", "Rung out as drawn", "Rung out by", "Accepted for the water board"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheets of W-29 do not say %q", want)
		}
	}
	for _, never := range []string{"one core at a time", "Loop checked by", "works as meant"} {
		if strings.Contains(text, never) {
			t.Errorf("the sheets of W-29 say %q", never)
		}
	}
}

// TestRingOutLater: a cable of a later stage has nothing to fill in.
func TestRingOutLater(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	r := &ringer{recordBuilder{plant: p}, p.Cable("W-26")}
	p.ConductorOf(p.Cable("W-26").Cores[0]).Status = model.Future
	tests := insulationTests{alike: true, of: map[*model.Cable]insulationTest{}}
	tests.add(p, p.Cable("W-26"))
	row := r.ringRow(p.Cable("W-26").Cores[0], tests)
	for i, c := range row.Cells[ringOhms:] {
		if i == 0 && c.Kind != paper.NA || i > 0 && i < 4 && c.Kind != paper.Before {
			t.Errorf("cell %d: %v", i, c)
		}
	}
	if row.Cells[ringOhms+4].Kind != paper.Before {
		t.Error("a box for identity")
	}
	if row.Cells[4].Kind != paper.NA || row.Cells[7].Kind != paper.NA {
		t.Error("a box for landed")
	}
}

// TestIdentity: every core that is tested on a form, pair, triad, spare or single,
// has a box for identity, and no screen has. Whatever two cores of a group are
// swapped at one end, what such a box stands for is another terminal.
func TestIdentity(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	sizes := map[int]bool{}
	check := func(row paper.Row, box paper.Cell, w *model.Conductor) {
		want := paper.Tick
		switch {
		case w.Status == model.Future:
			want = paper.Before
		case w.Screen || w.Core.IsScreen():
			want = paper.NA
		}
		if box.Kind != want {
			t.Errorf("%s: the cell for identity is %v, not %v", w.Core.Name(), box, want)
		}
	}
	for _, c := range p.Cables {
		tests := insulationTests{alike: true, of: map[*model.Cable]insulationTest{}}
		tests.add(p, c)
		r := &ringer{recordBuilder{plant: p}, c}
		row := func(core *model.Core) paper.Row { return r.ringRow(core, tests) }
		for i, a := range c.Cores {
			w := p.ConductorOf(a)
			if w == nil {
				continue
			}
			was := row(a)
			check(was, was.Cells[len(was.Cells)-2], w)
			for _, b := range c.Cores[i+1:] {
				other := p.ConductorOf(b)
				if other == nil || a.Group != b.Group || w.To.Terminal == nil || other.To.Terminal == nil {
					continue
				}
				w.To, other.To = other.To, w.To
				if now := row(a); reflect.DeepEqual(now.Data, was.Data) {
					t.Errorf("%s and %s swapped: the row says the same", a.Name(), b.Name())
				}
				w.To, other.To = other.To, w.To
				sizes[c.Type.Size] = true
			}
		}
	}
	if !sizes[2] || !sizes[3] {
		t.Errorf("cores of groups of %v were swapped", sizes)
	}
	for _, l := range p.Loops {
		r := &recordBuilder{plant: p, loop: l}
		tests := r.insulation()
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(p) {
				if w.Core != nil {
					row := r.wireRow(w, tests)
					check(row, row.Cells[len(row.Cells)-2], w)
				}
			}
		}
	}
}

// TestRingOutReturns: a core is told from the other of its pair by the screen that
// the cable has, and by earth only where it has none.
func TestRingOutReturns(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	for cable, want := range map[string]string{
		"W-21": "Then link each core alone to its screen: no other core shows continuity: tick Identity.",
		"W-22": "Then link each core alone to the overall screen: no other core shows continuity: tick Identity.",
		"W-29": "links it to a proved core, first to the overall screen.",
	} {
		layouttest.Has(t, layouttest.RowsOf((&ringer{recordBuilder{plant: p}, p.Cable(cable)}).order()), want)
	}
	c := p.Cable("W-22")
	c.Type.Screen = 0
	layouttest.Has(t, layouttest.RowsOf((&ringer{recordBuilder{plant: p}, c}).order()), "Then link each core alone to earth: ")
}
