package issue

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

	"ringout/model/diff"
)

// The register as text, one line for every issue, thing, sheet and part, in a
// fixed order, so that two versions of it can be compared line by line:
//
//	ringout register of issues 3
//	number "TI-I"
//	grounds 1
//	issue B 2031-06-01 "for construction" "MO" "dosing house added"
//	thing "loop" "F-2107" "device" "FT-2107"
//	fact "range" "0..450 m3/h"
//	thing "place" "JB-21" "strip" "JB-21/X1"
//	fact "jumpers" "10" "11 12"
//	sheet "LD-F-2107" 1 2b6f0a1d9e4c7758 48d0f5a0b7f0a1c2 K7M-4QD
//	rev A ""
//	rev B "W-21 pair 3, was pair 2"
//	part terminal "JB-21/X1:7" 0f3c22a1 B
//	end 9b1c3d5e7f902468
//
// A thing has the kind and tag of its subject, then its own; of a wire then the
// leg, and which of several it is. Its facts follow: key of the language, place at
// the thing if the fact is not of all of it, value. A sheet has its number without
// the plant's prefix, its part, the digest of the facts that its drawing stands on,
// the digest of how it was drawn, and its wiring code (or -); grounds is the form of
// the first digest. That one alone decides whether the sheet has to be issued again, unless
// things of then have other words for the same path: these are then compared themselves.
// Where it differs and the second does not, what changed is on another sheet. Its
// revisions follow, each with what changed on it, in words that nothing depends on.
// A part has its kind, tag, digest of how it was drawn, and the revision since which
// it is drawn so. Texts that belong to no part have an empty tag. The last line has
// a digest of all lines before it.
//
// Form 2 is read too: it had things in words, and of a sheet only how it was drawn.

// Words of the register.
const (
	registerHead = "ringout register of issues " // and its form
	registerForm = 3
	formBefore   = 2 // that is read too
	registerEnd  = "end"
	Withdrawn    = "withdrawn"
	none         = "-"
)

// Write writes the register as text. Its error is that of w.
func (r *Register) Write(w io.Writer) error {
	b := bufio.NewWriter(w)
	sum := sha256.New()
	line := func(format string, args ...any) { fmt.Fprintf(io.MultiWriter(b, sum), format+"\n", args...) }
	line("%s%d", registerHead, registerForm)
	line("# Kept by ringout issue. Keep it with the plant; do not edit it.")
	line("number %q", r.Number)
	line("grounds %d", r.Facts)
	for _, is := range r.Issues {
		line("issue %s %s %q %q %q", is.Mark, is.Date, is.Status, is.By, is.Note)
	}
	for _, t := range r.Things {
		s := fmt.Sprintf("thing %q %q %q %q", t.Of.Kind, t.Of.Tag, t.Kind, t.Tag)
		if t.Leg > 0 || t.Turn > 0 {
			s += fmt.Sprintf(" %d %d", t.Leg, t.Turn)
		}
		line("%s", s)
		for _, p := range t.Properties {
			switch {
			case p.Value == "":
			case p.At == "":
				line("fact %q %q", p.Key, p.Value)
			default:
				line("fact %q %q %q", p.Key, p.At, p.Value)
			}
		}
	}
	for _, s := range r.Sheets {
		digests, code := s.Facts+" "+s.Drawn, s.Code
		if s.Withdrawn {
			digests = Withdrawn
		}
		if code == "" {
			code = none
		}
		line("sheet %q %d %s %s", s.Key.Name, s.Key.Part, digests, code)
		for _, v := range s.Revs {
			line("rev %s %q", v.Mark, v.Words)
		}
		for _, p := range s.Parts {
			line("part %s %q %s %s", p.Kind, p.Tag, p.Digest, p.Mark)
		}
	}
	fmt.Fprintf(b, "%s %s\n", registerEnd, sumOf(sum))
	return b.Flush()
}

// sumOf is a digest in as many digits as one of a sheet.
func sumOf(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil))[:SheetDigits] }

// RegisterError is a fault of a register's text.
type RegisterError struct {
	Line int // from 1
	Text string
}

