// Package tell has the messages to the person at the keyboard that the commands share.
package tell

import (
	"fmt"
	"io/fs"
	"strings"
	"unicode/utf8"

	"ringout/model/finding"
)

// WrongUse is an error in the use of a command: exit code 2, and the help is named.
type WrongUse struct{ text string }

func (w WrongUse) Error() string { return w.text }

// WrongUsef is such an error, in words.
func WrongUsef(format string, args ...any) error { return WrongUse{fmt.Sprintf(format, args...)} }

// DidYouMean suggests the nearest of words; "" when none is near.
func DidYouMean(written string, words []string) string {
	best := finding.Nearest(written, words)
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %s?", best)
}

// Reason is what went wrong with a file, without the file's name.
func Reason(err error) error {
	if p, ok := err.(*fs.PathError); ok {
		return p.Err
	}
	return err
}

// mostNamed is how many names of a list are printed.
const mostNamed = 12

// Names lists names, not more than can be read.
func Names(all []string, between string) string {
	if n := len(all) - mostNamed; n > 0 {
		return strings.Join(all[:mostNamed], between) + fmt.Sprintf(" and %d more", n)
	}
	return strings.Join(all, between)
}

// OneOf lists words of which one is to be written: a, b or c.
func OneOf(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// Wrap breaks s at blanks into lines of at most width characters, if its words
// let it.
func Wrap(s string, width int) []string {
	var lines []string
	for _, word := range strings.SplitAfter(s, " ") {
		if n := len(lines) - 1; n >= 0 && utf8.RuneCountInString(strings.TrimRight(lines[n]+word, " ")) <= width {
			lines[n] += word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}
