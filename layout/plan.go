// Package layout plans the set of sheets of a plant and draws each as a page.
// Sheets are planned first: named, sized, numbered, and what stands on them
// placed as far as other sheets refer to it. Then each is drawn by a pure
// function of plan and sheet. All geometry is decided here.
package layout

import (
	"fmt"
	"iter"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"ringout/model"
	"ringout/render"
)

// Kind is one kind of sheet. Of lists what it has a drawing of each; Plan makes
// the sheets of one drawing, and none where there is nothing to show. A new kind is
// one file and one line in set (kinds.go).
type Kind struct {
	Name   string // word for the command line and file names
	Words  string // document type on paper
	Letter string // in drawing numbers
	Form   bool   // on the paper for forms, upright
	Lists  bool   // lists all sheets of the set, and so changes with any of them
	Of     func(*model.Plant) []Subject
	Plan   func(*Plan, *drawing) []*Sheet
}

// planned is what a kind has planned for one sheet.
type planned interface {
	// Draw draws the sheet. It is a pure function of the plan and the sheet.
	Draw(*Plan, *Sheet) (*render.Page, model.Problems)
}

// Names of the kinds of sheet.
const (
	Index   = "index"
	Loop    = "loop"
	Box     = "box"
	Cabinet = "cabinet"
	RingOut = "ringout"
	Record  = "record"
)

// Kinds are the kinds of sheet of a set, in its order. The first one lists the others:
// it is planned last, and its sheets come first. What plans sheets is given them, and
// names none.
type Kinds []*Kind

