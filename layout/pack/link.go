package pack

import (
	"fmt"
	"slices"
	"strings"

	"ringout/layout/wording"
	"ringout/model"
)

// This file tells what stops where the work opens a link of remote I/O, or takes the supply
// of its cards.

// unlinked has a row for each rack that a link of the pack serves: what stops with it.
func (p *Pack) unlinked() (rows []string) {
	plant := p.plan.Plant
	for _, l := range p.loops {
		for _, rack := range plant.Served(l) {
			words := fmt.Sprintf("link %s: %s", l.Tag, wording.RackWords(plant, rack, l))
			if plant.CutOff(rack, l) {
				words += "; " + stops(plant.OnRack(rack))
			} else {
				words += ". Prove the other way healthy before this one is opened"
			}
			rows = append(rows, words)
		}
	}
	return rows
}

// deaf names the cards of remote I/O that are off with supplies, and the loops on them: the
// supply of a card need not drive their circuits.
func (p *Pack) deaf(off []*model.Part) string {
	words := ""
	for _, rack := range p.plan.Plant.Racks() {
		for _, x := range rack.Parts {
			if x.Card != nil && x.CardSupply() != nil && slices.Contains(off, x.CardSupply()) {
				if on := wording.OnCard(p.plan.Plant, x); len(on) > 0 {
					words += fmt.Sprintf(". Card %s of %s off: %s", x.Tag, rack.Tag, stops(on))
				}
			}
		}
	}
	return words
}

// stops names loops that stop, those in service marked.
func stops(loops []*model.Loop) string {
	var tags []string
	for _, l := range loops {
		tags = append(tags, serviceTag(l))
	}
	if n := len(tags) - mostLost; n > 0 {
		tags = append(tags[:mostLost:mostLost], fmt.Sprintf("and %d more, see I/O list", n))
	}
	if len(tags) == 0 {
		return "no loop is on it"
	}
	return "stops " + strings.Join(tags, ", ")
}
