package issue_test

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/issue"
	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
	"ringout/samples"
)

func issued(t *testing.T, r *issue.Register, p *model.Plant, is issue.Issue) *issue.Register {
	t.Helper()
	next, _, err := layout.Raise(r, p, is)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// threeEdits alters F-2107: a device stands elsewhere, an alarm is set higher,
// a pair is landed on other terminals.
func threeEdits(t *testing.T, texts map[string]string) {
	layouttest.Edit(t, texts, "loops-21.yaml", "at: Filter gallery, pipe level", "at: Filter gallery, upper level")
	layouttest.Edit(t, texts, "loops-21.yaml", "HH 430", "HH 440")
	layouttest.Edit(t, texts, "loops-21.yaml", "- W-2107\n        - JB-21/X1 7 8 9", "- W-2107\n        - JB-21/X1 70 71 72")
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
	t.Parallel()
	texts := layouttest.TernIsland(t)
	first := layouttest.PlantFrom(t, texts)
	r := issued(t, &issue.Register{}, first, issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for construction", Note: "begun"})
	threeEdits(t, texts)
	now := layouttest.PlantFrom(t, texts)
	second := issued(t, r, now, issue.Issue{Mark: "2", Date: "2031-07-01", Status: "for construction"})
	later := issued(t, second, now, issue.Issue{Mark: "3", Date: "2031-08-01", Status: "for construction"})
	built := issued(t, second, now, issue.Issue{Mark: "3", Date: "2031-08-01", Status: issue.AsBuilt})
	for _, c := range []struct {
		name   string
		plant  *model.Plant
		r      *issue.Register
		letter string // in the triangles; "" for no cloud
		rev    string
		says   string
	}{
		{"as issued", first, r, "", "1", "for construction"},
		{"altered", now, r, "?", "?", "NOT ISSUED: changed since rev 1"},
		{"issued again", now, second, "2", "2", "for construction"},
		{"not altered again", now, later, "2", "2", "for construction"},
		{"as built", now, built, "", "3", "as built"},
	} {
		t.Run(c.name, func(t *testing.T) {
			// TestAudit looks after the sheets themselves: here it is about what a
			// register adds to them.
			plain := map[render.Defect]bool{}
			bare := layout.New(c.plant, false, nil)
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
			pl := layout.NewIssued(c.plant, false, c.r)
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
				if s.Loop != nil && s.Loop.Tag == "F-2107" && s.Kind.Name == sheet.Loop {
					if got := pl.Revision(s).Mark; got != c.rev {
						t.Errorf("revision %q, not %q", got, c.rev)
					}
					if !strings.Contains(allText(page.Items), c.says) {
						t.Errorf("the sheet does not say %q", c.says)
					}
					if across := strings.Contains(allText(page.Items), paper.AlteredLine); across != (c.letter == sheet.PendingMark) {
						t.Errorf("lettered across as not issued: %v", across)
					}
					want := slices.Repeat([]string{c.letter}, 4) // the legs of the pair share one
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
	t.Parallel()
	texts := layouttest.TernIsland(t)
	p := layouttest.PlantFrom(t, texts)
	r := issued(t, &issue.Register{}, p, issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	if x := layout.Since(r, p); len(x.Sheets)+len(x.Things)+len(x.Markers) > 0 {
		t.Errorf("changed since its own issue: %+v", x)
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
	p = layouttest.PlantFrom(t, texts)
	next := issued(t, r, p, issue.Issue{Mark: "2", Date: "2031-06-02", Status: "for construction"})
	raised := map[string]bool{}
	for _, s := range next.Sheets {
		if s.Mark() == "2" {
			raised[s.Key.Name] = true
		}
	}
	var got []string
	for number := range raised {
		got = append(got, number)
	}
	slices.Sort(got)
	want := []string{"CD-MC-1", "CD-PCS-1", "CR-W-21", "CR-W-901", "IX", "JD-JB-21", "LD-F-2199", "TR-F-2199"}
	if !slices.Equal(got, want) {
		t.Errorf("raised are %q, not %q", got, want)
	}
	delete(texts, "more.yaml")
	p = layouttest.PlantFrom(t, texts)
	last := issued(t, next, p, issue.Issue{Mark: "3", Date: "2031-06-03", Status: "for construction"})
	gone := last.Sheet(issue.SheetKey{Name: "LD-F-2199", Part: 1})
	if gone == nil || !gone.Withdrawn || gone.Mark() != "2" {
		t.Errorf("the sheet of the loop that is gone is %+v", gone)
	}
	var text bytes.Buffer
	if err := last.Write(&text); err != nil {
		t.Fatal(err)
	}
	again, err := issue.Read(text.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var second bytes.Buffer
	if err := again.Write(&second); err != nil || !bytes.Equal(text.Bytes(), second.Bytes()) {
		t.Errorf("a register read and written again differs: %v", err)
	}
}

// TestTornRegister takes each line out of a register, and doubles each: all of
// that is refused, at a line of it.
func TestTornRegister(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	r := issued(t, &issue.Register{}, layouttest.PlantFrom(t, map[string]string{"plant.yaml": string(text)}), issue.Issue{Mark: "1", Date: "2031-06-01", Status: "draft"})
	var b bytes.Buffer
	if err := r.Write(&b); err != nil {
		t.Fatal(err)
	}
	if _, err := issue.Read(bytes.ReplaceAll(b.Bytes(), []byte("\n"), []byte("\r\n"))); err != nil {
		t.Errorf("lines that end otherwise: %v", err)
	}
	lines := strings.SplitAfter(b.String(), "\n")
	lines = lines[:len(lines)-1]
	if len(lines) < 50 {
		t.Fatalf("%d lines", len(lines))
	}
	for i := range lines {
		for what, torn := range map[string][]string{
			"taken out": slices.Concat(lines[:i], lines[i+1:]),
			"doubled":   slices.Concat(lines[:i+1], lines[i:]),
		} {
			if _, err := issue.Read([]byte(strings.Join(torn, ""))); err == nil {
				t.Errorf("line %d %s: %q", i+1, what, lines[i])
			}
		}
	}
	for old, want := range map[string]string{
		"ringout register of issues 1\nend\n": "register has format \"1\"; this version reads 3 and 2",
		"a shopping list\n":                   "not an issue register",
	} {
		if _, err := issue.Read([]byte(old)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", old, err)
		}
	}
}

// TestStatusRises: an issue at another status is one of every sheet, changed or
// not, so that no two papers differ under one number, revision and date; at the
// same status only changed sheets rise, and the index.
func TestStatusRises(t *testing.T) {
	t.Parallel()
	texts := layouttest.TernIsland(t)
	p := layouttest.PlantFrom(t, texts)
	r := issued(t, &issue.Register{}, p, issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for approval"})
	seen := map[string]string{} // what a sheet prints, by number, part, revision and date
	for i, is := range []issue.Issue{
		{Mark: "2", Date: "2031-07-01", Status: "for construction", Note: "released"},
		{Mark: "3", Date: "2031-07-01", Status: "for construction"},
		{Mark: "4", Date: "2031-09-01", Status: issue.AsBuilt},
	} {
		r = issued(t, r, p, is)
		pl := layout.NewIssued(p, false, r)
		rose := 0
		for _, s := range pl.Sheets {
			st := pl.State(s)
			if st.Status != is.Status {
				t.Fatalf("%s part %d says %q after the issue %q", s.Number, s.Part, st.Status, is.Status)
			}
			if st.Mark == is.Mark {
				rose++
			} else if s.Kind.Name == sheet.Index {
				t.Errorf("the index is of revision %s, not %s", st.Mark, is.Mark)
			}
			paper := s.Number + s.Words + st.Mark + st.Date + string(rune('0'+s.Part))
			if was, ok := seen[paper]; ok && was != st.Status {
				t.Errorf("two papers: %s %s and %s", paper, was, st.Status)
			}
			seen[paper] = st.Status
		}
		if want := []int{len(pl.Sheets), pl.Sheets[0].Of, len(pl.Sheets)}[i]; rose != want || sheet.Raised(r) != want {
			t.Errorf("%d sheets rose at %s, Raised says %d, not %d", rose, is.Mark, sheet.Raised(r), want)
		}
		words := []string{"for construction, no change. released", "for construction, no change. released", "as built, no change"}[i]
		if rows := pl.State(pl.Sheets[7]).Rows; rows[len(rows)-1].Text != words {
			t.Errorf("the revision line of %s is %q, not %q", pl.Sheets[7].Number, rows[len(rows)-1].Text, words)
		}
	}
}

// TestIndexOfEveryIssue: the set has as many sheets at every issue as its register,
// the index too, however long the status and the numbers, and wherever its pages
// end: cable types that nothing uses move the ends.
func TestIndexOfEveryIssue(t *testing.T) {
	t.Parallel()
	texts, types := layouttest.TernIsland(t), "cable types:\n"
	layouttest.Edit(t, texts, "plant.yaml", "number: TI-I\n", "number: TI-INSTRUMENTS-OF-THE-WEST-SHORE\n")
	for n := range samples.Many(t, 1, 2, 6) {
		was := types
		types += fmt.Sprintf("  unused %d: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none, gland: M20}\n", n)
		layouttest.Edit(t, texts, "plant.yaml", was, types)
		p, r := layouttest.PlantFrom(t, texts), &issue.Register{}
		for _, is := range []issue.Issue{
			{Mark: "1", Date: "2031-06-01", Status: "for approval"},
			{Mark: "MM123", Date: "2031-07-01", Status: "for construction of phase two"},
		} {
			r = issued(t, r, p, is)
			pl := layout.NewIssued(p, false, r)
			if len(pl.Sheets) != len(r.Sheets) {
				t.Errorf("%d types more, issue %s: %d sheets, %d in the register", n+1, is.Mark, len(pl.Sheets), len(r.Sheets))
			}
			layouttest.Audited(t, pl, pl.Sheets[0])
		}
		pl := layout.NewIssued(altered(t, texts), false, r)
		if !pl.Issues.Altered || len(pl.Sheets) != len(r.Sheets) {
			t.Errorf("%d types more, altered: %d sheets, %d in the register", n+1, len(pl.Sheets), len(r.Sheets))
		}
		layouttest.Audited(t, pl, pl.Sheets[0])
	}
}

// altered is the plant with a range that is not as issued.
func altered(t *testing.T, texts map[string]string) *model.Plant {
	t.Helper()
	texts = maps.Clone(texts)
	layouttest.Edit(t, texts, "loops-23.yaml", "range: 0..2 mg/l", "range: 0..5 mg/l")
	return layouttest.PlantFrom(t, texts)
}

// reviewEdits moves a circuit to free terminals, alters a range and takes another
// pair.
func reviewEdits(t *testing.T, texts map[string]string) {
	layouttest.Edit(t, texts, "loops-21.yaml", "- MC-1/X8 1 2 3\n        - W-901 pair 15", "- MC-1/X8 4 5 6\n        - W-901 pair 15")
	layouttest.Edit(t, texts, "loops-23.yaml", "range: 0..2 mg/l", "range: 0..5 mg/l")
	layouttest.Edit(t, texts, "loops-23.yaml", "- W-25 pair 1", "- W-25 pair 2")
}

// TestRevisionWords: the revision table tells what changed on the sheet itself,
// then the note; a sheet that only shows another wiring code says so, and what is
// moved is not called removed.
func TestRevisionWords(t *testing.T) {
	t.Parallel()
	texts := layouttest.TernIsland(t)
	r := issued(t, &issue.Register{}, layouttest.PlantFrom(t, texts), issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	reviewEdits(t, texts)
	layouttest.Edit(t, texts, "loops-21.yaml", "        - W-2150\n", "        - W-2150 reversed\n")
	p := layouttest.PlantFrom(t, texts)
	pl := layout.NewIssued(p, false, issued(t, r, p, issue.Issue{Mark: "2", Date: "2031-07-01", Status: "for construction", Note: "P-2135 moved"}))
	for name, want := range map[string]string{
		"loop-A-2301":     "AT-2301 range 0..5 mg/l, was 0..2 mg/l. P-2135 moved",
		"loop-P-2135":     "MC-1/X8 4 5 6, was 1 2 3. P-2135 moved",
		"loop-T-2310":     "W-25 pair 2, was pair 1. P-2135 moved",
		"loop-L-2150":     "W-2150 pair 1 reversed, was pair 1. P-2135 moved",
		"box-JB-23":       "TE-2310: W-25 pair 2, was pair 1. P-2135 moved",
		"cabinet-MC-1":    "wiring code only; no change on this sheet. P-2135 moved",
		"cabinet-PCS-1":   "PT-2135: MC-1/X8 4 5 6, was 1 2 3. P-2135 moved",
		"record-A-2301":   "AT-2301 range 0..5 mg/l, was 0..2 mg/l",
		"record-P-2135-2": "MC-1/X8 4 5 6, was 1 2 3", // the earth of its screen
		"ringout-W-901":   "PT-2135: MC-1/X8 4 5 6, was 1 2 3",
		"record-T-2310-2": "wiring code only; no change on this sheet",
		"index":           "P-2135 moved",
		"loop-F-2107":     "for construction",
	} {
		i := slices.IndexFunc(pl.Sheets, func(s *sheet.Sheet) bool { return s.Name == name })
		if i < 0 {
			t.Fatalf("no sheet %s", name)
		}
		rows := pl.State(pl.Sheets[i]).Rows
		if got := rows[len(rows)-1].Text; got != want {
			t.Errorf("%s says %q, not %q", name, got, want)
		}
	}
}

// TestGone takes a loop out: what it had is removed, but cores that lie spare now
// are not, and the sheets of its boxes say whose they were.
func TestGone(t *testing.T) {
	t.Parallel()
	texts := layouttest.TernIsland(t)
	old := layouttest.PlantFrom(t, texts)
	head, tail, ok := strings.Cut(texts["loops-21.yaml"], "  P-2135:\n")
	_, rest, ok2 := strings.Cut(tail, "\n\n")
	if !ok || !ok2 {
		t.Fatal("the sample is written otherwise")
	}
	texts["loops-21.yaml"] = head + rest
	line := regexp.MustCompile(`(?m)^  W-2135:.*\n`)
	texts["cables.yaml"] = line.ReplaceAllString(texts["cables.yaml"], "")
	for _, c := range layout.Compare(old, layouttest.PlantFrom(t, texts)).Sheets {
		words := strings.Join(c.Words, "; ")
		switch {
		case strings.HasSuffix(c.Number, "LD-P-2135"), strings.HasSuffix(c.Number, "TR-P-2135"):
			if c.What != issue.Withdrawn {
				t.Errorf("%s is %s", c.Number, c.What)
			}
		case strings.HasSuffix(c.Number, "CD-PCS-1") && c.Part == 1:
			if words != "Removed: PT-2135" {
				t.Errorf("%s says %q", c.Number, words)
			}
		case strings.HasSuffix(c.Number, "CD-MC-1") && c.Part == 2: // where it lands
			if words != "Removed: W-2135; PT-2135" {
				t.Errorf("%s says %q", c.Number, words)
			}
		case strings.HasSuffix(c.Number, "CD-MC-1") && c.Part == 3: // the list of cables
			if words != "Removed: W-2135" {
				t.Errorf("%s says %q", c.Number, words)
			}
		}
	}
}

// TestRecords: wiring that changed voids a record, pair by pair of a large cable;
// where the wiring stands and a range, alarm or card does not, the loop check is
// to be made again; words alone void nothing. Markers that read something else
// are named.
func TestRecords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, file, old, now    string
		repeat, recheck, groups string
		markers                 string
	}{
		{"range", "loops-23.yaml", "range: 0..2 mg/l", "range: 0..5 mg/l", "", "TR-A-2301", "", ""},
		{"alarm", "loops-21.yaml", "HH 430", "HH 440", "", "TR-F-2107", "", ""},
		{"set point", "loops-23.yaml", "set: opens above 0.2 m", "set: opens above 0.3 m", "", "TR-L-2320", "", ""},
		{"action", "loops-23.yaml", "action: reverse, set: 0.6", "action: direct, set: 0.6", "", "TR-A-2301", "", ""},
		{"place of a device", "loops-21.yaml", "at: Compressor room", "at: Pump room", "", "", "", ""},
		{"service", "loops-21.yaml", "service: Instrument air pressure", "service: Air", "", "", "", ""},
		{"cable 2 m longer", "cables.yaml", "from: FT-2112, to: JB-21, length: 14 m", "from: FT-2112, to: JB-21, length: 16 m", "", "", "", ""},
		{"cable in feet", "cables.yaml", "from: FT-2112, to: JB-21, length: 14 m", "from: FT-2112, to: JB-21, length: 46 ft", "", "", "", ""},
		{"another length", "cables.yaml", "from: FT-2112, to: JB-21, length: 14 m", "from: FT-2112, to: JB-21, length: 90 m", "", "TR-F-2112", "", ""},
		{"another length of a home run", "cables.yaml", "to: MC-2, length: 52 m", "to: MC-2, length: 152 m", "", "CR-W-26 TR-L-2330", "", ""},
		{"home run 2 m longer", "cables.yaml", "to: MC-2, length: 52 m", "to: MC-2, length: 54 m", "", "", "", ""},
		{"route", "cables.yaml", "    route: tray T3, duct D1\n    overall", "    route: duct D1\n    overall", "", "", "", ""},
		{"paper", "plant.yaml", "  paper: A3\n", "  paper: 11x17\n", "", "", "", ""},
		{"pair", "loops-23.yaml", "- W-25 pair 1", "- W-25 pair 2", "CR-W-25 TR-T-2310", "", "pair 1 pair 2", "W-25 pair 2 W-25 pair 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			texts := layouttest.TernIsland(t)
			old := layouttest.PlantFrom(t, texts)
			layouttest.Edit(t, texts, c.file, c.old, c.now)
			changes := layout.Compare(old, layouttest.PlantFrom(t, texts))
			var repeat, recheck, groups []string
			for _, x := range changes.Sheets {
				number := strings.TrimPrefix(x.Number, "TI-I-")
				if x.Record && x.Was != x.Code && x.Part == 1 {
					repeat = append(repeat, number)
					groups = append(groups, x.Groups...)
				}
			}
			for _, x := range changes.Rechecks {
				recheck = append(recheck, strings.TrimPrefix(x.Number, "TI-I-"))
			}
			for _, f := range []struct{ what, got, want string }{
				{"records", strings.Join(repeat, " "), c.repeat}, {"loop checks", strings.Join(recheck, " "), c.recheck},
				{"pairs", strings.Join(groups, " "), c.groups}, {"markers", strings.Join(changes.Markers, " "), c.markers},
			} {
				if f.got != f.want {
					t.Errorf("%s: %q, not %q", f.what, f.got, f.want)
				}
			}
		})
	}
}

// TestRenumbered gives the plant another prefix of its drawing numbers: no sheet
// is new or withdrawn, each is to be issued with both numbers in its revision
// table.
func TestRenumbered(t *testing.T) {
	t.Parallel()
	texts := layouttest.TernIsland(t)
	r := issued(t, &issue.Register{}, layouttest.PlantFrom(t, texts), issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	layouttest.Edit(t, texts, "plant.yaml", "number: TI-I", "number: TX")
	layouttest.Edit(t, texts, "loops-23.yaml", "range: 0..2 mg/l", "range: 0..5 mg/l")
	p := layouttest.PlantFrom(t, texts)
	x := layout.Since(r, p)
	for _, s := range x.Sheets {
		if s.What != "changed" || !strings.HasPrefix(s.Number, "TX-") {
			t.Errorf("%s is %s", s.Number, s.What)
		}
	}
	if n := len(x.Sheets); n > 12 || n+x.Renumbered != len(r.Sheets) || x.Number != [2]string{"TI-I", "TX"} {
		t.Errorf("%d changed, %d renumbered from %q", n, x.Renumbered, x.Number)
	}
	next := issued(t, r, p, issue.Issue{Mark: "2", Date: "2031-06-02", Status: "for construction"})
	s := next.Sheet(issue.SheetKey{Name: "LD-A-2301", Part: 1})
	if want := "number TX-LD-A-2301, was TI-I-LD-A-2301; AT-2301 range 0..5 mg/l, was 0..2 mg/l"; s.Revs[1].Words != want {
		t.Errorf("the line says %q, not %q", s.Revs[1].Words, want)
	}
	if sheet.Raised(next) != len(next.Sheets) {
		t.Errorf("%d of %d rose", sheet.Raised(next), len(next.Sheets))
	}
}

// TestCloudsEverywhere alters what stands all over the drawings: however many
// clouds that makes, they spoil no sheet, nor its draft.
func TestCloudsEverywhere(t *testing.T) {
	t.Parallel()
	texts := layouttest.TernIsland(t)
	r := issued(t, &issue.Register{}, layouttest.PlantFrom(t, texts), issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	layouttest.Edit(t, texts, "plant.yaml", "practice:\n", "practice:\n  colour names: words\n")
	texts["cables.yaml"] = strings.ReplaceAll(texts["cables.yaml"], "165 m", "166 m")
	now := layouttest.PlantFrom(t, texts)
	for _, draft := range []bool{false, true} {
		bare := layout.New(now, draft, nil)
		plain := map[render.Defect]bool{}
		i := 0
		for page := range bare.Pages() {
			edge := bare.Sheets[i].Paper.Edge()
			i++
			for _, f := range render.Audit(page, edge.Min, edge.Max) {
				plain[f] = true
			}
		}
		pl := layout.NewIssued(now, draft, r)
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

// TestCloudsKeepToRows: on the sheets of boxes and cabinets clouds stand round the
// terminals that were taken, freed or wired otherwise, and round no other; spare
// terminals drawn as one do not count as altered when the rest of them is drawn
// one by one. A triangle stands within 8 mm of its cloud, or has a leader to it.
func TestCloudsKeepToRows(t *testing.T) {
	t.Parallel()
	texts := layouttest.TernIsland(t)
	r := issued(t, &issue.Register{}, layouttest.PlantFrom(t, texts), issue.Issue{Mark: "1", Date: "2031-06-01", Status: "for construction"})
	reviewEdits(t, texts)
	pl := layout.NewIssued(layouttest.PlantFrom(t, texts), false, r)
	inCloud := map[string]bool{}
	i := 0
	for page := range pl.Pages() {
		s := pl.Sheets[i]
		i++
		var rings []paper.Area
		for _, item := range page.Items {
			g, ok := item.(*render.Group)
			if !ok || !strings.HasPrefix(g.ID, "cloud-") {
				continue
			}
			var arcs, flag, leader []render.Item
			for _, x := range g.Items {
				switch m := x.(type) {
				case *render.Curve:
					arcs = append(arcs, x)
				case *render.Line:
					if m.Closed {
						flag = append(flag, x)
					} else {
						leader = append(leader, x)
					}
				}
			}
			rings = append(rings, paper.BoxOf(arcs...))
			if len(flag) != 1 {
				t.Errorf("%s: %s has %d triangles", page.Name, g.ID, len(flag))
			} else if near := paper.BoxOf(arcs...).Inset(-paper.FlagFar - paper.FlagGap); len(leader) == 0 && !near.Meets(paper.BoxOf(flag...)) {
				t.Errorf("%s: the triangle of %s stands away, without a leader", page.Name, g.ID)
			} else if len(leader) > 0 && (!paper.BoxOf(arcs...).Inset(-paper.CloudBulge).Meets(paper.BoxOf(leader...).Inset(-paper.CloudBulge)) || !paper.BoxOf(flag...).Inset(-paper.CloudPenHalf).Meets(paper.BoxOf(leader...).Inset(-paper.CloudPenHalf))) {
				t.Errorf("%s: the leader of %s ends away from it", page.Name, g.ID)
			}
		}
		if s.Place == nil {
			continue
		}
		var walk func(items []render.Item)
		walk = func(items []render.Item) {
			for _, item := range items {
				g, ok := item.(*render.Group)
				if !ok {
					continue
				}
				if len(g.Data) > 0 && g.Data[0].Key == "terminal" {
					b := paper.BoxOf(g.Items...)
					mid := render.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}
					for _, ring := range rings {
						if ring.Holds(mid) {
							inCloud[g.Data[0].Value] = true
						}
					}
				}
				walk(g.Items)
			}
		}
		walk(page.Items)
	}
	var got []string
	for tag := range inCloud {
		got = append(got, tag)
	}
	slices.Sort(got)
	want := []string{"JB-23/X1:1", "JB-23/X1:2", "JB-23/X1:3",
		"MC-1/X8:1", "MC-1/X8:2", "MC-1/X8:3", "MC-1/X8:4", "MC-1/X8:5", "MC-1/X8:6", "MC-2/X3:1", "MC-2/X3:2", "MC-2/X3:3"}
	if !slices.Equal(got, want) {
		t.Errorf("in clouds are %q, not %q", got, want)
	}
}

// TestCloudsFindSpares frees ten terminals: the one body that they are drawn as
// has a cloud.
func TestCloudsFindSpares(t *testing.T) {
	t.Parallel()
	const text = `
plant: Mill
number: M
cable types:
  one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}
boxes:
  JB-1: {at: Yard, earths: {IE: earth}, strips: {X1: {terminals: 1..12, bonded: 3..12 step 9 to IE}}}
practice: {screen earth: box}
cables:
  W-1: {type: one, from: FT-1, to: JB-1, length: 10 m}
  W-2: {type: one, from: JB-1, to: PCS, length: 10 m}
systems:
  PCS: {cards: {AI-1: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}}}
loops:
  F-1:
    service: Feed
    devices: {FT-1: {kind: transmitter, range: 0..10 m3/h, lift-off: 10 V}}
    circuits: {FT-1: [FT-1 + -, W-1, JB-1/X1 1 2 3, W-2, AI-1 channel 1]}
`
	const more = `
cables:
  W-3: {type: one, from: FT-2, to: JB-1, length: 10 m}
  W-4: {type: one, from: JB-1, to: PCS, length: 10 m}
loops:
  F-2:
    service: Return
    devices: {FT-2: {kind: transmitter, range: 0..10 m3/h, lift-off: 10 V}}
    circuits: {FT-2: [FT-2 + -, W-3, JB-1/X1 4 8 12, W-4, AI-1 channel 2]}
`
	r := issued(t, &issue.Register{}, layouttest.PlantFrom(t, map[string]string{"p.yaml": text, "q.yaml": more}), issue.Issue{Mark: "1", Date: "2031-06-01", Status: "draft"})
	pl := layout.NewIssued(layouttest.PlantFrom(t, map[string]string{"p.yaml": text}), false, r)
	i := slices.IndexFunc(pl.Sheets, func(s *sheet.Sheet) bool { return s.Kind.Name == sheet.Box })
	for page := range pl.Draw(pl.Sheets[i : i+1]) {
		var spares paper.Area
		for _, item := range page.Items {
			if g, ok := item.(*render.Group); ok && strings.HasPrefix(g.ID, "spares-") {
				spares = paper.BoxOf(g.Items...)
			}
		}
		if spares.W() == 0 {
			t.Fatal("the spares are not drawn as one")
		}
		ids, _ := marked(page)
		found := false
		for _, item := range page.Items {
			if g, ok := item.(*render.Group); ok && slices.Contains(ids, g.ID) {
				b := paper.BoxOf(g.Items...)
				found = found || b.Meets(spares)
			}
		}
		if !found {
			t.Errorf("no cloud of %q is round the spares", ids)
		}
	}
}
