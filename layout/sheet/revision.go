package sheet

import (
	"slices"
	"strings"

	"ringout/layout/issue"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/diff"
	"ringout/render"
)

// PendingMark stands for the revision of a sheet that is altered and not issued.
const PendingMark = "?"

// issueState is what a sheet prints of its issues.
type issueState struct {
	Mark, Date, Status string
	Rows               []paper.Revision // of the revision table, oldest first
	clouds             []paper.Area     // round what changed
	cloud              string           // mark of the clouds
}

// issued plans a plant with a register; see NewSince.
func (ks Kinds) issued(p *model.Plant, draft bool, r *issue.Register, known func(kind, tag string) CachedDrawing) *Plan {
	states := &issueStates{r.Newest(), false, map[issue.SheetKey]*issueState{}, map[*model.Loop]*issueState{}, map[issue.SheetKey]string{}}
	whole := known
	if known != nil {
		whole = func(kind, tag string) CachedDrawing {
			k := known(kind, tag)
			if len(k.Shows) != k.Sheets || altered(r, p, ks.named(kind), tag, k) {
				k.Stamp = ""
			}
			return k
		}
	}
	all, torn := ks.contents(p, whole)
	kept := map[[2]string]bool{}
	for i, d := range compare(r, ks, p, all).sheets {
		c := &all[i]
		st := state(r, c, &d)
		states.of[c.key] = st
		states.Altered = states.Altered || st.Mark == PendingMark
		if c.loop != nil && c.kind.Form && c.key.Part == 1 {
			states.records[c.loop] = st
		}
		states.shows[c.key] = c.shows()
		if c.kept {
			kept[[2]string{c.kind.Name, Subject{c.loop, c.place, c.cable}.Tag()}] = true
		}
	}
	if known == nil {
		return ks.Plan(p, draft, states, nil, nil)
	}
	pl := ks.Plan(p, draft, states, nil, func(kind, tag string) CachedDrawing {
		k := known(kind, tag)
		if !kept[[2]string{kind, tag}] {
			k.Stamp = ""
		}
		return k
	})
	for _, s := range pl.Sheets { // what was not looked at has to be kept
		torn = torn || !s.drawing.kept && kept[[2]string{s.Kind.Name, s.Tag()}]
	}
	if torn {
		pl.CacheStale.Store(true)
	}
	return pl
}

// altered reports whether a sheet of a known drawing is not as it was issued: its words
// may tell of what is no longer near it.
func altered(r *issue.Register, p *model.Plant, kind *Kind, tag string, k CachedDrawing) bool {
	for i, shows := range k.Shows {
		was := r.Sheet(issue.SheetKey{Name: strings.TrimSuffix(kind.Letter+"-"+tag, "-"), Part: i + 1})
		facts, drawn := shown(shows)
		if was == nil || was.Withdrawn || (r.Facts != groundsForm || was.Facts != facts) && was.Drawn != drawn || was.Code != k.Code || r.Number != p.Number {
			return true
		}
	}
	return false
}

// issueStates are those of all sheets of a plan.
type issueStates struct {
	Newest  issue.Issue
	Altered bool // a sheet is not as it was issued
	of      map[issue.SheetKey]*issueState
	records map[*model.Loop]*issueState // of the first sheet of each record
	shows   map[issue.SheetKey]string   // digest of what each sheet shows
}

// state is what a sheet prints, given how it differs from the register.
func state(r *issue.Register, c *content, d *difference) *issueState {
	st := &issueState{}
	if d.was == nil {
		st.Mark, st.Date, st.Status = PendingMark, "–", paper.NotIssued
		if newest := r.Newest(); newest.Mark != "" {
			st.Status += ": new since rev " + newest.Mark
		}
		st.Rows = []paper.Revision{{Mark: PendingMark, Text: st.Status}}
		return st
	}
	for _, v := range d.was.Revs {
		is := r.Find(v.Mark)
		st.Rows = append(st.Rows, paper.Revision{Mark: v.Mark, Text: issueText(is, v.Words, c.kind.Form), Date: is.Date, By: is.By})
	}
	own := r.Find(d.was.Mark())
	st.Mark, st.Date, st.Status = own.Mark, own.Date, own.Status
	if !d.altered {
		if st.Status != issue.AsBuilt && len(d.was.Revs) > 1 {
			st.cloud, st.clouds = own.Mark, c.clouded(d, own.Mark)
		}
		return st
	}
	st.Mark, st.Date = PendingMark, "–"
	st.Status = paper.NotIssued + ": changed since rev " + own.Mark
	if d.was.Withdrawn {
		st.Status = paper.NotIssued + ": withdrawn at rev " + own.Mark
	}
	text := st.Status
	if words := condense(d.words, mostWords); words != "" && !c.kind.Form {
		text += ". " + words
	}
	st.Rows = append(st.Rows, paper.Revision{Mark: PendingMark, Text: text})
	st.cloud, st.clouds = PendingMark, c.clouded(d, "")
	return st
}

