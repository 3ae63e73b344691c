package layout

import (
	"bytes"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/render"
)

// plantFrom reads a plant from texts by file name.
func plantFrom(t *testing.T, texts map[string]string) *model.Plant {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range texts {
		files["p/"+name] = &fstest.MapFile{Data: []byte(text)}
	}
	p, _, problems := model.Read(files, "p")
	if problems = append(problems, model.Check(p)...); problems.Errors() > 0 {
		t.Fatalf("plant: %v", problems)
	}
	return p
}

// ternIsland returns the texts of the sample.
func ternIsland(t *testing.T) map[string]string {
	t.Helper()
	const folder = "../samples/tern-island"
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(folder + "/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		texts[e.Name()] = string(data)
	}
	return texts
}

// edit replaces what stands once in a text.
func edit(t *testing.T, texts map[string]string, file, old, now string) {
	t.Helper()
	if strings.Count(texts[file], old) != 1 {
		t.Fatalf("%s holds %q %d times", file, old, strings.Count(texts[file], old))
	}
	texts[file] = strings.Replace(texts[file], old, now, 1)
}

func issue(t *testing.T, r *Issues, p *model.Plant, is Issue) *Issues {
	t.Helper()
	next, _, err := r.Issue(p, is)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// threeEdits alters F-2107: a device stands elsewhere, an alarm is set higher,
// a pair is landed on other terminals.
func threeEdits(t *testing.T, texts map[string]string) {
	edit(t, texts, "loops-21.yaml", "at: Filter gallery, pipe level", "at: Filter gallery, upper level")
	edit(t, texts, "loops-21.yaml", "HH 430", "HH 440")
	edit(t, texts, "loops-21.yaml", "- W-2107\n        - JB-21/X1 7 8 9", "- W-2107\n        - JB-21/X1 70 71 72")
}

// marked returns the clouds of a page by id, and the letters in their triangles.
func marked(page *render.Page) (ids []string, letters []string) {
	for _, item := range page.Items {
		g, ok := item.(*render.Group)
		if !ok || !strings.HasPrefix(g.ID, "cloud-") {
			continue
		}
		ids = append(ids, g.ID)
		for _, x := range g.Items {
			if text, ok := x.(*render.Text); ok {
				letters = append(letters, text.S)
			}
		}
	}
	return ids, letters
}

func allText(items []render.Item) string {
	var b strings.Builder
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			b.WriteString(m.S + "\n")
		case *render.Group:
			b.WriteString(allText(m.Items))
		}
	}
	return b.String()
}

// TestClouds alters a plant after an issue: clouds and triangles stand where it
// was altered and nowhere else, run through no text, and go with their revision.
func TestClouds(t *testing.T) {
	texts := ternIsland(t)
	first := plantFrom(t, texts)
	r := issue(t, &Issues{}, first, Issue{Mark: "1", Date: "2031-06-01", Status: "for construction", Note: "begun"})
	threeEdits(t, texts)
	now := plantFrom(t, texts)
	second := issue(t, r, now, Issue{Mark: "2", Date: "2031-07-01", Status: "for construction"})
	later := issue(t, second, now, Issue{Mark: "3", Date: "2031-08-01", Status: "for construction"})
	built := issue(t, second, now, Issue{Mark: "3", Date: "2031-08-01", Status: AsBuilt})
	for _, c := range []struct {
		name   string
		plant  *model.Plant
		r      *Issues
		letter string // in the triangles; "" for no cloud
		rev    string
		says   string
	}{
		{"as issued", first, r, "", "1", "for construction"},
		{"altered", now, r, "?", "?", "NOT ISSUED: changed since rev 1"},
		{"issued again", now, second, "2", "2", "for construction"},
		{"not altered again", now, later, "2", "2", "for construction"},
		{"as built", now, built, "", "2", "as built"},
	} {
		t.Run(c.name, func(t *testing.T) {
			// TestAudit looks after the sheets themselves: here it is about what a
			// register adds to them.
			plain := map[render.Finding]bool{}
			bare := New(c.plant, false, nil)
			for page := range bare.Pages() {
				edge := bare.Sheets[0].Paper.Edge()
				for _, s := range bare.Sheets {
					if s.Name == page.Name {
						edge = s.Paper.Edge()
					}
				}
				for _, f := range render.Audit(page, edge.Min, edge.Max) {
					plain[f] = true
				}
			}
			pl := NewIssued(c.plant, false, c.r)
			i := 0
			for page := range pl.Pages() {
				s := pl.Sheets[i]
				i++
				edge := s.Paper.Edge()
				for _, f := range render.Audit(page, edge.Min, edge.Max) {
					if plain[f] {
						continue
					}
					t.Errorf("%s: %s at %v: %s", page.Name, f.Kind, f.At, f.Text)
				}
				ids, letters := marked(page)
				if s.Loop != nil && s.Loop.Tag == "F-2107" && s.Kind.Name == Loop {
					if got := pl.revision(s).Mark; got != c.rev {
						t.Errorf("revision %q, not %q", got, c.rev)
					}
					if !strings.Contains(allText(page.Items), c.says) {
						t.Errorf("the sheet does not say %q", c.says)
					}
					want := slices.Repeat([]string{c.letter}, 6) // each lane of the pair has its own
					if c.letter == "" {
						want = nil
					}
					// The readings name the terminals as well: a fourth cloud.
					if !slices.Equal(letters, want) || len(ids) != len(want) {
						t.Errorf("clouds %q with %q in their triangles, not %q", ids, letters, want)
					}
				} else if s.Loop != nil && len(ids) > 0 {
					t.Errorf("%s has clouds %q", page.Name, ids)
				}
			}
		})
	}
}

