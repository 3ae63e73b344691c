package imports

import (
	"strings"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/tell"
	"ringout/model/colour"
	"ringout/model/finding"
)

// This file settles what only all rows together tell.

// settlePlaces guesses what sort the places are that no list describes. One
// without strips is a system. Where cards are, or the next place has them, or no
// field device goes to, is a cabinet; else it is a box.
func (im *Importer) settlePlaces() {
	for _, p := range im.parts {
		if p.place == nil && p.loop == "" {
			for _, r := range p.rows {
				im.lose(r, "place", finding.NotListed, "nothing tells where card %s is", p.tag)
			}
		}
	}
	strips, cards, near := map[*anyPlace]bool{}, map[*anyPlace]bool{}, map[*anyPlace]bool{}
	for _, p := range im.parts {
		if p.place != nil {
			strips[p.place] = strips[p.place] || p.isStrip()
			cards[p.place] = cards[p.place] || p.isCard()
		}
	}
	fields := map[*anyPlace]bool{}
	for _, c := range im.cables {
		for _, ends := range [][2]string{{c.from, c.to}, {c.to, c.from}} {
			if pl := im.place(ends[0]); pl != nil {
				p := im.byTag[ends[1]]
				fields[pl] = fields[pl] || p != nil && p.isDevice()
				near[pl] = near[pl] || cards[im.place(ends[1])]
			}
		}
	}
	for _, pl := range im.places {
		switch {
		case !pl.guessed:
		case !strips[pl]:
			pl.kind = "system"
		case cards[pl] || near[pl] || !fields[pl]:
			pl.kind = "cabinet"
		default:
			pl.kind = "box"
		}
	}
}

// settleCards tells of cards in a list of I/O without their terminals, where wires land on some
// that do not tell their channel.
func (im *Importer) settleCards() {
	for _, p := range im.parts {
		if names := p.unknownTerminals(); p.isCard() && len(p.rows) > 0 && names != nil {
			im.remark(p.rows[0], "", finding.OddList, "no list tells which channels of %s have the terminals %s", p.tag, tell.Names(names, ", ")).with(
				finding.Do("add the column terminals, and common where channels share one"))
		}
	}
}

// settleColours gives the colours of the termination list to types without a
// colour code, where it has them all. Printed numbers do not go into a list of
// colours: a code that has the same colours is looked for.
func (im *Importer) settleColours() {
	for _, t := range im.types {
		if t.code || t.keys.has("colours") || len(t.colours) < t.groups*t.size {
			continue
		}
		var groups []string
		for g := 1; g <= t.groups; g++ {
			var group []string
			for n := 1; n <= t.size; n++ {
				group = append(group, t.colours[[2]int{g, n}])
			}
			groups = append(groups, strings.Join(group, " "))
		}
		all := strings.Join(groups, lists.PartedTexts)
		if !strings.ContainsAny(all, "0123456789") {
			t.keys.addOf(lists.Column{Key: "colours", Parted: lists.PartedTexts}, all)
			continue
		}
		for _, c := range colour.Codes() {
			if t.wears(c) {
				t.positive = c.Positive()
				t.keys.add("code", c.Name)
				break
			}
		}
	}
}

// wears reports whether a code gives every core the colour that was listed.
func (t *anyType) wears(c *colour.Code) bool {
	for g := 1; g <= t.groups; g++ {
		cores, ok := c.Cores(g, t.size, t.groups)
		if !ok {
			return false
		}
		for i, colour := range cores {
			if colour.Letters() != t.colours[[2]int{g, i + 1}] {
				return false
			}
		}
	}
	return true
}

// settleSpares finds what is done with most spares.
func (im *Importer) settleSpares() {
	if im.spare = im.setting("spare cores"); im.spare != "" {
		return
	}
	times := map[string]int{}
	for _, e := range im.edges {
		if e.circuit == nil && e.cable != nil && e.group > 0 && e.from.part == nil && e.to.part == nil && e.from.free == e.to.free && e.from.free != "" {
			if times[e.from.free]++; times[e.from.free] > times[im.spare] {
				im.spare = e.from.free
			}
		}
	}
}
