package tables

import "testing"

// TestGuard: the first seven signs are those of OWASP, "CSV Injection", the wide
// ones too. What stays as it is is a number or a sign alone.
func TestGuard(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, cell string }{
		{"=1+1", "'=1+1"}, {"+A1", "'+A1"}, {"-2+3+cmd|' /C calc'!D2", "'-2+3+cmd|' /C calc'!D2"}, {"@SUM(1)", "'@SUM(1)"},
		{"\tx", "'\tx"}, {"\rx", "'\rx"}, {"\nx", "'\nx"}, {"＝1", "'＝1"}, {"＋1", "'＋1"}, {"－A", "'－A"}, {"＠A", "'＠A"},
		{" =1", "' =1"}, {"\u00A0=1", "'\u00A0=1"}, {"\u200B=1", "'\u200B=1"}, {"'=1", "''=1"}, {"\t'=1", "'\t''=1"},
		{"a;=1", "a;'=1"}, {`a",=1`, `a",'=1`}, {"a\t=1", "a\t'=1"}, {"a; -b; @c", "a;' -b;' @c"}, {`"=1"`, `"'=1"`},
		{"+ - S", "'+ - S"}, {"+>-", "'+>-"}, {"-1+A1", "'-1+A1"}, {"-A1", "'-A1"}, {"-5*A1", "'-5*A1"}, {"-(1)", "'-(1)"}, {"+1 A!B", "'+1 A!B"},
		{"-", "-"}, {"+", "+"}, {"+ -", "+ -"}, {"-24 V", "-24 V"}, {"-24V", "-24V"}, {"+0.5", "+0.5"}, {"-1.5e-3", "-1.5e-3"},
		{"-5..50 °C", "-5..50 °C"}, {"-0.5..+1.5 m3/h", "-0.5..+1.5 m3/h"}, {"-5 %", "'-5 %"}, {"-5%", "-5%"},
		{"'-24 V", "'-24 V"}, {"'a'", "'a'"}, {"a=b", "a=b"}, {"W-21-3a", "W-21-3a"}, {"", ""},
	} {
		if got := guard(c.text); got != c.cell {
			t.Errorf("%q is written %q, not %q", c.text, got, c.cell)
		}
		if got := unguard(guard(c.text)); got != c.text {
			t.Errorf("%q comes back as %q", c.text, got)
		}
	}
}
