package check

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode/utf8"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/samples"
)

// between parts the files of a plant in one text.
const between = "\n#### next file\n"

// FuzzRead reads and checks what is left of the samples after words and lines
// of them were moved, lost or doubled: whatever comes out, nothing panics, every
// problem lies inside a file that was read, and the same text gives the same
// findings.
func FuzzRead(f *testing.F) {
	texts := func(pattern string) (all []string) {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal(pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			all = append(all, string(data))
		}
		return all
	}
	for _, plant := range []string{"../../samples/one-loop", "../../samples/tern-island", "testdata/mistakes"} {
		text := strings.Join(texts(plant+"/*.yaml"), between)
		for seed := range uint64(20) {
			f.Add(text, seed, byte(seed))
		}
	}
	for i, text := range texts("../../samples/mistakes/*/*.yaml") {
		f.Add(text, uint64(i), byte(i))
	}
	f.Fuzz(func(t *testing.T, text string, seed uint64, changes byte) {
		watch := time.AfterFunc(20*time.Second, func() { panic(fmt.Sprintf("a text of %d bytes takes for ever", len(text))) })
		defer watch.Stop()
		text = samples.Spoil(text, rand.New(rand.NewPCG(seed, 0)), int(changes%40))
		m := fstest.MapFS{}
		for i, part := range strings.Split(text, between) {
			m[fmt.Sprintf("f%03d.yaml", i)] = &fstest.MapFile{Data: []byte(part)}
		}
		got := readWhole(t, m)
		if again := readWhole(t, m); again != got {
			t.Errorf("the second time it is\n%s\nafter\n%s", again, got)
		}
	})
}

// readWhole reads and checks a plant, asks everything of it that can be asked,
// and returns all that it said.
func readWhole(t *testing.T, m fstest.MapFS) string {
	p, sources, ps := read.Read(m, ".")
	ps = append(ps, Check(p)...).Sort()
	for _, pr := range ps {
		if pr.Code == "" || pr.Text == "" || pr.Len < 0 {
			t.Errorf("problem lacks something: %#v", pr)
		}
		inside(t, pr, pr.Pos, sources)
		for _, n := range pr.Also {
			inside(t, pr, n.Pos, sources)
		}
	}
	var b strings.Builder
	if err := ps.Print(&b, sources); err != nil {
		t.Error(err)
	}
	for _, w := range p.Conductors {
		fmt.Fprintln(&b, w.Fact(), p.Marker(w, w.From), p.Marker(w, w.To))
	}
	for _, l := range p.Loops {
		fmt.Fprintln(&b, l.Tag, model.WiringCode(l.Facts(p)))
		for _, c := range l.Circuits {
			fmt.Fprintln(&b, c.Name, c.Signal, len(c.Stations()), len(c.Runs()), len(c.Conductors(p)))
			for _, r := range c.Runs() {
				if !c.Broken && r.Kind == model.CableRun && len(r.Cores) == 0 {
					t.Errorf("a run of circuit %s has no cores", c.Name)
				}
			}
		}
	}
	for _, pl := range p.Places {
		fmt.Fprintln(&b, pl.Tag, model.WiringCode(pl.Facts(p)))
	}
	return b.String()
}

func inside(t *testing.T, pr finding.Finding, at finding.Pos, sources map[string][]byte) {
	t.Helper()
	data, ok := sources[at.File]
	if at.Line == 0 && (ok || at.File == ".") {
		return // the whole file, or the folder
	}
	lines := strings.Split(string(data), "\n")
	if !ok || at.Line < 1 || at.Line > len(lines) || at.Col < 1 || at.Col > utf8.RuneCountInString(lines[at.Line-1])+1 {
		t.Errorf("%v lies outside the text: %v", at, pr)
	}
}
