package read

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/colour"
	"ringout/model/copper"
	"ringout/model/finding"
)

var placeFields = fields[*model.Place]{
	{"at", aText, "NOT GIVEN", "location", "Filter gallery, column C4", func(r *plantReader, pl *model.Place, n node) { pl.At = r.text(n) }, func(w *writer, pl *model.Place) { w.text(pl.At) }},
	{"status", aStatus, "`new`", "`new`, `existing` or `future`", "", func(r *plantReader, pl *model.Place, n node) { pl.Status = r.status(n) }, func(w *writer, pl *model.Place) { w.text(pl.Status.String()) }},
	{"wire", aSize, "", "size and colour of the wires inside", "0.75 mm2 BU", func(r *plantReader, pl *model.Place, n node) { r.insideWire(n, pl) }, func(w *writer, pl *model.Place) { w.size(pl.Copper, pl.Colour) }},
	{"front", aGrid, "", "of a panel or cabinet: rows and columns of the instruments on its front; each then has a `position`", "2 x 3", func(r *plantReader, pl *model.Place, n node) { pl.Front = r.grid(n) }, func(w *writer, pl *model.Place) { w.text(pl.Front.String()) }},
	{"local", yesOrNo, "`no`", "of a panel or cabinet: it stands apart from the main panels, such as beside its machine (an auxiliary location)", "yes", func(r *plantReader, pl *model.Place, n node) { pl.Local = r.yes(n) }, func(w *writer, pl *model.Place) { w.yes(pl.Local) }},
	{"controller", aTag, "", "of remote I/O: the system, cabinet or panel that its cards report to by link", "PCS-1", func(r *plantReader, pl *model.Place, n node) {
		r.seats = append(r.seats, func() { r.controller(n, pl) })
	}, func(w *writer, pl *model.Place) {
		if pl.Controller != nil {
			w.text(pl.Controller.Tag)
		} else {
			w.text("")
		}
	}},
	{"strips", tagged(defined("strip")), "", "terminal strips, in the order of the rail", "", func(r *plantReader, pl *model.Place, n node) { r.strips(n, pl) }, things[*model.Place]},
	{"plugs", tagged(defined("plug")), "", "plugs with their receptacles: in its wall, on a device beside it, or between two cables that meet there", "", func(r *plantReader, pl *model.Place, n node) { r.plugs(n, pl) }, things[*model.Place]},
	{"couplers", tagged(defined("coupler")), "", "what joins spurs to the trunk of a powered bus and limits their current", "", func(r *plantReader, pl *model.Place, n node) { r.couplers(n, pl) }, things[*model.Place]},
	{"earths", tagged(aText), "", "earth bars and what they are for", "{IE: instrument earth}", func(r *plantReader, pl *model.Place, n node) { r.earths(n, pl) }, things[*model.Place]},
	{"cards", tagged(defined("card")), "", "I/O cards", "", func(r *plantReader, pl *model.Place, n node) { r.cards(n, pl) }, things[*model.Place]},
	{"barriers", tagged(defined("barrier")), "", "between strip and card", "", func(r *plantReader, pl *model.Place, n node) { r.barriers(n, pl, "barrier") }, things[*model.Place]},
	{"isolators", tagged(defined("barrier")), "", "between strip and card", "", func(r *plantReader, pl *model.Place, n node) { r.barriers(n, pl, "isolator") }, things[*model.Place]},
	{"surge protectors", tagged(defined("surge")), "", "that legs go through", "", func(r *plantReader, pl *model.Place, n node) { r.barriers(n, pl, "surge protector") }, things[*model.Place]},
	{"supplies", tagged(defined("supply")), "", "supplies", "", func(r *plantReader, pl *model.Place, n node) { r.supplies(n, pl) }, things[*model.Place]},
	{"feeds", listOf(aText), "", "fixed wires from a supply, or the common of a card that drives its channels, to a strip, with their colour if it is not the place's, and where their ohms count, over what they run; of mains wires no colour is taken for granted, PE is green-and-yellow", "[PS-21 + to X5 F1, PS-21 - to X5 N1 BU over 35 m of 2.5 mm2, AC-21 L to X7 L1 BN]", func(r *plantReader, pl *model.Place, n node) {
		r.later = append(r.later, func() { r.feeds(n, pl) })
	}, conductors[*model.Place]},
	{"shared power", named(defined("power")), "", "supply wiring that instruments in it share, by name: what it makes is a supply circuit of each", "{24 V: {from: X5 F1 N1, members: 1A..2C}}", func(r *plantReader, pl *model.Place, n node) {
		r.later = append(r.later, func() { r.sharedPower(n, pl) })
	}, conductors[*model.Place]},
}

