package wiring

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"ringout/model"
)

// TestSpans: terminals put together by hand.
func TestSpans(t *testing.T) {
	for names, want := range map[string]string{
		"":                  "",
		"7":                 "7",
		"1 2":               "1|2", // two are no span
		"1 2 3":             "1..3",
		"1 2 3 5 6 7 8":     "1..3|5..8",
		"F1 F2 F3 N1 N2 N3": "F1..F3|N1..N3",
		"9 10 11":           "9..11",
		"08 09 10":          "08|09|10", // 09 is not 8 and one
		"1A 2A 3A":          "1A|2A|3A",
		"3 2 1":             "3|2|1",
	} {
		var all []*model.Terminal
		for _, name := range strings.Fields(names) {
			all = append(all, &model.Terminal{Name: name})
		}
		if got := strings.Join(Spans(all), "|"); got != want {
			t.Errorf("%s is written %s, not %s", names, got, want)
		}
	}
}

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
