package model

// InService reports whether a conductor is one of a loop in service.
func (c *Conductor) InService() bool {
	return c.Circuit != nil && c.Circuit.Loop.Status == InPlace && c.Status != Later
}

// InService holds the places that existing wiring or an existing loop comes to,
// and of each the existing loops there, in the order of the text. A loop in
// service counts on new copper too, but not on that of a later stage. Existing
// copper that a new loop takes over, or a fixed wire from a supply, adds no loop;
// spare cores do not count.
func (p *Plant) InService() map[*Place][]*Loop {
	all := map[*Place][]*Loop{}
	for _, w := range p.Conductors {
		there := w.InService()
		if !there && (w.Status != InPlace || w.Core != nil && w.Circuit == nil) {
			continue
		}
		for _, e := range []End{w.From, w.To} {
			pl := e.Where(p)
			if pl == nil {
				continue
			}
			loops := all[pl]
			// The wiring of a loop stands together in the text.
			if n := len(loops); there && (n == 0 || loops[n-1] != w.Circuit.Loop) {
				loops = append(loops, w.Circuit.Loop)
			}
			all[pl] = loops
		}
	}
	return all
}
