// Package sheet plans a set of sheets: which there are, their numbers, revisions and references,
// and what of them was issued.
package sheet

import (
	"fmt"
	"iter"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"ringout/layout/mark"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/finding"
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
	Plan   func(*Plan, *Drawing) []*Sheet
}

// planned is what a kind has planned for one sheet.
type planned interface {
	// Draw draws the sheet. It is a pure function of the plan and the sheet.
	Draw(*Plan, *Sheet) (*render.Page, finding.Findings)
}

// Names of the kinds of sheet.
const (
	Index   = "index"
	Loop    = "loop"
	Segment = "segment"
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
	Kind      *Kind
	No        int    // in the set, from 1
	Number    string // drawing number
	Part, Of  int    // of a drawing on several sheets, from 1
	Words     string // what the sheet shows, for the title
	Code      string // wiring code; "" where no wiring is shown
	Paper     paper.Paper
	Inner     paper.Area // free for the drawing
	drawing   *Drawing   // that it belongs to; nil of a sheet that is none of the set
	continued bool       // a form goes on on it, whose first sheet has the whole title block
	Planned   planned
}

// Plan is the planned set of sheets.
type Plan struct {
	Plant       *model.Plant
	Draft       bool // mark every sheet as a draft
	Sheets      []*Sheet
	set         map[drawingKey]*Drawing
	Unnumbered  bool         // sheets have no numbers yet
	CacheStale  *atomic.Bool // a drawing that was kept is not what it was
	frames      map[frameKey]*paper.Template
	Issues      *issueStates        // nil without a register of issues
	ContentOnly bool                // draw only what the sheets show: no frame, no references
	Packed      map[*Sheet]PackPage // of sheets that are drawn for a pack
	stamps      func() *stamper
}

// PackPage is a page of a pack, from 1, and what the pack is for where the number of its
// drawing does not tell.
type PackPage struct {
	Job string
	At  int
}

