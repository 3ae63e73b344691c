package model

import (
	"slices"

	"ringout/model/finding"
)

// This file has outputs that several circuits share, each with a part of its own: split
// range made in the system.

// OutputPart is the part of the output of a function that is the whole signal of one of the
// circuits that it drives.
type OutputPart struct {
	Pos     finding.Pos
	Circuit *Circuit
	Range   Range // the outputs, 0 to 100 %, at which the signal is at its low and at its high end
}

// Meeting is how the parts of an output are meant to meet.
type Meeting uint8

// How parts are meant to meet, where not end to end.
const (
	LeaveGap Meeting = iota + 1 // a dead band, where nothing moves
	Overlap                     // two move at once
)

// MeetingWords are the words for Meeting, in order.
var MeetingWords = []string{"gap", "overlap"}

func (x Meeting) String() string { return word(MeetingWords, x) }

// PartOf is the part of the output of f that a circuit has: all of it where none is given.
func (f *Function) PartOf(c *Circuit) Range {
	for _, p := range f.Parts {
		if p.Circuit == c {
			return p.Range
		}
	}
	return Range{High: 100, Unit: "%"}
}

// partGiven reports whether a function says which part of its output a circuit gets.
func (f *Function) partGiven(c *Circuit) bool {
	return slices.ContainsFunc(f.Parts, func(p OutputPart) bool { return p.Circuit == c })
}

// SignalAt is the signal of a circuit, from 0 to 100 %, at an output of f in per cent: in
// proportion within its part, and outside of it what it is at the near end.
func (f *Function) SignalAt(c *Circuit, output float64) float64 {
	signal, _ := f.PartOf(c).Percent(output)
	return min(max(signal, 0), 100)
}

// FinalElement is what a device moves in the end, by way of others; itself when it moves
// nothing.
func (p *Part) FinalElement() *Part {
	for range 8 { // a ring of devices is the check's business
		if p == nil || p.Device == nil || p.Device.Actuates == nil {
			break
		}
		p = p.Device.Actuates
	}
	return p
}

// OpensBy reports whether what a device moves opens as the signal of the device rises;
// false for known where it does not say how it fails.
func (p *Part) OpensBy() (opens, known bool) {
	switch fail := p.FinalElement().Device.Fail; fail {
	case Open, Closed:
		return (fail == Open) == (p.Device.Action == Reverse), true
	}
	return false, false
}
