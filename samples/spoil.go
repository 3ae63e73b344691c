package samples

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
)

// What Spoil makes of parts of a line.
var (
	listed = regexp.MustCompile(`\[[^\[\]{}]*\]`)
	keyed  = regexp.MustCompile(`, [a-zA-Z -]+: [^,\[\]{}]+`)
	figure = regexp.MustCompile(`[0-9]+`)
)

// Spoil makes a number of changes to a text: a word becomes another word of the
// text, two words change places, a line is lost or doubled, an indent grows, a
// list is emptied, a key is lost, a number becomes another.
func Spoil(text string, r *rand.Rand, changes int) string {
	for range changes {
		lines := strings.Split(text, "\n")
		i := r.IntN(len(lines))
		words := strings.Fields(lines[i])
		other := strings.Fields(lines[r.IntN(len(lines))])
		part := func(of *regexp.Regexp, by string) {
			if all := of.FindAllStringIndex(lines[i], -1); len(all) > 0 {
				at := all[r.IntN(len(all))]
				lines[i] = lines[i][:at[0]] + by + lines[i][at[1]:]
			}
		}
		switch kind := r.IntN(12); {
		case kind == 0:
			lines = slices.Delete(lines, i, i+1)
		case kind == 1:
			lines = slices.Insert(lines, r.IntN(len(lines)), lines[i])
		case kind == 2 && len(words) > 0:
			lines[i] = strings.Replace(lines[i], words[r.IntN(len(words))], "", 1)
		case kind == 3 && len(words) > 0:
			a, b := words[r.IntN(len(words))], words[r.IntN(len(words))]
			lines[i] = strings.Replace(strings.Replace(lines[i], a, "\x01", 1), b, a, 1)
			lines[i] = strings.Replace(lines[i], "\x01", b, 1)
		case kind == 4:
			lines[i] = " " + lines[i]
		case kind == 5:
			part(listed, "[]")
		case kind == 6:
			part(keyed, "")
		case kind == 7:
			part(figure, []string{"0", "1", "2", "3", "7", "48", "512", "99999", "0.001", "-1"}[r.IntN(10)])
		case len(words) > 0 && len(other) > 0:
			lines[i] = strings.Replace(lines[i], words[r.IntN(len(words))], other[r.IntN(len(other))], 1)
		}
		text = strings.Join(lines, "\n")
	}
	return text
}
