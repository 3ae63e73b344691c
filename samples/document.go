package samples

import (
	"os"
	"strings"
	"testing"
)

// Document holds the parts of a document that are made by a test, each between
// <!-- name --> and <!-- /name -->, against what they should be; with update it
// writes them. again is the command that does.
func Document(t testing.TB, file string, parts map[string]string, update bool, again string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for part, want := range parts {
		open, end := "<!-- "+part+" -->\n", "<!-- /"+part+" -->"
		i, j := strings.Index(text, open), strings.Index(text, end)
		if i < 0 || j < i {
			t.Errorf("%s has no part %s", file, part)
			continue
		}
		i += len(open)
		if text[i:j] != want && !update {
			t.Errorf("the part %s of %s is stale: %s", part, file, again)
		}
		text = text[:i] + want + text[j:]
	}
	if update && text != string(data) {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
