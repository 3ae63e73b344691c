package finding_test

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/finding"
	"ringout/model/read"
	"ringout/samples"
)

var update = flag.Bool("update", false, "rewrite FINDINGS.md and the sample of mistakes")

// again is the command that rewrites what is made from the kinds of findings.
const again = "go test ./model/finding -run Readme -update"

// TestReadmeParts keeps FINDINGS.md, which is made from the kinds of findings and their
// examples. -update rewrites it.
func TestReadmeParts(t *testing.T) {
	t.Parallel()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	samples.Document(t, "FINDINGS.md", map[string]string{"findings": findingSections(all)}, *update, again)
}

// findingSections lists every kind of finding in a table, then has a section for each,
// with the first message of its example.
func findingSections(all []example) string {
	var table, sections strings.Builder
	table.WriteString("| code | | means |\n|---|---|---|\n")
	for _, e := range all {
		k := e.kind
		severity := k.Severity.String()
		if k.Milder != "" {
			severity += ", or warning " + k.Milder
		}
		fmt.Fprintf(&table, "| [`%s`](#%s) | %s | %s |\n", k.Code, k.Code, severity, k.Means)
		fmt.Fprintf(&sections, "\n## %s\n\n%s\n", k.Code, k.When)
		if len(e.bearing) > 0 {
			fmt.Fprintf(&sections, "\n> %s\n", e.bearing[0].Text)
		}
		before, after := k.Example()
		language := "yaml"
		if k.In == finding.Lists {
			language = "csv"
		}
		fmt.Fprintf(&sections, "\nBefore:\n\n```%s\n%s\n```\n\nAfter:\n\n```%[1]s\n%[3]s\n```\n", language, strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
	return table.String() + sections.String()
}

// TestReadmeMistakes keeps the sample of mistakes, which has the example of each kind as a
// small plant in a folder of that name, and what ringout check prints of them all in
// findings.txt. -update rewrites it.
func TestReadmeMistakes(t *testing.T) {
	t.Parallel()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	want := fstest.MapFS{}
	var printed bytes.Buffer
	for _, e := range all {
		if !e.sampled() {
			continue
		}
		maps.Copy(want, e.before)
		if err := e.found.Print(&printed, e.sources); err != nil {
			t.Fatal(err)
		}
	}
	want["mistakes/findings.txt"] = &fstest.MapFile{Data: printed.Bytes()}
	hold(t, "../../samples", "mistakes", want)
}

// sampled reports whether the example is one for the sample of mistakes: a plant of
// plain files in which ringout check finds it.
func (e example) sampled() bool {
	plant := false
	for name, file := range e.before {
		plant = plant || read.IsPlantFile(path.Base(name))
		if !file.Mode.IsRegular() {
			return false
		}
	}
	return plant && len(bearing(e.kind, e.found)) > 0
}

// headed puts a comment into the first file of a plant that says what is wrong with it.
func headed(k *finding.Kind, text string) string {
	name, rest, _ := strings.Cut(text, "\n")
	head := "# " + k.Code + ": " + k.Means + ".\n#\n"
	line := "#"
	for _, word := range strings.Fields(k.When) {
		if len(line)+1+len(word) > 80 {
			head += line + "\n"
			line = "#"
		}
		line += " " + word
	}
	return name + "\n" + head + line + "\n\n" + rest
}

// hold holds a folder of root against the files that it should have; with -update it
// writes them, and removes all others.
func hold(t *testing.T, root, folder string, want fstest.MapFS) {
	t.Helper()
	there := map[string]bool{}
	err := fs.WalkDir(os.DirFS(root), folder, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			there[name] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range slices.Sorted(maps.Keys(there)) {
		file := filepath.Join(root, name)
		if want[name] != nil {
			continue
		} else if !*update {
			t.Errorf("%s is of no example: %s", file, again)
		} else if err := os.Remove(file); err != nil {
			t.Error(err)
		} else {
			os.Remove(filepath.Dir(file)) // where it is empty now
		}
	}
	for _, name := range slices.Sorted(maps.Keys(want)) {
		file := filepath.Join(root, name)
		if data, err := os.ReadFile(file); err == nil && bytes.Equal(data, want[name].Data) {
			continue
		} else if !*update {
			t.Errorf("%s is stale: %s", file, again)
		} else if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Error(err)
		} else if err := os.WriteFile(file, want[name].Data, 0o644); err != nil {
			t.Error(err)
		}
	}
}
