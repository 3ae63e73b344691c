package finding

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

const byteOrderMark = "\uFEFF"

// Text is the text of a file that people write, be it YAML, CSV or a list of tags,
// without a byte order mark at its start: editors and spreadsheets put one there, and
// it says nothing in UTF-8 (the Unicode Standard, section 23.8). Where the rest
// is not UTF-8, or has a further mark inside, fault says so and what to do, and at
// is the place.
func Text(file string, data []byte) (text []byte, at Pos, fault string) {
	src := NewSource(file, data)
	offset, _, fault := src.Fault(data)
	return src.Data, src.Pos(offset), fault
}

// Fault is the first that keeps data, of which s was made, from being a text, and
// whether that is a byte order mark; "" without one.
func (s *Source) Fault(data []byte) (offset int, mark bool, fault string) {
	if name := foreign(data); name != "" {
		return 0, false, "the file is written in " + name + ", not in UTF-8 (save the file as UTF-8)"
	}
	for i := 0; i < len(s.Data); {
		c, size := utf8.DecodeRune(s.Data[i:])
		switch {
		case c == utf8.RuneError && size == 1:
			return i, false, fmt.Sprintf("byte %#02x is not UTF-8 (save the file as UTF-8)", s.Data[i])
		case c == 0xFEFF:
			return i, true, "invisible byte order mark inside the text (delete it; joined files leave it behind)"
		}
		i += size
	}
	return 0, false, ""
}

// foreign names the encoding of a file that is plainly not in UTF-8: by its mark, or
// by the zero bytes that its first two signs have without one.
func foreign(data []byte) string {
	zero := func(at ...int) bool {
		for _, i := range at {
			if i >= len(data) || data[i] != 0 {
				return false
			}
		}
		return true
	}
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE, 0, 0}), bytes.HasPrefix(data, []byte{0, 0, 0xFE, 0xFF}), zero(0, 1, 2), zero(1, 2, 3):
		return "UTF-32"
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte{0xFE, 0xFF}), zero(0, 2), zero(1, 3):
		return "UTF-16"
	}
	return ""
}

// Few names the first of many.
func Few(names []string) string {
	const most = 6
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// AnyOf lists words as "a, b or c".
func AnyOf(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
}
