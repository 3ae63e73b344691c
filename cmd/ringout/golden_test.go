package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/render"
	"ringout/render/svg"
)

// update rewrites what is committed: go test ./cmd/... -update.
var update = flag.Bool("update", false, "rewrite the golden files and the pictures in samples/one-loop")

// golden compares with a committed file. What differs is left beside it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	fresh := name + ".got"
	want, err := os.ReadFile(name)
	if err == nil && bytes.Equal(want, got) {
		os.Remove(fresh) // of an earlier run, if there is one
		return
	}
	if err := os.WriteFile(fresh, got, 0o644); err != nil {
		t.Error(err)
	}
	t.Errorf("%s is not what is drawn now: %s; see %s, and -update when it is right", name, firstDifference(want, got), filepath.Base(fresh))
}

// firstDifference tells where two texts part.
func firstDifference(want, got []byte) string {
	a, b := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("line %d is %.160q, was %.160q", i+1, b[i], a[i])
		}
	}
	return fmt.Sprintf("%d lines, were %d", len(b), len(a))
}

// dumped are the sheets of one-loop that are kept mark by mark, pictured those that
// the README shows.
var (
	dumped   = []string{"loop-F-2107", "box-JB-21", "record-F-2107"}
	pictured = []string{"loop-F-2107", "box-JB-21", "cabinet-MC-2", "ringout-W-21", "record-F-2107", "index"}
)

// TestGoldenPages holds a few typical sheets against what was drawn before.
func TestGoldenPages(t *testing.T) {
	t.Parallel()
	r, err := readPlant("../../samples/one-loop")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for page := range layout.New(r.plant, false, nil).Pages() {
		if slices.Contains(pictured, page.Name) {
			var picture bytes.Buffer
			if err := svg.Write(&picture, page); err != nil {
				t.Fatal(err)
			}
			golden(t, filepath.Join("../../samples/one-loop", page.Name+".svg"), picture.Bytes())
		}
		if !slices.Contains(dumped, page.Name) {
			continue
		}
		seen++
		var dump bytes.Buffer
		if err := render.Dump(&dump, page); err != nil {
			t.Fatal(err)
		}
		golden(t, filepath.Join("testdata/golden", page.Name+".dump"), dump.Bytes())
	}
	if seen != len(dumped) {
		t.Errorf("%d of the sheets %q are drawn", seen, dumped)
	}
}

// TestReadmePictures draws the pictures of README as README says, with the tool.
func TestReadmePictures(t *testing.T) {
	t.Parallel()
	out := t.TempDir()
	var stderr bytes.Buffer
	if code := run(context.Background(), []string{"draw", "../../samples/one-loop", "-o", out, "--format", "svg"}, io.Discard, &stderr); code != fine {
		t.Fatalf("exit code %d\n%s", code, &stderr)
	}
	readme := readDocument(t, "README.md")
	for _, name := range pictured {
		got, err := os.ReadFile(filepath.Join(out, name+".svg"))
		if err != nil {
			t.Fatal(err)
		}
		want, err := os.ReadFile("../../samples/one-loop/" + name + ".svg")
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("samples/one-loop/%s.svg is not what the tool draws: go test ./cmd/... -run Golden -update", name)
		}
		if !strings.Contains(readme, "samples/one-loop/"+name+".svg") {
			t.Errorf("README does not show %s", name)
		}
	}
}
