package diff

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/read"
)

// This file tells how each key of the language is got back from what was read: the
// facts of a plant by the keys that give them. TestKeysAreFacts holds it against
// the tables of the reader: a key that is read and not told here fails.

// getter gives the value of a key as the text has it, in the unit that the plant
// keeps it in; "" where it is not given.
type getter[T any] struct {
	key string
	get func(T) string
}

// getters are those of one kind of thing.
type getters[T any] []getter[T]

// note notes all that is given of a thing.
func (gs getters[T]) note(t *Object, of T) {
	for _, g := range gs {
		t.add(g.key, g.get(of))
	}
}

// inUnit is a number with its unit; "" for 0, which is not given.
func inUnit(v float64, unit string) string {
	if v == 0 {
		return ""
	}
	return model.Plain(v) + " " + unit
}

func factor(v float64) string {
	if v == 0 {
		return ""
	}
	return model.Plain(v)
}

func countOf(n int) string {
	if n == 0 {
		return ""
	}
	return model.Itoa(n)
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return ""
}

// listed are values of a list.
func listed[T any](all []T, one func(T) string) string {
	var values []string
	for _, x := range all {
		values = append(values, one(x))
	}
	return strings.Join(values, "; ")
}

func listedTexts(all []string) string { return strings.Join(all, "; ") }

func listedBiases(b model.VoltageCurve) string { return listed(b, model.VoltsAt.Bound) }

// given are safety values, all of them: not to give one is not to give 0.
func given(e model.Entity, names string) string {
	var all []string
	for i, x := range []struct {
		v    float64
		unit string
	}{{e.U, "V"}, {e.I, "mA"}, {e.P, "mW"}, {e.C, "nF"}, {e.L, "µH"}, {e.LR, "µH/Ω"}} {
		name := [...]string{"U", "I", "P", "C", "L", "L"}[i] + names
		if i == 5 {
			name += "/R" + names
		}
		if e.Has(name) {
			all = append(all, name+" "+model.Plain(x.v)+" "+x.unit)
		}
	}
	if e.Group != "" {
		all = append(all, "group "+e.Group)
	}
	return strings.Join(all, ", ")
}

func sizeOf(c model.ConductorSize) string {
	if c == (model.ConductorSize{}) {
		return ""
	}
	return c.String()
}

func tagOf(p *model.Part) string {
	if p == nil {
		return ""
	}
	return p.Tag
}

func circuitNames(all []*model.Circuit) string {
	var names []string
	for _, c := range all {
		names = append(names, c.Name)
	}
	return strings.Join(names, " ")
}

var titleGetters = getters[*model.Plant]{
	{"plant", func(p *model.Plant) string { return p.Name }},
	{"owner", func(p *model.Plant) string { return p.Owner }},
	{"project", func(p *model.Plant) string { return p.Project }},
	{"number", func(p *model.Plant) string { return p.Number }},
	{"status", func(p *model.Plant) string { return p.Status }},
	{"drawn", func(p *model.Plant) string { return p.Drawn }},
	{"checked", func(p *model.Plant) string { return p.Checked }},
	{"approved", func(p *model.Plant) string { return p.Approved }},
}

// practice notes the values of a practice, those by default too: a default that
// changes is a fact that changes.
func (t *Object) practice(pr *model.Practice) {
	all := read.Settings(pr)
	for i := 0; i < len(all); {
		key, values := all[i].Key, []string(nil)
		for ; i < len(all) && all[i].Key == key; i++ {
			switch s := all[i]; s.Form {
			case read.Named:
				t.put(key, s.Item, s.Value)
			default:
				values = append(values, s.Value)
			}
		}
		t.add(key, listedTexts(values))
	}
}

