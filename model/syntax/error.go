package syntax

import (
	"bytes"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"ringout/model/finding"
)

// syntaxCases turns what the YAML library says into what to do about it. opened
// means that the line the library names, where the broken thing starts, is the
// better place than the one where it gave up.
var syntaxCases = []struct {
	says, text, hint string
	opened           bool
}{
	{"mapping values are not allowed", `a second ": " on the line, or an indent that fits no line above`, `quote a value that holds ": "`, false},
	{"cannot start any token", "a value cannot start with this character", "quote the value", true},
	{"expected alphabetic or numeric", `a value cannot start with "*" or "&"`, "quote the value", true},
	{"did not find expected ',' or '}'", `a "," or the closing "}" is missing`, `put "," between the keys and "}" at the end`, false},
	{"did not find expected ',' or ']'", `a "," or the closing "]" is missing`, `put "," between the items and "]" at the end`, false},
	{"could not find expected ':'", `a ":" is missing after the key`, "write key: value", true},
	{"did not find expected key", "the indent of this line fits no line above", "put keys of one level below each other", false},
	{"did not find expected '-'", "no item of the list here", `put "- " in front of the item, or use a smaller indent`, false},
	{"block sequence entries are not allowed", "a list cannot start on this line", `put each "- " on its own line, or write [a, b, c]`, false},
	{"mapping keys are not allowed", `a key cannot start with "? "`, "quote the key", false},
	{"unexpected end of stream", "the quote is never closed", "put a closing quote at the end of the value", true},
	{"unexpected document indicator", `the quote is not closed before "---"`, "put a closing quote at the end of the value", true},
	{"unknown escape", "unknown YAML escape between double quotes", "put single quotes around the value", true},
	{"hexdecimal", "an escape between double quotes has too few digits", "put single quotes around the value", true},
	{"character escape code", "an escape between double quotes names no character", "put single quotes around the value", true},
	{"exceeded max depth", "too many levels of nesting", "", false},
	{"tag", `a value cannot start with "!" unless it is quoted`, "quote the value", true},
	{"expected '!'", `a value cannot start with "!" unless it is quoted`, "quote the value", true},
	{"expected '>'", `a value cannot start with "!" unless it is quoted`, "quote the value", true},
	{"tab character", "tab in the indent", "use spaces", true},
	{"indentation indicator", `"|" or ">" starts a block of text here`, "quote the value", true},
	{"expected comment or line break", `"|" or ">" starts a block of text here`, "quote the value", true},
	{"directive", `a line that starts with "%" is a YAML directive`, "quote the text", true},
	{"incompatible YAML", `a line that starts with "%" is a YAML directive`, "remove it", true},
	{"expected <document start>", "the text goes on after its end", "put one document in a file", false},
	{"did not find expected node content", "no value here", "quote the value", false},
}

// The library's line, and the alias it does not know.
var (
	saidLine  = regexp.MustCompile(`^line (\d+): `)
	saidAlias = regexp.MustCompile(`^unknown anchor '(.*)' referenced`)
)

// syntaxError words what stopped the YAML library, at the best place known.
func syntaxError(src *finding.Source, err error) finding.Finding {
	says := strings.TrimPrefix(err.Error(), "yaml: ")
	opened := 1
	if m := saidLine.FindStringSubmatch(says); m != nil {
		opened, _ = strconv.Atoi(m[1])
		says = says[len(m[0]):]
	}
	opened = max(1, min(opened, len(src.Starts)))
	read := readUntil(src)
	if m := saidAlias.FindStringSubmatch(says); m != nil {
		p := finding.At(start(src, read), finding.AliasUsed, "aliases are not supported: *%s", m[1])
		if i := bytes.LastIndex(src.Data[:min(len(src.Data), read+len(m[1])+4)], []byte("*"+m[1])); i >= 0 {
			p.Pos = src.Pos(i)
		}
		return p.Span(1 + utf8.RuneCountInString(m[1])).WithHint(finding.Do(`write the value itself; quote a value that starts with "*"`))
	}
	gaveUp := start(src, read)
	p := finding.At(gaveUp, finding.BadSyntax, "the text is not YAML: %s", says)
	lines := []int{gaveUp.Line}
	for _, c := range syntaxCases {
		if !strings.Contains(says, c.says) {
			continue
		}
		p = finding.At(gaveUp, finding.BadSyntax, "%s", c.text).WithHint(finding.Do("%s", c.hint))
		if strings.Contains(says, "',' or") { // the line that opened the bracket may hide its end
			lines = append(lines, opened, opened+1)
		}
		if strings.Contains(says, "expected key") { // the library reads on before it gives up
			lines = append(lines, start(src, src.Starts[gaveUp.Line-1]).Line)
		}
		if c.opened {
			p.Pos = textStart(src, opened)
			lines = []int{opened}
		}
		if strings.Contains(c.text, "quote is") || strings.Contains(c.text, "double quotes") {
			return p // the line as a whole is in doubt, not one value
		}
		break
	}
	for _, n := range lines {
		if s, ok := suspect(src, n); ok {
			return s
		}
	}
	return p
}

