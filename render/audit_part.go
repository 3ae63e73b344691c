package render

import (
	"strings"
)

// part is what a Group draws that has a Datum with one of the keys of parts.
type part struct {
	key, name string
	ends      []string // of a conductor: the terminals
	jumper    bool     // joins terminals of one strip
	in        *part    // drawn in
}

// Keys of the Data that make a Group a part; the first of a Group counts.
const (
	conductorKey = "conductor"
	terminalKey  = "terminal"
	cableKey     = "cable"
	revisionKey  = "revision" // stands where there is room
)

var partKeys = map[string]bool{conductorKey: true, terminalKey: true, cableKey: true, revisionKey: true, "device": true, "function": true}

// inner is the part that a group draws in p: p itself if it names none.
func (p *part) inner(g *Group) *part {
	q := p
	for _, d := range g.Data {
		switch {
		case q == p && partKeys[d.Key]:
			q = &part{key: d.Key, name: d.Value, in: p}
		case q == p || q.key != conductorKey:
		case d.Key == "jumper":
			q.jumper = true
		case d.Key == "from" || d.Key == "to":
			q.ends = append(q.ends, d.Value)
		}
	}
	return q
}

// conductor is the name of the conductor that p is, or is drawn in.
func (p *part) conductor() string {
	for ; p != nil; p = p.in {
		if p.key == conductorKey {
			return p.name
		}
	}
	return ""
}

func (p *part) String() string {
	if p == nil {
		return "no part"
	}
	return p.key + " " + p.name
}

// body is the tag of what a terminal sits on: JB-21/X1 of JB-21/X1:7.
func body(terminal string) string {
	if i := strings.LastIndexByte(terminal, ':'); i >= 0 {
		return terminal[:i]
	}
	return ""
}

// owns reports whether a mark of q belongs in the outline of p: q is p, is drawn in
// it or around it, is a terminal of it, or marks a revision.
func (p *part) owns(q *part) bool {
	for at := q; at != nil; at = at.in {
		if at == p || at.key == revisionKey || at.key == terminalKey && body(at.name) == p.name {
			return true
		}
	}
	for at := p; at != nil; at = at.in {
		if at == q {
			return true
		}
	}
	return false
}

// admits reports whether a run of conductor q may lie in the outline of p. In a
// terminal that is only the upright of a jumper, joined or passing by; in another
// part, a conductor that ends there.
func (p *part) admits(q *part, upright bool) bool {
	for ; q != nil && q.key != conductorKey; q = q.in {
	}
	if p == nil || q == nil {
		return false
	}
	if p.key == terminalKey && upright && q.jumper {
		return true
	}
	for _, end := range q.ends {
		if p.key == terminalKey && upright && body(end) == body(p.name) || p.key != terminalKey && body(end) == p.name {
			return true
		}
	}
	return false
}

// closed is a closed outline: a rectangle, or a circle if r is not 0.
type closed struct {
	box
	r   Len
	pen Pen
	of  *part
}

func (c *closed) holds(b box) bool { return (&filled{box: c.box, r: c.r}).covers(b) }

// closing remembers an outline. The wall of a place is none: it is no part, and
// words may break it.
func (a *auditor) closing(b box, r Len, pen Pen, of *part) {
	if pen == None || pen == Boundary {
		return
	}
	a.closed = append(a.closed, closed{b, r, pen, of})
	if of != nil && pen == Outline && r == 0 && (of.key == terminalKey || of.key == cableKey) {
		a.boxed[of] = true
	}
}

// strayDepth is how far a conductor may reach into an outline: it ends on the
// middle of the line.
const strayDepth = 300 * UM

// insideParts finds texts that leave their outlines, and texts and conductors in
// the outlines of other parts.
func (a *auditor) insideParts(g grid) {
	outlines := a.sorted(g)
	for i := range a.closed {
		outlines.put(a.closed[i].box, i)
	}
	for i := range a.texts {
		t := &a.texts[i]
		middle := Point{(t.least.X + t.most.X) / 2, (t.least.Y + t.most.Y) / 2}
		var around *closed // the smallest outline
		for _, j := range outlines.of(g.at(middle)) {
			if c := &a.closed[j]; c.holds(box{middle, middle}) && (around == nil || c.inside(around.box)) {
				around = c
			}
		}
		switch {
		case a.boxed[t.of] && (around == nil || around.of != t.of):
			a.find(TextLeavesPart, t.least, "text %q stands outside the box of %v", t.S, t.of)
		case around == nil:
		case !around.holds(t.box):
			a.find(TextLeavesPart, t.least, "text %q sticks out of the outline from %v to %v", t.S, around.least, around.most)
		case around.of != nil && !around.of.owns(t.of):
			a.find(MarkInForeignPart, t.least, "text %q of %v stands in %v", t.S, t.of, around.of)
		}
	}
	// Boxes to tick and sleeves are drawn on their own conductor.
	told := make([]int, len(a.closed)) // the run last told of, from 1
	for i, r := range a.runs {
		b := r.box()
		g.cells(b, func(cell int) {
			for _, j := range outlines.of(cell) {
				c := &a.closed[j]
				if told[j] == i+1 || c.pen != Outline || c.r != 0 || c.of == r.of && r.of != nil || !b.reaches(c.widened(-strayDepth)) || c.of.admits(r.of, r.upright) {
					continue
				}
				told[j] = i + 1
				a.find(MarkInForeignPart, b.least, "conductor %q runs in the outline from %v to %v of %v", r.conductor, c.least, c.most, c.of)
			}
		})
	}
}

// box is the run as a box without width.
func (r run) box() box {
	if r.upright {
		return box{Point{r.on, r.from}, Point{r.on, r.to}}
	}
	return box{Point{r.from, r.on}, Point{r.to, r.on}}
}

// reaches reports whether a box without width has a point within c.
func (b box) reaches(c box) bool {
	return b.least.X < c.most.X && b.most.X > c.least.X && b.least.Y < c.most.Y && b.most.Y > c.least.Y
}
