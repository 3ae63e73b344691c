package loop

import "testing"

// TestSplitTag holds what a bubble shows against ISA-5.1-2009 clause 4: function
// letters over loop number, whatever stands before them for the unit or area.
func TestSplitTag(t *testing.T) {
	t.Parallel()
	for tag, want := range map[string][3]string{
		"FT-2107":     {"FT", "2107", "whole"},
		"FT2107":      {"FT", "2107", "whole"},
		"FT_2107A":    {"FT", "2107A", "whole"},
		"FT-2107-A1":  {"FT", "2107-A1", "whole"},
		"LIRCA-4711":  {"LIRCA", "4711", "whole"},
		"HS-A":        {"HS", "A", "whole"},
		"NO":          {"NO", "", "whole"},
		"21-FT-2107":  {"FT", "2107", ""},
		"21FT2107":    {"FT", "2107", ""},
		"1H11-PT-01":  {"PT", "01", ""}, // area H11 of unit 1
		"3K12.PDT.07": {"PDT", "07", ""},
		"U200-LT-12":  {"LT", "12", ""},
		"P1-FT-2107":  {"FT", "2107", ""},
		"2G-K-24":     {"K", "24", ""},
		"1H11":        {"H", "11", ""},
		"Насос-FT-12": {"FT", "12", ""},
		"North-FT-12": {"FT", "12", ""},
		"FT_North_12": {"FT", "North_12", "whole"},
		"ft-2107":     {"ft", "2107", "whole"},
		"2107":        {"", "", ""},
	} {
		letters, number, whole := splitTag(tag)
		if letters != want[0] || number != want[1] || whole != (want[2] != "") {
			t.Errorf("%s: %q over %q, whole %t", tag, letters, number, whole)
		}
	}
}
