package wording

import (
	"fmt"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/finding"
)

// Coupler is how many spurs a coupler has and what it holds each to; "" of other parts.
func Coupler(p *model.Part) string {
	if p.Coupler == nil {
		return ""
	}
	return fmt.Sprintf("%s of max %s", finding.Count(len(p.Coupler.Spurs), "spur"), SpurLimit(p))
}

// SpurLimit is the current that a coupler holds each spur to.
func SpurLimit(p *model.Part) string {
	if p.Coupler.Limit <= 0 {
		return paper.NotGiven + " mA"
	}
	return Plain(p.Coupler.Limit) + " mA"
}

// Outlet is what a terminal of a coupler is of: its trunk, or which of its spurs; "" of
// other parts.
func Outlet(t *model.Terminal) string {
	switch {
	case t.Part.Coupler == nil:
		return ""
	case t.Spur() == 0:
		return "trunk"
	}
	return fmt.Sprintf("spur %d", t.Spur())
}
