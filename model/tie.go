package model

import (
	"slices"
)

// Tie joins two loops beside their wiring: a function reads or drives a circuit of
// another loop or takes the output of a function there, a device moves a device of
// another one, or its contact switches a circuit of another one or its coil is in one.
type Tie struct {
	Function *Function // that reads, takes or drives; nil where a device drives
	Circuit  *Circuit  // that it reads or drives
	Taken    *Function // whose output it takes
	Device   *Part     // that moves another or has a contact or coil in Circuit; nil where a function does it
	Moved    *Part     // that it moves
	Group    *Group    // of Device, in Circuit
	Reads    bool      // the function reads or takes, or the coil is in Circuit: the signal comes from the other loop
	Of       *Loop     // of the function or device
	Other    *Loop     // of what it reads or drives
}

// Words returns what the tie does, such as FIC-2112 reads FT-2107.
func (t Tie) Words() string {
	switch {
	case t.Taken != nil:
		return t.Function.Tag + " " + t.Function.TakenAs(t.Taken)
	case t.Function != nil && t.Reads && t.Function.Kind == Ratio:
		return t.Tag() + ", wild"
	case t.Function != nil && !t.Reads && t.Function.Kind == Controller && t.Function.partGiven(t.Circuit):
		return t.Tag() + " by " + t.Function.PartOf(t.Circuit).Text + " of its output"
	}
	return t.Tag()
}

// TakenAs says what a function does with the output of one that it takes, such as
// cascade: set point from LIC-2115.
func (f *Function) TakenAs(from *Function) string {
	switch {
	case f.Kind == Controller && from.Kind == Ratio:
		return "ratio: set point from " + from.Tag
	case f.Kind == Controller && from.Kind == Controller:
		return "cascade: set point from " + from.Tag
	case f.Kind == Controller:
		return "set point from " + from.Tag
	}
	return "takes " + from.Tag
}

// Inputs names what a function gets: circuits that it reads, then functions whose output
// it takes.
func (f *Function) Inputs() (names []string) {
	for _, c := range f.Reads {
		names = append(names, c.Name)
	}
	for _, from := range f.Takes {
		names = append(names, from.Tag)
	}
	return names
}

// Tag tells the tie from others, whatever words paper has for it: registers of
// issues hold it.
func (t Tie) Tag() string {
	switch {
	case t.Group != nil && t.Reads:
		return t.Device.Tag + " " + t.Group.Numbers() + " is worked by " + t.Circuit.Name
	case t.Group != nil:
		return t.Device.Tag + " " + t.Group.Numbers() + " switches " + t.Circuit.Name
	case t.Device != nil:
		return t.Device.Tag + " drives " + t.Moved.Tag
	case t.Taken != nil:
		return t.Function.Tag + " takes " + t.Taken.Tag
	case t.Reads:
		return t.Function.Tag + " reads " + t.Circuit.Name
	}
	return t.Function.Tag + " drives " + t.Circuit.Name
}

// Far is the other loop of a tie, as seen from one of its two.
func (t Tie) Far(l *Loop) *Loop {
	if l == t.Of {
		return t.Other
	}
	return t.Of
}

// Leaves reports whether the signal of a tie goes out of a loop of its two.
func (t Tie) Leaves(l *Loop) bool { return t.Reads == (l == t.Other) }

// Ties lists those that functions and devices of the loop make with other loops,
// in the order of the text, each once.
func (l *Loop) Ties() (all []Tie) {
	add := func(t Tie) {
		if t.Of = l; t.Other != l && !slices.Contains(all, t) {
			all = append(all, t)
		}
	}
	for _, d := range l.Devices {
		if v := d.Device.Actuates; v != nil {
			add(Tie{Device: d, Moved: v, Other: v.Device.Loop})
		}
		for _, g := range append(d.Coils(), d.Contacts()...) {
			for _, c := range g.Circuits() {
				add(Tie{Device: d, Group: g, Circuit: c, Reads: g.Contact == 0, Other: c.Loop})
			}
		}
	}
	for _, f := range l.Functions {
		for _, c := range f.Reads {
			add(Tie{Function: f, Circuit: c, Reads: true, Other: c.Loop})
		}
		for _, from := range f.Takes {
			add(Tie{Function: f, Taken: from, Reads: true, Other: from.Loop})
		}
		for _, c := range f.Outputs {
			add(Tie{Function: f, Circuit: c, Other: c.Loop})
		}
	}
	return all
}
