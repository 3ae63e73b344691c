package tables

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// This file reads workbooks (ECMA-376 part 1, SpreadsheetML).

// book is a workbook while it is read.
type book struct {
	file    string
	f       *excelize.File
	old     bool         // its days count from 1904
	dates   map[int]bool // styles that show a number as a date or a time
	strikes map[int]bool // styles with a line through the text
}

// readWorkbook reads every sheet of a workbook.
func readWorkbook(file string, data []byte) ([]*Sheet, string, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: 4 * MostBytes, UnzipXMLSizeLimit: MostBytes})
	if err != nil {
		return nil, "", faultf("%s: is not a workbook (.xlsx) that can be read: %v", file, err)
	}
	defer f.Close()
	if err := checkWorkbook(file, data); err != nil {
		return nil, "", err
	}
	b := &book{file: file, f: f}
	if props, err := f.GetWorkbookProps(); err == nil {
		b.old = props.Date1904 != nil && *props.Date1904
	}
	b.styles()
	var all []*Sheet
	for _, name := range f.GetSheetList() {
		s, err := b.sheet(name)
		if err != nil {
			return nil, "", err
		}
		if len(s.Rows) > 0 {
			all = append(all, s)
		}
	}
	if len(all) == 0 {
		return nil, "", faultf("%s: is empty", file)
	}
	title := ""
	if p, err := f.GetDocProps(); err == nil {
		title = p.Title
	}
	return all, title, nil
}

// styles looks through the styles of the workbook.
func (b *book) styles() {
	b.dates, b.strikes = map[int]bool{}, map[int]bool{}
	for id := 0; ; id++ {
		style, err := b.f.GetStyle(id)
		if err != nil {
			return
		}
		custom := ""
		if style.CustomNumFmt != nil {
			custom = *style.CustomNumFmt
		}
		b.dates[id] = showsDate(style.NumFmt, custom)
		if style.Font != nil && style.Font.Strike {
			b.strikes[id] = true
		}
	}
}

// quotedPart is what a number format shows as it stands.
var quotedPart = regexp.MustCompile(`"[^"]*"|\\.|\[[^\]]*\]|_.|\*.`)

// showsDate reports whether a number format shows a date or a time (ECMA-376 part 1,
// 18.8.30 and 18.8.31).
func showsDate(id int, custom string) bool {
	if custom != "" {
		bare := strings.ToLower(quotedPart.ReplaceAllString(custom, ""))
		return bare != "general" && strings.ContainsAny(bare, "ymdhs")
	}
	return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
}

// sheet reads one sheet.
func (b *book) sheet(name string) (*Sheet, error) {
	s := &Sheet{File: b.file, Name: name}
	raw, err := b.f.Rows(name)
	if err != nil {
		return nil, faultf("%s, sheet %s: cannot be read: %v", b.file, name, err)
	}
	shown, err := b.f.Rows(name)
	if err != nil {
		return nil, faultf("%s, sheet %s: cannot be read: %v", b.file, name, err)
	}
	for n := 1; raw.Next() && shown.Next(); n++ {
		cells, err := raw.Columns()
		if err != nil {
			return nil, faultf("%s: cannot be read: %v", s, err)
		}
		texts, err := shown.Columns(excelize.Options{RawCellValue: false})
		if err != nil {
			return nil, faultf("%s: cannot be read: %v", s, err)
		}
		dates := b.asShown(name, n, cells, texts)
		rows := len(s.Rows)
		if err := s.add(n, cells); err != nil {
			return nil, err
		}
		if len(s.Rows) > rows {
			s.Rows[rows].Dates = dates
		}
	}
	if err := errors.Join(raw.Error(), shown.Error(), raw.Close(), shown.Close()); err != nil {
		return nil, faultf("%s: cannot be read: %v", s, err)
	}
	if err := errors.Join(b.merge(s), b.oddities(s)); err != nil {
		return nil, faultf("%s: cannot be read: %v", s, err)
	}
	return s, nil
}

// asShown puts in the place of numbers what the sheet shows of them where that says
// more: a date, zeros before it, words round it.
func (b *book) asShown(sheet string, n int, cells, shown []string) (dates map[int]string) {
	for i, c := range cells {
		if i >= len(shown) || shown[i] == c { // so is every text
			continue
		}
		v, err := strconv.ParseFloat(c, 64)
		if err != nil {
			continue
		}
		if id, err := b.f.GetCellStyle(sheet, cellName(i, n)); err == nil && b.dates[id] {
			if dates == nil {
				dates = map[int]string{}
			}
			cells[i], dates[i] = b.date(v), shown[i]
			continue
		}
		cells[i] = numberText(c, v, shown[i])
	}
	return dates
}

