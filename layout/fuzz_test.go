package layout

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ringout/layout/pack"
	"ringout/model/check"
	"ringout/model/material"
	"ringout/model/read"
	"ringout/samples"
)

// FuzzDraw draws what is left of plants after parts of their text were moved,
// lost or changed: as a set where they read without errors, and as a draft.
// Nothing panics, and every sheet that is reported as good can be written down.
func FuzzDraw(f *testing.F) {
	files, err := filepath.Glob("../samples/*/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for seed := range uint64(5) {
			f.Add(string(data), seed, byte(seed))
		}
	}
	for seed := range uint64(40) {
		f.Add(samples.Random(seed, 2), seed, byte(seed))
	}
	// A box that holds all that a cabinet does: a walk from its card goes back by
	// way of another box.
	f.Add(samples.Spoil(samples.Random(1090, 2), rand.New(rand.NewPCG(1090, 7)), 1), uint64(0), byte(0))
	f.Fuzz(func(t *testing.T, text string, seed uint64, changes byte) {
		watch := time.AfterFunc(60*time.Second, func() { panic(fmt.Sprintf("a text of %d bytes takes for ever", len(text))) })
		defer watch.Stop()
		if strings.Count(text, "\n") > 400 {
			t.Skip("larger than what one round should take")
		}
		text = samples.Spoil(text, rand.New(rand.NewPCG(seed, 0)), int(changes%12))
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
		problems = append(problems, check.Check(p)...)
		plan := New(p, problems.Errors() > 0, nil)
		for page, problems := range plan.Pages() {
			if err := page.Check(); err != nil && problems.Errors() == 0 {
				t.Errorf("%s cannot be written, and nothing is reported: %v", page.Name, err)
			}
		}
		if pack, err := pack.New(plan, []pack.Asked{{Tag: "all"}}, material.Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables}, false); err == nil {
			for page, problems := range pack.Pages() {
				if err := page.Check(); err != nil && problems.Errors() == 0 {
					t.Errorf("%s cannot be written, and nothing is reported: %v", page.Name, err)
				}
			}
		}
	})
}
