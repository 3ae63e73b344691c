package lists

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ringout/layout/issue"
	"ringout/model"
	"ringout/model/tables"
)

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
	t.Parallel()
	w := rand.New(rand.NewPCG(1, 2))
	call := regexp.MustCompile(`[(!|@=*^&<>]|[+-] *[A-Za-z]`) // a function, another sheet or program, a name
	for range 3000 {
		rows := [][]string{{"cable", "type", "from", "to", oddText(w)}}
		for range 1 + w.IntN(3) {
			rows = append(rows, []string{"W-1", oddText(w), oddText(w), oddText(w), oddText(w)})
		}
		var b bytes.Buffer
		if _, err := tables.WriteCSV(&b, rows); err != nil {
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
		got, err := tables.ReadCSV(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		var read [][]string
		for _, r := range got {
			read = append(read, r.Cells)
		}
		if !slices.EqualFunc(read, rows, slices.Equal) {
			t.Fatalf("reads\n%q\nfor\n%q", read, rows)
		}
	}
}

// oddPlant is the water works with texts that begin like formulas wherever a
// text is free.
func oddPlant() *model.Plant {
	p := samplePlant("tern-island")
	w := rand.New(rand.NewPCG(3, 4))
	odd := func() string { return strings.TrimSpace("=" + strings.Join(strings.Fields(oddText(w)), " ")) }
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
			f.Tag, f.Set = "-"+odd(), model.SetPoint{Text: odd()}
		}
	}
	return p
}

// TestListsGuarded: every list of a plant full of such texts is read back as the
// very cells that were written, from CSV and from a workbook, and no cell of the
// workbook is a formula.
func TestListsGuarded(t *testing.T) {
	t.Parallel()
	p := oddPlant()
	var book bytes.Buffer
	if err := WriteWorkbook(&book, p, issue.Issue{}, All); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&book)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, l := range All {
		want := [][]string{l.Heads()}
		l.Rows(p, func(cells ...any) {
			row := make([]string, len(cells))
			for i, c := range cells {
				row[i] = cellText(c)
			}
			want = append(want, row)
		})
		var b bytes.Buffer
		if err := l.Write(&b, p, "csv"); err != nil {
			t.Fatal(err)
		}
		raw, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range raw {
			for j, c := range row {
				if bare(c) && strings.ContainsAny(c, "=(@") {
					t.Errorf("list %s, row %d, %s: %q stands bare", l.Name, i+1, l.Heads()[j], c)
				}
			}
		}
		got, err := tables.ReadCSV(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range got {
			if !slices.Equal(row.Cells, want[i]) {
				t.Fatalf("list %s, row %d reads\n%q\nfor\n%q", l.Name, i+1, row.Cells, want[i])
			}
		}
		compareSheet(t, f, l, p)
		for i := range want {
			for j := range want[i] {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				if err != nil {
					t.Fatal(err)
				}
				if formula, err := f.GetCellFormula(l.Name, at); err != nil || formula != "" {
					t.Fatalf("list %s: %s is the formula %q: %v", l.Name, at, formula, err)
				}
			}
		}
	}
}
