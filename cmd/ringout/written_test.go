package main

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/diff"
	"ringout/model/read"
	"ringout/samples"
)

// otherForms are the keys whose value is not written as the text of a plant has it, each
// with its reason: registers of issues hold these values, so that they stay as they are.
// The function makes the text of it; "" leaves the key out. Without a function the key has
// no value of its own, and stays in the text as it is.
var otherForms = map[string]struct {
	why  string
	text func(p *model.Plant, thing any, values []read.Value) string
}{
	"cable.overall":   {why: "the conductor tells it"},
	"cable.spares":    {why: "the conductors tell it"},
	"place.feeds":     {why: "the conductors tell it"},
	"plant.revisions": {why: "each has keys of its own"},
	"device.entity":   {"safety values are one text", safetyValues},
	"barrier.entity":  {"safety values are one text", safetyValues},
	"coupler.entity":  {"safety values are one text", safetyValues},
	"surge.entity":    {"safety values are one text", safetyValues},
	"surge.earth":     {"the bar is told by its tag, with its place", barInPlace},
	"card.ranges":     {"each range is one text with its channel", func(_ *model.Plant, _ any, vs []read.Value) string { return flow("{", texts(vs), "}") }},
	"cable.glands":    {"each is told at its end", func(_ *model.Plant, _ any, vs []read.Value) string { return flow("[", texts(vs), "]") }},
	"card.supply":     {"it is told by the full name of the terminal", cardSupply},
	"supply.earth":    {"the bar is told by its tag, with its place", barInPlace},
	"barrier.earth":   {"the bar is told by its tag, with its place", barInPlace},
	"supply.volts":    {"they are told with the sign that sheets print", func(_ *model.Plant, _ any, vs []read.Value) string { return strings.Replace(vs[0].Text, "−", "-", 1) }},
	"type.code":       {"colours of its own are a code of the name of the type", codeOfType},
	"card.power":      {"it is told of a card without the choice, too", powerOfCard},
	"card.wires":      {"they are told of a card that measures no resistance, too", wiresOfCard},
	"input.power":     {"it is told of an input without the choice, too", powerOfCard},
	"input.wires":     {"they are told of an input that measures no resistance, too", wiresOfCard},
	"device.in":       {"of a device in the field it is told to be in itself", inPlace},
	"function.reads":  {"the names stand in one text", func(_ *model.Plant, x any, _ []read.Value) string { return circuitList(x.(*model.Function).Reads) }},
	"function.drives": {"the names stand in one text", func(_ *model.Plant, x any, _ []read.Value) string { return circuitList(x.(*model.Function).Outputs) }},
}

func texts(vs []read.Value) (all []string) {
	for _, v := range vs {
		if v.Text != "" {
			all = append(all, v.Text)
		}
	}
	return all
}

// flow is a list of texts in brackets; "" where there is none.
func flow(open string, all []string, end string) string {
	if len(all) == 0 {
		return ""
	}
	return open + strings.Join(all, ", ") + end
}

func safetyValues(_ *model.Plant, _ any, vs []read.Value) string {
	var all []string
	for _, s := range strings.Split(vs[0].Text, ", ") {
		if key, value, is := strings.Cut(s, " "); is {
			all = append(all, key+": "+value)
		}
	}
	return flow("{", all, "}")
}

func cardSupply(p *model.Plant, _ any, vs []read.Value) string {
	if len(vs) == 0 {
		return ""
	}
	tag, terminal, _ := strings.Cut(vs[0].Text, ":")
	if p.PartByTag[tag].Supply != nil {
		return tag
	}
	return tag + " " + terminal
}

func barInPlace(_ *model.Plant, x any, vs []read.Value) string {
	return strings.TrimPrefix(vs[0].Text, x.(*model.Part).Place.Tag+"/")
}

func codeOfType(_ *model.Plant, x any, vs []read.Value) string {
	if len(vs) == 0 || x.(*model.CableType).Code.Listed() {
		return ""
	}
	return vs[0].Text
}

func powerOfCard(_ *model.Plant, x any, vs []read.Value) string {
	if !x.(*model.Part).SaysPower() {
		return ""
	}
	return vs[0].Text
}

