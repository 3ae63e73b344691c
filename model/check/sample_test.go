package check

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"ringout/model/read"
)

var update = flag.Bool("update", false, "write what is found into the findings.txt files")

// findings reads and checks a plant of a folder and returns what would be printed.
func findings(t testing.TB, folder, name string) string {
	t.Helper()
	p, sources, ps := read.Read(os.DirFS(folder), name)
	var b strings.Builder
	if err := append(ps, Check(p)...).Sort().Print(&b, sources); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestSamplesAreClean(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"one-loop", "tern-island"} {
		if got := findings(t, "../../samples", name); got != "" {
			t.Errorf("%s has problems:\n%s", name, got)
		}
	}
}

// TestMistakes compares what is found in the sample of mistakes, and in the
// whole-file cases of testdata, with what was found before.
func TestMistakes(t *testing.T) {
	t.Parallel()
	var cases strings.Builder
	for _, name := range []string{"nothing-there", "no-plant", "no-loops", "utf-16"} {
		cases.WriteString(findings(t, "testdata", name))
	}
	for file, got := range map[string]string{
		"../../samples/mistakes/findings.txt": findings(t, "../../samples", "mistakes"),
		"testdata/findings.txt":               cases.String(),
	} {
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got == string(want) {
			continue
		}
		g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
		for i := range min(len(g), len(w)) {
			if g[i] != w[i] {
				t.Errorf("%s:%d: found\n%s\nwant\n%s", file, i+1, g[i], w[i])
				break
			}
		}
		if len(g) != len(w) {
			t.Errorf("%s: found %d lines, want %d", file, len(g), len(w))
		}
	}
}

// TestTrapsStayText proves that the values YAML 1.1 reads as yes, octal, float
// or base sixty (its types bool, int and float) come through as written.
func TestTrapsStayText(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "mistakes/traps.yaml")
	l := p.Loops[0]
	got := []string{l.Tag, l.Service, l.Area, l.Ref, l.Devices[0].Tag, l.Devices[0].Device.Model, l.Devices[0].Device.At, p.Cables[0].Tag, p.Places[0].Parts[0].Tag, p.Places[0].Parts[1].Tag}
	want := []string{"12:30", "NO", "012", "1E5", "NO", "12:30", "0x1F", "012", "MC-T/1E5", "OFF"}
	if !slices.Equal(got, want) || p.Cables[0].Length != 10 {
		t.Errorf("got %q and %g m", got, p.Cables[0].Length)
	}
}
