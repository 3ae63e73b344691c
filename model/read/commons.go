package read

import (
	"fmt"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// This file reads the commons of a card.

// useCommon is a hint for a common that cannot be read.
var useCommon = finding.Do("write NAME for all channels, or NAME FIRST..LAST for each group of them; + behind it where they share their +")

// commons reads "M", or "C1 1..8" and "C2 9..16 +": every channel has to be of one of them.
func (r *plantReader) commons(c writtenCard, roles string) (all []model.Common) {
	if c.common == nil {
		return nil
	}
	owner := map[int]string{}
	for _, item := range r.list(*c.common, "common") {
		common, ok := r.common(c, item)
		if !ok {
			return nil
		}
		for n := common.First; n <= common.Last; n++ {
			if owner[n] != "" {
				r.Report(item.wrong(finding.AgainstKind, "channel %d of %s shares %s already", n, c.Tag, owner[n]).WithHint(useCommon))
				return nil
			}
			owner[n] = common.Name
		}
		all = append(all, common)
	}
	for n := 1; n <= c.Card.Channels && len(all) > 0; n++ {
		if owner[n] == "" {
			r.Report(c.common.wrong(finding.TerminalsMismatch, "channel %d of %s has no common", n, c.Tag).WithHint(useCommon))
			return nil
		}
	}
	if len(all) > 0 && roles != "+-" {
		r.Report(c.common.wrong(finding.UnusedFact, "common %s of %s not used: a channel of kind %s is drawn with all its leads", finding.Quote(all[0].Name), c.Tag, c.Kind.Name))
		return nil
	}
	return all
}

// common reads one of them.
func (r *plantReader) common(c writtenCard, item node) (common model.Common, ok bool) {
	ws := r.words(item)
	if len(ws) == 0 {
		return common, false
	}
	common = model.Common{Terminal: &model.Terminal{Name: ws[0].Text, Role: '-'}, First: 1, Last: c.Card.Channels}
	if strings.ContainsAny(common.Name, ",>:") {
		r.Report(item.wrong(finding.BadTag, "terminal name %s: no space, comma, > or : allowed", finding.Quote(common.Name)))
		return common, false
	}
	rest := ws[1:]
	if n := len(rest); n > 0 && rest[n-1].Text == "+" {
		common.Role, rest = '+', rest[:n-1]
	}
	if len(rest) > 0 {
		first, last, span := strings.Cut(rest[0].Text, "..")
		a, errA := strconv.Atoi(first)
		b, errB := strconv.Atoi(last)
		if !span || len(rest) > 1 || errA != nil || errB != nil || a < 1 || b < a || b > c.Card.Channels {
			r.Report(rest[0].Wrong(finding.BadTerminals, "%s are no channels of %s", finding.Quote(textOf(rest)), c.Tag).WithHint(useCommon))
			return common, false
		}
		common.First, common.Last = a, b
	}
	return common, true
}

// commonTexts are the commons of a card as they are written.
func commonTexts(c *model.Card) (all []string) {
	for _, common := range c.Commons {
		s := common.Name
		if common.First > 1 || common.Last < c.Channels {
			s += fmt.Sprintf(" %d..%d", common.First, common.Last)
		}
		if common.Role == '+' {
			s += " +"
		}
		all = append(all, s)
	}
	return all
}

// textOf puts words together again.
func textOf(ws []bind.Token) string {
	var all []string
	for _, w := range ws {
		all = append(all, w.Text)
	}
	return strings.Join(all, " ")
}