func (r *plantReader) placesOf(n node, kind model.PlaceKind) {
	for key, value := range r.entries(n, kind.String()) {
		pl := &model.Place{Pos: key.pos(), Tag: key.Value, Kind: kind}
		if !r.declare(key, pl.Tag) {
			continue
		}
		r.plant.PlaceByTag[pl.Tag] = pl
		r.plant.Places = append(r.plant.Places, pl)
		placeFields.read(r, value, "", pl)
	}
}

// controller binds what a place of remote I/O reports to.
func (r *plantReader) controller(n node, pl *model.Place) {
	name := r.text(n)
	at := r.plant.PlaceByTag[name]
	switch {
	case name == "":
	case at == nil:
		r.Report(n.wrong(finding.UnknownTag, "no box, cabinet, panel or system is tagged %s", name).WithHint(bind.TagLists(r.plant).Place(name)))
	case at == pl:
		r.Report(n.wrong(finding.UnusedFact, "controller of %s not used: it is %s itself", pl.Tag, pl.Tag).WithHint(finding.Do("name the system that its cards report to, or take the key out")))
	default:
		pl.Controller = at
	}
}

// insideWire reads "0.75 mm2 BU": the wires inside a place.
func (r *plantReader) insideWire(n node, pl *model.Place) {
	s := r.text(n)
	size := s
	if i := strings.LastIndexByte(s, ' '); i > 0 {
		if c, ok := colour.Parse(s[i+1:]); ok {
			pl.Colour, size = c, s[:i]
		}
	}
	c, err := copper.Parse(size)
	if err != nil && s != "" {
		r.Report(n.wrong(finding.BadConductor, "%v", err).WithHint(finding.Do("write SIZE COLOUR, the size in mm2 or AWG")))
	}
	pl.Copper = c
}

// newPart declares a part in a place; the tag of a strip or bar is PLACE/NAME.
func (r *plantReader) newPart(key node, pl *model.Place, kind *model.Kind, within bool) *model.Part {
	tag := key.Value
	if within {
		tag = pl.Tag + "/" + tag
	}
	if !r.declare(key, tag) {
		return nil
	}
	p := &model.Part{Pos: key.pos(), Tag: tag, Kind: kind, Place: pl, Status: pl.Status, Through: map[*model.Terminal]*model.Terminal{}, TerminalByName: map[string]*model.Terminal{}}
	r.plant.PartByTag[tag] = p
	pl.Parts = append(pl.Parts, p)
	return p
}

// writtenCard is a card whose channels are not made yet.
type writtenCard struct {
	*model.Part
	power, terminals, common, minus *node
	typed, off, on, leads, lift     *node
	loss                            *node
	wires                           int
}

const leastWires, mostWires = 2, 4

