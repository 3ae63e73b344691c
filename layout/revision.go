package layout

import (
	"fmt"
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

// NewIssued plans like New. With a register, every sheet bears its own revision,
// date and status from it, and drawings have clouds round what changed; nil is
// a plant without one.
func NewIssued(p *model.Plant, draft bool, r *Issues) *Plan {
	if r == nil {
		return New(p, draft, nil)
	}
	states := &issueStates{r.Newest(), false, map[sheetKey]*issueState{}, map[*model.Loop]*issueState{}}
	for _, c := range contents(p) {
		st := r.state(&c)
		states.of[c.key] = st
		states.altered = states.altered || st.mark == pendingMark
		if c.kind.Name == Record && c.key.part == 1 {
			states.records[c.loop] = st
		}
	}
	return newPlan(p, draft, states, nil)
}

// issueStates are those of all sheets of a plan.
type issueStates struct {
	newest  Issue
	altered bool // a sheet is not as it was issued
	of      map[sheetKey]*issueState
	records map[*model.Loop]*issueState // of the first sheet of each record
}

// state compares a sheet with the register.
func (r *Issues) state(c *content) *issueState {
	st := &issueState{}
	was := r.sheet(c.key)
	newest := r.Newest()
	if was == nil {
		st.mark, st.date, st.status = pendingMark, "–", "NOT ISSUED"
		if newest.Mark != "" {
			st.status += ": new since rev " + newest.Mark
		}
		st.rows = []Revision{{Mark: pendingMark, Text: st.status}}
		return st
	}
	for _, m := range was.marks {
		is := r.find(m)
		st.rows = append(st.rows, Revision{m, issueText(is, was.removed, c.kind.Form), is.Date, is.By})
	}
	own := r.find(was.mark())
	st.mark, st.date, st.status = own.Mark, own.Date, own.Status
	if was.stands != "" {
		st.status = r.find(was.stands).Status
	}
	d := was.compare(c)
	if !d.altered {
		if st.status != AsBuilt && len(was.marks) > 1 {
			st.cloud = own.Mark
			for i, p := range c.parts {
				if d.since[i] == own.Mark {
					st.clouds = append(st.clouds, p.at)
				}
			}
		}
		return st
	}
	st.mark, st.date = pendingMark, "–"
	st.status = "NOT ISSUED: changed since rev " + own.Mark
	if was.withdrawn {
		st.status = "NOT ISSUED: withdrawn at rev " + own.Mark
	}
	text := st.status
	if !c.kind.Form {
		text += removedWords(d.removed)
	}
	st.rows = append(st.rows, Revision{Mark: pendingMark, Text: text})
	st.cloud = pendingMark
	for i, p := range c.parts {
		if d.since[i] == "" {
			st.clouds = append(st.clouds, p.at)
		}
	}
	return st
}

// issueText is what the revision table says of an issue of a sheet.
func issueText(is *Issue, removed []removal, form bool) string {
	text := is.Note
	if text == "" {
		text = is.Status
	}
	var gone []string
	for _, x := range removed {
		if x.mark == is.Mark {
			gone = append(gone, x.kind+" "+x.tag)
		}
	}
	if form {
		return text
	}
	return text + removedWords(gone)
}

// mostNamed is how many removed parts the revision table names.
const mostNamed = 6

// removedWords name what a sheet shows no more.
func removedWords(names []string) string {
	if len(names) == 0 {
		return ""
	}
	more := ""
	if n := len(names) - mostNamed; n > 0 {
		names, more = names[:mostNamed], fmt.Sprintf(" and %d more", n)
	}
	return ". Removed: " + strings.Join(names, ", ") + more
}

// difference is how a sheet differs from what was issued.
type difference struct {
	altered bool
	since   []string // of every part: the revision since which it is so; "" for a new or changed one
	removed []string // parts that are gone, in words, sorted
}

// compare finds the parts of a sheet that are not as they were issued. Parts of
// one tag are told apart by their facts alone, so that a second drawing of a
// terminal is not mistaken for a change of the first.
func (s *issuedSheet) compare(c *content) difference {
	d := difference{altered: s.withdrawn || s.digest != c.digest, since: make([]string, len(c.parts))}
	was := map[issuedPart][]string{} // without mark: the marks
	for _, p := range s.parts {
		key := issuedPart{p.kind, p.tag, p.digest, ""}
		was[key] = append(was[key], p.mark)
	}
	now := map[string]bool{}
	for i, p := range c.parts {
		now[p.String()] = true
		key := issuedPart{p.kind, p.tag, p.digest, ""}
		if marks := was[key]; len(marks) > 0 {
			d.since[i], was[key] = marks[0], marks[1:]
		}
	}
	for _, p := range s.parts {
		if name := p.kind + " " + p.tag; p.kind != textPart && !now[name] {
			d.removed = append(d.removed, name)
		}
	}
	slices.Sort(d.removed)
	d.removed = slices.Compact(d.removed)
	return d
}

// SheetChange is how a sheet of the set differs from the register.
type SheetChange struct {
	Number  string
	Part    int
	Rev     string      // revision last issued; "" for a new sheet
	What    string      // new, changed or withdrawn
	Record  bool        // the sheet is a form that proves wiring
	Loop    *model.Loop // of a loop's sheet
	Parts   []string    // of a drawing: parts changed or added, sorted
	Texts   int         // of a drawing: texts changed or added that belong to no part
	Removed []string    // parts that are gone, sorted
	Was     string      // wiring code last issued
	Code    string      // wiring code now
}

// Since lists the sheets of a plant that are not as the register has them, in
// the order of the set; those that are gone come last.
func (r *Issues) Since(p *model.Plant) []SheetChange { return r.since(contents(p)) }

func (r *Issues) since(all []content) []SheetChange {
	var changes []SheetChange
	now := map[sheetKey]bool{}
	for _, c := range all {
		now[c.key] = true
		x := SheetChange{Number: c.key.number, Part: c.key.part, What: "new", Loop: c.loop, Code: c.code}
		x.Record = c.kind.Form && c.kind.Name != Index
		if was := r.sheet(c.key); was != nil {
			d := was.compare(&c)
			if !d.altered {
				continue
			}
			x.Rev, x.What, x.Was, x.Removed = was.mark(), "changed", was.code, d.removed
			for i, p := range c.parts {
				switch {
				case d.since[i] != "":
				case p.kind == textPart:
					x.Texts++
				default:
					x.Parts = append(x.Parts, p.String())
				}
			}
			slices.Sort(x.Parts)
			x.Parts = slices.Compact(x.Parts)
		}
		changes = append(changes, x)
	}
	for _, s := range r.sheets {
		if !now[s.key] && !s.withdrawn {
			changes = append(changes, SheetChange{Number: s.key.number, Part: s.key.part, Rev: s.mark(), What: withdrawn, Was: s.code})
		}
	}
	return changes
}

// Issue returns the register after an issue of the plant, and what the issue
// changes. An issue that Accept refuses is an error.
func (r *Issues) Issue(p *model.Plant, is Issue) (*Issues, []SheetChange, error) {
	var before []string
	for _, rev := range p.Revisions {
		before = append(before, rev.Mark)
	}
	if err := r.Accept(is, before); err != nil {
		return nil, nil, err
	}
	all := contents(p)
	next := &Issues{issues: append(slices.Clone(r.issues), is)}
	now := map[sheetKey]bool{}
	for _, c := range all {
		now[c.key] = true
		next.sheets = append(next.sheets, r.raise(&c, is))
	}
	for _, s := range r.sheets {
		if !now[s.key] {
			s.withdrawn, s.digest, s.parts, s.stands = true, "", nil, ""
			next.sheets = append(next.sheets, s)
		}
	}
	slices.SortFunc(next.sheets, func(a, b issuedSheet) int { return compareKeys(a.key, b.key) })
	return next, r.since(all), nil
}

// raise is a sheet after an issue: of the issue's revision if it changed.
func (r *Issues) raise(c *content, is Issue) issuedSheet {
	s := issuedSheet{key: c.key, digest: c.digest, code: c.code}
	since := make([]string, len(c.parts))
	altered := true
	if was := r.sheet(c.key); was != nil {
		d := was.compare(c)
		s.marks, s.stands, s.removed = slices.Clone(was.marks), was.stands, slices.Clone(was.removed)
		since, altered = d.since, d.altered
		for _, name := range d.removed {
			kind, tag, _ := strings.Cut(name, " ")
			s.removed = append(s.removed, removal{is.Mark, kind, tag})
		}
	}
	switch {
	case altered:
		s.marks, s.stands = append(s.marks, is.Mark), ""
	case is.Status == AsBuilt && r.find(s.marks[len(s.marks)-1]).Status != AsBuilt:
		s.stands = is.Mark // every sheet is as built, also those that keep their revision
	}
	for i, p := range c.parts {
		if since[i] == "" {
			since[i] = is.Mark
		}
		s.parts = append(s.parts, issuedPart{p.kind, p.tag, p.digest, since[i]})
	}
	slices.SortFunc(s.parts, compareParts)
	return s
}

// mark draws the clouds of a sheet onto its finished page.
func (pl *Plan) mark(s *Sheet, page *render.Page) {
	if st := pl.state(s); st != nil && len(st.clouds) > 0 {
		page.Items = append(page.Items, clouds(page.Items, st.clouds, s.Inner, st.cloud)...)
	}
}

// state is what a sheet prints of its issues; nil without a register.
func (pl *Plan) state(s *Sheet) *issueState {
	if pl.issues == nil {
		return nil
	}
	return pl.issues.of[sheetKey{s.number(pl.Plant), s.Part}]
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

// Compare lists the sheets of a plant that do not show what those of an older
// version of it showed, in the order of the set; those that are gone come last.
func Compare(old, now *model.Plant) []SheetChange {
	first := Issue{Mark: "A"}
	r, empty := &Issues{issues: []Issue{first}}, &Issues{}
	for _, c := range contents(old) {
		r.sheets = append(r.sheets, empty.raise(&c, first))
	}
	slices.SortFunc(r.sheets, func(a, b issuedSheet) int { return compareKeys(a.key, b.key) })
	return r.Since(now)
}
