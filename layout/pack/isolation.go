package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/material"
	"ringout/render"
)

// This file makes the isolation list of a pack. For each source of energy of the
// work it names the smallest point of the model that can be locked off and opens all
// of its poles: the distribution circuit of the supply behind it. What a supply, card
// or device is fed from in the end, material.Energies finds. A terminal with a fuse or
// a disconnect opens one pole and takes no lock: it is named beside the lock, never in
// place of it, and never for mains.

// freeIsolations are the empty rows for what the model does not know of.
const freeIsolations = 2

// findFeed is what an unknown feed asks for.
const findFeed = paper.NotGiven + ": find it before the work begins"

// isolation has a row for each point at which the work is isolated. Its columns are
// in the order in which they are filled in.
func (p *Pack) isolation() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Isolation point; what it kills", Width: 73 * render.MM, Hand: paper.Reading},
		{Head: "Opera-\ntions\ntold", Width: 15 * render.MM, Hand: paper.Reading},
		{Head: "Isolated:\nby, when", Width: 21 * render.MM, Hand: paper.Reading},
		{Head: "Lock no.", Width: 16 * render.MM, Hand: paper.Reading},
		{Head: "Dead, tester\nproved before\nand after", Width: 24 * render.MM, Hand: paper.Reading},
		{Head: "Restored:\nby, when", Width: 21 * render.MM, Hand: paper.Reading},
	}}
	for _, s := range slices.Concat(p.locked(), p.unfed(), p.lifted(), p.unlinked(), p.moved()) {
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: s}}})
	}
	t.Rows = append(t.Rows, make([]paper.Row, freeIsolations)...)
	return t
}

// staysLive lists what is not isolated where the work is: it has no lock.
func (p *Pack) staysLive() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: "Stays live: covers on", Width: 158 * render.MM}, {Head: "Done", Width: 12 * render.MM}}}
	for _, s := range slices.Concat(p.others(), p.measured()) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: s}, {Kind: paper.Tick}}})
	}
	return t
}

