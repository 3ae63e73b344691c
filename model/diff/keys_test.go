package diff

import (
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"ringout/model/read"
)

func keysOf[T any](gs getters[T]) (keys []string) {
	for _, g := range gs {
		keys = append(keys, g.key)
	}
	return keys
}

// keysRead are the keys that the language has, by the name of the thing in the schema;
// those of a plant file under "".
func keysRead(t *testing.T) map[string][]string {
	t.Helper()
	type properties struct{ Properties map[string]json.RawMessage }
	var schema struct {
		properties
		Definitions map[string]properties
	}
	text, err := read.Schema()
	if err == nil {
		err = json.Unmarshal(text, &schema)
	}
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]string{"": slices.Collect(maps.Keys(schema.Properties))}
	for name, d := range schema.Definitions {
		all[name] = slices.Collect(maps.Keys(d.Properties))
	}
	return all
}

// TestKeysAreFacts: what the reader has a key for is a fact of the plant, under the
// same key; and a fact is under a key of the reader, or follows from others.
func TestKeysAreFacts(t *testing.T) {
	keys := keysRead(t)
	part := slices.Concat(keysOf(partGetters), []string{"terminals"})
	for _, c := range []struct {
		of      string
		read    []string
		told    []string
		apart   []string // keys of things that are told by themselves, or by their conductors
		follows []string // facts that no key of this thing gives
	}{
		{"plant", keys[""], keysOf(titleGetters), []string{"revisions", "practice", "cable types", "boxes", "cabinets", "panels", "systems", "cables", "loops"}, nil},
		{"cable type", keys["type"], keysOf(cableTypeGetters), nil, nil},
		{"cable", keys["cable"], keysOf(cableGetters), []string{"glands", "overall", "spares"}, nil},
		{"loop", keys["loop"], keysOf(loopGetters), []string{"devices", "functions", "circuits"}, nil},
		{"function", keys["function"], keysOf(functionGetters), nil, nil},
		{"place", keys["place"], keysOf(placeGetters), []string{"strips", "earths", "cards", "barriers", "isolators", "supplies", "feeds"}, nil},
		{"strip", keys["strip"], slices.Concat(part, keysOf(stripGetters), keysOf(terminalGetters)), nil, []string{"kind", "in", "fuse", "feeds"}},
		{"card", keys["card"], slices.Concat(part, keysOf(cardGetters)), nil, []string{"in"}},
		{"supply", keys["supply"], slices.Concat(part, keysOf(supplyGetters)), nil, []string{"kind", "in"}},
		{"barrier", keys["barrier"], slices.Concat(part, keysOf(barrierGetters)), nil, []string{"kind", "in"}},
		{"device", keys["device"], slices.Concat(part, keysOf(deviceGetters)), nil, nil},
	} {
		for _, k := range c.read {
			if !slices.Contains(c.told, k) && !slices.Contains(c.apart, k) {
				t.Errorf("%s of a %s is read, and is no fact of it: add it to its getters", k, c.of)
			}
		}
		for _, k := range c.told {
			if !slices.Contains(c.read, k) && !slices.Contains(c.follows, k) {
				t.Errorf("%s of a %s is a fact under a key that the language does not have", k, c.of)
			}
		}
		for _, k := range slices.Concat(c.apart, c.follows) {
			if slices.Contains(c.read, k) && slices.Contains(c.told, k) {
				t.Errorf("%s of a %s is excepted for nothing", k, c.of)
			}
		}
	}
}
