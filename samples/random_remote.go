package samples

import (
	"fmt"
)

// This file adds remote I/O to random plants: a rack with its cards and loops, and the links
// that join it to a system.

// remote adds a rack, the loops on it, and one link or two.
func (w *works) remote() {
	screened := !w.plain && w.earth == "cabinet"
	rack, system := w.newPlace("cabinets", "RC"), w.newPlace("systems", "PCS")
	rack.extra["controller"] = []string{quoted(system.tag)}
	ai, ao := w.tag("AI"), w.tag("AO")
	rack.cards = append(rack.cards,
		&card{tag: ai, made: "{kind: AI, power: card, volts: 24 V, ohms: 250 ohm", used: 1, channels: 4},
		&card{tag: ao, made: "{kind: AO, drive: 600 ohm" + w.maybe(60, ", on link loss: %s", w.names.words(w, 24)), used: 1, channels: 4})
	system.cards = append(system.cards, &card{tag: w.tag("SL"), made: "{kind: serial", channels: 2})
	bond := ""
	if screened {
		bond = ", bonded: 3..24 step 3 to IE"
	}
	strip := w.joints(rack, 8, bond, false)
	for i := range 1 + w.IntN(4) {
		card := w.one(ai, ao)
		w.onRack(rack, fmt.Sprintf("%s, wires, %s channel %d", lands(strip, i+1, screened, false), card, i+1), screened, card == ao)
	}
	first := w.IntN(3)
	w.linked(first, 1, rack, system, screened)
	if w.chance(60) {
		w.linked((first+1+w.IntN(2))%3, 2, rack, system, screened)
	}
}

// onRack adds a loop of one circuit that ends in the rack, an output or an input.
func (w *works) onRack(rack *place, end string, screened, output bool) {
	d, made := w.tag("PT"), "{kind: transmitter, range: 0..6 bar, lift-off: 10.5 V}"
	if output {
		d, made = w.tag("PY"), "{kind: I/P converter, ohms: 170 ohm}"
	}
	fmt.Fprintf(&w.loops, "  %s:\n    service: %s\n    devices:\n      %s: %s\n    circuits:\n      %s: [%s, %s, %s]\n",
		quoted(w.tag("P")), quoted(w.names.words(w, 30)), quoted(d), made, quoted(d), quoted(d), w.pairCable(d, rack.tag, screened), end)
}

// linked adds a fibre link, an Ethernet link or a serial link from a rack to a system.
func (w *works) linked(kind, n int, rack, system *place, screened bool) {
	if kind == 2 {
		w.serialLink(rack, system, screened)
		return
	}
	w.begin([]string{"fibre link", "Ethernet link"}[kind], "RL")
	// A port of its own for each link, a way of its own, no longer than its kind allows.
	fmt.Fprintf(&w.segments, "    ends: [%s, %s]\n%s%s%s", quoted(fmt.Sprintf("%s port %d", rack.tag, n)), quoted(fmt.Sprintf("%s port %d", system.tag, n)),
		w.maybe(80, "    cable: %s\n", w.tag("F")), w.maybe(80, "    length: %s\n", w.one("80 m", "95 m", "250 ft")), w.maybe(60, "    route: %s\n", fmt.Sprintf("way %d", n)))
	if kind == 0 {
		w.segments.WriteString(w.maybe(70, "    fibres: %s\n", w.one("1 2", "7 8", `"11, 12"`)) + w.maybe(60, "    longest: %s\n", "2 km") + w.maybe(60, "    loss limit: %s\n", "6.5 dB"))
	}
}

// serialLink joins a head in the rack with a port of a card of the system by one pair.
func (w *works) serialLink(rack, system *place, screened bool) {
	bond := ""
	if screened {
		bond = ", bonded: 3 to IE"
	}
	head, port := w.tag("UY"), w.tag("SL")
	system.cards = append(system.cards, &card{tag: port, made: "{kind: serial", used: 1, channels: 2})
	strip := w.joints(rack, 1, bond, false)
	w.begin("serial link", "RL")
	w.ends = fmt.Sprintf("[%s, %s]", head, port)
	w.write([]string{fmt.Sprintf("%s: {kind: serial device, in: %s%s}", quoted(head), quoted(rack.tag), w.maybe(70, ", address: %s", "7"))},
		[]string{fmt.Sprintf("link: [%s + -, wires, %s, %s, %s channel 1]", head, lands(strip, 1, screened, false), w.pairCable(rack.tag, system.tag, screened), port)})
}
