package compute

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/sensor"
)

// Fault is a wiring fault that a circuit is computed with.
type Fault uint8

// Faults at the device's end of the cable.
const (
	noFault Fault = iota
	openAtDevice
	shortAtDevice
	reversedAtDevice
	earthOnPlus
	earthOnMinus
)

// FaultRow is how one wiring fault shows in one circuit.
type FaultRow struct {
	Fault  string // what is wrong
	Shows  string // what the system, or the final element, shows
	Meter  string // what a meter reads
	Remark string // what tells it from its like
}

// FaultGuide computes what the usual wiring faults would show in this circuit.
// missing names the values that are not given; rows that need them are left
// out.
func FaultGuide(p *model.Plant, c *model.Circuit) (rows []FaultRow, missing []string) {
	d := c.Device()
	if c.Broken || d == nil {
		return nil, nil
	}
	if c.Seals() != nil {
		return sealFaults(p, c, d), nil
	}
	rows, missing = signalFaults(p, c, d)
	if len(rows) > 0 {
		rows = append(rows, linkFaults(p, c, d)...)
		rows = append(rows, branchFaults(c)...)
	}
	if common := CommonOf(c); common != nil && len(rows) > 0 {
		fed := ""
		if common.Fed != nil {
			fed = " to " + common.Fed.Supply.Tag()
		}
		tells := "no other loop has it: this one alone"
		if others := SharesCommon(p, c); len(others) > 0 {
			tells = "these loops go too: " + ShortList(others)
		}
		rows = append(rows, FaultRow{"common " + common.Name + " of the card open", common.CommonAt().Channels() + " of " + common.Part.Tag + " dead or wrong", "volts from " + common.Name + fed, tells})
	}
	if len(rows) > 0 {
		rows = append(rows, commonCoreFaults(p, c)...)
		rows = append(rows, rackFaults(p, c)...)
	}
	return rows, missing
}

// commonCoreFaults has a row for each of the common cores that the circuit ends on: with one
// open, all others on it go too.
func commonCoreFaults(p *model.Plant, c *model.Circuit) (rows []FaultRow) {
	for _, l := range c.CommonLegs() {
		f := l.Feed()
		tells := "no other circuit ends on it: this one alone"
		if others := SharesLeg(p, c, l); len(others) > 0 {
			tells = "these go too: " + ShortList(others)
		}
		rows = append(rows, FaultRow{l.Circuit.Name + " open: " + cmp.Or(f.Way(), "wires to "+f.Supply.Tag()), "dead, or as if open at the device", "volts from " + f.To.Tag() + " to " + f.Supply.Tag(), tells})
	}
	return rows
}

// SharesLeg are the others that end on a leg of common cores.
func SharesLeg(p *model.Plant, c *model.Circuit, l *model.Leg) []string {
	return Others(c, l.Borrowers(p))
}

// Others are circuits besides c, each once: those of its loop by name, then other loops by tag.
func Others(c *model.Circuit, all []*model.Circuit) (names []string) {
	var loops []string
	for _, o := range all {
		switch {
		case o == c:
		case o.Loop == c.Loop:
			if !slices.Contains(names, o.Name) {
				names = append(names, o.Name)
			}
		case !slices.Contains(loops, o.Loop.Tag):
			loops = append(loops, o.Loop.Tag)
		}
	}
	return append(names, loops...)
}

// CommonOf is the common of the card that the circuit lands on; nil without one.
func CommonOf(c *model.Circuit) *model.Terminal {
	for _, st := range c.Visits() {
		if common := st.Part.CommonOf(st.Channel); common != nil {
			return common
		}
	}
	return nil
}

// SharesCommon are the other loops with a circuit on the common of the card of a circuit, in
// the order of the text: with that open, they go too.
func SharesCommon(p *model.Plant, c *model.Circuit) (loops []string) {
	type loopsOf struct{}
	on := model.Once(p, loopsOf{}, func(p *model.Plant) map[*model.Terminal][]string {
		all := map[*model.Terminal][]string{}
		p.EachCircuit(func(c *model.Circuit) {
			if t := CommonOf(c); t != nil && !slices.Contains(all[t], c.Loop.Tag) {
				all[t] = append(all[t], c.Loop.Tag)
			}
		})
		return all
	})
	for _, tag := range on[CommonOf(c)] {
		if tag != c.Loop.Tag {
			loops = append(loops, tag)
		}
	}
	return loops
}

