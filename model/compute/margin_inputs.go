package compute

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ringout/model"
	"ringout/model/finding"
)

// levelMargins compares what a switched input gets from its switch, off and on, with
// the levels that it tells 0 and 1 by, and what the switch carries with the least that
// it needs. 0 is held by few volts or by little current, as IEC 61131-2 has it, 1 takes
// both. Off, supplies are at their highest and the switch leaks all that it may; on,
// they are at their least and the copper is at its hottest. An isolator is an input of
// its own, of which nothing is known.
func levelMargins(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	var inputs []*model.Station
	both := changeover(c)
	for _, st := range c.Visits() {
		if st.Part.Kind.Isolates {
			return nil
		}
		if st.Part.Card != nil && slices.Contains([]model.Signal{model.ContactIn, model.Proximity}, st.Part.Kind.Signal) {
			if both == nil {
				inputs = nil // the last of them
			}
			inputs = append(inputs, st)
		}
	}
	var all []Margin
	for _, st := range inputs {
		l, missing, asked := c.Levels(st.Part)
		in := inputOf{p, c, d, st.Part, st, both == nil || both.makesAt(c, st), l, missing}
		if asked {
			all = append(append(all, in.on()), in.off()...)
		}
		if d.Device.LeastMA > 0 {
			all = append(all, in.carried())
		}
	}
	return all
}

// inputOf is an input and the switch on it.
type inputOf struct {
	plant          *model.Plant
	circuit        *model.Circuit
	switched, card *model.Part
	at             *model.Station // of the channel
	makes          bool           // it is on while the contact is worked; false of the break side of a changeover contact
	levels         model.Levels
	missing        []string // of the levels
}

// name is the card, and the channel where the circuit comes to two of them.
func (in inputOf) name() string {
	if changeover(in.circuit) != nil {
		return fmt.Sprintf("%s channel %d", in.card.Tag, in.at.Channel)
	}
	return in.card.Tag
}

// gets is what the input gets in a state: volts across it and mA into it.
func (in inputOf) gets(st state) (volts, mA float64, missing []string) {
	s := compute(in.plant, in.circuit, st)
	mA, ok := s.receiver(in.at)
	if missing = s.Missing; len(missing) == 0 && !ok {
		missing = noClosedPath
	}
	mA = math.Abs(mA)
	return mA * in.card.Card.Ohms / 1000, mA, missing
}

// on is the margin of the input while the switch is on: that of volts, or that of
// current where it falls short or the input goes by nothing else.
func (in inputOf) on() Margin {
	m := Margin{Circuit: in.circuit, What: "minimum voltage into " + in.name(), At: Condition{switched: switchedOn}, Unit: voltUnit(in.circuit), Limit: in.levels.On.Volts, Missing: in.missing, Code: finding.UnsureOn}
	st := state{closed: in.makes, supply: model.Least, hot: true}
	volts, mA, missing := in.gets(st)
	m.Actual, m.Missing = volts, append(slices.Clone(m.Missing), missing...)
	if in.card.Card.Ohms == 0 && len(in.missing) == 0 && m.Limit > 0 {
		// Even an input that takes no current may get too little.
		if v, ok := in.unloaded(st); ok && v < m.Limit {
			m.What, m.Actual, m.Missing = "voltage into "+in.name()+" with no current in it", v, nil
			return m
		}
	}
	if needs := in.levels.On.MA; needs > 0 && len(m.Missing) == 0 && (m.Limit == 0 || mA < needs && volts >= m.Limit) {
		m.What, m.Unit, m.Actual, m.Limit = "minimum current into "+in.name(), "mA", mA, needs
	}
	return m
}

// unloaded is the voltage across an input of ohms that are not given, were they
// without end; false where more than they is not given.
func (in inputOf) unloaded(st state) (float64, bool) {
	st.unloaded = true
	s := compute(in.plant, in.circuit, st)
	for _, visit := range in.circuit.Visits() {
		if visit != in.at || len(s.Missing) > 0 {
			continue
		}
		ts := in.card.MeasureAt(visit.Channel)
		from := at(ts[0], model.FieldSide)
		if in.card.Card.Powers {
			from = inside(in.card, visit.Channel)
		}
		a, okA := s.voltage(from)
		b, okB := s.voltage(at(ts[1], model.FieldSide))
		return math.Abs(s.shown(a - b)), okA && okB
	}
	return 0, false
}

