package read

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/copper"
	"ringout/model/grid"
)

// ValueSyntax is how the value of a key is written.
type ValueSyntax uint8

// Value syntaxes.
const (
	One   ValueSyntax = iota // one value
	Many                     // a list of values
	Named                    // values by name
)

// Value is what a key gives a thing, in the words of the text and in the unit that the
// plant keeps it in; parts and terminals are named with their place. Of a key that is
// not given, or has an empty list, there is one Value with an empty Text, or none.
// Registers of issues hold values: they are not for rewording.
type Value struct {
	Key    string
	Form   ValueSyntax
	Item   string // of Many the number, from 1, of Named the name
	Text   string
	Figure bool // it is Number in Unit; 0 with an empty Text where it is not given
	Number float64
	Unit   string // "" of a count or a ratio
}

// Key is a key of the language and what it is.
type Key struct{ Name, Means string }

// Values are those of all keys of a thing, in the order of its table of keys: of a
// plant (its title block), a practice, a revision, a cable type, cable, loop, function,
// place or part. The text that those of a practice make gives the same practice.
func Values(thing any) []Value { return keysOf(thing).values() }

// Keys are all keys that such a thing may have, in the order of their table: those that
// have no value of their own too.
func Keys(thing any) []Key { return keysOf(thing).keys() }

// keyed is a thing with the table of its keys.
type keyed interface {
	values() []Value
	keys() []Key
}

type withKeys[T any] struct {
	fields[T]
	thing T
}

func with[T any](fs fields[T], thing T) keyed { return withKeys[T]{fs, thing} }

func (k withKeys[T]) values() []Value { return k.fields.write(k.thing) }

func (k withKeys[T]) keys() (all []Key) {
	for _, f := range k.fields {
		all = append(all, Key{f.name, f.means})
	}
	return all
}

func keysOf(thing any) keyed {
	switch t := thing.(type) {
	case *model.Plant:
		return with(plantFields, t)
	case *model.Practice:
		return with(practiceFields, t)
	case *model.Revision:
		return with(revisionFields, t)
	case *model.CableType:
		return with(cableTypeFields, &writtenType{CableType: t})
	case *model.Cable:
		return with(cableFields, &writtenCable{Cable: t})
	case *model.Loop:
		if t.Segment != nil {
			return with(segmentFields, t)
		}
		return with(loopFields, t)
	case *model.Function:
		return with(functionFields, &writtenFunction{Function: t})
	case *model.Place:
		return with(placeFields, t)
	case *model.Part:
		return keysOfPart(t)
	}
	panic(fmt.Sprintf("a %T has no keys", thing))
}

func keysOfPart(p *model.Part) keyed {
	switch {
	case p.Coupler != nil:
		return with(couplerFields, &writtenStrip{Part: p})
	case p.Plug() != nil:
		return with(plugFields, p)
	case p.Strip != nil:
		return with(stripFields, &writtenStrip{Part: p})
	case p.Of != nil && p.Drive():
		return with(outputFields, &writtenCard{Part: p})
	case p.Of != nil && p.Card != nil:
		return with(inputFields, &writtenCard{Part: p})
	case p.Of != nil:
		return with(senderFields, &writtenDevice{Part: p})
	case p.Card != nil:
		return with(cardFields, &writtenCard{Part: p})
	case p.Supply != nil:
		return with(supplyFields, &writtenPart{Part: p})
	case p.Barrier != nil && p.Kind != nil && p.Kind.Diverts:
		return with(surgeFields, &writtenPart{Part: p})
	case p.Barrier != nil:
		return with(barrierFields, &writtenPart{Part: p})
	}
	return with(deviceFields, &writtenDevice{Part: p}) // an earth bar too: it has a place
}

// writer writes values back as the reader reads them.
type writer struct {
	key string
	all []Value
}

// write writes the values of all keys of t.
func (fs fields[T]) write(t T) []Value {
	w := writer{all: make([]Value, 0, len(fs))}
	for i := range fs {
		w.key = fs[i].name
		fs[i].write(&w, t)
	}
	return w.all
}

// These stand for the write of a key that has no value of its own.

// things are told by themselves, under keys of their own.
func things[T any](*writer, T) {}

// conductors tell by themselves where they land.
func conductors[T any](*writer, T) {}

func (w *writer) text(s string) { w.all = append(w.all, Value{Key: w.key, Text: s}) }

