package samples

import (
	"fmt"
	"strings"
)

// ReplaceLines puts parts of a text in the place of others, part by part. Each part is
// whole lines but for an indent, and has to stand in the text once: else there is an
// error.
func ReplaceLines(text, old, new string) (string, error) {
	olds, news := strings.Split(old, "\n…\n"), strings.Split(new, "\n…\n")
	if len(olds) != len(news) {
		return "", fmt.Errorf("%d parts for %d", len(news), len(olds))
	}
	for i, part := range olds {
		lines, want := strings.Split(text, "\n"), strings.Split(part, "\n")
		found, indent := -1, ""
		for at := range len(lines) - len(want) + 1 {
			in, ok := strings.CutSuffix(lines[at], want[0])
			ok = ok && strings.TrimLeft(in, " ") == ""
			for j := range want {
				ok = ok && lines[at+j] == in+want[j]
			}
			if ok && found >= 0 {
				return "", fmt.Errorf("there twice:\n%s", part)
			} else if ok {
				found, indent = at, in
			}
		}
		if found < 0 {
			return "", fmt.Errorf("not there:\n%s", part)
		}
		put := indent + strings.ReplaceAll(news[i], "\n", "\n"+indent)
		text = strings.Join(append(append(lines[:found:found], put), lines[found+len(want):]...), "\n")
	}
	return text, nil
}
