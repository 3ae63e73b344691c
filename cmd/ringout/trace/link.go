package trace

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/trunk"
)

// This file tells of remote I/O and its links.

// names reports whether the target is a link by plugs, its cable, or a place at one of its ends.
func (t target) names(l *model.Loop) bool {
	return l.Tag == t.tag || l.Segment.Plug.Cable == t.tag || t.place != nil && slices.Contains(l.Joins(), t.place)
}

// traceRemote tells how a circuit goes on from remote I/O.
func traceRemote(w io.Writer, p *model.Plant, c *model.Circuit) {
	for _, rack := range c.Racks() {
		fmt.Fprint(w, indented(fmt.Sprintf("from %s, remote I/O, on to %s by %s", rack.Tag, rack.Controller.Tag, linkTags(p.Links(rack)))))
	}
}

func linkTags(links []*model.Loop) string {
	var tags []string
	for _, l := range links {
		tags = append(tags, l.Tag)
	}
	return cmp.Or(strings.Join(tags, ", "), wiring.NotGiven)
}

// traceLink writes a link by plugs: its ends, its cable, and the racks that it serves.
func traceLink(w io.Writer, p *model.Plant, l *model.Loop) {
	k := &l.Segment.Plug
	given := func(s string) string { return cmp.Or(s, wiring.NotGiven) }
	rows := [][]string{{"kind", l.Segment.Kind.Name + ", " + l.Status.String()}}
	for _, e := range k.Ends {
		rows = append(rows, []string{"end", e.Tag()})
	}
	rows = append(rows, []string{"cable", given(k.Cable)})
	if l.Segment.Kind.Glass {
		loss := wiring.NotGiven
		if k.Loss > 0 {
			loss = model.Plain(k.Loss) + " dB"
		}
		rows = append(rows, []string{"fibres", given(k.Fibres)}, []string{"loss", "max " + loss})
	}
	wiring.WriteColumns(w, "  ", append(rows, []string{"route", given(k.Route)}))
	for _, m := range trunk.Of(p, l).Limits(p) {
		fmt.Fprint(w, indented(marginWords(m)))
	}
	for _, rack := range p.Served(l) {
		words := fmt.Sprintf("serves %s, remote I/O of %s, with links %s", rack.Tag, rack.Controller.Tag, linkTags(p.Links(rack)))
		if p.CutOff(rack, l) {
			words += "; without this one it is cut off"
		}
		fmt.Fprint(w, indented(words+"; on its cards: "+linkTags(p.OnRack(rack))))
	}
	fmt.Fprintln(w)
}
