package layout

import (
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ringout/model"
	"ringout/render"
	"ringout/render/pdf"
)

// plantOf reads a plant; errors fail the test unless it is a draft.
func plantOf(t *testing.T, fsys fs.FS, name string, draft bool) *model.Plant {
	t.Helper()
	p, _, problems := model.Read(fsys, name)
	if p == nil || !draft && problems.Errors() > 0 {
		t.Fatalf("%s: %v", name, problems)
	}
	return p
}

// forms plans the sheets of a plant and draws its records and its index, and
// fails on every fault of their pages.
func forms(t *testing.T, p *model.Plant, draft bool) (*Plan, map[*Sheet]*render.Page, model.Problems) {
	t.Helper()
	pl := New(p, draft, func(k string) bool { return k == Record || k == Index })
	pages := map[*Sheet]*render.Page{}
	var problems model.Problems
	for _, s := range pl.Sheets {
		page, more := s.Kind.Draw(pl, s)
		if err := page.Check(); err != nil {
			t.Fatal(err)
		}
		edge := s.Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			t.Errorf("%s: %s: %s at %v", s.Name, f.Kind, f.Text, f.At)
		}
		pages[s] = page
		problems = append(problems, more...)
	}
	return pl, pages, problems
}

// look writes the pages as a PDF file into the folder that RINGOUT_LOOK_FORMS
// names, to be looked at.
func look(t *testing.T, name string, pl *Plan, pages map[*Sheet]*render.Page) {
	dir := os.Getenv("RINGOUT_LOOK_FORMS")
	if dir == "" {
		return
	}
	out, err := os.Create(dir + "/" + name + ".pdf")
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	var heads []render.Head
	for _, s := range pl.Sheets {
		heads = append(heads, s.Head)
	}
	w := pdf.New(out, name, heads, time.Time{})
	for _, s := range pl.Sheets {
		if err := w.Page(pages[s]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

// lettersOf are all texts of a page, in order of drawing.
func lettersOf(items []render.Item) []string {
	var all []string
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			all = append(all, m.S)
		case *render.Group:
			all = append(all, lettersOf(m.Items)...)
		}
	}
	return all
}

// samples are the plants of the samples folder.
var samples = []string{"one-loop", "tern-island"}

// TestRecordFacts: every wiring fact of a loop stands in one row of its
// record, in the words on paper as well as in the data of the row, and the
// record bears the code of the loop's facts.
func TestRecordFacts(t *testing.T) {
	for _, name := range samples {
		p := plantOf(t, os.DirFS("../samples"), name, false)
		pl, pages, problems := forms(t, p, false)
		for _, problem := range problems {
			t.Errorf("%s: %v", name, problem)
		}
		look(t, name, pl, pages)
		rows := map[*model.Loop][]string{}
		for _, s := range pl.Sheets {
			if s.Kind.Name != Record {
				continue
			}
			if want := model.WiringCode(s.Loop.Facts(p)); s.Code != want {
				t.Errorf("%s: wiring code %s, want %s", s.Name, s.Code, want)
			}
			for _, item := range pages[s].Items {
				if g, ok := item.(*render.Group); ok && strings.HasPrefix(g.ID, "wire-") {
					rows[s.Loop] = append(rows[s.Loop], factOf(t, g))
				}
			}
		}
		for _, l := range p.Loops {
			if want := l.Facts(p); !slices.Equal(rows[l], want) {
				t.Errorf("%s: %s: rows\n%s\nwant\n%s", name, l.Tag, strings.Join(rows[l], "\n"), strings.Join(want, "\n"))
			}
		}
	}
}

// factOf reads a fact back from the data of a row, and checks that the words of
// the row say the same.
func factOf(t *testing.T, g *render.Group) string {
	data := map[string]string{}
	for _, d := range g.Data {
		data[d.Key] = d.Value
	}
	words := strings.Join(lettersOf(g.Items), " ")
	squeezed := strings.ReplaceAll(words, " ", "")
	for _, key := range []string{"core", "from", "to", "role"} {
		want := strings.ReplaceAll(data[key], " ", "")
		if key == "role" {
			want = strings.ReplaceAll(want, "-", "−")
		}
		if !strings.Contains(squeezed, want) {
			t.Errorf("row %s: %s %q is not in %q", g.ID, key, data[key], words)
		}
	}
	status := map[string]string{"new": "N", "existing": "E", "future": "F"}[data["status"]]
	if !slices.Contains(strings.Fields(words), status) {
		t.Errorf("row %s: status %s is not in %q", g.ID, status, words)
	}
	return fmt.Sprintf("%s|%s|%s|%s|%s|%s|%s", data["circuit"], data["core"], data["colour"], data["role"], data["from"], data["to"], data["status"])
}

// TestRecordShort: the record of a simple loop takes three sheets of either
// paper: wiring, loop check, and the readings with the fault guide.
func TestRecordShort(t *testing.T) {
	for _, paper := range []string{"A4", "letter"} {
		p := plantOf(t, os.DirFS("../samples"), "one-loop", false)
		p.Practice.RecordPaper = paper
		pl, pages, _ := forms(t, p, false)
		look(t, "one-loop-"+paper, pl, pages)
		n := 0
		for _, s := range pl.Sheets {
			if s.Kind.Name == Record {
				n++
			}
		}
		if n > 3 {
			t.Errorf("%s: %d sheets, want 3 at most", paper, n)
		}
		if r, ok := pl.Ref(Record, p.Loops[0].Circuits[0]); !ok || r.Sheet.Part != 1 {
			t.Errorf("%s: the circuit is not referred to on the first sheet: %v", paper, r)
		}
	}
}

// oddPlant is a plant of cases that real plants rarely have all at once.
func oddPlant(circuits int, missing bool) fstest.MapFS {
	var b strings.Builder
	b.WriteString("plant: Odd\ncable types:\n  many: {pairs: 24, conductor: 0.6 mm2, screen: each}\n")
	b.WriteString("boxes:\n  JB-OF-A-VERY-LONG-NAME-0001:\n    strips:\n      STRIP-LEFT: {terminals: 1..72}\n")
	b.WriteString("cabinets:\n  MC-2:\n    earths: {IE: earth}\n    strips:\n      X4: {terminals: 1..72}\n")
	b.WriteString("cables:\n  HOME-RUN-CABLE-2107-A: {type: many, from: JB-OF-A-VERY-LONG-NAME-0001, to: MC-2}\n")
	b.WriteString("loops:\n  LOOP-WITH-A-TAG-OF-ITS-OWN-2107:\n    service: " + strings.Repeat("a service described at great length ", 12) + "\n")
	if !missing {
		b.WriteString("    notes:\n      - " + strings.Repeat("one note after the other, ", 200) + "\n")
	}
	b.WriteString("    circuits:\n")
	for i := range circuits {
		fmt.Fprintf(&b, "      CIRCUIT-%d-OF-MANY:\n        - JB-OF-A-VERY-LONG-NAME-0001/STRIP-LEFT %d %d\n        - HOME-RUN-CABLE-2107-A pair %d\n        - MC-2/X4 %d %d\n",
			i, 3*i+1, 3*i+2, i+1, 3*i+1, 3*i+2)
	}
	b.WriteString("  EMPTY-1: {service: nothing at all}\n")
	return fstest.MapFS{"odd/plant.yaml": {Data: []byte(b.String())}}
}

// TestRecordOdd: twenty circuits, endless words, no devices and no data take
// as many pages as they need, without a fault on any; what is cut is reported.
func TestRecordOdd(t *testing.T) {
	for _, paper := range []string{"A4", "letter"} {
		for _, draft := range []bool{false, true} {
			p := plantOf(t, oddPlant(20, draft), "odd", false)
			p.Practice.RecordPaper = paper
			pl, pages, problems := forms(t, p, draft)
			look(t, fmt.Sprintf("odd-%s-%v", paper, draft), pl, pages)
			var words []string
			rows := 0
			for _, s := range pl.Sheets {
				words = append(words, lettersOf(pages[s].Items)...)
				for _, item := range pages[s].Items {
					if g, ok := item.(*render.Group); ok && strings.HasPrefix(g.ID, "wire-") {
						rows++
					}
				}
			}
			if want := len(p.Loops[0].Facts(p)); rows != want || want < 40 {
				t.Errorf("%d wiring rows, want %d", rows, want)
			}
			if !strings.Contains(strings.Join(words, " "), notGiven) {
				t.Error("missing facts are not printed as NOT GIVEN")
			}
			cut := slices.ContainsFunc(problems, func(p model.Problem) bool { return strings.Contains(p.Text, "one note after") })
			if cut == draft {
				t.Errorf("a note of 5000 letters: reported %v", cut)
			}
		}
	}
}

// TestOwnPoints: no two of sixteen loops in a row share their own point, and
// none has a check point.
func TestOwnPoints(t *testing.T) {
	for from := range 40 {
		seen := map[float64]bool{50: true}
		for i := range ownPoints {
			p := ownPoint(from + i)
			if seen[p] || p < 40 || p > 60 {
				t.Fatalf("loop %d: point %g %%", from+i, p)
			}
			seen[p] = true
		}
	}
}

func TestFigure(t *testing.T) {
	for _, c := range []struct {
		v, span float64
		want    string
	}{
		{112.5, 450, "112.5"}, {0, 450, "0"}, {450, 450, "450"}, {33.333, 100, "33.3"}, {0.4, 0.8, "0.4"},
		{-0.0001, 100, "0"}, {12345.6, 20000, "12346"}, {253.125, 250, "253.1"}, {100, 0, "100"},
	} {
		if got := figure(c.v, c.span); got != c.want {
			t.Errorf("%g of %g: %s, want %s", c.v, c.span, got, c.want)
		}
	}
}

// TestRecordRefers: beside its loop diagram a record names that sheet and its
// zone, leads to it, and bears the same wiring code.
func TestRecordRefers(t *testing.T) {
	p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
	pl := New(p, false, nil)
	diagrams := map[*model.Loop]*Sheet{}
	for _, s := range pl.Sheets {
		if s.Kind.Name == Loop && s.Part == 1 {
			diagrams[s.Loop] = s
		}
	}
	for _, s := range pl.Sheets {
		if s.Kind.Name != Record || s.Part != 1 {
			continue
		}
		page, _ := drawRecord(pl, s)
		d := diagrams[s.Loop]
		if d == nil {
			t.Fatalf("%s: no loop diagram", s.Name)
		}
		words := strings.Join(lettersOf(page.Items), "\n")
		if r, ok := pl.Ref(Loop, s.Loop); !ok || !strings.Contains(words, r.String()) || !strings.Contains(words, d.number(p)) {
			t.Errorf("%s: does not name its loop diagram %s", s.Name, d.Name)
		}
		led := slices.ContainsFunc(page.Items, func(i render.Item) bool { l, ok := i.(*render.Link); return ok && l.Page == d.Name })
		if !led || s.Code != d.Code {
			t.Errorf("%s: link %v, code %s and %s", s.Name, led, s.Code, d.Code)
		}
	}
}

// TestFormsRepeat: the same plant gives the same marks, planned and drawn anew.
func TestFormsRepeat(t *testing.T) {
	var first string
	for range 3 {
		p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
		pl, pages, _ := forms(t, p, false)
		var b strings.Builder
		for _, s := range pl.Sheets {
			render.Dump(&b, pages[s])
		}
		if first == "" {
			first = b.String()
		}
		if b.String() != first {
			t.Fatal("drawn anew, the forms differ")
		}
	}
}

// TestMainsCaution: a record with a mains supply says so, and that the column
// of the insulation test does not hold for it; others do not.
func TestMainsCaution(t *testing.T) {
	p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
	found := map[string]bool{}
	for _, l := range p.Loops {
		r := &recorder{plant: p, loop: l}
		for _, row := range r.cautions().Rows {
			if strings.Contains(row.Cells[0].S, "230 V AC from AC-21") {
				found[l.Tag] = true
			}
		}
	}
	if len(found) != 1 || !found["A-2301"] {
		t.Errorf("the caution stands on %v, not on A-2301 alone", found)
	}
}

// TestLinkedInOnePlace: two cores are only said to be read linked where both
// come to the same part. Past the panel indicator of L-2115 they do not: lane +
// reads alone through five cables, lane - to the indicator and on from it.
func TestLinkedInOnePlace(t *testing.T) {
	p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
	for _, l := range p.Loops {
		if l.Tag != "L-2115" {
			continue
		}
		r := &recorder{plant: p, loop: l}
		var to []string
		for _, row := range r.endToEnd().Rows {
			if len(row.Cells) > 0 && strings.HasPrefix(row.Cells[0].S, "Ohms") {
				to = append(to, row.Cells[1].S+" to "+row.Cells[2].S)
			}
		}
		if got, want := strings.Join(to, "; "), "LT-2115:+ to AI-1-03:8+; LT-2115:- to LI-2115:+; LI-2115:- to AI-1-03:8-"; got != want {
			t.Errorf("rows %s, want %s", got, want)
		}
	}
}
