package layout

import (
	"flag"
	"os"
	"strings"
	"testing"

	"ringout/layout/label"
	"ringout/model/check"
	"ringout/model/material"
	"ringout/model/read"
)

var update = flag.Bool("update", false, "write what is found into findings.txt")

// TestCrowded compares what the sheets and the labels of testdata/crowded find with what
// they found before: what only paper can tell.
func TestCrowded(t *testing.T) {
	t.Parallel()
	p, sources, problems := read.Read(os.DirFS("testdata"), "crowded")
	if problems = append(problems, check.Check(p)...); problems.Errors() > 0 {
		t.Fatal(problems)
	}
	plan := New(p, false, nil)
	for _, found := range plan.Pages() {
		problems = append(problems, found...)
	}
	_, found := label.Sheets(plan, "labels", material.Labels(p), false)
	var b strings.Builder
	if err := append(problems, found...).Sort().Print(&b, sources); err != nil {
		t.Fatal(err)
	}
	const file = "testdata/crowded/findings.txt"
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want, err := os.ReadFile(file); err != nil || string(want) != b.String() {
		t.Errorf("%v: found\n%s\nwant\n%s", err, b.String(), want)
	}
}
