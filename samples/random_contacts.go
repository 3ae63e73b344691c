package samples

import (
	"fmt"
	"strconv"
	"strings"
)

// This file adds loops with coils and contacts to a random plant, behind all others, so
// that the rest of it stays what its seed made it.

// coils and contacts of random loops; what follows is said only at times.
var (
	coilInstrument    = instrument{"XY", "", "solenoid", "sw", 2, "{kind: DO, power: card, volts: 24 V", nil}
	contactInstrument = instrument{"ZS", "", "contact", "sw", 2, "{kind: DI, power: card", nil}
)

// contacts adds one loop of each kind that has coils or contacts, from first on.
func (w *works) contacts(first, n int) {
	makers := []func(l *drawnLoop) string{w.relay, w.changeover, w.starter, w.valveHead}
	for i := range n {
		w.number++
		l := &drawnLoop{}
		tail := makers[(first+i)%len(makers)](l)
		w.looped(l)
		if tail != "" { // in a loop of its own
			w.number++
			w.loops.WriteString(tail)
		}
	}
}

// looped writes a loop of devices and circuits.
func (w *works) looped(l *drawnLoop) {
	fmt.Fprintf(&w.loops, "  %s:\n    service: %s\n    devices:\n%s", quoted(w.tag("X")), strconv.Quote(w.names.words(w, 30)), strings.Join(l.devices, ""))
	if len(l.functions) > 0 {
		w.loops.WriteString("    functions:\n" + strings.Join(l.functions, ""))
	}
	w.loops.WriteString("    circuits:\n" + strings.Join(l.circuits, ""))
}

// coil is what a random coil has; some of it is left out.
func (w *works) coil() string {
	return w.one("", ", ohms: 320 ohm", ", rated volts: 24 V DC, watts: 0.6 W") + w.one("", ", pull-in: 17 V") +
		w.one("", ", suppressor: diode", ", suppressor: varistor", ", suppressor: none", ", suppressor: diode and zener")
}

// relay is one in a cabinet, with a coil on an output, a contact that tells the system and
// one that switches a solenoid, of this loop or of another one, which is returned.
func (w *works) relay(l *drawnLoop) (other string) {
	cab := w.place("cabinets", 0)
	k, y := w.tag("K"), w.tag("XY")
	l.device(k, fmt.Sprintf("kind: %s, in: %s, contacts: [%s, alarm 21-22-24, make C-NO]%s", w.one("relay", "contactor"), quoted(cab.tag), w.one("11-12-14", "11-12-14, 33-34"), w.coil()))
	l.circuit(w.walk(k, []string{k + " A1 A2", "wires", w.channel(cab, "DO", coilInstrument.card)}))
	if w.chance(60) {
		l.circuit(w.walk(k+" acts", []string{k + w.one(" 21 24", " 21 22"), "wires", w.channel(cab, "DI", contactInstrument.card)}))
	}
	run, _ := w.run(y, cab.tag, makeUp{"sw", 2, false, 1})
	at, _ := w.land(cab, "sw", 2, false, false)
	fuse, minus := w.feed(cab)
	made := &drawnLoop{}
	made.device(y, "kind: solenoid, ohms: 180 ohm, pull-in: 16 V")
	made.circuit(w.walk(y, []string{y, run, at, fmt.Sprintf("+: [wires, %s %s, wires, %s]\n          -: [wires, %s]", k, w.one("14>11", "11>14", "12>11"), fuse, minus)}))
	if w.chance(50) {
		l.devices, l.circuits = append(l.devices, made.devices...), append(l.circuits, made.circuits...)
		return ""
	}
	before := w.loops.String()
	w.loops.Reset()
	w.looped(made)
	other = w.loops.String()
	w.loops.Reset()
	w.loops.WriteString(before)
	return other
}

// changeover is a contact in the field with both sides on inputs, and a push-button.
func (w *works) changeover(l *drawnLoop) string {
	cab := w.place("cabinets", w.IntN(2))
	z, b := w.tag("ZS"), w.tag("HS")
	l.device(z, "kind: changeover contact"+w.one("", ", contacts: [changeover C-NC-NO], set: works when shut"))
	names := strings.HasSuffix(l.devices[0], "shut}\n")
	station := z + map[bool]string{true: " C NC NO", false: w.one(" 11 12 14", " 12 11 14", "")}[names]
	run, _ := w.run(z, cab.tag, makeUp{"sw", 3, false, 1})
	at, _ := w.land(cab, "sw3", 3, false, false)
	common, first, second := "1", "2", "3"
	if strings.Contains(station, "12 11") {
		common, first = "2", "1"
	}
	var fuse, one, two string
	for strip := ""; strip == "" || !strings.HasPrefix(one, strip+" ") || !strings.HasPrefix(two, strip+" "); strip, _, _ = strings.Cut(fuse, " ") { // of one supply
		fuse, one = w.feed(cab)
		_, two = w.feed(cab)
	}
	input := func(n, minus string) string {
		return fmt.Sprintf("%s: [wires, %s +>-, wires, %s]", n, w.channel(cab, "DI", "{kind: DI, power: loop, ohms: 5 kohm"), minus)
	}
	l.circuit(w.walk(z, []string{station, run, at, fmt.Sprintf("%s: [wires, %s]\n          %s\n          %s", common, fuse, input(first, one), input(second, two))}))
	l.device(b, "kind: "+w.one("push-button", "selector switch")+w.one("", ", contacts: [21-22]", ", contacts: [start 13-14, stop 21-22]"))
	steps := w.route(contactInstrument, b, "card", "", false)
	if strings.Contains(l.devices[1], "[21-22]") {
		steps[0] = strings.Replace(steps[0], b, b+" 21 22", 1)
	} else {
		steps[0] = strings.Replace(steps[0], b, b+" 13 14", 1)
	}
	l.circuit(w.walk(b, steps))
	return ""
}

