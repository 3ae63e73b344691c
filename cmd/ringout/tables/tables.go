// Package tables reads the sheets of workbooks and CSV files as others wrote them, cell
// by cell: what the cells are called and mean is for others to say.
package tables

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ringout/cmd/ringout/tell"
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
		return tell.WrongUsef("%s, row %d: has more than %d cells", s, n, MostCells)
	}
	for i, c := range cells {
		if utf8.RuneCountInString(c) > MostCell {
			return tell.WrongUsef("%s, row %d: cell %d has more than %d characters", s, n, i+1, MostCell)
		}
	}
	switch {
	case len(trimmed(cells)) == 0:
		s.Blank = append(s.Blank, n)
	case len(s.Rows) >= MostRows:
		return tell.WrongUsef("%s: has more than %d rows", s, MostRows)
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

// Spans are numbers in words: 3, 5..8 and 12.
func Spans(ns []int) string {
	const most = 12
	var all []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		if j > i {
			all = append(all, strconv.Itoa(ns[i])+".."+strconv.Itoa(ns[j]))
		} else {
			all = append(all, strconv.Itoa(ns[i]))
		}
		i = j + 1
	}
	if len(all) > most {
		return tell.Names(all, ", ")
	}
	if last := len(all) - 1; last > 0 {
		return strings.Join(all[:last], ", ") + " and " + all[last]
	}
	return strings.Join(all, "")
}

// oldWorkbook is how a workbook of the older binary form, and one with a password, begins
// (MS-CFB, 2.2).
var oldWorkbook = []byte{0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1}

// Read reads all sheets of one file. Title is the name that a workbook bears, if any.
func Read(file string) (sheets []*Sheet, title string, err error) {
	data, err := readLimited(file)
	if err != nil {
		return nil, "", err
	}
	switch {
	case bytes.HasPrefix(data, oldWorkbook):
		return nil, "", tell.WrongUsef("%s: is a workbook of an older form, or has a password; save it as .xlsx without one", file)
	case bytes.HasPrefix(data, []byte("PK")) || strings.EqualFold(filepath.Ext(file), ".xlsx"):
		return readWorkbook(file, data)
	}
	s, err := readCSV(file, data)
	return []*Sheet{s}, "", err
}

// ReadText is the text of a file, without a byte order mark.
func ReadText(file string) (string, error) {
	data, err := readLimited(file)
	if err != nil {
		return "", err
	}
	data, at, fault := finding.Text(file, data)
	switch {
	case fault != "":
		return "", tell.WrongUsef("%s: %s", at, fault)
	case len(bytes.TrimSpace(data)) == 0:
		return "", tell.WrongUsef("%s: is empty", file)
	}
	return string(data), nil
}

func readLimited(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, tell.WrongUsef("%s: cannot be read: %v", file, tell.Reason(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MostBytes+1))
	switch {
	case err != nil:
		return nil, tell.WrongUsef("%s: cannot be read: %v", file, tell.Reason(err))
	case len(data) > MostBytes:
		return nil, tell.WrongUsef("%s: is larger than %d MB", file, MostBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, tell.WrongUsef("%s: is empty", file)
	}
	return data, nil
}