func wiresOfCard(_ *model.Plant, x any, vs []read.Value) string {
	if x.(*model.Part).Kind.Signal != model.Resistance {
		return ""
	}
	return vs[0].Text
}

func inPlace(_ *model.Plant, x any, vs []read.Value) string {
	if x.(*model.Part).Place == nil {
		return ""
	}
	return vs[0].Text
}

func circuitList(all []*model.Circuit) string {
	var names []string
	for _, c := range all {
		names = append(names, c.Name)
	}
	return flow("[", names, "]")
}

// rewriter writes the values of things into the text of their plant, in place of what
// stands there.
type rewriter struct {
	*testing.T
	plant *model.Plant
	seen  map[string]bool // keys that had a value, by what has them
}

// thing writes the values of one thing into its mapping.
func (w *rewriter) thing(kind string, n *yaml.Node, thing any) {
	if n == nil || n.Kind != yaml.MappingNode {
		w.Fatalf("%s has no keys in the text", kind)
	}
	all := read.Values(thing)
	for _, k := range read.Keys(thing) {
		var vs []read.Value
		for _, v := range all {
			if v.Key == k.Name {
				vs = append(vs, v)
			}
		}
		name := kind + "." + k.Name
		form, other := otherForms[name]
		text := ""
		switch {
		case other && form.text == nil, len(vs) == 0 && slices.Contains(byThings, name):
			continue
		case !other:
			if text = written(vs); text == "" && kind == "plant.practice" && len(vs) > 0 && vs[0].Form == read.Many {
				text = "[]" // where a list has a default, none is one
			}
		default:
			text = form.text(w.plant, thing, vs)
		}
		w.seen[name] = w.seen[name] || text != ""
		put(w.T, n, strings.ReplaceAll(k.Name, "/", `\/`), text)
	}
}

// written is the YAML of the values of a key; "" where there are none.
func written(vs []read.Value) string {
	var n yaml.Node
	for _, v := range vs {
		value := &yaml.Node{Kind: yaml.ScalarNode, Value: v.Text, Style: yaml.DoubleQuotedStyle}
		switch {
		case v.Text == "": // not given
		case v.Form == read.One:
			n = *value
		case v.Form == read.Many:
			n.Kind, n.Content = yaml.SequenceNode, append(n.Content, value)
		default:
			n.Kind, n.Content = yaml.MappingNode, append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: v.Item, Style: yaml.DoubleQuotedStyle}, value)
		}
	}
	if n.Kind == 0 {
		return ""
	}
	text, err := yaml.Marshal(&n)
	if err != nil {
		panic(err) // of nodes that are made here
	}
	return string(text)
}