// ShortList names the first of many, and counts the others.
func ShortList(all []string) string {
	const most = 6
	if n := len(all) - most; n > 1 {
		return strings.Join(all[:most], ", ") + fmt.Sprintf(" and %d more", n)
	}
	return strings.Join(all, ", ")
}

func signalFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	switch c.Signal {
	case model.AnalogIn:
		if d.Kind.ThreeWire() {
			return ownOutputFaults(p, c, d)
		}
		return inputFaults(p, c, d)
	case model.AnalogOut:
		return outputFaults(p, c, d)
	case model.ContactIn:
		if d.Kind.ThreeWire() {
			return threeWireFaults(p, c, d)
		}
		return contactFaults(p, c, d)
	case model.SwitchedOut:
		return switchFaults(p, c, d)
	case model.Displacement:
		return probeFaults(p, c, d)
	case model.Proximity:
		return proximityFaults(p, c, d)
	case model.Power, model.PowerDC:
		return supplyFaults(p, c, d)
	case model.Thermo:
		return thermoFaults(p, c, d)
	case model.Resistance:
		return resistanceFaults(p, c, d)
	}
	return nil, nil
}

// receiver is the current in mA through the input of the circuit's card, or through the
// channel of a station.
func (s *solver) receiver(only ...*model.Station) (float64, bool) {
	for _, st := range s.circuit.Visits() {
		card := st.Part.Card
		if card == nil || card.Ohms == 0 || len(only) > 0 && st != only[0] {
			continue
		}
		ts := st.Part.MeasureAt(st.Channel)
		if !card.Powers {
			v, ok := s.across(ts[0], ts[1])
			return v / card.Ohms * 1000, ok
		}
		b, okB := s.voltage(at(ts[1], model.FieldSide))
		in, okIn := s.voltage(inside(st.Part, st.Channel))
		return s.shown(b-in) / card.Ohms * 1000, okB && okIn
	}
	return 0, false
}

// zero is the point that counts as 0 V in a circuit: inside a card that powers
// it, or the negative terminal of its supply.
func (s *solver) zero() (post, bool) {
	for _, st := range s.circuit.Visits() {
		if st.Part.Card != nil && st.Part.Card.Powers && st.Part.Kind.Signal != model.AnalogOut {
			return inside(st.Part, st.Channel), true
		}
	}
	if sup := s.circuit.Supply(); sup != nil && !sup.Supply.AC {
		return at(sup.Terminals[1], model.FieldSide), true
	}
	return post{}, false
}

func inputFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	a, b := TerminalsOf(c, d)
	if a == nil {
		return nil, nil
	}
	const mid = 12.0
	read := func(f Fault, earth float64) (mA float64, v Band, s *solver, ok bool) {
		e := endsOf(p, c, state{mA: mid, fault: f, earth: earth})
		v, okV := e.across(a, b)
		mA, okA := e[0].receiver()
		return mA, v, e[0], okV && okA
	}
	_, normal, s, ok := read(noFault, 0)
	if !ok {
		return nil, s.Missing
	}
	rows = append(rows, FaultRow{"healthy, 12 mA", "12.00 mA", volts(normal) + " at the device", ""})
	if a.Nature() == model.Source {
		input, _ := InputVolts(p, c, mid)
		rows = append(rows, FaultRow{"pair open, or its supply off", "0 mA", "0 V at the input", "voltage at device, none at input: break between"})
		rows = append(rows, FaultRow{"pair shorted", "0 mA", "0 V at the input", "current leaves the device, does not arrive"})
		rows = append(rows, FaultRow{"pair reversed", "below 0 mA, or 0 mA if the input stops there", volts(input.Reversed()) + " at the input", "negative, unlike an open pair"})
		return append(rows, commonFaults(d)...), nil
	}
	if v, _, missing := OpenVolts(p, c); len(missing) == 0 {
		rows = append(rows, FaultRow{"pair open", "0 mA", "+" + volts(v) + " across the break", "0 mA: open circuit; 4 mA: healthy loop at 0 %"})
		rows = append(rows, FaultRow{"pair reversed at the device", "0 mA where it blocks", volts(v.Reversed()) + " at the device where it blocks", "negative, unlike an open pair; some devices conduct or work either way round"})
	}
	if mA, _, _, ok := read(shortAtDevice, 0); ok {
		shows, tells := fmt.Sprintf("%.1f mA", mA), "over-range"
		for _, st := range c.Visits() {
			switch card := st.Part.Card; {
			case card == nil:
			case card.Powers && card.Limit > 0 && mA > card.Limit:
				shows = fmt.Sprintf("%.1f mA, the limit of %s", card.Limit, st.Part.Tag)
			case !card.Powers:
				tells += "; unprotected inputs are damaged"
			}
		}
		if fuses := fuses(c); len(fuses) > 0 {
			if f := fuses[0].Fuse; f.Amps == 0 || mA > f.Amps*1000 {
				tells += ", or fuse " + fuses[0].Tag() + " is blown"
			}
		}
		rows = append(rows, FaultRow{"pair shorted in the field", shows, "0 V at the device", tells})
	}
	switch {
	case p.Practice.EarthedPoleOf(c.Supply()) == 0:
		missing = append(missing, "earthed pole (practice)")
	case p.Practice.EarthedPoleOf(c.Supply()) != model.NegativePole:
	case isolated(c) != "":
		rows = append(rows, FaultRow{p.Say("one core on earth at the device"), "12.00 mA: no effect", volts(normal) + " at the device", isolated(c) + p.Say(" floats: lift both cores; each open to earth")})
	default:
		rows = append(rows, earthed(p, c, "device", "12.00 mA", func(f Fault, earth float64) (mA float64, v Band, ok bool) {
			mA, v, _, ok = read(f, earth)
			return mA, v, ok
		})...)
	}
	if lift, given := d.Device.LiftOff.At(20); given {
		const extra = 250.0
		r4 := compute(p, c, state{mA: 4})
		v4, ok4 := r4.across(a, b)
		r20 := compute(p, c, state{mA: 20})
		v20, ok20 := r20.across(a, b)
		if ok4 && ok20 {
			ohms := (v4 - v20) / 16 * 1000
			top := (v4 + 0.004*ohms - lift) / (ohms + extra) * 1000
			shows := "correct over whole range"
			if top < 20 {
				shows = fmt.Sprintf("correct to %.2f mA, then flat", top)
			}
			rows = append(rows, FaultRow{"250 Ω too much in the loop", shows, volts(normal.less(0.012*extra)) + " at the device", "a loose terminal does the same, intermittently"})
		}
	} else {
		missing = append(missing, "lift-off of "+d.Tag)
	}
	return append(rows, commonFaults(d)...), missing
}

// unlessFused picks words by what feeds the circuit: those with a fuse, which
// names it, only where one of the model does.
func unlessFused(c *model.Circuit, bare, fused string) string {
	if all := fuses(c); len(all) > 0 {
		return fmt.Sprintf(fused, "fuse "+all[0].Tag())
	}
	return bare
}

// poorEarth is an earth in Ω as damp and dirt make it: the other end of the band that
// begins with a bolted one.
const poorEarth = 1000

