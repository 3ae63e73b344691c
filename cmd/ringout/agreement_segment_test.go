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
	readLink(l, found)
	rows := lines(l.words)
	readRacks(l, rows, found)
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

// serves is the fact that a loop is on a card of a rack that a link serves.
func serves(card, loop string) string { return "serves " + loop + " on " + card }

// readRacks reads the tables of racks: a card a row, with the loops on it.
func readRacks(l *leaf, rows [][]word, found *facts) {
	for i, heads := range rows {
		k := slices.IndexFunc(heads, func(w word) bool { return w.s == "Loops" })
		o := slices.IndexFunc(heads, func(w word) bool { return w.s == "Outputs" })
		if k < 0 || o < 0 {
			continue
		}
		for _, row := range rows[i+1:] {
			card := join(within(row, func(w word) bool { return w.x0 < heads[k].x0-1 }))
			on := join(within(row, func(w word) bool { return w.x0 >= heads[k].x0-1 && w.x0 < heads[o].x0-1 }))
			if on == "" {
				continue
			}
			tag, _, ok := strings.Cut(card, ",")
			if !ok {
				break // the next table, or the title block
			}
			for _, loop := range strings.Split(on, ", ") {
				found.add("%s", serves(tag, loop))
			}
		}
	}
}

// readLink reads a link by plugs: what its two boxes hold, left and right, and the words on
// the line between.
func readLink(l *leaf, found *facts) {
	upper := within(l.words, func(w word) bool { return w.y0 > 30 && w.y1 < 150 })
	at := slices.IndexFunc(upper, func(w word) bool { return w.s == "link" || w.s == "link," })
	if at < 0 {
		return
	}
	third := l.wide / 3
	parts := make([][]string, 3)
	for _, row := range lines(upper) {
		for i := range parts {
			cell := within(row, func(w word) bool { return w.mid() >= third*float64(i) && w.mid() < third*float64(i+1) })
			if s := join(cell); len(s) > 1 { // else a letter of the zones
				parts[i] = append(parts[i], s)
			}
		}
	}
	if len(parts[0]) < 2 || len(parts[2]) < 2 || len(parts[1]) < 4 {
		return
	}
	found.add("end 0 is %s %s", parts[0][0], parts[0][1])
	found.add("end 1 is %s %s", parts[2][0], parts[2][1])
	found.add("%s", strings.Join(parts[1][:4], ", "))
}

// segmentFacts are what the rows have to say, of the model alone. A device of a chain
// hangs at what its circuit lands on next.
func segmentFacts(p *model.Plant, l *model.Loop) (shown facts) {
	shown.add("code %s", model.WiringCode(l.Facts(p)))
	if l.Plugged() {
		k := l.Segment.Plug
		for i, e := range k.Ends {
			shown.add("end %d is %s", i, e.Tag())
		}
		shown.add("%s, cable %s, length %s, route %s", l.Segment.Kind.Words, strings.TrimSuffix(k.Cable+", fibres "+k.Fibres, ", fibres "), k.LengthWords(), k.Route)
	}
	for _, rack := range p.Racks() {
		for _, card := range rack.Parts {
			if card.Card == nil || !slices.Contains(l.Joins(), rack) {
				continue
			}
			for _, t := range card.Terminals {
				for _, u := range t.Ends {
					if c := u.Conductor.Circuit; c != nil && c.Loop != l && shown[serves(card.Tag, c.Loop.Tag)] == 0 {
						shown.add("%s", serves(card.Tag, c.Loop.Tag))
					}
				}
			}
		}
	}
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
			out := slices.IndexFunc(c.Runs(), func(r *model.Run) bool { return r.Cable != nil }) // past what it is wired to in its place
			cable, far := c.Runs()[out].Cable, st[out+1]
			at := far.Part.Tag
			if n := far.Terminations[0].In.Spur(); n > 0 {
				at += fmt.Sprintf(" spur %d", n)
			}
			shown.add("%s has address %d, %s at %s, hangs at %s by %s, %s, draws %s", d.Tag, d.Device.Address, d.Device.Range.Text, d.Device.At, at, cable.Tag, cable.LengthWords(), draws)
		}
	}
	return shown
}
