package paper

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"ringout/fonts"
	"ringout/render"
)

// sampleTable is a check sheet of n rows in groups.
func sampleTable(n int, seed uint64) *Table {
	r := rand.New(rand.NewPCG(seed, 1))
	t := &Table{Columns: []Column{
		{Head: "From", Width: 24 * render.MM, Face: fonts.Mono},
		{Head: "To", Width: 24 * render.MM, Face: fonts.Mono},
		{Head: "Core", Width: 24 * render.MM},
		{Head: "Expected\nohms", Width: 16 * render.MM, Align: render.Right, Face: fonts.Mono},
		{Head: "Continuity", Turned: true, Width: 9 * render.MM},
		{Head: "Short", Turned: true, Width: 9 * render.MM},
		{Head: "Screen", Turned: true, Width: 9 * render.MM},
		{Head: "Insulation, MΩ", Width: 22 * render.MM},
		{Head: "Result", Width: 34 * render.MM},
	}}
	for i := range n {
		if r.IntN(6) == 0 || i == 0 {
			t.Rows = append(t.Rows, Row{Group: fmt.Sprintf("Run %d: FT-1042 to JB-17, cable C-10%02d", i+1, i)})
			continue
		}
		core := "P1 white +"
		if r.IntN(4) == 0 {
			core = "P12 of the second unit, white with blue ring, positive"
		}
		row := Row{
			ID: fmt.Sprintf("row-%d", i), Data: []render.Datum{{Key: "core", Value: core}},
			Cells: []Cell{
				{S: "FT-1042:+"}, {S: "JB-17-X1:12"}, {S: core}, {S: "12.6", Bold: true}, {Kind: Tick}, {Kind: Tick}, {Kind: NA}, {},
				{Kind: Tick, S: "pass|fail"},
			},
		}
		if r.IntN(3) == 0 {
			row.Print = true
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func TestTablePlan(t *testing.T) {
	t.Parallel()
	for seed := range uint64(200) {
		table := sampleTable(int(seed), seed)
		first, rest := 80*render.MM, 140*render.MM
		next := 0
		for i, s := range table.Plan(first, rest) {
			room := rest
			if i == 0 {
				room = first
			}
			if s.From != next || s.To <= s.From {
				t.Fatalf("seed %d: span %v begins at the wrong row", seed, s)
			}
			if h := table.Height(s); h > room {
				t.Errorf("seed %d: span %v is %d high, room is %d", seed, s, h, room)
			}
			if s.To < len(table.Rows) {
				if table.Rows[s.To-1].Group != "" && s.To-s.From > 1 {
					t.Errorf("seed %d: span %v ends with a heading", seed, s)
				}
				// The page is full: the next row that is not a heading finds no room.
				end := s.To + 1
				for end < len(table.Rows) && table.Rows[end-1].Group != "" {
					end++
				}
				if table.Height(Span{s.From, end}) <= room {
					t.Errorf("seed %d: span %v stops early", seed, s)
				}
			}
			next = s.To
		}
		if next != len(table.Rows) {
			t.Errorf("seed %d: planned %d of %d rows", seed, next, len(table.Rows))
		}
	}
}

func TestTableDraw(t *testing.T) {
	t.Parallel()
	for seed := range uint64(40) {
		table := sampleTable(40, seed)
		at := render.Point{X: 20 * render.MM, Y: 20 * render.MM}
		rows := 0
		for _, s := range table.Plan(100*render.MM, 200*render.MM) {
			page := render.Page{Head: render.Head{Name: "t", W: 210 * render.MM, H: 297 * render.MM}}
			var unfit []string
			page.Items, unfit = table.Draw(at, s)
			if err := page.Check(); err != nil {
				t.Fatal(err)
			}
			for _, u := range unfit {
				t.Error(u)
			}
			most := render.Point{X: at.X + table.Width(), Y: at.Y + table.Height(s)}
			for _, f := range render.Audit(&page, at, most) {
				t.Errorf("seed %d: %s: %s at %v", seed, f.Kind, f.Text, f.At)
			}
			for _, item := range page.Items {
				if g, ok := item.(*render.Group); ok {
					if len(g.Data) != 1 || g.Data[0].Key != "core" {
						t.Errorf("row %s lost its data: %v", g.ID, g.Data)
					}
					rows++
				}
			}
		}
		want := 0
		for _, r := range table.Rows {
			if r.Group == "" {
				want++
			}
		}
		if rows != want {
			t.Errorf("seed %d: %d rows drawn of %d", seed, rows, want)
		}
	}
}

func TestTableRowGrows(t *testing.T) {
	t.Parallel()
	table := Table{Columns: []Column{{Head: "Change", Width: 30 * render.MM}}}
	table.Rows = []Row{
		{Print: true, Cells: []Cell{{S: "short"}}},
		{Print: true, Cells: []Cell{{S: "a text that needs two lines here, no more"}}},
		{Cells: []Cell{{}}},
		{Cells: []Cell{{S: "one\ntwo\nthree"}}},
	}
	for i, want := range []render.Len{5000, 5000 + 3750, 8000, 5000 + 2*3750} {
		if got := table.RowHeight(i); got != want {
			t.Errorf("row %d is %d high, want %d", i, got, want)
		}
	}
}

// TestTableJoined: no rule runs through cells that are one, every other cell is
// ruled on all sides, and what stands in the first has the width of all.
func TestTableJoined(t *testing.T) {
	t.Parallel()
	table := Table{Columns: []Column{{Head: "A", Width: 20 * render.MM}, {Head: "B", Width: 20 * render.MM}, {Head: "C", Width: 20 * render.MM}}}
	table.Rows = []Row{
		{Cells: []Cell{{S: "a"}, {S: "b"}, {S: "c"}}},
		{Cells: []Cell{{S: "d"}, {Kind: Above}, {S: "f"}}},
		{Cells: []Cell{{S: "g"}, {Kind: Tick, S: "as wide as two"}, {Kind: Before}}},
		{Cells: []Cell{{S: "h"}, {S: "i"}}},
	}
	items, unfit := table.Draw(render.Point{}, Span{0, 4})
	if len(unfit) > 0 {
		t.Error(unfit)
	}
	top := table.HeadHeight()
	ruled := func(x0, y0, x1, y1 render.Len) bool {
		for _, item := range items {
			l, ok := item.(*render.Line)
			if !ok || l.Pen != render.Thin || len(l.Points) != 2 {
				continue
			}
			a, b := l.Points[0], l.Points[1]
			if a.X <= x0 && b.X >= x1 && a.Y <= y0 && b.Y >= y1 {
				return true
			}
		}
		return false
	}
	column, row := 20*render.MM, HandRow
	for i, want := range [][3]bool{{true, false, true}, {true, true, true}, {true, true, true}} { // below row i
		for j := range 3 {
			x, y := column*render.Len(j), top+row*render.Len(i+1)
			if got := ruled(x, y, x+column, y); got != want[j] {
				t.Errorf("a rule below row %d, column %d: %v", i, j, got)
			}
		}
	}
	for i, want := range [][2]bool{{true, true}, {true, true}, {true, false}, {true, true}} { // behind column j
		for j := range 2 {
			x, y := column*render.Len(j+1), top+row*render.Len(i)
			if got := ruled(x, y, x, y+row); got != want[j] {
				t.Errorf("a rule behind row %d, column %d: %v", i, j, got)
			}
		}
	}
}

// TestTableHeading: a heading is broken into lines before it is narrowed below
// what is easy to read, and the rows below make room.
func TestTableHeading(t *testing.T) {
	t.Parallel()
	table := Table{Columns: []Column{{Head: "A", Width: 60 * render.MM}}}
	long := "a heading of more words than one line of this narrow table takes with ease"
	table.Rows = []Row{{Group: "short"}, {Group: long}, {Cells: []Cell{{S: "a"}}}}
	for i, want := range []render.Len{5000, 5000 + 3750} {
		if got := table.RowHeight(i); got != want {
			t.Errorf("heading %d is %d high, want %d", i, got, want)
		}
	}
	items, _ := table.Draw(render.Point{}, Span{0, 3})
	for _, item := range items {
		if text, ok := item.(*render.Text); ok && text.Narrow != 0 && text.Narrow < readable {
			t.Errorf("%q is narrowed to %d %%", text.S, text.Narrow)
		}
	}
}

func TestTableStretch(t *testing.T) {
	t.Parallel()
	table := sampleTable(3, 1)
	for _, w := range []render.Len{172 * render.MM, 179256, 250*render.MM + 1} {
		if table.Stretch(w); table.Width() != w {
			t.Errorf("stretched to %d, want %d", table.Width(), w)
		}
	}
}

// TestBoxes: a box to tick is 5 mm wide on a form and 4 mm on a drawing, with room around
// it in rows of any height and beside its words.
func TestBoxes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		form bool
		want render.Len
	}{{true, 5 * render.MM}, {false, 4 * render.MM}} {
		table := Table{Columns: []Column{{Head: "A", Width: 40 * render.MM}, {Head: "B", Width: 6 * render.MM}}}
		table.Rows = []Row{{Cells: []Cell{{Kind: Tick, S: "yes|no"}, {Kind: Tick}}}, {Print: true, Cells: []Cell{{Kind: Tick, S: "so"}, {Kind: Tick}}}}
		if c.form {
			table.Finish(46 * render.MM)
		}
		items, unfit := table.Draw(render.Point{}, Span{0, 2})
		n := 0
		for _, item := range items {
			box, ok := item.(*render.Line)
			if !ok || box.Pen != render.Existing {
				continue
			}
			n++
			if w, h := box.Points[2].X-box.Points[0].X, box.Points[2].Y-box.Points[0].Y; w != c.want || h != c.want {
				t.Errorf("form %v: a box of %d x %d", c.form, w, h)
			}
		}
		if n != 5 || len(unfit) > 0 {
			t.Errorf("form %v: %d boxes, too long %q", c.form, n, unfit)
		}
		if h := table.RowHeight(1); h < c.want+2*ClearOfRule {
			t.Errorf("form %v: a row that is read is %d high", c.form, h)
		}
	}
}

// TestStretchHand: no column is narrowed below what is written in it.
func TestStretchHand(t *testing.T) {
	t.Parallel()
	table := Table{Columns: []Column{{Head: "A", Width: 90 * render.MM}, {Head: "B", Width: 15 * render.MM, Hand: Reading}, Initials, {Head: "C", Width: 63 * render.MM}}}
	table.Stretch(150 * render.MM)
	got := []render.Len{table.Columns[0].Width, table.Columns[1].Width, table.Columns[2].Width, table.Columns[3].Width}
	// 120 mm are left to 90 and 63 mm, in proportion
	if want := []render.Len{70588, 18000, 12000, 49412}; !slices.Equal(got, want) {
		t.Errorf("widths %v, want %v", got, want)
	}
}