// sources are those of the circuits of the pack, each once, in the order of the circuits.
func (p *Pack) sources() (all []material.Energy) {
	for _, c := range p.circuits() {
		for _, s := range material.Energies(c) {
			if !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return all
}

// supplies are those that feed the sources of the pack.
func (p *Pack) supplies() (all []*model.Part) {
	for _, s := range p.sources() {
		if s.Supply != nil && !slices.Contains(all, s.Supply) {
			all = append(all, s.Supply)
		}
	}
	return all
}

// locked are the distribution circuits that feed supplies of the work. Locking one
// off makes all supplies dead that the plant has on it.
func (p *Pack) locked() (rows []string) {
	var done []*model.Part
	for _, x := range p.supplies() {
		if slices.Contains(done, x) {
			continue
		}
		on := []*model.Part{x}
		if x.Supply.Circuit != "" {
			on = material.OnCircuit(p.plan.Plant, x.Supply.Circuit)
		}
		done = append(done, on...)
		where := "feed of " + x.Tag + " " + findFeed
		if x.Supply.Circuit != "" {
			where = x.Supply.Circuit
		}
		var feeds []string
		var circuits []*model.Circuit
		mains := false
		for _, s := range on {
			feeds = append(feeds, fmt.Sprintf("%s, %s, fuse %s, in %s", s.Tag, s.Supply.Text, wording.Given(s.Supply.Fuse.Text), stands(s)))
			circuits = append(circuits, material.FedBy(p.plan.Plant, s)...)
			mains = mains || s.Supply.Dangerous()
		}
		if mains {
			where += ", all poles, by qualified persons"
		}
		rows = append(rows, where+": "+strings.Join(feeds, "; ")+". Isolates "+strings.Join(p.down(circuits), ", ")+p.lost("; ", circuits)+p.deaf(on)+p.onePole(circuits))
	}
	return rows
}

// down are the loops of the pack among circuits, those in service marked.
func (p *Pack) down(circuits []*model.Circuit) (tags []string) {
	for _, c := range circuits {
		if tag := serviceTag(c.Loop); slices.Contains(p.loops, c.Loop) && !slices.Contains(tags, tag) {
			tags = append(tags, tag)
		}
	}
	return tags
}

// serviceTag is the tag of a loop, marked where the loop is in service.
func serviceTag(l *model.Loop) string {
	if l.Status == model.Existing {
		return l.Tag + " (in service)"
	}
	return l.Tag
}

// onePole names the terminals that open one pole between circuits of the pack and their
// supply, beside the lock, and what else is off with each; none for mains.
func (p *Pack) onePole(circuits []*model.Circuit) string {
	var order []*model.Terminal
	tags := map[*model.Terminal][]string{}
	for _, c := range circuits {
		if c.Mains() || !slices.Contains(p.loops, c.Loop) {
			continue
		}
		for _, t := range material.FeedKnives(c) {
			if tags[t] == nil {
				order = append(order, t)
			}
			if !slices.Contains(tags[t], c.Loop.Tag) {
				tags[t] = append(tags[t], c.Loop.Tag)
			}
		}
	}
	var all []string
	for _, t := range order {
		all = append(all, fmt.Sprintf("%s for %s%s", strings.TrimSpace(t.Tag()+" "+t.Fuse.Text), strings.Join(tags[t], ", "), p.lost(", ", t.Linked(p.plan.Plant))))
	}
	if len(all) == 0 {
		return ""
	}
	return ". No substitute, one pole only, not lockable: " + strings.Join(all, "; ")
}

// unfed are the circuits that carry power whose supply the text does not give: they are
// treated as mains. Circuits with errors are among them.
func (p *Pack) unfed() (rows []string) {
	for _, l := range p.loops {
		for _, c := range l.Circuits {
			switch {
			case c.Broken:
				rows = append(rows, fmt.Sprintf("circuit %s has errors, its isolation %s: no work on it", c.Name, model.Unknown))
			case slices.Contains(material.Energies(c), material.Energy{}):
				rows = append(rows, fmt.Sprintf(p.plan.Plant.Say("supply of %s, treat as mains, all poles, by qualified persons: %s"), c.Name, findFeed))
			}
		}
	}
	return rows
}

// lifted are the cards, isolators and devices that bring energy and whose supply the
// text does not give. Where it is extra-low voltage the cores can be parted at a
// place that bears no lock.
func (p *Pack) lifted() (rows []string) {
	var order []*model.Part
	ways := map[*model.Part][]string{}
	for _, c := range p.circuits() {
		for _, s := range material.Energies(c) {
			if s.Part == nil || s.Supply != nil {
				continue
			}
			if _, known := ways[s.Part]; !known {
				order = append(order, s.Part)
				ways[s.Part] = nil
			}
			if !c.Mains() {
				ways[s.Part] = append(ways[s.Part], p.partedAt(c, s.Part))
			}
		}
	}
	for _, x := range order {
		row := fmt.Sprintf("%s in %s, feed %s", x.Tag, stands(x), findFeed)
		if len(ways[x]) > 0 {
			row += p.plan.Plant.Say(". Otherwise, off and proved dead, not lockable: ") + strings.Join(slices.Compact(ways[x]), "; ")
		}
		row += p.lost(". With its feed isolated, ", material.FedBy(p.plan.Plant, x))
		rows = append(rows, row)
	}
	return rows
}

// partedAt is where the cores of a circuit are disconnected by hand from what feeds it, and
// what else is off then: what ends on them, or goes by the same link.
func (p *Pack) partedAt(c *model.Circuit, feeder *model.Part) string {
	knives, all := material.Knives(c, feeder)
	at, how := knives, "open"
	if !all {
		at, how, knives = material.LiftedAt(c, feeder), "lift and cap", nil
	}
	var words []string
	var last *model.Part
	for _, t := range at {
		if t.Part == last {
			words = append(words, t.Name)
		} else {
			words = append(words, t.Part.Tag+" "+t.Name)
		}
		last = t.Part
	}
	return fmt.Sprintf("%s %s (%s%s)", how, strings.Join(words, " "), serviceTag(c.Loop), p.lost("; ", material.DeadWith(p.plan.Plant, c, knives)))
}

// measured are the cards that send no more than their measuring current through
// sensors of the pack.
func (p *Pack) measured() (rows []string) {
	var cards []*model.Part
	loops := map[*model.Part][]*model.Circuit{}
	for _, c := range p.circuits() {
		if c.Signal != model.Resistance || len(material.Feeders(c)) > 0 {
			continue
		}
		for _, s := range c.Stations() {
			if s.Part.Card == nil {
				continue
			}
			if loops[s.Part] == nil {
				cards = append(cards, s.Part)
			}
			loops[s.Part] = append(loops[s.Part], c)
		}
	}
	for _, x := range cards {
		rows = append(rows, fmt.Sprintf("%s in %s: measuring current only, to %s", x.Tag, stands(x), strings.Join(loopTags(loops[x]), ", ")))
	}
	return rows
}

// moved is what drives the valves that the loop checks of the pack stroke: it is
// energy that is stored, air as a rule.
func (p *Pack) moved() (rows []string) {
	for _, l := range p.loops {
		for _, x := range l.Devices {
			valve := x.Device.Actuates
			if valve == nil {
				continue
			}
			air := cmp.Or(x.Device.Air.Text, valve.Device.Air.Text)
			rows = append(rows, fmt.Sprintf("air, %s to %s: %s; isolate, vent", x.Tag, valve.Tag, wording.Given(air)))
		}
	}
	return rows
}

// others are the supplies in places of the work that feed nothing of it, and the
// cards that bring a voltage there that can kill.
func (p *Pack) others() (rows []string) {
	for _, pl := range p.places() {
		for _, x := range p.strange(pl) {
			from, fuse := "", ""
			switch {
			case x.Supply != nil:
				from, fuse = x.Supply.Circuit, x.Supply.Fuse.Text
			case x.CardSupply() != nil:
				from = x.CardSupply().Tag
			}
			rows = append(rows, fmt.Sprintf("%s in %s, %s, not in this job; fed from %s, fuse %s", x.Tag, pl.Tag, x.Gives(), wording.Given(from), wording.Given(fuse)))
		}
	}
	return rows
}

// strange are the supplies in a place, and the cards whose voltage there can kill,
// that no lock of the pack takes down.
func (p *Pack) strange(pl *model.Place) []*model.Part {
	var down []*model.Part
	for _, x := range p.supplies() {
		down = append(down, x)
		if x.Supply.Circuit != "" {
			down = append(down, material.OnCircuit(p.plan.Plant, x.Supply.Circuit)...)
		}
	}
	for _, s := range p.sources() {
		if s.Part != nil && s.Part.Card != nil {
			down = append(down, s.Part)
		}
	}
	all := p.plan.Plant.Supplies(pl)
	for _, x := range p.plan.Plant.DangerousSources(pl) {
		if !slices.Contains(all, x) && !slices.Contains(down, x.CardSupply()) {
			all = append(all, x)
		}
	}
	return slices.DeleteFunc(all, func(x *model.Part) bool { return slices.Contains(down, x) })
}

// mostLost is how many loops that are lost a row names.
const mostLost = 40

// lost says, behind some words, which loops of circuits go dead besides those of the pack, and
// which of them are in service; "" for none.
func (p *Pack) lost(behind string, circuits []*model.Circuit) string {
	var tags []string
	for _, c := range circuits {
		tag := serviceTag(c.Loop)
		if c.Status != model.Future && !slices.Contains(p.loops, c.Loop) && !slices.Contains(tags, tag) {
			tags = append(tags, tag)
		}
	}
	if len(tags) == 0 {
		return ""
	}
	if n := len(tags) - mostLost; n > 0 {
		tags = append(tags[:mostLost], fmt.Sprintf("and %d more, see I/O list", n))
	}
	return behind + "also off: " + strings.Join(tags, ", ")
}
