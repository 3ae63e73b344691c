package record

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/pdf"
)

// formSet are the records and the index of a plant.
func formSet(p *model.Plant, draft bool) *sheet.Plan {
	return newSet(p, draft, func(k string) bool { return k == sheet.Record || k == sheet.Index })
}

// look writes the pages as a PDF file into the folder that RINGOUT_LOOK_FORMS
// names, to be looked at.
func look(t *testing.T, name string, pl *sheet.Plan, pages map[*sheet.Sheet]*render.Page) {
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

// TestRecordFacts: every wiring fact of a loop stands in one row of its
// record, in the words on paper as well as in the data of the row, and the
// record bears the code of the loop's facts.
func TestRecordFacts(t *testing.T) {
	t.Parallel()
	for _, name := range layouttest.Samples {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), name, false)
		pl, pages, problems := layouttest.Forms(t, formSet(p, false))
		for _, problem := range problems {
			t.Errorf("%s: %v", name, problem)
		}
		look(t, name, pl, pages)
		rows := map[*model.Loop][]string{}
		for _, s := range pl.Sheets {
			if s.Kind.Name != sheet.Record {
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
	words := strings.Join(layouttest.LettersOf(g.Items), " ")
	squeezed := strings.ReplaceAll(words, " ", "")
	for _, key := range []string{"core", "from", "to", "role"} {
		want := strings.ReplaceAll(data[key], " ", "")
		if key == "role" {
			if want = strings.ReplaceAll(want, "-", "−"); !strings.Contains(squeezed, want) { // of AC
				want = map[string]string{"+": "L", "−": "N"}[want]
			}
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
	t.Parallel()
	for _, size := range []string{"A4", "letter"} {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), "one-loop", false)
		p.Practice.RecordPaper = size
		pl, pages, _ := layouttest.Forms(t, formSet(p, false))
		look(t, "one-loop-"+size, pl, pages)
		n := 0
		for _, s := range pl.Sheets {
			if s.Kind.Name == sheet.Record {
				n++
			}
		}
		if n > 3 {
			t.Errorf("%s: %d sheets, want 3 at most", size, n)
		}
		if r, ok := pl.Ref(sheet.Record, p.Loops[0].Circuits[0]); !ok || r.Sheet.Part != 1 {
			t.Errorf("%s: the circuit is not referred to on the first sheet: %v", size, r)
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
	t.Parallel()
	for _, size := range []string{"A4", "letter"} {
		for _, draft := range []bool{false, true} {
			p := layouttest.PlantOf(t, oddPlant(20, draft), "odd", false)
			p.Practice.RecordPaper = size
			pl, pages, problems := layouttest.Forms(t, formSet(p, draft))
			look(t, fmt.Sprintf("odd-%s-%v", size, draft), pl, pages)
			var words []string
			rows := 0
			for _, s := range pl.Sheets {
				words = append(words, layouttest.LettersOf(pages[s].Items)...)
				for _, item := range pages[s].Items {
					if g, ok := item.(*render.Group); ok && strings.HasPrefix(g.ID, "wire-") {
						rows++
					}
				}
			}
			if want := len(p.Loops[0].Facts(p)); rows != want || want < 40 {
				t.Errorf("%d wiring rows, want %d", rows, want)
			}
			if !strings.Contains(strings.Join(words, " "), paper.NotGiven) {
				t.Error("missing facts are not printed as NOT GIVEN")
			}
			cut := slices.ContainsFunc(problems, func(p finding.Finding) bool { return strings.Contains(p.Text, "one note after") })
			if cut == draft {
				t.Errorf("a note of 5000 letters: reported %v", cut)
			}
		}
	}
}

// TestOwnPoints: no two of sixteen loops in a row share their own point, and
// none has a check point.
func TestOwnPoints(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
	for _, c := range []struct {
		v, span float64
		want    string
	}{
		{112.5, 450, "112.5"}, {0, 450, "0"}, {450, 450, "450"}, {33.333, 100, "33.3"}, {0.4, 0.8, "0.4"},
		{-0.0001, 100, "0"}, {12345.6, 20000, "12346"}, {253.125, 250, "253.1"}, {100, 0, "100"},
	} {
		if got := wording.Figure(c.v, c.span); got != c.want {
			t.Errorf("%g of %g: %s, want %s", c.v, c.span, got, c.want)
		}
	}
}

// TestRecordRefers: beside its loop diagram a record names that sheet and its
// zone, leads to it, and bears the same wiring code.
func TestRecordRefers(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := newSet(p, false, nil)
	diagrams := map[*model.Loop]*sheet.Sheet{}
	for _, s := range pl.Sheets {
		if s.Kind.Name == sheet.Loop && s.Part == 1 {
			diagrams[s.Loop] = s
		}
	}
	for _, s := range pl.Sheets {
		if s.Kind.Name != sheet.Record || s.Part != 1 {
			continue
		}
		page, _ := s.Planned.Draw(pl, s)
		d := diagrams[s.Loop]
		if d == nil {
			t.Fatalf("%s: no loop diagram", s.Name)
		}
		words := strings.Join(layouttest.LettersOf(page.Items), "\n")
		if r, ok := pl.Ref(sheet.Loop, s.Loop); !ok || !strings.Contains(words, r.String()) || !strings.Contains(words, d.NumberIn(p)) {
			t.Errorf("%s: does not name its loop diagram %s", s.Name, d.Name)
		}
		led := slices.ContainsFunc(page.Items, func(i render.Item) bool { l, ok := i.(*render.Link); return ok && l.Page == d.Name })
		if !led || s.Code != d.Code {
			t.Errorf("%s: link %v, code %s and %s", s.Name, led, s.Code, d.Code)
		}
	}
}

// TestFormsRepeat: the same plant gives the same marks, planned and redrawn.
func TestFormsRepeat(t *testing.T) {
	t.Parallel()
	var first string
	for range 3 {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
		pl, pages, _ := layouttest.Forms(t, formSet(p, false))
		var b strings.Builder
		for _, s := range pl.Sheets {
			render.Dump(&b, pages[s])
		}
		if first == "" {
			first = b.String()
		}
		if b.String() != first {
			t.Fatal("redrawn, the forms differ")
		}
	}
}

// recorderOf builds the tables of a sample's record, other sheets in the set.
func recorderOf(t *testing.T, loop string) (*recordBuilder, *sheet.Plan) {
	t.Helper()
	return recorderIn(t, "tern-island", loop)
}

// recorderIn is that of a sample.
func recorderIn(t *testing.T, sample, loop string) (*recordBuilder, *sheet.Plan) {
	t.Helper()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), sample, false)
	pl := newSet(p, false, nil)
	for i, l := range p.Loops {
		if l.Tag == loop {
			return &recordBuilder{pl: pl, plant: p, loop: l, own: ownPoint(i)}, pl
		}
	}
	t.Fatalf("no loop %s", loop)
	return nil, nil
}

// TestRecordMains: mains cores are proved dead before they are landed, L, N and
// PE each, at the voltage of IEC 60364-6 table 6A (from memory) in its own cell;
// volts are read on what is landed, by qualified persons. Others say nothing of it.
func TestRecordMains(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "A-2301")
	layouttest.Has(t, layouttest.RowsOf(r.cautions("")), "230 V AC from AC-21 in this loop: qualified persons only; isolate, lock off, prove dead before removing covers")
	wires, _ := r.wires()
	n := 0
	for _, row := range wires.Rows {
		mains := row.Group == "" && strings.HasPrefix(row.Cells[0].S, "W-2302")
		signal := row.Group == "" && strings.HasPrefix(row.Cells[0].S, "W-2301-")
		if !mains && !signal {
			continue
		}
		n++
		if k := len(row.Cells); row.Cells[k-2].Kind != paper.Tick {
			t.Errorf("%q has no box for polarity", row.Cells[0].S)
		}
		want := "250 V\n "
		if mains {
			want = "500 V\n "
		}
		if got := row.Cells[readOhms+3]; got.S != want || got.Kind != paper.Words {
			t.Errorf("%q: insulation %q, want %q", row.Cells[0].S, got.S, want)
		}
	}
	if n != 5 {
		t.Errorf("%d cores, want 5", n)
	}
	layouttest.Has(t, layouttest.RowsOf(wires), "cable W-2302, 19 m, 1.5 mm²: expect up to 0.46 Ω, limit 0.96 Ω, 500 V DC, minimum 1 MΩ")
	layouttest.Has(t, layouttest.RowsOf(wires), "W-2302-3 GNYE|PE N")
	rows := layouttest.RowsOf(r.endToEnd())
	layouttest.Has(t, rows, "test-lead resistance subtracted|AT-2301:PE|MC-2/X7:PE1|up to 0.23 Ω, limit 0.73 Ω")
	layouttest.Has(t, rows, "Dead: PE to plant earth|MC-2/X7:PE1|plant earth|limit by local code")
	layouttest.Has(t, rows, "AT-2301 supply, live: qualified persons only, after every circuit above is proved dead and landed")
	// the least as given, the highest 5 % more
	for _, want := range []string{"L to N|AT-2301:L|AT-2301:N|230 V AC, 207 to 241 V (AC-21)", "L to PE|AT-2301:L|AT-2301:PE|230 V AC, 207 to 241 V (AC-21)", "N to PE|AT-2301:N|AT-2301:PE|near 0 V"} {
		layouttest.Has(t, rows, "Live: "+want)
	}
	layouttest.HasNot(t, rows, "before landing")
	layouttest.Has(t, rows, "Polarity at input, device supplied and driving its signal|AI-2-06:1+|AI-2-06:1-|1.00 V or more (4 mA), + on AI-2-06:1+") // 4 mA in 250 Ω
	for _, l := range r.plant.Loops {
		if l.Tag != "A-2301" && l.Tag != "X-2326" { // of mains, both
			other := &recordBuilder{plant: r.plant, loop: l}
			layouttest.HasNot(t, append(layouttest.RowsOf(other.cautions("")), layouttest.RowsOf(other.endToEnd())...), "qualified persons only")
			layouttest.HasNot(t, layouttest.RowsOf(other.endToEnd()), "Live:")
		}
	}
}

// TestSupplyBeforeSignal: on every record all dead rows come before any live one,
// and what feeds a device is read before its signal is (order of IEC 60364-6, from
// memory; a device without supply sends nothing).
func TestSupplyBeforeSignal(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "A-2301")
	both := 0
	for _, l := range r.plant.Loops {
		other := &recordBuilder{pl: r.pl, plant: r.plant, loop: l}
		stage, seen := 0, map[int]bool{}
		at := 0
		for _, row := range other.endToEnd().Rows {
			if name, _, ok := strings.Cut(row.Group, ", live: "); ok {
				at = 2
				for _, c := range l.Circuits {
					if c.Name == name && c.Signal.Powers() {
						at = 1
					}
				}
			} else if row.Group != "" {
				at = 0
			}
			if at < stage {
				t.Errorf("%s: %q comes too late", l.Tag, row.Group)
			}
			stage = at
			seen[at] = true
		}
		if seen[1] && seen[2] {
			both++
		}
	}
	if both == 0 {
		t.Error("no loop has a device with a supply and a signal")
	}
}

