package pack

import (
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
	"ringout/samples"
)

// packPages draws a pack and fails on every fault of a page.
func packPages(t *testing.T, pl *sheet.Plan, asked []Asked, scope material.Scope, oneSize bool) (*Pack, []*render.Page) {
	t.Helper()
	pack, err := New(pl, asked, scope, oneSize)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range pack.Sheets {
		if f, ok := s.Planned.(packForm); ok && s.Part == 1 {
			for _, section := range f.sections {
				for _, fault := range layouttest.TooSmall(section.Table) {
					t.Errorf("%s: %s", s.Name, fault)
				}
			}
		}
	}
	var pages []*render.Page
	for page, problems := range pack.Pages() {
		for _, p := range problems {
			t.Errorf("%s: %s", page.Name, p)
		}
		s := pack.Sheets[len(pages)]
		if head := pack.Printed()[len(pages)].Head; page.Head != head || head.Name != s.Name || !oneSize && head != s.Head {
			t.Errorf("page %d is %q, not %q", len(pages)+1, page.Name, s.Name)
		}
		auditPrinted(t, pack, page, len(pages)+1)
		pages = append(pages, page)
	}
	if len(pages) != len(pack.Sheets) {
		t.Fatalf("%d pages of %d", len(pages), len(pack.Sheets))
	}
	return pack, pages
}

// auditPrinted looks over page n of a pack as it is printed. What is reduced
// was looked over at its full size; it stays on its paper.
func auditPrinted(t *testing.T, pack *Pack, page *render.Page, n int) {
	t.Helper()
	s := pack.Sheets[n-1]
	switch {
	case page.W != s.Paper.W:
		for _, f := range render.Audit(page, render.Point{}, render.Point{X: page.W, Y: page.H}) {
			if f.Kind == render.OutsideFrame {
				t.Errorf("%s: %s: %s at %v", s.Name, f.Kind, f.Text, f.At)
			}
		}
		whole, _ := s.Planned.Draw(pack.plan, s)
		words, unfit := pack.stamp(s, n)
		if len(unfit) > 0 {
			t.Errorf("%s: no room for %q", s.Name, unfit)
		}
		whole.Items = append(whole.Items, words...)
		layouttest.AuditPage(t, s, whole)
	case pack.whole && n%2 == 0:
		back := *page
		back.Items = render.Move(page.Items, s.Paper.Left-s.Paper.Margin, 0)
		layouttest.AuditPage(t, s, &back)
	default:
		layouttest.AuditPage(t, s, page)
	}
}

// TestPacks puts together a pack for each box, cabinet, cable, loop and area of
// a plant, as issued, as a draft and on other paper. In each, the contents name
// the page on which a drawing begins, every sheet of the set says what it says
// in the set, and every record begins beside its diagram.
func TestPacks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		paper, forms   string
		draft, oneSize bool
	}{{"A3", "A4", false, false}, {"11x17", "letter", true, true}, {"A3", "A4", false, true}} {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
		p.Practice.Paper, p.Practice.RecordPaper = c.paper, c.forms
		pl := layout.New(p, c.draft, nil)
		for _, place := range p.Places {
			checkPack(t, pl, []Asked{{"place", place.Tag}}, material.Scope{Places: []*model.Place{place}}, c.oneSize)
		}
		for _, cable := range p.Cables[:8] {
			checkPack(t, pl, []Asked{{"cable", cable.Tag}}, material.Scope{Cables: []*model.Cable{cable}}, c.oneSize)
		}
		areas := map[string]material.Scope{}
		var asked []Asked
		for _, l := range p.Loops {
			s := areas[l.Area]
			s.Loops = append(s.Loops, l)
			areas[l.Area] = s
			asked = append(asked, Asked{"loop", l.Tag})
		}
		for area, s := range areas {
			checkPack(t, pl, []Asked{{"area", area}}, s, c.oneSize)
		}
		checkPack(t, pl, asked[:1], material.Scope{Loops: p.Loops[:1]}, c.oneSize)
		checkPack(t, pl, asked, material.Scope{Loops: p.Loops}, c.oneSize)
	}
}

