package sheet

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"

	"ringout/layout/issue"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/diff"
	"ringout/render"
)

// This file digests how a sheet is drawn, so that an issue can tell where on it, and
// on which sheets of a drawing, facts that changed are shown; whether any did,
// grounds.go tells. Sheets are drawn a second time for it, blind:
// without frame, revision, date, sheet numbers and references. Where a mark
// stands does not count, so that a new row does not change what is below it.

// Key names a sheet in the register of issues.
func (s *Sheet) Key() issue.SheetKey {
	return issue.SheetKey{Name: s.NumberIn(&model.Plant{}), Part: s.Part}
}

// content is what one sheet shows.
type content struct {
	key   issue.SheetKey
	kind  *Kind
	loop  *model.Loop
	place *model.Place
	cable *model.Cable
	code  string      // wiring code
	facts string      // digest of what its drawing stands on
	drawn string      // digest of how it is drawn
	parts []drawnPart // of drawings, in the order drawn
	kept  bool        // not drawn, so that parts are not known
}

// drawnPart is a conductor, terminal, device or other thing on a drawing, or a
// text that belongs to none.
type drawnPart struct {
	kind, tag string // such as terminal and JB-21/X1:7; text and ""
	digest    string
	cell      bool // one text of the part
	at        paper.Area
}

// shows are its digests as one word, for Known.
func (c *content) shows() string { return c.facts + c.drawn }

// shown takes the digests of a word of shows; "" where it is none.
func shown(word string) (facts, drawn string) {
	if len(word) != 2*issue.SheetDigits {
		return "", ""
	}
	return word[:issue.SheetDigits], word[issue.SheetDigits:]
}

func (p drawnPart) String() string { return p.kind + " " + p.tag }

// The kinds of a text that belongs to no part, and of spare terminals drawn as
// one.
const (
	textPart   = "text"
	sparesPart = "spares"
)

// contents digests every sheet of the full set of a plant, in its order. Of sheets
// that are known to be as they were, so is the digest: these are kept; nil knows
// none. For torn see Plan.Torn.
func (ks Kinds) contents(p *model.Plant, known func(kind, tag string) CachedDrawing) (all []content, torn bool) {
	q := *p
	// What belongs to an issue and not to the plant.
	q.Revisions, q.Status, q.Drawn, q.Checked, q.Approved = nil, "", "", "", ""
	// Sheets are planned as those of a set with a register, by whatever issue: a
	// drawing has as many sheets here as in the set.
	pl := ks.Plan(&q, false, &issueStates{}, nil, known)
	pl.ContentOnly, q.Number = true, "" // Issues compares the prefix of numbers
	all = make([]content, len(pl.Sheets))
	var some []*Sheet
	var at []int // of these among all
	for i, s := range pl.Sheets {
		s.No = -1
		if d := s.drawing; d.kept {
			all[i] = content{key: s.Key(), kind: s.Kind, loop: s.Loop, place: s.Place, cable: s.Cable, code: s.Code, kept: true}
			all[i].facts, all[i].drawn = shown(d.known.Shows[s.Part-1])
			continue
		}
		some, at = append(some, s), append(at, i)
	}
	landed := terminals(p)
	for page := range pl.Draw(some) {
		all[at[0]], at = pl.content(pl.Sheets[at[0]], page.Items, landed), at[1:]
	}
	grounds := map[Subject]string{}
	for _, s := range some {
		grounds[s.Subject] = ""
	}
	subjects, g := slices.Collect(maps.Keys(grounds)), pl.findGrounds(diff.Objects(pl.Plant), false)
	digests := make([]string, len(subjects))
	each(len(subjects), func(i int) { digests[i] = g.digest(subjects[i]) })
	for i, x := range subjects {
		grounds[x] = digests[i]
	}
	for i := range all {
		if c := &all[i]; !c.kept {
			c.facts = grounds[Subject{c.loop, c.place, c.cable}]
		}
	}
	return all, pl.Torn()
}

// content digests one sheet that was drawn blind.
func (pl *Plan) content(s *Sheet, items []render.Item, landed map[string]*model.Terminal) content {
	c := content{key: s.Key(), kind: s.Kind, loop: s.Loop, place: s.Place, cable: s.Cable, code: s.Code}
	parts := gather(items, nil)
	p := pl.Plant
	marks := []string{p.Owner, p.Project, p.Name, s.Kind.Words, s.Words, c.key.Name, s.Paper.Name}
	if s.Loop != nil && !s.Kind.Form {
		marks = append(marks, functionFacts(s.Loop)...)
	}
	for _, d := range parts {
		marks = append(marks, d.String()+" "+d.digest)
	}
	slices.Sort(marks)
	c.drawn = digestOf(issue.SheetDigits, marks)
	if s.Place != nil {
		parts = landings(parts, landed)
	}
	if !s.Kind.Form {
		c.parts = parts
	}
	return c
}

