package model

import (
	"cmp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// This file reads electrical values with their units.

func (r *plantReader) volts(n node) float64 {
	v, _ := r.quantity(n, unit{"V", ""}, unit{"V DC", ""}, unit{"V AC", ""})
	return r.notNegative(n, v)
}

func (r *plantReader) milliamps(n node) float64 {
	v, u := r.quantity(n, unit{"mA", "mA"}, unit{"A", "A"})
	if u == "A" {
		v *= 1000
	}
	return r.notNegative(n, v)
}

func (r *plantReader) ohms(n node) float64 {
	v, u := r.quantity(n, unit{"ohm", ""}, unit{"Ω", ""}, unit{"kohm", "k"}, unit{"kΩ", "k"})
	if u == "k" {
		v *= 1000
	}
	return r.notNegative(n, v)
}

func (r *plantReader) notNegative(n node, v float64) float64 {
	if v < 0 {
		r.report(n.wrong("number-out-of-range", "%s must not be less than nothing", n.what))
		return 0
	}
	return v
}

// biases reads "10.5 V", "18.5 V at 21 mA", or a list of the second kind.
func (r *plantReader) biases(n node) Biases {
	var all Biases
	for _, item := range r.list(n, "") {
		s := r.text(item)
		if s == "" {
			return nil
		}
		volts, current, at := strings.Cut(s, " at ")
		part := func(text string) node {
			c := *item.Node
			c.Value = strings.TrimSpace(text)
			return node{&c, item.src, item.what}
		}
		b := Bias{Volts: r.volts(part(volts))}
		if at {
			b.MA = r.milliamps(part(current))
		} else if n.Kind == yaml.SequenceNode && len(n.Content) > 1 {
			r.report(item.wrong("missing-current", "at which current is not said").hint("%s at 4 mA", s))
			return nil
		}
		all = append(all, b)
	}
	slices.SortStableFunc(all, func(a, b Bias) int { return cmp.Compare(a.MA, b.MA) })
	return all
}

// entityUnits are the units of the values of an entity, and what they are in
// the model's unit.
var entityUnits = map[byte][]struct {
	unit  string
	times float64
}{
	'U': {{"V", 1}},
	'I': {{"mA", 1}, {"A", 1000}},
	'P': {{"W", 1000}, {"mW", 1}},
	'C': {{"nF", 1}, {"uF", 1000}, {"µF", 1000}, {"pF", 0.001}},
	'L': {{"uH", 1}, {"µH", 1}, {"mH", 1000}},
}

// entity reads {Ui: 30 V, Ii: 100 mA, ...}; end is i for a device, o for a
// source.
func (r *plantReader) entity(n node, end string) Entity {
	e := Entity{Pos: n.pos(), Given: true, has: map[string]bool{}}
	value := func(name string, into *float64) field {
		return field{name + end, false, func(n node) {
			e.has[name+end] = true
			var units []unit
			for _, u := range entityUnits[name[0]] {
				units = append(units, unit{u.unit, u.unit})
			}
			v, got := r.quantity(n, units...)
			for _, u := range entityUnits[name[0]] {
				if u.unit == got {
					*into = r.notNegative(n, v*u.times)
				}
			}
		}}
	}
	fs := []field{value("U", &e.U), value("I", &e.I), value("P", &e.P), value("C", &e.C), value("L", &e.L)}
	if end == "o" {
		fs = append(fs,
			field{"Lo/Ro", false, func(n node) {
				e.has["Lo/Ro"] = true
				e.LR, _ = r.quantity(n, unit{"uH/ohm", ""}, unit{"µH/Ω", ""})
			}},
			field{"group", false, func(n node) { e.Group = r.oneOf(n, "IIC", "IIB", "IIA") }})
	}
	r.fields(n, "an entity", fs...)
	return e
}
