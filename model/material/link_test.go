package material_test

import (
	"os"
	"slices"
	"testing"

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
