package read

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"ringout/model/colour"
	"ringout/samples"
)

var update = flag.Bool("update", false, "rewrite the made parts of the documents")

// TestReadmeParts keeps the parts of the documents that are made from what is read: the
// one-loop sample in the README, keys, colour codes and limits in LANGUAGE.md. -update
// rewrites them.
func TestReadmeParts(t *testing.T) {
	t.Parallel()
	sample, err := os.ReadFile("../../samples/one-loop/plant.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const again = "go test ./model/read -run Readme -update"
	samples.Document(t, "../../README.md", map[string]string{"one-loop": "```yaml\n" + string(sample) + "```\n"}, *update, again)
	samples.Document(t, "LANGUAGE.md", map[string]string{
		"codes": codeTable(), "limits": limitTable(),
		"keys of a plant": keyTable(plantFields), "keys of a practice": keyTable(practiceFields),
		"keys of a cable type": keyTable(cableTypeFields), "keys of a cable": keyTable(cableFields),
		"keys of a place": keyTable(placeFields), "keys of shared power": keyTable(powerFields), "keys of a strip": keyTable(stripFields), "keys of a coupler": keyTable(ownCouplerFields), "keys of a card": keyTable(cardFields),
		"keys of a barrier": keyTable(barrierFields), "keys of a surge protector": keyTable(surgeFields), "keys of a plug": keyTable(plugFields), "keys of a supply": keyTable(supplyFields),
		"keys of a loop": keyTable(loopFields), "keys of a segment": keyTable(segmentFields[:len(segmentFields)-len(loopFields)]), "keys of a device": keyTable(deviceFields), "keys of a function": keyTable(functionFields),
		"keys of an input": keyTable(inputFields), "keys of an output": keyTable(outputFields), "keys of a retransmission": keyTable(senderFields),
	}, *update, again)
}

// keyTable has a row for each key; keys that differ in nothing but the example
// share one.
func keyTable[T any](fs fields[T]) string {
	heads := []string{"key", "type", "default", "meaning", "example"}
	if !slices.ContainsFunc(fs, func(f field[T]) bool { return f.example != "" }) {
		heads = heads[:4]
	}
	var b strings.Builder
	b.WriteString("| " + strings.Join(heads, " | ") + " |\n" + strings.Repeat("|---", len(heads)) + "|\n")
	for i := 0; i < len(fs); {
		f := fs[i]
		var keys, examples []string
		for ; i < len(fs) && fs[i].is.words == f.is.words && fs[i].without == f.without && fs[i].told() == f.told(); i++ {
			keys = append(keys, "`"+fs[i].name+"`")
			if e := "`" + fs[i].example + "`"; e != "``" && !slices.Contains(examples, e) {
				examples = append(examples, e)
			}
		}
		cells := []string{strings.Join(keys, ", "), f.is.words, f.without, f.told(), strings.Join(examples, ", ")}
		row := "| " + strings.Join(cells[:len(heads)], " | ") + " |\n"
		b.WriteString(strings.ReplaceAll(row, "|  |", "| |"))
	}
	return b.String()
}

func limitTable() string {
	var b strings.Builder
	b.WriteString("| at most | |\n|---|---|\n")
	for _, l := range limits {
		fmt.Fprintf(&b, "| %d | %s |\n", l.most, l.of)
	}
	return b.String()
}

func codeTable() string {
	var b strings.Builder
	b.WriteString("| code | after |\n|---|---|\n")
	for _, c := range colour.Codes() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", c.Name, c.Source)
	}
	return b.String()
}