var cardFields = fields[*writtenCard]{
	{"kind", aWord(model.KindNames(model.CardKinds)...), asked, "`AI`, `AO`, `DI`, `DO`, `RTD`, `TC`, `PI` (pulse), `proximity`, `displacement` (monitor of probes; terminals `1+` for their common, `1-` for -24 V with `power: card`, `1Q` for the signal), `bus` (port of a powered bus), `serial` (port of a serial link), `multidrop` (port of a multidrop line)", "AI", func(r *plantReader, c *writtenCard, n node) {
		c.Kind = model.KindNamed(model.CardKinds, r.oneOf(n, model.KindNames(model.CardKinds)...))
	}, func(w *writer, c *writtenCard) { w.text(c.Kind.Name) }},
	{"channels", aCount(1, mostChannels), asked, "how many", "16", func(r *plantReader, c *writtenCard, n node) { c.Card.Channels = r.whole(n, 1, mostChannels) }, func(w *writer, c *writtenCard) { w.count(c.Card.Channels) }},
	{"power", aWord(powerWords...), "required for AI, DI, DO, PI, displacement", "`card`: the card drives the circuit; `loop`: it does not. Of AO `card` goes without saying; with `loop` its outputs only hold the current that a supply drives (passive outputs). Of other kinds the kind tells", "card", func(r *plantReader, c *writtenCard, n node) {
		c.power, c.Card.Powers = &n, r.oneOf(n, powerWords...) == "card"
	}, func(w *writer, c *writtenCard) { w.text(powerWord(c.Card.Powers)) }},
	{"address", aText, "NOT GIVEN", "address in the system", "node 2 slot 3", func(r *plantReader, c *writtenCard, n node) { c.Card.Address = r.text(n) }, func(w *writer, c *writtenCard) { w.text(c.Card.Address) }},
	{"terminals", listOf(aText).called("names"), "`1+ 1- 2+ 2-` …", "real terminal names, channel by channel", "1..32", func(r *plantReader, c *writtenCard, n node) { c.terminals = &n }, func(w *writer, c *writtenCard) {
		w.names(c.Terminals[:min(len(c.Terminals), c.Card.Channels*c.Card.Terminals)]) // the common has a key of its own
	}},
	{"common", listOf(aCommon).called("names"), "each channel has its own `-`", "name of a terminal that all channels share for their `-`, or several with their channels; a `+` behind it where they share that; it takes a feed, as `PS-21 - to DI-2-01 M`, unless the card drives its channels and so feeds it itself; no circuit lands there but common cores of such a card", "[C1 1..8, C2 9..16 +]", func(r *plantReader, c *writtenCard, n node) { c.common = &n }, func(w *writer, c *writtenCard) { w.texts(commonTexts(c.Card)) }},
	{"wires", aCount(leastWires, mostWires), "`3`", "leads of an RTD card: 2, 3 or 4; others have what their kind has", "3", func(r *plantReader, c *writtenCard, n node) { c.leads, c.wires = &n, r.whole(n, leastWires, mostWires) }, func(w *writer, c *writtenCard) { w.count(c.Card.Terminals) }},
	{"volts", biased, "NOT GIVEN", "supply voltage of a channel with `power: card`; may change with current: `[25 V at 4 mA, 18 V at 22 mA]`", "24 V", func(r *plantReader, c *writtenCard, n node) { c.Card.Volts = r.biases(n, r.volts) }, func(w *writer, c *writtenCard) { w.curve(c.Card.Volts) }},
	{"least volts", biased, "by `supply tolerance`", "the least of `volts`: used for voltage margins and the lowest readings", "22.5 V", func(r *plantReader, c *writtenCard, n node) { c.Card.Least = r.biases(n, r.volts) }, func(w *writer, c *writtenCard) { w.curve(c.Card.Least) }},
	{"highest volts", biased, "by `supply tolerance`", "the highest of `volts`: used for what a barrier or an output has to bear, and the highest readings", "26 V", func(r *plantReader, c *writtenCard, n node) { c.Card.Highest = r.biases(n, r.volts) }, func(w *writer, c *writtenCard) { w.curve(c.Card.Highest) }},
	{"limit", inMilliamps, "", "largest current of a channel", "25 mA", func(r *plantReader, c *writtenCard, n node) { c.Card.Limit = r.milliamps(n) }, func(w *writer, c *writtenCard) { w.given(c.Card.Limit, "mA") }},
	{"draws", inMilliamps, "not counted", "what the card itself takes from `supply`, without its channels", "150 mA", func(r *plantReader, c *writtenCard, n node) { c.Card.Draws = r.milliamps(n) }, func(w *writer, c *writtenCard) { w.given(c.Card.Draws, "mA") }},
	{"ohms", inOhms, "NOT GIVEN", "input resistance", "250 ohm", func(r *plantReader, c *writtenCard, n node) { c.Card.Ohms = r.ohms(n) }, func(w *writer, c *writtenCard) { w.given(c.Card.Ohms, "Ω") }},
	{"drive", aDrive, "NOT GIVEN", "what an output can drive, as ohms or as `18.5 V at 21 mA`", "750 ohm", func(r *plantReader, c *writtenCard, n node) { c.Card.MaxLoad, c.Card.Compliance = r.drive(n) }, func(w *writer, c *writtenCard) { w.drive(c.Card.MaxLoad, c.Card.Compliance) }},
	{"lift-off", biased, "NOT GIVEN", "of an AO card with `power: loop`: least voltage at a channel; may change with current", "7 V", func(r *plantReader, c *writtenCard, n node) {
		c.lift, c.Card.LiftOff = &n, r.biases(n, r.volts)
	}, func(w *writer, c *writtenCard) { w.curve(c.Card.LiftOff) }},
	{"least load", inOhms, "", "minimum load of an output", "350 ohm", func(r *plantReader, c *writtenCard, n node) { c.Card.MinLoad = r.ohms(n) }, func(w *writer, c *writtenCard) { w.given(c.Card.MinLoad, "Ω") }},
	{"input type", aCount(1, model.MostInputType), "not checked", "of a DI: 1, 2 or 3 after IEC 61131-2, which gives `off below` and `on above` at 24 and 48 V DC, 100 to 120 and 200 to 240 V AC (type 1 alone at 48 V DC; most currents, and the volts of type 2 and of 48 V, are from memory)", "1", func(r *plantReader, c *writtenCard, n node) {
		c.typed, c.Card.Type = &n, r.whole(n, 1, model.MostInputType)
	}, func(w *writer, c *writtenCard) { w.count(c.Card.Type) }},
	{"off below", aBound, "by `input type`; of proximity cards `1.2 mA`", "what a DI or a proximity card is sure to read as 0: volts, or less current than so much whatever the volts", "5 V at 1 mA", func(r *plantReader, c *writtenCard, n node) { c.off, c.Card.Levels.Off = &n, r.bound(n) }, func(w *writer, c *writtenCard) { w.text(c.Card.Levels.Off.Bound()) }},
	{"on above", aBound, "by `input type`; of proximity cards `2.1 mA`", "what it is sure to read as 1: volts and current", "15 V at 2.5 mA", func(r *plantReader, c *writtenCard, n node) { c.on, c.Card.Levels.On = &n, r.bound(n) }, func(w *writer, c *writtenCard) { w.text(c.Card.Levels.On.Bound()) }},
	{"lead limit", inOhms, "not checked", "the most ohms of two leads together that an input for resistance sensors or thermocouples measures through", "40 ohm", func(r *plantReader, c *writtenCard, n node) { c.Card.Leads = r.ohms(n) }, func(w *writer, c *writtenCard) { w.given(c.Card.Leads, "Ω") }},
	{"ranges", channelRanges().listed(), "", "what channels are set up for; compared with the device", "{5: 0..450 m3/h}", func(r *plantReader, c *writtenCard, n node) { r.channelRanges(n, c.Part) }, func(w *writer, c *writtenCard) { w.ranges(c.Card.Ranges) }},
	{"supply", aText, "NOT GIVEN", "what feeds the card: a DC supply, or a strip and its fed terminal; channels with `power: card` then count on it and on its fuse", "X5 F3", func(r *plantReader, c *writtenCard, n node) {
		p := c.Part
		r.later = append(r.later, func() {
			if t := r.cardSupply(n, p); t != nil {
				p.Card.From, t.Cards = t, append(t.Cards, p)
			}
		})
	}, func(w *writer, c *writtenCard) {
		if c.Card.From != nil {
			w.text(c.Card.From.Tag())
		}
	}},
	{"minus", aWord(model.MinusWords...), "NOT GIVEN", "what the `-` of its channels, or their last lead, is joined to in the card: `own` nothing (channels isolated from each other and all else), `shared` that of the other channels alone, `supply` that and the `-` of its supply, `earth` that and the earth of its place", "own", func(r *plantReader, c *writtenCard, n node) { c.minus = &n }, func(w *writer, c *writtenCard) { w.text(c.Card.Minus.String()) }},
	{"on link loss", aText, "NOT GIVEN", "of an output card of remote I/O: what its outputs do when no link leads to their controller any more", "hold the last value", func(r *plantReader, c *writtenCard, n node) { c.loss, c.Card.OnLoss = &n, r.text(n) }, func(w *writer, c *writtenCard) { w.text(c.Card.OnLoss) }},
	{"status", aStatus, "the place's", "`new`, `existing` or `future`", "", func(r *plantReader, c *writtenCard, n node) { c.Status = r.status(n) }, func(w *writer, c *writtenCard) { w.text(c.Status.String()) }},
}