// TestFourWireOrder: a transmitter with a DC supply of its own has volts within a
// band before it is landed, a row that lands it, and only then its signal. By hand:
// 2 × 0.180 A × (35 m of 18.1 and 210 m of 24.5 Ω/km) (IEC 60228) is 2.08 V less;
// the least is given, the highest 5 % more.
func TestFourWireOrder(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../model/modeltest/testdata/fourwire.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: text}}, "c", false)
	r := &recordBuilder{plant: p, loop: p.Loops[0]}
	at := -1
	rows := layouttest.RowsOf(r.endToEnd())
	for _, want := range []string{
		"FT-401 supply, live: after every circuit above is proved dead",
		"Supply at device cores before landing|FT-401:P+|FT-401:P-|22.0..25.2 V (PS-2), + on FT-401:P+",
		"Supply off: land these cores and those of its signal; supply on|FT-401:P+|FT-401:P-|19.9..23.1 V, + on FT-401:P+",
		"FT-401, live: after every circuit above is proved dead, and the supply of FT-401 landed and on",
		"Polarity at input, device supplied and driving its signal",
	} {
		i := slices.IndexFunc(rows, func(s string) bool { return strings.HasPrefix(s, want) })
		if i <= at {
			t.Errorf("%q is in row %d, after %d; rows are\n%s", want, i, at, strings.Join(rows, "\n"))
		}
		at = i
	}
	p.Part("FT-401").Device.SupplyCurrent = 0
	layouttest.Has(t, layouttest.RowsOf(r.endToEnd()), "Supply off: land these cores and those of its signal; supply on|FT-401:P+|FT-401:P-|NOT GIVEN: voltage, device connected, draws of FT-401")

	r, _ = recorderOf(t, "X-2225") // before its target is moved
	layouttest.Has(t, layouttest.RowsOf(r.endToEnd()), "Supply off: land the cores; supply on|ZSC-2225:+|ZSC-2225:-|")
}

