package read

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// This file reads what instruments of several circuits have: inputs, outputs, a supply.

// only are the fields of some names, in the order of the table.
func (fs fields[T]) only(names ...string) (some fields[T]) {
	for _, f := range fs {
		if slices.Contains(names, f.name) {
			some = append(some, f)
		}
	}
	return some
}

// Those of an input are what a card of one channel may say; an output is that of an AO card.
var (
	inputFields = append(fields[*writtenCard]{
		{"kind", aWord(inputKinds...), asked, "what it takes, as the card of that kind: `AI`, `DI`, `RTD`, `TC`, `PI` or `proximity`", "AI", func(r *plantReader, c *writtenCard, n node) {
			c.Kind = model.KindNamed(model.CardKinds, r.oneOf(n, inputKinds...))
		}, func(w *writer, c *writtenCard) { w.text(c.Kind.Name) }},
	}, cardFields.only("power", "terminals", "wires", "volts", "least volts", "highest volts", "limit", "ohms",
		"input type", "off below", "on above", "lead limit", "minus")...)
	outputFields = cardFields.only("terminals", "drive", "least load")
)

// inputKinds are the kinds of card that take a signal from the field.
var inputKinds = model.KindNames(slices.DeleteFunc(slices.Clone(model.CardKinds), func(k *model.Kind) bool { return !k.Receives() }))

var senderFields = fields[*writtenDevice]{
	{"kind", aWord(model.KindNames(model.SenderKinds)...), asked, "`active output`: it drives its current; `passive output`: the circuit has to, as of a two-wire transmitter", "active output", func(r *plantReader, d *writtenDevice, n node) {
		d.Kind = model.KindNamed(model.SenderKinds, r.oneOf(n, model.KindNames(model.SenderKinds)...))
	}, func(w *writer, d *writtenDevice) { w.text(d.Kind.Name) }},
	{"terminals", someNames, "`+ -`", "real terminal names, its + first", "7 8", func(r *plantReader, d *writtenDevice, n node) { d.terminals = &n }, func(w *writer, d *writtenDevice) { w.names(ownTerminals(d.Part)) }},
	{"range", aRange, "the device's", "what its signal stands for", "0..250 °C", func(r *plantReader, d *writtenDevice, n node) { d.Device.Range = r.rangeOf(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Range.Text) }},
	{"signal", aRange, "`4..20 mA`", "what it gives", "20..4 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.Signal = r.rangeOf(n) }, func(w *writer, d *writtenDevice) { w.text(d.Device.Signal.Text) }},
	{"lift-off", biased, "NOT GIVEN", "of a passive output: least voltage at its terminals", "10.5 V", func(r *plantReader, d *writtenDevice, n node) { d.Device.LiftOff = r.biases(n, r.volts) }, func(w *writer, d *writtenDevice) { w.curve(d.Device.LiftOff) }},
	{"drive", aDrive, "NOT GIVEN", "of an active output: what it can drive, as ohms or as `18.5 V at 21 mA`", "500 ohm", func(r *plantReader, d *writtenDevice, n node) { d.Device.MaxLoad, d.Device.Compliance = r.drive(n) }, func(w *writer, d *writtenDevice) { w.drive(d.Device.MaxLoad, d.Device.Compliance) }},
	{"failure current", inMilliamps, "the largest test current", "maximum current", "21.5 mA", func(r *plantReader, d *writtenDevice, n node) { d.Device.FailureCurrent = r.milliamps(n) }, func(w *writer, d *writtenDevice) { w.given(d.Device.FailureCurrent, "mA") }},
}

// port makes an input or output of a device; nil where its tag was given before.
func (r *plantReader) port(key node, of *model.Part, kind *model.Kind) *model.Part {
	tag := of.Tag + "/" + key.Value
	if !r.declare(key, tag) {
		return nil
	}
	p := &model.Part{Pos: key.pos(), Tag: tag, Kind: kind, Of: of, Status: of.Status, Through: map[*model.Terminal]*model.Terminal{}, TerminalByName: map[string]*model.Terminal{}}
	r.plant.PartByTag[tag] = p
	of.Device.Ports = append(of.Device.Ports, p)
	return p
}

// ports makes the inputs and outputs of a device, once its kind is known.
func (r *plantReader) ports(d *writtenDevice) {
	for _, of := range []struct {
		given *node
		kind  *model.Kind
		fs    fields[*writtenCard]
	}{{d.inputs, nil, inputFields}, {d.outputs, model.CardKind("AO"), outputFields}} {
		if of.given == nil {
			continue
		}
		r.cardsOf(*of.given, "terminal of "+d.Tag, of.fs, func(key node) *model.Part {
			p := r.port(key, d.Part, of.kind)
			if p != nil {
				p.Card = &model.Card{Channels: 1}
			}
			return p
		})
	}
	if d.senders == nil {
		return
	}
	for key, value := range r.entries(*d.senders, "terminal of "+d.Tag) {
		p := r.port(key, d.Part, nil)
		if p == nil {
			continue
		}
		p.Device = &model.Device{Loop: d.Device.Loop}
		s := writtenDevice{Part: p}
		senderFields.read(r, value, "", &s)
		if p.Kind == nil {
			p.Kind = model.UnknownKind
			continue
		}
		if !p.Device.Range.Given() {
			p.Device.Range = d.Device.Range
		}
		r.deviceTerminals(p, s.terminals)
	}
}

// noSupply is the word for a device that its circuit feeds.
const noSupply = "none"

// supplyOf gives a device the terminals of its supply: as it says, else as its kind has them.
func (r *plantReader) supplyOf(d *writtenDevice) {
	text, pos := d.Kind.Feed, d.Pos
	if d.supply != nil {
		text, pos = r.text(*d.supply), d.supply.pos()
	}
	if text == noSupply || text == "" {
		return
	}
	word, rest, _ := strings.Cut(text, " ")
	g, names := &model.Group{}, strings.Split(strings.TrimSpace(rest), "-")
	switch {
	case word == "AC" && (len(names) == 2 || len(names) == 3):
		g.Feeds = model.Power
	case word == "DC" && len(names) == 2:
		g.Feeds = model.PowerDC
	}
	if g.Feeds == model.NoSignal || slices.ContainsFunc(names, func(s string) bool { return s == "" || strings.ContainsAny(s, " \t,>:") }) {
		r.Report(d.supply.wrong(finding.BadContact, "supply %s of %s not understood", finding.Quote(text), d.Tag).
			WithHint(finding.Do("write AC L-N-PE or DC P-N, with its own terminals after AC or DC, the + first; or none")))
		return
	}
	r.group(d.Part, g, names, pos)
}

// supply writes the terminals of the supply of a device.
func (w *writer) supply(p *model.Part) {
	switch g := p.Supplied(); {
	case g == nil && p.Kind.Feed != "":
		w.text(noSupply)
	case g == nil:
		w.text("")
	case g.Feeds == model.Power:
		w.text("AC " + g.Numbers())
	default:
		w.text("DC " + g.Numbers())
	}
}