var powerWords = []string{"card", "loop"}

// powerWord says who drives a circuit: the card, or something in the loop.
func powerWord(card bool) string { return powerWords[slices.Index([]bool{true, false}, card)] }

func channelRanges() *shape {
	s := named(aRange).called("by channel")
	s.Names = &shape{Pattern: `^\+?0*[1-9][0-9]*$`}
	return s
}

func (r *plantReader) cards(n node, pl *model.Place) {
	r.cardsOf(n, "card", cardFields, func(key node) *model.Part {
		p := r.newPart(key, pl, nil, false)
		if p != nil {
			p.Card = &model.Card{}
		}
		return p
	})
}

// cardsOf reads cards, or the inputs or outputs of a device that serve a circuit as a channel
// of a card does.
func (r *plantReader) cardsOf(n node, what string, fs fields[*writtenCard], made func(key node) *model.Part) {
	for key, value := range r.entries(n, what) {
		p := made(key)
		if p == nil {
			continue
		}
		p.Card.Powers = true
		c := writtenCard{Part: p}
		fs.read(r, value, "", &c)
		for _, b := range slices.Concat(p.Card.Volts, p.Card.Least, p.Card.Highest) {
			volts, _ := p.Card.Volts.At(b.MA)
			low, _ := p.Card.Least.At(b.MA)
			high, _ := p.Card.Highest.At(b.MA)
			if !r.ordered(key, low, volts, high) {
				break
			}
		}
		if p.Kind == nil {
			p.Kind = model.UnknownKind
			continue
		}
		switch asks := p.Kind.MayPower; {
		case asks && c.power == nil:
			r.Report(key.wrong(finding.MissingKey, `card %s lacks the key "power"`, finding.Quote(p.Tag)).WithHint(finding.Do("add power: card or power: loop")))
		case !asks:
			r.ownPower(c)
		}
		r.inputLevels(c)
		r.outputLimits(c)
		r.later = append(r.later, func() { r.onLoss(c) })
		roles := p.Kind.Groups[0].Roles
		if strings.HasSuffix(roles, "Q") && !p.Card.Powers {
			roles = strings.Replace(roles, "-", "", 1) // it feeds nothing
		}
		switch {
		case c.wires > 0 && p.Kind.Signal == model.Resistance:
			roles = map[int]string{2: "AB", 3: "ABB", 4: "AABB"}[c.wires]
		case c.wires > 0 && c.wires != len(roles):
			r.Report(c.leads.wrong(finding.AgainstKind, "a channel of kind %s has %d terminals, not %d", p.Kind.Name, len(roles), c.wires))
		}
		r.finishCard(c, roles)
	}
}

