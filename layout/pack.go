package layout

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// A pack is what somebody takes along for one job: some sheets of the set in
// the order of the work, a cover before them, forms behind them. Its sheets are
// those of the set, with their numbers, codes and issue.

// The kinds of page that only a pack has.
var (
	coverKind = &Kind{Name: "cover", Words: "Field pack cover", Letter: "PK", Form: true, Draw: drawPackForm}
	freeKind  = &Kind{Name: "free", Words: "Free page", Letter: "PK", Form: true, Draw: drawFree}
	punchKind = &Kind{Name: "punch", Words: "Punch list", Letter: "PK", Form: true, Draw: drawPackForm}
	closeKind = &Kind{Name: "close", Words: "Mark-up key, sign-off", Letter: "PK", Form: true, Draw: drawPackForm}
)

// Pack is a pack for one job. Page n of it is Sheets[n-1].
type Pack struct {
	Sheets []*Sheet
	Words  string // what it is for, such as box JB-21; a long list is cut short
	asked  []string
	plan   *Plan
	scope  model.Scope
	number string
	loops  []*model.Loop
	rung   []*model.Cable
}

// packForm is what is planned for one page of the pack's own forms.
type packForm struct {
	sections []section
	pieces   []piece
	contents int      // the section that lists the sheets; -1 without one
	listed   []*Sheet // in it
	cut      []string // texts that were cut; on the first page of the form
}

// NewPack puts together the pack for a scope of the plan's plant. What was asked
// for is said in words, such as box JB-21 and loop F-2107, at least one. It is an
// error when the set holds nothing of the scope.
//
// With loops come their diagrams and records, and the sheets of places that they
// stand on; with a place its own diagram and the loops through it; with a cable
// the sheets that its ends stand on and the loops on it. A cable of many cores is rung out by itself when the scope
// names it or a place that it ends in, or when the loops of the scope are all
// that it carries.
func NewPack(pl *Plan, asked []string, scope model.Scope) (*Pack, error) {
	p := &Pack{plan: pl, asked: asked, Words: short(asked), scope: scope}
	work := p.choose()
	subject := func(of any) (all []*Sheet) {
		for _, s := range pl.Sheets {
			if s.Loop != nil && s.Loop == of || s.Cable != nil && s.Cable == of {
				all = append(all, s)
			}
		}
		return all
	}
	for _, c := range p.rung {
		work = append(work, subject(c)...)
	}
	var loops [][]*Sheet
	for _, l := range p.loops {
		if s := subject(l); len(s) > 0 {
			loops = append(loops, s)
		}
	}
	if len(work)+len(loops) == 0 {
		return nil, errors.New("the set has no sheet of it")
	}
	p.number = p.packNumber()
	ends := append([]*Sheet{p.punch()}, p.closing()...)
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
func (p *Pack) choose() (places []*Sheet) {
	plant := p.plan.Plant
	p.loops = p.scope.Through(plant)
	stands := map[*Sheet]bool{}
	ends := func(w *model.Conductor) {
		for _, e := range []model.End{w.From, w.To} {
			if w.Core != nil {
				p.standsOn(cableAt{w.Core.Cable, e.Where(plant)}, stands)
			}
			if e.Terminal != nil {
				p.standsOn(e.Terminal, stands)
			}
		}
	}
	for _, c := range p.scope.Cables {
		for _, core := range c.Strands() {
			if w := plant.ConductorOf(core); w != nil {
				ends(w)
			}
		}
	}
	for _, l := range p.scope.Loops {
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(plant) {
				ends(w)
			}
		}
	}
	for _, c := range plant.Cables {
		if c.RungOut() && p.scope.Has(plant, c) {
			p.rung = append(p.rung, c)
		}
	}
	for _, s := range p.plan.Sheets {
		if s.Place != nil && (stands[s] || slices.Contains(p.scope.Places, s.Place)) {
			places = append(places, s)
		}
	}
	return places
}

