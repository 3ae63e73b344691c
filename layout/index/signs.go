package index

import (
	"cmp"
	"slices"

	"ringout/fonts"
	"ringout/layout/enclosure"
	"ringout/layout/loop"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// sign is a mark of the drawings with its meaning.
type sign struct {
	words string
	items []render.Item
}

// symbolCollector collects the signs that the loop, box and cabinet diagrams of a plant
// use.
type symbolCollector struct {
	pl    *sheet.Plan
	signs []sign
}

// add takes a sign once; nothing for nil.
func (g *symbolCollector) add(words string, items ...render.Item) {
	if len(items) > 0 && !g.has(words) {
		g.signs = append(g.signs, sign{words, items})
	}
}

func (g *symbolCollector) has(words string) bool {
	return slices.ContainsFunc(g.signs, func(s sign) bool { return s.words == words })
}

func (g *symbolCollector) symbol(words string, s symbol.Symbol) { g.add(words, s.Items...) }

// signs are those in use, in the order of the drawing: devices and what they
// meet, terminals, wires.
func signs(pl *sheet.Plan) []sign {
	g := &symbolCollector{pl: pl}
	var all []*model.Circuit
	for _, l := range pl.Plant.Loops {
		for _, c := range l.Circuits {
			if !c.Broken && len(c.Path.Stations) > 0 {
				all = append(all, c)
			}
		}
	}
	g.bubbles(all)
	for _, c := range all {
		g.inside(c)
	}
	for _, c := range all {
		g.process(c)
	}
	g.through(all)
	g.terminals()
	g.wires(all)
	g.marks()
	for _, l := range pl.Plant.Loops {
		for _, t := range wording.Ties(pl.Plant)[l] {
			leaves := t.Leaves(l)
			g.add(tieWords[leaves], loop.Pentagon(paper.Rect(0, 0, tieWide, loop.TieTall), leaves))
		}
	}
	return g.signs
}

// tieWide is how long a flag is in the legend.
const tieWide = 15 * render.MM

// tieWords are what a flag means, by whether its signal leaves the loop.
var tieWords = map[bool]string{true: "signal to another loop, and its sheet", false: "signal from another loop, and its sheet"}

// bubbleWords are what the mountings mean.
var bubbleWords = []struct {
	mount       symbol.Mount
	tag, number string
	words       string
}{
	symbol.Field:       {symbol.Field, "FT", "1042", "device in the field"},
	symbol.Panel:       {symbol.Panel, "FI", "1042", "instrument on a panel"},
	symbol.Behind:      {symbol.Behind, "FY", "1042B", "instrument inside a cabinet"},
	symbol.Local:       {symbol.Local, "HS", "1042", "instrument on a local panel"},
	symbol.BehindLocal: {symbol.BehindLocal, "HY", "1042", "instrument behind a local panel"},
	symbol.Shared:      {symbol.Shared, "FIC", "1042", "function of the system"},
}

func (g *symbolCollector) bubbles(all []*model.Circuit) {
	used := map[symbol.Mount]bool{}
	for _, c := range all {
		first := loop.Device(c)
		for _, st := range c.Stations() {
			p := st.Part
			through := slices.ContainsFunc(st.Terminations, func(s model.Termination) bool { return s.Does == model.Lands && s.In != s.Out })
			if p.Device != nil && (p == first || through) {
				used[loop.MountOf(p)] = true
			}
		}
		used[symbol.Shared] = used[symbol.Shared] || len(c.Loop.Functions) > 0
	}
	for _, b := range bubbleWords {
		if used[b.mount] {
			s, _ := symbol.Bubble(b.mount, b.tag, b.number, symbol.BubbleWide)
			g.symbol(b.words, s)
		}
	}
}

// marks are the signs of what functions compute.
func (g *symbolCollector) marks() {
	bubble, _ := symbol.Bubble(symbol.Shared, "FY", "1042", symbol.BubbleWide)
	for _, l := range g.pl.Plant.Loops {
		for _, f := range l.Functions {
			if mark := f.Kind.Mark(); mark != "" {
				g.symbol("function: "+g.pl.Plant.Say(f.Kind.Words()), symbol.Marked(bubble, mark))
			}
		}
	}
}

// insideWords are what a device has between its terminals.
var insideWords = [...]string{
	model.NoElement: "", model.ContactElement: "contact, open at rest", model.CoilElement: "coil: solenoid, relay, converter, positioner",
	model.ResistorElement: "resistance thermometer", model.JunctionElement: "thermocouple", model.ProximityElement: "proximity switch",
	model.ChangeoverElement: "changeover contact, at rest", model.OutputElement: "current source of a three-wire transmitter",
}

// inside is what the device of a circuit has between its terminals, as its loop
// diagram draws it.
func (g *symbolCollector) inside(c *model.Circuit) {
	p := loop.Device(c)
	if p == nil {
		return
	}
	st := loop.Begins(c)
	words := insideWords[st.Element()]
	if c.Signal == model.Displacement {
		words = "voltage source: driver of a probe"
	}
	if st.Element() == model.ContactElement && st.ClosedAtRest() {
		words = "contact, closed at rest"
	}
	if words == "" || g.has(words) {
		return
	}
	var rows []render.Len
	for i := range c.Legs {
		rows = append(rows, render.Len(i)*loop.PitchOf(g.pl, c))
	}
	g.add(words, loop.Drawn(func(b symbol.Brush) { loop.Inside(b, st, rows, 0) })...)
}

// process is how the device of a circuit meets the process.
func (g *symbolCollector) process(c *model.Circuit) {
	p := loop.Device(c)
	if p == nil || p.Place != nil {
		return
	}
	if v := p.Device.Actuates; v != nil && loop.Begins(c).Element() != model.ContactElement {
		words := valveWords[v.Kind.Actuator]
		if v.Device.Fail == model.Locked {
			words += ", fails locked"
		} else if v.Device.Fail != 0 {
			words += ", fails " + v.Device.Fail.String()
		}
		g.symbol(words, symbol.Valve(loop.Actuators[v.Kind.Actuator], sheet.FailMarks[v.Device.Fail]))
		if p.Device.Air.Given() {
			g.symbol("air supply", symbol.AirSupply())
		}
		return
	}
	if s, ok := loop.Connection(p); ok {
		words := s.Name
		if words == symbol.Tapping().Name {
			words = "connection to the process"
		}
		g.symbol(words, s)
	}
}

// valveWords are valves by what moves them.
var valveWords = [...]string{model.NoActuator: "valve", model.Diaphragm: "valve", model.Piston: "on-off valve"}

// through is what legs go through besides instruments.
func (g *symbolCollector) through(all []*model.Circuit) {
	const half, tall = 3500 * render.UM, 1200 * render.UM
	box := paper.Outline(render.Existing, render.Hollow, paper.Rect(-half, -tall, 2*half, 2*tall))
	for _, c := range all {
		for _, st := range c.Stations() {
			switch {
			case st.InSeries():
				g.contact(st.ClosedAtRest())
			case st.Part.Barrier == nil:
			case st.Part.Kind.Isolates:
				g.add("galvanic isolator, one leg", box, paper.Stroke(render.Existing, 0, -tall, 0, tall))
			case st.Part.Kind.Diverts:
				g.add(g.pl.Plant.Say("surge protector, one leg: its resistance, and the way of surges to earth"), slices.Concat([]render.Item{box},
					loop.Drawn(func(b symbol.Brush) { loop.ToEarth(b, 0, tall, tall+2800*render.UM) }))...)
			default:
				g.add("barrier, one leg: its resistance", box)
			}
		}
	}
}

// contact is one in a leg, by whether it is closed at rest.
func (g *symbolCollector) contact(closed bool) {
	words := "contact of a device in a leg, open at rest"
	if closed {
		words = "contact of a device in a leg, closed at rest"
	}
	if !g.has(words) {
		g.add(words, loop.Drawn(func(b symbol.Brush) { loop.InLeg(b, -6*render.MM, 6*render.MM, 0, closed) })...)
	}
}

// linkWords are what terminals have between their sides.
var linkWords = []english.Text{
	symbol.Through: "terminal", symbol.Fused: "fused terminal", symbol.Knife: "disconnect terminal",
	symbol.Diode: "terminal with a diode", symbol.Earthed: "earth-foot terminal",
	symbol.Mated: "plug and receptacle", symbol.PinWest: "plug (male) to the field, receptacle to the system", symbol.PinEast: "receptacle to the field, plug (male) to the system",
}

// terminals are those of the kinds in use, jumpers, and what stands beside a
// terminal.
func (g *symbolCollector) terminals() {
	used := map[symbol.TerminalType]bool{}
	jumpers, danger, inside, safe := false, false, false, false
	for _, where := range g.pl.Plant.Places {
		for _, p := range where.Parts {
			for _, t := range p.Terminals {
				used[enclosure.LinkOf(t)] = true
			}
			jumpers = jumpers || len(p.Jumpers) > 0
		}
		danger = danger || len(g.pl.Plant.DangerousSources(where)) > 0
	}
	for link, words := range linkWords {
		if used[symbol.TerminalType(link)] {
			s, _ := symbol.Terminal(symbol.TerminalType(link), "12")
			g.symbol(g.pl.Plant.Say(words), s)
		}
	}
	if jumpers {
		g.symbol("jumpered here", symbol.Dot())
	}
	for _, w := range g.pl.Plant.Conductors {
		inside = inside || w.Core == nil && (w.From.Terminal != nil || w.To.Terminal != nil)
		safe = safe || w.IntrinsicallySafe()
	}
	g.add("tick: landed and proved", paper.Outline(render.Outline, render.Blank, paper.Rect(-enclosure.LandTick/2, -enclosure.LandTick/2, enclosure.LandTick, enclosure.LandTick)))
	if inside {
		g.add("end of internal wire", &render.Circle{Pen: render.Existing, R: enclosure.WireEnd, Fill: render.Blank})
	}
	if safe {
		t, _ := paper.TextLine(render.Point{}, paper.Letters(fonts.Bold, paper.Lettered, render.Middle), enclosure.SafeMark, enclosure.SafeRoom)
		g.add(g.pl.Plant.Say("intrinsically safe core, wire or cable"), t)
	}
	if danger {
		g.symbol("dangerous voltage", symbol.Voltage())
	}
}

// wires are what stands round, at and on the wires of circuits.
func (g *symbolCollector) wires(all []*model.Circuit) {
	var rings [2]*model.Circuit // the first with one
	var twisted *model.Circuit
	cut, earth, fed, below := false, false, false, false
	for _, c := range all {
		for _, run := range c.Runs() {
			i := 0
			if run.Screen != nil {
				i = 1
			}
			if run.Kind == model.CableRun && rings[i] == nil && len(c.Legs) > 1 {
				rings[i] = c
			}
			if run.Twisted() && twisted == nil && len(c.Legs) > 1 {
				twisted = c
			}
		}
		for _, l := range c.Legs {
			end := l.End()
			if end != nil && end.Fed != nil && end.Part.Strip != nil {
				fed, below = true, below || loop.BelowCommon(end.Fed.Supply)
			}
		}
		for _, st := range c.Stations() {
			t := st.Screen.In
			earth = earth || st.Part.Kind.Shunts || st.Part.Kind.Diverts || st.Screen.Does == model.Lands && (t.Bar || t.Bond != nil)
		}
	}
	for _, w := range g.pl.Plant.Conductors {
		cut = cut || w.Circuit != nil && (w.From.Terminal == nil || w.To.Terminal == nil)
	}
	for i, words := range []string{"cable", g.pl.Plant.Say("screen")} {
		if rings[i] != nil {
			g.add(words, loop.Drawn(func(b symbol.Brush) { loop.Ring(b, i > 0, 0, 0, loop.PitchOf(g.pl, rings[i])) })...)
		}
	}
	if twisted != nil {
		pitch := loop.PitchOf(g.pl, twisted)
		g.add("twisted together", loop.Drawn(func(b symbol.Brush) {
			loop.Twist(b, 0, 0, pitch)
			for _, y := range []render.Len{0, pitch} {
				b.Line(render.New, -5*render.MM, y, 5*render.MM, y)
			}
		})...)
	}
	if cut {
		g.add("cut back, in an insulating sleeve", loop.Drawn(func(b symbol.Brush) {
			loop.Cap(b, 0, 0, false)
			b.Line(render.Screen, 0, 0, 8*render.MM, 0)
		})...)
	}
	if earth {
		g.symbol(g.pl.Plant.Say("earth, as named"), symbol.Earth())
	}
	if fed {
		g.add("fed from the supply named beside it", paper.Stroke(render.Existing, 0, 0, 5*render.MM, 0),
			loop.FedMark(false, 5*render.MM, 0))
	}
	if below {
		g.add("fed from the pole below common of the supply beside it", paper.Stroke(render.Existing, 0, 0, 5*render.MM, 0), loop.FedMark(true, 5*render.MM, 0))
	}
	if g.pl.Issues != nil {
		g.add("revision of the cloud beside it", new(paper.Obstacles).Marked(cmp.Or(g.pl.Issues.Newest.Mark, sheet.PendingMark)).FlagAt(render.Point{})...)
	}
}
