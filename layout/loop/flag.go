package loop

import (
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// This file draws what joins a loop to others beside its wiring: a flag on the
// sheets of both loops, which refer to each other. Functions that are drawn at no
// channel of their loop stand among the flags, and circuits of it that they read
// or drive and that come to no channel, to which no link could be drawn.

// The measures of flags.
const (
	TieTall   = 13 * render.MM
	tieLeast  = 88 * render.MM // width of a flag and the gap beside it
	tieGap    = 2 * render.MM
	tiePoint  = 6 * render.MM // of the point
	tieBubble = 15 * render.MM
)

// loopFlag is a tie as the sheets of one of its two loops show it, or a function that
// no channel shows.
type loopFlag struct {
	tie   model.Tie
	on    *model.Loop
	alone *model.Function // of no tie
	words string          // beside that function
}

// flags are those of a loop.
func flags(plant *model.Plant, l *model.Loop) (all []loopFlag) {
	for _, f := range l.Functions {
		var words []string
		if !slices.ContainsFunc(slices.Concat(f.Reads, f.Outputs), func(c *model.Circuit) bool { return c.Loop == l && atChannel(c) }) {
			words = functionLines(plant.Practice.Words, f, tieLeast)
		}
		for _, c := range f.Reads {
			if c.Loop == l && !atChannel(c) {
				words = append(words, f.Tag+" reads "+c.Name)
			}
		}
		for _, c := range f.Outputs {
			if c.Loop == l && !atChannel(c) {
				words = append(words, f.Tag+" drives "+c.Name)
			}
		}
		if len(words) > 0 {
			all = append(all, loopFlag{on: l, alone: f, words: wording.Joined(words...)})
		}
	}
	for _, t := range wording.Ties(plant)[l] {
		all = append(all, loopFlag{tie: t, on: l})
	}
	return all
}

// atChannel reports whether a circuit is drawn with a channel, from which a link may
// go to a function.
func atChannel(c *model.Circuit) bool { return !c.Broken && whole(c).channel() != nil }

// tiesAcross is how many stand side by side.
func tiesAcross(in paper.Area) int { return max(1, int(in.W()/tieLeast)) }

// layFlags lays the flags at the foot of the first sheets that have room for them,
// and else on further ones.
func (g *loopPager) layFlags() {
	all := flags(g.pl.Plant, g.loop)
	for i := 0; len(all) > 0; i++ {
		if i == len(g.sheets) {
			g.turn()
		}
		s, lp := g.sheets[i], g.plans[i]
		y := g.reach(i)
		if len(lp.tiers) > 0 {
			y += leastFree
		}
		across := tiesAcross(s.Inner)
		room := lp.tablesTop() - y
		n := min(len(all), across*max(0, int(room/(TieTall+tieGap))))
		lp.flags, all = all[:n], all[n:]
		lp.foot -= render.Len((n+across-1)/across) * (TieTall + tieGap)
	}
}

// tieArea is where a flag of a sheet stands.
func (lp *loopPlan) tieArea(i int, in paper.Area) paper.Area {
	across := tiesAcross(in)
	wide := in.W() / render.Len(across)
	x, y := in.Min.X+render.Len(i%across)*wide, lp.foot+render.Len(i/across)*(TieTall+tieGap)+tieGap
	return paper.Area{Min: render.Point{X: x, Y: y}, Max: render.Point{X: x + wide - tieGap, Y: y + TieTall}}
}

// flags draws those of the sheet.
func (d *loopSheet) flags() {
	for i, f := range d.lp.flags {
		a := d.lp.tieArea(i, d.s.Inner)
		if f.alone != nil {
			d.group("function-"+f.alone.Tag, []render.Datum{{Key: "function", Value: f.alone.Tag}}, func() {
				s, _ := functionBubble(f.alone, tieLeast)
				d.Put(s, a.Min.X+tieBubble/2-s.Min.X-symbol.BubbleWide/2, (a.Min.Y+a.Max.Y)/2)
				a.Min.X += tieBubble + s.Max.X - s.Min.X - symbol.BubbleWide
				d.fill(a, f.words)
			})
			continue
		}
		far := f.tie.Far(f.on)
		words := f.tie.Words() + "\nloop " + far.Tag + ", "
		ref, ok := d.pl.Ref(sheet.Loop, sheet.TieAt{Tie: f.tie, On: far})
		if ok {
			words += "sheet " + ref.String()
			d.Add(&render.Link{Min: a.Min, Max: a.Max, Page: ref.Sheet.Name})
		} else {
			words += "no sheet of this set"
		}
		d.group("flag-"+f.tie.Words(), []render.Datum{{Key: "flag", Value: f.tie.Tag()}}, func() {
			d.Add(Pentagon(a, f.tie.Leaves(f.on)))
			if in := a.Inset(render.MM); f.tie.Leaves(f.on) {
				in.Max.X -= tiePoint
				d.fill(in, words)
			} else {
				in.Min.X += tiePoint
				d.fill(in, words)
			}
		})
	}
}

// Pentagon is the outline of a flag: its point is on the right where the signal
// leaves the loop, on the left where it comes in.
func Pentagon(a paper.Area, leaves bool) *render.Line {
	mid := (a.Min.Y + a.Max.Y) / 2
	l := &render.Line{Pen: render.Outline, Closed: true}
	if leaves {
		l.Points = []render.Point{a.Min, {X: a.Max.X - tiePoint, Y: a.Min.Y}, {X: a.Max.X, Y: mid}, {X: a.Max.X - tiePoint, Y: a.Max.Y}, {X: a.Min.X, Y: a.Max.Y}}
	} else {
		l.Points = []render.Point{{X: a.Min.X + tiePoint, Y: a.Min.Y}, {X: a.Max.X, Y: a.Min.Y}, a.Max, {X: a.Min.X + tiePoint, Y: a.Max.Y}, {X: a.Min.X, Y: mid}}
	}
	return l
}

// fill sets words into an area.
func (d *loopSheet) fill(a paper.Area, words string) {
	items, ok := paper.FitText(a, fonts.Sans, paper.PlainHeight, render.Left, words)
	d.Add(items...)
	if !ok {
		d.problems = append(d.problems, d.pl.TextTooLong(d.s, words))
	}
}
