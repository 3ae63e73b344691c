package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
)

// mostInService is how many loops and cables of a place, and how many places, are
// named.
const mostInService = 4

// serviceAsks is what wiring in service asks for.
const serviceAsks = " Operations told, loops in manual, trips bypassed on written authority."

// inService tells of existing wiring, but that of the loop itself, in the places
// that a loop comes to; "" where there is none. Who works on a new cable opens the same box.
func (pl *Plan) inService(l *model.Loop) string {
	var places []*model.Place
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(pl.Plant) {
			for _, e := range []model.End{w.From, w.To} {
				places = append(places, e.Where(pl.Plant))
			}
		}
	}
	return pl.holds(places, l)
}

// holds names the existing wiring in places, by place; nil stands for the field.
// The loop in hand does not count.
func (pl *Plan) holds(places []*model.Place, but *model.Loop) string {
	var all []string
	seen := map[*model.Place]bool{nil: true}
	for _, p := range places {
		if seen[p] {
			continue
		}
		seen[p] = true
		loops, wired := pl.service()[p]
		if !wired {
			continue
		}
		var names []string
		for _, l := range loops {
			if l != but {
				names = append(names, l.Tag)
			}
		}
		for _, c := range pl.standing()[p].cables {
			if slices.ContainsFunc(c.Circuits(pl.Plant), func(x *model.Circuit) bool { return x.Loop != but }) {
				names = append(names, c.Tag)
			}
		}
		switch n := len(names); {
		case n > mostInService:
			all = append(all, fmt.Sprintf("%s: %s and %d more", p.Tag, strings.Join(names[:mostInService], ", "), n-mostInService))
		case n > 0:
			all = append(all, p.Tag+": "+strings.Join(names, ", "))
		case len(loops) == 0 && but == nil:
			all = append(all, p.Tag)
		}
	}
	if n := len(all); n > mostInService {
		all = append(all[:mostInService], fmt.Sprintf("and in %d more places", n-mostInService))
	}
	if len(all) == 0 {
		return ""
	}
	return "Existing wiring in " + strings.Join(all, "; ") + "."
}

// standing is what else is in a place, whatever the work.
type standing struct {
	cables []*model.Cable // existing, that no loop in service goes through
}

// findStanding finds it for every place.
func (pl *Plan) findStanding() map[*model.Place]standing {
	all := map[*model.Place]standing{}
	for _, p := range pl.Plant.Places {
		var s standing
		seen := map[*model.Cable]bool{}
		for _, w := range pl.Plant.AtPlace(p) {
			if w.Status != model.InPlace || w.Core == nil || w.Circuit == nil || seen[w.Core.Cable] {
				continue
			}
			c := w.Core.Cable
			seen[c] = true
			if !slices.ContainsFunc(c.Circuits(pl.Plant), func(x *model.Circuit) bool { return x.Loop.Status == model.InPlace }) {
				s.cables = append(s.cables, c)
			}
		}
		all[p] = s
	}
	return all
}
