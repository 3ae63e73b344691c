package sheet_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/issue"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/read"
	"ringout/samples"
)

// drawnSet is what the sheets of a plant show, and what to tell of them.
type drawnSet struct {
	plant  *model.Plant
	common string
	names  []string
	pages  [][32]byte
	known  map[string]sheet.CachedDrawing
}

// drawSet draws a plant; nil if it has errors, or a sheet something to report, or
// another common text than is asked for.
func drawSet(files fstest.MapFS, issues *issue.Register, common string) *drawnSet {
	p, _, problems := read.Read(files, ".")
	if problems.Errors() > 0 || common != "" && layout.Common(p) != common || check.Check(p).Errors() > 0 {
		return nil
	}
	pl := layout.NewIssued(p, false, issues)
	s := &drawnSet{plant: p, common: layout.Common(p), known: map[string]sheet.CachedDrawing{}}
	for page, problems := range pl.Pages() {
		if len(problems) > 0 {
			return nil
		}
		sheet := pl.Sheets[len(s.names)]
		s.known[sheet.Kind.Name+" "+sheet.Tag()] = pl.Known(sheet)
		s.names, s.pages = append(s.names, page.Name), append(s.pages, page.Digest())
	}
	return s
}

// altered are texts that differ in one word from that of a file, at a place that
// r chooses: a figure becomes the next, a value what stands elsewhere after the
// same key, a word another of its line, a key is lost, or whatever Spoil does.
func altered(text string, r *rand.Rand) string {
	lines := strings.SplitAfter(text, "\n")
	i := r.IntN(len(lines))
	line := lines[i]
	put := func(all [][]int, by func(was string) string) {
		if len(all) > 0 {
			at := all[r.IntN(len(all))]
			n := len(at)
			lines[i] = line[:at[n-2]] + by(line[at[n-2]:at[n-1]]) + line[at[n-1]:]
		}
	}
	switch r.IntN(5) {
	case 0:
		put(aFigure.FindAllStringIndex(line, -1), func(was string) string {
			n, _ := strconv.Atoi(was)
			return fmt.Sprint(n + 1)
		})
	case 1, 2:
		if all := aValue.FindAllStringSubmatchIndex(line, -1); len(all) > 0 {
			at := all[r.IntN(len(all))]
			key := line[at[2]:at[3]]
			var others []string
			for _, m := range aValue.FindAllStringSubmatch(text, -1) {
				if m[1] == key {
					others = append(others, m[2])
				}
			}
			lines[i] = line[:at[4]] + others[r.IntN(len(others))] + line[at[5]:]
		}
	case 3:
		put(aWord.FindAllStringIndex(line, -1), func(was string) string { return was + "x" })
	default:
		return samples.Spoil(text, r, 1)
	}
	return strings.Join(lines, "")
}

var (
	aFigure = regexp.MustCompile(`[0-9]+`)
	aWord   = regexp.MustCompile(`[A-Za-z]+`)
	aValue  = regexp.MustCompile(`([a-z][a-zA-Z -]*): ([^,\[\]{}\n]+)`)
)

// TestStamps alters one word of plants at a time. With what is known of the plant
// as it was, only sheets may be kept that show the same, and those drawn again
// have to be what they are when all are drawn.
func TestStamps(t *testing.T) {
	t.Parallel()
	many := samples.ManyBy(t, "RINGOUT_STAMPS", 0, 0, 18)
	plants := map[string]fstest.MapFS{"tern-island": {}}
	files, err := filepath.Glob("../../samples/tern-island/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sample: %v", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		plants["tern-island"][filepath.Base(f)] = &fstest.MapFile{Data: data}
	}
	loops := samples.Many(t, 6, 6, 24)
	for _, seed := range []uint64{0, 1, 2, 4, 5, 6, 8, 9}[:samples.Many(t, 1, 3, 8)] {
		plants[fmt.Sprintf("random %d", seed)] = fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(seed, loops+6*int(seed%4)))}}
	}
	var changed, kept atomic.Int64
	t.Run("plants", func(t *testing.T) {
		for name, files := range plants {
			for _, issued := range []bool{false, true} {
				t.Run(fmt.Sprintf("%s, issued %v", name, issued), func(t *testing.T) {
					t.Parallel()
					c, k := stamps(t, files, issued, many/len(plants)/2+1)
					changed.Add(int64(c))
					kept.Add(int64(k))
				})
			}
		}
	})
	if changed.Load() == 0 || kept.Load() == 0 {
		t.Errorf("%d sheets changed, and %d were kept: nothing was put to the test", changed.Load(), kept.Load())
	}
}

