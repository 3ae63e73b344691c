package material_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/material"
	"ringout/model/read"
)

// TestLinkLabels: the cable of a link by plugs has a tag at each of its two ends, as
// samples/wren-creek names them.
func TestLinkLabels(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "wren-creek")
	var ends []string
	for _, l := range material.Labels(p) {
		if l.Of == "F-401" || l.Of == "N-402" {
			ends = append(ends, l.Of+" at "+l.End+" to "+l.Far+": "+l.Text+", "+l.Type)
		}
	}
	want := []string{
		"F-401 at RC-40 port 1 to PCS-1: F-401, fibre link", "F-401 at PCS-1 port A3 to RC-40: F-401, fibre link",
		"N-402 at RC-40 port 2 to PCS-1: N-402, Ethernet link", "N-402 at PCS-1 port B3 to RC-40: N-402, Ethernet link",
	}
	if !slices.Equal(ends, want) {
		t.Errorf("%q, want %q", ends, want)
	}
}

// TestLinkMaterial: of RC-40, counted by hand in samples/wren-creek: a fibre cable of 820 ft and
// an Ethernet cable of 290 ft come to it beside those of two instruments, each with two tags;
// each link is proved once, and each is taken away once. RC-41 has no link by plugs, and loses
// its serial link once.
func TestLinkMaterial(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "wren-creek")
	for _, known := range []struct {
		scope material.Scope
		want  map[string]float64
	}{
		{material.Scope{Places: []*model.Place{p.Place("RC-40")}}, map[string]float64{
			"cable fibre link": 820, "cable Ethernet link": 290, "cable one-pair": 145, "cable tags ": 8,
			"tests link, plug to plug": 2, "tests loss of a link, at each rack": 2}},
		{material.Scope{Places: []*model.Place{p.Place("RC-41")}}, map[string]float64{
			"cable fibre link": 0, "tests link, plug to plug": 0, "tests loss of a link, at each rack": 1}},
		{material.Scope{Loops: loops(p, "RL-40B")}, map[string]float64{
			"cable fibre link": 0, "cable Ethernet link": 290, "cable tags ": 2, "tests link, plug to plug": 1, "tests loss of a link, at each rack": 1}},
	} {
		got := map[string]float64{}
		for _, x := range material.Material(p, known.scope, nil) {
			got[string(x.What)+" "+x.Of] += x.N
		}
		for key, n := range known.want {
			if got[key] != n {
				t.Errorf("%q: %g, want %g", key, got[key], n)
			}
		}
	}
}

// TestSharedLinkCable: two links in one cable are one cable to buy, and it is there as soon as
// one of them is.
func TestSharedLinkCable(t *testing.T) {
	t.Parallel()
	text := `
plant: One cable
cabinets: {RC-1: {controller: PCS-1}}
systems: {PCS-1: {}}
segments:
  A: {kind: fibre link, service: line A, ends: [RC-1 port 1, PCS-1 port 1], cable: F-1, fibres: 1 2, STATUS}
  B: {kind: fibre link, service: line B, ends: [RC-1 port 2, PCS-1 port 2], cable: F-1, fibres: 3 4, length: 60 m, route: T1}
  C: {kind: fibre link, service: line C, ends: [RC-1 port 3, PCS-1 port 3], length: 70 m}
`
	for status, want := range map[string][2]float64{"status: existing": {70, 1}, "status: future": {130, 2}} {
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(strings.Replace(text, "STATUS", status, 1))}}, "p.yaml")
		if problems.Errors() > 0 {
			t.Fatal(problems)
		}
		if all := p.PlugCables(); len(all) != 2 || len(all[0].Links) != 2 || all[0].Route != "T1" || all[1].Tag != "" {
			t.Fatalf("%+v", all)
		}
		for _, x := range material.Material(p, material.Scope{Loops: p.Loops}, nil) {
			if x.What == "cable" && (x.N != want[0] || float64(x.Lengths) != want[1]) {
				t.Errorf("%s: %g m in %d, want %v", status, x.N, x.Lengths, want)
			}
		}
	}
}

func loops(p *model.Plant, tag string) []*model.Loop {
	return slices.DeleteFunc(slices.Clone(p.Loops), func(l *model.Loop) bool { return l.Tag != tag })
}
