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
	"ringout/model/read"
)

// This file takes in what is not wiring, and writes it: the title block, the
// practice, functions.

type anyRevision struct {
	item string // that its rows have in common
	keys keys
}

type anyFunction struct {
	tag   string
	keys  keys
	lists keys // keys with any number of texts
}

// usualPractice has the values that hold where nothing is said.
var usualPractice = func() []read.Value {
	usual := model.DefaultPractice()
	return read.Values(&usual)
}()

// valuesOf are the values of a key, each behind the item that it is of.
func valuesOf(all []read.Value, key string) (texts []string) {
	for _, v := range all {
		if v.Key == key && v.Form == read.Named {
			texts = append(texts, v.Item)
		}
		if v.Key == key {
			texts = append(texts, v.Text)
		}
	}
	return texts
}

// blocks are those of the list of the plant: all keys of each, as they are written, in
// order.
var blocks = func() map[string][]read.Value {
	usual := model.DefaultPractice()
	keys := func(thing any) []read.Value {
		return slices.CompactFunc(read.Values(thing), func(a, b read.Value) bool { return a.Key == b.Key })
	}
	return map[string][]read.Value{
		lists.TitleBlock: keys(&model.Plant{}), lists.RevisionBlock: keys(&model.Revision{}), lists.PracticeBlock: keys(&usual),
	}
}()

// takeFact takes in a row of the list of the plant.
func (im *Importer) takeFact(r *columns.Row) {
	block, key, item, value := r.Get("block"), r.Get("key"), r.Get("item"), r.Get("value")
	keys := blocks[block]
	if keys == nil {
		im.lose(r, "block", finding.BadCell, "%q is not a block of the list: title, revisions or practice", block)
		return
	}
	at := slices.IndexFunc(keys, func(k read.Value) bool { return k.Key == key })
	if at < 0 {
		var known []string
		for _, k := range keys {
			known = append(known, k.Key)
		}
		im.lose(r, "key", finding.BadCell, "%q is not a key of the %s%s", key, block, tell.DidYouMean(key, known))
		return
	}
	if block == lists.PracticeBlock {
		im.takeSetting(r, keys[at].Form, read.Value{Key: key, Item: item, Text: value})
		return
	}
	into := &im.facts
	if block == lists.RevisionBlock {
		i := slices.IndexFunc(im.revisions, func(v *anyRevision) bool { return v.item == item })
		if i < 0 {
			i = len(im.revisions)
			im.revisions = append(im.revisions, &anyRevision{item: item})
		}
		into = &im.revisions[i].keys
	}
	if into.has(key) {
		im.lose(r, "key", finding.ListedTwice, "%s is given twice", key)
		return
	}
	into.add(key, value)
}

func (im *Importer) takeSetting(r *columns.Row, form read.ValueSyntax, s read.Value) {
	switch {
	case form == read.Named && !slices.Contains(model.LabelKinds(), s.Item):
		im.lose(r, "item", finding.BadCell, "%q is not one of %s", s.Item, strings.Join(model.LabelKinds(), ", "))
		return
	case form == read.One:
		s.Item = ""
	case form == read.Many: // each row is one more
		im.practice = append(im.practice, s)
		return
	}
	if slices.ContainsFunc(im.practice, func(o read.Value) bool { return o.Key == s.Key && o.Item == s.Item }) {
		im.lose(r, "key", finding.ListedTwice, "%s is given twice", strings.TrimSpace(s.Key+" "+s.Item))
	} else if s.Text != "" {
		im.practice = append(im.practice, s)
	}
}

// setting is a value of the practice that is written as one; "" without it.
func (im *Importer) setting(key string) string {
	for _, s := range im.practice {
		if s.Key == key {
			return s.Text
		}
	}
	return ""
}

// positiveCore is the core of a pair of this type that carries +.
func (im *Importer) positiveCore(t *anyType) int {
	switch {
	case t.positive > 0:
		return t.positive
	case im.setting("positive core") == "second":
		return 2
	}
	return 1
}

// takeFunction takes in a row of the list of functions.
func (im *Importer) takeFunction(r *columns.Row) {
	tag, loop := r.Get("function"), r.Get("loop")
	if !im.isTag(r, "function", tag) || !im.isFree(r, "function", tag) {
		return
	}
	if loop == "" {
		im.lose(r, "loop", finding.CellMissing, "is empty")
		return
	}
	f := &anyFunction{tag: tag}
	var all keys
	im.take(r, &all)
	for _, k := range all {
		if k.parted != "" {
			f.lists = append(f.lists, k)
		} else {
			f.keys = append(f.keys, k)
		}
	}
	l := im.loop(loop)
	l.functions, im.functionBy[tag] = append(l.functions, f), f
}

// title writes the title block and the revisions.
func (im *Importer) title(n *yaml.Node) {
	if !im.facts.has("plant") {
		im.facts.add("plant", im.name)
	}
	for _, k := range blocks[lists.TitleBlock] {
		if s := im.facts.value(k.Key); s != "" {
			put(n, k.Key, scalar(s))
		} else if k.Key == "plant" {
			missing(n, k.Key)
		}
	}
	if len(im.revisions) == 0 {
		return
	}
	all := put(n, "revisions", &yaml.Node{Kind: yaml.SequenceNode})
	for _, v := range im.revisions {
		item := shortMapping()
		putKeys(item, v.keys)
		all.Content = append(all.Content, item)
	}
}

// putPractice writes the values that are listed, in their order, and what is done with
// most spares.
func (im *Importer) putPractice(n *yaml.Node) {
	if im.setting("spare cores") == "" && im.spare != "" {
		im.practice = append(im.practice, read.Value{Key: "spare cores", Text: im.spare})
	}
	for _, k := range blocks[lists.PracticeBlock] {
		if slices.Equal(valuesOf(im.practice, k.Key), valuesOf(usualPractice, k.Key)) {
			continue // it holds where nothing is said
		}
		var values []string
		named := shortMapping()
		for _, s := range im.practice {
			if s.Key == k.Key {
				values = append(values, s.Text)
				put(named, s.Item, scalar(s.Text))
			}
		}
		switch {
		case values == nil:
		case k.Form == read.Many:
			put(n, k.Key, listOf(values))
		case k.Form == read.Named:
			put(n, k.Key, named)
		default:
			put(n, k.Key, scalar(values[0]))
		}
	}
}

// functionsNode are the functions of a loop.
func functionsNode(l *anyLoop) *yaml.Node {
	all := mapping()
	for _, f := range l.functions {
		n := put(all, f.tag, shortMapping())
		if !f.keys.has("kind") {
			missing(n, "kind")
		}
		putKeys(n, f.keys)
		for _, k := range f.lists {
			put(n, k.key, listOf(lists.CellTexts(k.value)))
		}
	}
	return all
}
