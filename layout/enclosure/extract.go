package enclosure

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
)

// This file draws of a place only what a job touches: the stretches of its strips, cards and
// bars on which conductors of the job land, what lies beside them, and on these parts all that
// may harm. It says what it leaves out.

// beside is how many terminals are shown beyond each end of a stretch that a job touches.
const beside = 2

// fewest is how many rows in a row are worth leaving out: what stands for them has two.
const fewest = 3

// manyLegs is how many conductors on one terminal are more than a terminal of a strip has:
// of an earth bar those of the job are shown.
const manyLegs = 4

// extractOf is the kind of sheet that shows of a place what a job touches, of the kind of
// the drawing that it is taken from: with its letters, as it is of that drawing.
func extractOf(k *sheet.Kind) *sheet.Kind {
	return &sheet.Kind{Name: k.Name + "-extract", Words: "Extract of " + strings.ToLower(k.Words[:1]) + k.Words[1:], Letter: k.Letter}
}

// PlanExtract plans an extract of the drawing that full are sheets of, for a job with so many
// conductors; none of a place that is drawn as its front, its board or its shared supply
// wiring too.
func PlanExtract(pl *sheet.Plan, full []*sheet.Sheet, job map[*model.Conductor]bool) []*sheet.Sheet {
	p := full[0].Place
	board := func(x *model.Part) bool { return x.Strip != nil && x.Strip.Grid.Given() }
	if p.Front.Given() || slices.ContainsFunc(p.Parts, board) || len(pl.Plant.Chains(p)) > 0 || len(pl.Plant.Links(p)) > 0 {
		return nil
	}
	d := pl.Extract(extractOf(full[0].Kind), full[0])
	view, parts := planView(pl, p)
	view.whole = view.parts
	view.parts = nil
	left := leftTable()
	for _, x := range view.touched(job) {
		if x.rows == nil {
			addLeft(pl, left, full[0], x)
		} else {
			view.parts = append(view.parts, x)
		}
	}
	if len(view.parts) == 0 {
		return nil
	}
	view.of = "extract of " + SheetsOf(pl, p)
	cables := map[string]bool{}
	view.cables = slices.DeleteFunc(slices.Clone(view.cables), func(c *model.Cable) bool {
		cables[c.Tag] = slices.ContainsFunc(c.CoresAndScreens(), func(core *model.Core) bool { return job[pl.Plant.ConductorOf(core)] })
		return !cables[c.Tag]
	})
	view.totals = []*paper.Table{cableTable(pl.Plant, view), left}
	if t := view.notLanded; t != nil { // of each row the first datum is its cable
		t.Rows = slices.DeleteFunc(t.Rows, func(r paper.Row) bool { return !cables[r.Data[0].Value] })
		if len(t.Rows) == 0 {
			view.notLanded = nil
		}
	}
	if !slices.ContainsFunc(view.parts, func(x *partView) bool { return x.part.Barrier != nil }) {
		view.earths = nil
	}
	all := planned(pl, d, view, parts)
	for i, s := range all {
		s.Part, s.Of, s.Number = i+1, len(all), full[0].Number
		s.Words = "Extract of " + s.Words
		s.Name, s.Title = fmt.Sprintf("extract-%s-%d", sheet.PlainName(p.Tag), i+1), fmt.Sprintf("%s %s, %d of %d", s.Kind.Words, p.Tag, i+1, len(all))
	}
	return all
}

// touched are the parts of a place with the rows that a job touches and those beside; none
// of a part that it does not touch. Supplies that feed one that it does are shown whole.
func (v *PlaceView) touched(job map[*model.Conductor]bool) (all []*partView) {
	var feed []*model.Part
	for _, x := range v.whole {
		y := x.extract(job)
		if y != nil {
			feed = append(feed, x.part.Feeders()...)
		} else {
			y = &partView{part: x.part}
		}
		all = append(all, y)
	}
	for i, x := range v.whole {
		if all[i].rows == nil && x.part.Supply != nil && slices.Contains(feed, x.part) {
			all[i] = x
		}
	}
	return all
}

// leftTable lists the parts that an extract has nothing of.
func leftTable() *paper.Table {
	return &paper.Table{Columns: []paper.Column{
		{Head: "Not in this extract", Width: 38 * render.MM, Face: fonts.Mono},
		{Head: "Has", Width: 30 * render.MM},
		{Head: "Full drawing", Width: 28 * render.MM},
	}}
}

