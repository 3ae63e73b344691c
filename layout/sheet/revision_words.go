package sheet

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"ringout/layout/issue"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/diff"
)

// This file says in words what changed on a sheet. What differs in the model is
// filed under everything that shows it, such as "terminal JB-21/X1:7" or "loop
// F-2107"; a sheet is told of what is filed under the parts that changed on it,
// or under its subject.

// Room for what a revision line says, in letters.
const (
	mostWords     = 150 // on a drawing
	mostFormWords = 48
	mostChange    = 70 // of one property, or of what is gone
)

// news is what differs between two plants.
type news struct {
	all      []diff.Difference
	was      map[string]*diff.Object // conductors by the name that drawings give them
	is       map[string]*diff.Object
	order    []string         // of those that are
	filed    map[string][]int // in all, under what shows them
	cores    map[string]bool  // that differ
	rerouted map[string]bool  // circuits that take another path
}

func newsOf(was, is []diff.Object) *news {
	n := &news{all: diff.Differences(was, is), filed: map[string][]int{}, cores: map[string]bool{}, rerouted: map[string]bool{}}
	n.was, _ = carriers(was)
	n.is, n.order = carriers(is)
	names := map[[2]diff.Ref][]string{} // of conductors by thing
	along := map[string][]string{}      // of conductors by circuit
	for _, all := range []map[string]*diff.Object{n.was, n.is} {
		for name, t := range all {
			names[[2]diff.Ref{t.Of, t.Ref}] = append(names[[2]diff.Ref{t.Of, t.Ref}], name)
			along[t.Value(diff.KeyCircuit)] = append(along[t.Value(diff.KeyCircuit)], name)
		}
	}
	for i, d := range n.all {
		if d.Thing.IsCore() {
			n.cores[d.Thing.Tag] = true
		}
		keys := []string{d.Of.Name()}
		switch kind, tag := d.Thing.Kind, d.Thing.Tag; {
		case d.Thing.IsConductor():
			keys = nil
			for _, name := range names[[2]diff.Ref{d.Of, d.Thing}] {
				keys = append(keys, "conductor "+name)
			}
		case kind == diff.OfCircuit:
			if d.Key == diff.KeyVia || d.Key == "" {
				n.rerouted[tag] = true
			}
			keys = append(keys, "pairs of "+d.At)
			for _, name := range along[tag] {
				if d.Key == "" || d.Key == diff.KeyVia && n.touches(name, d.At) {
					keys = append(keys, "conductor "+name)
				}
			}
		case kind == diff.OfDevice, kind == diff.OfFunction, kind == diff.OfFlag:
			keys = append(keys, kind+" "+tag)
		case d.Of.Kind == diff.OfPlace && d.At != "":
			keys = []string{"terminal " + tag + ":" + d.At}
		case d.Of.Kind == diff.OfPlace && tag != "":
			keys = []string{"part " + tag}
		}
		for _, k := range keys {
			n.filed[k] = append(n.filed[k], i)
		}
	}
	return n
}

// carriers are the conductors among things, by ConductorName, and their order.
func carriers(things []diff.Object) (all map[string]*diff.Object, order []string) {
	all = map[string]*diff.Object{}
	for i := range things {
		t := &things[i]
		from, to, name := t.Value(diff.KeyFrom), t.Value(diff.KeyTo), t.Tag
		switch {
		case !t.IsConductor():
			continue
		case t.IsCore():
		case t.Leg > 0:
			name = fmt.Sprintf("%s:%d:%s:%s", t.Value(diff.KeyCircuit), t.Leg, from, to)
		default:
			name = from + ":" + to
		}
		all[name] = t
		order = append(order, name)
	}
	return all, order
}

// touches reports whether a conductor, as it was or is, is of a cable or lands on a
// part.
func (n *news) touches(conductor, tag string) bool {
	for _, t := range []*diff.Object{n.was[conductor], n.is[conductor]} {
		if t != nil && (t.Value(diff.KeyCable) == tag || model.PartOf(t.Value(diff.KeyFrom)) == tag || model.PartOf(t.Value(diff.KeyTo)) == tag) {
			return true
		}
	}
	return false
}