// TestRecordRungOut: a core that has a ring-out sheet is tested there and only
// ticked off here, by the number of the very sheet that shows it; without that
// sheet in the set it is tested here.
func TestRecordRungOut(t *testing.T) {
	t.Parallel()
	r, pl := recorderOf(t, "F-2107")
	ring := map[string]int{} // of each core the sheet with its line
	for _, s := range pl.Sheets {
		if s.Kind.Name != sheet.RingOut {
			continue
		}
		for _, g := range coreGroups(layouttest.Audited(t, pl, s).Items) {
			for _, d := range g.Data {
				if d.Key == "core" {
					ring[d.Value] = s.No
				}
			}
		}
	}
	wires, _ := r.wires()
	own := &recordBuilder{plant: r.plant, loop: r.loop}
	alone, _ := own.wires()
	seen, boxes := 0, 0
	for _, row := range wires.Rows {
		if row.Group != "" {
			continue
		}
		data := map[string]string{}
		for _, d := range row.Data {
			data[d.Key] = d.Value
		}
		tests := row.Cells[readOhms : len(row.Cells)-1]
		for _, name := range strings.Fields(data["rung"]) { // one row for a run
			seen++
			if want := fmt.Sprintf("proved, sheet %d", ring[name]); tests[0].Kind != paper.Tick || tests[0].S != want {
				t.Errorf("%s: %q, want %q", name, tests[0].S, want)
			}
		}
		if data["rung"] == "" {
			if tests[0].Kind == paper.Tick && tests[0].S != "" || ring[data["core"]] != 0 {
				t.Errorf("%s: %q; it is rung out on sheet %d", data["core"], tests[0].S, ring[data["core"]])
			}
			continue
		}
		boxes++
		for _, c := range tests[1:] {
			if c.Kind != paper.Before {
				t.Errorf("%s: more to fill in than one box", data["rung"])
			}
		}
	}
	if seen != 5 || boxes != 2 { // a pair and screen of W-21, a pair of W-901
		t.Errorf("%d cores are rung out elsewhere, want 5; with %d boxes, want 2", seen, boxes)
	}
	layouttest.Has(t, layouttest.RowsOf(alone), "W-21 pair 3 (BK+BU), 165 m, 0.75 mm²: expect up to 8.09 Ω, limit 9.30 Ω")
}