// clouded are the areas of a sheet that changed with a revision. The legs of a
// pair on a loop diagram, which stand wide apart, are one.
func (c *content) clouded(d *difference, since string) []paper.Area {
	var legs, others []paper.Area
	for i, p := range c.parts {
		switch {
		case d.since[i] != since:
		case c.loop != nil && (p.kind == "conductor" || p.kind == "terminal"):
			legs = append(legs, p.at)
		default:
			others = append(others, p.at)
		}
	}
	return append(others, paper.Merge(legs, func(a, b paper.Area) bool { return a.Near(b, paper.CloudNearX, paper.CloudLegs) })...)
}

// issueText is what the revision table says of an issue of a sheet: what changed
// on it, then the note of the issue. On forms there is room for one of them.
func issueText(is *issue.Issue, words string, form bool) string {
	switch {
	case words == "" && is.Note == "":
		return is.Status
	case words == "":
		return is.Note
	case is.Note == "" || form:
		return words
	}
	return words + ". " + is.Note
}

// difference is how a sheet differs from what was issued.
type difference struct {
	was     *issue.IssuedSheet // nil of a new sheet
	altered bool
	own     bool     // in what it shows, not by number or wiring code alone
	since   []string // of every part: the revision since which it is so; "" for a new or changed one
	removed []string // parts that the drawing shows no more, in words, sorted
	words   []string // what changed on it
}

// comparison is how a plant differs from the register.
type comparison struct {
	news   *news
	sheets []difference    // in the order of the set
	stands map[string]bool // names of drawings that are as issued, on fewer sheets perhaps
}

// gone reports whether a sheet that was issued shows something that no sheet shows now.
func (c *comparison) gone(s *issue.IssuedSheet, now map[issue.SheetKey]bool) bool {
	return !now[s.Key] && !c.stands[s.Key.Name]
}

// compare finds the sheets, and the parts on them, that are not as issued.
func compare(r *issue.Register, ks Kinds, p *model.Plant, all []content) *comparison {
	is, was := diff.Objects(p), r.Things
	if r.Converted() {
		was = issue.Settle(was, is)
	}
	was, reworded := diff.Reword(was, is)
	same := func(s *issue.IssuedSheet, c *content) bool { return s.Facts == c.facts }
	if reworded || r.Facts != groundsForm {
		same = stands(ks, p, was, is)
	}
	c := &comparison{newsOf(was, is), make([]difference, len(all)), map[string]bool{}}
	for from, to := 0, 0; from < len(all); from = to {
		for to = from; to < len(all) && all[to].key.Name == all[from].key.Name; to++ {
		}
		c.stands[all[from].key.Name] = compareDrawing(r, all[from:to], c.sheets[from:to], same)
	}
	c.index(r, all)
	for i := range all {
		d := &c.sheets[i]
		if d.was == nil {
			continue
		}
		d.altered = d.own || d.was.Withdrawn || d.was.Code != all[i].code || r.Number != p.Number
		if d.altered && !all[i].kept {
			d.words = c.words(&all[i], d, r.Number, p)
		}
	}
	return c
}

// stands returns a function that reports whether a drawing stands on the same facts as a sheet of
// it that was issued, where the digests of the register do not tell: they are of another
// form, or of other words for the same path. It looks for the things of then where the plant
// has them now, and besides at what the figures of the drawing rest on.
func stands(ks Kinds, p *model.Plant, was, is []diff.Object) func(*issue.IssuedSheet, *content) bool {
	pl := ks.Plan(p, false, nil, nil, nil)
	before, now := pl.findGrounds(was, true), pl.findGrounds(is, true)
	return func(_ *issue.IssuedSheet, c *content) bool {
		x := Subject{c.loop, c.place, c.cable}
		return before.digest(x) == now.digest(x)
	}
}

