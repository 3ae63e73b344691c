package material

import (
	"os"
	"testing"

	"ringout/model"
	"ringout/model/read"
)

// TestCircuitLater: of the sample only the loop that room is kept for waits; a
// future cable makes a circuit wait, and its loop check is not counted.
func TestCircuitLater(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../samples"), "tern-island")
	p.EachCircuit(func(c *model.Circuit) {
		if got := c.Later(p); got != (c.Loop.Tag == "L-2150") {
			t.Errorf("%s waits for a later stage: %v", c.Name, got)
		}
	})
	c := p.Loops[0].Circuits[0]
	c.Conductors(p)[0].Status = model.Future
	m := material(p, Scope{Loops: p.Loops[:1]})
	if !c.Later(p) || itemOf(m, tests, loopTest).N > 0 {
		t.Errorf("%s waits: %v, loop checks %v", c.Name, c.Later(p), itemOf(m, tests, loopTest).N)
	}
}
