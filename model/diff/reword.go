package diff

import "slices"

// This file finds paths that are only said in other words: pair 3 is cores 5 and 6.

// route is a cable on the path of a circuit.
type route struct {
	loop           Ref
	circuit, cable string
}

// Reword gives circuits of a plant as it was the words that they have now for the cores that
// they go by, where these are the same cores of the same polarity. did is false where all
// have them.
func Reword(was, is []Object) (reworded []Object, did bool) {
	before, now := coresBy(was), coresBy(is)
	circuits := map[[2]Ref]*Object{}
	for i := range is {
		if t := &is[i]; t.Kind == OfCircuit {
			circuits[t.key()] = t
		}
	}
	reworded = slices.Clone(was)
	for i := range reworded {
		t := &reworded[i]
		c := circuits[t.key()]
		if c == nil {
			continue
		}
		t.Properties = slices.Clone(t.Properties)
		for k := range t.Properties {
			p, by := &t.Properties[k], route{t.Of, t.Tag, t.Properties[k].At}
			words := c.at(KeyVia, p.At)
			if p.Key == KeyVia && words != "" && words != p.Value && len(now[by]) > 0 && slices.Equal(before[by], now[by]) {
				p.Value, did = words, true
			}
		}
	}
	return reworded, did
}

// coresBy are the cores that circuits go by, each with its polarity, sorted.
func coresBy(all []Object) map[route][]string {
	cores := map[route][]string{}
	for i := range all {
		if t := &all[i]; t.Kind == OfCore {
			by := route{t.Of, t.Value(KeyCircuit), t.Value(KeyCable)}
			cores[by] = append(cores[by], t.Tag+" "+t.Value(KeyPolarity))
		}
	}
	for _, c := range cores {
		slices.Sort(c)
	}
	return cores
}
