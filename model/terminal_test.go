package model

import (
	"strings"
	"testing"
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
		var all []*Terminal
		for _, name := range strings.Fields(names) {
			all = append(all, &Terminal{Name: name})
		}
		if got := strings.Join(Spans(all), "|"); got != want {
			t.Errorf("%s is written %s, not %s", names, got, want)
		}
	}
}
