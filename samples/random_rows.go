package samples

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
)

// This file adds loops that are alike to a random plant: a pattern, with rows that fill it,
// in places of their own, so that the rest of the plant stays what its seed made it.

// alike returns the text with so many rows more; seed makes them.
func (w *works) alike(text string, seed uint64, rows int) string {
	if rows == 0 {
		return text
	}
	w.Rand = rand.New(rand.NewPCG(seed, 0x726f7773))
	put := func(section, entries string) {
		head := "\n" + section + ":\n"
		if at := strings.Index("\n"+text, head); at >= 0 {
			at += len(head) - 1
			text = text[:at] + entries + text[at:]
			return
		}
		text += head[1:] + entries
	}
	const number = 700 // of the first row, in place of which tags have the blank
	blank := func(letters string) string {
		return strings.ReplaceAll(w.names.tag(letters, number), strconv.Itoa(number), "<n>")
	}
	box, cab, card, home := quoted(w.names.tag("QB", 1)), quoted(w.names.tag("QC", 1)), w.names.tag("QA", 1), w.names.tag("QH", 1)
	device, loop, cable := blank("QT"), blank("Q"), blank("QW")
	strips, land := w.alikeStrips(rows)
	kind := w.pick(0, 1, 2)
	made := []string{"{kind: transmitter, range: <range>, model: <model>}", "{kind: positioner, range: <range>, model: <model>}", "{kind: contact, set: <range>, model: <model>}"}[kind]
	cards := []string{"kind: AI, power: card, volts: 24 V", "kind: AO, drive: 750 ohm", "kind: DI, power: card, volts: 24 V"}[kind]
	put("cable types", "  rows one: {pairs: 1, conductor: 1.0 mm2, screen: none, code: black/white}\n"+
		"  rows many: {pairs: "+strconv.Itoa(rows+2)+", conductor: 0.75 mm2, screen: none, code: black/white numbered}\n")
	put("boxes", fmt.Sprintf("  %s: {strips: {R1: %s}}\n", box, strips))
	put("cabinets", fmt.Sprintf("  %s:\n    strips: {R1: %s}\n    cards: {%s: {%s, channels: %d}}\n", cab, strips, quoted(card), cards, rows+1))
	put("cables", fmt.Sprintf("  %s: {type: rows many, from: %s, to: %s, length: 80 m}\n", quoted(home), box, cab))
	var b strings.Builder
	fmt.Fprintf(&b, "patterns:\n  rows of one:\n    cables: {%s: {type: rows one, from: %s, to: %s, length: <length>}}\n", quoted(cable), quoted(device), box)
	fmt.Fprintf(&b, "    loops:\n      %s:\n        service: <service>\n        devices: {%s: %s}\n        circuits:\n          %s:\n", quoted(loop), quoted(device), made, quoted(device))
	for _, step := range []string{device, cable, w.names.tag("QB", 1) + "/R1 " + land, home + " pair <pair>", w.names.tag("QC", 1) + "/R1 " + land, "wires", card + " channel <next>"} {
		fmt.Fprintf(&b, "            - %s\n", quoted(step))
	}
	fmt.Fprintf(&b, "like loops:\n  - pattern: rows of one\n    pair: %s\n    rows:\n", w.one("<next>", "1"))
	for i := range rows {
		span := w.one("0..450 m3/h", "-20..80 °C", "NOT GIVEN")
		if kind == 2 {
			span = w.one("opens above 7.5 bar", "NOT GIVEN")
		}
		fmt.Fprintf(&b, "      - {n: %d, service: %s, range: %s, model: %s, length: %d m, pair: %s}\n", number+1+i, strconv.Quote(w.names.words(w, 30)), span,
			w.one("NOT GIVEN", "R-12"), 5+w.IntN(90), w.one("<next>", strconv.Itoa(rows+2-i), "<next>"))
	}
	return text + b.String()
}

// alikeStrips is a strip for so many rows, and how they land on it: by twos or threes, on
// one deck or two, on plain or fused terminals.
func (w *works) alikeStrips(rows int) (strip, land string) {
	switch n := w.IntN(4); n {
	case 0:
		return fmt.Sprintf("{terminals: 1..%d, marks: + - S}", 3*rows+3), "<next> next"
	case 1:
		return fmt.Sprintf("{terminals: 1..%d decks A B}", rows+2), "<next> next"
	case 2:
		return fmt.Sprintf("{terminals: [1..2, F1..F%d, 3..4]}", 2*rows+1), "F<next> F<next>"
	}
	return fmt.Sprintf("{terminals: 1..%d}", 2*rows+2), "<next> next"
}
