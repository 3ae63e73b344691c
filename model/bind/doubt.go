package bind

import (
	"slices"
	"strconv"
	"strings"

	"ringout/model"
)

// This file keeps what nothing uses apart from what cannot be known. A circuit that
// could not be bound lands somewhere all the same: the cores and terminals that it
// names, and that no other circuit uses, are in doubt and are no spares. One that
// names what is not there, or could not be read at all, may use anything.

// doubts are the cores and terminals that errors leave open, with the reason.
type doubts struct {
	plant     *model.Plant
	cores     map[*model.Core]string
	terminals map[*model.Terminal]string
	any       string // "" unless anything may be used
}

// findDoubts looks through the circuits that could not be bound, with what is written
// of each.
func findDoubts(p *model.Plant, written map[*model.Circuit][]PathStep) *doubts {
	d := &doubts{p, map[*model.Core]string{}, map[*model.Terminal]string{}, ""}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if !c.Broken {
				continue
			}
			why := "circuit " + c.Name + " has errors"
			steps := written[c]
			d.steps(steps, why)
			if len(steps) == 0 {
				d.any = why
			}
		}
	}
	for _, c := range p.Cables {
		if c.Unread && c.Type != nil {
			d.group(c, c.Cores, "the spares of "+c.Tag+" have errors")
		}
	}
	return d
}

func (d *doubts) steps(steps []PathStep, why string) {
	for _, s := range steps {
		for _, t := range s.Tails {
			d.steps(t.Steps, why)
		}
		if len(s.Words) == 0 {
			continue
		}
		first := s.Words[0].Text
		_, wires := runWords[first]
		cable, part := d.plant.CableByTag[first], d.plant.PartByTag[first]
		switch {
		case wires:
		case cable != nil:
			d.group(cable, namedCores(cable, s.Words[1:]), why)
		case part != nil:
			for _, t := range namedTerminals(part, s.Words[1:]) {
				d.terminals[t] = why
			}
		default:
			d.any = why
		}
	}
}

// group puts cores of a cable and the screens of their groups in doubt.
func (d *doubts) group(c *model.Cable, cores []*model.Core, why string) {
	for _, core := range cores {
		if d.cores[core] = why; len(c.Screens) > 0 {
			d.cores[c.Screens[core.Group-1]] = why
		}
	}
}

// core is why it cannot be known what a core is for; "" where it can.
func (d *doubts) core(c *model.Core) string {
	if why := d.cores[c]; why != "" {
		return why
	}
	return d.any
}

// mark puts the terminals in doubt that nothing lands on.
func (d *doubts) mark() {
	d.plant.EachTerminal(func(t *model.Terminal) {
		if len(t.Ends) > 0 || t.Bar {
			return
		}
		if t.Doubt = d.terminals[t]; t.Doubt == "" {
			t.Doubt = d.any
		}
	})
}

// namedCores are the cores that words of a path name: all of the cable where they do
// not say which.
func namedCores(c *model.Cable, words []Token) []*model.Core {
	if len(words) < 2 || c.Type == nil {
		return c.Cores
	}
	size := groupSizes[words[0].Text]
	var cores []*model.Core
	for _, w := range words[1:] {
		if w.Text == "reversed" {
			continue
		}
		n, err := strconv.Atoi(w.Text)
		if size == 0 || err != nil || n < 1 || n*size > len(c.Cores) {
			return c.Cores
		}
		cores = append(cores, c.Cores[(n-1)*size:n*size]...)
	}
	return cores
}

// namedTerminals are the terminals that words of a path name: all of the part where they do
// not say which.
func namedTerminals(p *model.Part, words []Token) []*model.Terminal {
	if len(words) > 1 && words[0].Text == "channel" {
		n, _ := strconv.Atoi(words[1].Text)
		if own := p.Channel(n); own != nil {
			return own
		}
		return p.Terminals
	}
	var named []*model.Terminal
	for _, w := range words {
		if slices.Contains([]string{".", "x", "screen"}, w.Text) {
			continue
		}
		for name := range strings.SplitSeq(w.Text, ">") {
			t := p.TerminalByName[name]
			if name == "x" {
				continue
			}
			if t == nil {
				return p.Terminals
			}
			named = append(named, t)
		}
	}
	if len(named) == 0 {
		return p.Terminals
	}
	return named
}
