package model

import (
	"cmp"
	"slices"
	"strings"

	"ringout/model/finding"
)

// This file holds remote I/O: racks in the field, the links that join them to the system
// that they report to, and what stops where a link fails.

// PlugLink is what only a link by plugs has.
type PlugLink struct {
	Ends    []LinkEnd // two, in the order of the text
	Cable   string    // its tag; "" when not given
	Fibres  string    // of that cable, in words; "" when not given
	Length  float64   // m; 0 when not given
	InFeet  bool      // it was written in feet
	Route   string    // "" when not given
	Longest float64   // m, as the makers of its ports say; 0 for that of its kind
	Loss    float64   // dB, the most of each fibre; 0 when not given
}

// LengthWords is its length in the unit that it was written in; "" where it is not given.
func (l *PlugLink) LengthWords() string {
	return (&Cable{Length: l.Length, InFeet: l.InFeet}).LengthWords()
}

// FibreNames are its fibres one by one; none where they are not given.
func (l *PlugLink) FibreNames() []string {
	return strings.FieldsFunc(l.Fibres, func(c rune) bool { return c == ' ' || c == ',' })
}

// LinkEnd is an end of a link by plugs.
type LinkEnd struct {
	Pos   finding.Pos
	Place *Place
	Port  string // the port there in words, such as port 2
}

// Tag is the place and the port there, as they are written.
func (e LinkEnd) Tag() string {
	if e.Port == "" {
		return e.Place.Tag
	}
	return e.Place.Tag + " " + e.Port
}

// Plugged reports whether a loop is a link by plugs: it has no cores to land.
func (l *Loop) Plugged() bool { return l.Segment != nil && l.Segment.Kind.Plugged }

// Joins are the places that a link joins, each once: those of its plugs, or of a serial
// link those with a device of its own or a port of a card on it. What merely passes its
// pair on is not joined.
func (l *Loop) Joins() (all []*Place) {
	add := func(pl *Place) {
		if pl != nil && !slices.Contains(all, pl) {
			all = append(all, pl)
		}
	}
	switch {
	case l.Plugged():
		for _, e := range l.Segment.Plug.Ends {
			add(e.Place)
		}
	case l.Segment != nil && l.Segment.Kind.Signal == Serial:
		for _, d := range l.Devices {
			add(d.Place)
		}
		for _, c := range l.Circuits {
			if c.Broken {
				continue
			}
			for _, st := range c.Stations() {
				if st.Part.Card != nil {
					add(st.Part.Place)
				}
			}
		}
	}
	return all
}

// PlugCable is a cable of links by plugs as a schedule has it. Its type has a name alone, the
// kind of its links: it has no cores to land.
type PlugCable struct {
	*Cable
	Links []*Loop
}

// PlugCables are the cables of links by plugs, each once, in the order of the text; one without
// a tag is of its own link alone. Length and way are those of the first link that has them.
func (p *Plant) PlugCables() (all []*PlugCable) {
	byTag := map[string]*PlugCable{}
	for _, l := range p.Loops {
		if !l.Plugged() || len(l.Segment.Plug.Ends) != 2 {
			continue
		}
		k := &l.Segment.Plug
		c := byTag[k.Cable]
		if c == nil || k.Cable == "" {
			c = &PlugCable{Cable: &Cable{Pos: l.Pos, Tag: k.Cable, Type: &CableType{Name: l.Segment.Kind.Name}, Status: l.Status,
				From: CableEnd{Place: k.Ends[0].Place}, To: CableEnd{Place: k.Ends[1].Place}}}
			byTag[k.Cable], all = c, append(all, c)
		}
		c.Links = append(c.Links, l)
		if l.Status == Existing || c.Status == Future { // it is there as soon as one link is
			c.Status = l.Status
		}
		if c.Length == 0 {
			c.Length, c.InFeet = k.Length, k.InFeet
		}
		c.Route = cmp.Or(c.Route, k.Route)
	}
	return all
}

// LinkCables are the tags of the cables of a link, each once.
func (l *Loop) LinkCables() (tags []string) {
	if l.Plugged() {
		return given(l.Segment.Plug.Cable)
	}
	for _, c := range l.cables() {
		tags = append(tags, c.Tag)
	}
	return tags
}

// LinkPorts are where a link ends on what it joins: the ports of its plugs, or of a serial
// link the channels of cards and the devices on it, each once.
func (l *Loop) LinkPorts() (tags []string) {
	if l.Plugged() {
		for _, e := range l.Segment.Plug.Ends {
			tags = append(tags, e.Tag())
		}
		return tags
	}
	for _, c := range l.Circuits {
		if c.Broken {
			continue
		}
		for _, st := range c.Stations() {
			if st.Part.Card != nil || st.Part.Device != nil {
				tags = append(tags, st.Part.Tag)
			}
		}
	}
	return Unique(tags)
}

