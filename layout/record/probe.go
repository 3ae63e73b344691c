package record

import (
	"fmt"
	"strings"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
)

// This file holds the tests of displacement probes: dead, their probe and their common;
// then their supply, before all that hangs on it; then the gap and the curve (after the
// practice of API 670; from memory).

// scaleWithin is how far a step of the curve of a probe may be off its scale, in per cent
// (practice after API 670; from memory).
const scaleWithin = 5

// probeDead are the rows of a probe with everything off.
func (r *recordBuilder) probeDead(c *model.Circuit, add func(what, from, to, expect string)) {
	d := c.Device()
	if d == nil || c.Signal != model.Displacement {
		return
	}
	ohms := paper.NotGiven + ": ohms of " + d.Tag
	if v := d.Device.Ohms; v > 0 {
		ohms = wording.OhmFigure(v) + r.plant.Say(" Ω; open to its screen or case: broken")
	}
	add(r.plant.Say("Extension cable off its driver, probe on: inner conductor to screen"), d.Tag, d.Tag+"\n"+"probe", ohms)
	if com := d.Common(); com != nil {
		add(r.plant.Say("Cable landed at driver, off at monitor: COM to earth"), com.Tag(), r.plant.Say("earth"), "open")
	}
}

// probeLive are the rows of a probe once its supply is on.
func (r *recordBuilder) probeLive(c *model.Circuit, add func(what, from, to, expect string)) {
	d, named := c.Device(), byRole(deviceTerminals(c))
	com, fed, sig := named['+'], named['-'], named['Q']
	if d == nil || com == nil || fed == nil {
		return
	}
	expect := ""
	if v, _, missing := compute.OpenVolts(r.plant, c); len(missing) > 0 {
		expect = paper.NotGiven + ": " + wording.Lacking(missing)
	} else {
		expect = compute.Band{Value: -v.Value, Low: -v.High, High: -v.Low}.Words("V") + " V"
	}
	add(r.plant.Say("Supply at driver cores before landing, red lead at From"), fed.Tag(), com.Tag(), expect+", below common")
	add(r.plant.Say("Supply off: land the cores; supply on"), fed.Tag(), com.Tag(), r.probeReads(c, fed))
	if sig == nil {
		return
	}
	gap := paper.NotGiven + ": gap of " + d.Tag
	if g := d.Device.Gap; g.Given() {
		gap = fmt.Sprintf("%s V, set between %s and %s V", volts(g.At(50), 1), volts(min(g.Low, g.High), 1), volts(max(g.Low, g.High), 1))
	}
	add("Gap, machine at rest: set, locked, read again", sig.Tag(), com.Tag(), gap)
}

// probeReads is what the supply of a landed driver reads.
func (r *recordBuilder) probeReads(c *model.Circuit, at *model.Terminal) string {
	all, _ := compute.ReadingsOf(r.plant, c)
	if len(all.Rows) > 0 && all.Rows[0].A == at {
		return all.Rows[0].Values[0].Words(all.Unit) + " V"
	}
	return wording.Joined(paper.NotGiven+": voltage", wording.Lacking(all.Missing))
}

// volts is a voltage with its sign, as it is printed.
func volts(v float64, decimals int) string {
	return strings.Replace(fmt.Sprintf("%.*f", decimals, v), "-", "−", 1)
}

// probe is the curve of a displacement probe: its target is moved by steps, and each step
// has to give what the scale says.
func (k *loopCheckBuilder) probe(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: displacement probe input, no field device in the model", c.Name)
		return
	}
	d := p.Device
	heading(t, "%s: %s, %s, %s over %s; each step within %d %%", c.Name, k.plant.Say(p.Kind.Words), wording.Given(d.Range.Text),
		wording.Given(d.Scale.String()), wording.Given(d.Calibrated.Text), scaleWithin)
	steps := d.GapSteps()
	if len(steps) == 0 || d.Scale.MV == 0 {
		row(t, "Curve", "target moved by steps", paper.NotGiven+": scale or calibrated of "+p.Tag)
		return
	}
	before := 0.0
	for i, gap := range steps {
		v, _ := d.Scale.Volts(gap, d.Calibrated.Unit)
		expect := volts(v, 2) + " V"
		if step := before - v; i > 0 {
			expect += fmt.Sprintf("; step %.2f to %.2f V", step*(1-scaleWithin/100.0), step*(1+scaleWithin/100.0))
		}
		before = v
		at := d.Calibrated.Words(gap)
		row(t, at, "target at "+at, expect, upSent, downSent)
	}
}
