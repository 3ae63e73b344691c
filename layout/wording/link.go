package wording

import (
	"fmt"
	"slices"
	"strings"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
)

// This file puts remote I/O and its links into words.

// Cautions of links: the danger, then the order. Both are common practice.
const (
	LinkLight = "Invisible light in fibres harms eyes: transmitters off, ends capped; never look into a fibre or port."
	LinkLoss  = "A link that opens stops I/O: operations told, loops in manual, written authority for any trip bypass."
	LinkPorts = "No insulation tester on a link whose ports are connected."
)

// LinkKind is what a link is, for one that reads of it elsewhere.
func LinkKind(l *model.Loop) string { return l.Segment.Kind.Name }

// linksOf names the links that come to a rack, or what is not given.
func linksOf(p *model.Plant, rack *model.Place) string {
	if all := p.Links(rack); len(all) > 0 {
		return strings.Join(loopTags(all), ", ")
	}
	return "link " + paper.NotGiven
}

func loopTags(all []*model.Loop) (tags []string) {
	for _, l := range all {
		tags = append(tags, l.Tag)
	}
	return tags
}

// Remote tells of each rack that the circuits of a loop are on how they go on from there,
// and what their outputs do without a link.
func Remote(p *model.Plant, l *model.Loop) (all []string) {
	for _, rack := range l.RacksOf() {
		words := fmt.Sprintf("%s is remote I/O: its channels go on to %s by %s.", rack.Tag, rack.Controller.Tag, linksOf(p, rack))
		for _, card := range cardsOf(l, rack) {
			if card.MayHoldOnLoss() {
				words += fmt.Sprintf(" Without a link, outputs of %s: %s.", card.Tag, OnLoss(card))
			}
		}
		all = append(all, words)
	}
	return all
}