// of lists what changed among things filed under some keys, in words. On the
// sheets of a loop its circuits need no name.
func (n *news) of(keys map[string]bool, ofLoop bool) (words []string, all []diff.Difference) {
	var found []int
	for k, wanted := range keys {
		if wanted {
			found = append(found, n.filed[k]...)
		}
	}
	slices.Sort(found)
	var gone []string
	for _, i := range slices.Compact(found) {
		d := n.all[i]
		if n.follows(d) {
			continue
		}
		all = append(all, d)
		of := shortOf(d, ofLoop)
		if d.IsGone() {
			gone = append(gone, of)
		} else if s := strings.TrimSpace(of + " " + shortChange(d)); !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	if len(gone) > 0 {
		words = append(words, "Removed: "+condense(gone, mostChange))
	}
	return words, all
}

// follows reports whether a difference says no more than another: cores go where
// their circuit does. What stands in the title block needs no telling either.
func (n *news) follows(d diff.Difference) bool {
	switch d.Key {
	case "status", "drawn", "checked", "approved", "number":
		return d.Of.Kind == diff.OfPlant
	case "", diff.KeyFrom, diff.KeyTo, diff.KeyCircuit, diff.KeyPolarity, diff.KeyGroup, diff.KeyCable:
		if d.Thing.IsCore() {
			for _, t := range []*diff.Object{n.was[d.Thing.Tag], n.is[d.Thing.Tag]} {
				if t != nil && n.rerouted[t.Value(diff.KeyCircuit)] {
					return true
				}
			}
		}
		return d.Thing.Kind == diff.OfWire && d.Thing.Leg > 0
	}
	return false
}

// shortChange is how a thing changed, in as few words as there is room for.
func shortChange(d diff.Difference) string {
	change := d.Change()
	if utf8.RuneCountInString(change) > mostChange {
		return strings.TrimSpace(d.Property() + " changed")
	}
	return change
}

// shortOf is the thing of a difference in as few words as stand by themselves; "" on
// the sheets of a loop for its circuits.
func shortOf(d diff.Difference, ofLoop bool) string {
	switch {
	case d.Thing.Kind == diff.OfCircuit && d.Key != "":
		if ofLoop {
			return ""
		}
		return d.Thing.Tag + ":"
	case d.Thing.Kind == diff.OfCableType:
		return d.Of.Name()
	case d.Thing.Kind == diff.OfWire:
		return d.Thing.Words()
	case d.Thing.Tag != "":
		return d.Thing.Tag
	}
	return d.Of.Tag
}

// condense joins words as far as there is room for so many letters, and counts
// the others.
func condense(words []string, most int) string {
	s := ""
	for i, w := range words {
		next := w
		if s != "" {
			next = s + "; " + w
		}
		room := most
		if i+1 < len(words) {
			room -= len(" and 99 more")
		}
		if utf8.RuneCountInString(next) > room {
			switch {
			case len(words) == 1:
				return "1 change"
			case s == "":
				return fmt.Sprintf("%d changes", len(words))
			}
			return fmt.Sprintf("%s and %d more", s, len(words)-i)
		}
		s = next
	}
	return s
}

// keys are what a sheet is told the changes of.
func (c *content) keys(d *difference, p *model.Plant) map[string]bool {
	keys := map[string]bool{"plant": true, "practice": true}
	cable := func(c *model.Cable) {
		keys["cable "+c.Tag] = true
		if c.Type != nil {
			keys["cable type "+c.Type.Name] = true
		}
	}
	part := func(x *model.Part) {
		if x != nil {
			keys["part "+x.Tag], keys["place "+x.Where()] = true, true
		}
	}
	for i, x := range c.parts {
		if x.kind == "terminal" {
			keys["part "+model.PartOf(x.tag)] = true
		}
		if d.since[i] == "" && x.kind != textPart {
			keys[x.String()] = true
			if w := p.Cable(x.tag); x.kind == "cable" && w != nil {
				cable(w)
				keys["pairs of "+w.Tag] = c.place != nil // in tables of what is not landed
			}
		}
	}
	for _, name := range d.removed {
		keys[name] = true
	}
	switch {
	case c.loop != nil:
		keys["loop "+c.loop.Tag] = true
		for _, k := range c.loop.Circuits {
			if k.Broken {
				continue
			}
			part(k.Supply())
			for _, s := range k.Stations() {
				part(s.Part)
			}
			for _, w := range k.Conductors(p) {
				keys["conductor "+wording.ConductorName(w)] = true
				for _, e := range []model.End{w.From, w.To} {
					if e.Terminal != nil {
						keys["terminal "+e.Terminal.Tag()] = true
					}
				}
				if w.Core != nil {
					cable(w.Core.Cable)
				}
			}
		}
	case c.place != nil:
		keys["place "+c.place.Tag] = true
	case c.cable != nil:
		cable(c.cable)
		keys["place "+c.cable.From.Tag()], keys["place "+c.cable.To.Tag()] = true, true
		for _, core := range coresOf(c.cable) {
			keys["conductor "+core.Name()] = true
		}
	}
	return keys
}

// words are what changed on a sheet.
func (c *comparison) words(s *content, d *difference, number string, p *model.Plant) (words []string) {
	if number != p.Number {
		words = append(words, "number "+issue.Numbered(p.Number, s.key)+", was "+issue.Numbered(number, s.key))
	}
	switch {
	case d.was.Withdrawn:
		return append(words, "reinstated")
	case !d.own && d.was.Code != s.code:
		return append(words, "wiring code only; no change on this sheet")
	case !d.own || s.kind.Lists:
		return words
	}
	more, _ := c.news.of(s.keys(d, p), s.loop != nil)
	words = append(words, more...)
	if len(more) == 0 {
		words = append(words, s.redrawn(p, d))
	}
	return words
}

// redrawn names the parts of a sheet that changed where nothing in the model did
// that it is told of.
func (s *content) redrawn(plant *model.Plant, d *difference) string {
	if !s.kind.Form && len(d.removed) == 0 && !slices.Contains(d.since, "") {
		return "rows moved between sheets"
	}
	var names []string
	for i, p := range s.parts {
		if name := partWordsOf(plant, p.String()); d.since[i] == "" && p.kind != textPart && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "redrawn"
	}
	return "redrawn: " + condense(names, mostChange)
}

// partWordsOf is a part in words: a wire by its ends, not by its inner name.
func partWordsOf(plant *model.Plant, name string) string {
	tag, ok := strings.CutPrefix(name, "conductor ")
	if !ok {
		return name
	}
	if f := strings.Split(tag, ":"); len(f) >= 4 {
		f = f[len(f)-4:]
		return fmt.Sprintf("wire %s:%s to %s:%s", f[0], f[1], f[2], f[3])
	}
	return plant.Say("core ") + tag
}

// raisedWords are what the revision line of an issue says of a sheet that was
// issued before.
func raisedWords(r *issue.Register, c *content, d *difference, is issue.Issue) string {
	most := mostWords
	if c.kind.Form {
		most = mostFormWords
	}
	if was := r.Find(d.was.Mark()).Status; was != is.Status {
		if len(d.words) == 0 && !c.kind.Lists {
			return is.Status + ", no change"
		}
		if len(d.words) == 0 {
			return is.Status
		}
		return is.Status + ": " + condense(d.words, most-utf8.RuneCountInString(is.Status))
	}
	return condense(d.words, most)
}

// groups are the pairs of a cable of several that changed, in order.
func (n *news) groups(c *model.Cable) (all []string) {
	for _, core := range coresOf(c) {
		if t := n.is[core.Name()]; t != nil && n.cores[core.Name()] && c.Type.Groups > 1 && !slices.Contains(all, t.Value(diff.KeyGroup)) {
			all = append(all, t.Value(diff.KeyGroup))
		}
	}
	return all
}

// coresOf are the cores and screens of a cable.
func coresOf(c *model.Cable) []*model.Core {
	all := slices.Concat(c.Cores, c.Screens)
	if c.Overall != nil {
		all = append(all, c.Overall)
	}
	return all
}

// markers are the conductors with markers that read something else than before,
// pair by pair.
func (n *news) markers(p *model.Plant) (all []string) {
	seen := map[string]bool{}
	for _, name := range n.order {
		t := n.is[name]
		reads := t.Value(diff.KeyMarkers)
		if was := n.was[name]; reads == "" || was != nil && was.Value(diff.KeyMarkers) == reads {
			continue
		}
		s := partWordsOf(p, "conductor "+name)
		if c := p.Cable(t.Value(diff.KeyCable)); c != nil && c.Type.Groups > 1 {
			s = c.Tag + " " + t.Value(diff.KeyGroup)
		} else if c != nil {
			s = c.Tag
		}
		if !seen[s] {
			seen[s] = true
			all = append(all, s)
		}
	}
	return all
}
