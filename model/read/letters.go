package read

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"ringout/fonts"
	"ringout/model/finding"
)

// This file looks at the letters of values and keys before anything is made of
// them: those that are no letters of ours are told where they stand.

// Faces that draw what is written: texts in one, tags and terminals in either.
var (
	textFaces = []fonts.Face{fonts.Sans, fonts.Bold}
	tagFaces  = []fonts.Face{fonts.Sans, fonts.Bold, fonts.Mono, fonts.MonoBold}
)

// letters composes a text or a tag (Unicode normalization form C: some systems write é
// as e and an accent) and reports the first letter that its faces do not hold.
func (r *reader) letters(n node, tag bool) {
	faces, in := textFaces, ""
	if tag {
		faces, in = tagFaces, " in a tag"
	}
	written := n.Value
	n.Value = norm.NFC.String(written)
	for _, f := range faces {
		c, missing := f.Missing(strings.Map(visibleOnly, n.Value))
		if !missing {
			continue
		}
		p := n.wrong(finding.UndrawableText, "%s (%U) cannot be drawn%s", finding.Quote(string(c)), c, in)
		if i := strings.IndexRune(written, c); i >= 0 {
			n.Value = written // as it stands in the file
			if pos, chars := n.at(i, len(string(c))); chars > 0 {
				p.Pos, p.Len = pos, chars
			}
		}
		r.Report(p.WithHint(finding.Do("use Latin, Greek or Cyrillic letters, digits and common signs")))
		return
	}
}

// visibleOnly leaves out what text reports, or takes for a blank.
func visibleOnly(c rune) rune {
	if unicode.IsControl(c) || unicode.Is(unicode.Cf, c) {
		return -1
	}
	return c
}

// folded is a text on one line, without blanks round it: a block of lines is one
// text.
func folded(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(c rune) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }), " ")
}
