package pack

import (
	"os"
	"slices"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/material"
)

// TestLinksInPack: what stops with a link of samples/wren-creek, told by hand from its text:
// RC-40 has two links, RC-41 one, and PS-41 feeds both of its cards, of which the outputs
// drive their circuits themselves.
func TestLinksInPack(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, os.DirFS("../../samples"), "wren-creek", false)
	pl := layout.New(p, false, nil)
	for tag, want := range map[string]string{
		"RL-40A": "link RL-40A: RC-40, remote I/O of PCS-1; without RL-40A it stays joined by RL-40B. Prove the other way healthy before this one is opened",
		"RL-41":  "link RL-41: RC-41, remote I/O of PCS-1; without RL-41 it is cut off; stops W-411",
		"W-411":  "Card AI-41-1 of RC-41 off: stops W-411. Card AO-41-2 of RC-41 off: stops W-411",
	} {
		l := p.Loops[slices.IndexFunc(p.Loops, func(l *model.Loop) bool { return l.Tag == tag })]
		pack, err := New(pl, []Asked{{"loop", tag}}, material.Scope{Loops: []*model.Loop{l}}, false)
		if err != nil {
			t.Fatal(err)
		}
		if rows := append(pack.locked(), pack.unlinked()...); len(rows) != 1 || !strings.Contains(rows[0], want) {
			t.Errorf("the list of %s is %q, and has no %q", tag, rows, want)
		}
		for _, place := range []string{"RC-40", "PCS-1"} { // both ends of a link come with it
			if tag == "RL-40A" && !slices.ContainsFunc(pack.Sheets, func(s *sheet.Sheet) bool { return s.Place != nil && s.Place.Tag == place }) {
				t.Errorf("the pack of %s has no sheet of %s", tag, place)
			}
		}
	}
}
