package model

// InService holds the places in which existing wiring ends, and of each the
// existing loops in it, in the order of the text. Existing copper that a new loop
// takes over, or a fixed wire from a supply, adds no loop; spare cores do not
// count.
func (p *Plant) InService() map[*Place][]*Loop {
	all := map[*Place][]*Loop{}
	for _, w := range p.Conductors {
		if w.Status != InPlace || w.Core != nil && w.Circuit == nil {
			continue
		}
		for _, e := range []End{w.From, w.To} {
			pl := e.Where(p)
			if pl == nil {
				continue
			}
			loops := all[pl]
			// The wiring of a loop stands together in the text.
			if n := len(loops); w.Circuit != nil && w.Circuit.Loop.Status == InPlace && (n == 0 || loops[n-1] != w.Circuit.Loop) {
				loops = append(loops, w.Circuit.Loop)
			}
			all[pl] = loops
		}
	}
	return all
}