func addLeft(pl *sheet.Plan, t *paper.Table, full *sheet.Sheet, x *partView) {
	at := "–"
	if ref, ok := pl.Ref(full.Kind.Name, x.part.Terminals[0]); ok {
		at = "sheet " + ref.String()
	}
	t.Rows = append(t.Rows, paper.Row{Print: true, ID: "left-" + sheet.PlainName(x.part.Tag), Data: []render.Datum{{Key: "left", Value: x.part.Tag}}, Cells: []paper.Cell{
		{S: x.part.Name(), Bold: true}, {S: finding.Count(len(x.part.Terminals), "terminal")}, {S: at}}})
}

// harms reports whether what lands on a row may harm who works beside it, or be harmed: what
// is in service or there already, what carries a voltage that kills, what is intrinsically
// safe, and what nobody knows.
func (r *placeRow) harms() bool {
	for _, t := range []*model.Terminal{r.in, r.out} {
		if t != nil && (t.Doubt != "" || t.Fed != nil && t.Fed.Supply.Role != 'E' && t.Fed.Supply.Part.Dangerous()) {
			return true
		}
	}
	for _, l := range r.sides {
		if l != nil && (l.safe || l.c.Status == model.Existing || l.c.InService() || len(l.c.Dangers()) > 0) {
			return true
		}
	}
	return false
}

// extract is what of a part a job touches, with what lies beside it and what harms; nil
// where the job touches nothing.
func (v *partView) extract(job map[*model.Conductor]bool) *partView {
	keep := make([]bool, len(v.rows))
	for i := range v.rows {
		for _, l := range v.rows[i].sides {
			keep[i] = keep[i] || l != nil && job[l.c]
		}
	}
	for _, j := range v.jumpers {
		for _, row := range j.rows {
			keep[row] = keep[row] || j.c != nil && job[j.c]
		}
	}
	if !slices.Contains(keep, true) {
		return nil
	}
	v.widen(keep)
	for i := range v.rows {
		keep[i] = keep[i] || v.rows[i].harms() || v.rows[i].earth
	}
	v.complete(keep)
	return v.only(keep)
}

// bar reports whether two rows are conductors on one terminal that has many.
func (v *partView) bar(i, k int) bool {
	return v.rows[i].in != nil && v.rows[i].in == v.rows[k].in && v.rows[i].legs > manyLegs
}

// widen keeps so many terminals beyond each stretch that is kept.
func (v *partView) widen(keep []bool) {
	touched := slices.Clone(keep)
	for i, on := range touched {
		for _, step := range []int{-1, 1} {
			for k, n, at := i, 0, v.rows[i].in; on && k+step >= 0 && k+step < len(keep); {
				k += step
				if v.bar(i, k) {
					break
				}
				if t := v.rows[k].in; t != nil && t != at {
					if n++; n > beside || v.rows[k].spare != nil && n > 1 && v.rows[k-min(k, max(step, 0))].spare != nil {
						break
					}
					at = t
				}
				keep[k] = true
			}
		}
	}
}

// complete keeps what belongs to what is kept: all that a jumper joins with it, all of a
// circuit or pair that is kept on one sheet, all of a terminal.
func (v *partView) complete(keep []bool) {
	for again := true; again; {
		again = false
		put := func(i int) {
			again = again || !keep[i]
			keep[i] = true
		}
		for _, j := range v.jumpers {
			if slices.ContainsFunc(j.rows, func(row int) bool { return keep[row] }) {
				for _, row := range j.rows {
					put(row)
				}
			}
		}
		for i := 0; i+1 < len(keep); i++ {
			if v.tied[i] && keep[i] != keep[i+1] && !v.bar(i, i+1) {
				put(i)
				put(i + 1)
			}
		}
	}
	for i := 0; i < len(keep); { // what stands for the rest takes as much room as a few rows
		n := i
		for n < len(keep) && !keep[n] {
			n++
		}
		for k := i; k < n && n-i < fewest; k++ {
			keep[k] = true
		}
		i = max(n, i+1)
	}
}