// quantity writes a number with its unit, 0 too.
func (w *writer) quantity(v float64, unit string) {
	text := strings.TrimRight(model.Plain(v)+" "+unit, " ")
	w.all = append(w.all, Value{Key: w.key, Text: text, Figure: true, Number: v, Unit: unit})
}

// given writes a number with its unit; 0 is not given.
func (w *writer) given(v float64, unit string) {
	if w.quantity(v, unit); v == 0 {
		w.all[len(w.all)-1].Text = ""
	}
}

func (w *writer) count(n int) { w.given(float64(n), "") }

func (w *writer) yes(is bool) {
	if is {
		w.text("yes")
	} else {
		w.text("")
	}
}

// texts writes a list.
func (w *writer) texts(all []string) {
	if len(all) == 0 {
		w.all = append(w.all, Value{Key: w.key, Form: Many})
	}
	for i, s := range all {
		w.all = append(w.all, Value{Key: w.key, Form: Many, Item: model.Itoa(i + 1), Text: s})
	}
}

// named writes the value that a name has.
func (w *writer) named(name, text string) {
	w.all = append(w.all, Value{Key: w.key, Form: Named, Item: name, Text: text})
}

func (w *writer) quantities(all []float64, unit string) {
	w.texts(texts(all, func(v float64) string { return model.Plain(v) + " " + unit }))
}

// texts are the items of a list in words.
func texts[T any](all []T, words func(T) string) []string {
	list := make([]string, len(all))
	for i, x := range all {
		list[i] = words(x)
	}
	return list
}

// tag writes the tag of a part; "" for none.
func (w *writer) tag(p *model.Part) {
	if p != nil {
		w.text(p.Tag)
	} else {
		w.text("")
	}
}

// nameOf is the name of a terminal; "" of none.
func nameOf(t *model.Terminal) string {
	if t == nil {
		return ""
	}
	return t.Name
}

func (w *writer) size(c copper.Size, colour colour.Colour) {
	size := ""
	if c != (copper.Size{}) {
		size = c.String()
	}
	w.text(strings.TrimSpace(size + " " + colour.Letters()))
}

func (w *writer) curve(c model.VoltageCurve) { w.texts(texts(c, model.VoltsAt.Bound)) }

func (w *writer) circuits(all []*model.Circuit) {
	w.text(strings.Join(texts(all, func(c *model.Circuit) string { return c.Name }), " "))
}

func (w *writer) functions(all []*model.Function) {
	w.text(strings.Join(texts(all, func(f *model.Function) string { return f.Tag }), " "))
}

func (w *writer) setPoints(all []model.SetPoint) {
	w.texts(texts(all, func(s model.SetPoint) string { return s.Text }))
}

func (w *writer) variables(all []model.Variable) {
	w.texts(texts(all, func(v model.Variable) string { return v.Text }))
}

// entity writes the safety values that are given: not to give one is not to give 0.
func (w *writer) entity(e model.Entity, fs fields[*model.Entity]) {
	var all []string
	for _, v := range fs.write(&e) {
		if v.Text != "" {
			all = append(all, v.Key+" "+v.Text)
		}
	}
	w.text(strings.Join(all, ", "))
}

// colours writes the colours of a type without a colour code, group by group.
func (w *writer) colours(code *colour.Code) {
	if code == nil || !code.Listed() {
		w.texts(nil)
		return
	}
	w.texts(texts(code.Sequences[0].Groups, func(group []colour.Colour) string {
		return strings.Join(texts(group, colour.Colour.Letters), " ")
	}))
}

func (w *writer) length(c *model.Cable) {
	if c.InFeet {
		w.given(c.Feet(), "ft")
	} else {
		w.given(c.Length, "m")
	}
}

func (w *writer) drive(load float64, compliance model.VoltsAt) {
	if load == 0 {
		w.text(compliance.Bound())
	} else {
		w.given(load, "Ω")
	}
}

func (w *writer) ranges(all map[int]model.Range) {
	w.texts(texts(slices.Sorted(maps.Keys(all)), func(n int) string { return model.Itoa(n) + ": " + all[n].Text }))
}

func (w *writer) draws(d *model.Device) {
	w.given(d.SupplyCurrent, "mA")
	w.given(d.DrawsVA, "VA")
	w.given(d.DrawsWatts, "W")
}

