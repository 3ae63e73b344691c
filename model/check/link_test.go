package check

import (
	"testing"
	"testing/fstest"

	"ringout/model/read"
)

// TestFibres: two links of one cable between the same places have fibres of their own; beyond
// a splice, other places have the rest of it. The cable of a link has no tag of another thing.
func TestFibres(t *testing.T) {
	t.Parallel()
	const head = `
plant: Fibres
cabinets: {RC-1: {controller: PCS-1}, RC-2: {controller: PCS-1}}
systems: {PCS-1: {}}
segments:
  A: {kind: fibre link, service: line A, ends: [RC-1 port 1, PCS-1 port 1], cable: F-1, fibres: 1 2}
  B: {kind: fibre link, service: line B, `
	for _, known := range []struct{ write, found string }{
		{"ends: [RC-1 port 2, PCS-1 port 2], cable: F-1, fibres: '3, 4'}", "shared-way"},
		{"ends: [RC-1 port 2, PCS-1 port 2], cable: F-1, fibres: '2, 3'}", "core-used-twice"},
		{"ends: [PCS-1 port 2, RC-1 port 2], cable: F-1, fibres: 2 3}", "core-used-twice"},
		{"ends: [RC-1 port 2, PCS-1 port 2], cable: F-1, fibres: 2 3, status: future}", "shared-way"},
		{"ends: [RC-1 port 2, PCS-1 port 2], cable: F-2, fibres: 1 2}", ""},
		{"ends: [RC-2 port 1, PCS-1 port 2], cable: F-1, fibres: 1 2}", ""},
		{"ends: [RC-2 port 1, PCS-1 port 2], cable: RC-2, fibres: 1 2}", "tag-twice"},
	} {
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(head + known.write)}}, "plant.yaml")
		problems = append(problems, Check(p)...).Sort()
		if len(problems) == 0 != (known.found == "") || len(problems) > 0 && problems[0].Code != known.found {
			t.Errorf("%s: %v", known.write, problems)
		}
	}
}
