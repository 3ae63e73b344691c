package read

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestKeys finds the keys in the source of the reader: each has to be in LANGUAGE.md
// and in the schema.
func TestKeys(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("LANGUAGE.md")
	if err != nil {
		t.Fatal(err)
	}
	schema, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	key := regexp.MustCompile(`(?m)^\t(?:\{|entityValue\()"([^"]+)", .*, (?:func\(|groupCount\()`)
	found := 0
	for _, f := range files {
		source, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range key.FindAllStringSubmatch(string(source), -1) {
			found++
			if !strings.Contains(string(data), "`"+m[1]+"`") {
				t.Errorf("LANGUAGE.md does not explain the key %s (%s)", m[1], f)
			}
			if !strings.Contains(string(schema), fmt.Sprintf("%q: {\n", m[1])) {
				t.Errorf("the schema does not know the key %s (%s)", m[1], f)
			}
		}
	}
	if found < 160 {
		t.Errorf("only %d keys found: the pattern of this test is stale", found)
	}
}
