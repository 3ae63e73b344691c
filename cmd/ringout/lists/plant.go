package lists

import (
	"fmt"
	"strings"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/read"
)

// This file makes the lists of what is wired: places and parts, I/O, instruments.

// partRow is a part, or with none its place itself.
type partRow struct {
	*model.Part
	place  *model.Place
	values []read.Value
}

var partTable = table[partRow]{
	{own("part", "tag of a place, supply or barrier; name of a strip or earth bar").needed(), partRow.name},
	{own("place", "where the part is; empty for a place").needed(), func(x partRow) any {
		if x.Part == nil {
			return ""
		}
		return x.place.Tag
	}},
	{own("kind", "`box`, `cabinet`, `panel`, `system`, `strip`, `plug`, `spur protector`, `field barrier`, `earth bar`, `barrier`, `isolator`, `surge protector` or `supply`").needed().worded(), partRow.kind},
	{key("at"), func(x partRow) any { return x.unlessPart("at") }},
	{key("wire"), func(x partRow) any { return x.unlessPart("wire") }},
	{key("controller"), func(x partRow) any { return x.unlessPart("controller") }},
	{key("front"), func(x partRow) any { return x.unlessPart("front") }},
	{key("local"), func(x partRow) any { return x.unlessPart("local") }},
	{key("terminals").parted(PartedTexts).named(), nil},
	{key("grid"), nil},
	{key("pins").parted(PartedTexts), nil},
	{key("male"), nil},
	{key("marks"), nil},
	{key("jumpers").parted(PartedTexts), nil},
	{key("bonded").parted(PartedTexts), nil},
	{key("largest").as("largest mm2").in("mm2"), partRow.largest},
	{key("conductors"), nil},
	{key("rail"), nil},
	{key("pitch").as("pitch mm").in("mm"), nil},
	{key("model"), nil},
	{key("ohms").in("ohm"), nil},
	{key("return ohms").in("ohm"), nil},
	{key("drop").as("drop V").in("V"), nil},
	{key("working volts").as("working V").in("V"), nil},
	{key("volts").parted(PartedVolts), partRow.volts},
	{key("least volts").in("V"), nil},
	{key("highest volts").in("V"), nil},
	{key("limit").as("limit mA").in("mA"), nil},
	{key("load").as("load ohms").in("ohm"), nil},
	{key("protects"), nil},
	{key("circuit"), nil},
	{key("fuse"), nil},
	{key("entity"), partRow.entity},
	{key("earth"), partRow.earth},
	{key("status"), nil},
	{key("spurs").parted(PartedTexts), nil},
	{key("draws").as("draws mA").in("mA"), nil},
}

func partRows(p *model.Plant, row func(...any)) {
	for _, pl := range p.Places {
		of := func(x *model.Part, values []read.Value) { row(partTable.row(partRow{x, pl, values}, values)...) }
		of(nil, read.Values(pl))
		for _, x := range pl.Parts {
			switch {
			case x.Strip != nil, x.Barrier != nil, x.Supply != nil:
				of(x, read.Values(x))
			case x.Kind.Bar: // the text has of it what it is for, and no key
				of(x, []read.Value{{Key: "at", Text: x.Device.At}, {Key: "status", Text: x.Status.String()}})
			} // cards are in the I/O list
		}
	}
}

func (x partRow) name() any {
	if x.Part == nil {
		return x.place.Tag
	}
	return x.Name()
}

func (x partRow) kind() any {
	switch {
	case x.Part == nil:
		return x.place.Kind.String()
	case x.Supply != nil:
		return "supply" // of AC too
	}
	return x.Kind.Name
}

// unlessPart is the value of a key that strips, barriers and supplies do not have.
func (x partRow) unlessPart(name string) any {
	if x.Part != nil && !x.Kind.Bar {
		return ""
	}
	return key(name).value(x.values)
}

// largest is the largest conductor in mm2; with its unit where it was written as a gauge.
func (x partRow) largest() any {
	if x.Part != nil && x.Strip != nil && x.Strip.MaxGauge > 0 {
		return x.Strip.Largest()
	}
	return key("largest").in("mm2").value(x.values)
}

// volts are those of a supply or an isolator, as the text may have them.
func (x partRow) volts() any { return written("volts", x.values) }

func (x partRow) entity() any { return written("entity", x.values) }

// earth is the earth bar of a supply or a barrier, or none, as the text has it.
func (x partRow) earth() any {
	switch {
	case x.Part == nil:
		return nil
	case x.Barrier != nil:
		return barName(x.Barrier.Earth)
	case x.Supply == nil:
		return nil
	case x.Supply.Floats:
		return "none"
	}
	return barName(x.Supply.Earth)
}

// cardFeed is what feeds a card, as the text has it; "" where that is not given.
func cardFeed(card *model.Part) string {
	switch t := card.Card.From; {
	case t == nil:
		return ""
	case t.Part.Supply != nil:
		return t.Part.Tag
	default:
		return t.Part.Tag + " " + t.Name
	}
}

