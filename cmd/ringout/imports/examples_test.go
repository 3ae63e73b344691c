package imports

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ringout/model/finding"
	"ringout/samples"
)

var update = flag.Bool("update", false, "rewrite testdata/findings.txt")

// bookOf makes a workbook of lists that each begin with a line "-- SHEET --".
func bookOf(t *testing.T, text string) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for i, list := range strings.Split("\n"+strings.TrimSpace(text), "\n-- ")[1:] {
		name, rows, _ := strings.Cut(list, " --\n")
		if i == 0 {
			if err := f.SetSheetName(f.GetSheetName(0), name); err != nil {
				t.Fatal(err)
			}
		} else if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for n, row := range strings.Split(rows, "\n") {
			for c, cell := range strings.Split(row, ",") {
				at, err := excelize.CoordinatesToCellName(c+1, n+1)
				if err == nil {
					err = f.SetCellValue(name, at, cell)
				}
				if err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	file := filepath.Join(t.TempDir(), "lists.xlsx")
	if err := f.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestExamples runs the example of every kind of finding of lists: those that are mended
// have none, and those that are not have this one. What they print is kept.
func TestExamples(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../../../model/finding/testdata/examples/lists.txt")
	if err != nil {
		t.Fatal(err)
	}
	base := string(data)
	found := func(text string) string {
		file := bookOf(t, text)
		_, _, told := imported(t, filepath.Join(t.TempDir(), "out"), "", file)
		return strings.ReplaceAll(told, filepath.Dir(file)+"/", "")
	}
	if told := found(base); told != "" {
		t.Errorf("the lists of the examples: %s", told)
	}
	var all strings.Builder
	for _, k := range finding.Kinds() {
		if k.In != finding.Lists {
			continue
		}
		before, err := samples.ReplaceLines(base, k.After, k.Before)
		if err != nil {
			t.Errorf("%s: %v", k.Code, err)
			continue
		}
		told := found(before)
		if !strings.Contains(told, "["+k.Code+"]") {
			t.Errorf("%s, before: %s", k.Code, told)
		}
		all.WriteString(told)
	}
	const golden = "testdata/findings.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(all.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if want, err := os.ReadFile(golden); err != nil || string(want) != all.String() {
		t.Errorf("printed is\n%s\nnot\n%s%v", all.String(), want, err)
	}
}
