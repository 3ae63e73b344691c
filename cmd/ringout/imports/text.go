package imports

import (
	"encoding/json"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/wiring"
	"ringout/model/pattern"
)

// This file prints YAML: what is short on one line, all else under each other.

// Columns that lines have: what may be on one line up to the first, a long text up to the
// other.
const (
	shortLine = 100
	longLine  = 120
)

// plain is a value that YAML takes as it stands, with the blanks of a pattern.
var plain = regexp.MustCompile(`^(?:[\p{L}\p{N}]|<\p{L})[\p{L}\p{N}_./²°µΩ%()+<>-]*( [\p{L}\p{N}_./²°µΩ%()+<>-]+)*$`)

// quoted is s as a value or key of YAML.
func quoted(s string) string {
	if plain.MatchString(s) && !strings.EqualFold(s, "null") { // that is none
		return s
	}
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		return strconv.Quote(s)
	}
	return strings.TrimSpace(b.String())
}

// mapping is an object whose keys stand under each other.
func mapping() *yaml.Node { return &yaml.Node{Kind: yaml.MappingNode} }

// shortMapping is one that stands on one line where that has room for it.
func shortMapping() *yaml.Node { return &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle} }

func scalar(s string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: s} }

// listOf is a list on one line, without the items that are empty.
func listOf(items []string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
	for _, s := range items {
		if s = strings.TrimSpace(s); s != "" {
			n.Content = append(n.Content, scalar(s))
		}
	}
	return n
}

// put adds a key with its value, which it returns.
func put(n *yaml.Node, key string, value *yaml.Node) *yaml.Node {
	n.Content = append(n.Content, scalar(key), value)
	return value
}

// remarkOn adds a comment of one line.
func remarkOn(n *yaml.Node, words string) {
	n.Content = append(n.Content, scalar(words), &yaml.Node{Kind: yaml.ScalarNode, Tag: pattern.Comment})
}

// missing asks for a value that no list tells.
func missing(n *yaml.Node, key string) {
	n.Content = append(n.Content, scalar(key), &yaml.Node{Kind: yaml.ScalarNode, Tag: pattern.Comment, Value: wiring.NotGiven})
}

// printed is an object as text.
func printed(n *yaml.Node) string {
	var b strings.Builder
	for _, line := range lines(n, 0) {
		b.WriteString(line + "\n")
	}
	return b.String()
}

// lines are those of an object or a list at an indent, which they do not have yet.
func lines(n *yaml.Node, indent int) (all []string) {
	if n.Kind == yaml.SequenceNode {
		for _, item := range n.Content {
			if s, ok := inline(item); ok {
				all = append(all, "- "+wrapped(s, item, indent+2))
				continue
			}
			for i, line := range lines(item, indent+2) {
				all = append(all, []string{"- ", "  "}[min(i, 1)]+line)
			}
		}
		return all
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		all = append(all, entry(n.Content[i].Value, n.Content[i+1], indent)...)
	}
	return all
}

// entry are the lines of one key.
func entry(key string, value *yaml.Node, indent int) []string {
	if value.Tag == pattern.Comment {
		if value.Value != "" {
			key += ": " + value.Value
		}
		return []string{"# " + key}
	}
	key = quoted(key) + ":"
	s, ok := inline(value)
	switch {
	case ok && (value.Kind == yaml.ScalarNode || len(value.Content) == 0):
		return []string{key + " " + wrapped(s, value, indent+len(key)+1)}
	case ok && indent+len([]rune(key+s))+1 <= shortLine:
		return []string{key + " " + s}
	case value.Kind == yaml.MappingNode && bare(value):
		key += " {}"
	}
	all := []string{key}
	for _, line := range lines(value, indent+2) {
		all = append(all, "  "+line)
	}
	return all
}

// bare reports whether an object has comments alone.
func bare(n *yaml.Node) bool {
	for i := 1; i < len(n.Content); i += 2 {
		if n.Content[i].Tag != pattern.Comment {
			return false
		}
	}
	return true
}

// inline is a value on one line; false where it has to stand on several.
func inline(n *yaml.Node) (s string, ok bool) {
	if n.Kind == yaml.ScalarNode {
		return quoted(n.Value), n.Tag != pattern.Comment
	}
	var all []string
	for i := 0; i < len(n.Content); i++ {
		item, ok := inline(n.Content[i])
		if n.Kind == yaml.MappingNode {
			i++
			var value string
			value, ok = inline(n.Content[i])
			item += ": " + value
		}
		if !ok {
			return "", false
		}
		all = append(all, item)
	}
	ok = n.Style == yaml.FlowStyle || len(all) == 0
	if s = strings.Join(all, ", "); n.Kind == yaml.MappingNode {
		return "{" + s + "}", ok
	}
	return "[" + s + "]", ok
}

// wrapped parts a long text at its blanks, which YAML reads as one again.
func wrapped(s string, n *yaml.Node, indent int) string {
	if n.Kind != yaml.ScalarNode || indent+len([]rune(s)) <= longLine {
		return s
	}
	if !strings.HasPrefix(s, `"`) {
		s = `"` + s + `"`
	}
	var b strings.Builder
	column := indent
	for i, word := range strings.Split(s, " ") {
		wide := len([]rune(word))
		// A line break in quotes takes the blanks beside it away: only between two words.
		apart := i > 0 && word != "" && !strings.HasSuffix(b.String(), " ") && b.String() != `"`
		switch {
		case i == 0:
		case apart && column+1+wide > longLine:
			b.WriteString("\n" + strings.Repeat(" ", indent))
			column = indent
		default:
			b.WriteString(" ")
			column++
		}
		b.WriteString(word)
		column += wide
	}
	return b.String()
}
