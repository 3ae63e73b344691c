// Package tables reads the sheets of workbooks and CSV files as others wrote them, cell
// by cell: what the cells are called and mean is for others to say.
package tables

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"ringout/model/finding"
)

// Limits of what is read.
const (
	MostBytes = 64 << 20 // of one file, and of one workbook unpacked
	MostCell  = 2000     // characters of one cell
	MostRows  = 200_000  // of one sheet, blank ones apart
	MostCells = 200      // of one row
)

// Sheet is one sheet of a workbook, or one CSV file.
type Sheet struct {
	File, Name string // Name is "" for a CSV file
	Rows       []Row  // all that are not blank
	Blank      []int  // numbers of the blank rows between them
	Odd        []Odd
	Text       []byte // of a CSV file, in UTF-8; nil of a workbook
}

// Odd is what a sheet has that lists do not have, and that does not keep it from being
// read.
type Odd struct {
	Text string // what it is: "hidden rows are read"
	At   []int  // numbers of rows, or of columns, from 1; none for the whole sheet
	Cols bool   // At are columns
}

// Row is a row that is not blank.
type Row struct {
	N     int            // in the file, from 1
	Cells []string       // as written
	Full  []string       // with the text of merged cells in each of them
	Dates map[int]string // cells that hold a date or a time, which way it was made: by place from 0

	places []place // of the cells of a CSV file
}

// place is where the text of a cell stands in a CSV file.
type place struct {
	line, col int
	plain     bool
}

// At is the place of cell i of a row of the sheet, from 0, and whether its text, less the
// blanks round it, stands there as it reads, so that parts of it have places of their own.
func (s *Sheet) At(r *Row, i int) (pos finding.Pos, plain bool) {
	switch {
	case s.Name != "":
		return finding.Pos{File: s.File, Sheet: s.Name, Line: r.N, Col: i + 1}, false
	case i < len(r.places):
		p := r.places[i]
		return finding.Pos{File: s.File, Line: p.line, Col: p.col}, p.plain
	}
	return finding.Pos{File: s.File, Line: r.N, Col: 1}, false
}

// String names the sheet for a message.
func (s *Sheet) String() string {
	if s.Name == "" {
		return s.File
	}
	return s.File + ", sheet " + s.Name
}

// CalledAfter is the name that the sheet has, or else its file, in small letters.
func (s *Sheet) CalledAfter() string {
	if s.Name != "" {
		return strings.ToLower(s.Name)
	}
	return strings.ToLower(strings.TrimSuffix(filepath.Base(s.File), filepath.Ext(s.File)))
}

// add takes a row in, and tells one that is beyond the limits.
func (s *Sheet) add(n int, cells []string) error {
	if len(cells) > MostCells {
		cells = cells[:len(trimmed(cells))]
	}
	if len(cells) > MostCells {
		return faultf("%s, row %d: has more than %d cells", s, n, MostCells)
	}
	for i, c := range cells {
		if utf8.RuneCountInString(c) > MostCell {
			return faultf("%s, row %d: cell %d has more than %d characters", s, n, i+1, MostCell)
		}
	}
	switch {
	case len(trimmed(cells)) == 0:
		s.Blank = append(s.Blank, n)
	case len(s.Rows) >= MostRows:
		return faultf("%s: has more than %d rows", s, MostRows)
	default:
		s.Rows = append(s.Rows, Row{N: n, Cells: cells, Full: cells})
	}
	return nil
}

// trimmed are the cells without the blank ones at their end.
func trimmed(cells []string) []string {
	for len(cells) > 0 && Trim(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// Trim takes blanks of every kind off both ends, those without a width too.
func Trim(s string) string {
	return strings.TrimFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || r >= 0x200B && r <= 0x200D || r == 0x2060 || r == 0xFEFF
	})
}

// oldWorkbook is how a workbook of the older binary form, and one with a password, begins
// (MS-CFB, 2.2).
var oldWorkbook = []byte{0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1}

// Fault is why a table cannot be read: the place in words, and what is wrong there.
type Fault struct{ text string }

func (f *Fault) Error() string { return f.text }

func faultf(format string, args ...any) error { return &Fault{fmt.Sprintf(format, args...)} }

// Read reads all sheets of one file. Title is the name that a workbook bears, if any. An
// error is a *Fault.
func Read(file string, data []byte) (sheets []*Sheet, title string, err error) {
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return nil, "", faultf("%s: is empty", file)
	case bytes.HasPrefix(data, oldWorkbook):
		return nil, "", faultf("%s: is a workbook of an older form, or has a password; save it as .xlsx without one", file)
	case bytes.HasPrefix(data, []byte("PK")) || strings.EqualFold(filepath.Ext(file), ".xlsx"):
		return readWorkbook(file, data)
	}
	s, err := readCSV(file, data)
	return []*Sheet{s}, "", err
}
