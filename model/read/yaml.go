package read

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"ringout/model/finding"
	"ringout/model/syntax"
)

// parse reads the text of one file and reports everything that is wrong with
// it as YAML: what is left of it can be walked without meeting an alias, a tag,
// a key twice or a key that is no text. ok is false when there is nothing to
// walk.
func (r *reader) parse(file string, data []byte) (root node, ok bool) {
	src := &source{Source: finding.NewSource(file, data)}
	if r.sources == nil {
		r.sources = map[string][]byte{}
	}
	r.sources[file] = src.Data
	value := syntax.Parse(&r.Log, src.Source, data)
	if value == nil {
		return node{}, false
	}
	root = node{Node: value, src: src, what: "the file"}
	return root, r.tidy(root, 1)
}

// tidy reports what our language has no use for, and takes it out of the tree.
// It returns false when the tree is too deep to walk.
func (r *reader) tidy(n node, depth int) bool {
	if depth > deepest {
		r.Errorf(n.pos(), finding.DeepNesting, "more than %d levels of nesting here", deepest)
		n.Content = nil
		return false
	}
	if n.Anchor != "" {
		r.Report(finding.At(n.pos(), finding.AliasUsed, "anchors are not supported: &%s", n.Anchor).
			WithHint(finding.Do(`write the value itself at each place; quote a value that starts with "&"`)))
	}
	if n.Style&yaml.TaggedStyle != 0 {
		r.Report(finding.At(n.pos(), finding.TagUsed, "YAML tags are not supported: %s", n.Tag).
			WithHint(finding.Do(`remove it; quote a value that starts with "!"`)))
		if n.Style &^= yaml.TaggedStyle; n.Kind == yaml.ScalarNode {
			n.Tag = "!!str"
		}
	}
	ok := true
	switch n.Kind {
	case yaml.AliasNode:
		r.Report(finding.At(n.pos(), finding.AliasUsed, "aliases are not supported: *%s", n.Value).Span(1 + utf8.RuneCountInString(n.Value)).
			WithHint(finding.Do(`write the value itself; quote a value that starts with "*"`)))
	case yaml.ScalarNode:
		r.hash(n)
		r.letters(n, false)
		r.null(n, "value")
	case yaml.SequenceNode:
		for _, item := range n.Content {
			ok = r.tidy(node{Node: item, src: n.src}, depth+1) && ok
		}
	case yaml.MappingNode:
		first := make(map[string]finding.Pos, len(n.Content)/2)
		kept := n.Content[:0]
		for i := 0; i+1 < len(n.Content); i += 2 {
			key, value := node{Node: n.Content[i], src: n.src}, node{Node: n.Content[i+1], src: n.src}
			if r.key(key, first) {
				kept = append(kept, key.Node, value.Node)
			}
			ok = r.tidy(value, depth+1) && ok
		}
		n.Content = kept
	}
	return ok
}

// key checks one key of a mapping against those before it.
func (r *reader) key(key node, first map[string]finding.Pos) bool {
	pos := key.pos()
	switch {
	case key.Kind != yaml.ScalarNode:
		r.Errorf(pos, finding.ComplexKey, "key is not plain text")
		return false
	case key.Value == "<<" && key.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0:
		r.Report(finding.At(pos, finding.AliasUsed, `merge keys are not supported: "<<"`).Span(2).WithHint(finding.Do("write the keys themselves")))
		return false
	case strings.TrimSpace(key.Value) == "":
		r.Errorf(pos, finding.EmptyKey, "the key is empty")
		return false
	}
	if strings.ContainsFunc(key.Value, func(c rune) bool { return unicode.IsControl(c) || unicode.Is(unicode.Cf, c) }) {
		r.Report(key.wrong(finding.ControlCharacter, "the key %s holds an invisible character", finding.Quote(key.Value)))
		return false
	}
	r.letters(key, true)
	r.null(key, "key")
	if key.Anchor != "" || key.Style&yaml.TaggedStyle != 0 {
		r.tidy(key, 1)
	}
	if there, twice := first[key.Value]; twice {
		r.Report(finding.At(pos, finding.KeyTwice, "%s is written twice", finding.Quote(key.Value)).
			Span(utf8.RuneCountInString(key.Value)).WithAlso(there, "first written here"))
		return false
	}
	first[key.Value] = pos
	return true
}

// null reports the words that YAML takes for no value, wherever one stands alone. A
// key keeps its letters, so that what names it is not reported too.
func (r *reader) null(n node, what string) {
	if syntax.IsNull(n.Node) && n.Value != "" {
		r.Report(n.wrong(finding.NullUsed, "YAML reads the %s %s as no value", what, n.Value).WithHint(finding.Write(syntax.Quoted(n.Value))))
	}
}

// hash warns of a # that ends a plain value and was hardly meant to: a comment
// proper has a blank, or another #, after its #.
func (r *reader) hash(n node) {
	if n.Style != 0 || n.src.filled != nil {
		return
	}
	end := n.end()
	if end < 0 {
		return
	}
	start := end
	for start < len(n.src.Data) && (n.src.Data[start] == ' ' || n.src.Data[start] == '\t') {
		start++
	}
	if start == end || start+1 >= len(n.src.Data) || n.src.Data[start] != '#' || n.src.Data[start+1] == '#' || isBlank(n.src.Data[start+1]) {
		return
	}
	at := n.src.Pos(start)
	lost := string(bytes.TrimRight(n.src.Data[start:n.src.Starts[at.Line-1]+len(n.src.Line(at.Line))], " \t"))
	if i := strings.Index(lost, " #"); i > 0 {
		lost = strings.TrimRight(lost[:i], " \t") // a comment proper follows
	}
	text := fmt.Sprintf("%s is a comment, so the value is empty", finding.Quote(lost))
	whole := lost
	if n.Value != "" {
		text = fmt.Sprintf("%s is a comment, so the value is only %s", finding.Quote(lost), finding.Quote(n.Value))
		whole = n.Value + " " + lost
	}
	p := finding.At(at, finding.HashEatsValue, "%s", text).Span(utf8.RuneCountInString(lost)).WithHint(finding.Do("quote the value with its #"))
	if begin := n.pos(); n.Value == "" {
		p.Hint = finding.Write(syntax.Quoted(whole))
	} else if begin.Line == at.Line {
		p.Pos = begin
		p = p.Span(at.Col - begin.Col + p.Len).WithHint(finding.Write(syntax.Quoted(whole)))
	}
	r.Report(p)
}

// IsPlantText reports whether a text is a file of a plant, whatever its name: its
// outermost block names the plant, or holds a block of things that a plant has.
func IsPlantText(text []byte) bool {
	var doc yaml.Node
	if yaml.Unmarshal(text, &doc) != nil || len(doc.Content) == 0 || doc.Content[0].Kind != yaml.MappingNode {
		return false
	}
	block := doc.Content[0].Content
	for i := 0; i+1 < len(block); i += 2 {
		key, value := block[i].Value, block[i+1]
		if key == "plant" || value.Kind == yaml.MappingNode && plantFields.has([]string{key}) {
			return true
		}
	}
	return false
}