// only is a part with the rows that are kept, and for each stretch between them one that
// says so.
func (v *partView) only(keep []bool) *partView {
	x := *v
	x.rows, x.tied, x.jumpers = nil, nil, nil
	at := make([]int, len(keep)) // where a row is now
	for i := 0; i < len(keep); {
		if keep[i] {
			at[i] = len(x.rows)
			x.rows = append(x.rows, v.rows[i])
			x.tied = append(x.tied, v.tied[i] && i+1 < len(keep) && keep[i+1])
			i++
			continue
		}
		var left []*model.Terminal
		legs := 0
		for ; i < len(keep) && !keep[i]; i++ {
			legs++
			r := &v.rows[i]
			for _, t := range append([]*model.Terminal{r.in}, r.spare...) {
				if t != nil && !slices.Contains(left, t) {
					left = append(left, t)
				}
			}
		}
		if len(left) == 0 { // ends of cores beside their pair, on no terminal
			continue
		}
		for leg := range 2 {
			x.rows = append(x.rows, placeRow{in: left[0], out: left[0], leg: leg, legs: 2, left: left, ends: legs})
			x.tied = append(x.tied, leg == 0)
		}
	}
	x.tied[len(x.tied)-1] = false
	for i := 0; i < len(x.rows); { // of a bar each stretch is drawn as a terminal of its own
		n := i + 1
		for n < len(x.rows) && x.rows[n].in != nil && x.rows[n].in == x.rows[i].in && x.rows[n].left == nil && x.rows[i].left == nil {
			n++
		}
		for k := i; k < n && x.rows[i].in != nil && x.rows[i].left == nil; k++ {
			x.rows[k].leg, x.rows[k].legs = k-i, n-i
		}
		i = n
	}
	for _, j := range v.jumpers {
		if keep[j.rows[0]] {
			rows := make([]int, len(j.rows))
			for i, row := range j.rows {
				rows[i] = at[row]
			}
			x.jumpers = append(x.jumpers, jumper{rows, j.leg, j.c})
		}
	}
	return &x
}

// omitted draws what stands for terminals that an extract leaves out, over two legs.
func (d *placeDrawing) omitted(r *placeRow, y render.Len) {
	g := d.grid
	box := paper.Rect(g.body.Min.X, y-g.leg/2, g.body.W(), 2*g.leg)
	width := box.W() - 2*cellSide
	names := r.left[0].Name
	if n := len(r.left); n > 1 {
		names += " to " + r.left[n-1].Name
	}
	tags := r.left[0].Tag() + " to " + r.left[len(r.left)-1].Tag()
	d.group("left-"+tags, []render.Datum{{Key: "left", Value: tags}}, func() {
		for _, x := range []render.Len{box.Min.X, box.Max.X} {
			d.add(paper.Stroke(render.Future, x, box.Min.Y, x, box.Max.Y))
		}
		d.text((box.Min.X+box.Max.X)/2, y+paper.Lettered/2, paper.Letters(fonts.Mono, paper.Lettered, render.Middle), names, width)
		d.text((box.Min.X+box.Max.X)/2, y+g.leg+paper.Lettered/2, paper.Letters(fonts.Sans, paper.Lettered, render.Middle), "not shown", width)
	})
}

// leftWords tell beside what is left out, on its first row how many, on its second where
// they are drawn.
func (d *placeDrawing) leftWords(r *placeRow) string {
	if r.leg > 0 {
		for _, kind := range []string{sheet.Box, sheet.Cabinet} {
			if ref, ok := d.pl.Ref(kind, r.left[0]); ok {
				return "see sheet " + ref.String()
			}
		}
		return ""
	}
	if len(r.left) == 1 && r.left[0].Part.Kind.Bar {
		return finding.Count(r.ends, d.pl.Plant.Say("conductor")) + " not shown"
	}
	return finding.Count(len(r.left), "terminal") + " not shown"
}

// sheetWords name a sheet that a drawing goes on on.
func sheetWords(s *sheet.Sheet) string {
	if s.No == 0 {
		return fmt.Sprintf("sheet %d of this extract", s.Part)
	}
	return fmt.Sprintf("sheet %d", s.No)
}

// planView is a place with its parts in their order, and the instruments that it houses.
func planView(pl *sheet.Plan, p *model.Place) (*PlaceView, []*model.Part) {
	in := wording.Housed(pl.Plant)[p]
	parts := slices.Concat(p.Parts, in.Devices)
	slices.SortStableFunc(parts, func(a, b *model.Part) int { return partRank(a) - partRank(b) })
	return viewPlace(pl.Plant, p, parts, in.Cables), in.Devices
}

// SheetsOf are the numbers of the sheets of a place in the set, in words.
func SheetsOf(pl *sheet.Plan, p *model.Place) string {
	first, last := 0, 0
	for _, s := range pl.Sheets {
		if s.Place == p {
			if last = s.No; first == 0 {
				first = s.No
			}
		}
	}
	if first == last {
		return fmt.Sprintf("sheet %d", first)
	}
	return fmt.Sprintf("sheets %d–%d", first, last)
}