// cardsOf are the cards of a rack that the circuits of a loop are on, each once.
func cardsOf(l *model.Loop, rack *model.Place) (all []*model.Part) {
	for _, c := range l.Circuits {
		if c.Broken {
			continue
		}
		for _, st := range c.Stations() {
			if x := st.Part; x.Card != nil && x.Of == nil && x.Place == rack && !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	return all
}

// RackWords tell what a link is to a rack that it serves.
func RackWords(p *model.Plant, rack *model.Place, l *model.Loop) string {
	others := slices.DeleteFunc(p.Links(rack), func(o *model.Loop) bool { return o == l })
	words := fmt.Sprintf("%s, remote I/O of %s", rack.Tag, rack.Controller.Tag)
	switch {
	case !p.Reaches(rack):
		return words + "; no link leads there"
	case p.CutOff(rack, l):
		return words + "; without " + l.Tag + " it is cut off"
	case len(others) == 0:
		return words + "; without " + l.Tag + " it is reached another way"
	}
	return words + "; without " + l.Tag + " it stays joined by " + strings.Join(loopTags(others), ", ")
}

// RackTables has a table for each rack that a link serves: its cards in use, the loops on
// each, and what its outputs do when no link is left.
func RackTables(p *model.Plant, l *model.Loop) (all []*paper.Table) {
	for _, rack := range p.Served(l) {
		t := &paper.Table{Columns: []paper.Column{
			{Head: RackWords(p, rack, l), Width: 62 * render.MM},
			{Head: "Loops on it", Width: 66 * render.MM},
			{Head: "Outputs when no link is left", Width: 42 * render.MM},
		}}
		for _, x := range rack.Parts {
			if x.Card == nil {
				continue
			}
			loops := loopTags(OnCard(p, x))
			if len(loops) == 0 {
				continue
			}
			outputs := paper.Cell{Kind: paper.NA}
			if x.MayHoldOnLoss() {
				outputs = paper.Cell{S: OnLoss(x)}
			}
			t.Rows = append(t.Rows, paper.Row{Print: true, Data: []render.Datum{{Key: "card", Value: x.Tag}}, Cells: []paper.Cell{
				{S: Joined(x.Tag, p.Say(x.Kind.Words), Given(x.Card.Address)), Bold: true}, {S: loopsOn(loops)}, outputs,
			}})
		}
		if len(t.Rows) == 0 {
			t.Rows = []paper.Row{{Print: true, Cells: []paper.Cell{{S: "no card in use"}, {Kind: paper.NA}, {Kind: paper.NA}}}}
		}
		all = append(all, t)
	}
	return all
}

// OnCard are the loops with a circuit on a card of remote I/O.
func OnCard(p *model.Plant, card *model.Part) (all []*model.Loop) {
	for _, o := range p.OnRack(card.Place) {
		if slices.Contains(cardsOf(o, card.Place), card) {
			all = append(all, o)
		}
	}
	return all
}

// loopsOn names loops, counted where they are many.
func loopsOn(tags []string) string {
	const most = 12
	if n := len(tags); n > most {
		return fmt.Sprintf("%s: %s and %d more, see I/O list", finding.Count(n, "loop"), strings.Join(tags[:most], ", "), n-most)
	}
	return strings.Join(tags, ", ")
}

// PlugCable is the cable of a link by plugs: its tag, and which fibres.
func PlugCable(l *model.Loop) string {
	k := &l.Segment.Plug
	words := Given(k.Cable)
	if l.Segment.Kind.Glass {
		words += ", fibres " + Given(k.Fibres)
	}
	return words
}

// LossLimit is the most that each fibre of a link may lose.
func LossLimit(k *model.PlugLink) string {
	if k.Loss <= 0 {
		return paper.NotGiven
	}
	return Plain(k.Loss) + " dB"
}

// LinkFacts are what a loop shows of remote I/O that its own text has not: the links of the
// racks that it is on; of a link the racks that it serves, what else leads there, their
// cards and who is on these.
func LinkFacts(p *model.Plant, l *model.Loop) (all []string) {
	for _, rack := range l.RacksOf() {
		all = append(all, rack.Tag+" to "+rack.Controller.Tag+" by "+linksOf(p, rack))
		for _, card := range cardsOf(l, rack) {
			all = append(all, card.Tag+" without: "+card.Card.OnLoss)
		}
		lost := p.LostBy(rack)
		all = append(all, fmt.Sprint(rack.Tag, " lost by any ", lost.Alone))
		for _, x := range lost.Links {
			all = append(all, fmt.Sprintf("%s: %q to %q", x.Tag, x.LinkCables(), x.LinkPorts()))
		}
		for _, x := range rack.Parts {
			if x.Supply != nil {
				all = append(all, rack.Tag+" has "+x.Tag)
			}
		}
	}
	if l.Segment == nil {
		return all
	}
	for _, rack := range p.Served(l) {
		all = append(all, rack.Tag+" of "+rack.Controller.Tag+" by "+linksOf(p, rack), fmt.Sprint(p.Reaches(rack), p.CutOff(rack, l)))
		for _, o := range p.OnRack(rack) {
			for _, card := range cardsOf(o, rack) {
				all = append(all, strings.Join([]string{o.Tag, card.Tag, card.Kind.Name, card.Card.Address, card.Card.OnLoss}, "|"))
			}
		}
	}
	return all
}

// OnLoss is what the outputs of a card do when no link is left.
func OnLoss(card *model.Part) string {
	if card.Card.OnLoss == "" {
		return paper.NotGiven + ": on link loss of " + card.Tag
	}
	return card.Card.OnLoss
}

// JoinFacts are what the sheet of a place shows of a link besides its own text: what else
// it joins, its cables and the ways they go.
func JoinFacts(l *model.Loop) string {
	var all []string
	for _, pl := range l.Joins() {
		all = append(all, pl.Tag)
	}
	return strings.Join(slices.Concat(all, l.LinkCables(), l.LinkRoutes()), "|")
}
