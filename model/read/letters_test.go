package read

import (
	"testing"
	"testing/fstest"
)

// TestTextsAreComposed: an accent of its own is joined to its letter (Unicode
// normalization form C, UAX 15: e and U+0301 are U+00E9), and a text of several
// lines is one line without blanks round it.
func TestTextsAreComposed(t *testing.T) {
	t.Parallel()
	text := "owner: >\n  Socie\u0301te\u0301 des\n  Eaux  \nproject: \"  two\\n lines \"\nloops:\n  É-1: {service: x, devices: {E\u0301T-1: {kind: contact}}}\n"
	p, _, ps := Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if p.Owner != "Soci\u00e9t\u00e9 des Eaux" || p.Project != "two lines" || p.Part("\u00c9T-1") == nil {
		t.Errorf("owner %q, project %q, device %v", p.Owner, p.Project, p.Part("\u00c9T-1"))
	}
}
