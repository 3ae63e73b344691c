package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Kinds of Finding. The words are stable.
const (
	TextOverText      = "text-over-text"       // two texts share ink
	StrokeThroughText = "stroke-through-text"  // a line, circle or curve, or black, runs through a text
	HiddenText        = "hidden-text"          // a fill drawn later lies on a text
	OutsideFrame      = "outside-frame"        // a mark leaves the drawing frame
	SmallText         = "small-text"           // capitals lower than 1.8 mm
	NarrowText        = "narrow-text"          // letters narrower than 70 % of their natural width
	SmallSafety       = "small-safety"         // words of safety lower than 2.5 mm
	ThinPen           = "thin-pen"             // a pen thinner than 0.18 mm
	RepeatedID        = "repeated-id"          // two groups of one id
	SlantedConductor  = "slanted-conductor"    // a conductor neither level nor upright
	SharedRun         = "shared-run"           // two conductors on one stretch of line
	CrossedConductors = "crossed-conductors"   // a level conductor crosses an upright one
	LooseEnd          = "loose-end"            // a conductor ends on nothing: no terminal, cap, dot or cable
	TerminalsOverlap  = "terminals-overlap"    // two terminals lie partly on each other
	TextLeavesPart    = "text-leaves-part"     // a text is not wholly within the outline it was put in
	CrowdedMark       = "crowded-mark"         // ink where a machine needs white round its mark
	MarkInForeignPart = "mark-in-foreign-part" // a text or conductor in the outline of a part it is not of
)

// Limits of lettering and lines: ISO 3098 and ISO 128 steps that survive a copy
// of an A3 sheet on A4.
const (
	leastHeight = 1800 * UM
	leastPen    = 180 * UM
	leastSafety = 2500 * UM // of words of safety
)

// LeastNarrow is how far letters are narrowed to fit, in per cent of their natural
// width: below that, those of a copied A3 sheet run together.
const LeastNarrow = 70

// Defect is one fault of a finished page.
type Defect struct {
	Kind string // one of the constants above
	Text string
	At   Point
}

// Audit looks for faults that a reader of the sheet would trip on, and returns them
// by kind and place. least and most are the upper left and lower right corners of the
// drawing frame; centre lines may lie on it. Its rules, beside the limits of lettering
// and lines:
//
//   - A text lies on no other text and on no line, but where a Blank rectangle or
//     circle between the two frees it.
//   - Marks in a Group with a Datum "conductor" belong to the conductor of that name,
//     those with "terminal", "cable", "device" or "function" to that part.
//   - Open lines of a conductor are level or upright, but for those of pen Thin (ticks,
//     leaders), and each of their ends touches another mark.
//   - A text whose middle is in a rectangle or circle is wholly in the smallest such,
//     accents and descenders included, and that is of its own part or of none. Words in
//     a Group with a Datum "revision" may be anywhere.
//   - A Group with a Datum "mark" is for a machine to find: no other ink is on it or
//     nearer than a module of its code, or than markClear.
//   - The words of a terminal or cable that is drawn with a box are in that box.
//   - A conductor is in no rectangle of pen Outline but of a part that its Datum "from"
//     or "to" ends on (the part, a colon, a name); in terminals only the upright of a
//     jumper, which has a Datum "jumper" or ends on that part.
//
// The time grows with the number of marks, not with its square.
func Audit(p *Page, least, most Point) []Defect {
	return audit(p, least, most, Pens[:])
}

func audit(p *Page, least, most Point, pens []Style) []Defect {
	a := auditor{pens: pens, least: least, most: most}
	a.look(p)
	return a.findings
}

// look fills in what there is to find.
func (a *auditor) look(p *Page) {
	a.ids, a.caps, a.thin, a.boxed = map[string]bool{}, map[string][]box{}, map[Pen]bool{}, map[*part]bool{}
	a.leaving(p.Items)
	a.collect(p.Items, nil)
	g := newGrid(p.W, p.H)
	a.lettering(g)
	a.sharedRuns()
	a.crossings(g)
	a.looseEnds(g)
	a.terminalsApart(g)
	a.insideParts(g)
	a.crowded()
	slices.SortStableFunc(a.findings, func(x, y Defect) int {
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.At.Y, y.At.Y), cmp.Compare(x.At.X, y.At.X))
	})
}

