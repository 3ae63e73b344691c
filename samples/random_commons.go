package samples

import (
	"fmt"
	"strconv"
	"strings"
)

// This file adds what shares a core to a random plant, behind all others and by chances of
// its own.

// threeWireInstrument is a transmitter with its supply and its signal on three cores.
var threeWireInstrument = instrument{"AT", "range: 0..1000 ppm|draws: 150 mA|lift-off: 16 V|drop: 4 V", "three-wire transmitter", "low", 3, "{kind: AI, power: loop, ohms: 250 ohm", nil}

// sharers adds loops with devices that share a core.
func (w *works) sharers(n int) {
	for range n {
		w.number++
		l := &drawnLoop{}
		switch w.IntN(4) {
		case 0, 1:
			w.threeWire(l)
		case 2:
			w.probe(l)
		default:
			w.plusContact(l)
		}
		w.looped(l)
	}
}

// threeWire adds a three-wire transmitter of either common.
func (w *works) threeWire(l *drawnLoop) {
	d, end, made := w.tag("AT"), w.one("PNP", "NPN"), "kind: three-wire transmitter"
	for _, s := range strings.Split(w.one("draws: 150 mA", "draws: 2 W")+"|range: 0..1000 ppm|lift-off: 16 V|drop: 4 V", "|") {
		if w.chance(80) {
			made += ", " + s
		}
	}
	if end == "NPN" {
		made += ", output: sinking"
	} else {
		made += w.one("", ", output: sourcing")
	}
	l.device(d, made+w.maybe(40, ", at: %s", w.names.words(w, 30)))
	l.circuit(w.walk(d, w.route(threeWireInstrument, d, end, "", false)))
	if w.chance(40) {
		l.function(w.tag("AAH"), "kind: alarm, reads: ["+strconv.Quote(d)+"], alarms: [H 150 ppm]")
	}
}

// probeInstrument is a displacement probe with its driver.
var probeInstrument = instrument{"VT", "", "displacement probe", "probe", 3, "{kind: displacement, power: card, volts: 24 V, ohms: 10 kohm", nil}

// probe adds a displacement probe on a monitor, or on a supply below common of its own.
func (w *works) probe(l *drawnLoop) {
	d, made := w.tag("VT"), "kind: displacement probe"
	for _, s := range strings.Split(w.one("calibrated: 250..2250 um|scale: 7.87 mV/um|range: 0..200 um", "calibrated: 10..90 mil|scale: 200 mV/mil|range: 0..8 mil")+"|gap: -10.5..-9.5 V|draws: 12 mA|lift-off: 17.5 V|ohms: 9.3 ohm", "|") {
		if w.chance(85) {
			made += ", " + s
		}
	}
	l.device(d, made)
	steps := w.route(probeInstrument, d, "card", "", false)
	if w.chance(40) {
		cab := w.place("cabinets", w.IntN(2))
		screened := !w.plain && w.earth == "cabinet"
		run, _ := w.run(d, cab.tag, makeUp{"probe", 3, screened, 1})
		at, _ := w.land(cab, "probe", 3, screened, screened)
		s := w.fixed(cab, "below", func(s *strip, n int) string {
			t := w.tag("PS")
			cab.extra["supplies"] = append(cab.extra["supplies"], quoted(t)+": {volts: -24 V DC}")
			cab.extra["feeds"] = append(cab.extra["feeds"], quoted(t+" -24V to "+s.name+" F1"), quoted(t+" 0V to "+s.name+" C1"))
			n = max(n+1, 3)
			return fmt.Sprintf("{terminals: [F1..F%[1]d fused 0.25 A, C1..C%[1]d], jumpers: [F1..F%[1]d, C1..C%[1]d]}", n)
		})
		n := s.used + 1 // the first takes the feed
		card := w.channel(cab, "VM", "{kind: displacement, power: loop, ohms: 10 kohm")
		steps = []string{d, run, at, fmt.Sprintf("+: [wires, %s/%s C%d, wires, %s +]\n          -: [wires, %[1]s/%[2]s F%[3]d]\n          Q: [wires, %[4]s Q]", cab.tag, s.name, n, card)}
	}
	l.circuit(w.walk(d, steps))
}

