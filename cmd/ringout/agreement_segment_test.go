package main

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
)

// This file reads the table of devices of segment diagrams back.

// segmentHeads are the heads of the columns that are read, by their first words.
var segmentHeads = []string{"Device", "Type", "Address", "Range", "Location", "Connected", "Cable", "From", "Current", "Expected", "Wiring"}

// readSegment reads the rows of devices.
func readSegment(l *leaf, found *facts) {
	rows := lines(l.words)
	for i, heads := range rows {
		var from []float64
		for _, h := range segmentHeads {
			k := slices.IndexFunc(heads, func(w word) bool { return w.s == h })
			if k < 0 {
				break
			}
			from = append(from, heads[k].x0-1)
		}
		if len(from) < len(segmentHeads) {
			continue
		}
		from = append(from, l.wide)
		for _, row := range rows[i+1:] {
			cell := func(c int) string {
				return join(within(row, func(w word) bool { return w.x0 >= from[c] && w.x0 < from[c+1] }))
			}
			if strings.Contains(cell(0), " ") {
				break // the head of the sums: a tag has no blank
			}
			if cell(2) == "" || cell(6) == "" {
				continue // a letter of the zones
			}
			found.add("%s has address %s, %s at %s, hangs at %s by %s, draws %s", cell(0), cell(2), cell(3), cell(4), cell(5), cell(6), cell(8))
		}
	}
}

// segmentFacts are what the rows have to say, of the model alone. A device of a chain
// hangs at what its circuit lands on next.
func segmentFacts(p *model.Plant, l *model.Loop) (shown facts) {
	shown.add("code %s", model.WiringCode(l.Facts(p)))
	for _, d := range l.Devices {
		for _, c := range l.Circuits {
			st := c.Stations()
			if st[0].Part != d {
				continue
			}
			draws := ""
			if l.Segment.Kind.Powered {
				draws = fmt.Sprintf("%v mA", d.Device.SupplyCurrent)
				if d.Kind.Name == "multidrop device" && d.Device.SupplyCurrent == 0 {
					draws = "4 mA" // HART: a device on a multidrop line is fixed at that
				}
			}
			cable := c.Runs()[0].Cable
			at := st[1].Part.Tag
			if n := st[1].Terminations[0].In.Spur(); n > 0 {
				at += fmt.Sprintf(" spur %d", n)
			}
			shown.add("%s has address %d, %s at %s, hangs at %s by %s, %s, draws %s", d.Tag, d.Device.Address, d.Device.Range.Text, d.Device.At, at, cable.Tag, cable.LengthWords(), draws)
		}
	}
	return shown
}