func (w *writer) supplyEarth(s *model.Supply) {
	if s.Floats {
		w.text("none")
	} else {
		w.tag(s.Earth)
	}
}

func (w *writer) stock(s model.Stock) {
	if s.Across > 0 {
		w.text(s.String())
	}
}

// stocks writes the stock of each kind of label that has one.
func (w *writer) stocks(s *model.Stocks) {
	all := stockFields.write(s)
	if len(all) == 0 {
		w.all = append(w.all, Value{Key: w.key, Form: Named})
	}
	for _, v := range all {
		w.named(v.Key, v.Text)
	}
}

func (w *writer) position(d *model.Device) {
	if d.Inside {
		w.text(behind)
	} else {
		w.text(d.Position.String())
	}
}

// names writes those of terminals, in their order.
func (w *writer) names(all []*model.Terminal) {
	w.text(strings.Join(texts(all, nameOf), " "))
}

// groups writes coils or contacts as they are read.
func (w *writer) groups(all []*model.Group) {
	w.texts(texts(all, func(g *model.Group) string {
		if names := texts(g.Terminals, nameOf); g.Contact != model.ContactByNumbers(names) {
			return strings.TrimLeft(g.Name+" "+g.Contact.String()+" "+g.Numbers(), " ")
		}
		return g.Words()
	}))
}

// ownTerminals are those of a device's kind, without the earth screw that a walk gave
// it.
func ownTerminals(p *model.Part) []*model.Terminal {
	n := 0
	for _, t := range p.Terminals {
		if t.Group != nil { // told by coils and contacts
			return nil
		}
	}
	for _, g := range p.Kind.Groups {
		n += len(g.Roles)
	}
	return p.Terminals[:min(n, len(p.Terminals))]
}

// stripTerminals writes the terminals of a strip in spans of one kind each: F1..F8
// fused 0.5 A, N1..N8.
func (w *writer) stripTerminals(all []*model.Terminal) {
	var spans []string
	for i := 0; i < len(all); {
		t, j := all[i], i+1
		for j < len(all) && all[j].Kind == t.Kind && all[j].Fuse == t.Fuse {
			j++
		}
		kind := ""
		if t.Kind != model.FeedThrough {
			kind = strings.TrimRight(" "+t.Kind.String()+" "+t.Fuse.Text, " ")
		}
		for _, s := range spansOf(all[i:j]) {
			spans = append(spans, s+kind)
		}
		i = j
	}
	w.texts(spans)
}

// spansOf are the spans of terminals: one from corner to corner where it has them all.
func spansOf(all []*model.Terminal) []string {
	corners := all[0].Name + ".." + all[len(all)-1].Name
	if names, ok := grid.Span(all[0].Name, all[len(all)-1].Name); ok && len(all) > 1 && slices.Equal(names, texts(all, nameOf)) {
		return []string{corners}
	}
	return model.Spans(all)
}

// marks writes the fewest marks that repeat over the terminals of a strip.
func (w *writer) marks(all []*model.Terminal) {
	marks, given := make([]string, len(all)), false
	for i, t := range all {
		marks[i] = "."
		if t.Role != 0 {
			marks[i], given = string(t.Role), true
		}
	}
	if !given {
		w.text("")
		return
	}
	period := 1
	repeats := func() bool {
		for i, m := range marks {
			if m != marks[i%period] {
				return false
			}
		}
		return true
	}
	for !repeats() {
		period++
	}
	w.text(strings.Join(marks[:period], " "))
}

// jumpers writes the terminals that each joins.
func (w *writer) jumpers(all [][]*model.Terminal) {
	w.texts(texts(all, func(group []*model.Terminal) string { return strings.Join(model.Spans(group), " ") }))
}

// bonds writes the terminals of a strip that are on each earth bar, in the order of
// their first.
func (w *writer) bonds(all []*model.Terminal) {
	var bars []*model.Part
	on := map[*model.Part][]*model.Terminal{}
	for _, t := range all {
		if t.Bond == nil {
			continue
		}
		if on[t.Bond] == nil {
			bars = append(bars, t.Bond)
		}
		on[t.Bond] = append(on[t.Bond], t)
	}
	w.texts(texts(bars, func(bar *model.Part) string {
		return strings.Join(model.Spans(on[bar]), " ") + " to " + bar.Name()
	}))
}
