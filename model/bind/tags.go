package bind

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// tagLists are the tags of a plant in order, for telling which one was meant by
// a tag that nothing bears. Only the first few hundred are looked for: with so
// many mistakes it is the tags that were renamed, and each search goes through
// all of the plant.
type tagLists struct {
	plant                                      *model.Plant
	places, parts, cables, circuits, functions []string
	left                                       int
}

// TagLists returns the lists; call it only once all is declared.
func TagLists(p *model.Plant) *tagLists {
	type tagsOf struct{}
	return model.Once(p, tagsOf{}, listTags)
}

func listTags(p *model.Plant) *tagLists {
	t := &tagLists{plant: p, places: model.SortedKeys(p.PlaceByTag), parts: model.SortedKeys(p.PartByTag), cables: model.SortedKeys(p.CableByTag), left: 200}
	for _, l := range p.Loops {
		for _, f := range l.Functions {
			t.functions = append(t.functions, f.Tag)
		}
		for _, c := range l.Circuits {
			t.circuits = append(t.circuits, c.Name)
		}
	}
	slices.Sort(t.circuits)
	slices.Sort(t.functions)
	return t
}

// near is a hint of the tag that s was meant for, or else of what to do.
func (t *tagLists) near(s string, tags []string, or finding.Hint) finding.Hint {
	if t.left--; t.left < 0 {
		return or
	}
	return finding.Write(finding.NearestTag(s, tags)).Or(or)
}

// partsThat are the tags of the parts of a sort. Strips and bars of a place are told by
// their names in it too.
func (t *tagLists) partsThat(is func(*model.Part) bool, in *model.Place) (tags []string) {
	if t.left <= 0 {
		return nil
	}
	for _, tag := range t.parts {
		if part := t.plant.PartByTag[tag]; part.Kind != nil && is(part) {
			tags = append(tags, tag)
			if name := part.Name(); in != nil && part.Place == in && name != tag {
				tags = append(tags, name)
			}
		}
	}
	return tags
}

// Place is a hint for a word that should be the tag of a place. Those below are for tags
// of other sorts; each names something of that sort, or tells where to describe it.
func (t *tagLists) Place(s string) finding.Hint {
	return t.near(s, t.places, finding.Do("describe it under boxes, cabinets, panels or systems"))
}

// End is a hint for an end of a cable whose other end has the tag other: a cable does not
// run from a thing to itself.
func (t *tagLists) End(s, other string) finding.Hint {
	ends := slices.DeleteFunc(slices.Concat(t.places, t.partsThat(isDevice, nil)), func(tag string) bool { return tag == other })
	return t.near(s, ends, finding.Do("describe it under boxes, cabinets, panels or systems, or as a device of a loop"))
}

// Device is a hint for a device other than own.
func (t *tagLists) Device(s string, own *model.Part) finding.Hint {
	return t.near(s, t.partsThat(func(p *model.Part) bool { return isDevice(p) && p != own }, nil), finding.Do("describe it as a device of a loop"))
}

// Type is a hint for a cable type.
func (t *tagLists) Type(s string) finding.Hint {
	return t.near(s, model.SortedKeys(t.plant.TypeByName), finding.Do("describe it under cable types"))
}

// Circuit is a hint for the name of a circuit.
func (t *tagLists) Circuit(s string) finding.Hint {
	return t.near(s, t.circuits, finding.Do("use the name of a circuit, as its loop has it under circuits"))
}

// Function is a hint for the tag of a function.
func (t *tagLists) Function(s string) finding.Hint {
	return t.near(s, t.functions, finding.Do("describe it under functions of a loop"))
}

// Source is a hint for what feeds something in a place: a supply, or a strip.
func (t *tagLists) Source(s string, in *model.Place) finding.Hint {
	return t.near(s, t.partsThat(func(p *model.Part) bool { return p.Supply != nil || p.Strip != nil }, in), finding.Do("describe it under supplies"))
}

// Fed is a hint for what a supply of a place feeds: a strip, or a card with a common.
func (t *tagLists) Fed(s string, in *model.Place) finding.Hint {
	is := func(p *model.Part) bool { return p.Strip != nil || p.Card != nil && len(p.Card.Commons) > 0 }
	return t.near(s, t.partsThat(is, in), finding.Do("describe it under strips"))
}

// Bar is a hint for an earth bar of a place.
func (t *tagLists) Bar(s string, in *model.Place) finding.Hint {
	return t.near(s, in.Bars(), finding.Do("%s", UseBar(in)))
}

// run is a hint for what carries the legs.
func (t *tagLists) run(s string) finding.Hint {
	return t.near(s, append(slices.Clone(t.cables), "wires", "jumper"), finding.Do("describe it under cables"))
}

// Station is a hint for where cores land.
func (t *tagLists) Station(s string, on ...Token) finding.Hint {
	if pl := t.plant.PlaceByTag[s]; pl != nil {
		return finding.Do("%s", useStrip(pl))
	}
	tags := t.partsThat(func(p *model.Part) bool { return !p.Kind.Bar && hasOne(p, on) }, nil)
	if place, _, ok := strings.Cut(s, "/"); ok && t.plant.PlaceByTag[place] != nil {
		return t.near(s, tags, finding.Do("%s", useStrip(t.plant.PlaceByTag[place])))
	}
	return t.near(s, tags, finding.Do("describe it as a device of a loop, or where it is, as a card, barrier or strip"))
}

// hasOne reports whether a part has one of the terminals that words name, if they name any:
// of two strips with like names the one that has what lands on it is meant.
func hasOne(p *model.Part, words []Token) bool {
	return len(words) == 0 || len(p.TerminalByName) == 0 || slices.ContainsFunc(words, func(w Token) bool {
		return p.TerminalByName[w.Text] != nil || strings.ContainsAny(w.Text, ".<") || w.Text == "next" || w.Text == "channel"
	})
}

func isDevice(p *model.Part) bool { return p.Device != nil && !p.Kind.Bar }

// useStrip tells which strips a place has.
func useStrip(pl *model.Place) string {
	var strips []string
	for _, p := range pl.Parts {
		if p.Strip != nil {
			strips = append(strips, p.Tag)
		}
	}
	if len(strips) == 0 {
		return "describe it under strips of " + pl.Tag
	}
	return "use " + few(strips) + ", or describe it under strips of " + pl.Tag
}

// UseBar tells which earth bars a place has.
func UseBar(pl *model.Place) finding.Phrase {
	if bars := pl.Bars(); len(bars) > 0 {
		return finding.Words("use %s", few(bars))
	}
	return finding.Words(`describe an earth bar under "earths" of %s`, pl.Tag)
}

// UseTerminal is a hint for a terminal that a part does not have.
func UseTerminal(name string, all []*model.Terminal) finding.Hint {
	if len(all) == 0 {
		return noHint
	}
	for _, t := range all {
		if strings.EqualFold(t.Name, name) {
			return finding.Write(t.Name)
		}
	}
	return finding.Do("use one of its terminals: %s", few(model.Spans(all)))
}

// few lists names as finding.AnyOf; of many, the first.
func few(names []string) string {
	const most = 12
	if len(names) > most {
		return strings.Join(names[:most], ", ") + ", …"
	}
	return finding.AnyOf(names)
}