func kindsOf(cells []paper.Cell) (kinds []paper.CellKind) {
	for _, c := range cells {
		kinds = append(kinds, c.Kind)
	}
	return kinds
}

// TestRecordLater: of a later stage nothing is tested, and nothing is asked for.
func TestRecordLater(t *testing.T) {
	t.Parallel()
	r, pl := recorderOf(t, "L-2150")
	wires, _ := r.wires()
	n := 0
	for _, row := range wires.Rows {
		if row.Group != "" || !strings.HasPrefix(row.Cells[0].S, "W-2150") {
			continue
		}
		n++
		for i, c := range row.Cells[readOhms:] {
			if i == 0 && (c.Kind != paper.NA || c.S != "future") || i > 0 && c.Kind != paper.Before {
				t.Errorf("%q has a cell to fill in: %v", row.Cells[0].S, c)
			}
		}
	}
	if n != 3 {
		t.Errorf("%d conductors of W-2150, want 3", n)
	}
	for _, table := range append(r.signals(), r.alarms(), r.faults()) {
		if len(table.Rows) > 0 {
			t.Errorf("a table of %s", table.Columns[0].Head)
		}
	}
	if rows := layouttest.RowsOf(r.endToEnd()); len(rows) != 1 || !strings.Contains(rows[0], "or loop check until LT-2150 is installed") {
		t.Errorf("whole circuit: %q", rows)
	}
	for _, row := range recordCables(pl, r).Rows {
		want := paper.Tick
		if row.Cells[0].S == "W-2150" {
			want = paper.NA
		}
		if row.Cells[3].Kind != want || row.Cells[5].Kind != want {
			t.Errorf("the tags of %s: cells %v", row.Cells[0].S, kindsOf(row.Cells))
		}
	}
	strip := r.phases()[0]
	for i, c := range strip.Columns[1:] {
		later := strings.HasPrefix(c.Head, "Loop checked") || strings.HasPrefix(c.Head, "Started up")
		for _, row := range strip.Rows {
			if (row.Cells[i+1].Kind == paper.NA) != later {
				t.Errorf("%s of %q: %v", row.Cells[0].S, c.Head, row.Cells[i+1])
			}
		}
	}
	if s := strip.Columns[0].Head; strings.Contains(s, "function") {
		t.Errorf("signed for: %q", s)
	}
	for _, s := range pl.Sheets {
		if s.Kind.Name == sheet.Record && strings.HasSuffix(s.Words, "(FUTURE)") != (s.Loop == r.loop) {
			t.Errorf("title %q", s.Words)
		}
	}
	m := material.Material(r.plant, material.Scope{Loops: []*model.Loop{r.loop}}, nil)
	if i := slices.IndexFunc(m, func(x material.Item) bool { return strings.HasPrefix(x.Of, "loop check") }); i >= 0 {
		t.Errorf("the material counts a loop check")
	}
}

