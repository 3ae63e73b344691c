package imports

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/read"
)

// This file makes the text of a plant of what was imported.

// putKeys adds the keys of an object. What may be a list is one where it has several
// items; terminals and voltages stand without brackets where there is one.
func putKeys(n *yaml.Node, ks keys) {
	for _, k := range ks {
		switch items := k.items(); {
		case k.key == "entity":
			putEntity(put(n, k.key, shortMapping()), k.value)
		case k.parted == "":
			put(n, k.key, scalar(k.value))
		case len(items) == 1 && (k.parted == lists.PartedVolts || k.key == "terminals"):
			put(n, k.key, scalar(items[0]))
		default:
			put(n, k.key, listOf(items))
		}
	}
}

// putEntity turns "Ui 30 V, Ii 120 mA" into keys and values.
func putEntity(n *yaml.Node, s string) {
	for _, item := range strings.Split(s, ",") {
		key, value, _ := strings.Cut(strings.TrimSpace(item), " ")
		put(n, key, scalar(value))
	}
}

// value is that of a key; "" without it.
func (k keys) value(key string) string {
	for _, x := range k {
		if x.key == key {
			return x.value
		}
	}
	return ""
}

// without leaves a key out that has the value it would have anyway.
func (k keys) without(key, value string) keys {
	return slices.DeleteFunc(slices.Clone(k), func(k keyed) bool {
		return k.key == key && (k.value == value || value == "" && k.value == "new")
	})
}

func (k keys) has(key string) bool {
	return slices.ContainsFunc(k, func(k keyed) bool { return k.key == key })
}

// plantText is plant.yaml: the title block and the cable types.
func (im *Importer) plantText() string {
	head := fmt.Sprintf("# Made by ringout import. What no list told is marked %s:\n# ringout check asks for what the wiring needs.\n", wiring.NotGiven)
	title, practice, types := mapping(), mapping(), mapping()
	im.title(title)
	im.putPractice(practice)
	for _, c := range im.types {
		n := put(types, c.name, shortMapping())
		putKeys(n, c.keys)
		for _, k := range []string{"conductor", "screen"} {
			if !c.keys.has(k) {
				missing(n, k)
			}
		}
		if !c.keys.has("code") && !c.keys.has("colours") {
			missing(n, "colours")
		}
	}
	return head + printed(title) + under("practice", practice) + under("cable types", types)
}

// under is a key of the plant with what is under it, below a blank line; "" without any.
func under(key string, n *yaml.Node) string {
	if len(n.Content) == 0 {
		return ""
	}
	all := mapping()
	put(all, key, n)
	return "\n" + printed(all)
}

// sections are the keys of a place under which its parts are written, by kind.
var sections = map[string]string{
	"strip": "strips", "plug": "plugs", "coupler": "couplers", "earth bar": "earths", "barrier": "barriers", "isolator": "isolators",
	"surge protector": "surge protectors", "supply": "supplies", "card": "cards",
}

// placesText is places.yaml.
func (im *Importer) placesText() string {
	parts := map[*anyPlace][]*anyPart{}
	for _, p := range im.parts {
		if p.place != nil && p.loop == "" {
			parts[p.place] = append(parts[p.place], p)
		}
	}
	im.placeFeeds()
	text := ""
	for _, kind := range []struct{ kind, key string }{{"box", "boxes"}, {"cabinet", "cabinets"}, {"panel", "panels"}, {"system", "systems"}} {
		all := mapping()
		for _, pl := range im.places {
			if pl.kind == kind.kind {
				putPlace(put(all, pl.tag, shortMapping()), pl, parts[pl])
			}
		}
		text += under(kind.key, all)
	}
	return strings.TrimPrefix(text, "\n")
}

// placeFeeds gives every place the feeds that are written there.
func (im *Importer) placeFeeds() {
	for _, e := range im.edges {
		if e.wire == "feed" && e.from.part != nil && e.to.part != nil && e.to.part.place != nil {
			pl, to := e.to.part.place, e.to.part.name
			if e.place != nil && e.place != pl { // fed from another place
				pl, to = e.place, e.to.part.tag
			}
			feed := fmt.Sprintf("%s %s to %s %s %s", e.from.part.tag, e.from.name, to, e.to.name, e.colour.Letters())
			if over := e.row.Get("over"); over != "" {
				feed = strings.TrimSpace(feed) + " over " + over
			}
			pl.feeds = append(pl.feeds, strings.TrimSpace(feed))
		}
	}
}

