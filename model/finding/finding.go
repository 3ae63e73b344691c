// Package finding holds what is found wrong in a plant: every kind of finding with its code,
// what it means and when it occurs, the place in the text, and how findings print.
package finding

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/rivo/uniseg"

	"ringout/model/english"
)

// Pos is where a value was written. Lines and columns count from 1, columns
// in characters. Line 0 stands for the whole file, an empty File for no place
// in any text.
type Pos struct {
	File      string
	Line, Col int
	Sheet     string   // of a workbook, whose row and column Line and Col then are; "" elsewhere
	Made      *Related // of text that a pattern makes of a row: the other of the two places; nil elsewhere
}

// Right returns the place n characters further on its line, as far as that is known.
func (p Pos) Right(n int) Pos {
	if p.Made == nil {
		p.Col += n
	}
	return p
}

// String writes the place as file:line:col, leaving out what is not known, and that of
// a cell of a workbook as file:sheet!C7.
func (p Pos) String() string {
	switch {
	case p.Sheet != "":
		return fmt.Sprintf("%s:%s!%s%d", oneLine(p.File), oneLine(p.Sheet), columnLetters(p.Col), p.Line)
	case p.Line == 0:
		return oneLine(p.File)
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", oneLine(p.File), p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", oneLine(p.File), p.Line, p.Col)
}

// columnLetters names a column of a sheet as ECMA-376 part 1, 18.18.7 does: A to Z, then AA.
func columnLetters(n int) string {
	s := ""
	for ; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

func (p Pos) compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Sheet, q.Sheet), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
}

// Severity is whether a finding stops the drawing.
type Severity uint8

// Severities.
const (
	Error   Severity = iota // drawing stops
	Warning                 // drawing goes on
)

func (s Severity) String() string { return [...]string{Error: "error", Warning: "warning"}[s] }

// Finding is one finding of the reader, the desk check or the layout.
type Finding struct {
	Severity Severity
	Code     string // of its kind, such as core-used-twice
	Pos      Pos
	Len      int // characters under the caret line; 0 counts as 1
	Text     string
	Also     []Related // the other places that take part
	Hint     Hint      // what to do about it, when that is known
	of       message
}

// Related is another place that takes part in a finding.
type Related struct {
	Pos  Pos
	Text string
	of   *message // nil where Text is said as it is
}

// Hint is what to do about a finding; the zero Hint is none. It names parts of the plant
// at hand or none: another's tag or value would be taken over.
type Hint struct {
	Text   string
	Advice bool     // to be done; else to be written as it stands
	Each   []string // of what is to be written: the texts of which each mends it
	of     message
}

// message is what a text is made of: a format of ours, which is said in the words of the
// plant, and what stands in it, which stays as it is unless it is English of ours too. In
// the format, keys of the language stand in quotes, and stay.
type message struct {
	format string
	args   []any
}

// Phrase is a part of a message that is made of a format of ours like the whole.
type Phrase struct{ of message }

// Words is a phrase for a message.
func Words(format string, args ...any) Phrase { return Phrase{message{format, args}} }

func (p Phrase) String() string { return fmt.Sprintf(p.of.format, p.of.args...) }

// said is the text in the words of a plant, or as it was where it is made of nothing.
func (m message) said(was string, say func(english.Text) string) string {
	if m.format == "" {
		return was
	}
	parts := strings.Split(m.format, `"`)
	for i := 0; i < len(parts); i += 2 {
		parts[i] = say(english.Text(parts[i]))
	}
	args := slices.Clone(m.args)
	for i, arg := range args {
		switch arg := arg.(type) {
		case english.Text:
			args[i] = say(arg)
		case Phrase:
			args[i] = arg.of.said("", say)
		}
	}
	return fmt.Sprintf(strings.Join(parts, `"`), args...)
}

// Say puts findings into the words of their plant, once, before they are sorted.
func (ps Findings) Say(say func(english.Text) string) Findings {
	for i := range ps {
		p := &ps[i]
		if p.of.format != "" && p.Text != fmt.Sprintf(p.of.format, p.of.args...) {
			p.of = message{} // it was given another text since
		}
		p.Text, p.of = p.of.said(p.Text, say), message{}
		p.Hint.Text, p.Hint.of = p.Hint.of.said(p.Hint.Text, say), message{}
		for j, also := range p.Also {
			if also.of != nil {
				p.Also[j] = Related{Pos: also.Pos, Text: also.of.said(also.Text, say)}
			}
		}
	}
	return ps
}

