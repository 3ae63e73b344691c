package read

import (
	"maps"
	"slices"

	"gopkg.in/yaml.v3"

	"ringout/model/finding"
)

// RevisionAt is where the sources of a plant without errors give the revision of
// a mark; a zero Pos where they do not.
func RevisionAt(sources map[string][]byte, mark string) finding.Pos {
	for _, file := range slices.Sorted(maps.Keys(sources)) {
		var top struct {
			Revisions []struct{ Mark yaml.Node }
		}
		if yaml.Unmarshal(sources[file], &top) != nil {
			continue // it has errors
		}
		for _, r := range top.Revisions {
			if r.Mark.Value == mark {
				return finding.Pos{File: file, Line: r.Mark.Line, Col: r.Mark.Column}
			}
		}
	}
	return finding.Pos{}
}
