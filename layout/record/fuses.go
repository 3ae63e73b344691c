package record

import (
	"cmp"
	"fmt"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// fuses are those that the circuits of the loop depend on: at their terminals,
// ahead of their cards and supplies, and inside their devices. A wrong one feeds a
// fault, or blows at work.
func (r *recordBuilder) fuses() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Fuse, checked dead", Width: 42 * render.MM, Face: fonts.MonoBold},
		{Head: "Where", Width: 44 * render.MM},
		{Head: "Rating as drawn", Width: 30 * render.MM, Face: fonts.Bold},
		{Head: "Rating found", Width: 30 * render.MM, Hand: paper.Reading},
		{Head: "Same", Width: 12 * render.MM},
		paper.Initials,
	}}
	seen := map[any]bool{}
	add := func(of any, name, where, rating string) {
		if seen[of] {
			return
		}
		seen[of] = true
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("fuse-%d", len(t.Rows)+1), Cells: []paper.Cell{{S: name}, {S: where}, {S: rating}, {}, {Kind: paper.Tick}}})
	}
	terminal := func(x *model.Terminal, of string) {
		if x != nil && x.Kind == model.Fused {
			add(x, x.Tag(), of, cmp.Or(x.Fuse.Text, paper.NotGiven+": fused RATING"))
		}
	}
	supply := func(s *model.Part) {
		if s == nil || s.Supply == nil {
			return
		}
		where := "ahead of " + s.Tag
		if s.Supply.Circuit != "" {
			where += ", " + s.Supply.Circuit
		}
		add(s, s.Tag, where, cmp.Or(s.Supply.Fuse.Text, paper.NotGiven+": fuse of "+s.Tag))
	}
	for _, c := range r.loop.Circuits {
		if c.Broken || c.Later(r.plant) {
			continue
		}
		for _, s := range wording.CircuitStations(c) {
			p := s.Part
			for _, termination := range s.Terminations {
				terminal(termination.In, "in "+c.Name)
			}
			if p.Device != nil && p.Device.Fuse.Given() {
				add(p, p.Tag, "inside", p.Device.Fuse.Text)
			}
			if p.Card != nil && p.Card.Powers && p.Card.From != nil {
				terminal(p.Card.From, "ahead of "+p.Tag)
				if fed := p.Card.From.Fed; fed != nil {
					supply(fed.Supply.Part)
				}
			}
		}
		for _, l := range c.Borrowed() {
			for _, x := range l.Conductors {
				terminal(x.Termination.In, "in "+l.Circuit.Name)
			}
		}
		supply(c.Supply())
	}
	return t
}
