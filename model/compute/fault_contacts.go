package compute

import (
	"fmt"

	"ringout/model"
)

// This file holds the faults of coils that work contacts, and of those contacts.

// relayFaults are those of such a coil; full are its volts with the output on, on is its
// circuit then.
func relayFaults(p *model.Plant, c *model.Circuit, d *model.Part, full Band, on *solver) (rows []FaultRow, missing []string) {
	v, weak := written(c, full), full.Least("V")+" "+voltUnit(c)
	const out = "does not pull in"
	fed := feeds(c)
	rows = []FaultRow{
		{"healthy, " + fed + " on", "pulls in", v + " at the coil", fmt.Sprintf("%.0f mA", on.drawn)},
		{"coil open", out, v + " at the coil", p.Say("volts, no current; Ω open with a core lifted")},
		{"pair open", out, "0 V at the coil", fed + " voltage across the break"},
		{"pair shorted", out, "0 V at the coil", trips(c)},
	}
	switch {
	case on.ac:
		rows = append(rows, FaultRow{"pair reversed", "pulls in: AC has no polarity", v + " at the coil", "the " + fed + " must still switch the line"})
	case d.Device.Suppressor.Polar():
		rows = append(rows, FaultRow{"pair reversed", out, "about −1 V at the coil", "its diode is a short: " + trips(c)})
	case d.Device.Suppressor == 0:
		rows = append(rows, FaultRow{"pair reversed", "pulls in, unless the coil has a diode", written(c, full.Reversed()) + " at the coil", "with a diode: like a short"})
	default:
		rows = append(rows, FaultRow{"pair reversed", "pulls in: the coil has no polarity", written(c, full.Reversed()) + " at the coil", "correct the markers"})
	}
	weakly := "chatters, or pulls in only when cold"
	if on.ac {
		weakly = "hums, does not pull in"
	}
	rows = append(rows, FaultRow{"too much resistance", weakly, "less than " + weak + " at the coil", "measure with the " + fed + " on"})
	if on.ac {
		a, b := TerminalsOf(c, d)
		if v, stuck, ok := bandAt(p, c, state{closed: true, inrush: true}, a, b); ok {
			rows = append(rows, FaultRow{"armature stuck", "hums, contacts do not change", written(c, v) + " at the coil", fmt.Sprintf("%.0f mA continuously: the coil burns out", stuck.drawn)})
		} else {
			missing = stuck.Missing
		}
	}
	return append(rows, FaultRow{"contact welded", "its circuit stays on, coil off", "0 V at the coil; 0 V across the contact", "tap does not free it: replace " + d.Tag}), missing
}

// feeds is what switches the volts of a circuit on: its output, or else its supply by way of
// a contact.
func feeds(c *model.Circuit) string {
	if Opener(c) != nil {
		return "supply"
	}
	return "output"
}

// trips is what a short behind the contact or output of a circuit does.
func trips(c *model.Circuit) string {
	if Opener(c) != nil {
		return unlessFused(c, "the supply is shorted", "%s blows")
	}
	return "the output trips" + unlessFused(c, "", ", or %s blows")
}

// seriesFaults are those of the contacts that stand in a circuit of another device.
func seriesFaults(p *model.Plant, c *model.Circuit) (rows []FaultRow) {
	for _, st := range c.Visits() {
		if !st.InSeries() {
			continue
		}
		a, b := Across(c, st)
		open := "supply voltage across " + a.Name + " and " + b.Name
		if v, _, ok := bandAt(p, c, state{}, a, b); ok && st == Opener(c) {
			open = written(c, v.upright()) + " across " + a.Name + " and " + b.Name
		}
		rows = append(rows, FaultRow{"contact of " + st.Part.Tag + " stays open", "does not come on", open, "0 V there when closed"})
		if other := otherSide(st.Group(), a, b); other != "" {
			rows = append(rows, FaultRow{"on " + other + " of " + st.Part.Tag, "works the wrong way round", "voltages correct", "on while " + st.Part.Tag + " is off"})
		}
	}
	return rows
}

// otherSide is the side of a changeover contact that a circuit does not use.
func otherSide(g *model.Group, a, b *model.Terminal) string {
	if g == nil || g.Contact != model.Changeover {
		return ""
	}
	for _, t := range g.Terminals[1:] {
		if t != a && t != b {
			return t.Name
		}
	}
	return ""
}

// workedFaults are those of a contact that a coil works, in a circuit of its own.
func workedFaults(c *model.Circuit, d *model.Part) (rows []FaultRow) {
	for _, st := range c.Visits() {
		if st.Part != d || st.Group() == nil {
			continue
		}
		a, b := Across(c, st)
		switch by := st.Group().By; {
		case by == model.ByOverload:
			rows = append(rows, FaultRow{"contact welded", "does not change", "0 V across the contact, tripped and reset", "the button trips it, nothing changes"})
		case d.Kind.Ports:
			rows = append(rows,
				FaultRow{"trips at another value", "changes early or late", "voltages correct", "read the input at the trip; set point, range, sensor type"},
				FaultRow{"supply of " + d.Tag + " lost", map[model.AlarmState]string{0: "NOT GIVEN: alarm relays of " + d.Tag, model.DropOutOnAlarm: "in alarm", model.PullInOnAlarm: "no alarm any more"}[d.Device.OnAlarm], "no volts at its supply", "fuse, feed; it is in several circuits"})
		case by.OfValve():
			rows = append(rows,
				FaultRow{"limit switch not reached", "does not change", "the same across the contact at both ends", "air vented, work it by hand; set its cam or target"},
				FaultRow{"on the other limit switch", "shows the other end", "voltages correct", "on while the valve is at its other end"})
		case len(d.Coils()) > 0:
			rows = append(rows, FaultRow{"contact welded", "does not change", "0 V across the contact, coil on and off", "coil volts come and go"})
		}
		if other := otherSide(st.Group(), a, b); other != "" {
			rows = append(rows, FaultRow{"on " + other + ", not on its own side", "works the wrong way round", "voltages correct", "shows the other state at rest"})
		}
	}
	return rows
}

// sealFaults are those of a contact that keeps a circuit closed once it has been closed.
func sealFaults(p *model.Plant, c *model.Circuit, d *model.Part) []FaultRow {
	on := c.Sealed().Device().Tag
	return []FaultRow{
		{"healthy", on + " stays in when the button is let go", "0 V across " + c.Seals().Numbers() + " then", ""},
		{p.Say("a core open"), on + " drops out when the button is let go", "supply voltage across " + c.Seals().Numbers(), "Ω open between the two contacts"},
		{"pair shorted", on + " starts by itself when its supply comes on", "0 V across " + c.Seals().Numbers(), p.Say("lift one core: it must wait for the button")},
		{"on a break contact of " + d.Tag, on + " starts by itself, then chatters", "0 V across " + c.Seals().Numbers() + " at rest", "Ω at rest: must be open"},
	}
}
