package symbol

import (
	"ringout/render"
)

// Actuator is what moves a valve.
type Actuator uint8

// The actuators.
const (
	Diaphragm Actuator = iota
	Piston
	Motor
)

// Fail is where a valve goes when its energy fails.
type Fail uint8

// The fail positions; Unstated draws no mark.
const (
	Unstated Fail = iota
	FailOpen
	FailClosed
	FailLocked
)

var (
	actuatorNames = []string{"diaphragm", "piston", "motor"}
	failLetters   = []string{"", "FO", "FC", "FL"}
)

// Valve is a control valve in a line: the pipe at the ports inlet and outlet,
// the signal at the port signal on top of the actuator. The fail position is
// shown twice, by a mark on the stem and by letters (ISA-5.1, both forms).
func Valve(by Actuator, fail Fail) Symbol {
	s := Symbol{Name: "valve, " + actuatorNames[by], Max: at(50, 25)}
	if fail != Unstated {
		s.Name += " " + failLetters[fail]
	}
	s.Items = []render.Item{
		shape(render.Outline, render.Blank, -50, -25, 50, 25, 50, -25, -50, 25),
		line(render.Existing, 0, 0, 0, -75),
	}
	top := -125
	switch by {
	case Diaphragm:
		top = -100
		s.Items = append(s.Items, line(render.Outline, -50, -75, 50, -75))
		s.Items = append(s.Items, dome(render.Outline, -50, 50, -75, 25)...)
	case Piston:
		s.Items = append(s.Items, box(render.Outline, -35, -125, 35, -75), line(render.Existing, -35, -100, 35, -100),
			line(render.Existing, 0, -100, 0, -75))
	case Motor:
		s.Items = append(s.Items, circle(render.Outline, render.Blank, 0, -100, 25), letters(0, -87, "M", 30))
	}
	switch fail {
	case FailOpen:
		s.Items = append(s.Items, shape(render.None, render.Solid, 0, -68, -11, -44, 11, -44))
	case FailClosed:
		s.Items = append(s.Items, shape(render.None, render.Solid, 0, -30, -11, -54, 11, -54))
	case FailLocked:
		s.Items = append(s.Items, line(render.Outline, -11, -54, 11, -54), line(render.Outline, -11, -44, 11, -44))
	}
	if fail != Unstated {
		s.Items = append(s.Items, letters(33, -38, failLetters[fail], 34))
	}
	s.Min = at(-50, top)
	s.Ports = []Port{
		port("inlet", -50, 0, West), port("outlet", 50, 0, East), port("signal", 0, top, North),
	}
	return s
}

func valves() []Symbol {
	return []Symbol{
		Valve(Diaphragm, FailOpen), Valve(Diaphragm, FailClosed), Valve(Diaphragm, FailLocked),
		Valve(Piston, FailClosed), Valve(Motor, FailLocked), Valve(Diaphragm, Unstated),
	}
}
