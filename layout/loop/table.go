package loop

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/grid"
	"ringout/render"
)

// This file holds the tables under a loop diagram: what stands in the loop, and
// cautions and notes.

func tableHeight(rows []paper.Row) render.Len {
	if len(rows) == 0 {
		return 0
	}
	t := deviceTable()
	t.Rows = rows
	return t.Height(paper.Span{From: 0, To: len(rows)}) + 2*render.MM
}

// deviceTable is the table of the devices and channels of a sheet.
func deviceTable() *paper.Table {
	return &paper.Table{Columns: []paper.Column{
		{Head: "Tag", Width: 26 * render.MM, Face: fonts.MonoBold},
		{Head: "Type", Width: 50 * render.MM},
		{Head: "Range", Width: 40 * render.MM},
		{Head: "Calibrated, set or sensor", Width: 46 * render.MM},
		{Head: "Signal, action, fail position", Width: 62 * render.MM},
		{Head: "Location", Width: 62 * render.MM},
		{Head: "Connected to", Width: 54 * render.MM},
		{Head: "Model", Width: 40 * render.MM},
	}}
}

// deviceRows lists the devices that a group of blocks shows, and what their circuits
// are on earth by.
func deviceRows(plant *model.Plant, group []*block) []paper.Row {
	var rows []paper.Row
	seen := map[*model.Part]bool{}
	add := func(p *model.Part) {
		if p == nil || seen[p] {
			return
		}
		seen[p] = true
		switch {
		case p.Device != nil:
			rows = append(rows, deviceRow(plant, p))
			for _, v := range p.Device.ReadVariables() {
				rows = append(rows, variableRow(p, v))
			}
		case p.Barrier != nil:
			rows = append(rows, barrierRow(plant, p))
		case p.Plug() != nil:
			rows = append(rows, partRow(plant, p, wording.PlugWords(p), "", p.Plug().Model))
		case p.Coupler != nil:
			rows = append(rows, partRow(plant, p, couplerFacts(p.Coupler, wording.Coupler(p)), "", p.Coupler.Model))
		case p.Supply != nil:
			rows = append(rows, supplyRow(plant, p))
		}
	}
	var stations []*model.Station
	for _, b := range group {
		stations = append(stations, b.circuit.Stations()...)
	}
	for _, st := range stations {
		add(st.Part.Whole())
		if st.Part.Device != nil {
			add(st.Part.Device.Actuates)
			add(st.Part.Device.On)
		}
	}
	for _, b := range group {
		if l := b.circuit.Loop; b.circuit == l.Circuits[0] {
			for _, d := range l.Devices {
				if d.Unwired() {
					add(d)
				}
			}
		}
	}
	for _, st := range stations { // last, what feeds them
		for _, termination := range st.Terminations {
			if termination.In != nil && termination.In.Fed != nil {
				add(termination.In.Fed.Supply.Part)
			}
		}
		if common := st.Part.CommonOf(st.Channel); common != nil && common.Fed != nil {
			add(common.Fed.Supply.Part)
		}
	}
	var told []*model.Circuit
	for _, b := range group {
		if words := wording.EarthWords(plant, b.circuit); words != "" && !slices.Contains(told, b.circuit) {
			told = append(told, b.circuit)
			rows = append(rows, paper.Row{Print: true, ID: fmt.Sprintf("earths-%d", len(rows)+1), Cells: []paper.Cell{
				{S: b.circuit.Name}, {S: plant.Say("earths of the circuit")}, {}, {}, {S: words}, {}, {}, {},
			}})
		}
	}
	return rows
}

// alarmFacts are what the alarm contacts of a device act at, and how.
func alarmFacts(d *model.Device) (facts []string) {
	for _, s := range d.Alarms {
		facts = append(facts, s.Text)
	}
	if d.OnAlarm != 0 {
		facts = append(facts, "relays "+d.OnAlarm.String()+" in alarm")
	}
	return facts
}

