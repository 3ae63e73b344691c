package record

import (
	"fmt"
	"strings"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
)

// This file holds the loop check of instruments of several circuits: their alarm contacts,
// and the outputs that send on what they read.

// trips are the rows of a contact that an instrument works by what it reads, at a station of
// a circuit: healthy, tripped by moving the input past the set point, reset by moving it back,
// and with the supply of the instrument lost. acts are the words for what the circuit does
// while the contact is closed, and open. False where it is no such contact.
func (k *loopCheckBuilder) trips(c *model.Circuit, st *model.Station, closed, open string) bool {
	p, g := st.Part, st.Group()
	if g == nil || g.Contact == 0 || !p.Kind.Ports {
		return false
	}
	a, b := compute.Across(c, st)
	if a == nil || b == nil {
		return false
	}
	t := k.states
	set, given := p.AlarmOf(g)
	state := func(alarm bool) string {
		if p.Device.OnAlarm == 0 {
			return paper.NotGiven + ": alarm relays of " + p.Tag
		}
		pulled := alarm == (p.Device.OnAlarm == model.PullInOnAlarm)
		if pulled != g.ClosedAtRest(a, b) {
			return a.Name + "-" + b.Name + " closed; " + closed
		}
		return a.Name + "-" + b.Name + " open; " + open
	}
	if !given {
		row(t, "Alarm", "move the input past its set point", paper.NotGiven+": alarms of "+p.Tag+", under the name of "+g.Words())
		return true
	}
	up, down := "raise", "lower"
	if set.Falls() {
		up, down = down, up
	}
	unit, there := "", ""
	if p.Device.Function != nil {
		unit, there = wording.AlarmSignal(p.Device.Function, set)
	}
	at := wording.Joined(set.At+unit, there)
	row(t, "Healthy", "input well short of "+set.At+unit, state(false), readHere)
	row(t, "Trip "+set.Name, up+" the input slowly until the contact changes", "at "+at+": "+state(true))
	back := "at " + paper.NotGiven + ": deadband in alarms of " + p.Tag
	if r, ok := set.Resets(); ok {
		if p.Device.Function != nil {
			_, there = wording.AlarmSignal(p.Device.Function, r)
		}
		back = "at " + wording.Joined(r.At, there) + ", dead band " + set.Back
	}
	row(t, "Reset "+set.Name, down+" it slowly until the contact changes back", back)
	if p.Supplied() != nil {
		lost := paper.NotGiven + ": alarm relays of " + p.Tag
		if p.Device.OnAlarm != 0 {
			lost = "as tripped: " + state(true)
			if p.Device.OnAlarm == model.PullInOnAlarm {
				lost = "no alarm: " + state(false)
			}
		}
		row(t, "Supply lost", "healthy, then isolate the supply of "+p.Tag, lost, readHere)
	}
	return true
}

// tripped are the trips of contacts of instruments that legs of a circuit go through.
func (k *loopCheckBuilder) tripped(c *model.Circuit, on, off string) {
	for _, st := range c.Visits() {
		if st.InSeries() && st.Part.Kind.Ports {
			heading(k.states, "%s: %s %s in series", c.Name, st.Part.Tag, st.Group().Words())
			k.trips(c, st, on, off)
		}
	}
}

// relayState is how the relay of an instrument comes to be pulled in, or to drop out.
func relayState(p *model.Part, g *model.Group, pulled bool) string {
	set, ok := p.AlarmOf(g)
	switch {
	case !ok:
		return p.Tag + ": " + map[bool]string{true: "pulled in", false: "dropped out"}[pulled]
	case p.Device.OnAlarm == 0:
		return p.Tag + " " + set.Name + map[bool]string{true: " pulled in", false: " dropped out"}[pulled]
	case pulled == (p.Device.OnAlarm == model.PullInOnAlarm):
		return p.Tag + " tripped: input past " + set.Name + " " + set.At
	}
	return p.Tag + " healthy: input short of " + set.Name + " " + set.At
}

