package symbol

import (
	"ringout/render"
)

// Voltage warns of dangerous voltage: a lightning arrow in a triangle, after the
// shape of ISO 7010-W012.
func Voltage() Symbol {
	return Symbol{
		Name: "dangerous voltage", Min: at(0, 0), Max: at(60, 52),
		Ports: []Port{port("north", 30, 0, North)},
		Items: []render.Item{
			shape(render.New, render.Blank, 30, 0, 60, 52, 0, 52),
			shape(render.None, render.Solid, 30, 14, 35, 16, 30, 27, 38, 26, 30, 39, 33, 41, 25, 48, 24, 37, 27, 38, 30, 31, 23, 32),
		},
	}
}

func warnings() []Symbol { return []Symbol{Voltage()} }
