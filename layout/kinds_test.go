package layout

import (
	"os"
	"testing"
	"testing/fstest"

	"ringout/layout/symbol"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/samples"
)

// TestKindsAreDrawn: every kind of device and of card is in a plant that tests draw: one
// that examples of findings are parts of, or a random one.
func TestKindsAreDrawn(t *testing.T) {
	t.Parallel()
	drawn := map[*model.Kind]bool{}
	note := func(p *model.Plant) {
		for _, x := range p.PartByTag {
			drawn[x.Kind] = true
		}
	}
	for _, name := range []string{"signal", "switch", "heat", "safe"} {
		p, _, _ := read.Read(os.DirFS("../model/finding/testdata/examples"), name+".yaml")
		note(p)
	}
	for seed := range uint64(40) {
		p, _, _ := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(seed, 4))}}, ".")
		note(p)
	}
	for _, table := range [][]*model.Kind{model.DeviceKinds, model.CardKinds, model.BarrierKinds, model.CouplerKinds} {
		for _, k := range table {
			if !drawn[k] {
				t.Errorf("%q is in no plant of examples and no random plant", k.Name)
			}
		}
	}
}

// TestPensAreUsed: every pen draws something on the sheets of a plant, or in a symbol.
func TestPensAreUsed(t *testing.T) {
	t.Parallel()
	used := map[render.Pen]bool{}
	note := func(items []render.Item) {
		render.Reach(items, func(item render.Item, _, _ render.Point) {
			switch m := item.(type) {
			case *render.Line:
				used[m.Pen] = true
			case *render.Circle:
				used[m.Pen] = true
			}
		})
	}
	p, _, _ := read.Read(os.DirFS("../samples"), "tern-island")
	for page := range New(p, false, nil).Pages() {
		note(page.Items)
	}
	for _, s := range symbol.Symbols() {
		note(s.Items)
	}
	for pen, style := range render.Pens {
		if !used[render.Pen(pen)] {
			t.Errorf("nothing is drawn with the pen %s", style.Name)
		}
	}
}
