package read

import (
	"bytes"
	"encoding/json"
	"maps"
)

// Schema returns the JSON Schema (draft 07) of one file of a plant, made from
// the fields that the reader knows: what an editor completes, explains and
// underlines. A file that is read without errors is never refused. What only
// the plant as a whole can tell, such as an unknown tag, is left to the check.
func Schema() ([]byte, error) {
	s := plantFields.shape()
	s.Type = append(s.Type, "null") // a file of comments
	s.Schema, s.Title = "http://json-schema.org/draft-07/schema#", "ringout plant"
	s.Definitions = map[string]*shape{
		"type": cableTypeFields.shape(), "cable": cableFields.shape(),
		"place": placeFields.shape(), "power": powerFields.shape(), "strip": stripFields.shape(), "plug": plugFields.shape(), "coupler": couplerFields.shape(), "card": cardFields.shape(),
		"barrier": barrierFields.shape(), "surge": surgeFields.shape(), "supply": supplyFields.shape(),
		"loop": loopFields.shape(), "segment": segmentFields.shape(), "device": deviceFields.shape(), "input": inputFields.shape(), "output": outputFields.shape(), "retransmission": senderFields.shape(), "function": functionFields.shape(),
		"path": circuitPath(),
	}
	for name, of := range maps.Clone(s.Definitions) {
		s.Definitions[name+WithBlanks] = of.withBlanks()
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(s)
	return b.Bytes(), err
}

// circuitPath is that of a circuit: stations and runs in turn, and legs that part.
func circuitPath() *shape {
	step := either(aText, named(defined("path")))
	step.Description = "a station, such as JB-21/X1 7 8 9, a run, such as W-21 pair 3, or the path of each leg from here on"
	return &shape{Type: types{"array"}, Items: step}
}