var cableTypeGetters = getters[*model.CableType]{
	{"cores", countGroups(1)},
	{"pairs", countGroups(2)},
	{"triads", countGroups(3)},
	{"quads", countGroups(4)},
	{"conductor", func(t *model.CableType) string { return sizeOf(t.Copper) }},
	{"screen", func(t *model.CableType) string { return read.ScreenWords[t.Screen] }},
	{"code", func(t *model.CableType) string {
		if t.Code == nil {
			return ""
		}
		return t.Code.Name
	}},
	{"colours", func(t *model.CableType) string {
		if t.Code == nil || !t.Code.Listed() {
			return ""
		}
		return listed(t.Code.Sequences[0].Groups, func(group []model.Colour) string {
			var all []string
			for _, c := range group {
				all = append(all, c.Letters())
			}
			return strings.Join(all, " ")
		})
	}},
	{"ohms", func(t *model.CableType) string { return inUnit(t.Ohms, "Ω/km") }},
	{"insulation", func(t *model.CableType) string { return inUnit(t.InsulationMOhmKm, "MΩ·km") }},
	{"capacitance", func(t *model.CableType) string { return inUnit(t.Capacitance, "pF/m") }},
	{"inductance", func(t *model.CableType) string { return inUnit(t.Inductance, "µH/m") }},
	{"L/R", func(t *model.CableType) string { return inUnit(t.LR, "µH/Ω") }},
	{"sheath", func(t *model.CableType) string { return t.Sheath }},
	{"gland", func(t *model.CableType) string { return t.Gland }},
}

func countGroups(size int) func(*model.CableType) string {
	return func(t *model.CableType) string {
		if t.Size != size {
			return ""
		}
		return countOf(t.Groups)
	}
}

var cableGetters = getters[*model.Cable]{
	{"type", func(c *model.Cable) string {
		if c.Type == nil {
			return ""
		}
		return c.Type.Name
	}},
	{"length", func(c *model.Cable) string {
		if c.InFeet {
			return inUnit(c.Feet(), "ft")
		}
		return inUnit(c.Length, "m")
	}},
	{KeyStatus, func(c *model.Cable) string { return c.Status.String() }},
	{"route", func(c *model.Cable) string { return c.Route }},
	{KeyFrom, func(c *model.Cable) string { return c.From.Tag() }},
	{KeyTo, func(c *model.Cable) string { return c.To.Tag() }},
}

var loopGetters = getters[*model.Loop]{
	{"service", func(l *model.Loop) string { return l.Service }},
	{"area", func(l *model.Loop) string { return l.Area }},
	{"notes", func(l *model.Loop) string { return listedTexts(l.Notes) }},
	{"reference", func(l *model.Loop) string { return l.Ref }},
	{KeyStatus, func(l *model.Loop) string { return l.Status.String() }},
}

var functionGetters = getters[*model.Function]{
	{"kind", func(f *model.Function) string { return f.Kind.String() }},
	{"action", func(f *model.Function) string { return f.Action.String() }},
	{"set", func(f *model.Function) string { return f.Set.Text }},
	{"alarms", func(f *model.Function) string {
		return listed(f.Alarms, func(a model.SetPoint) string { return a.Text })
	}},
	{"reads", func(f *model.Function) string { return circuitNames(f.Reads) }},
	{"drives", func(f *model.Function) string { return circuitNames(f.Outputs) }},
}

var placeGetters = getters[*model.Place]{
	{"at", func(p *model.Place) string { return p.At }},
	{KeyStatus, func(p *model.Place) string { return p.Status.String() }},
	{"wire", func(p *model.Place) string { return strings.TrimSpace(sizeOf(p.Copper) + " " + p.Colour.Letters()) }},
}

// partGetters are those of every part, before its own.
var partGetters = getters[*model.Part]{
	{"kind", func(p *model.Part) string { return p.Kind.Name }},
	{"in", func(p *model.Part) string { return p.Where() }},
	{KeyStatus, func(p *model.Part) string { return p.Status.String() }},
}

