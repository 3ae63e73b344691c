package lists

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/english"
	"ringout/model/read"
)

// Column is a column of a list. What it holds, the list writes and import reads: of a
// key of the language its name and meaning are those of the tables in model/read.
type Column struct {
	Head   string // the name of the key, unless the list needs another
	Key    string // whose value it holds; "" where it is none
	Unit   string // of a bare number in it, as the text of a plant has it; "" without one
	Parted string // what stands between the items of a list in one cell; "" for one value
	Words  Words  // which words in it are ours
	Import Import // what import does with it
	Means  string // what it holds
}

// Import is what import does with a column.
type Import uint8

// What import does with a column.
const (
	Unread Import = iota // nothing: it follows from others
	Read
	Needed // the list is refused without it
)

// Words tells which words in a column are ours: a list says them in the words of the plant,
// and import takes those of any.
type Words uint8

// Which words are ours.
const (
	theirWords  Words = iota // none: tags, names, texts of the user
	ourWords                 // all
	wordsBehind              // those behind the first of each item, which is a name
)

// What stands between the items of a list in one cell: texts may hold a comma, and
// voltages at their currents none.
const (
	PartedTexts = "; "
	PartedVolts = ", "
)

// own is a column that holds no value of a key.
func own(head, means string) Column { return Column{Head: head, Means: means} }

// key is the column of a key, which import reads.
func key(name string) Column { return Column{Head: name, Key: name, Import: Read} }

func (c Column) as(head string) Column   { c.Head = head; return c }
func (c Column) in(unit string) Column   { c.Unit = unit; return c }
func (c Column) parted(by string) Column { c.Parted = by; return c }
func (c Column) worded() Column          { c.Words = ourWords; return c }
func (c Column) named() Column           { c.Words = wordsBehind; return c }
func (c Column) read() Column            { c.Import = Read; return c }
func (c Column) unread() Column          { c.Import = Unread; return c }
func (c Column) needed() Column          { c.Import = Needed; return c }

// InWords puts the words of ours in a cell of the column into others.
func (c Column) InWords(cell string, say func(string) string) string {
	switch c.Words {
	case ourWords:
		return say(cell)
	case wordsBehind:
		items := strings.Split(cell, PartedTexts)
		for i, item := range items {
			if name, rest, is := strings.Cut(item, " "); is {
				items[i] = name + " " + say(rest)
			}
		}
		return strings.Join(items, PartedTexts)
	}
	return cell
}

// said is a cell in the words of a plant.
func (c Column) said(p *model.Plant, cell any) any {
	if s, is := cell.(string); is {
		return c.InWords(s, func(s string) string { return p.Say(english.Text(s)) })
	}
	return cell
}

// table has the columns of a list whose rows are each of a T. A cell without a function
// is the value of the key.
type table[T any] []struct {
	Column
	cell func(x T) any
}

// columns are those of the table, without what fills them. The keys are of these things,
// whose tables in model/read tell what they mean.
func (t table[T]) columns(of ...any) (all []Column) {
	for _, c := range t {
		if c.Key != "" {
			c.Means = meaning(c.Key, of)
		}
		all = append(all, c.Column)
	}
	return all
}

// meaning is what a key means of each of the things that have it.
func meaning(key string, of []any) string {
	var all []string
	for _, thing := range of {
		for _, k := range read.Keys(thing) {
			if k.Name == key && !slices.Contains(all, k.Means) {
				all = append(all, k.Means)
			}
		}
	}
	if all == nil {
		panic(fmt.Sprintf("%q is a column, and no key of the language", key))
	}
	return strings.Join(all, "; ")
}

// row are the cells of one thing, which has these values of its keys.
func (t table[T]) row(x T, values []read.Value) []any {
	cells := make([]any, len(t))
	for i, c := range t {
		if c.cell != nil {
			cells[i] = c.cell(x)
		} else {
			cells[i] = c.value(values)
		}
	}
	return cells
}

// signsOfText are signs of units and numbers as import writes them.
var signsOfText = strings.NewReplacer("Ω", "ohm", "²", "2", "µ", "u", "·", " ", "−", "-")

// value is what the values of a thing have for the column: a number, a text, or nil where
// there is no such key, or a number is not given.
func (c Column) value(values []read.Value) any {
	var texts []string
	for _, v := range values {
		switch {
		case v.Key != c.Key:
		case !v.Figure:
			texts = append(texts, v.Text)
		case signsOfText.Replace(v.Unit) == c.Unit: // of a key with two units each has its column
			return given(v.Number)
		}
	}
	switch {
	case texts == nil:
		return nil
	case c.Parted == PartedTexts:
		return oneCell(texts)
	}
	return strings.Join(texts, PartedVolts)
}

// written is the value of a key in the signs of the text of a plant, number and unit in
// one text; nil where there is no such key.
func written(key string, values []read.Value) any {
	var texts []string
	for _, v := range values {
		if v.Key == key {
			texts = append(texts, v.Text)
		}
	}
	if texts == nil {
		return nil
	}
	return signsOfText.Replace(strings.Join(texts, PartedVolts))
}
