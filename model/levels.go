package model

import (
	"strings"
)

// This file holds by what a switched input tells 0 from 1.

// Levels are the bounds of a switched input. 0 is held up to Off.Volts, or below
// Off.MA whatever the volts; 1 is sure from On.Volts and On.MA on. Of what an input
// does not go by, the figure is 0.
type Levels struct{ Off, On VoltsAt }

func bounds(offVolts, offMA, onVolts, onMA float64) Levels {
	return Levels{VoltsAt{Volts: offVolts, MA: offMA}, VoltsAt{Volts: onVolts, MA: onMA}}
}

// inputTypes are the levels of inputs of type 1, 2 and 3, where they are known, on
// supplies of low to high V.
var inputTypes = []struct {
	ac        bool
	low, high float64
	levels    []Levels
}{
	// IEC 61131-2, current-sinking digital inputs (table of operating ranges). Supplies
	// are DC from 15 % below to 20 % above 24 and 48 V, AC from 15 % below to 10 % above
	// 100 to 120 and 200 to 240 V. Data sheets of cards print the volts of 24 V DC types
	// 1 and 3, of type 1 at 100 to 120 V AC, and the 2 mA of type 3; all other figures,
	// and the limits of AC supplies, are from memory.
	{false, 20.4, 28.8, []Levels{bounds(5, 0.5, 15, 2), bounds(5, 2, 11, 6), bounds(5, 1.5, 11, 2)}},
	{false, 40.8, 57.6, []Levels{bounds(10, 0.5, 34, 2)}},
	{true, 85, 132, []Levels{bounds(20, 1, 79, 2), bounds(20, 4, 74, 6), bounds(20, 2.5, 74, 3)}},
	{true, 170, 264, []Levels{bounds(40, 2, 164, 3), bounds(40, 5, 159, 7), bounds(40, 3, 159, 4)}},
}

// proximityLevels are those between which the input of a proximity switch has to
// change over: IEC 60947-5-6, from memory.
var proximityLevels = bounds(0, 1.2, 0, 2.1)

// MostInputType is the highest type of input.
const MostInputType = 3

// Levels are those of the card's inputs in a circuit: its own figures before those of
// its type at the volts of the circuit. missing names what they lack; asked is false
// where the card says nothing of them.
func (c *Circuit) Levels(card *Part) (l Levels, missing []string, asked bool) {
	own := card.Card.Levels
	if card.Kind.Signal == Proximity {
		l = proximityLevels
	} else if own == (Levels{}) && card.Card.Type == 0 {
		return l, nil, false
	}
	if card.Card.Type > 0 && (own.Off == VoltsAt{} || own.On == VoltsAt{}) {
		volts, ac, known := c.Feeding()
		if !known {
			return l, []string{"what supplies circuit " + c.Name}, true
		}
		for _, t := range inputTypes {
			if t.ac == ac && t.low <= volts && volts <= t.high && card.Card.Type <= len(t.levels) {
				l = t.levels[card.Card.Type-1]
			}
		}
	}
	if own.Off != (VoltsAt{}) {
		l.Off = own.Off
	}
	if own.On != (VoltsAt{}) {
		l.On = own.On
	}
	if l.Off == (VoltsAt{}) {
		missing = append(missing, "off below of card "+card.Tag)
	}
	if l.On == (VoltsAt{}) {
		missing = append(missing, "on above of card "+card.Tag)
	}
	return l, missing, true
}

// String is the levels that are given: off below 5 V at 1 mA, on above 15 V.
func (l Levels) String() string {
	var all []string
	if l.Off != (VoltsAt{}) {
		all = append(all, "off below "+l.Off.Bound())
	}
	if l.On != (VoltsAt{}) {
		all = append(all, "on above "+l.On.Bound())
	}
	return strings.Join(all, ", ")
}
