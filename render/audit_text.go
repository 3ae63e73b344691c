package render

// box is an upright rectangle; edges belong to it.
type box struct{ least, most Point }

// overlaps reports whether two boxes share more than an edge.
func (b box) overlaps(c box) bool {
	return b.least.X < c.most.X && c.least.X < b.most.X && b.least.Y < c.most.Y && c.least.Y < b.most.Y
}

// widened returns the box with d more on all sides.
func (b box) widened(d Len) box {
	return box{Point{b.least.X - d, b.least.Y - d}, Point{b.most.X + d, b.most.Y + d}}
}

// boxOf returns the smallest box around points, of which there is at least one.
func boxOf(points []Point) box {
	b := box{points[0], points[0]}
	for _, p := range points[1:] {
		b.least.X, b.most.X = min(b.least.X, p.X), max(b.most.X, p.X)
		b.least.Y, b.most.Y = min(b.least.Y, p.Y), max(b.most.Y, p.Y)
	}
	return b
}

// inked is a text and the box of its ink.
type inked struct {
	*Text
	box
	order int
	of    *part
}

// inks reports whether a letter of t has ink where meets says so.
func (t *inked) inks(meets func(letter box) bool) bool {
	found := false
	if meets(t.box) {
		t.letters(func(b box) { found = found || meets(b) })
	}
	return found
}

// over reports whether letters of two texts share ink.
func (t *inked) over(u *inked) bool {
	return t.inks(func(b box) bool { return b.overlaps(u.box) && u.inks(b.overlaps) })
}

// stroke is one straight piece of a line or curve, or a circle if r is not 0.
type stroke struct {
	box
	from, to Point
	r, half  Len // half is half the width of the pen
	order    int
}

// crosses reports whether the stroke leaves ink in b.
func (s *stroke) crosses(b box) bool {
	b = b.widened(s.half)
	if s.r != 0 {
		near, far := reach(s.box, b)
		r := int64(s.r)
		return near < r*r && far > r*r
	}
	if !s.overlaps(b) {
		return false
	}
	// All corners on one side of the line through the stroke: it misses.
	var above, below bool
	for _, c := range corners(b) {
		turn := int64(s.to.X-s.from.X)*int64(c.Y-s.from.Y) - int64(s.to.Y-s.from.Y)*int64(c.X-s.from.X)
		above, below = above || turn > 0, below || turn < 0
	}
	return above && below
}

// filled is a rectangle with a fill, or a circle if r is not 0.
type filled struct {
	box
	r     Len
	fill  Fill
	order int
}

func (f *filled) covers(b box) bool {
	if f.r != 0 {
		_, far := reach(f.box, b)
		return far <= int64(f.r)*int64(f.r)
	}
	return f.least.X <= b.least.X && f.least.Y <= b.least.Y && f.most.X >= b.most.X && f.most.Y >= b.most.Y
}

func (f *filled) touches(b box) bool {
	if f.r != 0 {
		near, _ := reach(f.box, b)
		return near < int64(f.r)*int64(f.r)
	}
	return f.overlaps(b)
}

// reach returns the squares of the least and the greatest distance from the
// centre of a circle, given by the box around it, to the points of b.
func reach(circle, b box) (near, far int64) {
	x := int64(circle.least.X+circle.most.X) / 2
	y := int64(circle.least.Y+circle.most.Y) / 2
	dx := max(int64(b.least.X)-x, x-int64(b.most.X), 0)
	dy := max(int64(b.least.Y)-y, y-int64(b.most.Y), 0)
	ex := max(int64(b.most.X)-x, x-int64(b.least.X))
	ey := max(int64(b.most.Y)-y, y-int64(b.least.Y))
	return dx*dx + dy*dy, ex*ex + ey*ey
}

func corners(b box) [4]Point {
	return [4]Point{b.least, {b.most.X, b.least.Y}, b.most, {b.least.X, b.most.Y}}
}

// rectangle reports whether the four points are the corners of an upright box, in
// turn.
func rectangle(p []Point) bool {
	return len(p) == 4 &&
		(p[0].X == p[1].X && p[1].Y == p[2].Y && p[2].X == p[3].X && p[3].Y == p[0].Y ||
			p[0].Y == p[1].Y && p[1].X == p[2].X && p[2].Y == p[3].Y && p[3].X == p[0].X)
}

