package layout_test

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/model"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
	"ringout/samples"
)

// pinned are seeds of plants that once had a fault on paper.
var pinned = []uint64{}

// plantSeeds are the pinned seeds and the first so many others.
func plantSeeds(t *testing.T) []uint64 {
	n := 60
	if s := os.Getenv("RINGOUT_PLANTS"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil {
			t.Fatalf("RINGOUT_PLANTS is %q, no number", s)
		}
	}
	seeds := slices.Clone(pinned)
	for i := range n {
		seeds = append(seeds, uint64(i))
	}
	return seeds
}

// TestRandomPlants draws plants that nobody looked at: every page has to be
// good enough to issue.
func TestRandomPlants(t *testing.T) {
	for _, seed := range plantSeeds(t) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			randomPlant(t, seed)
		})
	}
}

func randomPlant(t *testing.T, seed uint64) {
	text := samples.Random(seed, 1+int(seed%13))
	if text != samples.Random(seed, 1+int(seed%13)) {
		t.Fatal("two plants of one seed differ")
	}
	p, sources, problems := model.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
	problems = append(problems, model.Check(p)...)
	if problems.Errors() > 0 {
		problems.Print(t.Output(), sources)
		t.FailNow()
	}
	plan := layout.New(p, seed%5 == 4, nil)
	var pages []*render.Page
	told := 0
	tell := func(format string, args ...any) {
		if told++; told <= 100000 {
			t.Errorf(format, args...)
		}
	}
	for page, problems := range plan.Pages() {
		s := plan.Sheets[len(pages)]
		pages = append(pages, page)
		for _, pr := range problems {
			tell("%s: %s [%s]", page.Name, pr.Text, pr.Code)
		}
		edge := s.Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			tell("%s: %s at %v: %s", page.Name, f.Kind, f.At, f.Text)
		}
	}
	_, _ = svg.Write, pdf.New // TODO
}
