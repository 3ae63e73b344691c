// Package pack binds the sheets of one piece of work, with a cover, an isolation list and sign-off.
package pack

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/enclosure"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
)

// A pack is what somebody takes along for one job: some sheets of the set in
// the order of the work, a cover before them, forms behind them. Its sheets are
// those of the set, with their numbers, codes and issue.

// The kinds of page that only a pack has.
var (
	coverKind = &sheet.Kind{Name: "cover", Words: "Field pack cover", Letter: "PK", Form: true}
	freeKind  = &sheet.Kind{Name: "free", Words: "Blank page", Letter: "PK", Form: true}
	punchKind = &sheet.Kind{Name: "punch", Words: "Punch list", Letter: "PK", Form: true}
	closeKind = &sheet.Kind{Name: "close", Words: "Mark-up key, sign-off", Letter: "PK", Form: true}
)

// Asked is one thing that a pack was asked for, such as box JB-21.
type Asked struct {
	Kind string // box, cabinet, cable, loop or area
	Tag  string
}

func (a Asked) String() string { return a.Kind + " " + a.Tag }

// AskedWords are things that a pack was asked for, in words.
func AskedWords(all []Asked) []string {
	var words []string
	for _, a := range all {
		words = append(words, a.String())
	}
	return words
}

// Pack is a pack for one job. Page n of it is Sheets[n-1].
type Pack struct {
	Sheets []*sheet.Sheet
	Words  string // what it is for, such as box JB-21; a long list is cut short
	asked  []Asked
	plan   *sheet.Plan
	scope  material.Scope
	whole  bool // on paper of one size, for both sides
	number string
	loops  []*model.Loop
	rung   []*model.Cable
	work   []*sheet.Sheet // of places and cables
}

// packForm is what is planned for one page of the pack's own forms.
type packForm struct {
	sections []paper.Section
	pieces   []paper.Piece
	contents int            // the section that lists the sheets; -1 without one
	listed   []*sheet.Sheet // in it
	cut      []string       // texts that were cut; on the first page of the form
}

// New makes the pack for a scope of the plan's plant. asked has what the scope was
// asked for by, at least one, such as box JB-21 and loop F-2107. It returns an error if
// the set has no sheet of the scope.
//
// A loop brings its diagram and record, and the sheets of places that show it; a
// place its own diagram and the loops through it; a cable the sheets that show its
// ends, and the loops on it. So each place that the work leads to has its sheets in
// the pack. All ring-out sheets of a cable are in the pack if the scope names the cable
// or a place that it ends in, or if it has all loops that the cable carries.
//
// With oneSize, drawings are reduced to the paper of the forms, and the record of each
// loop faces its diagram when the pack is printed double-sided. Without it the pack has
// two sizes of paper, and is printed single-sided.
func New(pl *sheet.Plan, asked []Asked, scope material.Scope, oneSize bool) (*Pack, error) {
	p := &Pack{plan: pl, asked: asked, Words: short(AskedWords(asked)), scope: scope, whole: oneSize}
	work := p.choose()
	subject := func(of any) (all []*sheet.Sheet) {
		for _, s := range pl.Sheets {
			if s.Loop != nil && s.Loop == of {
				all = append(all, s)
			}
		}
		return all
	}
	work = p.extracts(work)
	named := p.named()
	for _, s := range pl.Sheets {
		if s.Cable != nil && (named[s] || slices.Contains(p.rung, s.Cable)) {
			work = append(work, s)
		}
	}
	var loops [][]*sheet.Sheet
	for _, l := range p.loops {
		if s := subject(l); len(s) > 0 {
			loops = append(loops, s)
		}
	}
	if len(work)+len(loops) == 0 {
		return nil, errors.New("the set has no sheet of it")
	}
	p.number, p.work = p.packNumber(), work
	ends := append([]*sheet.Sheet{p.punch()}, p.closing()...)
	// Where a loop goes depends on the pages of the cover, and what the cover
	// says on where the loops go. Its rows are as many and as high in any case.
	for covers := p.cover(slices.Concat(work, slices.Concat(loops...), ends)); ; {
		p.Sheets = slices.Concat(covers, work)
		for _, of := range loops {
			p.loop(of)
		}
		p.Sheets = append(p.Sheets, ends...)
		final := p.cover(p.Sheets)
		if len(final) == len(covers) {
			copy(p.Sheets, final)
			break
		}
		covers = final
	}
	return p, nil
}

