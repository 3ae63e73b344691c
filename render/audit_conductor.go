package render

// end is where a line of a conductor begins or ends.
type end struct {
	Point
	conductor string
	order     int // of the line
}

// terminal is the reach of the strokes of a terminal.
type terminal struct {
	box
	name string
}

// joined returns the smallest box around both.
func (b box) joined(c box) box { return boxOf([]Point{b.least, b.most, c.least, c.most}) }

// inside reports whether b lies within c.
func (b box) inside(c box) bool {
	return b.least.X >= c.least.X && b.least.Y >= c.least.Y && b.most.X <= c.most.X && b.most.Y <= c.most.Y
}

// crossings finds level conductors that cross upright ones of another name.
func (a *auditor) crossings(g grid) {
	level := a.sorted(g)
	for i, r := range a.runs {
		if !r.upright {
			level.put(r.box(), i)
		}
	}
	for _, up := range a.runs {
		if !up.upright {
			continue
		}
		g.cells(up.box(), func(cell int) {
			for _, i := range level.of(cell) {
				r := a.runs[i]
				// Both may share several cells: they cross in one.
				at := Point{up.on, r.on}
				if r.conductor != up.conductor && up.from < r.on && r.on < up.to && r.from < up.on && up.on < r.to && g.at(at) == cell {
					a.find(CrossedConductors, at, "conductors %q and %q cross", up.conductor, r.conductor)
				}
			}
		})
	}
}

// capReach is how far from the strokes of its cap an end may lie.
const capReach = 1600 * UM

// looseEnds finds ends of conductors that touch no other mark. It looks at pages
// that have terminals.
func (a *auditor) looseEnds(g grid) {
	if len(a.terminals) == 0 {
		return
	}
	const near = 100 * UM
	dots, strokes := a.sorted(g), a.sorted(g)
	for i := range a.fills {
		if f := &a.fills[i]; f.fill == Solid || f.r != 0 {
			dots.put(f.widened(near), i)
		}
	}
	for i := range a.strokes {
		strokes.put(a.strokes[i].widened(near), i)
	}
	for _, e := range a.ends {
		spot := box{e.Point, e.Point}.widened(near)
		touched := false
		for _, i := range strokes.of(g.at(e.Point)) {
			if s := &a.strokes[i]; s.order != e.order && s.crosses(spot) {
				touched = true
				break
			}
		}
		for _, i := range dots.of(g.at(e.Point)) {
			touched = touched || a.fills[i].touches(spot)
		}
		for _, c := range a.caps[e.conductor] {
			touched = touched || spot.inside(c.widened(capReach))
		}
		if !touched {
			a.find(LooseEnd, e.Point, "conductor %q ends on nothing", e.conductor)
		}
	}
}

// terminalsApart finds terminals that lie partly on each other. One may stand
// whole within another: the two sides of a barrier.
func (a *auditor) terminalsApart(g grid) {
	terminals := a.sorted(g)
	for i, t := range a.terminals {
		g.cells(t.box, func(cell int) {
			for _, j := range terminals.of(cell) {
				u := a.terminals[j]
				first := Point{max(t.least.X, u.least.X), max(t.least.Y, u.least.Y)}
				if t.overlaps(u.box) && !t.inside(u.box) && !u.inside(t.box) && g.at(first) == cell {
					a.find(TerminalsOverlap, first, "terminals %q and %q lie on each other", u.name, t.name)
				}
			}
		})
		terminals.put(t.box, i)
	}
}