func stamps(t *testing.T, files fstest.MapFS, issued bool, many int) (changed, kept int) {
	r := rand.New(rand.NewPCG(1, 2))
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	alter := func(files fstest.MapFS) (other fstest.MapFS, was, is string) {
		name := names[r.IntN(len(names))]
		for was = string(files[name].Data); is == "" || is == was; {
			is = altered(was, r)
		}
		other = maps.Clone(files)
		other[name] = &fstest.MapFile{Data: []byte(is)}
		return other, was, is
	}
	var issues *issue.Register
	if issued { // when some of it was otherwise
		var old *drawnSet
		for tries := 0; old == nil; tries++ {
			if tries > 200 {
				t.Fatal("no altered plant can be drawn without something to report")
			}
			other, _, _ := alter(files)
			old = drawSet(other, nil, "")
		}
		var err error
		issues, _, err = layout.Raise(&issue.Register{}, old.plant, issue.Issue{Mark: "99", Date: "2040-01-01", Status: "for construction"})
		if err != nil {
			t.Fatal(err)
		}
	}
	was := drawSet(files, issues, "")
	if was == nil {
		t.Fatal("the plant has errors")
	}
	var told, plants, again int
	for tries := 0; plants < many && tries < 30*many; tries++ {
		other, text, now := alter(files)
		is := drawSet(other, issues, was.common)
		if is == nil {
			continue
		}
		plants++
		c, a, k := was.against(is, issues, func(format string, args ...any) {
			if told++; told <= 4 {
				t.Errorf(format+", by\n%s", append(args, lineDiff(text, now))...)
			}
		})
		changed, again, kept = changed+c, again+a, kept+k
	}
	t.Logf("%d altered plants: %d sheets changed, %d drawn again are the same, %d kept", plants, changed, again, kept)
	return changed, kept
}

// against plans a plant with what is known of an earlier one, and tells what is
// kept and should not be, or is drawn otherwise than among all.
func (was *drawnSet) against(is *drawnSet, issues *issue.Register, tell func(format string, args ...any)) (changed, again, kept int) {
	pl := layout.NewSince(is.plant, false, issues, func(kind, tag string) sheet.CachedDrawing { return was.known[kind+" "+tag] })
	if !slices.Equal(is.names, was.names) { // every sheet prints how many there are
		if !pl.Torn() && len(pl.Sheets) == len(was.names) {
			tell("sheets come or go, and the set is not torn")
		}
		return 0, 0, 0
	}
	if pl.Torn() || len(pl.Sheets) != len(is.names) {
		tell("the set is torn: %d sheets, of %d", len(pl.Sheets), len(is.names))
		return 0, 0, 0
	}
	var redrawn []*sheet.Sheet
	for i, s := range pl.Sheets {
		switch {
		case s.Name != is.names[i]:
			tell("sheet %d is %s, not %s", i+1, s.Name, is.names[i])
		case !pl.Kept(s):
			redrawn = append(redrawn, s)
			if is.pages[i] != was.pages[i] {
				changed++
			} else {
				again++
			}
		case is.pages[i] != was.pages[i]:
			tell("%s changes and is kept", s.Name)
		default:
			kept++
		}
	}
	i := 0
	for page := range pl.Draw(redrawn) {
		if n := redrawn[i].No - 1; page.Digest() != is.pages[n] {
			tell("%s differs from what is drawn with all others", page.Name)
		}
		i++
	}
	if pl.Torn() {
		tell("the set is torn")
	}
	return changed, again, kept
}

// lineDiff shows the lines that differ.
func lineDiff(a, b string) string {
	was, is := strings.Split(a, "\n"), strings.Split(b, "\n")
	for len(was) > 0 && len(is) > 0 && was[0] == is[0] {
		was, is = was[1:], is[1:]
	}
	for len(was) > 0 && len(is) > 0 && was[len(was)-1] == is[len(is)-1] {
		was, is = was[:len(was)-1], is[:len(is)-1]
	}
	return fmt.Sprintf("%q to %q", was, is)
}