// choose finds the loops and cables of the pack in the order of the plant, and
// the sheets of places that go with them.
func (p *Pack) choose() (places []*sheet.Sheet) {
	plant := p.plan.Plant
	p.loops = p.scope.AffectedLoops(plant)
	stands := map[*sheet.Sheet]bool{}
	ends := func(w *model.Conductor) {
		for _, e := range []model.End{w.From, w.To} {
			if w.Core != nil {
				p.standsOn(sheet.CableAt{Cable: w.Core.Cable, Place: e.Where(plant)}, stands)
			}
			if e.Terminal != nil {
				p.standsOn(e.Terminal, stands)
			}
		}
	}
	for _, c := range plant.Cables {
		if material.RungOut(c) && p.scope.IncludesCable(plant, c) {
			p.rung = append(p.rung, c)
		}
	}
	for _, w := range p.wires() {
		ends(w)
	}
	for _, l := range p.loops {
		if l.Plugged() {
			for _, pl := range l.Joins() {
				p.standsOn(sheet.LinksAt{Place: pl}, stands)
			}
		}
	}
	wanted := func(s *sheet.Sheet) bool {
		return s.Place != nil && (stands[s] || slices.Contains(p.scope.Places, s.Place))
	}
	for _, s := range p.plan.Sheets { // those cautions that a sheet has no room for come with it
		if wanted(s) {
			if more := enclosure.Placed(s).More; more != nil {
				stands[more] = true
			}
		}
	}
	for _, s := range p.plan.Sheets {
		if wanted(s) {
			places = append(places, s)
		}
	}
	return places
}

// named are the ring-out sheets on which the records of the loops leave their
// cores to be proved, and the first of each cable, which tells how.
func (p *Pack) named() map[*sheet.Sheet]bool {
	all := map[*sheet.Sheet]bool{}
	for _, l := range p.loops {
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(p.plan.Plant) {
				if w.Core == nil {
					continue
				}
				for _, of := range []any{sheet.RungGroup{Cable: w.Core.Cable, Group: w.Core.Group}, w.Core.Cable} {
					if r, ok := p.plan.Ref(sheet.RingOut, of); ok {
						all[r.Sheet] = true
					}
				}
			}
		}
	}
	return all
}

// Material counts the material of the new wiring of the pack, and the work: the tests
// are those on its forms.
func (p *Pack) Material() []material.Item {
	var rung []*model.Core
	for _, s := range p.work {
		if s.Cable == nil {
			continue
		}
		for _, core := range s.Cable.CoresAndScreens() {
			if r, _ := p.plan.Ref(sheet.RingOut, sheet.RungGroup{Cable: s.Cable, Group: core.Group}); r.Sheet == s {
				rung = append(rung, core)
			}
		}
	}
	return material.Material(p.plan.Plant, p.scope, rung)
}

// standsOn marks the sheets of places that a thing stands on.
func (p *Pack) standsOn(of any, stands map[*sheet.Sheet]bool) {
	for _, kind := range []string{sheet.Box, sheet.Cabinet} {
		if r, ok := p.plan.Ref(kind, of); ok {
			stands[r.Sheet] = true
		}
	}
}

// mostAsked is how many things that were asked for a title names.
const mostAsked = 3

func short(asked []string) string {
	if n := len(asked) - mostAsked; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(asked[:mostAsked], ", "), n)
	}
	return strings.Join(asked, ", ")
}

// mostJob is how long the tags of a pack are in its drawing number.
const mostJob = 24

// packNumber is the drawing number of the pack's own pages.
func (p *Pack) packNumber() string {
	return strings.TrimPrefix(p.plan.Plant.Number+"-PK-"+Job(p.asked, "+", mostJob), "-")
}

// Job is a short name of what a pack was asked for, such as box JB-21 and loop F-2107:
// all tags, if they have at most so many bytes, else the first tag and three letters
// of a digest of all, so that packs for other jobs have other names.
func Job(asked []Asked, between string, most int) string {
	var tags []string
	for _, a := range asked {
		tags = append(tags, a.Tag)
	}
	if s := strings.Join(tags, between); len(s) <= most || len(tags) == 1 {
		return s
	}
	return tags[0] + between + model.WiringCode(slices.Sorted(slices.Values(AskedWords(asked))))[:3]
}

