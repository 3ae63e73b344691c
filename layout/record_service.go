package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
)

// mostInService is how many loops in service, or places that hold them, are named.
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

// holds tells of the existing wiring in places; nil stands for the field. The
// loop in hand does not count.
func (pl *Plan) holds(places []*model.Place, but *model.Loop) string {
	var tags, loops []string
	wired := pl.service()
	for _, p := range places {
		all, ok := wired[p]
		if p == nil || !ok || slices.Contains(tags, p.Tag) || len(all) == 1 && all[0] == but {
			continue
		}
		tags = append(tags, p.Tag)
		for i := 0; i < len(all) && len(loops) <= mostInService; i++ { // no more are named
			if l := all[i]; l != but && !slices.Contains(loops, l.Tag) {
				loops = append(loops, l.Tag)
			}
		}
	}
	if len(tags) == 0 {
		return ""
	}
	s := strings.Join(tags, ", ") + " holds existing wiring"
	switch n := len(tags); {
	case n > mostInService:
		s = fmt.Sprintf("%d places hold existing wiring", n)
	case n > 1:
		s = strings.Join(tags, ", ") + " hold existing wiring"
	}
	switch n := len(loops); {
	case n > mostInService:
		return s + fmt.Sprintf("; more than %d loops in service.", mostInService)
	case n > 0:
		return s + "; in service: " + strings.Join(loops, ", ") + "."
	}
	return s + "."
}
