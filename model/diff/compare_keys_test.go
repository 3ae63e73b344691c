package diff

import (
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

// TestKeysAreFacts: what the reader has a key for is a fact of the plant, under the
// same key; and a fact is under a key of the reader, or follows from others.
func TestKeysAreFacts(t *testing.T) {
	part := slices.Concat(keysOf(partGetters), []string{"terminals"})
	for _, c := range []struct {
		of      string
		read    []string
		told    []string
		apart   []string // keys of things that are told by themselves, or by their conductors
		follows []string // facts that no key of this thing gives
	}{
		{"plant", read.namesOf(read.plantFields), keysOf(titleGetters), []string{"revisions", "practice", "cable types", "boxes", "cabinets", "panels", "systems", "cables", "loops"}, nil},
		{"cable type", read.namesOf(read.cableTypeFields), keysOf(cableTypeGetters), nil, nil},
		{"cable", read.namesOf(read.cableFields), keysOf(cableGetters), []string{"glands", "overall", "spares"}, nil},
		{"loop", read.namesOf(read.loopFields), keysOf(loopGetters), []string{"devices", "functions", "circuits"}, nil},
		{"function", read.namesOf(read.functionFields), keysOf(functionGetters), nil, nil},
		{"place", read.namesOf(read.placeFields), keysOf(placeGetters), []string{"strips", "earths", "cards", "barriers", "isolators", "supplies", "feeds"}, nil},
		{"strip", read.namesOf(read.stripFields), slices.Concat(part, keysOf(stripGetters), keysOf(terminalGetters)), nil, []string{"kind", "in", "fuse", "feeds"}},
		{"card", read.namesOf(read.cardFields), slices.Concat(part, keysOf(cardGetters)), nil, []string{"in"}},
		{"supply", read.namesOf(read.supplyFields), slices.Concat(part, keysOf(supplyGetters)), nil, []string{"kind", "in"}},
		{"barrier", read.namesOf(read.barrierFields), slices.Concat(part, keysOf(barrierGetters)), nil, []string{"kind", "in"}},
		{"device", read.namesOf(read.deviceFields), slices.Concat(part, keysOf(deviceGetters)), nil, nil},
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
