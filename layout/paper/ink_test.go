package paper

import (
	"testing"

	"ringout/render"
	"ringout/samples"
)

// Every field of the title block holds letters that reach up and down, and none of
// them touches a line or a caption.
func TestTitleBlockClearsInk(t *testing.T) {
	t.Parallel()
	for _, p := range papers {
		for _, s := range samples.Inky {
			for _, sub := range []string{"", s} {
				title := Title{Owner: s, Project: s, Plant: s, Title: s, Subtitle: sub, Kind: s, Number: s, Revision: "Q", Date: s, Status: s,
					Drawn: s, Checked: s, Approved: s, Sheet: 1, Of: 2, Code: "Q_g", DataRevision: s, Revisions: []Revision{{"Q", s, "2031-03-01", s}}}
				b := Frame(p, title)
				page := &render.Page{Head: render.Head{Name: "A", W: p.W, H: p.H}, Items: b.Items}
				for _, f := range render.Audit(page, p.Edge().Min, p.Edge().Max) {
					t.Errorf("%s, %q: %s: %s", p.Name, s, f.Kind, f.Text)
				}
				if len(b.Unfit) > 0 {
					t.Errorf("%s, %q: %v", p.Name, s, b.Unfit)
				}
			}
		}
	}
}