var stripGetters = getters[*model.Strip]{
	{"rail", func(s *model.Strip) string { return s.Rail }},
	{"largest", func(s *model.Strip) string { return inUnit(s.MaxSize, "mm²") }},
	{"conductors", func(s *model.Strip) string { return countOf(s.PerSide) }},
	{"pitch", func(s *model.Strip) string { return inUnit(s.Pitch, "mm") }},
}

var cardGetters = getters[*model.Card]{
	{"channels", func(c *model.Card) string { return countOf(c.Channels) }},
	{"power", func(c *model.Card) string { return read.PowerWords[slices.Index([]bool{true, false}, c.Powers)] }},
	{"address", func(c *model.Card) string { return c.Address }},
	{"common", func(c *model.Card) string {
		if c.Common == nil {
			return ""
		}
		return c.Common.Name
	}},
	{"wires", func(c *model.Card) string { return countOf(c.Terminals) }},
	{"volts", func(c *model.Card) string { return listedBiases(c.Volts) }},
	{"least volts", func(c *model.Card) string { return listedBiases(c.Least) }},
	{"highest volts", func(c *model.Card) string { return listedBiases(c.Highest) }},
	{"limit", func(c *model.Card) string { return inUnit(c.Limit, "mA") }},
	{"draws", func(c *model.Card) string { return inUnit(c.Draws, "mA") }},
	{"ohms", func(c *model.Card) string { return inUnit(c.Ohms, "Ω") }},
	{"drive", func(c *model.Card) string {
		if c.MaxLoad == 0 {
			return c.Compliance.Bound()
		}
		return inUnit(c.MaxLoad, "Ω")
	}},
	{"least load", func(c *model.Card) string { return inUnit(c.MinLoad, "Ω") }},
	{"input type", func(c *model.Card) string { return countOf(c.Type) }},
	{"off below", func(c *model.Card) string { return c.Levels.Off.Bound() }},
	{"on above", func(c *model.Card) string { return c.Levels.On.Bound() }},
	{"lead limit", func(c *model.Card) string { return inUnit(c.Leads, "Ω") }},
	{"ranges", func(c *model.Card) string {
		return listed(slices.Sorted(maps.Keys(c.Ranges)), func(n int) string { return model.Itoa(n) + ": " + c.Ranges[n].Text })
	}},
	{"supply", func(c *model.Card) string {
		if c.From == nil {
			return ""
		}
		return c.From.Tag()
	}},
	{"minus", func(c *model.Card) string { return c.Minus.String() }},
}

var supplyGetters = getters[*model.Supply]{
	{"volts", func(s *model.Supply) string { return s.Text }},
	{"least volts", func(s *model.Supply) string { return inUnit(s.MinVolts, "V") }},
	{"highest volts", func(s *model.Supply) string { return inUnit(s.Highest, "V") }},
	{"limit", func(s *model.Supply) string { return inUnit(s.Limit, "mA") }},
	{"circuit", func(s *model.Supply) string { return s.Circuit }},
	{"fuse", func(s *model.Supply) string { return s.Fuse.Text }},
	{"earth", func(s *model.Supply) string {
		if s.Floats {
			return "none"
		}
		return tagOf(s.Earth)
	}},
}

var barrierGetters = getters[*model.Barrier]{
	{"model", func(b *model.Barrier) string { return b.Model }},
	{"ohms", func(b *model.Barrier) string { return inUnit(b.Ohms, "Ω") }},
	{"return ohms", func(b *model.Barrier) string { return inUnit(b.ReturnOhms, "Ω") }},
	{"drop", func(b *model.Barrier) string { return inUnit(b.Drop, "V") }},
	{"working volts", func(b *model.Barrier) string { return inUnit(b.MaxWorkingVolts, "V") }},
	{"volts", func(b *model.Barrier) string { return listedBiases(b.Volts) }},
	{"load", func(b *model.Barrier) string { return inUnit(b.MaxLoad, "Ω") }},
	{"earth", func(b *model.Barrier) string { return tagOf(b.Earth) }},
	{"entity", func(b *model.Barrier) string { return given(b.Entity, "o") }},
}

