package samples

import (
	"fmt"
	"strings"
)

// This file adds loops to a random plant whose legs or screens end before the card: a lead of a
// sensor that is parked, an output that a supply drives, screens on both sides of a barrier.

// endings adds one loop of each.
func (w *works) endings() {
	for _, made := range []func(l *drawnLoop){w.parked, w.passive, w.bothSides} {
		w.number++
		l := &drawnLoop{}
		if made(l); len(l.circuits) > 0 {
			w.looped(l)
		}
	}
}

// parked is a sensor of four wires on a card for three: one lead from the end of the element
// that has two of the card's is parked in a box or in the cabinet.
func (w *works) parked(l *drawnLoop) {
	d, cab := w.tag("TE"), w.place("cabinets", w.IntN(2))
	l.device(d, "kind: RTD 4-wire, range: 0..150 °C, sensor: Pt100, class: A"+w.maybe(50, ", process: %s", "pocket"))
	card := instrument{"TE", "", "RTD 4-wire", "rtd", 3, "{kind: RTD, wires: 3", nil}
	at, n := d, 4
	var steps []string
	if w.chance(60) {
		box := w.place("boxes", 0)
		run, _ := w.run(d, box.tag, makeUp{"rtd", 4, false, 1})
		words, _ := w.land(box, "rtd", 4, false, false)
		steps, at, n = append(steps, run, w.park(words)), box.tag, 3
	}
	run, _ := w.run(at, cab.tag, makeUp{"rtd", n, false, w.pick(1, 6)})
	words, _ := w.land(cab, "rtd", n, false, false)
	if n == 4 {
		words = w.park(words)
	}
	steps = append([]string{d + w.one("", " 1..4")}, append(steps, run, words)...)
	l.circuit(w.walk(d, append(steps, w.last(card, card.card, cab, 3)...)))
}

// park ends the first or second of four legs at a station: on its terminal, or cut back.
func (w *works) park(station string) string {
	words := strings.Fields(station)
	i := 1 + w.IntN(2)
	words[i] = w.one(words[i]+">x", "x")
	return strings.Join(words, " ")
}

// passive is a positioner on an output that only holds its current.
func (w *works) passive(l *drawnLoop) {
	y, cab := w.tag("LY"), w.place("cabinets", w.IntN(2))
	l.device(y, "kind: positioner"+w.one("", ", ohms: 220 ohm")+w.one("", ", action: reverse")+w.valve(l, false))
	made := "{kind: AO, power: loop" + w.one("", ", lift-off: 7 V", ", lift-off: [8 V at 4 mA, 7 V at 20 mA]")
	run, _ := w.run(y, cab.tag, makeUp{"low", 2, false, 1})
	words, _ := w.land(cab, "low", 2, false, false)
	fuse, minus := w.feed(cab)
	through := "wires, " + w.channel(cab, "AO", made) + " +>-, wires"
	if w.chance(30) { // in a system, there and back
		sys := w.place("systems", w.IntN(2))
		through = fmt.Sprintf("%s, %s +>-, %s", w.cores(cab.tag, sys.tag, 1), w.channel(sys, "AO", made), w.cores(cab.tag, sys.tag, 1))
	}
	tail := fmt.Sprintf("+: [wires, %s]\n          -: [%s, %s]", fuse, through, minus)
	if w.chance(30) { // the output in the upper leg
		tail = fmt.Sprintf("+: [%s, %s]\n          -: [wires, %s]", strings.Replace(through, "+>-", "->+", 1), fuse, minus)
	}
	l.circuit(w.walk(y, []string{y, run, words, tail}))
	if w.chance(50) {
		l.function(w.tag("LIC"), "kind: controller, drives: "+quoted(y))
	}
}

// bothSides is a transmitter on a barrier or isolator with a screened cable on either side.
func (w *works) bothSides(l *drawnLoop) {
	if w.plain || w.earth != "cabinet" {
		return
	}
	d, near, far := w.tag("PT"), w.place("cabinets", 0), w.place("cabinets", 1)
	l.device(d, "kind: transmitter, range: 0..16 bar, zone: 1, protection: Ex ia, entity: {Ui: 30 V, Ii: 120 mA, Pi: 1 W, Ci: 5 nF, Li: 20 uH}"+w.one("", ", lift-off: 8 V"))
	z, card := w.tag("Z"), "{kind: AI, power: card, volts: 24 V, ohms: 100 ohm"
	const values = ", entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}"
	if w.chance(60) {
		near.extra["barriers"] = append(near.extra["barriers"], fmt.Sprintf("%s: {ohms: 333 ohm, return ohms: 33 ohm, working volts: 26 V, earth: PE%s%s}", quoted(z), values, w.maybe(50, ", model: %s", "Žy_28 V 300 ohm 93 mAq")))
	} else {
		card = "{kind: AI, power: loop, ohms: 250 ohm"
		near.extra["isolators"] = append(near.extra["isolators"], fmt.Sprintf("%s: {volts: 18 V at 20 mA, load: 500 ohm%s}", quoted(z), values))
	}
	field, _ := w.run(d, near.tag, makeUp{"is", 2, true, 1})
	home, _ := w.run(near.tag, far.tag, makeUp{"low", 2, true, w.pick(1, 4)})
	words, _ := w.land(far, "low", 2, true, true)
	l.circuit(w.walk(d, []string{d, field, z + " screen PE", home, words, "wires", w.channel(far, "AI", card)}))
}