// at is the value of a key of a mapping; nil without it.
func at(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n != nil && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// sectionOf is where the text of a place has a part: the key, and the kind of its keys.
func sectionOf(x *model.Part) (key, kind string) {
	switch {
	case x.Coupler != nil:
		return "couplers", "coupler"
	case x.Plug() != nil:
		return "plugs", "plug"
	case x.Strip != nil:
		return "strips", "strip"
	case x.Card != nil:
		return "cards", "card"
	case x.Supply != nil:
		return "supplies", "supply"
	case x.Kind.Diverts:
		return x.Kind.Name + "s", "surge"
	case x.Barrier != nil:
		return x.Kind.Name + "s", "barrier"
	}
	return "", "" // an earth bar has no keys
}

// plantText writes all things of the plant into its text, but for those that rows make:
// they have none of their own.
func (w *rewriter) plantText(root *yaml.Node) {
	p := w.plant
	w.thing("plant", root, p)
	if n := at(root, "practice"); n != nil {
		w.thing("plant.practice", n, &p.Practice)
	}
	for i := range p.Revisions {
		w.thing("plant.revisions[]", at(root, "revisions").Content[i], &p.Revisions[i])
	}
	for _, t := range p.CableTypes {
		w.thing("type", at(at(root, "cable types"), t.Name), t)
	}
	for _, c := range p.Cables {
		if c.Pos.Made != nil {
			continue
		}
		n := at(at(root, "cables"), c.Tag)
		for _, l := range p.Loops { // which may have it
			for _, section := range []string{"loops", "segments"} {
				if n == nil {
					n = at(at(at(at(root, section), l.Tag), "cables"), c.Tag)
				}
			}
		}
		w.thing("cable", n, c)
	}
	for _, l := range p.Loops {
		if l.Pos.Made != nil {
			continue
		}
		section, kind := "loops", "loop"
		if l.Segment != nil {
			section, kind = "segments", "segment"
		}
		n := at(at(root, section), l.Tag)
		for _, d := range l.Devices {
			w.thing("device", at(at(n, "devices"), d.Tag), d)
			for _, port := range d.Ports() {
				section, kind := "inputs", "input"
				if port.Drive() {
					section, kind = "outputs", "output"
				} else if port.Card == nil {
					section, kind = "retransmits", "retransmission"
				}
				w.thing(kind, at(at(at(at(n, "devices"), d.Tag), section), port.Port()), port)
			}
		}
		for _, f := range l.Functions {
			if f.Of != nil {
				continue
			}
			w.thing("function", at(at(n, "functions"), f.Tag), f)
		}
		w.thing(kind, n, l)
	}
	for _, pl := range p.Places {
		if pl.Pos.Made != nil {
			continue
		}
		key := pl.Kind.String() + "s"
		if pl.Kind == model.Box {
			key = "boxes"
		}
		n := at(at(root, key), pl.Tag)
		for _, x := range pl.Parts {
			if section, kind := sectionOf(x); kind != "" {
				w.thing(kind, at(at(n, section), x.Name()), x)
			}
		}
		w.thing("place", n, pl)
	}
}

// TestKeysWrittenBack: what Values writes of every thing of a plant, put into its text in
// place of what stands there, gives the same plant. Every key of the language is among
// them, with each value that the alterations give it.
func TestKeysWrittenBack(t *testing.T) {
	t.Parallel()
	whole := wholePlant(t)
	texts := [][]byte{whole}
	altered, err := os.ReadFile(alterations)
	if err != nil {
		t.Fatal(err)
	}
	every := samples.Many(t, 8, 1, 1)
	for i, line := range strings.Split(strings.TrimSpace(string(altered)), "\n") {
		if line != "" && i%every == 0 {
			texts = append(texts, alter(t, whole, strings.Split(line, " | "))[1])
		}
	}
	seen := map[string]bool{}
	for _, text := range texts {
		p, _, before := read.Read(fstest.MapFS{"plant.yaml": {Data: text}}, "plant.yaml")
		var doc yaml.Node
		if err := yaml.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		w := rewriter{t, p, seen}
		w.plantText(doc.Content[0])
		back, err := yaml.Marshal(&doc)
		if err != nil {
			t.Fatal(err)
		}
		again, _, after := read.Read(fstest.MapFS{"plant.yaml": {Data: back}}, "plant.yaml")
		if before.Errors() == 0 && after.Errors() > 0 {
			t.Errorf("what is written cannot be read: %v", after)
		}
		for _, d := range diff.Compare(p, again) {
			t.Errorf("comes back otherwise: %s: %s", d.Of.Name(), d.Words())
		}
		if !reflect.DeepEqual(p.Practice, again.Practice) || !slices.Equal(p.Revisions, again.Revisions) {
			t.Error("the practice or a revision comes back otherwise")
		}
		if t.Failed() {
			t.Fatalf("from\n%s", back)
		}
	}
	for key := range schemaKeys(t) {
		form, other := otherForms[key]
		apart := other && form.text == nil || slices.Contains(byThings, key) && key != "card.kind" && key != "coupler.kind"
		if of := key[:strings.LastIndexByte(key, '.')]; every == 1 && slices.Contains(rewritten, of) && seen[key] == apart {
			t.Errorf("%s has a value: %v; is said to have none: %v", key, seen[key], apart)
		}
	}
}

// rewritten are the kinds of things that have keys.
var rewritten = []string{"plant", "plant.practice", "plant.revisions[]", "type", "cable", "loop", "device", "function", "place", "strip", "coupler", "card", "supply", "barrier", "surge", "plug"}