// finishCard makes the terminals of a card of which a channel has these roles, and its
// commons.
func (r *plantReader) finishCard(c writtenCard, roles string) {
	p := c.Part
	commons := r.commons(c, roles)
	if c.minus != nil {
		if pick(r, *c.minus, &p.Card.Minus, model.MinusWords); len(commons) > 0 && p.Card.Minus == model.OwnMinus {
			r.Report(c.minus.wrong(finding.AgainstKind, "the channels of %s share terminal %s as their -: none has its own", p.Tag, commons[0].Name).
				WithAlso(c.common.pos(), "the terminal that they share").WithHint(finding.Write(model.SharedMinus.String())))
			p.Card.Minus = 0
		}
	}
	if len(commons) > 0 {
		roles = "+"
	}
	p.Card.Terminals = len(roles)
	r.channels(p, roles, c.terminals)
	for _, common := range commons {
		if p.Kind == model.UnknownKind {
			return
		}
		for n := common.First; n <= common.Last && common.Role == '+'; n++ {
			p.Channel(n)[0].Role = '-'
		}
		if !p.AddTerminal(common.Terminal) {
			r.Report(c.common.wrong(finding.TerminalTwice, "card %s has terminal %s twice", finding.Quote(p.Tag), common.Name))
			p.Card.Commons, p.Kind = nil, model.UnknownKind // no circuit can land on it
			return
		}
		p.Card.Commons = append(p.Card.Commons, common)
	}
}

// bound reads "5 V at 1 mA", "5 V" or "1.2 mA".
func (r *plantReader) bound(n node) (b model.VoltsAt) {
	if strings.Contains(n.Value, " at ") {
		if all := r.biases(n, r.volts); len(all) == 1 {
			b = all[0]
		}
		return b
	}
	v, unit := r.quantity(n, slices.Concat(voltUnits, currentUnits)...)
	if v = r.something(n, v, unit); unit == "V" {
		return model.VoltsAt{Volts: v, AC: strings.HasSuffix(strings.TrimSpace(n.Value), "AC")}
	}
	b.MA, _ = model.Convert(v, unit, "mA")
	return b
}

// ownPower is whether a card drives its circuits where its kind tells, and reports where the
// text says otherwise.
func (r *plantReader) ownPower(c writtenCard) {
	if c.Kind.MayHold {
		return
	}
	said := c.Card.Powers
	c.Card.Powers = c.Kind.Groups[0].Nature == model.Source
	if c.power == nil || said == c.Card.Powers {
		return
	}
	if said {
		r.Report(c.power.wrong(finding.UnusedFact, "power of %s not used: a card of kind %s measures, whatever it drives for that", c.Tag, c.Kind.Name))
		return
	}
	r.Report(c.power.wrong(finding.AgainstKind, "a card of kind %s drives its circuits itself", c.Kind.Name).WithHint(finding.Write(powerWord(true))))
}

// inputLevels reports levels on a card that has no use for them, and those that cannot be.
func (r *plantReader) inputLevels(c writtenCard) {
	for _, n := range []*node{c.typed, c.off, c.on} {
		if n == nil || c.Kind.Signal == model.ContactIn || c.Kind.Signal == model.Proximity && n != c.typed {
			continue
		}
		r.Report(n.wrong(finding.UnusedFact, "%s of %s not used: a card of kind %s switches nothing at such levels", n.what, c.Tag, c.Kind.Name))
	}
	off, on := c.Card.Levels.Off, c.Card.Levels.On
	if on.Volts > 0 && off.Volts >= on.Volts || on.MA > 0 && off.MA >= on.MA {
		r.Report(c.on.wrong(finding.BadOrder, "on above is %s; must be above %s (off below)", on.Bound(), off.Bound()).WithAlso(c.off.pos(), "off below"))
	}
}

// outputLimits reports limits of an output of the other make: of one that drives its current,
// and of one that only holds it.
func (r *plantReader) outputLimits(c writtenCard) {
	switch {
	case c.lift != nil && !c.HoldsCurrent():
		r.Report(c.lift.wrong(finding.UnusedFact, "lift-off of %s not used: only outputs with power: loop need a voltage", c.Tag))
	case c.HoldsCurrent() && (c.Card.MaxLoad > 0 || c.Card.Compliance.Volts > 0 || c.Card.MinLoad > 0):
		r.Report(c.power.wrong(finding.UnusedFact, "drive and least load of %s not used: its outputs drive nothing", c.Tag).WithHint(finding.Do("give its lift-off")))
	}
}