// Write is a hint of text to be put in the place of all that the finding marks; of
// several texts, each mends it. An empty one is no hint.
func Write(texts ...string) Hint {
	texts = slices.DeleteFunc(texts, func(s string) bool { return s == "" })
	return Hint{Text: strings.Join(texts, "; or "), Each: texts}
}

// Do is a hint of advice.
func Do(format string, args ...any) Hint {
	return Hint{Text: fmt.Sprintf(format, args...), Advice: true, of: message{format, args}}
}

// Or returns h, or another hint where h is none.
func (h Hint) Or(other Hint) Hint {
	if h.Text == "" {
		return other
	}
	return h
}

// String writes the hint as it prints; "" for none.
func (h Hint) String() string {
	switch {
	case h.Text == "":
		return ""
	case h.Advice:
		return "do: " + oneLine(h.Text)
	}
	return "write: " + oneLine(h.Text)
}

// At makes a finding of a kind, in the severity of that kind. Every finding is made
// by it. Of text that a pattern makes it names both places.
func At(pos Pos, kind *Kind, format string, args ...any) Finding {
	p := Finding{Severity: kind.Severity, Pos: pos, Code: kind.Code, Text: fmt.Sprintf(format, args...), of: message{format, args}}
	if pos.Made != nil {
		p.Also = []Related{*pos.Made}
	}
	return p
}

// WithHint returns p with what to do about it.
func (p Finding) WithHint(h Hint) Finding {
	p.Hint = h
	return p
}

// WithAlso returns p with one more place that takes part.
func (p Finding) WithAlso(pos Pos, format string, args ...any) Finding {
	p.Also = append(slices.Clip(p.Also), Also(pos, format, args...))
	return p
}

// Also is another place that takes part in a finding, with what it has to do with it.
func Also(pos Pos, format string, args ...any) Related {
	return Related{Pos: pos, Text: fmt.Sprintf(format, args...), of: &message{format, args}}
}

// Span returns p with n characters marked.
func (p Finding) Span(n int) Finding {
	p.Len = n
	return p
}

// Warning returns p as a warning: the milder case of its kind.
func (p Finding) Warning() Finding {
	p.Severity = Warning
	return p
}

// String writes the headline: place, text and code.
func (p Finding) String() string {
	var b strings.Builder
	if at := p.Pos.String(); at != "" {
		b.WriteString(at + ": ")
	}
	if p.Severity == Warning {
		b.WriteString("warning: ")
	}
	fmt.Fprintf(&b, "%s [%s]", oneLine(p.Text), p.Code)
	return b.String()
}

func (p Finding) compare(q Finding) int {
	return cmp.Or(
		p.Pos.compare(q.Pos),
		cmp.Compare(p.Severity, q.Severity),
		cmp.Compare(p.Code, q.Code),
		cmp.Compare(p.Text, q.Text),
		cmp.Compare(p.Len, q.Len),
		cmp.Compare(p.Hint.String(), q.Hint.String()),
		slices.CompareFunc(p.Also, q.Also, func(a, b Related) int {
			return cmp.Or(a.Pos.compare(b.Pos), cmp.Compare(a.Text, b.Text))
		}),
	)
}

// Findings is a list of findings.
type Findings []Finding

// Sort returns the findings by place, severity, code and text, each only once;
// nil when there are none. An error at one place of a pattern is told of the first row
// that it makes, with how many more have it. The receiver stays as it is.
func (ps Findings) Sort() Findings {
	if len(ps) == 0 {
		return nil
	}
	sorted := slices.SortedFunc(slices.Values(ps), Finding.compare)
	kept, more := sorted[:1], 0
	told := func() {
		if last := &kept[len(kept)-1]; more > 0 {
			last.Text, more = fmt.Sprintf("%s (and in %s)", last.Text, Count(more, "more row")), 0
		}
	}
	for _, p := range sorted[1:] {
		switch last := kept[len(kept)-1]; {
		case p.compare(last) == 0:
		case last.inAllRows(p):
			more++
		default:
			told()
			kept = append(kept, p)
		}
	}
	told()
	return kept
}

// inAllRows reports whether q says of another row what p says: both stand at the same
// place of a pattern, or of what its rows have in common. Warnings may have figures of
// their row; only those that are the same in all else are one.
func (p Finding) inAllRows(q Finding) bool {
	if p.Pos.Made == nil || q.Pos.Made == nil || p.Code != q.Code || p.Severity != q.Severity || p.Pos.compare(q.Pos) != 0 {
		return false
	}
	return p.Severity == Error || p.Text == q.Text && p.Len == q.Len && p.Hint.String() == q.Hint.String()
}

// Log keeps what is found while a text is read.
type Log struct{ Findings Findings }

