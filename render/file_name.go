package render

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestName is the most bytes that FileName gives a name: with what is put
// before and behind it, it stays below the 255 bytes of common file systems.
const longestName = 100

// reserved are names that Windows keeps for devices, whatever ending they have and
// in any case: Microsoft, "Naming Files, Paths, and Namespaces". Of a name, the
// part before its first point counts, without blanks at its end.
var reserved = regexp.MustCompile(`(?i)^(?:CON|PRN|AUX|NUL|CONIN\$|CONOUT\$|(?:COM|LPT)[0-9¹²³]) *(?:\.|$)`)

// FileName is s as a file or folder may be called on any system, with what may be
// put behind it, and whether it is the same: letters and digits of any script,
// hyphens, points and underlines; no point or hyphen at either end; no name that
// is reserved for a device; 100 bytes at most. It may be "".
func FileName(s string) (name string, same bool) {
	name = strings.Map(func(r rune) rune {
		if r <= 0xFFFF && (unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r)) || strings.ContainsRune("-._", r) {
			return r
		}
		return '_'
	}, s)
	name = strings.Trim(name, ".-")
	if reserved.MatchString(name) {
		name = "_" + name
	}
	if len(name) > longestName {
		end := longestName - 7
		for !utf8.RuneStart(name[end]) {
			end--
		}
		sum := sha256.Sum256([]byte(s))
		name = name[:end] + "-" + hex.EncodeToString(sum[:3])
	}
	return name, name == s
}

// SameFile is a key that two names of files share when a file system that knows no
// case takes them for one.
func SameFile(name string) string { return strings.ToLower(strings.ToUpper(name)) }

// isFileName reports whether a page may be written into a file of this name, with an
// ending.
func isFileName(s string) bool {
	return s != "" && plain(s) && !strings.ContainsAny(s, `/\`) && !reserved.MatchString(s) && len(s) <= 2*longestName
}
