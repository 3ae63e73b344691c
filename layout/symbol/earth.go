package symbol

import (
	"strconv"

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

// ProtectiveEarth is an earth inside a circle.
func ProtectiveEarth() Symbol {
	return Symbol{
		Name: "protective earth", Min: at(-35, 0), Max: at(35, 85),
		Ports: []Port{port("north", 0, 0, North)},
		Items: []render.Item{
			circle(render.Existing, render.Hollow, 0, 50, 35),
			line(render.Outline, 0, 0, 0, 45),
			line(render.Outline, -24, 45, 24, 45), line(render.Outline, -16, 56, 16, 56), line(render.Outline, -8, 67, 8, 67),
		},
	}
}

// EarthBar is a bar with n screws one lane apart; the ports "1" to n lie on
// its upper edge and the port bar at its right end. n is at least 1.
func EarthBar(n int) Symbol {
	s := Symbol{Name: "earth bar", Min: at(-25, -25), Max: at(50*n-25, 25)}
	s.Items = append(s.Items, box(render.Outline, -25, -25, 50*n-25, 25))
	for i := range n {
		s.Items = append(s.Items, circle(render.Existing, render.Hollow, 50*i, 0, 12),
			line(render.Existing, 50*i-8, 8, 50*i+8, -8))
		s.Ports = append(s.Ports, port(strconv.Itoa(i+1), 50*i, -25, North))
	}
	s.Ports = append(s.Ports, port("bar", 50*n-25, 0, East))
	return s
}

func earths() []Symbol { return []Symbol{Earth(), ProtectiveEarth(), EarthBar(4)} }
