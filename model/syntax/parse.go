// Package syntax reads text as YAML, value by value with its place, and words what is no
// YAML where it went wrong. What the values mean is not its concern.
package syntax

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"ringout/model/finding"
)

// Parse reads src, made of data, the bytes of a file, and returns the value that its first
// document holds; nil where there is none. It reports to log what is no YAML, and what
// does not belong in a text.
func Parse(log *finding.Log, src *finding.Source, data []byte) *yaml.Node {
	before := log.Findings.Errors()
	if !readable(log, src, data) {
		return nil
	}
	decoder := yaml.NewDecoder(bytes.NewReader(src.Data))
	var doc, second yaml.Node
	err := decode(decoder, &doc)
	if errors.Is(err, io.EOF) || err == nil && IsNull(doc.Content[0]) {
		log.Report(finding.At(finding.Pos{File: src.Name, Line: 1, Col: 1}, finding.EmptyFile, "the file holds no keys"))
		return nil
	}
	if err == nil {
		if err = decode(decoder, &second); err == nil {
			at := src.Within(second.Line, second.Column)
			log.Report(finding.At(at, finding.SecondDocument, `second YAML document ignored, after "---"`).Span(3).
				WithHint(finding.Do("put the keys of both into one document, or into two files")))
		}
	}
	if err != nil && !errors.Is(err, io.EOF) {
		// A tab or the like that was reported already is the likely cause.
		if log.Findings.Errors() == before {
			log.Report(syntaxError(src, err))
		}
		if doc.Kind == 0 {
			return nil
		}
	}
	return doc.Content[0]
}

// decode reads the next document. The library panics on some broken texts.
func decode(d *yaml.Decoder, n *yaml.Node) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("yaml: %v", p)
		}
	}()
	err = d.Decode(n)
	if err == nil && (n.Kind != yaml.DocumentNode || len(n.Content) == 0) {
		err = io.EOF
	}
	return err
}

// readable reports bytes and characters that do not belong in a text, the first
// of each kind, and reports whether YAML can be read at all.
func readable(log *finding.Log, src *finding.Source, data []byte) bool {
	if at, mark, fault := src.Fault(data); mark {
		log.Report(finding.At(src.Pos(at), finding.ByteOrderMark, "%s", fault))
		return false
	} else if fault != "" {
		log.Report(finding.At(src.Pos(at), finding.ForeignEncoding, "%s", fault))
		return false
	}
	tabs, firstTab, indent := 0, -1, true
	for i := 0; i < len(src.Data); {
		c, size := utf8.DecodeRune(src.Data[i:])
		switch {
		case c == '\n':
			indent = true
		case c == '\t' && indent && blankUntilText(src.Data[i:]):
			if tabs++; firstTab < 0 {
				firstTab = i
			}
			indent = false
		case c == '\t', c == ' ':
		case c == '\r' && i+1 < len(src.Data) && src.Data[i+1] == '\n':
		case c == '\r':
			log.Report(finding.At(src.Pos(i), finding.ControlCharacter, "single carriage return here").WithHint(finding.Do("save the file with LF or CR LF line ends")))
			return false
		case unicode.IsControl(c), finding.Steers(c), c == 0xFFFE, c == 0xFFFF:
			log.Report(finding.At(src.Pos(i), finding.ControlCharacter, "control character %U here", c))
			return false
		default:
			indent = false
		}
		i += size
	}
	if tabs > 0 {
		more := ""
		if tabs > 1 {
			more = fmt.Sprintf(", and in that of %s", finding.Count(tabs-1, "more line"))
		}
		log.Report(finding.At(src.Pos(firstTab), finding.TabIndent, "tab in the indent%s", more).WithHint(finding.Do("use spaces")))
	}
	return true
}

// blankUntilText reports whether a line that goes on with blanks holds text that
// is not a comment.
func blankUntilText(rest []byte) bool {
	if end := bytes.IndexByte(rest, '\n'); end >= 0 {
		rest = rest[:end]
	}
	rest = bytes.TrimLeft(rest, " \t\r")
	return len(rest) > 0 && rest[0] != '#'
}

// IsNull reports whether a value is one that YAML takes for no value.
func IsNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

// Quoted writes a value as YAML reads it back: between double quotes, or single
// ones when the value holds double quotes or backslashes.
func Quoted(value string) string {
	if strings.ContainsAny(value, `"\`) {
		return "'" + strings.ReplaceAll(value, "'", "''") + "'"
	}
	return `"` + value + `"`
}
