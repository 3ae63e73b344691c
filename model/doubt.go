package model

import (
	"slices"
	"strconv"
	"strings"
)

// This file keeps what nothing uses apart from what cannot be known. A circuit that
// could not be bound lands somewhere all the same: the cores and terminals that it
// names, and that no other circuit uses, are in doubt and are no spares. One that
// names what is not there, or could not be read at all, may use anything.

// Unknown is what stands in the place of a fact that errors leave open.
const Unknown = "NOT KNOWN"

// doubts are the cores and terminals that errors leave open, with the reason.
type doubts struct {
	plant     *Plant
	cores     map[*Core]string
	terminals map[*Terminal]string
	any       string // "" unless anything may be used
}

// findDoubts looks through the circuits that could not be bound, with what is written
// of each.
func findDoubts(p *Plant, written map[*Circuit][]step) *doubts {
	d := &doubts{p, map[*Core]string{}, map[*Terminal]string{}, ""}
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
		if c.unread && c.Type != nil {
			d.group(c, c.Cores, "the spares of "+c.Tag+" have errors")
		}
	}
	return d
}

func (d *doubts) steps(steps []step, why string) {
	for _, s := range steps {
		for _, t := range s.tails {
			d.steps(t.steps, why)
		}
		if len(s.words) == 0 {
			continue
		}
		first := s.words[0].text
		_, wires := runWords[first]
		cable, part := d.plant.cables[first], d.plant.parts[first]
		switch {
		case wires:
		case cable != nil:
			d.group(cable, cable.named(s.words[1:]), why)
		case part != nil:
			for _, t := range part.named(s.words[1:]) {
				d.terminals[t] = why
			}
		default:
			d.any = why
		}
	}
}

// group puts cores of a cable and the screens of their groups in doubt.
func (d *doubts) group(c *Cable, cores []*Core, why string) {
	for _, core := range cores {
		if d.cores[core] = why; len(c.Screens) > 0 {
			d.cores[c.Screens[core.Group-1]] = why
		}
	}
}

// core is why it cannot be known what a core is for; "" where it can.
func (d *doubts) core(c *Core) string {
	if why := d.cores[c]; why != "" {
		return why
	}
	return d.any
}

// mark puts the terminals in doubt that nothing lands on.
func (d *doubts) mark() {
	d.plant.eachTerminal(func(t *Terminal) {
		if len(t.Uses) > 0 || t.Bar {
			return
		}
		if t.Doubt = d.terminals[t]; t.Doubt == "" {
			t.Doubt = d.any
		}
	})
}

// named are the cores that words of a walk name: all of the cable where they do
// not say which.
func (c *Cable) named(words []token) []*Core {
	if len(words) < 2 || c.Type == nil {
		return c.Cores
	}
	size := groupSizes[words[0].text]
	var cores []*Core
	for _, w := range words[1:] {
		if w.text == "reversed" {
			continue
		}
		n, err := strconv.Atoi(w.text)
		if size == 0 || err != nil || n < 1 || n*size > len(c.Cores) {
			return c.Cores
		}
		cores = append(cores, c.Cores[(n-1)*size:n*size]...)
	}
	return cores
}

// named are the terminals that words of a walk name: all of the part where they do
// not say which.
func (p *Part) named(words []token) []*Terminal {
	if len(words) > 1 && words[0].text == "channel" {
		n, _ := strconv.Atoi(words[1].text)
		if own := p.Channel(n); own != nil {
			return own
		}
		return p.Terminals
	}
	var named []*Terminal
	for _, w := range words {
		if slices.Contains([]string{".", "x", "screen"}, w.text) {
			continue
		}
		for name := range strings.SplitSeq(w.text, ">") {
			t := p.terminals[name]
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

// InUse counts the groups of a cable that circuits use, its spare groups and its
// spare cores; known is false where errors leave some of them open: then what is
// counted is the least in use, and the spares are those that are sure.
func (c *Cable) InUse(p *Plant) (used, spare, cores int, known bool) {
	if c.Type == nil {
		return 0, 0, 0, false
	}
	in, open := map[int]bool{}, map[int]bool{}
	for _, core := range c.Cores {
		switch w := p.circuit[core]; {
		case w != nil && w.Circuit != nil:
			in[core.Group] = true
		case w != nil && w.Doubt != "":
			open[core.Group] = true
		default:
			cores++
		}
	}
	used = len(in)
	for g := range open {
		in[g] = true
	}
	return used, c.Type.Groups - len(in), cores, len(open) == 0
}
