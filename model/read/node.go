package read

import (
	"iter"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/pattern"
	"ringout/model/syntax"
)

// reader turns the text of files into nodes and values, and keeps everything
// that was wrong with them.
type reader struct {
	finding.Log
	sources map[string][]byte // the text of each file, for printing
}

// node is one value of a file: a text, a list, or keys and values. Value holds
// a text just as it was written, so that NO, 012 and 12:30 stay what they are.
type node struct {
	*yaml.Node
	src  *source
	what string // how messages call it
}

// source is where nodes come from: a file, or a pattern in one that a row fills.
type source struct {
	*finding.Source
	filled *pattern.Filled // nil in the text of a file itself
}

// pos returns where the value starts.
func (n node) pos() finding.Pos {
	if n.src.filled != nil {
		return n.src.filled.Pos(n.Node)
	}
	return n.src.Within(n.Line, n.Column)
}

// at returns the place of the length bytes of Value that start at offset, and
// how many characters they are: the whole value, marked by one caret, when it
// is not written in the file as it reads, as in a text of several lines. Both
// ends of the part must lie between characters.
func (n node) at(offset, length int) (pos finding.Pos, chars int) {
	if n.src.filled != nil {
		return n.src.filled.At(n.Node, offset, length)
	}
	pos = n.pos()
	start := n.src.Offset(pos.Line, pos.Col)
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 {
		start++
	}
	end := start + offset + length
	if n.Kind != yaml.ScalarNode || offset < 0 || length < 0 || offset+length > len(n.Value) ||
		end > len(n.src.Data) || string(n.src.Data[start:end]) != n.Value[:offset+length] || strings.Contains(n.Value[:offset+length], "\n") {
		return pos, 0
	}
	pos.Col += utf8.RuneCount(n.src.Data[n.src.Offset(pos.Line, pos.Col) : start+offset])
	return pos, utf8.RuneCountInString(n.Value[offset : offset+length])
}

// wrong makes a finding about the value as a whole.
func (n node) wrong(kind *finding.Kind, format string, args ...any) finding.Finding {
	pos, chars := n.pos(), 1
	if n.src.filled != nil {
		_, chars = n.at(0, len(n.Value))
	} else if n.Kind == yaml.ScalarNode {
		if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0 {
			_, chars = n.at(0, len(n.Value))
		} else {
			chars = n.src.quoted(pos)
		}
	}
	return finding.At(pos, kind, format, args...).Span(chars)
}

// quoted returns how many characters a text in quotes has in its line, with both quotes; 1
// where it goes on in the next line, or does not begin at pos.
func (s *source) quoted(pos finding.Pos) int {
	line := s.Line(pos.Line)
	line = line[min(len(line), s.Offset(pos.Line, pos.Col)-s.Starts[pos.Line-1]):]
	if text := inQuotes.Find(line); text != nil {
		return utf8.RuneCount(text)
	}
	return 1
}

var inQuotes = regexp.MustCompile(`^("([^"\\]|\\.)*"|'([^']|'')*')`)

