package model

import (
	"slices"
)

// Channel returns the terminals of channel n of a card, from 1; nil for one that
// the card does not have. A common is not among them.
func (p *Part) Channel(n int) []*Terminal {
	if p.Card == nil || n < 1 || n > p.Card.Channels || n*p.Card.Terminals > len(p.Terminals) {
		return nil
	}
	k := p.Card.Terminals
	return p.Terminals[(n-1)*k : n*k]
}

// MeasureAt returns the terminals that a meter is put across at channel n of a card:
// those of Channel, and the common.
func (p *Part) MeasureAt(n int) []*Terminal {
	own := p.Channel(n)
	if len(own) == 0 || p.Card.Common == nil {
		return own
	}
	return append(slices.Clone(own), p.Card.Common)
}

// PositiveCore returns which core of a pair of this type carries +: what its
// colour code says, or else the plant's practice.
func (p *Plant) PositiveCore(t *CableType) int {
	if t.Code != nil && t.Code.Positive() > 0 {
		return t.Code.Positive()
	}
	return p.Practice.PositiveCore
}

// TerminalOf returns the first terminal with a role, or nil.
func (p *Part) TerminalOf(r Marking) *Terminal {
	for _, t := range p.Terminals {
		if t.Role == r {
			return t
		}
	}
	return nil
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
		switch w := p.ConductorOf(core); {
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

// CardSupply is the supply that a card names; nil for other parts.
func (p *Part) CardSupply() *Part {
	if p.Card == nil || p.Card.From == nil {
		return nil
	}
	return Origin(p.Card.From).Part
}
