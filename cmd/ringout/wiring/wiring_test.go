package wiring

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestColumns: every cell of a column begins at the same letter, and no line ends with
// a blank.
func TestColumns(t *testing.T) {
	rows := [][]string{{"core", "colour", "to"}, {"1a", "schwarz/weiß", "X1:7"}, {"1b", "", ""}, {"a longer name", "BU", "X1:8"}}
	var b bytes.Buffer
	WriteColumns(&b, "  ", rows)
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if len(lines) != len(rows) {
		t.Fatalf("%d lines of %d rows", len(lines), len(rows))
	}
	for column := range rows[0] {
		at := -1
		for i, row := range rows {
			if row[column] == "" {
				continue
			}
			before, _, _ := strings.Cut(lines[i], row[column])
			if letter := utf8.RuneCountInString(before); at >= 0 && letter != at {
				t.Errorf("row %d begins column %d at letter %d, not %d", i, column, letter, at)
			} else {
				at = letter
			}
		}
	}
	for _, line := range lines {
		if strings.TrimRight(line, " ") != line {
			t.Errorf("%q ends with a blank", line)
		}
	}
}