// onLoss reports what a card is said to do where it has no outputs, or no link to lose.
func (r *plantReader) onLoss(c writtenCard) {
	switch {
	case c.loss == nil:
	case !c.MayHoldOnLoss():
		r.Report(c.loss.wrong(finding.UnusedFact, "on link loss of %s not used: it has no outputs", c.Tag))
	case c.Place.Controller == nil:
		r.Report(c.loss.wrong(finding.UnusedFact, "on link loss of %s not used: %s is no remote I/O", c.Tag, c.Place.Tag).WithHint(finding.Do("give the controller of %s, or take the key out", c.Place.Tag)))
	}
}

// cardSupply reads what feeds a card: "PS-21", or a strip and its terminal. Of a
// supply it is the pole that drives.
func (r *plantReader) cardSupply(n node, card *model.Part) *model.Terminal {
	ws := r.words(n)
	if len(ws) == 0 {
		return nil
	}
	part := r.plant.PartByTag[ws[0].Text]
	if part == nil {
		part = r.plant.PartByTag[card.Place.Tag+"/"+ws[0].Text]
	}
	switch {
	case part == nil:
		r.Report(ws[0].Wrong(finding.UnknownTag, "nothing is tagged %s", ws[0].Text).WithHint(bind.TagLists(r.plant).Source(ws[0].Text, card.Place)))
	case len(ws) == 1 && part.Supply != nil:
		for _, t := range part.Terminals {
			if t.Live() || t.Role == 'L' {
				return t
			}
		}
	case len(ws) != 2 || part.Strip == nil:
		r.Report(n.wrong(finding.BadFeed, "supply %s of card %s not understood", finding.Quote(n.Value), card.Tag).WithHint(finding.Do("write SUPPLY, or STRIP TERMINAL")))
	default:
		t := part.TerminalByName[ws[1].Text]
		if t == nil {
			r.noTerminal(part, ws[1], ws[1].Text)
		}
		return t
	}
	return nil
}

// channels gives a card its terminals: the named ones in order of channel and
// role, or else 1+ 1- 2+ 2- and so on, 1 2 3 with a common.
func (r *plantReader) channels(p *model.Part, roles string, names *node) {
	var given []string
	if names != nil {
		for _, item := range r.list(*names, "terminals") {
			for _, w := range r.words(item) {
				more, ok := bind.Expand(w.Text, nil)
				if !ok {
					r.Report(w.Wrong(finding.BadTerminals, "%s is not a span of terminals", finding.Quote(w.Text)).WithHint(useSpan))
					return
				}
				if !r.ends(w.Pos, len(more)) {
					return
				}
				given = append(given, more...)
			}
		}
		if want := p.Card.Channels * len(roles); len(given) != want && want > 0 {
			r.Report(names.wrong(finding.TerminalsMismatch, "terminals named: %d, for %d channels of %d", len(given), p.Card.Channels, len(roles)))
			given = nil
		}
	}
	if !r.ends(p.Pos, p.Card.Channels*len(roles)) {
		p.Kind = model.UnknownKind // no circuit can land on it
		return
	}
	for ch := 1; ch <= p.Card.Channels; ch++ {
		for i, role := range []byte(roles) {
			name := fmt.Sprintf("%d%c", ch, role)
			if p.Of != nil {
				name = string(role)
			}
			if roles == "+" {
				name = model.Itoa(ch)
			} else if strings.Count(roles, string(role)) > 1 {
				name += model.Itoa(strings.Count(roles[:i+1], string(role)))
			}
			if given != nil {
				name = given[(ch-1)*len(roles)+i]
			}
			if !p.AddTerminal(&model.Terminal{Name: name, Role: model.Marking(role)}) {
				r.Report(names.wrong(finding.TerminalTwice, "card %s has terminal %s twice", finding.Quote(p.Tag), name))
				p.Kind = model.UnknownKind // no circuit can land on it
				return
			}
		}
	}
}

// drive reads what an output can drive: "750 ohm", or "18.5 V at 21 mA".
func (r *plantReader) drive(n node) (load float64, compliance model.VoltsAt) {
	if !strings.Contains(n.Value, " at ") {
		return r.ohms(n), compliance
	}
	if b := r.biases(n, r.volts); len(b) == 1 {
		compliance = b[0]
	}
	return 0, compliance
}

// channelRanges reads {5: 0..450 m3/h}: what each channel is set up for.
func (r *plantReader) channelRanges(n node, p *model.Part) {
	p.Card.Ranges, p.Card.RangePos = map[int]model.Range{}, map[int]finding.Pos{}
	for key, value := range r.entries(n, "channel") {
		ch, err := strconv.Atoi(key.Value)
		if err != nil || ch < 1 {
			r.Report(key.wrong(finding.UnknownChannel, "%s is not a channel", finding.Quote(key.Value)))
			continue
		}
		p.Card.Ranges[ch], p.Card.RangePos[ch] = r.rangeOf(value), value.pos()
	}
}

// writtenPart is a barrier, isolator or supply whose terminals are not made yet.
type writtenPart struct {
	*model.Part
	names []bind.Token
}

var supplyUnits = units{{"V DC", "DC"}, {"V AC", "AC"}}

