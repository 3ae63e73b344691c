package model

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const readme = "../README.md"

// TestReadmeParts keeps the parts of the README that are made from the model:
// the one-loop sample, the colour codes, the findings. -update rewrites them.
func TestReadmeParts(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	sample, err := os.ReadFile("../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for name, part := range map[string]string{
		"one-loop": "```yaml\n" + string(sample) + "```\n",
		"codes":    codeTable(),
		"findings": findingTable(t),
	} {
		open, end := "<!-- "+name+" -->\n", "<!-- /"+name+" -->"
		i, j := strings.Index(text, open), strings.Index(text, end)
		if i < 0 || j < i {
			t.Fatalf("README.md has no part %s", name)
		}
		i += len(open)
		if text[i:j] == part {
			continue
		}
		if !*update {
			t.Errorf("the part %s of README.md is stale: go test ./model -update", name)
			continue
		}
		text = text[:i] + part + text[j:]
	}
	if *update && text != string(data) {
		if err := os.WriteFile(readme, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func codeTable() string {
	var b strings.Builder
	b.WriteString("| code | after |\n|---|---|\n")
	for _, c := range Codes() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", c.Name, c.Source)
	}
	return b.String()
}

// findingTable lists every code with the first message that bears it.
func findingTable(t *testing.T) string {
	headline := regexp.MustCompile(`(?m)^\S+?(?::\d+)?(?::\d+)?: (warning: )?(.*) \[([a-z-]+)\]$`)
	seen := map[string]string{}
	for _, file := range []string{"../samples/mistakes/findings.txt", "testdata/findings.txt"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range headline.FindAllStringSubmatch(string(data), -1) {
			if seen[m[3]] == "" {
				seen[m[3]] = fmt.Sprintf("| `%s` | %s | %s |\n", m[3], map[bool]string{true: "warning", false: "error"}[m[1] != ""], strings.ReplaceAll(m[2], "|", "\\|"))
			}
		}
	}
	var b strings.Builder
	b.WriteString("| code | | for example |\n|---|---|---|\n")
	for _, code := range sortedKeys(seen) {
		b.WriteString(seen[code])
	}
	return b.String()
}

// TestReadmeKeys holds the README against the reader: every key that may be
// written is explained.
func TestReadmeKeys(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("read*.go")
	if err != nil {
		t.Fatal(err)
	}
	key := regexp.MustCompile(`field\{"([^"]+)"`)
	found := 0
	for _, f := range files {
		source, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range key.FindAllStringSubmatch(string(source), -1) {
			found++
			if !strings.Contains(string(data), "`"+m[1]+"`") {
				t.Errorf("README.md does not explain the key %s (%s)", m[1], f)
			}
		}
	}
	if found < 80 {
		t.Errorf("only %d keys found: the pattern of this test is stale", found)
	}
}