func putPlace(n *yaml.Node, pl *anyPlace, parts []*anyPart) {
	if pl.guessed {
		remarkOn(n, "guessed to be a "+pl.kind+", from its cables")
	}
	putKeys(n, pl.keys)
	if !pl.keys.has("at") {
		missing(n, "at")
	}
	of := map[string]*yaml.Node{}
	for _, p := range parts { // a section comes where the list has the first of its parts
		key := sections[p.section()]
		if of[key] == nil {
			of[key] = put(n, key, shortMapping())
		}
		put(of[key], p.name, partNode(p))
	}
	if len(pl.feeds) > 0 {
		put(n, "feeds", listOf(pl.feeds)).Style = 0
	}
}

// section is the kind of part under which a part is written.
func (p *anyPart) section() string {
	switch {
	case p.kind == "strip" && p.keys.has("kind"):
		return "coupler"
	case p.isCard():
		return "card"
	}
	return p.kind
}

// partNode is a part of a place.
func partNode(p *anyPart) *yaml.Node {
	n := shortMapping()
	switch {
	case p.kind == "earth bar":
		return scalar(cmp.Or(p.keys.value("at"), "earth"))
	case p.isCard():
		putCard(n, p)
		return n
	case p.isStrip() && !p.given:
		slices.SortFunc(p.terminals, naturally)
		put(n, landings[p.kind], listOf(p.terminals))
	}
	putKeys(n, p.keys.without("conductors", "1").without("status", p.place.keys.value("status")))
	return n
}

// putCard writes an I/O card: as many channels as are named.
func putCard(n *yaml.Node, p *anyPart) {
	if p.kind == "card" {
		missing(n, "kind")
	} else {
		put(n, "kind", scalar(p.kind))
	}
	most, usual := p.most, true
	first := 0 // terminals of channel 1
	names := slices.Clone(p.terminals)
	if !p.given {
		slices.SortFunc(names, naturally)
	}
	for _, name := range names {
		ch := p.channel(name)
		most = max(most, ch)
		if ch == 1 {
			first++
		}
		tail, is := strings.CutPrefix(name, strconv.Itoa(ch))
		usual = usual && is && slices.Contains([]string{"+", "-", "A", "B", "A1", "A2", "B1", "B2"}, tail)
	}
	if most > 0 {
		put(n, "channels", scalar(strconv.Itoa(most)))
	} else {
		missing(n, "channels")
	}
	if k := model.CardKind(p.kind); k != nil && k.Signal == model.Resistance && first > 1 && p.given {
		put(n, "wires", scalar(strconv.Itoa(first)))
	}
	switch unknown := p.unknownTerminals(); {
	case !usual && p.given:
		put(n, "terminals", listOf(names))
	case unknown != nil:
		missing(n, "terminals")
		remarkOn(n, "wires land on "+strings.Join(unknown, " "))
	}
	putKeys(n, p.keys.without("status", p.place.keys.value("status")))
	ranges := shortMapping()
	for i, r := range p.rows {
		s, ch := r.Get("channel range"), r.Get("channel")
		if s != "" && !slices.ContainsFunc(p.rows[:i], func(o *columns.Row) bool { return o.Get("channel") == ch }) {
			put(ranges, ch, scalar(s))
		}
	}
	if len(ranges.Content) > 0 {
		put(n, "ranges", ranges)
	}
}