var supplyFields = fields[*writtenPart]{
	{"volts", supplyUnits.shape("V"), asked, "`24 V DC`, `230 V AC`, or `-24 V DC` for one below common", "", func(r *plantReader, s *writtenPart, n node) {
		v, u := r.quantity(n, supplyUnits...)
		s.Supply.AC, s.Supply.Below = u == "AC", v < 0 && u == "DC"
		if s.Supply.Below {
			v = -v
		}
		s.Supply.Volts = r.something(n, v, u)
		s.Supply.Text = strings.Replace(n.Value, "-", "−", 1)
	}, func(w *writer, s *writtenPart) { w.text(s.Supply.Text) }},
	{"least volts", inVolts, "by `supply tolerance`", "minimum voltage, used for margins and the lowest readings", "23.5 V", func(r *plantReader, s *writtenPart, n node) { s.Supply.MinVolts = r.volts(n) }, func(w *writer, s *writtenPart) { w.given(s.Supply.MinVolts, "V") }},
	{"highest volts", inVolts, "by `supply tolerance`", "used for what a barrier or an output has to bear, and the highest readings", "25 V", func(r *plantReader, s *writtenPart, n node) { s.Supply.Highest = r.volts(n) }, func(w *writer, s *writtenPart) { w.given(s.Supply.Highest, "V") }},
	{"limit", inMilliamps.called("A"), "not checked", "largest current", "10 A", func(r *plantReader, s *writtenPart, n node) { s.Supply.Limit = r.milliamps(n) }, func(w *writer, s *writtenPart) { w.given(s.Supply.Limit, "mA") }},
	{"ohms", inOhms, "none", "of a supply of a powered bus or multidrop line: what it has between its volts and the pair", "2 ohm", func(r *plantReader, s *writtenPart, n node) { s.Supply.Ohms = r.ohms(n) }, func(w *writer, s *writtenPart) { w.given(s.Supply.Ohms, "Ω") }},
	{"terminals", someNames, "`+ -`; `L N PE`; of `-24 V DC` `0V -24V`", "the names on it", "", func(r *plantReader, s *writtenPart, n node) { s.names = r.words(n) }, func(w *writer, p *writtenPart) { w.names(p.Terminals) }},
	{"circuit", aText, "NOT GIVEN", "upstream circuit", "DB-2 way 7", func(r *plantReader, s *writtenPart, n node) { s.Supply.Circuit = r.text(n) }, func(w *writer, s *writtenPart) { w.text(s.Supply.Circuit) }},
	{"fuse", aText, "NOT GIVEN", "upstream fuse or breaker, as `10 A`, or as it is marked", "C10", func(r *plantReader, s *writtenPart, n node) { s.Supply.Fuse = r.fuse(n, r.text(n)) }, func(w *writer, s *writtenPart) { w.text(s.Supply.Fuse.Text) }},
	{"earth", aName, "NOT GIVEN", "earth bar of its place that its earthed pole is on; `none` where neither of its poles is on earth, whatever the practice says of others", "IE", func(r *plantReader, s *writtenPart, n node) {
		part, place := s.Part, s.Place
		name := r.text(n)
		if part.Supply.Floats = name == "none"; !part.Supply.Floats && name != "" {
			r.later = append(r.later, func() { part.Supply.Earth = r.earthBar(n, place, name) })
		}
	}, func(w *writer, s *writtenPart) { w.supplyEarth(s.Supply) }},
	{"status", aStatus, "the place's", "`new`, `existing` or `future`", "", func(r *plantReader, s *writtenPart, n node) { s.Status = r.status(n) }, func(w *writer, s *writtenPart) { w.text(s.Status.String()) }},
}

func (r *plantReader) supplies(n node, pl *model.Place) {
	for key, value := range r.entries(n, "supply") {
		p := r.newPart(key, pl, model.SupplyDC, false)
		if p == nil {
			continue
		}
		p.Supply = &model.Supply{}
		s := writtenPart{Part: p}
		supplyFields.read(r, value, "", &s)
		r.ordered(key, p.Supply.MinVolts, p.Supply.Volts, p.Supply.Highest)
		names := s.names
		if p.Supply.AC {
			p.Kind = model.SupplyAC
		}
		roles := p.Kind.Groups[0].Roles
		if names == nil {
			for _, role := range []byte(roles) {
				names = append(names, bind.Token{Text: strings.Replace(string(role), "E", "PE", 1)})
			}
			if p.Supply.Below {
				names = []bind.Token{{Text: "0V"}, {Text: "-" + model.Plain(p.Supply.Volts) + "V"}}
			}
		}
		if len(names) != len(roles) {
			r.Report(key.wrong(finding.TerminalsMismatch, "supply %s has %d terminals, not %d", finding.Quote(p.Tag), len(roles), len(names)))
			continue
		}
		for i, w := range names {
			if !p.AddTerminal(&model.Terminal{Name: w.Text, Role: model.Marking(roles[i]), Bar: true}) {
				r.Report(w.Wrong(finding.TerminalTwice, "%s has terminal %s already", p.Tag, w.Text))
			}
		}
	}
}

