package pattern

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// This file finds what texts of loops have in common: it makes patterns of texts, where
// Fill makes texts of patterns.

// Comment is the tag of a value that is a comment in the text: what its key says. One with
// NOT GIVEN for its value stands for a key that is not given.
const Comment = "!comment"

// Made is a pattern that was found, and the rows that fill it.
type Made struct {
	Root   *yaml.Node
	Blanks []string   // in the order in which they are met
	Rows   [][]string // cells in the order of the blanks
	Of     []int      // the texts that the rows make
}

// Finder finds patterns.
type Finder struct {
	// Name names what a blank in a word of a path stands for, and tells whether that is a
	// tag: the word, the part of it that the blank is in, and the word before. Blanks of
	// tags are shared with all that are filled alike, others with those of their name.
	Name func(word, part, before string) (name string, tag bool)
	// Long is how much room a text takes.
	Long func(n *yaml.Node) int
	// Widest is how long a row may be.
	Widest int
}

// fewestRows make a pattern: of two loops, neither explains the other.
const fewestRows = 3

// Find makes patterns of texts that are alike in all but values, where that takes less room
// than the texts, in the order of the first text of each. A text is an object with one loop
// under "loops" and, below, what is the loop's own.
func (f *Finder) Find(texts []*yaml.Node) (all []Made) {
	var order []string
	alike := map[string][]int{}
	for i, n := range texts {
		shape, ok := shapeOf(n, false)
		if !ok {
			continue
		}
		if alike[shape] == nil {
			order = append(order, shape)
		}
		alike[shape] = append(alike[shape], i)
	}
	for _, shape := range order {
		if m, ok := f.made(texts, alike[shape]); ok {
			all = append(all, m)
		}
	}
	return all
}

// made makes one pattern of texts; false where it is not worth it. What makes a row too
// long is left out.
func (f *Finder) made(texts []*yaml.Node, of []int) (m Made, ok bool) {
	for {
		if len(of) < fewestRows {
			return m, false
		}
		g := general{Finder: f, n: len(of)}
		var nodes []*yaml.Node
		for _, i := range of {
			nodes = append(nodes, texts[i])
		}
		m = Made{Root: g.object(nodes, false), Of: of}
		long := f.Long(m.Root)
		for _, b := range g.blanks {
			m.Blanks = append(m.Blanks, b.name)
			long += len(b.name) + 1
		}
		var fits []int
		for i := range of {
			var row []string
			wide := 0
			for _, b := range g.blanks {
				row = append(row, b.cells[i])
				wide += utf8.RuneCountInString(b.cells[i]) + 1
				if strings.ContainsAny(b.cells[i], `,"`) {
					wide += 2 + strings.Count(b.cells[i], `"`)
				}
			}
			m.Rows = append(m.Rows, row)
			if wide <= f.Widest {
				fits = append(fits, of[i])
			}
			long += wide - f.Long(texts[of[i]])
		}
		if len(fits) == len(of) {
			return m, long < 0
		}
		of = fits
	}
}

// isNamed reports whether the keys of an object are tags and names: none of its values is a
// text.
func isNamed(n *yaml.Node) bool {
	for i := 1; i < len(n.Content); i += 2 {
		if n.Content[i].Kind == yaml.ScalarNode {
			return false
		}
	}
	return true
}

// odd is what no cell and no pattern can hold.
var odd = regexp.MustCompile(`<|^\s|\s$|[\n\r\t]|^$|^NOT GIVEN$`)

// isOdd reports whether a text cannot be in a pattern.
func isOdd(s string) bool { return odd.MatchString(strings.ReplaceAll(s, "<"+Next+">", Next)) }

// words tells the words of a step that count from the others.
func words(step string) string {
	all := strings.Split(step, " ")
	for i, w := range all {
		if w != Next && !strings.Contains(w, "<"+Next+">") {
			all[i] = ""
		}
	}
	return strings.Join(all, " ")
}

// shapeOf is what texts that are alike have in common: keys with something under them, how
// many things and steps there are, and the words of each step. The kind of a thing is a
// part of it. False where a pattern cannot have the text.
func shapeOf(n *yaml.Node, path bool) (shape string, ok bool) {
	switch {
	case n.Tag == Comment:
		return "", true
	case n.Kind == yaml.ScalarNode:
		if path {
			shape = words(n.Value)
		}
		return shape, !isOdd(n.Value)
	case n.Kind == yaml.SequenceNode:
		for _, item := range n.Content {
			of, fine := shapeOf(item, path)
			if !fine {
				return "", false
			}
			shape += of + ","
		}
		return "[" + shape + "]", true
	}
	if len(n.Content) == 0 {
		return "nothing", true
	}
	named := isNamed(n)
	var keys []string
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		of, fine := shapeOf(value, named)
		if !fine || isOdd(key.Value) {
			return "", false
		}
		switch {
		case value.Tag == Comment && value.Value == "":
			keys = append(keys, "# "+key.Value)
		case named:
			keys = append(keys, of)
		case key.Value == "kind":
			keys = append(keys, "kind "+value.Value)
		case value.Kind != yaml.ScalarNode:
			keys = append(keys, key.Value+of)
		}
	}
	if !named {
		slices.Sort(keys)
	}
	return "{" + strings.Join(keys, ",") + "}", true
}

