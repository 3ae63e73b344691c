package samples

import (
	"fmt"
	"strings"
)

// This file makes the segments of random plants: places, cables and devices of their own.

// apart does a piece of work with the chances of segments, or of what else stands apart, if
// it is of one.
func (w *works) apart(segment bool, work func()) {
	if own := w.Rand; segment {
		w.Rand = w.side
		defer func() { w.Rand = own }()
	}
	work()
}

// segment adds a powered bus or a serial link to the plant.
func (w *works) segment() {
	screened := !w.plain && w.earth == "cabinet"
	cab := w.newPlace("cabinets", "MC")
	if w.chance(50) {
		w.bus(cab, screened)
	} else {
		w.link(cab, screened)
	}
}

// ofSegment is the area of places that only segments come to.
const ofSegment = -1

func (w *works) newPlace(key, letters string) *place {
	p := &place{key: key, area: ofSegment, tag: w.tag(letters), extra: map[string][]string{}}
	w.places = append(w.places, p)
	return p
}

// joints is a strip with groups of + - and screen; joined ones make a coupler of it.
func (w *works) joints(p *place, groups int, more string, joined bool) string {
	name := w.names.strip(len(p.strips) + 1)
	if joined {
		more += fmt.Sprintf(", jumpers: [1..%d step 3, 2..%d step 3, 3..%d step 3]", 3*groups, 3*groups, 3*groups)
	}
	p.strips = append(p.strips, &strip{name: name, made: func(*strip, int) string {
		return fmt.Sprintf("{terminals: 1..%d, marks: + - S%s}", 3*groups, more)
	}})
	return p.tag + "/" + name
}

// coupler is a strip in whose terminals electronics join the trunk with spurs: the last
// groups but one are of spurs.
func (w *works) coupler(p *place, groups int) string {
	name := w.names.strip(len(p.strips) + len(p.extra["couplers"]) + 1)
	var spurs []string
	for n := 3; n < groups; n++ {
		spurs = append(spurs, fmt.Sprintf("%d..%d", 3*n-2, 3*n))
	}
	kind, more := "spur protector", ""
	if w.chance(40) {
		kind = "field barrier"
		more = w.maybe(60, ", entity: {Uo: %s, Io: 180 mA, Po: 900 mW, Co: 600 nF, Lo: 0.9 mH, group: IIC}", "16 V")
	}
	p.extra["couplers"] = append(p.extra["couplers"], fmt.Sprintf("%s: {kind: %s, terminals: 1..%d, marks: + - S, spurs: [%s]%s%s%s%s%s}", quoted(name), kind, 3*groups, strings.Join(spurs, ", "),
		w.maybe(85, ", limit: %s", "45 mA"), w.maybe(85, ", drop: %s", "1.1 V"), w.maybe(85, ", draws: %s", "4 mA"), w.maybe(30, ", model: %s", "SP-4"), more))
	return p.tag + "/" + name
}

// lands are the words for group n of a strip; first tells that a circuit begins there.
func lands(strip string, n int, screened, first bool) string {
	s := fmt.Sprintf("%s %d %d", strip, 3*n-2, 3*n-1)
	switch {
	case screened && first:
		return s + fmt.Sprintf(" screen %d", 3*n)
	case screened:
		return s + fmt.Sprintf(" %d", 3*n)
	}
	return s
}

func (w *works) pairCable(from, to string, screened bool) string {
	screen := "none"
	if screened {
		screen = "overall"
	}
	c := &cable{tag: w.tag("W"), from: from, to: to, groups: 1, used: 1, word: "pair", screened: screened, size: 2, bus: true}
	c.typ = w.typeOf("bus pair", fmt.Sprintf("{pairs: 1, conductor: 0.8 mm2, ohms: 22 ohm/km, colours: [OG BU], screen: %s%s}", screen, w.maybe(80, ", bus type: %s", "A")))
	w.cables = append(w.cables, c)
	return c.tag
}

// begin writes the head of a segment.
func (w *works) begin(kind, letters string) {
	fmt.Fprintf(&w.segments, "  %s:\n    kind: %s\n    service: %s\n%s%s", quoted(w.tag(letters)), kind, quoted(w.names.words(w, 40)),
		w.maybe(40, "    area: %s\n", w.names.words(w, 20)), w.maybe(30, "    notes: [%s]\n", w.names.words(w, 70)))
}

