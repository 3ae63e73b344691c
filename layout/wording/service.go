package wording

import (
	"slices"

	"ringout/model"
)

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