func checkPack(t *testing.T, pl *sheet.Plan, asked []Asked, scope material.Scope, oneSize bool) {
	t.Helper()
	pack, pages := packPages(t, pl, asked, scope, oneSize)
	name := pack.Words
	at := map[string]int{} // page by name
	for i, page := range pages {
		if at[page.Name] != 0 {
			t.Errorf("%s: %s is there twice", name, page.Name)
		}
		at[page.Name] = i + 1
		want := "pack page " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(pages))
		if paper := pack.Sheets[i].Paper.Name; oneSize && paper != pl.Plant.Practice.RecordPaper {
			reduced := "reduced: not for marking"
			if all := layouttest.LettersOf(page.Items); slices.Contains(all, want) && slices.Contains(all, reduced) {
				continue // each between two lines of a draft
			}
			want = reduced + ", " + want
		}
		if !slices.Contains(layouttest.LettersOf(page.Items), want) {
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
				first, _, _ := strings.Cut(layouttest.LettersOf(g.Items)[0], "–")
				if listed[sheet] || strconv.Itoa(at[sheet]) != page || first != page {
					t.Errorf("%s: the contents put %s on page %s (%s); it is on %d", name, sheet, first, page, at[sheet])
				}
				listed[sheet] = true
			}
		}
	}
	for _, fault := range unvisited(pack) {
		t.Errorf("%s: %s", name, fault)
	}
	says := map[bool]string{true: "pages not in the contents are blank", false: "make the pack in one size"}[oneSize]
	if text := coverText(pack); !strings.Contains(text, says) || strings.Contains(text, "--") {
		t.Errorf("%s: the cover does not say %q, or names a flag:\n%s", name, says, text)
	}
	for i, s := range pack.Sheets {
		first := i == 0 || pack.Sheets[i-1].Kind != s.Kind || pack.Sheets[i-1].Number != s.Number
		if first && s.Kind != coverKind && s.Kind != freeKind && !listed[s.Name] {
			t.Errorf("%s: %s is not in the contents", name, s.Name)
		}
		if s.Kind == freeKind && !oneSize {
			t.Errorf("%s: page %d is free on paper of two sizes", name, i+1)
		}
		if oneSize && (pages[i].W != pack.plan.Paper(coverKind).W && pages[i].H != pack.plan.Paper(coverKind).W) {
			t.Errorf("%s: page %d is on other paper", name, i+1)
		}
		if oneSize && s.Kind.Name == sheet.Record && s.Part == 1 {
			if before := pack.Sheets[i-1]; (i+1)%2 == 0 || before.Kind.Name != sheet.Loop || before.Loop != s.Loop {
				t.Errorf("%s: the record of %s, page %d, does not face its diagram but %s", name, s.Loop.Tag, i+1, before.Name)
			}
		}
		if s.Kind == freeKind && !strings.Contains(strings.Join(layouttest.LettersOf(pages[i].Items), " "), "Blank page for notes") {
			t.Errorf("%s: page %d is free and does not say so", name, i+1)
		}
		if s.No > 0 && pl.Sheets[s.No-1] != s {
			t.Errorf("%s: %s is no sheet of the set", name, s.Name)
		}
	}
}

// unvisited are the places to be visited that have no diagram among the contents,
// and whose row does not say why.
func unvisited(pack *Pack) (faults []string) {
	_, listed := pack.contents(pack.Sheets)
	for _, pl := range pack.places() {
		shown := slices.ContainsFunc(listed, func(s *sheet.Sheet) bool { return s.Place == pl })
		for _, r := range pack.visits().Rows {
			says := strings.Contains(r.Cells[1].S, "not in this pack: ") || strings.Contains(r.Cells[1].S, "no diagram of it")
			if r.Cells[0].S == pl.Tag && shown == says {
				faults = append(faults, fmt.Sprintf("%s has a diagram: %v; its row says %q", pl.Tag, shown, r.Cells[1].S))
			}
		}
	}
	return faults
}

