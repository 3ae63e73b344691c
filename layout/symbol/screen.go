package symbol

import "ringout/render"

// Screen is the dashed ring of a screen round lanes that lie one below the
// other from the origin down; the drain leaves by the port drain below.
// lanes is at least 1.
func Screen(lanes int) Symbol {
	last := 50 * (lanes - 1)
	return Symbol{
		Name: "screen", Min: at(-15, -25), Max: at(15, last+25),
		Ports: []Port{port("drain", 0, last+25, South), port("north", 0, -25, North)},
		Items: ellipse(render.Screen, 0, last/2, 15, last/2+25),
	}
}

// CutBack is the end of a screen or core that is cut back: the line ends inside
// an insulating sleeve.
func CutBack() Symbol {
	return Symbol{
		Name: "cut back, insulated", Min: at(0, -10), Max: at(55, 10),
		Ports: []Port{port("west", 0, 0, West)},
		Items: []render.Item{
			line(render.Screen, 0, 0, 40, 0),
			line(render.Outline, 25, -10, 55, -10, 55, 10, 25, 10, 25, -10),
		},
	}
}

// Twist marks the two lanes at the origin and below it as a twisted pair.
func Twist() Symbol {
	return Symbol{
		Name: "twisted pair", Min: at(-25, -13), Max: at(25, 63),
		Ports: []Port{port("north", 13, -13, North), port("south", -13, 63, South)},
		Items: []render.Item{
			curve(render.Existing, 13, -13, -25, -13, -25, 15, 0, 25),
			curve(render.Existing, 0, 25, 25, 35, 25, 63, -13, 63),
		},
	}
}

// Gland is a cable gland in the wall of a box: flange, body and the cable.
func Gland() Symbol {
	return Symbol{
		Name: "cable gland", Min: at(-25, -38), Max: at(25, 38),
		Ports: []Port{port("west", -25, 0, West), port("east", 25, 0, East)},
		Items: []render.Item{
			line(render.Existing, -25, 0, 25, 0),
			shape(render.Outline, render.Blank, -20, -16, -10, -25, -5, -25, -5, 25, -10, 25, -20, 16),
			box(render.Outline, -5, -38, 5, 38),
			box(render.Outline, 5, -25, 15, 25),
			line(render.Existing, -25, 0, -20, 0), line(render.Existing, 15, 0, 25, 0),
		},
	}
}

func screens() []Symbol { return []Symbol{Screen(2), CutBack(), Twist(), Gland()} }
