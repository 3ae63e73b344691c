package layout

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/render"
)

// pendingMark stands for the revision of a sheet that is altered and not issued.
const pendingMark = "?"

// issueState is what a sheet prints of its issues.
type issueState struct {
	mark, date, status string
	rows               []Revision // of the revision table, oldest first
	clouds             []Area     // round what changed
	cloud              string     // mark of the clouds
}

// issued plans a plant with a register; see NewSince.
func (ks Kinds) issued(p *model.Plant, draft bool, r *Issues, known func(kind, tag string) Known) *Plan {
	states := &issueStates{r.Newest(), false, map[sheetKey]*issueState{}, map[*model.Loop]*issueState{}, map[sheetKey]string{}}
	whole := known
	if known != nil {
		whole = func(kind, tag string) Known {
			k := known(kind, tag)
			if len(k.Shows) != k.Sheets || r.altered(p, ks.named(kind), tag, k) {
				k.Stamp = ""
			}
			return k
		}
	}
	all, torn := ks.contents(p, whole)
	kept := map[[2]string]bool{}
	for i, d := range r.compare(ks, p, all).sheets {
		c := &all[i]
		st := r.state(c, &d)
		states.of[c.key] = st
		states.altered = states.altered || st.mark == pendingMark
		if c.loop != nil && c.kind.Form && c.key.part == 1 {
			states.records[c.loop] = st
		}
		states.shows[c.key] = c.shows()
		if c.kept {
			kept[[2]string{c.kind.Name, Subject{c.loop, c.place, c.cable}.Tag()}] = true
		}
	}
	if known == nil {
		return ks.plan(p, draft, states, nil, nil)
	}
	pl := ks.plan(p, draft, states, nil, func(kind, tag string) Known {
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
		pl.torn.Store(true)
	}
	return pl
}

// altered tells whether a sheet of a known drawing is not as it was issued: its words
// may tell of what is no longer near it.
func (r *Issues) altered(p *model.Plant, kind *Kind, tag string, k Known) bool {
	for i, shows := range k.Shows {
		was := r.sheet(sheetKey{strings.TrimSuffix(kind.Letter+"-"+tag, "-"), i + 1})
		facts, drawn := shown(shows)
		if was == nil || was.withdrawn || (r.facts != groundsForm || was.facts != facts) && was.drawn != drawn || was.code != k.Code || r.number != p.Number {
			return true
		}
	}
	return false
}

// issueStates are those of all sheets of a plan.
type issueStates struct {
	newest  Issue
	altered bool // a sheet is not as it was issued
	of      map[sheetKey]*issueState
	records map[*model.Loop]*issueState // of the first sheet of each record
	shows   map[sheetKey]string         // digest of what each sheet shows
}

// state is what a sheet prints, given how it differs from the register.
func (r *Issues) state(c *content, d *difference) *issueState {
	st := &issueState{}
	if d.was == nil {
		st.mark, st.date, st.status = pendingMark, "–", notIssued
		if newest := r.Newest(); newest.Mark != "" {
			st.status += ": new since rev " + newest.Mark
		}
		st.rows = []Revision{{Mark: pendingMark, Text: st.status}}
		return st
	}
	for _, v := range d.was.revs {
		is := r.find(v.mark)
		st.rows = append(st.rows, Revision{v.mark, issueText(is, v.words, c.kind.Form), is.Date, is.By})
	}
	own := r.find(d.was.mark())
	st.mark, st.date, st.status = own.Mark, own.Date, own.Status
	if !d.altered {
		if st.status != AsBuilt && len(d.was.revs) > 1 {
			st.cloud, st.clouds = own.Mark, c.clouded(d, own.Mark)
		}
		return st
	}
	st.mark, st.date = pendingMark, "–"
	st.status = notIssued + ": changed since rev " + own.Mark
	if d.was.withdrawn {
		st.status = notIssued + ": withdrawn at rev " + own.Mark
	}
	text := st.status
	if words := condense(d.words, mostWords); words != "" && !c.kind.Form {
		text += ". " + words
	}
	st.rows = append(st.rows, Revision{Mark: pendingMark, Text: text})
	st.cloud, st.clouds = pendingMark, c.clouded(d, "")
	return st
}

// clouded are the areas of a sheet that changed with a revision. The lanes of a
// pair on a loop diagram, which stand wide apart, are one.
func (c *content) clouded(d *difference, since string) []Area {
	var lanes, others []Area
	for i, p := range c.parts {
		switch {
		case d.since[i] != since:
		case c.loop != nil && (p.kind == "conductor" || p.kind == "terminal"):
			lanes = append(lanes, p.at)
		default:
			others = append(others, p.at)
		}
	}
	return append(others, merge(lanes, func(a, b Area) bool { return a.near(b, cloudNearX, cloudLanes) })...)
}

const notIssued = "NOT ISSUED"

// issueText is what the revision table says of an issue of a sheet: what changed
// on it, then the note of the issue. On forms there is room for one of them.
func issueText(is *Issue, words string, form bool) string {
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
	was     *issuedSheet // nil of a new sheet
	altered bool
	own     bool     // in what it shows, not by number or wiring code alone
	since   []string // of every part: the revision since which it is so; "" for a new or changed one
	removed []string // parts that the drawing shows no more, in words, sorted
	words   []string // what changed on it
}

// comparison is how a plant differs from the register.
type comparison struct {
	news   *news
	sheets []difference // in the order of the set
}

// compare finds the sheets, and the parts on them, that are not as issued.
func (r *Issues) compare(ks Kinds, p *model.Plant, all []content) *comparison {
	is, was := model.Inventory(p), r.things
	if r.Converted() {
		was = settle(was, is)
	}
	same := r.stands(ks, p, was, is)
	c := &comparison{newsOf(was, is), make([]difference, len(all))}
	for from, to := 0, 0; from < len(all); from = to {
		for to = from; to < len(all) && all[to].key.name == all[from].key.name; to++ {
		}
		r.compareDrawing(all[from:to], c.sheets[from:to], same)
	}
	c.index(r, all)
	for i := range all {
		d := &c.sheets[i]
		if d.was == nil {
			continue
		}
		d.altered = d.own || d.was.withdrawn || d.was.code != all[i].code || r.number != p.Number
		if d.altered && !all[i].kept {
			d.words = c.words(&all[i], d, r.number, p)
		}
	}
	return c
}

// stands returns what tells whether a drawing stands on the same facts as a sheet of
// it that was issued. Where the digests of the register are of another form, it
// looks for the things of then where the plant has them now, and besides at what
// the figures of the drawing rest on.
func (r *Issues) stands(ks Kinds, p *model.Plant, was, is []model.Thing) func(*issuedSheet, *content) bool {
	if r.facts == groundsForm {
		return func(s *issuedSheet, c *content) bool { return s.facts == c.facts }
	}
	pl := ks.plan(p, false, nil, nil, nil)
	before, now := pl.findGrounds(was, true), pl.findGrounds(is, true)
	return func(_ *issuedSheet, c *content) bool {
		x := Subject{c.loop, c.place, c.cable}
		return before.digest(x) == now.digest(x)
	}
}

// index finds whether the index is as issued: it prints the revision of every
// sheet, and changes with any of them.
func (c *comparison) index(r *Issues, all []content) {
	now, changed := map[sheetKey]bool{}, false
	for i := range all {
		now[all[i].key] = true
		d := &c.sheets[i]
		changed = changed || d.was == nil || d.own || d.was.withdrawn || d.was.code != all[i].code
	}
	changed = changed || slices.ContainsFunc(r.sheets, func(s issuedSheet) bool { return !s.withdrawn && !now[s.key] })
	for i := range all {
		if all[i].kind.Lists {
			c.sheets[i].own = changed
		}
	}
}

// compareDrawing compares the sheets of one drawing. While it stands on the same
// facts, all of it is as issued, on however many sheets and however it is drawn.
// Else a sheet is as issued that is drawn as it was. A part that went from one of
// the sheets to another is as it was. Parts of one tag are told apart by how they
// are drawn, so that a second drawing of a terminal is not mistaken for a change of
// the first.
func (r *Issues) compareDrawing(all []content, ds []difference, same func(*issuedSheet, *content) bool) {
	name := all[0].key.name
	first, _ := slices.BinarySearchFunc(r.sheets, sheetKey{name, 0}, func(s issuedSheet, k sheetKey) int { return compareKeys(s.key, k) })
	last := first
	was := map[issuedPart][]string{} // without mark: the marks
	stands := first < len(r.sheets)
	for ; last < len(r.sheets) && r.sheets[last].key.name == name; last++ {
		stands = stands && !r.sheets[last].withdrawn && same(&r.sheets[last], &all[0])
		for _, p := range r.sheets[last].parts {
			key := issuedPart{p.kind, p.tag, p.digest, ""}
			was[key] = append(was[key], p.mark)
		}
	}
	stands = stands && last > first
	now := map[string]bool{}
	for i, c := range all {
		d := &ds[i]
		if d.was = r.sheet(c.key); d.was == nil && stands {
			d.was = &r.sheets[last-1] // the same on more sheets
		}
		if d.was != nil {
			d.own = !stands && d.was.drawn != c.drawn
		}
		if c.kept { // with all sheets of the drawing
			continue
		}
		d.since = make([]string, len(c.parts))
		for j, p := range c.parts {
			now[p.String()] = true
			key := issuedPart{p.kind, p.tag, p.digest, ""}
			if marks := was[key]; len(marks) > 0 {
				d.since[j], was[key] = marks[0], marks[1:]
			}
		}
	}
	switch {
	case all[0].kept:
		return
	case stands:
		carryMarks(all, ds, was)
		return
	}
	for _, s := range r.sheets[first:last] {
		d := &ds[min(s.key.part, len(ds))-1] // of what is left, where the drawing has fewer sheets
		for _, p := range s.parts {
			if name := p.kind + " " + p.tag; p.kind != textPart && !now[name] {
				d.removed = append(d.removed, name)
			}
		}
	}
	for i := range ds {
		slices.Sort(ds[i].removed)
		ds[i].removed = slices.Compact(ds[i].removed)
	}
}

// carryMarks says since when the parts are as they are that a drawing of the same
// facts draws otherwise than it was drawn: since the same as what is left of their
// tag, else since the sheet is there.
func carryMarks(all []content, ds []difference, left map[issuedPart][]string) {
	marks := map[[2]string][]string{}
	for p, m := range left {
		marks[[2]string{p.kind, p.tag}] = append(marks[[2]string{p.kind, p.tag}], m...)
	}
	for _, m := range marks {
		slices.Sort(m) // one order
	}
	for i, c := range all {
		for j, p := range c.parts {
			if ds[i].since[j] != "" {
				continue
			}
			ds[i].since[j] = ds[i].was.revs[0].mark
			if key := [2]string{p.kind, p.tag}; len(marks[key]) > 0 {
				ds[i].since[j], marks[key] = marks[key][0], marks[key][1:]
			}
		}
	}
}

// Changes is how a plant differs from the register.
type Changes struct {
	Things     []model.Difference
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

// changes lists how a plant differs from what the register has.
func (ks Kinds) changes(r *Issues, p *model.Plant) *Changes {
	all, _ := ks.contents(p, nil)
	return r.changes(p, all, r.compare(ks, p, all))
}

func (r *Issues) changes(p *model.Plant, all []content, found *comparison) *Changes {
	changes := &Changes{Things: found.news.all, Number: [2]string{r.number, p.Number}, Markers: found.news.markers(p)}
	if len(r.issues) == 0 {
		changes.Number[0] = p.Number
	}
	now := map[sheetKey]bool{}
	for i, c := range all {
		now[c.key] = true
		d := &found.sheets[i]
		x := SheetChange{Number: numbered(p.Number, c.key), Part: c.key.part, What: "new", Loop: c.loop, Cable: c.cable, Code: c.code}
		x.Record = c.kind.Form && !c.kind.Lists
		if d.was != nil {
			if words := found.recheck(&c, d, p); x.Record && d.was.code == c.code && len(words) > 0 {
				if n := len(changes.Rechecks); n == 0 || changes.Rechecks[n-1].Number != x.Number {
					x.Words = words
					changes.Rechecks = append(changes.Rechecks, x)
				}
			}
			if !d.altered {
				continue
			}
			if !d.own && !d.was.withdrawn && d.was.code == c.code {
				changes.Renumbered++
				continue
			}
			x.Rev, x.What, x.Was, x.Own, x.Words = d.was.mark(), "changed", d.was.code, d.own, d.words
			if c.cable != nil {
				x.Groups = found.news.groups(c.cable)
			}
		}
		changes.Sheets = append(changes.Sheets, x)
	}
	for _, s := range r.sheets {
		if !now[s.key] && !s.withdrawn {
			changes.Sheets = append(changes.Sheets, SheetChange{Number: numbered(r.number, s.key), Part: s.key.part, Rev: s.mark(), What: withdrawn, Was: s.code})
		}
	}
	return changes
}

// issue returns the register after an issue of the plant, and what the issue
// changes. An issue that Accept refuses is an error.
func (ks Kinds) issue(r *Issues, p *model.Plant, is Issue) (*Issues, *Changes, error) {
	var before []string
	for _, rev := range p.Revisions {
		before = append(before, rev.Mark)
	}
	if err := r.Accept(is, before); err != nil {
		return nil, nil, err
	}
	all, _ := ks.contents(p, nil)
	found := r.compare(ks, p, all)
	next := &Issues{issues: append(slices.Clone(r.issues), is), number: p.Number, things: model.Inventory(p), facts: groundsForm}
	now := map[sheetKey]bool{}
	for i := range all {
		now[all[i].key] = true
		next.sheets = append(next.sheets, r.raise(&all[i], &found.sheets[i], is))
	}
	for _, s := range r.sheets {
		if !now[s.key] {
			s.withdrawn, s.facts, s.drawn, s.parts = true, "", "", nil
			next.sheets = append(next.sheets, s)
		}
	}
	slices.SortFunc(next.sheets, func(a, b issuedSheet) int { return compareKeys(a.key, b.key) })
	return next, r.changes(p, all, found), nil
}

// raise is a sheet after an issue: of the issue's revision if it changed, if the
// status is another, and always if it is of the index.
func (r *Issues) raise(c *content, d *difference, is Issue) issuedSheet {
	s := issuedSheet{key: c.key, facts: c.facts, drawn: c.drawn, code: c.code}
	words := ""
	switch {
	case d.was != nil:
		s.revs = slices.Clone(d.was.revs)
		words = r.raisedWords(c, d, is)
	case len(r.issues) > 0:
		words = "new sheet"
	}
	if d.was == nil || d.altered || c.kind.Lists || r.find(s.mark()).Status != is.Status {
		s.revs = append(s.revs, issuedRev{is.Mark, words})
	}
	for i, p := range c.parts {
		since := d.since[i]
		if since == "" {
			since = is.Mark
		}
		s.parts = append(s.parts, issuedPart{p.kind, p.tag, p.digest, since})
	}
	slices.SortFunc(s.parts, compareParts)
	return s
}

// Raised is how many sheets the newest issue gave its revision.
func (r *Issues) Raised() (n int) {
	for i := range r.sheets {
		if s := &r.sheets[i]; !s.withdrawn && s.mark() == r.Newest().Mark {
			n++
		}
	}
	return n
}

// mark draws the clouds of a sheet onto its finished page.
func (pl *Plan) mark(s *Sheet, page *render.Page) {
	if st := pl.state(s); st != nil && len(st.clouds) > 0 {
		page.Items = append(page.Items, clouds(page.Items, st.clouds, s.Inner, st.cloud, s.Place != nil)...)
	}
}

// state is what a sheet prints of its issues; nil without a register.
func (pl *Plan) state(s *Sheet) *issueState {
	if pl.issues == nil {
		return nil
	}
	return pl.issues.of[s.key()]
}

// revision is what a sheet prints as its revision.
func (pl *Plan) revision(s *Sheet) model.Revision {
	if st := pl.state(s); st != nil {
		return model.Revision{Mark: st.mark, Date: st.date}
	}
	return pl.Newest()
}

// Revision is what a sheet of the set prints as its revision.
func (pl *Plan) Revision(s *Sheet) model.Revision { return pl.revision(s) }

// recordRevision is what the record of a loop prints as revision of the model.
func (pl *Plan) recordRevision(l *model.Loop) model.Revision {
	if pl.issues == nil || pl.issues.records[l] == nil {
		return pl.Newest()
	}
	st := pl.issues.records[l]
	if st.mark == pendingMark {
		return model.Revision{Mark: st.status}
	}
	return model.Revision{Mark: st.mark, Date: st.date}
}

// Newest is the newest revision of the set: of the register, or without one of
// the plant's own text.
func (pl *Plan) Newest() model.Revision {
	if pl.issues != nil {
		is := pl.issues.newest
		return model.Revision{Mark: is.Mark, Date: is.Date, Text: is.Note, By: is.By}
	}
	return pl.Plant.Revision()
}

// Status is that of the newest issue of the set: of the register, or without one
// of the plant's own text.
func (pl *Plan) Status() string {
	if pl.issues != nil {
		return pl.issues.newest.Status
	}
	return pl.Plant.Status
}

// compare lists how a plant differs from an older version of it.
func (ks Kinds) compare(old, now *model.Plant) *Changes {
	first := Issue{Mark: "A"}
	r, none := &Issues{issues: []Issue{first}, number: old.Number, things: model.Inventory(old), facts: groundsForm}, &Issues{}
	was, _ := ks.contents(old, nil)
	for _, c := range was {
		r.sheets = append(r.sheets, none.raise(&c, &difference{since: make([]string, len(c.parts))}, first))
	}
	slices.SortFunc(r.sheets, func(a, b issuedSheet) int { return compareKeys(a.key, b.key) })
	return ks.changes(r, now)
}
