package model_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/diff"
	"ringout/model/read"
)

// TestTies: what a loop does to another shows in the inventory of the other, so
// that a change of it is told of both; within one loop there is no tie.
func TestTies(t *testing.T) {
	t.Parallel()
	const text = `
loops:
  F-1:
    service: Feed
    devices: {FT-1: {kind: transmitter}, FY-1: {kind: I/P converter, drives: FV-2}, FV-1: {kind: control valve}, FZ-1: {kind: positioner, drives: FV-1}}
    functions: {FIC-1: {kind: controller, reads: [a, b, b], drives: [a, c]}}
    circuits: {a: [FT-1]}
  F-2:
    service: Other
    devices: {FT-2: {kind: transmitter}, FV-2: {kind: control valve}}
    circuits: {b: [FT-2], c: [FT-2]}
`
	read := func(text string) *model.Plant {
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": &fstest.MapFile{Data: []byte(text)}}, "p.yaml")
		return p
	}
	p := read(text)
	var got []string
	for _, tie := range p.Loops[0].Ties() {
		if tie.Far(p.Loops[0]) != p.Loops[1] || tie.Far(p.Loops[1]) != p.Loops[0] || tie.Leaves(p.Loops[0]) == tie.Leaves(p.Loops[1]) {
			t.Errorf("%s: its two ends are mixed up", tie.Words())
		}
		got = append(got, map[bool]string{true: "out ", false: "in "}[tie.Leaves(p.Loops[0])]+tie.Words())
	}
	if want := []string{"out FY-1 drives FV-2", "in FIC-1 reads b", "out FIC-1 drives c"}; !slices.Equal(got, want) {
		t.Errorf("ties %q, not %q", got, want)
	}
	if more := p.Loops[1].Ties(); more != nil {
		t.Errorf("F-2 does nothing to others: %v", more)
	}
	got = nil
	for _, d := range diff.Compare(p, read(strings.Replace(text, "drives: [a, c]", "drives: [a]", 1))) {
		got = append(got, d.Of.Name()+": "+d.Words())
	}
	if want := []string{"loop F-1: function FIC-1: drives a, was a c", "loop F-2: flag FIC-1 drives c: gone"}; !slices.Equal(got, want) {
		t.Errorf("differences %q, not %q", got, want)
	}
}
