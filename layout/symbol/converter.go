package symbol

import "ringout/render"

// CurrentToPressure is an I/P converter: two lanes in, air in below, air out.
func CurrentToPressure() Symbol {
	return Symbol{
		Name: "I/P converter", Min: at(0, -25), Max: at(100, 75),
		Ports: []Port{
			port("+", 0, 0, West), port("-", 0, 50, West), port("output", 100, 25, East), port("supply", 50, 75, South),
		},
		Items: []render.Item{
			box(render.Outline, 0, -25, 100, 75),
			line(render.Existing, 0, 75, 100, -25),
			letters(27, 15, "I", 30), letters(73, 60, "P", 30),
		},
	}
}

// Positioner is the square on the stem of a valve.
func Positioner() Symbol {
	return Symbol{
		Name: "positioner", Min: at(-25, -25), Max: at(25, 25),
		Ports: []Port{
			port("west", -25, 0, West), port("east", 25, 0, East), port("north", 0, -25, North), port("south", 0, 25, South),
		},
		Items: []render.Item{box(render.Outline, -25, -25, 25, 25), letters(0, 12, "P", 40)},
	}
}

// Solenoid is the coil of a solenoid valve.
func Solenoid() Symbol {
	s := Positioner()
	s.Name = "solenoid"
	s.Items[1] = letters(0, 12, "S", 40)
	return s
}

func converters() []Symbol {
	return []Symbol{CurrentToPressure(), Positioner(), Solenoid()}
}
