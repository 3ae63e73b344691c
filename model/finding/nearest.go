package finding

import (
	"slices"
	"strings"
	"unicode"
)

// Nearest returns the word of words that was most likely meant by the written
// one: the same but for case, hyphens and a plural s, or else the one with the
// fewest slips of the pen. Of equals the first wins; "" when none is near.
func Nearest(written string, words []string) string {
	w := []rune(Loose(written))
	best, least, plain := "", slips(len(w))+1, 0 // plain: slips from the very word, for those equally near
	if len(w) > 100 {
		return "" // a slip in a whole paragraph is not worth the search
	}
	for _, word := range words {
		v := []rune(Loose(word))
		if len(v) == 0 || max(len(v)-len(w), len(w)-len(v)) > least {
			continue
		}
		d, very := distance(w, v), distance([]rune(written), []rune(word))
		if d < least || best != "" && d == least && very < plain {
			best, least, plain = word, d, very
		}
	}
	return best
}

// NearestTag returns the tag that was meant by the written one: the only one with the
// same figures and letters but for case and the signs between them, or for O and I in
// the place of 0 and 1; else the only one with the same figures and a slip in a word of
// four letters and more. FT-2108 is another thing than FT-2107, and so is LT-2107: where
// nothing has the tag that is written, it is more likely yet to be described. "" for none.
func NearestTag(written string, tags []string) string {
	only := func(is func(tag string) bool) string {
		if i := slices.IndexFunc(tags, is); i >= 0 && !slices.ContainsFunc(tags[i+1:], func(tag string) bool { return tag != tags[i] && is(tag) }) {
			return tags[i]
		}
		return ""
	}
	alike := tagRuns(looksAlike.Replace(strings.ToLower(written)))
	if len(written) > 400 || len(alike) == 0 {
		return ""
	}
	if tag := only(func(tag string) bool { return slices.Equal(tagRuns(looksAlike.Replace(strings.ToLower(tag))), alike) }); tag != "" {
		return tag
	}
	runs := tagRuns(strings.ToLower(written))
	return only(func(tag string) bool {
		return slices.EqualFunc(tagRuns(strings.ToLower(tag)), runs, func(a, b string) bool {
			long := min(len([]rune(a)), len([]rune(b)))
			return a == b || long >= 4 && !unicode.IsDigit([]rune(a)[0]) && !unicode.IsDigit([]rune(b)[0]) && distance([]rune(a), []rune(b)) <= min(long/4, 2)
		})
	})
}

var looksAlike = strings.NewReplacer("o", "0", "i", "1", "l", "1")

// tagRuns are the runs of figures and of letters of a tag, without the signs between them.
func tagRuns(tag string) (runs []string) {
	var last rune
	for _, c := range tag {
		switch figure := unicode.IsDigit(c); {
		case !figure && !unicode.IsLetter(c) && c != '+':
			last = 0
			continue
		case last != 0 && figure == unicode.IsDigit(last):
			runs[len(runs)-1] += string(c)
		default:
			runs = append(runs, string(c))
		}
		last = c
	}
	return runs
}

// slips is how many slips may lie in a word of n letters. In short words two
// slips turn almost anything into anything.
func slips(n int) int {
	switch {
	case n < 4:
		return 1
	case n < 9:
		return 2
	}
	return n / 3
}

// Loose writes a name without what people vary: case, "_" and "-" for a space,
// the plural s.
func Loose(s string) string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == '_' || r == '-' || r == ' ' })
	for i, w := range words {
		if len(w) > 2 {
			words[i] = strings.TrimSuffix(w, "s")
		}
	}
	return strings.Join(words, " ")
}

// distance counts the letters added, dropped, changed or swapped with their
// neighbour between a and b (Damerau-Levenshtein, optimal string alignment).
func distance(a, b []rune) int {
	above, row, next := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		next[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			next[j+1] = min(row[j+1]+1, next[j]+1, row[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				next[j+1] = min(next[j+1], above[j-1]+1)
			}
		}
		above, row, next = row, next, above
	}
	return row[len(b)]
}
