package imports

import (
	"slices"
	"strings"

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
func (t *text) title(im *Importer) {
	if !im.facts.has("plant") {
		im.facts.add("plant", im.title)
	}
	for _, k := range blocks[lists.TitleBlock] {
		if s := im.facts.value(k.Key); s != "" {
			t.line(0, "%s: %s", k.Key, quoted(s))
		} else if k.Key == "plant" {
			t.missing(0, k.Key)
		}
	}
	if len(im.revisions) > 0 {
		t.line(0, "revisions:")
	}
	for _, v := range im.revisions {
		var all []string
		for _, k := range v.keys {
			all = append(all, k.key+": "+quoted(k.value))
		}
		t.line(1, "- {%s}", strings.Join(all, ", "))
	}
}

// practice writes the values that are listed, in their order, and what is done
// with most spares.
func (t *text) practice(im *Importer) {
	if im.setting("spare cores") == "" && im.spare != "" {
		im.practice = append(im.practice, read.Value{Key: "spare cores", Text: im.spare})
	}
	if len(im.practice) > 0 {
		t.line(0, "")
		t.line(0, "practice:")
	}
	for _, k := range blocks[lists.PracticeBlock] {
		var values, named []string
		for _, s := range im.practice {
			if s.Key == k.Key {
				values, named = append(values, s.Text), append(named, s.Item+": "+quoted(s.Text))
			}
		}
		switch {
		case values == nil:
		case k.Form == read.Many:
			t.list(1, k.Key, values)
		case k.Form == read.Named:
			t.line(1, "%s: {%s}", k.Key, strings.Join(named, ", "))
		default:
			t.line(1, "%s: %s", k.Key, quoted(values[0]))
		}
	}
}

// functions writes those of a loop.
func (t *text) functions(l *anyLoop) {
	if len(l.functions) > 0 {
		t.line(2, "functions:")
	}
	for _, f := range l.functions {
		if len(f.keys)+len(f.lists) == 0 {
			t.line(3, "%s: {}", quoted(f.tag))
		} else {
			t.line(3, "%s:", quoted(f.tag))
		}
		if !f.keys.has("kind") {
			t.missing(4, "kind")
		}
		t.keys(4, f.keys)
		for _, k := range f.lists {
			t.list(4, k.key, lists.CellTexts(k.value))
		}
	}
}
