package lists

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// This file keeps a text a text in CSV. Spreadsheets take a cell that begins with
// =, +, -, @ or a tab for a formula, and formulas may call other programs: OWASP,
// "CSV Injection". As that page advises, an apostrophe goes before such a cell,
// also inside a text behind what another program may take for the end of a cell.
// Import takes it away again.

// A formula may begin at the start of a cell or behind a separator, with blanks and
// apostrophes before its first sign. The wide signs are those of East Asian
// keyboards. A tab or a line break at the start counts by itself.
var (
	formula = regexp.MustCompile(`(^|[,;"\t\r\n])(` + lead + `[=+\-@＝＋－＠])`)
	guarded = regexp.MustCompile(`(^|[,;"\t\r\n])'(` + lead + `[=+\-@＝＋－＠])`)
	tabbed  = regexp.MustCompile(`^` + lead + `[\t\r\n]`)
)

const lead = `[' \v\f\p{Z}\p{Cf}]*`

// harmless are whole cells that no spreadsheet can run, and that are read more
// easily without an apostrophe: signs alone, such as a polarity, which are no
// formula, and a number or range with or without a unit, in which nothing can be
// called. Signs with names, such as + - S, are a formula whose result is an error.
var harmless = regexp.MustCompile(`^(?:[+-](?: [+-])*|[+-]\d+(?:\.\d+)?(?:[Ee][+-]?\d+)?(?:\.\.[+-]?\d+(?:\.\d+)?)?(?:%| ?[\p{L}°][\p{L}°\d/·²³]*)?)$`)

// guard makes a text harmless in a CSV file. Unguard gives back the very same text:
// whether a place is one for an apostrophe does not depend on those before it.
func guard(s string) string {
	if harmless.MatchString(strings.TrimLeft(s, "'")) {
		return s
	}
	s = formula.ReplaceAllString(s, "$1'$2")
	if tabbed.MatchString(s) {
		s = "'" + s
	}
	return s
}

func unguard(s string) string {
	if harmless.MatchString(strings.TrimLeft(s, "'")) {
		return s
	}
	if tabbed.MatchString(s) {
		s = strings.TrimPrefix(s, "'")
	}
	return guarded.ReplaceAllString(s, "$1$2")
}

// WriteCSV writes rows as CSV, each text guarded. It tells how many texts had to be
// altered for that.
func WriteCSV(w io.Writer, rows [][]string) (altered int, err error) {
	to := csv.NewWriter(w)
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, s := range row {
			if cells[i] = guard(s); cells[i] != s {
				altered++
			}
		}
		if err := to.Write(cells); err != nil {
			return altered, err
		}
	}
	to.Flush()
	return altered, to.Error()
}

// Row is one row of a CSV file, and the line that it begins on.
type Row struct {
	Line  int
	Cells []string
}

// ReadCSV reads CSV, guards taken away. Cells are parted by commas, semicolons or
// tabs: whichever the first line has most of.
func ReadCSV(data []byte) (rows []Row, err error) {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	comma := ','
	for _, c := range ";\t" {
		if bytes.Count(first, []byte(string(c))) > bytes.Count(first, []byte(string(comma))) {
			comma = c
		}
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord = comma, -1
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if p := (*csv.ParseError)(nil); errors.As(err, &p) {
			return nil, fmt.Errorf("line %d: %w", p.Line, p.Err)
		}
		if err != nil {
			return nil, err
		}
		for i := range cells {
			cells[i] = unguard(cells[i])
		}
		line, _ := r.FieldPos(0)
		rows = append(rows, Row{line, cells})
	}
}
