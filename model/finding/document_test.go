package finding

import (
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"

	"ringout/samples"
)

var update = flag.Bool("update", false, "rewrite FINDINGS.md")

// TestReadmeParts keeps FINDINGS.md, which is made from the kinds of findings. -update
// rewrites it.
func TestReadmeParts(t *testing.T) {
	t.Parallel()
	samples.Document(t, "FINDINGS.md", map[string]string{"findings": findingSections(t)}, *update, "go test ./model/finding -run Readme -update")
}

// findingSections lists every kind of finding in a table, then has a section for each,
// with the first message of the samples that bears it in its own severity.
func findingSections(t *testing.T) string {
	printed := printedFindings(t)
	var table, sections strings.Builder
	table.WriteString("| code | | means |\n|---|---|---|\n")
	for _, k := range Kinds() {
		severity := k.Severity.String()
		if k.Milder != "" {
			severity += ", or warning " + k.Milder
		}
		fmt.Fprintf(&table, "| [`%s`](#%s) | %s | %s |\n", k.Code, k.Code, severity, k.Means)
		fmt.Fprintf(&sections, "\n## %s\n\n%s\n", k.Code, k.When)
		if i := slices.IndexFunc(printed[k.Code], func(p printedFinding) bool { return p.severity == k.Severity }); i >= 0 {
			fmt.Fprintf(&sections, "\n> %s\n", printed[k.Code][i].text)
		}
		before, after := k.Example()
		fmt.Fprintf(&sections, "\nBefore:\n\n```yaml\n%s\n```\n\nAfter:\n\n```yaml\n%s\n```\n", strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
	return table.String() + sections.String()
}
