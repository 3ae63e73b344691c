package record

import (
	"fmt"
	"strings"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/material"
)

// This file holds the loop check of coils that work contacts, and of the contacts.

// coilTolerance is by how many per cent the ohms of a DC coil may differ at 20 °C (10 % is
// usual in makers' data).
const coilTolerance = 10

// relay are the rows of a coil that works contacts and nothing else.
func (k *loopCheckBuilder) relay(c *model.Circuit, p *model.Part, volts string) {
	t := k.states
	heading(t, "%s: %s", c.Name, deviceWords(k.plant, c, p))
	on, off := commands(c)
	row(t, "Commanded on", on, volts+"; pulls in")
	row(t, "Commanded off", off, "0 V; drops out")
	k.parted(c, on+", pulled in", "drops out")
	k.coil(c, p)
	k.tripped(c, volts+", pulled in", "0 V, dropped out")
}

// commands are how what a circuit feeds is switched on, and off: by an output, or by the
// contact that opens the circuit.
func commands(c *model.Circuit) (on, off string) {
	st := compute.Opener(c)
	if st == nil {
		return "command on", "command off"
	}
	on, off = worked(st.Part, st.Group(), true), worked(st.Part, st.Group(), false)
	if st.ClosedAtRest() {
		return off, on
	}
	return on, off
}

// worked is how a contact of a device comes to be worked, or let go.
func worked(p *model.Part, g *model.Group, yes bool) string {
	either := func(is, not string) string {
		if yes {
			return is
		}
		return not
	}
	by := model.ByOwn
	if g != nil {
		by = g.By
	}
	valve := p.FinalElement().Tag
	switch by {
	case model.ByOverload:
		return either("trip the overload of "+p.Tag+" by its test button", "reset the overload of "+p.Tag)
	case model.ByOpenValve:
		return valve + either(" fully open", " off its open end")
	case model.ByShutValve:
		return valve + either(" fully shut", " off its shut end")
	case model.ByValve:
		return paper.NotGiven + ": open or shut, before " + g.Numbers() + " in contacts of " + p.Tag
	}
	if p.Kind.Ports {
		return relayState(p, g, yes)
	}
	if p.CoilUnknown() {
		return p.Tag + either(" pulled in", " dropped out") + ", by those who run it"
	}
	if len(p.Coils()) > 0 {
		return "coil of " + p.Tag + either(" on", " off")
	}
	if p.Kind.Worked[0] != "" {
		return p.Tag + ": " + either(p.Kind.Worked[0], p.Kind.Worked[1])
	}
	return p.Tag + ": " + either("work it", "let it go")
}

// parted are the rows of what a device does that loses its volts while it is on: by a core
// that is lifted or, above extra-low voltage, by the fuse or link, for nobody lifts a live core
// there.
func (k *loopCheckBuilder) parted(c *model.Circuit, on, then string) {
	name, how := k.plant.Say("Core off"), k.plant.Say("lift a core")
	if c.Mains() {
		name, how = "Supply off", "isolate its supply"
		if at, _ := material.Knives(c, nil); len(at) > 0 {
			var tags []string
			for _, t := range at {
				tags = append(tags, t.Tag())
			}
			how = "open " + strings.Join(tags, " and ")
			if others := compute.Others(c, material.DeadWith(k.plant, c, at)); len(others) > 0 {
				how += "; these go too: " + compute.ShortList(others)
			}
		}
	}
	row(k.states, name, on+", then "+how, then, readHere)
}

// coil are the rows of the winding of a coil, of what suppresses it, and of the contacts
// that it works: each in both states, at both ends.
func (k *loopCheckBuilder) coil(c *model.Circuit, p *model.Part) {
	t, st := k.states, deviceStation(c)
	if st == nil || st.Group() == nil {
		return
	}
	ohms := paper.NotGiven + ": ohms, or rated volts DC and watts, of " + p.Tag
	if compute.AC(c) {
		ohms = paper.NotGiven + ": ohms of the winding of " + p.Tag
	}
	switch r := p.Device.CoilOhms(); {
	case r > 0 && compute.AC(c):
		ohms = wording.OhmFigure(r) + " Ω of its winding"
	case r > 0:
		ohms = fmt.Sprintf("%s Ω ± %d %%, %s to %s Ω, at %v", wording.OhmFigure(r), coilTolerance, wording.OhmFigure(r*(1-coilTolerance/100.0)), wording.OhmFigure(r*(1+coilTolerance/100.0)), model.Temperature{Celsius: 20, Unit: k.plant.Practice.TestCopper.Unit})
	}
	suppressor := wording.Given(p.Device.Suppressor.String())
	if p.Device.Suppressor.Polar() {
		suppressor += plusOn(st.Group().Terminals)
	}
	row(t, "Coil Ω", k.plant.Say("off, proved dead, a core lifted; meter across ")+st.Group().Numbers(), ohms, seenField, seenSystem)
	row(t, "Suppressor", "look, or read its type", suppressor, readHere, seenSystem)
	for _, g := range p.Contacts() {
		for _, other := range g.Circuits() {
			if !other.Broken && other.Seals() == nil && !other.Later(k.plant) {
				k.contactOf(p, g, other)
			}
		}
	}
}

