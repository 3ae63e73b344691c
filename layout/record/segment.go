package record

import (
	"fmt"
	"slices"
	"strings"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/trunk"
	"ringout/render"
)

// segment are the tables that prove the pair of a segment as a whole: dead, then with
// power. None of a loop, and of a segment of no known kind or that begins nowhere.
func (r *recordBuilder) segment() []*paper.Table {
	if r.loop.Segment == nil || r.loop.Segment.Kind == model.UnknownSegment {
		return nil
	}
	if r.loop.Plugged() {
		return append(r.plugTables(), r.linkTables()...)
	}
	pair := trunk.Of(r.plant, r.loop)
	if pair.Source == nil {
		return nil
	}
	switch k := r.loop.Segment.Kind; {
	case k.Ohmic:
		return []*paper.Table{deadLine(r.plant, pair), r.liveBus(pair, "Answers,\nreading", "Reading in\nthe system")}
	case k.Powered:
		return []*paper.Table{deadBus(r.plant, pair), r.liveBus(pair, "Signal, V p-p\n"+leastSignal, "Noise, V p-p\n"+mostNoise), r.spurs(pair)}
	}
	return append([]*paper.Table{deadLink(r.plant, pair), liveLink(r.plant, pair)}, r.linkTables()...)
}

// linkTables are what a link has besides: the racks that it serves, and the test of its
// loss.
func (r *recordBuilder) linkTables() []*paper.Table {
	return append(wording.RackTables(r.plant, r.loop), r.losses()...)
}

// deadTable is the table of what is measured before power.
func deadTable(head string) *paper.Table {
	return &paper.Table{Columns: []paper.Column{
		{Head: head, Width: 74 * render.MM},
		{Head: "Expected", Width: 52 * render.MM},
		{Head: "Read", Width: 26 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}
}

func expect(t *paper.Table, what, expected string) {
	t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: what}, {S: expected}}})
}

// nearEarth is what a meter reads from the screen to earth, and at which point it is earthed.
func nearEarth(p *model.Plant, pair *trunk.Pair) string {
	switch earths, screened := pair.Earths(p); {
	case len(earths) > 0:
		return "near 0 Ω, by " + strings.Join(earths, ", ")
	case screened:
		return paper.NotGiven + p.Say(": earth of the screen")
	}
	return p.Say("no screen")
}

// How far the capacitance of the terminators of a bus may be off, and the ohms across a
// link, in per cent (common practice).
const (
	faradsWithin = 20
	ohmsWithin   = 10
)

// terminators names those that are across a pair.
func terminators(all []model.Terminator) string {
	word := "terminator"
	if len(all) > 1 {
		word += "s"
	}
	var at []string
	for _, x := range all {
		at = append(at, x.Tag())
	}
	return word + " " + strings.Join(at, ", ")
}

// deadBus is what is measured on a powered bus before power, its trunk lifted at the
// source and the devices connected, and last what is put back. The limits are common practice of commissioning; what
// the capacitance tells is how many terminators are left on the pair.
func deadBus(p *model.Plant, pair *trunk.Pair) *paper.Table {
	k := pair.Loop.Segment.Kind
	t := deadTable("Power off, devices connected, trunk lifted at " + pair.Source.Tag)
	expect(t, "+ to −", "above 50 kΩ, rising")
	expect(t, p.Say("+ to screen, − to screen"), "above 20 MΩ")
	expect(t, p.Say("+ to earth, − to earth"), "above 20 MΩ")
	expect(t, p.Say("screen to earth, its own earth lifted"), "above 20 MΩ")
	left := slices.DeleteFunc(pair.Terminators(), func(x model.Terminator) bool { return x.At.Part == pair.Source })
	farads := float64(len(left)) * k.Farads
	words := fmt.Sprintf("%s..%s µF: %s", model.Round(farads*(100-faradsWithin)/100), model.Round(farads*(100+faradsWithin)/100), terminators(left))
	if len(left) == 0 {
		words = "below 0.3 µF: no terminator left"
	}
	expect(t, "capacitance + to −", words)
	expect(t, p.Say("capacitance + to screen, − to screen"), "below 0.3 µF, alike")
	expect(t, p.Say("last: land the trunk and the earth of the screen; screen to earth"), nearEarth(p, pair))
	return t
}