// TestRevisionsRise issues a plant again and again: a sheet's revision rises
// only when the sheet changed, and a new loop leaves the others alone.
func TestRevisionsRise(t *testing.T) {
	texts := ternIsland(t)
	p := plantFrom(t, texts)
	r := issue(t, &Issues{}, p, Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	if x := r.Since(p); len(x) > 0 {
		t.Errorf("changed since its own issue: %v", x)
	}
	texts["more.yaml"] = `
cables:
  W-2199: {type: one-pair, from: FT-2199, to: JB-21, length: 18 m}
loops:
  F-2199:
    service: One loop more
    devices: {FT-2199: {kind: transmitter, range: 0..1 m3/h, lift-off: 10 V}}
    circuits:
      FT-2199: [FT-2199 + -, W-2199, JB-21/X1 70 71 72, W-21 pair 21, MC-1/X4 61 62 63, W-901 pair 14, AI-1-03 channel 14]
`
	p = plantFrom(t, texts)
	next := issue(t, r, p, Issue{Mark: "2", Date: "2031-06-02", Status: "for construction"})
	raised := map[string]bool{}
	for _, s := range next.sheets {
		if s.mark() == "2" {
			raised[s.key.number] = true
		}
	}
	var got []string
	for number := range raised {
		got = append(got, number)
	}
	slices.Sort(got)
	want := []string{"TI-I-CD-MC-1", "TI-I-CD-PCS-1", "TI-I-CR-W-21", "TI-I-CR-W-901", "TI-I-IX", "TI-I-JD-JB-21", "TI-I-LD-F-2199", "TI-I-TR-F-2199"}
	if !slices.Equal(got, want) {
		t.Errorf("raised are %q, not %q", got, want)
	}
	delete(texts, "more.yaml")
	p = plantFrom(t, texts)
	last := issue(t, next, p, Issue{Mark: "3", Date: "2031-06-03", Status: "for construction"})
	gone := last.sheet(sheetKey{"TI-I-LD-F-2199", 1})
	if gone == nil || !gone.withdrawn || gone.mark() != "2" {
		t.Errorf("the sheet of the loop that is gone is %+v", gone)
	}
	var text bytes.Buffer
	if err := last.Write(&text); err != nil {
		t.Fatal(err)
	}
	again, err := ReadIssues(text.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var second bytes.Buffer
	if err := again.Write(&second); err != nil || !bytes.Equal(text.Bytes(), second.Bytes()) {
		t.Errorf("a register read and written again differs: %v", err)
	}
}

// TestAccept refuses what cannot follow.
func TestAccept(t *testing.T) {
	r := &Issues{issues: []Issue{{"A", "2031-01-01", "x", "", ""}, {"C", "2031-02-01", "x", "", ""}, {"0", "2031-03-01", "x", "", ""}}}
	for _, c := range []struct{ mark, date, want string }{
		{"1", "2031-03-01", ""},
		{"10", "2031-03-02", ""},
		{"P1", "2031-03-02", ""},
		{"0", "2031-04-01", "issued already"},
		{"00", "2031-04-01", "lower than 0"},
		{"B", "2031-04-01", "lower than 0"},
		{"D", "2031-04-01", "lower than 0"},
		{"1", "2031-02-28", "is before 2031-03-01"},
		{"1", "2031-02-30", "is not a day"},
		{"b", "2031-04-01", "is not up to two capitals"},
		{"?", "2031-04-01", "is not up to two capitals"},
		{"", "2031-04-01", "is not up to two capitals"},
	} {
		err := r.Accept(Issue{Mark: c.mark, Date: c.date, Status: "x"}, nil)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s of %s: %v", c.mark, c.date, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s of %s: %v, not %q", c.mark, c.date, err, c.want)
		}
	}
	if err := (&Issues{}).Accept(Issue{Mark: "B", Date: "2031-04-01", Status: "x"}, []string{"A", "C"}); err == nil {
		t.Error("B is taken after A and C of the plant's text")
	}
}