// end returns the byte offset after a plain scalar, which may go over several
// lines; -1 when the text there is another.
func (n node) end() int {
	pos := n.pos()
	at := n.src.Offset(pos.Line, pos.Col)
	for _, c := range []byte(n.Value) {
		if isBlank(c) {
			continue // folded: any white space will do
		}
		for at < len(n.src.Data) && isBlank(n.src.Data[at]) {
			at++
		}
		if at == len(n.src.Data) || n.src.Data[at] != c {
			return -1
		}
		at++
	}
	return at
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// usable reports whether there is a value to read, and reports that there is
// none. Aliases were reported by parse.
func (r *reader) usable(n node) bool {
	if n.Node == nil || n.Kind == yaml.AliasNode {
		return false
	}
	if syntax.IsNull(n.Node) {
		if n.Value == "" { // else parse reported it
			r.Report(n.wrong(finding.MissingValue, "%s has no value", n.what))
		}
		return false
	}
	return true
}

// is reports whether a value has the shape asked for.
func (r *reader) is(n node, kind yaml.Kind) bool {
	if !r.usable(n) {
		return false
	}
	if n.Kind != kind {
		p := finding.At(n.pos(), finding.WrongShape, "%s is written as %s, but must be %s", n.what, shapes[n.Kind], shapes[kind])
		if c := n.Content; n.Kind == yaml.MappingNode && n.Style&yaml.FlowStyle == 0 && len(c) == 2 && c[1].Kind == yaml.ScalarNode { // a text with a colon in it
			p = r.colonInside(p, n)
		}
		r.Report(p)
		return false
	}
	return true
}

// colonInside hints at a text that is read as a key and its value.
func (r *reader) colonInside(p finding.Finding, n node) finding.Finding {
	start := n.src.Offset(p.Pos.Line, p.Pos.Col)
	end := node{n.Content[1], n.src, ""}.end()
	if end < start || n.Content[1].Style != 0 || strings.Contains(string(n.src.Data[start:end]), "\n") {
		return p.WithHint(finding.Do("quote the value as a whole"))
	}
	whole := string(n.src.Data[start:end])
	return p.Span(utf8.RuneCountInString(whole)).WithHint(finding.Write(syntax.Quoted(whole)))
}

var shapes = map[yaml.Kind]string{
	yaml.ScalarNode:   "one text",
	yaml.SequenceNode: "a list",
	yaml.MappingNode:  "keys and values",
}

// field is one key that a mapping may have. All but the last tells people and
// editors of it: LANGUAGE.md and the schema are made from it. T is what the
// mapping describes; write is the other way of read, see Values.
type field[T any] struct {
	name    string
	is      *shape
	without string // what holds without the key; asked where it must be there
	means   string
	example string
	read    func(r *plantReader, t T, n node)
	write   func(w *writer, t T)
}

const asked = "required"

// fields are the keys of one kind of mapping.
type fields[T any] []field[T]

// replaced are keys that were taken out, and those that took their place.
var replaced = map[string][]string{"copper temperature": {"hottest copper", "copper on test", "terminals on test"}}

// read reads a mapping: the values in the order of the text. what names the
// mapping in messages, as in "cable type 24-pair"; empty keeps the name of n.
// It returns false when n is no mapping.
func (fs fields[T]) read(r *plantReader, n node, what string, t T) bool {
	if what != "" {
		n.what = what
	}
	if !r.is(n, yaml.MappingNode) {
		return false
	}
	seen := make([]bool, len(fs))
	var unknown, values []node
next:
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := node{n.Content[i], n.src, n.what}
		for j := range fs {
			if f := &fs[j]; f.name == key.Value {
				seen[j] = true
				f.read(r, t, node{n.Content[i+1], n.src, finding.Quote(f.name)})
				continue next
			}
		}
		unknown, values = append(unknown, key), append(values, node{n.Content[i+1], n.src, ""})
	}
	for i, key := range unknown {
		var free []string // a key that is there already was not meant twice, nor one for values of another shape
		for j, f := range fs {
			if !seen[j] && f.is.takes(values[i].Kind) {
				free = append(free, f.name)
			}
		}
		p := key.wrong(finding.UnknownKey, "%s is not a key of %s", finding.Quote(key.Value), n.what)
		if now := replaced[key.Value]; fs.has(now) {
			p.Text = finding.Quote(key.Value) + " is no longer a key"
			p = p.WithHint(finding.Do("use %s", finding.AnyOf(now)))
		} else if near := finding.Nearest(key.Value, free); near != "" {
			p = p.WithHint(finding.Write(near))
		}
		r.Report(p)
	}
	for j, f := range fs {
		if f.without == asked && !seen[j] {
			r.Errorf(n.pos(), finding.MissingKey, "%s lacks the key %s", n.what, finding.Quote(f.name))
		}
	}
	return true
}

// has reports whether keys are among the fields; false for none.
func (fs fields[T]) has(keys []string) bool {
	return len(keys) > 0 && slices.ContainsFunc(fs, func(f field[T]) bool { return f.name == keys[0] })
}

// entries goes through a mapping whose keys are names given by the user, in the
// order of the text. what is the kind of thing named; messages call an entry
// by kind and name, as in cable "W-21".
func (r *reader) entries(n node, what string) iter.Seq2[node, node] {
	return func(yield func(key, value node) bool) {
		if !r.is(n, yaml.MappingNode) {
			return
		}
		for i := 0; i+1 < len(n.Content); i += 2 {
			name := what + " " + finding.Quote(n.Content[i].Value)
			if letters := utf8.RuneCountInString(n.Content[i].Value); letters > longestName {
				r.Report(node{n.Content[i], n.src, name}.wrong(finding.LongName, "%s has %d letters; maximum %d", name, letters, longestName))
			}
			if !yield(node{n.Content[i], n.src, name}, node{n.Content[i+1], n.src, name}) {
				return
			}
		}
	}
}

