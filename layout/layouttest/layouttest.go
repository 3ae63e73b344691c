// Package layouttest looks at sheets, pages and tables for tests.
package layouttest

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/render"
)

// PlantFrom reads a plant from texts by file name.
func PlantFrom(t *testing.T, texts map[string]string) *model.Plant {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range texts {
		files["p/"+name] = &fstest.MapFile{Data: []byte(text)}
	}
	p, _, problems := read.Read(files, "p")
	if problems = append(problems, check.Check(p)...); problems.Errors() > 0 {
		t.Fatalf("plant: %v", problems)
	}
	return p
}

// TernIsland returns the texts of the sample.
func TernIsland(t *testing.T) map[string]string {
	t.Helper()
	const folder = "../../samples/tern-island"
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(folder + "/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		texts[e.Name()] = string(data)
	}
	return texts
}

// Edit replaces what stands once in a text.
func Edit(t *testing.T, texts map[string]string, file, old, now string) {
	t.Helper()
	if strings.Count(texts[file], old) != 1 {
		t.Fatalf("%s holds %q %d times", file, old, strings.Count(texts[file], old))
	}
	texts[file] = strings.Replace(texts[file], old, now, 1)
}

// SaidOn is all that a page says, with lines joined by spaces.
func SaidOn(page *render.Page) string { return strings.Join(TextsOf(page.Items), " ") }

// TextsOf are the texts among marks, groups and all.
func TextsOf(items []render.Item) (all []string) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			all = append(all, m.S)
		case *render.Group:
			all = append(all, TextsOf(m.Items)...)
		}
	}
	return all
}

// PlantOf reads a plant; errors fail the test unless it is a draft.
func PlantOf(t *testing.T, fsys fs.FS, name string, draft bool) *model.Plant {
	t.Helper()
	p, _, problems := read.Read(fsys, name)
	if p == nil || !draft && problems.Errors() > 0 {
		t.Fatalf("%s: %v", name, problems)
	}
	return p
}

// Forms draws the sheets of a plan, and fails on every fault of their pages.
func Forms(t *testing.T, pl *sheet.Plan) (*sheet.Plan, map[*sheet.Sheet]*render.Page, finding.Findings) {
	t.Helper()
	pages := map[*sheet.Sheet]*render.Page{}
	var problems finding.Findings
	for _, s := range pl.Sheets {
		page, more := s.Planned.Draw(pl, s)
		if err := page.Check(); err != nil {
			t.Fatal(err)
		}
		edge := s.Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			t.Errorf("%s: %s: %s at %v", s.Name, f.Kind, f.Text, f.At)
		}
		pages[s] = page
		problems = append(problems, more...)
	}
	return pl, pages, problems
}

// LettersOf are all texts of a page, in order of drawing.
func LettersOf(items []render.Item) []string {
	var all []string
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			all = append(all, m.S)
		case *render.Group:
			all = append(all, LettersOf(m.Items)...)
		}
	}
	return all
}

// Samples are the plants of the samples folder.
var Samples = []string{"one-loop", "tern-island"}

// RowsOf are the words of the rows of a table, cells split by a bar.
func RowsOf(tables ...*paper.Table) (all []string) {
	for _, t := range tables {
		for _, row := range t.Rows {
			words := []string{row.Group}
			if row.Group == "" {
				words = nil
			}
			for _, c := range row.Cells {
				words = append(words, strings.ReplaceAll(c.S, "\n", " "))
			}
			all = append(all, strings.Join(words, "|"))
		}
	}
	return all
}

// Has wants a row that holds a text.
func Has(t *testing.T, rows []string, want string) {
	t.Helper()
	if !slices.ContainsFunc(rows, func(s string) bool { return strings.Contains(s, want) }) {
		t.Errorf("no row says %q in\n%s", want, strings.Join(rows, "\n"))
	}
}

// HasNot wants no row that holds a text.
func HasNot(t *testing.T, rows []string, never string) {
	t.Helper()
	if i := slices.IndexFunc(rows, func(s string) bool { return strings.Contains(s, never) }); i >= 0 {
		t.Errorf("a row says %q: %s", never, rows[i])
	}
}

// Audited draws a sheet and fails on every fault of its page.
func Audited(t *testing.T, pl *sheet.Plan, s *sheet.Sheet) *render.Page {
	t.Helper()
	page, problems := s.Planned.Draw(pl, s)
	for _, p := range problems {
		t.Errorf("%s: %s", s.Name, p)
	}
	AuditPage(t, s, page)
	return page
}

// AuditPage wants a page that can be drawn and has no defect.
func AuditPage(t *testing.T, s *sheet.Sheet, page *render.Page) {
	t.Helper()
	if err := page.Check(); err != nil {
		t.Fatal(err)
	}
	edge := s.Paper.Edge()
	for _, f := range render.Audit(page, edge.Min, edge.Max) {
		t.Errorf("%s: %s: %s at %v", s.Name, f.Kind, f.Text, f.At)
	}
}