// auditor holds what one walk over a page has gathered.
type auditor struct {
	pens        []Style
	least, most Point
	ids         map[string]bool
	thin        map[Pen]bool // told already
	order       int          // of the mark, as drawn
	texts       []inked
	strokes     []stroke
	fills       []filled
	runs        []run
	ends        []end
	caps        map[string][]box // of the ends of each conductor: outlines
	terminals   []terminal
	closed      []closed
	marks       []mark
	boxed       map[*part]bool // parts that have a box for their words
	findings    []Defect
	met         int // how often a mark was held against one in its cell
}

// run is a level or upright stretch of a conductor.
type run struct {
	upright   bool
	on        Len // the coordinate that stays
	from, to  Len // the one that changes
	conductor string
	of        *part
}

func (a *auditor) find(kind string, at Point, format string, args ...any) {
	a.findings = append(a.findings, Defect{kind, fmt.Sprintf(format, args...), at})
}

func (a *auditor) collect(items []Item, of *part) {
	conductor := of.conductor()
	for _, item := range items {
		a.order++
		switch m := item.(type) {
		case *Line:
			if len(m.Points) == 0 {
				continue
			}
			a.pen(m.Pen, m.Points[0])
			a.line(m)
			if m.Closed && rectangle(m.Points) {
				a.closing(boxOf(m.Points), 0, m.Pen, of)
			}
			if conductor != "" && !m.Closed && m.Pen != Thin {
				a.conductor(m, conductor, of)
			}
		case *Circle:
			b := box{Point{m.Centre.X - m.R, m.Centre.Y - m.R}, Point{m.Centre.X + m.R, m.Centre.Y + m.R}}
			a.pen(m.Pen, m.Centre)
			if m.Pen != None {
				a.strokes = append(a.strokes, stroke{box: b, half: a.pens[m.Pen].Width / 2, r: m.R, order: a.order})
			}
			a.closing(b, m.R, m.Pen, of)
			if m.Fill != Hollow {
				a.fills = append(a.fills, filled{box: b, r: m.R, fill: m.Fill, order: a.order})
			}
		case *Curve:
			a.pen(m.Pen, m.P[0])
			if m.Pen != None {
				a.path(flatten(m.P), a.pens[m.Pen].Width/2)
			}
		case *Modules:
			a.fills = append(a.fills, filled{box: box{m.At, m.Corner()}, fill: Solid, order: a.order})
		case *Text:
			if m.S == "" {
				continue
			}
			t := inked{Text: m, order: a.order, of: of}
			var seen bool
			t.least, t.most, seen = Ink(m)
			if m.Height < leastHeight {
				a.find(SmallText, m.At, "text %q is %d µm high", m.S, m.Height)
			}
			if m.Narrow != 0 && m.Narrow < LeastNarrow {
				a.find(NarrowText, m.At, "text %q is narrowed to %d per cent", m.S, m.Narrow)
			}
			if m.Safety && m.Height < leastSafety {
				a.find(SmallSafety, m.At, "words of safety %q are %d µm high", m.S, m.Height)
			}
			if seen && !m.Ghost {
				a.texts = append(a.texts, t)
			}
		case *Group:
			if m.ID != "" && a.ids[m.ID] {
				a.find(RepeatedID, firstPlace(m.Items), "group id %q is used before", m.ID)
			}
			a.ids[m.ID] = true
			inner := of.inner(m)
			first, before := len(a.strokes), a.order
			a.collect(m.Items, inner)
			for _, d := range m.Data {
				if d.Key == "mark" {
					a.marks = append(a.marks, markOf(m, before, a.order))
				}
				if d.Key == "terminal" && first < len(a.strokes) {
					b := a.strokes[first].box
					for _, s := range a.strokes[first:] {
						b = b.joined(s.box)
					}
					a.terminals = append(a.terminals, terminal{b, d.Value})
				}
			}
		}
	}
}