// starter is one with a stop button and its own overload contact in the circuit of its
// coil, which tells that it runs.
func (w *works) starter(l *drawnLoop) string {
	cab := w.place("cabinets", w.IntN(2))
	m, b := w.tag("MZ"), w.tag("HS")
	l.device(m, fmt.Sprintf("kind: motor starter, in: %s%s", quoted(cab.tag), w.coil()))
	l.device(b, fmt.Sprintf("kind: push-button, in: %s, contacts: [stop 21-22, start 33-34]", quoted(cab.tag)))
	fuse, minus := w.feed(cab)
	if w.number%7 == 3 { // interlocks in one long leg, and feedback alone of a starter by others
		w.interlocks(l, m, b, cab)
		return ""
	}
	if w.number%2 == 0 { // started by a button, and sealed in
		l.circuit(w.walk(m, []string{m + " A1 A2", fmt.Sprintf("+: [wires, %s 95>96, wires, %s 34>33, wires, %s 22>21, wires, %s]\n          -: [wires, %s]", m, b, b, fuse, minus)}))
		l.circuit(w.walk(m+" seals", []string{m + " 13 14", "wires", b + " 34 33"}))
		l.circuit(w.walk(m+" tripped", []string{m + " 97 98", "wires", w.channel(cab, "DI", contactInstrument.card)}))
		return ""
	}
	l.circuit(w.walk(m, []string{m + " A1 A2", fmt.Sprintf("+: [wires, %s 95>96, wires, %s 22>21, wires, %s +>-, wires, %s]\n          -: [wires, %s]", m, b,
		w.channel(cab, "DO", "{kind: DO, power: loop"), fuse, minus)}))
	l.circuit(w.walk(m+" runs", []string{m + " 13 14", "wires", w.channel(cab, "DI", contactInstrument.card)}))
	if w.chance(50) {
		l.circuit(w.walk(m+" tripped", []string{m + " 97 98", "wires", w.channel(cab, "DI", contactInstrument.card)}))
	}
	return ""
}

// interlocks are more contacts in the leg of a coil than a sheet has room for, in the cabinet
// and in the field; and another starter, of which only a contact is wired here.
func (w *works) interlocks(l *drawnLoop, m, b string, cab *place) {
	fuse, minus := w.feed(cab)
	leg := []string{"wires", m + " 95>96", "wires", b + " 22>21"}
	for i := range 2 + w.IntN(4) {
		k := fmt.Sprintf("%s-%d", w.tag("HS"), i)
		l.device(k, fmt.Sprintf("kind: selector switch, in: %s, contacts: [%s]", quoted(cab.tag), w.one("13-14", "21-22")))
		leg = append(leg, "wires", k+map[bool]string{true: " 13>14", false: " 21>22"}[strings.Contains(l.devices[len(l.devices)-1], "13-14")])
	}
	for i := range 1 + w.IntN(2) { // out to the field and back
		k := fmt.Sprintf("%s-%d", w.tag("ZS"), i)
		l.device(k, "kind: changeover contact")
		_, c := w.run(k, cab.tag, makeUp{"sw", 2, false, 1})
		at, _ := w.land(cab, "sw", 2, false, false)
		ends := strings.Fields(at)
		leg = append(leg, "wires", ends[0]+" "+ends[1], c.tag+" core 1", k+" 11>14", c.tag+" core 2", ends[0]+" "+ends[2])
	}
	l.circuit(w.walk(m, []string{m + " A1 A2", fmt.Sprintf("+: [%s, wires, %s]\n          -: [wires, %s]", strings.Join(leg, ", "), fuse, minus)}))
	other := w.tag("MX")
	l.device(other, fmt.Sprintf("kind: motor starter, in: %s", quoted(cab.tag)))
	l.circuit(w.walk(other+" runs", []string{other + " 13 14", "wires", w.channel(cab, "DI", contactInstrument.card)}))
}

// valveHead is one in the field, with one coil or two and its limit switches.
func (w *works) valveHead(l *drawnLoop) string {
	v := w.tag("XY")
	coils := w.one("", ", coils: [open A1-A2, shut B1-B2]")
	l.device(v, "kind: valve head"+coils+w.valve(l, true)+w.coil())
	circuit := func(name, terminals string, i instrument) {
		steps := w.route(i, v, "card", "", false)
		steps[0] = strings.Replace(steps[0], v, v+terminals, 1)
		l.circuit(w.walk(v+name, steps))
	}
	circuit("", " A1 A2", coilInstrument)
	if coils != "" {
		circuit(" shut", " B1 B2", coilInstrument)
	}
	circuit(" is open", " 13 14", contactInstrument)
	circuit(" is shut", " 23 24", contactInstrument)
	return ""
}