// TestRecordService: who works on new wiring is told what else is in the box.
func TestRecordService(t *testing.T) {
	t.Parallel()
	_, pl := recorderOf(t, "T-2203")
	words := func(kind, subject string) []string {
		var all []string
		for _, s := range pl.Sheets {
			if s.Kind.Name == kind && s.Tag() == subject {
				page, _ := s.Planned.Draw(pl, s)
				all = append(all, strings.Join(layouttest.LettersOf(page.Items), " "))
			}
		}
		return all
	}
	for _, c := range []struct{ kind, subject, want string }{
		{sheet.Record, "T-2203", "Existing wiring in JB-22: L-2220; MC-1: W-911. Tell operations"}, // new cable, new strip
		{sheet.RingOut, "W-24", "Existing wiring in JB-22: L-2220; MC-1: W-911. Tell operations"},
		{sheet.RingOut, "W-22", "Existing wiring in JB-22: L-2220; MC-2: L-2220. Tell operations"},
		{sheet.Record, "L-2220", "Existing wiring in this loop. Tell operations"},
		{sheet.Record, "X-2225", "Existing wiring in this loop and in JB-22: L-2220; MC-2: L-2220. Tell operations"},
		{sheet.Record, "F-2107", "Existing wiring in JB-21: W-2109; MC-1: W-911."},
	} {
		layouttest.Has(t, words(c.kind, c.subject), c.want)
	}
	layouttest.HasNot(t, words(sheet.Record, "L-2220"), "L-2220; ")
	layouttest.HasNot(t, words(sheet.Record, "L-2115"), "W-911.") // its own
	layouttest.HasNot(t, words(sheet.Record, "P-2135"), "JB-21: W-2109")
	var all []*model.Place
	busy := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	for _, l := range busy.Loops { // all in service: a few are named
		l.Status = model.Existing
	}
	pl = newSet(busy, false, nil)
	for _, l := range busy.Loops {
		all = append(all, wording.Opened(pl.Plant, l)...)
	}
	if want, got := "JB-21: F-2107, P-2109, F-2112, L-2115 and others; ", holds(pl.Plant, all, nil); !strings.HasPrefix(got, want) || !strings.HasSuffix(got, "; and 4 more places") {
		t.Errorf("existing everywhere: %q", got)
	}
}

