package render

// markClear is the white that a mark for machines has around it at the least.
const markClear = 250 * UM

// mark is what a machine has to find on the page, with the white around it.
type mark struct {
	box
	name        string
	first, last int // orders of its own ink
}

// markOf is the mark that a group draws, whose marks have orders after first up to last.
func markOf(g *Group, first, last int) mark {
	var corners []Point
	clear := markClear
	Reach(g.Items, func(item Item, least, most Point) {
		corners = append(corners, least, most)
		if m, ok := item.(*Modules); ok {
			clear = max(clear, m.Size) // ISO/IEC 16022: a module at the least
		}
	})
	if len(corners) == 0 {
		corners = []Point{{}}
	}
	return mark{boxOf(corners).widened(clear), g.ID, first, last}
}

// crowded finds the ink that comes too near to a mark for machines. A page has few.
func (a *auditor) crowded() {
	for _, m := range a.marks {
		tell := func(order int, what string, at Point) {
			if order <= m.first || order > m.last {
				a.find(CrowdedMark, at, "%s is too near to %s", what, m.name)
			}
		}
		for i := range a.strokes {
			if s := &a.strokes[i]; s.crosses(m.box) {
				tell(s.order, "a stroke", s.least)
			}
		}
		for i := range a.fills {
			if f := &a.fills[i]; f.touches(m.box) && (f.fill != Blank || f.order > m.last) {
				tell(f.order, "a fill", f.least)
			}
		}
		for i := range a.texts {
			if t := &a.texts[i]; t.inks(m.overlaps) {
				tell(t.order, "a text", t.least)
			}
		}
	}
}
