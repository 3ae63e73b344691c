package layout

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
)

// The register as text, one line for every issue, thing, sheet and part, in a
// fixed order, so that two versions of it can be compared line by line:
//
//	ringout register of issues 2
//	number "TI-I"
//	issue B 2031-06-01 "for construction" "MO" "dosing house added"
//	thing "loop F-2107" "device FT-2107" "range" "0..450 m3/h"
//	sheet "LD-F-2107" 1 48d0f5a0b7f0a1c2 K7M-4QD
//	rev A ""
//	rev B "W-21 pair 3, was pair 2"
//	part terminal "JB-21/X1:7" 0f3c22a1 B
//	end 9b1c3d5e7f902468
//
// A thing has its subject, name, and properties with their values, which are
// never empty. A sheet has its number without the plant's prefix, part, digest
// and wiring code (or -); below it stand the revisions it was issued at, each
// with what changed on it. A part has its kind, tag, digest and the revision
// since which it is so. Texts that belong to no part have an empty tag. The last
// line has a digest of all lines before it.

const (
	registerHead = "ringout register of issues " // and its form
	registerForm = "2"
	registerEnd  = "end"
	withdrawn    = "withdrawn"
	none         = "-"
)

// Write writes the register as text.
func (r *Issues) Write(w io.Writer) error {
	b := bufio.NewWriter(w)
	sum := sha256.New()
	line := func(format string, args ...any) { fmt.Fprintf(io.MultiWriter(b, sum), format+"\n", args...) }
	line("%s%s", registerHead, registerForm)
	line("# Kept by ringout issue. Keep it with the plant; do not edit it.")
	line("number %q", r.number)
	for _, is := range r.issues {
		line("issue %s %s %q %q %q", is.Mark, is.Date, is.Status, is.By, is.Note)
	}
	for _, t := range r.things {
		s := fmt.Sprintf("thing %q %q", t.Of, t.Name)
		for _, p := range t.Properties {
			if p.Value != "" {
				s += fmt.Sprintf(" %q %q", p.Name, p.Value)
			}
		}
		line("%s", s)
	}
	for _, s := range r.sheets {
		digest, code := s.digest, s.code
		if s.withdrawn {
			digest = withdrawn
		}
		if code == "" {
			code = none
		}
		line("sheet %q %d %s %s", s.key.name, s.key.part, digest, code)
		for _, v := range s.revs {
			line("rev %s %q", v.mark, v.words)
		}
		for _, p := range s.parts {
			line("part %s %q %s %s", p.kind, p.tag, p.digest, p.mark)
		}
	}
	fmt.Fprintf(b, "%s %s\n", registerEnd, sumOf(sum))
	return b.Flush()
}

// sumOf is a digest in as many digits as one of a sheet.
func sumOf(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil))[:sheetDigits] }

// RegisterError is a fault of a register's text.
type RegisterError struct {
	Line int // from 1
	Text string
}

// Error is the line and what is wrong there.
func (e *RegisterError) Error() string { return fmt.Sprintf("%d: %s", e.Line, e.Text) }

// IsIssues tells whether a text begins as a register of issues does, of any form.
func IsIssues(text []byte) bool { return bytes.HasPrefix(text, []byte(registerHead)) }

// ReadIssues reads the text of a register. Its error is a *RegisterError.
func ReadIssues(text []byte) (*Issues, error) {
	rd := registerReader{issues: &Issues{}}
	lines := bytes.Split(text, []byte("\n"))
	ended := false
	sum := sha256.New()
	for i, line := range lines {
		s := strings.TrimSuffix(string(line), "\r")
		rd.line = i + 1
		form, ok := strings.CutPrefix(s, registerHead)
		switch {
		case i == 0 && !ok:
			return nil, rd.wrong("is not a register of issues: its first line is not %q", registerHead+registerForm)
		case i == 0 && form != registerForm:
			return nil, rd.wrong("is a register of form %.10q, this ringout keeps form %s: write its issues as revisions into the plant, put it away and issue the set under the next revision", form, registerForm)
		case s == "" && (ended || i == len(lines)-1):
			continue
		case ended:
			return nil, rd.wrong("stands behind the end")
		case s == registerEnd || strings.HasPrefix(s, registerEnd+" "):
			if s != registerEnd+" "+sumOf(sum) {
				return nil, rd.wrong("the lines are not those that ringout issue wrote: one was changed, doubled or taken out; bring back the register as it was")
			}
			ended = true
			continue
		}
		io.WriteString(sum, s+"\n")
		if i == 0 || strings.HasPrefix(s, "#") {
			continue
		}
		if err := rd.read(s); err != nil {
			return nil, err
		}
	}
	if !ended {
		return nil, rd.wrong("the register breaks off: it has no line %q", registerEnd)
	}
	return rd.issues, rd.whole()
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
	case "number":
		if rd.issues.number != "" {
			rd.fail("the number is given twice")
		}
		rd.issues.number = rd.text("number")
	case "issue":
		rd.issue()
	case "thing":
		rd.thing()
	case "sheet":
		rd.sheet()
	case "rev", "part":
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

func (rd *registerReader) thing() {
	t := model.Thing{Of: rd.text("subject"), Name: rd.text("name")}
	for rd.err == nil && len(rd.words) > 0 {
		p := model.Property{Name: rd.text("property"), Value: rd.text("value")}
		if p.Value == "" {
			rd.fail("property %.40q has no value", p.Name)
		}
		t.Properties = append(t.Properties, p)
	}
	rd.issues.things = append(rd.issues.things, t)
}

func (rd *registerReader) sheet() {
	s := issuedSheet{key: sheetKey{name: rd.text("number")}}
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
	if all := rd.issues.sheets; rd.err == nil && len(all) > 0 && compareKeys(all[len(all)-1].key, s.key) >= 0 {
		rd.fail("sheet %s does not stand in its order, or twice", s.key)
	}
	if err := rd.whole(); rd.err == nil {
		rd.err = err
	}
	rd.issues.sheets = append(rd.issues.sheets, s)
}

// whole returns an error where the sheet read last has no revision.
func (rd *registerReader) whole() error {
	all := rd.issues.sheets
	if n := len(all); n > 0 && len(all[n-1].revs) == 0 {
		return rd.wrong("sheet %s has no revision", all[n-1].key)
	}
	return nil
}

// below takes a line that belongs to the sheet above it.
func (rd *registerReader) below(word string, s *issuedSheet) {
	switch word {
	case "rev":
		v := issuedRev{rd.mark(), rd.text("words")}
		at := func(m string) int {
			return slices.IndexFunc(rd.issues.issues, func(is Issue) bool { return is.Mark == m })
		}
		if rd.err == nil && len(s.revs) > 0 && at(v.mark) <= at(s.mark()) {
			rd.fail("revision %s of the sheet does not follow the one before", v.mark)
		}
		s.revs = append(s.revs, v)
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