// TestDangersOfPlaces: who is sent into a place is told what can kill in it and
// where intrinsically safe wiring is, whatever the loop or cable in hand.
func TestDangersOfPlaces(t *testing.T) {
	t.Parallel()
	_, pl := recorderOf(t, "L-2220")
	dead, safe := "MC-2 holds 230 V AC of AC-21 (X6, X7, DO-2-07): keep covers on", "MC-2 (IS1, Z-2330). "
	n := 0
	for _, s := range pl.Sheets {
		var there bool
		switch {
		case s.Part != 1:
			continue
		case s.Kind.Name == sheet.Record:
			there = slices.ContainsFunc(wording.Opened(pl.Plant, s.Loop), func(p *model.Place) bool { return p != nil && p.Tag == "MC-2" })
		case s.Kind.Name == sheet.RingOut:
			there = s.Cable.From.Tag() == "MC-2" || s.Cable.To.Tag() == "MC-2"
		default:
			continue
		}
		page, _ := s.Planned.Draw(pl, s)
		words := strings.Join(layouttest.LettersOf(page.Items), " ")
		if strings.Contains(words, dead) != there || strings.Contains(words, safe) != there {
			t.Errorf("%s: comes to MC-2 %v, and says %q", s.Name, there, words)
		}
		if there {
			n++
		}
	}
	if n < 4 { // L-2220, P-2221, X-2225, W-22
		t.Errorf("%d sheets come to MC-2", n)
	}
}

// TestRecordDetails: small facts that were wrong on paper once.
func TestRecordDetails(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "L-2330")
	layouttest.Has(t, layouttest.RowsOf(r.devices()), "Ex ia IIC, zone 1")
	layouttest.Has(t, layouttest.RowsOf(wording.BarrierEarths(r.plant, r.barriers())), "barrier to its earth bar|Z-2330|MC-2/IE|with the bar's own below: maximum 1 Ω")
	layouttest.Has(t, layouttest.RowsOf(wording.BarrierEarths(r.plant, r.barriers())), "earth bar to main earth of the plant|MC-2/IE|main earth|maximum 1 Ω (IEC 60079-14 practice)")
	layouttest.Has(t, layouttest.RowsOf(r.endToEnd()), "LT-2330 and Z-2330 off; link at To, measure From|LT-2330:+ LT-2330:-|Z-2330:1 Z-2330:2|")
	for _, p := range r.plant.Place("MC-2").Parts {
		if p.Barrier != nil {
			p.Barrier.Earth = nil
		}
	}
	layouttest.Has(t, layouttest.RowsOf(wording.BarrierEarths(r.plant, r.barriers())), "barrier to its earth bar|Z-2330|NOT GIVEN|earth bar NOT GIVEN: key earth of Z-2330")

	r, _ = recorderOf(t, "X-2225")
	rows := layouttest.RowsOf(r.devices())
	layouttest.Has(t, rows, "on XV-2225")
	layouttest.Has(t, layouttest.RowsOf(r.alarms()), "XC-2225 fails to shut in 20 s|20 s|")
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Stroke time|command on, then off")
	layouttest.Has(t, layouttest.RowsOf(r.cautions("")), "The loop check moves XV-2225:")
	layouttest.Has(t, layouttest.RowsOf(r.faults()), "healthy, 1.0 mA|below 1.2 mA")

	for _, s := range []string{"XY-2225: solenoid valve, fails closed", "ZSC-2225: proximity switch, currents"} {
		layouttest.Has(t, layouttest.RowsOf(r.signals()...), s)
	}

	r, _ = recorderOf(t, "T-2310")
	// NIST monograph 175, type K: 14.713 mV at 360 °C.
	layouttest.Has(t, layouttest.RowsOf(r.alarms()), "TI-2310 HH|360 °C|14.713 mV − terminals")

	r, _ = recorderOf(t, "A-2301")
	layouttest.Has(t, layouttest.RowsOf(r.cautions("")), "may move what AC-2301 drives: NOT GIVEN")
	r, _ = recorderOf(t, "F-2107")
	layouttest.HasNot(t, layouttest.RowsOf(r.cautions("")), "moves")

	r, _ = recorderOf(t, "F-2112")
	strokes := r.signals()[1]
	var heads []string
	for _, c := range strokes.Columns {
		heads = append(heads, strings.ReplaceAll(c.Head, "\n", " "))
	}
	if want := "Command Expected V at card mA read Up: pressure Up: travel Down: pressure Down: travel Initials"; strings.Join(heads, " ") != want {
		t.Errorf("columns of an output: %q", heads)
	}
	layouttest.Has(t, layouttest.RowsOf(strokes), "50 %|12.00 mA, 0.6 bar, 50 ± 1 % open")
}

