package read

import (
	"maps"
	"slices"

	"golang.org/x/text/unicode/norm"
	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/pattern"
)

// This file makes loops that are alike: a pattern is text of a plant with blanks, and each
// row of a table fills it once.

// rowFields are the keys of patterns and of what fills them.
var rowFields = fields[*model.Plant]{
	{"patterns", named(thingFields.blankShape()), "", "text of one loop and what is its own, with blanks such as `<length>`, by name", "", func(r *plantReader, _ *model.Plant, n node) { r.readPatterns(n) }, things[*model.Plant]},
	{"like loops", &shape{Type: types{"array"}, Items: likeShape(), words: "list"}, "", "what fills a pattern: `pattern` (required), `rows` (required), and blanks that all rows have in common", "[{pattern: two-wire, box: JB-21, rows: [{n: 2107, length: 18 m}]}]", func(r *plantReader, _ *model.Plant, n node) {
		r.likes = append(r.likes, r.list(n, "an item of like loops")...)
	}, things[*model.Plant]},
	{"counted", named(named(named(aText))), "", "the places that `<next>` was given, by loop, circuit and strip, cable or card; written by ringout", "{F-2107: {FT-2107: {JB-21/X1: 7}}}", func(r *plantReader, _ *model.Plant, n node) { r.readCounted(n) }, things[*model.Plant]},
}

// likeShape is that of an item of "like loops".
func likeShape() *shape {
	row := named(aText)
	return &shape{Type: types{"object"}, Required: []string{likePattern, likeRows}, Others: aText,
		Properties: map[string]*shape{likePattern: aName, likeRows: either(aText, listOf(row))}}
}

// The keys of an item of "like loops" that are no blanks.
const (
	likePattern = "pattern"
	likeRows    = "rows"
)

// WithBlanks ends the names of the definitions of the schema that hold in patterns.
const WithBlanks = " with blanks"

// blankShape is that of a pattern: keys as elsewhere, any text may have blanks.
func (fs fields[T]) blankShape() *shape {
	return fs.shape().withBlanks()
}

// withBlanks returns the shape of the same in a pattern.
func (s shape) withBlanks() *shape {
	s.Names = nil
	if s.Ref != "" {
		s.Ref += WithBlanks
		return &s
	}
	if len(s.AnyOf) > 0 && s.AnyOf[0].Ref != "" {
		open := s
		open.AnyOf = nil
		for _, one := range s.AnyOf {
			open.AnyOf = append(open.AnyOf, one.withBlanks())
		}
		return &open
	}
	if s.Properties == nil && s.Others == nil && s.Items == nil {
		told := s.Description
		s.Description = ""
		return &shape{AnyOf: []*shape{&s, {Type: types{"string"}, Pattern: "<.+>"}}, Description: told, words: s.words}
	}
	if s.Properties != nil {
		open := map[string]*shape{}
		for name, p := range s.Properties {
			open[name] = p.withBlanks()
		}
		s.Properties = open
	}
	if of, ok := s.Others.(*shape); ok {
		s.Others = of.withBlanks()
	}
	if s.Items != nil {
		s.Items, s.Enum = s.Items.withBlanks(), nil
	}
	if s.Pattern != "" { // a text is as good as a list, or as keys
		s.Pattern += "|<.+>"
	}
	return &s
}

// writtenPattern is the text of a pattern.
type writtenPattern struct {
	key, body node
	blanks    map[string]bool
	size      int // nodes
}

func (r *plantReader) readPatterns(n node) {
	for key, body := range r.entries(n, "pattern") {
		if first, ok := r.patterns[key.Value]; ok {
			r.twice(key, first.key.pos())
			continue
		}
		p := &writtenPattern{key: key, body: body, blanks: map[string]bool{}}
		r.patterns[key.Value] = p
		if !r.is(body, yaml.MappingNode) {
			continue
		}
		if tag := loopKey(body.Node); tag == nil || len(pattern.Blanks(tag.Value)) == 0 {
			r.Report(key.wrong(finding.PatternLoop, "%s must have one loop, whose tag has a blank", key.what).WithHint(finding.Do("write it under loops, with a blank in its tag: a name between < and >")))
			continue
		}
		p.look(body.Node)
	}
}

