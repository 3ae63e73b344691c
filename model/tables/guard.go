package tables

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"ringout/model/finding"
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

// CSVRow is one row of a CSV file, and the line that it begins on.
type CSVRow struct {
	Line   int
	Cells  []string
	places []place
}

// separators are what may part cells.
const separators = ",;\t|"

// bareQuote stands for a quote inside a cell that has none round it, as in 6" pipe: no
// text has this sign, which Unicode gives no meaning.
const bareQuote = "\uFFFE"

// ReadCSV reads CSV, guards taken away. Cells are parted by commas, semicolons, tabs or
// bars: by what the first line says that is sep= and a sign, or else by whichever the
// most lines have the same number of.
func ReadCSV(data []byte) (rows []CSVRow, err error) {
	comma, before := separator(data), 0
	if m := told.FindSubmatch(data); m != nil {
		comma, before, data = rune(m[1][0]), 1, data[len(m[0]):]
	}
	data = withoutBareQuotes(data, byte(comma))
	src := finding.NewSource("", data)
	r := csv.NewReader(bytes.NewReader(src.Data))
	r.Comma, r.FieldsPerRecord = comma, -1
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if p := (*csv.ParseError)(nil); errors.As(err, &p) {
			return nil, fmt.Errorf("line %d: %w", p.Line+before, p.Err)
		}
		if err != nil {
			return nil, err
		}
		row := CSVRow{Cells: cells, places: make([]place, len(cells))}
		for i, c := range cells {
			cells[i] = unguard(strings.ReplaceAll(c, bareQuote, `"`))
			row.places[i] = placeOf(src, r, i, c, cells[i])
			row.places[i].line += before
		}
		row.Line = row.places[0].line
		rows = append(rows, row)
	}
}

// placeOf is where cell i of the row that r read last has its text, as written and as it
// is read. Signs of the text count alike in src and in the file: a bare quote is one.
func placeOf(src *finding.Source, r *csv.Reader, i int, written, text string) place {
	line, col := r.FieldPos(i) // col counts bytes
	at := min(src.Starts[line-1]+col-1, len(src.Data))
	begin := at + len(src.Data[at:]) - len(bytes.TrimLeft(src.Data[at:], " \""))
	bare := strings.TrimSpace(written)
	plain := bare != "" && !strings.Contains(bare, "\n") && bytes.HasPrefix(src.Data[begin:], []byte(bare)) &&
		strings.ReplaceAll(written, bareQuote, `"`) == text
	if plain {
		at = begin
	}
	pos := src.Pos(at)
	return place{pos.Line, pos.Col, plain}
}

// told is a first line that says what parts the cells.
var told = regexp.MustCompile(`^sep=([,;\t|])\r?\n`)

// separator is the sign that most lines have the same number of, outside of quotes; of
// several the one that they have more of.
func separator(data []byte) rune {
	const most = 200 // lines that are looked at
	paired := bytes.Count(data, []byte(`"`))%2 == 0
	counts := make([]map[int]int, len(separators)) // lines by how many of the sign they have
	for i := range counts {
		counts[i] = map[int]int{}
	}
	var here [len(separators)]int
	quoted, lines := false, 0
	for _, c := range append(data[:len(data):len(data)], '\n') {
		switch i := strings.IndexByte(separators, c); {
		case c == '"' && paired:
			quoted = !quoted
		case quoted:
		case i >= 0:
			here[i]++
		case c == '\n':
			for i, n := range here {
				if n > 0 {
					counts[i][n]++
				}
				here[i] = 0
			}
			lines++
		}
		if lines == most {
			break
		}
	}
	best, mostLines, mostCells := 0, 0, 0
	for i := range counts {
		for n, times := range counts[i] {
			if times > mostLines || times == mostLines && n > mostCells {
				best, mostLines, mostCells = i, times, n
			}
		}
	}
	return rune(separators[best])
}

// withoutBareQuotes puts another sign in the place of quotes inside cells that have none
// round them.
func withoutBareQuotes(data []byte, comma byte) []byte {
	var out []byte // nil while nothing is replaced
	const (
		start = iota
		bare
		quoted
	)
	state, copied := start, 0
	for i := 0; i < len(data); i++ {
		c := data[i]
		switch {
		case state == quoted:
			if c == '"' && i+1 < len(data) && data[i+1] == '"' {
				i++
			} else if c == '"' {
				state = start
			}
		case c == comma || c == '\n':
			state = start
		case c == '"' && state == start:
			state = quoted
		case c == '"':
			out = append(append(out, data[copied:i]...), bareQuote...)
			copied = i + 1
		default:
			state = bare
		}
	}
	if out == nil {
		return data
	}
	return append(out, data[copied:]...)
}
