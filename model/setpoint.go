package model

import (
	"regexp"
	"slices"
	"strings"
)

// SetPoint is what a function of the system is set to, or calls at: "430",
// "HH 430 m3/h", "L 2.5 bar falling", "H 90 °C deadband 2 °C", "fails to shut in 20 s",
// "in use".
type SetPoint struct {
	Text   string  // as written
	Name   string  // what stands before the value or tells of it: HH; "" for a value alone
	At     string  // the value or the time, as written; "" where a contact tells it
	Value  float64 // of what the function reads
	Unit   string  // "" where it is left out
	Valued bool    // there is such a value: neither a time nor the word of a contact
	Back   string  // how far back it lets go, as written; "" where that is not said
	Band   float64 // that, in Unit
}

// Given reports whether a set point was written.
func (s SetPoint) Given() bool { return s.Text != "" }

func (s SetPoint) String() string { return s.Text }

// setPointValue is a value and what stands behind it.
var setPointValue = regexp.MustCompile(`^([+-]?[0-9]+(?:\.[0-9]+)?) *(.*)$`)

// ReadSetPoint reads a set point. What is neither a value nor a time is the word of a
// contact.
func ReadSetPoint(text string) SetPoint {
	s := SetPoint{Text: text}
	text, s.Back, _ = strings.Cut(text, " deadband ")
	if word, rest, _ := strings.Cut(text, " "); leadsNumber(strings.TrimLeft(rest, " ")) {
		s.Name, s.At = word, strings.TrimLeft(rest, " ")
	} else if time := endsTime(text); time != "" {
		s.Name, s.At = text, time
	} else if leadsNumber(text) {
		s.At = text
	} else {
		s.Name = text
	}
	found := setPointValue.FindStringSubmatch(strings.TrimSpace(s.At))
	if found == nil {
		return s
	}
	unit := strings.TrimSpace(found[2])
	m, known := measureOf(unit)
	if word, _, more := strings.Cut(unit, " "); more && !known {
		unit = word
		m, _ = measureOf(unit)
	}
	if v, _, ok := SplitNumber(found[1]); ok && m.quantity != "time" {
		s.Value, s.Unit, s.Valued = v, unit, true
	}
	if back := setPointValue.FindStringSubmatch(strings.TrimSpace(s.Back)); back != nil && s.Valued {
		if v, _, ok := SplitNumber(back[1]); ok && (back[2] == "" || back[2] == s.Unit) {
			s.Band = v
		}
	}
	return s
}

// Falls reports whether it acts when the value falls: it is called a low one, or says so.
func (s SetPoint) Falls() bool {
	return strings.HasPrefix(s.Name, "L") || strings.HasSuffix(s.At, " falling")
}

// Resets is the set point at which it lets go again: its value less its dead band, or plus
// that where it acts on a falling value; false where no dead band is given.
func (s SetPoint) Resets() (SetPoint, bool) {
	if s.Band <= 0 {
		return s, false
	}
	by := -s.Band
	if s.Falls() {
		by = s.Band
	}
	r := SetPoint{Name: s.Name, Value: s.Value + by, Unit: s.Unit, Valued: true}
	r.At = strings.TrimSpace(Figure(r.Value) + " " + s.Unit)
	r.Text = strings.TrimSpace(r.Name + " " + r.At)
	return r, true
}

// leadsNumber reports whether a text begins with a number.
func leadsNumber(s string) bool {
	s = strings.TrimLeft(s, "+-")
	return s != "" && s[0] >= '0' && s[0] <= '9'
}

// endsTime is the time that a text ends with, such as "20 s"; "" without one.
func endsTime(s string) string {
	words := strings.Fields(s)
	if n := len(words); n > 1 && leadsNumber(words[n-2]) && slices.Contains([]string{"ms", "s", "min", "h"}, words[n-1]) {
		return words[n-2] + " " + words[n-1]
	}
	return ""
}

// SwitchPoint is when a switch acts: "opens above 7.5 bar", "closes on flow", "6 bar".
type SwitchPoint struct {
	Text   string   // as written
	Acts   Position // that its contact goes to then; zero where that is not said
	Rest   Position // of the contact with nothing measured; zero where that is not said
	Number bool     // it is a value alone
}

// Given reports whether a set point was written.
func (s SwitchPoint) Given() bool { return s.Text != "" }

func (s SwitchPoint) String() string { return s.Text }

// ReadSwitchPoint reads when a switch acts. One that opens above or closes below its
// set point is closed with nothing measured, one that closes above or opens below it
// is open.
func ReadSwitchPoint(text string) SwitchPoint {
	s := SwitchPoint{Text: text, Number: leadsNumber(text)}
	verb, rest, _ := strings.Cut(strings.ToLower(text), " ")
	s.Acts = map[string]Position{"opens": Open, "closes": Closed}[verb]
	side, _, _ := strings.Cut(rest, " ")
	switch above := side == "above"; {
	case s.Acts == 0 || !above && side != "below":
	case (s.Acts == Open) == above:
		s.Rest = Closed
	default:
		s.Rest = Open
	}
	return s
}
