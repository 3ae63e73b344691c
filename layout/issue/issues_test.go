package issue

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"
)

// TestAccept refuses what cannot follow.
func TestAccept(t *testing.T) {
	t.Parallel()
	r := &Register{Issues: []Issue{{Mark: "A", Date: "2031-01-01", Status: "x", By: "", Note: ""}, {Mark: "C", Date: "2031-02-01", Status: "x", By: "", Note: ""}, {Mark: "0", Date: "2031-03-01", Status: "x", By: "", Note: ""}}}
	for _, c := range []struct{ mark, date, want string }{
		{"1", "2031-03-01", ""},
		{"10", "2031-03-02", ""},
		{"P1", "2031-03-02", ""},
		{"0", "2031-04-01", "already issued"},
		{"00", "2031-04-01", "lower than 0"},
		{"B", "2031-04-01", "lower than 0"},
		{"D", "2031-04-01", "lower than 0"},
		{"1", "2031-02-28", "is before 2031-03-01"},
		{"1", "2031-02-30", "is not a day"},
		{"b", "2031-04-01", "is not up to two capitals"},
		{"?", "2031-04-01", "is not up to two capitals"},
		{"", "2031-04-01", "is not up to two capitals"},
	} {
		err := r.Accept(Issue{Mark: c.mark, Date: c.date, Status: "x"}, nil)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s of %s: %v", c.mark, c.date, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s of %s: %v, not %q", c.mark, c.date, err, c.want)
		}
	}
	if err := (&Register{}).Accept(Issue{Mark: "B", Date: "2031-04-01", Status: "x"}, []string{"A", "C"}); err == nil {
		t.Error("B is taken after A and C of the plant's text")
	}
	for mark, want := range map[string]string{"A": "B", "Z": "AA", "AZ": "BA", "0": "1", "9": "10", "P1": "P2"} {
		if got := After(mark); got != want {
			t.Errorf("after %s comes %s, not %s", mark, got, want)
		}
	}
}

// sealed puts the last line under the lines of a register.
func sealed(lines string) string {
	sum := sha256.Sum256([]byte(lines))
	return lines + RegisterEnd + " " + hex.EncodeToString(sum[:])[:SheetDigits] + "\n"
}

// FuzzReadIssues reads anything: no text may bring the reader down, and what it
// takes comes back the same.
func FuzzReadIssues(f *testing.F) {
	for _, lines := range []string{
		"number \"TI-I\"\nissue A 2031-01-01 \"x\" \"\" \"\"\nissue B 2031-01-02 \"as built\" \"\" \"\"\n" +
			"thing \"loop\" \"F-1\" \"device\" \"FT-1\"\nfact \"range\" \"0..1 m\"\nfact \"kind\" \"2\" \"fused\"\nthing \"loop\" \"F-1\" \"wire\" \"FT-1\" 2 0\n" +
			"sheet \"LD-F-1\" 1 0123456789abcdef fedcba9876543210 ABC-DEF\nrev A \"\"\nrev B \"FT-1 range 0..1 m, was 0..2 m\"\n" +
			"part terminal \"X:1\" 01234567 A\npart text \"\" 01234567 A\nsheet \"LD-F-1\" 2 withdrawn -\nrev A \"\"\n",
		"",
		"sheet \"a",
	} {
		f.Add([]byte(sealed(fmt.Sprint(RegisterHead, RegisterForm, "\n", lines))))
	}
	f.Add([]byte(sealed(fmt.Sprint(RegisterHead, FormBefore, "\nthing \"loop F-1\" \"wire of lane 2 of FT-1, no. 2\" \"status\" \"new\"\nthing \"place X\" \"AI A\" \"volts\" \"volts 3, MA 4\"\n"))))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := Read(text)
		if err != nil {
			if e := err.(*RegisterError); e.Line < 1 {
				t.Fatalf("line %d", e.Line)
			}
			return
		}
		if r.Converted() { // it has no digests of facts to write
			return
		}
		var b, c bytes.Buffer
		r.Write(&b)
		again, err := Read(b.Bytes())
		if err != nil {
			t.Fatalf("written, and not read: %v\n%s", err, &b)
		}
		if again.Write(&c); b.String() != c.String() {
			t.Fatalf("written twice:\n%s\n%s", &b, &c)
		}
	})
}
