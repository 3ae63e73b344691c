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
	"ringout/model/check"
	"ringout/model/read"
	"ringout/samples"
)

// TestGrounds alters one word of plants at a time: a sheet that is drawn otherwise
// stands on other facts. RINGOUT_GROUNDS says how many alterations.
func TestGrounds(t *testing.T) {
	many := 2
	if testing.Short() {
		many = 1
	}
	if s := os.Getenv("RINGOUT_GROUNDS"); s != "" {
		var err error
		if many, err = strconv.Atoi(s); err != nil {
			t.Fatalf("RINGOUT_GROUNDS is %q, no number", s)
		}
	}
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
	var redrawn, as atomic.Int64
	t.Run("plants", func(t *testing.T) {
		for name, files := range plants {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				r := rand.New(rand.NewPCG(3, uint64(many)))
				before := shownOf(files)
				for n, tries := 0, 0; n < many && tries < 30*many; tries++ {
					names := slices.Sorted(maps.Keys(files))
					file := names[r.IntN(len(names))]
					other := maps.Clone(files)
					was := string(files[file].Data)
					is := altered(was, r)
					other[file] = &fstest.MapFile{Data: []byte(is)}
					now := shownOf(other)
					if now == nil {
						continue
					}
					n++
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
				}
			})
		}
	})
	if redrawn.Load() == 0 {
		t.Error("nothing was drawn otherwise: nothing was put to the test")
	}
	t.Logf("%d sheets drawn otherwise; %d drawn alike on other facts", redrawn.Load(), as.Load())
}

// shownOf reads and draws a plant; nil if it has errors.
func shownOf(files fstest.MapFS) map[string][2]string {
	p, _, problems := read.Read(files, ".")
	if problems.Errors() > 0 || check.Check(p).Errors() > 0 {
		return nil
	}
	return layout.Set.Shown(p)
}