// The limits of the signal on a powered bus (IEC 61158-2 type 1, from memory): a receiver
// takes 0.15 V peak to peak, and noise in its band stays below half of that.
const (
	leastSignal = "≥ 0.15"
	mostNoise   = "≤ 0.075"
)

// liveBus is what is measured on a segment that powers its devices, with power: the volts at
// the source, where the trunk ends, and at each device, and what the two last heads say.
func (r *recordBuilder) liveBus(pair *trunk.Pair, heads ...string) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Power on: at", Width: 34 * render.MM},
		{Head: "Address", Width: 16 * render.MM},
		{Head: "Expected, V DC", Width: 26 * render.MM},
		{Head: "Minimum", Width: 16 * render.MM},
		{Head: "V read", Width: 20 * render.MM, Hand: paper.Reading},
		{Head: heads[0], Width: 22 * render.MM, Hand: paper.Reading},
		{Head: heads[1], Width: 20 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}
	k := pair.Loop.Segment.Kind
	row := func(at string, address paper.Cell, j *trunk.Joint, least float64) {
		band, missing := pair.Expected(r.plant, j)
		volts := band.Words("V")
		if len(missing) > 0 {
			volts = paper.NotGiven + ": " + wording.Few(missing)
		}
		needs := paper.Cell{S: wording.Plain(least) + " V"}
		switch {
		case least > 0:
		case address.Kind == paper.NA: // nothing there needs any
			needs = address
		default:
			needs.S = paper.NotGiven
		}
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: at, Bold: true}, address, {S: volts}, needs}})
	}
	row(pair.Source.Tag, paper.Cell{Kind: paper.NA}, pair.Joints[0], k.Least)
	for _, j := range pair.Ends {
		if j != pair.Joints[0] && len(j.Devices) == 0 {
			row("end of trunk "+j.Parts[0].Tag, paper.Cell{Kind: paper.NA}, j, k.Least)
		}
	}
	for _, d := range pair.Devices() {
		address := paper.Cell{S: fmt.Sprint(d.Device.Address)}
		if d.Device.Address == 0 {
			address.S = paper.NotGiven
		}
		least := k.Least
		if v := d.Device.LiftOff.Most(); v > 0 {
			least = v
		}
		row(d.Tag, address, pair.JointOf(d), least)
	}
	return t
}

// shortSpurs goes before the test of couplers.
const shortSpurs = "Shorting a spur takes its devices down: loops in manual, operations told. Intrinsically safe spurs: certified instruments, as the maker and the permit allow."

// shorts reports whether the record has spurs shorted.
func (r *recordBuilder) shorts() bool {
	return r.loop.Segment != nil && slices.ContainsFunc(trunk.Of(r.plant, r.loop).Joints, func(j *trunk.Joint) bool {
		c, _ := j.Outlet()
		return c != nil
	})
}

// spurs is the test of couplers: each spur short, one at a time. Common practice of
// commissioning: a coupler holds the current of a short or switches the spur off until the
// short is gone.
func (r *recordBuilder) spurs(pair *trunk.Pair) *paper.Table {
	t := deadTable("Power on, loops in manual: short + to − at the end of one spur at a time")
	t.Columns[2].Head = "mA read, others"
	for _, j := range pair.Joints {
		c, n := j.Outlet()
		if c == nil {
			continue
		}
		expect(t, fmt.Sprintf("%s spur %d, %s to %s", c.Tag, n, j.By.Core.Cable.Tag, pair.Beyond(j).Tags()), fmt.Sprintf("max %s; all other devices answer", wording.SpurLimit(c)))
	}
	if len(t.Rows) == 0 {
		return t
	}
	expect(t, "a spur that trips", "remove the short, wait as the maker says; its device answers")
	expect(t, "last: every short removed", "every device answers")
	return t
}

