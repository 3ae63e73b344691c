// Package issue keeps the register of issues: what each issued sheet showed.
package issue

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"ringout/model/diff"
)

// Register is the register of issues of a plant: which revision every sheet has,
// what it showed then, and the things of the plant. The zero Register has no
// issues.
type Register struct {
	Issues []Issue       // oldest first
	Number string        // the plant's prefix of drawing numbers at the newest
	Things []diff.Object // of the plant at the newest
	Sheets []IssuedSheet // by name and part
	form   int           // that it was read from; 0 of one that was not
	Facts  int           // form of the digests of facts of its sheets; 0 where they have none
}

// Converted reports whether the register was read from an earlier form than the
// one that Write writes.
func (r *Register) Converted() bool { return r.form == formBefore }

// Issue is one issue of the set.
type Issue struct {
	Mark   string // of the revision: A, B, P1, 0, 1
	Date   string // 2031-06-01
	Status string // in words; see AsBuilt
	By     string
	Note   string // what changed, in words
}

// AsBuilt is the status that takes the clouds off all sheets.
const AsBuilt = "as built"

// IssuedSheet is a sheet as it was when last issued.
type IssuedSheet struct {
	Key       SheetKey
	Withdrawn bool   // not in the set any more
	Facts     string // digest of what its drawing stood on; "" where form 2 of the register did not tell
	Drawn     string // digest of how it was drawn
	Code      string // wiring code; "" without
	Revs      []IssuedRev
	Parts     []IssuedPart // sorted
}

// IssuedRev is one revision of a sheet: the mark of the issue, and what changed
// on the sheet in words; "" at its first.
type IssuedRev struct{ Mark, Words string }

// IssuedPart is a part of a drawing and the issue since which it is so.
type IssuedPart struct {
	Kind, Tag, Digest, Mark string
}

// Mark is the sheet's revision.
func (s *IssuedSheet) Mark() string { return s.Revs[len(s.Revs)-1].Mark }

// Newest returns the newest issue, or a zero one.
func (r *Register) Newest() Issue {
	if len(r.Issues) == 0 {
		return Issue{}
	}
	return r.Issues[len(r.Issues)-1]
}

// Find returns the issue of a mark, or nil.
func (r *Register) Find(mark string) *Issue {
	for i := range r.Issues {
		if r.Issues[i].Mark == mark {
			return &r.Issues[i]
		}
	}
	return nil
}

// Sheet returns what is registered of a sheet, or nil.
func (r *Register) Sheet(k SheetKey) *IssuedSheet {
	i, ok := slices.BinarySearchFunc(r.Sheets, k, func(s IssuedSheet, k SheetKey) int { return CompareKeys(s.Key, k) })
	if !ok {
		return nil
	}
	return &r.Sheets[i]
}

// CompareKeys puts sheets in the order of the register: by number, then by part.
func CompareKeys(a, b SheetKey) int {
	return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Part, b.Part))
}

// CompareParts puts parts in the order of the register: by kind, tag and digest.
func CompareParts(a, b IssuedPart) int {
	return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Tag, b.Tag), cmp.Compare(a.Digest, b.Digest), cmp.Compare(a.Mark, b.Mark))
}

// Room for the words of an issue: what the forms can hold.
const (
	mostStatus = 30
	mostBy     = 20
	mostNote   = 60
)

// MarkError says why a mark cannot follow those before it.
type MarkError string

func (e MarkError) Error() string { return string(e) }

func markErrorf(format string, args ...any) error { return MarkError(fmt.Sprintf(format, args...)) }

// Accept returns an error for an issue that cannot follow those of the register,
// or the revisions that the plant's own text gives.
func (r *Register) Accept(next Issue, before []string) error {
	if err := next.check(); err != nil {
		return err
	}
	marks := slices.Clone(before)
	for _, is := range r.Issues {
		marks = append(marks, is.Mark)
	}
	if len(marks) > 0 {
		last := marks[len(marks)-1]
		if slices.Contains(marks, next.Mark) {
			return markErrorf("revision %s is already issued (issued: %s); the next is %s", next.Mark, strings.Join(marks, ", "), after(last))
		}
		for _, m := range marks {
			if series(m) == series(next.Mark) && (position(next.Mark) <= position(m) || series(last) != series(m)) {
				return markErrorf("revision %s is lower than %s, which is already issued; the next is %s", next.Mark, last, after(last))
			}
		}
	}
	if last := r.Newest(); next.Date < last.Date {
		return fmt.Errorf("date %s is before %s, that of revision %s", next.Date, last.Date, last.Mark)
	}
	return nil
}

var markShape = regexp.MustCompile(`^[A-Z]{0,2}[0-9]{0,3}$`)

// check returns an error for an issue that cannot be written down.
func (is Issue) check() error {
	if is.Mark == "" || !markShape.MatchString(is.Mark) {
		return fmt.Errorf("revision %q is not up to two capitals and three digits, such as B, 2 or P3", is.Mark)
	}
	if t, err := time.Parse(time.DateOnly, is.Date); err != nil || t.Format(time.DateOnly) != is.Date {
		return fmt.Errorf("date %q is not a day such as 2031-06-01", is.Date)
	}
	if strings.TrimSpace(is.Status) == "" {
		return fmt.Errorf("status of revision %s is not given", is.Mark)
	}
	for _, f := range []struct {
		name, s string
		most    int
	}{{"status", is.Status, mostStatus}, {"by", is.By, mostBy}, {"note", is.Note, mostNote}} {
		if n := len([]rune(f.s)); n > f.most {
			return fmt.Errorf("%s has %d letters; the title block holds %d", f.name, n, f.most)
		}
		if strings.ContainsFunc(f.s, func(c rune) bool { return !unicode.IsPrint(c) || c == unicode.ReplacementChar }) {
			return fmt.Errorf("%s %q has letters that cannot be printed", f.name, f.s)
		}
	}
	return nil
}

// series is what revisions that follow each other have in common: letters
// alone, digits alone, or digits behind the same letters.
func series(mark string) string {
	head := strings.TrimRight(mark, "0123456789")
	switch head {
	case mark:
		return "letters"
	case "":
		return "digits"
	}
	return "digits behind " + head
}

// position counts a mark within its series: Z comes before AA.
func position(mark string) int {
	n := 0
	digits := strings.TrimLeft(mark, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	if digits == "" {
		for _, c := range mark {
			n = n*26 + int(c-'A') + 1
		}
		return n
	}
	n, _ = strconv.Atoi(digits) // three digits at the most
	return n
}

// after is the mark that follows another in its series.
func after(mark string) string {
	head := strings.TrimRight(mark, "0123456789")
	if head != mark {
		return fmt.Sprintf("%s%d", head, position(mark)+1)
	}
	for i := len(mark) - 1; i >= 0; i-- {
		if mark[i] != 'Z' {
			return mark[:i] + string(mark[i]+1) + strings.Repeat("A", len(mark)-1-i)
		}
	}
	return strings.Repeat("A", len(mark)+1)
}

// The digests of a register, in hexadecimal digits.
const (
	SheetDigits = 16
	PartDigits  = 8
)

// SheetKey names a sheet through all issues: its drawing number without the
// plant's prefix, which may change, and its part.
type SheetKey struct {
	Name string
	Part int
}

func (k SheetKey) String() string { return fmt.Sprintf("%s part %d", k.Name, k.Part) }

// Numbered is the drawing number of a sheet with the plant's prefix.
func Numbered(prefix string, k SheetKey) string {
	if prefix == "" {
		return k.Name
	}
	return prefix + "-" + k.Name
}
