package model

import (
	"os"
	"slices"
	"testing"
)

// TestInService: the places of the sample that hold existing wiring, and the
// existing loops there, by eye from its text: L-2220 over the old box JB-22, the
// cable of P-2109 to JB-21, and W-911 to the panel. Were P-2109 in service too, it
// would be so over new copper from JB-21 by way of MC-1 to the cards.
func TestInService(t *testing.T) {
	t.Parallel()
	p, _, problems := Read(os.DirFS("../samples"), "tern-island")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	compareService(t, p, map[string][]string{
		"JB-21": {}, "JB-22": {"L-2220"}, "MC-2": {"L-2220"}, "MC-1": {}, "PCS-1": nil, "CP-1": {}, "JB-23": nil, "JB-24": nil,
	})
	for _, l := range p.Loops {
		if l.Tag == "P-2109" {
			l.Status = InPlace
		}
	}
	compareService(t, p, map[string][]string{
		"JB-21": {"P-2109"}, "JB-22": {"L-2220"}, "MC-2": {"L-2220"}, "MC-1": {"P-2109"}, "PCS-1": {"P-2109"}, "CP-1": {}, "JB-23": nil, "JB-24": nil,
	})
}

func compareService(t *testing.T, p *Plant, wants map[string][]string) {
	t.Helper()
	found := p.InService()
	for tag, want := range wants {
		loops, wired := found[p.Place(tag)]
		var got []string
		for _, l := range loops {
			got = append(got, l.Tag)
		}
		if wired != (want != nil) || !slices.Equal(got, want) {
			t.Errorf("%s: existing wiring %v, loops %v, want %v", tag, wired, got, want)
		}
	}
}

// TestCircuitLater: of the sample only the loop that room is kept for waits; a
// future cable makes a circuit wait, and its loop check is not counted.
func TestCircuitLater(t *testing.T) {
	t.Parallel()
	p, _, _ := Read(os.DirFS("../samples"), "tern-island")
	p.circuits(func(c *Circuit) {
		if got := c.Later(p); got != (c.Loop.Tag == "L-2150") {
			t.Errorf("%s waits for a later stage: %v", c.Name, got)
		}
	})
	c := p.Loops[0].Circuits[0]
	c.Conductors(p)[0].Status = Later
	m := material(p, Scope{Loops: p.Loops[:1]})
	if !c.Later(p) || itemOf(m, tests, loopTest).N > 0 {
		t.Errorf("%s waits: %v, loop checks %v", c.Name, c.Later(p), itemOf(m, tests, loopTest).N)
	}
}
