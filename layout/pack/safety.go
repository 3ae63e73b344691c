package pack

import (
	"fmt"
	"slices"
	"strings"

	"ringout/layout/enclosure"
	"ringout/layout/paper"
	"ringout/layout/record"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// This file has the cautions and permits on the cover of a pack. The isolation list is
// in isolation.go.

// hazard reports whether the loops of the pack have to do with a hazardous area.
func (p *Pack) hazard() bool {
	return slices.ContainsFunc(p.loops, func(l *model.Loop) bool {
		hazard, _ := record.Risks(p.plan.Plant, l)
		return hazard
	})
}

// cautions come before the work.
func (p *Pack) cautions() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: "Caution", Width: 158 * render.MM, Safety: true}, {Head: "Done", Width: 12 * render.MM}}}
	say := func(s string) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: s}, {Kind: paper.Tick}}})
	}
	say("Copy of the issue above. Check revision and wiring codes against the current set before use.")
	if slices.ContainsFunc(p.Sheets, func(s *sheet.Sheet) bool { return p.plan.Revision(s).Mark == sheet.PendingMark }) {
		say("NOT ISSUED: sheets of revision " + sheet.PendingMark + " changed since issue. Do not work to them until issued.")
	}
	say(p.plan.Plant.Say("Isolate, lock off and prove dead. Other circuits in the same enclosure may be live."))
	for _, s := range slices.Concat(p.mains(), p.safe()) {
		say(s)
	}
	if p.hazard() {
		say(wording.HazardWords(p.zones()))
	}
	if live := p.inService(); len(live) > 0 {
		say("Wiring in service in " + strings.Join(live, ", ") + ". " + wording.ServiceRule)
	}
	if valves := p.valves(); len(valves) > 0 {
		say("The loop checks stroke " + strings.Join(valves, ", ") + ": make process safe, clear the area, isolate air as listed.")
	}
	if p.plan.Plant.Practice.TestVolts > 0 {
		say(p.plan.Plant.Say(wording.NeverThrough))
	}
	for _, s := range p.repeated() {
		say(s)
	}
	for _, s := range p.plan.Plant.Practice.Cautions {
		say(s)
	}
	say(wording.Overrides)
	return t
}

// repeated are the cautions of places on sheets that are printed smaller than they
// are made for: so small, they cannot be read by all. Those of loops stand on their
// records.
func (p *Pack) repeated() (all []string) {
	places := p.places()
	for _, s := range p.plan.Sheets {
		if s.Part > 1 || !slices.Contains(places, s.Place) || !p.reduced(s) {
			continue
		}
		if len(all) == 0 {
			all = append(all, "Drawings are reduced, and their cautions with them. Cautions of enclosures are repeated here, those of loops on the records.")
		}
		for _, c := range enclosure.CautionsOf(p.plan.Plant, enclosure.Placed(s).PlaceView) {
			if !c.Everywhere {
				all = append(all, s.Place.Tag+": "+c.Words)
			}
		}
	}
	return all
}

// mains are the cautions of supplies that can kill: those of the work, then
// those that stand where the work is.
func (p *Pack) mains() (all []string) {
	var own []*model.Part
	for _, s := range p.sources() {
		for _, x := range []*model.Part{s.Part, s.Supply} {
			if x != nil && x.Dangerous() && !slices.Contains(own, x) {
				own = append(own, x)
				all = append(all, fmt.Sprintf("%s of %s in this work%s", x.Gives(), x.Tag, p.plan.Plant.Say(wording.MainsRule)))
			}
		}
	}
	for _, c := range p.circuits() {
		if c.Signal == model.Power && c.Supply() == nil {
			all = append(all, fmt.Sprintf(p.plan.Plant.Say("%s carries power, supply %s, treat as mains%s"), c.Name, paper.NotGiven, p.plan.Plant.Say(wording.MainsRule)))
		}
	}
	for _, pl := range p.places() {
		for _, x := range p.strange(pl) {
			if x.Dangerous() {
				all = append(all, fmt.Sprintf("%s of %s in %s, not this job, stays live%s", x.Gives(), x.Tag, pl.Tag, p.plan.Plant.Say(wording.CoversOn)))
			}
		}
	}
	return all
}

