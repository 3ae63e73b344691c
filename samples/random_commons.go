package samples

import (
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
		w.threeWire(l)
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
