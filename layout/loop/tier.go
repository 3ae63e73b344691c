package loop

import (
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
)

// Circuits that share their places stand in one tier: under one row of
// headings, in one set of columns. What does not fit the columns of a tier
// begins another, below it or on the next sheet. A circuit with more stations
// in a row than the paper is wide is broken at a terminal strip: the strip ends
// one tier and begins the next, and every conductor is drawn once.

// The measures of tiers.
const (
	breakWidth = 27 * render.MM // beside a strip at which a circuit is broken
	tierGap    = 6 * render.MM  // between two tiers
)

// tier is a row of places with the circuits under it.
type tier struct {
	cols     *columns
	segments []*segment
	step     int // of widthSteps
	bands    []band
	blocks   []*block
	top      render.Len
	head     render.Len // height of the headings
	tight    bool       // the columns do not fit the sheet
}

func (t *tier) widths() widths { return widthSteps[t.step] }

// reach is how far the walls of a band reach.
func (t *tier) reach(b band) (x0, x1 render.Len) {
	first, last := t.cols.all[b.from], t.cols.all[b.to-1]
	return first.x - first.left - wallGap, last.east() + last.right + wallGap
}

// heading is where the heading of a band stands: about the middle of its
// columns, up to half-way to its neighbours.
func (t *tier) heading(i int, in paper.Area) (mid, width render.Len) {
	x0, x1 := t.reach(t.bands[i])
	left, right := in.Min.X, in.Max.X
	if i > 0 {
		_, w := t.reach(t.bands[i-1])
		left = (w + x0) / 2
	}
	if i+1 < len(t.bands) {
		e, _ := t.reach(t.bands[i+1])
		right = (x1 + e) / 2
	} else if t.bands[i].place != nil && functional(t.segments) {
		x1 += t.widths().funct
	}
	const edge, least = render.MM, 40 * render.MM
	mid = (x0 + x1) / 2
	if width = 2 * (min(mid-left, right-mid) - edge); width < least {
		width = min(least, right-left-2*edge)
		mid = max(left+edge+width/2, min(mid, right-edge-width/2))
	}
	return mid, width
}

// uses reports whether a block has a station in the columns of a band.
func (t *tier) uses(bl *block, b band) bool {
	for _, st := range bl.stations() {
		if slices.Contains(t.cols.all[b.from:b.to], t.cols.at[st]) {
			return true
		}
	}
	return false
}

// headHeight is what the words of the headings need.
func (t *tier) headHeight(in paper.Area) render.Len {
	high := headBand
	for i, b := range t.bands {
		if b.place == nil {
			continue
		}
		_, width := t.heading(i, in)
		if b.place.At != "" {
			words := paper.SettingOf(fonts.Sans, paper.Heights[0], paper.Wrap(fonts.Sans, paper.Heights[0], b.place.At, width*100/85))
			high = max(high, 8500*render.UM+max(words.Tall+render.MM, words.Above+words.Tall+words.Below))
		}
	}
	return high
}

// goesOn draws, at a break, where a circuit comes from and goes on.
func (d *loopSheet) goesOn(b *block) {
	arrow := func(st *model.Station, other *block, east bool) {
		col := d.t.cols.at[st]
		words := "see below"
		if !east {
			words = "from above"
		}
		if other != nil && other.sheet != b.sheet {
			ref := sheet.Ref{Sheet: other.sheet, At: render.Point{X: b.sheet.Inner.Min.X + b.sheet.Inner.W()/2, Y: other.rows[0]}}
			words = map[bool]string{true: "to sh ", false: "from sh "}[east] + ref.String()
		}
		var top, low, begin render.Len
		for i, termination := range st.Terminations {
			if termination.Does != model.Lands {
				continue
			}
			y := b.row(pathAt(b.path, st).Legs[i])
			begin = b.begin(col, termination)
			tip, tail := begin, begin-6*render.MM
			if east {
				if tail = col.west() + d.termWidth(termination.In); termination.Through() {
					tail = col.east()
				}
				tip = tail + 6*render.MM
			}
			d.Line(render.Thin, tail, y, tip, y)
			d.Line(render.Outline, tip-1500, y-900, tip, y, tip-1500, y+900)
			if top == 0 {
				top = y
			}
			low = y
		}
		x, align := begin-8*render.MM, render.Right
		if east {
			x, align = col.east()+8*render.MM, render.Left
		}
		y := (top+low)/2 + paper.PlainHeight/2
		d.text(x, y, paper.Letters(fonts.Bold, paper.PlainHeight, align), words, breakWidth-8*render.MM)
		if other != nil && other.sheet != b.sheet {
			d.Add(&render.Link{Min: render.Point{X: min(x, x+19*render.MM), Y: y - 3*render.MM}, Max: render.Point{X: x + 19*render.MM, Y: y + render.MM}, Page: other.sheet.Name})
		}
	}
	if b.prev != nil {
		arrow(b.path.Stations[0], b.prev.block, false)
	}
	if b.goes != nil {
		arrow(b.goes, b.next.block, true)
	}
}

// begin is the west side of the terminal that a leg goes on from at the start of a tier: that
// behind a contact where it goes through one.
func (b *block) begin(col *column, t model.Termination) render.Len {
	if t.Through() {
		return col.east() - termWide
	}
	return col.west()
}

// pathAt is the path, or the tail of it, that a station is in.
func pathAt(p *model.Path, st *model.Station) *model.Path {
	if slices.Contains(p.Stations, st) {
		return p
	}
	for _, t := range p.Tails {
		if in := pathAt(t, st); in != nil {
			return in
		}
	}
	return nil
}
