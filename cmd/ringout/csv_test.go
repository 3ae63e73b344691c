package main

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ringout/layout"
)

// TestGuard: the first seven signs are those of OWASP, "CSV Injection", the wide
// ones too. What stays as it is is a number or a sign alone.
func TestGuard(t *testing.T) {
	for _, c := range []struct{ text, cell string }{
		{"=1+1", "'=1+1"}, {"+A1", "'+A1"}, {"-2+3+cmd|' /C calc'!D2", "'-2+3+cmd|' /C calc'!D2"}, {"@SUM(1)", "'@SUM(1)"},
		{"\tx", "'\tx"}, {"\rx", "'\rx"}, {"\nx", "'\nx"}, {"＝1", "'＝1"}, {"＋1", "'＋1"}, {"－A", "'－A"}, {"＠A", "'＠A"},
		{" =1", "' =1"}, {"\u00A0=1", "'\u00A0=1"}, {"\u200B=1", "'\u200B=1"}, {"'=1", "''=1"}, {"\t'=1", "'\t''=1"},
		{"a;=1", "a;'=1"}, {`a",=1`, `a",'=1`}, {"a\t=1", "a\t'=1"}, {"a; -b; @c", "a;' -b;' @c"}, {`"=1"`, `"'=1"`},
		{"+ - S", "'+ - S"}, {"+>-", "'+>-"}, {"-1+A1", "'-1+A1"}, {"-A1", "'-A1"}, {"-5*A1", "'-5*A1"}, {"-(1)", "'-(1)"}, {"+1 A!B", "'+1 A!B"},
		{"-", "-"}, {"+", "+"}, {"+ -", "+ -"}, {"-24 V", "-24 V"}, {"-24V", "-24V"}, {"+0.5", "+0.5"}, {"-1.5e-3", "-1.5e-3"},
		{"-5..50 °C", "-5..50 °C"}, {"-0.5..+1.5 m3/h", "-0.5..+1.5 m3/h"}, {"-5 %", "'-5 %"}, {"-5%", "-5%"},
		{"'-24 V", "'-24 V"}, {"'a'", "'a'"}, {"a=b", "a=b"}, {"W-21-3a", "W-21-3a"}, {"", ""},
	} {
		if got := guard(c.text); got != c.cell {
			t.Errorf("%q is written %q, not %q", c.text, got, c.cell)
		}
		if got := unguard(guard(c.text)); got != c.text {
			t.Errorf("%q comes back as %q", c.text, got)
		}
	}
}

// oddText is made of what matters to spreadsheets.
func oddText(w *rand.Rand) string {
	signs := []string{"=", "+", "-", "@", "\t", "\r", "\n", "'", `"`, ";", ",", " ", "＝", "\u00A0", "A1", "7", "cmd|", "_x0041_x0042_", "(", "5 V", "..", "é", "|"}
	var b strings.Builder
	for range w.IntN(9) {
		b.WriteString(signs[w.IntN(len(signs))])
	}
	return regexp.MustCompile("\r+\n").ReplaceAllString(b.String(), "\n") // a reader of CSV takes these for the same
}

// bare is how a formula begins, written another way than in guard.
func bare(cell string) bool {
	cell = strings.TrimLeft(cell, " \u00A0")
	return cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") || strings.HasPrefix(cell, "＝")
}