var deviceGetters = getters[*model.Device]{
	{"at", func(d *model.Device) string { return d.At }},
	{"model", func(d *model.Device) string { return d.Model }},
	{"process", func(d *model.Device) string { return d.Process }},
	{"range", func(d *model.Device) string { return d.Range.Text }},
	{"calibrated", func(d *model.Device) string { return d.Calibrated.Text }},
	{KeySignal, func(d *model.Device) string { return d.Signal.Text }},
	{"square root", func(d *model.Device) string { return d.SquareRootIn.String() }},
	{"lift-off", func(d *model.Device) string { return listedBiases(d.LiftOff) }},
	{"drop", func(d *model.Device) string { return listedBiases(d.Drop) }},
	{"failure current", func(d *model.Device) string { return inUnit(d.FailureCurrent, "mA") }},
	{"draws", func(d *model.Device) string { return inUnit(d.SupplyCurrent, "mA") + inUnit(d.DrawsVA, "VA") }},
	{"output", func(d *model.Device) string { return d.OutputKind.String() }},
	{"pull-in", func(d *model.Device) string { return inUnit(d.PullIn, "V") }},
	{"drop-out", func(d *model.Device) string { return inUnit(d.DropOut, "V") }},
	{"release", func(d *model.Device) string { return inUnit(d.Release, "V") }},
	{"rated volts", func(d *model.Device) string { return inUnit(d.Rated, "V AC") }},
	{"inrush", func(d *model.Device) string { return inUnit(d.Inrush, "VA") }},
	{"inrush power factor", func(d *model.Device) string { return factor(d.InrushPF) }},
	{"holding", func(d *model.Device) string { return inUnit(d.Holding, "VA") }},
	{"power factor", func(d *model.Device) string { return factor(d.PF) }},
	{"series ohms", func(d *model.Device) string { return inUnit(d.Series, "Ω") }},
	{"leakage", func(d *model.Device) string { return inUnit(d.Leakage, "mA") }},
	{"least current", func(d *model.Device) string { return inUnit(d.LeastMA, "mA") }},
	{"bleeder", func(d *model.Device) string { return inUnit(d.Bleeder, "Ω") }},
	{"parallel ohms", func(d *model.Device) string { return inUnit(d.Parallel, "Ω") }},
	{"HART", func(d *model.Device) string { return yes(d.HART) }},
	{"capacitance", func(d *model.Device) string { return inUnit(d.Capacitive, "nF") }},
	{"class", func(d *model.Device) string { return d.Class }},
	{"entity", func(d *model.Device) string { return given(d.Entity, "i") }},
	{"simple apparatus", func(d *model.Device) string { return yes(d.SimpleApparatus) }},
	{"ohms", func(d *model.Device) string { return inUnit(d.Ohms, "Ω") }},
	{"set", func(d *model.Device) string { return d.SetPoint.Text }},
	{"at rest", func(d *model.Device) string { return d.RestState.String() }},
	{"fail", func(d *model.Device) string { return d.Fail.String() }},
	{"action", func(d *model.Device) string { return d.Action.String() }},
	{"air", func(d *model.Device) string { return d.Air }},
	{"stroke time", func(d *model.Device) string { return inUnit(d.Stroke, "s") }},
	{"drives", func(d *model.Device) string { return tagOf(d.Actuates) }},
	{"on", func(d *model.Device) string { return tagOf(d.On) }},
	{"sensor", func(d *model.Device) string { return d.Sensor }},
	{"earthed", func(d *model.Device) string { return d.Earthed }},
	{"lead ohms", func(d *model.Device) string { return inUnit(d.Leads, "Ω") }},
	{"fuse", func(d *model.Device) string { return d.Fuse.Text }},
	{"zone", func(d *model.Device) string { return d.Zone }},
}

