package record

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/samples"
)

// TestWorkedContacts: a record has each contact worked by what works it on site. The contacts of
// an overload relay are not moved by the coil of its contactor (its test button moves them), and
// limit switches by their valve: the one at the shut end closes while the solenoid is off.
func TestWorkedContacts(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "heron-lock", false)
	said := func(loop string) string {
		pl, pages, _ := layouttest.Forms(t, formSet(p, false))
		var words []string
		for _, s := range pl.Sheets {
			if s.Kind.Name == sheet.Record && s.Loop.Tag == loop {
				words = append(words, layouttest.LettersOf(pages[s].Items)...)
			}
		}
		return strings.Join(words, " ")
	}
	for _, c := range []struct {
		loop       string
		says, nots []string
	}{
		{"M-701", []string{"trip the overload of M-701 by its test button; read across 96-95", "reset the overload of M-701; read across 96-95", "Supply off", "then open MCC-7/X7:L2", "prove dead before you lift a core"},
			[]string{"coil on; read across 96-95", "coil of M-701 on; read across 96-95", "coil of M-701 on; read across 97-98", "then lift a core"}},
		{"X-703", []string{"XV-703 fully open", "XV-703 fully shut", "XV-703 off its shut end", "then lift a core"}, []string{"coil of XY-703", "Contact open, at rest"}},
	} {
		all := said(c.loop)
		for _, s := range c.says {
			if !strings.Contains(all, s) {
				t.Errorf("%s does not say %q: %s", c.loop, s, all)
			}
		}
		for _, s := range c.nots {
			if strings.Contains(all, s) {
				t.Errorf("%s says %q", c.loop, s)
			}
		}
	}
}

// TestNoLiveCoreIsLifted: above extra-low voltage no row of a loop check has a core lifted, but
// after it is proved dead.
func TestNoLiveCoreIsLifted(t *testing.T) {
	t.Parallel()
	plants := []*model.Plant{layouttest.PlantOf(t, os.DirFS("../../samples"), "heron-lock", false), layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false)}
	for seed := range uint64(samples.Many(t, 2, 6, 40)) {
		plants = append(plants, layouttest.PlantOf(t, fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(seed, 8))}}, ".", false))
	}
	dangerous := 0
	for i, p := range plants {
		pl := newSet(p, false, nil)
		for j, l := range p.Loops {
			all := slices.DeleteFunc(slices.Clone(l.Circuits), func(c *model.Circuit) bool { return c.Later(p) })
			if len(all) == 0 || slices.ContainsFunc(all, func(c *model.Circuit) bool { return c.Broken || !c.Mains() }) {
				continue // with others, which cores of may be lifted
			}
			dangerous++
			r := &recordBuilder{pl: pl, plant: p, loop: l, own: ownPoint(j)}
			for _, row := range layouttest.RowsOf(r.signals()...) {
				if s := fmt.Sprint(row); strings.Contains(s, "lift") && !strings.Contains(s, "proved dead") {
					t.Errorf("plant %d, loop %s: %s", i, l.Tag, s)
				}
			}
		}
	}
	if dangerous == 0 {
		t.Error("no circuit can kill: nothing was put to the test")
	}
}
