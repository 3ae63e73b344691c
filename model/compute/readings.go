package compute

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/sensor"
)

// Readings is a table of what a meter should read at the test points of a
// circuit.
type Readings struct {
	Circuit   *model.Circuit
	Unit      string   // V of DC, V AC (RMS), Ω or mV
	Condition string   // what is connected and what is on
	States    []string // heads of the columns: 4 mA, open, 0 °C
	Rows      []Reading
	Missing   []string // values that are not given; then Rows is empty
	Method    string   // how it was computed
}

// Reading is one test point: where the meter goes, and what it reads in each
// state.
type Reading struct {
	Station *model.Station
	A, B    *model.Terminal // the + lead goes on A
	Words   string          // instead of a test point: what the values are
	Values  []Band
}

// Volts reports whether the values are volts, which have a band.
func (r Readings) Volts() bool { return strings.HasPrefix(r.Unit, "V") }

// Where names the test point: JB-21/X1 7 8.
func (r Reading) Where() string {
	if r.Words != "" {
		return r.Words
	}
	name := r.A.Part.Tag
	if r.B.Part != r.A.Part {
		return r.A.Tag() + " " + r.B.Tag()
	}
	return name + " " + r.A.Name + " " + r.B.Name
}

// ReadingsOf computes what a meter should read along a circuit: volts between
// the legs for current loops, contacts, outputs and supplies, ohms for resistance
// sensors, millivolts for thermocouples. ok is false for circuits without such
// a table, such as pulses.
func ReadingsOf(p *model.Plant, c *model.Circuit) (r Readings, ok bool) {
	r.Circuit = c
	if c.Broken || c.Seals() != nil {
		return r, false
	}
	var states []state
	switch c.Signal {
	case model.AnalogIn, model.AnalogOut:
		for _, mA := range p.Practice.TestCurrents {
			states = append(states, state{mA: mA})
			r.States = append(r.States, model.Plain(mA)+" mA")
		}
	case model.ContactIn:
		r.States, states = []string{"open", "closed"}, []state{{}, {closed: true}}
		if d := c.Device(); d != nil && (d.Kind.ThreeWire() || d.Kind.TwoWire) {
			r.States = []string{"off", "on"}
		}
		if changeover(c) != nil {
			r.States = []string{"at rest", "worked"}
		}
	case model.SwitchedOut:
		r.States, states = []string{"off", "on"}, []state{{}, {closed: true}}
	case model.Power, model.PowerDC:
		r.States, states = []string{"on"}, []state{{}}
	case model.Displacement:
		states = gapStates(p, &r)
	case model.Proximity:
		// IEC 60947-5-6: at most 1.0 mA in one state, at least 2.2 mA in the other.
		r.States, states = []string{"1.0 mA", "2.2 mA"}, []state{{}, {closed: true}}
	case model.Resistance:
		ohmRows(p, &r)
	case model.Thermo:
		millivoltRows(p, &r)
	default:
		return r, false
	}
	if states != nil {
		voltRows(p, &r, states)
	}
	return r, true
}

// solved returns how voltages are computed, and between which ends.
func solved(pr *model.Practice) string {
	s := "at terminals, lowest..highest: supplies and cards as given, else ±" + model.Plain(pr.Tolerance) + " %; copper at " + pr.TestCopper.String()
	if pr.HotCopper.Celsius != pr.TestCopper.Celsius {
		s += " and " + pr.HotCopper.String() + ", of margins at " + pr.HotCopper.String()
	}
	return s
}

// OpenVolts is what a meter reads on the cores of a circuit's device while they
// are lifted, output on if it is one, and the terminal that the + core belongs
// on. missing names what is not given; then there is no result.
func OpenVolts(p *model.Plant, c *model.Circuit) (volts Band, plus *model.Terminal, missing []string) {
	var a, b *model.Terminal
	if d := c.Device(); d != nil {
		a, b = TerminalsOf(c, d)
	}
	if a == nil {
		return volts, nil, []string{"a device on two terminals"}
	}
	e := endsOf(p, c, state{closed: c.Signal == model.SwitchedOut, fault: openAtDevice})
	s := e[0]
	v, ok := e.across(a, b)
	switch {
	case len(s.Missing) > 0:
		return volts, nil, s.Missing
	case !ok || v.Value == 0:
		return volts, nil, []string{"what supplies the circuit"}
	case s.ac:
		return v, nil, nil
	case v.Value < 0:
		return v.Reversed(), b, nil
	}
	return v, a, nil
}

