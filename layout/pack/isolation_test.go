package pack

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/model"
	"ringout/model/material"
)

// dock is the cold store with each of its door calls in a loop of its own, the second with the
// core that brings both back to their card, and a link in that core.
func dock(t *testing.T) *model.Plant {
	t.Helper()
	data, err := os.ReadFile("../../samples/cold-store/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, x := range [][2]string{
		{"      HS-1403B: {kind: push-button, contacts: [13-14]}\n", ""},
		{"      HS-1403B:\n", "  H-1404:\n    service: Dock door call, far side\n    status: existing\n    devices: {HS-1403B: {kind: push-button, contacts: [13-14]}}\n    circuits:\n      HS-1403B:\n"},
		{"X3: {terminals: 1..8}", "X3: {terminals: [1..7, 8 disconnect]}"},
	} {
		if strings.Count(text, x[0]) != 1 {
			t.Fatalf("%d times %q", strings.Count(text, x[0]), x[0])
		}
		text = strings.Replace(text, x[0], x[1], 1)
	}
	return layouttest.PlantOf(t, fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml", false)
}

// TestSharedCoreInPack: what parts a core that several loops end on, be it the fuse in it, its
// link or the feed of its card, stands with the loops that are off with it, though they are no
// part of the work. Told by hand from the text of the plant: the dock's + comes by MC-1/X5 F7,
// the calls go back by MC-1/X3 8, and a call by itself ends on JB-2/X1 14.
func TestSharedCoreInPack(t *testing.T) {
	t.Parallel()
	p := dock(t)
	pl := layout.New(p, false, nil)
	for tag, want := range map[string]string{
		"Z-1401": "one pole only, not lockable: MC-1/X5:F7 0.5 A for Z-1401, also off: L-1402",
		"L-1402": "one pole only, not lockable: MC-1/X5:F7 0.5 A for L-1402, also off: Z-1401",
		"L-1301": "one pole only, not lockable: MC-1/X5:F4 0.5 A for L-1301",
		"H-1403": "not lockable: lift and cap MC-1/X3 4 JB-2/X1 14 (H-1403). With its feed isolated, also off: H-1404 (in service)",
		"H-1404": "open MC-1/X3 8 (H-1404 (in service); also off: H-1403). With its feed isolated, also off: H-1403",
	} {
		l := p.Loops[slices.IndexFunc(p.Loops, func(l *model.Loop) bool { return l.Tag == tag })]
		pack, err := New(pl, []Asked{{"loop", tag}}, material.Scope{Loops: []*model.Loop{l}}, false)
		if err != nil {
			t.Fatal(err)
		}
		if rows := append(pack.locked(), pack.lifted()...); len(rows) != 1 || !strings.HasSuffix(rows[0], want) {
			t.Errorf("the list of %s is %q, and does not end in %q", tag, rows, want)
		}
	}
}