// bus is a trunk through boxes, with spurs.
func (w *works) bus(cab *place, screened bool) {
	bond := ""
	if screened {
		bond = ", bonded: 3 to IE"
	}
	supply, poles := w.tag("PS"), "+ -"
	if w.chance(60) {
		cab.extra["supplies"] = []string{quoted(supply) + ": {volts: 28 V DC, least volts: 27 V, highest volts: 30 V, limit: 500 mA, earth: none" + w.maybe(50, ", ohms: %s", "2 ohm") + "}"}
	} else {
		supply, poles = w.tag("FB"), "channel 1"
		cab.cards = append(cab.cards, &card{tag: supply, made: "{kind: bus, power: card, volts: 28 V, limit: 500 mA", used: 1, channels: 2})
	}
	from, last := cab, w.joints(cab, 1, bond, false)
	group := 1
	var devices, circuits []string
	for box := range 1 + w.IntN(3) {
		p, spurs := w.newPlace("boxes", "JB"), 1+w.IntN(4)
		joint := ""
		if w.chance(50) {
			joint = w.coupler(p, spurs+3)
		} else {
			joint = w.joints(p, spurs+3, "", true)
		}
		end := lands(last, group, screened, false)
		if box == 0 {
			end += fmt.Sprintf(", wires, %s %s", supply, poles)
		}
		circuits = append(circuits, fmt.Sprintf("trunk %d: [%s, %s, %s]", box+1, lands(joint, 1, screened, true), w.pairCable(p.tag, from.tag, screened), end))
		for i := range spurs {
			d := w.tag(w.one("LT", "TT", "PT"))
			devices = append(devices, fmt.Sprintf("%s: {kind: bus device, draws: %d mA%s%s}", quoted(d), 10+w.IntN(10), w.maybe(80, ", address: %s", fmt.Sprint(20+len(devices))), w.maybe(50, ", at: %s", quoted(w.names.words(w, 30)))))
			circuits = append(circuits, fmt.Sprintf("%s: [%s, %s, %s]", quoted(d), quoted(d), w.pairCable(d, p.tag, screened), lands(joint, i+3, screened, false)))
		}
		from, last, group = p, joint, 2
		w.ends = fmt.Sprintf("[%s, %s %d %d]", supply, joint, 3*spurs+7, 3*spurs+8)
	}
	w.begin("powered bus", "FB")
	w.write(devices, circuits)
}

// link is a chain of devices that ends on a card.
func (w *works) link(cab *place, screened bool) {
	bond := ""
	if screened {
		bond = ", bonded: 3 to IE"
	}
	port := w.tag("SL")
	cab.cards = append(cab.cards, &card{tag: port, made: "{kind: serial", used: 1, channels: 2})
	var devices, circuits []string
	before, screen := "", ""
	for range 2 + w.IntN(4) {
		d := w.tag("AT")
		devices = append(devices, fmt.Sprintf("%s: {kind: serial device%s}", quoted(d), w.maybe(70, ", address: %s", fmt.Sprint(1+len(devices)))))
		if before != "" {
			circuits = append(circuits, fmt.Sprintf("%s: [%s + -%s, %s, %s + -%s]", quoted(before), before, screen, w.pairCable(before, d, screened), d, screen))
		} else {
			w.ends = fmt.Sprintf("[%s, %s]", port, d)
		}
		if before = d; screened {
			screen = " screen S"
		}
	}
	circuits = append(circuits, fmt.Sprintf("%s: [%s + -%s, %s, %s, wires, %s channel 1]", quoted(before), before, screen, w.pairCable(before, cab.tag, screened), lands(w.joints(cab, 1, bond, false), 1, screened, false), port))
	if w.begin("serial link", "SB"); w.chance(50) {
		fmt.Fprintf(&w.segments, "    bias at: %s\n%s%s", port, w.maybe(80, "    bias ohms: %s\n", "470 ohm"), w.maybe(80, "    bias volts: %s\n", "5 V"))
	}
	w.write(devices, circuits)
}

// multidrop is a pair from a box, where devices hang in parallel, to a port or a supply.
func (w *works) multidrop() {
	screened, bond := !w.plain && w.earth == "cabinet", ""
	if screened {
		bond = ", bonded: 3 to IE"
	}
	cab, box := w.newPlace("cabinets", "MC"), w.newPlace("boxes", "JB")
	source, poles := w.tag("MD"), "channel 1"
	if w.chance(50) {
		cab.cards = append(cab.cards, &card{tag: source, made: "{kind: multidrop, power: card, volts: 24 V, limit: 100 mA" + w.maybe(80, ", ohms: %s", "250 ohm"), used: 1, channels: 2})
	} else {
		poles = "+ -"
		cab.extra["supplies"] = []string{quoted(source) + ": {volts: 24 V DC, limit: 1 A, earth: none" + w.maybe(80, ", ohms: %s", "270 ohm") + "}"}
	}
	n := 2 + w.IntN(5)
	joint := w.joints(box, n+1, "", true)
	circuits := []string{fmt.Sprintf("line: [%s, %s, %s, wires, %s %s]", lands(joint, 1, screened, true), w.pairCable(box.tag, cab.tag, screened), lands(w.joints(cab, 1, bond, false), 1, screened, false), source, poles)}
	var devices []string
	for i := range n {
		d := w.tag(w.one("LT", "TT", "PT"))
		more := ""
		if w.chance(40) {
			more = variables(d, 1+w.IntN(3))
		}
		devices = append(devices, fmt.Sprintf("%s: {kind: multidrop device%s%s%s%s%s%s}", quoted(d), w.maybe(80, ", address: %s", fmt.Sprint(i+1)), w.maybe(80, ", lift-off: %s", "10.5 V"), w.maybe(20, ", draws: %s", "3.9 mA"),
			w.maybe(60, ", capacitance: %s", "5 nF"), w.maybe(50, ", range: %s", "0..4 m"), more))
		circuits = append(circuits, fmt.Sprintf("%s: [%s, %s, %s]", quoted(d), quoted(d), w.pairCable(d, box.tag, screened), lands(joint, i+2, screened, false)))
	}
	w.begin("multidrop line", "MD")
	w.segments.WriteString(w.maybe(30, "    last address: %s\n", "63"))
	w.ends = ""
	w.write(devices, circuits)
}

func (w *works) write(devices, circuits []string) {
	if w.ends != "" {
		fmt.Fprintf(&w.segments, "    terminators: %s\n", w.ends)
	}
	fmt.Fprintf(&w.segments, "    devices:\n      %s\n    circuits:\n      %s\n", strings.Join(devices, "\n      "), strings.Join(circuits, "\n      "))
}
