package read

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// This file reads values that the text writes in words of the trade.

// fuse reads a rating such as "2 A T". One without amperes is reported: nothing is
// checked against it.
func (r *plantReader) fuse(n node, text string) model.Fuse {
	f := model.ReadFuse(text)
	if f.Given() && f.Amps == 0 {
		r.Report(n.wrong(finding.UnreadValue, "fuse %s does not begin with its rating in A or mA; not checked", finding.Quote(text)).WithHint(finding.Do("put its rating first, a number and A or mA, or write it as it is marked")))
	}
	return f
}

// setPoint reads what a function is set to.
func (r *plantReader) setPoint(n node) model.SetPoint { return r.setPointOf(n, r.text(n)) }

// setPoints reads a list of set points.
func (r *plantReader) setPoints(n node, what string) (all []model.SetPoint) {
	for _, item := range r.list(n, what) {
		if s := r.textUpTo(item, mostNote); s != "" {
			all = append(all, r.setPointOf(item, s))
		}
	}
	return all
}

// setPointOf reports a value that is not in plain digits: another one would be taken
// for it.
func (r *plantReader) setPointOf(n node, text string) model.SetPoint {
	s := model.ReadSetPoint(text)
	if _, rest, ok := model.SplitNumber(s.At); s.At != "" && (!ok || strings.ContainsAny(rest[:min(1, len(rest))], ",_.")) {
		r.Report(withPoint(n.wrong(finding.UnreadValue, "%s is not a number in plain digits; not calculated", finding.Quote(s.At)), s.At))
		s.Valued = false
	}
	return s
}

// pick reads one of the words; what is written wrong leaves into as it is.
func pick[T ~uint8](r *plantReader, n node, into *T, words []string) {
	if w := r.oneOf(n, words...); w != "" {
		*into = T(slices.Index(words, w) + 1)
	}
}
