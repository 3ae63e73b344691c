package tables

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestListLimits: what is beyond a limit of a list is told with its line, and the
// limits stand in COMMANDS.md.
func TestListLimits(t *testing.T) {
	t.Parallel()
	_, err := readCSV("cables.csv", []byte("cable,type,from,to\nW-1,a,b,c\nW-2"+strings.Repeat(",", MostCells)+"x\n"))
	if want := fmt.Sprintf("cables.csv, row 3: has more than %d cells", MostCells); err == nil || err.Error() != want {
		t.Errorf("%v, not %s", err, want)
	}
	commands, err := os.ReadFile("../../cmd/ringout/COMMANDS.md")
	if err != nil {
		t.Fatal(err)
	}
	words := fmt.Sprintf("%d MB of a file, %d rows of a table, %d columns, %d characters of a cell", MostBytes>>20, MostRows, MostCells, MostCell)
	if !strings.Contains(string(commands), words) {
		t.Errorf("COMMANDS.md does not say %q", words)
	}
}

// TestHugeCell refuses a cell that nobody wrote by hand.
func TestHugeCell(t *testing.T) {
	t.Parallel()
	_, err := readCSV("cores.csv", []byte("cable,core,from,to\nW-1,1a,"+strings.Repeat("x", MostCell+1)+",\n"))
	if err == nil || !strings.HasSuffix(err.Error(), "cores.csv, row 2: cell 3 has more than 2000 characters") {
		t.Errorf("%v", err)
	}
}

// TestDamagedWorkbook: a sheet that is no XML, and a formula whose value was not
// stored, are refused: else the rows and the value would be lost in silence.
// Parts and cells: ECMA-376 part 1, SpreadsheetML.
func TestDamagedWorkbook(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	for _, sheet := range []string{"cables", "cores"} {
		if _, err := f.NewSheet(sheet); err != nil {
			t.Fatal(err)
		}
	}
	f.SetSheetRow("cables", "A1", &[]any{"cable", "type", "from", "to", "length m"})
	f.SetSheetRow("cables", "A2", &[]any{"W-1", "one", "PT-1", "MC-1", 20})
	f.SetSheetRow("cores", "A1", &[]any{"cable", "core", "from", "to"})
	f.SetSheetRow("cores", "A2", &[]any{"W-1", "1a", "PT-1:+", "MC-1/X1:1"})
	whole, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := readWorkbook("a.xlsx", whole.Bytes()); err != nil {
		t.Fatalf("a whole workbook: %v", err)
	}
	for old, c := range map[string]struct{ by, want string }{
		"</row><row":   {"</rwo><row", "a.xlsx, sheet cables: is damaged: "},
		"<v>20</v>":    {"<f>10+10</f>", "a.xlsx, sheet cables, cell E2: its formula has no stored value"},
		"<v>20</v></c": {"<f>10+10</f><v></v></c", "a.xlsx, sheet cables, cell E2: its formula has no stored value"},
	} {
		data := changePart(t, whole.Bytes(), "xl/worksheets/sheet2.xml", old, c.by)
		if _, _, err := readWorkbook("a.xlsx", data); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s for %s: %v", c.by, old, err)
		}
	}
	// A formula that gives an empty text has a value.
	data := changePart(t, whole.Bytes(), "xl/worksheets/sheet2.xml", `r="E2"><v>20</v>`, `r="E2" t="str"><f>""</f><v></v>`)
	if _, _, err := readWorkbook("a.xlsx", data); err != nil {
		t.Errorf("an empty text: %v", err)
	}
}

// changePart replaces a text in one part of a zip file.
func changePart(t *testing.T, data []byte, name, old, by string) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	found := false
	for _, part := range z.File {
		in, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		if part.Name == name {
			found = bytes.Contains(text, []byte(old))
			text = bytes.Replace(text, []byte(old), []byte(by), 1)
		}
		to, err := w.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := to.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if !found {
		t.Fatalf("%s does not hold %s", name, old)
	}
	return out.Bytes()
}
