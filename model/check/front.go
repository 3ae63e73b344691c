package check

import (
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/grid"
)

// checkFronts: does each instrument on the front of a panel have a position of its own
// there?
func checkFronts(p *model.Plant, found func(finding.Finding)) {
	type seat struct {
		in *model.Place
		at grid.Cell
	}
	taken := map[seat]*model.Part{}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			at, in := d.Device.Position, d.Place
			switch {
			case at.Row == 0 && in != nil && in.Front.Given() && d.Location() != model.BehindFront && d.Location() != model.BehindLocal && d.Location() != model.InField:
				found(finding.At(d.Pos, finding.NoPosition, "%s has no position on the front of %s", d.Tag, in.Tag).
					WithAlso(in.Pos, "its front is described here").WithHint(finding.Do("say its row and column as position, or position: behind")))
			case at.Row == 0:
			case in == nil || !in.Front.Given():
				where := "the field"
				if in != nil {
					where = in.Tag + ", whose front has no rows and columns"
				}
				found(finding.At(d.Pos, finding.OffFront, "%s has position %s and is in %s", d.Tag, at, where).
					WithHint(finding.Do("add front, its rows and columns, to its panel, or remove position")).Warning())
			case !in.Front.Has(at):
				found(finding.At(d.Pos, finding.OffFront, "%s has position %s; %s has 1A to %s", d.Tag, at, in.Tag, in.Front.Last()).
					WithAlso(in.Pos, "its front is described here").WithHint(finding.Do("mend the position, or the front")))
			case taken[seat{in, at}] != nil:
				first := taken[seat{in, at}]
				found(finding.At(d.Pos, finding.PositionTwice, "%s and %s have position %s on %s", first.Tag, d.Tag, at, in.Tag).
					WithAlso(first.Pos, "the first of them").WithHint(finding.Do("give each a position of its own")))
			default:
				taken[seat{in, at}] = d
			}
		}
	}
}
