package record

import (
	"fmt"
	"os"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/samples"
)

// TestHands: every cell of a form that is written in has room for a hand in a glove, on the
// narrowest and the widest paper of forms, and every box is large enough to be ticked.
func TestHands(t *testing.T) {
	t.Parallel()
	for name, p := range handPlants(t) {
		pl := newSet(p, false, nil)
		faults := map[string]int{}
		for _, s := range pl.Sheets {
			if s.Part != 1 {
				continue
			}
			for _, width := range []render.Len{170 * render.MM, s.Inner.W()} {
				for _, section := range formOf(pl, s, width) {
					for _, fault := range layouttest.TooSmall(section.Table) {
						faults[fmt.Sprintf("%s: %q: %s", s.Kind.Name, section.Table.Columns[0].Head, fault)]++
					}
				}
			}
		}
		for fault, n := range faults {
			t.Errorf("%s: %s, %d times", name, fault, n)
		}
	}
}

// formOf are the tables of the form that begins with a sheet, width wide.
func formOf(pl *sheet.Plan, s *sheet.Sheet, width render.Len) (all []paper.Section) {
	switch s.Kind.Name {
	case sheet.Record:
		all, _, _ = record(newRecorder(pl, s.Loop, ownPoint(0)), s.Code, leastPunch, width)
	case sheet.RingOut:
		all, _ = ringOut(pl, s.Cable, s.Code, leastPunch, width)
	}
	return all
}

// handPlants are the samples, and plants that nobody looked at.
func handPlants(t *testing.T) map[string]*model.Plant {
	all := map[string]*model.Plant{}
	entries, err := os.ReadDir("../../samples")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if _, err := os.Stat("../../samples/" + e.Name() + "/plant.yaml"); err == nil && e.IsDir() {
			all[e.Name()] = layouttest.PlantOf(t, os.DirFS("../../samples"), e.Name(), false)
		}
	}
	for seed := range samples.Many(t, 5, 20, 200) {
		text := samples.Random(uint64(seed), 1+seed%4)
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
		if problems.Errors() > 0 {
			t.Fatalf("seed %d: %v", seed, problems)
		}
		all[fmt.Sprint("seed ", seed)] = p
	}
	return all
}
