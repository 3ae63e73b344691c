package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ringout/layout"
)

// TestWorkbook reads a workbook back cell by cell and compares it with the lists.
func TestWorkbook(t *testing.T) {
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		r, err := readPlant("../../samples/tern-island")
		if err != nil {
			t.Fatal(err)
		}
		newest, err := r.newest()
		if err != nil {
			t.Fatal(err)
		}
		if err := writeWorkbook(b, r.plant, newest, lists); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same plant gives other bytes the second time")
	}
	f, err := excelize.OpenReader(&first)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if names := strings.Join(f.GetSheetList(), " ") + " " + allLists; names != strings.Join(listNames(), " ") {
		t.Errorf("sheets are %s", names)
	}
	for _, l := range lists {
		t.Run(l.name, func(t *testing.T) {
			r, err := readPlant("../../samples/tern-island")
			if err != nil {
				t.Fatal(err)
			}
			compareSheet(t, f, l, r)
			printsWell(t, f, l)
		})
	}
	p, err := f.GetDocProps()
	if err != nil {
		t.Fatal(err)
	}
	if p.Title != "Tern Island Water Works" || p.Revision != "0" || p.Modified != "2031-05-19T00:00:00Z" || p.Creator != "M. Okafor" {
		t.Errorf("properties are %+v", p)
	}
}

// printsWell reads back how a list prints (ECMA-376 part 1, 18.3.1.63 and
// 18.3.1.46): A4 across, as wide as one page, heads and tags on each, with a foot.
func printsWell(t *testing.T, f *excelize.File, l list) {
	t.Helper()
	page, err := f.GetPageLayout(l.name)
	if err != nil || *page.Orientation != "landscape" || *page.Size != 9 || *page.FitToWidth != 1 || *page.FitToHeight != 0 {
		t.Errorf("prints with %+v: %v", page, err)
	}
	if props, err := f.GetSheetProps(l.name); err != nil || !*props.FitToPage {
		t.Errorf("is not fitted to the page: %v", err)
	}
	titles := ""
	for _, n := range f.GetDefinedName() {
		if n.Scope == l.name && n.Name == "_xlnm.Print_Titles" {
			titles = n.RefersTo
		}
	}
	if want := l.name + "!$A:$A," + l.name + "!$1:$1"; titles != want {
		t.Errorf("repeats %q, not %q", titles, want)
	}
	foot, err := f.GetHeaderFooter(l.name)
	if want := "&LTern Island Water Works&C" + l.name + "&Rrevision 0 of 2031-05-19, page &P of &N"; err != nil || foot == nil || foot.OddFooter != want {
		t.Errorf("the foot is %+v, not %q: %v", foot, want, err)
	}
	style, err := f.GetCellStyle(l.name, "A1")
	if err != nil {
		t.Fatal(err)
	}
	if face, err := f.GetStyle(style); err != nil || face.Font == nil || face.Font.Family != bookFace || !face.Font.Bold {
		t.Errorf("heads are set in %+v: %v", face, err)
	}
}

// TestFoot: signs of the format of a foot are letters in a name, and a name too
// long for a foot is cut between them.
func TestFoot(t *testing.T) {
	r, err := readPlant("../../samples/one-loop")
	if err != nil {
		t.Fatal(err)
	}
	r.plant.Name = "Smith & Sons " + strings.Repeat("&", 200)
	var b bytes.Buffer
	if err := writeWorkbook(&b, r.plant, layout.Issue{}, lists[:1]); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	foot, err := f.GetHeaderFooter(lists[0].name)
	if want := "&LSmith && Sons …&Ccables&Rrevision NOT GIVEN, page &P of &N"; err != nil || foot.OddFooter != want {
		t.Errorf("the foot is %q, not %q: %v", foot.OddFooter, want, err)
	}
}

func compareSheet(t *testing.T, f *excelize.File, l list, r *reading) {
	row, numbers := 1, 0
	l.rows(r.plant, func(cells ...any) {
		row++
		if len(cells) != len(l.heads) {
			t.Errorf("row %d has %d cells for %d heads", row, len(cells), len(l.heads))
		}
		for i, c := range cells {
			at, err := excelize.CoordinatesToCellName(i+1, row)
			if err != nil {
				t.Fatal(err)
			}
			got, err := f.GetCellValue(l.name, at, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			kind, err := f.GetCellType(l.name, at)
			if err != nil {
				t.Fatal(err)
			}
			// A number has no type or n, a text is shared (ECMA-376 part 1, 18.18.11).
			isText := kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString
			switch v := c.(type) {
			case string:
				if got != v || v != "" && !isText {
					t.Errorf("%s is %q, type %v, not the text %q", at, got, kind, v)
				}
			case int, float64, json.Number:
				numbers++
				n, err := strconv.ParseFloat(got, 64)
				if want, _ := strconv.ParseFloat(cellText(v), 64); err != nil || n != want || isText {
					t.Errorf("%s is %q, type %v, not the number %v", at, got, kind, v)
				}
			case nil:
				if got != "" {
					t.Errorf("%s is %q, not empty", at, got)
				}
			default:
				t.Errorf("%s is made of %T", at, c)
			}
		}
	})
	if row == 1 {
		t.Error("no rows")
	}
	if numbers == 0 && (l.name == "cables" || l.name == "readings" || l.name == "io") {
		t.Error("no numbers")
	}
	panes, err := f.GetPanes(l.name)
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("panes are %+v: %v", panes, err)
	}
	found := false
	for _, n := range f.GetDefinedName() {
		found = found || n.Scope == l.name && strings.HasSuffix(n.Name, "_FilterDatabase") && strings.HasSuffix(n.RefersTo, "$"+strconv.Itoa(row))
	}
	if !found {
		t.Error("no filter over all rows")
	}
	if w, err := f.GetColWidth(l.name, "A"); err != nil || w < leastColumn || w > mostColumn || w == 9.140625 {
		t.Errorf("column A is %v wide: %v", w, err)
	}
}

// TestWorkbookInOffice turns the first sheet into CSV with LibreOffice and
// compares it with ours.
func TestWorkbookInOffice(t *testing.T) {
	need(t, "soffice")
	dir := t.TempDir()
	file := filepath.Join(dir, "lists.xlsx")
	if code, _, stderr := ringoutRuns("list", "all", "../../samples/one-loop", "-o", file); code != fine {
		t.Fatal(stderr)
	}
	cmd := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to",
		"csv:Text - txt - csv (StarCalc):44,34,76,1", "--outdir", dir, file)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
	data, err := os.ReadFile(filepath.Join(dir, "lists.csv"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	_, ours, _ := ringoutRuns("list", lists[0].name, "../../samples/one-loop", "--as", "csv")
	want, err := csv.NewReader(strings.NewReader(ours)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != len(want) {
		t.Fatalf("%d rows, not %d", len(got), len(want))
	}
	for i := range want {
		for j := range want[i] {
			if got[i][j] != want[i][j] {
				t.Errorf("row %d, %s: %q, not %q", i+1, want[0][j], got[i][j], want[i][j])
			}
		}
	}
}