// list returns the items of a list; one text is a list of one. what names one
// item in messages; empty keeps the name of n.
func (r *reader) list(n node, what string) []node {
	if !r.usable(n) {
		return nil
	}
	if n.Kind == yaml.MappingNode && !r.is(n, yaml.SequenceNode) {
		return nil
	}
	if what == "" {
		what = n.what
	}
	if n.Kind == yaml.ScalarNode {
		return []node{{n.Node, n.src, what}}
	}
	items := make([]node, len(n.Content))
	for i, item := range n.Content {
		items[i] = node{item, n.src, what}
	}
	return items
}

// text reads a text as it was written; "" with a finding when there is none.
func (r *reader) text(n node) string { return r.textUpTo(n, mostText) }

func (r *reader) textUpTo(n node, most int) string {
	if !r.is(n, yaml.ScalarNode) {
		return ""
	}
	if strings.TrimSpace(n.Value) == "" {
		r.Report(n.wrong(finding.MissingValue, "%s has no value", n.what))
		return ""
	}
	for _, c := range n.Value { // raw ones are found by parse; these were written as escapes
		if c != '\n' && c != '\t' && (unicode.IsControl(c) || unicode.Is(unicode.Cf, c)) {
			r.Report(n.wrong(finding.ControlCharacter, "%s holds the invisible character %U", n.what, c))
			return ""
		}
	}
	s := folded(n.Value)
	if utf8.RuneCountInString(s) > most {
		r.tooMany(n.pos(), most, "letters of "+n.what)
		return ""
	}
	return s
}

// pointed is a number with a decimal comma or with digits in groups.
var pointed = regexp.MustCompile(`^([+-]?\d+)([,_])(\d+)(.*)$`)

// whole reads a whole number from least to most; 0 with a finding.
func (r *reader) whole(n node, least, most int) int {
	s := r.text(n)
	if s == "" {
		return 0
	}
	m := model.Digits.FindStringSubmatch(s)
	if m == nil || m[2] != "" || strings.Contains(m[1], ".") {
		p := n.wrong(finding.BadNumber, "%s must be a whole number, not %s", n.what, finding.Quote(s))
		if g := pointed.FindStringSubmatch(s); g != nil && g[4] == "" && (g[2] == "_" || len(g[3]) == 3) {
			p = p.WithHint(finding.Write(g[1] + g[3]))
		}
		r.Report(p)
		return 0
	}
	v, err := strconv.Atoi(m[1])
	if err != nil || v < least || v > most {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be from %d to %d, not %s", n.what, least, most, finding.Quote(s)))
		return 0
	}
	return v
}

// number reads a number in plain digits with a decimal point; 0 with a finding.
func (r *reader) number(n node) float64 {
	s := r.text(n)
	if s == "" {
		return 0
	}
	v, rest, ok := model.SplitNumber(s)
	if !ok || rest != "" {
		r.Report(withPoint(n.wrong(finding.BadNumber, "%s must be a number, not %s", n.what, finding.Quote(s)), s))
		return 0
	}
	return v
}

// withPoint hints at the number meant by one with a comma or groups. Three
// digits behind a comma may be a group or a fraction.
func withPoint(p finding.Finding, s string) finding.Finding {
	m := pointed.FindStringSubmatch(s)
	switch {
	case m == nil:
		return p
	case m[2] == "," && len(m[3]) == 3:
		return p.WithHint(finding.Write(m[1]+m[3]+m[4], m[1]+"."+m[3]+m[4]))
	case m[2] == ",":
		return p.WithHint(finding.Write(m[1] + "." + m[3] + m[4]))
	}
	return p.WithHint(finding.Write(m[1] + m[3] + m[4]))
}

// unit is how a unit may be written, and its name. Of units with one name the
// first is the one that hints show.
type unit struct {
	written, name string
}

type units []unit

