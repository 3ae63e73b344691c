package sheet_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/issue"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/read"
	"ringout/samples"
)

// TestGrounds alters one word of plants at a time: a sheet that is drawn otherwise
// stands on other facts. RINGOUT_GROUNDS says how many alterations.
func TestGrounds(t *testing.T) {
	var redrawn, as atomic.Int64
	t.Run("plants", func(t *testing.T) {
		for name, files := range groundPlants(t) {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				before := shownOf(files)
				alter(t, files, func(was, is string, other fstest.MapFS) bool {
					now := shownOf(other)
					if now == nil {
						return false
					}
					told := 0
					for key, s := range now {
						b, there := before[key]
						if strings.HasPrefix(key, "IX ") { // it lists the sheets, and goes with them
							continue
						}
						if !there || s[1] == b[1] {
							if there && s[0] != b[0] {
								as.Add(1)
							}
							continue
						}
						redrawn.Add(1)
						if s[0] == b[0] && told < 3 {
							told++
							t.Errorf("%s is drawn otherwise on the same facts, by\n%s", key, lineDiff(was, is))
						}
					}
					return true
				})
			})
		}
	})
	if redrawn.Load() == 0 {
		t.Error("nothing was drawn otherwise: nothing was put to the test")
	}
	t.Logf("%d sheets drawn otherwise; %d drawn alike on other facts", redrawn.Load(), as.Load())
}

// TestGroundsOfOtherForms alters plants as TestGrounds does, and holds them against
// a register whose digests are of another form, of a program that said everything in
// other words: a sheet that is drawn otherwise is told.
// How few are told besides is held by TestKeptRegistersSeeChanges.
func TestGroundsOfOtherForms(t *testing.T) {
	samples.Whole(t)
	var drawn, told atomic.Int64
	t.Run("plants", func(t *testing.T) {
		for name, files := range groundPlants(t) {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				before := plantOf(files)
				register, _, err := layout.Raise(&issue.Register{}, before, issue.Issue{Mark: "99", Date: "2099-01-01", Status: "as built"})
				if err != nil {
					t.Fatal(err)
				}
				for i := range register.Sheets {
					register.Sheets[i].Drawn = "other words"
				}
				alter(t, files, func(was, is string, other fstest.MapFS) bool {
					now := plantOf(other)
					if now == nil {
						return false
					}
					form2 := *register
					form2.Facts = 0
					changed := map[string]bool{}
					for _, s := range layout.Since(&form2, now).Sheets {
						changed[fmt.Sprint(s.Number, s.Part)] = true
					}
					told.Add(int64(len(changed)))
					for _, s := range layout.Compare(before, now).Sheets {
						drawn.Add(1)
						if !changed[fmt.Sprint(s.Number, s.Part)] {
							t.Errorf("%s part %d is %s, and that is not told, by\n%s", s.Number, s.Part, s.What, lineDiff(was, is))
						}
					}
					return true
				})
			})
		}
	})
	t.Logf("%d sheets told, %d changed", told.Load(), drawn.Load())
	if drawn.Load() == 0 {
		t.Error("nothing changed: nothing was put to the test")
	}
}

// groundPlants are those that are altered: tern-island and random ones.
func groundPlants(t *testing.T) map[string]fstest.MapFS {
	island := fstest.MapFS{}
	files, err := filepath.Glob("../../samples/tern-island/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sample: %v", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		island[filepath.Base(f)] = &fstest.MapFile{Data: data}
	}
	plants := map[string]fstest.MapFS{"tern-island": island}
	for _, seed := range []uint64{1, 2, 5, 8} {
		plants[fmt.Sprintf("random %d", seed)] = fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(seed, 12))}}
	}
	return plants
}

// alter alters one word at a time and hands over the text before and after, and the
// plant: until enough of them could be tried.
func alter(t *testing.T, files fstest.MapFS, try func(was, is string, other fstest.MapFS) bool) {
	many := 2
	if s := os.Getenv("RINGOUT_GROUNDS"); s != "" {
		var err error
		if many, err = strconv.Atoi(s); err != nil {
			t.Fatalf("RINGOUT_GROUNDS is %q, no number", s)
		}
	}
	r := rand.New(rand.NewPCG(3, uint64(many)))
	for n, tries := 0, 0; n < many && tries < 30*many; tries++ {
		names := slices.Sorted(maps.Keys(files))
		file := names[r.IntN(len(names))]
		other := maps.Clone(files)
		was := string(files[file].Data)
		is := altered(was, r)
		other[file] = &fstest.MapFile{Data: []byte(is)}
		if try(was, is, other) {
			n++
		}
	}
}

// shownOf reads and draws a plant; nil if it has errors.
func shownOf(files fstest.MapFS) map[string][2]string {
	p := plantOf(files)
	if p == nil {
		return nil
	}
	return layout.Set.Shown(p)
}

// plantOf reads a plant; nil if it has errors.
func plantOf(files fstest.MapFS) *model.Plant {
	p, _, problems := read.Read(files, ".")
	if problems.Errors() > 0 || check.Check(p).Errors() > 0 {
		return nil
	}
	return p
}
