package record

import (
	"fmt"
	"strconv"
	"strings"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
)

// Columns of the table of points that a row may do without: what is expected
// at the card, then what is written in.
const (
	cardVolts = 3 + iota
	upSent
	upShown
	downSent
	downShown
)

// Columns of the table of outputs: volts at the card, then what is written in.
const (
	outputVolts = 2 + iota
	current
	upPressure
	upTravel
	downPressure
	downTravel
)

// The loop's unique point shows whether it is wired crosswise with another.
const (
	ownWords = "unique"
	onlyThis = ", this tag only"
)

func only(point string) string {
	if point == ownWords {
		return onlyThis
	}
	return ""
}

// points are the check points of the practice and the loop's own, in per cent.
func (r *recordBuilder) points() []float64 { return r.plant.Practice.CheckPoints }

// injectedAt is the row that says where the signal was put in.
func injectedAt(t *paper.Table, at, lifted string) {
	row(t, "Inject at", at, lifted, upSent, upShown, downSent, downShown)
	cells := t.Rows[len(t.Rows)-1].Cells
	cells[upSent] = paper.Cell{Kind: paper.Tick, S: "done"}
	cells[upShown] = paper.Cell{S: "or at:"}
	cells[downSent], cells[downShown] = paper.Cell{}, paper.Cell{}
}

// injection tells how the signal of a transmitter is stood in for: a two-wire
// one is a load that the card drives, one with its own supply is a source.
func injection(p *model.Part) string {
	switch {
	case p.Kind.Drives():
		return "lifted, source mA"
	case p.Kind.ThreeWire() && !p.Device.Sinks():
		return "output lifted, source mA"
	case p.Kind.ThreeWire():
		return "output lifted, sink mA"
	}
	return "lifted, sink mA"
}

// atDevice names the terminals of the device of a circuit.
func atDevice(c *model.Circuit) string {
	words := ""
	for i, t := range deviceTerminals(c) {
		if i == 0 {
			words += t.Part.Tag
		}
		words += " " + t.Name
	}
	return words
}

// atOutput names the output of a three-wire transmitter and its -, between which its signal
// is put in.
func atOutput(c *model.Circuit, p *model.Part) string {
	words := p.Tag
	for _, t := range deviceTerminals(c) {
		if t.Role != '+' {
			words += " " + t.Name
		}
	}
	return words
}

// atPart names the terminals of one of the devices that take the signal of a circuit.
func atPart(c *model.Circuit, p *model.Part) string {
	if p == c.Device() {
		return atDevice(c)
	}
	words := p.Tag
	for _, st := range c.Visits() {
		for _, on := range st.Terminations {
			if st.Part == p && on.Does == model.Lands {
				words += " " + on.In.Name
				if on.Out != on.In {
					words += " " + on.Out.Name
				}
			}
		}
	}
	return words
}

// value is a percentage of a range in its unit, and the percentage that the
// rounded figure stands for: whatever is printed beside it is computed from that.
// It is rounded as its range is, and finer where a signal beside it would not be
// the one of the percentage.
func value(span model.Range, percent float64, beside func(percent float64) string) (words string, printed float64) {
	if !span.Given() {
		return fmt.Sprintf("%s %%, range %s", wording.Plain(percent), paper.NotGiven), percent
	}
	v := span.At(percent)
	for n := span.Decimals(); ; n++ {
		rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', n, 64), 64)
		printed, ok := span.Percent(rounded)
		if !ok {
			printed = percent
		}
		if n >= span.Decimals()+3 || beside == nil || beside(printed) == beside(percent) {
			return strings.TrimSpace(wording.Plain(rounded+0) + " " + span.Unit), printed
		}
	}
}

func (k *loopCheckBuilder) analogIn(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: 4-20 mA input, no field device in the model", c.Name)
		return
	}
	if p.Of != nil && k.through(c, p) {
		return
	}
	if k.sentOn(c) {
		return
	}
	d := p.Device
	signal := compute.Output(d)
	law := "linear"
	switch d.SquareRootIn {
	case model.TransmitterRoot:
		law = "square root in the transmitter: current and display agree"
	case model.SystemRoot:
		law = "square root in the system: 25 % of signal is 50 % of range"
	}
	heading(t, "%s: %s, %s as %s, %s%s", c.Name, k.plant.Say(p.Kind.Words), wording.Given(d.Range.Text), signal.Text, law, k.readAt(c))
	at := atDevice(c)
	if p.Kind.ThreeWire() {
		at = atOutput(c, p)
	}
	injectedAt(t, at, injection(p))
	point := func(name string, percent float64) {
		there := func(shown float64) string { return wording.Current(signal, compute.SignalFor(d, shown)) }
		reads, shown := value(d.Range, compute.DisplayedPercent(d, percent), there)
		row(t, name, there(shown), reads+only(name))
		k.volts(t, cardVolts, c, signal.At(percent))
	}
	for _, percent := range k.points() {
		point(wording.Plain(percent)+" %", percent)
	}
	point(ownWords, k.own)
	if signal.Unit == "mA" && signal.Low == 4 && signal.High == 20 {
		pr := k.plant.Practice
		row(t, "Failure low", failure(pr.FailLow, 3.6), "fault shown", downSent, downShown)
		k.volts(t, cardVolts, c, pr.FailLow)
		row(t, "Failure high", failure(pr.FailHigh, 21), "fault shown", downSent, downShown)
		k.volts(t, cardVolts, c, pr.FailHigh)
	}
	lift := k.plant.Say(", lift one core")
	if p.Kind.ThreeWire() {
		lift = k.plant.Say(", lift output core")
	}
	row(t, "Loop open", "from "+wording.Current(signal, 50)+lift, "0 mA, bad quality", downSent, downShown)
	k.volts(t, cardVolts, c, 0)
	k.instruments(c, p)
	if d.Sensor != "" {
		heading(t, "%s: sensor side of the transmitter, %s", p.Tag, d.Sensor)
		k.sensorPoints(p, signal)
	}
}

