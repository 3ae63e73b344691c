package columns

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/tell"
)

// This file reads and writes maps, which tell what somebody's own lists call things.

// columnMap tells what the columns are called in somebody's own lists, by kind of table
// and by our name: one head, or several whose cells are joined. And it tells the words in
// cells.
type columnMap struct {
	Columns map[string]map[string]theirs
	words   words
}

// theirs are the heads of the columns that make one of ours; joined even if it is one.
type theirs struct {
	heads  []string
	joined bool
}

// ends are the columns that may be joined of place, strip and terminal.
func isEnd(kind, ours string) bool {
	return kind == Boxes && strings.HasSuffix(ours, " "+farEnd) || (kind == "cores" || kind == "wires") && (ours == "from" || ours == "to")
}

// Source is where the columns of a map stand among the heads; nil where one is not there,
// or the map has none.
func (m columnMap) source(kind, ours string, heads []Head) Source {
	t, ok := m.Columns[kind][ours]
	if !ok {
		return nil
	}
	var at Source
	for _, h := range t.heads {
		i := slices.IndexFunc(heads, func(o Head) bool { return o.is(h) })
		if i < 0 {
			return nil
		}
		at = append(at, i)
	}
	if !isEnd(kind, ours) || !t.joined {
		return at
	}
	switch len(at) { // what lacks is told elsewhere: the strip by the terminal, the place by the cable
	case 1:
		return Source{-1, -1, at[0]}
	case 2:
		return Source{at[0], -1, at[1]}
	}
	return at
}

// names reports whether a cell is a head of the map.
func (m columnMap) names(cell string) bool {
	for _, columns := range m.Columns {
		for _, t := range columns {
			if slices.ContainsFunc(t.heads, func(h string) bool { return Head{lower: cell}.is(h) || strings.Contains(h, cell) }) {
				return true
			}
		}
	}
	return false
}

// readMap reads a map as PrintMap writes it: kinds of table, and in each our names of
// columns with theirs; and words, by column.
func readMap(file, text string) (m columnMap, err error) {
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(text), &root); err != nil {
		return m, tell.WrongUsef("%s: is not YAML: %s", file, strings.TrimPrefix(err.Error(), "yaml: "))
	}
	m = columnMap{Columns: map[string]map[string]theirs{}, words: words{}}
	if len(root.Content) == 0 {
		return m, nil // comments alone
	}
	kinds, err := entries(file, root.Content[0], "write cables: and below it from: \"their name\"")
	if err != nil {
		return m, err
	}
	given := map[string]bool{}
	for _, k := range kinds {
		if given[k.key.Value] {
			return m, mapError(file, k.key, "%s is given twice", k.key.Value)
		}
		given[k.key.Value] = true
		if k.key.Value == "words" {
			if err := m.readWords(file, k.value); err != nil {
				return m, err
			}
			continue
		}
		i := slices.IndexFunc(Kinds, func(x Kind) bool { return x.Name == k.key.Value })
		if i < 0 {
			return m, mapError(file, k.key, "%q is not a kind of table%s", k.key.Value, tell.DidYouMean(k.key.Value, append(Order[:len(Order):len(Order)], "words")))
		}
		columns, err := entries(file, k.value, "write from: \"their name\"")
		if err != nil {
			return m, err
		}
		if m.Columns[k.key.Value], err = readColumns(file, Kinds[i], columns); err != nil {
			return m, err
		}
	}
	return m, nil
}

// readColumns reads the columns of one kind of table.
func readColumns(file string, kind Kind, columns []entry) (map[string]theirs, error) {
	all := map[string]theirs{}
	known := append(kind.Heads(), OnlyOthers[kind.Name]...)
	for _, c := range columns {
		ours := c.key.Value
		for now, was := range former {
			if ours == was {
				ours = now
			}
		}
		if !slices.Contains(known, ours) {
			return nil, mapError(file, c.key, "%q is not a column of %s%s", ours, kind.Name, tell.DidYouMean(ours, known))
		}
		if _, twice := all[ours]; twice {
			return nil, mapError(file, c.key, "%s is given twice", ours)
		}
		items := []*yaml.Node{c.value}
		if c.value.Kind == yaml.SequenceNode {
			items = c.value.Content
		}
		t := theirs{joined: c.value.Kind == yaml.SequenceNode}
		for _, item := range items {
			if item.Kind != yaml.ScalarNode || item.Value == "" {
				return nil, mapError(file, item, "%s needs the name of a column", ours)
			}
			t.heads = append(t.heads, item.Value)
		}
		switch most := 3; {
		case len(items) == 0:
			return nil, mapError(file, c.value, "%s needs the name of a column", ours)
		case isEnd(kind.Name, ours) && len(items) > most:
			return nil, mapError(file, c.value, "%s is joined of %d columns at most: place, strip and terminal", ours, most)
		}
		all[ours] = t
	}
	return all, nil
}

