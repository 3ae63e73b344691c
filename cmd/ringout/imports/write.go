package imports

import (
	"cmp"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
)

// This file writes what was imported as the text of a plant.

// text is YAML in the making.
type text struct{ strings.Builder }

// plain is a value that YAML takes as it stands.
var plain = regexp.MustCompile(`^[\p{L}\p{N}][\p{L}\p{N}_./²°µΩ%()+-]*( [\p{L}\p{N}_./²°µΩ%()+>-]+)*$`)

// quoted is s as a value or key of YAML.
func quoted(s string) string {
	if plain.MatchString(s) && !strings.EqualFold(s, "null") { // that is none
		return s
	}
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		return strconv.Quote(s)
	}
	return strings.TrimSpace(b.String())
}

func (t *text) line(indent int, format string, args ...any) {
	t.WriteString(strings.Repeat("  ", indent))
	fmt.Fprintf(t, format, args...)
	t.WriteByte('\n')
}

// missing asks for a value that no list tells.
func (t *text) missing(indent int, key string) { t.line(indent, "# %s: %s", key, wiring.NotGiven) }

// keys writes the lines of an object. What may be a list is one where it has several
// items; terminals and voltages stand without brackets where there is one.
func (t *text) keys(indent int, ks keys) {
	for _, k := range ks {
		switch items := k.items(); {
		case k.key == "entity":
			t.line(indent, "entity: {%s}", entityText(k.value))
		case k.parted == "":
			t.line(indent, "%s: %s", k.key, quoted(k.value))
		case len(items) == 1 && (k.parted == lists.PartedVolts || k.key == "terminals"):
			t.line(indent, "%s: %s", k.key, quoted(items[0]))
		default:
			t.list(indent, k.key, items)
		}
	}
}

// entityText turns "Ui 30 V, Ii 120 mA" into keys and values.
func entityText(s string) string {
	var all []string
	for _, item := range strings.Split(s, ",") {
		key, value, _ := strings.Cut(strings.TrimSpace(item), " ")
		all = append(all, quoted(key)+": "+quoted(value))
	}
	return strings.Join(all, ", ")
}

func (t *text) list(indent int, key string, items []string) {
	var all []string
	for _, s := range items {
		if s = strings.TrimSpace(s); s != "" {
			all = append(all, quoted(s))
		}
	}
	t.line(indent, "%s: [%s]", key, strings.Join(all, ", "))
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
	var t text
	t.line(0, "# Made by ringout import. What no list told is marked %s:", wiring.NotGiven)
	t.line(0, "# ringout check asks for what the wiring needs.")
	t.title(im)
	t.practice(im)
	t.line(0, "")
	t.line(0, "cable types:")
	for _, c := range im.types {
		t.line(1, "%s:", quoted(c.name))
		t.keys(2, c.keys)
		for _, k := range []string{"conductor", "screen"} {
			if !c.keys.has(k) {
				t.missing(2, k)
			}
		}
		if !c.keys.has("code") && !c.keys.has("colours") {
			t.missing(2, "colours")
		}
	}
	return t.String()
}

// sections are the parts of a place by kind, in the order of the text.
var sections = []struct{ key, kind string }{
	{"strips", "strip"}, {"earths", "earth bar"}, {"barriers", "barrier"}, {"isolators", "isolator"}, {"supplies", "supply"}, {"cards", ""},
}

