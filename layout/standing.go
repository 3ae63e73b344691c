package layout

import (
	"slices"

	"ringout/model"
)

// This file finds what has to be known of every place and loop, once for a plant: it is
// asked for by each sheet that comes near.

// service is the existing wiring of each place: its loops, none where it is of none.
func (pl *Plan) service() map[*model.Place][]*model.Loop {
	type of struct{}
	return model.Once(pl.Plant, of{}, (*model.Plant).InService)
}

// deadly are the dangerous supplies in each place.
func (pl *Plan) deadly() map[*model.Place][]*model.Part {
	type of struct{}
	return model.Once(pl.Plant, of{}, func(plant *model.Plant) map[*model.Place][]*model.Part {
		all := map[*model.Place][]*model.Part{}
		for _, p := range plant.Places {
			if found := plant.DangerousSources(p); len(found) > 0 {
				all[p] = found
			}
		}
		return all
	})
}

// demands are those on each DC supply.
func (pl *Plan) demands() map[*model.Part]*model.Demand {
	type of struct{}
	return model.Once(pl.Plant, of{}, func(p *model.Plant) map[*model.Part]*model.Demand {
		of := map[*model.Part]*model.Demand{}
		for _, d := range p.Demands() {
			if d.Supply != nil {
				of[d.Supply] = d
			}
		}
		return of
	})
}

// standing is what else those have to know who open a place.
func (pl *Plan) standing() map[*model.Place]standing {
	type of struct{}
	return model.Once(pl.Plant, of{}, findStanding)
}

// standing is what else is in a place, whatever the work.
type standing struct {
	cables  []*model.Cable // existing, that no loop in service goes through
	dangers []string
	safe    []string // parts that intrinsically safe wiring lands on
	barrier bool     // a shunt-diode barrier guards some of it
}

// findStanding finds it for every place.
func findStanding(plant *model.Plant) map[*model.Place]standing {
	all := map[*model.Place]standing{}
	for _, p := range plant.Places {
		s := standing{dangers: dangersIn(plant, p), safe: safeParts(plant, p)}
		_, s.barrier = hazard(plant, p)
		seen := map[*model.Cable]bool{}
		for _, w := range plant.AtPlace(p) {
			if w.Status != model.InPlace || w.Core == nil || w.Circuit == nil || seen[w.Core.Cable] {
				continue
			}
			c := w.Core.Cable
			seen[c] = true
			if !slices.ContainsFunc(c.Circuits(plant), func(x *model.Circuit) bool { return x.Loop.Status == model.InPlace }) {
				s.cables = append(s.cables, c)
			}
		}
		all[p] = s
	}
	return all
}

// housed are the cables and devices in a place.
func (pl *Plan) housed() map[*model.Place]housed {
	type of struct{}
	return model.Once(pl.Plant, of{}, findHoused)
}

// housed is what comes to a place from elsewhere in the text.
type housed struct {
	cables  []*model.Cable
	devices []*model.Part
}

// findHoused finds it for every place.
func findHoused(plant *model.Plant) map[*model.Place]housed {
	all := map[*model.Place]housed{}
	for _, c := range plant.Cables {
		from, to := c.From.Place, c.To.Place
		for _, p := range slices.Compact([]*model.Place{from, to}) {
			if p != nil {
				in := all[p]
				in.cables = append(in.cables, c)
				all[p] = in
			}
		}
	}
	for _, l := range plant.Loops {
		for _, d := range l.Devices {
			if p := d.Place; p != nil {
				in := all[p]
				in.devices = append(in.devices, d)
				all[p] = in
			}
		}
	}
	return all
}

// ties are those of each loop with others.
func (pl *Plan) ties() map[*model.Loop][]model.Tie {
	type of struct{}
	return model.Once(pl.Plant, of{}, findTies)
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