// look finds the blanks of a pattern.
func (p *writtenPattern) look(n *yaml.Node) {
	p.size++
	for _, name := range pattern.Blanks(n.Value) {
		if name != pattern.Next {
			p.blanks[name] = true
		}
	}
	for _, c := range n.Content {
		p.look(c)
	}
}

// loopKey is the tag of the one loop of a pattern; nil where it has none or several.
func loopKey(root *yaml.Node) *yaml.Node {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if loops := root.Content[i+1]; root.Content[i].Value == "loops" {
			if loops.Kind != yaml.MappingNode || len(loops.Content) != 2 {
				return nil
			}
			return loops.Content[0]
		}
	}
	return nil
}

// fillRows makes the loops of all rows.
func (r *plantReader) fillRows() {
	for _, item := range r.likes {
		if r.is(item, yaml.MappingNode) {
			r.fillLike(item)
		}
	}
}

// like is an item of "like loops".
type like struct {
	*writtenPattern
	name   string
	shared map[string]pattern.Cell
	rows   []pattern.Row
}

// fillLike makes the loops of one item.
func (r *plantReader) fillLike(item node) {
	l := like{shared: map[string]pattern.Cell{}}
	var name, rows *node
	heads := map[string]finding.Finding{} // by name, that no blank takes it
	for i := 0; i+1 < len(item.Content); i += 2 {
		key := node{item.Content[i], item.src, "blank " + finding.Quote(item.Content[i].Value)}
		value := node{item.Content[i+1], item.src, finding.Quote(item.Content[i].Value)}
		switch key.Value {
		case likePattern:
			name = &value
		case likeRows:
			rows = &value
		default:
			l.shared[key.Value] = r.cell(value)
			heads[key.Value] = unused(key.pos(), key.Value)
		}
	}
	for _, missing := range []struct {
		n   *node
		key string
	}{{name, likePattern}, {rows, likeRows}} {
		if missing.n == nil {
			r.Errorf(item.pos(), finding.MissingKey, "%s lacks the key %s", item.what, finding.Quote(missing.key))
			return
		}
	}
	l.name = r.text(*name)
	if l.writtenPattern = r.patterns[l.name]; l.writtenPattern == nil {
		if l.name != "" {
			r.Report(name.wrong(finding.UnknownPattern, "no pattern is named %s", finding.Quote(l.name)).WithHint(nearest(l.name, model.SortedKeys(r.patterns))))
		}
		return
	}
	if len(l.blanks) == 0 {
		return // reported where the pattern is written
	}
	if rows.Kind == yaml.ScalarNode {
		l.rows = r.tableRows(&l, *rows, heads)
	} else {
		l.rows = r.rowsOf(*rows, heads)
	}
	for _, head := range slices.Sorted(maps.Keys(heads)) {
		if !l.blanks[head] {
			r.Report(heads[head].WithAlso(l.key.pos(), "the pattern").WithHint(nearest(head, l.open(heads))))
		}
	}
	for _, row := range l.rows {
		if !r.fillRow(&l, row) {
			return
		}
	}
}

// unused is a warning that no blank takes what stands under a name.
func unused(at finding.Pos, name string) finding.Finding {
	return finding.At(at, finding.UnusedCell, "no blank of the pattern is <%s>", name).Span(len([]rune(name)))
}

