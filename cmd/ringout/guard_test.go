package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ringout/model/tables"
	"ringout/samples"
)

// TestCSVInOffice has LibreOffice read a file of ours with all separators at once
// and every formula reckoned: there is none.
func TestCSVInOffice(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "soffice")
	dir := t.TempDir()
	rows := [][]string{{"text"}, {"=1+1"}, {"a;=1+1"}, {"-1+2"}, {"+A1"}, {"@SUM(1)"}, {"\t=1+1"}, {"-24 V"}, {"+"}, {"+ - S"}}
	file := filepath.Join(dir, "texts.csv")
	for _, guards := range []bool{false, true} {
		var b bytes.Buffer
		if guards {
			if _, err := tables.WriteCSV(&b, rows); err != nil {
				t.Fatal(err)
			}
		} else if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
			"--infilter=Text - txt - csv (StarCalc):44/59/9,34,76,1,,0,false,true,false,false,false,-1,true", "--convert-to", "xlsx", "--outdir", dir, file)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("soffice: %v\n%s", err, out)
		}
		f, err := excelize.OpenFile(filepath.Join(dir, "texts.xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		sheet, formulas := f.GetSheetName(0), 0
		for row := range len(rows) + 3 {
			for _, column := range "ABC" {
				if got, err := f.GetCellFormula(sheet, string(column)+string(rune('1'+row%9))); err != nil {
					t.Fatal(err)
				} else if got != "" {
					formulas++
				}
			}
		}
		f.Close()
		if (formulas == 0) != guards {
			t.Errorf("%d formulas, guarded %t", formulas, guards)
		}
	}
}

// TestOneWriterOfCSV: no other code writes CSV.
func TestOneWriterOfCSV(t *testing.T) {
	t.Parallel()
	for _, file := range sourceFiles(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte("csv.NewWriter")) && file != filepath.Join("lists", "csv.go") {
			t.Errorf("%s writes CSV itself, not with writeCSV", file)
		}
	}
}

// TestLabelsGuarded: labels that begin like a formula are harmless in the CSV, and
// it is told that they have an apostrophe more.
func TestLabelsGuarded(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	text, err := os.ReadFile("../../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "plant.yaml")
	if err := os.WriteFile(file, bytes.ReplaceAll(text, []byte("W-2107"), []byte("=W.7")), 0o666); err != nil {
		t.Fatal(err)
	}
	code, _, stderr := ringoutRuns("labels", file, "--format", "csv", "-o", dir)
	if code != fine || !strings.Contains(stderr, "got an apostrophe in front") {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	data, err := os.ReadFile(filepath.Join(dir, "plant-labels.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte("'=W.7")) || regexp.MustCompile(`(?m)(^|[,;"])=W`).Match(data) {
		t.Errorf("the labels are\n%s", data)
	}
}