// index finds whether the index is as issued: it prints the revision of every
// sheet, and changes with any of them.
func (c *comparison) index(r *issue.Register, all []content) {
	now, changed := map[issue.SheetKey]bool{}, false
	for i := range all {
		now[all[i].key] = true
		d := &c.sheets[i]
		changed = changed || d.was == nil || d.own || d.was.Withdrawn || d.was.Code != all[i].code
	}
	changed = changed || slices.ContainsFunc(r.Sheets, func(s issue.IssuedSheet) bool { return !s.Withdrawn && c.gone(&s, now) })
	for i := range all {
		if all[i].kind.Lists {
			c.sheets[i].own = changed
		}
	}
}

// compareDrawing compares the sheets of one drawing. While it stands on the same
// facts, which it reports, all of it is as issued, on however many sheets and however it is
// drawn.
// Else a sheet is as issued that is drawn as it was. A part that went from one of
// the sheets to another is as it was. Parts of one tag are told apart by how they
// are drawn, so that a second drawing of a terminal is not mistaken for a change of
// the first.
func compareDrawing(r *issue.Register, all []content, ds []difference, same func(*issue.IssuedSheet, *content) bool) (stands bool) {
	name := all[0].key.Name
	first, _ := slices.BinarySearchFunc(r.Sheets, issue.SheetKey{Name: name, Part: 0}, func(s issue.IssuedSheet, k issue.SheetKey) int { return issue.CompareKeys(s.Key, k) })
	last := first
	was := map[issue.IssuedPart][]string{} // without mark: the marks
	stands = first < len(r.Sheets)
	for ; last < len(r.Sheets) && r.Sheets[last].Key.Name == name; last++ {
		stands = stands && !r.Sheets[last].Withdrawn && same(&r.Sheets[last], &all[0])
		for _, p := range r.Sheets[last].Parts {
			key := issue.IssuedPart{Kind: p.Kind, Tag: p.Tag, Digest: p.Digest, Mark: ""}
			was[key] = append(was[key], p.Mark)
		}
	}
	stands = stands && last > first
	now := map[string]bool{}
	for i, c := range all {
		d := &ds[i]
		if d.was = r.Sheet(c.key); d.was == nil && stands {
			d.was = &r.Sheets[last-1] // the same on more sheets
		}
		if d.was != nil {
			d.own = !stands && d.was.Drawn != c.drawn
		}
		if c.kept { // with all sheets of the drawing
			continue
		}
		d.since = make([]string, len(c.parts))
		for j, p := range c.parts {
			now[p.String()] = true
			key := issue.IssuedPart{Kind: p.kind, Tag: p.tag, Digest: p.digest, Mark: ""}
			if marks := was[key]; len(marks) > 0 {
				d.since[j], was[key] = marks[0], marks[1:]
			}
		}
	}
	switch {
	case all[0].kept:
		return stands
	case stands:
		carryMarks(all, ds, was)
		return true
	}
	for _, s := range r.Sheets[first:last] {
		d := &ds[min(s.Key.Part, len(ds))-1] // of what is left, where the drawing has fewer sheets
		for _, p := range s.Parts {
			if name := p.Kind + " " + p.Tag; p.Kind != textPart && !now[name] {
				d.removed = append(d.removed, name)
			}
		}
	}
	for i := range ds {
		slices.Sort(ds[i].removed)
		ds[i].removed = slices.Compact(ds[i].removed)
	}
	return false
}

// carryMarks says since when the parts are as they are that a drawing of the same
// facts draws otherwise than it was drawn: since the same as what is left of their
// tag, else since the sheet is there.
func carryMarks(all []content, ds []difference, left map[issue.IssuedPart][]string) {
	marks := map[[2]string][]string{}
	for p, m := range left {
		marks[[2]string{p.Kind, p.Tag}] = append(marks[[2]string{p.Kind, p.Tag}], m...)
	}
	for _, m := range marks {
		slices.Sort(m) // one order
	}
	for i, c := range all {
		for j, p := range c.parts {
			if ds[i].since[j] != "" {
				continue
			}
			ds[i].since[j] = ds[i].was.Revs[0].Mark
			if key := [2]string{p.kind, p.tag}; len(marks[key]) > 0 {
				ds[i].since[j], marks[key] = marks[key][0], marks[key][1:]
			}
		}
	}
}