// deadLine is what is done on a multidrop line before power, and what it draws with power: a
// device that keeps the address of one alone on its pair drives 4 to 20 mA, and that of two
// with one address neither can be read (a maker's application note; the order is common
// practice, from memory).
func deadLine(p *model.Plant, pair *trunk.Pair) *paper.Table {
	t := deadTable("Power off, pair lifted at " + pair.Source.Tag)
	for _, d := range pair.Devices() {
		words := "address " + paper.NotGiven
		if n := d.Device.Address; n > 0 {
			words = fmt.Sprintf("address %d, current fixed", n)
		}
		expect(t, "first, alone on a supply of its own: "+d.Tag, words)
	}
	expect(t, "+ to −, devices connected, both ways round", "no short")
	expect(t, p.Say("+ to screen, − to screen"), "open")
	expect(t, p.Say("+ to earth, − to earth"), "open")
	ohms := paper.NotGiven + ": ohms of " + pair.Source.Tag
	if v := pair.SourceOhms(); v > 0 {
		ohms = wording.Plain(v) + " Ω"
	}
	expect(t, "resistor between "+pair.Source.Tag+" and the pair", ohms)
	expect(t, p.Say("land the pair and the earth of the screen; screen to earth"), nearEarth(p, pair))
	mA, missing := pair.Current()
	words := wording.Plain(mA) + " mA: " + finding.Count(len(pair.Devices()), "device")
	if len(missing) > 0 {
		words = paper.NotGiven + ": " + wording.Few(missing)
	}
	expect(t, "power on: current at "+pair.Source.Tag+", all devices landed", words)
	return t
}

// deadLink is what is measured on a serial link before power. Across the pair stand its
// terminators, one by way of the copper between.
func deadLink(p *model.Plant, pair *trunk.Pair) *paper.Table {
	t := deadTable("Power off, devices connected, at " + pair.Source.Tag)
	in := pair.Terminators()
	ohms, missing := pair.TerminatedOhms(p.Practice.TestCopper.Celsius)
	words := fmt.Sprintf("%s Ω ± %d %%: %s", wording.OhmFigure(ohms), ohmsWithin, terminators(in))
	switch {
	case len(in) == 0:
		words = "open: no terminator"
	case len(missing) > 0:
		words = paper.NotGiven + ": " + wording.Few(missing)
	}
	expect(t, "+ to −", words)
	alone := "open, or the resistors of a bias"
	if b := pair.Loop.Segment.Bias; b.At != nil {
		alone = "open, but for the bias at " + b.At.Part.Tag
	}
	expect(t, p.Say("+ to screen, − to screen"), alone)
	expect(t, p.Say("screen to earth, its own earth lifted"), "open")
	expect(t, p.Say("last: land the earth of the screen; screen to earth"), nearEarth(p, pair))
	return t
}

// liveLink is what is measured on a serial link with power, while it is idle: a receiver
// takes 0.2 V for a mark (TIA-485).
func liveLink(p *model.Plant, pair *trunk.Pair) *paper.Table {
	t := deadTable("Power on, link idle")
	for _, j := range pair.Ends {
		words := ""
		if b := pair.Loop.Segment.Bias; b.At != nil && pair.At(b.At) != nil {
			if band, missing := pair.Idle(p, j); len(missing) > 0 {
				words = paper.NotGiven + ": " + wording.Few(missing) + "; "
			} else {
				words = band.Words("V") + " V, "
			}
		}
		expect(t, "+ to − at "+j.Parts[0].Tag, words+"+ is positive, minimum 0.2 V")
	}
	for _, d := range pair.Devices() {
		address := paper.NotGiven
		if d.Device.Address > 0 {
			address = fmt.Sprint(d.Device.Address)
		}
		expect(t, d.Tag+" answers", "address "+address)
	}
	return t
}
