package symbol

import (
	"ringout/fonts"
	"ringout/render"
)

// Mount tells where the instrument of a bubble is and what kind it is.
type Mount uint8

// The mountings of ISA-5.1-2009 table 5.1.1 (shapes from memory).
const (
	Field    Mount = iota // circle: reachable at the instrument
	Panel                 // circle, solid line: on the main panel front
	Behind                // circle, dashed line: behind the panel, in a cabinet
	Shared                // circle in a square: shared display and control
	Computer              // hexagon: computer function
)

var mountNames = []string{"bubble, field", "bubble, panel front", "bubble, behind panel", "bubble, shared display", "bubble, computer"}

// Bubble is an instrument symbol of 12 mm (the larger circle of ISA-5.1-2009
// clause 5.1) with the function letters above the loop number. Both are 2.5 mm
// high and narrowed to fit; false if one is too long even so.
func Bubble(mount Mount, function, number string) (Symbol, bool) {
	s := Symbol{Name: mountNames[mount], Min: at(-60, -60), Max: at(60, 60)}
	edge := 60 // of the shape at half height
	switch mount {
	case Shared:
		s.Items = append(s.Items, box(render.Outline, -60, -60, 60, 60), circle(render.Outline, render.Hollow, 0, 0, 60))
	case Computer:
		edge = 70
		s.Min, s.Max = at(-70, -60), at(70, 60)
		s.Items = append(s.Items, shape(render.Outline, render.Blank, -70, 0, -35, -60, 35, -60, 70, 0, 35, 60, -35, 60))
	default:
		s.Items = append(s.Items, circle(render.Outline, render.Blank, 0, 0, 60))
	}
	upper, lower := -12, 37 // baselines on both sides of a line
	switch mount {
	case Field:
		upper, lower = -6, 32
	case Behind:
		s.Items = append(s.Items, line(render.Screen, -edge, 0, edge, 0))
	default:
		s.Items = append(s.Items, line(render.Existing, -edge, 0, edge, 0))
	}
	// 9.2 mm is the chord of the circle at the far edge of the lettering.
	top, ok1 := lettering(fonts.MonoBold, letterHeight, 0, upper, function, 92)
	bottom, ok2 := lettering(fonts.Mono, letterHeight, 0, lower, number, 92)
	s.Items = append(s.Items, top, bottom)
	s.Ports = []Port{
		port("west", -edge, 0, West), port("east", edge, 0, East),
		port("north", 0, -60, North), port("south", 0, 60, South),
	}
	return s, ok1 && ok2
}

func bubbles() []Symbol {
	var all []Symbol
	for mount, tag := range [][2]string{{"FT", "1042"}, {"FIC", "1042"}, {"FY", "1042B"}, {"FIC", "20-1042"}, {"FQI", "1042"}} {
		s, _ := Bubble(Mount(mount), tag[0], tag[1])
		all = append(all, s)
	}
	return all
}