// Changes is how a plant differs from the register.
type Changes struct {
	Things     []diff.Difference
	Sheets     []SheetChange // in the order of the set; those that are gone come last
	Rechecks   []SheetChange // records whose wiring stands, but not what it should show; the first sheet of each
	Renumbered int           // sheets that differ in the plant's prefix of their number alone
	Number     [2]string     // that prefix last issued, and now
	Markers    []string      // conductors with markers to print again
}

// SheetChange is how a sheet of the set differs from the register.
type SheetChange struct {
	Number string
	Part   int
	Rev    string      // revision last issued; "" for a new sheet
	What   string      // new, changed or withdrawn
	Record bool        // the sheet is a form that proves wiring
	Own    bool        // in what it shows, not by its wiring code alone
	Loop   *model.Loop // of a loop's sheet
	Cable  *model.Cable
	Groups []string // of a cable's record: pairs that changed
	Words  []string // what changed on it
	Was    string   // wiring code last issued
	Code   string   // wiring code now
}

// Changes lists how a plant differs from what the register has.
func (ks Kinds) Changes(r *issue.Register, p *model.Plant) *Changes {
	all, _ := ks.contents(p, nil)
	return changes(r, p, all, compare(r, ks, p, all))
}

func changes(r *issue.Register, p *model.Plant, all []content, found *comparison) *Changes {
	changes := &Changes{Things: found.news.all, Number: [2]string{r.Number, p.Number}, Markers: found.news.markers(p)}
	if len(r.Issues) == 0 {
		changes.Number[0] = p.Number
	}
	now := map[issue.SheetKey]bool{}
	for i, c := range all {
		now[c.key] = true
		d := &found.sheets[i]
		x := SheetChange{Number: issue.Numbered(p.Number, c.key), Part: c.key.Part, What: "new", Loop: c.loop, Cable: c.cable, Code: c.code}
		x.Record = c.kind.Form && !c.kind.Lists
		if d.was != nil {
			if words := found.recheck(&c, d, p); x.Record && d.was.Code == c.code && len(words) > 0 {
				if n := len(changes.Rechecks); n == 0 || changes.Rechecks[n-1].Number != x.Number {
					x.Words = words
					changes.Rechecks = append(changes.Rechecks, x)
				}
			}
			if !d.altered {
				continue
			}
			if !d.own && !d.was.Withdrawn && d.was.Code == c.code {
				changes.Renumbered++
				continue
			}
			x.Rev, x.What, x.Was, x.Own, x.Words = d.was.Mark(), "changed", d.was.Code, d.own, d.words
			if c.cable != nil {
				x.Groups = found.news.groups(c.cable)
			}
		}
		changes.Sheets = append(changes.Sheets, x)
	}
	for _, s := range r.Sheets {
		if !s.Withdrawn && found.gone(&s, now) {
			changes.Sheets = append(changes.Sheets, SheetChange{Number: issue.Numbered(r.Number, s.Key), Part: s.Key.Part, Rev: s.Mark(), What: issue.Withdrawn, Was: s.Code})
		}
	}
	return changes
}

// Issue returns the register after an issue of the plant, and what the issue
// changes. An issue that Accept refuses is an error.
func (ks Kinds) Issue(r *issue.Register, p *model.Plant, is issue.Issue) (*issue.Register, *Changes, error) {
	var before []string
	for _, rev := range p.Revisions {
		before = append(before, rev.Mark)
	}
	if err := r.Accept(is, before); err != nil {
		return nil, nil, err
	}
	all, _ := ks.contents(p, nil)
	found := compare(r, ks, p, all)
	next := &issue.Register{Issues: append(slices.Clone(r.Issues), is), Number: p.Number, Things: diff.Objects(p), Facts: groundsForm}
	now := map[issue.SheetKey]bool{}
	for i := range all {
		now[all[i].key] = true
		next.Sheets = append(next.Sheets, raise(r, &all[i], &found.sheets[i], is))
	}
	for _, s := range r.Sheets {
		if found.gone(&s, now) {
			s.Withdrawn, s.Facts, s.Drawn, s.Parts = true, "", "", nil
			next.Sheets = append(next.Sheets, s)
		}
	}
	slices.SortFunc(next.Sheets, func(a, b issue.IssuedSheet) int { return issue.CompareKeys(a.Key, b.Key) })
	return next, changes(r, p, all, found), nil
}

