package symbol

import (
	"ringout/render"
)

// pipe is the process line: thick, as the only thing here that is no wire.
const pipe = render.New

// Orifice is an orifice plate between flange tappings: high is upstream when
// the flow goes to the right.
func Orifice() Symbol {
	return Symbol{
		Name: "orifice plate", Min: at(-75, -75), Max: at(75, 25),
		Ports: []Port{
			port("inlet", -75, 0, West), port("outlet", 75, 0, East),
			port("high", -25, -75, North), port("low", 25, -75, North),
		},
		Items: []render.Item{
			line(pipe, -75, 0, 75, 0),
			line(render.Outline, -5, -25, -5, 25), line(render.Outline, 5, -25, 5, 25),
			line(render.Existing, -25, 0, -25, -75), line(render.Existing, 25, 0, 25, -75),
		},
	}
}

// FlowTube is an in-line flow meter: magnetic, Coriolis, vortex, turbine.
func FlowTube() Symbol {
	return Symbol{
		Name: "flow meter in line", Min: at(-75, -50), Max: at(75, 50),
		Ports: []Port{
			port("inlet", -75, 0, West), port("outlet", 75, 0, East), port("signal", 0, -50, North),
		},
		Items: []render.Item{
			line(pipe, -75, 0, 75, 0),
			circle(render.Outline, render.Blank, 0, 0, 50),
			line(render.Existing, -25, 0, 22, 0),
			shape(render.None, render.Solid, 28, 0, 8, -8, 8, 8),
		},
	}
}

// PressureTap is a tapping with its root valve.
func PressureTap() Symbol {
	return Symbol{
		Name: "pressure tapping", Min: at(-50, -100), Max: at(50, 0),
		Ports: []Port{
			port("inlet", -50, 0, West), port("outlet", 50, 0, East), port("tap", 0, -100, North),
		},
		Items: []render.Item{
			line(pipe, -50, 0, 50, 0),
			line(render.Existing, 0, 0, 0, -25), line(render.Existing, 0, -75, 0, -100),
			shape(render.Outline, render.Blank, -15, -75, 15, -25, -15, -25, 15, -75),
		},
	}
}

// LevelTap is the wall of a vessel with two flanged nozzles on its right.
func LevelTap() Symbol {
	s := Symbol{
		Name: "level tappings", Min: at(0, -100), Max: at(50, 100),
		Ports: []Port{port("top", 50, -75, East), port("bottom", 50, 75, East)},
		Items: []render.Item{
			line(pipe, 0, -100, 0, 100),
		},
	}
	for _, y := range []int{-75, 75} {
		s.Items = append(s.Items,
			line(render.Outline, 0, y, 20, y),
			line(render.Outline, 20, y-12, 20, y+12), line(render.Outline, 27, y-12, 27, y+12),
			line(render.Existing, 27, y, 50, y))
	}
	return s
}

// Thermowell is a thermowell in a line, for a resistance thermometer or a
// thermocouple.
func Thermowell() Symbol {
	return Symbol{
		Name: "thermowell", Min: at(-50, -75), Max: at(50, 25),
		Ports: []Port{
			port("inlet", -50, 0, West), port("outlet", 50, 0, East), port("element", 0, -75, North),
		},
		Items: []render.Item{
			line(pipe, -50, 0, 50, 0),
			shape(render.Outline, render.Blank, -8, -40, 8, -40, 8, 15, 0, 25, -8, 15),
			line(render.Outline, -20, -40, 20, -40), line(render.Outline, -20, -48, 20, -48),
			line(render.Existing, 0, -75, 0, 15),
		},
	}
}

// Tapping is a connection to the process of no particular kind.
func Tapping() Symbol {
	return Symbol{
		Name: "tapping", Min: at(-50, -50), Max: at(50, 10),
		Ports: []Port{
			port("inlet", -50, 0, West), port("outlet", 50, 0, East), port("tap", 0, -50, North),
		},
		Items: []render.Item{
			line(pipe, -50, 0, 50, 0), line(render.Existing, 0, 0, 0, -50),
			circle(render.Outline, render.Blank, 0, 0, 10),
		},
	}
}

func primaries() []Symbol {
	return []Symbol{Orifice(), FlowTube(), PressureTap(), LevelTap(), Thermowell(), Tapping()}
}