// safe is the caution of intrinsically safe wiring where the work is, of the
// pack or not.
func (p *Pack) safe() []string {
	var places, loops []string
	barrier := false
	for _, pl := range p.places() {
		_, shunt := wording.Hazard(p.plan.Plant, pl)
		barrier = barrier || shunt
		for _, w := range p.plan.Plant.AtPlace(pl) {
			if !w.IntrinsicallySafe() {
				continue
			}
			if !slices.Contains(places, pl.Tag) {
				places = append(places, pl.Tag)
			}
			if !slices.Contains(loops, w.Circuit.Loop.Tag) {
				loops = append(loops, w.Circuit.Loop.Tag)
			}
		}
	}
	if len(places) == 0 {
		return nil
	}
	return []string{wording.SafeWords(p.plan.Plant, fmt.Sprintf("%s (%s)", strings.Join(places, ", "), strings.Join(loops, ", ")), barrier)}
}

// zones are those that devices of the pack stand in, in words; "" for none given.
func (p *Pack) zones() string {
	var all []string
	for _, l := range p.loops {
		for _, x := range l.Devices {
			if z := x.Device.Hazard(); z != "" {
				all = append(all, x.Tag+" in "+z)
			}
		}
	}
	if len(all) == 0 {
		return ""
	}
	return " (" + strings.Join(all, ", ") + ")"
}

// inService are the places of the work that hold existing wiring, and devices of
// the pack that are there already.
func (p *Pack) inService() (tags []string) {
	there := func(w *model.Conductor) bool { return w.Status == model.Existing }
	for _, pl := range p.places() {
		if slices.ContainsFunc(p.plan.Plant.AtPlace(pl), there) {
			tags = append(tags, pl.Tag)
		}
	}
	for _, l := range p.loops {
		for _, x := range l.Devices {
			if x.Place == nil && x.Status == model.Existing {
				tags = append(tags, x.Tag)
			}
		}
	}
	return tags
}

// valves are those that the loop checks of the pack stroke.
func (p *Pack) valves() (tags []string) {
	for _, l := range p.loops {
		for _, x := range l.Devices {
			if v := x.Device.Actuates; v != nil && !slices.Contains(tags, v.Tag) {
				tags = append(tags, v.Tag)
			}
		}
	}
	return tags
}

// permits has lines for the papers of the site.
func permits(hazard bool) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Permit", Width: 44 * render.MM, Hand: paper.Reading},
		{Head: "Number", Width: 30 * render.MM, Hand: paper.Reading},
		{Head: "From", Width: 24 * render.MM, Hand: paper.Reading},
		{Head: "To", Width: 24 * render.MM, Hand: paper.Reading},
		{Head: "Issued by", Width: 26 * render.MM, Hand: paper.Reading},
		{Head: "Handed back", Width: 22 * render.MM, Hand: paper.Reading},
	}}
	names := []string{"Permit to work", "Isolation certificate", ""}
	if hazard {
		names[2] = "Gas test, hazardous area"
	}
	for _, s := range names {
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: s}}})
	}
	return t
}

// circuits are those of the pack that could be bound.
func (p *Pack) circuits() (all []*model.Circuit) {
	for _, l := range p.loops {
		for _, c := range l.Circuits {
			if !c.Broken && c.Path != nil {
				all = append(all, c)
			}
		}
	}
	return all
}

// wires are the conductors of the work: those of its circuits and of the cables
// that it names or rings out.
func (p *Pack) wires() (all []*model.Conductor) {
	plant := p.plan.Plant
	for _, c := range p.circuits() {
		all = append(all, c.Conductors(plant)...)
	}
	for _, c := range slices.Concat(p.scope.Cables, p.rung) {
		for _, core := range c.CoresAndScreens() {
			if w := plant.ConductorOf(core); w != nil {
				all = append(all, w)
			}
		}
	}
	return all
}

// places are those that the work of the pack leads to, in the order of the plant:
// those asked for, and those in which its circuits and cables end.
func (p *Pack) places() []*model.Place {
	plant := p.plan.Plant
	there := map[*model.Place]bool{}
	for _, pl := range p.scope.Places {
		there[pl] = true
	}
	for _, w := range p.wires() {
		there[w.From.Where(plant)], there[w.To.Where(plant)] = true, true
	}
	return slices.DeleteFunc(slices.Clone(plant.Places), func(pl *model.Place) bool { return !there[pl] })
}

// stands is where a part is: its place, and where that stands.
func stands(x *model.Part) string {
	if x.Place == nil {
		return x.Tag
	}
	return wording.Joined(x.Place.Tag, x.Place.At)
}

func loopTags(circuits []*model.Circuit) (tags []string) {
	for _, c := range circuits {
		if !slices.Contains(tags, c.Loop.Tag) {
			tags = append(tags, c.Loop.Tag)
		}
	}
	return tags
}
