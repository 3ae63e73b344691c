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
func (pl *Plan) inService(l *model.Loop) string { return pl.holds(pl.opened(l), l) }

// opened are the places that a loop comes to; nil stands for the field.
func (pl *Plan) opened(l *model.Loop) (places []*model.Place) {
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(pl.Plant) {
			for _, e := range []model.End{w.From, w.To} {
				if p := e.Where(pl.Plant); !slices.Contains(places, p) {
					places = append(places, p)
				}
			}
		}
	}
	return places
}

// dangers are the cautions of what can kill, and of intrinsically safe wiring,
// in places; nil stands for the field.
func (pl *Plan) dangers(places []*model.Place) (all []string) {
	var safe []string
	barrier := false
	for i, p := range places {
		if p == nil || slices.Contains(places[:i], p) {
			continue
		}
		s := pl.standing()[p]
		all = append(all, s.dangers...)
		if len(s.safe) > 0 {
			safe = append(safe, p.Tag+" ("+few(s.safe)+")")
			barrier = barrier || s.barrier
		}
	}
	if len(safe) > 0 {
		all = append(all, pl.safeWords(strings.Join(safe, ", "), barrier))
	}
	return all
}

// few names some of many.
func few(names []string) string {
	if len(names) > mostInService {
		return strings.Join(names[:mostInService], ", ") + " and others"
	}
	return strings.Join(names, ", ")
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
		var names []string // of a few, and one that is not named
		for _, l := range loops {
			if l != but && len(names) <= mostInService {
				names = append(names, l.Tag)
			}
		}
		cables := pl.standing()[p].cables
		for _, c := range cables {
			if len(names) > mostInService {
				break
			}
			if slices.ContainsFunc(c.Circuits(pl.Plant), func(x *model.Circuit) bool { return x.Loop != but }) {
				names = append(names, c.Tag)
			}
		}
		switch {
		case len(names) > 0:
			all = append(all, p.Tag+": "+few(names))
		case len(loops)+len(cables) == 0: // wires inside
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

// dangersIn are the cautions of what can kill in a place, for sheets on which it
// is not drawn.
func dangersIn(plant *model.Plant, p *model.Place) (all []string) {
	for _, s := range plant.DangerousSources(p) {
		words := fmt.Sprintf("%s holds %s of %s%s", p.Tag, s.Gives(), s.Tag, elsewhere(s, p))
		var on []string
		for _, part := range p.Parts {
			if part != s && slices.Contains(part.Dangers(), s) {
				on = append(on, part.Name())
			}
		}
		if len(on) > 0 {
			words += " (" + few(on) + ")"
		}
		all = append(all, words+": covers on; off only by licensed people, proved dead.")
	}
	return all
}

// safeParts names the parts of a place that intrinsically safe wiring lands on.
func safeParts(plant *model.Plant, p *model.Place) (safe []string) {
	for _, w := range plant.AtPlace(p) {
		if !w.Safe() {
			continue
		}
		for _, e := range []model.End{w.From, w.To} {
			if t := e.Terminal; t != nil && t.Part.Place == p && !slices.Contains(safe, t.Part.Name()) && !earthed(t) {
				safe = append(safe, t.Part.Name())
			}
		}
	}
	return safe
}