// placesText is places.yaml.
func (im *Importer) placesText() string {
	parts := map[*anyPlace][]*anyPart{}
	for _, p := range im.parts {
		if p.place != nil && p.loop == "" {
			parts[p.place] = append(parts[p.place], p)
		}
	}
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
	var t text
	for _, kind := range []struct{ kind, key string }{{"box", "boxes"}, {"cabinet", "cabinets"}, {"panel", "panels"}, {"system", "systems"}} {
		head := false
		for _, pl := range im.places {
			if pl.kind != kind.kind {
				continue
			}
			if !head {
				t.line(0, "%s:", kind.key)
				head = true
			}
			t.line(1, "%s:", quoted(pl.tag))
			if pl.guessed {
				t.line(2, "# guessed to be a %s, from its cables", pl.kind)
			}
			t.keys(2, pl.keys)
			if !pl.keys.has("at") {
				t.missing(2, "at")
			}
			for _, s := range sections {
				t.section(s.key, s.kind, parts[pl])
			}
			if len(pl.feeds) > 0 {
				t.line(2, "feeds:")
				for _, f := range pl.feeds {
					t.line(3, "- %s", quoted(f))
				}
			}
		}
		if head {
			t.line(0, "")
		}
	}
	return t.String()
}

func (t *text) section(key, kind string, parts []*anyPart) {
	head := false
	for _, p := range parts {
		if p.kind != kind && (kind != "" || !p.isCard()) {
			continue
		}
		if !head {
			t.line(2, "%s:", key)
			head = true
		}
		switch kind {
		case "earth bar":
			at := "earth"
			if p.keys.has("at") {
				at = p.keys[0].value
			}
			t.line(3, "%s: %s", quoted(p.name), quoted(at))
			continue
		case "":
			t.line(3, "%s:", quoted(p.name))
			t.card(p)
			continue
		}
		t.line(3, "%s:", quoted(p.name))
		if kind == "strip" && !p.given {
			slices.SortFunc(p.terminals, naturally)
			t.list(4, "terminals", p.terminals)
		}
		t.keys(4, p.keys.without("conductors", "1").without("status", p.place.keys.value("status")))
	}
}

// card writes an I/O card: as many channels as are named.
func (t *text) card(p *anyPart) {
	if p.kind == "card" {
		t.missing(4, "kind")
	} else {
		t.line(4, "kind: %s", quoted(p.kind))
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
		t.line(4, "channels: %d", most)
	} else {
		t.missing(4, "channels")
	}
	if k := model.CardKind(p.kind); k != nil && k.Signal == model.Resistance && first > 1 && p.given {
		t.line(4, "wires: %d", first)
	}
	if !usual && p.given {
		t.list(4, "terminals", names)
	}
	t.keys(4, p.keys.without("status", p.place.keys.value("status")))
	var ranges []string
	for i, r := range p.rows {
		s, ch := r.Get("channel range"), r.Get("channel")
		if s != "" && !slices.ContainsFunc(p.rows[:i], func(o *columns.Row) bool { return o.Get("channel") == ch }) {
			ranges = append(ranges, ch+": "+quoted(s))
		}
	}
	if len(ranges) > 0 {
		t.line(4, "ranges: {%s}", strings.Join(ranges, ", "))
	}
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

// cablesText is cables.yaml.
func (im *Importer) cablesText() string {
	var t text
	t.line(0, "cables:")
	for _, c := range im.cables {
		t.line(1, "%s:", quoted(c.tag))
		t.line(2, "type: %s", quoted(c.typ.name))
		t.line(2, "from: %s", quoted(c.from))
		t.line(2, "to: %s", quoted(c.to))
		glands := []string{"", ""}
		for _, k := range c.keys {
			switch k.key {
			case "gland from":
				glands[0] = k.value
			case "gland to":
				glands[1] = k.value
			default:
				t.keys(2, keys{k})
			}
		}
		if !c.keys.has("length") {
			t.missing(2, "length")
		}
		usual := c.typ.keys.value("gland") // what a list has where the cable says nothing
		if glands[0] != "" && glands[1] != "" && (glands[0] != usual || glands[1] != usual) {
			t.list(2, "glands", glands)
		}
		if e := c.cores[[2]int{0, 0}]; e != nil && e.circuit == nil && (e.from.part != nil || e.to.part != nil) {
			t.line(2, "overall: {from: %s, to: %s}", quoted(spareEnd(c.from, []*edge{e}, false)), quoted(spareEnd(c.to, []*edge{e}, true)))
		}
		t.spares(im, c)
	}
	return t.String()
}

// spares writes what is done with the groups that no circuit uses, where it is
// not what the practice says.
func (t *text) spares(im *Importer, c *anyCable) {
	head := false
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
		if !head {
			t.line(2, "spares:")
			head = true
		}
		name := fmt.Sprintf("%s %d", []string{"", "core", "pair", "triad", "quad"}[c.typ.size], g)
		if landed && unlisted {
			t.line(3, "# %s: what no row lists is written as not landed (x)", name)
		}
		if landed {
			t.line(3, "%s: {from: %s, to: %s}", name, quoted(spareEnd(c.from, edges, false)), quoted(spareEnd(c.to, edges, true)))
		} else {
			t.line(3, "%s: %s", name, quoted(free))
		}
	}
}

