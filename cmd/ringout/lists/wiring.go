package lists

import (
	"cmp"
	"slices"
	"strings"

	"ringout/cmd/ringout/wiring"
	"ringout/model"
)

// This file makes the lists of wiring: cables, their types and cores, the wires
// inside places, and what is spare.

func cableRows(p *model.Plant, row func(...any)) {
	for _, c := range p.Cables {
		t := c.Type
		if t == nil {
			continue // an error, told elsewhere
		}
		used, spare, cores, known := c.InUse(p)
		counts := []any{cores, used, spare}
		if !known {
			counts = []any{model.Unknown, model.Unknown, model.Unknown}
		}
		row(c.Tag, t.Name, t.Groups, t.GroupWord(), t.Copper.String(), screenWords(t.Screen), overallWords(p, c),
			c.From.Tag(), c.To.Tag(), cmp.Or(c.From.Gland, t.Gland), cmp.Or(c.To.Gland, t.Gland), given(c.Length), len(c.Cores), counts[0],
			counts[1], counts[2], c.Status.String(), c.Route, given(c.Feet()))
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

// screenWords are the screens of a cable type as its key in the text has them.
func screenWords(s model.Screens) string {
	switch s {
	case model.EachScreen:
		return "each"
	case model.OverallScreen:
		return "overall"
	case model.EachScreen | model.OverallScreen:
		return "each and overall"
	}
	return "none"
}

func typeRows(p *model.Plant, row func(...any)) {
	for _, t := range p.CableTypes {
		code, colours := "", ""
		if t.Code != nil {
			if c, named := model.FindCode(t.Code.Name); named && c == t.Code {
				code = c.Name
			} else {
				colours = listedColours(t)
			}
		}
		row(t.Name, t.Groups, t.GroupWord(), t.Copper.String(), screenWords(t.Screen), code, colours, given(t.Ohms), given(t.InsulationMOhmKm),
			given(t.Capacitance), given(t.Inductance), given(t.LR), t.Sheath, t.Gland)
	}
}

// listedColours are the colours of a type without a colour code, group by group.
func listedColours(t *model.CableType) string {
	var groups []string
	for g := 1; g <= t.Groups; g++ {
		var group []string
		for _, c := range t.Colours(g) {
			group = append(group, c.Letters())
		}
		groups = append(groups, strings.Join(group, " "))
	}
	return strings.Join(groups, "; ")
}

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
				row(c.Tag, core.Group, core.Name(), core.Colour.Words(), "", "", nil, nil, "", "", "", "", "", "", c.Status.String())
				continue
			}
			cells := append([]any{c.Tag, core.Group, core.Name(), wiring.Colour(x)}, circuitCells(x, steps)...)
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
		cells := append([]any{place, what, x.Colour.Words()}, circuitCells(x, steps)...)
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
				row(c.Tag+" "+wiring.Core(c.Cores[(g-1)*c.Type.Size]), c.Type.GroupWord(), once(from), once(to), once(what), c.Status.String())
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
					row(t.Tag(), "terminal", "", "", strings.Join(wiring.Notes(t), "; "), x.Status.String())
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