// earthedCell is the terminal of a device that is on its case, as the text may have
// it: a pole in words, so that no cell begins with a sign.
func earthedCell(x *model.Part) string {
	switch e := x.Device.Earthed; {
	case !e.Given:
		return ""
	case e.At == nil:
		return "none"
	case e.At.Name == "-":
		return "negative"
	case e.At.Name == "+":
		return "positive"
	default:
		return e.At.Name
	}
}

// barName is the name of an earth bar in its place; "" for none.
func barName(bar *model.Part) string {
	if bar == nil {
		return ""
	}
	return bar.Name()
}

func terminalNames(ts []*model.Terminal) string {
	var names []string
	for _, t := range ts {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}

// channelRow is a channel of a card; its circuit may be nil.
type channelRow struct {
	card    *model.Part
	channel int
	circuit *model.Circuit
	alarms  []string
	values  []read.Value // of the card
}

var channelTable = table[channelRow]{
	{own("card", "its tag").needed(), func(c channelRow) any { return c.card.Tag }},
	{own("place", "where the card is").read(), func(c channelRow) any { return c.card.Place.Tag }},
	{key("address"), nil},
	{key("kind"), nil},
	{key("power"), func(c channelRow) any { return power(c.card, c.values) }},
	{own("channel", "its number, from 1").needed(), func(c channelRow) any { return c.channel }},
	{own("terminals", "those of the channel, parted by blanks").read(), func(c channelRow) any { return terminalNames(c.card.Channel(c.channel)) }},
	{own("loop", "tag of the loop"), ofCircuit(func(c *model.Circuit) string { return c.Loop.Tag })},
	{own("circuit", "name of the circuit that lands here"), ofCircuit(func(c *model.Circuit) string { return c.Name })},
	{own("device", "where the circuit begins"), deviceOn(func(x *model.Part) string { return x.Tag })},
	{own("service", "of the loop"), ofCircuit(func(c *model.Circuit) string { return c.Loop.Service })},
	{own("signal", "of the circuit").worded(), ofCircuit(func(c *model.Circuit) string { return c.Signal.String() })},
	{own("range", "of the device"), deviceOn(func(x *model.Part) string { return x.Device.Range.Text })},
	{own("alarms", "of the functions that read the circuit"), func(c channelRow) any { return strings.Join(c.alarms, PartedTexts) }},
	{key("ranges").as("channel range"), func(c channelRow) any { return c.card.Card.Ranges[c.channel].Text }},
	{key("volts").as("card volts").in("V").parted(PartedVolts), nil},
	{key("least volts").in("V").parted(PartedVolts), nil},
	{key("highest volts").in("V").parted(PartedVolts), nil},
	{key("ohms").as("card ohms").in("ohm"), nil},
	{key("limit").as("card limit mA").in("mA"), nil},
	{key("supply"), func(c channelRow) any { return cardFeed(c.card) }},
	{key("minus").worded(), nil},
	{key("draws").as("card draws mA").in("mA"), nil},
	{key("drive").in("ohm"), func(c channelRow) any { return written("drive", c.values) }},
	{key("least load").as("least load ohms").in("ohm"), nil},
	{key("lift-off").as("card lift-off").in("V").parted(PartedVolts), nil},
	{key("input type"), nil},
	{key("off below").in("V"), nil},
	{key("on above").in("V"), nil},
	{key("on link loss"), nil},
	{key("lead limit").as("lead limit ohms").in("ohm"), nil},
	{key("common").parted(PartedVolts), nil},
	{key("status"), nil},
}

// ofCircuit fills a cell with a fact of the circuit on a channel; "" where there is none.
func ofCircuit(fact func(*model.Circuit) string) func(channelRow) any {
	return func(c channelRow) any {
		if c.circuit == nil {
			return ""
		}
		return fact(c.circuit)
	}
}

// deviceOn fills a cell with a fact of the device that the circuit on a channel begins on.
func deviceOn(fact func(*model.Part) string) func(channelRow) any {
	return ofCircuit(func(c *model.Circuit) string {
		if first := c.Stations()[0].Part; first.Device != nil {
			return fact(first)
		}
		return ""
	})
}

// power is what drives the circuits of a card, or of an input, whose kind leaves the choice.
func power(x *model.Part, values []read.Value) any {
	if !x.SaysPower() {
		return ""
	}
	return key("power").value(values)
}

// ioRows has a row for each channel, taken or free.
func ioRows(p *model.Plant, row func(...any)) {
	alarms := map[*model.Circuit][]string{}
	for _, l := range p.Loops {
		for _, f := range l.Functions {
			for _, c := range f.Reads {
				alarms[c] = append(alarms[c], texts(f.Alarms)...)
			}
		}
	}
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			if x.Card == nil {
				continue
			}
			values := read.Values(x)
			for ch := 1; ch <= x.Card.Channels; ch++ {
				c := circuitOn(x.Channel(ch))
				row(channelTable.row(channelRow{x, ch, c, alarms[c], values}, values)...)
			}
		}
	}
}

