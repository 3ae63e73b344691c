package read

import (
	"slices"
)

// pick reads one of the words; what is written wrong leaves into as it is.
func pick[T ~uint8](r *plantReader, n node, into *T, words []string) {
	if w := r.oneOf(n, words...); w != "" {
		*into = T(slices.Index(words, w) + 1)
	}
}