// standsOn marks the sheets of places that a thing stands on.
func (p *Pack) standsOn(of any, stands map[*Sheet]bool) {
	for _, kind := range []string{Box, Cabinet} {
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

// packNumber is the drawing number of the pack's own pages.
func (p *Pack) packNumber() string {
	_, s, _ := strings.Cut(p.asked[0], " ")
	if n := len(p.asked) - 1; n > 0 {
		s += fmt.Sprintf("+%d", n)
	}
	return strings.TrimPrefix(p.plan.Plant.Number+"-PK-"+s, "-")
}

// loop adds the sheets of a loop, diagram before record. Where the pack is
// printed on both sides and bound on the left, the record begins on the page
// that faces the end of the diagram.
func (p *Pack) loop(sheets []*Sheet) {
	record := slices.IndexFunc(sheets, func(s *Sheet) bool { return s.Kind.Name == Record })
	if record > 0 && (len(p.Sheets)+record)%2 > 0 {
		s := p.own(freeKind, "Free page")
		s.Loop, s.Name = sheets[0].Loop, "pack-free-"+sheets[0].Name
		p.Sheets = append(p.Sheets, s)
	}
	p.Sheets = append(p.Sheets, sheets...)
}

// own starts a page that only the pack has.
func (p *Pack) own(k *Kind, title string) *Sheet {
	s := p.plan.sheet(k)
	s.Number, s.Words, s.Title, s.Name = p.number, "Field pack: "+p.Words, title, "pack-"+k.Name
	return s
}

// form lays tables on pages of their own. contents is the section that lists
// the sheets in listed.
func (p *Pack) form(k *Kind, title string, sections []section, contents int, listed []*Sheet) []*Sheet {
	first := p.own(k, title)
	var cut []string
	for _, s := range sections {
		cut = append(cut, s.table.finish(first.Inner.W())...)
	}
	pages, _ := flow(sections, first.Inner.H())
	all := make([]*Sheet, len(pages))
	for i, pieces := range pages {
		s := first
		if i > 0 {
			s = p.own(k, fmt.Sprintf("%s, %d of %d", title, i+1, len(pages)))
			s.Name += fmt.Sprintf("-%d", i+1)
			cut = nil
		}
		s.Part, s.Of = i+1, len(pages)
		s.plan = packForm{sections, pieces, contents, listed, cut}
		all[i] = s
	}
	return all
}

func drawPackForm(pl *Plan, s *Sheet) (*render.Page, model.Problems) {
	page, _, problems := pl.page(s)
	f := s.plan.(packForm)
	items, at, unfit := drawForm(s.Inner, f.sections, f.pieces)
	page.Items = append(page.Items, items...)
	for i, p := range f.pieces {
		if p.section == f.contents {
			page.Items = append(page.Items, contentsLinks(f.sections[p.section].table, at[i], f.listed, p.rows)...)
		}
	}
	for _, u := range append(unfit, f.cut...) {
		problems = append(problems, pl.unfit(s, u))
	}
	return page, problems
}

// drawFree draws a page to write on.
func drawFree(pl *Plan, s *Sheet) (*render.Page, model.Problems) {
	page, _, problems := pl.page(s)
	words := fmt.Sprintf("This page is left free to write on. Printed on both sides, the record of %s lies beside its diagram.", s.Loop.Tag)
	in := s.Inner
	in.Max.Y = in.Min.Y + 12*render.MM
	items, ok := Fill(in, fonts.Sans, lettered, render.Left, words)
	if !ok {
		problems = append(problems, pl.unfit(s, words))
	}
	page.Items = append(page.Items, items...)
	return page, problems
}

// The place of a page in the pack stands in half a zone of the border.
const stampSide, stampWidth = 1 * render.MM, 20 * render.MM

// Pages draws the pages in their order. A page of the set is the sheet of the
// set with its place in the pack below its title block.
func (p *Pack) Pages() iter.Seq2[*render.Page, model.Problems] {
	return func(yield func(*render.Page, model.Problems) bool) {
		n := 0
		for page, problems := range p.plan.Draw(p.Sheets) {
			frame := p.Sheets[n].Paper.Frame()
			n++
			// Below the title block, beside the last figure of the zones.
			at := render.Point{X: frame.Max.X - stampSide, Y: frame.Max.Y + (zoneStrip+lettered)/2}
			text, _ := Put(at, fonts.Bold, lettered, render.Right, fmt.Sprintf("pack page %d of %d", n, len(p.Sheets)), stampWidth)
			page.Items = append(page.Items, text)
			if !yield(page, problems) {
				return
			}
		}
	}
}