// InputVolts is what a meter reads across the input of a current loop's card
// at a current in mA; false where a value is missing or there is no card.
func InputVolts(p *model.Plant, c *model.Circuit, mA float64) (Band, bool) {
	e := endsOf(p, c, state{mA: mA})
	for _, st := range c.Visits() {
		if st.Part.Card == nil {
			continue
		}
		if ts := st.Part.MeasureAt(st.Channel); len(ts) > 1 && len(e[0].Missing) == 0 {
			v, ok := e.across(ts[0], ts[1])
			return v.upright(), ok
		}
	}
	return Band{}, false
}

// testPoints are the places where a meter can be put across the circuit: each
// station where two legs land, and each part that a leg goes through.
func testPoints(c *model.Circuit) []Reading {
	var all []Reading
	both := changeover(c)
	for _, st := range c.Visits() {
		a, b := pairAt(c, st)
		if both != nil {
			if pairs := both.pairs(c, st); len(pairs) > 0 {
				all = append(all, pairs...)
				continue
			}
		}
		switch {
		case a != nil && b != nil && c.Signal == model.Displacement: // below common
			all = append(all, Reading{Station: st, A: b, B: a})
			if q := legAt(c, st, 'Q'); q != nil {
				all = append(all, Reading{Station: st, A: q, B: a})
			}
		case a != nil && b != nil:
			all = append(all, Reading{Station: st, A: a, B: b})
			if q := legAt(c, st, 'Q'); q != nil && c.Device().Device.Sinks() {
				all = append(all, Reading{Station: st, A: a, B: q})
			} else if q != nil {
				all = append(all, Reading{Station: st, A: q, B: b})
			}
			if outA, outB := outAt(st, a), outAt(st, b); outA != a && outB != b && outA != nil && outB != nil {
				all = append(all, Reading{Station: st, A: outA, B: outB})
			}
		case a != nil && st.Part.CommonOf(st.Channel) != nil:
			ends := st.Part.MeasureAt(st.Channel)
			all = append(all, Reading{Station: st, A: ends[0], B: ends[1]})
		case a != nil && st.Part.Strip == nil:
			if out := outAt(st, a); out != nil && out != a {
				if a.Role == '-' && out.Role == '+' {
					a, out = out, a
				}
				all = append(all, Reading{Station: st, A: a, B: out})
			}
		}
	}
	return all
}

// legAt is the terminal that the leg of a role comes to at a station: the output
// of a three-wire switch, protective earth; nil when none does.
func legAt(c *model.Circuit, st *model.Station, role model.Marking) *model.Terminal {
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			if l.Role == role && s.Station.Same(st) && s.Termination.Does == model.Lands {
				return s.Termination.In
			}
		}
	}
	return nil
}

func outAt(st *model.Station, in *model.Terminal) *model.Terminal {
	for _, s := range st.Terminations {
		if s.In == in {
			return s.Out
		}
	}
	return nil
}

func voltRows(p *model.Plant, r *Readings, states []state) {
	r.Unit, r.Condition = voltUnit(r.Circuit), "all connected, supply on"
	r.Method = solved(&p.Practice)
	if AC(r.Circuit) {
		r.Method = strings.Replace(r.Method, "at terminals", "at terminals, RMS", 1)
	}
	r.Rows = testPoints(r.Circuit)
	for _, st := range states {
		e := endsOf(p, r.Circuit, st)
		if s := e[0]; len(s.Missing) > 0 || !s.Solved {
			r.Missing, r.Rows = s.Missing, nil
			if len(s.Missing) == 0 {
				r.Missing = noClosedPath
			}
			return
		}
		for i := range r.Rows {
			v, ok := e.across(r.Rows[i].A, r.Rows[i].B)
			if !ok {
				v = Exactly(math.NaN())
			}
			r.Rows[i].Values = append(r.Rows[i].Values, v)
		}
	}
}

