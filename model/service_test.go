package model_test

import (
	"os"
	"slices"
	"testing"

	"ringout/model"
	"ringout/model/read"
)

// TestInService: the places of the sample that hold existing wiring, and the
// existing loops there, by eye from its text: L-2220 over the old box JB-22, the
// cable of P-2109 to JB-21, and W-911 to the panel. Were P-2109 in service too, it
// would be so over new copper from JB-21 by way of MC-1 to the cards.
func TestInService(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../samples"), "tern-island")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	compareService(t, p, map[string][]string{
		"JB-21": {}, "JB-22": {"L-2220"}, "MC-2": {"L-2220"}, "MC-1": {}, "PCS-1": nil, "CP-1": {}, "JB-23": nil, "JB-24": nil,
	})
	for _, l := range p.Loops {
		if l.Tag == "P-2109" {
			l.Status = model.Existing
		}
	}
	compareService(t, p, map[string][]string{
		"JB-21": {"P-2109"}, "JB-22": {"L-2220"}, "MC-2": {"L-2220"}, "MC-1": {"P-2109"}, "PCS-1": {"P-2109"}, "CP-1": {}, "JB-23": nil, "JB-24": nil,
	})
}

func compareService(t *testing.T, p *model.Plant, wants map[string][]string) {
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
