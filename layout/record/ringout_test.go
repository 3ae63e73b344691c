package record

import (
	"fmt"
	"os"
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
			for _, g := range coreGroups(layouttest.Audited(t, pl, s).Items) {
				rows[s.Cable] = append(rows[s.Cable], ringFact(t, p, g))
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

// coreGroups are what stands for each core on a page, in the order of its number.
func coreGroups(items []render.Item) (all []*render.Group) {
	for _, item := range items {
		if g, ok := item.(*render.Group); ok && strings.HasPrefix(g.ID, "core-") {
			all = append(all, g)
		}
	}
	slices.SortFunc(all, func(a, b *render.Group) int {
		var m, n int
		fmt.Sscanf(a.ID, "core-%d", &m)
		fmt.Sscanf(b.ID, "core-%d", &n)
		return m - n
	})
	return all
}

// ringFact reads a fact back from the data of a core, and checks that its cell says
// the same: where it is landed at the from end of the cable.
func ringFact(t *testing.T, p *model.Plant, g *render.Group) string {
	data := map[string]string{}
	for _, d := range g.Data {
		data[d.Key] = d.Value
	}
	cell := strings.ReplaceAll(strings.Join(layouttest.LettersOf(g.Items), ""), " ", "")
	landed := strings.HasSuffix(strings.ReplaceAll(data["from"], " ", ""), cell) || strings.HasSuffix(strings.ReplaceAll(data["to"], " ", ""), cell)
	if cell == "" || cell != "spare" && cell != "NOTGIVEN" && !landed {
		t.Errorf("%s from %s to %s is landed on %q", data["core"], data["from"], data["to"], cell)
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
// landed, a screen is read and landed by itself, and each core has its box for identity.
// By hand: 165 m of 24.5 Ω/km there and back, 115 % of it the most (IEC 60228).
func TestRingOutCells(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := newSet(p, false, nil)
	c := p.Cable("W-21")
	table := ringRows(&ringer{recordBuilder{plant: p}, c})
	for i, group := range ringGroups(c) {
		cells := table.Rows[i].Cells
		if len(cells) != len(table.Columns) {
			t.Fatalf("row %d has %d cells of %d", i, len(cells), len(table.Columns))
		}
		W, T, A, N, B := paper.Words, paper.Tick, paper.Above, paper.NA, paper.Before
		// name, end, a, b, landed, screen, landed, Ω, Ω of the screen, short, earth, MΩ, identities, initials
		want := []paper.CellKind{W, W, W, W, T, W, T, W, W, T, T, W, T, T, W}
		if group == 0 {
			want = []paper.CellKind{W, W, W, B, T, N, N, W, N, T, T, N, N, N, W}
		}
		if i%2 > 0 { // the other end: what is read is one cell with that above
			for k := range want {
				if k != 1 && k > 6 || k == 0 || want[k] == N {
					want[k] = A
				}
			}
		}
		if got := kindsOf(cells); !slices.Equal(got, want) {
			t.Errorf("line %d of pair %d: cells %v, want %v", i%2, group, got, want)
		}
	}
	lines := table.Rows[4:6] // of pair 3
	if a, b := lines[0].Cells, lines[1].Cells; a[0].S != "3  + BK  − BU" || b[0].S != "F-2107, FT-2107" || a[2].S != "X1:7" || b[2].S != "X4:7" || a[3].S != "X1:8" || a[5].S != "X1:9" {
		t.Errorf("pair 3 reads %v, %v", a, b)
	}
	if b := table.Rows[3].Cells; b[0].S != "coiled and capped" || b[2].S != "spare" {
		t.Errorf("the spare pair 2 reads %v", b)
	}
	if head := table.Columns[7].Head; head != "Ω read\nup to 8.09 Ω\nlimit 9.30 Ω" {
		t.Errorf("the ohms are headed %q", head)
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

// TestRingOutLater: a pair of a later stage has nothing to fill in, whatever it is
// made of.
func TestRingOutLater(t *testing.T) {
	t.Parallel()
	for _, cable := range []string{"W-26", "W-24"} { // pairs and triads
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
		c := p.Cable(cable)
		for _, core := range groupOf(c, 1) {
			p.ConductorOf(core).Status = model.Future
		}
		if len(c.Screens) > 0 {
			p.ConductorOf(c.Screens[0]).Status = model.Future
		}
		table := ringRows(&ringer{recordBuilder{plant: p}, c})
		for i, group := range ringGroups(c) {
			boxes, blank := 0, 0
			for _, cell := range table.Rows[i].Cells {
				switch {
				case cell.Kind == paper.Tick:
					boxes++
				case cell.Kind == paper.Words && cell.S == "":
					blank++
				}
			}
			if group == 1 && boxes+blank > 0 || group == 2 && boxes == 0 {
				t.Errorf("%s, group %d: %d boxes, %d cells to write in", cable, group, boxes, blank)
			}
		}
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
		r := &ringer{recordBuilder{plant: p}, c}
		said := func() (all []string) { // of each core where it is landed
			for _, row := range ringRows(r).Rows {
				for _, cell := range row.Cells {
					if cell.Of != nil {
						all = append(all, fmt.Sprint(cell.Of.Data))
					}
				}
			}
			return all
		}
		if boxes, cores := identityBoxes(ringRows(r)), len(c.Cores); boxes != cores && c.Status != model.Future {
			t.Errorf("%s: %d boxes for identity, %d cores", c.Tag, boxes, cores)
		}
		was := said()
		for i, a := range c.Cores {
			w := p.ConductorOf(a)
			if w == nil {
				continue
			}
			for _, b := range c.Cores[i+1:] {
				other := p.ConductorOf(b)
				if other == nil || a.Group != b.Group || w.To.Terminal == nil || other.To.Terminal == nil {
					continue
				}
				w.To, other.To = other.To, w.To
				if slices.Equal(said(), was) {
					t.Errorf("%s and %s swapped: the form says the same", a.Name(), b.Name())
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

// identityBoxes counts the boxes in the columns of identity.
func identityBoxes(t *paper.Table) (n int) {
	for _, row := range t.Rows {
		for i, cell := range row.Cells {
			if head := t.Columns[i].Head; cell.Kind == paper.Tick && (head == "Identity" || strings.HasPrefix(head, "Ident. ")) {
				n++
			}
		}
	}
	return n
}

// TestRingOutReturns: a core is told from the other of its pair by the screen that
// the cable has, and by earth only where it has none.
func TestRingOutReturns(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := newSet(p, false, nil)
	for cable, want := range map[string]string{"W-21": "its screen", "W-22": "the overall screen"} {
		layouttest.Has(t, identityOf(pl, p.Cable(cable)), "Identity|each core alone to "+want)
	}
	c := p.Cable("W-22")
	c.Type.Screen = 0
	layouttest.Has(t, identityOf(pl, c), "Identity|each core alone to earth")
}

// identityOf are the rows of the head of a cable's sheet.
func identityOf(pl *sheet.Plan, c *model.Cable) []string {
	return layouttest.RowsOf(ringIdentity(pl, &ringer{recordBuilder{plant: pl.Plant}, c}, ""))
}
