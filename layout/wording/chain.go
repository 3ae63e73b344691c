package wording

import (
	"cmp"
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// chainWords are what a group of instruments shares: its supply, its fuses, and what flows in
// the first.
func chainWords(plant *model.Plant, chain model.Chain) string {
	head := chain.Links[0].Circuit
	words := "Shared supply: " + paper.NotGiven
	if s := head.Supply(); s != nil {
		words = fmt.Sprintf("Shared supply: %s, %s", s.Tag, s.Supply.Text)
	}
	fused := false
	for _, l := range chain.Links {
		for _, d := range compute.FuseDemands(plant, l.Circuit) {
			if !strings.Contains(words, d.Fuse.Tag()) {
				words += fmt.Sprintf("; fuse %s, %s, %s", d.Fuse.Tag(), cmp.Or(d.Fuse.Fuse.Text, paper.NotGiven), d.Sum())
			}
			fused = true
		}
	}
	if !fused {
		words += "; no fuse of its own"
	}
	return words
}

// ChainForm is the form for the supply that instruments share: volts at each from the first to
// the last, polarity, and what goes dead when a link opens.
func ChainForm(plant *model.Plant, chain model.Chain) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Link to", Width: 30 * render.MM},
		{Head: "Lands on", Width: 60 * render.MM, Face: fonts.Mono},
		{Head: "Volts expected", Width: 34 * render.MM},
		{Head: "Read", Width: 18 * render.MM, Hand: paper.Reading},
		{Head: "Poles right", Width: 22 * render.MM},
		{Head: "Dead when this link opens", Width: 86 * render.MM},
		{Head: "Proved", Width: 18 * render.MM},
		paper.Initials,
	}}
	t.Rows = append(t.Rows, paper.Row{Group: chainWords(plant, chain)})
	for i, l := range chain.Links {
		d := l.Device()
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("link-%d-%s", i+1, d.Tag), Data: []render.Datum{{Key: "link", Value: l.Name}}, Cells: []paper.Cell{
			{S: d.Tag, Bold: true}, {S: strings.Join(landsOn(l.Circuit), " ")}, {S: chainVolts(plant, l.Circuit)}, {}, {Kind: paper.Tick}, {S: deadWords(l)}, {Kind: paper.Tick}, {},
		}})
	}
	how := []paper.Cell{{S: "Members in service: take no link out, it stops all that it names. Supply off and locked: fuse as drawn. Supply on: volts at the first and the last member, all members on. " +
		"To prove a link: supply off and locked, open it, supply on; the members that it names are dead, the others live. Close it with the supply off."}}
	for range t.Columns[1:] {
		how = append(how, paper.Cell{Kind: paper.Before})
	}
	t.Rows = append(t.Rows, paper.Row{Print: true, Cells: how})
	return t
}

// landsOn are the terminals that the legs of a circuit end on.
func landsOn(c *model.Circuit) (all []string) {
	for _, l := range c.Legs {
		if t := l.End(); t != nil {
			all = append(all, t.Tag())
		}
	}
	return all
}

// chainVolts is what a meter should read at the device of a supply circuit.
func chainVolts(plant *model.Plant, c *model.Circuit) string {
	r, ok := compute.ReadingsOf(plant, c)
	switch {
	case !ok || len(r.Missing)+len(r.Rows) == 0:
		return paper.NotGiven
	case len(r.Missing) > 0:
		return paper.NotGiven + ": " + Lacking(r.Missing)
	}
	return r.Rows[0].Values[0].Words(r.Unit) + " " + r.Unit
}

// deadWords name the instruments without supply when a link opens.
func deadWords(l model.Link) string {
	var tags []string
	for _, d := range l.Dead {
		tags = append(tags, d.Tag)
	}
	return strings.Join(tags, ", ")
}