// general makes one text of several.
type general struct {
	*Finder
	n      int // texts
	blanks []column
}

// column is a blank with what it is in each text.
type column struct {
	name, of string // of: without a number
	cells    []string
}

// object makes one object of those of all texts. Of named things the keys are general too.
func (g *general) object(nodes []*yaml.Node, path bool) *yaml.Node {
	c := *nodes[0]
	c.Content = nil
	if isNamed(nodes[0]) {
		for i := 0; i+1 < len(nodes[0].Content); i += 2 {
			keys, values := at(nodes, i), at(nodes, i+1)
			key := *keys[0]
			key.Value = g.tag(texts(keys), tagBlank)
			c.Content = append(c.Content, &key, g.value(values, "", true))
		}
		return &c
	}
	for _, key := range keysOf(nodes) {
		values := make([]*yaml.Node, len(nodes))
		var given *yaml.Node
		for i, n := range nodes {
			if values[i] = valueOf(n, key); given == nil || given.Tag == Comment && values[i] != nil {
				given = values[i]
			}
		}
		value := given
		if given.Tag != Comment {
			value = g.value(values, key, false)
		}
		c.Content = append(c.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, value)
	}
	return &c
}

// tagBlank is the name of a blank in a tag.
func tagBlank(letters bool) string {
	if letters {
		return "letters"
	}
	return "n"
}

// keysOf are the keys that any of the objects has, each behind the one before it.
func keysOf(nodes []*yaml.Node) (all []string) {
	for _, n := range nodes {
		behind := 0
		for i := 0; i+1 < len(n.Content); i += 2 {
			at := slices.Index(all, n.Content[i].Value)
			if at < 0 {
				at = behind
				all = slices.Insert(all, at, n.Content[i].Value)
			}
			behind = at + 1
		}
	}
	return all
}

func valueOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func at(nodes []*yaml.Node, i int) (all []*yaml.Node) {
	for _, n := range nodes {
		all = append(all, n.Content[i])
	}
	return all
}

func texts(nodes []*yaml.Node) (all []string) {
	for _, n := range nodes {
		all = append(all, n.Value)
	}
	return all
}

// value makes one value of those of all texts, under a key. In a path, items are words.
func (g *general) value(nodes []*yaml.Node, key string, path bool) *yaml.Node {
	first := nodes[slices.IndexFunc(nodes, func(n *yaml.Node) bool { return n != nil && n.Tag != Comment })]
	switch c := *first; {
	case first.Kind == yaml.ScalarNode && path:
		c.Value = g.step(texts(nodes))
		return &c
	case first.Kind == yaml.ScalarNode:
		all := make([]string, len(nodes))
		for i, n := range nodes {
			if all[i] = notGiven; n != nil && n.Tag != Comment {
				all[i] = n.Value
			}
		}
		c.Value = g.text(all, key)
		return &c
	case first.Kind == yaml.SequenceNode:
		c.Content = nil
		for i := range first.Content {
			c.Content = append(c.Content, g.value(at(nodes, i), key, path))
		}
		return &c
	}
	return g.object(nodes, path)
}

// text makes one text of values under a key: what all have, their tags, or one blank.
func (g *general) text(values []string, key string) string {
	if one, ok := g.known(values); ok {
		return one
	}
	if !slices.ContainsFunc(values, func(s string) bool { return strings.ContainsAny(s, " ") || !letter.MatchString(s) || s == notGiven }) {
		before := len(g.blanks)
		s := g.tag(values, func(bool) string { return key })
		if len(g.blanks) == before {
			return s
		}
		g.blanks = g.blanks[:before]
	}
	return g.blank(key, values)
}

var letter = regexp.MustCompile(`^\p{L}`)

// step makes one step of a path of those of all texts, word by word.
func (g *general) step(values []string) string {
	words := make([][]string, len(values))
	for i, s := range values {
		words[i] = strings.Split(s, " ")
	}
	all := make([]string, len(words[0]))
	for k := range all {
		column := make([]string, len(values))
		for i := range words {
			column[i] = words[i][k]
		}
		before := ""
		if k > 0 {
			before = words[0][k-1]
		}
		all[k] = g.word(column, before)
	}
	return strings.Join(all, " ")
}

// word makes one word, of a tag and a part behind a stroke. A part that would take several
// blanks takes one.
func (g *general) word(values []string, before string) string {
	name, tag := g.Name(values[0], values[0], before)
	switch one, ok := g.known(values); {
	case ok && (tag || all(values, func(s string) bool { return s == values[0] })):
		return one
	case !tag:
		return g.number(name, values)
	}
	parts := make([][]string, len(values))
	for i, s := range values {
		parts[i] = strings.Split(s, "/")
		if len(parts[i]) != len(parts[0]) {
			return g.blank(name, values)
		}
	}
	var whole []string
	for k := range parts[0] {
		column := make([]string, len(values))
		for i := range parts {
			column[i] = parts[i][k]
		}
		name, _ := g.Name(values[0], parts[0][k], before)
		had := len(g.blanks)
		s := g.tag(column, func(bool) string { return name })
		if len(g.blanks) > had+1 {
			g.blanks = g.blanks[:had]
			s = g.blank(name, column)
		}
		whole = append(whole, s)
	}
	return strings.Join(whole, "/")
}

