package read

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"ringout/model"
)

// TestWordsAreTold: what is told of a key names all of the words that it may have, or
// none of them.
func TestWordsAreTold(t *testing.T) {
	t.Parallel()
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	var schema any
	if err := json.Unmarshal(text, &schema); err != nil {
		t.Fatal(err)
	}
	told := 0
	var walk func(at string, v any)
	walk = func(at string, v any) {
		object, ok := v.(map[string]any)
		if !ok {
			return
		}
		description, _ := object["description"].(string)
		means, _, _ := strings.Cut(description, "\n\n") // no default, no example
		var missing []string
		words, _ := object["enum"].([]any)
		for _, w := range words {
			if !strings.Contains(means, "`"+w.(string)+"`") {
				missing = append(missing, w.(string))
			}
		}
		if len(words) > 0 && len(missing) < len(words) {
			told++
			if len(missing) > 0 {
				t.Errorf("%s: %q does not tell of %q", at, means, missing)
			}
		}
		for key, of := range object {
			walk(at+"/"+key, of)
		}
	}
	walk("", schema)
	if told < 15 {
		t.Errorf("the words of only %d keys are told", told)
	}
}

// TestKindsAreListed: the table of the kinds of device in LANGUAGE.md has them all, each
// with as many terminals as it has.
func TestKindsAreListed(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("LANGUAGE.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(data), "\n| kind | terminals | lands on |\n")
	table, _, _ = strings.Cut(table, "\n\n")
	terminals := map[string]int{}
	for _, row := range strings.Split(table, "\n")[1:] {
		cells := strings.Split(row, " | ")
		kinds := strings.Split(strings.TrimPrefix(cells[0], "| "), ", ")
		names := strings.Split(cells[1], ", ")
		for i, k := range kinds {
			of := strings.Trim(names[min(i, len(names)-1)], "`") // kinds of one row may have the same
			terminals[strings.Trim(k, "`")] = len(strings.Fields(strings.TrimSuffix(of, "none")))
		}
	}
	for _, k := range model.DeviceKinds {
		want := 0
		for _, g := range k.Groups {
			want += len(g.Roles)
		}
		_, feed, _ := strings.Cut(k.Feed, " ")
		for _, spec := range []string{k.Coils, k.Contacts, feed} {
			if spec != "" {
				want += strings.Count(spec, "-") + strings.Count(spec, ", ") + 1
			}
		}
		if n, listed := terminals[k.Name]; !listed || n != want {
			t.Errorf("%q is in the table: %t, with %d terminals; it has %d", k.Name, listed, n, want)
		}
	}
	if len(terminals) != len(model.DeviceKinds) {
		t.Errorf("%d kinds are in the table, and there are %d", len(terminals), len(model.DeviceKinds))
	}
}