// sentOn is the circuit that an output sends on, by the first input of its instrument that
// has one; nil without.
func sentOn(p *model.Part) (*model.Circuit, *model.Part) {
	for _, port := range p.Whole().Ports() {
		if port.Card == nil || port.Drive() {
			continue
		}
		for _, c := range port.Circuits() {
			if d := c.Device(); !c.Broken && d != nil {
				return c, port
			}
		}
	}
	return nil, nil
}

// through are the rows of an output that sends on what its instrument reads: what is put on the
// input in place of its sensor, what comes out, and what is shown. False where the input is
// in no circuit of a device with a range.
func (k *loopCheckBuilder) through(c *model.Circuit, out *model.Part) bool {
	from, port := sentOn(out)
	if from == nil || !out.Device.Range.Given() || !from.Device().Device.Range.Given() {
		return false
	}
	t, signal, d := k.analogue, compute.Output(out.Device), from.Device()
	heading(t, "%s: by %s to %s, %s as %s%s", c.Name, port.Tag, out.Port(), out.Device.Range.Text, signal.Text, k.readAt(c))
	if from.Signal == model.AnalogIn {
		injectedAt(t, atDevice(from), injection(d))
	} else {
		injectedAt(t, atDevice(from), "element lifted")
		k.injectCouple(d.Device)
	}
	point := func(name string, percent float64) {
		sends := func(at float64) string { return wording.Current(signal, at) }
		reads, at := value(out.Device.Range, percent, sends)
		apply := paper.NotGiven + ": range of " + d.Tag + " in " + out.Device.Range.Unit
		if in, ok := d.Device.Range.PercentOf(out.Device.Range.At(at), out.Device.Range.Unit); ok {
			apply = wording.Current(compute.Output(d.Device), compute.SignalFor(d.Device, in))
			if from.Signal != model.AnalogIn {
				apply = atPoint(d.Device, in)
			}
		}
		row(t, name, apply, sends(at)+", "+reads+only(name))
		k.volts(t, cardVolts, c, signal.At(at))
	}
	for _, percent := range k.points() {
		point(wording.Plain(percent)+" %", percent)
	}
	point(ownWords, k.own)
	row(t, "Output open", "from 50 %"+k.plant.Say(", lift one core"), "0 mA, bad quality", downSent, downShown)
	k.volts(t, cardVolts, c, 0)
	return true
}

// readAt names the instruments that show what a circuit carries, where it comes to some.
func (k *loopCheckBuilder) readAt(c *model.Circuit) string {
	var tags []string
	for _, st := range c.Visits() {
		if of := st.Part.Of; of != nil && st.Part.Card != nil && of.Kind.Does != 0 {
			tags = append(tags, of.Tag)
		}
	}
	if len(tags) == 0 {
		return ""
	}
	return "; read at " + strings.Join(model.Unique(tags), ", ")
}

// commandedBy says where an output is commanded from that is of an instrument.
func commandedBy(c *model.Circuit) string {
	for _, st := range c.Visits() {
		if of := st.Part.Of; of != nil && st.Part.Drive() {
			return fmt.Sprintf("; commanded at %s in manual", of.Tag)
		}
	}
	return ""
}

// sends names the outputs at which it is read what comes in on a circuit that ends on an
// instrument without a display; nothing of others.
func sends(c *model.Circuit) (names []string) {
	for _, st := range c.Visits() {
		of := st.Part.Of
		if of == nil || st.Part.Card == nil {
			continue
		}
		if of.Kind.Does != 0 {
			return nil
		}
		for _, port := range of.Ports() {
			for _, out := range port.Circuits() {
				if port.Device != nil {
					names = append(names, out.Name)
				}
			}
		}
	}
	return names
}

// sentOn is the heading of a circuit that ends on an instrument without a display, and what its
// sensor being open does; false of others.
func (k *loopCheckBuilder) sentOn(c *model.Circuit) bool {
	names := sends(c)
	if len(names) == 0 {
		return false
	}
	heading(k.analogue, "%s: proved with %s", c.Name, strings.Join(names, ", "))
	row(k.analogue, "Open sensor", "from 50 %"+k.plant.Say(", lift one core at element"), "outputs per burnout setting", downSent, downShown)
	return true
}
