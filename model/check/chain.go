package check

import (
	"ringout/model"
	"ringout/model/finding"
)

// checkChain: where instruments carry a supply on to each other, does it come from somewhere,
// and does each have its own protective earth?
func checkChain(_ *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	last := c.Path.Stations[len(c.Path.Stations)-1]
	for _, l := range c.Legs {
		t, on := l.End(), l.Onward()
		switch {
		case t == nil || !c.Signal.Powers() || !t.TakesSupply() || t.Part == l.Begin().Part:
			continue
		case c.Supply() == nil:
			found(finding.At(last.Pos, finding.NoSource, "circuit %q ends on %s, which no supply feeds", c.Name, t.Tag()).
				WithHint(finding.Do("wire the supply of %s to a fed terminal", t.Part.Tag)))
			return
		case l.Role == 'E' && on != nil:
			pr := finding.At(l.Conductors[len(l.Conductors)-1].Termination.Pos, finding.ChainedEarth, "protective earth of %s comes by way of %s: with %s out, %s is not earthed", l.Begin().Part.Tag, t.Part.Tag, t.Part.Tag, l.Begin().Part.Tag)
			found(pr.WithHint(finding.Do("land each on an earth terminal of its own")))
		}
	}
}
