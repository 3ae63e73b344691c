package diff

import (
	"encoding/json"
	"maps"
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
	"ringout/samples"
)

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
	var practice properties
	if err := json.Unmarshal(schema.Properties["practice"], &practice); err != nil {
		t.Fatal(err)
	}
	all["practice"] = slices.Collect(maps.Keys(practice.Properties))
	return all
}

// follow are facts that no key of their thing gives, by what has them in the schema.
var follow = map[string][]string{
	"strip": {"kind", "in", "fuse", "feeds"}, "card": {"in", "feeds"}, "supply": {"kind", "in"}, "barrier": {"kind", "in"}, "coupler": {"in"},
	"surge": {"kind", "in"}, "plug": {"kind", "in", "terminals"},
}

// TestFactsAreKeys: a fact of a thing is under a key that the language has for it, or
// follows from others; cmd/ringout holds that every key is a fact.
func TestFactsAreKeys(t *testing.T) {
	t.Parallel()
	keys := keysRead(t)
	var plants []*model.Plant
	for _, name := range []string{"tern-island", "one-loop"} {
		p, _, _ := read.Read(os.DirFS("../../samples"), name)
		plants = append(plants, p)
	}
	for seed := range uint64(samples.Many(t, 3, 10, 60)) {
		p, _, _ := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(samples.Random(seed, 8))}}, "p.yaml")
		plants = append(plants, p)
	}
	found := map[[2]string]bool{}
	for _, p := range plants {
		for _, thing := range Objects(p) {
			of, has := schemaName(p, thing)
			if !has {
				continue
			}
			for _, fact := range thing.Properties {
				if found[[2]string{of, fact.Key}] = true; !slices.Contains(keys[of], fact.Key) && !slices.Contains(follow[of], fact.Key) {
					t.Errorf("%s of %s is a fact under a key that the language does not have", fact.Key, thing.Words())
				}
			}
		}
	}
	if len(found) < 100 {
		t.Errorf("only %d keys found: the plants prove little", len(found))
	}
	for of, facts := range follow {
		for _, key := range facts {
			if slices.Contains(keys[of], key) || !found[[2]string{of, key}] {
				t.Errorf("%s of a %s is excepted for nothing", key, of)
			}
		}
	}
}

// schemaName is what the schema calls things of this kind; false of conductors,
// circuits and flags, whose facts are no keys, and of earth bars, which are a text.
func schemaName(p *model.Plant, thing Object) (string, bool) {
	switch part := p.PartByTag[thing.Tag]; {
	case thing.IsConductor() || thing.Kind == OfCircuit || thing.Kind == OfFlag:
		return "", false
	case thing.Kind == OfPlant:
		return "", true
	case thing.Kind == OfCableType:
		return "type", true
	case thing.Kind == OfLoop && slices.ContainsFunc(p.Loops, func(l *model.Loop) bool { return l.Segment != nil && l.Tag == thing.Of.Tag }):
		return "segment", true
	case slices.Contains([]string{OfPractice, OfCable, OfLoop, OfFunction, OfDevice}, thing.Kind):
		return thing.Kind, true
	case part == nil:
		return "place", true
	case part.Coupler != nil:
		return "coupler", true
	case part.Plug() != nil:
		return "plug", true
	case part.Strip != nil:
		return "strip", true
	case part.Card != nil:
		return "card", true
	case part.Supply != nil:
		return "supply", true
	case part.Kind.Diverts:
		return "surge", true
	case part.Barrier != nil:
		return "barrier", true
	}
	return "", false
}