// plusContact adds a contact on a card whose channels share their +: it goes to the - of the
// supply.
func (w *works) plusContact(l *drawnLoop) {
	cab := w.place("cabinets", w.IntN(2))
	d := w.tag("ZS")
	l.device(d, "kind: contact, set: opens when open")
	run, _ := w.run(d, cab.tag, makeUp{"sw", 2, false, 1})
	at, _ := w.land(cab, "sw", 2, false, false)
	_, minus := w.feed(cab)
	known := len(cab.cards)
	channel := w.channel(cab, "DI", "{kind: DI, power: card, volts: 24 V, ohms: 3.3 kohm")
	if strip, _, _ := strings.Cut(minus, " "); strip == cab.fed { // whose supply feeds the commons
		channel = w.channel(cab, "DI", "{kind: DI, power: loop, ohms: 3.3 kohm, common: P +")
		for _, c := range cab.cards[known:] {
			if strings.HasSuffix(c.made, "P +") {
				cab.plus = append(cab.plus, c.tag)
			}
		}
		l.circuit(w.walk(d, []string{d, run, at, fmt.Sprintf("1: [wires, %s]\n          2: [wires, %s]", minus, channel)}))
		return
	}
	l.circuit(w.walk(d, []string{d, run, at, "wires", channel}))
}

// commonCores adds contacts of one loop or two that end on common cores of a box: on a card
// that is fed beside them, or on one that feeds its common itself. At times a pair of common
// cores brings power to a transmitter there, too.
func (w *works) commonCores() {
	cab, box := w.newPlace("cabinets", "MC"), w.newPlace("boxes", "JB")
	n := 2 + w.IntN(3)
	name := w.names.strip(1)
	box.strips = append(box.strips, &strip{name: name, made: func(*strip, int) string {
		return fmt.Sprintf("{terminals: 1..%d, jumpers: [%d..%d, %d..%d, %d..%d]}", 2*n+5, n+1, 2*n+1, 2*n+2, 2*n+3, 2*n+4, 2*n+5)
	}})
	at := func(terminals ...int) string {
		words := box.tag + "/" + name
		for _, t := range terminals {
			words += " " + strconv.Itoa(t)
		}
		return words
	}
	home := func(legs int) []string { // to the cabinet
		words, _ := w.land(cab, "single", legs, false, false)
		return []string{w.cores(box.tag, cab.tag, legs), words, "wires"}
	}
	fuse, minus := w.feed(cab)
	channel, back := func() string { return w.channel(cab, "DI", "{kind: DI, power: loop, ohms: 3.3 kohm, common: M") }, fuse
	if w.chance(50) {
		own := &card{tag: w.tag("DI"), made: "{kind: DI, power: card, volts: 24 V, ohms: 3.3 kohm, common: C", channels: 8}
		cab.cards = append(cab.cards, own)
		channel, back = func() string { own.used++; return fmt.Sprintf("%s channel %d", own.tag, own.used) }, own.tag+" C"
	}
	loops, spread := []*drawnLoop{{}, {}}, 1+w.IntN(2)
	for i := range n {
		d := w.tag("ZS")
		loops[i%spread].device(d, "kind: contact"+w.maybe(50, ", set: %s", "opens when open"))
		run, _ := w.run(d, box.tag, makeUp{"sw", 2, false, 1})
		loops[i%spread].circuit(w.walk(d, []string{d, run, at(i+1, n+2+i), "1: [" + strings.Join(append(home(1), channel()), ", ") + "]"}))
	}
	loops[0].circuit(w.walk(w.tag("C"), append(append([]string{at(n + 1)}, home(1)...), back)))
	if l := loops[1]; w.chance(50) {
		d, plus := w.tag("QT"), 2*n+2
		l.device(d, "kind: four-wire transmitter DC, range: 0..14 pH"+w.maybe(70, ", draws: %s", "120 mA")+w.maybe(70, ", lift-off: %s", "16 V"))
		l.circuit(w.walk(d, w.route(instrument{"QT", "", "four-wire transmitter DC", "low", 2, "{kind: AI, power: loop, ohms: 250 ohm", nil}, d, "card", "", false)))
		run, _ := w.run(d, box.tag, makeUp{"24 V", 2, false, 1})
		l.circuit(w.walk(d+" 24 V", []string{d + " P+ P-", run, at(plus+1, plus+3)}))
		fuse, minus = w.feed(cab)
		_, zero, _ := strings.Cut(minus, " ")
		l.circuit(w.walk(w.tag("C"), append(append([]string{at(plus, plus+2)}, home(2)...), fuse+" "+zero)))
	}
	for _, c := range cab.cards {
		if strings.HasSuffix(c.made, "common: M") {
			cab.commons = append(cab.commons, c.tag)
		}
	}
	for _, l := range loops {
		if len(l.circuits) > 0 {
			w.looped(l)
		}
	}
}
