package symbol

import (
	"ringout/render"
)

// Earth is an instrument (functional) earth: three shrinking bars.
func Earth() Symbol {
	return Symbol{
		Name: "instrument earth", Min: at(-25, 0), Max: at(25, 50),
		Ports: []Port{port("north", 0, 0, North)},
		Items: []render.Item{
			line(render.Outline, 0, 0, 0, 25),
			line(render.Outline, -25, 25, 25, 25), line(render.Outline, -16, 36, 16, 36), line(render.Outline, -7, 47, 7, 47),
		},
	}
}

func earths() []Symbol { return []Symbol{Earth()} }