// Report keeps a finding.
func (f *Log) Report(p Finding) { f.Findings = append(f.Findings, p) }

// Errorf keeps an error that needs no more than a place and a text.
func (f *Log) Errorf(pos Pos, kind *Kind, format string, args ...any) {
	f.Report(At(pos, kind, format, args...))
}

// Errors counts the findings that stop the drawing.
func (ps Findings) Errors() int { return ps.count(Error) }

// Warnings counts the findings that do not stop the drawing.
func (ps Findings) Warnings() int { return ps.count(Warning) }

func (ps Findings) count(s Severity) int {
	n := 0
	for _, p := range ps {
		if p.Severity == s {
			n++
		}
	}
	return n
}

// Print writes each finding in the order of the list: the headline, the line of
// text with carets under the place, the other places and the hint. sources holds the
// text of each file by name; a file that is missing there is printed without its
// line. The error is that of w.
func (ps Findings) Print(w io.Writer, sources map[string][]byte) error {
	texts := map[string]*Source{}
	for _, p := range ps {
		var b strings.Builder
		fmt.Fprintln(&b, p)
		if data, ok := sources[p.Pos.File]; ok && p.Pos.Sheet == "" {
			if texts[p.Pos.File] == nil {
				texts[p.Pos.File] = NewSource(p.Pos.File, data)
			}
			writeExcerpt(&b, texts[p.Pos.File], p)
		}
		for _, n := range p.Also {
			fmt.Fprintf(&b, "  also %s: %s\n", n.Pos, oneLine(n.Text))
		}
		if hint := p.Hint.String(); hint != "" {
			fmt.Fprintf(&b, "  %s\n", hint)
		}
		if _, err := io.WriteString(w, b.String()); err != nil {
			return err
		}
	}
	return nil
}

// writeExcerpt writes the line of p and the carets under it. Tabs are kept in
// both, so that they line up wherever the tab stops are.
func writeExcerpt(b *strings.Builder, text *Source, p Finding) {
	if p.Pos.Col < 1 || p.Pos.Line < 1 || p.Pos.Line > len(text.Starts) {
		return
	}
	// A line of one huge list would flood the screen once for each finding.
	const before, after = 60, 100
	line, at := text.Line(p.Pos.Line), text.Offset(p.Pos.Line, p.Pos.Col)-text.Starts[p.Pos.Line-1]
	left, right := []rune(string(line[max(0, at-4*before):at])), []rune(string(line[at:min(len(line), at+4*after)]))
	head, tail := "", ""
	if len(left) > before {
		left, head = left[len(left)-before:], "…"
	}
	if len(right) > after {
		right, tail = right[:after], "…"
	}
	mark := right[:min(max(p.Len, 1), len(right))]
	gutter := fmt.Sprintf("%5d | ", p.Pos.Line)
	fmt.Fprintf(b, "%s%s%s%s\n", gutter, head, visible(string(left)+string(right)), tail)
	fmt.Fprintf(b, "%s| %s%s%s\n", strings.Repeat(" ", len(gutter)-2), strings.Repeat(" ", len([]rune(head))),
		blanks(visible(string(left))), strings.Repeat("^", max(1, uniseg.StringWidth(visible(string(mark))))))
}

// blanks returns white space as wide as s, with the tabs of s.
func blanks(s string) string {
	var b strings.Builder
	state := -1
	for s != "" {
		var cluster string
		var width int
		cluster, s, width, state = uniseg.FirstGraphemeClusterInString(s, state)
		if cluster == "\t" {
			b.WriteByte('\t')
		} else {
			b.WriteString(strings.Repeat(" ", width))
		}
	}
	return b.String()
}

// visible replaces what would move the cursor or turn the direction of a
// terminal by a visible mark of width one.
func visible(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && (unicode.IsControl(r) || Steers(r)) {
			return utf8.RuneError
		}
		return r
	}, s)
}

// Steers reports whether a character is invisible and changes what the reader of a text
// sees: line and paragraph separators, direction marks, a stray byte order mark.
func Steers(r rune) bool {
	return r == 0x2028 || r == 0x2029 || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0xFEFF
}

// oneLine keeps a message on its line, whatever was quoted in it.
func oneLine(s string) string {
	return strings.ReplaceAll(visible(s), "\t", " ")
}

// Count counts things: 1 loop, 2 loops.
func Count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// Quote writes a value in a message: between double quotes, cut when long.
func Quote(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "…"
	}
	if strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || r == '"' }) {
		return strconv.Quote(s)
	}
	return `"` + s + `"`
}
