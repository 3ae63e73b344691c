// Package pattern fills text of a plant that has blanks, such as <length>, with the cells
// of a row, and remembers of every letter whether it is the pattern's or the row's.
package pattern

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"ringout/model/finding"
)

// Next is the blank that counts: a row takes the next free terminal, pair or channel.
const Next = "next"

// blank is one in a text: <length>.
var blank = regexp.MustCompile(`<(\p{L}[^<>]*)>`)

// Blanks are the names of the blanks in a text, in their order.
func Blanks(text string) (names []string) {
	for _, m := range blank.FindAllStringSubmatch(text, -1) {
		names = append(names, m[1])
	}
	return names
}

// Cell is what a row gives for a blank.
type Cell struct {
	Text  string
	Pos   finding.Pos // where it is written
	Plain bool        // it stands in its file as it reads: parts of it have places of their own
}

// notGiven is a cell that has no value: a key that is its blank alone is left out.
const notGiven = "NOT GIVEN"

// Row is one row of a table.
type Row struct {
	Pos   finding.Pos
	Cells map[string]Cell
}

// Missing is a blank that a row does not fill.
type Missing struct {
	Name    string
	Pos     finding.Pos // of the cell, or else of the row
	Pattern finding.Pos // of the blank
	Part    bool        // the cell says NOT GIVEN, and the blank is a part of a text
}

// Filled is text of a pattern with the cells of one row. The line of each of its nodes is
// the number of its origin.
type Filled struct {
	Root    *yaml.Node
	Missing []Missing
	row     Row
	name    string // of the pattern
	source  *finding.Source
	origins []origin
}

// origin is what a node was made of.
type origin struct {
	blank      string      // the value in the pattern
	value      string      // the same, filled
	at         finding.Pos // in the pattern
	pieces     []piece
	row, words *finding.Related // the other place of what is the pattern's, and of what is the row's
}

// piece is a part of a value that a cell gave.
type piece struct {
	from, to int
	more     int // by how much the value is longer here than the pattern, up to its end
	cell     Cell
}

// Fill fills the pattern of this name, root of source, with a row.
func Fill(name string, source *finding.Source, root *yaml.Node, row Row) *Filled {
	f := &Filled{row: row, name: name, source: source}
	f.Root = f.copy(root)
	return f
}

// copy copies a node with the values that the row gives.
func (f *Filled) copy(n *yaml.Node) *yaml.Node {
	c := *n
	o := origin{at: f.source.Within(n.Line, n.Column), blank: n.Value}
	if n.Kind == yaml.ScalarNode {
		c.Value, o.pieces = f.fill(n.Value, o.at)
		if len(o.pieces) > 0 && c.Tag == "!!null" {
			c.Tag = "!!str"
		}
	}
	o.value = c.Value
	o.row = &finding.Related{Pos: f.row.Pos, Text: "the first row with it"}
	o.words = &finding.Related{Pos: o.at, Text: "in pattern " + f.name}
	f.origins = append(f.origins, o)
	c.Line, c.Column, c.Content = len(f.origins), 1, nil
	for i := 0; i < len(n.Content); i++ {
		if n.Kind == yaml.MappingNode && i+1 < len(n.Content) {
			if !f.leftOut(n.Content[i+1]) {
				c.Content = append(c.Content, f.copy(n.Content[i]), f.copy(n.Content[i+1]))
			}
			i++
		} else if !f.leftOut(n.Content[i]) {
			c.Content = append(c.Content, f.copy(n.Content[i]))
		}
	}
	return &c
}

// leftOut reports whether a value is one blank alone, which the row has NOT GIVEN.
func (f *Filled) leftOut(n *yaml.Node) bool {
	m := blank.FindStringSubmatch(n.Value)
	return n.Kind == yaml.ScalarNode && m != nil && m[0] == n.Value && f.row.Cells[m[1]].Text == notGiven
}

// fill fills the blanks of one text.
func (f *Filled) fill(text string, at finding.Pos) (filled string, pieces []piece) {
	var b strings.Builder
	from := 0
	for _, m := range blank.FindAllStringSubmatchIndex(text, -1) {
		name := text[m[2]:m[3]]
		if name == Next {
			continue
		}
		cell, ok := f.row.Cells[name]
		if !ok || cell.Text == "" || cell.Text == notGiven {
			if !ok {
				cell.Pos = f.row.Pos
			}
			f.Missing = append(f.Missing, Missing{name, cell.Pos, at.Right(utf8.RuneCountInString(text[:m[0]])), cell.Text != ""})
			continue
		}
		b.WriteString(text[from:m[0]])
		start := b.Len()
		b.WriteString(cell.Text)
		pieces = append(pieces, piece{start, b.Len(), b.Len() - m[1], cell})
		from = m[1]
	}
	b.WriteString(text[from:])
	return b.String(), pieces
}

// HasCell reports whether a node of Root has text of the row.
func (f *Filled) HasCell(n *yaml.Node) bool { return len(f.origins[n.Line-1].pieces) > 0 }

// Pos is the place of a node: of the first cell in it, or else of the pattern.
func (f *Filled) Pos(n *yaml.Node) finding.Pos {
	pos, _ := f.At(n, 0, len(n.Value))
	return pos
}

// At is the place of a part of the value of a node, and how many characters it has there:
// of the first cell in that part, or else of the pattern. It names the other of the two.
func (f *Filled) At(n *yaml.Node, offset, length int) (pos finding.Pos, chars int) {
	o := &f.origins[n.Line-1]
	whole := n.Value != o.value
	for _, p := range o.pieces {
		if !whole && (p.to <= offset || offset+length <= p.from) && length > 0 {
			continue
		}
		pos, chars = p.cell.Pos, utf8.RuneCountInString(p.cell.Text)
		if pos.Made = o.words; !p.cell.Plain {
			return pos, 1
		}
		if from := offset - p.from; !whole && from > 0 {
			pos.Col += utf8.RuneCountInString(p.cell.Text[:from])
			chars = utf8.RuneCountInString(p.cell.Text[from:min(len(p.cell.Text), from+length)])
		} else if !whole && offset+length < p.to {
			chars = utf8.RuneCountInString(p.cell.Text[:offset+length-p.from])
		}
		return pos, chars
	}
	pos, chars = o.at, 1
	if !whole && n.Kind == yaml.ScalarNode {
		pos, chars = f.fixed(o, offset, length)
	}
	pos.Made = o.row
	return pos, chars
}

// fixed is the place in the pattern of a part of a value that no cell gave.
func (f *Filled) fixed(o *origin, offset, length int) (pos finding.Pos, chars int) {
	for _, p := range slices.Backward(o.pieces) {
		if p.to <= offset {
			offset -= p.more
			break
		}
	}
	written := f.source.Data[f.source.Offset(o.at.Line, o.at.Col):]
	if !strings.HasPrefix(string(written[:min(len(written), len(o.blank))]), o.blank) || strings.Contains(o.blank, "\n") {
		return o.at, 1
	}
	pos = o.at
	pos.Col += utf8.RuneCountInString(o.blank[:offset])
	return pos, utf8.RuneCountInString(o.blank[offset : offset+length])
}
