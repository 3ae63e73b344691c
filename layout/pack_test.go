package layout

import (
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/render"
	random "ringout/samples"
)

// packPages draws a pack and fails on every fault of a page.
func packPages(t *testing.T, pl *Plan, asked []string, scope model.Scope) (*Pack, []*render.Page) {
	t.Helper()
	pack, err := NewPack(pl, asked, scope)
	if err != nil {
		t.Fatal(err)
	}
	var pages []*render.Page
	for page, problems := range pack.Pages() {
		for _, p := range problems {
			t.Errorf("%s: %s", page.Name, p)
		}
		s := pack.Sheets[len(pages)]
		if page.Head != s.Head {
			t.Errorf("page %d is %q, not %q", len(pages)+1, page.Name, s.Name)
		}
		auditPage(t, s, page)
		pages = append(pages, page)
	}
	if len(pages) != len(pack.Sheets) {
		t.Fatalf("%d pages of %d", len(pages), len(pack.Sheets))
	}
	return pack, pages
}

// TestPacks puts together a pack for each box, cabinet, cable, loop and area of
// a plant, as issued, as a draft and on other paper. In each, the contents name
// the page on which a drawing begins, every sheet of the set says what it says
// in the set, and every record begins beside its diagram.
func TestPacks(t *testing.T) {
	for _, c := range []struct {
		paper, forms string
		draft        bool
	}{{"A3", "A4", false}, {"11x17", "letter", true}} {
		p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
		p.Practice.Paper, p.Practice.RecordPaper = c.paper, c.forms
		pl := New(p, c.draft, nil)
		for _, place := range p.Places {
			checkPack(t, pl, []string{"place " + place.Tag}, model.Scope{Places: []*model.Place{place}})
		}
		for _, cable := range p.Cables[:8] {
			checkPack(t, pl, []string{"cable " + cable.Tag}, model.Scope{Cables: []*model.Cable{cable}})
		}
		areas := map[string]model.Scope{}
		var asked []string
		for _, l := range p.Loops {
			s := areas[l.Area]
			s.Loops = append(s.Loops, l)
			areas[l.Area] = s
			asked = append(asked, "loop "+l.Tag)
		}
		for area, s := range areas {
			checkPack(t, pl, []string{"area " + area}, s)
		}
		checkPack(t, pl, asked[:1], model.Scope{Loops: p.Loops[:1]})
		checkPack(t, pl, asked, model.Scope{Loops: p.Loops})
	}
}

func checkPack(t *testing.T, pl *Plan, asked []string, scope model.Scope) {
	t.Helper()
	pack, pages := packPages(t, pl, asked, scope)
	name := pack.Words
	at := map[string]int{} // page by name
	for i, page := range pages {
		if at[page.Name] != 0 {
			t.Errorf("%s: %s is there twice", name, page.Name)
		}
		at[page.Name] = i + 1
		want := "pack page " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(pages))
		if !slices.Contains(lettersOf(page.Items), want) {
			t.Errorf("%s: %s does not say %q", name, page.Name, want)
		}
	}
	listed := map[string]bool{}
	for i, s := range pack.Sheets {
		if s.Kind == coverKind {
			for _, item := range pages[i].Items {
				g, ok := item.(*render.Group)
				if !ok || !strings.HasPrefix(g.ID, "content-") {
					continue
				}
				sheet, page := g.Data[0].Value, g.Data[1].Value
				first, _, _ := strings.Cut(lettersOf(g.Items)[0], "–")
				if listed[sheet] || strconv.Itoa(at[sheet]) != page || first != page {
					t.Errorf("%s: the contents put %s on page %s (%s); it is on %d", name, sheet, first, page, at[sheet])
				}
				listed[sheet] = true
			}
		}
	}
	for i, s := range pack.Sheets {
		first := i == 0 || pack.Sheets[i-1].Kind != s.Kind || pack.Sheets[i-1].Number != s.Number
		if first && s.Kind != coverKind && s.Kind != freeKind && !listed[s.Name] {
			t.Errorf("%s: %s is not in the contents", name, s.Name)
		}
		if s.Kind.Name == Record && s.Part == 1 {
			if before := pack.Sheets[i-1]; (i+1)%2 == 0 || before.Kind.Name != Loop || before.Loop != s.Loop {
				t.Errorf("%s: the record of %s, page %d, does not face its diagram but %s", name, s.Loop.Tag, i+1, before.Name)
			}
		}
		if s.Kind == freeKind && !strings.Contains(strings.Join(lettersOf(pages[i].Items), " "), "left free to write on") {
			t.Errorf("%s: page %d is free and does not say so", name, i+1)
		}
		if s.No > 0 && pl.Sheets[s.No-1] != s {
			t.Errorf("%s: %s is no sheet of the set", name, s.Name)
		}
	}
}

