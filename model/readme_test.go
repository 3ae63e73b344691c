package model

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const readme = "../README.md"

// TestReadmeParts keeps the parts of the README that are made from the model:
// the one-loop sample, the keys, the colour codes, the findings. -update
// rewrites them.
func TestReadmeParts(t *testing.T) {
	t.Parallel()
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
		"limits":   limitTable(),

		"keys of a plant": keyTable(plantFields), "keys of a practice": keyTable(practiceFields),
		"keys of a cable type": keyTable(cableTypeFields), "keys of a cable": keyTable(cableFields),
		"keys of a place": keyTable(placeFields), "keys of a strip": keyTable(stripFields), "keys of a card": keyTable(cardFields),
		"keys of a barrier": keyTable(barrierFields), "keys of a supply": keyTable(supplyFields),
		"keys of a loop": keyTable(loopFields), "keys of a device": keyTable(deviceFields), "keys of a function": keyTable(functionFields),
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

// keyTable has a row for each key; keys that differ in nothing but the example
// share one.
func keyTable[T any](fs fields[T]) string {
	heads := []string{"key", "type", "default", "what it is", "example"}
	if !slices.ContainsFunc(fs, func(f field[T]) bool { return f.example != "" }) {
		heads = heads[:4]
	}
	var b strings.Builder
	b.WriteString("| " + strings.Join(heads, " | ") + " |\n" + strings.Repeat("|---", len(heads)) + "|\n")
	for i := 0; i < len(fs); {
		f := fs[i]
		var keys, examples []string
		for ; i < len(fs) && fs[i].is.words == f.is.words && fs[i].without == f.without && fs[i].told() == f.told(); i++ {
			keys = append(keys, "`"+fs[i].name+"`")
			if e := "`" + fs[i].example + "`"; e != "``" && !slices.Contains(examples, e) {
				examples = append(examples, e)
			}
		}
		cells := []string{strings.Join(keys, ", "), f.is.words, f.without, f.told(), strings.Join(examples, ", ")}
		row := "| " + strings.Join(cells[:len(heads)], " | ") + " |\n"
		b.WriteString(strings.ReplaceAll(row, "|  |", "| |"))
	}
	return b.String()
}

func limitTable() string {
	var b strings.Builder
	b.WriteString("| at most | |\n|---|---|\n")
	for _, l := range limits {
		fmt.Fprintf(&b, "| %d | %s |\n", l.most, l.of)
	}
	return b.String()
}

func codeTable() string {
	var b strings.Builder
	b.WriteString("| code | after |\n|---|---|\n")
	for _, c := range Codes() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", c.Name, c.Source)
	}
	return b.String()
}

// findingTable lists every kind of finding with the first message that bears it in its own severity.
func findingTable(t *testing.T) string {
	printed := printedFindings(t)
	var b strings.Builder
	b.WriteString("| code | | means | for example |\n|---|---|---|---|\n")
	for _, k := range FindingKinds() {
		severity := k.Severity.String()
		if k.Milder != "" {
			severity += ", or warning " + k.Milder
		}
		example := ""
		if i := slices.IndexFunc(printed[k.Code], func(p printedFinding) bool { return p.severity == k.Severity }); i >= 0 {
			example = strings.ReplaceAll(printed[k.Code][i].text, "|", "\\|")
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", k.Code, severity, k.Means, example)
	}
	return b.String()
}

// TestKeys finds the keys in the source of the reader: each has to be in the
// README and in the schema.
func TestKeys(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	schema, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	key := regexp.MustCompile(`(?m)^\t(?:\{|entityValue\()"([^"]+)", .*, (?:func\(|groupCount\()`)
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
			if !strings.Contains(string(schema), fmt.Sprintf("%q: {\n", m[1])) {
				t.Errorf("the schema does not know the key %s (%s)", m[1], f)
			}
		}
	}
	if found < 160 {
		t.Errorf("only %d keys found: the pattern of this test is stale", found)
	}
}