// ordered reports a least above the volts of a part or a highest below them; 0 is not
// given.
func (r *plantReader) ordered(key node, low, volts, high float64) bool {
	if volts == 0 || low <= volts && (high == 0 || high >= volts) {
		return true
	}
	r.Report(key.wrong(finding.VoltsOrder, "%s has least volts above its volts, or highest volts below them", finding.Quote(key.Value)))
	return false
}

// useFeed is a hint for a feed that cannot be read.
var useFeed = finding.Do("write SUPPLY TERMINAL to STRIP TERMINAL, or to a card and its common; or from the common of a card that powers its channels to a strip; a colour may follow, then over LENGTH of SIZE")

// feeds reads fixed wires from a supply to a strip: "PS-21 + to X5 F1", or to the
// common of a card, or from the common of a card that powers its channels to a strip,
// with a colour behind it where that is not the colour of the place's wires. A
// protective conductor is green-and-yellow; of mains wires no colour is taken
// for granted.
func (r *plantReader) feeds(n node, pl *model.Place) {
	for _, item := range r.list(n, "feed") {
		ws := r.words(item)
		var look colour.Colour
		var over []bind.Token
		if i := slices.IndexFunc(ws, func(w bind.Token) bool { return w.Text == "over" }); i > 0 {
			ws, over = ws[:i], ws[i+1:]
		}
		if len(ws) == 6 {
			c, ok := colour.Parse(ws[5].Text)
			if !ok {
				r.Report(ws[5].Wrong(finding.UnknownColour, "%s is not a colour", finding.Quote(ws[5].Text)).WithHint(bind.UseColours))
			}
			look, ws = c, ws[:5]
		}
		if len(ws) != 5 || ws[2].Text != "to" {
			if len(ws) > 0 {
				r.Report(item.wrong(finding.BadFeed, "feed %s not understood", finding.Quote(item.Value)).WithHint(useFeed))
			}
			continue
		}
		find := func(ref, name bind.Token, near func(string, *model.Place) finding.Hint) *model.Terminal {
			part := r.plant.PartByTag[ref.Text]
			if part == nil {
				part = r.plant.PartByTag[pl.Tag+"/"+ref.Text]
			}
			if part == nil {
				r.Report(ref.Wrong(finding.UnknownTag, "nothing is tagged %s", ref.Text).WithHint(near(ref.Text, pl)))
				return nil
			}
			t := part.TerminalByName[name.Text]
			if t == nil {
				r.noTerminal(part, name, name.Text)
			}
			return t
		}
		tags := bind.TagLists(r.plant)
		from, to := find(ws[0], ws[1], tags.Source), find(ws[3], ws[4], tags.Fed)
		if from == nil || to == nil {
			continue
		}
		common := to.CommonAt() != nil
		if !from.GivesFeed() || to.Part.Strip == nil && !common {
			r.Report(item.wrong(finding.BadFeed, "feed %s does not run from a supply, or the common of a card that powers its channels, to a strip or the common of a card", finding.Quote(item.Value)).WithHint(useFeed))
			continue
		}
		if common && from.Role != to.Role && from.Role != 'N' {
			r.Report(item.wrong(finding.ReversedPolarity, "%s is the %c of its channels, %s is not", to.Tag(), to.Role, from.Tag()))
			continue
		}
		if to.Fed != nil && to.Fed.Supply != from {
			r.Report(item.wrong(finding.JoinedSupplies, "%s is fed from %s already", to.Tag(), to.Fed.Supply.Tag()).WithAlso(to.Fed.Pos, "fed here"))
			continue
		}
		f := &model.Feed{Pos: item.pos(), Supply: from, To: to}
		if over != nil {
			r.over(f, item, over)
		}
		f.Wire = &model.Conductor{Pos: item.pos(), Kind: model.WireRun, From: model.End{Terminal: from, Side: model.FieldSide}, To: model.End{Terminal: to, Side: model.SystemSide}, Role: from.Role, Place: pl, Status: pl.Status, Colour: feedColour(from, pl, look), Feed: f}
		r.add(f.Wire)
		f.Reach()
	}
}

// add files a conductor; see binder.
func (r *plantReader) add(w *model.Conductor) { (&bind.Binder{Log: &r.Log, Plant: r.plant}).Add(w) }

// feedColour is the colour of a feed: the given one, or what goes without
// saying.
func feedColour(from *model.Terminal, pl *model.Place, given colour.Colour) colour.Colour {
	switch {
	case given != colour.Colour{}:
		return given
	case from.Role == 'E':
		return colour.Colour{Base: colour.GreenYellow}
	case from.Part.Supply != nil && from.Part.Supply.AC:
		return colour.Colour{}
	}
	return pl.Colour
}