// sensorPoints are the temperatures of the check points, rounded as printed, in
// °C, and what the sensor of the circuit's device gives there.
func sensorPoints(p *model.Plant, r *Readings) (celsius, values []float64, ok bool) {
	d := r.Circuit.Device()
	if d == nil {
		r.Missing = []string{"the device"}
		return nil, nil, false
	}
	if d.Device.Sensor == "" {
		r.Missing = append(r.Missing, "sensor of "+d.Tag)
	}
	span := d.Device.AtSensor()
	if !span.Given() {
		r.Missing = append(r.Missing, "range of "+d.Tag)
	} else if _, ok := span.Celsius(0); !ok {
		r.Missing = append(r.Missing, "range of "+d.Tag+" in "+model.TemperatureUnits)
	}
	element, found := sensor.Named(d.Device.Sensor)
	if len(r.Missing) > 0 || !found {
		return nil, nil, false
	}
	for _, percent := range p.Practice.CheckPoints {
		at := span.Rounded(span.At(percent))
		t, _ := span.Celsius(at)
		v, inside := element.Value(t)
		if !inside {
			r.Missing = append(r.Missing, fmt.Sprintf("%s at %s: outside the sensor's range", d.Device.Sensor, span.Words(at)))
			return nil, nil, false
		}
		r.States = append(r.States, span.Words(at))
		celsius, values = append(celsius, t), append(values, v)
	}
	r.Method = element.Source
	return celsius, values, true
}

// ohmRows are read towards the sensor with the card lifted: across the element
// with both leads, and between the leads of one side.
func ohmRows(p *model.Plant, r *Readings) {
	r.Unit, r.Condition = "Ω", "card side lifted, read to sensor"
	celsius, values, ok := sensorPoints(p, r)
	if !ok {
		return
	}
	c := r.Circuit
	stations := slices.Clone(c.Visits())
	if c.FromCard() {
		slices.Reverse(stations)
	}
	for i, st := range stations {
		var sides [2][]leadRun // of the element
		for _, l := range c.Legs {
			x := lead(p, l, p.Practice.TestCopper.Celsius, st.Same)
			if len(x.missing) > 0 {
				r.Missing, r.Rows = append(r.Missing, x.missing...), nil
				return
			}
			side := 0
			if l.Role == 'B' {
				side = 1
			}
			if x.to != nil {
				sides[side] = append(sides[side], x)
			}
		}
		read := func(a, b leadRun, v func(int) float64) {
			row := Reading{Station: st, A: a.to, B: b.to}
			for k := range values {
				row.Values = append(row.Values, Exactly(v(k)+a.ohms+b.ohms))
			}
			r.Rows = append(r.Rows, row)
		}
		if len(sides[0]) > 0 && len(sides[1]) > 0 {
			read(sides[0][0], sides[1][0], func(k int) float64 { return values[k] })
		}
		for _, x := range sides {
			if len(x) > 1 && x[0].ohms+x[1].ohms > 0 {
				read(x[0], x[1], func(int) float64 { return 0 })
			}
		}
		if i == 0 {
			toleranceRow(r, st, celsius)
		}
	}
}

// toleranceRow tells how far the element itself may be off by its class, at
// temperatures in °C.
func toleranceRow(r *Readings, st *model.Station, celsius []float64) {
	d := r.Circuit.Device().Device
	element, ok := sensor.Named(d.Sensor)
	if d.Class == "" || !ok || !element.IEC60751() {
		return
	}
	row := Reading{Station: st, Words: "± class " + d.Class + ", IEC 60751"}
	for _, t := range celsius {
		low, high, ok := ohmsWithin(element, d.Class, t)
		if !ok {
			low, high = 0, math.NaN()
		}
		row.Values = append(row.Values, Exactly((high-low)/2))
	}
	r.Rows = append(r.Rows, row)
}

// millivoltRows are read with the card lifted and every terminal at the
// temperature of the practice: E(t) − E(terminal).
func millivoltRows(p *model.Plant, r *Readings) {
	ambient := p.Practice.Terminals
	r.Unit, r.Condition = "mV", "card side lifted, the meter's terminals at "+ambient.String()
	_, values, ok := sensorPoints(p, r)
	if !ok {
		return
	}
	element, _ := sensor.Named(r.Circuit.Device().Device.Sensor)
	cold, ok := element.Value(ambient.Celsius)
	if !ok {
		r.Missing = append(r.Missing, "a terminal temperature inside the sensor's range")
		return
	}
	for _, row := range testPoints(r.Circuit) {
		for _, v := range values {
			row.Values = append(row.Values, Exactly(v-cold))
		}
		r.Rows = append(r.Rows, row)
	}
	r.Method += "; E(t) − E(" + ambient.String() + ")"
}