// deviceFacts are what is known of the signal of a device, and of what it draws.
func deviceFacts(p *model.Part) []string {
	d := p.Device
	var signal []string
	switch p.Kind.Signal {
	case model.AnalogIn, model.AnalogOut:
		if d.Signal.Given() {
			signal = append(signal, d.Signal.Text)
		} else {
			signal = append(signal, "4..20 mA")
		}
	}
	if d.SquareRootIn != 0 {
		signal = append(signal, "square root in "+d.SquareRootIn.String())
	}
	if d.Action != 0 {
		signal = append(signal, d.Action.String()+" acting")
	}
	if d.Fail != 0 {
		signal = append(signal, "fails "+d.Fail.String())
	}
	if d.Air.Given() {
		signal = append(signal, "air "+d.Air.Text)
	}
	if d.Stroke > 0 {
		signal = append(signal, wording.StrokeLimit(p))
	}
	for _, b := range d.LiftOff {
		s := fmt.Sprintf("lift-off %g V", b.Volts)
		if b.MA > 0 {
			s += fmt.Sprintf(" at %g mA", b.MA)
		}
		signal = append(signal, s)
	}
	if kind := wording.OutputKind(p); kind != "" {
		signal = append(signal, kind)
		if p.Kind.Signal == model.AnalogIn {
			signal = append(signal, "common "+p.Common().Name)
		}
	}
	for _, v := range []struct {
		value float64
		words string
	}{{d.SupplyCurrent, "draws %g mA"}, {d.DrawsVA, "draws %g VA"}, {d.DrawsWatts, "draws %g W"}, {d.Ohms, "%g Ω"}, {d.Rated, map[bool]string{false: "%g V AC", true: "%g V DC"}[d.RatedDC]}, {d.Watts, "%g W"}, {d.Inrush, "inrush %g VA"}, {d.InrushPF, "inrush power factor %g"},
		{d.Holding, "holding %g VA"}, {d.PF, "power factor %g"}, {d.Leads, "%g Ω of leads taken off"}} {
		if v.value > 0 {
			signal = append(signal, fmt.Sprintf(v.words, v.value))
		}
	}
	signal = append(signal, alarmFacts(d)...)
	if d.Suppressor != 0 {
		signal = append(signal, "suppressor "+d.Suppressor.String())
	} else if len(p.Coils()) > 0 && !p.CoilUnknown() {
		signal = append(signal, "suppressor "+paper.NotGiven)
	}
	if drop := d.Drop; len(drop) > 0 && p.Kind.Signal == model.ContactIn {
		signal = append(signal, fmt.Sprintf("drops %g V", drop[0].Volts))
	}
	if d.Leakage > 0 {
		signal = append(signal, fmt.Sprintf("leaks %g mA", d.Leakage))
	}
	if d.LeastMA > 0 {
		signal = append(signal, fmt.Sprintf("on at least %g mA", d.LeastMA))
	}
	if d.Bleeder > 0 {
		signal = append(signal, fmt.Sprintf("%g Ω across the input at the card", d.Bleeder))
	}
	if d.Series > 0 {
		signal = append(signal, fmt.Sprintf("%g Ω in series", d.Series))
	}
	if d.Parallel > 0 {
		signal = append(signal, fmt.Sprintf("%g Ω across it", d.Parallel))
	}
	if d.Fuse.Given() {
		signal = append(signal, "fuse "+d.Fuse.Text)
	}
	return append(signal, probeFacts(d)...)
}

// probeFacts are what is known of a displacement probe.
func probeFacts(d *model.Device) (facts []string) {
	if d.Scale.MV > 0 {
		facts = append(facts, d.Scale.String())
	}
	if d.Gap.Given() {
		facts = append(facts, "set gap "+d.Gap.Text)
	}
	return facts
}

// frontPlace is where a device sits in its place, if that is said.
func frontPlace(p *model.Part) string {
	switch {
	case p.Device.Inside:
		return "behind the front"
	case p.Device.Position.Row > 0:
		return "front " + p.Device.Position.String()
	}
	return ""
}

// The largest front that is drawn on a loop diagram, and its cells.
const (
	mostFrontRows    = 8
	mostFrontColumns = 12
	frontCell        = 12 * render.MM
	frontTitle       = 30 * render.MM
)

