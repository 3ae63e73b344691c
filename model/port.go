package model

import "slices"

// This file holds instruments of several circuits: inputs and outputs in one housing.

// Ports are the inputs and outputs of a device that has several; none of others.
func (p *Part) Ports() []*Part {
	if p.Device == nil {
		return nil
	}
	return p.Device.Ports
}

// Whole is the device that a part is an input or output of, else the part itself.
func (p *Part) Whole() *Part {
	if p.Of != nil {
		return p.Of
	}
	return p
}

// Port is the name of an input or output in its instrument.
func (p *Part) Port() string { return p.Tag[len(p.Of.Tag)+1:] }

// Circuits are those that land on the part, each once, in the order of its terminals.
func (p *Part) Circuits() (all []*Circuit) {
	for _, t := range p.Terminals {
		for _, e := range t.Ends {
			if c := e.Conductor.Circuit; c != nil && !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	return all
}

// Drive reports whether a part is an output that moves something, not one that sends on what
// its device reads.
func (p *Part) Drive() bool { return p.Card != nil && p.Kind.Signal == AnalogOut }

// Supplied is the supply group of a device that has several; nil without one.
func (p *Part) Supplied() *Group {
	if p.Device == nil {
		return nil
	}
	for _, g := range p.Device.Groups {
		if g.Feeds != NoSignal {
			return g
		}
	}
	return nil
}

// Instrument makes the function of a device that does something with what it reads, and files
// it with its loop. It reads the circuits on its inputs and drives those on its outputs.
func (p *Part) Instrument() {
	if p.Kind == nil || p.Kind.Does == 0 || p.Device == nil {
		return
	}
	d := p.Device
	f := &Function{Pos: p.Pos, Tag: p.Tag, Loop: d.Loop, Kind: p.Kind.Does, Of: p, Action: d.Action, Set: ReadSetPoint(d.SetPoint.Text), Alarms: d.Alarms}
	for _, port := range d.Ports {
		for _, c := range port.Circuits() {
			switch {
			case c.Broken || port.Card == nil:
			case port.Drive():
				f.Outputs = append(f.Outputs, c)
			default:
				f.Reads = append(f.Reads, c)
			}
		}
	}
	d.Function = f
	d.Loop.Functions = append(d.Loop.Functions, f)
}

// AlarmOf is the set point of a contact of a device that trips by what it reads: the alarm of
// its name, or the only one; false where there is none.
func (p *Part) AlarmOf(g *Group) (SetPoint, bool) {
	if p.Device == nil || g == nil || g.Contact == 0 {
		return SetPoint{}, false
	}
	all := p.Device.Alarms
	for _, s := range all {
		if s.Name != "" && s.Name == g.Name {
			return s, true
		}
	}
	if len(all) == 1 && len(p.Contacts()) == 1 {
		return all[0], true
	}
	return SetPoint{}, false
}