// open are the blanks that nothing of these names fills.
func (l *like) open(given map[string]finding.Finding) (names []string) {
	for name := range l.blanks {
		if _, ok := given[name]; !ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// cell reads what a row gives for a blank.
func (r *plantReader) cell(n node) pattern.Cell {
	s := norm.NFC.String(r.textUpTo(n, mostNote))
	pos, chars := n.at(0, len(n.Value))
	return pattern.Cell{Text: s, Pos: pos, Plain: s == n.Value && chars > 0}
}

// rowsOf reads the rows of an item. Every name in them is put into heads, with what is to
// be said where no blank takes it.
func (r *plantReader) rowsOf(n node, heads map[string]finding.Finding) (rows []pattern.Row) {
	for _, item := range r.list(n, "a row") {
		if !r.is(item, yaml.MappingNode) {
			continue
		}
		row := pattern.Row{Pos: item.pos(), Cells: map[string]pattern.Cell{}}
		for i := 0; i+1 < len(item.Content); i += 2 {
			key := node{item.Content[i], item.src, item.what}
			row.Cells[key.Value] = r.cell(node{item.Content[i+1], item.src, finding.Quote(key.Value)})
			if _, ok := heads[key.Value]; !ok {
				heads[key.Value] = unused(key.pos(), key.Value)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// fillRow makes the loop of one row; false when there are too many.
func (r *plantReader) fillRow(l *like, row pattern.Row) bool {
	if r.filled += l.size; r.filled > mostFilled {
		r.tooMany(row.Pos, mostFilled, "keys and values that rows make of patterns")
		return false
	}
	for name, cell := range l.shared {
		if own, ok := row.Cells[name]; !ok || own.Text == "" {
			row.Cells[name] = cell
		}
	}
	f := pattern.Fill(l.name, l.body.src.Source, l.body.Node, row)
	if len(f.Missing) > 0 {
		told := map[string]bool{}
		for _, m := range f.Missing {
			if told[m.Name] {
				continue
			}
			told[m.Name] = true
			p := finding.At(m.Pos, finding.UnfilledBlank, "the row does not fill the blank <%s>", m.Name).
				WithHint(finding.Do("give it in the row, or for all rows beside the name of the pattern; NOT GIVEN leaves a key out"))
			if m.Part {
				p = finding.At(m.Pos, finding.UnfilledBlank, "the blank <%s> is part of a text, and cannot be NOT GIVEN", m.Name).
					WithHint(finding.Do("have a key in the pattern whose value is the blank alone: it is left out"))
			}
			r.Report(p.WithAlso(m.Pattern, "the blank in pattern %s", l.name))
		}
		return true
	}
	root := node{f.Root, &source{l.body.src.Source, f}, "pattern " + finding.Quote(l.name)}
	tag := node{loopKey(f.Root), root.src, "loop"}
	if first, ok := r.rowAt[tag.Value]; ok {
		r.Report(tag.wrong(finding.RowTwice, "two rows make loop %s", tag.Value).WithAlso(first, "the other row"))
		return true
	}
	if first, ok := r.loopAt[tag.Value]; ok {
		r.Report(tag.wrong(finding.TagTwice, "loop %s is described twice", finding.Quote(tag.Value)).WithAlso(first, "first here"))
		return true
	}
	r.rowAt[tag.Value] = row.Pos
	r.tidyFilled(root, false)
	r.digestFilled(f.Root)
	thingFields.read(r, root, "", r.plant)
	return true
}

// tidyFilled reports what cells make of keys and texts that cannot be: letters that cannot
// be drawn, keys that are the same, and what counts outside of a path.
func (r *plantReader) tidyFilled(n node, path bool) {
	f := n.src.filled
	if n.Kind == yaml.ScalarNode && !path && slices.Contains(pattern.Blanks(n.Value), pattern.Next) {
		r.Report(n.wrong(finding.MisplacedNext, "<%s> counts in the steps of a circuit alone", pattern.Next))
	}
	switch n.Kind {
	case yaml.ScalarNode:
		if f.HasCell(n.Node) {
			r.letters(n, false)
		}
	case yaml.SequenceNode:
		for _, item := range n.Content {
			r.tidyFilled(node{item, n.src, n.what}, path)
		}
	case yaml.MappingNode:
		first := map[string]finding.Pos{}
		kept := n.Content[:0]
		for i := 0; i+1 < len(n.Content); i += 2 {
			key := node{n.Content[i], n.src, n.what}
			if _, twice := first[key.Value]; !twice && !f.HasCell(key.Node) {
				first[key.Value] = key.pos()
			} else if !r.key(key, first) {
				continue
			}
			kept = append(kept, n.Content[i], n.Content[i+1])
			r.tidyFilled(node{n.Content[i+1], n.src, n.what}, path || key.Value == "circuits")
		}
		n.Content = kept
	}
}