// TestPackVisits: each place that a pack of tern-island sends to has its sheet in
// it, for every place, cable, loop and area.
func TestPackVisits(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	var scopes []material.Scope
	areas := map[string]material.Scope{}
	for _, x := range p.Places {
		scopes = append(scopes, material.Scope{Places: []*model.Place{x}})
	}
	for _, x := range p.Cables {
		scopes = append(scopes, material.Scope{Cables: []*model.Cable{x}})
	}
	for _, x := range p.Loops {
		scopes = append(scopes, material.Scope{Loops: []*model.Loop{x}})
		areas[x.Area] = material.Scope{Loops: append(areas[x.Area].Loops, x)}
	}
	for _, s := range slices.AppendSeq(scopes, maps.Values(areas)) {
		pack, err := New(pl, []Asked{{"job", "X"}}, s, false)
		if err != nil {
			continue // the set has no sheet of it
		}
		for _, place := range pack.places() {
			if !slices.ContainsFunc(pack.Sheets, func(s *sheet.Sheet) bool { return s.Place == place }) {
				t.Errorf("%v: %s is to be visited and has no sheet", s, place.Tag)
			}
		}
		for _, fault := range unvisited(pack) {
			t.Error(fault)
		}
	}
	// A set drawn without cabinets says so in the row.
	pack, err := New(layout.New(p, false, func(k string) bool { return k != sheet.Cabinet }), []Asked{{"box", "JB-22"}}, material.Scope{Places: []*model.Place{p.Place("JB-22")}}, false)
	if err != nil {
		t.Fatal(err)
	}
	if text := coverText(pack); !strings.Contains(text, "no diagram of it") {
		t.Errorf("the cover does not say that MC-2 has no diagram:\n%s", text)
	}
}