// named is the kind with a name; nil where there is none.
func (ks Kinds) named(name string) *Kind {
	for _, k := range ks {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Sheet is one planned sheet.
type Sheet struct {
	render.Head
	Subject
	Kind     *Kind
	No       int    // in the set, from 1
	Number   string // drawing number
	Part, Of int    // of a drawing on several sheets, from 1
	Words    string // what the sheet shows, for the title
	Code     string // wiring code; "" where no wiring is shown
	Paper    Paper
	Inner    Area     // free for the drawing
	drawing  *drawing // that it belongs to; nil of a sheet that is none of the set
	plan     planned
}

// Plan is the planned set of sheets.
type Plan struct {
	Plant  *model.Plant
	Draft  bool // mark every sheet as a draft
	Sheets []*Sheet
	set    map[drawingKey]*drawing
	early  bool              // sheets have no numbers yet
	torn   *atomic.Bool      // a drawing that was kept is not what it was
	frames map[string]*frame // by paper
	issues *issueStates      // nil without a register of issues
	blind  bool              // draw only what the sheets show: no frame, no references
	stamps func() *stamper
}

// plan plans the sheets of a plant: those kinds for which keep is true; nil keeps all.
func (ks Kinds) plan(p *model.Plant, draft bool, issues *issueStates, keep func(kind string) bool, known func(kind, tag string) Known) *Plan {
	pl := &Plan{Plant: p, Draft: draft, torn: new(atomic.Bool), set: map[drawingKey]*drawing{}, frames: map[string]*frame{}, issues: issues}
	pl.stamps = sync.OnceValue(pl.findStamps)
	for _, k := range ks {
		if paper := pl.paper(k); pl.frames[paper.Name] == nil {
			pl.frames[paper.Name] = newFrame(paper, pl.title(&Sheet{Kind: k, Paper: paper}))
		}
	}
	var all []*drawing
	for _, k := range ks[1:] {
		if keep == nil || keep(k.Name) {
			all = append(all, pl.drawings(k, known)...)
		}
	}
	if known != nil {
		pl.unkeep(all)
	}
	for _, d := range all {
		pl.Sheets = append(pl.Sheets, d.sheets...)
	}
	// The index comes first but is planned last: it counts the other sheets.
	if keep == nil || keep(ks[0].Name) {
		index := pl.drawings(ks[0], nil)
		pl.Sheets = slices.Concat(index[0].sheets, pl.Sheets)
	}
	names := map[string]int{}
	for i, s := range pl.Sheets {
		s.No, s.Number = i+1, s.number(p)
		s.Name, _ = render.FileName(plainName(s.Kind.Name + "-" + s.Tag()))
		s.Title = outlined(strings.TrimSpace(s.Kind.Words + " " + s.Tag()))
		if s.Part > 1 {
			s.Name = fmt.Sprintf("%s-%d", s.Name, s.Part)
		}
		if s.Of > 1 {
			s.Title = fmt.Sprintf("%s, %d of %d", s.Title, s.Part, s.Of)
		}
		s.Name = unique(names, s.Name)
	}
	return pl
}

// outlined keeps of a title what the outline of a PDF can hold; the sheet
// itself is checked sign by sign.
func outlined(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF || !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, s)
}

// sheet starts a sheet of kind k on the paper that the practice says, with the
// area that its frame leaves free.
func (pl *Plan) sheet(k *Kind) *Sheet {
	s := &Sheet{Kind: k, Paper: pl.paper(k), Part: 1, Of: 1}
	s.W, s.H = s.Paper.W, s.Paper.H
	s.Inner = pl.frames[s.Paper.Name].inner
	return s
}

// paper is what sheets of kind k are drawn on.
func (pl *Plan) paper(k *Kind) Paper {
	name := pl.Plant.Practice.Paper
	if k.Form {
		name = pl.Plant.Practice.RecordPaper
	}
	paper, _ := FindPaper(name, !k.Form)
	return paper
}

// title is what the title block and the frame of a sheet print.
func (pl *Plan) title(s *Sheet) Title {
	p := pl.Plant
	rev, status, revisions := pl.Newest(), pl.Status(), pl.revisions()
	if pl.issues != nil { // a page that is none of the set is of the newest issue
		revisions = []Revision{{rev.Mark, rev.Text, rev.Date, rev.By}}
	}
	model, altered := rev, false
	if st := pl.state(s); st != nil {
		rev.Mark, rev.Date, status, revisions = st.mark, st.date, st.status, st.rows
		if model = rev; st.mark == pendingMark {
			model.Mark, model.Date, altered = "not issued", "", true
		}
	}
	words := s.Words
	if s.Of > 1 {
		words = fmt.Sprintf("%s (%d of %d)", words, s.Part, s.Of)
	}
	return Title{
		Owner: p.Owner, Project: p.Project, Plant: p.Name,
		Title: words, Kind: s.Kind.Words,
		Number: s.Number, Revision: rev.Mark, Date: rev.Date, Status: status,
		Drawn: p.Drawn, Checked: p.Checked, Approved: p.Approved,
		Sheet: s.No, Of: len(pl.Sheets), Code: s.Code, Paper: s.Paper.Name,
		ModelRevision: model.Mark, ModelDate: model.Date,
		Revisions: revisions, Draft: pl.Draft, NotIssued: altered,
	}
}

// SheetStatus is what a sheet of the set prints as its status.
func (pl *Plan) SheetStatus(s *Sheet) string { return pl.title(s).Status }

// number is the drawing number: the plant's prefix, the letter of the kind and
// the subject.
func (s *Sheet) number(p *model.Plant) string {
	var parts []string
	for _, x := range []string{p.Number, s.Kind.Letter, s.Tag()} {
		if x != "" {
			parts = append(parts, x)
		}
	}
	return strings.Join(parts, "-")
}

func (pl *Plan) revisions() []Revision {
	var all []Revision
	for _, r := range pl.Plant.Revisions {
		all = append(all, Revision{r.Mark, r.Text, r.Date, r.By})
	}
	return all
}

// page starts the page of a sheet with its frame. Texts that do not fit their
// field are problems.
func (pl *Plan) page(s *Sheet) (*render.Page, Border, model.Problems) {
	var b Border
	switch f := pl.frames[s.Paper.Name]; {
	case pl.blind:
		b = Border{Inner: f.inner, Notes: f.notes}
	case pl.issues != nil: // each sheet has a revision table of its own
		b = Frame(s.Paper, pl.title(s))
	default:
		b = f.draw(pl.title(s))
	}
	var problems model.Problems
	for _, u := range b.Unfit {
		problems = append(problems, pl.unfit(s, u))
	}
	return &render.Page{Head: s.Head, Items: b.Items}, b, problems
}

// undrawable is a sheet with something that cannot be put on paper, such as a
// tag with a sign that the typefaces lack. It stays empty.
func (pl *Plan) undrawable(s *Sheet, err error) model.Problem {
	return model.ProblemAt(pl.about(s), model.UndrawableText, "%s cannot be drawn: %v", s.Title, err)
}

// offPaper is a sheet with marks past its frame: part of what it shows is not on
// the paper. Nothing is drawn then, but as a draft.
func (pl *Plan) offPaper(s *Sheet, far render.Len) model.Problem {
	return model.ProblemAt(pl.about(s), model.OffPaper, "%s does not fit its %s paper: it reaches %.1f mm past the frame", s.Title, s.Paper.Name, float64(far)/1000)
}

// unfit is a text too long for its place on a sheet.
func (pl *Plan) unfit(s *Sheet, text string) model.Problem {
	return model.ProblemAt(pl.about(s), model.TextTooLong, "%s: %q is too long for its place", s.Title, text)
}

// about is where what a sheet shows is written.
func (pl *Plan) about(s *Sheet) model.Pos {
	switch {
	case s.Loop != nil:
		return s.Loop.Pos
	case s.Place != nil:
		return s.Place.Pos
	case s.Cable != nil:
		return s.Cable.Pos
	}
	return pl.Plant.Pos
}

// Pages draws every sheet, in the order of the set.
func (pl *Plan) Pages() iter.Seq2[*render.Page, model.Problems] { return pl.Draw(pl.Sheets) }

// Draw draws some sheets of the plan, in the order given. Sheets are drawn in
// parallel, a few at a time.
func (pl *Plan) Draw(sheets []*Sheet) iter.Seq2[*render.Page, model.Problems] {
	type drawn struct {
		page     *render.Page
		problems model.Problems
	}
	return func(yield func(*render.Page, model.Problems) bool) {
		ahead := 2 * runtime.GOMAXPROCS(0)
		queue := make(chan chan drawn, ahead)
		stop := make(chan struct{})
		defer close(stop)
		go func() {
			defer close(queue)
			for _, s := range sheets {
				out := make(chan drawn, 1)
				select {
				case queue <- out:
				case <-stop:
					return
				}
				go func() {
					if s.drawing != nil {
						s.drawing.plan(pl)
					}
					if pl.Torn() {
						out <- drawn{&render.Page{Head: s.Head}, nil}
						return
					}
					page, problems := s.plan.Draw(pl, s)
					pl.mark(s, page)
					if far := past(s.Paper.Frame(), s.Paper.Edge(), page.Items); far > 0 {
						problems = append(problems, pl.offPaper(s, far))
					}
					if err := page.Check(); err != nil { // a sign that no face holds; writers would refuse the page
						problems = append(problems, pl.undrawable(s, err))
						page = &render.Page{Head: s.Head}
					}
					out <- drawn{page, problems}
				}()
			}
		}()
		for out := range queue {
			d := <-out
			if !yield(d.page, d.problems) {
				return
			}
		}
	}
}

// each does a piece of work for 0 to n-1, on all processors side by side.
func each(n int, work func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	all.Wait()
}

// plainName keeps the Latin letters, digits and a few signs of a name, so that it
// can be typed anywhere.
func plainName(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.':
			return r
		}
		return '_'
	}, strings.Trim(s, "-"))
}

// unique makes a name that differs from all before it, without regard to case.
func unique(names map[string]int, name string) string {
	key := render.SameFile(name)
	names[key]++
	if n := names[key]; n > 1 {
		return unique(names, fmt.Sprintf("%s-%d", name, n))
	}
	return name
}