// earthed are the rows of either core on earth at a device, with the earthed pole -.
// An earth that is not bolted leaves part of the current to the input. Of a card that
// powers the loop the model does not say on which side it measures: the sum has its
// resistor in the - leg, and healthy is what it shows where that lies in the +.
func earthed(p *model.Plant, c *model.Circuit, device, healthy string, read func(f Fault, earth float64) (mA float64, v Band, ok bool)) (rows []FaultRow) {
	low, high := "", ""
	for _, st := range c.Visits() {
		if st.Part.Card != nil && st.Part.Card.Powers {
			low, high = "; "+healthy+" where the card measures in the +", "; over-range where it measures in the +"
		}
	}
	for _, x := range []struct {
		fault            Fault
		core, past, tell string
	}{
		{earthOnMinus, "−", low, p.Say("currents in the two cores differ; a damp earth is intermittent")},
		{earthOnPlus, "+", high, unlessFused(c, "loop supply shorted: its other loops may fail too", "%s may blow; its other loops fail too")},
	} {
		bolted, v, ok := read(x.fault, 0)
		poor, vPoor, okPoor := read(x.fault, poorEarth)
		if !ok || !okPoor {
			continue
		}
		rows = append(rows, FaultRow{x.core + p.Say(" core on earth at the ") + device,
			fmt.Sprintf("bolted %s, by 1 kΩ %s%s", milliamps(max(0, bolted)), milliamps(max(0, poor)), x.past),
			fmt.Sprintf("bolted %s, by 1 kΩ %s at the %s", volts(v), volts(vPoor), device), x.tell})
	}
	return rows
}

// isolated is what has the field side of a circuit float, in words: an isolator, or a
// card whose channels each stand alone; "" for nothing.
func isolated(c *model.Circuit) string {
	for _, st := range c.Stations() {
		switch card := st.Part.Card; {
		case st.Part.Kind.Isolates:
			return "the isolator"
		case card != nil && card.Minus == model.OwnMinus && c.Supply() == nil:
			return fmt.Sprintf("channel %d of %s", st.Channel, st.Part.Tag)
		}
	}
	return ""
}

// commonFaults are those of a wrong pair, and of a square root taken twice.
func commonFaults(d *model.Part) []FaultRow {
	rows := []FaultRow{{"on another pair or channel", "wrong tag moves", "voltages correct", "only the unique point, injected at device, shows it"}}
	if d.Device.SquareRootIn != 0 {
		rows = append(rows, FaultRow{"double square root", fmt.Sprintf("%.1f %% at 50 %% of the flow", 100*math.Sqrt(0.5)), "voltages correct", "correct at 0, 100 %, wrong between"})
	}
	return rows
}

func volts(b Band) string { return b.Words("V") + " V" }

// written is a voltage of the circuit with its unit, V AC where it is AC.
func written(c *model.Circuit, b Band) string { return b.Words(voltUnit(c)) + " " + voltUnit(c) }

func milliamps(v float64) string { return decimal(v, 2) + " mA" }

func outputFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	a, b := TerminalsOf(c, d)
	v, s, ok := bandAt(p, c, state{mA: 12}, a, b)
	if !ok {
		return nil, s.Missing
	}
	takers := c.Takers()
	if len(takers) < 2 {
		takers = []*model.Part{d}
	}
	healthy, rest := "half-way", ""
	for i, d := range takers {
		own, _ := Output(d.Device).Percent(12)
		at := fmt.Sprintf("%s at %.0f %% of its signal", d.Tag, min(max(own, 0), 100))
		goes := "goes to its rest position"
		if v := d.Device.Actuates; v != nil && v.Device.Fail != 0 {
			goes = v.Tag + " goes " + v.Device.Fail.String()
		} else if len(takers) > 1 {
			goes = d.Tag + " " + goes
		}
		switch {
		case i > 0:
			healthy, rest = healthy+", "+at, rest+", "+goes
		case own == 50:
			rest = goes
		default:
			healthy, rest = at, goes
		}
	}
	open := FaultRow{"pair open", rest, "0 mA; card at its limit", "voltage present, no current"}
	if slices.ContainsFunc(c.Visits(), func(st *model.Station) bool { return st.Part.HoldsCurrent() }) {
		open = FaultRow{"pair open" + unlessFused(c, "", ", or %s blown"), rest, "0 mA, 0 V at the card", "supply voltage across the break"}
	}
	return []FaultRow{
		{"healthy, 12 mA", healthy, volts(v) + " at the device", ""},
		open,
		{"pair shorted", rest, "0 V at the device, 12 mA at the card", "current flows, no action"},
		{"pair reversed at the device", rest, volts(v.Reversed()) + " or the card's limit", "voltage is negative"},
		{"on another pair or channel", "wrong valve moves", "voltages correct", "command one output at a time"},
	}, nil
}