// readWords reads the words of cells: by column, theirs with ours.
func (m columnMap) readWords(file string, n *yaml.Node) error {
	columns, err := entries(file, n, "write colour: and below it \"their word\": our word")
	if err != nil {
		return err
	}
	for _, c := range columns {
		known := slices.ContainsFunc(Kinds, func(k Kind) bool { return slices.Contains(k.Heads(), c.key.Value) })
		if !known || freeText[c.key.Value] {
			return mapError(file, c.key, "%q is not a column whose words can be told", c.key.Value)
		}
		all, err := entries(file, c.value, "write \"their word\": our word")
		if err != nil {
			return err
		}
		of := map[string]string{}
		for _, w := range all {
			theirs := strings.ToLower(w.key.Value)
			if _, twice := of[theirs]; twice {
				return mapError(file, w.key, "%q is given twice", w.key.Value)
			}
			if w.value.Kind != yaml.ScalarNode {
				return mapError(file, w.value, "%q needs one word of ours", w.key.Value)
			}
			of[theirs] = w.value.Value
			if w.value.Tag == "!!null" {
				of[theirs] = ""
			}
		}
		m.words[c.key.Value] = of
	}
	return nil
}

// entry is a key of a mapping with its value.
type entry struct{ key, value *yaml.Node }

// entries are those of a mapping, none where nothing is given; example tells what is
// to be written.
func entries(file string, n *yaml.Node, example string) (all []entry, err error) {
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return nil, nil
	}
	if n.Kind != yaml.MappingNode {
		return nil, mapError(file, n, "these are not names of columns: %s", example)
	}
	for i := 0; i < len(n.Content); i += 2 {
		all = append(all, entry{n.Content[i], n.Content[i+1]})
	}
	return all, nil
}

// mapError tells what is wrong with a map, and where.
func mapError(file string, n *yaml.Node, format string, args ...any) error {
	return tell.WrongUsef("%s:%d:%d: %s", file, n.Line, n.Column, fmt.Sprintf(format, args...))
}

// held reports a column that the map names and no table of its kind has.
func (m columnMap) held(all []*Table) error {
	for _, k := range Kinds {
		for _, ours := range slices.Sorted(maps.Keys(m.Columns[k.Name])) {
			var first *Table
			has := false
			for _, t := range all {
				if t.Is(k.Name) {
					has = has || m.source(k.Name, ours, t.Heads) != nil
					if first == nil {
						first = t
					}
				}
			}
			names := m.Columns[k.Name][ours].heads
			if first != nil && !has && !slices.Equal(names, []string{ours}) && !slices.Equal(names, []string{former[ours]}) {
				return tell.WrongUsef("%s: has no column %q, which the map names for %s of %s", first, strings.Join(names, " + "), ours, k.Name)
			}
		}
	}
	return nil
}

// PrintMap writes the names of our own columns as a map to change.
func PrintMap(w io.Writer) error {
	var b strings.Builder
	b.WriteString("# Column names: ours, then the name in your lists. Lines left as they are may be\n# removed. Several columns make one end: from: [place, strip, terminal].\n")
	for _, k := range Kinds {
		fmt.Fprintf(&b, "\n# required: %s\n%s:\n", strings.Join(k.Needs, ", "), k.Name)
		for _, c := range k.Heads() {
			fmt.Fprintf(&b, "  %s: %q\n", c, c)
		}
	}
	b.WriteString("\n# Words in cells: yours, then ours.\nwords:\n  colour: {\"BLK\": black}\n  kind: {\"TX\": transmitter}\n")
	_, err := io.WriteString(w, b.String())
	return err
}
