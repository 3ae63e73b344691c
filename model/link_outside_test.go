package model_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// racks are three on a ring: RC-1 to PCS, RC-1 to RC-2, RC-2 to PCS; and RC-3 behind RC-2
// alone. Which link cuts which rack off is what taking that edge out of the drawing shows.
const racks = `plant: Racks
cabinets:
  RC-1: {at: one, controller: PCS}
  RC-2: {at: two, controller: PCS}
  RC-3: {at: three, controller: PCS}
systems:
  PCS: {at: rack room}
segments:
  A: {kind: fibre link, service: A, ends: [RC-1 port 1, PCS port 1]}
  B: {kind: Ethernet link, service: B, ends: [RC-1 port 2, RC-2 port 1]}
  C: {kind: fibre link, service: C, ends: [RC-2 port 2, PCS port 2]%s}
  D: {kind: Ethernet link, service: D, ends: [RC-3 port 1, RC-2 port 3]}
`

func TestCutOff(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ more, want string }{
		{"", "D cuts off RC-3"},
		{", status: future", "A cuts off RC-1 RC-2 RC-3; B cuts off RC-2 RC-3; D cuts off RC-3"}, // no ring yet
	} {
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: fmt.Appendf(nil, racks, c.more)}}, "plant.yaml")
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		var cut []string
		for _, l := range p.Loops {
			words := ""
			for _, rack := range p.Racks() {
				if !p.Reaches(rack) {
					t.Errorf("%s is not reached", rack.Tag)
				}
				if p.CutOff(rack, l) {
					words += " " + rack.Tag
				}
			}
			if words != "" {
				cut = append(cut, l.Tag+" cuts off"+words)
			}
		}
		if got := strings.Join(cut, "; "); got != c.want {
			t.Errorf("with C%s: %s; want %s", c.more, got, c.want)
		}
	}
}

// Of wren-creek, either link of RC-40 may go, and the only one of RC-41 may not.
func TestSampleRacks(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../samples"), "wren-creek")
	for rack, want := range map[string]string{"RC-40": "RL-40A RL-40B; L-401; cut off by", "RC-41": "RL-41; W-411; cut off by RL-41"} {
		pl := p.Place(rack)
		var links, on, cut []string
		for _, l := range p.Links(pl) {
			links = append(links, l.Tag)
			if p.CutOff(pl, l) {
				cut = append(cut, l.Tag)
			}
		}
		for _, l := range p.OnRack(pl) {
			on = append(on, l.Tag)
		}
		got := strings.TrimSpace(strings.Join(links, " ") + "; " + strings.Join(on, " ") + "; cut off by " + strings.Join(cut, " "))
		if got != want {
			t.Errorf("%s: %s; want %s", rack, got, want)
		}
	}
}
