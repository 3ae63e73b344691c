package imports

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/tell"
	"ringout/model"
	"ringout/model/finding"
)

// This file takes in what instruments of several circuits have, and writes it: inputs and
// outputs, and the terminals of a supply.

// takePort takes in a row of the list of inputs and outputs.
func (im *Importer) takePort(r *columns.Row) {
	tag, name, use := r.Get("instrument"), r.Get("port"), strings.ToLower(r.Get("use"))
	if !im.isTag(r, "instrument", tag) || !im.isTag(r, "port", name) {
		return
	}
	at := slices.IndexFunc(lists.PortUses, func(u lists.PortUse) bool { return u.Use == use || u.Key == use })
	d := im.byTag[tag]
	switch {
	case at < 0:
		im.lose(r, "use", finding.BadCell, "%q is none of input, output and retransmission", r.Get("use"))
		return
	case d == nil || !d.isDevice():
		im.lose(r, "instrument", finding.NotListed, "no instrument is described that is tagged %q%s", tag, tell.DidYouMean(tag, im.deviceTags()))
		return
	case !im.isFree(r, "port", tag+"/"+name):
		return
	}
	p := &anyPart{tag: tag + "/" + name, name: name, kind: r.Get("kind"), place: d.place, loop: d.loop, use: lists.PortUses[at].Key}
	p.terminals = strings.Fields(r.Get("terminals"))
	p.given = len(p.terminals) > 0
	im.take(r, &p.keys, "kind")
	d.ports, im.byTag[p.tag] = append(d.ports, p), p
}

// deviceTags are those of all instruments that are described.
func (im *Importer) deviceTags() (tags []string) {
	for _, p := range im.parts {
		if p.isDevice() {
			tags = append(tags, p.tag)
		}
	}
	return tags
}

// putPorts writes the inputs and outputs of an instrument.
func putPorts(n *yaml.Node, ports []*anyPart) {
	for _, u := range lists.PortUses {
		all := shortMapping()
		for _, p := range ports {
			if p.use == u.Key {
				putPort(put(all, p.name, shortMapping()), p)
			}
		}
		if len(all.Content) > 0 {
			put(n, u.Key, all)
		}
	}
}

func putPort(n *yaml.Node, p *anyPart) {
	switch {
	case p.kind != "":
		put(n, "kind", scalar(p.kind))
	case p.use != "outputs": // whose kind is not asked for
		missing(n, "kind")
	}
	if !p.given && len(p.terminals) > 0 { // what lands there does not tell their order
		missing(n, "terminals")
		remarkOn(n, "wires land on "+strings.Join(p.terminals, " "))
	}
	putKeys(n, p.keys.without("wires", "3"))
}

// feedTerminals are those of the supply of an instrument: as it is written, else as its kind
// has them.
func feedTerminals(supply, kind string) []string {
	if k := model.KindNamed(model.DeviceKinds, kind); supply == "" && k != nil {
		supply = k.Feed
	}
	if _, names, is := strings.Cut(supply, " "); is {
		return strings.Split(strings.TrimSpace(names), "-")
	}
	return nil
}