// failure is a failure current of the practice, to be held for the four seconds
// of NAMUR NE 43, which is named where the current is its own too.
func failure(mA, namur float64) string {
	s := fmt.Sprintf("%s mA", wording.Figure(mA, 10))
	if mA == namur {
		s = fmt.Sprintf("%.1f mA (NE 43)", mA)
	}
	return s + ", 4 s"
}

// instruments are the rows of indicators in the same circuit.
func (k *loopCheckBuilder) instruments(c *model.Circuit, device *model.Part) {
	for _, s := range c.Visits() {
		p := s.Part
		if p == device || !p.Kind.Indicator {
			continue
		}
		heading(k.analogue, "%s: %s in the same circuit, range %s", p.Tag, k.plant.Say(p.Kind.Words), wording.Given(p.Device.Range.Text))
		for _, percent := range k.points() {
			there := func(percent float64) string { return wording.Current(compute.Output(device.Device), percent) }
			reads, shown := value(p.Device.Range, percent, there)
			row(k.analogue, wording.Plain(percent)+" %", there(shown), reads)
		}
	}
}

func (k *loopCheckBuilder) analogOut(c *model.Circuit) {
	if c.Device() == nil {
		heading(k.strokes, "%s: 4-20 mA output, no field device in the model", c.Name)
		return
	}
	span := compute.Span(c)
	for _, p := range driven(c) {
		k.taker(c, p, span)
	}
}

// driven are the devices that an output of any kind moves things by.
func driven(c *model.Circuit) []*model.Part {
	if all := c.Takers(); len(all) > 1 {
		return all
	}
	return []*model.Part{c.Device()}
}

// ownPercent is where in its own signal, within 0 and 100 %, a device stands at a
// percentage of the signal of its circuit.
func ownPercent(p *model.Part, span model.Range, percent float64) float64 {
	own, ok := compute.Output(p.Device).Percent(span.At(percent))
	if !ok {
		return percent
	}
	return min(max(own, 0), 100)
}

// taker is what one device does that takes the signal of an output, which others may
// take too: the command is of the whole signal, its place in its own.
func (k *loopCheckBuilder) taker(c *model.Circuit, p *model.Part, signal model.Range) {
	d, valve, t := p.Device, p.FinalElement(), k.strokes
	split := len(c.Takers()) > 1
	fail := valve.Device.Fail
	air := model.Range{}
	for _, span := range []model.Range{d.Range, d.Calibrated} {
		if span.Given() && !air.Given() && model.IsPressure(span.Unit) {
			air = span
		}
	}
	if !air.Given() {
		air = valve.Device.Air.Span
	}
	name := c.Name
	if split && name != p.Tag {
		name += ", " + p.Tag
	}
	heading(t, "%s: %s on %s, fails %s; %s at %s%s", name, k.plant.Say(p.Kind.Words), valve.Tag, wording.Given(fail.String()), k.taken(p, signal, split), atPart(c, p), commandedBy(c))
	add := func(command, expect string, without ...int) {
		cells := make([]paper.Cell, len(t.Columns))
		cells[0], cells[1] = paper.Cell{S: command}, paper.Cell{S: expect}
		if !air.Given() {
			without = append(without, upPressure, downPressure)
		}
		for _, i := range without {
			cells[i].Kind = paper.NA
		}
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("stroke-%d", len(t.Rows)), Cells: cells})
	}
	point := func(name, only string, percent float64) {
		expect := wording.Current(signal, percent)
		own := percent
		if split {
			own = ownPercent(p, signal, percent)
		}
		switch {
		case air.Given() && split:
			at := own
			if d.Action == model.Reverse {
				at = 100 - own
			}
			pressure, _ := value(air, at, nil)
			expect += ", " + pressure
		case air.Given():
			turned := func(percent float64) float64 {
				if d.Action == model.Reverse {
					return 100 - percent
				}
				return percent
			}
			there := func(at float64) string { return wording.Current(signal, turned(at)) }
			pressure, at := value(air, turned(percent), there)
			expect = there(at) + ", " + pressure
		}
		add(name, expect+", "+k.travel(own, fail, d.Action == model.Reverse)+only)
		k.volts(t, outputVolts, c, signal.At(percent))
	}
	for _, percent := range k.points() {
		point(wording.Plain(percent)+" %", "", percent)
	}
	own := 100 - k.own // another than that of an input in the same loop
	point("unique, "+wording.Plain(own)+" %", onlyThis, own)
	lost := func(name, how string) {
		held := 50.0
		if split {
			held, _ = signal.Percent(compute.Output(d).At(50))
		}
		add(name, "held at "+wording.Plain(held)+" %, then "+how+": "+goes(valve), current, upPressure, downPressure)
		cells := t.Rows[len(t.Rows)-1].Cells
		cells[upTravel], cells[downTravel] = paper.Cell{S: "from:"}, paper.Cell{S: "to:"}
	}
	lost("Signal lost", k.plant.Say("lift one core"))
	if d.Air.Given() || valve != p || valve.Device.Air.Given() {
		lost("Air lost", "shut off, vent air")
		add("Stroke time", "0 to 100 % and back, each "+wording.StrokeLimit(valve), current, upPressure, downPressure)
		cells := t.Rows[len(t.Rows)-1].Cells
		cells[upTravel], cells[downTravel] = paper.Cell{S: "s:"}, paper.Cell{S: "s:"}
	}
}