// LinkRoutes are the ways that its cables go, each once, as far as they are given.
func (l *Loop) LinkRoutes() (ways []string) {
	if l.Plugged() {
		return given(l.Segment.Plug.Route)
	}
	for _, c := range l.cables() {
		ways = append(ways, given(c.Route)...)
	}
	return Unique(ways)
}

// cables are those that the circuits of a loop run in, each once.
func (l *Loop) cables() (all []*Cable) {
	for _, c := range l.Circuits {
		if c.Broken {
			continue
		}
		for _, run := range c.Runs() {
			if run.Cable != nil && !slices.Contains(all, run.Cable) {
				all = append(all, run.Cable)
			}
		}
	}
	return all
}

// given is a text as a list; none where there is none.
func given(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// Links are the links that come to a place itself, in the order of the text.
func (p *Plant) Links(pl *Place) (all []*Loop) {
	for _, l := range p.Loops {
		if l.Segment != nil && slices.Contains(l.Joins(), pl) && len(l.Joins()) > 1 {
			all = append(all, l)
		}
	}
	return all
}

// Reaches reports whether links lead from a rack to its controller, by way of others too:
// all that are there, but those without.
func (p *Plant) Reaches(rack *Place, without ...*Loop) bool {
	reached := []*Place{rack}
	for i := 0; i < len(reached); i++ {
		for _, l := range p.Links(reached[i]) {
			if l.Later() || slices.Contains(without, l) {
				continue
			}
			for _, pl := range l.Joins() {
				if !slices.Contains(reached, pl) {
					reached = append(reached, pl)
				}
			}
		}
	}
	return slices.Contains(reached, rack.Controller)
}

// Racks are the places that report to a controller by link, in the order of the text.
func (p *Plant) Racks() (all []*Place) {
	for _, pl := range p.Places {
		if pl.Controller != nil {
			all = append(all, pl)
		}
	}
	return all
}

// Served are the racks that a link serves: those that it comes to, and those farther on
// that have no other way.
func (p *Plant) Served(l *Loop) (all []*Place) {
	for _, rack := range p.Racks() {
		if slices.Contains(l.Joins(), rack) && len(l.Joins()) > 1 || p.CutOff(rack, l) {
			all = append(all, rack)
		}
	}
	return all
}

// CutOff reports whether a rack loses its controller with a link.
func (p *Plant) CutOff(rack *Place, l *Loop) bool { return p.Reaches(rack) && !p.Reaches(rack, l) }

// LostLinks are the links without which a rack is lost to its controller: those of which
// each alone cuts it off, or, where Alone is false, those that come to it and have to fail
// together.
type LostLinks struct {
	Links []*Loop
	Alone bool
}

// LostBy are the links that a rack is lost by; none where no link leads to its controller.
func (p *Plant) LostBy(rack *Place) LostLinks {
	type byRack struct{}
	return Once(p, byRack{}, func(p *Plant) map[*Place]LostLinks {
		all := map[*Place]LostLinks{}
		for _, x := range p.Racks() {
			all[x] = p.lostBy(x)
		}
		return all
	})[rack]
}

func (p *Plant) lostBy(rack *Place) (lost LostLinks) {
	if !p.Reaches(rack) {
		return lost
	}
	for _, l := range p.Loops {
		if l.Segment != nil && len(l.Joins()) > 1 && p.CutOff(rack, l) {
			lost.Links = append(lost.Links, l)
		}
	}
	if lost.Alone = len(lost.Links) > 0; !lost.Alone {
		lost.Links = slices.DeleteFunc(p.Links(rack), (*Loop).Later)
	}
	return lost
}

// OnRack are the loops with a circuit on a channel of a rack, in the order of the text.
// Links and what only passes through are none.
func (p *Plant) OnRack(rack *Place) (all []*Loop) {
	for _, l := range p.Loops {
		if l.Segment != nil && slices.Contains(l.Joins(), rack) {
			continue
		}
		if slices.Contains(l.RacksOf(), rack) {
			all = append(all, l)
		}
	}
	return all
}

// RacksOf are the racks whose channels the circuits of a loop use, each once.
func (l *Loop) RacksOf() (all []*Place) {
	for _, c := range l.Circuits {
		for _, rack := range c.Racks() {
			if !slices.Contains(all, rack) {
				all = append(all, rack)
			}
		}
	}
	return all
}

// Racks are the racks whose channels a circuit uses, each once.
func (c *Circuit) Racks() (all []*Place) {
	if c.Broken {
		return nil
	}
	for _, st := range c.Stations() {
		if rack := st.Part.Place; st.Part.Card != nil && st.Part.Of == nil && rack != nil && rack.Controller != nil && !slices.Contains(all, rack) {
			all = append(all, rack)
		}
	}
	return all
}

// MayHoldOnLoss reports whether a card has outputs that do something of their own when
// their rack loses its controller.
func (p *Part) MayHoldOnLoss() bool {
	return p.Card != nil && p.Kind != nil && (p.Kind.Signal == AnalogOut || p.Kind.Signal == SwitchedOut)
}