// unknownTerminals are those of a card that no list gives a channel, and no name tells one.
func (p *anyPart) unknownTerminals() (names []string) {
	for _, name := range p.terminals {
		if !p.given && p.channel(name) == 0 {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, naturally)
	return names
}

// naturally sorts names with the numbers in them as numbers.
func naturally(a, b string) int {
	for a != "" && b != "" {
		restA, restB := strings.TrimLeft(a, "0123456789"), strings.TrimLeft(b, "0123456789")
		if n, m := a[:len(a)-len(restA)], b[:len(b)-len(restB)]; n != "" && m != "" {
			n, m = strings.TrimLeft(n, "0"), strings.TrimLeft(m, "0")
			if len(n) != len(m) {
				return len(n) - len(m)
			}
			if n != m {
				return strings.Compare(n, m)
			}
			a, b = restA, restB
			continue
		}
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		a, b = a[1:], b[1:]
	}
	return len(a) - len(b)
}

// cableNode is a cable.
func (im *Importer) cableNode(c *anyCable) *yaml.Node {
	n := shortMapping()
	put(n, "type", scalar(c.typ.name))
	put(n, "from", scalar(c.from))
	put(n, "to", scalar(c.to))
	glands := []string{"", ""}
	for _, k := range c.keys {
		switch k.key {
		case "gland from":
			glands[0] = k.value
		case "gland to":
			glands[1] = k.value
		default:
			putKeys(n, keys{k})
		}
	}
	if !c.keys.has("length") {
		missing(n, "length")
	}
	usual := c.typ.keys.value("gland") // what a list has where the cable says nothing
	if glands[0] != "" && glands[1] != "" && (glands[0] != usual || glands[1] != usual) {
		put(n, "glands", listOf(glands))
	}
	if e := c.cores[[2]int{0, 0}]; e != nil && e.circuit == nil && (e.from.part != nil || e.to.part != nil) {
		both := put(n, "overall", shortMapping())
		put(both, "from", scalar(spareEnd(c.from, []*edge{e}, false)))
		put(both, "to", scalar(spareEnd(c.to, []*edge{e}, true)))
	}
	if spares := im.spares(c); len(spares.Content) > 0 {
		put(n, "spares", spares)
	}
	return n
}

// spares are what is done with the groups that no circuit uses, where it is not what the
// practice says.
func (im *Importer) spares(c *anyCable) *yaml.Node {
	all := shortMapping()
	for g := 1; g <= c.typ.groups; g++ {
		var edges []*edge
		landed, used, unlisted := false, false, false
		for n := 1; n <= c.typ.size+1; n++ {
			e := c.cores[[2]int{g, n % (c.typ.size + 1)}] // the screen last
			if e == nil && n > c.typ.size {
				continue // a screen
			}
			if e == nil {
				e, unlisted = &edge{}, true
			}
			edges = append(edges, e)
			landed = landed || e.from.part != nil || e.to.part != nil
			used = used || e.circuit != nil
		}
		free := ""
		for _, e := range edges {
			free = cmp.Or(free, e.from.free)
		}
		if used || !landed && (free == im.spare || free == "") {
			continue
		}
		name := fmt.Sprintf("%s %d", []string{"", "core", "pair", "triad", "quad"}[c.typ.size], g)
		if landed && unlisted {
			remarkOn(all, name+": what no row lists is written as not landed (x)")
		}
		if landed {
			both := put(all, name, shortMapping())
			put(both, "from", scalar(spareEnd(c.from, edges, false)))
			put(both, "to", scalar(spareEnd(c.to, edges, true)))
		} else {
			put(all, name, scalar(free))
		}
	}
	return all
}

// spareEnd is where edges land at one end of a cable: X1 31 32, of a screen elsewhere X9:4
// or a bar, or x.
func spareEnd(at string, edges []*edge, to bool) string {
	words, strip := "", ""
	for _, e := range edges {
		end := e.from
		if to {
			end = e.to
		}
		if end.part == nil {
			words += " x"
			continue
		}
		if strip == "" {
			strip = end.part.name
		}
		switch bar := end.part.kind == "earth bar"; {
		case bar && len(edges) == 1:
			return end.part.name
		case bar:
			words += " " + end.part.name
		case end.part.name != strip:
			words += " " + end.part.name + ":" + end.name
		default:
			words += " " + end.name
		}
	}
	if strip == "" {
		return "x"
	}
	return strip + words
}

// isSegment reports whether a list tells what kind of segment it is.
func (l *anyLoop) isSegment() bool { return l.keys.has("kind") }

// loopNode is a loop with these devices.
func (im *Importer) loopNode(l *anyLoop, devices []*anyPart) *yaml.Node {
	n := mapping()
	putKeys(n, l.keys)
	if !l.keys.has("service") {
		missing(n, "service")
	}
	all := shortMapping()
	for _, p := range devices {
		d := put(all, p.tag, shortMapping())
		if p.kind == "" {
			missing(d, "kind")
			remarkOn(d, "terminals: "+strings.Join(p.terminals, " "))
		} else {
			put(d, "kind", scalar(p.kind))
		}
		own := p.keys.without("status", l.keys.value("status"))
		if k := model.KindNamed(model.DeviceKinds, p.kind); k != nil {
			own = own.without("terminals", strings.Join(read.UsualTerminals(k), " ")).without("supply", k.Feed)
		}
		putKeys(d, own)
		putPorts(d, p.ports)
	}
	if len(all.Content) > 0 {
		put(n, "devices", all)
	}
	if functions := functionsNode(l); len(functions.Content) > 0 {
		put(n, "functions", functions)
	}
	walked := slices.DeleteFunc(slices.Clone(l.circuits), func(c *anyCircuit) bool { return len(c.walk) == 0 })
	slices.SortStableFunc(walked, func(a, b *anyCircuit) int {
		return slices.Index(l.order, a.name) - slices.Index(l.order, b.name)
	})
	circuits := mapping()
	for _, c := range walked {
		put(circuits, c.name, walkNode(c.walk))
	}
	if len(walked) > 0 {
		put(n, "circuits", circuits)
	}
	return n
}

// walkNode is a path, step by step.
func walkNode(steps []walkStep) *yaml.Node {
	n := &yaml.Node{Kind: yaml.SequenceNode}
	for _, s := range steps {
		if s.words != "" {
			n.Content = append(n.Content, scalar(s.words))
			continue
		}
		tails := mapping()
		for _, tail := range s.tails {
			put(tails, strconv.Itoa(tail.leg), walkNode(tail.steps))
		}
		n.Content = append(n.Content, tails)
	}
	return n
}
