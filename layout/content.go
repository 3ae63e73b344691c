package layout

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/render"
)

// This file digests what a sheet shows, so that an issue can tell a sheet that
// changed from one that did not. Sheets are drawn a second time for it, blind:
// without frame, revision, date, sheet numbers and references. Where a mark
// stands does not count, so that a new row does not change what is below it.

// The digests of a register, in hexadecimal digits.
const (
	sheetDigits = 16
	partDigits  = 8
)

// sheetKey names a sheet through all issues: its drawing number without the
// plant's prefix, which may change, and its part.
type sheetKey struct {
	name string
	part int
}

func (k sheetKey) String() string { return fmt.Sprintf("%s part %d", k.name, k.part) }

func (s *Sheet) key() sheetKey { return sheetKey{s.number(&model.Plant{}), s.Part} }

// numbered is the drawing number of a sheet with the plant's prefix.
func numbered(prefix string, k sheetKey) string {
	if prefix == "" {
		return k.name
	}
	return prefix + "-" + k.name
}

// content is what one sheet shows.
type content struct {
	key    sheetKey
	kind   *Kind
	loop   *model.Loop
	place  *model.Place
	cable  *model.Cable
	code   string      // wiring code
	digest string      // of all else
	parts  []drawnPart // of drawings, in the order drawn
}

// drawnPart is a conductor, terminal, device or other thing on a drawing, or a
// text that belongs to none.
type drawnPart struct {
	kind, tag string // such as terminal and JB-21/X1:7; text and ""
	digest    string
	at        Area
}

func (p drawnPart) String() string { return p.kind + " " + p.tag }

// textPart is the kind of a text that belongs to no part.
const textPart = "text"

// contents digests every sheet of the full set of a plant, in its order.
func contents(p *model.Plant) []content {
	q := *p
	// What belongs to an issue and not to the plant.
	q.Revisions, q.Status, q.Drawn, q.Checked, q.Approved = nil, "", "", "", ""
	q.Number = "" // Issues compares it
	pl := newPlan(&q, false, nil, nil)
	pl.blind = true
	for _, s := range pl.Sheets {
		s.No = -1
	}
	all := make([]content, 0, len(pl.Sheets))
	for page := range pl.Pages() {
		all = append(all, pl.content(pl.Sheets[len(all)], page.Items))
	}
	// The index prints the revision of every sheet: it changes with any of them.
	var digests []string
	for _, c := range all {
		digests = append(digests, c.digest, c.code)
	}
	for i := range all {
		if all[i].kind.Name == Index {
			all[i].digest = digestOf(sheetDigits, digests)
		}
	}
	return all
}

// content digests one sheet that was drawn blind.
func (pl *Plan) content(s *Sheet, items []render.Item) content {
	c := content{key: s.key(), kind: s.Kind, loop: s.Loop, place: s.Place, cable: s.Cable, code: s.Code}
	parts := gather(items, nil)
	p := pl.Plant
	facts := []string{p.Owner, p.Project, p.Name, s.Kind.Words, s.Words, s.Number, s.Paper.Name}
	if s.Loop != nil && s.Kind.Name == Loop {
		facts = append(facts, functionFacts(s.Loop)...)
	}
	for _, d := range parts {
		facts = append(facts, d.String()+" "+d.digest)
	}
	slices.Sort(facts)
	c.digest = digestOf(sheetDigits, facts)
	if !s.Kind.Form {
		c.parts = parts
	}
	return c
}

// functionFacts are the links of functions, which are drawn as lines alone.
func functionFacts(l *model.Loop) (facts []string) {
	names := func(all []*model.Circuit) (s string) {
		for _, c := range all {
			s += "|" + c.Name
		}
		return s
	}
	for _, f := range l.Functions {
		facts = append(facts, f.Tag+" reads"+names(f.Reads)+" drives"+names(f.Drives))
	}
	return facts
}

// gather lists the parts among marks. Groups that begin with the fact of a loop
// only hold others.
func gather(items []render.Item, parts []drawnPart) []drawnPart {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			if m.S != "" && !m.Ghost {
				parts = append(parts, drawnPart{textPart, "", digestOf(partDigits, []string{m.S}), boxOf(m)})
			}
		case *render.Group:
			if len(m.Data) == 0 || m.Data[0].Key == "loop" {
				parts = gather(m.Items, parts)
				continue
			}
			facts := groupFacts(m, nil)
			slices.Sort(facts)
			parts = append(parts, drawnPart{m.Data[0].Key, m.Data[0].Value, digestOf(partDigits, facts), boxOf(m)})
		}
	}
	return parts
}

// groupFacts are the data and texts of a group, and which marks it is drawn
// with: a valve that fails open differs from one that fails closed in no word.
func groupFacts(g *render.Group, facts []string) []string {
	for _, d := range g.Data {
		facts = append(facts, d.Key+"="+d.Value)
	}
	for _, item := range g.Items {
		switch m := item.(type) {
		case *render.Text:
			facts = append(facts, "text "+m.S)
		case *render.Line:
			facts = append(facts, fmt.Sprintf("line %v %v %d", m.Pen, m.Fill, len(m.Points)))
		case *render.Circle:
			facts = append(facts, fmt.Sprintf("circle %v %v", m.Pen, m.Fill))
		case *render.Curve:
			facts = append(facts, fmt.Sprintf("curve %v", m.Pen))
		case *render.Group:
			facts = groupFacts(m, facts)
		}
	}
	return facts
}

// digestOf is a digest of facts in n hexadecimal digits.
func digestOf(n int, facts []string) string {
	sum := sha256.Sum256([]byte(strings.Join(facts, "\n")))
	return hex.EncodeToString(sum[:])[:n]
}

// boxOf is the smallest area round marks; curves count with their handles.
func boxOf(items ...render.Item) Area {
	var a Area
	none := true
	add := func(points ...render.Point) {
		for _, p := range points {
			if none {
				a, none = Area{p, p}, false
			}
			a = a.join(Area{p, p})
		}
	}
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			add(m.Points...)
		case *render.Circle:
			add(render.Point{X: m.Centre.X - m.R, Y: m.Centre.Y - m.R}, render.Point{X: m.Centre.X + m.R, Y: m.Centre.Y + m.R})
		case *render.Curve:
			add(m.P[:]...)
		case *render.Text:
			least, most := render.Box(m)
			add(least, most)
		case *render.Group:
			if b := boxOf(m.Items...); b != (Area{}) {
				add(b.Min, b.Max)
			}
		}
	}
	return a
}

// join is the smallest area that holds two.
func (a Area) join(b Area) Area {
	return Area{
		render.Point{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		render.Point{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}

// meets tells whether two areas share more than an edge.
func (a Area) meets(b Area) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}