// FuzzReadIssues reads anything: no text may bring the reader down, and what it
// takes comes back the same.
func FuzzReadIssues(f *testing.F) {
	f.Add([]byte(registerHead + "\nissue A 2031-01-01 \"x\" \"\" \"\"\nissue B 2031-01-02 \"as built\" \"\" \"\"\nsheet \"TI-I-LD-F-1\" 1 0123456789abcdef ABC-DEF A\nstands B\nremoved A cable \"W 1\"\npart terminal \"X:1\" 01234567 A\npart text \"\" 01234567 A\nsheet \"TI-I-LD-F-1\" 2 withdrawn - A B\nend\n"))
	f.Add([]byte(registerHead + "\nend\n"))
	f.Add([]byte(registerHead + "\nsheet \"a"))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := ReadIssues(text)
		if err != nil {
			if e := err.(*RegisterError); e.Line < 1 {
				t.Fatalf("line %d", e.Line)
			}
			return
		}
		var b, c bytes.Buffer
		r.Write(&b)
		again, err := ReadIssues(b.Bytes())
		if err != nil {
			t.Fatalf("written, and not read: %v\n%s", err, &b)
		}
		if again.Write(&c); b.String() != c.String() {
			t.Fatalf("written twice:\n%s\n%s", &b, &c)
		}
	})
}

// TestCloudsEverywhere alters what stands all over the drawings: however many
// clouds that makes, they spoil no sheet, nor its draft.
func TestCloudsEverywhere(t *testing.T) {
	texts := ternIsland(t)
	r := issue(t, &Issues{}, plantFrom(t, texts), Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	edit(t, texts, "plant.yaml", "practice:\n", "practice:\n  colour names: words\n")
	texts["cables.yaml"] = strings.ReplaceAll(texts["cables.yaml"], "165 m", "166 m")
	now := plantFrom(t, texts)
	for _, draft := range []bool{false, true} {
		bare := New(now, draft, nil)
		plain := map[render.Finding]bool{}
		i := 0
		for page := range bare.Pages() {
			edge := bare.Sheets[i].Paper.Edge()
			i++
			for _, f := range render.Audit(page, edge.Min, edge.Max) {
				plain[f] = true
			}
		}
		pl := NewIssued(now, draft, r)
		i, clouded := 0, 0
		for page := range pl.Pages() {
			edge := pl.Sheets[i].Paper.Edge()
			i++
			if ids, letters := marked(page); len(ids) > 0 {
				clouded++
				if len(letters) == 0 {
					t.Errorf("%s has clouds and no triangle", page.Name)
				}
			}
			for _, f := range render.Audit(page, edge.Min, edge.Max) {
				if !plain[f] {
					t.Errorf("%s: %s at %v: %s", page.Name, f.Kind, f.At, f.Text)
				}
			}
		}
		if clouded < 20 {
			t.Errorf("%d sheets with clouds", clouded)
		}
	}
}
