package layout

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
	"ringout/samples"
)

// pinned are seeds of plants that once had a fault on paper.
var pinned = []uint64{
	43,  // a valve whose tag ran into the case of a positioner with legs far apart
	44,  // the earth of a screen under a barrier that has many words
	58,  // a function under a channel that one leg goes on from, on the other leg
	88,  // a parked lead of a loop with a long tag, in a box
	228, // a valve whose tag ran into the earth screw of its solenoid
	110, // a tier was narrowed after its first device had been measured
	161, // a bias and a location of two lines on one joint of a segment
	155, // the name of an earth screw ran through the case of a device with two circuits
	207, // two circuits of one device, each of which fits the paper, and not both; words of a function through a wall
	247, // a function that reads circuits of two places, half-way between them and through a wall
	257, // an earth bar with the terminals of a dozen strips
	279, // an accent in the line above, on a joint of a segment
	682, // a function that begins on another sheet and stands again on the next
	835, // a panel with tags so long that a cable's far end found no room
	648, // a valve tag of three lines over the tag of its positioner
	770, // a link beside words of the function before
	899, // functions that reach below their circuits
	779, // functions of circuits that share a sheet, and its tables
	459, // a link that leaves below a channel, under the words of a landing beside it
	452, // the drain of a broken pair below two lines of its cable
	980, // wires between two parts of one cabinet, with a panel in between
}

// plantSeeds are the pinned seeds and the first so many others.
func plantSeeds(t *testing.T) []uint64 {
	seeds := slices.Clone(pinned)
	for i := range samples.ManyBy(t, "RINGOUT_PLANTS", 10, 25, 150) {
		seeds = append(seeds, uint64(i))
	}
	return seeds
}

// TestRandomPlants draws plants that nobody looked at: every page has to be
// good enough to issue.
func TestRandomPlants(t *testing.T) {
	t.Parallel()
	for _, seed := range plantSeeds(t) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			randomPlant(t, seed)
		})
	}
}

func randomPlant(t *testing.T, seed uint64) {
	loops := 1 + int(seed%4)
	if seed%50 == 7 {
		loops = 12
	}
	text := samples.Random(seed, loops)
	if text != samples.Random(seed, loops) {
		t.Fatal("two plants of one seed differ")
	}
	p, sources, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
	problems = append(problems, check.Check(p)...)
	if problems.Errors() > 0 {
		problems.Print(t.Output(), sources)
		t.FailNow()
	}
	const most = 12
	told := 0
	tell := func(format string, args ...any) {
		t.Helper()
		if told++; told <= most {
			t.Errorf(format, args...)
		}
	}
	plan := New(p, seed%5 == 4, nil)
	pages := 0
	drawn, terminals := map[*model.Loop]map[string]int{}, map[*model.Loop]map[string]int{}
	var heads []render.Head
	for page, problems := range plan.Pages() {
		s := plan.Sheets[pages]
		pages++
		heads = append(heads, page.Head)
		for _, pr := range problems {
			tell("%s: %s [%s]", page.Name, pr.Text, pr.Code)
		}
		if err := page.Check(); err != nil {
			tell("%s: %v", page.Name, err)
		}
		edge := s.Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			tell("%s: %s at %v: %s", page.Name, f.Kind, f.At, f.Text)
		}
		if s.Kind.Name == sheet.Loop {
			if drawn[s.Loop] == nil {
				drawn[s.Loop], terminals[s.Loop] = map[string]int{}, map[string]int{}
			}
			countOf(page.Items, "conductor", drawn[s.Loop])
			countOf(page.Items, "terminal", terminals[s.Loop])
		}
	}
	for _, l := range p.Loops {
		want := map[string]int{}
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(p) {
				want[wording.ConductorName(w)] = 1
			}
			for _, st := range c.Stations() {
				for _, s := range st.Terminations {
					if !st.InSeries() || !s.Through() {
						continue
					}
					if n := min(terminals[l][s.In.Tag()], terminals[l][s.Out.Tag()]); n != landsOnBoth(l, s.In, s.Out) {
						tell("loop %s: the contact from %s to %s is drawn %d times", l.Tag, s.In.Tag(), s.Out.Tag(), n)
					}
				}
			}
		}
		for name := range want {
			if n := drawn[l][name]; n != 1 {
				tell("loop %s: conductor %s is drawn %d times", l.Tag, name, n)
			}
		}
		for name := range drawn[l] {
			if want[name] == 0 {
				tell("loop %s: conductor %s is drawn and is not there", l.Tag, name)
			}
		}
	}
	if seed%6 == 0 {
		encodes(t, p, plan, heads)
	}
	if told > most {
		t.Errorf("%d faults", told)
	}
}

// landsOnBoth is how many stations of a loop land on both terminals of a contact: one, and one
// of a circuit that seals it in.
func landsOnBoth(l *model.Loop, a, b *model.Terminal) (n int) {
	for _, c := range l.Circuits {
		for _, st := range c.Stations() {
			on := map[*model.Terminal]bool{}
			for _, s := range st.Terminations {
				on[s.In], on[s.Out] = true, true
			}
			if on[a] && on[b] {
				n++
			}
		}
	}
	return n
}

// countOf counts the groups of each thing that a key names.
func countOf(items []render.Item, key string, count map[string]int) {
	for _, item := range items {
		g, ok := item.(*render.Group)
		if !ok {
			continue
		}
		for _, d := range g.Data {
			if d.Key == key {
				count[d.Value]++
			}
		}
		countOf(g.Items, key, count)
	}
}

// encodes draws a set again and writes it as PDF and as SVG; both runs give the
// same bytes.
func encodes(t *testing.T, p *model.Plant, plan *sheet.Plan, heads []render.Head) {
	t.Helper()
	set := func(plan *sheet.Plan) (sum [sha256.Size]byte) {
		h := sha256.New()
		w := pdf.New(h, p.Name, heads, time.Unix(0, 0).UTC())
		for page := range plan.Pages() {
			if err := w.Page(page); err != nil {
				t.Fatalf("%s as PDF: %v", page.Name, err)
			}
			if err := svg.Write(h, page); err != nil {
				t.Fatalf("%s as SVG: %v", page.Name, err)
			}
		}
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		return [sha256.Size]byte(h.Sum(nil))
	}
	if set(plan) != set(New(p, plan.Draft, nil)) {
		t.Error("two runs differ")
	}
}
