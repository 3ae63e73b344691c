package finding

import (
	"strings"
	"testing"

	"ringout/model/english"
)

// TestLaterTextIsSaid: a finding that is given another text after it was made is told by
// that, not by what it was made of.
func TestLaterTextIsSaid(t *testing.T) {
	t.Parallel()
	made := At(Pos{}, UnknownKey, "the screen of %s", "W-1")
	later := made
	later.Text = "another text"
	say := func(s english.Text) string { return strings.ReplaceAll(string(s), "screen", "shield") }
	if got := (Findings{made, later}).Say(say); got[0].Text != "the shield of W-1" || got[1].Text != "another text" {
		t.Errorf("said: %q, %q", got[0].Text, got[1].Text)
	}
}
