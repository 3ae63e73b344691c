package record

import (
	"fmt"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/trunk"
)

// This file makes the tables of links: what is measured before and after power, and what
// the loss of one does. Unless a source is named, all of it is common practice of
// commissioning.

// plugTables are those of a link by plugs.
func (r *recordBuilder) plugTables() []*paper.Table {
	if r.loop.Segment.Kind.Glass {
		return []*paper.Table{r.darkFibre(), r.litFibre()}
	}
	return []*paper.Table{r.deadPlugs(), r.livePlugs()}
}

// ends are the two ends of a link by plugs; NOT GIVEN where an error left one out.
func (r *recordBuilder) ends() (a, b string) {
	ends := []string{paper.NotGiven, paper.NotGiven}
	for i, e := range r.loop.Segment.Plug.Ends {
		if i < len(ends) {
			ends[i] = e.Tag()
		}
	}
	return ends[0], ends[1]
}

// longest is how long a link is drawn, and how long it may be.
func (r *recordBuilder) longest() string {
	m, most := trunk.Of(r.plant, r.loop).Limits(r.plant)[0], paper.NotGiven
	if m.Limit > 0 {
		most = model.Round(m.Limit) + " " + m.Unit
	}
	return wording.Given(r.loop.Segment.Plug.LengthWords()) + ", max " + most
}

// fibres are those of a link, one by one as far as they are named.
func (r *recordBuilder) fibres() []string {
	if names := r.loop.Segment.Plug.FibreNames(); len(names) > 0 {
		return names
	}
	return []string{paper.NotGiven}
}

// darkFibre is what is measured on a fibre link before its ports light it: the loss of each
// fibre both ways, in dB and not in ohms.
func (r *recordBuilder) darkFibre() *paper.Table {
	a, b := r.ends()
	t := deadTable("Ports dark, both plugs drawn: cable " + wording.PlugCable(r.loop))
	expect(t, "end faces of all plugs, by inspection scope", "clean, no scratch")
	limit := "max " + wording.LossLimit(&r.loop.Segment.Plug)
	for _, f := range r.fibres() {
		expect(t, fmt.Sprintf("fibre %s, loss in dB from %s to %s", f, a, b), limit)
		expect(t, fmt.Sprintf("fibre %s, loss in dB from %s to %s", f, b, a), limit)
	}
	expect(t, "wavelength of the test, nm", "that of the ports")
	expect(t, "length by the tester", r.longest())
	expect(t, "light sent into the transmit fibre at "+a, "comes out at receive of "+b)
	expect(t, "light sent into the transmit fibre at "+b, "comes out at receive of "+a)
	return t
}

// litFibre is what is read on a fibre link with its ports on.
func (r *recordBuilder) litFibre() *paper.Table {
	t := deadTable("Plugs in, ports on")
	for _, at := range r.plugged() {
		expect(t, "received power in dBm at "+at, paper.NotGiven+": limits of the port")
	}
	return r.linkUp(t)
}

// deadPlugs is what is measured on a link of copper pairs before its ports are on: eight
// cores from pin to pin (ISO/IEC 11801, from memory), never by an insulation tester with a
// port at the other end.
func (r *recordBuilder) deadPlugs() *paper.Table {
	t := deadTable("Ports off, both plugs drawn: cable " + wording.PlugCable(r.loop))
	expect(t, "wire map, pins 1 to 8", "straight through; no open, short or split pair")
	expect(t, r.plant.Say("screen from plug to plug"), "through, or none as the cable is")
	expect(t, "length by the tester", r.longest())
	expect(t, "cable tester, for the class that the ports ask for", "pass")
	expect(t, r.plant.Say("screen to earth, as the plant earths it"), r.plant.Say("near 0 Ω at the end with the earth"))
	return t
}

// livePlugs is what is read on such a link with its ports on.
func (r *recordBuilder) livePlugs() *paper.Table { return r.linkUp(deadTable("Plugs in, ports on")) }

// linkUp is what any link by plugs shows once it is up.
func (r *recordBuilder) linkUp(t *paper.Table) *paper.Table {
	for _, at := range r.plugged() {
		expect(t, "link lamp, speed and duplex at "+at, "on; alike at both ends")
	}
	expect(t, "errors counted at both ports in 10 min", "none")
	return t
}

// plugged are the ends that are given.
func (r *recordBuilder) plugged() (tags []string) {
	for _, e := range r.loop.Segment.Plug.Ends {
		tags = append(tags, e.Tag())
	}
	return tags
}

// losses are, for each rack that a link serves, the test that takes the link away: with
// another one left nothing on the rack may stop; without one its outputs do what they are
// said to do.
func (r *recordBuilder) losses() (all []*paper.Table) {
	for _, rack := range r.plant.Served(r.loop) {
		t := deadTable("Power on, loops of " + rack.Tag + " in manual: open " + r.loop.Tag)
		expect(t, rack.Tag+" answers "+rack.Controller.Tag+", every card as drawn", "before the test")
		if r.plant.CutOff(rack, r.loop) {
			expect(t, "inputs of "+rack.Tag+", as "+rack.Controller.Tag+" shows them", "bad, and alarmed; none holds a good value")
			r.outputs(t, rack)
			expect(t, "seconds until then", paper.NotGiven+": as the cards are set")
		} else {
			expect(t, "all channels of "+rack.Tag, "go on; no output moves")
			expect(t, rack.Controller.Tag+" tells of the fault", "alarm names "+r.loop.Tag)
			expect(t, "close it again before another one is opened", r.loop.Tag+" healthy at both ends")
		}
		expect(t, "last: link closed, alarms reset", "every card answers; outputs back as the operator lets them")
		all = append(all, t)
	}
	return all
}

// outputs asks for what each output card in use does without a link.
func (r *recordBuilder) outputs(t *paper.Table, rack *model.Place) {
	for _, x := range rack.Parts {
		if x.MayHoldOnLoss() && r.used(x) {
			expect(t, "outputs of "+x.Tag, wording.OnLoss(x))
		}
	}
}

// used reports whether a circuit is on a card.
func (r *recordBuilder) used(card *model.Part) bool {
	for _, t := range card.Terminals {
		if t.Landed() {
			return true
		}
	}
	return false
}

// linkCautions are those of a link, the danger to people first.
func linkCautions(p *model.Plant, l *model.Loop) (all []string) {
	if l.Segment == nil {
		return nil
	}
	switch k := l.Segment.Kind; {
	case k.Glass:
		all = append(all, wording.LinkLight)
	case k.Plugged:
		all = append(all, wording.LinkPorts)
	}
	if len(p.Served(l)) > 0 {
		all = append(all, wording.LinkLoss)
	}
	return all
}