func cellName(i, n int) string {
	name, err := excelize.CoordinatesToCellName(i+1, n)
	if err != nil {
		return "" // beyond the last column: there is no such cell
	}
	return name
}

// date is a day as 2026-01-02, a part of a day as 13:45.
func (b *book) date(v float64) string {
	t, err := excelize.ExcelDateToTime(v, b.old)
	switch {
	case err != nil:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case v < 1:
		return t.Round(time.Second).Format("15:04")
	}
	return t.Format(time.DateOnly)
}

// wordy is a number with words or zeros that its format adds.
var wordy = regexp.MustCompile(`^-?0[0-9]|[\p{L}%°:/]`)

// numberText is a number that is stored as text stored, as the sheet shows it where it
// shows more than digits; else with the 15 digits that a spreadsheet keeps.
func numberText(stored string, v float64, shown string) string {
	if _, err := strconv.ParseFloat(shown, 64); (err != nil || strings.HasPrefix(strings.TrimPrefix(shown, "-"), "0")) && wordy.MatchString(shown) {
		return shown
	}
	if strings.ContainsAny(stored, ".eE") {
		if short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64); err == nil {
			return strconv.FormatFloat(short, 'f', -1, 64)
		}
	}
	return stored
}

// merge fills the rows with the text of merged cells.
func (b *book) merge(s *Sheet) error {
	merged, err := b.f.GetMergeCells(s.Name)
	if err != nil {
		return err
	}
	at := map[int]int{}
	for i, r := range s.Rows {
		at[r.N] = i
	}
	for _, m := range merged {
		left, top, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		if err != nil {
			return err
		}
		right, bottom, err := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err != nil {
			return err
		}
		first, ok := at[top]
		if !ok || left > len(s.Rows[first].Cells) || right > MostCells {
			continue // an empty one
		}
		text := s.Rows[first].Cells[left-1]
		for n := top; n <= min(bottom, s.last()); n++ {
			i, ok := at[n]
			if !ok {
				continue
			}
			r := &s.Rows[i]
			r.Full = slices.Clone(r.Full)
			for len(r.Full) < right {
				r.Full = append(r.Full, "")
			}
			for c := left; c <= right; c++ {
				r.Full[c-1] = text
			}
		}
	}
	return nil
}

// last is the number of the last row that is not blank.
func (s *Sheet) last() int {
	if len(s.Rows) == 0 {
		return 0
	}
	return s.Rows[len(s.Rows)-1].N
}

// oddities finds what is hidden, and what is struck through.
func (b *book) oddities(s *Sheet) error {
	if visible, err := b.f.GetSheetVisible(s.Name); err != nil {
		return err
	} else if !visible && len(s.Rows) > 0 {
		s.Odd = append(s.Odd, Odd{Text: "the sheet is hidden; it is read as others are"})
	}
	var rows, struck, columns []int
	wide := 0
	for _, r := range s.Rows {
		wide = max(wide, len(r.Cells))
		visible, err := b.f.GetRowVisible(s.Name, r.N)
		if err != nil {
			return err
		}
		if !visible {
			rows = append(rows, r.N)
		}
		if len(b.strikes) > 0 && b.struck(s.Name, r) {
			struck = append(struck, r.N)
		}
	}
	for c := 1; c <= wide; c++ {
		name, err := excelize.ColumnNumberToName(c)
		if err != nil {
			return err
		}
		visible, err := b.f.GetColVisible(s.Name, name)
		if err != nil {
			return err
		}
		if !visible {
			columns = append(columns, c)
		}
	}
	for _, o := range []Odd{
		{Text: "hidden rows are read as others are", At: rows},
		{Text: "rows that are struck through are read as others are", At: struck},
		{Text: "hidden columns are read as others are", At: columns, Cols: true},
	} {
		if len(o.At) > 0 {
			s.Odd = append(s.Odd, o)
		}
	}
	return nil
}

// struck reports whether a cell of the row has a line through its text.
func (b *book) struck(sheet string, r Row) bool {
	for i, c := range r.Cells {
		if c == "" {
			continue
		}
		if id, err := b.f.GetCellStyle(sheet, cellName(i, r.N)); err == nil && b.strikes[id] {
			return true
		}
	}
	return false
}
