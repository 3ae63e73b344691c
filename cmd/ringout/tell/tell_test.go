package tell

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// TestNames: all names stand in a list, or it says how many more there are.
func TestNames(t *testing.T) {
	for n := range 3 * mostNamed {
		all := make([]string, n)
		for i := range all {
			all[i] = fmt.Sprint("N", i)
		}
		words, more := Names(all, ", "), 0
		if head, rest, cut := strings.Cut(words, " and "); cut {
			words = head
			if _, err := fmt.Sscanf(rest, "%d more", &more); err != nil || more == 0 {
				t.Errorf("%d names end with %q", n, rest)
			}
		}
		var shown []string
		if words != "" {
			shown = strings.Split(words, ", ")
		}
		if len(shown)+more != n || !slices.Equal(shown, all[:len(shown)]) {
			t.Errorf("of %d names it tells %q and %d more", n, shown, more)
		}
	}
}

// TestReason: what is wrong with a file comes without its name, and is the same error.
func TestReason(t *testing.T) {
	_, err := os.Open("missing.txt")
	if why := Reason(err); strings.Contains(why.Error(), "missing.txt") || !errors.Is(why, os.ErrNotExist) {
		t.Errorf("the reason is %q", why)
	}
	if other := errors.New("x"); Reason(other) != other {
		t.Error("another error does not stay as it is")
	}
}

// TestWrongUse: wrong use is told from other errors, however it is wrapped.
func TestWrongUse(t *testing.T) {
	err := fmt.Errorf("list: %w", WrongUsef("%q is not a list%s", "cabels", DidYouMean("cabels", []string{"cores", "cables"})))
	if use := (WrongUse{}); !errors.As(err, &use) || use.Error() != `"cabels" is not a list; did you mean cables?` {
		t.Errorf("told is %v", err)
	}
	if far := DidYouMean("xyz", []string{"cores", "cables"}); far != "" {
		t.Errorf("nothing is near, and it suggests %q", far)
	}
}