// TestPackScope: what comes along with a box, a cable and a loop.
func TestPackScope(t *testing.T) {
	p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
	pl := New(p, false, nil)
	names := func(scope model.Scope) (all []string) {
		pack, err := NewPack(pl, []string{"box X"}, scope)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range pack.Sheets {
			if s.No > 0 {
				all = append(all, s.Kind.Name+"-"+s.subject())
			}
		}
		return slices.Compact(all)
	}
	for _, c := range []struct {
		scope model.Scope
		want  string
	}{
		{model.Scope{Places: []*model.Place{p.Place("JB-24")}}, "box-JB-24 ringout-W-26 loop-L-2330 record-L-2330"},
		{model.Scope{Cables: []*model.Cable{p.Cable("W-26")}}, "box-JB-24 cabinet-MC-2 ringout-W-26 loop-L-2330 record-L-2330"},
		// W-26 carries nothing else; W-21 does, and is not rung out for one loop.
		{model.Scope{Loops: []*model.Loop{p.Loops[len(p.Loops)-1]}}, "box-JB-24 cabinet-MC-2 ringout-W-26 loop-L-2330 record-L-2330"},
		{model.Scope{Loops: p.Loops[:1]}, "box-JB-21 cabinet-MC-1 cabinet-PCS-1 loop-F-2107 record-F-2107"},
	} {
		if got := strings.Join(names(c.scope), " "); got != c.want {
			t.Errorf("pack holds\n%s\nnot\n%s", got, c.want)
		}
	}
	// Of a cabinet of many sheets only those that the loop stands on.
	pack, err := NewPack(pl, []string{"loop F-2107"}, model.Scope{Loops: p.Loops[:1]})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range pack.Sheets {
		if s.Place == nil {
			continue
		}
		page, _ := s.Kind.Draw(pl, s)
		if !slices.ContainsFunc(lettersOf(page.Items), func(w string) bool { return strings.HasPrefix(w, "F-2107") }) {
			t.Errorf("%s is in the pack of F-2107 and does not show it", s.Name)
		}
	}
	if _, err := NewPack(New(p, false, func(k string) bool { return k == Index }), []string{"box JB-24"}, model.Scope{Places: []*model.Place{p.Place("JB-24")}}); err == nil {
		t.Error("a pack of nothing is no error")
	}
}

// TestPackMaterial: the cover has every count of the scope, as list material has.
func TestPackMaterial(t *testing.T) {
	p := plantOf(t, os.DirFS("../samples"), "tern-island", false)
	p.Cables[0].Length, p.Practice.Strips = 0, p.Practice.Strips[:0]
	for _, scope := range []model.Scope{{Places: p.Places[:1]}, {Cables: p.Cables[:3]}, {Loops: p.Loops}} {
		pack, err := NewPack(New(p, false, nil), []string{"box X"}, scope)
		if err != nil {
			t.Fatal(err)
		}
		var letters []string
		for i, s := range pack.Sheets {
			if s.Kind == coverKind {
				page, _ := s.Kind.Draw(pack.plan, pack.Sheets[i])
				letters = append(letters, lettersOf(page.Items)...)
			}
		}
		text := strings.Join(letters, " ")
		items := p.Material(scope).Items()
		for _, x := range items {
			want := x.What
			if x.Of != "" {
				want += ": " + x.Of
			}
			if x.Lengths > 0 {
				want += ", " + counted(x.Lengths, "length")
			}
			if x.N > 0 {
				want += " " + strings.TrimSpace(plain(x.N)+" "+x.Unit)
			}
			if x.Missing != "" {
				want += " NOT GIVEN"
			}
			if x.Missing != "" && x.N > 0 {
				want = strings.TrimSuffix(want, " NOT GIVEN") + " and " + x.Missing + " NOT GIVEN"
			}
			if !strings.Contains(text, want) {
				t.Errorf("the cover does not say %q:\n%s", want, text)
			}
		}
		if len(items) < 10 {
			t.Errorf("only %d counts", len(items))
		}
	}
}

// TestPacksRandom looks over what a pack adds to the set, and ring-out sheets,
// for plants that nobody looked at.
func TestPacksRandom(t *testing.T) {
	for seed := range uint64(8) {
		p := plantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(random.Random(seed, 3+int(seed)))}}, "p.yaml", false)
		pl := New(p, seed%4 == 3, nil)
		var asked []string
		for _, l := range p.Loops {
			asked = append(asked, "loop "+l.Tag)
		}
		pack, err := NewPack(pl, asked, model.Scope{Loops: p.Loops, Places: p.Places})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for page := range pack.Pages() {
			if s := pack.Sheets[n]; s.No == 0 || s.Kind.Name == RingOut {
				auditPage(t, s, page)
			}
			n++
		}
	}
}