// supplyFaults are those of what feeds a four-wire transmitter.
func supplyFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	a, b := TerminalsOf(c, d)
	v, s, ok := bandAt(p, c, state{}, a, b)
	if !ok {
		return nil, s.Missing
	}
	const dead = "0 mA of its signal"
	reversed := FaultRow{"pair reversed at the device", dead, volts(v.Reversed()) + " at the device", "negative, unlike an open pair"}
	if s.ac {
		reversed = FaultRow{"L and N crossed", "its signal: no effect", written(c, v) + " at the device", "voltage from N to PE; its fuse and switch no longer isolate it from the line"}
	}
	return []FaultRow{
		{"healthy", "its signal", written(c, v) + " at the device", fmt.Sprintf("%.0f mA", s.drawn)},
		{"pair open" + unlessFused(c, "", ", or %s blown"), dead, "0 V at the device", "supply voltage across the break"},
		{"pair shorted", dead, "0 V at the device", unlessFused(c, "its supply is shorted: other loops fail too", "%s blows")},
		reversed,
	}, nil
}

func contactFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	a, b := TerminalsOf(c, d)
	vo, open, okOpen := bandAt(p, c, state{}, a, b)
	vc, closed, okClosed := bandAt(p, c, state{closed: true}, a, b)
	if !okOpen || !okClosed {
		return nil, open.Missing
	}
	what, off, on := states(d)
	across := " across the " + what
	rows = []FaultRow{
		{"healthy, " + what + " " + off, off, written(c, vo.upright()) + across, ""},
		{"healthy, " + what + " " + on, on, written(c, vc.upright()) + across, fmt.Sprintf("%.1f mA", closed.drawn)},
		{"pair open" + unlessFused(c, "", ", or %s blown"), "stays " + off, "0 V" + across, "supply voltage across the break"},
		{"pair shorted", "stays " + on, "0 V" + across, p.Say("lift one core: system must show ") + off},
		{"on another pair or channel", "wrong tag changes", "voltages correct", "work one " + what + " at a time"},
	}
	rows = append(rows, workedFaults(c, d)...)
	switch {
	case AC(c): // its neutral is not of the practice
	case p.Practice.EarthedPoleOf(c.Supply()) == 0:
		missing = append(missing, "earthed pole (practice)")
	case p.Practice.EarthedPoleOf(c.Supply()) != model.NoPole:
		rows = append(rows, earthedContact(p, c, a, b)...)
	}
	return rows, missing
}

// states are the words for what a circuit of contacts has, and for its two states.
func states(d *model.Part) (what, off, on string) {
	if d.Kind.TwoWire {
		return "switch", "off", "on"
	}
	return "contact", "open", "closed"
}

// threeWireFaults are those of a three-wire switch.
func threeWireFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	r, ok := ReadingsOf(p, c)
	if !ok || len(r.Rows) < 2 || r.Rows[1].A.Role != 'Q' && r.Rows[1].B.Role != 'Q' {
		return nil, r.Missing
	}
	fed, out := r.Rows[0], r.Rows[1]
	live, dead := "+", "−"
	if d.Device.Sinks() {
		live, dead = "−", "+"
	}
	between := " from " + out.A.Name + " to " + out.B.Name
	on := func(i int) string { return volts(out.Values[i]) + between }
	return []FaultRow{
		{"healthy, off", "off", on(0), volts(fed.Values[0]) + " on its supply"},
		{"healthy, on", "on", on(1), fmt.Sprintf("%.1f mA", compute(p, c, state{closed: true}).drawn)},
		{p.Say("a core of its supply open") + unlessFused(c, "", ", or %s blown"), "stays off", "0 V on its supply", "its lamp, if fitted, is dark"},
		{p.Say("output core open"), "stays off", "its output works at the device, not at the card", p.Say("read at both ends of the core")},
		{"output on " + live, "stays on", volts(fed.Values[1]) + between + ", without the drop", p.Say("lift the output core: it must show off")},
		{"output on " + dead, "stays off; pulses on when operated", "its supply dips when operated", p.Say("it limits or fails: lift the output core at once")},
		{"on another pair or channel", "wrong tag changes", "voltages correct", "work one switch at a time"},
	}, nil
}

