package layout

import (
	"os"
	"testing"

	"ringout/model/read"
	"ringout/render"
)

// Where legs lie close and one ends on a strip below a terminal of another, the name
// of that strip stands between the ticks of the leg above.
func TestStripNameBetweenTicks(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("testdata"), "close")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	plan := New(p, false, nil)
	i := 0
	for page, found := range plan.Pages() {
		edge := plan.Sheets[i].Paper.Edge()
		i++
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			t.Errorf("%s: %s: %s", page.Name, f.Kind, f.Text)
		}
		for _, f := range found {
			t.Errorf("%s: %v", page.Name, f)
		}
	}
}