// leaving finds the marks that leave the frame.
func (a *auditor) leaving(items []Item) {
	frame := box{a.least, a.most}
	Reach(items, func(item Item, least, most Point) {
		if (box{least, most}).inside(frame) {
			return
		}
		what := strings.ToLower(strings.TrimPrefix(fmt.Sprintf("%T", item), "*render."))
		switch m := item.(type) {
		case *Text:
			what = fmt.Sprintf("text %q", m.S)
		case *Link:
			what = fmt.Sprintf("link to %q", m.Page)
		}
		a.find(OutsideFrame, least, "%s reaches %v to %v", what, least, most)
	})
}

func (a *auditor) pen(pen Pen, at Point) {
	if w := a.pens[pen].Width; pen != None && w < leastPen && !a.thin[pen] {
		a.thin[pen] = true
		a.find(ThinPen, at, "pen %s is %d µm wide", a.pens[pen].Name, w)
	}
}

func (a *auditor) line(m *Line) {
	points := m.Points
	if m.Closed {
		points = append(slices.Clone(points), points[0])
		if m.Fill != Hollow && rectangle(m.Points) {
			a.fills = append(a.fills, filled{box: boxOf(points), fill: m.Fill, order: a.order})
		}
	}
	if m.Pen != None || m.Closed && m.Fill == Solid && !rectangle(m.Points) {
		a.path(points, a.pens[m.Pen].Width/2)
	}
}

func (a *auditor) path(points []Point, half Len) {
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		a.strokes = append(a.strokes, stroke{box: boxOf(points[i-1 : i+1]), half: half, from: from, to: to, order: a.order})
	}
}

func (a *auditor) conductor(m *Line, name string, of *part) {
	if m.Pen == Outline {
		a.caps[name] = append(a.caps[name], boxOf(m.Points))
	} else if n := len(m.Points); n > 1 {
		a.ends = append(a.ends, end{m.Points[0], name, a.order}, end{m.Points[n-1], name, a.order})
	}
	for i := 1; i < len(m.Points); i++ {
		from, to := m.Points[i-1], m.Points[i]
		switch {
		case from.Y == to.Y:
			a.runs = append(a.runs, run{false, from.Y, min(from.X, to.X), max(from.X, to.X), name, of})
		case from.X == to.X:
			a.runs = append(a.runs, run{true, from.X, min(from.Y, to.Y), max(from.Y, to.Y), name, of})
		default:
			a.find(SlantedConductor, from, "conductor %q runs from %v to %v", name, from, to)
		}
	}
}

// sharedRuns sweeps along every level and upright that carries conductors.
func (a *auditor) sharedRuns() {
	upright := func(r run) int {
		if r.upright {
			return 1
		}
		return 0
	}
	slices.SortFunc(a.runs, func(x, y run) int {
		return cmp.Or(cmp.Compare(upright(x), upright(y)), cmp.Compare(x.on, y.on),
			cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to), cmp.Compare(x.conductor, y.conductor))
	})
	// The two conductors that reach furthest so far are enough to tell whether
	// the next run begins on another conductor.
	var far, next run
	for i, r := range a.runs {
		if i == 0 || r.upright != far.upright || r.on != far.on {
			far, next = r, run{to: r.from}
			continue
		}
		other := far
		if far.conductor == r.conductor {
			other = next
		}
		if shared := min(other.to, r.to); r.from < shared {
			at := Point{r.from, r.on}
			if r.upright {
				at = Point{r.on, r.from}
			}
			a.find(SharedRun, at, "conductors %q and %q share %d µm of line", other.conductor, r.conductor, shared-r.from)
		}
		switch {
		case r.conductor == far.conductor:
			far.to = max(far.to, r.to)
		case r.to > far.to:
			far, next = r, far
		case r.to > next.to:
			next = r
		}
	}
}

// firstPlace returns where a group's first mark is.
func firstPlace(items []Item) Point {
	for _, item := range items {
		switch m := item.(type) {
		case *Line:
			if len(m.Points) > 0 {
				return m.Points[0]
			}
		case *Circle:
			return m.Centre
		case *Curve:
			return m.P[0]
		case *Text:
			return m.At
		case *Modules:
			return m.At
		case *Link:
			return m.Min
		case *Group:
			if p := firstPlace(m.Items); p != (Point{}) {
				return p
			}
		}
	}
	return Point{}
}