// earthedContact are the rows of either core of a contact on earth. What each
// does follows from its volts to the earthed pole while the device is lifted,
// and while its cores are linked: live in both, it is the side that feeds; dead
// in both, it is on the earthed pole; live only when lifted, the input lies
// ahead of it; live only when linked, the input lies behind it. Not known where
// the card feeds the contact.
func earthedContact(p *model.Plant, c *model.Circuit, a, b *model.Terminal) (rows []FaultRow) {
	supply := c.Supply()
	if supply == nil || supply.Supply.AC {
		return nil
	}
	pole := p.Practice.Earthed(supply)
	lifted, linked := endsOf(p, c, state{fault: openAtDevice}), compute(p, c, state{fault: shortAtDevice})
	full, ok := lifted.across(a, b)
	if full = full.upright(); !ok || full.Value == 0 {
		return nil
	}
	tell := p.Say("if bolted; a damp earth may show nothing: lift both cores at the card: each open to earth")
	what, is, acted := states(a.Part)
	across, acts, idle := "0 V across the "+what, "when it closes", "the open contact"
	if a.Part.Kind.TwoWire {
		acts, idle = "when it comes on", "the switch, off"
	}
	for i, t := range []*model.Terminal{a, b} {
		vOff, okOff := lifted[0].across(t, pole)
		vOn, okOn := linked.across(t, pole)
		if !okOff || !okOn {
			continue
		}
		row := FaultRow{Fault: p.Say("core on ") + t.Tag() + p.Say(" on earth"), Remark: tell}
		switch off, on := math.Abs(vOff) > full.Value/2, math.Abs(vOn) > full.Value/2; {
		case off && on:
			row.Shows, row.Meter = "stays "+is+"; "+shorted(c, t), across
		case off:
			row.Shows, row.Meter = "stays "+acted, across
		case on:
			row.Shows, row.Meter = "stays "+is+"; "+acts+", "+shorted(c, []*model.Terminal{b, a}[i]), volts(full)+" across "+idle
		default:
			row.Shows, row.Meter = "no effect", "as when healthy"
		}
		rows = append(rows, row)
	}
	return rows
}

// shorted returns what a short of the leg of a terminal does: it blows the fuse
// in that leg, if there is one.
func shorted(c *model.Circuit, t *model.Terminal) string {
	for _, l := range c.Legs {
		if l.Conductors[0].Termination.In != t && l.Conductors[0].Termination.Out != t {
			continue
		}
		for _, s := range l.Conductors {
			if x := s.Termination.In; x != nil && x.Fuse.Given() {
				return "fuse " + x.Tag() + " blows"
			}
		}
	}
	return "the supply is shorted"
}

// proximityFaults are those of a two-wire proximity switch: its input tells
// open and shorted cores from the two states where it watches its line (IEC
// 60947-5-6, NAMUR: below 0.05 to 0.35 mA open, above 6 to 10 mA shorted; from
// memory).
func proximityFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	a, b := TerminalsOf(c, d)
	if a == nil {
		return nil, nil
	}
	read := func(st state) (mA float64, v Band, ok bool) {
		v, s, okV := bandAt(p, c, st, a, b)
		mA, okA := s.receiver()
		if missing == nil {
			missing = s.Missing
		}
		return mA, v.upright(), okV && okA
	}
	_, off, ok1 := read(state{})
	_, on, ok2 := read(state{closed: true})
	_, lifted, ok3 := read(state{fault: openAtDevice})
	short, _, ok4 := read(state{fault: shortAtDevice})
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return nil, missing
	}
	rows = []FaultRow{
		{"healthy, 1.0 mA", "below 1.2 mA", volts(off) + " at the switch", ""},
		{"healthy, 2.2 mA", "above 2.1 mA", volts(on) + " at the switch", ""},
		{"pair open", "0 mA: line fault if monitored, else as below 1.2 mA", volts(lifted) + " across the break", "does not change with the target"},
		{"pair shorted", fmt.Sprintf("%.1f mA: line fault if monitored, else as above 2.1 mA", short), "0 V at the switch", "does not change with the target"},
		{"pair reversed at the switch", "does not change with the target", volts(lifted.Reversed()) + " or less at the switch", "negative, unlike an open pair"},
	}
	switch {
	case p.Practice.EarthedPoleOf(c.Supply()) == 0:
		missing = append(missing, "earthed pole (practice)")
	case p.Practice.EarthedPoleOf(c.Supply()) == model.NegativePole && isolated(c) == "":
		rows = append(rows, earthed(p, c, "switch", "nothing new", func(f Fault, earth float64) (mA float64, v Band, ok bool) {
			return read(state{closed: true, fault: f, earth: earth})
		})...)
	}
	return append(rows, FaultRow{"on another pair or channel", "wrong tag changes", "voltages correct", "work one switch at a time"}), missing
}

func switchFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	a, b := TerminalsOf(c, d)
	full, on, ok := bandAt(p, c, state{closed: true}, a, b)
	if !ok {
		return nil, on.Missing
	}
	v, weak := written(c, full), full.Least("V")+" "+voltUnit(c)
	fed := feeds(c)
	if d.Kind.Annunciator {
		reversed := FaultRow{"pair reversed", p.Say("dark if polarised"), written(c, full.Reversed()) + " at " + d.Tag, "a lamp with a diode works one way only"}
		if on.ac {
			reversed = FaultRow{"pair reversed", "lights or sounds: AC has no polarity", v + " at " + d.Tag, "the " + fed + " must still switch the line"}
		}
		return []FaultRow{
			{"healthy, " + fed + " on", "lights or sounds", v + " at " + d.Tag, fmt.Sprintf("%.0f mA", on.drawn)},
			{"pair open", "dark or silent", "0 V at " + d.Tag, fed + " voltage across the break"},
			{"pair shorted", "dark or silent", "0 V at " + d.Tag, trips(c)},
			reversed,
			{"too much resistance", "dim or faint", "less than " + weak + " at " + d.Tag, "measure with the " + fed + " on"},
		}, nil
	}
	if d.Kind.Grouped() {
		rows, missing = relayFaults(p, c, d, full, on)
		return append(rows, seriesFaults(p, c)...), missing
	}
	defer func() { rows = append(rows, seriesFaults(p, c)...) }()
	rows = []FaultRow{
		{"healthy, " + fed + " on", "moves", v + " at the coil", fmt.Sprintf("%.0f mA", on.drawn)},
		{"pair open", "does not move", "0 V at the coil", fed + " voltage across the break"},
		{"pair shorted", "does not move", "0 V at the coil", trips(c)},
	}
	if !on.ac {
		return append(rows,
			FaultRow{"pair reversed", "moves, unless the coil has a diode", written(c, full.Reversed()) + " at the coil", "with a diode: like a short"},
			FaultRow{"too much resistance", "slow, or only when cold", "less than " + weak + " at the coil", "measure with the " + fed + " on"}), nil
	}
	rows = append(rows,
		FaultRow{"pair reversed", "moves: AC has no polarity", v + " at the coil", "the " + fed + " must still switch the line"},
		FaultRow{"too much resistance", "hums, does not pull in", "less than " + weak + " at the coil", "measure with the " + fed + " on"})
	if v, stuck, ok := bandAt(p, c, state{closed: true, inrush: true}, a, b); ok {
		rows = append(rows, FaultRow{"armature stuck", "hums, does not move", written(c, v) + " at the coil", fmt.Sprintf("%.0f mA continuously: the coil burns out", stuck.drawn)})
	} else {
		missing = stuck.Missing
	}
	return rows, missing
}

// warmHead is how much warmer than the terminals of the card the head of a
// thermocouple is taken for where the guide needs an example, in K.
const warmHead = 20

