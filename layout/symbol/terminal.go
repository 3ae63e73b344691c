package symbol

import (
	"ringout/fonts"
	"ringout/render"
)

// TerminalType is what a terminal has between its two sides.
type TerminalType uint8

// The kinds of terminal. A knife is drawn in its normal state: closed.
const (
	Through TerminalType = iota
	Fused
	Knife
	Diode
	Earthed
	Mated   // pin and socket, which half has which not told
	PinWest // the pin in the west half
	PinEast // the pin in the east half
)

var linkNames = []string{"terminal", "terminal, fused", "terminal, disconnect", "terminal, diode", "terminal, earth",
	"plug and receptacle", "plug west in receptacle", "plug east in receptacle"}

// Terminal is one terminal of a strip, number inside (ISA-5.4 practice: a
// square), one leg high, its port west on the origin. A terminal with a link
// is twice as wide. The number is 2.5 mm high, or 1.8 mm; false if it does not fit.
func Terminal(link TerminalType, number string) (Symbol, bool) {
	right := 75
	if link != Through {
		right = 150
	}
	s := Symbol{
		Name: linkNames[link], Min: at(0, -25), Max: at(right, 25),
		Ports: []Port{port("west", 0, 0, West), port("east", right, 0, East)},
		Items: []render.Item{box(render.Outline, 0, -25, right, 25)},
	}
	if link != Through {
		s.Items = append(s.Items, line(render.Thin, 75, -25, 75, 25))
	}
	switch link {
	case Fused:
		s.Items = append(s.Items, line(render.Existing, 75, 0, 150, 0), shape(render.Outline, render.Hollow, 92, -9, 133, -9, 133, 9, 92, 9))
	case Knife:
		s.Items = append(s.Items, line(render.Existing, 75, 0, 95, 0), line(render.Existing, 130, 0, 150, 0),
			line(render.New, 95, 0, 130, 0), line(render.Existing, 121, -9, 121, 9),
			circle(render.Existing, render.Blank, 95, 0, 6), circle(render.Existing, render.Blank, 130, 0, 6))
	case Diode:
		s.Items = append(s.Items, line(render.Existing, 75, 0, 150, 0),
			shape(render.Existing, render.Solid, 100, -11, 124, 0, 100, 11), line(render.Outline, 125, -11, 125, 11))
	case Earthed:
		s.Items = append(s.Items, line(render.Existing, 75, 0, 105, 0), line(render.Outline, 105, -15, 105, 15),
			line(render.Outline, 115, -10, 115, 10), line(render.Outline, 125, -5, 125, 5))
	case Mated, PinWest, PinEast:
		s.Items = append(s.Items, mated(link)...)
	}
	t, ok := lettering(fonts.Mono, 37, 12, number, always(67))
	s.Items = append(s.Items, t)
	return s, ok
}

// mated is a pin in its socket, as IEC 60617 has them: the pin a filled bar, the socket
// an arc round its end. Two chevrons stand for a pair of which it is not told.
func mated(link TerminalType) []render.Item {
	if link == Mated {
		return []render.Item{line(render.Existing, 75, 0, 112, 0), line(render.Existing, 122, 0, 150, 0),
			line(render.New, 102, -12, 112, 0), line(render.New, 112, 0, 102, 12),
			line(render.New, 112, -12, 122, 0), line(render.New, 122, 0, 112, 12)}
	}
	x := func(x int) int { // seen from the west
		if link == PinEast {
			return 225 - x
		}
		return x
	}
	return []render.Item{
		line(render.Existing, x(75), 0, x(92), 0), line(render.Existing, x(129), 0, x(150), 0),
		shape(render.Outline, render.Solid, x(92), -5, x(120), -5, x(120), 5, x(92), 5),
		curve(render.New, x(110), -14, x(135), -14, x(135), 14, x(110), 14),
	}
}

// Dot joins a jumper to a terminal or two lines to each other.
func Dot() Symbol {
	return Symbol{
		Name: "jumper dot", Min: at(-8, -8), Max: at(8, 8),
		Ports: []Port{port("west", -8, 0, West), port("east", 8, 0, East), port("north", 0, -8, North), port("south", 0, 8, South)},
		Items: []render.Item{circle(render.None, render.Solid, 0, 0, 8)},
	}
}

func terminals() []Symbol {
	var all []Symbol
	for link, number := range []string{"12", "13", "14A", "15", "16", "1", "2", "PE"} {
		s, _ := Terminal(TerminalType(link), number)
		all = append(all, s)
	}
	return append(all, Dot())
}