// number makes one word that is no tag, such as a terminal or a pair, of several: a blank
// of this name behind the letters that all begin with.
func (g *general) number(name string, values []string) string {
	head := values[0][:len(values[0])-len(strings.TrimLeftFunc(values[0], unicode.IsLetter))]
	rest := make([]string, len(values))
	for i, s := range values {
		var ok bool
		if rest[i], ok = strings.CutPrefix(s, head); !ok || rest[i] == "" {
			head = ""
			copy(rest, values)
			break
		}
	}
	for _, b := range g.blanks {
		if b.of == name && slices.Equal(b.cells, rest) {
			return head + "<" + b.name + ">"
		}
	}
	return head + g.add(name, rest)
}

// runs are letters, digits and other signs of a tag.
var runs = regexp.MustCompile(`\p{L}+|\d+|[^\p{L}\d]`)

// tag makes one tag of several, run by run.
func (g *general) tag(values []string, name func(letters bool) string) string {
	if one, ok := g.known(values); ok {
		return one
	}
	split := make([][]string, len(values))
	for i, s := range values {
		split[i] = runs.FindAllString(s, -1)
		if len(split[i]) != len(split[0]) {
			return g.blank(name(false), values)
		}
		for k, run := range split[i] {
			if class(run) != class(split[0][k]) {
				return g.blank(name(false), values)
			}
		}
	}
	var b strings.Builder
	for k := range split[0] {
		column := make([]string, len(values))
		for i := range split {
			column[i] = split[i][k]
		}
		if letter.MatchString(column[0]) {
			b.WriteString(g.letters(column, name(true)))
		} else if one, ok := g.known(column); ok {
			b.WriteString(one)
		} else {
			b.WriteString(g.blank(name(false), column))
		}
	}
	return b.String()
}

func class(run string) string {
	switch {
	case letter.MatchString(run):
		return "a"
	case run[0] >= '0' && run[0] <= '9':
		return "1"
	}
	return run
}

// letters makes one word of letters: a blank that all begin with, letters that all have, and
// a blank for what is left.
func (g *general) letters(values []string, name string) string {
	if one, ok := g.known(values); ok {
		return one
	}
	for _, b := range g.blanks {
		rest := make([]string, len(values))
		cut := true
		for i, s := range values {
			var is bool
			rest[i], is = strings.CutPrefix(s, b.cells[i])
			cut = cut && is && rest[i] != "" && letter.MatchString(b.cells[i])
		}
		if cut {
			return "<" + b.name + ">" + g.letters(rest, name)
		}
	}
	first, head, tail := values[0], 0, 0
	for all(values, func(s string) bool { return len(s) > head+1 && s[head] == first[head] }) {
		head++
	}
	for all(values, func(s string) bool { return len(s) > head+tail+1 && s[len(s)-1-tail] == first[len(first)-1-tail] }) {
		tail++
	}
	if !utf8.ValidString(first[:head]) || !utf8.ValidString(first[len(first)-tail:]) {
		return g.blank(name, values)
	}
	if head == 0 && tail == 0 {
		return g.blank(name, values)
	}
	rest := make([]string, len(values))
	for i, s := range values {
		rest[i] = s[head : len(s)-tail]
	}
	return first[:head] + g.letters(rest, name) + first[len(first)-tail:]
}

func all(values []string, is func(s string) bool) bool {
	return !slices.ContainsFunc(values, func(s string) bool { return !is(s) })
}

// known is what all values are, or the blank that has them.
func (g *general) known(values []string) (string, bool) {
	if all(values, func(s string) bool { return s == values[0] && s != notGiven }) {
		return values[0], true
	}
	for _, b := range g.blanks {
		if slices.Equal(b.cells, values) {
			return "<" + b.name + ">", true
		}
	}
	return "", false
}

// blank makes a new blank.
func (g *general) blank(name string, values []string) string {
	if one, ok := g.known(values); ok {
		return one
	}
	return g.add(name, values)
}

// add adds a blank.
func (g *general) add(name string, values []string) string {
	if name == "letters" && all(values, func(s string) bool { return utf8.RuneCountInString(s) == 1 }) {
		name = "letter"
	}
	taken := map[string]bool{Next: true}
	for _, b := range g.blanks {
		taken[b.name] = true
	}
	base := cmp.Or(name, "part")
	name = base
	for n := 2; taken[name]; n++ {
		name = base + " " + strconv.Itoa(n)
	}
	g.blanks = append(g.blanks, column{name, base, values})
	return "<" + name + ">"
}
