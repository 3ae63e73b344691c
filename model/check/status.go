package check

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// checkInService: does a circuit that is in service run over cables, devices or
// terminals that are still to be installed? It cannot be: either they are there, or
// the circuit is not in service yet, and nobody would guard it as such.
func checkInService(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if c.Status != model.Existing {
		return
	}
	var tags []string
	var at []finding.Pos
	see := func(s model.Status, tag string, pos finding.Pos) {
		if s != model.Existing && !slices.Contains(tags, tag) {
			tags, at = append(tags, tag), append(at, pos)
		}
	}
	for _, w := range c.Conductors(p) {
		if w.Core != nil {
			see(w.Status, w.Core.Cable.Tag, w.Core.Cable.Pos)
		}
	}
	for _, st := range c.Stations() {
		see(st.Part.Status, st.Part.Tag, st.Part.Pos)
	}
	if len(tags) == 0 {
		return
	}
	const most = 4
	words := strings.Join(tags[:min(most, len(tags))], ", ")
	if n := len(tags) - most; n > 0 {
		words += " and " + model.Itoa(n) + " more"
	}
	pr := finding.At(c.Pos, finding.NotInService, "circuit %q is existing, but not all of its wiring is: %s", c.Name, words)
	pr.Hint = finding.Do("give what is there status: existing, or the loop status: new")
	for i := range min(most, len(at)) {
		pr.Also = append(pr.Also, finding.Related{Pos: at[i], Text: tags[i] + " is described here"})
	}
	found(pr)
}
