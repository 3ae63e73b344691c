package layout

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// The register as text, one line for every issue, sheet and part, in a fixed
// order, so that two versions of it can be compared line by line:
//
//	ringout register of issues 1
//	issue B 2031-06-01 "for construction" "MO" "dosing house added"
//	sheet "TI-I-LD-F-2107" 1 48d0f5a0b7f0a1c2 K7M-4QD A B
//	removed B cable "W-2107"
//	part terminal "JB-21/X1:7" 0f3c22a1 B
//	end
//
// A sheet has its number, part, digest, wiring code (or -) and the revisions it
// was issued at; "stands C" below it gives it the status of a later issue. A
// part has its kind, tag, digest and the revision since which it is so. Texts
// that belong to no part have an empty tag.

const (
	registerHead = "ringout register of issues 1"
	registerEnd  = "end"
	withdrawn    = "withdrawn"
	none         = "-"
)

// Write writes the register as text.
func (r *Issues) Write(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, registerHead)
	fmt.Fprintln(b, "# Kept by ringout issue. Keep it with the plant; do not edit it.")
	for _, is := range r.issues {
		fmt.Fprintf(b, "issue %s %s %s %s %s\n", is.Mark, is.Date, strconv.Quote(is.Status), strconv.Quote(is.By), strconv.Quote(is.Note))
	}
	for _, s := range r.sheets {
		digest, code := s.digest, s.code
		if s.withdrawn {
			digest = withdrawn
		}
		if code == "" {
			code = none
		}
		fmt.Fprintf(b, "sheet %s %d %s %s %s\n", strconv.Quote(s.key.number), s.key.part, digest, code, strings.Join(s.marks, " "))
		if s.stands != "" {
			fmt.Fprintf(b, "stands %s\n", s.stands)
		}
		for _, x := range s.removed {
			fmt.Fprintf(b, "removed %s %s %s\n", x.mark, x.kind, strconv.Quote(x.tag))
		}
		for _, p := range s.parts {
			fmt.Fprintf(b, "part %s %s %s %s\n", p.kind, strconv.Quote(p.tag), p.digest, p.mark)
		}
	}
	fmt.Fprintln(b, registerEnd)
	return b.Flush()
}

// RegisterError is a fault of a register's text.
type RegisterError struct {
	Line int // from 1
	Text string
}

// Error is the line and what is wrong there.
func (e *RegisterError) Error() string { return fmt.Sprintf("%d: %s", e.Line, e.Text) }

// ReadIssues reads the text of a register. Its error is a *RegisterError.
func ReadIssues(text []byte) (*Issues, error) {
	rd := registerReader{issues: &Issues{}}
	lines := bytes.Split(text, []byte("\n"))
	ended := false
	for i, line := range lines {
		s := strings.TrimSuffix(string(line), "\r")
		rd.line = i + 1
		switch {
		case i == 0 && s != registerHead:
			return nil, rd.wrong("is not a register of issues of this version: its first line is not %q", registerHead)
		case i == 0, strings.HasPrefix(s, "#"), s == "" && (ended || i == len(lines)-1):
			continue
		case ended:
			return nil, rd.wrong("stands behind the end")
		case s == registerEnd:
			ended = true
			continue
		}
		if err := rd.read(s); err != nil {
			return nil, err
		}
	}
	if !ended {
		return nil, rd.wrong("the register breaks off: it has no line %q", registerEnd)
	}
	return rd.issues, nil
}

type registerReader struct {
	issues *Issues
	line   int
	words  []string // of the line, those not taken yet
	err    error    // the first of the line
}

func (rd *registerReader) wrong(format string, args ...any) error {
	return &RegisterError{rd.line, fmt.Sprintf(format, args...)}
}

// read takes one line in.
func (rd *registerReader) read(s string) error {
	words, ok := splitWords(s)
	if !ok {
		return rd.wrong("%.40q cannot be taken apart", s)
	}
	rd.words, rd.err = words[1:], nil
	switch words[0] {
	case "issue":
		rd.issue()
	case "sheet":
		rd.sheet()
	case "stands", "removed", "part":
		if len(rd.issues.sheets) == 0 {
			return rd.wrong("%s comes before any sheet", words[0])
		}
		rd.below(words[0], &rd.issues.sheets[len(rd.issues.sheets)-1])
	default:
		return rd.wrong("%.40q is no line of a register", s)
	}
	if rd.err == nil && len(rd.words) > 0 {
		rd.fail("%.40q is too much", rd.words[0])
	}
	return rd.err
}

func (rd *registerReader) fail(format string, args ...any) {
	if rd.err == nil {
		rd.err = rd.wrong(format, args...)
	}
}

