package imports

import (
	"slices"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/model"
	"ringout/model/finding"
)

// This file takes in the cables of links by plugs: they are in the list of cables, and the
// list of loops tells of the links.

// ofLink reports whether the type of a cable is a kind of link by plugs.
func (im *Importer) ofLink(name string) bool {
	k := model.SegmentKindNamed(name)
	return k != nil && k.Plugged && im.typeNamed(name) == nil
}

// takeLinkCable takes what the cable of a link says besides the list of loops, and tells
// where the two disagree.
func (im *Importer) takeLinkCable(r *columns.Row) {
	tag := r.Get("cable")
	if im.linkCable[tag] {
		im.lose(r, "cable", finding.ListedTwice, "%s is the tag of a cable already", tag)
		return
	}
	var links []*anyLoop
	for _, l := range im.loops {
		if l.listed && l.keys.value("cable") == tag {
			links = append(links, l)
		}
	}
	if len(links) == 0 {
		im.lose(r, "cable", finding.NotListed, "no link of the list of loops has the cable %q", tag)
		return
	}
	for i, end := range lists.CellTexts(links[0].keys.value("ends")) {
		at, _, _ := strings.Cut(end, " ")
		if column := []string{"from", "to"}[min(i, 1)]; at != r.Get(column) {
			im.lose(r, column, finding.ListsDisagree, "%s goes to %s here, and to %s by the list of loops", tag, r.Get(column), at)
			return
		}
	}
	im.linkCable[tag] = true
	for _, k := range []keyed{{key: "length", value: im.cableLength(r)}, {key: "route", value: r.Get("route")}, {key: "status", value: unlessNew(r.Get("status"))}} {
		im.takeOfLink(r, links, k)
	}
}

// takeOfLink takes a value of the cable of links, if it is none of theirs: the first without
// one has it then.
func (im *Importer) takeOfLink(r *columns.Row, links []*anyLoop, k keyed) {
	if k.value == "" || slices.ContainsFunc(links, func(l *anyLoop) bool { return l.keys.value(k.key) == k.value }) {
		return
	}
	for _, l := range links {
		if was := l.keys.value(k.key); was != "" {
			im.leave(r, k.key, "%q is %q of %s in the list of loops, so it is left out", k.value, was, l.tag)
			return
		}
	}
	links[0].keys.add(k.key, k.value)
}