// readUntil parses once more, a byte at a time, and returns how far the library
// had read when it gave up: it tells where it was only for some mistakes.
func readUntil(s *finding.Source) int {
	slow := &byteReader{data: s.Data}
	decoder := yaml.NewDecoder(slow)
	for {
		var n yaml.Node
		if decode(decoder, &n) != nil {
			break
		}
	}
	const ahead = 4 // the library looks that far for "--- "
	return max(0, slow.at-ahead)
}

// byteReader is a reader of one byte at a time that knows where it is.
type byteReader struct {
	data []byte
	at   int
}

func (d *byteReader) Read(p []byte) (int, error) {
	if d.at == len(d.data) || len(p) == 0 {
		return 0, io.EOF
	}
	p[0] = d.data[d.at]
	d.at++
	return 1, nil
}

// start returns where the text of the last line before offset starts that is
// more than white space and comment.
func start(s *finding.Source, offset int) finding.Pos {
	line := s.Pos(offset).Line
	for written := s.Data[s.Starts[line-1]:offset]; line > 1; written = s.Line(line) {
		if text := bytes.TrimSpace(written); len(text) > 0 && text[0] != '#' {
			break
		}
		line--
	}
	return textStart(s, line)
}

// textStart returns the place of the first character of a line.
func textStart(s *finding.Source, line int) finding.Pos {
	text := s.Line(line)
	return finding.Pos{File: s.Name, Line: line, Col: 1 + len(text) - len(bytes.TrimLeft(text, " \t"))}
}

// What often breaks a line: a # that hides its end, a first character that YAML
// keeps for itself, a colon inside the value, a value closed too early.
var (
	hiddenEnd   = regexp.MustCompile(`[ \t](#[^\s#].*)$`)
	keptStart   = regexp.MustCompile("(?:^[ \t]*|: +|- +|[\\[{,][ \t]*)([@`%*&!][^,\\]}]*)")
	secondColon = regexp.MustCompile(`^[ \t]*(?:- +)*[^\s"'\[{#][^:"'\[{]*:[ \t]+([^\s"'\[{|>#&*!][^"'\[{]*:(?:[ \t].*)?)$`)
	closedEarly = regexp.MustCompile(`(?:: +|- +)((?:"[^"]*"|'[^']*'|\[[^\]]*\]|\{[^}]*\})[ \t]*[^\s,#\]}:].*)$`)
	valueStart  = regexp.MustCompile(`^.*(?:: +|- +|[\[{,][ \t]*)`)
)

// suspect looks on one line for a value that needs quotes.
func suspect(s *finding.Source, line int) (finding.Finding, bool) {
	text := string(s.Line(line))
	bare := unquoted(text)
	at := func(from, to int) finding.Finding {
		return finding.At(finding.Pos{File: s.Name, Line: line, Col: utf8.RuneCountInString(text[:from]) + 1}, finding.BadSyntax, "").Span(utf8.RuneCountInString(text[from:to]))
	}
	if m := hiddenEnd.FindStringSubmatchIndex(bare); m != nil {
		start := len(valueStart.FindString(bare[:m[2]]))
		value := text[start:]
		if i := strings.IndexAny(value, ",]}"); i > 0 && strings.ContainsAny(bare[:start], "[{") {
			value = value[:i]
		}
		value = strings.TrimSpace(value)
		p := at(start, start+len(value))
		p.Text = finding.Quote(text[m[2]:m[3]]) + " is a comment, so the rest of the line is missing"
		p.Hint = finding.Write(Quoted(value))
		if strings.Contains(value+" ", ": ") { // it is in a key
			p.Hint = finding.Do("remove it, or quote the key that it belongs to")
		}
		return p, true
	}
	if m := keptStart.FindStringSubmatchIndex(bare); m != nil {
		value := strings.TrimSpace(text[m[2]:m[3]])
		p := at(m[2], m[2]+len(value))
		p.Text = "a value cannot start with " + finding.Quote(value[:1]) + " unless it is quoted"
		p.Hint = finding.Write(Quoted(value))
		return p, true
	}
	if m := secondColon.FindStringSubmatchIndex(bare); m != nil {
		value := strings.TrimSpace(text[m[2]:m[3]])
		p := at(m[2], m[2]+len(value))
		p.Text = `": " inside a value needs quotes`
		p.Hint = finding.Write(Quoted(value))
		return p, true
	}
	if m := closedEarly.FindStringSubmatchIndex(text); m != nil {
		value := strings.TrimSpace(text[m[2]:m[3]])
		p := at(m[2], m[2]+len(value))
		p.Text = "text follows a value that is closed already"
		p.Hint = finding.Do("put quotes round the whole value, or brackets round the whole list")
		if strings.ContainsAny(value[:1], `"'`) && !strings.ContainsAny(bare[:m[2]], "[{") {
			p.Hint = finding.Write(Quoted(value))
		}
		return p, true
	}
	return finding.Finding{}, false
}

// unquoted blanks out what stands between quotes, byte for byte.
func unquoted(text string) string {
	out := []byte(text)
	var open byte
	for i, c := range out {
		switch {
		case open == 0 && (c == '"' || c == '\'') && (i == 0 || bytes.IndexByte([]byte(" \t[{,"), text[i-1]) >= 0):
			open = c
		case open != 0 && c == open && (i == 0 || text[i-1] != '\\'):
			open = 0
		case open != 0:
			out[i] = 'x'
		}
	}
	return string(out)
}
