package symbol

import (
	"ringout/render"
)

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

func supplies() []Symbol { return []Symbol{AirSupply()} }
