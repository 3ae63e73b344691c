package samples

import (
	"fmt"
	"strings"
)

// This file adds instruments of several circuits to a random plant, behind all else.

// instruments adds a loop with a controller, one with a conditioner whose outputs go to a
// recorder and to a card, and one with a trip amplifier, in a panel or a cabinet.
func (w *works) instruments() {
	cab := w.place(w.one("panels", "cabinets"), 0)
	for _, make := range []func(l *drawnLoop, cab *place){w.controlled, w.conditioned, w.tripped}[:1+w.IntN(3)] {
		w.number++
		l := &drawnLoop{}
		make(l, cab)
		w.looped(l)
	}
}

// in walks from a device to an input or output of an instrument, with or without a cable.
func (w *works) in(d, use string, cab *place, port string) string {
	legs := map[string]int{"low": 2, "rtd": 3}[use]
	steps := []string{d}
	if w.chance(80) {
		run, _ := w.run(d, cab.tag, makeUp{use, legs, false, 1})
		at, _ := w.land(cab, use, legs, false, false)
		steps = append(steps, run, at)
	} else if w.chance(50) {
		run, _ := w.run(d, cab.tag, makeUp{use, legs, false, 1})
		return w.walk(d, append(steps, run, port))
	} else {
		box := w.place("boxes", 0)
		out, _ := w.run(d, box.tag, makeUp{use, legs, false, 1})
		at, _ := w.land(box, use, legs, false, false)
		home, _ := w.run(box.tag, cab.tag, makeUp{use, legs, false, 4})
		there, _ := w.land(cab, use, legs, false, false)
		steps = append(steps, out, at, home, there)
	}
	return w.walk(d, append(steps, "wires", port))
}

// alarm is an alarm contact and what it acts at.
func (w *works) alarm() string {
	return w.one(", contacts: [H 11-12-14], alarms: [H 12]", ", contacts: [LL 11-12-14, H 31-32], alarms: [LL 2 deadband 0.5, H 12 deadband 0.5], alarm relays: "+w.one("drop out", "pull in"), ", contacts: [H 11-12-14]")
}

// supplied adds the supply of an instrument, on AC or DC, and returns what says so.
func (w *works) supplied(l *drawnLoop, tag string, cab *place) string {
	if w.chance(50) {
		s := w.mainsStrip(cab)
		l.circuit(w.walk(tag+" supply", []string{tag + " L N PE", "wires BN BU GNYE", fmt.Sprintf("%s/%s L%d N%[3]d PE%[3]d", cab.tag, s.name, s.used)}))
		return ", supply: AC L-N-PE" + w.maybe(50, ", draws: %s", "12 VA")
	}
	if w.chance(50) { // from those before it in the same place
		if cab.members = append(cab.members, tag); len(cab.members) == 1 {
			fuse, minus := w.feed(cab)
			_, n, _ := strings.Cut(minus, " ")
			cab.shared = fuse + " " + n
		}
	} else {
		fuse, minus := w.feed(cab)
		_, n, _ := strings.Cut(minus, " ")
		l.circuit(w.walk(tag+" supply", []string{tag + " 21 22", "wires", fuse + " " + n}))
	}
	return ", supply: DC 21-22" + w.maybe(50, ", draws: %s", "80 mA") + w.maybe(50, ", lift-off: %s", "18 V")
}

func (w *works) controlled(l *drawnLoop, cab *place) {
	t, c, y := w.tag("PT"), w.tag("PIC"), w.tag("PY")
	l.device(t, "kind: transmitter, range: 0..16 bar"+w.one("", ", lift-off: 10.5 V"))
	l.device(y, "kind: I/P converter"+w.one("", ", ohms: 170 ohm")+w.valve(l, false))
	l.device(c, fmt.Sprintf("kind: controller, in: %s, range: 0..16 bar%s%s%s, inputs: {PV: {kind: AI, power: card%s, terminals: 1 2}}, outputs: {OP: {terminals: 3 4%s}}%s", quoted(cab.tag),
		w.one("", ", set: 10 bar"), w.one("", ", action: reverse"), w.alarm(), w.one("", ", volts: 24 V, ohms: 250 ohm"), w.one("", ", drive: 600 ohm"), w.supplied(l, c, cab)))
	l.circuit(w.in(t, "low", cab, c+"/PV"))
	l.circuit(w.in(y, "low", cab, c+"/OP"))
	if w.chance(60) {
		l.circuit(w.walk(c+" alarm", []string{c + " 11 12", "wires", w.channel(cab, "DI", contactInstrument.card)}))
	}
}

func (w *works) conditioned(l *drawnLoop, cab *place) {
	e, y, r, shows := w.tag("TE"), w.tag("TY"), w.tag("TR"), "kind: recorder, supply: none"
	if w.chance(50) {
		r = w.tag("TI")
		shows = "kind: digital indicator" + w.supplied(l, r, cab)
	}
	l.device(e, "kind: RTD 3-wire, sensor: Pt100, range: 0..250 °C")
	l.device(y, fmt.Sprintf("kind: signal conditioner, in: %s, range: 0..250 °C, inputs: {in: {kind: RTD, terminals: 1 2 3%s}}, retransmits: {out-1: {kind: active output, terminals: 7 8%s}, out-2: {kind: passive output, terminals: 9 10%s}}%s", quoted(cab.tag),
		w.one("", ", lead limit: 40 ohm"), w.one("", ", drive: 500 ohm"), w.one("", ", lift-off: 9 V"), w.supplied(l, y, cab)))
	l.device(r, fmt.Sprintf("%s, in: %s, inputs: {pen-1: {kind: AI, power: loop%s, terminals: 1 2}}", shows, quoted(cab.tag), w.one("", ", ohms: 50 ohm")))
	l.circuit(w.in(e, "rtd", cab, y+"/in"))
	l.circuit(w.walk(y+" pen", []string{y + "/out-1", "wires", r + "/pen-1"}))
	l.circuit(w.walk(y+" logged", []string{y + "/out-2", "wires", w.channel(cab, "AI", "{kind: AI, power: card, volts: 24 V, ohms: 250 ohm")}))
}

func (w *works) tripped(l *drawnLoop, cab *place) {
	t, s, y := w.tag("PT"), w.tag("PS"), w.tag("XY")
	l.device(t, "kind: transmitter, range: 0..16 bar, lift-off: 10.5 V")
	l.device(s, fmt.Sprintf("kind: trip amplifier, in: %s, inputs: {in: {kind: AI, power: card, volts: 22 V, ohms: 50 ohm, terminals: 1 2}}%s%s", quoted(cab.tag), w.alarm(), w.supplied(l, s, cab)))
	l.device(y, "kind: solenoid, ohms: 180 ohm, pull-in: 16 V")
	l.circuit(w.in(t, "low", cab, s+"/in"))
	steps := []string{y}
	if w.chance(40) { // another in parallel
		other := w.tag("XY")
		l.device(other, "kind: solenoid, ohms: 220 ohm, pull-in: 16 V"+w.one("", ", suppressor: diode"))
		run, _ := w.run(y, other, makeUp{"sw", 2, false, 1})
		steps, y = append(steps, run, other), other
	}
	run, _ := w.run(y, cab.tag, makeUp{"sw", 2, false, 1})
	at, _ := w.land(cab, "sw", 2, false, false)
	fuse, minus := w.feed(cab)
	l.circuit(w.walk(y, append(steps, run, at, fmt.Sprintf("+: [wires, %s %s, wires, %s]\n          -: [wires, %s]", s, w.one("14>11", "12>11"), fuse, minus))))
}