// Error is the line and what is wrong there.
func (e *RegisterError) Error() string { return fmt.Sprintf("%d: %s", e.Line, e.Text) }

// IsRegister reports whether a text begins as a register of issues does, of any form.
func IsRegister(text []byte) bool { return bytes.HasPrefix(text, []byte(registerHead)) }

// Read reads the text of a register. Its error is a *RegisterError.
func Read(text []byte) (*Register, error) {
	rd := registerReader{issues: &Register{}}
	lines := bytes.Split(text, []byte("\n"))
	ended := false
	sum := sha256.New()
	for i, line := range lines {
		s := strings.TrimSuffix(string(line), "\r")
		rd.line = i + 1
		form, ok := strings.CutPrefix(s, registerHead)
		if i == 0 {
			rd.issues.form, _ = strconv.Atoi(form) // 0 is no form
		}
		switch {
		case i == 0 && !ok:
			return nil, rd.wrong("not an issue register: its first line is not \"%s%d\"", registerHead, registerForm)
		case i == 0 && form != fmt.Sprint(registerForm) && form != fmt.Sprint(formBefore):
			return nil, rd.wrong("register has format %.10q; this version reads %d and %d: write its issues as revisions into the plant, archive it, then issue the set under the next revision", form, registerForm, formBefore)
		case s == "" && (ended || i == len(lines)-1):
			continue
		case ended:
			return nil, rd.wrong("text after the last line")
		case s == registerEnd || strings.HasPrefix(s, registerEnd+" "):
			if s != registerEnd+" "+sumOf(sum) {
				return nil, rd.wrong("register was edited: a line is changed, repeated or missing; restore the original")
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
		return nil, rd.wrong("register is incomplete: no line %q", registerEnd)
	}
	return rd.issues, rd.whole()
}

type registerReader struct {
	issues *Register
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
		return rd.wrong("line cannot be read: %.40q", s)
	}
	rd.words, rd.err = words[1:], nil
	switch words[0] {
	case "number":
		if rd.issues.Number != "" {
			rd.fail("number given twice")
		}
		rd.issues.Number = rd.text("number")
	case "grounds":
		if rd.issues.Facts > 0 || rd.issues.Converted() {
			rd.fail("grounds given twice, or in a format that has none")
		}
		rd.issues.Facts = rd.count("grounds", 0)
	case "issue":
		rd.issue()
	case "thing":
		if rd.issues.Converted() {
			rd.form2()
		} else {
			rd.thing()
		}
	case "fact":
		if rd.issues.Converted() || len(rd.issues.Things) == 0 {
			return rd.wrong("fact before the first thing")
		}
		rd.fact(&rd.issues.Things[len(rd.issues.Things)-1])
	case "sheet":
		rd.sheet()
	case "rev", "part":
		if len(rd.issues.Sheets) == 0 {
			return rd.wrong("%s before the first sheet", words[0])
		}
		rd.below(words[0], &rd.issues.Sheets[len(rd.issues.Sheets)-1])
	default:
		return rd.wrong("not a line of a register: %.40q", s)
	}
	if rd.err == nil && len(rd.words) > 0 {
		rd.fail("more on the line than belongs there: %.40q", rd.words[0])
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
		rd.fail("the line has no %s", what)
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
		rd.fail("%s %.40q is not a text in double quotes", what, w)
	}
	return s
}

// mark takes the mark of an issue above.
func (rd *registerReader) mark() string {
	m := rd.next("revision")
	if rd.err == nil && rd.issues.Find(m) == nil {
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
	if len(rd.issues.Sheets) > 0 {
		rd.fail("issue %s after a sheet", is.Mark)
	} else if err := rd.issues.Accept(is, nil); err != nil {
		rd.fail("%v", err)
	}
	rd.issues.Issues = append(rd.issues.Issues, is)
}

func (rd *registerReader) thing() {
	t := diff.Object{Of: diff.Ref{Kind: rd.text("kind"), Tag: rd.text("tag")}, Ref: diff.Ref{Kind: rd.text("kind"), Tag: rd.text("tag")}}
	if rd.err == nil && len(rd.words) > 0 {
		t.Leg, t.Turn = rd.count("leg", 0), rd.count("turn", 0)
		if t.Leg == 0 && t.Turn == 0 {
			rd.fail("leg and turn are both 0: leave them out")
		}
	}
	rd.issues.Things = append(rd.issues.Things, t)
}

// fact takes a fact of the thing above it.
func (rd *registerReader) fact(t *diff.Object) {
	p := diff.Property{Key: rd.text("key"), Value: rd.text("value")}
	if rd.err == nil && len(rd.words) > 0 {
		p.At, p.Value = p.Value, rd.text("value")
		if p.At == "" {
			rd.fail("fact %.40q has an empty place", p.Key)
		}
	}
	if rd.err == nil && p.Value == "" {
		rd.fail("fact %.40q has no value", p.Key)
	}
	t.Properties = append(t.Properties, p)
}

// form2 takes a thing of form 2.
func (rd *registerReader) form2() {
	of, name := rd.text("subject"), rd.text("name")
	var all [][2]string
	for rd.err == nil && len(rd.words) > 0 {
		p := [2]string{rd.text("property"), rd.text("value")}
		if p[1] == "" {
			rd.fail("property %.40q has no value", p[0])
		}
		all = append(all, p)
	}
	if rd.err == nil {
		rd.issues.Things = append(rd.issues.Things, form2Facts(form2Thing(of, name), all))
	}
}

// count takes a whole number that is not below least.
func (rd *registerReader) count(what string, least int) int {
	s := rd.next(what)
	n, err := strconv.Atoi(s)
	if err != nil || n < least || strconv.Itoa(n) != s {
		rd.fail("%s %.20q is not a whole number from %d up", what, s, least)
	}
	return n
}

func (rd *registerReader) sheet() {
	s := IssuedSheet{Key: SheetKey{rd.text("number"), rd.count("part", 1)}}
	if len(rd.words) > 0 && rd.words[0] == Withdrawn {
		s.Withdrawn = true
		rd.next("digest")
	} else {
		if !rd.issues.Converted() {
			s.Facts = rd.digest(SheetDigits)
		}
		s.Drawn = rd.digest(SheetDigits)
	}
	if s.Code = rd.next("wiring code"); s.Code == none {
		s.Code = ""
	}
	if all := rd.issues.Sheets; rd.err == nil && len(all) > 0 && CompareKeys(all[len(all)-1].Key, s.Key) >= 0 {
		rd.fail("sheet %s is out of order, or given twice", s.Key)
	}
	if err := rd.whole(); rd.err == nil {
		rd.err = err
	}
	rd.issues.Sheets = append(rd.issues.Sheets, s)
}

// whole returns an error where the sheet read last has no revision.
func (rd *registerReader) whole() error {
	all := rd.issues.Sheets
	if n := len(all); n > 0 && len(all[n-1].Revs) == 0 {
		return rd.wrong("sheet %s has no revision", all[n-1].Key)
	}
	return nil
}

// below takes a line that belongs to the sheet above it.
func (rd *registerReader) below(word string, s *IssuedSheet) {
	switch word {
	case "rev":
		v := IssuedRev{rd.mark(), rd.text("words")}
		at := func(m string) int {
			return slices.IndexFunc(rd.issues.Issues, func(is Issue) bool { return is.Mark == m })
		}
		if rd.err == nil && len(s.Revs) > 0 && at(v.Mark) <= at(s.Mark()) {
			rd.fail("revision %s of the sheet does not follow the one before", v.Mark)
		}
		s.Revs = append(s.Revs, v)
	case "part":
		p := IssuedPart{Kind: rd.kind(), Tag: rd.text("tag"), Digest: rd.digest(PartDigits), Mark: rd.mark()}
		if n := len(s.Parts); rd.err == nil && n > 0 && CompareParts(s.Parts[n-1], p) > 0 {
			rd.fail("part %s %s is out of order", p.Kind, p.Tag)
		}
		s.Parts = append(s.Parts, p)
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