// loop adds the sheets of a loop, diagram before record. Where the pack is
// printed on both sides and bound on the left, the record begins on the page
// that faces the end of the diagram.
func (p *Pack) loop(sheets []*sheet.Sheet) {
	record := slices.IndexFunc(sheets, func(s *sheet.Sheet) bool { return s.Kind.Form })
	if p.whole && record > 0 && (len(p.Sheets)+record)%2 > 0 {
		s := p.own(freeKind, "Blank page")
		s.Loop, s.Name, s.Planned = sheets[0].Loop, "pack-free-"+sheets[0].Name, freePage{}
		p.Sheets = append(p.Sheets, s)
	}
	p.Sheets = append(p.Sheets, sheets...)
}

// own starts a page that only the pack has.
func (p *Pack) own(k *sheet.Kind, title string) *sheet.Sheet {
	s := p.plan.Sheet(k)
	s.Number, s.Words, s.Title, s.Name = p.number, "Field pack: "+p.Words, title, "pack-"+k.Name
	return s
}

// form lays tables on pages of their own. contents is the section that lists
// the sheets in listed.
func (p *Pack) form(k *sheet.Kind, title string, sections []paper.Section, contents int, listed []*sheet.Sheet) []*sheet.Sheet {
	first := p.own(k, title)
	var cut []string
	for _, s := range sections {
		cut = append(cut, s.Table.Finish(first.Inner.W())...)
	}
	rest := p.own(k, title)
	rest.Continue(p.plan)
	pages, _ := paper.Flow(sections, first.Inner.H(), rest.Inner.H(), 0)
	all := make([]*sheet.Sheet, len(pages))
	for i, pieces := range pages {
		s := first
		if i > 0 {
			s = p.own(k, fmt.Sprintf("%s, %d of %d", title, i+1, len(pages)))
			s.Name += fmt.Sprintf("-%d", i+1)
			s.Continue(p.plan)
			cut = nil
		}
		s.Part, s.Of = i+1, len(pages)
		s.Planned = packForm{sections, pieces, contents, listed, cut}
		all[i] = s
	}
	return all
}

// Draw draws one page of the forms of a pack.
func (f packForm) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	items, at, unfit := paper.DrawForm(s.Inner, f.sections, f.pieces)
	page.Items = append(page.Items, items...)
	for i, p := range f.pieces {
		if p.Section == f.contents {
			page.Items = append(page.Items, contentsLinks(f.sections[p.Section].Table, at[i], f.listed, p.Rows)...)
		}
	}
	for _, u := range append(unfit, f.cut...) {
		problems = append(problems, pl.TextTooLong(s, u))
	}
	return page, problems
}

// freePage is a page to write on.
type freePage struct{}

// Draw draws it.
func (freePage) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	words := fmt.Sprintf("Blank page for notes. The record of %s faces its diagram.", s.Loop.Tag)
	in := s.Inner
	in.Max.Y = in.Min.Y + 12*render.MM
	items, ok := paper.FitText(in, fonts.Sans, paper.Lettered, render.Left, words)
	if !ok {
		problems = append(problems, pl.TextTooLong(s, words))
	}
	page.Items = append(page.Items, items...)
	return page, problems
}

// The place of a page in the pack stands right above the title block, in the
// strip that the frame keeps free.
const stampSide, stampRise = 1 * render.MM, 1500 * render.UM

// Pages draws the pages in their order. A page of the set is the sheet of the
// set with its place in the pack above its title block.
func (p *Pack) Pages() iter.Seq2[*render.Page, finding.Findings] {
	return func(yield func(*render.Page, finding.Findings) bool) {
		n, pl := 0, *p.plan
		pl.Packed = p.numbered()
		for page, problems := range pl.Draw(p.Sheets) {
			s := p.Sheets[n]
			n++
			words, unfit := p.stamp(s, n)
			page.Items = append(page.Items, words...)
			for _, u := range unfit {
				problems = append(problems, p.plan.TextTooLong(s, u))
			}
			page = p.printed(s, page, n)
			size := paper.Rect(0, 0, page.W, page.H)
			if far := paper.Past(size, size, page.Items); far > 0 {
				problems = append(problems, p.plan.OffPaper(s, far))
			}
			if !yield(page, problems) {
				return
			}
		}
	}
}

