package model

import (
	"slices"

	"gopkg.in/yaml.v3"
)

// This file reads values of the practice, which have to make sense before
// anything is computed with them.

// within reads a quantity from least to most; ok is false with a problem.
func (r *plantReader) within(n node, least, most float64, units ...unit) (v float64, ok bool) {
	v, u := r.quantity(n, units...)
	if u == "" {
		return 0, false
	}
	if v < least || v > most {
		r.report(n.wrong("number-out-of-range", "%s must be from %s to %s %s, not %s", n.what, number(least), number(most), units[0].written, quote(n.Value)))
		return 0, false
	}
	return v, true
}

// set reads a quantity from least to most into a value of the practice; what is
// written wrong leaves the default.
func (r *plantReader) set(n node, into *float64, least, most float64, units ...unit) {
	if v, ok := r.within(n, least, most, units...); ok {
		*into = v
	}
}

// rising reads a list of quantities from 0 to most, each more than the one
// before. Their unit may be left out.
func (r *plantReader) rising(n node, what string, into *[]float64, most float64, name string) {
	if !r.some(n) {
		return
	}
	var all []float64
	for _, item := range r.list(n, what) {
		v, ok := r.within(item, 0, most, unit{name, name}, unit{"", name})
		if !ok {
			return
		}
		if len(all) > 0 && v <= all[len(all)-1] {
			r.report(item.wrong("bad-order", "%s %s comes after %s: they have to rise", what, quote(item.Value), number(all[len(all)-1])))
			return
		}
		all = append(all, v)
	}
	*into = all
}

// limits reads a range from the smaller value to the larger one.
func (r *plantReader) limits(n node, low, high *float64, units ...string) {
	g := r.rangeOf(n)
	switch {
	case !g.Given():
	case !slices.Contains(units, g.Unit):
		r.report(n.wrong("unknown-unit", "%s is not a unit of %s", quote(g.Unit), n.what).hint("the values in %s", units[0]))
	case g.Low < 0 || g.Low >= g.High:
		r.report(n.wrong("bad-order", "%s must go from a smaller value to a larger one, not %s", n.what, quote(g.Text)))
	default:
		*low, *high = g.Low, g.High
	}
}

// some tells whether a list has an item, and reports that it has none.
func (r *plantReader) some(n node) bool {
	if n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.report(n.wrong("missing-value", "%s has no value", n.what))
		return false
	}
	return true
}
