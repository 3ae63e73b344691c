package lists

import (
	"ringout/model"
	"ringout/model/read"
)

// This file makes the list of the inputs and outputs of instruments.

// PortUse is what an input or output is there for, and the key of an instrument under which
// such are written.
type PortUse struct{ Use, Key string }

// PortUses are all uses, in the order of the text.
var PortUses = []PortUse{{"input", "inputs"}, {"output", "outputs"}, {"retransmission", "retransmits"}}

// portRow is an input or output of an instrument.
type portRow struct {
	*model.Part
	values []read.Value
}

var portTable = table[portRow]{
	{own("instrument", "its tag").needed(), func(x portRow) any { return x.Of.Tag }},
	{own("port", "name of the input or output in its instrument").needed(), func(x portRow) any { return x.Port() }},
	{own("use", "`input`, `output` that moves something, or `retransmission` of what it reads").needed(), func(x portRow) any { return x.use() }},
	{key("kind"), nil},
	{key("terminals"), nil},
	{own("circuits", "those that land on it"), func(x portRow) any { return circuitNames(x.Circuits()) }},
	{key("wires"), portRow.wires},
	{key("power"), func(x portRow) any { return power(x.Part, x.values) }},
	{key("volts").in("V").parted(PartedVolts), nil},
	{key("least volts").in("V").parted(PartedVolts), nil},
	{key("highest volts").in("V").parted(PartedVolts), nil},
	{key("limit").as("limit mA").in("mA"), nil},
	{key("ohms").in("ohm"), nil},
	{key("minus").worded(), nil},
	{key("drive").in("ohm"), func(x portRow) any { return written("drive", x.values) }},
	{key("least load").as("least load ohms").in("ohm"), nil},
	{key("input type"), nil},
	{key("off below").in("V"), nil},
	{key("on above").in("V"), nil},
	{key("lead limit").as("lead limit ohms").in("ohm"), nil},
	{key("range"), portRow.ownRange},
	{key("signal"), nil},
	{key("lift-off").in("V").parted(PartedVolts), nil},
	{key("failure current").as("failure mA").in("mA"), nil},
}

// portKinds are one of each kind of input and output that has keys of its own.
func portKinds() []any {
	of := new(model.Part)
	return []any{
		&model.Part{Of: of, Kind: model.CardKind("AI"), Card: new(model.Card)},
		&model.Part{Of: of, Kind: model.CardKind("AO"), Card: new(model.Card)},
		&model.Part{Of: of, Device: new(model.Device)},
	}
}

func portRows(p *model.Plant, row func(...any)) {
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			for _, x := range d.Ports() {
				values := read.Values(x)
				row(portTable.row(portRow{x, values}, values)...)
			}
		}
	}
}

func (x portRow) use() string {
	switch {
	case x.Drive():
		return PortUses[1].Use
	case x.Card != nil:
		return PortUses[0].Use
	}
	return PortUses[2].Use
}

// wires are the leads of an input for resistance sensors; others have what their kind has.
func (x portRow) wires() any {
	if x.Card == nil || x.Kind.Signal != model.Resistance {
		return ""
	}
	return key("wires").value(x.values)
}

// ownRange is what the signal of an output stands for, where that is not the range of its
// instrument.
func (x portRow) ownRange() any {
	if x.Device == nil || x.Device.Range.Text == x.Of.Device.Range.Text {
		return ""
	}
	return x.Device.Range.Text
}