// frontViews are small views of the fronts that the circuits of segments come to, with
// the instruments of the circuits filled; a large front is told in words alone.
func frontViews(segments []*segment) (all []*paper.Table) {
	var places []*model.Place
	first := map[*model.Place]string{} // circuit that comes there
	filled := map[*model.Place]map[grid.Cell]bool{}
	for _, l := range segments {
		for _, st := range l.circuit.Stations() {
			pl, d := st.Part.Place, st.Part.Whole().Device
			if l.next != nil || l.circuit.Signal.Powers() || d == nil || pl == nil || !pl.Front.Has(d.Position) || pl.Front.Rows > mostFrontRows || pl.Front.Columns > mostFrontColumns {
				continue
			}
			if filled[pl] == nil {
				filled[pl] = map[grid.Cell]bool{}
				places, first[pl] = append(places, pl), l.circuit.Name
			}
			filled[pl][d.Position] = true
		}
	}
	for _, pl := range places {
		t := &paper.Table{Columns: []paper.Column{{Head: pl.Tag + " front", Width: frontTitle, Face: fonts.MonoBold, Align: render.Right}}}
		for column := 1; column <= pl.Front.Columns; column++ {
			t.Columns = append(t.Columns, paper.Column{Head: string(rune('A' + column - 1)), Width: frontCell, Align: render.Middle})
		}
		for row := 1; row <= pl.Front.Rows; row++ {
			r := paper.Row{Print: true, ID: sheet.PlainName(fmt.Sprintf("front-%s-%s-%d", pl.Tag, first[pl], row)), Data: []render.Datum{{Key: "front", Value: pl.Tag}}, Cells: []paper.Cell{{S: fmt.Sprint(row)}}}
			for column := 1; column <= pl.Front.Columns; column++ {
				c := grid.Cell{Row: row, Column: column}
				if filled[pl][c] {
					r.Cells = append(r.Cells, paper.Cell{Kind: paper.NA, S: c.String()})
				} else {
					r.Cells = append(r.Cells, paper.Cell{})
				}
			}
			t.Rows = append(t.Rows, r)
		}
		all = append(all, t)
	}
	return all
}

// deviceRow is the row of a device.
func deviceRow(plant *model.Plant, p *model.Part) paper.Row {
	d := p.Device
	rng := d.Range.Text
	if rng == "" && (p.Kind.Signal == model.AnalogIn || p.Kind.Signal == model.Resistance || p.Kind.Signal == model.Thermo) {
		rng = paper.NotGiven
	}
	at := d.At
	if p.Place != nil {
		at = wording.Joined(p.Place.Tag, frontPlace(p), d.At)
	}
	if at == "" && d.On != nil {
		at = "on " + d.On.Tag
	}
	if at == "" {
		at = paper.NotGiven
	}
	unwired := ""
	if p.Unwired() {
		unwired = ", in no circuit"
	}
	return paper.Row{Print: true, ID: "device-" + p.Tag, Data: []render.Datum{{Key: "device", Value: p.Tag}}, Cells: []paper.Cell{
		{S: p.Tag}, {S: statusSign(p.Status) + plant.Say(p.Kind.Words) + unwired}, {S: rng}, {S: wording.Joined(d.Calibrated.Text, d.SetPoint.Text, d.Sensor)}, {S: strings.Join(deviceFacts(p), ", ")},
		{S: wording.Joined(at, d.Hazard())}, {S: wording.Joined(d.Process, wording.Contacts(p))}, {S: d.Model},
	}}
}

// variableRow is the row of what the system reads of a device digitally: it has a tag, and
// no wire of its own.
func variableRow(p *model.Part, v model.Variable) paper.Row {
	return paper.Row{Print: true, ID: "variable-" + v.Tag, Data: []render.Datum{{Key: "function", Value: v.Tag}}, Cells: []paper.Cell{
		{S: v.Tag}, {S: v.Name + " of " + p.Tag}, {S: wording.Given(v.Range.Text)}, {}, {S: "read digitally, no wire of its own"}, {S: "in the system"}, {S: v.Words}, {},
	}}
}

// barrierRow is the row of a barrier, isolator or surge protector.
func barrierRow(plant *model.Plant, p *model.Part) paper.Row {
	var facts []string
	if p.Barrier.Ohms > 0 {
		back := p.Barrier.Ohms
		if p.Barrier.ReturnOhms > 0 {
			back = p.Barrier.ReturnOhms
		}
		if facts = append(facts, fmt.Sprintf("at most %g Ω out, %g Ω back", p.Barrier.Ohms, back)); p.Kind.Diverts {
			facts = []string{fmt.Sprintf("at most %g Ω each leg", p.Barrier.Ohms)}
		}
	}
	if p.Kind.Diverts {
		facts = append(facts, wording.ProtectWords(p))
	}
	if p.Kind.Shunts || p.Kind.Diverts {
		facts = append(facts, plant.Say("earth ")+barrierEarth(p))
	}
	if p.Barrier.MaxLoad > 0 {
		facts = append(facts, fmt.Sprintf("load at most %g Ω", p.Barrier.MaxLoad))
	}
	for _, b := range p.Barrier.Volts {
		facts = append(facts, fmt.Sprintf("gives %g V at %g mA", b.Volts, b.MA))
	}
	return partRow(plant, p, strings.Join(facts, ", "), "", p.Barrier.Model)
}