// next takes the next word, which is what.
func (rd *registerReader) next(what string) string {
	if len(rd.words) == 0 {
		rd.fail("the line breaks off before its %s", what)
		return ""
	}
	s := rd.words[0]
	rd.words = rd.words[1:]
	return s
}

// text takes a quoted text.
func (rd *registerReader) text(what string) string {
	w := rd.next(what)
	s, err := strconv.Unquote(w)
	if err != nil || strconv.Quote(s) != w {
		rd.fail("%s %.40q is not a text in quotes", what, w)
	}
	return s
}

// mark takes the mark of an issue above.
func (rd *registerReader) mark() string {
	m := rd.next("revision")
	if rd.err == nil && rd.issues.find(m) == nil {
		rd.fail("revision %.10q has no issue line", m)
	}
	return m
}

// digest takes n hexadecimal digits.
func (rd *registerReader) digest(n int) string {
	s := rd.next("digest")
	if len(s) != n || strings.Trim(s, "0123456789abcdef") != "" {
		rd.fail("digest %.40q is not %d hexadecimal digits", s, n)
	}
	return s
}

// kind takes the kind of a part.
func (rd *registerReader) kind() string {
	s := rd.next("kind")
	if s == "" || strings.Trim(s, "abcdefghijklmnopqrstuvwxyz-") != "" {
		rd.fail("%.40q is not the kind of a part", s)
	}
	return s
}

func (rd *registerReader) issue() {
	is := Issue{Mark: rd.next("revision"), Date: rd.next("date"), Status: rd.text("status"), By: rd.text("name"), Note: rd.text("note")}
	if rd.err != nil {
		return
	}
	if len(rd.issues.sheets) > 0 {
		rd.fail("issue %s comes after a sheet", is.Mark)
	} else if err := rd.issues.Accept(is, nil); err != nil {
		rd.fail("%v", err)
	}
	rd.issues.issues = append(rd.issues.issues, is)
}

func (rd *registerReader) sheet() {
	s := issuedSheet{key: sheetKey{number: rd.text("number")}}
	part := rd.next("part")
	n, err := strconv.Atoi(part)
	if err != nil || n < 1 || strconv.Itoa(n) != part {
		rd.fail("part %.20q is not a number from 1", part)
	}
	s.key.part = n
	if len(rd.words) > 0 && rd.words[0] == withdrawn {
		s.withdrawn = true
		rd.next("digest")
	} else {
		s.digest = rd.digest(sheetDigits)
	}
	if s.code = rd.next("wiring code"); s.code == none {
		s.code = ""
	}
	at := -1
	for s.marks == nil || len(rd.words) > 0 {
		m := rd.mark()
		i := slices.IndexFunc(rd.issues.issues, func(is Issue) bool { return is.Mark == m })
		if rd.err == nil && i <= at {
			rd.fail("revision %s of the sheet does not follow the one before", m)
		}
		at = i
		s.marks = append(s.marks, m)
	}
	if all := rd.issues.sheets; rd.err == nil && len(all) > 0 && compareKeys(all[len(all)-1].key, s.key) >= 0 {
		rd.fail("sheet %s does not stand in its order, or twice", s.key)
	}
	rd.issues.sheets = append(rd.issues.sheets, s)
}

// below takes a line that belongs to the sheet above it.
func (rd *registerReader) below(word string, s *issuedSheet) {
	switch word {
	case "stands":
		if s.stands != "" {
			rd.fail("the sheet stands at %s already", s.stands)
		}
		s.stands = rd.mark()
	case "removed":
		s.removed = append(s.removed, removal{rd.mark(), rd.kind(), rd.text("tag")})
	case "part":
		p := issuedPart{kind: rd.kind(), tag: rd.text("tag"), digest: rd.digest(partDigits), mark: rd.mark()}
		if n := len(s.parts); rd.err == nil && n > 0 && compareParts(s.parts[n-1], p) > 0 {
			rd.fail("part %s %s does not stand in its order", p.kind, p.tag)
		}
		s.parts = append(s.parts, p)
	}
}

// splitWords splits a line at single spaces; a text in quotes is one word.
func splitWords(s string) (words []string, ok bool) {
	for {
		word := s
		if strings.HasPrefix(s, `"`) {
			var err error
			if word, err = strconv.QuotedPrefix(s); err != nil {
				return nil, false
			}
		} else if i := strings.IndexByte(s, ' '); i >= 0 {
			word = s[:i]
		}
		if word == "" {
			return nil, false
		}
		words = append(words, word)
		if s = s[len(word):]; s == "" {
			return words, true
		}
		if s[0] != ' ' {
			return nil, false
		}
		s = s[1:]
	}
}