// circuitOn is the first circuit that lands on one of the terminals, or nil.
func circuitOn(ts []*model.Terminal) *model.Circuit {
	for _, t := range ts {
		for _, u := range t.Ends {
			if u.Conductor.Circuit != nil {
				return u.Conductor.Circuit
			}
		}
	}
	return nil
}

// deviceRow is a device of a loop.
type deviceRow struct {
	*model.Part
	plant  *model.Plant
	loop   *model.Loop
	values []read.Value
}

var deviceTable = table[deviceRow]{
	{own("instrument", "its tag").needed(), func(d deviceRow) any { return d.Tag }},
	{own("loop", "tag of the loop; without it the tag of the instrument").read(), func(d deviceRow) any { return d.loop.Tag }},
	{own("service", "of the loop, without a list `loops`").read(), func(d deviceRow) any { return d.loop.Service }},
	{key("kind").needed(), nil},
	{key("in"), deviceRow.in},
	{key("position"), nil},
	{key("at"), nil},
	{key("model"), nil},
	{key("process"), nil},
	{key("range"), nil},
	{key("calibrated"), nil},
	{key("signal"), deviceRow.signal},
	{key("square root"), nil},
	{key("lift-off").in("V").parted(PartedVolts), nil},
	{key("failure current").as("failure mA").in("mA"), nil},
	{key("draws").as("draws mA").in("mA"), nil},
	{key("draws").as("draws VA").in("VA"), nil},
	{key("output"), nil},
	{key("ohms").in("ohm"), nil},
	{key("drop").in("V").parted(PartedVolts), nil},
	{key("pull-in").as("pull-in V").in("V"), nil},
	{key("drop-out").as("drop-out V").in("V"), nil},
	{key("release").as("release V").in("V"), nil},
	{key("rated volts").as("rated V AC").in("V AC"), nil},
	{key("rated volts").as("rated V DC").in("V DC"), nil},
	{key("watts").in("W"), nil},
	{key("suppressor"), nil},
	{key("inrush").as("inrush VA").in("VA"), nil},
	{key("inrush power factor"), nil},
	{key("holding").as("holding VA").in("VA"), nil},
	{key("power factor"), nil},
	{key("leakage").as("leakage mA").in("mA"), nil},
	{key("least current").as("least mA").in("mA"), nil},
	{key("bleeder").as("bleeder ohms").in("ohm"), nil},
	{key("series ohms").in("ohm"), nil},
	{key("parallel ohms").in("ohm"), nil},
	{key("HART"), nil},
	{key("capacitance").as("capacitance nF").in("nF"), nil},
	{key("class"), nil},
	{key("sensor"), nil},
	{key("lead ohms").in("ohm"), nil},
	{key("set"), nil},
	{key("at rest"), nil},
	{key("fail"), nil},
	{key("action"), nil},
	{key("air"), nil},
	{key("stroke time").as("stroke s").in("s"), nil},
	{key("earthed"), func(d deviceRow) any { return earthedCell(d.Part) }},
	{key("fuse"), nil},
	{key("zone"), nil},
	{key("simple apparatus"), nil},
	{key("drives"), nil},
	{key("on"), nil},
	{key("entity"), func(d deviceRow) any { return written("entity", d.values) }},
	{key("terminals"), nil},
	{key("coils").parted(PartedTexts), nil},
	{key("contacts").parted(PartedTexts), nil},
	{own("lands on", "channels, inputs and outputs that its circuits come to"), func(d deviceRow) any { return landsOn(d.plant, d.loop, d.Part) }},
	{key("status"), nil},
	{key("address"), nil},
	{key("protection"), nil},
	{key("draws").as("draws W").in("W"), nil},
	{key("scale"), nil},
	{key("gap"), nil},
	{key("supply"), nil},
	{key("alarms").parted(PartedTexts), nil},
	{key("alarm relays"), nil},
	{key("variables").parted(PartedTexts), nil},
}

func instrumentRows(p *model.Plant, row func(...any)) {
	for _, l := range p.Loops {
		for _, x := range l.Devices {
			values := read.Values(x)
			row(deviceTable.row(deviceRow{x, p, l, values}, values)...)
		}
	}
}

func (d deviceRow) in() any {
	if d.Place == nil {
		return ""
	}
	return d.Where()
}

// signal is that of an analog device as the sheets print it, also where it is not given.
func (d deviceRow) signal() any {
	if s := d.Kind.Signal; s == model.AnalogIn || s == model.AnalogOut {
		return compute.Output(d.Device).Text
	}
	return key("signal").value(d.values)
}

// landsOn are the channels that the circuits beginning on a device come to.
func landsOn(p *model.Plant, l *model.Loop, x *model.Part) string {
	var all []string
	for _, c := range l.Circuits {
		if c.Broken || c.Stations()[0].Part != x {
			continue
		}
		for _, st := range c.Stations() {
			switch {
			case st.Channel > 0 && st.Part.Of != nil: // an input or output is one channel
				all = append(all, st.Part.Tag)
			case st.Channel > 0:
				all = append(all, fmt.Sprintf("%s channel %d", st.Part.Tag, st.Channel))
			}
		}
	}
	return once(all)
}