// TestRecordContacts: past a contact the legs part, and both far ends lie in one
// cabinet: linked at the contact they can be read there. By hand: 145 m and more
// of two cores, W-2220 25 m of 1.0 mm² (18.1 Ω/km) and W-22 120 m of 0.75 mm²
// (24.5 Ω/km) each (IEC 60228).
func TestRecordContacts(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "L-2220")
	rows := layouttest.RowsOf(r.endToEnd())
	layouttest.Has(t, rows, "LSL-2220 off, link at From; lift both, measure at To|LSL-2220:1 LSL-2220:2|MC-2/X5:F1 DI-2-01:1+|up to 6.79 Ω, limit 7.80 Ω")
	layouttest.Has(t, rows, "Continuity, both off|DI-2-01:1-|MC-2/X5:N1|near 0 Ω")
	layouttest.HasNot(t, rows, "end to end")
	if got, want := wording.EarthWords(r.pl.Plant, r.loop.Circuits[0]), "PS-21:- on earth; "+paper.NotGiven+": earthed of LSL-2220, earth of PS-21, minus of DI-2-01"; got != want {
		t.Errorf("earths of L-2220: %s, not %s", got, want)
	}
	// Other loops hang on PS-21, some in service: nobody lifts its link for the test of one.
	layouttest.HasNot(t, rows, string(earthLink))
}

// TestEarthLink: the - of a supply is on earth by the practice; on which bar is not
// given until its key says. Its link is lifted where nothing but the loop hangs on it.
func TestEarthLink(t *testing.T) {
	t.Parallel()
	const one = `
plant: One switch
practice: {earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets:
  MC-1:
    earths: {IE: instrument earth}
    strips: {X1: {terminals: 1..4}, X5: {terminals: [F1..F2 fused 0.5 A, N1..N2], jumpers: [F1..F2, N1..N2]}}
    supplies: {PS-1: {volts: 24 V DC}}
    cards: {DI-1: {kind: DI, power: loop, channels: 8, common: M}}
    feeds: [PS-1 + to X5 F1, PS-1 - to X5 N1, PS-1 - to DI-1 M]
cables: {W-1: {type: pair, from: LSH-1, to: MC-1}}
loops:
  L-1:
    service: Sump
    devices: {LSH-1: {kind: contact}}
    circuits: {LSH-1: [LSH-1, W-1, MC-1/X1 1 2, {1: [wires, MC-1/X5 F1], 2: [wires, DI-1 channel 1]}]}
`
	const other = `  L-2:
    service: Tank
    devices: {LSH-2: {kind: contact}}
    circuits: {LSH-2: [LSH-2, W-2, MC-1/X1 3 4, {1: [wires, MC-1/X5 F2], 2: [wires, DI-1 channel 2]}]}
`
	rows := func(text string, alter func(*model.Supply, *model.Plant)) []string {
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		alter(p.Part("PS-1").Supply, p)
		return layouttest.RowsOf((&recordBuilder{pl: newSet(p, false, nil), plant: p, loop: p.Loops[0]}).endToEnd())
	}
	as := func(*model.Supply, *model.Plant) {}
	const link = string(earthLink) + "|PS-1:-|"
	layouttest.Has(t, rows(one, as), link+paper.NotGiven+": key earth of PS-1|lifted: open fitted: < 1 Ω")
	layouttest.Has(t, rows(one, func(s *model.Supply, p *model.Plant) { s.Earth = p.Part("MC-1/IE") }), link+"MC-1/IE|lifted: open fitted: < 1 Ω")
	layouttest.HasNot(t, rows(one, func(s *model.Supply, _ *model.Plant) { s.Floats = true }), string(earthLink))
	layouttest.HasNot(t, rows(strings.Replace(one, "to: MC-1}}\n", "to: MC-1}, W-2: {type: pair, from: LSH-2, to: MC-1}}\n", 1)+other, as), string(earthLink))
}

// TestLinkedAcross: two cores are read linked where both come to the same part.
// Past the panel indicator of L-2115 they do not, and it is linked across. By
// hand, both legs: 31 m of 18.1 Ω/km, 165 m of 24.5, and of 36.0 W-901's 8 m; in
// the leg of the indicator W-911 twice, in the other once (26 m of 24.5).
func TestLinkedAcross(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "L-2115")
	ohms := 2*(0.031*18.1+0.165*24.5+0.008*36.0) + 4*0.026*24.5
	layouttest.Has(t, layouttest.RowsOf(r.endToEnd()), "LT-2115 and AI-1-03 off; link at To and across LI-2115, measure From|LT-2115:+ LT-2115:-|AI-1-03:8+ AI-1-03:8-|up to "+wording.OhmFigure(ohms)+" Ω")
}