// terminals are all terminals of a plant by tag.
func terminals(p *model.Plant) map[string]*model.Terminal {
	all := map[string]*model.Terminal{}
	add := func(parts []*model.Part) {
		for _, x := range parts {
			for _, t := range x.Terminals {
				all[t.Tag()] = t
			}
		}
	}
	for _, pl := range p.Places {
		add(pl.Parts)
	}
	for _, l := range p.Loops {
		add(l.Devices)
		for _, d := range l.Devices {
			add(d.Ports())
		}
	}
	return all
}

// landings tells of the terminals on a sheet of a place what lands on them, so
// that one that is freed differs, and one that is as spare as before does not,
// be it drawn alone or among others as one. What is written beside a terminal
// follows from that.
func landings(parts []drawnPart, terminals map[string]*model.Terminal) (all []drawnPart) {
	var rows []paper.Area
	for _, p := range parts {
		if p.kind == "terminal" {
			rows = append(rows, p.at)
		}
	}
	for _, p := range parts {
		mid := (p.at.Min.Y + p.at.Max.Y) / 2
		switch t := terminals[p.tag]; {
		case p.kind == sparesPart, p.kind == "terminal" && p.cell:
			continue
		case p.kind == textPart && slices.ContainsFunc(rows, func(a paper.Area) bool { return a.Min.Y <= mid && mid <= a.Max.Y }):
			continue
		case p.kind == "terminal" && t != nil:
			facts := []string{t.Kind.String(), t.Fuse.Text, string(rune(t.Role))}
			if t.Bond != nil {
				facts = append(facts, "bonded to "+t.Bond.Tag)
			}
			if t.Fed != nil {
				facts = append(facts, "fed from "+t.Fed.Words())
			}
			for _, u := range t.Ends {
				facts = append(facts, fmt.Sprint(u.Side, wording.ConductorName(u.Conductor)))
			}
			p.digest = digestOf(issue.PartDigits, facts)
		}
		all = append(all, p)
	}
	return all
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
		facts = append(facts, f.Tag+" reads"+names(f.Reads)+" drives"+names(f.Outputs))
		for _, from := range f.Takes {
			facts = append(facts, f.Tag+" takes "+from.Tag)
		}
	}
	return facts
}

// gather lists the parts among marks. Groups that begin with the fact of a loop
// only hold others. Of a group with no fact but its tag, every text is a part by
// itself: of a row in a table only the cells that changed have clouds.
func gather(items []render.Item, parts []drawnPart) []drawnPart {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			if m.S != "" && !m.Ghost {
				parts = append(parts, drawnPart{textPart, "", digestOf(issue.PartDigits, []string{m.S}), false, paper.BoxOf(m)})
			}
		case *render.Group:
			if len(m.Data) == 0 || m.Data[0].Key == "loop" {
				parts = gather(m.Items, parts)
				continue
			}
			kind, tag, alone := m.Data[0].Key, m.Data[0].Value, len(m.Data) == 1
			facts := groupFacts(m, nil, alone)
			slices.Sort(facts)
			parts = append(parts, drawnPart{kind, tag, digestOf(issue.PartDigits, facts), false, paper.BoxOf(m)})
			if kind == sparesPart {
				parts = gather(m.Items, parts)
			} else if alone {
				for _, t := range gatherTexts(m.Items, nil) {
					parts = append(parts, drawnPart{kind, tag, digestOf(issue.PartDigits, []string{t.S}), true, paper.BoxOf(t)})
				}
			}
		}
	}
	return parts
}

func gatherTexts(items []render.Item, texts []*render.Text) []*render.Text {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			texts = append(texts, m)
		case *render.Group:
			texts = gatherTexts(m.Items, texts)
		}
	}
	return texts
}

// groupFacts are the data and texts of a group, or only how many texts, and
// which marks it is drawn with: a valve that fails open differs from one that
// fails closed in no word.
func groupFacts(g *render.Group, facts []string, count bool) []string {
	for _, d := range g.Data {
		facts = append(facts, d.Key+"="+d.Value)
	}
	for _, item := range g.Items {
		switch m := item.(type) {
		case *render.Text:
			if count {
				facts = append(facts, "text")
			} else {
				facts = append(facts, "text "+m.S)
			}
		case *render.Line:
			facts = append(facts, fmt.Sprintf("line %v %v %d", m.Pen, m.Fill, len(m.Points)))
		case *render.Circle:
			facts = append(facts, fmt.Sprintf("circle %v %v", m.Pen, m.Fill))
		case *render.Curve:
			facts = append(facts, fmt.Sprintf("curve %v", m.Pen))
		case *render.Modules:
			facts = append(facts, fmt.Sprintf("modules %v", m.Black))
		case *render.Group:
			facts = groupFacts(m, facts, count)
		}
	}
	return facts
}

// digestOf is a digest of facts in n hexadecimal digits.
func digestOf(n int, facts []string) string {
	sum := sha256.Sum256([]byte(strings.Join(facts, "\n")))
	return hex.EncodeToString(sum[:])[:n]
}