// numbered are the sheets with their page in the pack. The pack's own pages have its job in
// their number.
func (p *Pack) numbered() map[*sheet.Sheet]sheet.PackPage {
	all := map[*sheet.Sheet]sheet.PackPage{}
	for i, s := range p.Sheets {
		at := sheet.PackPage{At: i + 1}
		if s.Number != p.number {
			at.Job = Job(p.asked, "+", mostJob)
		}
		all[s] = at
	}
	return all
}

// stamp is the place in the pack of its page n, and that it is reduced: its boxes are too
// small for a hand then. Where the
// strip is lettered DRAFT or NOT ISSUED, the stamp is between the last two of these
// texts, or split over two gaps where it is too long for one.
func (p *Pack) stamp(s *sheet.Sheet, n int) (items []render.Item, unfit []string) {
	words := []string{fmt.Sprintf("pack page %d of %d", n, len(p.Sheets))}
	if p.reduced(s) {
		words = append(words, "reduced: not for marking")
		slices.Reverse(words)
	}
	free := p.plan.Frame(s).Free
	at, align, room, every := render.Point{X: free.Max.X - stampSide, Y: free.Max.Y - stampRise}, render.Right, free.W(), render.Len(0)
	title := p.plan.Title(s)
	if line, ok := paper.AcrossLines[title.Across()]; ok {
		every = free.W() / max(1, free.W()/paper.DraftEvery)
		at.X, align, room = free.Max.X-every, render.Middle, every-render.Measure(fonts.Bold, line, paper.PlainHeight)-2*stampSide
	}
	if all := strings.Join(words, ", "); every == 0 || paper.OneLine(fonts.Bold, paper.Heights[0], all, room) {
		words = []string{all}
	}
	for _, s := range slices.Backward(words) {
		text, ok := paper.TextLine(at, paper.Letters(fonts.Bold, paper.PlainHeight, align), s, room) // larger would reach both edges of the strip
		items = append(items, text)
		if !ok {
			unfit = append(unfit, s)
		}
		at.X -= every
	}
	return items, unfit
}

// printed is page n as it comes out of the printer.
func (p *Pack) printed(s *sheet.Sheet, page *render.Page, n int) *render.Page {
	head := p.head(s)
	switch {
	case head != page.Head && head.W > head.H:
		return p.bound(s, page.ScaledTo(head.W, head.H-p.spine(s)), n)
	case head != page.Head:
		return page.ScaledTo(head.W, head.H)
	case p.whole && n%2 == 0: // the filing edge of a left page is on its right
		page.Items = render.Move(page.Items, s.Paper.Margin-s.Paper.Left, 0)
	}
	return page
}

// punched is how far a frame stays off the edge where a page is bound: holes after
// ISO 838 reach 15 mm in (from memory).
const punched = 16 * render.MM

// spine is the strip that a reduced page across leaves free beside its margin,
// so that no hole goes through its frame.
func (p *Pack) spine(s *sheet.Sheet) render.Len {
	full, ends, h := int64(s.Paper.H), int64(s.Paper.Ends), int64(p.head(s).H)
	return render.Len((int64(punched)*full - ends*h) / (full - ends))
}

// bound gives page n its strip at the spine: turned with its head to the left, a
// page across is bound at its head on the right and at its foot on the left.
func (p *Pack) bound(s *sheet.Sheet, page *render.Page, n int) *render.Page {
	page.H += p.spine(s)
	if n%2 > 0 {
		page.Items = render.Move(page.Items, 0, p.spine(s))
	}
	return page
}

// head is that of a sheet on the paper that it is printed on.
func (p *Pack) head(s *sheet.Sheet) render.Head {
	head := s.Head
	if form := p.plan.Paper(coverKind); p.reduced(s) {
		if head.W, head.H = form.W, form.H; s.Paper.W > s.Paper.H {
			head.W, head.H = form.H, form.W
		}
	}
	return head
}

// reduced reports whether a sheet is printed on smaller paper than it is made for.
func (p *Pack) reduced(s *sheet.Sheet) bool {
	return p.whole && s.Paper.Name != p.plan.Paper(coverKind).Name
}

// Printed are the sheets of the pages, in their order, on the paper that they are
// printed on.
func (p *Pack) Printed() (all []*sheet.Sheet) {
	for _, s := range p.Sheets {
		on := *s
		on.Head = p.head(s)
		all = append(all, &on)
	}
	return all
}
