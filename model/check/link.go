package check

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// This file checks remote I/O and its links.

// checkRacks: does a link lead from each rack in use to its controller, and would one
// mishap take two links that stand in for each other?
func checkRacks(p *model.Plant, found func(finding.Finding)) {
	for _, rack := range p.Racks() {
		if rack.Status == model.Future {
			continue
		}
		on := inUse(p, rack)
		if len(on) > 0 && !p.Reaches(rack) {
			found(finding.At(rack.Pos, finding.UnlinkedRack, "no link leads from %s to its controller %s; on its cards: %s", rack.Tag, rack.Controller.Tag, finding.Few(on)).
				WithHint(finding.Do("describe the segment that joins %s and %s: a serial link with a device or port in each, or a link with ends in both", rack.Tag, rack.Controller.Tag)))
		}
		links := p.Links(rack)
		for i, a := range links {
			for _, b := range links[i+1:] {
				checkWays(rack, a, b, found)
			}
		}
	}
}

// inUse are the tags of the loops on a rack that are there or to be installed.
func inUse(p *model.Plant, rack *model.Place) (tags []string) {
	for _, l := range p.OnRack(rack) {
		if !l.Later() {
			tags = append(tags, l.Tag)
		}
	}
	return tags
}

// checkWays: do two links of a rack share a cable, or go the same way?
func checkWays(rack *model.Place, a, b *model.Loop, found func(finding.Finding)) {
	for _, shared := range [][2][]string{{a.LinkCables(), b.LinkCables()}, {a.LinkRoutes(), b.LinkRoutes()}} {
		for _, way := range shared[0] {
			for _, other := range shared[1] {
				if strings.EqualFold(way, other) {
					found(finding.At(b.Pos, finding.SharedWay, "%s and %s of %s both go by %s: damage there takes both", a.Tag, b.Tag, rack.Tag, way).
						WithAlso(a.Pos, "the other one").WithHint(finding.Do("take one of them another way")))
					return
				}
			}
		}
	}
}

// checkFibres: is each fibre in one link? A cable that is spliced on the way may have others
// beyond.
func checkFibres(p *model.Plant, found func(finding.Finding)) {
	for _, c := range p.PlugCables() {
		first := map[string]*model.Loop{}
		for _, l := range c.Links {
			if l.Later() || !sameEnds(l, c.Links[0]) || c.Tag == "" {
				continue
			}
			for _, name := range l.Segment.Plug.FibreNames() {
				if o := first[name]; o != nil && o != l {
					found(finding.At(l.Pos, finding.CoreUsedTwice, "fibre %s of %s used twice: %s and %s", name, c.Tag, o.Tag, l.Tag).
						WithAlso(o.Pos, "the other one").WithHint(finding.Do("give each link fibres of its own")))
					break
				}
				first[name] = l
			}
		}
	}
}

// sameEnds reports whether two links by plugs join the same places.
func sameEnds(a, b *model.Loop) bool {
	return slices.Equal(a.Joins(), b.Joins()) || len(a.Joins()) == 2 && slices.Equal([]*model.Place{a.Joins()[1], a.Joins()[0]}, b.Joins())
}

// checkPorts: is there one plug in each port?
func checkPorts(p *model.Plant, found func(finding.Finding)) {
	first := map[string]*model.Loop{}
	for _, l := range p.Loops {
		if !l.Plugged() || l.Later() {
			continue
		}
		for _, e := range l.Segment.Plug.Ends {
			if e.Port == "" {
				continue
			}
			if o := first[e.Tag()]; o != nil {
				found(finding.At(e.Pos, finding.PortTwice, "%s and %s are both plugged into %s", o.Tag, l.Tag, e.Tag()).
					WithAlso(o.Pos, "the other one").WithHint(finding.Do("give each link a port of its own")))
				continue
			}
			first[e.Tag()] = l
		}
	}
}
