package model

import (
	"regexp"
	"strings"
)

// functionLetters tells which letters the tag of a kind of device has after its
// first, by ISA-5.1-2009 table 4.1; one of them is enough. Modifiers and
// further functions may stand beside it: PDIT, FSV.
var functionLetters = map[string]string{
	"transmitter":           "TE",
	"four-wire transmitter": "TE",
	"pulse transmitter":     "TEQS",
	"I/P converter":         "Y",
	"positioner":            "YZCV",
	"control valve":         "VZ",
	"on-off valve":          "VZ",
	"solenoid":              "YVZ",
	"contact":               "SALIYH",
	"proximity switch":      "STEIL",
	"RTD 2-wire":            "EW",
	"RTD 3-wire":            "EW",
	"RTD 4-wire":            "EW",
	"thermocouple":          "EW",
	"indicator":             "IRGQKACL",
	"lamp":                  "LAI",
}

// freeLetters fit any kind: user's choice, multifunction and unclassified in
// the same table.
const freeLetters = "BNUX"

// isaTag is letters, a number and a suffix, behind any unit prefixes that end in
// a hyphen: 21-FT-2107A. Tags of any other shape follow another system and are
// let be.
var isaTag = regexp.MustCompile(`^(?:[0-9A-Z]+[-_/])*?([A-Z]{2,5})-?[0-9]+[A-Z]?(?:-?[0-9]+)?$`)

// checkTags: do the function letters of a tag fit the kind of device? Any first
// letter does, since those without a meaning are the user's choice.
func checkTags(p *Plant, found func(Problem)) {
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			m := isaTag.FindStringSubmatch(d.Tag)
			want := functionLetters[d.Kind.Name]
			if m == nil || want == "" || strings.ContainsAny(m[1][1:], want+freeLetters) {
				continue
			}
			pr := warningAt(d.Pos, "unlikely-tag", "%s is a %s, and the letters %s say something else (ISA-5.1-2009 table 4.1)", d.Tag, d.Kind.Words, m[1])
			pr.Hint = "one of the letters " + strings.Join(strings.Split(want, ""), " ") + " after the first"
			found(pr)
		}
	}
}
