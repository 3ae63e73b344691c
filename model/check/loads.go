package check

import (
	"fmt"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// checkLoads: are fuses and supplies strong enough for all that hangs on them?
// What cannot be computed counts as nothing, and the finding says so.
func checkLoads(p *model.Plant, found func(finding.Finding)) {
	for _, l := range compute.Demands(p) {
		if l.Most == 0 || l.MA <= l.Most {
			continue
		}
		load := "load " + model.Round(l.MA) + " mA (" + l.Words()
		if l.Unknown > 0 {
			load += fmt.Sprintf("; %d more not calculated", l.Unknown)
		}
		load += ")"
		if l.Supply != nil {
			found(finding.At(l.Supply.Pos, finding.OverloadedSupply, "supply %s, %s mA: %s", l.Supply.Tag, model.Round(l.Most), load))
			continue
		}
		pr := finding.At(l.Fuse.Part.Pos, finding.OverloadedFuse, "fuse %s, %s: %s", l.Fuse.Tag(), l.Fuse.Fuse, load)
		if len(l.Fuse.Ends) > 0 {
			pr = pr.WithAlso(l.Fuse.Ends[0].Conductor.Pos, "a circuit lands here")
		}
		found(pr)
	}
}

// checkCardSupplies: is a card fed from what a DC supply drives?
func checkCardSupplies(p *model.Plant, found func(finding.Finding)) {
	p.EachPart(func(x *model.Part) {
		if x.Card == nil || x.Card.From == nil {
			return
		}
		switch from := model.Origin(x.Card.From); {
		case from.Part.Supply == nil || from.Part.Supply.AC:
			pr := finding.At(x.Pos, finding.UnfedCard, "card %s is fed from %s, which has no DC supply", x.Tag, x.Card.From.Tag())
			pr.Hint = finding.Do("give its supply as a DC supply, or a strip and a terminal of it that is in feeds")
			found(pr)
		case !from.Live():
			found(finding.At(x.Pos, finding.UnfedCard, "card %s is fed from %s, the return of %s", x.Tag, x.Card.From.Tag(), from.Part.Tag))
		}
	})
}
