package record

import (
	"fmt"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/trunk"
	"ringout/render"
)

// segment are the tables that prove the pair of a segment as a whole: dead, then with
// power. None of a loop, and of a segment that begins nowhere.
func (r *recordBuilder) segment() []*paper.Table {
	if r.loop.Segment == nil {
		return nil
	}
	pair := trunk.Of(r.plant, r.loop)
	if pair.Source == nil {
		return nil
	}
	if r.loop.Segment.Kind.Powered {
		return []*paper.Table{deadBus(r.plant, pair), r.liveBus(pair)}
	}
	return []*paper.Table{deadLink(r.plant, pair), liveLink(pair)}
}

// deadTable is the table of what is measured before power.
func deadTable(head string) *paper.Table {
	return &paper.Table{Columns: []paper.Column{
		{Head: head, Width: 74 * render.MM},
		{Head: "Expected", Width: 52 * render.MM},
		{Head: "Read", Width: 26 * render.MM},
		{Head: "Initials", Width: 18 * render.MM},
	}}
}

func expect(t *paper.Table, what, expected string) {
	t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: what}, {S: expected}}})
}

// within is how much the capacitance of a terminator may be off, in per cent (common
// practice).
const within = 20

// deadBus is what is measured on a powered bus before power, its trunk lifted at the
// source and the devices connected. The limits are common practice of commissioning; what
// the capacitance tells is how many terminators are left on the pair.
func deadBus(p *model.Plant, pair *trunk.Pair) *paper.Table {
	k := pair.Loop.Segment.Kind
	t := deadTable("Power off, devices connected, trunk lifted at " + pair.Source.Tag)
	expect(t, "+ to −", "above 50 kΩ, rising")
	expect(t, p.Say("+ to screen, − to screen"), "above 20 MΩ")
	expect(t, p.Say("+ to earth, − to earth"), "above 20 MΩ")
	expect(t, p.Say("screen to earth, its own earth lifted"), "above 20 MΩ")
	left, at := 0, ""
	for _, x := range pair.Loop.Segment.Terminators {
		if x.At.Part != pair.Source {
			left++
			at = wording.Joined(at, x.Tag())
		}
	}
	low, high := float64(left)*k.Farads*(100-within)/100, float64(left)*k.Farads*(100+within)/100
	words := fmt.Sprintf("%s..%s µF: terminator %s", model.Round(low), model.Round(high), at)
	if left == 0 {
		words = "below 0.3 µF: no terminator left"
	}
	expect(t, "capacitance + to −", words)
	expect(t, p.Say("capacitance + to screen, − to screen"), "below 0.3 µF, alike")
	return t
}

// The limits of the signal on a powered bus (IEC 61158-2 type 1, from memory): a receiver
// takes 0.15 V peak to peak, and noise in its band stays below half of that.
const (
	leastSignal = "≥ 0.15"
	mostNoise   = "≤ 0.075"
)

// liveBus is what is measured on a powered bus with power: at the source, where the trunk
// ends, and at each device.
func (r *recordBuilder) liveBus(pair *trunk.Pair) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Power on: at", Width: 34 * render.MM},
		{Head: "Address", Width: 16 * render.MM},
		{Head: "Expect, V DC", Width: 26 * render.MM},
		{Head: "At least", Width: 16 * render.MM},
		{Head: "V read", Width: 20 * render.MM},
		{Head: "Signal, V p-p\n" + leastSignal, Width: 22 * render.MM},
		{Head: "Noise, V p-p\n" + mostNoise, Width: 20 * render.MM},
		{Head: "Initials", Width: 16 * render.MM},
	}}
	k := pair.Loop.Segment.Kind
	row := func(at string, address paper.Cell, j *trunk.Joint, least float64) {
		volts := paper.NotGiven
		if band, missing := pair.Expected(r.plant, j); len(missing) == 0 {
			volts = band.Words("V")
		}
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: at, Bold: true}, address, {S: volts}, {S: wording.Plain(least) + " V"}}})
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

// deadLink is what is measured on a serial link before power. Across the pair stand its
// terminators, one by way of the copper between.
func deadLink(p *model.Plant, pair *trunk.Pair) *paper.Table {
	t := deadTable("Power off, devices connected, at " + pair.Source.Tag)
	words := paper.NotGiven
	if ohms, ok := linkOhms(p, pair); ok {
		words = wording.OhmFigure(ohms) + " Ω ± 10 %: both terminators in"
	}
	expect(t, "+ to −", words)
	expect(t, p.Say("+ to screen, − to screen"), "open; by a bias what its resistors have")
	expect(t, p.Say("screen to earth, its own earth lifted"), "open")
	return t
}

// linkOhms are the ohms that a meter finds at the source across the pair: each terminator
// by way of the copper to it, all in parallel; false where a length or copper is not given.
func linkOhms(p *model.Plant, pair *trunk.Pair) (float64, bool) {
	siemens := 0.0
	for _, x := range pair.Loop.Segment.Terminators {
		j := pair.At(x.At)
		if j == nil {
			return 0, false
		}
		ohms := pair.Loop.Segment.Kind.Ohms
		for ; j.By != nil; j = j.From {
			core, _, ok := compute.CoreOhms(j.By.Core.Cable, p.Practice.TestCopper.Celsius)
			if !ok {
				return 0, false
			}
			ohms += 2 * core
		}
		siemens += 1 / ohms
	}
	return 1 / siemens, siemens > 0
}

// liveLink is what is measured on a serial link with power, while it is idle: a receiver
// takes 0.2 V for a mark (TIA-485).
func liveLink(pair *trunk.Pair) *paper.Table {
	t := deadTable("Power on, link idle")
	for _, j := range pair.Ends {
		expect(t, "+ to − at "+j.Parts[0].Tag, "+ is positive, at least 0.2 V")
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
