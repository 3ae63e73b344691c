package read

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"ringout/model"
	"ringout/model/finding"
)

// alike is the plant of examples/like.yaml without its rows.
func alike(t *testing.T) (text string, heads []string, rows [][]string) {
	t.Helper()
	data, err := os.ReadFile("../finding/testdata/examples/like.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text, list, ok := strings.Cut(string(data), "    rows:\n")
	if !ok {
		t.Fatal("the plant has another form")
	}
	for _, m := range regexp.MustCompile(`\{(.*)\}`).FindAllStringSubmatch(list, -1) {
		heads = nil
		var row []string
		for _, cell := range strings.Split(m[1], ", ") {
			head, value, _ := strings.Cut(cell, ": ")
			heads, row = append(heads, head), append(row, value)
		}
		rows = append(rows, row)
	}
	return text, heads, rows
}

// workbook is a workbook with one sheet of cells.
func workbook(t *testing.T, sheets map[string][][]string) []byte {
	t.Helper()
	f := excelize.NewFile()
	for _, name := range model.SortedKeys(sheets) {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for i, row := range sheets[name] {
			for j, cell := range row {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				if err == nil {
					err = f.SetCellStr(name, at, cell)
				}
				if err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	b, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func csvOf(rows [][]string, sign string) string {
	var b strings.Builder
	for _, row := range rows {
		b.WriteString(strings.Join(row, sign) + "\n")
	}
	return b.String()
}

// digests are those of all things of a plant that rows make.
func digests(p *model.Plant) map[string]model.Digest {
	all := map[string]model.Digest{}
	for of, sum := range p.Texts {
		if of != "" && of != "rows" {
			all[of] = sum
		}
	}
	return all
}

// TestRowsOfTables: the same rows as CSV in every form that spreadsheets write, and as a
// workbook, make the same loops.
func TestRowsOfTables(t *testing.T) {
	t.Parallel()
	text, heads, rows := alike(t)
	whole := slices.Concat([][]string{heads}, rows)
	quoted := [][]string{}
	for _, row := range whole {
		var cells []string
		for _, c := range row {
			cells = append(cells, `"`+c+`"`)
		}
		quoted = append(quoted, cells)
	}
	data, err := os.ReadFile("../finding/testdata/examples/like.yaml")
	if err != nil {
		t.Fatal(err)
	}
	want, _, found := Read(fstest.MapFS{"p.yaml": {Data: data}}, "p.yaml")
	if len(found) > 0 || len(want.Loops) != 3 {
		t.Fatal(found)
	}
	for name, table := range map[string][]byte{
		"a.csv": []byte(csvOf(whole, ",")), "semicolons.CSV": []byte(csvOf(whole, ";")), "tabs.csv": []byte(csvOf(whole, "\t")),
		"mark.csv": []byte("\uFEFF" + csvOf(quoted, ";")), "sub/lines.csv": []byte(strings.ReplaceAll("\n"+csvOf(whole, ","), "\n", "\r\n")),
		"book.xlsx": workbook(t, map[string][][]string{"Rows": whole}),
	} {
		files := fstest.MapFS{"p/a.yaml": {Data: []byte(text + "    rows: " + name + "\n")}, "p/" + name: {Data: table}}
		p, _, found := Read(files, "p")
		if len(found) > 0 {
			t.Errorf("%s: %v", name, found)
		}
		got, want := digests(p), digests(want)
		for of := range want {
			if of == "" || strings.HasPrefix(of, "cabinet") {
				continue
			}
			if got[of] != want[of] {
				t.Errorf("%s: %s is another", name, of)
			}
		}
	}
}

// TestRowsArePlaced: what is wrong in a cell is told at that cell, be it of a CSV file or
// of a workbook, with the line of the pattern; what is wrong in the pattern, there.
func TestRowsArePlaced(t *testing.T) {
	t.Parallel()
	text, heads, rows := alike(t)
	col := slices.Index(heads, "length")
	rows[1][col] = "25 n"
	whole := slices.Concat([][]string{heads}, rows)
	line := func(of string) int { return strings.Count(text[:strings.Index(text, of)], "\n") + 1 }
	for name, c := range map[string]struct {
		table []byte
		want  string
	}{
		"a.csv":     {[]byte(csvOf(whole, ",")), "p/a.csv:3:19"},
		"q.csv":     {[]byte("\uFEFF" + strings.Replace(csvOf(whole, ";"), "25 n", `"25 n"`, 1)), "p/q.csv:3:20"},
		"book.xlsx": {workbook(t, map[string][][]string{"Flow, north": whole}), "p/book.xlsx:Flow, north!C3"},
	} {
		files := fstest.MapFS{"p/a.yaml": {Data: []byte(text + "    rows: " + name + "\n")}, "p/" + name: {Data: c.table}}
		_, sources, found := Read(files, "p")
		if len(found) != 1 || found[0].Code != finding.UnknownUnit.Code || found[0].Pos.String() != c.want {
			t.Errorf("%s: %v, not at %s", name, found, c.want)
			continue
		}
		if also := found[0].Also; len(also) != 1 || also[0].Pos.File != "p/a.yaml" || also[0].Pos.Line != line("<length>") {
			t.Errorf("%s: also %v", name, also)
		}
		var b bytes.Buffer
		if err := found.Print(&b, sources); err != nil || strings.HasSuffix(name, "csv") && !strings.Contains(b.String(), "| 102") {
			t.Errorf("%s: %v\n%s", name, err, b.String())
		}
	}
	spoilt := strings.Replace(text, "lift-off: 10.5 V", "lift-of: 10.5 V", 1)
	rows[1][col] = "25 m"
	_, _, found := Read(fstest.MapFS{"p/a.yaml": {Data: []byte(spoilt + "    rows: a.csv\n")}, "p/a.csv": {Data: []byte(csvOf(slices.Concat([][]string{heads}, rows), ","))}}, "p")
	if len(found) != 1 || found[0].Pos.Line != line("lift-off") || found[0].Also[0].Pos.String() != "p/a.csv:2:1" || !strings.HasSuffix(found[0].Text, "(and in 2 more rows)") {
		t.Errorf("a key of the pattern: %v", found)
	}
}

// TestTablesRefused: each table that cannot be read is told, and nothing is made of it.
func TestTablesRefused(t *testing.T) {
	t.Parallel()
	text, heads, rows := alike(t)
	good := slices.Concat([][]string{heads}, rows)
	csv := csvOf(good, ",")
	two := workbook(t, map[string][][]string{"A": good, "B": good})
	for name, c := range map[string]struct {
		rows, code, says string
		table            []byte
	}{
		"no file":           {"b.csv", "bad-table", "cannot be read", nil},
		"no table":          {"a.txt", "bad-table", "is no table", nil},
		"outside":           {"../a.csv", "bad-table", "is no table", nil},
		"empty":             {"a.csv", "bad-table", "is empty", []byte("\n")},
		"an older workbook": {"a.xlsx", "bad-table", "of an older form", []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")},
		"Latin-1":           {"a.csv", "bad-table", "read as Latin-1", []byte(strings.Replace(csv, "Inlet", "Inl\xe9t", 1))},
		"no workbook":       {"a.xlsx", "bad-table", "is not a workbook", []byte(csv)},
		"two sheets":        {"a.xlsx", "bad-table", "has 2 sheets", two},
		"another sheet":     {"a.xlsx sheet C", "bad-table", "has no sheet", two},
		"no column":         {"a.csv", "unfilled-blank", `has no column "length"`, []byte(strings.Replace(csv, "length", "", 1))},
		"columns alike":     {"a.csv", "key-twice", "two columns", []byte(strings.Replace(csv, "length", "pair", 1))},
		"no head":           {"a.csv", "bad-table", "has no head", []byte(csv + "104,Level, north,18 m,1 2 3,1\n")},
		"an unused column":  {"a.csv", "unused-cell", "<remark>", []byte(strings.Replace(csv, "pair\n", "pair,remark\n", 1))},
		"an empty cell":     {"a.csv", "unfilled-blank", "<length>", []byte(strings.Replace(csv, "18 m", "", 1))},
		"a short row":       {"a.csv", "unfilled-blank", "<pair>", []byte(csv + "104,Level,18 m,10 11 12\n")},
	} {
		name, c := name, c
		files := fstest.MapFS{"p/a.yaml": {Data: []byte(text + "    rows: " + c.rows + "\n")}}
		if c.table != nil {
			files["p/"+strings.Fields(c.rows)[0]] = &fstest.MapFile{Data: c.table}
		}
		_, _, found := Read(files, "p")
		if !slices.ContainsFunc(found, func(p finding.Finding) bool { return p.Code == c.code && strings.Contains(p.Text, c.says) }) {
			t.Errorf("%s: %v", name, found)
		}
	}
	sheet := fstest.MapFS{"p/a.yaml": {Data: []byte(text + "    rows: a.xlsx sheet B\n")}, "p/a.xlsx": {Data: two}}
	if p, _, found := Read(sheet, "p"); len(found) > 0 || len(p.Loops) != 3 {
		t.Errorf("the sheet B: %v", found)
	}
}

// TestSchemaOfPatterns: the schema takes blanks wherever a pattern may have a text, and
// refuses what is no key and no value there.
func TestSchemaOfPatterns(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	for _, name := range []string{"like", "count"} {
		data, err := os.ReadFile("../finding/testdata/examples/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		if all := refusals(s, parsed(data), false); len(all) > 0 {
			t.Errorf("%s.yaml: refused: %v", name, all)
		}
		for was, is := range map[string]string{"lift-off:": "lift-of:", "10.5 V": "10.5 A", "kind: transmitter": "kind: transmiter", "service: <service>": "servic: <service>"} {
			spoilt := strings.Replace(string(data), was, is, 1)
			if spoilt == string(data) || len(refusals(s, parsed([]byte(spoilt)), false)) == 0 {
				t.Errorf("%s.yaml: %s is not refused", name, is)
			}
		}
	}
}
