package symbol

import "ringout/render"

// Contact is a switch contact between the ports west and east, drawn in its
// state at rest: closed for a break contact, open for a make contact.
func Contact(closed bool) Symbol {
	s := Symbol{
		Name: "contact, make", Min: at(-50, -30), Max: at(50, 0),
		Ports: []Port{port("west", -50, 0, West), port("east", 50, 0, East)},
		Items: []render.Item{line(render.Outline, -50, 0, -25, 0), line(render.Outline, 25, 0, 50, 0)},
	}
	if closed {
		s.Name = "contact, break"
		s.Items = append(s.Items, line(render.Outline, -25, 0, 32, -24), line(render.Outline, 25, 0, 25, -25))
		return s
	}
	s.Items = append(s.Items, line(render.Outline, -25, 0, 22, -28))
	return s
}

// Proximity is a proximity switch: the diamond of a sensor beside a contact.
func Proximity() Symbol {
	return Symbol{
		Name: "proximity switch", Min: at(0, -50), Max: at(150, 50),
		Ports: []Port{port("west", 0, 0, West), port("east", 150, 0, East)},
		Items: []render.Item{
			box(render.Outline, 0, -50, 150, 50),
			shape(render.Existing, render.Hollow, 15, -25, 30, -40, 45, -25, 30, -10),
			line(render.Screen, 45, -25, 80, -25),
			line(render.Outline, 0, 0, 60, 0), line(render.Outline, 60, 0, 107, -28),
			line(render.Outline, 110, 0, 150, 0),
		},
	}
}

func contacts() []Symbol { return []Symbol{Contact(false), Contact(true), Proximity()} }