// off is the margin of the input while the switch is off: that of current where it
// holds 0 or nothing else can, else that of volts. A contact that nothing bridges
// passes nothing.
func (in inputOf) off() []Margin {
	d := in.switched.Device
	bare := d.Leakage == 0 && d.Parallel == 0 || len(in.switched.Coils()) > 0
	if element := in.switched.Kind.Element; bare && (element == model.ContactElement || in.switched.Kind.Grouped()) {
		return nil
	}
	m := Margin{Circuit: in.circuit, What: "maximum current into " + in.card.Tag, At: Condition{switched: switchedOff}, Unit: "mA", Limit: in.levels.Off.MA, IsMax: true, Missing: in.missing, Code: finding.UnsureOff}
	if bare {
		m.Missing = append(slices.Clone(m.Missing), "leakage of "+in.switched.Tag)
		return []Margin{m}
	}
	volts, mA, missing := in.gets(state{closed: !in.makes, leaks: true, supply: model.Highest})
	if in.card.Card.Ohms == 0 && d.Parallel == 0 {
		most := d.Leakage // all of it may go into the input; beside a resistor, what that leaves above its volts for 0
		if d.Bleeder > 0 && !in.card.Card.Powers {
			most = max(0, most-in.levels.Off.Volts/d.Bleeder*1000)
		}
		if most <= m.Limit {
			mA, missing = most, nil
		}
	}
	m.Actual, m.Missing = mA, append(slices.Clone(m.Missing), missing...)
	if most := in.levels.Off.Volts; most > 0 && mA > m.Limit {
		m.What, m.Unit, m.Actual, m.Limit = "maximum voltage into "+in.card.Tag, voltUnit(in.circuit), volts, most
	}
	if len(m.Missing) == 0 && !m.OK() {
		m.Cure = in.takenUp()
	}
	return []Margin{m}
}

// takenUp is the resistor across the input that would take up what the switch leaks:
// R = UL / (leakage − what the input may take at UL itself). In it 0 is held: either
// the volts stay below UL, or above it R leaves the input less than it may take.
func (in inputOf) takenUp() string {
	d, off := in.switched.Device, in.levels.Off
	switch {
	case d.Parallel > 0:
		return "use more parallel ohms, or an input for such a contact"
	case off.Volts == 0 || in.card.Card.Powers:
		return "use a switch that leaks less, or an input that withstands it"
	}
	ohms := off.Volts / (d.Leakage - max(off.MA, off.Volts/in.card.Card.Ohms*1000)) * 1000
	return in.resistor(ohms) + "; or use a switch that leaks less"
}

// carried is the margin of the current that the switch carries while it is on: into
// the input, and into a resistor across it; with one across the switch, without that.
func (in inputOf) carried() Margin {
	d := in.switched.Device
	m := Margin{Circuit: in.circuit, What: "minimum current through " + in.switched.Tag, At: Condition{switched: switchedOn}, Unit: "mA", Limit: d.LeastMA, Code: finding.StarvedSwitch}
	volts, mA, missing := in.gets(state{closed: in.makes, supply: model.Least, hot: true})
	m.Actual, m.Missing = mA, missing
	if d.Bleeder > 0 && !in.card.Card.Powers {
		m.Actual += volts / d.Bleeder * 1000
	}
	if len(m.Missing) == 0 && !m.OK() {
		m.Cure = "use an input that draws more"
		if !in.card.Card.Powers {
			m.Cure = in.resistor(volts/(m.Limit-mA)*1000) + "; or use an input that draws more"
		}
	}
	return m
}

// resistor is the key for one of at most so many ohms across the input, rounded down to three
// figures, with the most that it may have to bear.
func (in inputOf) resistor(ohms float64) string {
	_, most := in.plant.Practice.SupplyBand(in.circuit.Feeder())
	step := math.Pow10(int(math.Floor(math.Log10(ohms))) - 2)
	ohms = math.Floor(ohms/step+1e-9) * step
	return fmt.Sprintf("add bleeder: %s ohm or less, a resistor across the input (heat up to %s W; rate it for four times that, common practice)",
		strconv.FormatFloat(ohms, 'f', -1, 64), strconv.FormatFloat(most*most/ohms, 'g', 2, 64))
}

// lineMargin compares the ohms of both legs between a proximity switch, or a contact
// in its place, and its input with the most that the practice has, the copper at its
// hottest. A barrier on the way counts. What is known may be too much already.
func lineMargin(p *model.Plant, c *model.Circuit, d *model.Part) []Margin {
	m := Margin{Circuit: c, What: "line to ", Unit: "Ω", IsMax: true, Limit: p.Practice.LineOhms, Code: finding.LongLine,
		Cure: "use thicker cores, or move the input nearer to the switch (IEC 60947-5-6)"}
	var end *model.Part
	for _, st := range c.Visits() {
		if st.Part.Kind.Isolates || st.Part.Card != nil && st.Part.Kind.Signal == model.Proximity {
			end = st.Part
			break
		}
	}
	if end == nil || end.Kind.Isolates && d.Kind.Signal != model.Proximity {
		return nil
	}
	m.What += end.Tag
	for _, l := range c.Legs {
		x := lead(p, l, p.Practice.HotCopper.Celsius, func(st *model.Station) bool { return st.Part == end })
		m.Actual += x.ohms
		m.Missing = append(m.Missing, x.missing...)
	}
	m.Missing = model.Unique(m.Missing)
	if m.Actual > m.Limit {
		m.Missing = nil
	}
	return []Margin{m}
}
