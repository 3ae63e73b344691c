package pdf

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"ringout/render"
)

// A file of the library that is built otherwise than known is an error, not a broken
// document.
func TestJoinRefusesOtherFiles(t *testing.T) {
	t.Parallel()
	p := New(nil, "trial", []render.Head{{Name: "A", W: 210000, H: 297000}}, time.Time{})
	if p.err = p.Page(&render.Page{Head: p.heads[0]}); p.err != nil {
		t.Fatal(p.err)
	}
	if p.err = p.next(); p.err != nil {
		t.Fatal(p.err)
	}
	var file, out bytes.Buffer
	if err := p.doc.Output(&file); err != nil {
		t.Fatal(err)
	}
	if err := join(&out, file.Bytes(), p.pages); err != nil || out.Len() == 0 {
		t.Fatal(err)
	}
	for what, change := range map[string][2]string{
		"no table":         {"startxref", "startxfer"},
		"table elsewhere":  {"xref\n0 ", "xrex\n0 "},
		"fewer objects":    {"xref\n0 ", "xref\n0 9"},
		"an odd entry":     {" 00000 n \n", " 00000 f \n"},
		"a face not named": {"BT /F", "BT /G"},
		"other resources":  {"/Font <<\n/F", "/Font <<\n/G"},
		"other marks":      {"4 0 obj\n<</Length", "4 0 obj\n<</Langth"},
	} {
		text := strings.Replace(file.String(), change[0], change[1], 1)
		if text == file.String() {
			t.Errorf("%s: nothing is changed", what)
		}
		if err := join(&out, []byte(text), p.pages); err == nil || !strings.Contains(err.Error(), "PDF library") {
			t.Errorf("%s: %v", what, err)
		}
	}
}
