package imports

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model/pattern"
	"ringout/model/tables"
)

// This file writes loops and cables: loops that are alike as rows of a pattern, all others
// by hand.

// file is one file of the plant.
type file struct{ name, text string }

// own is a loop and the cables that are its alone.
type own struct {
	loop   *anyLoop
	cables []*anyCable
}

// files are those of the plant: of loops, then segments, which tell of what kind they are.
func (im *Importer) files() []file {
	all := []file{{"plant.yaml", im.plantText()}, {"places.yaml", im.placesText()}}
	devices := map[string][]*anyPart{}
	for _, p := range im.parts {
		if p.loop != "" {
			devices[p.loop] = append(devices[p.loop], p)
		}
	}
	owns := im.owns()
	texts := make([]*yaml.Node, len(owns))
	for i, o := range owns {
		texts[i] = im.ownText(o, devices[o.loop.tag])
	}
	finder := pattern.Finder{Name: im.wordFor, Long: func(n *yaml.Node) int { return len(printed(n)) }, Widest: longLine}
	made := finder.Find(texts)
	inRows := map[any]bool{} // loops and cables
	for _, m := range made {
		for _, i := range m.Of {
			inRows[owns[i].loop] = true
			for _, c := range owns[i].cables {
				inRows[c] = true
			}
		}
	}
	cables, loops, segments := mapping(), mapping(), mapping()
	for _, c := range im.cables {
		if !inRows[c] {
			put(cables, c.tag, im.cableNode(c))
		}
	}
	for _, l := range im.loops {
		switch {
		case inRows[l]:
		case l.isSegment():
			put(segments, l.tag, im.loopNode(l, devices[l.tag]))
		default:
			put(loops, l.tag, im.loopNode(l, devices[l.tag]))
		}
	}
	all = append(all, file{"cables.yaml", strings.TrimPrefix(under("cables", cables), "\n")},
		file{"loops.yaml", strings.TrimPrefix(under("loops", loops)+under("segments", segments), "\n")})
	return append(append(all, patternFiles(made)...), file{"counted.yaml", im.countedText()})
}

// owns are the loops with the cables that no other loop has: those from or to a device of
// the loop, with nothing of another loop in them.
func (im *Importer) owns() (all []own) {
	cables := map[*anyLoop][]*anyCable{}
	for _, c := range im.cables {
		var l *anyLoop
		for _, tag := range []string{c.from, c.to} {
			if p := im.byTag[tag]; p != nil && p.loop != "" && l == nil {
				l = im.loopBy[p.loop]
			}
		}
		used := false
		for _, e := range c.cores {
			if e.circuit != nil {
				used = true
				if e.circuit.loop != l {
					l = nil
				}
			}
		}
		if l != nil && used {
			cables[l] = append(cables[l], c)
		}
	}
	for _, l := range im.loops {
		if !l.isSegment() {
			all = append(all, own{l, cables[l]})
		}
	}
	return all
}

// ownText is the text of a loop and of what is its own, with terminals in a row as next.
func (im *Importer) ownText(o own, devices []*anyPart) *yaml.Node {
	n := mapping()
	loop := im.loopNode(o.loop, devices)
	im.nexts(loop)
	put(put(n, "loops", mapping()), o.loop.tag, loop)
	if len(o.cables) > 0 {
		cables := put(n, "cables", shortMapping())
		for _, c := range o.cables {
			put(cables, c.tag, im.cableNode(c))
		}
	}
	return n
}

// nexts writes next for a terminal of a strip that is the one behind the terminal before.
func (im *Importer) nexts(n *yaml.Node) {
	for _, c := range n.Content {
		im.nexts(c)
	}
	if n.Kind != yaml.ScalarNode {
		return
	}
	words := strings.Split(n.Value, " ")
	names := im.order(words)
	landed := slices.Clone(words)
	for i := 2; i < len(words); i++ {
		if at := slices.Index(names, landed[i]); at > 0 && names[at-1] == landed[i-1] {
			words[i] = pattern.Next
		}
	}
	n.Value = strings.Join(words, " ")
}

// groupWords come before the number of a group, core or channel.
var groupWords = regexp.MustCompile(`^(pair|triad|quad|core|cores|channel)$`)

// wordFor is what a word of a path stands for, or a part of it, and whether it is a tag.
func (im *Importer) wordFor(word, part, before string) (name string, tag bool) {
	switch place, p := im.place(part), im.byTag[word]; {
	case groupWords.MatchString(before):
		return strings.TrimSuffix(before, "s"), false
	case place != nil:
		return place.kind, true
	case im.cableBy[part] != nil:
		return "cable", true
	case p != nil && p.isCard():
		return "card", true
	case p != nil && p.isDevice():
		return "device", true
	case p != nil:
		return p.kind, true
	}
	return "terminal", false
}

// fileSigns are those that the name of a file may have.
var fileSigns = regexp.MustCompile(`[^\p{L}\p{N}]+`)

// patternFiles are patterns.yaml and the tables of its rows.
func patternFiles(made []pattern.Made) (all []file) {
	patterns, likes := mapping(), &yaml.Node{Kind: yaml.SequenceNode}
	for _, m := range made {
		base := kindIn(m.Root)
		name := base
		for n := 2; slices.ContainsFunc(patterns.Content, func(n *yaml.Node) bool { return n.Value == name }); n++ {
			name = base + " " + strconv.Itoa(n)
		}
		put(patterns, name, m.Root)
		table := fileSigns.ReplaceAllString(name, "-") + ".csv"
		item := shortMapping()
		put(item, "pattern", scalar(name))
		put(item, "rows", scalar(table))
		likes.Content = append(likes.Content, item)
		var b strings.Builder
		tables.WriteCSV(&b, append([][]string{m.Blanks}, m.Rows...)) // a Builder takes all
		all = append(all, file{table, b.String()})
	}
	if len(made) == 0 {
		return nil
	}
	both := mapping()
	put(both, "patterns", patterns)
	put(both, "like loops", likes)
	return append(all, file{"patterns.yaml", printed(both)})
}

// kindIn is the first kind of thing in a pattern: what it is called by.
func kindIn(n *yaml.Node) string {
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			if c.Value == "kind" && n.Content[i+1].Kind == yaml.ScalarNode {
				return n.Content[i+1].Value
			}
		} else if s := kindIn(c); s != "loop" {
			return s
		}
	}
	return "loop"
}