// part notes what is known of a part, and of each of its terminals.
func (t *Object) part(p *model.Part) {
	partGetters.note(t, p)
	switch {
	case p.Strip != nil:
		stripGetters.note(t, p.Strip)
	case p.Card != nil:
		cardGetters.note(t, p.Card)
	case p.Device != nil:
		deviceGetters.note(t, p.Device)
	case p.Supply != nil:
		supplyGetters.note(t, p.Supply)
	case p.Barrier != nil:
		barrierGetters.note(t, p.Barrier)
	}
	t.add("terminals", listedNames(p.Terminals))
	for _, term := range p.Terminals {
		for _, g := range terminalGetters {
			t.put(g.key, term.Name, g.get(term))
		}
	}
}

func listedNames(all []*model.Terminal) string {
	var names []string
	for _, t := range all {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}

// terminalGetters are those of the terminals of a part. A feed-through terminal
// is of no kind that has to be told.
var terminalGetters = getters[*model.Terminal]{
	{"kind", func(t *model.Terminal) string {
		if t.Kind == model.FeedThrough {
			return ""
		}
		return t.Kind.String()
	}},
	{"fuse", func(t *model.Terminal) string { return t.Fuse.Text }},
	{"marks", func(t *model.Terminal) string {
		if t.Part.Strip == nil || t.Role == 0 {
			return ""
		}
		return string(t.Role)
	}},
	{"jumpers", func(t *model.Terminal) string {
		var joined []string
		for _, group := range t.Part.Jumpers {
			for _, o := range group {
				if o != t && slices.Contains(group, t) {
					joined = append(joined, o.Name)
				}
			}
		}
		return strings.Join(joined, " ")
	}},
	{"bonded", func(t *model.Terminal) string { return tagOf(t.Bond) }},
	{"feeds", func(t *model.Terminal) string {
		if t.Fed == nil {
			return ""
		}
		return t.Fed.Words()
	}},
}

// signalFacts are the families of circuits in an inventory, whatever paper calls
// them.
var signalFacts = [...]string{
	model.NoSignal: "", model.AnalogIn: "4-20 mA input", model.AnalogOut: "4-20 mA output", model.ContactIn: "contact input",
	model.SwitchedOut: "switched output", model.Resistance: "resistance sensor", model.Thermo: "thermocouple",
	model.PulseIn: "pulse input", model.Power: "supply", model.Proximity: "proximity switch input", model.PowerDC: "DC supply",
}

// runsIn is the pair of a core, such as pair 3, as short as can be.
func runsIn(c *model.Core) string {
	switch {
	case c.Group == 0:
		return "overall screen"
	case c.Cable.Type.Size == 1:
		return fmt.Sprintf("core %d", c.Number)
	}
	return fmt.Sprintf("%s %d", c.Cable.Type.GroupWord(), c.Group)
}

// runFact is the pair of a run, or its single cores.
func runFact(r *model.Run) string {
	s := ""
	if len(r.Cores) > 0 && r.Group > 0 {
		s = runsIn(r.Cores[0])
	} else {
		s = "cores"
		for _, c := range r.Cores {
			s += " " + model.Itoa(c.Number)
		}
	}
	if r.Reversed {
		s += " reversed"
	}
	return s
}

// stationFact is the terminals of a station, or the channel of a card.
func stationFact(s *model.Station) string {
	if s.Channel > 0 {
		return fmt.Sprintf("channel %d", s.Channel)
	}
	var names []string
	for _, slot := range s.Slots {
		switch {
		case slot.Does == model.Cut:
			names = append(names, model.CutBack)
		case slot.In == nil:
		case slot.Out != nil && slot.Out != slot.In:
			names = append(names, slot.In.Name+"-"+slot.Out.Name)
		default:
			names = append(names, slot.In.Name)
		}
	}
	if t := s.Screen.In; t != nil && t.Part != s.Part {
		names = append(names, "screen "+t.Tag())
	} else if t != nil {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}