// TestPackScope: what comes along with a box, a cable and a loop.
func TestPackScope(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	names := func(scope material.Scope) (all []string) {
		pack, err := New(pl, []Asked{{"box", "X"}}, scope, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range pack.Sheets {
			if s.No > 0 || s.Place != nil {
				all = append(all, s.Kind.Name+"-"+s.Tag())
			}
		}
		return slices.Compact(all)
	}
	for _, c := range []struct {
		scope material.Scope
		want  string
	}{
		{material.Scope{Places: []*model.Place{p.Place("JB-24")}}, "box-JB-24 cabinet-extract-MC-2 ringout-W-26 loop-L-2330 record-L-2330"},
		{material.Scope{Cables: []*model.Cable{p.Cable("W-26")}}, "box-JB-24 cabinet-extract-MC-2 ringout-W-26 loop-L-2330 record-L-2330"},
		// W-26 carries nothing else; W-21 does, and is not rung out for one loop.
		{material.Scope{Loops: []*model.Loop{p.Loops[len(p.Loops)-1]}}, "box-JB-24 cabinet-extract-MC-2 ringout-W-26 loop-L-2330 record-L-2330"},
		{material.Scope{Loops: p.Loops[:1]}, "box-JB-21 cabinet-MC-1 cabinet-PCS-1 ringout-W-21 ringout-W-901 loop-F-2107 record-F-2107"},
	} {
		if got := strings.Join(names(c.scope), " "); got != c.want {
			t.Errorf("pack holds\n%s\nnot\n%s", got, c.want)
		}
	}
	// Of a cabinet of many sheets only those that the loop stands on.
	pack, err := New(pl, []Asked{{"loop", "F-2107"}}, material.Scope{Loops: p.Loops[:1]}, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range pack.Sheets {
		if s.Place == nil {
			continue
		}
		page, _ := s.Planned.Draw(pl, s)
		if !slices.ContainsFunc(layouttest.LettersOf(page.Items), func(w string) bool { return strings.HasPrefix(w, "F-2107") }) {
			t.Errorf("%s is in the pack of F-2107 and does not show it", s.Name)
		}
	}
	if _, err := New(layout.New(p, false, func(k string) bool { return k == sheet.Index }), []Asked{{"box", "JB-24"}}, material.Scope{Places: []*model.Place{p.Place("JB-24")}}, false); err == nil {
		t.Error("a pack of nothing is no error")
	}
}

// TestJob: packs for different jobs have different names, whatever their length.
func TestJob(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		asked []Asked
		want  string
	}{
		{[]Asked{{"box", "JB-21"}}, "JB-21"},
		{[]Asked{{"loop", "A-2301"}, {"loop", "T-2310"}}, "A-2301+T-2310"},
		{[]Asked{{"loop", strings.Repeat("X", 30)}}, strings.Repeat("X", 30)},
	} {
		if got := Job(c.asked, "+", mostJob); got != c.want {
			t.Errorf("%v is %s, not %s", c.asked, got, c.want)
		}
	}
	long := []Asked{{"loop", "F-2107"}, {"loop", "L-2115"}, {"loop", "A-2301"}, {"loop", "T-2310"}}
	name := Job(long, "+", mostJob)
	if len(name) != len("F-2107+ABC") || !strings.HasPrefix(name, "F-2107+") {
		t.Errorf("%v is %s", long, name)
	}
	seen := map[string]bool{name: true}
	for _, other := range [][]Asked{
		{{"loop", "F-2107"}, {"loop", "L-2115"}, {"loop", "A-2301"}, {"loop", "T-2203"}},
		{{"loop", "F-2107"}, {"loop", "L-2115"}, {"loop", "A-2301"}, {"area", "T-2310"}},
		{{"loop", "F-2107"}, {"loop", "L-2115"}, {"loop", "A-2301"}, {"loop", "T-2310"}, {"loop", "L-2330"}},
	} {
		if s := Job(other, "+", mostJob); seen[s] {
			t.Errorf("%v is %s, as another job", other, s)
		} else {
			seen[s] = true
		}
	}
	if s := Job([]Asked{{"loop", "F-2107"}, {"loop", "A-2301"}, {"loop", "L-2115"}, {"loop", "T-2310"}}, "+", mostJob); s != name {
		t.Errorf("the same job in another order is %s, not %s", s, name)
	}
}

// TestPackMaterial: the cover has every count of the scope, as list material has.
func TestPackMaterial(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	p.Cables[0].Length, p.Practice.StripLengths = 0, p.Practice.StripLengths[:0]
	for _, scope := range []material.Scope{{Places: p.Places[:1]}, {Cables: p.Cables[:3]}, {Loops: p.Loops}} {
		pack, err := New(layout.New(p, false, nil), []Asked{{"box", "X"}}, scope, false)
		if err != nil {
			t.Fatal(err)
		}
		text := coverText(pack)
		items := pack.Material()
		for _, x := range items {
			want := p.Say(x.What)
			if x.Of != "" {
				want += ": " + x.Of
			}
			if x.Lengths > 0 {
				want += ", " + finding.Count(x.Lengths, "length")
			}
			if x.Ends {
				want += " " + wording.Plain(x.Here) + " " + wording.Plain(x.N-x.Here)
			}
			if x.N > 0 {
				want += " " + strings.TrimSpace(wording.Plain(x.N)+" "+x.Unit)
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

// coverText is all that the cover of a pack says.
func coverText(pack *Pack) string {
	var letters []string
	for _, s := range pack.Sheets {
		if s.Kind == coverKind {
			page, _ := s.Planned.Draw(pack.plan, s)
			letters = append(letters, layouttest.LettersOf(page.Items)...)
		}
	}
	return strings.Join(letters, " ")
}

// TestPackSafety: what the cover says is isolated and lost with it, and what can
// hurt where the work is, told by hand from the text of the plant.
func TestPackSafety(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	loops := func(tags ...string) (s material.Scope) {
		for _, l := range p.Loops {
			if slices.Contains(tags, l.Tag) {
				s.Loops = append(s.Loops, l)
			}
		}
		return s
	}
	for name, c := range map[string]struct {
		scope       material.Scope
		says, never []string
	}{
		"JB-22": {material.Scope{Places: []*model.Place{p.Place("JB-22")}}, []string{
			"DB-2 way 7: PS-21, 24 V DC, fuse 10 A, in MC-2, Dosing house, switch room. Isolates L-2220 (in service), P-2221, X-2225; also off: L-2320, F-2321, L-2330. " +
				"No substitute, one pole only, not lockable: MC-2/X5:F1 0.5 A for L-2220; MC-2/X5:F2 0.5 A for P-2221",
			"AI-1-03 in PCS-1, Instrument room, row 2, feed NOT GIVEN: find it before the work begins. Otherwise, off and proved dead, not lockable: lift and cap MC-1/X4 46 47 (P-2240)",
			"air, XY-2225 to XV-2225: 5.5 bar from header IA-22; isolate, vent",
			"Stays live: covers on Done AC-21 in MC-2, 230 V AC, not in this job; fed from DB-2 way 9, fuse 6 A",
			"230 V AC of AC-21 in MC-2, not this job, stays live",
			"Wiring in service in JB-21, JB-22, MC-1, MC-2, LSL-2220", // P-2109 is in JB-21, its pair in W-21
			"The loop checks stroke XV-2225",
			"JB-22 box, existing Clear water pumps, north wall", "PCS-1 system Instrument room, row 2", "LSL-2220 dry contact, existing pump sump", "XY-2225 solenoid valve on XV-2225",
			"Planned by", "Shift, date",
		}, []string{"230 V AC of AC-21 in this work", "Hazardous area", "500 V DC", "Earth-continuity", "Gas detector", "L-2150,"}},
		"A-2301": {loops("A-2301"), []string{
			"DB-2 way 9, all poles, by qualified persons: AC-21, 230 V AC, fuse 6 A, in MC-2, Dosing house, switch room. Isolates A-2301; also off: X-2326", "230 V AC of AC-21 in this work: qualified persons only",
			"Insulation tester, 500 V DC", "Earth-continuity tester", "tests: insulation above extra-low voltage, core 3",
			"Stays live: covers on Done PS-21 in MC-2, 24 V DC, not in this job", "Intrinsically safe (IS): MC-2 (L-2330).",
		}, []string{"MC-2/X7:L1", "AC-21 in MC-2, not this job", "AC-21 in MC-2, 230 V AC, not in this job", "The loop checks stroke"}},
		"L-2330": {loops("L-2330"), []string{
			"Intrinsically safe (IS): JB-24, MC-2 (L-2330).", "Hazardous area (LT-2330 in zone 1)",
			"DB-2 way 7: PS-21, 24 V DC, fuse 10 A, in MC-2, Dosing house, switch room. Isolates L-2330; also off: L-2220 (in service)",
		}, []string{"air, ", "PS-21 in MC-2"}},
		"T-2203": {loops("T-2203"), []string{"Isolate, lock off", "RT-1-07 in PCS-1, Instrument room, row 2: measuring current only, to T-2203"}, []string{"supply of", "Intrinsically safe", "230 V", "air, "}},
	} {
		pack, err := New(pl, []Asked{{"job", name}}, c.scope, false)
		if err != nil {
			t.Fatal(err)
		}
		text := coverText(pack)
		for _, s := range c.says {
			if !strings.Contains(text, s) {
				t.Errorf("the cover of %s does not say %q:\n%s", name, s, text)
			}
		}
		for _, s := range c.never {
			if strings.Contains(text, s) {
				t.Errorf("the cover of %s says %q:\n%s", name, s, text)
			}
		}
	}
}

// unisolated tells what is wrong with the isolation list of a pack: a circuit that
// brings energy and stands in no row, mains at a terminal, a supply that stays live
// and that a row takes down.
func unisolated(p *Pack) (faults []string) {
	locked, lifted := p.locked(), p.lifted()
	for _, c := range p.circuits() {
		for _, e := range material.Energies(c) {
			var row string
			switch {
			case e.Supply != nil:
				row = rowWith(locked, e.Supply.Tag+", ")
			case e.Part != nil:
				row = rowWith(lifted, e.Part.Tag+" in ")
			default:
				row = rowWith(p.unfed(), c.Name)
			}
			switch {
			case row == "":
				faults = append(faults, fmt.Sprintf("%s brings energy to %s and stands in no row", e.Part.Tag, c.Name))
			case e.Part != nil && !strings.Contains(row, c.Loop.Tag):
				if e.Supply != nil || !c.Mains() {
					faults = append(faults, fmt.Sprintf("%q does not name %s", row, c.Loop.Tag))
				}
			}
			if e.Supply != nil && e.Supply.Supply.Dangerous() && (!strings.Contains(row, "all poles, by qualified persons") || strings.Contains(row, "one pole")) {
				faults = append(faults, fmt.Sprintf("mains: %q", row))
			}
		}
		if words := p.partedAt(c, nil); c.Mains() && slices.ContainsFunc(lifted, func(s string) bool { return strings.Contains(s, words) }) {
			faults = append(faults, "mains are lifted: "+words)
		}
	}
	for _, s := range p.others() {
		if tag, _, _ := strings.Cut(s, " "); rowWith(locked, tag+", ") != "" {
			faults = append(faults, tag+" stays live and is locked off")
		}
	}
	return faults
}

func rowWith(rows []string, s string) string {
	for _, row := range rows {
		if strings.Contains(row, s) {
			return row
		}
	}
	return ""
}

// TestIsolationOfPacks: of every loop and place of tern-island.
func TestIsolationOfPacks(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	var scopes []material.Scope
	for _, l := range p.Loops {
		scopes = append(scopes, material.Scope{Loops: []*model.Loop{l}})
	}
	for _, x := range p.Places {
		scopes = append(scopes, material.Scope{Places: []*model.Place{x}})
	}
	for _, scope := range scopes {
		pack, err := New(pl, []Asked{{"a", "job"}}, scope, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range unisolated(pack) {
			t.Error(fault)
		}
	}
}

// TestRungOut: the set has a ring-out sheet for each cable that the counts of
// material take for rung out.
func TestRungOut(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	for _, c := range p.Cables {
		if _, ok := pl.Ref(sheet.RingOut, c); ok != material.RungOut(c) {
			t.Errorf("%s has a ring-out sheet: %v; is counted as rung out: %v", c.Tag, ok, material.RungOut(c))
		}
	}
}

// TestPacksRandom looks over what a pack adds to the set, and ring-out sheets,
// for plants that nobody looked at.
func TestPacksRandom(t *testing.T) {
	t.Parallel()
	for seed := range uint64(samples.Many(t, 2, 4, 8)) {
		p := layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(samples.Random(seed, 3+int(seed)))}}, "p.yaml", false)
		pl := layout.New(p, seed%4 == 3, nil)
		var asked []Asked
		for _, l := range p.Loops {
			asked = append(asked, Asked{"loop", l.Tag})
		}
		pack, err := New(pl, asked, material.Scope{Loops: p.Loops, Places: p.Places}, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range slices.Concat(unvisited(pack), unisolated(pack)) {
			t.Errorf("seed %d: %s", seed, fault)
		}
		n := 0
		for page := range pack.Pages() {
			if s := pack.Sheets[n]; s.No == 0 || s.Kind.Name == sheet.RingOut {
				layouttest.AuditPage(t, s, page)
			}
			n++
		}
	}
}

// marksOf counts what there is to fill in on a page of a record or a ring-out
// sheet: for each core and wire, below the heads of the tests and on its line.
func marksOf(page *render.Page) map[string]int {
	heads := map[string][]render.Len{}
	var rows []*render.Group
	var boxes []*render.Line
	var collect func(items []render.Item)
	collect = func(items []render.Item) {
		for _, item := range items {
			switch m := item.(type) {
			case *render.Text:
				heads[m.S] = append(heads[m.S], m.At.X)
			case *render.Line:
				if m.Closed {
					boxes = append(boxes, m)
				}
			case *render.Group:
				if strings.HasPrefix(m.ID, "wire-") || strings.HasPrefix(m.ID, "core-") {
					rows = append(rows, m)
				}
				collect(m.Items)
			}
		}
	}
	collect(page.Items)
	n := map[string]int{}
	for _, row := range rows {
		letters := layouttest.LettersOf(row.Items)
		data := map[string]string{}
		for _, d := range row.Data {
			data[d.Key] = d.Value
		}
		of := boxes
		if strings.HasPrefix(row.ID, "wire-") { // it has them all
			of = slices.DeleteFunc(slices.Clone(boxes), func(box *render.Line) bool {
				return !slices.ContainsFunc(row.Items, func(item render.Item) bool { return item == render.Item(box) })
			})
		}
		if len(of) == 0 { // one with the row above it
			continue
		}
		const room = paper.PrintRow / 2 // a box of two lines is between them
		var line render.Len             // the base of its first words
		for _, item := range row.Items {
			if m, ok := item.(*render.Text); ok && line == 0 {
				line = m.At.Y
			}
		}
		// below reports whether the line has a mark of that fill below a head.
		below := func(head string, fill render.Fill) bool {
			return slices.ContainsFunc(of, func(box *render.Line) bool {
				return box.Fill == fill && box.Points[0].Y < line+room && box.Points[2].Y > line-room && slices.ContainsFunc(heads[head], func(x render.Len) bool {
					return box.Points[0].X-3*render.MM < x && x < box.Points[2].X+3*render.MM
				})
			})
		}
		screen := data["core"] != "" && (strings.HasSuffix(data["core"], "S"))
		switch {
		case slices.ContainsFunc(letters, func(s string) bool { return s == "future" || strings.HasPrefix(s, "proved, ") }) || below("future", render.Shade):
			continue
		case screen:
			n["screen continuity, to earth"]++
			continue
		}
		if below("Identity", render.Hollow) || below("Ident. "+data["core"][max(0, len(data["core"])-1):], render.Hollow) {
			n["identity, core or wire"]++
		}
		n["continuity, core, wire or jumper"]++
		if below("No short", render.Hollow) && below("No earth", render.Hollow) {
			n["short and earth, core"]++
		}
		if !below("MΩ", render.Shade) && !below("lowest MΩ", render.Shade) {
			n["insulation, core"]++
		}
	}
	return n
}

// TestPackTests: the cover counts the tests that the pages of the pack have marks
// for, no more and no less.
func TestPackTests(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	for _, c := range []struct {
		tag     string
		oneSize bool
	}{{"JB-21", false}, {"JB-22", true}} {
		pack, err := New(pl, []Asked{{"box", c.tag}}, material.Scope{Places: []*model.Place{p.Place(c.tag)}}, c.oneSize)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]int{}
		for _, s := range pack.Sheets {
			if s.Kind.Name != sheet.Record && s.Kind.Name != sheet.RingOut {
				continue
			}
			page, _ := s.Planned.Draw(pl, s)
			for test, n := range marksOf(page) {
				want[test] += n
			}
		}
		if len(want) != 5 || want["identity, core or wire"] == 0 {
			t.Errorf("%s: the pages have marks for %v", c.tag, want)
		}
		got := map[string]int{}
		for _, x := range pack.Material() {
			if x.What == "tests" && !strings.HasPrefix(x.Of, "loop check") {
				got[x.Of] = int(x.N)
			}
		}
		if !maps.Equal(got, want) {
			t.Errorf("%s: the cover counts %v; the pages have marks for %v", c.tag, got, want)
		}
	}
}

// TestPackFuture: of JB-21's seven loops L-2150 comes later, with all that is in
// the field. It is no place to visit, and no loop to be checked.
func TestPackFuture(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pack, err := New(layout.New(p, false, nil), []Asked{{"box", "JB-21"}}, material.Scope{Places: []*model.Place{p.Place("JB-21")}}, false)
	if err != nil {
		t.Fatal(err)
	}
	text := coverText(pack)
	if !strings.Contains(text, "Loops 6, and 1 future") || strings.Contains(text, "LT-2150") {
		t.Errorf("the cover counts seven loops, or sends to LT-2150:\n%s", text)
	}
	table, listed := pack.contents(pack.Sheets)
	n := 0
	for i, s := range listed {
		if s.Loop == nil {
			continue
		}
		n++
		if words := table.Rows[i].Cells[3].S; strings.Contains(words, "(FUTURE)") != (s.Loop.Tag == "L-2150") {
			t.Errorf("the contents say %q", words)
		}
	}
	if n != 2*7 {
		t.Errorf("%d lines for diagrams and records", n)
	}
	later := 0
	for _, s := range pack.closing() {
		page, _ := s.Planned.Draw(pack.plan, s)
		for _, w := range layouttest.LettersOf(page.Items) {
			if w == "future" {
				later++
			}
		}
	}
	if later != 1 {
		t.Errorf("%d loops are signed off later, not 1", later)
	}
}

// TestPackProved: a sheet on which a record leaves cores to be proved is in the
// pack, and the cover tells what a number that the contents do not have means.
func TestPackProved(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := layout.New(p, false, nil)
	left := regexp.MustCompile(`(?:proved, |rung out on )sheet (\d+)`)
	for _, place := range p.Places {
		pack, err := New(pl, []Asked{{"place", place.Tag}}, material.Scope{Places: []*model.Place{place}}, false)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, s := range pack.Sheets {
			if s.Kind.Name != sheet.Record {
				continue
			}
			page, _ := s.Planned.Draw(pl, s)
			for _, m := range left.FindAllStringSubmatch(strings.Join(layouttest.LettersOf(page.Items), " "), -1) {
				no, _ := strconv.Atoi(m[1])
				if n++; !slices.Contains(pack.Sheets, pl.Sheets[no-1]) {
					t.Errorf("%s: %s leaves a core to sheet %d, which is not in the pack", pack.Words, s.Name, no)
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: no record leaves a core to a sheet", pack.Words)
		}
		if text := coverText(pack); !strings.Contains(text, "are not in this pack") {
			t.Errorf("the cover does not tell of other sheets:\n%s", text)
		}
	}
}

// TestPackSpine: a page across that is reduced keeps its frame off the holes where
// it is bound: above the frame on right pages, below it on left ones. Holes after
// ISO 838 are 6 mm wide and 12 mm in (from memory).
func TestPackSpine(t *testing.T) {
	t.Parallel()
	for paper, forms := range map[string]string{"A3": "A4", "11x17": "letter"} {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
		p.Practice.Paper, p.Practice.RecordPaper = paper, forms
		pack, err := New(layout.New(p, false, nil), []Asked{{"box", "JB-22"}}, material.Scope{Places: []*model.Place{p.Place("JB-22")}}, true)
		if err != nil {
			t.Fatal(err)
		}
		n, seen := 0, [2]int{}
		for page := range pack.Pages() {
			if n++; page.W < page.H {
				continue
			}
			top, foot := page.H, render.Len(0) // of the frame
			for _, item := range page.Items {
				if f, ok := item.(*render.Line); ok && f.Closed && f.Pen == render.Frame {
					top, foot = min(top, f.Points[0].Y), max(foot, f.Points[2].Y)
				}
			}
			spine, other := top, page.H-foot
			if n%2 == 0 {
				spine, other = other, spine
			}
			if seen[n%2]++; spine <= 15*render.MM || other < 5*render.MM {
				t.Errorf("%s, page %d: %d µm at the spine, %d µm across from it", forms, n, spine, other)
			}
		}
		if seen[0] == 0 || seen[1] == 0 {
			t.Errorf("%s: %v pages across", forms, seen)
		}
	}
}