// couplerFacts are what a coupler does to the pair, after how many spurs it has.
func couplerFacts(c *model.Coupler, spurs string) string {
	drop, draws := paper.NotGiven, paper.NotGiven
	if c.Drop > 0 {
		drop = wording.Plain(c.Drop) + " V"
	}
	if c.Draws > 0 {
		draws = wording.Plain(c.Draws) + " mA"
	}
	return wording.Joined(spurs, "drop "+drop, "draws "+draws)
}

// barrierEarth is the bar that a barrier is earthed on.
func barrierEarth(p *model.Part) string {
	if p.Barrier.Earth == nil {
		return paper.NotGiven
	}
	return p.Barrier.Earth.Name()
}

// supplyRow is the row of a supply: what feeds it, back to the first fuse.
func supplyRow(plant *model.Plant, p *model.Part) paper.Row {
	from, fuse := "fed from "+paper.NotGiven, "feed fuse "+paper.NotGiven
	if p.Supply.Circuit != "" {
		from = "fed from " + p.Supply.Circuit
	}
	if p.Supply.Fuse.Given() {
		fuse = "feed fuse " + p.Supply.Fuse.Text
	}
	return partRow(plant, p, p.Supply.Text+", "+fuse, from, "")
}

func partRow(plant *model.Plant, p *model.Part, facts, connected, made string) paper.Row {
	at := wording.Joined(p.Where(), p.Place.At)
	return paper.Row{Print: true, ID: "part-" + p.Tag, Data: []render.Datum{{Key: "part", Value: p.Tag}}, Cells: []paper.Cell{
		{S: p.Tag}, {S: statusSign(p.Status) + plant.Say(p.Kind.Words)}, {}, {}, {S: facts}, {S: at}, {S: connected}, {S: made},
	}}
}

// statusSign marks what is there already or comes later; nothing for what is to
// be installed.
func statusSign(s model.Status) string {
	switch s {
	case model.Existing:
		return "(E) "
	case model.Future:
		return "(F) "
	}
	return ""
}

// noteLines are what to know of a loop: cautions first, then its notes.
func noteLines(plant *model.Plant, l *model.Loop) []paper.Cell {
	all := []paper.Cell{{S: plant.Say(wording.DeadFirst)}}
	for _, s := range append(loopCautions(plant, l), plant.Practice.Cautions...) {
		all = append(all, paper.Cell{S: s, Bold: true})
	}
	for _, s := range append(wording.Remote(plant, l), l.Notes...) {
		all = append(all, paper.Cell{S: s})
	}
	return all
}

// notesTable holds cautions and notes that find no room beside the title block.
func notesTable(lines []paper.Cell, width render.Len) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: "Cautions and notes", Width: width, Safety: true}}}
	for _, c := range lines {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{c}})
	}
	return t
}

// loopCautions are the cautions that the wiring of a loop asks for.
func loopCautions(plant *model.Plant, l *model.Loop) []string {
	var safe, mains, beside []string
	var zones, barrier, existing bool
	for _, d := range l.Devices {
		zones = zones || d.Device.Zone != ""
	}
	for _, c := range l.Circuits {
		if c.IntrinsicallySafe() {
			safe = append(safe, c.Name)
			barrier = barrier || slices.ContainsFunc(wording.CircuitStations(c), func(st *model.Station) bool { return st.Part.Kind.Shunts })
		}
		if s := c.Feeder(); s != nil && s.Dangerous() {
			if words := fmt.Sprintf("%s of %s", s.Gives(), s.Tag); !slices.Contains(mains, words) {
				mains = append(mains, words)
			}
		}
		for _, w := range c.Conductors(plant) {
			existing = existing || w.Status == model.Existing
		}
	}
	for _, c := range l.Circuits {
		for _, st := range c.Stations() {
			if st.Part.Place == nil {
				continue
			}
			for _, s := range wording.Deadly(plant)[st.Part.Place] {
				own := fmt.Sprintf("%s of %s", s.Gives(), s.Tag)
				if words := own + " in " + st.Part.Place.Tag; !slices.Contains(mains, own) && !slices.Contains(beside, words) {
					beside = append(beside, words)
				}
			}
		}
	}
	var all []string
	if len(beside) > 0 {
		all = append(all, "Same enclosures: "+strings.Join(beside, ", ")+".")
	}
	if len(mains) > 0 {
		all = append(all, strings.Join(mains, ", ")+plant.Say(wording.MainsRuleShort)+".")
	}
	if len(safe) > 0 {
		all = append(all, wording.SafeWords(plant, strings.Join(safe, ", "), barrier))
	}
	if zones {
		all = append(all, wording.HazardWords(""))
	}
	if existing {
		all = append(all, "Wiring in service. "+wording.ServiceRule)
	}
	return all
}