// contactOf are the rows of one contact of a coil in a circuit, let go and worked. What the
// coil does not work is proved by its own circuit where it has one.
func (k *loopCheckBuilder) contactOf(p *model.Part, g *model.Group, c *model.Circuit) {
	for _, st := range c.Visits() {
		if st.Group() != g || g.By != model.ByOwn && !st.InSeries() {
			continue
		}
		a, b := compute.Across(c, st)
		if a == nil || b == nil {
			return
		}
		name := a.Name + "-" + b.Name
		for _, on := range []bool{false, true} {
			closed := g.ClosedAtRest(a, b) != on
			is := map[bool]string{false: "open", true: "closed"}[closed]
			expect := is + "; " + c.Name
			if c.Loop != k.loop {
				expect += " (loop " + c.Loop.Tag + ")"
			}
			expect += map[bool]string{false: " off", true: " on"}[closed]
			if v, ok := k.across(c, st, a, b, closed); ok {
				expect += "; " + v + " across it"
			}
			row(k.states, name+" "+is, fmt.Sprintf("%s; read across %s, look at both ends", worked(p, g, on), name), expect)
		}
		return
	}
}

// across is what a meter reads across a contact that opens and closes its circuit; false
// of one that is computed closed in both states.
func (k *loopCheckBuilder) across(c *model.Circuit, st *model.Station, a, b *model.Terminal, closed bool) (string, bool) {
	if opener := compute.Opener(c); opener != nil && opener != st || opener == nil && st.Part != c.Device() {
		return "", false
	}
	r, _ := compute.ReadingsOf(k.plant, c)
	for _, x := range r.Rows {
		if len(x.Values) == 2 && (x.A == a && x.B == b || x.A == b && x.B == a) {
			return strings.TrimPrefix(x.Values[map[bool]int{true: 1}[closed]].Words(r.Unit), "−") + " " + r.Unit, true
		}
	}
	return "", false
}

// bothSides are the rows of a changeover contact that has both of its sides in a circuit;
// false of others.
func (k *loopCheckBuilder) bothSides(c *model.Circuit) bool {
	if !compute.BothSides(c) {
		return false
	}
	r, _ := compute.ReadingsOf(k.plant, c)
	for i, state := range []string{"At rest", "Worked"} {
		expect := "voltage " + paper.NotGiven
		if len(r.Rows) > 1 && len(r.States) == 2 {
			var sides []string
			for _, x := range r.Rows[:2] {
				sides = append(sides, fmt.Sprintf("%s-%s %s %s", x.A.Name, x.B.Name, x.Values[i].Words(r.Unit), r.Unit))
			}
			expect = strings.Join(sides, ", ")
		}
		row(k.states, state, workedBy(c, i == 1), "system shows it; "+expect, seenField)
	}
	return true
}

// deviceStation is where a circuit lands on its device; nil where it has none.
func deviceStation(c *model.Circuit) *model.Station {
	for _, st := range c.Visits() {
		if st.Part == c.Device() {
			return st
		}
	}
	return nil
}

// workedBy is how the contact of a circuit is closed or opened, or worked and let go where
// it has both sides in the circuit.
func workedBy(c *model.Circuit, on bool) string {
	plain := map[bool]string{true: "close it by process or simulation", false: "open it"}
	st := deviceStation(c)
	if st == nil || st.Group() == nil {
		return plain[on]
	}
	is := on
	if !compute.BothSides(c) {
		is = on != st.ClosedAtRest()
	}
	if coils := st.Part.Coils(); len(coils) > 0 {
		how := worked(st.Part, st.Group(), is)
		if all := coils[0].Circuits(); len(all) > 0 && st.Group().By == model.ByOwn && all[0].Loop != c.Loop {
			how += ", by loop " + all[0].Loop.Tag
		}
		return how
	}
	if words := st.Part.Kind.Worked; words[0] != "" {
		return words[map[bool]int{false: 1}[is]]
	}
	if compute.BothSides(c) {
		return map[bool]string{true: "work it by process or simulation", false: "let it go"}[on]
	}
	return plain[on]
}

// seal are the rows of a contact that keeps a circuit closed once it has been closed.
func (k *loopCheckBuilder) seal(c *model.Circuit) {
	t, other := k.states, c.Sealed()
	tag := other.Device().Tag
	heading(t, "%s: side by side with %s in %s", c.Name, c.Seals().Words(), other.Name)
	row(t, "Sealed in", "start "+tag+", then let its button go", tag+" stays in")
	row(t, "Stopped", "open "+other.Name+" once (STOP), then close it", tag+" drops out, stays out")
	row(t, "Supply lost", "in; supply off, then on", tag+" drops out, stays out")
}