// flatten returns points on a cubic curve, close enough to find what it crosses.
func flatten(p [4]Point) []Point {
	const n = 16
	points := make([]Point, 0, n+1)
	for k := int64(0); k <= n; k++ {
		u := n - k
		w := [4]int64{u * u * u, 3 * u * u * k, 3 * u * k * k, k * k * k}
		var x, y int64
		for i, q := range p {
			x, y = x+w[i]*int64(q.X), y+w[i]*int64(q.Y)
		}
		points = append(points, Point{Len(x / (n * n * n)), Len(y / (n * n * n))})
	}
	return points
}

// grid sorts boxes into cells, so that a mark meets only its neighbours. What
// lies beyond the paper is kept in the cells along the edge.
type grid struct {
	cell       Len
	cols, rows int
}

func newGrid(w, h Len) grid {
	cell := max(10*MM, max(w, h)/256+1)
	return grid{cell, max(int(w/cell), 0) + 1, max(int(h/cell), 0) + 1}
}

func (g grid) col(x Len) int { return min(max(int(x/g.cell), 0), g.cols-1) }
func (g grid) row(y Len) int { return min(max(int(y/g.cell), 0), g.rows-1) }

// at returns the cell that a place is in.
func (g grid) at(p Point) int { return g.row(p.Y)*g.cols + g.col(p.X) }

// cells calls visit for every cell that b touches.
func (g grid) cells(b box, visit func(cell int)) {
	for row := g.row(b.least.Y); row <= g.row(b.most.Y); row++ {
		for col := g.col(b.least.X); col <= g.col(b.most.X); col++ {
			visit(row*g.cols + col)
		}
	}
}

// sorted holds marks of one sort, by number, in the cells of a grid.
type sorted struct {
	grid
	in  [][]int
	met *int // how many marks were taken out, all told
}

func (a *auditor) sorted(g grid) sorted { return sorted{g, make([][]int, g.cols*g.rows), &a.met} }

// put puts mark i into every cell that b touches.
func (s sorted) put(b box, i int) {
	s.cells(b, func(cell int) { s.in[cell] = append(s.in[cell], i) })
}

// of are the marks in a cell.
func (s sorted) of(cell int) []int {
	*s.met += len(s.in[cell])
	return s.in[cell]
}

// lettering finds what spoils the texts.
func (a *auditor) lettering(g grid) {
	texts := a.sorted(g)
	for i := range a.texts {
		t := &a.texts[i]
		g.cells(t.box, func(cell int) {
			for _, j := range texts.of(cell) {
				u := &a.texts[j]
				// Both may share several cells: count where their overlap begins.
				first := Point{max(t.least.X, u.least.X), max(t.least.Y, u.least.Y)}
				if t.overlaps(u.box) && g.at(first) == cell && t.over(u) {
					a.find(TextOverText, first, "text %q lies on text %q", t.S, u.S)
				}
			}
		})
		texts.put(t.box, i)
	}

	fills := a.sorted(g)
	for i := range a.fills {
		fills.put(a.fills[i].box, i)
	}
	for i := range a.texts {
		a.fillsOver(&a.texts[i], fills)
	}

	told := make([]int, len(a.texts)) // the mark last told of
	for i := range a.strokes {
		s := &a.strokes[i]
		g.cells(s.widened(s.half), func(cell int) {
			for _, j := range texts.of(cell) {
				t := &a.texts[j]
				if told[j] == s.order || !t.inks(s.crosses) || a.freed(t, s.order, fills.of(g.at(t.least))) {
					continue
				}
				told[j] = s.order
				a.find(StrokeThroughText, t.least, "a stroke at %v runs through text %q", s.least, t.S)
			}
		})
	}
}

// fillsOver reports the first fill that hides t or is black behind it.
func (a *auditor) fillsOver(t *inked, fills sorted) {
	told := false
	fills.cells(t.box, func(cell int) {
		for _, i := range fills.of(cell) {
			f := &a.fills[i]
			switch {
			case told:
			case f.order > t.order && t.inks(f.touches):
				told = true
				a.find(HiddenText, t.least, "text %q is covered", t.S)
			case f.order < t.order && f.fill == Solid && t.inks(f.touches) && !a.freed(t, f.order, fills.of(cell)):
				told = true
				a.find(StrokeThroughText, t.least, "text %q lies on black", t.S)
			}
		}
	})
}

// freed reports whether a blank drawn after the mark of the given order, and
// before the text, covers the mark where the text is.
func (a *auditor) freed(t *inked, order int, fills []int) bool {
	for _, i := range fills {
		f := &a.fills[i]
		if f.fill == Blank && order < f.order && f.order < t.order && f.covers(t.box) {
			return true
		}
	}
	return false
}
