package symbol

import "ringout/render"

// Barrier is a shunt-diode safety barrier: field side west, safe side east,
// two lanes, and the earth that it depends on below.
func Barrier() Symbol {
	return Symbol{
		Name: "shunt-diode barrier", Min: at(0, -25), Max: at(250, 75),
		Ports: []Port{
			port("field +", 0, 0, West), port("field -", 0, 50, West),
			port("safe +", 250, 0, East), port("safe -", 250, 50, East), port("earth", 125, 75, South),
		},
		Items: []render.Item{
			box(render.Outline, 0, -25, 250, 75),
			line(render.Existing, 0, 0, 250, 0), line(render.Existing, 0, 50, 250, 50),
			shape(render.Outline, render.Blank, 40, -9, 85, -9, 85, 9, 40, 9),      // resistor
			shape(render.Outline, render.Hollow, 165, -9, 210, -9, 210, 9, 165, 9), // fuse
			line(render.Existing, 125, 0, 125, 75),                                 // to earth
			shape(render.Existing, render.Solid, 125, 14, 114, 35, 136, 35),        // diode
			line(render.Outline, 111, 10, 114, 14, 136, 14, 139, 18),               // its bent bar
			circle(render.None, render.Solid, 125, 0, 6), circle(render.None, render.Solid, 125, 50, 6),
		},
	}
}

// Isolator is a galvanic isolator: two halves that no wire joins.
func Isolator() Symbol {
	s := Symbol{
		Name: "isolator", Min: at(0, -25), Max: at(250, 75),
		Ports: []Port{
			port("field +", 0, 0, West), port("field -", 0, 50, West),
			port("safe +", 250, 0, East), port("safe -", 250, 50, East),
		},
		Items: []render.Item{
			box(render.Outline, 0, -25, 250, 75),
			line(render.Existing, 120, -25, 120, 75), line(render.Existing, 130, -25, 130, 75),
		},
	}
	// A winding on each side: the halves meet by their field only.
	for _, x := range []int{100, 150} {
		lead, bulge := 0, x+18
		if x > 125 {
			lead, bulge = 250, x-18
		}
		s.Items = append(s.Items, line(render.Existing, lead, 0, x, 0), line(render.Existing, lead, 50, x, 50))
		for y := 0; y < 50; y += 25 {
			s.Items = append(s.Items, curve(render.Outline, x, y, bulge, y, bulge, y+25, x, y+25))
		}
	}
	return s
}

// PowerSupply is an AC to DC supply: mains west, + and - east.
func PowerSupply() Symbol {
	return Symbol{
		Name: "power supply", Min: at(0, -25), Max: at(150, 75),
		Ports: []Port{
			port("L", 0, 0, West), port("N", 0, 50, West), port("+", 150, 0, East), port("-", 150, 50, East),
		},
		Items: []render.Item{
			box(render.Outline, 0, -25, 150, 75),
			line(render.Thin, 25, 75, 125, -25),
			curve(render.Outline, 25, 10, 33, -10, 42, 30, 50, 10),
			line(render.Outline, 80, 45, 110, 45),
			line(render.Outline, 80, 55, 87, 55), line(render.Outline, 91, 55, 99, 55), line(render.Outline, 103, 55, 110, 55),
			letters(132, 12, "+", 20), letters(132, 62, "−", 20),
		},
	}
}

// AirSupply is an instrument air supply that feeds to the right.
func AirSupply() Symbol {
	return Symbol{
		Name: "air supply", Min: at(0, -25), Max: at(100, 25),
		Ports: []Port{port("east", 100, 0, East)},
		Items: []render.Item{
			letters(22, 12, "AS", 42),
			shape(render.Outline, render.Blank, 50, -18, 75, 0, 50, 18),
			line(render.Signal, 75, 0, 100, 0),
		},
	}
}

func supplies() []Symbol { return []Symbol{Barrier(), Isolator(), PowerSupply(), AirSupply()} }
