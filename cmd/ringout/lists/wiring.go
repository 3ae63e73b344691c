package lists

import (
	"cmp"
	"slices"
	"strings"

	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/read"
)

// This file makes the lists of wiring: cables, their types and cores, the wires
// inside places, and what is spare.

// cableRow is a cable with the counts of what circuits use of it.
type cableRow struct {
	*model.Cable
	plant              *model.Plant
	cores, used, spare any
}

var cableTable = table[cableRow]{
	{own("cable", "its tag").needed(), func(c cableRow) any { return c.Tag }},
	{key("type").needed(), nil},
	{own("groups", "how many pairs, triads, quads or single cores its type has, without a list `types`").read(), ofCores(func(c cableRow) any { return c.Type.Groups })},
	{own("group", "`pair`, `triad`, `quad` or `core`").read().worded(), ofCores(func(c cableRow) any { return string(c.Type.GroupWord()) })},
	{own("conductor", "of its type").read(), ofCores(func(c cableRow) any { return c.Type.Copper.String() })},
	{own("screen", "of its type").read(), ofCores(func(c cableRow) any { return written("screen", read.Values(c.Type)) })},
	{own("overall screen", "both ends of it"), func(c cableRow) any { return overallWords(c.plant, c.Cable) }},
	{key("from").needed(), nil},
	{key("to").needed(), nil},
	{own("from gland", "at the from end; of its type where the cable has none of its own").read(), func(c cableRow) any { return cmp.Or(c.From.Gland, c.Type.Gland) }},
	{own("to gland", "at the to end, likewise").read(), func(c cableRow) any { return cmp.Or(c.To.Gland, c.Type.Gland) }},
	{key("length").as("length m").in("m"), func(c cableRow) any { return given(c.Length) }},
	{own("cores", "how many"), ofCores(func(c cableRow) any { return len(c.Cores) })},
	{own("spare cores", "how many no circuit uses"), func(c cableRow) any { return c.cores }},
	{own("groups used", "how many"), func(c cableRow) any { return c.used }},
	{own("groups spare", "how many"), func(c cableRow) any { return c.spare }},
	{key("status"), nil},
	{key("route"), nil},
	{key("length").as("length ft").in("ft"), nil},
}

func cableRows(p *model.Plant, row func(...any)) {
	for _, c := range p.Cables {
		if c.Type == nil {
			continue // an error, told elsewhere
		}
		r := cableRow{c, p, model.Unknown, model.Unknown, model.Unknown}
		if used, spare, cores, known := c.InUse(p); known {
			r.used, r.spare, r.cores = used, spare, cores
		}
		row(cableTable.row(r, read.Values(c))...)
	}
	for _, c := range p.PlugCables() {
		if c.Tag != "" {
			row(cableTable.row(cableRow{Cable: c.Cable, plant: p}, read.Values(c.Cable))...)
		}
	}
}

// ofCores is a cell that a cable without cores, that of a link by plugs, has empty.
func ofCores(cell func(cableRow) any) func(cableRow) any {
	return func(c cableRow) any {
		if len(c.Cores) == 0 {
			return nil
		}
		return cell(c)
	}
}

// overallWords are both ends of the screen round all; "" without one.
func overallWords(p *model.Plant, c *model.Cable) string {
	if c.Overall == nil {
		return ""
	}
	x := p.ConductorOf(c.Overall)
	if x == nil {
		return wiring.NotGiven
	}
	return wiring.End(x.From) + " / " + wiring.End(x.To)
}

var typeTable = table[*model.CableType]{
	{own("type", "its name").needed(), func(t *model.CableType) any { return t.Name }},
	{own("groups", "how many pairs, triads, quads or single cores").needed(), func(t *model.CableType) any { return t.Groups }},
	{own("group", "`pair`, `triad`, `quad` or `core`").needed().worded(), func(t *model.CableType) any { return string(t.GroupWord()) }},
	{key("conductor").needed(), func(t *model.CableType) any { return t.Copper.String() }},
	{key("screen").needed(), nil},
	{key("code").as("colour code"), func(t *model.CableType) any {
		if t.Code == nil || t.Code.Listed() {
			return ""
		}
		return t.Code.Name
	}},
	{key("colours").parted(PartedTexts), nil},
	{key("ohms").as("Ω/km").in("ohm/km"), nil},
	{key("insulation").as("MΩ·km").in("Mohm km"), nil},
	{key("capacitance").as("pF/m").in("pF/m"), nil},
	{key("inductance").as("µH/m").in("uH/m"), nil},
	{key("L/R").as("µH/Ω").in("uH/ohm"), nil},
	{key("sheath"), nil},
	{key("gland"), nil},
	{key("bus type"), nil},
}

func typeRows(p *model.Plant, row func(...any)) {
	for _, t := range p.CableTypes {
		row(typeTable.row(t, read.Values(t))...)
	}
}

// conductorColumns are those of cores and of wires.
var conductorColumns = []Column{
	own("colour", "letters or words").read().worded(),
	own("loop", "tag of the loop").read(),
	own("circuit", "name of the circuit").read(),
	own("leg", "which leg of the circuit, from 1").read(),
	own("step", "which conductor of the leg, from 1").read(),
	own("polarity", "`+` or `-`, where it has one").read(),
	own("from", "`PART:TERMINAL`, or what is done with a free end").needed(),
	own("to", "the same at the to end").needed(),
	own("from marker", "what the marker reads"),
	own("to marker", "what the marker reads"),
}