// TestCSVTexts writes random texts, parts the file in every way that a program
// may, also one that knows no quotes, and finds no cell that begins as a formula
// but for whole cells that are harmless. Import reads the very same texts.
func TestCSVTexts(t *testing.T) {
	w := rand.New(rand.NewPCG(1, 2))
	call := regexp.MustCompile(`[(!|@=*^&<>]|[+-] *[A-Za-z]`) // a function, another sheet or program, a name
	for range 3000 {
		rows := [][]string{{"cable", "type", "from", "to", oddText(w)}}
		for range 1 + w.IntN(3) {
			rows = append(rows, []string{"W-1", oddText(w), oddText(w), oddText(w), oddText(w)})
		}
		var b bytes.Buffer
		if _, err := writeCSV(&b, rows); err != nil {
			t.Fatal(err)
		}
		cells := regexp.MustCompile(`[,;\t\r\n"]`).Split(b.String(), -1)
		var whole []string
		for _, row := range rows {
			whole = append(whole, row...)
		}
		for _, c := range cells {
			if bare(c) && (!slices.Contains(whole, c) || call.MatchString(c)) {
				t.Fatalf("the cell %q stands bare in\n%s", c, b.String())
			}
		}
		got, err := readCSV("cables.csv", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		read := [][]string{got.heads}
		for _, r := range got.rows {
			read = append(read, r.cells)
		}
		if !slices.EqualFunc(read, rows, slices.Equal) {
			t.Fatalf("reads\n%q\nfor\n%q", read, rows)
		}
	}
}

// oddPlant is the water works with texts that begin like formulas wherever a
// text is free.
func oddPlant(t *testing.T) *reading {
	t.Helper()
	r, err := readPlant("../../samples/tern-island")
	if err != nil {
		t.Fatal(err)
	}
	w := rand.New(rand.NewPCG(3, 4))
	odd := func() string { return strings.TrimSpace("=" + strings.Join(strings.Fields(oddText(w)), " ")) }
	p := r.plant
	p.Name, p.Owner = odd(), "+"+odd()
	for _, c := range p.Cables {
		c.Tag, c.Route = odd(), "-"+odd()
	}
	for _, pl := range p.Places {
		var names []string
		for _, x := range pl.Parts {
			names = append(names, x.Name())
		}
		pl.Tag, pl.At = odd(), odd()
		for i, x := range pl.Parts {
			if x.Tag = pl.Tag + "/" + names[i]; x.Name() != names[i] {
				x.Tag = "@" + odd()
			}
		}
	}
	for _, l := range p.Loops {
		l.Tag, l.Service, l.Area, l.Notes = odd(), odd(), odd(), append(l.Notes, odd(), "'"+odd())
		for _, d := range l.Devices {
			d.Tag = "+" + odd()
		}
		for _, f := range l.Functions {
			f.Tag, f.Set = "-"+odd(), odd()
		}
	}
	return r
}

// TestListsGuarded: every list of a plant full of such texts is read back as the
// very cells that were written, from CSV and from a workbook, and no cell of the
// workbook is a formula.
func TestListsGuarded(t *testing.T) {
	r := oddPlant(t)
	var book bytes.Buffer
	if err := writeWorkbook(&book, r.plant, layout.Issue{}, lists); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&book)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, l := range lists {
		want := [][]string{l.heads}
		l.rows(r.plant, func(cells ...any) {
			row := make([]string, len(cells))
			for i, c := range cells {
				row[i] = cellText(c)
			}
			want = append(want, row)
		})
		var b bytes.Buffer
		if err := l.write(&b, r.plant, "csv"); err != nil {
			t.Fatal(err)
		}
		raw, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range raw {
			for j, c := range row {
				if bare(c) && strings.ContainsAny(c, "=(@") {
					t.Errorf("list %s, row %d, %s: %q stands bare", l.name, i+1, l.heads[j], c)
				}
			}
		}
		got, err := readCSV(l.name+".csv", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range got.rows {
			if !slices.Equal(row.cells, want[i+1]) {
				t.Fatalf("list %s, row %d reads\n%q\nfor\n%q", l.name, i+2, row.cells, want[i+1])
			}
		}
		compareSheet(t, f, l, r)
		for i := range want {
			for j := range want[i] {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				if err != nil {
					t.Fatal(err)
				}
				if formula, err := f.GetCellFormula(l.name, at); err != nil || formula != "" {
					t.Fatalf("list %s: %s is the formula %q: %v", l.name, at, formula, err)
				}
			}
		}
	}
}

// TestCSVInOffice has LibreOffice read a file of ours with all separators at once
// and every formula reckoned: there is none.
func TestCSVInOffice(t *testing.T) {
	need(t, "soffice")
	dir := t.TempDir()
	rows := [][]string{{"text"}, {"=1+1"}, {"a;=1+1"}, {"-1+2"}, {"+A1"}, {"@SUM(1)"}, {"\t=1+1"}, {"-24 V"}, {"+"}, {"+ - S"}}
	file := filepath.Join(dir, "texts.csv")
	for _, guards := range []bool{false, true} {
		var b bytes.Buffer
		if guards {
			if _, err := writeCSV(&b, rows); err != nil {
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
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte("csv.NewWriter")) && file != "csv.go" && !strings.HasSuffix(file, "_test.go") {
			t.Errorf("%s writes CSV itself, not with writeCSV", file)
		}
	}
}

// TestLabelsGuarded: labels that begin like a formula are harmless in the CSV, and
// it is told that they have an apostrophe more.
func TestLabelsGuarded(t *testing.T) {
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
	if code != fine || !strings.Contains(stderr, "an apostrophe goes before") {
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
