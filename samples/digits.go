package samples

import (
	"strconv"
	"strings"
)

// PrintsAs reports whether v rounds to a published number at its last printed digit.
func PrintsAs(v float64, published string) bool {
	_, fraction, _ := strings.Cut(published, ".")
	return strconv.FormatFloat(v, 'f', len(fraction), 64) == published
}