var coreColumns = slices.Concat([]Column{
	own("cable", "its tag").needed(),
	own("group", "number of its pair, triad or quad; 0 of the screen round all").read(),
	own("core", "its name, such as `W-21-3a` or `3a`; `3S` of a screen, `OS` of the screen round all").needed(),
}, conductorColumns, []Column{
	own("spare", "what is done with a spare; empty for a core in use").read(),
	own("status", "`new`, `existing` or `future`"),
})

var wireColumns = slices.Concat([]Column{
	own("place", "where it is").read(),
	own("wire", "`wire`, `jumper`, `feed` or `screen`").needed().worded(),
}, conductorColumns, []Column{
	own("status", "`new`, `existing` or `future`"),
	own("over", "what a feed runs over, where its ohms count").read(),
})

// circuitCells are loop, circuit, leg, step and polarity of a conductor. The
// step counts along the leg; a screen has none.
func circuitCells(x *model.Conductor, steps map[*model.Conductor]int) []any {
	cells := []any{"", "", nil, nil, ""}
	if x.Circuit != nil {
		cells[0], cells[1] = x.Circuit.Loop.Tag, x.Circuit.Name
	}
	if x.Leg > 0 {
		cells[2], cells[3] = x.Leg, steps[x]
	}
	if x.Role != 0 {
		cells[4] = string(x.Role)
	}
	return cells
}

// stepsOf numbers every conductor along its leg.
func stepsOf(p *model.Plant) map[*model.Conductor]int {
	steps := map[*model.Conductor]int{}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			for _, leg := range c.Legs {
				n := 0
				for _, s := range leg.Conductors {
					if s.Conductor != nil {
						n++
						steps[s.Conductor] = n
					}
				}
			}
		}
	}
	return steps
}

func coreRows(p *model.Plant, row func(...any)) {
	steps := stepsOf(p)
	for _, c := range p.Cables {
		if c.Type == nil {
			continue // an error, told elsewhere
		}
		for _, core := range wiring.Cores(c) {
			x := p.ConductorOf(core)
			if x == nil {
				row(c.Tag, core.Group, core.Name(), string(core.Colour.Words()), "", "", nil, nil, "", "", "", "", "", "", c.Status.String())
				continue
			}
			cells := append([]any{c.Tag, core.Group, core.Name(), string(wiring.Colour(x))}, circuitCells(x, steps)...)
			row(append(cells, wiring.End(x.From), wiring.End(x.To),
				wiring.Marker(p, x, x.From), wiring.Marker(p, x, x.To), cmp.Or(x.Spare, wiring.Doubt(x.Doubt)), x.Status.String())...)
		}
	}
}

func wireRows(p *model.Plant, row func(...any)) {
	steps := stepsOf(p)
	for _, x := range p.Conductors {
		if x.Core != nil {
			continue
		}
		place, what := "", "wire"
		if x.Place != nil {
			place = x.Place.Tag
		}
		switch {
		case x.Kind == model.JumperRun:
			what = "jumper"
		case x.Screen:
			what = "screen"
		case x.Circuit == nil:
			what = "feed"
		}
		cells := append([]any{place, what, string(x.Colour.Words())}, circuitCells(x, steps)...)
		over := ""
		if x.Feed != nil {
			over = x.Feed.Over
		}
		row(append(cells, wiring.End(x.From), wiring.End(x.To), wiring.Marker(p, x, x.From), wiring.Marker(p, x, x.To), x.Status.String(), over)...)
	}
}

// spareRows has a row for each group of a cable that no circuit uses, and for
// each terminal of a strip that nothing lands on. Those in doubt say so.
func spareRows(p *model.Plant, row func(...any)) {
	for _, c := range p.Cables {
		if c.Type == nil {
			continue // an error, told elsewhere
		}
		for g := 1; g <= c.Type.Groups; g++ {
			var from, to, what []string
			used := false
			for _, core := range c.Cores[(g-1)*c.Type.Size : g*c.Type.Size] {
				x := p.ConductorOf(core)
				if x == nil {
					continue
				}
				used = used || x.Circuit != nil
				from, to = append(from, wiring.End(x.From)), append(to, wiring.End(x.To))
				what = append(what, cmp.Or(x.Spare, wiring.Doubt(x.Doubt)))
			}
			if !used {
				row(c.Tag+" "+p.Say(wiring.Core(c.Cores[(g-1)*c.Type.Size])), string(c.Type.GroupWord()), once(from), once(to), once(what), c.Status.String())
			}
		}
	}
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			if x.Strip == nil {
				continue
			}
			for _, t := range x.Terminals {
				if t.Spare() || t.Doubt != "" {
					row(t.Tag(), "terminal", "", "", strings.Join(wiring.Notes(p, t), "; "), x.Status.String())
				}
			}
		}
	}
}

// once joins texts, those that come again left out.
func once(texts []string) string {
	var all []string
	for _, s := range texts {
		if s != "" && !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return strings.Join(all, "; ")
}
