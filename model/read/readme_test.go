package read

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/check"
	"ringout/model/finding"
)

// TestReadmeParts keeps the parts of the documents that are made from the model: the
// one-loop sample in the README, keys, colour codes and limits in LANGUAGE.md, the
// findings in FINDINGS.md. -update rewrites them.
func TestReadmeParts(t *testing.T) {
	t.Parallel()
	sample, err := os.ReadFile("../../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for document, parts := range map[string]map[string]string{
		"../../README.md": {"one-loop": "```yaml\n" + string(sample) + "```\n"},
		"FINDINGS.md":     {"findings": findingSections(t)},
		"LANGUAGE.md": {
			"codes": codeTable(), "limits": limitTable(),
			"keys of a plant": keyTable(plantFields), "keys of a practice": keyTable(practiceFields),
			"keys of a cable type": keyTable(cableTypeFields), "keys of a cable": keyTable(cableFields),
			"keys of a place": keyTable(placeFields), "keys of a strip": keyTable(stripFields), "keys of a card": keyTable(cardFields),
			"keys of a barrier": keyTable(barrierFields), "keys of a supply": keyTable(supplyFields),
			"keys of a loop": keyTable(loopFields), "keys of a device": keyTable(deviceFields), "keys of a function": keyTable(functionFields),
		},
	} {
		data, err := os.ReadFile(document)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		for name, part := range parts {
			open, end := "<!-- "+name+" -->\n", "<!-- /"+name+" -->"
			i, j := strings.Index(text, open), strings.Index(text, end)
			if i < 0 || j < i {
				t.Fatalf("%s has no part %s", document, name)
			}
			i += len(open)
			if text[i:j] != part && !*check.update {
				t.Errorf("the part %s of %s is stale: go test ./model -run Readme -update", name, document)
			}
			text = text[:i] + part + text[j:]
		}
		if *check.update && text != string(data) {
			if err := os.WriteFile(document, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
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
	for _, c := range model.Codes() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", c.Name, c.Source)
	}
	return b.String()
}

// findingSections lists every kind of finding in a table, then has a section for each,
// with the first message of the samples that bears it in its own severity.
func findingSections(t *testing.T) string {
	printed := finding.printedFindings(t)
	var table, sections strings.Builder
	table.WriteString("| code | | means |\n|---|---|---|\n")
	for _, k := range finding.FindingKinds() {
		severity := k.Severity.String()
		if k.Milder != "" {
			severity += ", or warning " + k.Milder
		}
		fmt.Fprintf(&table, "| [`%s`](#%s) | %s | %s |\n", k.Code, k.Code, severity, k.Means)
		fmt.Fprintf(&sections, "\n## %s\n\n%s\n", k.Code, k.When)
		if i := slices.IndexFunc(printed[k.Code], func(p finding.printedFinding) bool { return p.severity == k.Severity }); i >= 0 {
			fmt.Fprintf(&sections, "\n> %s\n", printed[k.Code][i].text)
		}
		before, after := k.Example()
		fmt.Fprintf(&sections, "\nBefore:\n\n```yaml\n%s\n```\n\nAfter:\n\n```yaml\n%s\n```\n", strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
	return table.String() + sections.String()
}
