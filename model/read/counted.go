package read

import (
	"bytes"
	"path"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/syntax"
)

// This file reads and writes the places that circuits were given where they count.

// CountedFile is the file that keeps the counted places of a plant: in its folder, or beside
// its one file. Names are parted by slashes.
func CountedFile(name string, folder bool) string {
	if folder {
		return path.Join(name, "counted.yaml")
	}
	return strings.TrimSuffix(name, path.Ext(name)) + ".counted.yaml"
}

// readCounted reads places by loop, circuit, and strip, cable or card.
func (r *plantReader) readCounted(n node) {
	for loop, circuits := range r.entries(n, "loop") {
		for circuit, things := range r.entries(circuits, "circuit") {
			for on, places := range r.entries(things, "the places on") {
				key := [3]string{loop.Value, circuit.Value, on.Value}
				if first, ok := r.keptAt[key]; ok {
					r.Report(on.wrong(finding.KeyTwice, "places of %s on %s are kept twice", loop.Value, on.Value).WithAlso(first, "first written here"))
					continue
				}
				r.keptAt[key] = places.pos()
				if names := strings.Fields(r.text(places)); len(names) > 0 {
					r.kept = append(r.kept, &model.Counted{Loop: key[0], Circuit: key[1], On: key[2], Places: names, Pos: places.pos()})
				}
			}
		}
	}
}

// CountedText is the text of the file that keeps the counted places of a plant, those that
// another of its files keeps left out: a line a circuit, in the order of their tags.
func CountedText(p *model.Plant, file string) ([]byte, error) {
	text := func(s string) *yaml.Node {
		n := &yaml.Node{Kind: yaml.ScalarNode, Value: s}
		var read yaml.Node
		if yaml.Unmarshal([]byte(s), &read) != nil || len(read.Content) != 1 || read.Content[0].Value != s || syntax.IsNull(read.Content[0]) {
			n.Style = yaml.DoubleQuotedStyle
		}
		return n
	}
	under := func(n *yaml.Node, key string) *yaml.Node {
		if last := len(n.Content) - 2; last >= 0 && n.Content[last].Value == key {
			return n.Content[last+1]
		}
		value := &yaml.Node{Kind: yaml.MappingNode}
		n.Content = append(n.Content, text(key), value)
		return value
	}
	loops := &yaml.Node{Kind: yaml.MappingNode}
	for _, c := range p.Counted {
		if c.Pos.File != "" && c.Pos.File != file {
			continue
		}
		things := under(under(loops, c.Loop), c.Circuit)
		things.Style = yaml.FlowStyle
		things.Content = append(things.Content, text(c.On), text(strings.Join(c.Places, " ")))
	}
	var b bytes.Buffer
	b.WriteString("# The places that <next> was given. ringout writes this file and keeps every place\n# with its loop; take out what is to be counted anew.\n")
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	err := e.Encode(&yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{text("counted"), loops}})
	return b.Bytes(), err
}
