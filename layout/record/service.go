package record

import (
	"fmt"
	"slices"
	"strings"

	"ringout/layout/wording"
	"ringout/model"
)

// inService tells of existing wiring, but that of the loop itself, in the places
// that a loop comes to; "" where there is none. Who works on a new cable opens the same box.
func inService(plant *model.Plant, l *model.Loop) string {
	return holds(plant, wording.Opened(plant, l), l)
}

// dangers are the cautions of what can kill, and of intrinsically safe wiring,
// in places; nil stands for the field.
func dangers(plant *model.Plant, places []*model.Place) (all []string) {
	var safe []string
	barrier := false
	for i, p := range places {
		if p == nil || slices.Contains(places[:i], p) {
			continue
		}
		s := wording.Standing(plant)[p]
		all = append(all, s.Dangers...)
		if len(s.Safe) > 0 {
			safe = append(safe, p.Tag+" ("+wording.Few(s.Safe)+")")
			barrier = barrier || s.Barrier
		}
	}
	if len(safe) > 0 {
		all = append(all, wording.SafeWords(plant, strings.Join(safe, ", "), barrier))
	}
	return all
}

// holds names the existing wiring in places, by place; nil stands for the field.
// The loop in hand does not count.
func holds(plant *model.Plant, places []*model.Place, but *model.Loop) string {
	var all []string
	seen := map[*model.Place]bool{nil: true}
	for _, p := range places {
		if seen[p] {
			continue
		}
		seen[p] = true
		loops, wired := wording.Service(plant)[p]
		if !wired {
			continue
		}
		var names []string // of a few, and one that is not named
		for _, l := range loops {
			if l != but && len(names) <= wording.MostInService {
				names = append(names, l.Tag)
			}
		}
		cables := wording.Standing(plant)[p].Cables
		for _, c := range cables {
			if len(names) > wording.MostInService {
				break
			}
			if slices.ContainsFunc(c.Circuits(plant), func(x *model.Circuit) bool { return x.Loop != but }) {
				names = append(names, c.Tag)
			}
		}
		switch {
		case len(names) > 0:
			all = append(all, p.Tag+": "+wording.Few(names))
		case len(loops)+len(cables) == 0: // wires inside
			all = append(all, p.Tag)
		}
	}
	if n := len(all); n > wording.MostInService {
		all = append(all[:wording.MostInService], fmt.Sprintf("and %d more places", n-wording.MostInService))
	}
	return strings.Join(all, "; ")
}

// barriers are the shunt-diode barriers of circuits to be wired now, each once.
func (r *recordBuilder) barriers() (all []*model.Part) {
	for _, c := range r.loop.Circuits {
		if c.Broken || c.Later(r.plant) {
			continue
		}
		for _, st := range wording.CircuitStations(c) {
			if st.Part.Kind.Shunts && !slices.Contains(all, st.Part) {
				all = append(all, st.Part)
			}
		}
	}
	return all
}
