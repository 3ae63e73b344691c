package wording

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/compute"
)

// This file finds what has to be known of every place and loop, once for a plant: it is
// asked for by each sheet that comes near.

// Hazard reports whether a place holds wiring of a hazardous area: of an
// intrinsically safe circuit, or of a device that stands in a zone; and whether
// a barrier guards some of it.
func Hazard(plant *model.Plant, p *model.Place) (hazard, barrier bool) {
	seen := map[*model.Circuit]bool{nil: true}
	for _, w := range plant.AtPlace(p) {
		if seen[w.Circuit] {
			continue
		}
		seen[w.Circuit] = true
		hazard = hazard || w.Circuit.IntrinsicallySafe()
		for _, st := range w.Circuit.Stations() {
			hazard = hazard || st.Part.Device != nil && st.Part.Device.Zone != ""
			barrier = barrier || st.Part.Kind.Shunts
		}
	}
	return hazard, barrier
}

// Earthed reports whether a terminal is a way to earth.
func Earthed(t *model.Terminal) bool {
	return t != nil && (t.Bond != nil || t.Bar || t.Kind == model.EarthFoot)
}

// Few names some of many.
func Few(names []string) string {
	if len(names) > MostInService {
		return strings.Join(names[:MostInService], ", ") + " and others"
	}
	return strings.Join(names, ", ")
}

// mostLacking is how many of what a figure lacks a cell of a form names: the loop diagram has
// them all.
const mostLacking = 2

// Lacking names what a figure lacks in a cell of a form: the first, and how many more.
func Lacking(missing []string) string {
	if n := len(missing) - mostLacking; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(missing[:mostLacking], ", "), n)
	}
	return strings.Join(missing, ", ")
}

// dangersIn are the cautions of what can kill in a place, for sheets on which it
// is not drawn.
func dangersIn(plant *model.Plant, p *model.Place) (all []string) {
	for _, s := range plant.DangerousSources(p) {
		words := fmt.Sprintf("%s holds %s of %s%s", p.Tag, s.Gives(), s.Tag, Elsewhere(s, p))
		var on []string
		for _, part := range p.Parts {
			if part != s && slices.Contains(part.Dangers(), s) {
				on = append(on, part.Name())
			}
		}
		if len(on) > 0 {
			words += " (" + Few(on) + ")"
		}
		all = append(all, words+plant.Say(CoversOn))
	}
	return all
}

// safeParts names the parts of a place that intrinsically safe wiring lands on.
func safeParts(plant *model.Plant, p *model.Place) (safe []string) {
	for _, w := range plant.AtPlace(p) {
		if !w.IntrinsicallySafe() {
			continue
		}
		for _, e := range []model.End{w.From, w.To} {
			if t := e.Terminal; t != nil && t.Part.Place == p && !slices.Contains(safe, t.Part.Name()) && !Earthed(t) {
				safe = append(safe, t.Part.Name())
			}
		}
	}
	return safe
}

// Service is the existing wiring of each place: its loops, none where it is of none.
func Service(plant *model.Plant) map[*model.Place][]*model.Loop {
	type of struct{}
	return model.Once(plant, of{}, (*model.Plant).InService)
}

// Deadly are the dangerous supplies in each place.
func Deadly(plant *model.Plant) map[*model.Place][]*model.Part {
	type of struct{}
	return model.Once(plant, of{}, func(plant *model.Plant) map[*model.Place][]*model.Part {
		all := map[*model.Place][]*model.Part{}
		for _, p := range plant.Places {
			if found := plant.DangerousSources(p); len(found) > 0 {
				all[p] = found
			}
		}
		return all
	})
}

// Demands are those on each DC supply.
func Demands(plant *model.Plant) map[*model.Part]*compute.Demand {
	type of struct{}
	return model.Once(plant, of{}, func(p *model.Plant) map[*model.Part]*compute.Demand {
		of := map[*model.Part]*compute.Demand{}
		for _, d := range compute.Demands(p) {
			if d.Supply != nil {
				of[d.Supply] = d
			}
		}
		return of
	})
}

// Standing is what else those have to know who open a place.
func Standing(plant *model.Plant) map[*model.Place]standing {
	type of struct{}
	return model.Once(plant, of{}, findStanding)
}

// standing is what else is in a place, whatever the work.
type standing struct {
	Cables  []*model.Cable // existing, that no loop in service goes through
	Dangers []string
	Safe    []string // parts that intrinsically safe wiring lands on
	Barrier bool     // a shunt-diode barrier guards some of it
}

// findStanding finds it for every place.
func findStanding(plant *model.Plant) map[*model.Place]standing {
	all := map[*model.Place]standing{}
	for _, p := range plant.Places {
		s := standing{Dangers: dangersIn(plant, p), Safe: safeParts(plant, p)}
		_, s.Barrier = Hazard(plant, p)
		seen := map[*model.Cable]bool{}
		for _, w := range plant.AtPlace(p) {
			if w.Status != model.Existing || w.Core == nil || w.Circuit == nil || seen[w.Core.Cable] {
				continue
			}
			c := w.Core.Cable
			seen[c] = true
			if !slices.ContainsFunc(c.Circuits(plant), func(x *model.Circuit) bool { return x.Loop.Status == model.Existing }) {
				s.Cables = append(s.Cables, c)
			}
		}
		all[p] = s
	}
	return all
}

// Housed are the cables and devices in a place.
func Housed(plant *model.Plant) map[*model.Place]housed {
	type of struct{}
	return model.Once(plant, of{}, findHoused)
}

// housed is what comes to a place from elsewhere in the text.
type housed struct {
	Cables  []*model.Cable
	Devices []*model.Part
}

// findHoused finds it for every place.
func findHoused(plant *model.Plant) map[*model.Place]housed {
	all := map[*model.Place]housed{}
	for _, c := range plant.Cables {
		from, to := c.From.Place, c.To.Place
		for _, p := range slices.Compact([]*model.Place{from, to}) {
			if p != nil {
				in := all[p]
				in.Cables = append(in.Cables, c)
				all[p] = in
			}
		}
	}
	for _, l := range plant.Loops {
		for _, d := range l.Devices {
			if p := d.Place; p != nil {
				in := all[p]
				in.Devices = append(append(in.Devices, d), d.Ports()...)
				all[p] = in
			}
		}
	}
	return all
}

// Ties are those of each loop with others.
func Ties(plant *model.Plant) map[*model.Loop][]model.Tie {
	type of struct{}
	return model.Once(plant, of{}, findTies)
}

// findTies finds the ties of every loop: its own, then those of others to it.
func findTies(plant *model.Plant) map[*model.Loop][]model.Tie {
	all := map[*model.Loop][]model.Tie{}
	for _, l := range plant.Loops {
		all[l] = append(all[l], l.Ties()...)
	}
	for _, l := range plant.Loops {
		for _, t := range l.Ties() {
			all[t.Other] = append(all[t.Other], t)
		}
	}
	return all
}

// MostInService is how many loops and cables of a place, and how many places, are
// named.
const MostInService = 4

// Opened are the places that a loop comes to; nil stands for the field.
func Opened(plant *model.Plant, l *model.Loop) (places []*model.Place) {
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(plant) {
			for _, e := range []model.End{w.From, w.To} {
				if p := e.Where(plant); !slices.Contains(places, p) {
					places = append(places, p)
				}
			}
		}
	}
	return places
}