// raise is a sheet after an issue: of the issue's revision if it changed, if the
// status is another, and always if it is of the index.
func raise(r *issue.Register, c *content, d *difference, is issue.Issue) issue.IssuedSheet {
	s := issue.IssuedSheet{Key: c.key, Facts: c.facts, Drawn: c.drawn, Code: c.code}
	words := ""
	switch {
	case d.was != nil:
		s.Revs = slices.Clone(d.was.Revs)
		words = raisedWords(r, c, d, is)
	case len(r.Issues) > 0:
		words = "new sheet"
	}
	if d.was == nil || d.altered || c.kind.Lists || r.Find(s.Mark()).Status != is.Status {
		s.Revs = append(s.Revs, issue.IssuedRev{Mark: is.Mark, Words: words})
	}
	for i, p := range c.parts {
		since := d.since[i]
		if since == "" {
			since = is.Mark
		}
		s.Parts = append(s.Parts, issue.IssuedPart{Kind: p.kind, Tag: p.tag, Digest: p.digest, Mark: since})
	}
	slices.SortFunc(s.Parts, issue.CompareParts)
	return s
}

// Raised is how many sheets the newest issue gave its revision.
func Raised(r *issue.Register) (n int) {
	for i := range r.Sheets {
		if s := &r.Sheets[i]; !s.Withdrawn && s.Mark() == r.Newest().Mark {
			n++
		}
	}
	return n
}

// mark draws the clouds of a sheet onto its finished page.
func (pl *Plan) mark(s *Sheet, page *render.Page) {
	if st := pl.State(s); st != nil && len(st.clouds) > 0 {
		page.Items = append(page.Items, paper.Clouds(page.Items, st.clouds, s.Inner, st.cloud, s.Place != nil)...)
	}
}

// State is what a sheet prints of its issues; nil without a register.
func (pl *Plan) State(s *Sheet) *issueState {
	if pl.Issues == nil {
		return nil
	}
	return pl.Issues.of[s.Key()]
}

// Revision is what a sheet prints as its revision.
func (pl *Plan) Revision(s *Sheet) model.Revision {
	if st := pl.State(s); st != nil {
		return model.Revision{Mark: st.Mark, Date: st.Date}
	}
	return pl.Newest()
}

// RecordRevision is the revision of the plant's text that the record of a loop prints.
func (pl *Plan) RecordRevision(l *model.Loop) model.Revision {
	if pl.Issues == nil || pl.Issues.records[l] == nil {
		return pl.Newest()
	}
	st := pl.Issues.records[l]
	if st.Mark == PendingMark {
		return model.Revision{Mark: st.Status}
	}
	return model.Revision{Mark: st.Mark, Date: st.Date}
}

// Newest is the newest revision of the set: of the register, or without one of
// the plant's own text.
func (pl *Plan) Newest() model.Revision {
	if pl.Issues != nil {
		is := pl.Issues.Newest
		return model.Revision{Mark: is.Mark, Date: is.Date, Text: is.Note, By: is.By}
	}
	return pl.Plant.Revision()
}

// Status is that of the newest issue of the set: of the register, or without one
// of the plant's own text.
func (pl *Plan) Status() string {
	if pl.Issues != nil {
		return pl.Issues.Newest.Status
	}
	return pl.Plant.Status
}

// Compare lists how a plant differs from an older version of it.
func (ks Kinds) Compare(old, now *model.Plant) *Changes {
	first := issue.Issue{Mark: "A"}
	r, none := &issue.Register{Issues: []issue.Issue{first}, Number: old.Number, Things: diff.Objects(old), Facts: groundsForm}, &issue.Register{}
	was, _ := ks.contents(old, nil)
	for _, c := range was {
		r.Sheets = append(r.Sheets, raise(none, &c, &difference{since: make([]string, len(c.parts))}, first))
	}
	slices.SortFunc(r.Sheets, func(a, b issue.IssuedSheet) int { return issue.CompareKeys(a.Key, b.Key) })
	return ks.Changes(r, now)
}