// Plan plans the sheets of a plant: those kinds for which keep is true; nil keeps all.
func (ks Kinds) Plan(p *model.Plant, draft bool, issues *issueStates, keep func(kind string) bool, known func(kind, tag string) CachedDrawing) *Plan {
	pl := &Plan{Plant: p, Draft: draft, CacheStale: new(atomic.Bool), set: map[drawingKey]*Drawing{}, frames: map[frameKey]*paper.Template{}, Issues: issues}
	pl.stamps = sync.OnceValue(pl.findStamps)
	for _, k := range ks {
		for _, continued := range []bool{false, k.Form} {
			s := &Sheet{Kind: k, Paper: pl.Paper(k), continued: continued}
			if key := s.frameKey(); pl.frames[key] == nil {
				pl.frames[key] = paper.NewTemplate(s.Paper, pl.Title(s))
			}
		}
	}
	var all []*Drawing
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
		s.No, s.Number = i+1, s.NumberIn(p)
		s.Name, _ = render.FileName(PlainName(s.Kind.Name + "-" + s.Tag()))
		s.Title = outlined(strings.TrimSpace(s.Kind.Words + " " + s.Tag()))
		if s.Part > 1 {
			s.Name = fmt.Sprintf("%s-%d", s.Name, s.Part)
		}
		if s.Of > 1 {
			s.Title = fmt.Sprintf("%s, %d of %d", s.Title, s.Part, s.Of)
		}
		s.Name = Unique(names, s.Name)
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

// Sheet starts a sheet of kind k on the paper that the practice says, with the
// area that its frame leaves free.
func (pl *Plan) Sheet(k *Kind) *Sheet {
	s := &Sheet{Kind: k, Paper: pl.Paper(k), Part: 1, Of: 1}
	s.W, s.H = s.Paper.W, s.Paper.H
	s.Inner = pl.Frame(s).Inner
	return s
}

// Continue makes a sheet that was started one on which a form goes on: its title block is
// low. It does nothing to other kinds.
func (s *Sheet) Continue(pl *Plan) {
	s.continued = s.Kind.Form
	s.Inner = pl.Frame(s).Inner
}

// frameKey tells the frames of a set apart.
type frameKey struct {
	paper     string
	continued bool
}

func (s *Sheet) frameKey() frameKey { return frameKey{s.Paper.Name, s.continued} }

// Frame is the frame of a sheet, before its own title is in it.
func (pl *Plan) Frame(s *Sheet) *paper.Template { return pl.frames[s.frameKey()] }

// Paper is what sheets of kind k are drawn on.
func (pl *Plan) Paper(k *Kind) paper.Paper {
	name := pl.Plant.Practice.Paper
	if k.Form {
		name = pl.Plant.Practice.RecordPaper
	}
	size, _ := paper.FindPaper(name, !k.Form)
	return size
}

// Title is what the title block and the frame of a sheet print.
func (pl *Plan) Title(s *Sheet) paper.Title {
	p := pl.Plant
	rev, status, revisions := pl.Newest(), pl.Status(), pl.revisions()
	if pl.Issues != nil { // a page that is none of the set is of the newest issue
		revisions = []paper.Revision{{Mark: rev.Mark, Text: rev.Text, Date: rev.Date, By: rev.By}}
	}
	data, altered := rev, false
	if st := pl.State(s); st != nil {
		rev.Mark, rev.Date, status, revisions = st.Mark, st.Date, st.Status, st.Rows
		if data = rev; st.Mark == PendingMark {
			data.Mark, data.Date, altered = "not issued", "", true
		}
	}
	words := s.Words
	if s.Of > 1 {
		words = fmt.Sprintf("%s (%d of %d)", words, s.Part, s.Of)
	}
	return paper.Title{
		Owner: p.Owner, Project: p.Project, Plant: p.Name,
		Title: words, Kind: s.Kind.Words,
		Number: s.Number, Revision: rev.Mark, Date: rev.Date, Status: status,
		Drawn: p.Drawn, Checked: p.Checked, Approved: p.Approved,
		Sheet: s.No, Of: len(pl.Sheets), Code: s.Code, Paper: s.Paper.Name,
		DataRevision: data.Mark, DataDate: data.Date,
		Revisions: revisions, Draft: pl.Draft, NotIssued: altered, Continued: s.continued,
		Mark: mark.Page{Kind: s.Kind.Letter, Pack: pl.Packed[s].Job, At: pl.Packed[s].At},
	}
}

// SheetStatus is what a sheet of the set prints as its status.
func (pl *Plan) SheetStatus(s *Sheet) string { return pl.Title(s).Status }

// NumberIn is the drawing number: the plant's prefix, the letter of the kind and
// the subject.
func (s *Sheet) NumberIn(p *model.Plant) string {
	var parts []string
	for _, x := range []string{p.Number, s.Kind.Letter, s.Tag()} {
		if x != "" {
			parts = append(parts, x)
		}
	}
	return strings.Join(parts, "-")
}

func (pl *Plan) revisions() []paper.Revision {
	var all []paper.Revision
	for _, r := range pl.Plant.Revisions {
		all = append(all, paper.Revision{Mark: r.Mark, Text: r.Text, Date: r.Date, By: r.By})
	}
	return all
}

// Page starts the page of a sheet with its frame. Texts that do not fit their
// field are problems.
func (pl *Plan) Page(s *Sheet) (*render.Page, paper.Border, finding.Findings) {
	var b paper.Border
	switch f := pl.Frame(s); {
	case pl.ContentOnly:
		b = paper.Border{Inner: f.Inner, Notes: f.Notes}
	case pl.Issues != nil: // each sheet has a revision table of its own
		b = paper.Frame(s.Paper, pl.Title(s))
	default:
		b = f.Draw(pl.Title(s))
	}
	var problems finding.Findings
	for _, u := range b.Unfit {
		problems = append(problems, pl.TextTooLong(s, u))
	}
	return &render.Page{Head: s.Head, Items: b.Items}, b, problems
}

// undrawable is a sheet with something that cannot be put on paper, such as a
// tag with a sign that the typefaces lack. It stays empty.
func (pl *Plan) undrawable(s *Sheet, err error) finding.Finding {
	return finding.At(pl.about(s), finding.UndrawableText, "%s cannot be drawn: %v", s.Title, err)
}

// OffPaper is a sheet with marks past its frame: part of what it shows is not on
// the paper. Nothing is drawn then, but as a draft.
func (pl *Plan) OffPaper(s *Sheet, far render.Len) finding.Finding {
	return finding.At(pl.about(s), finding.OffPaper, "%s does not fit its %s paper: it reaches %.1f mm past the frame", s.Title, s.Paper.Name, float64(far)/1000)
}

// TextTooLong is a text too long for its place on a sheet.
func (pl *Plan) TextTooLong(s *Sheet, text string) finding.Finding {
	return finding.At(pl.about(s), finding.TextTooLong, "%s: %q is too long for its place", s.Title, text)
}

// about is where what a sheet shows is written.
func (pl *Plan) about(s *Sheet) finding.Pos {
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
func (pl *Plan) Pages() iter.Seq2[*render.Page, finding.Findings] { return pl.Draw(pl.Sheets) }

// Draw draws some sheets of the plan, in the order given. Sheets are drawn in
// parallel, a few at a time.
func (pl *Plan) Draw(sheets []*Sheet) iter.Seq2[*render.Page, finding.Findings] {
	type drawn struct {
		page     *render.Page
		problems finding.Findings
	}
	return func(yield func(*render.Page, finding.Findings) bool) {
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
					page, problems := s.Planned.Draw(pl, s)
					pl.mark(s, page)
					if far := paper.Past(s.Paper.Frame(), s.Paper.Edge(), page.Items); far > 0 {
						problems = append(problems, pl.OffPaper(s, far))
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

// PlainName keeps the Latin letters, digits and a few signs of a name, so that it
// can be typed anywhere.
func PlainName(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.':
			return r
		}
		return '_'
	}, strings.Trim(s, "-"))
}

// Unique makes a name that differs from all before it, without regard to case.
func Unique(names map[string]int, name string) string {
	key := render.SameFile(name)
	names[key]++
	if n := names[key]; n > 1 {
		return Unique(names, fmt.Sprintf("%s-%d", name, n))
	}
	return name
}