// TestScreenOhms: a screen is read with a core of all cables that it goes
// through to its earth, and one whose earth lies between from either end. By
// hand, lengths of 18.1 Ω/km and 24.5 Ω/km (IEC 60228).
func TestScreenOhms(t *testing.T) {
	t.Parallel()
	const what = "Screen: link to a proved core at From, measure at To|"
	for _, c := range []struct {
		loop, ends string
		ohms       float64
	}{
		{"L-2220", "LSL-2220|MC-2/IE by W-22 OS|", 0.025*18.1 + 0.120*24.5},
		{"L-2115", "LT-2115|MC-1/X4:24 on MC-1/IE|", 0.031*18.1 + 0.165*24.5},
		{"L-2115", "CP-1|MC-1/X4:24 on MC-1/IE|", 0.026 * 24.5},
		{"L-2115", "CP-1|MC-1/X9:3 on MC-1/IE|", 0.026 * 24.5},
	} {
		r, _ := recorderOf(t, c.loop)
		layouttest.Has(t, layouttest.RowsOf(r.endToEnd()), what+c.ends+wording.OhmFigure(c.ohms)+" Ω (core) + screen")
	}
	r, _ := recorderOf(t, "L-2220")
	w := r.plant.ConductorOf(r.plant.Cable("W-22").Overall)
	w.From, w.To = model.End{}, model.End{} // past what nothing names
	layouttest.Has(t, layouttest.RowsOf(r.endToEnd()), what+"LSL-2220|MC-2/IE by W-22 OS|core + screen")
}

// TestRestored: between the last dead test and the first live one stands what is put
// back, on the record with a reading of each earth that a screen was lifted from, and
// on the ring-out sheet with who and when (order of work: common practice).
func TestRestored(t *testing.T) {
	t.Parallel()
	for _, tag := range []string{"F-2107", "T-2203", "X-2225", "A-2301"} {
		r, _ := recorderOf(t, tag)
		order, dead, back, lifted := 0, 0, map[string]bool{}, map[string]bool{}
		for _, row := range r.endToEnd().Rows {
			switch {
			case strings.HasPrefix(row.Group, "After the last dead test, before energising"):
				order = 1
			case strings.Contains(row.Group, ", live:"):
				if order == 0 {
					t.Errorf("%s: %q before what was lifted is put back", tag, row.Group)
				}
				order = 2
			case row.Group != "":
			case order == 0:
				dead++
				if row.Cells[0].S == string(screenThrough) {
					lifted[row.Cells[2].S] = true
				}
			case order == 1 && row.Cells[0].S == string(screensBack):
				back[row.Cells[2].S] = true
			}
		}
		if dead == 0 || order == 0 || !maps.Equal(back, lifted) {
			t.Errorf("%s: %d dead tests; screens lifted from %v, back on %v", tag, dead, lifted, back)
		}
	}
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)
	pl := newSet(p, false, nil)
	for _, cable := range []string{"W-21", "W-22"} {
		sections, _ := ringOut(pl, p.Cable(cable), "", leastPunch, 170*render.MM)
		rows := layouttest.RowsOf(sections[ringRowsAt+1].Table)
		layouttest.Has(t, rows, "Discharged; links, plugs off; cores landed, tight; spares cut back.")
		layouttest.Has(t, rows, "Disconnects closed, fuses in; or note those left open or out.")
		layouttest.Has(t, rows, "Screen earths restored as drawn. Each to its earth")
	}
}

// TestRelayMoves: who works the coil of a relay moves what its contacts switch, in other
// loops too, and is told so before.
func TestRelayMoves(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "heron-lock", false)
	pl, pages, _ := layouttest.Forms(t, formSet(p, false))
	var words []string
	for _, s := range pl.Sheets {
		if s.Kind.Name == sheet.Record && s.Loop.Tag == "K-701" {
			words = append(words, layouttest.LettersOf(pages[s].Items)...)
		}
	}
	all := strings.Join(words, " ")
	for _, want := range []string{"The loop check moves M-701, K-701", "1152 Ω ± 10 %, 1037 to 1267 Ω", "diode, + on K-701:A1"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in %q", want, all)
		}
	}
}
