package imports

import (
	"cmp"
	"slices"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/pattern"
	"ringout/model/read"
)

// This file takes in the places that were counted: the paths count them again, and the
// places are kept.

// anyCounted are the places that a circuit counted on one thing.
type anyCounted struct {
	row               *columns.Row
	loop, circuit, on string
	places            []string
	at                int // of the next one in the path
}

// takeCounted takes in a row of the list of counted places.
func (im *Importer) takeCounted(r *columns.Row) {
	c := &anyCounted{row: r, loop: r.Get("loop"), circuit: r.Get("circuit"), on: r.Get("counted on"), places: strings.Fields(r.Get("places"))}
	switch {
	case c.loop == "":
		im.lose(r, "loop", finding.CellMissing, "is empty")
	case c.circuit == "":
		im.lose(r, "circuit", finding.CellMissing, "is empty")
	case len(c.places) == 0:
		im.lose(r, "places", finding.CellMissing, "is empty")
	case slices.ContainsFunc(im.counted, func(o *anyCounted) bool { return o.loop == c.loop && o.circuit == c.circuit && o.on == c.on }):
		im.lose(r, "counted on", finding.ListedTwice, "places of %s on %s are listed twice", c.circuit, c.on)
	default:
		im.counted = append(im.counted, c)
	}
}

// count lets the paths count the places that they counted before.
func (im *Importer) count() {
	of := map[[2]string][]*anyCounted{}
	for _, c := range im.counted {
		of[[2]string{c.loop, c.circuit}] = append(of[[2]string{c.loop, c.circuit}], c)
	}
	for _, l := range im.loops {
		for _, c := range l.circuits {
			if all := of[[2]string{l.tag, c.name}]; all != nil {
				im.countSteps(c.walk, all)
			}
		}
	}
	im.counted = slices.DeleteFunc(im.counted, func(c *anyCounted) bool {
		if c.at == len(c.places) {
			return false
		}
		im.lose(c.row, "places", finding.ListsDisagree, "%s of loop %s does not take %s of %s", c.circuit, c.loop, c.places[c.at], c.on)
		return c.at == 0
	})
}

// countSteps does so in some steps.
func (im *Importer) countSteps(steps []walkStep, all []*anyCounted) {
	for i := range steps {
		for _, tail := range steps[i].tails {
			im.countSteps(tail.steps, all)
		}
		words := strings.Split(steps[i].words, " ")
		for _, c := range all {
			if c.on == words[0] {
				im.countWords(words, c)
			}
		}
		steps[i].words = strings.Join(words, " ")
	}
}

// countWords writes <next> for the next places of a step, and next for what follows each.
func (im *Importer) countWords(words []string, c *anyCounted) {
	names := im.order(words)
	landed := slices.Clone(words)
	counting := false
	first := 2 // behind "pair" or "channel"
	if p := im.byTag[c.on]; p != nil && p.isStrip() {
		first = 1
	}
	for i := first; i < len(words); i++ {
		if c.at < len(c.places) && landed[i] == c.places[c.at] {
			name := landed[i]
			head := name[:len(name)-len(strings.TrimLeftFunc(name, notDigit))]
			tail := strings.TrimLeft(name[len(head):], "0123456789")
			words[i] = head + "<" + pattern.Next + ">" + tail
			c.at++
			counting = true
			continue
		}
		at := slices.Index(names, landed[i])
		if counting = counting && at > 0 && names[at-1] == landed[i-1]; counting {
			words[i] = pattern.Next
		}
	}
}

func notDigit(r rune) bool { return r < '0' || r > '9' }

// order are the terminals of the strip of a step, in their order; nil of all else.
func (im *Importer) order(words []string) []string {
	if p := im.byTag[words[0]]; p != nil && p.isStrip() && (p.given || !p.keys.has(landings[p.kind])) {
		return p.terminals
	}
	return nil
}

// countedText is counted.yaml; "" where nothing was counted.
func (im *Importer) countedText() string {
	var p model.Plant
	for _, c := range im.counted {
		p.Counted = append(p.Counted, &model.Counted{Loop: c.loop, Circuit: c.circuit, On: c.on, Places: c.places[:c.at]})
	}
	if len(p.Counted) == 0 {
		return ""
	}
	// A list may come back to a loop, or to a circuit of it, that it had before.
	first := map[[2]string]int{}
	turn := func(c *model.Counted, circuit string) int {
		key := [2]string{c.Loop, circuit}
		if first[key] == 0 {
			first[key] = len(first) + 1
		}
		return first[key]
	}
	for _, c := range p.Counted {
		turn(c, "")
		turn(c, c.Circuit)
	}
	slices.SortStableFunc(p.Counted, func(a, b *model.Counted) int {
		return cmp.Or(turn(a, "")-turn(b, ""), turn(a, a.Circuit)-turn(b, b.Circuit))
	})
	text, err := read.CountedText(&p, "counted.yaml")
	if err != nil {
		return ""
	}
	return string(text)
}
