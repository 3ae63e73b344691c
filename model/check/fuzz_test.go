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
	lock := texts("../../samples/heron-lock/*.yaml")[0]
	for i, path := range oddParking {
		text := strings.Replace(lock, "[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 IE, wires, RT-7 channel 1]", path, 1)
		if text == lock {
			f.Fatal("no parked lead in the sample")
		}
		f.Add(text, uint64(i), byte(0))
		f.Add(text, uint64(i), byte(3))
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

// oddParking are paths of a sensor of four wires whose leads are parked where none can be, with
// too few or too many words, in tails and in patterns.
var oddParking = []string{
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 5 6 IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 >x 2>x 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x>x 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 x>2 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 x>x 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2 3 4 IE>x, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 screen 5>x, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1>x 2>x 3>x 4>x IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 x x x x x]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1>x 2>x 3>x 4>x IE]",
	"[TE-705A 1 x 3 4, W-705A, MC-7/X2 1 2 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A x x x x, W-705A, MC-7/X2 1 2 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A 1 2>x 3 4, W-705A, MC-7/X2 1 2 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A . 2 3 4, W-705A, MC-7/X2 1 2>x 3 4 IE, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1..4 IE, wires, RT-7 channel 1 1A 1B1>x 1B1 1B2]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1..4 IE, wires, RT-7 channel 1 1A x 1B1 1B2]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 IE, wires, MC-7/X1 20 21>x 22, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 IE, wires, MC-7/X1 20>x 21>x 22>x, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 IE, {2: [wires, RT-7 channel 1 1A]}]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1..4 IE, {1: [wires, MC-7/X1 20>x], 3: [wires, MC-7/X1 21>x, wires, RT-7 channel 1 1B1]}]",
	"[TE-705A 1..4, W-705A, MC-7/X2 1 2>x 3 4 IE, W-705A, TE-705B 1 2>x 3]",
	"[MC-7/X2 1 2>x, wires, RT-7 channel 1]",
	"[TE-705A 1..4, W-705A, MC-7/X2 {a} {b}>x {c} {a}>{b} IE, wires, RT-7 channel {n}]",
	"[LY-707 + ->x, W-705A cores 1 2, MC-7/X2 1>x 2, wires, RT-7 channel 1]",
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
