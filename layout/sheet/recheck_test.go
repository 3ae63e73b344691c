package sheet

import (
	"strings"
	"testing"

	"ringout/model/diff"
	"ringout/model/read"
)

// TestUnprovedKeys: what no test proves is named by keys of the language. One that is
// renamed would ask for tests again that stand.
func TestUnprovedKeys(t *testing.T) {
	schema, err := read.Schema()
	if err != nil {
		t.Fatal(err)
	}
	for kind, keys := range unproved {
		for _, key := range append(keys, keyLength, diff.KeyStatus) {
			if !strings.Contains(string(schema), `"`+key+`": {`) {
				t.Errorf("%s %q is no key", kind, key)
			}
		}
	}
}