// quantity reads a number and its unit, with a blank between them or none. A
// unit written "" stands for a bare number. It returns the name of the unit;
// 0 and "" with a finding.
func (r *reader) quantity(n node, units ...unit) (value float64, name string) {
	s := r.text(n)
	if s == "" || len(units) == 0 {
		return 0, ""
	}
	value, rest, ok := model.SplitNumber(s)
	if !ok || strings.HasPrefix(rest, ",") || strings.HasPrefix(rest, "_") {
		r.Report(withPoint(n.wrong(finding.BadNumber, "%s must be a number and a unit, not %s", n.what, finding.Quote(s)), s))
		return 0, ""
	}
	rest = strings.ReplaceAll(rest, "\u03BC", "µ") // the Greek letter for the sign
	for _, u := range units {
		if u.written == rest {
			return value, u.name
		}
	}
	number := model.Digits.FindStringSubmatch(strings.TrimSpace(s))[1]
	if rest == "" {
		r.Report(n.wrong(finding.MissingUnit, "%s needs a unit", n.what).WithHint(finding.Write(withUnits(number+" ", units)...)))
		return 0, ""
	}
	p := finding.At(n.pos(), finding.UnknownUnit, "%s is not a unit of %s", finding.Quote(rest), n.what).
		WithHint(finding.Do("give the value in %s", finding.AnyOf(withUnits("", units))))
	if i := strings.LastIndex(n.Value, rest); i >= 0 {
		if p.Pos, p.Len = n.at(i, len(rest)); p.Len > 0 {
			p.Hint = finding.Write(unitMeant(rest, units)).Or(p.Hint)
		}
	}
	r.Report(p)
	return 0, ""
}

// withUnits puts each unit behind a number, the first way of writing each.
func withUnits(number string, units []unit) []string {
	var all []string
	seen := map[string]bool{}
	for _, u := range units {
		if u.written != "" && !seen[u.name] {
			seen[u.name] = true
			all = append(all, number+u.written)
		}
	}
	return all
}

// spelt are other ways to write a unit, without case, blanks and points.
var spelt = map[string]string{
	"metre": "m", "metres": "m", "meter": "m", "meters": "m", "mtr": "m", "kilometre": "km", "kilometres": "km", "kilometers": "km",
	"foot": "ft", "feet": "ft", "'": "ft", "mm^2": "mm2", "sqmm": "mm2", "ohms": "ohm", "kohms": "kohm", "megohm": "Mohm", "megohms": "Mohm",
	"volt": "V", "volts": "V", "vdc": "V DC", "vac": "V AC", "amp": "A", "amps": "A", "milliamps": "mA",
	"percent": "%", "degc": "°C", "celsius": "°C", "degf": "°F", "fahrenheit": "°F", "kelvin": "K",
}

// unitMeant is the unit that is the written one in other letters; "" when it
// is another unit, behind which the same number would be another value.
func unitMeant(written string, units []unit) string {
	bare := func(s string) string { return strings.ToLower(strings.NewReplacer(" ", "", ".", "").Replace(s)) }
	meant := bare(written)
	if s := spelt[meant]; s != "" {
		meant, written = bare(s), s
	}
	for _, u := range units {
		// m is a thousandth and M a million.
		if u.written != "" && bare(u.written) == meant && (prefixM(u.written) == prefixM(written) || len(meant) == 1) {
			return u.written
		}
	}
	return ""
}

// prefixM is the m or M before a unit; "" without one.
func prefixM(u string) string {
	if u[0] == 'm' || u[0] == 'M' {
		return u[:1]
	}
	return ""
}

// yes reads yes, no, true or false in any case; false with a finding.
func (r *reader) yes(n node) bool {
	s := r.text(n)
	switch strings.ToLower(s) {
	case "yes", "true":
		return true
	case "", "no", "false":
		return false
	}
	r.Report(n.wrong(finding.UnknownWord, "%s must be yes or no, not %s", n.what, finding.Quote(s)))
	return false
}

// oneOf reads one of the words, written as they are here; "" with a finding.
func (r *reader) oneOf(n node, words ...string) string {
	s := r.text(n)
	if s == "" {
		return ""
	}
	for _, w := range words {
		if s == w {
			return w
		}
	}
	p := n.wrong(finding.UnknownWord, "%s must be %s, not %s", n.what, finding.AnyOf(words), finding.Quote(s))
	// In a short word one slip makes another value: class D is not class A.
	if near := finding.Nearest(s, words); near != "" && (utf8.RuneCountInString(s) > 3 || finding.Loose(near) == finding.Loose(s)) {
		p = p.WithHint(finding.Write(near))
	}
	r.Report(p)
	return ""
}

// nearest is a hint of the word that was meant by the written one, or else of all words.
func nearest(written string, words []string) finding.Hint {
	if len(words) == 0 {
		return finding.Hint{}
	}
	return finding.Write(finding.Nearest(written, words)).Or(finding.Do("use %s", finding.AnyOf(words)))
}