// spareEnd is where edges land at one end of a cable: X1 31 32, a bar, or x.
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
		if end.part.kind == "earth bar" && len(edges) == 1 {
			return end.part.name
		}
		words += " " + end.name
	}
	if strip == "" {
		return "x"
	}
	return strip + words
}

// loopsText is loops.yaml: loops, then segments, which tell of what kind they are.
func (im *Importer) loopsText() string {
	var t text
	loops, segments := im.loops, []*anyLoop(nil)
	if slices.ContainsFunc(loops, (*anyLoop).isSegment) {
		segments = slices.DeleteFunc(slices.Clone(loops), func(l *anyLoop) bool { return !l.isSegment() })
		loops = slices.DeleteFunc(slices.Clone(loops), (*anyLoop).isSegment)
	}
	if len(loops) > 0 || segments == nil {
		t.loops("loops", loops, im.parts)
	}
	if segments != nil {
		t.loops("segments", segments, im.parts)
	}
	return t.String()
}

// isSegment reports whether a list tells what kind of segment it is.
func (l *anyLoop) isSegment() bool { return l.keys.has("kind") }

// loops writes a section of them, with those of the parts that are devices of theirs.
func (t *text) loops(section string, loops []*anyLoop, parts []*anyPart) {
	devices := map[string][]*anyPart{}
	for _, p := range parts {
		if p.loop != "" {
			devices[p.loop] = append(devices[p.loop], p)
		}
	}
	t.line(0, "%s:", section)
	for _, l := range loops {
		t.line(1, "%s:", quoted(l.tag))
		t.keys(2, l.keys)
		if !l.keys.has("service") {
			t.missing(2, "service")
		}
		if len(devices[l.tag]) > 0 {
			t.line(2, "devices:")
		}
		for _, p := range devices[l.tag] {
			if p.kind == "" && len(p.keys) == 0 {
				t.line(3, "%s: {}", quoted(p.tag))
			} else {
				t.line(3, "%s:", quoted(p.tag))
			}
			if p.kind == "" {
				t.missing(4, "kind")
				t.line(4, "# terminals: %s", strings.Join(p.terminals, " "))
			} else {
				t.line(4, "kind: %s", quoted(p.kind))
			}
			t.keys(4, p.keys.without("status", l.keys.value("status")))
		}
		t.functions(l)
		walked := slices.DeleteFunc(slices.Clone(l.circuits), func(c *anyCircuit) bool { return len(c.walk) == 0 })
		slices.SortStableFunc(walked, func(a, b *anyCircuit) int {
			return slices.Index(l.order, a.name) - slices.Index(l.order, b.name)
		})
		if len(walked) > 0 {
			t.line(2, "circuits:")
		}
		for _, c := range walked {
			t.line(3, "%s:", quoted(c.name))
			t.walk(4, c.walk)
		}
	}
}

func (t *text) walk(indent int, steps []walkStep) {
	for _, s := range steps {
		if s.words != "" {
			t.line(indent, "- %s", quoted(s.words))
			continue
		}
		for i, tail := range s.tails {
			dash := "  "
			if i == 0 {
				dash = "- "
			}
			t.line(indent, "%s%d:", dash, tail.leg)
			t.walk(indent+2, tail.steps)
		}
	}
}
