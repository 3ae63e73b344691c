package paper

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"

	"ringout/render"
)

var update = flag.Bool("update", false, "rewrite the dumps in testdata")

// sampleTitle fills every field of the title block.
func sampleTitle() Title {
	return Title{
		Owner: "Tern Island Water Board", Project: "Filter hall renewal", Plant: "Works 2, filter hall",
		Title: "Filter 4 backwash flow", Subtitle: "FT-1042 to controller, with flow control valve",
		Kind: "Loop diagram", Number: "TI-20-LD-1042", Revision: "C", Date: "2026-03-14", Status: "For construction",
		Drawn: "M. Okafor", Checked: "L. Brandt", Approved: "S. Ueda", Sheet: 3, Of: 12, Code: "K7M-4QD",
		DataRevision: "7", DataDate: "2026-03-12",
		Revisions: []Revision{
			{"A", "First issue for review", "2025-11-02", "MO"},
			{"B", "Positioner and limit switches added", "2026-01-20", "MO"},
			{"C", "Issued for construction", "2026-03-14", "LB"},
		},
	}
}

func framePage(p Paper, t Title) (*render.Page, Border) {
	b := Frame(p, t)
	return &render.Page{Head: render.Head{Name: "frame", Title: "Frame", W: p.W, H: p.H}, Items: b.Items}, b
}

func TestFrameReads(t *testing.T) {
	t.Parallel()
	for _, p := range papers {
		for name, title := range map[string]Title{"full": sampleTitle(), "empty": {}, "draft": {Draft: true, Sheet: 1}, "continued": {}} {
			switch name {
			case "draft":
				title = sampleTitle()
				title.Draft = true
			case "continued":
				title = sampleTitle()
				title.Continued = true
			}
			page, b := framePage(p, title)
			if err := page.Check(); err != nil {
				t.Errorf("%s %s: %v", p.Name, name, err)
			}
			edge := p.Edge()
			for _, f := range render.Audit(page, edge.Min, edge.Max) {
				t.Errorf("%s %dx%d %s: %s: %s at %v", p.Name, p.W, p.H, name, f.Kind, f.Text, f.At)
			}
			for _, u := range b.Unfit {
				t.Errorf("%s %s: %s", p.Name, name, u)
			}
			for what, a := range map[string]Area{"inner": b.Inner, "notes": b.Notes} {
				for _, item := range b.Items {
					if mark := markIn(item, a); mark != "" {
						t.Errorf("%s %s: %s lies in the %s area", p.Name, name, mark, what)
					}
				}
			}
			if free := b.Inner.H(); free < p.Frame().H()-56*render.MM {
				t.Errorf("%s: only %d left for the drawing", p.Name, free)
			}
		}
	}
}

// Texts far longer than their fields are reported and still lie on nothing.
func TestFrameWithLongTextsReads(t *testing.T) {
	t.Parallel()
	for _, n := range []int{3, 8, 40} {
		long := strings.TrimSpace(strings.Repeat("Backwash ", n))
		title := Title{
			Owner: long, Project: long, Plant: long, Title: long, Subtitle: long, Kind: long, Number: long, Revision: long,
			Date: long, Status: long, Drawn: long, Checked: long, Approved: long, Code: long, Paper: long,
			DataRevision: long, Revisions: []Revision{{long, long, long, long}}, Draft: true,
		}
		for _, p := range papers {
			page, b := framePage(p, title)
			if err := page.Check(); err != nil {
				t.Error(err)
			}
			for _, f := range render.Audit(page, p.Edge().Min, p.Edge().Max) {
				t.Errorf("%s %d words: %s: %s at %v", p.Name, n, f.Kind, f.Text, f.At)
			}
			if len(b.Unfit) == 0 {
				t.Errorf("%s %d words: nothing reported", p.Name, n)
			}
		}
	}
}

// markIn names a mark that reaches into an area, or is empty.
func markIn(item render.Item, a Area) string {
	reaches := func(least, most render.Point) bool {
		return least.X < a.Max.X && most.X > a.Min.X && least.Y < a.Max.Y && most.Y > a.Min.Y
	}
	switch m := item.(type) {
	case *render.Text:
		if least, most := render.Box(m); !m.Ghost && reaches(least, most) {
			return "text " + m.S
		}
	case *render.Line:
		for i := range m.Points {
			p, q := m.Points[i], m.Points[(i+1)%len(m.Points)]
			if reaches(render.Point{X: min(p.X, q.X), Y: min(p.Y, q.Y)}, render.Point{X: max(p.X, q.X), Y: max(p.Y, q.Y)}) {
				return "a line"
			}
		}
	}
	return ""
}

func texts(items []render.Item) string {
	var b strings.Builder
	for _, item := range items {
		if t, ok := item.(*render.Text); ok {
			b.WriteString(t.S + "\n")
		}
	}
	return b.String()
}

// The eight mandatory data fields of ISO 7200 are never blank.
func TestFrameTellsWhatIsMissing(t *testing.T) {
	t.Parallel()
	p, _ := FindPaper("A3", true)
	if n := strings.Count(texts(Frame(p, Title{}).Items), NotGiven); n != 9 { // and the data revision
		t.Errorf("an empty title block says %s %d times, want 9", NotGiven, n)
	}
	if strings.Contains(texts(Frame(p, sampleTitle()).Items), NotGiven) {
		t.Error("a full title block says " + NotGiven)
	}
}

func TestFrameReportsWhatDoesNotFit(t *testing.T) {
	t.Parallel()
	title := sampleTitle()
	title.Number = strings.Repeat("TI-20-LD-1042-", 30)
	for _, p := range papers {
		unfit := Frame(p, title).Unfit
		if len(unfit) != 1 || !strings.Contains(unfit[0], "drawing number") {
			t.Errorf("%s: reported %q", p.Name, unfit)
		}
	}
}

func TestFrameCountsOldRevisions(t *testing.T) {
	t.Parallel()
	p, _ := FindPaper("A3", true)
	title := sampleTitle()
	for range 5 {
		title.Revisions = append(title.Revisions, title.Revisions...)
	}
	got := texts(Frame(p, title).Items)
	shown := strings.Count(got, "2026-") + strings.Count(got, "2025-") - 2 // date of issue and model
	if want := "more: see the register"; !strings.Contains(got, want) || shown < 6 {
		t.Errorf("%d revisions shown of %d:\n%s", shown, len(title.Revisions), got)
	}
}

func TestFrameDump(t *testing.T) {
	t.Parallel()
	p, _ := FindPaper("A3", true)
	page, _ := framePage(p, sampleTitle())
	var got bytes.Buffer
	if err := render.Dump(&got, page); err != nil {
		t.Fatal(err)
	}
	const file = "testdata/frame_a3.dump"
	if *update {
		if err := os.WriteFile(file, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("the frame is not that of %s; look at both and run with -update", file)
	}
}
