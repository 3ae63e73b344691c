package lists

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ringout/layout/issue"
	"ringout/model"
	"ringout/model/read"
)

// samplePlant reads a plant of the samples, so that every list has a row.
func samplePlant(name string) *model.Plant {
	p, _, _ := read.Read(os.DirFS("../../../samples"), name)
	q, _, _ := read.Read(os.DirFS("../../../samples"), "ferry-cove")
	p.Loops[0].Devices = append(p.Loops[0].Devices, q.PartByTag["PIC-801"]) // an instrument of several circuits
	if p.Counted == nil {
		p.Counted = []*model.Counted{{Loop: p.Loops[0].Tag, Circuit: p.Loops[0].Circuits[0].Name, On: "JB-21/X1", Places: []string{"7", "10"}}}
	}
	return p
}

// TestWorkbook reads a workbook back cell by cell and compares it with the lists.
func TestWorkbook(t *testing.T) {
	t.Parallel()
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		if err := WriteWorkbook(b, samplePlant("tern-island"), issue.Issue{Mark: "0", Date: "2031-05-19"}, All); err != nil {
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
	var names []string
	for _, l := range All {
		names = append(names, l.Name)
	}
	if sheets := f.GetSheetList(); !slices.Equal(sheets, names) {
		t.Errorf("sheets are %s", sheets)
	}
	for _, l := range All {
		t.Run(l.Name, func(t *testing.T) {
			compareSheet(t, f, l, samplePlant("tern-island"))
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
func printsWell(t *testing.T, f *excelize.File, l List) {
	t.Helper()
	page, err := f.GetPageLayout(l.Name)
	if err != nil || *page.Orientation != "landscape" || *page.Size != 9 || *page.FitToWidth != 1 || *page.FitToHeight != 0 {
		t.Errorf("prints with %+v: %v", page, err)
	}
	if props, err := f.GetSheetProps(l.Name); err != nil || !*props.FitToPage {
		t.Errorf("is not fitted to the page: %v", err)
	}
	titles := ""
	for _, n := range f.GetDefinedName() {
		if n.Scope == l.Name && n.Name == "_xlnm.Print_Titles" {
			titles = n.RefersTo
		}
	}
	if want := l.Name + "!$A:$A," + l.Name + "!$1:$1"; titles != want {
		t.Errorf("repeats %q, not %q", titles, want)
	}
	foot, err := f.GetHeaderFooter(l.Name)
	if want := "&LTern Island Water Works&C" + l.Name + "&Rrevision 0 of 2031-05-19, page &P of &N"; err != nil || foot == nil || foot.OddFooter != want {
		t.Errorf("the foot is %+v, not %q: %v", foot, want, err)
	}
	style, err := f.GetCellStyle(l.Name, "A1")
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
	t.Parallel()
	p := samplePlant("one-loop")
	p.Name = "Smith & Sons " + strings.Repeat("&", 200)
	var b bytes.Buffer
	if err := WriteWorkbook(&b, p, issue.Issue{}, All[:1]); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	foot, err := f.GetHeaderFooter(All[0].Name)
	if want := "&LSmith && Sons …&Ccables&Rrevision NOT GIVEN, page &P of &N"; err != nil || foot.OddFooter != want {
		t.Errorf("the foot is %q, not %q: %v", foot.OddFooter, want, err)
	}
}

func compareSheet(t *testing.T, f *excelize.File, l List, p *model.Plant) {
	row, numbers := 1, 0
	l.Rows(p, func(cells ...any) {
		row++
		if len(cells) != len(l.Heads()) {
			t.Errorf("row %d has %d cells for %d heads", row, len(cells), len(l.Heads()))
		}
		for i, c := range cells {
			at, err := excelize.CoordinatesToCellName(i+1, row)
			if err != nil {
				t.Fatal(err)
			}
			got, err := f.GetCellValue(l.Name, at, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			kind, err := f.GetCellType(l.Name, at)
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
	if numbers == 0 && (l.Name == "cables" || l.Name == "readings" || l.Name == "io") {
		t.Error("no numbers")
	}
	panes, err := f.GetPanes(l.Name)
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("panes are %+v: %v", panes, err)
	}
	found := false
	for _, n := range f.GetDefinedName() {
		found = found || n.Scope == l.Name && strings.HasSuffix(n.Name, "_FilterDatabase") && strings.HasSuffix(n.RefersTo, "$"+strconv.Itoa(row))
	}
	if !found {
		t.Error("no filter over all rows")
	}
	if w, err := f.GetColWidth(l.Name, "A"); err != nil || w < leastColumn || w > mostColumn || w == 9.140625 {
		t.Errorf("column A is %v wide: %v", w, err)
	}
}