// taken is the signal of a device, and of what it is a part where others share it.
func (k *loopCheckBuilder) taken(p *model.Part, signal model.Range, split bool) string {
	if !split {
		return signal.Text
	}
	return compute.Output(p.Device).Text + " of " + signal.Text + ", split range"
}

// travel is where a spring-return valve with a direct positioner stands: at its
// fail position with the lowest signal, within the tolerance of the practice.
// Reverse action turns it round.
func (k *loopCheckBuilder) travel(percent float64, fail model.Position, reverse bool) string {
	open := percent
	if (fail == model.Open) != reverse {
		open = 100 - percent
	}
	within := wording.Figure(open, 1) + " ± " + wording.Plain(k.plant.Practice.TravelWithin)
	if fail != model.Open && fail != model.Closed {
		return within + " % travel"
	}
	return within + " % open"
}

func goes(p *model.Part) string {
	switch p.Device.Fail {
	case 0:
		return paper.NotGiven + ": fail of " + p.Tag
	case model.Locked:
		return p.Tag + " stays"
	}
	return p.Tag + " goes " + p.Device.Fail.String()
}

func (k *loopCheckBuilder) sensor(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: %s, no field device in the model", c.Name, c.Signal)
		return
	}
	if k.sentOn(c) {
		return
	}
	heading(t, "%s: %s %s, %s%s", c.Name, k.plant.Say(p.Kind.Words), wording.Given(p.Device.Sensor), wording.Given(p.Device.Range.Text), k.readAt(c))
	injectedAt(t, atDevice(c), "element lifted")
	k.sensorPoints(p, model.Range{})
	row(t, "Open sensor", k.plant.Say("from 50 %, lift one core at element"), "per burnout setting", downSent, downShown)
}

// sensorPoints are the points of a temperature element: what to apply in its
// place, and what the display or, of a transmitter, the current should be.
func (k *loopCheckBuilder) sensorPoints(p *model.Part, signal model.Range) {
	t, d := k.analogue, p.Device
	k.injectCouple(d)
	point := func(name string, percent float64) {
		expect, printed := value(d.Range, percent, nil)
		if signal.Given() {
			expect, printed = wording.Current(signal, percent), percent
		}
		row(t, name, atPoint(d, printed), expect+only(name))
	}
	for _, percent := range k.points() {
		point(wording.Plain(percent)+" %", percent)
	}
	point(ownWords, k.own)
}

func (k *loopCheckBuilder) pulse(c *model.Circuit) {
	p, t := c.Device(), k.analogue
	if p == nil {
		heading(t, "%s: pulse input, no field device in the model", c.Name)
		return
	}
	d := p.Device
	heading(t, "%s: %s, %s as %s", c.Name, k.plant.Say(p.Kind.Words), wording.Given(d.Range.Text), wording.Given(d.Signal.Text))
	injectedAt(t, atDevice(c), "device lifted")
	for _, percent := range k.points() {
		there := func(percent float64) string { return "frequency " + paper.NotGiven }
		if d.Signal.Given() {
			there = func(percent float64) string { return d.Signal.Words(d.Signal.At(percent)) }
		}
		reads, shown := value(d.Range, percent, there)
		row(t, wording.Plain(percent)+" %", there(shown), reads)
	}
}
