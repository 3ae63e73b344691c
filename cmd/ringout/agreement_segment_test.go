package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ringout/model"
	"ringout/samples"
)

// This file reads the table of devices of segment diagrams back.

// segmentHeads are the heads of the columns that are read, by their first words.
var segmentHeads = []string{"Device", "Type", "Address", "Range", "Location", "Connected", "Cable", "From", "Current", "Expected", "Wiring"}

// readSegment reads the rows of devices.
func readSegment(l *leaf, found *facts) {
	readLink(l, found)
	rows := lines(l.words)
	readRacks(l, rows, found)
	for _, row := range rows {
		if _, at, ok := strings.Cut(join(row), "screen on earth at "); ok {
			found.add("screen at %s", at)
		}
	}
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

// earthsOf is where the screens of a segment end on earth, as the model has their ends: all of
// it on one line, "NOT GIVEN" where none does, and nothing of a segment without screens.
func earthsOf(p *model.Plant, l *model.Loop) []string {
	var at []string
	screened := false
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(p) {
			screened = screened || w.Screen
			for _, e := range []model.End{w.From, w.To} {
				tag := ""
				switch t := e.Terminal; {
				case !w.Screen || t == nil:
				case t.Bond != nil:
					tag = t.Bond.Tag
				case t.Bar:
					tag = t.Part.Tag
				}
				if tag != "" && !slices.Contains(at, tag) {
					at = append(at, tag)
				}
			}
		}
	}
	switch {
	case len(at) > 0:
		return []string{strings.Join(at, ", ")}
	case screened:
		return []string{given("")}
	}
	return nil
}

// TestRandomSegmentsAgree reads the segment diagrams of random plants and their records back
// from the finished file, those of links among them.
func TestRandomSegmentsAgree(t *testing.T) {
	t.Parallel()
	read := 0
	for _, seed := range []uint64{116, 4, 11, 111, 21, 25, 54, 79}[:samples.Many(t, 2, 4, 8)] {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			plant := filepath.Join(t.TempDir(), "random")
			if err := os.MkdirAll(plant, 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(plant, "plant.yaml"), []byte(samples.Random(seed, 1)), 0o666); err != nil {
				t.Fatal(err)
			}
			b := drawBook(t, plant)
			shown, records := map[string]*facts{}, map[string]formRows{}
			for _, page := range b.leaves {
				if _, tag, _ := strings.Cut("-"+page.name, "-TR-"); page.kind == "Loop test record" {
					if records[tag] == nil {
						records[tag] = formRows{}
					}
					for _, table := range formTables(page) {
						records[tag].add(table)
					}
				}
				if page.kind != "Segment diagram" {
					continue
				}
				_, tag, _ := strings.Cut("-"+page.name, "-SD-")
				if shown[tag] == nil {
					shown[tag] = &facts{}
					shown[tag].add("code %s", page.code)
				}
				readSegment(page, shown[tag])
			}
			for _, l := range b.plant.Loops {
				if l.Segment == nil {
					continue
				}
				read++
				holdRecord(t, b.plant, l, records[l.Tag])
				want, got := segmentFacts(b.plant, l), shown[l.Tag]
				if got == nil {
					t.Errorf("segment %s is not drawn", l.Tag)
					continue
				}
				for _, f := range want.without(*got) {
					t.Errorf("segment %s does not show: %s", l.Tag, f)
				}
				for _, f := range got.without(want) {
					t.Errorf("segment %s shows: %s", l.Tag, f)
				}
			}
		})
	}
	if read < 2 {
		t.Errorf("%d segments read", read)
	}
}

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

// given is a text as it is read back; of NOT GIVEN the first word is not.
func given(s string) string {
	if s == "" {
		return "GIVEN"
	}
	return s
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
		cable := given(k.Cable)
		if l.Segment.Kind.Glass {
			cable += ", fibres " + given(k.Fibres)
		}
		shown.add("%s, cable %s, length %s, route %s", l.Segment.Kind.Words, cable, given(k.LengthWords()), given(k.Route))
	}
	for _, at := range earthsOf(p, l) {
		shown.add("screen at %s", at)
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
			address, length := given(""), cable.LengthWords()
			if d.Device.Address > 0 {
				address = fmt.Sprint(d.Device.Address)
			}
			if length == "" {
				length = "length " + given("")
			}
			shown.add("%s has address %s, %s at %s, hangs at %s by %s, %s, draws %s", d.Tag, address, d.Device.Range.Text, given(d.Device.At), at, cable.Tag, length, draws)
		}
	}
	return shown
}
