package lists

import (
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/rivo/uniseg"
	"github.com/xuri/excelize/v2"

	"ringout/cmd/ringout/wiring"
	"ringout/layout/issue"
	"ringout/model"
)

// Widths of the columns of a workbook, in digits of its face. The library's own fit
// takes several times as long as all else.
const (
	leastColumn = 6
	mostColumn  = 48
)

// The face of a workbook, heads and cells, and its size in points.
const (
	bookFace = "Calibri"
	bookSize = 11
)

// bookPapers are the numbers of papers in a workbook (ECMA-376 part 1, 18.3.1.63).
var bookPapers = map[string]int{"letter": 1, "A4": 9}

// WriteWorkbook writes lists as one workbook, a sheet each: heads that stay in
// sight, a filter on every column, numbers as numbers. The same plant gives the
// same bytes: the dates inside are those of its newest issue.
func WriteWorkbook(w io.Writer, p *model.Plant, is issue.Issue, chosen []List) error {
	f := excelize.NewFile()
	defer f.Close()
	head, err := f.NewStyle(&excelize.Style{
		Font: &excelize.Font{Bold: true, Family: bookFace, Size: bookSize}, Alignment: &excelize.Alignment{Vertical: "top"},
		Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}},
	})
	if err != nil {
		return err
	}
	for i, l := range chosen {
		if i == 0 {
			err = f.SetSheetName(f.GetSheetName(0), l.Name)
		} else {
			_, err = f.NewSheet(l.Name)
		}
		if err == nil {
			err = l.sheet(f, p, head)
		}
		if err == nil {
			err = l.printed(f, p, is)
		}
		if err != nil {
			return fmt.Errorf("list %s: %w", l.Name, err)
		}
	}
	date, err := time.Parse(time.DateOnly, is.Date)
	if err != nil {
		date = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // not the hour of writing
	}
	stamp := date.Format(time.RFC3339)
	if err := f.SetDocProps(&excelize.DocProperties{
		Title: p.Name, Subject: p.Project, Creator: p.Drawn, LastModifiedBy: "ringout", Identifier: p.Number,
		Description: is.Note, Revision: is.Mark, Version: is.Mark, ContentStatus: is.Status, Created: stamp, Modified: stamp,
	}); err != nil {
		return err
	}
	if err := f.SetAppProps(&excelize.AppProperties{Application: "ringout", Company: p.Owner}); err != nil {
		return err
	}
	return f.Write(w)
}

// printed sets how a list prints: across, one page wide, with its heads and its
// first column on every page, and a foot that says what it is of.
func (l List) printed(f *excelize.File, p *model.Plant, is issue.Issue) error {
	across, size, wide, tall, fit := "landscape", bookPapers[p.Practice.RecordPaper], 1, 0, true
	if err := f.SetPageLayout(l.Name, &excelize.PageLayoutOptions{Orientation: &across, Size: &size, FitToWidth: &wide, FitToHeight: &tall}); err != nil {
		return err
	}
	if err := f.SetSheetProps(l.Name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: l.Name, RefersTo: fmt.Sprintf("%s!$A:$A,%[1]s!$1:$1", l.Name)}); err != nil {
		return err
	}
	foot := func(s string) string { return strings.ReplaceAll(s, "&", "&&") }
	issue := wiring.NotGiven
	if is.Mark != "" {
		issue = is.Mark + " of " + is.Date
	}
	return f.SetHeaderFooter(l.Name, &excelize.HeaderFooterOptions{
		OddFooter: fmt.Sprintf("&L%s&C%s&Rrevision %s, page &P of &N", short(foot(p.Name)), l.Name, short(foot(issue))),
	})
}

// mostFoot is how many letters of a text the foot of a page takes: a whole foot
// has 255 at most.
const mostFoot = 90

func short(s string) string {
	if runes := []rune(s); len(runes) > mostFoot {
		return strings.TrimRight(string(runes[:mostFoot-1]), "&") + "…"
	}
	return s
}

// sheet writes a list on the sheet of its name.
func (l List) sheet(f *excelize.File, p *model.Plant, head int) error {
	heads := l.headsFor(p)
	last, err := excelize.ColumnNumberToName(len(heads))
	if err != nil {
		return err
	}
	widths := make([]int, len(heads))
	for i, h := range heads {
		widths[i] = uniseg.StringWidth(h) + 3 // the filter's button
	}
	if err := f.SetSheetRow(l.Name, "A1", &heads); err != nil {
		return err
	}
	if err := f.SetCellStyle(l.Name, "A1", last+"1", head); err != nil {
		return err
	}
	rows := 1
	var failed error
	l.Rows(p, func(cells ...any) {
		rows++
		for i, c := range cells {
			c = l.Columns[i].said(p, c)
			text := cellText(c)
			if text == "" || failed != nil {
				continue
			}
			if utf8.RuneCountInString(text) > excelize.TotalCellChars {
				failed = fmt.Errorf("row %d, %s: more than %d characters do not fit a cell", rows, heads[i], excelize.TotalCellChars)
				return
			}
			widths[i] = max(widths[i], uniseg.StringWidth(text)+1)
			switch v := c.(type) {
			case json.Number:
				c, _ = v.Float64() // written by us
			case string:
				c = bookText(v)
			}
			at, err := excelize.CoordinatesToCellName(i+1, rows)
			if err == nil {
				err = f.SetCellValue(l.Name, at, c)
			}
			failed = err
		}
	})
	if failed != nil {
		return failed
	}
	for i, width := range widths {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetColWidth(l.Name, column, column, float64(min(max(width, leastColumn), mostColumn))); err != nil {
			return err
		}
	}
	if err := f.AutoFilter(l.Name, fmt.Sprintf("A1:%s%d", last, rows), nil); err != nil {
		return err
	}
	return f.SetPanes(l.Name, &excelize.Panes{Freeze: true, YSplit: 1, XSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"})
}

// escaped is a sign written as its number, which readers of a workbook turn into the
// sign (ECMA-376 part 1, 22.9.2.19).
var escaped = regexp.MustCompile(`^_x[0-9A-Fa-f]{4}_`)

// bookText writes a text for a cell so that what looks like such a number stays as
// it is. The library leaves that to us.
func bookText(s string) string {
	var b strings.Builder
	for i, c := range s {
		if c == '_' && escaped.MatchString(s[i:]) {
			b.WriteString("_x005F")
		}
		b.WriteRune(c)
	}
	return b.String()
}
