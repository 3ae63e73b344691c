package model

import (
	"maps"
	"slices"

	"gopkg.in/yaml.v3"
)

// Revision is one line of the revision table.
type Revision struct{ Mark, Date, Text, By string }

// Revision returns the newest revision, or a zero one.
func (p *Plant) Revision() Revision {
	if len(p.Revisions) == 0 {
		return Revision{}
	}
	return p.Revisions[len(p.Revisions)-1]
}

// RevisionAt is where the sources of a plant without errors give the revision of
// a mark; a zero Pos where they do not.
func RevisionAt(sources map[string][]byte, mark string) Pos {
	for _, file := range slices.Sorted(maps.Keys(sources)) {
		var top struct {
			Revisions []struct{ Mark yaml.Node }
		}
		if yaml.Unmarshal(sources[file], &top) != nil {
			continue // it has errors
		}
		for _, r := range top.Revisions {
			if r.Mark.Value == mark {
				return Pos{file, r.Mark.Line, r.Mark.Column}
			}
		}
	}
	return Pos{}
}
