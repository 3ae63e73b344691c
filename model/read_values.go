package model

import "strings"

// This file reads values that the text writes in words of the trade.

// fuse reads a rating such as "2 A T". One without amperes is reported: nothing is
// checked against it.
func (r *plantReader) fuse(n node, text string) Fuse {
	f := readFuse(text)
	if f.Given() && f.Amps == 0 {
		r.report(n.wrong(UnreadValue, "fuse %s does not begin with its rating in A or mA: nothing is checked against it", quote(text)).hint("2 A T"))
	}
	return f
}

// setPoint reads what a function is set to.
func (r *plantReader) setPoint(n node) SetPoint { return r.setPointOf(n, r.text(n)) }

// setPoints reads a list of set points.
func (r *plantReader) setPoints(n node, what string) (all []SetPoint) {
	for _, item := range r.list(n, what) {
		if s := r.textUpTo(item, mostNote); s != "" {
			all = append(all, r.setPointOf(item, s))
		}
	}
	return all
}

// setPointOf reports a value that is not in plain digits: another one would be taken
// for it.
func (r *plantReader) setPointOf(n node, text string) SetPoint {
	s := readSetPoint(text)
	if _, rest, ok := splitNumber(s.At); s.At != "" && (!ok || strings.ContainsAny(rest[:min(1, len(rest))], ",_.")) {
		r.report(withPoint(n.wrong(UnreadValue, "%s is not a number in plain digits: nothing is computed for it", quote(s.At)), s.At))
		s.Valued = false
	}
	return s
}
