package check

import (
	"flag"
	"os"
	"strings"
	"testing"

	"ringout/model/read"
)

var update = flag.Bool("update", false, "write what is found into findings.txt")

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
	for _, name := range []string{"one-loop", "tern-island", "heron-flats", "heron-lock", "cold-store", "ferry-cove", "skid-7"} {
		if got := findings(t, "../../samples", name); got != "" {
			t.Errorf("%s has problems:\n%s", name, got)
		}
	}
}

// TestMistakes compares what is found in the plants of testdata, which have what the
// examples of the kinds have not, with what was found before.
func TestMistakes(t *testing.T) {
	t.Parallel()
	var got string
	for _, name := range []string{"nothing-there", "no-plant", "utf-16", "mistakes"} {
		got += findings(t, "testdata", name)
	}
	const file = "testdata/findings.txt"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
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
