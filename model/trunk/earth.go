package trunk

import (
	"slices"

	"ringout/model"
	"ringout/model/compute"
)

// Earths are where the screens of a segment are on earth, each bar or terminal once, in the
// order of its circuits; screened reports whether it has any screen.
func (p *Pair) Earths(plant *model.Plant) (tags []string, screened bool) {
	for _, c := range p.Loop.Circuits {
		if c.Broken {
			continue
		}
		for _, w := range c.Conductors(plant) {
			if !w.Screen {
				continue
			}
			screened = true
			if earth, _ := compute.ScreenEarth(plant, w); earth != nil && !slices.Contains(tags, earthTag(earth)) {
				tags = append(tags, earthTag(earth))
			}
		}
	}
	return tags, screened
}

// earthTag is the bar that an earthed terminal is on, or the terminal itself.
func earthTag(t *model.Terminal) string {
	switch {
	case t.Bond != nil:
		return t.Bond.Tag
	case t.Bar:
		return t.Part.Tag
	}
	return t.Tag()
}