// thermoFaults are computed at the middle of the range with the terminals of the
// card at the temperature of the practice. What a card shows is the temperature t
// of E(t) = mV + E(terminals), by the functions of ITS-90. A cable that is reversed at
// both ends counts the difference from head to card against the sensor, and leaves
// out what it should have added: mV = E(t) - 2 E(head) + E(card).
func thermoFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	element, ok := sensor.Named(d.Device.Sensor)
	span := d.Device.AtSensor()
	if !ok {
		missing = append(missing, "sensor of "+d.Tag)
	}
	if _, is := span.Celsius(0); !is {
		missing = append(missing, "range of "+d.Tag+" in "+model.TemperatureUnits)
	}
	if len(missing) > 0 {
		return nil, missing
	}
	mid := span.Rounded(span.At(50))
	true50, _ := span.Celsius(mid)
	card := p.Practice.Terminals.Celsius
	hot, ok1 := element.Value(true50)
	cold, ok2 := element.Value(card)
	head, ok3 := element.Value(card + warmHead)
	if !ok1 || !ok2 || !ok3 {
		return nil, []string{"a range inside that of the sensor"}
	}
	shows := func(mV float64) string {
		t, ok := element.Celsius(mV + cold)
		if !ok {
			return "outside the range of the sensor"
		}
		own, _ := span.FromCelsius(t)
		return fmt.Sprintf("%.1f %s", own, span.Unit)
	}
	millivolts := func(mV float64) string { return strings.Replace(fmt.Sprintf("%.3f mV", mV), "-", "−", 1) }
	degrees := func(celsius float64) string {
		own, _ := span.FromCelsius(celsius)
		return model.Plain(math.Round(own*10)/10) + " " + span.Unit
	}
	twice := hot - 2*head + cold
	return []FaultRow{
		{"healthy, " + span.Words(mid), span.Words(mid), millivolts(hot - cold), "card terminals at " + degrees(card)},
		{"pair open", "up- or downscale, per card", "0 mV, Ω open", "lift and measure Ω"},
		{"pair shorted", "the temperature at the short", "Ω too low", "does not follow the process"},
		{"reversed once", shows(cold - hot), millivolts(cold - hot), "falls when the process warms up"},
		{"reversed twice (both ends of a cable)", shows(twice) + ", with its head at " + degrees(card+warmHead), millivolts(twice),
			"error = about twice the temperature difference of the cable ends; none while they are equal"},
	}, nil
}

func resistanceFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow, missing []string) {
	r, _ := ReadingsOf(p, c)
	if len(r.Missing) > 0 || len(r.Rows) == 0 {
		return nil, r.Missing
	}
	last := r.Rows[len(r.Rows)-1]
	for _, row := range r.Rows {
		if row.Station == last.Station {
			last = row
			break
		}
	}
	mid := len(last.Values) / 2
	celsius, elements, ok := sensorPoints(p, &Readings{Circuit: c})
	if !ok || len(celsius) != len(last.Values) {
		return nil, []string{"the element of " + d.Tag}
	}
	leads := last.Values[mid].Value - elements[mid] // out and back, to a short at the sensor
	core := "lift and measure Ω: no other fault is open"
	if len(c.Legs) > 2 {
		core = p.Say("take Ω readings between all cores at the card")
	}
	rows = []FaultRow{
		{"healthy, " + r.States[mid], r.States[mid], fmt.Sprintf("%s Ω at %s", last.Values[mid].Words("Ω"), last.Where()), ""},
		{p.Say("a core open"), "top of the scale, or failed", "Ω open", core},
		{"pair shorted", "bottom of the scale, or failed", fmt.Sprintf("%.2f Ω at %s, leads only", leads, last.Where()), p.Say("less: shorted on the way; lift the cores at the sensor")},
	}
	if len(c.Legs) > 2 { // like leads crossed with each other do no harm
		rows = append(rows,
			FaultRow{"unlike leads crossed", "far too low, or failed", "the element between like leads", "compare with the lead Ω"},
			FaultRow{"like leads linked on the way", "high by the lead Ω beyond the link", "low between like leads", "look for a link in a box or at the card"})
	}
	return rows, nil
}
